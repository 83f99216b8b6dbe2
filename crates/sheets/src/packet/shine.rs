//! The card at the finishing bench: one ladder of grains for all that goes through it, with barriers and boxes.

use super::{Contents, fire};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Sheet, Text};
use heat::polish::{BARRIER, LOOK};
use making::plan::finish::Together;

/// A sheet for each ladder.
pub(super) fn sheets(of: &Contents<'_>, number: &mut dyn FnMut() -> String) -> Vec<Sheet> {
    of.making.shine.iter().filter(|t| !t.ladder.rungs.is_empty()).map(|t| card(of, t, number())).collect()
}
fn card(of: &Contents<'_>, t: &Together, number: String) -> Sheet {
    let plans = &of.making.parts;
    let l = &t.ladder;
    let mut blocks = vec![Block::Heading(1, format!("Finish together: {}", t.title()).as_str().into())];
    let pieces = t.pieces(plans);
    blocks.push(Block::Figures(vec![
        Figure::new("pieces", pieces.to_string()).note("spares included"),
        Figure::new("grains", l.rungs.len().to_string()).note("coarse to fine, never back"),
        Figure::new("off each face", l.off.shown()).note("already left on what was cut"),
    ]));
    let lines = vec![making::plan::Caution::Polishing.text().into()];
    blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
    blocks.push(Block::Heading(2, "Which pieces".into()));
    blocks.push(who(of, t));
    blocks.push(Block::Heading(2, "Grain by grain".into()));
    blocks.extend(fire::table(of, l.table));
    blocks.push(Block::Para("One bench, one way: the coarse grain at the left, the fine one at the right. Each grain has its own box with a lid, its own lap, cloth and brush, and its name on them. Nothing comes back.".into()));
    for (i, r) in l.rungs.iter().enumerate() {
        if i > 0 {
            blocks.push(Block::Remark(format!("═══  BARRIER  ═══  {BARRIER}  ═══").as_str().into()));
        }
        let hard = if r.hard { " (hard lap only: it is a wide step)" } else { "" };
        let head = format!("{}. {} on {}{hard}", i + 1, r.grain.shown(), r.lap);
        blocks.push(Block::Together(vec![Block::Heading(3, head.as_str().into()), ticks(of, t)]));
    }
    blocks.push(Block::Heading(2, "Before it goes on".into()));
    blocks.push(Block::Dots(vec![
        format!("After each grain: {LOOK}.").as_str().into(),
        "A scratch that is left tells its grain: as wide as the last but one, go back one step; as wide as the first, go back to the first. Work three times as deep as the scratch, then wash, then go on.".into(),
        "A lap that has met a coarser grain is turned or faced off anew; brushing does not clean it.".into(),
    ]));
    for r in l.remarks() {
        blocks.push(Block::Para(r.as_str().into()));
    }
    Sheet { title: "finish".to_owned(), part: String::new(), number, blocks }
}
fn who(of: &Contents<'_>, t: &Together) -> Block {
    let rows = t
        .plans
        .iter()
        .map(|i| {
            let plan = &of.making.parts[*i];
            let part = &of.parts[plan.part];
            let f = &plan.finish;
            let order = f.works.join(" – ");
            Row::new([
                Cell::from(Text::from(part.common.name.as_str())),
                Cell::from(Text::from(plan.batch.total.shown().as_str())),
                Cell::from(Text::from(order.as_str())),
            ])
        })
        .collect();
    Block::Table(Table {
        columns: ["part", "pieces", "in this order"].iter().map(|c| Column::auto(*c)).collect(),
        rows,
        ruling: Ruling::Rules,
        size: 9.0,
    })
}
/// A box for each part at this grain.
fn ticks(of: &Contents<'_>, t: &Together) -> Block {
    let words: Vec<String> = t
        .plans
        .iter()
        .map(|i| {
            let plan = &of.making.parts[*i];
            let n = usize::try_from(plan.batch.total.bare().0).unwrap_or(1);
            let boxes = if n > 12 { format!("☐ all {n}") } else { "☐".repeat(n.max(1)) };
            format!("{}\u{a0}{boxes}", of.parts[plan.part].common.name)
        })
        .collect();
    Block::Para(words.join("   ").as_str().into())
}
