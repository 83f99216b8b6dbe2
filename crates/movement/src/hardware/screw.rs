//! Screws and studs: point first, head at the bar.

use super::builder::{Builder, Edges, dome_rise, mm};
use super::ends::blank;
use crate::part::{Figure, Flats, OutsideThread, Told, TurnedBody};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Head, HeadForm, Point, Screw, Size, Stud, ThreadUse};
use shape::turned::End;

/// Edges of a free end: chamfer to below the root of the thread, or a dome.
pub(super) fn point_edges(point: Point, thread: &ThreadUse, diameter: f64) -> Edges {
    match point {
        Point::Flat => Edges::default(),
        Point::Chamfered => {
            let deep = (diameter - thread.thread.root().in_mm()) / 2.0;
            Edges { begin: Some((deep, deep)), ..Edges::default() }
        }
        Point::Domed => Edges { point: Some(diameter), ..Edges::default() },
    }
}

/// A screw.
pub(super) fn screw(s: &Screw, book: &mut Book) -> TurnedBody {
    let slug = s.common.slug.clone();
    let blank = blank(book, &slug, &s.thread);
    let size = blank.size;
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let shank = shank_lengths(s, &mut b);
    let thread_edges = point_edges(s.point, &s.thread, size.nominal.bare().in_mm());
    let (from, to) = b.step("thread", shank.threaded, size, thread_edges);
    let thread = OutsideThread {
        of: s.thread.clone(),
        span: (from, shank.full_to.unwrap_or(to)),
        end: End::Datum,
        limits: blank.limits,
    };
    if let Some(step) = b.last() {
        step.thread = Some(thread);
    }
    b.tell_across(&from, &to, Figure::thread(&s.thread, &shank.threaded));
    if let (Some(plain), Some(length)) = (s.shank, shank.plain) {
        let (p0, p1) = b.step("shank", length, plain, Edges::default());
        b.tell_across(&p0, &p1, Figure::diameter(&plain));
    }
    if let Some(u) = &s.undercut {
        let size = undercut_size(u.diameter, &mut b);
        let (u0, u1) = b.step("undercut", u.width, size, Edges::default());
        if let Some(step) = b.last() {
            step.undercut = true;
        }
        b.tell_across(&u0, &u1, Figure::across(&u.diameter));
        b.tell_along(&u0, &u1, Figure::plain(&u.width));
    }
    let seat = b.here();
    if s.thread_length.is_some() {
        b.tell_along(&start, &shank.full_to.unwrap_or(to), Figure::plain(&shank.threaded));
    }
    let limits = match &s.head {
        Some(head) => {
            head_steps(head, &mut b, &seat);
            let top = b.here();
            if head.form == HeadForm::Countersunk {
                b.tell_along(&start, &top, Figure::length(&s.length));
            } else {
                b.tell_along(&start, &seat, Figure::length(&s.length));
                b.tell_along(&seat, &top, Figure::length(&head.height));
            }
            (head.height.upper, head.height.lower)
        }
        None => {
            let top = b.here();
            b.tell_along(&start, &top, Figure::length(&s.length));
            (s.length.upper, s.length.lower)
        }
    };
    if let Some(slot) = &s.slot {
        b.slot(End::Far, slot.width, slot.depth);
        let top = b.here().bare().in_mm();
        let deep = slot.depth.bare().in_mm();
        b.tell(Told::Along { from: top - deep, to: top, inside: false, figure: Figure::plain(&slot.depth) });
    }
    b.finish(limits)
}

struct Shank {
    threaded: Val<Length>,
    plain: Option<Val<Length>>,
    /// Where full thread ends, when it ends short of the step.
    full_to: Option<Val<Length>>,
}
/// How the length under the head is shared between thread, plain shank and undercut.
fn shank_lengths(s: &Screw, b: &mut Builder<'_>) -> Shank {
    let slug = b.slug.clone();
    let sunk = s.head.as_ref().filter(|h| h.form == HeadForm::Countersunk);
    let length = s.length.nominal;
    let under = match sunk {
        Some(head) => {
            let height = head.height.nominal;
            work!(b.book, format_args!("{slug}.under_head"), |length, height| length - height, &GEOMETRY)
        }
        None => length,
    };
    let open = match &s.undercut {
        Some(u) => {
            let width = u.width;
            work!(b.book, format_args!("{slug}.before_undercut"), |under, width| under - width, &GEOMETRY)
        }
        None => under,
    };
    match (s.thread_length, s.shank.is_some()) {
        (Some(wanted), true) => {
            let plain =
                work!(b.book, format_args!("{slug}.shank.length"), |open, wanted| open - wanted, &GEOMETRY);
            Shank { threaded: wanted, plain: Some(plain), full_to: None }
        }
        (Some(wanted), false) => Shank { threaded: open, plain: None, full_to: Some(wanted) },
        _ => {
            // Without an undercut the tool or die cannot reach the seat: two pitches of run-out are the usual allowance.
            let full = s.undercut.is_none().then(|| {
                let pitch = b.book.tabled(
                    format_args!("{slug}.run_out.pitch"),
                    s.thread.thread.pitch,
                    s.thread.thread.name.clone(),
                    s.thread.thread.source,
                );
                work!(b.book, format_args!("{slug}.thread.full"), |open, pitch| open - pitch * 2.0, &HOUSE)
            });
            let full = full.filter(|f| *f > Length::ZERO && s.head.is_some());
            Shank { threaded: open, plain: None, full_to: full }
        }
    }
}
/// An undercut may be deeper than drawn, never shallower.
fn undercut_size(nominal: Val<Diameter>, b: &mut Builder<'_>) -> Size<Diameter> {
    let slug = b.slug.clone();
    let upper = b.book.assumed(
        format_args!("{slug}.undercut.upper"),
        Length::ZERO,
        "an undercut may be deeper, never shallower",
    );
    let lower = b.book.assumed(format_args!("{slug}.undercut.lower"), Length::mm(-0.1), "house default");
    Size { nominal, upper, lower }
}
fn head_steps(head: &Head, b: &mut Builder<'_>, seat: &Val<Length>) {
    let slug = b.slug.clone();
    let height = head.height.nominal;
    let r = head.diameter.nominal.bare().in_mm() / 2.0;
    match head.form {
        HeadForm::Countersunk => {
            let Some(angle) = head.angle else { return };
            let (outer, inner) = (head.diameter.nominal, cone_begins(b));
            let cone = work!(
                b.book,
                format_args!("{slug}.head.cone"),
                |outer, inner, angle| (outer - inner) / 2.0 / (angle / 2.0).tan(),
                &GEOMETRY
            );
            let land =
                work!(b.book, format_args!("{slug}.head.land"), |height, cone| height - cone, &GEOMETRY);
            let begins = Size { nominal: inner, ..head.diameter };
            let (c0, c1) = b.step("cone", cone, begins, Edges::default());
            if let Some(step) = b.last() {
                step.end = Some(outer);
            }
            let mid = f64::midpoint(c0.bare().in_mm(), c1.bare().in_mm());
            b.tell(Told::Note { z: mid, r: (r + inner.bare().in_mm() / 2.0) / 2.0, text: angle.shown() });
            let (l0, l1) = b.step("land", land, head.diameter, Edges::default());
            b.tell_across(&l0, &l1, Figure::diameter(&head.diameter));
        }
        HeadForm::Cheese | HeadForm::Domed | HeadForm::Hexagon => {
            let chamfer = head.chamfer.map(|c| (c.bare().in_mm(), c.bare().in_mm()));
            let dome = (head.form == HeadForm::Domed).then(|| head.dome.map(|d| d.bare().in_mm())).flatten();
            let edges = Edges { end: chamfer.filter(|_| dome.is_none()), dome, ..Edges::default() };
            let size = if head.form == HeadForm::Hexagon { corners(head, b) } else { head.diameter };
            let (h0, h1) = b.step("head", height, size, edges);
            if head.form == HeadForm::Hexagon {
                let flat = head.diameter.nominal;
                let across =
                    work!(b.book, format_args!("{slug}.head.across"), |flat| flat.across(), &GEOMETRY);
                b.flats(Flats { from: *seat, to: h1, across, count: 6 });
            } else {
                b.tell_across(&h0, &h1, Figure::diameter(&head.diameter));
            }
            if let Some(radius) = dome {
                let z = h1.bare().in_mm() - dome_rise(r, radius) / 2.0;
                b.tell(Told::Note { z, r: r * 0.7, text: format!("R{}", mm(radius)) });
            } else if let Some((c, _)) = chamfer {
                let text = format!("{} × 45°", mm(c));
                b.tell(Told::Note { z: h1.bare().in_mm() - c / 2.0, r: r - c / 2.0, text });
            }
        }
    }
}
/// Across the corners of a hexagon: what the bar must give.
fn corners(head: &Head, b: &mut Builder<'_>) -> Size<Diameter> {
    let flat = head.diameter.nominal;
    let slug = b.slug.clone();
    let nominal = work!(
        b.book,
        format_args!("{slug}.head.corners"),
        |flat| flat * (2.0 / 1.732_050_807_568_877_2),
        &GEOMETRY
    );
    Size { nominal, ..head.diameter }
}
/// Diameter where a countersunk head's cone begins: that of the last step.
fn cone_begins(b: &mut Builder<'_>) -> Val<Diameter> {
    let slug = b.slug.clone();
    match b.last().map(|s| s.size.nominal) {
        Some(d) => d,
        None => b.book.assumed(format_args!("{slug}.head.core"), Diameter::ZERO, "the cone comes to a point"),
    }
}

/// A stud.
pub(super) fn stud(s: &Stud, book: &mut Book) -> TurnedBody {
    let slug = s.common.slug.clone();
    let blank_a = blank(book, &format!("{slug}.first"), &s.first.0);
    let blank_b = blank(book, &format!("{slug}.other"), &s.other.0);
    let (size_a, size_b) = (blank_a.size, blank_b.size);
    let (whole, a, c) = (s.length.nominal, s.first.1, s.other.1);
    let between = work!(book, format_args!("{slug}.between"), |whole, a, c| whole - a - c, &GEOMETRY);
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let (a0, a1) =
        b.step("first thread", a, size_a, point_edges(s.point, &s.first.0, size_a.nominal.bare().in_mm()));
    if let Some(step) = b.last() {
        step.thread = Some(OutsideThread {
            of: s.first.0.clone(),
            span: (a0, a1),
            end: End::Datum,
            limits: blank_a.limits,
        });
    }
    b.tell_across(&a0, &a1, Figure::thread(&s.first.0, &a));
    b.tell_along(&a0, &a1, Figure::plain(&a));
    if between > Length::mm(1e-9) {
        let larger = if size_a.nominal > size_b.nominal { size_a } else { size_b };
        let plain = s.plain.unwrap_or(larger);
        let (p0, p1) = b.step("plain part", between, plain, Edges::default());
        if s.plain.is_some() {
            b.tell_across(&p0, &p1, Figure::diameter(&plain));
        }
    }
    let mut edges = point_edges(s.point, &s.other.0, size_b.nominal.bare().in_mm());
    edges.end = edges.begin.take();
    edges.dome = edges.point.take();
    let (o0, o1) = b.step("other thread", c, size_b, edges);
    if let Some(step) = b.last() {
        step.thread = Some(OutsideThread {
            of: s.other.0.clone(),
            span: (o0, o1),
            end: End::Far,
            limits: blank_b.limits,
        });
    }
    b.tell_across(&o0, &o1, Figure::thread(&s.other.0, &c));
    b.tell_along(&o0, &o1, Figure::plain(&c));
    b.tell_along(&start, &o1, Figure::length(&s.length));
    b.finish((s.length.upper, s.length.lower))
}
