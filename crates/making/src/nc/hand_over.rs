//! A written program with its set-up, as plain outlines for whoever proves it.
//!
//! Millimetres in the program's own coordinates. Points are (x, y) of the mill's table or (z, radius)
//! of turned work. The first ring of a shape is its outside, the others are holes.

use super::Habits;

/// One closed outline.
pub type Ring = Vec<(f64, f64)>;

/// A part of the work between two heights, the same all through.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Lower face.
    pub low: f64,
    /// Upper face.
    pub high: f64,
    /// Outside and holes; several pieces where there are several.
    pub pieces: Vec<Vec<Ring>>,
}
/// A cutter of a mill, heights from its tip.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterShape {
    /// Its number in the program; 0 where the program names none.
    pub number: u32,
    /// What cuts: height and radius.
    pub profile: Vec<(f64, f64)>,
    /// What must not touch: from, to, radius.
    pub shank: Vec<(f64, f64, f64)>,
    /// From the nose to the tip.
    pub projects: f64,
    /// Largest feed a turn that it stands.
    pub most_feed: Option<f64>,
}
/// A tool of a lathe about its controlled point.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolShape {
    /// Its number in the program; 0 where the program names none.
    pub number: u32,
    /// What cuts: convex outlines.
    pub cutting: Vec<Ring>,
    /// What must not touch: convex outlines.
    pub holder: Vec<Ring>,
    /// Largest feed a turn that it stands.
    pub most_feed: Option<f64>,
    /// Which way it may be fed while it stands in metal.
    pub way: ToolWay,
    /// Deepest dip or thread pass that it stands.
    pub most_bite: Option<f64>,
    /// Nearer to the axis than this radius, it stands no more than this feed.
    pub near_axis: Option<(f64, f64)>,
    /// Fastest that its edge may run, m/min.
    pub most_speed: Option<f64>,
}
/// Which way a tool of a lathe cuts.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum ToolWay {
    /// Any way.
    Any,
    /// Square to the axis.
    Across,
    /// Along the axis.
    Along,
    /// In the axis.
    OnAxis,
    /// Led by the spindle.
    Led,
}
/// How the machine is set up.
#[derive(Clone, Debug, PartialEq)]
pub enum SetUp {
    /// A mill.
    Mill {
        /// The work before.
        stock: Vec<Layer>,
        /// What nothing may touch.
        clamps: Vec<Layer>,
        /// Metal that must stay.
        least: Vec<Layer>,
        /// Metal that may stay.
        most: Vec<Layer>,
        /// Cutters.
        cutters: Vec<CutterShape>,
        /// Lowest and highest place of the cutter along x, y and z.
        travel: [(f64, f64); 3],
    },
    /// A blank in a dividing head, seen along its axis; X runs along it, Y is the distance of the tip from it.
    Wheel {
        /// The blank.
        blank: Vec<Ring>,
        /// Metal of the toothed part that must stay, one of the spaces to the right.
        least: Vec<Ring>,
        /// Metal of it that may stay.
        most: Vec<Ring>,
        /// Radius of what stands behind it.
        backing: f64,
        /// Its faces along X.
        faces: (f64, f64),
        /// How many teeth.
        teeth: u32,
        /// Radius of the cutter.
        radius: f64,
        /// Its form: behind the tip, across.
        form: Ring,
        /// Lowest and highest place of the cutter along x, y and z.
        travel: [(f64, f64); 3],
    },
    /// A lathe.
    Lathe {
        /// The work before.
        stock: Vec<Ring>,
        /// What nothing may touch.
        jaws: Vec<Ring>,
        /// Metal that must stay.
        least: Vec<Ring>,
        /// Metal that may stay.
        most: Vec<Ring>,
        /// Where it is judged.
        judged: Ring,
        /// Tools.
        tools: Vec<ToolShape>,
        /// Lowest and highest place of the tool: radius, z.
        travel: [(f64, f64); 2],
    },
}
/// Operations of a route that a program does, by their titles.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Does {
    /// Titles.
    pub titles: Vec<String>,
    /// Whether the route has no other way of doing them.
    pub alone: bool,
}
/// A program with everything that a proof of it needs, and what its sheet tells.
#[derive(Clone, Debug, PartialEq)]
pub struct Program {
    /// File name without ending.
    pub name: String,
    /// What it does.
    pub title: String,
    /// Index of the part.
    pub part: usize,
    /// The operations of the part's route that it does.
    pub does: Does,
    /// Machine.
    pub machine: String,
    /// Its text.
    pub text: String,
    /// Control it is written for.
    pub habits: Habits,
    /// Set-up.
    pub set_up: SetUp,
    /// How far more or less metal may be left, beyond what the outlines allow.
    pub room: f64,
    /// How the work is held and where its zero is, a sentence a line.
    pub holding: Vec<String>,
    /// Tools: number, what, how it is touched off.
    pub tools: Vec<(u32, String, String)>,
    /// What the maker does after it.
    pub after: Vec<String>,
}
