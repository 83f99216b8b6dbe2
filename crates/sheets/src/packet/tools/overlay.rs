//! The true outline of a cutter enlarged, with a bar to check the print: what its shadow is laid on.

use crate::Typecase;
use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{BezPath, Point};
use making::plan::teeth::Section;
use shape::profile::Profile;

/// White round the outline, millimetres on paper.
const MARGIN: f64 = 4.0;
/// Largest on paper.
const ROOM: (f64, f64) = (150.0, 105.0);

/// The outline at twenty times, or the largest of ten and five times that fits, and how many times that is.
pub(super) fn overlay(edge: &Profile, section: &Section, case: &Typecase) -> (Sketch, u32) {
    let b = edge.bounds();
    let fits = |k: &u32| {
        let k = f64::from(*k);
        b.width() * k + 2.0 * MARGIN <= ROOM.0 && b.height() * k + 2.0 * MARGIN + 10.0 <= ROOM.1
    };
    let times = [20, 10, 5].into_iter().find(fits).unwrap_or(2);
    let k = f64::from(times);
    let size = 3.2;
    let under = 10.0;
    let at = |p: Point| Point::new((p.x - b.x0) * k + MARGIN, (p.y - b.y0) * k + MARGIN + under);
    // The bar is as long as whole millimetres of the cutter.
    let bar = if b.width() >= 2.0 { 2.0 } else { 1.0 };
    let long = bar * k;
    let words = format!("{bar} mm of the cutter: {long} mm on paper");
    let width = (b.width() * k).max(long + case.width(&words, size, false) + 4.0) + 2.0 * MARGIN;
    let height = b.height() * k + 2.0 * MARGIN + under;
    let line = |points: &[Point]| {
        let mut path = BezPath::new();
        for (i, p) in points.iter().enumerate() {
            if i == 0 {
                path.move_to(*p);
            } else {
                path.line_to(*p);
            }
        }
        path
    };
    let mark = |path: BezPath, pen: Pen| Mark { path, pen: Some(pen), fill: Tone::None, hatch: false };
    let mut marks = vec![mark(edge.mapped(at).to_path(0.01), Pen::Thin)];
    marks.push(mark(line(&[at(Point::new(0.0, b.y0)), at(Point::new(0.0, b.y1))]), Pen::Centre));
    if let Some((up, _)) = section.pitch {
        marks.push(mark(line(&[at(Point::new(b.x0, -up)), at(Point::new(b.x1, -up))]), Pen::Centre));
    }
    let y = MARGIN + 1.0;
    marks.push(mark(line(&[Point::new(MARGIN, y), Point::new(MARGIN + long, y)]), Pen::Visible));
    for x in [MARGIN, MARGIN + long] {
        marks.push(mark(line(&[Point::new(x, y - 1.5), Point::new(x, y + 1.5)]), Pen::Thin));
    }
    let labels = vec![Label {
        at: Point::new(MARGIN + long + 3.0, y - 1.0),
        anchor: Anchor::Start,
        turn: 0.0,
        size,
        text: words,
        bold: false,
    }];
    let sketch =
        Sketch { width, height, marks, labels, scale: (times, 1), title: format!("outline, {times}:1") };
    (sketch, times)
}
