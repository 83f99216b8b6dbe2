//! What most questions take: quantities between bounds, and one of a few words.

use super::{Ask, Given, Param, Readable};
use crate::trouble::{Trouble, nearest};
use crate::workings::{Book, Val};

/// What the working of a question comes to.
pub type Done = Result<(), Trouble>;

/// A question's card.
#[must_use]
pub const fn ask(
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
///
/// # Errors
/// When it cannot be read, or is not more than nothing.
pub fn more<T: Readable + Default + PartialOrd>(
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
/// A quantity that must not be less than nothing.
///
/// # Errors
/// When it cannot be read, or is less than nothing.
pub fn some<T: Readable + Default + PartialOrd>(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
) -> Result<Val<T>, Trouble> {
    let v = g.take::<T>(book, name)?;
    if v.bare() >= T::default() {
        Ok(v)
    } else {
        Err(g.trouble(name, format!("'{name}' must not be less than nothing")))
    }
}
/// A quantity that must lie between two bounds, which are themselves allowed.
///
/// # Errors
/// When it cannot be read, or lies outside.
pub fn within<T: Readable + PartialOrd>(
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
///
/// # Errors
/// When the word is none of them: the nearest is told, or all.
pub fn one_of<T: Copy>(g: &Given<'_>, name: &str, words: &[(&'static str, T)]) -> Result<T, Trouble> {
    let word = g.word(name)?;
    if let Some((_, t)) = words.iter().find(|(w, _)| *w == word.trim()) {
        return Ok(*t);
    }
    let all: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
    Err(not_among(g, name, &word, &all))
}
/// Yes or no.
///
/// # Errors
/// When the word is neither.
pub fn yes(g: &Given<'_>, name: &str) -> Result<bool, Trouble> {
    one_of(g, name, &[("yes", true), ("no", false)])
}
/// The trouble of a word that is none of those known: the nearest is told, or all.
#[must_use]
pub fn not_among(g: &Given<'_>, name: &str, word: &str, all: &[&str]) -> Trouble {
    let t = g.trouble(name, format!("'{word}' is not a word for '{name}'"));
    match nearest(word.trim(), all.iter().copied()).first() {
        Some(n) => t.cure(format!("did you mean '{n}'?")),
        None => t.cure(format!("one of: {}", all.join(", "))),
    }
}
