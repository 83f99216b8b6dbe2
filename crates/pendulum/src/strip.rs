//! The suspension strip: where a pendulum really turns, and what the strip bears.
//!
//! SI units. The strip is held square at the top, its weight is nothing beside the bob's,
//! and the rod below its lower chop is stiff. `width` is that of all leaves together.

use crate::compound::{Pendulum, Sums};
use crate::root::{self, Found};
use reckon::{Source, maths};

/// Bent strip under tension.
pub static STRIP: Source =
    Source::derived("elastic strip under tension, held square at the top, stiff rod below")
        .with_formula("L = R + l − (1/λ)(tanh λl + λR)/(1 + λR tanh λl), λ = √(W/(E I)), I = b t³/12");
/// Both ways of moving of a pendulum on a strip.
pub static MODES: Source = Source::derived("stiff body on an elastic strip: sideways and turning together")
    .with_formula("ω² = 2C/(B ± √(B² − 4AC))");
/// What the strip bears.
pub static STRESS: Source = Source::derived("stress at the upper chop: pull and bending")
    .with_formula("W/(b t) + E t λ θ/(2 tanh λl)");

/// A suspension strip.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Strip {
    /// Elastic modulus, in pascals.
    pub modulus: f64,
    /// Width of all leaves together.
    pub width: f64,
    /// Thickness of a leaf.
    pub thick: f64,
    /// Free length between the chops.
    pub free: f64,
}
/// `(sinh u, cosh u)` over `e^u`, and `u sinh u − 2 cosh u + 2`, `cosh u − 1`, `u cosh u − sinh u` likewise.
struct Hyper {
    sinh: f64,
    cosh: f64,
    delta: f64,
    less_one: f64,
    arm: f64,
}
fn hyper(u: f64) -> Hyper {
    if u < 3.0 {
        // Series whose terms all have one sign: nothing cancels.
        let scale = maths::exp(-u);
        let (mut sinh, mut cosh, mut delta, mut less_one, mut arm) = (0.0, 1.0, 0.0, 0.0, 0.0);
        let mut term = 1.0; // u^k / k!
        for k in 1..40_u32 {
            let n = f64::from(k);
            term *= u / n;
            if k % 2 == 1 {
                sinh += term;
                arm += term * (n - 1.0);
            } else {
                cosh += term;
                less_one += term;
                delta += term * (n - 2.0);
            }
        }
        return Hyper {
            sinh: sinh * scale,
            cosh: cosh * scale,
            delta: delta * scale,
            less_one: less_one * scale,
            arm: arm * scale,
        };
    }
    let e = maths::exp(-u);
    let (sinh, cosh) = ((1.0 - e * e) / 2.0, f64::midpoint(1.0, e * e));
    Hyper {
        sinh,
        cosh,
        delta: 2.0 * e - 2.0 * cosh + u * sinh,
        less_one: (1.0 - e) * (1.0 - e) / 2.0,
        arm: u * cosh - sinh,
    }
}
fn tanh(u: f64) -> f64 {
    let h = hyper(u);
    h.sinh / h.cosh
}
/// The two ways a pendulum on a strip moves, in radians a second.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Modes {
    /// The swing.
    pub swing: f64,
    /// The wobble, the bob turning against the rod's foot.
    pub wobble: f64,
}
impl Modes {
    /// Period of the swing.
    #[must_use]
    pub fn period(&self) -> f64 {
        2.0 * maths::PI / self.swing
    }
    /// Wobbles a second.
    #[must_use]
    pub fn wobble_hertz(&self) -> f64 {
        self.wobble / (2.0 * maths::PI)
    }
}
/// Stiffness of the lower end of the strip against sideways motion and turning.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Stiff {
    /// Sideways force per sideways motion.
    pub side: f64,
    /// Sideways force per turning, and moment per sideways motion.
    pub both: f64,
    /// Moment per turning.
    pub turn: f64,
}
impl Strip {
    /// A strip of several leaves side by side that share the weight evenly; `each` is the width of one.
    #[must_use]
    pub fn of_leaves(modulus: f64, leaves: f64, each: f64, thick: f64, free: f64) -> Strip {
        Strip { modulus, width: leaves * each, thick, free }
    }
    /// Second moment of its section.
    #[must_use]
    pub fn section(&self) -> f64 {
        self.width * self.thick * self.thick * self.thick / 12.0
    }
    /// `λ = √(W/EI)` under a pull, in 1/m.
    #[must_use]
    pub fn lambda(&self, pull: f64) -> f64 {
        (pull / (self.modulus * self.section())).sqrt()
    }
    /// Depth below the upper chop of the place about which a small bob, `below` the lower chop, turns.
    #[must_use]
    pub fn pivot(&self, pull: f64, below: f64) -> f64 {
        let lambda = self.lambda(pull);
        let t = tanh(lambda * self.free);
        (t / lambda + below) / (1.0 + lambda * below * t)
    }
    /// Effective length for a small bob `below` the lower chop.
    #[must_use]
    pub fn length(&self, pull: f64, below: f64) -> f64 {
        below + self.free - self.pivot(pull, below)
    }
    /// Stiffness of its lower end.
    #[must_use]
    pub fn stiff(&self, pull: f64) -> Stiff {
        let l = self.free;
        let u = self.lambda(pull) * l;
        let h = hyper(u);
        let ei = self.modulus * self.section();
        Stiff {
            side: ei * u * u * u * h.sinh / (l * l * l * h.delta),
            both: -ei * u * u * h.less_one / (l * l * h.delta),
            turn: ei * u * h.arm / (l * h.delta),
        }
    }
    /// Swing and wobble of a stiff body: mass, depth of its centre below the lower chop,
    /// moment of inertia about that centre; `pull` is its weight in air.
    #[must_use]
    pub fn modes(&self, mass: f64, centre: f64, own: f64, pull: f64) -> Modes {
        let k = self.stiff(pull);
        let (k11, k12, k22) = (k.side, k.both, k.turn + pull * centre);
        let (m11, m12, m22) = (mass, mass * centre, mass * centre * centre + own);
        let a = mass * own;
        let b = k11 * m22 + k22 * m11 - 2.0 * k12 * m12;
        let c = k11 * k22 - k12 * k12;
        let root = (b * b - 4.0 * a * c).max(0.0).sqrt();
        Modes {
            swing: (2.0 * c / (b + root)).sqrt(),
            wobble: if a > 0.0 { ((b + root) / (2.0 * a)).sqrt() } else { f64::INFINITY },
        }
    }
    /// Depth below the upper chop of the place about which a stiff body swings: there the crutch's axis belongs.
    #[must_use]
    pub fn turns_at(&self, mass: f64, centre: f64, own: f64, pull: f64) -> f64 {
        let w2 = {
            let w = self.modes(mass, centre, own, pull).swing;
            w * w
        };
        let k = self.stiff(pull);
        // First row of (K − ω²M) q = 0 gives sideways motion for a turn of one.
        let side = -(k.both - w2 * mass * centre) / (k.side - w2 * mass);
        self.free - side
    }
    /// Stress of the pull alone.
    #[must_use]
    pub fn pulled(&self, pull: f64) -> f64 {
        pull / (self.width * self.thick)
    }
    /// Stress of bending at the upper chop, at an arc.
    #[must_use]
    pub fn bent(&self, pull: f64, arc: f64) -> f64 {
        let lambda = self.lambda(pull);
        self.modulus * self.thick / 2.0 * lambda * arc / tanh(lambda * self.free)
    }
    /// Both together.
    #[must_use]
    pub fn stress(&self, pull: f64, arc: f64) -> f64 {
        self.pulled(pull) + self.bent(pull, arc)
    }
    /// Swing and wobble of a pendulum whose depths are counted from the upper chop. `None` when its
    /// centre of gravity is not below the strip.
    #[must_use]
    pub fn carries(&self, all: &Sums, g: f64) -> Option<Modes> {
        let below = all.centre() - self.free;
        let sound = all.mass > 0.0 && below > 0.0 && all.own() >= 0.0;
        sound.then(|| self.modes(all.mass, below, all.own(), all.mass * g))
    }
    /// Effective length of that pendulum: that of the simple pendulum of the same period.
    #[must_use]
    pub fn effective(&self, all: &Sums, g: f64) -> Option<f64> {
        let swing = self.carries(all, g)?.swing;
        Some(g / (swing * swing))
    }
    /// How far to lower what moves of that pendulum for an effective length; `None` when no place gives it.
    #[must_use]
    pub fn place(&self, p: &Pendulum, length: f64, g: f64) -> Option<Found> {
        // On a rigid axis at the upper chop it would be slower: the bob goes somewhat lower than there.
        let rigid = p.place(length)?.x;
        let off = |down: f64| self.effective(&p.sums(down), g).map_or(f64::NAN, |l| l / length - 1.0);
        let mut far = self.free;
        for _ in 0..20 {
            if off(rigid + far) > 0.0 {
                return root::between(off, rigid, rigid + far);
            }
            far *= 2.0;
        }
        None
    }
    /// Rate when what moves of that pendulum is raised by `up`, in s/day.
    #[must_use]
    pub fn raised(&self, p: &Pendulum, up: f64, g: f64) -> Option<f64> {
        let (before, after) = (self.effective(&p.sums(0.0), g)?, self.effective(&p.sums(-up), g)?);
        Some(crate::swing::rate_of_lengths(after, before))
    }
    fn of_thickness(&self, thick: f64) -> Strip {
        Strip { thick, ..*self }
    }
    /// The thickness at which the stress is least, and that stress. A thinner strip is pulled
    /// harder, a thicker one is bent harder over its short free length.
    #[must_use]
    pub fn least_stressed(&self, pull: f64, arc: f64) -> (f64, f64) {
        let at = |t: f64| self.of_thickness(t).stress(pull, arc);
        // Golden section over the logarithm; the stress has one valley.
        let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (maths::ln(1e-6), maths::ln(self.free.min(0.01)));
        for _ in 0..90 {
            let (c, d) = (high - ratio * (high - low), low + ratio * (high - low));
            if at(maths::exp(c)) < at(maths::exp(d)) {
                high = d;
            } else {
                low = c;
            }
        }
        let t = maths::exp(f64::midpoint(low, high));
        (t, at(t))
    }
    /// The thinnest and the thickest strip whose stress stays at `limit`; `None` when no thickness does.
    #[must_use]
    pub fn thickness_for(&self, pull: f64, arc: f64, limit: f64) -> Option<(Found, Found)> {
        let (best, least) = self.least_stressed(pull, arc);
        if least > limit {
            return None;
        }
        let off = |t: f64| self.of_thickness(t).stress(pull, arc) / limit - 1.0;
        let thin = root::between(off, best / 1e4, best)?;
        let mut far = best * 2.0;
        while off(far) <= 0.0 {
            far *= 2.0;
            if far > 1e6 * best {
                // Never bent too hard: a strip at rest can be as thick as one likes.
                return Some((thin, Found { x: f64::INFINITY, rounds: 0, residual: 0.0 }));
            }
        }
        Some((thin, root::between(off, best, far)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEG: f64 = maths::PI / 180.0;
    const PULL: f64 = 6.0 * 9.80665;
    const FIRST: Strip = Strip { modulus: 206e9, width: 0.012, thick: 0.00015, free: 0.02 };

    #[test]
    fn a_common_strip() {
        assert!((FIRST.lambda(PULL) - 290.9146).abs() < 1e-4);
        assert!((FIRST.length(PULL, 0.985) - 1.001_562_5).abs() < 1e-7);
        assert!((FIRST.pivot(PULL, 0.985) - 0.003_437_5).abs() < 1e-7);
    }
    #[test]
    fn what_it_bears() {
        assert!((FIRST.pulled(PULL) / 1e6 - 32.69).abs() < 0.005);
        assert!((FIRST.bent(PULL, 2.0 * DEG) / 1e6 - 156.89).abs() < 0.005);
        let short = Strip { modulus: 206e9, width: 0.01, thick: 0.0001, free: 0.01 };
        assert!((short.pulled(PULL) / 1e6 - 58.84).abs() < 0.005);
        assert!((short.bent(PULL, 2.0 * DEG) / 1e6 - 210.50).abs() < 0.005);
    }
    #[test]
    fn swing_and_wobble_of_a_stiff_body() {
        let own = 6.0 * (0.09 * 0.09 / 16.0 + 0.12 * 0.12 / 12.0);
        let m = FIRST.modes(6.0, 0.985, own, PULL);
        assert!((m.period() - 2.009_683_1).abs() < 1e-7, "{}", m.period());
        assert!((m.wobble_hertz() - 104.72).abs() < 0.01, "{}", m.wobble_hertz());
    }
    #[test]
    fn both_ways_to_the_length_agree() {
        let m = FIRST.modes(6.0, 0.985, 1e-12, PULL);
        let length = 9.80665 / (m.swing * m.swing);
        assert!((length / FIRST.length(PULL, 0.985) - 1.0).abs() < 1e-11);
        // The place it turns about is that of the effective length, but for what little bend is left at the lower chop.
        let (turns, pivot) = (FIRST.turns_at(6.0, 0.985, 1e-12, PULL), FIRST.pivot(PULL, 0.985));
        assert!((turns - pivot).abs() < 5e-5, "{turns} {pivot}");
    }
    #[test]
    fn the_bob_is_placed_on_a_strip_as_on_its_pivot() {
        use crate::compound::{Body, Form};
        let at = |z| Pendulum {
            fixed: vec![],
            moving: vec![Body::heavy("bob", Form::Known { spread: 0.0 }, 6.0, z)],
        };
        let length = 0.993_621_39;
        let found = FIRST.place(&at(0.9), length, 9.80665).unwrap();
        let z = 0.9 + found.x;
        assert!((FIRST.length(PULL, z - FIRST.free) - length).abs() < 1e-12, "{found:?}");
        assert!((FIRST.raised(&at(z), 1e-4, 9.80665).unwrap() / 0.1 - 43.48).abs() < 0.05);
        assert!(FIRST.place(&at(0.9), 1e-4, 9.80665).is_none());
        assert!(FIRST.effective(&at(0.01).sums(0.0), 9.80665).is_none());
    }
    #[test]
    fn two_narrow_leaves_are_one_wide_strip() {
        let two = Strip::of_leaves(206e9, 2.0, 0.006, 0.00015, 0.02);
        assert!((two.length(PULL, 0.985) - FIRST.length(PULL, 0.985)).abs() < 1e-15);
    }
    #[test]
    fn thickness_within_a_limit() {
        let (thin, thick) = FIRST.thickness_for(PULL, 2.0 * DEG, 180e6).unwrap();
        for t in [thin.x, thick.x] {
            let s = FIRST.of_thickness(t).stress(PULL, 2.0 * DEG);
            assert!((s / 180e6 - 1.0).abs() < 1e-10, "{t} {s}");
        }
        assert!(thin.x < thick.x);
        let (best, least) = FIRST.least_stressed(PULL, 2.0 * DEG);
        assert!(thin.x < best && best < thick.x);
        assert!(FIRST.thickness_for(PULL, 2.0 * DEG, least * 0.99).is_none());
    }
    proptest! {
        #[test]
        fn a_limp_strip_turns_at_its_upper_chop(free in 0.005..0.05_f64, below in 0.1..1.5_f64) {
            let limp = Strip { modulus: 1.0, width: 0.01, thick: 1e-4, free };
            prop_assert!(limp.pivot(PULL, below) < 1e-6);
            let m = limp.modes(6.0, below, 6.0 * 0.001, PULL);
            // Limp, it is a line with a stiff body on it.
            let line = crate::sway::Weight { below, spread: 0.001 };
            prop_assert!((9.80665 / (m.swing * m.swing) / line.length(free) - 1.0).abs() < 1e-5);
        }
        #[test]
        fn a_stiff_strip_lets_nothing_swing(free in 0.005..0.05_f64, below in 0.1..1.5_f64) {
            let stiff = Strip { modulus: 1e22, width: 0.01, thick: 1e-4, free };
            prop_assert!(stiff.length(PULL, below) < 1e-6 * below);
        }
        #[test]
        fn a_slack_strip_is_the_known_cantilever(free in 0.005..0.05_f64, e in 1e9..1e12_f64) {
            let s = Strip { modulus: e, width: 0.01, thick: 1e-4, free };
            let ei = e * s.section();
            let k = s.stiff(1e-9 * ei / (free * free));
            prop_assert!((k.side * free * free * free / (12.0 * ei) - 1.0).abs() < 1e-8);
            prop_assert!((k.both * free * free / (-6.0 * ei) - 1.0).abs() < 1e-8);
            prop_assert!((k.turn * free / (4.0 * ei) - 1.0).abs() < 1e-8);
        }
        #[test]
        fn series_and_exponentials_meet(d in -1e-9..1e-9_f64) {
            let (a, b) = (hyper(3.0 - 1e-9 + d.min(0.0)), hyper(3.0 + 1e-9 + d.max(0.0)));
            for (x, y) in [(a.sinh, b.sinh), (a.cosh, b.cosh), (a.delta, b.delta), (a.less_one, b.less_one), (a.arm, b.arm)] {
                prop_assert!((x / y - 1.0).abs() < 1e-7);
            }
        }
    }
}
