//! `enter` from outside: what was measured moves what is not made yet, and nothing entered is ever lost.

use super::common::Bench;
use serde_json::Value;

pub const CLOCK: &str = include_str!("../../../../examples/regulator/clock.toml");
const SHOP: &str = include_str!("../../../../examples/regulator/shop.toml");

pub fn regulator() -> Bench {
    let bench = Bench::with_clock(CLOCK);
    bench.write("clock/shop.toml", SHOP);
    bench
}
pub fn enter(bench: &Bench, words: &[&str]) -> Value {
    let mut all = vec!["enter", "--project", "clock", "--json"];
    all.extend(words);
    bench.run(&all).exits(0).json()
}
pub fn moved<'a>(answer: &'a Value, name: &str) -> Option<&'a Value> {
    answer["moved"].as_array().expect("a list").iter().find(|m| m["name"] == name)
}
pub fn si(bench: &Bench, name: &str) -> f64 {
    let told = bench.run(&["why", name, "--project", "clock", "--json"]).exits(0).json();
    told["lines"][0]["value"].as_f64().expect("a number")
}
pub fn hole(bench: &Bench, of: &str) -> (f64, f64) {
    let at = |axis: &str| si(bench, &format!("plates.back_plate.drilling.at.{of}.{axis}"));
    (at("x"), at("y"))
}
fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (x, y) = (a.0 - b.0, a.1 - b.1);
    (x * x + y * y).sqrt()
}

#[test]
fn the_third_wheel_came_out_small_and_its_hole_is_not_drilled() {
    let bench = regulator();
    let (third, escape, pallets) =
        (hole(&bench, "third"), hole(&bench, "escape"), hole(&bench, "pallets_through"));
    enter(&bench, &["--done", "third wheel: teeth cut"]);
    let told = enter(&bench, &["third.wheel.outside", "41.658 mm", "--tool", "slide gauge"]);
    assert_eq!(told["reading"]["within"], false);
    // Cut to full depth from a rim 0.05 mm under size, the teeth sit 0.025 mm nearer to their axis.
    let now = hole(&bench, "escape");
    assert!((apart(third, escape) - apart(third, now) - 25e-6).abs() < 5e-7);
    // The escapement keeps its distance, so that nothing else has to move.
    assert!((apart(escape, pallets) - apart(now, pallets)).abs() < 1e-9);
    assert!(apart(escape, now) < 60e-6 && hole(&bench, "third") == third);
    let row = moved(&told, "plates.back_plate.drilling.at.escape.x").expect("told");
    assert_eq!(row["weight"], "to make");
    assert!(row["give_or_take"].is_string(), "the doubt of the reading is carried on: {row}");
    assert!(row["because"].as_str().is_some_and(|b| b.contains("escape.at.x.to_suit")), "{row}");
}
#[test]
fn a_blank_that_came_out_small_goes_into_the_depth() {
    let bench = regulator();
    let escape = hole(&bench, "escape");
    let told = enter(&bench, &["third.wheel.outside", "41.658 mm"]);
    assert_eq!(hole(&bench, "escape"), escape, "its teeth are not cut: they will sit where they are drawn");
    assert!(moved(&told, "third.wheel.depth").is_some());
}
#[test]
fn what_is_drilled_stays_and_is_judged() {
    let bench = regulator();
    let escape = hole(&bench, "escape");
    enter(&bench, &["--done", "back plate: back plate and front plate as one"]);
    enter(&bench, &["--done", "third wheel: teeth cut"]);
    let told = enter(&bench, &["third.wheel.outside", "41.208 mm"]);
    assert_eq!(hole(&bench, "escape"), escape);
    let all = told["meetings"].as_array().expect("a list");
    let depth = all.iter().find(|m| m["name"] == "third.wheel.meets.depth").expect("judged");
    assert_eq!(depth["holds"], false, "{depth}");
    let ladder = depth["would_do"].as_array().expect("a list");
    assert!(ladder[0].as_str().is_some_and(|c| c.starts_with("bush the holes of 'escape'")), "{ladder:?}");
    assert!(ladder.last().and_then(Value::as_str).is_some_and(|c| c.contains("make the wheel anew")));
    // A reading that was wrong is struck, and all is as it was.
    enter(&bench, &["--struck", "4", "--because", "read the wrong wheel"]);
    assert!(bench.run(&["why", "third.wheel.meets.depth", "--project", "clock"]).code != 0);
}
#[test]
fn the_gap_as_made_moves_the_shoulders_and_shoulders_as_made_are_judged() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    assert!((si(&bench, "centre.between_shoulders") - 41.76e-3).abs() < 1e-9);
    let told = enter(&bench, &["centre.between_shoulders", "41.70 mm"]);
    let all = told["meetings"].as_array().expect("a list");
    let shake = all.iter().find(|m| m["name"] == "centre.meets.plates").expect("judged");
    assert_eq!((&shake["holds"], &shake["figures"][0][1]), (&false.into(), &"0.260 mm".into()));
    // A hole made large moves the pivot that is still to be turned.
    enter(&bench, &["third.pivot_hole", "1.05 mm"]);
    assert!((si(&bench, "third.pivot.to_suit") - 1.02e-3).abs() < 1e-9);
}
#[test]
fn slips_are_asked_about_and_nothing_is_kept_until_it_is_so() {
    let bench = regulator();
    let ask = |value: &str, words: &str| {
        let typed = ["enter", "third.wheel.outside", value, "--project", "clock"];
        bench.run(&typed).exits(2).complains(words).complains("--sure");
    };
    ask("4.1658 mm", "one 10th of 41.658 mm");
    ask("20.85 mm", "a radius for a diameter");
    ask("1058 mm", "read in inches, typed as millimetres");
    assert!(!bench.has("clock/journal.sqlite"));
    let bare = ["enter", "third.wheel.outside", "41.66", "--project", "clock"];
    bench.run(&bare).exits(2).complains("a length needs a unit").complains("41.66 mm");
    bench
        .run(&["enter", "third.weel.outside", "41.66 mm", "--project", "clock"])
        .exits(64)
        .complains("did you mean third.wheel.outside?");
    for _ in 0..2 {
        bench.run(&["enter", "third.wheel.outside", "41.70 mm", "--project", "clock", "--sure"]).exits(0);
    }
    bench
        .run(&["enter", "third.wheel.outside", "41.70 mm", "--project", "clock"])
        .exits(2)
        .complains("entered twice?");
    // The same key is the same entry.
    let once = ["third.wheel.outside", "41.69 mm", "--key", "k", "--sure"];
    let first = enter(&bench, &once)["entry"].clone();
    let again = enter(&bench, &once);
    assert_eq!((&again["entry"], &again["again"]), (&first, &true.into()));
    // What is made and scrapped takes no more readings; struck, it does again.
    enter(&bench, &["--scrapped", "third wheel", "--because", "a tooth broke"]);
    let typed = ["enter", "third.wheel.outside", "41.7 mm", "--sure", "--project", "clock"];
    bench.run(&typed).exits(2).complains("it was scrapped");
}
#[test]
fn a_renamed_arbor_keeps_its_measurements_and_check_proposes_it() {
    let bench = regulator();
    enter(&bench, &["third.wheel.outside", "41.70 mm"]);
    let renamed = CLOCK.replace("\"third\"", "\"drittes\"");
    bench.write("clock/clock.toml", &renamed);
    let told = bench.run(&["check", "clock"]);
    assert!(told.err.contains("nothing is called 'third.wheel.outside' now"), "{}", told.err);
    assert!(told.err.contains("was = \"third\" for 'drittes'"), "{}", told.err);
    let name = "name = \"drittes\"";
    bench.write("clock/clock.toml", renamed.replace(name, &format!("{name}\nwas = \"third\"")));
    assert!((si(&bench, "drittes.wheel.outside") - 41.70e-3).abs() < 1e-12);
    let told = bench.run(&["check", "clock"]);
    assert!(!told.err.contains("nothing is called"), "{}", told.err);
}
#[test]
fn a_journal_that_is_not_right_is_told_and_left_as_it_is() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let whole = std::fs::read(bench.0.join("clock/journal.sqlite")).expect("it is there");
    // Another clock's.
    bench.write("clock/clock.toml", CLOCK.replace("Kitchen regulator", "Hall regulator"));
    bench
        .run(&["enter", "plates.gap", "42 mm", "--project", "clock"])
        .exits(2)
        .complains("journal of 'Kitchen regulator'");
    bench.run(&["check", "clock"]).complains("journal of 'Kitchen regulator'");
    let was = CLOCK
        .replace("name = \"Kitchen regulator\"", "name = \"Hall regulator\"\nwas = \"Kitchen regulator\"");
    bench.write("clock/clock.toml", was);
    assert!((si(&bench, "plates.gap") - 41.96e-3).abs() < 1e-12);
    bench.write("clock/clock.toml", CLOCK);
    // No journal at all.
    let diary = "dear diary, the third wheel came out small";
    bench.write("clock/journal.sqlite", diary);
    bench
        .run(&["enter", "plates.gap", "42 mm", "--project", "clock"])
        .exits(2)
        .complains("this is no journal");
    let left = std::fs::read_to_string(bench.0.join("clock/journal.sqlite")).expect("it is there");
    assert_eq!(left, diary);
    // A byte spoilt by a bad disk: the entry is told, nothing is used of it, and the file is not touched by reading.
    let mut spoilt = whole.clone();
    let at = spoilt.windows(8).position(|w| w == b"41.96 mm").expect("as typed");
    spoilt[at] = b'7';
    bench.write("clock/journal.sqlite", &spoilt);
    bench.run(&["check", "clock"]).complains("part of the journal is not whole").complains("entry 1");
    bench.run(&["enter", "--lines-out", "--project", "clock"]).exits(0).complains("entry 1");
    assert_eq!(std::fs::read(bench.0.join("clock/journal.sqlite")).expect("there"), spoilt);
}
#[test]
fn lines_go_out_and_come_in_once() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm", "--at", "23degC"]);
    enter(&bench, &["--struck", "1", "--because", "read at the wrong end"]);
    enter(&bench, &["plates.gap", "41.97 mm"]);
    let lines = bench.run(&["enter", "--lines-out", "--project", "clock"]).exits(0).out;
    assert_eq!(lines.lines().count(), 3);
    bench.write("lines.jsonl", &lines);
    std::fs::remove_file(bench.0.join("clock/journal.sqlite")).expect("gone");
    let take = ["enter", "--lines-in", "lines.jsonl", "--project", "clock"];
    bench.run(&take).exits(0).says("3 taken in, 0 were there already");
    bench.run(&take).exits(0).says("0 taken in, 3 were there already");
    assert_eq!(bench.run(&["enter", "--lines-out", "--project", "clock"]).exits(0).out, lines);
    bench.run(&["enter", "--list", "--as-of", "2", "--project", "clock"]).exits(0).says("struck");
    bench.write("lines.jsonl", lines + "{\"number\": 4}\n");
    bench.run(&take).exits(2).complains("lines.jsonl:4: this line is no entry");
}
#[test]
fn a_thread_tells_what_is_left_and_a_log_what_to_do() {
    let bench = Bench::new();
    bench.run(&["begin", "ten-screws", "clock"]).exits(0);
    let name = "bridge_screw.setup1.step1.thread.over_wires.largest";
    let told = enter(&bench, &[name, "4.25 mm", "--tool", "micrometer 0-25"]);
    assert_eq!(told["thread"]["stands"], "still to be cut");
    assert!(told["thread"]["passes"].as_array().is_some_and(|p| p.len() >= 2));
    let told = enter(&bench, &[name, "4.01 mm"]);
    assert!(told["thread"]["over_cut"].as_array().is_some_and(|c| c.len() >= 3));
    let bench = regulator();
    for (day, offset) in [(1, "0 s"), (2, "-0.9 s"), (3, "-1.8 s"), (5, "-3.6 s")] {
        let when = format!("2026-03-{day:02}T08:00:00Z");
        enter(&bench, &["--rating", offset, "--when", &when, "--at", "18degC"]);
    }
    let told = enter(&bench, &["--rating", "-6.3 s", "--when", "2026-03-08T08:00:00Z"]);
    assert_eq!(told["rated"]["rate"], "-0.900 s/day");
    assert!(told["rated"]["do"].as_str().is_some_and(|d| d.starts_with("put on the tray 0.54 g")), "{told}");
}
#[test]
fn a_sheet_that_later_entries_or_texts_overtook_names_its_figures() {
    let bench = regulator();
    let mark = || {
        let told = bench.run(&["check", "clock", "--json"]).json();
        told["sheets"].as_str().expect("four signs").to_owned()
    };
    let first = mark();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let second = mark();
    assert_ne!(first, second);
    let on = |sheet: &str| {
        let sheet = format!("{sheet}-01");
        let told =
            enter(&bench, &["centre.between_shoulders", "41.76 mm", "--rough", "--sure", "--sheet", &sheet]);
        told["sheet"].clone()
    };
    let says = |sheet: &Value| sheet["says"].as_str().expect("said").to_owned();
    let figure = |sheet: &Value, old: &str, new: &str| {
        let row = serde_json::json!(["centre.between_shoulders", old, new]);
        assert!(sheet["changed"].as_array().expect("a list").contains(&row), "{sheet}");
    };
    assert_eq!(on(&second)["holds"], true);
    let stale = on(&first);
    assert!(says(&stale).contains("superseded: printed before the first entry"), "{stale}");
    figure(&stale, "41.800 mm", "41.760 mm");
    // The texts are others now: the sheet of before is told from them, figure by figure.
    let third = mark();
    bench.write(
        "clock/clock.toml",
        CLOCK.replace("diameter = \"5 mm\"\n", "diameter = \"5 mm\"\nendshake = \"0.3 mm\"\n"),
    );
    let stale = on(&third);
    assert!(says(&stale).contains("superseded: printed from earlier texts"), "{stale}");
    figure(&stale, "41.760 mm", "41.660 mm");
    let unknown = on("ZZZZ");
    assert!(says(&unknown).contains("texts that are not kept"), "{unknown}");
    assert_eq!(unknown["holds"], false);
}
#[test]
fn what_the_shop_learnt_is_listed_and_struck() {
    let bench = regulator();
    bench
        .run(&["enter", "--list", "--of-shop", "--project", "clock"])
        .exits(0)
        .says("Nothing was entered of the shop");
    enter(&bench, &["--learnt", "drill:2.5 mm", "2.53 mm"]);
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let list = |words: &[&str]| {
        let mut all = vec!["enter", "--list", "--project", "clock"];
        all.extend(words);
        bench.run(&all).exits(0).out
    };
    assert!(list(&["--of-shop"]).contains("drill: 2.5 mm") && !list(&[]).contains("drill"));
    let strike = |entry: &str| {
        bench.run(&[
            "enter",
            "--struck",
            entry,
            "--of-shop",
            "--because",
            "another drill",
            "--project",
            "clock",
        ])
    };
    strike("2").exits(64).complains("there is no entry 2 of the shop");
    strike("1").exits(0);
    assert!(list(&["--of-shop"]).contains("struck"));
    assert!((si(&bench, "plates.gap") - 41.96e-3).abs() < 1e-12, "the clock's own entry stands");
    let lines = bench.run(&["enter", "--lines-out", "--of-shop", "--project", "clock"]).exits(0).out;
    assert_eq!(lines.lines().count(), 2);
}
#[test]
fn without_a_journal_nothing_is_otherwise() {
    let bench = regulator();
    let before = bench.run(&["why", "**", "--project", "clock"]).exits(0).out;
    enter(&bench, &["third", "--remark", "the cutter chatters below 400 rpm"]);
    assert_eq!(bench.run(&["why", "**", "--project", "clock"]).exits(0).out, before);
}
