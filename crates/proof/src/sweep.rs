//! What a convex outline sweeps when its controlled point follows a path.
//!
//! The sweep of a whole path, of thousands of moves, is one closed ring with about two corners a
//! move: the *convolution* of the path, run through there and back, with the outline. Along a
//! straight stretch one corner of the outline leads; where the path bends, those of its edges follow
//! whose directions lie within the bend, forwards on a left bend and backwards on a right one. The
//! ring winds round a point as often as the path, as seen from that point, passes through the
//! outline mirrored: never below zero, and zero just where nothing is swept. So the sweep is what
//! the ring winds round at all, and one ring stands for thousands of hulls.

use kurbo::{Point, Vec2};
use reckon::maths::{self, PI};

/// A direction in the plane, ordered by angle without any rounding that depends on the angle: the
/// quarter, and how far into it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
struct Heading {
    quarter: u8,
    into: f64,
}

/// How a path bends from one stretch to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bend {
    None,
    Left,
    Right,
}

impl Heading {
    /// The heading of a vector that is not zero.
    fn of(v: Vec2) -> Self {
        let (x, y) = (v.x.abs(), v.y.abs());
        let sum = x + y;
        match (v.x > 0.0, v.y > 0.0) {
            (true, true) => Self { quarter: 0, into: y / sum },
            (true, false) if y <= 0.0 => Self { quarter: 0, into: 0.0 },
            (true, false) => Self { quarter: 3, into: x / sum },
            (false, true) => Self { quarter: 1, into: x / sum },
            (false, false) if x <= 0.0 => Self { quarter: 3, into: 0.0 },
            (false, false) => Self { quarter: 2, into: y / sum },
        }
    }

    fn opposite(self) -> Self {
        Self { quarter: (self.quarter + 2) % 4, into: self.into }
    }

    /// The bend from this heading to another; straight back counts as left.
    fn bend(self, to: Self) -> Bend {
        let ahead = (to.quarter + 4 - self.quarter) % 4;
        let further = to.into > self.into;
        let less = to.into < self.into;
        match ahead {
            0 if !further && !less => Bend::None,
            0 if further => Bend::Left,
            0 => Bend::Right,
            1 => Bend::Left,
            2 if further => Bend::Right,
            2 => Bend::Left,
            _ => Bend::Right,
        }
    }
}

/// Why an outline cannot be swept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotConvex {
    /// It has no area, or a corner that is no number.
    Empty,
    /// It bends inwards somewhere.
    Hollow,
}

/// A convex outline about the controlled point, in millimetres, ready to be swept.
#[derive(Debug, Clone, PartialEq)]
pub struct Convex {
    corners: Vec<Point>,
    /// Headings of the edges, rising; edge i runs from corner i to the next.
    headings: Vec<Heading>,
}

impl Convex {
    /// An outline from its corners, either way round. Corners that repeat or lie on an edge do no harm.
    ///
    /// # Errors
    /// [`NotConvex`]; hollows of less than a billionth of the size are smoothed over.
    pub fn new(corners: &[Point]) -> Result<Self, NotConvex> {
        if corners.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
            return Err(NotConvex::Empty);
        }
        let hull = hull(corners);
        if hull.len() < 3 {
            return Err(NotConvex::Empty);
        }
        let (around, within) = (area(&hull), area(corners).abs());
        if around <= 0.0 {
            return Err(NotConvex::Empty);
        }
        if around - within > 1.0e-9 * around {
            return Err(NotConvex::Hollow);
        }
        Ok(Self::of_hull(hull))
    }

    /// The smallest convex outline about some points.
    ///
    /// # Errors
    /// [`NotConvex::Empty`] when they have no area.
    pub fn around(points: &[Point]) -> Result<Self, NotConvex> {
        if points.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
            return Err(NotConvex::Empty);
        }
        let hull = hull(points);
        if hull.len() < 3 || area(&hull) <= 0.0 {
            return Err(NotConvex::Empty);
        }
        Ok(Self::of_hull(hull))
    }

    /// A disc about the controlled point as a regular polygon of so many sides (at least three), its
    /// corners on the circle.
    ///
    /// # Errors
    /// [`NotConvex::Empty`] when the radius is not above zero.
    pub fn disc(radius: f64, sides: u32) -> Result<Self, NotConvex> {
        if !(radius > 0.0 && radius.is_finite()) {
            return Err(NotConvex::Empty);
        }
        let sides = sides.max(3);
        let corner = |i: u32| {
            let angle = 2.0 * PI * f64::from(i) / f64::from(sides);
            Point::new(radius * maths::cos(angle), radius * maths::sin(angle))
        };
        Self::around(&(0..sides).map(corner).collect::<Vec<_>>())
    }

    fn of_hull(mut corners: Vec<Point>) -> Self {
        let edge = |corners: &[Point], i: usize| Heading::of(corners[(i + 1) % corners.len()] - corners[i]);
        // Begin where the headings begin to rise, so that they can be searched.
        let lowest = (0..corners.len())
            .reduce(|best, i| if edge(&corners, i) < edge(&corners, best) { i } else { best });
        corners.rotate_left(lowest.unwrap_or(0));
        let headings = (0..corners.len()).map(|i| edge(&corners, i)).collect();
        Self { corners, headings }
    }

    /// Its corners, anticlockwise.
    #[must_use]
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The same outline somewhere else.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Self {
        Self { corners: self.corners.iter().map(|&p| p + by).collect(), headings: self.headings.clone() }
    }

    /// How many edges head below or as `heading`: the corner that leads there.
    fn leading(&self, heading: Heading) -> usize {
        self.headings.partition_point(|&own| own <= heading)
    }

    /// The ring of a path through these places; see the [module](self).
    ///
    /// What it winds round, whichever way, is swept. One place gives the outline there; none
    /// gives an empty ring.
    #[must_use]
    pub fn along(&self, path: &[Point]) -> Vec<Point> {
        let mut places: Vec<Point> = Vec::with_capacity(path.len());
        let mut headings: Vec<Heading> = Vec::with_capacity(path.len());
        for &place in path {
            if let Some(&last) = places.last() {
                let way = place - last;
                if way.x.abs() + way.y.abs() <= 0.0 {
                    continue;
                }
                headings.push(Heading::of(way));
            }
            places.push(place);
        }
        let Some(&first) = places.first() else { return Vec::new() };
        if headings.is_empty() {
            return self.corners.iter().map(|&corner| first + corner.to_vec2()).collect();
        }
        let mut ring = Ring {
            of: self,
            corners: Vec::with_capacity(2 * places.len() + self.corners.len() + 8),
            lead: 0,
        };
        ring.lead = self.leading(headings[0]) % self.corners.len();
        // There,
        for i in 0..headings.len() {
            ring.at(places[i]);
            ring.at(places[i + 1]);
            if let Some(&next) = headings.get(i + 1) {
                ring.bend(places[i + 1], headings[i], next, headings[i].bend(next));
            }
        }
        // round the end,
        let last = headings[headings.len() - 1];
        ring.bend(places[places.len() - 1], last, last.opposite(), Bend::Left);
        // and back, each bend the other way.
        for i in (0..headings.len()).rev() {
            ring.at(places[i + 1]);
            ring.at(places[i]);
            if i > 0 {
                let bend = match headings[i - 1].bend(headings[i]) {
                    Bend::Left => Bend::Right,
                    Bend::Right => Bend::Left,
                    Bend::None => Bend::None,
                };
                ring.bend(places[i], headings[i].opposite(), headings[i - 1].opposite(), bend);
            }
        }
        ring.bend(places[0], headings[0].opposite(), headings[0], Bend::Left);
        ring.corners
    }
}

struct Ring<'a> {
    of: &'a Convex,
    corners: Vec<Point>,
    /// The corner of the outline that leads.
    lead: usize,
}

impl Ring<'_> {
    fn at(&mut self, place: Point) {
        let corner = place + self.of.corners[self.lead].to_vec2();
        if self.corners.last() != Some(&corner) {
            self.corners.push(corner);
        }
    }

    /// Turns from one heading to another at a place: along edges of the outline.
    fn bend(&mut self, place: Point, from: Heading, to: Heading, bend: Bend) {
        let count = self.of.corners.len();
        let (before, after) = (self.of.leading(from), self.of.leading(to));
        match bend {
            Bend::None => {}
            Bend::Left => {
                // Past the end of the list when the heading passes zero.
                let steps = if to < from { after + count - before } else { after - before };
                for _ in 0..steps {
                    self.lead = (self.lead + 1) % count;
                    self.at(place);
                }
            }
            Bend::Right => {
                let steps = if to > from { before + count - after } else { before - after };
                for _ in 0..steps {
                    self.lead = (self.lead + count - 1) % count;
                    self.at(place);
                }
            }
        }
    }
}

/// Corners of the convex hull, anticlockwise, without corners that lie on an edge.
fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted: Vec<Point> = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let mut hull: Vec<Point> = Vec::with_capacity(sorted.len() + 1);
    let mut half = |points: &mut dyn Iterator<Item = Point>| {
        let base = hull.len();
        for p in points {
            while hull.len() >= base + 2 {
                let (a, b) = (hull[hull.len() - 2], hull[hull.len() - 1]);
                if (b - a).cross(p - b) > 0.0 {
                    break;
                }
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
    };
    half(&mut sorted.iter().copied());
    half(&mut sorted.iter().rev().copied());
    hull
}

/// Area of a ring, anticlockwise positive.
#[must_use]
pub fn area(ring: &[Point]) -> f64 {
    let Some(&first) = ring.first() else { return 0.0 };
    0.5 * ring.windows(2).map(|pair| (pair[0] - first).cross(pair[1] - first)).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use kurbo::Point;
    use proptest::prelude::*;
    use shape::region::Region;

    use super::{Convex, NotConvex, area};

    fn square() -> Convex {
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(Point::from);
        Convex::new(&corners).expect("a square is convex")
    }

    #[test]
    fn a_square_swept_round_a_corner() {
        let path = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0)].map(Point::from);
        let swept = Region::polygon(&square().along(&path)).expect("finite");
        assert!((swept.area() - (4.0 + 2.0)).abs() < 1e-9, "{}", swept.area());
    }

    #[test]
    fn there_and_back_is_there() {
        let path = [(0.0, 0.0), (3.0, 0.0), (1.0, 0.0), (1.0, 0.0), (2.0, 0.0)].map(Point::from);
        let swept = Region::polygon(&square().along(&path)).expect("finite");
        assert!((swept.area() - 4.0).abs() < 1e-9);
    }

    #[test]
    fn a_hollow_outline_is_refused() {
        let corners = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 0.5)].map(Point::from);
        assert_eq!(Convex::new(&corners), Err(NotConvex::Hollow));
        assert_eq!(Convex::new(&corners[..2]), Err(NotConvex::Empty));
        assert!(area(&corners) > 0.0);
    }

    fn places(most: usize) -> impl Strategy<Value = Vec<Point>> {
        prop::collection::vec((-40..40_i32, -40..40_i32), 1..most).prop_map(|all| {
            all.into_iter().map(|(x, y)| Point::new(f64::from(x) / 8.0, f64::from(y) / 8.0)).collect()
        })
    }

    proptest! {
        /// One ring for a path is the union of the hulls of its stretches, whatever the path.
        #[test]
        fn a_ring_is_the_union_of_hulls(path in places(14), shape in places(9)) {
            let Ok(tool) = Convex::around(&shape) else { return Ok(()) };
            let swept = Region::polygon(&tool.along(&path)).expect("finite");
            let hulls: Vec<Region> = path
                .windows(2)
                .map(|pair| {
                    let ends = pair.iter().flat_map(|p| tool.corners().iter().map(move |c| *p + c.to_vec2()));
                    let hull = Convex::around(&ends.collect::<Vec<_>>()).expect("it holds the tool");
                    Region::polygon(hull.corners()).expect("finite")
                })
                .collect();
            let one = Region::polygon(&tool.along(&path[..1])).expect("finite");
            let union = Region::union_of(&hulls).union(&one);
            prop_assert!((swept.area() - union.area()).abs() < 1e-7, "{} {}", swept.area(), union.area());
            prop_assert!(swept.difference(&union).area() < 1e-7);
        }
    }
}
