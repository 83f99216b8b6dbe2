//! Every command, from outside.

use crate::common::{Bench, CLOCK, done};
use serde_json::json;

#[test]
fn alone_it_shows_a_short_start() {
    let run = Bench::new().run(&[]).exits(0).says("brasswright begin ten-screws");
    assert!(run.err.is_empty() && run.out.lines().count() < 20);
}
#[test]
fn begin_lists_examples_and_writes_one() {
    let bench = Bench::new();
    bench.run(&["begin"]).exits(0).says("ten-screws").says("hardware");
    bench.run(&["begin", "ten-screws"]).exits(0).says("Now: brasswright check ten-screws");
    assert!(bench.has("ten-screws/clock.toml") && bench.has("ten-screws/shop.toml"));
    bench.run(&["begin", "hardware", "meine Uhr 2"]).exits(0).says("brasswright check \"meine Uhr 2\"");
    assert!(bench.has("meine Uhr 2/clock.toml"));
}
#[test]
fn begin_overwrites_nothing() {
    let bench = Bench::with_clock("mine");
    bench.run(&["begin", "ten-screws", "clock"]).exits(74).complains("is not overwritten");
    assert_eq!(std::fs::read_to_string(bench.0.join("clock/clock.toml")).expect("read"), "mine");
    assert!(!bench.has("clock/shop.toml"));
}
#[test]
fn every_example_is_read_designed_and_planned() {
    let bench = Bench::new();
    for name in ["ten-screws", "hardware"] {
        bench.run(&["begin", name]).exits(0);
        let run = bench.run(&["check", name, "--parts"]).exits(0);
        assert!(run.out.contains(" ×  "), "{}", run.out);
    }
}
#[test]
fn check_is_quiet_when_all_is_well() {
    let bench = Bench::with_clock(CLOCK);
    let run = bench.run(&["check", "clock"]).exits(0).says("all is well: 2 kinds of part, ");
    assert_eq!((run.out.lines().count(), run.err.as_str()), (1, ""));
    let run = bench.run(&["check", "clock", "--parts"]).exits(0);
    assert!(
        run.out.contains("  10 ×  bridge screw      screw   ⌀8.000 mm × 14.200 mm  silver steel"),
        "{}",
        run.out
    );
    let mut here = bench.command(&["check"]);
    done(here.current_dir(bench.0.join("clock"))).exits(0).says("all is well");
}
#[test]
fn check_tells_all_troubles_at_once_in_order_of_place() {
    let text = CLOCK
        .replace("\"11 mm\"", "11")
        .replace("\"21 mm\"", "\"21 deg\"")
        .replace("name = \"Two", "nam = \"Two");
    let run = Bench::with_clock(&text).run(&["check", "clock"]).exits(2);
    let at = |words: &str| run.err.find(words).unwrap_or_else(|| panic!("'{words}' is not in\n{}", run.err));
    assert!(at("clock.toml:2:1") < at("clock.toml:8:10") && at("clock.toml:8:10") < at("clock.toml:16:"));
    assert!(run.err.contains("8 | length = 11\n") && run.err.contains("11 mm"), "{}", run.err);
    assert!(run.err.trim_end().ends_with("troubles"), "{}", run.err);
}
#[test]
fn check_as_json() {
    let bench = Bench::with_clock(&CLOCK.replace("\"11 mm\"", "11"));
    let run = bench.run(&["check", "clock", "--json"]).exits(2);
    assert_eq!(run.err, "");
    let all = run.json();
    assert_eq!(all["exit"], 2);
    let first = &all["troubles"][0];
    assert_eq!(first["kind"], "text");
    assert_eq!(first["weight"], "error");
    assert_eq!(first["line"], 8);
    assert_eq!(first["column"], 10);
    assert!(first["file"].as_str().is_some_and(|f| f.ends_with("clock.toml")));
    assert!(first["says"].as_str().is_some_and(|s| s.contains("needs a unit")));
    assert!(first["cures"][0].as_str().is_some_and(|s| s.contains("11 mm")));
    let well = Bench::with_clock(CLOCK).run(&["check", "clock", "--json"]).exits(0).json();
    assert_eq!(well["troubles"], json!([]));
    assert_eq!(well["parts"][0]["name"], "bridge screw");
    assert_eq!(well["parts"][0]["finish"], json!(["harden", "polish", "blue"]));
}
#[test]
fn a_clock_without_a_shop_a_shop_without_a_clock_and_another_shop() {
    let bench = Bench::with_clock(CLOCK);
    bench.write("shop/shop.toml", "[shop]\nname = \"shed\"\n");
    bench.run(&["check", "shop"]).exits(0);
    // A shop without a lathe makes no screws.
    bench.run(&["check", "clock", "--shop", "shop/shop.toml"]).exits(3).complains("the shop has no lathe");
    bench.write("bad shop.toml", "[shop]\nnme = \"shed\"\n");
    bench.run(&["check", "clock", "--shop", "bad shop.toml"]).complains("bad shop.toml:2:1");
    bench.run(&["check", "clock", "--shop", "none.toml"]).exits(74).complains("the shop 'none.toml'");
}
#[test]
fn why_opens_a_name_and_lists_a_pattern() {
    let bench = Bench::with_clock(CLOCK);
    let run = bench.run(&["why", "bridge_screw.largest", "--project", "clock"]).exits(0);
    assert!(run.out.starts_with("bridge_screw.largest = ⌀8.000 mm   = "), "{}", run.out);
    assert!(run.out.contains("written: clock.toml line 9"), "{}", run.out);
    bench
        .run(&["why", "*.count", "--project", "clock"])
        .exits(0)
        .says("bridge_screw.count      10  written\nseatboard_washer.count  5   written\n")
        .says("2 names.");
    bench
        .run(&["why", "*.count", "--project", "clock", "--open"])
        .exits(0)
        .says("seatboard_washer.count = 5   written: clock.toml line 15");
}
#[test]
fn why_as_json() {
    let bench = Bench::with_clock(CLOCK);
    let all = bench.run(&["why", "bridge_screw.largest", "--project", "clock", "--json"]).exits(0).json();
    let line = &all["lines"][0];
    assert_eq!(line["name"], "bridge_screw.largest");
    assert_eq!(line["value"], json!(0.008));
    assert_eq!(line["unit"], "m");
    assert_eq!(line["origin"], "computed");
    assert!(line["formula"].is_string() && line["source"]["mark"] == "derived");
    let input = line["inputs"][0]["name"].as_str().expect("an input");
    let under = all["lines"].as_array().expect("lines").iter().find(|l| l["name"] == input).expect("opened");
    assert_eq!(under["at"]["line"], 9);
}
#[test]
fn why_goes_as_far_as_a_broken_text_allows() {
    let bench = Bench::with_clock(&CLOCK.replace("\"11 mm\"", "11"));
    bench.run(&["why", "bridge_screw.largest", "--project", "clock"]).exits(2).complains("needs a unit");
    bench
        .run(&["why", "seatboard_washer.count", "--project", "clock"])
        .exits(0)
        .says("= 5")
        .complains("The project has 1 trouble");
}
// Expected limits: ISO 286-2, H7 and g6 over 6 up to 10 mm: +15/0 and -5/-14 µm.
#[test]
fn ask_answers_with_its_working() {
    let bench = Bench::new();
    let run = bench
        .run(&["ask", "fit.limits", "fit=8 H7/g6"])
        .exits(0)
        .says("shaft_smallest  7.986 mm\n")
        .says("ISO 286");
    assert!(run.out.contains("hole_largest = 8.015 mm   = "), "{}", run.out);
    let short = bench.run(&["ask", "fit.limits", "fit=8 H7/g6", "--short"]).exits(0).says("7.986 mm");
    assert!(!short.out.contains("ISO") && short.out.lines().count() < run.out.lines().count());
    let all = bench.run(&["ask", "fit.limits", "fit=8 H7/g6", "--json"]).exits(0).json();
    let least = all["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .find(|l| l["name"] == "shaft_smallest")
        .expect("answered");
    assert!((least["value"].as_f64().expect("a number") - 0.007_986).abs() < 1e-12);
}
#[test]
fn ask_lists_by_subject() {
    let bench = Bench::new();
    let all = bench.run(&["ask"]).exits(0).says("fit.limits").says("drill.named");
    let some = bench.run(&["ask", "fit"]).exits(0).says("fit.limits");
    assert!(!some.out.contains("drill.named") && all.out.len() > some.out.len());
    let listed = bench.run(&["ask", "--json"]).exits(0).json();
    assert!(listed.as_array().is_some_and(|l| l.len() > 20));
}
/// The example that each question carries answers, in the words of its own list.
#[test]
fn every_question_answers_its_example() {
    let bench = Bench::new();
    for ask in bench.run(&["ask", "--json"]).exits(0).json().as_array().expect("a list") {
        let example = words(ask["example"].as_str().expect("an example"));
        let line: Vec<&str> =
            ["ask", "--json"].into_iter().chain(example.iter().map(String::as_str)).collect();
        let all = bench.run(&line).exits(0).json();
        assert!(all["answers"].as_array().is_some_and(|a| !a.is_empty()), "{example:?}");
    }
}
/// Words as a command-line shell parts them: at blanks outside of quotes.
fn words(text: &str) -> Vec<String> {
    let (mut out, mut quote) = (vec![String::new()], None);
    for c in text.chars() {
        match (c, quote) {
            (c, Some(q)) if c == q => quote = None,
            ('"' | '\'', None) => quote = Some(c),
            (' ', None) => out.push(String::new()),
            (c, _) => out.last_mut().expect("never empty").push(c),
        }
    }
    out.retain(|w| !w.is_empty());
    out
}
#[test]
fn schema_is_json_that_knows_the_text() {
    let bench = Bench::new();
    let clock = bench.run(&["schema", "clock"]).exits(0).json();
    assert!(clock["properties"]["screw"].is_object(), "{clock:#}");
    let shop = bench.run(&["schema", "shop"]).exits(0).json();
    assert!(shop["properties"]["lathe"].is_object(), "{shop:#}");
}
#[test]
fn completions_for_every_shell() {
    let bench = Bench::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        bench.run(&["completions", shell]).exits(0).says("packet").says("schema");
    }
}
#[test]
fn manual_pages() {
    let bench = Bench::new();
    bench.run(&["man", "man 1"]).exits(0).says("brasswright-check.1");
    let page = std::fs::read_to_string(bench.0.join("man 1/brasswright-packet.1")).expect("a page");
    assert!(page.contains(".TH") && page.contains("Write the bench packet"), "{page}");
    assert_eq!(std::fs::read_dir(bench.0.join("man 1")).expect("listed").count(), 17);
}
/// The names and bytes of all files under a folder.
fn tree(folder: &std::path::Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in std::fs::read_dir(next).expect("listed") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("inside").to_string_lossy().into_owned();
                found.push((name, std::fs::read(&path).expect("read")));
            }
        }
    }
    found.sort();
    found
}
#[test]
fn packet_writes_whole_files_and_the_same_bytes_each_time() {
    let bench = Bench::new();
    bench.run(&["begin", "ten-screws"]).exits(0);
    let day = |words: &[&str]| done(bench.command(words).env("SOURCE_DATE_EPOCH", "1764000000"));
    let run = day(&["packet", "ten-screws"]).exits(0).says("packet.pdf");
    day(&["packet", "--example", "ten-screws", "--out", "sheets twice"]).exits(0);
    let once = tree(&bench.0.join("ten-screws/out"));
    assert!(once == tree(&bench.0.join("sheets twice")), "a project and its example give the same bytes");
    assert!(once.iter().all(|(name, _)| !name.contains(".part")), "nothing is left aside");
    assert_eq!(run.out.lines().count(), once.len());
    let pdf = &once.iter().find(|(name, _)| name == "packet.pdf").expect("a packet").1;
    assert!(pdf.starts_with(b"%PDF-1.7") && pdf.len() > 10_000);
}
#[test]
fn packet_refuses_what_it_cannot_write() {
    let bench = Bench::new();
    bench.run(&["begin", "ten-screws"]).exits(0);
    bench.write("ten-screws/out", "a file");
    bench.run(&["packet", "ten-screws"]).exits(74).complains("is a file where a folder is due");
    bench.write("only/clock.toml", CLOCK);
    bench.run(&["packet", "only"]).exits(3).complains("--shop").complains("nothing was written");
    assert!(!bench.has("only/out"));
    let day = done(bench.command(&["packet", "only"]).env("SOURCE_DATE_EPOCH", "yesterday"));
    day.exits(64).complains("SOURCE_DATE_EPOCH");
}

#[test]
fn a_packet_takes_its_own_old_files_away_and_no_others() {
    let bench = Bench::new();
    bench.run(&["begin", "ten-screws"]).exits(0);
    bench.run(&["packet", "ten-screws"]).exits(0);
    let out = bench.0.join("ten-screws/out");
    let (screw, mine) = (out.join("drawings/bridge-screw.svg"), out.join("drawings/mine.svg"));
    std::fs::write(&mine, "kept").unwrap();
    assert!(screw.exists());
    let clock = bench.0.join("ten-screws/clock.toml");
    let text = std::fs::read_to_string(&clock).unwrap().replace("bridge screw", "cock screw");
    std::fs::write(&clock, text).unwrap();
    bench.run(&["packet", "ten-screws"]).exits(0);
    assert!(!screw.exists(), "a drawing of a part that is no more");
    assert!(out.join("drawings/cock-screw.svg").exists());
    assert_eq!(std::fs::read_to_string(&mine).unwrap(), "kept");
}
