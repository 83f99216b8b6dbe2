//! Full-size templates: to stick on sheet, or to lay a curve on.

use super::Contents;
use crate::{Block, Sheet, Template, Typecase};
use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{Affine, BezPath, Point, Shape};
use movement::part::{Body, FlatBody, Part};

/// Accuracy of curves on paper, millimetres.
const FINE: f64 = 0.002;

/// A template for a flat part, or for a turned part with curves; none for others.
pub(super) fn sheet(of: &Contents<'_>, part: &Part, number: &str, case: &Typecase) -> Option<Sheet> {
    let sketch = match &part.body {
        Body::Flat(body) => plate(part, body, case),
        Body::Turned(body) if body.steps.iter().any(|s| s.curved) => {
            let path = body.solid.outer.to_path(FINE);
            let bounds = path.bounding_box();
            let moved = Affine::translate((-bounds.x0, -bounds.y0 + 2.0)) * path;
            let mut axis = BezPath::new();
            axis.move_to(Point::new(0.0, 2.0));
            axis.line_to(Point::new(bounds.width(), 2.0));
            let mark = |path, pen| Mark { path, pen: Some(pen), fill: Tone::None, hatch: false };
            Sketch {
                width: bounds.width() + 4.0,
                height: bounds.height() + 6.0,
                marks: vec![mark(moved, Pen::Thin), mark(axis, Pen::Centre)],
                labels: Vec::new(),
                scale: (1, 1),
                title: format!("{}: half outline, true size", part.common.name),
            }
        }
        Body::Turned(_) => return None,
    };
    let (width, height) = match of.clock.paper {
        record::facts::Paper::A4 => (180.0, 235.0),
        record::facts::Paper::Letter => (186.0, 218.0),
    };
    if sketch.width > width || sketch.height > height {
        return None;
    }
    let note = match &part.body {
        Body::Flat(_) => {
            "Measure the bar first. Stick the paper on the sheet; prick through the centres; saw outside the line."
        }
        Body::Turned(_) => {
            "Measure the bar first. Stick the paper on card or thin brass, cut to the line, and hold it to the work against the light."
        }
    };
    Some(Sheet {
        title: "template".to_owned(),
        part: part.common.name.clone(),
        number: number.to_owned(),
        blocks: vec![Block::Template(Template { sketch, note: note.into() })],
    })
}
fn plate(part: &Part, body: &FlatBody, case: &Typecase) -> Sketch {
    let outline = body.solid.outline.to_path(FINE);
    let bounds = outline.bounding_box();
    let margin = 8.0;
    let place = Affine::translate((margin - bounds.x0, margin - bounds.y0));
    let thin =
        |path: BezPath| Mark { path: place * path, pen: Some(Pen::Thin), fill: Tone::None, hatch: false };
    let mut marks = vec![thin(outline)];
    let mut labels = Vec::new();
    let size = drafting::size::NINE_POINT;
    for hole in &body.solid.holes {
        marks.push(thin(kurbo::Circle::new(hole.at, hole.diameter / 2.0).to_path(FINE)));
        let arm = (hole.diameter / 2.0 + 2.0).max(3.0);
        for (dx, dy) in [(arm, 0.0), (0.0, arm)] {
            let mut line = BezPath::new();
            line.move_to(Point::new(hole.at.x - dx, hole.at.y - dy));
            line.line_to(Point::new(hole.at.x + dx, hole.at.y + dy));
            marks.push(thin(line));
        }
        let wide = case.width(&hole.label, size, false);
        let at = place * Point::new(hole.at.x + arm * 0.8, hole.at.y + arm * 0.3);
        let clear = labels
            .iter()
            .all(|l: &Label| (l.at.x - at.x).abs() > wide * 1.5 || (l.at.y - at.y).abs() > size * 1.2);
        if clear {
            labels.push(Label {
                at,
                anchor: Anchor::Start,
                turn: 0.0,
                size,
                text: hole.label.clone(),
                bold: false,
            });
        }
    }
    Sketch {
        width: bounds.width() + 2.0 * margin,
        height: bounds.height() + 2.0 * margin,
        marks,
        labels,
        scale: (1, 1),
        title: format!("{}: true size", part.common.name),
    }
}
