//! Reads programs of word-address machines (ISO 6983) and proves them by removing metal.
//!
//! Nothing here knows how a program was written. The [`reader`] takes a text and the habits of
//! a [`control::Control`] and gives moves, or every fault with its place. [`turning`],
//! [`milling`] and [`wheel`] then take the moves, the stock and the tools as plain outlines,
//! remove what each move sweeps, and say what is left, what was gouged and which line hit what.
//!
//! Everything is in millimetres, millimetres a minute, revolutions a minute and degrees, as
//! plain `f64`; numbers of a program are exact fractions until a move is made of them.

pub mod arc;
mod asks;
pub mod control;
pub mod fault;
pub mod limits;
pub mod measure;
pub mod milling;
pub mod moves;
mod near;
pub mod picture;
pub mod reader;
pub mod sweep;
pub mod turning;
pub mod wheel;

pub use asks::asks;
pub use control::Control;
pub use fault::{Fault, Spot, Wrong};
pub use moves::{Does, Program, Step};
pub use reader::{Reading, read};
