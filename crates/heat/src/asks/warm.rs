//! Warming.

use super::{Done, ask, celsius, mm, need, not_among, number, one_of, or, put, says, yes};
use crate::colour::{self, CHART_TIME};
use crate::warm::{self, Form};
use reckon::{Ask, Book, Given, Id, Length, Param, Ratio, Source, Time, Trouble};

const SHAPE: [Param; 9] = [
    or("form", "rod", "rod, cylinder, ball, plate or solid"),
    or("diameter", "3 mm", "of rod, cylinder or ball"),
    or("length", "10 mm", "of a cylinder"),
    or("thickness", "0.5 mm", "of a plate or strip"),
    or("lump", "", "volume over area of a solid"),
    or("density", "7840", "kg/m³"),
    or("heat", "500", "J/(kg K), mean of the way"),
    or("place", "brass filings", "where it is warmed"),
    or("film", "", "W/(m² K), in place of the usual figure; found by stop-watch"),
];
static RULE: Source = Source {
    cite: "lumps of one tray differ by a tenth at most, or colours come at moments that differ more",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
pub(super) static ASKS: &[Ask] = &[
    ask(
        "heat.warm",
        "how long a small part takes to warm in a tray, oven or flame, and whether it is one lump",
        &[
            SHAPE[0],
            SHAPE[1],
            SHAPE[2],
            SHAPE[3],
            SHAPE[4],
            SHAPE[5],
            SHAPE[6],
            SHAPE[7],
            SHAPE[8],
            or("conducts", "43", "W/(m K)"),
            or("around", "320 degC", "temperature of the tray"),
            or("from", "20 degC", "where it starts"),
            or("to", "290 degC", "where it is taken out"),
        ],
        &[
            "lump",
            "film_likely",
            "tau",
            "time",
            "time_slow",
            "time_fast",
            "rate",
            "biot",
            "one_lump",
            "caution",
        ],
        r#"form="rod" diameter="3 mm" to="290 degC""#,
        warming,
    ),
    ask(
        "heat.window",
        "seconds between two colours or temperatures in a tray",
        &[
            SHAPE[0],
            SHAPE[1],
            SHAPE[2],
            SHAPE[3],
            SHAPE[4],
            SHAPE[5],
            SHAPE[6],
            SHAPE[7],
            SHAPE[8],
            or("around", "320 degC", "temperature of the tray"),
            or("first", "277 degC", "first temperature"),
            or("last", "293 degC", "last temperature"),
        ],
        &["tau", "window", "rate_first", "rate_last", "verdict"],
        r#"diameter="3 mm" around="320 degC""#,
        window,
    ),
    ask(
        "heat.stopwatch",
        "film of heat of the shop's own tray, from a dummy that was timed",
        &[
            SHAPE[0],
            SHAPE[1],
            SHAPE[2],
            SHAPE[3],
            SHAPE[4],
            SHAPE[5],
            SHAPE[6],
            need("around", "temperature of the tray"),
            or("from", "20 degC", "where it started"),
            or("to", "293 degC", "where it was taken out"),
            need("took", "time it took"),
        ],
        &["film"],
        r#"diameter="3 mm" around="320 degC" to="290 degC" took="84.62 s""#,
        stopwatch,
    ),
    ask(
        "heat.radiation",
        "film of heat by radiation between a part and what is around it",
        &[or("emissivity", "0.8", "0 to 1"), need("around", "temperature"), need("part", "temperature")],
        &["film"],
        r#"around="849.85 degC" part="26.85 degC""#,
        radiation,
    ),
    ask(
        "heat.batch",
        "whether parts may share a tray",
        &[
            need("lumps", "volume over area of each, between commas"),
            or("blued", "yes", "yes or no: tempered only"),
        ],
        &["ratio", "verdict"],
        r#"lumps="0.75 mm, 0.76 mm""#,
        batch,
    ),
];

fn lump(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>) -> Result<f64, Trouble> {
    const ROOM: (f64, f64) = (0.01, 500.0);
    let form = g.word("form")?;
    let form = match form.trim() {
        "rod" => Form::Rod(mm(g, book, ids, "diameter", ROOM)?),
        "cylinder" => Form::Cylinder(mm(g, book, ids, "diameter", ROOM)?, mm(g, book, ids, "length", ROOM)?),
        "ball" => Form::Ball(mm(g, book, ids, "diameter", ROOM)?),
        "plate" => Form::Plate(mm(g, book, ids, "thickness", ROOM)?),
        "solid" => Form::Solid(mm(g, book, ids, "lump", (0.001, 250.0))?, 1.0),
        other => return Err(not_among(g, "form", other, &["rod", "cylinder", "ball", "plate", "solid"])),
    };
    Ok(form.lump() / 1e3)
}
/// Low, likely and high film of heat.
fn film(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>) -> Result<[f64; 3], Trouble> {
    if g.has("film") {
        let h = number(g, book, ids, "film", (0.1, 1e5))?;
        return Ok([h, h, h]);
    }
    one_of(g, "place", &warm::PLACES)
}
struct Lump {
    lump: f64,
    film: [f64; 3],
    tau: [f64; 3],
}
fn read(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>) -> Result<Lump, Trouble> {
    let lump = lump(g, book, ids)?;
    let density = number(g, book, ids, "density", (100.0, 23_000.0))?;
    let heat = number(g, book, ids, "heat", (50.0, 5000.0))?;
    let film = film(g, book, ids)?;
    Ok(Lump { lump, film, tau: film.map(|h| warm::tau(density, heat, lump, h)) })
}
fn warming(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let l = read(g, book, &mut ids)?;
    let k = number(g, book, &mut ids, "conducts", (0.1, 2000.0))?;
    let around = celsius(g, book, &mut ids, "around", 1600.0)?;
    let from = celsius(g, book, &mut ids, "from", 1600.0)?;
    let to = celsius(g, book, &mut ids, "to", 1600.0)?;
    put::<Length>(book, "lump", l.lump, "volume over area", &ids, &warm::LUMP);
    put::<Ratio>(book, "film_likely", l.film[1], "W/(m² K), likely", &ids, &warm::TRAYS);
    put::<Time>(book, "tau", l.tau[1], "ρ c (V/A)/h", &ids, &warm::LUMP);
    let never = || {
        g.trouble("to", "it never gets there: the tray is not hotter than that")
            .cure("a hotter tray, 10 to 30 K above")
    };
    for (name, tau) in [("time", l.tau[1]), ("time_slow", l.tau[0]), ("time_fast", l.tau[2])] {
        put::<Time>(
            book,
            name,
            warm::time(tau, around, from, to).ok_or_else(never)?,
            "τ ln((F − T0)/(F − T))",
            &ids,
            &warm::LUMP,
        );
    }
    put::<Ratio>(
        book,
        "rate",
        warm::rate(l.tau[1], around, to),
        "K in a second at the end: (F − T)/τ",
        &ids,
        &warm::LUMP,
    );
    let biot = warm::biot(l.film[1], l.lump, k);
    put::<Ratio>(book, "biot", biot, "h (V/A)/k", &ids, &warm::LUMP);
    let one = if biot < 0.1 { "yes" } else { "no: the inside lags, and the times are too short" };
    says(book, "one_lump", one, "Biot number below 0.1", &ids, &warm::LUMP);
    let caution = if around > 500.0 { crate::caution::CAUTION_HOT } else { crate::caution::CAUTION_TRAY };
    says(book, "caution", caution, "stands at the work", &[], &RULE);
    Ok(())
}
fn window(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let l = read(g, book, &mut ids)?;
    let around = celsius(g, book, &mut ids, "around", 1600.0)?;
    let first = celsius(g, book, &mut ids, "first", 1000.0)?;
    let last = celsius(g, book, &mut ids, "last", 1000.0)?;
    let t = warm::time(l.tau[1], around, first, last).ok_or_else(|| {
        g.trouble("last", "it never gets there: the tray is not hotter, or the last comes first")
    })?;
    put::<Time>(book, "tau", l.tau[1], "ρ c (V/A)/h", &ids, &warm::LUMP);
    put::<Time>(book, "window", t, "τ ln((F − first)/(F − last))", &ids, &warm::LUMP);
    put::<Ratio>(book, "rate_first", warm::rate(l.tau[1], around, first), "K in a second", &ids, &warm::LUMP);
    put::<Ratio>(book, "rate_last", warm::rate(l.tau[1], around, last), "K in a second", &ids, &warm::LUMP);
    let verdict = if t < 8.0 {
        "too quick to catch: a cooler tray, nearer to the colour"
    } else {
        "slow enough to catch by eye"
    };
    says(book, "verdict", verdict, "eight seconds for an eye and a pair of tongs", &ids, &RULE);
    if let Some(c) = colour::named(colour::CHARTS.film(first, CHART_TIME)) {
        says(book, "from_colour", c.name.clone(), "chart at the first temperature", &ids, colour::charts());
    }
    Ok(())
}
fn stopwatch(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let lump = lump(g, book, &mut ids)?;
    let density = number(g, book, &mut ids, "density", (100.0, 23_000.0))?;
    let heat = number(g, book, &mut ids, "heat", (50.0, 5000.0))?;
    let around = celsius(g, book, &mut ids, "around", 1600.0)?;
    let from = celsius(g, book, &mut ids, "from", 1600.0)?;
    let to = celsius(g, book, &mut ids, "to", 1600.0)?;
    let took = super::seconds(g, book, &mut ids, "took")?;
    let one = warm::time(1.0, around, from, to)
        .ok_or_else(|| g.trouble("to", "it never gets there in that tray"))?;
    put::<Ratio>(
        book,
        "film",
        warm::tau(density, heat, lump, 1.0) * one / took,
        "ρ c (V/A) ln((F − T0)/(F − T))/t, in W/(m² K)",
        &ids,
        &warm::LUMP,
    );
    Ok(())
}
fn radiation(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let e = number(g, book, &mut ids, "emissivity", (0.0, 1.0))?;
    let a = celsius(g, book, &mut ids, "around", 2000.0)? + 273.15;
    let b = celsius(g, book, &mut ids, "part", 2000.0)? + 273.15;
    put::<Ratio>(
        book,
        "film",
        warm::radiation(e, a, b),
        "ε σ (T1 + T2)(T1² + T2²), in W/(m² K)",
        &ids,
        &warm::RADIATION,
    );
    Ok(())
}
fn batch(g: &Given<'_>, book: &mut Book) -> Done {
    let all = g.take_list::<Length>(book, "lumps")?;
    let ids: Vec<Id> = all.iter().map(reckon::Val::id).collect();
    let sizes: Vec<f64> = all.iter().map(|v| v.bare().in_mm()).collect();
    if sizes.iter().any(|s| !(0.001..=500.0).contains(s)) {
        return Err(g.trouble("lumps", "each lump lies between 1 µm and 500 mm"));
    }
    let (share, ratio) = warm::share_tray(&sizes).ok_or_else(|| g.trouble("lumps", "give at least one"))?;
    let blued = yes(g, "blued")?;
    put::<Ratio>(book, "ratio", ratio, "largest lump over least", &ids, &warm::LUMP);
    let verdict = match (share, blued) {
        (true, _) => "may share a tray",
        (false, true) => "may not share: sort by size, and blue a set together or one at a time",
        (false, false) => "share an oven only; hold for the largest",
    };
    says(book, "verdict", verdict, "lumps within a tenth", &ids, &RULE);
    Ok(())
}
