//! Warming and cooling of small parts as one lump. SI throughout; temperatures in °C or kelvins alike, but
//! [`radiation`] wants kelvins.

use reckon::Source;
use reckon::maths::{PI, exp, ln};

/// A lump in surroundings of one temperature.
pub static LUMP: Source = Source {
    cite: "a lump in surroundings of one temperature; holds for a Biot number below 0.1",
    mark: reckon::Mark::Derived,
    formula: Some("τ = ρ c (V/A)/h; t = τ ln((F - T0)/(F - T)); Bi = h (V/A)/k"),
};
/// Heat that passes by radiation.
pub static RADIATION: Source = Source::derived("Stefan and Boltzmann: h = ε σ (T1 + T2)(T1² + T2²)");
/// Films of heat of trays and baths.
pub static TRAYS: Source = Source {
    cite: "estimates of the trade; calibrate by stop-watch: warm a dummy to blue once and solve for h",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
/// Stefan–Boltzmann constant, W/(m² K⁴), exact in the SI since 2019.
pub const STEFAN: f64 = 5.670_374_419e-8;

/// Simple forms: volume over area that takes the heat.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Form {
    /// A long rod: a quarter of its diameter.
    Rod(f64),
    /// A cylinder with both ends: diameter, length.
    Cylinder(f64, f64),
    /// A ball: a sixth of its diameter.
    Ball(f64),
    /// A plate or strip: half its thickness.
    Plate(f64),
    /// Any solid: volume, area.
    Solid(f64, f64),
}
impl Form {
    /// Volume over area.
    #[must_use]
    pub fn lump(self) -> f64 {
        match self {
            Form::Rod(d) => d / 4.0,
            Form::Cylinder(d, l) => d * l / (4.0 * l + 2.0 * d),
            Form::Ball(d) => d / 6.0,
            Form::Plate(t) => t / 2.0,
            Form::Solid(v, a) => v / a,
        }
    }
}
/// A stepped solid of revolution from its lengths and diameters, ends and steps counted.
#[must_use]
pub fn stepped(steps: &[(f64, f64)]) -> Option<Form> {
    if steps.is_empty() || steps.iter().any(|&(l, d)| l <= 0.0 || d <= 0.0) {
        return None;
    }
    let volume: f64 = steps.iter().map(|(l, d)| PI * d * d / 4.0 * l).sum();
    let round: f64 = steps.iter().map(|(l, d)| PI * d * l).sum();
    let mut last = 0.0;
    let mut faces = 0.0;
    for &(_, d) in steps {
        faces += PI / 4.0 * (d * d - last * last).abs();
        last = d;
    }
    Some(Form::Solid(volume, round + faces + PI / 4.0 * last * last))
}
/// Time constant.
#[must_use]
pub fn tau(density: f64, heat: f64, lump: f64, h: f64) -> f64 {
    density * heat * lump / h
}
/// Biot number.
#[must_use]
pub fn biot(h: f64, lump: f64, k: f64) -> f64 {
    h * lump / k
}
/// Time to pass from one temperature to another in surroundings of a third; none where it is never reached.
#[must_use]
pub fn time(tau: f64, around: f64, from: f64, to: f64) -> Option<f64> {
    let ratio = (around - from) / (around - to);
    (ratio.is_finite() && ratio >= 1.0).then(|| tau * ln(ratio))
}
/// Temperature after a time.
#[must_use]
pub fn reached(tau: f64, around: f64, from: f64, time: f64) -> f64 {
    around - (around - from) * exp(-time / tau)
}
/// Rise of temperature in a second.
#[must_use]
pub fn rate(tau: f64, around: f64, now: f64) -> f64 {
    (around - now) / tau
}
/// Film of heat by radiation between kelvins.
#[must_use]
pub fn radiation(emissivity: f64, a: f64, b: f64) -> f64 {
    emissivity * STEFAN * (a + b) * (a * a + b * b)
}
/// Trays and baths: name, W/(m² K) low, likely, high.
pub static PLACES: [(&str, [f64; 3]); 7] = [
    ("hot plate", [15.0, 22.0, 30.0]),
    ("brass filings", [60.0, 80.0, 150.0]),
    ("sand", [40.0, 60.0, 80.0]),
    ("oil bath", [200.0, 300.0, 400.0]),
    ("muffle", [60.0, 100.0, 150.0]),
    ("flame", [80.0, 130.0, 200.0]),
    ("still air", [8.0, 12.0, 20.0]),
];
/// Mean heat of steel from 20 °C to a tempering heat, J/(kg K).
pub const STEEL_HEAT: f64 = 500.0;
/// Most that lumps of one tray may differ: their colours come at moments that differ as much.
pub const SAME: f64 = 1.1;

/// Whether pieces may share a tray, and the ratio of the largest lump to the least.
#[must_use]
pub fn share_tray(lumps: &[f64]) -> Option<(bool, f64)> {
    let low = lumps.iter().copied().fold(f64::INFINITY, f64::min);
    let high = lumps.iter().copied().fold(0.0, f64::max);
    (low > 0.0 && low.is_finite()).then(|| (high / low <= SAME, high / low))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_stepped_rod_of_one_step_is_a_cylinder() {
        let a = stepped(&[(10.0, 3.0)]).unwrap().lump();
        assert!((a - Form::Cylinder(3.0, 10.0).lump()).abs() < 1e-12);
        let b = stepped(&[(5.0, 3.0), (5.0, 3.0)]).unwrap().lump();
        assert!((a - b).abs() < 1e-12);
        let screw = stepped(&[(2.0, 5.0), (8.0, 2.5)]).unwrap().lump();
        assert!(screw > Form::Cylinder(2.5, 10.0).lump() && screw < Form::Cylinder(5.0, 10.0).lump());
        assert_eq!(stepped(&[]), None);
    }
    #[test]
    fn mixed_sizes_do_not_share() {
        assert!(!share_tray(&[0.5, 1.0]).unwrap().0);
        assert!(share_tray(&[0.5, 0.52]).unwrap().0);
        assert_eq!(share_tray(&[]), None);
    }
    proptest! {
        #[test]
        fn time_brings_where_it_says(
            tau in 1.0..500.0f64, around in 300.0..900.0f64, share in 0.01..0.99f64
        ) {
            let to = 20.0 + share * (around - 20.0);
            let t = time(tau, around, 20.0, to).unwrap();
            prop_assert!((reached(tau, around, 20.0, t) - to).abs() < 1e-6);
            prop_assert_eq!(time(tau, around, 20.0, around + 5.0), None);
        }
    }
}
