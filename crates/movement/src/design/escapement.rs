//! The escapement as set out: distances, pallets, wheel, and whether it locks, lifts and lets go.

use super::Train;
use reckon::{Book, Length, Trouble, Val};
use record::facts::MovementFacts;

/// The escapement as decided.
#[derive(Clone, Debug)]
pub struct EscapementDesign {
    /// Distance of the pallets' arbor from the escape arbor.
    pub centres: Val<Length>,
}
/// Sets the escapement out; none where nothing is written of one, or it cannot be.
pub(super) fn escapement(
    t: &Train,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let _ = (t, facts.escapement.as_ref()?, book, troubles);
    None
}
