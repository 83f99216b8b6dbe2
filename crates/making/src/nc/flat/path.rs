//! Ways of a cutter: round an outline, through a window, down a hole.
//!
//! Millimetres; the upper face of the work is at zero. The spindle turns clockwise and metal that stays lies
//! on the left of the way: the cutter pushes the slide against its feed, so that play in a screw pulls nothing in.

use super::super::act::{Act, To};
use kurbo::Point;
use reckon::maths::{PI, tan};
use shape::profile::Profile;
use shape::region::{Corner, Region};
use shape::segment::{Segment, Sense, distance};

/// How closely chords follow an arc where the metal stays.
const FINE: f64 = 0.002;
/// How closely they do where a last round follows.
const ROUGH: f64 = 0.01;
/// Above the last step the cutter is let down at the feed.
const ABOVE: f64 = 0.3;

/// How an end mill goes.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Going {
    /// Diameter.
    pub across: f64,
    /// Depth to reach.
    pub depth: f64,
    /// Deepest step.
    pub step: f64,
    /// Feed, mm/min.
    pub feed: f64,
    /// Feed down, mm/min.
    pub down: f64,
    /// Left on the walls for the last round.
    pub leave: f64,
    /// Height at which it travels.
    pub safe: f64,
}
/// Bridges that hold what is cut out.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Tabs {
    /// How many.
    pub count: u32,
    /// Their length at the top.
    pub long: f64,
    /// Their thickness.
    pub thick: f64,
}

/// Even steps down to a depth, none deeper than `step`.
fn levels(depth: f64, step: f64) -> Vec<f64> {
    let n = (depth / step.max(1e-3) - 1e-9).ceil().clamp(1.0, 1000.0);
    let mut all = Vec::new();
    let mut i = 1.0;
    while i <= n {
        all.push(-depth * i / n);
        i += 1.0;
    }
    all
}
/// Length of a ramp of 3° that goes down by so much.
fn ramp(down: f64) -> f64 {
    down / tan(3.0 * PI / 180.0)
}
/// A closed way of the cutter's middle.
#[derive(Clone, Debug)]
pub struct Way(Vec<Segment>);

/// A closed profile that runs the wanted way round.
fn running(profile: &Profile, left: bool) -> Profile {
    if (profile.area() > 0.0) == left { profile.clone() } else { profile.reversed() }
}
/// A closed chain of lines.
fn lines(points: &[Point]) -> Vec<Segment> {
    let mut kept: Vec<Point> = Vec::new();
    for &p in points {
        if kept.last().is_none_or(|&q| distance(p, q) > 0.002) {
            kept.push(p);
        }
    }
    while kept.len() > 1 && distance(kept[0], kept[kept.len() - 1]) <= 0.002 {
        kept.pop();
    }
    if kept.len() < 2 {
        return Vec::new();
    }
    (0..kept.len()).map(|i| Segment::Line { from: kept[i], to: kept[(i + 1) % kept.len()] }).collect()
}
/// The region inside a closed profile.
#[must_use]
pub fn inside(profile: &Profile, within: f64) -> Region {
    Region::polygon(&thinned(&profile.sampled(within / 2.0), within / 2.0)).unwrap_or_default()
}
/// The same chain with fewer points, none of those left out further than `within` from it.
fn thinned(points: &[Point], within: f64) -> Vec<Point> {
    let mut kept = Vec::new();
    let mut from = 0;
    while from < points.len() {
        kept.push(points[from]);
        let mut to = from + 1;
        // As far as a straight line serves, but no more than fifty points at once.
        while to + 1 < points.len() && to - from < 50 && straight(&points[from..=to + 1], within) {
            to += 1;
        }
        from = to;
    }
    kept
}
/// Whether all points lie by the line from the first to the last, in its direction.
fn straight(points: &[Point], within: f64) -> bool {
    let (Some(&a), Some(&b)) = (points.first(), points.last()) else { return true };
    let way = b - a;
    let long = way.hypot2().sqrt();
    let mut before = 0.0;
    long > within
        && points.iter().all(|&p| {
            let along = (p - a).dot(way) / long;
            let forward = along >= before - within;
            before = along;
            forward && (p - a).cross(way).abs() <= within * long
        })
}
/// The same chain with its straight lines thinned.
fn thinned_way(way: &[Segment], within: f64) -> Vec<Segment> {
    let mut out = Vec::new();
    let mut run: Vec<Point> = Vec::new();
    let close = |run: &mut Vec<Point>, out: &mut Vec<Segment>| {
        let kept = thinned(run, within / 2.0);
        out.extend(kept.windows(2).map(|p| Segment::Line { from: p[0], to: p[1] }));
        run.clear();
    };
    for s in way {
        match *s {
            Segment::Line { from, to } => {
                if run.is_empty() {
                    run.push(from);
                }
                run.push(to);
            }
            Segment::Arc { .. } => {
                close(&mut run, &mut out);
                out.push(*s);
            }
        }
    }
    close(&mut run, &mut out);
    out
}
/// A region grown or shrunk.
#[must_use]
pub fn grown(region: &Region, by: f64, within: f64) -> Region {
    region.offset(by, Corner::Round, within).unwrap_or_default()
}
/// Ways beside a profile, `off` from it, true to `within`: outside an outline, inside a window. Arcs stay arcs where the profile
/// gives them; where the cutter does not reach into a corner or through a neck, the way is cut short.
#[must_use]
pub fn beside(profile: &Profile, off: f64, window: bool, within: f64) -> Vec<Way> {
    let run = running(profile, !window);
    let by = if window { -off } else { off };
    let reached = grown(&inside(profile, within), by, within);
    if let Ok(moved) = run.offset(-off)
        && moved.is_closed()
        && moved.crosses_itself().is_none()
        && reached.pieces() == 1
        && (moved.area().abs() - reached.area()).abs() < 2.5 * within * reached.perimeter()
    {
        let long: Vec<Segment> = moved.segments().iter().copied().filter(|s| s.length() > 0.001).collect();
        let way = Way(thinned_way(&long, within));
        return vec![way.begun_on_the_longest()];
    }
    let ring = |rings: Vec<Vec<Point>>| {
        let mut outer = rings.into_iter().next()?;
        if window {
            outer.reverse();
        }
        let way = thinned_way(&lines(&outer), within);
        (way.len() > 1).then(|| Way(way).begun_on_the_longest())
    };
    reached.polygons().into_iter().filter_map(ring).collect()
}

impl Way {
    /// Where it begins and ends.
    #[must_use]
    pub fn begin(&self) -> Point {
        self.0[0].from()
    }
    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.0.iter().map(Segment::length).sum()
    }
    /// The same begun in the middle of its longest piece, where there is room beside it.
    fn begun_on_the_longest(self) -> Way {
        let n = self.0.len();
        let longest = (0..n).max_by(|&a, &b| self.0[a].length().total_cmp(&self.0[b].length()));
        let Some(k) = longest else { return self };
        let [first, second] = halves(&self.0[k]);
        let mut all = vec![second];
        all.extend((1..n).map(|i| self.0[(k + i) % n]));
        all.push(first);
        Way(all)
    }
    /// Direction at its beginning.
    fn heading(&self) -> kurbo::Vec2 {
        let s = &self.0[0];
        let d = s.at(1e-4) - s.from();
        d / d.hypot2().sqrt().max(1e-12)
    }
    /// Cut into pieces that end at given lengths along it.
    fn cut_at(&self, ends: &[f64]) -> Vec<(f64, Segment)> {
        let mut out = Vec::new();
        let mut before = 0.0;
        for s in &self.0 {
            let long = s.length();
            let mut shares: Vec<f64> =
                ends.iter().map(|e| (e - before) / long).filter(|t| *t > 1e-6 && *t < 1.0 - 1e-6).collect();
            shares.sort_by(f64::total_cmp);
            shares.push(1.0);
            let mut from = 0.0;
            for to in shares {
                let part = piece(s, from, to);
                out.push((before + long * to, part));
                from = to;
            }
            before += long;
        }
        out
    }
}
/// A piece of a segment, between two shares of it.
fn piece(s: &Segment, from: f64, to: f64) -> Segment {
    match *s {
        Segment::Line { .. } => Segment::Line { from: s.at(from), to: s.at(to) },
        Segment::Arc { centre, radius, sense, .. } => {
            Segment::Arc { from: s.at(from), to: s.at(to), centre, radius, sense }
        }
    }
}
fn halves(s: &Segment) -> [Segment; 2] {
    [piece(s, 0.0, 0.5), piece(s, 0.5, 1.0)]
}
/// A segment cut in its plane.
fn cut(s: &Segment, feed: f64) -> Act {
    match *s {
        Segment::Line { to, .. } => Act::Line { to: To::xy(to), feed },
        Segment::Arc { to, centre, sense, .. } => {
            Act::Arc { to, centre, clockwise: sense == Sense::Right, feed }
        }
    }
}
/// Over a place at the height of travel, fast to just above the work, then down to a height: at the feed where it
/// was cut before, at the feed down for the last of it.
fn over(acts: &mut Vec<Act>, at: Point, height: f64, g: &Going) {
    acts.push(Act::Rapid(To::z(g.safe)));
    acts.push(Act::Rapid(To::xy(at)));
    acts.push(Act::Rapid(To::z(ABOVE.min(g.safe))));
    if height + ABOVE < ABOVE.min(g.safe) {
        acts.push(Act::Line { to: To::z(height + ABOVE), feed: g.feed });
    }
    acts.push(Act::Line { to: To::z(height), feed: g.down });
}
/// Down along a way at 3° and back to its beginning: forth and back along its first stretch, or round it as often
/// as it takes where it is short.
fn down_along(acts: &mut Vec<Act>, way: &Way, from: f64, to: f64, g: &Going) {
    let long = way.length();
    let drop = from - to;
    if drop <= 0.0 {
        return;
    }
    let half = ramp(drop) / 2.0;
    if half < 0.8 * long {
        let there: Vec<Segment> =
            way.cut_at(&[half]).into_iter().filter(|(end, _)| *end < half + 1e-6).map(|(_, s)| s).collect();
        let back: Vec<Segment> = there.iter().rev().map(Segment::reversed).collect();
        let slope = drop / (2.0 * half);
        let mut z = from;
        for p in there.iter().chain(&back).flat_map(chords) {
            z = (z - slope * p.1).max(to);
            acts.push(Act::Line { to: To { x: Some(p.0.x), y: Some(p.0.y), z: Some(z) }, feed: g.down });
        }
        acts.push(Act::Line {
            to: To { x: Some(way.begin().x), y: Some(way.begin().y), z: Some(to) },
            feed: g.down,
        });
        return;
    }
    let laps = (ramp(drop) / long).ceil().clamp(1.0, 200.0);
    let slope = drop / (laps * long);
    let mut z = from;
    let mut lap = 0.0;
    while lap < laps {
        for s in &way.0 {
            // Chords: a control need not know a helix.
            for p in chords(s) {
                z = (z - slope * p.1).max(to);
                acts.push(Act::Line { to: To { x: Some(p.0.x), y: Some(p.0.y), z: Some(z) }, feed: g.down });
            }
        }
        lap += 1.0;
    }
    // What rounding has left.
    acts.push(Act::Line {
        to: To { x: Some(way.begin().x), y: Some(way.begin().y), z: Some(to) },
        feed: g.down,
    });
}
/// Points along a segment with the length to each.
fn chords(s: &Segment) -> Vec<(Point, f64)> {
    let long = s.length();
    let pieces = match *s {
        Segment::Line { .. } => 1.0,
        Segment::Arc { radius, .. } => {
            let most = (8.0 * radius * ROUGH).sqrt().min(radius).max(1e-3);
            (long / most).ceil().max(1.0)
        }
    };
    let mut all = Vec::new();
    let mut k = 1.0;
    while k <= pieces {
        all.push((s.at(k / pieces), long / pieces));
        k += 1.0;
    }
    all
}
/// Once round a way at its depth.
fn round(acts: &mut Vec<Act>, way: &Way, feed: f64) {
    acts.extend(way.0.iter().map(|s| cut(s, feed)));
}
/// The last round at full depth, entered and left on quarter circles where there is room beside the way.
fn last_round(acts: &mut Vec<Act>, way: &Way, room: f64, g: &Going) {
    let r = room.min(g.across / 2.0).max(0.0);
    let heading = way.heading();
    let begin = way.begin();
    // What is taken off lies on the right.
    let right = kurbo::Vec2::new(heading.y, -heading.x);
    let centre = begin + right * r;
    let (enter, leave) = (centre - heading * r, centre + heading * r);
    if r > 0.02 {
        over(acts, enter, -g.depth, g);
        acts.push(Act::Arc { to: begin, centre, clockwise: true, feed: g.feed });
        round(acts, way, g.feed);
        acts.push(Act::Arc { to: leave, centre, clockwise: true, feed: g.feed });
    } else {
        over(acts, begin, -g.depth, g);
        round(acts, way, g.feed);
    }
    acts.push(Act::Rapid(To::z(g.safe)));
}

/// An outline, in steps and a last round; with tabs the lowest part of it stands in places.
#[must_use]
pub fn outline(profile: &Profile, tabs: Option<Tabs>, g: &Going) -> Vec<Act> {
    let mut acts = Vec::new();
    let radius = g.across / 2.0;
    for way in beside(profile, radius + g.leave, false, ROUGH) {
        let mut z = 0.0;
        over(&mut acts, way.begin(), z, g);
        for level in levels(g.depth, g.step) {
            down_along(&mut acts, &way, z, level, g);
            with_tabs(&mut acts, &way, level, tabs, g);
            z = level;
        }
        acts.push(Act::Rapid(To::z(g.safe)));
    }
    for way in beside(profile, radius, false, FINE) {
        match tabs {
            // The last round rides over the tabs too.
            Some(_) => {
                over(&mut acts, way.begin(), -g.depth, g);
                with_tabs(&mut acts, &way, -g.depth, tabs, g);
                acts.push(Act::Rapid(To::z(g.safe)));
            }
            None => last_round(&mut acts, &way, g.leave, g),
        }
    }
    acts
}
/// Places of the middles of tabs along a way, a share of its length each.
fn places(count: u32) -> Vec<f64> {
    (0..count).map(|i| (f64::from(i) + 0.5) / f64::from(count.max(1))).collect()
}
/// Once round at a level, over the tabs where it is below their top.
fn with_tabs(acts: &mut Vec<Act>, way: &Way, level: f64, tabs: Option<Tabs>, g: &Going) {
    let Some(tabs) = tabs.filter(|t| level < -g.depth + t.thick + 0.01 - 1e-9) else {
        round(acts, way, g.feed);
        return;
    };
    let top = -g.depth + tabs.thick;
    let long = way.length();
    // The cutter's own width comes off a tab at both ends.
    let half = (tabs.long + g.across) / 2.0;
    let mut marks: Vec<(f64, bool)> = Vec::new();
    for at in places(tabs.count) {
        marks.push((at * long - half, true));
        marks.push((at * long + half, false));
    }
    let ends: Vec<f64> = marks.iter().map(|m| m.0).collect();
    let lifted = |along: f64| marks.iter().rev().find(|m| m.0 < along - 1e-6).is_some_and(|m| m.1);
    let mut up = false;
    for (end, s) in way.cut_at(&ends) {
        let over = lifted(end - s.length() / 2.0);
        if over != up {
            let z = if over { top } else { level };
            acts.push(Act::Line { to: To::z(z), feed: if over { g.feed } else { g.down } });
            up = over;
        }
        acts.push(cut(&s, g.feed));
    }
    if up {
        acts.push(Act::Line { to: To::z(level), feed: g.down });
    }
}
/// Tabs as they are left: pieces of the slot round an outline.
#[must_use]
pub fn tab_regions(profile: &Profile, tabs: Tabs, g: &Going) -> Region {
    let mut all = Vec::new();
    for way in beside(profile, g.across / 2.0, false, ROUGH) {
        let long = way.length();
        for at in places(tabs.count) {
            let p = Profile::at(&profile_of(&way), at * long);
            all.push(Region::disc(p, (tabs.long + g.across) / 2.0 + g.across, 0.01).unwrap_or_default());
        }
    }
    Region::union_of(&all)
}
fn profile_of(way: &Way) -> Profile {
    let mut p = Profile::start(way.begin().x, way.begin().y);
    for s in &way.0 {
        p = match *s {
            Segment::Line { to, .. } => p.line(to.x, to.y),
            Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
        };
    }
    p
}

/// A window cleared from its middle outwards, step by step, then a last round along its wall.
#[must_use]
pub fn window(profile: &Profile, g: &Going) -> Vec<Act> {
    let mut acts = Vec::new();
    let radius = g.across / 2.0;
    let reach = grown(&inside(profile, FINE), -radius - g.leave, ROUGH);
    for rings in reach.polygons() {
        let mut z = 0.0;
        for level in levels(g.depth, g.step) {
            clear(&mut acts, &rings[0], z, level, g);
            acts.push(Act::Rapid(To::z(g.safe)));
            z = level;
        }
    }
    for way in beside(profile, radius, true, FINE) {
        last_round(&mut acts, &way, g.leave, g);
    }
    acts
}
/// Clears what lies inside a ring of the cutter's middle at one level. Each ring lies 0.8 of the radius inside
/// the next, so that a straight way from one to the next keeps inside; ends on the ring.
fn clear(acts: &mut Vec<Act>, ring: &[Point], from: f64, level: f64, g: &Going) {
    let apart = 0.4 * g.across;
    let Ok(here) = Region::polygon(ring) else { return };
    let inner = grown(&here, -apart, ROUGH).polygons();
    let mut at = None;
    let last = inner.len().saturating_sub(1);
    for (i, rings) in inner.iter().enumerate() {
        clear(acts, &rings[0], from, level, g);
        if i == last {
            at = here_now(acts);
        }
    }
    let mut points = ring.to_vec();
    points.reverse();
    if let Some(at) = at {
        let way = Way(lines(&points));
        if way.0.is_empty() {
            return;
        }
        let entry = nearest_on(&way, at);
        acts.push(Act::Line { to: To::xy(entry.1), feed: g.feed });
        let n = way.0.len();
        let first = &way.0[entry.0];
        let mut turned = vec![Segment::Line { from: entry.1, to: first.to() }];
        turned.extend((1..n).map(|k| way.0[(entry.0 + k) % n]));
        turned.push(Segment::Line { from: first.from(), to: entry.1 });
        acts.extend(turned.iter().filter(|s| s.length() > 1e-6).map(|s| cut(s, g.feed)));
        return;
    }
    let way = Way(lines(&points));
    if way.0.is_empty() {
        return;
    }
    over(acts, way.begin(), from, g);
    down_along(acts, &way, from, level, g);
    round(acts, &way, g.feed);
}
/// The place of a way nearest to a point: number of its segment, and the place.
fn nearest_on(way: &Way, p: Point) -> (usize, Point) {
    let mut best = (f64::INFINITY, 0, way.begin());
    for (i, s) in way.0.iter().enumerate() {
        let (a, b) = (s.from(), s.to());
        let d = b - a;
        let t = ((p - a).dot(d) / d.hypot2().max(1e-18)).clamp(0.0, 1.0);
        let q = a + d * t;
        if distance(p, q) < best.0 {
            best = (distance(p, q), i, q);
        }
    }
    (best.1, best.2)
}
/// Where the cutter is after some acts, in plan.
fn here_now(acts: &[Act]) -> Option<Point> {
    acts.iter().rev().find_map(|act| match act {
        Act::Rapid(To { x: Some(x), y: Some(y), .. })
        | Act::Line { to: To { x: Some(x), y: Some(y), .. }, .. } => Some(Point::new(*x, *y)),
        Act::Arc { to, .. } => Some(*to),
        _ => None,
    })
}

/// How a drill goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Dips {
    /// Depth of the tip at the end of each dip, and whether it comes right out after it.
    pub ends: Vec<(f64, bool)>,
    /// Feed, mm/min.
    pub feed: f64,
    /// Height at which it travels.
    pub safe: f64,
}
/// Holes drilled in dips, each written out as plain moves, so that no control needs to know a cycle.
#[must_use]
pub fn holes(at: &[Point], dips: &Dips) -> Vec<Act> {
    let mut acts = vec![Act::Rapid(To::z(dips.safe))];
    for &p in at {
        acts.push(Act::Rapid(To::xy(p)));
        acts.push(Act::Rapid(To::z(ABOVE.min(dips.safe))));
        let mut before = 0.0_f64;
        for (i, &(depth, out)) in dips.ends.iter().enumerate() {
            if i > 0 && dips.ends[i - 1].1 {
                // Back down to just above the floor.
                acts.push(Act::Rapid(To::z((ABOVE - before).min(ABOVE))));
            }
            acts.push(Act::Line { to: To::z(-depth), feed: dips.feed });
            let more = i + 1 < dips.ends.len();
            if more {
                let back = if out { ABOVE } else { ABOVE - depth };
                acts.push(Act::Rapid(To::z(back.min(ABOVE))));
            }
            before = depth;
        }
        acts.push(Act::Rapid(To::z(dips.safe)));
    }
    acts
}

#[cfg(test)]
mod tests {
    use super::{levels, ramp};

    #[test]
    fn steps_are_even_and_end_at_the_depth() {
        assert_eq!(levels(2.0, 0.9), [-2.0 / 3.0, -4.0 / 3.0, -2.0]);
        assert!((ramp(1.0) - 19.0811).abs() < 1e-3);
    }
}
