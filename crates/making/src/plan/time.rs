//! How long things take, with their spread. Minutes of a first piece in a small shop: common practice,
//! to be replaced by the shop's own times.

use super::SetUp;
use reckon::{Book, Cell, Count, Id, Source, Time, Val};

/// Where the minutes come from.
pub static MINUTES: Source =
    Source::practice("minutes of a small home shop, first of its kind, handling included");
/// How three guesses become one.
pub static PERT: Source = Source::derived("mean and spread of three guesses, added as independent")
    .with_formula("t = (a + 4 m + b)/6, s = (b − a)/6");

/// Least, likely and most minutes.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Spread {
    /// When all goes well.
    pub least: f64,
    /// Usually.
    pub likely: f64,
    /// When it does not.
    pub most: f64,
}
impl Spread {
    /// From three guesses in minutes.
    #[must_use]
    pub const fn minutes(least: f64, likely: f64, most: f64) -> Spread {
        Spread { least, likely, most }
    }
    /// Around a likely value: seven tenths to twice.
    #[must_use]
    pub const fn around(likely: f64) -> Spread {
        Spread { least: likely * 0.7, likely, most: likely * 2.0 }
    }
    /// Mean, minutes.
    #[must_use]
    pub fn mean(self) -> f64 {
        (self.least + 4.0 * self.likely + self.most) / 6.0
    }
    /// Standard deviation, minutes.
    #[must_use]
    pub fn deviation(self) -> f64 {
        (self.most - self.least) / 6.0
    }
}
/// Time of a whole batch.
#[derive(Copy, Clone, Debug)]
pub struct Total {
    /// Mean.
    pub mean: Val<Time>,
    /// Standard deviation.
    pub deviation: Val<Time>,
    /// The table it is added up from.
    pub table: Id,
}
/// Time of a part's set-ups (once each) and their operations (once a piece).
pub fn of_setups(book: &mut Book, slug: &str, setups: &[SetUp], n: Count) -> Total {
    let times = u32::try_from(n.0).unwrap_or(1);
    let mut rows = Vec::new();
    for (i, s) in setups.iter().enumerate() {
        rows.push((format!("set up {}: {}", i + 1, s.title), s.time, 1));
        rows.extend(s.operations.iter().map(|o| (o.title.clone(), o.time, times)));
    }
    total(book, slug, &rows)
}
/// Adds up spreads, each so many times, writing the table.
fn total(book: &mut Book, slug: &str, rows: &[(String, Spread, u32)]) -> Total {
    let mut mean = 0.0;
    let mut variance = 0.0;
    let mut cells = Vec::new();
    for (what, spread, times) in rows {
        let n = f64::from(*times);
        mean += spread.mean() * n;
        variance += spread.deviation() * spread.deviation() * n;
        let minutes =
            |m: f64| Cell::as_text(&Time::si(m * 60.0), format!("{} min", reckon::print::significant(m, 3)));
        cells.push(vec![
            Cell::word(what.clone()),
            minutes(spread.least),
            minutes(spread.likely),
            minutes(spread.most),
            Cell::of(&reckon::Count(i64::from(*times))),
            minutes(spread.mean() * n),
        ]);
    }
    let table = book.table(
        format_args!("{slug}.times"),
        &["operation", "least", "likely", "most", "times", "together"],
        cells,
        "least, likely and most for one piece, times how many",
        Vec::new(),
        &MINUTES,
    );
    let mean = book.solved(
        format_args!("{slug}.time"),
        Time::si(mean * 60.0),
        ("sum of the means of the table", 1, 0.0),
        vec![table],
        &PERT,
    );
    let deviation = book.solved(
        format_args!("{slug}.time.deviation"),
        Time::si(variance.sqrt() * 60.0),
        ("root of the sum of squared deviations", 1, 0.0),
        vec![table],
        &PERT,
    );
    Total { mean, deviation, table }
}
