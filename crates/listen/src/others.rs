//! What else there is: beats that did not come, sounds between beats, a second beat.

use crate::beat::{self, LEAST, MOST, median, middle, top_of};
use crate::first::Strength;
use crate::follow::{Followed, Sound, follow};
use crate::heard::{SURE, believed};
use crate::line::Line;
use crate::matched::Tick;

/// Most that are told one by one.
pub const TOLD: usize = 400;
/// A beat's own sound, s before and after it.
const OWN: (f64, f64) = (16e-3, 26e-3);

/// Why a beat was not heard.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Why {
    /// Nothing there: lost.
    Lost,
    /// Other sound covers it.
    Covered,
    /// Heard, but too far from the line.
    OutOfTime,
}
/// A sound between beats.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Extra {
    /// Time, s.
    pub time: f64,
    /// After the last beat, s.
    pub after: f64,
    /// Energy against that of a usual beat.
    pub strength: f64,
    /// So soon after a beat that it is one heard double.
    pub double: bool,
}
/// All of it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Others {
    /// Beats that did not come, with their times.
    pub missing: Vec<(f64, Why)>,
    /// Sounds between beats.
    pub extra: Vec<Extra>,
    /// Sounds at every cycle, s after its tick, with their height against the tick.
    pub regular: Vec<(f64, f64)>,
    /// A second beat, s.
    pub second: Option<f64>,
    /// A sound at every cycle that moves against the tick, as no echo does: s after the tick, and s/day.
    pub moves: Option<(f64, f64)>,
    /// Stretches in which nothing beats, s.
    pub silent: Vec<(f64, f64)>,
}
/// Seeks them.
#[must_use]
pub fn find(
    strength: &Strength,
    y: &[f32],
    followed: &Followed,
    ticks: &[Tick],
    line: &Line,
    pulses: bool,
) -> Others {
    let mut out = Others { silent: followed.silent.clone(), ..Others::default() };
    let usual_loud = middle(ticks.iter().filter(|t| believed(t)).map(|t| t.loud));
    let limit = (5.0 * line.scatter).max(1e-3);
    let mut residuals = line.residuals.iter();
    for t in ticks {
        if !believed(t) {
            let why = if t.loud > 2.0 * usual_loud { Why::Covered } else { Why::Lost };
            out.missing.push((t.time, why));
        } else if let Some(r) = residuals.next()
            && r.abs() > limit + 2.0 * line.gamma.abs()
        {
            out.missing.push((t.time, Why::OutOfTime));
        }
    }
    out.missing.retain(|(t, _)| !followed.silent.iter().any(|(a, b)| t >= a && t <= b));
    let cycle = 2.0 * followed.beat;
    let cell = |seconds: f64| (seconds / strength.cell).round().max(1.0) as usize;
    let bins = followed.pattern.len().max(1) as f64;
    out.regular = followed.regular.iter().map(|(i, h)| (*i as f64 / bins * cycle, *h)).collect();
    let times: Vec<f64> = ticks.iter().map(|t| t.time).collect();
    let peak = |t: f64| -> f64 {
        let at = strength.at(t).max(0.0) as usize;
        let near =
            strength.cells.get(at.saturating_sub(cell(4e-3))..(at + cell(8e-3)).min(strength.cells.len()));
        near.map_or(0.0, |n| f64::from(n.iter().copied().fold(0.0, f32::max)))
    };
    let usual = middle(ticks.iter().filter(|t| believed(t)).map(|t| peak(t.time)));
    let floor = f64::from(median(&strength.cells));
    let least = (0.3 * usual).max(12.0 * floor);
    let reach = cell((0.1 * followed.beat).min(25e-3));
    let mut next = 0;
    let cells = &strength.cells;
    for (i, e) in cells.iter().enumerate() {
        if f64::from(*e) < least {
            continue;
        }
        let (a, b) = (i.saturating_sub(reach), (i + reach + 1).min(cells.len()));
        let top = cells[a..i].iter().all(|v| v < e) && cells[i..b].iter().all(|v| v <= e);
        let time = strength.time(i as f64);
        while times.get(next).is_some_and(|t| t + followed.beat / 2.0 < time) {
            next += 1;
        }
        let near = [next.checked_sub(1), Some(next), Some(next + 1)];
        let own = near.into_iter().flatten().filter_map(|n| times.get(n));
        let in_own = own
            .clone()
            .any(|t| time > t - OWN.0.min(0.2 * followed.beat) && time < t + OWN.1.min(0.3 * followed.beat));
        let last = own.copied().filter(|t| *t <= time).fold(f64::NAN, f64::max);
        let at_every = near.into_iter().flatten().filter_map(|n| ticks.get(n)).any(|t| {
            t.k.rem_euclid(2) == 0
                && out.regular.iter().any(|(r, _)| {
                    let off = (time - t.time - r).rem_euclid(cycle);
                    off.min(cycle - off) < 18e-3
                })
        });
        if !top || in_own || at_every || out.silent.iter().any(|(a, b)| time >= *a && time <= *b) {
            continue;
        }
        let after = if last.is_finite() { time - last } else { f64::INFINITY };
        out.extra.push(Extra {
            time,
            after,
            strength: f64::from(*e) / usual.max(1e-300),
            double: after < 0.2 * followed.beat && times.len() > 1,
        });
    }
    if !pulses {
        let near = |r: f64| moving(strength, ticks, r, least);
        out.moves = out.regular.iter().find_map(|(r, _)| Some((*r, near(*r)?)));
    }
    if !pulses && (out.extra.len() as f64) > 0.12 * ticks.len() as f64 {
        out.second = second(y, strength, followed, &times, out.extra.len());
    }
    out
}
/// How fast a sound that comes so long after each tick moves against the ticks, s/day; none where it stands, or
/// where too little is heard of it to tell.
fn moving(strength: &Strength, ticks: &[Tick], after: f64, least: f64) -> Option<f64> {
    const AROUND: f64 = 25e-3;
    let times: Vec<f64> = ticks.iter().map(|t| t.time).collect();
    let mut places: Vec<(usize, f64, f64)> = Vec::new();
    for t in ticks.iter().filter(|t| t.k.rem_euclid(2) == 0 && believed(t)) {
        let (a, b) = (strength.at(t.time + after - AROUND), strength.at(t.time + after + AROUND));
        let cells = (a.max(0.0) as usize)..(b.max(0.0) as usize).min(strength.cells.len());
        let top = cells.max_by(|a, b| strength.cells[*a].total_cmp(&strength.cells[*b]).then(b.cmp(a)));
        let Some(top) = top.filter(|i| f64::from(strength.cells[*i]) >= least) else { continue };
        let cell = |i: usize| strength.cells.get(i).map_or(0.0, |v| f64::from(*v).sqrt());
        let between = top_of(cell(top.saturating_sub(1)), cell(top), cell(top + 1));
        let time = strength.time(top as f64 + between);
        let next = times.partition_point(|x| *x < time);
        let own = [next.checked_sub(1), Some(next)].into_iter().flatten().filter_map(|n| times.get(n));
        if own.clone().all(|x| time < x - OWN.0 || time > x + OWN.1) {
            places.push((usize::from(t.k.rem_euclid(4) == 0), t.time, time - t.time - after));
        }
    }
    if places.len() < 10 {
        return None;
    }
    // A straight line each for odd and even cycles, alike in slope: of a clock of half the beats it is tick and
    // tock in turn. Then once more without what lies far from it: other sounds fall in between.
    let mut slope = (0.0, f64::INFINITY);
    for _ in 0..3 {
        let mut sums = [(0.0, 0.0, 0.0); 2];
        for (g, x, y) in &places {
            sums[*g] = (sums[*g].0 + 1.0, sums[*g].1 + x, sums[*g].2 + y);
        }
        let own = |p: &(usize, f64, f64)| {
            let (n, x, y) = sums[p.0];
            (p.1 - x / n, p.2 - y / n)
        };
        let (xx, xy) = places.iter().map(own).fold((0.0, 0.0), |s, (x, y)| (s.0 + x * x, s.1 + x * y));
        let by = xy / f64::max(xx, 1e-12);
        let off = |p: &(usize, f64, f64)| {
            let (x, y) = own(p);
            y - by * x
        };
        let square: f64 = places.iter().map(|p| off(p) * off(p)).sum();
        // No place is known better than to a part of a cell.
        let deviation = (square / (places.len() as f64 - 3.0)).sqrt().max(0.1 * strength.cell);
        slope = (by, deviation / f64::max(xx, 1e-12).sqrt());
        let robust = 3.0 * (1.4826 * middle(places.iter().map(|p| off(p).abs()))).max(0.3 * strength.cell);
        let kept: Vec<(usize, f64, f64)> =
            places.iter().copied().filter(|p| off(p).abs() <= robust).collect();
        if kept.len() == places.len() || kept.len() < 10 {
            break;
        }
        places = kept;
    }
    // Of the cycles, one for two ticks.
    let enough = places.len() as f64 > 0.2 * ticks.len() as f64;
    (enough && slope.0.abs() > 5.0 * slope.1).then_some(slope.0 * 86_400.0)
}
/// A beat in what is left when the first is taken out.
fn second(y: &[f32], strength: &Strength, followed: &Followed, times: &[f64], extra: usize) -> Option<f64> {
    let mut rest = y.to_vec();
    for t in times {
        let (a, b) = (strength.at(t - OWN.0).max(0.0) as usize, strength.at(t + OWN.1).max(0.0) as usize);
        for v in rest.iter_mut().take(b + 1).skip(a) {
            *v = 0.0;
        }
    }
    let cycle =
        beat::search(&rest, strength.cell, (LEAST, MOST)).filter(|c| c.sure >= SURE && c.alike > 0.12)?;
    let other = follow(Sound { y: &rest, cell: strength.cell, begin: strength.begin }, cycle.period)?;
    let length = strength.cells.len() as f64 * strength.cell;
    let enough = extra as f64 > 0.3 * length / other.beat;
    let ratio = other.beat / followed.beat;
    // The same beat once more is its echo.
    let echo = [0.5, 1.0, 2.0].iter().any(|r| (ratio / r - 1.0).abs() < 2e-5);
    (enough && !echo).then_some(other.beat)
}
