//! Limits and fits after ISO 286, from 1 mm to 50 mm.
//!
//! A size, a letter and a grade give two limits: `8 h6`, `8 H7`. A hole and a shaft
//! of one size make a fit: `8 H7/g6`. Capitals are holes, small letters shafts.
//! The tables are looked up, never the formulas behind them: those round to the
//! tables only by hand (see [`formula`]).
//!
//! ```
//! let fit = tables::fit::find("6 H7/g6").unwrap();
//! assert_eq!(format!("{:.0}", fit.clearance_max.in_mm() * 1000.0), "24");
//! let shaft = tables::fit::limits("50 g6").unwrap();
//! assert_eq!(format!("{:.3}", shaft.largest().in_mm()), "49.991");
//! ```

mod asks;
pub mod formula;
mod written;

pub use asks::ASKS;
pub use written::{Asked, Zone, read};

use crate::load::{DataFault, Row, Sheet};
use reckon::{Band, Book, Length, Source, Trouble, Val, work};
use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::LazyLock;

/// Upper ends of the ranges of nominal size, in millimetres; the first begins at [`SMALLEST`].
pub const RANGES: [&str; 9] = ["3", "6", "10", "14", "18", "24", "30", "40", "50"];
const RANGE_ENDS: [f64; 9] = [3.0, 6.0, 10.0, 14.0, 18.0, 24.0, 30.0, 40.0, 50.0];
/// Smallest nominal size tabled here, in millimetres.
pub const SMALLEST: f64 = 1.0;
/// Largest nominal size tabled here, in millimetres.
pub const LARGEST: f64 = 50.0;
/// Finest grade tabled here.
pub const FINEST: u8 = 1;
/// Coarsest grade tabled here.
pub const COARSEST: u8 = 14;

/// One row of the tables: a figure for every range, some left empty by the standard.
#[derive(Debug)]
struct Figures {
    by_range: Vec<Option<Length>>,
    source: &'static Source,
}
#[derive(Debug)]
struct Tables {
    grades: BTreeMap<u8, Figures>,
    shaft_upper: BTreeMap<String, Figures>,
    shaft_lower: BTreeMap<String, Figures>,
    j: BTreeMap<String, Figures>,
    delta: &'static Source,
    mirror: &'static Source,
    width: &'static Source,
    half: &'static Source,
}
static TABLES: LazyLock<Tables> =
    LazyLock::new(|| tables().expect("the embedded table fits.toml is whole; a test reads it"));

fn tables() -> Result<Tables, DataFault> {
    let sheet = Sheet::read("fits.toml", include_str!("../../data/fits.toml"))?;
    let figures = |row: &Row| -> Result<Figures, DataFault> {
        let by_range = RANGES.iter().map(|r| row.quantity_if(r)).collect::<Result<_, _>>()?;
        Ok(Figures { by_range, source: row.source })
    };
    let by_word = |table: &str, head: &str| -> Result<BTreeMap<String, Figures>, DataFault> {
        sheet.rows(table)?.iter().map(|row| Ok((row.word(head)?.to_owned(), figures(row)?))).collect()
    };
    let mut grades = BTreeMap::new();
    for row in sheet.rows("grade")? {
        let it = row.number("it")?;
        let known = (FINEST..=COARSEST).find(|g| (f64::from(*g) - it).abs() < 0.5);
        grades.insert(known.ok_or_else(|| row.fault("no such grade"))?, figures(&row)?);
    }
    Ok(Tables {
        grades,
        shaft_upper: by_word("shaft_upper", "letter")?,
        shaft_lower: by_word("shaft_lower", "letter")?,
        j: by_word("j", "zone")?,
        delta: sheet.source("delta")?,
        mirror: sheet.source("mirror")?,
        width: sheet.source("width")?,
        half: sheet.source("half")?,
    })
}

/// Where a nominal size lies among the ranges.
fn range(nominal: Length) -> Option<usize> {
    let mm = nominal.in_mm();
    // A size read from text may miss its decimal by the last bit of an f64.
    let slack = 1e-9;
    if mm < SMALLEST - slack { None } else { RANGE_ENDS.iter().position(|end| mm <= end + slack) }
}
/// "over 3 up to 6 mm", for a row of the book.
fn range_text(index: usize) -> String {
    match index {
        0 => format!("up to {} mm", RANGES[0]),
        i => format!("over {} up to {} mm", RANGES[i - 1], RANGES[i]),
    }
}
/// Letters of shafts in the order of their deviations, loosest first.
#[must_use]
pub fn letters() -> Vec<&'static str> {
    let mut all: Vec<&str> = TABLES.shaft_upper.keys().map(String::as_str).collect();
    all.extend(["js", "j"]);
    all.extend(TABLES.shaft_lower.keys().map(String::as_str));
    all
}

/// Limits of one part of a fit, with their workings.
#[derive(Copy, Clone, Debug)]
pub struct Limits {
    /// The size that both parts are named by.
    pub nominal: Val<Length>,
    /// Upper deviation from nominal.
    pub upper: Val<Length>,
    /// Lower deviation from nominal.
    pub lower: Val<Length>,
    /// Width of the tolerance.
    pub width: Val<Length>,
}
impl Limits {
    /// As plain limits, for drawing and comparing.
    #[must_use]
    pub fn band(&self) -> Band {
        Band { nominal: self.nominal.bare(), upper: self.upper.bare(), lower: self.lower.bare() }
    }
}

/// Limits of a zone at a nominal size, written in the book under `name` (`name.upper`, `name.lower`, …).
///
/// # Errors
/// When the size or grade is not tabled, or the standard has no such zone at this size.
pub fn worked(
    book: &mut Book,
    name: impl Display,
    nominal: Val<Length>,
    zone: &Zone,
) -> Result<Limits, Trouble> {
    Worker { book, name: name.to_string(), nominal, zone }.limits()
}

/// A fit of a hole and a shaft, worked out.
#[derive(Copy, Clone, Debug)]
pub struct WorkedFit {
    /// The hole.
    pub hole: Limits,
    /// The shaft.
    pub shaft: Limits,
    /// Smallest hole on the largest shaft; negative where they interfere.
    pub clearance_min: Val<Length>,
    /// Largest hole on the smallest shaft.
    pub clearance_max: Val<Length>,
}
/// A fit in the book: `name.hole.upper`, `name.shaft.lower`, `name.clearance_min`, ….
///
/// # Errors
/// As [`worked`].
pub fn worked_fit(
    book: &mut Book,
    name: &str,
    nominal: Val<Length>,
    hole: &Zone,
    shaft: &Zone,
) -> Result<WorkedFit, Trouble> {
    let dot = if name.is_empty() { String::new() } else { format!("{name}.") };
    let hole = worked(book, format!("{dot}hole"), nominal, hole)?;
    let shaft = worked(book, format!("{dot}shaft"), nominal, shaft)?;
    let (hole_lower, shaft_upper) = (hole.lower, shaft.upper);
    let (hole_upper, shaft_lower) = (hole.upper, shaft.lower);
    let fit = &reckon::source::GEOMETRY;
    let clearance_min =
        work!(book, format!("{dot}clearance_min"), |hole_lower, shaft_upper| hole_lower - shaft_upper, fit);
    let clearance_max =
        work!(book, format!("{dot}clearance_max"), |hole_upper, shaft_lower| hole_upper - shaft_lower, fit);
    Ok(WorkedFit { hole, shaft, clearance_min, clearance_max })
}

/// How a fit sits.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Sits {
    /// The shaft always goes in.
    Clearance,
    /// It depends on the pair.
    Transition,
    /// The shaft is always the larger.
    Interference,
}
impl Sits {
    /// From the smallest and largest clearance.
    #[must_use]
    pub fn of(least: Length, most: Length) -> Sits {
        if least >= Length::ZERO {
            Sits::Clearance
        } else if most <= Length::ZERO {
            Sits::Interference
        } else {
            Sits::Transition
        }
    }
    /// As printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Sits::Clearance => "clearance fit",
            Sits::Transition => "transition fit",
            Sits::Interference => "interference fit",
        }
    }
}

/// A fit as plain limits.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Fit {
    /// The hole.
    pub hole: Band,
    /// The shaft.
    pub shaft: Band,
    /// Smallest hole on the largest shaft; negative where they interfere.
    pub clearance_min: Length,
    /// Largest hole on the smallest shaft.
    pub clearance_max: Length,
    /// How it sits.
    pub sits: Sits,
}

/// Looks up a fit such as `8 H7/g6`, without a book.
///
/// # Errors
/// When the text is not a fit, or what it asks is not tabled.
pub fn find(text: &str) -> Result<Fit, Trouble> {
    let asked = read(text)?;
    let (Some(hole), Some(shaft)) = (&asked.hole, &asked.shaft) else {
        return Err(Trouble::text(format!("'{text}' names one part of a fit"))
            .cure(format!("write the hole and the shaft: {} H7/g6", asked.size)));
    };
    let mut book = Book::off();
    let nominal = book.assumed("nominal", asked.nominal, "");
    let fit = worked_fit(&mut book, "", nominal, hole, shaft)?;
    let (least, most) = (fit.clearance_min.bare(), fit.clearance_max.bare());
    Ok(Fit {
        hole: fit.hole.band(),
        shaft: fit.shaft.band(),
        clearance_min: least,
        clearance_max: most,
        sits: Sits::of(least, most),
    })
}
/// Looks up the limits of one part such as `8 h6` or `8 H7`, without a book.
///
/// # Errors
/// When the text is not a size with one zone, or what it asks is not tabled.
pub fn limits(text: &str) -> Result<Band, Trouble> {
    let asked = read(text)?;
    let zone = asked.only()?;
    let mut book = Book::off();
    let nominal = book.assumed("nominal", asked.nominal, "");
    Ok(worked(&mut book, "", nominal, zone)?.band())
}

struct Worker<'b> {
    book: &'b mut Book,
    name: String,
    nominal: Val<Length>,
    zone: &'b Zone,
}
impl Worker<'_> {
    fn limits(&mut self) -> Result<Limits, Trouble> {
        let at = range(self.nominal.bare()).ok_or_else(|| self.outside())?;
        let width = self.grade(at, self.zone.grade, "width")?;
        self.allowed_at_one_millimetre()?;
        let shaft_letter = self.zone.letter.to_lowercase();
        let t = &*TABLES;
        let (upper, lower) = if shaft_letter == "js" {
            let upper = work!(self.book, self.dot("upper"), |width| width / 2.0, t.half);
            let lower = work!(self.book, self.dot("lower"), |width| -width / 2.0, t.half);
            (upper, lower)
        } else if shaft_letter == "j" {
            self.j(at, width)?
        } else if let Some(row) = t.shaft_upper.get(&shaft_letter) {
            self.loose(at, row, &shaft_letter, width)?
        } else if let Some(row) = t.shaft_lower.get(&shaft_letter) {
            if self.zone.hole {
                self.tight_hole(at, row, &shaft_letter, width)?
            } else {
                self.tight_shaft(at, row, &shaft_letter, width)?
            }
        } else {
            return Err(self.zone.unknown_letter());
        };
        Ok(Limits { nominal: self.nominal, upper, lower, width })
    }
    fn dot(&self, last: &str) -> String {
        if self.name.is_empty() { last.to_owned() } else { format!("{}.{last}", self.name) }
    }
    fn outside(&self) -> Trouble {
        Trouble::text(format!("{} has no limits here", self.nominal.shown()))
            .why(format!("fits are tabled from {SMALLEST} mm to {LARGEST} mm"))
            .cure("give the two limits themselves, for example 6.00 +0.00/-0.02 mm")
    }
    fn none_at(&self, at: usize, letter: &str) -> Trouble {
        let have: Vec<&str> = letters()
            .into_iter()
            .filter(|l| {
                let row = TABLES.shaft_upper.get(*l).or_else(|| TABLES.shaft_lower.get(*l));
                row.is_none_or(|r| r.by_range[at].is_some())
            })
            .collect();
        Trouble::text(format!("the standard has no {letter} for sizes {}", range_text(at)))
            .cure(format!("letters for this size: {}", have.join(" ")))
    }
    fn tabled(
        &mut self,
        at: usize,
        row: &Figures,
        row_text: &str,
        last: &str,
    ) -> Result<Val<Length>, Trouble> {
        let figure = row.by_range[at].ok_or_else(|| self.none_at(at, row_text))?;
        let name = self.dot(last);
        Ok(self.book.tabled(name, figure, format!("{row_text}, {}", range_text(at)), row.source))
    }
    fn grade(&mut self, at: usize, grade: u8, last: &str) -> Result<Val<Length>, Trouble> {
        let row = TABLES.grades.get(&grade).ok_or_else(|| self.zone.unknown_grade())?;
        self.tabled(at, row, &format!("IT{grade}"), last)
    }
    /// Notes of the standard on sizes up to and including 1 mm.
    fn allowed_at_one_millimetre(&self) -> Result<(), Trouble> {
        let z = self.zone;
        let wide = matches!(z.letter.as_str(), "a" | "b" | "A" | "B")
            || z.grade >= 14
            || (z.letter == "N" && z.grade > 8);
        if wide && self.nominal.bare().in_mm() <= 1.0 + 1e-9 {
            return Err(Trouble::text(format!("the standard has no {z} for sizes up to 1 mm"))
                .cure("take a finer grade or a closer letter"));
        }
        Ok(())
    }
    /// a to h and A to H: clear of nominal, holes the mirror of shafts.
    fn loose(
        &mut self,
        at: usize,
        row: &Figures,
        letter: &str,
        width: Val<Length>,
    ) -> Result<(Val<Length>, Val<Length>), Trouble> {
        let t = &*TABLES;
        if !self.zone.hole {
            let upper = self.tabled(at, row, letter, "upper")?;
            let lower = work!(self.book, self.dot("lower"), |upper, width| upper - width, t.width);
            return Ok((upper, lower));
        }
        let lower = if letter == "h" {
            self.tabled(at, row, "H", "lower")?
        } else {
            let shaft = self.tabled(at, row, letter, "mirrored")?;
            work!(self.book, self.dot("lower"), |shaft| -shaft, t.mirror)
        };
        let upper = work!(self.book, self.dot("upper"), |lower, width| lower + width, t.width);
        Ok((upper, lower))
    }
    /// k to x: the lower deviation is tabled.
    fn tight_shaft(
        &mut self,
        at: usize,
        row: &Figures,
        letter: &str,
        width: Val<Length>,
    ) -> Result<(Val<Length>, Val<Length>), Trouble> {
        let lower = if letter == "k" && !(4..=7).contains(&self.zone.grade) {
            let name = self.dot("lower");
            self.book.tabled(name, Length::ZERO, "k in grades other than 4 to 7", row.source)
        } else {
            self.tabled(at, row, letter, "lower")?
        };
        let upper = work!(self.book, self.dot("upper"), |lower, width| lower + width, TABLES.width);
        Ok((upper, lower))
    }
    /// K to X: the mirror of the shaft, moved by Δ in the finer grades so that fits of either basis agree.
    fn tight_hole(
        &mut self,
        at: usize,
        row: &Figures,
        letter: &str,
        width: Val<Length>,
    ) -> Result<(Val<Length>, Val<Length>), Trouble> {
        let t = &*TABLES;
        let grade = self.zone.grade;
        let push = matches!(letter, "k" | "m" | "n");
        let moved = grade <= if push { 8 } else { 7 };
        if letter == "k" && !moved && at > 0 {
            return Err(Trouble::text(format!("the standard has no K{grade} for sizes {}", range_text(at)))
                .cure("K goes to grade 8; JS or H are near to it in coarse grades"));
        }
        if moved && at > 0 && grade < 3 {
            return Err(Trouble::text(format!(
                "the standard has no {} for sizes {}",
                self.zone,
                range_text(at)
            ))
            .cure("K to X begin at grade 3"));
        }
        let shaft = if letter == "n" && !moved && at > 0 {
            let name = self.dot("mirrored");
            self.book.tabled(name, Length::ZERO, "N in grades over 8", row.source)
        } else {
            self.tabled(at, row, letter, "mirrored")?
        };
        let delta = if moved && at > 0 {
            let finer = self.grade(at, grade - 1, "finer")?;
            work!(self.book, self.dot("delta"), |width, finer| width - finer, t.delta)
        } else {
            let why = if at == 0 { "Δ up to 3 mm" } else { "Δ in coarse grades" };
            let name = self.dot("delta");
            self.book.tabled(name, Length::ZERO, why, t.delta)
        };
        let upper = work!(self.book, self.dot("upper"), |delta, shaft| delta - shaft, t.delta);
        let lower = work!(self.book, self.dot("lower"), |upper, width| upper - width, t.width);
        Ok((upper, lower))
    }
    /// j and J stand in the table grade by grade.
    fn j(&mut self, at: usize, width: Val<Length>) -> Result<(Val<Length>, Val<Length>), Trouble> {
        let t = &*TABLES;
        let zone = self.zone.to_string();
        let Some(row) = t.j.get(&zone) else {
            let have: Vec<&str> = t.j.keys().map(String::as_str).collect();
            return Err(Trouble::text(format!("the standard has no {zone}"))
                .cure(format!("there are {}", have.join(" ")))
                .cure("js and JS lie evenly about nominal in every grade"));
        };
        if self.zone.hole {
            let upper = self.tabled(at, row, &zone, "upper")?;
            let lower = work!(self.book, self.dot("lower"), |upper, width| upper - width, t.width);
            Ok((upper, lower))
        } else {
            let lower = self.tabled(at, row, &zone, "lower")?;
            let upper = work!(self.book, self.dot("upper"), |lower, width| lower + width, t.width);
            Ok((upper, lower))
        }
    }
}

#[cfg(test)]
mod tests;
