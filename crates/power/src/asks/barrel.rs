//! Barrels and mainsprings.

use super::{Done, ask, more, need, or, says, some};
use crate::caution::CAUTION_MAINSPRING;
use crate::spring::{self, Barrel, Strip};
use reckon::source::HOUSE;
use reckon::{Ask, Book, Diameter, Given, Length, Pressure, Ratio, Torque, Trouble, Val, maths, work};

const INSIDE: reckon::Param = need("inside", "inside diameter of the barrel");
const ARBOR: reckon::Param = need("arbor", "diameter of the arbor where the spring hooks");
const MODULUS: reckon::Param = or("modulus", "205 GPa", "elastic modulus of the strip");
const YIELDS: reckon::Param = or("yields", "1700 MPa", "stress at which the strip takes a set");
const LENGTH: reckon::Param = or("length", "", "of the strip; the half-filled length when left out");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.barrel",
        "what length of strip a barrel wants, and the turns it gives",
        &[INSIDE, ARBOR, need("thickness", "of the strip"), LENGTH],
        &[
            "half_filled",
            "most_turns",
            "turns",
            "fill",
            "coefficient",
            "half_radius",
            "down_radius",
            "down_coils",
            "wound_radius",
            "wound_coils",
            "suits",
            "eye",
            "caution",
        ],
        r#"inside="40 mm" arbor="13.333 mm" thickness="0.4 mm""#,
        barrel,
    ),
    ask(
        "power.strip",
        "thickness and length of the strip that gives a number of turns",
        &[INSIDE, ARBOR, need("turns", "wanted from let down to wound")],
        &["thickness", "length", "eye", "caution"],
        r#"inside="40 mm" arbor="13.333 mm" turns="7.87""#,
        strip,
    ),
    ask(
        "power.spring",
        "torque and energy of a mainspring that has taken its set",
        &[
            INSIDE,
            ARBOR,
            need("thickness", "of the strip"),
            need("height", "of the strip"),
            LENGTH,
            MODULUS,
            YIELDS,
            or("top", "0", "turns that stop work leaves unwound at the top"),
            or("used", "", "turns that are used; all that is left when left out"),
        ],
        &[
            "turns",
            "per_turn",
            "plastic_moment",
            "first_yield",
            "at_one_metre",
            "no_set_radius",
            "strain",
            "full",
            "down",
            "ratio",
            "energy",
            "at_top",
            "at_end",
            "used_ratio",
            "used_energy",
            "bottom",
            "height_share",
            "caution",
        ],
        r#"inside="45 mm" arbor="15 mm" thickness="0.45 mm" height="25 mm" top="0.9" used="5.3333""#,
        torque,
    ),
    ask(
        "power.height",
        "height of strip that gives a torque after some turns",
        &[
            INSIDE,
            ARBOR,
            need("thickness", "of the strip"),
            LENGTH,
            MODULUS,
            YIELDS,
            need("torque", "wanted"),
            or("after", "0", "turns run down from fully wound"),
        ],
        &["height", "caution"],
        r#"inside="40 mm" arbor="13.333 mm" thickness="0.4 mm" torque="1186.8 N mm""#,
        height,
    ),
    ask(
        "power.spring_points",
        "straight line through measured torques of a spring",
        &[need("turns", "run down from fully wound, between commas"), need("torques", "measured there")],
        &["full", "per_turn", "scatter", "caution"],
        r#"turns="0, 2, 4, 6" torques="1200 N mm, 1000 N mm, 800 N mm, 600 N mm""#,
        points,
    ),
    ask(
        "power.stronger",
        "how the torque changes when the strip is changed",
        &[
            or("thickness", "1", "new thickness over old"),
            or("height", "1", "new height over old"),
            or("length", "1", "new length over old"),
        ],
        &["torque"],
        r#"thickness="1.05""#,
        stronger,
    ),
];

fn room(g: &Given<'_>, book: &mut Book) -> Result<(Val<Diameter>, Val<Diameter>), Trouble> {
    let (inside, arbor): (Val<Diameter>, Val<Diameter>) = (more(g, book, "inside")?, more(g, book, "arbor")?);
    if arbor.bare() < inside.bare() {
        Ok((inside, arbor))
    } else {
        Err(g.trouble("arbor", "the arbor is as large as the barrel"))
    }
}
fn of(inside: Diameter, arbor: Diameter) -> Barrel {
    Barrel { inside: inside.value(), arbor: arbor.value() }
}
type Room = (Val<Diameter>, Val<Diameter>);
/// Length as given, or the half-filled one; refused when it does not go in.
fn length(
    g: &Given<'_>,
    book: &mut Book,
    (inside, arbor): Room,
    t: Val<Length>,
) -> Result<Val<Length>, Trouble> {
    let half = work!(
        book,
        "half_filled",
        |inside, arbor, t| Length::si(of(inside, arbor).half_filled_length(t.value())),
        &spring::HALF_FILLED
    );
    let length = if g.has("length") { more(g, book, "length")? } else { half };
    let fits = of(inside.bare(), arbor.bare())
        .turns(t.bare().value(), length.bare().value())
        .is_some_and(|n| n > 0.0);
    if fits {
        Ok(length)
    } else {
        Err(g
            .trouble("length", "this strip gives no turns: it fills the barrel")
            .cure(format!("the half-filled length is {:.1} mm", half.bare().in_mm())))
    }
}
fn barrel(g: &Given<'_>, book: &mut Book) -> Done {
    let (inside, arbor) = room(g, book)?;
    let t: Val<Length> = more(g, book, "thickness")?;
    let most = work!(
        book,
        "most_turns",
        |inside, arbor, t| Ratio::si(of(inside, arbor).most_turns(t.value())),
        &spring::HALF_FILLED
    );
    let length = length(g, book, (inside, arbor), t)?;
    let (b, tt) = (of(inside.bare(), arbor.bare()), t.bare().value());
    let ids = vec![inside.id(), arbor.id(), t.id(), length.id()];
    let Some(c) = b.coils(tt, length.bare().value()) else {
        return Err(g.trouble("length", "this strip does not go in"));
    };
    let turns = book.solved(
        "turns",
        Ratio::si(c.wound - c.down),
        ("coils wound less coils let down", 1, 0.0),
        ids.clone(),
        &spring::COILS,
    );
    for (name, r) in [("down_radius", c.down_inner), ("wound_radius", c.wound_outer)] {
        book.solved(name, Length::si(r), ("area of the coils", 1, 0.0), ids.clone(), &spring::COILS);
    }
    for (name, n) in [("down_coils", c.down), ("wound_coils", c.wound)] {
        book.solved(
            name,
            Ratio::si(n),
            ("thickness of the pack over the strip's", 1, 0.0),
            ids.clone(),
            &spring::COILS,
        );
    }
    let half = b.half_filled_length(tt);
    book.solved(
        "fill",
        Ratio::si(length.bare().value() / half),
        ("length over the half-filled length", 1, 0.0),
        ids.clone(),
        &spring::COILS,
    );
    work!(book, "coefficient", |most, t, inside| most * (t.value() / inside.value()), &spring::HALF_FILLED);
    work!(
        book,
        "half_radius",
        |inside, arbor| Ratio::si(of(inside, arbor).half_filled_radius() / inside.radius().value()),
        &spring::HALF_FILLED
    );
    says(
        book,
        "suits",
        b.suits(tt, length.bare().value()).text(),
        "within a fifth of the half-filled length",
        vec![length.id(), turns.id()],
        &HOUSE,
    );
    eye(book, arbor, t);
    caution(book);
    Ok(())
}
fn eye(book: &mut Book, arbor: Val<Diameter>, t: Val<Length>) {
    let text = spring::eye(arbor.bare().value(), t.bare().value());
    says(book, "eye", text, "arbor over thickness", vec![arbor.id(), t.id()], &spring::ARBOR);
}
fn caution(book: &mut Book) {
    says(book, "caution", CAUTION_MAINSPRING, "stands beside every mainspring", Vec::new(), &HOUSE);
}
fn strip(g: &Given<'_>, book: &mut Book) -> Done {
    let (inside, arbor) = room(g, book)?;
    let turns: Val<Ratio> = more(g, book, "turns")?;
    let t = work!(
        book,
        "thickness",
        |inside, arbor, turns| Length::si(of(inside, arbor).thickness_for(turns.value())),
        &spring::HALF_FILLED
    );
    work!(
        book,
        "length",
        |inside, arbor, t| Length::si(of(inside, arbor).half_filled_length(t.value())),
        &spring::HALF_FILLED
    );
    eye(book, arbor, t);
    caution(book);
    Ok(())
}
fn torque(g: &Given<'_>, book: &mut Book) -> Done {
    let (inside, arbor) = room(g, book)?;
    let (t, h): (Val<Length>, Val<Length>) = (more(g, book, "thickness")?, more(g, book, "height")?);
    let length = length(g, book, (inside, arbor), t)?;
    let (e, y): (Val<Pressure>, Val<Pressure>) = (more(g, book, "modulus")?, more(g, book, "yields")?);
    let top: Val<Ratio> = some(g, book, "top")?;
    let b = of(inside.bare(), arbor.bare());
    let (tt, l) = (t.bare().value(), length.bare().value());
    let turns = b.turns(tt, l).unwrap_or(0.0);
    let turns = book.solved(
        "turns",
        Ratio::si(turns),
        ("coils wound less coils let down", 1, 0.0),
        vec![inside.id(), arbor.id(), t.id(), length.id()],
        &spring::COILS,
    );
    let used = if g.has("used") {
        more(g, book, "used")?
    } else {
        work!(book, "used", |turns, top| turns - top, &spring::USE)
    };
    if used.bare() <= Ratio::ZERO || (top.bare() + used.bare()).value() > turns.bare().value() {
        return Err(g
            .trouble("used", "the spring does not give as many turns")
            .cure(format!("it gives {:.2} turns in all", turns.bare().value())));
    }
    let per_turn = work!(
        book,
        "per_turn",
        |e, h, t, length| Torque::si(
            2.0 * maths::PI * e.value() * h.value() * t.value() * t.value() * t.value()
                / (12.0 * length.value())
        ),
        &spring::PER_TURN
    );
    let s = Strip {
        thickness: tt,
        height: h.bare().value(),
        length: l,
        modulus: e.bare().value(),
        yields: y.bare().value(),
    };
    let ids = vec![t.id(), h.id(), e.id(), y.id()];
    let set = |book: &mut Book, name: &str, m: f64, how: &str| {
        book.solved(name, Torque::si(m), (how, 1, 0.0), ids.clone(), &spring::SET_SPRING)
    };
    set(book, "plastic_moment", s.plastic_moment(), "yield stress over the whole section");
    set(book, "first_yield", s.first_yield_moment(), "yield stress in the outer fibre");
    set(book, "at_one_metre", s.stiffness(), "E I over a radius of one metre");
    book.solved(
        "no_set_radius",
        Length::si(s.no_set_radius()),
        ("E t/(2 σ)", 1, 0.0),
        ids.clone(),
        &spring::SET_SPRING,
    );
    let outer = b.coils(tt, l).map_or(0.0, |c| c.wound_outer);
    book.solved(
        "strain",
        Ratio::si(s.strain_at(b.arbor / 2.0)),
        ("t/(2 r) at the arbor", 1, 0.0),
        vec![t.id(), arbor.id()],
        &spring::SET_SPRING,
    );
    let full = book.solved(
        "full",
        Torque::si(s.moment_at(outer)),
        ("moment at the outermost coil of the wound spring", 1, 0.0),
        vec![t.id(), h.id(), e.id(), y.id(), length.id(), arbor.id()],
        &spring::SET_SPRING,
    );
    let down = work!(book, "down", |full, per_turn, turns| full - per_turn * turns, &spring::SET_SPRING);
    if down.bare() <= Torque::ZERO {
        return Err(g
            .trouble("length", "the spring has no torque left before it is let down")
            .cure("a longer or thinner strip"));
    }
    let at_top = work!(book, "at_top", |full, per_turn, top| full - per_turn * top, &spring::SET_SPRING);
    let at_end =
        work!(book, "at_end", |at_top, per_turn, used| at_top - per_turn * used, &spring::SET_SPRING);
    work!(book, "ratio", |full, down| full / down, &spring::SET_SPRING);
    work!(book, "used_ratio", |at_top, at_end| at_top / at_end, &spring::SET_SPRING);
    work!(
        book,
        "energy",
        |full, down, turns| reckon::Energy::si((full + down).value() / 2.0 * 2.0 * maths::PI * turns.value()),
        &spring::ENERGY
    );
    work!(
        book,
        "used_energy",
        |at_top, at_end, used| reckon::Energy::si(
            (at_top + at_end).value() / 2.0 * 2.0 * maths::PI * used.value()
        ),
        &spring::ENERGY
    );
    work!(book, "bottom", |turns, top, used| turns - top - used, &spring::USE);
    work!(book, "height_share", |h, inside| Ratio::si(h.value() / inside.value()), &spring::PROPORTION);
    caution(book);
    Ok(())
}
fn height(g: &Given<'_>, book: &mut Book) -> Done {
    let (inside, arbor) = room(g, book)?;
    let t: Val<Length> = more(g, book, "thickness")?;
    let length = length(g, book, (inside, arbor), t)?;
    let (e, y): (Val<Pressure>, Val<Pressure>) = (more(g, book, "modulus")?, more(g, book, "yields")?);
    let torque: Val<Torque> = more(g, book, "torque")?;
    let after: Val<Ratio> = some(g, book, "after")?;
    let s = Strip {
        thickness: t.bare().value(),
        height: 1.0,
        length: length.bare().value(),
        modulus: e.bare().value(),
        yields: y.bare().value(),
    };
    let Some(h) = s.height_for(of(inside.bare(), arbor.bare()), after.bare().value(), torque.bare().value())
    else {
        return Err(g.trouble("after", "no torque is left after so many turns"));
    };
    book.solved(
        "height",
        Length::si(h),
        ("torque wanted over the torque of a strip one metre high", 1, 0.0),
        vec![t.id(), length.id(), e.id(), y.id(), torque.id(), after.id()],
        &spring::SET_SPRING,
    );
    caution(book);
    Ok(())
}
fn points(g: &Given<'_>, book: &mut Book) -> Done {
    let turns: Vec<Val<Ratio>> = g.take_list(book, "turns")?;
    let torques: Vec<Val<Torque>> = g.take_list(book, "torques")?;
    if turns.len() != torques.len() {
        return Err(g.trouble("torques", "every turn needs its torque"));
    }
    let all: Vec<(f64, f64)> =
        turns.iter().zip(&torques).map(|(n, m)| (n.bare().value(), m.bare().value())).collect();
    let Some(fit) = spring::fit(&all) else {
        return Err(g.trouble("turns", "a line needs two different turns at least"));
    };
    let ids: Vec<reckon::Id> = turns.iter().map(Val::id).chain(torques.iter().map(Val::id)).collect();
    for (name, x) in [("full", fit.line.full), ("per_turn", fit.line.per_turn), ("scatter", fit.scatter)] {
        book.solved(name, Torque::si(x), ("least squares", 1, 0.0), ids.clone(), &spring::FIT);
    }
    caution(book);
    Ok(())
}
fn stronger(g: &Given<'_>, book: &mut Book) -> Done {
    let (t, h): (Val<Ratio>, Val<Ratio>) = (more(g, book, "thickness")?, more(g, book, "height")?);
    let l: Val<Ratio> = more(g, book, "length")?;
    work!(book, "torque", |t, h, l| t * t * t * h / l, &spring::PER_TURN);
    Ok(())
}
