//! Grasshopper escapements: each pallet arm is a light strut between a joint on the pallet frame and one tooth.
//!
//! Millimetres and radians. Wheel arbor at (0, 0), frame arbor at (0, d), y up; the wheel turns clockwise and its
//! angle is counted clockwise from the line of centres, the frame's angle counter-clockwise from the middle of the
//! swing. The entry arm acts while the frame turns clockwise, from +e to −e, the exit arm on the way back.
//!
//! # Formula
//! A strut pushes or pulls along its own length only. With `a` the moment of that line about the frame arbor and
//! `b` about the wheel arbor, the wheel turns dα/dθ = −a/b for each part of the frame's turn, and the torques stand
//! in the same ratio. Each beat takes half a pitch, so the mean over the escaping arc 2e is (π/z)/(2e) whatever the
//! lengths.

mod cycle;
mod lengths;
mod linkage;
mod outline;
mod sense;
mod set_out;
mod solve;

#[cfg(test)]
mod tests;

use reckon::source::Source;

pub use cycle::{Beat, Captures, Cycle, Fault, Moment, cycle};
pub use lengths::{Quotients, lengths_for};
pub use linkage::{Action, Linkage, Pose, Side, Strut};
pub use outline::{ArmShape, Part, Parts, WheelShape, least_gap, parts};
pub use sense::{Sensitivity, sensitivities};
pub use set_out::{Circle, Line, Mark, SetOut, set_out};
pub use solve::{Design, Joints, NoSolution, Solved, solve};

/// Moments of a two-force strut.
pub static RATIO: Source = Source::derived("moments of a two-force strut about both arbors").with_formula(
    "dα/dθ = −a/b, a and b the moments of the line from tooth to joint about frame and wheel arbor",
);
/// The three conditions of phase.
pub static PHASE: Source =
    Source::derived("each beat takes half a pitch, and an arm lets go as the other catches a tooth").with_formula(
        "α_n(−e) − α_n(e) = p/2; α_x(e) − α_x(−e) = p/2; α_x(−e) − α_n(−e) = K p; struts tangent to the tip circle at θ = 0",
    );
/// Mean ratio over the escaping arc.
pub static MEAN: Source =
    Source::derived("half a pitch of the wheel for the escaping arc of the frame").with_formula("(π/z)/(2e)");
/// What follows from the solved linkage.
pub static CYCLE: Source = Source::derived("the linkage taken through both beats");
