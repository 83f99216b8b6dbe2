//! Jigs, mandrels, laps and templates: what the shop makes for itself in order to make a part. Each is a
//! part too, with a drawing, a route, hours, and a place in the order before its use.

use super::PartPlan;
use movement::part::Part;

/// A part that is made so that others can be.
#[derive(Clone, Debug)]
pub struct Jig {
    /// What it is.
    pub part: Part,
    /// How it is made.
    pub plan: PartPlan,
    /// Names of the parts that wait for it.
    pub for_parts: Vec<String>,
    /// Why it is needed, in a sentence with the number that decides.
    pub why: String,
}
