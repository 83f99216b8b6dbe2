//! Taking quantities with bounds.

use reckon::ask::{Param, Readable};
use reckon::{Acceleration, Angle, Ask, Book, Given, Trouble, Val, maths};

use crate::gravity;

pub(super) type Done = Result<(), Trouble>;

/// A question's card.
pub(super) const fn ask(
    name: &'static str,
    says: &'static str,
    takes: &'static [Param],
    gives: &'static [&'static str],
    example: &'static str,
    run: fn(&Given<'_>, &mut Book) -> Done,
) -> Ask {
    Ask { name, says, takes, gives, example, run }
}
/// A quantity that must be more than nothing.
pub(super) fn more<T: Readable + Default + PartialOrd>(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
) -> Result<Val<T>, Trouble> {
    let v = g.take::<T>(book, name)?;
    if v.bare() > T::default() {
        Ok(v)
    } else {
        Err(g.trouble(name, format!("'{name}' must be more than nothing")))
    }
}
/// A quantity that must lie between two bounds, which are themselves allowed.
pub(super) fn within<T: Readable + PartialOrd>(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
    low: T,
    high: T,
) -> Result<Val<T>, Trouble> {
    let v = g.take::<T>(book, name)?;
    if v.bare() >= low && v.bare() <= high {
        Ok(v)
    } else {
        Err(g.trouble(name, format!("'{name}' must lie between {} and {}", low.shown(), high.shown())))
    }
}
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
/// One of a few words.
pub(super) fn one_of<T: Copy>(g: &Given<'_>, name: &str, words: &[(&'static str, T)]) -> Result<T, Trouble> {
    let word = g.word(name)?;
    if let Some((_, t)) = words.iter().find(|(w, _)| *w == word.trim()) {
        return Ok(*t);
    }
    let all: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
    Err(g
        .trouble(name, format!("'{word}' is not a word for '{name}'"))
        .cure(format!("one of: {}", all.join(", "))))
}
/// Standard gravity as text of a default.
pub(super) const STANDARD: &str = "9.80665 m/s2";

/// Degrees, where a rate is wanted for one.
pub(super) const DEGREE: f64 = maths::PI / 180.0;

/// The ellipsoids by name.
pub(super) static EARTHS: [(&str, &gravity::Earth); 2] =
    [("WGS84", &gravity::WGS84), ("GRS80", &gravity::GRS80)];
