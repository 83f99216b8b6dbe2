//! Times of work as least, likely and most; sums, learning, and what the log of the shop teaches. Minutes.

use reckon::Source;
use reckon::maths::{ln, pow};
use std::sync::LazyLock;
use tables::load::{DataFault, Sheet};

/// Mean and spread from three points.
pub static THREE_POINTS: Source = Source {
    cite: "three-point estimate as in planning by networks",
    mark: reckon::Mark::Memory,
    formula: Some("mean (o + 4 m + p)/6, spread (p - o)/6"),
};
/// Learning.
pub static LEARNING: Source = Source {
    cite: "learning curve: each doubling of the number takes a share of the time",
    mark: reckon::Mark::Memory,
    formula: Some("T(n) = T(1) n^(log2 of the share)"),
};
/// What logs teach.
pub static LOGS: Source =
    Source::derived("the estimate counts as three logged jobs beside those of the shop");
/// Share of the time at each doubling.
pub const SHARE: f64 = 0.85;
/// Logged jobs that an estimate is worth.
pub const WEIGHT: f64 = 3.0;

/// A time as three points, minutes.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Points {
    /// Least.
    pub least: f64,
    /// Likely.
    pub likely: f64,
    /// Most.
    pub most: f64,
}
impl Points {
    /// Mean.
    #[must_use]
    pub fn mean(self) -> f64 {
        (self.least + 4.0 * self.likely + self.most) / 6.0
    }
    /// Spread: one standard deviation.
    #[must_use]
    pub fn spread(self) -> f64 {
        (self.most - self.least) / 6.0
    }
    /// All three times a factor.
    #[must_use]
    pub fn times(self, by: f64) -> Points {
        Points { least: self.least * by, likely: self.likely * by, most: self.most * by }
    }
}
/// A kind of work.
#[derive(Clone, PartialEq, Debug)]
pub struct Work {
    /// Its name.
    pub name: String,
    /// Its time for the first of a kind.
    pub points: Points,
    /// Whose.
    pub source: &'static Source,
}
static WORKS: LazyLock<Vec<Work>> =
    LazyLock::new(|| read().expect("the embedded table times.toml is whole; a test reads it"));
fn read() -> Result<Vec<Work>, DataFault> {
    let sheet = Sheet::read("times.toml", include_str!("../data/times.toml"))?;
    let rows = sheet.rows("time")?;
    rows.iter()
        .map(|r| {
            let points =
                Points { least: r.number("least")?, likely: r.number("likely")?, most: r.number("most")? };
            Ok(Work { name: r.word("work")?.to_owned(), points, source: r.source })
        })
        .collect()
}
/// All kinds of work.
#[must_use]
pub fn all() -> &'static [Work] {
    &WORKS
}
/// The n-th of a kind over the first.
#[must_use]
pub fn learnt(n: f64, share: f64) -> f64 {
    pow(n, ln(share) / ln(2.0))
}
/// Sum over the first n of a kind, over the first.
#[must_use]
pub fn learnt_sum(n: u32, share: f64) -> f64 {
    (1..=n).map(|i| learnt(f64::from(i), share)).sum()
}
/// Mean and spread of a sum of independent works.
#[must_use]
pub fn sum(works: &[Points]) -> (f64, f64) {
    let mean = works.iter().map(|p| p.mean()).sum();
    let square: f64 = works.iter().map(|p| p.spread() * p.spread()).sum();
    (mean, square.sqrt())
}
/// The estimate after logged jobs: its mean shrinks towards theirs, all three points by one factor.
#[must_use]
pub fn after_logs(points: Points, logged: &[f64]) -> Points {
    #[expect(clippy::cast_precision_loss, reason = "logged jobs are few")]
    let n = logged.len() as f64;
    let mean = (WEIGHT * points.mean() + logged.iter().sum::<f64>()) / (WEIGHT + n);
    // The spread shrinks too, as the root of what is left of the estimate's weight.
    let centre = points.times(mean / points.mean());
    let narrow = (WEIGHT / (WEIGHT + n)).sqrt();
    let toward = |x: f64| mean + (x - mean) * narrow;
    Points { least: toward(centre.least), likely: toward(centre.likely), most: toward(centre.most) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_work_has_three_points_that_rise() {
        assert!(all().len() >= 20);
        assert!(all().iter().all(|w| w.points.least > 0.0
            && w.points.least < w.points.likely
            && w.points.likely < w.points.most));
    }
    #[test]
    fn the_eighth_takes_three_doublings() {
        assert!((60.0 * learnt(8.0, 0.85) - 60.0 * 0.85 * 0.85 * 0.85).abs() < 1e-9);
        assert!((learnt_sum(2, 0.85) - 1.85).abs() < 1e-12);
    }
    proptest! {
        #[test]
        fn logs_pull_the_mean_to_theirs(log in 5.0..500.0f64, n in 1usize..40) {
            let p = Points { least: 10.0, likely: 18.0, most: 35.0 };
            let a = after_logs(p, &vec![log; n]);
            let (lo, hi) = (p.mean().min(log), p.mean().max(log));
            prop_assert!(a.mean() >= lo - 1e-9 && a.mean() <= hi + 1e-9);
            prop_assert!(a.least < a.likely && a.likely < a.most);
            prop_assert!((after_logs(p, &[]).mean() - p.mean()).abs() < 1e-9);
        }
    }
}
