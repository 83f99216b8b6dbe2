use super::*;
use crate::as_made::Doing;
use crate::frame::mirrored;
use proptest::prelude::*;

const DEGREE: f64 = TURN / 360.0;

/// 30 teeth over 7½, 50 mm: a seconds escapement.
pub(crate) fn seconds() -> DeadBeat {
    let d = |x: f64| x * DEGREE;
    DeadBeat::new(Sizes {
        teeth: 30,
        span: 7,
        radius: 25.0,
        lift: d(2.0),
        lock: d(0.5),
        drop: d(1.5),
        tip: d(0.3),
        arc: d(2.5),
    })
    .expect("sound sizes")
}

#[test]
fn the_set_out_pallets_do_what_was_asked() {
    let e = seconds();
    let m = e.made().evaluated().expect("meets");
    let d = |x: f64| x / DEGREE;
    for (got, want) in [
        (m.lift_entry, 2.0),
        (m.lift_exit, 2.0),
        (m.lock_entry, 0.5),
        (m.lock_exit, 0.5),
        (m.drop_out, 1.5),
        (m.drop_in, 1.5),
        (m.least_arc(), 1.25),
    ] {
        assert!((d(got) - want).abs() < 1e-9, "{} for {want}", d(got));
    }
    assert!((e.penetration(Side::Entry) - 1.5719).abs() < 1e-3);
    assert!((e.penetration(Side::Exit) - 1.6959).abs() < 1e-3);
    assert!((d(e.off_square(Side::Entry)) + 2.1).abs() < 0.1 && d(e.off_square(Side::Exit)) > 1.9);
    let rule = e.efficiency_by_rule(0.1);
    for side in [Side::Entry, Side::Exit] {
        assert!((e.efficiency(side, 0.0).expect("reaches") - 1.0).abs() < 1e-8);
        assert!((e.efficiency(side, 0.1).expect("reaches") - rule).abs() < 0.006);
    }
}

fn sizes() -> impl Strategy<Value = Sizes> {
    (20_u32..48, 0.6_f64..2.2, 0.1_f64..0.8, 0.5_f64..1.0, 0.1_f64..0.4, 8.0_f64..40.0, 3_u32..5).prop_map(
        |(teeth, lift, lock, drop, tip, radius, quarter)| Sizes {
            teeth,
            span: teeth / quarter - 1,
            radius,
            lift: (lift + lock) * DEGREE,
            lock: lock * DEGREE,
            drop: drop * DEGREE,
            tip: tip * DEGREE,
            arc: (lift + 2.0 * lock) * DEGREE,
        },
    )
}
fn near(a: &Doing, b: &Doing, within: f64) -> bool {
    let same = a.counted().iter().zip(b.counted()).all(|(x, y)| (x - y).abs() < within);
    same && (a.lift_entry - b.lift_entry).abs() < within && (a.lift_exit - b.lift_exit).abs() < within
}

proptest! {
    #[test]
    fn measuring_the_drawing_gives_the_design(s in sizes()) {
        let e = DeadBeat::new(s).expect("sound sizes");
        let m = e.made().evaluated().expect("meets");
        for (got, want) in m.counted().into_iter().zip([s.lock, s.lock, s.drop, s.drop]) {
            prop_assert!((got - want).abs() < 1e-11);
        }
        prop_assert!((m.lift_entry - s.lift).abs() < 1e-11 && (m.lift_exit - s.lift).abs() < 1e-11);
    }
    #[test]
    fn twice_the_size_keeps_every_angle(s in sizes()) {
        let small = DeadBeat::new(s).expect("sound sizes");
        let large = DeadBeat::new(Sizes { radius: 2.0 * s.radius, ..s }).expect("sound sizes");
        prop_assert!((large.centres - 2.0 * small.centres).abs() < 1e-11);
        prop_assert!((large.tangent_radius(Side::Exit) - 2.0 * small.tangent_radius(Side::Exit)).abs() < 1e-9);
        let (a, b) = (small.made().evaluated().expect("meets"), large.made().evaluated().expect("meets"));
        prop_assert!(near(&a, &b, 1e-11));
    }
    #[test]
    fn both_nibs_lie_in_one_ring_and_the_mirror_changes_their_parts(s in sizes()) {
        let e = DeadBeat::new(s).expect("sound sizes");
        let a = e.arbor();
        prop_assert!((apart(e.x2, a) - e.outer).abs() < 1e-11 && (apart(e.e2, a) - e.inner).abs() < 1e-11);
        // Seen in the mirror with time run backwards, entry unlocking is exit let-off: the same wheel angle,
        // turned by the let-off instead of the unlocking.
        let back = turned_about(mirrored(e.x2), a, -(e.past + e.before));
        prop_assert!(apart(turned_about(e.e1, a, 0.0), turned_about(back, a, 0.0)) < 1e-10);
    }
    #[test]
    fn turning_all_the_pallets_changes_nothing(s in sizes(), by in -0.1_f64..0.1) {
        let e = DeadBeat::new(s).expect("sound sizes");
        let m = e.made();
        let t = |v| crate::frame::turned(v, by);
        let c = m.corners;
        let moved = Made { corners: Corners { e1: t(c.e1), e2: t(c.e2), x1: t(c.x1), x2: t(c.x2) }, ..m };
        prop_assert!(near(&m.evaluated().expect("meets"), &moved.evaluated().expect("meets"), 1e-11));
    }
    #[test]
    fn the_push_is_the_slope_of_the_wheel_over_the_pallets(s in sizes(), f in 0.05_f64..0.95) {
        let e = DeadBeat::new(s).expect("sound sizes");
        for side in [Side::Entry, Side::Exit] {
            let plane = e.impulse_plane(side);
            let (at, h) = (e.pallets_at(side, f), 1e-6);
            let wheel = |t: f64| plane.push(t).expect("reaches").wheel;
            let slope = ((wheel(at + h) - wheel(at - h)) / (2.0 * h)).abs();
            let told = plane.push(at).expect("reaches").ratio;
            prop_assert!((slope - told).abs() < 1e-5 * told);
        }
    }
}
#[test]
fn wheel_and_pallets_close_and_do_not_cross() {
    let e = seconds();
    let mut tooth = e.usual_tooth();
    for hollow in [None, Some(6.0)] {
        tooth.hollow = hollow;
        let w = e.wheel_outline(&tooth).expect("a wheel");
        assert!(w.is_closed() && w.area() > 0.0);
        assert_eq!(w.crosses_itself(), None);
        assert!((w.bounds().x1 - 25.0).abs() < 0.2);
    }
    let p = e.pallets_outline(3.0 * DEGREE, &e.usual_body()).expect("pallets");
    assert!(p.is_closed() && p.area() > 0.0, "{p:?}");
    assert_eq!(p.crosses_itself(), None);
    // Clear of the tips at both ends of the swing, but for the nibs.
    for by in [2.5 * DEGREE, -2.5 * DEGREE] {
        for piece in p.segments() {
            let far = |q: kurbo::Point| turned_about(q, e.arbor(), by).to_vec2().hypot2().sqrt();
            let inside = (0..=20).any(|i| far(piece.at(f64::from(i) / 20.0)) < 25.0);
            let nib = [e.e1, e.e2, e.x1, e.x2]
                .iter()
                .any(|&c| apart(piece.from(), c) < 1e-9 || apart(piece.to(), c) < 1e-9);
            assert!(!inside || nib, "{piece:?}");
        }
    }
}
