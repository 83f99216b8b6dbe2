//! What makes one train better than another, in the order in which it is wished.

use super::stage::{Stage, Train, against_power, arbors, spread};
use super::wanted::Wanted;
use reckon::exact::Fraction;
use reckon::print;
use std::collections::BTreeSet;

/// One wish; the less its figure the better.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Wish {
    /// The smaller error.
    SmallError,
    /// Fewest counts that cannot be divided here; the set holds those that can.
    Divides(BTreeSet<u32>),
    /// Fewest different leaf counts: each wants cutters of its own.
    FewestCutters,
    /// Fewest leaf counts with no cutter in the drawer; the set holds those with one.
    CuttersOwned(BTreeSet<u32>),
    /// Fewest pinions with less leaves than this: 8 for a going train, 10 to 12 for fine work.
    LeavesAtLeast(u32),
    /// Ratios of the stages as even as can be.
    EvenRatios,
    /// The greater ratios towards the power, where the module is greatest too.
    PowerFirst,
    /// Fewest teeth in all.
    Small,
    /// The smaller greatest wheel.
    SmallWheel,
    /// Fewest pairs whose counts share a factor: others spread wear over all teeth.
    Hunting,
    /// Pairs of whole ratio, as the trade has long made them: fewest others.
    WholeRatios,
    /// An arbor that can carry a seconds hand, when the first turns clockwise once in so many seconds.
    SecondsHand(Fraction),
}
/// The wishes for a going train in the usual order: error, dividing, leaves, cutters, evenness, size.
#[must_use]
pub fn going_wishes(can_divide: Option<BTreeSet<u32>>, leaves: u32) -> Vec<Wish> {
    let mut all = vec![Wish::SmallError];
    all.extend(can_divide.map(Wish::Divides));
    all.extend([
        Wish::LeavesAtLeast(leaves),
        Wish::FewestCutters,
        Wish::EvenRatios,
        Wish::Small,
        Wish::PowerFirst,
    ]);
    all
}

/// The figure of a train for one wish, exact.
pub type Figure = Fraction;

fn many(n: usize) -> Figure {
    Fraction::whole(i64::try_from(n).unwrap_or(i64::MAX))
}
/// The distance of the ratio from what would be exact, as a share of it; nothing when the terms are too long.
pub(super) fn off(stages: &[Stage], escape: Option<u32>, wanted: &Wanted) -> Option<Fraction> {
    // N/P over n/d, less one, in one fraction.
    let (n, d) = wanted.ratio(escape)?.terms();
    let product =
        |f: fn(&Stage) -> u32| stages.iter().try_fold(1_i128, |all, s| all.checked_mul(i128::from(f(s))));
    let got = product(|s| s.wheel)?.checked_mul(d)?;
    let want = product(|s| s.pinion)?.checked_mul(n)?;
    Fraction::new(got.checked_sub(want)?, want)
}
fn size(f: Fraction) -> Fraction {
    if f < Fraction::ZERO { Fraction::ZERO.minus(f).unwrap_or(f) } else { f }
}
impl Wish {
    /// Whether the most even order with the greatest ratio first serves it as well as any.
    pub(super) const fn served_by_even_order(&self) -> bool {
        !self.looks_at_order() || matches!(self, Wish::EvenRatios | Wish::PowerFirst)
    }
    /// Whether its figure depends on which wheel drives which pinion, or on their order.
    pub(super) const fn looks_at_order(&self) -> bool {
        matches!(
            self,
            Wish::EvenRatios | Wish::PowerFirst | Wish::Hunting | Wish::WholeRatios | Wish::SecondsHand(_)
        )
    }
    /// The figure; the less the better. Nothing when it is too long to be kept whole.
    #[must_use]
    pub fn figure(&self, stages: &[Stage], escape: Option<u32>, wanted: &Wanted) -> Option<Figure> {
        let leaves = || stages.iter().map(|s| s.pinion).collect::<BTreeSet<u32>>();
        let stages_with = |f: &dyn Fn(&Stage) -> bool| many(stages.iter().filter(|s| f(s)).count());
        Some(match self {
            Wish::SmallError => size(off(stages, escape, wanted)?),
            Wish::Divides(can) => {
                let counts = stages.iter().flat_map(|s| [s.wheel, s.pinion]).chain(escape);
                many(counts.collect::<BTreeSet<u32>>().difference(can).count())
            }
            Wish::FewestCutters => many(leaves().len()),
            Wish::CuttersOwned(owned) => many(leaves().difference(owned).count()),
            Wish::LeavesAtLeast(n) => stages_with(&|s| s.pinion < *n),
            Wish::EvenRatios => spread(stages),
            Wish::PowerFirst => Fraction::whole(i64::from(against_power(stages))),
            Wish::Small => {
                Fraction::whole(stages.iter().map(|s| i64::from(s.wheel) + i64::from(s.pinion)).sum())
            }
            Wish::SmallWheel => Fraction::whole(stages.iter().map(|s| i64::from(s.wheel)).max().unwrap_or(0)),
            Wish::Hunting => stages_with(&|s| !s.hunts()),
            Wish::WholeRatios => stages_with(&|s| !s.wheel.is_multiple_of(s.pinion)),
            Wish::SecondsHand(turn) => {
                let all = arbors(stages, *turn, true)?;
                many(usize::from(!all.iter().any(super::stage::ArborTurn::seconds_hand)))
            }
        })
    }
    /// Why a train with the first figure is better than one with the second.
    #[must_use]
    pub fn reason(&self, better: Figure, worse: Figure) -> String {
        let plain = |f: Fraction| print::trimmed(&print::significant(f.to_f64(), 6));
        let (a, b) = (plain(better), plain(worse));
        match self {
            Wish::SmallError => {
                format!("smaller error: {}, against {}", error_words(better), error_words(worse))
            }
            Wish::Divides(_) => format!("counts that cannot be divided here: {a}, against {b}"),
            Wish::FewestCutters => {
                format!("different leaf counts, each with cutters of its own: {a}, against {b}")
            }
            Wish::CuttersOwned(_) => format!("leaf counts with no cutter in the drawer: {a}, against {b}"),
            Wish::LeavesAtLeast(n) => format!("pinions of fewer than {n} leaves: {a}, against {b}"),
            Wish::EvenRatios => {
                format!("ratios of the stages more even: greatest over least {a}, against {b}")
            }
            Wish::PowerFirst => {
                format!("pairs of stages with the smaller ratio nearer to the power: {a}, against {b}")
            }
            Wish::Small => format!("fewer teeth in all: {a}, against {b}"),
            Wish::SmallWheel => format!("greatest wheel smaller: {a} teeth, against {b}"),
            Wish::Hunting => format!("pairs whose counts share a factor: {a}, against {b}"),
            Wish::WholeRatios => format!("pairs whose ratio is not whole: {a}, against {b}"),
            Wish::SecondsHand(_) => "an arbor can carry a seconds hand, and none in the other".to_owned(),
        }
    }
}
/// An error as a share, in words: none, or seconds a day, whichever way.
pub(super) fn error_words(share: Fraction) -> String {
    if share == Fraction::ZERO {
        return "none".to_owned();
    }
    format!("{} s a day", print::trimmed(&print::significant(size(share).to_f64() * 86_400.0, 4)))
}
/// Which of two trains stands first, and by which wish; the last resort is the order of the counts.
pub(super) fn reason(wishes: &[Wish], a: (&[Figure], &Train), b: (&[Figure], &Train)) -> String {
    let differ = wishes.iter().zip(a.0.iter().zip(b.0)).find(|(_, (x, y))| x != y);
    match differ {
        Some((wish, (x, y))) => wish.reason(*x, *y),
        None => format!("equal in all that is wished; {} comes first by its counts", a.1),
    }
}
