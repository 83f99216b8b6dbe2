//! What a proof shows, drawn: the work before and after, what is left over, what was gouged, the tool's way.

use super::super::templates::within;
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{Affine, BezPath, Point, Rect};

/// One closed outline in millimetres.
pub type Ring = Vec<(f64, f64)>;

/// Outlines of a proof.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shown {
    /// What it shows.
    pub title: String,
    /// The stock.
    pub before: Vec<Ring>,
    /// What is left.
    pub after: Vec<Ring>,
    /// What is left and not wanted.
    pub remainder: Vec<Ring>,
    /// What is wanted and gone.
    pub gouge: Vec<Ring>,
    /// Paths, and whether they are rapids.
    pub paths: Vec<(bool, Ring)>,
    /// Whether it is a half section about an axis along its foot.
    pub turned: bool,
}

/// Scales that a drawing may have.
const SCALES: [(u32, u32); 10] =
    [(1, 5), (1, 2), (1, 1), (3, 2), (2, 1), (3, 1), (4, 1), (5, 1), (8, 1), (10, 1)];
/// Height kept for the legend, millimetres.
const FOOT: f64 = 9.0;
/// Its width.
const LEGEND: f64 = 150.0;
const LEFT_OVER: Tone = Tone::Colour([226, 145, 20]);
const GOUGED: Tone = Tone::Colour([200, 30, 30]);

/// Draws it as large as fits into a width and a height, in millimetres, over its legend.
#[must_use]
pub fn picture(shown: &Shown, width: f64, height: f64) -> Sketch {
    let mut sketch = bare(shown, width, height - FOOT);
    let up = Affine::translate((0.0, FOOT));
    sketch.marks.iter_mut().for_each(|m| m.path.apply_affine(up));
    let mut legend = legend();
    sketch.marks.append(&mut legend.marks);
    Sketch {
        width: sketch.width.max(legend.width),
        height: sketch.height + FOOT,
        labels: legend.labels,
        ..sketch
    }
}
/// Draws it as large as fits into a width and a height, in millimetres, without legend.
pub(super) fn bare(shown: &Shown, width: f64, height: f64) -> Sketch {
    let margin = 3.0;
    let all = shown.before.iter().chain(&shown.after).chain(&shown.remainder).flatten();
    let bounds = all
        .map(|&(x, y)| Rect::from_points((x, y), (x, y)))
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::new(0.0, 0.0, 1.0, 1.0))
        .inflate(margin, margin);
    let bounds = if shown.turned { Rect::new(bounds.x0, -1.0, bounds.x1, bounds.y1) } else { bounds };
    let fits = |&(paper, real): &(u32, u32)| {
        let k = f64::from(paper) / f64::from(real);
        bounds.width() * k <= width && bounds.height() * k <= height
    };
    let scale = SCALES.iter().rev().find(|s| fits(s)).copied().unwrap_or(SCALES[0]);
    let k = f64::from(scale.0) / f64::from(scale.1);
    let place = |(x, y): (f64, f64)| Point::new((x - bounds.x0) * k, (y - bounds.y0) * k);
    let size = (bounds.width() * k, bounds.height() * k);
    let mut marks = Vec::new();
    let mut fill = |rings: &[Ring], pen: Option<Pen>, tone: Tone, hatch: bool| {
        let path = closed(rings, &place);
        if !path.elements().is_empty() {
            marks.push(Mark { path, pen, fill: tone, hatch });
        }
    };
    fill(&shown.before, Some(Pen::Thin), Tone::Light, false);
    fill(&shown.after, Some(Pen::Visible), Tone::White, false);
    fill(&shown.after, Some(Pen::Visible), Tone::None, true);
    fill(&shown.remainder, Some(Pen::Thin), LEFT_OVER, false);
    fill(&shown.gouge, Some(Pen::Thin), GOUGED, false);
    for (rapid, ring) in &shown.paths {
        let mut path = BezPath::new();
        for pair in ring.windows(2) {
            let Some((a, b)) = within(place(pair[0]), place(pair[1]), size) else { continue };
            path.move_to(a);
            path.line_to(b);
        }
        if !path.elements().is_empty() {
            let pen = if *rapid { Pen::Hidden } else { Pen::Thin };
            marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
        }
    }
    if shown.turned {
        let mut axis = BezPath::new();
        axis.move_to(place((bounds.x0, 0.0)));
        axis.line_to(place((bounds.x1, 0.0)));
        marks.push(Mark { path: axis, pen: Some(Pen::Centre), fill: Tone::None, hatch: false });
    }
    let title = shown.title.clone();
    Sketch { width: size.0, height: size.1, marks, labels: Vec::new(), scale, title }
}
/// What the tones and lines of a picture mean.
pub(super) fn legend() -> Sketch {
    let (mut marks, mut labels) = (Vec::new(), Vec::new());
    let mut x = 0.0;
    let entries: [(&str, Tone, bool, f64); 4] = [
        ("taken off", Tone::Light, false, 26.0),
        ("left", Tone::None, true, 18.0),
        ("left over", LEFT_OVER, false, 26.0),
        ("gouged", GOUGED, false, 24.0),
    ];
    for (text, tone, hatch, room) in entries {
        let path = rectangle(x, 1.0, 5.0, 3.5);
        marks.push(Mark { path, pen: Some(Pen::Thin), fill: tone, hatch });
        labels.push(label(x + 6.5, 1.6, text));
        x += room;
    }
    for (text, pen) in [("cut", Pen::Thin), ("rapid", Pen::Hidden)] {
        let mut path = BezPath::new();
        path.move_to((x, 2.8));
        path.line_to((x + 8.0, 2.8));
        marks.push(Mark { path, pen: Some(pen), fill: Tone::None, hatch: false });
        labels.push(label(x + 9.5, 1.6, text));
        x += 20.0;
    }
    Sketch { width: LEGEND, height: FOOT, marks, labels, scale: (1, 1), title: String::new() }
}
fn label(x: f64, y: f64, text: &str) -> Label {
    Label {
        at: Point::new(x, y),
        anchor: Anchor::Start,
        turn: 0.0,
        size: drafting::size::NINE_POINT,
        text: text.to_owned(),
        bold: false,
    }
}
fn rectangle(x: f64, y: f64, width: f64, height: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((x, y));
    path.line_to((x + width, y));
    path.line_to((x + width, y + height));
    path.line_to((x, y + height));
    path.close_path();
    path
}
fn closed(rings: &[Ring], place: &impl Fn((f64, f64)) -> Point) -> BezPath {
    let mut path = BezPath::new();
    for ring in rings {
        let Some((&first, rest)) = ring.split_first() else { continue };
        path.move_to(place(first));
        for &p in rest {
            path.line_to(place(p));
        }
        path.close_path();
    }
    path
}
