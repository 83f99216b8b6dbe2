//! Temper colours.

use super::{Done, ask, celsius, need, not_among, number, or, put, put_celsius, says, seconds, within};
use crate::colour::{self, BAND, CHART_TIME, CHARTS, Growth};
use crate::film::{self, AIRY};
use reckon::{Ask, Book, Given, Id, Length, Param, Ratio, Source, Temperature, Time, Trouble};

const LAW: [Param; 3] = [
    or("exponent", "4", "of time; 3 to 6, from the shop's own pieces"),
    or("energy", "37640", "J/mol over the exponent"),
    or("start", "11.9906", "ln of the film in nm at infinite heat and 180 s"),
];
static EYE: Source = Source {
    cite: "the eye on the part is the master; charts and thermometers leave ±15 °C",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
pub(super) static ASKS: &[Ask] = &[
    ask(
        "heat.colour",
        "temper colour by name or by temperature and time, with its band, film and swatch",
        &[
            or("name", "", "a word such as straw, purple or dark blue"),
            or("temperature", "", "in place of the word"),
            or("time", "180 s", "held at it"),
            LAW[0],
            LAW[1],
            LAW[2],
        ],
        &[
            "temperature_to",
            "band_low",
            "band_high",
            "colour",
            "pull_at",
            "film",
            "red",
            "green",
            "blue",
            "swatch",
            "swatch_low",
            "swatch_high",
            "caution",
        ],
        r#"name="dark blue""#,
        named,
    ),
    ask(
        "heat.film",
        "colour of polished iron under a film of oxide",
        &[need("thickness", "of the film, 0 to 200 nm")],
        &["luminance", "red", "green", "blue", "swatch", "colour", "darkest"],
        r#"thickness="25 nm""#,
        seen,
    ),
    ask(
        "heat.refit",
        "law of growth through the shop's own pieces, by least squares",
        &[
            need("temperatures", "of the pieces, between commas"),
            or("times", "180 s", "one for all, or one for each"),
            need("colours", "of each: words, swatches such as #a0926f, or films such as 25 nm"),
            or("keep", "4", "exponent of time that is kept when all times are alike"),
        ],
        &["energy", "exponent", "start", "off", "films"],
        r##"temperatures="230 degC, 254 degC, 277 degC, 293 degC" colours="#a0926f, #7e6014, purple, 54.2 nm""##,
        refit,
    ),
];

fn law(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>) -> Result<Growth, Trouble> {
    Ok(Growth {
        m: number(g, book, ids, "exponent", (1.5, 12.0))?,
        q: number(g, book, ids, "energy", (5e3, 2e5))?,
        ln_a: number(g, book, ids, "start", (0.0, 60.0))?,
    })
}
fn rgb(book: &mut Book, nm: f64, ids: &[Id]) {
    let s = film::swatch(film::seen(nm));
    for (name, c) in ["red", "green", "blue"].into_iter().zip(s) {
        put::<Ratio>(book, name, f64::from(c), "0 to 255 of the screen's colours", ids, &AIRY);
    }
    says(book, "swatch", film::hex(s), "the same as text", ids, &AIRY);
}
fn named(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let time = seconds(g, book, &mut ids, "time")?;
    let law = law(g, book, &mut ids)?;
    let names: Vec<&str> = colour::all().iter().map(|c| c.name.as_str()).collect();
    let (at, word) = if g.has("temperature") {
        let at = celsius(g, book, &mut ids, "temperature", 450.0)?;
        let film = law.film(at, time);
        let word = colour::named(film).map_or_else(
            || if at < 230.0 { "white or nearly so" } else { "past blue: grey to green" }.to_owned(),
            |c| c.name.clone(),
        );
        (at, word)
    } else {
        let word = g.word_if("name").ok_or_else(|| g.trouble("name", "give 'name' or 'temperature'"))?;
        let c = colour::all()
            .iter()
            .find(|c| c.name == word.trim())
            .ok_or_else(|| not_among(g, "name", &word, &names))?;
        put_celsius(book, "chart_low", c.low, "lowest of the charts", &[], colour::charts());
        put_celsius(book, "chart_high", c.high, "highest of the charts", &[], colour::charts());
        let film = CHARTS.film(c.at, CHART_TIME);
        // Another time or law brings the same film at another temperature.
        let at = if (law, time) == (CHARTS, CHART_TIME) { Some(c.at) } else { law.celsius(film, time) };
        let at = at.filter(|t| (-200.0..2000.0).contains(t));
        (at.ok_or_else(|| g.trouble("time", "no heat gives that colour in that time"))?, c.name.clone())
    };
    put_celsius(book, "temperature_to", at, "the chart, brought to the time", &ids, &colour::GROWTH);
    put_celsius(book, "band_low", at - BAND, "15 K below", &ids, &EYE);
    put_celsius(book, "band_high", at + BAND, "15 K above", &ids, &EYE);
    says(book, "colour", word.clone(), "nearest word", &ids, colour::charts());
    let pull = colour::before(&word).map_or("as soon as it shows", |c| c.name.as_str());
    says(
        book,
        "pull_at",
        pull,
        "one colour early: it carries on by 3 to 8 K; then on to cold brass, never in water",
        &ids,
        &EYE,
    );
    let nm = law.film(at, time);
    if nm > 1000.0 {
        return Err(g.trouble("time", "the film would be no temper colour any more"));
    }
    put::<Length>(book, "film", nm * 1e-9, "law of growth", &ids, &colour::GROWTH);
    rgb(book, nm, &ids);
    for (name, t) in [("swatch_low", at - BAND), ("swatch_high", at + BAND)] {
        says(
            book,
            name,
            film::hex(film::swatch(film::seen(law.film(t, time).min(1000.0)))),
            "end of the band",
            &ids,
            &AIRY,
        );
    }
    says(book, "caution", crate::caution::CAUTION_TRAY, "stands at the work", &[], &EYE);
    Ok(())
}
fn seen(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let nm = within(g, book, &mut ids, "thickness", (Length::ZERO, Length::si(200e-9)))?.value() * 1e9;
    put::<Ratio>(book, "luminance", film::seen(nm)[1], "Y; 1 throws all light back", &ids, &AIRY);
    rgb(book, nm, &ids);
    let word = colour::named(nm).map_or("none of the chart", |c| c.name.as_str());
    says(book, "colour", word, "nearest word on the chart's own scale", &ids, colour::charts());
    put::<Length>(book, "darkest", film::darkest() * 1e-9, "film that throws least light back", &[], &AIRY);
    Ok(())
}
fn refit(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let temperatures = g.take_list::<Temperature>(book, "temperatures")?;
    let times = g.take_list::<Time>(book, "times")?;
    ids.extend(temperatures.iter().map(reckon::Val::id).chain(times.iter().map(reckon::Val::id)));
    let keep = number(g, book, &mut ids, "keep", (1.5, 12.0))?;
    let text = g.word("colours")?;
    let words: Vec<&str> = text.split(',').map(str::trim).collect();
    let n = temperatures.len();
    if words.len() != n || !(times.len() == n || times.len() == 1) {
        return Err(g.trouble(
            "colours",
            "each piece has a temperature and a colour, and a time of its own or one for all",
        ));
    }
    let names: Vec<&str> = colour::all().iter().map(|c| c.name.as_str()).collect();
    let mut coupons = Vec::new();
    let mut films = Vec::new();
    for (i, word) in words.iter().enumerate() {
        let (at, time) = (temperatures[i].bare().in_celsius(), times[i.min(times.len() - 1)].bare().value());
        if !((0.0..=600.0).contains(&at) && (1.0..=1e7).contains(&time)) {
            return Err(
                g.trouble("temperatures", "pieces are coloured at 0 to 600 °C, in a second to some months")
            );
        }
        let nm = if let Some(c) = colour::all().iter().find(|c| c.name == *word) {
            CHARTS.film(c.at, CHART_TIME)
        } else if let Some(swatch) = film::from_hex(word) {
            let (nm, off) = film::thickness_of(swatch);
            if off > 40.0 || nm <= 0.0 {
                return Err(g.trouble("colours", format!("'{word}' is no colour of a film on iron")));
            }
            nm
        } else {
            match reckon::text::read(word, reckon::Dimension::Length) {
                Ok(m) if (1e-9..=300e-9).contains(&m) => m * 1e9,
                _ => return Err(not_among(g, "colours", word, &names)),
            }
        };
        films.push(format!("{nm:.1} nm"));
        coupons.push((at, time, nm));
    }
    let (law, off) = colour::refit(&coupons, keep).ok_or_else(|| {
        g.trouble(
            "temperatures",
            "no law of growth fits these pieces: films must thicken with heat and with time",
        )
        .cure("give two temperatures at least, well apart")
    })?;
    put::<Ratio>(book, "energy", law.q, "J/mol over the exponent, least squares", &ids, &colour::GROWTH);
    put::<Ratio>(book, "exponent", law.m, "of time; kept when all times are alike", &ids, &colour::GROWTH);
    put::<Ratio>(
        book,
        "start",
        law.ln_a,
        "ln of the film, nm, at infinite heat and 180 s",
        &ids,
        &colour::GROWTH,
    );
    put::<Ratio>(
        book,
        "off",
        off,
        "root of the mean square left, as a share of the film",
        &ids,
        &colour::GROWTH,
    );
    says(book, "films", films.join(", "), "film of each piece", &ids, &AIRY);
    Ok(())
}
