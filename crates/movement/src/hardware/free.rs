//! Free turned parts: whatever an old plan shows.

use super::builder::{Builder, Edges, mm};
use super::ends::{blank, tapping};
use crate::part::{AxisHole, Figure, OutsideThread, Told, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{End as Written, Section, Size, TurnedFacts};
use shape::turned::End;
use tables::thread::limits::Limits;

const fn end_of(e: Written) -> End {
    match e {
        Written::First => End::Datum,
        Written::Other => End::Far,
    }
}

/// A free turned part.
pub(super) fn turned(t: &TurnedFacts, book: &mut Book) -> TurnedBody {
    let slug = t.common.slug.clone();
    let sizes: Vec<(Size<Diameter>, Option<Limits>)> = t
        .sections
        .iter()
        .enumerate()
        .map(|(i, s)| match &s.thread {
            Some(of) => {
                let blank = blank(book, &format!("{slug}.section.{}", i + 1), of);
                (blank.size, Some(blank.limits))
            }
            None => (s.diameter, None),
        })
        .collect();
    let bores: Vec<Size<Diameter>> = t
        .bores
        .iter()
        .enumerate()
        .map(|(i, h)| match &h.thread {
            Some(of) => tapping(book, &format!("{slug}.bore.{}", i + 1), of),
            None => h.diameter,
        })
        .collect();
    let limits = (
        book.assumed(format_args!("{slug}.length.upper"), Length::mm(0.1), "house default"),
        book.assumed(format_args!("{slug}.length.lower"), Length::mm(-0.1), "house default"),
    );
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    for (i, (s, size)) in t.sections.iter().zip(&sizes).enumerate() {
        section(&mut b, s, size, i + 1, t.sections.get(i + 1).is_none());
    }
    let end = b.here();
    if t.sections.len() > 1 {
        let whole = work!(b.book, format_args!("{slug}.length"), |end, start| end - start, &GEOMETRY);
        b.tell_along(
            &start,
            &end,
            Figure {
                sign: crate::part::Sign::None,
                nominal: whole.bare(),
                limits: Some((limits.0.bare(), limits.1.bare())),
                id: whole.id(),
            },
        );
    }
    for (i, (h, size)) in t.bores.iter().zip(&bores).enumerate() {
        bore(&mut b, h, *size, i + 1, &end);
    }
    if let Some(slot) = &t.slot {
        b.slot(End::Far, slot.width, slot.depth);
    }
    b.grooves(&t.face_grooves);
    for (z, d, _) in &t.cross_holes {
        b.cross_hole(*z, *d);
        let text = format!("⌀{} across", mm(d.bare().in_mm()));
        b.tell(Told::Note { z: z.bare().in_mm(), r: 0.0, text });
    }
    b.finish(limits)
}
fn section(b: &mut Builder<'_>, s: &Section, sized: &(Size<Diameter>, Option<Limits>), n: usize, last: bool) {
    let size = sized.0;
    let chamfer = s.chamfer.map(|c| (c.bare().in_mm(), c.bare().in_mm()));
    let edges = Edges {
        begin: chamfer.filter(|_| !(last && n > 1)),
        end: chamfer.filter(|_| last && n > 1),
        arc: s.arc.map(|(r, bend)| (r.bare().in_mm(), bend)),
        ..Edges::default()
    };
    let (from, to) = b.step(&format!("section {n}"), s.length, size, edges);
    if let Some(step) = b.last() {
        step.end = s.to;
        step.curved = s.arc.is_some();
        step.knurl = s.knurl;
        step.chamfer = s.chamfer;
        step.thread = s.thread.as_ref().zip(sized.1.as_ref()).map(|(of, limits)| OutsideThread {
            of: of.clone(),
            span: (from, to),
            end: if last && n > 1 { End::Far } else { End::Datum },
            limits: limits.clone(),
        });
    }
    b.tell_along(&from, &to, Figure::plain(&s.length));
    match (&s.thread, s.to) {
        (Some(of), _) => b.tell_across(&from, &to, Figure::thread(of, &s.length)),
        (None, Some(end)) => {
            let nudge = s.length.bare().in_mm() * 1e-3;
            let (z0, z1) = (from.bare().in_mm() + nudge, to.bare().in_mm() - nudge);
            b.tell(Told::Across { at: z0, inside: false, figure: Figure::diameter(&size) });
            b.tell(Told::Across { at: z1, inside: false, figure: Figure::across(&end) });
        }
        (None, None) => b.tell_across(&from, &to, Figure::diameter(&size)),
    }
    if let Some((r, _)) = &s.arc {
        let z = f64::midpoint(from.bare().in_mm(), to.bare().in_mm());
        let text = format!("R{}", mm(r.bare().in_mm()));
        b.tell(Told::Note { z, r: size.nominal.bare().in_mm() / 2.0, text });
    }
}
fn bore(b: &mut Builder<'_>, h: &record::facts::Bore, size: Size<Diameter>, n: usize, whole: &Val<Length>) {
    let end = end_of(h.from);
    b.hole(AxisHole {
        what: h
            .thread
            .as_ref()
            .map_or_else(|| "bore".to_owned(), |t| format!("hole tapped {}", t.thread.name)),
        slug: format!("bore.{n}"),
        end,
        size,
        depth: h.depth,
        thread: h.thread.clone(),
        sink: false,
    });
    let deep = h.depth.map_or(whole.bare().in_mm(), |d| d.bare().in_mm());
    let far = whole.bare().in_mm();
    let (z0, z1) = if end == End::Datum { (0.0, deep) } else { (far - deep, far) };
    match &h.thread {
        Some(t) => {
            let text = match &h.depth {
                Some(d) => format!("{} × {} deep", t.thread.name, mm(d.bare().in_mm())),
                None => format!("{} through", t.thread.name),
            };
            b.tell(Told::Note { z: if end == End::Datum { 0.0 } else { far }, r: 0.0, text });
        }
        None => {
            b.tell(Told::Across { at: f64::midpoint(z0, z1), inside: true, figure: Figure::diameter(&size) });
            if let Some(d) = &h.depth {
                b.tell(Told::Along { from: z0, to: z1, inside: true, figure: Figure::plain(d) });
            }
        }
    }
}
