//! The beat followed through the recording: where each tick is to be expected, and where none comes.
//!
//! A stretch of some thirty beats is folded over its cycle, so that ticks pile up and noise does not; from
//! one stretch to the next the pile may move a little. Where it jumps, counting begins anew.

use crate::beat::top_of;

/// Beats in a stretch.
const BEATS: f64 = 32.0;
/// Likeness of a pile to the pattern from which on it is believed.
const BELIEVED: f64 = 0.3;

/// A beat to be expected.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Due {
    /// Number of the beat within its run.
    pub k: i64,
    /// Run that it belongs to.
    pub run: usize,
    /// Time, s.
    pub time: f64,
}
/// How the recording was followed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Followed {
    /// Beats to be expected, in order.
    pub due: Vec<Due>,
    /// Length of a beat, s.
    pub beat: f64,
    /// Stretches of time in which nothing beats, s.
    pub silent: Vec<(f64, f64)>,
    /// Mean outstanding sound over one cycle that begins with a tick.
    pub pattern: Vec<f64>,
    /// Both beats of the cycle were found apart.
    pub both: bool,
    /// Places in the pattern, cells, of further sounds at every cycle, with their height against a tick's.
    pub regular: Vec<(usize, f64)>,
}
/// One stretch, laid on the pattern.
#[derive(Copy, Clone, Debug)]
struct Laid {
    /// A tick near its middle, s.
    tick: f64,
    /// Length of a cycle, s.
    cycle: f64,
    /// Likeness to the pattern.
    alike: f64,
    /// Begins a new run.
    anew: bool,
}
/// The sound that is followed: how far it stands out, cell by cell.
#[derive(Copy, Clone, Debug)]
pub struct Sound<'a> {
    /// Outstanding sound.
    pub y: &'a [f32],
    /// Length of a cell, s.
    pub cell: f64,
    /// Time of the first, s.
    pub begin: f64,
}
impl Sound<'_> {
    fn cells(&self, seconds: f64) -> usize {
        ((seconds / self.cell).round() as usize).max(1)
    }
    /// Folds the cells from one time to another over a cycle that begins at `tick`; empty places are the mean.
    fn fold(&self, from: f64, to: f64, tick: f64, cycle: f64) -> Vec<f64> {
        let bins = self.cells(cycle);
        let (mut sum, mut count) = (vec![0.0_f64; bins], vec![0.0_f64; bins]);
        let first = ((from - self.begin) / self.cell).ceil().max(0.0) as usize;
        let last = (((to - self.begin) / self.cell).floor().max(0.0) as usize).min(self.y.len());
        let step = bins as f64 * self.cell / cycle;
        let mut at = ((self.begin + first as f64 * self.cell - tick) / cycle).rem_euclid(1.0) * bins as f64;
        for y in &self.y[first.min(last)..last] {
            let bin = (at as usize).min(bins - 1);
            sum[bin] += f64::from(*y);
            count[bin] += 1.0;
            at += step;
            if at >= bins as f64 {
                at -= bins as f64;
            }
        }
        let mean = sum.iter().sum::<f64>() / count.iter().sum::<f64>().max(1.0);
        let folded: Vec<f64> =
            sum.iter().zip(&count).map(|(s, n)| if *n > 0.0 { s / n } else { mean }).collect();
        smooth(&folded)
    }
}
/// A running mean of three, round the cycle.
fn smooth(x: &[f64]) -> Vec<f64> {
    let n = x.len();
    (0..n).map(|i| (x[(i + n - 1) % n] + 2.0 * x[i] + x[(i + 1) % n]) / 4.0).collect()
}
fn spread(x: &[f64]) -> (f64, f64) {
    let mean = x.iter().sum::<f64>() / x.len().max(1) as f64;
    (mean, (x.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / x.len().max(1) as f64).sqrt())
}
fn highest(x: &[f64], among: impl Iterator<Item = usize>) -> Option<usize> {
    among.max_by(|a, b| x[*a].total_cmp(&x[*b]).then(b.cmp(a)))
}
/// Place of the second beat in a folded cycle whose first stands at `first`; `None` where there is one beat only.
fn second_beat(folded: &[f64], first: usize) -> Option<usize> {
    let n = folded.len();
    let (half, reach) = (n / 2, n / 7);
    let at = highest(folded, (half - reach..=half + reach).map(|d| (first + d) % n))?;
    let (floor, top) = (crate::beat::middle(folded.iter().copied()), folded[first]);
    let noise = 1.4826 * crate::beat::middle(folded.iter().map(|v| (v - floor).abs()));
    (folded[at] - floor > (0.3 * (top - floor)).max(6.0 * noise)).then_some(at)
}
/// Follows a cycle that was found through the whole recording.
#[must_use]
pub fn follow(sound: Sound<'_>, found: f64) -> Option<Followed> {
    let end = sound.begin + sound.y.len() as f64 * sound.cell;
    // Whether the cycle that was found is one beat or two.
    let long = (BEATS * found).min(end - sound.begin);
    let (best, cycle) = sharpest(sound, found, long, end)?;
    let folded = sound.fold(best, best + long, best, cycle);
    let first = highest(&folded, 0..folded.len())?;
    let both = second_beat(&folded, first).is_some();
    let cycle = if both { cycle } else { 2.0 * cycle };
    let long = (BEATS / 2.0 * cycle).min(end - sound.begin);
    let (best, cycle) = sharpest(sound, cycle, long, end)?;
    let folded = sound.fold(best, best + long, best, cycle);
    let first = highest(&folded, 0..folded.len())?;
    let tick = best + (first as f64 + 0.5) / folded.len() as f64 * cycle;
    let mut pattern = sound.fold(best, best + long, tick, cycle);
    let laid = lay(sound, best, long, tick, cycle, &pattern, end);
    // Once more with all that fits, so that the pattern rests on more than one stretch.
    let sums: Vec<Vec<f64>> = laid
        .iter()
        .filter(|(_, l)| l.alike >= BELIEVED)
        .map(|((a, b), l)| sound.fold(*a, *b, l.tick, l.cycle))
        .collect();
    for (i, p) in pattern.iter_mut().enumerate() {
        let sum: f64 = sums.iter().map(|f| f[i * f.len() / folded.len()]).sum();
        *p = sum / sums.len().max(1) as f64;
    }
    let laid = lay(sound, best, long, tick, cycle, &pattern, end);
    Some(beats(&laid, pattern, both, (sound.begin, end)))
}
/// The stretch and the cycle whose pile is sharpest: its beginning and the cycle, s.
fn sharpest(sound: Sound<'_>, cycle: f64, long: f64, end: f64) -> Option<(f64, f64)> {
    let room = end - sound.begin - long;
    let tries = ((room / long) as usize + 1).min(24);
    let mut best: Option<(f64, f64, f64)> = None;
    // A pile is smeared by half a cell's worth of drift; the search told the cycle to a few parts in ten thousand.
    let step = 2.0 * sound.cell / long;
    for t in 0..tries {
        let from = sound.begin + if tries == 1 { 0.0 } else { room * t as f64 / (tries - 1) as f64 };
        for d in -6..=6 {
            let cycle = cycle * (1.0 + f64::from(d) * step);
            let folded = sound.fold(from, from + long, from, cycle);
            let (mean, _) = spread(&folded);
            let sharp = folded.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>();
            if best.is_none_or(|b| sharp > b.0) {
                best = Some((sharp, from, cycle));
            }
        }
    }
    best.map(|(_, from, cycle)| (from, cycle))
}
type Stretch = ((f64, f64), Laid);

/// Lays each stretch on the pattern, from the best one outwards.
fn lay(
    sound: Sound<'_>,
    best: f64,
    long: f64,
    tick: f64,
    cycle: f64,
    pattern: &[f64],
    end: f64,
) -> Vec<Stretch> {
    let step = long / 2.0;
    let room = (end - sound.begin - long).max(0.0);
    let count = (room / step).ceil() as usize + 1;
    let froms: Vec<f64> = (0..count)
        .map(|i| sound.begin + if count == 1 { 0.0 } else { room * i as f64 / (count - 1) as f64 })
        .collect();
    let start =
        (0..count).min_by(|a, b| (froms[*a] - best).abs().total_cmp(&(froms[*b] - best).abs())).unwrap_or(0);
    let (mean, _) = spread(pattern);
    let level: Vec<f64> = pattern.iter().map(|v| v - mean).collect();
    let mut laid: Vec<Option<Stretch>> = vec![None; count];
    for back in [false, true] {
        let (mut known_tick, mut known_cycle, mut known_at) = (tick, cycle, froms[start] + long / 2.0);
        let order: Vec<usize> = if back { (0..start).rev().collect() } else { (start..count).collect() };
        for i in order {
            let (from, to) = (froms[i], froms[i] + long);
            let middle = (from + to) / 2.0;
            let near = known_tick + ((middle - known_tick) / known_cycle).round() * known_cycle;
            let folded = sound.fold(from, to, near, known_cycle);
            let (shift, alike) = shifted(&folded, &level);
            let by = shift / folded.len() as f64 * known_cycle;
            let away = (middle - known_at).abs();
            let anew = by.abs() > 8e-3 + 2e-4 * away;
            if alike >= BELIEVED {
                let at = near + by;
                let cycles = ((at - known_tick) / known_cycle).round();
                if !anew && cycles.abs() > 0.0 {
                    // The rate as it is here, the more trusted the longer the way.
                    known_cycle += 0.5 * ((at - known_tick) / cycles - known_cycle);
                }
                (known_tick, known_at) = (at, middle);
                laid[i] = Some(((from, to), Laid { tick: at, cycle: known_cycle, alike, anew }));
            } else {
                laid[i] = Some(((from, to), Laid { tick: near, cycle: known_cycle, alike, anew: false }));
            }
        }
        if back {
            // Going back, it is the later neighbour that begins anew.
            let mut carried = false;
            for (i, stretch) in laid.iter_mut().enumerate().take(start + 1) {
                if let Some((_, l)) = stretch {
                    let own = l.anew && i < start;
                    if l.alike >= BELIEVED {
                        l.anew = carried;
                        carried = own;
                    }
                }
            }
        }
    }
    laid.into_iter().flatten().collect()
}
/// How far a pile is shifted against the pattern, cells, and how like it then is.
fn shifted(folded: &[f64], level: &[f64]) -> (f64, f64) {
    let n = folded.len();
    let (mean, deviation) = spread(folded);
    let (_, own) = spread(level);
    if deviation <= 0.0 || own <= 0.0 {
        return (0.0, 0.0);
    }
    // The strongest places of the pattern say all that is needed.
    let mut strong: Vec<usize> = (0..level.len()).collect();
    strong.sort_by(|a, b| level[*b].total_cmp(&level[*a]).then(a.cmp(b)));
    strong.truncate((level.len() / 4).clamp(8, 160));
    let weight: f64 = strong.iter().map(|i| level[*i] * level[*i]).sum();
    let at = |shift: usize| -> f64 {
        strong.iter().map(|i| level[*i] * (folded[(i * n / level.len() + shift) % n] - mean)).sum()
    };
    let all: Vec<f64> = (0..n).map(at).collect();
    let Some(top) = highest(&all, 0..n) else { return (0.0, 0.0) };
    let fine = top_of(all[(top + n - 1) % n], all[top], all[(top + 1) % n]);
    let shift = top as f64 + fine;
    let shift = if shift > n as f64 / 2.0 { shift - n as f64 } else { shift };
    let size: f64 =
        strong.iter().map(|i| folded[(i * n / level.len() + top) % n] - mean).map(|v| v * v).sum::<f64>();
    let tight = all[top] / (weight * size).sqrt().max(1e-30);
    // A pile of mere noise is like any pattern at some shift; its height must be that of ticks as well.
    let height = all[top] / weight;
    (shift, if height > 0.15 { tight } else { 0.0 })
}
/// Beats between the ticks of neighbouring stretches.
fn beats(laid: &[Stretch], pattern: Vec<f64>, both: bool, whole: (f64, f64)) -> Followed {
    let n = pattern.len();
    let tock = second_beat(&pattern, highest(&pattern, (0..n / 50 + 1).chain(n - n / 50..n)).unwrap_or(0));
    let share = tock.map_or(0.5, |t| t as f64 / n as f64);
    let believed: Vec<&Stretch> = laid.iter().filter(|(_, l)| l.alike >= BELIEVED).collect();
    let mut out = Followed { both, ..Followed::default() };
    let mut runs: Vec<Vec<&Stretch>> = Vec::new();
    for s in believed {
        match runs.last_mut() {
            Some(run) if !s.1.anew => run.push(s),
            _ => runs.push(vec![s]),
        }
    }
    let mut cycles = Vec::new();
    let mut reached = whole.0;
    for (r, run) in runs.iter().enumerate() {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
        // Out to the ends of the outer stretches.
        let mut knots: Vec<(f64, f64)> = Vec::new();
        let before = ((first.1.tick - first.0.0) / first.1.cycle).ceil();
        knots.push((first.1.tick - before * first.1.cycle, before));
        for pair in run.windows(2) {
            knots.push((pair[0].1.tick, ((pair[1].1.tick - pair[0].1.tick) / pair[0].1.cycle).round()));
        }
        let after = ((last.0.1 - last.1.tick) / last.1.cycle).ceil();
        knots.push((last.1.tick, after));
        let stop = last.1.tick + after * last.1.cycle;
        let mut k = 0;
        let from = first.0.0.max(reached);
        for (i, (at, count)) in knots.iter().enumerate() {
            let next = knots.get(i + 1).map_or(stop, |n| n.0);
            if *count < 1.0 {
                continue;
            }
            let cycle = (next - at) / count;
            cycles.push(cycle);
            for j in 0..*count as i64 {
                for (odd, part) in [(0, 0.0), (1, share)] {
                    let time = at + (j as f64 + part) * cycle;
                    let inside = time >= from - 0.02 && time < last.0.1 && time >= whole.0 && time < whole.1;
                    if inside {
                        out.due.push(Due { k: 2 * (k + j) + odd, run: r, time });
                    }
                }
            }
            k += *count as i64;
        }
        if first.0.0 > reached + cycles.last().copied().unwrap_or(1.0) {
            out.silent.push((reached, first.0.0));
        }
        reached = reached.max(last.0.1);
    }
    if whole.1 - reached > cycles.last().copied().unwrap_or(f64::MAX) {
        out.silent.push((reached, whole.1));
    }
    out.due.sort_by(|a, b| a.time.total_cmp(&b.time));
    out.beat = crate::beat::middle(cycles) / 2.0;
    let (floor, top) =
        (crate::beat::middle(pattern.iter().copied()), pattern.iter().copied().fold(0.0, f64::max));
    let apart = n / 16;
    let far = |i: usize, from: usize| (i + n - from) % n > apart && (from + n - i) % n > apart;
    for i in 0..n {
        let height = (pattern[i] - floor) / (top - floor).max(1e-12);
        let local =
            (1..=apart).all(|d| pattern[(i + d) % n] <= pattern[i] && pattern[(i + n - d) % n] < pattern[i]);
        if height > 0.3 && local && far(i, 0) && far(i, (share * n as f64) as usize) {
            out.regular.push((i, height));
        }
    }
    out.pattern = pattern;
    out
}
