//! With what likelihood a clock goes, when its sizes fall as they do in a shop.
//!
//! A study has dimensions, each with what it is drawn from, and an outcome of their sizes: verdicts that hold or
//! do not, and figures. [`Study::run`] draws so many clocks, on so many threads, and the answer does not depend on
//! how many: each number is had from the seed, the clock and the dimension alone. Interrupted, it answers for the
//! clocks that were drawn, the same as if no more had been asked for.
//!
//! From one sample come likelihoods with their intervals ([`Sample::likely`]), the spread of figures
//! ([`Sample::spread`]), the share of each dimension in it ([`Sample::shares`]) and what tighter limits would give
//! ([`Sample::tighter`]). What dimensions do together needs more clocks: [`Study::together`].
//!
//! ```
//! use going::study::{Dimension, Draw, Outcome, Study};
//! use std::sync::atomic::AtomicBool;
//! // A gap of 0.2 between two sizes: it must stay open.
//! let study = Study {
//!     dimensions: vec![
//!         Dimension::new("hole", Draw::Even { low: 5.0, high: 5.3 }),
//!         Dimension::new("pin", Draw::Even { low: 4.8, high: 5.1 }),
//!     ],
//!     verdicts: vec!["goes in".to_owned()],
//!     figures: vec!["gap".to_owned()],
//! };
//! let gap = |x: &[f64]| Outcome { holds: vec![x[0] > x[1]], figures: vec![x[0] - x[1]] };
//! let sample = study.run(1, 2000, 2, &AtomicBool::new(false), &|_| (), &gap);
//! let likely = sample.likely_all();
//! assert!(likely.low < 17.0 / 18.0 && 17.0 / 18.0 < likely.high);
//! ```

mod answer;
mod draw;
pub mod random;
mod run;
mod shares;
mod tighter;

pub use answer::{LIKELY, Likely, SPREAD, Spread};
pub use draw::{AIMED, Draw, QUANTILE, below, height, place};
pub use run::Sample;
pub use shares::{SHARES, Share, TOGETHER, Together};
pub use tighter::{TIGHTER, Tighter};

/// A size that varies.
#[derive(Clone, PartialEq, Debug)]
pub struct Dimension {
    /// What it is called.
    pub name: String,
    /// What it is drawn from.
    pub draw: Draw,
}
impl Dimension {
    /// Of a name.
    #[must_use]
    pub fn new(name: impl Into<String>, draw: Draw) -> Dimension {
        Dimension { name: name.into(), draw }
    }
}
/// What became of one clock.
#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    /// Whether each verdict holds.
    pub holds: Vec<bool>,
    /// Figures; not a number where there is none.
    pub figures: Vec<f64>,
}
/// What varies, and what is asked.
#[derive(Clone, PartialEq, Debug)]
pub struct Study {
    /// Sizes that vary.
    pub dimensions: Vec<Dimension>,
    /// What the verdicts are called.
    pub verdicts: Vec<String>,
    /// What the figures are called.
    pub figures: Vec<String>,
}
