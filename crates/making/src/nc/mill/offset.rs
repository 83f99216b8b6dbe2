//! The way of a cutter's middle along a closed outline: every piece moved sideways by its radius.

use kurbo::{Point, Vec2};
use shape::profile::{Profile, Segment, distance};
use shape::segment::Sense;

/// Two ends nearer than this are one.
const JOINED: f64 = 1e-6;

/// A closed outline moved to its inside; nothing where it does not fit or the outline has a corner that the
/// cutter cannot go into or round.
pub fn inside(outline: &Profile, by: f64) -> Option<Vec<Segment>> {
    beside(outline, by, true)
}
/// The same to its outside.
pub fn outside(outline: &Profile, by: f64) -> Option<Vec<Segment>> {
    beside(outline, by, false)
}
/// Runs clockwise inside and anticlockwise outside, so that a cutter turning clockwise cuts against its feed.
fn beside(outline: &Profile, by: f64, inside: bool) -> Option<Vec<Segment>> {
    if !outline.is_closed() {
        return None;
    }
    let clockwise = outline.area() < 0.0;
    let run = if clockwise == inside { outline.clone() } else { outline.reversed() };
    // Either way the cutter goes on the right of its travel.
    let mut moved: Vec<(Segment, usize)> = Vec::new();
    for (i, s) in run.segments().iter().enumerate() {
        if let Some(m) = shifted(s, by) {
            moved.push((m, i));
        }
    }
    let n = moved.len();
    if n == 0 {
        return None;
    }
    let source = run.segments();
    let mut out: Vec<Segment> = Vec::new();
    let mut joints: Vec<Option<Segment>> = vec![None; n];
    for at in 0..n {
        let next = (at + 1) % n;
        let (p, q) = (moved[at].0.to(), moved[next].0.from());
        if distance(p, q) < JOINED {
            continue;
        }
        let meets = moved[at].0.meets(&moved[next].0);
        let neighbours = (moved[at].1 + 1) % source.len() == moved[next].1;
        if let Some(&m) = meets.iter().min_by(|a, b| distance(**a, p).total_cmp(&distance(**b, p))) {
            moved[at].0 = between(&moved[at].0, moved[at].0.from(), m);
            moved[next].0 = between(&moved[next].0, m, moved[next].0.to());
        } else if neighbours {
            let centre = source[moved[at].1].to();
            joints[at] = Some(Segment::Arc { from: p, to: q, centre, radius: by, sense: Sense::Left });
        } else {
            return None;
        }
    }
    for ((s, _), joint) in moved.iter().zip(joints) {
        if s.length() > JOINED {
            out.push(*s);
        }
        out.extend(joint);
    }
    // Nowhere nearer to the outline than its own radius, or the offset has crossed itself.
    let near = |s: &Segment| (0..=8).any(|i| outline.distance_to(s.at(f64::from(i) / 8.0)) < by - 1e-4);
    if out.is_empty() || out.iter().any(near) {
        return None;
    }
    Some(out)
}
/// A piece moved to the right of its travel; none where an arc is smaller than that.
fn shifted(s: &Segment, by: f64) -> Option<Segment> {
    match *s {
        Segment::Line { from, to } => {
            let along = (to - from) / distance(from, to);
            let right = Vec2::new(along.y, -along.x) * by;
            Some(Segment::Line { from: from + right, to: to + right })
        }
        Segment::Arc { from, to, centre, radius, sense } => {
            let new = if sense == Sense::Right { radius - by } else { radius + by };
            (new > JOINED).then(|| Segment::Arc {
                from: centre + (from - centre) * (new / radius),
                to: centre + (to - centre) * (new / radius),
                centre,
                radius: new,
                sense,
            })
        }
    }
}
fn between(s: &Segment, from: Point, to: Point) -> Segment {
    match *s {
        Segment::Line { .. } => Segment::Line { from, to },
        Segment::Arc { centre, radius, sense, .. } => Segment::Arc { from, to, centre, radius, sense },
    }
}
/// The same way begun in the middle of its longest piece, where a mark of going in shows least.
pub fn from_the_middle(way: &[Segment]) -> Vec<Segment> {
    let Some((at, longest)) =
        way.iter().enumerate().max_by(|a, b| a.1.length().total_cmp(&b.1.length()).then(b.0.cmp(&a.0)))
    else {
        return Vec::new();
    };
    let middle = longest.at(0.5);
    let mut out = vec![between(longest, middle, longest.to())];
    out.extend(way[at + 1..].iter().chain(&way[..at]).copied());
    out.push(between(longest, longest.from(), middle));
    out
}
#[cfg(test)]
mod tests {
    use super::{inside, outside};
    use kurbo::Point;
    use shape::profile::Profile;

    #[test]
    fn a_fillet_of_the_cutter_s_own_radius_is_a_corner_of_its_way() {
        // Begun in the middle of a side, so that all four corners can be rounded.
        let square =
            Profile::start(5.0, 0.0).line(10.0, 0.0).line(10.0, 8.0).line(0.0, 8.0).line(0.0, 0.0).close();
        let rounded = (0..4).fold(square, |p, i| p.rounded(2 * i + 1, 1.0).expect("there is room"));
        let way = inside(&rounded, 1.0).expect("it fits");
        // Four sides, the first in two.
        assert_eq!(way.len(), 5);
        let length: f64 = way.iter().map(shape::profile::Segment::length).sum();
        assert!((length - 28.0).abs() < 1e-6, "{length}");
        assert!(inside(&rounded, 5.0).is_none());
    }
    #[test]
    fn round_a_corner_it_goes_by_an_arc() {
        let way = outside(&Profile::rectangle(0.0, 0.0, 10.0, 8.0), 2.0).expect("it fits");
        let length: f64 = way.iter().map(shape::profile::Segment::length).sum();
        assert!((length - 36.0 - 4.0 * reckon::maths::PI).abs() < 1e-6, "{length}");
        let round = outside(&Profile::circle(Point::new(1.0, 1.0), 3.0), 1.0).expect("it fits");
        let length: f64 = round.iter().map(shape::profile::Segment::length).sum();
        assert!((length - 8.0 * reckon::maths::PI).abs() < 1e-6, "{length}");
    }
}
