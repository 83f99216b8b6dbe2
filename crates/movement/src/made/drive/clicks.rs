//! Ratchet wheels, clicks and their springs, and the bow that drives the clock while it is wound.

use super::plain::{self, At, Cut};
use super::{sheet_brass, spring_steel, steel};
use crate::design::drive::{ClickDesign, MaintainingDesign, RatchetDesign};
use crate::design::{DriveDesign, Movement};
use crate::hardware::builder::{Builder, Edges};
use crate::made::common::{About, house, house_across, long, sized};
use crate::part::{Figure, FlatNote, Part, Toothing};
use kurbo::Point;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Length, Val, work};
use record::facts::{self, Finish};
use shape::profile::Profile;
use shape::segment::Sense;
use shape::turned::End;

pub(super) fn parts(f: &facts::Drive, d: &DriveDesign, m: &Movement, book: &mut Book) -> Vec<Part> {
    let mut all = Vec::new();
    if let (Some(r), Some(c)) = (&d.keep.ratchet, &d.keep.click) {
        // On a going barrel the ratchet is turned by the winding square itself.
        let square = (f.spring.is_some() && f.fusee.is_none())
            .then(|| square_of(&m.train.arbors[d.arbor].facts.slug, book))
            .flatten();
        all.push(ratchet("winding ratchet", "drive.ratchet", r, m, d.arbor, square, &f.at, book));
        all.extend(click("winding click", "drive.click", c, &f.at, book));
    }
    if let Some(k) = &d.keep.maintaining {
        let at = f.maintaining.as_ref().map_or(&f.at, |m| &m.at);
        all.push(ratchet(
            "maintaining ratchet",
            "drive.maintaining.ratchet",
            &k.ratchet,
            m,
            d.arbor,
            None,
            at,
            book,
        ));
        all.extend(click("maintaining detent", "drive.maintaining.click", &k.click, at, book));
        all.push(bow(k, at, book));
    }
    all
}
/// Across the winding square of an arbor, as it is made.
fn square_of(slug: &str, book: &mut Book) -> Option<Val<Length>> {
    let (id, line) = book.find(&format!("{slug}.square_across"))?;
    let across = Length::si(line.si?);
    Some(book.solved(
        "drive.ratchet_part.square",
        across,
        ("the arbor's square", 1, 0.0),
        vec![id],
        &GEOMETRY,
    ))
}
#[expect(clippy::too_many_arguments, reason = "what it is, what it sits on, where it is written")]
fn ratchet(
    name: &str,
    slug: &str,
    r: &RatchetDesign,
    m: &Movement,
    arbor: usize,
    square: Option<Val<Length>>,
    at: &reckon::Place,
    book: &mut Book,
) -> Part {
    let part = format!("{slug}_part");
    let outside = sized(r.diameter, &format!("{part}.outside"), 0.0, -0.05, book);
    let thickness = long(r.thickness, &format!("{part}.thickness"), 0.0, -0.05, book);
    let bore = match square {
        Some(across) => {
            let first =
                work!(book, format_args!("{part}.bore_first"), |across| across.as_diameter(), &GEOMETRY);
            sized(first, &format!("{part}.bore"), 0.0, -0.1, book)
        }
        None => sized(m.stems[arbor].diameter, &format!("{part}.bore"), 0.018, 0.0, book),
    };
    let (radius, teeth) = (r.diameter.bare().in_mm() / 2.0, r.teeth.bare().0);
    let mut notes = vec![
        ((radius * 0.7, radius * 0.7), FlatNote::Figure(Figure::diameter(&outside))),
        ((-radius, 0.0), FlatNote::Words(format!("{teeth} ratchet teeth, faces undercut 10°"))),
    ];
    let mut note = "faces one way: try it against its click before it is fixed".to_owned();
    if let Some(across) = square {
        notes.push(((0.0, 0.0), FlatNote::Words(format!("filed square, {} across", across.shown()))));
        note.push_str(&format!(
            "; bored round first, to turn and cut it true; then its hole filed square, {} across, to slide on the winding square: a square file with one safe edge, side by side, tried in all four places and the best one marked",
            across.shown()
        ));
    }
    let toothing = Toothing {
        what: "ratchet teeth".to_owned(),
        slug: slug.to_owned(),
        count: r.teeth,
        module: None,
        outside: r.diameter,
        root: r.root,
        depth: r.depth,
        form: "face undercut 10°, tip 55°".to_owned(),
        along: None,
    };
    let about = About {
        name: name.to_owned(),
        slug: part,
        at,
        material: if slug.contains("maintaining") { sheet_brass() } else { steel() },
        finish: &[],
        count: 1,
        note: Some(note),
    };
    let cut = Cut {
        word: "ratchet",
        outline: r.outline.clone(),
        thickness,
        holes: vec![At { label: "A", x: 0.0, y: 0.0, size: bore }],
        round: Some(outside),
        teeth: Some(toothing),
        notes,
    };
    plain::flat(&about, cut, book)
}
/// A click: a round boss about its pivot, tapering to its nose; with its spring.
fn click(name: &str, slug: &str, c: &ClickDesign, at: &reckon::Place, book: &mut Book) -> Vec<Part> {
    let part = format!("{slug}_part");
    let thick = house(&format!("{part}.thickness"), 2.0, "as thick as its ratchet", book);
    let thick = long(thick, &format!("{part}.thickness"), 0.0, -0.05, book);
    let pivot = house_across(&format!("{part}.pivot"), 2.5, "shoulder of its screw", book);
    let pivot = sized(pivot, &format!("{part}.pivot"), 0.03, 0.01, book);
    let long_mm = c.length.bare().in_mm();
    let boss = 3.0;
    let outline = Profile::start(0.0, -boss)
        .line(long_mm - 1.2, -0.9)
        .line(long_mm, 0.0)
        .line(long_mm - 0.6, 1.3)
        .line(0.0, boss)
        .arc_to(Point::new(0.0, -boss), Point::ORIGIN, Sense::Left)
        .close();
    let notes = vec![((long_mm, 0.0), FlatNote::Figure(Figure::plain(&c.length)))];
    let about = About {
        name: name.to_owned(),
        slug: part,
        at,
        material: steel(),
        finish: &[Finish::Harden, Finish::Temper, Finish::Polish],
        count: 1,
        note: Some(format!("its pivot stands {} from the ratchet's axis", c.pivot.shown())),
    };
    let holes = vec![At { label: "A", x: 0.0, y: 0.0, size: pivot }];
    let cut = Cut { word: "click", outline, thickness: thick, holes, round: None, teeth: None, notes };
    let mut all = vec![plain::flat(&about, cut, book)];
    let part = format!("{slug}_spring");
    let thin =
        house(&format!("{part}.thickness"), 0.3, "a light spring: it only has to lay the click in", book);
    let thin = long(thin, &format!("{part}.thickness"), 0.02, -0.02, book);
    let screw = house_across(&format!("{part}.hole"), 2.2, "screw that holds it", book);
    let screw = sized(screw, &format!("{part}.hole"), 0.1, 0.0, book);
    let reach = long_mm + 6.0;
    let about = About {
        name: format!("{name} spring"),
        slug: part,
        at,
        material: spring_steel(),
        finish: &[],
        count: 1,
        note: Some("bent to shape over a rod, cold, with a round corner".to_owned()),
    };
    let cut = Cut {
        word: "spring",
        outline: Profile::rectangle(0.0, -2.0, reach, 2.0),
        thickness: thin,
        holes: vec![At { label: "A", x: 3.0, y: 0.0, size: screw }],
        round: None,
        teeth: None,
        notes: Vec::new(),
    };
    all.push(plain::flat(&about, cut, book));
    let marked = format!(
        "Its hole is marked through the click, held to its ratchet with the nose home in a tooth, {} from the axis; drilled and tapped then",
        c.pivot.shown()
    );
    all.extend(small_screw(
        &format!("{name} screw"),
        &format!("{slug}_screw"),
        Some(thick.nominal),
        marked,
        at,
        book,
    ));
    let marked = "Its hole is marked through the spring, laid so that it presses the click in lightly; drilled and tapped then".to_owned();
    all.extend(small_screw(
        &format!("{name} spring screw"),
        &format!("{slug}_spring_screw"),
        None,
        marked,
        at,
        book,
    ));
    all
}
/// A screw with a shoulder for a click to turn on, or without one for its spring.
fn small_screw(
    name: &str,
    slug: &str,
    on: Option<Val<Length>>,
    note: String,
    at: &reckon::Place,
    book: &mut Book,
) -> Option<Part> {
    let of = std::sync::Arc::new(tables::thread::find("M2")?);
    let of = plain::thread(&of, false, at);
    let head = house_across(&format!("{slug}.head"), 4.5, "head of a small screw", book);
    let head = sized(head, &format!("{slug}.head"), 0.0, -0.05, book);
    let high = house(&format!("{slug}.head_height"), 1.6, "height of its head", book);
    let thread_long =
        house(&format!("{slug}.thread_length"), 4.0, "two turns more than what it goes into needs", book);
    let wide = house(&format!("{slug}.slot_width"), 0.5, "slot of a small screw", book);
    let deep = house(&format!("{slug}.slot_depth"), 0.7, "slot of a small screw", book);
    let mut b = Builder::new(book, slug);
    let start = b.here();
    let (h0, h1) = b.step("head", high, head, Edges::default());
    b.tell_across(&h0, &h1, Figure::diameter(&head));
    if let Some(thick) = on {
        let play = house(&format!("{slug}.free"), 0.05, "the click turns freely under the head", b.book);
        let under = work!(b.book, format_args!("{slug}.shoulder_length"), |thick, play| thick + play, &HOUSE);
        let pivot =
            house_across(&format!("{slug}.shoulder"), 2.5, "shoulder that the click turns on", b.book);
        let pivot = sized(pivot, &format!("{slug}.shoulder"), 0.0, -0.01, b.book);
        let (s0, s1) = b.step("shoulder", under, pivot, Edges::default());
        b.tell_across(&s0, &s1, Figure::diameter(&pivot));
        b.tell_along(&s0, &s1, Figure::plain(&under));
    }
    plain::threaded(&mut b, "thread", &of, thread_long, End::Far);
    b.slot(End::Datum, wide, deep);
    let end = b.here();
    let whole = work!(b.book, format_args!("{slug}.length"), |end, start| end - start, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.1, -0.1, b.book);
    b.tell_along(&start, &end, Figure::length(&whole));
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: name.to_owned(),
        slug: slug.to_owned(),
        at,
        material: steel(),
        // Only the shoulder that a click turns on wears.
        finish: if on.is_some() {
            &[Finish::Harden, Finish::Temper, Finish::Polish]
        } else {
            &[Finish::Polish]
        },
        count: 1,
        note: Some(note),
    };
    Some(about.turned("screw", done, book))
}
/// Half a ring with a lug at each end, sawn from sheet as thick as it is wide along the arbor.
fn bow(k: &MaintainingDesign, at: &reckon::Place, book: &mut Book) -> Part {
    let slug = "drive.maintaining.bow".to_owned();
    let thick = long(k.width, &format!("{slug}.thickness"), 0.0, -0.1, book);
    let (r, t) = (k.radius.bare().in_mm(), k.thickness.bare().in_mm());
    let (inner, outer) = (r - t / 2.0, r + t / 2.0);
    let lug = 2.5;
    let hole = house_across(&format!("{slug}.hole"), 2.0, "pins in wheel and ratchet", book);
    let hole = sized(hole, &format!("{slug}.hole"), 0.05, 0.0, book);
    // From the right lug over the top to the left one and back under.
    let meets = |radius: f64, out: f64| {
        // Where a circle about the arbor meets the lug about (±r, 0).
        let x = (radius * radius + r * r - out * out) / (2.0 * r);
        Point::new(x, (radius * radius - x * x).max(0.0).sqrt())
    };
    let (a, b) = (meets(outer, lug), meets(inner, lug));
    let (right, left) = (Point::new(r, 0.0), Point::new(-r, 0.0));
    let outline = Profile::start(a.x, a.y)
        .arc_to(Point::new(-a.x, a.y), Point::ORIGIN, Sense::Left)
        .arc_to(Point::new(-b.x, b.y), left, Sense::Left)
        .arc_to(b, Point::ORIGIN, Sense::Right)
        .arc_to(a, right, Sense::Left)
        .close();
    let notes = vec![
        ((0.0, outer), FlatNote::Figure(Figure::plain(&k.thickness))),
        ((inner * 0.7, inner * 0.7), FlatNote::Figure(radius(&k.radius))),
    ];
    let about = About {
        name: "maintaining spring".to_owned(),
        slug,
        at,
        material: steel(),
        finish: &[Finish::Harden, Finish::Temper, Finish::Polish],
        count: 1,
        note: Some(
            "tempered blue; its torque decides, not its drawing: thin it evenly until the drive just sets it"
                .to_owned(),
        ),
    };
    let holes =
        vec![At { label: "A", x: r, y: 0.0, size: hole }, At { label: "B", x: -r, y: 0.0, size: hole }];
    let cut = Cut { word: "spring", outline, thickness: thick, holes, round: None, teeth: None, notes };
    plain::flat(&about, cut, book)
}
fn radius(v: &Val<reckon::Length>) -> Figure {
    Figure { sign: crate::part::Sign::Radius, ..Figure::plain(v) }
}
