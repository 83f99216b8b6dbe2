use super::*;

const DEGREE: f64 = TURN / 360.0;

pub(crate) fn long_case() -> Anchor {
    let d = |x: f64| x * DEGREE;
    Anchor::new(Sizes {
        teeth: 30,
        span: 7,
        radius: 25.0,
        let_off: d(2.0),
        drop: d(1.0),
        tip: d(0.3),
        arc: d(4.0),
    })
    .expect("sound sizes")
}

#[test]
fn faces_advance_and_push_back_as_published() {
    let a = long_case();
    assert!((a.advance / DEGREE - 4.7).abs() < 1e-9 && (a.ratio - 1.175).abs() < 1e-9);
    assert!((a.recoil(4.0 * DEGREE) / DEGREE - 2.35).abs() < 1e-9);
    let face = a.face(Side::Entry, 65);
    assert!(apart(face[0], Point::new(-20.3586, 17.5465)) < 2e-4);
    assert!(apart(face[64], Point::new(-16.3355, 17.8069)) < 2e-4);
    let (out, into) = a.drops();
    assert!((out - DEGREE).abs() < 1e-12 && (into - DEGREE).abs() < 1e-12);
    for side in [Side::Entry, Side::Exit] {
        let f = a.face_arc(side);
        assert!(f.misfit < 1.5e-3, "{side:?} {f:?}");
    }
    assert!(a.checks().iter().all(Check::holds));
}
#[test]
fn the_push_has_its_ratio_everywhere() {
    let a = long_case();
    for side in [Side::Entry, Side::Exit] {
        for x in [-1.9, 0.0, 1.3, 3.9] {
            let p = a.face_point(side, x * DEGREE);
            let now = turned_about(p, a.arbor(), Anchor::anchor_at(side, x * DEGREE));
            let arm = a.moment_arm(side, x * DEGREE);
            // Arm about the wheel of the same force: arm about the anchor over the ratio.
            let h = 1e-6;
            let along = unit(a.face_point(side, x * DEGREE - h) - a.face_point(side, x * DEGREE + h));
            let along = crate::frame::turned(along, Anchor::anchor_at(side, x * DEGREE));
            let about_wheel = now.to_vec2().cross(left_of(along)).abs();
            assert!((arm / about_wheel - a.ratio).abs() < 1e-4, "{side:?} {x}: {}", arm / about_wheel);
        }
    }
}
#[test]
fn plane_faces_have_their_ratio_at_the_middle() {
    let (lead, ratio) = plane_lead(25.0, 45.0 * DEGREE, 12.5).expect("sound");
    assert!((lead / DEGREE - 30.0).abs() < 1e-9 && (ratio - 3.0_f64.sqrt()).abs() < 1e-9);
    let a = long_case();
    for side in [Side::Entry, Side::Exit] {
        let f = a.plane_face(side, 16.0).expect("sound");
        let mid = a.plane_face(side, 16.0).expect("sound").ratios;
        assert!(f.advance > 0.0 && f.recoil > 0.0, "{f:?}");
        assert!(mid.iter().all(|r| (r - f.ratio).abs() < 0.45), "{mid:?} about {}", f.ratio);
        let touch = crate::frame::off_line(a.arbor(), f.from, f.to).abs();
        assert!((touch - 16.0).abs() < 1e-9);
    }
}
#[test]
fn the_anchor_is_proved_by_its_outlines() {
    use super::parts::Made;
    use crate::cycle::State;
    let a = long_case();
    let tooth = a.usual_tooth();
    let c = a.works(Made::Arcs, &tooth).expect("works").cycle(4.0 * DEGREE, 300);
    assert_eq!(c.state, State::Goes, "{c:?}");
    for side in [Side::Entry, Side::Exit] {
        let b = c.beat(side).expect("both beats");
        // The faces are the fitted arcs: they depart from the true faces by about a micrometre.
        assert!((b.recoil / DEGREE - 2.35).abs() < 0.02, "{side:?} {b:?} {tooth:?}");
        assert!((b.pushes / DEGREE - 4.7).abs() < 0.02, "{b:?}");
        assert!((b.drop / DEGREE - 1.0).abs() < 0.02, "{b:?}");
        assert!((b.lift / DEGREE - 4.0).abs() < 0.02, "{b:?}");
    }
}
#[test]
fn wheel_and_anchor_close_and_do_not_cross() {
    use super::parts::Made;
    let a = long_case();
    let w = a.wheel_outline(&a.usual_tooth()).expect("wheel");
    assert!(w.is_closed() && w.crosses_itself().is_none() && w.area() > 0.0);
    for made in [Made::Arcs, Made::Planes { tangent: 16.0 }] {
        let p = a.outline(made, &a.usual_body()).expect("anchor");
        assert!(p.is_closed() && p.area() > 0.0, "{made:?}");
        assert_eq!(p.crosses_itself(), None, "{made:?} {p:#?}");
    }
}
