//! A solid ready to be written, with what it leaves out.

use crate::brep::{Brep, Tally};
use crate::fault::Fault;
use crate::text;

/// Something of the part that the solid does not show.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Number of the feature in the part, from 0.
    pub feature: usize,
    /// What it is and why it is left out.
    pub why: String,
}

/// The solid of one part.
#[derive(Clone, Debug)]
pub struct Body {
    brep: Brep,
    tally: Tally,
    /// What is not in the solid; empty when all is.
    pub left_out: Vec<LeftOut>,
}

/// Where a part stands in an assembly: turned by an angle about z, then moved.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Placement {
    /// To x.
    pub x: f64,
    /// To y.
    pub y: f64,
    /// To z.
    pub z: f64,
    /// Angle about z, counter-clockwise seen from above, radians.
    pub turn: f64,
    /// Whether the part is first laid over, half a turn about x, so that its z runs down.
    pub over: bool,
}

impl Body {
    pub(crate) fn new(brep: Brep, tally: Tally, left_out: Vec<LeftOut>) -> Body {
        Body { brep, tally, left_out }
    }
    pub(crate) fn brep(&self) -> &Brep {
        &self.brep
    }
    /// Numbers of vertices, edges, faces, loops and through holes.
    #[must_use]
    pub fn tally(&self) -> Tally {
        self.tally
    }
    /// The exchange file of this part. `date` is written as it is (ISO 8601, such as `2000-01-31T12:00:00`); without
    /// one a fixed date stands there, so that the bytes depend on the part alone.
    #[must_use]
    pub fn text(&self, name: &str, date: Option<&str>) -> String {
        text::part(self, name, date)
    }
}

/// The exchange file of several parts, each at its place. A body given more than once under the same name is
/// described once.
///
/// # Errors
/// [`Fault::Empty`] without parts.
pub fn assembly(name: &str, parts: &[(&str, &Body, Placement)], date: Option<&str>) -> Result<String, Fault> {
    if parts.is_empty() { Err(Fault::Empty) } else { Ok(text::assembly(name, parts, date)) }
}
