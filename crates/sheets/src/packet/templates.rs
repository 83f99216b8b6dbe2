//! Full-size templates: to stick on sheet, or to lay a curve on.

use super::Contents;
use crate::{Block, Sheet, Template, Typecase};
use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{Affine, BezPath, PathEl, Point, Shape};
use movement::part::{Body, FlatBody, Part};

/// Accuracy of curves on paper, millimetres.
const FINE: f64 = 0.002;

/// Templates for a flat part, or for a turned part with curves; none for others. What is larger
/// than a page comes in tiles.
pub(super) fn sheets(of: &Contents<'_>, part: &Part, number: &str, case: &Typecase) -> Vec<Sheet> {
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
        Body::Turned(_) => return Vec::new(),
    };
    let note = match &part.body {
        Body::Flat(_) => {
            "Measure the bar first. Stick the paper on the sheet; prick through the centres; saw outside the line."
        }
        Body::Turned(_) => {
            "Measure the bar first. Stick the paper on card or thin brass, cut to the line, and hold it to the work against the light."
        }
    };
    full_size(of, &sketch, &part.common.name, note, number, case)
}
/// A drawing at full size on a page of its own, or on as many as it needs.
pub(super) fn full_size(
    of: &Contents<'_>,
    sketch: &Sketch,
    part: &str,
    note: &str,
    number: &str,
    case: &Typecase,
) -> Vec<Sheet> {
    let (width, height) = match of.clock.paper {
        record::facts::Paper::A4 => (178.0, 212.0),
        record::facts::Paper::Letter => (183.0, 194.0),
    };
    let sheet = |sketch, note: &str| Sheet {
        title: "template".to_owned(),
        part: part.to_owned(),
        number: number.to_owned(),
        blocks: vec![Block::Template(Template { sketch, note: note.into() })],
    };
    if sketch.width <= width && sketch.height <= height {
        return vec![sheet(sketch.clone(), note)];
    }
    // Narrower, so that a bar stands along the paper too.
    let more = format!("{note} Several pages: lay cross on cross, and measure over the whole before gluing.");
    tiles(sketch, (width - 12.0, height - 6.0), case).into_iter().map(|t| sheet(t, &more)).collect()
}
/// What two neighbouring tiles have in common, millimetres.
const OVERLAP: f64 = 16.0;

/// Cuts a drawing into tiles that overlap; crosses in the strips in common.
fn tiles(sketch: &Sketch, room: (f64, f64), case: &Typecase) -> Vec<Sketch> {
    let cut = |whole: f64, room: f64| {
        let mut from = vec![0.0];
        while whole - from.last().copied().unwrap_or(0.0) > room {
            let next = from.last().copied().unwrap_or(0.0) + room - OVERLAP;
            from.push(next);
        }
        from
    };
    let (across, up) = (cut(sketch.width, room.0), cut(sketch.height, room.1));
    let mut whole = sketch.clone();
    crosses(&mut whole, &across, &up, room);
    let count = across.len() * up.len();
    let mut all = Vec::new();
    for (row, y0) in up.iter().enumerate() {
        for (column, x0) in across.iter().enumerate() {
            let (w, h) = ((whole.width - x0).min(room.0), (whole.height - y0).min(room.1));
            let marks = whole
                .marks
                .iter()
                .filter(|m| m.pen.is_some())
                .map(|m| Mark { path: clipped(&m.path, (*x0, *y0), (w, h)), fill: Tone::None, ..m.clone() })
                .filter(|m| !m.path.elements().is_empty())
                .collect();
            let labels = whole
                .labels
                .iter()
                .filter_map(|l| {
                    let wide = case.width(&l.text, l.size, l.bold);
                    let begin = match l.anchor {
                        Anchor::Start => 0.0,
                        Anchor::Middle => wide / 2.0,
                        Anchor::End => wide,
                    };
                    let at = Point::new(l.at.x - x0, l.at.y - y0);
                    let inside = at.x - begin >= 0.0
                        && at.x - begin + wide <= w
                        && at.y >= l.size * 0.3
                        && at.y + l.size <= h;
                    inside.then(|| Label { at, ..l.clone() })
                })
                .collect();
            let n = row * across.len() + column + 1;
            let level = match (up.len(), row) {
                (1, _) => "",
                (_, 0) => ", below",
                (all, r) if r + 1 == all => ", above",
                _ => ", middle",
            };
            let side = match (across.len(), column) {
                (1, _) => "",
                (_, 0) => ", left",
                (all, c) if c + 1 == all => ", right",
                _ => ", middle",
            };
            let mut tile = Sketch {
                width: w,
                height: h + 6.0,
                marks,
                labels,
                scale: (1, 1),
                title: format!("{} ({n} of {count})", sketch.title),
            };
            tile.labels.push(Label {
                at: Point::new(0.0, h + 2.5),
                anchor: Anchor::Start,
                turn: 0.0,
                size: drafting::size::NINE_POINT,
                text: format!("sheet {n} of {count}{level}{side}"),
                bold: true,
            });
            all.push(tile);
        }
    }
    all
}
/// Crosses in the middle of the strips that neighbours have in common, three along each.
fn crosses(whole: &mut Sketch, across: &[f64], up: &[f64], room: (f64, f64)) {
    let (arm, half) = (5.0, OVERLAP / 2.0);
    let mut spots = Vec::new();
    let along = |from: f64, length: f64| [0.08, 0.5, 0.92].map(|f| from + length * f);
    for y in up.iter().skip(1) {
        for x0 in across {
            let long = (whole.width - x0).min(room.0);
            spots.extend(along(*x0, long).map(|x| Point::new(x, y + half)));
        }
    }
    for x in across.iter().skip(1) {
        for y0 in up {
            let long = (whole.height - y0).min(room.1);
            spots.extend(along(*y0, long).map(|y| Point::new(x + half, y)));
        }
    }
    for p in spots {
        let mut path = BezPath::new();
        for (dx, dy) in [(arm, 0.0), (0.0, arm)] {
            path.move_to(Point::new(p.x - dx, p.y - dy));
            path.line_to(Point::new(p.x + dx, p.y + dy));
        }
        whole.marks.push(Mark { path, pen: Some(Pen::Visible), fill: Tone::None, hatch: false });
    }
}
/// The part of a path inside a rectangle, moved to its corner; curves as short lines.
fn clipped(path: &BezPath, corner: (f64, f64), size: (f64, f64)) -> BezPath {
    let mut out = BezPath::new();
    let (mut begin, mut here) = (Point::ZERO, Point::ZERO);
    let mut last: Option<Point> = None;
    let mut line = |a: Point, b: Point| {
        let moved = |p: Point| Point::new(p.x - corner.0, p.y - corner.1);
        let Some((a, b)) = within(moved(a), moved(b), size) else { return };
        if last.is_none_or(|l| l.distance(a) > 1e-9) {
            out.move_to(a);
        }
        out.line_to(b);
        last = Some(b);
    };
    kurbo::flatten(path, 0.01, |el| match el {
        PathEl::MoveTo(p) => (begin, here) = (p, p),
        PathEl::LineTo(p) => {
            line(here, p);
            here = p;
        }
        PathEl::ClosePath => {
            line(here, begin);
            here = begin;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    out
}
/// The part of a line inside a rectangle at the origin.
pub(super) fn within(a: Point, b: Point, (w, h): (f64, f64)) -> Option<(Point, Point)> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, room) in [(-dx, a.x), (dx, w - a.x), (-dy, a.y), (dy, h - a.y)] {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            from = from.max(room / step);
        } else {
            to = to.min(room / step);
        }
    }
    (from < to)
        .then(|| (Point::new(a.x + dx * from, a.y + dy * from), Point::new(a.x + dx * to, a.y + dy * to)))
}
fn plate(part: &Part, body: &FlatBody, case: &Typecase) -> Sketch {
    let outline = body.solid.outline.to_path(FINE);
    let bounds = outline.bounding_box();
    let margin = 8.0;
    let place = Affine::translate((margin - bounds.x0, margin - bounds.y0));
    let thin =
        |path: BezPath| Mark { path: place * path, pen: Some(Pen::Thin), fill: Tone::None, hatch: false };
    let mut marks = vec![thin(outline)];
    marks.extend(body.solid.windows.iter().map(|w| thin(w.to_path(FINE))));
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
