//! A drawing on paper before any font is known: strokes, fills and labels, in millimetres on paper, x right, y UP.

use kurbo::{BezPath, Point};

/// The kind of line, from which its width and dashes follow (ISO 128-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pen {
    /// Wide continuous: edges and outlines that are seen.
    Visible,
    /// Narrow dashed: edges behind metal.
    Hidden,
    /// Narrow long-dash dot: axes and pitch circles.
    Centre,
    /// Narrow continuous: dimension, extension and leader lines, arrowheads.
    Thin,
    /// Narrow continuous: the root or crest line of a screw thread (ISO 6410-1).
    Thread,
    /// Narrow continuous by hand: where a view is broken off.
    Break,
    /// The frame round a drawing.
    Frame,
}

/// What a closed path is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// Not filled.
    None,
    /// Solid ink.
    Ink,
    /// Paper white, hiding what lies under it.
    White,
    /// A light tint.
    Light,
    /// A middle tint.
    Mid,
    /// A colour: red, green, blue.
    Colour([u8; 3]),
}

/// One path with its stroke and its fill.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The path, in millimetres on paper.
    pub path: BezPath,
    /// The line along the path; none for a bare fill.
    pub pen: Option<Pen>,
    /// The fill inside the path (non-zero winding is not assumed: paths with islands fill even-odd).
    pub fill: Tone,
    /// Whether the inside is hatched at 45°, as a cut face is.
    pub hatch: bool,
}

/// Which end of a label sits at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Anchor {
    /// The text begins at the point.
    Start,
    /// The text is centred on the point.
    Middle,
    /// The text ends at the point.
    End,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The point on the base line, in millimetres on paper.
    pub at: Point,
    /// Which end of the text sits at the point.
    pub anchor: Anchor,
    /// Direction of reading, radians counter-clockwise from rightwards.
    pub turn: f64,
    /// Font size in millimetres.
    pub size: f64,
    /// What it says.
    pub text: String,
    /// Set in bold.
    pub bold: bool,
}

/// A whole drawing, its lower left corner at the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// Width on paper, millimetres.
    pub width: f64,
    /// Height on paper, millimetres.
    pub height: f64,
    /// Strokes and fills, drawn in order.
    pub marks: Vec<Mark>,
    /// Texts, drawn last.
    pub labels: Vec<Label>,
    /// Paper to part: (5, 1) is five times enlarged, (1, 2) half size.
    pub scale: (u32, u32),
    /// What the drawing shows, with its scale.
    pub title: String,
}

/// Who knows how wide text is.
pub trait Ruler {
    /// Width of `text` on one line at font size `size`, millimetres.
    fn width(&self, text: &str, size: f64, bold: bool) -> f64;
    /// Height of the tallest sign above the base line at font size `size`, millimetres.
    fn ascent(&self, size: f64) -> f64;
    /// Depth of the deepest sign below the base line at font size `size`, millimetres, positive.
    fn descent(&self, size: f64) -> f64;
}
