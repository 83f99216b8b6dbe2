//! Motion work, hands and indications.

use super::{Stand, Train};
use reckon::{Book, Trouble};
use record::facts::MovementFacts;

/// Motion work as decided.
#[derive(Clone, Debug)]
pub struct MotionDesign {}
/// Works the motion work out; none where nothing is written of it. `centre` is where the minute arbor stands.
pub(super) fn motion(
    t: &Train,
    centre: Option<Stand>,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<MotionDesign> {
    let _ = (t, centre, facts.motion_work.as_ref()?, book, troubles);
    None
}
