//! Published tables as text, each row with its source, and the look-ups on them.
//!
//! The data lies in `data/*.toml` and is embedded; [`load`] reads it once.
//! Each module answers its questions through its own list, gathered by [`asks`].

pub mod clearance;
pub mod drill;
pub mod fit;
pub mod head;
pub mod load;
pub mod material;
pub mod thread;

use reckon::Ask;

/// Every question this crate answers, in the order of its modules.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let all: Vec<&'static [Ask]> =
        vec![thread::ASKS, fit::ASKS, drill::ASKS, clearance::ASKS, head::ASKS, material::ASKS];
    all.into_iter().flatten().collect()
}
