//! A drawing brought onto a page: lines get their widths, cut faces their
//! hatching, labels their letters.

use drafting::sketch::{Anchor, Mark, Pen, Sketch, Tone};
use kurbo::{Affine, BezPath, PathEl, Shape, Vec2};
use reckon::maths;

use crate::page::{Ink, Item, Page, Stroke};
use crate::paper::MM;
use crate::para::{Look, Side};
use crate::typecase::{LEAST, Typecase};
use crate::unprintable::Unprintable;

/// Distance of hatch lines in millimetres, across them.
const HATCH: f64 = 1.6;

/// A sketch as a page of its own size, to be written by [`crate::svg`].
///
/// # Errors
/// Signs that no face has, and type below 7 pt.
pub fn drawing(case: &Typecase, sketch: &Sketch) -> Result<Page, Vec<Unprintable>> {
    let mut troubles = Vec::new();
    let items = drawn(case, sketch, 1.0, &mut troubles);
    troubles.extend(case.take_missing());
    if troubles.is_empty() {
        Ok(Page { width: sketch.width * MM, height: sketch.height * MM, items })
    } else {
        Err(troubles)
    }
}

/// Draws a sketch with its top left corner at the origin, `size` times as
/// large as it was drawn. Line widths and labels keep their size.
pub(crate) fn drawn(
    case: &Typecase,
    sketch: &Sketch,
    size: f64,
    troubles: &mut Vec<Unprintable>,
) -> Vec<Item> {
    let k = size * MM;
    let map = Affine::new([k, 0.0, 0.0, -k, 0.0, sketch.height * k]);
    let mut out = Vec::new();
    for mark in &sketch.marks {
        draw(mark, map, &mut out);
    }
    for label in &sketch.labels {
        let pt = label.size * MM * size;
        if pt < LEAST - 1e-6 {
            troubles.push(Unprintable::TooSmall { text: label.text.clone(), size: pt });
        }
        let mut para = case.words(&label.text, Look::label(pt, label.bold));
        let width = para.natural();
        para.fit(width, Side::Left);
        let back = match label.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        let mut set = Vec::new();
        para.lay(case, -back, -para.baseline(), &mut set);
        // y is down here, so a turn to the left is a turn by the negative.
        let turn = Vec2::new(maths::cos(label.turn), -maths::sin(label.turn));
        let spin = Affine::new([turn.x, turn.y, -turn.y, turn.x, 0.0, 0.0]);
        let at = map * label.at;
        for item in set {
            if let Item::Run(mut run) = item {
                run.at = at + (spin * run.at).to_vec2();
                run.turn = if label.turn == 0.0 { Vec2::new(1.0, 0.0) } else { turn };
                out.push(Item::Run(run));
            }
        }
    }
    out
}

fn draw(mark: &Mark, map: Affine, out: &mut Vec<Item>) {
    let path = map * &mark.path;
    if mark.path.elements().len() < 2 {
        return;
    }
    let fill = match mark.fill {
        Tone::None => None,
        Tone::Ink => Some(Ink::BLACK),
        Tone::White => Some(Ink::WHITE),
        Tone::Light => Some(Ink::BAND),
        Tone::Mid => Some(Ink::RULE),
        Tone::Colour(rgb) => Some(Ink(rgb)),
    };
    if fill.is_some() {
        out.push(Item::Path { path: path.clone(), fill, stroke: None });
    }
    if mark.hatch {
        out.push(Item::Clip { outline: path.clone(), items: vec![hatch(&path)] });
    }
    if let Some(pen) = mark.pen {
        let stroke = stroke(pen);
        out.push(Item::Path { path, fill: None, stroke: Some(stroke) });
    }
}

fn stroke(pen: Pen) -> Stroke {
    let mm = |w: f64, dash: &[f64]| Stroke {
        width: w * MM,
        ink: Ink::BLACK,
        dash: dash.iter().map(|d| d * MM).collect(),
        round: true,
    };
    match pen {
        Pen::Visible => mm(0.5, &[]),
        Pen::Hidden => Stroke { round: false, ..mm(0.25, &[2.2, 1.1]) },
        Pen::Centre => Stroke { round: false, ..mm(0.18, &[6.0, 1.0, 0.8, 1.0]) },
        Pen::Thin => mm(0.18, &[]),
        Pen::Thread | Pen::Break => mm(0.25, &[]),
        Pen::Frame => Stroke { round: false, ..mm(0.35, &[]) },
    }
}

/// Lines at 45° over the box of a path, from lower left to upper right. They
/// lie on one grid for the whole drawing, so that neighbours match.
fn hatch(over: &BezPath) -> Item {
    let b = over.bounding_box();
    let step = HATCH * MM * maths::sqrt(2.0);
    let mut lines = BezPath::new();
    // On such a line x + y is constant.
    let mut c = ((b.x0 + b.y0) / step).ceil() * step;
    while c < b.x1 + b.y1 {
        let (xa, xb) = ((c - b.y1).max(b.x0), (c - b.y0).min(b.x1));
        if xb > xa {
            lines.push(PathEl::MoveTo((xa, c - xa).into()));
            lines.push(PathEl::LineTo((xb, c - xb).into()));
        }
        c += step;
    }
    Item::Path { path: lines, fill: None, stroke: Some(Stroke::plain(0.18 * MM, Ink::BLACK)) }
}
