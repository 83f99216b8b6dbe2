//! Whether what was written can be at all, before any shop is asked: sizes that contradict each other.

mod finish;
mod flat;
mod grooves;
mod movement;
mod rings;
mod screws;
mod shop;
mod turned;

pub(crate) use shop::shop;

use crate::facts::{Clock, Common};
use reckon::print::{fixed, trimmed};
use reckon::{Book, Diameter, Length, Origin, Place, Shown, Trouble, Val};

/// Everything that is wrong or doubtful with the parts of a clock.
/// `whole`: nothing was left out for a trouble of its own, so that what is missing is truly not written.
pub(crate) fn clock(clock: &Clock, book: &Book, whole: bool) -> Vec<Trouble> {
    let mut s = Sense { book, troubles: Vec::new() };
    for x in &clock.screws {
        s.finish(&x.common, "screw");
        s.screw(x);
    }
    for x in &clock.studs {
        s.finish(&x.common, "stud");
        s.stud(x);
    }
    for x in &clock.washers {
        s.finish(&x.common, "washer");
        s.washer(x);
    }
    for x in &clock.pillars {
        s.finish(&x.common, "pillar");
        s.pillar(x);
    }
    for x in &clock.feet {
        s.finish(&x.common, "foot");
        s.foot(x);
    }
    for x in &clock.bushes {
        s.finish(&x.common, "bush");
        s.bush(x);
    }
    for x in &clock.collets {
        s.finish(&x.common, "collet");
        s.collet(x);
    }
    for x in &clock.turned {
        s.finish(&x.common, "turned part");
        s.turned(x);
    }
    for x in &clock.flats {
        s.finish(&x.common, "flat part");
        s.flat(x);
    }
    if let Some(m) = &clock.movement {
        s.movement(m, whole);
    }
    s.troubles
}

/// Looks over facts; knows the places of values by the book.
struct Sense<'a> {
    book: &'a Book,
    troubles: Vec<Trouble>,
}
impl Sense<'_> {
    fn tell(&mut self, t: Trouble) {
        self.troubles.push(t);
    }
    /// Where a value is written; nothing for a default.
    fn written<T: Shown>(&self, v: &Val<T>) -> Option<Place> {
        match &self.book.line(v.id())?.origin {
            Origin::Written { at } => Some(at.clone()),
            _ => None,
        }
    }
    /// Where a value is written, else where its part is.
    fn place<T: Shown>(&self, v: &Val<T>, or: &Place) -> Place {
        self.written(v).unwrap_or_else(|| or.clone())
    }
    /// Tells of a contradiction: at the first value, and the other one where it is written.
    fn against<A: Shown, B: Shown>(&mut self, a: &Val<A>, b: &Val<B>, or: &Place, t: Trouble) {
        let t = t.at(self.place(a, or)).at(self.written(b));
        self.tell(t);
    }
}
/// A part as a message calls it.
fn called(common: &Common, kind: &str) -> String {
    format!("{kind} '{}'", common.name)
}
/// A length for a message: no zeros that say nothing.
fn mm(l: Length) -> String {
    format!("{} mm", trimmed(&fixed(l.in_mm(), 3)))
}
/// A size to propose, to a step that can be read on a rule.
fn about(l: Length) -> String {
    mm(Length::mm((l.in_mm() * 20.0).round() / 20.0))
}
/// A diameter for a message.
fn dia(d: Diameter) -> String {
    mm(d.across())
}
/// Nearer than this, two sizes are the same on any bench.
const HAIR: Length = Length::si(1e-7);
