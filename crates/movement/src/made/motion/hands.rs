//! The hands as flat parts, and the seconds hand's pipe.

use super::super::common::{About, LIMITS, house, long, sized};
use super::super::wheels::hole;
use crate::design::Movement;
use crate::design::hands::{HandDesign, HandsDesign, Seat};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{AxisHole, Figure, FlatBody, FlatNote, Part, Told};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Length, Val, work};
use record::facts::{Finish, MovementFacts};
use shape::flat::Flat;
use shape::profile::Profile;
use shape::turned::End;

/// All hands.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let Some(hands) = &m.hands else { return Vec::new() };
    let at = facts.hands.as_ref().map(|h| &h.at).or_else(|| facts.dial.as_ref().map(|d| &d.at));
    let Some(at) = at else { return Vec::new() };
    let mut all: Vec<Part> = hands.all().map(|h| hand(h, hands, at, book)).collect();
    if let Some(seconds) = &hands.seconds {
        all.extend(pipe(m, seconds, hands, at, book));
    }
    all
}
fn hand(h: &HandDesign, of: &HandsDesign, at: &reckon::Place, book: &mut Book) -> Part {
    let slug = h.slug;
    let thickness = long(of.thickness, &format!("{slug}.thickness"), 0.02, -0.05, book);
    let solid = Flat::new(h.outline.clone(), thickness.nominal.bare().in_mm());
    let zero =
        book.assumed(format_args!("{slug}.axis"), Length::ZERO, "sizes of a hand are measured from its axis");
    let bounds = h.outline.bounds();
    let inputs: Vec<reckon::Id> = [Some(h.length.id()), h.tail.map(|t| t.id()), h.poise.map(|p| p.id())]
        .into_iter()
        .flatten()
        .collect();
    let mut extreme = |name: &str, mm: f64| {
        book.solved(
            format_args!("{slug}.{name}"),
            Length::mm(mm),
            ("the extreme points of the outline, lines and arcs", 1, 0.0),
            inputs.clone(),
            &GEOMETRY,
        )
    };
    let extent = (extreme("width", bounds.width()), extreme("height", bounds.height()));
    let datum = (extreme("datum.x", bounds.x0), extreme("datum.y", bounds.y0));
    let (mut holes, mut notes) = (Vec::new(), Vec::new());
    let size = sized(h.hole, &format!("{slug}.hole"), 0.012, 0.0, book);
    let solid = match h.seat {
        Seat::Round => {
            holes.push(hole("A", size, zero, at));
            solid.hole(0.0, 0.0, h.hole.bare().in_mm(), "A")
        }
        Seat::Square => {
            let half = h.hole.bare().in_mm() / 2.0;
            notes.push((
                (half, half),
                FlatNote::Words(format!("square {}", reckon::Shown::shown(&h.hole.bare().across()))),
            ));
            solid.window(Profile::rectangle(-half, -half, half, half))
        }
    };
    notes.push(((0.0, h.length.bare().in_mm()), FlatNote::Figure(Figure::plain(&h.length))));
    if let (Some(d), Some(tail)) = (h.poise, h.tail) {
        let r = d.bare().in_mm() / 2.0;
        notes.push(((r * 0.8, -tail.bare().in_mm() - r * 0.6), FlatNote::Figure(Figure::across(&d))));
    }
    let note = format!(
        "filed to a bevel on its front after poising, then blued; weighs {}, and its weight turns it with at most {}",
        h.mass.shown(),
        h.imbalance.shown()
    );
    let about = About {
        name: h.name.to_owned(),
        slug: slug.to_owned(),
        at,
        material: of.material,
        finish: &[Finish::Polish],
        count: 1,
        note: Some(note),
    };
    let body = FlatBody { thickness, holes, extent, datum, round: None, teeth: None, notes, solid };
    about.flat("hand", body, book)
}
/// The little pipe on which the seconds hand is riveted.
fn pipe(m: &Movement, h: &HandDesign, of: &HandsDesign, at: &reckon::Place, book: &mut Book) -> Option<Part> {
    let slug = "hands.seconds_pipe";
    let material = tables::material::find("brass CZ121").ok()?;
    m.motion.as_ref()?;
    let (thick, seat_d) = (of.thickness, h.hole);
    let seat_length =
        work!(book, format_args!("{slug}.seat_length"), |thick| thick + Length::mm(0.2), &HOUSE);
    let seat = sized(seat_d, &format!("{slug}.seat"), 0.0, -0.009, book);
    let shoulder = work!(book, format_args!("{slug}.diameter"), |seat_d| seat_d + Length::mm(0.6), &HOUSE);
    let shoulder = sized(shoulder, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let length: Val<Length> =
        house(&format!("{slug}.pipe_length"), 1.5, "to sit straight on the arbor", book);
    let whole =
        work!(book, format_args!("{slug}.length"), |seat_length, length| seat_length + length, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let hole_d = work!(book, format_args!("{slug}.bore"), |seat_d| seat_d - Length::mm(0.8), &LIMITS);
    let bore = sized(hole_d, &format!("{slug}.bore"), -0.005, -0.015, book);
    let mut b = Builder::new(book, slug);
    let (p0, p1) = b.step("pipe", length, shoulder, Edges::default());
    b.tell_across(&p0, &p1, Figure::diameter(&shoulder));
    b.tell_along(&p0, &p1, Figure::plain(&length));
    let (s0, s1) = b.step("seat", seat_length, seat, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&seat));
    b.tell_along(&p0, &s1, Figure::length(&whole));
    b.hole(AxisHole {
        what: "bore".to_owned(),
        slug: "bore".to_owned(),
        end: End::Datum,
        size: bore,
        depth: None,
        thread: None,
        sink: false,
    });
    b.tell(Told::Across { at: s1.bare().in_mm() / 2.0, inside: true, figure: Figure::diameter(&bore) });
    let body = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "seconds hand pipe".to_owned(),
        slug: slug.to_owned(),
        at,
        material,
        finish: &[],
        count: 1,
        note: Some("the seconds hand is riveted on; broached to push on the arbor".to_owned()),
    };
    Some(about.turned("pipe", body, book))
}
