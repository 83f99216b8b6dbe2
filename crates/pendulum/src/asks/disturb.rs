//! Air, and the table of all errors.

use super::take::{STANDARD, pull, swung};
use crate::errors::{self, State};
use crate::impulse::Push;
use crate::{air, warmth};
use reckon::ask::{Done, ask, more, need, or, within};
use reckon::{
    Angle, Ask, Book, Cell, Density, Given, Length, Mass, PerKelvin, Pressure, Ratio, Temperature, Val, work,
};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.air",
        "what the air and the barometer do, s/day, + gains",
        &[
            need("bob", "density of the bob"),
            or(
                "along",
                "1",
                "air that swings along, over the bob's own volume: 0.5 ball, 1 cylinder broadside",
            ),
            or("pressure", "1013.25 hPa", "of the air"),
            or("temperature", "20 degC", "of the air"),
            or("humidity", "50 %", "of the air"),
            or("change", "33.8639 hPa", "of the barometer; an inch of mercury when left out"),
        ],
        &["air_density", "s_per_day", "change_s_per_day", "s_per_day_per_hpa"],
        r#"bob="8470 kg/m3""#,
        barometer,
    ),
    ask(
        "pendulum.errors",
        "all that moves the rate, in one table, s/day, + gains",
        &[
            need("length", "effective length"),
            need("arc", "semi-arc"),
            need("quality", "Q of the pendulum"),
            need("mass", "that swings"),
            need("bob", "density of the bob"),
            need("pitch", "of the rating nut"),
            or("expansion", "", "of a plain rod"),
            or("per_kelvin", "", "s/day for each kelvin, where the whole pendulum was worked out"),
            or("lift_before", "", "where the push of a dead-beat begins, before the middle"),
            or("lift_after", "", "where it ends, past the middle"),
            or("along", "1", "air that swings along"),
            or("gravity", STANDARD, "gravity at the place"),
            or("pressure", "1013.25 hPa", "of the air"),
            or("temperature", "20 degC", "of the air"),
            or("humidity", "50 %", "of the air"),
        ],
        &["worst", "worst_s_per_day", "all_s_per_day"],
        r#"length="994 mm" arc="1.7 deg" quality="8000" mass="6 kg" bob="8470 kg/m3" pitch="0.8 mm" expansion="1.2 ppm/K" lift_before="0.65 deg" lift_after="1.35 deg""#,
        all,
    ),
];

/// Pressure, warmth and humidity of the air.
type Weather = (Val<Pressure>, Val<Temperature>, Val<Ratio>);

fn weather(g: &Given<'_>, book: &mut Book) -> Result<Weather, reckon::Trouble> {
    Ok((
        within(g, book, "pressure", Pressure::ZERO, Pressure::si(120_000.0))?,
        within(g, book, "temperature", Temperature::celsius(-30.0), Temperature::celsius(60.0))?,
        within(g, book, "humidity", Ratio::ZERO, Ratio::si(1.0))?,
    ))
}
fn barometer(g: &Given<'_>, book: &mut Book) -> Done {
    let bob: Val<Density> = within(g, book, "bob", Density::si(100.0), Density::si(25_000.0))?;
    let along: Val<Ratio> = within(g, book, "along", Ratio::ZERO, Ratio::si(5.0))?;
    let (p, t, h) = weather(g, book)?;
    if p.bare().value() <= 0.0 {
        return Err(g.trouble("pressure", "no air, no error"));
    }
    let change: Val<Pressure> = g.take(book, "change")?;
    let rho = work!(
        book,
        "air_density",
        |p, t, h| Density::si(air::density(p.value(), t.value(), h.value())),
        &air::DENSITY
    );
    work!(
        book,
        "s_per_day",
        |rho, bob, along| Ratio::si(air::rate(rho.value(), bob.value(), along.value())),
        &air::AIR
    );
    work!(
        book,
        "change_s_per_day",
        |rho, p, bob, along, change| Ratio::si(
            air::per_pascal_of(rho.value(), p.value(), bob.value(), along.value()) * change.value()
        ),
        &air::AIR
    );
    work!(
        book,
        "s_per_day_per_hpa",
        |rho, p, bob, along| Ratio::si(
            air::per_pascal_of(rho.value(), p.value(), bob.value(), along.value()) * 100.0
        ),
        &air::AIR
    );
    Ok(())
}
fn all(g: &Given<'_>, book: &mut Book) -> Done {
    let length: Val<Length> = more(g, book, "length")?;
    let arc = swung(g, book, "arc")?;
    let quality: Val<Ratio> = more(g, book, "quality")?;
    let mass: Val<Mass> = more(g, book, "mass")?;
    let bob: Val<Density> = within(g, book, "bob", Density::si(100.0), Density::si(25_000.0))?;
    let pitch: Val<Length> = more(g, book, "pitch")?;
    let along: Val<Ratio> = within(g, book, "along", Ratio::ZERO, Ratio::si(5.0))?;
    let pull = pull(g, book)?;
    let (p, t, h) = weather(g, book)?;
    if p.bare().value() <= 0.0 {
        return Err(g.trouble("pressure", "must be more than nothing"));
    }
    let per_kelvin = if g.has("per_kelvin") {
        g.take::<Ratio>(book, "per_kelvin")?
    } else if g.has("expansion") {
        let growth: Val<PerKelvin> = g.take(book, "expansion")?;
        work!(book, "per_kelvin", |growth| Ratio::si(warmth::plain(growth.value())), &warmth::PLAIN)
    } else {
        return Err(g.trouble("expansion", "give 'expansion' of the rod, or 'per_kelvin'"));
    };
    let mut ids = vec![
        length.id(),
        arc.id(),
        quality.id(),
        mass.id(),
        bob.id(),
        pitch.id(),
        along.id(),
        pull.id(),
        p.id(),
        t.id(),
        h.id(),
        per_kelvin.id(),
    ];
    let push = if g.has("lift_before") || g.has("lift_after") {
        let (before, after): (Val<Angle>, Val<Angle>) =
            (g.take(book, "lift_before")?, g.take(book, "lift_after")?);
        ids.extend([before.id(), after.id()]);
        let push = Push { before: before.bare().value(), after: after.bare().value() };
        if push.rate(arc.bare().value(), quality.bare().value()).is_none() {
            return Err(g
                .trouble("arc", "the arc does not reach both ends of the push")
                .cure("a larger arc, or less lift"));
        }
        Some(push)
    } else {
        None
    };
    let rows = errors::table(&State {
        length: length.bare().value(),
        g: pull.bare().value(),
        arc: arc.bare().value(),
        quality: quality.bare().value(),
        mass: mass.bare().value(),
        per_kelvin: per_kelvin.bare().value(),
        bob: bob.bare().value(),
        along: along.bare().value(),
        pressure: p.bare().value(),
        temperature: t.bare().value(),
        humidity: h.bare().value(),
        push,
        pitch: pitch.bare().value(),
    });
    let cells = rows.iter().map(|r| {
        let number = |x: f64| Cell::of(&Ratio::si(x));
        vec![Cell::word(r.cause), Cell::word(r.unit), number(r.per_unit), number(r.typical), number(r.rate)]
    });
    let table = book.table(
        "table",
        &["cause", "for each", "s/day", "changes in a house by", "s/day then"],
        cells.collect(),
        "each cause by itself; the last lines are what to act with",
        ids,
        &errors::TABLE,
    );
    // Gravity is unknown only until the clock is rated.
    let causes = || rows.iter().filter(|r| !r.cause.starts_with("to act") && !r.cause.starts_with("gravity"));
    if let Some(worst) = causes().next() {
        let how = || ("the largest of the table", 1, 0.0);
        book.solved("worst", worst.cause.to_owned(), how(), vec![table], &errors::HOUSE);
        book.solved("worst_s_per_day", Ratio::si(worst.rate), how(), vec![table], &errors::HOUSE);
    }
    // Causes are unlike each other and do not come together: their squares add.
    let squares: f64 = causes().map(|r| r.rate * r.rate).sum();
    let how = ("root of the sum of squares, gravity left out: rating takes it up", 1, 0.0);
    book.solved("all_s_per_day", Ratio::si(squares.sqrt()), how, vec![table], &errors::HOUSE);
    Ok(())
}
