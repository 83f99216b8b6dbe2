//! The movement as a whole: sheets that are of no single part.

mod dial;
mod escapement;
mod going;
mod plates;
mod power;
mod train;

pub use going::pictures as going_pictures;

use super::Contents;
use crate::{Sheet, Typecase};
use drafting::sketch::Sketch;

/// All sheets of the movement, in the order in which a maker needs them.
pub(super) fn sheets(
    of: &Contents<'_>,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let Some(m) = of.movement else { return Vec::new() };
    let mut all = train::sheets(of, m, number, case, drawings);
    all.extend(plates::sheets(of, m, number, case, drawings));
    all.extend(escapement::sheets(of, m, number, case, drawings));
    all.extend(power::sheets(of, m, number, drawings));
    all.extend(going::sheets(of, m, number, case, drawings));
    all.extend(dial::sheets(of, m, number, case, drawings));
    all
}
