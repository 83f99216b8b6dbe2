//! Decisions: from what was written to a movement that is arithmetically right, goes, and fits its plates.
//!
//! Each step takes what was written and what was decided before, enters its numbers in the book
//! and tells what cannot be. The kernels it leans on know no project.

pub mod arbors;
pub mod layout;
pub mod model;
mod stack;
mod teeth;
mod train;

pub use model::*;

use reckon::{Book, Trouble};
use record::facts::Clock;

/// A movement as decided.
#[derive(Clone, Debug)]
pub struct Movement {
    /// The train.
    pub train: Train,
    /// What each arbor of the train is turned to.
    pub stems: Vec<arbors::Stem>,
    /// Where everything stands.
    pub layout: layout::Layout,
}

/// Works a movement out; none where nothing is written of one.
pub fn movement(clock: &Clock, book: &mut Book) -> (Option<Movement>, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let Some(facts) = &clock.movement else { return (None, troubles) };
    let mut train = train::train(facts, book, &mut troubles);
    teeth::sizes(&mut train, book, &mut troubles);
    let stems = arbors::stems(&train, book, &mut troubles);
    let layout = layout::layout(&train, &stems, facts, None, book, &mut troubles);
    (Some(Movement { train, stems, layout }), troubles)
}
