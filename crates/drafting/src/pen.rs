//! Small helpers for putting lines and arcs of a view on its board.

use crate::board::{Board, Kind};
use crate::sketch::{Mark, Pen, Tone};
use kurbo::{BezPath, Point, Rect};
use shape::profile::Profile;

/// Accuracy of curves turned into Béziers or chords, on paper.
const FINE: f64 = 0.01;

impl Board {
    /// A straight line.
    pub(crate) fn stroke(&mut self, a: Point, b: Point, pen: Pen) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
        self.heed(&[a, b], kind(pen));
    }
    /// A chain, in paper millimetres.
    pub(crate) fn chain(&mut self, chain: &Profile, pen: Pen) {
        if chain.segments().is_empty() {
            return;
        }
        self.marks.push(Mark { path: chain.to_path(FINE), pen: Some(pen), fill: Tone::None, hatch: false });
        self.heed(&chain.sampled(0.05), kind(pen));
    }
    /// A whole circle.
    pub(crate) fn circle(&mut self, centre: Point, radius: f64, pen: Pen) {
        self.chain(&Profile::circle(centre, radius), pen);
    }
    /// A closed face filled or hatched, without a line round it.
    pub(crate) fn face(&mut self, path: BezPath, fill: Tone, hatch: bool) {
        self.marks.push(Mark { path, pen: None, fill, hatch });
    }
    /// A box hidden under paper white, so that what is cut away there does not show.
    pub(crate) fn erase(&mut self, r: Rect) {
        self.face(box_path(r), Tone::White, false);
        self.strokes.retain(|s| {
            let m = s.a.midpoint(s.b);
            !(s.kind == Kind::Edge && r.contains(s.a) && r.contains(s.b) && r.contains(m))
        });
    }
}

/// A box as a closed path.
pub(crate) fn box_path(r: Rect) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((r.x0, r.y0));
    path.line_to((r.x1, r.y0));
    path.line_to((r.x1, r.y1));
    path.line_to((r.x0, r.y1));
    path.close_path();
    path
}

fn kind(pen: Pen) -> Kind {
    match pen {
        Pen::Centre => Kind::Centre,
        _ => Kind::Edge,
    }
}
