//! What hangs: rod, bob, nut and lower chop as bodies, and the place of the bob that makes them beat.

use super::{BOB, Hung, by};
use ::pendulum::compound::{Body, COMPOUND, Form, PLACE, Pendulum};
use ::pendulum::strip::Strip;
use reckon::source::HOUSE;
use reckon::{Acceleration, Book, Density, Length, Mass, Torque, Trouble, Val, Volume, judge, work};
use record::facts::{self, BobForm, Suspension};
use tables::material::Figure;

/// Brass of the lower chop; a block whose sizes are house defaults.
const CHOP_DENSITY: f64 = 8430.0;

/// How far a chop stands out over its strip on each side, metres: a house default.
pub(crate) const CHOP_OVER: f64 = 0.003;

/// The strip as the kernels take it.
pub(super) fn strip(s: &Suspension) -> Strip {
    Strip {
        modulus: s.material.youngs.value.value(),
        width: s.width.bare().value(),
        thick: s.thickness.bare().value(),
        free: s.length.bare().value(),
    }
}
/// The bob's form; depths along the rod.
fn form(b: &facts::Bob) -> Form {
    let (outer, height) = (b.diameter.bare().across().value(), b.height.bare().value());
    match b.form {
        BobForm::Cylinder => Form::Upright { outer, bore: 0.0, height },
        BobForm::Lens => Form::Lens { outer, thick: height, rim: 0.0 },
        BobForm::Disc => Form::Across { outer, bore: 0.0, thick: height },
    }
}
fn density(of: &Figure<Density>, name: &str, row: String, book: &mut Book) -> Val<Density> {
    of.tabled(book, name, row)
}

/// Hangs the pendulum.
pub(super) fn hang(
    p: &facts::Pendulum,
    length: Val<Length>,
    gravity: Val<Acceleration>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<Hung> {
    let b = &p.bob;
    let rod = p.rod_diameter;
    let play = book.assumed(
        "pendulum.bob.play",
        Length::mm(0.03),
        "house default: the bob slides on its rod without shake, and a drill of the rod's size gives it",
    );
    let bore = work!(book, "pendulum.bob.bore_for", |rod, play| rod + play, &HOUSE);
    let (diameter, height) = (b.diameter, b.height);
    let along = match b.form {
        BobForm::Cylinder => height,
        _ => work!(book, "pendulum.bob.along", |diameter| diameter.across(), &HOUSE),
    };
    if bore.bare() >= diameter.bare() {
        troubles.push(
            Trouble::design("the rod is as thick as the bob")
                .at(b.at.clone())
                .why(format!("a bore of {} leaves nothing of {}", bore.shown(), diameter.shown()))
                .cure("a thinner rod or a larger bob"),
        );
        return None;
    }
    let whole = form(b);
    let hole = Form::Upright { outer: bore.bare().across().value(), bore: 0.0, height: along.bare().value() };
    let volume = book.solved(
        "pendulum.bob.volume",
        Volume::si(whole.volume() - hole.volume()),
        by("its form less the hole for the rod"),
        vec![diameter.id(), height.id(), bore.id()],
        &COMPOUND,
    );
    let metal = density(&b.material.density, "pendulum.bob.metal_density", b.material.row("density"), book);
    let mass_by_size = work!(book, "pendulum.bob.mass_by_size", |volume, metal| volume * metal, &COMPOUND);
    let bob = b.mass.unwrap_or(mass_by_size);
    if b.mass.is_some() {
        let agrees = judge!(
            book,
            "pendulum.bob.mass_agrees",
            "the bob's mass is what its size and metal give, within 3 %",
            |bob, mass_by_size| bob <= mass_by_size * 1.03 && bob >= mass_by_size * 0.97,
            &BOB
        );
        if !agrees.bare() {
            let cure = format!("write {}, or leave the mass out, or change its size", mass_by_size.shown());
            book.cure(agrees.id(), cure);
        }
    }
    let density_of_bob = work!(book, "pendulum.bob.density", |bob, volume| bob / volume, &COMPOUND);
    let free = match &p.suspension {
        Some(s) => s.length,
        None => book.assumed("pendulum.suspension.none", Length::ZERO, "no strip is written: a plain axis"),
    };
    let chop =
        book.assumed("pendulum.rod_below_strip", Length::mm(8.0), "house default: half of the lower chop");
    let rod_top = work!(book, "pendulum.rod_top", |free, chop| free + chop, &HOUSE);
    let rod_metal =
        density(&p.rod_material.density, "pendulum.rod.density", p.rod_material.row("density"), book);
    let spare = book.assumed(
        "pendulum.thread_below_nut",
        Length::mm(10.0),
        "house default: the nut can be let down so far",
    );
    // The longer the rod, the lower the bob: a few rounds settle both.
    let nut_thick = p.nut.as_ref().map_or(0.0, |n| n.thickness.bare().value());
    let top = rod_top.bare().value();
    let below = along.bare().value() / 2.0 + nut_thick + spare.bare().value();
    let g = gravity.bare().value();
    let want = length.bare().value();
    let mut rod_long = p.rod_length.map_or(want + below - top, |l| l.bare().value());
    let build = |rod_long: f64, at: f64| -> Pendulum {
        let round = Form::Upright { outer: rod.bare().across().value(), bore: 0.0, height: rod_long };
        let mut fixed = vec![Body::dense("rod", round, rod_metal.bare().value(), top + rod_long / 2.0)];
        if let Some(s) = &p.suspension {
            // The chop stands out over its strip on both sides.
            let width = s.width.bare().value() + 2.0 * CHOP_OVER;
            let chop = Form::Bar { height: 0.016, width, thick: 0.006 };
            fixed.push(Body::dense("lower chop", chop, CHOP_DENSITY, free.bare().value() + 0.008));
        }
        let each = density_of_bob.bare().value();
        let bored = Body { mass: -each * hole.volume(), ..Body::dense("hole", hole, each, at) };
        let mut moving = vec![Body::dense("bob", whole, each, at), bored];
        if let Some(n) = &p.nut {
            let outer = n.diameter.bare().across().value();
            let form = Form::Upright { outer, bore: bore.bare().across().value(), height: nut_thick };
            moving.push(Body::dense(
                "nut",
                form,
                CHOP_DENSITY,
                at + along.bare().value() / 2.0 + nut_thick / 2.0,
            ));
        }
        Pendulum { fixed, moving }
    };
    let on = p.suspension.as_ref().map(strip);
    let mut found = None;
    for _ in 0..if p.rod_length.is_some() { 1 } else { 6 } {
        let made = build(rod_long, want);
        let place = on.map_or_else(|| made.place(want), |s| s.place(&made, want, g));
        let Some(place) = place else {
            found = None;
            break;
        };
        let at = want + place.x;
        found = Some((at, place));
        if p.rod_length.is_none() {
            // To a whole millimetre: what is left over is thread below the nut.
            rod_long = ((at + below - top) * 1000.0 - 1e-9).ceil() / 1000.0;
        }
    }
    let Some((at, place)) = found else {
        troubles.push(
            Trouble::design("no place of the bob makes this pendulum beat as it should")
                .at(p.at.clone())
                .why(format!(
                    "with its rod and strip it cannot be made as quick as a simple pendulum of {}",
                    length.shown()
                ))
                .cure("a heavier bob, a lighter or shorter rod"),
        );
        return None;
    };
    let mut ids =
        vec![length.id(), gravity.id(), bob.id(), rod_top.id(), rod_metal.id(), rod.id(), along.id()];
    if let Some(s) = &p.suspension {
        ids.extend([s.thickness.id(), s.width.id(), s.length.id()]);
    }
    let rod_length = p.rod_length.unwrap_or_else(|| {
        let how = by("rod and bob's place by turns, to a whole millimetre");
        book.solved("pendulum.rod_length", Length::si(rod_long), how, ids.clone(), &PLACE)
    });
    ids.push(rod_length.id());
    let (mut at, mut place) = (at, place);
    // A rod that is made is as long as it is: the bob finds its place on that.
    if (rod_length.bare().value() - rod_long).abs() > 1e-9 {
        let made = build(rod_length.bare().value(), want);
        let again = on.map_or_else(|| made.place(want), |s| s.place(&made, want, g));
        if let Some(found) = again {
            (at, place) = (want + found.x, found);
        }
    }
    let made = build(rod_length.bare().value(), at);
    let how = if on.is_some() {
        "the bob lowered until body and strip swing in the time wanted"
    } else {
        "the bob lowered until the bodies swing in the time wanted"
    };
    let middle = book.solved(
        "pendulum.bob.middle",
        Length::si(at),
        (how, place.rounds, place.residual),
        ids.clone(),
        &PLACE,
    );
    let all = made.sums(0.0);
    let mass = book.solved("pendulum.mass", Mass::si(all.mass), by("all bodies"), ids.clone(), &COMPOUND);
    let moment = book.solved(
        "pendulum.moment",
        Torque::si(all.moment * g),
        by("mass times depth of its centre, over all bodies, times gravity"),
        ids,
        &COMPOUND,
    );
    let end = work!(book, "pendulum.lowest", |rod_top, rod_length| rod_top + rod_length, &HOUSE);
    let nut = p.nut.as_ref().map(|n| n.thickness);
    let base = work!(book, "pendulum.bob.base", |middle, along| middle + along / 2.0, &HOUSE);
    let foot = match nut {
        Some(nut) => work!(book, "pendulum.nut.below", |base, nut| base + nut, &HOUSE),
        None => base,
    };
    let reaches = judge!(
        book,
        "pendulum.rod_reaches",
        "the rod reaches through its bob and nut",
        |end, foot| end >= foot,
        &HOUSE
    );
    if !reaches.bare() {
        let least = foot.bare() - rod_top.bare() + spare.bare();
        book.cure(
            reaches.id(),
            format!("a rod of at least {}, or leave its length out", reckon::Shown::shown(&least)),
        );
    }
    let thread_length = match nut {
        Some(nut) => work!(book, "pendulum.rod.thread_length", |nut, spare| nut + spare * 2.0, &HOUSE),
        None => work!(book, "pendulum.rod.thread_length", |spare| spare * 2.0, &HOUSE),
    };
    as_made(end, foot, base, thread_length, book);
    Some(Hung {
        bob,
        bore,
        density: density_of_bob,
        bob_height: along,
        middle,
        rod_top,
        rod_length,
        thread_length,
        end,
        mass,
        moment,
        made,
    })
}

/// A rod that is made: whether its thread is where the nut comes to, and what to drill or cut where it is not.
fn as_made(end: Val<Length>, foot: Val<Length>, base: Val<Length>, thread: Val<Length>, book: &mut Book) {
    if !["pendulum.rod_length", "pendulum.rod.thread_length"].iter().any(|n| book.knows(n)) {
        return;
    }
    let below = work!(book, "pendulum.meets.thread_below_nut", |end, foot| end - foot, &HOUSE);
    let above =
        work!(book, "pendulum.meets.thread_above_nut", |base, end, thread| base - (end - thread), &HOUSE);
    let verdict = judge!(
        book,
        "pendulum.meets.nut",
        "the thread of the rod as it is reaches 3 mm and more beyond the nut on both sides".to_owned(),
        |below, above| below >= Length::mm(3.0) && above >= Length::mm(3.0),
        &HOUSE
    );
    if verdict.bare() {
        return;
    }
    let by = |v: Val<Length>| reckon::print::fixed(3.0 - v.bare().in_mm(), 1) + " mm";
    if above.bare() < Length::mm(3.0) {
        let by = by(above);
        book.cure(verdict.id(), format!("run the die {by} further up the rod"));
        book.cure(
            verdict.id(),
            format!("drill the rod's upper hole {by} lower and take as much off its top: bob and nut then sit {by} nearer to its foot"),
        );
        book.cure(verdict.id(), format!("put a ring of {by} between nut and bob"));
    }
    if below.bare() < Length::mm(3.0) {
        let by = by(below);
        book.cure(verdict.id(), format!("a nut thinner by {by}"));
        book.cure(
            verdict.id(),
            format!("drill the rod's upper hole {by} higher, where its end leaves room: the rod then hangs {by} lower"),
        );
        book.cure(
            verdict.id(),
            format!("lengthen the foot by {by} and more with a screwed stud of the nut's thread"),
        );
        book.cure(verdict.id(), "a new rod".to_owned());
    }
}
