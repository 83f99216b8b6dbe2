//! Facing, roughing and finishing the outside of parts that grow towards the chuck.
//!
//! The tool is controlled at its tip: the corner of the two lines that touch its nose from the left and from
//! below. Along cylinders and faces the tip runs on the outline; on a chamfer the nose would leave 2 − √2 of its
//! radius, so the way goes in by that much.

use super::super::hand_over::{Ring, ToolShape, ToolWay};
use super::super::{Act, To};
use kurbo::Point;
use reckon::maths::{PI, cos, sin};

/// Radius of the nose of a small turning tool, millimetres.
pub(super) const NOSE: f64 = 0.2;
/// Left for the finishing cut, on the radius and on shoulders.
pub(super) const LEFT: f64 = 0.15;
/// Metal in front of the finished face.
pub(super) const FACE: f64 = 0.5;
/// More or less than this is a fault of the program.
pub(super) const ROOM: f64 = 0.01;

/// A stretch of the outside, from the free end on.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Rung {
    /// How long.
    pub length: f64,
    /// Its radius.
    pub radius: f64,
    /// Chamfer on its corner towards the free end; none where zero.
    pub chamfer: f64,
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
/// the spindle turns.
pub(super) fn turn(rungs: &[Rung], c: &Cutting) -> Vec<Act> {
    let length: f64 = rungs.iter().map(|r| r.length).sum();
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
    let least = rungs.first().map_or(c.bar, |r| r.radius) + LEFT;
    let passes = ((c.bar - least) / c.deepest - 1e-9).ceil().max(0.0);
    if passes > 0.0 {
        acts.push(Act::Remark("rough".into()));
    }
    let each = (c.bar - least) / passes.max(1.0);
    let mut k = 1.0;
    while k <= passes {
        let radius = c.bar - each * k;
        k += 1.0;
        let open = rungs.iter().take_while(|r| r.radius + LEFT <= radius + 1e-9);
        let run: f64 = open.map(|r| r.length).sum();
        if run <= LEFT {
            continue;
        }
        let end = if run > length - 1e-9 { -(length + c.beyond) } else { -run + LEFT };
        acts.push(Act::Rapid(To::x(radius)));
        acts.push(Act::Line { to: To::z(end), feed: c.feeds.0 });
        acts.push(Act::Line { to: To::x(radius + each + 0.2), feed: c.feeds.0 });
        acts.push(Act::Rapid(To::z(1.0)));
    }
    acts.push(Act::Remark("finish".into()));
    let way = way(rungs, c);
    if let Some(&first) = way.first() {
        acts.push(Act::Rapid(To::x(first.y)));
        for p in &way {
            acts.push(Act::Line { to: To::radius_z(p.y, p.x), feed: c.feeds.1 });
        }
    }
    acts.push(Act::Line { to: To::x(out), feed: c.feeds.0 });
    acts
}
/// The way of the tip along the outline: (z, radius).
fn way(rungs: &[Rung], c: &Cutting) -> Vec<Point> {
    let more = (2.0 - 2.0_f64.sqrt()) * NOSE;
    let mut points = Vec::new();
    let mut z = 0.0;
    let mut before = -NOSE;
    for (i, r) in rungs.iter().enumerate() {
        let bar = r.radius > c.bar - 1e-6;
        if r.chamfer > 0.0 && !bar {
            let cut = r.chamfer + more;
            points.push(Point::new(z, (r.radius - cut).max(before)));
            points.push(Point::new(z - cut, r.radius));
        } else {
            points.push(Point::new(z, r.radius));
        }
        if bar {
            break;
        }
        z -= r.length;
        let last = i + 1 == rungs.len();
        points.push(Point::new(if last { z - c.beyond } else { z }, r.radius));
        before = r.radius;
    }
    points
}
/// Outline of the half section: hollow corners as drawn, or with what the nose leaves in them.
pub(super) fn outline(rungs: &[Rung], c: &Cutting, with_nose: bool) -> Ring {
    let length: f64 = rungs.iter().map(|r| r.length).sum::<f64>() + c.beyond;
    let mut ring = vec![(-length, 0.0), (0.0, 0.0)];
    let mut z = 0.0;
    for (i, r) in rungs.iter().enumerate() {
        if i > 0 && with_nose {
            let low = rungs[i - 1].radius;
            ring.push((z + NOSE, low));
            ring.push((z + NOSE, (low + NOSE).min(r.radius)));
            if low + NOSE < r.radius - r.chamfer {
                ring.push((z, low + NOSE));
            }
        } else if i > 0 {
            ring.push((z, rungs[i - 1].radius));
        }
        let bar = r.radius > c.bar - 1e-6;
        if r.chamfer > 0.0 && !bar {
            ring.push((z, r.radius - r.chamfer));
            ring.push((z - r.chamfer, r.radius));
        } else {
            ring.push((z, r.radius));
        }
        z -= r.length;
        ring.push((if i + 1 == rungs.len() { -length } else { z }, r.radius));
    }
    ring
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
