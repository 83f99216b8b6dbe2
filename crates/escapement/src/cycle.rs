//! A whole cycle from the outlines: the pallets swing to and fro, the wheel always pushed forward until
//! something touches.
//!
//! Nothing here knows how an escapement was constructed: locks, lifts, drops and recoil are found from the
//! faces alone, as a maker would find them at the bench. Plain millimetres and radians.

use crate::dead_beat::Side;
use crate::frame::{TURN, length, turned_about, within_pitch};
use crate::touch::{Block, Meets, Touch, block};
use kurbo::Point;
use reckon::Source;
use shape::segment::Segment;

/// How a cycle is worked.
pub static CYCLE: Source = Source::derived("first touch of the turned outlines, by circle and line");

/// What a piece of a pallet's outline is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Holds the wheel still.
    Dead,
    /// Is pushed by the tooth.
    Impulse,
    /// The side that the tooth has left.
    Back,
}

/// The working end of a pallet, in the middle of the swing: an open chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Nib {
    /// Its pieces, each beginning where the last ended.
    pub chain: Vec<Segment>,
    /// What each is for.
    pub faces: Vec<Face>,
}

/// The wheel: one tooth with its leading corner on the line of centres, and how many of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Wheel {
    /// Teeth or pins.
    pub teeth: u32,
    /// Outline of one, an open chain, or a whole circle for a pin.
    pub tooth: Vec<Segment>,
    /// Radius of the rim below the teeth; nothing where pins stand free.
    pub root: f64,
}
impl Wheel {
    /// Angle from tooth to tooth.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        TURN / f64::from(self.teeth)
    }
}

/// The whole escapement.
#[derive(Clone, Debug, PartialEq)]
pub struct Works {
    /// The wheel.
    pub wheel: Wheel,
    /// The arbor of the pallets.
    pub arbor: Point,
    /// Entry pallet.
    pub entry: Nib,
    /// Exit pallet.
    pub exit: Nib,
}

/// How a tooth stands on a pallet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// The tip on the dead face.
    TipOnDead,
    /// The tip on the impulse face.
    TipOnImpulse,
    /// A corner of the pallet on the tip, the front or the back of a tooth.
    CornerOnTooth,
    /// The side of a tooth or pin flat on a face.
    FlatOnDead,
    /// The side of a tooth or pin flat on an impulse face.
    FlatOnImpulse,
    /// The tip on the back of the nib.
    OnBack,
}
impl Stand {
    /// In words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Stand::TipOnDead => "tip on dead face",
            Stand::TipOnImpulse => "tip on impulse face",
            Stand::CornerOnTooth => "corner of the pallet on the tooth",
            Stand::FlatOnDead => "side on dead face",
            Stand::FlatOnImpulse => "side on impulse face",
            Stand::OnBack => "on the back of the nib",
        }
    }
    /// Whether the wheel is held here without pushing.
    #[must_use]
    pub const fn dead(self) -> bool {
        matches!(self, Stand::TipOnDead | Stand::FlatOnDead)
    }
}

/// What one pallet does in a cycle; angles of the pallets counter-clockwise, of the wheel clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beat {
    /// Which pallet.
    pub side: Side,
    /// Pallets when a tooth lands on it.
    pub lands: f64,
    /// How it lands.
    pub stands: Stand,
    /// Pallets when the tooth comes off the dead face; where it lands when there is none.
    pub unlocks: f64,
    /// Pallets when the tooth is let off.
    pub lets_off: f64,
    /// Lock: from landing to unlocking; below nothing when the tooth lands on the impulse face.
    pub lock: f64,
    /// Turn of the pallets from unlocking to let-off.
    pub lift: f64,
    /// Turn of the wheel while it pushes.
    pub pushes: f64,
    /// Free turn of the wheel after let-off: from the heel over the corner to the next landing.
    pub drop: f64,
    /// Free turn of the wheel with the width of the tip that goes by.
    pub free: f64,
    /// Swing beyond the landing.
    pub run: f64,
    /// How far the wheel is pushed back after the landing.
    pub recoil: f64,
}

/// The narrowest place, and where the pallets stand then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// Gap: radians at the wheel, or millimetres at the root.
    pub gap: f64,
    /// Angle of the pallets.
    pub pallets: f64,
    /// Which nib.
    pub side: Side,
}

/// How a cycle ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    /// Both pallets unlock, one tooth at a time.
    Goes,
    /// A pallet never lets its tooth go within the swing.
    NeverUnlocks {
        /// Which one.
        side: Side,
    },
    /// When a pallet lets off, the other is not there: the wheel runs.
    Trips {
        /// The pallet that let off.
        side: Side,
        /// Angle of the pallets.
        pallets: f64,
    },
    /// A nib meets a tooth that it should pass behind: the wheel is held between both pallets.
    Binds {
        /// The nib that meets a tooth.
        side: Side,
        /// Angle of the pallets.
        pallets: f64,
    },
}
impl State {
    /// In words.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            State::Goes => "goes",
            State::NeverUnlocks { side: Side::Entry } => "never unlocks the entry pallet",
            State::NeverUnlocks { side: Side::Exit } => "never unlocks the exit pallet",
            State::Trips { side: Side::Entry, .. } => "trips when the entry pallet lets off",
            State::Trips { side: Side::Exit, .. } => "trips when the exit pallet lets off",
            State::Binds { side: Side::Entry, .. } => "binds: the entry nib meets a tooth",
            State::Binds { side: Side::Exit, .. } => "binds: the exit nib meets a tooth",
        }
    }
}

/// A cycle as found.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycle {
    /// How it ends.
    pub state: State,
    /// The beats that were completed, in their order.
    pub beats: Vec<Beat>,
    /// Least room between the back of a nib and the tooth behind which it stands, at the wheel.
    pub behind: Option<Least>,
    /// Least room between a nib and the rim, in millimetres.
    pub under: Option<Least>,
    /// Turn of the wheel in the whole cycle.
    pub advance: f64,
}
impl Cycle {
    /// What a pallet did, when it completed its beat.
    #[must_use]
    pub fn beat(&self, side: Side) -> Option<&Beat> {
        self.beats.iter().find(|b| b.side == side)
    }
}

impl Works {
    fn nib(&self, side: Side) -> &Nib {
        match side {
            Side::Entry => &self.entry,
            Side::Exit => &self.exit,
        }
    }
    /// A nib with the pallets at an angle.
    #[must_use]
    pub fn turned(&self, side: Side, theta: f64) -> Vec<Segment> {
        self.nib(side).chain.iter().map(|s| moved(s, self.arbor, theta)).collect()
    }
    /// What a nib denies to a tooth with the pallets at an angle.
    #[must_use]
    pub fn block(&self, side: Side, theta: f64) -> Option<Block> {
        block(&self.wheel.tooth, &self.turned(side, theta))
    }
    /// How a touch stands.
    fn stand(&self, side: Side, t: &Touch) -> Stand {
        let face = self.nib(side).faces.get(t.pallet).copied().unwrap_or(Face::Back);
        match (t.meets, face) {
            (Meets::Corner, _) => Stand::CornerOnTooth,
            (_, Face::Back) => Stand::OnBack,
            (Meets::Tip, Face::Dead) => Stand::TipOnDead,
            (Meets::Tip, Face::Impulse) => Stand::TipOnImpulse,
            (Meets::Flat, Face::Dead) => Stand::FlatOnDead,
            (Meets::Flat, Face::Impulse) => Stand::FlatOnImpulse,
        }
    }
    /// Whether a tooth rests on the dead face with the pallets at `theta`.
    fn rests(&self, side: Side, theta: f64) -> bool {
        self.block(side, theta).is_some_and(|b| self.stand(side, &b.enter).dead())
    }
    /// Least distance of a nib from the wheel's arbor.
    fn reach(&self, side: Side, theta: f64) -> f64 {
        let chain = self.turned(side, theta);
        chain
            .iter()
            .map(|s| length(s.from().to_vec2()).min(length(s.to().to_vec2())))
            .fold(f64::INFINITY, f64::min)
    }
    /// Swings the pallets from +`amplitude` to −`amplitude` and back in `steps` steps each way, and finds
    /// where everything happens by halving between the steps.
    #[must_use]
    pub fn cycle(&self, amplitude: f64, steps: u32) -> Cycle {
        Run::new(self, amplitude, steps.max(8)).run()
    }
}

/// A piece turned counter-clockwise about a point.
#[must_use]
pub fn moved(s: &Segment, about: Point, by: f64) -> Segment {
    let t = |p: Point| turned_about(p, about, by);
    match *s {
        Segment::Line { from, to } => Segment::Line { from: t(from), to: t(to) },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: t(from), to: t(to), centre: t(centre), radius, sense }
        }
    }
}

/// The state of a swing as it goes.
struct Run<'a> {
    works: &'a Works,
    amplitude: f64,
    steps: u32,
    pitch: f64,
    side: Side,
    /// Turn of the wheel.
    wheel: f64,
    /// Landing of the present tooth: pallets, wheel, stand; `None` before the first landing.
    landed: Option<(f64, f64, Stand)>,
    /// Furthest back the wheel was since.
    lowest: f64,
    unlocked: Option<(f64, f64)>,
    out: Cycle,
}
impl<'a> Run<'a> {
    fn new(works: &'a Works, amplitude: f64, steps: u32) -> Run<'a> {
        Run {
            works,
            amplitude,
            steps,
            pitch: works.wheel.pitch(),
            side: Side::Entry,
            wheel: 0.0,
            landed: None,
            lowest: 0.0,
            unlocked: None,
            out: Cycle { state: State::Goes, beats: Vec::new(), behind: None, under: None, advance: 0.0 },
        }
    }
    /// The turn of the wheel at which the held tooth touches, nearest to where the wheel stands.
    fn held(&self, b: &Block) -> f64 {
        let n = ((self.wheel - b.enter.turn) / self.pitch + 0.5).floor();
        b.enter.turn + n * self.pitch
    }
    fn run(mut self) -> Cycle {
        let a = self.amplitude;
        let Some(first) = self.works.block(Side::Entry, a) else {
            self.out.state = State::Trips { side: Side::Exit, pallets: a };
            return self.out;
        };
        self.wheel = first.enter.turn;
        self.lowest = self.wheel;
        let started = self.wheel;
        // One and a half cycles: the first half brings the wheel to where landings are seen.
        for half in 0..3 {
            let (from, to) = if half % 2 == 0 { (a, -a) } else { (-a, a) };
            let side = self.side;
            if !self.half(from, to) {
                return self.out;
            }
            if side == self.side {
                self.out.state = State::NeverUnlocks { side };
                return self.out;
            }
            if half == 1 {
                self.out.advance = self.wheel - started;
            }
        }
        self.out
    }
    /// One swing; false when it ended the cycle.
    fn half(&mut self, from: f64, to: f64) -> bool {
        let mut before = from;
        for i in 1..=self.steps {
            let now = from + (to - from) * f64::from(i) / f64::from(self.steps);
            if !self.step(before, now) {
                return false;
            }
            before = now;
        }
        true
    }
    fn step(&mut self, before: f64, now: f64) -> bool {
        // The tooth comes off the dead face somewhere on the way.
        let side = self.side;
        if self.unlocked.is_none() && self.works.rests(side, before) && !self.works.rests(side, now) {
            let at = halve(before, now, |x| self.works.rests(side, x));
            let on = self.works.block(side, at).map_or(self.wheel, |b| self.held(&b));
            self.unlocked = Some((at, on));
        } else if self.unlocked.is_some() && self.works.rests(side, now) {
            self.unlocked = None;
        }
        match self.works.block(side, now) {
            Some(b) => {
                self.wheel = self.held(&b);
                self.lowest = self.lowest.min(self.wheel);
            }
            None => {
                if !self.let_off(before, now) {
                    return false;
                }
            }
        }
        self.look_round(now)
    }
    /// The held tooth is let go between two angles of the pallets, and another lands.
    fn let_off(&mut self, before: f64, now: f64) -> bool {
        let side = self.side;
        let at = halve(before, now, |x| self.works.block(side, x).is_some());
        let Some((off, passing)) = self.at_let_off(side, at, before) else { return true };
        let clear = off + passing;
        let other = side.other();
        let Some(next) = self.works.block(other, at) else {
            self.out.state = State::Trips { side, pallets: at };
            return false;
        };
        // The first stop ahead of the tooth that went; a hair behind it still counts as ahead.
        let stop = off + within_pitch(next.enter.turn - off + 1e-9, self.pitch) - 1e-9;
        let stands = self.works.stand(other, &next.enter);
        if let Some((lands, wheel, stood)) = self.landed {
            let (unlocks, on) = self.unlocked.unwrap_or((lands, wheel));
            // A face with no dead part pushes from where the tooth landed.
            let sense = if side == Side::Entry { -1.0 } else { 1.0 };
            self.out.beats.push(Beat {
                side,
                lands,
                stands: stood,
                unlocks,
                lets_off: at,
                lock: (unlocks - lands) * sense,
                lift: (at - unlocks) * sense,
                pushes: off - on,
                drop: stop - clear,
                free: stop - off,
                run: self.amplitude - lands.abs(),
                recoil: (wheel - self.lowest).max(0.0),
            });
        }
        self.side = other;
        self.wheel = stop;
        self.lowest = stop;
        self.landed = Some((at, stop, stands));
        self.unlocked = None;
        true
    }
    /// Where the wheel stands when a tooth is let off at `at`, and the width of the tip that still goes by.
    ///
    /// At `at` itself a heel that grazes the corner could be taken for the toe. A hair h before, the corner
    /// stands inside the tips and the toe touches; what a flank shows there differs in proportion to h, what a
    /// round pin shows by its root: f = f₀ + a √h + b h, solved from three hairs.
    fn at_let_off(&self, side: Side, at: f64, before: f64) -> Option<(f64, f64)> {
        let seen = |hair: f64| {
            let b = self.works.block(side, if before < at { at - hair } else { at + hair })?;
            Some((self.held(&b), b.leave.turn - b.enter.turn))
        };
        let (f1, f2, f3) = (seen(1e-8)?, seen(4e-8)?, seen(16e-8)?);
        let settled = |w1: f64, w2: f64, w3: f64| {
            let b = ((w3 - w2) - 2.0 * (w2 - w1)) / 6.0;
            let a = (w2 - w1) - 3.0 * b;
            w1 - a - b
        };
        Some((settled(f1.0, f2.0, f3.0), settled(f1.1, f2.1, f3.1).max(0.0)))
    }
    /// The other nib must not stand in a tooth; its room is noted.
    fn look_round(&mut self, theta: f64) -> bool {
        let other = self.side.other();
        if let Some(b) = self.works.block(other, theta) {
            let behind = within_pitch(self.wheel - b.leave.turn + 1e-9, self.pitch) - 1e-9;
            let ahead = self.pitch - (b.leave.turn - b.enter.turn) - behind;
            if ahead < -1e-7 {
                self.out.state = State::Binds { side: other, pallets: theta };
                return false;
            }
            note(&mut self.out.behind, behind, theta, other);
        }
        if self.works.wheel.root > 0.0 {
            for side in [Side::Entry, Side::Exit] {
                let under = self.works.reach(side, theta) - self.works.wheel.root;
                note(&mut self.out.under, under, theta, side);
            }
        }
        true
    }
}
fn note(least: &mut Option<Least>, gap: f64, pallets: f64, side: Side) {
    if least.is_none_or(|l| gap < l.gap) {
        *least = Some(Least { gap, pallets, side });
    }
}
/// The last angle between `yes` and `no` at which something still holds.
fn halve(mut yes: f64, mut no: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(yes, no);
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    yes
}

#[cfg(test)]
mod tests;
