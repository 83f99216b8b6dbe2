//! What the air does: it bears part of the bob and some of it swings along.
//!
//! SI units: pascals, kelvins, kg/m³; rates in s/day, + gains.

use reckon::{Source, maths};

/// Density of air.
pub static DENSITY: Source = Source::memory("OIML R 111-1, simplified formula of the density of air")
    .with_formula("ρ = (0.34848 p − 0.009 RH e^(0.061 t))/(273.15 + t), p in hPa, RH in %, t in °C");
/// Rate in air.
pub static AIR: Source = Source::derived("bob borne by the air, and air that swings with it")
    .with_formula("−43200 (1 + k) ρair/ρbob");
/// How much air swings along.
pub static ALONG: Source = Source::derived(
    "flow without friction: half its own volume for a ball, all of it for a cylinder moving broadside",
);

/// Density of moist air: pressure in pascals, temperature in kelvins, humidity as a part of one.
#[must_use]
pub fn density(pressure: f64, temperature: f64, humidity: f64) -> f64 {
    let t = temperature - 273.15;
    (0.348_48 * pressure / 100.0 - 0.9 * humidity * maths::exp(0.061 * t)) / temperature
}
/// Rate in air against none, in s/day. `along` is the share of its own volume of air that swings with the bob.
#[must_use]
pub fn rate(air: f64, bob: f64, along: f64) -> f64 {
    // Period goes with √((1 + kρ)/(1 − ρ)).
    let r = air / bob;
    crate::DAY * (((1.0 - r) / (1.0 + along * r)).sqrt() - 1.0)
}
/// Slope with pressure, in s/day per pascal, at a pressure, temperature and humidity.
#[must_use]
pub fn per_pascal(temperature: f64, bob: f64, along: f64) -> f64 {
    -crate::DAY / 2.0 * (1.0 + along) * 0.003_484_8 / temperature / bob
}
/// The simple slope: density over pressure as a whole.
#[must_use]
pub fn per_pascal_of(air: f64, pressure: f64, bob: f64, along: f64) -> f64 {
    -crate::DAY / 2.0 * (1.0 + along) * air / pressure / bob
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_of_a_room() {
        assert!((density(101_325.0, 293.15, 0.5) - 1.199_29).abs() < 5e-6);
    }
    #[test]
    fn an_inch_of_mercury() {
        let air = density(101_325.0, 293.15, 0.5);
        let inch = 3386.39;
        assert!((per_pascal_of(air, 101_325.0, 11_340.0, 0.0) * inch + 0.1534).abs() < 1e-3);
        assert!((per_pascal_of(air, 101_325.0, 8470.0, 1.0) * inch + 0.4106).abs() < 2e-3);
        // Moisture does not follow the barometer: the true slope is a little larger than the whole over the pressure.
        let by_steps = (rate(density(101_425.0, 293.15, 0.5), 8470.0, 1.0)
            - rate(density(101_225.0, 293.15, 0.5), 8470.0, 1.0))
            / 200.0;
        assert!((per_pascal(293.15, 8470.0, 1.0) / by_steps - 1.0).abs() < 1e-3);
    }
}
