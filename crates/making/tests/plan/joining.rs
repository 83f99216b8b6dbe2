//! Joints: what presses grow with, which heat is refused, what the examples' joints come to.

use crate::shed::{Work, example, work_movement};
use making::kernel::join::{self, Way};
use making::plan::joining;
use proptest::prelude::*;
use reckon::{Diameter, Length, Origin, Pressure, Ratio, Temperature};

fn movement(name: &str) -> Work {
    work_movement(&example(name, "clock.toml"), &example(name, "shop.toml"))
}
const BRASS: (f64, f64) = (100e9, 0.34);
const STEEL: (f64, f64) = (205e9, 0.29);
fn pressed(um: f64, d: f64, ring: f64) -> Pressure {
    let metal = |m: (f64, f64)| (Pressure::si(m.0), Ratio::si(m.1));
    join::press(Length::mm(um / 1e3), Diameter::mm(d), Diameter::mm(ring), metal(BRASS), metal(STEEL))
}
proptest! {
    /// The tighter, the more force; the thicker the ring, the more pressure; nothing where nothing is left.
    #[test]
    fn a_press_grows_with_its_interference(um in 1.0..40.0f64, more in 1.01..3.0f64, d in 1.0..20.0f64, wall in 1.1..4.0f64) {
        let p = pressed(um, d, d * wall);
        prop_assert!(pressed(um * more, d, d * wall) > p);
        prop_assert!(pressed(um, d, d * wall * more) > p);
        prop_assert!(pressed(0.0, d, d * wall).value() == 0.0);
        prop_assert!(pressed(-um, d, d * wall).value() == 0.0);
        // A thin ring: hoop stress of a tube, p D/(2 s), as the ring alone gives way.
        let thin = pressed(um, d, d * 1.004).value();
        let tube = BRASS.0 * um * 1e-6 / (d * 1e-3) * 0.002 * 2.0;
        prop_assert!((thin / tube - 1.0).abs() < 0.02, "{thin} {tube}");
    }
    /// What is spread is as much as what fills the chamfer.
    #[test]
    fn a_rivet_keeps_its_volume(h in 0.1..1.0f64, d in 2.0..20.0f64, share in 0.0..0.9f64) {
        let c = join::filled(Length::mm(h), Diameter::mm(d), Diameter::mm(d * share)).in_mm();
        let stood = std::f64::consts::FRAC_PI_4 * (d * d - d * d * share * share) * h;
        let fills = reckon::maths::PI * d * c * c / 2.0;
        prop_assert!((stood / fills - 1.0).abs() < 1e-9);
    }
    /// No heat of joining is let pass that is above what the temper bears.
    #[test]
    fn a_hotter_temper_never_refuses_more(celsius in 80.0..800.0f64) {
        for way in join::WAYS {
            let limit = Temperature::si(273.15 + celsius);
            let refused = joining::too_hot(way, limit);
            prop_assert_eq!(refused, way.heat().is_some_and(|h| h > limit));
            if !refused {
                prop_assert!(!joining::too_hot(way, Temperature::si(limit.value() + 50.0)));
            }
        }
    }
}
/// Every joint of the shipped movements: the way taken bears three times its load, and its heat spoils nothing.
#[test]
fn joints_of_the_examples_bear_and_spare() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let taken: Vec<(&str, &str)> = w
            .book
            .lines()
            .filter(|l| l.name.ends_with(".joint.by"))
            .map(|l| (l.name.as_str(), l.shown.as_str()))
            .collect();
        assert!(taken.len() >= 10, "{name}: {taken:?}");
        for (by, way) in taken {
            let joint = by.trim_end_matches(".by");
            assert!(w.holds(&format!("{joint}.bears")), "{name} {joint} {way}");
            assert!(w.holds(&format!("{joint}.cool_enough")), "{name} {joint} {way}");
            assert!(way != "silver solder", "{name} {joint}");
        }
        // Wheels are riveted, arbors bonded: nothing hot comes near what was tempered.
        assert!(w.operations().any(|(_, _, o)| o.title.starts_with("Rivet: ") && o.does == ["rivet"]));
        assert!(w.operations().any(|(_, _, o)| o.title.starts_with("Bond: ") && o.does.contains(&"glue")));
        for (_, line) in w.book.lines().filter(|l| l.name.contains(".joint.")).map(|l| (0, l)) {
            assert!(line.si.is_none_or(f64::is_finite), "{}", line.name);
        }
    }
}
/// A wheel on the arbor that is wound is not made fast to it; the drum is.
#[test]
fn the_wheel_of_a_wound_arbor_runs_free() {
    let w = movement("regulator");
    assert!(w.book.find("drive.drum_part.joint.by").is_some());
    assert!(w.book.find("great.collet.joint.by").is_none());
    assert!(w.book.find("third.collet.joint.by").is_some());
}
/// The alternatives stand with their numbers; soft solder holds less for good than at once.
#[test]
fn what_was_not_taken_says_why() {
    let w = movement("regulator");
    let (_, line) = w.book.find("third.collet.joint.by").expect("a joint");
    let Origin::Chosen { among, .. } = &line.origin else { panic!("{:?}", line.origin) };
    assert!(among.len() >= 4);
    assert!(among.iter().all(|a| !a.why.is_empty()));
    let silver = among.iter().find(|a| a.what == "silver solder").expect("weighed");
    assert!(!silver.taken && silver.why.contains("680"), "{}", silver.why);
    let (low, high) = Way::SoftSolder.shear().expect("a bond");
    assert!(low < high && high < Pressure::n_per_mm2(10.0));
}
/// What the maker writes is taken, and told where it cannot be.
#[test]
fn a_written_way_is_taken_and_judged() {
    let text = example("regulator", "clock.toml");
    let with = |way: &str| {
        let written = text.replacen("name = \"third\"", &format!("name = \"third\"\njoined = \"{way}\""), 1);
        assert!(written != text);
        work_movement(&written, &example("regulator", "shop.toml"))
    };
    let shown =
        |w: &Work| w.book.find("third.collet.joint.by").map(|(_, l)| l.shown.clone()).expect("a joint");
    let w = with("silver solder");
    assert_eq!(shown(&w), "silver solder");
    assert!(!w.holds("third.collet.joint.cool_enough"));
    assert!(!w.holds("third.collet.joint.suits"));
    let w = with("press");
    assert!(!w.holds("third.collet.joint.suits"), "drawn to slide");
    let w = with("soft solder");
    assert_eq!(shown(&w), "soft solder");
    assert!(w.holds("third.collet.joint.suits") && w.holds("third.collet.joint.cool_enough"));
    // The heat that is told stands under what the temper bears.
    assert!(w.si("third.collet.joint.soft_solder.heat") <= w.si("third.collet.joint.heat_most"));
}
/// In every route no hard rule of the order of works is broken by a joint: a rivet stands before lacquer, glue after
/// every heat.
#[test]
fn a_joint_stands_where_the_order_of_works_has_it() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        for plan in &w.making.parts {
            let works: Vec<(usize, &str)> = plan
                .setups
                .iter()
                .enumerate()
                .flat_map(|(k, s)| s.operations.iter().map(move |o| (k, o)))
                .flat_map(|(k, o)| o.does.iter().map(move |d| (k, *d)))
                .collect();
            let joined = |k: usize| plan.setups[k].title.starts_with("joined: ");
            for (i, (k, first)) in works.iter().enumerate() {
                for (l, then) in &works[i + 1..] {
                    if k == l || !(joined(*k) || joined(*l)) {
                        continue;
                    }
                    let against =
                        heat::order::rules().find(|r| r.hard && r.first == *then && r.then == *first);
                    assert!(against.is_none(), "{name} {}: {first} then {then}", w.parts[plan.part].slug());
                }
            }
        }
    }
}
/// The minute wheel's stud is drawn as much larger than its hole as the plate stands, and holds at the other end of its
/// limits: both by the closed form of a thick ring, worked here on its own.
#[test]
fn a_stud_is_pressed_no_harder_than_the_plate_stands_and_holds() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let at = |tail: &str| format!("motion.stud.joint.{tail}");
        let (_, by) = w.book.find(&at("by")).expect("it is joined");
        assert_eq!(by.shown, "press", "{name}");
        let (tight, loose) = (-w.mm(&at("play_least")), -w.mm(&at("play_most")));
        let (d, outside) = (w.mm("motion.stud.foot"), w.mm(&at("around")));
        let k = (outside * outside + d * d) / (outside * outside - d * d);
        // Brass 100 GPa, 0.34; silver steel 210 GPa, 0.29; three microns of roughness on each, 0.8 of both smoothed.
        let pressure = |over: f64| (over - 0.0048) / d / ((k + 0.34) / 100.0e3 + (1.0 - 0.29) / 210.0e3);
        let proof = w.si(&at("press.proof")) / 1e6;
        assert!(pressure(tight) * k <= 0.8 * proof + 1e-6, "{name}: {}", pressure(tight) * k);
        // One micrometre more would be too much.
        assert!(pressure(tight + 0.001) * k > 0.8 * proof, "{name}");
        let length = w.mm(&at("bears_over"));
        let torque = 0.12 * pressure(loose) * reckon::maths::PI * d * length * d / 2.0;
        assert!(torque >= 30.0, "{name}: {torque} N mm");
        assert!((torque - w.si(&at("press.holds")) * 1e3).abs() < 1e-6 * torque, "{name}: {torque}");
        assert!(
            w.mm(&at("press.interference_least")) <= loose && tight <= w.mm(&at("press.interference_most"))
        );
    }
}
/// The dial's feet are soldered before the dial is silvered and lacquered.
#[test]
fn a_dial_has_its_feet_before_it_is_silvered() {
    let w = movement("regulator");
    let (_, by) = w.book.find("dial.foot.joint.by").expect("they are joined");
    assert_eq!(by.shown, "soft solder");
    let dial = w.parts.iter().position(|p| p.slug() == "dial").expect("a dial");
    let plan = w.making.parts.iter().find(|p| p.part == dial).expect("its plan");
    let place =
        |word: &str| plan.setups.iter().position(|s| s.operations.iter().any(|o| o.does.contains(&word)));
    let (solder, lacquer) = (place("solder").expect("soldered"), place("lacquer").expect("lacquered"));
    assert!(solder < lacquer, "{solder} {lacquer}");
    assert!(place("silver").is_none_or(|silver| solder < silver));
}
