//! Washers, bushes and collets.

use super::builder::{Builder, Edges, mm};
use crate::part::{AxisHole, Figure, Told, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{Book, work};
use record::facts::{Bush, Collet, Face, Size, Washer};
use shape::turned::End;

/// A washer: front face first.
pub(super) fn washer(w: &Washer, book: &mut Book) -> TurnedBody {
    let mut b = Builder::new(book, &w.common.slug);
    let start = b.here();
    let edge = w.chamfer.map(|c| (c.bare().in_mm(), c.bare().in_mm()));
    let edges = Edges { begin: edge, end: edge, ..Edges::default() };
    let (from, to) = b.step("body", w.thickness.nominal, w.outside, edges);
    b.tell_across(&from, &to, Figure::diameter(&w.outside));
    b.tell_along(&start, &to, Figure::length(&w.thickness));
    b.hole(AxisHole {
        what: "hole".to_owned(),
        slug: "hole".to_owned(),
        end: End::Datum,
        size: w.hole,
        depth: None,
        thread: None,
        sink: false,
    });
    let thick = w.thickness.nominal.bare().in_mm();
    b.tell(Told::Across { at: thick / 2.0, inside: true, figure: Figure::diameter(&w.hole) });
    b.grooves(&w.face_grooves);
    if let Some(relief) = &w.relief {
        b.relief(relief);
        let z = if relief.face == Face::Front { 0.0 } else { thick };
        let text = format!(
            "relief ⌀{} × {} deep",
            mm(relief.diameter.bare().in_mm()),
            mm(relief.depth.bare().in_mm())
        );
        b.tell(Told::Note { z, r: relief.diameter.bare().in_mm() / 2.0, text });
    }
    b.finish((w.thickness.upper, w.thickness.lower))
}

/// A bush: plain end first, flange at the bar.
pub(super) fn bush(s: &Bush, book: &mut Book) -> TurnedBody {
    let slug = s.common.slug.clone();
    let whole = s.length.nominal;
    let body = match &s.flange {
        Some((_, thick)) => {
            let thick = *thick;
            work!(book, format_args!("{slug}.body"), |whole, thick| whole - thick, &GEOMETRY)
        }
        None => whole,
    };
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let (from, to) = b.step("body", body, s.outside, Edges::default());
    b.tell_across(&from, &to, Figure::diameter(&s.outside));
    if let Some((diameter, thick)) = &s.flange {
        let (f0, f1) = b.step("flange", *thick, Size { nominal: *diameter, ..s.outside }, Edges::default());
        b.tell_across(&f0, &f1, Figure::across(diameter));
        b.tell_along(&f0, &f1, Figure::plain(thick));
    }
    let end = b.here();
    b.tell_along(&start, &end, Figure::length(&s.length));
    b.hole(AxisHole {
        what: "bore".to_owned(),
        slug: "bore".to_owned(),
        end: End::Datum,
        size: s.bore,
        depth: None,
        thread: None,
        sink: false,
    });
    let middle = end.bare().in_mm() / 2.0;
    b.tell(Told::Across { at: middle, inside: true, figure: Figure::diameter(&s.bore) });
    if let Some((diameter, depth)) = &s.oil_sink {
        b.hole(AxisHole {
            what: "oil sink".to_owned(),
            slug: "oil_sink".to_owned(),
            end: End::Far,
            size: Size { nominal: *diameter, ..s.bore },
            depth: Some(*depth),
            thread: None,
            sink: true,
        });
        let text = format!("oil sink ⌀{} × {} deep", mm(diameter.bare().in_mm()), mm(depth.bare().in_mm()));
        b.tell(Told::Note { z: end.bare().in_mm(), r: diameter.bare().in_mm() / 2.0, text });
    }
    b.finish((s.length.upper, s.length.lower))
}

/// A collet: wheel seat first.
pub(super) fn collet(c: &Collet, book: &mut Book) -> TurnedBody {
    let slug = c.common.slug.clone();
    let (whole, seat) = (c.length.nominal, c.seat.1);
    let body = work!(book, format_args!("{slug}.body"), |whole, seat| whole - seat, &GEOMETRY);
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let (s0, s1) = b.step("seat", seat, c.seat.0, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&c.seat.0));
    b.tell_along(&s0, &s1, Figure::plain(&seat));
    let (f0, f1) = b.step("body", body, c.diameter, Edges::default());
    b.tell_across(&f0, &f1, Figure::diameter(&c.diameter));
    b.tell_along(&start, &f1, Figure::length(&c.length));
    b.hole(AxisHole {
        what: "bore".to_owned(),
        slug: "bore".to_owned(),
        end: End::Datum,
        size: c.bore,
        depth: None,
        thread: None,
        sink: false,
    });
    let middle = f1.bare().in_mm() / 2.0;
    b.tell(Told::Across { at: middle, inside: true, figure: Figure::diameter(&c.bore) });
    b.finish((c.length.upper, c.length.lower))
}
