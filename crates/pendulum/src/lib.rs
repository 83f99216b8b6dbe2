//! Pendulums: how long, how they are rated, and what disturbs them.
//!
//! SI units inside; no project is known here. A rate is in seconds a day, + gains.
//! An arc is the semi-arc: from the middle to one end of the swing.
//!
//! ```
//! use pendulum::{gravity, swing};
//! let g = gravity::WGS84.at(52.2_f64.to_radians(), 60.0);
//! assert!((swing::length(1.0, g, 0.0) - 0.994_211).abs() < 1e-6);
//! ```

pub mod air;
mod asks;
pub mod compound;
pub mod energy;
pub mod errors;
pub mod gravity;
pub mod impulse;
pub mod log;
pub mod rating;
pub mod root;
pub mod strip;
pub mod sway;
pub mod swing;
pub mod warmth;
pub mod weather;

pub use asks::asks;

/// Seconds in a day.
pub const DAY: f64 = 86_400.0;
