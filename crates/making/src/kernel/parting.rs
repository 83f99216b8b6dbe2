//! Parting off, and what a tool does that stands above or below centre.

use reckon::{Angle, Diameter, Length, Pressure, Radius, Ratio, Source, maths};

/// Width of a parting blade by bar.
pub static BLADE: Source =
    Source::practice("blade a twentieth of the bar plus 0.6 mm wide, standing out at most eight widths");
/// Bending of the blade.
pub static BLADE_STRESS: Source =
    Source::derived("cantilever of the blade; its width cancels").with_formula("σ = 6 k_c f L/H²");
/// Sideways buckling of the blade.
pub static BLADE_BUCKLING: Source =
    Source::memory("Timoshenko and Gere, Theory of Elastic Stability: narrow cantilever loaded at its end")
        .with_formula("P_cr = 4.013 √(E I_y G J)/L², I_y = H w³/12, J = H w³/3");
/// Tool off centre.
pub static OFF_CENTRE: Source = Source::derived("tool moving on a line beside the axis")
    .with_formula("r = √(x² + h²); r_rub = h / sin α");

/// Width of blade for a bar: a twentieth of it and 0.6 mm.
#[must_use]
pub fn blade_width(bar: Diameter) -> Length {
    bar.across() / 20.0 + Length::si(0.6e-3)
}
/// How far a blade may stand out: eight times its width.
#[must_use]
pub fn blade_reach(width: Length) -> Length {
    width * 8.0
}
/// Stress at the root of a blade that stands out by `out` and is `height` high.
#[must_use]
pub fn blade_stress(kc: Pressure, feed: Length, out: Length, height: Length) -> Pressure {
    kc * (6.0 * (feed / height) * (out / height))
}
/// Shear modulus from elastic modulus and Poisson's number.
#[must_use]
pub fn shear_modulus(e: Pressure, poisson: Ratio) -> Pressure {
    e / (2.0 * (1.0 + poisson.value()))
}
/// Least width of a blade that does not buckle sideways, with `safety` on the load (20 covers chatter).
#[must_use]
pub fn least_width(
    kc: Pressure,
    feed: Length,
    out: Length,
    height: Length,
    e: Pressure,
    g: Pressure,
    safety: Ratio,
) -> Length {
    let stiff = maths::sqrt(e.value() * g.value());
    out * maths::sqrt(6.0 * safety.value() * kc.value() * feed.value() / (4.013 * height.value() * stiff))
}
/// What a blade whose end slopes by `slope` needs beside its own width to be through at the centre.
#[must_use]
pub fn sloped_end(bar: Diameter, slope: Angle) -> Length {
    bar.radius().out() * slope.tan()
}

/// Diameter of the pip that a tool leaves which is off centre by `height`.
#[must_use]
pub fn pip(height: Length) -> Diameter {
    Radius::si(height.value().abs()).diameter()
}
/// Radius that is turned with the dial at `x` and the tool off centre by `height`.
#[must_use]
pub fn radius_at(x: Length, height: Length) -> Radius {
    Radius::si(maths::hypot(x.value(), height.value()))
}
/// Radius that is turned after touching off at `touched` and feeding in by `infeed`; `None` when it never touched.
#[must_use]
pub fn after_infeed(touched: Radius, infeed: Length, height: Length) -> Option<Radius> {
    let (r, h) = (touched.value(), height.value());
    (r >= h.abs()).then(|| radius_at(Length::si(maths::sqrt(r * r - h * h)) - infeed, height))
}
/// What a height error takes from the rake at radius `r`: added to the rake and taken from the clearance of a
/// tool above centre (positive `height`) on the outside; the other way in a bore.
#[must_use]
pub fn angle_shift(height: Length, r: Radius) -> Option<Angle> {
    let s = height.value() / r.value();
    (s.abs() <= 1.0).then(|| Angle::si(maths::asin(s)))
}
/// Rake and clearance as they act.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Acting {
    /// Rake.
    pub rake: Angle,
    /// Clearance; the tool rubs where it is not above nothing.
    pub clearance: Angle,
}
/// Rake and clearance as they act at radius `r`; `height` is positive above centre, `bore` for inside work.
#[must_use]
pub fn acting(rake: Angle, clearance: Angle, height: Length, r: Radius, bore: bool) -> Option<Acting> {
    let shift = angle_shift(height, r)?;
    let shift = if bore { -shift } else { shift };
    Some(Acting { rake: rake + shift, clearance: clearance - shift })
}
/// Radius at which a tool above centre begins to rub when it goes inward; nothing for one at or below centre.
#[must_use]
pub fn rub_radius(height: Length, clearance: Angle) -> Radius {
    Radius::si(height.value().max(0.0) / clearance.sin())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trade_widths() {
        for (bar, width) in [(3.0, 0.75), (6.0, 0.9), (10.0, 1.1), (16.0, 1.4), (25.0, 1.85)] {
            assert!((blade_width(Diameter::mm(bar)).in_mm() - width).abs() < 1e-12);
        }
    }
    #[test]
    fn clearance_ends_where_rubbing_begins() {
        let (h, a) = (Length::mm(0.1), Angle::deg(8.0));
        let r = rub_radius(h, a);
        let at = |k: f64| acting(Angle::ZERO, a, h, Radius::si(r.value() * k), false).unwrap().clearance;
        assert!(at(1.001) > Angle::ZERO && at(0.999) < Angle::ZERO);
        assert_eq!(rub_radius(-h, a), Radius::ZERO);
    }
    #[test]
    fn feeding_past_the_axis_grows_again() {
        let after =
            |infeed: f64| after_infeed(Radius::mm(5.0), Length::mm(infeed), Length::mm(0.3)).unwrap().in_mm();
        assert!((after(0.0) - 5.0).abs() < 1e-12);
        let centre = maths::sqrt(25.0 - 0.09);
        assert!((after(centre) - 0.3).abs() < 1e-12);
        assert!((after(centre + 0.4) - 0.5).abs() < 1e-12);
        assert_eq!(after_infeed(Radius::mm(0.1), Length::ZERO, Length::mm(0.3)), None);
    }
    #[test]
    fn sides_change_in_a_bore() {
        let (z, h, r) = (Angle::ZERO, Length::mm(0.1), Radius::mm(3.0));
        let (out, bore) = (acting(z, z, h, r, false).unwrap(), acting(z, z, h, r, true).unwrap());
        assert_eq!(out.rake, bore.clearance);
        assert_eq!(out.clearance, bore.rake);
    }
}
