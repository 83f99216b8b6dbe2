//! Drilling: feed, point, pecks, torque and thrust.

use super::{Done, KC11, MC, METAL, ask, law, metal, more, need, or, within, yes};
use crate::kernel::{force, speed};
use reckon::{Angle, Ask, Book, Cell, Count, Diameter, Given, Length, Pressure, Val, judge, work};

const POINT: reckon::Param = or("point", "118 deg", "angle of the drill point");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "cut.drill",
        "torque and thrust of a drill, and whether it bows",
        &[
            METAL,
            KC11,
            MC,
            need("diameter", "of the drill"),
            or("feed", "", "feed per turn; half-way of the table by size when left out"),
            POINT,
            or("out", "", "how far the drill stands out of its chuck"),
            or("modulus", "206 GPa", "of the drill"),
        ],
        &["specific_force", "lip_force", "torque", "torque_with_chisel", "thrust", "bows_at", "stands"],
        r#"metal="brass" diameter="3 mm" feed="0.06 mm" out="40 mm""#,
        drill,
    ),
    ask(
        "cut.drill_feed",
        "least and greatest feed of a drill by its size",
        &[need("diameter", "of the drill")],
        &["least", "greatest"],
        r#"diameter="2 mm""#,
        drill_feed,
    ),
    ask(
        "cut.point",
        "height of the point of a drill",
        &[need("diameter", "of the drill"), POINT],
        &["point_height"],
        r#"diameter="6 mm""#,
        point,
    ),
    ask(
        "cut.pecks",
        "how deep to drill, how often to clear, how much slower",
        &[
            need("diameter", "of the drill"),
            need("depth", "depth of the full diameter, or thickness of the plate"),
            POINT,
            or("through", "no", "yes when it goes through the plate"),
            METAL,
        ],
        &[
            "point_height",
            "tip_depth",
            "in_diameters",
            "row",
            "off_speed",
            "off_feed",
            "dips",
            "deepest_dip",
            "pecks",
        ],
        r#"diameter="2 mm" depth="9 mm" metal="brass""#,
        pecks,
    ),
];

fn drill(g: &Given<'_>, book: &mut Book) -> Done {
    let (kc11, mc) = law(g, book)?;
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let feed: Val<Length> = if g.has("feed") {
        more(g, book, "feed")?
    } else {
        let (low, high) = speed::drill_feed(d.bare());
        book.tabled("feed", (low + high) / 2.0, "half-way of the row for this size", &speed::DRILL_FEED)
    };
    let point: Val<Angle> = within(g, book, "point", Angle::deg(60.0), Angle::deg(180.0))?;
    let chip = work!(book, "thickness", |feed, point| force::lip_chip(feed, point), &force::LIPS);
    let specific =
        work!(book, "specific_force", |kc11, mc, chip| force::specific(kc11, mc, chip), &force::LAW);
    let lip = work!(book, "lip_force", |specific, d, feed| force::lip_force(specific, d, feed), &force::LIPS);
    let torque = work!(book, "torque", |lip, d| force::lip_torque(lip, d), &force::LIPS);
    work!(book, "torque_with_chisel", |torque, d| torque * force::chisel_factor(d), &force::CHISEL);
    let thrust = work!(book, "thrust", |lip, point| force::drill_thrust(lip, point), &force::CHISEL);
    if g.word_if("out").is_some() {
        let out: Val<Length> = more(g, book, "out")?;
        let e: Val<Pressure> = more(g, book, "modulus")?;
        let bows_at = work!(book, "bows_at", |d, out, e| force::drill_column(d, out, e), &force::COLUMN);
        let v = judge!(
            book,
            "stands",
            "the drill stands its thrust",
            |thrust, bows_at| thrust < bows_at,
            &force::COLUMN
        );
        if !v.bare() {
            book.cure(v.id(), "a shorter drill, or one held further up");
        }
    }
    Ok(())
}
fn drill_feed(g: &Given<'_>, book: &mut Book) -> Done {
    let d: Val<Diameter> = more(g, book, "diameter")?;
    work!(book, "least", |d| speed::drill_feed(d).0, &speed::DRILL_FEED);
    work!(book, "greatest", |d| speed::drill_feed(d).1, &speed::DRILL_FEED);
    Ok(())
}
fn point(g: &Given<'_>, book: &mut Book) -> Done {
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let point: Val<Angle> = within(g, book, "point", Angle::deg(60.0), Angle::deg(180.0))?;
    work!(book, "point_height", |d, point| speed::point_height(d, point), &speed::POINT);
    Ok(())
}
fn pecks(g: &Given<'_>, book: &mut Book) -> Done {
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let depth: Val<Length> = more(g, book, "depth")?;
    let point: Val<Angle> = within(g, book, "point", Angle::deg(60.0), Angle::deg(180.0))?;
    let crumbles = g.word_if("metal").is_some() && metal(g, "nothing")?.crumbles();
    let height = work!(book, "point_height", |d, point| speed::point_height(d, point), &speed::POINT);
    let beyond: Val<Length> = if yes(g, "through")? {
        book.assumed(
            "breakthrough",
            Length::si(speed::BREAKTHROUGH),
            "the full diameter goes so far past the far face",
        )
    } else {
        book.assumed("breakthrough", Length::ZERO, "the hole is blind")
    };
    let tip = work!(
        book,
        "tip_depth",
        |depth, height, beyond| speed::through(depth, height, beyond),
        &speed::POINT
    );
    work!(book, "in_diameters", |depth, d| depth / d.across(), &speed::DEEP_HOLE);
    work!(book, "row", |depth, d| speed::deep_hole(depth, d).row, &speed::DEEP_HOLE);
    work!(book, "off_speed", |depth, d| speed::deep_hole(depth, d).speed, &speed::DEEP_HOLE);
    work!(book, "off_feed", |depth, d| speed::deep_hole(depth, d).feed, &speed::DEEP_HOLE);
    let plan = speed::pecks(d.bare(), tip.bare(), crumbles);
    if plan.last().is_none_or(|p| p.to < tip.bare()) {
        return Err(g.trouble("depth", "this hole is too deep for its drill to peck"));
    }
    let rows = plan.iter().map(|p| {
        let after = if p.out { "out of the hole" } else { "back a little" };
        vec![Cell::of(&p.to), Cell::of(&p.takes), Cell::word(after)]
    });
    let inputs = vec![d.id(), tip.id()];
    let rule = "first two diameters where the metal crumbles, else one; then at most one, each 0.7 of the one before";
    let dips = Count(i64::try_from(plan.len()).unwrap_or(i64::MAX));
    let deepest = plan.iter().fold(Length::ZERO, |most, p| most.max(p.takes));
    book.chosen("dips", dips, rule, Vec::new(), inputs.clone(), &speed::PECKS);
    book.chosen("deepest_dip", deepest, rule, Vec::new(), inputs.clone(), &speed::PECKS);
    book.table("pecks", &["tip at", "takes", "then"], rows.collect(), rule, inputs, &speed::PECKS);
    Ok(())
}
