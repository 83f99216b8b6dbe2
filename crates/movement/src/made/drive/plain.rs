//! Plain parts put together in few words: flat ones by outline and holes, threads inside and out.

use crate::hardware::builder::Builder;
use crate::made::common::About;
use crate::part::{AxisHole, Figure, FlatBody, FlatNote, OutsideThread, Part, Told, Toothing};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Hole, Size, ThreadUse};
use shape::flat::Flat;
use shape::profile::Profile;
use shape::turned::End;
use std::sync::Arc;
use tables::thread::Thread;
use tables::thread::limits::{limits, nut_limits};

/// A hole in a flat part: its label, its place in millimetres, its size.
pub(crate) struct At {
    pub(crate) label: &'static str,
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) size: Size<Diameter>,
}
/// What a flat part is made of beyond its name.
pub(crate) struct Cut {
    pub(crate) word: &'static str,
    pub(crate) outline: Profile,
    pub(crate) thickness: Size<Length>,
    pub(crate) holes: Vec<At>,
    pub(crate) round: Option<Size<Diameter>>,
    pub(crate) teeth: Option<Toothing>,
    pub(crate) notes: Vec<((f64, f64), FlatNote)>,
}
/// A flat part.
pub(crate) fn flat(about: &About<'_>, cut: Cut, book: &mut Book) -> Part {
    let slug = about.slug.clone();
    let bounds = cut.outline.bounds();
    let mut put = |name: String, mm: f64| {
        let how = ("the outline as it is drawn", 1, 0.0);
        book.solved(format!("{slug}.{name}"), Length::mm(mm), how, Vec::new(), &GEOMETRY)
    };
    let extent = (put("width".into(), bounds.width()), put("height".into(), bounds.height()));
    let datum = (put("datum.x".into(), bounds.x0), put("datum.y".into(), bounds.y0));
    let mut solid = Flat::new(cut.outline, cut.thickness.nominal.bare().in_mm());
    let mut holes = Vec::new();
    for h in cut.holes {
        solid = solid.hole(h.x, h.y, h.size.nominal.bare().in_mm(), h.label);
        let lower = h.label.to_lowercase();
        holes.push(Hole {
            label: h.label.to_owned(),
            centre: (put(format!("hole.{lower}.x"), h.x), put(format!("hole.{lower}.y"), h.y)),
            diameter: h.size,
            thread: None,
            countersink: None,
            at: about.at.clone(),
        });
    }
    let body = FlatBody {
        thickness: cut.thickness,
        holes,
        extent,
        datum,
        round: cut.round,
        teeth: cut.teeth,
        notes: cut.notes,
        solid,
    };
    about.flat(cut.word, body, book)
}
/// A thread as parts use it, with its usual class for outside or nut.
pub(crate) fn thread(of: &Arc<Thread>, nut: bool, at: &reckon::Place) -> ThreadUse {
    let class = if nut { of.usual_nut_class() } else { of.usual_class() };
    ThreadUse { thread: Arc::clone(of), class: class.to_owned(), at: at.clone() }
}
/// Adds a threaded stretch that ends a part.
pub(crate) fn threaded(b: &mut Builder<'_>, what: &str, of: &ThreadUse, length: Val<Length>, end: End) {
    let slug = format!("{}.{}", b.slug, reckon::slug(what));
    let (size, found) = outside(b.book, &slug, of);
    let (z0, z1) = b.step(what, length, size, crate::hardware::builder::Edges::default());
    if let (Some(step), Some(limits)) = (b.last(), found) {
        step.thread = Some(OutsideThread { of: of.clone(), span: (z0, z1), end, limits });
    }
    b.tell_across(&z0, &z1, Figure::thread(of, &length));
    b.tell_along(&z0, &z1, Figure::plain(&length));
}
fn outside(
    book: &mut Book,
    slug: &str,
    of: &ThreadUse,
) -> (Size<Diameter>, Option<tables::thread::limits::Limits>) {
    let major = book.tabled(
        format_args!("{slug}.blank.nominal"),
        of.thread.major,
        of.thread.name.clone(),
        of.thread.source,
    );
    let found = limits(book, &format!("{slug}.thread"), &of.thread, &of.class).ok();
    let (upper, lower) = match &found {
        Some(l) => {
            let (most, least) = (l.major_max, l.major_min);
            (
                work!(book, format_args!("{slug}.blank.upper"), |most, major| most - major, &GEOMETRY),
                work!(book, format_args!("{slug}.blank.lower"), |least, major| least - major, &GEOMETRY),
            )
        }
        None => (
            book.assumed(format_args!("{slug}.blank.upper"), Length::ZERO, "no limits are known"),
            book.assumed(format_args!("{slug}.blank.lower"), Length::mm(-0.05), "no limits are known"),
        ),
    };
    (Size { nominal: major, upper, lower }, found)
}
/// Adds a hole tapped right through.
pub(crate) fn tapped(b: &mut Builder<'_>, of: &ThreadUse) {
    let slug = format!("{}.tapped", b.slug);
    let Ok(nut) = nut_limits(b.book, &format!("{slug}.thread"), &of.thread, &of.class) else { return };
    let (most, least) = (nut.minor_max, nut.minor_min);
    let upper = work!(b.book, format_args!("{slug}.bore.upper"), |most, least| most - least, &GEOMETRY);
    let lower = b.book.assumed(
        format_args!("{slug}.bore.lower"),
        Length::ZERO,
        "the least minor diameter is the size",
    );
    b.hole(AxisHole {
        what: format!("hole tapped {}", of.thread.name),
        slug: "hole".to_owned(),
        end: End::Datum,
        size: Size { nominal: least, upper, lower },
        depth: None,
        thread: Some(of.clone()),
        sink: false,
    });
    let z = b.here().bare().in_mm();
    b.tell(Told::Note { z, r: 0.0, text: of.thread.name.clone() });
}
/// Adds a plain hole along the axis, through or to a flat bottom.
pub(crate) fn bored(
    b: &mut Builder<'_>,
    what: &str,
    size: Size<Diameter>,
    end: End,
    depth: Option<Val<Length>>,
) {
    let long = b.here().bare().in_mm();
    let at = match (depth, end) {
        (None, _) => long / 2.0,
        (Some(d), End::Datum) => d.bare().in_mm() / 2.0,
        (Some(d), End::Far) => long - d.bare().in_mm() / 2.0,
    };
    b.hole(AxisHole {
        what: what.to_owned(),
        slug: reckon::slug(what),
        end,
        size,
        depth,
        thread: None,
        sink: depth.is_some(),
    });
    b.tell(Told::Across { at, inside: true, figure: Figure::diameter(&size) });
}
