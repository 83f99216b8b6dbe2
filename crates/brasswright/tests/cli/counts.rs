//! `counts` and `preview` from outside.

use super::common::Bench;

const CLOCK: &str = include_str!("../../../../examples/regulator/clock.toml");

fn regulator() -> Bench {
    Bench::with_clock(CLOCK)
}
#[test]
fn trains_from_what_is_wanted_and_from_the_project() {
    let told = Bench::new();
    told.run(&["counts", "--beats", "3600", "--escape", "30", "--show", "2"])
        .exits(0)
        .says("64/8 × 60/8, escape wheel 30")
        .says("no dividing head is known, so every count is taken");
    told.run(&["counts", "--ratio", "12", "--stages", "1"]).exits(0).says("96/8").says("5 trains give it");
    let own = regulator().run(&["counts", "clock", "--show", "3", "--json"]).exits(0).json();
    assert_eq!(own["complete"], true);
    assert_eq!(own["best"].as_array().map(Vec::len), Some(3));
    assert_eq!(own["best"][0]["escape"], 30);
}
#[test]
fn wishes_for_counts_that_cannot_be_read_or_met() {
    let bench = Bench::new();
    bench
        .run(&["counts"])
        .exits(64)
        .complains("what the train is to give is not told")
        .complains("--ratio 12");
    bench.run(&["counts", "--beats", "3600"]).exits(64).complains("how many teeth the escape wheel has");
    for (words, says) in [
        (&["--ratio", "a"][..], "--ratio a: a number or a fraction is due"),
        (&["--ratio", "1/0"], "--ratio 1/0: a number or a fraction is due"),
        (&["--beats", "3600", "--escape", "thirty"], "'thirty' is not a whole number from 1 to 10000"),
        (&["--beats", "3600", "--escape", "30", "--wheels", "150-40"], "'150-40' runs backwards"),
        (&["--beats", "3600", "--escape", "30", "--wheels", "0-9999999"], "'0' is not a whole number"),
    ] {
        let all: Vec<&str> = std::iter::once("counts").chain(words.iter().copied()).collect();
        bench.run(&all).exits(2).complains(says);
    }
    bench.run(&["counts", "--beats", "3600", "--escape", "30", "--stages", "99"]).exits(64);
    // 3601 = 13 x 277, and 277 is prime.
    bench
        .run(&["counts", "--beats", "3601", "--escape", "30"])
        .exits(4)
        .complains("277 teeth or a multiple of 277")
        .complains("s a day");
}
#[test]
fn a_preview_tells_what_moves_and_writes_nothing() {
    let bench = regulator();
    bench
        .run(&["preview", "third.wheel.teeth=78", "--project", "clock", "--all"])
        .exits(0)
        .says("third.wheel.teeth")
        .says("Nothing was written.")
        .complains("the counts give 3510 beats an hour, and 3600 are wanted");
    bench.run(&["preview", "third.wheel.teeth=80", "--project", "clock"]).exits(0).says("Nothing moves.");
    let kept = std::fs::read_to_string(bench.0.join("clock/clock.toml")).expect("still there");
    assert_eq!(kept, CLOCK);
}
#[test]
fn previews_of_what_is_no_wish() {
    let bench = regulator();
    let preview = |change: &str| bench.run(&["preview", change, "--project", "clock"]);
    preview("nonsense").exits(64).complains("'nonsense' is no change").complains("NAME=VALUE");
    preview("third.wheel.teth=78").exits(64).complains("did you mean third.wheel.teeth?");
    preview("third.wheel.pitch=78")
        .exits(64)
        .complains("it follows from others")
        .complains("why third.wheel.pitch");
    preview("third.wheel.teeth=banana").exits(2).says("The change cannot be read").complains("\"banana\"");
}
