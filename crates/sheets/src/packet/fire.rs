//! The card at the forge: what is heated together, how hot, how long, which colour, with boxes to write what was seen.

use super::{Contents, figures, operations};
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Fit, Picture, Sheet, Text};
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{BezPath, Point, Rect, Shape};
use making::plan::fire::{Blued, Fired};
use making::plan::{Caution as Hurts, PartPlan};
use reckon::{Id, Origin};
use std::collections::BTreeSet;

/// A part at the fire: its plan and what the fire does to it.
type One<'a> = (&'a PartPlan, &'a Fired);

/// A sheet for each batch of like heat.
pub(super) fn sheets(
    of: &Contents<'_>,
    number: &mut dyn FnMut() -> String,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let mut groups: Vec<(String, Vec<One<'_>>)> = Vec::new();
    for plan in &of.making.parts {
        let Some(fired) = &plan.finish.fired else { continue };
        if fired.hardened.is_none() && fired.tempered.is_none() && fired.blued.is_none() && fired.softened.is_none() {
            continue;
        }
        let key = key(of, plan, fired);
        match groups.iter_mut().find(|(k, _)| *k == key) {
            Some((_, all)) => all.push((plan, fired)),
            None => groups.push((key, vec![(plan, fired)])),
        }
    }
    let cards = groups.iter().enumerate();
    cards.map(|(i, (key, all))| card(of, key, all, i + 1, number(), drawings)).collect()
}
/// What has to be alike for a batch: steel, bath, temper, colour.
fn key(of: &Contents<'_>, plan: &PartPlan, f: &Fired) -> String {
    let mut words = vec![of.parts[plan.part].common.material.name.clone()];
    if let Some(h) = &f.hardened {
        words.push(format!("hardened in {}", h.medium));
    }
    if let Some(t) = &f.tempered {
        words.push(format!("tempered at {}", t.at.shown()));
    }
    if let Some(b) = &f.blued {
        words.push(b.name.clone());
    }
    if let Some(s) = &f.softened {
        words.push(format!("held at {}", s.at.shown()));
    }
    words.join(", ")
}
fn card(
    of: &Contents<'_>,
    key: &str,
    all: &[One<'_>],
    n: usize,
    number: String,
    drawings: &mut Vec<(String, Sketch)>,
) -> Sheet {
    let (_, first) = all[0];
    let mut blocks = vec![Block::Heading(1, format!("At the fire {n}: {key}").as_str().into())];
    blocks.push(pieces(of, all));
    let cautions = cautions(first);
    if !cautions.is_empty() {
        let lines: Vec<Text> = cautions.iter().map(|c| c.text().into()).collect();
        blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
    }
    if let Some(s) = &first.softened {
        blocks.push(Block::Heading(2, "Heat".into()));
        blocks.push(large(of, &[("heat", s.at.id()), ("hold", s.hold.id())]));
        blocks.push(Block::Para(format!("Left to cool {}.", s.cool).as_str().into()));
        blocks.push(boxes(&["began", "reached at", "out at", "flat on glass?"]));
    }
    if let Some(h) = &first.hardened {
        blocks.push(Block::Heading(2, "Harden".into()));
        blocks.push(large(of, &[("from", h.from.0.id()), ("heavy pieces", h.from.1.id()), ("soak, in a furnace", h.soak.id())]));
        blocks.push(Block::Steps(vec![
            "Coat and wire; bath, lid, tongs and the way between them tried cold.".into(),
            "Even heat to cherry red in a dark corner, just past where a magnet lets go (770 °C); hold it through.".into(),
            format!("One piece at a time, straight down into {}; moving until cold. One at a time because each must be under within a second.", h.bath).as_str().into(),
            "File: it must skate. Boil the glass off, brush, look for cracks.".into(),
            format!("Comes to {} to {} HRC. If it did not: anneal ({}), and once more.", h.hard.0.shown(), h.hard.1.shown(), h.anneal).as_str().into(),
        ]));
        blocks.push(boxes(&["colour seen", "magnet let go?", "file skates?", "cracks?"]));
    }
    if let Some(t) = &first.tempered {
        blocks.push(Block::Heading(2, "Temper within ten minutes".into()));
        let hrc = reckon::print::significant(t.wanted.bare().value(), 3);
        let mut figures = vec![Figure::new("wanted", format!("{hrc} HRC")).note(t.how.clone())];
        figures.extend(shown(of, &[("temper at", t.at.id()), ("hold", t.hold.id())]));
        blocks.push(Block::Figures(figures));
        blocks.extend(table(of, t.band));
        blocks.push(Block::Remark("The thermometer says the middle line; what is true lies between the first and the last. The colour bears witness: write it down.".into()));
        blocks.push(boxes(&["in at", "out at", "thermometer", "colour seen"]));
    }
    if let Some(b) = &first.blued {
        blocks.push(Block::Heading(2, "Blue, when it is polished and clean".into()));
        blocks.push(large(of, &[("tray", b.tray.id()), ("comes after", b.seconds.id()), ("right for", b.window.id())]));
        let strip = strip(b);
        drawings.push((format!("fire-{n}-colours"), strip.clone()));
        let caption = "Predicted colours on bright polished steel after three minutes. The bar marks what a thermometer as good as this shop's cannot tell apart; the arrow, what is wanted. Order of hues is sure, shade is not: heat a scrap of the same bar first.";
        blocks.push(Block::Picture(Picture { sketch: strip, fit: Fit::True, caption: caption.into() }));
        let pull = b.pull.as_deref().unwrap_or("the colour before");
        blocks.push(Block::Steps(vec![
            "Degreased, dry, never touched by a finger since; tray steady at its heat for five minutes.".into(),
            format!("No more than {} in the tray at once, alike, heads up.", b.at_once.shown()).as_str().into(),
            format!("Watch from the side: out at {pull}, onto cold iron; it carries on by itself.").as_str().into(),
        ]));
        blocks.push(boxes(&["scrap after (s)", "colour of scrap", "batch after (s)", "colour seen"]));
    }
    blocks.push(Block::Remark("What was seen goes into shop.toml as [[fire.coupon]]: the laws of tempering and colour are then those of this shop.".into()));
    Sheet { title: "at the fire".to_owned(), part: String::new(), number, blocks }
}
/// Cautions of all that the card asks for, each once.
fn cautions(f: &Fired) -> Vec<Hurts> {
    let mut all = BTreeSet::new();
    if let Some(h) = &f.hardened {
        all.extend([Hurts::Hot, Hurts::Borate, Hurts::Spirit]);
        all.insert(if h.medium == "oil" { Hurts::OilBath } else { Hurts::WaterBath });
    }
    if f.tempered.is_some() || f.softened.is_some() {
        all.insert(Hurts::Hot);
    }
    if f.blued.is_some() {
        all.insert(Hurts::Tray);
    }
    all.into_iter().collect()
}
/// Which pieces, with a box for each batch.
fn pieces(of: &Contents<'_>, all: &[One<'_>]) -> Block {
    let columns = ["part", "pieces", "section", "seconds to blue", "done"];
    let rows = all
        .iter()
        .map(|(plan, f)| {
            let part = &of.parts[plan.part];
            let seconds = f.blued.as_ref().map_or("–".to_owned(), |b| b.seconds.shown());
            Row::new([
                Cell::from(Text::from(part.common.name.as_str())),
                Cell::from(Text::from(plan.batch.total.shown().as_str())),
                Cell::from(Text::from(figures::shown(of.book, f.section.id(), of.style()).as_str())),
                Cell::from(Text::from(seconds.as_str())),
                Cell::from(Text::from("☐")),
            ])
        })
        .collect();
    Block::Table(Table {
        columns: columns.iter().map(|c| Column::auto(*c)).collect(),
        rows,
        ruling: Ruling::Rules,
        size: 9.5,
    })
}
fn shown(of: &Contents<'_>, ids: &[(&str, Id)]) -> Vec<Figure> {
    ids.iter().map(|(what, id)| Figure::new(*what, figures::shown(of.book, *id, of.style()))).collect()
}
fn large(of: &Contents<'_>, ids: &[(&str, Id)]) -> Block {
    Block::Figures(shown(of, ids))
}
/// Empty boxes to write in.
pub(super) fn boxes(what: &[&str]) -> Block {
    Block::Table(Table {
        columns: what.iter().map(|c| Column::auto(*c)).collect(),
        rows: vec![Row::new(what.iter().map(|_| Cell::from(Text::from("\u{a0}"))))],
        ruling: Ruling::Rules,
        size: 10.5,
    })
}
pub(super) fn table(of: &Contents<'_>, id: Id) -> Option<Block> {
    match &of.book.line(id)?.origin {
        Origin::Table { columns, rows, .. } => Some(Block::Table(operations::table(columns, rows, of.style()))),
        _ => None,
    }
}
/// The strip of colours, with names and temperatures, readable in black and white.
fn strip(b: &Blued) -> Sketch {
    let (wide, high, left) = (14.6, 15.0, 1.0);
    let mut marks = Vec::new();
    let mut labels = Vec::new();
    let rect = |x: f64, y: f64, w: f64, h: f64| -> BezPath { Rect::new(x, y, x + w, y + h).to_path(0.1) };
    for (i, s) in b.strip.iter().enumerate() {
        let x = left + i as f64 * wide;
        marks.push(Mark { path: rect(x, 14.0, wide, high), pen: Some(Pen::Thin), fill: Tone::Colour(s.rgb), hatch: false });
        if s.within {
            marks.push(Mark { path: rect(x, 30.0, wide, 1.6), pen: None, fill: Tone::Ink, hatch: false });
        }
        if s.wanted {
            let tip = x + wide / 2.0;
            let mut arrow = BezPath::new();
            arrow.move_to((tip, 32.2));
            arrow.line_to((tip - 2.0, 36.0));
            arrow.line_to((tip + 2.0, 36.0));
            arrow.close_path();
            marks.push(Mark { path: arrow, pen: None, fill: Tone::Ink, hatch: false });
        }
        let mut say = |y: f64, text: String, bold: bool| {
            let at = Point::new(x + wide / 2.0, y);
            labels.push(Label { at, anchor: Anchor::Middle, turn: 0.0, size: 2.6, text, bold });
        };
        say(9.6, format!("{} °C", reckon::print::fixed(s.celsius, 0)), s.wanted);
        for (row, word) in s.name.split([' ', '-']).enumerate() {
            say(5.8 - 3.2 * row as f64, word.to_owned(), s.wanted);
        }
    }
    Sketch {
        width: left * 2.0 + wide * b.strip.len() as f64,
        height: 37.0,
        marks,
        labels,
        scale: (1, 1),
        title: "temper colours".to_owned(),
    }
}
