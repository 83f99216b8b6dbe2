//! Clocks drawn and judged on several threads.

use super::random::unit;
use super::{Outcome, Study};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{Mutex, PoisonError};

/// Clocks that one thread takes at a time.
const BLOCK: u32 = 16;

/// What was drawn, and what became of it: one line a clock.
#[derive(Clone, PartialEq, Debug)]
pub struct Sample {
    /// What was studied.
    pub study: Study,
    /// Seed.
    pub seed: u64,
    /// Clocks that were asked for; there are fewer where it was interrupted.
    pub asked: u32,
    /// Sizes of each clock.
    pub sizes: Vec<Vec<f64>>,
    /// What became of each.
    pub outcomes: Vec<Outcome>,
}
impl Sample {
    /// Clocks drawn.
    #[must_use]
    pub fn clocks(&self) -> usize {
        self.outcomes.len()
    }
    /// Whether it was interrupted.
    #[must_use]
    pub fn partial(&self) -> bool {
        self.clocks() < self.asked as usize
    }
    /// One verdict of every clock.
    pub fn verdict(&self, n: usize) -> impl Iterator<Item = bool> {
        self.outcomes.iter().map(move |o| o.holds[n])
    }
    /// Whether each clock holds all verdicts.
    pub fn all_hold(&self) -> impl Iterator<Item = bool> {
        self.outcomes.iter().map(|o| o.holds.iter().all(|h| *h))
    }
    /// One figure of every clock.
    pub fn figure(&self, n: usize) -> impl Iterator<Item = f64> {
        self.outcomes.iter().map(move |o| o.figures[n])
    }
}
/// Work on blocks of clocks, on threads, until done or stopped: the results of all clocks up to the first that is
/// missing, in their order. A block that was begun is finished, so none is missing before the last.
pub(super) fn over<T: Send>(
    clocks: u32,
    threads: usize,
    stop: &AtomicBool,
    done: &(dyn Fn(u32) + Sync),
    each: &(impl Fn(u32) -> T + Sync),
) -> Vec<T> {
    let next = AtomicU32::new(0);
    let ready = AtomicU32::new(0);
    let found: Mutex<BTreeMap<u32, Vec<T>>> = Mutex::new(BTreeMap::new());
    let work = || {
        while !stop.load(Ordering::Relaxed) {
            let block = next.fetch_add(1, Ordering::Relaxed);
            let first = block.saturating_mul(BLOCK);
            if first >= clocks {
                break;
            }
            let last = first.saturating_add(BLOCK).min(clocks);
            let all: Vec<T> = (first..last).map(each).collect();
            found.lock().unwrap_or_else(PoisonError::into_inner).insert(block, all);
            done(ready.fetch_add(last - first, Ordering::Relaxed) + last - first);
        }
    };
    std::thread::scope(|s| {
        for _ in 1..threads.max(1) {
            s.spawn(work);
        }
        work();
    });
    found.into_inner().unwrap_or_else(PoisonError::into_inner).into_values().flatten().collect()
}
impl Study {
    /// Sizes of a clock, from a table of random numbers.
    #[must_use]
    pub fn sizes(&self, seed: u64, table: u64, clock: u32) -> Vec<f64> {
        let draw = |(d, of): (usize, &super::Dimension)| of.draw.at(unit(seed, table, u64::from(clock), d));
        self.dimensions.iter().enumerate().map(draw).collect()
    }
    /// Draws so many clocks of a seed and judges each, on so many threads. `stop` ends it early; `done` hears how
    /// many are ready.
    pub fn run(
        &self,
        seed: u64,
        clocks: u32,
        threads: usize,
        stop: &AtomicBool,
        done: &(dyn Fn(u32) + Sync),
        outcome: &(impl Fn(&[f64]) -> Outcome + Sync),
    ) -> Sample {
        let all = over(clocks, threads, stop, done, &|clock| {
            let sizes = self.sizes(seed, 0, clock);
            let becomes = outcome(&sizes);
            (sizes, becomes)
        });
        let (sizes, outcomes) = all.into_iter().unzip();
        Sample { study: self.clone(), seed, asked: clocks, sizes, outcomes }
    }
}
