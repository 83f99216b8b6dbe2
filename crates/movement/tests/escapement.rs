//! Escapements of the embedded clocks, and of clocks with something wrong.

use movement::design::{Movement, movement};
use reckon::{Book, Trouble};
use std::sync::Arc;

fn worked(name: &str, text: &str) -> (Option<Movement>, Book, Vec<Trouble>) {
    let mut book = Book::new();
    let text = record::Text { name: Arc::from(name), bytes: text.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.and_then(|f| f.clock).unwrap_or_else(|| panic!("{name}: {:?}", read.troubles));
    let (found, troubles) = movement(&clock, &mut book);
    assert!(book.faults().is_empty(), "{name}: {:?}", book.faults());
    (found, book, troubles)
}
const REGULATOR: &str = include_str!("../../../examples/regulator/clock.toml");
const TABLE: &str = include_str!("../../../examples/table-clock/clock.toml");
const SKELETON: &str = include_str!("../../../examples/skeleton/clock.toml");

fn si(book: &Book, name: &str) -> f64 {
    book.find(name).and_then(|(_, l)| l.si).unwrap_or_else(|| panic!("no {name}"))
}
fn mm(book: &Book, name: &str) -> f64 {
    si(book, name) * 1000.0
}
fn deg(book: &Book, name: &str) -> f64 {
    si(book, name).to_degrees()
}
#[track_caller]
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} and not {want}");
}
/// Verdicts of the escapement that do not hold.
fn failing(book: &Book) -> Vec<String> {
    book.failing().filter(|l| l.name.starts_with("escapement.")).map(|l| l.name.clone()).collect()
}

/// A clock's text with one piece of it written otherwise.
fn altered(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from} is not in the text");
    text.replacen(from, to, 1)
}
/// Troubles of an altered clock that stop, about its escapement: each at a place, with a cure.
#[track_caller]
fn refused(text: &str, from: &str, to: &str, says: &str) -> Trouble {
    let (_, _, troubles) = worked("clock.toml", &altered(text, from, to));
    let found = troubles
        .iter()
        .find(|t| {
            t.stops()
                && (t.says.contains(says)
                    || t.why.iter().any(|w| w.contains(says))
                    || t.cures.iter().any(|w| w.contains(says)))
        })
        .unwrap_or_else(|| panic!("nothing says '{says}': {troubles:#?}"));
    assert!(!found.at.is_empty(), "no place: {found:?}");
    assert!(!found.cures.is_empty(), "no cure: {found:?}");
    found.clone()
}

/// Derived: plane geometry of a span of 7½ of 30 teeth on a radius of 20 mm; arm 20 tan 45° and distance
/// 20/cos 45°.
#[test]
fn the_regulators_dead_beat() {
    let (m, book, troubles) = worked("regulator", REGULATOR);
    assert!(troubles.is_empty(), "{troubles:#?}");
    assert_eq!(failing(&book), Vec::<String>::new());
    near(deg(&book, "escapement.pitch"), 12.0, 1e-9);
    near(deg(&book, "escapement.width"), 4.7, 1e-9);
    near(deg(&book, "escapement.impulse.before"), 0.65, 1e-9);
    near(deg(&book, "escapement.impulse.past"), 1.35, 1e-9);
    near(mm(&book, "escapement.arm"), 20.0, 1e-9);
    near(mm(&book, "escapement.lock_on_arm"), 0.244, 5e-4);
    near(mm(&book, "escapement.centres"), 28.284, 5e-4);
    near(deg(&book, "escapement.arc_needed"), 1.65, 1e-9);
    near(si(&book, "escapement.ratio"), 2.35, 1e-9);
    let e = m.and_then(|m| m.escapement).expect("set out");
    // Turned out of one ring: both let-off corners lie on the other pallet's locking circle.
    near(mm(&book, "escapement.corner.e1.radius"), mm(&book, "escapement.corner.x2.radius"), 1e-9);
    near(mm(&book, "escapement.corner.e2.radius"), mm(&book, "escapement.corner.x1.radius"), 1e-9);
    for (what, want) in [("lock", 0.7), ("lift", 2.0), ("drop", 1.0), ("recoil", 0.0), ("run", 0.35)] {
        for side in ["entry", "exit"] {
            near(deg(&book, &format!("escapement.cycled.{side}.{what}")), want, 1e-5);
        }
    }
    // A hundredth takes about three hundredths of a degree: derived, 0.05 mm give 0.15 to 0.17 degrees at R 25.
    assert!((0.02..0.04).contains(&e.tolerance), "{}", e.tolerance);
}
/// Derived: 40 teeth, let-off 2°, drop 1.2°, tips 0.4°.
#[test]
fn the_table_clocks_anchor() {
    let (_, book, troubles) = worked("table-clock", TABLE);
    assert!(troubles.is_empty(), "{troubles:#?}");
    assert_eq!(failing(&book), Vec::<String>::new());
    near(deg(&book, "escapement.pitch"), 9.0, 1e-9);
    near(deg(&book, "escapement.advance"), 2.9, 1e-9);
    near(si(&book, "escapement.ratio"), 0.725, 1e-9);
    near(deg(&book, "escapement.recoil"), 1.09, 5e-3);
    for side in ["entry", "exit"] {
        near(deg(&book, &format!("escapement.cycled.{side}.drop")), 1.2, 0.01);
        near(deg(&book, &format!("escapement.cycled.{side}.recoil")), 1.0875, 0.01);
    }
    assert!(
        mm(&book, "escapement.face.entry.misfit") < 1e-3 && mm(&book, "escapement.face.exit.misfit") < 1e-3
    );
}
/// Derived: Newton's method on the three conditions of phase, 60 teeth of radius 48, arms 50, span 13½,
/// escaping arc 7°.
#[test]
fn the_skeletons_grasshopper() {
    let (_, book, troubles) = worked("skeleton", SKELETON);
    assert!(troubles.is_empty(), "{troubles:#?}");
    near(mm(&book, "escapement.centres"), 70.603, 1e-3);
    for (name, x, y) in [("entry", -24.822, -5.889), ("exit", -37.041, -12.020)] {
        near(mm(&book, &format!("escapement.joint.{name}.x")), x, 1e-3);
        near(mm(&book, &format!("escapement.joint.{name}.y")), y, 1e-3);
    }
    for (name, want) in
        [("entry.start", 0.4029), ("entry.end", 0.4528), ("exit.start", 0.4154), ("exit.end", 0.4439)]
    {
        near(si(&book, &format!("escapement.ratio.{name}")), want, 1e-4);
    }
    near(si(&book, "escapement.ratio"), 3.0 / 7.0, 1e-12);
    assert_eq!(failing(&book), Vec::<String>::new());
}
#[test]
fn a_pin_wheel_goes() {
    let text = altered(REGULATOR, "kind = \"dead-beat\"", "kind = \"pin-wheel\"\npin = \"1 mm\"");
    let text = altered(&text, "span = 7.5\n", "");
    let text = altered(&text, "drop = \"1 deg\"", "drop = \"0.5 deg\"");
    let text = altered(&text, "at = [\"0 mm\", \"80.284 mm\"]", "");
    let (m, book, troubles) = worked("pin-wheel", &text);
    assert!(
        !troubles.iter().any(|t| t.says.contains("escapement") || t.says.contains("pallet")),
        "{troubles:#?}"
    );
    let e = m.and_then(|m| m.escapement).expect("set out");
    assert_eq!(e.pins.len(), 30);
    assert_eq!(e.pieces.len(), 2);
    near(mm(&book, "escapement.centres"), 40.0, 1e-9);
    for (what, want) in [("lock", 0.7), ("lift", 2.0)] {
        for side in ["entry", "exit"] {
            near(deg(&book, &format!("escapement.cycled.{side}.{what}")), want, 1e-4);
        }
    }
}
/// Outlines of everything that is made of it are sound.
#[test]
fn outlines_are_sound() {
    for (name, text) in [("regulator", REGULATOR), ("table-clock", TABLE), ("skeleton", SKELETON)] {
        let (m, _, _) = worked(name, text);
        let e = m.and_then(|m| m.escapement).expect("set out");
        for p in e.pieces.iter().map(|p| &p.outline).chain([&e.wheel]) {
            assert!(p.is_closed() && p.area() > 0.0, "{name}");
            assert_eq!(p.crosses_itself(), None, "{name}");
        }
    }
}
#[test]
fn what_cannot_be_is_refused_in_its_place() {
    refused(REGULATOR, "lock = \"0.7 deg\"", "lock = \"2.5 deg\"", "less than the lift");
    refused(REGULATOR, "span = 7.5", "span = 7.3", "cannot span");
    let t = refused(REGULATOR, "lock = \"0.7 deg\"", "lock = \"1 deg\"", "does not let the teeth go");
    assert!(t.says.contains("1.8°"), "{}", t.says);
    refused(REGULATOR, "running_arc = \"1.7 deg\"", "running_arc = \"1.2 deg\"", "does not let the teeth go");
    refused(REGULATOR, "tip_width = \"0.3 deg\"", "tip_width = \"5.2 deg\"", "drop and tip");
    refused(REGULATOR, "wheel_diameter = \"40 mm\"", "wheel_diameter = \"4 mm\"", "does not suit the train");
    refused(REGULATOR, "\"80.284 mm\"", "\"80.384 mm\"", "too far from the escape wheel");
    refused(SKELETON, "arms = \"50 mm\"", "arms = \"4 mm\"", "grasshopper");
    refused(SKELETON, "running_arc = \"4 deg\"", "running_arc = \"3.6 deg\"", "does not let the teeth go");
    refused(TABLE, "running_arc = \"3.5 deg\"", "running_arc = \"2.1 deg\"", "does not let the teeth go");
    let pin = altered(REGULATOR, "kind = \"dead-beat\"", "kind = \"pin-wheel\"\npin = \"4 mm\"");
    refused(&pin, "span = 7.5\n", "", "pins are wider");
}
