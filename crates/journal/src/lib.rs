//! What was done and measured: entries of a journal, and how things stand after them.
//!
//! A journal only grows. A wrong entry is struck by another, which says why; both stay readable, and how
//! things stood after any entry can be had again. Where entries are kept is not known here: see [`Keeps`].

pub mod doubt;
pub mod entry;
pub mod keeps;
pub mod line;
pub mod standing;

pub use doubt::{Doubt, Expected, doubts};
pub use entry::{Entry, Learnt, Pace, Rating, Reading, State, Step, Wanted, What};
pub use keeps::{Keeps, Kept, Lost};
pub use standing::{Actual, Standing};
