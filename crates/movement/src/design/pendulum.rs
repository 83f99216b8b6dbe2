//! The pendulum: how long, how it is rated, what disturbs it.

use super::Train;
use reckon::{Book, Length, Trouble, Val};
use record::facts::{Clock, MovementFacts};

/// The pendulum as decided.
#[derive(Clone, Debug)]
pub struct PendulumDesign {
    /// Length of the simple pendulum that beats with it, at its running arc.
    pub length: Val<Length>,
}
/// Works the pendulum out; none where nothing is written of one.
pub(super) fn pendulum(
    t: &Train,
    clock: &Clock,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<PendulumDesign> {
    let _ = (t, clock, facts.pendulum.as_ref()?, book, troubles);
    None
}
