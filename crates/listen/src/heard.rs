//! A recording heard twice, and what can be said of it, with its doubt.

use crate::beat::{self, Cycle, LEAST, MOST, middle, outstanding};
use crate::first::{First, Health, Strength};
use crate::follow::{Followed, Sound, follow};
use crate::line::{self, Line, student};
use crate::matched::{self, Room, Tick};
use crate::others::{self, Others};
use crate::periods::{self, Periodic, Wheel};
use crate::recorder::Recorder;
use crate::second::{Cuts, Second};
use crate::verdict::{self, Verdict};

/// Beats an hour that clocks are usually made for.
const USUAL: [f64; 22] = [
    1_800.0, 2_400.0, 2_700.0, 3_000.0, 3_600.0, 4_500.0, 4_800.0, 5_400.0, 6_000.0, 7_200.0, 7_500.0,
    8_100.0, 9_000.0, 9_600.0, 10_800.0, 12_000.0, 14_400.0, 16_200.0, 18_000.0, 21_600.0, 28_800.0,
    36_000.0,
];
/// How far from a usual count a clock may be and still be taken for one of them.
const NEAR: f64 = 0.006;
/// How far from a count that was told.
const TOLD: f64 = 0.03;
/// Surest chance likeness.
pub const SURE: f64 = 8.0;
/// Shortest recording, s.
pub const SHORTEST: f64 = 4.0;

/// What is known before.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Hint {
    /// Beats an hour that the clock is made for.
    pub beats_per_hour: Option<f64>,
    /// Wheels and arbors whose turn may show.
    pub wheels: Vec<Wheel>,
    /// The recorder's own clock.
    pub recorder: Recorder,
    /// The channel to hear, from 0; by itself the one that beats more clearly.
    pub channel: Option<usize>,
    /// Pulses of a reference, not a clock: edges there and back, nothing about tick and tock.
    pub pulses: bool,
}
/// All that was heard.
#[derive(Clone, PartialEq, Debug)]
pub struct Heard {
    /// What is wrong with the samples as such.
    pub health: Health,
    /// Samples a second.
    pub sample_rate: f64,
    /// Length, s.
    pub seconds: f64,
    /// The channel that was heard, from 0, of how many.
    pub channel: (usize, usize),
    /// What may be made of it.
    pub verdict: Verdict,
    /// The beat, where there is one.
    pub beat: Option<Beat>,
}
/// The beat that was heard.
#[derive(Clone, PartialEq, Debug)]
pub struct Beat {
    /// Mean beat, s, by the recorder's clock set right as far as it is known.
    pub seconds: f64,
    /// Half of the interval that holds it with 95 in 100, s, by scatter alone.
    pub within: f64,
    /// Beats an hour that the rate is reckoned from, and whether they were told; none where no usual count is near.
    pub nominal: Option<(f64, bool)>,
    /// Beats of the clock in one that is heard: 2 where each second one is silent.
    pub folded: u32,
    /// Rate, s/day, + gains.
    pub rate: Option<Rate>,
    /// Beat error, s, half of how much longer the pause after a tock is, tick being the first that is heard; with
    /// its 95 in 100.
    pub beat_error: Option<(f64, f64)>,
    /// The line through the beats.
    pub line: Line,
    /// Beats that were due.
    pub due: usize,
    /// Beats that were heard.
    pub heard: usize,
    /// Middle likeness of the beats to what they have in common.
    pub alike: f64,
    /// Change of rate, s/day in an hour, with its 95 in 100.
    pub drift: Option<(f64, f64)>,
    /// Lateness that comes again: by wheels where they were told, else as found.
    pub periodic: Vec<Periodic>,
    /// Wheels that turn too slowly, or too fast, for this recording to show.
    pub too_slow: Vec<Wheel>,
    /// Lost beats, other sounds.
    pub others: Others,
    /// Runs of counting: more than one where the beat jumped.
    pub runs: usize,
    /// Trace: time, s, residual, s, and whether it is a tick.
    pub trace: Vec<(f64, f64, bool)>,
}
/// A rate with its doubts.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Rate {
    /// s/day, + gains.
    pub value: f64,
    /// 95 in 100, by scatter.
    pub scatter: f64,
    /// By the recorder's own clock.
    pub recorder: f64,
}
impl Rate {
    /// Both doubts together.
    #[must_use]
    pub fn within(&self) -> f64 {
        (self.scatter * self.scatter + self.recorder * self.recorder).sqrt()
    }
}
/// Between the two hearings.
#[derive(Clone, Debug)]
pub struct Between {
    health: Health,
    rate: f64,
    channels: usize,
    channel: usize,
    strength: Strength,
    y: Vec<f32>,
    cycle: Option<Cycle>,
    followed: Option<Followed>,
    hint: Hint,
}
impl Between {
    /// After the first hearing.
    #[must_use]
    pub fn new(first: First, rate: f64, hint: Hint) -> Between {
        let (health, strengths) = first.finish();
        let channels = strengths.len();
        let mut best: Option<(usize, Vec<f32>, Option<Cycle>)> = None;
        for (i, s) in strengths.iter().enumerate() {
            if hint.channel.is_some_and(|c| c != i) {
                continue;
            }
            let y = outstanding(s);
            let cycle = seek(&y, s.cell, hint.beats_per_hour);
            let sure = cycle.map_or(0.0, |c| c.sure);
            if best.as_ref().is_none_or(|b| sure > b.2.map_or(0.0, |c| c.sure)) {
                best = Some((i, y, cycle));
            }
        }
        let (channel, y, cycle) = best.unwrap_or((0, Vec::new(), None));
        let strength = strengths.into_iter().nth(channel).unwrap_or_default();
        let seconds = health.frames as f64 / rate;
        let heard = health.peak > 0.0 && seconds >= SHORTEST;
        let followed = cycle
            .filter(|c| heard && c.sure >= SURE)
            .and_then(|c| follow(Sound { y: &y, cell: strength.cell, begin: strength.begin }, c.period));
        Between { health, rate, channels, channel, strength, y, cycle, followed, hint }
    }
    /// Whether there is a beat to hear once more.
    #[must_use]
    pub const fn follows(&self) -> bool {
        self.followed.is_some()
    }
    /// For the second hearing.
    #[must_use]
    pub fn second(&self) -> Second {
        let (before, after) = self.around();
        let due = self.followed.as_ref().map(|f| f.due.clone()).unwrap_or_default();
        Second::new(Cuts {
            rate: self.rate,
            channels: self.channels,
            channel: self.channel,
            due,
            before,
            after,
        })
    }
    fn around(&self) -> (f64, f64) {
        let beat = self.followed.as_ref().map_or(1.0, |f| f.beat);
        ((0.2 * beat).min(28e-3), (0.26 * beat).min(36e-3))
    }
    /// After the second hearing.
    #[must_use]
    pub fn finish(self, second: Second) -> Heard {
        let (pieces, rate) = second.finish();
        let (before, _) = self.around();
        let beat = self.followed.as_ref().map_or(1.0, |f| f.beat);
        let cells = |s: f64| (s * rate).round() as usize;
        let room = Room {
            reach: cells((0.08 * beat).min(11e-3)),
            due: cells(before),
            ahead: cells((0.1 * beat).min(13e-3)),
            behind: cells((0.16 * beat).min(20e-3)),
        };
        let ticks = matched::time_all(&pieces, rate, room);
        let seconds = self.health.frames as f64 / self.rate;
        let mut heard = Heard {
            health: self.health,
            sample_rate: self.rate,
            seconds,
            channel: (self.channel, self.channels),
            verdict: verdict::without(&self.health, seconds, self.cycle),
            beat: None,
        };
        let Some(followed) = &self.followed else { return heard };
        let Some(beat) = self.beat(followed, &ticks) else {
            heard.verdict = verdict::too_few(&ticks, seconds);
            return heard;
        };
        heard.verdict = verdict::of(&beat, &self.hint, &heard.health, seconds);
        heard.beat = Some(beat);
        heard
    }
    fn beat(&self, followed: &Followed, ticks: &[Tick]) -> Option<Beat> {
        let heard: Vec<&Tick> = ticks.iter().filter(|t| believed(t)).collect();
        let plain = line::draw(&heard, &[])?;
        let times: Vec<f64> = heard.iter().map(|t| t.time).collect();
        let found = periods::found(&times, &plain.residuals);
        let (mut periodic, mut too_slow) = (Vec::new(), Vec::new());
        for one in periods::of_wheels(&times, &plain.residuals, &self.hint.wheels) {
            match one {
                Ok(p) => periodic.push(p),
                Err(w) => too_slow.push(w),
            }
        }
        // What no wheel explains is told as well.
        let explained = |p: &Periodic| {
            let span = times.last().unwrap_or(&0.0) - times.first().unwrap_or(&0.0);
            periodic.iter().any(|w| (1.0 / w.period - 1.0 / p.period).abs() < 0.7 / span.max(1e-9))
        };
        let unnamed: Vec<Periodic> = found.into_iter().filter(|p| !explained(p)).collect();
        periodic.extend(unnamed);
        let terms: Vec<f64> = periodic.iter().filter(|p| p.real()).map(|p| p.period).take(6).collect();
        let line = line::draw(&heard, &terms).unwrap_or(plain);
        let recorder = &self.hint.recorder;
        let seconds = recorder.set_right(line.beat);
        let t95 = student(line.used as f64 - 3.0);
        let within = t95 * line.beat_error;
        let nominal = match self.hint.beats_per_hour {
            Some(n) => Some((n, true)),
            None => USUAL
                .iter()
                .copied()
                .filter(|n| (3_600.0 / n / seconds - 1.0).abs() < NEAR)
                .min_by(|a, b| (a * seconds - 3_600.0).abs().total_cmp(&(b * seconds - 3_600.0).abs()))
                .map(|n| (n, false)),
        };
        let folded =
            nominal.map_or(1, |(n, _)| if (seconds * n / 7_200.0 - 1.0).abs() < TOLD { 2 } else { 1 });
        let rate = nominal.map(|(n, _)| {
            let per = 86_400.0 * 3_600.0 / n * f64::from(folded) / seconds;
            Rate {
                value: per - 86_400.0,
                scatter: per * within / seconds,
                recorder: 0.0864 * recorder.within,
            }
        });
        let rate = rate.filter(|r| r.value.abs() < TOLD * 86_400.0);
        let first_odd = heard.first().is_some_and(|t| t.k.rem_euclid(2) != 0);
        let way = if first_odd { -1.0 } else { 1.0 };
        let beat_error = (folded == 1 && !self.hint.pulses)
            .then_some((way * 2.0 * line.gamma, 2.0 * t95 * line.gamma_error));
        let trace = heard
            .iter()
            .zip(&line.residuals)
            .map(|(t, r)| {
                let tick = (t.k.rem_euclid(2) != 0) == first_odd;
                let side = if t.k.rem_euclid(2) == 0 { line.gamma } else { -line.gamma };
                (t.time, r + side, tick)
            })
            .filter(|(_, r, _)| r.is_finite())
            .collect();
        let runs = heard.iter().map(|t| t.run).collect::<std::collections::BTreeSet<_>>().len();
        Some(Beat {
            seconds,
            within,
            nominal,
            folded,
            rate,
            beat_error,
            due: ticks.len(),
            heard: heard.len(),
            alike: middle(heard.iter().map(|t| t.alike)),
            drift: line.drift.map(|(d, e)| (d, t95 * e)),
            periodic,
            too_slow,
            others: others::find(&self.strength, &self.y, followed, ticks, &line, self.hint.pulses),
            runs,
            trace,
            line,
        })
    }
}
/// Whether what came is a tick.
#[must_use]
pub fn believed(t: &Tick) -> bool {
    t.alike >= matched::BELIEVED && t.strength >= 0.12
}
/// The cycle; where the beats are told, near them, or near half as many.
fn seek(y: &[f32], cell: f64, told: Option<f64>) -> Option<Cycle> {
    let any = beat::search(y, cell, (LEAST, MOST));
    let Some(n) = told else { return any };
    let beat = 3_600.0 / n;
    let near = |c: &Cycle, by: f64| (c.period / (by * beat) - 1.0).abs() < TOLD;
    if any.is_some_and(|c| near(&c, 1.0) || near(&c, 2.0)) {
        return any;
    }
    let around = |by: f64| beat::search(y, cell, (by * beat * (1.0 - TOLD), by * beat * (1.0 + TOLD)));
    let second = [around(2.0), around(1.0)].into_iter().flatten().find(|c| c.sure >= SURE && c.alike > 0.05);
    second.or(any)
}
/// Hears samples that are all at hand, channels in turn.
#[must_use]
pub fn hear(samples: &[f32], channels: usize, rate: f64, hint: &Hint) -> Heard {
    let mut first = First::new(rate, channels);
    let pieces = samples.chunks(65_536 / channels * channels);
    pieces.clone().for_each(|p| first.push(p));
    let between = Between::new(first, rate, hint.clone());
    let mut second = between.second();
    pieces.for_each(|p| second.push(p));
    between.finish(second)
}
