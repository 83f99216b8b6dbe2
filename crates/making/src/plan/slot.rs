//! A screwdriver slot, by saw.

use super::bench::Bench;
use super::hole::seen;
use super::{Caution, Check, Figure, Held, Operation, SetUp, Spread};
use reckon::{Length, Source, Val, judge, work};
use record::facts::CutterUse;

/// Widths of slotting saws and what they cut.
pub static SAWS: Source =
    Source::practice("a slotting saw cuts a slot of its own width to two hundredths over");

/// The set-up that saws the slots of a batch.
pub fn slot(b: &mut Bench<'_>, width: Val<Length>, depth: Val<Length>) -> SetUp {
    let near = |c: &&record::facts::Cutter| c.of == CutterUse::SlotSaw && c.made && c.size.is_some();
    let saw = b.shop.cutters.iter().filter(near).filter_map(|c| c.size.map(|s| (c.name.clone(), s))).min_by(
        |x, y| {
            (x.1.bare() - width.bare()).abs().value().total_cmp(&(y.1.bare() - width.bare()).abs().value())
        },
    );
    let tool = match &saw {
        Some((name, size)) => {
            let saw = *size;
            let verdict = judge!(
                b.book,
                b.name("slot.saw_fits"),
                "a saw of the shop is as wide as the slot, within a tenth of a millimetre",
                |saw, width| (saw - width).abs() <= Length::mm(0.1),
                &SAWS
            );
            b.book.cure(verdict.id(), format!("a saw of {}, or a slot as wide as the saw", width.shown()));
            name.clone()
        }
        None => format!("slotting saw {} or a fine hacksaw blade ground to it", width.shown()),
    };
    let mill = b.shop.mills.first();
    let machine = mill.map_or("bench vice".to_owned(), |m| m.name.clone());
    let at = b.name("slot.row");
    let body = b.body;
    let strip = super::jig::strip::strip(&mut b.asking(), body, &at);
    let by = match &strip {
        Some(s) => format!("{} at a time in the {}, in the vice", s.at_once.shown(), s.named.name),
        None => "screw in a split bush tapped to its thread, head up and flush".to_owned(),
    };
    let aim = work!(b.book, b.name("slot.aim"), |depth| depth, &SAWS);
    let mut figures = vec![Figure::of("slot width", &width), Figure::of("slot depth", &aim)];
    let how = if let Some(dial) = mill.and_then(|m| m.dial.as_ref()) {
        figures.push(Figure::as_text("down from touching", &aim, dial.dial().text(aim.bare())));
        "Set the saw to the middle of the head by touching both sides; then all heads at one setting."
    } else {
        "Scribe the middle of the head, start with a file's edge, saw, and finish with a slotting file."
    };
    let mut lines = match &strip {
        Some(s) => {
            figures.push(Figure::of("screws at a time", &s.at_once));
            figures.push(Figure::of("from one to the next", &s.pitch));
            s.lines(mill.is_some())
        }
        None => vec![how.to_owned()],
    };
    lines.push("Take off the burr inside the slot and at its ends.".to_owned());
    let operation = Operation {
        title: "Saw the slot".to_owned(),
        lines,
        tool: Some(tool),
        figures,
        checks: vec![
            Check {
                what: "slot depth".to_owned(),
                limits: Some((depth.bare() + Length::mm(0.05), depth.bare() - Length::mm(0.05))),
                seen: None,
                id: Some(depth.id()),
            },
            seen("slot", "in the middle of the head within 0.05 mm, one width for all"),
        ],
        cautions: vec![Caution::Slotting],
        time: Spread::around(if strip.is_some() { 1.5 } else { 3.0 }),
        does: vec!["slot"],
        ..Operation::default()
    };
    SetUp {
        title: "slots of the whole batch".to_owned(),
        machine,
        held: Held { by, lines: Vec::new(), deepest: None, overhang: None },
        operations: vec![operation],
        time: Spread::around(12.0),
    }
}
