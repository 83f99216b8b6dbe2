//! Taking quantities with bounds.

use reckon::ask::within;
use reckon::{Acceleration, Angle, Book, Given, Trouble, Val, maths};

use crate::gravity;

/// A semi-arc, from no swing at all to nearly upside down.
pub(super) fn arc(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Angle>, Trouble> {
    within(g, book, name, Angle::ZERO, Angle::deg(179.0))
}
/// A semi-arc of a swing that goes on.
pub(super) fn swung(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Angle>, Trouble> {
    let a = arc(g, book, name)?;
    if a.bare() > Angle::ZERO {
        Ok(a)
    } else {
        Err(g.trouble(name, "the pendulum must swing: an arc more than nothing"))
    }
}
/// Gravity, within what any place on earth has and some more.
pub(super) fn pull(g: &Given<'_>, book: &mut Book) -> Result<Val<Acceleration>, Trouble> {
    within(g, book, "gravity", Acceleration::si(9.7), Acceleration::si(9.9))
}
/// Standard gravity as text of a default.
pub(super) const STANDARD: &str = "9.80665 m/s2";

/// Degrees, where a rate is wanted for one.
pub(super) const DEGREE: f64 = maths::PI / 180.0;

/// The ellipsoids by name.
pub(super) static EARTHS: [(&str, &gravity::Earth); 2] =
    [("WGS84", &gravity::WGS84), ("GRS80", &gravity::GRS80)];
