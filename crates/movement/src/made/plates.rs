//! Plates, pillars and their pins, bridges and cocks.

use super::common::{About, LIMITS, house, house_across, long, sized};
use crate::design::bridges::Bridge;
use crate::design::{Movement, PlatesDesign};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, FlatBody, FlatNote, Part, Told, TurnedBody};
use reckon::source::HOUSE;
use reckon::{Book, Diameter, Length, Trouble, Val, work};
use record::facts::{Finish, Hole, MovementFacts, Plates, Size};
use shape::flat::{Countersink, Flat};
use shape::profile::Profile;
use shape::turned::End;

/// All of them.
pub(super) fn parts(
    m: &Movement,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let (Some(p), Some(d)) = (&facts.plates, &m.plates) else { return Vec::new() };
    let mut all: Vec<Part> =
        [true, false].into_iter().map(|back| plate(d, p, back, book, troubles)).collect();
    if !m.layout.pillars.is_empty() {
        let count = i64::try_from(m.layout.pillars.len()).unwrap_or(i64::MAX);
        all.extend(pillars(p, count, book));
    }
    for b in &m.layout.bridges {
        all.extend(bridge(m, b, facts, book, troubles));
    }
    all
}
/// The front or the back plate.
fn plate(d: &PlatesDesign, p: &Plates, back: bool, book: &mut Book, troubles: &mut Vec<Trouble>) -> Part {
    let which = if back { "back" } else { "front" };
    let slug = format!("plates.{which}_plate");
    let thickness = long(p.thickness, &format!("{slug}.thickness"), 0.05, -0.05, book);
    let (x0, y0) = (d.corner.x.bare().in_mm(), d.corner.y.bare().in_mm());
    let (w, h) = (p.size.0.bare().in_mm(), p.size.1.bare().in_mm());
    let outline = Profile::start(x0, y0).line(x0 + w, y0).line(x0 + w, y0 + h).line(x0, y0 + h).close();
    let mut solid = Flat::new(outline, thickness.nominal.bare().in_mm());
    let mut holes = Vec::new();
    for hole in d.holes.iter().filter(|hole| if back { hole.back } else { hole.front }) {
        let (x, y) = (hole.stand.x.bare().in_mm(), hole.stand.y.bare().in_mm());
        solid = solid.hole(x, y, hole.size.nominal.bare().in_mm(), &hole.label);
        if let Some((angle, across)) = &hole.sink {
            solid.countersinks.push(Countersink {
                hole: solid.holes.len() - 1,
                diameter: across.bare().in_mm(),
                angle: angle.bare().value(),
                front: !back,
            });
        }
        holes.push(Hole {
            label: hole.label.clone(),
            centre: (hole.stand.x, hole.stand.y),
            diameter: hole.size,
            thread: None,
            countersink: hole.sink,
            at: hole.at.clone(),
        });
    }
    for fault in solid.amiss() {
        // Holes that meet, and holes over the edge, are told where they are laid out.
        if matches!(fault, shape::flat::Amiss::HolesOverlap { .. } | shape::flat::Amiss::HoleOutside { .. }) {
            continue;
        }
        troubles.push(Trouble::design(format!("the {which} plate cannot be: {fault}")).at(p.at.clone()));
    }
    let words = if back {
        "seen from the dial, as the inside of the back plate; oil sinks on the other face"
    } else {
        "seen from the dial; oil sinks on this face"
    };
    let body = FlatBody {
        thickness,
        holes,
        extent: p.size,
        datum: (d.corner.x, d.corner.y),
        round: None,
        teeth: None,
        notes: Vec::<((f64, f64), FlatNote)>::new(),
        solid,
    };
    let about = About {
        name: format!("{which} plate"),
        slug,
        at: &p.at,
        material: p.material,
        finish: &[],
        count: 1,
        note: Some(format!(
            "{words}; holes that both plates have are drilled through both, pinned together, in one go"
        )),
    };
    about.flat("plate", body, book)
}

/// The strip of a bridge or cock, its posts and pins, and the stud that a pendulum hangs from.
fn bridge(
    m: &Movement,
    b: &Bridge,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let Some(p) = &facts.plates else { return Vec::new() };
    let slug = format!("{}.strip", b.slug);
    let stem = &m.stems[b.arbor];
    let thickness = long(p.thickness, &format!("{slug}.thickness"), 0.05, -0.05, book);
    let around = house(&format!("{slug}.around"), 4.0, "metal round the holes of a strip", book);
    let (half, spigot, thick) = (b.half, b.spigot, p.thickness);
    let zero = house(&format!("{slug}.middle"), 0.0, "a strip is measured from the arbor", book);
    let left = work!(book, format_args!("{slug}.left"), |half| -half, &HOUSE);
    let hang = hang(m, b, facts, book);
    let end = work!(
        book,
        format_args!("{slug}.end"),
        |half, spigot, around| half + spigot.across() / 2.0 + around,
        &HOUSE
    );
    let low =
        work!(book, format_args!("{slug}.low"), |spigot, around| -(spigot.across() / 2.0) - around, &HOUSE);
    let high = match &hang {
        Some(h) => {
            let (up, foot) = (h.up, h.foot);
            work!(
                book,
                format_args!("{slug}.high"),
                |up, foot, spigot, around| (up + foot.across() / 2.0).max(spigot.across() / 2.0) + around,
                &HOUSE
            )
        }
        None => work!(book, format_args!("{slug}.high"), |low| -low, &HOUSE),
    };
    let width = work!(book, format_args!("{slug}.length"), |end| end * 2.0, &HOUSE);
    let height = work!(book, format_args!("{slug}.width"), |high, low| high - low, &HOUSE);
    let datum = (work!(book, format_args!("{slug}.datum.x"), |end| -end, &HOUSE), low);
    let pivot = sized(stem.hole, &format!("{slug}.pivot"), 0.01, 0.0, book);
    let seat = sized(spigot, &format!("{slug}.post_hole"), 0.012, 0.0, book);
    let at = |name: &str, centre, diameter| Hole {
        label: name.to_owned(),
        centre,
        diameter,
        thread: None,
        countersink: None,
        at: p.at.clone(),
    };
    let mut holes = vec![
        at("pivot", (zero, zero), pivot),
        at("post 1", (half, zero), seat),
        at("post 2", (left, zero), seat),
    ];
    if let Some(h) = &hang {
        let size = sized(h.foot, &format!("{slug}.stud_hole"), 0.012, 0.0, book);
        holes.push(at("stud", (zero, h.up), size));
    }
    let mm = |v: &Val<Length>| v.bare().in_mm();
    let outline = Profile::start(-mm(&end), mm(&low))
        .line(mm(&end), mm(&low))
        .line(mm(&end), mm(&high))
        .line(-mm(&end), mm(&high))
        .close();
    let mut solid = Flat::new(outline, mm(&thickness.nominal));
    for h in &holes {
        solid = solid.hole(mm(&h.centre.0), mm(&h.centre.1), h.diameter.nominal.bare().in_mm(), &h.label);
    }
    for fault in solid.amiss() {
        troubles.push(
            Trouble::design(format!("the {} cannot be: {fault}", b.name))
                .at(m.train.arbors[b.arbor].facts.at.clone())
                .cure("a thinner pivot, or a longer strip of the suspension"),
        );
    }
    let body = FlatBody {
        thickness,
        holes,
        extent: (width, height),
        datum,
        round: None,
        teeth: None,
        notes: Vec::new(),
        solid,
    };
    let about = |name: String, slug: &str, count: i64, material, note: &str| About {
        name,
        slug: slug.to_owned(),
        at: &m.train.arbors[b.arbor].facts.at,
        material,
        finish: &[],
        count,
        note: Some(note.to_owned()),
    };
    let which = if b.front { "front" } else { "back" };
    let mut all = vec![
        about(
            b.name.clone(),
            &slug,
            1,
            p.material,
            &format!(
                "open its pivot hole last, in place on its posts, in line with the hole of the {which} plate"
            ),
        )
        .flat("strip", body, book),
    ];
    let Ok(rod) = tables::material::find("brass CZ121") else { return all };
    let post_slug = format!("{}.posts", b.slug);
    let thin =
        house_across(&format!("{post_slug}.pin_hole"), 1.2, "hole of a taper pin at its thin end", book);
    let sizes = PostSizes {
        length: long(b.gap, &format!("{post_slug}.length"), 0.01, -0.01, book),
        body: b.post,
        spigot,
        into: thick,
        over: thick,
        pin: thin,
    };
    let turned = post(&post_slug, &sizes, book);
    let note = format!("riveted into the {which} plate; both turned to one length between the shoulders");
    all.push(
        about(format!("post of the {}", b.name), &post_slug, 2, rod, &note).turned("post", turned, book),
    );
    let pin_slug = format!("{}.pin", b.slug);
    all.extend(pins(&pin_slug, &format!("pin of the {}", b.name), thin, spigot, 2, p, book));
    if let Some(h) = hang {
        let slug = h.slug.clone();
        let turned = stud(&h, thick, book);
        let note = "riveted into the cock with its slit upright: the strip's top is pinned in it, and bends where it leaves the stud";
        all.push(about("suspension stud".to_owned(), &slug, 1, rod, note).turned("stud", turned, book));
    }
    all
}
/// The stud that a pendulum's strip is pinned in.
struct Hang {
    slug: String,
    /// Above the pallets' axis.
    up: Val<Length>,
    body: Val<Diameter>,
    foot: Val<Diameter>,
    /// Width of the strip.
    strip: Val<Length>,
}
fn hang(m: &Movement, b: &Bridge, facts: &MovementFacts, book: &mut Book) -> Option<Hang> {
    let s = m.pendulum.as_ref().filter(|_| b.carries_pendulum)?.suspension.as_ref()?;
    let strip = facts.pendulum.as_ref()?.suspension.as_ref()?.width;
    let slug = format!("{}.stud", b.slug);
    let body = house_across(&format!("{slug}.diameter"), 8.0, "a stud that a pendulum hangs from", book);
    let foot = house_across(&format!("{slug}.foot"), 4.0, "its spigot in the cock", book);
    let bends = s.pivot;
    let up =
        work!(book, format_args!("{slug}.above_axis"), |bends, body| bends + body.across() / 2.0, &HOUSE);
    Some(Hang { slug, up, body, foot, strip })
}
/// The stud: a spigot to rivet, a body with a slit along its end and a hole for the pin across it.
fn stud(h: &Hang, thick: Val<Length>, book: &mut Book) -> TurnedBody {
    let slug = h.slug.as_str();
    let rivet = house(&format!("{slug}.rivet"), 0.4, "metal to rivet over the cock", book);
    let clear =
        house(&format!("{slug}.clear"), 6.0, "from the cock to the strip, so that the rod passes free", book);
    let beyond =
        house(&format!("{slug}.room"), 1.0, "the slit is this much longer than the strip is wide", book);
    let slit = house(&format!("{slug}.slit"), 1.2, "slit for the top of the strip with its cheeks", book);
    let pin = house_across(&format!("{slug}.pin_hole"), 1.5, "pin through the top of the strip", book);
    let strip = h.strip;
    let foot = work!(book, format_args!("{slug}.foot_length"), |thick, rivet| thick + rivet, &HOUSE);
    let deep = work!(book, format_args!("{slug}.slit_depth"), |strip, beyond| strip + beyond, &HOUSE);
    let length = work!(book, format_args!("{slug}.length"), |clear, deep| clear + deep, &HOUSE);
    let cross = work!(
        book,
        format_args!("{slug}.pin_hole.from_end"),
        |foot, length, deep| foot + length - deep / 2.0,
        &HOUSE
    );
    let small = sized(h.foot, &format!("{slug}.foot"), -0.004, -0.012, book);
    let large = sized(h.body, &format!("{slug}.diameter"), 0.05, -0.05, book);
    let limits = long(length, &format!("{slug}.length"), 0.1, -0.1, book);
    let mut b = Builder::new(book, slug);
    let (a0, a1) = b.step("spigot to rivet", foot, small, Edges::default());
    b.tell_across(&a0, &a1, Figure::diameter(&small));
    b.tell_along(&a0, &a1, Figure::plain(&foot));
    let (b0, b1) = b.step("body", length, large, Edges::default());
    b.tell_across(&b0, &b1, Figure::diameter(&large));
    b.tell_along(&b0, &b1, Figure::length(&limits));
    b.slot(End::Far, slit, deep);
    let text = format!(
        "drill ⌀{} across, with the strip in the slit",
        crate::hardware::builder::mm(pin.bare().in_mm())
    );
    b.tell(Told::Note { z: cross.bare().in_mm(), r: h.body.bare().in_mm() / 2.0, text });
    b.finish((limits.upper, limits.lower))
}

/// Sizes of a post between two faces, riveted into one and pinned over the other.
pub(super) struct PostSizes {
    /// Between its shoulders.
    pub(super) length: Size<Length>,
    /// Its body.
    pub(super) body: Val<Diameter>,
    /// Its spigots.
    pub(super) spigot: Val<Diameter>,
    /// What it is riveted into.
    pub(super) into: Val<Length>,
    /// What is pinned over it.
    pub(super) over: Val<Length>,
    /// Diameter of the pin in its middle.
    pub(super) pin: Val<Diameter>,
}
/// A post or pillar: riveted at its first end, pinned at its other.
pub(super) fn post(slug: &str, s: &PostSizes, book: &mut Book) -> TurnedBody {
    let rivet = house(&format!("{slug}.rivet"), 0.4, "metal to rivet over the plate", book);
    let beyond = house(&format!("{slug}.beyond_pin"), 2.5, "metal beyond the pin", book);
    let (into, over, pin) = (s.into, s.over, s.pin);
    let first = work!(book, format_args!("{slug}.first_spigot.length"), |into, rivet| into + rivet, &HOUSE);
    let other = work!(
        book,
        format_args!("{slug}.other_spigot.length"),
        |over, pin, beyond| over + pin.across() + beyond,
        &HOUSE
    );
    let length = s.length.nominal;
    // The hole dips a tenth into the plate, so that the pin draws it down.
    let cross = work!(
        book,
        format_args!("{slug}.pin_hole.from_end"),
        |first, length, over, pin| first + length + over + pin.across() / 2.0 - Length::mm(0.1),
        &HOUSE
    );
    let body = sized(s.body, &format!("{slug}.diameter"), 0.05, -0.05, book);
    let spigot = sized(s.spigot, &format!("{slug}.spigot"), -0.004, -0.012, book);
    let mut b = Builder::new(book, slug);
    let (a0, a1) = b.step("spigot to rivet", first, spigot, Edges::default());
    b.tell_across(&a0, &a1, Figure::diameter(&spigot));
    b.tell_along(&a0, &a1, Figure::plain(&first));
    let (b0, b1) = b.step("body", length, body, Edges::default());
    b.tell_across(&b0, &b1, Figure::diameter(&body));
    b.tell_along(&b0, &b1, Figure::length(&s.length));
    let (c0, c1) = b.step("spigot to pin", other, spigot, Edges::default());
    b.tell_across(&c0, &c1, Figure::diameter(&spigot));
    b.tell_along(&c0, &c1, Figure::plain(&other));
    b.cross_hole(cross, pin);
    let text = format!("⌀{} across, for the pin", crate::hardware::builder::mm(pin.bare().in_mm()));
    b.tell(Told::Note { z: cross.bare().in_mm(), r: 0.0, text });
    b.finish((s.length.upper, s.length.lower))
}
/// The pillars and their pins.
fn pillars(p: &Plates, count: i64, book: &mut Book) -> Vec<Part> {
    let slug = "plates.pillar";
    let thin = house_across(&format!("{slug}.pin_hole"), 1.5, "hole of a taper pin at its thin end", book);
    let sizes = PostSizes {
        length: long(p.gap, &format!("{slug}.length"), 0.01, -0.01, book),
        body: p.pillar_diameter,
        spigot: p.pillar_spigot,
        into: p.thickness,
        over: p.thickness,
        pin: thin,
    };
    let body = post(slug, &sizes, book);
    let Ok(material) = tables::material::find("brass CZ121") else { return Vec::new() };
    let about = About {
        name: "pillar".to_owned(),
        slug: slug.to_owned(),
        at: &p.at,
        material,
        finish: &[],
        count,
        note: Some(
            "all turned to one length between the shoulders: compare them, do not only measure them"
                .to_owned(),
        ),
    };
    let mut all = vec![about.turned("pillar", body, book)];
    all.extend(pins("plates.pillar_pin", "pillar pin", thin, p.pillar_spigot, count, p, book));
    all
}
/// Taper pins: a fiftieth on the diameter, long enough to hold on both sides.
pub(super) fn pins(
    slug: &str,
    name: &str,
    hole: Val<Diameter>,
    spigot: Val<Diameter>,
    count: i64,
    p: &Plates,
    book: &mut Book,
) -> Option<Part> {
    let out = house(&format!("{slug}.out"), 10.0, "what stands out of the spigot on both sides", book);
    let taper = house(&format!("{slug}.thin_out"), 4.0, "what the thin end stands out", book);
    let length = work!(book, format_args!("{slug}.length"), |spigot, out| spigot.across() + out, &HOUSE);
    let thin = work!(book, format_args!("{slug}.thin"), |hole, taper| hole - taper / 50.0, &LIMITS);
    let thick = work!(book, format_args!("{slug}.thick"), |thin, length| thin + length / 50.0, &LIMITS);
    let thin = sized(thin, &format!("{slug}.thin"), 0.02, -0.02, book);
    let limits = long(length, &format!("{slug}.length"), 0.2, -0.2, book);
    let body = {
        let mut b = Builder::new(book, slug);
        let (z0, z1) = b.step("pin", length, thin, Edges::default());
        if let Some(step) = b.last() {
            step.end = Some(thick);
        }
        let nudge = length.bare().in_mm() * 1e-3;
        let (a, c) = (z0.bare().in_mm() + nudge, z1.bare().in_mm() - nudge);
        b.tell(Told::Across { at: a, inside: false, figure: Figure::diameter(&thin) });
        b.tell(Told::Across { at: c, inside: false, figure: Figure::across(&thick) });
        b.tell_along(&z0, &z1, Figure::length(&limits));
        b.finish((limits.upper, limits.lower))
    };
    let material = tables::material::find("mild steel").ok()?;
    let finish: &[Finish] = &[];
    let about = About {
        name: name.to_owned(),
        slug: slug.to_owned(),
        at: &p.at,
        material,
        finish,
        count,
        note: Some("one in fifty on the diameter; ends rounded".to_owned()),
    };
    Some(about.turned("pin", body, book))
}
