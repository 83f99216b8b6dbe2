//! Slots and flats: planes along the axis, which cut cylinders in straight lines and ends in chords.

use kurbo::{Point, Vec2};
use reckon::maths::{PI, acos, asin, cos, sin, tan};
use shape::profile::{SAME, Segment, Sense, on_circle};
use shape::turned::{End, Feature, Turned};

use crate::body::LeftOut;
use crate::tube::{Meridian, Ring, Tube};
use crate::turned::{Walls, round};

/// What comes of it.
pub(crate) struct Cuts {
    pub tubes: Vec<Tube>,
    /// Angles at which every circle is divided.
    pub angles: Vec<f64>,
    pub refused: Vec<LeftOut>,
}

#[derive(Clone, Copy)]
enum Shape {
    /// Half its width.
    Slot(f64),
    /// Distance from the axis, number.
    Flats(f64, u32),
}

#[derive(Clone, Copy)]
struct Job {
    from: f64,
    to: f64,
    shape: Shape,
}

/// Radius where a wall is a cylinder.
fn cylinder(t: &Tube) -> Option<f64> {
    match t.ring {
        Ring::Round { bottom, top, meridian: Meridian::Line, .. } if (bottom - top).abs() < SAME => {
            Some(bottom)
        }
        _ => None,
    }
}

/// Centre and radius where a wall is part of a sphere about the axis.
fn sphere(t: &Tube) -> Option<(f64, f64)> {
    match t.ring {
        Ring::Round { meridian: Meridian::Arc { z, r, radius, sense: Sense::Right }, .. }
            if r.abs() < SAME =>
        {
            Some((z, radius))
        }
        _ => None,
    }
}

/// Radius of a cylinder or sphere at a height.
fn radius_at(t: &Tube, z: f64) -> Option<f64> {
    cylinder(t).or_else(|| sphere(t).map(|(c, r)| (r * r - (z - c) * (z - c)).max(0.0).sqrt()))
}

fn over(t: &Tube, from: f64, to: f64) -> bool {
    t.z0 < to - SAME && t.z1 > from + SAME
}

/// Radius of the outside just beyond a height; 0 beyond the ends.
fn beyond(walls: &[Tube], z: f64, above: bool) -> f64 {
    walls
        .iter()
        .filter_map(|t| {
            let Ring::Round { bottom, top, .. } = t.ring else { return None };
            if above && (t.z0 - z).abs() <= SAME {
                Some(bottom)
            } else if !above && (t.z1 - z).abs() <= SAME {
                Some(top)
            } else if t.z0 < z - SAME && t.z1 > z + SAME {
                radius_at(t, z).or(Some(f64::NAN))
            } else {
                None
            }
        })
        .fold(0.0, |a: f64, b| if b.is_nan() { b } else { a.max(b) })
}

/// Why a job cannot be done exactly; none when it can.
fn obstacle(job: &Job, walls: &Walls, done: &[Job]) -> Option<&'static str> {
    let (from, to) = (job.from, job.to);
    let outside = || walls.outside.iter().filter(|t| over(t, from, to));
    let slot = match job.shape {
        Shape::Slot(h) => Some(h),
        Shape::Flats(..) => None,
    };
    // A slot may cut a dome that closes within its width.
    let at_start = beyond(&walls.outside, from, false) == 0.0;
    let dome = |t: &Tube| {
        let tip = if at_start { t.z0.max(from) } else { t.z1.min(to) };
        let rim = if at_start { t.z1.min(to) } else { t.z0.max(from) };
        sphere(t).is_some()
            && slot.is_some_and(|h| {
                radius_at(t, tip).is_some_and(|r| r <= h + SAME)
                    && radius_at(t, rim).is_some_and(|r| r > h + SAME)
            })
            && !walls.hollow.iter().any(|w| w.z0 < t.z1 + SAME && w.z1 > t.z0 - SAME)
    };
    if outside().any(|t| cylinder(t).is_none() && !dome(t)) {
        return Some("it cuts a cone or a rounding, where its edge is neither line nor circle");
    }
    if done.iter().any(|d| d.from <= to + SAME && d.to >= from - SAME) {
        return Some("it meets another slot or flat");
    }
    let largest = outside()
        .flat_map(|t| [radius_at(t, t.z0.max(from)), radius_at(t, t.z1.min(to))])
        .flatten()
        .fold(0.0, f64::max);
    match job.shape {
        Shape::Slot(_) => {
            if walls.hollow.iter().any(|t| over(t, from, to) && cylinder(t).is_none()) {
                return Some("it cuts a conical bore, where its edge is neither line nor circle");
            }
            if walls.grooves.iter().any(|t| t.z0 < to + SAME && t.z1 > from - SAME) {
                return Some("it crosses a groove");
            }
            // The floor must reach as far as what stands on it.
            let (at, above) =
                if beyond(&walls.outside, from, false) == 0.0 { (to, true) } else { (from, false) };
            let floor = beyond(&walls.outside, at, above);
            (floor.is_nan() || floor < largest - SAME).then_some("its floor meets a smaller step")
        }
        Shape::Flats(a, n) => {
            let widest = |tubes: &[Tube]| {
                tubes
                    .iter()
                    .filter(|t| t.z0 < to + SAME && t.z1 > from - SAME)
                    .filter_map(|t| match t.ring {
                        Ring::Round { bottom, top, .. } => Some(bottom.max(top)),
                        _ => None,
                    })
                    .fold(0.0, f64::max)
            };
            if widest(&walls.hollow).max(widest(&walls.grooves)) > a - 1e-6 {
                return Some("it runs into a bore or groove");
            }
            let corner = if n > 2 { a / cos(PI / f64::from(n)) } else { f64::INFINITY };
            let clear = |rho: f64| rho <= a + SAME || rho >= largest.min(corner) - SAME;
            let ends = [beyond(&walls.outside, from, false), beyond(&walls.outside, to, true)];
            (!ends.into_iter().all(clear)).then_some("its end crosses the edge of the next step")
        }
    }
}

/// Cuts what can be cut exactly.
pub(crate) fn cut(part: &Turned, walls: Walls) -> Cuts {
    let mut refused = Vec::new();
    let mut jobs: Vec<Job> = Vec::new();
    for (feature, f) in part.features.iter().enumerate() {
        let (job, word) = match *f {
            Feature::Slot { end, width, depth } => {
                let (first, last) = (part.first(), part.last());
                let (from, to) = match end {
                    End::Datum => (first, (first + depth).min(last)),
                    End::Far => ((last - depth).max(first), last),
                };
                (Job { from, to, shape: Shape::Slot(width / 2.0) }, "slot")
            }
            Feature::Flats { from, to, across, count } if count > 0 => {
                (Job { from, to, shape: Shape::Flats(across / 2.0, count) }, "flats")
            }
            _ => continue,
        };
        match obstacle(&job, &walls, &jobs) {
            None => jobs.push(job),
            Some(why) => {
                refused.push(LeftOut { feature, why: format!("the {word} of feature {feature}: {why}") });
            }
        }
    }
    let Walls { mut outside, mut hollow, grooves } = walls;
    let mut made = Vec::new();
    let mut angles: Vec<f64> = Vec::new();
    for job in &jobs {
        let radii: Vec<f64> = outside
            .iter()
            .chain(&hollow)
            .filter(|t| t.z0 < job.to + SAME && t.z1 > job.from - SAME)
            .filter_map(|t| match t.ring {
                Ring::Round { bottom, top, .. } => Some([bottom, top]),
                _ => None,
            })
            .flatten()
            .collect();
        let ends = outside.iter().filter(|t| sphere(t).is_some() && over(t, job.from, job.to));
        let rims: Vec<f64> = ends
            .flat_map(|t| [job.from, job.to].map(|z| (t, z)))
            .filter(|(t, z)| t.z0 < z + SAME && t.z1 > z - SAME)
            .filter_map(|(t, z)| radius_at(t, z))
            .collect();
        let radii = [radii, rims].concat();
        for &rho in &radii {
            angles.extend(divisions(&job.shape, rho));
        }
        let levels = levels(&outside, &hollow, job);
        let within = |tubes: &[Tube], z: f64| {
            tubes.iter().filter(|t| t.z0 < z && z < t.z1).find_map(cylinder).unwrap_or(0.0)
        };
        for w in levels.windows(2) {
            let middle = w[0].midpoint(w[1]);
            let (outer, inner) = (within(&outside, middle), within(&hollow, middle));
            let round_one = outside.iter().filter(|t| t.z0 < middle && middle < t.z1).find_map(sphere);
            if let (Some((z, radius)), Shape::Slot(h)) = (round_one, job.shape) {
                let (low, high) = (w[0] - z, w[1] - z);
                let rises = low.abs() < high.abs();
                let at = if rises { low } else { high };
                let rim = (radius * radius - at * at).sqrt();
                made.extend(lobes(rim, 0.0, h, &radii).into_iter().map(|plan| {
                    let (rim, chord) = plan.into_iter().partition(|s| matches!(s, Segment::Arc { .. }));
                    Tube { z0: w[0], z1: w[1], ring: Ring::Dome { rim, chord, z, radius, rises } }
                }));
                continue;
            }
            let rings = match job.shape {
                Shape::Slot(h) => lobes(outer, inner, h, &radii),
                Shape::Flats(a, n) if a < outer - SAME => vec![flatted(outer, a, n, &radii)],
                Shape::Flats(..) => {
                    made.push(round((w[0], w[1]), (outer, outer), Meridian::Line, true));
                    Vec::new()
                }
            };
            made.extend(rings.into_iter().map(|r| Tube { z0: w[0], z1: w[1], ring: Ring::Plan(r) }));
        }
        outside = spared(outside, job);
        if matches!(job.shape, Shape::Slot(_)) {
            hollow = spared(hollow, job);
        }
    }
    for a in &mut angles {
        *a -= (*a / (2.0 * PI)).floor() * 2.0 * PI;
    }
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    if angles.len() > 1 && angles[angles.len() - 1] - angles[0] > 2.0 * PI - 1e-9 {
        angles.pop();
    }
    if angles.len() == 1 {
        angles.push(angles[0] + PI);
        angles.sort_by(f64::total_cmp);
    }
    let mut tubes = outside;
    tubes.extend(hollow);
    tubes.extend(grooves);
    tubes.extend(made);
    Cuts { tubes, angles, refused }
}

/// Where a circle of this radius is met by the planes.
fn divisions(shape: &Shape, rho: f64) -> Vec<f64> {
    match *shape {
        Shape::Slot(h) if rho > h + SAME => {
            let a = asin(h / rho);
            vec![a, PI - a, PI + a, 2.0 * PI - a]
        }
        Shape::Flats(a, n) if rho > a + SAME && (n < 3 || a > rho * cos(PI / f64::from(n)) + SAME) => {
            let half = acos(a / rho);
            (0..n).flat_map(|k| [-half, half].map(|h| 2.0 * PI * f64::from(k) / f64::from(n) + h)).collect()
        }
        _ => Vec::new(),
    }
}

/// Heights at which outside or hollow change within a job, its ends included.
fn levels(outside: &[Tube], hollow: &[Tube], job: &Job) -> Vec<f64> {
    let mut all: Vec<f64> = outside.iter().chain(hollow).flat_map(|t| [t.z0, t.z1]).collect();
    all.retain(|z| *z > job.from + SAME && *z < job.to - SAME);
    all.extend([job.from, job.to]);
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() <= SAME);
    all
}

/// Walls with the height of a job taken out of them; those it meets are cylinders or domes.
fn spared(tubes: Vec<Tube>, job: &Job) -> Vec<Tube> {
    let mut out = Vec::new();
    for t in tubes {
        if !over(&t, job.from, job.to) {
            out.push(t);
            continue;
        }
        for (z0, z1) in [(t.z0, t.z1.min(job.from)), (t.z0.max(job.to), t.z1)] {
            if z1 - z0 > SAME {
                let mut ring = t.ring.clone();
                if let Ring::Round { bottom, top, .. } = &mut ring {
                    // What is left of a sphere has other ends.
                    if z0 > t.z0 {
                        *bottom = radius_at(&t, z0).unwrap_or(*bottom);
                    }
                    if z1 < t.z1 {
                        *top = radius_at(&t, z1).unwrap_or(*top);
                    }
                }
                out.push(Tube { z0, z1, ring });
            }
        }
    }
    out
}

/// Adds a straight line from the last point, divided where circles of other steps meet it.
fn straight(out: &mut Vec<Segment>, from: Point, to: Point, foot: Point, offsets: &[f64]) {
    let d = (to - from) / (to - from).hypot();
    let mut at: Vec<f64> = offsets.iter().flat_map(|x| [-x, *x]).map(|x| (foot - from).dot(d) + x).collect();
    let length = (to - from).hypot();
    at.retain(|t| *t > 1e-6 && *t < length - 1e-6);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-7);
    let mut last = from;
    for t in at {
        let next = from + d * t;
        out.push(Segment::Line { from: last, to: next });
        last = next;
    }
    out.push(Segment::Line { from: last, to });
}

fn arc(from: Point, to: Point, radius: f64, sense: Sense) -> Segment {
    Segment::Arc { from, to, centre: Point::ORIGIN, radius, sense }
}

/// What a slot along x leaves of a disc or ring: two pieces.
fn lobes(outer: f64, inner: f64, h: f64, radii: &[f64]) -> Vec<Vec<Segment>> {
    if outer <= h + SAME {
        return Vec::new();
    }
    let offsets: Vec<f64> = radii.iter().filter(|r| **r > h + SAME).map(|r| (r * r - h * h).sqrt()).collect();
    let x = (outer * outer - h * h).sqrt();
    let (right, left) = (Point::new(x, h), Point::new(-x, h));
    let foot = Point::new(0.0, h);
    let mut upper = vec![arc(right, left, outer, Sense::Left)];
    if inner > h + SAME {
        let xi = (inner * inner - h * h).sqrt();
        let (ir, il) = (Point::new(xi, h), Point::new(-xi, h));
        straight(&mut upper, left, il, foot, &offsets);
        upper.push(arc(il, ir, inner, Sense::Right));
        straight(&mut upper, ir, right, foot, &offsets);
    } else {
        straight(&mut upper, left, right, foot, &offsets);
    }
    let turned = |p: Point| Point::new(-p.x, -p.y);
    let lower = upper
        .iter()
        .map(|s| match *s {
            Segment::Line { from, to } => Segment::Line { from: turned(from), to: turned(to) },
            Segment::Arc { from, to, radius, sense, .. } => arc(turned(from), turned(to), radius, sense),
        })
        .collect();
    vec![upper, lower]
}

/// A disc with flats.
fn flatted(radius: f64, a: f64, n: u32, radii: &[f64]) -> Vec<Segment> {
    let full = n > 2 && a <= radius * cos(PI / f64::from(n)) + SAME;
    let half = if full { a * tan(PI / f64::from(n)) } else { (radius * radius - a * a).sqrt() };
    let offsets: Vec<f64> = radii.iter().filter(|r| **r > a + SAME).map(|r| (r * r - a * a).sqrt()).collect();
    let place = |k: u32, side: f64| {
        let b = 2.0 * PI * f64::from(k % n) / f64::from(n);
        let (c, s) = (cos(b), sin(b));
        on_circle(Point::ORIGIN, a, b) + Vec2::new(-s, c) * (side * half)
    };
    let mut out = Vec::new();
    for k in 0..n {
        let b = 2.0 * PI * f64::from(k) / f64::from(n);
        let foot = on_circle(Point::ORIGIN, a, b);
        // Corners of a full polygon are shared, to the last bit.
        let begin = if full && k > 0 { place(k - 1, 1.0) } else { place(k, -1.0) };
        let end = if full && k + 1 == n { place(0, -1.0) } else { place(k, 1.0) };
        straight(&mut out, begin, end, foot, &offsets);
        if !full {
            out.push(arc(end, place((k + 1) % n, -1.0), radius, Sense::Left));
        }
    }
    out
}
