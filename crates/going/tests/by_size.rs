//! What each size does, against closed forms of the pendulum and against the design's own slopes.

mod common;

use going::forecast::by_size::{change, hung};
use going::forecast::forecast;
use going::model::{Hangs, Part};
use going::{End, Even, Works};
use pendulum::compound::{Body, Form, Pendulum};
use reckon::maths::PI;

const DAY: f64 = 86_400.0;
const DEGREE: f64 = PI / 180.0;
const G: f64 = 9.80665;

#[track_caller]
fn near(got: f64, want: f64, part: f64) {
    assert!((got - want).abs() <= part * want.abs(), "{got} for {want}, to {part}");
}
/// A bob in one place on a weightless rod that beats seconds, driven by an even dead-beat escapement.
fn simple(quality: f64) -> (Hangs, Works) {
    let bob = Body::heavy("bob", Form::Known { spread: 0.0 }, 5.0, G / (PI * PI));
    let made = Pendulum { fixed: Vec::new(), moving: vec![bob] };
    let hangs = Hangs { made, strip: None, crutch: [0.0; 2], gravity: G, quality };
    let even = Even {
        unlocks: 0.75 * DEGREE,
        lets_off: 1.25 * DEGREE,
        ratio: 1.0,
        efficiency: 1.0,
        rubs: 0.0,
        drop: 0.0,
        wheel: 0.0,
        reach: 8.0 * DEGREE,
    };
    let works = Works::even(hangs.oscillator(), &even);
    (hangs, works)
}
fn settles(w: &Works, torque: f64) -> Option<(f64, f64)> {
    let s = w.steady(torque).ok()?;
    Some((s.rate(1.0), f64::midpoint(s.beats[0].to, s.beats[1].to)))
}
/// Rate and arc that a size of the simple pendulum brings.
fn brings(part: Part, h: f64) -> (f64, f64) {
    let (hangs, works) = simple(8000.0);
    let at = |x: f64| settles(&hung(&works, &hangs.larger(part, x)?), 3.4e-4);
    change(h, &at).expect("goes").0
}

/// dT/T = dL/2L and −dg/2g, of the simple pendulum. Circular and escapement error follow the arc, whose square
/// goes with 1/(m g L) at one torque and one Q: −7.5 s/day at 2.02° moves by its part of that, which is taken off.
#[test]
fn length_and_gravity_are_those_of_the_simple_pendulum() {
    let length = G / (PI * PI);
    let by_arc = |part: f64| {
        // By the same arc, brought by torque instead.
        let (_, w) = simple(8000.0);
        let at = |x: f64| settles(&w, 3.4e-4 * (1.0 + x));
        change(part, &at).expect("goes").0.0
    };
    let h = 1e-4;
    near(brings(Part::BobLower, h).0 + by_arc(h / length), -DAY * h / (2.0 * length), 2e-4);
    let h = 1e-4;
    near(brings(Part::Gravity, h).0 + by_arc(h / G), DAY * h / (2.0 * G), 2e-3);
}
/// The square of the arc goes with torque and Q, and with one over the mass.
#[test]
fn arc_goes_with_the_root_of_drive_and_quality() {
    let arc = settles(&simple(8000.0).1, 3.4e-4).expect("goes").1;
    // Half of a hundredth, but for what the push at an angle takes: cos of a small arc.
    near(brings(Part::Quality, 0.01).1, arc * 0.005, 5e-3);
    near(brings(Part::BobHeavier, 0.01).1, -arc * 0.005, 5e-3);
}
/// Torque a hundredth more: circular and escapement error together, by the averaged push (`pendulum::impulse`,
/// checked against published figures in `checks/published`).
#[test]
fn drive_does_what_averaging_says() {
    let (_, w) = simple(8000.0);
    let arc = settles(&w, 3.4e-4).expect("goes").1;
    let push = pendulum::impulse::Push { before: 0.75 * DEGREE, after: 1.25 * DEGREE };
    let want = push.per_drive(arc, 8000.0).expect("reaches") / 100.0;
    let at = |x: f64| settles(&w, 3.4e-4 * (1.0 + x));
    near(change(0.01, &at).expect("goes").0.0, want, 5e-3);
}
/// In the examples: a turn of the nut, as the design has it from the bodies alone, and gravity.
#[test]
fn movements_agree_with_the_design() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let (m, mut book) = common::changed(name, |t| t);
        let f = forecast(&m, &mut book);
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        let sizes = f.by_size.expect("it goes");
        let si = |name: &str| book.find(name).and_then(|(_, l)| l.si).unwrap_or_else(|| panic!("no {name}"));
        // What the arc and the crutch add is some thousandths; down is the other way of up.
        let turn = si("going.by_size.nut_turn.rate_s_per_day");
        near(turn, -si("pendulum.nut.turn_s_per_day"), 1e-2);
        let lower = si("going.by_size.bob_lower.rate_s_per_day") / si("going.by_size.bob_lower.more_by");
        near(lower, turn / si("pendulum.nut.pitch"), 3e-3);
        near(si("going.by_size.gravity.rate_s_per_day"), DAY * 1e-4 / (2.0 * m.hangs.gravity), 1e-2);
        // Sorted, and every one that is told goes.
        let rates: Vec<f64> =
            sizes.leans.iter().map(|l| l.does.expect("goes").0.bare().value().abs()).collect();
        assert!(rates.len() >= 24 && rates.windows(2).all(|w| w[0] >= w[1]), "{rates:?}");
    }
}
/// Masses, stiffness, torque and the wheel's inertia, all of them larger by one part: forces and what they move
/// grow alike, so that nothing changes.
#[test]
fn all_that_has_mass_together_does_nothing() {
    let (m, _) = common::changed("regulator", |t| t);
    let works = m.at(End::Likely);
    let torque = m.supply.torque(End::Likely, 0.5);
    let k = 1.02;
    let mut heavy = m.hangs.larger(Part::StripStiffer, k - 1.0).expect("a strip");
    heavy.made.fixed.iter_mut().chain(&mut heavy.made.moving).for_each(|b| b.mass *= k);
    heavy.crutch = heavy.crutch.map(|c| c * k);
    let mut other = hung(works, &heavy);
    other.wheel *= k;
    let beat = m.beat.bare().value();
    let (a, b) = (works.steady(torque).expect("goes"), other.steady(torque * k).expect("goes"));
    assert!((a.rate(beat) - b.rate(beat)).abs() < 1e-6 && (a.arc - b.arc).abs() < 1e-10);
    // Without one of them it does change.
    let c = other.steady(torque).expect("goes");
    assert!((a.arc - c.arc).abs() > 1e-5);
}
/// The model's own pendulum, put together anew from its bodies, is the one that the design made beat.
#[test]
fn bodies_are_those_of_the_design() {
    let (m, _) = common::changed("regulator", |t| t);
    let swing = m.hangs.oscillator();
    assert_eq!(swing, m.at(End::Likely).swing);
    // Without the crutch, which the bob's place does not know of, it beats at its running arc: circular error taken off.
    let alone = Hangs { crutch: [0.0; 2], ..m.hangs.clone() }.oscillator();
    let beat = PI / alone.frequency() / pendulum::swing::slowing(m.arc.bare().value());
    near(beat, m.beat.bare().value(), 1e-5);
    // The crutch is a short pendulum of a few grams: it quickens by some seconds a day.
    let quicker = DAY * (swing.frequency() / alone.frequency() - 1.0);
    let [inertia, moment] = m.hangs.crutch;
    let rule = DAY / 2.0 * (moment * m.hangs.gravity / alone.gravity - inertia / alone.inertia);
    assert!(quicker > 0.5 && quicker < 20.0, "{quicker}");
    near(quicker, rule, 0.02);
    for part in [Part::RodLonger, Part::BobWider, Part::StripLonger, Part::NutHeavier] {
        assert_eq!(m.hangs.larger(part, 0.0).expect("it has one"), m.hangs);
    }
    let none = Hangs { strip: None, ..m.hangs.clone() };
    assert!(none.larger(Part::StripWider, 1e-4).is_none());
}
/// A change that leads to an edge is told from the other side; where there is none, nothing is.
#[test]
fn at_an_edge_one_side_tells() {
    let at = |x: f64| (x <= 0.0).then_some((3.0 * x + x * x, x));
    let ((rate, arc), off) = change(0.2, &at).expect("one side");
    assert!((rate - 0.2 * (3.0 - 0.1)).abs() < 1e-12 && (arc - 0.2).abs() < 1e-12 && off > 0.0);
    assert!(change(0.2, &|_| None).is_none());
}
