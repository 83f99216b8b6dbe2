//! Chains of straight lines and circular arcs, arcs kept exact.
//!
//! Plain millimetres. For plates the plane is (x, y); for turned parts it is the half-plane
//! (z along the axis as x, radius r ≥ 0 as y).

use kurbo::{BezPath, Point, Rect, Vec2};
use reckon::maths::{PI, acos, atan2, cos, hypot, sin};

use crate::segment::angle;
pub use crate::segment::{SAME, Segment, Sense, distance, on_circle};

/// Why a chain could not be drawn or changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// An arc of this radius cannot span the two points, which are `apart` from each other.
    RadiusTooSmall {
        /// Radius asked for.
        radius: f64,
        /// Distance to be spanned.
        apart: f64,
    },
    /// The corner at this place has no room for the round or chamfer.
    NoRoom {
        /// Number of the corner: the point at which segment `corner` begins.
        corner: usize,
    },
    /// An offset by this much swallows the segment of this number.
    Swallowed {
        /// Number of the segment.
        segment: usize,
    },
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Fault::RadiusTooSmall { radius, apart } => {
                write!(f, "an arc of radius {radius} mm cannot span points {apart} mm apart")
            }
            Fault::NoRoom { corner } => write!(f, "corner {corner} has no room for its round or chamfer"),
            Fault::Swallowed { segment } => write!(f, "the offset swallows segment {segment}"),
        }
    }
}

impl std::error::Error for Fault {}

/// Two segments that meet where they should not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Number of the first segment, from 0.
    pub first: usize,
    /// Number of the second segment.
    pub second: usize,
    /// Where they meet.
    pub at: Point,
}

/// A chain of segments, each beginning where the last ended.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    start: Point,
    segments: Vec<Segment>,
}

impl Profile {
    /// Begins a chain at a point.
    #[must_use]
    pub fn start(x: f64, y: f64) -> Profile {
        Profile { start: Point::new(x, y), segments: Vec::new() }
    }
    /// A closed rectangle, counter-clockwise from its lower left corner.
    #[must_use]
    pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Profile {
        Profile::start(x0, y0).line(x1, y0).line(x1, y1).line(x0, y1).close()
    }
    /// A whole circle, counter-clockwise.
    #[must_use]
    pub fn circle(centre: Point, radius: f64) -> Profile {
        Profile::start(centre.x + radius, centre.y).arc_about(centre, 2.0 * PI)
    }
    /// A slot with round ends between two centres, counter-clockwise.
    #[must_use]
    pub fn slot(a: Point, b: Point, width: f64) -> Profile {
        let r = width / 2.0;
        let len = distance(a, b);
        if len < SAME {
            return Profile::circle(a, r);
        }
        let side = Vec2::new(b.y - a.y, a.x - b.x) / len * r;
        let (p, q) = (a + side, b + side);
        let (s, t) = (b - side, a - side);
        Profile::start(p.x, p.y).line(q.x, q.y).arc_to(s, b, Sense::Left).line(t.x, t.y).arc_to(
            p,
            a,
            Sense::Left,
        )
    }
    /// Adds a straight line to a point; a line of no length is left out.
    #[must_use]
    pub fn line(mut self, x: f64, y: f64) -> Profile {
        let (from, to) = (self.end(), Point::new(x, y));
        if distance(from, to) > SAME {
            self.segments.push(Segment::Line { from, to });
        }
        self
    }
    /// Adds an arc about a centre through a signed angle (radians, counter-clockwise positive, at most a turn).
    #[must_use]
    pub fn arc_about(mut self, centre: Point, sweep: f64) -> Profile {
        let from = self.end();
        let radius = distance(from, centre);
        let whole = sweep.abs() >= 2.0 * PI - 1e-12;
        let to = if whole { from } else { on_circle(centre, radius, angle(from - centre) + sweep) };
        let sense = if sweep >= 0.0 { Sense::Left } else { Sense::Right };
        if radius > SAME && (whole || distance(from, to) > SAME) {
            self.segments.push(Segment::Arc { from, to, centre, radius, sense });
        }
        self
    }
    /// Adds an arc to a point whose centre is known (and as far from both ends).
    #[must_use]
    pub fn arc_to(mut self, to: Point, centre: Point, sense: Sense) -> Profile {
        let from = self.end();
        self.segments.push(Segment::Arc { from, to, centre, radius: distance(from, centre), sense });
        self
    }
    /// Adds the shorter arc of a given radius to a point.
    ///
    /// # Errors
    /// [`Fault::RadiusTooSmall`] when the radius is less than half the distance.
    pub fn round_to(self, x: f64, y: f64, radius: f64, sense: Sense) -> Result<Profile, Fault> {
        let (from, to) = (self.end(), Point::new(x, y));
        let apart = distance(from, to);
        let high = radius * radius - apart * apart / 4.0;
        if apart < SAME || high < -SAME {
            return Err(Fault::RadiusTooSmall { radius, apart });
        }
        let u = (to - from) / apart;
        let left = Vec2::new(-u.y, u.x) * high.max(0.0).sqrt();
        let middle = from.midpoint(to);
        let centre = if sense == Sense::Left { middle + left } else { middle - left };
        Ok(self.arc_to(to, centre, sense))
    }
    /// Closes the chain by a line to its start, if it is not there yet.
    #[must_use]
    pub fn close(self) -> Profile {
        let s = self.start;
        self.line(s.x, s.y)
    }
    /// The segments in order.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }
    /// First point.
    #[must_use]
    pub fn begin(&self) -> Point {
        self.start
    }
    /// Last point.
    #[must_use]
    pub fn end(&self) -> Point {
        self.segments.last().map_or(self.start, Segment::to)
    }
    /// Whether the chain ends where it began.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        !self.segments.is_empty() && distance(self.start, self.end()) < SAME
    }
    /// Length along the chain.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.segments.iter().map(Segment::length).sum()
    }
    /// Signed area inside a closed chain, positive when counter-clockwise; an open chain is closed by a line.
    ///
    /// # Formula
    /// A = ½ ∮ (x dy − y dx); an arc adds ½ r² (θ − sin θ) to its chord.
    #[must_use]
    pub fn area(&self) -> f64 {
        let sum: f64 = self.segments.iter().map(Segment::twice_area).sum();
        (sum + self.end().to_vec2().cross(self.start.to_vec2())) / 2.0
    }
    /// The point at a distance along the chain, held between its ends.
    #[must_use]
    pub fn at(&self, along: f64) -> Point {
        let mut left = along.max(0.0);
        for s in &self.segments {
            let length = s.length();
            if left <= length {
                return s.at(left / length);
            }
            left -= length;
        }
        self.end()
    }
    /// Smallest upright box round the chain.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let first = Rect::from_points(self.start, self.start);
        self.segments.iter().fold(first, |b, s| b.union(s.bounds()))
    }
    /// The first place where the chain crosses or touches itself, with the two segments.
    ///
    /// Neighbours may share the joint between them, and a closed chain its first and last point.
    #[must_use]
    pub fn crosses_itself(&self) -> Option<Crossing> {
        let n = self.segments.len();
        for first in 0..n {
            let a = &self.segments[first];
            for second in first + 1..n {
                let b = &self.segments[second];
                if !touching(a.bounds(), b.bounds()) {
                    continue;
                }
                let near = |p: Point, q: Point| distance(p, q) < SAME * 100.0;
                let joint = |p: Point| {
                    (second == first + 1 && near(p, a.to()))
                        || (first == 0 && second == n - 1 && self.is_closed() && near(p, a.from()))
                };
                if let Some(at) = a.meets(b).into_iter().find(|&p| !joint(p)) {
                    return Some(Crossing { first, second, at });
                }
            }
        }
        None
    }
    /// The first place where this chain meets another (`first` counts here, `second` there).
    #[must_use]
    pub fn crosses(&self, other: &Profile) -> Option<Crossing> {
        for (first, a) in self.segments.iter().enumerate() {
            for (second, b) in other.segments.iter().enumerate() {
                if touching(a.bounds(), b.bounds())
                    && let Some(&at) = a.meets(b).first()
                {
                    return Some(Crossing { first, second, at });
                }
            }
        }
        None
    }
    /// Whether a point lies inside a closed chain; undecided within a hair of the line itself.
    ///
    /// Sums the angle under which each segment is seen: a whole turn from inside, none from outside.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        let mut turns = 0.0;
        for s in &self.segments {
            let seen = |a: Point, b: Point| atan2((a - p).cross(b - p), (a - p).dot(b - p));
            let angle = seen(s.from(), s.to());
            turns += angle;
            // The chord's angle is wrong by a turn where the point lies between the chord and its arc.
            if let Segment::Arc { centre, radius, .. } = *s {
                let inside = distance(centre, p) < radius;
                let turn = s.sweep().1;
                let whole = turn.abs() >= 2.0 * PI - 1e-9;
                // On the chord itself the angle is half a turn, and its sign an accident.
                if inside && (whole || (turn > 0.0 && angle < 0.0) || (turn < 0.0 && angle > 0.0)) {
                    turns += if turn > 0.0 { 2.0 * PI } else { -2.0 * PI };
                }
            }
        }
        turns.abs() > PI
    }
    /// Least distance from a point to the chain.
    #[must_use]
    pub fn distance_to(&self, p: Point) -> f64 {
        let mut best = f64::INFINITY;
        for s in &self.segments {
            best = best.min(distance(p, s.from())).min(distance(p, s.to()));
            match *s {
                Segment::Line { from, to } => {
                    let d = to - from;
                    let t = (p - from).dot(d) / d.hypot2();
                    if t > 0.0 && t < 1.0 {
                        best = best.min(distance(p, from + d * t));
                    }
                }
                Segment::Arc { centre, radius, .. } => {
                    if distance(p, centre) < SAME || s.sees(angle(p - centre), 0.0) {
                        best = best.min((distance(p, centre) - radius).abs());
                    }
                }
            }
        }
        best
    }
    /// Points along the chain, so many that no chord leaves its arc by more than `sagitta`.
    ///
    /// # Formula
    /// A chord over the angle φ of a circle of radius r leaves it by r (1 − cos φ/2).
    #[must_use]
    pub fn sampled(&self, sagitta: f64) -> Vec<Point> {
        let mut points = vec![self.start];
        for s in &self.segments {
            if let Segment::Arc { radius, .. } = *s {
                let most = if sagitta >= radius { PI / 2.0 } else { 2.0 * acos(1.0 - sagitta / radius) };
                let pieces = (s.sweep().1.abs() / most).ceil().max(1.0);
                let mut k = 1.0;
                while k < pieces {
                    points.push(s.at(k / pieces));
                    k += 1.0;
                }
            }
            points.push(s.to());
        }
        points
    }
    /// The chain as a Bézier path, arcs true to within `accuracy`.
    #[must_use]
    pub fn to_path(&self, accuracy: f64) -> BezPath {
        let mut path = BezPath::new();
        path.move_to(self.start);
        for s in &self.segments {
            match *s {
                Segment::Line { to, .. } => path.line_to(to),
                Segment::Arc { centre, radius, to, .. } => {
                    let (a, turn) = s.sweep();
                    // A cubic over the angle φ leaves its circle by about 2/27 r (φ/4)⁶ · … : π/4 keeps 4e-6 r.
                    let most = if accuracy < radius * 4e-6 { PI / 16.0 } else { PI / 4.0 };
                    let pieces = (turn.abs() / most).ceil().max(1.0);
                    let step = turn / pieces;
                    let handle = 4.0 / 3.0 * reckon::maths::tan(step / 4.0) * radius;
                    let mut k = 0.0;
                    while k < pieces {
                        let (b, c) = (a + step * k, a + step * (k + 1.0));
                        let (p, q) = (on_circle(centre, radius, b), on_circle(centre, radius, c));
                        let end = if k + 1.0 >= pieces { to } else { q };
                        path.curve_to(
                            p + Vec2::new(-sin(b), cos(b)) * handle,
                            q - Vec2::new(-sin(c), cos(c)) * handle,
                            end,
                        );
                        k += 1.0;
                    }
                }
            }
        }
        if self.is_closed() {
            path.close_path();
        }
        path
    }
    /// The same chain travelled backwards.
    #[must_use]
    pub fn reversed(&self) -> Profile {
        Profile { start: self.end(), segments: self.segments.iter().rev().map(Segment::reversed).collect() }
    }
    /// The chain moved, turned by a quarter, mirrored or scaled evenly: `f` must keep circles circles.
    #[must_use]
    pub fn mapped(&self, f: impl Fn(Point) -> Point) -> Profile {
        let o = f(Point::ORIGIN);
        let (ex, ey) = (f(Point::new(1.0, 0.0)) - o, f(Point::new(0.0, 1.0)) - o);
        let mirrored = ex.cross(ey) < 0.0;
        let scale = hypot(ex.x, ex.y);
        let segments = self.segments.iter().map(|s| match *s {
            Segment::Line { from, to } => Segment::Line { from: f(from), to: f(to) },
            Segment::Arc { from, to, centre, radius, sense } => Segment::Arc {
                from: f(from),
                to: f(to),
                centre: f(centre),
                radius: radius * scale,
                sense: match (mirrored, sense) {
                    (false, s) => s,
                    (true, Sense::Left) => Sense::Right,
                    (true, Sense::Right) => Sense::Left,
                },
            },
        });
        Profile { start: f(self.start), segments: segments.collect() }
    }
    /// Cuts the corner where line `corner` begins: `back` along the line before it, `on` along itself.
    ///
    /// # Errors
    /// [`Fault::NoRoom`] when either is not a line, or is too short.
    pub fn chamfered(mut self, corner: usize, back: f64, on: f64) -> Result<Profile, Fault> {
        let (a, b) = self.corner(corner, back, on)?;
        self.segments.insert(corner, Segment::Line { from: a, to: b });
        Ok(self)
    }
    /// Rounds the corner where line `corner` begins, tangent to both lines.
    ///
    /// # Formula
    /// The arc leaves each line r tan(δ/2) from the corner, δ the change of direction.
    ///
    /// # Errors
    /// [`Fault::NoRoom`] when either is not a line, is too short, or the two are in line.
    pub fn rounded(mut self, corner: usize, radius: f64) -> Result<Profile, Fault> {
        let none = Fault::NoRoom { corner };
        let (Some(before), Some(after)) =
            (corner.checked_sub(1).and_then(|i| self.segments.get(i)), self.segments.get(corner))
        else {
            return Err(none);
        };
        let (u, v) = (before.to() - before.from(), after.to() - after.from());
        let delta = atan2(u.cross(v), u.dot(v));
        let back = radius * reckon::maths::tan(delta.abs() / 2.0);
        if delta.abs() < 1e-9 || !back.is_finite() {
            return Err(none);
        }
        let (from, to) = self.corner(corner, back, back)?;
        let u = u / hypot(u.x, u.y);
        let left = Vec2::new(-u.y, u.x) * radius;
        let (centre, sense) =
            if delta > 0.0 { (from + left, Sense::Left) } else { (from - left, Sense::Right) };
        self.segments.insert(corner, Segment::Arc { from, to, centre, radius, sense });
        Ok(self)
    }
    /// Shortens the two lines at a corner and gives their new ends.
    fn corner(&mut self, corner: usize, back: f64, on: f64) -> Result<(Point, Point), Fault> {
        let none = Fault::NoRoom { corner };
        if corner == 0 || corner >= self.segments.len() {
            return Err(none);
        }
        let (Segment::Line { from: a, to: b }, Segment::Line { to: c, .. }) =
            (self.segments[corner - 1], self.segments[corner])
        else {
            return Err(none);
        };
        let (la, lc) = (distance(a, b), distance(b, c));
        if back >= la || on >= lc || back <= 0.0 || on <= 0.0 {
            return Err(none);
        }
        let (p, q) = (b.lerp(a, back / la), b.lerp(c, on / lc));
        self.segments[corner - 1] = Segment::Line { from: a, to: p };
        self.segments[corner] = Segment::Line { from: q, to: c };
        Ok((p, q))
    }
    /// The chain moved sideways by `by` (to the left of travel positive), corners mended by an arc on the
    /// outer side and by cutting back lines on the inner side.
    ///
    /// For simple chains; a chain that folds on itself needs the region offset.
    ///
    /// # Errors
    /// [`Fault::Swallowed`] when an arc or a line is shorter than the offset takes from it.
    pub fn offset(&self, by: f64) -> Result<Profile, Fault> {
        let mut moved = Vec::new();
        for (i, s) in self.segments.iter().enumerate() {
            moved.push(shifted(s, by).ok_or(Fault::Swallowed { segment: i })?);
        }
        let n = moved.len();
        let joints = if self.is_closed() { n } else { n.saturating_sub(1) };
        let mut arcs: Vec<(usize, Segment)> = Vec::new();
        for i in 0..joints {
            let j = (i + 1) % n;
            let (p, q) = (moved[i].to(), moved[j].from());
            if distance(p, q) < SAME {
                continue;
            }
            let meets = moved[i].meets(&moved[j]);
            if let Some(&m) = meets.iter().min_by(|a, b| distance(**a, p).total_cmp(&distance(**b, p))) {
                moved[i] = trimmed(&moved[i], moved[i].from(), m);
                moved[j] = trimmed(&moved[j], m, moved[j].to());
            } else {
                let centre = self.segments[i].to();
                let sense = if by > 0.0 { Sense::Right } else { Sense::Left };
                let whole = Segment::Arc { from: p, to: q, centre, radius: by.abs(), sense };
                if whole.sweep().1.abs() > PI + 1e-9 {
                    return Err(Fault::Swallowed { segment: i });
                }
                arcs.push((i, whole));
            }
        }
        let mut segments = Vec::new();
        for (i, s) in moved.iter().enumerate() {
            segments.push(*s);
            segments.extend(arcs.iter().filter(|(k, _)| *k == i).map(|(_, a)| *a));
        }
        Ok(Profile { start: segments.first().map_or(self.start, Segment::from), segments })
    }
}

fn shifted(s: &Segment, by: f64) -> Option<Segment> {
    match *s {
        Segment::Line { from, to } => {
            let u = (to - from) / distance(from, to);
            let left = Vec2::new(-u.y, u.x) * by;
            Some(Segment::Line { from: from + left, to: to + left })
        }
        Segment::Arc { from, to, centre, radius, sense } => {
            let new = if sense == Sense::Left { radius - by } else { radius + by };
            (new > SAME).then(|| Segment::Arc {
                from: centre + (from - centre) * (new / radius),
                to: centre + (to - centre) * (new / radius),
                centre,
                radius: new,
                sense,
            })
        }
    }
}

fn trimmed(s: &Segment, from: Point, to: Point) -> Segment {
    match *s {
        Segment::Line { .. } => Segment::Line { from, to },
        Segment::Arc { centre, radius, sense, .. } => Segment::Arc { from, to, centre, radius, sense },
    }
}

fn touching(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 + SAME && b.x0 <= a.x1 + SAME && a.y0 <= b.y1 + SAME && b.y0 <= a.y1 + SAME
}
