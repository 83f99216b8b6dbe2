//! What a dead-beat escapement must keep, each figure beside its limit.

use super::{DeadBeat, Side};
use crate::check::{Check, Unit};
use crate::frame::{TURN, turned_about, wheel_angle, wrapped};
use reckon::Source;
use reckon::maths::tan;

/// Limits that the trade keeps.
pub static LIMITS: Source =
    Source::practice("least drop, lock, run and clearances of a dead-beat escapement");

/// A degree in radians.
const DEGREE: f64 = TURN / 360.0;
/// Least free turn of the wheel.
pub const LEAST_DROP: f64 = 0.8 * DEGREE;
/// Most that the two drops may differ.
pub const DROPS_APART: f64 = 0.2 * DEGREE;
/// Least depth of lock along the dead face, millimetres.
pub const LEAST_LOCK: f64 = 0.15;
/// Run beyond the impulse that a swing must keep.
pub const LEAST_RUN: f64 = 0.3 * DEGREE;
/// Room under the nib in the tooth space, millimetres.
pub const UNDER_NIB: f64 = 0.3;
/// Room behind the nib, at the wheel.
pub const BEHIND_NIB: f64 = 0.5 * DEGREE;
/// What the front of the tooth must stand clear of the dead face.
pub const FRONT_CLEAR: f64 = 2.0 * DEGREE;

/// The tooth that the pallets work with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothForm {
    /// Angle of the front behind the wheel's radius, at the tip.
    pub undercut: f64,
    /// Angle of the back behind the wheel's radius, at the tip.
    pub back: f64,
    /// Depth from tip to root.
    pub depth: f64,
    /// Radius in the corners of the gullet.
    pub fillet: f64,
    /// Radius of a hollow back; straight when nothing.
    pub hollow: Option<f64>,
}

impl DeadBeat {
    /// A tooth that suits: front 8° and back 20° behind the radius, deep enough for the nibs.
    #[must_use]
    pub fn usual_tooth(&self) -> ToothForm {
        let deepest = self.penetration(Side::Entry).max(self.penetration(Side::Exit));
        let depth = (deepest + 2.0 * UNDER_NIB).max(0.12 * self.sizes.radius);
        let fillet = 0.012 * self.sizes.radius;
        ToothForm { undercut: 8.0 * DEGREE, back: 20.0 * DEGREE, depth, fillet, hollow: None }
    }
    /// Angle of the wheel between the inner corner of a nib at full swing and the back of the tooth ahead
    /// of the locked one.
    #[must_use]
    pub fn back_clearance(&self, side: Side, tooth: &ToothForm) -> f64 {
        let (_, corner) = self.corners(side);
        let (by, locked) = match side {
            Side::Entry => (self.sizes.arc, -(self.half_span + self.width / 2.0)),
            Side::Exit => (-self.sizes.arc, self.half_span - self.width / 2.0),
        };
        let at = turned_about(corner, self.arbor(), by);
        let depth = self.penetration(side).max(0.0);
        let back = locked + self.pitch - self.sizes.tip - depth * tan(tooth.back) / self.sizes.radius;
        wrapped(back - wheel_angle(at))
    }
    /// All checks: `dead` is the length of the dead faces as an angle about the pallets' arbor, `shake` the
    /// side shake of the pivots.
    #[must_use]
    pub fn checks(&self, tooth: &ToothForm, dead: f64, shake: f64) -> Vec<Check> {
        use Unit::{Angle, Length};
        let s = &self.sizes;
        // What the corners give, not what was asked for, so that the construction is judged and not repeated.
        let found = self.made().evaluated();
        let (out, into) = found.map_or((f64::NAN, f64::NAN), |m| (m.drop_out, m.drop_in));
        let lock = self.lock_depth(Side::Entry).min(self.lock_depth(Side::Exit));
        let deepest = self.penetration(Side::Entry).max(self.penetration(Side::Exit));
        let behind = self.back_clearance(Side::Entry, tooth).min(self.back_clearance(Side::Exit, tooth));
        let square = self.off_square(Side::Entry).abs().max(self.off_square(Side::Exit).abs());
        vec![
            Check::at_least("drop_out", "drop when the entry pallet lets off", out, LEAST_DROP, Angle),
            Check::at_least("drop_in", "drop when the exit pallet lets off", into, LEAST_DROP, Angle),
            Check::at_most("drops_apart", "difference of the drops", (out - into).abs(), DROPS_APART, Angle),
            Check::at_least(
                "lock_depth",
                "lock along the dead face",
                lock,
                LEAST_LOCK.max(2.0 * shake),
                Length,
            ),
            Check::at_least(
                "dead_face",
                "length of the dead faces about the arbor",
                dead,
                s.arc - self.before + LEAST_RUN,
                Angle,
            ),
            Check::at_most(
                "nib_depth",
                "reach of a nib into the tooth space",
                deepest,
                tooth.depth - UNDER_NIB,
                Length,
            ),
            Check::at_least("behind_nib", "room between nib and back of tooth", behind, BEHIND_NIB, Angle),
            Check::at_least(
                "front_clear",
                "front of the tooth clear of the dead face",
                tooth.undercut - square,
                FRONT_CLEAR,
                Angle,
            ),
            Check::told("off_square", "radius and arm out of square at lock", square, Angle),
            Check::at_least("lift_over_lock", "impulse before the middle", self.before, 0.0, Angle),
            Check::at_least(
                "run",
                "swing, against the let-off and a run",
                s.arc,
                self.past + LEAST_RUN,
                Angle,
            ),
        ]
    }
}
