//! Pendulums: how long, how they are rated, and what disturbs them.
//!
//! SI units inside; no project is known here. A rate is in seconds a day, + gains.

mod asks;

pub use asks::asks;
