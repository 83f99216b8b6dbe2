//! Candidates for a straight size: lanes outside the view, arrows turned outwards where it is narrow.

use crate::board::{ARROW, Board, Candidate, Kind, Stroke};
use crate::text::Block;
use kurbo::{Point, Vec2};

/// A straight size, level or upright, with the points its extension lines leave from.
#[derive(Clone, Debug)]
pub(crate) struct Linear {
    /// Measured along y rather than along x.
    pub upright: bool,
    /// The two points when the size lies above (or, upright, to the left of) the view, and the cost of that side.
    pub high: Option<(Point, Point, f64)>,
    /// The two points when it lies below (or to the right).
    pub low: Option<(Point, Point, f64)>,
    /// What it says.
    pub block: Block,
}

/// From the view to the nearest dimension line.
const FIRST: f64 = 8.0;

impl Linear {
    /// Paper point of a place along the measured direction (`u`) and across it (`v`, higher is above or left).
    fn paper(&self, u: f64, v: f64) -> Point {
        if self.upright { Point::new(-v, u) } else { Point::new(u, v) }
    }
    fn local(&self, p: Point) -> (f64, f64) {
        if self.upright { (p.y, -p.x) } else { (p.x, p.y) }
    }
    /// Length on paper.
    pub(crate) fn span(&self) -> f64 {
        let pair = self.high.or(self.low).map(|(a, b, _)| (self.local(a).0, self.local(b).0));
        pair.map_or(0.0, |(a, b)| (a - b).abs())
    }
    /// Where its extension lines will want to run.
    pub(crate) fn ghosts(&self) -> Vec<Stroke> {
        let mut all = Vec::new();
        for (pair, sign) in [(self.high, 60.0), (self.low, -60.0)] {
            let Some((a, b, _)) = pair else { continue };
            for p in [a, b] {
                let (u, v) = self.local(p);
                all.push(Stroke { a: p, b: self.paper(u, v + sign), kind: Kind::Extension });
            }
        }
        all
    }
    /// All ways of placing it, lanes `pitch` apart.
    pub(crate) fn candidates(&self, board: &Board, pitch: f64) -> Vec<Candidate> {
        let body = board.body;
        let (top, bottom) = if self.upright { (-body.x0, -body.x1) } else { (body.y1, body.y0) };
        let mut all = Vec::new();
        for (pair, edge, sign) in [(self.high, top, 1.0), (self.low, bottom, -1.0)] {
            let Some((a, b, side_cost)) = pair else { continue };
            for half in 0..26 {
                let lane = f64::from(half) / 2.0;
                // Between lanes only where the lanes themselves are taken.
                let cost = side_cost + 3.0 * lane + if half % 2 == 1 { 4.0 } else { 0.0 };
                let v = edge + sign * (FIRST + lane * pitch);
                self.on_lane(a, b, v, cost, &mut all);
            }
        }
        all
    }
    fn on_lane(&self, a: Point, b: Point, v: f64, cost: f64, all: &mut Vec<Candidate>) {
        let ((ua, va), (ub, vb)) = (self.local(a), self.local(b));
        let ((u0, v0), (u1, v1)) = if ua <= ub { ((ua, va), (ub, vb)) } else { ((ub, vb), (ua, va)) };
        let (span, w) = (u1 - u0, self.block.width);
        let mut base = Candidate { cost, ..Candidate::default() };
        for (u, from) in [(u0, v0), (u1, v1)] {
            let dir = if v >= from { 1.0 } else { -1.0 };
            base.line(self.paper(u, from + dir * 0.8), self.paper(u, v + dir * 1.2), Kind::Extension);
        }
        let along = self.paper(1.0, 0.0) - self.paper(0.0, 0.0);
        let inside = span >= 2.0 * ARROW + 1.5;
        let rise = 0.7 + self.block.ink_down;
        let stub = ARROW + 2.0;
        let arrows = |c: &mut Candidate, l: f64, r: f64| {
            let (l, r) = if inside { (l.min(u0), r.max(u1)) } else { (l.min(u0 - stub), r.max(u1 + stub)) };
            c.line(self.paper(l, v), self.paper(r, v), Kind::Size);
            let out = if inside { 1.0 } else { -1.0 };
            c.arrow(self.paper(u0, v), along * -out);
            c.arrow(self.paper(u1, v), along * out);
        };
        // Text over the line, in the middle or a little to one side.
        if w <= span - 1.0 {
            for shift in [0.0, 0.25, -0.25, 0.4, -0.4] {
                let room = span - 1.0 - w;
                let mut c = base.clone();
                let u = u0 + 0.5 + room * (0.5 + shift);
                c.cost += 6.0 * f64::from(u8::from(shift != 0.0)) + if inside { 0.0 } else { 1.0 };
                arrows(&mut c, u0, u1);
                c.text(&self.block, self.paper(u, v + rise), self.upright);
                all.push(c);
            }
        }
        // Text beside it, the line drawn out under the text.
        let start = if inside { 1.0 } else { stub };
        for right in [true, false] {
            for far in [0.0, 4.0, 9.0] {
                let mut c = base.clone();
                let u = if right { u1 + start + far } else { u0 - start - far - w };
                c.cost += 4.0 + far * 0.3 + if right { 0.0 } else { 0.4 };
                arrows(&mut c, u0.min(u), u1.max(u + w));
                c.text(&self.block, self.paper(u, v + rise), self.upright);
                all.push(c);
            }
        }
    }
}

/// The sign before a leader's text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    /// None.
    Plain,
    /// None, and neither arrow nor shelf: the letter of a detail beside its ring.
    Letter,
    /// The surface-texture symbol (ISO 21920-1), metal removed.
    Surface,
}

/// A text on a leader to one of several points.
#[derive(Clone, Debug)]
pub(crate) struct Leader {
    /// Where the arrow may point, and which way is outwards there.
    pub tips: Vec<(Point, Vec2)>,
    /// What it says.
    pub block: Block,
    /// The sign before it.
    pub sign: Sign,
    /// Added to the cost, for a leader that only stands in for something better.
    pub cost: f64,
}

impl Leader {
    /// All ways of placing it.
    pub(crate) fn candidates(&self) -> Vec<Candidate> {
        const REACH: [f64; 12] = [5.0, 7.0, 9.0, 11.0, 13.0, 16.0, 20.0, 25.0, 31.0, 38.0, 46.0, 60.0];
        let mut all = Vec::new();
        for (k, &(tip, out)) in self.tips.iter().enumerate() {
            let base = reckon::maths::atan2(out.y, out.x);
            for step in -6..=6 {
                let a = base + f64::from(step) * 12.5f64.to_radians() + 0.02;
                let dir = Vec2::new(reckon::maths::cos(a), reckon::maths::sin(a));
                // Leaders lie neither level nor upright (ISO 129-1).
                let skew = dir.x.abs().min(dir.y.abs());
                for reach in REACH {
                    let cost = self.cost
                        + reach * 0.45
                        + f64::from(i32::abs(step)) * 0.6
                        + 0.5 * f64::from(u32::try_from(k).unwrap_or(9))
                        + if skew < 0.2 { 3.0 } else { 0.0 };
                    let mut c = Candidate { cost, ..Candidate::default() };
                    if self.sign == Sign::Letter {
                        let (w, h) = (self.block.width / 2.0, (self.block.up - self.block.ink_down) / 2.0);
                        let centre = tip + dir * (reach - 4.2 + w * dir.x.abs() + h * dir.y.abs());
                        c.text(&self.block, Point::new(centre.x - w, centre.y - h), false);
                        if reach > 7.0 {
                            c.line(tip, tip + dir * (reach - 5.0), Kind::Leader);
                        }
                        all.push(c);
                        continue;
                    }
                    let elbow = tip + dir * reach;
                    c.line(tip, elbow, Kind::Leader);
                    c.arrow(tip, -dir);
                    let right = dir.x >= 0.0;
                    let sign = if self.sign == Sign::Surface { 5.2 } else { 0.0 };
                    let shelf = sign + self.block.width + 1.0;
                    let left = if right { elbow.x } else { elbow.x - shelf };
                    c.line(Point::new(left, elbow.y), Point::new(left + shelf, elbow.y), Kind::Leader);
                    if self.sign == Sign::Surface {
                        surface_sign(&mut c, Point::new(left + 0.6, elbow.y), self.block.up);
                    }
                    let at = Point::new(left + sign + 0.6, elbow.y + 0.7 + self.block.ink_down);
                    c.text(&self.block, at, false);
                    all.push(c);
                }
            }
        }
        all
    }
}

/// The two legs at 60° and the bar that says metal is removed, standing on a shelf.
fn surface_sign(c: &mut Candidate, at: Point, up: f64) {
    let h = up * 0.75;
    let foot = Point::new(at.x + 1.6, at.y);
    let short = Point::new(foot.x - h * 0.577, at.y + h);
    let long = Point::new(foot.x + h * 1.9 * 0.577, at.y + h * 1.9);
    let mut path = kurbo::BezPath::new();
    path.move_to(short);
    path.line_to(foot);
    path.line_to(long);
    path.move_to(short);
    path.line_to(Point::new(foot.x + h * 0.577, at.y + h));
    c.marks.push(crate::sketch::Mark {
        path,
        pen: Some(crate::sketch::Pen::Thin),
        fill: crate::sketch::Tone::None,
        hatch: false,
    });
    let sign = kurbo::Rect::new(short.x, at.y + 0.1, foot.x + h * 1.1, long.y);
    c.boxes.push(sign);
    c.inks.push(sign.inset(-0.1).with_origin(Point::new(sign.x0, sign.y0 + 0.4)));
}
