//! A document model, and its PDF and SVG writers; the bench packet.
//!
//! A [`Packet`] is written as blocks, [`lay_out`] brings it onto pages, [`pdf`]
//! and [`svg`] write these. A [`Typecase`] holds the faces; it also tells
//! drawings how wide their labels will be ([`drafting::sketch::Ruler`]), and
//! [`drawing`] makes a page of a single one.
//!
//! Everything on a page is in points with y down; sketches are in millimetres
//! with y up.

mod block;
mod drawn;
mod flow;
mod formula;
mod operation;
mod page;
mod paper;
mod para;
mod pdf;
mod piece;
mod setter;
mod svg;
mod table;
mod template;
mod text;
mod typecase;
mod unprintable;

pub use block::{About, Block, Caution, Check, Figure, Fit, Operation, Packet, Picture, Sheet, Template};
pub use drawn::drawing;
pub use flow::lay_out;
pub use formula::Formula;
pub use page::{Glyph, Ink, Item, Landmark, Page, Pages, Run, Stroke};
pub use paper::{MM, Paper};
pub use para::Side;
pub use pdf::pdf;
pub use svg::{Letters, svg, window};
pub use table::{Cell, Column, Inside, Row, Ruling, Table, Width};
pub use text::{Index, Span, Style, Text};
pub use typecase::{Face, Typecase, faces};
pub use unprintable::Unprintable;
