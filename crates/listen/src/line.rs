//! The straight line through the times of beats: t = α + β k + γ (-1)^k, an α for each run.
//!
//! Least squares; what lies beyond four robust deviations is left out and the line drawn again. The error
//! of β takes into account that neighbouring residuals go together (a pendulum that wanders, wheels).

use crate::beat::middle;
use crate::matched::Tick;
use reckon::maths;

/// A line that was drawn.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// Mean beat β, s.
    pub beat: f64,
    /// Its standard error.
    pub beat_error: f64,
    /// γ, s: half the beat error.
    pub gamma: f64,
    /// Its standard error.
    pub gamma_error: f64,
    /// Standard deviation of single beats about the line, s.
    pub scatter: f64,
    /// Beats that the line rests on.
    pub used: usize,
    /// Beats too far off, left out.
    pub off: usize,
    /// Residual of each beat that was heard, s, without the periodic terms; NaN where its run is too short.
    pub residuals: Vec<f64>,
    /// Change of rate, s/day in an hour, and its standard error, where the longest run allows.
    pub drift: Option<(f64, f64)>,
    /// How much faster ticks go than tocks, s/day, and its standard error: one pendulum makes both, so nothing.
    pub apart: Option<(f64, f64)>,
}
/// The quantile of 95 in 100, both sides, of Student's distribution, by its expansion for many degrees.
#[must_use]
pub fn student(degrees: f64) -> f64 {
    let n = degrees.max(1.0);
    1.959_964 + 2.372_27 / n + 2.822_5 / (n * n) + 2.556 / (n * n * n) + 1.592 / (n * n * n * n)
}
/// A regression with columns that have no mean within any run.
struct Fitted {
    by: Vec<f64>,
    errors: Vec<f64>,
    scatter: f64,
    kept: Vec<bool>,
    residuals: Vec<f64>,
}
/// Takes the mean of each run out of a column, over those kept.
fn centred(column: &mut [f64], runs: &[usize], kept: &[bool]) {
    let most = runs.iter().copied().max().unwrap_or(0);
    let (mut sum, mut count) = (vec![0.0; most + 1], vec![0.0_f64; most + 1]);
    for ((v, r), k) in column.iter().zip(runs).zip(kept) {
        if *k {
            sum[*r] += v;
            count[*r] += 1.0;
        }
    }
    for (v, r) in column.iter_mut().zip(runs) {
        *v -= if count[*r] > 0.0 { sum[*r] / count[*r] } else { 0.0 };
    }
}
fn regress(columns: &[Vec<f64>], y: &[f64], runs: &[usize]) -> Option<Fitted> {
    let n = y.len();
    let mut kept = vec![true; n];
    let mut last = None;
    for _ in 0..12 {
        let mut x = columns.to_vec();
        let mut t = y.to_vec();
        for c in &mut x {
            centred(c, runs, &kept);
        }
        centred(&mut t, runs, &kept);
        let among = |a: &[f64], b: &[f64]| -> f64 { (0..n).filter(|i| kept[*i]).map(|i| a[i] * b[i]).sum() };
        let m: Vec<Vec<f64>> = x.iter().map(|a| x.iter().map(|b| among(a, b)).collect()).collect();
        let inv = maths::inverse_of_normal(&m)?;
        let right: Vec<f64> = x.iter().map(|a| among(a, &t)).collect();
        let by = maths::times(&inv, &right);
        let residuals: Vec<f64> =
            (0..n).map(|i| t[i] - x.iter().zip(&by).map(|(c, b)| c[i] * b).sum::<f64>()).collect();
        let alive: Vec<usize> = (0..n).filter(|i| kept[*i]).collect();
        let mut used_runs: Vec<usize> = alive.iter().map(|i| runs[*i]).collect();
        used_runs.sort_unstable();
        used_runs.dedup();
        let free = alive.len() as f64 - (x.len() + used_runs.len()) as f64;
        if free < 1.0 {
            return None;
        }
        let square: f64 = alive.iter().map(|i| residuals[*i] * residuals[*i]).sum();
        let scatter = (square / free).sqrt();
        // Influence of each beat on each answer, summed over neighbours that go together.
        let reach = (alive.len() / 12).clamp(1, 200);
        let errors = inv
            .iter()
            .enumerate()
            .map(|(j, row)| {
                let plain = scatter * inv[j][j].max(0.0).sqrt();
                let psi: Vec<f64> = alive
                    .iter()
                    .map(|i| row.iter().zip(&x).map(|(a, c)| a * c[*i]).sum::<f64>() * residuals[*i])
                    .collect();
                let mut sum: f64 = psi.iter().map(|p| p * p).sum();
                for lag in 1..=reach.min(psi.len() - 1) {
                    let w = 1.0 - lag as f64 / (reach + 1) as f64;
                    sum += 2.0 * w * psi.iter().zip(&psi[lag..]).map(|(a, b)| a * b).sum::<f64>();
                }
                let together = (sum.max(0.0) * alive.len() as f64 / free).sqrt();
                plain.max(together)
            })
            .collect();
        let robust = 1.4826 * middle(alive.iter().map(|i| residuals[*i].abs()));
        let limit = (4.0 * robust).max(1e-7);
        let next: Vec<bool> = residuals.iter().map(|r| r.abs() <= limit).collect();
        let same = next == kept;
        last = Some(Fitted { by, errors, scatter, kept: kept.clone(), residuals });
        if same || next.iter().filter(|k| **k).count() * 2 < n {
            break;
        }
        kept = next;
    }
    last
}
/// Draws the line through the beats that were heard; `periods` are terms drawn with it, s.
#[must_use]
pub fn draw(ticks: &[&Tick], periods: &[f64]) -> Option<Line> {
    if ticks.len() < 6 {
        return None;
    }
    let runs: Vec<usize> = ticks.iter().map(|t| t.run).collect();
    let y: Vec<f64> = ticks.iter().map(|t| t.time).collect();
    let mut columns = vec![
        ticks.iter().map(|t| t.k as f64).collect(),
        ticks.iter().map(|t| sign(t.k)).collect::<Vec<f64>>(),
    ];
    for p in periods {
        let (c, s) = y.iter().map(|t| crate::periods::turn(*t, *p)).unzip();
        columns.push(c);
        columns.push(s);
    }
    let fitted = regress(&columns, &y, &runs)?;
    let (beat, gamma) = (fitted.by[0], fitted.by[1]);
    if !(beat.is_finite() && gamma.is_finite() && beat > 0.0) {
        return None;
    }
    // Residuals with the periodic part still in them, for whoever looks for it.
    let mut residuals: Vec<f64> =
        (0..y.len()).map(|i| y[i] - beat * columns[0][i] - gamma * columns[1][i]).collect();
    centred(&mut residuals, &runs, &fitted.kept);
    let used = fitted.kept.iter().filter(|k| **k).count();
    let further = further(ticks, &columns, &y, &fitted);
    Some(Line {
        beat,
        beat_error: fitted.errors[0],
        gamma,
        gamma_error: fitted.errors[1],
        scatter: fitted.scatter,
        used,
        off: fitted.residuals.len() - used,
        residuals,
        drift: further.map(|f| f.0),
        apart: further.map(|f| f.1),
    })
}
fn sign(k: i64) -> f64 {
    if k.rem_euclid(2) == 0 { 1.0 } else { -1.0 }
}
/// A number and its standard error.
type Sure = (f64, f64);
/// Change of rate over the longest run, and how far the rates of ticks and tocks are apart in it.
fn further(ticks: &[&Tick], columns: &[Vec<f64>], y: &[f64], fitted: &Fitted) -> Option<(Sure, Sure)> {
    let most = ticks.iter().map(|t| t.run).max()?;
    let longest = (0..=most).max_by_key(|r| ticks.iter().filter(|t| t.run == *r).count())?;
    let own: Vec<usize> = (0..ticks.len()).filter(|i| ticks[*i].run == longest && fitted.kept[*i]).collect();
    if own.len() < 40 {
        return None;
    }
    let pick = |c: &[f64]| -> Vec<f64> { own.iter().map(|i| c[*i]).collect() };
    let columns: Vec<Vec<f64>> = columns.iter().map(|c| pick(c)).collect();
    let mean = columns[0].iter().sum::<f64>() / own.len() as f64;
    let scale = columns[0].iter().map(|k| (k - mean).abs()).fold(1.0, f64::max);
    let along: Vec<f64> = columns[0].iter().map(|k| (k - mean) / scale).collect();
    let with = |more: Vec<f64>| {
        let all = [&columns[..], &[more]].concat();
        let f = regress(&all, &pick(y), &vec![0; own.len()])?;
        Some((*f.by.last()?, *f.errors.last()?, f.by[0]))
    };
    let (bend, error, beat) = with(along.iter().map(|a| a * a).collect())?;
    let per_hour = -86_400.0 * 2.0 / (scale * scale) / (beat * beat) * 3_600.0;
    let (twist, doubt, beat) = with(along.iter().zip(&columns[1]).map(|(a, s)| a * s).collect())?;
    let per_day = -2.0 / scale / beat * 86_400.0;
    Some(((bend * per_hour, (error * per_hour).abs()), (twist * per_day, (doubt * per_day).abs())))
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn students_quantiles_as_in_tables() {
        // Tables of the distribution (memory): 5 degrees 2.571, 10 2.228, 30 2.042, 120 1.980.
        for (n, q) in [(5.0, 2.571), (10.0, 2.228), (30.0, 2.042), (120.0, 1.980)] {
            assert!((student(n) - q).abs() < 0.002, "{n} {}", student(n));
        }
    }
}
