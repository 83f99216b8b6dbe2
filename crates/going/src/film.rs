//! The movement as it moves: where everything stands through two beats, with touch and force, from the simulation itself.

use crate::Halt;
use crate::beat::{Leg, Phase};
use crate::model::faces::{Contact, Seen, sense};
use crate::model::{End, Model, arms};
use crate::works::Side;
use escapement::frame::turned_about;
use kurbo::{Point, Vec2};
use movement::design::Acting;
use shape::profile::Profile;

/// One moment.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Frame {
    /// Time since the first beat began (s).
    pub time: f64,
    /// Angle of pendulum and pallets, counter-clockwise.
    pub pallets: f64,
    /// Its speed (rad/s).
    pub speed: f64,
    /// Turn of the wheel, clockwise.
    pub wheel: f64,
    /// The pallet that is at work, or that let off.
    pub side: Side,
    /// What goes on.
    pub phase: Phase,
    /// Where they touch, the force on the pallet (N).
    pub touch: Option<(Point, Vec2)>,
    /// How far each arm of a grasshopper is turned, counter-clockwise, from its composer.
    pub arms: [f64; 2],
}
/// A moment with a name.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Event {
    /// What happens.
    pub what: &'static str,
    /// At which pallet.
    pub side: Side,
    /// The moment.
    pub frame: Frame,
}
/// Two beats.
#[derive(Clone, PartialEq, Debug)]
pub struct Film {
    /// How long they take.
    pub cycle: f64,
    /// Arc.
    pub arc: f64,
    /// Moments in order; every stretch of motion has several, however short it is.
    pub frames: Vec<Frame>,
    /// What happens, in order.
    pub events: Vec<Event>,
}

/// In words.
#[must_use]
pub const fn phase_word(p: Phase) -> &'static str {
    match p {
        Phase::Holds => "held",
        Phase::Chases => "the wheel runs after the face",
        Phase::Pushes => "impulse",
        Phase::Falls => "the wheel falls free",
        Phase::Rests => "held, on the way out",
        Phase::Recoils => "the wheel is pushed back",
    }
}
/// Follows two beats at the arc that settles at an end of the losses when a part of the run is over; `many` moments
/// or more.
///
/// # Errors
/// Why nothing settles there.
pub fn film(m: &Model, end: End, over: f64, many: u32) -> Result<Film, Halt> {
    let works = m.at(end);
    let torque = m.supply.torque(end, over);
    let steady = works.steady(torque)?;
    let (first, mut legs) = works.traced(Side::Entry, steady.arc, torque, 0.0)?;
    let (second, more) = works.traced(Side::Exit, first.to, torque, works.ahead[0])?;
    let begins = first.time;
    legs.extend(more.into_iter().map(|l| Leg { start: l.start + begins, ..l }));
    let cycle = first.time + second.time;
    let look = Look::new(m, end, torque);
    let at = |time: f64| {
        // The last that has begun: a stretch of no length is passed over.
        let n = legs.iter().rposition(|l| l.start <= time).unwrap_or(0);
        look.frame(&legs[n], time)
    };
    let mut frames = Vec::new();
    for l in legs.iter().filter(|l| l.lasts > 1e-9) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small count")]
        let n = ((f64::from(many) * l.lasts / cycle).ceil() as u32).max(8);
        frames.extend((0..n).map(|i| look.frame(l, l.start + l.lasts * f64::from(i) / f64::from(n))));
    }
    // The end of the last stretch: where all begins again, a tooth further on.
    if let Some(l) = legs.last() {
        frames.push(look.frame(l, l.start + l.lasts));
    }
    let mut events = Vec::new();
    for (beat, from) in [(first, 0.0), (second, begins)] {
        let mut put = |what, side, time: f64| events.push(Event { what, side, frame: at(time) });
        put("the pendulum turns", beat.side, from);
        if beat.unlocked > 0.0 {
            put("unlocked", beat.side, from + beat.unlocked - 1e-9);
        }
        // Half-way in angle through what pushes.
        let off = works.pallet(beat.side).lets_off();
        if let Some(n) = legs.iter().position(|l| l.start >= from && l.phase == Phase::Pushes) {
            let starts = legs[n].at(0.0).0;
            let want = f64::midpoint(starts.max(-off), off);
            let on = legs[n..].iter().find(|l| l.phase == Phase::Pushes && l.at(l.lasts).0 >= want);
            if let Some(l) = on {
                put("impulse", beat.side, l.start + when(l, want));
            }
        }
        // A hair before, so that the touch still stands.
        put("let off", beat.side, from + beat.let_off - 1e-9);
        put("landed", beat.side.other(), from + beat.landed + 1e-9);
    }
    Ok(Film { cycle, arc: steady.arc, frames, events })
}
/// All outlines as they stand in a frame: wheel, pallets, arms.
#[must_use]
pub fn standing(m: &Model, f: &Frame) -> Vec<Profile> {
    let d = &m.drawn;
    let about = |p: &Profile, centre: Point, by: f64| p.mapped(|q| turned_about(q, centre, by));
    let mut all: Vec<Profile> = d.wheel.iter().map(|p| about(p, Point::ORIGIN, -f.wheel)).collect();
    all.extend(d.pallets.iter().map(|p| about(p, d.arbor, f.pallets)));
    if let Acting::Arms(l) = &m.acting {
        for (side, (arm, by)) in [Side::Entry, Side::Exit].into_iter().zip(d.arms.iter().zip(f.arms)) {
            let joint = l.joint(arms::arm(side), 0.0);
            all.push(about(&about(arm, joint, by), d.arbor, f.pallets));
        }
    }
    all
}
/// When a leg comes to an angle.
fn when(l: &Leg, want: f64) -> f64 {
    let (mut low, mut high) = (0.0, l.lasts);
    for _ in 0..50 {
        let t = f64::midpoint(low, high);
        if l.at(t).0 < want { low = t } else { high = t }
    }
    low
}
/// What is needed to see touch and force.
struct Look<'a> {
    acting: &'a Acting,
    friction: f64,
    torque: f64,
    /// Direction from joint to nib in the frame, as each arm stands at its composer.
    stops: [f64; 2],
}
impl<'a> Look<'a> {
    fn new(m: &'a Model, end: End, torque: f64) -> Look<'a> {
        let mut stops = [0.0; 2];
        if let Acting::Arms(l) = &m.acting
            && let Ok(c) = escapement::grasshopper::cycle(l, m.arc.bare().value())
        {
            stops = [c.entry.stop, c.exit.stop];
        }
        Look { acting: &m.acting, friction: m.friction[end.index()].bare().value(), torque, stops }
    }
    fn frame(&self, l: &Leg, time: f64) -> Frame {
        let (x, v, wheel) = l.at((time - l.start).min(l.lasts));
        let s = sense(l.side);
        let touching = !matches!(l.phase, Phase::Falls | Phase::Chases);
        let mut arms_turned = [0.0; 2];
        let touch = match self.acting {
            Acting::Faces { works, .. } => {
                let seen = Seen::new(works, l.side, self.friction).contact(x);
                seen.filter(|_| touching).map(|c| (c.at, self.force(&c, v)))
            }
            Acting::Arms(linkage) => {
                let pose = linkage.pose(arms::arm(l.side), s * x);
                if let Some(p) = &pose {
                    let now = p.tip - p.joint;
                    let by = reckon::maths::atan2(now.y, now.x) - s * x - self.stops[l.side.index()];
                    arms_turned[l.side.index()] = escapement::frame::wrapped(by);
                }
                pose.filter(|_| touching).map(|p| {
                    let u = (p.joint - p.tip) / (p.joint - p.tip).hypot();
                    let push = if p.tip.to_vec2().cross(u) > 0.0 { -u } else { u };
                    (p.tip, push * (self.torque * 1e3 / -p.tip.to_vec2().cross(push)))
                })
            }
        };
        let (side, phase) = (l.side, l.phase);
        Frame { time, pallets: s * x, speed: s * v, wheel, side, phase, touch, arms: arms_turned }
    }
    /// The force on the pallet, in newtons, of a wheel that is not being set in motion.
    fn force(&self, c: &Contact, v: f64) -> Vec2 {
        let (o, along) = (c.at.to_vec2(), c.drags * self.friction);
        let f = if v >= 0.0 { c.normal + along } else { c.normal - along };
        f * (self.torque * 1e3 / -o.cross(f))
    }
}
