use super::*;
use crate::curve::{Form, Wheel};
use crate::outline::{TOLERANCE, wheel, wheel_flat};
use proptest::prelude::*;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}
const PARALLEL: Crossing = Crossing { arms: 5, rim: 30.0, hub: 8.0, at_hub: 3.0, at_rim: 3.0, fillet: 0.0 };
const TAPERED: Crossing = Crossing { arms: 6, rim: 40.0, hub: 9.0, at_hub: 5.0, at_rim: 3.5, fillet: 1.5 };

#[test]
fn areas_of_windows() {
    near(PARALLEL.window().unwrap().area(), 459.170, 0.001);
    near(parallel_area(5, 30.0, 8.0, 3.0), 459.170, 0.001);
    near(TAPERED.sharp().window().unwrap().area(), 663.05, 0.01);
    // The source rounds its corners by many short chords, and so finds a hundredth less.
    near(TAPERED.window().unwrap().area(), 661.47, 0.02);
    // Corners of 1 mm.
    near(Crossing { fillet: 1.0, ..PARALLEL }.window().unwrap().area(), 458.43, 0.01);
}

#[test]
fn where_arms_meet() {
    near(PARALLEL.arms_meet(), 2.5520, 0.0001);
    let tight = Crossing { hub: 2.5, ..PARALLEL };
    assert!(matches!(tight.judged(), Err(Cannot::ArmsMeet { .. })));
    let touching = Crossing { hub: PARALLEL.arms_meet(), ..PARALLEL };
    assert!(touching.judged().is_ok());
}

#[test]
fn corners_that_collide_say_what_would_do() {
    let asked = Crossing { hub: 3.0, fillet: 1.5, ..PARALLEL };
    let Err(Cannot::HubCorners { fillet, hub }) = asked.judged() else { panic!("{:?}", asked.judged()) };
    assert!(Crossing { fillet: fillet - 1e-6, ..asked }.judged().is_ok());
    assert!(Crossing { fillet: fillet + 1e-6, ..asked }.judged().is_err());
    assert!(Crossing { hub: hub + 1e-6, ..asked }.judged().is_ok());
    let asked = Crossing { arms: 12, fillet: 6.0, hub: 20.0, ..PARALLEL };
    let Err(Cannot::RimCorners { fillet }) = asked.judged() else { panic!("{:?}", asked.judged()) };
    assert!(fillet > 0.0 && fillet < 6.0);
}

#[test]
fn a_crossed_wheel_is_sound_and_lighter() {
    let w = Wheel::new(80, 8, Form::Ogive).unwrap();
    let (outside, root) = (0.75 * 2.0 * w.tip_radius(), 0.75 * 2.0 * w.root_radius());
    let c = proportions(outside, root, 6.0).unwrap();
    let solid = wheel_flat(wheel(&w, 0.75, TOLERANCE).profile, 6.0, Vec::new(), 2.0);
    let flat = wheel_flat(solid.outline.clone(), 6.0, c.windows().unwrap(), 2.0);
    assert_eq!(flat.amiss(), Vec::new());
    assert!(flat.mass(8500.0) < 0.75 * solid.mass(8500.0));
    assert!(flat.inertia(8500.0) < solid.inertia(8500.0));
    assert_eq!(proportions(10.0, 9.0, 2.0), None);
}

#[test]
fn second_moment_of_a_window_against_strips() {
    let window = TAPERED.window().unwrap();
    // Fine polygon: triangles of the chords, the sagitta far below what is asked.
    let points = window.sampled(1e-6);
    let sum: f64 = points
        .windows(2)
        .map(|p| {
            let (a, b) = (p[0].to_vec2(), p[1].to_vec2());
            a.cross(b) * (a.dot(a) + a.dot(b) + b.dot(b)) / 12.0
        })
        .sum();
    near(window.polar_moment() / sum, 1.0, 1e-6);
}

proptest! {
    #[test]
    fn a_window_that_is_drawn_is_sound(
        arms in 3_u32..9, rim in 10.0_f64..60.0, hub in 0.1_f64..0.6, wide in 0.02_f64..0.15,
        taper in 0.6_f64..1.0, fillet in 0.0_f64..0.06,
    ) {
        let c = Crossing {
            arms, rim, hub: rim * hub, at_hub: rim * wide, at_rim: rim * wide * taper, fillet: rim * fillet,
        };
        if c.judged().is_ok() {
            let w = c.window().unwrap();
            prop_assert!(w.is_closed());
            prop_assert!(w.crosses_itself().is_none(), "{:?}", w.crosses_itself());
            let sharp = c.sharp().window().unwrap().area();
            // Four corners, each taking less than its fillet squared.
            prop_assert!(w.area() <= sharp + 1e-9 && sharp - w.area() < 4.0 * c.fillet * c.fillet + 1e-9);
            if (taper - 1.0).abs() < 1e-12 {
                prop_assert!((sharp - parallel_area(arms, rim, c.hub, c.at_hub)).abs() < 1e-9);
            }
        }
    }
}
