//! The parts of a clock computed from what was written.
//!
//! [`design`] decides the movement: train, teeth, escapement, pendulum, power, layout.
//! [`hardware`] turns written facts into [`part::Part`]s: a solid, sizes with
//! limits under stable names in the book, and what a drawing has to tell.
//! How a part is made is not known here.

pub mod design;
pub mod hardware;
pub mod joint;
pub mod made;
pub mod part;
