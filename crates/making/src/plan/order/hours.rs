//! Hours of the order: learning, evenings with their spread, the longest chain; the tables of the book.

use super::Job;
use super::jobs::Raw;
use crate::plan::time::PERT;
use heat::times::{LEARNING, SHARE, learnt};
use reckon::{Book, Cell, Count, Id, Ratio, Source, Time, Val, work};
use record::facts::Clock;
use std::collections::BTreeMap;

/// Four of five fall within so many spreads.
pub const FOUR_OF_FIVE: f64 = 1.281_551_565_5;
/// How evenings are had.
pub static EVENINGS: Source =
    Source::derived("mean hours over hours of an evening; between the tenth and the ninetieth of a hundred")
        .with_formula("n = t/e, n ± 1.2816 s/e, s² = Σ sᵢ² + (c t)²");
/// The longest chain.
pub static CHAIN: Source = Source::derived(
    "the longest way along what waits for what, work at the maker's pace and waiting by the calendar",
);

/// Hours and evenings.
#[derive(Clone, Debug)]
pub struct Hours {
    /// Work of one pair of hands.
    pub total: Val<Time>,
    /// Its spread.
    pub deviation: Val<Time>,
    /// Evenings: likely, and the ends of the band that holds four of five.
    pub evenings: (Val<Ratio>, Val<Ratio>, Val<Ratio>),
    /// Weeks.
    pub weeks: Val<Ratio>,
    /// Hours of an evening.
    pub evening: Val<Time>,
    /// Work in the longest chain.
    pub chain_work: Val<Time>,
    /// Waiting in it.
    pub chain_wait: Val<Time>,
    /// The chain as a table.
    pub chain: Id,
}
/// At what pace the maker works.
pub(super) struct Rate {
    evening: Val<Time>,
    a_week: Val<Count>,
    pub(super) days_an_hour: f64,
}
pub(super) fn rate(clock: Option<&Clock>, book: &mut Book) -> Rate {
    let evening = clock.and_then(|c| c.evening);
    let evening = evening.unwrap_or_else(|| {
        book.assumed("order.evening", Time::si(2.5 * 3600.0), "an evening in the shop, until written")
    });
    let a_week = clock.and_then(|c| c.evenings_a_week);
    let a_week = a_week
        .unwrap_or_else(|| book.assumed("order.evenings_a_week", Count(3), "evenings a week, until written"));
    #[expect(clippy::cast_precision_loss, reason = "at most seven")]
    let hours = evening.bare().value() / 3600.0 * a_week.bare().0 as f64;
    Rate { evening, a_week, days_an_hour: 7.0 / hours.max(0.1) }
}
/// What was done of each kind before.
#[derive(Default)]
pub(super) struct Learning {
    done: BTreeMap<String, u32>,
}
impl Learning {
    /// Work of a job with what was learnt by those before: mean and spread, minutes.
    pub(super) fn next(&mut self, r: &Raw) -> (f64, f64) {
        let done = self.done.entry(r.kind.clone()).or_insert(0);
        let (mut mean, mut square) = (0.0, 0.0);
        for _ in 0..r.pieces {
            *done += 1;
            let share = learnt(f64::from(*done), SHARE);
            mean += r.work.0 * share;
            square += r.work.1 * share * share;
        }
        (mean, square.sqrt())
    }
}
fn told(minutes: f64) -> String {
    if minutes < 100.0 {
        format!("{} min", reckon::print::fixed(minutes, 0))
    } else {
        format!("{} h", reckon::print::fixed(minutes / 60.0, 1))
    }
}
fn waiting(minutes: f64) -> String {
    if minutes >= 24.0 * 60.0 {
        format!("{} d", reckon::print::fixed(minutes / 1440.0, 0))
    } else {
        told(minutes)
    }
}
/// A time of the order as a cell.
fn cell(minutes: f64) -> Cell {
    Cell::as_text(&Time::si(minutes * 60.0), told(minutes))
}
/// Writes everything.
pub(super) fn written(
    jobs: &[Job],
    chain: &[usize],
    rate: &Rate,
    inputs: Vec<Id>,
    book: &mut Book,
) -> (Hours, Id) {
    let share = book.tabled("order.learning", Ratio::si(SHARE), "time at each doubling", &LEARNING);
    let rows = jobs.iter().map(|j| {
        let square = j.setting.1 * j.setting.1 + j.work.1 * j.work.1;
        vec![
            Cell::word((j.line + 1).to_string()),
            Cell::word(j.name.clone()),
            Cell::word(j.set_up()),
            Cell::word(j.why.clone()),
            cell(j.setting.0 + j.work.0),
            cell(square.sqrt()),
            Cell::word(if j.wait.0 > 0.0 { waiting(j.wait.0) } else { "-".to_owned() }),
        ]
    });
    let mut inputs = inputs;
    inputs.push(share.id());
    let table = book.table(
        "order",
        &["line", "job", "set up", "why here", "time", "give or take", "then waits"],
        rows.collect(),
        "what waits for what; long under way at once; what is set up already; what most hangs on",
        inputs,
        &super::ORDER,
    );
    let mean: f64 = jobs.iter().map(|j| j.setting.0 + j.work.0).sum();
    let square: f64 = jobs.iter().map(|j| j.setting.1 * j.setting.1 + j.work.1 * j.work.1).sum();
    let total = book.solved(
        "order.hours",
        Time::si(mean * 60.0),
        ("sum of the means of the table", 1, 0.0),
        vec![table],
        &PERT,
    );
    let each = book.solved(
        "order.hours.each",
        Time::si(square.sqrt() * 60.0),
        ("root of the sum of squared spreads", 1, 0.0),
        vec![table],
        &PERT,
    );
    let common = book.assumed(
        "order.hours.common",
        Ratio::si(0.2),
        "house default: a shop that is slower at one thing is slower at all",
    );
    let deviation = work!(
        book,
        "order.hours.deviation",
        |each, common, total| Time::si(
            (each.value() * each.value()
                + (common.value() * total.value()) * (common.value() * total.value()))
            .sqrt()
        ),
        &EVENINGS
    );
    let (evening, a_week) = (rate.evening, rate.a_week);
    let evenings =
        work!(book, "order.evenings", |total, evening| Ratio::si(total.value() / evening.value()), &EVENINGS);
    let least = work!(
        book,
        "order.evenings.least",
        |total, deviation, evening| Ratio::si(
            (total.value() - FOUR_OF_FIVE * deviation.value()).max(0.0) / evening.value()
        ),
        &EVENINGS
    );
    let most = work!(
        book,
        "order.evenings.most",
        |total, deviation, evening| Ratio::si(
            (total.value() + FOUR_OF_FIVE * deviation.value()) / evening.value()
        ),
        &EVENINGS
    );
    #[expect(clippy::cast_precision_loss, reason = "at most seven")]
    let weeks = work!(
        book,
        "order.weeks",
        |evenings, a_week| Ratio::si(evenings.value() / a_week.0 as f64),
        &EVENINGS
    );
    let rows = chain.iter().map(|i| {
        let j = &jobs[*i];
        vec![
            Cell::word(j.name.clone()),
            cell(j.setting.0 + j.work.0),
            Cell::word(if j.wait.0 > 0.0 {
                format!("{}: {}", waiting(j.wait.0), j.wait.1)
            } else {
                "-".to_owned()
            }),
        ]
    });
    let rows = rows.collect();
    let chained = book.table(
        "order.chain",
        &["job", "time", "then waits"],
        rows,
        "each waits for the one before; none of it can be done beside the others",
        vec![table],
        &CHAIN,
    );
    let sum = |f: &dyn Fn(&Job) -> f64| -> f64 { chain.iter().map(|i| f(&jobs[*i])).sum() };
    let chain_work = book.solved(
        "order.chain.work",
        Time::si(sum(&|j| j.setting.0 + j.work.0) * 60.0),
        ("work in the chain", 1, 0.0),
        vec![chained],
        &CHAIN,
    );
    let chain_wait = book.solved(
        "order.chain.waiting",
        Time::si(sum(&|j| j.wait.0) * 60.0),
        ("waiting in the chain", 1, 0.0),
        vec![chained],
        &CHAIN,
    );
    let hours = Hours {
        total,
        deviation,
        evenings: (evenings, least, most),
        weeks,
        evening,
        chain_work,
        chain_wait,
        chain: chained,
    };
    (hours, table)
}
