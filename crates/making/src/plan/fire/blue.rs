//! Blueing: which heat, how many seconds, how wide the window, whether it softens what has to stay hard.

use super::{Piece, temper};
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, PassTable, Spread, bench};
use heat::colour::{self, CHART_TIME};
use heat::{film, temper as tempering, warm};
use reckon::{Book, Cell, Count, Id, Ratio, Temperature, TemperatureDifference, Time, Val, judge, work};
use record::facts::Shop;

/// A colour of the strip.
#[derive(Clone, Debug)]
pub struct Swatch {
    /// Temperature at the time of the chart (°C).
    pub celsius: f64,
    /// Its word.
    pub name: String,
    /// Film (nm).
    pub film: f64,
    /// Predicted colour.
    pub rgb: [u8; 3],
    /// Whether it lies in the band of what the thermometer tells.
    pub within: bool,
    /// Whether it is the one that is wanted.
    pub wanted: bool,
}
/// Blueing as planned.
#[derive(Clone, Debug)]
pub struct Blued {
    /// The colour.
    pub name: String,
    /// The colour at which it is pulled: it carries on.
    pub pull: Option<String>,
    /// Heat at which it is blue.
    pub at: Val<Temperature>,
    /// Heat of the tray.
    pub tray: Val<Temperature>,
    /// Seconds from cold to the colour.
    pub seconds: Val<Time>,
    /// How fast it warms then.
    pub quick: Val<TemperatureDifference>,
    /// Seconds between the colour before and the colour after.
    pub window: Val<Time>,
    /// How many can be taken out in time.
    pub at_once: Val<Count>,
    /// Biot number.
    pub biot: Val<Ratio>,
    /// The strip.
    pub strip: Vec<Swatch>,
    /// The strip as a table.
    pub table: Id,
}
/// Blue of the trade.
const BLUE: &str = "dark blue";

pub(super) fn blue(
    p: &Piece<'_>,
    tempered: Option<&super::Tempered>,
    hardened: bool,
    book: &mut Book,
) -> Option<Blued> {
    let colours = colour::all();
    let place = colours.iter().position(|c| c.name == BLUE)?;
    let wanted = &colours[place];
    let growth = p.model.growth;
    let target = colour::CHARTS.film(wanted.at, CHART_TIME);
    // The temperature at which this shop's steel grows that film in the time of the charts.
    let celsius = growth.celsius(target, CHART_TIME)?;
    let at = match p.model.films {
        None => book.tabled(p.name("blue"), Temperature::celsius(celsius), BLUE.to_owned(), colour::charts()),
        Some(_) => book.solved(
            p.name("blue"),
            Temperature::celsius(celsius),
            (format!("film of {BLUE} by {}; the charts say {} °C", p.model.by(), wanted.at), 1, 0.0),
            Vec::new(),
            &colour::GROWTH,
        ),
    };
    let tray = work!(
        book,
        p.name("tray"),
        |at| Temperature::celsius(at.in_celsius() + 27.0),
        &warm::TRAYS
    );
    let lump = p.lump;
    let (_, [_, h, _]) = warm::PLACES.iter().find(|(n, _)| *n == "brass filings")?;
    let tau = warm::tau(p.density, warm::STEEL_HEAT, lump.bare().value(), *h);
    let biot = book.solved(
        p.name("biot"),
        Ratio::si(warm::biot(*h, lump.bare().value(), 43.0)),
        ("heat passed in over heat passed on; below 0.1 it is one lump", 1, 0.0),
        vec![lump.id()],
        &warm::LUMP,
    );
    let one_lump = judge!(book, p.name("one_lump"), "it warms as one lump, so that the colour is even", |biot| biot < Ratio::si(0.1), &warm::LUMP);
    book.cure(one_lump.id(), "a cooler tray and more time");
    let inputs = vec![lump.id(), tray.id(), at.id()];
    let in_tray = tray.bare().in_celsius();
    let seconds = book.solved(
        p.name("seconds"),
        Time::si(warm::time(tau, in_tray, 20.0, celsius)?),
        ("one lump from 20 °C in brass filings at the heat of the tray", 1, 0.0),
        inputs.clone(),
        &warm::LUMP,
    );
    let rate = warm::rate(tau, in_tray, celsius);
    let quick = book.solved(
        p.name("quick"),
        TemperatureDifference::si(rate),
        ("how much it warms in the last second", 1, 0.0),
        inputs.clone(),
        &warm::LUMP,
    );
    let before = place.checked_sub(1).map(|i| &colours[i]);
    let after = colours.get(place + 1);
    let low = before.map_or(wanted.at - 10.0, |c| f64::midpoint(c.at, wanted.at));
    let high = after.map_or(wanted.at + 10.0, |c| f64::midpoint(c.at, wanted.at));
    let window = book.solved(
        p.name("window"),
        Time::si((high - low) / rate),
        ("from half-way to the colour before to half-way to the colour after", 1, 0.0),
        inputs.clone(),
        colour::charts(),
    );
    let handling =
        book.assumed(p.name("handling"), Time::si(2.0), "house default: seconds to take one piece out with tweezers");
    let at_once = work!(
        book,
        p.name("at_once"),
        |window, handling| Count((window.value() / handling.value()).floor().max(1.0) as i64),
        &warm::TRAYS
    );
    let strip = strip(p, celsius);
    let rows = strip
        .iter()
        .map(|s| {
            vec![
                Cell::word(s.name.clone()),
                Cell::of(&Temperature::celsius(s.celsius)),
                Cell::as_text(&Ratio::si(s.film), format!("{} nm", reckon::print::fixed(s.film, 0))),
                Cell::word(film::hex(s.rgb)),
                Cell::word(match (s.wanted, s.within) {
                    (true, _) => "wanted",
                    (false, true) => "may be so when the thermometer says it is right",
                    _ => "",
                }),
            ]
        })
        .collect();
    let table = book.table(
        p.name("strip"),
        &["colour", "heat", "film", "predicted", ""],
        rows,
        format!("three minutes at heat; {}", p.model.by()),
        vec![at.id()],
        &film::AIRY,
    );
    stays_hard(p, tempered, hardened, celsius, seconds, book);
    Some(Blued {
        name: BLUE.to_owned(),
        pull: before.map(|c| c.name.clone()),
        at,
        tray,
        seconds,
        quick,
        window,
        at_once,
        biot,
        strip,
        table,
    })
}
/// The colours from straw to grey as this shop's law puts them.
fn strip(p: &Piece<'_>, celsius: f64) -> Vec<Swatch> {
    let growth = p.model.growth;
    colour::all()
        .iter()
        .filter_map(|c| {
            let nm = colour::CHARTS.film(c.at, CHART_TIME);
            let here = growth.celsius(nm, CHART_TIME)?;
            Some(Swatch {
                celsius: here,
                name: c.name.clone(),
                film: nm,
                rgb: film::swatch(film::seen(nm)),
                within: (here - celsius).abs() <= p.model.off,
                wanted: c.name == BLUE,
            })
        })
        .collect()
}
/// A blue is a temper too: it must not soften below what is wanted.
fn stays_hard(
    p: &Piece<'_>,
    tempered: Option<&super::Tempered>,
    hardened: bool,
    celsius: f64,
    seconds: Val<Time>,
    book: &mut Book,
) {
    let Some(steel) = p.steel.filter(|_| hardened || tempered.is_some()) else { return };
    let c = tempering::constant(steel.carbon);
    let hours = (seconds.bare().value() + CHART_TIME) / 3600.0;
    let mut heats = vec![(celsius + p.model.off, hours)];
    heats.extend(tempered.map(|t| (t.at.bare().in_celsius(), t.hold.bare().value() / 3600.0)));
    let Some(after) = tempering::after(steel, &heats, c) else { return };
    let inputs = tempered.map_or_else(Vec::new, |t| vec![t.at.id(), t.hold.id()]);
    let left = book.solved(
        p.name("after_blue"),
        Ratio::si(after + p.model.hardness),
        ("HRC after temper and blue together, the blue as hot as the thermometer may be off", 1, 0.0),
        inputs,
        &tempering::PARAMETER,
    );
    let least = match tempered {
        // Half a point is what a curve is known to.
        Some(t) => {
            let wanted = t.wanted;
            work!(book, p.name("least"), |wanted| Ratio::si(wanted.value() - 1.5), tempering::curve_by(steel, celsius))
        }
        None => book.assumed(
            p.name("least"),
            Ratio::si(temper::usual(p).low - 1.0),
            "house default: a point under the usual range of such a part (HRC)",
        ),
    };
    let verdict = judge!(
        book,
        p.name("blue_stays_hard"),
        "the blue leaves it as hard as it is wanted",
        |left, least| left >= least,
        &tempering::PARAMETER
    );
    book.cure(verdict.id(), "leave \"blue\" out: polished and oiled");
    book.cure(verdict.id(), "a softer temper, if the part bears it");
    book.cure(verdict.id(), "straw or purple in place of blue");
}
impl Blued {
    pub(super) fn operation(&self, shop: &Shop) -> Operation {
        let off = shop.fire.thermometer.map_or_else(String::new, |t| {
            format!(" The thermometer may be off by {}: go by the colour, and try a scrap of the same bar first.", t.shown())
        });
        let mut lines = vec![
            format!("Brass tray of dry fine filings, warmed slowly to {} and left until it is steady.{off}", self.tray.shown()),
            "Pieces laid in alike, heads up, filings to the same height; light from the side, a black card above.".to_owned(),
        ];
        if let Some(pull) = &self.pull {
            lines.push(format!("Straw, brown, purple, {pull}: take it out as {pull} turns; it carries on by itself. Onto cold iron."));
        }
        lines.push(format!(
            "It is right for {}: no more than {} in the tray at a time, taken out in the order they went in.",
            self.window.shown(),
            self.at_once.shown()
        ));
        lines.push("Blotches are grease, edges first is too hot. One that is wrong: polished again from the last grain, and the whole batch once more with it.".to_owned());
        let _ = bench::FEEDS;
        Operation {
            title: format!("Blue: {}", self.name),
            lines,
            tool: Some("brass tray, filings, tweezers, cold iron block".to_owned()),
            figures: vec![
                Figure::of("blue at", &self.at),
                Figure::of("tray", &self.tray),
                Figure::of("comes after", &self.seconds),
                Figure::of("right for", &self.window),
            ],
            tables: vec![PassTable { title: "colours in their order".to_owned(), id: self.table }],
            checks: vec![seen("colour", "one blue all over, the same on all; write which one and after how many seconds")],
            cautions: vec![Caution::Tray],
            time: Spread::minutes(2.0, 4.0, 10.0),
            ..Operation::default()
        }
    }
}
