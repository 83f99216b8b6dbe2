//! The equation of time: by how much a sundial is before a clock that keeps the mean.
//!
//! Positive where the dial is ahead. Low-precision Sun: mean longitude, equation of the centre, main term
//! of nutation, obliquity. Planets are left out; within about 3 s from 1900 to 2100.

use reckon::maths::{PI, atan2, cos, sin};
use reckon::{Source, Time};

/// Low-precision Sun.
pub static EQUATION: Source = Source::memory(
    "low-precision Sun of the astronomical handbooks (mean longitude, equation of the centre, apparent longitude)",
)
.with_formula("E = L0 - 0.0057183 deg - right ascension + nutation in longitude × cos(obliquity)");

fn turned(degrees: f64) -> f64 {
    (degrees - 360.0 * (degrees / 360.0).floor()) * PI / 180.0
}
/// The equation of time at a Julian day number, in seconds: sundial less mean clock.
#[must_use]
pub fn equation(julian: f64) -> f64 {
    let t = (julian - 2_451_545.0) / 36_525.0;
    let mean_longitude = 280.466_46 + t * (36_000.769_83 + t * 0.000_303_2);
    let anomaly = turned(357.529_11 + t * (35_999.050_29 - t * 0.000_153_7));
    let centre = (1.914_602 - t * (0.004_817 + t * 0.000_014)) * sin(anomaly)
        + (0.019_993 - 0.000_101 * t) * sin(2.0 * anomaly)
        + 0.000_289 * sin(3.0 * anomaly);
    let node = turned(125.04 - 1_934.136 * t);
    let nutation = -0.004_78 * sin(node);
    let longitude = turned(mean_longitude + centre - 0.005_69 + nutation);
    let mean_obliquity = 23.439_291_1 - t * (0.013_004_2 + t * (0.000_000_16 - t * 0.000_000_504));
    let obliquity = turned(mean_obliquity + 0.002_56 * cos(node));
    let ascension = atan2(cos(obliquity) * sin(longitude), cos(longitude));
    let mut angle = turned(mean_longitude - 0.005_718_3 + nutation * cos(obliquity)) - ascension;
    // The difference is a few degrees; whole turns between the two are of no account.
    angle -= 2.0 * PI * (angle / (2.0 * PI)).round();
    angle * 43_200.0 / PI
}

/// A day of the year with its equation of time at noon of the mean clock.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Day {
    /// Month, from 1.
    pub month: u32,
    /// Day of the month, from 1.
    pub day: u32,
    /// Sundial less clock.
    pub equation: Time,
}
const fn leap(year: i64) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}
/// Days of a month in the calendar used now; 0 for no month.
#[must_use]
pub const fn days_in(year: i64, month: u32) -> u32 {
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap(year) => 29,
        2 => 28,
        _ => 0,
    }
}
/// Julian day number of noon on the first of January, in the calendar used now.
pub(super) fn new_year(year: i64) -> f64 {
    let y = year - 1;
    let days = 365 * y + y.div_euclid(4) - y.div_euclid(100) + y.div_euclid(400);
    #[expect(clippy::cast_precision_loss, reason = "a few million days")]
    let days = days as f64;
    1_721_426.0 + days
}
/// Every day of a year.
#[must_use]
pub fn year_table(year: i64) -> Vec<Day> {
    let mut out = Vec::with_capacity(366);
    let mut julian = new_year(year);
    for month in 1..=12 {
        for day in 1..=days_in(year, month) {
            out.push(Day { month, day, equation: Time::si(equation(julian)) });
            julian += 1.0;
        }
    }
    out
}

/// Turning points and noughts of the equation of time in a year, each with days since noon of the first of January.
#[derive(Clone, PartialEq, Debug)]
pub struct Extremes {
    /// Where it turns: days, seconds.
    pub turns: Vec<(f64, f64)>,
    /// Where clock and dial agree.
    pub noughts: Vec<f64>,
}
/// Turning points and noughts in a year.
#[must_use]
pub fn extremes(year: i64) -> Extremes {
    let start = new_year(year);
    let at = |d: f64| equation(start + d);
    let slope = |d: f64| at(d + 0.25) - at(d - 0.25);
    let halve = |f: &dyn Fn(f64) -> f64, mut low: f64, mut high: f64| {
        let below = f(low) < 0.0;
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if (f(middle) < 0.0) == below {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    };
    let days = if leap(year) { 366 } else { 365 };
    let mut found = Extremes { turns: Vec::new(), noughts: Vec::new() };
    for d in 0..days {
        let (low, high) = (f64::from(d), f64::from(d) + 1.0);
        if (slope(low) < 0.0) != (slope(high) < 0.0) {
            let turn = halve(&slope, low, high);
            found.turns.push((turn, at(turn)));
        }
        if (at(low) < 0.0) != (at(high) < 0.0) {
            found.noughts.push(halve(&at, low, high));
        }
    }
    found
}
