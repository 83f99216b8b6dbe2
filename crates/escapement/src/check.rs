//! A figure of an escapement beside the limit it must keep.
//!
//! Plain millimetres and radians.

/// What a figure is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Radians.
    Angle,
    /// Millimetres.
    Length,
}

/// Which side of its limit a figure must keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Not below it.
    AtLeast,
    /// Not above it.
    AtMost,
    /// No limit: the figure is only told.
    Told,
}

/// One figure and its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// Short name, lower case with underscores.
    pub key: &'static str,
    /// What it is, in trade words.
    pub says: &'static str,
    /// The figure.
    pub value: f64,
    /// Its limit; nothing where the figure is only told.
    pub limit: f64,
    /// Which side it must keep.
    pub side: Side,
    /// What both are counted in.
    pub unit: Unit,
}
impl Check {
    /// A figure that must not be below a limit.
    #[must_use]
    pub const fn at_least(
        key: &'static str,
        says: &'static str,
        value: f64,
        limit: f64,
        unit: Unit,
    ) -> Check {
        Check { key, says, value, limit, side: Side::AtLeast, unit }
    }
    /// A figure that must not be above a limit.
    #[must_use]
    pub const fn at_most(key: &'static str, says: &'static str, value: f64, limit: f64, unit: Unit) -> Check {
        Check { key, says, value, limit, side: Side::AtMost, unit }
    }
    /// A figure without a limit.
    #[must_use]
    pub const fn told(key: &'static str, says: &'static str, value: f64, unit: Unit) -> Check {
        Check { key, says, value, limit: 0.0, side: Side::Told, unit }
    }
    /// Whether the limit is kept; equality within the rounding of a computation keeps it.
    #[must_use]
    pub fn holds(&self) -> bool {
        let slack = 1e-12;
        match self.side {
            Side::AtLeast => self.value >= self.limit - slack,
            Side::AtMost => self.value <= self.limit + slack,
            Side::Told => true,
        }
    }
}

/// What is wrong with sizes that cannot be set out.
#[derive(Clone, Debug, PartialEq)]
pub struct Amiss {
    /// The size to look at, by its name in the ask.
    pub size: &'static str,
    /// What is wrong with it.
    pub says: String,
}
impl Amiss {
    /// A complaint about one size.
    #[must_use]
    pub fn new(size: &'static str, says: impl Into<String>) -> Amiss {
        Amiss { size, says: says.into() }
    }
}
impl std::fmt::Display for Amiss {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.size, self.says)
    }
}
impl std::error::Error for Amiss {}

/// Refuses what is not a number, or not more than nothing.
pub(crate) fn positive(size: &'static str, v: f64) -> Result<(), Amiss> {
    if v.is_finite() && v > 0.0 { Ok(()) } else { Err(Amiss::new(size, "must be more than nothing")) }
}
/// Refuses what is not a number, or less than nothing.
pub(crate) fn not_negative(size: &'static str, v: f64) -> Result<(), Amiss> {
    if v.is_finite() && v >= 0.0 { Ok(()) } else { Err(Amiss::new(size, "must not be less than nothing")) }
}
