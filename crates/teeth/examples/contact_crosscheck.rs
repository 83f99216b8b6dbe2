//! Prints three pairs for crosscheck/contact.py: corner points of one tooth's flank and one leaf's side,
//! the angle of the pinion at given turns of the wheel, and the time that one takes.
//!
//! Each pair: `pair NAME teeth leaves offset tip-of-pinion`, lines `wheel rho half` and `pinion rho half`
//! from root to tip, lines `at theta phi`, both in radians from where the pitch points stand on the line of
//! centres, and `seconds` for one run over a pitch.

use std::time::Instant;
use teeth::contact::{Driven, Driver, Pair, run};
use teeth::curve::{Form, Leaf, LeafProfile, Wheel};

/// Points of a side.
const POINTS: u32 = 4000;
/// Turns of the wheel.
const POSITIONS: u32 = 6;
/// Runs of which the quickest counts.
const RUNS: u32 = 20;

fn main() {
    for (name, teeth, leaves, form, offset) in [
        ("64/8 ogive", 64, 8, Form::Ogive, 0.0),
        ("60/10 epicycloid", 60, 10, Form::Epicycloid, 0.05),
        ("96/12 ogive", 96, 12, Form::Ogive, 0.1),
    ] {
        let wheel = Wheel::new(teeth, leaves, form).expect("a form");
        let leaf = Leaf::new(leaves, LeafProfile::A, wheel.addendum()).expect("a leaf");
        println!("pair {name}, {teeth} {leaves} {offset}");
        for (rho, half) in wheel.flank(2 * POINTS as usize) {
            println!("wheel {rho:?} {half:?}");
        }
        let (root, tip) = (leaf.root_radius(), leaf.tip_radius());
        for i in 0..=POINTS {
            // Closer together towards the rounded tip.
            let u = 1.0 - f64::from(i) / f64::from(POINTS);
            let rho = tip - (tip - root) * u * u;
            println!("pinion {rho:?} {:?}", leaf.half_angle(rho).expect("between root and tip"));
        }
        let pair = Pair::new(&Driver::Wheel(wheel), Driven::Leaf(leaf));
        let contact = run(&pair, offset, 0.15).expect("drives");
        for i in 0..POSITIONS {
            // Well inside the pitch that the tooth carries.
            let theta = contact.start + contact.pitch * (f64::from(i) + 0.5) / f64::from(POSITIONS);
            println!("at {theta:?} {:?}", pair.demanded(offset, theta).expect("touches"));
        }
        let mut least = f64::INFINITY;
        for _ in 0..RUNS {
            let begun = Instant::now();
            run(&pair, offset, 0.15).expect("drives");
            least = least.min(begun.elapsed().as_secs_f64());
        }
        println!("seconds {least:?}");
    }
}
