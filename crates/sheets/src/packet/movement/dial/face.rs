//! The dial's face at true size: tracks, numerals, holes and feet.

use super::{FINE, numerals};
use crate::Typecase;
use ::movement::design::DialDesign;
use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{BezPath, Point, Shape};
use reckon::maths::{PI, cos, hypot, sin};

/// Height of a capital over the size of type.
const CAPITAL: f64 = 0.714;
/// Smallest type that is printed, millimetres.
const LEAST: f64 = drafting::size::SEVEN_POINT;

struct Face<'a> {
    marks: Vec<Mark>,
    labels: Vec<Label>,
    case: &'a Typecase,
}
/// A place at an angle clockwise from upwards.
fn polar(at: Point, r: f64, turn: f64) -> Point {
    Point::new(at.x + r * sin(turn), at.y + r * cos(turn))
}
impl Face<'_> {
    fn circle(&mut self, at: Point, r: f64, pen: Pen) {
        let path = kurbo::Circle::new(at, r).to_path(FINE);
        self.marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
    }
    fn line(&mut self, a: Point, b: Point, pen: Pen) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
    }
    fn ink(&mut self, path: BezPath) {
        self.marks.push(Mark { path, pen: None, fill: Tone::Ink, hatch: false });
    }
    /// A bar along a radius.
    fn bar(&mut self, at: Point, (from, to): (f64, f64), turn: f64, wide: f64) {
        let side = |p: Point, s: f64| Point::new(p.x + s * cos(turn), p.y - s * sin(turn));
        let (a, b) = (polar(at, from, turn), polar(at, to, turn));
        let mut path = BezPath::new();
        path.move_to(side(a, -wide / 2.0));
        path.line_to(side(b, -wide / 2.0));
        path.line_to(side(b, wide / 2.0));
        path.line_to(side(a, wide / 2.0));
        path.close_path();
        self.ink(path);
    }
    fn cross(&mut self, at: Point, arm: f64) {
        self.line(Point::new(at.x - arm, at.y), Point::new(at.x + arm, at.y), Pen::Thin);
        self.line(Point::new(at.x, at.y - arm), Point::new(at.x, at.y + arm), Pen::Thin);
    }
    /// A figure whose middle lies at a radius, its head outwards above and inwards below, so that all are read upright.
    fn figure(&mut self, at: Point, r: f64, turn: f64, size: f64, text: &str) {
        let below = turn > PI * 0.5 + 0.1 && turn < PI * 1.5 - 0.1;
        let half = size * CAPITAL / 2.0;
        let foot = if below { r + half } else { r - half };
        let reading = if below { PI - turn } else { -turn };
        self.labels.push(Label {
            at: polar(at, foot, turn),
            anchor: Anchor::Middle,
            turn: reading,
            size,
            text: text.to_owned(),
            bold: false,
        });
    }
    /// Sixty divisions between two circles, every fifth stronger.
    fn track(&mut self, at: Point, outer: f64, inner: f64) {
        self.circle(at, outer, Pen::Thin);
        self.circle(at, inner, Pen::Thin);
        for i in 0..60_u8 {
            let turn = f64::from(i) * PI / 30.0;
            if i % 5 == 0 {
                self.bar(at, (inner, outer), turn, outer * 0.014);
            } else {
                self.line(polar(at, inner, turn), polar(at, outer, turn), Pen::Thin);
            }
        }
    }
}
/// The face.
pub(super) fn face(d: &DialDesign, case: &Typecase) -> Sketch {
    let edge = d.outside.bare().in_mm() / 2.0;
    let margin = 3.0;
    let c = Point::new(edge + margin, edge + margin);
    let mut f = Face { marks: Vec::new(), labels: Vec::new(), case };
    let r = d.minute_circle.bare().in_mm() / 2.0;
    let inner = r - d.track.bare().in_mm();
    f.circle(c, edge, Pen::Visible);
    f.track(c, r, inner);
    let rim = edge - r;
    let size = (rim * 0.55).min(4.5);
    if size >= LEAST {
        for i in 1..=12_u8 {
            f.figure(c, r + rim * 0.47, f64::from(i % 12) * PI / 6.0, size, &(u16::from(i) * 5).to_string());
        }
    }
    let place =
        |s: &::movement::design::Stand| Point::new(c.x + s.x.bare().in_mm(), c.y + s.y.bare().in_mm());
    let mut taken: Vec<(Point, f64)> =
        d.holes.iter().map(|h| (place(&h.at), h.diameter.bare().in_mm() / 2.0 + 1.0)).collect();
    let small = d.seconds.as_ref().map(|(at, circle)| (place(at), circle.bare().in_mm() / 2.0));
    taken.extend(small.map(|(at, sr)| (at, sr + 0.8)));
    hours(&mut f, c, inner, &taken);
    // What stands within the ring interrupts its line.
    for (at, r) in &taken {
        let path = kurbo::Circle::new(*at, *r).to_path(FINE);
        f.marks.push(Mark { path, pen: None, fill: Tone::White, hatch: false });
    }
    if let Some((at, sr)) = small {
        seconds(&mut f, at, sr);
    }
    for h in &d.holes {
        let at = place(&h.at);
        let hr = h.diameter.bare().in_mm() / 2.0;
        f.circle(at, hr, Pen::Thin);
        f.cross(at, hr + 2.0);
    }
    for s in &d.feet {
        let at = place(s);
        f.circle(at, d.foot.bare().in_mm() / 2.0, Pen::Hidden);
        f.cross(at, 1.2);
    }
    Sketch {
        width: 2.0 * (edge + margin),
        height: 2.0 * (edge + margin),
        marks: f.marks,
        labels: f.labels,
        scale: (1, 1),
        title: "dial: true size".to_owned(),
    }
}
fn seconds(f: &mut Face<'_>, at: Point, r: f64) {
    f.track(at, r, r * 0.88);
    let size = (r * 0.2).min(4.0);
    if size < LEAST {
        return;
    }
    for i in 1..=6_u8 {
        let text = (i * 10).to_string();
        let wide = f.case.width(&text, size, false);
        f.figure(at, r * 0.86 - size * 0.55 - wide * 0.05, f64::from(i % 6) * PI / 3.0, size, &text);
    }
}
/// Hour numerals with their feet to the centre, within a ring; those that would run into something stay out.
fn hours(f: &mut Face<'_>, c: Point, inner: f64, taken: &[(Point, f64)]) {
    let height = inner * 0.2;
    let head = inner * 0.955;
    let foot = head - height;
    f.circle(c, foot - inner * 0.035, Pen::Thin);
    for hour in 1..=12 {
        let turn = f64::from(hour % 12) * PI / 6.0;
        let half = numerals::width(hour, height) / 2.0;
        let (along, across) = ((sin(turn), cos(turn)), (cos(turn), -sin(turn)));
        let middle = polar(c, foot + height / 2.0, turn);
        let clear = taken.iter().all(|(at, r)| {
            // Nearest point of the numeral's box to the circle's middle.
            let (dx, dy) = (at.x - middle.x, at.y - middle.y);
            let u = (dx * across.0 + dy * across.1).clamp(-half, half);
            let v = (dx * along.0 + dy * along.1).clamp(-height / 2.0, height / 2.0);
            let near = (middle.x + u * across.0 + v * along.0, middle.y + u * across.1 + v * along.1);
            hypot(at.x - near.0, at.y - near.1) > *r
        });
        if clear {
            for s in numerals::numeral(hour, polar(c, foot, turn), turn, height) {
                f.ink(s);
            }
        }
    }
}
