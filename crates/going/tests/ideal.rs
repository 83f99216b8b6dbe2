//! Dead-beat escapements of even strength against a general integrator of high order (DOP853 of SciPy with
//! events, relative tolerance 1e-13; a 30-digit Taylor integration agrees) and closed forms.

use going::{Even, Oscillator, Side, Works};
use reckon::maths::PI;

const DEGREE: f64 = PI / 180.0;
const G: f64 = 9.80665;

fn pendulum(quality: f64) -> Oscillator {
    Oscillator::simple(5.0, G / (PI * PI), G, quality)
}
fn even(ratio: f64, efficiency: f64, rubs: f64, drop: f64, wheel: f64) -> Even {
    let d = DEGREE;
    Even {
        unlocks: 0.75 * d,
        lets_off: 1.25 * d,
        ratio,
        efficiency,
        rubs,
        drop: drop * d,
        wheel,
        reach: 6.0 * d,
    }
}
fn ideal(quality: f64) -> Works {
    Works::even(pendulum(quality), &even(1.0, 1.0, 0.0, 0.0, 0.0))
}
#[track_caller]
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} for {want} ± {within}");
}

#[test]
fn the_settled_swing_of_even_impulse() {
    let s = ideal(8000.0).steady(3.4e-4).expect("goes");
    near(s.arc / DEGREE, 2.018_192_492_224, 2e-10);
    near(s.cycle() / 2.0, 1.000_086_589_232_039, 1e-13);
    near(s.rate(1.0), -7.480_661_903_36, 1e-8);
    near(s.beats[0].ledger.pushed, 1.186_823_891_4e-5, 1e-14);
    near(ideal(8000.0).swing.energy(s.arc, 0.0), 0.030_221_541_9, 1e-9);
    for b in s.beats {
        assert!(b.ledger.off_by().abs() < 1e-9 * b.ledger.lost(), "{:?}", b.ledger);
    }
}
#[test]
fn weaker_impulse_and_better_pendulum() {
    let s = ideal(8000.0).steady(3.06e-4).expect("goes");
    near(s.arc / DEGREE, 1.914_620_27, 1e-8);
    near(s.rate(1.0), -6.870_50, 1e-5);
    let s = ideal(12000.0).steady(3.4e-4).expect("goes");
    near(s.arc / DEGREE, 2.471_801_49, 1e-8);
    near(s.rate(1.0), -10.451_19, 1e-5);
}
#[test]
fn from_rest_at_a_small_arc() {
    for (n, time, arc) in [
        (1, 1.000_069_408, 1.500_238_584_468),
        (10, 10.000_693_919, 1.502_379_935),
        (100, 100.006_926_141, 1.523_222_759),
        (1000, 1_000.069_669_172, 1.685_853_967),
        (5000, 5_000.381_419_469, 1.953_772_861),
    ] {
        let r = ideal(8000.0).run(Side::Entry, 1.5 * DEGREE, 3.4e-4, n);
        near(r.time, time, 1.0e-9);
        near(r.arc / DEGREE, arc, 1e-9);
    }
}
#[test]
fn rubbing_on_the_dead_face() {
    let e = even(2.1, 0.8, 0.12, 1.8, 0.0);
    let s = Works::even(pendulum(8000.0), &e).steady(1.8e-4).expect("goes");
    near(s.arc / DEGREE, 1.844_990_8, 1e-6);
    near(s.rate(1.0), -6.611_11, 2e-5);
}
#[test]
fn a_wheel_with_inertia_adds_up() {
    let e = even(2.1, 0.8, 0.12, 1.8, 3.0e-6);
    let w = Works::even(pendulum(8000.0), &e);
    let s = w.steady(1.8e-4).expect("goes");
    for b in s.beats {
        assert!(b.ledger.off_by().abs() < 1e-9 * b.ledger.lost(), "{} {:?}", b.ledger.off_by(), b.ledger);
    }
    let least = w.least_arc(1.8e-4).expect("goes");
    assert!(least > 1.25 * DEGREE && least < s.arc);
}

/// Numbers of a line `name = …` below a head of the data.
fn numbers(data: &str, head: &str, name: &str) -> Vec<f64> {
    let below = data.split(&format!("[{head}]")).nth(1).expect("its head");
    let line = below.lines().find(|l| l.starts_with(&format!("{name} = "))).expect("its line");
    let figures = line.split('=').nth(1).expect("its value").replace(['[', ']'], " ");
    figures.split([',', ' ']).filter(|w| !w.is_empty()).map(|w| w.parse().expect("a number")).collect()
}
#[test]
fn the_first_beats_of_the_reference() {
    // crosscheck/going.py: DOP853 of SciPy with events, 1e-13; its bounds: 1e-11 of the beat, 1e-12 rad.
    let data = include_str!("../../../crosscheck/data/going.toml");
    for (name, torque, of) in
        [("even", 3.4e-4, even(1.0, 1.0, 0.0, 0.0, 0.0)), ("full", 1.8e-4, even(2.1, 0.8, 0.12, 1.8, 3.0e-6))]
    {
        let w = Works::even(pendulum(8000.0), &of);
        let mut arc = numbers(data, name, "arc")[0] * DEGREE;
        let mut side = Side::Entry;
        for want in numbers(data, name, "beats").chunks(5) {
            let b = w.beat(side, arc, torque).expect("goes");
            near(b.time, want[0], 1e-11);
            near(b.to, want[1], 1e-12);
            for (got, want) in [b.unlocked, b.let_off, b.landed].into_iter().zip(&want[2..]) {
                near(got, *want, 1e-11);
            }
            (arc, side) = (b.to, side.other());
        }
        let s = w.steady(torque).expect("goes");
        near(s.arc, numbers(data, name, "settles")[0], 1e-11);
        near(s.cycle() / 2.0, numbers(data, name, "beat")[0], 1e-12);
    }
}
