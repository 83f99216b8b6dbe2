//! Curves over a common axis, a panel each, one above the other.

use super::drawn::{Drawn, WIDE};
use drafting::sketch::{Anchor, Pen, Sketch, Tone};
use kurbo::Point;

const LEFT: f64 = 20.0;
const RIGHT: f64 = 4.0;
const GAP: f64 = 12.0;
const FOOT: f64 = 11.0;
const HEAD: f64 = 7.0;

/// A range that is drawn from end to end.
pub(in crate::packet) struct Axis {
    /// What it says, with its unit.
    pub says: String,
    /// Its lower end.
    pub from: f64,
    /// Its upper end.
    pub to: f64,
    /// From mark to mark.
    pub step: f64,
}
impl Axis {
    /// Around values, ended at whole steps, of which there are about so many.
    pub fn around(says: &str, values: impl IntoIterator<Item = f64>, steps: f64) -> Axis {
        let (lo, hi) =
            values.into_iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        let (lo, hi) = if lo.is_finite() && hi.is_finite() { (lo, hi) } else { (0.0, 1.0) };
        let step = step(((hi - lo) / steps).max(1e-9 * hi.abs().max(1e-9)));
        let (from, to) = ((lo / step).floor() * step, (hi / step).ceil() * step);
        Axis { says: says.to_owned(), from, to: if to > from { to } else { from + step }, step }
    }
    /// From one value to another, as written.
    pub fn from_to(says: &str, (from, to): (f64, f64), step: f64) -> Axis {
        Axis { says: says.to_owned(), from, to, step }
    }
    fn share(&self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from)
    }
    fn marks(&self) -> impl Iterator<Item = f64> + '_ {
        let first = (self.from / self.step - 1e-9).ceil();
        (0..1000_u32)
            .map(move |i| (first + f64::from(i)) * self.step)
            .take_while(|v| *v <= self.to + 1e-9 * self.step)
    }
    /// A mark's number, with the places that its step needs.
    fn number(&self, value: f64) -> String {
        let places = (0..6_usize)
            .find(|p| {
                let ten = reckon::maths::pow(10.0, f64::from(u8::try_from(*p).unwrap_or(0)));
                (self.step * ten - (self.step * ten).round()).abs() < 1e-6 * ten * self.step
            })
            .unwrap_or(6);
        let text = reckon::print::fixed(value, places);
        text.strip_prefix('-').map_or_else(|| text.clone(), |t| format!("−{t}"))
    }
}
/// Points of a curve: place along, and value.
pub(in crate::packet) type Curve = Vec<(f64, f64)>;
/// A panel: curves, and bands between two of them.
pub(in crate::packet) struct Panel {
    /// Its own axis, upwards.
    pub axis: Axis,
    /// Height in millimetres.
    pub height: f64,
    /// Grey bands: lower and upper edge over the same places.
    pub bands: Vec<Vec<(f64, f64, f64)>>,
    /// Lines, each with its pen and what stands at its right end.
    pub lines: Vec<(Pen, Curve, String)>,
    /// Places that are marked with a ring, and what is said of them.
    pub rings: Vec<(f64, f64, String)>,
}
impl Panel {
    /// One curve.
    pub fn new(axis: Axis, height: f64, curve: Curve) -> Panel {
        let lines = vec![(Pen::Visible, curve, String::new())];
        Panel { axis, height, bands: Vec::new(), lines, rings: Vec::new() }
    }
    /// Whether its main line rises at a place.
    fn rises_at(&self, x: f64) -> bool {
        let main = self.lines.iter().find(|l| l.0 == Pen::Visible);
        let part = main.and_then(|l| l.1.windows(2).find(|w| w[1].0 >= x));
        part.is_some_and(|w| w[1].1 > w[0].1)
    }
}

/// Panels over one axis, the first at the top.
pub(in crate::packet) fn chart(title: &str, across: &Axis, panels: &[Panel]) -> Sketch {
    let mut out = Drawn::default();
    let heights: f64 = panels.iter().map(|p| p.height).sum();
    let gaps = GAP * (panels.len().max(1) - 1) as f64;
    let height = FOOT + heights + gaps + HEAD;
    let mut top = height - HEAD;
    for (i, panel) in panels.iter().enumerate() {
        let low = top - panel.height;
        let at = |x: f64, y: f64| {
            Point::new(
                LEFT + (WIDE - LEFT - RIGHT) * across.share(x),
                low + panel.height * panel.axis.share(y),
            )
        };
        for band in &panel.bands {
            let mut round: Vec<Point> = band.iter().map(|(x, lo, _)| at(*x, *lo)).collect();
            round.extend(band.iter().rev().map(|(x, _, hi)| at(*x, *hi)));
            out.path(&round, None, Tone::Light, true);
        }
        out.frame(panel, across, &at);
        for (pen, points, says) in &panel.lines {
            let line: Vec<Point> = points.iter().map(|(x, y)| at(*x, *y)).collect();
            out.line(&line, *pen);
            if let ([.., before, end], false) = (line.as_slice(), says.is_empty()) {
                // Over a line that has risen to its end, under one that has fallen to it.
                let y = if end.y >= before.y { end.y + 1.2 } else { end.y - 3.4 };
                out.say(Point::new(end.x - 1.0, y), Anchor::End, says);
            }
        }
        for (x, y, says) in &panel.rings {
            let p = at(*x, *y);
            out.ring(p, 1.0, Tone::White);
            let y = if panel.rises_at(*x) { p.y - 3.8 } else { p.y + 1.6 };
            out.say(Point::new(p.x + 2.0, y), Anchor::Start, says);
        }
        for x in across.marks() {
            let p = Point::new(at(x, 0.0).x, low);
            out.line(&[p, Point::new(p.x, p.y - 1.2)], Pen::Thin);
            if i + 1 == panels.len() {
                out.say(Point::new(p.x, p.y - 4.2), Anchor::Middle, across.number(x));
            }
        }
        top = low - GAP;
    }
    out.say(Point::new(f64::midpoint(LEFT, WIDE), 1.6), Anchor::Middle, &across.says);
    Sketch {
        width: WIDE,
        height,
        marks: out.marks,
        labels: out.labels,
        scale: (1, 1),
        title: title.to_owned(),
    }
}
/// The next of 1, 2, 5 and their tens at or above a size.
pub(in crate::packet) fn step(least: f64) -> f64 {
    let mut unit = 1e-9;
    loop {
        for k in [1.0, 2.0, 5.0] {
            if unit * k >= least * 0.999 || unit > 1e12 {
                return unit * k;
            }
        }
        unit *= 10.0;
    }
}

impl Drawn {
    /// The frame of a panel with its scale, and a thin line at nothing where that lies inside.
    fn frame(&mut self, panel: &Panel, across: &Axis, at: &dyn Fn(f64, f64) -> Point) {
        let axis = &panel.axis;
        let (a, b) = (at(across.from, axis.from), at(across.to, axis.to));
        self.line(&[Point::new(a.x, b.y), a, Point::new(b.x, a.y)], Pen::Thin);
        for v in axis.marks() {
            let p = at(across.from, v);
            self.line(&[Point::new(p.x - 1.2, p.y), p], Pen::Thin);
            self.say(Point::new(p.x - 1.8, p.y - 0.9), Anchor::End, axis.number(v));
        }
        if axis.from < 0.0 && axis.to > 0.0 {
            let y = at(across.from, 0.0).y;
            self.line(&[Point::new(a.x, y), Point::new(b.x, y)], Pen::Thin);
        }
        self.say(Point::new(LEFT - 1.0, b.y + 2.2), Anchor::Start, &axis.says);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_end_at_whole_steps_around_their_values() {
        let a = Axis::around("x", [-0.31, 0.94], 4.0);
        assert!((a.step - 0.5).abs() < 1e-12 && (a.from + 0.5).abs() < 1e-12 && (a.to - 1.0).abs() < 1e-12);
        let marks: Vec<String> = a.marks().map(|v| a.number(v)).collect();
        assert_eq!(marks, ["−0.5", "0.0", "0.5", "1.0"]);
        let even = Axis::around("x", [3.0, 3.0], 4.0);
        assert!(even.to > even.from);
        assert_eq!(Axis::around("x", [0.0, 400.0], 4.0).marks().count(), 5);
    }
    #[test]
    fn curves_stay_in_their_frames_and_below_their_titles() {
        let up = Panel::new(Axis::around("up", [0.0, 8.0], 4.0), 30.0, vec![(0.0, 0.0), (24.0, 8.0)]);
        let down = Panel::new(Axis::around("down", [-2.0, 0.0], 4.0), 30.0, vec![(0.0, 0.0), (24.0, -2.0)]);
        let s = chart("two", &Axis::from_to("hours", (0.0, 24.0), 6.0), &[up, down]);
        let reach = s.marks.iter().map(|m| kurbo::Shape::bounding_box(&m.path)).reduce(|a, b| a.union(b));
        let reach = reach.expect("marks");
        assert!(reach.x0 > 0.0 && reach.x1 <= s.width && reach.y0 > 0.0 && reach.y1 < s.height);
        assert!(s.labels.iter().any(|l| l.text == "hours") && s.labels.iter().any(|l| l.text == "−2.0"));
    }
}
