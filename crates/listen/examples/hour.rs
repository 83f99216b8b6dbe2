//! Writes a recording of a clock that was never made, for the bench: WAV of one channel, 16 bits.
//!
//! `hour FILE.wav 3600 48000`: seconds, samples a second.

use listen::synthetic::Synthetic;

fn main() -> std::io::Result<()> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |i: usize, or: u32| words.get(i).and_then(|w| w.parse().ok()).unwrap_or(or);
    let (seconds, rate) = (number(1, 3600), number(2, 48_000));
    let made = Synthetic { seconds: f64::from(seconds), rate: f64::from(rate), ..Synthetic::default() };
    let samples = made.samples();
    let size = u32::try_from(2 * samples.len()).expect("less than two hours");
    let mut bytes = Vec::with_capacity(samples.len() * 2 + 44);
    bytes.extend(b"RIFF");
    bytes.extend((36 + size).to_le_bytes());
    bytes.extend(b"WAVEfmt ");
    bytes.extend(16_u32.to_le_bytes());
    bytes.extend(1_u16.to_le_bytes());
    bytes.extend(1_u16.to_le_bytes());
    bytes.extend(rate.to_le_bytes());
    bytes.extend((2 * rate).to_le_bytes());
    bytes.extend(2_u16.to_le_bytes());
    bytes.extend(16_u16.to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(size.to_le_bytes());
    bytes.extend(samples.iter().flat_map(|s| s.to_le_bytes()));
    std::fs::write(words.first().map_or("hour.wav", String::as_str), bytes)
}
