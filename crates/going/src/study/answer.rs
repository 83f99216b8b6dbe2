//! Likelihoods with their intervals, and how figures are spread.

use super::Sample;
use super::draw::place;
use reckon::Source;

/// Interval of a likelihood.
pub static LIKELY: Source = Source::memory(
    "E. B. Wilson, Probable Inference, the Law of Succession, and Statistical Inference (1927): interval of a share, 95 in a hundred",
)
.with_formula("(p + z²/2n ± z √(p(1−p)/n + z²/4n²))/(1 + z²/n)");
/// Quantiles.
pub static SPREAD: Source =
    Source::derived("sizes in order; between two neighbours a straight line").with_formula("at (n − 1) q");

/// How likely something is.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Likely {
    /// Clocks that hold.
    pub holds: usize,
    /// Clocks in all.
    pub of: usize,
    /// Share of them.
    pub share: f64,
    /// Lower end of the interval, 95 in a hundred.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}
impl Likely {
    /// Of a count, the interval holding in so many of one.
    #[must_use]
    pub fn of(holds: usize, of: usize, sure: f64) -> Likely {
        if of == 0 {
            return Likely { holds, of, share: f64::NAN, low: 0.0, high: 1.0 };
        }
        let z = place(0.5 + sure / 2.0);
        let n = of as f64;
        let p = holds as f64 / n;
        let middle = p + z * z / (2.0 * n);
        let half = z * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt();
        let over = 1.0 + z * z / n;
        // At the ends rounding must not pass nothing and one.
        let low = if holds == 0 { 0.0 } else { ((middle - half) / over).max(0.0) };
        let high = if holds == of { 1.0 } else { ((middle + half) / over).min(1.0) };
        Likely { holds, of, share: p, low, high }
    }
}
/// How a figure is spread over the clocks that have it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Spread {
    /// Clocks that have it.
    pub of: usize,
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub deviation: f64,
    /// Places below which 0.025, 0.25, 0.5, 0.75 and 0.975 of them lie.
    pub quantiles: [f64; 5],
}
impl Spread {
    /// The shares of [`Spread::quantiles`].
    pub const AT: [f64; 5] = [0.025, 0.25, 0.5, 0.75, 0.975];
    /// Of figures; none where fewer than two are numbers.
    #[must_use]
    pub fn of(figures: impl Iterator<Item = f64>) -> Option<Spread> {
        let mut all: Vec<f64> = figures.filter(|x| x.is_finite()).collect();
        if all.len() < 2 {
            return None;
        }
        let n = all.len() as f64;
        let mean = all.iter().sum::<f64>() / n;
        let squares: f64 = all.iter().map(|x| (x - mean) * (x - mean)).sum();
        all.sort_by(f64::total_cmp);
        Some(Spread {
            of: all.len(),
            mean,
            deviation: (squares / (n - 1.0)).sqrt(),
            quantiles: Spread::AT.map(|q| quantile(&all, q)),
        })
    }
}
/// Of figures in order.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a list")]
pub(super) fn quantile(sorted: &[f64], q: f64) -> f64 {
    let at = (sorted.len() - 1) as f64 * q;
    let n = at.floor() as usize;
    let (a, b) = (sorted[n], sorted[(n + 1).min(sorted.len() - 1)]);
    a + (b - a) * (at - n as f64)
}
impl Sample {
    /// How likely one verdict is.
    #[must_use]
    pub fn likely(&self, verdict: usize) -> Likely {
        Likely::of(self.verdict(verdict).filter(|h| *h).count(), self.clocks(), 0.95)
    }
    /// How likely all verdicts hold together.
    #[must_use]
    pub fn likely_all(&self) -> Likely {
        Likely::of(self.all_hold().filter(|h| *h).count(), self.clocks(), 0.95)
    }
    /// How a figure is spread.
    #[must_use]
    pub fn spread(&self, figure: usize) -> Option<Spread> {
        Spread::of(self.figure(figure))
    }
}
