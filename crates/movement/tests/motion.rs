//! Motion work, hands and indications against the reference's numbers.

use movement::design::{Movement, movement};
use reckon::{Book, Trouble};
use std::sync::Arc;

const REGULATOR: &str = include_str!("../../../examples/regulator/clock.toml");

fn worked(text: &str) -> (Option<Movement>, Book, Vec<Trouble>) {
    let mut book = Book::new();
    let text = record::Text { name: Arc::from("clock.toml"), bytes: text.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.and_then(|f| f.clock).unwrap_or_else(|| panic!("{:?}", read.troubles));
    let (found, troubles) = movement(&clock, &mut book);
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    (found, book, troubles)
}
fn si(book: &Book, name: &str) -> f64 {
    book.find(name).and_then(|(_, l)| l.si).unwrap_or_else(|| panic!("no {name}"))
}
fn mm(book: &Book, name: &str) -> f64 {
    si(book, name) * 1000.0
}
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} and not {want}");
}
/// The regulator with another line of counts.
fn with_counts(line: &str) -> String {
    REGULATOR.replace("counts = [15, 45, 12, 48]", line)
}
fn about<'a>(troubles: &'a [Trouble], words: &str) -> &'a Trouble {
    troubles
        .iter()
        .find(|t| t.says.contains(words))
        .unwrap_or_else(|| panic!("no '{words}' in {troubles:#?}"))
}

/// 45/15 x 48/12 = 12 on one module: 0.6 mm gives 18.0 mm and 0.5 mm gives 15.0 mm; derived.
#[test]
fn twelve_to_one_on_one_pair_of_centres() {
    let (_, book, _) = worked(REGULATOR);
    near(si(&book, "motion.ratio"), 12.0, 0.0);
    near(mm(&book, "motion.centres"), 18.0, 1e-9);
    near(mm(&book, "motion.cannon.pitch"), 9.0, 1e-9);
    near(mm(&book, "motion.hour_wheel.pitch"), 28.8, 1e-9);
    let (_, book, _) = worked(include_str!("../../../examples/table-clock/clock.toml"));
    near(mm(&book, "motion.centres"), 15.0, 1e-9);
}
/// 36/12 x 40/10 is twelve too, and its modules stand as 50 to 48: 1.041667; derived.
#[test]
fn unlike_sums_want_unlike_modules() {
    let (_, book, troubles) = worked(&with_counts("counts = [12, 36, 10, 40]"));
    near(si(&book, "motion.module_ratio"), 1.041_667, 5e-7);
    let t = about(&troubles, "two distances of centres");
    assert!(!t.at.is_empty() && t.cures.iter().any(|c| c.contains("second_module")), "{t:?}");
    let (found, _, troubles) =
        worked(&with_counts("counts = [12, 36, 10, 40]\nsecond_module = \"0.576 mm\""));
    assert!(!troubles.iter().any(|t| t.says.contains("two distances")), "{troubles:#?}");
    assert!(found.and_then(|m| m.motion).is_none_or(|m| m.centres.shown() == "14.400 mm"));
}
#[test]
fn counts_that_do_not_give_twelve_are_told_with_a_cure() {
    let (_, _, troubles) = worked(&with_counts("counts = [15, 45, 12, 47]"));
    let t = about(&troubles, "12 are needed");
    assert!(!t.at.is_empty(), "{t:?}");
    assert!(t.cures.iter().any(|c| c == "48 instead of 47 for the hour wheel"), "{t:?}");
    assert!(t.cures.iter().any(|c| c.contains("[15, 45, 12, 48]")), "{t:?}");
}
/// The hour hand turns as the minute hand, the wheel between them against both.
#[test]
fn senses() {
    let (_, book, _) = worked(REGULATOR);
    let word = |n: &str| book.find(n).map(|(_, l)| l.shown.clone()).unwrap_or_default();
    assert_eq!(word("motion.hour_wheel.sense"), "clockwise");
    assert_eq!(word("motion.minute_wheel.sense"), "anticlockwise");
}
/// Slip at two to four times the need and hands poised to 0.05 N mm: common practice, no source.
#[test]
fn friction_and_poise() {
    for text in [REGULATOR, include_str!("../../../examples/table-clock/clock.toml")] {
        let (_, book, _) = worked(text);
        let times = si(&book, "motion.slip") / si(&book, "motion.hands_need");
        assert!((2.0..=4.0).contains(&times), "{times}");
        assert!(mm(&book, "hands.minute.imbalance") < 0.05);
    }
}
fn moon(of: &str, pairs: &str) -> String {
    format!(
        "{REGULATOR}\n[[indication]]\nname = \"moon disc\"\nof = \"{of}\"\nfrom_period = \"12 h\"\npairs = {pairs}\n"
    )
}
/// Two moons behind 92/9 x 104/9 from twelve hours: a month of 29.5308642 d, 23.863 s too long; derived.
#[test]
fn two_moons() {
    let (found, book, troubles) = worked(&moon("two moons", "[[9, 92], [9, 104]]"));
    assert!(!troubles.iter().any(|t| t.says.contains("moon")), "{troubles:#?}");
    let i = &found.expect("a movement").indications[0];
    near(i.period.bare().value() / 86_400.0, 29.530_864_2, 5e-8);
    near(i.error.bare().value(), 23.863, 0.01);
    near(i.years.expect("it errs").bare().value(), 293.0, 1.0);
    assert!(i.same_sense);
    assert!(book.matching("**.true_enough").len() == 1);
}
/// A disc of 118 teeth moved twice a day: 44.05 minutes a month short, a day in 2.643 years; derived.
#[test]
fn a_coarse_moon_is_judged_and_better_counts_are_shown() {
    let (found, book, _) = worked(&moon("two moons", "[[1, 118]]"));
    let i = &found.expect("a movement").indications[0];
    near(i.error.bare().value() / 60.0, -44.05, 0.01);
    near(i.years.expect("it errs").bare().value(), 2.643, 1e-3);
    let failing = book.failing().find(|l| l.name.ends_with("true_enough")).expect("it is judged");
    assert!(format!("{:?}", failing.origin).contains("pairs = [["), "{:?}", failing.origin);
}
#[test]
fn a_cam_for_the_equation_of_time() {
    let text = format!(
        "{REGULATOR}\n[[indication]]\nname = \"equation\"\nof = \"equation of time\"\nfrom_period = \"24 h\"\npairs = [[10, 97], [13, 89], [6, 33]]\n"
    );
    let (found, _, troubles) = worked(&text);
    assert!(!troubles.iter().any(|t| t.says.contains("cam")), "{troubles:#?}");
    let i = &found.expect("a movement").indications[0];
    // 33 x 89 x 97 / (6 x 10 x 13): 10.17 s a year, the best of three pairs; derived.
    near(i.error.bare().value().abs(), 10.17, 0.01);
    let c = i.cam.as_ref().expect("a cam");
    assert!(c.cam.off <= 0.01 && c.cam.lift.1 - c.cam.lift.0 > 14.0);
}
