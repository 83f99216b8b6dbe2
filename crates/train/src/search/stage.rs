//! Stages put in order from the power to the escape wheel, and how the arbors turn.

use super::wanted::{Limits, Told};
use reckon::exact::Fraction;
use std::cmp::{Ordering, Reverse};
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
    /// Its ratio against another's, by cross products of counts.
    fn against(self, o: Stage) -> Ordering {
        let left = u64::from(self.wheel) * u64::from(o.pinion);
        left.cmp(&(u64::from(o.wheel) * u64::from(self.pinion)))
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

/// Greatest ratio of the stages over the least.
pub(super) fn spread(stages: &[Stage]) -> Fraction {
    let by = |a: &&Stage, b: &&Stage| a.against(**b);
    match (stages.iter().min_by(by), stages.iter().max_by(by)) {
        (Some(least), Some(most)) => most.ratio().over(least.ratio()).unwrap_or(Fraction::ZERO),
        _ => Fraction::ZERO,
    }
}
/// How many pairs of stages have the smaller ratio nearer to the power.
pub(super) fn against_power(stages: &[Stage]) -> u32 {
    let mut many = 0;
    for (i, first) in stages.iter().enumerate() {
        for later in &stages[i + 1..] {
            many += u32::from(first.against(*later) == Ordering::Less);
        }
    }
    many
}
/// The order in which a set of wheels and pinions makes the best going train, among those that keep the limits.
///
/// The greatest ratio as small as the counts allow, then the next, so that each mesh bears its fair share
/// of the multiplying; the greatest ratio towards the power, where the module is greatest too; of equal
/// ratios the greater pinion there.
///
/// Without limits that is the greatest wheel with the greatest pinion and so down: were a greater wheel on
/// a smaller pinion and the reverse, both ratios of the two exchanged would lie between the two they replace.
#[must_use]
pub fn going_order(wheels: &[u32], pinions: &[u32], limits: &Limits) -> Option<Vec<Stage>> {
    if let Some(stages) = even_order(wheels, pinions, limits) {
        return Some(stages);
    }
    let mut best: Option<(Going, Vec<Stage>)> = None;
    orders(wheels, pinions, limits, &mut |stages| {
        let key = Going::of(stages);
        if best.as_ref().is_none_or(|(k, _)| key < *k) {
            best = Some((key, stages.to_vec()));
        }
        true
    });
    best.map(|(_, stages)| stages)
}
/// The most even order of all, if it keeps the limits.
pub(super) fn even_order(wheels: &[u32], pinions: &[u32], limits: &Limits) -> Option<Vec<Stage>> {
    let (mut wheels, mut pinions) = (wheels.to_vec(), pinions.to_vec());
    wheels.sort_unstable();
    pinions.sort_unstable();
    let mut stages: Vec<Stage> =
        wheels.iter().zip(&pinions).map(|(w, p)| Stage { wheel: *w, pinion: *p }).collect();
    stages.sort_unstable_by(power_first);
    kept(&stages, limits).then_some(stages)
}
/// The greater ratio first, of equal ones the greater pinion.
fn power_first(a: &Stage, b: &Stage) -> Ordering {
    b.against(*a).then(b.pinion.cmp(&a.pinion))
}
fn kept(stages: &[Stage], limits: &Limits) -> bool {
    stages.iter().enumerate().all(|(i, s)| limits.allow(i, s.wheel, s.pinion))
}
/// What a going train is put in order by; the less the better.
#[derive(Clone, Debug)]
pub(super) struct Going {
    /// Stages with the greatest ratio first.
    ratios: Vec<Stage>,
    against_power: u32,
    leaves: Vec<Reverse<u32>>,
}
impl Going {
    pub(super) fn of(stages: &[Stage]) -> Going {
        let mut ratios = stages.to_vec();
        ratios.sort_unstable_by(power_first);
        let leaves = stages.iter().map(|s| Reverse(s.pinion)).collect();
        Going { ratios, against_power: against_power(stages), leaves }
    }
}
impl PartialEq for Going {
    fn eq(&self, o: &Going) -> bool {
        self.cmp(o) == Ordering::Equal
    }
}
impl Eq for Going {}
impl Ord for Going {
    fn cmp(&self, o: &Going) -> Ordering {
        let ratios = self.ratios.iter().zip(&o.ratios).map(|(a, b)| a.against(*b));
        let ratios = ratios.into_iter().find(|c| *c != Ordering::Equal).unwrap_or(Ordering::Equal);
        ratios.then(self.against_power.cmp(&o.against_power)).then_with(|| self.leaves.cmp(&o.leaves))
    }
}
impl PartialOrd for Going {
    fn partial_cmp(&self, o: &Going) -> Option<Ordering> {
        Some(self.cmp(o))
    }
}
/// Every way to pair wheels with pinions whose order with the greatest ratio first keeps the limits.
pub(super) fn pairings(
    wheels: &[u32],
    pinions: &[u32],
    limits: &Limits,
    visit: &mut dyn FnMut(&[Stage]) -> bool,
) {
    let mut wheels = wheels.to_vec();
    wheels.sort_unstable();
    let mut stages = Vec::with_capacity(wheels.len());
    loop {
        stages.clear();
        stages.extend(wheels.iter().zip(pinions).map(|(w, p)| Stage { wheel: *w, pinion: *p }));
        stages.sort_unstable_by(power_first);
        if kept(&stages, limits) && !visit(&stages) || !next_order(&mut wheels) {
            return;
        }
    }
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
            if kept(&stages, limits) && !visit(&stages) {
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
