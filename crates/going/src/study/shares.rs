//! Which dimension makes a figure vary: shares of its variance.

use super::run::over;
use super::{Sample, Study};
use reckon::Source;
use std::sync::atomic::AtomicBool;

/// Shares of one dimension alone, from any sample.
pub static SHARES: Source = Source::derived(
    "clocks sorted by the dimension into groups of like size: variance of the groups' means over the whole, less what chance gives, over the same for the dimension itself; its error from ten parts of the sample",
)
.with_formula("S = V(E(y|x))/V(y)");
/// Shares alone and with others.
pub static TOGETHER: Source = Source::memory(
    "M. J. W. Jansen, Analysis of variance designs for model output (1999); A. Saltelli and others (2010): two tables of clocks, and the first with one dimension of the second",
)
.with_formula("S = 1 − Σ(f(B) − f(AB))²/(2nV), S_T = Σ(f(A) − f(AB))²/(2nV)");

/// A share of a variance.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Share {
    /// The share; chance may bring it a little below nothing.
    pub share: f64,
    /// Its standard error.
    pub error: f64,
}
/// What one dimension does, alone and with others.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Together {
    /// Alone.
    pub alone: Share,
    /// With all others: what would be left of the variance if only it varied no more.
    pub total: Share,
}

/// Parts of a sample that tell the error.
const PARTS: usize = 10;
/// Fewest clocks that shares are told from.
const FEWEST: usize = 100;

impl Sample {
    /// Share of each dimension alone in the variance of what `get` takes from a clock. Clocks where that is no
    /// number are left out. None where there are too few, or it does not vary.
    pub fn shares(&self, get: impl Fn(usize) -> f64) -> Option<Vec<Share>> {
        let kept: Vec<(usize, f64)> =
            (0..self.clocks()).map(|c| (c, get(c))).filter(|(_, y)| y.is_finite()).collect();
        if kept.len() < FEWEST {
            return None;
        }
        let ys: Vec<f64> = kept.iter().map(|(_, y)| *y).collect();
        if variance(&ys) <= 0.0 {
            return None;
        }
        let each = self.study.dimensions.iter().enumerate().map(|(d, of)| {
            if of.draw.fixed() {
                return Share { share: 0.0, error: 0.0 };
            }
            let mut pairs: Vec<(f64, f64)> = kept.iter().map(|(c, y)| (self.sizes[*c][d], *y)).collect();
            // The parts before the whole is sorted: they are in the order drawn.
            let size = pairs.len() / PARTS;
            let parts: Vec<f64> = pairs
                .chunks_exact(size)
                .take(PARTS)
                .filter_map(|p| alone(&mut p.to_vec(), groups(size)))
                .collect();
            let n = pairs.len();
            Share { share: alone(&mut pairs, groups(n)).unwrap_or(0.0), error: of_mean(&parts) }
        });
        Some(each.collect())
    }
    /// Shares in a figure.
    #[must_use]
    pub fn shares_of(&self, figure: usize) -> Option<Vec<Share>> {
        self.shares(|c| self.outcomes[c].figures[figure])
    }
    /// Shares in whether all verdicts hold.
    #[must_use]
    pub fn shares_of_all(&self) -> Option<Vec<Share>> {
        self.shares(|c| f64::from(u8::from(self.outcomes[c].holds.iter().all(|h| *h))))
    }
}
/// Groups for so many clocks: at least ten in each.
fn groups(clocks: usize) -> usize {
    (clocks / 40).clamp(2, 32).min(clocks / 10).max(2)
}
fn variance(all: &[f64]) -> f64 {
    let n = all.len() as f64;
    let mean = all.iter().sum::<f64>() / n;
    all.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n
}
/// Standard error of a mean.
fn of_mean(all: &[f64]) -> f64 {
    if all.len() < 2 {
        return f64::NAN;
    }
    let n = all.len() as f64;
    (variance(all) / (n - 1.0)).sqrt()
}
fn alone(pairs: &mut [(f64, f64)], groups: usize) -> Option<f64> {
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let n = pairs.len();
    let between = |get: &dyn Fn(&(f64, f64)) -> f64| {
        let total: f64 = pairs.iter().map(get).sum();
        let mean = total / n as f64;
        let (mut between, mut within) = (0.0, 0.0);
        for g in 0..groups {
            let part = &pairs[g * n / groups..(g + 1) * n / groups];
            let own = part.iter().map(get).sum::<f64>() / part.len() as f64;
            between += (own - mean) * (own - mean) * part.len() as f64;
            within += part.iter().map(|p| (get(p) - own) * (get(p) - own)).sum::<f64>();
        }
        (between, within)
    };
    let (b, w) = between(&|p| p.1);
    let (bx, wx) = between(&|p| p.0);
    let all = b + w;
    if all <= 0.0 || bx <= 0.0 {
        return None;
    }
    // What the groups' means would differ by chance alone.
    let chance = (groups - 1) as f64 * w / (n - groups) as f64;
    let itself = bx / (bx + wx);
    Some((b - chance) / all / itself)
}
impl Study {
    /// What each dimension does to a figure of an outcome, alone and with others: `clocks` of each of two tables,
    /// and one more for each dimension. None where it was stopped, or nothing varies.
    pub fn together(
        &self,
        seed: u64,
        clocks: u32,
        threads: usize,
        stop: &AtomicBool,
        figure: &(impl Fn(&[f64]) -> f64 + Sync),
    ) -> Option<Vec<Together>> {
        let many = self.dimensions.len();
        let rows: Vec<Vec<f64>> = over(clocks, threads, stop, &|_| (), &|clock| {
            // Tables of their own: the clocks of a sample are none of these.
            let a = self.sizes(seed, 1, clock);
            let b = self.sizes(seed, 2, clock);
            let mut all = vec![figure(&a), figure(&b)];
            for d in 0..many {
                let mut mixed = a.clone();
                mixed[d] = b[d];
                all.push(if self.dimensions[d].draw.fixed() { all[0] } else { figure(&mixed) });
            }
            all
        });
        let rows: Vec<Vec<f64>> = rows.into_iter().filter(|r| r.iter().all(|x| x.is_finite())).collect();
        if rows.len() < FEWEST || stop.load(std::sync::atomic::Ordering::Relaxed) {
            return None;
        }
        let both: Vec<f64> = rows.iter().flat_map(|r| [r[0], r[1]]).collect();
        let v = variance(&both);
        if v <= 0.0 {
            return None;
        }
        let of = |rows: &[Vec<f64>], d: usize, from: usize| {
            let sum: f64 = rows.iter().map(|r| (r[from] - r[2 + d]) * (r[from] - r[2 + d])).sum();
            sum / (2.0 * rows.len() as f64) / v
        };
        let size = rows.len() / PARTS;
        let error = |d: usize, from: usize| {
            let parts: Vec<f64> = rows.chunks_exact(size).take(PARTS).map(|p| of(p, d, from)).collect();
            of_mean(&parts)
        };
        let each = (0..many).map(|d| {
            if self.dimensions[d].draw.fixed() {
                let none = Share { share: 0.0, error: 0.0 };
                return Together { alone: none, total: none };
            }
            Together {
                alone: Share { share: 1.0 - of(&rows, d, 1), error: error(d, 1) },
                total: Share { share: of(&rows, d, 0), error: error(d, 0) },
            }
        });
        Some(each.collect())
    }
}
