//! Eight days of seconds beats, every one followed: how long it takes, and what came out.

use going::{Even, Oscillator, Side, Works};
use reckon::maths::PI;

fn main() {
    let beats: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(691_200);
    let d = PI / 180.0;
    let g = 9.80665;
    let even = Even {
        unlocks: 0.75 * d,
        lets_off: 1.25 * d,
        ratio: 1.0,
        efficiency: 1.0,
        rubs: 0.0,
        drop: 0.0,
        wheel: 0.0,
        reach: 6.0 * d,
    };
    let works = Works::even(Oscillator::simple(5.0, g / (PI * PI), g, 8000.0), &even);
    let started = std::time::Instant::now();
    let ran = works.run(Side::Entry, 1.5 * d, 3.4e-4, beats);
    let took = started.elapsed().as_secs_f64();
    println!(
        "{{\"beats\": {}, \"seconds\": {took}, \"time\": {:?}, \"arc\": {:?}}}",
        ran.beats,
        ran.time,
        ran.arc / d
    );
}
