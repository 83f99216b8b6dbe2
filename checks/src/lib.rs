//! Published checks as data, and whole-program tests.
//!
//! A check asks one question of the handbook side and compares the answers with
//! figures from outside: a standard, a handbook, a worked example. The checks
//! are text in `published/*.toml`; [`runner`] reads a folder of them.

pub mod runner;

use reckon::Ask;

/// Every question that a check may ask: those the program answers to a maker.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let mut all = tables::asks();
    for more in [
        teeth::asks(),
        train::asks(),
        escapement::asks(),
        pendulum::asks(),
        power::asks(),
        going::asks(),
        heat::asks(),
        proof::asks(),
        listen::asks(),
        making::asks(),
    ] {
        all.extend(more);
    }
    all
}
