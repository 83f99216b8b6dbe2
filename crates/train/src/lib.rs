//! Trains: what counts do, which counts do what is wanted, and how a count is divided.
//!
//! Ratios are exact fractions all through; no project is known here.

mod asks;
pub mod dividing;
pub mod gear;
pub mod motion;
pub mod search;
pub mod sky;

pub use asks::asks;
