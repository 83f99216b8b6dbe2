//! Plane regions for cutting and clearance: polygons with holes, in millimetres.
//!
//! A [`Region`] is any number of polygons, each with any number of holes. Its
//! corners lie on a fixed grid of 2⁻³⁰ mm ([`GRID`], about a picometre), the same
//! grid for every region, so that a region which goes through a thousand cuts is
//! never rescaled.
//!
//! # Accuracy
//!
//! * A corner given in millimetres is moved by at most half a grid step in x and y.
//! * Union, difference and intersection round each new crossing to the grid; an edge
//!   that was split there bends by no more than that. Areas agree with exact
//!   arithmetic to about `perimeter × GRID`.
//! * Arcs become chords that lie within the stated distance of the arc and end on it.
//! * An offset keeps the stated distance where a corner is rounded; see [`Region::offset`].
//! * Area is summed in whole grid steps, without rounding, and converted once.
//! * Inside, outside and on the edge are decided in whole numbers: no tolerance.
//!
//! Everything is the same to the last bit on every machine.

mod arcs;
mod edges;
mod near;
mod offset;

pub use arcs::{Step, Turn};
pub use near::Gap;
pub use offset::Corner;

use std::fmt;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::i_float::int::point::IntPoint;
use kurbo::{Point, Rect};

/// Grid step of every region, in millimetres.
pub const GRID: f64 = 1.0 / STEPS_PER_MM;
const STEPS_PER_MM: f64 = 1_073_741_824.0;

/// Largest coordinate that a region may have, in millimetres (100 m).
pub const REACH: f64 = 1.0e5;

type Corners = Vec<IntPoint<i64>>;

/// Why a region could not be made.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// A coordinate or length is not a number, or is infinite.
    NotFinite,
    /// A coordinate, in millimetres, lies further out than [`REACH`].
    TooFar(f64),
    /// A radius, in millimetres, is not above zero.
    NoRadius(f64),
    /// The accuracy asked for, in millimetres, is not above zero.
    NoAccuracy(f64),
    /// The accuracy asked for cannot be held; the finest that can is given.
    TooFine {
        /// What was asked, in millimetres.
        asked: f64,
        /// The finest that can be held here, in millimetres.
        finest: f64,
    },
    /// Start and end of an arc lie at different distances from its centre.
    NotAnArc {
        /// Radius at the start, in millimetres.
        start: f64,
        /// Radius at the end, in millimetres.
        end: f64,
    },
    /// A mitre may not reach less far than the offset itself.
    MitreTooShort(f64),
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite => write!(out, "a coordinate is not a finite number"),
            Self::TooFar(at) => write!(out, "a coordinate of {at} mm lies beyond {REACH} mm"),
            Self::NoRadius(radius) => write!(out, "a radius of {radius} mm is not above zero"),
            Self::NoAccuracy(within) => write!(out, "an accuracy of {within} mm is not above zero"),
            Self::TooFine { asked, finest } => {
                write!(out, "an accuracy of {asked} mm cannot be held here; {finest} mm can")
            }
            Self::NotAnArc { start, end } => {
                write!(out, "an arc starts {start} mm from its centre and ends {end} mm from it")
            }
            Self::MitreTooShort(limit) => write!(out, "a mitre limit of {limit} is below 1"),
        }
    }
}

impl std::error::Error for Fault {}

/// Where a point lies in relation to a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lies {
    /// In the metal.
    Inside,
    /// On the outline, or on the outline of a hole.
    OnEdge,
    /// In the air, or in a hole.
    Outside,
}

/// A set of polygons with holes in the plane; see the [module](self) for accuracy.
///
/// The polygons do not overlap, outlines run anticlockwise and holes clockwise,
/// and no outline crosses itself.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Region {
    shapes: Vec<Vec<Corners>>,
}

impl Region {
    /// The region with nothing in it.
    #[must_use]
    pub const fn empty() -> Self {
        Self { shapes: Vec::new() }
    }

    /// The region inside a closed polygon, which may run either way and may cross itself
    /// (whatever it winds round is inside).
    ///
    /// Fewer than three corners, or all in one line, give an empty region.
    ///
    /// # Errors
    /// [`Fault::NotFinite`] or [`Fault::TooFar`] for a corner that has no place on the grid.
    pub fn polygon(corners: &[Point]) -> Result<Self, Fault> {
        Ok(Self::simple(&on_grid(corners)?))
    }

    /// A polygon less its holes.
    ///
    /// # Errors
    /// As [`Region::polygon`].
    pub fn with_holes<H: AsRef<[Point]>>(outline: &[Point], holes: &[H]) -> Result<Self, Fault> {
        let holes = holes.iter().map(|hole| Self::polygon(hole.as_ref())).collect::<Result<Vec<_>, _>>()?;
        Ok(Self::polygon(outline)?.difference(&Self::union_of(&holes)))
    }

    /// A rectangle with its sides along x and y, between two opposite corners.
    ///
    /// # Errors
    /// As [`Region::polygon`].
    pub fn rectangle(a: Point, b: Point) -> Result<Self, Fault> {
        Self::polygon(&[a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)])
    }

    /// Any closed outline of lines and arcs, the arcs followed to `within` millimetres.
    ///
    /// The outline begins at `start` and is closed by a straight line if its last step
    /// does not end there.
    ///
    /// # Errors
    /// As [`Region::polygon`]; [`Fault::NoAccuracy`]; [`Fault::NotAnArc`] when the ends of an
    /// arc differ in radius by more than `within`.
    pub fn outline(start: Point, steps: &[Step], within: f64) -> Result<Self, Fault> {
        Self::polygon(&arcs::follow(start, steps, within)?)
    }

    /// A disc, its rim followed to `within` millimetres by chords with their ends on the rim.
    ///
    /// # Errors
    /// As [`Region::polygon`]; [`Fault::NoRadius`], [`Fault::NoAccuracy`].
    pub fn disc(centre: Point, radius: f64, within: f64) -> Result<Self, Fault> {
        Self::polygon(&arcs::circle(centre, radius, within)?)
    }

    /// What lies in either region.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        self.combine(other, OverlayRule::Union)
    }

    /// What lies in this region and not in the other: the tool's sweep cut away.
    ///
    /// Each call goes over all corners of both, so join many tool positions with
    /// [`Region::union_of`] first where what stands between two cuts is not asked for.
    #[must_use]
    pub fn difference(&self, other: &Self) -> Self {
        if self.clear_of(other) {
            return self.clone();
        }
        self.combine(other, OverlayRule::Difference)
    }

    /// What lies in both regions.
    #[must_use]
    pub fn intersection(&self, other: &Self) -> Self {
        if self.clear_of(other) {
            return Self::empty();
        }
        self.combine(other, OverlayRule::Intersect)
    }

    /// What lies in any of the regions.
    ///
    /// Four neighbours are joined at a time, then four of the results, and so on: joining
    /// thousands of overlapping tool positions in one call takes some hundred times as long.
    /// Give neighbours in the plane as neighbours in the list.
    #[must_use]
    pub fn union_of(regions: &[Self]) -> Self {
        let mut level: Vec<Self> = regions.chunks(4).map(Self::join).collect();
        while level.len() > 1 {
            level = level.chunks(4).map(Self::join).collect();
        }
        level.pop().unwrap_or_default()
    }

    /// Area in square millimetres, holes taken off.
    #[must_use]
    pub fn area(&self) -> f64 {
        let doubled: i128 = self.rings().map(|ring| doubled_area(ring)).sum();
        #[expect(clippy::cast_precision_loss, reason = "the one rounding that the area has")]
        let steps = doubled as f64;
        steps * (0.5 * GRID * GRID)
    }

    /// Length of all outlines and holes together, in millimetres.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        self.edges().map(|(a, b)| (to_mm(b) - to_mm(a)).hypot2().sqrt()).sum()
    }

    /// The smallest rectangle along x and y that holds the region; none when it is empty.
    #[must_use]
    pub fn bounds(&self) -> Option<Rect> {
        let (low, high) = self.grid_bounds()?;
        Some(Rect::from_points(to_mm(low), to_mm(high)))
    }

    /// Whether a point lies in the region; its edge belongs to it.
    ///
    /// # Errors
    /// [`Fault::NotFinite`] or [`Fault::TooFar`] for a point that has no place on the grid.
    pub fn contains(&self, point: Point) -> Result<bool, Fault> {
        Ok(self.lies(point)? != Lies::Outside)
    }

    /// Where a point lies: inside, on an edge or outside.
    ///
    /// # Errors
    /// As [`Region::contains`].
    pub fn lies(&self, point: Point) -> Result<Lies, Fault> {
        Ok(self.lies_on_grid(grid_point(point)?))
    }

    /// Whether there is nothing in the region.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    /// How many separate pieces there are.
    #[must_use]
    pub fn pieces(&self) -> usize {
        self.shapes.len()
    }

    /// How many corners all outlines and holes have together.
    #[must_use]
    pub fn corners(&self) -> usize {
        self.rings().map(Vec::len).sum()
    }

    /// Each piece as its rings of corners in millimetres: the outline first
    /// (anticlockwise), then its holes (clockwise).
    #[must_use]
    pub fn polygons(&self) -> Vec<Vec<Vec<Point>>> {
        let ring = |ring: &Corners| ring.iter().map(|&corner| to_mm(corner)).collect();
        self.shapes.iter().map(|shape| shape.iter().map(ring).collect()).collect()
    }

    fn simple(ring: &Corners) -> Self {
        Self { shapes: Overlay::from_subj(ring).overlay(OverlayRule::Subject, FillRule::NonZero) }
    }

    fn combine(&self, other: &Self, rule: OverlayRule) -> Self {
        // Below some thousands of edges a plain list sweeps a quarter quicker than a tree.
        let solver = if self.corners() + other.corners() < 10_000 { Solver::LIST } else { Solver::AUTO };
        let mut overlay = Overlay::from_subj_and_clip_custom(
            &self.shapes,
            &other.shapes,
            IntOverlayOptions::default(),
            solver,
        );
        Self { shapes: overlay.overlay(rule, FillRule::NonZero) }
    }

    fn join(regions: &[Self]) -> Self {
        if let [one] = regions {
            return one.clone();
        }
        let rings: Vec<&[IntPoint<i64>]> =
            regions.iter().flat_map(|region| region.rings().map(Vec::as_slice)).collect();
        Self { shapes: Overlay::from_subj(&rings).overlay(OverlayRule::Subject, FillRule::NonZero) }
    }

    fn rings(&self) -> impl Iterator<Item = &Corners> {
        self.shapes.iter().flatten()
    }

    fn edges(&self) -> impl Iterator<Item = (IntPoint<i64>, IntPoint<i64>)> + '_ {
        self.rings()
            .flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&from, &to)| (from, to)))
    }

    fn grid_bounds(&self) -> Option<(IntPoint<i64>, IntPoint<i64>)> {
        let outlines = || self.shapes.iter().filter_map(|shape| shape.first()).flatten();
        let low = IntPoint::new(outlines().map(|p| p.x).min()?, outlines().map(|p| p.y).min()?);
        let high = IntPoint::new(outlines().map(|p| p.x).max()?, outlines().map(|p| p.y).max()?);
        Some((low, high))
    }

    /// Whether the two bounding boxes have nothing in common.
    fn clear_of(&self, other: &Self) -> bool {
        match (self.grid_bounds(), other.grid_bounds()) {
            (Some((low, high)), Some((other_low, other_high))) => {
                low.x > other_high.x || other_low.x > high.x || low.y > other_high.y || other_low.y > high.y
            }
            _ => true,
        }
    }

    fn lies_on_grid(&self, p: IntPoint<i64>) -> Lies {
        let mut inside = false;
        for (a, b) in self.edges() {
            let side = cross(a, b, p);
            if side == 0 && between(a.x, p.x, b.x) && between(a.y, p.y, b.y) {
                return Lies::OnEdge;
            }
            // A ray towards +x: each edge counts its lower end and not its upper.
            let upward = a.y <= p.y && p.y < b.y;
            let downward = b.y <= p.y && p.y < a.y;
            if (upward && side > 0) || (downward && side < 0) {
                inside = !inside;
            }
        }
        if inside { Lies::Inside } else { Lies::Outside }
    }
}

/// Twice the signed area of triangle a, b, p in grid steps: above zero when p lies left of a → b.
fn cross(a: IntPoint<i64>, b: IntPoint<i64>, p: IntPoint<i64>) -> i128 {
    let (ux, uy) = (i128::from(b.x - a.x), i128::from(b.y - a.y));
    let (vx, vy) = (i128::from(p.x - a.x), i128::from(p.y - a.y));
    ux * vy - uy * vx
}

fn between(a: i64, x: i64, b: i64) -> bool {
    a.min(b) <= x && x <= a.max(b)
}

fn doubled_area(ring: &[IntPoint<i64>]) -> i128 {
    let Some(&first) = ring.first() else { return 0 };
    ring.windows(2).map(|pair| cross(first, pair[0], pair[1])).sum()
}

fn to_mm(p: IntPoint<i64>) -> Point {
    Point::new(mm(p.x), mm(p.y))
}

#[expect(clippy::cast_precision_loss, reason = "a corner read out is rounded to the nearest f64")]
fn mm(steps: i64) -> f64 {
    steps as f64 * GRID
}

fn on_grid(points: &[Point]) -> Result<Corners, Fault> {
    points.iter().map(|&point| grid_point(point)).collect()
}

fn grid_point(p: Point) -> Result<IntPoint<i64>, Fault> {
    Ok(IntPoint::new(steps(p.x)?, steps(p.y)?))
}

/// A length in whole grid steps.
fn steps(mm: f64) -> Result<i64, Fault> {
    if !mm.is_finite() {
        return Err(Fault::NotFinite);
    }
    if mm.abs() > REACH {
        return Err(Fault::TooFar(mm));
    }
    #[expect(clippy::cast_possible_truncation, reason = "REACH keeps it far inside i64")]
    let whole = (mm * STEPS_PER_MM).round() as i64;
    Ok(whole)
}
