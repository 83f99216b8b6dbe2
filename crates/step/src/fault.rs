//! What keeps a part from becoming a solid.

/// Why there is no solid.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// The part itself is not sound; what is wrong, in words.
    Unsound(String),
    /// Outlines of two layers that touch cross each other, so that neither lies within the other.
    Crossing {
        /// Number of the lower layer, from 0.
        layer: usize,
    },
    /// Two outlines of one layer cross, or lie within each other without being outline and hole.
    Overlap {
        /// Height at which it was found.
        z: f64,
    },
    /// Faces do not close up; where, in words. A part that is sound does not come to this.
    Leaks(String),
    /// There is nothing to write.
    Empty,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Fault::Unsound(why) => f.write_str(why),
            Fault::Crossing { layer } => {
                write!(
                    f,
                    "the outlines of layers {layer} and {} cross: one must lie within the other",
                    layer + 1
                )
            }
            Fault::Overlap { z } => write!(f, "outlines overlap at z = {z} mm"),
            Fault::Leaks(place) => write!(f, "the faces do not close: {place}"),
            Fault::Empty => f.write_str("there is nothing to write"),
        }
    }
}

impl std::error::Error for Fault {}
