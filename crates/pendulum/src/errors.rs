//! All that moves the rate, in one table to act on.
//!
//! SI units; rates in s/day, + gains.

use crate::impulse::Push;
use crate::{DAY, air, swing, warmth};
use reckon::Source;

/// The table.
pub static TABLE: Source =
    Source::derived("slope of the rate with each cause, one at a time, at the state given");
/// How much each cause changes in a house.
pub static HOUSE: Source = Source::practice(
    "changes in a lived-in room: 5 K, 20 hPa, 0.1° of arc, a tenth of the drive, 50 mGal before it is rated",
);

/// A clock's pendulum as the table wants it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct State {
    /// Effective length.
    pub length: f64,
    /// Gravity.
    pub g: f64,
    /// Semi-arc.
    pub arc: f64,
    /// Q.
    pub quality: f64,
    /// Mass that swings.
    pub mass: f64,
    /// Slope of the rate with warmth of the whole pendulum, in s/day per kelvin.
    pub per_kelvin: f64,
    /// Density of the bob.
    pub bob: f64,
    /// Share of air that swings along.
    pub along: f64,
    /// Pressure of the air, in pascals.
    pub pressure: f64,
    /// Warmth of the air, in kelvins.
    pub temperature: f64,
    /// Humidity, as a part of one.
    pub humidity: f64,
    /// Dead-beat push, if it is one.
    pub push: Option<Push>,
    /// Pitch of the rating nut.
    pub pitch: f64,
}
/// A line of the table.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// What changes.
    pub cause: &'static str,
    /// The unit it changes by.
    pub unit: &'static str,
    /// Rate for that unit.
    pub per_unit: f64,
    /// How many units it changes in a house.
    pub typical: f64,
    /// Rate of that change.
    pub rate: f64,
}
/// The table, the worst cause first; the nut and the tray, by which one acts, at the end.
#[must_use]
pub fn table(s: &State) -> Vec<Row> {
    let row = |cause, unit, per_unit: f64, typical: f64| Row {
        cause,
        unit,
        per_unit,
        typical,
        rate: per_unit * typical,
    };
    let degree = reckon::maths::PI / 180.0;
    let density = air::density(s.pressure, s.temperature, s.humidity);
    // Warm air is thinner: it takes part of the loss of a rod back, and belongs to the air.
    let thinner = {
        let warm = air::density(s.pressure, s.temperature + 0.5, s.humidity);
        let cold = air::density(s.pressure, s.temperature - 0.5, s.humidity);
        air::rate(warm, s.bob, s.along) - air::rate(cold, s.bob, s.along)
    };
    let mut rows = vec![
        row("warmth, rod bob and strip", "K", s.per_kelvin, 5.0),
        row("warmth, through the air's density", "K", thinner, 5.0),
        row("barometer", "hPa", air::per_pascal_of(density, s.pressure, s.bob, s.along) * 100.0, 20.0),
        row("arc, circular error", "0.1° of semi-arc", swing::circular_slope(s.arc) * degree / 10.0, 1.0),
        row("gravity unknown before rating", "10 mGal", crate::gravity::uncertain(s.g, 1e-4), 5.0),
    ];
    if let Some(per) = s.push.and_then(|p| p.per_drive(s.arc, s.quality)) {
        rows.push(row("drive, arc and push together", "1 % of torque", per / 100.0, 10.0));
        // The push's own part, by friction of the pendulum: −R/Q for each part that Q falls, arc kept.
        if let Some(own) = s.push.and_then(|p| p.rate(s.arc, s.quality)) {
            rows.push(row("escapement, more friction at the same arc", "1 % of 1/Q", own / 100.0, 10.0));
        }
    } else {
        // Arc goes with the root of the drive.
        let per = swing::circular_slope(s.arc) * s.arc / 2.0 / 100.0;
        rows.push(row("drive, through the arc alone", "1 % of torque", per, 10.0));
    }
    rows.sort_by(|a, b| b.rate.abs().total_cmp(&a.rate.abs()));
    let turn = crate::rating::per_turn(s.pitch, s.length);
    rows.push(row("to act: rating nut, bob up", "turn", turn, 1.0 / turn.abs()));
    let gram = crate::rating::tray(1e-3, s.length / 2.0, s.mass, s.length);
    rows.push(row("to act: weight on the rod's middle", "g", gram, 1.0));
    rows
}
/// The slope with warmth to put in when only the rod is known.
#[must_use]
pub fn rod_only(expansion: f64) -> f64 {
    warmth::plain(expansion)
}
/// Rate as a part of one.
#[must_use]
pub fn share(rate: f64) -> f64 {
    rate / DAY
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_regulator_with_a_steel_rod_is_worst_in_warmth() {
        let degree = reckon::maths::PI / 180.0;
        let s = State {
            length: 0.994,
            g: 9.81,
            arc: 2.0 * degree,
            quality: 1e4,
            mass: 6.0,
            per_kelvin: rod_only(11.5e-6),
            bob: 8470.0,
            along: 1.0,
            pressure: 101_325.0,
            temperature: 293.15,
            humidity: 0.5,
            push: Some(Push { before: 0.75 * degree, after: 1.25 * degree }),
            pitch: 0.001,
        };
        let rows = table(&s);
        assert_eq!(rows[0].cause, "warmth, rod bob and strip");
        assert!((rows[0].rate + 2.484).abs() < 1e-9);
        let find = |c: &str| rows.iter().find(|r| r.cause.starts_with(c)).unwrap();
        assert!((find("arc").per_unit + 0.658).abs() < 1e-3);
        assert!((find("to act: rating").rate - 1.0).abs() < 1e-12);
        assert!(find("warmth, through").per_unit > 0.0);
        // dR = (−10800 A + 86400 lock/(4QA²)) dA, dA = A/200 for a hundredth: the exact push is a little more.
        let (a, lock) = (s.arc, 0.5 * degree);
        let rule = (-10800.0 * a + 86400.0 * lock / (4.0 * 1e4 * a * a)) * a / 200.0;
        assert!((find("drive").per_unit / rule - 1.0).abs() < 0.15);
        let none = State { push: None, ..s };
        assert!(
            (table(&none).iter().find(|r| r.cause.starts_with("drive")).unwrap().per_unit
                + 10800.0 * a * a / 200.0)
                .abs()
                < 1e-3
        );
    }
}
