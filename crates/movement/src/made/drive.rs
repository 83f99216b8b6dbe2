//! Barrel, drum, fusee, ratchets, clicks, weight.

mod barrel;
mod clicks;
pub(crate) mod plain;
mod weight;

use crate::design::Movement;
use crate::part::Part;
use reckon::{Book, Trouble};
use record::facts::MovementFacts;
use tables::material::{Material, find};

/// All of them.
pub(super) fn parts(
    m: &Movement,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let (Some(f), Some(d)) = (&facts.drive, &m.drive) else { return Vec::new() };
    let mut all = Vec::new();
    if let (Some(f), Some(w)) = (&f.weight, &d.weight) {
        all.extend(weight::parts(f, w, m, d.arbor, book));
    }
    if let (Some(s), Some(of)) = (&f.spring, &d.spring) {
        all.extend(barrel::parts(s, of, f, m, d, book, troubles));
    }
    all.extend(clicks::parts(f, d, m, book));
    all
}
fn brass() -> &'static Material {
    find("brass CZ121").expect("turning brass is in the table of materials")
}
fn sheet_brass() -> &'static Material {
    find("brass CZ120").expect("clock brass is in the table of materials")
}
fn steel() -> &'static Material {
    find("silver steel").expect("silver steel is in the table of materials")
}
fn spring_steel() -> &'static Material {
    find("blue spring steel").expect("blue spring steel is in the table of materials")
}
