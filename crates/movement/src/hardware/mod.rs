//! The hardware of a clock: screws, studs, washers, pillars, feet, bushes, collets, and free parts.
//!
//! Each becomes a [`Part`] whose first end is the one that stands free of the bar
//! while it is turned: a screw's point, a bush's plain end, a washer's front.

pub(crate) mod builder;
mod ends;
mod flat;
mod free;
mod screw;
mod small;
mod sound;

use crate::part::{Body, Part, PartKind};
use reckon::{Book, Trouble};
use record::facts::Clock;

pub(crate) use sound::troubles;

/// A turned part from facts that stand in no text, such as a mandrel that the shop makes for itself.
pub fn turned_part(
    kind: PartKind,
    facts: &record::facts::TurnedFacts,
    book: &mut Book,
) -> (Part, Vec<Trouble>) {
    let body = Body::Turned(Box::new(free::turned(facts, book)));
    let part = Part { kind, common: facts.common.clone(), body };
    let found = sound::troubles(&part);
    (part, found)
}
/// A flat part from facts that stand in no text, such as a template that the shop makes for itself.
pub fn flat_part(kind: PartKind, facts: &record::facts::FlatFacts, book: &mut Book) -> (Part, Vec<Trouble>) {
    let (body, mut found) = flat::flat(facts, book);
    let part = Part { kind, common: facts.common.clone(), body: Body::Flat(Box::new(body)) };
    found.extend(sound::troubles(&part));
    (part, found)
}
/// All parts of a clock, in the order in which their kinds stand in the text, and what is wrong with them.
pub fn parts(clock: &Clock, book: &mut Book) -> (Vec<Part>, Vec<Trouble>) {
    let mut all = Vec::new();
    let mut troubles = Vec::new();
    let mut add = |kind, common: &record::facts::Common, body: Body, found: Vec<Trouble>| {
        let part = Part { kind, common: common.clone(), body };
        troubles.extend(found);
        troubles.extend(sound::troubles(&part));
        all.push(part);
    };
    let turned = |t| Body::Turned(Box::new(t));
    for s in &clock.screws {
        add(PartKind::Screw, &s.common, turned(screw::screw(s, book)), Vec::new());
    }
    for s in &clock.studs {
        add(PartKind::Stud, &s.common, turned(screw::stud(s, book)), Vec::new());
    }
    for w in &clock.washers {
        add(PartKind::Washer, &w.common, turned(small::washer(w, book)), Vec::new());
    }
    for p in &clock.pillars {
        add(PartKind::Pillar, &p.common, turned(ends::pillar(p, book)), Vec::new());
    }
    for f in &clock.feet {
        add(PartKind::Foot, &f.common, turned(ends::foot(f, book)), Vec::new());
    }
    for b in &clock.bushes {
        add(PartKind::Bush, &b.common, turned(small::bush(b, book)), Vec::new());
    }
    for c in &clock.collets {
        add(PartKind::Collet, &c.common, turned(small::collet(c, book)), Vec::new());
    }
    for t in &clock.turned {
        add(PartKind::Turned, &t.common, turned(free::turned(t, book)), Vec::new());
    }
    for f in &clock.flats {
        let (body, found) = flat::flat(f, book);
        add(PartKind::Flat, &f.common, Body::Flat(Box::new(body)), found);
    }
    (all, troubles)
}
