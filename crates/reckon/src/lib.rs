//! Typed quantities, their text, and the book of workings that explains every number.
//!
//! Three things lie under all of Brasswright and live here:
//! quantities that only allow what means something ([`quantity`]), read exactly
//! from what a maker writes ([`text`]) and printed as a maker reads ([`mod@print`]);
//! the book of workings ([`workings`]); and troubles that say what, where, why
//! and what would do ([`trouble`]).
//!
//! ```
//! use reckon::{Book, Length, Readable, source::GEOMETRY, text, work};
//! let mut book = Book::new();
//! let pivot = book.assumed("centre.pivot", Length::mm(0.97), "as an example");
//! let shake = book.assumed("shake", Length::mm(0.03), "as an example");
//! work!(book, "front.centre.hole", |pivot, shake| pivot + shake, &GEOMETRY);
//! let said = book.explain("front.centre.hole").unwrap().text();
//! assert!(said.starts_with("front.centre.hole = 1.000 mm   = pivot + shake"));
//! assert_eq!(text::read("1 3/8 in", Length::OF), Ok(0.034925));
//! ```

pub mod ask;
pub mod exact;
pub mod maths;
pub mod print;
pub mod quantity;
pub mod source;
pub mod text;
pub mod trouble;
pub mod units;
pub mod workings;

pub use ask::{Ask, Given, Param, Readable};
pub use print::{LengthStyle, Shown};
pub use quantity::*;
pub use source::{Mark, Source};
pub use text::Band;
pub use trouble::{Kind, Place, Trouble, Weight};
pub use units::Dimension;
pub use workings::{Actual, Alternative, Book, Cell, Formula, Id, Line, Origin, Val, slug};
