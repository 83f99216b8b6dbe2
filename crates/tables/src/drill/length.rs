//! How long twist drills are: ordinary, stub and long series with cylindrical shanks.

use crate::load::{DataFault, Sheet};
use reckon::{Book, Diameter, Length, Source, Val};
use std::fmt::Display;
use std::sync::LazyLock;

/// How a drill was made long.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Build {
    /// Short and stiff.
    Stub,
    /// As they are usually sold.
    Ordinary,
    /// Long series.
    Long,
}
impl Build {
    /// All, shortest first.
    pub const ALL: [Build; 3] = [Build::Stub, Build::Ordinary, Build::Long];
    /// As printed and asked.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Build::Stub => "stub",
            Build::Ordinary => "ordinary",
            Build::Long => "long",
        }
    }
}
/// Length over all and of the flutes.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Lengths {
    /// Over all.
    pub whole: Length,
    /// Of the flutes.
    pub flutes: Length,
    /// Whose table.
    pub source: &'static Source,
}
impl Lengths {
    /// Length over all in the book, as a row of the table.
    pub fn whole(&self, book: &mut Book, name: impl Display, build: Build) -> Val<Length> {
        book.tabled(name, self.whole, format!("{} drill", build.text()), self.source)
    }
    /// Length of the flutes in the book, as a row of the table.
    pub fn flutes(&self, book: &mut Book, name: impl Display, build: Build) -> Val<Length> {
        book.tabled(name, self.flutes, format!("{} drill", build.text()), self.source)
    }
}

struct Range {
    over: Diameter,
    upto: Diameter,
    of: [Option<Lengths>; 3],
}
static RANGES: LazyLock<Vec<Range>> =
    LazyLock::new(|| ranges().expect("the embedded table drill_lengths.toml is whole; a test reads it"));

fn ranges() -> Result<Vec<Range>, DataFault> {
    let sheet = Sheet::read("drill_lengths.toml", include_str!("../../data/drill_lengths.toml"))?;
    let rows = sheet.rows("length")?.into_iter().map(|row| {
        let pair = |whole: &str, flutes: &str| -> Result<Option<Lengths>, DataFault> {
            let both = row.quantity_if(whole)?.zip(row.quantity_if(flutes)?);
            Ok(both.map(|(whole, flutes)| Lengths { whole, flutes, source: row.source }))
        };
        Ok(Range {
            over: row.quantity("over")?,
            upto: row.quantity("upto")?,
            of: [pair("stub", "stub_flutes")?, pair("whole", "flutes")?, pair("long", "long_flutes")?],
        })
    });
    rows.collect()
}
/// Length of a drill of a size; `None` where none is sold of that size and build.
#[must_use]
pub fn of(size: Diameter, build: Build) -> Option<Lengths> {
    // A size that ends a range belongs to it, whatever the last bit of it says.
    let hair = Length::si(1e-9);
    let range = RANGES.iter().find(|r| size > r.over + hair && size <= r.upto + hair)?;
    range.of[build as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_follow_on_each_other_and_longer_builds_are_longer() {
        let all = ranges().unwrap();
        assert_eq!(all.len(), 34);
        for pair in all.windows(2) {
            assert_eq!(pair[0].upto, pair[1].over, "ranges without a gap");
            for (a, b) in pair[0].of.iter().zip(&pair[1].of) {
                if let (Some(a), Some(b)) = (a, b) {
                    assert!(a.whole <= b.whole && a.flutes < b.flutes, "thicker is longer");
                }
            }
        }
        for r in &all {
            let there: Vec<Lengths> = r.of.iter().flatten().copied().collect();
            assert!(there.windows(2).all(|w| w[0].whole < w[1].whole && w[0].flutes < w[1].flutes));
            assert!(there.iter().all(|l| l.flutes < l.whole), "some of it is shank");
        }
    }
    #[test]
    fn a_size_at_the_end_of_a_range_belongs_to_it() {
        let mm = |d: f64| of(Diameter::mm(d), Build::Ordinary).map(|l| l.whole.in_mm().round());
        assert_eq!((mm(3.0), mm(3.1)), (Some(61.0), Some(65.0)));
        assert_eq!(of(Diameter::mm(15.0), Build::Ordinary), None);
        assert_eq!(of(Diameter::mm(0.3), Build::Stub), None);
    }
}
