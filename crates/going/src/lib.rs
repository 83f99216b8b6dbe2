//! The clock run in simulation before it is made.
//!
//! SI units and radians throughout; an arc is from the middle to one end.

mod asks;
pub mod beat;
pub mod clocks;
pub mod film;
pub mod forecast;
pub mod model;
pub mod poly;
pub mod series;
pub mod steady;
pub mod study;
pub mod works;

pub use asks::asks;
pub use beat::{Beat, Halt, Ledger};
pub use model::{End, Model};
pub use series::Oscillator;
pub use works::{Even, Pallet, Piece, Side, Works};

/// Seconds of a day.
pub const DAY: f64 = 86_400.0;
