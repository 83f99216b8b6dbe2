//! Clocks that do not go, or go badly: each is found, and said in words and numbers.

mod common;

use going::forecast::{Forecast, forecast};
use going::{End, Halt, Model, Side, Works};
use movement::design::Acting;
use reckon::{Book, Origin};

fn forecast_of(name: &str, from: &str, to: &str) -> (Model, Forecast, Book) {
    let (m, mut book) = common::changed(name, |t| {
        assert!(from.is_empty() || t.contains(from));
        t.replace(from, to)
    });
    let f = forecast(&m, &mut book);
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    (m, f, book)
}
/// The cures of a verdict that does not hold.
fn fails(book: &Book, name: &str) -> String {
    let (_, line) = book.find(name).expect("a verdict");
    let Origin::Verdict { holds, cures, .. } = &line.origin else { panic!("{name} is no verdict") };
    assert!(!holds, "{name} holds");
    cures.join("; ")
}
fn holds(book: &Book, name: &str) {
    let (_, line) = book.find(name).expect("a verdict");
    assert!(matches!(line.origin, Origin::Verdict { holds: true, .. }), "{name} fails");
}

#[test]
fn too_light_a_weight_lets_it_stop_and_tells_where_the_energy_went() {
    let (_, f, book) = forecast_of("regulator", "mass = \"3.5 kg\"", "mass = \"1.5 kg\"");
    let why = fails(&book, "going.goes");
    assert!(why.contains("set going at 1.70°") && why.contains("lets off"), "{why}");
    let (.., stop) = f.stops.iter().find(|(_, end, _)| *end == End::Likely).expect("it stops");
    assert!(
        stop.beats > 100 && matches!(stop.halt, Some(Halt::NoLetOff { .. } | Halt::LateWheel { .. })),
        "{stop:?}"
    );
    // It lived on what the pendulum had, and the sum is whole.
    assert!(stop.flow.gained < 0.0 && stop.flow.air > stop.flow.beyond);
    assert!(stop.flow.off_by().abs() < 1e-9 * stop.flow.given);
}
#[test]
fn too_heavy_a_weight_over_banks() {
    let (_, f, book) = forecast_of("regulator", "mass = \"3.5 kg\"", "mass = \"9 kg\"");
    let why = fails(&book, "going.no_over_banking");
    assert!(why.contains("ends at 2.20°") && why.contains("less drive"), "{why}");
    assert!(f.stops.iter().any(|(.., s)| matches!(s.halt, Some(Halt::OverBanks { .. }))));
}
#[test]
fn a_poor_pendulum_stops_before_the_end_of_the_wind() {
    let (m, f, book) = forecast_of("table-clock", "quality = 800", "quality = 180");
    holds(&book, "going.goes");
    fails(&book, "going.goes_to_the_end");
    let after = f.stops_at.expect("it stops").bare().value();
    assert!(after > 0.05 && after < 1.0, "{after}");
    let goes = |over: f64| m.at(End::Likely).steady(m.supply.torque(End::Likely, over)).is_ok();
    assert!(goes(after - 1e-6) && !goes(after + 1e-6));
}
#[test]
fn pallets_planted_too_far_let_the_wheel_run() {
    let (m, _) = common::changed("regulator", |t| t);
    let Acting::Faces { works, reach } = &m.acting else { panic!("it has faces") };
    // The arbor ever further away, and the nibs with it: first teeth land on the impulse faces, then on none.
    let at = |mm: f64| {
        let by = kurbo::Vec2::new(0.0, mm);
        let mut far = works.clone();
        far.arbor += by;
        for nib in [&mut far.entry, &mut far.exit] {
            nib.chain.iter_mut().for_each(|s| *s = slid(s, by));
        }
        let made = going::model::faces::faces(&far, 0.15, *reach).expect("faces");
        Works { pallets: made.pallets, ahead: made.ahead, ..m.at(End::Likely).clone() }
    };
    let t = m.supply.torque(End::Likely, 0.0);
    let runs = |mm: f64| at(mm).run(Side::Entry, 1.9_f64.to_radians(), t, 200).halt;
    assert!(runs(0.1).is_none());
    let halt = [0.7, 0.9, 1.1, 1.3].into_iter().find_map(runs).expect("it does not go");
    assert!(matches!(halt, Halt::Trips { .. }), "{halt:?}");
    assert!(halt.says().contains("runs on"));
}
fn slid(s: &shape::segment::Segment, by: kurbo::Vec2) -> shape::segment::Segment {
    use shape::segment::Segment;
    match *s {
        Segment::Line { from, to } => Segment::Line { from: from + by, to: to + by },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: from + by, to: to + by, centre: centre + by, radius, sense }
        }
    }
}
#[test]
fn the_energy_of_every_stand_is_whole() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let (_, f, book) = forecast_of(name, "", "");
        for s in &f.stands {
            let d = s.found.as_ref().expect("it goes");
            assert!(d.flow.off_by().abs() < 1e-9 * d.flow.given && d.flow.gained.abs() < 1e-9 * d.flow.given);
            assert!(d.kept.bare().value() > 0.0 && d.kept.bare().value() < 1.0);
            assert!(d.least.bare() < d.arc.bare());
        }
        holds(&book, "going.goes");
        holds(&book, "going.swings_settle");
    }
}
#[test]
fn a_measured_arc_is_explained() {
    use going::forecast::measured::{Measured, beside};
    let (m, mut book) = common::changed("regulator", |t| t);
    // A clock that has lost a tenth of its torque: found as such.
    let t = m.supply.torque(End::Likely, 0.0);
    let arc = m.at(End::Likely).steady(t * 0.9).expect("goes").arc;
    let b =
        beside(&m, Measured { arc: Some(arc), rate: Some(3.0), over: 0.0, by: "made up" }, None, &mut book);
    assert!((b.causes[0].value.bare().value() - 0.9).abs() < 1e-9, "{:?}", b.causes[0]);
    assert!(b.in_band.expect("a band").bare());
    assert!(b.causes.len() == 3 && b.causes[2].value.bare() < b.causes[2].instead_of.bare());
    assert!(book.faults().is_empty());
}
