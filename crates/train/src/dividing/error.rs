//! What an angle is worth at the rim, and what a misplaced or miscounted hole does there.

use reckon::maths::PI;
use reckon::{Angle, Count, Length, Ratio, Source};

/// Arc from angle.
pub static ARC: Source = Source::derived("arc of a small angle").with_formula("s = r angle");
/// A misplaced hole seen through the worm.
pub static THROUGH: Source = Source::derived("the worm divides the error of its plate by its ratio")
    .with_formula("angle = e/(r R); R = 1 for a plate on the spindle");
/// A miscounted hole.
pub static MISCOUNTED: Source = Source::derived("one hole too many or too few")
    .with_formula("angle = 360 deg k/(c R), of a pitch k N/(c R)");

/// The length that an angle is worth at a radius.
#[must_use]
pub fn at_radius(angle: Angle, radius: Length) -> Length {
    radius * angle.value()
}
/// The angle of the spindle for a hole that is out of place by `error` on a circle of `radius`.
#[must_use]
pub fn hole_error(error: Length, radius: Length, ratio: Count) -> Angle {
    Angle::si(error.value() / (radius.value() * ratio.n()))
}
/// What a miscount does.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Miscount {
    /// Turn of the spindle too much.
    pub angle: Angle,
    /// The same as a share of one space of the wheel.
    pub of_pitch: Ratio,
}
/// What `holes` counted too many on a circle do to a wheel of `count`.
#[must_use]
pub fn miscount(holes: Count, circle: Count, ratio: Count, count: Count) -> Miscount {
    let turn = holes.n() / (circle.n() * ratio.n());
    Miscount { angle: Angle::si(2.0 * PI * turn), of_pitch: Ratio::si(turn * count.n()) }
}
