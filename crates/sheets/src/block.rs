//! What a document is made of, before it has pages.

use drafting::sketch::Sketch;

use crate::formula::Formula;
use crate::paper::Paper;
use crate::table::Table;
use crate::text::Text;

/// What is written into a file about it, and at the foot of each page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// Name of the document.
    pub title: String,
    /// Name of the project; stands at the foot.
    pub project: String,
    /// A short remark at the foot of every page.
    pub note: String,
    /// The state of the project that it was made from; becomes the identity of
    /// the file.
    pub stamp: String,
    /// Year, month and day that the file says it was made on.
    pub day: (u16, u8, u8),
}

/// A whole document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Packet {
    /// Size of paper.
    pub paper: Paper,
    /// Title, project, note, stamp and day.
    pub about: About,
    /// Sheets in order; each begins a page.
    pub sheets: Vec<Sheet>,
}

/// One sheet: what one part or one subject needs, over a page or more.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// What kind of sheet it is, as "Operations".
    pub title: String,
    /// The part it is about.
    pub part: String,
    /// The number in the box at the top, as "B7-04"; no box where empty.
    pub number: String,
    /// What stands on it.
    pub blocks: Vec<Block>,
}

/// A piece of a document.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading of level 1, 2 or 3; it goes into the outline of the file.
    Heading(u8, Text),
    /// A paragraph.
    Para(Text),
    /// A remark in small soft type.
    Remark(Text),
    /// A list with dots.
    Dots(Vec<Text>),
    /// A list with numbers from 1.
    Steps(Vec<Text>),
    /// Names and values.
    Facts(Vec<(Text, Text)>),
    /// A table.
    Table(Table),
    /// A formula on a line of its own, with a remark to its right.
    Formula(Formula, Text),
    /// A drawing.
    Picture(Picture),
    /// A warning in a box.
    Caution(Caution),
    /// Large values side by side.
    Figures(Vec<Figure>),
    /// An operation at the bench; in the outline it stands at level 3.
    Operation(Box<Operation>),
    /// Columns side by side with their shares of the width.
    Columns(Vec<(f64, Vec<Block>)>),
    /// Blocks that stay on one page where they fit on one and leave little of
    /// the page before it white.
    Together(Vec<Block>),
    /// A full-size drawing on a page of its own, with bars to check the printer;
    /// in the outline it stands at level 1.
    Template(Template),
    /// The list of what stands in the outline down to this level, with pages.
    Contents(u8),
    /// Empty height in millimetres.
    Gap(f64),
    /// The rest goes on a new page.
    Break,
}

/// How large a drawing is printed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fit {
    /// As it is drawn.
    True,
    /// Made smaller where needed to fit into this width and height in
    /// millimetres; the width of its place goes before. Its type never falls
    /// below 7 pt.
    Within(f64, f64),
}

/// A drawing on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The drawing.
    pub sketch: Sketch,
    /// How large.
    pub fit: Fit,
    /// Words below it.
    pub caption: Text,
}

/// A warning.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Caution {
    /// What the danger is, in a word or two.
    pub title: String,
    /// What to do about it.
    pub lines: Vec<Text>,
}

/// A value to be read at arm's length.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// What it is.
    pub label: String,
    /// The value with its unit.
    pub value: String,
    /// A small remark below it.
    pub note: String,
}

impl Figure {
    /// A figure without a remark.
    #[must_use]
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Self {
        Self { label: label.into(), value: value.into(), note: String::new() }
    }
    /// The same with a remark.
    #[must_use]
    pub fn note(self, note: impl Into<String>) -> Self {
        Self { note: note.into(), ..self }
    }
}

/// One thing to measure when an operation is done.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Check {
    /// What is measured.
    pub what: Text,
    /// Its limits, as "3.98 … 4.00 mm".
    pub limits: Text,
    /// What to measure it with.
    pub with: Text,
    /// The unit printed in the empty box.
    pub unit: String,
}

/// One operation at the bench.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Operation {
    /// Its number, printed large.
    pub number: String,
    /// What is done.
    pub title: Text,
    /// How long it takes, as "12 min"; may be empty.
    pub time: String,
    /// Which machine.
    pub machine: Text,
    /// How the work is held.
    pub grip: Text,
    /// Which tool.
    pub tool: Text,
    /// Further names and values of the setting up.
    pub more: Vec<(Text, Text)>,
    /// Speed of the spindle.
    pub speed: Option<Figure>,
    /// Feed.
    pub feed: Option<Figure>,
    /// What the dials read.
    pub dials: Vec<Figure>,
    /// Warnings, before the steps.
    pub cautions: Vec<Caution>,
    /// What to do in order.
    pub steps: Vec<Text>,
    /// A table of cuts, a picture.
    pub detail: Vec<Block>,
    /// What to measure.
    pub checks: Vec<Check>,
}

/// A full-size drawing to be cut out or glued on.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// The drawing; its scale must be 1 to 1.
    pub sketch: Sketch,
    /// How to use it.
    pub note: Text,
}
