//! Beats of the two dead-beat clocks that the crosscheck follows too: for each, time and arc.
//!
//! `beats even 1.5 20`: impulse of even strength and nothing else. `beats full 1.8 20`: friction, a wheel with
//! inertia that falls, lands and runs after the face. Then the arc that settles. `beats timed even 1.5 100000`
//! prints how long they took instead.

use going::{Even, Oscillator, Side, Works};
use reckon::maths::PI;

fn main() {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let timed = words.first().is_some_and(|w| w == "timed");
    if timed {
        words.remove(0);
    }
    let d = PI / 180.0;
    let g = 9.80665;
    let full = words.first().is_some_and(|w| w == "full");
    let number = |i: usize, or: f64| words.get(i).and_then(|w| w.parse().ok()).unwrap_or(or);
    let (arc, many) = (number(1, 1.5) * d, number(2, 20.0));
    let even = Even {
        unlocks: 0.75 * d,
        lets_off: 1.25 * d,
        ratio: if full { 2.1 } else { 1.0 },
        efficiency: if full { 0.8 } else { 1.0 },
        rubs: if full { 0.12 } else { 0.0 },
        drop: if full { 1.8 * d } else { 0.0 },
        wheel: if full { 3.0e-6 } else { 0.0 },
        reach: 6.0 * d,
    };
    let torque = if full { 1.8e-4 } else { 3.4e-4 };
    let works = Works::even(Oscillator::simple(5.0, g / (PI * PI), g, 8000.0), &even);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
    let many = many as u64;
    if timed {
        let started = std::time::Instant::now();
        let ran = works.run(Side::Entry, arc, torque, many);
        println!("{:?} {:?} {:?}", started.elapsed().as_secs_f64(), ran.time, ran.arc / d);
        return;
    }
    let (mut side, mut a) = (Side::Entry, arc);
    for _ in 0..many {
        match works.beat(side, a, torque) {
            Ok(b) => {
                println!("{:?} {:?} {:?} {:?} {:?}", b.time, b.to, b.unlocked, b.let_off, b.landed);
                (side, a) = (side.other(), b.to);
            }
            Err(halt) => {
                println!("{}", halt.says());
                return;
            }
        }
    }
    if let Ok(s) = works.steady(torque) {
        println!("settles {:?} {:?}", s.arc, s.cycle() / 2.0);
    }
}
