//! Stages put in order from the power to the escape wheel, and how the arbors turn.

use super::wanted::{Limits, Told};
use reckon::exact::Fraction;
use std::fmt;

/// A wheel and the pinion it drives.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Stage {
    /// Teeth of the wheel.
    pub wheel: u32,
    /// Leaves of the pinion.
    pub pinion: u32,
}
impl Stage {
    /// Turns of the pinion in one turn of the wheel.
    #[must_use]
    pub fn ratio(self) -> Fraction {
        // A pinion has leaves: nothing else comes out of a search.
        Fraction::new(i128::from(self.wheel), i128::from(self.pinion)).unwrap_or(Fraction::ZERO)
    }
    /// Whether the same tooth and leaf meet as seldom as can be: no common factor.
    #[must_use]
    pub const fn hunts(self) -> bool {
        let (mut a, mut b) = (self.wheel, self.pinion);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a == 1
    }
}
impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.wheel, self.pinion)
    }
}
/// A train: stages from the power to the escape wheel.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Train {
    /// Its stages.
    pub stages: Vec<Stage>,
    /// Teeth of the escape wheel, where the search was for beats.
    pub escape: Option<u32>,
}
impl Train {
    /// Product of wheels over product of pinions, or nothing when it is too long to be kept whole.
    #[must_use]
    pub fn ratio(&self) -> Option<Fraction> {
        self.stages.iter().try_fold(Fraction::whole(1), |r, s| r.times(s.ratio()))
    }
    /// What a search's target is compared with: the ratio, or beats in one turn of the first arbor.
    #[must_use]
    pub fn value(&self) -> Option<Fraction> {
        self.ratio()?.times(self.escape.map_or(Fraction::whole(1), |e| Fraction::whole(2 * i64::from(e))))
    }
    /// Wheels in rising order.
    #[must_use]
    pub fn wheels(&self) -> Vec<u32> {
        let mut all: Vec<u32> = self.stages.iter().map(|s| s.wheel).collect();
        all.sort_unstable();
        all
    }
    /// Pinions in rising order.
    #[must_use]
    pub fn pinions(&self) -> Vec<u32> {
        let mut all: Vec<u32> = self.stages.iter().map(|s| s.pinion).collect();
        all.sort_unstable();
        all
    }
}
impl fmt::Display for Train {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, s) in self.stages.iter().enumerate() {
            write!(f, "{}{s}", if i == 0 { "" } else { " × " })?;
        }
        self.escape.map_or(Ok(()), |e| write!(f, ", escape wheel {e}"))
    }
}

/// Least and greatest ratio of the stages.
pub(super) fn spread(stages: &[Stage]) -> Fraction {
    let each = || stages.iter().map(|s| s.ratio());
    match (each().min(), each().max()) {
        (Some(least), Some(most)) => most.over(least).unwrap_or(Fraction::ZERO),
        _ => Fraction::ZERO,
    }
}
/// How many pairs of stages have the smaller ratio nearer to the power.
pub(super) fn against_power(stages: &[Stage]) -> u32 {
    let mut many = 0;
    for (i, first) in stages.iter().enumerate() {
        for later in &stages[i + 1..] {
            many += u32::from(first.ratio() < later.ratio());
        }
    }
    many
}
/// The order in which a set of wheels and pinions makes the best going train, among those that keep the limits.
///
/// Ratios as even as the counts allow (a tooth then bears its fair share of the multiplying), then the
/// greatest ratio towards the power, where the module is greatest too; then the greater pinion there.
#[must_use]
pub fn going_order(wheels: &[u32], pinions: &[u32], limits: &Limits) -> Option<Vec<Stage>> {
    let mut best: Option<(GoingKey, Vec<Stage>)> = None;
    orders(wheels, pinions, limits, &mut |stages| {
        let key = going_key(stages);
        if best.as_ref().is_none_or(|(k, _)| key < *k) {
            best = Some((key, stages.to_vec()));
        }
        true
    });
    best.map(|(_, stages)| stages)
}
pub(super) type GoingKey = (Fraction, u32, Vec<std::cmp::Reverse<u32>>);
pub(super) fn going_key(stages: &[Stage]) -> GoingKey {
    let leaves = stages.iter().map(|s| std::cmp::Reverse(s.pinion)).collect();
    (spread(stages), against_power(stages), leaves)
}
/// Every order of the counts within the limits, each once, until the visitor says no.
pub(super) fn orders(
    wheels: &[u32],
    pinions: &[u32],
    limits: &Limits,
    visit: &mut dyn FnMut(&[Stage]) -> bool,
) {
    let mut wheels = wheels.to_vec();
    wheels.sort_unstable();
    let mut stages = Vec::with_capacity(wheels.len());
    loop {
        let mut pinions = pinions.to_vec();
        pinions.sort_unstable();
        loop {
            stages.clear();
            stages.extend(wheels.iter().zip(&pinions).map(|(w, p)| Stage { wheel: *w, pinion: *p }));
            let kept = stages.iter().enumerate().all(|(i, s)| limits.allow(i, s.wheel, s.pinion));
            if kept && !visit(&stages) {
                return;
            }
            if !next_order(&mut pinions) {
                break;
            }
        }
        if !next_order(&mut wheels) {
            return;
        }
    }
}
/// The next arrangement in dictionary order, equal entries not told apart; false after the last.
fn next_order(list: &mut [u32]) -> bool {
    let Some(i) = (1..list.len()).rev().find(|i| list[i - 1] < list[*i]) else { return false };
    let Some(j) = (i..list.len()).rev().find(|j| list[*j] > list[i - 1]) else { return false };
    list.swap(i - 1, j);
    list[i..].reverse();
    true
}
/// Every train of a set, as the search tells them apart.
pub(super) fn told(
    (wheels, pinions, escape): (&[u32], &[u32], Option<u32>),
    limits: &Limits,
    told: Told,
    give: &mut dyn FnMut(Train) -> bool,
) {
    match told {
        Told::Sets => {
            if let Some(stages) = going_order(wheels, pinions, limits) {
                give(Train { stages, escape });
            }
        }
        Told::Orders => {
            orders(wheels, pinions, limits, &mut |stages| give(Train { stages: stages.to_vec(), escape }));
        }
    }
}

/// How one arbor of a going train turns.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct ArborTurn {
    /// Time of one turn, in the unit of the first arbor's.
    pub turn: Fraction,
    /// Whether it turns clockwise, seen from the dial.
    pub clockwise: bool,
}
impl ArborTurn {
    /// Whether it can carry a seconds hand: one turn in 60 seconds, clockwise. Times are in seconds.
    #[must_use]
    pub fn seconds_hand(&self) -> bool {
        self.clockwise && self.turn == Fraction::whole(60)
    }
}
/// How each arbor turns, the first among them: each mesh turns the sense round.
///
/// `turn` is the time of one turn of the first arbor (3600 seconds for a centre arbor).
/// Nothing when the times are too long to be kept whole.
#[must_use]
pub fn arbors(stages: &[Stage], turn: Fraction, clockwise: bool) -> Option<Vec<ArborTurn>> {
    let mut all = vec![ArborTurn { turn, clockwise }];
    for s in stages {
        let last = all[all.len() - 1];
        all.push(ArborTurn { turn: last.turn.over(s.ratio())?, clockwise: !last.clockwise });
    }
    Some(all)
}
/// Most teeth of a wheel whose outside diameter `module (z + 2 addendum)` must not pass `outside`.
///
/// Both lengths in one unit, the addendum in modules; all exact. Nothing when not even one tooth fits.
#[must_use]
pub fn most_teeth(outside: Fraction, module: Fraction, addendum: Fraction) -> Option<u32> {
    let most = outside.over(module)?.minus(addendum.times(Fraction::whole(2))?)?;
    let (n, d) = most.terms();
    u32::try_from(n.div_euclid(d)).ok().filter(|z| *z > 0)
}
