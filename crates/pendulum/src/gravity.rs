//! How strongly the earth pulls at a place: normal gravity of an ellipsoid, with height.
//!
//! SI units: metres, radians, m/s². Normal gravity is a model; the ground under a house
//! departs from it by [`LOCAL`], so a length worked out from it only brings a clock near.

use reckon::{Source, maths};

/// Normal gravity at sea level.
pub static SOMIGLIANA: Source =
    Source::read("closed formula of normal gravity (Somigliana), constants of GRS 80 and WGS 84")
        .with_formula("γ = γe (1 + k sin²φ)/√(1 − e² sin²φ)");
/// Normal gravity at a height.
pub static HEIGHT: Source =
    Source::memory("series of normal gravity with height, geodetic reference systems")
        .with_formula("γh = γ (1 − (2/a)(1 + f + m − 2 f sin²φ) h + 3 h²/a²)");
/// The pull of the ground between a place and sea level.
pub static BOUGUER: Source =
    Source::derived("endless flat slab of rock, density 2670 kg/m³").with_formula("2π G ρ h");
/// How far the ground departs from the model.
pub static ANOMALY: Source = Source::practice("local anomalies of gravity, commonly within 50 mGal");
/// Departure of the real ground from normal gravity that must be reckoned with, in m/s².
pub const LOCAL: f64 = 50e-5;
/// Standard gravity, in m/s².
pub const STANDARD: f64 = 9.806_65;

/// Constant of gravitation (CODATA 2018), in m³/(kg s²).
const NEWTON: f64 = 6.674_30e-11;
/// Density of rock usually taken for a slab, in kg/m³.
const ROCK: f64 = 2670.0;

/// An ellipsoid that stands for the earth.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Earth {
    /// Gravity on the equator, in m/s².
    pub equator: f64,
    /// Somigliana's constant.
    pub k: f64,
    /// First eccentricity squared.
    pub e2: f64,
    /// Half the axis through the equator, in metres.
    pub a: f64,
    /// Flattening.
    pub f: f64,
    /// Centrifugal force over gravity, at the equator.
    pub m: f64,
}
/// The ellipsoid of satellite positions.
pub static WGS84: Earth = Earth {
    equator: 9.780_325_335_9,
    k: 0.001_931_852_652_41,
    e2: 0.006_694_379_990_13,
    a: 6_378_137.0,
    f: 1.0 / 298.257_223_563,
    m: 0.003_449_786_506_84,
};
/// The ellipsoid of the geodesists.
pub static GRS80: Earth = Earth {
    equator: 9.780_326_771_5,
    k: 0.001_931_851_353,
    e2: 0.006_694_380_022_90,
    a: 6_378_137.0,
    f: 1.0 / 298.257_222_101,
    m: 0.003_449_786_003_08,
};
impl Earth {
    /// Normal gravity at sea level at a geodetic latitude.
    #[must_use]
    pub fn at_sea(&self, latitude: f64) -> f64 {
        let s = maths::sin(latitude);
        self.equator * (1.0 + self.k * s * s) / (1.0 - self.e2 * s * s).sqrt()
    }
    /// Normal gravity at a height above the ellipsoid, in free air.
    #[must_use]
    pub fn at(&self, latitude: f64, height: f64) -> f64 {
        let s = maths::sin(latitude);
        let h = height / self.a;
        let less = 2.0 * (1.0 + self.f + self.m - 2.0 * self.f * s * s) * h;
        self.at_sea(latitude) * (1.0 - less + 3.0 * h * h)
    }
}
/// What the ground below a plateau of this height adds.
#[must_use]
pub fn slab(height: f64) -> f64 {
    2.0 * maths::PI * NEWTON * ROCK * height
}
/// Rate of a clock taken from gravity `from` to gravity `to`, in s/day, + gains.
#[must_use]
pub fn moved(from: f64, to: f64) -> f64 {
    // √(to/from) − 1 without losing the small difference.
    let r = (to / from).sqrt();
    crate::DAY * (to - from) / (from * (r + 1.0))
}
/// Rate that an unknown `off` in gravity stands for, in s/day.
#[must_use]
pub fn uncertain(g: f64, off: f64) -> f64 {
    crate::DAY * off / (2.0 * g)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn deg(x: f64) -> f64 {
        x * maths::PI / 180.0
    }
    #[test]
    fn normal_gravity_has_the_published_values() {
        assert!((GRS80.at_sea(deg(45.0)) - 9.806_199_202_5).abs() < 1e-9);
        assert!((WGS84.at_sea(0.0) - 9.780_325_335_9).abs() < 1e-12);
        assert!((WGS84.at_sea(deg(90.0)) - 9.832_184_937_9).abs() < 3e-9);
    }
    #[test]
    fn a_thousand_metres_cost_13_6_seconds_a_day_in_free_air_and_less_on_a_plateau() {
        let (low, high) = (WGS84.at(deg(45.0), 0.0), WGS84.at(deg(45.0), 1000.0));
        assert!((moved(low, high) + 13.591).abs() < 1e-3);
        let net = moved(low, high + slab(1000.0));
        assert!((net + 8.66).abs() < 0.05, "{net}");
    }
    #[test]
    fn the_unknown_ground_is_worth_two_seconds_a_day() {
        assert!((uncertain(9.8067, LOCAL) - 2.2).abs() < 0.01);
    }
}
