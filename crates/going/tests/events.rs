//! Where events fall, against closed formulas, and against themselves with other steps.

mod common;

use going::poly::Poly;
use going::series::{Acts, flow};
use going::{End, Even, Oscillator, Side, Works};
use reckon::maths::{self, PI};

const D: f64 = PI / 180.0;

/// A swing on a spring alone, without loss: every event has a closed formula.
fn spring() -> Oscillator {
    Oscillator { inertia: 5.0, gravity: 0.0, stiffness: 48.0, viscous: 0.0, square: 0.0 }
}
#[test]
fn unlocking_and_letting_off_fall_where_the_formula_says() {
    let (u, v, torque) = (0.75 * D, 1.25 * D, 3.4e-2);
    let even = Even {
        unlocks: u,
        lets_off: v,
        ratio: 1.0,
        efficiency: 1.0,
        rubs: 0.0,
        drop: 0.0,
        wheel: 0.0,
        reach: 9.0 * D,
    };
    let swing = spring();
    let w = swing.frequency();
    for arc in [1.26, 1.5, 2.0, 3.7, 6.0] {
        let a = arc * D;
        let b = Works::even(swing, &even).beat(Side::Entry, a, torque).expect("goes");
        // Held: x = −A cos ωt. Pushed: the same about the middle that the torque moves by N/k.
        let unlocked = maths::acos(u / a) / w;
        let shift = torque / swing.stiffness;
        let speed = a * w * maths::sin(w * unlocked);
        let around = maths::hypot(u + shift, speed / w);
        let phase = |x: f64| maths::asin((x - shift) / around);
        let pushed = (phase(v) - phase(-u)) / w;
        let beat = PI / w;
        assert!((b.unlocked - unlocked).abs() < 1e-12 * beat, "{arc}: {} {unlocked}", b.unlocked);
        let let_off = unlocked + pushed;
        assert!((b.let_off - let_off).abs() < 1e-12 * beat, "{arc}: {} {let_off}", b.let_off);
        // The arc by energy: ½ k A′² = ½ k A² + N (u + v).
        let to = (a * a + 2.0 * torque * (u + v) / swing.stiffness).sqrt();
        assert!((b.to - to).abs() < 1e-13 * to, "{arc}: {} {to}", b.to);
        let rest = let_off + maths::acos(v / to) / w;
        assert!((b.time - rest).abs() < 1e-12 * beat, "{arc}: {} {rest}", b.time);
    }
}
#[test]
fn a_free_swing_dies_away_as_the_formula_says() {
    let swing = Oscillator { viscous: 0.02, ..spring() };
    let decay = swing.viscous / (2.0 * swing.inertia);
    let w = (swing.stiffness / swing.inertia - decay * decay).sqrt();
    let (mut x, mut v, mut time) = (0.05, 0.0, 0.0);
    for _ in 0..200 {
        let f = flow(&swing, &Acts::FREE, x, v, v >= 0.0);
        (x, v) = (f.at(f.far), f.speed(f.far));
        time += f.far;
    }
    let e = 0.05 * maths::exp(-decay * time);
    let want = e * (maths::cos(w * time) + decay / w * maths::sin(w * time));
    assert!((x - want).abs() < 1e-13, "{x} {want} after {time}");
}
#[test]
fn a_long_period_is_that_of_the_elliptic_integral() {
    // T/T0 at 90 degrees: 1.180340599016.
    let swing = Oscillator { inertia: 1.0, gravity: 1.0, stiffness: 0.0, viscous: 0.0, square: 0.0 };
    let poly = Poly::constant(0.0);
    let acts = Acts { torque: Some(&poly), times: 1.0, along: None };
    let (mut x, mut v, mut time) = (-PI / 2.0, 0.0, 0.0);
    loop {
        let f = flow(&swing, &acts, x, v, true);
        if f.at(f.far) >= 0.0 {
            // The middle, by Newton's way.
            let mut t = f.far / 2.0;
            for _ in 0..60 {
                t -= f.at(t) / f.speed(t);
            }
            time += t;
            break;
        }
        (x, v) = (f.at(f.far), f.speed(f.far));
        time += f.far;
    }
    assert!((4.0 * time / (2.0 * PI) - 1.180_340_599_016).abs() < 1e-12, "{}", 4.0 * time / (2.0 * PI));
}
#[test]
fn halved_steps_give_the_same_beat() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let (m, _) = common::changed(name, |t| t);
        let w = m.at(End::Likely);
        let t = m.supply.torque(End::Likely, 0.5);
        let s = w.steady(t).expect("goes");
        for side in [Side::Entry, Side::Exit] {
            let whole = w.beat_in_steps(side, s.arc, t, 1.0).expect("goes");
            for part in [0.5, 0.25, 0.1] {
                let b = w.beat_in_steps(side, s.arc, t, part).expect("goes");
                assert!((b.time - whole.time).abs() < 1e-12 * whole.time, "{name} {part}");
                assert!((b.to - whole.to).abs() < 1e-12 * whole.to, "{name} {part}: {} {}", b.to, whole.to);
                assert!((b.let_off - whole.let_off).abs() < 1e-12 * whole.time, "{name} {part}");
            }
        }
    }
}
#[test]
fn what_is_drawn_goes_round_and_touches() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let (m, _) = common::changed(name, |t| t);
        let f = going::film::film(&m, End::Likely, 0.5, 240).expect("goes");
        // A tooth to a cycle, and back to the same place.
        let (first, last) = (f.frames[0], f.frames[f.frames.len() - 1]);
        assert!((last.wheel - first.wheel - m.faces.pitch()).abs() < 1e-9, "{name}");
        assert!((last.pallets - first.pallets).abs() < 1e-9 && (last.time - f.cycle).abs() < 1e-12);
        assert!(
            f.frames
                .windows(2)
                .all(|w| w[1].time > w[0].time && (w[1].pallets - w[0].pallets).abs() < 0.1 * f.arc)
        );
        // The wheel never jumps: a fall is seen in its course.
        assert!(
            f.frames.windows(2).all(|w| (w[1].wheel - w[0].wheel).abs() < 0.1 * m.faces.pitch()),
            "{name}"
        );
        assert!(f.events.len() >= 8);
        for e in f.events.iter().filter(|e| e.what == "impulse") {
            let (at, force) = e.frame.touch.expect("it touches");
            assert!(at.to_vec2().hypot() <= m.drawn.radius + 1e-6);
            // The moment about the wheel is its torque.
            let torque = -at.to_vec2().cross(force) * 1e-3;
            assert!((torque / m.supply.torque(End::Likely, 0.5) - 1.0).abs() < 1e-9);
        }
    }
}
