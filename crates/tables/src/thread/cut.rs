//! Cutting a thread with a single point: depth, nose, infeed, correction, carriage.

use super::form::{cosec, cot};
use reckon::{
    Angle, AngularSpeed, Book, Diameter, Force, Length, Pressure, Ratio, Source, Speed, Val, maths, work,
};

static DEPTHS: Source = Source::derived("groove of a tool with a flat or rounded end")
    .with_formula("PD = OD − 2x + (P/2 − f) cot a, or − 2 r (cosec a − 1) for a radius");

/// The end of a threading tool.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Nose {
    /// Ground flat, this wide; nothing for a sharp point.
    Flat(Length),
    /// Rounded to this radius.
    Round(Length),
}
impl Nose {
    /// What the nose takes off the groove's width at the pitch line, as a diameter: f cot a, or 2 r (cosec a − 1).
    #[must_use]
    pub fn shortfall(self, half_angle: Angle) -> Length {
        match self {
            Nose::Flat(f) => f * cot(half_angle),
            Nose::Round(r) => r * (2.0 * (cosec(half_angle) - 1.0)),
        }
    }
}
/// Pitch diameter left by a groove `depth` deep: OD − 2x + (P/2) cot a − what the nose takes.
#[must_use]
pub fn pitch_diameter(
    outside: Diameter,
    depth: Length,
    pitch: Length,
    half_angle: Angle,
    nose: Nose,
) -> Diameter {
    outside - depth * 2.0 + pitch * (0.5 * cot(half_angle)) - nose.shortfall(half_angle)
}
/// Radial depth from the measured outside diameter that leaves a pitch diameter; inverse of [`pitch_diameter`].
#[must_use]
pub fn depth(outside: Diameter, target: Diameter, pitch: Length, half_angle: Angle, nose: Nose) -> Length {
    (outside - target + pitch * (0.5 * cot(half_angle)) - nose.shortfall(half_angle)) / 2.0
}
/// [`depth`] as a working, from outside and wanted pitch diameter; the nose comes with its size in the book.
pub fn depth_in_book(
    book: &mut Book,
    name: &str,
    (od, d2): (Val<Diameter>, Val<Diameter>),
    p: Val<Length>,
    a: Val<Angle>,
    (nose, size): (Nose, Val<Length>),
) -> Val<Length> {
    match nose {
        Nose::Flat(_) => {
            work!(book, name, |od, d2, p, a, size| depth(od, d2, p, a, Nose::Flat(size)), &DEPTHS)
        }
        Nose::Round(_) => {
            work!(book, name, |od, d2, p, a, size| depth(od, d2, p, a, Nose::Round(size)), &DEPTHS)
        }
    }
}
/// [`pitch_diameter`] as a working, from outside diameter and depth.
pub fn pitch_diameter_in_book(
    book: &mut Book,
    name: &str,
    (od, x): (Val<Diameter>, Val<Length>),
    p: Val<Length>,
    a: Val<Angle>,
    (nose, size): (Nose, Val<Length>),
) -> Val<Diameter> {
    match nose {
        Nose::Flat(_) => {
            work!(book, name, |od, x, p, a, size| pitch_diameter(od, x, p, a, Nose::Flat(size)), &DEPTHS)
        }
        Nose::Round(_) => {
            work!(book, name, |od, x, p, a, size| pitch_diameter(od, x, p, a, Nose::Round(size)), &DEPTHS)
        }
    }
}
/// Narrowest and widest flat of a tool that meets both root limits of ISO: P/2 − 0.616025 P tan a … P/2 − 0.433013 P tan a.
#[must_use]
pub fn iso_tip(pitch: Length) -> (Length, Length) {
    let t = Angle::deg(30.0).tan();
    (pitch * (0.5 - 0.616_025 * t), pitch * (0.5 - 0.433_013 * t))
}
/// Travel of a top slide set over by `swing` from the cross slide, for a radial depth: x / cos θ.
#[must_use]
pub fn dial(depth: Length, swing: Angle) -> Length {
    depth / swing.cos()
}
/// How far a set-over top slide carries the tool along the axis: x tan θ.
#[must_use]
pub fn creep(depth: Length, swing: Angle) -> Length {
    depth * swing.tan()
}
/// Fall of the pitch diameter when the tool is moved along the axis at full depth: dz cot a.
#[must_use]
pub fn touch_along(dz: Length, half_angle: Angle) -> Length {
    dz * cot(half_angle)
}
/// How much of a slide's advance came off the work: k = fall of the pitch diameter / (2 × advance).
#[must_use]
pub fn cutting_ratio(before: Diameter, after: Diameter, advance: Length) -> Ratio {
    (before - after) / (advance * 2.0)
}
/// Smallest cutting ratio to be believed; below it the reading or the tool is at fault.
pub const LEAST_RATIO: f64 = 0.5;
/// Largest cutting ratio to be believed.
pub const MOST_RATIO: f64 = 1.1;
/// Next radial advance from what is left and the cutting ratio: (PD − target) / (2 k).
#[must_use]
pub fn next_advance(now: Diameter, target: Diameter, ratio: Ratio) -> Length {
    (now - target) / 2.0 / ratio
}
/// Aim while readings are still to come: a third of the tolerance below the upper limit.
#[must_use]
pub fn aim(largest: Diameter, smallest: Diameter) -> Diameter {
    largest - (largest - smallest) / 3.0
}
/// Speed of the carriage: turns times lead.
#[must_use]
pub fn carriage(turning: AngularSpeed, lead: Length) -> Speed {
    turning.travel(lead)
}
/// Fastest turning that keeps the carriage within its limit.
#[must_use]
pub fn turning_limit(carriage: Speed, lead: Length) -> AngularSpeed {
    AngularSpeed::si(carriage.value() / lead.value() * 2.0 * maths::PI)
}
/// How far a carriage runs on while the half-nut is lifted.
#[must_use]
pub fn overrun(turning: AngularSpeed, lead: Length, lifting: reckon::Time) -> Length {
    carriage(turning, lead) * lifting
}
/// How far a screw blank that stands out from the chuck bends under a side force at its end: F L³ / (3 E I).
#[must_use]
pub fn spring(force: Force, overhang: Length, core: Diameter, elasticity: Pressure) -> Length {
    let l = overhang.value();
    Length::si(force.value() * l * l * l / (3.0 * elasticity.value() * second_moment(core)))
}
/// Side force that bends it just so far; inverse of [`spring`].
#[must_use]
pub fn force_for_spring(bend: Length, overhang: Length, core: Diameter, elasticity: Pressure) -> Force {
    let l = overhang.value();
    Force::si(bend.value() * 3.0 * elasticity.value() * second_moment(core) / (l * l * l))
}
fn second_moment(core: Diameter) -> f64 {
    let d = core.value();
    maths::PI * d * d * d * d / 64.0
}

#[cfg(test)]
mod tests {
    use super::super::all;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn depth_and_pitch_diameter_are_inverse(
            which in 0..all().len(), over in -0.1..0.1_f64, off in -0.2..0.2_f64, nose in 0.0..0.2_f64, round: bool
        ) {
            let t = &all()[which];
            let (p, a) = (t.pitch, t.form.half_angle);
            let nose = if round { Nose::Round(p * nose) } else { Nose::Flat(p * nose) };
            let outside = t.major + p * over;
            let target = t.pitch_diameter() + p * off;
            let x = depth(outside, target, p, a, nose);
            prop_assert!((pitch_diameter(outside, x, p, a, nose) - target).in_mm().abs() < 1e-12);
        }
        #[test]
        fn a_full_form_tool_cuts_the_tabled_depth(which in 0..all().len()) {
            let t = &all()[which];
            if let Some(r) = t.form.root_radius {
                let nose = Nose::Round(t.pitch * r);
                let x = depth(t.major, t.pitch_diameter(), t.pitch, t.form.half_angle, nose);
                // Tabulated BA depths are rounded to 0.005 mm.
                prop_assert!((x - t.pitch * t.form.pitch_drop).in_mm().abs() < 0.0026, "{}", t.name);
            }
        }
    }
}
