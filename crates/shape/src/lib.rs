//! Plane profiles, regions and turned or flat solids, to a stated accuracy.

pub mod flat;
mod flatted;
mod moment;
pub mod outer;
pub mod profile;
pub mod region;
pub mod segment;
pub mod sound;
pub mod turned;
pub mod volume;
