//! Plane profiles, regions and turned or flat solids, to a stated accuracy.

pub mod region;
pub mod flat;
pub mod profile;
pub mod sound;
pub mod turned;
pub mod volume;
