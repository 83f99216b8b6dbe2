use super::*;
use crate::dead_beat::{DeadBeat, Sizes};
use proptest::prelude::*;

const DEGREE: f64 = TURN / 360.0;

fn seconds() -> Sizes {
    let d = |x: f64| x * DEGREE;
    Sizes {
        teeth: 30,
        span: 7,
        radius: 25.0,
        lift: d(2.0),
        lock: d(0.5),
        drop: d(1.5),
        tip: d(0.3),
        arc: d(2.5),
    }
}
fn cycled(s: Sizes) -> Cycle {
    let e = DeadBeat::new(s).expect("sound sizes");
    e.works(&e.usual_tooth()).expect("a tooth").cycle(s.arc, 200)
}

#[test]
fn the_outlines_do_what_the_construction_asked() {
    let s = seconds();
    let c = cycled(s);
    assert_eq!(c.state, State::Goes, "{c:?}");
    assert!((c.advance - 12.0 * DEGREE).abs() < 1e-9);
    for side in [Side::Entry, Side::Exit] {
        let b = c.beat(side).expect("both beats");
        assert_eq!(b.stands, Stand::TipOnDead);
        for (got, want) in [
            (b.lock, s.lock),
            (b.lift, s.lift),
            (b.drop, s.drop),
            (b.free, s.drop + s.tip),
            (b.recoil, 0.0),
            (b.run, s.arc - (s.lift + s.lock) / 2.0),
            (b.pushes, 4.2 * DEGREE),
        ] {
            assert!((got - want).abs() < 1e-6 * DEGREE, "{side:?} {got} for {want}: {b:?}");
        }
    }
    assert!(c.under.expect("seen").gap > 0.3);
    let behind = c.behind.expect("seen");
    assert!(behind.gap > 0.5 * DEGREE, "{behind:?}");
}
#[test]
fn a_small_swing_never_unlocks_and_pallets_too_far_trip() {
    let e = DeadBeat::new(seconds()).expect("sound sizes");
    let works = e.works(&e.usual_tooth()).expect("a tooth");
    assert_eq!(works.cycle(1.2 * DEGREE, 100).state, State::NeverUnlocks { side: Side::Entry });
    assert_eq!(works.cycle(1.3 * DEGREE, 100).state, State::Goes);
    let mut far = e.made();
    far.centres += 0.25;
    let c = far.works(&e.usual_tooth()).expect("a tooth").cycle(2.5 * DEGREE, 200);
    // No lock is left: the tooth lands on the impulse plane.
    let b = c.beat(Side::Exit).expect("goes on");
    assert!(b.lock < 0.0 && b.stands == Stand::TipOnImpulse, "{b:?}");
    far.centres += 1.2;
    let c = far.works(&e.usual_tooth()).expect("a tooth").cycle(2.5 * DEGREE, 200);
    assert!(matches!(c.state, State::Trips { .. }), "{c:?}");
    let mut near = e.made();
    near.centres -= 0.6;
    let c = near.works(&e.usual_tooth()).expect("a tooth").cycle(4.0 * DEGREE, 200);
    assert!(matches!(c.state, State::Binds { .. }) || c.beats.iter().any(|b| b.drop < 0.0), "{c:?}");
}
proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn any_construction_is_proved_by_its_outlines(
        teeth in 24_u32..40, lift in 0.8_f64..2.0, lock in 0.2_f64..0.7, drop in 0.8_f64..1.3,
        tip in 0.1_f64..0.3, radius in 10.0_f64..30.0,
    ) {
        let s = Sizes {
            teeth, span: teeth / 4, radius, lift: (lift + lock) * DEGREE, lock: lock * DEGREE,
            drop: drop * DEGREE, tip: tip * DEGREE, arc: (lift / 2.0 + lock + 0.6) * DEGREE,
        };
        let c = cycled(s);
        prop_assert_eq!(c.state, State::Goes);
        for side in [Side::Entry, Side::Exit] {
            let b = c.beat(side).expect("both beats");
            prop_assert!((b.lock - s.lock).abs() < 1e-6 * DEGREE);
            prop_assert!((b.lift - s.lift).abs() < 1e-6 * DEGREE);
            prop_assert!((b.drop - s.drop).abs() < 1e-6 * DEGREE);
        }
    }
    #[test]
    fn measured_corners_and_outlines_agree(dc in -0.04_f64..0.04, d in prop::array::uniform4(-0.02_f64..0.02)) {
        let e = DeadBeat::new(seconds()).expect("sound sizes");
        let mut m = e.made();
        m.centres += dc;
        m.corners.e1 *= 1.0 + d[0] / 25.0;
        m.corners.e2 *= 1.0 + d[1] / 25.0;
        m.corners.x1 *= 1.0 + d[2] / 25.0;
        m.corners.x2 *= 1.0 + d[3] / 25.0;
        let told = m.evaluated().expect("meets");
        let c = m.works(&e.usual_tooth()).expect("a tooth").cycle(2.5 * DEGREE, 200);
        let (en, ex) = (c.beat(Side::Entry).expect("beats"), c.beat(Side::Exit).expect("beats"));
        for (got, want) in [
            (en.lock, told.lock_entry), (ex.lock, told.lock_exit), (en.lift, told.lift_entry),
            (ex.lift, told.lift_exit), (en.drop, told.drop_out), (ex.drop, told.drop_in),
        ] {
            prop_assert!((got - want).abs() < 1e-6 * DEGREE, "{} {}", got, want);
        }
    }
}
#[test]
fn the_heel_that_grazes_the_corner_is_not_taken_for_the_toe() {
    let d = |x: f64| x * DEGREE;
    let s = Sizes {
        teeth: 25,
        span: 6,
        radius: 15.90713290361101,
        lift: d(1.0),
        lock: d(0.2),
        drop: d(0.8),
        tip: d(0.2805274059343616),
        arc: d(1.2),
    };
    for side in [Side::Entry, Side::Exit] {
        let c = cycled(s);
        let b = c.beat(side).expect("both beats");
        assert!((b.drop - s.drop).abs() < 1e-6 * DEGREE && (b.free - s.drop - s.tip).abs() < 1e-6 * DEGREE);
    }
}
