//! The movement in height: arbors side by side, what they carry as rectangles along them.

use super::Board;
use crate::Typecase;
use crate::packet::Contents;
use ::movement::design::Movement;
use ::movement::design::layout::{BodyKind, Solid};
use drafting::sketch::{Pen, Sketch, Tone};
use kurbo::{Point, Rect};
use reckon::Length;

/// Highest that the picture may be, millimetres.
const HIGHEST: f64 = 165.0;

/// One arbor with what it carries, or a body that stands by itself.
struct Column<'a> {
    name: String,
    bodies: Vec<&'a Solid>,
}
fn ends(s: &Solid) -> (f64, f64) {
    (s.span.from.bare().in_mm(), s.span.to.bare().in_mm())
}
fn columns(m: &Movement) -> Vec<Column<'_>> {
    let mut order: Vec<usize> = (0..m.train.arbors.len()).collect();
    order.sort_by_key(|i| m.train.pallets == Some(*i));
    let mut all: Vec<Column<'_>> = order
        .into_iter()
        .map(|i| Column {
            name: m.train.arbors[i].facts.name.clone(),
            bodies: m.layout.solids.iter().filter(|s| s.arbor == Some(i)).collect(),
        })
        .filter(|c| !c.bodies.is_empty())
        .collect();
    let mut alone = |name: &str, kind: BodyKind| {
        if let Some(s) = m.layout.solids.iter().find(|s| s.arbor.is_none() && s.kind == kind) {
            all.push(Column { name: name.to_owned(), bodies: vec![s] });
        }
    };
    alone("barrel", BodyKind::Barrel);
    alone("pillar", BodyKind::Pillar);
    all
}
/// The view in height; none where nothing stands between plates.
pub(super) fn height(of: &Contents<'_>, m: &Movement, width: f64, case: &Typecase) -> Option<Sketch> {
    let p = of.clock.movement.as_ref()?.plates.as_ref()?;
    let (gap, thick) = (p.gap.bare().in_mm(), p.thickness.bare().in_mm());
    let columns = columns(m);
    let all = || columns.iter().flat_map(|c| &c.bodies);
    let least = all().map(|s| ends(s).0).fold(-thick, f64::min);
    let most = all().map(|s| ends(s).1).fold(gap + thick, f64::max);
    let widest = all().map(|s| s.diameter.bare().in_mm()).fold(1.0, f64::max);
    let scale = [(2, 1), (1, 1), (1, 2)]
        .into_iter()
        .find(|(a, b): &(u32, u32)| (most - least) * f64::from(*a) / f64::from(*b) <= HIGHEST);
    let scale = scale.unwrap_or((1, 5));
    let k = f64::from(scale.0) / f64::from(scale.1);
    let (below, above) = (3.0, 8.0);
    let y = |z: f64| below + (z - least) * k;
    #[expect(clippy::cast_precision_loss, reason = "a few arbors")]
    let each = width / columns.len() as f64;
    let across = each * 0.5 / widest;
    let mut board = Board::new(case);
    for (from, to) in [(-thick, 0.0), (gap, gap + thick)] {
        board.rect(Rect::new(0.0, y(from), width, y(to)), Pen::Visible, Tone::Light, false);
    }
    let number = |z: f64| {
        let text = of.style().number(Length::mm(z));
        reckon::print::trimmed(&text)
    };
    for (n, column) in columns.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a few arbors")]
        let left = each * n as f64;
        let middle = left + each * 0.27;
        let mut bodies = column.bodies.clone();
        // The arbor first, what it carries over it.
        bodies.sort_by_key(|s| s.kind != BodyKind::Arbor);
        let mut said: Vec<(f64, f64, String)> = Vec::new();
        for s in bodies {
            let (from, to) = ends(s);
            let half = (s.diameter.bare().in_mm() * across / 2.0).max(0.4);
            let tone = match s.kind {
                BodyKind::Arbor | BodyKind::Pillar => Tone::White,
                BodyKind::Barrel => Tone::None,
                _ => Tone::Mid,
            };
            let r = Rect::new(middle - half, y(from), middle + half, y(to));
            board.rect(r, Pen::Visible, tone, false);
            said.push((
                f64::midpoint(y(from), y(to)),
                middle + half,
                format!("{} – {}", number(from), number(to)),
            ));
        }
        let heights = spread(&said.iter().map(|s| s.0).collect::<Vec<f64>>(), board.size * 1.3, y(most));
        for ((at, edge, text), height) in said.iter().zip(heights) {
            let x = left + each * 0.56;
            board.line(Point::new(*edge, *at), Point::new(x - 0.8, height), Pen::Thin);
            board.say(Point::new(x, height - board.size * 0.3), text, false);
        }
        board.say(Point::new(left + 1.0, y(most) + 3.0), &column.name, true);
    }
    let title = format!("heights at scale {}:{}", scale.0, scale.1);
    Some(board.done(width, y(most) + above, scale, title))
}
/// Heights moved apart to at least `least`, in their order, and none above `top`.
fn spread(wanted: &[f64], least: f64, top: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|a, b| wanted[*a].total_cmp(&wanted[*b]));
    let mut found = wanted.to_vec();
    let mut before = f64::NEG_INFINITY;
    for i in &order {
        found[*i] = wanted[*i].max(before + least);
        before = found[*i];
    }
    let mut after = top + least;
    for i in order.iter().rev() {
        found[*i] = found[*i].min(after - least);
        after = found[*i];
    }
    found
}
