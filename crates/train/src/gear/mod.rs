//! A train as arbors and meshes: how fast each arbor turns, which way, and what follows from it.
//!
//! Turns are exact fractions of a turn an hour, positive clockwise as seen from the dial.
//! ```
//! use reckon::exact::Fraction;
//! use train::gear::{Demand, Gearing, Mesh};
//! let works = Gearing::new(vec![Mesh::outside("centre", 96, "third", 12), Mesh::outside("third", 90, "escape", 12)]);
//! let solved = works.solve(&Demand::turns("centre", Fraction::whole(1))).unwrap();
//! let escape = solved.of("escape").unwrap();
//! assert_eq!(escape.per_hour, Fraction::whole(60));
//! assert_eq!(escape.beats(30), Some(Fraction::whole(3600)));
//! assert!(escape.carries_seconds());
//! ```

mod fault;
mod off_by_one;
mod time;

pub(crate) use fault::plain;
pub use fault::{Contradiction, Fault};
pub use off_by_one::{OFF_BY_ONE, OffByOne, gain, off_by_one};
pub use time::{CORD, DURATION, HUNTING, Hunting, cord_turns, hunting};

use reckon::Source;
use reckon::exact::Fraction;
use std::collections::{BTreeMap, VecDeque};
use std::fmt;

/// Turns and counts of a pair.
pub static PAIR: Source = Source::derived("a pair in mesh passes the same number of teeth").with_formula(
    "turns of driven = turns of driver × teeth of driver / teeth of driven, sense turned round",
);
/// Beats of an escape wheel.
pub static BEATS: Source =
    Source::derived("two beats to each tooth of the escape wheel").with_formula("beats = 2 E × turns");

/// A pair in mesh: who drives, who is driven, and their counts.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mesh {
    /// Arbor of the driver.
    pub driver: String,
    /// Teeth of the driver.
    pub driver_teeth: u32,
    /// Arbor of the driven.
    pub driven: String,
    /// Teeth or leaves of the driven.
    pub driven_teeth: u32,
    /// Whether one of the two has its teeth inside: then both turn the same way.
    pub inside: bool,
}
impl Mesh {
    /// Two wheels, or wheel and pinion, with their teeth outside.
    #[must_use]
    pub fn outside(driver: &str, driver_teeth: u32, driven: &str, driven_teeth: u32) -> Mesh {
        Mesh {
            driver: driver.to_owned(),
            driver_teeth,
            driven: driven.to_owned(),
            driven_teeth,
            inside: false,
        }
    }
    /// One of the two with its teeth inside.
    #[must_use]
    pub fn inside(driver: &str, driver_teeth: u32, driven: &str, driven_teeth: u32) -> Mesh {
        Mesh { inside: true, ..Mesh::outside(driver, driver_teeth, driven, driven_teeth) }
    }
    /// Turns of the driven for one of the driver, negative where the sense turns round.
    #[must_use]
    pub fn ratio(&self) -> Option<Fraction> {
        let size = Fraction::new(i128::from(self.driver_teeth), i128::from(self.driven_teeth))?;
        if self.inside { Some(size) } else { Fraction::ZERO.minus(size) }
    }
}
impl fmt::Display for Mesh {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Mesh { driver, driver_teeth, driven, driven_teeth, .. } = self;
        write!(f, "{driver} {driver_teeth} > {driven} {driven_teeth}")?;
        if self.inside { f.write_str(" inside") } else { Ok(()) }
    }
}

/// What sets the pace.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Demand {
    /// The arbor whose turns are given.
    pub arbor: String,
    /// Its turns an hour, positive clockwise from the dial.
    pub per_hour: Fraction,
}
impl Demand {
    /// An arbor that turns so often an hour.
    #[must_use]
    pub fn turns(arbor: &str, per_hour: Fraction) -> Demand {
        Demand { arbor: arbor.to_owned(), per_hour }
    }
    /// The minute arbor: once an hour, clockwise.
    #[must_use]
    pub fn minute(arbor: &str) -> Demand {
        Demand::turns(arbor, Fraction::whole(1))
    }
    /// An escape wheel of `teeth` that must give so many beats an hour, clockwise; nothing without teeth.
    #[must_use]
    pub fn beats(arbor: &str, teeth: u32, beats: Fraction) -> Option<Demand> {
        Some(Demand::turns(arbor, beats.over(Fraction::whole(2 * i64::from(teeth)))?))
    }
    /// An arbor that takes so many seconds to a turn, clockwise; nothing when that is no time.
    #[must_use]
    pub fn turn(arbor: &str, seconds: Fraction) -> Option<Demand> {
        Some(Demand::turns(arbor, Fraction::whole(3600).over(seconds)?))
    }
}

/// How one arbor turns.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Turning {
    /// Its name.
    pub arbor: String,
    /// Turns an hour, positive clockwise from the dial.
    pub per_hour: Fraction,
    /// Meshes between it and the arbor whose turns were given.
    pub meshes: u32,
    /// The way there, as counts.
    pub path: String,
}
impl Turning {
    /// Whether it turns clockwise, seen from the dial.
    #[must_use]
    pub fn clockwise(&self) -> bool {
        self.per_hour > Fraction::ZERO
    }
    /// Turns an hour, whatever the sense.
    #[must_use]
    pub fn pace(&self) -> Fraction {
        size(self.per_hour)
    }
    /// Seconds to a turn.
    #[must_use]
    pub fn turn(&self) -> Option<Fraction> {
        Fraction::whole(3600).over(self.pace())
    }
    /// Beats an hour of an escape wheel of so many teeth on it.
    #[must_use]
    pub fn beats(&self, teeth: u32) -> Option<Fraction> {
        self.pace().times(Fraction::whole(2 * i64::from(teeth)))
    }
    /// Whether a seconds hand can sit on it: a turn in exactly 60 seconds, clockwise.
    #[must_use]
    pub fn carries_seconds(&self) -> bool {
        self.per_hour == Fraction::whole(60)
    }
    /// Whether a minute hand can: a turn in exactly an hour, clockwise.
    #[must_use]
    pub fn carries_minutes(&self) -> bool {
        self.per_hour == Fraction::whole(1)
    }
    /// Whether an hour hand can, on a dial of so many hours: clockwise.
    #[must_use]
    pub fn carries_hours(&self, hours: u32) -> bool {
        self.per_hour.times(Fraction::whole(i64::from(hours))) == Some(Fraction::whole(1))
    }
    /// The hand that it can carry, in words.
    #[must_use]
    pub fn hand(&self) -> &'static str {
        if self.carries_seconds() {
            "seconds hand"
        } else if self.carries_minutes() {
            "minute hand"
        } else if self.carries_hours(12) {
            "hour hand, dial of 12"
        } else if self.carries_hours(24) {
            "hour hand, dial of 24"
        } else if self.pace() == Fraction::whole(60) {
            "none: a seconds hand would run backwards"
        } else {
            "none"
        }
    }
}
pub(crate) fn size(f: Fraction) -> Fraction {
    if f < Fraction::ZERO { Fraction::ZERO.minus(f).unwrap_or(f) } else { f }
}

/// Arbors and the meshes between them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Gearing {
    /// The meshes, as written.
    pub meshes: Vec<Mesh>,
}
/// Every arbor with its turns.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Solved {
    /// In the order in which they were reached from the one that was given.
    pub arbors: Vec<Turning>,
}
impl Solved {
    /// One arbor.
    #[must_use]
    pub fn of(&self, arbor: &str) -> Option<&Turning> {
        self.arbors.iter().find(|a| a.arbor == arbor)
    }
    /// Arbors that can carry a seconds hand.
    pub fn seconds(&self) -> impl Iterator<Item = &Turning> {
        self.arbors.iter().filter(|a| a.carries_seconds())
    }
}
impl Gearing {
    /// From its meshes.
    #[must_use]
    pub const fn new(meshes: Vec<Mesh>) -> Gearing {
        Gearing { meshes }
    }
    /// A plain train: wheels and pinions in a row, each pinion on the next arbor.
    #[must_use]
    pub fn row(names: &[String], pairs: &[(u32, u32)]) -> Gearing {
        let meshes = names.windows(2).zip(pairs);
        Gearing::new(meshes.map(|(n, (w, p))| Mesh::outside(&n[0], *w, &n[1], *p)).collect())
    }
    /// Names of the arbors, in the order of the meshes.
    #[must_use]
    pub fn arbors(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        for m in &self.meshes {
            for name in [m.driver.as_str(), m.driven.as_str()] {
                if !all.contains(&name) {
                    all.push(name);
                }
            }
        }
        all
    }
    /// Turns of every arbor.
    ///
    /// # Errors
    /// All that is wrong at once: counts of nothing, an arbor that drives itself, loops of wheels that
    /// drive each other, arbors that two ways want at two paces, arbors that no way reaches.
    pub fn solve(&self, demand: &Demand) -> Result<Solved, Vec<Fault>> {
        let mut faults: Vec<Fault> = Vec::new();
        for m in &self.meshes {
            if m.driver_teeth == 0 || m.driven_teeth == 0 {
                faults.push(Fault::NoTeeth { mesh: m.to_string() });
            }
            if m.driver == m.driven {
                faults.push(Fault::DrivesItself { arbor: m.driver.clone() });
            }
        }
        let names = self.arbors();
        if !names.contains(&demand.arbor.as_str()) {
            let known = names.iter().map(|n| (*n).to_owned()).collect();
            faults.push(Fault::Unknown { arbor: demand.arbor.clone(), known });
        }
        if demand.per_hour == Fraction::ZERO {
            faults.push(Fault::Stands { arbor: demand.arbor.clone() });
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        faults.extend(self.loop_of_drivers());
        let mut found: BTreeMap<&str, Turning> = BTreeMap::new();
        let mut order: Vec<&str> = Vec::new();
        let mut queue: VecDeque<&str> = VecDeque::new();
        let (start, pace) = (demand.arbor.as_str(), demand.per_hour);
        found.insert(
            start,
            Turning { arbor: start.to_owned(), per_hour: pace, meshes: 0, path: start.to_owned() },
        );
        order.push(start);
        queue.push_back(start);
        let mut tried = vec![false; self.meshes.len()];
        while let Some(at) = queue.pop_front() {
            for (i, m) in self.meshes.iter().enumerate() {
                let forward = m.driver == at;
                if tried[i] || !(forward || m.driven == at) {
                    continue;
                }
                tried[i] = true;
                let from = found[at].clone();
                let to = if forward { m.driven.as_str() } else { m.driver.as_str() };
                let pace = m
                    .ratio()
                    .and_then(|r| if forward { from.per_hour.times(r) } else { from.per_hour.over(r) });
                let Some(per_hour) = pace else {
                    faults.push(Fault::TooLong { arbor: to.to_owned() });
                    continue;
                };
                let (near, far) =
                    if forward { (m.driver_teeth, m.driven_teeth) } else { (m.driven_teeth, m.driver_teeth) };
                let way = if m.inside { " inside" } else { "" };
                let path = format!("{} {near} : {far}{way} {to}", from.path);
                match found.get(to) {
                    None => {
                        let meshes = from.meshes + 1;
                        found.insert(to, Turning { arbor: to.to_owned(), per_hour, meshes, path });
                        order.push(to);
                        queue.push_back(to);
                    }
                    Some(known) if known.per_hour != per_hour => {
                        faults.push(Fault::Contradiction(Contradiction {
                            arbor: to.to_owned(),
                            by_one: known.per_hour,
                            one: known.path.clone(),
                            by_other: per_hour,
                            other: path,
                        }));
                    }
                    Some(_) => {}
                }
            }
        }
        let apart: Vec<String> =
            names.iter().filter(|n| !found.contains_key(*n)).map(|n| (*n).to_owned()).collect();
        if !apart.is_empty() {
            faults.push(Fault::Apart { arbors: apart, from: start.to_owned() });
        }
        if faults.is_empty() {
            Ok(Solved { arbors: order.iter().filter_map(|n| found.get(n).cloned()).collect() })
        } else {
            Err(faults)
        }
    }
    /// A ring of arbors in which each drives the next, if there is one: no power can enter there.
    fn loop_of_drivers(&self) -> Option<Fault> {
        // Takes away arbors that nobody drives, again and again; what is left hangs on a ring.
        let mut left: Vec<&Mesh> = self.meshes.iter().collect();
        loop {
            let before = left.len();
            let driven: Vec<&str> = left.iter().map(|m| m.driven.as_str()).collect();
            left.retain(|m| driven.contains(&m.driver.as_str()));
            if left.is_empty() {
                return None;
            }
            if left.len() == before {
                break;
            }
        }
        // Every driver left is driven by another that is left: walking back must come round.
        let mut ring: Vec<&str> = vec![left[0].driver.as_str()];
        loop {
            let last = ring[ring.len() - 1];
            let back = left.iter().find(|m| m.driven == last)?;
            if let Some(i) = ring.iter().position(|n| *n == back.driver) {
                let mut arbors: Vec<String> = ring[i..].iter().map(|n| (*n).to_owned()).collect();
                arbors.reverse();
                return Some(Fault::Ring { arbors });
            }
            ring.push(back.driver.as_str());
        }
    }
}

#[cfg(test)]
mod tests;
