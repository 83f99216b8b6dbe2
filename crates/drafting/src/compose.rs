//! Boards put side by side on the paper, views in line, details where there is room.

use crate::board::{Board, moved};
use crate::scale::written;
use crate::size::Paper;
use crate::sketch::{Label, Sketch};
use kurbo::{Rect, Vec2};

/// Views in one line, their origins on one level.
pub(crate) struct Row {
    pub boards: Vec<Board>,
}

/// Between one view with its sizes and the next.
pub(crate) const GAP: f64 = 7.0;
/// White round the whole.
pub(crate) const MARGIN: f64 = 1.0;

/// Puts rows below each other and details beside or below them; none when they do not fit the paper.
pub(crate) fn compose(rows: &[Row], details: Vec<Board>, paper: &Paper, ratio: (u32, u32)) -> Option<Sketch> {
    let mut placed: Vec<(Board, Vec2)> = Vec::new();
    let mut floor = 0.0;
    // Views above each other stand with their origins in line.
    let margin = rows.iter().filter_map(|r| r.boards.first()).map(|b| -b.bounds.x0).fold(f64::MIN, f64::max);
    for row in rows {
        let top = row.boards.iter().map(|b| b.bounds.y1).fold(f64::MIN, f64::max);
        let bottom = row.boards.iter().map(|b| b.bounds.y0).fold(f64::MAX, f64::min);
        let mut x = row.boards.first().map_or(0.0, |b| margin + b.bounds.x0);
        for b in &row.boards {
            placed.push((b.clone(), Vec2::new(x - b.bounds.x0, floor - top)));
            x += b.bounds.width() + GAP;
        }
        floor -= top - bottom + GAP;
    }
    let room = (paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN);
    let whole = |placed: &[(Board, Vec2)]| {
        placed.iter().map(|(b, by)| b.bounds + *by).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
    };
    for d in details {
        let now = whole(&placed);
        let spot = spots(&placed, &d, now)
            .into_iter()
            .filter(|by| {
                let r = d.bounds + *by;
                let all = now.union(r);
                let clear = placed.iter().all(|(b, o)| {
                    let q = (b.bounds + *o).inflate(GAP - 0.01, GAP - 0.01);
                    r.x1 <= q.x0 || q.x1 <= r.x0 || r.y1 <= q.y0 || q.y1 <= r.y0
                });
                clear && all.width() <= room.0 && all.height() <= room.1
            })
            .min_by(|a, b| {
                let grown = |by: &Vec2| {
                    let all = now.union(d.bounds + *by);
                    all.width() * all.height() + 0.01 * (by.x.abs() + by.y.abs())
                };
                grown(a).total_cmp(&grown(b))
            })?;
        placed.push((d, spot));
    }
    let all = whole(&placed);
    if all.width() > room.0 + 1e-9 || all.height() > room.1 + 1e-9 {
        return None;
    }
    let shift = Vec2::new(MARGIN - all.x0, MARGIN - all.y0);
    let mut sketch = Sketch {
        width: all.width() + 2.0 * MARGIN,
        height: all.height() + 2.0 * MARGIN,
        marks: Vec::new(),
        labels: Vec::new(),
        scale: ratio,
        title: if paper.title.is_empty() {
            written(ratio)
        } else {
            format!("{} · {}", paper.title, written(ratio))
        },
    };
    for (b, by) in placed {
        let by = by + shift;
        sketch.marks.extend(b.marks.iter().map(|m| moved(m, by)));
        sketch.labels.extend(b.labels.into_iter().map(|l| Label { at: l.at + by, ..l }));
    }
    Some(sketch)
}

/// Places where a detail may go: against an edge of what is there, or under or over one of the views.
fn spots(placed: &[(Board, Vec2)], d: &Board, now: Rect) -> Vec<Vec2> {
    let b = d.bounds;
    let mut xs = vec![now.x1 + GAP - b.x0, now.x0 - GAP - b.x1, now.x0 - b.x0, now.x1 - b.x1];
    let mut ys = vec![now.y0 - GAP - b.y1, now.y1 + GAP - b.y0, now.y1 - b.y1, now.y0 - b.y0];
    for (o, by) in placed {
        let r = o.bounds + *by;
        xs.extend([r.x0 - b.x0, r.x1 + GAP - b.x0]);
        ys.extend([r.y1 - b.y1, r.y0 - GAP - b.y1, r.y1 + GAP - b.y0]);
    }
    xs.iter().flat_map(|x| ys.iter().map(|y| Vec2::new(*x, *y))).collect()
}
