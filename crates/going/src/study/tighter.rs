//! What tighter limits on one dimension would give, from the clocks already drawn.

use super::Sample;
use reckon::Source;

/// How it is had.
pub static TIGHTER: Source = Source::derived(
    "the same clocks, each counted as often as narrower limits of that one dimension would make it; its error from the spread of what each clock adds",
)
.with_formula("Σ w h/Σ w, w = p_narrow(x)/p(x)");

/// What narrower limits give.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Tighter {
    /// Likelihood then.
    pub share: f64,
    /// By how much it grows.
    pub gain: f64,
    /// Standard error of that.
    pub error: f64,
}
impl Tighter {
    /// Whether it is more than chance: beyond two and a half of its errors.
    #[must_use]
    pub fn sure(&self) -> bool {
        self.gain.abs() > 2.5 * self.error
    }
}
impl Sample {
    /// What comes of all verdicts when the limits of each dimension, one at a time, are `times` as wide (below
    /// one). None for what is fixed, and where nothing was drawn.
    #[must_use]
    pub fn tighter(&self, times: f64) -> Vec<Option<Tighter>> {
        let holds: Vec<f64> = self.all_hold().map(|h| f64::from(u8::from(h))).collect();
        let n = holds.len() as f64;
        let now = holds.iter().sum::<f64>() / n;
        let each = self.study.dimensions.iter().enumerate().map(|(d, of)| {
            if of.draw.fixed() || holds.is_empty() {
                return None;
            }
            let narrow = of.draw.times(times);
            let weights: Vec<f64> =
                self.sizes.iter().map(|s| narrow.density(s[d]) / of.draw.density(s[d])).collect();
            let sum: f64 = weights.iter().sum();
            if sum <= 0.0 {
                return None;
            }
            let share = weights.iter().zip(&holds).map(|(w, h)| w * h).sum::<f64>() / sum;
            let squares: f64 = weights
                .iter()
                .zip(&holds)
                .map(|(w, h)| {
                    let adds = w * n / sum * (h - share) - (h - now);
                    adds * adds
                })
                .sum();
            Some(Tighter { share, gain: share - now, error: squares.sqrt() / n })
        });
        each.collect()
    }
}
