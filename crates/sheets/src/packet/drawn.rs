//! Strokes and words of a drawing that is no view of a part.

use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{BezPath, Point};

/// Width of such a drawing, millimetres.
pub(super) const WIDE: f64 = 172.0;

/// Marks and labels of a drawing under way.
#[derive(Default)]
pub(super) struct Drawn {
    pub marks: Vec<Mark>,
    pub labels: Vec<Label>,
}
impl Drawn {
    /// A line through points.
    pub fn line(&mut self, points: &[Point], pen: Pen) {
        self.path(points, Some(pen), Tone::None, false);
    }
    /// A path, filled or not.
    pub fn path(&mut self, points: &[Point], pen: Option<Pen>, fill: Tone, close: bool) {
        let mut path = BezPath::new();
        for (i, p) in points.iter().enumerate() {
            if i == 0 { path.move_to(*p) } else { path.line_to(*p) }
        }
        if close {
            path.close_path();
        }
        self.marks.push(Mark { path, pen, fill, hatch: false });
    }
    /// A ring about a point.
    pub fn ring(&mut self, at: Point, radius: f64, fill: Tone) {
        let path = kurbo::Shape::to_path(&kurbo::Circle::new(at, radius), 0.01);
        self.marks.push(Mark { path, pen: Some(Pen::Visible), fill, hatch: false });
    }
    /// Words, as small as are read.
    pub fn say(&mut self, at: impl Into<Point>, anchor: Anchor, text: impl Into<String>) {
        self.label(at.into(), anchor, text.into(), false);
    }
    /// The same, heavy.
    pub fn stress(&mut self, at: impl Into<Point>, anchor: Anchor, text: impl Into<String>) {
        self.label(at.into(), anchor, text.into(), true);
    }
    fn label(&mut self, at: Point, anchor: Anchor, text: String, bold: bool) {
        let size = drafting::size::SEVEN_POINT;
        self.labels.push(Label { at, anchor, turn: 0.0, size, text, bold });
    }
    /// What was drawn, of a size in millimetres.
    pub fn done(self, (width, height): (f64, f64), title: &str) -> Sketch {
        let Drawn { marks, labels } = self;
        Sketch { width, height, marks, labels, scale: (1, 1), title: title.to_owned() }
    }
}
