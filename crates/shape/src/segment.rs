//! Straight lines and circular arcs, and where they meet.
//!
//! Plain millimetres.

use kurbo::{Point, Rect, Vec2};
use reckon::maths::{PI, atan2, cos, hypot, sin};

/// Two points nearer than this are one point (millimetres).
pub const SAME: f64 = 1e-9;

/// Which way round an arc is travelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// Counter-clockwise, y up.
    Left,
    /// Clockwise, y up.
    Right,
}

/// One piece of a chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight line.
    Line {
        /// First point.
        from: Point,
        /// Last point.
        to: Point,
    },
    /// A circular arc of at most one turn; from and to the same point is the whole circle.
    Arc {
        /// First point, on the circle.
        from: Point,
        /// Last point, on the circle.
        to: Point,
        /// Centre of the circle.
        centre: Point,
        /// Radius of the circle.
        radius: f64,
        /// Way round.
        sense: Sense,
    },
}

impl Segment {
    /// First point.
    #[must_use]
    pub fn from(&self) -> Point {
        match *self {
            Segment::Line { from, .. } | Segment::Arc { from, .. } => from,
        }
    }
    /// Last point.
    #[must_use]
    pub fn to(&self) -> Point {
        match *self {
            Segment::Line { to, .. } | Segment::Arc { to, .. } => to,
        }
    }
    /// Angle of the first point seen from the centre and the signed angle swept (radians, counter-clockwise
    /// positive); zeros for a line.
    #[must_use]
    pub fn sweep(&self) -> (f64, f64) {
        match *self {
            Segment::Line { .. } => (0.0, 0.0),
            Segment::Arc { from, to, centre, sense, .. } => {
                let a = angle(from - centre);
                if distance(from, to) < SAME {
                    return (a, if sense == Sense::Left { 2.0 * PI } else { -2.0 * PI });
                }
                let mut turn = angle(to - centre) - a;
                match sense {
                    Sense::Left if turn <= 0.0 => turn += 2.0 * PI,
                    Sense::Right if turn >= 0.0 => turn -= 2.0 * PI,
                    _ => {}
                }
                (a, turn)
            }
        }
    }
    /// Length along the segment.
    #[must_use]
    pub fn length(&self) -> f64 {
        match *self {
            Segment::Line { from, to } => distance(from, to),
            Segment::Arc { radius, .. } => radius * self.sweep().1.abs(),
        }
    }
    /// The point a share `t` (0 … 1) along the segment.
    #[must_use]
    pub fn at(&self, t: f64) -> Point {
        match *self {
            Segment::Line { from, to } => from.lerp(to, t),
            Segment::Arc { from, to, centre, radius, .. } => {
                if t <= 0.0 {
                    return from;
                }
                if t >= 1.0 {
                    return to;
                }
                let (a, turn) = self.sweep();
                on_circle(centre, radius, a + turn * t)
            }
        }
    }
    /// The same segment travelled backwards.
    #[must_use]
    pub fn reversed(&self) -> Segment {
        match *self {
            Segment::Line { from, to } => Segment::Line { from: to, to: from },
            Segment::Arc { from, to, centre, radius, sense } => Segment::Arc {
                from: to,
                to: from,
                centre,
                radius,
                sense: if sense == Sense::Left { Sense::Right } else { Sense::Left },
            },
        }
    }
    /// Smallest upright box round the segment.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let mut bounds = Rect::from_points(self.from(), self.to());
        if let Segment::Arc { centre, radius, .. } = *self {
            for quarter in 0..4 {
                let a = f64::from(quarter) * PI / 2.0;
                if self.sees(a, 0.0) {
                    bounds = bounds.union_pt(on_circle(centre, radius, a));
                }
            }
        }
        bounds
    }
    /// Whether an arc passes the angle `a` seen from its centre, give or take `slack` radians.
    pub(crate) fn sees(&self, a: f64, slack: f64) -> bool {
        let (start, turn) = self.sweep();
        let past = if turn >= 0.0 { a - start } else { start - a };
        let past = past - (past / (2.0 * PI)).floor() * 2.0 * PI;
        past <= turn.abs() + slack || past >= 2.0 * PI - slack
    }
    /// Whether the point, known to lie on the line or circle, lies on the segment.
    fn holds(&self, p: Point) -> bool {
        match *self {
            Segment::Line { from, to } => {
                let d = to - from;
                let t = (p - from).dot(d) / d.hypot2();
                let slack = SAME / d.hypot2().sqrt();
                t >= -slack && t <= 1.0 + slack
            }
            Segment::Arc { centre, radius, .. } => self.sees(angle(p - centre), SAME / radius),
        }
    }
    /// Twice the signed area between the segment and the origin (Green).
    pub(crate) fn twice_area(&self) -> f64 {
        let chord = self.from().to_vec2().cross(self.to().to_vec2());
        match *self {
            Segment::Line { .. } => chord,
            Segment::Arc { radius, .. } => {
                let turn = self.sweep().1;
                chord + radius * radius * (turn - sin(turn))
            }
        }
    }
    /// Points where this segment meets another; for pieces lying on each other, the ends of what they share.
    #[must_use]
    pub fn meets(&self, other: &Segment) -> Vec<Point> {
        let found = match (*self, *other) {
            (Segment::Line { from: a, to: b }, Segment::Line { from: c, to: d }) => line_line(a, b, c, d),
            (Segment::Line { from, to }, Segment::Arc { centre, radius, .. })
            | (Segment::Arc { centre, radius, .. }, Segment::Line { from, to }) => {
                line_circle(from, to, centre, radius)
            }
            (
                Segment::Arc { centre: c, radius: r, from, to, .. },
                Segment::Arc { centre: e, radius: q, from: f2, to: t2, .. },
            ) => {
                if distance(c, e) < SAME && (r - q).abs() < SAME {
                    vec![from, to, f2, t2, self.at(0.5), other.at(0.5)]
                } else {
                    circle_circle(c, r, e, q)
                }
            }
        };
        found.into_iter().filter(|&p| self.holds(p) && other.holds(p)).collect()
    }
}

pub(crate) fn angle(v: Vec2) -> f64 {
    atan2(v.y, v.x)
}

/// Distance between two points (same bits on every machine).
#[must_use]
pub fn distance(a: Point, b: Point) -> f64 {
    hypot(b.x - a.x, b.y - a.y)
}

/// The point of a circle at an angle (radians from +x, counter-clockwise).
#[must_use]
pub fn on_circle(centre: Point, radius: f64, a: f64) -> Point {
    Point::new(centre.x + radius * cos(a), centre.y + radius * sin(a))
}

fn line_line(a: Point, b: Point, c: Point, d: Point) -> Vec<Point> {
    let (u, v, w) = (b - a, d - c, c - a);
    let cross = u.cross(v);
    let (lu, lv) = (u.hypot2().sqrt(), v.hypot2().sqrt());
    if lu < SAME || lv < SAME {
        return Vec::new();
    }
    if cross.abs() <= 1e-14 * lu * lv {
        // Parallel: they meet only where one lies on the other.
        if (u.cross(w) / lu).abs() > SAME {
            return Vec::new();
        }
        return vec![a, b, c, d];
    }
    vec![a + u * (w.cross(v) / cross)]
}

fn line_circle(from: Point, to: Point, centre: Point, radius: f64) -> Vec<Point> {
    let d = to - from;
    let len = d.hypot2().sqrt();
    if len < SAME {
        return Vec::new();
    }
    let d = d / len;
    let foot = from + d * (centre - from).dot(d);
    let off = distance(foot, centre);
    if off > radius + SAME {
        return Vec::new();
    }
    let half = (radius * radius - off * off).max(0.0).sqrt();
    if half < SAME { vec![foot] } else { vec![foot - d * half, foot + d * half] }
}

fn circle_circle(c: Point, r: f64, e: Point, q: f64) -> Vec<Point> {
    let apart = distance(c, e);
    if apart < SAME || apart > r + q + SAME || apart < (r - q).abs() - SAME {
        return Vec::new();
    }
    let along = (apart * apart + r * r - q * q) / (2.0 * apart);
    let half = (r * r - along * along).max(0.0).sqrt();
    let u = (e - c) / apart;
    let foot = c + u * along;
    let side = Vec2::new(-u.y, u.x) * half;
    if half < SAME { vec![foot] } else { vec![foot + side, foot - side] }
}
