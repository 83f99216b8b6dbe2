//! Every listed thread, read once from the data.

use super::form::{self, Form};
use super::{Family, Series, Thread, WhitworthSeries};
use crate::load::{DataFault, Row, Sheet};
use reckon::print::{fixed, trimmed};
use reckon::{Count, Diameter, Dimension, Length, Ratio, text};
use std::sync::LazyLock;

/// The embedded file.
pub(super) static SHEET: LazyLock<Sheet> = LazyLock::new(|| {
    Sheet::read("threads.toml", include_str!("../../data/threads.toml")).expect("a test reads every table")
});
static ALL: LazyLock<Vec<Thread>> = LazyLock::new(|| read_all().expect("a test reads every table"));

/// Every listed thread: ISO, miniature, Unified, BA, Whitworth, each in the order of its table.
#[must_use]
pub fn all() -> &'static [Thread] {
    &ALL
}
/// A number of millimetres without zeros that say nothing.
pub(super) fn plain(l: Length) -> String {
    trimmed(&fixed(l.in_mm(), 4))
}
/// Size of a Unified thread: 0.060 in + 0.013 in for each number, or a fraction of an inch.
pub(super) fn inch_size(size: &str) -> Option<Diameter> {
    if let Ok(n) = size.parse::<u32>() {
        return (n <= 12).then(|| Length::inch(0.06 + 0.013 * f64::from(n)).as_diameter());
    }
    text::read(&format!("{size} in"), Dimension::Length).ok().map(Diameter::si)
}
fn read_all() -> Result<Vec<Thread>, DataFault> {
    let mut all = Vec::new();
    let mut last = Diameter::ZERO;
    for row in SHEET.rows("iso")? {
        let (major, pitch) = metric(&row)?;
        let coarse = major != last;
        last = major;
        let size = plain(major.across());
        let name = if coarse { format!("M{size}") } else { format!("M{size}x{}", plain(pitch)) };
        all.push(listed(name, Family::Iso, &form::ISO, major, pitch, &row));
    }
    for row in SHEET.rows("watch")? {
        let (major, pitch) = metric(&row)?;
        all.push(listed(
            format!("S{}", plain(major.across())),
            Family::Watch,
            &form::WATCH,
            major,
            pitch,
            &row,
        ));
    }
    for row in SHEET.rows("unified")? {
        let (size, tpi, major, pitch) = inches(&row)?;
        let series = match row.word("series")? {
            "UNC" => Series::Coarse,
            "UNF" => Series::Fine,
            "UNEF" => Series::ExtraFine,
            other => return Err(row.fault(format!("no series '{other}'"))),
        };
        let name = format!("{size}-{} {}", tpi.0, row.word("series")?);
        let thread = listed(name, Family::Unified(series), &form::UNIFIED, major, pitch, &row);
        all.push(Thread { per_inch: Some(tpi), ..thread });
    }
    for row in SHEET.rows("ba")? {
        let n = row.quantity::<Ratio>("number")?.value();
        #[expect(clippy::cast_possible_truncation, reason = "the numbers of BA run from 0 to 16")]
        let n = n as i64;
        let (major, pitch) = (row.quantity("major")?, row.quantity("pitch")?);
        let thread = listed(format!("{n} BA"), Family::Ba(n), &form::BA, major, pitch, &row);
        all.push(Thread {
            tabled_pitch_diameter: Some(row.quantity("effective")?),
            tabled_minor: Some(row.quantity("minor")?),
            ..thread
        });
    }
    for row in SHEET.rows("whitworth")? {
        let (size, tpi, major, pitch) = inches(&row)?;
        let series = match row.word("series")? {
            "BSW" => WhitworthSeries::Standard,
            "BSF" => WhitworthSeries::Fine,
            "ME" => WhitworthSeries::Model,
            other => return Err(row.fault(format!("no series '{other}'"))),
        };
        let between = if series == WhitworthSeries::Model { 'x' } else { '-' };
        let name = format!("{size}{between}{} {}", tpi.0, row.word("series")?);
        let thread = listed(name, Family::Whitworth(series), &form::WHITWORTH, major, pitch, &row);
        all.push(Thread { per_inch: Some(tpi), ..thread });
    }
    Ok(all)
}
fn metric(row: &Row) -> Result<(Diameter, Length), DataFault> {
    Ok((row.quantity("size")?, row.quantity("pitch")?))
}
fn inches(row: &Row) -> Result<(String, Count, Diameter, Length), DataFault> {
    let size = row.word("size")?;
    let major = inch_size(size).ok_or_else(|| row.fault(format!("'{size}' is no size")))?;
    let tpi = row.number("tpi")?;
    #[expect(clippy::cast_possible_truncation, reason = "threads to the inch are whole and below 100")]
    let count = Count(tpi as i64);
    Ok((size.to_owned(), count, major, Length::inch(1.0 / tpi)))
}
fn listed(
    name: String,
    family: Family,
    form: &'static Form,
    major: Diameter,
    pitch: Length,
    row: &Row,
) -> Thread {
    Thread {
        name,
        family,
        form,
        major,
        pitch,
        per_inch: None,
        tabled_pitch_diameter: None,
        tabled_minor: None,
        listed: true,
        source: row.source,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_of_the_file_is_read() {
        for name in SHEET.names() {
            assert!(!SHEET.rows(name).unwrap().is_empty(), "{name}");
        }
        assert!(all().len() > 120);
    }
    #[test]
    fn no_name_stands_twice() {
        let mut names: Vec<&str> = all().iter().map(|t| t.name.as_str()).collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|w| w[0] != w[1]));
    }
    /// BS 93: pitch 0.9ⁿ and diameter 6 × pitch^1.2, and half the tabled differences are the depth.
    #[test]
    fn tabled_ba_diameters_agree_with_each_other() {
        for t in all().iter().filter(|t| matches!(t.family, Family::Ba(_))) {
            let depth = (t.major - t.pitch_diameter()).in_mm();
            assert!((t.major - t.minor()).in_mm() - 2.0 * depth < 1e-9, "{}", t.name);
            assert!((depth - 0.6 * t.pitch.in_mm()).abs() < 0.002_5 + 1e-9, "{}", t.name);
        }
    }
}
