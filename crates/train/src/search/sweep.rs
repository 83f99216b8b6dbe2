//! The search itself: complete, each set once, whole numbers only.
//!
//! Pinions are taken as sets of equal product P. The window of the ratio leaves a window of
//! whole numbers for the product N of the wheels, from the least N >= P·low to the greatest
//! N <= P·high. Sets of wheels whose product lies in it are found from the sorted products of
//! all pairs: one wheel leaves a run of pairs (three stages), one pair leaves a run of pairs
//! (four), and the run moves one way only as the first pair grows. A set a <= b <= c <= d is
//! met once, as its sorted parts.

use super::wanted::{Plan, Window};
use std::ops::Range;

/// How far a search has come.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Progress {
    /// Sets of counts settled so far.
    pub covered: u128,
    /// Sets of counts in all.
    pub size: u128,
    /// Sets of counts so far that give what is wanted.
    pub found: u64,
}
/// How much of what was to be searched was searched.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Cover {
    /// Sets of wheels, pinions and escape wheel that were settled.
    pub covered: u128,
    /// Sets there are; a set stands for all its orders.
    pub size: u128,
}
impl Cover {
    /// Whether nothing was left out.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.covered == self.size
    }
    /// In words: "all 532,900 combinations covered".
    #[must_use]
    pub fn words(&self) -> String {
        match (self.size, self.complete()) {
            (0, _) => "no combination to cover".to_owned(),
            (1, true) => "the only combination covered".to_owned(),
            (_, true) => format!("all {} combinations covered", grouped(self.size)),
            (_, false) => {
                // In hundredths of a per cent, rounded down: an unfinished search never says 100 %.
                let share = self.covered.saturating_mul(10_000) / self.size;
                format!(
                    "stopped after {} of {} combinations ({}.{:02} %): the list is not complete",
                    grouped(self.covered),
                    grouped(self.size),
                    share / 100,
                    share % 100
                )
            }
        }
    }
}
fn grouped(n: u128) -> String {
    let digits = n.to_string();
    let mut out = String::new();
    for (i, d) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(d);
    }
    out
}

/// Up to four counts in rising order, then noughts.
type Four = [u32; 4];

/// What a visitor wants.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub(super) enum Go {
    /// Counts as found.
    Found,
    /// Does not keep the limits.
    Passed,
    /// No more.
    Stop,
}

/// Is shown wheels, pinions and the escape wheel.
type Visitor<'a> = dyn FnMut(&[u32], &[u32], Option<u32>) -> Go + 'a;

/// Visits every set within the windows: wheels and pinions in rising order, and the escape wheel.
pub(super) fn sweep(
    plan: &Plan,
    progress: &mut dyn FnMut(Progress) -> bool,
    visit: &mut Visitor<'_>,
) -> Cover {
    let k = plan.stages;
    let wheel_sets = multisets(plan.wheels.len(), k);
    let size = wheel_sets * multisets(plan.pinions.len(), k) * plan.windows.len() as u128;
    let mut at = Progress { covered: 0, size, found: 0 };
    if size == 0 || !progress(at) {
        return Cover { covered: 0, size };
    }
    let wheels = Wheels::new(&plan.wheels, k);
    for chunk in chunks(&plan.pinions, k) {
        for run in chunk.chunk_by(|a, b| a.0 == b.0) {
            for window in &plan.windows {
                let mut stopped = false;
                let left = room(run[0].0, window).is_none_or(|(low, high)| {
                    let ended = wheels.within(low, high, &mut |found| {
                        for (_, pinions) in run {
                            match visit(&found[..k], &pinions[..k], window.escape) {
                                Go::Found => at.found += 1,
                                Go::Passed => {}
                                Go::Stop => stopped = true,
                            }
                            if stopped {
                                return false;
                            }
                        }
                        true
                    });
                    ended && !stopped
                });
                if !left {
                    return Cover { covered: at.covered, size };
                }
                at.covered += wheel_sets * run.len() as u128;
                if !progress(at) {
                    return Cover { covered: at.covered, size };
                }
            }
        }
    }
    Cover { covered: at.covered, size }
}
/// Sets of k out of n with repetition: (n+k-1)! / (k! (n-1)!).
fn multisets(n: usize, k: usize) -> u128 {
    // Each step divides evenly: the product so far is the number of sets of i + 1.
    (0..k).fold(1, |many, i| many * (n + i) as u128 / (i as u128 + 1))
}
/// The whole numbers N with P low <= N <= P high, if any.
fn room(p: u64, window: &Window) -> Option<(u64, u64)> {
    let ((ln, ld), (hn, hd)) = (window.low.terms(), window.high.terms());
    let p = i128::from(p);
    // Checked when the plan was made: these products fit.
    let (low, high) = (p * ln, p * hn);
    let low = low.div_euclid(ld) + i128::from(low.rem_euclid(ld) != 0);
    let high = high.div_euclid(hd);
    let low = u64::try_from(low.max(0)).ok()?;
    (i128::from(low) <= high).then(|| (low, u64::try_from(high).unwrap_or(u64::MAX)))
}
/// Above this many sets of pinions they are taken in chunks, one for each least pinion.
const AT_ONCE: u128 = 400_000;

/// Sets of pinions with their product, sorted, in one chunk or several.
fn chunks(pinions: &[u32], k: usize) -> Box<dyn Iterator<Item = Vec<(u64, Four)>> + '_> {
    let sorted = move |first: Range<usize>| {
        let mut sets = Vec::new();
        for i in first {
            gather(&pinions[i..], k, 1, (u64::from(pinions[i]), [pinions[i], 0, 0, 0]), &mut sets);
        }
        sets.sort_unstable();
        sets
    };
    if multisets(pinions.len(), k) <= AT_ONCE {
        Box::new(std::iter::once(sorted(0..pinions.len())))
    } else {
        Box::new((0..pinions.len()).map(move |i| sorted(i..i + 1)))
    }
}
fn gather(rest: &[u32], k: usize, at: usize, (product, set): (u64, Four), out: &mut Vec<(u64, Four)>) {
    if at == k {
        out.push((product, set));
        return;
    }
    for (i, p) in rest.iter().enumerate() {
        let mut set = set;
        set[at] = *p;
        gather(&rest[i..], k, at + 1, (product * u64::from(*p), set), out);
    }
}

/// Two counts and their product.
#[derive(Copy, Clone)]
struct Pair {
    product: u64,
    a: u32,
    b: u32,
}
/// The wheels, ready for windows.
struct Wheels<'a> {
    k: usize,
    each: &'a [u32],
    /// All a <= b, by product and then by a.
    pairs: Vec<Pair>,
}
impl Wheels<'_> {
    fn new(each: &[u32], k: usize) -> Wheels<'_> {
        let mut pairs = Vec::new();
        if k > 1 {
            for (i, a) in each.iter().enumerate() {
                pairs.extend(each[i..].iter().map(|b| Pair {
                    product: u64::from(*a) * u64::from(*b),
                    a: *a,
                    b: *b,
                }));
            }
            pairs.sort_unstable_by_key(|p| (p.product, p.a));
        }
        Wheels { k, each, pairs }
    }
    fn run(&self, low: u64, high: u64) -> &[Pair] {
        let from = self.pairs.partition_point(|p| p.product < low);
        let many = self.pairs[from..].iter().take_while(|p| p.product <= high).count();
        &self.pairs[from..from + many]
    }
    /// Every set whose product lies in low..=high, each once; false when the visitor ended it.
    fn within(&self, low: u64, high: u64, visit: &mut dyn FnMut(&Four) -> bool) -> bool {
        match self.k {
            1 => self
                .each
                .iter()
                .filter(|a| (low..=high).contains(&u64::from(**a)))
                .all(|a| visit(&[*a, 0, 0, 0])),
            2 => self.run(low, high).iter().all(|p| visit(&[p.a, p.b, 0, 0])),
            3 => self.threes(low, high, visit),
            _ => self.fours(low, high, visit),
        }
    }
    fn threes(&self, low: u64, high: u64, visit: &mut dyn FnMut(&Four) -> bool) -> bool {
        let greatest = self.pairs.last().map_or(0, |p| p.product);
        for a in self.each {
            let n = u64::from(*a);
            if n * n * n > high {
                break;
            }
            // An exact product leaves only its divisors; a low one cannot reach.
            if n * greatest < low || (low == high && !low.is_multiple_of(n)) {
                continue;
            }
            for p in self.run(low.div_ceil(n), high / n) {
                if p.a >= *a && !visit(&[*a, p.a, p.b, 0]) {
                    return false;
                }
            }
        }
        true
    }
    fn fours(&self, low: u64, high: u64, visit: &mut dyn FnMut(&Four) -> bool) -> bool {
        // As the first pair grows its partners shrink: both ends of the run only move down.
        let (mut from, mut to) = (self.pairs.len(), self.pairs.len());
        for first in &self.pairs {
            let n = first.product;
            // The second pair is never the smaller.
            if n * n > high {
                break;
            }
            let (least, most) = (low.div_ceil(n), high / n);
            while to > 0 && self.pairs[to - 1].product > most {
                to -= 1;
            }
            while from > 0 && self.pairs[from - 1].product >= least {
                from -= 1;
            }
            for p in &self.pairs[from.min(to)..to] {
                if p.a >= first.b && !visit(&[first.a, first.b, p.a, p.b]) {
                    return false;
                }
            }
        }
        true
    }
}
