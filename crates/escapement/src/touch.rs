//! Where a tooth, turned about its wheel's arbor, touches a pallet that stands still.
//!
//! Plain millimetres and radians in the plane of [`crate::frame`]. All answers are closed formulas: a corner
//! on a line or arc, a line on an arc, an arc on an arc.

use crate::frame::{WHEEL, bearing, left_of, length, turned, unit, wheel_angle, wrapped};
use kurbo::Point;
use reckon::maths::{PI, acos};
use shape::segment::{Segment, Sense};

/// How far beyond its end a piece still counts as touched (millimetres).
const SLACK: f64 = 1e-10;

/// What meets what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// A corner of the tooth on the pallet.
    Tip,
    /// A corner of the pallet on the tooth.
    Corner,
    /// Two smooth pieces, tangent to each other.
    Flat,
}

/// A place where the tooth touches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Turn of the tooth, clockwise from where it was drawn, −π to π.
    pub turn: f64,
    /// Where they touch.
    pub at: Point,
    /// What meets what.
    pub meets: Meets,
    /// Number of the piece of the tooth.
    pub tooth: usize,
    /// Number of the piece of the pallet.
    pub pallet: usize,
}

/// First and last turn at which a tooth touches a pallet; between the two it would cut into it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Where a tooth that comes up is stopped.
    pub enter: Touch,
    /// Where a tooth that passed comes free.
    pub leave: Touch,
}

/// Whether a point known to be on the line or circle of a piece lies on the piece.
fn holds(s: &Segment, p: Point) -> bool {
    match *s {
        Segment::Line { from, to } => {
            let d = to - from;
            let l = length(d);
            let t = (p - from).dot(d) / l;
            t >= -SLACK && t <= l + SLACK
        }
        Segment::Arc { centre, radius, sense, .. } => {
            let (start, sweep) = s.sweep();
            let a = bearing(p - centre);
            let past = if sense == Sense::Left { a - start } else { start - a };
            let past = past - (past / (2.0 * PI)).floor() * 2.0 * PI;
            past <= sweep.abs() + SLACK / radius || past >= 2.0 * PI - SLACK / radius
        }
    }
}
/// Where a circle about the wheel's arbor meets a piece.
fn on_circle_of(r: f64, s: &Segment, mut each: impl FnMut(Point)) {
    let mut keep = |p: Point| {
        if holds(s, p) {
            each(p);
        }
    };
    match *s {
        Segment::Line { from, to } => {
            let u = unit(to - from);
            let foot = from - u * from.to_vec2().dot(u);
            let half = r * r - foot.to_vec2().hypot2();
            if half >= 0.0 {
                keep(foot + u * half.sqrt());
                keep(foot - u * half.sqrt());
            }
        }
        Segment::Arc { centre, radius, .. } => {
            if let Some((p, q)) = crate::frame::circles_meet(WHEEL, r, centre, radius) {
                keep(p);
                keep(q);
            }
        }
    }
}

/// All touches of a tooth and a pallet, each an open chain of lines and arcs.
#[must_use]
pub fn touches(tooth: &[Segment], pallet: &[Segment]) -> Vec<Touch> {
    let mut out = Vec::new();
    for (i, t) in tooth.iter().enumerate() {
        for (j, p) in pallet.iter().enumerate() {
            let mut put = |turn: f64, at: Point, meets: Meets| {
                out.push(Touch { turn: wrapped(turn), at, meets, tooth: i, pallet: j });
            };
            for v in ends(tooth, i) {
                on_circle_of(length(v.to_vec2()), p, |q| {
                    put(wheel_angle(q) - wheel_angle(v), q, Meets::Tip);
                });
            }
            for v in ends(pallet, j) {
                on_circle_of(length(v.to_vec2()), t, |q| {
                    put(wheel_angle(v) - wheel_angle(q), v, Meets::Corner);
                });
            }
            tangent(t, p, |turn, at| put(turn, at, Meets::Flat));
        }
    }
    out
}
/// The first point of a piece, and of the last piece its end too, so that every corner is tried once.
fn ends(chain: &[Segment], i: usize) -> impl Iterator<Item = Point> {
    let last = (i + 1 == chain.len()).then(|| chain[i].to());
    std::iter::once(chain[i].from()).chain(last)
}
fn tangent(tooth: &Segment, pallet: &Segment, mut put: impl FnMut(f64, Point)) {
    match (tooth, pallet) {
        (Segment::Line { .. }, Segment::Line { .. }) => {}
        (&Segment::Line { from, to }, &Segment::Arc { centre, radius, .. }) => {
            let n = left_of(unit(to - from));
            let off = n.dot(from.to_vec2());
            let far = length(centre.to_vec2());
            for reach in [off + radius, off - radius] {
                for sign in [1.0, -1.0] {
                    let c = reach / far;
                    if far <= 0.0 || c.abs() > 1.0 {
                        continue;
                    }
                    let turn = bearing(n) - bearing(centre.to_vec2()) - sign * acos(c);
                    let at = centre + turned(n, -turn) * (off - reach);
                    if holds(pallet, at) && holds(tooth, back(at, turn)) {
                        put(turn, at);
                    }
                }
            }
        }
        (&Segment::Arc { centre, radius, .. }, &Segment::Line { from, to }) => {
            let n = left_of(unit(to - from));
            let off = n.dot(from.to_vec2());
            let far = length(centre.to_vec2());
            for reach in [off + radius, off - radius] {
                for sign in [1.0, -1.0] {
                    let c = reach / far;
                    if far <= 0.0 || c.abs() > 1.0 {
                        continue;
                    }
                    let turn = bearing(centre.to_vec2()) - bearing(n) - sign * acos(c);
                    let moved = WHEEL + turned(centre.to_vec2(), -turn);
                    let at = moved + n * (off - reach);
                    if holds(pallet, at) && holds(tooth, back(at, turn)) {
                        put(turn, at);
                    }
                }
            }
        }
        (&Segment::Arc { centre: c, radius: r, .. }, &Segment::Arc { centre: e, radius: q, .. }) => {
            let (fc, fe) = (length(c.to_vec2()), length(e.to_vec2()));
            for (gap, along) in [(r + q, q), ((r - q).abs(), if q > r { q } else { -q })] {
                let cosine = (fc * fc + fe * fe - gap * gap) / (2.0 * fc * fe);
                if fc <= 1e-9 || fe <= 1e-9 || gap <= 0.0 || cosine.abs() > 1.0 {
                    continue;
                }
                for sign in [1.0, -1.0] {
                    let turn = bearing(c.to_vec2()) - bearing(e.to_vec2()) - sign * acos(cosine);
                    let moved = WHEEL + turned(c.to_vec2(), -turn);
                    let at = e + (moved - e) / gap * along;
                    if holds(pallet, at) && holds(tooth, back(at, turn)) {
                        put(turn, at);
                    }
                }
            }
        }
    }
}
/// A point of the turned tooth, as the tooth was drawn.
fn back(p: Point, turn: f64) -> Point {
    WHEEL + turned(p.to_vec2(), turn)
}

/// What a pallet denies to a tooth; `None` when the tooth passes it freely all round.
#[must_use]
pub fn block(tooth: &[Segment], pallet: &[Segment]) -> Option<Block> {
    let all = touches(tooth, pallet);
    let first = all.iter().copied().reduce(|a, b| if b.turn < a.turn { b } else { a })?;
    let last = all.iter().copied().reduce(|a, b| if b.turn > a.turn { b } else { a })?;
    Some(Block { enter: first, leave: last })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::on_wheel;

    fn line(a: Point, b: Point) -> Segment {
        Segment::Line { from: a, to: b }
    }
    #[test]
    fn a_radial_tooth_meets_a_post() {
        let tooth = [line(on_wheel(8.0, 0.0), on_wheel(10.0, 0.0))];
        let centre = on_wheel(9.0, 0.5);
        let post = [Segment::Arc {
            from: centre + kurbo::Vec2::new(0.3, 0.0),
            to: centre + kurbo::Vec2::new(0.3, 0.0),
            centre,
            radius: 0.3,
            sense: Sense::Left,
        }];
        let b = block(&tooth, &post).expect("they meet");
        // A radial line touches a circle of radius r at distance d from the arbor asin(r/d) before its centre.
        let half = reckon::maths::asin(0.3 / 9.0);
        assert!((b.enter.turn - (0.5 - half)).abs() < 1e-12 && (b.leave.turn - (0.5 + half)).abs() < 1e-12);
        assert_eq!(b.enter.meets, Meets::Flat);
        // A pin in place of the tooth: two circles.
        let pin = [Segment::Arc {
            from: on_wheel(9.2, 0.0),
            to: on_wheel(9.2, 0.0),
            centre: on_wheel(9.0, 0.0),
            radius: 0.2,
            sense: Sense::Left,
        }];
        let b = block(&pin, &post).expect("they meet");
        let half = 2.0 * reckon::maths::asin(0.25 / 9.0);
        assert!((b.enter.turn - (0.5 - half)).abs() < 1e-9, "{} {}", b.enter.turn, 0.5 - half);
        // A pin on a straight edge through the arbor.
        let edge = [line(on_wheel(8.0, 1.0), on_wheel(10.0, 1.0))];
        let b = block(&pin, &edge).expect("they meet");
        assert!((b.enter.turn - (1.0 - reckon::maths::asin(0.2 / 9.0))).abs() < 1e-12);
        assert!(block(&[line(on_wheel(2.0, 0.0), on_wheel(3.0, 0.0))], &post).is_none());
    }
}
