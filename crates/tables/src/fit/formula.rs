//! The formulas behind the tables of ISO 286, kept to check them.
//!
//! Nothing is made to these: the standard rounds them by rules and by hand, and the table rules.
//! They show a mistyped row, and where the two differ.

use super::{RANGE_ENDS, TABLES, Worker, Zone};
use crate::load::{DataFault, Sheet};
use reckon::{Book, Length, Ratio, Source, Trouble, Val, maths, work};
use std::collections::BTreeMap;
use std::sync::LazyLock;

#[derive(Debug)]
struct Formulas {
    units: BTreeMap<u8, Ratio>,
    powers: BTreeMap<String, (Ratio, Ratio)>,
    unit: &'static Source,
    power: &'static Source,
    m: &'static Source,
    u: &'static Source,
}
static FORMULAS: LazyLock<Formulas> =
    LazyLock::new(|| formulas().expect("the embedded table fits.toml is whole; a test reads it"));

fn formulas() -> Result<Formulas, DataFault> {
    let sheet = Sheet::read("fits.toml", include_str!("../../data/fits.toml"))?;
    let mut units = BTreeMap::new();
    for row in sheet.rows("units_of_grade")? {
        let it = row.number("it")?;
        let grade = (5..=14).find(|g| (f64::from(*g) - it).abs() < 0.5);
        units.insert(grade.ok_or_else(|| row.fault("no such grade"))?, row.quantity("units")?);
    }
    let powers = sheet.rows("powers")?;
    let powers = powers
        .iter()
        .map(|row| Ok((row.word("letter")?.to_owned(), (row.quantity("factor")?, row.quantity("power")?))))
        .collect::<Result<_, DataFault>>()?;
    Ok(Formulas {
        units,
        powers,
        unit: sheet.source("unit")?,
        power: sheet.source("formula")?,
        m: sheet.source("m")?,
        u: sheet.source("u")?,
    })
}

/// Letters that have one formula.
#[must_use]
pub fn letters() -> Vec<&'static str> {
    FORMULAS.powers.keys().map(String::as_str).chain(["m", "u"]).collect()
}

/// Ends of the range that a formula takes: some letters divide the standard's main ranges in two.
fn ends(at: usize, divided: bool) -> (f64, f64) {
    let upper = if divided { RANGE_ENDS[at] } else { [3., 6., 10., 18., 18., 30., 30., 50., 50.][at] };
    let lower = if divided {
        if at == 0 { 1.0 } else { RANGE_ENDS[at - 1] }
    } else {
        [1., 3., 6., 10., 10., 18., 18., 30., 30.][at]
    };
    (lower, upper)
}

/// Geometric mean of a range.
fn mean_of(book: &mut Book, dot: &str, (low, high): (f64, f64)) -> Val<Length> {
    let f = &*FORMULAS;
    let range = format!("range {low} to {high} mm");
    let from = book.tabled(format!("{dot}range.over"), Length::mm(low), range.as_str(), f.unit);
    let upto = book.tabled(format!("{dot}range.upto"), Length::mm(high), range.as_str(), f.unit);
    let name = format!("{dot}mean");
    work!(book, name, |from, upto| Length::mm(maths::sqrt(from.in_mm() * upto.in_mm())), f.unit)
}

/// What a formula gives: mean size of the range, tolerance unit, width and deviation, unrounded.
#[derive(Copy, Clone, Debug)]
pub struct ByFormula {
    /// Geometric mean of the range of sizes.
    pub mean: Val<Length>,
    /// Standard tolerance unit.
    pub unit: Val<Length>,
    /// Width of the grade.
    pub width: Val<Length>,
    /// Deviation of the shaft letter nearest to nominal.
    pub deviation: Val<Length>,
}

/// Works out a shaft zone by formula; names are `mean`, `unit`, `width_by_formula`, `deviation_by_formula`.
///
/// # Errors
/// When the size or grade has no formula, or the letter has none of its own.
pub fn worked(book: &mut Book, nominal: Val<Length>, zone: &Zone) -> Result<ByFormula, Trouble> {
    let f = &*FORMULAS;
    let letter = zone.letter.as_str();
    if zone.hole || !letters().contains(&letter) {
        return Err(Trouble::text(format!("the letter {letter} has no formula of its own"))
            .cure(format!("letters of a shaft that have one: {}", letters().join(" "))));
    }
    let worker = Worker { book: &mut *book, name: String::new(), nominal, zone };
    let at = super::range(nominal.bare()).ok_or_else(|| worker.outside())?;
    let Some(units) = f.units.get(&zone.grade) else {
        return Err(Trouble::text(format!("grade {} has no count of tolerance units", zone.grade))
            .cure("grades 5 to 14 have one"));
    };
    let mean = mean_of(book, "", ends(at, false));
    let unit = work!(
        book,
        "unit",
        |mean| Length::mm((0.45 * maths::cbrt(mean.in_mm()) + 0.001 * mean.in_mm()) / 1000.0),
        f.unit
    );
    let units = book.tabled("units", *units, format!("units of IT{}", zone.grade), f.unit);
    let width = work!(book, "width_by_formula", |units, unit| units * unit, f.unit);
    let it = |book: &mut Book, grade: u8| -> Option<Val<Length>> {
        let row = TABLES.grades.get(&grade)?;
        Some(book.tabled(
            format!("it{grade}"),
            row.by_range[at]?,
            format!("IT{grade}, {}", super::range_text(at)),
            row.source,
        ))
    };
    let missing = || Trouble::ours("the table of grades lacks IT6 or IT7");
    let deviation = match f.powers.get(letter) {
        Some((factor, power)) => {
            let factor = book.tabled("factor", *factor, format!("shaft {letter}"), f.power);
            let power = book.tabled("power", *power, format!("shaft {letter}"), f.power);
            work!(
                book,
                "deviation_by_formula",
                |factor, mean, power| factor * Length::mm(maths::pow(mean.in_mm(), power.value()) / 1000.0),
                f.power
            )
        }
        None if letter == "m" => {
            let it6 = it(book, 6).ok_or_else(missing)?;
            let it7 = it(book, 7).ok_or_else(missing)?;
            work!(book, "deviation_by_formula", |it7, it6| it7 - it6, f.m)
        }
        None => {
            let it7 = it(book, 7).ok_or_else(missing)?;
            let mean = mean_of(book, "divided.", ends(at, true));
            work!(book, "deviation_by_formula", |it7, mean| it7 + mean / 1000.0, f.u)
        }
    };
    Ok(ByFormula { mean, unit, width, deviation })
}
