//! Threaded blanks, pillars and feet: things with ends that stand in a plate or take a screw.

use super::builder::{Builder, Edges, mm};
use super::screw::point_edges;
use crate::part::{AxisHole, Figure, OutsideThread, Told, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Foot, Pillar, PillarEnd, Point, Size, ThreadUse};
use shape::turned::End;
use tables::thread::limits::{Limits, limits, nut_limits};

/// A threaded cylinder: its size, and the limits of its thread.
#[derive(Clone, Debug)]
pub(super) struct Blank {
    pub(super) size: Size<Diameter>,
    pub(super) limits: Limits,
}
/// The cylinder that a thread is cut on: the thread's major diameter with its limits.
///
/// A class that the thread does not have was refused where it was read; the usual one stands in for it here.
pub(super) fn blank(book: &mut Book, slug: &str, of: &ThreadUse) -> Blank {
    let name = format!("{slug}.thread");
    let class =
        if limits(&mut Book::off(), &name, &of.thread, &of.class).is_ok() { of.class.as_str() } else { "" };
    let limits = limits(book, &name, &of.thread, class).expect("every thread has limits of its usual class");
    let major = book.tabled(
        format_args!("{slug}.blank.nominal"),
        of.thread.major,
        of.thread.name.clone(),
        of.thread.source,
    );
    let (most, least) = (limits.major_max, limits.major_min);
    let upper = work!(book, format_args!("{slug}.blank.upper"), |most, major| most - major, &GEOMETRY);
    let lower = work!(book, format_args!("{slug}.blank.lower"), |least, major| least - major, &GEOMETRY);
    Blank { size: Size { nominal: major, upper, lower }, limits }
}
/// The hole that a thread is cut in: the thread's minor diameter with its limits.
pub(super) fn tapping(book: &mut Book, slug: &str, of: &ThreadUse) -> Size<Diameter> {
    let name = format!("{slug}.thread");
    let class = if nut_limits(&mut Book::off(), &name, &of.thread, &of.class).is_ok() {
        of.class.as_str()
    } else {
        ""
    };
    let nut = nut_limits(book, &name, &of.thread, class).expect("every thread has limits of its usual nut");
    let (most, least) = (nut.minor_max, nut.minor_min);
    let upper = work!(book, format_args!("{slug}.bore.upper"), |most, least| most - least, &GEOMETRY);
    let lower =
        book.assumed(format_args!("{slug}.bore.lower"), Length::ZERO, "the least minor diameter is the size");
    Size { nominal: least, upper, lower }
}

/// A pillar: its first end first.
pub(super) fn pillar(p: &Pillar, book: &mut Book) -> TurnedBody {
    let slug = p.common.slug.clone();
    let [first, other] = &p.ends;
    let sizes = [end_size(book, &slug, "first_end", first), end_size(book, &slug, "other_end", other)];
    let mut b = Builder::new(book, &slug);
    outward(&mut b, first, &sizes[0], End::Datum);
    let shoulder = b.here();
    match p.waist {
        Some((waist, long)) => {
            let whole = p.length.nominal;
            let each =
                work!(b.book, format_args!("{slug}.boss"), |whole, long| (whole - long) / 2.0, &GEOMETRY);
            let (c0, c1) = b.step("body", each, p.diameter, Edges::default());
            b.tell_across(&c0, &c1, Figure::diameter(&p.diameter));
            let (w0, w1) = b.step("waist", long, Size { nominal: waist, ..p.diameter }, Edges::default());
            b.tell_across(&w0, &w1, Figure::across(&waist));
            b.tell_along(&w0, &w1, Figure::plain(&long));
            b.step("body", each, p.diameter, Edges::default());
        }
        None => {
            let (c0, c1) = b.step("body", p.length.nominal, p.diameter, Edges::default());
            b.tell_across(&c0, &c1, Figure::diameter(&p.diameter));
        }
    }
    let far = b.here();
    b.tell_along(&shoulder, &far, Figure::length(&p.length));
    outward(&mut b, other, &sizes[1], End::Far);
    b.finish((p.length.upper, p.length.lower))
}

/// A foot: what goes into the base first, the foot's sole at the bar.
pub(super) fn foot(f: &Foot, book: &mut Book) -> TurnedBody {
    let slug = f.common.slug.clone();
    let size = end_size(book, &slug, "fixing", &f.fixing);
    let mut b = Builder::new(book, &slug);
    outward(&mut b, &f.fixing, &size, End::Datum);
    let top = b.here();
    let begins = f.top.map_or(f.diameter, |d| Size { nominal: d, ..f.diameter });
    let (c0, c1) = b.step("body", f.height.nominal, begins, Edges::default());
    if let (Some(step), Some(top)) = (b.last(), f.top) {
        step.end = Some(f.diameter.nominal);
        b.tell(Told::Across { at: c0.bare().in_mm() + 1e-6, inside: false, figure: Figure::across(&top) });
        b.tell(Told::Across {
            at: c1.bare().in_mm() - 1e-6,
            inside: false,
            figure: Figure::diameter(&f.diameter),
        });
    } else {
        b.tell_across(&c0, &c1, Figure::diameter(&f.diameter));
    }
    b.tell_along(&top, &c1, Figure::length(&f.height));
    b.finish((f.height.upper, f.height.lower))
}

/// What stands at an end: its size, and limits where it is threaded outside.
struct EndSize {
    size: Size<Diameter>,
    limits: Option<Limits>,
}
fn end_size(book: &mut Book, slug: &str, which: &str, end: &PillarEnd) -> EndSize {
    match end {
        PillarEnd::Spigot { diameter, .. } => EndSize { size: *diameter, limits: None },
        PillarEnd::Threaded { thread, .. } => {
            let blank = blank(book, &format!("{slug}.{which}"), thread);
            EndSize { size: blank.size, limits: Some(blank.limits) }
        }
        PillarEnd::Tapped { thread, .. } => {
            EndSize { size: tapping(book, &format!("{slug}.{which}"), thread), limits: None }
        }
    }
}
/// Adds what stands out of, or goes into, one end.
fn outward(b: &mut Builder<'_>, end: &PillarEnd, sized: &EndSize, at: End) {
    let size = sized.size;
    let which = if at == End::Datum { "first" } else { "other" };
    match end {
        PillarEnd::Spigot { length, .. } => {
            let (s0, s1) = b.step(&format!("{which} spigot"), *length, size, Edges::default());
            b.tell_across(&s0, &s1, Figure::diameter(&size));
            b.tell_along(&s0, &s1, Figure::plain(length));
        }
        PillarEnd::Threaded { thread, length } => {
            let mut edges = point_edges(Point::Chamfered, thread, size.nominal.bare().in_mm());
            if at == End::Far {
                edges.end = edges.begin.take();
            }
            let (s0, s1) = b.step(&format!("{which} thread"), *length, size, edges);
            if let (Some(step), Some(limits)) = (b.last(), &sized.limits) {
                step.thread = Some(OutsideThread {
                    of: thread.clone(),
                    span: (s0, s1),
                    end: at,
                    limits: limits.clone(),
                });
            }
            b.tell_across(&s0, &s1, Figure::thread(thread, length));
            b.tell_along(&s0, &s1, Figure::plain(length));
        }
        PillarEnd::Tapped { thread, depth } => tapped(b, thread, *depth, size, at, which),
    }
}
/// A tapped hole in an end: drilled two pitches deeper than its full thread, for the tap's lead and chips.
fn tapped(
    b: &mut Builder<'_>,
    thread: &ThreadUse,
    depth: Val<Length>,
    size: Size<Diameter>,
    at: End,
    which: &str,
) {
    let slug = b.slug.clone();
    let t = &thread.thread;
    let pitch = b.book.tabled(format_args!("{slug}.{which}_hole.pitch"), t.pitch, t.name.clone(), t.source);
    let drilled = work!(
        b.book,
        format_args!("{slug}.{which}_hole.depth"),
        |depth, pitch| depth + pitch * 3.0,
        &reckon::source::HOUSE
    );
    b.hole(AxisHole {
        what: format!("hole tapped {}", t.name),
        slug: format!("{which}_hole"),
        end: at,
        size,
        depth: Some(drilled),
        thread: Some(thread.clone()),
        sink: false,
    });
    let z = b.here().bare().in_mm();
    let text = format!("{} × {} deep", t.name, mm(depth.bare().in_mm()));
    b.tell(Told::Note { z, r: 0.0, text });
}
