//! Strength of screws: core, stripping, tightening, and what errors of the thread cost.

use super::form::cot;
use super::{Basics, Family, Thread, under};
use reckon::{Angle, Area, Book, Diameter, Force, Length, Pressure, Ratio, Source, Torque, Val, maths, work};

static STRESS: Source =
    Source::read("definition of the stress area: the circle of the mean of pitch and root diameter")
        .with_formula("At = π/4 ((d2 + d3)/2)²; Unified π/4 (D − 0.9743 P)²; BA π/4 (D − 0.9 P)²");

/// Diameter of the circle that carries the pull: ISO and Whitworth the mean of pitch and root diameter, Unified
/// D − 0.9743 P, BA D − 0.9 P.
#[must_use]
pub fn stress_diameter(thread: &Thread) -> Diameter {
    match thread.family {
        Family::Unified(_) => thread.major - thread.pitch * 0.9743,
        // The mean of effective and core is D − 0.9 P before the tables are rounded.
        Family::Ba(_) => thread.major - thread.pitch * 0.9,
        _ => thread.root() + (thread.pitch_diameter() - thread.root()) / 2.0,
    }
}
/// Area that carries the pull of a screw, as workings under `prefix`: the circle of [`stress_diameter`].
pub fn stress_area(book: &mut Book, prefix: &str, thread: &Thread, basics: &Basics) -> Val<Area> {
    let (major, pitch, d2, d3) = (basics.major, basics.pitch, basics.pitch_diameter, basics.root);
    let name = under(prefix, "stress_diameter");
    let d = match thread.family {
        Family::Unified(_) => work!(book, name, |major, pitch| major - pitch * 0.9743, &STRESS),
        Family::Ba(_) => work!(book, name, |major, pitch| major - pitch * 0.9, &STRESS),
        _ => work!(book, name, |d2, d3| d3 + (d2 - d3) / 2.0, &STRESS),
    };
    work!(book, under(prefix, "stress_area"), |d| d.circle(), &STRESS)
}
/// Sheared area of a screw's thread for each length of engagement: (π/P) Kn (P/2 + tan a (Es − Kn)), where Kn is the
/// largest bore of the nut and Es the smallest pitch diameter of the screw.
#[must_use]
pub fn screw_shear(bore_max: Diameter, pitch_min: Diameter, pitch: Length, half_angle: Angle) -> Length {
    shear(bore_max, pitch / 2.0 + (pitch_min - bore_max) * half_angle.tan(), pitch)
}
/// Sheared area of a nut's thread for each length of engagement: (π/P) Ds (P/2 + tan a (Ds − En)), where Ds is the
/// smallest outside diameter of the screw and En the largest pitch diameter of the nut.
#[must_use]
pub fn nut_shear(major_min: Diameter, nut_pitch_max: Diameter, pitch: Length, half_angle: Angle) -> Length {
    shear(major_min, pitch / 2.0 + (major_min - nut_pitch_max) * half_angle.tan(), pitch)
}
fn shear(at: Diameter, tooth: Length, pitch: Length) -> Length {
    at.around() * (tooth / pitch)
}
/// Engagement at which the screw breaks before its own thread strips: 2 At / As.
#[must_use]
pub fn no_strip(stress_area: Area, screw_shear: Length) -> Length {
    stress_area * 2.0 / screw_shear
}
/// Engagement at which the screw breaks before the hole strips: Rm At / (τ An).
#[must_use]
pub fn no_strip_hole(
    stress_area: Area,
    screw: Pressure,
    nut_shear: Length,
    shear_strength: Pressure,
) -> Length {
    stress_area * (screw / shear_strength) / nut_shear
}
/// Pull in a screw tightened to a part of its yield: F = part × Rp At.
#[must_use]
pub fn preload(stress_area: Area, yield_strength: Pressure, part: Ratio) -> Force {
    yield_strength * stress_area * part
}
/// Torque that makes a pull, dry and unpolished: T = 0.2 F d.
#[must_use]
pub fn tightening(preload: Force, major: Diameter) -> Torque {
    preload * (major.across() * 0.2)
}
/// Torque at which a blade crushes a slot: T = p t dk² / 6, the pressure rising from nothing at the middle.
#[must_use]
pub fn slot_torque(pressure: Pressure, depth: Length, head: Diameter) -> Torque {
    let dk = head.across();
    pressure * (depth * dk) * (dk / 6.0)
}
/// What an error of pitch over the engagement adds to a screw's pitch diameter as its nut feels it: dp cot a.
#[must_use]
pub fn rise_by_pitch(pitch_error: Length, half_angle: Angle) -> Length {
    pitch_error.abs() * cot(half_angle)
}
/// What errors of the two flanks add: h (da1 + da2) / sin 2a, angles in radians, h the flank that screw and nut share.
#[must_use]
pub fn rise_by_flanks(first: Angle, second: Angle, shared_flank: Length, half_angle: Angle) -> Length {
    let both = first.value().abs() + second.value().abs();
    shared_flank * (both / maths::sin(2.0 * half_angle.value()))
}

#[cfg(test)]
mod tests {
    use super::super::{all, find};
    use super::*;

    /// ISO 898-1 areas (recalled) and the BA areas of D − 0.9 P.
    #[test]
    fn stress_areas() {
        for (name, mm2, within) in [
            ("M1.6", 1.27, 0.005),
            ("M2", 2.07, 0.005),
            ("M2.5", 3.39, 0.005),
            ("M4", 8.78, 0.005),
            ("M6", 20.1, 0.05),
            ("0 BA", 20.4, 0.05),
            ("2 BA", 12.38, 0.01),
            ("10 BA", 1.51, 0.005),
        ] {
            let got = stress_diameter(&find(name).unwrap()).circle().value() * 1e6;
            assert!((got - mm2).abs() < within, "{name} {got}");
        }
    }
    #[test]
    fn the_stress_circle_lies_between_root_and_pitch_line() {
        for t in all() {
            let d = stress_diameter(t);
            assert!(d > t.root() && d < t.pitch_diameter(), "{}", t.name);
            let mut book = Book::new();
            let b = super::super::basics(&mut book, "", t);
            let area = stress_area(&mut book, "", t, &b).bare();
            assert!(((area / d.circle()).value() - 1.0).abs() < 1e-12, "{}", t.name);
        }
    }
}
