//! The log of a clock: its rate as far as the readings tell it, and what to do.

use super::typed::{Answer, Rated};
use crate::work::Work;
use pendulum::DAY;
use pendulum::log::{Advice, At, Means, advise, fit};
use reckon::print::{fixed, significant};

/// Error that is good enough for a clock that does not say: a tenth of a second a day.
const ENOUGH: f64 = 0.1;

/// Readings since the clock was last touched.
fn run(work: &Work) -> Vec<&journal::Rating> {
    let mut all: Vec<&journal::Rating> = work.known.standing.ratings.iter().map(|(_, r)| r).collect();
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    let touched = all.iter().rposition(|r| r.set || r.nut.is_some() || r.tray.is_some());
    all.split_off(touched.unwrap_or(0))
}
/// What the log says after its last reading; nothing where there is none.
#[must_use]
pub fn rated(work: &Work) -> Option<Rated> {
    let run = run(work);
    let first = run.first()?;
    let log: Vec<At> = run
        .iter()
        .map(|r| At {
            days: (r.at - first.at) / DAY,
            ahead: r.offset,
            doubt: r.give_or_take,
            temperature: r.temperature,
            pressure: r.pressure,
        })
        .collect();
    let mut said = Rated { readings: run.len(), ..Rated::default() };
    let Some(found) = fit(&log) else {
        "one reading tells no rate: read again tomorrow at the same hour".clone_into(&mut said.advice);
        return Some(said);
    };
    let si = |name: &str| work.book.find(name).and_then(|(_, l)| l.si);
    let means = Means {
        turn: si("pendulum.nut.turn_s_per_day"),
        divisions: si("pendulum.nut.divisions"),
        gram: si("pendulum.tray.gram_s_per_day"),
        enough: ENOUGH,
    };
    let rate = |x: f64| format!("{}{} s/day", if x > 0.0 { "+" } else { "" }, fixed(x, 3));
    said.days = fixed(found.days, 2);
    said.rate = Some(rate(found.rate));
    said.error = found.error.map(|e| format!("{} s/day", fixed(e, 3)));
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
    answer.rated = rated(work);
}
