//! Hands: how hard the minute hand must slip, and how to balance it.
//!
//! Forces in N, lengths in mm, torques in N mm, masses in grams where a hand is weighed. Outlines in millimetres.

use reckon::{Source, maths};
use shape::profile::Profile;

/// Slip.
pub static SLIP: Source =
    Source::derived("friction of a bow spring on its faces").with_formula("T = n μ N r");
/// Rule.
pub static RULE: Source =
    Source::practice("slip torque of the minute hand 2 to 4 times the torque that the hands need");
/// Balance.
pub static BALANCE: Source = Source::derived("first moment of the area of the outline");

/// Torque at which the friction of a bow spring gives way: `faces` rubbing faces at a mean radius.
#[must_use]
pub fn slip(friction: f64, force: f64, radius: f64, faces: f64) -> f64 {
    friction * force * radius * faces
}
/// Force of the bow spring that gives a slip torque.
#[must_use]
pub fn force_for(slip: f64, friction: f64, radius: f64, faces: f64) -> f64 {
    slip / (friction * radius * faces)
}
/// Pull at the tip of a hand at which it slips.
#[must_use]
pub fn pull_at_tip(slip: f64, length: f64) -> f64 {
    slip / length
}
/// How a slip torque stands against what the hands need.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Slip {
    /// Less than twice: the hand lags.
    TooLoose,
    /// Two to four times.
    Good,
    /// More than four times: setting the hands drives the train.
    TooTight,
}
impl Slip {
    /// Judges it.
    #[must_use]
    pub fn of(slip: f64, needed: f64) -> Slip {
        let times = slip / needed;
        if times < 2.0 {
            Slip::TooLoose
        } else if times <= 4.0 {
            Slip::Good
        } else {
            Slip::TooTight
        }
    }
    /// In words.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Slip::TooLoose => "too loose: the hand falls back when it rises",
            Slip::Good => "good: two to four times what the hands need",
            Slip::TooTight => "too tight: setting the hands strains the train",
        }
    }
}
/// Area and first moments of a closed outline: area, ∫x dA, ∫y dA.
#[must_use]
pub fn moments(outline: &Profile) -> (f64, f64, f64) {
    let points = outline.sampled(1e-3);
    let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
    for (i, p) in points.iter().enumerate() {
        let q = points[(i + 1) % points.len()];
        let cross = p.x * q.y - q.x * p.y;
        area += cross / 2.0;
        x += (p.x + q.x) * cross / 6.0;
        y += (p.y + q.y) * cross / 6.0;
    }
    let sign = if area < 0.0 { -1.0 } else { 1.0 };
    (area * sign, x * sign, y * sign)
}
/// A hand as weighed about the axis at the origin.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Hand {
    /// Mass, grams.
    pub mass: f64,
    /// Centre of mass from the axis, mm.
    pub reach: f64,
    /// Greatest torque of its weight, N mm.
    pub torque: f64,
}
/// Weighs a flat hand: outline in mm about the axis, thickness in mm, density in g/mm³, gravity in m/s².
#[must_use]
pub fn weigh(outline: &Profile, thickness: f64, density: f64, gravity: f64) -> Hand {
    let (area, x, y) = moments(outline);
    let mass = area * thickness * density;
    let reach = maths::hypot(x, y) / area;
    Hand { mass, reach, torque: mass / 1000.0 * gravity * reach }
}
/// Counterpoise at a distance on the other side that balances a hand, grams.
#[must_use]
pub fn counterpoise(hand: Hand, distance: f64) -> f64 {
    hand.mass * hand.reach / distance
}
