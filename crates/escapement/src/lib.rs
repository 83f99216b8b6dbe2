//! Escapements: set out from a few sizes, taken through a whole cycle, judged as made.
//!
//! Plain millimetres and radians on the plane of the escapement; no project is known here.

mod asks;
pub mod frame;

pub use asks::asks;
