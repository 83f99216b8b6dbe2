//! A clock heard: from a recording to its beat, its rate, its beat error and the doubt of each.
//!
//! A recording is heard twice. First ([`First`]) only how strong the tick band is, thousandth by thousandth
//! of a second: the beat is found in that without being told, and followed. Then ([`Second`]) the short
//! pieces around each beat as fine as they were recorded: what ticks have in common is learnt and each is laid
//! on it, so that its time is known to a small part of a sample. A straight line through the times gives the
//! rate; what is left of it, wheels that run out of round, lost and doubled ticks.
//!
//! Functions of samples alone: whoever calls reads the file, twice. Times in s, rates in s/day, + gains.

pub mod asks;
mod beat;
mod first;
mod follow;
mod heard;
mod line;
mod matched;
mod others;
mod periods;
mod recorder;
mod second;
mod sieve;
pub mod synthetic;
mod trace;
mod verdict;
pub mod wav;

pub use asks::asks;
pub use first::{First, Health};
pub use heard::{Beat, Between, Heard, Hint, Rate, hear};
pub use line::Line;
pub use others::{Extra, Others, TOLD, Why};
pub use periods::{Periodic, Wheel};
pub use recorder::{Recorder, UNKNOWN};
pub use second::Second;
pub use trace::picture;
pub use verdict::{Trust, Verdict};
