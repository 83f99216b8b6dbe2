//! Measuring a pitch diameter over three wires.

use super::form::{cosec, cot};
use reckon::{Angle, Diameter, Length, maths};

/// Wire that touches the flanks at the pitch line: P / (2 cos a).
#[must_use]
pub fn best_wire(pitch: Length, half_angle: Angle) -> Length {
    pitch / (2.0 * half_angle.cos())
}
/// Lead angle at the pitch diameter: tan L = lead / (π d2).
#[must_use]
pub fn lead_angle(lead: Length, pitch_diameter: Diameter) -> Angle {
    Angle::si(maths::atan((lead / pitch_diameter.around()).value()))
}
/// How much the reading over a wire grows with the wire: 1 + cosec a.
#[must_use]
pub fn wire_factor(half_angle: Angle) -> f64 {
    1.0 + cosec(half_angle)
}
/// Reading over wires without regard to the helix: M = d2 + W (1 + cosec a) − (P/2) cot a.
#[must_use]
pub fn over_wires(pitch_diameter: Diameter, pitch: Length, half_angle: Angle, wire: Length) -> Diameter {
    pitch_diameter + wire * wire_factor(half_angle) - pitch * (0.5 * cot(half_angle))
}
/// What the helix lifts the wires: c = (W/2) tan² L cos a cot a.
///
/// Good to 0.1 µm up to a lead angle of 5°; above 6° it gives over 1 µm too much: see [`super::seat`].
#[must_use]
pub fn helix_lift(pitch_diameter: Diameter, lead: Length, half_angle: Angle, wire: Length) -> Length {
    let t = (lead / pitch_diameter.around()).value();
    wire * (0.5 * t * t * half_angle.cos() * cot(half_angle))
}
/// Pitch diameter from a reading over wires, the helix counted; the lift depends on the answer and is found in turns.
#[must_use]
pub fn pitch_diameter(
    reading: Diameter,
    pitch: Length,
    lead: Length,
    half_angle: Angle,
    wire: Length,
) -> Diameter {
    let plain = reading - wire * wire_factor(half_angle) + pitch * (0.5 * cot(half_angle));
    // Each turn gains three digits: the lift is a thousandth of the diameter.
    (0..12).fold(plain, |d2, _| plain - helix_lift(d2, lead, half_angle, wire))
}
/// Smallest wire that stands level with a crest of this outside diameter: (OD − d2 + (P/2) cot a) / (1 + cosec a).
#[must_use]
pub fn flush_wire(outside: Diameter, pitch_diameter: Diameter, pitch: Length, half_angle: Angle) -> Length {
    (outside - pitch_diameter + pitch * (0.5 * cot(half_angle))) / wire_factor(half_angle)
}
/// Largest wire that still rests on the flanks below a sharp crest; 0.90 P is the handbook's limit at 60°, and the
/// same place on the flank is taken at other angles.
#[must_use]
pub fn largest_wire(pitch: Length, half_angle: Angle) -> Length {
    best_wire(pitch, half_angle) * (0.9 * 2.0 * Angle::deg(30.0).cos())
}
/// Height above the pitch line at which a wire touches the flank; nothing for the best wire.
#[must_use]
pub fn touch_above_pitch_line(pitch: Length, half_angle: Angle, wire: Length) -> Length {
    // In the groove's section the wire's centre lies W/2 cosec a above the sharp root.
    let centre = wire * (0.5 * cosec(half_angle));
    let root = pitch * (0.25 * cot(half_angle));
    centre - wire * (0.5 * half_angle.sin()) - root
}

#[cfg(test)]
mod tests {
    use super::super::all;
    use super::*;

    #[test]
    fn the_best_wire_touches_at_the_pitch_line() {
        for t in all() {
            let a = t.form.half_angle;
            let w = best_wire(t.pitch, a);
            assert!(touch_above_pitch_line(t.pitch, a, w).in_mm().abs() < 1e-12, "{}", t.name);
            assert!(
                flush_wire(t.major, t.pitch_diameter(), t.pitch, a) < w,
                "{} would stand below the crest",
                t.name
            );
            assert!(w < largest_wire(t.pitch, a));
        }
    }
    #[test]
    fn reading_and_pitch_diameter_are_inverse() {
        for t in all() {
            let (a, p, d2) = (t.form.half_angle, t.pitch, t.pitch_diameter());
            for w in [best_wire(p, a), best_wire(p, a) * 1.2] {
                let m = over_wires(d2, p, a, w) + helix_lift(d2, p, a, w);
                assert!((pitch_diameter(m, p, p, a, w) - d2).in_mm().abs() < 1e-11, "{}", t.name);
            }
        }
    }
}
