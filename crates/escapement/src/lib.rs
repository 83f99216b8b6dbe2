//! Escapements: set out from a few sizes, taken through a whole cycle, judged as made.
//!
//! Plain millimetres and radians on the plane of the escapement; no project is known here.

pub mod as_made;
mod asks;
pub mod check;
pub mod cycle;
pub mod dead_beat;
pub mod diagnose;
pub mod frame;
pub mod grasshopper;
pub mod outline;
pub mod pin_wheel;
pub mod recoil;
pub mod sensitivity;
pub mod setting_out;
pub mod touch;

pub use asks::asks;
