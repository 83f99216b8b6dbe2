use super::*;
use crate::curve::{Form, Lantern, Leaf, LeafProfile, Wheel};
use crate::involute::{ANGLE, Involute};

const MU: f64 = 0.15;

fn cut(teeth: u32, leaves: u32, form: Form, profile: LeafProfile) -> Pair {
    let wheel = Wheel::new(teeth, leaves, form).expect("a form");
    let leaf = Leaf::new(leaves, profile, wheel.addendum()).expect("a leaf");
    Pair::new(&Driver::Wheel(wheel), Driven::Leaf(leaf))
}
fn ogive(teeth: u32, leaves: u32) -> Pair {
    cut(teeth, leaves, Form::Ogive, LeafProfile::A)
}
fn minutes(angle: f64) -> f64 {
    angle.to_degrees() * 60.0
}
fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

#[test]
fn true_epicycloid_with_room_after_the_line_is_even() {
    let c = run(&cut(96, 12, Form::Epicycloid, LeafProfile::A), 0.0, MU).unwrap();
    assert!(c.shared);
    near(minutes(c.transmission_error), 0.0, 0.01);
    near(c.efficiency, 0.9564, 0.002);
    near(c.torque.0, 0.9113, 0.003);
    near(c.backlash, reckon::maths::PI / 2.0 - 1.25, 1e-4);
}

#[test]
fn even_motion_without_friction_loses_nothing() {
    let c = run(&ogive(64, 8), 0.02, 0.0).unwrap();
    near(c.efficiency, 1.0, 1e-9);
    // Torque then falls as speed rises.
    near(c.torque.0 * c.speed_ratio.1, 1.0, 0.01);
}

#[test]
fn involute_keeps_its_ratio_at_any_distance() {
    let (wheel, pinion) = (Involute::new(96, -0.3, ANGLE), Involute::new(12, 0.3, ANGLE));
    for offset in [0.0, 0.05, 0.15] {
        for (one, other) in [(wheel, pinion), (pinion, wheel)] {
            let c = run(&Pair::new(&Driver::Involute(one), Driven::Involute(other)), offset, MU).unwrap();
            near(minutes(c.transmission_error), 0.0, 0.002);
            near(c.backlash, 2.0 * reckon::maths::tan(ANGLE) * offset, 0.02 * offset + 1e-5);
            assert!(c.reach > 1.3 && c.reach < 1.6, "{}", c.reach);
        }
    }
    let c = run(&Pair::new(&Driver::Involute(wheel), Driven::Involute(pinion)), 0.0, MU).unwrap();
    near(c.reach, crate::involute::pair(&wheel, &pinion).unwrap().contact_ratio, 0.005);
}

#[test]
fn lantern_works_after_the_line() {
    let wheel = Wheel::new(64, 8, Form::Lantern { pin_radius: 0.525, backlash: 0.1 }).unwrap();
    let c = run(&Pair::new(&Driver::Wheel(wheel), Driven::Lantern(Lantern::new(8, 0.525).unwrap())), 0.0, MU)
        .unwrap();
    near(minutes(c.transmission_error), 0.04, 0.02);
    near(c.start.to_degrees(), -0.176, 0.02);
    near(c.efficiency, 0.9558, 0.002);
    near(c.backlash, 0.1, 0.01);
}

#[test]
fn a_pinion_may_drive() {
    // Motion work: a leaf with a two-thirds ogive drives a wheel.
    let wheel = Wheel::new(36, 12, Form::Ogive).unwrap();
    let leaf = Leaf::new(12, LeafProfile::C, wheel.addendum()).unwrap();
    let c = run(&Pair::new(&Driver::Leaf(leaf), Driven::Wheel(wheel)), 0.0, MU).unwrap();
    assert!(c.efficiency > 0.85 && c.efficiency < 1.0, "{c:?}");
    // A pinion cut as the driver of radial flanks is even after the line.
    let pinion = Wheel::cut_at(12, 36, Form::Epicycloid, 1.0).unwrap();
    let pair =
        Pair::new(&Driver::Wheel(pinion), Driven::Wheel(Wheel::new(36, 12, Form::Epicycloid).unwrap()));
    let c = run(&pair, 0.0, MU).unwrap();
    near(minutes(c.transmission_error), 0.0, 0.02);
    near(c.backlash, 0.0, 1e-3);
}

#[test]
fn closer_ogive_runs_more_evenly_at_the_drawn_distance() {
    let fuller = run(&ogive(64, 8), 0.0, MU).unwrap();
    let closer = run(&cut(64, 8, Form::CloserOgive, LeafProfile::A), 0.0, MU).unwrap();
    assert!(closer.transmission_error < 0.6 * fuller.transmission_error);
}

#[test]
fn depth_lies_a_little_shallow_for_the_ogive() {
    let d = depth(&ogive(64, 8), &House::default()).unwrap();
    assert!(d.set.offset > 0.03 && d.set.offset < 0.10, "{d:?}");
    assert!(d.deepest.0 < d.set.offset && d.set.offset < d.shallowest.0);
    assert!(d.felt.offset > d.deepest.0 && d.felt.offset < d.shallowest.0);
    // No neighbour is better.
    for by in [-0.01, 0.01] {
        let other = run(&ogive(64, 8), d.set.offset + by, MU).unwrap();
        assert!(other.transmission_error >= d.set.contact.transmission_error);
    }
    assert_eq!(d.shallowest.1, Why::Torque);
    let strict = House { least_backlash: 0.45, ..House::default() };
    let d = depth(&ogive(64, 8), &strict).unwrap();
    assert_eq!(d.deepest.1, Why::Play);
    near(run(&ogive(64, 8), d.deepest.0, MU).unwrap().backlash, 0.45, 0.002);
}

#[test]
fn cropped_tips_shorten_the_recess_and_a_shallow_cut_takes_up_play() {
    let pair = ogive(64, 8);
    let short = pair.clone().with_driver_tip(pair.tip() - 0.4);
    let (a, b) = (run(&pair, 0.0, MU).unwrap(), run(&short, 0.0, MU).unwrap());
    assert!(b.reach < a.reach && b.start < a.start);
    near(short.tip(), pair.tip() - 0.4, 1e-9);
    let full = pair.clone().with_driver_tip(pair.tip() + 0.1);
    let c = run(&full, 0.0, MU).unwrap();
    assert!(c.backlash < a.backlash && c.tip_room.0 < a.tip_room.0);
    // Teeth 0.1 further out behave like centres nearer by about as much.
    near(c.transmission_error, run(&pair, -0.1, MU).unwrap().transmission_error, 0.003);
}

#[test]
fn runout_adds_its_wave() {
    let w = runout(&ogive(80, 10), 0.05, MU, Runout { driver: 0.0, driven: 0.02 }).unwrap();
    near(minutes(w.wave), 27.5, 0.01);
    assert!(w.error > w.wave && w.error < w.wave + 2.0 * w.worst_pitch);
    let still = runout(&ogive(80, 10), 0.05, MU, Runout::default()).unwrap();
    near(still.wave, 0.0, 0.0);
    near(still.error, run(&ogive(80, 10), 0.05, MU).unwrap().transmission_error, 2e-5);
}

#[test]
fn too_far_apart_does_not_drive() {
    assert_eq!(run(&ogive(64, 8), 3.0, MU), Err(NoDrive::Apart));
    assert_eq!(run(&ogive(64, 8), f64::NAN, MU), Err(NoDrive::Size));
}

#[test]
fn words_follow_the_depth() {
    let said = |offset| behaviour(&run(&ogive(64, 8), offset, MU).unwrap());
    assert_eq!(said(-0.15), Behaviour::Drops);
    assert_eq!(said(0.06), Behaviour::Runs);
    assert_eq!(said(0.25), Behaviour::Butts);
    assert_eq!(said(-0.6), Behaviour::Jams);
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]
    /// Whatever runs keeps to its pitch, loses work only to friction, and gains play with the distance.
    #[test]
    fn laws_of_any_pair(teeth in 30_u32..120, leaves in 7_u32..16, offset in -0.1_f64..0.2, mu in 0.01_f64..0.3) {
        let pair = ogive(teeth, leaves);
        let c = run(&pair, offset, mu).expect("drives");
        assert!((c.approach + c.recess - c.pitch).abs() < 1e-12 && c.approach >= 0.0);
        assert!(c.efficiency > 0.0 && c.efficiency < 1.0);
        assert!(c.efficiency < run(&pair, offset, mu / 2.0).expect("drives").efficiency);
        assert!(c.backlash < run(&pair, offset + 0.02, mu).expect("drives").backlash);
        // Over a pitch the mean speed is even: its range lies about 1.
        assert!(c.speed_ratio.0 <= 1.0 && c.speed_ratio.1 >= 1.0);
        let (a, b) = (pair.demanded(offset, c.start).expect("touch"), pair.demanded(offset, c.end).expect("touch"));
        assert!((b - a - 2.0 * reckon::maths::PI / f64::from(leaves)).abs() < 1e-6);
    }
}
