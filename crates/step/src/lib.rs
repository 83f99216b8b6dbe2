//! Solids of parts as exchange files of ISO 10303-21 to the schema AUTOMOTIVE_DESIGN (AP214).
//!
//! Millimetres. Every face is exact: plane, cylinder, cone, torus, sphere, or a circle revolved where it reaches over
//! the axis. Edges are straight lines and circles. The text depends on what is given alone, so the same part gives
//! the same bytes.

mod body;
mod brep;
mod cut;
mod fault;
mod flat;
mod level;
mod stack;
mod text;
mod tube;
mod turned;

pub use body::{Body, LeftOut, Placement, assembly};
pub use brep::Tally;
pub use fault::Fault;
pub use flat::flat;
pub use stack::{Layer, stack};
pub use turned::turned;
