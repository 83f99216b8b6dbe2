//! Wheels and pinions that run out of true.

use super::flank::steps;
use super::{NoDrive, Pair, run_at};
use reckon::maths::{PI, cos, sin};

/// Positions of the slower turning wheel looked at, at most.
const PLACES: usize = 24;
/// Positions over a pitch at each.
const POSITIONS: usize = 16;

/// How far the pitch circles lie off their axes, modules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Runout {
    /// Of the driver.
    pub driver: f64,
    /// Of the driven.
    pub driven: f64,
}

/// What runout does over a turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Wobble {
    /// Turn of the wheel that runs out (0 to 2π) and error of the driven, radians: the slow wave with
    /// the error of the tooth in hand on top.
    pub series: Vec<(f64, f64)>,
    /// Slow wave alone, peak to peak, radians of the driven: 2 e/r for each.
    pub wave: f64,
    /// Whole error, peak to peak.
    pub error: f64,
    /// Largest error within one pitch.
    pub worst_pitch: f64,
    /// Least play over the turn, modules.
    pub least_backlash: f64,
    /// Least torque over the turn, by frictionless even motion.
    pub least_torque: f64,
    /// Mean efficiency over the turn.
    pub efficiency: f64,
}

/// Runs a pair over a turn of its wheel that runs out: the driven when it does, else the driver.
///
/// # Formula
/// Centres a + e cos ψ, error e/r sin ψ of the driven with r its pitch radius; when both run out, the
/// waves are taken at their worst, in step.
///
/// # Errors
/// [`NoDrive`] when somewhere in the turn the teeth do not keep touch.
pub fn runout(pair: &Pair, offset: f64, mu: f64, out: Runout) -> Result<Wobble, NoDrive> {
    let eccentric = out.driver.abs() + out.driven.abs();
    let (teeth, mate) = pair.teeth();
    let turns = if out.driven == 0.0 { teeth } else { mate };
    let places = usize::try_from(turns).unwrap_or(PLACES).min(PLACES);
    let radius = f64::from(mate) / 2.0;
    let mut w = Wobble {
        series: Vec::with_capacity(2 * places),
        wave: 2.0 * eccentric / radius,
        error: 0.0,
        worst_pitch: 0.0,
        least_backlash: f64::INFINITY,
        least_torque: f64::INFINITY,
        efficiency: 0.0,
    };
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for i in 0..places {
        let psi = 2.0 * PI * steps(i) / steps(places);
        let c = run_at(pair, offset + eccentric * cos(psi), mu, POSITIONS, true)?;
        let slow = eccentric / radius * sin(psi);
        // Over a pitch the tooth's error lies between 0 and its range.
        for part in [0.0, c.transmission_error] {
            let e = slow - part;
            w.series.push((psi, e));
            (low, high) = (low.min(e), high.max(e));
        }
        w.worst_pitch = w.worst_pitch.max(c.transmission_error);
        w.least_backlash = w.least_backlash.min(c.backlash);
        w.least_torque = w.least_torque.min(c.torque.0);
        w.efficiency += c.efficiency / steps(places);
    }
    w.error = high - low;
    Ok(w)
}
