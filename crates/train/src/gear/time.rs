//! How long it goes, how many turns a line gives, and how often the same teeth meet.

use reckon::exact::Fraction;
use reckon::maths::PI;
use reckon::{Count, Diameter, Length, Ratio, Source};

/// How long a drum or barrel lasts.
pub static DURATION: Source = Source::derived("turns of the first arbor, each of so many hours")
    .with_formula("time = turns × time of a turn");
/// Turns that a line gives.
pub static CORD: Source = Source::derived("a line laid round a drum at the middle of its own thickness")
    .with_formula("turns = fall × parts of line / (pi (drum + line))");
/// How often the same teeth meet.
pub static HUNTING: Source = Source::derived("the same two teeth meet again after the least common multiple")
    .with_formula("turns of wheel = leaves / gcd, turns of pinion = teeth / gcd");

/// Turns of a drum for a weight that falls so far on so many parts of line (one plain, two on a pulley).
#[must_use]
pub fn cord_turns(fall: Length, parts: Count, drum: Diameter, line: Diameter) -> Ratio {
    Ratio::si(fall.value() * parts.n() / (PI * (drum.value() + line.value())))
}
/// How often the same teeth of a pair meet.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Hunting {
    /// Greatest common factor of the counts; 1 where every tooth meets every leaf.
    pub common: u32,
    /// Turns of the wheel until the same pair meets again.
    pub wheel_turns: u32,
    /// Turns of the pinion until then.
    pub pinion_turns: u32,
}
/// How often the same teeth of a pair meet; nothing without teeth.
#[must_use]
pub fn hunting(wheel: u32, pinion: u32) -> Option<Hunting> {
    let (n, _) = Fraction::new(i128::from(wheel), i128::from(pinion))?.terms();
    let pinion_turns = u32::try_from(n).ok().filter(|n| *n > 0)?;
    let common = wheel / pinion_turns;
    Some(Hunting { common, wheel_turns: pinion / common, pinion_turns })
}
