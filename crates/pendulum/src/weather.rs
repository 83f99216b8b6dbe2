//! The rate through a day and through a year, from the warmth of the room and the weight of the air.
//!
//! SI units; rates in s/day, + gains; errors of the hands in seconds, + fast.
//!
//! The room's warmth goes up and down evenly, once a day and once a year. The barometer has a tide of half a day,
//! and weather, of which only the scatter is known.

use crate::air;
use reckon::{Source, maths};

/// How rate follows room and air.
pub static RATE: Source =
    Source::derived("slope with warmth by the lagging warmth of the rod, and the air's density at each hour")
        .with_formula("R = R' a cos(2π t/T − φ)/√(1 + (2π τ/T)²), tan φ = 2π τ/T, and the air's own rate");
/// How far the hands get off.
pub static HANDS: Source = Source::derived("the rate summed over time, from its mean").with_formula("∫ R dt");
/// Lag of a rod.
pub static LAG: Source =
    Source::derived("a round rod that air warms from outside").with_formula("τ = c d/(4 h)");
/// The tide of the air.
pub static TIDE: Source = Source::memory("the half-daily tide of the air's pressure, at sea level")
    .with_formula("1.16 hPa cos³ latitude, highest a little before 10 and 22 o'clock");
/// What irregular weather does to the hands.
pub static WANDER: Source = Source::derived("sum of a rate that forgets itself exponentially")
    .with_formula("s √(2 τ (T − τ (1 − e^(−T/τ))))");

/// Seconds of a year.
pub const YEAR: f64 = 365.25 * crate::DAY;
/// The hour at which a room is warmest.
pub const WARMEST: f64 = 16.0;
/// The hour at which the tide of the air is high, and twelve hours from it.
pub const HIGH: f64 = 9.7;

/// The room and its air.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Room {
    /// Mean temperature, in kelvins.
    pub temperature: f64,
    /// Mean pressure, in pascals.
    pub pressure: f64,
    /// Humidity, as a part of one.
    pub humidity: f64,
    /// From the mean of a day to its warmest, in kelvins.
    pub day: f64,
    /// From the mean of a year to its warmest, in kelvins.
    pub year: f64,
    /// Half the swing of the tide of the air, in pascals.
    pub tide: f64,
}
/// What the pendulum does with it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Follows {
    /// Slope of the rate with its own warmth.
    pub per_kelvin: f64,
    /// How far the rod lags behind the room, in seconds.
    pub lag: f64,
    /// Density of the bob.
    pub bob: f64,
    /// Share of air that swings along.
    pub along: f64,
}
/// A moment.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct At {
    /// Time of the day, or after the warmest of the year.
    pub time: f64,
    /// Room over its mean, in kelvins.
    pub warmer: f64,
    /// Pressure over its mean, in pascals.
    pub heavier: f64,
    /// Rate by the warmth of rod, bob and strip.
    pub by_warmth: f64,
    /// Rate by the air, against its mean.
    pub by_air: f64,
    /// How far the hands are off, against their mean.
    pub hands: f64,
}
impl At {
    /// The whole rate.
    #[must_use]
    pub fn rate(&self) -> f64 {
        self.by_warmth + self.by_air
    }
}
/// Half the swing of the tide of the air at a latitude in radians, in pascals.
#[must_use]
pub fn tide(latitude: f64) -> f64 {
    let c = maths::cos(latitude).abs();
    116.0 * c * c * c
}
/// How far a round rod lags behind the air: its diameter, the heat that a cubic metre of it holds for each kelvin,
/// and what a square metre takes from the air for each kelvin.
#[must_use]
pub fn lag(diameter: f64, heat: f64, from_air: f64) -> f64 {
    heat * diameter / (4.0 * from_air)
}
/// What is left of an even swing of the room in a thing that lags, and by what angle it comes later.
#[must_use]
pub fn lagged(lag: f64, period: f64) -> (f64, f64) {
    let w = 2.0 * maths::PI * lag / period;
    (1.0 / (1.0 + w * w).sqrt(), maths::atan2(w, 1.0))
}
/// A day, at `count` even steps from midnight to midnight.
#[must_use]
pub fn day(room: &Room, f: &Follows, count: u32) -> Vec<At> {
    let hour = 3600.0;
    through(room, f, (crate::DAY, room.day, WARMEST * hour), (room.tide, HIGH * hour), count)
}
/// A year, at `count` even steps from its warmest time.
#[must_use]
pub fn year(room: &Room, f: &Follows, count: u32) -> Vec<At> {
    through(room, f, (YEAR, room.year, 0.0), (0.0, 0.0), count)
}
fn through(
    room: &Room,
    f: &Follows,
    (period, swing, warmest): (f64, f64, f64),
    (tide, high): (f64, f64),
    count: u32,
) -> Vec<At> {
    let turn = 2.0 * maths::PI;
    let (left, late) = lagged(f.lag, period);
    let air = |warmer: f64, heavier: f64| {
        air::rate(
            air::density(room.pressure + heavier, room.temperature + warmer, room.humidity),
            f.bob,
            f.along,
        )
    };
    let still = air(0.0, 0.0);
    let moment = |time: f64| {
        let phase = turn * (time - warmest) / period;
        let warmer = swing * maths::cos(phase);
        let heavier = tide * maths::cos(2.0 * turn * (time - high) / period);
        let by_warmth = f.per_kelvin * swing * left * maths::cos(phase - late);
        At { time, warmer, heavier, by_warmth, by_air: air(warmer, heavier) - still, hands: 0.0 }
    };
    let step = period / f64::from(count);
    let mut all: Vec<At> = (0..=count).map(|i| moment(step * f64::from(i))).collect();
    // The hands: rate less its mean, summed by Simpson's rule with the moment between, then less their own mean.
    let between: Vec<f64> = (0..count).map(|i| moment(step * (f64::from(i) + 0.5)).rate()).collect();
    let ends: Vec<f64> = all.iter().map(At::rate).collect();
    let sums: Vec<f64> = between
        .iter()
        .enumerate()
        .map(|(i, m)| step / crate::DAY * (ends[i] + 4.0 * m + ends[i + 1]) / 6.0)
        .collect();
    let mean = sums.iter().sum::<f64>() / f64::from(count);
    let mut so_far = 0.0;
    for (i, at) in all.iter_mut().enumerate() {
        at.hands = so_far;
        so_far += sums.get(i).map_or(0.0, |s| s - mean);
    }
    let middle = all[1..].iter().map(|a| a.hands).sum::<f64>() / f64::from(count);
    all.iter_mut().for_each(|a| a.hands -= middle);
    all
}
/// From the least to the greatest of something.
#[must_use]
pub fn range(all: &[At], what: impl Fn(&At) -> f64) -> (f64, f64) {
    all.iter().map(what).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), x| (lo.min(x), hi.max(x)))
}
/// How far irregular weather brings the hands off, as a standard deviation in seconds: the scatter of the rate
/// (s/day), the time over which weather forgets itself and the time gone (s).
#[must_use]
pub fn wander(scatter: f64, forgets: f64, gone: f64) -> f64 {
    let left = gone - forgets * (1.0 - maths::exp(-gone / forgets));
    scatter / crate::DAY * (2.0 * forgets * left.max(0.0)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::DAY;

    const ROOM: Room =
        Room { temperature: 293.15, pressure: 101_325.0, humidity: 0.5, day: 2.0, year: 4.0, tide: 60.0 };
    const STEEL: Follows = Follows { per_kelvin: -0.4968, lag: 1000.0, bob: 8470.0, along: 1.0 };
    /// A bob so heavy that air does nothing.
    const NO_AIR: Follows = Follows { bob: 1e12, ..STEEL };

    #[test]
    fn rod_follows_as_a_first_order_lag() {
        let all = day(&ROOM, &NO_AIR, 24 * 60);
        let w = 2.0 * maths::PI * 1000.0 / DAY;
        let want = 0.4968 * 2.0 / (1.0 + w * w).sqrt();
        let (lo, hi) = range(&all, |a| a.by_warmth);
        assert!((hi / want - 1.0).abs() < 1e-5 && (lo / want + 1.0).abs() < 1e-5, "{lo} {hi} {want}");
        // Loses most after the warmest hour, by the lag's angle.
        let worst = all.iter().min_by(|a, b| a.by_warmth.total_cmp(&b.by_warmth)).map(|a| a.time);
        let late = maths::atan2(w, 1.0) / (2.0 * maths::PI) * DAY;
        assert!((worst.expect("a day") - (16.0 * 3600.0 + late)).abs() < 61.0);
    }
    #[test]
    fn hands_are_the_rate_summed() {
        // ∫ R cos(2π t/T) dt has the amplitude R T/(2π): a steel rod in a room of ±4 K is 115.5 s off in a year.
        let all = year(&ROOM, &Follows { lag: 0.0, ..NO_AIR }, 365);
        let want = 0.4968 * 4.0 * 365.25 / (2.0 * maths::PI);
        assert!((want - 115.52).abs() < 0.01);
        let (lo, hi) = range(&all, |a| a.hands);
        assert!((hi / want - 1.0).abs() < 1e-4 && (lo / want + 1.0).abs() < 1e-4, "{lo} {hi} {want}");
        assert!((all[0].hands - all[365].hands).abs() < 1e-9);
    }
    #[test]
    fn air_of_a_day_is_its_slopes() {
        // Slopes with pressure and warmth, each by itself, of the same air.
        let still = Follows { per_kelvin: 0.0, ..STEEL };
        let all = day(&Room { day: 0.0, ..ROOM }, &still, 240);
        let (lo, hi) = range(&all, |a| a.by_air);
        let want = air::per_pascal(293.15, 8470.0, 1.0).abs() * 60.0;
        assert!((hi / want - 1.0).abs() < 2e-3 && (lo / want + 1.0).abs() < 2e-3, "{lo} {hi} {want}");
        let warm = day(&Room { tide: 0.0, ..ROOM }, &still, 240);
        assert!(warm[160].by_air > 0.0, "warm air is thin: the clock gains");
    }
    #[test]
    fn lag_of_rods() {
        // 8 mm of metal that holds 3.6 MJ in a cubic metre for each kelvin, 8 W/(m² K): a quarter of an hour.
        assert!((lag(0.008, 3.6e6, 8.0) - 900.0).abs() < 1e-9);
        let (left, late) = lagged(DAY / (2.0 * maths::PI), DAY);
        assert!((left - 0.5_f64.sqrt()).abs() < 1e-12 && (late - maths::PI / 4.0).abs() < 1e-12);
    }
    #[test]
    fn tide_is_highest_at_the_equator() {
        assert!((tide(0.0) - 116.0).abs() < 1e-12);
        assert!((tide(1.0) - 116.0 * maths::pow(maths::cos(1.0), 3.0)).abs() < 1e-9);
        assert!((tide(-1.0) - tide(1.0)).abs() < 1e-12);
    }
    #[test]
    fn weather_wanders_as_a_root_of_time() {
        // Long after: s √(2 τ T). At once: s T.
        let (s, tau) = (0.1, 3.0 * DAY);
        let long = wander(s, tau, 1e4 * DAY);
        assert!((long / (s * (2.0 * 3.0 * 1e4_f64).sqrt()) - 1.0).abs() < 2e-4, "{long}");
        let soon = wander(s, tau, 60.0);
        assert!((soon / (s * 60.0 / DAY) - 1.0).abs() < 1e-3, "{soon}");
    }
}
