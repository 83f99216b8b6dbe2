//! Involute teeth: for motion work and winding, where centres may be off.
//!
//! Lengths in modules, angles in radians.

use crate::outline::{Foot, Half, Root, at};
use crate::trace::follow;
use reckon::Source;
use reckon::maths::{PI, acos, atan, cos, sin, tan};
use shape::profile::{SAME, Segment, Sense};

/// The rack.
pub static RACK: Source = Source::memory("ISO 53, basic rack type A")
    .with_formula("α = 20°, h_a = 1.0 m, c = 0.25 m, h_f = 1.25 m, ρ_f = 0.38 m");
/// What an involute does.
pub static INVOLUTE: Source = Source::derived("involutes of two base circles")
    .with_formula("inv α = tan α − α, z_min = 2 (h_a − x)/sin² α");

/// Full-depth pressure angle of the standard rack, 20°.
pub const ANGLE: f64 = PI / 9.0;
const FLANK_ADDENDUM: f64 = 1.0;
const FLANK_DEDENDUM: f64 = 1.25;
const FILLET: f64 = 0.38;

/// tan α − α.
#[must_use]
pub fn inv(angle: f64) -> f64 {
    tan(angle) - angle
}
/// Least number of teeth that a rack does not undercut, as a real number.
#[must_use]
pub fn least_teeth(angle: f64, shift: f64) -> f64 {
    2.0 * (FLANK_ADDENDUM - shift) / (sin(angle) * sin(angle))
}
/// Least shift that saves a wheel from undercut.
#[must_use]
pub fn least_shift(teeth: u32, angle: f64) -> f64 {
    FLANK_ADDENDUM - f64::from(teeth) * sin(angle) * sin(angle) / 2.0
}
/// Play along the pitch circle gained when centres stand wider by `wider`.
#[must_use]
pub fn play(angle: f64, wider: f64) -> f64 {
    2.0 * tan(angle) * wider
}

/// An involute wheel cut by the standard rack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Involute {
    teeth: u32,
    shift: f64,
    angle: f64,
    thin: f64,
    topped: f64,
}
/// What the rack does to a wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sound {
    /// Whole flanks and a land on the tip.
    Sound,
    /// The rack eats into the flanks.
    Undercut {
        /// Least shift that would do.
        shift: f64,
    },
    /// The flanks meet below the tip.
    Pointed {
        /// Radius at which they meet.
        at: f64,
    },
}
impl Sound {
    /// In words.
    #[must_use]
    pub fn says(self) -> String {
        match self {
            Sound::Sound => "whole flanks, a land on every tip".to_owned(),
            Sound::Undercut { shift } => format!("undercut: a shift of at least {shift:.3} m would do"),
            Sound::Pointed { at } => format!("pointed: turn the blank down to a radius under {at:.3} m"),
        }
    }
}

impl Involute {
    /// A wheel of `teeth` with its rack drawn back by `shift`, at a pressure angle.
    #[must_use]
    pub fn new(teeth: u32, shift: f64, angle: f64) -> Involute {
        Involute { teeth, shift, angle, thin: 0.0, topped: 0.0 }
    }
    /// The same with its teeth thinner by `thin` along the pitch circle.
    #[must_use]
    pub fn thinned(mut self, thin: f64) -> Involute {
        self.thin = thin;
        self
    }
    /// The same with its blank turned down by `off` on the radius.
    #[must_use]
    pub fn topped(mut self, off: f64) -> Involute {
        self.topped = off;
        self
    }
    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        self.teeth
    }
    /// Pitch radius.
    #[must_use]
    pub fn pitch_radius(&self) -> f64 {
        f64::from(self.teeth) / 2.0
    }
    /// Base radius.
    #[must_use]
    pub fn base_radius(&self) -> f64 {
        self.pitch_radius() * cos(self.angle)
    }
    /// Tip radius.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        self.pitch_radius() + FLANK_ADDENDUM + self.shift - self.topped
    }
    /// Root radius.
    #[must_use]
    pub fn root_radius(&self) -> f64 {
        self.pitch_radius() - FLANK_DEDENDUM + self.shift
    }
    /// Width of a tooth along the pitch circle.
    #[must_use]
    pub fn tooth(&self) -> f64 {
        PI / 2.0 + 2.0 * self.shift * tan(self.angle) - self.thin
    }
    /// Half-angle of the tooth where the involute leaves the base circle, and below.
    #[must_use]
    pub fn base_half_angle(&self) -> f64 {
        self.tooth() / (2.0 * self.pitch_radius()) + inv(self.angle)
    }
    /// Half-angle at a distance from the centre; negative beyond the point of a pointed tooth, `None`
    /// below the root and above the tip.
    #[must_use]
    pub fn half_angle(&self, rho: f64) -> Option<f64> {
        if rho < self.root_radius() - SAME || rho > self.tip_radius() + SAME {
            return None;
        }
        Some(self.unbounded_half(rho))
    }
    fn unbounded_half(&self, rho: f64) -> f64 {
        let base = self.base_radius();
        if rho <= base { self.base_half_angle() } else { self.base_half_angle() - inv(acos(base / rho)) }
    }
    /// Width of the tip along its circle; negative for a pointed tooth.
    #[must_use]
    pub fn tip_width(&self) -> f64 {
        2.0 * self.tip_radius() * self.unbounded_half(self.tip_radius())
    }
    /// Radius at which the flanks would meet.
    #[must_use]
    pub fn point_radius(&self) -> f64 {
        let mut low = self.base_radius();
        let mut high = self.pitch_radius() * 3.0 + 10.0;
        for _ in 0..100 {
            let mid = f64::midpoint(low, high);
            if self.unbounded_half(mid) > 0.0 { low = mid } else { high = mid }
        }
        f64::midpoint(low, high)
    }
    /// Judges the wheel; a pointed tooth is told before an undercut one.
    #[must_use]
    pub fn sound(&self) -> Sound {
        let least = least_shift(self.teeth, self.angle);
        if self.tip_width() < 0.0 {
            Sound::Pointed { at: self.point_radius() }
        } else if self.shift < least - 1e-9 {
            Sound::Undercut { shift: least }
        } else {
            Sound::Sound
        }
    }
    /// Half of a tooth at a module, in millimetres.
    pub(crate) fn half(&self, module: f64, tolerance: f64) -> Half {
        let m = module;
        let (base, root) = (self.base_radius(), self.root_radius());
        let tip = self.tip_radius().min(self.point_radius());
        let (half, step) = (self.base_half_angle(), PI / f64::from(self.teeth));
        // Fillets: tangent to a radius when they leave it below the base circle, else to the involute. An
        // involute moved sideways is an involute again: the centre lies on it, a fillet above the root.
        let along = |q: f64| ((root + q) * (root + q) - base * base).max(0.0).sqrt();
        let centre_angle = |q: f64| half - (along(q) - q) / base + atan(along(q) / base);
        let radial = |q: f64| (root + q) * (root + q) - q * q <= base * base;
        let mut q = FILLET;
        if !radial(q) && centre_angle(q) > step {
            let (mut low, mut high) = (0.0, q);
            for _ in 0..100 {
                let mid = f64::midpoint(low, high);
                if !radial(mid) && centre_angle(mid) > step { high = mid } else { low = mid }
            }
            q = low;
        }
        let from = if radial(q) {
            base.max(root)
        } else {
            let roll = (along(q) - q) / base;
            base * (1.0 + roll * roll).sqrt()
        };
        let (low, high) = (
            (from * from / (base * base) - 1.0).max(0.0).sqrt(),
            (tip * tip / (base * base) - 1.0).max(0.0).sqrt(),
        );
        let (mut chain, reached) = follow(
            |u| {
                let roll = high + (low - high) * u;
                at(m * base * (1.0 + roll * roll).sqrt(), (half - (roll - atan(roll))).max(0.0))
            },
            tolerance,
        );
        let begin = chain.last().map_or(at(m * from, half), Segment::to);
        if radial(q) {
            let foot = Foot { half, step, root: m * root, top: m * from };
            chain.extend(foot.segments(Root::Fillet(m * q), begin));
        } else if q > 1e-9 {
            let a = centre_angle(q);
            chain.push(Segment::Arc {
                from: begin,
                to: at(m * root, a),
                centre: at(m * (root + q), a),
                radius: m * q,
                sense: Sense::Right,
            });
        }
        Half { count: self.teeth, chain, reached }
    }
}

/// Two involute wheels at their working centres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InvolutePair {
    /// Distance between centres without play.
    pub centres: f64,
    /// Working pressure angle.
    pub angle: f64,
    /// Pitches in contact at once, on the average.
    pub contact_ratio: f64,
    /// Whether contact stays on the involutes of both.
    pub on_flanks: bool,
}
/// Two wheels of one pressure angle in mesh without play; `None` when their shifts do not leave room.
///
/// # Formula
/// inv α_w = inv α + 2 tan α (x₁ + x₂)/(z₁ + z₂); ε = (√(r_a1² − r_b1²) + √(r_a2² − r_b2²) − a sin α_w)/(π cos α).
#[must_use]
pub fn pair(one: &Involute, other: &Involute) -> Option<InvolutePair> {
    let angle = one.angle;
    let sum = f64::from(one.teeth + other.teeth);
    let wanted = inv(angle) + 2.0 * tan(angle) * (one.shift + other.shift) / sum;
    if wanted <= 0.0 {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.4);
    for _ in 0..100 {
        let mid = f64::midpoint(low, high);
        if inv(mid) < wanted { low = mid } else { high = mid }
    }
    let working = f64::midpoint(low, high);
    let centres = sum / 2.0 * cos(angle) / cos(working);
    let reach = |w: &Involute| {
        let (tip, base) = (w.tip_radius(), w.base_radius());
        (tip * tip - base * base).max(0.0).sqrt()
    };
    let line = centres * sin(working);
    Some(InvolutePair {
        centres,
        angle: working,
        contact_ratio: (reach(one) + reach(other) - line) / (PI * cos(angle)),
        on_flanks: reach(one) <= line && reach(other) <= line,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, within: f64) {
        assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
    }
    #[test]
    fn undercut_limits() {
        near(least_teeth(ANGLE, 0.0), 17.097, 0.0005);
        near(least_teeth(14.5 * PI / 180.0, 0.0), 31.903, 0.0005);
        for (z, x) in [(6, 0.649), (8, 0.532), (10, 0.415), (12, 0.298)] {
            near(least_shift(z, ANGLE), x, 0.0005);
        }
        near(play(ANGLE, 1.0), 0.728, 0.0005);
    }
    #[test]
    fn pairs_of_shifted_wheels() {
        let (p, w) = (Involute::new(8, 0.5321, ANGLE), Involute::new(64, -0.5321, ANGLE));
        near(pair(&p, &w).unwrap().contact_ratio, 1.3521, 0.0001);
        near(p.tip_width(), 0.0395, 0.0001);
        let (p, w) = (Involute::new(12, 0.3, ANGLE), Involute::new(96, -0.3, ANGLE));
        near(pair(&p, &w).unwrap().contact_ratio, 1.5348, 0.0001);
        near(pair(&p, &w).unwrap().centres, 54.0, 1e-9);
    }
    #[test]
    fn verdicts() {
        assert!(matches!(Involute::new(6, 0.649, ANGLE).sound(), Sound::Pointed { .. }));
        assert!(matches!(Involute::new(12, 0.0, ANGLE).sound(), Sound::Undercut { .. }));
        assert_eq!(Involute::new(12, 0.3, ANGLE).sound(), Sound::Sound);
    }
}
