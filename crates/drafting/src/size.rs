//! What a drawing is asked to say: sizes, notes and surface marks, their text already written.

use kurbo::Point;
use shape::turned::Side;

/// The text of a size: a nominal, and limits set small one above the other where given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The size itself, "⌀8.00" or "11.0 ±0.1".
    pub nominal: String,
    /// Upper and lower limit, "−0.02" and "−0.05".
    pub limits: Option<(String, String)>,
}

impl Text {
    /// A text with stacked limits.
    #[must_use]
    pub fn limits(nominal: &str, upper: &str, lower: &str) -> Text {
        Text { nominal: nominal.to_owned(), limits: Some((upper.to_owned(), lower.to_owned())) }
    }
}

impl From<&str> for Text {
    fn from(text: &str) -> Text {
        Text { nominal: text.to_owned(), limits: None }
    }
}

impl From<String> for Text {
    fn from(nominal: String) -> Text {
        Text { nominal, limits: None }
    }
}

/// A size asked of the drawing of a turned part; places are millimetres of the part.
#[derive(Clone, Debug, PartialEq)]
pub enum Size {
    /// A length along the axis, from z to z.
    Length {
        /// Nearer the datum.
        from: f64,
        /// Farther from it.
        to: f64,
        /// Whose edges are meant.
        on: Side,
        /// What it says.
        text: Text,
    },
    /// A diameter at z.
    Diameter {
        /// Any z on the cylinder meant.
        at: f64,
        /// Outside or in the bore.
        on: Side,
        /// What it says.
        text: Text,
    },
    /// A leader to a point (z, r): a radius, a chamfer, a remark.
    Note {
        /// Where the arrow points.
        at: Point,
        /// What it says.
        text: Text,
    },
    /// A surface mark on a leader to a point (z, r).
    Surface {
        /// Where the arrow points.
        at: Point,
        /// What it says, "Ra 0.4".
        text: Text,
    },
    /// Sizes of a face groove, on an enlarged detail where the groove is small.
    Groove {
        /// Number of the feature in the part.
        feature: usize,
        /// Diameter of its middle circle.
        diameter: Option<Text>,
        /// Width in the face.
        width: Option<Text>,
        /// Depth.
        depth: Option<Text>,
    },
    /// The width of a slot, on the end view.
    SlotWidth {
        /// Number of the feature in the part.
        feature: usize,
        /// What it says.
        text: Text,
    },
    /// The size across flats, on the end view.
    Across {
        /// Number of the feature in the part.
        feature: usize,
        /// What it says.
        text: Text,
    },
}

/// A size asked of the drawing of a plate; places are millimetres of the part.
#[derive(Clone, Debug, PartialEq)]
pub enum PlateSize {
    /// A distance between two points, measured along x, or along y when upright.
    Between {
        /// One point.
        from: Point,
        /// The other.
        to: Point,
        /// Measured along y.
        upright: bool,
        /// What it says.
        text: Text,
    },
    /// Where a hole is, from the datum: running sizes along two edges.
    Place {
        /// Number of the hole.
        hole: usize,
        /// Its x, as text.
        x: Text,
        /// Its y, as text.
        y: Text,
    },
    /// The size of a hole, or its letter in a list, on a leader.
    Hole {
        /// Number of the hole.
        hole: usize,
        /// What it says.
        text: Text,
    },
    /// A leader to a point.
    Note {
        /// Where the arrow points.
        at: Point,
        /// What it says.
        text: Text,
    },
    /// A surface mark on a leader to a point.
    Surface {
        /// Where the arrow points.
        at: Point,
        /// What it says.
        text: Text,
    },
    /// The thickness, on the edge view.
    Thickness {
        /// What it says.
        text: Text,
    },
}

/// Nine points, the usual size of figures (millimetres).
pub const NINE_POINT: f64 = 9.0 * 25.4 / 72.0;
/// Seven points, the least size of figures (millimetres).
pub const SEVEN_POINT: f64 = 7.0 * 25.4 / 72.0;

/// The paper a drawing is for.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// What the drawing shows; the scale is added.
    pub title: String,
    /// Greatest width, millimetres.
    pub width: f64,
    /// Greatest height, millimetres.
    pub height: f64,
    /// Font size of figures, millimetres; never set below [`SEVEN_POINT`].
    pub figures: f64,
    /// A scale that must be used (paper, part); none leaves the choice to the drawing.
    pub scale: Option<(u32, u32)>,
}

impl Paper {
    /// Paper of a given size, nine-point figures, scale as fits.
    #[must_use]
    pub fn new(title: &str, width: f64, height: f64) -> Paper {
        Paper { title: title.to_owned(), width, height, figures: NINE_POINT, scale: None }
    }
    /// The same held to one scale.
    #[must_use]
    pub fn at_scale(mut self, paper: u32, part: u32) -> Paper {
        self.scale = Some((paper, part));
        self
    }
}

/// Why a drawing cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub enum Unplaced {
    /// At no allowed scale do the views and all sizes fit; the size that failed at the last one tried.
    NoRoom {
        /// The text that found no place; empty when the views alone are too large.
        text: String,
        /// The last scale tried.
        scale: (u32, u32),
    },
    /// A size names a feature or hole that is not there, or not of the kind.
    NoSuch {
        /// Text of the size.
        text: String,
    },
}

impl std::fmt::Display for Unplaced {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unplaced::NoRoom { text, scale: (a, b) } if text.is_empty() => {
                write!(f, "the views do not fit the frame, even at {a}:{b}")
            }
            Unplaced::NoRoom { text, scale: (a, b) } => {
                write!(f, "no place for the size {text} in the frame, even at {a}:{b}")
            }
            Unplaced::NoSuch { text } => write!(f, "the size {text} names a feature that is not in the part"),
        }
    }
}

impl std::error::Error for Unplaced {}
