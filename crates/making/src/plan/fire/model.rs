//! The laws of tempering and colour as this shop finds them: the tables, moved by its own coupons.

use heat::colour::{BAND, CHARTS, Growth, refit};
use heat::temper;
use record::facts::Shop;

/// What is taken for how this shop's steel softens and colours.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Model {
    /// Growth of the film.
    pub growth: Growth,
    /// Added to the hardness of the table, HRC.
    pub hardness: f64,
    /// Coupons that a film was fitted to, and what is left of them in ln film.
    pub films: Option<(usize, f64)>,
    /// Coupons that a hardness was fitted to, and what is left, HRC.
    pub hardnesses: Option<(usize, f64)>,
    /// By how much a temperature may be off, K: thermometer and oven together.
    pub off: f64,
}
impl Model {
    /// The model of a shop.
    #[must_use]
    pub fn of(shop: &Shop) -> Model {
        let fire = &shop.fire;
        let thermometer = fire.thermometer.map_or(BAND, |t| t.bare().value());
        let oven = fire.oven.map_or(0.0, |(_, steady)| steady.bare().value());
        let films: Vec<(f64, f64, f64)> = fire
            .coupons
            .iter()
            .filter_map(|c| {
                let colour = c.colour.as_deref()?;
                let seen = heat::colour::all().iter().find(|k| k.name == colour)?;
                let film = CHARTS.film(seen.at, heat::colour::CHART_TIME);
                Some((c.temperature.bare().in_celsius(), c.time.bare().value(), film))
            })
            .collect();
        let fitted = refit(&films, CHARTS.m);
        let off: Vec<f64> = fire
            .coupons
            .iter()
            .filter_map(|c| {
                let steel = heat::steel::find(&c.steel).ok()?;
                let hours = c.time.bare().value() / 3600.0;
                let constant = temper::constant(steel.carbon);
                let says = temper::after(steel, &[(c.temperature.bare().in_celsius(), hours)], constant)?;
                Some(c.hardness?.bare().value() - says)
            })
            .collect();
        let n = off.len() as f64;
        let mean = if off.is_empty() { 0.0 } else { off.iter().sum::<f64>() / n };
        let left = (off.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n.max(1.0)).sqrt();
        Model {
            growth: fitted.map_or(CHARTS, |(law, _)| law),
            hardness: mean,
            films: fitted.map(|(_, left)| (films.len(), left)),
            hardnesses: (!off.is_empty()).then_some((off.len(), left)),
            // Independent of each other.
            off: (thermometer * thermometer + oven * oven).sqrt(),
        }
    }
    /// Where the law came from, in words.
    #[must_use]
    pub fn by(&self) -> String {
        match self.films {
            Some((n, left)) => format!(
                "the law of this shop's {n} coupons (what is left: {} % of the film)",
                reckon::print::significant(left * 100.0, 2)
            ),
            None => "the law of the charts".to_owned(),
        }
    }
}
