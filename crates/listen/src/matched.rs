//! Ticks timed: what all ticks have in common is learnt from them, and each is laid on it.
//!
//! Tick and tock are learnt apart. A tick's time is where it fits best, between samples; what that time
//! means is told by the common form alone: the place where its main blow has risen to a fifth.

use crate::beat::top_of;
use crate::second::Piece;
use reckon::maths;

/// Ticks that the common form is learnt from, at most.
const TAUGHT: usize = 240;
/// Likeness from which on a tick is believed to be one, where the form is of usual length.
pub const BELIEVED: f64 = 0.4;
/// Part of the peak at which a blow counts as begun.
const EDGE: f64 = 0.2;

type Z = (f32, f32);

/// A beat that was due, and what came.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Tick {
    /// Number of the beat within its run.
    pub k: i64,
    /// Its run.
    pub run: usize,
    /// Time, s: where it fits, or where it was due.
    pub time: f64,
    /// Strength against the common form.
    pub strength: f64,
    /// Likeness to the common form, 0 to 1.
    pub alike: f64,
    /// Energy around it against that of a usual tick.
    pub loud: f64,
}
/// What all ticks of a kind have in common.
#[derive(Clone, PartialEq, Debug)]
pub struct Form {
    z: Vec<Z>,
    /// Where its main blow has risen to a fifth, in samples of it.
    edge: f64,
}
/// How far a tick may be from where it was due, in samples, and the samples before the place it was due at.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Room {
    /// Before and after.
    pub reach: usize,
    /// Place of the due time in a piece.
    pub due: usize,
    /// Of the form before its main blow.
    pub ahead: usize,
    /// And after it.
    pub behind: usize,
}
fn energy(z: &[Z]) -> f64 {
    f64::from(z.iter().map(|(a, b)| a * a + b * b).sum::<f32>())
}
/// Sum of `x` times the conjugate of `t`.
fn meet(x: &[Z], t: &[Z]) -> (f64, f64) {
    let (mut re, mut im) = ([0.0_f32; 4], [0.0_f32; 4]);
    let (xs, ts) = (x.chunks_exact(4), t.chunks_exact(4));
    let rest = xs.remainder().iter().zip(ts.remainder());
    for (x, t) in rest {
        re[0] += x.0 * t.0 + x.1 * t.1;
        im[0] += x.1 * t.0 - x.0 * t.1;
    }
    for (x, t) in xs.zip(ts) {
        for i in 0..4 {
            re[i] += x[i].0 * t[i].0 + x[i].1 * t[i].1;
            im[i] += x[i].1 * t[i].0 - x[i].0 * t[i].1;
        }
    }
    (f64::from(re.iter().sum::<f32>()), f64::from(im.iter().sum::<f32>()))
}
/// Weight of a sample `x` away when a band-limited sound is read between samples.
fn between(x: f64) -> f64 {
    const REACH: f64 = 8.0;
    if x.abs() < 1e-9 {
        return 1.0;
    }
    if x.abs() >= REACH {
        return 0.0;
    }
    let pi = std::f64::consts::PI;
    let window = 0.5 + 0.5 * maths::cos(pi * x / REACH);
    maths::sin(pi * x) / (pi * x) * window
}
/// Where a form fits a piece.
#[derive(Copy, Clone, Debug)]
struct Fit {
    /// Shift of the form's first sample, in samples of the piece.
    at: f64,
    strength: f64,
    alike: f64,
    /// Phase, as cosine and sine.
    phase: (f64, f64),
}
/// Fits a form, its beginning between two places.
fn fit(piece: &[Z], form: &[Z], from: usize, to: usize) -> Option<Fit> {
    let own = energy(form);
    let to = to.min(piece.len().checked_sub(form.len())?);
    if own <= 0.0 || from > to {
        return None;
    }
    let met: Vec<(f64, f64)> = (from..=to).map(|s| meet(&piece[s..s + form.len()], form)).collect();
    let size: Vec<f64> = met.iter().map(|(a, b)| a * a + b * b).collect();
    let top = (0..size.len()).max_by(|a, b| size[*a].total_cmp(&size[*b]).then(b.cmp(a)))?;
    let mut best = (top as f64, size[top]);
    if top > 0 && top + 1 < size.len() {
        // Read between samples, in sixteenths, then by a parabola.
        let read = |x: f64| -> f64 {
            let (a, b) =
                ((x - 8.0).ceil().max(0.0) as usize, ((x + 8.0).floor() as usize).min(size.len() - 1));
            (a..=b).map(|i| size[i] * between(x - i as f64)).sum()
        };
        let guess = top as f64 + top_of(size[top - 1], size[top], size[top + 1]);
        let step = 1.0 / 16.0;
        let values: Vec<f64> = (-4..=4).map(|d| read(guess + f64::from(d) * step)).collect();
        let high = (1..8).max_by(|a, b| values[*a].total_cmp(&values[*b]))?;
        let fine = top_of(values[high - 1], values[high], values[high + 1]);
        best = (guess + (high as f64 - 4.0 + fine) * step, values[high].max(size[top]));
    }
    let here = energy(&piece[from + top..from + top + form.len()]);
    let root = best.1.sqrt();
    let whole = size[top].sqrt().max(1e-300);
    Some(Fit {
        at: from as f64 + best.0,
        strength: root / own,
        alike: (root / (own * here).sqrt().max(1e-300)).min(1.0),
        phase: (met[top].0 / whole, met[top].1 / whole),
    })
}
/// A sound moved back by part of a sample and read from `at`, `long` samples.
fn moved(z: &[Z], at: f64, long: usize) -> Vec<Z> {
    let whole = at.floor();
    let part = at - whole;
    let weights: Vec<f32> = (-7..=8).map(|d| between(part - f64::from(d)) as f32).collect();
    (0..long)
        .map(|i| {
            let mut sum = (0.0, 0.0);
            for (w, d) in weights.iter().zip(-7_i64..=8) {
                let j = whole as i64 + i as i64 + d;
                if let Some(z) = usize::try_from(j).ok().and_then(|j| z.get(j)) {
                    sum.0 += w * z.0;
                    sum.1 += w * z.1;
                }
            }
            sum
        })
        .collect()
}
/// Learns the common form of pieces of one kind.
fn learn(pieces: &[&Piece], room: Room) -> Option<Form> {
    let step = pieces.len().div_ceil(TAUGHT).max(1);
    let some: Vec<&Piece> = pieces.iter().step_by(step).copied().collect();
    let long = some.iter().map(|p| p.z.len()).min()?;
    if long < room.ahead + room.behind {
        return None;
    }
    // Strength in time, common to all: each counts alike, however loud.
    let mut mean = vec![0.0_f64; long];
    let shapes: Vec<Vec<f64>> = some
        .iter()
        .map(|p| {
            let all = energy(&p.z[..long]).max(1e-300);
            p.z[..long].iter().map(|(a, b)| f64::from(a * a + b * b) / all).collect()
        })
        .collect();
    for shape in &shapes {
        for (m, s) in mean.iter_mut().zip(shape) {
            *m += s;
        }
    }
    // The main blow is near the place it was due at.
    let near = room.due.saturating_sub(room.reach)..(room.due + room.reach).min(long);
    let peak = near.max_by(|a, b| mean[*a].total_cmp(&mean[*b]).then(b.cmp(a)))?;
    let from = peak.saturating_sub(room.ahead);
    let size = (room.ahead + room.behind).min(long - from);
    let alike = |s: &[f64]| -> f64 {
        let (a, b): (f64, f64) = s.iter().zip(&mean).fold((0.0, 0.0), |t, (s, m)| (t.0 + s * m, t.1 + s * s));
        a / b.sqrt().max(1e-300)
    };
    let seed = (0..some.len()).max_by(|a, b| alike(&shapes[*a]).total_cmp(&alike(&shapes[*b])))?;
    let mut form: Vec<Z> = some[seed].z[from..from + size].to_vec();
    let mut start = from;
    for round in 0..4 {
        let mut sum = vec![(0.0_f64, 0.0_f64); size];
        let mut count = 0.0_f64;
        for p in &some {
            let Some(f) = fit(&p.z, &form, start.saturating_sub(room.reach), start + room.reach) else {
                continue;
            };
            if f.alike < 0.25 || f.strength < 0.2 {
                continue;
            }
            let near = moved(&p.z, f.at, size);
            // A loud knock must not teach more than a tick.
            let weight = if f.strength > 2.0 { 2.0 / f.strength } else { 1.0 } * f.alike * f.alike;
            for (s, z) in sum.iter_mut().zip(&near) {
                let (a, b) = (f64::from(z.0), f64::from(z.1));
                s.0 += weight * (a * f.phase.0 + b * f.phase.1);
                s.1 += weight * (b * f.phase.0 - a * f.phase.1);
            }
            count += weight;
        }
        if count <= 0.0 {
            return None;
        }
        form = sum.iter().map(|(a, b)| ((a / count) as f32, (b / count) as f32)).collect();
        if round == 0 {
            // The main blow to its place.
            let peak = (0..size).max_by(|a, b| size_of(form[*a]).total_cmp(&size_of(form[*b])))?;
            let moved_by = peak as i64 - room.ahead as i64;
            if moved_by.unsigned_abs() < size as u64 / 2 {
                form = moved(&form, moved_by as f64, size);
                start = usize::try_from(start as i64 + moved_by).unwrap_or(0);
            }
        }
    }
    Some(Form { edge: edge(&form), z: form })
}
fn size_of(z: Z) -> f32 {
    z.0 * z.0 + z.1 * z.1
}
/// Where the strongest blow of a form has risen to a fifth, between samples.
fn edge(form: &[Z]) -> f64 {
    const FINE: usize = 16;
    let parts: Vec<f64> = (0..FINE)
        .flat_map(|p| moved(form, p as f64 / FINE as f64, form.len()))
        .map(|z| f64::from(size_of(z)).sqrt())
        .collect();
    let at = |i: usize| parts[(i % FINE) * form.len() + i / FINE];
    let n = FINE * form.len();
    let peak = (0..n).max_by(|a, b| at(*a).total_cmp(&at(*b)).then(b.cmp(a))).unwrap_or(0);
    let level = EDGE * at(peak);
    let Some(below) = (0..peak).rev().find(|i| at(*i) < level) else { return 0.0 };
    let (a, b) = (at(below), at(below + 1));
    (below as f64 + if b > a { (level - a) / (b - a) } else { 0.0 }) / FINE as f64
}
/// Times all pieces.
#[must_use]
pub fn time_all(pieces: &[Piece], rate: f64, room: Room) -> Vec<Tick> {
    let kind = |odd: i64| -> Vec<&Piece> { pieces.iter().filter(|p| p.due.k.rem_euclid(2) == odd).collect() };
    let forms = [learn(&kind(0), room), learn(&kind(1), room)];
    let mut ticks: Vec<Tick> = Vec::with_capacity(pieces.len());
    for p in pieces {
        let missed =
            Tick { k: p.due.k, run: p.due.run, time: p.due.time, strength: 0.0, alike: 0.0, loud: 0.0 };
        let form = &forms[p.due.k.rem_euclid(2) as usize];
        let place = room.due.saturating_sub(room.ahead);
        let found = form
            .as_ref()
            .and_then(|f| Some((f, fit(&p.z, &f.z, place.saturating_sub(room.reach), place + room.reach)?)));
        ticks.push(match found {
            Some((form, f)) => Tick {
                time: p.begin + (f.at + form.edge) / rate,
                strength: f.strength,
                alike: f.alike,
                loud: (f.strength / f.alike.max(1e-3)).min(1e6),
                ..missed
            },
            None => missed,
        });
    }
    ticks
}
