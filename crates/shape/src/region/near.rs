//! Least distance between regions, by branch and bound over trees of boxes.

use i_overlay::i_float::int::point::IntPoint;
use kurbo::Point;

use super::{Lies, Region, between, cross, to_mm};

/// The narrowest place between two regions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// How far apart they are there, in millimetres; zero where they touch or overlap.
    pub apart: f64,
    /// The point of the first region.
    pub here: Point,
    /// The point of the second region.
    pub there: Point,
}

impl Region {
    /// Least distance between two regions in millimetres: zero where they touch or overlap,
    /// none when either is empty.
    ///
    /// Touching and overlap are decided in whole numbers; a distance is right to a few units
    /// in the last place of the coordinates.
    #[must_use]
    pub fn distance(&self, other: &Self) -> Option<f64> {
        self.gap(other).map(|gap| gap.apart)
    }

    /// The narrowest place between two regions; none when either is empty.
    #[must_use]
    pub fn gap(&self, other: &Self) -> Option<Gap> {
        let mine = Tree::of(self.edges().collect())?;
        let theirs = Tree::of(other.edges().collect())?;
        // A piece wholly inside the other region need not cross any edge of it.
        let within = |inner: &Self, outer: &Self| {
            let starts = inner.shapes.iter().filter_map(|shape| shape.first()?.first().copied());
            starts.into_iter().find(|&corner| outer.lies_on_grid(corner) != Lies::Outside)
        };
        if let Some(shared) = within(self, other).or_else(|| within(other, self)) {
            return Some(Gap { apart: 0.0, here: to_mm(shared), there: to_mm(shared) });
        }
        let mut best = Nearest { squared: f64::INFINITY, here: Point::ZERO, there: Point::ZERO };
        search(&mine, &theirs, &mut best);
        Some(Gap { apart: best.squared.sqrt(), here: best.here, there: best.there })
    }
}

type Edge = (IntPoint<i64>, IntPoint<i64>);

struct Nearest {
    squared: f64,
    here: Point,
    there: Point,
}

struct Tree {
    low: Point,
    high: Point,
    kind: Kind,
}

enum Kind {
    Leaf(Vec<Edge>),
    Fork(Box<[Tree; 2]>),
}

const LEAF: usize = 6;

impl Tree {
    fn of(mut edges: Vec<Edge>) -> Option<Self> {
        let ends = || edges.iter().flat_map(|&(a, b)| [a, b]);
        let low = IntPoint::new(ends().map(|p| p.x).min()?, ends().map(|p| p.y).min()?);
        let high = IntPoint::new(ends().map(|p| p.x).max()?, ends().map(|p| p.y).max()?);
        let kind = if edges.len() <= LEAF {
            Kind::Leaf(edges)
        } else {
            if high.x - low.x >= high.y - low.y {
                edges.sort_by_key(|&(a, b)| a.x + b.x);
            } else {
                edges.sort_by_key(|&(a, b)| a.y + b.y);
            }
            let upper = edges.split_off(edges.len() / 2);
            Kind::Fork(Box::new([Self::of(edges)?, Self::of(upper)?]))
        };
        Some(Self { low: to_mm(low), high: to_mm(high), kind })
    }

    /// Squared distance between two boxes.
    fn apart(&self, other: &Self) -> f64 {
        let x = (self.low.x - other.high.x).max(other.low.x - self.high.x).max(0.0);
        let y = (self.low.y - other.high.y).max(other.low.y - self.high.y).max(0.0);
        x * x + y * y
    }

    fn half_perimeter(&self) -> f64 {
        (self.high.x - self.low.x) + (self.high.y - self.low.y)
    }
}

fn search(mine: &Tree, theirs: &Tree, best: &mut Nearest) {
    if mine.apart(theirs) >= best.squared {
        return;
    }
    match (&mine.kind, &theirs.kind) {
        (Kind::Leaf(ours), Kind::Leaf(others)) => {
            for &(a, b) in ours {
                for &(c, d) in others {
                    nearer(a, b, c, d, best);
                }
            }
        }
        (Kind::Fork(halves), Kind::Leaf(_)) => {
            open(halves, theirs, |half, best| search(half, theirs, best), best);
        }
        (Kind::Leaf(_), Kind::Fork(halves)) => {
            open(halves, mine, |half, best| search(mine, half, best), best);
        }
        (Kind::Fork(ours), Kind::Fork(others)) => {
            if mine.half_perimeter() >= theirs.half_perimeter() {
                open(ours, theirs, |half, best| search(half, theirs, best), best);
            } else {
                open(others, mine, |half, best| search(mine, half, best), best);
            }
        }
    }
}

/// Looks into both halves of a box, first into the one nearer to the other box.
fn open(halves: &[Tree; 2], other: &Tree, look: impl Fn(&Tree, &mut Nearest), best: &mut Nearest) {
    let [first, second] = halves;
    let turned = second.apart(other) < first.apart(other);
    let (first, second) = if turned { (second, first) } else { (first, second) };
    look(first, best);
    look(second, best);
}

fn nearer(a: IntPoint<i64>, b: IntPoint<i64>, c: IntPoint<i64>, d: IntPoint<i64>, best: &mut Nearest) {
    if meet(a, b, c, d) {
        let shared = crossing(a, b, c, d);
        *best = Nearest { squared: 0.0, here: shared, there: shared };
        return;
    }
    let (a, b, c, d) = (to_mm(a), to_mm(b), to_mm(c), to_mm(d));
    for (corner, foot, mine) in [
        (a, foot(a, c, d), true),
        (b, foot(b, c, d), true),
        (c, foot(c, a, b), false),
        (d, foot(d, a, b), false),
    ] {
        let squared = (corner - foot).hypot2();
        if squared < best.squared {
            let (here, there) = if mine { (corner, foot) } else { (foot, corner) };
            *best = Nearest { squared, here, there };
        }
    }
}

/// Whether two edges have a point in common, decided in whole numbers.
fn meet(a: IntPoint<i64>, b: IntPoint<i64>, c: IntPoint<i64>, d: IntPoint<i64>) -> bool {
    let (to_c, to_d) = (cross(a, b, c).signum(), cross(a, b, d).signum());
    let (to_a, to_b) = (cross(c, d, a).signum(), cross(c, d, b).signum());
    if to_c * to_d < 0 && to_a * to_b < 0 {
        return true;
    }
    let on = |side: i128, from: IntPoint<i64>, to: IntPoint<i64>, p: IntPoint<i64>| {
        side == 0 && between(from.x, p.x, to.x) && between(from.y, p.y, to.y)
    };
    on(to_c, a, b, c) || on(to_d, a, b, d) || on(to_a, c, d, a) || on(to_b, c, d, b)
}

/// A point that two meeting edges share.
fn crossing(a: IntPoint<i64>, b: IntPoint<i64>, c: IntPoint<i64>, d: IntPoint<i64>) -> Point {
    let (left, right) = (cross(c, d, a), cross(c, d, b));
    if left == right {
        // Along one line: an end of one lies on the other.
        let inner = [c, d].into_iter().find(|p| between(a.x, p.x, b.x) && between(a.y, p.y, b.y));
        return to_mm(inner.unwrap_or(a));
    }
    #[expect(clippy::cast_precision_loss, reason = "a share of the edge needs no more than f64")]
    let share = left as f64 / (left - right) as f64;
    to_mm(a).lerp(to_mm(b), share)
}

/// The point of an edge nearest to `p`.
fn foot(p: Point, from: Point, to: Point) -> Point {
    let along = to - from;
    let length = along.hypot2();
    if length <= 0.0 {
        return from;
    }
    let share = ((p - from).dot(along) / length).clamp(0.0, 1.0);
    from.lerp(to, share)
}
