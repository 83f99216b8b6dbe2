use super::*;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

#[test]
fn addenda_of_the_published_rows() {
    for (leaves, fa, fr) in [(6, 1.259, 1.855), (8, 1.403, 2.068), (12, 1.626, 2.396), (16, 1.801, 2.654)] {
        near(practical_addendum(3 * leaves, leaves).unwrap(), fa, 0.001);
        near(ogive_radius(3 * leaves, leaves).unwrap(), fr, 0.0015);
    }
}

#[test]
fn ogive_centre_of_a_wheel_of_64() {
    let a = Wheel::new(64, 8, Form::Ogive).unwrap().arc().unwrap();
    near(a.distance, 31.825, 0.001);
    near(a.past.to_degrees(), 2.4833, 0.001);
    near(a.radius, 2.1731, 0.0005);
}

#[test]
fn closer_ogive_of_a_wheel_of_64() {
    let (radius, gap) = closer_ogive(64, 8).unwrap();
    near(radius / practical_addendum(64, 8).unwrap(), 1.615, 0.01);
    near(gap, 0.0073, 0.0005);
}

#[test]
fn lanterns() {
    let form = Form::Lantern { pin_radius: 0.525, backlash: 0.10 };
    for (z, pins, f, action, start) in [(64, 8, 2.1304, 1.4281, 0.5223), (60, 6, 1.9065, 1.2174, 0.5471)] {
        near(Wheel::new(z, pins, form).unwrap().theoretical_addendum(), f, 0.002);
        near(recess(z, pins, form, 1.0).unwrap().pitches, action, 0.002);
        near(lantern_start(z, pins, 0.525).unwrap().to_degrees(), start, 0.005);
    }
}

#[test]
fn recess_of_cut_epicycloids() {
    for (z, leaves, pitches, degrees) in [(48, 6, 0.6770, 5.0778), (96, 12, 1.0539, 3.9520)] {
        let r = recess(z, leaves, Form::Epicycloid, PRACTICAL).unwrap();
        near(r.pitches, pitches, 0.0005);
        near(r.turn.to_degrees(), degrees, 0.001);
    }
}

#[test]
fn half_angles_follow_the_flank() {
    let lantern = Form::Lantern { pin_radius: 0.525, backlash: 0.1 };
    for form in [Form::Ogive, Form::CloserOgive, Form::Epicycloid, lantern] {
        let w = Wheel::new(72, 8, form).unwrap();
        let flank = w.flank(400);
        assert_eq!(flank.len(), 400);
        near(flank[0].0, w.root_radius(), 1e-12);
        near(flank[399].0, w.tip_radius(), 1e-9);
        for pair in flank.windows(2) {
            assert!(pair[1].0 > pair[0].0 - 1e-9, "{form:?} {pair:?}");
            near(pair[1].1, pair[0].1, 0.02 / 36.0 * 2.0);
        }
        for &(rho, half) in &flank {
            // A lantern wheel joins pin and curve to within 1e-5 of a module.
            near(w.half_angle(rho).unwrap(), half, 5e-7);
        }
    }
}
