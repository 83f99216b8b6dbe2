//! What the room does to the rate, through a day and a year.

use crate::packet::Contents;
use crate::packet::chart::{Axis, Panel, chart};
use crate::{Block, Fit, Picture};
use ::movement::design::WeatherDesign;
use ::pendulum::weather::{At, YEAR};
use drafting::sketch::{Pen, Sketch};

const PANEL: f64 = 24.0;

/// A day and a year.
pub(in crate::packet::movement) fn drawn(w: &WeatherDesign) -> [Sketch; 2] {
    let day = pictured(
        "rate through a day",
        &Axis::from_to("hour of the day", (0.0, 24.0), 3.0),
        &w.day_curve,
        0.0,
        |a| a.time / 3600.0,
    );
    let year = pictured(
        "rate through a year",
        &Axis::from_to("months after the warmest time", (0.0, 12.0), 1.0),
        &w.year_curve,
        2.0 * w.scatter.bare().value(),
        |a| a.time / YEAR * 12.0,
    );
    [day, year]
}
/// Blocks of its sheet, and its drawings.
pub(super) fn room(of: &Contents<'_>, w: &WeatherDesign) -> (Vec<Block>, Vec<(String, Sketch)>) {
    let [day, year] = drawn(w);
    let picture = |sketch: &Sketch, caption: &str| {
        Block::Picture(Picture { sketch: sketch.clone(), fit: Fit::True, caption: caption.into() })
    };
    let mut blocks = vec![
        Block::Heading(1, "The clock in its room".into()),
        super::facts(of, &w.told),
        Block::Heading(2, "Through a day".into()),
        picture(
            &day,
            "Rate at each hour, and how far the hands get off by it, each against its mean. Dashed: by the air alone.",
        ),
    ];
    blocks.extend(super::table(of, w.day_table));
    blocks.push(Block::Heading(2, "Through a year".into()));
    blocks.push(picture(
        &year,
        "The same through a year. Grey: twice the scatter by the barometer's weather, to each side.",
    ));
    blocks.extend(super::table(of, w.year_table));
    blocks.push(Block::Remark("Seconds a day, + gains; hands in seconds, + fast. How much the room warms is assumed unless it is written: site = { warmer_by_day = …, warmer_by_year = … } in [clock]. The arc is taken as it is: oil that stiffens in the cold is another matter.".into()));
    (blocks, vec![("rate-day".to_owned(), day), ("rate-year".to_owned(), year)])
}
/// Rate and hands over time; `scatter` to each side of the rate is grey.
fn pictured(title: &str, across: &Axis, curve: &[At], scatter: f64, at: impl Fn(&At) -> f64) -> Sketch {
    let over = |f: &dyn Fn(&At) -> f64| -> Vec<(f64, f64)> { curve.iter().map(|a| (at(a), f(a))).collect() };
    let values = |f: &dyn Fn(&At) -> f64| -> Vec<f64> { curve.iter().map(f).collect() };
    let edges = |a: &At| [a.rate() - scatter, a.rate() + scatter, a.by_air];
    let both: Vec<f64> = curve.iter().flat_map(edges).collect();
    let mut rate = Panel::new(Axis::around("rate, s/day", both, 4.0), PANEL, over(&At::rate));
    rate.lines.push((Pen::Hidden, over(&|a| a.by_air), String::new()));
    if scatter > 0.0 {
        let band = curve.iter().map(|a| (at(a), a.rate() - scatter, a.rate() + scatter));
        rate.bands.push(band.collect());
    }
    let hands = Panel::new(Axis::around("hands, s", values(&|a| a.hands), 4.0), PANEL, over(&|a| a.hands));
    chart(title, across, &[rate, hands])
}
