//! What the shop heats, measures and quenches with, as far as its text tells.

use heat::steel::Medium;
use reckon::{Alternative, Book, Source, Temperature, TemperatureDifference, Val, work};
use record::facts::Shop;

/// How far a heat may be from what was wanted.
pub static BAND: Source =
    Source::derived("an oven wanders and a thermometer lies: both may do so the same way")
        .with_formula("± (oven + thermometer)");
/// What a thermometer that nobody described is worth.
const THERMOMETER: f64 = 10.0;
/// How evenly a tray over a flame is held.
const TRAY: f64 = 10.0;

/// A bath of the shop.
#[derive(Clone, Debug)]
pub struct Bath {
    /// As the shop calls it.
    pub name: String,
    /// What it is.
    pub medium: Medium,
    /// Litres, where written.
    pub litres: Option<f64>,
    /// Whether it is made from what is there: salt in water.
    pub made: bool,
}
/// The baths of a shop, the mildest first; brine is had wherever water is.
pub fn baths(shop: &Shop) -> Vec<Bath> {
    let mut all = Vec::new();
    for word in &shop.fire.quench {
        let low = word.to_lowercase();
        let medium = if low.contains("oil") {
            Medium::Oil
        } else if low.contains("brine") || low.contains("salt") {
            Medium::Brine
        } else if low.contains("water") {
            Medium::Water
        } else {
            continue;
        };
        all.push(Bath { name: word.clone(), medium, litres: litres(&low), made: false });
    }
    let water = all.iter().find(|b| b.medium == Medium::Water).cloned();
    if let (Some(w), false) = (water, all.iter().any(|b| b.medium == Medium::Brine)) {
        let name = format!("{}, with 70 g of salt to the litre", w.name);
        all.push(Bath { name, medium: Medium::Brine, litres: w.litres, made: true });
    }
    all.sort_by_key(|b| b.medium);
    all
}
/// "mineral oil 3 litre", "oil, 0.5 l": how much.
fn litres(text: &str) -> Option<f64> {
    let words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
    words.iter().enumerate().find_map(|(i, w)| {
        let unit = |u: &str| matches!(u, "l" | "litre" | "litres" | "liter" | "liters");
        let own = w.trim_end_matches(|c: char| c.is_alphabetic());
        let n: f64 = own.parse().ok().filter(|n: &f64| n.is_finite() && *n > 0.0)?;
        (unit(&w[own.len()..]) || w.len() == own.len() && words.get(i + 1).is_some_and(|u| unit(u)))
            .then_some(n)
    })
}
/// What brings a piece to a low heat and holds it there.
#[derive(Copy, Clone, Debug)]
pub struct Warmth {
    /// Whether it is an oven rather than a tray over a flame.
    pub oven: bool,
    /// Hottest.
    pub greatest: Val<Temperature>,
    /// Give or take, in all.
    pub band: Val<TemperatureDifference>,
    /// Whether a thermometer is written.
    pub read: bool,
    /// Whether there is anything to warm with.
    pub there: bool,
}
/// The oven where it reaches what is wanted, else a ladle or tray of brass filings over a flame, with what may be off;
/// the oven all the same where there is no flame.
pub fn warmth(shop: &Shop, book: &mut Book, at: &str, wanted: f64) -> Warmth {
    let fire = &shop.fire;
    let thermometer = fire.thermometer.unwrap_or_else(|| {
        let why = "house default: no thermometer is written in the shop, so its error is taken large";
        book.assumed(format!("{at}.thermometer"), TemperatureDifference::si(THERMOMETER), why)
    });
    let flame = fire.heat_with.as_ref().is_some_and(|f| !f.trim().is_empty());
    let reaches = |o: &Val<Temperature>| o.bare().in_celsius() >= wanted;
    let oven_taken = fire.oven.as_ref().is_some_and(|(g, _)| reaches(g) || !flame);
    let mut among = Vec::new();
    let mut inputs = Vec::new();
    if let Some((greatest, steady)) = &fire.oven {
        let why = if reaches(greatest) {
            format!("goes to {}, steady to {}", greatest.shown(), steady.shown())
        } else {
            format!("goes to {} only, and {} °C is wanted", greatest.shown(), reckon::print::fixed(wanted, 0))
        };
        among.push(Alternative { what: "oven".to_owned(), taken: oven_taken, why });
        inputs.push(greatest.id());
    }
    let why =
        if flame { "any heat, but held by hand: ten degrees either way" } else { "no flame in the shop" };
    let what = "tray of brass filings over a flame".to_owned();
    among.push(Alternative { what: what.clone(), taken: !oven_taken, why: why.to_owned() });
    let taken = if oven_taken { "oven".to_owned() } else { what };
    let rule = "the oven where it reaches, for it is the steadier";
    book.chosen(format!("{at}.warmed_by"), taken, rule, among, inputs, &BAND);
    let (oven, greatest, steady) = match fire.oven {
        Some((greatest, steady)) if oven_taken => (true, greatest, steady),
        _ => {
            let why = "house default: brass filings over a flame, as far as they are held evenly";
            let greatest = book.assumed(format!("{at}.tray_greatest"), Temperature::celsius(450.0), why);
            let steady = book.assumed(format!("{at}.steady"), TemperatureDifference::si(TRAY), why);
            (false, greatest, steady)
        }
    };
    let band = work!(book, format!("{at}.band"), |steady, thermometer| steady + thermometer, &BAND);
    Warmth { oven, greatest, band, read: fire.thermometer.is_some(), there: flame || fire.oven.is_some() }
}
impl Warmth {
    /// In words.
    pub fn text(self) -> &'static str {
        match (self.oven, self.read) {
            (true, _) => "oven, thermometer beside the pieces",
            (false, true) => "tray of brass filings over a flame, thermometer in the filings",
            (false, false) => "tray of brass filings over a flame, judged by colour",
        }
    }
}
/// What brings steel to a red heat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Red {
    /// An oven that gets there.
    Oven,
    /// A flame, as the shop calls it.
    Flame(String),
    /// Nothing.
    Nothing,
}
/// What the shop has for a red heat.
pub fn red(shop: &Shop, celsius: f64) -> Red {
    match (&shop.fire.oven, &shop.fire.heat_with) {
        (Some((greatest, _)), _) if greatest.bare().in_celsius() >= celsius => Red::Oven,
        (_, Some(flame)) if !flame.trim().is_empty() => Red::Flame(flame.clone()),
        _ => Red::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::litres;

    #[test]
    fn litres_are_read_from_what_a_bath_is_called() {
        assert_eq!(litres("mineral oil 3 litre"), Some(3.0));
        assert_eq!(litres("oil, 0.5l"), Some(0.5));
        assert_eq!(litres("water"), None);
        assert_eq!(litres("oil 10w40"), None);
    }
}
