//! Which counts of wheels and pinions give what is wanted: every one within the limits, and none twice.
//!
//! A [`Wanted`] says what the train must do, which counts may be used and where the limits are;
//! [`search`] lists every train that does it, [`best`] keeps the few that serve a list of
//! [wishes](Wish) best and says why one stands before the next, and [`why_not`] says what is in
//! the way when there is none. Whether a train is within the limits is decided by whole numbers alone.
//!
//! A seconds regulator: beats an hour, a wheel of 30 teeth at the escapement, twelve leaves
//! everywhere, and a head that does not divide 96.
//! ```
//! use std::collections::BTreeSet;
//! use train::search::{Target, Wanted, Wish, best};
//!
//! let can: BTreeSet<u32> = (2..=150).filter(|n| n % 32 != 0).collect();
//! let wanted = Wanted {
//!     escape: vec![30],
//!     ..Wanted::new(Target::exact(3600), 2, 60..=150, [12])
//! };
//! let wishes = [Wish::SmallError, Wish::Divides(can), Wish::EvenRatios];
//! let ranked = best(&wanted, &wishes, 5, &mut |_| true).unwrap();
//! assert!(ranked.cover.complete());
//! assert_eq!(ranked.best[0].train.to_string(), "108/12 × 80/12, escape wheel 30");
//! assert_eq!(
//!     ranked.best[0].reason,
//!     "ratios of the stages more even: greatest over least 1.35, against 1.66667"
//! );
//! ```
//!
//! A list that takes long can be stopped, and then says how far it came:
//! ```
//! use train::search::{Target, Wanted, search};
//! let wanted = Wanted::new(Target::exact(60), 2, 48..=120, 7..=16);
//! let found = search(&wanted, &mut |progress| progress.covered == 0).unwrap();
//! assert!(!found.cover.complete());
//! assert!(found.cover.words().starts_with("stopped after "));
//! ```

mod list;
mod rank;
mod stage;
mod sweep;
mod wanted;
mod why;
mod wish;

pub use list::{counts_from, counts_text, stages_from};
pub use rank::{Found, MOST, Ranked, Scored, best, search};
pub use stage::{ArborTurn, Stage, Train, arbors, going_order, most_teeth};
pub use sweep::{Cover, Progress};
pub use wanted::{Limits, Slack, StageLimit, Target, Told, Wanted};
pub use why::{Obstacle, why_not};
pub use wish::{Figure, Wish, going_wishes};

use reckon::Source;

/// Most teeth of a wheel or leaves of a pinion: four such counts multiply to less than 2^54.
pub const MOST_TEETH: u32 = 10_000;

/// How the search is done, and why nothing can escape it.
pub static SEARCH: Source = Source::derived(
    "every set of pinions, each with every set of wheels whose product lies in the window that it leaves",
)
.with_formula("P (t - e) <= product of wheels <= P (t + e)");

#[cfg(test)]
mod tests;
