//! The beat, found in the strength of the tick band without being told.
//!
//! What stands out of the floor is compared with itself, later and later; the cycle is the shortest
//! delay at which it is like itself again, and at the double, the triple, … of that delay.

use crate::first::Strength;
use reckon::maths;

/// Shortest cycle that is looked for, s.
pub const LEAST: f64 = 0.08;
/// Longest, s.
pub const MOST: f64 = 5.2;
/// Cells put together for the search.
const TOGETHER: usize = 4;
/// A stretch that is compared with itself, s.
const STRETCH: f64 = 50.0;
/// Most stretches, spread over the recording.
const STRETCHES: usize = 8;

/// How far the tick band stands out of its own floor, cell by cell, as a logarithm kept within bounds:
/// one loud knock then weighs no more than a few ticks.
#[must_use]
pub fn outstanding(strength: &Strength) -> Vec<f32> {
    let block = ((2.0 / strength.cell) as usize).max(1);
    let floors: Vec<f32> = strength.cells.chunks(block).map(median).collect();
    let loudest = strength.cells.iter().copied().fold(0.0, f32::max);
    let least = (median(&floors) * 0.05).max(loudest * 1e-9).max(1e-18);
    let mut out = Vec::with_capacity(strength.cells.len());
    for (cells, floor) in strength.cells.chunks(block).zip(&floors) {
        let floor = f64::from(floor.max(least));
        out.extend(cells.iter().map(|e| {
            let over = f64::from(*e) / floor;
            if over > 1.0 { maths::ln(over).min(8.0) as f32 } else { 0.0 }
        }));
    }
    out
}
/// The middle one; nought of none.
#[must_use]
pub fn median(values: &[f32]) -> f32 {
    let mut sorted = values.to_vec();
    if sorted.is_empty() {
        return 0.0;
    }
    let middle = sorted.len() / 2;
    *sorted.select_nth_unstable_by(middle, f32::total_cmp).1
}
/// The middle one of doubles; nought of none.
#[must_use]
pub fn middle(values: impl IntoIterator<Item = f64>) -> f64 {
    let mut sorted: Vec<f64> = values.into_iter().collect();
    if sorted.is_empty() {
        return 0.0;
    }
    let at = sorted.len() / 2;
    *sorted.select_nth_unstable_by(at, f64::total_cmp).1
}
/// A cycle that the sound repeats.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Cycle {
    /// Its length, s.
    pub period: f64,
    /// How alike the sound is to itself one cycle later, at most 1.
    pub alike: f64,
    /// The same in standard deviations of what chance gives.
    pub sure: f64,
}
/// Likeness to itself by delay: element `i` for a delay of `i` coarse cells; and how many cells were compared.
fn likeness(y: &[f32], cell: f64) -> (Vec<f64>, f64, usize) {
    let coarse: Vec<f32> = y.chunks_exact(TOGETHER).map(|c| c.iter().sum()).collect();
    let cell = cell * TOGETHER as f64;
    let most = ((MOST / cell) as usize).min(coarse.len() * 2 / 3);
    let long = ((STRETCH / cell) as usize).min(coarse.len());
    let count = (coarse.len() / long.max(1)).clamp(1, STRETCHES);
    let mut r = vec![0.0_f64; most + 1];
    let mut compared = 0;
    for s in 0..count {
        let from = if count == 1 { 0 } else { (coarse.len() - long) * s / (count - 1) };
        let part = &coarse[from..from + long];
        let mean = part.iter().sum::<f32>() / long.max(1) as f32;
        let part: Vec<f32> = part.iter().map(|v| v - mean).collect();
        let energy: f32 = part.iter().map(|v| v * v).sum();
        if energy <= 0.0 {
            continue;
        }
        compared += long;
        for (lag, r) in r.iter_mut().enumerate() {
            let n = long - lag;
            let dot = dot(&part[..n], &part[lag..]);
            *r += f64::from(dot / energy) * long as f64 / n as f64;
        }
    }
    let whole = r.first().copied().unwrap_or(0.0);
    if whole > 0.0 {
        for v in &mut r {
            *v /= whole;
        }
    }
    (r, cell, compared)
}
/// Sum of products, in lanes that are always the same.
#[must_use]
pub fn dot(a: &[f32], b: &[f32]) -> f32 {
    let mut lanes = [0.0_f32; 8];
    let (x, y) = (a.chunks_exact(8), b.chunks_exact(8));
    let rest: f32 = x.remainder().iter().zip(y.remainder()).map(|(a, b)| a * b).sum();
    for (a, b) in x.zip(y) {
        for i in 0..8 {
            lanes[i] += a[i] * b[i];
        }
    }
    lanes.iter().sum::<f32>() + rest
}
/// The cycle of a sound, between two lengths in s; `None` where nothing comes again.
#[must_use]
pub fn search(y: &[f32], cell: f64, between: (f64, f64)) -> Option<Cycle> {
    let (r, cell, compared) = likeness(y, cell);
    let from = ((between.0.max(LEAST) / cell).floor() as usize).max(2);
    let to = ((between.1.min(MOST) / cell).ceil() as usize).min(r.len().saturating_sub(2));
    let scored: Vec<(usize, f64)> = (from..=to)
        .filter(|&l| r[l] > 0.0 && r[l] >= r[l - 1] && r[l] >= r[l + 1])
        .map(|l| (l, comb(&r, l)))
        .collect();
    let best = scored.iter().map(|s| s.1).fold(0.0, f64::max);
    let &(lag, alike) = scored.iter().find(|s| s.1 >= 0.8 * best)?;
    // Chance scatters a likeness by one over the root of what was compared; ringing makes neighbours alike.
    let chance = (3.0 / compared.max(1) as f64).sqrt();
    let sure = alike / chance;
    let mut period = peak(&r, lag);
    // The longest delay still held against itself gives the finest answer.
    for j in 2..=(r.len() / lag.max(1)) {
        let near = period * j as f64;
        let reach = 2.0_f64.max(0.02 * near).min(lag as f64 / 4.0);
        let (a, b) = ((near - reach).floor() as usize, (near + reach).ceil() as usize);
        if b + 1 >= r.len() {
            break;
        }
        let top = (a..=b).max_by(|p, q| r[*p].total_cmp(&r[*q]))?;
        if r[top] > 0.4 * alike && top > a && top < b {
            period = peak(&r, top) / j as f64;
        }
    }
    Some(Cycle { period: period * cell, alike, sure })
}
/// Mean likeness at a delay and its multiples.
fn comb(r: &[f64], lag: usize) -> f64 {
    let times = ((r.len() - 2) / lag).clamp(1, 6);
    let mut sum = 0.0;
    for j in 1..=times {
        let (at, reach) = (lag * j, j.div_ceil(2));
        let top =
            (at.saturating_sub(reach)..=(at + reach).min(r.len() - 1)).map(|i| r[i]).fold(f64::MIN, f64::max);
        sum += top;
    }
    sum / times as f64
}
/// Place of the top of a parabola through three neighbours.
fn peak(r: &[f64], at: usize) -> f64 {
    at as f64 + top_of(r[at - 1], r[at], r[at + 1])
}
/// How far the top of a parabola lies from the middle one of three neighbours, at most half a step.
#[must_use]
pub fn top_of(before: f64, here: f64, after: f64) -> f64 {
    let bend = before - 2.0 * here + after;
    if bend < 0.0 { ((before - after) / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 }
}
