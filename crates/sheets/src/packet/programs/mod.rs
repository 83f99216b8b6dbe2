//! Sheets of programs: set-up, tools, what the proof found, picture, and the dry run before the first cut.

mod picture;

pub use picture::{Ring, Shown, picture};
