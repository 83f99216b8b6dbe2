//! Pendulums of the embedded clocks against values worked out apart from this program.

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
fn near(book: &Book, name: &str, want: f64, within: f64) {
    let got = si(book, name);
    assert!((got - want).abs() <= within, "{name}: {got} and not {want}");
}
fn holds(book: &Book, name: &str) -> bool {
    si_bool(book, name)
}
fn si_bool(book: &Book, name: &str) -> bool {
    book.find(name).unwrap_or_else(|| panic!("no {name}")).1.shown == "yes"
}

/// Derived: closed formula of gravity with height at 52.2° and 60 m, length from the exact period.
#[test]
fn lengths_of_simple_pendulums() {
    let (_, a, _) =
        worked("regulator", &REGULATOR.replace("running_arc = \"1.7 deg\"", "running_arc = \"1.6 deg\""));
    near(&a, "pendulum.gravity", 9.812_465, 1e-6);
    near(&a, "pendulum.length_at_no_arc", 0.994_211, 1e-6);
    near(&a, "pendulum.length", 0.994_114, 1e-6);
    let (_, b, _) =
        worked("table-clock", &TABLE.replace("running_arc = \"3.5 deg\"", "running_arc = \"3 deg\""));
    near(&b, "pendulum.length_at_no_arc", 0.248_553, 1e-6);
    near(&b, "pendulum.length", 0.248_467, 1e-6);
    let (_, c, _) = worked("skeleton", SKELETON);
    near(&c, "pendulum.length_at_no_arc", 0.636_3, 5e-5);
}
/// Derived: 43 200 p/L a turn.
#[test]
fn rating_nuts_by_the_simple_rule() {
    let (_, a, _) = worked("regulator", REGULATOR);
    near(&a, "pendulum.nut.turn_by_rule_s_per_day", 34.769, 0.006);
    let (_, b, _) = worked("table-clock", TABLE);
    near(&b, "pendulum.nut.turn_by_rule_s_per_day", 86.90, 0.07);
    // A heavy rod and a nut that ride along change it by some per cent, and not more.
    for book in [&a, &b] {
        let (rule, made) =
            (si(book, "pendulum.nut.turn_by_rule_s_per_day"), si(book, "pendulum.nut.turn_s_per_day"));
        assert!((made / rule - 1.0).abs() < 0.08, "{made} against {rule}");
    }
}
/// Derived from the volume of a cylinder of 80 by 143 mm bored for its rod, and of two caps of a sphere.
#[test]
fn bobs_weigh_what_their_size_gives() {
    let (_, a, _) = worked("regulator", REGULATOR);
    near(&a, "pendulum.bob.mass_by_size", 6.01, 0.03);
    let (_, b, _) = worked("table-clock", TABLE);
    near(&b, "pendulum.bob.mass_by_size", 0.253, 0.005);
    let (_, c, _) = worked("skeleton", SKELETON);
    for book in [&a, &b, &c] {
        assert!(holds(book, "pendulum.bob.mass_agrees"));
    }
    let (_, wrong, _) = worked("regulator", &REGULATOR.replace("mass = \"6 kg\"", "mass = \"5 kg\""));
    assert!(!holds(&wrong, "pendulum.bob.mass_agrees"));
}
/// The bob's place, worked out a second way: on a rigid axis at the strip's own axis, the parabola of a
/// pendulum of a rod and a bob, to what the strip's stiffness adds.
#[test]
fn the_bob_hangs_where_a_second_reckoning_puts_it() {
    let (m, book, _) = worked("regulator", REGULATOR);
    let p = m.unwrap().pendulum.unwrap();
    let axis = si(&book, "pendulum.suspension.axis");
    let want = si(&book, "pendulum.length");
    let bodies = || p.hung.made.fixed.iter().chain(&p.hung.made.moving);
    let first: f64 = bodies().map(|b| b.mass * (b.at - axis)).sum();
    let second: f64 = bodies().map(|b| b.mass * (b.form.spread() + (b.at - axis) * (b.at - axis))).sum();
    assert!((second / first - want).abs() < 3e-4, "{} and not {want}", second / first);
    assert!(axis > 0.001 && axis < 0.014);
    // The rod is light beside its bob: the middle lies a little below the length of the simple pendulum.
    let middle = si(&book, "pendulum.bob.middle");
    assert!(middle > want && middle < want + 0.02, "{middle}");
    assert!(holds(&book, "pendulum.rod_reaches"));
    assert!(holds(&book, "pendulum.suspension.lives"));
}
/// Derived: −1.645 s/day for each square degree of arc; a plain invar rod −43 200 α.
#[test]
fn what_disturbs_it() {
    let (_, a, _) = worked("regulator", REGULATOR);
    near(&a, "pendulum.circular_error_s_per_day", -1.645 * 1.7 * 1.7, 0.005);
    let alpha = si(&a, "pendulum.rod.expansion");
    near(&a, "pendulum.warmth.rod_alone_s_per_day_per_kelvin", -43_200.0 * alpha, 1e-9);
    // A brass bob that stands on its nut grows upward: it takes a part of the rod's growth back.
    let whole = si(&a, "pendulum.warmth.s_per_day_per_kelvin");
    assert!(whole > -43_200.0 * alpha * 1.6 && whole < 0.2, "{whole}");
    assert!(a.find("pendulum.errors").is_some());
    // 10 800/6000 s/day a gram at the middle of a simple pendulum of 6 kg: common rule; the whole swings 6.5 kg.
    near(&a, "pendulum.tray.gram_s_per_day", 10_800.0 / (si(&a, "pendulum.mass") * 1000.0), 0.01);
}
#[test]
fn a_pendulum_too_long_for_its_case_is_told_at_the_case() {
    let (_, _, troubles) =
        worked("table-clock", &TABLE.replace("height = \"320 mm\"", "height = \"240 mm\""));
    let t = troubles.iter().find(|t| t.says.contains("longer than its case")).expect("told");
    assert!(t.stops() && !t.cures.is_empty());
}
#[test]
fn a_weight_too_near_its_bob_fails_a_verdict() {
    let near = REGULATOR.replace("weight_in_front = \"90 mm\"", "weight_in_front = \"60 mm\"");
    let (_, book, _) = worked("regulator", &near);
    assert!(!holds(&book, "pendulum.weight_clears_bob"));
    let far = REGULATOR.replace("weight_in_front = \"90 mm\"", "weight_in_front = \"95 mm\"");
    let (_, book, _) = worked("regulator", &far);
    assert!(holds(&book, "pendulum.weight_clears_bob"));
}
#[test]
fn without_a_place_the_gravity_is_assumed() {
    let text = REGULATOR
        .replace("site = { latitude = \"52.2 deg\", altitude = \"60 m\", temperature = \"18 degC\" }\n", "");
    let (_, book, _) = worked("regulator", &text);
    near(&book, "pendulum.gravity", 9.806_199, 1e-5);
}
