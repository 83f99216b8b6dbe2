//! A dead-beat escapement as things that can be cycled and made.
//!
//! Plain millimetres and radians.

use super::checks::ToothForm;
use super::{DeadBeat, Side};
use crate::as_made::Made;
use crate::check::Amiss;
use crate::cycle::Works;
use crate::frame::arbor;
use crate::outline::{Body, dead_beat_nib, pallets_outline, wheel, wheel_outline};
use shape::profile::Profile;

/// Dead faces long enough for any swing that is cycled.
const LONG: f64 = 0.35;

impl Made {
    /// What was measured as works to be cycled: dead faces about the arbor from the lock corners.
    ///
    /// # Errors
    /// A tooth form that makes no tooth.
    pub fn works(&self, tooth: &ToothForm) -> Result<Works, Amiss> {
        let a = arbor(self.centres);
        let c = &self.corners;
        Ok(Works {
            wheel: wheel(self.teeth, self.radius, self.tip, tooth)?,
            arbor: a,
            entry: dead_beat_nib(Side::Entry, a, a + c.e1, a + c.e2, LONG),
            exit: dead_beat_nib(Side::Exit, a, a + c.x1, a + c.x2, LONG),
        })
    }
}

impl DeadBeat {
    /// The works to be cycled.
    ///
    /// # Errors
    /// A tooth form that makes no tooth.
    pub fn works(&self, tooth: &ToothForm) -> Result<Works, Amiss> {
        self.made().works(tooth)
    }
    /// Outline of the escape wheel.
    ///
    /// # Errors
    /// A tooth form that makes no tooth, or a gullet with no room for its fillets.
    pub fn wheel_outline(&self, tooth: &ToothForm) -> Result<Profile, Amiss> {
        wheel_outline(self.sizes.teeth, self.sizes.radius, self.sizes.tip, tooth)
    }
    /// A body that suits.
    #[must_use]
    pub fn usual_body(&self) -> Body {
        let r = self.sizes.radius;
        Body { arm: 0.1 * r, boss: 0.28 * r, clear: 0.02 * r }
    }
    /// Outline of the pallets, in the middle of their swing, arbor at its place above the wheel; `dead` is the
    /// length of the dead faces as an angle.
    ///
    /// # Errors
    /// Arms that do not clear the wheel, or a boss that does not fit.
    pub fn pallets_outline(&self, dead: f64, body: &Body) -> Result<Profile, Amiss> {
        let a = self.arbor();
        let face = |side| {
            let (lock, off) = self.corners(side);
            vec![shape::segment::Segment::Line { from: lock, to: off }]
        };
        let wheel = (self.sizes.radius, self.sizes.arc);
        pallets_outline(a, &face(Side::Entry), &face(Side::Exit), dead, wheel, body)
    }
}
