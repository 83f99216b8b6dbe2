//! The second hearing: only the short pieces around the beats that are due, as fine as they were recorded.

use crate::follow::Due;
use crate::sieve::Sieve;

/// The piece of sound around one beat.
#[derive(Clone, PartialEq, Debug)]
pub struct Piece {
    /// The beat.
    pub due: Due,
    /// Time of the first answer, s.
    pub begin: f64,
    /// The tick band with its carrier taken out.
    pub z: Vec<(f32, f32)>,
}
/// What to cut out.
#[derive(Clone, PartialEq, Debug)]
pub struct Cuts {
    /// Samples a second.
    pub rate: f64,
    /// Channels of the recording.
    pub channels: usize,
    /// The channel that is heard.
    pub channel: usize,
    /// Beats that are due.
    pub due: Vec<Due>,
    /// Time before a beat, s.
    pub before: f64,
    /// Time after it, s.
    pub after: f64,
}
/// Hears a recording for the second time, in pieces of any length.
#[derive(Clone, Debug)]
pub struct Second {
    cuts: Cuts,
    sieve: Sieve,
    held: Vec<f32>,
    /// Number of the first sample that is held.
    from: usize,
    next: usize,
    pieces: Vec<Piece>,
}
impl Second {
    /// Before the first sample.
    #[must_use]
    pub fn new(cuts: Cuts) -> Second {
        let sieve = Sieve::new(cuts.rate);
        Second { cuts, sieve, held: Vec::new(), from: 0, next: 0, pieces: Vec::new() }
    }
    /// Samples that a beat needs; `None` where they begin before the recording.
    fn needs(&self, due: Due) -> Option<(usize, usize)> {
        let first = ((due.time - self.cuts.before) * self.cuts.rate).floor() - self.sieve.centre() as f64;
        let long = ((self.cuts.before + self.cuts.after) * self.cuts.rate) as usize + self.sieve.span();
        (first >= 0.0).then(|| (first as usize, first as usize + long))
    }
    /// Takes samples, channels in turn; whole ones only.
    pub fn push(&mut self, samples: &[f32]) {
        let n = self.cuts.channels;
        let coming = samples.len() / n;
        let end = self.from + self.held.len() + coming;
        // What lies before the next beat is not needed.
        let wanted = loop {
            let Some(due) = self.cuts.due.get(self.next) else { break usize::MAX };
            match self.needs(*due) {
                Some((first, _)) => break first,
                None => self.next += 1,
            }
        };
        if wanted >= end {
            (self.from, self.held) = (end, Vec::new());
            return;
        }
        let own = samples.iter().skip(self.cuts.channel).step_by(n);
        self.held.extend(own.map(|x| if x.is_finite() { x.clamp(-1e6, 1e6) } else { 0.0 }));
        while let Some(due) = self.cuts.due.get(self.next) {
            let Some((first, last)) = self.needs(*due) else {
                self.next += 1;
                continue;
            };
            if last > end {
                break;
            }
            if first >= self.from {
                let z = self.sieve.still(&self.held[first - self.from..last - self.from]);
                let begin = (first + self.sieve.centre()) as f64 / self.cuts.rate;
                self.pieces.push(Piece { due: *due, begin, z });
            }
            self.next += 1;
        }
        let keep = self.cuts.due.get(self.next).and_then(|d| self.needs(*d)).map_or(end, |n| n.0);
        let drop = keep.saturating_sub(self.from).min(self.held.len());
        self.held.drain(..drop);
        self.from += drop;
    }
    /// After the last sample: the pieces, and their samples a second.
    #[must_use]
    pub fn finish(self) -> (Vec<Piece>, f64) {
        (self.pieces, self.sieve.out_rate())
    }
}
