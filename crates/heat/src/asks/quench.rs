//! Quenching.

use super::{
    Done, ask, celsius, joined, mm, need, not_among, number, one_of, or, put, says, seconds, steel_of, yes,
};
use crate::quench::{self, Risk};
use crate::steel::Medium;
use reckon::{Ask, Book, Given, Length, Ratio, Time};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "heat.quench",
        "how fast a quench cools, and whether it misses the nose of the cooling diagram",
        &[
            need("steel", "a name of the trade or a grade"),
            need("diameter", "of a long rod, or twice the thickness of a strip"),
            or("medium", "oil", "oil, water or brine"),
            or("stirred", "still", "still, moderate, good or violent, as the medium has it"),
            or("severity", "", "Grossmann's, per inch, in place of the usual figure"),
            or("bath", "60 degC", "temperature of the bath"),
            or("density", "7840", "kg/m³"),
            or("conducts", "30", "W/(m K), hot"),
        ],
        &["severity_used", "film", "time", "nose_low", "nose_high", "margin", "verdict", "caution"],
        r#"steel="O1" diameter="2 mm" severity="0.30""#,
        cool,
    ),
    ask(
        "heat.crack",
        "score of reasons why a piece may crack in the quench",
        &[
            need("steel", "a name of the trade or a grade"),
            need("medium", "oil, water or brine"),
            or("sections", "1", "largest section over least"),
            or("edge", "", "metal from a hole to the nearest edge, over the hole's diameter"),
            or("corner", "", "least radius of an inner corner"),
            or("slotted", "no", "yes when a slot, keyway or thread runs to a root"),
            or("over", "0 K", "hotter than the upper end of its range"),
            or("wait", "5 min", "from the quench to the temper"),
        ],
        &["score", "reasons", "verdict"],
        r#"steel="silver steel" medium="water" corner="0.1 mm""#,
        crack,
    ),
    ask(
        "heat.growth",
        "how a piece grows and bends when it is hardened, and what to leave on it",
        &[
            need("steel", "a name of the trade or a grade"),
            need("length", "of the piece"),
            or("diameter", "4 mm", "of the piece"),
            or("medium", "oil", "oil, water or brine"),
        ],
        &["growth", "slender", "advice"],
        r#"steel="O1" length="20 mm""#,
        growth,
    ),
    ask(
        "heat.scale",
        "depth that loses carbon in the heat, and what to take off working faces",
        &[
            or("at", "800 degC", "heat"),
            or("time", "10 min", "time at it"),
            or("coated", "no", "yes: a film of boric acid, or foil, or chips around it"),
        ],
        &["spread", "depth", "remove", "advice", "caution"],
        r#"at="900 degC" time="10 min""#,
        scale,
    ),
];

fn cool(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let d = mm(g, book, &mut ids, "diameter", (0.05, 300.0))?;
    let medium = one_of(g, "medium", &Medium::ALL)?;
    let severity = if g.has("severity") {
        number(g, book, &mut ids, "severity", (0.01, 20.0))?
    } else {
        let word = g.word("stirred")?;
        let of = || quench::SEVERITIES.iter().filter(|(m, ..)| *m == medium);
        let words: Vec<&str> = of().map(|s| s.1).collect();
        let row = of().find(|s| s.1 == word.trim()).ok_or_else(|| not_among(g, "stirred", &word, &words))?;
        // The low end: a margin must hold there.
        row.2[0]
    };
    let bath = celsius(g, book, &mut ids, "bath", 500.0)?;
    let density = number(g, book, &mut ids, "density", (6000.0, 9000.0))?;
    let k = number(g, book, &mut ids, "conducts", (5.0, 100.0))?;
    let h = quench::film(severity, k);
    let time = quench::through_nose(d / 4e3, density, h, bath)
        .ok_or_else(|| g.trouble("bath", "a bath so hot does not quench"))?;
    put::<Ratio>(
        book,
        "severity_used",
        severity,
        "per inch; the low end of the usual",
        &ids,
        &quench::SEVERITY,
    );
    put::<Ratio>(book, "film", h, "2 k H, in W/(m² K)", &ids, &quench::SEVERITY);
    put::<Time>(book, "time", time, "780 to 540 °C as one lump", &ids, &crate::warm::LUMP);
    put::<Time>(book, "nose_low", s.nose.0, "class of the steel", &[], &quench::NOSE);
    put::<Time>(book, "nose_high", s.nose.1, "class of the steel", &[], &quench::NOSE);
    let margin = s.nose.0 / time;
    put::<Ratio>(book, "margin", margin, "earliest nose over time", &ids, &quench::NOSE);
    let verdict = if margin >= quench::MARGIN {
        "hardens with room to spare"
    } else if s.nose.1 / time >= 1.0 {
        "may or may not: a faster medium, a leaner section, or a coupon first"
    } else {
        "too slow to harden through: a faster medium or a leaner section"
    };
    says(book, "verdict", verdict, "margin of 1.3 at the earliest nose", &ids, &quench::NOSE);
    says(
        book,
        "caution",
        crate::caution::quench(medium).join(" "),
        "stands at the work",
        &[],
        &quench::SCORE,
    );
    Ok(())
}
fn crack(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let medium = one_of(g, "medium", &Medium::ALL)?;
    let sections = number(g, book, &mut ids, "sections", (1.0, 1000.0))?;
    let edge = if g.has("edge") { Some(number(g, book, &mut ids, "edge", (0.0, 1000.0))?) } else { None };
    let corner = if g.has("corner") { Some(mm(g, book, &mut ids, "corner", (0.0, 100.0))?) } else { None };
    let slotted = yes(g, "slotted")?;
    let over = super::within(
        g,
        book,
        &mut ids,
        "over",
        (reckon::TemperatureDifference::si(-500.0), reckon::TemperatureDifference::si(600.0)),
    )?;
    let wait = seconds(g, book, &mut ids, "wait")? / 60.0;
    let all = quench::reasons(Risk {
        medium,
        sections,
        edge,
        corner,
        slotted,
        carbon: s.carbon,
        over: over.value(),
        wait,
    });
    let score: u32 = all.iter().map(|(n, _)| n).sum();
    put::<Ratio>(book, "score", f64::from(score), "sum of the points", &ids, &quench::SCORE);
    let told: Vec<String> = all.iter().map(|(n, why)| format!("{n}: {why}")).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    says(book, "reasons", joined(&told), "points and reasons", &ids, &quench::SCORE);
    says(
        book,
        "verdict",
        quench::verdict(score),
        "4 asks for oil or another form, 6 is refused",
        &ids,
        &quench::SCORE,
    );
    Ok(())
}
fn growth(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let l = mm(g, book, &mut ids, "length", (0.1, 2000.0))?;
    let d = mm(g, book, &mut ids, "diameter", (0.05, 300.0))?;
    let medium = one_of(g, "medium", &Medium::ALL)?;
    if s.growth > 0.0 {
        put::<Length>(book, "growth", l * s.growth / 1e3, "length times share", &ids, s.source);
    } else {
        says(book, "growth", "not known: measure a coupon", "no figure in the sheets", &ids, s.source);
    }
    put::<Ratio>(book, "slender", l / d, "length over diameter", &ids, &quench::SCORE);
    says(
        book,
        "advice",
        joined(&quench::advice(l / d, medium)),
        "by slenderness and medium",
        &ids,
        &quench::SCORE,
    );
    Ok(())
}
fn scale(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let at = celsius(g, book, &mut ids, "at", 1300.0)?;
    if at < 723.0 {
        return Err(g.trouble("at", "below 723 °C there is no austenite for this law"));
    }
    let t = seconds(g, book, &mut ids, "time")?;
    if t > 1e6 {
        return Err(g.trouble("time", "no soak lasts so long"));
    }
    let coated = yes(g, "coated")?;
    put::<Ratio>(book, "spread", quench::spread(at) * 1e12, "µm² in a second", &ids, &quench::SPREAD);
    let depth = quench::depth(at, t);
    put::<Length>(book, "depth", depth, "√(D t)", &ids, &quench::SPREAD);
    let bare = 2.0 * depth;
    put::<Length>(
        book,
        "remove",
        bare,
        "2 √(D t) from each face that was in air, scale besides",
        &ids,
        &quench::SPREAD,
    );
    let advice = if coated {
        "kept from air as it is, half of this or less; prove it on a coupon"
    } else {
        "wrap it in stainless foil with a scrap of paper, pack it in iron chips, or coat it with boric acid in spirit; else leave this much on"
    };
    says(book, "advice", advice, "air takes carbon", &ids, &quench::SCORE);
    let caution = format!("{} {}", crate::caution::CAUTION_BORATE, crate::caution::CAUTION_SPIRIT);
    says(book, "caution", caution, "stands at the coat", &[], &quench::SCORE);
    Ok(())
}
