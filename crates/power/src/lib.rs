//! Power: springs, barrels, fusees and weights, what is lost on the way, and what teeth and pivots bear.
//!
//! No project is known here. Kernels are plain functions over numbers in units
//! that belong together; questions take and give typed quantities.

pub mod budget;
pub mod caution;
pub mod fusee;
pub mod hands;
pub mod keep;
pub mod load;
pub mod spring;
pub mod stopwork;
pub mod weight;

mod asks;
#[cfg(test)]
mod tests;

pub use asks::asks;
pub use budget::Band;
pub use caution::{CAUTION_LEAD, CAUTION_LINE, CAUTION_MAINSPRING, CAUTION_WEIGHT};
