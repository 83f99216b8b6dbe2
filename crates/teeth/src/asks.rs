//! Questions that this crate answers.

use crate::curve::{Form, LeafProfile, Unfit};
use reckon::ask::{Param, Readable, need, or};
use reckon::trouble::nearest;
use reckon::{Ask, Book, Count, Given, Trouble, Val};

mod contact;
mod crossing;
mod form;
mod involute;
mod sizes;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let groups = [contact::ASKS, form::ASKS, sizes::ASKS, involute::ASKS, crossing::ASKS];
    groups.into_iter().flatten().collect()
}

type Done = Result<(), Trouble>;

/// A question's card.
const fn ask(
    name: &'static str,
    says: &'static str,
    takes: &'static [Param],
    gives: &'static [&'static str],
    example: &'static str,
    run: fn(&Given<'_>, &mut Book) -> Done,
) -> Ask {
    Ask { name, says, takes, gives, example, run }
}
/// Most teeth that a question takes: beyond it no clock goes, and curves lose their digits.
const MOST: i64 = 2000;

/// A number of teeth, from `least`.
fn teeth(g: &Given<'_>, book: &mut Book, name: &str, least: i64) -> Result<(Val<Count>, u32), Trouble> {
    let n = g.count(book, name)?;
    match u32::try_from(n.bare().0) {
        Ok(plain) if (least..=MOST).contains(&n.bare().0) => Ok((n, plain)),
        _ => Err(g.trouble(name, format!("'{name}' must lie between {least} and {MOST}"))),
    }
}
/// A quantity that must be more than nothing.
fn more<T: Readable + Default + PartialOrd>(
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
fn within<T: Readable + PartialOrd>(
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
/// One of a few words.
fn one_of<T: Copy>(g: &Given<'_>, name: &str, words: &[(&'static str, T)]) -> Result<T, Trouble> {
    let word = g.word(name)?;
    if let Some((_, t)) = words.iter().find(|(w, _)| *w == word.trim()) {
        return Ok(*t);
    }
    let all: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
    let t = g.trouble(name, format!("'{word}' is not a word for '{name}'"));
    Err(match nearest(word.trim(), all.iter().copied()).first() {
        Some(n) => t.cure(format!("did you mean '{n}'?")),
        None => t.cure(format!("one of: {}", all.join(", "))),
    })
}
const FORM: Param = or("form", "ogive", "ogive, closer ogive or epicycloid");
fn form_of(g: &Given<'_>) -> Result<Form, Trouble> {
    let words =
        [("ogive", Form::Ogive), ("closer ogive", Form::CloserOgive), ("epicycloid", Form::Epicycloid)];
    one_of(g, "form", &words)
}
const PROFILE: Param = or("profile", "usual", "rounding of the leaves: A, B, C, or usual for their number");
fn profile_of(g: &Given<'_>, leaves: u32) -> Result<LeafProfile, Trouble> {
    let words = [
        ("usual", LeafProfile::usual(leaves)),
        ("A", LeafProfile::A),
        ("B", LeafProfile::B),
        ("C", LeafProfile::C),
    ];
    one_of(g, "profile", &words)
}
/// A form that cannot be drawn, laid at a parameter.
fn fit<T>(g: &Given<'_>, name: &str, made: Result<T, Unfit>) -> Result<T, Trouble> {
    made.map_err(|e| g.trouble(name, e.to_string()))
}
const WHEEL: Param = need("wheel", "teeth of the wheel");
const PINION: Param = need("pinion", "leaves of the pinion it drives");
const MODULE: Param = need("module", "pitch diameter for each tooth");

#[cfg(test)]
mod tests;
