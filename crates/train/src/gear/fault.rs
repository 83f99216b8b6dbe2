//! What can be wrong with a train before any of it is cut.

use reckon::exact::Fraction;
use std::fmt;

/// An arbor that two ways want at two paces.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Contradiction {
    /// Its name.
    pub arbor: String,
    /// Turns an hour by one way, positive clockwise.
    pub by_one: Fraction,
    /// That way, as counts.
    pub one: String,
    /// Turns an hour by the other.
    pub by_other: Fraction,
    /// That way.
    pub other: String,
}
/// A fraction as a maker reads it: `61776/7`.
pub(crate) fn plain(f: Fraction) -> String {
    match f.terms() {
        (n, 1) => n.to_string(),
        (n, d) => format!("{n}/{d}"),
    }
}
fn sense(f: Fraction) -> &'static str {
    if f < Fraction::ZERO { "anticlockwise" } else { "clockwise" }
}
impl fmt::Display for Contradiction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let pace = |x| {
            let n = plain(super::size(x));
            format!("{n} {} an hour {}", if n == "1" { "turn" } else { "turns" }, sense(x))
        };
        write!(
            f,
            "'{}' would turn at two paces: {} by {}, but {} by {}",
            self.arbor,
            pace(self.by_one),
            self.one,
            pace(self.by_other),
            self.other
        )
    }
}

/// What is wrong with a train.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Fault {
    /// A wheel or pinion without teeth.
    NoTeeth {
        /// The mesh.
        mesh: String,
    },
    /// A wheel that drives its own arbor.
    DrivesItself {
        /// The arbor.
        arbor: String,
    },
    /// The arbor whose turns are given is not in the train.
    Unknown {
        /// The arbor.
        arbor: String,
        /// Those that are.
        known: Vec<String>,
    },
    /// An arbor that was said to stand still.
    Stands {
        /// The arbor.
        arbor: String,
    },
    /// Two ways to one arbor disagree.
    Contradiction(Contradiction),
    /// Arbors that drive each other round in a ring.
    Ring {
        /// Each drives the next, the last the first.
        arbors: Vec<String>,
    },
    /// Arbors that no mesh joins to the one that was given.
    Apart {
        /// Their names.
        arbors: Vec<String>,
        /// The one that was given.
        from: String,
    },
    /// Counts too long to be kept whole.
    TooLong {
        /// The arbor where that happened.
        arbor: String,
    },
}
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NoTeeth { mesh } => write!(f, "a wheel in '{mesh}' has no teeth"),
            Fault::DrivesItself { arbor } => write!(f, "'{arbor}' is written to drive itself"),
            Fault::Unknown { arbor, known } => {
                write!(f, "no arbor is called '{arbor}'; there are {}", known.join(", "))
            }
            Fault::Stands { arbor } => write!(f, "'{arbor}' must turn"),
            Fault::Contradiction(c) => c.fmt(f),
            Fault::Ring { arbors } => {
                write!(f, "these drive each other round in a ring: {}", arbors.join(" > "))
            }
            Fault::Apart { arbors, from } => {
                write!(f, "no mesh joins {} to '{from}'", arbors.join(", "))
            }
            Fault::TooLong { arbor } => {
                write!(f, "the turns of '{arbor}' are too long a fraction to be kept whole")
            }
        }
    }
}
