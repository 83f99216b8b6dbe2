//! Escape wheel, pallets and crutch.

mod crutch;
mod grasshopper;

use super::common::{About, LIMITS, house, house_across, long, round_extent, sized};
use super::drive::plain::{self, At, Cut};
use super::wheels::hole;
use crate::design::escapement::Piece;
use crate::design::{EscapementDesign, Movement};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, FlatBody, FlatNote, Part, Toothing};
use ::teeth::crossing;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Length, Trouble, Val, work};
use record::facts::{Escapement, EscapementKind, Finish, Hole, MovementFacts};
use shape::flat::Flat;

/// All of them.
pub(super) fn parts(
    m: &Movement,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let (Some(e), Some(d)) = (&facts.escapement, &m.escapement) else { return Vec::new() };
    let mut all = Vec::new();
    all.extend(wheel(m, e, d, book));
    if e.kind == EscapementKind::PinWheel {
        all.extend(pins(e, d, book));
    }
    if let Some(stem) = m.train.pallets.map(|p| m.stems[p].diameter) {
        for piece in &d.pieces {
            all.push(pallet(e, piece, stem, book));
        }
        if e.kind == EscapementKind::Grasshopper {
            all.extend(grasshopper::small(e, d, book));
        }
        all.extend(crutch::crutch(m, facts, e, stem, book).map(|(part, _)| part));
    }
    for part in &all {
        let crate::part::Body::Flat(body) = &part.body else { continue };
        for fault in body.solid.amiss() {
            troubles.push(
                Trouble::design(format!("'{}' cannot be: {fault}", part.common.name))
                    .at(e.at.clone())
                    .cure("a larger wheel_diameter, or a thinner arbor"),
            );
        }
    }
    all
}
/// A part from sheet as it swings or turns: what it is like, its metal's density.
#[derive(Clone, Debug)]
pub struct Moving {
    /// Its solid, the arbor at the origin (mm).
    pub solid: Flat,
    /// Density (kg/m³).
    pub density: f64,
    /// How far below the arbor it is bent square, where it is (mm).
    pub bent: Option<f64>,
}
/// Escape wheel and crutch of a movement as they will be made; nothing is written of them.
#[must_use]
pub fn moving(m: &Movement, facts: &MovementFacts) -> (Option<Moving>, Option<Moving>) {
    let (Some(e), Some(d)) = (&facts.escapement, &m.escapement) else { return (None, None) };
    let book = &mut Book::off();
    let density = e.material.density.value.value();
    let flat = |part: Part, bent| match part.body {
        crate::part::Body::Flat(body) => Some(Moving { solid: body.solid, density, bent }),
        crate::part::Body::Turned(_) => None,
    };
    let wheel = wheel(m, e, d, book).and_then(|part| flat(part, None));
    let crutch = m
        .train
        .pallets
        .and_then(|p| crutch::crutch(m, facts, e, m.stems[p].diameter, book))
        .and_then(|(part, bend)| flat(part, Some(bend)));
    (wheel, crutch)
}
/// Arms of an escape wheel: few, thin, so that it starts and stops easily.
const fn arms(radius: f64) -> u32 {
    if radius < 12.0 {
        4
    } else if radius < 30.0 {
        5
    } else {
        6
    }
}
fn wheel(m: &Movement, e: &Escapement, d: &EscapementDesign, book: &mut Book) -> Option<Part> {
    let i = m.train.escape?;
    let slug = "escapement.wheel".to_owned();
    let thickness = *m.thicknesses.get(&i)?;
    let seat = *m.seats.get(&i)?;
    let (root, depth) = (d.root, d.depth);
    let pinned = e.kind == EscapementKind::PinWheel;
    let over = if pinned {
        work!(
            book,
            format_args!("{slug}.outside"),
            |root, depth| (root + depth).as_diameter() * 2.0,
            &GEOMETRY
        )
    } else {
        let tips = e.wheel_diameter;
        work!(book, format_args!("{slug}.outside"), |tips| tips, &GEOMETRY)
    };
    let outside = sized(over, &format!("{slug}.outside"), 0.0, -0.02, book);
    let bore = sized(seat, &format!("{slug}.bore_for"), 0.012, 0.0, book);
    let rim =
        work!(book, format_args!("{slug}.rim"), |root| Length::mm((root.in_mm() * 0.07).max(1.2)), &HOUSE);
    let inside = work!(book, format_args!("{slug}.rim_inside"), |root, rim| (root - rim) * 2.0, &GEOMETRY);
    let wall =
        house(&format!("{slug}.hub_wall"), 2.0, "metal round the seat, under the collet's flange", book);
    let hub = work!(book, format_args!("{slug}.hub"), |seat, wall| seat + wall * 2.0, &HOUSE);
    let arm = work!(
        book,
        format_args!("{slug}.arm_width"),
        |root| Length::mm((root.in_mm() * 0.06).max(1.0)),
        &HOUSE
    );
    let corner = house(&format!("{slug}.corner"), 0.6, "what a fine file reaches into", book);
    let plan = crossing::Crossing {
        arms: arms(root.bare().in_mm()),
        rim: inside.bare().in_mm() / 2.0,
        hub: hub.bare().in_mm() / 2.0,
        at_hub: arm.bare().in_mm(),
        at_rim: arm.bare().in_mm(),
        fillet: corner.bare().in_mm(),
    };
    // A wheel too small for windows is left solid.
    let windows = plan.windows().unwrap_or_default();
    let mut flat = Flat::new(d.wheel.clone(), thickness.nominal.bare().in_mm());
    flat = flat.hole(0.0, 0.0, bore.nominal.bare().in_mm(), "A");
    flat.windows.clone_from(&windows);
    let zero = work!(book, format_args!("{slug}.middle"), |root| root * 0.0, &LIMITS);
    let mut holes = vec![hole("A", bore, zero, &e.at)];
    let r = over.bare().in_mm() / 2.0;
    let mut notes = vec![((r * 0.72, r * 0.69), FlatNote::Figure(Figure::diameter(&outside)))];
    if !windows.is_empty() {
        let at = inside.bare().in_mm() / 2.0;
        notes.push(((at * 0.825, -at * 0.565), FlatNote::Figure(Figure::plain(&inside))));
    }
    let mut teeth = None;
    if pinned {
        flat = pin_holes(flat, &mut holes, e, d, book)?;
        let words = format!("{} pins on ⌀{}", e.teeth.bare().0, mm(d_circle(e)));
        notes.push(((-r, 0.0), FlatNote::Words(words)));
    } else {
        notes.push(((-r, 0.0), FlatNote::Words(format!("{} teeth", e.teeth.bare().0))));
        let at_roots = work!(book, format_args!("{slug}.root"), |root| (root * 2.0).as_diameter(), &GEOMETRY);
        teeth = Some(Toothing {
            what: "escape teeth".to_owned(),
            slug: slug.clone(),
            count: e.teeth,
            module: None,
            outside: over,
            root: at_roots,
            depth,
            form: format!("{}, as drawn on the sheet of the escapement", e.kind.word()),
            along: None,
        });
    }
    let (extent, datum) = round_extent(over, &slug, book);
    let body = FlatBody { thickness, holes, extent, datum, round: Some(outside), teeth, notes, solid: flat };
    let about = About {
        name: "escape wheel".to_owned(),
        slug,
        at: &e.at,
        material: e.material,
        finish: &[],
        count: 1,
        note: Some(
            "Tips true to 0.01 mm: top the wheel in the lathe before the fronts are finished.".to_owned(),
        ),
    };
    Some(about.flat("escape wheel", body, book))
}
fn d_circle(e: &Escapement) -> f64 {
    e.wheel_diameter.bare().in_mm()
}
fn mm(x: f64) -> String {
    format!("{} mm", reckon::print::trimmed(&reckon::print::fixed(x, 3)))
}
/// Holes for pins on their circle.
fn pin_holes(
    mut flat: Flat,
    holes: &mut Vec<Hole>,
    e: &Escapement,
    d: &EscapementDesign,
    book: &mut Book,
) -> Option<Flat> {
    let pin = e.pin?;
    let slug = "escapement.wheel";
    let size = sized(pin, &format!("{slug}.pin_hole"), -0.005, -0.012, book);
    for (i, p) in d.pins.iter().enumerate() {
        let label = format!("P{}", i + 1);
        flat = flat.hole(p.x, p.y, pin.bare().in_mm(), &label);
        let mut put = |axis: &str, v: f64| {
            book.solved(
                format!("{slug}.pin.{}.{axis}", i + 1),
                Length::mm(v),
                ("pins stand evenly on their circle", 1, 0.0),
                vec![e.wheel_diameter.id(), e.teeth.id()],
                &GEOMETRY,
            )
        };
        let centre = (put("x", p.x), put("y", p.y));
        holes.push(Hole { label, centre, diameter: size, thread: None, countersink: None, at: e.at.clone() });
    }
    Some(flat)
}
/// Pins of a pin-wheel.
fn pins(e: &Escapement, d: &EscapementDesign, book: &mut Book) -> Option<Part> {
    let pin = e.pin?;
    let slug = "escapement.pin_made".to_owned();
    let (wheel, pallets) = (e.thickness, e.pallet_thickness);
    let beyond = house(&format!("{slug}.beyond"), 0.6, "a pin stands out beyond the pallets", book);
    let length = work!(
        book,
        format_args!("{slug}.length"),
        |wheel, pallets, beyond| wheel + pallets * 2.0 + beyond,
        &HOUSE
    );
    let whole = long(length, &format!("{slug}.length"), 0.1, 0.0, book);
    let size = sized(pin, &format!("{slug}.diameter"), 0.0, -0.005, book);
    let body = {
        let mut b = Builder::new(book, &slug);
        let (z0, z1) = b.step("pin", length, size, Edges::default());
        b.tell_across(&z0, &z1, Figure::diameter(&size));
        b.tell_along(&z0, &z1, Figure::length(&whole));
        b.finish((whole.upper, whole.lower))
    };
    let about = About {
        name: "escape pin".to_owned(),
        slug,
        at: &e.at,
        material: e.pallet_material,
        finish: &[Finish::Harden, Finish::Temper, Finish::Polish],
        count: i64::try_from(d.pins.len()).unwrap_or(0),
        note: Some("Hard drawn, polished before it is pressed in; all of one length.".to_owned()),
    };
    Some(about.turned("pin", body, book))
}
/// A piece of the pallets.
fn pallet(e: &Escapement, piece: &Piece, stem: Val<Diameter>, book: &mut Book) -> Part {
    let slug = piece.slug.clone();
    let hopper = e.kind == EscapementKind::Grasshopper;
    let thick = if hopper {
        let (mm, why) = match piece.name.as_str() {
            "pallet frame" => (2.0, "a frame stiff and light"),
            n if n.ends_with("composer") => (0.8, "a composer is only a stop: light"),
            _ => (1.5, "an arm carries one tooth's push"),
        };
        house(&format!("{slug}.thickness"), mm, why, book)
    } else {
        e.pallet_thickness
    };
    let thickness = long(thick, &format!("{slug}.thickness_made"), 0.0, -0.05, book);
    let across = match piece.joint {
        Some(mm) => {
            house_across(&format!("{slug}.joint"), (mm * 20.0).round() / 20.0, "joint of an arm", book)
        }
        None => stem,
    };
    let bore = sized(across, &format!("{slug}.bore"), 0.012, 0.0, book);
    let mut holes = vec![At { label: "A", x: 0.0, y: 0.0, size: bore }];
    for ((p, wide), label) in piece.holes.iter().zip(["B", "C"]) {
        let name = format!("{slug}.hole_{}", label.to_lowercase());
        let size = house_across(&name, (wide * 20.0).round() / 20.0, "joint of an arm", book);
        let size = sized(size, &name, 0.012, 0.0, book);
        holes.push(At { label, x: p.x, y: p.y, size });
    }
    let working = !hopper || piece.name.ends_with("arm");
    let note = if hopper {
        match piece.name.as_str() {
            "pallet frame" => "Measure both joints from the arbor's hole before they are reamed.",
            n if n.ends_with("composer") => "Heavy enough to fall back on its stop, no heavier.",
            _ => "Swings freely on its joint; nose light, so that the composer lifts it off the wheel.",
        }
    } else {
        "Leave 0.02 mm on locking and impulse faces for the polish; polish along the path of the tooth."
    };
    let steel: &[Finish] = &[Finish::Harden, Finish::Temper, Finish::Polish];
    let about = About {
        name: piece.name.clone(),
        slug,
        at: &e.at,
        material: if working { e.pallet_material } else { e.material },
        finish: if working { steel } else { &[] },
        count: 1,
        note: Some(note.to_owned()),
    };
    let cut = Cut {
        word: "pallets",
        outline: piece.outline.clone(),
        thickness,
        holes,
        round: None,
        teeth: None,
        notes: Vec::new(),
    };
    plain::flat(&about, cut, book)
}
