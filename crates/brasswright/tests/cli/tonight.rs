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
