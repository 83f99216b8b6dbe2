//! Teeth: forms of wheels and pinions, and what they do in mesh.
//!
//! Plain functions; no project is known here. Lengths are in modules or in millimetres, as each
//! function says.

mod asks;
pub mod contact;
pub mod crossing;
pub mod curve;
pub mod form;
pub mod involute;
pub mod outline;
pub mod pins;
mod trace;

pub use asks::asks;
