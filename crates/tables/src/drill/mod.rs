//! Twist drills by the names they are sold under.
//!
//! Numbers 97 to 1, letters A to Z, fractions of an inch by sixty-fourths to 1/2 in,
//! and metric steps from 0.2 mm to 13.9 mm.
//!
//! ```
//! use reckon::Diameter;
//! let drill = tables::drill::find("#43").unwrap();
//! assert_eq!(format!("{:.4}", drill.size.across().in_inch()), "0.0890");
//! let near = tables::drill::near(Diameter::mm(2.05), 2);
//! assert_eq!(near[0].name, "2.05 mm");
//! assert_eq!(near[1].name, "#46");
//! ```

mod asks;
pub mod length;

pub use asks::ASKS;

use crate::load::{DataFault, Sheet};
use reckon::{Book, Diameter, Length, Readable, Source, Trouble, Val, text};
use std::fmt::Display;
use std::sync::LazyLock;

/// Which series a drill belongs to.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Series {
    /// Number sizes, `#80` to `#1`.
    Number,
    /// Letter sizes, `A` to `Z`.
    Letter,
    /// Fractions of an inch.
    Fraction,
    /// Millimetres.
    Metric,
}
/// A drill that is sold.
#[derive(Clone, PartialEq, Debug)]
pub struct Drill {
    /// Its name in the trade: `#43`, `F`, `7/64 in`, `2.05 mm`.
    pub name: String,
    /// Its size.
    pub size: Diameter,
    /// Its series.
    pub series: Series,
    /// Whose list.
    pub source: &'static Source,
}
impl Drill {
    /// Its size in the book, as a row of the list.
    pub fn tabled(&self, book: &mut Book, name: impl Display) -> Val<Diameter> {
        book.tabled(name, self.size, format!("drill {}", self.name), self.source)
    }
}

static DRILLS: LazyLock<Vec<Drill>> =
    LazyLock::new(|| drills().expect("the embedded table drills.toml is whole; a test reads it"));

fn drills() -> Result<Vec<Drill>, DataFault> {
    let sheet = Sheet::read("drills.toml", include_str!("../../data/drills.toml"))?;
    let mut all = Vec::new();
    for row in sheet.rows("number")? {
        let mut number = row.number("from")?;
        for column in ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"] {
            if let Some(size) = row.quantity_if(column)? {
                all.push(Drill {
                    name: format!("#{number}"),
                    size,
                    series: Series::Number,
                    source: row.source,
                });
            }
            number -= 1.0;
        }
    }
    for row in sheet.rows("letter")? {
        let (name, size) = (row.word("name")?.to_owned(), row.quantity("size")?);
        all.push(Drill { name, size, series: Series::Letter, source: row.source });
    }
    let source = sheet.source("fraction")?;
    for n in 1..=32_u32 {
        let common = 1 << n.trailing_zeros();
        let size = Diameter::si(f64::from(n) * 254.0 / 640_000.0);
        let name = format!("{}/{} in", n / common, 64 / common);
        all.push(Drill { name, size, series: Series::Fraction, source });
    }
    for row in sheet.rows("metric")? {
        let (from, upto, step) = (row.number("from")?, row.number("upto")?, row.number("step")?);
        let also: Vec<f64> = row.word("also")?.split_whitespace().filter_map(|s| s.parse().ok()).collect();
        let mut at = from;
        while at <= upto {
            for extra in [0.0].iter().chain(&also) {
                let mm = (at + extra) / 100.0;
                let size = Diameter::si((at + extra) / 100_000.0);
                all.push(Drill {
                    name: format!("{mm} mm"),
                    size,
                    series: Series::Metric,
                    source: row.source,
                });
            }
            at += step;
        }
    }
    all.sort_by(|a, b| a.size.value().total_cmp(&b.size.value()).then_with(|| a.series.cmp(&b.series)));
    Ok(all)
}

/// All drills, smallest first.
#[must_use]
pub fn all() -> &'static [Drill] {
    &DRILLS
}
/// Two names for one size: nothing lies between them that could be measured.
fn same(a: Diameter, b: Diameter) -> bool {
    (a - b).abs() < Length::si(0.5e-6)
}

/// Looks up a drill by name: `#43`, `No. 43`, `F`, `7/64 in`, `2.05 mm`, or by a decimal such as `0.089 in`.
///
/// # Errors
/// When no drill of this name or size is sold; the nearest are named.
pub fn find(written: &str) -> Result<&'static Drill, Trouble> {
    let text = written.trim();
    let lower = text.to_lowercase();
    if text.is_empty() {
        return Err(Trouble::text("a drill is missing here").cure("write #43, F, 7/64 in or 2.05 mm"));
    }
    let number = ["#", "no.", "no", "number"].iter().find_map(|p| lower.strip_prefix(p));
    if let Some(number) = number.map(str::trim).filter(|n| n.bytes().all(|b| b.is_ascii_digit())) {
        let name = format!("#{}", number.trim_start_matches('0'));
        return all().iter().find(|d| d.name == name).ok_or_else(|| {
            Trouble::text(format!("there is no number drill '{text}'")).cure("numbers go from #97 to #1")
        });
    }
    let letter = lower.strip_prefix("letter").map_or(text, str::trim);
    if letter.chars().count() == 1 && letter.chars().all(char::is_alphabetic) {
        let name = letter.to_uppercase();
        return all().iter().find(|d| d.name == name).ok_or_else(|| {
            Trouble::text(format!("there is no letter drill '{text}'")).cure("letters go from A to Z")
        });
    }
    if text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(Trouble::text(format!("'{text}' may be a number drill or millimetres"))
            .cure(format!("write #{text} or {text} mm")));
    }
    let size = text::read(text, Length::OF).map(Diameter::si).map_err(|fault| {
        let mut t = Trouble::text(format!("'{text}' is no drill: {}", fault.says));
        t.cures = fault.cures;
        t.cure("drills are written #43, F, 7/64 in or 2.05 mm")
    })?;
    // Where a size has two names, the series of the unit that was written goes first.
    let inch = text.contains("in") || text.contains(['"', '″']) || text.contains("thou");
    let fits = || all().iter().filter(|d| same(d.size, size));
    let liked = fits().find(|d| {
        (d.series == Series::Metric) != inch && (d.series == Series::Fraction) == text.contains('/')
    });
    liked.or_else(|| fits().next()).ok_or_else(|| {
        let near: Vec<String> = near(size, 3).iter().map(|d| described(d)).collect();
        Trouble::text(format!("no drill of {text} is sold"))
            .cure(format!("the nearest are {}", near.join(", ")))
    })
}
fn described(d: &Drill) -> String {
    match d.series {
        Series::Metric => d.name.clone(),
        _ => format!("{} ({:.3} mm)", d.name, d.size.in_mm()),
    }
}

/// The `n` drills nearest to a size, nearest first.
#[must_use]
pub fn near(size: Diameter, n: usize) -> Vec<&'static Drill> {
    let mut sorted: Vec<&Drill> = all().iter().collect();
    sorted.sort_by(|a, b| (a.size - size).abs().value().total_cmp(&(b.size - size).abs().value()));
    sorted.truncate(n);
    sorted
}

/// Which way a drill may miss the wanted size.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Rule {
    /// The nearest either way; of two as near, the smaller, since a hole can be opened.
    Nearest,
    /// The largest that is not over: metal is left for a reamer or broach.
    NotOver,
    /// The smallest that is not under: something must pass through.
    NotUnder,
}
impl Rule {
    /// As printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Rule::Nearest => "the nearest drill",
            Rule::NotOver => "the largest drill not over the size",
            Rule::NotUnder => "the smallest drill not under the size",
        }
    }
}
/// Picks from a list, such as the drills of a shop; `None` when the rule leaves none.
pub fn nearest_in<'d>(
    list: impl IntoIterator<Item = &'d Drill>,
    wanted: Diameter,
    rule: Rule,
) -> Option<&'d Drill> {
    let allowed = list.into_iter().filter(|d| match rule {
        Rule::Nearest => true,
        Rule::NotOver => d.size <= wanted || same(d.size, wanted),
        Rule::NotUnder => d.size >= wanted || same(d.size, wanted),
    });
    allowed.min_by(|a, b| {
        let off = |d: &Drill| (d.size - wanted).abs().value();
        off(a).total_cmp(&off(b)).then_with(|| a.size.value().total_cmp(&b.size.value()))
    })
}

#[cfg(test)]
mod tests;
