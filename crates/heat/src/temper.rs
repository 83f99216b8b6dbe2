//! Tempering: hardness by temperature and time, and what a later blue does to it.
//!
//! Temperatures in °C, times in hours unless said.

use crate::between;
use crate::steel::{Steel, tables};
use reckon::Source;
use reckon::maths::{log10, pow};

/// Same parameter, same hardness.
pub static PARAMETER: Source = Source {
    cite: "Hollomon and Jaffe 1945: time and temperature of tempering",
    mark: reckon::Mark::Memory,
    formula: Some("P = (T + 273.15)(C + log t), T in °C, t in hours"),
};
/// The constant by carbon.
pub static CONSTANT: Source = Source {
    cite: "Hollomon and Jaffe 1945: the constant falls with carbon",
    mark: reckon::Mark::Memory,
    formula: Some("C = 21.3 - 5.8 × per cent of carbon, t in hours"),
};
/// The constant that textbooks use for every steel.
pub const TEXTBOOK: f64 = 20.0;
/// Hours of the furnace tempers that the curves hold for.
pub const CURVE_HOURS: f64 = 1.0;
/// Hardest that a graver or high-speed tool still turns, HRC.
pub const TURNABLE: f64 = 53.0;

/// The constant of time for a steel, hours.
#[must_use]
pub fn constant(carbon: f64) -> f64 {
    21.3 - 5.8 * carbon
}
/// The parameter of time and temperature.
#[must_use]
pub fn parameter(celsius: f64, hours: f64, c: f64) -> f64 {
    (celsius + 273.15) * (c + log10(hours))
}
/// Temperature that does in `hours` what the parameter stands for; none where time is too short for it.
#[must_use]
pub fn temperature(p: f64, hours: f64, c: f64) -> Option<f64> {
    let spread = c + log10(hours);
    (spread > 0.5).then(|| p / spread - 273.15)
}
/// Hours that do at a temperature what the parameter stands for.
#[must_use]
pub fn hours(p: f64, celsius: f64, c: f64) -> f64 {
    pow(10.0, p / (celsius + 273.15) - c)
}
/// HRC after a furnace temper of an hour; below the curve a line leads up to the hardness as quenched at 100 °C.
#[must_use]
pub fn hardness(steel: &Steel, celsius: f64) -> Option<f64> {
    let first = *steel.curve.first()?;
    let quenched = steel.hard.1.max(first.1);
    if celsius < 100.0 {
        return Some(quenched);
    }
    if celsius < first.0 {
        return between(&[(100.0, quenched), first], celsius);
    }
    between(&steel.curve, celsius)
}
/// Temperature of a furnace temper that leaves a wanted HRC; none outside the curve.
#[must_use]
pub fn celsius_for(steel: &Steel, hrc: f64) -> Option<f64> {
    let turned: Vec<(f64, f64)> = steel.curve.iter().rev().map(|&(t, h)| (h, t)).collect();
    between(&turned, hrc)
}
/// Source of the curve at a temperature.
#[must_use]
pub fn curve_by(steel: &Steel, celsius: f64) -> &'static Source {
    let at = steel.curve.iter().position(|&(t, _)| t >= celsius - 1e-9);
    steel.curve_by[at.unwrap_or(steel.curve.len() - 1)]
}
/// The furnace temper of an hour that does what several heats, each °C and hours, do together: all are brought to
/// the hottest one by the parameter and their times added.
#[must_use]
pub fn together(heats: &[(f64, f64)], c: f64) -> Option<f64> {
    let hottest = heats.iter().map(|h| h.0).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = heats.iter().map(|&(t, h)| hours(parameter(t, h, c), hottest, c)).sum();
    if !(hottest.is_finite() && sum > 0.0) {
        return None;
    }
    temperature(parameter(hottest, sum, c), CURVE_HOURS, c)
}
/// HRC after one or more heats, each °C and hours.
#[must_use]
pub fn after(steel: &Steel, heats: &[(f64, f64)], c: f64) -> Option<f64> {
    hardness(steel, together(heats, c)?)
}
/// The furnace temper of an hour that heats one after another come to, each °C and hours: what went before counts as
/// time already spent at the new heat. Cutting a heat into pieces changes nothing, so it follows a piece that warms.
#[must_use]
pub fn in_turn(heats: &[(f64, f64)], c: f64) -> Option<f64> {
    let mut p: Option<f64> = None;
    for &(t, h) in heats {
        if !(t > -273.0 && h > 0.0) {
            return None;
        }
        let before = p.map_or(0.0, |p| hours(p, t, c));
        p = Some(parameter(t, before + h, c));
    }
    temperature(p?, CURVE_HOURS, c)
}
/// HRC after heats one after another.
#[must_use]
pub fn after_each(steel: &Steel, heats: &[(f64, f64)], c: f64) -> Option<f64> {
    hardness(steel, in_turn(heats, c)?)
}
/// HV of an HRC from 20 to 66.
#[must_use]
pub fn vickers(hrc: f64) -> Option<f64> {
    between(&tables().hardness, hrc)
}
/// HRC of an HV from 238 to 865.
#[must_use]
pub fn rockwell(hv: f64) -> Option<f64> {
    let turned: Vec<(f64, f64)> = tables().hardness.iter().map(|&(r, v)| (v, r)).collect();
    between(&turned, hv)
}
/// Tensile strength, N/mm², low and high, of a steel below 500 HV.
#[must_use]
pub fn strength(hv: f64) -> Option<(f64, f64)> {
    (hv < 500.0).then_some((3.2 * hv, 3.3 * hv))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::steel::find;
    use proptest::prelude::*;

    #[test]
    fn a_short_blue_hurts_less_than_an_hour_at_its_heat() {
        let s = find("silver steel").unwrap();
        let hour = hardness(s, 293.0).unwrap();
        let flash = after(s, &[(293.0, 3.0 / 60.0)], constant(s.carbon)).unwrap();
        assert!(flash > hour + 1.0 && flash < 63.0, "{flash} {hour}");
        let both = after(s, &[(420.0, 1.0), (293.0, 0.05)], 15.5).unwrap();
        assert!((both - hardness(s, 420.0).unwrap()).abs() < 0.05);
        assert!(hardness(s, 20.0).unwrap() >= 64.0);
        assert_eq!(hardness(s, 600.0), None);
    }
    proptest! {
        #[test]
        fn time_and_temperature_change_places(
            t in 100.0..600.0f64, h in 0.01..30.0f64, h2 in 0.01..30.0f64, c in 14.0..21.0f64
        ) {
            let p = parameter(t, h, c);
            let t2 = temperature(p, h2, c).unwrap();
            prop_assert!((hours(p, t2, c) / h2 - 1.0).abs() < 1e-9);
            prop_assert_eq!(t2 > t, h2 < h);
        }
        #[test]
        fn a_heat_cut_into_pieces_is_the_same_heat(
            t in 150.0..500.0f64, h in 0.01..5.0f64, n in 1..40u32, c in 14.0..21.0f64
        ) {
            let pieces: Vec<(f64, f64)> = (0..n).map(|_| (t, h / f64::from(n))).collect();
            let (a, b) = (in_turn(&[(t, h)], c).unwrap(), in_turn(&pieces, c).unwrap());
            prop_assert!((a - b).abs() < 1e-6);
            let more = in_turn(&[(t, h), (t - 40.0, 1.0)], c).unwrap();
            prop_assert!(more >= a - 1e-9, "no heat makes it harder again");
        }
        #[test]
        fn hardness_goes_there_and_back(r in 20.0..66.0f64) {
            prop_assert!((rockwell(vickers(r).unwrap()).unwrap() - r).abs() < 1e-9);
        }
        #[test]
        fn a_wanted_hardness_is_left_by_its_temperature(r in 47.5..63.0f64) {
            for s in &tables().steels {
                let t = celsius_for(s, r).unwrap();
                prop_assert!((hardness(s, t).unwrap() - r).abs() < 1e-9);
            }
        }
    }
}
