//! What happens where wheels and pinions meet.

use super::Train;
use reckon::{Book, Trouble};
use record::facts::MovementFacts;

/// Contact in every pair.
pub(super) fn contact(t: &mut Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let _ = (t, facts, book, troubles);
}
