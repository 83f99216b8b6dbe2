//! Facing, roughing and finishing the outside of parts that grow towards the chuck: cylinders, cones, curves.
//!
//! The tool is controlled at its tip: the corner of the two lines that touch its nose from the left and from
//! below. The way of the nose's middle is found first; the tip goes along with it.

use super::super::hand_over::{ToolShape, ToolWay};
use super::super::{Act, To};
use super::way;
use kurbo::Point;
use reckon::maths::{PI, cos, sin};
use shape::profile::Segment;
use shape::region::{Corner, Region};
use shape::segment::Sense;

/// Radius of the nose of a small turning tool, millimetres.
pub(super) const NOSE: f64 = 0.2;
/// Left for the finishing cut, on the radius and on shoulders.
pub(super) const LEFT: f64 = 0.15;
/// Metal in front of the finished face.
pub(super) const FACE: f64 = 0.5;
/// More or less than this is a fault of the program.
pub(super) const ROOM: f64 = 0.01;

/// How closely outlines follow curves.
const FINE: f64 = 2.0e-4;

/// Form of a stretch of the outside.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A cylinder.
    Straight,
    /// A cone.
    Cone {
        /// Its radius at its free end.
        begins: f64,
    },
    /// Lines and arcs that rise towards the chuck: (z, radius), z nothing where it begins and falling.
    Curved(Vec<Segment>),
}
/// A stretch of the outside, from the free end on.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// How long.
    pub length: f64,
    /// Its radius; where it is no cylinder, at its end.
    pub radius: f64,
    /// Chamfer on its corner towards the free end, of a cylinder; none where zero.
    pub chamfer: f64,
    /// Its form.
    pub form: Form,
}
impl Rung {
    /// A cylinder.
    #[must_use]
    pub const fn cylinder(length: f64, radius: f64, chamfer: f64) -> Rung {
        Rung { length, radius, chamfer, form: Form::Straight }
    }
    /// Its radius at its free end; the bar's own skin keeps its corner.
    pub(super) fn begins(&self, c: &Cutting) -> f64 {
        match &self.form {
            Form::Straight if self.radius > c.bar - 1e-6 => self.radius,
            _ => self.lowest(),
        }
    }
    /// Its radius at its free end, where its corner is cut.
    pub(super) fn lowest(&self) -> f64 {
        match &self.form {
            Form::Straight => self.radius - self.chamfer,
            Form::Cone { begins } => *begins,
            Form::Curved(pieces) => pieces.first().map_or(self.radius, |s| s.from().y),
        }
    }
}
/// How a piece is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Radius of the bar.
    pub bar: f64,
    /// Deepest cut, on the radius.
    pub deepest: f64,
    /// Turns a minute.
    pub rpm: f64,
    /// Feeds a turn: rough, fine.
    pub feeds: (f64, f64),
    /// Length beyond the part that is turned for parting off.
    pub beyond: f64,
}

/// The acts that turn rungs from a bar; their radii do not fall towards the chuck. The tool stands clear in front,
/// the spindle turns. Nothing where the nose does not come everywhere.
pub(super) fn turn(rungs: &[Rung], c: &Cutting) -> Option<Vec<Act>> {
    let length: f64 = rungs.iter().map(|r| r.length).sum();
    let line = way::outline(rungs, c);
    if !way::rises(&line) {
        return None;
    }
    let (fine, rough) = (way::circle(&line, NOSE)?, way::circle(&line, NOSE + LEFT)?);
    let out = c.bar + 1.0;
    let mut acts = vec![
        Act::Rapid(To::x(out)),
        Act::Rapid(To::z(0.0)),
        Act::Remark("face".into()),
        Act::Line { to: To::x(-NOSE), feed: c.feeds.1 },
        Act::Line { to: To::z(1.0), feed: c.feeds.0 },
        Act::Rapid(To::x(out)),
    ];
    // Rough: each pass as far as the outline with its allowance lets it.
    let least = rungs.first().map_or(c.bar, |r| r.begins(c).max(0.0)) + LEFT;
    let least = rungs.first().filter(|r| r.form == Form::Straight).map_or(least, |r| r.radius + LEFT);
    let passes = ((c.bar - least) / c.deepest - 1e-9).ceil().max(0.0);
    if passes > 0.0 {
        acts.push(Act::Remark("rough".into()));
    }
    let each = (c.bar - least) / passes.max(1.0);
    let mut k = 1.0;
    while k <= passes {
        let radius = c.bar - each * k;
        k += 1.0;
        let end = match way::reaches(&rough, radius + NOSE + 1e-6) {
            Some(z) => z - NOSE,
            None => -(length + c.beyond),
        };
        if end >= -LEFT {
            continue;
        }
        acts.push(Act::Rapid(To::x(radius)));
        acts.push(Act::Line { to: To::z(end), feed: c.feeds.0 });
        acts.push(Act::Line { to: To::x(radius + each + 0.2), feed: c.feeds.0 });
        acts.push(Act::Rapid(To::z(1.0)));
    }
    // Steps on a cone or a curve are taken off before the last cut, which is then even.
    if rungs.iter().any(|r| r.form != Form::Straight) {
        acts.push(Act::Remark("along the outline, with its allowance".into()));
        along(&mut acts, &rough, c, c.feeds.0);
        acts.push(Act::Line { to: To::x(out), feed: c.feeds.0 });
        acts.push(Act::Rapid(To::z(1.0)));
    }
    acts.push(Act::Remark("finish".into()));
    along(&mut acts, &fine, c, c.feeds.1);
    acts.push(Act::Line { to: To::x(out), feed: c.feeds.0 });
    Some(acts)
}
/// The tip along a way of the nose's middle, from in front of the face to where the bar's own skin begins.
fn along(acts: &mut Vec<Act>, line: &[Segment], c: &Cutting, feed: f64) {
    let tip: Vec<Segment> = line.iter().map(|s| way::moved(s, -NOSE, -NOSE)).collect();
    let skin = |s: &Segment| s.from().y.min(s.to().y) > c.bar - 1e-6;
    // The first piece is the face, turned before.
    let Some(start) = tip.first().map(Segment::to) else { return };
    acts.push(Act::Rapid(To::x(start.y)));
    acts.push(Act::Line { to: To::radius_z(start.y, start.x), feed });
    for s in tip.iter().skip(1).take_while(|s| !skin(s)) {
        acts.push(match *s {
            Segment::Line { to, .. } => Act::Line { to: To::radius_z(to.y, to.x), feed },
            Segment::Arc { to, centre, sense, .. } => {
                let across = |p: Point| Point::new(p.y, p.x);
                Act::Arc { to: across(to), centre: across(centre), clockwise: sense == Sense::Right, feed }
            }
        });
    }
}
/// The half section as it must be at least, and with what the nose leaves in hollow corners.
pub(super) fn sections(rungs: &[Rung], c: &Cutting) -> (Region, Region) {
    let length: f64 = rungs.iter().map(|r| r.length).sum::<f64>() + c.beyond;
    let mut points = vec![Point::new(-length, 0.0), Point::ZERO];
    points.extend(way::sampled(&way::outline(rungs, c), FINE).into_iter().skip(1));
    let drawn = Region::polygon(&points).unwrap_or_else(|_| Region::empty());
    // Where a circle of the nose's radius does not come in from outside.
    let grown = drawn.offset(NOSE, Corner::Round, FINE);
    let left = grown.and_then(|g| g.offset(-NOSE, Corner::Round, FINE));
    let with_nose = left.map_or_else(|_| drawn.clone(), |left| drawn.union(&left));
    (drawn, with_nose)
}
/// The tool about its tip.
pub(super) fn tool() -> ToolShape {
    let way = |degrees: f64, far: f64| {
        let a = degrees * PI / 180.0;
        (NOSE + far * cos(a), NOSE + far * sin(a))
    };
    let mut ring = Vec::new();
    for (x, y) in [(NOSE, NOSE), way(87.0, 7.0), way(32.0, 7.0)] {
        ring.extend((0..64).map(|i| {
            let a = PI * f64::from(i) / 32.0;
            (x + NOSE * cos(a), y + NOSE * sin(a))
        }));
    }
    ToolShape {
        number: 0,
        cutting: vec![ring],
        holder: vec![vec![(1.5, 7.5), (13.0, 7.5), (13.0, 40.0), (1.5, 40.0)]],
        most_feed: Some(0.12),
        way: ToolWay::Any,
        most_bite: None,
        near_axis: None,
        most_speed: None,
    }
}
