//! Torque and arc through one winding.

use ::movement::design::{DriveDesign, PendulumDesign};
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{BezPath, Point};

const WIDE: f64 = 172.0;
const LEFT: f64 = 20.0;
const RIGHT: f64 = 4.0;
const PANEL: f64 = 34.0;
const GAP: f64 = 12.0;
const FOOT: f64 = 11.0;

/// A panel of the picture: its lower edge, and the range of values it shows.
struct Panel {
    low: f64,
    most: f64,
}
impl Panel {
    fn at(&self, share: f64, value: f64) -> Point {
        Point::new(LEFT + (WIDE - LEFT - RIGHT) * share, self.low + PANEL * value / self.most)
    }
}
/// Marks and labels as they are drawn.
#[derive(Default)]
struct Drawn {
    marks: Vec<Mark>,
    labels: Vec<Label>,
}
impl Drawn {
    fn line(&mut self, points: &[Point], pen: Pen) {
        self.path(points, Some(pen), Tone::None, false);
    }
    fn path(&mut self, points: &[Point], pen: Option<Pen>, fill: Tone, close: bool) {
        let mut path = BezPath::new();
        for (i, p) in points.iter().enumerate() {
            if i == 0 { path.move_to(*p) } else { path.line_to(*p) }
        }
        if close {
            path.close_path();
        }
        self.marks.push(Mark { path, pen, fill, hatch: false });
    }
    fn say(&mut self, at: Point, anchor: Anchor, text: impl Into<String>) {
        let size = drafting::size::SEVEN_POINT;
        self.labels.push(Label { at, anchor, turn: 0.0, size, text: text.into(), bold: false });
    }
    /// The frame of a panel with its scale.
    fn frame(&mut self, p: &Panel, title: &str, unit: &str) {
        let (a, b) = (p.at(0.0, 0.0), p.at(1.0, p.most));
        self.line(&[Point::new(a.x, b.y), a, Point::new(b.x, a.y)], Pen::Thin);
        let step = step(p.most / 4.0);
        let mut v = 0.0;
        while v <= p.most * 1.0001 {
            let at = p.at(0.0, v);
            self.line(&[Point::new(at.x - 1.2, at.y), at], Pen::Thin);
            self.say(Point::new(at.x - 1.8, at.y - 0.9), Anchor::End, reckon::print::significant(v, 4));
            v += step;
        }
        self.say(Point::new(LEFT - 1.0, b.y + 2.2), Anchor::Start, format!("{title}, {unit}"));
    }
}
/// The next of 1, 2, 5 and their tens above a size.
fn step(least: f64) -> f64 {
    let mut unit = 1e-3;
    loop {
        for k in [1.0, 2.0, 5.0] {
            if unit * k >= least * 0.999 {
                return unit * k;
            }
        }
        unit *= 10.0;
    }
}

/// The picture; none where no arc is known.
pub(super) fn run(d: &DriveDesign, p: Option<&PendulumDesign>) -> Option<Sketch> {
    let margin = d.margin.as_ref()?;
    let days = d.run.bare().value() / 86_400.0;
    let n = margin.moments.len();
    // A weight and a fusee pull evenly; a barrel's places are start, middle and end.
    let shares: Vec<f64> = if n == 1 { vec![0.0, 1.0] } else { vec![0.0, 0.5, 1.0] };
    let place = |i: usize| &margin.moments[i.min(n - 1)];
    let torques: Vec<f64> = match &d.spring {
        Some(s) if d.fusee.is_none() => s.moments.iter().map(|(_, t)| t.bare().value() * 1e3).collect(),
        _ => vec![d.torque.bare().value() * 1e3; 2],
    };
    let needed = p.and_then(|p| p.arc_needed).map(|a| a.bare().in_deg());
    let high =
        (0..shares.len()).map(|i| place(i).arc.high.bare().in_deg()).fold(needed.unwrap_or(0.0), f64::max);
    let top = |most: f64| {
        let s = step(most / 4.0);
        (most / s).ceil() * s
    };
    let arc = Panel { low: FOOT, most: top(high) };
    let torque = Panel { low: FOOT + PANEL + GAP, most: top(torques.iter().copied().fold(0.0, f64::max)) };
    let mut out = Drawn::default();
    let across = |p: &Panel, f: &dyn Fn(usize) -> f64| -> Vec<Point> {
        shares.iter().enumerate().map(|(i, s)| p.at(*s, f(i))).collect()
    };
    let mut band = across(&arc, &|i| place(i).arc.low.bare().in_deg());
    let mut upper = across(&arc, &|i| place(i).arc.high.bare().in_deg());
    upper.reverse();
    band.extend(upper);
    out.path(&band, None, Tone::Light, true);
    out.frame(&torque, "torque", "N mm");
    out.frame(&arc, "arc", "degrees");
    out.line(&across(&torque, &|i| torques[i.min(torques.len() - 1)]), Pen::Visible);
    out.line(&across(&arc, &|i| place(i).arc.likely.bare().in_deg()), Pen::Visible);
    if let Some(needed) = needed {
        out.line(&[arc.at(0.0, needed), arc.at(1.0, needed)], Pen::Hidden);
    }
    let whole = days.floor().clamp(1.0, 60.0);
    let mut day = 0.0;
    let every = step((whole / 8.0).max(1.0));
    while day <= days * 1.0001 {
        let at = arc.at(day / days, 0.0);
        out.line(&[at, Point::new(at.x, at.y - 1.2)], Pen::Thin);
        out.say(Point::new(at.x, at.y - 4.2), Anchor::Middle, reckon::print::significant(day, 3));
        day += every;
    }
    out.say(Point::new(f64::midpoint(LEFT, WIDE), 1.6), Anchor::Middle, "days since winding");
    Some(Sketch {
        width: WIDE,
        height: FOOT + 2.0 * PANEL + GAP + 7.0,
        marks: out.marks,
        labels: out.labels,
        scale: (1, 1),
        title: "torque and arc through one winding".to_owned(),
    })
}
