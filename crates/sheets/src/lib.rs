//! A document model, and its PDF and SVG writers; the bench packet.
//!
//! A [`Packet`] is written as blocks, [`lay_out`] brings it onto pages, [`pdf`]
//! and [`svg`] write these. A [`Typecase`] holds the faces; it also tells
//! drawings how wide their labels will be ([`drafting::sketch::Ruler`]), and
//! [`drawing`] makes a page of a single one.
//!
//! Everything on a page is in points with y down; sketches are in millimetres
//! with y up.
//!
//! ```
//! use sheets::{About, Block, Check, Figure, Letters, Operation, Packet, Paper, Sheet, Text, Typecase};
//!
//! let turn = Operation {
//!     number: "3".into(),
//!     title: "Turn the shank".into(),
//!     machine: "bench lathe".into(),
//!     speed: Some(Figure::new("speed", "1 150 rpm").note("14.5 m/min at ⌀4")),
//!     steps: vec![Text::from("Rough to ").bold("⌀4.10").plain(", then measure.")],
//!     checks: vec![Check { what: "shank".into(), limits: "3.92 … 4.00 mm".into(), ..Check::default() }],
//!     ..Operation::default()
//! };
//! let packet = Packet {
//!     paper: Paper::A4,
//!     about: About { title: "Bench packet".into(), day: (2026, 11, 25), ..About::default() },
//!     sheets: vec![Sheet {
//!         title: "Operations".into(),
//!         part: "Bridge screw".into(),
//!         number: "B7-02".into(),
//!         blocks: vec![Block::Operation(Box::new(turn))],
//!     }],
//! };
//! let pages = sheets::lay_out(&Typecase::new(), &packet).expect("nothing is too large");
//! let file = sheets::pdf(&pages).expect("the rules of PDF/A-2u are kept");
//! let drawing = sheets::svg(&pages.pages[0], Letters::Outlines, "p1-");
//! assert!(file.starts_with(b"%PDF-1.7") && drawing.starts_with("<svg"));
//! ```

mod block;
mod drawn;
mod flow;
mod formula;
mod operation;
pub mod packet;
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
