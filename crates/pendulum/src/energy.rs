//! Energy of the swing, what is lost, how the swing dies away, and where the arc settles.
//!
//! SI units; arcs are semi-arcs in radians. `quality` is the Q of the pendulum at the arc in question.

use reckon::{Source, maths};

/// Energy of the swing.
pub static ENERGY: Source =
    Source::derived("energy of a swing").with_formula("E = S g (1 − cos A), S = Σ m z");
/// Loss and power.
pub static LOSS: Source = Source::derived("energy lost each period").with_formula("2π E/Q; power 2π E/(Q T)");
/// Dying away.
pub static DECAY: Source =
    Source::derived("a free swing that dies away").with_formula("A = A0 e^(−π t/(Q T))");
/// Dying away with drag of air.
pub static DRAG: Source =
    Source::derived("a swing losing to friction like its speed and like its speed squared")
        .with_formula("dA/dt = −α A − β A²");

/// Energy of a swing; `moment` is mass times depth of the centre of gravity, over all bodies.
#[must_use]
pub fn of_swing(moment: f64, g: f64, arc: f64) -> f64 {
    let s = maths::sin(arc / 2.0);
    2.0 * moment * g * s * s
}
/// Semi-arc of an energy. `None` beyond half a turn.
#[must_use]
pub fn arc_of(energy: f64, moment: f64, g: f64) -> Option<f64> {
    let s2 = energy / (2.0 * moment * g);
    (0.0..=1.0).contains(&s2).then(|| 2.0 * maths::asin(s2.sqrt()))
}
/// Lost each period.
#[must_use]
pub fn loss(energy: f64, quality: f64) -> f64 {
    2.0 * maths::PI * energy / quality
}
/// Power that keeps the swing up.
#[must_use]
pub fn power(energy: f64, quality: f64, period: f64) -> f64 {
    loss(energy, quality) / period
}
/// Where the arc settles with power given to the pendulum. `None` beyond half a turn.
#[must_use]
pub fn settles(power: f64, quality: f64, period: f64, moment: f64, g: f64) -> Option<f64> {
    arc_of(power * quality * period / (2.0 * maths::PI), moment, g)
}
/// Q from two arcs of a free swing, a time apart. `None` unless it dies away.
#[must_use]
pub fn quality(first: f64, second: f64, time: f64, period: f64) -> Option<f64> {
    let q = maths::PI * time / (period * maths::ln(first / second));
    (q.is_finite() && q > 0.0).then_some(q)
}
/// Arc after a time.
#[must_use]
pub fn after(arc: f64, time: f64, quality: f64, period: f64) -> f64 {
    arc * maths::exp(-maths::PI * time / (quality * period))
}
/// Time to half the arc.
#[must_use]
pub fn half_time(quality: f64, period: f64) -> f64 {
    quality * period * maths::ln(2.0) / maths::PI
}
/// How a free swing dies away: friction like its speed, and like its speed squared.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Decay {
    /// In 1/s.
    pub alpha: f64,
    /// In 1/(s rad).
    pub beta: f64,
}
impl Decay {
    /// From readings of (time, arc), in order of time: a straight line through the losses between
    /// neighbours, each over the mean arc between them. `None` below three readings, or when arcs do not vary.
    #[must_use]
    pub fn fit(readings: &[(f64, f64)]) -> Option<Decay> {
        if readings.len() < 3 {
            return None;
        }
        let mut points = Vec::new();
        for w in readings.windows(2) {
            let ((t0, a0), (t1, a1)) = (w[0], w[1]);
            if t1 <= t0 || a0 <= 0.0 || a1 <= 0.0 {
                return None;
            }
            let fall = maths::ln(a0 / a1);
            // Mean over the time of an arc that falls evenly in its logarithm.
            let mean = if fall.abs() < 1e-9 { a0 } else { (a0 - a1) / fall };
            points.push((mean, fall / (t1 - t0), t1 - t0));
        }
        let weight: f64 = points.iter().map(|p| p.2).sum();
        let x = points.iter().map(|p| p.0 * p.2).sum::<f64>() / weight;
        let y = points.iter().map(|p| p.1 * p.2).sum::<f64>() / weight;
        let xx: f64 = points.iter().map(|p| p.2 * (p.0 - x) * (p.0 - x)).sum();
        if xx <= 1e-12 * x * x * weight {
            return None;
        }
        let beta = points.iter().map(|p| p.2 * (p.0 - x) * (p.1 - y)).sum::<f64>() / xx;
        Some(Decay { alpha: y - beta * x, beta })
    }
    /// Arc after a time.
    #[must_use]
    pub fn after(&self, arc: f64, time: f64) -> f64 {
        let e = maths::exp(-self.alpha * time);
        // (1 − e)/α, also where α is nothing.
        let span = if (self.alpha * time).abs() < 1e-8 { time } else { (1.0 - e) / self.alpha };
        arc * e / (1.0 + self.beta * arc * span)
    }
    /// Q at an arc.
    #[must_use]
    pub fn quality(&self, arc: f64, period: f64) -> f64 {
        maths::PI / (period * (self.alpha + self.beta * arc))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEG: f64 = maths::PI / 180.0;

    #[test]
    fn a_seconds_pendulum() {
        let e = of_swing(6.0 * 0.994, 9.80665, 2.0 * DEG);
        assert!((e - 0.035_628_6).abs() < 1e-7);
        assert!((loss(e, 1e4) - 2.238_61e-5).abs() < 1e-10);
        assert!((power(e, 1e4, 2.0) - 11.1931e-6).abs() < 1e-10);
    }
    proptest! {
        #[test]
        fn arc_and_energy_undo_each_other(arc in 0.001..3.0_f64) {
            prop_assert!((arc_of(of_swing(5.0, 9.8, arc), 5.0, 9.8).unwrap() / arc - 1.0).abs() < 1e-9);
        }
        #[test]
        fn arcs_give_their_q_back(q in 100.0..50_000.0_f64, hours in 0.01..2.0_f64) {
            let later = after(0.04, hours * 3600.0, q, 2.0);
            prop_assume!(later > 1e-6);
            prop_assert!((quality(0.04, later, hours * 3600.0, 2.0).unwrap() / q - 1.0).abs() < 1e-8);
        }
        #[test]
        fn power_and_arc_undo_each_other(arc in 0.005..0.1_f64, q in 500.0..20_000.0_f64) {
            let p = power(of_swing(5.0, 9.8, arc), q, 2.0);
            prop_assert!((settles(p, q, 2.0, 5.0, 9.8).unwrap() / arc - 1.0).abs() < 1e-9);
        }
        #[test]
        fn a_fit_finds_both_frictions(alpha in 5e-5..5e-4_f64, beta in 0.0..1e-2_f64) {
            let d = Decay { alpha, beta };
            let readings: Vec<(f64, f64)> =
                (0..40).map(|i| f64::from(i) * 100.0).map(|t| (t, d.after(0.05, t))).collect();
            let f = Decay::fit(&readings).unwrap();
            prop_assert!((f.alpha / alpha - 1.0).abs() < 1e-3 && (f.beta - beta).abs() < 1e-3 * (beta + alpha / 0.05));
        }
    }
}
