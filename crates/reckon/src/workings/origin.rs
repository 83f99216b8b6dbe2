//! A line of the book and how it was had.

use super::Id;
use crate::print::Shown;
use crate::source::Source;
use crate::trouble::Place;

/// A cell of a worked table: as shown, and its SI value where it is a number.
#[derive(Clone, PartialEq, Debug)]
pub struct Cell {
    /// As a reader sees it.
    pub shown: String,
    /// SI value.
    pub si: Option<f64>,
    /// SI unit.
    pub unit: &'static str,
}
impl Cell {
    /// A cell that holds a quantity or a word.
    pub fn of(q: &impl Shown) -> Cell {
        Cell { shown: q.shown(), si: q.si(), unit: q.unit() }
    }
    /// A cell with text of its own beside the quantity's SI value.
    pub fn as_text(q: &impl Shown, shown: impl Into<String>) -> Cell {
        Cell { shown: shown.into(), si: q.si(), unit: q.unit() }
    }
    /// A cell of words.
    pub fn word(text: impl Into<String>) -> Cell {
        Cell { shown: text.into(), si: None, unit: "" }
    }
}

/// A size as it really is, which takes the place of what is computed under its name.
#[derive(Clone, PartialEq, Debug)]
pub struct Actual {
    /// Value, SI.
    pub value: f64,
    /// Journal entry that it comes from.
    pub entry: u64,
    /// Measured with; empty where it was not measured.
    pub tool: String,
    /// By how much it may be off, SI.
    pub give_or_take: Option<f64>,
    /// Whether it was measured; else it is what a finished part was made to.
    pub measured: bool,
}
impl Actual {
    /// One word for how it is known.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        if self.measured { "measured" } else { "made to" }
    }
}

/// One thing that was weighed in a decision.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Alternative {
    /// What it is.
    pub what: String,
    /// Whether it was taken.
    pub taken: bool,
    /// Why, or why not.
    pub why: String,
}

/// How a line of the book was had.
#[derive(Clone, PartialEq, Debug)]
pub enum Origin {
    /// The maker wrote it.
    Written {
        /// Where.
        at: Place,
    },
    /// A default that the maker did not write.
    Assumed {
        /// Why this one.
        why: String,
    },
    /// A row of a table.
    Tabled {
        /// Which row.
        row: String,
        /// Whose table.
        source: &'static Source,
    },
    /// A measurement.
    Measured {
        /// Journal entry.
        entry: u32,
        /// Measured with.
        tool: String,
    },
    /// What it really is, in place of what was computed.
    Actual {
        /// How it is known.
        actual: Actual,
        /// What was computed, as a reader sees it.
        wanted: String,
        /// What was computed, SI.
        wanted_si: f64,
        /// How that was had.
        was: Box<Origin>,
    },
    /// A formula.
    Worked {
        /// The expression that ran.
        formula: &'static str,
        /// The letters in it, in the order of `inputs`.
        letters: &'static [&'static str],
        /// What went in.
        inputs: Vec<Id>,
        /// Whose formula.
        source: &'static Source,
    },
    /// A search for the value that makes something true.
    Solved {
        /// What had to become nothing, or the method.
        formula: String,
        /// What went in.
        inputs: Vec<Id>,
        /// How far from nothing it ended.
        residual: f64,
        /// Steps taken.
        rounds: u32,
        /// Whose formula.
        source: &'static Source,
    },
    /// A decision among alternatives.
    Chosen {
        /// By what rule.
        rule: String,
        /// What was weighed.
        among: Vec<Alternative>,
        /// What went in.
        inputs: Vec<Id>,
        /// Whose rule.
        source: &'static Source,
    },
    /// A table that was worked out row by row.
    Table {
        /// How the rows follow.
        rule: String,
        /// Heads of the columns.
        columns: Vec<String>,
        /// Rows of cells.
        rows: Vec<Vec<Cell>>,
        /// What went in.
        inputs: Vec<Id>,
        /// Whose rule.
        source: &'static Source,
    },
    /// A judgement that holds or does not.
    Verdict {
        /// What is claimed.
        says: String,
        /// The comparison that ran.
        formula: &'static str,
        /// The letters in it.
        letters: &'static [&'static str],
        /// Whether it holds.
        holds: bool,
        /// What went in.
        inputs: Vec<Id>,
        /// What would do if it does not hold, cheapest first.
        cures: Vec<String>,
        /// Whose rule.
        source: &'static Source,
    },
}
impl Origin {
    /// One word for it, as other programs read it.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Origin::Written { .. } => "written",
            Origin::Assumed { .. } => "assumed",
            Origin::Tabled { .. } => "table",
            Origin::Measured { .. } => "measured",
            Origin::Actual { actual, .. } => actual.word(),
            Origin::Worked { .. } => "computed",
            Origin::Solved { .. } => "solved",
            Origin::Chosen { .. } => "chosen",
            Origin::Table { .. } => "worked table",
            Origin::Verdict { .. } => "verdict",
        }
    }
    /// What went in.
    #[must_use]
    pub fn inputs(&self) -> &[Id] {
        match self {
            Origin::Worked { inputs, .. }
            | Origin::Solved { inputs, .. }
            | Origin::Chosen { inputs, .. }
            | Origin::Table { inputs, .. }
            | Origin::Verdict { inputs, .. } => inputs,
            Origin::Actual { was, .. } => was.inputs(),
            _ => &[],
        }
    }
    /// Its source card, where it has one.
    #[must_use]
    pub fn source(&self) -> Option<&'static Source> {
        match self {
            Origin::Tabled { source, .. }
            | Origin::Worked { source, .. }
            | Origin::Solved { source, .. }
            | Origin::Chosen { source, .. }
            | Origin::Table { source, .. }
            | Origin::Verdict { source, .. } => Some(source),
            Origin::Actual { was, .. } => was.source(),
            _ => None,
        }
    }
}

/// One line of the book.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// Its dotted name: stable, and public interface.
    pub name: String,
    /// As a reader sees it.
    pub shown: String,
    /// SI value, where it is a number.
    pub si: Option<f64>,
    /// SI unit.
    pub unit: &'static str,
    /// How it was had.
    pub origin: Origin,
}
