//! Plan of the movement: the plates' outline, and every body as a circle.

use super::Board;
use crate::Typecase;
use crate::packet::Contents;
use ::movement::design::Movement;
use ::movement::design::layout::{BodyKind, Stand};
use drafting::sketch::{Pen, Sketch, Tone};
use kurbo::{Point, Rect};

/// White round the drawing, millimetres on paper.
const MARGIN: f64 = 4.0;

fn at(s: Stand) -> Point {
    Point::new(s.x.bare().in_mm(), s.y.bare().in_mm())
}
/// The rectangle round the plates and all that reaches over them.
fn bounds(of: &Contents<'_>, m: &Movement) -> Option<Rect> {
    let p = of.clock.movement.as_ref()?.plates.as_ref()?;
    let corner = at(m.layout.corner?);
    let mut r = Rect::from_origin_size(corner, (p.size.0.bare().in_mm(), p.size.1.bare().in_mm()));
    for s in &m.layout.solids {
        let (c, d) = (at(s.stand), s.diameter.bare().in_mm());
        r = r.union(Rect::from_center_size(c, (d, d)));
    }
    Some(r)
}
fn plate(of: &Contents<'_>, m: &Movement) -> Option<Rect> {
    let p = of.clock.movement.as_ref()?.plates.as_ref()?;
    Some(Rect::from_origin_size(at(m.layout.corner?), (p.size.0.bare().in_mm(), p.size.1.bare().in_mm())))
}
/// The plan at the largest usual scale that fits the paper.
pub(super) fn plan(of: &Contents<'_>, m: &Movement, room: (f64, f64), case: &Typecase) -> Option<Sketch> {
    let b = bounds(of, m)?;
    let fits = |(up, down): (u32, u32)| {
        let k = f64::from(up) / f64::from(down);
        b.width() * k + 2.0 * MARGIN <= room.0 && b.height() * k + 2.0 * MARGIN <= room.1
    };
    let scale = [(2, 1), (1, 1), (1, 2), (1, 5)].into_iter().find(|s| fits(*s)).unwrap_or((1, 10));
    Some(draw(of, m, b, scale, true, case))
}
/// The pitch circles at full size.
pub(super) fn template(of: &Contents<'_>, m: &Movement, case: &Typecase) -> Option<Sketch> {
    m.train.meshes.iter().any(|mesh| mesh.sizes.is_some()).then_some(())?;
    Some(draw(of, m, bounds(of, m)?, (1, 1), false, case))
}
fn draw(of: &Contents<'_>, m: &Movement, b: Rect, scale: (u32, u32), all: bool, case: &Typecase) -> Sketch {
    let k = f64::from(scale.0) / f64::from(scale.1);
    let place = |p: Point| Point::new((p.x - b.x0) * k + MARGIN, (p.y - b.y0) * k + MARGIN);
    let (width, height) = (b.width() * k + 2.0 * MARGIN, b.height() * k + 2.0 * MARGIN);
    let mut board = Board::new(case);
    if let Some(r) = plate(of, m) {
        let (lower, upper) = (place(Point::new(r.x0, r.y0)), place(Point::new(r.x1, r.y1)));
        board.rect(Rect::new(lower.x, lower.y, upper.x, upper.y), Pen::Visible, Tone::None, false);
    }
    for mesh in &m.train.meshes {
        let Some(s) = &mesh.sizes else { continue };
        for (arbor, toothed) in [(Some(mesh.driver), &s.wheel), (mesh.driven, &s.pinion)] {
            let Some(stand) = arbor.and_then(|i| m.layout.stands[i]) else { continue };
            let c = place(at(stand));
            board.circle(c, toothed.pitch.bare().in_mm() * k, Pen::Centre);
            board.circle(c, toothed.outside.bare().in_mm() * k, Pen::Thin);
        }
    }
    let mut names: Vec<(Point, f64, String)> = Vec::new();
    for s in &m.layout.solids {
        let (c, d) = (place(at(s.stand)), s.diameter.bare().in_mm() * k);
        match s.kind {
            BodyKind::EscapeWheel => board.circle(c, d, Pen::Thin),
            BodyKind::Barrel => {
                board.circle(c, d, Pen::Hidden);
                if s.arbor.is_none() {
                    names.push((c, 1.0, s.name.trim_start_matches("the ").to_owned()));
                }
            }
            BodyKind::Pillar => {
                board.circle(c, d, Pen::Visible);
                let name = if s.slug.contains(".post.") { "post" } else { s.name.as_str() };
                names.push((c, d / 2.0, name.to_owned()));
            }
            BodyKind::Arbor => {
                board.circle(c, d, Pen::Visible);
                names.push((
                    c,
                    d / 2.0,
                    s.arbor.map_or_else(|| s.name.clone(), |i| m.train.arbors[i].facts.name.clone()),
                ));
            }
            BodyKind::Wheel | BodyKind::Pinion | BodyKind::Pallets => {}
        }
    }
    // Centres stay free of words.
    for (c, r, _) in &names {
        let arm = r + 1.5;
        board.line(Point::new(c.x - arm, c.y), Point::new(c.x + arm, c.y), Pen::Thin);
        board.line(Point::new(c.x, c.y - arm), Point::new(c.x, c.y + arm), Pen::Thin);
        board.taken.push(Rect::from_center_size(*c, (2.0 * r, 2.0 * r)));
    }
    if all
        && let Some(stand) = m.train.pallets.and_then(|p| m.layout.stands[p])
        && of.clock.movement.as_ref().is_some_and(|f| f.pendulum.is_some())
    {
        let c = place(at(stand));
        board.line(Point::new(c.x, c.y + 6.0), Point::new(c.x, 1.0), Pen::Centre);
        names.push((Point::new(c.x, MARGIN + 9.0), 0.0, "pendulum".to_owned()));
    }
    let within = Rect::new(0.5, 0.5, width - 0.5, height - 0.5);
    for (c, r, name) in &names {
        board.name(*c, *r, name, within);
    }
    let title = if all {
        format!("scale {}:{}", scale.0, scale.1)
    } else {
        "wheels and centres, true size".to_owned()
    };
    board.done(width, height, scale, title)
}
