//! A pin-wheel escapement set out.

use super::found::{SIDES, STEPS, beats, cycled, slope_cell};
use super::{Acting, Common, Drawing, Enter, EscapementDesign, Piece, RUN, about, millimetres};
use ::escapement::dead_beat::Side;
use ::escapement::dead_beat::impulse::RATIO;
use ::escapement::pin_wheel::{PIN_WHEEL, PinWheel, Sizes};
use kurbo::{Point, Vec2};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Angle, Book, Cell, Id, Trouble, Val, work};
use shape::profile::Profile;

pub(super) fn set_out(
    c: &Common<'_>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let e = c.e;
    let (lift, lock, pin, arc, drop) = (e.lift?, e.lock?, e.pin?, e.running_arc, e.drop);
    let (pitch, radius) = (c.pitch, c.radius);
    let clear = work!(book, "escapement.clearance", |radius, drop| radius * drop.value(), &PIN_WHEEL);
    let at = direction(c, book, troubles)?;
    let past = work!(book, "escapement.impulse.past", |lift, lock| (lift + lock) / 2.0, &PIN_WHEEL);
    let needed = work!(book, "escapement.arc_needed", |past| past + Angle::si(0.3_f64.to_radians()), &RUN);
    c.runs(needed, "less lift or less lock", troubles)?;
    if clear.bare().in_mm() + pin.bare().in_mm() >= c.r() * pitch.bare().value() / 2.0 {
        let most = (c.r() * pitch.bare().value() / 2.0 - clear.bare().in_mm()).max(0.0);
        troubles.push(
            Trouble::design("the pins are wider than the gap that the pallets leave them")
                .at(super::place(book, pin.id(), e))
                .why(format!(
                    "half a pitch of the pins' circle is {}, and a pin with its clearance fills it",
                    millimetres(c.r() * pitch.bare().value() / 2.0)
                ))
                .cure(format!("pin = \"{}\"", millimetres((0.6 * most * 10.0).floor() / 10.0)))
                .cure("fewer pins, or a larger circle of pins"),
        );
        return None;
    }
    let sizes = Sizes {
        pins: c.teeth,
        radius: c.r(),
        pin: pin.bare().in_mm(),
        at: at.bare().value(),
        lift: lift.bare().value(),
        lock: lock.bare().value(),
        clear: clear.bare().in_mm(),
        arc: arc.bare().value(),
    };
    let k = match PinWheel::new(sizes) {
        Ok(k) => k,
        Err(amiss) => {
            troubles.push(c.refused(&amiss, book));
            return None;
        }
    };
    let centres = work!(book, "escapement.centres", |radius, at| radius / at.cos(), &PIN_WHEEL);
    let arm = work!(book, "escapement.arm", |radius, at| radius * reckon::maths::tan(at.value()), &PIN_WHEEL);
    let run = work!(book, "escapement.run", |arc, past| arc - past, &RUN);
    let works = k.works();
    let cycle = cycled(c, &works, book, troubles)?;
    let inputs =
        vec![e.teeth.id(), radius.id(), pin.id(), at.id(), lift.id(), lock.id(), clear.id(), arc.id()];
    let mut enter = Enter {
        book,
        inputs,
        source: &PIN_WHEEL,
        how: "free turn found by halving, so that the resting pin clears the inner nib",
    };
    let advance = enter.angle("advance", k.push);
    let free = enter.angle("free_turn", k.drop);
    let ratio = work!(enter.book, "escapement.ratio", |advance, lift| advance / lift, &RATIO);
    let mut told = vec![
        ("distance of the arbors".to_owned(), centres.id()),
        ("from pin to pin".to_owned(), pitch.id()),
        ("line of centres to the middle of the pallets, at the wheel".to_owned(), at.id()),
        ("arm: pallets' arbor to the circle of pins".to_owned(), arm.id()),
        ("turn of the wheel that pushes".to_owned(), advance.id()),
        ("free turn of the wheel".to_owned(), free.id()),
        ("mean torque ratio".to_owned(), ratio.id()),
        ("swing needed".to_owned(), needed.id()),
        ("run at the running arc".to_owned(), run.id()),
    ];
    for side in SIDES {
        let word = if side == Side::Entry { "outer" } else { "inner" };
        for (name, says, v) in [
            ("locking_radius", "locking radius", k.locking_radius(side)),
            ("let_off_radius", "let-off radius", k.let_off_radius(side)),
            ("thickness_of_nib", "thickness of the nib", k.thickness(side)),
        ] {
            let v = enter.mm(&format!("{name}.{word}"), v);
            told.push((format!("{word} pallet: {says}"), v.id()));
        }
    }
    let corners = corners(&mut enter, &k);
    enter.checks(&k.checks(), &["run"]);
    let set = [
        ("lock", [Some(sizes.lock); 2]),
        ("lift", [Some(sizes.lift); 2]),
        ("drop", [Some(k.drop); 2]),
        ("run", [Some(sizes.arc - past.bare().value()); 2]),
        ("recoil", [Some(0.0); 2]),
    ];
    let cycled = beats(&mut enter, &cycle, &set, past.bare().value());
    let recoil = enter.angle("recoil", 0.0);
    let (sensitivity, tolerance) = sensitivities(&mut enter, sizes, &k);
    let rim = enter.mm("rim_beyond_pins", (1.5 * sizes.pin).max(1.0));
    let outside = work!(enter.book, "escapement.disc_radius", |radius, rim| radius + rim, &GEOMETRY);
    let depth = work!(enter.book, "escapement.pin_rim", |rim| rim * 2.0, &GEOMETRY);
    let root = work!(enter.book, "escapement.pin_rim_inside", |radius, rim| radius - rim, &GEOMETRY);
    let wheel = Profile::circle(Point::ORIGIN, outside.bare().in_mm());
    let dead = sizes.arc + 0.5_f64.to_radians();
    let width = (0.1 * sizes.radius).max(2.0);
    let boss = (0.28 * sizes.radius).max(6.0).max(c.bore + 2.4);
    let mut pieces = Vec::new();
    let mut outlines = Vec::new();
    for side in SIDES {
        match k.arm_outline(side, width, boss, dead) {
            Ok(p) => {
                let word = if side == Side::Entry { "outer" } else { "inner" };
                pieces.push(Piece {
                    name: format!("{word} pallet"),
                    slug: format!("escapement.pallet.{word}"),
                    outline: about(&p, k.arbor()),
                    holes: Vec::new(),
                    joint: None,
                });
                outlines.push(p);
            }
            Err(amiss) => {
                troubles.push(c.refused(&amiss, enter.book));
                return None;
            }
        }
    }
    let pins = k.pins();
    outlines.extend(pins.iter().map(|p| Profile::circle(*p, sizes.pin / 2.0)));
    let drawing = drawing(&k, outlines);
    Some(EscapementDesign {
        kind: e.kind,
        centres,
        pitch,
        advance,
        ratio,
        lift,
        lock: Some(lock),
        drop: Some(free),
        arc_needed: needed,
        recoil,
        wheel,
        root,
        depth,
        pins,
        pieces,
        acting: Acting::Faces { works, reach: Some(dead) },
        drawing,
        told,
        corners,
        cycled,
        sensitivity,
        tolerance,
    })
}
/// Angle at the wheel between the line of centres and the middle of the pallets: by the distance at which
/// both arbors are written, or the house's.
fn direction(c: &Common<'_>, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<Val<Angle>> {
    let Some(planted) = c.planted else {
        return Some(book.assumed(
            "escapement.direction",
            Angle::deg(60.0),
            "house default: pallets a sixth of a turn from the line of centres, their arbor twice the radius away",
        ));
    };
    let share = c.r() / planted.max(1e-9);
    if !(0.18..=0.96).contains(&share) {
        troubles.push(
            Trouble::design(format!("arbors {} apart do not suit a pin-wheel of this size", millimetres(planted)))
                .at(c.e.at.clone())
                .why("the pallets hang where their arm stands square to the wheel's radius; that takes a distance between 1.05 and 5 radii")
                .cure(format!("the pallets' arbor {} from the escape arbor", millimetres(2.0 * c.r()))),
        );
        return None;
    }
    let radius = c.radius;
    Some(book.solved(
        "escapement.direction",
        Angle::si(reckon::maths::acos(share)),
        ("the arm stands square to the radius at the distance of the arbors", 1, 0.0),
        vec![radius.id()],
        &HOUSE,
    ))
}
fn corners(enter: &mut Enter<'_>, k: &PinWheel) -> Id {
    let a = k.arbor();
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for (name, what, p) in [
        ("e1", "outer, unlocks", k.outer_lock),
        ("e2", "outer, lets off", k.outer_off),
        ("x1", "inner, unlocks", k.inner_lock),
        ("x2", "inner, lets off", k.inner_off),
    ] {
        let (x, y, r) = enter.point(&format!("corner.{name}"), p - a);
        ids.extend([x.id(), y.id(), r.id()]);
        rows.push(vec![
            Cell::word(name.to_uppercase()),
            Cell::word(what),
            Cell::of(&x.bare()),
            Cell::of(&y.bare()),
            Cell::of(&r.bare()),
        ]);
    }
    enter.book.table(
        "escapement.corners",
        &["corner", "", "x", "y", "from the bore"],
        rows,
        "from the pallets' bore, pallets in the middle of their swing, y along the line of centres away from the wheel",
        ids,
        &PIN_WHEEL,
    )
}
/// Slopes by works a little altered, nibs kept as they are.
fn sensitivities(enter: &mut Enter<'_>, s: Sizes, k: &PinWheel) -> (Option<Id>, f64) {
    const H: f64 = 0.01;
    let four = |w: &::escapement::cycle::Works| {
        let c = w.cycle(s.arc, STEPS);
        let (n, x) = (c.beat(Side::Entry)?, c.beat(Side::Exit)?);
        Some([n.lock, x.lock, n.drop, x.drop])
    };
    let base = k.works();
    let Some(zero) = four(&base) else { return (None, 0.05) };
    let mut far = base.clone();
    far.arbor += Vec2::new(0.0, H);
    for nib in [&mut far.entry, &mut far.exit] {
        for s in &mut nib.chain {
            *s = slid(s, Vec2::new(0.0, H));
        }
    }
    let thick = |by: f64| {
        let mut w = base.clone();
        let with = PinWheel { sizes: Sizes { pin: s.pin + by, ..s }, ..*k };
        w.wheel = with.works().wheel;
        w
    };
    let wide = |by: f64| {
        let mut w = base.clone();
        let with = PinWheel { sizes: Sizes { radius: s.radius + by, ..s }, ..*k };
        w.wheel = with.works().wheel;
        w
    };
    let mut rows = Vec::new();
    let mut tolerance = 0.05;
    for (i, (says, w)) in [
        ("centre distance", far),
        ("diameter of the pins", thick(H)),
        ("radius of the circle of pins", wide(H)),
    ]
    .into_iter()
    .enumerate()
    {
        let Some(got) = four(&w) else { continue };
        let slopes: Vec<f64> = got.iter().zip(zero).map(|(g, z)| (g - z) / H).collect();
        if i == 0 {
            let most = slopes.iter().fold(0.0, |m: f64, x| m.max(x.abs()));
            tolerance = if most > 0.0 { 0.1_f64.to_radians() / most } else { tolerance };
        }
        let mut row = vec![Cell::word(says)];
        row.extend(slopes.into_iter().map(slope_cell));
        rows.push(row);
    }
    let id = enter.book.table(
        "escapement.sensitivity",
        &["0.01 mm more of", "lock outer", "lock inner", "drop, outer lets off", "drop, inner lets off"],
        rows,
        "outlines cycled with one size 0.01 mm larger, all others kept; degrees for a hundredth of a millimetre",
        enter.inputs.clone(),
        &PIN_WHEEL,
    );
    (Some(id), tolerance)
}
fn slid(s: &shape::segment::Segment, by: Vec2) -> shape::segment::Segment {
    use shape::segment::Segment;
    match *s {
        Segment::Line { from, to } => Segment::Line { from: from + by, to: to + by },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: from + by, to: to + by, centre: centre + by, radius, sense }
        }
    }
}
fn drawing(k: &PinWheel, outlines: Vec<Profile>) -> Drawing {
    let (a, s) = (k.arbor(), &k.sizes);
    let middle = ::escapement::frame::on_wheel(s.radius, s.at);
    let mut d = Drawing {
        outlines,
        lines: vec![(Point::ORIGIN, a), (Point::ORIGIN, middle), (a, middle)],
        circles: vec![(Point::ORIGIN, s.radius)],
        points: vec![(Point::ORIGIN, "escape arbor".to_owned()), (a, "pallet arbor".to_owned())],
        ..Drawing::default()
    };
    for (name, p) in [("E1", k.outer_lock), ("E2", k.outer_off), ("X1", k.inner_lock), ("X2", k.inner_off)] {
        d.points.push((p, name.to_owned()));
        d.circles.push((a, ::escapement::frame::apart(p, a)));
    }
    let half = 1.2 * s.radius * k.pitch;
    d.windows.push((middle, half, "both nibs".to_owned()));
    d
}
