//! How far metal stands off a wanted outline, or has gone below it.

use kurbo::{Point, Rect};
use shape::region::Region;

/// What is left over or gone too far: how much, and how deep at the worst place.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Amount {
    /// Area in square millimetres.
    pub area: f64,
    /// Largest distance from the wanted outline, in millimetres, measured at the corners and the
    /// middles of the edges; or the area of a piece by its perimeter, where that is more. The true one is
    /// no less.
    pub deepest: f64,
    /// Where that is.
    pub at: Option<Point>,
}

/// Measures a region against the outline of another.
#[must_use]
pub fn amount(region: &Region, wanted: &Region) -> Amount {
    if region.is_empty() {
        return Amount::default();
    }
    Against::of(wanted).amount(region)
}

/// The rings of one piece: its outline, then its holes.
pub type Rings = Vec<Vec<Point>>;

/// A wanted outline, ready to measure many regions against it.
pub struct Against {
    outline: Outline,
}

impl Against {
    /// Measures against the outline of a region.
    #[must_use]
    pub fn of(wanted: &Region) -> Self {
        Self { outline: Outline::of(wanted) }
    }

    /// All of a region together.
    #[must_use]
    pub fn amount(&self, region: &Region) -> Amount {
        let mut worst = Amount { area: region.area(), ..Amount::default() };
        for rings in region.polygons() {
            self.deepen(&rings, &mut worst);
        }
        worst
    }

    /// Each piece of a region by itself.
    #[must_use]
    pub fn pieces(&self, region: &Region) -> Vec<(Rings, Amount)> {
        let measured = |rings: Rings| {
            let area = rings.iter().map(|ring| crate::sweep::area(ring)).sum();
            let mut own = Amount { area, ..Amount::default() };
            self.deepen(&rings, &mut own);
            (rings, own)
        };
        region.polygons().into_iter().map(measured).collect()
    }

    fn deepen(&self, rings: &[Vec<Point>], worst: &mut Amount) {
        let edges = || rings.iter().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
        // A circle of radius area by perimeter has room in any piece, wherever its corners lie.
        let around: f64 = edges().map(|(&a, &b)| (b - a).hypot2().sqrt()).sum();
        let inside: f64 = rings.iter().map(|ring| crate::sweep::area(ring)).sum();
        if around > 0.0 && inside / around > worst.deepest {
            worst.deepest = inside / around;
            worst.at = rings.first().and_then(|ring| crate::near::bounds(ring)).map(|bounds| bounds.center());
        }
        for (&a, &b) in edges() {
            for p in [a, a.midpoint(b)] {
                let off = self.outline.distance(p, worst.deepest);
                if off > worst.deepest {
                    worst.deepest = off;
                    worst.at = Some(p);
                }
            }
        }
    }
}

/// An outline sorted into strips along x.
struct Outline {
    edges: Vec<(Point, Point)>,
    /// Edges that reach into each strip.
    strips: Vec<Vec<usize>>,
    left: f64,
    width: f64,
}

impl Outline {
    fn of(region: &Region) -> Self {
        let mut edges = Vec::with_capacity(region.corners());
        for ring in region.polygons().iter().flatten() {
            edges.extend(ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&a, &b)| (a, b)));
        }
        let bounds = region.bounds().unwrap_or(Rect::ZERO);
        let count = (edges.len() / 2).clamp(1, 4096);
        let width = (bounds.width() / f64::from(u32::try_from(count).unwrap_or(1))).max(1.0e-9);
        let mut outline = Self { edges, strips: vec![Vec::new(); count], left: bounds.x0, width };
        for i in 0..outline.edges.len() {
            let (a, b) = outline.edges[i];
            for strip in outline.strip(a.x.min(b.x))..=outline.strip(a.x.max(b.x)) {
                outline.strips[strip].push(i);
            }
        }
        outline
    }

    fn strip(&self, x: f64) -> usize {
        let strip = ((x - self.left) / self.width).floor().max(0.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "not below zero; held to the list"
        )]
        let strip = strip as usize;
        strip.min(self.strips.len() - 1)
    }

    /// Distance to the outline. Once it is found to be no more than `least`, which is of no interest,
    /// the search ends.
    fn distance(&self, p: Point, least: f64) -> f64 {
        let middle = self.strip(p.x);
        let mut best = f64::INFINITY;
        for off in 0..self.strips.len() {
            // Strips that far away are further than the best by now.
            let gap = f64::from(u32::try_from(off.saturating_sub(1)).unwrap_or(0)) * self.width;
            if gap > best || best <= least {
                break;
            }
            let sides = [middle.checked_sub(off), Some(middle + off).filter(|_| off > 0)];
            for strip in sides.into_iter().flatten().filter_map(|at| self.strips.get(at)) {
                for &i in strip {
                    let (a, b) = self.edges[i];
                    best = best.min(apart(p, a, b));
                }
            }
        }
        if best.is_finite() { best } else { 0.0 }
    }
}

fn apart(p: Point, a: Point, b: Point) -> f64 {
    let way = b - a;
    let length = way.hypot2();
    let part = if length > 0.0 { ((p - a).dot(way) / length).clamp(0.0, 1.0) } else { 0.0 };
    (p - (a + way * part)).hypot2().sqrt()
}

/// Volume in mm³ that a region turned about its x axis fills; only what lies at y ≥ 0 counts.
#[must_use]
pub fn turned_volume(region: &Region) -> f64 {
    let mut sum = 0.0;
    for ring in region.polygons().iter().flatten() {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            sum += (a.x - b.x) * (a.y * a.y + a.y * b.y + b.y * b.y);
        }
    }
    reckon::maths::PI * sum / 3.0
}
