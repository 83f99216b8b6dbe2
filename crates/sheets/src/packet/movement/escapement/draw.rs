//! Pictures of an escapement: everything within a window, enlarged.

use crate::Typecase;
use ::movement::design::EscapementDesign;
use ::movement::design::escapement::Drawing;
use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{BezPath, Point, Rect, Shape};
use shape::profile::Profile;

/// White round a drawing, millimetres on paper.
const MARGIN: f64 = 4.0;

/// What is drawn.
pub(in crate::packet::movement) struct View<'a> {
    /// Outlines of parts.
    pub(in crate::packet::movement) outlines: &'a [Profile],
    /// Construction.
    pub(in crate::packet::movement) drawing: &'a Drawing,
    /// Whether points are named.
    pub(in crate::packet::movement) names: bool,
}
/// Pallets, both arbors, and the teeth near them.
pub(super) fn frame_of(e: &EscapementDesign) -> Rect {
    let c = e.centres.bare().in_mm();
    let mut r = Rect::new(-1.0, -1.0, 1.0, c + 1.0);
    // The first outline is the wheel; those of pins are many and small.
    let least = if e.pins.is_empty() { 0.0 } else { 6.0 };
    let skip = usize::from(e.pins.is_empty());
    for b in e.drawing.outlines.iter().skip(skip).map(Profile::bounds) {
        if b.width().max(b.height()) > least {
            r = r.union(b);
        }
    }
    r.inset(2.0)
}
/// The largest usual scale that fits a room.
pub(in crate::packet::movement) fn fitted(
    view: &View<'_>,
    window: Rect,
    room: (f64, f64),
    case: &Typecase,
    name: &str,
) -> Sketch {
    let fits = |(up, down): &(u32, u32)| {
        let k = f64::from(*up) / f64::from(*down);
        window.width() * k + 2.0 * MARGIN <= room.0 && window.height() * k + 2.0 * MARGIN <= room.1
    };
    let usual = [
        (50, 1),
        (40, 1),
        (30, 1),
        (20, 1),
        (15, 1),
        (12, 1),
        (10, 1),
        (8, 1),
        (5, 1),
        (4, 1),
        (3, 1),
        (5, 2),
        (2, 1),
        (3, 2),
        (1, 1),
        (1, 2),
    ];
    let scale = usual.into_iter().find(fits).unwrap_or((1, 5));
    scaled(view, window, scale, case, name)
}
/// At a scale of its own.
pub(super) fn scaled(
    view: &View<'_>,
    window: Rect,
    scale: (u32, u32),
    case: &Typecase,
    name: &str,
) -> Sketch {
    let k = f64::from(scale.0) / f64::from(scale.1);
    let place = |p: Point| Point::new((p.x - window.x0) * k + MARGIN, (p.y - window.y0) * k + MARGIN);
    let (width, height) = (window.width() * k + 2.0 * MARGIN, window.height() * k + 2.0 * MARGIN);
    let mut marks = Vec::new();
    let fine = 0.02 / k;
    let mut add = |points: &[Point], pen: Pen| {
        if let Some(path) = clipped(points, window, &place) {
            marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
        }
    };
    for (centre, radius) in &view.drawing.circles {
        let mut points = Profile::circle(*centre, *radius).sampled(fine);
        close(&mut points);
        add(&points, Pen::Centre);
    }
    for (from, to) in &view.drawing.lines {
        add(&[*from, *to], Pen::Thin);
    }
    for outline in view.outlines {
        if outline.bounds().intersect(window).area() <= 0.0 {
            continue;
        }
        let mut points = outline.sampled(fine);
        close(&mut points);
        add(&points, Pen::Visible);
    }
    let mut board = Names { case, marks, labels: Vec::new(), taken: Vec::new() };
    let page = Rect::new(0.5, 0.5, width - 0.5, height - 0.5);
    for (at, _) in view.drawing.points.iter().filter(|(p, _)| window.contains(*p)) {
        board.cross(place(*at));
    }
    if view.names {
        for (at, name) in view.drawing.points.iter().filter(|(p, n)| window.contains(*p) && !n.is_empty()) {
            board.name(place(*at), name, page);
        }
    }
    Sketch {
        width,
        height,
        marks: board.marks,
        labels: board.labels,
        scale,
        title: format!("{name}, scale {}:{}", scale.0, scale.1),
    }
}
fn close(points: &mut Vec<Point>) {
    if let (Some(first), Some(last)) = (points.first().copied(), points.last().copied())
        && first != last
    {
        points.push(first);
    }
}
/// The pieces of a line of points within a rectangle, laid on the paper.
fn clipped(points: &[Point], window: Rect, place: &impl Fn(Point) -> Point) -> Option<BezPath> {
    let mut path = BezPath::new();
    let mut pen: Option<Point> = None;
    for pair in points.windows(2) {
        let Some((a, b)) = within(pair[0], pair[1], window) else {
            pen = None;
            continue;
        };
        if pen != Some(a) {
            path.move_to(place(a));
        }
        path.line_to(place(b));
        pen = Some(b);
    }
    (!path.elements().is_empty()).then_some(path)
}
/// The part of a line within a rectangle, by the parameters at which it crosses the sides.
fn within(a: Point, b: Point, r: Rect) -> Option<(Point, Point)> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - r.x0), (d.x, r.x1 - a.x), (-d.y, a.y - r.y0), (d.y, r.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    if from >= to {
        return None;
    }
    let at = |t: f64| {
        if t <= 0.0 {
            a
        } else if t >= 1.0 {
            b
        } else {
            a + d * t
        }
    };
    Some((at(from), at(to)))
}
/// Words on a drawing, each where nothing else is written.
struct Names<'a> {
    case: &'a Typecase,
    marks: Vec<Mark>,
    labels: Vec<Label>,
    taken: Vec<Rect>,
}
impl Names<'_> {
    fn line(&mut self, a: Point, b: Point) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.marks.push(Mark { path, pen: Some(Pen::Thin), fill: Tone::None, hatch: false });
    }
    fn cross(&mut self, c: Point) {
        self.line(Point::new(c.x - 1.2, c.y), Point::new(c.x + 1.2, c.y));
        self.line(Point::new(c.x, c.y - 1.2), Point::new(c.x, c.y + 1.2));
        self.taken.push(Rect::from_center_size(c, (1.6, 1.6)));
    }
    fn name(&mut self, at: Point, text: &str, page: Rect) {
        let size = drafting::size::SEVEN_POINT;
        let (wide, high) = (self.case.width(text, size, false) + 0.8, size * 1.04);
        for out in [1.2, 2.5, 4.5, 7.0, 10.0, 14.0] {
            for turn in [0.8, 2.35, -0.8, -2.35, 0.0, 3.1, 1.6, -1.6] {
                let (s, c) = (reckon::maths::sin(turn), reckon::maths::cos(turn));
                let p = Point::new(at.x + out * c, at.y + out * s);
                let x = p.x - wide * f64::midpoint(1.0, -c);
                let y = p.y - high * f64::midpoint(1.0, -s);
                let ground = Rect::new(x, y, x + wide, y + high);
                let inside = page.union(ground) == page;
                if !inside || self.taken.iter().any(|t| t.intersect(ground).area() > 0.0) {
                    continue;
                }
                if out > 3.0 {
                    self.line(at, p);
                }
                self.marks.push(Mark {
                    path: ground.to_path(0.01),
                    pen: None,
                    fill: Tone::White,
                    hatch: false,
                });
                self.taken.push(ground);
                self.labels.push(Label {
                    at: Point::new(x + 0.4, y + size * 0.26),
                    anchor: Anchor::Start,
                    turn: 0.0,
                    size,
                    text: text.to_owned(),
                    bold: false,
                });
                return;
            }
        }
    }
}
