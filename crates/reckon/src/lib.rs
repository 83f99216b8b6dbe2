//! Typed quantities, their text, and the book of workings that explains every number.

pub mod maths;
