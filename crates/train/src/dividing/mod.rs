//! Dividing a circle: by worm and plates of holes, by a plate straight on the spindle, or by a list of angles.
//!
//! Everything that decides whether a count can be had is whole numbers; angles and lengths come after.

mod error;
mod uneven;
mod would;

pub use error::{ARC, MISCOUNTED, Miscount, THROUGH, at_radius, hole_error, miscount};
pub use uneven::{NEAREST, Nearest, UNEVEN, Uneven, nearest, uneven, uneven_on};
pub use would::{ANGLES, MOST_HOLES, WOULD, Would, angles, would_do};

use reckon::Source;
use std::fmt;

/// Turns of the worm to each step.
pub static WORM: Source =
    Source::derived("whole turns and holes of a worm head, and the proof that they close")
        .with_formula("R/N = w + h/c,  N (w c + h) = R c");
/// Why one circle is taken before another.
pub static LARGEST: Source =
    Source::derived("a hole out of place by a length is out by the less angle the larger its circle");
/// A plate straight on the spindle.
pub static DIRECT: Source =
    Source::derived("holes of a plate on the spindle itself").with_formula("step = holes/N");

/// A dividing head: its worm, its circles of holes, and plates that sit on the spindle itself.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Head {
    /// Turns of the worm for one turn of the spindle; 0 when it has none.
    pub ratio: u32,
    /// Holes of each circle behind the worm.
    pub circles: Vec<u32>,
    /// Holes or notches of each plate on the spindle.
    pub direct: Vec<u32>,
}

/// One way to make equal steps.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Way {
    /// By the plate on the spindle: so many of its holes to a step.
    Direct {
        /// Holes to a step.
        step: u32,
        /// Holes of the plate.
        plate: u32,
    },
    /// By worm: whole turns and further holes on a circle.
    Worm {
        /// Whole turns.
        turns: u32,
        /// Holes beyond them.
        holes: u32,
        /// Holes of the circle.
        circle: u32,
    },
}
impl Way {
    /// Whether `count` such steps come round to the start once, exactly.
    #[must_use]
    pub const fn closes(&self, count: u32, ratio: u32) -> bool {
        let n = count as u128;
        match *self {
            Way::Direct { step, plate } => n * step as u128 == plate as u128,
            Way::Worm { turns, holes, circle } => {
                n * (turns as u128 * circle as u128 + holes as u128) == ratio as u128 * circle as u128
            }
        }
    }
    /// The proof that it closes, in figures.
    #[must_use]
    pub fn proof(&self, count: u32, ratio: u32) -> String {
        match *self {
            Way::Direct { step, plate } => format!("{count} × {step} = {plate}"),
            Way::Worm { turns, holes, circle } => {
                let step = u64::from(turns) * u64::from(circle) + u64::from(holes);
                let all = u64::from(ratio) * u64::from(circle);
                format!(
                    "{count} × ({turns} × {circle} + {holes}) = {count} × {step} = {all} = {ratio} × {circle}"
                )
            }
        }
    }
    /// Holes that lie between the arms of the sector, both ends counted; none where the step is whole turns.
    #[must_use]
    pub const fn sector(&self) -> Option<u32> {
        match *self {
            Way::Worm { holes, .. } if holes > 0 => Some(holes + 1),
            _ => None,
        }
    }
}
impl fmt::Display for Way {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Way::Direct { step, plate } => write!(f, "{step} of {plate} direct"),
            Way::Worm { turns, holes, circle } => write!(f, "{turns}+{holes}/{circle}"),
        }
    }
}

const fn gcd(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

impl Head {
    /// The circles once each, largest first.
    fn sorted(&self) -> Vec<u32> {
        let mut all: Vec<u32> = self.circles.iter().copied().filter(|c| *c > 0).collect();
        all.sort_unstable_by(|a, b| b.cmp(a));
        all.dedup();
        all
    }
    /// The denominator that a circle must hold: what is left of `count` when the worm has taken its share.
    #[must_use]
    pub const fn wanted_circle(&self, count: u32) -> u32 {
        if self.ratio == 0 || count == 0 {
            return count;
        }
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a divisor of a u32 quotient is no longer than it"
        )]
        let g = gcd(count as u64, self.ratio as u64) as u32;
        count / g
    }
    /// Every way to divide into `count`, best first: plates on the spindle with the least holes, then
    /// the largest circle of the worm. Empty when it cannot be done.
    #[must_use]
    pub fn ways(&self, count: u32) -> Vec<Way> {
        if count == 0 {
            return Vec::new();
        }
        let mut direct: Vec<u32> =
            self.direct.iter().copied().filter(|p| *p > 0 && p.is_multiple_of(count)).collect();
        direct.sort_unstable();
        direct.dedup();
        let mut out: Vec<Way> =
            direct.into_iter().map(|plate| Way::Direct { step: plate / count, plate }).collect();
        if self.ratio == 0 {
            return out;
        }
        for circle in self.sorted() {
            let all = u64::from(self.ratio) * u64::from(circle);
            if all.is_multiple_of(u64::from(count)) {
                let step = all / u64::from(count);
                let part = |x: u64| u32::try_from(x).unwrap_or(u32::MAX);
                out.push(Way::Worm {
                    turns: part(step / u64::from(circle)),
                    holes: part(step % u64::from(circle)),
                    circle,
                });
            }
        }
        out
    }
    /// Whether it divides into `count`.
    #[must_use]
    pub fn divides(&self, count: u32) -> bool {
        !self.ways(count).is_empty()
    }
    /// Counts from `low` to `high` that it cannot divide.
    #[must_use]
    pub fn impossible(&self, low: u32, high: u32) -> Vec<u32> {
        (low..=high).filter(|n| *n > 0 && !self.divides(*n)).collect()
    }
}

#[cfg(test)]
mod tests;
