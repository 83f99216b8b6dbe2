//! Fusees.

use super::{Done, ask, more, need, or, says, some, teeth, within};
use crate::caution::CAUTION_MAINSPRING;
use crate::fusee::{self, Fusee, Measured, Row};
use reckon::source::HOUSE;
use reckon::{Angle, Ask, Book, Cell, Force, Given, Id, Length, Ratio, Torque, Trouble, Val, maths};

const PITCH: reckon::Param = or("pitch", "1.15 mm", "of the groove, along the axis");
const CHAIN: reckon::Param = or("chain", "1 mm", "thickness of the chain or cable, across the line of pull");
const ROWS: reckon::Param = or("rows", "8", "of the table of the profile");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.fusee",
        "cone that makes a straight torque line even",
        &[
            need("set_up", "torque of the spring at its set-up"),
            need("per_turn", "torque gained with each turn of winding"),
            need("wound", "turns of the barrel above the set-up"),
            need("barrel", "radius of the barrel and half the chain"),
            need("turns", "of the fusee"),
            or("at", "0", "turns from the large end to look at"),
            PITCH,
            CHAIN,
            ROWS,
        ],
        &[
            "torque",
            "large",
            "small",
            "chain_length",
            "pull",
            "break_load",
            "set_up_turns",
            "height",
            "radius_at",
            "spring_at",
            "wound_at",
            "evened",
            "profile",
            "caution",
        ],
        r#"set_up="500 N mm" per_turn="100 N mm" wound="5" barrel="20 mm" turns="8" at="2""#,
        straight,
    ),
    ask(
        "power.fusee_points",
        "cone that makes a measured spring even",
        &[
            need("wound", "turns of the barrel above the set-up, the first 0, between commas"),
            need("torques", "measured there"),
            need("barrel", "radius of the barrel and half the chain"),
            need("turns", "of the fusee"),
            PITCH,
            CHAIN,
            ROWS,
        ],
        &[
            "torque",
            "large",
            "small",
            "chain_length",
            "pull",
            "break_load",
            "left_over",
            "profile",
            "caution",
        ],
        r#"wound="0, 1, 2.5, 5" torques="500 N mm, 620 N mm, 760 N mm, 1000 N mm" barrel="20 mm" turns="8""#,
        measured,
    ),
];

fn turn(n: f64) -> f64 {
    2.0 * maths::PI * n
}
struct Cut {
    pitch: Val<Length>,
    chain: Val<Length>,
    rows: u32,
}
fn cut(g: &Given<'_>, book: &mut Book) -> Result<Cut, Trouble> {
    let (pitch, chain) = (more(g, book, "pitch")?, some(g, book, "chain")?);
    let rows = teeth(g, book, "rows", 1, 200)?.bare().0;
    Ok(Cut { pitch, chain, rows: u32::try_from(rows).unwrap_or(1) })
}
fn table(book: &mut Book, rows: &[Row], ids: Vec<Id>, source: &'static reckon::Source) {
    let cells = rows
        .iter()
        .map(|r| {
            vec![
                Cell::of(&Angle::si(r.theta)),
                Cell::of(&Length::si(r.radius)),
                Cell::of(&Length::si(r.groove)),
                Cell::of(&Length::si(r.along)),
            ]
        })
        .collect();
    book.table(
        "profile",
        &["turned from the large end", "radius of the pull", "radius of the groove", "along the axis"],
        cells,
        "radius from the even torque; along the axis by the pitch",
        ids,
        source,
    );
}
fn caution(book: &mut Book) {
    says(book, "caution", CAUTION_MAINSPRING, "stands beside every mainspring", Vec::new(), &HOUSE);
}
fn straight(g: &Given<'_>, book: &mut Book) -> Done {
    let (m0, k): (Val<Torque>, Val<Torque>) = (more(g, book, "set_up")?, more(g, book, "per_turn")?);
    let (n, rb): (Val<Ratio>, Val<Length>) = (more(g, book, "wound")?, more(g, book, "barrel")?);
    let turns: Val<Ratio> = more(g, book, "turns")?;
    let at = within(g, book, "at", Ratio::ZERO, turns.bare())?;
    let c = cut(g, book)?;
    let f = Fusee {
        at_set_up: m0.bare().value(),
        per_radian: k.bare().value() / turn(1.0),
        wound: turn(n.bare().value()),
        barrel: rb.bare().value(),
        theta: turn(turns.bare().value()),
    };
    let ids = vec![m0.id(), k.id(), n.id(), rb.id(), turns.id()];
    let torque = |book: &mut Book, name: &str, x: f64, how: &str| {
        book.solved(name, Torque::si(x), (how, 1, 0.0), ids.clone(), &fusee::CONE);
    };
    let length = |book: &mut Book, name: &str, x: f64, how: &str| {
        book.solved(name, Length::si(x), (how, 1, 0.0), ids.clone(), &fusee::CONE);
    };
    torque(book, "torque", f.torque(), "work of the spring over the turning of the fusee");
    length(book, "large", f.radius(0.0), "the spring at its set-up");
    length(book, "small", f.radius(f.theta), "the spring fully wound");
    length(book, "chain_length", f.chain(), "barrel radius times its turning; hooks come on top");
    let here = turn(at.bare().value());
    length(book, "radius_at", f.radius(here), "the cone there");
    torque(book, "spring_at", f.spring_at(here), "the spring there");
    torque(book, "evened", f.spring_at(here) * f.radius(here) / f.barrel, "pull times radius there");
    let psi = f.wound_at(here) / turn(1.0);
    book.solved("wound_at", Ratio::si(psi), ("turns of the barrel there", 1, 0.0), ids.clone(), &fusee::CONE);
    book.solved(
        "set_up_turns",
        Ratio::si(f.set_up_turns()),
        ("set-up over gain", 1, 0.0),
        ids.clone(),
        &fusee::CONE,
    );
    let pull = book.solved(
        "pull",
        Force::si(f.pull(f.theta)),
        ("spring fully wound over barrel", 1, 0.0),
        ids.clone(),
        &fusee::CONE,
    );
    reckon::work!(book, "break_load", |pull| pull * 5.0, &fusee::CHAIN);
    let (p, ch) = (c.pitch.bare().value(), c.chain.bare().value());
    book.solved(
        "height",
        Length::si(fusee::height(p, f.theta)),
        ("pitch times turns", 1, 0.0),
        vec![c.pitch.id(), turns.id()],
        &fusee::GROOVE,
    );
    let mut all = ids.clone();
    all.extend([c.pitch.id(), c.chain.id()]);
    table(book, &f.profile(p, ch, c.rows), all, &fusee::CONE);
    caution(book);
    Ok(())
}
fn measured(g: &Given<'_>, book: &mut Book) -> Done {
    let wound: Vec<Val<Ratio>> = g.take_list(book, "wound")?;
    let torques: Vec<Val<Torque>> = g.take_list(book, "torques")?;
    let (rb, turns): (Val<Length>, Val<Ratio>) = (more(g, book, "barrel")?, more(g, book, "turns")?);
    let c = cut(g, book)?;
    if wound.len() != torques.len() {
        return Err(g.trouble("torques", "every turn needs its torque"));
    }
    let points: Vec<(f64, f64)> =
        wound.iter().zip(&torques).map(|(n, m)| (turn(n.bare().value()), m.bare().value())).collect();
    let Some(m) = Measured::new(&points) else {
        return Err(g.trouble("wound", "turns rise from 0, and every torque is more than nothing"));
    };
    let (p, ch) = (c.pitch.bare().value(), c.chain.bare().value());
    let (barrel, theta) = (rb.bare().value(), turn(turns.bare().value()));
    let cone = m.cone(barrel, theta, p, ch, c.rows);
    let mut ids: Vec<Id> = wound.iter().map(Val::id).chain(torques.iter().map(Val::id)).collect();
    ids.extend([rb.id(), turns.id()]);
    book.solved(
        "torque",
        Torque::si(cone.torque),
        ("work of the spring over the turning of the fusee", 1, 0.0),
        ids.clone(),
        &fusee::MEASURED,
    );
    let radii = || cone.rows.iter().map(|r| r.radius);
    for (name, x) in
        [("large", radii().fold(0.0, f64::max)), ("small", radii().fold(f64::INFINITY, f64::min))]
    {
        book.solved(name, Length::si(x), ("the cone", c.rows, cone.left_over), ids.clone(), &fusee::MEASURED);
    }
    book.solved(
        "chain_length",
        Length::si(barrel * m.wound()),
        ("barrel radius times its turning", 1, 0.0),
        ids.clone(),
        &fusee::MEASURED,
    );
    let most = points.iter().map(|p| p.1).fold(0.0, f64::max) / barrel;
    let pull = book.solved(
        "pull",
        Force::si(most),
        ("greatest torque over barrel", 1, 0.0),
        ids.clone(),
        &fusee::MEASURED,
    );
    reckon::work!(book, "break_load", |pull| pull * 5.0, &fusee::CHAIN);
    book.solved(
        "left_over",
        Ratio::si(cone.left_over),
        ("where the steps arrive, against the whole", 1, 0.0),
        ids.clone(),
        &fusee::MEASURED,
    );
    ids.extend([c.pitch.id(), c.chain.id()]);
    table(book, &cone.rows, ids, &fusee::MEASURED);
    caution(book);
    Ok(())
}
