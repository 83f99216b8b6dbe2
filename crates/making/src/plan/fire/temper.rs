//! Drawing the hardness back in an oven: temperature by the wanted hardness, time by section, a band of colours.

use super::coupon::{self, Model};
use super::wanted::Hardness;
use super::{Card, Patch, Work, means};
use crate::plan::bench::found;
use crate::plan::{Caution, Check, Figure, Operation, Spread};
use heat::steel::Steel;
use heat::{colour, film, temper as kernel};
use movement::part::Part;
use reckon::{Length, Ratio, Source, Temperature, Time, Val, judge, work};
use record::facts::Shop;

/// Hours of a temper.
pub static HOURS: Source =
    Source::read("data sheets of O1: two hours for an inch of section; an hour at the least");
/// Hardness after a temper.
pub static CURVE: Source =
    Source::read("published tempering curve of the steel, straight between its points");

/// Time of a temper for a section.
#[must_use]
pub fn time_for(thick: Length) -> Time {
    Time::si((thick.in_mm() / 25.4 * 7200.0).max(3600.0))
}
/// Temperature that a part is tempered at, without writing anything.
#[must_use]
pub fn celsius(part: &Part, steel: &Steel, model: &Model, shop: &Shop) -> Option<f64> {
    let (low, high) = super::wanted::bare(part)?;
    Some(for_band(steel, (low, high), model.offset, shop))
}
/// The temperature for the middle of a band; the oven's own greatest where the middle is beyond it and that greatest
/// still leaves the piece within the band.
fn for_band(steel: &Steel, (low, high): (f64, f64), offset: f64, shop: &Shop) -> f64 {
    let middle = for_hardness(steel, f64::midpoint(low, high), offset);
    let Some((greatest, _)) = &shop.fire.oven else { return middle };
    let most = greatest.bare().in_celsius();
    let left = kernel::hardness(steel, most).map(|h| h + offset);
    if middle > most && left.is_some_and(|h| h <= high) { most } else { middle }
}
/// Temperature that leaves a hardness, held to the curve's ends.
fn for_hardness(steel: &Steel, hrc: f64, offset: f64) -> f64 {
    let (first, last) = (steel.curve[0], steel.curve[steel.curve.len() - 1]);
    let h = (hrc - offset).clamp(last.1, first.1);
    kernel::celsius_for(steel, h).unwrap_or(first.0).round()
}
/// HRC after an hour or more at a temperature, the shop's own pieces counted.
#[must_use]
pub fn left(steel: &Steel, model: &Model, celsius: f64, seconds: f64) -> Option<f64> {
    let c = kernel::constant(steel.carbon);
    Some(kernel::after_each(steel, &[(celsius, seconds / 3600.0)], c)? + model.offset)
}
/// A strip of colours at temperatures around one, after a time; none where the film has left the first order, whose
/// colours alone have names.
pub(super) fn strip(model: &Model, celsius: f64, band: f64, seconds: f64) -> Vec<Patch> {
    if model.growth.film(celsius, seconds) > film::FIRST_ORDER {
        return Vec::new();
    }
    let mut at =
        vec![celsius - colour::BAND, celsius - band, celsius, celsius + band, celsius + colour::BAND];
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1.0);
    at.iter()
        .map(|&c| {
            let nm = model.growth.film(c, seconds);
            Patch {
                name: named(nm),
                at: format!("{} °C", reckon::print::fixed(c, 0)),
                film: nm,
                rgb: film::swatch(film::seen(nm)),
                inside: (c - celsius).abs() <= band + 0.5,
                aim: (c - celsius).abs() < 0.5,
            }
        })
        .collect()
}
/// The word for a film.
pub(super) fn named(nm: f64) -> String {
    let far = colour::CHARTS.film(325.0, colour::CHART_TIME);
    colour::named(nm).map_or(if nm > far { "grey" } else { "bright" }.to_owned(), |c| c.name.clone())
}
pub(super) fn temper(w: &mut Work<'_>) -> Result<Operation, Box<Operation>> {
    let steel = w.steel("temper")?;
    let model = coupon::model(steel, w.shop, w.book);
    let Some(wanted) = Hardness::of(w.part, w.book, w.at) else {
        return Err(Box::new(w.refused(
            "temper",
            "no hardness is written for it and none is usual for its kind; write hardness",
        )));
    };
    let thick = w.felt.thick;
    let time = work!(w.book, w.name("time"), |thick| time_for(thick), &HOURS);
    let at = temperature(w, steel, &model, &wanted);
    let warmth = means::warmth(w.shop, w.book, w.at, at.bare().in_celsius());
    anything(w, warmth);
    let (greatest, band) = (warmth.greatest, warmth.band);
    let reaches = judge!(
        w.book,
        w.name("in_reach"),
        format!("the {} reaches the tempering heat", if warmth.oven { "oven" } else { "tray" }),
        |at, greatest| at <= greatest,
        &kernel::CONSTANT
    );
    w.book.cure(reaches.id(), "a small kiln or a ladle of brass filings over a flame with a thermometer that reads so high, the piece under the filings");
    w.book.cure(
        reaches.id(),
        format!("harder than {}: temper at {} and give up toughness", wanted.text(), greatest.shown()),
    );
    w.book.cure(reaches.id(), "hard spring strip bought tempered, where it is a spring");
    let (c, s) = (at.bare().in_celsius(), time.bare().value());
    let b = band.bare().value();
    let mut hrc = |tail: &str, c: f64| {
        let v = left(steel, &model, c, s).unwrap_or(steel.curve[steel.curve.len() - 1].1);
        let mut inputs = vec![at.id(), time.id(), band.id()];
        inputs.extend(&model.ids);
        let how =
            "hardness of the tempering curve at this temperature and time, moved by the shop's test pieces";
        let v = Ratio::si((v * 10.0).round() / 10.0);
        w.book.solved(w.name(tail), v, (how, 1, 0.0), inputs, &CURVE)
    };
    let (softest, likely, hardest) = (hrc("hrc_hot", c + b), hrc("hrc", c), hrc("hrc_cool", c - b));
    let end = steel.curve[steel.curve.len() - 1];
    let row = format!("{}, last point of its curve", steel.material);
    let end = w.book.tabled(w.name("softest_known"), Ratio::si(end.1), row, kernel::curve_by(steel, end.0));
    let high = wanted.high;
    let known = judge!(
        w.book,
        w.name("curve_goes_there"),
        "the tempering curve goes down to the wanted hardness",
        |high, end| high >= end,
        &CURVE
    );
    w.book.cure(
        known.id(),
        format!(
            "hardness = {} or more; below that the maker's own sheet and a test piece",
            reckon::print::fixed(end.bare().value(), 0)
        ),
    );
    let low = wanted.low;
    let enough = judge!(
        w.book,
        w.name("hard_enough"),
        "it is left as hard as is wanted, where thermometer and oven are right",
        |likely, low| likely.value() >= low.value() - 0.5,
        &CURVE
    );
    w.book.cure(
        enough.id(),
        format!(
            "temper at {}",
            celsius_text(for_hardness(steel, wanted.low.bare().value() + 0.5, model.offset))
        ),
    );
    let colours = strip(&model, c, b, colour::CHART_TIME);
    let (first, last) = (colours.iter().find(|p| p.inside), colours.iter().rfind(|p| p.inside));
    let seen = match (first, last) {
        (Some(a), Some(z)) if a.name != z.name => format!("{} to {}", a.name, z.name),
        (Some(a), _) => a.name.clone(),
        _ => "grey: too hot for the colours to tell".to_owned(),
    };
    let n = |v: &Val<Ratio>| reckon::print::fixed(v.bare().value(), 1);
    let large = vec![
        Figure::of("temper at", &at),
        Figure::as_text("give or take", &band, format!("± {}", band.shown())),
        Figure::as_text("for", &time, minutes(time.bare())),
        Figure::as_text("leaves", &likely, format!("{} HRC", n(&likely))),
    ];
    let mut lines = vec![
        format!("By {}. In when it is warm, time from when it reads {}.", warmth.text(), at.shown()),
        format!(
            "Oven and thermometer together may be {} off: it comes out between {} and {} HRC. The band, not the point, is what to expect.",
            band.shown(),
            n(&softest),
            n(&hardest)
        ),
        format!(
            "Cross-check: a bright scrap of the same steel, laid in for three minutes and taken out, shows {seen}. After the whole time the pieces themselves are further on: their colour does not judge."
        ),
        "At once after the quench, before a quarter of an hour is over. Cool in air.".to_owned(),
    ];
    if steel.material.starts_with("oil-hardening") || steel.carbon >= 1.1 {
        lines.push(
            "A second temper of the same time, after it is cold, takes what stress the first made."
                .to_owned(),
        );
    }
    lines.extend(model.told.iter().cloned());
    let text = wanted.text();
    let own = vec![
        Figure::of("section", &thick),
        Figure::as_text("wanted", &wanted.low, text.clone()),
        Figure::as_text("comes out", &likely, format!("{} to {} HRC", n(&softest), n(&hardest))),
    ];
    let card = Card {
        word: "temper",
        title: format!("Temper: {} at {} for {}", steel.material, at.shown(), minutes(time.bare())),
        like: format!("temper {} {} {}", steel.material, at.shown(), minutes(time.bare())),
        large,
        own,
        lump: w.felt.lump.bare().in_mm(),
        strip: colours,
        strip_says: "colour of a bright scrap of the same steel after three minutes at the heat".to_owned(),
        lines,
        also: Vec::new(),
        write: vec![
            "temperature read at the start",
            "read at the end",
            "colour of the scrap",
            "file bites or skates",
        ],
    };
    let short = vec![
        format!(
            "At {} for {}, give or take {}; wanted {text} ({}).",
            at.shown(),
            minutes(time.bare()),
            band.shown(),
            wanted.from()
        ),
        format!("A bright scrap of the same steel beside it shows {seen} after three minutes."),
    ];
    if !warmth.oven && !warmth.read {
        let name = w.name("can_be_read");
        let v =
            found(w.book, (name, "the tempering heat can be read"), 0, "thermometers and ovens of the shop");
        w.book.cure(v.id(), "a thermometer for the filings, written in the shop as thermometer = \"4 K\"; until then the colour is all there is to judge by");
    }
    Ok(Operation {
        title: "Temper".to_owned(),
        lines: short,
        tool: Some(warmth.text().to_owned()),
        figures: card.large.clone(),
        checks: vec![Check {
            what: "hardness".to_owned(),
            limits: None,
            seen: Some(format!("{text}: a fine file just bites below 60, skates above")),
            id: Some(likely.id()),
        }],
        cautions: vec![Caution::Hot],
        does: vec!["temper"],
        heat: Some(Box::new(card)),
        time: w.shared(Spread::minutes(10.0, 20.0, 40.0)),
        ..Operation::default()
    })
}
/// A verdict on whether the shop can warm anything at all.
pub(super) fn anything(w: &mut Work<'_>, warmth: means::Warmth) {
    if !warmth.there {
        let name = w.name("warmed");
        let v = found(w.book, (name, "something in the shop warms it"), 0, "ovens and flames of the shop");
        w.book.cure(v.id(), "an oven with a thermometer, or a torch and a tray of brass filings; written under [fire] in the shop");
    }
}
fn temperature(
    w: &mut Work<'_>,
    steel: &'static Steel,
    model: &Model,
    wanted: &Hardness,
) -> Val<Temperature> {
    let (low, high) = (wanted.low, wanted.high);
    let c = for_band(steel, (low.bare().value(), high.bare().value()), model.offset, w.shop);
    let mut inputs = vec![low.id(), high.id()];
    inputs.extend(&model.ids);
    let how = "where the tempering curve leaves the middle of the wanted hardness, the shop's test pieces counted; the oven's greatest where that is within the band and the middle is not";
    let source = kernel::curve_by(steel, c);
    w.book.solved(w.name("at"), Temperature::celsius(c), (how, 1, 0.0), inputs, source)
}
fn celsius_text(c: f64) -> String {
    format!("{} °C", reckon::print::fixed(c, 0))
}
/// Minutes, or hours from two on.
pub(super) fn minutes(t: Time) -> String {
    let m = t.value() / 60.0;
    if m < 2.0 {
        return format!("{} s", reckon::print::significant(t.value(), 2));
    }
    if m >= 120.0 {
        format!("{} h", reckon::print::significant(m / 60.0, 2))
    } else {
        format!("{} min", reckon::print::significant(m, 2))
    }
}
