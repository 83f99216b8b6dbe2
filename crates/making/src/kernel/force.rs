//! What a cut pushes with: chip, force, torque, power.

use super::speed::Metal;
use reckon::{Angle, Diameter, Force, Length, Power, Pressure, Radius, Ratio, Source, Speed, Torque, maths};

/// The force law and its constants.
pub static LAW: Source = Source::read(
    "specific cutting force by material group of DIN/ISO 513 and VDI 3323, as printed in a turning catalogue",
)
.with_formula("F_c = k_c1.1 b h^(1−m_c), h = f sin κ, b = a_p / sin κ");
/// Corrections of the law for rake and wear.
pub static CORRECTIONS: Source =
    Source::memory("Dietrich and Tschätsch, Praxis der Zerspantechnik: correction factors of cutting force")
        .with_formula("K_γ = 1 − 0.015 (γ − γ₀)/°");
/// Chord of a rounded tool point.
pub static CHORD: Source = Source::derived("chord of the cutting edge in contact, straight thrust across it")
    .with_formula("tan κ = a_p / (√(2 r a_p − a_p²) + f/2)");
/// Thrust as a share of the main force.
pub static THRUST: Source =
    Source::memory("thrust in the plane of feed and depth 0.4 to 0.6 of the main force; 0.5 taken");
/// Power and torque.
pub static POWER: Source =
    Source::derived("force by speed, force by radius").with_formula("P = F_c v, M = F_c d/2");
/// Two lips of a drill.
pub static LIPS: Source = Source::derived("two lips, each with the force law; the chisel edge is not in it")
    .with_formula("M = k_c(h) (D f/4)(D/2), h = (f/2) sin(σ/2)");
/// What the chisel edge of a small drill adds.
pub static CHISEL: Source = Source::memory(
    "chisel edge of drills below 3 mm: torque 1.3 to 1.6 of the lips; thrust about as much again",
);
/// Ridges that a rounded tool leaves.
pub static RIDGES: Source =
    Source::derived("ridges between equal arcs a feed apart").with_formula("R_t = r − √(r² − f²/4)");
/// A drill as a column.
pub static COLUMN: Source =
    Source::memory("Euler column, one end held and one end on a pivot; flutes leave 0.55 of the stiffness")
        .with_formula("P = 0.55 π² E I / (0.699 L)²");

/// A group of the force law.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Group {
    /// What is in it.
    pub what: &'static str,
    /// Specific force of a chip 1 mm wide and 1 mm thick, in N/mm².
    pub unit_force: f64,
    /// How steeply it falls with thickness.
    pub fall: f64,
}
const fn group(what: &'static str, unit_force: f64, fall: f64) -> Group {
    Group { what, unit_force, fall }
}
/// Rows of the published table that a clockmaker meets. Leaded brass lies lower still: the row is the safe side for holding.
pub static GROUPS: [Group; 14] = [
    group("steel below 0.25 % C, annealed; free-cutting steel", 1350.0, 0.21),
    group("steel from 0.25 % C, annealed", 1500.0, 0.22),
    group("steel from 0.55 % C, annealed; silver steel", 1700.0, 0.24),
    group("steel below 0.55 % C, hardened and tempered", 1675.0, 0.24),
    group("steel from 0.55 % C, hardened and tempered", 1900.0, 0.24),
    group("low-alloy steel, annealed", 1775.0, 0.24),
    group("tool steel, high alloy, annealed", 2450.0, 0.23),
    group("stainless steel, ferritic or martensitic", 1875.0, 0.21),
    group("stainless steel, austenitic", 2150.0, 0.20),
    group("grey iron, ferritic", 1150.0, 0.20),
    group("grey iron, pearlitic", 1350.0, 0.28),
    group("wrought aluminium, not hardenable", 700.0, 0.25),
    group("wrought aluminium, hardened", 800.0, 0.25),
    group("brass, free-cutting copper alloys, copper", 700.0, 0.27),
];
impl Group {
    /// Specific force of a chip 1 mm wide and 1 mm thick.
    #[must_use]
    pub fn kc11(&self) -> Pressure {
        Pressure::n_per_mm2(self.unit_force)
    }
    /// Exponent.
    #[must_use]
    pub fn mc(&self) -> Ratio {
        Ratio::si(self.fall)
    }
}

/// The row for a metal, the harder one where it has two.
#[must_use]
pub fn group_for(metal: Metal) -> &'static Group {
    &GROUPS[match metal {
        Metal::Brass => 13,
        Metal::Aluminium => 12,
        Metal::MildSteel => 0,
        Metal::ToolSteel => 2,
        Metal::Stainless => 8,
    }]
}
/// Rake that the law was measured at: 2° for what crumbles, 6° for the rest.
#[must_use]
pub fn law_rake(metal: Metal) -> Angle {
    Angle::deg(if metal.crumbles() { 2.0 } else { 6.0 })
}

/// Radius that a keen edge has at least: thinner chips are pushed, not cut, and the law is not followed below it.
pub const EDGE: f64 = 5e-6;

/// Thickness of the chip at feed `feed` and edge angle `approach`.
#[must_use]
pub fn chip_thickness(feed: Length, approach: Angle) -> Length {
    feed * approach.sin()
}
/// Width of the chip at depth `depth` and edge angle `approach`.
#[must_use]
pub fn chip_width(depth: Length, approach: Angle) -> Length {
    depth / approach.sin()
}
/// Force per area of chip; chips thinner than [`EDGE`] count as that thick.
#[must_use]
pub fn specific(kc11: Pressure, mc: Ratio, thickness: Length) -> Pressure {
    let h = thickness.max(Length::si(EDGE)).in_mm();
    kc11 * maths::pow(h, -mc.value())
}
/// Main cutting force of a chip; it falls no further once the chip is thinner than [`EDGE`].
#[must_use]
pub fn main(kc: Pressure, width: Length, thickness: Length) -> Force {
    kc * (width * thickness.max(Length::si(EDGE)))
}
/// Factor for rake: 1.5 % a degree of difference from the rake that the law was measured at.
#[must_use]
pub fn rake_factor(rake: Angle, measured_at: Angle) -> Ratio {
    Ratio::si(1.0 - 0.015 * (rake - measured_at).in_deg())
}
/// Depth that gives main force `force` with everything else kept.
#[must_use]
pub fn depth_for(force: Force, kc: Pressure, feed: Length) -> Length {
    force / kc / feed
}

/// Angle of the chord of a rounded point: the angle that the edge really cuts at.
///
/// With `depth` less than the rounding reaches (r (1 − cos κ)) only the arc cuts; beyond, arc and straight edge.
/// Half the feed lies behind the point, as far as the rounding reaches; a sharp point gives `approach` itself.
#[must_use]
pub fn chord_angle(nose: Radius, depth: Length, feed: Length, approach: Angle) -> Angle {
    let (r, a) = (nose.value(), depth.value());
    let reach = r * (1.0 - approach.cos());
    let along = if a <= reach {
        maths::sqrt((2.0 * r * a - a * a).max(0.0))
    } else {
        r * approach.sin() + (a - reach) / approach.tan()
    };
    Angle::si(maths::atan2(a, along + (feed.value() / 2.0).min(r)))
}
/// Thrust in the plane of feed and depth: half of the main force.
#[must_use]
pub fn thrust(main: Force) -> Force {
    main * 0.5
}
/// Part of the thrust that pushes tool and work apart, square to the axis.
#[must_use]
pub fn radial(thrust: Force, chord: Angle) -> Force {
    thrust * chord.cos()
}
/// Part of the thrust along the feed.
#[must_use]
pub fn axial(thrust: Force, chord: Angle) -> Force {
    thrust * chord.sin()
}
/// Height of the ridges that a rounded point leaves; `None` when the feed is wider than the point.
#[must_use]
pub fn ridges(nose: Radius, feed: Length) -> Option<Length> {
    let (r, f) = (nose.value(), feed.value());
    let inside = r * r - f * f / 4.0;
    // r − √(r² − f²/4) loses its digits when f is small; the same by multiplying out.
    (inside >= 0.0).then(|| Length::si(f * f / 4.0 / (r + maths::sqrt(inside))))
}

/// Torque of a cut at diameter `d`.
#[must_use]
pub fn torque(main: Force, d: Diameter) -> Torque {
    main * d.radius()
}
/// Power of a cut.
#[must_use]
pub fn power(main: Force, v: Speed) -> Power {
    main * v
}

/// Thickness of the chip of each of two lips.
#[must_use]
pub fn lip_chip(feed: Length, point: Angle) -> Length {
    feed / 2.0 * (point / 2.0).sin()
}
/// Force on each lip of a drill.
#[must_use]
pub fn lip_force(kc: Pressure, d: Diameter, feed: Length) -> Force {
    kc * (d.across() * feed / 4.0)
}
/// Torque of both lips of a drill.
#[must_use]
pub fn lip_torque(lip: Force, d: Diameter) -> Torque {
    lip * d.radius()
}
/// What the torque of the lips is multiplied by for the chisel edge: 1.45 below 3 mm, else 1.
#[must_use]
pub fn chisel_factor(d: Diameter) -> Ratio {
    Ratio::si(if d.in_mm() < 3.0 { 1.45 } else { 1.0 })
}
/// Thrust of a drill: lips, and as much again for the chisel edge.
#[must_use]
pub fn drill_thrust(lip: Force, point: Angle) -> Force {
    lip * (0.6 * 2.0 * (point / 2.0).sin()) * 2.0
}
/// Thrust at which a drill of diameter `d` that stands out by `out` bows.
#[must_use]
pub fn drill_column(d: Diameter, out: Length, e: Pressure) -> Force {
    let i = maths::PI * maths::pow(d.value(), 4.0) / 64.0;
    let free = 0.699 * out.value();
    Force::si(0.55 * maths::PI * maths::PI * e.value() * i / (free * free))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn force_does_not_fall_below_the_edge() {
        let kc = |um: f64| specific(Pressure::n_per_mm2(700.0), Ratio::si(0.27), Length::si(um * 1e-6));
        assert_eq!(kc(1.0), kc(5.0));
        assert!(kc(6.0) < kc(5.0));
        let f = |um: f64| main(kc(um), Length::mm(1.0), Length::si(um * 1e-6));
        assert_eq!(f(1.0), f(5.0));
        assert!(f(6.0) > f(5.0));
    }
    #[test]
    fn chord_joins_arc_and_straight_without_a_step() {
        let (nose, feed, approach) = (Radius::mm(0.4), Length::mm(0.03), Angle::deg(75.0));
        let reach = 0.4 * (1.0 - approach.cos());
        let at = |a: f64| chord_angle(nose, Length::mm(a), feed, approach).in_deg();
        assert!((at(reach * (1.0 - 1e-9)) - at(reach * (1.0 + 1e-9))).abs() < 1e-6);
        let deep = at(1000.0);
        assert!(deep < 75.0 && deep > 74.9, "{deep}");
        let sharp = chord_angle(Radius::ZERO, Length::mm(1.0), feed, approach).in_deg();
        assert!((sharp - 75.0).abs() < 1e-9);
    }
    #[test]
    fn rake_of_brass() {
        assert_eq!(rake_factor(Angle::deg(2.0), Angle::deg(2.0)), Ratio::si(1.0));
        assert!((rake_factor(Angle::ZERO, Angle::deg(2.0)).value() - 1.03).abs() < 1e-12);
    }
    #[test]
    fn a_feed_wider_than_the_point_leaves_no_arc() {
        assert_eq!(ridges(Radius::mm(0.2), Length::mm(0.5)), None);
    }
}
