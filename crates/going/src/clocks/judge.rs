//! One drawn clock judged: do its pallets catch, does its swing settle, is its arc enough.

use super::vary::pallets;
use super::{Clocks, More};
use crate::DAY;
use crate::beat::Halt;
use crate::model::faces::Faces;
use crate::study::Outcome;
use crate::works::{Pallet, Piece, Works};

/// What is asked of each clock.
pub const VERDICTS: [&str; 3] = ["escapes on both pallets", "keeps going", "holds its arc"];
/// Figures of each clock, with their units.
pub const FIGURES: [(&str, &str); 6] = [
    ("arc at the end of the run", "°"),
    ("rate before it is regulated", "s/day"),
    ("lock or hold, entry", "°"),
    ("lock or hold, exit", "°"),
    ("drop after the entry pallet", "°"),
    ("drop after the exit pallet", "°"),
];

/// What one clock does; radians.
#[derive(Clone, PartialEq, Debug)]
pub struct Found {
    /// Lock, or how far a tooth that lands stands from being let go: entry, exit.
    pub holds: [f64; 2],
    /// Free turn of the wheel after each pallet, once the tip has gone by.
    pub drops: [f64; 2],
    /// Arc that settles, and rate against the wanted beat.
    pub settles: Result<(f64, f64), Halt>,
    /// Arc that it needs.
    pub needs: f64,
    /// Whether it also settles with the torque at the start of the run.
    pub starts: bool,
}

impl Clocks {
    fn more(&self, sizes: &[f64], what: More) -> f64 {
        sizes[self.sizes.len() + what as usize]
    }
    /// The faces of a clock, from its own outlines.
    pub(crate) fn faces(&self, sizes: &[f64]) -> Result<Faces, String> {
        pallets(&self.acting_of(sizes), self.more(sizes, More::Friction))
    }
    /// What acts in a clock of these sizes.
    #[must_use]
    pub fn acting_of(&self, sizes: &[f64]) -> movement::design::Acting {
        self.sizes.iter().zip(sizes).fold(self.acting.clone(), |a, (s, by)| s.larger(&a, *by))
    }
    /// Lock of each pallet; of faces without one, how far a tooth that lands stands from the let-off.
    pub(crate) fn holds(&self, f: &Faces) -> [f64; 2] {
        let [entry, exit] = &f.pallets;
        [(entry, exit), (exit, entry)].map(|(p, other)| {
            let end = |p: &Pallet| p.pieces.iter().rev().find(|f| f.still()).map(|f| f.to);
            let held = if self.dead { end(p) } else { None };
            held.unwrap_or_else(|| p.lets_off()) + other.lets_off()
        })
    }
    fn drops(&self, f: &Faces) -> [f64; 2] {
        let [entry, exit] = &f.pallets;
        let pitch = f.ahead[0] + f.ahead[1];
        [(entry, exit, f.ahead[0]), (exit, entry, f.ahead[1])].map(|(from, to, ahead)| {
            let off = from.pieces.last().map_or(0.0, |p| p.turn.at(p.to));
            // At the other's angle then; beyond its faces, as its last or first goes on.
            let y = -from.lets_off();
            let piece = to.piece(y).unwrap_or_else(|| if y < to.reach() { 0 } else { to.pieces.len() - 1 });
            let drop = ahead + to.pieces[piece].turn.at(y) - off;
            if drop > pitch / 2.0 { drop - pitch } else { drop }
        })
    }
    /// What a clock of these sizes does.
    ///
    /// # Errors
    /// Why its outlines are no escapement.
    pub fn found(&self, sizes: &[f64]) -> Result<Found, String> {
        Ok(self.found_of(&self.faces(sizes)?, sizes))
    }
    fn found_of(&self, f: &Faces, sizes: &[f64]) -> Found {
        let more = |what| self.more(sizes, what);
        // The worst tooth that comes by: closer to its neighbour, and where the wheel stands out least.
        let close = more(More::Division).abs() / self.tip_radius;
        let true_to = more(More::Runout).abs() / 2.0;
        let mut holds = self.holds(f);
        for (h, per) in holds.iter_mut().zip(self.per_runout) {
            *h -= per.abs() * true_to;
        }
        let drops = self.drops(f).map(|d| d - close - self.tip);
        let needs = f.pallets.iter().map(Pallet::lets_off).fold(0.0, f64::max) + self.run;

        let mut swing = self.swing;
        // What hangs counts by its mass; longer by a little, inertia grows twice as fast as the moment.
        let (mass, long) = (more(More::Bob), 1.0 + more(More::Length) * 1e-3 / self.length());
        swing.inertia *= mass * long * long;
        swing.gravity *= mass * long;
        swing.viscous = swing.inertia * swing.frequency() * self.swing.viscous
            / (self.swing.inertia * self.swing.frequency())
            / more(More::Quality);
        let out = more(More::OutOfBeat).to_radians();
        let pallets = [(0, out), (1, -out)].map(|(i, by)| shifted(&f.pallets[i], by));
        let works = Works { swing, pallets, ahead: f.ahead, wheel: self.wheel }.passing(more(More::Beyond));
        let torque = more(More::Torque);
        let settles = works.settles(self.arc, torque).and_then(|arc| {
            let first = works.quick(crate::Side::Entry, arc, torque)?;
            let second = works.quick(crate::Side::Exit, first.to, torque)?;
            let cycle = first.time + second.time;
            Ok((arc.min(first.to), DAY * (2.0 * self.beat - cycle) / cycle))
        });
        let starts = self.top.is_none_or(|k| works.settles(self.arc, torque * k).is_ok());
        Found { holds, drops, settles, needs: needs + out.abs(), starts }
    }
    fn length(&self) -> f64 {
        // Of the pendulum that beats with it, at standard gravity: a part of a length is all that is asked.
        9.806_65 / (self.swing.frequency() * self.swing.frequency())
    }
    /// A clock of these sizes as an outcome of the study.
    #[must_use]
    pub fn outcome(&self, sizes: &[f64]) -> Outcome {
        let Ok(found) = self.found(sizes) else {
            return Outcome { holds: vec![false; 3], figures: vec![f64::NAN; FIGURES.len()] };
        };
        // A grasshopper's wheel has no drop: an arm that catches lifts it back.
        let clear = self.arms || found.drops.iter().all(|d| *d > 0.0);
        let escapes = clear && found.holds.iter().all(|h| *h > 0.0);
        let goes = found.settles.is_ok() && found.starts;
        let enough = found.settles.is_ok_and(|(arc, _)| arc >= found.needs);
        let (arc, rate) = found.settles.unwrap_or((f64::NAN, f64::NAN));
        let [a, b] = found.holds.map(f64::to_degrees);
        let [c, d] = found.drops.map(f64::to_degrees);
        Outcome { holds: vec![escapes, goes, enough], figures: vec![arc.to_degrees(), rate, a, b, c, d] }
    }
}
/// A pallet turned on its arbor by a little, in its own sense.
pub(crate) fn shifted(p: &Pallet, by: f64) -> Pallet {
    let mut p = p.clone();
    for piece in &mut p.pieces {
        let Piece { from, to, turn, onward, back } = piece;
        *from += by;
        *to += by;
        for poly in [turn, onward, back] {
            poly.origin += by;
        }
    }
    p
}
impl Works {
    /// The arc that settles, looked for about one that is near it: a secant first, and the whole search where that
    /// does not come to rest.
    ///
    /// # Errors
    /// As [`Works::steady`].
    pub fn settles(&self, near: f64, torque: f64) -> Result<f64, Halt> {
        let change = |a: f64| self.cycle(a, torque).ok().map(|b| b - a);
        let quick = || {
            let (mut a, mut fa) = (near, change(near)?);
            // A swing near its end changes by little each time: so far off it may stand.
            let mut b = near * if fa > 0.0 { 1.03 } else { 0.97 };
            for _ in 0..14 {
                let fb = change(b)?;
                let slope = (fb - fa) / (b - a);
                if slope.is_nan() || slope >= 0.0 {
                    return None;
                }
                if fb.abs() < 1e-13 {
                    return Some(b);
                }
                let next = b - (fb / slope).clamp(-0.3 * b, 0.3 * b);
                (a, fa, b) = (b, fb, next);
            }
            None
        };
        quick().map_or_else(|| self.steady(torque).map(|s| s.arc), Ok)
    }
}
