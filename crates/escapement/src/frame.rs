//! The plane in which every escapement is set out.
//!
//! Plain millimetres and radians. The escape wheel's arbor is the origin, the arbor of the pallets (or
//! of the frame) stands above it on the y axis, x goes to the right. The wheel turns clockwise and its
//! angles are counted clockwise from the line of centres; angles of the pallets count counter-clockwise.

use kurbo::{Point, Vec2};
use reckon::maths::{PI, acos, atan2, cos, hypot, sin};

/// The arbor of the escape wheel.
pub const WHEEL: Point = Point::ZERO;

/// A whole turn.
pub const TURN: f64 = 2.0 * PI;

/// The arbor of the pallets, `centres` above the wheel's.
#[must_use]
pub const fn arbor(centres: f64) -> Point {
    Point::new(0.0, centres)
}
/// The point of a circle about the wheel's arbor at the angle `a`, clockwise from the line of centres.
#[must_use]
pub fn on_wheel(radius: f64, a: f64) -> Point {
    Point::new(radius * sin(a), radius * cos(a))
}
/// The angle of a point about the wheel's arbor, clockwise from the line of centres, −π to π.
#[must_use]
pub fn wheel_angle(p: Point) -> f64 {
    atan2(p.x, p.y)
}
/// The bearing of an arrow: counter-clockwise from +x, −π to π.
#[must_use]
pub fn bearing(v: Vec2) -> f64 {
    atan2(v.y, v.x)
}
/// Length of an arrow.
#[must_use]
pub fn length(v: Vec2) -> f64 {
    hypot(v.x, v.y)
}
/// Distance between two points.
#[must_use]
pub fn apart(a: Point, b: Point) -> f64 {
    length(b - a)
}
/// The arrow of length one at a bearing.
#[must_use]
pub fn arrow(bearing: f64) -> Vec2 {
    Vec2::new(cos(bearing), sin(bearing))
}
/// The arrow turned counter-clockwise.
#[must_use]
pub fn turned(v: Vec2, by: f64) -> Vec2 {
    let (s, c) = (sin(by), cos(by));
    Vec2::new(v.x * c - v.y * s, v.x * s + v.y * c)
}
/// The point turned counter-clockwise about another.
#[must_use]
pub fn turned_about(p: Point, centre: Point, by: f64) -> Point {
    centre + turned(p - centre, by)
}
/// The arrow turned a quarter counter-clockwise.
#[must_use]
pub fn left_of(v: Vec2) -> Vec2 {
    Vec2::new(-v.y, v.x)
}
/// The arrow with length one; an arrow of no length stays so.
#[must_use]
pub fn unit(v: Vec2) -> Vec2 {
    let l = length(v);
    if l > 0.0 { v / l } else { v }
}
/// The point seen in the mirror of the line of centres.
#[must_use]
pub fn mirrored(p: Point) -> Point {
    Point::new(-p.x, p.y)
}
/// Brings an angle between −half a turn (left out) and half a turn.
#[must_use]
pub fn wrapped(a: f64) -> f64 {
    let r = a - (a / TURN).floor() * TURN;
    if r > PI { r - TURN } else { r }
}
/// Brings an angle between nothing and `pitch`, the angle from one tooth to the next.
#[must_use]
pub fn within_pitch(a: f64, pitch: f64) -> f64 {
    let r = a - (a / pitch).floor() * pitch;
    // A hair below a whole pitch is a hair below nothing.
    if r >= pitch * (1.0 - 1e-12) { 0.0 } else { r }
}
/// Distance from a point to the line through two others, positive when the point lies left of `from` → `to`.
#[must_use]
pub fn off_line(p: Point, from: Point, to: Point) -> f64 {
    let d = to - from;
    d.cross(p - from) / length(d)
}
/// Foot of the perpendicular from a point to the line through two others.
#[must_use]
pub fn foot(p: Point, from: Point, to: Point) -> Point {
    let d = to - from;
    from + d * ((p - from).dot(d) / d.hypot2())
}
/// Where two circles meet: first the point left of the way from `a` to `b`, then the one right of it.
/// `None` when they do not meet or share a centre.
#[must_use]
pub fn circles_meet(a: Point, ra: f64, b: Point, rb: f64) -> Option<(Point, Point)> {
    let d = apart(a, b);
    if d <= 0.0 || d > ra + rb || d < (ra - rb).abs() {
        return None;
    }
    let along = (d * d + ra * ra - rb * rb) / (2.0 * d);
    let half = (ra * ra - along * along).max(0.0).sqrt();
    let u = (b - a) / d;
    let (on, side) = (a + u * along, left_of(u) * half);
    Some((on + side, on - side))
}
/// The angle, at the first of two centres, between the line of centres and the point `ra` from the first
/// and `rb` from the second; `None` when there is no such point.
#[must_use]
pub fn angle_in_triangle(centres: f64, ra: f64, rb: f64) -> Option<f64> {
    let c = (centres * centres + ra * ra - rb * rb) / (2.0 * centres * ra);
    (centres > 0.0 && ra > 0.0 && c.abs() <= 1.0).then(|| acos(c))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_and_meets() {
        let c = arbor(10.0);
        let p = turned_about(on_wheel(5.0, 0.3), c, 0.7);
        assert!((apart(p, c) - apart(on_wheel(5.0, 0.3), c)).abs() < 1e-12);
        assert!((wheel_angle(on_wheel(5.0, -0.4)) + 0.4).abs() < 1e-15);
        let (l, r) = circles_meet(WHEEL, 5.0, c, 7.0).expect("they meet");
        assert!(l.x < 0.0 && r.x > 0.0);
        assert!((apart(l, c) - 7.0).abs() < 1e-12 && (length(r.to_vec2()) - 5.0).abs() < 1e-12);
        assert!((angle_in_triangle(10.0, 5.0, 7.0).expect("meets") - wheel_angle(r)).abs() < 1e-12);
        assert!(circles_meet(WHEEL, 1.0, c, 2.0).is_none());
        assert!((wrapped(TURN + 0.2) - 0.2).abs() < 1e-14 && (within_pitch(-0.1, 0.5) - 0.4).abs() < 1e-14);
        assert!((off_line(Point::new(0.0, 1.0), WHEEL, Point::new(2.0, 0.0)) - 1.0).abs() < 1e-15);
    }
}
