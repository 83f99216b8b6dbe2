//! What comes again in the lateness of beats: wheels that run out of round, or are cut unequally.

use reckon::maths;
use std::f64::consts::PI;

/// Most cells that lateness is gathered in for the search.
const CELLS: usize = 3_000;
/// Chance of a false find that is accepted.
const CHANCE: f64 = 1e-3;
/// Most that are told without being asked for.
const MOST: usize = 5;

/// A wheel or arbor that may show.
#[derive(Clone, PartialEq, Debug)]
pub struct Wheel {
    /// Its name.
    pub name: String,
    /// Time of a turn, s.
    pub period: f64,
}
/// A lateness that comes again.
#[derive(Clone, PartialEq, Debug)]
pub struct Periodic {
    /// Wheels that turn in this time; none where it was found without a name.
    pub wheels: Vec<String>,
    /// Its period, s.
    pub period: f64,
    /// Amplitude, s.
    pub amplitude: f64,
    /// Standard error of the amplitude.
    pub error: f64,
    /// When beats come latest, s from the beginning; from then on once a period.
    pub latest: f64,
    /// Chance that scatter alone looks like this.
    pub chance: f64,
}
impl Periodic {
    /// Whether it is more than scatter.
    #[must_use]
    pub fn real(&self) -> bool {
        self.chance < CHANCE
    }
}
/// Cosine and sine of a time within a period.
#[must_use]
pub fn turn(time: f64, period: f64) -> (f64, f64) {
    let a = 2.0 * PI * (time / period).rem_euclid(1.0);
    (maths::cos(a), maths::sin(a))
}
/// One period, by least squares with a straight line left free.
fn at(times: &[f64], late: &[f64], period: f64) -> Option<Periodic> {
    let n = times.len() as f64;
    let span = times.last()? - times.first()?;
    if times.len() < 12 || span < 1.8 * period || period * n < 2.2 * span {
        return None;
    }
    let mean = times.iter().sum::<f64>() / n;
    let rows: Vec<[f64; 4]> = times
        .iter()
        .map(|t| {
            let (c, s) = turn(*t, period);
            [1.0, (t - mean) / span, c, s]
        })
        .collect();
    let mut m = vec![vec![0.0; 4]; 4];
    let mut right = [0.0; 4];
    for (row, y) in rows.iter().zip(late) {
        for i in 0..4 {
            right[i] += row[i] * y;
            for j in 0..4 {
                m[i][j] += row[i] * row[j];
            }
        }
    }
    let by = maths::times(&maths::inverse_of_normal(&m)?, &right);
    let left: f64 = rows
        .iter()
        .zip(late)
        .map(|(row, y)| y - row.iter().zip(&by).map(|(a, b)| a * b).sum::<f64>())
        .map(|r| r * r)
        .sum();
    let deviation = (left / (n - 4.0).max(1.0)).sqrt();
    let amplitude = maths::hypot(by[2], by[3]);
    let power = n * amplitude * amplitude / (4.0 * (deviation * deviation).max(1e-30));
    let latest = maths::atan2(by[3], by[2]) / (2.0 * PI) * period;
    Some(Periodic {
        wheels: Vec::new(),
        period,
        amplitude,
        error: deviation * (2.0 / n).sqrt(),
        latest: latest.rem_euclid(period),
        // Of Fisher's distribution with two degrees above.
        chance: maths::pow(1.0 + 2.0 * power / (n - 4.0).max(1.0), -(n - 4.0).max(1.0) / 2.0),
    })
}
/// What each wheel does to the beats; wheels of one period together. Periods that the recording is too
/// short for come back as `Err` with the wheel.
#[must_use]
pub fn of_wheels(times: &[f64], late: &[f64], wheels: &[Wheel]) -> Vec<Result<Periodic, Wheel>> {
    let mut groups: Vec<(f64, Vec<String>)> = Vec::new();
    for w in wheels.iter().filter(|w| w.period.is_finite() && w.period > 0.0) {
        match groups.iter_mut().find(|g| (g.0 - w.period).abs() < 1e-6 * w.period) {
            Some(g) => g.1.push(w.name.clone()),
            None => groups.push((w.period, vec![w.name.clone()])),
        }
    }
    let count = groups.len().max(1) as f64;
    groups
        .into_iter()
        .map(|(period, names)| match at(times, late, period) {
            // So many were asked at once.
            Some(p) => Ok(Periodic { chance: (p.chance * count).min(1.0), wheels: names, ..p }),
            None => Err(Wheel { name: names.join(", "), period }),
        })
        .collect()
}
/// What comes again, whatever its period, the strongest first; each is taken out before the next is sought.
#[must_use]
pub fn found(times: &[f64], late: &[f64]) -> Vec<Periodic> {
    let mut out: Vec<Periodic> = Vec::new();
    let (Some(first), Some(last)) = (times.first(), times.last()) else { return out };
    let (span, step) = (last - first, times.len().div_ceil(CELLS));
    let mut cells: Vec<(f64, f64)> = times
        .chunks(step)
        .zip(late.chunks(step))
        .map(|(t, y)| (t.iter().sum::<f64>() / t.len() as f64, y.iter().sum::<f64>() / y.len() as f64))
        .collect();
    if cells.len() < 24 || span <= 0.0 {
        return out;
    }
    let most = cells.len() as f64 / span / 2.2;
    let by = 1.0 / (4.0 * span);
    let steps = ((most - 2.0 / span) / by).max(0.0) as usize;
    for _ in 0..MOST {
        let (t, y): (Vec<f64>, Vec<f64>) = cells.iter().copied().unzip();
        // A turning pointer for each cell, moved on a step for each frequency.
        let mut pointers: Vec<(f64, f64, f64, f64)> = t
            .iter()
            .map(|t| {
                let (c, s) = turn(t - first, span / 2.0);
                let (dc, ds) = turn(t - first, 1.0 / by);
                (c, s, dc, ds)
            })
            .collect();
        let mut best = (0.0, 0);
        for i in 0..=steps {
            let (mut re, mut im) = (0.0, 0.0);
            for (p, y) in pointers.iter_mut().zip(&y) {
                re += p.0 * y;
                im += p.1 * y;
                (p.0, p.1) = (p.0 * p.2 - p.1 * p.3, p.0 * p.3 + p.1 * p.2);
            }
            let power = re * re + im * im;
            if power > best.0 {
                best = (power, i);
            }
        }
        let middle = 2.0 / span + best.1 as f64 * by;
        let fine = (-10..=10)
            .filter_map(|d| at(&t, &y, 1.0 / (middle + f64::from(d) * by / 10.0)))
            .max_by(|a, b| a.amplitude.total_cmp(&b.amplitude));
        let Some(mut p) = fine else { break };
        // As many frequencies as beats could have looked like this by chance.
        p.chance = (p.chance * cells.len() as f64 / 2.0).min(1.0);
        if !p.real() {
            break;
        }
        for (t, y) in &mut cells {
            *y -= p.amplitude * turn(*t - p.latest, p.period).0;
        }
        out.push(p);
    }
    out
}
