//! `tonight` from outside.

use super::common::Bench;

const CLOCK: &str = include_str!("../../../../examples/regulator/clock.toml");
const SHOP: &str = include_str!("../../../../examples/regulator/shop.toml");

fn with(clock: &str) -> Bench {
    let bench = Bench::with_clock(clock);
    bench.write("clock/shop.toml", SHOP);
    bench
}

#[test]
fn an_evening_by_what_is_done_and_set_up() {
    let bench = with(CLOCK);
    bench
        .run(&["tonight", "clock", "--hours", "2.5"])
        .exits(0)
        .says("buy: stock")
        .says("7 days")
        .says("Four evenings of five all of it is done by 2:")
        .says("0 done");
    let later = [
        "tonight",
        "clock",
        "--hours",
        "3",
        "--set-up",
        "lathe: 10 mm collet",
        "--done",
        "buy: stock",
        "--json",
    ];
    let told = bench.run(&later).exits(0).json();
    let picks = told["tonight"].as_array().expect("a list");
    assert!(picks.iter().all(|p| p["job"]["name"] != "buy: stock"));
    assert!(picks.iter().any(|p| {
        p["sets_up"] == false && p["job"]["set_up"].as_str().is_some_and(|s| s.ends_with("collet 10 mm"))
    }));
    assert!(told["four_of_five_by"].as_f64().expect("a number") <= 180.0);
    assert_eq!(told["done"][0], "buy: stock");
    bench
        .run(&["tonight", "clock", "--all", "--done", "great wheel"])
        .exits(0)
        .says("done")
        .says("clock: dry assembly");
}
#[test]
fn names_and_hours_that_are_none() {
    let bench = with(CLOCK);
    bench
        .run(&["tonight", "clock", "--done", "grat wheel"])
        .exits(2)
        .complains("no job 'grat wheel'")
        .complains("did you mean 'great wheel'?");
    bench.run(&["tonight", "clock", "--set-up", "lathe: collet 33"]).exits(2).complains("'lathe: collet 33'");
    bench.run(&["tonight", "clock", "--hours", "0"]).exits(64).complains("hours from above 0 to 24");
    bench.run(&["tonight", "nowhere"]).exits(74);
    let ring = "\n[[order]]\nfirst = \"clock: dry assembly\"\nthen = \"great wheel: teeth cut\"\nreason = \"why not\"\n";
    with(&format!("{CLOCK}{ring}"))
        .run(&["tonight", "clock"])
        .exits(4)
        .complains("the order would run in a ring")
        .complains("why not");
}

/// Common practice, no source: plates are drilled when the wheels that meet in them can be tried.
#[test]
fn plates_are_drilled_once_the_wheels_are_measured_unless_the_maker_says_why_not() {
    let order = |clock: &str| {
        let bench = with(clock);
        let all = bench.run(&["tonight", "clock", "--all"]).exits(0).out;
        let at = |job: &str| {
            let found = all.lines().position(|l| l.contains(job));
            found.unwrap_or_else(|| panic!("no {job} in\n{all}"))
        };
        let wheels = ["great", "centre", "third"].map(|w| at(&format!("{w} wheel: teeth cut")));
        (wheels, at("back plate: back plate and front plate as one"))
    };
    let (wheels, drilled) = order(CLOCK);
    assert!(wheels.iter().all(|w| *w < drilled), "{wheels:?} {drilled}");
    let wish = "\n[[order]]\nfirst = \"back plate: back plate and front plate as one\"\nthen = \"third wheel: teeth cut\"\nreason = \"the mill is lent out from June\"\n";
    let (wheels, drilled) = order(&format!("{CLOCK}{wish}"));
    assert!(drilled < wheels[2], "{wheels:?} {drilled}");
}
#[test]
fn what_is_done_stands_behind_it_and_other_parts_do_not() {
    let bench = with(CLOCK);
    let done = |bench: &Bench| {
        let told = bench.run(&["tonight", "clock", "--json"]).exits(0).json();
        let all = told["done"].as_array().expect("a list").clone();
        all.iter().filter_map(|d| d.as_str().map(str::to_owned)).collect::<Vec<_>>()
    };
    assert!(done(&bench).is_empty());
    let drilled = "back plate: back plate and front plate as one";
    bench.run(&["enter", "--project", "clock", "--done", drilled]).exits(0);
    let all = done(&bench);
    assert!(all.iter().any(|d| d == drilled) && all.iter().any(|d| d == "back plate: blank"), "{all:?}");
    assert!(!all.iter().any(|d| d.contains("wheel")), "they were only waited for: {all:?}");
    bench.run(&["enter", "--project", "clock", "--made", "pillar"]).exits(0);
    let all = done(&bench);
    for job in ["pillar: straight grain", "buy: stock"] {
        assert!(all.iter().any(|d| d == job), "{job} of what is made: {all:?}");
    }
}
