//! What is heard in a recording, for the crosscheck: trust, beats, rate and its doubt in s/day, beat error in ms,
//! and the least time of so many hearings, reading of the samples not counted.
//!
//! `heard FILE.wav BEATS_PER_HOUR 3`

use listen::wav::Reader;
use listen::{Hint, Recorder, hear};
use std::time::Instant;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let bytes = std::fs::read(&words[0]).expect("a recording");
    let beats_per_hour = words.get(1).and_then(|w| w.parse().ok());
    let times: u32 = words.get(2).and_then(|w| w.parse().ok()).unwrap_or(1);
    let (mut reader, mut samples) = (Reader::new(), Vec::new());
    reader.feed(&bytes, &mut samples).expect("a recording");
    let format = reader.format().expect("a head");
    let recorder = Recorder { ppm: 0.0, within: 0.0, known: true };
    let hint = Hint { beats_per_hour, recorder, ..Hint::default() };
    let mut least = f64::INFINITY;
    let mut heard = None;
    for _ in 0..times.max(1) {
        let started = Instant::now();
        heard = Some(hear(&samples, format.channels, f64::from(format.rate), &hint));
        least = least.min(started.elapsed().as_secs_f64());
    }
    let Some(heard) = heard else { return };
    let beat = heard.beat.as_ref();
    let (rate, within) = beat.and_then(|b| b.rate).map_or((f64::NAN, f64::NAN), |r| (r.value, r.scatter));
    let (error, _) = beat.and_then(|b| b.beat_error).unwrap_or((f64::NAN, f64::NAN));
    let count = beat.map_or(0, |b| b.heard);
    println!("{:?} {count} {rate:?} {within:?} {:?} {least:?}", heard.verdict.trust, error * 1e3);
}
