//! The space between two teeth of an outline, as the cutter that makes it: its section with sizes.
//!
//! Plain millimetres: the cutter's axis along +y, its end on the x axis. It is taken from the part's own
//! outline, so that any form of tooth has its cutter.

use kurbo::{Point, Vec2};
use reckon::maths::{PI, atan2, cos, hypot, sin};
use shape::profile::{Profile, Segment};

/// How the end of a cutter is.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum End {
    /// Straight across, so wide.
    Flat(f64),
    /// Its corners, or all of it, rounded to a radius.
    Round(f64),
}
/// A cutter's section.
#[derive(Clone, PartialEq, Debug)]
pub struct Section {
    /// Closed outline.
    pub profile: Profile,
    /// From its end to the tips of the teeth.
    pub depth: f64,
    /// Its end.
    pub end: End,
    /// Height of the pitch line over the end, and the width there.
    pub pitch: Option<(f64, f64)>,
    /// Width at the tips of the teeth: the least width of the tool.
    pub mouth: f64,
    /// Radius of its hollow cheeks, where each is one arc.
    pub cheek: Option<f64>,
    /// Which way its space lies from the middle of the outline, radians from the x axis.
    pub middle: f64,
}

fn radius(p: Point) -> f64 {
    hypot(p.x, p.y)
}
/// Moves a segment by a motion without mirror.
fn moved(s: &Segment, f: impl Fn(Point) -> Point) -> Segment {
    match *s {
        Segment::Line { from, to } => Segment::Line { from: f(from), to: f(to) },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: f(from), to: f(to), centre: f(centre), radius, sense }
        }
    }
}
/// Where a segment passes a radius about the origin, if its ends lie on both sides of it.
fn passes(s: &Segment, r: f64) -> Option<Point> {
    let outside = |p: Point| radius(p) > r + 1e-9;
    if outside(s.from()) == outside(s.to()) {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if outside(s.at(middle)) == outside(s.from()) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(s.at(high))
}
/// The cutter for the spaces of a ring of teeth about the origin; nothing where it shows no space.
#[must_use]
pub fn section(outline: &Profile, pitch_radius: Option<f64>) -> Option<Section> {
    let all = outline.segments();
    let tip = all.iter().map(|s| radius(s.from())).fold(0.0, f64::max);
    let near = tip * (1.0 - 1e-6);
    let at_tip = |p: Point| radius(p) >= near;
    let first = all.iter().position(|s| at_tip(s.from()) && !at_tip(s.to()))?;
    let mut space: Vec<Segment> = Vec::new();
    for s in all.iter().cycle().skip(first).take(all.len()) {
        // The bottom of a space is a stretch of the root circle; a cutter has it straight.
        let flat = matches!(s, Segment::Arc { centre, .. } if radius(*centre) < 1e-6);
        space.push(if flat { Segment::Line { from: s.from(), to: s.to() } } else { *s });
        if at_tip(s.to()) {
            break;
        }
    }
    let (a, b) = (space.first()?.from(), space.last()?.to());
    if !at_tip(b) || space.len() < 2 {
        return None;
    }
    let ahead = {
        let turn = atan2(b.y, b.x) - atan2(a.y, a.x);
        if turn < 0.0 { turn + 2.0 * PI } else { turn }
    };
    let middle = atan2(a.y, a.x) + ahead / 2.0;
    let lean = PI / 2.0 - middle;
    let (c, s) = (cos(lean), sin(lean));
    let upright = |p: Point| Point::new(p.x * c - p.y * s, p.x * s + p.y * c);
    let space: Vec<Segment> = space.iter().map(|g| moved(g, upright)).collect();
    let floor = space.iter().map(|g| g.bounds().y0).fold(f64::MAX, f64::min);
    let crossing = pitch_radius.and_then(|r| space.iter().find_map(|g| Some((*g, passes(g, r)?))));
    let pitch = crossing.map(|(_, p)| (p.y - floor, 2.0 * p.x.abs()));
    let limit = pitch_radius.unwrap_or(tip * 0.98) + 1e-6;
    let above: Vec<&Segment> =
        space.iter().filter(|g| radius(g.from()).max(radius(g.to())) > limit).collect();
    let cheek = match above.first() {
        Some(Segment::Arc { radius, .. }) if above.len() == 2 && pitch.is_some() => Some(*radius),
        _ => None,
    };
    let rounding = space
        .iter()
        .filter_map(|g| match g {
            Segment::Arc { radius: q, from, to, .. } if radius(*from).max(radius(*to)) <= limit => Some(*q),
            _ => None,
        })
        .reduce(f64::min);
    let down = Vec2::new(0.0, -floor);
    let mut profile: Option<Profile> = None;
    for g in space.iter().rev().map(Segment::reversed) {
        let g = moved(&g, |p| p + down);
        let p = profile.unwrap_or_else(|| Profile::start(g.from().x, g.from().y));
        profile = Some(match g {
            Segment::Line { to, .. } => p.line(to.x, to.y),
            Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
        });
    }
    let profile = profile?.close();
    let low: Vec<f64> =
        profile.segments().iter().map(Segment::from).filter(|p| p.y < 1e-6).map(|p| p.x).collect();
    let across = low.iter().copied().fold(f64::MIN, f64::max) - low.iter().copied().fold(f64::MAX, f64::min);
    Some(Section {
        depth: upright(a).y - floor,
        end: rounding.map_or(End::Flat(across.max(0.0)), End::Round),
        pitch,
        mouth: hypot(b.x - a.x, b.y - a.y),
        cheek,
        middle,
        profile,
    })
}
impl Section {
    /// Width at a height over the end; nothing above the tips.
    #[must_use]
    pub fn width_at(&self, y: f64) -> Option<f64> {
        Section::width(&self.profile.sampled(0.0005), y)
    }
    /// Width at a height over the end; nothing above the tips or below the end.
    fn width(points: &[Point], y: f64) -> Option<f64> {
        let (mut low, mut high) = (f64::MAX, f64::MIN);
        for pair in points.windows(2) {
            let (p, q) = (pair[0], pair[1]);
            if (p.y - y) * (q.y - y) <= 0.0 && (p.y - q.y).abs() > 1e-12 {
                let x = p.x + (q.x - p.x) * (y - p.y) / (q.y - p.y);
                low = low.min(x);
                high = high.max(x);
            }
        }
        (high > low).then_some(high - low)
    }
    /// How far at most a flank of another lies from this one's, sideways, when both are set to the same pitch
    /// line; nothing where one has none.
    #[must_use]
    pub fn differs(&self, other: &Section) -> Option<f64> {
        let ((own, _), (its, _)) = (self.pitch?, other.pitch?);
        let (a, b) = (self.profile.sampled(0.0005), other.profile.sampled(0.0005));
        let low = -own.min(its) * 0.98;
        let high = (self.depth - own).min(other.depth - its) * 0.98;
        let steps = 24;
        let gap = |k: i32| {
            let y = low + (high - low) * f64::from(k) / f64::from(steps);
            Some((Section::width(&a, own + y)? - Section::width(&b, its + y)?).abs() / 2.0)
        };
        Some((0..=steps).filter_map(gap).fold(0.0, f64::max))
    }
}
