//! The plates in plan and in height, with the table of holes and what would touch.

use crate::packet::Contents;
use crate::{Sheet, Typecase};
use ::movement::design::Movement;
use drafting::sketch::Sketch;

/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let _ = (of, m, number, case, drawings);
    Vec::new()
}
