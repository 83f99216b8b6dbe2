//! Rod, bob, rating nut, suspension.

use crate::design::Movement;
use crate::part::Part;
use reckon::{Book, Trouble};
use record::facts::MovementFacts;

/// All of them.
pub(super) fn parts(
    m: &Movement,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let _ = (m, facts, book, troubles);
    Vec::new()
}
