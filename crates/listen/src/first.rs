//! The first hearing: how strong the sound of the tick band is, thousandth by thousandth of a second,
//! and what is wrong with the recording as such.

use crate::sieve::Sieve;

/// Length of a cell of the first hearing, s, as nearly as whole samples allow.
const CELL: f64 = 1.0e-3;
/// From here on a sample counts as cut off.
const FULL: f32 = 0.999;

/// What is wrong with the samples of a recording.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Health {
    /// Samples of each channel.
    pub frames: u64,
    /// Samples at full scale in runs of three or more: cut off.
    pub clipped: u64,
    /// Samples that are no number; taken as silence.
    pub no_number: u64,
    /// Largest sample, 1 at full scale.
    pub peak: f64,
}
/// Strength of the tick band in one channel.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Strength {
    /// Mean energy of each cell.
    pub cells: Vec<f32>,
    /// Length of a cell, s.
    pub cell: f64,
    /// Middle of the first cell, s.
    pub begin: f64,
}
impl Strength {
    /// Time of the middle of a cell, s.
    #[must_use]
    pub fn time(&self, cell: f64) -> f64 {
        self.begin + cell * self.cell
    }
    /// Cell at a time, which may lie outside.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        (time - self.begin) / self.cell
    }
}
/// Hears a recording for the first time, in pieces of any length.
#[derive(Clone, Debug)]
pub struct First {
    sieve: Sieve,
    channels: Vec<Channel>,
    health: Health,
    /// Answers of the sieve in a cell.
    in_cell: usize,
}
#[derive(Clone, Debug, Default)]
struct Channel {
    held: Vec<f32>,
    strength: Vec<f32>,
    sum: f32,
    added: usize,
    run: u64,
}
impl First {
    /// Before the first sample.
    #[must_use]
    pub fn new(rate: f64, channels: usize) -> First {
        let sieve = Sieve::new(rate);
        let in_cell = ((CELL * sieve.out_rate()).round() as usize).max(1);
        First { sieve, channels: vec![Channel::default(); channels], health: Health::default(), in_cell }
    }
    /// Takes samples, channels in turn; whole ones only.
    pub fn push(&mut self, samples: &[f32]) {
        let n = self.channels.len();
        self.health.frames += (samples.len() / n) as u64;
        for (i, channel) in self.channels.iter_mut().enumerate() {
            let before = channel.held.len();
            channel.held.extend(samples.iter().skip(i).step_by(n));
            for x in &mut channel.held[before..] {
                if !x.is_finite() {
                    self.health.no_number += 1;
                    *x = 0.0;
                }
                let size = x.abs();
                self.health.peak = self.health.peak.max(f64::from(size));
                if size >= FULL {
                    channel.run += 1;
                    self.health.clipped += match channel.run {
                        3 => 3,
                        4.. => 1,
                        _ => 0,
                    };
                } else {
                    channel.run = 0;
                }
                // What a float may hold and no recorder gives.
                *x = x.clamp(-1e6, 1e6);
            }
            let Channel { held, strength, sum, added, .. } = channel;
            let used = self.sieve.all(held, |re, im| {
                *sum += re * re + im * im;
                *added += 1;
                if *added == self.in_cell {
                    strength.push(*sum / *added as f32);
                    (*sum, *added) = (0.0, 0);
                }
            });
            held.drain(..used);
        }
    }
    /// After the last sample.
    #[must_use]
    pub fn finish(self) -> (Health, Vec<Strength>) {
        let (step, rate) = (self.sieve.step as f64, self.sieve.rate);
        let cell = self.in_cell as f64 * step / rate;
        let begin = (self.sieve.centre() as f64 + (self.in_cell - 1) as f64 / 2.0 * step) / rate;
        let of = |c: Channel| Strength { cells: c.strength, cell, begin };
        (self.health, self.channels.into_iter().map(of).collect())
    }
}
