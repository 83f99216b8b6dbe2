//! Power: springs, barrels, fusees and weights, what is lost on the way, and what teeth and pivots bear.
//!
//! No project is known here.

mod asks;

pub use asks::asks;
