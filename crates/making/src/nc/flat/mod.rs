//! Programs of small flat parts: holes spotted or drilled, windows cleared, the outline cut round bridges.
//!
//! What is cut, with what and how deep, is a [`Job`]; [`written`] gives its texts. Each program has one tool where
//! the control changes none, and is handed over with the metal as the programs before it left it.

mod hand;
pub mod path;

pub use hand::{Piece, written};
pub use path::{Going, Tabs};

use kurbo::Point;

/// What a program cuts.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// Holes are spotted for the drill: where, and how large they may become.
    Spots(Vec<(Point, f64)>),
    /// Holes are drilled: where.
    Holes(Vec<Point>),
    /// The windows of the part.
    Windows,
    /// The outline of the part.
    Outline(Option<Tabs>),
}
/// The tool of a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// Name.
    pub name: String,
    /// Diameter.
    pub across: f64,
    /// Full angle of its point; none of an end mill.
    pub point: Option<f64>,
    /// Length that cuts.
    pub flutes: f64,
    /// From the nose to the tip.
    pub projects: f64,
    /// Largest feed a turn that it stands.
    pub most_feed: f64,
}
/// One cut of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What.
    pub what: What,
    /// With what.
    pub tool: Tool,
    /// Turns a minute.
    pub rpm: f64,
    /// Feed, mm/min.
    pub feed: f64,
    /// Feed down, mm/min.
    pub down: f64,
    /// Deepest step of an end mill.
    pub step: f64,
    /// Dips of a drill: depth of the tip, and whether it comes out after it.
    pub dips: Vec<(f64, bool)>,
}
/// All that a mill does to one part by program.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What is cut, in order.
    pub cuts: Vec<Cut>,
    /// How far the sheet stands out beyond the part all round, inside its clamps.
    pub margin: f64,
    /// Left on walls for the last round.
    pub leave: f64,
    /// How far below the lower face an end mill and the full width of a drill go.
    pub below: f64,
    /// How much more or less metal the proof allows.
    pub room: f64,
}
