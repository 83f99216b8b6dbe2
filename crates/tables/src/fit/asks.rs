//! Questions on fits.

use super::{Sits, formula, read, worked, worked_fit};
use reckon::ask::need;
use reckon::{Ask, Book, Given, Length, Place, Trouble, Val, work};

/// Questions on limits and fits.
pub static ASKS: &[Ask] = &[
    Ask {
        name: "fit.limits",
        says: "Limits of a hole and its shaft, and the clearance between them, after ISO 286.",
        takes: &[need("fit", "size, hole and shaft, such as 8 H7/g6")],
        gives: &[
            "hole.upper",
            "hole.lower",
            "shaft.upper",
            "shaft.lower",
            "hole_largest",
            "hole_smallest",
            "shaft_largest",
            "shaft_smallest",
            "clearance_min",
            "clearance_max",
            "sits",
        ],
        example: "fit=\"8 H7/g6\"",
        run: fit_limits,
    },
    Ask {
        name: "fit.tolerance",
        says: "Limits of one hole or shaft after ISO 286.",
        takes: &[need("zone", "size, letter and grade, such as 8 h6 or 8 H7")],
        gives: &["upper", "lower", "width", "largest", "smallest"],
        example: "zone=\"8 h6\"",
        run: tolerance,
    },
    Ask {
        name: "fit.formula",
        says: "What the generating formulas of ISO 286 give before rounding, beside the table that rules.",
        takes: &[need("zone", "size, letter and grade of a shaft, such as 8 g6")],
        gives: &["mean", "unit", "width_by_formula", "deviation_by_formula", "tabled.width"],
        example: "zone=\"8 g6\"",
        run: by_formula,
    },
];

/// A trouble that has no place yet gets the place of the parameter.
fn placed(given: &Given<'_>, name: &str, mut t: Trouble) -> Trouble {
    t.at.extend(place(given, name));
    t
}
fn place(given: &Given<'_>, name: &str) -> Option<Place> {
    given.trouble(name, "").at.pop()
}
/// The size out of a text that holds more than a size.
fn nominal(given: &Given<'_>, book: &mut Book, from: &str, size: Length) -> Val<Length> {
    match place(given, from) {
        Some(at) => book.written("nominal", size, at),
        None => book.assumed("nominal", size, "the default of this question"),
    }
}

fn fit_limits(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let text = given.word("fit")?;
    let at = |t| placed(given, "fit", t);
    let asked = read(&text).map_err(at)?;
    let (Some(hole), Some(shaft)) = (&asked.hole, &asked.shaft) else {
        return Err(at(Trouble::text(format!("'{text}' names one part of a fit"))
            .cure(format!("write the hole and the shaft: {} H7/g6", asked.size))
            .cure("for one part ask fit.tolerance")));
    };
    let nominal = nominal(given, book, "fit", asked.nominal);
    let fit = worked_fit(book, "", nominal, hole, shaft).map_err(at)?;
    let (hole_upper, hole_lower) = (fit.hole.upper, fit.hole.lower);
    let (shaft_upper, shaft_lower) = (fit.shaft.upper, fit.shaft.lower);
    let g = &reckon::source::GEOMETRY;
    work!(book, "hole_largest", |nominal, hole_upper| nominal + hole_upper, g);
    work!(book, "hole_smallest", |nominal, hole_lower| nominal + hole_lower, g);
    work!(book, "shaft_largest", |nominal, shaft_upper| nominal + shaft_upper, g);
    work!(book, "shaft_smallest", |nominal, shaft_lower| nominal + shaft_lower, g);
    let (clearance_min, clearance_max) = (fit.clearance_min, fit.clearance_max);
    work!(
        book,
        "sits",
        |clearance_min, clearance_max| Sits::of(clearance_min, clearance_max).text().to_owned(),
        g
    );
    Ok(())
}
fn tolerance(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let at = |t| placed(given, "zone", t);
    let asked = read(&given.word("zone")?).map_err(at)?;
    let zone = asked.only().map_err(at)?;
    let nominal = nominal(given, book, "zone", asked.nominal);
    let limits = worked(book, "", nominal, zone).map_err(at)?;
    let (upper, lower) = (limits.upper, limits.lower);
    let g = &reckon::source::GEOMETRY;
    work!(book, "largest", |nominal, upper| nominal + upper, g);
    work!(book, "smallest", |nominal, lower| nominal + lower, g);
    Ok(())
}
fn by_formula(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let at = |t| placed(given, "zone", t);
    let asked = read(&given.word("zone")?).map_err(at)?;
    let zone = asked.only().map_err(at)?;
    let nominal = nominal(given, book, "zone", asked.nominal);
    formula::worked(book, nominal, zone).map_err(at)?;
    worked(book, "tabled", nominal, zone).map_err(at)?;
    Ok(())
}
