//! What hangs, body by body: the pendulum of the simulation, and the same with one of its sizes a little larger.

use crate::series::Oscillator;
use ::pendulum::compound::{Body, Form, Pendulum};
use ::pendulum::strip::Strip;
use movement::design::PendulumDesign;

/// The pendulum in all that its swing depends on; SI, depths as in the design.
#[derive(Clone, PartialEq, Debug)]
pub struct Hangs {
    /// Its bodies.
    pub made: Pendulum,
    /// Its strip, where it has one.
    pub strip: Option<Strip>,
    /// Moment of inertia of the crutch about the pallets' arbor, and its mass times depth: it hangs on its own
    /// pivots, and swings along.
    pub crutch: [f64; 2],
    /// Gravity.
    pub gravity: f64,
    /// Quality factor.
    pub quality: f64,
}
/// A size of a pendulum.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Part {
    /// Bob and nut stand lower on the rod.
    BobLower,
    /// The rod, its upper end where it is and the bob too.
    RodLonger,
    /// The rod, all along.
    RodThicker,
    /// The bob, without a change of its size.
    BobHeavier,
    /// The bob across, its metal and its middle as they are.
    BobWider,
    /// The bob the other way: along the rod, or along the arbor.
    BobThicker,
    /// The nut.
    NutHeavier,
    /// The strip.
    StripThicker,
    /// The strip, all its leaves.
    StripWider,
    /// The strip, and all that hangs on it lower by as much.
    StripLonger,
    /// The strip's metal.
    StripStiffer,
    /// The place on the globe.
    Gravity,
    /// Air and suspension.
    Quality,
}
impl Hangs {
    pub(super) fn of(p: &PendulumDesign) -> Hangs {
        Hangs {
            made: p.hung.made.clone(),
            strip: p.suspension.as_ref().map(|s| s.strip),
            crutch: [0.0; 2],
            gravity: p.gravity.bare().value(),
            quality: p.quality.bare().value(),
        }
    }
    /// As one stiff body about the axis that the strip gives it, the crutch beside it.
    #[must_use]
    pub fn oscillator(&self) -> Oscillator {
        let (all, g) = (self.made.sums(0.0), self.gravity);
        let rigid = (0.0, (g / all.length()).sqrt());
        let (axis, frequency) = self
            .strip
            .and_then(|s| {
                let swing = s.carries(&all, g)?.swing;
                Some((s.turns_at(all.mass, all.centre() - s.free, all.own(), all.mass * g), swing))
            })
            .unwrap_or(rigid);
        let below = all.centre() - axis;
        let inertia = all.own() + all.mass * below * below;
        let gravity = all.mass * g * below;
        let stiffness = frequency * frequency * inertia - gravity;
        let viscous = inertia * frequency / self.quality;
        let [swings, hangs] = self.crutch;
        Oscillator {
            inertia: inertia + swings,
            gravity: gravity + hangs * g,
            stiffness,
            viscous,
            square: 0.0,
        }
    }
    /// With a size larger by so much, in metres, kilograms, m/s², or parts of it; none where it has no such part.
    #[must_use]
    pub fn larger(&self, part: Part, by: f64) -> Option<Hangs> {
        let mut h = self.clone();
        let named = |all: &mut Vec<Body>, name: &str, f: &dyn Fn(&mut Body)| -> Option<()> {
            let mut some = all.iter_mut().filter(|b| b.name == name).peekable();
            some.peek()?;
            some.for_each(f);
            Some(())
        };
        // A body that grows keeps its metal; one known by its mass alone has no size.
        let grown = |b: &mut Body, form: Form| {
            let before = b.form.volume();
            if before > 0.0 {
                b.mass *= form.volume() / before;
            }
            b.form = form;
        };
        let across = |form: Form, by: f64| match form {
            Form::Upright { outer, bore, height } => Form::Upright { outer: outer + by, bore, height },
            Form::Across { outer, bore, thick } => Form::Across { outer: outer + by, bore, thick },
            Form::Lens { outer, thick, rim } => Form::Lens { outer: outer + by, thick, rim },
            Form::Sphere { outer } => Form::Sphere { outer: outer + by },
            other => other,
        };
        let taller = |form: Form, by: f64| match form {
            Form::Upright { outer, bore, height } => Form::Upright { outer, bore, height: height + by },
            Form::Across { outer, bore, thick } => Form::Across { outer, bore, thick: thick + by },
            Form::Lens { outer, thick, rim } => Form::Lens { outer, thick: thick + by, rim },
            other => other,
        };
        let upright = h.made.moving.iter().any(|b| b.name == "bob" && matches!(b.form, Form::Upright { .. }));
        match part {
            Part::BobLower => h.made.moving.iter_mut().for_each(|b| b.at += by),
            Part::RodLonger => named(&mut h.made.fixed, "rod", &|b| {
                b.at += by / 2.0;
                grown(b, taller(b.form, by));
            })?,
            Part::RodThicker => named(&mut h.made.fixed, "rod", &|b| grown(b, across(b.form, by)))?,
            Part::BobHeavier => {
                named(&mut h.made.moving, "bob", &|b| b.mass *= 1.0 + by)?;
                // Its bore goes with it; a bob without one is as well.
                let _ = named(&mut h.made.moving, "hole", &|b| b.mass *= 1.0 + by);
            }
            Part::BobWider | Part::BobThicker => {
                let wider = part == Part::BobWider;
                let form = |f: Form| if wider { across(f, by) } else { taller(f, by) };
                named(&mut h.made.moving, "bob", &|b| grown(b, form(b.form)))?;
                // The bore goes through along the rod.
                if wider != upright {
                    let _ = named(&mut h.made.moving, "hole", &|b| grown(b, taller(b.form, by)));
                }
            }
            Part::NutHeavier => named(&mut h.made.moving, "nut", &|b| b.mass += by)?,
            Part::StripThicker => h.strip.as_mut()?.thick += by,
            Part::StripWider => h.strip.as_mut()?.width += by,
            Part::StripLonger => {
                h.strip.as_mut()?.free += by;
                h.made.fixed.iter_mut().chain(&mut h.made.moving).for_each(|b| b.at += by);
            }
            Part::StripStiffer => h.strip.as_mut()?.modulus *= 1.0 + by,
            Part::Gravity => h.gravity += by,
            Part::Quality => h.quality *= 1.0 + by,
        }
        Some(h)
    }
}
