//! Heat that softens or calms: stress out of brass sheet, metal made soft again.

use super::Piece;
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, Spread};
use reckon::{Book, Source, Temperature, Time, Val, judge};
use tables::material::Kind;

/// What calms and softens brass.
pub static BRASS: Source = Source::practice(
    "brass: stress leaves at 250 to 270 °C in an hour without softening; soft at 450 to 550 °C, dull red in the dark",
);

/// Softening or calming as planned.
#[derive(Clone, Debug)]
pub struct Softened {
    /// Heat.
    pub at: Val<Temperature>,
    /// How long.
    pub hold: Val<Time>,
    /// How it cools.
    pub cool: &'static str,
    /// Whether it is done in an oven by a thermometer.
    pub oven: bool,
}
pub(super) fn soften(p: &Piece<'_>, does: &str, book: &mut Book) -> Option<Softened> {
    let material = &p.part.common.material.name;
    let brass = matches!(p.part.common.material.kind, Kind::Brass | Kind::Bronze | Kind::NickelSilver | Kind::Copper);
    let (celsius, minutes, cool) = match (does, brass, p.steel) {
        ("stress relieve", true, _) => (260.0, 60.0, "in the oven with the door shut"),
        ("stress relieve", false, Some(_)) => (600.0, 60.0, "slowly, buried in dry ash"),
        ("anneal", true, _) => (500.0, 10.0, "in air; water does it no harm"),
        ("anneal", false, Some(s)) => {
            let source = s.source;
            let at = book.tabled(p.name("anneal"), Temperature::celsius(f64::midpoint(s.anneal.0, s.anneal.1)), material.clone(), source);
            let hold = book.assumed(p.name("anneal_hold"), Time::si(3600.0), "house default: an hour at heat");
            return Some(Softened { at, hold, cool: "slowly, with the furnace or buried in dry ash", oven: false });
        }
        _ => return None,
    };
    let word = if does == "anneal" { "anneal" } else { "relieve" };
    let at = book.tabled(p.name(word), Temperature::celsius(celsius), material.clone(), &BRASS);
    let hold = book.assumed(p.name(&format!("{word}_hold")), Time::si(minutes * 60.0), "house default");
    let oven = match p.shop.fire.oven {
        Some((greatest, _)) if does != "anneal" => {
            let verdict = judge!(
                book,
                p.name("oven_calms"),
                "the oven of the shop reaches the heat that takes the stress out",
                |at, greatest| at <= greatest,
                &BRASS
            );
            book.cure(verdict.id(), "have it done, or let the sheet lie a year");
            verdict.bare()
        }
        _ => false,
    };
    Some(Softened { at, hold, cool, oven })
}
impl Softened {
    pub(super) fn operation(&self, does: &str) -> Operation {
        let anneal = does == "anneal";
        Operation {
            title: if anneal { "Anneal" } else { "Take the stress out" }.to_owned(),
            lines: vec![
                if anneal {
                    "Evenly, until it just glows in a dark corner; a matchstick drawn over it chars at once. No hotter: the grain grows and it tears.".to_owned()
                } else {
                    "Clamped flat between two plates, in the oven from cold; the hour counts from when a thermometer beside it is there.".to_owned()
                },
                format!("Left to cool {}.", self.cool),
            ],
            tool: Some(if self.oven { "oven, flat plates, thermometer" } else { "torch and brick, even heat" }.to_owned()),
            figures: vec![Figure::of("heat", &self.at), Figure::of("for", &self.hold)],
            checks: vec![seen("flat", "on glass, before and after")],
            cautions: vec![Caution::Hot],
            time: Spread::minutes(5.0, 10.0, 20.0),
            ..Operation::default()
        }
    }
}
