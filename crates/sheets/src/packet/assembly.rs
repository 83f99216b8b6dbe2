//! Sheets of putting together and setting up.

use super::{Contents, figures, operations};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Sheet, Text};
use making::plan::assembly::{Item, Page};
use reckon::Origin;
use std::collections::BTreeSet;

/// All of them.
pub(super) fn sheets(of: &Contents<'_>, number: &mut dyn FnMut() -> String) -> Vec<Sheet> {
    let pages = of.making.assembly.iter().flat_map(|a| &a.pages);
    pages.map(|p| sheet(of, p, number())).collect()
}
fn sheet(of: &Contents<'_>, page: &Page, number: String) -> Sheet {
    let style = of.style();
    let mut warned = BTreeSet::new();
    let mut blocks = Vec::new();
    let mut heads = 0;
    let text = |s: &String| Text::from(figures::sentence(s, style).as_str());
    for item in &page.items {
        match item {
            Item::Head(t) => {
                heads += 1;
                blocks.push(Block::Heading(if heads == 1 { 1 } else { 2 }, t.as_str().into()));
            }
            Item::Say(t) => blocks.push(Block::Para(text(t))),
            Item::Steps(all) => blocks.push(Block::Steps(all.iter().map(text).collect())),
            Item::Dots(all) => blocks.push(Block::Dots(all.iter().map(text).collect())),
            Item::Figures(all) if all.is_empty() => {}
            Item::Figures(all) => blocks.push(Block::Figures(
                all.iter()
                    .map(|f| {
                        let own =
                            f.id.and_then(|id| of.book.line(id).filter(|l| l.shown == f.text).map(|_| id));
                        let value =
                            own.map_or_else(|| f.text.clone(), |id| figures::shown(of.book, id, style));
                        Figure::new(f.label.as_str(), value)
                    })
                    .collect(),
            )),
            Item::Table(id) => {
                if let Some(Origin::Table { columns, rows, .. }) = of.book.line(*id).map(|l| &l.origin) {
                    blocks.push(Block::Table(operations::table(columns, rows, style)));
                }
            }
            Item::Boxes(heads, rows) => blocks.push(boxes(heads, rows)),
            Item::Cautions(all) => {
                let lines: Vec<Text> =
                    all.iter().filter(|c| warned.insert(**c)).map(|c| c.text().into()).collect();
                if !lines.is_empty() {
                    blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
                }
            }
        }
    }
    Sheet { title: page.title.clone(), part: String::new(), number, blocks }
}
/// A table to be written in.
fn boxes(heads: &[String], rows: &[Vec<String>]) -> Block {
    let cells = |row: &Vec<String>| {
        let cell = |i: usize| Cell::from(Text::from(row.get(i).map_or("\u{a0}", String::as_str)));
        Row::new((0..heads.len()).map(cell))
    };
    Block::Table(Table {
        columns: heads.iter().map(|h| Column::share(h.as_str(), 1.0)).collect(),
        rows: rows.iter().map(cells).collect(),
        ruling: Ruling::Rules,
        size: 11.0,
    })
}
