//! The sheet at the finishing bench: one ladder of grains for all that goes through it, a box for every piece at
//! every grain, and a barrier across the paper between two grains.

use super::{Contents, fire};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Fit, Picture, Sheet, Text};
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use heat::polish::{LAPS, LOOK};
use kurbo::{BezPath, Point, Rect, Shape};
use making::plan::finish::{Together, ladder::Rung};

/// Width of the paper inside its margins, millimetres.
const WIDE: f64 = 176.0;
/// Most boxes in one row of the sheet.
const BOXES: usize = 40;

/// A sheet for each ladder.
pub(super) fn sheets(of: &Contents<'_>, number: &mut dyn FnMut() -> String) -> Vec<Sheet> {
    of.making.shine.iter().filter(|t| !t.ladder.rungs.is_empty()).map(|t| sheet(of, t, number())).collect()
}
fn sheet(of: &Contents<'_>, t: &Together, number: String) -> Sheet {
    let l = &t.ladder;
    let mut blocks = vec![Block::Heading(1, format!("Finish together: {}", t.title()).as_str().into())];
    blocks.push(Block::Figures(vec![
        Figure::new("pieces", t.pieces(&of.making.parts).to_string()).note("spares included"),
        Figure::new("grains", l.rungs.len().to_string()).note("coarse to fine, never back"),
        Figure::new("off each face", l.off.shown()).note("left on what was turned"),
    ]));
    let lines = vec![making::plan::Caution::Polishing.text().into()];
    blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
    blocks.push(who(of, t));
    let mut rules = Vec::new();
    if l.rungs.len() > 1 {
        rules.push("One way along the bench, coarse at the left, fine at the right; for each grain its own box with a lid, its own lap, cloth and brush, its name on all of them. Nothing comes back.".to_owned());
    }
    rules.push(format!("A box below is ticked when that piece has been looked at: {LOOK}."));
    if let Some(short) = &l.short {
        rules.push(format!(
            "The ladder ends before {} on {}: {}.",
            l.level.word(),
            l.on,
            short.cures(l.on).join("; or ")
        ));
    }
    rules.extend(l.remarks());
    blocks.push(Block::Dots(rules.iter().map(|r| r.as_str().into()).collect()));
    for (i, r) in l.rungs.iter().enumerate() {
        let mut station = vec![Block::Heading(3, head(i, r).as_str().into()), boxes(of, t)];
        if i + 1 < l.rungs.len() {
            station.push(Block::Picture(Picture {
                sketch: barrier(&washing(of)),
                fit: Fit::True,
                caption: Text::default(),
            }));
        }
        blocks.push(Block::Together(station));
    }
    let says = [
        "One scratch across the others comes from a lap that has met a coarser grain: dress the lap, wash, and go back by its depth. Many alike, in one direction, are the grain before, not yet out.".to_owned(),
        "Measure before going back: what is left on the piece was left once.".to_owned(),
        format!("A lap: {LAPS}."),
    ];
    let says = says.iter().map(|s| Block::Remark(s.as_str().into())).collect();
    blocks.push(Block::Together(vec![
        Block::Heading(2, "A scratch that should not be there".into()),
        Block::Columns(vec![(1.7, fire::table(of, l.scratches).into_iter().collect()), (1.0, says)]),
    ]));
    Sheet { title: "finish".to_owned(), part: String::new(), number, blocks }
}
fn head(i: usize, r: &Rung) -> String {
    let hard = if r.hard { ", hard lap only: a wide step" } else { "" };
    format!("{}.  {}, {}{hard}", i + 1, r.called(), r.lap)
}
/// The baths of the shop, as written on a barrier.
fn washing(of: &Contents<'_>) -> String {
    let wash = &of.shop.polish.wash;
    let baths = if wash.is_empty() { "hot detergent, then spirit".to_owned() } else { wash.join(", then ") };
    format!("BARRIER: brush, {baths}, rinse, dry; clean gloves, next cloth, next box")
}
fn who(of: &Contents<'_>, t: &Together) -> Block {
    let rows = t
        .plans
        .iter()
        .map(|i| {
            let plan = &of.making.parts[*i];
            let part = &of.parts[plan.part];
            let order = plan.finish.works.join(", ");
            Row::new([
                Cell::from(Text::from(part.common.name.as_str())),
                Cell::from(Text::from(plan.batch.total.shown().as_str())),
                Cell::from(Text::from(order.as_str())),
            ])
        })
        .collect();
    Block::Table(Table {
        columns: vec![
            Column::auto("part"),
            Column::auto("pieces").right(),
            Column::share("its order of finish", 1.0),
        ],
        rows,
        ruling: Ruling::Rules,
        size: 9.0,
    })
}
/// A box for each piece at one grain.
fn boxes(of: &Contents<'_>, t: &Together) -> Block {
    let words: Vec<String> = t
        .plans
        .iter()
        .map(|i| {
            let plan = &of.making.parts[*i];
            let n = usize::try_from(plan.batch.total.bare().0).unwrap_or(1).max(1);
            let boxes = if n > BOXES { format!("☐ all {n}") } else { "☐".repeat(n) };
            format!("{} {boxes}", of.parts[plan.part].common.name.replace(' ', "\u{a0}"))
        })
        .collect();
    Block::Para(words.join("    ").as_str().into())
}
/// A hatched bar across the sheet: nothing goes past it unwashed.
fn barrier(says: &str) -> Sketch {
    let bar = |x: f64, w: f64| -> BezPath { Rect::new(x, 0.6, x + w, 4.6).to_path(0.01) };
    let hatched =
        |x: f64, w: f64| Mark { path: bar(x, w), pen: Some(Pen::Visible), fill: Tone::None, hatch: true };
    let label = Label {
        at: Point::new(WIDE / 2.0, 1.6),
        anchor: Anchor::Middle,
        turn: 0.0,
        size: 2.6,
        text: says.to_owned(),
        bold: true,
    };
    let side = 12.0;
    Sketch {
        width: WIDE,
        height: 5.2,
        marks: vec![hatched(0.0, side), hatched(WIDE - side, side)]
            .into_iter()
            .chain([0.6, 4.6].map(|y| {
                let mut line = BezPath::new();
                line.move_to((side, y));
                line.line_to((WIDE - side, y));
                Mark { path: line, pen: Some(Pen::Visible), fill: Tone::None, hatch: false }
            }))
            .collect(),
        labels: vec![label],
        scale: (1, 1),
        title: says.to_owned(),
    }
}
