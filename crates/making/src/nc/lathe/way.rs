//! The outside of a part as one line from its free face towards the chuck, and the way of a nose along it.
//!
//! Points are (z, radius); the line falls in z and never in radius, metal lies to its left.

use super::outside::{Cutting, Form, Rung};
use kurbo::Point;
use shape::profile::{Profile, Segment, distance};
use shape::segment::{Sense, on_circle};

/// Two ends nearer than this are one.
const JOINED: f64 = 1e-7;

/// The line of all rungs, and beyond the last of them as far as is turned.
pub(super) fn outline(rungs: &[Rung], c: &Cutting) -> Vec<Segment> {
    let mut all: Vec<Segment> = Vec::new();
    let mut z = 0.0;
    for (i, r) in rungs.iter().enumerate() {
        let last = i + 1 == rungs.len();
        let bar = r.radius > c.bar - 1e-6;
        let end = z - r.length - if last { c.beyond } else { 0.0 };
        let at = |all: &mut Vec<Segment>, to: Point| {
            if let Some(from) = all.last().map(Segment::to)
                && distance(from, to) > JOINED
            {
                all.push(Segment::Line { from, to });
            }
        };
        let begin = r.begins(c);
        // The face before it: of the whole part, or a shoulder.
        match all.last() {
            Some(_) => at(&mut all, Point::new(z, begin)),
            None => {
                all.push(Segment::Line { from: Point::new(0.0, begin - 1.0), to: Point::new(0.0, begin) });
            }
        }
        match &r.form {
            Form::Straight if r.chamfer > 0.0 && !bar => at(&mut all, Point::new(z - r.chamfer, r.radius)),
            Form::Straight => {}
            Form::Cone { .. } => at(&mut all, Point::new(z - r.length, r.radius)),
            Form::Curved(pieces) => all.extend(pieces.iter().map(|s| moved(s, z, 0.0))),
        }
        at(&mut all, Point::new(end, r.radius));
        z -= r.length;
    }
    all
}
/// The same moved.
pub(super) fn moved(s: &Segment, z: f64, r: f64) -> Segment {
    let m = |p: Point| Point::new(p.x + z, p.y + r);
    match *s {
        Segment::Line { from, to } => Segment::Line { from: m(from), to: m(to) },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: m(from), to: m(to), centre: m(centre), radius, sense }
        }
    }
}
/// Whether a line falls in z and never in radius, so that a tool coming from the free end reaches all of it.
pub(super) fn rises(line: &[Segment]) -> bool {
    line.iter().all(|s| {
        let places: Vec<Point> = (0..=32).map(|i| s.at(f64::from(i) / 32.0)).collect();
        places.windows(2).all(|w| w[1].x <= w[0].x + 1e-6 && w[1].y >= w[0].y - 1e-6)
    })
}
/// Its outline as a profile.
fn profile(line: &[Segment]) -> Option<Profile> {
    let first = line.first()?.from();
    Some(line.iter().fold(Profile::start(first.x, first.y), |p, s| match *s {
        Segment::Line { to, .. } => p.line(to.x, to.y),
        Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
    }))
}
/// A piece moved to its right; nothing where a hollow arc is no larger than that.
fn beside(s: &Segment, by: f64) -> Option<Segment> {
    match *s {
        Segment::Line { from, to } => {
            let along = (to - from) / distance(from, to);
            let right = kurbo::Vec2::new(along.y, -along.x) * by;
            Some(Segment::Line { from: from + right, to: to + right })
        }
        Segment::Arc { from, to, centre, radius, sense } => {
            let new = if sense == Sense::Right { radius - by } else { radius + by };
            (new > 1e-6).then(|| {
                let out = |p: Point| centre + (p - centre) * (new / radius);
                Segment::Arc { from: out(from), to: out(to), centre, radius: new, sense }
            })
        }
    }
}
/// What lies square to the right of a piece where it begins or ends.
fn right(s: &Segment, begins: bool) -> kurbo::Vec2 {
    match *s {
        Segment::Line { from, to } => {
            let along = (to - from) / distance(from, to);
            kurbo::Vec2::new(along.y, -along.x)
        }
        Segment::Arc { from, to, centre, radius, sense } => {
            let out = ((if begins { from } else { to }) - centre) / radius;
            if sense == Sense::Left { out } else { -out }
        }
    }
}
fn between(s: &Segment, from: Point, to: Point) -> Segment {
    match *s {
        Segment::Line { .. } => Segment::Line { from, to },
        Segment::Arc { centre, radius, sense, .. } => Segment::Arc { from, to, centre, radius, sense },
    }
}
/// Where two lines meet that are drawn on.
fn meet(a: &Segment, b: &Segment) -> Option<Point> {
    let (Segment::Line { from: p, to }, Segment::Line { from: q, to: end }) = (a, b) else { return None };
    let (u, v) = (*to - *p, *end - *q);
    let cross = u.cross(v);
    (cross.abs() > 1e-9).then(|| *p + u * ((*q - *p).cross(v) / cross))
}
/// A piece of a way: beside a piece of the line, or round one of its corners.
#[derive(Copy, Clone)]
struct Piece {
    whole: Segment,
    round: bool,
}
/// The way of a circle's middle beside a line. Round a sharp corner of lines it goes square, so that the corner
/// stays sharp; pieces that the circle does not come to are passed over. Nothing where that makes no way.
pub(super) fn circle(line: &[Segment], by: f64) -> Option<Vec<Segment>> {
    let mut kept: Vec<Piece> = Vec::new();
    for (i, s) in line.iter().enumerate() {
        if let Some(before) = i.checked_sub(1).map(|i| line[i]) {
            let corner = s.from();
            let (out, into) = (right(&before, false), right(s, true));
            if out.cross(into) > JOINED {
                let (from, to) = (corner + out * by, corner + into * by);
                let round = Segment::Arc { from, to, centre: corner, radius: by, sense: Sense::Left };
                kept.push(Piece { whole: round, round: true });
            }
        }
        kept.extend(beside(s, by).map(|whole| Piece { whole, round: false }));
    }
    // Each time one piece that would be run backwards is passed over.
    let mut out = loop {
        match cut_back(&kept) {
            Ok(cut) => break square(&kept, cut),
            Err(at) if at > 0 && at < kept.len() => drop(kept.remove(at)),
            Err(_) => return None,
        }
    };
    out.retain(|s| s.length() > JOINED);
    // Nowhere nearer to the line than its own radius, or it has crossed itself.
    let outline = profile(line)?;
    let near = |s: &Segment| (0..=16).any(|i| outline.distance_to(s.at(f64::from(i) / 16.0)) < by - 1e-4);
    (rises(&out) && !out.iter().any(near)).then_some(out)
}
/// Pieces cut back to where they cross; otherwise one to be passed over.
fn cut_back(kept: &[Piece]) -> Result<Vec<Segment>, usize> {
    let mut all: Vec<Segment> = kept.iter().map(|p| p.whole).collect();
    for at in 0..all.len().saturating_sub(1) {
        let (this, next) = (all[at], all[at + 1]);
        let p = kept[at].whole.to();
        if distance(p, next.from()) < JOINED {
            continue;
        }
        let (a, b) = (&kept[at].whole, &kept[at + 1].whole);
        let meets = a.meets(b);
        let crossing = meets.iter().min_by(|a, b| distance(**a, p).total_cmp(&distance(**b, p))).copied();
        let Some(m) = crossing.or_else(|| meet(a, b)) else { return Err(at + 1) };
        all[at] = between(&this, this.from(), m);
        all[at + 1] = between(&next, m, next.to());
    }
    let backwards = all.iter().zip(kept).position(|(now, piece)| match (now, &piece.whole) {
        (Segment::Line { from, to }, Segment::Line { from: f, to: t }) => (*to - *from).dot(*t - *f) < -1e-12,
        (now, whole) => now.sweep().1.abs() > whole.sweep().1.abs() + 1e-6,
    });
    backwards.map_or(Ok(all), Err)
}
/// Goes square round corners between lines.
fn square(kept: &[Piece], mut all: Vec<Segment>) -> Vec<Segment> {
    for at in 1..all.len().saturating_sub(1) {
        let whole = distance(all[at].from(), kept[at].whole.from()) < JOINED
            && distance(all[at].to(), kept[at].whole.to()) < JOINED;
        let corner = meet(&all[at - 1], &all[at + 1]).filter(|_| kept[at].round && whole);
        if let Some(m) = corner {
            all[at - 1] = between(&all[at - 1], all[at - 1].from(), m);
            all[at + 1] = between(&all[at + 1], m, all[at + 1].to());
            all[at] = Segment::Line { from: m, to: m };
        }
    }
    all
}
/// The z at which a line that rises first stands so high.
pub(super) fn reaches(line: &[Segment], radius: f64) -> Option<f64> {
    let s = line.iter().find(|s| s.to().y >= radius - 1e-9)?;
    if s.from().y >= radius - 1e-9 {
        return Some(s.from().x);
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if s.at(middle).y < radius {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(s.at(low).x)
}
/// Points along a line, chords no farther off than this; arcs from inside where they are full, so that what is
/// drawn is never more than the line.
pub(super) fn sampled(line: &[Segment], within: f64) -> Vec<Point> {
    let mut points: Vec<Point> = line.first().map(Segment::from).into_iter().collect();
    for s in line {
        if let Segment::Arc { centre, radius, .. } = *s {
            let (from, turn) = s.sweep();
            let step = 2.0 * reckon::maths::acos((1.0 - within / radius).clamp(-1.0, 1.0)).max(1e-3);
            let n = (turn.abs() / step).ceil().clamp(1.0, 2000.0);
            let mut k = 1.0;
            while k < n {
                points.push(on_circle(centre, radius, from + turn * k / n));
                k += 1.0;
            }
        }
        points.push(s.to());
    }
    points
}
