//! A turned part seen from the side: outside, half section or full section.

use crate::board::{Board, clipped};
use crate::sketch::{Pen, Tone};
use kurbo::{BezPath, Point, Rect};
use reckon::maths::{PI, cos, sin, tan};
use shape::profile::{Profile, SAME, Segment, distance};
use shape::turned::{End, FaceGroove, Feature, Form, Side, Thread, Turned};

/// How much of the view is cut open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cut {
    /// Nothing.
    Outside,
    /// The half below the axis.
    Half,
    /// All of it.
    Full,
}

/// The cut that shows what a part has inside without hiding what it has outside.
#[must_use]
pub fn cut_for(part: &Turned) -> Cut {
    let inside = !part.bores.is_empty()
        || part.features.iter().any(|f| matches!(f, Feature::FaceGroove(_) | Feature::Relief { .. }));
    let outside = part.features.iter().any(|f| match f {
        Feature::Thread(t) => t.side == Side::Outside,
        Feature::Knurl { .. }
        | Feature::Flats { .. }
        | Feature::CrossHole { .. }
        | Feature::Slot { .. }
        | Feature::Leaves { .. } => true,
        _ => false,
    });
    match (inside, outside) {
        (false, _) => Cut::Outside,
        (true, true) => Cut::Half,
        (true, false) => Cut::Full,
    }
}

/// Half the height of the silhouette at z, flats taken into account.
#[must_use]
pub fn silhouette(part: &Turned, z: f64) -> f64 {
    let r = part.radius_at(z);
    part.features.iter().fold(r, |r, f| match *f {
        Feature::Flats { from, to, across, count } if z > from && z < to => {
            r.min(flats_height(r, across / 2.0, count))
        }
        _ => r,
    })
}

/// Greatest height of a disc with flats, one flat facing the viewer.
fn flats_height(r: f64, apothem: f64, count: u32) -> f64 {
    let n = f64::from(count.max(1));
    (0..=720)
        .map(|k| {
            let a = f64::from(k) * PI / 720.0;
            // The nearest flat's normal: normals lie at whole multiples of 2π/n from the viewer.
            let nearest = (a / (2.0 * PI / n)).round() * 2.0 * PI / n;
            let c = cos(a - nearest);
            let rho = if c > 1e-9 { r.min(apothem / c) } else { r };
            rho * sin(a)
        })
        .fold(0.0, f64::max)
}

/// The outer chain without the end faces.
fn flank(part: &Turned) -> Profile {
    let (first, last) = (part.first(), part.last());
    let upright = |s: &Segment, z: f64| {
        matches!(s, Segment::Line { .. }) && (s.from().x - z).abs() < SAME && (s.to().x - z).abs() < SAME
    };
    let all = part.outer.segments();
    let skip = all.iter().take_while(|s| upright(s, first)).count();
    let tail = all.iter().rev().take_while(|s| upright(s, last)).count();
    let kept = if skip + tail < all.len() { &all[skip..all.len() - tail] } else { &all[..0] };
    let begin = kept.first().map_or(part.outer.begin(), Segment::from);
    kept.iter().fold(Profile::start(begin.x, begin.y), |p, s| match *s {
        Segment::Line { to, .. } => p.line(to.x, to.y),
        Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
    })
}

/// The face at an end from the hollow outwards, grooves cut in.
fn face_line(part: &Turned, end: End, outer: f64) -> Profile {
    let (z, inward) = (part.face(end), Turned::inward(end));
    let mut grooves: Vec<&FaceGroove> = part
        .features
        .iter()
        .filter_map(|f| match f {
            Feature::FaceGroove(g) if g.end == end => Some(g),
            _ => None,
        })
        .collect();
    grooves.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
    let mut line = Profile::start(z, part.hollow_at(z));
    for g in grooves {
        let (r0, r1) = ((g.diameter - g.width) / 2.0, g.diameter.midpoint(g.width));
        line = notch(line.line(z, r0), g, z, inward, r0, r1);
    }
    line.line(z, outer)
}

/// A groove's section added to a chain that stands at its inner edge.
pub(crate) fn notch(line: Profile, g: &FaceGroove, z: f64, inward: f64, r0: f64, r1: f64) -> Profile {
    let deep = z + inward * g.depth;
    let middle = r0.midpoint(r1);
    match g.form {
        Form::Square => line.line(deep, r0).line(deep, r1).line(z, r1),
        Form::Vee => line.line(deep, middle).line(z, r1),
        Form::Round => {
            let r = g.round_radius();
            let straight = (g.depth - r).max(0.0);
            let centre = Point::new(deep - inward * r, middle);
            let edge = z + inward * straight;
            // Going outwards with the metal behind: clockwise on a datum face's far side, else the other way.
            let sense = if inward > 0.0 { shape::profile::Sense::Left } else { shape::profile::Sense::Right };
            line.line(edge, r0).arc_to(Point::new(edge, r1), centre, sense).line(z, r1)
        }
    }
}

fn joined(mut a: Profile, b: &Profile) -> Profile {
    let start = b.begin();
    a = a.line(start.x, start.y);
    b.segments().iter().fold(a, |p, s| match *s {
        Segment::Line { to, .. } => p.line(to.x, to.y),
        Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
    })
}

struct Side1<'a> {
    part: &'a Turned,
    scale: f64,
}

impl Side1<'_> {
    fn p(&self, z: f64, r: f64) -> Point {
        Point::new(z * self.scale, r * self.scale)
    }
    /// The chain on paper, above the axis or mirrored below.
    fn on_paper(&self, chain: &Profile, up: bool) -> Profile {
        let s = if up { 1.0 } else { -1.0 };
        chain.mapped(|p| self.p(p.x, s * p.y))
    }
    /// z range within [from, to] where the outside is at least `r`.
    fn where_over(&self, from: f64, to: f64, r: f64) -> (f64, f64) {
        let over = |z: f64| self.part.radius_at(z) >= r - 1e-9;
        let find = |bad: f64, good: f64| {
            let (mut bad, mut good) = (bad, good);
            for _ in 0..48 {
                let m = bad.midpoint(good);
                if over(m) { good = m } else { bad = m }
            }
            good
        };
        let middle = from.midpoint(to);
        if !over(middle) {
            return (from, to);
        }
        let a = if over(from) { from } else { find(from, middle) };
        let b = if over(to) { to } else { find(to, middle) };
        (a, b)
    }
}

/// Draws the side view, datum face at x = 0 and the axis on y = 0, `scale` times enlarged.
pub(crate) fn draw(part: &Turned, scale: f64, cut: Cut, limit: (f64, f64)) -> Board {
    let v = Side1 { part, scale };
    let high = part.outer.bounds().y1;
    let (first, last) = (part.first(), part.last());
    let tallest = high * scale;
    let mut board = Board::new(Rect::new(first * scale, -tallest, last * scale, tallest), limit);
    let side = flank(part);
    let near = face_line(part, End::Datum, side.begin().y);
    let far = face_line(part, End::Far, side.end().y).reversed();

    for up in [true, false] {
        let open = cut == Cut::Full || (cut == Cut::Half && !up);
        if open {
            section(&mut board, &v, &near, &side, &far, up);
        } else {
            let plain = Profile::start(first, 0.0).line(first, side.begin().y);
            let plain = joined(plain, &side).line(last, 0.0);
            board.chain(&v.on_paper(&plain, up), Pen::Visible);
            corners(&mut board, &v, &side, up);
        }
    }
    for f in &part.features {
        match f {
            Feature::Thread(t) => thread(&mut board, &v, t, cut),
            Feature::Knurl { from, to, .. } => knurl(&mut board, &v, *from, *to, cut),
            Feature::Slot { end, width, depth } => slot(&mut board, &v, *end, *width, *depth),
            Feature::Flats { from, to, across, count } => {
                flats(&mut board, &v, (*from, *to), across / 2.0, *count, cut);
            }
            Feature::CrossHole { z, diameter } => cross_hole(&mut board, &v, *z, *diameter),
            Feature::Leaves { from, to, root, .. } => {
                // Roots are a thin line, as teeth are shown from the side (ISO 2203).
                for s in [1.0, -1.0] {
                    board.stroke(v.p(*from, s * root), v.p(*to, s * root), Pen::Thin);
                }
            }
            Feature::FaceGroove(_) | Feature::Relief { .. } => {}
        }
    }
    board.stroke(Point::new(first * scale - 3.5, 0.0), Point::new(last * scale + 3.5, 0.0), Pen::Centre);
    board.bounds = board.body.inflate(3.5, 0.0);
    board
}

/// Lines square to the axis where the outside has a corner.
fn corners(board: &mut Board, v: &Side1<'_>, side: &Profile, up: bool) {
    let s = if up { 1.0 } else { -1.0 };
    let (first, last) = (v.part.first(), v.part.last());
    let all = side.segments();
    for w in all.windows(2) {
        let p = w[0].to();
        if (p.x - first).abs() < SAME || (p.x - last).abs() < SAME || tangent(&w[0], &w[1]) {
            continue;
        }
        // At a shoulder the taller corner draws the line.
        let (_, r) = v.part.radii_at(p.x).unwrap_or((p.y, p.y));
        if r > p.y + SAME {
            continue;
        }
        // Two wide lines closer than this would run into one blot.
        let near = |z: f64| (z - p.x).abs() * v.scale < 0.7;
        if near(first) || near(last) {
            continue;
        }
        board.stroke(v.p(p.x, 0.0), v.p(p.x, s * p.y), Pen::Visible);
    }
}

fn tangent(a: &Segment, b: &Segment) -> bool {
    let heading = |s: &Segment, t: f64| {
        let d = s.at((t + 1e-6).min(1.0)) - s.at((t - 1e-6).max(0.0));
        d / distance(Point::ORIGIN, d.to_point()).max(1e-300)
    };
    heading(a, 1.0).cross(heading(b, 0.0)).abs() < 1e-3
}

/// One cut half: hatched metal and the edges round it and behind it.
fn section(board: &mut Board, v: &Side1<'_>, near: &Profile, side: &Profile, far: &Profile, up: bool) {
    let s = if up { 1.0 } else { -1.0 };
    let seen = joined(joined(near.clone(), side), far);
    let mut hollow = Profile::start(far.end().x, far.end().y);
    let pieces = v.part.hollow();
    for p in pieces.iter().rev() {
        if p.z1 < hollow.end().x - SAME {
            let z = hollow.end().x;
            hollow = hollow.line(z, 0.0).line(p.z1, 0.0);
        }
        hollow = hollow.line(p.z1, p.r1).line(p.z0, p.r0);
    }
    if hollow.end().x > near.begin().x + SAME {
        let z = hollow.end().x;
        hollow = hollow.line(z, 0.0).line(near.begin().x, 0.0);
    }
    let metal = joined(seen.clone(), &hollow).close();
    board.face(v.on_paper(&metal, up).to_path(0.01), Tone::None, true);
    board.chain(&v.on_paper(&seen, up), Pen::Visible);
    for h in hollow.segments() {
        if h.from().y > SAME || h.to().y > SAME {
            let one = Profile::start(h.from().x, h.from().y).line(h.to().x, h.to().y);
            board.chain(&v.on_paper(&one, up), Pen::Visible);
        }
    }
    // Edges of the hollow seen behind the cut.
    let mut ends: Vec<(f64, f64)> = Vec::new();
    for p in &pieces {
        ends.extend([(p.z0, p.r0), (p.z1, p.r1)]);
    }
    for (z, r) in ends {
        if r > SAME {
            board.stroke(v.p(z, 0.0), v.p(z, s * r), Pen::Visible);
        }
    }
}

/// Thread lines of ISO 6410-1: crest wide, root narrow, end of full thread wide.
fn thread(board: &mut Board, v: &Side1<'_>, t: &Thread, cut: Cut) {
    let (first, last) = (v.part.first(), v.part.last());
    for up in [true, false] {
        let open = cut == Cut::Full || (cut == Cut::Half && !up);
        let s = if up { 1.0 } else { -1.0 };
        match t.side {
            Side::Outside => {
                let minor = t.minor / 2.0;
                let (a, b) = v.where_over(t.from, t.to, minor);
                board.stroke(v.p(a, s * minor), v.p(b, s * minor), Pen::Thread);
                for (z, dir) in [(t.from, -1.0), (t.to, 1.0)] {
                    let r = v.part.radii_at(z).map_or(0.0, |(r, _)| r);
                    let inner = z > first + SAME && z < last - SAME;
                    if !inner || open {
                        continue;
                    }
                    let beyond = v.part.radius_at(z + dir * 1e-6);
                    if (beyond - r).abs() < 1e-3 * r {
                        board.stroke(v.p(z, 0.0), v.p(z, s * r.min(t.major / 2.0)), Pen::Visible);
                        let tail = z + dir * t.run_out;
                        let plain = (v.part.radius_at(tail - dir * 1e-6) - r).abs() < 1e-3 * r;
                        if t.run_out > SAME && plain {
                            board.stroke(v.p(z, s * minor), v.p(tail, s * t.major / 2.0), Pen::Thread);
                        }
                    }
                }
            }
            Side::Bore => {
                // A half section leaves out what is hidden in its outer half (ISO 128-3).
                if cut == Cut::Half && !open {
                    continue;
                }
                let pen = if open { Pen::Thread } else { Pen::Hidden };
                let major = t.major / 2.0;
                board.stroke(v.p(t.from, s * major), v.p(t.to, s * major), pen);
                for z in [t.from, t.to] {
                    if open && z > first + SAME && z < last - SAME {
                        board.stroke(v.p(z, 0.0), v.p(z, s * major), Pen::Visible);
                    }
                }
            }
        }
    }
}

fn knurl(board: &mut Board, v: &Side1<'_>, from: f64, to: f64, cut: Cut) {
    let r = v.part.radius_at(from.midpoint(to));
    let low = if cut == Cut::Half { 0.0 } else { -r };
    if cut == Cut::Full {
        return;
    }
    let (a, b) = (v.p(from, low), v.p(to, r));
    let area = Rect::from_points(a, b);
    let step = 1.6f64.min(area.height().min(area.width()) / 3.0);
    let slope = tan(PI / 3.0);
    let mut path = BezPath::new();
    for sign in [1.0, -1.0] {
        let reach = area.height() / slope;
        let mut x = area.x0 - reach;
        while x < area.x1 + reach {
            let (y0, y1) = if sign > 0.0 { (area.y0, area.y1) } else { (area.y1, area.y0) };
            if let Some((p, q)) = clipped(Point::new(x, y0), Point::new(x + reach, y1), area) {
                path.move_to(p);
                path.line_to(q);
            }
            x += step;
        }
    }
    board.marks.push(crate::sketch::Mark { path, pen: Some(Pen::Thin), fill: Tone::None, hatch: false });
}

fn slot(board: &mut Board, v: &Side1<'_>, end: End, width: f64, depth: f64) {
    let (face, inward) = (v.part.face(end), Turned::inward(end));
    let h = width / 2.0;
    let deep = face + inward * depth;
    let (a, b) = v.where_over(face.min(deep), face.max(deep), h);
    let mouth = if inward > 0.0 { a } else { b };
    let out = face - inward * 0.6 / v.scale;
    board.erase(Rect::from_points(v.p(out, -h), v.p(deep, h)));
    for s in [1.0, -1.0] {
        board.stroke(v.p(mouth, s * h), v.p(deep, s * h), Pen::Visible);
    }
    board.stroke(v.p(deep, -h), v.p(deep, h), Pen::Visible);
}

fn flats(board: &mut Board, v: &Side1<'_>, (from, to): (f64, f64), apothem: f64, count: u32, cut: Cut) {
    let middle = from.midpoint(to);
    let r = v.part.radius_at(middle);
    let high = flats_height(r, apothem, count);
    let low = if cut == Cut::Half { 0.0 } else { -high };
    if high < r - 1e-6 {
        for s in [1.0, -1.0] {
            if s < 0.0 && cut == Cut::Half {
                continue;
            }
            // At an end face the corner of the round is wiped with its line.
            let over = 0.6 / v.scale;
            let at_end = |z: f64| (z - v.part.first()).abs() < SAME || (z - v.part.last()).abs() < SAME;
            let wide = |z: f64, out: f64| if at_end(z) { z + out * over } else { z };
            let (a, b) = (wide(from, -1.0), wide(to, 1.0));
            board.erase(Rect::from_points(v.p(a, s * high), v.p(b, s * (r + over))));
            board.stroke(v.p(from, s * high), v.p(to, s * high), Pen::Visible);
            for z in [from, to] {
                let top = if at_end(z) { 0.0 } else { v.part.radius_at(z) };
                board.stroke(v.p(z, s * high), v.p(z, s * top), Pen::Visible);
            }
        }
    }
    let chord = (r * r - apothem * apothem).max(0.0).sqrt();
    let half = if count <= 2 { chord } else { chord.min(apothem * tan(PI / f64::from(count))) };
    for s in [1.0, -1.0] {
        if s * half >= low && half < high - 1e-6 {
            board.stroke(v.p(from, s * half), v.p(to, s * half), Pen::Visible);
        }
    }
    for z in [from, to] {
        board.stroke(v.p(z, low.max(-half)), v.p(z, half), Pen::Visible);
    }
    // Thin diagonals say that a face is flat where the outline alone does not.
    if count <= 4 && cut != Cut::Half {
        for s in [1.0, -1.0] {
            let mut path = BezPath::new();
            path.move_to(v.p(from, s * half));
            path.line_to(v.p(to, -s * half));
            board.marks.push(crate::sketch::Mark {
                path,
                pen: Some(Pen::Thin),
                fill: Tone::None,
                hatch: false,
            });
        }
    }
}

fn cross_hole(board: &mut Board, v: &Side1<'_>, z: f64, diameter: f64) {
    let (c, r) = (v.p(z, 0.0), diameter / 2.0 * v.scale);
    board.marks.push(crate::sketch::Mark {
        path: Profile::circle(c, r).to_path(0.01),
        pen: None,
        fill: Tone::White,
        hatch: false,
    });
    board.circle(c, r, Pen::Visible);
    board.stroke(Point::new(c.x, -r - 2.0), Point::new(c.x, r + 2.0), Pen::Centre);
}
