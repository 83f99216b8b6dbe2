//! One beat: from rest at one end of the swing to rest at the other, phase by phase.
//!
//! Every event is a root of the series of its phase, and time begins anew with each phase, so that nothing is
//! lost to large numbers. A blow between wheel and pallet is taken without bounce.

use crate::poly::Poly;
use crate::series::{Acts, Flow, flow, root};
use crate::works::{Piece, Side, Works};

/// What happened to energy in a beat (J); what the pendulum gains is positive.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Ledger {
    /// Pushed into it by the wheel, less what pushes against it on the same faces.
    pub pushed: f64,
    /// Of that, what the pendulum gives to push the wheel back.
    pub returned: f64,
    /// Taken by rubbing on dead faces.
    pub rubbed: f64,
    /// Taken by air and suspension.
    pub resisted: f64,
    /// Taken by blows: catching up and landing.
    pub blows: f64,
    /// Taken by the wheel that has to be set in motion while it pushes.
    pub carried: f64,
    /// Energy at the end less energy at the start.
    pub gained: f64,
    /// Given by the wheel's torque over its turn.
    pub given: f64,
}
impl Ledger {
    /// What does not add up.
    #[must_use]
    pub fn off_by(&self) -> f64 {
        self.pushed - self.rubbed - self.resisted - self.blows - self.carried - self.gained
    }
    /// All that is lost.
    #[must_use]
    pub fn lost(&self) -> f64 {
        self.rubbed + self.resisted + self.blows + self.carried
    }
}
/// When things happened in a beat, seconds from its start; angles in the sense of the pallet that let off.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Beat {
    /// The pallet that let its tooth go.
    pub side: Side,
    /// Swing at its start.
    pub from: f64,
    /// Swing at its end.
    pub to: f64,
    /// How long it took.
    pub time: f64,
    /// When the tooth left the dead face; where it has none, at the start.
    pub unlocked: f64,
    /// When it was let go.
    pub let_off: f64,
    /// When the next one landed.
    pub landed: f64,
    /// Angle when it landed.
    pub landed_at: f64,
    /// Speed at the middle of the swing.
    pub fastest: f64,
    /// How far the wheel was pushed back after landing.
    pub recoil: f64,
    /// Turn of the wheel while it ran after a face.
    pub caught: f64,
    /// Turn of the wheel while it fell free.
    pub dropped: f64,
    /// Where the energy went.
    pub ledger: Ledger,
}
/// Why it does not go on.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Halt {
    /// The pendulum turned back before the tooth was let go.
    NoLetOff {
        /// Which pallet held.
        side: Side,
        /// Swing at the start of the beat.
        from: f64,
        /// How far it came, in the sense of the pallet.
        came: f64,
        /// How far it had to come.
        wanted: f64,
    },
    /// It swings beyond the faces.
    OverBanks {
        /// Which pallet.
        side: Side,
        /// Where the face ends.
        reach: f64,
    },
    /// When a tooth is let go, the other pallet is not there.
    Trips {
        /// The pallet that let go.
        side: Side,
        /// Angle then.
        at: f64,
    },
    /// The wheel is still on its way to the next pallet when the pendulum turns.
    LateWheel {
        /// The pallet that let go.
        side: Side,
    },
    /// It starts beyond what the pallet knows, or with no swing at all.
    NoStart {
        /// The pallet.
        side: Side,
        /// The swing.
        from: f64,
    },
}

/// What goes on in a stretch of motion.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Phase {
    /// A dead face holds the tooth, on the way to the middle.
    Holds,
    /// The wheel runs after a face that moves away.
    Chases,
    /// The tooth pushes.
    Pushes,
    /// Let off, the wheel falls free.
    Falls,
    /// Landed on a dead face, on the way out.
    Rests,
    /// Landed, the wheel is pushed back.
    Recoils,
}
/// How the wheel turns in a stretch.
#[derive(Clone, PartialEq, Debug)]
pub enum Turns {
    /// As a face lets it.
    On {
        /// Turn by the angle in the pallet's sense.
        turn: Poly,
        /// What it is counted from.
        base: f64,
    },
    /// By itself.
    Free {
        /// At the start.
        turn: f64,
        /// At the start.
        speed: f64,
        /// All through.
        acceleration: f64,
    },
}
/// A stretch of motion.
#[derive(Clone, Debug)]
pub struct Leg {
    /// When it begins, from the start of the beat (s).
    pub start: f64,
    /// How long it lasts.
    pub lasts: f64,
    /// The way, as a series in time.
    pub way: Flow,
    /// In whose sense.
    pub side: Side,
    /// What goes on.
    pub phase: Phase,
    /// What the wheel does.
    pub wheel: Turns,
}
impl Leg {
    /// Angle in the pallet's sense, its speed, and turn of the wheel, at a time since the leg began.
    #[must_use]
    pub fn at(&self, t: f64) -> (f64, f64, f64) {
        let (x, v) = (self.way.at(t), self.way.speed(t));
        let turn = match &self.wheel {
            Turns::On { turn, base } => base + turn.at(x),
            Turns::Free { turn, speed, acceleration } => turn + t * (speed + 0.5 * acceleration * t),
        };
        (x, v, turn)
    }
}
/// Turn and speed of the wheel.
type Wheel = (f64, f64);
enum End {
    Bound,
    Rest,
}
/// A pendulum on its way in the sense of one pallet.
struct Run<'a> {
    of: &'a Works,
    torque: f64,
    side: Side,
    x: f64,
    v: f64,
    time: f64,
    counted: bool,
    ledger: Ledger,
    caught: f64,
    dropped: f64,
    /// Part of each step's reach that is used.
    part: f64,
    /// What was done, where it is wanted.
    legs: Option<Vec<Leg>>,
    /// What the turns of the present pallet are counted from.
    base: f64,
}
impl Works {
    /// One beat that begins at rest, `arc` away from the middle, with a tooth on the pallet `side`; `torque` at
    /// the escape arbor.
    ///
    /// # Errors
    /// Why it did not complete.
    pub fn beat(&self, side: Side, arc: f64, torque: f64) -> Result<Beat, Halt> {
        self.follow(side, arc, torque, true)
    }
    /// As [`Works::beat`], without its ledger.
    ///
    /// # Errors
    /// The same.
    pub fn quick(&self, side: Side, arc: f64, torque: f64) -> Result<Beat, Halt> {
        self.follow(side, arc, torque, false)
    }
    /// As [`Works::beat`], every step of a phase cut to a part of what its series reaches: the answer stays.
    ///
    /// # Errors
    /// The same.
    pub fn beat_in_steps(&self, side: Side, arc: f64, torque: f64, part: f64) -> Result<Beat, Halt> {
        let mut run = self.at_rest(side, arc, torque, true);
        run.part = part;
        run.beat(arc)
    }
    /// A beat with all its stretches of motion; turns of the wheel are counted on from `base`, which is what the
    /// turns of `side` are counted from.
    ///
    /// # Errors
    /// The same as of [`Works::beat`].
    pub fn traced(&self, side: Side, arc: f64, torque: f64, base: f64) -> Result<(Beat, Vec<Leg>), Halt> {
        let mut run = self.at_rest(side, arc, torque, true);
        (run.legs, run.base) = (Some(Vec::new()), base);
        let beat = run.beat(arc)?;
        Ok((beat, run.legs.unwrap_or_default()))
    }
    fn follow(&self, side: Side, arc: f64, torque: f64, counted: bool) -> Result<Beat, Halt> {
        self.at_rest(side, arc, torque, counted).beat(arc)
    }
    fn at_rest(&self, side: Side, arc: f64, torque: f64, counted: bool) -> Run<'_> {
        Run {
            of: self,
            torque,
            side,
            x: -arc,
            v: 0.0,
            time: 0.0,
            counted,
            ledger: Ledger::default(),
            caught: 0.0,
            dropped: 0.0,
            part: 1.0,
            legs: None,
            base: 0.0,
        }
    }
}
impl Run<'_> {
    fn beat(&mut self, arc: f64) -> Result<Beat, Halt> {
        let side = self.side;
        let pallet = self.of.pallet(side);
        let start = self.x;
        let no_start = Halt::NoStart { side, from: arc };
        let mut n = pallet.piece(start).ok_or(if start < pallet.reach() {
            Halt::OverBanks { side, reach: pallet.reach() }
        } else {
            no_start
        })?;
        let on_at_start = pallet.pieces[n].turn.at(start);
        let (mut unlocked, mut fastest) = (0.0, 0.0_f64);
        // Speed of the wheel when it enters a face.
        let mut speed = 0.0;
        // Set when the tooth goes without having caught up.
        let mut missed = None;
        loop {
            let piece = &pallet.pieces[n];
            if !piece.still() && self.of.wheel > 0.0 && self.v > 0.0 {
                let has = piece.turn.slope(self.x);
                if speed < has * self.v * (1.0 - 1e-9) {
                    missed = self.catch_up(piece, speed)?;
                    if missed.is_some() && n + 1 < pallet.pieces.len() {
                        // It is caught by a later face: rare, and taken as caught there at once.
                        missed = None;
                    }
                }
            }
            if missed.is_none() {
                match self.on(piece, true) {
                    End::Bound => {}
                    End::Rest => {
                        let wanted = pallet.lets_off();
                        return Err(Halt::NoLetOff { side, from: arc, came: self.x, wanted });
                    }
                }
            }
            speed = piece.turn.slope(piece.to) * self.v;
            fastest = fastest.max(self.v);
            n += 1;
            if n == pallet.pieces.len() {
                break;
            }
            if piece.still() {
                unlocked = self.time;
            }
        }
        let let_off = self.time;
        let last = &pallet.pieces[n - 1];
        let (turn, speed) = missed.unwrap_or((last.turn.at(last.to), speed));
        let wheel = self.drop(turn, speed)?;
        let landed_at = self.x;
        let landed = self.time;
        // From here in the sense of the other pallet.
        self.base += self.of.ahead[side.index()];
        self.side = side.other();
        (self.x, self.v) = (-self.x, -self.v);
        let next = self.of.pallet(self.side);
        let trips = Halt::Trips { side, at: landed_at };
        let mut n = next.piece(self.x).ok_or(if self.x > next.lets_off() {
            trips
        } else {
            Halt::OverBanks { side: self.side, reach: next.reach() }
        })?;
        // At a border the face that lies ahead of the motion counts.
        if n > 0 && self.x <= next.pieces[n].from {
            n -= 1;
        }
        let stood = next.pieces[n].turn.at(self.x);
        self.land(&next.pieces[n], wheel);
        loop {
            let piece = &next.pieces[n];
            match self.on(piece, false) {
                End::Rest => break,
                End::Bound if n == 0 => {
                    return Err(Halt::OverBanks { side: self.side, reach: next.reach() });
                }
                End::Bound => n -= 1,
            }
        }
        let ends = next.pieces[n].turn.at(self.x);
        if self.counted {
            self.ledger.gained = self.of.swing.energy(self.x, self.v) - self.of.swing.energy(start, 0.0);
            let turned = self.of.ahead[side.index()] + ends - on_at_start;
            self.ledger.given = self.torque * turned;
        }
        Ok(Beat {
            side,
            from: arc,
            to: -self.x,
            time: self.time,
            unlocked,
            let_off,
            landed,
            landed_at,
            fastest,
            recoil: (stood - ends).max(0.0),
            caught: self.caught,
            dropped: self.dropped,
            ledger: self.ledger,
        })
    }
    /// Follows the pendulum on a face to its end, or to rest.
    fn on(&mut self, piece: &Piece, forward: bool) -> End {
        let swing = &self.of.swing;
        let wheel = self.of.wheel;
        let along = (wheel > 0.0 && !piece.still()).then_some((wheel, &piece.turn));
        let poly = if forward { &piece.onward } else { &piece.back };
        let acts = Acts { torque: Some(poly), times: self.torque, along };
        let bound = if forward { piece.to } else { piece.from };
        let sense = if forward { 1.0 } else { -1.0 };
        let (x0, v0) = (self.x, self.v);
        loop {
            let mut f = flow(swing, &acts, self.x, self.v, forward);
            f.far *= self.part;
            let (y, w) = f.both(f.far);
            let rests = w * sense <= 0.0;
            let (t, end) = if rests {
                let t = if self.v == 0.0 { 0.0 } else { f.rest(f.far) };
                if (f.at(t) - bound) * sense >= 0.0 {
                    (f.reaches(bound, t), Some(End::Bound))
                } else {
                    (t, Some(End::Rest))
                }
            } else if (y - bound) * sense >= 0.0 {
                (f.reaches(bound, f.far), Some(End::Bound))
            } else {
                (f.far, None)
            };
            let (x, v) = f.both(t);
            if self.counted {
                self.ledger.resisted += f.resisted(swing, t);
            }
            if let Some(legs) = &mut self.legs {
                let phase = match (piece.still(), forward) {
                    (true, true) => Phase::Holds,
                    (true, false) => Phase::Rests,
                    (false, true) => Phase::Pushes,
                    (false, false) => Phase::Recoils,
                };
                let wheel = Turns::On { turn: piece.turn.clone(), base: self.base };
                legs.push(Leg { start: self.time, lasts: t, way: f, side: self.side, phase, wheel });
            }
            (self.x, self.v) = (x, v);
            self.time += t;
            match end {
                Some(End::Bound) => self.x = bound,
                Some(End::Rest) => self.v = 0.0,
                None => continue,
            }
            if self.counted {
                let work = self.torque * poly.between(x0, self.x);
                if piece.still() {
                    self.ledger.rubbed -= work;
                } else {
                    self.ledger.pushed += work;
                    if !forward {
                        self.ledger.returned -= work;
                    }
                }
                if along.is_some() {
                    let energy = |x: f64, v: f64| {
                        let r = piece.turn.slope(x) * v;
                        0.5 * wheel * r * r
                    };
                    self.ledger.carried += energy(self.x, self.v) - energy(x0, v0);
                }
            }
            return end.unwrap_or(End::Rest);
        }
    }
    /// The pendulum alone until the wheel, from a turn and speed, has come up with `target`, which gives turn
    /// and slope by the angle. None when the angle passes `bound` before; then turn and speed of the wheel.
    fn free(
        &mut self,
        (turn, speed): (f64, f64),
        bound: f64,
        target: impl Fn(f64) -> (f64, f64),
    ) -> Result<Result<Wheel, Wheel>, Halt> {
        let swing = &self.of.swing;
        let acceleration = self.torque / self.of.wheel;
        let (mut turn, mut speed) = (turn, speed);
        loop {
            let mut f = flow(swing, &Acts::FREE, self.x, self.v, true);
            f.far *= self.part;
            let mut until = f.far;
            let late = f.speed(until) <= 0.0;
            if late {
                until = f.rest(until);
            }
            let passes = f.at(until) >= bound;
            if passes {
                until = f.reaches(bound, until);
            }
            let gap = |t: f64| {
                let (x, v) = f.both(t);
                let (to, slope) = target(x);
                let wheel = turn + t * (speed + 0.5 * acceleration * t);
                (wheel - to, speed + acceleration * t - slope * v)
            };
            // Divided by time: both may stand together at the start.
            let open = |t: f64| {
                if t == 0.0 {
                    return (gap(0.0).1, 1.0);
                }
                let (g, slope) = gap(t);
                (g / t, (slope - g / t) / t)
            };
            let start = gap(0.0);
            let together = start.0.abs() < 1e-15;
            if together && start.1 > 0.0 {
                // They stand together and go at each other.
                return Ok(Ok((turn, speed)));
            }
            let meets = gap(until).0 >= 0.0;
            let t = match (meets, together) {
                (false, _) => until,
                (true, true) => root(until, open),
                (true, false) => root(until, gap),
            };
            if self.counted {
                self.ledger.resisted += f.resisted(swing, t);
            }
            let (was, fast) = (self.base + turn, speed);
            turn += t * (speed + 0.5 * acceleration * t);
            speed += acceleration * t;
            (self.x, self.v) = f.both(t);
            if let Some(legs) = &mut self.legs {
                let phase = if bound.is_finite() { Phase::Chases } else { Phase::Falls };
                let wheel = Turns::Free { turn: was, speed: fast, acceleration };
                legs.push(Leg { start: self.time, lasts: t, way: f, side: self.side, phase, wheel });
            }
            self.time += t;
            if meets {
                return Ok(Ok((turn, speed)));
            }
            if passes {
                self.x = bound;
                return Ok(Err((turn, speed)));
            }
            if late {
                return Err(Halt::LateWheel { side: self.side });
            }
        }
    }
    /// The wheel, at rest or slow, runs after an impulse face that moves away. When the face ends first: turn
    /// and speed of the wheel.
    fn catch_up(&mut self, piece: &Piece, speed: f64) -> Result<Option<(f64, f64)>, Halt> {
        let turn = piece.turn.at(self.x);
        let met = self.free((turn, speed), piece.to, |x| (piece.turn.at(x), piece.turn.slope(x)))?;
        let (Ok((to, _)) | Err((to, _))) = met;
        self.caught += to - turn;
        match met {
            Ok((_, wheel)) => {
                self.blow(piece.turn.slope(self.x), piece.turn.slope(self.x), wheel);
                Ok(None)
            }
            Err(on) => Ok(Some(on)),
        }
    }
    /// The wheel falls free to the other pallet; its speed as it lands.
    fn drop(&mut self, turn: f64, speed: f64) -> Result<f64, Halt> {
        let next = self.of.pallet(self.side.other());
        let ahead = self.of.ahead[self.side.index()];
        let last = next.pieces.len() - 1;
        let target = |x: f64| {
            let y = (-x).clamp(next.reach(), next.lets_off());
            let piece = &next.pieces[next.piece(y).unwrap_or(last)];
            (ahead + piece.turn.at(y), -piece.turn.slope(y))
        };
        if self.of.wheel == 0.0 {
            self.dropped = target(self.x).0 - turn;
            return Ok(0.0);
        }
        let (Ok((to, landing)) | Err((to, landing))) = self.free((turn, speed), f64::INFINITY, target)?;
        self.dropped = to - turn;
        Ok(landing)
    }
    /// A wheel of some speed meets the pallet, whose face has slope `slope`; `ratio` is the torque that comes of
    /// one of the wheel.
    fn blow(&mut self, slope: f64, ratio: f64, wheel: f64) {
        let (i, j) = (self.of.swing.inertia, self.of.wheel);
        let before = 0.5 * i * self.v * self.v;
        self.v = (i * self.v + ratio * j * wheel) / (i + ratio * j * slope);
        if self.counted {
            let after = 0.5 * i * self.v * self.v;
            self.ledger.blows += before - after;
        }
    }
    fn land(&mut self, piece: &Piece, wheel: f64) {
        if self.of.wheel > 0.0 {
            self.blow(piece.turn.slope(self.x), piece.back.at(self.x), wheel);
        }
    }
}
