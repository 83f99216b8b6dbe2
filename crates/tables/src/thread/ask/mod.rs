//! Questions about threads.

mod cutting;
mod holding;
mod measuring;
mod remaining;
mod shape;
mod sizing;

pub use remaining::over_cut;

use reckon::Ask;

/// Every question about threads.
pub static ASKS: &[Ask] = &[
    sizing::BASIC,
    sizing::LIMITS,
    sizing::NUT_LIMITS,
    sizing::BLANK,
    sizing::FORM,
    sizing::BA_RULE,
    sizing::PREFERRED,
    sizing::ISO_TOLERANCES,
    measuring::WIRES,
    measuring::WIRES_INVERSE,
    measuring::HELIX,
    measuring::VIRTUAL,
    cutting::DEPTH,
    cutting::TIP,
    cutting::INFEED,
    cutting::PASSES,
    cutting::CORRECT,
    remaining::REMAINING,
    cutting::CARRIAGE,
    cutting::CHANGE_WHEELS,
    cutting::SPRING,
    cutting::CUT_LIMIT,
    cutting::RUNOUT,
    holding::TAP_DRILL,
    holding::STRESS_AREA,
    holding::ENGAGEMENT,
    holding::TIGHTEN,
    holding::SLOT,
];
