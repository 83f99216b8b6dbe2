//! Questions that this crate answers.

mod bodies;
mod disturb;
mod made;
mod nut;
mod simple;
mod strip;
mod swinging;
mod take;
mod weather;

use reckon::Ask;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    [simple::ASKS, made::ASKS, strip::ASKS, nut::ASKS, disturb::ASKS, swinging::ASKS, weather::ASKS]
        .into_iter()
        .flatten()
        .collect()
}
