//! How free everything has to be: each arbor alone, each pair, the train, then the escapement.

use super::{Figure, Item, Of, Page, SETTING_UP, words};
use reckon::{Angle, Book, Cell, Length, Source, Time, work};
use record::facts::EscapementKind;

/// How a beat that is out is put right.
pub static BEAT: Source =
    Source::derived("offset of the middle of the swing from half the difference of two beats")
        .with_formula("ε = A sin(π B/T), x = ε l");

/// The list of freedom.
pub(super) fn freedom(of: &Of<'_>, book: &mut Book) -> Page {
    let m = of.m;
    let mut rows = Vec::new();
    let mut inputs = Vec::new();
    for (a, stem) in m.train.arbors.iter().zip(&m.stems) {
        rows.push(vec![
            Cell::word(a.facts.name.clone()),
            Cell::of(&stem.endshake.bare()),
            Cell::of(&stem.play.bare()),
            Cell::of(&stem.pivot.bare()),
            Cell::word("☐"),
        ]);
        inputs.extend([stem.endshake.id(), stem.play.id()]);
    }
    let alone = book.table(
        "assembly.alone",
        &["arbor", "endshake", "shake in the holes", "pivot", "free"],
        rows,
        "each arbor alone between the plates, nuts tight: what it moves along and across",
        inputs,
        &SETTING_UP,
    );
    let mut rows = Vec::new();
    let mut inputs = Vec::new();
    for mesh in &m.train.meshes {
        let (Some(s), Some(driver)) = (&mesh.sizes, m.train.arbors.get(mesh.driver)) else { continue };
        let Some(c) = &s.contact else { continue };
        let driven = mesh.driven.and_then(|d| m.train.arbors.get(d));
        let at = mesh.laid.unwrap_or(s.centres);
        rows.push(vec![
            Cell::word(format!(
                "{} {} : {}",
                driver.facts.name,
                mesh.teeth.shown(),
                driven.map_or(String::new(), |d| format!("{} {}", d.facts.name, mesh.leaves.shown()))
            )),
            Cell::of(&at.bare()),
            Cell::of(&c.runs.0.bare()),
            Cell::of(&c.felt.bare()),
            Cell::of(&c.runs.1.bare()),
            Cell::word("☐"),
        ]);
        inputs.extend([at.id(), c.felt.id(), c.runs.0.id(), c.runs.1.id()]);
    }
    let pairs = (!rows.is_empty()).then(|| {
        book.table(
            "assembly.pairs",
            &["pair", "planted at", "too deep below", "feels smoothest", "too shallow above", "runs"],
            rows,
            "two arbors alone between the plates: distances from the computed contact of the drawn teeth",
            inputs,
            &SETTING_UP,
        )
    });
    let mut items = vec![
        Item::Head("Each arbor alone".to_owned()),
        Item::Say("One arbor between the plates, nuts tight, movement upright, then on each side: it drops by its own weight along its endshake, with a click at each end, and leans by its shake alike at both.".to_owned()),
        Item::Table(alone),
        Item::Dots(words(&[
            "Free with the nuts loose, tight with them home: a plate or pillar pulls; lap the high pillar, or the plate is bowed.",
            "Tight at one place of each turn: a bent pivot. Straighten warm, or make it anew; never open the hole for it.",
            "Tight all round: broach from the inside, both plates together, a hair at a time, then burnish the hole.",
            "No endshake: take it off the shoulder, 0.02 mm at a time; too much: a thin bush, or the plates' gap is wrong for all.",
            "Leans to one side: the holes are out of line; the pin through both tells by how much over the gap.",
        ])),
        Item::Head("Each pair".to_owned()),
    ];
    if let Some(pairs) = pairs {
        items.push(Item::Say("Two neighbours alone. Turn the wheel slowly by one finger under light drag on the pinion's arbor, a whole turn of the wheel, both ways; mark with pencil where it changes.".to_owned()));
        items.push(Item::Table(pairs));
    }
    items.push(Item::Dots(words(&[
        "Hard as a tooth comes towards the middle, or backlash nowhere: too deep. Measure over plugs in the two holes and compare with the table.",
        "A knock or a drop as a tooth leaves, chatter under drag: too shallow, or an outside under size.",
        "Good for most of a turn and bad at one place: the wheel runs out; find which by where the pencil marks come again (sheet of stops).",
        "A hole that has to move: bush it and plant anew by the depthing tool; a wheel is not cut deeper when its tips are formed already.",
    ])));
    items.push(Item::Head("The whole train, without pallets".to_owned()));
    items.push(Item::Steps(vec![
        format!("All arbors in, no oil, no hands. A finger's push at '{}' must set the escape wheel turning, and it runs on and comes back a little as it stops.", of.first),
        "Tilt it every way: the train must start by a push as light in each.".to_owned(),
        "Time how long the escape wheel runs down from one push; write it, so that it can be compared after oil and after years.".to_owned(),
    ]));
    items
        .push(Item::Boxes(words(&["upright, s", "dial up, s", "dial down, s", "remarks"]), vec![Vec::new()]));
    Page { title: "freedom".to_owned(), items }
}
/// Locks and drops, and the beat.
pub(super) fn escapement(of: &Of<'_>, book: &mut Book) -> Option<Page> {
    let e = of.m.escapement.as_ref()?;
    let mut rows = Vec::new();
    let mut inputs = Vec::new();
    let dead = matches!(e.kind, EscapementKind::DeadBeat | EscapementKind::PinWheel);
    let hopper = e.kind == EscapementKind::Grasshopper;
    for side in ["entry", "exit"] {
        for what in ["lock", "drop", "lift", "recoil"] {
            if (what == "lock" && !dead) || (hopper && what != "recoil") {
                continue;
            }
            let Some((id, line)) = book.find(&format!("escapement.cycled.{side}.{what}")) else { continue };
            let Some(si) = line.si else { continue };
            let a = Angle::si(si);
            let (least, most) = match what {
                "lock" => (si * 0.7, si * 1.4),
                "drop" => (si * 0.75, si * 1.35),
                "recoil" => (si * 0.7, si * 1.3 + 0.0005),
                _ => (si * 0.9, si * 1.1),
            };
            rows.push(vec![
                Cell::word(format!("{what}, {side}")),
                degrees(a),
                degrees(Angle::si(least)),
                degrees(Angle::si(most)),
                Cell::word("\u{a0}"),
            ]);
            inputs.push(id);
        }
    }
    let table = (!rows.is_empty()).then(|| {
        book.table(
            "assembly.escapement",
            &["seen at the pallets' arbor", "wanted", "least", "most", "found"],
            rows,
            "as drawn; least and most are the house's bounds for what still goes",
            inputs,
            &SETTING_UP,
        )
    });
    let mut items = vec![
        Item::Head("The escapement".to_owned()),
        Item::Say("A protractor or a long pointer on the pallets' arbor, a light push on the train. Tooth by tooth, all round the wheel: mark the tooth that differs.".to_owned()),
    ];
    items.extend(table.map(Item::Table));
    items.push(Item::Dots(put_right(e.kind)));
    if let Some(id) = e.sensitivity {
        items.push(Item::Head("What moves what".to_owned()));
        items.push(Item::Table(id));
    }
    items.extend(in_beat(of, book));
    Some(Page { title: "escapement set up".to_owned(), items })
}
/// An angle to hundredths of a degree.
fn degrees(a: Angle) -> Cell {
    Cell::as_text(&a, format!("{}°", reckon::print::fixed(a.in_deg(), 2)))
}
/// What is done when it is not so.
fn put_right(kind: EscapementKind) -> Vec<String> {
    match kind {
        EscapementKind::DeadBeat | EscapementKind::PinWheel => words(&[
            "Both locks too small, drops grown: pallets too far off. Nearer, by the eccentric bush: 0.05 mm is about 0.15° of lock on both.",
            "Both locks too large, it wants a great swing to unlock: pallets too near; away by as much.",
            "Locks differ: one impulse corner stands proud. Stone the impulse face of the pallet with the greater lock at its entering end, never the dead face; try after five strokes.",
            "Drops differ, locks alike: the pallets are too wide or too narrow for the wheel. Close or open them, warm, by the least amount; or stone the leaving corner of the one with the smaller drop.",
            "One tooth alone differs: tip of that tooth; top the wheel in the lathe with a slip, all teeth alike.",
            "It recoils on a dead face: that face is not round about the arbor; polish it again in its ring.",
        ]),
        EscapementKind::Recoil => words(&[
            "Drops differ: drop into the entry greater, pallets too far off; drop into the exit greater, too near. Move the arbor by the eccentric bush, a tenth at most.",
            "Both drops too large: the anchor is narrow for the wheel; both too small and it catches: stone the leaving corners.",
            "It trips at a large swing: too shallow. It will not let off at a small one: too deep.",
            "Pits on the faces: stone and polish along the way the tooth slides, never across.",
        ]),
        EscapementKind::Grasshopper => words(&[
            "Both arms must lift off freely and come back to their stops by themselves; composers rest on their stops before each capture.",
            "An arm that strikes beside its tooth: stop of its composer, by hundredths; the swing must exceed the escaping arc before power is let on.",
            "Never move the frame by hand under power: an arm may be thrown under a tooth. Block the train first.",
            "No oil on arms, teeth or composers unless the drawing asks for it; joints a trace.",
        ]),
    }
}
/// In beat: what a difference means at the crutch.
fn in_beat(of: &Of<'_>, book: &mut Book) -> Vec<Item> {
    let Some(p) = &of.m.pendulum else { return Vec::new() };
    let (arc, beat) = (p.arc, p.beat);
    let one = book.assumed(
        "assembly.beat.difference",
        Time::si(0.010),
        "as an example: half the difference of two beats",
    );
    let off = work!(
        book,
        "assembly.beat.off",
        |arc, one, beat| arc * reckon::maths::sin(reckon::maths::PI * one.value() / (beat.value() * 2.0)),
        &BEAT
    );
    let mut figures = vec![Figure::of("half the difference", &one), Figure::of("is out by", &off)];
    let long = book.find("escapement.crutch.height").and_then(|(_, l)| l.si);
    if let Some(long) = long {
        let crutch = book.solved(
            "assembly.beat.crutch",
            Length::si(long),
            ("length of the crutch as made", 1, 0.0),
            book.find("escapement.crutch.height").map(|(id, _)| id).into_iter().collect(),
            &BEAT,
        );
        let at = work!(book, "assembly.beat.at_crutch", |off, crutch| crutch * off.value(), &BEAT);
        figures.push(Figure::of("at the crutch's end", &at));
    }
    vec![
        Item::Head("In beat".to_owned()),
        Item::Say("Tick to tock and tock to tick must last alike. By ear: lead the pendulum slowly to each side by a card with a line under its end; it must let off as far right as left of where it hangs at rest. By sound: half the difference of the two.".to_owned()),
        Item::Figures(figures),
        Item::Steps(words(&[
            "Tick after which it swings longest: the crutch has to move towards the side on which the pendulum is at that tick's end.",
            "Half of what is computed first, then listen again: every bend springs back.",
            "Bend the crutch over two pairs of fingers, or turn its screw; never by the pallets.",
        ])),
        Item::Boxes(words(&["right of rest, °", "left of rest, °", "difference, ms", "moved, mm"]), vec![Vec::new()]),
    ]
}
