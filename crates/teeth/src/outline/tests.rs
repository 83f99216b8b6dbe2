use super::*;
use crate::curve::{LeafProfile, practical_addendum};
use crate::involute::ANGLE;
use proptest::prelude::*;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

/// Area inside a ring of teeth from its half-angles, by Simpson's rule between the radii given.
fn area(teeth: u32, radii: &[f64], half: impl Fn(f64) -> f64) -> f64 {
    let mut sum = PI * radii[0] * radii[0];
    for pair in radii.windows(2) {
        let (steps, (a, b)) = (2000, (pair[0], pair[1]));
        let h = (b - a) / f64::from(steps);
        for i in 0..steps {
            let r = a + h * f64::from(i);
            let f = |r: f64| half(r) * r;
            sum += 2.0 * f64::from(teeth) * h / 6.0 * (f(r) + 4.0 * f(r + h / 2.0) + f(r + h));
        }
    }
    sum
}

/// What every ring of teeth must be.
fn sound(o: &Outline, teeth: u32, root: f64, tip: f64) {
    assert!(o.profile.is_closed());
    assert_eq!(o.profile.crosses_itself(), None);
    let a = o.profile.area();
    assert!(a > PI * root * root && a < PI * tip * tip, "{a}");
    // The same after a turn by one tooth and after a mirror about the first tooth's axis.
    let step = 2.0 * PI / f64::from(teeth);
    for s in o.profile.segments().iter().step_by(7) {
        for p in [s.at(0.3), s.at(0.9)] {
            near(o.profile.distance_to(mirrored(p)), 0.0, 1e-7);
            near(o.profile.distance_to(turned(p, step)), 0.0, 1e-7);
            let r = p.to_vec2().hypot2().sqrt();
            assert!(r > root - 1e-7 && r < tip + 1e-7, "{r} outside {root} … {tip}");
        }
    }
}

#[test]
fn wheels_of_every_form() {
    let lantern = Form::Lantern { pin_radius: 0.525, backlash: 0.1 };
    for form in [Form::Ogive, Form::CloserOgive, Form::Epicycloid, lantern] {
        let w = Wheel::new(64, 8, form).unwrap();
        let o = wheel_rooted(&w, 0.8, Root::Square, TOLERANCE);
        assert!(o.reached <= TOLERANCE, "{form:?} {}", o.reached);
        sound(&o, 64, 0.8 * w.root_radius(), 0.8 * w.tip_radius());
        let radii = [w.root_radius(), w.radial_to(), w.tip_radius()];
        let want = 0.64 * area(64, &radii, |r| w.half_angle(r.clamp(radii[0], radii[2])).unwrap());
        // 128 flanks, each a little over a millimetre long, off by no more than the tolerance.
        near(o.profile.area(), want, 128.0 * 1.5 * o.reached + 1e-3);
    }
}

#[test]
fn epicycloids_take_few_arcs() {
    let w = Wheel::new(96, 12, Form::Epicycloid).unwrap();
    let o = wheel(&w, 0.6, TOLERANCE);
    assert!(o.reached <= TOLERANCE && o.reached > 0.0);
    assert!(o.profile.segments().len() <= 96 * 14, "{}", o.profile.segments().len());
    let finer = wheel(&w, 0.6, TOLERANCE / 10.0);
    assert!(finer.reached <= TOLERANCE / 10.0);
    assert!(finer.profile.segments().len() > o.profile.segments().len());
}

#[test]
fn pinions_and_their_roots() {
    for (leaves, z, profile) in [(6, 72, LeafProfile::C), (8, 64, LeafProfile::B), (12, 96, LeafProfile::A)] {
        let leaf = Leaf::new(leaves, profile, practical_addendum(z, leaves).unwrap()).unwrap();
        let (root, tip) = (leaf.root_radius(), leaf.tip_radius());
        let square = pinion(&leaf, 1.0, Root::Square);
        let filleted = pinion(&leaf, 1.0, Root::Fillet(0.1));
        let round = pinion(&leaf, 1.0, Root::Round);
        for o in [&square, &filleted, &round] {
            sound(o, leaves, root, tip);
        }
        let areas = [&square, &filleted, &round].map(|o| o.profile.area());
        assert!(areas[0] < areas[1] && areas[1] < areas[2], "{areas:?}");
        let want =
            area(leaves, &[root, leaf.pitch_radius(), tip], |r| leaf.half_angle(r.clamp(root, tip)).unwrap());
        near(areas[0], want, 1e-4);
    }
}

#[test]
fn involutes() {
    for (z, x) in [(8, 0.5321), (12, 0.3), (17, 0.0), (30, 0.0), (48, 0.0), (96, -0.3)] {
        let g = Involute::new(z, x, ANGLE);
        let o = involute(&g, 0.5, TOLERANCE);
        assert!(o.reached <= TOLERANCE);
        sound(&o, z, 0.5 * g.root_radius(), 0.5 * g.tip_radius());
        // Fillets only add metal, and little: less than their square at each corner.
        let (root, tip, base) = (g.root_radius(), g.tip_radius(), g.base_radius());
        let radii = [root, base.max(root), tip];
        let bare = 0.25 * area(z, &radii, |r| g.half_angle(r.clamp(root, tip)).unwrap());
        let more = o.profile.area() - bare;
        let corner = 0.25 * 0.38 * 0.38 * 2.0 * f64::from(z);
        assert!(more > -1e-3 && more < corner, "{z}: {more} against {corner}");
    }
}

#[test]
fn a_pointed_involute_ends_in_a_point() {
    let g = Involute::new(6, 0.649, ANGLE);
    let o = involute(&g, 1.0, TOLERANCE);
    sound(&o, 6, g.root_radius(), g.point_radius());
}

#[test]
fn a_lantern_pin_lies_in_the_space_of_its_wheel() {
    let w = Wheel::new(64, 8, Form::Lantern { pin_radius: 0.525, backlash: 0.1 }).unwrap();
    let o = wheel(&w, 1.0, TOLERANCE);
    sound(&o, 64, w.root_radius(), w.tip_radius());
    let middle = at(32.0, PI / 64.0);
    assert!(!o.profile.contains(middle));
    // Half the play is left on either side.
    near(o.profile.distance_to(middle), 0.525 + 0.05, 0.002);
}

#[test]
fn cutters_fill_the_space() {
    let w = Wheel::new(64, 8, Form::Ogive).unwrap();
    let c = wheel_cutter(&w, 1.0, TOLERANCE);
    let space = crate::form::wheel_space(&w, 1.0);
    assert!(c.profile.is_closed());
    assert_eq!(c.profile.crosses_itself(), None);
    let b = c.profile.bounds();
    near(b.width(), space.mouth, 1e-9);
    near(b.height(), space.depth, 1e-9);
    // The ring between root and tip is teeth and spaces; the cutter's end is a chord of the root circle,
    // its top a chord of the tip circle.
    let teeth = wheel(&w, 1.0, TOLERANCE).profile.area();
    let step = PI / 64.0;
    let flank = step - w.pitch_half_angle();
    let cap = |r: f64, half: f64| r * r * (half - sin(half) * cos(half));
    let spaces = 64.0 * (c.profile.area() + cap(w.tip_radius(), step) - cap(w.root_radius(), flank));
    near(teeth + spaces, PI * w.tip_radius() * w.tip_radius(), 1e-6);
}

#[test]
fn a_lantern_disc_is_sound() {
    let l = Lantern::new(8, 0.525).unwrap();
    assert!(lantern_disc(&l, 0.8, 8.4, 2.0, 1.0).amiss().is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]
    #[test]
    fn rings_close_and_scale(z in 20_u32..140, leaves in 6_u32..17, m in 0.2_f64..2.0, form in 0_usize..4) {
        let forms = [Form::Ogive, Form::CloserOgive, Form::Epicycloid, Form::Lantern { pin_radius: 0.5, backlash: 0.1 }];
        let w = Wheel::new(z, leaves, forms[form]).unwrap();
        let o = wheel(&w, m, TOLERANCE);
        sound(&o, z, m * w.root_radius(), m * w.tip_radius());
        prop_assert!(o.reached <= TOLERANCE);
        // Twice the module at twice the tolerance is the same drawing, four times the area, sixteen
        // times the second moment.
        let big = wheel(&w, 2.0 * m, 2.0 * TOLERANCE);
        prop_assert!((big.profile.area() / o.profile.area() - 4.0).abs() < 1e-6);
        prop_assert!((big.profile.polar_moment() / o.profile.polar_moment() - 16.0).abs() < 1e-5);
    }
}
