//! A turned part seen along its axis, and the enlarged detail of a groove.

use crate::board::Board;
use crate::side::notch;
use crate::sketch::{Pen, Tone};
use kurbo::{Point, Rect, Vec2};
use reckon::maths::{PI, sqrt};
use shape::profile::{Profile, SAME, Sense, on_circle};
use shape::turned::{End, FaceGroove, Feature, Side, Turned};

/// Whether a part needs a view of an end, and of which: the end with most to show.
#[must_use]
pub fn end_for(part: &Turned) -> Option<End> {
    let weight = |end: End| -> u32 {
        part.features
            .iter()
            .map(|f| match f {
                Feature::Slot { end: e, .. } | Feature::Relief { end: e, .. } => u32::from(*e == end) * 2,
                Feature::FaceGroove(g) => u32::from(g.end == end) * 2,
                Feature::Flats { from, to, .. } => {
                    let near = (from.midpoint(*to) - part.face(end)).abs() < part.length() / 2.0;
                    1 + u32::from(near)
                }
                Feature::CrossHole { .. } => 1,
                Feature::Leaves { from, to, .. } => {
                    let near = (from.midpoint(*to) - part.face(end)).abs() < part.length() / 2.0;
                    1 + u32::from(near)
                }
                _ => 0,
            })
            .sum()
    };
    let (near, far) = (weight(End::Datum), weight(End::Far));
    match (near, far) {
        (0, 0) => None,
        _ if near >= far => Some(End::Datum),
        _ => Some(End::Far),
    }
}

/// Draws the view of one end, the axis at the origin.
pub(crate) fn draw(part: &Turned, end: End, scale: f64, limit: (f64, f64)) -> Board {
    let high = part.outer.bounds().y1 * scale;
    let mut board = Board::new(Rect::new(-high, -high, high, high), limit);
    let flats: Vec<(f64, f64, f64, u32)> = part
        .features
        .iter()
        .filter_map(|f| match *f {
            Feature::Flats { from, to, across, count } => Some((from, to, across / 2.0, count)),
            _ => None,
        })
        .collect();

    // Edges that stand out farther than all before them, seen from this end.
    let chain = if end == End::Datum { part.outer.clone() } else { part.outer.reversed() };
    let mut seen = 0.0f64;
    let mut tallest = Vec::new();
    for w in chain.segments().windows(2) {
        let p = w[0].to();
        let (u, t) = (w[0].at(1.0) - w[0].at(1.0 - 1e-6), w[1].at(1e-6) - w[1].at(0.0));
        let bent = u.cross(t).abs() > 1e-3 * u.hypot2().sqrt() * t.hypot2().sqrt();
        if bent && p.y > seen + SAME {
            seen = p.y;
            tallest.push(p);
        }
    }
    if part.outer.bounds().y1 > seen + SAME {
        tallest.push(Point::new(part.first().midpoint(part.last()), part.outer.bounds().y1));
    }
    let threads: Vec<_> = part
        .features
        .iter()
        .filter_map(|f| if let Feature::Thread(t) = f { Some(t) } else { None })
        .collect();
    let front = if end == End::Datum { 0.0 } else { PI };
    let blot = |p: &Point, q: &Point| p.y < q.y && (q.y - p.y) * scale < 0.7;
    for p in tallest.iter().filter(|p| !tallest.iter().any(|q| blot(p, q))) {
        // The chamfer of a thread is left out of its end view (ISO 6410-1).
        let chamfer = threads.iter().any(|t| {
            t.side == Side::Outside
                && p.x >= t.from - SAME
                && p.x <= t.to + SAME
                && p.y < t.major / 2.0 * 0.98
        });
        let flat = flats.iter().find(|f| {
            let slack = 1e-6;
            p.x >= f.0 - slack && p.x <= f.1 + slack && f.2 < p.y
        });
        let leaves = part.features.iter().find_map(|f| match f {
            Feature::Leaves { from, to, section, .. } if p.x >= from - 1e-6 && p.x <= to + 1e-6 => {
                Some(section)
            }
            _ => None,
        });
        if let Some(section) = leaves {
            let seen = |q: Point| Point::new(q.x * scale, q.y * scale);
            board.chain(&section.mapped(seen), Pen::Visible);
        } else if let Some(&(_, _, apothem, count)) = flat {
            board.chain(&Profile::flatted_from(p.y * scale, apothem * scale, count, front), Pen::Visible);
        } else if !chamfer {
            board.circle(Point::ORIGIN, p.y * scale, Pen::Visible);
        }
    }
    for t in &threads {
        let near = (t.from - part.face(end)).abs().min((t.to - part.face(end)).abs());
        match t.side {
            Side::Outside if near < t.pitch * 2.0 => three_quarters(&mut board, t.minor / 2.0 * scale),
            Side::Bore if near < t.pitch * 2.0 => three_quarters(&mut board, t.major / 2.0 * scale),
            _ => {}
        }
    }
    // The hollow, as far as each step is narrower than those before it.
    let mut hollow = part.hollow();
    if end == End::Far {
        hollow.reverse();
    }
    let face = part.face(end);
    let mut least = f64::INFINITY;
    let mut reached = face;
    for p in hollow {
        let (a, b) =
            if end == End::Datum { ((p.z0, p.r0), (p.z1, p.r1)) } else { ((p.z1, p.r1), (p.z0, p.r0)) };
        if (a.0 - reached).abs() > 1e-6 {
            break;
        }
        for r in [a.1, b.1] {
            if r < least - SAME && r > SAME {
                board.circle(Point::ORIGIN, r * scale, Pen::Visible);
                least = r;
            }
        }
        reached = b.0;
    }
    for f in &part.features {
        match *f {
            Feature::FaceGroove(g) if g.end == end => {
                for d in [g.diameter - g.width, g.diameter + g.width] {
                    board.circle(Point::ORIGIN, d / 2.0 * scale, Pen::Visible);
                }
            }
            Feature::Slot { end: e, width, depth } if e == end => {
                let r = part.radius_at(part.face(end) + Turned::inward(end) * depth) * scale;
                slot(&mut board, r, width / 2.0 * scale);
            }
            Feature::CrossHole { z, diameter } => {
                let (r, h) = (part.radius_at(z) * scale, diameter / 2.0 * scale);
                let x = sqrt((r * r - h * h).max(0.0));
                for s in [1.0, -1.0] {
                    board.stroke(Point::new(-x, s * h), Point::new(x, s * h), Pen::Hidden);
                }
            }
            _ => {}
        }
    }
    let reach = high + 3.0;
    board.stroke(Point::new(-reach, 0.0), Point::new(reach, 0.0), Pen::Centre);
    board.stroke(Point::new(0.0, -reach), Point::new(0.0, reach), Pen::Centre);
    board.bounds = board.body.inflate(3.0, 3.0);
    board
}

fn slot(board: &mut Board, r: f64, h: f64) {
    let x = sqrt((r * r - h * h).max(0.0));
    let strip = Profile::start(-x, -h)
        .line(x, -h)
        .arc_to(Point::new(x, h), Point::ORIGIN, Sense::Left)
        .line(-x, h)
        .arc_to(Point::new(-x, -h), Point::ORIGIN, Sense::Left);
    board.face(strip.to_path(0.01), Tone::White, false);
    board.chain(&strip, Pen::Visible);
}

/// A narrow circle of which a quarter is left open, as threads are shown end on.
fn three_quarters(board: &mut Board, r: f64) {
    let start = on_circle(Point::ORIGIN, r, PI / 2.0 + 0.12);
    let arc = Profile::start(start.x, start.y).arc_about(Point::ORIGIN, 1.5 * PI - 0.06);
    board.chain(&arc, Pen::Thread);
}

/// What an enlarged detail shows, and where its sizes take hold (paper millimetres on its own board).
pub(crate) struct Detail {
    pub board: Board,
    pub inner: Point,
    pub outer: Point,
    pub floor: Point,
}

/// Draws a groove's section enlarged, the middle of its mouth at the origin.
pub(crate) fn detail(g: &FaceGroove, scale: f64, limit: (f64, f64)) -> Detail {
    let inward = Turned::inward(g.end);
    let (w, d) = (g.width, g.depth);
    let (wide, deep) = (w * 1.1, (d * 2.2).max(w * 0.8));
    let line = Profile::start(0.0, -wide).line(0.0, -w / 2.0);
    let face = notch(line, g, 0.0, inward, -w / 2.0, w / 2.0).line(0.0, wide);
    let paper = |p: Point| Point::new(p.x * scale, p.y * scale);
    let seen = face.mapped(paper);
    let (x0, x1) = ((inward * deep).min(0.0) * scale, (inward * deep).max(0.0) * scale);
    let mut board = Board::new(Rect::new(x0, -wide * scale, x1, wide * scale), limit);
    // The break wanders a little, the same way every time.
    let mut edge = vec![Point::new(0.0, wide * scale)];
    let corner = [Vec2::new(inward * deep, wide), Vec2::new(inward * deep, -wide)];
    let mut walk = |a: Point, b: Point| {
        let across = Vec2::new(-(b - a).y, (b - a).x) / (b - a).hypot2().sqrt();
        for k in 1..=6u32 {
            let t = f64::from(k) / 6.0;
            let sway = if k == 6 { 0.0 } else { [0.5, -0.35, 0.45, -0.5, 0.3][(k - 1) as usize] };
            edge.push(a.lerp(b, t) + across * sway);
        }
    };
    let (c0, c1) = ((corner[0] * scale).to_point(), (corner[1] * scale).to_point());
    walk(Point::new(0.0, wide * scale), c0);
    walk(c0, c1);
    walk(c1, Point::new(0.0, -wide * scale));
    let mut broken = kurbo::BezPath::new();
    broken.move_to(edge[0]);
    for e in &edge[1..] {
        broken.line_to(*e);
    }
    let mut metal = seen.to_path(0.01);
    for e in &edge[1..] {
        metal.line_to(*e);
    }
    metal.close_path();
    board.face(metal, Tone::None, true);
    board.marks.push(crate::sketch::Mark {
        path: broken,
        pen: Some(Pen::Break),
        fill: Tone::None,
        hatch: false,
    });
    board.heed(&edge, crate::board::Kind::Edge);
    board.chain(&seen, Pen::Visible);
    Detail {
        board,
        inner: paper(Point::new(0.0, -w / 2.0)),
        outer: paper(Point::new(0.0, w / 2.0)),
        floor: paper(Point::new(inward * d, 0.0)),
    }
}
