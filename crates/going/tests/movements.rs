//! The three example clocks in simulation: what their outlines do, and where their swings settle.

mod common;

use going::{End, Model, Side};
use movement::design::Acting;

fn arc(m: &Model, end: End, over: f64) -> f64 {
    m.at(end).steady(m.supply.torque(end, over)).expect("it goes").arc.to_degrees()
}
#[track_caller]
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} for {want} ± {within}");
}
/// The wheel's turn and the torque it gives, taken from the outlines in two ways, agree: no friction, no loss.
fn no_loss_without_friction(m: &Model) {
    let Acting::Faces { works, reach } = &m.acting else { return };
    let f = going::model::faces::faces(works, 0.0, *reach).expect("an escapement");
    for piece in f.pallets.iter().flat_map(|p| &p.pieces) {
        for k in 0..=20 {
            let x = piece.from + (piece.to - piece.from) * f64::from(k) / 20.0;
            near(piece.onward.at(x), piece.turn.slope(x), 2e-7);
            near(piece.back.at(x), piece.turn.slope(x), 2e-7);
        }
    }
}

#[test]
fn a_regulator_settles_near_its_budget() {
    let (m, _) = common::changed("regulator", |t| t);
    // Lift 2, lock 0.7 degrees: impulse from 0.65 before to 1.35 past the middle, on both pallets.
    for p in &m.faces.pallets {
        near(p.lets_off().to_degrees(), 1.35, 1e-6);
        near(p.pieces[1].from.to_degrees(), -0.65, 1e-6);
        let pushes = p.pieces[1].turn.at(p.pieces[1].to) - p.pieces[1].turn.at(p.pieces[1].from);
        near(pushes.to_degrees(), 4.7, 1e-6);
    }
    near(m.faces.pitch().to_degrees(), 12.0, 1e-12);
    // The budget, with one efficiency for every arc, says 1.78; dead faces take more of a smaller arc.
    near(arc(&m, End::Likely, 0.0), 1.78, 0.06);
    assert!(arc(&m, End::Low, 0.0) < 1.6 && arc(&m, End::High, 0.0) > 1.9);
    no_loss_without_friction(&m);
}
#[test]
fn a_spring_clock_falls_in_arc_through_its_run() {
    let (m, _) = common::changed("table-clock", |t| t);
    let arcs = [0.0, 0.5, 1.0].map(|over| arc(&m, End::Likely, over));
    // One efficiency for every arc gives 4.25, 3.71, 3.07. Recoil takes the more the larger the arc.
    near(arcs[1], 3.71, 0.25);
    near(arcs[2], 3.07, 0.1);
    assert!(arcs[0] > arcs[1] && arcs[1] > arcs[2] && arcs[0] < 4.25);
    no_loss_without_friction(&m);
}
#[test]
fn a_grasshopper_goes_without_sliding() {
    let (m, _) = common::changed("skeleton", |t| t);
    assert!(m.faces_pass.bare().value() > 0.95);
    let a = arc(&m, End::Likely, 0.0);
    assert!(a > m.arc_needed.bare().in_deg() && a < 5.0, "{a}");
}
#[test]
fn every_beat_adds_up() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let (m, _) = common::changed(name, |t| t);
        for end in End::ALL {
            let t = m.supply.torque(end, 0.5);
            let s = m.at(end).steady(t).expect("goes");
            for b in s.beats {
                assert!(b.ledger.off_by().abs() < 1e-9 * b.ledger.lost(), "{name} {:?}", b.ledger);
            }
            let r = m.at(end).run(Side::Entry, s.arc, t, 100);
            assert!(r.halt.is_none() && (r.arc - s.arc).abs() < 1e-9, "{name} {r:?} {s:?}");
        }
    }
}
