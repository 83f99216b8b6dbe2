//! The kidney cam that carries the equation of time to a hand: once round in a year.
//!
//! Plain millimetres on a drawing plane with the cam's axis at the origin. The new year lies on the +x axis
//! and days follow anticlockwise, for a cam that turns clockwise under a follower that stays; seen from the
//! other side it is the mirror image.

use super::sun::{equation, new_year};
use kurbo::Point;
use reckon::Source;
use reckon::maths::{PI, atan, cos, hypot, sin};
use shape::segment::{Segment, Sense};
use std::fmt;

/// The profile from the lift of its follower.
pub static PROFILE: Source =
    Source::derived("polar curve of the follower, and its inner parallel for a roller")
        .with_formula("r = base + scale × E; profile = r - roller along the normal");

/// Days of the year that the cam goes round in.
const YEAR: f64 = 365.242_2;
/// Closest that points are set: 8 192 to a turn.
const MOST_POINTS: usize = 8_192;

/// What rides on the cam.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Follower {
    /// A knife edge.
    Edge,
    /// A roller of this radius (mm).
    Roller(f64),
}
/// Why a cam cannot be made.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum CamFault {
    /// The lift takes more than the base gives.
    NoMetal {
        /// Least radius (mm).
        least: f64,
    },
    /// The roller is too large for the sharpest bulge of its path: it would cut the corner off.
    RollerTooLarge {
        /// Radius that its path has there (mm).
        path: f64,
        /// Day of the year.
        day: f64,
    },
    /// A size is not a size.
    NotASize,
    /// The accuracy wants more points than are worth setting.
    TooFine,
}
impl fmt::Display for CamFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CamFault::NoMetal { least } => {
                write!(
                    f,
                    "the least radius would be {least:.3} mm: make the base larger or the scale smaller"
                )
            }
            CamFault::RollerTooLarge { path, day } => write!(
                f,
                "the path bends to a radius of {path:.3} mm on day {day:.0}, less than the roller: \
                 take a smaller roller or a larger base"
            ),
            CamFault::NotASize => f.write_str("base, scale and accuracy must be more than nothing"),
            CamFault::TooFine => f.write_str("so fine a profile wants too many points: allow more"),
        }
    }
}

/// A point of the cam.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct CamPoint {
    /// Days since noon of the first of January.
    pub day: f64,
    /// On the profile (mm).
    pub at: Point,
    /// Distance of the follower's edge, or of the roller's centre, from the axis (mm).
    pub lift: f64,
}
/// A cam.
#[derive(Clone, PartialEq, Debug)]
pub struct Cam {
    /// Points that lie on it exactly, a new arc beginning at every one and between every two.
    pub points: Vec<CamPoint>,
    /// Its outline as arcs that pass smoothly into each other, anticlockwise and closed.
    pub arcs: Vec<Segment>,
    /// Furthest that an arc was found from the true curve (mm).
    pub off: f64,
    /// Least and greatest lift (mm).
    pub lift: (f64, f64),
    /// Steepest climb under the follower, in radians: above 30° or so it pushes more than it lifts.
    pub steepest: f64,
    /// Least radius of a bulge of the follower's path (mm).
    pub least_bulge: f64,
}

/// The law of lift over one turn: seam of the year drawn out over the whole of it.
struct Lift {
    start: f64,
    base: f64,
    per_second: f64,
    seam: f64,
}
impl Lift {
    fn at(&self, day: f64) -> f64 {
        let within = day - YEAR * (day / YEAR).floor();
        self.base + self.per_second * (equation(self.start + within) - self.seam * within / YEAR)
    }
    /// Lift, and how it changes with the angle, once and twice.
    fn with_slopes(&self, day: f64) -> (f64, f64, f64) {
        const STEP: f64 = 0.5;
        let (before, here, after) = (self.at(day - STEP), self.at(day), self.at(day + STEP));
        let angle = 2.0 * PI * STEP / YEAR;
        (here, (after - before) / (2.0 * angle), (after - 2.0 * here + before) / (angle * angle))
    }
}
struct Spot {
    at: Point,
    /// Unit tangent, anticlockwise.
    along: Point,
    lift: f64,
}
fn spot(lift: &Lift, follower: Follower, day: f64) -> Spot {
    let (r, r1, _) = lift.with_slopes(day);
    let a = 2.0 * PI * day / YEAR;
    let (c, s) = (cos(a), sin(a));
    let length = hypot(r, r1);
    let along = Point::new((r1 * c - r * s) / length, (r1 * s + r * c) / length);
    let roller = match follower {
        Follower::Edge => 0.0,
        Follower::Roller(radius) => radius,
    };
    // Inward is to the left of an anticlockwise path.
    Spot { at: Point::new(r * c - roller * along.y, r * s + roller * along.x), along, lift: r }
}
/// Two arcs from one point to another that leave and arrive along given directions, meeting smoothly.
fn two_arcs(p: &Spot, q: &Spot) -> [Segment; 2] {
    let (vx, vy) = (q.at.x - p.at.x, q.at.y - p.at.y);
    let (tx, ty) = (p.along.x + q.along.x, p.along.y + q.along.y);
    // Equal lengths of tangent d to both sides: (2 - 2 t1.t2) d² + 2 v.(t1 + t2) d - v.v = 0.
    let a = 2.0 - 2.0 * (p.along.x * q.along.x + p.along.y * q.along.y);
    let b = 2.0 * (vx * tx + vy * ty);
    let c = vx * vx + vy * vy;
    let d = 2.0 * c / (b + (b * b + 4.0 * a * c).max(0.0).sqrt());
    let joint = Point::new(
        0.5 * (p.at.x + d * p.along.x + q.at.x - d * q.along.x),
        0.5 * (p.at.y + d * p.along.y + q.at.y - d * q.along.y),
    );
    [arc(p.at, p.along, joint, 1.0), arc(q.at, q.along, joint, -1.0)]
}
/// The arc that touches `along` at `end` and passes through `joint`; `way` 1 leaves the end, -1 arrives there.
fn arc(end: Point, along: Point, joint: Point, way: f64) -> Segment {
    let (vx, vy) = (joint.x - end.x, joint.y - end.y);
    let across = vy * along.x - vx * along.y;
    let chord = vx * vx + vy * vy;
    let (from, to) = if way > 0.0 { (end, joint) } else { (joint, end) };
    // A bulge of less than a thousandth of a nanometre is a straight line.
    if across.abs() <= 1e-12 * chord.sqrt() {
        return Segment::Line { from, to };
    }
    let signed = chord / (2.0 * across);
    let centre = Point::new(end.x - signed * along.y, end.y + signed * along.x);
    let sense = if signed > 0.0 { Sense::Left } else { Sense::Right };
    Segment::Arc { from, to, centre, radius: signed.abs(), sense }
}
fn off(arc: &Segment, at: Point) -> f64 {
    match *arc {
        Segment::Arc { centre, radius, .. } => (hypot(at.x - centre.x, at.y - centre.y) - radius).abs(),
        Segment::Line { from, to } => {
            let (x, y) = (to.x - from.x, to.y - from.y);
            ((at.x - from.x) * y - (at.y - from.y) * x).abs() / hypot(x, y)
        }
    }
}
/// The cam for a year: `base` (mm) where dial and clock agree, `scale` (mm) more for each minute that the
/// dial is ahead, arcs within `within` (mm) of the true curve.
///
/// # Errors
/// When it cannot be made: see [`CamFault`].
pub fn cam(year: i64, base: f64, scale: f64, follower: Follower, within: f64) -> Result<Cam, CamFault> {
    let sizes = match follower {
        Follower::Edge => [base, scale.abs(), within, 1.0],
        Follower::Roller(r) => [base, scale.abs(), within, r],
    };
    if !sizes.iter().all(|x| x.is_finite() && *x > 0.0) {
        return Err(CamFault::NotASize);
    }
    let start = new_year(year);
    let seam = equation(start + YEAR) - equation(start);
    let lift = Lift { start, base, per_second: scale / 60.0, seam };
    let roller = if let Follower::Roller(r) = follower { r } else { 0.0 };
    let (mut least, mut most, mut steepest, mut least_bulge) = (f64::MAX, f64::MIN, 0.0_f64, f64::MAX);
    let mut bulge_day = 0.0;
    for i in 0..1461 {
        let day = YEAR * f64::from(i) / 1461.0;
        let (r, r1, r2) = lift.with_slopes(day);
        (least, most) = (least.min(r), most.max(r));
        if r - roller <= 0.0 {
            return Err(CamFault::NoMetal { least: r - roller });
        }
        steepest = steepest.max(atan(r1.abs() / r));
        let bend = r * r + 2.0 * r1 * r1 - r * r2;
        let length = hypot(r, r1);
        if bend > 0.0 && length * length * length / bend < least_bulge {
            least_bulge = length * length * length / bend;
            bulge_day = day;
        }
    }
    if least_bulge <= roller {
        return Err(CamFault::RollerTooLarge { path: least_bulge, day: bulge_day });
    }
    let mut count = 16;
    while count <= MOST_POINTS {
        let (points, arcs, off) = sampled(&lift, follower, count);
        if off <= within {
            return Ok(Cam { points, arcs, off, lift: (least, most), steepest, least_bulge });
        }
        count *= 2;
    }
    Err(CamFault::TooFine)
}
fn sampled(lift: &Lift, follower: Follower, count: usize) -> (Vec<CamPoint>, Vec<Segment>, f64) {
    #[expect(clippy::cast_precision_loss, reason = "at most a few thousand points")]
    let day = |i: f64| YEAR * i / count as f64;
    #[expect(clippy::cast_precision_loss, reason = "at most a few thousand points")]
    let spots: Vec<Spot> = (0..count).map(|i| spot(lift, follower, day(i as f64))).collect();
    let mut arcs = Vec::with_capacity(2 * count);
    let mut worst = 0.0_f64;
    for i in 0..count {
        let pair = two_arcs(&spots[i], &spots[(i + 1) % count]);
        for eighth in 1..8_u8 {
            #[expect(clippy::cast_precision_loss, reason = "at most a few thousand points")]
            let between = spot(lift, follower, day(i as f64 + f64::from(eighth) / 8.0)).at;
            // A point near the joint lies on either arc; the nearer one is the one it lies on.
            worst = worst.max(off(&pair[0], between).min(off(&pair[1], between)));
        }
        arcs.extend(pair);
    }
    #[expect(clippy::cast_precision_loss, reason = "at most a few thousand points")]
    let points =
        spots.iter().enumerate().map(|(i, s)| CamPoint { day: day(i as f64), at: s.at, lift: s.lift });
    (points.collect(), arcs, worst)
}
