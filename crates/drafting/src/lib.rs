//! Dimensioned drawings of parts: views, lines, sizes placed without overlap.
//!
//! A caller gives a part of `shape`, the sizes the drawing is to say (their text already written) and the paper;
//! it gets a [`sketch::Sketch`] in which no two labels overlap, at the scale at which that was possible, or an
//! error that names the size that found no place. Plain millimetres throughout.

mod board;
mod compose;
pub mod end;
pub mod flat;
mod fold;
pub mod form;
mod linear;
mod pen;
pub mod scale;
pub mod side;
pub mod size;
pub mod sketch;
pub mod text;
pub mod turned;
