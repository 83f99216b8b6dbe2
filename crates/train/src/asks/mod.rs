//! Questions that this crate answers.

mod dividing;
mod gear;
mod motion;
mod search;
mod sky;
mod words;

use reckon::Ask;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    [gear::ASKS, motion::ASKS, sky::ASKS, dividing::ASKS, search::ASKS].into_iter().flatten().collect()
}
