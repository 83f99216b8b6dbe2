//! What is wanted of a train, and the limits it must keep.

use super::MOST_TEETH;
use super::list::counts_text;
use super::stage::{Stage, Train};
use reckon::Trouble;
use reckon::exact::Fraction;
use reckon::print;

/// How far from the wanted value a train may be; the bounds themselves are allowed.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Slack {
    /// Not at all.
    None,
    /// By this much of the value's own unit, either way.
    Absolute(Fraction),
    /// By this share of the value, either way.
    Share(Fraction),
    /// By so many seconds in a day of 86 400 seconds: a share of s/86400.
    SecondsADay(Fraction),
    /// By so many seconds in each turn of the last arbor, when the first turns once in `turn` seconds:
    /// s/turn in the ratio.
    SecondsATurn {
        /// Seconds in each turn of the last arbor.
        seconds: Fraction,
        /// Seconds in one turn of the first arbor.
        turn: Fraction,
    },
}
/// The value that is wanted, and how far from it a train may be.
///
/// Without escape wheels it is the ratio, product of wheels over product of pinions. With them
/// it is the beats in one turn of the first arbor, 2 E times that ratio.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Target {
    /// The value.
    pub value: Fraction,
    /// How far from it a train may be.
    pub slack: Slack,
}
impl Target {
    /// A whole number and nothing else.
    #[must_use]
    pub const fn exact(value: i64) -> Target {
        Target { value: Fraction::whole(value), slack: Slack::None }
    }
    /// The least and the greatest value allowed; nothing when the terms are too large.
    #[must_use]
    pub fn window(&self) -> Option<(Fraction, Fraction)> {
        let by = match self.slack {
            Slack::None => Fraction::ZERO,
            Slack::Absolute(by) => by,
            Slack::Share(share) => self.value.times(share)?,
            Slack::SecondsADay(s) => self.value.times(s.over(Fraction::whole(86_400))?)?,
            Slack::SecondsATurn { seconds, turn } => seconds.over(turn)?,
        };
        Some((self.value.minus(by)?, self.value.plus(by)?))
    }
}

/// What is told apart in the list of trains.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Told {
    /// Sets of wheels and of pinions. Each is listed once, in the order that [`going_order`](super::going_order)
    /// finds best; it is listed if at least one order of it keeps every limit.
    Sets,
    /// Trains stage by stage from the power to the escape wheel: the same counts in another order count anew.
    Orders,
}

/// Limits of one stage; what is not given does not bind.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct StageLimit {
    /// Wheels that may stand here; nothing: any of the train's.
    pub wheels: Option<Vec<u32>>,
    /// Pinions that may stand here; nothing: any of the train's.
    pub pinions: Option<Vec<u32>>,
    /// Least ratio, wheel over pinion.
    pub least_ratio: Option<Fraction>,
    /// Greatest ratio.
    pub greatest_ratio: Option<Fraction>,
    /// Most teeth on the wheel; [`most_teeth`](super::most_teeth) finds it from a size and a module.
    pub most_teeth: Option<u32>,
    /// Greatest sum of wheel and pinion: twice the centre distance over the module.
    pub greatest_sum: Option<u32>,
    /// Least sum of wheel and pinion.
    pub least_sum: Option<u32>,
}
impl StageLimit {
    /// Whether a wheel and its pinion keep these limits.
    #[must_use]
    pub fn allows(&self, wheel: u32, pinion: u32) -> bool {
        let listed = |list: &Option<Vec<u32>>, n: u32| list.as_ref().is_none_or(|l| l.contains(&n));
        // wheel/pinion against num/den by cross products: counts fit 32 bits, the terms 127.
        let against = |limit: Option<Fraction>, keeps: fn(Fraction, Fraction) -> bool| {
            limit.is_none_or(|l| {
                Fraction::new(i128::from(wheel), i128::from(pinion)).is_some_and(|r| keeps(r, l))
            })
        };
        listed(&self.wheels, wheel)
            && listed(&self.pinions, pinion)
            && against(self.least_ratio, |r, l| r >= l)
            && against(self.greatest_ratio, |r, l| r <= l)
            && self.most_teeth.is_none_or(|most| wheel <= most)
            && self.greatest_sum.is_none_or(|most| wheel.saturating_add(pinion) <= most)
            && self.least_sum.is_none_or(|least| wheel.saturating_add(pinion) >= least)
    }
    fn binds(&self) -> bool {
        *self != StageLimit::default()
    }
}
/// Limits of a train.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Limits {
    /// Of every stage.
    pub every: StageLimit,
    /// Of each stage from the power to the escape wheel; stages beyond the list have none of their own.
    pub each: Vec<StageLimit>,
    /// Most different leaf counts: each wants cutters of its own.
    pub most_leaf_counts: Option<usize>,
}
impl Limits {
    /// Whether a wheel and its pinion may stand at a stage, counted from the power.
    #[must_use]
    pub fn allow(&self, stage: usize, wheel: u32, pinion: u32) -> bool {
        self.every.allows(wheel, pinion) && self.each.get(stage).is_none_or(|l| l.allows(wheel, pinion))
    }
    /// Whether any limit looks at how the counts are put together.
    pub(super) fn bind_stages(&self) -> bool {
        self.every.binds() || self.bind_single_stages()
    }
    /// Whether a limit tells one stage from another.
    pub(super) fn bind_single_stages(&self) -> bool {
        self.each.iter().any(StageLimit::binds)
    }
}

/// What is wanted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wanted {
    /// The value.
    pub target: Target,
    /// Meshes, 1 to 4.
    pub stages: usize,
    /// Counts that a wheel may have.
    pub wheels: Vec<u32>,
    /// Counts that a pinion may have.
    pub pinions: Vec<u32>,
    /// Counts that the escape wheel may have; with any, the target is beats in one turn of the first arbor.
    pub escape: Vec<u32>,
    /// The only counts that can be made here, for wheels, pinions and escape wheel alike; nothing: all.
    pub only: Option<std::collections::BTreeSet<u32>>,
    /// Limits.
    pub limits: Limits,
    /// What is told apart.
    pub told: Told,
}
impl Wanted {
    /// A ratio from counts alone: no escape wheel, no limits, sets told apart.
    pub fn new(
        target: Target,
        stages: usize,
        wheels: impl IntoIterator<Item = u32>,
        pinions: impl IntoIterator<Item = u32>,
    ) -> Wanted {
        Wanted {
            target,
            stages,
            wheels: wheels.into_iter().collect(),
            pinions: pinions.into_iter().collect(),
            escape: Vec::new(),
            only: None,
            limits: Limits::default(),
            told: Told::Sets,
        }
    }
    /// The ratio of the train that would be exact with this escape wheel; nothing when the terms are too large.
    #[must_use]
    pub fn ratio(&self, escape: Option<u32>) -> Option<Fraction> {
        per_escape(self.target.value, escape)
    }
    /// Why a train is not in the list of what is wanted, each reason a sentence; none when it is.
    ///
    /// With sets told apart the order of the stages does not matter, unless a limit binds a stage.
    #[must_use]
    pub fn refuses(&self, train: &Train) -> Vec<String> {
        let mut all = Vec::new();
        if train.stages.len() != self.stages {
            all.push(format!("it has {} stages, and {} are wanted", train.stages.len(), self.stages));
        }
        let wheels: Vec<u32> = train.stages.iter().map(|s| s.wheel).collect();
        let pinions: Vec<u32> = train.stages.iter().map(|s| s.pinion).collect();
        let escape: Vec<u32> = train.escape.into_iter().collect();
        let lists = [
            ("wheel", &wheels, &self.wheels),
            ("pinion", &pinions, &self.pinions),
            ("escape wheel", &escape, &self.escape),
        ];
        for (what, used, allowed) in lists {
            let out: Vec<u32> = used.iter().copied().filter(|n| !allowed.contains(n)).collect();
            if !out.is_empty() {
                all.push(format!("{} is not allowed for a {what}", counts_text(&out)));
            }
        }
        if train.escape.is_none() && !self.escape.is_empty() {
            all.push("it has no escape wheel".to_owned());
        }
        let counts = wheels.iter().chain(&pinions).chain(&escape);
        let undivided: Vec<u32> = counts.copied().filter(|n| !self.can(*n)).collect();
        if !undivided.is_empty() {
            all.push(format!("{} cannot be divided here", counts_text(&undivided)));
        }
        let mut kept = false;
        let keeps = |(i, s): (usize, &Stage)| self.limits.allow(i, s.wheel, s.pinion);
        match self.told {
            Told::Orders => kept = train.stages.iter().enumerate().all(keeps),
            Told::Sets => super::stage::orders(&wheels, &pinions, &self.limits, &mut |_| {
                kept = true;
                false
            }),
        }
        if !kept {
            all.push("it breaks a limit set on its stages".to_owned());
        }
        if super::rank::too_many_leaf_counts(self, &train.pinions()) {
            all.push("it has more different leaf counts than allowed".to_owned());
        }
        let plain = |f: Fraction| print::trimmed(&print::significant(f.to_f64(), 9));
        match (train.value(), self.target.window()) {
            (Some(v), Some((low, high))) if v >= low && v <= high => {}
            (Some(v), _) => all.push(format!("it gives {}, not {}", plain(v), plain(self.target.value))),
            (None, _) => all.push("its value has too many digits to be kept whole".to_owned()),
        }
        all
    }
    /// Counts and windows, checked and in order.
    pub(super) fn plan(&self) -> Result<Plan, Trouble> {
        if !(1..=4).contains(&self.stages) {
            return Err(Trouble::text(format!("a train of {} stages", self.stages))
                .why("the search knows trains of one to four"));
        }
        let (low, high) = self.target.window().ok_or_else(too_long)?;
        if self.target.value <= Fraction::ZERO {
            return Err(Trouble::text("the value wanted of a train must be more than nothing"));
        }
        if low > high {
            return Err(Trouble::text("the room left around the value must not be less than nothing"));
        }
        let escapes: Vec<Option<u32>> = match self.counts("escape wheel", &self.escape)? {
            e if e.is_empty() => vec![None],
            e => e.into_iter().map(Some).collect(),
        };
        let mut windows = Vec::new();
        for escape in escapes.into_iter().filter(|e| e.is_none_or(|e| self.can(e))) {
            let scaled = |f: Fraction| per_escape(f.max(Fraction::ZERO), escape).ok_or_else(too_long);
            windows.push(Window { escape, low: scaled(low)?, high: scaled(high)? });
        }
        let made = |list: Vec<u32>| list.into_iter().filter(|n| self.can(*n)).collect::<Vec<u32>>();
        let plan = Plan {
            stages: self.stages,
            wheels: made(self.counts("wheel", &self.wheels)?),
            pinions: made(self.counts("pinion", &self.pinions)?),
            windows,
        };
        // The largest product met must fit with the window's terms: then no comparison can overflow.
        let top = plan.pinions.last().copied().unwrap_or(1).max(plan.wheels.last().copied().unwrap_or(1));
        let power = (0..self.stages).fold(1_i128, |p, _| p * i128::from(top));
        let fits = |f: Fraction| {
            let (n, d) = f.terms();
            power.checked_mul(n).is_some() && power.checked_mul(d).is_some()
        };
        if plan.windows.iter().all(|w| fits(w.low) && fits(w.high)) { Ok(plan) } else { Err(too_long()) }
    }
    fn can(&self, n: u32) -> bool {
        self.only.as_ref().is_none_or(|only| only.contains(&n))
    }
    fn counts(&self, what: &str, list: &[u32]) -> Result<Vec<u32>, Trouble> {
        if let Some(n) = list.iter().find(|n| !(1..=MOST_TEETH).contains(n)) {
            return Err(Trouble::text(format!("a {what} of {n} teeth"))
                .why(format!("counts are whole numbers from 1 to {MOST_TEETH}")));
        }
        let mut list = list.to_vec();
        list.sort_unstable();
        list.dedup();
        if list.len() > MOST_COUNTS {
            return Err(Trouble::text(format!("{} different counts for a {what}", list.len()))
                .why(format!("the search takes up to {MOST_COUNTS}")));
        }
        Ok(list)
    }
}
const MOST_COUNTS: usize = 1_500;

fn per_escape(f: Fraction, escape: Option<u32>) -> Option<Fraction> {
    match escape {
        None => Some(f),
        Some(e) => f.over(Fraction::whole(2 * i64::from(e))),
    }
}
fn too_long() -> Trouble {
    Trouble::text("the value and its room have too many digits to be compared exactly")
        .cure("give up to 12 digits")
}

/// Least and greatest ratio allowed, with one escape wheel.
#[derive(Copy, Clone, Debug)]
pub(super) struct Window {
    pub(super) escape: Option<u32>,
    pub(super) low: Fraction,
    pub(super) high: Fraction,
}
/// What the search runs over: counts in rising order, none twice.
#[derive(Debug)]
pub(super) struct Plan {
    pub(super) stages: usize,
    pub(super) wheels: Vec<u32>,
    pub(super) pinions: Vec<u32>,
    pub(super) windows: Vec<Window>,
}
