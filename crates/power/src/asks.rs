//! Questions that this crate answers.

mod barrel;
mod budget;
mod fusee;
mod keep;
mod load;
mod pivot;
mod weight;

use crate::budget::Band;
use reckon::ask::{Done, Readable, ask, more, need, one_of, or, some, within, yes};
use reckon::{Ask, Book, Given, Id, Source, Trouble, Val};

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let groups = [barrel::ASKS, fusee::ASKS, weight::ASKS, budget::ASKS, load::ASKS, pivot::ASKS, keep::ASKS];
    groups.into_iter().flatten().collect()
}

/// A whole number of teeth, leaves or parts between bounds.
fn teeth(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
    low: i64,
    high: i64,
) -> Result<Val<reckon::Count>, Trouble> {
    let n = g.count(book, name)?;
    if (low..=high).contains(&n.bare().0) {
        Ok(n)
    } else {
        Err(g.trouble(name, format!("'{name}' must lie between {low} and {high}")))
    }
}
/// A range: one value known for sure, or low, likely and high between commas; none below nothing.
fn range<T: Readable + Default + PartialOrd>(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
) -> Result<(Band, Vec<Id>), Trouble> {
    let all: Vec<Val<T>> = g.take_list(book, name)?;
    let ids = all.iter().map(Val::id).collect();
    let x: Vec<f64> = all.iter().filter_map(|v| v.bare().si()).collect();
    let band = match x.as_slice() {
        [one] => Band::new(*one, *one, *one),
        [low, likely, high] => Band::new(*low, *likely, *high),
        _ => None,
    };
    match band.filter(|b| b.low > 0.0) {
        Some(b) => Ok((b, ids)),
        None => Err(g.trouble(
            name,
            format!("'{name}' is one value, or low, likely and high between commas, all above nothing"),
        )),
    }
}
/// A share: a range of which none is above one.
fn share(g: &Given<'_>, book: &mut Book, name: &str) -> Result<(Band, Vec<Id>), Trouble> {
    let found = range::<reckon::Ratio>(g, book, name)?;
    if found.0.high <= 1.0 {
        Ok(found)
    } else {
        Err(g.trouble(name, format!("no part of '{name}' may be above 1")))
    }
}
/// Writes a range as three lines: `name.low`, `name.likely`, `name.high`.
fn banded<T: Readable>(
    book: &mut Book,
    name: &str,
    band: Band,
    how: &str,
    from: &[Id],
    source: &'static Source,
) {
    for (end, x) in [("low", band.low), ("likely", band.likely), ("high", band.high)] {
        book.solved(format!("{name}.{end}"), T::from_si(x), (how, 1, 0.0), from.to_vec(), source);
    }
}
/// Writes a sentence.
fn says(book: &mut Book, name: &str, text: &str, rule: &str, from: Vec<Id>, source: &'static Source) {
    book.chosen(name, text.to_owned(), rule, Vec::new(), from, source);
}

#[cfg(test)]
mod tests;
