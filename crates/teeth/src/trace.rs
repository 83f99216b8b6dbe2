//! Curves told by arcs: what a drawing and a machine can follow.
//!
//! Plain millimetres.

use kurbo::Point;
use shape::profile::{Profile, Segment, Sense, distance};

/// Points at which a piece is compared with its curve.
const LOOKS: u32 = 24;
/// Least share of the curve that a piece covers.
const LEAST: f64 = 1e-4;

/// Arcs that follow a curve from `u` = 0 to 1 to within `tolerance`, each through its two ends and its
/// middle; with them the widest gap that was found.
///
/// Pieces are made as long as the tolerance lets them be, from the start onward.
pub(crate) fn follow(curve: impl Fn(f64) -> Point, tolerance: f64) -> (Vec<Segment>, f64) {
    let mut pieces = Vec::new();
    let mut reached: f64 = 0.0;
    let mut from = 0.0;
    while from < 1.0 {
        let (mut to, (mut piece, mut gap)) = (1.0, through(&curve, from, 1.0));
        if gap > tolerance {
            let (mut good, mut bad) = ((from + LEAST).min(1.0), 1.0);
            while bad - good > LEAST / 4.0 {
                let mid = f64::midpoint(good, bad);
                if through(&curve, from, mid).1 <= tolerance { good = mid } else { bad = mid }
            }
            to = good;
            (piece, gap) = through(&curve, from, to);
        }
        pieces.push(piece);
        reached = reached.max(gap);
        from = to;
    }
    (pieces, reached)
}
fn through(curve: &impl Fn(f64) -> Point, from: f64, to: f64) -> (Segment, f64) {
    let piece = arc(curve(from), curve(f64::midpoint(from, to)), curve(to));
    let gap = (1..LOOKS).fold(0.0_f64, |worst, i| {
        let p = curve(from + (to - from) * f64::from(i) / f64::from(LOOKS));
        let off = match piece {
            Segment::Line { from, to } => ((p - from).cross(to - from) / distance(from, to)).abs(),
            Segment::Arc { centre, radius, .. } => (distance(p, centre) - radius).abs(),
        };
        worst.max(off)
    });
    (piece, gap)
}
/// The arc through three points, or the line where they stand in one.
fn arc(a: Point, b: Point, c: Point) -> Segment {
    let (u, v) = (b - a, c - a);
    let cross = u.cross(v);
    if cross.abs() < 1e-12 * v.hypot2() {
        return Segment::Line { from: a, to: c };
    }
    let (uu, vv) = (u.hypot2(), v.hypot2());
    let centre = a + kurbo::Vec2::new(v.y * uu - u.y * vv, u.x * vv - v.x * uu) / (2.0 * cross);
    let sense = if cross > 0.0 { Sense::Left } else { Sense::Right };
    Segment::Arc { from: a, to: c, centre, radius: distance(a, centre), sense }
}
/// The segment with each of its points moved; `mirrored` says whether the move turns left into right.
pub(crate) fn moved(s: &Segment, mirrored: bool, f: impl Fn(Point) -> Point) -> Segment {
    match *s {
        Segment::Line { from, to } => Segment::Line { from: f(from), to: f(to) },
        Segment::Arc { from, to, centre, radius, sense } => Segment::Arc {
            from: f(from),
            to: f(to),
            centre: f(centre),
            radius,
            sense: match (mirrored, sense) {
                (false, s) => s,
                (true, Sense::Left) => Sense::Right,
                (true, Sense::Right) => Sense::Left,
            },
        },
    }
}
/// Adds a segment to a chain that stands at its first point.
pub(crate) fn push(chain: Profile, s: &Segment) -> Profile {
    match *s {
        Segment::Line { to, .. } => chain.line(to.x, to.y),
        Segment::Arc { to, centre, sense, .. } => chain.arc_to(to, centre, sense),
    }
}
