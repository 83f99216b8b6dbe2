//! What the push of the escapement does to the rate, averaged over the swing.
//!
//! Arcs and angles in radians; rates in s/day, + gains. Right to first order in 1/Q.

use reckon::{Source, maths};

/// Escapement error by averaging.
pub static AIRY: Source = Source::derived(
    "steady push from u before the middle to v past it, averaged over the swing (method of Airy, 1826)",
)
.with_formula("ΔT/T = (√(A² − u²) − √(A² − v²))/(2 Q (u + v)) ≈ lock/(4 Q A)");
/// A push at one place.
pub static POINT: Source = Source::derived("push at one place of the swing (method of Airy, 1826)")
    .with_formula("ΔT/T = tan φ/(2 Q), sin φ = x/A");
/// Offset of the beat.
pub static BEAT: Source = Source::derived("unequal beats of a swing like a sine")
    .with_formula("ε = A sin(π B/T), B half the difference of the beats");

/// A dead-beat push: from `before` the middle to `after` it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Push {
    /// Where it begins, before the middle.
    pub before: f64,
    /// Where it ends, past the middle.
    pub after: f64,
}
impl Push {
    /// Rate, in s/day, at an arc that reaches both ends. `None` when the arc does not.
    #[must_use]
    pub fn rate(&self, arc: f64, quality: f64) -> Option<f64> {
        let (u, v) = (self.before, self.after);
        if arc < u.abs().max(v.abs()) || u + v <= 0.0 {
            return None;
        }
        let (x, y) = ((arc * arc - u * u).sqrt(), (arc * arc - v * v).sqrt());
        // (x − y)/(u + v) with x² − y² = (v + u)(v − u).
        let share = (v - u) / (x + y);
        share.is_finite().then(|| -crate::DAY * share / (2.0 * quality))
    }
    /// The rule for small angles.
    #[must_use]
    pub fn small(&self, arc: f64, quality: f64) -> f64 {
        -crate::DAY * (self.after - self.before) / (4.0 * quality * arc)
    }
    /// Steady torque that keeps an arc: `stiff` is mass times depth times gravity.
    #[must_use]
    pub fn torque(&self, arc: f64, quality: f64, stiff: f64) -> f64 {
        maths::PI * stiff * arc * arc / (2.0 * quality * (self.before + self.after))
    }
    /// Arc that a steady torque keeps.
    #[must_use]
    pub fn arc(&self, torque: f64, quality: f64, stiff: f64) -> f64 {
        (2.0 * quality * torque * (self.before + self.after) / (maths::PI * stiff)).sqrt()
    }
    /// Rate for each part of one that the drive grows, in s/day: circular error and push together, Q kept.
    #[must_use]
    pub fn per_drive(&self, arc: f64, quality: f64) -> Option<f64> {
        // A goes with the root of the drive.
        let total = |a: f64| self.rate(a, quality).map(|r| r + crate::swing::circular(a));
        let h = 1e-4_f64;
        // Backward where the forward arc is fine but the smaller one no longer reaches.
        let up = total(arc * (1.0 + h).sqrt())?;
        match total(arc * (1.0 - h).sqrt()) {
            Some(down) => Some((up - down) / (2.0 * h)),
            None => Some((up - total(arc)?) / h),
        }
    }
}
/// Rate of a push at one place, `after` the middle, in s/day.
#[must_use]
pub fn point(after: f64, arc: f64, quality: f64) -> Option<f64> {
    (after.abs() < arc).then(|| {
        let tan = after / (arc * arc - after * after).sqrt();
        -crate::DAY * tan / (2.0 * quality)
    })
}
/// How far the middle of the beat is from the middle of the swing; `half` is half the difference of the beats.
#[must_use]
pub fn beat_offset(half: f64, period: f64, arc: f64) -> f64 {
    arc * maths::sin(maths::PI * half / period)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEG: f64 = maths::PI / 180.0;

    #[test]
    fn a_dead_beat_loses_by_its_lock() {
        let p = Push { before: 0.75 * DEG, after: 1.25 * DEG };
        assert!((p.rate(2.0 * DEG, 1e4).unwrap() + 0.632_45).abs() < 1e-5);
        assert!((p.small(2.0 * DEG, 1e4) + 0.54).abs() < 1e-12);
        assert_eq!(p.rate(1.0 * DEG, 1e4), None);
    }
    #[test]
    fn the_push_and_the_arc_together() {
        // 5 kg at the length of two seconds, Q 8000, torque 0.34 mN m.
        let g = 9.80665;
        let stiff = 5.0 * g * g / (maths::PI * maths::PI);
        let p = Push { before: 0.75 * DEG, after: 1.25 * DEG };
        let a = p.arc(3.4e-4, 8000.0, stiff);
        assert!((a / DEG - 2.018_19).abs() < 5e-4, "{}", a / DEG);
        assert!((p.rate(a, 8000.0).unwrap() + 0.7808).abs() < 2e-4);
        assert!((crate::swing::circular(a) + 6.6999).abs() < 2e-3);
    }
    #[test]
    fn unequal_beats() {
        assert!((beat_offset(0.012, 2.0, 1.7 * DEG) / DEG - 0.032_04).abs() < 5e-6);
        assert!((beat_offset(0.010, 2.0, 2.0 * DEG) / DEG - 0.031_41).abs() < 5e-6);
    }
    proptest! {
        #[test]
        fn an_even_push_does_nothing(u in 0.001..0.03_f64, q in 100.0..1e5_f64) {
            let p = Push { before: u, after: u };
            prop_assert!(p.rate(0.035, q).unwrap().abs() < 1e-12);
        }
        #[test]
        fn a_narrow_push_is_one_at_a_place(x in -0.03..0.03_f64, q in 100.0..1e5_f64) {
            let narrow = Push { before: -x + 1e-7, after: x + 1e-7 };
            let (a, b) = (narrow.rate(0.035, q).unwrap(), point(x, 0.035, q).unwrap());
            prop_assert!((a - b).abs() < 1e-6 * crate::DAY / q);
        }
        #[test]
        fn torque_and_arc_undo_each_other(arc in 0.01..0.1_f64) {
            let p = Push { before: 0.01, after: 0.02 };
            prop_assert!((p.arc(p.torque(arc, 5000.0, 50.0), 5000.0, 50.0) / arc - 1.0).abs() < 1e-12);
        }
    }
}
