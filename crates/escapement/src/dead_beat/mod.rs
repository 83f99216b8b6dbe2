//! The dead-beat escapement with pallets about an arbor above the wheel: set out from a few sizes.
//!
//! Plain millimetres and radians, in the plane of [`crate::frame`]; points of the pallets are given as
//! they stand with the pallets in the middle of their swing.

pub mod checks;
pub mod impulse;
pub mod parts;

use crate::as_made::{Corners, Made};
use crate::check::{Amiss, not_negative, positive};
use crate::frame::{TURN, apart, arbor, foot, off_line, on_wheel, turned_about};
use kurbo::Point;
use reckon::Source;
use reckon::maths::{PI, cos};

/// The construction: tangent arms, pallets of equal drop, impulse past the centre by half the lock.
pub static CONSTRUCTION: Source = Source::derived(
    "plane geometry of a dead-beat escapement whose teeth lock where the arm stands square to the wheel's radius",
)
.with_formula("C = R/cos ψ, ψ = (k + ½) p/2, w = p/2 − drop − tip");

/// What a dead-beat escapement is set out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Teeth of the wheel.
    pub teeth: u32,
    /// Whole teeth that the pallets span; half a pitch is added.
    pub span: u32,
    /// Radius of the wheel over its tips.
    pub radius: f64,
    /// Turn of the pallets while a tooth pushes, lock left out of it: from lock corner to let-off.
    pub lift: f64,
    /// Turn of the pallets from landing to the corner.
    pub lock: f64,
    /// Free turn of the wheel.
    pub drop: f64,
    /// Width of a tooth's tip seen from the wheel's arbor.
    pub tip: f64,
    /// Swing from the middle to one side.
    pub arc: f64,
}

/// The escapement as set out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeadBeat {
    /// What it was set out from.
    pub sizes: Sizes,
    /// Angle from tooth to tooth.
    pub pitch: f64,
    /// Half of what the pallets span, seen from the wheel.
    pub half_span: f64,
    /// Centre distance.
    pub centres: f64,
    /// Width of each pallet, seen from the wheel: its turn while it pushes.
    pub width: f64,
    /// Distance from the arbor of the pallets to the middle of the impulse.
    pub arm: f64,
    /// Larger radius of the ring that both nibs are cut from.
    pub outer: f64,
    /// Smaller radius of that ring.
    pub inner: f64,
    /// Impulse before the middle of the swing.
    pub before: f64,
    /// Impulse past the middle of the swing: where the tooth is let off.
    pub past: f64,
    /// Corner where the entry pallet is unlocked.
    pub e1: Point,
    /// Corner where the entry pallet lets off.
    pub e2: Point,
    /// Corner where the exit pallet is unlocked.
    pub x1: Point,
    /// Corner where the exit pallet lets off.
    pub x2: Point,
}

/// One of the two pallets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The one that the teeth come to.
    Entry,
    /// The one that they leave by.
    Exit,
}
impl Side {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Side::Entry => "entry",
            Side::Exit => "exit",
        }
    }
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Side {
        match self {
            Side::Entry => Side::Exit,
            Side::Exit => Side::Entry,
        }
    }
}

/// Angle from tooth to tooth and half the span, refused when the pallets do not fit the wheel.
///
/// # Errors
/// Fewer than 6 teeth, or a span that reaches round a quarter of the wheel on either side.
pub fn span(teeth: u32, span: u32) -> Result<(f64, f64), Amiss> {
    if !(6..=1000).contains(&teeth) {
        return Err(Amiss::new("teeth", "a wheel has between 6 and 1000 teeth"));
    }
    let pitch = TURN / f64::from(teeth);
    let half = (f64::from(span) + 0.5) * pitch / 2.0;
    if half > 80.0 * PI / 180.0 {
        return Err(Amiss::new("span", "so many teeth put the pallets too far from the wheel"));
    }
    Ok((pitch, half))
}

impl DeadBeat {
    /// Sets the escapement out.
    ///
    /// # Formula
    /// p = 2π/z; ψ = (k + ½) p/2; C = R/cos ψ; w = p/2 − drop − tip; the impulse runs from u = (lift − lock)/2
    /// before the middle to v = (lift + lock)/2 past it. Corners are the tips of the tooth turned back with
    /// the pallets: E1 by −u from −(ψ + w/2), E2 by +v from −(ψ − w/2), X1 by +u from ψ − w/2, X2 by −v from ψ + w/2.
    ///
    /// # Errors
    /// Sizes that leave no pallet, or a lock as large as the lift.
    pub fn new(s: Sizes) -> Result<DeadBeat, Amiss> {
        let (_, half_span) = span(s.teeth, s.span)?;
        DeadBeat::planted(s, s.radius / cos(half_span))
    }
    /// Sets it out for arbors that stand at a distance already: locks, lifts and drops as wanted, the teeth then lock
    /// a little off square to the arm.
    ///
    /// # Errors
    /// Sizes that leave no pallet, or a lock as large as the lift.
    pub fn planted(s: Sizes, centres: f64) -> Result<DeadBeat, Amiss> {
        let (pitch, half_span) = span(s.teeth, s.span)?;
        positive("radius", s.radius)?;
        if centres.is_nan() || centres <= s.radius {
            return Err(Amiss::new("radius", "the arbor of the pallets would stand inside the wheel"));
        }
        positive("lift", s.lift)?;
        positive("arc", s.arc)?;
        not_negative("lock", s.lock)?;
        not_negative("drop", s.drop)?;
        not_negative("tip", s.tip)?;
        if s.lift > 0.35 || s.arc > 0.35 {
            let size = if s.lift > 0.35 { "lift" } else { "arc" };
            return Err(Amiss::new(size, "more than 20 degrees is no dead-beat escapement"));
        }
        if s.lock >= s.lift {
            return Err(Amiss::new("lock", "the lock must be less than the lift"));
        }
        let width = pitch / 2.0 - s.drop - s.tip;
        if width <= 0.0 {
            return Err(Amiss::new("drop", "drop and tip leave nothing of half a pitch for the pallet"));
        }
        if width / 2.0 >= half_span {
            return Err(Amiss::new("span", "the two pallets would meet"));
        }
        let (before, past) = ((s.lift - s.lock) / 2.0, (s.lift + s.lock) / 2.0);
        let a = arbor(centres);
        let corner = |alpha: f64, by: f64| turned_about(on_wheel(s.radius, alpha), a, by);
        let e1 = corner(-(half_span + width / 2.0), -before);
        let e2 = corner(-(half_span - width / 2.0), past);
        let x1 = corner(half_span - width / 2.0, before);
        let x2 = corner(half_span + width / 2.0, -past);
        Ok(DeadBeat {
            sizes: s,
            pitch,
            half_span,
            centres,
            width,
            arm: apart(on_wheel(s.radius, half_span), a),
            outer: apart(e1, a),
            inner: apart(x1, a),
            before,
            past,
            e1,
            e2,
            x1,
            x2,
        })
    }
    /// The arbor of the pallets.
    #[must_use]
    pub fn arbor(&self) -> Point {
        arbor(self.centres)
    }
    /// Lock corner and let-off corner of a pallet.
    #[must_use]
    pub fn corners(&self, side: Side) -> (Point, Point) {
        match side {
            Side::Entry => (self.e1, self.e2),
            Side::Exit => (self.x1, self.x2),
        }
    }
    /// Radius of the circle about the pallets' arbor that the impulse plane of a pallet, drawn on, touches.
    #[must_use]
    pub fn tangent_radius(&self, side: Side) -> f64 {
        let (from, to) = self.corners(side);
        off_line(self.arbor(), from, to).abs()
    }
    /// Where it touches that circle.
    #[must_use]
    pub fn tangent_point(&self, side: Side) -> Point {
        let (from, to) = self.corners(side);
        foot(self.arbor(), from, to)
    }
    /// Length of an impulse plane.
    #[must_use]
    pub fn plane(&self, side: Side) -> f64 {
        let (from, to) = self.corners(side);
        apart(from, to)
    }
    /// Depth of the lock along the dead face of a pallet.
    #[must_use]
    pub fn lock_depth(&self, side: Side) -> f64 {
        self.sizes.lock
            * match side {
                Side::Entry => self.outer,
                Side::Exit => self.inner,
            }
    }
    /// How far the let-off corner reaches inside the tip circle when the pallets stand at one end of their swing.
    #[must_use]
    pub fn penetration(&self, side: Side) -> f64 {
        let (p, by) = match side {
            Side::Entry => (self.e2, self.sizes.arc),
            Side::Exit => (self.x2, -self.sizes.arc),
        };
        self.sizes.radius - turned_about(p, self.arbor(), by).to_vec2().hypot2().sqrt()
    }
    /// By how much the angle between wheel radius and pallet arm differs from square where a tooth locks.
    ///
    /// # Formula
    /// ∠OPA − 90°, P the tip of the locked tooth: about −w/2 at the entry, +w/2 at the exit.
    #[must_use]
    pub fn off_square(&self, side: Side) -> f64 {
        let alpha = match side {
            Side::Entry => -(self.half_span + self.width / 2.0),
            Side::Exit => self.half_span - self.width / 2.0,
        };
        let p = on_wheel(self.sizes.radius, alpha);
        let (to_wheel, to_arbor) = (-p.to_vec2(), self.arbor() - p);
        reckon::maths::atan2(to_wheel.cross(to_arbor).abs(), to_wheel.dot(to_arbor)) - PI / 2.0
    }
    /// The corners from the arbor, as they would be measured.
    #[must_use]
    pub fn pallets(&self) -> Corners {
        let a = self.arbor();
        Corners { e1: self.e1 - a, e2: self.e2 - a, x1: self.x1 - a, x2: self.x2 - a }
    }
    /// The escapement as it would be measured if it were made to size.
    #[must_use]
    pub fn made(&self) -> Made {
        Made {
            teeth: self.sizes.teeth,
            radius: self.sizes.radius,
            centres: self.centres,
            tip: self.sizes.tip,
            corners: self.pallets(),
        }
    }
}

#[cfg(test)]
mod tests;
