//! Temper colours: names, temperatures, growth of the film, refit from the shop's own pieces.
//!
//! Temperatures in °C, times in s, films in nm. Colour by eye on the part stays the master.

use crate::quench::GAS;
use reckon::Source;
use reckon::maths::{exp, ln, pow};
use std::sync::LazyLock;
use tables::load::{DataFault, Sheet};

/// Growth of the film.
pub static GROWTH: Source = Source {
    cite: "film by temperature fitted to nine colours of published charts; by time with the exponent 4, of low certainty (3 to 6)",
    mark: reckon::Mark::Derived,
    formula: Some("d = A exp(-q/(R T)) (t/180 s)^(1/m)"),
};
/// Half the width of the band in which charts and thermometers leave a colour, K.
pub const BAND: f64 = 15.0;
/// A growth law.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Growth {
    /// ln of the film, nm, at infinite heat and 180 s.
    pub ln_a: f64,
    /// Energy over the exponent, J/mol.
    pub q: f64,
    /// Exponent of time.
    pub m: f64,
}
/// Time that the charts hold for, s.
pub const CHART_TIME: f64 = 180.0;
/// The law of the charts.
pub const CHARTS: Growth = Growth { ln_a: 11.990_6, q: 37_640.0, m: 4.0 };

impl Growth {
    /// Film after a time at a temperature.
    #[must_use]
    pub fn film(&self, celsius: f64, seconds: f64) -> f64 {
        exp(self.ln_a - self.q / (GAS * (celsius + 273.15))) * pow(seconds / CHART_TIME, 1.0 / self.m)
    }
    /// Temperature that grows a film in a time; none where no heat would.
    #[must_use]
    pub fn celsius(&self, film: f64, seconds: f64) -> Option<f64> {
        let left = self.ln_a + ln(seconds / CHART_TIME) / self.m - ln(film);
        (left > 0.1).then(|| self.q / (GAS * left) - 273.15)
    }
    /// Time that grows a film at a temperature.
    #[must_use]
    pub fn seconds(&self, film: f64, celsius: f64) -> f64 {
        CHART_TIME * pow(film / self.film(celsius, CHART_TIME), self.m)
    }
}
/// A piece that warms as one lump in surroundings of one temperature.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Warming {
    /// Time constant, s.
    pub tau: f64,
    /// Surroundings, °C.
    pub around: f64,
    /// Where it begins, °C.
    pub from: f64,
}
/// Longest that a piece is watched, s.
pub const WATCHED: f64 = 3600.0;
impl Growth {
    /// Seconds until a warming piece has each film; none within an hour. The film that grew while it was cooler
    /// counts: d^m is summed over the way, each step at the temperature of its middle.
    #[must_use]
    pub fn while_warming(&self, w: Warming, films: &[f64]) -> Vec<Option<f64>> {
        let step = (w.tau / 200.0).clamp(0.02, 2.0);
        let mut found = vec![None; films.len()];
        let (mut t, mut grown) = (0.0, 0.0);
        while t < WATCHED && found.iter().any(Option::is_none) {
            let middle = crate::warm::reached(w.tau, w.around, w.from, t + step / 2.0);
            let rate = pow(self.film(middle, CHART_TIME), self.m) / CHART_TIME;
            for (f, at) in films.iter().zip(&mut found).filter(|(_, at)| at.is_none()) {
                let left = pow(*f, self.m) - grown;
                if left <= rate * step {
                    *at = Some(t + (left / rate).max(0.0));
                }
            }
            grown += rate * step;
            t += step;
        }
        found
    }
}
/// A piece of the shop: °C, s, film.
pub type Coupon = (f64, f64, f64);
/// A law through the shop's own pieces by least squares of ln film; with one time only, the exponent is kept.
/// Returns the law and the root of the mean square of what is left, in ln film.
#[must_use]
pub fn refit(coupons: &[Coupon], keep_m: f64) -> Option<(Growth, f64)> {
    if coupons.iter().any(|&(c, t, d)| c <= -273.0 || t <= 0.0 || d <= 0.0) || coupons.len() < 2 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "coupons are few")]
    let n = coupons.len() as f64;
    let rows: Vec<(f64, f64, f64)> =
        coupons.iter().map(|&(c, t, d)| (1.0 / (GAS * (c + 273.15)), ln(t / CHART_TIME), ln(d))).collect();
    let mean = |f: fn(&(f64, f64, f64)) -> f64| rows.iter().map(f).sum::<f64>() / n;
    let (mx, mt, my) = (mean(|r| r.0), mean(|r| r.1), mean(|r| r.2));
    let (mut xx, mut tt, mut xt, mut xy, mut ty) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for r in &rows {
        let (x, t, y) = (r.0 - mx, r.1 - mt, r.2 - my);
        xx += x * x;
        tt += t * t;
        xt += x * t;
        xy += x * y;
        ty += t * y;
    }
    let several_times = tt > 1e-6 && rows.len() >= 3 && xx * tt - xt * xt > 1e-6 * xx * tt;
    let (b, g) = if several_times {
        let det = xx * tt - xt * xt;
        ((xy * tt - ty * xt) / det, (ty * xx - xy * xt) / det)
    } else {
        let g = 1.0 / keep_m;
        ((xy - g * xt) / xx, g)
    };
    let law = Growth { ln_a: my - b * mx - g * mt, q: -b, m: 1.0 / g };
    let sound = law.q > 0.0 && law.q.is_finite() && law.m > 0.0 && law.m.is_finite() && law.ln_a.is_finite();
    if !sound {
        return None;
    }
    let left = |c: &Coupon| ln(law.film(c.0, c.1) / c.2);
    let square: f64 = coupons.iter().map(|c| left(c) * left(c)).sum();
    Some((law, (square / n).sqrt()))
}
/// A word for a colour.
#[derive(Clone, PartialEq, Debug)]
pub struct Colour {
    /// The word.
    pub name: String,
    /// Lowest temperature that a chart gives it.
    pub low: f64,
    /// Highest.
    pub high: f64,
    /// The one to work by.
    pub at: f64,
}
static COLOURS: LazyLock<(Vec<Colour>, &'static Source)> =
    LazyLock::new(|| read().expect("the embedded table optics.toml is whole; a test reads it"));
fn read() -> Result<(Vec<Colour>, &'static Source), DataFault> {
    let sheet = Sheet::read("optics.toml", include_str!("../data/optics.toml"))?;
    let rows = sheet.rows("colour")?;
    let all = rows.iter().map(|r| {
        let name = r.word("name")?.to_owned();
        Ok(Colour { name, low: r.number("low")?, high: r.number("high")?, at: r.number("at")? })
    });
    Ok((all.collect::<Result<_, DataFault>>()?, sheet.source("charts")?))
}
/// All words, from the coolest.
#[must_use]
pub fn all() -> &'static [Colour] {
    &COLOURS.0
}
/// Whose words.
#[must_use]
pub fn charts() -> &'static Source {
    COLOURS.1
}
/// The word for the film that is nearest on the chart's own scale; none below the first and far above the last.
#[must_use]
pub fn named(film: f64) -> Option<&'static Colour> {
    let chart = CHARTS.celsius(film, CHART_TIME)?;
    if !(205.0..=345.0).contains(&chart) {
        return None;
    }
    let gap = |c: &&Colour| (c.at - chart).abs();
    all().iter().min_by(|a, b| gap(a).total_cmp(&gap(b)))
}
/// The colour before a colour: the piece is pulled there, for it carries on.
#[must_use]
pub fn before(name: &str) -> Option<&'static Colour> {
    let at = all().iter().position(|c| c.name == name)?;
    at.checked_sub(1).map(|i| &all()[i])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::film::{seen, swatch};
    use proptest::prelude::*;

    #[test]
    fn colours_rise_and_their_films_look_the_part() {
        assert!(all().windows(2).all(|w| w[0].at < w[1].at));
        let at = |c: f64| swatch(seen(CHARTS.film(c, CHART_TIME)));
        let [r, _, b] = at(230.0);
        assert!(r > b, "straw is warm");
        let [r, _, b] = at(293.0);
        assert!(b > r, "blue is blue");
        assert_eq!(named(CHARTS.film(277.0, 180.0)).map(|c| c.name.as_str()), Some("purple"));
        assert_eq!(before("purple").map(|c| c.name.as_str()), Some("brown-purple"));
    }
    #[test]
    fn a_thin_piece_takes_the_time_of_its_surroundings_and_a_thick_one_more() {
        let film = CHARTS.film(293.0, CHART_TIME);
        let at = |tau| CHARTS.while_warming(Warming { tau, around: 300.0, from: 20.0 }, &[film])[0].unwrap();
        assert!((at(0.05) / CHARTS.seconds(film, 300.0) - 1.0).abs() < 0.01);
        assert!(at(40.0) > at(20.0) && at(20.0) > at(0.05));
        // The same sum with a step a hundred times finer, in another language.
        assert!((at(40.0) - 254.516).abs() < 0.1, "{}", at(40.0));
        let never = Warming { tau: 40.0, around: 150.0, from: 20.0 };
        assert_eq!(CHARTS.while_warming(never, &[film]), vec![None]);
    }
    proptest! {
        #[test]
        fn the_shops_own_pieces_give_their_law_back(
            ln_a in 9.0..13.0f64, q in 25_000.0..50_000.0f64, m in 2.0..6.0f64
        ) {
            let law = Growth { ln_a, q, m };
            let coupons: Vec<Coupon> = [(220.0, 60.0), (250.0, 300.0), (290.0, 120.0), (300.0, 900.0)]
                .iter().map(|&(c, t)| (c, t, law.film(c, t))).collect();
            let (found, left) = refit(&coupons, 4.0).unwrap();
            prop_assert!((found.q / q - 1.0).abs() < 1e-6 && (found.m / m - 1.0).abs() < 1e-6 && left < 1e-9);
            let film = law.film(270.0, 200.0);
            prop_assert!((law.celsius(film, 200.0).unwrap() - 270.0).abs() < 1e-6);
            prop_assert!((law.seconds(film, 270.0) / 200.0 - 1.0).abs() < 1e-9);
        }
    }
}
