//! Sizes and limits.

use super::shape::thread;
use crate::thread::{ba, basics, ends, form, iso, limits, nut_limits};
use reckon::ask::{need, or};
use reckon::{Angle, Ask, Book, Count, Diameter, Given, Length, Ratio, Source, Trouble, work};

static GEOMETRY: Source = Source::derived("truncated and rounded triangle");
static DEPTH: Source = Source::derived("half of major less root diameter");

pub(super) const BASIC: Ask = Ask {
    name: "thread.basic",
    says: "basic sizes of a thread",
    takes: &[need("thread", "a thread by name, such as M3, 2-56 UNC, 4 BA, 1/8x40 ME")],
    gives: &["name", "family", "major", "pitch", "pitch_diameter", "minor", "root", "depth"],
    example: "thread=M3",
    run: basic,
};
fn basic(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    book.tabled("name", t.name.clone(), t.name.clone(), t.source);
    book.tabled("family", t.form.name.to_owned(), t.name.clone(), t.source);
    let b = basics(book, "", &t);
    let (major, root) = (b.major, b.root);
    work!(book, "depth", |major, root| (major - root) / 2.0, &DEPTH);
    Ok(())
}

pub(super) const LIMITS: Ask = Ask {
    name: "thread.limits",
    says: "limits of a screw thread in a tolerance class",
    takes: &[
        need("thread", "a thread by name"),
        or(
            "class",
            "",
            "tolerance class: 6g, 4g6g; 2A; close, normal; medium, free; left out: the usual one",
        ),
    ],
    gives: &[
        "major_max",
        "major_min",
        "pitch_max",
        "pitch_min",
        "minor_max",
        "minor_min",
        "major_tolerance",
        "pitch_tolerance",
        "allowance",
        "tabulated",
    ],
    example: "thread=M3 class=6g",
    run: screw_limits,
};
static FLAG: Source = Source::practice("whether every tolerance stands in a table of the standard");
fn screw_limits(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    let class = given.word_if("class").unwrap_or_default();
    let l = limits(book, "", &t, class.trim()).map_err(|e| at(given, "class", e))?;
    book.tabled("tabulated", l.tabulated, l.class, &FLAG);
    Ok(())
}
/// The same trouble at the place of a parameter.
fn at(given: &Given<'_>, name: &str, e: Trouble) -> Trouble {
    let place = given.trouble(name, "").at.into_iter().next();
    e.at(place)
}
pub(super) const NUT_LIMITS: Ask = Ask {
    name: "thread.nut_limits",
    says: "limits of a nut or tapped hole in a tolerance class",
    takes: &[
        need("thread", "a thread by name"),
        or("class", "", "tolerance class: 6H, 5H; 2B; normal; medium; left out: the usual one"),
    ],
    gives: &[
        "minor_min",
        "minor_max",
        "pitch_min",
        "pitch_max",
        "major_min",
        "minor_tolerance",
        "pitch_tolerance",
        "tabulated",
    ],
    example: "thread=M3 class=6H",
    run: bore_limits,
};
fn bore_limits(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    let class = given.word_if("class").unwrap_or_default();
    let n = nut_limits(book, "", &t, class.trim()).map_err(|e| at(given, "class", e))?;
    book.tabled("tabulated", n.tabulated, n.class, &FLAG);
    Ok(())
}

pub(super) const BLANK: Ask = Ask {
    name: "thread.blank",
    says: "outside diameter to turn before threading",
    takes: &[
        need("thread", "a thread by name"),
        or("class", "", "tolerance class; left out: the usual one"),
        or("by", "tool", "tool for a single point, die for a die"),
    ],
    gives: &["blank", "major_max", "major_min"],
    example: "thread=M3 by=tool",
    run: blank,
};
fn blank(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    let way = match given.word("by")?.as_str() {
        "tool" => ends::Way::Point,
        "die" => ends::Way::Die,
        other => {
            return Err(given
                .trouble("by", format!("threads are not made by '{other}'"))
                .cure("tool or die"));
        }
    };
    let class = given.word_if("class").unwrap_or_default();
    let l = limits(book, "", &t, class.trim()).map_err(|e| at(given, "class", e))?;
    ends::blank(book, "", &l, way);
    Ok(())
}

pub(super) const FORM: Ask = Ask {
    name: "thread.form",
    says: "triangle, truncation and radius of a thread form of any angle and depth",
    takes: &[
        need("half_angle", "half the angle between the flanks"),
        need("pitch", "pitch"),
        need("depth", "depth of the thread"),
    ],
    gives: &["triangle", "truncation", "radius"],
    example: "half_angle='23.75 deg' pitch='1 mm' depth='0.6 mm'",
    run: any_form,
};
fn any_form(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let a = given.take::<Angle>(book, "half_angle")?;
    let p = super::shape::positive(given, book, "pitch")?;
    let depth = super::shape::positive(given, book, "depth")?;
    if a.bare().in_deg() <= 1.0 || a.bare().in_deg() >= 80.0 {
        return Err(given.trouble("half_angle", "flanks stand between 1° and 80° from square"));
    }
    let h = work!(book, "triangle", |p, a| form::triangle(p, a), &GEOMETRY);
    if h.bare() < depth.bare() {
        return Err(given.trouble("depth", format!("the flanks meet at a depth of {}", h.shown())));
    }
    let s = work!(book, "truncation", |h, depth| form::truncation(h, depth), &GEOMETRY);
    work!(book, "radius", |s, a| form::radius(s, a), &GEOMETRY);
    Ok(())
}

static RULE: Source =
    Source::derived("pitch 0.9ⁿ mm and diameter 6 × pitch^1.2 mm, two figures, against BS 93");
pub(super) const BA_RULE: Ask = Ask {
    name: "thread.ba_rule",
    says: "how many of the 17 BA pitches and diameters the rule of the series gives",
    takes: &[],
    gives: &["pitches", "diameters"],
    example: "",
    run: |_, book| {
        let (pitches, diameters) = ba::rule_agrees();
        book.tabled("pitches", Count(pitches), "0 to 16 BA", &RULE);
        book.tabled("diameters", Count(diameters), "0 to 16 BA", &RULE);
        Ok(())
    },
};

pub(super) const PREFERRED: Ask = Ask {
    name: "thread.preferred",
    says: "nearest preferred number of the R40 series, to which thread tolerances are rounded",
    takes: &[need("value", "a plain number")],
    gives: &["rounded"],
    example: "value=108.9",
    run: |given, book| {
        let value = given.take::<Ratio>(book, "value")?;
        iso::preferred_in_book(book, "rounded", value).map(|_| ())
    },
};

static FORMULAE: Source = Source::memory("ISO 965-1, formulae of grade 6 before rounding");
pub(super) const ISO_TOLERANCES: Ask = Ask {
    name: "thread.iso_tolerances",
    says: "tolerances of ISO 965 by formula, grade 6 and position g, before any rounding",
    takes: &[need("major", "major diameter"), need("pitch", "pitch")],
    gives: &["major_tolerance", "minor_tolerance", "pitch_tolerance", "nut_pitch_tolerance", "deviation"],
    example: "major='3 mm' pitch='0.5 mm'",
    run: iso_tolerances,
};
fn iso_tolerances(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let d = given.take::<Diameter>(book, "major")?;
    let p = super::shape::positive(given, book, "pitch")?;
    if d.bare() <= Diameter::ZERO {
        return Err(given.trouble("major", "a diameter must be more than nothing"));
    }
    work!(book, "major_tolerance", |p| iso::major_tolerance(p), &FORMULAE);
    work!(book, "minor_tolerance", |p| iso::nut_minor_tolerance(p), &FORMULAE);
    work!(book, "pitch_tolerance", |d, p| iso::pitch_tolerance(d, p), &FORMULAE);
    work!(book, "nut_pitch_tolerance", |d, p| iso::nut_pitch_tolerance(d, p), &FORMULAE);
    work!(book, "deviation", |p| Length::mm(0.015) + p * 0.011, &FORMULAE);
    Ok(())
}
