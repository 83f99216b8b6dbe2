//! What a pair of wheels does in mesh: when teeth take over from each other, how evenly the driven
//! wheel turns, what friction takes, what is left of the play.
//!
//! Every length is in modules, every angle in radians; speeds and torques are shares of even motion.
//!
//! # Formula
//! A point of the driving flank at distance ρ from the driven centre, seen at the angle α, demands that
//! the driven tooth's axis stand at α + half(ρ) or further; half is the half-angle of the driven tooth.
//! The demand φ of the tooth is the highest over all points of the flank. With the wheel's angle θ,
//! counted from where the flank's pitch point lies on the line of centres, e(θ) = φ − θ z₁/z₂. The next
//! tooth takes over where e(θ) = e(θ + pitch). The transmission error is the range of e over one pitch
//! from there. The common normal gives the speed; the force lies at the angle of friction from it.

mod depth;
mod flank;
mod mesh;
mod runout;
mod sorts;
#[cfg(test)]
mod tests;
mod words;

pub use depth::{Depth, House, Setting, Why, depth, depth_within};
pub use runout::{Runout, Wobble, runout};
pub use sorts::{Driven, Driver};
pub use words::{Behaviour, behaviour};

use flank::{Piece, steps};
use mesh::Mesh;
use reckon::source::Source;
use std::fmt;

/// The kernel.
pub static CONTACT: Source = Source::derived(
    "each point of the driving flank demands an angle of the driven tooth; the highest demand holds",
)
.with_formula("φ(θ) = max (α + half(ρ)), e = φ − θ z₁/z₂");
/// Depths.
pub static DEPTH: Source = Source::derived(
    "least range of e over a pitch; limits by play, room under tips, reach of the flanks and torque",
);
/// Runout.
pub static WOBBLE: Source =
    Source::derived("an eccentric pitch circle adds its own wave and moves the centres")
        .with_formula("e/r sin ψ, a + e cos ψ");

/// Positions over a pitch at which the pair is looked at.
const POSITIONS: usize = 48;
/// Coarse positions over a pitch in which the taking over is sought.
const COARSE: usize = 8;

/// A driver and what it drives.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    driver_teeth: u32,
    driver_pitch: f64,
    driver_half: f64,
    driver_root: f64,
    nominal_tip: f64,
    ahead: f64,
    driver_tip: f64,
    flank: Vec<Piece>,
    driven: Driven,
    driven_tip: f64,
}
/// Errors of two teeth that differ by less count as the same, radians of the driven.
const EVEN: f64 = 1e-7;
/// Share of a pitch over which a speed at the taking over is averaged.
const BRIEF: f64 = 1.0 / 150.0;

impl Pair {
    /// A pair as drawn.
    #[must_use]
    pub fn new(driver: &Driver, driven: Driven) -> Pair {
        let tip = driver.tip_radius();
        Pair {
            driver_teeth: driver.teeth(),
            driver_pitch: driver.pitch_radius(),
            driver_half: driver.half_at_pitch(),
            driver_root: driver.root_radius(),
            nominal_tip: tip,
            ahead: driver.ahead(),
            driver_tip: tip,
            flank: driver.flank(),
            driven_tip: driven.tip_radius(),
            driven,
        }
    }
    /// The driver with its cutter held `out` from its full depth (negative: deeper). The teeth move out
    /// with it and grow thicker; a pointed tooth comes to its point further out.
    #[must_use]
    pub fn cutter_out(mut self, out: f64) -> Pair {
        flank::moved_out(&mut self.flank, self.driver_teeth, self.driver_half, out);
        self.driver_root += out;
        // The blank was as large as the deeper or shallower teeth need.
        flank::cropped(&mut self.flank, self.driver_half, f64::INFINITY);
        self.driver_tip = self.outermost();
        self
    }
    /// The driver with a measured radius of its tip: smaller than drawn, its teeth are cropped there;
    /// larger, its cutter is taken to have been held out by as much.
    #[must_use]
    pub fn with_driver_tip(self, tip: f64) -> Pair {
        let over = tip - self.nominal_tip;
        if over > 0.0 { self.cutter_out(over) } else { self.cropped_at(tip) }
    }
    /// The driver with its teeth cropped at a radius.
    #[must_use]
    pub fn cropped_at(mut self, tip: f64) -> Pair {
        flank::cropped(&mut self.flank, self.driver_half, tip);
        self.driver_tip = self.outermost();
        self
    }
    /// The driven wheel cropped at a radius of its tip. More than drawn changes nothing.
    #[must_use]
    pub fn with_driven_tip(mut self, tip: f64) -> Pair {
        self.driven_tip = self.driven_tip.min(tip);
        self
    }
    fn outermost(&self) -> f64 {
        self.flank.last().map_or(self.nominal_tip, |p| {
            let (x, y) = p.at(p.end);
            (x * x + y * y).sqrt()
        })
    }
    /// Radius of the driver's tip.
    #[must_use]
    pub fn tip(&self) -> f64 {
        self.driver_tip
    }
    /// Distance of the centres as drawn, (z₁ + z₂)/2.
    #[must_use]
    pub fn centres(&self) -> f64 {
        self.driver_pitch + self.driven.pitch_radius()
    }
    /// Teeth of the driver and of the driven.
    #[must_use]
    pub fn teeth(&self) -> (u32, u32) {
        (self.driver_teeth, self.driven.teeth())
    }
    /// Room between the driver's tips and the bottom of the driven spaces, and the other way round, as drawn.
    #[must_use]
    pub fn tip_room(&self) -> (f64, f64) {
        let a = self.centres();
        (a - self.driver_tip - self.driven.root_radius(), a - self.driven_tip - self.driver_root)
    }
    /// Angle of the driven wheel that a tooth demands, with its pitch point at `theta` past the line of
    /// centres; the driven angle counts in the same way. `None` where the tooth does not reach.
    #[must_use]
    pub fn demanded(&self, offset: f64, theta: f64) -> Option<f64> {
        Mesh::new(self, offset).touch(theta).map(|t| t.angle)
    }
    /// Angle of the driven wheel as the driver turns, whichever tooth drives.
    #[must_use]
    pub fn driven_angle(&self, offset: f64, theta: f64) -> Option<f64> {
        let mesh = Mesh::new(self, offset);
        let top = [-1.0, 0.0, 1.0].into_iter().map(|k| mesh.error(theta + k * mesh.pitch));
        let error = top.fold(f64::NEG_INFINITY, f64::max);
        (error > f64::NEG_INFINITY).then_some(error + theta * mesh.ratio)
    }
}

/// What a pair does over one pitch. Angles in radians of the driver unless told otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Where a tooth takes over: its flank's pitch point past the line of centres (with a lantern the pin's
    /// centre), before it negative. The new pair takes the load as soon as it bears.
    pub start: f64,
    /// Where the next one takes over from it: a pitch later.
    pub end: f64,
    /// Two pairs share the load for a while, so that `start` is one of many places as good.
    pub shared: bool,
    /// Turn of the driver over which one tooth bears on a flank and not on a corner, in pitches.
    pub reach: f64,
    /// Range of the driven wheel's error, radians of the driven wheel.
    pub transmission_error: f64,
    /// Lowest and highest speed of the driven wheel by even motion. Just after and before the taking over,
    /// where the speed leaps, the mean over a 150th of a pitch counts.
    pub speed_ratio: (f64, f64),
    /// Speed by even motion just before and just after the taking over.
    pub hand_over: (f64, f64),
    /// Share of the work that passes, mean over a pitch.
    pub efficiency: f64,
    /// Lowest and highest torque on the driven wheel by frictionless even motion.
    pub torque: (f64, f64),
    /// Turn with the touch before the line of centres.
    pub approach: f64,
    /// Turn with the touch after the line of centres.
    pub recess: f64,
    /// Share of a pitch over which the driver bears with its tip.
    pub on_driver_tip: f64,
    /// Share of a pitch over which the driven tooth is pushed by its tip.
    pub on_driven_tip: f64,
    /// Play along the pitch circle at the tightest position, negative where the pair jams.
    pub backlash: f64,
    /// Room between the driver's tips and the bottom of the driven spaces, and the other way round.
    pub tip_room: (f64, f64),
    /// Pitch angle of the driver.
    pub pitch: f64,
}

impl Contact {
    /// Approach in pitches.
    #[must_use]
    pub fn approach_pitches(&self) -> f64 {
        self.approach / self.pitch
    }
    /// Recess in pitches.
    #[must_use]
    pub fn recess_pitches(&self) -> f64 {
        self.recess / self.pitch
    }
    /// Torque range: highest less lowest.
    #[must_use]
    pub fn ripple(&self) -> f64 {
        self.torque.1 - self.torque.0
    }
    /// Range of speed: highest less lowest.
    #[must_use]
    pub fn unevenness(&self) -> f64 {
        self.speed_ratio.1 - self.speed_ratio.0
    }
}

/// Why a pair does not drive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoDrive {
    /// The teeth pass without touching, or let go before the next one takes over.
    Apart,
    /// A number is not finite, or the friction is negative.
    Size,
}

impl fmt::Display for NoDrive {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NoDrive::Apart => {
                "the teeth let go before the next pair takes over: the centres are too far apart"
            }
            NoDrive::Size => "a size is not a usable number",
        })
    }
}

impl std::error::Error for NoDrive {}

/// Runs a pair over one pitch, its centres `offset` further apart than drawn (positive: shallow), with
/// friction `mu` between the teeth.
///
/// # Errors
/// [`NoDrive`] when the teeth do not keep touch.
pub fn run(pair: &Pair, offset: f64, mu: f64) -> Result<Contact, NoDrive> {
    run_at(pair, offset, mu, POSITIONS, true)
}

/// Where a tooth takes over, and whether it might as well elsewhere.
fn taking_over(mesh: &Mesh<'_>) -> Option<(f64, bool)> {
    let p = mesh.pitch;
    let step = p / steps(COARSE);
    let early = -1.5 * p;
    // One look at each angle serves both teeth.
    let errors: Vec<f64> = (0..=3 * COARSE).map(|i| mesh.error(early + steps(i) * step)).collect();
    let gap = |i: usize| match (errors[i], errors[i + COARSE]) {
        (a, b) if a.is_infinite() && b.is_infinite() => f64::NAN,
        (a, b) => b - a - EVEN,
    };
    let at = (0..2 * COARSE).find(|&i| gap(i) > 0.0 && gap(i + 1) <= 0.0)?;
    let (mut low, mut high) = (early + steps(at) * step, early + steps(at + 1) * step);
    let between = |theta: f64| mesh.error(theta + p) - mesh.error(theta) - EVEN;
    let (mut g_low, mut g_high) = (gap(at), gap(at + 1));
    let mut theta = f64::midpoint(low, high);
    // Regula falsi; every third time, and where an end does not reach, a plain halving.
    for i in 0..40 {
        let secant = low + (high - low) * g_low / (g_low - g_high);
        theta = if i % 3 != 2 && secant.is_finite() { secant } else { f64::midpoint(low, high) };
        let g = between(theta);
        if g.abs() < 1e-9 || high - low < 1e-9 {
            break;
        }
        if g > 0.0 { (low, g_low) = (theta, g) } else { (high, g_high) = (theta, g) }
    }
    if mesh.error(theta).is_infinite() {
        return None;
    }
    let even = |share: f64| between(theta + share * p).abs() < 10.0 * EVEN;
    Some((theta, even(0.01) || even(-0.01)))
}

/// The same at a number of positions; play and reach only when they are `wanted`.
fn run_at(pair: &Pair, offset: f64, mu: f64, positions: usize, wanted: bool) -> Result<Contact, NoDrive> {
    if !(offset.is_finite() && mu.is_finite() && mu >= 0.0) {
        return Err(NoDrive::Size);
    }
    let mesh = Mesh::new(pair, offset);
    let (start, shared) = taking_over(&mesh).ok_or(NoDrive::Apart)?;
    let p = mesh.pitch;
    let step = p / steps(positions);
    let mut errors = (f64::INFINITY, f64::NEG_INFINITY);
    let (mut speed, mut torque) = (errors, errors);
    let (mut work, mut approach) = (0.0, 0.0);
    let (mut on_driver_tip, mut on_driven_tip) = (0.0, 0.0);
    let mut hand_over = (1.0, 1.0);
    let mut before: Option<f64> = None;
    for i in 0..=positions {
        let theta = start + steps(i) * step;
        let touch = mesh.touch(theta).ok_or(NoDrive::Apart)?;
        let push = mesh.push(theta, &touch, mu);
        let widen = |range: &mut (f64, f64), v: f64| *range = (range.0.min(v), range.1.max(v));
        widen(&mut errors, touch.error);
        let inward = if i == 0 { BRIEF } else { -BRIEF };
        let mean = if i == 0 || i == positions {
            let near = mesh.error(theta + inward * p);
            1.0 + (near - touch.error) / (inward * p) / mesh.ratio
        } else {
            push.speed
        };
        widen(&mut speed, mean);
        widen(&mut torque, push.torque);
        // Trapezoids: the two ends count half.
        let weight = if i == 0 || i == positions { 0.5 } else { 1.0 } / steps(positions);
        work += weight * push.efficiency;
        on_driver_tip += if touch.driver_tip { weight } else { 0.0 };
        on_driven_tip += if touch.driven_tip { weight } else { 0.0 };
        if i == 0 {
            hand_over.1 = push.speed;
        }
        if i == positions {
            hand_over.0 = push.speed;
        }
        if let Some(was) = before {
            let here = push.beyond;
            approach += step
                * match (was < 0.0, here < 0.0) {
                    (true, true) => 1.0,
                    (true, false) => was / (was - here),
                    (false, true) => here / (here - was),
                    (false, false) => 0.0,
                };
        }
        before = Some(push.beyond);
    }
    let room = pair.tip_room();
    Ok(Contact {
        start: start + pair.ahead,
        end: start + pair.ahead + p,
        shared,
        reach: if wanted { reach(&mesh, start) / p } else { f64::NAN },
        transmission_error: errors.1 - errors.0,
        speed_ratio: speed,
        hand_over,
        efficiency: work,
        torque,
        approach,
        recess: p - approach,
        on_driver_tip,
        on_driven_tip,
        backlash: if wanted { mesh.play(start, 5) * pair.driven.pitch_radius() } else { f64::NAN },
        tip_room: (room.0 + offset, room.1 + offset),
        pitch: p,
    })
}

/// Turn over which a tooth bears on flanks, about the middle of its work.
fn reach(mesh: &Mesh<'_>, start: f64) -> f64 {
    let good = |theta: f64| mesh.touch(theta).is_some_and(|t| !t.driver_tip && !t.driven_tip);
    let step = mesh.pitch / 4.0;
    let middle = (1..=3).map(|i| start + steps(i) * step).find(|&t| good(t));
    let Some(middle) = middle else { return 0.0 };
    let far = |way: f64| {
        let mut last = middle;
        for i in 1..=8 {
            let next = middle + way * steps(i) * step;
            if !good(next) {
                let (mut inside, mut outside) = (last, next);
                for _ in 0..7 {
                    let mid = f64::midpoint(inside, outside);
                    if good(mid) { inside = mid } else { outside = mid }
                }
                return inside;
            }
            last = next;
        }
        last
    };
    far(1.0) - far(-1.0)
}
