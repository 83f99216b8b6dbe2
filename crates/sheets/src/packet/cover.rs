//! The cover: what fails, what is made in which order, what is sawn from what, what to buy, what was assumed.

use super::{Contents, figures};
use crate::table::{Column, Row};
use crate::{Block, Caution, Cell, Ruling, Sheet, Table, Text};
use making::plan::Caution as Planned;
use making::plan::fits::NOT_ENOUGH;
use reckon::{Book, Length, LengthStyle, Origin};
use std::collections::BTreeMap;

fn table(columns: Vec<Column>, rows: Vec<Row>) -> Block {
    Block::Table(Table { columns, rows, ruling: Ruling::Rules, size: 9.0 })
}
fn heading(text: &str) -> Block {
    Block::Heading(2, text.into())
}
fn words(text: &str) -> Cell {
    Cell::from(Text::from(text))
}

/// The cover sheet.
pub(super) fn sheet(of: &Contents<'_>, number: &str) -> Sheet {
    let mut blocks = vec![Block::Heading(1, of.clock.name.as_str().into())];
    let shop = format!("made in: {}. Lengths in {}, angles in degrees.", of.shop.name, of.style().unit());
    blocks.push(Block::Para(shop.into()));
    blocks
        .push(Block::Caution(Caution { title: "First".to_owned(), lines: vec![Planned::ABOVE_ALL.into()] }));
    blocks.extend(failing(of.book));
    blocks.extend(otherwise(of));
    blocks.extend(order(of));
    blocks.extend(parts(of));
    blocks.extend(cut_list(of));
    blocks.extend(buy(of));
    blocks.push(heading("Sheets"));
    blocks.push(Block::Contents(1));
    if long(of) {
        let many = of.book.assumptions().count();
        blocks.push(Block::Para(
            format!("{many} numbers are assumed because they are not written; the last sheet lists them.")
                .into(),
        ));
    } else {
        blocks.extend(assumed(of));
    }
    Sheet { title: "cover".to_owned(), part: String::new(), number: number.to_owned(), blocks }
}
/// More assumptions than a cover holds.
fn long(of: &Contents<'_>) -> bool {
    of.movement.is_some() && of.book.assumptions().count() > 150
}
/// What was assumed, on a sheet of its own where the cover would grow long with it.
pub(super) fn assumptions(of: &Contents<'_>, number: &mut dyn FnMut() -> String) -> Option<Sheet> {
    if !long(of) {
        return None;
    }
    let mut blocks = assumed(of);
    let number = number();
    blocks[0] = Block::Heading(1, "Assumed, because it is not written".into());
    Some(Sheet { title: "assumed".to_owned(), part: String::new(), number, blocks })
}
/// Verdicts that do not hold, with the first things that would do; alike ones together.
fn failing(book: &Book) -> Vec<Block> {
    let mut alike: Vec<(&str, Vec<&str>, Vec<&str>)> = Vec::new();
    for line in book.failing() {
        let Origin::Verdict { says, cures, .. } = &line.origin else { continue };
        let would: Vec<&str> =
            cures.iter().map(String::as_str).filter(|c| !c.starts_with(NOT_ENOUGH)).collect();
        match alike.iter_mut().find(|(s, w, _)| *s == says.as_str() && *w == would) {
            Some((_, _, names)) => names.push(&line.name),
            None => alike.push((says, would, vec![&line.name])),
        }
    }
    if alike.is_empty() {
        return vec![Block::Para("Every check that this packet makes holds.".into())];
    }
    let rows = alike.into_iter().map(|(says, would, names)| {
        let more = would.len().saturating_sub(ON_COVER);
        let mut told = would[..would.len() - more].join("; or ");
        if more > 0 {
            told += &format!("; and {more} more");
        }
        Row::new([words(&format!("{says} ({})", names.join(", "))), words(&told)])
    });
    vec![
        heading("What does not hold"),
        table(vec![Column::share("not so", 1.0), Column::share("what would do", 1.3)], rows.collect()),
        Block::Remark("All that would do, and all that would not be enough: brasswright check.".into()),
    ]
}
/// So many ways out stand on the cover.
const ON_COVER: usize = 3;
/// Orders of finish that the maker has taken on himself.
fn otherwise(of: &Contents<'_>) -> Vec<Block> {
    let rows: Vec<Row> = of
        .making
        .parts
        .iter()
        .flat_map(|p| p.finish.otherwise().into_iter().map(move |says| (p, says)))
        .map(|(p, says)| Row::new([words(&of.parts[p.part].common.name), words(&says)]))
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        heading("Orders written otherwise"),
        table(vec![Column::auto("part"), Column::share("what, and why", 1.0)], rows),
    ]
}
fn order(of: &Contents<'_>) -> Vec<Block> {
    vec![heading("Hours; the order of work has a sheet of its own"), super::order::sums(&of.making.order)]
}
fn parts(of: &Contents<'_>) -> Vec<Block> {
    let rows = of.making.parts.iter().map(|p| {
        let part = &of.parts[p.part];
        Row::new([
            words(&part.common.name),
            words(&p.batch.needed.shown()),
            words(&p.batch.spare.shown()),
            words(&part.common.material.name),
            words(&p.stock.what),
        ])
    });
    let columns = vec![
        Column::auto("part"),
        Column::auto("needed").right(),
        Column::auto("spare").right(),
        Column::auto("of"),
        Column::share("from", 1.0),
    ];
    vec![heading("Parts"), table(columns, rows.collect())]
}
fn cut_list(of: &Contents<'_>) -> Vec<Block> {
    let list = &of.making.cut_list;
    if list.bars.is_empty() {
        return Vec::new();
    }
    let style = of.style();
    let mut rows = Vec::new();
    for bar in &list.bars {
        for (i, (what, length)) in bar.pieces.iter().enumerate() {
            let first = if i == 0 { bar.bar.as_str() } else { "" };
            let row =
                Row::new([words(first), words(what), words(&figures::length(*length, style)), Cell::tick()]);
            rows.push(if i == 0 { row } else { row.with_above() });
        }
        rows.push(
            Row::new([words(""), words("left over"), words(&figures::length(bar.left, style)), words("")])
                .with_above(),
        );
    }
    let proof = if list.proved {
        "No other arrangement opens less bar: all were looked at."
    } else {
        "The best that was found; not every arrangement was looked at."
    };
    vec![
        heading("Cut list"),
        table(
            vec![
                Column::share("bar", 1.0),
                Column::auto("for"),
                Column::auto("length").right(),
                Column::auto("sawn").middle(),
            ],
            rows,
        ),
        Block::Remark(proof.into()),
    ]
}
fn buy(of: &Contents<'_>) -> Vec<Block> {
    if of.making.buy.is_empty() {
        return Vec::new();
    }
    let rows = of
        .making
        .buy
        .iter()
        .map(|b| Row::new([words(&b.what), words(&b.amount), words(&b.parts.join(", ")), Cell::tick()]));
    vec![
        heading("To buy"),
        table(
            vec![
                Column::auto("what"),
                Column::auto("how much"),
                Column::share("for", 1.0),
                Column::auto("have it").middle(),
            ],
            rows.collect(),
        ),
    ]
}
/// Defaults that the maker did not write, alike ones together.
fn assumed(of: &Contents<'_>) -> Vec<Block> {
    let slugs: Vec<&str> = of.parts.iter().map(movement::part::Part::slug).collect();
    let mut alike: BTreeMap<(String, String), BTreeMap<String, Vec<String>>> = BTreeMap::new();
    for line in of.book.assumptions() {
        let Origin::Assumed { why } = &line.origin else { continue };
        if is_bookkeeping(&line.name) {
            continue;
        }
        let owner = slugs.iter().find(|s| line.name.strip_prefix(**s).is_some_and(|r| r.starts_with('.')));
        let (what, whose) = match owner {
            Some(s) => (line.name[s.len() + 1..].to_owned(), (*s).replace('_', " ")),
            None => (line.name.clone(), String::new()),
        };
        let value = of.book.find(&line.name).map(|(id, _)| figures::shown(of.book, id, of.style()));
        alike
            .entry((why.clone(), value.unwrap_or_default()))
            .or_default()
            .entry(whose)
            .or_default()
            .push(what);
    }
    if alike.is_empty() {
        return Vec::new();
    }
    let rows = alike.into_iter().map(|((why, value), owners)| {
        // Owners that share the same names are told together.
        let mut by_names: BTreeMap<Vec<String>, Vec<String>> = BTreeMap::new();
        for (owner, names) in owners {
            by_names.entry(names).or_default().push(owner);
        }
        let told: Vec<String> = by_names
            .into_iter()
            .map(|(names, whose)| {
                let who = if whose.len() > 2 && whose.len() == slugs.len() {
                    "all parts".to_owned()
                } else if whose.len() > 4 {
                    format!("{} parts", whose.len())
                } else {
                    whose.iter().filter(|w| !w.is_empty()).cloned().collect::<Vec<_>>().join(", ")
                };
                let names = names.join(", ");
                if who.is_empty() { names } else { format!("{names} ({who})") }
            })
            .collect();
        Row::new([words(&why), words(&value), words(&told.join("; "))])
    });
    vec![
        heading("Assumed, because it is not written"),
        Block::Para("Write any of these in the project or the shop to have it otherwise.".into()),
        Block::Table(Table {
            columns: vec![
                Column::share("why", 1.0),
                Column::auto("taken as").right(),
                Column::share("names", 1.6),
            ],
            rows: rows.collect(),
            ruling: Ruling::Rules,
            size: 7.0,
        }),
    ]
}
/// What only carries a computation, or says of each tool what every list means.
fn is_bookkeeping(name: &str) -> bool {
    let last = name.rsplit('.').next().unwrap_or("");
    last == "0" || matches!(last, "made" | "carbide" | "stepless")
}
/// The cut list as plain text, for a slip of paper at the saw.
pub(super) fn cut_list_text(of: &Contents<'_>) -> String {
    let style: LengthStyle = of.style();
    let mut out = format!("Cut list: {} (state {})\n", of.clock.name, of.state);
    for bar in &of.making.cut_list.bars {
        out += &format!("\n{}\n", bar.bar);
        for (what, length) in &bar.pieces {
            out += &format!("  {:>12}  {what}\n", figures::length(*length, style));
        }
        out += &format!("  {:>12}  left over\n", figures::length(bar.left, style));
    }
    if !of.making.buy.is_empty() {
        out += "\nTo buy\n";
        for b in &of.making.buy {
            out += &format!("  {} ({}), for {}\n", b.what, b.amount, b.parts.join(", "));
        }
    }
    let total: Length = of.making.cut_list.bars.iter().flat_map(|b| b.pieces.iter().map(|p| p.1)).sum();
    out += &format!("\nsawn in all: {}\n", figures::length(total, style));
    out
}
