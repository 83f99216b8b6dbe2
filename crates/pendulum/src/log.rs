//! What a log of a clock says when temperature and pressure were written beside it, and what to do about it.
//!
//! Seconds ahead against days; temperature and air act through what they were all the while, so their sums over
//! time are what the line is fitted to, not their values at the moment of reading.

use crate::DAY;
use reckon::Source;
use reckon::maths;

/// The fit.
pub static FIT: Source = Source::derived(
    "least squares of seconds ahead on days and on the sums of warmth and pressure over time",
)
.with_formula("y = a + r t + k ∫(T − T̄) dt + b ∫(p − p̄) dt");
/// When to touch a clock.
pub static TOUCH: Source = Source::practice(
    "no correction below three times its error; after a touch wait two days before reading; the finest means that suffices",
);

/// One reading of a log.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct At {
    /// Days, from any beginning.
    pub days: f64,
    /// Seconds ahead of the reference.
    pub ahead: f64,
    /// By how much that may be off (s).
    pub doubt: Option<f64>,
    /// Temperature (K).
    pub temperature: Option<f64>,
    /// Pressure (Pa).
    pub pressure: Option<f64>,
}
/// What a log says.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Found {
    /// Rate at the mean temperature and pressure, s/day, + gains.
    pub rate: f64,
    /// Its standard error; nothing known from so few readings.
    pub error: Option<f64>,
    /// Scatter about the fit (s).
    pub scatter: Option<f64>,
    /// s/day per kelvin and its standard error, where it can be told.
    pub per_kelvin: Option<(f64, f64)>,
    /// s/day per hectopascal and its standard error, where it can be told.
    pub per_hectopascal: Option<(f64, f64)>,
    /// Days from the first reading to the last.
    pub days: f64,
    /// Readings.
    pub readings: usize,
}
/// Sum over time of what a reading tells, less its mean over time: none where it is not told everywhere, or hardly moves.
fn summed(all: &[At], of: fn(&At) -> Option<f64>, least: f64) -> Option<Vec<f64>> {
    let values: Vec<f64> = all.iter().map(of).collect::<Option<_>>()?;
    let (low, high) =
        values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(*v), b.max(*v)));
    if high - low < least {
        return None;
    }
    let mut sums = vec![0.0];
    for i in 1..all.len() {
        let step = f64::midpoint(values[i - 1], values[i]) * (all[i].days - all[i - 1].days);
        sums.push(sums[i - 1] + step);
    }
    let span = all.last()?.days - all.first()?.days;
    let mean = sums.last()? / span;
    Some(sums.iter().zip(all).map(|(s, a)| s - mean * (a.days - all[0].days)).collect())
}
/// Fits a log, in order of time; none below two different times.
#[must_use]
pub fn fit(log: &[At]) -> Option<Found> {
    let mut all = log.to_vec();
    all.sort_by(|a, b| a.days.total_cmp(&b.days));
    let n = all.len();
    let days = all.last()?.days - all.first()?.days;
    if n < 2 || days <= 0.0 {
        return None;
    }
    let warm = summed(&all, |a| a.temperature, 0.5);
    let air = summed(&all, |a| a.pressure, 200.0);
    let time: Vec<f64> = all.iter().map(|a| a.days - all[0].days).collect();
    let mut columns = vec![vec![1.0; n], time];
    // A column more wants two readings more, or it fits the scatter.
    let mut place = [None, None];
    for (i, extra) in [warm, air].into_iter().enumerate() {
        if let Some(c) = extra.filter(|_| n >= columns.len() + 3) {
            place[i] = Some(columns.len());
            columns.push(c);
        }
    }
    let y: Vec<f64> = all.iter().map(|a| a.ahead).collect();
    let (solution, inverse) = least_squares(&columns, &y)?;
    let free = n - columns.len();
    let left: f64 = (0..n)
        .map(|i| {
            let fitted: f64 = columns.iter().zip(&solution).map(|(c, s)| c[i] * s).sum();
            (y[i] - fitted) * (y[i] - fitted)
        })
        .sum();
    let scatter = (free > 0).then(|| (left / count(free)).sqrt());
    // A scatter below what the readings themselves may be off is luck.
    let told = all.iter().filter_map(|a| a.doubt).fold(0.0, f64::max);
    let spread = match scatter {
        Some(s) => Some(s.max(told)),
        None => (told > 0.0).then_some(told),
    };
    let error = |i: usize| spread.map(|s| s * inverse[i][i].max(0.0).sqrt());
    let slope = |p: Option<usize>, k: f64| p.and_then(|i| Some((solution[i] * k, error(i)? * k)));
    Some(Found {
        rate: solution[1],
        error: error(1),
        scatter,
        per_kelvin: slope(place[0], 1.0),
        per_hectopascal: slope(place[1], 100.0),
        days,
        readings: n,
    })
}
/// A count as a number.
fn count(n: usize) -> f64 {
    reckon::Count(i64::try_from(n).unwrap_or(i64::MAX)).n()
}
/// Least squares by normal equations, and the inverse of their matrix; none where columns are alike.
fn least_squares(columns: &[Vec<f64>], y: &[f64]) -> Option<(Vec<f64>, Vec<Vec<f64>>)> {
    let dot = |a: &Vec<f64>, b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
    let matrix: Vec<Vec<f64>> = columns.iter().map(|a| columns.iter().map(|b| dot(a, b)).collect()).collect();
    let inverse = maths::inverse_of_normal(&matrix)?;
    let right: Vec<f64> = columns.iter().map(|c| dot(c, y)).collect();
    Some((maths::times(&inverse, &right), inverse))
}
/// What a clock can be righted by.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Means {
    /// s/day for a turn of the nut.
    pub turn: Option<f64>,
    /// Divisions of the nut.
    pub divisions: Option<f64>,
    /// s/day for a gram on the tray.
    pub gram: Option<f64>,
    /// Error that is good enough (s/day).
    pub enough: f64,
}
/// What to do.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Advice {
    /// Nothing: what is seen may be scatter.
    Leave,
    /// Nothing: the rate is good enough.
    Good,
    /// Read on for so many days first.
    Wait(f64),
    /// Turns of the nut, raising the bob positive.
    Nut(f64),
    /// Grams on the tray; off it negative.
    Tray(f64),
}
/// What a log advises. Waiting comes first: a touch that is smaller than its own error only adds noise.
#[must_use]
pub fn advise(found: &Found, means: &Means) -> Advice {
    let Some(error) = found.error else { return Advice::Wait(2.0_f64.max(found.days)) };
    if found.rate.abs() <= means.enough && error <= means.enough {
        return Advice::Good;
    }
    if found.rate.abs() < 3.0 * error {
        // The error of a slope falls with the time and with the root of the readings: as t to the power 3/2.
        let wanted = (means.enough / 3.0).max(found.rate.abs() / 3.0).max(1e-6);
        let times = reckon::maths::exp(reckon::maths::ln((error / wanted).max(1.0)) * 2.0 / 3.0);
        let more = found.days * (times - 1.0);
        return if error <= means.enough || more < 0.25 { Advice::Leave } else { Advice::Wait(more) };
    }
    let tray = means.gram.filter(|g| *g > 0.0).map(|g| -found.rate / g);
    let nut = means.turn.filter(|t| *t > 0.0).map(|t| -found.rate / t);
    // The nut is touched where a whole division is due; below that a tray is finer.
    let coarse = nut.is_some_and(|n| (n * means.divisions.unwrap_or(30.0)).abs() >= 3.0);
    match (nut, tray) {
        (Some(n), _) if coarse => Advice::Nut(n),
        (_, Some(g)) => Advice::Tray(g),
        (Some(n), None) => Advice::Nut(n),
        (None, None) => Advice::Wait(DAY.min(2.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(days: f64, ahead: f64) -> At {
        At { days, ahead, doubt: None, temperature: None, pressure: None }
    }
    #[test]
    fn a_week_without_weather_is_a_straight_line() {
        let log = [(0.0, 0.0), (1.0, -0.9), (2.04, -1.9), (4.1, -3.6), (7.0, -6.3)];
        let all: Vec<At> = log.iter().map(|(d, s)| at(*d, *s)).collect();
        let (f, plain) = (fit(&all).unwrap(), crate::rating::log(&log).unwrap());
        assert!((f.rate - plain.rate).abs() < 1e-12);
        assert!((f.error.unwrap() - plain.error.unwrap()).abs() < 1e-12);
        let means = Means { turn: Some(43.46), divisions: Some(43.0), gram: Some(1.8), enough: 0.05 };
        match advise(&f, &means) {
            Advice::Tray(g) => assert!((g - 0.497).abs() < 1e-3, "{g}"),
            other => panic!("{other:?}"),
        }
    }
    #[test]
    fn scatter_is_left_alone() {
        let all: Vec<At> = [(0.0, 0.0), (1.0, 0.2), (2.0, -0.1), (3.0, 0.15), (4.0, 0.05)]
            .iter()
            .map(|(d, s)| at(*d, *s))
            .collect();
        let f = fit(&all).unwrap();
        let means = Means { turn: Some(43.46), divisions: Some(43.0), gram: Some(1.8), enough: 0.1 };
        assert!(matches!(advise(&f, &means), Advice::Leave | Advice::Good), "{f:?}");
        let two = fit(&all[..2]).unwrap();
        assert!(matches!(advise(&two, &means), Advice::Wait(_)));
        assert_eq!(fit(&all[..1]), None);
        assert_eq!(fit(&[]), None);
    }
    #[test]
    fn more_days_are_wanted_before_a_small_rate_is_believed() {
        let all: Vec<At> =
            [(0.0, 0.0), (1.0, 0.6), (2.0, -0.4), (3.0, 0.9)].iter().map(|(d, s)| at(*d, *s)).collect();
        let means = Means { turn: Some(43.46), divisions: Some(43.0), gram: Some(1.8), enough: 0.05 };
        match advise(&fit(&all).unwrap(), &means) {
            Advice::Wait(days) => assert!(days > 1.0 && days < 30.0, "{days}"),
            other => panic!("{other:?}"),
        }
    }
    proptest! {
        #[test]
        fn warmth_and_air_come_back(
            rate in -3.0..3.0_f64, k in -0.5..0.5_f64, b in -0.02..0.02_f64,
            t in prop::collection::vec((10.0..25.0_f64, 98_000.0..103_000.0_f64), 8..20),
        ) {
            // Readings a day apart of a clock that follows the mean of both between them.
            let n = t.len() as f64 - 1.0;
            let mean = |f: fn(&(f64, f64)) -> f64| {
                (1..t.len()).map(|i| f64::midpoint(f(&t[i - 1]), f(&t[i]))).sum::<f64>() / n
            };
            let (warm, air) = (mean(|x| x.0), mean(|x| x.1));
            let mut ahead = 0.0;
            let mut all = Vec::new();
            for (i, (c, p)) in t.iter().enumerate() {
                if i > 0 {
                    let (c0, p0) = t[i - 1];
                    ahead += rate + k * (f64::midpoint(c0, *c) - warm) + b * (f64::midpoint(p0, *p) - air) / 100.0;
                }
                all.push(At { temperature: Some(c + 273.15), pressure: Some(*p), ..at(i as f64, ahead) });
            }
            let f = fit(&all).unwrap();
            prop_assert!((f.rate - rate).abs() < 1e-6, "{:?}", f);
            if let Some((found, _)) = f.per_kelvin {
                prop_assert!((found - k).abs() < 1e-6);
            }
            if let Some((found, _)) = f.per_hectopascal {
                prop_assert!((found - b).abs() < 1e-6);
            }
        }
    }
}
