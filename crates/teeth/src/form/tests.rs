use super::*;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

#[test]
fn sizes_of_pairs() {
    let rows = [
        (0.6, 96, 12, LeafProfile::A, [59.6653, 55.7150, 7.9500, 4.6547, 32.4]),
        (1.0, 72, 6, LeafProfile::C, [74.6561, 68.8584, 7.7100, 2.5439, 39.0]),
        (1.0, 144, 12, LeafProfile::A, [147.4864, 140.8584, 13.25, 7.7136, 78.0]),
    ];
    for (m, z, leaves, profile, want) in rows {
        let w = Wheel::new(z, leaves, Form::Ogive).unwrap();
        let p = Leaf::new(leaves, profile, w.addendum()).unwrap();
        let (ws, ps) = (wheel_sizes(&w, m), pinion_sizes(&p, m));
        let got = [ws.outside, ws.root, ps.outside, ps.root, centres(m, z, leaves)];
        for (g, want) in got.into_iter().zip(want) {
            near(g, want, 0.001);
        }
    }
}

#[test]
fn backlash_and_foot_of_a_slender_leaf() {
    let p = Leaf::new(6, LeafProfile::C, practical_addendum(72, 6).unwrap()).unwrap();
    let s = pinion_sizes(&p, 1.0);
    near(s.backlash, 0.521, 0.0005);
    near(s.foot, 0.445, 0.0005);
    assert_eq!(Foot::of(&p), Foot::Slender);
    let p = Leaf::new(12, LeafProfile::A, practical_addendum(96, 12).unwrap()).unwrap();
    near(pinion_sizes(&p, 1.0).backlash, 0.321, 0.0005);
    assert_eq!(Foot::of(&p), Foot::Sound);
}

#[test]
fn space_of_64() {
    let w = Wheel::new(64, 8, Form::Ogive).unwrap();
    let s = wheel_space(&w, 1.0);
    near(s.root_width, 1.4935, 0.0001);
    near(s.angle.to_degrees(), 180.0 / 64.0, 1e-9);
    let cheek = s.cheek.unwrap();
    // The cheek passes through pitch point and mouth.
    near(reckon::maths::hypot(s.width / 2.0 - cheek.aside, s.straight - cheek.above), cheek.radius, 1e-9);
    near(reckon::maths::hypot(s.mouth / 2.0 - cheek.aside, s.depth - cheek.above), cheek.radius, 1e-9);
    near(borrowed_cutter(64, 96), 0.013, 0.0005);
}

#[test]
fn a_blank_as_it_measures() {
    let fed = infeed(39.02, 39.06, 35.0, 0.6);
    near(fed.infeed, 2.01, 1e-12);
    near(fed.cropped, 0.02, 1e-12);
    assert_eq!(fed.tips, Tips::Cropped);
    assert_eq!(infeed(39.1, 39.06, 35.0, 0.6).tips, Tips::Below);
    assert_eq!(infeed(39.2, 39.06, 35.0, 0.6).tips, Tips::FarOff);
}
