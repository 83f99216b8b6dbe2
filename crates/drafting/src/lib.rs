//! Dimensioned drawings of parts: views, lines, sizes placed without overlap.

pub mod sketch;
