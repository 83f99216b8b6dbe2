//! The order of work: every job in its place with its reason, hours and a box; evenings; the chain that decides.

use super::{Contents, figures, operations};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Cell, Figure, Sheet, Text};
use making::plan::order::{Job, Order};
use reckon::Origin;
use reckon::print::fixed;
use std::collections::BTreeSet;

fn words(text: &str) -> Cell {
    Cell::from(Text::from(text))
}
/// Hours and evenings as large figures.
pub(super) fn sums(o: &Order) -> Block {
    let h = &o.hours;
    let hours = |t: reckon::Time| fixed(t.value() / 3600.0, 0);
    let whole = |r: reckon::Ratio| fixed(r.value(), 0);
    let (likely, least, most) = &h.evenings;
    let weeks = h.weeks.bare().value();
    let mut all = vec![
        Figure::new("work of one pair of hands", format!("{} h", hours(h.total.bare())))
            .note(format!("give or take {} h", hours(h.deviation.bare())).as_str()),
        Figure::new("evenings", whole(likely.bare()))
            .note(format!("four times of five {} to {}", whole(least.bare()), whole(most.bare())).as_str()),
        Figure::new("weeks", fixed(weeks, if weeks < 10.0 { 1 } else { 0 }))
            .note(format!("at evenings of {}", h.evening.shown()).as_str()),
    ];
    let days = h.chain_wait.bare().value() / 86_400.0;
    let wait =
        if days > 0.0 { format!("and {} d of waiting", fixed(days, 0)) } else { "no waiting".to_owned() };
    all.push(Figure::new("longest chain", format!("{} h", hours(h.chain_work.bare()))).note(wait.as_str()));
    Block::Figures(all)
}
/// The sheet.
pub(super) fn sheet(of: &Contents<'_>, number: String) -> Sheet {
    let o = &of.making.order;
    let mut blocks = vec![Block::Heading(1, "Order of work".into()), sums(o)];
    blocks.push(Block::Para(
        "A line is done in one go, at one setting; ● stands on the longest chain. Hours count what is learnt: the second of a kind takes less than \
         the first, each doubling 85 hundredths; the pages of the parts count every piece as the first. What may be \
         done tonight: brasswright tonight."
            .into(),
    ));
    blocks.push(lines(o));
    if !o.aside.is_empty() {
        blocks.push(Block::Heading(2, "Otherwise, as you wish".into()));
        blocks.push(Block::Dots(
            o.aside
                .iter()
                .map(|(a, reason)| {
                    let (first, then) = (&o.jobs[a.first].name, &o.jobs[a.then].name);
                    let text =
                        format!("'{then}' before '{first}', though: {}. Your reason: {reason}.", a.why);
                    Text::from(text.as_str())
                })
                .collect(),
        ));
    }
    if !o.gave_way.is_empty() {
        blocks.push(Block::Heading(2, "Advice that gave way".into()));
        let told = |a: &making::plan::order::Arrow| {
            let (first, then) = (&o.jobs[a.first].name, &o.jobs[a.then].name);
            Text::from(format!("'{first}' would better be before '{then}': {}.", a.why).as_str())
        };
        blocks.push(Block::Dots(o.gave_way.iter().map(told).collect()));
    }
    blocks.push(Block::Heading(2, "The longest chain".into()));
    blocks.push(Block::Para(
        "Each waits for the one before, and what waits goes by the calendar: a second pair of hands would not end it \
         sooner. Begin its waiting early, and fill it with other lines."
            .into(),
    ));
    if let Some(Origin::Table { columns, rows, .. }) = of.book.line(o.hours.chain).map(|l| &l.origin) {
        blocks.push(Block::Table(operations::table(columns, rows, of.style())));
    }
    Sheet { title: "order of work".to_owned(), part: String::new(), number, blocks }
}
fn lines(o: &Order) -> Block {
    let rows = o.lines().into_iter().map(|line| {
        let first = &line[0];
        let title = if line.len() == 1 && first.title == "made" {
            "make".to_owned()
        } else {
            let on = if line.iter().any(|j| j.on_chain) { " ●" } else { "" };
            format!("{}{on}", first.title)
        };
        let set_up = if first.held.is_empty() { first.machine.clone() } else { first.set_up() };
        let minutes: f64 = line.iter().map(|j| j.time.value()).sum();
        Row::new([
            words(&(first.line + 1).to_string()),
            words(&format!("{title}, {set_up}")),
            words(&ticks(line)),
            words(&why(line)),
            words(&format!("{}{}", figures::time(reckon::Time::si(minutes)), waits(line))),
        ])
    });
    Block::Table(Table {
        columns: vec![
            Column::auto("").right(),
            Column::share("what, at which setting", 1.0),
            Column::share("which", 1.1),
            Column::share("why here", 1.0),
            Column::auto("time").right(),
        ],
        rows: rows.collect(),
        ruling: Ruling::Rules,
        size: 8.0,
    })
}
/// A box for each job of a line.
fn ticks(line: &[Job]) -> String {
    let each = line.iter().map(|j| {
        let n = if j.pieces > 1 { format!(" × {}", j.pieces) } else { String::new() };
        format!("☐\u{a0}{}{n}", j.of)
    });
    each.collect::<Vec<_>>().join("  ")
}
/// Reasons of a line: each once, what only waits for nothing left out where something else is told.
fn why(line: &[Job]) -> String {
    let mut seen = BTreeSet::new();
    let all: Vec<&str> = line.iter().map(|j| j.why.as_str()).filter(|w| seen.insert(*w)).collect();
    let telling: Vec<&str> = all
        .iter()
        .copied()
        .filter(|w| !w.starts_with("waits for nothing") && *w != "next on its page")
        .collect();
    match telling.len() {
        0 => all.first().copied().unwrap_or_default().to_owned(),
        1 | 2 => telling.join("; "),
        n => format!("{}; {}; and {} more, on their pages", telling[0], telling[1], n - 2),
    }
}
fn waits(line: &[Job]) -> String {
    let longest = line.iter().max_by(|a, b| a.wait.0.total_cmp(&b.wait.0));
    match longest {
        Some(j) if j.wait.0 >= 1440.0 => format!(", then {} d", fixed(j.wait.0 / 1440.0, 0)),
        Some(j) if j.wait.0 > 0.0 => format!(", then {} min", fixed(j.wait.0, 0)),
        _ => String::new(),
    }
}
