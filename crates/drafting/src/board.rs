//! The board a view and its sizes are laid on: what is there already, and what one more would cost.
//!
//! A thing to be placed offers candidates; each is refused when it would touch a label, or weighed by what it
//! crosses and how far it strays. The cheapest is kept.

use crate::sketch::{Label, Mark, Pen, Tone};
use crate::text::Block;
use kurbo::{Affine, BezPath, Point, Rect, Vec2};
use reckon::maths::hypot;

/// Length of an arrowhead on paper.
pub(crate) const ARROW: f64 = 2.5;

/// What a line on the board is, for what may cross it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// An edge of the part.
    Edge,
    /// A centre line.
    Centre,
    /// A dimension line.
    Size,
    /// An extension line.
    Extension,
    /// A leader.
    Leader,
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Stroke {
    pub a: Point,
    pub b: Point,
    pub kind: Kind,
}

/// One way of placing a thing.
#[derive(Clone, Debug, Default)]
pub(crate) struct Candidate {
    pub marks: Vec<Mark>,
    pub strokes: Vec<Stroke>,
    pub labels: Vec<Label>,
    /// Boxes by the font, which never overlap.
    pub boxes: Vec<Rect>,
    /// Boxes by the ink, which no line crosses.
    pub inks: Vec<Rect>,
    pub cost: f64,
}

impl Candidate {
    pub(crate) fn line(&mut self, a: Point, b: Point, kind: Kind) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        let pen = if kind == Kind::Centre { Pen::Centre } else { Pen::Thin };
        self.marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
        self.strokes.push(Stroke { a, b, kind });
    }
    /// A filled arrowhead with its tip at `tip`, pointing along `along`.
    pub(crate) fn arrow(&mut self, tip: Point, along: Vec2) {
        self.marks.push(arrowhead(tip, along));
    }
    pub(crate) fn text(&mut self, block: &Block, at: Point, upright: bool) {
        self.labels.extend(block.labels(at, upright));
        self.boxes.push(block.bounds(at, upright));
        self.inks.push(block.ink(at, upright));
    }
    fn bounds(&self) -> Option<Rect> {
        let strokes = self.strokes.iter().map(|s| Rect::from_points(s.a, s.b));
        strokes.chain(self.boxes.iter().copied()).reduce(|a, b| a.union(b))
    }
}

/// A filled arrowhead with its tip at `tip`, pointing along `along`.
pub(crate) fn arrowhead(tip: Point, along: Vec2) -> Mark {
    let u = along / hypot(along.x, along.y);
    let side = Vec2::new(-u.y, u.x) * 0.4;
    let back = tip - u * ARROW;
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(back + side);
    path.line_to(back - side);
    path.close_path();
    Mark { path, pen: None, fill: Tone::Ink, hatch: false }
}

/// A view and what has been placed round it, in millimetres on paper, the view's own origin at (0, 0).
#[derive(Clone, Debug)]
pub(crate) struct Board {
    pub marks: Vec<Mark>,
    pub labels: Vec<Label>,
    pub strokes: Vec<Stroke>,
    pub boxes: Vec<Rect>,
    pub inks: Vec<Rect>,
    /// The view itself, without sizes.
    pub body: Rect,
    /// Cost of a label inside the view; plates have room inside, turned parts do not.
    pub within: f64,
    /// Where extension lines of sizes not yet placed will want to run.
    pub ghosts: Vec<Stroke>,
    /// All that is on the board.
    pub bounds: Rect,
    /// Greatest width and height.
    pub limit: (f64, f64),
}

impl Board {
    pub(crate) fn new(body: Rect, limit: (f64, f64)) -> Board {
        Board {
            marks: Vec::new(),
            labels: Vec::new(),
            strokes: Vec::new(),
            boxes: Vec::new(),
            inks: Vec::new(),
            body,
            within: 25.0,
            ghosts: Vec::new(),
            bounds: body,
            limit,
        }
    }
    /// Whether the board itself is within its limit.
    pub(crate) fn fits(&self) -> bool {
        self.bounds.width() <= self.limit.0 && self.bounds.height() <= self.limit.1
    }
    /// Adds an edge or another line of the view to what sizes must heed.
    pub(crate) fn heed(&mut self, points: &[Point], kind: Kind) {
        for w in points.windows(2) {
            self.strokes.push(Stroke { a: w[0], b: w[1], kind });
        }
    }
    /// Keeps the cheapest of the candidates that touch nothing they must not; false if there is none.
    pub(crate) fn place(&mut self, mut candidates: Vec<Candidate>) -> bool {
        // In order of what they cost at least, so that the search may stop early; the sort is stable.
        candidates.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let mut best: Option<(f64, Candidate)> = None;
        for c in candidates {
            let bar = best.as_ref().map_or(f64::INFINITY, |(b, _)| *b);
            if c.cost >= bar {
                break;
            }
            if let Some(cost) = self.weigh(&c, bar)
                && cost < bar
            {
                best = Some((cost, c));
            }
        }
        let Some((_, c)) = best else { return false };
        self.keep(c);
        true
    }
    /// Puts a candidate on the board.
    pub(crate) fn keep(&mut self, c: Candidate) {
        if let Some(b) = c.bounds() {
            self.bounds = self.bounds.union(b);
        }
        self.marks.extend(c.marks);
        self.strokes.extend(c.strokes);
        self.labels.extend(c.labels);
        self.boxes.extend(c.boxes);
        self.inks.extend(c.inks);
    }
    /// Cost of a candidate; none where it must not be. Gives up once over `bar`.
    pub(crate) fn weigh(&self, c: &Candidate, bar: f64) -> Option<f64> {
        let Some(reach) = c.bounds() else { return Some(c.cost) };
        let all = self.bounds.union(reach);
        if all.width() > self.limit.0 || all.height() > self.limit.1 {
            return None;
        }
        let reach = reach.inflate(3.0, 3.0);
        let mut cost = c.cost;
        for b in &c.boxes {
            if self.boxes.iter().any(|o| overlap(*b, *o, 0.3)) {
                return None;
            }
            if overlap(*b, self.body, 0.0) {
                cost += self.within;
            }
        }
        for s in &c.strokes {
            if self.inks.iter().any(|o| hits(s, *o, 0.2)) {
                return None;
            }
        }
        for b in &c.inks {
            cost += 4.0 * self.ghosts.iter().map(|g| f64::from(u8::from(hits(g, *b, 0.3)))).sum::<f64>();
        }
        let near = |o: &&Stroke| {
            let (a, b) = (o.a, o.b);
            a.x.min(b.x) <= reach.x1
                && reach.x0 <= a.x.max(b.x)
                && a.y.min(b.y) <= reach.y1
                && reach.y0 <= a.y.max(b.y)
        };
        for o in self.strokes.iter().filter(near) {
            for b in &c.inks {
                let pad = if matches!(o.kind, Kind::Edge | Kind::Centre) { 0.3 } else { 0.45 };
                if hits(o, *b, pad) {
                    match o.kind {
                        Kind::Edge => cost += 40.0,
                        Kind::Centre => cost += 12.0,
                        _ => return None,
                    }
                }
            }
            for s in &c.strokes {
                cost += crossing(s, o)?;
            }
            if cost >= bar {
                return None;
            }
        }
        Some(cost)
    }
}

/// Cost of two lines crossing; none where they would be mistaken for one.
fn crossing(s: &Stroke, o: &Stroke) -> Option<f64> {
    if alongside(s, o) {
        return match (s.kind, o.kind) {
            (_, Kind::Edge | Kind::Centre) => Some(4.0),
            (Kind::Extension, Kind::Extension) => Some(0.0),
            (Kind::Size, Kind::Size) => None,
            _ => Some(30.0),
        };
    }
    if !cross(s, o) {
        return Some(0.0);
    }
    Some(match (s.kind, o.kind) {
        (Kind::Extension, Kind::Extension) => 0.6,
        (Kind::Extension, Kind::Edge) | (Kind::Size, Kind::Edge) => 3.0,
        (Kind::Leader, Kind::Edge) => 5.0,
        (_, Kind::Centre) => 0.5,
        (Kind::Size, Kind::Extension) | (Kind::Extension, Kind::Size) => 8.0,
        (Kind::Leader, Kind::Leader) => 60.0,
        (Kind::Leader, Kind::Size) | (Kind::Size, Kind::Leader) => 26.0,
        (Kind::Leader, _) | (_, Kind::Leader) => 10.0,
        _ => 25.0,
    })
}

/// Whether two boxes come nearer than `pad`.
pub(crate) fn overlap(a: Rect, b: Rect, pad: f64) -> bool {
    a.x0 < b.x1 + pad && b.x0 < a.x1 + pad && a.y0 < b.y1 + pad && b.y0 < a.y1 + pad
}

/// Whether a stroke enters a box grown by `pad`.
fn hits(s: &Stroke, b: Rect, pad: f64) -> bool {
    let b = b.inflate(pad, pad);
    clipped(s.a, s.b, b).is_some()
}

/// The part of a line inside a box.
pub(crate) fn clipped(a: Point, b: Point, r: Rect) -> Option<(Point, Point)> {
    let d = b - a;
    let (mut t0, mut t1) = (0.0f64, 1.0f64);
    for (p, q) in [(-d.x, a.x - r.x0), (d.x, r.x1 - a.x), (-d.y, a.y - r.y0), (d.y, r.y1 - a.y)] {
        if p.abs() < 1e-12 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            t0 = t0.max(q / p);
        } else {
            t1 = t1.min(q / p);
        }
    }
    (t0 < t1).then(|| (a + d * t0, a + d * t1))
}

/// Whether two strokes cross properly, joints and touching ends left out.
fn cross(s: &Stroke, o: &Stroke) -> bool {
    let (u, v, w) = (s.b - s.a, o.b - o.a, o.a - s.a);
    let c = u.cross(v);
    if c.abs() < 1e-9 {
        return false;
    }
    let (t, q) = (w.cross(v) / c, w.cross(u) / c);
    let (lu, lv) = (u.hypot2().sqrt(), v.hypot2().sqrt());
    // A leader's elbow on a dimension line looks like a joint; only the part itself may be touched at an end.
    let part = matches!(o.kind, Kind::Edge | Kind::Centre);
    let lines = matches!((s.kind, o.kind), (Kind::Leader, _) | (_, Kind::Leader));
    let et = if part || !lines { 0.25 / lu.max(0.3) } else { -0.6 / lu.max(0.3) };
    let eq = if lines && !part { 0.6 / lv.max(0.1) } else { 0.05 / lv.max(0.1) };
    t > et && t < 1.0 - et && q > -eq && q < 1.0 + eq
}

/// Whether two parallel strokes run side by side within two millimetres.
fn alongside(s: &Stroke, o: &Stroke) -> bool {
    let (u, v) = (s.b - s.a, o.b - o.a);
    let (lu, lv) = (u.hypot2().sqrt(), v.hypot2().sqrt());
    if lu < 1e-6 || lv < 1e-6 || u.cross(v).abs() > 0.02 * lu * lv {
        return false;
    }
    let apart = (u.cross(o.a - s.a) / lu).abs();
    let near = match (s.kind, o.kind) {
        (Kind::Extension, _) | (_, Kind::Extension) => 0.15,
        (_, Kind::Edge | Kind::Centre) => 1.5,
        _ => 2.5,
    };
    if apart > near {
        return false;
    }
    let (p, q) = ((o.a - s.a).dot(u) / lu, (o.b - s.a).dot(u) / lu);
    let (p, q) = (p.min(q), p.max(q));
    // Chained dimension lines may touch end to end.
    q > 0.1 && p < lu - 0.1
}

/// Moves a mark.
pub(crate) fn moved(mark: &Mark, by: Vec2) -> Mark {
    Mark { path: Affine::translate(by) * mark.path.clone(), ..mark.clone() }
}
