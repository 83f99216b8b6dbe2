//! BS 84: limits of threads of Whitworth form, worked in inches.

use super::limits::{Basics, Limits, NutLimits, no_class};
use super::{Thread, under};
use reckon::{Book, Diameter, Length, Ratio, Source, Trouble, maths, work};

static TOLERANCE: Source =
    Source::memory("BS 84, tolerances").with_formula("T = 0.002 ∛D + 0.003 √L + 0.005 √P, L = D");
static CLASSES: Source = Source::memory("BS 84, classes and allowances");

/// The tolerance that all others of BS 84 follow from, for an engagement of one diameter.
#[must_use]
pub fn tolerance(major: Diameter, pitch: Length) -> Length {
    let (d, p) = (major.across().in_inch(), pitch.in_inch());
    Length::inch(0.002 * maths::cbrt(d) + 0.003 * d.sqrt() + 0.005 * p.sqrt())
}
/// What crest and root get beyond the pitch diameter: `factor` × √P inch.
#[must_use]
pub fn by_root_of_pitch(pitch: Length, factor: Ratio) -> Length {
    Length::inch(pitch.in_inch().sqrt()) * factor
}
/// Limits of a screw of Whitworth form.
pub(super) fn limits(book: &mut Book, prefix: &str, b: &Basics, class: &str) -> Result<Limits, Trouble> {
    let (factor, allowance) = match class {
        "close" => (2.0 / 3.0, 0.0),
        "medium" => (1.0, 0.3),
        "free" => (1.5, 0.3),
        _ => return Err(no_class("Whitworth form", class, "close, medium, free")),
    };
    let name = |n: &str| under(prefix, n);
    let (d, d2, d1, pitch) = (b.major, b.pitch_diameter, b.minor, b.pitch);
    let basis = work!(book, name("tolerance"), |d, pitch| tolerance(d, pitch), &TOLERANCE);
    let k = book.tabled(name("class_factor"), Ratio::si(factor), format!("{class} bolts"), &CLASSES);
    let kb = book.tabled(name("allowance_factor"), Ratio::si(allowance), format!("{class} bolts"), &CLASSES);
    let kd = book.tabled(name("major_tolerance.factor"), Ratio::si(0.01), "bolts", &CLASSES);
    let kr = book.tabled(name("minor_tolerance.factor"), Ratio::si(0.013), "bolts", &CLASSES);
    let below = work!(book, name("allowance"), |basis, kb| basis * kb, &CLASSES);
    let td2 = work!(book, name("pitch_tolerance"), |basis, k| basis * k, &CLASSES);
    let td =
        work!(book, name("major_tolerance"), |td2, pitch, kd| td2 + by_root_of_pitch(pitch, kd), &CLASSES);
    let td1 =
        work!(book, name("minor_tolerance"), |td2, pitch, kr| td2 + by_root_of_pitch(pitch, kr), &CLASSES);
    let major_max = work!(book, name("major_max"), |d, below| d - below, &CLASSES);
    let major_min = work!(book, name("major_min"), |major_max, td| major_max - td, &CLASSES);
    let pitch_max = work!(book, name("pitch_max"), |d2, below| d2 - below, &CLASSES);
    let pitch_min = work!(book, name("pitch_min"), |pitch_max, td2| pitch_max - td2, &CLASSES);
    let minor_max = work!(book, name("minor_max"), |d1, below| d1 - below, &CLASSES);
    let minor_min = work!(book, name("minor_min"), |minor_max, td1| minor_max - td1, &CLASSES);
    Ok(Limits {
        class: class.to_owned(),
        basics: *b,
        major_max,
        major_min,
        pitch_max,
        pitch_min,
        minor_max,
        minor_min: Some(minor_min),
        tabulated: true,
    })
}
/// Limits of a nut of Whitworth form.
pub(super) fn nut_limits(
    book: &mut Book,
    prefix: &str,
    t: &Thread,
    b: &Basics,
    class: &str,
) -> Result<NutLimits, Trouble> {
    let factor = match class {
        "medium" => 1.0,
        "normal" => 1.5,
        _ => return Err(no_class("Whitworth form nut", class, "medium, normal")),
    };
    let more = match t.per_inch.map_or(26, |n| n.0) {
        26.. => 0.004,
        22..26 => 0.005,
        _ => 0.007,
    };
    let name = |n: &str| under(prefix, n);
    let (d, d2, d1, pitch) = (b.major, b.pitch_diameter, b.minor, b.pitch);
    let basis = work!(book, name("tolerance"), |d, pitch| tolerance(d, pitch), &TOLERANCE);
    let k = book.tabled(name("class_factor"), Ratio::si(factor), format!("{class} nuts"), &CLASSES);
    let more = book.tabled(name("minor_tolerance.fixed"), Length::inch(more), "nuts", &CLASSES);
    let td2 = work!(book, name("pitch_tolerance"), |basis, k| basis * k, &CLASSES);
    let td1 = work!(book, name("minor_tolerance"), |pitch, more| pitch * 0.2 + more, &CLASSES);
    Ok(NutLimits {
        class: class.to_owned(),
        basics: *b,
        minor_min: work!(book, name("minor_min"), |d1| d1, &CLASSES),
        minor_max: work!(book, name("minor_max"), |d1, td1| d1 + td1, &CLASSES),
        pitch_min: work!(book, name("pitch_min"), |d2| d2, &CLASSES),
        pitch_max: work!(book, name("pitch_max"), |d2, td2| d2 + td2, &CLASSES),
        major_min: work!(book, name("major_min"), |d| d, &CLASSES),
        tabulated: true,
    })
}
