//! Plates, pillars and their pins, bridges and cocks.

use super::common::{About, LIMITS, house, house_across, long, sized};
use crate::design::{Movement, PlatesDesign};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, FlatBody, FlatNote, Part, Told, TurnedBody};
use reckon::source::HOUSE;
use reckon::{Book, Diameter, Length, Trouble, Val, work};
use record::facts::{Finish, Hole, MovementFacts, Plates, Size};
use shape::flat::{Countersink, Flat};
use shape::profile::Profile;

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
