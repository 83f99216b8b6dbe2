//! The suspension strip.

use super::take::{STANDARD, arc, pull, swung};
use crate::strip::{self, Strip};
use reckon::ask::{Done, Param, ask, more, need, or};
use reckon::{Ask, Book, Count, Given, Id, Length, Mass, Pressure, Ratio, Time, Trouble, Val, judge, work};

/// A strip, where it may be left out.
pub(super) static STRIP: [Param; 4] = [
    or("strip_modulus", "206 GPa", "modulus of the suspension strip"),
    or("strip_width", "", "width of all its leaves together; no strip when left out"),
    or("strip_thickness", "", "of a leaf"),
    or("strip_free", "", "free length between the chops"),
];
/// The strip, if one is given, and what it was read from.
pub(super) fn given(g: &Given<'_>, book: &mut Book) -> Result<Option<(Strip, Vec<Id>)>, Trouble> {
    if !["strip_width", "strip_thickness", "strip_free"].iter().any(|n| g.has(n)) {
        return Ok(None);
    }
    let modulus: Val<Pressure> = more(g, book, "strip_modulus")?;
    let (width, thick, free): (Val<Length>, Val<Length>, Val<Length>) =
        (more(g, book, "strip_width")?, more(g, book, "strip_thickness")?, more(g, book, "strip_free")?);
    let strip = Strip {
        modulus: modulus.bare().value(),
        width: width.bare().value(),
        thick: thick.bare().value(),
        free: free.bare().value(),
    };
    Ok(Some((strip, vec![modulus.id(), width.id(), thick.id(), free.id()])))
}

/// How much of its strength a strip may be used.
static THIRD: reckon::Source =
    reckon::Source::practice("pull and bending together below a third of what the strip bears for ever");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.strip",
        "where a pendulum on a strip really turns, its period, and what the strip bears",
        &[
            or("modulus", "206 GPa", "of the strip"),
            need("width", "of a leaf"),
            or("leaves", "1", "leaves side by side"),
            need("thickness", "of a leaf"),
            need("free", "free length between the chops"),
            need("mass", "that hangs on it"),
            need("below", "from the lower chop to the centre of gravity"),
            or("spread", "0 mm", "radius of gyration about the centre of gravity: √(I/m)"),
            or("arc", "2 deg", "semi-arc"),
            or("gravity", STANDARD, "gravity at the place"),
            or("limit", "", "stress allowed"),
        ],
        &[
            "lambda_per_m",
            "length",
            "pivot",
            "period",
            "wobble_hz",
            "crutch_axis",
            "pulled",
            "bent",
            "stress",
            "holds",
        ],
        r#"width="12 mm" thickness="0.15 mm" free="20 mm" mass="6 kg" below="985 mm" limit="250 N/mm2""#,
        suspended,
    ),
    ask(
        "pendulum.strip_thickness",
        "how thin and how thick a strip may be for a stress; which thickness is least stressed",
        &[
            or("modulus", "206 GPa", "of the strip"),
            need("width", "of a leaf"),
            or("leaves", "1", "leaves side by side"),
            need("free", "free length between the chops"),
            need("mass", "that hangs on it"),
            need("arc", "semi-arc"),
            need("limit", "stress allowed"),
            or("gravity", STANDARD, "gravity at the place"),
            or("stock", "", "thicknesses at hand, between commas"),
        ],
        &["least_stressed", "least_stress", "thinnest", "thickest", "take"],
        r#"width="12 mm" free="20 mm" mass="6 kg" arc="2 deg" limit="200 N/mm2" stock="0.1 mm, 0.12 mm, 0.15 mm, 0.2 mm""#,
        thickness,
    ),
];

fn leaves(g: &Given<'_>, book: &mut Book) -> Result<Val<Count>, Trouble> {
    let n = g.count(book, "leaves")?;
    if (1..=8).contains(&n.bare().0) { Ok(n) } else { Err(g.trouble("leaves", "1 to 8 leaves")) }
}
fn suspended(g: &Given<'_>, book: &mut Book) -> Done {
    let modulus: Val<Pressure> = more(g, book, "modulus")?;
    let (width, thick, free): (Val<Length>, Val<Length>, Val<Length>) =
        (more(g, book, "width")?, more(g, book, "thickness")?, more(g, book, "free")?);
    let n = leaves(g, book)?;
    let (mass, below): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "below")?);
    let spread: Val<Length> = g.take(book, "spread")?;
    let arc = arc(g, book, "arc")?;
    let pull = pull(g, book)?;
    let s = Strip::of_leaves(
        modulus.bare().value(),
        n.bare().n(),
        width.bare().value(),
        thick.bare().value(),
        free.bare().value(),
    );
    let (m, d, k) = (mass.bare().value(), below.bare().value(), spread.bare().value());
    let own = m * k * k;
    let weight = m * pull.bare().value();
    let ids = || vec![modulus.id(), width.id(), n.id(), thick.id(), free.id(), mass.id(), pull.id()];
    let with = |more: &[Id]| [ids().as_slice(), more].concat();
    let how = || ("closed formula", 1, 0.0);
    book.solved("lambda_per_m", Ratio::si(s.lambda(weight)), how(), ids(), &strip::STRIP);
    book.solved("length", Length::si(s.length(weight, d)), how(), with(&[below.id()]), &strip::STRIP);
    book.solved("pivot", Length::si(s.pivot(weight, d)), how(), with(&[below.id()]), &strip::STRIP);
    let modes = s.modes(m, d, own, weight);
    let used = with(&[below.id(), spread.id()]);
    book.solved("period", Time::si(modes.period()), how(), used.clone(), &strip::MODES);
    if own > 0.0 {
        book.solved("wobble_hz", Ratio::si(modes.wobble_hertz()), how(), used.clone(), &strip::MODES);
    }
    let axis = Length::si(s.turns_at(m, d, own, weight));
    book.solved("crutch_axis", axis, how(), used, &strip::MODES);
    let pulled = Pressure::si(s.pulled(weight));
    let pulled = book.solved("pulled", pulled, how(), ids(), &strip::STRESS);
    let bent = Pressure::si(s.bent(weight, arc.bare().value()));
    let bent = book.solved("bent", bent, how(), with(&[arc.id()]), &strip::STRESS);
    let stress = work!(book, "stress", |pulled, bent| pulled + bent, &strip::STRESS);
    if g.has("limit") {
        let limit: Val<Pressure> = more(g, book, "limit")?;
        let v = judge!(
            book,
            "holds",
            "the strip bears pull and bending",
            |stress, limit| stress <= limit,
            &THIRD
        );
        if !v.bare() {
            let (best, least) = s.least_stressed(weight, arc.bare().value());
            let (best, least) = (Length::si(best), Pressure::si(least));
            book.cure(v.id(), format!("a thickness of {} is least stressed, {}", show(&best), show(&least)));
            book.cure(v.id(), "a wider strip, a longer free length or a smaller arc");
        }
    }
    Ok(())
}
fn show(q: &impl reckon::Shown) -> String {
    q.shown()
}
fn thickness(g: &Given<'_>, book: &mut Book) -> Done {
    let modulus: Val<Pressure> = more(g, book, "modulus")?;
    let (width, free): (Val<Length>, Val<Length>) = (more(g, book, "width")?, more(g, book, "free")?);
    let mass: Val<Mass> = more(g, book, "mass")?;
    let arc = swung(g, book, "arc")?;
    let limit: Val<Pressure> = more(g, book, "limit")?;
    let pull = pull(g, book)?;
    let stock: Vec<Val<Length>> = g.take_list(book, "stock")?;
    let n = leaves(g, book)?;
    let (e, wide, long) = (modulus.bare().value(), width.bare().value(), free.bare().value());
    let s = Strip::of_leaves(e, n.bare().n(), wide, 1e-4, long);
    let weight = mass.bare().value() * pull.bare().value();
    let a = arc.bare().value();
    let ids = vec![modulus.id(), width.id(), n.id(), free.id(), mass.id(), arc.id(), pull.id()];
    let (best, least) = s.least_stressed(weight, a);
    let how = || ("lowest place of the stress, by golden section", 90, 0.0);
    book.solved("least_stressed", Length::si(best), how(), ids.clone(), &strip::STRESS);
    let least = book.solved("least_stress", Pressure::si(least), how(), ids.clone(), &strip::STRESS);
    let Some((thin, thick)) = s.thickness_for(weight, a, limit.bare().value()) else {
        return Err(g
            .trouble("limit", format!("no thickness stays below it: the least stress is {}", least.shown()))
            .cure("a wider strip, a longer free length or a smaller arc"));
    };
    let both = [ids.as_slice(), &[limit.id()]].concat();
    for (name, f) in [("thinnest", thin), ("thickest", thick)] {
        if f.x.is_finite() {
            let how = ("thickness at that stress, closed in on from both sides", f.rounds, f.residual);
            book.solved(name, Length::si(f.x), how, both.clone(), &strip::STRESS);
        }
    }
    // The thinnest that holds: it steers the rate least.
    let fit = |t: &&Val<Length>| (thin.x..=thick.x).contains(&t.bare().value());
    if let Some(t) = stock.iter().filter(fit).min_by(|x, y| x.bare().value().total_cmp(&y.bare().value())) {
        let weighed = stock.iter().map(Val::id).collect();
        let how = ("the thinnest at hand that holds: it steers the rate least", 1, 0.0);
        book.solved("take", t.bare(), how, weighed, &THIRD);
    } else if !stock.is_empty() {
        return Err(g.trouble("stock", "no thickness at hand stays below the limit"));
    }
    Ok(())
}
