//! Questions that this crate answers.

mod colour;
mod order;
mod polish;
mod quench;
mod steel;
mod temper;
mod times;
mod warm;

use crate::steel::Steel;
use reckon::ask::{self, Done, Readable, ask, need, not_among, one_of, or, yes};
use reckon::{Ask, Book, Given, Id, Length, Ratio, Source, Temperature, Time, Trouble, Val};

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let groups = [
        steel::ASKS,
        temper::ASKS,
        warm::ASKS,
        quench::ASKS,
        colour::ASKS,
        polish::ASKS,
        order::ASKS,
        times::ASKS,
    ];
    groups.into_iter().flatten().collect()
}

/// A quantity that lies between two bounds, which are themselves allowed; what was taken is noted.
fn within<T: Readable + PartialOrd>(
    g: &Given<'_>,
    book: &mut Book,
    ids: &mut Vec<Id>,
    name: &str,
    (low, high): (T, T),
) -> Result<T, Trouble> {
    let v = ask::within(g, book, name, low, high)?;
    ids.push(v.id());
    Ok(v.bare())
}
/// A temperature in °C. One that no bench reaches is more likely a slip of the scale.
fn celsius(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>, name: &str, high: f64) -> Result<f64, Trouble> {
    let v: Val<Temperature> = g.take(book, name)?;
    let c = v.bare().in_celsius();
    if !(-50.0..=high).contains(&c) {
        return Err(g
            .trouble(name, format!("'{name}' of {} lies outside −50 to {high} °C", v.shown()))
            .cure("which scale? 290 °C is blue, 290 °F is nothing"));
    }
    ids.push(v.id());
    Ok(c)
}
/// A plain number between bounds.
fn number(
    g: &Given<'_>,
    book: &mut Book,
    ids: &mut Vec<Id>,
    name: &str,
    (low, high): (f64, f64),
) -> Result<f64, Trouble> {
    within(g, book, ids, name, (Ratio::si(low), Ratio::si(high))).map(Ratio::value)
}
/// A length between bounds, in mm.
fn mm(
    g: &Given<'_>,
    book: &mut Book,
    ids: &mut Vec<Id>,
    name: &str,
    (low, high): (f64, f64),
) -> Result<f64, Trouble> {
    within(g, book, ids, name, (Length::mm(low), Length::mm(high))).map(Length::in_mm)
}
/// A time between a hundredth of a second and a year, in s.
fn seconds(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>, name: &str) -> Result<f64, Trouble> {
    within(g, book, ids, name, (Time::si(0.01), Time::si(3.2e7))).map(Time::value)
}
/// The steel that was named.
fn steel_of(g: &Given<'_>) -> Result<&'static Steel, Trouble> {
    crate::steel::find(&g.word("steel")?).map_err(|mut t| {
        t.at = g.trouble("steel", "").at;
        t
    })
}
/// A number that was worked out from what `ids` name.
fn put<T: Readable>(book: &mut Book, name: &str, x: f64, how: &str, ids: &[Id], source: &'static Source) {
    book.solved(name, T::from_si(x), (how, 1, 0.0), ids.to_vec(), source);
}
/// A temperature worked out in °C.
fn put_celsius(book: &mut Book, name: &str, c: f64, how: &str, ids: &[Id], source: &'static Source) {
    put::<Temperature>(book, name, c + 273.15, how, ids, source);
}
/// Writes a sentence.
fn says(
    book: &mut Book,
    name: &str,
    text: impl Into<String>,
    rule: &str,
    ids: &[Id],
    source: &'static Source,
) {
    book.chosen(name, text.into(), rule, Vec::new(), ids.to_vec(), source);
}
/// Words as one sentence.
fn joined(all: &[&str]) -> String {
    if all.is_empty() { "nothing".to_owned() } else { all.join("; ") }
}

#[cfg(test)]
mod tests;
