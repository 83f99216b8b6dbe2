//! Form tools that are fed in on the turning axis, facets ground on a slope, and tools for threads.

use reckon::{Angle, Diameter, Length, Radius, Ratio, Source, maths};

/// Turning form tools.
pub static TURNING: Source =
    Source::derived("flat form tool with rake cutting along a line below the axis's height")
        .with_formula("c = √(r₂² − (r₁ sin γ)²) − r₁ cos γ, T = c cos(α + γ)");
/// Facets.
pub static FACET: Source = Source::derived("plane cut by planes along and across the shank")
    .with_formula("tan α_s = tan α_n/cos ψ, tan α_x = tan α_n/sin ψ");
/// Slope of a thread.
pub static HELIX: Source = Source::derived("thread unrolled").with_formula("tan λ = P n/(π d)");
/// Side clearance of a thread tool ground straight down.
pub static THREAD_SIDE: Source = Source::derived("flank of a prism that leans back by the front clearance")
    .with_formula("tan α_x = tan α_f tan(ε/2)");
/// Hollow of a ground face.
pub static HOLLOW: Source = Source::derived("sagitta of a grinding wheel").with_formula("s = L²/(8 R)");

/// Depth along the face of a turning form tool with rake `rake` for the step from `small` to `large`, tool set
/// to centre at `small`; `None` when the large radius is not reached.
#[must_use]
pub fn depth_on_face(small: Radius, large: Radius, rake: Angle) -> Option<Length> {
    let low = small.value() * rake.sin();
    let inside = large.value() * large.value() - low * low;
    (inside >= 0.0 && large >= small).then(|| Length::si(maths::sqrt(inside) - small.value() * rake.cos()))
}
/// Depth square to the flank of the tool, as it is ground and measured.
#[must_use]
pub fn depth_on_flank(on_face: Length, clearance: Angle, rake: Angle) -> Length {
    on_face * (clearance + rake).cos()
}
/// Radius that a tool profiled for zero rake cuts where it should cut `large`, once it is honed with rake `rake`.
#[must_use]
pub fn honed(small: Radius, large: Radius, rake: Angle) -> Radius {
    let step = (large - small).value();
    Radius::si(maths::hypot(small.value() * rake.sin(), small.value() * rake.cos() + step))
}
/// How far the centre of a round form tool lies above the axis for clearance `clearance`.
#[must_use]
pub fn round_tool_offset(tool: Radius, clearance: Angle) -> Length {
    tool.out() * clearance.sin()
}

/// A facet as it is seen and as it is set on a tilting table.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Facet {
    /// Clearance seen along the shank.
    pub along: Angle,
    /// Clearance seen across it.
    pub across: Angle,
    /// Tilt of the table, about a line in its face parallel to the wheel.
    pub tilt: Angle,
    /// Swing of the shank from square to the wheel.
    pub swing: Angle,
}
/// A facet of clearance `clearance` square to an edge whose plan normal makes `psi` with the shank, above 0° and below 90°.
#[must_use]
pub fn facet(clearance: Angle, psi: Angle) -> Facet {
    let t = clearance.tan();
    let at = |k: f64| Angle::si(maths::atan2(t, k));
    Facet { along: at(psi.cos()), across: at(psi.sin()), tilt: clearance, swing: psi }
}
/// Hollow that a wheel leaves over length `over`.
#[must_use]
pub fn hollow(over: Length, wheel: Radius) -> Length {
    Length::si(over.value() * over.value() / (8.0 * wheel.value()))
}

/// Slope of a thread at diameter `d`.
#[must_use]
pub fn helix(pitch: Length, starts: Ratio, d: Diameter) -> Angle {
    Angle::si(maths::atan((pitch * starts / d.around()).value()))
}
/// Side clearance, in a section along the axis, of a thread tool ground straight down with front clearance `front`.
#[must_use]
pub fn thread_side(front: Angle, whole_angle: Angle) -> Angle {
    Angle::si(maths::atan(front.tan() * (whole_angle / 2.0).tan()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn form_tool_by_walking_along_the_face() {
        // The face falls from the edge at the centre: a point c along it lies at height −… and reaches hypot().
        let (r1, r2, g) = (4.0, 6.0, Angle::deg(10.0));
        let c = depth_on_face(Radius::mm(r1), Radius::mm(r2), g).unwrap().in_mm();
        let reached = maths::hypot(r1 + c * g.cos(), c * g.sin());
        assert!((reached - r2).abs() < 1e-9, "{reached}");
        assert_eq!(depth_on_face(Radius::mm(6.0), Radius::mm(4.0), g), None);
    }
    #[test]
    fn honing_a_zero_rake_tool_cuts_larger_steps_smaller() {
        let r = honed(Radius::mm(4.0), Radius::mm(6.0), Angle::deg(10.0));
        assert!(r < Radius::mm(6.0));
        assert!((honed(Radius::mm(4.0), Radius::mm(6.0), Angle::ZERO).in_mm() - 6.0).abs() < 1e-12);
    }
    #[test]
    fn facet_by_cutting_the_plane() {
        // The facet falls by tan a per millimetre along its normal in plan; walk one millimetre along the shank.
        let (a, psi) = (8.0_f64, 30.0_f64);
        let f = facet(Angle::deg(a), Angle::deg(psi));
        // Clearance is measured from the vertical: the plane recedes tan(a) along the normal per unit height.
        let recede = Angle::deg(a).tan();
        let along = recede / Angle::deg(psi).cos();
        assert!((f.along.tan() - along).abs() < 1e-12);
        assert!((f.across.tan() - recede / Angle::deg(psi).sin()).abs() < 1e-12);
        let straight = facet(Angle::deg(8.0), Angle::ZERO);
        assert!((straight.along.in_deg() - 8.0).abs() < 1e-12);
        assert!((straight.across.in_deg() - 90.0).abs() < 1e-12);
    }
}
