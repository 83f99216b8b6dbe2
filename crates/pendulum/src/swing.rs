//! The swing itself: period, circular error, length for a beat.
//!
//! SI units. An arc is the SEMI-arc, from the middle to one end, in radians, below π.

use reckon::{Source, maths};

/// Period at any arc.
pub static PERIOD: Source =
    Source::derived("period of a pendulum at any arc, by the arithmetic-geometric mean")
        .with_formula("T = 2π √(L/g)/AGM(1, cos A/2)");
/// Circular error.
pub static CIRCULAR: Source = Source::derived("circular error of a pendulum true at no arc")
    .with_formula("86400 (AGM(1, cos A/2) − 1) ≈ −86400 A²/16");
/// Length for a beat.
pub static LENGTH: Source =
    Source::derived("length of a pendulum for a beat").with_formula("L = g (t AGM(1, cos A/2)/π)²");

/// Arithmetic-geometric mean of two numbers not below nothing.
#[must_use]
pub fn agm(a: f64, b: f64) -> f64 {
    let (mut a, mut b) = (a, b);
    // It doubles its true digits each round; forty rounds cover ratios down to the smallest double.
    for _ in 0..40 {
        if (a - b).abs() <= 1e-16 * a {
            break;
        }
        (a, b) = (f64::midpoint(a, b), (a * b).sqrt());
    }
    a
}
/// `AGM(1, cos(A/2))`: period at no arc over period at this arc.
#[must_use]
pub fn slowing(arc: f64) -> f64 {
    agm(1.0, maths::cos(arc / 2.0))
}
/// `1 − AGM(1, cos(A/2))`, exact also where it is tiny.
#[must_use]
pub fn shortfall(arc: f64) -> f64 {
    // With a = 1 − p and b = 1 − q the mean of both is followed by its departures from one.
    let s = maths::sin(arc / 4.0);
    let (mut p, mut q) = (0.0, 2.0 * s * s);
    for _ in 0..40 {
        if (p - q).abs() <= 1e-17 * q {
            break;
        }
        let product = p + q - p * q;
        // 1 − √(1 − x) = x/(1 + √(1 − x)).
        (p, q) = (f64::midpoint(p, q), product / (1.0 + (1.0 - product).sqrt()));
    }
    p
}
/// Time of a full period.
#[must_use]
pub fn period(length: f64, g: f64, arc: f64) -> f64 {
    2.0 * maths::PI * (length / g).sqrt() / slowing(arc)
}
/// Circular error of a clock that is true at no arc, in s/day (never gains).
#[must_use]
pub fn circular(arc: f64) -> f64 {
    -crate::DAY * shortfall(arc)
}
/// Rate when a clock rated at `from` swings at `to`, in s/day.
#[must_use]
pub fn arc_change(from: f64, to: f64) -> f64 {
    crate::DAY * (shortfall(from) - shortfall(to)) / (1.0 - shortfall(from))
}
/// Slope of the circular error, in s/day per radian of semi-arc.
#[must_use]
pub fn circular_slope(arc: f64) -> f64 {
    // dK/dk = (E/(1 − k²) − K)/k, with E from the same mean; A/2 and cos(A/2) at the root of it.
    let (k, c) = (maths::sin(arc / 2.0), maths::cos(arc / 2.0));
    if k.abs() < 1e-3 {
        return -crate::DAY * arc / 8.0 * (1.0 - arc * arc / 96.0);
    }
    let (mut a, mut b, mut power, mut sum) = (1.0, c, 0.5, 0.5 * k * k);
    for _ in 0..40 {
        let half = (a - b) / 2.0;
        if half.abs() <= 1e-17 {
            break;
        }
        (a, b) = (f64::midpoint(a, b), (a * b).sqrt());
        power *= 2.0;
        sum += power * half * half;
    }
    let first = maths::PI / (2.0 * a);
    let second = first * (1.0 - sum);
    let by_k = (second / (c * c) - first) / k;
    // AGM = π/(2K), k = sin(A/2).
    -crate::DAY * maths::PI / (2.0 * first * first) * by_k * c / 2.0
}
/// Length for a beat (half a period) at an arc.
#[must_use]
pub fn length(beat: f64, g: f64, arc: f64) -> f64 {
    let t = beat * slowing(arc) / maths::PI;
    g * t * t
}
/// Beat (half a period) of a length at an arc.
#[must_use]
pub fn beat(length: f64, g: f64, arc: f64) -> f64 {
    period(length, g, arc) / 2.0
}
/// Rate of a pendulum of length `is` where `wanted` keeps time, in s/day.
#[must_use]
pub fn rate_of_lengths(is: f64, wanted: f64) -> f64 {
    let r = (wanted / is).sqrt();
    crate::DAY * (wanted - is) / (is * (r + 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEG: f64 = maths::PI / 180.0;

    #[test]
    fn lengths_of_common_beats() {
        assert!((length(1.0, 9.80665, 0.0) - 0.993_621_39).abs() < 1e-8);
        assert!((length(0.5, 9.80665, 0.0) - 0.248_405_3).abs() < 1e-7);
        assert!((length(2.0, 9.812, 0.0) - 3.976_654).abs() < 1e-6);
    }
    #[test]
    fn circular_error_of_common_arcs() {
        for (arc, want) in [(1.0, -1.6449), (2.0, -6.5797), (2.5, -10.2807), (5.0, -41.1217)] {
            assert!((circular(arc * DEG) - want).abs() < 5e-5, "{arc}");
        }
        assert!((1.0 / slowing(90.0 * DEG) - 1.180_340_599_016_096).abs() < 1e-14);
        let step = circular(2.1 * DEG) - circular(2.0 * DEG);
        assert!((step + 0.6744).abs() < 1e-4, "{step}");
    }
    proptest! {
        #[test]
        fn the_mean_agrees_with_the_series_at_small_arcs(arc in 1e-6..0.1_f64) {
            let a2 = arc * arc;
            let more = a2 / 16.0 + 11.0 * a2 * a2 / 3072.0 + 173.0 * a2 * a2 * a2 / 737_280.0
                + 22_931.0 * a2 * a2 * a2 * a2 / 1_321_205_760.0;
            let from_mean = shortfall(arc) / (1.0 - shortfall(arc));
            prop_assert!((from_mean / more - 1.0).abs() < 1e-11, "{} {}", from_mean, more);
        }
        #[test]
        fn both_ways_to_the_mean_agree(arc in 0.0..3.1_f64) {
            prop_assert!((slowing(arc) + shortfall(arc) - 1.0).abs() < 1e-14);
        }
        #[test]
        fn length_and_beat_undo_each_other(beat_s in 0.1..3.0_f64, g in 9.7..9.9_f64, arc in 0.0..3.0_f64) {
            prop_assert!((beat(length(beat_s, g, arc), g, arc) / beat_s - 1.0).abs() < 1e-13);
        }
        #[test]
        fn the_slope_is_that_of_the_error(arc in 1e-4..3.0_f64) {
            let h = 1e-5 * arc;
            let by_steps = (circular(arc + h) - circular(arc - h)) / (2.0 * h);
            prop_assert!((circular_slope(arc) / by_steps - 1.0).abs() < 1e-7);
        }
        #[test]
        fn a_longer_pendulum_loses(length in 0.1..2.0_f64, more in 1e-9..0.1_f64) {
            prop_assert!(rate_of_lengths(length + more, length) < 0.0);
            prop_assert!(rate_of_lengths(length, length + more) > 0.0);
        }
    }
}
