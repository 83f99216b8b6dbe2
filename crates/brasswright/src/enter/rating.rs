//! The log of a clock: its rate as far as the readings tell it, and what to do.

use super::typed::{Answer, Rated};
use crate::look::counted;
use crate::work::Work;
use journal::{Pace, Standing};
use pendulum::DAY;
use pendulum::log::{Advice, At, Found, Means, advise, fit};
use reckon::Book;
use reckon::print::{fixed, significant};

/// Error that is good enough for a clock that does not say: a tenth of a second a day.
const ENOUGH: f64 = 0.1;

/// When the clock was last touched, where it was.
fn touched(s: &Standing) -> f64 {
    let all = s.ratings.iter().chain(&s.heard).map(|(_, r)| r);
    all.filter(|r| r.set || r.nut.is_some() || r.tray.is_some())
        .map(|r| r.at)
        .fold(f64::NEG_INFINITY, f64::max)
}
/// Readings since the clock was last touched, in order of time.
fn run(s: &Standing, all: &[(u64, journal::Rating)]) -> Vec<journal::Rating> {
    let from = touched(s);
    let mut run: Vec<journal::Rating> = all.iter().map(|(_, r)| r.clone()).filter(|r| r.at >= from).collect();
    run.sort_by(|a, b| a.at.total_cmp(&b.at));
    run
}
/// What recordings say together: the mean by their weights, and no less doubt than the surest has, for one
/// recorder is off alike in all of them.
fn heard(run: &[journal::Rating]) -> Option<Found> {
    let (first, last) = (run.first()?, run.last()?);
    let all: Vec<Pace> = run.iter().filter_map(|r| r.heard).collect();
    let weight = |p: &Pace| 1.0 / (p.within * p.within).max(1e-12);
    let sum: f64 = all.iter().map(weight).sum();
    let least = all.iter().map(|p| p.within).fold(f64::INFINITY, f64::min);
    Some(Found {
        rate: all.iter().map(|p| weight(p) * p.rate).sum::<f64>() / sum,
        // Of what holds 95 in 100.
        error: Some(least / 1.96),
        days: (last.at - first.at) / DAY,
        readings: all.len(),
        ..Found::default()
    })
}
/// A rate with its doubt, as it is shown.
#[must_use]
pub fn shown(rate: f64, within: f64) -> String {
    let places = if within >= 3.0 { 1 } else { 2 };
    format!("{}{} ± {} s/day", if rate > 0.0 { "+" } else { "" }, fixed(rate, places), significant(within, 2))
}
/// The log of readings against a reference.
fn log(run: &[journal::Rating]) -> Vec<At> {
    let Some(first) = run.first() else { return Vec::new() };
    run.iter()
        .map(|r| At {
            days: (r.at - first.at) / DAY,
            ahead: r.offset,
            doubt: r.give_or_take,
            temperature: r.temperature,
            pressure: r.pressure,
        })
        .collect()
}
/// What the journal knows of how the clock goes since it was last touched: rate (s/day) and arc (rad), and from what.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Goes {
    /// Rate and its standard error, and how it was had.
    pub rate: Option<(f64, Option<f64>, String)>,
    /// Arc last read, and when.
    pub arc: Option<(f64, String)>,
}
/// How the clock goes by its journal.
#[must_use]
pub fn goes(work: &Work) -> Goes {
    let s = &work.known.standing;
    let (read, by_ear) = (run(s, &s.ratings), run(s, &s.heard));
    let read_rate = fit(&log(&read)).map(|f| {
        (f.rate, f.error, format!("{} over {} days", counted(f.readings, "reading"), fixed(f.days, 1)))
    });
    let heard_rate = heard(&by_ear).map(|f| (f.rate, f.error, counted(f.readings, "recording")));
    // A log of days is surer than a recording of minutes, unless its error says otherwise.
    let rate = match (read_rate, heard_rate) {
        (Some(r), Some(h)) => Some(if r.1.is_some_and(|e| h.1.is_none_or(|o| e <= o)) { r } else { h }),
        (r, h) => r.or(h),
    };
    let with_arc = read.iter().chain(&by_ear).filter_map(|r| Some((r.at, r.arc?)));
    let arc =
        with_arc.max_by(|a, b| a.0.total_cmp(&b.0)).map(|(at, arc)| (arc, super::when::text(at as i64)));
    Goes { rate, arc }
}
/// What the log says after its last reading, with what the nut and the tray do by the book; nothing where there is
/// none.
#[must_use]
pub fn rated(s: &Standing, book: &Book) -> Option<Rated> {
    let (read, by_ear) = (run(s, &s.ratings), run(s, &s.heard));
    let (log, by_ear) = (log(&read), heard(&by_ear));
    if log.is_empty() && by_ear.is_none() {
        return None;
    }
    let mut said = Rated { readings: read.len(), ..Rated::default() };
    said.heard = by_ear.map(|h| {
        let within = 1.96 * h.error.unwrap_or(0.0);
        format!("{} in {}", shown(h.rate, within), counted(h.readings, "recording"))
    });
    let fitted = fit(&log);
    let (Some(found), by_log) = (fitted.or(by_ear), fitted.is_some()) else {
        "one reading tells no rate: read again tomorrow at the same hour".clone_into(&mut said.advice);
        return Some(said);
    };
    let si = |name: &str| book.find(name).and_then(|(_, l)| l.si);
    let means = Means {
        turn: si("pendulum.nut.turn_s_per_day"),
        divisions: si("pendulum.nut.divisions"),
        gram: si("pendulum.tray.gram_s_per_day"),
        enough: ENOUGH,
    };
    let rate = |x: f64| format!("{}{} s/day", if x > 0.0 { "+" } else { "" }, fixed(x, 3));
    if by_log {
        said.days = fixed(found.days, 2);
        said.rate = Some(rate(found.rate));
    }
    said.error = found.error.filter(|_| by_log).map(|e| format!("{} s/day", fixed(e, 3)));
    said.scatter = found.scatter.map(|s| format!("{} s", fixed(s, 3)));
    said.per_kelvin = found.per_kelvin.map(|(k, e)| format!("{} ± {} per kelvin", rate(k), fixed(e, 3)));
    said.per_hectopascal =
        found.per_hectopascal.map(|(b, e)| format!("{} ± {} per hectopascal", rate(b), fixed(e, 4)));
    said.points = log.iter().map(|a| (a.days, a.ahead)).collect();
    let better = if found.rate > 0.0 { "down" } else { "up" };
    said.advice = match advise(&found, &means) {
        Advice::Good => format!("leave it alone: it is within {ENOUGH} s/day, and as sure"),
        Advice::Leave => "leave it alone: what is seen is within its scatter".to_owned(),
        Advice::Wait(days) => {
            format!(
                "do nothing yet: read on for {} days, its error is too large to act on",
                fixed(days.max(0.5), 1)
            )
        }
        Advice::Nut(turns) => {
            let divisions = means
                .divisions
                .map_or(String::new(), |d| format!(", {} of its divisions", fixed((turns * d).abs(), 1)));
            format!(
                "turn the nut so that the bob goes {better} by {} of a turn{divisions}; then wait two days before reading",
                significant(turns.abs(), 3)
            )
        }
        Advice::Tray(grams) => {
            let what = if grams > 0.0 { "put on the tray" } else { "take off the tray" };
            format!("{what} {} g; then wait two days before reading", fixed(grams.abs(), 2))
        }
    };
    Some(said)
}
/// Tells it in an answer.
pub fn tell(work: &Work, answer: &mut Answer) {
    answer.rated = rated(&work.known.standing, &work.book);
}
