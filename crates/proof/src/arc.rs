//! Arcs of a program: from centre or radius to a circle, and to chords.

use kurbo::{Point, Vec2};
use reckon::maths::{self, PI};

use crate::control::Plane;
use crate::moves::Place;

/// An arc in its plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// The plane.
    pub plane: Plane,
    /// Centre in the plane, in millimetres: (x, y), (z, x) or (y, z).
    pub centre: Point,
    /// Radius at the start, in millimetres.
    pub radius: f64,
    /// Angle turned through in radians, anticlockwise positive, seen from the positive end of the
    /// plane's normal.
    pub sweep: f64,
}

/// Why an arc cannot be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoArc {
    /// Start and end differ in radius by so many millimetres.
    Mismatch(f64),
    /// Half the distance of the ends is greater than the radius by so many millimetres.
    TooSmall(f64),
    /// By radius, start and end are one place.
    SamePlace,
    /// The radius is zero.
    NoRadius,
}

/// Puts a place into the two coordinates of a plane.
#[must_use]
pub fn flat(plane: Plane, at: Place) -> Point {
    match plane {
        Plane::Xy => Point::new(at[0], at[1]),
        Plane::Zx => Point::new(at[2], at[0]),
        Plane::Yz => Point::new(at[1], at[2]),
    }
}

/// The coordinate that a plane leaves out.
#[must_use]
pub fn normal(plane: Plane) -> usize {
    match plane {
        Plane::Xy => 2,
        Plane::Zx => 1,
        Plane::Yz => 0,
    }
}

fn solid(plane: Plane, flat: Point, out: f64) -> Place {
    match plane {
        Plane::Xy => [flat.x, flat.y, out],
        Plane::Zx => [flat.y, out, flat.x],
        Plane::Yz => [out, flat.x, flat.y],
    }
}

/// The arc about a centre. Ends at one place make a whole circle.
///
/// # Errors
/// [`NoArc::Mismatch`] when the ends differ in radius by more than `slack` mm; [`NoArc::NoRadius`].
pub fn about(
    plane: Plane,
    from: Point,
    to: Point,
    centre: Point,
    left: bool,
    slack: f64,
) -> Result<Arc, NoArc> {
    let radius = (from - centre).hypot2().sqrt();
    let other = (to - centre).hypot2().sqrt();
    // A distance that is the slack but for the rounding of its last digits is within it.
    if (radius - other).abs() > slack * (1.0 + 1.0e-9) {
        return Err(NoArc::Mismatch((radius - other).abs()));
    }
    if radius <= 0.0 || other <= 0.0 {
        return Err(NoArc::NoRadius);
    }
    Ok(Arc { plane, centre, radius, sweep: swept(from - centre, to - centre, left) })
}

/// The arc of a radius between two places: at most half a circle when the radius is positive, at
/// least half when it is negative. Ends further apart than the diameter by no more than twice
/// `slack` get their centre half way.
///
/// # Errors
/// [`NoArc::SamePlace`], [`NoArc::NoRadius`], [`NoArc::TooSmall`].
pub fn of_radius(
    plane: Plane,
    from: Point,
    to: Point,
    radius: f64,
    left: bool,
    slack: f64,
) -> Result<Arc, NoArc> {
    let chord = to - from;
    let half = 0.5 * chord.hypot2().sqrt();
    if half <= 0.0 {
        return Err(NoArc::SamePlace);
    }
    let size = radius.abs();
    if size <= 0.0 {
        return Err(NoArc::NoRadius);
    }
    if half - size > slack * (1.0 + 1.0e-9) {
        return Err(NoArc::TooSmall(half - size));
    }
    let rise = ((size - half) * (size + half)).max(0.0).sqrt();
    // Left of the chord lies the centre of a short arc that runs anticlockwise.
    let side = if (radius > 0.0) == left { 1.0 } else { -1.0 };
    let square = Vec2::new(-chord.y, chord.x) / (2.0 * half);
    let centre = from.midpoint(to) + square * (side * rise);
    let reach = (from - centre).hypot2().sqrt();
    Ok(Arc { plane, centre, radius: reach, sweep: swept(from - centre, to - centre, left) })
}

fn swept(from: Vec2, to: Vec2, left: bool) -> f64 {
    let turn = maths::atan2(from.x * to.y - from.y * to.x, from.dot(to));
    let turn = if left { turn } else { -turn };
    let turn = if turn <= 0.0 { turn + 2.0 * PI } else { turn };
    if left { turn } else { -turn }
}

impl Arc {
    /// Length along the arc in millimetres, its advance out of the plane included.
    #[must_use]
    pub fn length(&self, from: Place, to: Place) -> f64 {
        let out = to[normal(self.plane)] - from[normal(self.plane)];
        maths::hypot(self.radius * self.sweep, out)
    }

    /// Places along the arc after the start, the last one the end, such that no chord is further than
    /// `within` millimetres from the arc.
    ///
    /// No more than 100 000 chords are made, however fine the accuracy asked for.
    #[must_use]
    pub fn chords(&self, from: Place, to: Place, within: f64) -> Vec<Place> {
        let (start, end) = (flat(self.plane, from) - self.centre, flat(self.plane, to) - self.centre);
        let (first, last) = (start.hypot2().sqrt(), end.hypot2().sqrt());
        let axis = normal(self.plane);
        let count = chords(first.max(last), self.sweep.abs(), within);
        let angle = maths::atan2(start.y, start.x);
        let mut places = Vec::new();
        for i in 1..count {
            let part = f64::from(i) / f64::from(count);
            let radius = first + (last - first) * part;
            let turned = angle + self.sweep * part;
            let at = self.centre + Vec2::new(radius * maths::cos(turned), radius * maths::sin(turned));
            places.push(solid(self.plane, at, from[axis] + (to[axis] - from[axis]) * part));
        }
        places.push(to);
        places
    }

    /// The points of the arc in its plane that reach furthest along its two axes, its ends not counted.
    #[must_use]
    pub fn reaches(&self, from: Place) -> Vec<Place> {
        let start = flat(self.plane, from) - self.centre;
        let angle = maths::atan2(start.y, start.x);
        let mut places = Vec::new();
        for quarter in 0..4_i32 {
            let at = 0.5 * PI * f64::from(quarter);
            let ahead = if self.sweep > 0.0 { at - angle } else { angle - at };
            let ahead = if ahead < 0.0 { ahead + 2.0 * PI } else { ahead };
            if ahead > 0.0 && ahead < self.sweep.abs() {
                let (dx, dy) =
                    [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][quarter.unsigned_abs() as usize];
                let point = self.centre + Vec2::new(dx, dy) * self.radius;
                places.push(solid(self.plane, point, from[normal(self.plane)]));
            }
        }
        places
    }
}

/// How many chords keep within `within` of an arc: ⌈θ / (2 acos(1 − e / r))⌉.
#[must_use]
pub fn chords(radius: f64, sweep: f64, within: f64) -> u32 {
    if !(radius > 0.0 && sweep > 0.0 && within > 0.0) {
        return 1;
    }
    // 2 asin √(e / 2r) is acos(1 − e / r) without its loss of digits.
    let half = 2.0 * maths::asin((0.5 * within / radius).min(0.5).sqrt());
    let count = (sweep / (2.0 * half)).ceil().clamp(1.0, 100_000.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1 … 100 000")]
    let count = count as u32;
    count
}
