//! Outlines and linkages with one of their sizes a little larger.

use crate::model::faces::{Close, Faces};
use crate::model::{arms, faces};
use crate::works::Side;
use ::escapement::cycle::{Nib, moved};
use ::escapement::frame::{length, wheel_angle};
use kurbo::Point;
use movement::design::Acting;
use shape::segment::Segment;

/// A size of the escapement that can be out.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Size {
    /// Distance of the arbors.
    Centres,
    /// Radius over the tips.
    Tips,
    /// A nib longer: turned about the pallets' arbor, into the wheel.
    NibLonger(Side),
    /// A nib further from the pallets' arbor.
    NibOut(Side),
    /// A grasshopper's strut longer.
    Strut(Side),
    /// A grasshopper's joint further from the frame's arbor.
    Joint(Side),
}
impl Size {
    /// The sizes of what acts.
    #[must_use]
    pub const fn of(acting: &Acting) -> [Size; 6] {
        let [a, b] = [Side::Entry, Side::Exit];
        match acting {
            Acting::Faces { .. } => [
                Size::Centres,
                Size::Tips,
                Size::NibLonger(a),
                Size::NibLonger(b),
                Size::NibOut(a),
                Size::NibOut(b),
            ],
            Acting::Arms(_) => {
                [Size::Centres, Size::Tips, Size::Strut(a), Size::Strut(b), Size::Joint(a), Size::Joint(b)]
            }
        }
    }
    /// What it is called.
    #[must_use]
    pub fn says(self) -> String {
        match self {
            Size::Centres => "distance of the pallets' arbor".to_owned(),
            Size::Tips => "tip radius of the escape wheel".to_owned(),
            Size::NibLonger(s) => format!("length of the {} nib", s.word()),
            Size::NibOut(s) => format!("{} nib from its arbor", s.word()),
            Size::Strut(s) => format!("length of the {} arm", s.word()),
            Size::Joint(s) => format!("{} joint from its arbor", s.word()),
        }
    }
    /// What acts with this size larger by `by` millimetres.
    #[must_use]
    pub fn larger(self, acting: &Acting, by: f64) -> Acting {
        let mut acting = acting.clone();
        match &mut acting {
            Acting::Faces { works, .. } => {
                let arbor = works.arbor;
                let up = |p: Point| Point::new(p.x, p.y + by);
                match self {
                    Size::Centres => {
                        works.arbor = up(arbor);
                        for nib in [&mut works.entry, &mut works.exit] {
                            each(nib, |s| placed(s, up, 1.0));
                        }
                    }
                    Size::Tips => works.wheel.tooth.iter_mut().for_each(|s| *s = placed(s, up, 1.0)),
                    Size::NibLonger(side) => {
                        let nib = nib(&mut works.entry, &mut works.exit, side);
                        let a = by / mean(nib, arbor);
                        let a = if side == Side::Entry { a } else { -a };
                        each(nib, |s| moved(s, arbor, a));
                    }
                    Size::NibOut(side) => {
                        let nib = nib(&mut works.entry, &mut works.exit, side);
                        let k = 1.0 + by / mean(nib, arbor);
                        each(nib, |s| placed(s, |p| arbor + (p - arbor) * k, k));
                    }
                    Size::Strut(_) | Size::Joint(_) => {}
                }
            }
            Acting::Arms(l) => match self {
                Size::Centres => l.distance += by,
                Size::Tips => l.tip_radius += by,
                Size::Strut(side) => strut(l, side).length += by,
                Size::Joint(side) => {
                    let s = strut(l, side);
                    s.joint = s.joint * (1.0 + by / length(s.joint));
                }
                Size::NibLonger(_) | Size::NibOut(_) => {}
            },
        }
        acting
    }
}
fn strut(l: &mut ::escapement::grasshopper::Linkage, side: Side) -> &mut ::escapement::grasshopper::Strut {
    match side {
        Side::Entry => &mut l.entry,
        Side::Exit => &mut l.exit,
    }
}
fn nib<'a>(entry: &'a mut Nib, exit: &'a mut Nib, side: Side) -> &'a mut Nib {
    match side {
        Side::Entry => entry,
        Side::Exit => exit,
    }
}
fn each(nib: &mut Nib, f: impl Fn(&Segment) -> Segment) {
    nib.chain.iter_mut().for_each(|s| *s = f(s));
}
fn mean(nib: &Nib, arbor: Point) -> f64 {
    let sum: f64 = nib.chain.iter().map(|s| length(s.from() - arbor)).sum();
    sum / nib.chain.len().max(1) as f64
}
fn placed(s: &Segment, to: impl Fn(Point) -> Point, scale: f64) -> Segment {
    match *s {
        Segment::Line { from, to: end } => Segment::Line { from: to(from), to: to(end) },
        Segment::Arc { from, to: end, centre, radius, sense } => {
            Segment::Arc { from: to(from), to: to(end), centre: to(centre), radius: radius * scale, sense }
        }
    }
}
/// Width of a tooth's tip, seen from the wheel's arbor: it goes by before the wheel is free.
pub(super) fn tip(acting: &Acting) -> f64 {
    let Acting::Faces { works, .. } = acting else { return 0.0 };
    let ends: Vec<Point> = works.wheel.tooth.iter().flat_map(|s| [s.from(), s.to()]).collect();
    let far = ends.iter().map(|p| length(p.to_vec2())).fold(0.0, f64::max);
    let angles = ends.iter().filter(|p| length(p.to_vec2()) > far - 1e-6).map(|p| wheel_angle(*p));
    let (low, high) = angles.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    (high - low).max(0.0)
}
/// What acts, as pallets; or why it does not.
pub(crate) fn pallets(acting: &Acting, friction: f64) -> Result<Faces, String> {
    match acting {
        Acting::Faces { works, reach } => {
            faces::faces_as_close(works, friction, *reach, Close::Study).map_err(|a| a.says())
        }
        Acting::Arms(l) => arms::arms(l).map_err(|f| f.to_string()),
    }
}
