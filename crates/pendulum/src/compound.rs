//! A pendulum made of bodies: what swings, where it hangs, how long it is in effect.
//!
//! SI units; depths are counted from the axis downward, what stands above it is negative.
//! All bodies move in one plane as one piece; a hole is a body with a negative mass.

use crate::root::{self, Found};
use crate::swing;
use reckon::{Source, maths};

/// Effective length of a made pendulum.
pub static COMPOUND: Source =
    Source::derived("rigid pendulum of several bodies").with_formula("L = ΣI/ΣS, S = m z, I = Icm + m z²");
/// The place of the bob.
pub static PLACE: Source = Source::derived("rigid pendulum, place of its bob between two bounds")
    .with_formula("Σ(Icm + m z²) = L Σ m z");
/// What moving the bob does.
pub static PER_MOVE: Source =
    Source::derived("rigid pendulum, slope of its period with the place of its bob")
        .with_formula("dL/dz = (2 Sbob − L Mbob)/S");

/// The form of a body, with its sizes.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Form {
    /// Round rod or cylinder along the pendulum, perhaps bored through.
    Upright {
        /// Across.
        outer: f64,
        /// Across the bore.
        bore: f64,
        /// Along the pendulum.
        height: f64,
    },
    /// Round disc whose axis lies along the arbor, perhaps bored through.
    Across {
        /// Across.
        outer: f64,
        /// Across the bore.
        bore: f64,
        /// Along the arbor.
        thick: f64,
    },
    /// Two round caps back to back with a rim between them, axis along the arbor.
    Lens {
        /// Across.
        outer: f64,
        /// Thick in the middle.
        thick: f64,
        /// Thick at the rim.
        rim: f64,
    },
    /// Ball.
    Sphere {
        /// Across.
        outer: f64,
    },
    /// Square-edged bar.
    Bar {
        /// Along the pendulum.
        height: f64,
        /// In the plane of swing, square to the pendulum.
        width: f64,
        /// Along the arbor.
        thick: f64,
    },
    /// All of it in one place, or with a known moment about its own centre over its mass.
    Known {
        /// Moment of inertia over mass, in m².
        spread: f64,
    },
}
impl Form {
    /// Room it fills, in m³; nothing for a known one.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let ring = |outer: f64, bore: f64| maths::PI / 4.0 * (outer * outer - bore * bore);
        match *self {
            Form::Upright { outer, bore, height } => ring(outer, bore) * height,
            Form::Across { outer, bore, thick } => ring(outer, bore) * thick,
            Form::Lens { outer, thick, rim } => {
                let (a, h) = (outer / 2.0, (thick - rim) / 2.0);
                maths::PI * h * (3.0 * a * a + h * h) / 3.0 + ring(outer, 0.0) * rim
            }
            Form::Sphere { outer } => maths::PI / 6.0 * outer * outer * outer,
            Form::Bar { height, width, thick } => height * width * thick,
            Form::Known { .. } => 0.0,
        }
    }
    /// Moment of inertia about its own centre and an axis along the arbor, over its mass, in m².
    #[must_use]
    pub fn spread(&self) -> f64 {
        match *self {
            Form::Upright { outer, bore, height } => {
                height * height / 12.0 + (outer * outer + bore * bore) / 16.0
            }
            Form::Across { outer, bore, .. } => (outer * outer + bore * bore) / 8.0,
            Form::Lens { outer, thick, rim } => lens(outer / 2.0, (thick - rim) / 2.0, rim),
            Form::Sphere { outer } => outer * outer / 10.0,
            Form::Bar { height, width, .. } => (height * height + width * width) / 12.0,
            Form::Known { spread } => spread,
        }
    }
}
/// Moment over mass of two caps of height `h` on a circle of radius `a`, with a rim between:
/// `½∫ r⁴ dV` along the axis, where a cap has `r² = 2Rs − s²` at `s` from its top.
fn lens(a: f64, h: f64, rim: f64) -> f64 {
    let a2 = a * a;
    // 2R h = a² + h², so that no radius appears that grows without end as the cap goes flat.
    let q = a2 + h * h;
    let caps = maths::PI * h * (q * q / 3.0 - q * h * h / 2.0 + h * h * h * h / 5.0);
    let flat = maths::PI / 2.0 * a2 * a2 * rim;
    let volume = maths::PI * h * (3.0 * a2 + h * h) / 3.0 + maths::PI * a2 * rim;
    if volume > 0.0 { (caps + flat) / volume } else { a2 / 2.0 }
}

/// A body that swings.
#[derive(Clone, PartialEq, Debug)]
pub struct Body {
    /// What it is called.
    pub name: String,
    /// Its form.
    pub form: Form,
    /// Its mass; negative for a hole.
    pub mass: f64,
    /// Depth of its centre of gravity below the axis.
    pub at: f64,
}
impl Body {
    /// A body by mass.
    #[must_use]
    pub fn heavy(name: &str, form: Form, mass: f64, at: f64) -> Body {
        Body { name: name.to_owned(), form, mass, at }
    }
    /// A body by density.
    #[must_use]
    pub fn dense(name: &str, form: Form, density: f64, at: f64) -> Body {
        Body { name: name.to_owned(), form, mass: density * form.volume(), at }
    }
    /// First moment about the axis.
    #[must_use]
    pub fn moment(&self) -> f64 {
        self.mass * self.at
    }
    /// Moment of inertia about its own centre.
    #[must_use]
    pub fn own(&self) -> f64 {
        self.mass * self.form.spread()
    }
    /// Moment of inertia about the axis.
    #[must_use]
    pub fn inertia(&self) -> f64 {
        self.own() + self.mass * self.at * self.at
    }
}
/// Sums over the bodies of a pendulum.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Sums {
    /// Mass.
    pub mass: f64,
    /// First moment about the axis.
    pub moment: f64,
    /// Moment of inertia about the axis.
    pub inertia: f64,
}
impl Sums {
    /// Of bodies.
    #[must_use]
    pub fn of<'a>(bodies: impl IntoIterator<Item = &'a Body>) -> Sums {
        bodies.into_iter().fold(Sums::default(), |s, b| Sums {
            mass: s.mass + b.mass,
            moment: s.moment + b.moment(),
            inertia: s.inertia + b.inertia(),
        })
    }
    /// Effective length: that of the simple pendulum of the same period.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.inertia / self.moment
    }
    /// Depth of the centre of gravity of all.
    #[must_use]
    pub fn centre(&self) -> f64 {
        self.moment / self.mass
    }
    /// Moment of inertia about the centre of gravity of all.
    #[must_use]
    pub fn own(&self) -> f64 {
        self.inertia - self.moment * self.centre()
    }
    /// Period at an arc.
    #[must_use]
    pub fn period(&self, g: f64, arc: f64) -> f64 {
        swing::period(self.length(), g, arc)
    }
    /// Whether it hangs and swings at all.
    #[must_use]
    pub fn hangs(&self) -> bool {
        self.moment > 0.0 && self.inertia > 0.0
    }
}
/// A pendulum of which some bodies (bob, nut, what rides on them) can be moved up and down together.
#[derive(Clone, PartialEq, Debug)]
pub struct Pendulum {
    /// What stays.
    pub fixed: Vec<Body>,
    /// What moves.
    pub moving: Vec<Body>,
}
impl Pendulum {
    /// Sums when what moves is lowered by `down`.
    #[must_use]
    pub fn sums(&self, down: f64) -> Sums {
        let (f, m) = (Sums::of(&self.fixed), Sums::of(&self.moving));
        Sums {
            mass: f.mass + m.mass,
            moment: f.moment + m.moment + m.mass * down,
            inertia: f.inertia + m.inertia + 2.0 * m.moment * down + m.mass * down * down,
        }
    }
    /// How far to lower what moves for an effective length, found between bounds. The lower of the
    /// two places that may exist: there lowering makes it slower. `None` when there is no such place.
    #[must_use]
    pub fn place(&self, length: f64) -> Option<Found> {
        let m = Sums::of(&self.moving);
        if m.mass <= 0.0 || length <= 0.0 {
            return None;
        }
        let off = |down: f64| {
            let s = self.sums(down);
            // Over mass times length: a plain number near (z − L)/L.
            (s.inertia - length * s.moment) / (m.mass * length * length)
        };
        // I − L S is a parabola of the place, lowest where the centre of what moves is at half the length.
        let lowest = length / 2.0 - m.centre();
        let mut far = length;
        for _ in 0..60 {
            if off(lowest + far) > 0.0 {
                return root::between(off, lowest, lowest + far);
            }
            far *= 2.0;
        }
        None
    }
    /// Rate for each metre that what moves is raised, in s/day, + gains.
    #[must_use]
    pub fn per_metre(&self) -> f64 {
        let (all, m) = (self.sums(0.0), Sums::of(&self.moving));
        let l = all.length();
        crate::DAY / (2.0 * l) * (2.0 * m.moment - l * m.mass) / all.moment
    }
    /// Rate when what moves is raised by `up`, in s/day: exact.
    #[must_use]
    pub fn raised(&self, up: f64) -> f64 {
        swing::rate_of_lengths(self.sums(-up).length(), self.sums(0.0).length())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const G: f64 = 9.80665;

    fn example(at: f64) -> Pendulum {
        let rod = Form::Upright { outer: 0.008, bore: 0.0, height: 1.05 };
        let bob = Form::Upright { outer: 0.09, bore: 0.0, height: 0.12 };
        Pendulum {
            fixed: vec![Body::dense("rod", rod, 7850.0, 0.525)],
            moving: vec![Body::heavy("bob", bob, 6.0, at)],
        }
    }
    #[test]
    fn a_thin_rod_on_its_end() {
        let rod = Body::heavy("rod", Form::Bar { height: 1.0, width: 0.0, thick: 0.0 }, 1.0, 0.5);
        assert!((Sums::of([&rod]).period(G, 0.0) - 1.638_226_3).abs() < 1e-7);
    }
    #[test]
    fn a_rod_and_a_bob() {
        let s = example(0.99).sums(0.0);
        assert!((s.length() - 0.981_418_6).abs() < 1e-7);
        assert!((s.period(G, 0.0) - 1.987_680_9).abs() < 1e-7);
    }
    #[test]
    fn the_bob_set_for_seconds_and_its_rate() {
        let mut p = example(0.99);
        let found = p.place(swing::length(1.0, G, 0.0)).unwrap();
        p.moving[0].at += found.x;
        assert!((p.sums(0.0).period(G, 0.0) - 2.0).abs() < 1e-14);
        assert!((p.per_metre() / 1000.0 - 42.333).abs() < 1e-3, "{}", p.per_metre());
        assert!((p.raised(0.0001) / 0.1 - 42.333).abs() < 0.005);
    }
    #[test]
    fn a_lens_agrees_with_thin_slices() {
        let (a, h, rim) = (0.028, 0.0115, 0.002);
        let r = (a * a + h * h) / (2.0 * h);
        let n = 200_000;
        let (mut volume, mut moment) = (0.0, 0.0);
        for i in 0..n {
            let s = h * (f64::from(i) + 0.5) / f64::from(n);
            let r2 = 2.0 * r * s - s * s;
            volume += 2.0 * maths::PI * r2 * h / f64::from(n);
            moment += maths::PI * r2 * r2 * h / f64::from(n);
        }
        volume += maths::PI * a * a * rim;
        moment += maths::PI / 2.0 * a * a * a * a * rim;
        let form = Form::Lens { outer: 2.0 * a, thick: 2.0 * h + rim, rim };
        assert!((form.volume() / volume - 1.0).abs() < 1e-9);
        assert!((form.spread() / (moment / volume) - 1.0).abs() < 1e-9);
    }
    #[test]
    fn a_lens_without_bulge_is_a_disc_and_a_full_one_a_ball() {
        let disc = Form::Across { outer: 0.1, bore: 0.0, thick: 0.01 };
        let flat = Form::Lens { outer: 0.1, thick: 0.01, rim: 0.01 };
        assert!(
            (flat.spread() - disc.spread()).abs() < 1e-18 && (flat.volume() - disc.volume()).abs() < 1e-18
        );
        let ball = Form::Sphere { outer: 0.1 };
        let full = Form::Lens { outer: 0.1, thick: 0.1, rim: 0.0 };
        assert!(
            (full.spread() - ball.spread()).abs() < 1e-17 && (full.volume() - ball.volume()).abs() < 1e-18
        );
    }
    #[test]
    fn no_place_makes_a_heavy_long_rod_quick() {
        let mut p = example(0.99);
        p.moving[0].mass = 0.01;
        assert!(p.place(0.3).is_none());
    }
    proptest! {
        #[test]
        fn heavier_all_through_is_no_slower(k in 0.01..100.0_f64, at in 0.3..1.5_f64) {
            let p = example(at);
            let mut q = p.clone();
            for b in q.fixed.iter_mut().chain(&mut q.moving) { b.mass *= k; }
            prop_assert!((p.sums(0.0).length() / q.sums(0.0).length() - 1.0).abs() < 1e-14);
        }
        #[test]
        fn a_rod_is_the_sum_of_its_halves(l in 0.1..2.0_f64, cut in 0.05..0.95_f64, d in 0.001..0.05_f64) {
            let part = |top: f64, bottom: f64| Body::dense("part",
                Form::Upright { outer: d, bore: 0.0, height: bottom - top }, 7850.0, f64::midpoint(top, bottom));
            let whole = Sums::of([&part(0.0, l)]);
            let two = Sums::of([&part(0.0, cut * l), &part(cut * l, l)]);
            prop_assert!((whole.length() / two.length() - 1.0).abs() < 1e-12);
        }
        #[test]
        fn a_hole_and_its_plug_are_nothing(at in 0.5..1.2_f64, d in 0.001..0.02_f64) {
            let p = example(at);
            let plug = Body::dense("plug", Form::Upright { outer: d, bore: 0.0, height: 0.1 }, 8000.0, at);
            let hole = Body { mass: -plug.mass, ..plug.clone() };
            let mut q = p.clone();
            q.moving.extend([plug, hole]);
            prop_assert!((p.sums(0.0).length() / q.sums(0.0).length() - 1.0).abs() < 1e-14);
        }
        #[test]
        fn the_place_is_that_of_the_parabola(at in 0.3..1.5_f64, l in 0.7..1.5_f64) {
            let p = example(at);
            let (f, m) = (Sums::of(&p.fixed), Sums::of(&p.moving));
            let half = l / 2.0;
            let c = (f.inertia - l * f.moment + m.own()) / m.mass;
            let z = half + (half * half - c).sqrt();
            let found = p.place(l).unwrap();
            prop_assert!((at + found.x - z).abs() < 1e-12);
        }
        #[test]
        fn the_slope_is_that_of_small_moves(at in 0.6..1.5_f64) {
            let p = example(at);
            let by_steps = (p.raised(1e-5) - p.raised(-1e-5)) / 2e-5;
            prop_assert!((p.per_metre() / by_steps - 1.0).abs() < 1e-6);
        }
    }
}
