//! The card at the forge: what is heated together, how hot, how long, which colour, with boxes to write what was seen.

use super::{Contents, figures, operations};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Fit, Picture, Sheet, Text};
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{BezPath, Point, Rect, Shape};
use making::plan::fire::{Card, HEATS, Patch, spared};
use making::plan::{Operation, PartPlan};
use reckon::{Id, Origin};
use std::collections::BTreeSet;

/// A part at the fire: its plan, its operation and what its card tells.
type One<'a> = (&'a PartPlan, &'a Operation, &'a Card);

/// Batches of like heat, in the order in which heats follow each other.
fn groups<'a>(of: &Contents<'a>) -> Vec<Vec<One<'a>>> {
    let mut all: Vec<Vec<One<'a>>> = Vec::new();
    for plan in of.making.parts.iter().chain(of.making.jigs.iter().map(|j| &j.plan)) {
        for op in plan.setups.iter().flat_map(|s| &s.operations) {
            let Some(card) = op.heat.as_deref() else { continue };
            match all.iter_mut().find(|g| g[0].2.like == card.like) {
                Some(g) => g.push((plan, op, card)),
                None => all.push(vec![(plan, op, card)]),
            }
        }
    }
    all.sort_by_key(|g| HEATS.iter().position(|h| *h == g[0].2.word));
    all
}
/// What the part of a plan is called, a jig's too.
fn name<'a>(of: &Contents<'a>, plan: &PartPlan) -> &'a str {
    let own = of.parts.get(plan.part).map(|p| &p.common.name);
    let jig = || of.making.jigs.iter().find(|j| j.plan.part == plan.part).map(|j| &j.part.common.name);
    own.or_else(jig).map_or("", String::as_str)
}
/// Number of the card that a heat stands on.
pub(super) fn number_of(of: &Contents<'_>, card: &Card) -> Option<usize> {
    groups(of).iter().position(|g| g[0].2.like == card.like).map(|i| i + 1)
}
/// A sheet for each batch of like heat.
pub(super) fn sheets(
    of: &Contents<'_>,
    number: &mut dyn FnMut() -> String,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let groups = groups(of);
    let last = groups.len();
    let cards = groups.iter().enumerate();
    cards.map(|(i, g)| card(of, g, (i + 1, last), number(), drawings)).collect()
}
fn card(
    of: &Contents<'_>,
    all: &[One<'_>],
    (n, last): (usize, usize),
    number: String,
    drawings: &mut Vec<(String, Sketch)>,
) -> Sheet {
    let (_, _, first) = all[0];
    let style = of.style();
    let mut blocks =
        vec![Block::Heading(1, Text::from(format!("At the fire {n}: {}", first.title).as_str()))];
    let large = first.large.iter().map(|f| Figure::new(f.label.as_str(), figures::sentence(&f.text, style)));
    blocks.push(Block::Figures(large.collect()));
    let hurts: BTreeSet<_> = all.iter().flat_map(|(_, op, _)| op.cautions.iter().copied()).collect();
    let lines: Vec<Text> = hurts.iter().map(|c| c.text().into()).collect();
    if !lines.is_empty() {
        blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
    }
    blocks.extend(pieces(of, all));
    blocks.push(Block::Steps(first.lines.iter().map(|l| figures::sentence(l, style).into()).collect()));
    let mut also: Vec<(String, Vec<&str>)> = Vec::new();
    for (plan, _, card) in all {
        for line in &card.also {
            let name = name(of, plan);
            match also.iter_mut().find(|(l, _)| l == line) {
                Some((_, names)) => names.push(name),
                None => also.push((line.clone(), vec![name])),
            }
        }
    }
    if !also.is_empty() {
        let said = also.iter().map(|(l, names)| {
            let said =
                if names.len() == all.len() { l.clone() } else { format!("{}: {l}", names.join(", ")) };
            figures::sentence(&said, style).into()
        });
        blocks.push(Block::Dots(said.collect()));
    }
    if !first.strip.is_empty() {
        let strip = strip(&first.strip);
        drawings.push((format!("fire-{n}-colours"), strip.clone()));
        let whose = if all.len() > 1 && first.word == "blue" {
            format!(" For {}; the others as in the list.", name(of, all[0].0))
        } else {
            String::new()
        };
        let caption = format!(
            "Predicted: {}.{whose} The bar marks what may be seen when oven and thermometer are off as far as they may be, the arrow what is wanted. The order of hues is sure, their shade and the nanometres of film are not.",
            first.strip_says
        );
        blocks.push(Block::Picture(Picture {
            sketch: strip,
            fit: Fit::True,
            caption: caption.as_str().into(),
        }));
    }
    blocks.push(Block::Together(vec![
        Block::Heading(3, "Seen".into()),
        boxes(&first.write),
        Block::Remark("What was seen goes into shop.toml as [[fire.coupon]]: tempering and colour are then reckoned as this shop finds them.".into()),
    ]));
    if n == last {
        blocks.extend(cold(of));
    }
    Sheet { title: "at the fire".to_owned(), part: String::new(), number, blocks }
}
/// What must not be heated, told once, on the last card.
fn cold(of: &Contents<'_>) -> Vec<Block> {
    let mut all: Vec<(String, Vec<&str>)> = Vec::new();
    for p in of.parts {
        let Some(why) = spared(p) else { continue };
        match all.iter_mut().find(|(w, _)| *w == why) {
            Some((_, names)) => names.push(&p.common.name),
            None => all.push((why, vec![&p.common.name])),
        }
    }
    if all.is_empty() {
        return Vec::new();
    }
    let lines = all.iter().map(|(why, names)| Text::from(format!("{}: {why}", names.join(", ")).as_str()));
    vec![Block::Together(vec![Block::Heading(2, "What stays cold".into()), Block::Dots(lines.collect())])]
}
/// Which pieces, what is their own, and a box for each; for a blue the passes they go in.
fn pieces(of: &Contents<'_>, all: &[One<'_>]) -> Vec<Block> {
    let (_, _, first) = all[0];
    let blue = first.word == "blue";
    let mut order: Vec<&One<'_>> = all.iter().collect();
    if blue {
        order.sort_by(|a, b| a.2.lump.total_cmp(&b.2.lump));
    }
    let mut columns = vec!["part", "pieces"];
    columns.extend(first.own.iter().map(|f| f.label.as_str()));
    if blue {
        columns.push("pass");
    }
    columns.push("done");
    let (mut pass, mut lightest) = (1, f64::NAN);
    let rows = order.iter().map(|(plan, _, card)| {
        let mut cells = vec![name(of, plan).to_owned(), plan.batch.total.shown()];
        for label in &columns[2..2 + first.own.len()] {
            let own = card.own.iter().find(|f| f.label == *label);
            cells.push(own.map_or("\u{2013}".to_owned(), |f| figures::sentence(&f.text, of.style())));
        }
        if blue {
            if lightest.is_nan() {
                lightest = card.lump;
            } else if card.lump > lightest * heat::warm::SAME {
                (pass, lightest) = (pass + 1, card.lump);
            }
            cells.push(pass.to_string());
        }
        cells.push("\u{2610}".to_owned());
        Row::new(cells.iter().map(|c| Cell::from(Text::from(c.as_str()))))
    });
    let rows: Vec<Row> = rows.collect();
    let columns = columns.iter().map(|c| Column::auto(*c)).collect();
    vec![Block::Table(Table { columns, rows, ruling: Ruling::Rules, size: 9.0 })]
}
/// Empty boxes to write in.
pub(super) fn boxes(what: &[&str]) -> Block {
    let rows = (0..2).map(|_| Row::new(what.iter().map(|_| Cell::blank()))).collect();
    Block::Table(Table {
        columns: what.iter().map(|c| Column::share(*c, 1.0)).collect(),
        rows,
        ruling: Ruling::Rules,
        size: 10.5,
    })
}
pub(super) fn table(of: &Contents<'_>, id: Id) -> Option<Block> {
    match &of.book.line(id)?.origin {
        Origin::Table { columns, rows, .. } => {
            Some(Block::Table(operations::table(columns, rows, of.style())))
        }
        _ => None,
    }
}
/// The strip of colours, with name, time or temperature, and film under each: readable in black and white.
fn strip(patches: &[Patch]) -> Sketch {
    let (high, left) = (14.0, 1.0);
    #[expect(clippy::cast_precision_loss, reason = "a strip has a dozen colours at most")]
    let place = |i: usize| i as f64;
    let wide = (172.0 / place(patches.len().max(1))).min(30.0);
    let mut marks = Vec::new();
    let mut labels = Vec::new();
    let rect = |x: f64, y: f64, w: f64, h: f64| -> BezPath { Rect::new(x, y, x + w, y + h).to_path(0.1) };
    for (i, p) in patches.iter().enumerate() {
        let x = left + place(i) * wide;
        marks.push(Mark {
            path: rect(x, 17.0, wide, high),
            pen: Some(Pen::Thin),
            fill: Tone::Colour(p.rgb),
            hatch: false,
        });
        if p.inside {
            marks.push(Mark { path: rect(x, 32.0, wide, 1.6), pen: None, fill: Tone::Ink, hatch: false });
        }
        if p.aim {
            let tip = x + wide / 2.0;
            let mut arrow = BezPath::new();
            arrow.move_to((tip, 34.2));
            arrow.line_to((tip - 2.0, 38.0));
            arrow.line_to((tip + 2.0, 38.0));
            arrow.close_path();
            marks.push(Mark { path: arrow, pen: None, fill: Tone::Ink, hatch: false });
        }
        let mut say = |y: f64, text: String, bold: bool| {
            let at = Point::new(x + wide / 2.0, y);
            labels.push(Label { at, anchor: Anchor::Middle, turn: 0.0, size: 2.6, text, bold });
        };
        let (first, rest) = p.at.split_once(" (").unwrap_or((&p.at, ""));
        say(12.6, p.name.clone(), p.aim);
        say(9.0, first.to_owned(), p.aim);
        if !rest.is_empty() {
            say(5.6, rest.trim_end_matches(')').to_owned(), false);
        }
        say(2.2, format!("{} nm", reckon::print::fixed(p.film, 0)), false);
    }
    Sketch {
        width: left * 2.0 + wide * place(patches.len()),
        height: 39.0,
        marks,
        labels,
        scale: (1, 1),
        title: "temper colours".to_owned(),
    }
}
