//! One operation as a block: what is needed now is large, the rest is near it.

use super::{Contents, figures};
use crate::table::{Column, Row};
use crate::{Block, Caution, Cell, Check, Figure, Operation, Ruling, Table, Text};
use making::plan::Operation as Planned;
use reckon::{Length, LengthStyle, Origin};
use std::collections::BTreeSet;

/// The block of an operation; cautions already given on this sheet are not repeated.
pub(super) fn block(
    of: &Contents<'_>,
    op: &Planned,
    slug: &str,
    number: usize,
    warned: &mut BTreeSet<making::plan::Caution>,
) -> Block {
    let book = of.book;
    let style = of.style();
    let lines: Vec<Text> =
        op.cautions.iter().filter(|c| warned.insert(**c)).map(|c| c.text().into()).collect();
    let cautions =
        if lines.is_empty() { Vec::new() } else { vec![Caution { title: "Caution".to_owned(), lines }] };
    let dials = op
        .figures
        .iter()
        .map(|f| {
            let value = match f.id {
                Some(id) if book.line(id).is_some_and(|l| l.shown == f.text) => {
                    figures::shown(book, id, style)
                }
                _ => figures::sentence(&f.text, style),
            };
            Figure::new(f.label.as_str(), value).note(figures::tail(book, f.id, slug))
        })
        .collect();
    let detail = op
        .tables
        .iter()
        .flat_map(|t| {
            let table = book.line(t.id).and_then(|l| match &l.origin {
                Origin::Table { columns, rows, .. } => Some(table(columns, rows, style)),
                _ => None,
            });
            table.map(|t2| vec![Block::Remark(t.title.as_str().into()), Block::Table(t2)]).unwrap_or_default()
        })
        .collect();
    let checks = op
        .checks
        .iter()
        .map(|c| Check {
            what: match &c.seen {
                Some(seen) => figures::sentence(&format!("{}: {seen}", c.what), style).into(),
                None => figures::sentence(&c.what, style).into(),
            },
            limits: match &c.limits {
                Some((most, least)) => figures::limits(*most, *least, style).into(),
                None => Text::from(""),
            },
            with: Text::from(""),
            unit: if c.limits.is_some() { style.unit().to_owned() } else { String::new() },
        })
        .collect();
    let mut steps: Vec<Text> = op.lines.iter().map(|l| figures::sentence(l, style).into()).collect();
    if let Some(n) = op.heat.as_deref().and_then(|card| super::fire::number_of(of, card)) {
        steps.push(Text::from(format!("In full, with all that is heated with it and boxes to fill in: card \u{201c}At the fire {n}\u{201d}.").as_str()));
    }
    Block::Operation(Box::new(Operation {
        number: number.to_string(),
        title: op.title.as_str().into(),
        time: format!("{} min", reckon::print::significant(op.time.likely, 2)),
        // Machine and grip stand once, at the head of the set-up.
        machine: Text::default(),
        grip: Text::default(),
        tool: figures::sentence(op.tool.as_deref().unwrap_or(""), style).into(),
        more: Vec::new(),
        speed: op
            .speed
            .as_ref()
            .map(|s| Figure::new("spindle", s.shown()).note(figures::tail(book, Some(s.id()), slug))),
        feed: op.feed.as_ref().map(|f| {
            Figure::new("feed a turn", figures::shown(book, f.id(), style)).note(figures::tail(
                book,
                Some(f.id()),
                slug,
            ))
        }),
        dials,
        cautions,
        steps,
        detail,
        checks,
    }))
}
/// A table of the book, lengths in the project's units.
pub(super) fn table(columns: &[String], rows: &[Vec<reckon::Cell>], style: LengthStyle) -> Table {
    let numeric = |i: usize| rows.iter().all(|r| r.get(i).is_none_or(|c| c.si.is_some()));
    let heads = columns
        .iter()
        .enumerate()
        .map(|(i, c)| {
            let column = Column::auto(c.as_str());
            if numeric(i) { column.right() } else { column }
        })
        .collect();
    let cell = |c: &reckon::Cell| {
        let text = match (c.si, c.unit) {
            (Some(si), "m") if c.shown.ends_with("mm") || c.shown.ends_with("µm") => {
                let sign = if c.shown.starts_with('⌀') { "⌀" } else { "" };
                format!("{sign}{}", figures::length(Length::si(si), style))
            }
            (None, _) => figures::sentence(&c.shown, style),
            _ => c.shown.clone(),
        };
        Cell::from(Text::from(text.as_str()))
    };
    Table {
        columns: heads,
        rows: rows.iter().map(|r| Row::new(r.iter().map(cell))).collect(),
        ruling: Ruling::Rules,
        size: 9.0,
    }
}
