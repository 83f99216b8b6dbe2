//! Long slender parts with a plain stretch left out between break lines, so that the rest can be drawn larger.

use crate::board::{Board, Stroke};
use crate::size::Size;
use crate::sketch::{Mark, Pen, Tone};
use kurbo::{BezPath, PathEl, Point, Shape};
use shape::profile::{SAME, Segment};
use shape::turned::{End, Feature, Turned};

/// The stretch left out and the radius there, in millimetres of the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Fold {
    pub from: f64,
    pub to: f64,
    pub radius: f64,
}

/// Between the two break lines, on paper.
const WIDE: f64 = 2.0;
/// Length to diameter from which a part is broken.
const SLENDER: f64 = 12.0;

impl Fold {
    /// The longest plain stretch of a slender part in which no size takes hold; none where breaking gains little.
    pub(crate) fn of(part: &Turned, sizes: &[Size]) -> Option<Fold> {
        let (length, thick) = (part.length(), part.largest_diameter());
        if length < SLENDER * thick {
            return None;
        }
        let mut marks: Vec<f64> = part.outer.segments().iter().flat_map(|s| [s.from().x, s.to().x]).collect();
        for p in part.hollow() {
            marks.extend([p.z0, p.z1]);
        }
        let mut knurls = Vec::new();
        for f in &part.features {
            match f {
                Feature::Thread(t) => marks.extend([t.from, t.from - t.run_out, t.to, t.to + t.run_out]),
                Feature::Knurl { from, to, .. } => {
                    marks.extend([*from, *to]);
                    knurls.push((*from, *to));
                }
                Feature::Slot { end: End::Datum, depth, .. } => marks.push(part.first() + depth),
                Feature::Slot { end: End::Far, depth, .. } => marks.push(part.last() - depth),
                Feature::FaceGroove(g) => marks.push(part.face(g.end) + Turned::inward(g.end) * g.depth),
                Feature::Relief { end, depth, .. } => {
                    marks.push(part.face(*end) + Turned::inward(*end) * depth);
                }
                Feature::CrossHole { z, diameter } => marks.extend([z - diameter / 2.0, z + diameter / 2.0]),
                Feature::Flats { from, to, .. } | Feature::Leaves { from, to, .. } => {
                    marks.extend([*from, *to]);
                }
            }
        }
        for s in sizes {
            match s {
                Size::Length { from, to, .. } => marks.extend([*from, *to]),
                Size::Note { at, .. } | Size::Surface { at, .. } => marks.push(at.x),
                _ => {}
            }
        }
        marks.sort_by(f64::total_cmp);
        let plain = |a: f64, b: f64| {
            let m = a.midpoint(b);
            let cylinder = part.outer.segments().iter().any(|s| {
                matches!(s, Segment::Line { from, to } if (from.y - to.y).abs() < SAME
                    && from.x.min(to.x) <= m && m <= from.x.max(to.x))
            });
            let hollow = part.hollow().iter().all(|p| !(p.z0 < m && m < p.z1) || (p.r0 - p.r1).abs() < SAME);
            cylinder && hollow && knurls.iter().all(|k| m < k.0 || m > k.1)
        };
        let longest = marks
            .windows(2)
            .map(|w| (w[0], w[1]))
            .filter(|&(a, b)| plain(a, b))
            .max_by(|p, q| (p.1 - p.0).total_cmp(&(q.1 - q.0)))?;
        let local = 2.0 * part.radius_at(longest.0.midpoint(longest.1));
        let out = (longest.1 - longest.0 - 3.0 * local).min(length - 6.0 * thick);
        if out < 0.3 * length {
            return None;
        }
        let middle = longest.0.midpoint(longest.1);
        Some(Fold { from: middle - out / 2.0, to: middle + out / 2.0, radius: local / 2.0 })
    }
    /// Length left out.
    pub(crate) fn out(&self) -> f64 {
        self.to - self.from
    }
    /// Where x on the unbroken paper comes to lie.
    pub(crate) fn x(&self, x: f64, scale: f64) -> f64 {
        let (a, b) = (self.from * scale, self.to * scale);
        if x <= a {
            x
        } else if x >= b {
            x - (b - a) + WIDE
        } else {
            a + WIDE * (x - a) / (b - a)
        }
    }
    /// Folds a side view that was drawn whole.
    pub(crate) fn apply(&self, board: &mut Board, scale: f64) {
        let to = |p: Point| Point::new(self.x(p.x, scale), p.y);
        for m in &mut board.marks {
            let moved = m.path.elements().iter().map(|e| match *e {
                PathEl::MoveTo(p) => PathEl::MoveTo(to(p)),
                PathEl::LineTo(p) => PathEl::LineTo(to(p)),
                PathEl::QuadTo(p, q) => PathEl::QuadTo(to(p), to(q)),
                PathEl::CurveTo(p, q, r) => PathEl::CurveTo(to(p), to(q), to(r)),
                PathEl::ClosePath => PathEl::ClosePath,
            });
            m.path = moved.collect();
        }
        for s in &mut board.strokes {
            *s = Stroke { a: to(s.a), b: to(s.b), ..*s };
        }
        board.body.x1 = self.x(board.body.x1, scale);
        board.bounds.x1 = self.x(board.bounds.x1, scale);
        let x = self.from * scale;
        let high = self.radius * scale;
        let edge = |x: f64| -> Vec<Point> {
            // Two slow waves from below to above, the same on both sides.
            (0..=24)
                .map(|k| {
                    let t = f64::from(k) / 24.0;
                    let sway = 0.5 * reckon::maths::sin(t * 2.0 * reckon::maths::PI);
                    Point::new(x + sway, (high + 1.2) * (2.0 * t - 1.0))
                })
                .collect()
        };
        let (left, right) = (edge(x), edge(x + WIDE));
        let mut gap = BezPath::new();
        gap.move_to(left[0]);
        for p in left[1..].iter().chain(right.iter().rev()) {
            gap.line_to(*p);
        }
        gap.close_path();
        board.marks.push(Mark { path: gap, pen: None, fill: Tone::White, hatch: false });
        for side in [left, right] {
            let mut path = BezPath::new();
            path.move_to(side[0]);
            for p in &side[1..] {
                path.line_to(*p);
            }
            board.bounds = board.bounds.union(path.bounding_box());
            board.marks.push(Mark { path, pen: Some(Pen::Break), fill: Tone::None, hatch: false });
            board.heed(&side, crate::board::Kind::Edge);
        }
    }
}
