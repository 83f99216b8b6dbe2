//! From a text to tables of values: parse, walk by the section, value, and tell every trouble once.

pub(crate) mod limits;
pub(crate) mod node;
pub(crate) mod page;
pub(crate) mod settle;
mod sizes;
mod types;
pub(crate) mod walk;

use crate::spec::Section;
use node::Node;
use page::{Page, Text};
use reckon::{Book, Place, Trouble};
use settle::Settle;
use walk::Walk;

/// Most troubles told of one file; the rest are counted.
const MOST: usize = 100;

/// What a page holds and what is wrong with it.
pub(crate) struct Reading {
    pub(crate) node: Option<Node>,
    pub(crate) troubles: Vec<Trouble>,
}
/// Reads a text by a section; `root` begins every dotted name.
pub(crate) fn page(
    text: &Text<'_>,
    section: &'static Section,
    root: &'static str,
    book: &mut Book,
) -> Reading {
    let page = match Page::open(text) {
        Ok(page) => page,
        Err(t) => return Reading { node: None, troubles: vec![t] },
    };
    let (tables, faults) = page.tables();
    let (places, mut troubles): (Vec<usize>, Vec<Trouble>) = faults.into_iter().unzip();
    let broken = !troubles.is_empty();
    if !broken && tables.get_ref().is_empty() {
        let what = if section.name == "shop.toml" { "[[lathe]]" } else { "[[screw]]" };
        troubles.push(
            Trouble::text("this file says nothing yet")
                .at(page.place(0..0))
                .cure(format!("begin with a part or a machine, for example {what}")),
        );
        return Reading { node: None, troubles };
    }
    let mut walk = Walk::new(&page, root, places);
    let plan = walk.top(section, tables.get_ref());
    troubles.append(&mut walk.troubles);
    let Some(plan) = plan else { return Reading { node: None, troubles } };
    let mut settle = Settle::new(&page, book, root, walk.leaves);
    let node = settle.table(&plan);
    troubles.append(&mut settle.troubles);
    Reading { node: Some(node), troubles }
}
/// In the order of the text, each once, and no more than a maker can mend in one go.
pub(crate) fn in_order(mut troubles: Vec<Trouble>) -> Vec<Trouble> {
    let place = |t: &Trouble| t.at.first().map(|p| (p.start, p.end));
    troubles.sort_by(|a, b| place(a).cmp(&place(b)).then_with(|| a.weight.cmp(&b.weight).reverse()));
    let mut kept: Vec<Trouble> = Vec::new();
    let mut dropped = 0;
    for mut t in troubles {
        let mut seen: Vec<Place> = Vec::new();
        t.at.retain(|p| {
            !seen.contains(p) && {
                seen.push(p.clone());
                true
            }
        });
        if kept.last().is_some_and(|k| *k == t) {
            continue;
        }
        if kept.len() < MOST {
            kept.push(t);
        } else {
            dropped += usize::from(t.stops());
        }
    }
    if dropped > 0 {
        let at = kept.last().and_then(|t| t.at.first().cloned());
        kept.push(
            Trouble::text(format!("and {dropped} more troubles after this place"))
                .at(at)
                .cure("mend these first"),
        );
    }
    kept
}
