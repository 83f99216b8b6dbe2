//! Rating: nut, tray, and what a log of a clock says.
//!
//! SI units; rates in s/day, + gains.

use crate::DAY;
use crate::swing;
use reckon::Source;

/// Rating nut.
pub static NUT: Source =
    Source::derived("a small raise of the bob of a simple pendulum").with_formula("43200 p/L a turn");
/// Rating nut, a whole turn.
pub static TURN: Source =
    Source::derived("a turn of the nut, exact").with_formula("86400 (√(L/(L − p)) − 1)");
/// Small weight on the rod.
pub static TRAY: Source = Source::derived("a small mass on a simple pendulum, exact")
    .with_formula("L' = (M L² + μ x²)/(M L + μ x)");
/// Divisions of the nut.
pub static DIVISIONS: Source = Source::practice("a division of the rating nut worth about one second a day");
/// Straight line through a log.
pub static LOG: Source =
    Source::derived("straight line of least squares, scatter over n − 2").with_formula("s.e. = s/√Σ(t − t̄)²");
/// When to leave a clock alone.
pub static LEAVE: Source = Source::practice("no correction below three times its uncertainty");

/// Rate for one turn of a nut, by the simple rule.
#[must_use]
pub fn per_turn(pitch: f64, length: f64) -> f64 {
    DAY / 2.0 * pitch / length
}
/// Rate when the bob of a simple pendulum is raised by `up`, exact. Below a length only.
#[must_use]
pub fn raised(length: f64, up: f64) -> f64 {
    swing::rate_of_lengths(length - up, length)
}
/// How far to raise the bob of a simple pendulum for a change of rate, exact.
#[must_use]
pub fn raise_for(length: f64, rate: f64) -> f64 {
    let r = DAY / (DAY + rate);
    length * (1.0 - r * r)
}
/// Divisions of the nut of which each is about one second a day: whole, and nicest near it.
#[must_use]
pub fn divisions(per_turn: f64) -> u32 {
    let n = per_turn.abs().round().clamp(1.0, 400.0);
    // A whole number between 1 and 400 loses nothing.
    (1..=400_u32).find(|k| f64::from(*k) >= n).unwrap_or(400)
}
/// A small mass on the rod: rate it brings to a pendulum of mass and effective length, `at` below the axis.
#[must_use]
pub fn tray(small: f64, at: f64, mass: f64, length: f64) -> f64 {
    let with = (mass * length * length + small * at * at) / (mass * length + small * at);
    swing::rate_of_lengths(with, length)
}
/// The small mass for a rate. `None` when no mass at that place brings it.
#[must_use]
pub fn tray_for(rate: f64, at: f64, mass: f64, length: f64) -> Option<f64> {
    let r = DAY / (DAY + rate);
    let want = length * r * r;
    let small = mass * length * (length - want) / (at * (want - at));
    (small.is_finite() && mass * length + small * at > 0.0).then_some(small)
}
/// What a log says: how far a clock was ahead at times.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Log {
    /// Rate, in s/day.
    pub rate: f64,
    /// Its standard error; nothing known from two readings.
    pub error: Option<f64>,
    /// Scatter of the readings about the line, in seconds.
    pub scatter: Option<f64>,
}
/// Straight line through a log of (days, seconds ahead). `None` below two different times.
#[must_use]
pub fn log(readings: &[(f64, f64)]) -> Option<Log> {
    let n = reckon::Count(i64::try_from(readings.len()).ok()?).n();
    if n < 2.0 {
        return None;
    }
    let mean = |f: fn(&(f64, f64)) -> f64| readings.iter().map(f).sum::<f64>() / n;
    let (t, y) = (mean(|r| r.0), mean(|r| r.1));
    let tt: f64 = readings.iter().map(|r| (r.0 - t) * (r.0 - t)).sum();
    if tt <= 0.0 {
        return None;
    }
    let rate = readings.iter().map(|r| (r.0 - t) * (r.1 - y)).sum::<f64>() / tt;
    if n < 3.0 {
        return Some(Log { rate, error: None, scatter: None });
    }
    let left: f64 = readings
        .iter()
        .map(|r| {
            let off = r.1 - y - rate * (r.0 - t);
            off * off
        })
        .sum();
    let scatter = (left / (n - 2.0)).sqrt();
    Some(Log { rate, error: Some(scatter / tt.sqrt()), scatter: Some(scatter) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn common_nuts() {
        assert!((per_turn(0.001, 0.994) - 43.461).abs() < 1e-3);
        assert!((per_turn(0.0008, 0.994) - 34.769).abs() < 1e-3);
        assert!((raised(0.993_621_4, 0.001) - 43.510).abs() < 1e-3);
        assert!((raised(0.993_621_4, -0.001) + 43.445).abs() < 1e-3);
        assert!((120.0 / 7.0 / per_turn(0.001, 0.994) - 0.3944).abs() < 1e-4);
        assert_eq!(divisions(34.769), 35);
        assert_eq!(divisions(0.2), 1);
    }
    #[test]
    fn a_gram_on_the_rod() {
        assert!((tray(0.001, 0.497, 6.0, 0.994) - 1.7999).abs() < 1e-4);
        assert!(tray(0.001, 1.2, 6.0, 0.994) < 0.0);
    }
    #[test]
    fn a_log_of_a_week() {
        let l = log(&[(0.0, 0.0), (1.0, -0.9), (2.04, -1.9), (4.1, -3.6), (7.0, -6.3)]).unwrap();
        assert!((l.rate + 0.8947).abs() < 5e-5 && (l.error.unwrap() - 0.0110).abs() < 5e-5);
        assert_eq!(log(&[(1.0, 0.0), (1.0, 2.0)]), None);
        assert_eq!(log(&[(0.0, 0.0), (2.0, 3.0)]).unwrap().error, None);
    }
    proptest! {
        #[test]
        fn raise_and_rate_undo_each_other(l in 0.1..2.0_f64, rate in -500.0..500.0_f64) {
            prop_assert!((raised(l, raise_for(l, rate)) - rate).abs() < 1e-8);
        }
        #[test]
        fn grams_and_rate_undo_each_other(rate in -5.0..5.0_f64, x in 0.1..0.8_f64, m in 0.1..10.0_f64) {
            let small = tray_for(rate, x, m, 0.994).unwrap();
            prop_assert!((tray(small, x, m, 0.994) - rate).abs() < 1e-8);
        }
        #[test]
        fn half_way_is_best_for_a_tray(x in 0.05..0.95_f64) {
            prop_assert!(tray(1e-6, x, 6.0, 1.0) <= tray(1e-6, 0.5, 6.0, 1.0) * (1.0 + 1e-5));
        }
    }
}
