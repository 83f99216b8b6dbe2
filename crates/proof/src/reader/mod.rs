//! From the text of a program to its moves, or to every fault in it with its place.
//!
//! Nothing is guessed: what a control would read in its own way, or what could be meant in two
//! ways, is a fault. Reading goes on behind a fault, so that all are told in one go.

mod cycle;
mod header;
mod motion;
mod settings;
mod state;
pub mod words;

use crate::control::Control;
use crate::fault::Fault;
use crate::moves::Program;

/// What reading gave: the moves as far as they could be read, and every fault.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reading {
    /// The program; to be relied on only when there are no faults.
    pub program: Program,
    /// Every fault, in the order of the text.
    pub faults: Vec<Fault>,
}

impl Reading {
    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }
}

/// Reads a program as a control would.
#[must_use]
pub fn read(text: &str, control: &Control) -> Reading {
    let mut faults = Vec::new();
    let blocks = words::blocks(text, control, &mut faults);
    let mut state = state::State::new(control);
    for block in &blocks {
        state.block(block);
    }
    let (program, more) = state.finish(&blocks);
    faults.extend(more);
    faults.sort_by_key(|fault| (fault.spot.start, fault.spot.end));
    Reading { program, faults }
}
