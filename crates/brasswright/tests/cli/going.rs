//! `going` from outside.

use super::common::Bench;

const CLOCK: &str = include_str!("../../../../examples/regulator/clock.toml");

#[test]
fn a_clock_is_let_go() {
    let bench = Bench::with_clock(CLOCK);
    bench
        .run(&["going", "clock"])
        .exits(4)
        .says("likely  1.74°")
        .says("air and suspension")
        .says("holds  no double beat")
        .complains("the largest swing stays 0.3 degrees within the faces");
    let told = bench.run(&["going", "clock", "--json"]).exits(4).json();
    let likely = &told["places"][1];
    assert_eq!(likely["if"], "likely");
    let arc = likely["arc_degrees"].as_f64().expect("a number");
    assert!((arc - 1.7354).abs() < 2e-4, "{arc}");
    bench.run(&["why", "going.run.likely.arc", "--project", "clock"]).exits(0).says("1.73537");
}
#[test]
fn its_rate_is_parted_into_circular_and_escapement_error() {
    let bench = Bench::with_clock(CLOCK);
    let told = bench.run(&["going", "clock", "--json"]).exits(4).json();
    let rate = &told["rate_against_arc"];
    let number = |v: &serde_json::Value| v.as_f64().expect("a number");
    let here = &rate["here"];
    let (arc, circular) = (number(&here["arc_degrees"]), number(&here["circular_s_per_day"]));
    // −86400 A²/16, but for what the spring of the strip adds to gravity: less than a part in a thousand.
    let plain = -5400.0 * arc.to_radians() * arc.to_radians();
    assert!((circular / plain - 1.0).abs() < 1e-3, "{circular} and not {plain}");
    assert!(
        (number(&here["both_s_per_day"]) - circular - number(&here["escapement_s_per_day"])).abs() < 1e-12
    );
    let curve = rate["curve"].as_array().expect("a curve");
    assert!(curve.windows(2).all(|w| number(&w[1]["arc_degrees"]) > number(&w[0]["arc_degrees"])));
    bench.run(&["going", "clock"]).says("circular −4.9").says("0.1° more by a stronger drive");
    bench
        .run(&["why", "going.rate.together_s_per_day", "--project", "clock"])
        .exits(0)
        .says("circular + escapement");
}
#[test]
fn the_room_is_what_is_written_of_it() {
    let steady = CLOCK.replacen("site = {", "site = { warmer_by_day = \"0 K\", warmer_by_year = \"2 K\",", 1);
    assert_ne!(steady, CLOCK);
    let bench = Bench::with_clock(&steady);
    let half = bench.run(&["why", "pendulum.weather.year_rate_s_per_day", "--project", "clock", "--json"]);
    let written = half.exits(0).json();
    let whole = Bench::with_clock(CLOCK);
    let usual = whole.run(&["why", "pendulum.weather.year_rate_s_per_day", "--project", "clock", "--json"]);
    let usual = usual.exits(0).json();
    let si = |v: &serde_json::Value| v["lines"][0]["value"].as_f64().expect("a number");
    // Half the swing, half the rate.
    assert!((si(&usual) / si(&written) - 2.0).abs() < 0.01, "{usual} {written}");
}
#[test]
fn each_size_is_told_with_what_it_does() {
    let bench = Bench::with_clock(CLOCK);
    bench
        .run(&["going", "clock"])
        .says("What each size does")
        .says("bob and nut lower on the rod")
        .says("0.1 mm   −4.214       −0.0001°");
    let told = bench.run(&["going", "clock", "--json"]).json();
    let sizes = told["by_size"].as_array().expect("sizes");
    let gravity = sizes.iter().find(|s| s["larger"] == "gravity").expect("gravity");
    // 86 400/2 · 10 mGal/g: of any pendulum.
    let rate = gravity["rate_s_per_day"].as_f64().expect("a number");
    assert!((rate - 43_200.0 * 1e-4 / 9.81).abs() < 1e-3, "{rate}");
    assert!((gravity["by_si"].as_f64().expect("a number") - 1e-4).abs() < 1e-15 && gravity["unit"] == "m/s²");
    bench
        .run(&["why", "going.by_size.strip_thicker.rate_s_per_day", "--project", "clock"])
        .exits(0)
        .says("one size half of that larger");
}
#[test]
fn a_clock_stands_beside_its_model() {
    let bench = Bench::with_clock(CLOCK);
    bench
        .run(&["going", "clock", "--arc", "1.6 deg", "--rate", "-3 s/day", "--after", "2 d"])
        .says("1.60° measured")
        .says("alone it would be explained by")
        .says("the nut up by");
    bench.run(&["going", "clock", "--arc", "40 deg"]).exits(2).complains("between 0.01 and 28 degrees");
    bench.run(&["going", "clock", "--arc", "5 mm"]).exits(2).complains("command line, --arc");
    bench.run(&["going", "clock", "--rate", "fast"]).exits(2).complains("'fast' is no rate");
    bench
        .run(&["going", "clock", "--arc", "1.6 deg", "--after", "9 d"])
        .exits(2)
        .complains("after the end of the run");
    bench.run(&["going", "clock", "--after", "1 d"]).exits(64);
}
#[test]
fn what_cannot_go_is_refused() {
    let bench = Bench::with_clock(CLOCK);
    let cut = CLOCK.find("[drive.weight]").expect("a drive");
    let end = CLOCK.find("[losses]").expect("losses");
    bench.write("still/clock.toml", format!("{}{}", &CLOCK[..cut], &CLOCK[end..]));
    bench.run(&["going", "still"]).exits(4).complains("without a drive");
    bench.write("screws/clock.toml", include_str!("../../../../examples/ten-screws/clock.toml"));
    bench.run(&["going", "screws"]).exits(4).complains("there is no movement to go");
    bench.run(&["going", "nowhere"]).exits(74);
    bench.run(&["going", "--example", "regulaator"]).exits(64).complains("regulator");
}
#[test]
fn the_movement_moves_on_a_page() {
    let bench = Bench::with_clock(CLOCK);
    bench.run(&["going", "clock", "--out", "moving"]).exits(4).says("going.html");
    let page = std::fs::read_to_string(bench.0.join("moving/going.html")).expect("a page");
    // Nothing from elsewhere; the frames are data that a script reads.
    assert!(
        !page.contains("http://")
            || page.matches("http://").count() == page.matches("http://www.w3.org/").count()
    );
    assert!(!page.contains("https://"));
    let begins = page.find("data-holds=\"films\">").expect("films") + "data-holds=\"films\">".len();
    let ends = page[begins..].find("</script>").expect("an end") + begins;
    let films: serde_json::Value = serde_json::from_str(&page[begins..ends]).expect("JSON");
    let reels = films["reels"].as_array().expect("films");
    assert_eq!(reels.len(), 3);
    for reel in reels {
        let frames = reel["frames"].as_array().expect("frames");
        assert!(frames.len() > 160 && reel["events"].as_array().expect("events").len() >= 8);
        let at = |n: usize, k: usize| frames[n][k].as_f64().expect("a number");
        // One tooth in two beats, and the pendulum where it was.
        let last = frames.len() - 1;
        assert!((at(last, 2) - at(0, 2) - 0.209_439_5).abs() < 1e-5);
        assert!((at(last, 1) - at(0, 1)).abs() < 1e-6);
    }
}
#[test]
fn so_many_clocks_are_drawn_and_told() {
    let bench = Bench::with_clock(CLOCK);
    let told = bench
        .run(&["going", "clock", "--clocks", "300", "--seed", "7", "--out", "drawn"])
        .exits(0)
        .says("300 clocks drawn from seed 7")
        .says("keeps going")
        .says("A tighter limit buys most at: ")
        .says("The outlines of each clock are followed at its own sizes.")
        .says("study.html");
    let page = std::fs::read_to_string(bench.0.join("drawn/study.html")).expect("a page");
    for words in ["How likely it goes", "Where a tighter limit buys", "What makes it vary", "300 of 300"] {
        assert!(page.contains(words), "{words} in {page}");
    }
    assert!(!page.contains("https://") && !page.contains("<script"));
    // The same numbers stand in both, and come again from the same seed.
    let json = |seed: &str| {
        bench.run(&["going", "clock", "--clocks", "300", "--seed", seed, "--json"]).exits(0).json()
    };
    let (one, other) = (json("7"), json("8"));
    assert_eq!(one, json("7"));
    assert_ne!(one["all"], other["all"]);
    let share = one["all"]["share"].as_f64().expect("a share");
    let (low, high) = (one["all"]["low"].as_f64(), one["all"]["high"].as_f64());
    assert!(low < Some(share) && Some(share) < high, "{}", one["all"]);
    let shown = format!("{} %", reckon::print::fixed(share * 100.0, 1));
    assert!(told.out.contains(&shown) && page.contains(&shown), "{shown} in {}", told.out);
    assert_eq!(one["what_varies"].as_array().map(Vec::len), Some(15));
    bench.run(&["going", "clock", "--clocks", "0"]).exits(64).complains("--clocks takes 1 to 1000000");
    bench
        .run(&["going", "clock", "--clocks", "9", "--drawn", "shop"])
        .exits(64)
        .complains("8 measured sizes");
    bench.run(&["going", "clock", "--seed", "9"]).exits(64);
}
#[cfg(unix)]
#[test]
fn an_interrupt_ends_a_study_with_the_answer_so_far() {
    let bench = Bench::with_clock(CLOCK);
    // It may not yet be drawing when it is interrupted: then it ends without a word, and is given more time.
    let told = [3, 8, 20, 60].into_iter().find_map(|seconds| {
        let mut command = bench.command(&["going", "clock", "--clocks", "1000000"]);
        let child = command.stdout(std::process::Stdio::piped()).stderr(std::process::Stdio::null()).spawn();
        let child = child.expect("it starts");
        std::thread::sleep(std::time::Duration::from_secs(seconds));
        let sent = std::process::Command::new("kill").args(["-INT", &child.id().to_string()]).status();
        assert!(sent.is_ok_and(|s| s.success()));
        let ended = child.wait_with_output().expect("it ends");
        let out = String::from_utf8(ended.stdout).expect("text");
        (ended.status.code() == Some(0) && !out.contains(": 0 of")).then_some(out)
    });
    let told = told.expect("an answer");
    assert!(told.contains("Interrupted: ") && told.contains(" of 1000000 clocks were drawn"), "{told}");
    assert!(told.contains("keeps going") && told.contains("95 % surety"), "{told}");
}
