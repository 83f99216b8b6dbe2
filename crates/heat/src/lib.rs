//! Heat and finish: hardening, tempering, warming, quenching, temper colours, polishing, their order and times.
//!
//! No project is known here. Kernels are plain functions: degrees Celsius, seconds,
//! millimetres, micrometres for grains, nanometres for films, SI for all else, as each says.

pub mod caution;
pub mod colour;
pub mod film;
pub mod order;
pub mod polish;
pub mod quench;
pub mod steel;
pub mod temper;
pub mod times;
pub mod warm;

mod asks;

pub use asks::asks;

/// A straight line between neighbours of a table that rises in its first column; none outside it.
fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let pair = points.windows(2).find(|w| (w[0].0..=w[1].0).contains(&x))?;
    let share = (x - pair[0].0) / (pair[1].0 - pair[0].0);
    Some(pair[0].1 + share * (pair[1].1 - pair[0].1))
}
