//! Screw threads: sizes, limits, measuring, cutting, holes and strength.
//!
//! [`find`] reads what a maker writes on a drawing; the rest takes the
//! [`Thread`] it gives. Figures come from tables first; a formula of a standard
//! stands in only where nothing is tabulated, and says so.

pub mod ask;
pub mod ba;
pub mod cut;
pub mod ends;
pub mod form;
pub mod hole;
pub mod iso;
pub mod limits;
mod names;
pub mod passes;
pub mod remaining;
pub mod seat;
mod sizes;
pub mod strength;
pub mod unified;
pub mod wheels;
pub mod whitworth;
pub mod wires;

pub use ask::{ASKS, over_cut};
pub use form::Form;
pub use limits::{Basics, Limits, NutLimits, basics, limits, nut_limits};
pub use names::{find, near};
pub use sizes::all;

use reckon::{Count, Diameter, Length, Source};

/// Series of Unified threads.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Series {
    /// UNC.
    Coarse,
    /// UNF.
    Fine,
    /// UNEF.
    ExtraFine,
}
/// Series of threads of Whitworth form.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum WhitworthSeries {
    /// BSW.
    Standard,
    /// BSF.
    Fine,
    /// ME: the model engineer's 32 and 40 to the inch.
    Model,
}
/// Whose thread it is.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Family {
    /// ISO metric.
    Iso,
    /// ISO 1501 miniature.
    Watch,
    /// Unified.
    Unified(Series),
    /// BA, by number.
    Ba(i64),
    /// Whitworth form.
    Whitworth(WhitworthSeries),
}

/// A thread by its basic sizes.
#[derive(Clone, PartialEq, Debug)]
pub struct Thread {
    /// As written on a drawing: `M3`, `M3x0.35`, `2-56 UNC`, `4 BA`, `1/8x40 ME`.
    pub name: String,
    /// Whose thread it is.
    pub family: Family,
    /// Shape of the groove.
    pub form: &'static Form,
    /// Basic major diameter.
    pub major: Diameter,
    /// From one ridge to the next.
    pub pitch: Length,
    /// Threads in an inch, where that is how the pitch is given.
    pub per_inch: Option<Count>,
    /// Pitch diameter that a table gives; otherwise it follows from the form.
    pub tabled_pitch_diameter: Option<Diameter>,
    /// Minor diameter that a table gives; otherwise it follows from the form.
    pub tabled_minor: Option<Diameter>,
    /// Whether size and pitch stand in the list of the standard.
    pub listed: bool,
    /// Where size and pitch come from.
    pub source: &'static Source,
}
impl Thread {
    /// Basic pitch diameter.
    #[must_use]
    pub fn pitch_diameter(&self) -> Diameter {
        self.tabled_pitch_diameter.unwrap_or(self.major - self.pitch * self.form.pitch_drop)
    }
    /// Basic minor diameter of the nut.
    #[must_use]
    pub fn minor(&self) -> Diameter {
        self.tabled_minor.unwrap_or(self.major - self.pitch * self.form.nut_drop)
    }
    /// Basic root diameter of the screw.
    #[must_use]
    pub fn root(&self) -> Diameter {
        self.tabled_minor.unwrap_or(self.major - self.pitch * self.form.root_drop)
    }
    /// Tolerance class that is usual for the screw.
    #[must_use]
    pub fn usual_class(&self) -> &'static str {
        match self.family {
            Family::Iso if self.major.in_mm() <= 1.4 => "6h",
            Family::Iso => "6g",
            Family::Watch => "",
            Family::Unified(_) => "2A",
            Family::Ba(n) if n <= 10 => "close",
            Family::Ba(_) => "normal",
            Family::Whitworth(_) => "medium",
        }
    }
    /// Tolerance class that is usual for the nut.
    #[must_use]
    pub fn usual_nut_class(&self) -> &'static str {
        match self.family {
            // The pitch of 0.2 mm has no grade 5.
            Family::Iso if self.pitch.in_mm() < 0.22 => "4H",
            Family::Iso if self.major.in_mm() <= 1.4 => "5H",
            Family::Iso => "6H",
            Family::Watch => "",
            Family::Unified(_) => "2B",
            Family::Ba(_) => "normal",
            Family::Whitworth(_) => "medium",
        }
    }
}
/// The name of a line under a prefix, or alone where the prefix is empty.
pub(crate) fn under(prefix: &str, name: &str) -> String {
    if prefix.is_empty() { name.to_owned() } else { format!("{prefix}.{name}") }
}
/// Whether two sizes are the same but for the last bits.
pub(crate) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}
