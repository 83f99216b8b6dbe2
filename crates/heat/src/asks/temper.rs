//! Tempering.

use super::{Done, ask, celsius, need, number, or, put, put_celsius, says, seconds, steel_of, yes};
use crate::temper;
use reckon::{Ask, Book, Given, Id, Pressure, Ratio, Source, Time};

static FROM_CURVE: Source = Source::derived("straight line between neighbours of the tempering curve");
pub(super) static ASKS: &[Ask] = &[
    ask(
        "heat.hardness",
        "hardness after a temper, and after a blue on top of it",
        &[
            need("steel", "a name of the trade or a grade"),
            need("temper", "temperature of the temper"),
            or("time", "1 h", "of the temper"),
            or("blue", "", "temperature of a blue after it"),
            or("blue_time", "3 min", "how long that is held"),
            or("wanted", "", "HRC that must be left"),
        ],
        &["hrc", "hv", "hrc_textbook", "turns", "verdict"],
        r#"steel="O1" temper="400 degF""#,
        hardness,
    ),
    ask(
        "heat.temper",
        "temperature that tempers to a wanted hardness, and whether it may be blued after",
        &[
            need("steel", "a name of the trade or a grade"),
            need("wanted", "HRC"),
            or("time", "1 h", "in the furnace"),
            or("blued", "no", "yes when it is blued after, as the finish"),
            or("blue", "293 degC", "temperature of the blue"),
            or("blue_time", "3 min", "how long that is held"),
        ],
        &["temper", "temper_textbook", "hrc_blued", "verdict"],
        r#"steel="silver steel" wanted="55" blued="yes""#,
        temper_for,
    ),
    ask(
        "heat.equivalent",
        "another time and temperature that temper alike",
        &[
            need("temper", "temperature"),
            need("time", "time at it"),
            or("carbon", "1.0", "per cent of carbon in the steel"),
            or("other_time", "", "time wanted instead; gives its temperature"),
            or("other_temper", "", "temperature wanted instead; gives its time"),
        ],
        &["constant", "parameter", "parameter_textbook", "temperature", "temperature_textbook"],
        r#"temper="230 degC" time="1 h" other_time="10 min""#,
        equivalent,
    ),
    ask(
        "heat.scales",
        "HRC and HV, and strength where it follows",
        &[or("hrc", "", "20 to 66"), or("hv", "", "238 to 865")],
        &["hrc", "hv"],
        r#"hrc="50""#,
        scales,
    ),
];

fn hardness(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let t = celsius(g, book, &mut ids, "temper", 700.0)?;
    let time = seconds(g, book, &mut ids, "time")? / 3600.0;
    let mut heats = vec![(t, time)];
    let blued = g.has("blue");
    if blued {
        let b = celsius(g, book, &mut ids, "blue", 700.0)?;
        heats.push((b, seconds(g, book, &mut ids, "blue_time")? / 3600.0));
    }
    let outside = || g.trouble("temper", "the tempering curve of this steel does not reach there");
    let own = temper::after(s, &heats, temper::constant(s.carbon)).ok_or_else(outside)?;
    let text = temper::after(s, &heats, temper::TEXTBOOK).ok_or_else(outside)?;
    let by = temper::curve_by(s, t);
    put::<Ratio>(
        book,
        "hrc",
        own,
        "curve, with times brought to one hour by the constant of its carbon",
        &ids,
        by,
    );
    put::<Ratio>(book, "hrc_textbook", text, "the same with the constant 20", &ids, by);
    match temper::vickers(own) {
        Some(hv) => put::<Ratio>(book, "hv", hv, "conversion", &ids, crate::steel::tables().hardness_by),
        None => {
            says(
                book,
                "hv",
                "outside the conversion",
                "conversion",
                &ids,
                crate::steel::tables().hardness_by,
            );
        }
    }
    let turns = if own <= temper::TURNABLE { "a graver turns it" } else { "carbide or stone only" };
    says(book, "turns", turns, "53 HRC is the limit", &ids, &TURNS);
    let wanted =
        if g.has("wanted") { Some(number(g, book, &mut ids, "wanted", (20.0, 68.0))?) } else { None };
    let text = match wanted {
        Some(w) if own.min(text) < w - 0.5 && blued => format!(
            "refused: this blue leaves {own:.1} HRC where {w:.1} is wanted; stop at an earlier colour, or leave it white"
        ),
        Some(w) if own.min(text) < w - 0.5 => format!("too soft by {:.1} HRC", w - own.min(text)),
        Some(_) => "hard enough".to_owned(),
        None => "nothing is wanted".to_owned(),
    };
    says(
        book,
        "verdict",
        text,
        "softer of the two against what is wanted, less half a point",
        &ids,
        &temper::PARAMETER,
    );
    Ok(())
}
static TURNS: Source = Source {
    cite: "usual limit of gravers and high-speed steel, 52 to 54 HRC",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
fn temper_for(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let wanted = number(g, book, &mut ids, "wanted", (20.0, 68.0))?;
    let time = seconds(g, book, &mut ids, "time")? / 3600.0;
    let (low, high) = (s.curve[s.curve.len() - 1].1, s.curve[0].1);
    let hour = temper::celsius_for(s, wanted).ok_or_else(|| {
        g.trouble(
            "wanted",
            format!("the tempering curve of {} runs from {high} down to {low} HRC", s.material),
        )
    })?;
    let at = |c: f64| temper::temperature(temper::parameter(hour, temper::CURVE_HOURS, c), time, c);
    let too_short = || g.trouble("time", "too short for any temperature to do the same");
    let c = temper::constant(s.carbon);
    let (own, text) = (at(c).ok_or_else(too_short)?, at(temper::TEXTBOOK).ok_or_else(too_short)?);
    if own > 1000.0 || text > 1000.0 {
        return Err(too_short());
    }
    put_celsius(
        book,
        "temper",
        own,
        "curve, brought from one hour by the constant of its carbon",
        &ids,
        &temper::PARAMETER,
    );
    put_celsius(book, "temper_textbook", text, "the same with the constant 20", &ids, &temper::PARAMETER);
    let blued = yes(g, "blued")?;
    let b = celsius(g, book, &mut ids, "blue", 700.0)?;
    let bt = seconds(g, book, &mut ids, "blue_time")? / 3600.0;
    let left = [c, temper::TEXTBOOK].map(|c| temper::after(s, &[(at(c).unwrap_or(hour), time), (b, bt)], c));
    let [Some(x), Some(y)] = left else {
        return Err(g.trouble("blue", "the tempering curve of this steel does not reach there"));
    };
    put::<Ratio>(
        book,
        "hrc_blued",
        x.min(y),
        "softer of both constants, temper and blue together",
        &ids,
        &temper::PARAMETER,
    );
    let text = if !blued {
        "not blued"
    } else if x.min(y) < wanted - 0.5 {
        "refused: the blue would temper it below what is wanted; stop at an earlier colour, or leave it white"
    } else if own < b {
        "may be blued: short enough to cost less than half a point"
    } else {
        "may be blued: the blue stays below the temper"
    };
    says(
        book,
        "verdict",
        text,
        "hardness after both heats against what is wanted, less half a point",
        &ids,
        &temper::PARAMETER,
    );
    Ok(())
}
fn equivalent(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids: Vec<Id> = Vec::new();
    let t = celsius(g, book, &mut ids, "temper", 750.0)?;
    let h = seconds(g, book, &mut ids, "time")? / 3600.0;
    let carbon = number(g, book, &mut ids, "carbon", (0.0, 1.7))?;
    let c = temper::constant(carbon);
    put::<Ratio>(book, "constant", c, "21.3 - 5.8 × carbon", &ids, &temper::CONSTANT);
    let p = temper::parameter(t, h, c);
    let p20 = temper::parameter(t, h, temper::TEXTBOOK);
    put::<Ratio>(book, "parameter", p, "T (C + log t)", &ids, &temper::PARAMETER);
    put::<Ratio>(book, "parameter_textbook", p20, "the same with the constant 20", &ids, &temper::PARAMETER);
    if g.has("other_temper") {
        let to = celsius(g, book, &mut ids, "other_temper", 750.0)?;
        for (name, p, c) in [("other_hours", p, c), ("other_hours_textbook", p20, temper::TEXTBOOK)] {
            let hours = temper::hours(p, to, c);
            if !(hours > 1e-9 && hours < 1e6) {
                return Err(
                    g.trouble("other_temper", "no time from a blink to a century does the same there")
                );
            }
            put::<Time>(book, name, hours * 3600.0, "same parameter", &ids, &temper::PARAMETER);
        }
    }
    let other = if g.has("other_time") { seconds(g, book, &mut ids, "other_time")? / 3600.0 } else { h };
    for (name, p, c) in [("temperature", p, c), ("temperature_textbook", p20, temper::TEXTBOOK)] {
        let found = temper::temperature(p, other, c).filter(|t| *t < 1500.0);
        let found =
            found.ok_or_else(|| g.trouble("other_time", "too short for any temperature to do the same"))?;
        put_celsius(book, name, found, "same parameter", &ids, &temper::PARAMETER);
    }
    Ok(())
}
fn scales(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let by = crate::steel::tables().hardness_by;
    let hv = if g.has("hrc") {
        let r = number(g, book, &mut ids, "hrc", (20.0, 66.0))?;
        let hv = temper::vickers(r).ok_or_else(|| g.trouble("hrc", "outside the table"))?;
        put::<Ratio>(book, "hv", hv, "straight line between neighbours", &ids, by);
        hv
    } else if g.has("hv") {
        let hv = number(g, book, &mut ids, "hv", (238.0, 865.0))?;
        let r = temper::rockwell(hv).ok_or_else(|| g.trouble("hv", "outside the table"))?;
        put::<Ratio>(book, "hrc", r, "straight line between neighbours", &ids, by);
        hv
    } else {
        return Err(g.trouble("hrc", "give 'hrc' or 'hv'"));
    };
    if let Some((low, high)) = temper::strength(hv) {
        put::<Pressure>(book, "strength_low", low * 1e6, "3.2 HV", &ids, &FROM_CURVE);
        put::<Pressure>(book, "strength_high", high * 1e6, "3.3 HV", &ids, &FROM_CURVE);
    }
    Ok(())
}
