//! Whether a convex sweep reaches into a region, decided before any polygon is cut.

use kurbo::{Point, Rect};
use shape::region::{Lies, Region};

/// A touch shallower than this, in millimetres, is none.
const GRAZE: f64 = 1.0e-9;

/// The edges of a region, ready for many quick tests.
#[derive(Debug, Clone, Default)]
pub(crate) struct Edges {
    edges: Vec<(Point, Point)>,
    bounds: Option<Rect>,
}

impl Edges {
    pub(crate) fn of(region: &Region) -> Self {
        let mut edges = Vec::with_capacity(region.corners());
        for ring in region.polygons().iter().flatten() {
            edges.extend(ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&a, &b)| (a, b)));
        }
        Self { edges, bounds: region.bounds() }
    }

    /// Whether a convex ring, anticlockwise, holds any part of the region's outline, or lies in it.
    pub(crate) fn reached(&self, ring: &[Point], region: &Region) -> bool {
        let (Some(own), Some(bounds)) = (self.bounds, bounds(ring)) else { return false };
        if !overlap(own, bounds) {
            return false;
        }
        let sides: Vec<(Point, f64, f64)> = ring
            .iter()
            .zip(ring.iter().cycle().skip(1))
            .filter_map(|(&a, &b)| {
                let way = b - a;
                let length = way.hypot2().sqrt();
                (length > 0.0).then(|| (a, -way.y / length, way.x / length))
            })
            .collect();
        for &(a, b) in &self.edges {
            let beside = a.x.min(b.x) > bounds.x1
                || a.x.max(b.x) < bounds.x0
                || a.y.min(b.y) > bounds.y1
                || a.y.max(b.y) < bounds.y0;
            if !beside && enters(a, b, &sides) {
                return true;
            }
        }
        // No edge inside: the ring is all in the metal or all outside.
        let count = f64::from(u32::try_from(ring.len()).unwrap_or(u32::MAX));
        let middle =
            ring.iter().fold(Point::ZERO, |sum, p| Point::new(sum.x + p.x / count, sum.y + p.y / count));
        region.lies(middle) == Ok(Lies::Inside)
    }
}

/// Whether a segment has a part deeper than a graze behind all sides.
fn enters(a: Point, b: Point, sides: &[(Point, f64, f64)]) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for &(on, nx, ny) in sides {
        let deep_a = (a.x - on.x) * nx + (a.y - on.y) * ny - GRAZE;
        let deep_b = (b.x - on.x) * nx + (b.y - on.y) * ny - GRAZE;
        if deep_a <= 0.0 && deep_b <= 0.0 {
            return false;
        }
        if deep_a <= 0.0 {
            from = from.max(deep_a / (deep_a - deep_b));
        } else if deep_b <= 0.0 {
            to = to.min(deep_a / (deep_a - deep_b));
        }
        if from >= to {
            return false;
        }
    }
    true
}

pub(crate) fn bounds(ring: &[Point]) -> Option<Rect> {
    let mut points = ring.iter();
    let first = *points.next()?;
    Some(points.fold(Rect::from_points(first, first), |rect, &p| rect.union_pt(p)))
}

pub(crate) fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}
