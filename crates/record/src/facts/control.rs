//! The habits of a control that follows programs.

use reckon::{Count, Length, Place, Speed, Val};

/// How the centre of an arc is given.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum ArcCentre {
    /// From where the arc starts.
    FromStart,
    /// From the zero of the work.
    FromZero,
    /// Not at all: short lines stand for arcs.
    Never,
}
/// How a length without a point is read.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum BareLength {
    /// As whole millimetres.
    Whole,
    /// As steps of 0.001 mm.
    Steps,
    /// Not at all.
    Refused,
}
/// Whether a program stands between percent signs.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum PercentSigns {
    /// It must.
    Required,
    /// It may.
    Allowed,
    /// It must not.
    Refused,
}
/// What T says.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum ToolSays {
    /// The tool's number; M6 brings it in.
    Number,
    /// Number and offset; the change comes at once.
    NumberAndOffset,
    /// Nothing: tools are changed by hand.
    Nothing,
}
/// A control, as written.
#[derive(Clone, Debug)]
pub struct ControlFacts {
    /// G and M words of a lathe's control; those of a mill stand with the mill.
    pub words: Vec<String>,
    /// Fastest feed of a lathe's control.
    pub fastest_feed: Option<Val<Speed>>,
    /// Whether X of a lathe is a radius.
    pub radius: bool,
    /// Whether a lathe's slide follows the spindle.
    pub synchronised: bool,
    /// Where the tool stands at the start: x, y, z; y of a lathe is none.
    pub start: Vec<Val<Length>>,
    /// Most decimals.
    pub decimals: Val<Count>,
    /// Lengths without a point.
    pub without_point: BareLength,
    /// Centres of arcs.
    pub arcs: ArcCentre,
    /// How closely short lines follow an arc.
    pub arc_tolerance: Val<Length>,
    /// Percent signs.
    pub percent: PercentSigns,
    /// Comments.
    pub comments: bool,
    /// Numbered lines.
    pub line_numbers: bool,
    /// Longest line.
    pub longest_line: Val<Count>,
    /// Whether a dwell counts thousandths of a second.
    pub milliseconds: bool,
    /// What T says, where written.
    pub tool_word: Option<ToolSays>,
    /// Speed of rapids, where written.
    pub rapid: Option<Val<Speed>>,
    /// Whether rapids of two axes may bend.
    pub bent: bool,
    /// Where it is written.
    pub at: Place,
}
