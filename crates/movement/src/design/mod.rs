//! Decisions: from what was written to a movement that is arithmetically right, goes, and fits its plates.
//!
//! Each step takes what was written and what was decided before, enters its numbers in the book
//! and tells what cannot be. The kernels it leans on know no project.

pub mod model;
mod train;

pub use model::*;

use reckon::{Book, Trouble};
use record::facts::Clock;

/// A movement as decided.
#[derive(Clone, Debug)]
pub struct Movement {
    /// The train.
    pub train: Train,
}

/// Works a movement out; none where nothing is written of one.
pub fn movement(clock: &Clock, book: &mut Book) -> (Option<Movement>, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let Some(facts) = &clock.movement else { return (None, troubles) };
    let train = train::train(facts, book, &mut troubles);
    (Some(Movement { train }), troubles)
}
