//! The whole help as a golden, and its examples run.
//!
//! `REBUILD_GOLDEN=1 cargo test -p brasswright --test cli` writes the golden anew; read the difference before it
//! is committed.

use crate::common::{Bench, done, golden};

const COMMANDS: [&str; 10] =
    ["begin", "check", "why", "ask", "tonight", "enter", "packet", "schema", "completions", "man"];

fn whole() -> String {
    let bench = Bench::new();
    let mut all = String::new();
    let mut add = |words: &[&str]| {
        let run = bench.run(words).exits(0);
        assert_eq!(run.err, "");
        let line = format!("$ brasswright {}", words.join(" "));
        all += &format!("{}\n{}\n", line.trim_end(), run.out);
    };
    add(&[]);
    add(&["--help"]);
    for c in COMMANDS {
        add(&[c, "--help"]);
    }
    all.lines().map(|l| l.trim_end().to_owned() + "\n").collect()
}
#[test]
fn help_is_as_the_golden() {
    let now = whole();
    let path = golden("help.txt");
    if std::env::var_os("REBUILD_GOLDEN").is_some() {
        std::fs::write(&path, &now).expect("the golden is written");
    }
    let kept = std::fs::read_to_string(&path).expect("the golden is there");
    let differs = now.lines().zip(kept.lines()).position(|(a, b)| a != b);
    assert!(
        now == kept,
        "the help differs from {} from line {:?} on:\n{}\nREBUILD_GOLDEN=1 writes it anew",
        path.display(),
        differs.map(|i| i + 1),
        differs.and_then(|i| now.lines().nth(i)).unwrap_or("one is longer"),
    );
}
#[test]
fn no_line_is_wider_than_a_terminal() {
    for line in whole().lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}
/// Every example of the help works as it stands, run one after the other in one folder that holds ten-screws.
#[cfg(unix)]
#[test]
fn the_examples_in_the_help_work() {
    let bench = Bench::new();
    bench.run(&["begin", "ten-screws", "."]).exits(0);
    bench.run(&["begin", "ten-screws", "aside"]).exits(0);
    let program = std::path::Path::new(env!("CARGO_BIN_EXE_brasswright"));
    let bin = program.parent().expect("a folder").to_owned();
    let path = std::env::var_os("PATH").unwrap_or_default();
    let path =
        std::env::join_paths(std::iter::once(bin).chain(std::env::split_paths(&path))).expect("joined");
    let mut tried = 0;
    for line in whole().lines().filter_map(|l| l.strip_prefix("  brasswright ")) {
        // What stands after three blanks is a remark.
        let typed = line.split("   ").next().unwrap_or(line).trim();
        if typed.starts_with("begin ten-screws") && bench.has("ten-screws") {
            continue;
        }
        let mut shell = std::process::Command::new("sh");
        shell.arg("-c").arg(format!("brasswright {typed}")).current_dir(&bench.0).env("PATH", &path);
        let home = bench.0.join("home");
        done(shell.env("HOME", home).stdin(std::process::Stdio::null())).exits(0);
        tried += 1;
    }
    assert!(tried > 25, "only {tried} examples were found");
}
