//! Programs for a lathe: what is done from the bar at the first setting of a part, tool by tool.
//!
//! Zero is in the axis, on the finished free face. [`stage`] has what each tool does, [`sequence`] puts
//! stages into programs, [`from_plan`] takes them from a plan of making.

pub mod bore;
pub mod from_plan;
mod outside;
pub mod sequence;
pub mod stage;
mod way;

pub use from_plan::{OnLathe, programs, refer};
pub use outside::{Cutting, Form, Rung};
