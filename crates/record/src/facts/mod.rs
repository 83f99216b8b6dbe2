//! What was written, as facts with places: the clock and the shop.
//!
//! Each number is a [`Val`](reckon::Val): written by the maker, or assumed and listed as such.

pub mod clock;
pub mod control;
pub mod movement;
mod renamed;
pub mod shop;

pub use clock::*;
pub use control::*;
pub use movement::*;
pub use shop::*;
