//! How deep to set a pair, and within what limits it runs.

use super::{Contact, NoDrive, Pair, run, run_at};

/// Positions over a pitch while a depth is sought.
const ROUGH: usize = 16;
/// Widest search either way, in modules.
const WIDEST: f64 = 0.8;
/// First step of the search, in modules.
const STEP: f64 = 0.05;

/// The figures a house works to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct House {
    /// Friction between the teeth.
    pub mu: f64,
    /// Least play along the pitch circle, modules.
    pub least_backlash: f64,
    /// Least room between tips and bottoms, modules.
    pub least_room: f64,
    /// Least torque on the driven wheel by frictionless even motion.
    pub least_torque: f64,
}

impl Default for House {
    /// Common practice without a source: friction 0.15, play 0.05 m, room 0.10 m, torque 0.80.
    fn default() -> House {
        House { mu: 0.15, least_backlash: 0.05, least_room: 0.10, least_torque: 0.80 }
    }
}

/// What ends the range of depths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Too little play.
    Play,
    /// A tip comes too near a bottom.
    Bottoming,
    /// A tooth lets go of its flank before a pitch is done.
    Reach,
    /// The teeth let go altogether.
    Apart,
    /// Torque falls below the house's figure.
    Torque,
    /// Nothing within the range searched.
    Nothing,
}

impl std::fmt::Display for Why {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Why::Play => "too little play",
            Why::Bottoming => "tips near the bottom of the spaces",
            Why::Reach => "teeth let go of their flanks before a pitch is done",
            Why::Apart => "teeth let go altogether",
            Why::Torque => "the torque falls too low",
            Why::Nothing => "nothing within the range searched",
        })
    }
}

/// A depth and what the pair does there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Centres further apart than drawn, modules; negative: deeper.
    pub offset: f64,
    /// What it does.
    pub contact: Contact,
}

/// How deep to set a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth {
    /// Least transmission error within the limits: where to plant.
    pub set: Setting,
    /// Least range of speed within the limits: what turning the pair between the runners of a depthing
    /// tool would choose as the smoothest run.
    pub felt: Setting,
    /// Deepest offset at which the pair may run, and what forbids more.
    pub deepest: (f64, Why),
    /// Shallowest offset at which the pair may run, and what forbids more.
    pub shallowest: (f64, Why),
}

impl House {
    /// What forbids a setting, if anything.
    #[must_use]
    pub fn forbids(&self, run: &Result<Contact, NoDrive>) -> Option<Why> {
        let c = match run {
            Ok(c) => c,
            Err(_) => return Some(Why::Apart),
        };
        if c.backlash < self.least_backlash {
            Some(Why::Play)
        } else if c.tip_room.0.min(c.tip_room.1) < self.least_room {
            Some(Why::Bottoming)
        } else if c.reach < 1.0 - 1e-3 {
            Some(Why::Reach)
        } else if c.torque.0 < self.least_torque {
            Some(Why::Torque)
        } else {
            None
        }
    }
}

/// The depth to set, sought over ±0.8 modules about the distance drawn.
///
/// # Errors
/// What forbids the setting drawn, when no offset suits the house's figures.
pub fn depth(pair: &Pair, house: &House) -> Result<Depth, Why> {
    depth_within(pair, house, -WIDEST, WIDEST)
}

/// The same, within given offsets.
///
/// # Errors
/// What forbids the middle of the range, when no offset in it suits the house's figures.
pub fn depth_within(pair: &Pair, house: &House, from: f64, to: f64) -> Result<Depth, Why> {
    let at = |offset: f64| run_at(pair, offset, house.mu, ROUGH, true);
    let middle = 0.0_f64.clamp(from, to);
    // From the distance drawn outward both ways until a limit is met; if the start is forbidden, the
    // nearest offset that is not becomes the start.
    let ring = |i: i32| (middle + f64::from(i) * STEP).clamp(from, to);
    let rings = ((to - from) / STEP).ceil().min(64.0);
    let mut start = None;
    let mut i = 0;
    while f64::from(i) <= rings && start.is_none() {
        start = [ring(i), ring(-i)].into_iter().find(|&o| house.forbids(&at(o)).is_none());
        i += 1;
    }
    let Some(start) = start else { return Err(house.forbids(&at(middle)).unwrap_or(Why::Nothing)) };
    let mut seen: Vec<(f64, Contact)> = at(start).ok().map(|c| (start, c)).into_iter().collect();
    let mut limit = |way: f64, last: f64| {
        let mut good = start;
        loop {
            let next = if way > 0.0 { (good + STEP).min(last) } else { (good - STEP).max(last) };
            if (next - good).abs() < 1e-9 {
                return (good, Why::Nothing);
            }
            let found = at(next);
            if let Some(mut why) = house.forbids(&found) {
                let (mut inside, mut outside) = (good, next);
                for _ in 0..6 {
                    let mid = f64::midpoint(inside, outside);
                    match house.forbids(&at(mid)) {
                        Some(w) => (outside, why) = (mid, w),
                        None => inside = mid,
                    }
                }
                return (inside, why);
            }
            if let Ok(c) = found {
                seen.push((next, c));
            }
            good = next;
        }
    };
    let deepest = limit(-1.0, from);
    let shallowest = limit(1.0, to);
    let best = |of: &dyn Fn(&Contact) -> f64| {
        // From the best of the steps, by halving steps to a thousandth of a module or so.
        let begun = seen.iter().map(|(o, c)| (of(c), *o));
        let (mut value, mut offset) =
            begun.fold((f64::INFINITY, start), |a, b| if b.0 < a.0 { b } else { a });
        let mut step = STEP / 2.0;
        while step > 0.001 {
            for o in [offset - step, offset + step] {
                if o < deepest.0 || o > shallowest.0 {
                    continue;
                }
                if let Ok(c) = run_at(pair, o, house.mu, ROUGH, false)
                    && of(&c) < value
                {
                    (value, offset) = (of(&c), o);
                }
            }
            step /= 2.0;
        }
        run(pair, offset, house.mu).map(|contact| Setting { offset, contact })
    };
    let set = best(&|c| c.transmission_error).map_err(|_| Why::Apart)?;
    let felt = best(&Contact::unevenness).map_err(|_| Why::Apart)?;
    Ok(Depth { set, felt, deepest, shallowest })
}
