//! Limits of screw and nut, whosever thread it is.

use super::{Family, Thread, ba, iso, under, unified, whitworth};
use reckon::{Book, Diameter, Length, Source, Trouble, Val, work};

static FORMS: Source = Source::read("ISO 68-1, BS 93 and BS 84, multiples of the pitch");

/// Basic sizes of a thread in the book.
#[derive(Copy, Clone, Debug)]
pub struct Basics {
    /// Major diameter.
    pub major: Val<Diameter>,
    /// Pitch.
    pub pitch: Val<Length>,
    /// Pitch diameter, also called effective.
    pub pitch_diameter: Val<Diameter>,
    /// Minor diameter of the nut.
    pub minor: Val<Diameter>,
    /// Root diameter of the screw.
    pub root: Val<Diameter>,
}
/// Limits of a screw in the book.
#[derive(Clone, Debug)]
pub struct Limits {
    /// Tolerance class.
    pub class: String,
    /// Basic sizes, under the same prefix.
    pub basics: Basics,
    /// Outside diameter, largest.
    pub major_max: Val<Diameter>,
    /// Outside diameter, smallest.
    pub major_min: Val<Diameter>,
    /// Pitch diameter, largest.
    pub pitch_max: Val<Diameter>,
    /// Pitch diameter, smallest.
    pub pitch_min: Val<Diameter>,
    /// Root, largest: above it a nut rides on the root.
    pub minor_max: Val<Diameter>,
    /// Root, smallest, where the standard gives one: below it the core is thin.
    pub minor_min: Option<Val<Diameter>>,
    /// Whether every tolerance stands in a table of the standard; otherwise its formula stood in.
    pub tabulated: bool,
}
/// Limits of a nut or tapped hole in the book.
#[derive(Clone, Debug)]
pub struct NutLimits {
    /// Tolerance class.
    pub class: String,
    /// Basic sizes, under the same prefix.
    pub basics: Basics,
    /// Bore before tapping, smallest.
    pub minor_min: Val<Diameter>,
    /// Bore before tapping, largest.
    pub minor_max: Val<Diameter>,
    /// Pitch diameter, smallest.
    pub pitch_min: Val<Diameter>,
    /// Pitch diameter, largest.
    pub pitch_max: Val<Diameter>,
    /// Root of the nut, smallest.
    pub major_min: Val<Diameter>,
    /// Whether every tolerance stands in a table of the standard.
    pub tabulated: bool,
}

/// Basic sizes, written under `prefix`.
pub fn basics(book: &mut Book, prefix: &str, t: &Thread) -> Basics {
    let name = |n: &str| under(prefix, n);
    let row = t.per_inch.map_or_else(|| t.name.clone(), |n| format!("{}: {} to the inch", t.name, n.0));
    let major = book.tabled(name("major"), t.major, t.name.clone(), t.source);
    let pitch = book.tabled(name("pitch"), t.pitch, row, t.source);
    if let (Some(d2), Some(d1)) = (t.tabled_pitch_diameter, t.tabled_minor) {
        let pitch_diameter = book.tabled(name("pitch_diameter"), d2, t.name.clone(), t.source);
        let minor = book.tabled(name("minor"), d1, t.name.clone(), t.source);
        return Basics { major, pitch, pitch_diameter, minor, root: minor };
    }
    let mut drop = |n: &str, k| book.tabled(name(n), k, format!("{} form", t.form.name), &FORMS);
    let k2 = drop("form.pitch_drop", t.form.pitch_drop);
    let k1 = drop("form.nut_drop", t.form.nut_drop);
    let k3 = drop("form.root_drop", t.form.root_drop);
    Basics {
        major,
        pitch,
        pitch_diameter: work!(book, name("pitch_diameter"), |major, pitch, k2| major - pitch * k2, &FORMS),
        minor: work!(book, name("minor"), |major, pitch, k1| major - pitch * k1, &FORMS),
        root: work!(book, name("root"), |major, pitch, k3| major - pitch * k3, &FORMS),
    }
}
/// Limits of the screw in a class, written under `prefix` with its basic sizes; an empty class takes the usual one.
///
/// Classes: ISO `6g`, `6h`, `4g6g`, `6e` …; Unified `1A`, `2A`, `3A`; BA `close`, `normal`;
/// Whitworth form `close`, `medium`, `free`.
///
/// # Errors
/// When the family has no such class.
pub fn limits(book: &mut Book, prefix: &str, t: &Thread, class: &str) -> Result<Limits, Trouble> {
    let class = if class.is_empty() { t.usual_class() } else { class };
    let b = basics(book, prefix, t);
    match t.family {
        Family::Iso => iso::limits(book, prefix, t, &b, class),
        Family::Unified(series) => unified::limits(book, prefix, series, &b, class),
        Family::Ba(number) => ba::limits(book, prefix, number, &b, class),
        Family::Whitworth(_) => whitworth::limits(book, prefix, &b, class),
        Family::Watch => Err(no_limits(t)),
    }
}
/// Limits of the nut in a class, written under `prefix` with its basic sizes; an empty class takes the usual one.
///
/// Classes: ISO `6H`, `5H`, `6G` …; Unified `1B`, `2B`, `3B`; BA `normal`; Whitworth form `medium`, `normal`.
///
/// # Errors
/// When the family has no such class.
pub fn nut_limits(book: &mut Book, prefix: &str, t: &Thread, class: &str) -> Result<NutLimits, Trouble> {
    let class = if class.is_empty() { t.usual_nut_class() } else { class };
    let b = basics(book, prefix, t);
    match t.family {
        Family::Iso => iso::nut_limits(book, prefix, t, &b, class),
        Family::Unified(series) => unified::nut_limits(book, prefix, series, t, &b, class),
        Family::Ba(_) => ba::nut_limits(book, prefix, &b, class),
        Family::Whitworth(_) => whitworth::nut_limits(book, prefix, t, &b, class),
        Family::Watch => Err(no_limits(t)),
    }
}
fn no_limits(t: &Thread) -> Trouble {
    Trouble::text(format!("no limits are known for {}", t.name))
        .why("the standard of miniature threads was not at hand")
        .cure("cut to the basic sizes and try with the mating part")
}
/// A class that the family does not have.
pub(super) fn no_class(family: &str, class: &str, known: &str) -> Trouble {
    Trouble::text(format!("{family} threads have no class '{class}'")).cure(format!("classes: {known}"))
}
