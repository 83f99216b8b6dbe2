//! Parting off, and tools above or below centre.

use super::{Done, KC11, MC, METAL, ask, law, more, need, or, some, within, yes};
use crate::kernel::{force, parting};
use reckon::{Angle, Ask, Book, Diameter, Given, Length, Pressure, Radius, Ratio, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "part.blade",
        "width of a parting blade for a bar, and how far it may stand out",
        &[
            need("bar", "diameter of the bar"),
            or("slope", "0 deg", "slope of its end, to leave the pip on the bar"),
        ],
        &["width", "reach", "past_centre"],
        r#"bar="16 mm" slope="8 deg""#,
        blade,
    ),
    ask(
        "part.blade_strength",
        "stress in a parting blade, and the least width that does not buckle",
        &[
            METAL,
            KC11,
            MC,
            need("feed", "feed per turn"),
            need("out", "how far the blade stands out"),
            need("height", "of the blade"),
            or("modulus", "206 GPa", "of the blade"),
            or("poisson", "0.3", "of the blade"),
            or("safety", "20", "on buckling; 20 covers chatter"),
        ],
        &["stress", "least_width"],
        r#"metal="brass" feed="0.03 mm" out="9 mm" height="10 mm""#,
        strength,
    ),
    ask(
        "part.pip",
        "pip that a tool off centre leaves",
        &[need("height", "of the tool above centre; below is negative")],
        &["pip"],
        r#"height="-0.15 mm""#,
        pip,
    ),
    ask(
        "part.rub",
        "radius at which a tool above centre begins to rub",
        &[need("height", "of the tool above centre"), need("clearance", "front clearance")],
        &["rubs_at"],
        r#"height="0.1 mm" clearance="8 deg""#,
        rub,
    ),
    ask(
        "part.angles",
        "rake and clearance as they act off centre",
        &[
            or("rake", "0 deg", "as ground"),
            or("clearance", "8 deg", "as ground"),
            need("height", "of the tool above centre; below is negative"),
            need("radius", "where it cuts"),
            or("bore", "no", "yes inside a hole"),
        ],
        &["acting_rake", "acting_clearance"],
        r#"height="0.1 mm" radius="3 mm""#,
        angles,
    ),
    ask(
        "part.infeed",
        "radius turned by a tool off centre after touching off",
        &[
            need("touched", "radius at which it touched"),
            need("infeed", "fed in from there"),
            need("height", "of the tool off centre"),
        ],
        &["radius", "error"],
        r#"touched="5 mm" infeed="4 mm" height="0.3 mm""#,
        infeed,
    ),
];

fn blade(g: &Given<'_>, book: &mut Book) -> Done {
    let bar: Val<Diameter> = more(g, book, "bar")?;
    let slope: Val<Angle> = within(g, book, "slope", Angle::ZERO, Angle::deg(45.0))?;
    let width = work!(book, "width", |bar| parting::blade_width(bar), &parting::BLADE);
    work!(book, "reach", |width| parting::blade_reach(width), &parting::BLADE);
    work!(book, "past_centre", |bar, slope| parting::sloped_end(bar, slope), &reckon::source::GEOMETRY);
    Ok(())
}
fn strength(g: &Given<'_>, book: &mut Book) -> Done {
    let (kc11, mc) = law(g, book)?;
    let (feed, out): (Val<Length>, Val<Length>) = (more(g, book, "feed")?, more(g, book, "out")?);
    let height: Val<Length> = more(g, book, "height")?;
    let e: Val<Pressure> = more(g, book, "modulus")?;
    let poisson: Val<Ratio> = within(g, book, "poisson", Ratio::ZERO, Ratio::si(0.5))?;
    let safety: Val<Ratio> = more(g, book, "safety")?;
    let kc = work!(book, "specific_force", |kc11, mc, feed| force::specific(kc11, mc, feed), &force::LAW);
    let shear = work!(
        book,
        "shear_modulus",
        |e, poisson| parting::shear_modulus(e, poisson),
        &parting::BLADE_BUCKLING
    );
    work!(
        book,
        "stress",
        |kc, feed, out, height| parting::blade_stress(kc, feed, out, height),
        &parting::BLADE_STRESS
    );
    work!(
        book,
        "least_width",
        |kc, feed, out, height, e, shear, safety| parting::least_width(
            kc, feed, out, height, e, shear, safety
        ),
        &parting::BLADE_BUCKLING
    );
    Ok(())
}
fn pip(g: &Given<'_>, book: &mut Book) -> Done {
    let height: Val<Length> = g.take(book, "height")?;
    work!(book, "pip", |height| parting::pip(height), &parting::OFF_CENTRE);
    Ok(())
}
fn rub(g: &Given<'_>, book: &mut Book) -> Done {
    let height: Val<Length> = g.take(book, "height")?;
    let clearance: Val<Angle> = within(g, book, "clearance", Angle::deg(0.5), Angle::deg(45.0))?;
    work!(book, "rubs_at", |height, clearance| parting::rub_radius(height, clearance), &parting::OFF_CENTRE);
    Ok(())
}
fn angles(g: &Given<'_>, book: &mut Book) -> Done {
    let (rake, clearance): (Val<Angle>, Val<Angle>) = (g.take(book, "rake")?, g.take(book, "clearance")?);
    let height: Val<Length> = g.take(book, "height")?;
    let radius: Val<Radius> = more(g, book, "radius")?;
    let Some(shift) = parting::angle_shift(height.bare(), radius.bare()) else {
        return Err(g.trouble("height", "the tool passes clear of a circle of this radius"));
    };
    let bore = yes(g, "bore")?;
    let how = if bore { "asin(h/r), the other way in a bore" } else { "asin(h/r)" };
    let shift = if bore { -shift } else { shift };
    let ids = vec![height.id(), radius.id()];
    let shift = book.solved("shift", shift, (how, 1, 0.0), ids, &parting::OFF_CENTRE);
    work!(book, "acting_rake", |rake, shift| rake + shift, &parting::OFF_CENTRE);
    work!(book, "acting_clearance", |clearance, shift| clearance - shift, &parting::OFF_CENTRE);
    Ok(())
}
fn infeed(g: &Given<'_>, book: &mut Book) -> Done {
    let touched: Val<Radius> = more(g, book, "touched")?;
    let (fed, height): (Val<Length>, Val<Length>) = (some(g, book, "infeed")?, g.take(book, "height")?);
    let Some(r) = parting::after_infeed(touched.bare(), fed.bare(), height.bare()) else {
        return Err(g.trouble("height", "a tool so far off centre never touches a circle of this radius"));
    };
    let ids = vec![touched.id(), fed.id(), height.id()];
    let how = ("r = √((√(r₀² − h²) − infeed)² + h²)", 1, 0.0);
    let radius = book.solved("radius", r, how, ids, &parting::OFF_CENTRE);
    work!(book, "error", |radius, touched, fed| radius - (touched - fed), &parting::OFF_CENTRE);
    Ok(())
}
