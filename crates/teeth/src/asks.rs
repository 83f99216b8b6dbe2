//! Questions that this crate answers.

use crate::curve::{Form, LeafProfile, Unfit};
use reckon::ask::{Done, Param, ask, more, need, one_of, or, within};
use reckon::{Ask, Book, Count, Given, Trouble, Val};

mod contact;
mod crossing;
mod form;
mod involute;
mod pins;
mod sizes;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let groups = [contact::ASKS, form::ASKS, sizes::ASKS, involute::ASKS, crossing::ASKS, pins::ASKS];
    groups.into_iter().flatten().collect()
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
