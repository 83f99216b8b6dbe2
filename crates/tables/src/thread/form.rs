//! The shape of a thread groove: half angle, how deep, how blunt.

use reckon::{Angle, Length, Ratio, maths};

/// Height of the sharp triangle over one pitch at 60°, as a part of the pitch: √3/2.
pub const TRIANGLE_60: f64 = 0.866_025_403_784_438_6;

/// A thread form as multiples of the pitch.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Form {
    /// Its name in a sentence.
    pub name: &'static str,
    /// Half the angle between the flanks.
    pub half_angle: Angle,
    /// Major less pitch diameter, basic.
    pub pitch_drop: Ratio,
    /// Major less minor diameter of the nut, basic.
    pub nut_drop: Ratio,
    /// Major diameter less the root of the screw, basic.
    pub root_drop: Ratio,
    /// Radius of the root, where the form is a rounded one; `None` for a flat.
    pub root_radius: Option<Ratio>,
}
const fn degrees(x: f64) -> Angle {
    Angle::si(x * maths::PI / 180.0)
}
/// ISO M: 60°, root truncated by a sixth of the triangle.
pub static ISO: Form = Form {
    name: "ISO metric",
    half_angle: degrees(30.0),
    pitch_drop: Ratio::si(0.75 * TRIANGLE_60),
    nut_drop: Ratio::si(1.25 * TRIANGLE_60),
    root_drop: Ratio::si(17.0 / 12.0 * TRIANGLE_60),
    root_radius: None,
};
/// Unified: 60°, rounded root of 0.1443 pitch.
pub static UNIFIED: Form = Form { name: "Unified", root_drop: Ratio::si(1.375 * TRIANGLE_60), ..ISO };
/// Old US standard: 60°, flats of an eighth of the pitch on crest and root.
pub static OLD_US: Form = Form {
    name: "old US",
    nut_drop: Ratio::si(1.5 * TRIANGLE_60),
    root_drop: Ratio::si(1.5 * TRIANGLE_60),
    ..ISO
};
/// Sharp V: 60°, no flat at all.
pub static SHARP_V: Form = Form {
    name: "sharp V",
    pitch_drop: Ratio::si(TRIANGLE_60),
    nut_drop: Ratio::si(2.0 * TRIANGLE_60),
    root_drop: Ratio::si(2.0 * TRIANGLE_60),
    ..ISO
};
/// Miniature threads of ISO 1501: 60°, deeper nut than M.
pub static WATCH: Form =
    Form { name: "ISO miniature", nut_drop: Ratio::si(0.96), root_drop: Ratio::si(1.12), ..ISO };
/// BA: 47.5°, rounded.
pub static BA: Form = Form {
    name: "BA",
    half_angle: degrees(23.75),
    pitch_drop: Ratio::si(0.6),
    nut_drop: Ratio::si(1.2),
    root_drop: Ratio::si(1.2),
    root_radius: Some(Ratio::si(0.180_834_6)),
};
/// Whitworth: 55°, rounded.
pub static WHITWORTH: Form = Form {
    name: "Whitworth",
    half_angle: degrees(27.5),
    pitch_drop: Ratio::si(0.640_327),
    nut_drop: Ratio::si(1.280_654),
    root_drop: Ratio::si(1.280_654),
    root_radius: Some(Ratio::si(0.137_329)),
};
/// All forms that can be asked for by name.
pub static FORMS: [&Form; 7] = [&ISO, &UNIFIED, &OLD_US, &SHARP_V, &WATCH, &BA, &WHITWORTH];

/// Cotangent of an angle.
#[must_use]
pub fn cot(a: Angle) -> f64 {
    1.0 / a.tan()
}
/// Cosecant of an angle.
#[must_use]
pub fn cosec(a: Angle) -> f64 {
    1.0 / a.sin()
}
/// Height of the sharp triangle over one pitch: H = P / (2 tan a).
#[must_use]
pub fn triangle(pitch: Length, half_angle: Angle) -> Length {
    pitch / (2.0 * half_angle.tan())
}
/// What a rounded form takes off each point of the triangle: s = (H − depth) / 2.
#[must_use]
pub fn truncation(triangle: Length, depth: Length) -> Length {
    (triangle - depth) / 2.0
}
/// Radius that touches both flanks and the truncated point: r = s / (cosec a − 1).
#[must_use]
pub fn radius(truncation: Length, half_angle: Angle) -> Length {
    truncation / (cosec(half_angle) - 1.0)
}
/// Height of flank that a screw and its nut share: the depth between both roundings or truncations.
///
/// 60° forms 5/8 H; rounded forms the depth less what both radii take from it.
#[must_use]
pub fn shared_flank(form: &Form, pitch: Length) -> Length {
    match form.root_radius {
        None => pitch * (0.625 * TRIANGLE_60),
        Some(r) => {
            let a = form.half_angle;
            pitch * (form.pitch_drop.value() - 2.0 * r.value() * (1.0 - a.sin()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 68-1 and ASME B1.1 constants as Machinery's Handbook prints them.
    #[test]
    fn sixty_degree_constants() {
        for (got, printed) in [
            (ISO.pitch_drop, 0.649_519),
            (ISO.nut_drop, 1.082_532),
            (ISO.root_drop, 1.226_869),
            (UNIFIED.root_drop, 1.190_785),
            (OLD_US.nut_drop, 1.299_038),
        ] {
            assert!((got.value() - printed).abs() < 6e-7, "{got:?} {printed}");
        }
    }
    /// The published radii follow from angle and depth alone (BS 93: 0.180 834; BS 84: 0.137 329).
    #[test]
    fn rounded_forms_close() {
        for form in [&BA, &WHITWORTH] {
            let p = Length::mm(1.0);
            let s = truncation(triangle(p, form.half_angle), p * form.pitch_drop);
            let r = radius(s, form.half_angle) / p;
            let printed = form.root_radius.expect("both are rounded");
            assert!((r - printed).value().abs() < 2e-6, "{}: {r:?}", form.name);
        }
    }
    /// Straight flank: BA 0.384 P, Whitworth 0.4925 P (notes on screw gauges, from memory).
    #[test]
    fn straight_flank_of_rounded_forms() {
        let p = Length::mm(1.0);
        assert!((shared_flank(&BA, p).in_mm() - 0.384).abs() < 0.001);
        assert!((shared_flank(&WHITWORTH, p).in_mm() - 0.4925).abs() < 0.001);
    }
}
