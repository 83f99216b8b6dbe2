//! Cannon, minute wheel, hour wheel, hands and dial.

mod dial;
mod hands;
mod works;

use crate::design::Movement;
use crate::part::Part;
use reckon::Book;
use record::facts::MovementFacts;

/// All of them.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let mut all = works::parts(m, facts, book);
    all.extend(hands::parts(m, facts, book));
    all.extend(dial::parts(m, facts, book));
    all.extend(dial::cams(m, book));
    all
}
