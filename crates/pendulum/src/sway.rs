//! The driving weight as a pendulum: when in the run its line is as long as the pendulum wants.
//!
//! SI units. The line is limp and without mass; the weight swings on it as a stiff body.

use crate::root;
use reckon::Source;

/// Weight on its line.
pub static SWAY: Source = Source::derived("stiff body on a limp line: line and body swing together")
    .with_formula("(Λ − a)(Λ − c − k²/c) = c a, k² = Icm/m; Λ the length of the simple pendulum in step");
/// How near is too near.
pub static NEAR: Source =
    Source::practice("a hanging weight stirs with the pendulum when its length comes within a few per cent");
/// Weight on a pulley between two lines.
pub static PULLEY: Source =
    Source::derived("a pulley that rolls in the bight of a line between two places: it moves on an ellipse")
        .with_formula("in the plane of the lines s²/b, across them b; b = √(s² − f²)");

/// A weight as it hangs on a hook or pulley.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Weight {
    /// Centre of gravity below the hook (below the pulley's axis).
    pub below: f64,
    /// Moment of inertia about the centre of gravity over the mass, in m².
    pub spread: f64,
}
impl Weight {
    /// A plain cylinder hung by its top, `hook` above it.
    #[must_use]
    pub fn cylinder(diameter: f64, height: f64, hook: f64) -> Weight {
        Weight { below: hook + height / 2.0, spread: height * height / 12.0 + diameter * diameter / 16.0 }
    }
    /// Length of the simple pendulum that keeps step with the slow swing on a line of length `line`.
    #[must_use]
    pub fn length(&self, line: f64) -> f64 {
        let k = self.spread / self.below;
        let sum = line + self.below + k;
        f64::midpoint(sum, (sum * sum - 4.0 * line * k).max(0.0).sqrt())
    }
    /// The same for the quick swing, body against line.
    #[must_use]
    pub fn quick(&self, line: f64) -> f64 {
        // The product of both is a k²/c.
        line * self.spread / self.below / self.length(line)
    }
    /// Line at which the slow swing keeps step with a pendulum of this length; nothing when even no line is too long.
    #[must_use]
    pub fn line_for(&self, length: f64) -> Option<f64> {
        let k = self.spread / self.below;
        let line = length * (length - self.below - k) / (length - k);
        (line > 0.0 && length > k).then_some(line)
    }
}
/// Lines of a weight that hangs on a pulley, or on one line.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Lines {
    /// Distance apart of the two places that the lines come from; nothing for one line.
    pub apart: f64,
    /// Pulley's pitch diameter; nothing for one line.
    pub pulley: f64,
}
/// How long a line acts for a swing in the plane of the lines and across it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Acting {
    /// In the plane of the two lines.
    pub along: f64,
    /// Across it.
    pub across: f64,
}
impl Lines {
    /// With the hook (or the pulley's axis) `drop` below where the lines come from.
    #[must_use]
    pub fn acting(&self, drop: f64) -> Acting {
        // The pulley takes its own width off the distance of the lines.
        let f = (self.apart - self.pulley).max(0.0) / 2.0;
        Acting { along: (drop * drop + f * f) / drop, across: drop }
    }
}
/// What happens in the run.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Pass {
    /// Time from the start of the run at which weight and pendulum keep step; nothing when they never do.
    pub at: Option<f64>,
    /// Drop of the hook there.
    pub drop: Option<f64>,
    /// Time from which it is within the band, and to which.
    pub band: Option<(f64, f64)>,
    /// Least departure of the two lengths over the pendulum's.
    pub nearest: f64,
}
/// Follows a weight through its run: its hook starts `start` below the drum (or where the lines come from)
/// and ends `end` below, sinking evenly; `band` is a part of one of the pendulum's length.
/// The slow swing in the plane of the lines is taken.
#[must_use]
pub fn pass(weight: Weight, lines: Lines, pendulum: f64, ends: (f64, f64), run: f64, band: f64) -> Pass {
    let (start, end) = ends;
    let drop_at = |t: f64| start + (end - start) * t / run;
    let off = |t: f64| weight.length(lines.acting(drop_at(t)).along) / pendulum - 1.0;
    let (first, last) = (off(0.0), off(run));
    let cross = |level: f64| {
        let f = |t: f64| off(t) - level;
        root::between(f, 0.0, run).map(|r| r.x)
    };
    let at = cross(0.0);
    let nearest = if at.is_some() { 0.0 } else { first.abs().min(last.abs()) };
    let inside = nearest <= band;
    let from = if first.abs() <= band { Some(0.0) } else { cross(if first < 0.0 { -band } else { band }) };
    let to = if last.abs() <= band { Some(run) } else { cross(if last < 0.0 { -band } else { band }) };
    Pass { at, drop: at.map(drop_at), band: if inside { from.zip(to) } else { None }, nearest }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ONE: Lines = Lines { apart: 0.0, pulley: 0.0 };

    #[test]
    fn a_small_weight_is_a_simple_pendulum() {
        let w = Weight { below: 0.1, spread: 0.0 };
        assert!((w.length(0.894) - 0.994).abs() < 1e-15);
        assert!((w.line_for(0.994).unwrap() - 0.894).abs() < 1e-15);
    }
    #[test]
    fn it_passes_in_the_fifth_day() {
        let w = Weight { below: 0.1, spread: 0.0 };
        let p = pass(w, ONE, 0.994, (0.2, 1.4), 8.0 * 86_400.0, 0.03);
        assert!((p.drop.unwrap() - 0.894).abs() < 1e-12);
        assert!((p.at.unwrap() / 86_400.0 - 8.0 * 0.694 / 1.2).abs() < 1e-9);
        let (from, to) = p.band.unwrap();
        assert!(from < p.at.unwrap() && p.at.unwrap() < to);
        assert!(((to - from) / 86_400.0 - 8.0 * 2.0 * 0.03 * 0.994 / 1.2).abs() < 1e-9);
    }
    #[test]
    fn a_short_run_never_meets_but_may_come_near() {
        let w = Weight { below: 0.1, spread: 0.0 };
        let p = pass(w, ONE, 0.994, (0.2, 0.88), 1.0, 0.03);
        assert!(p.at.is_none() && (p.nearest - 0.014 / 0.994).abs() < 1e-12);
        assert!((p.band.unwrap().1 - 1.0).abs() < 1e-15);
        assert_eq!(pass(w, ONE, 0.994, (0.2, 0.5), 1.0, 0.03).band, None);
    }
    proptest! {
        #[test]
        fn line_and_length_undo_each_other(line in 0.05..2.0_f64, h in 0.02..0.3_f64, d in 0.02..0.1_f64) {
            let w = Weight::cylinder(d, h, 0.02);
            prop_assert!((w.line_for(w.length(line)).unwrap() / line - 1.0).abs() < 1e-9);
        }
        #[test]
        fn a_stiff_body_is_in_step_between_its_centre_and_a_rigid_rod(line in 0.05..2.0_f64, h in 0.02..0.3_f64) {
            let w = Weight::cylinder(0.05, h, 0.02);
            let (simple, whole) = (line + w.below, line + w.below + w.spread / w.below);
            prop_assert!(w.length(line) >= simple && w.length(line) <= whole);
            prop_assert!(w.quick(line) < w.length(line));
        }
        #[test]
        fn spread_lines_act_longer_in_their_plane(drop in 0.1..2.0_f64, apart in 0.0..0.3_f64) {
            let a = Lines { apart, pulley: 0.04 }.acting(drop);
            prop_assert!(a.along >= a.across * (1.0 - 1e-15));
            // Small motion on the ellipse of equal line: x²/s² + y²/b² = 1 near its lowest place.
            let f = (apart - 0.04).max(0.0) / 2.0;
            let s = (drop * drop + f * f).sqrt();
            let x = 1e-3 * drop;
            let rise = drop - drop * (1.0 - x * x / (s * s)).sqrt();
            prop_assert!((x * x / (2.0 * rise) / a.along - 1.0).abs() < 1e-5);
        }
    }
}
