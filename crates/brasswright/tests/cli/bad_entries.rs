//! Entries that cannot be right, and places where nothing can be kept: a clear word each time, and nothing lost.

use super::common::{Bench, Run, done, program};
use super::enter::{CLOCK, enter, moved, regulator, si};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::process::{Command, Stdio};

fn refused(bench: &Bench, words: &[&str]) -> Run {
    let mut all = vec!["enter", "--project", "clock"];
    all.extend(words);
    bench.run(&all)
}
#[test]
fn what_is_wild_or_cannot_be_is_asked_about() {
    let bench = regulator();
    for read in ["41.691 mm", "41.693 mm", "41.690 mm"] {
        enter(&bench, &["third.wheel.outside", read, "--give-or-take", "0.002 mm"]);
    }
    let now = si(&bench, "third.wheel.outside");
    let ask = |value: &str, words: &str| {
        refused(&bench, &["third.wheel.outside", value]).exits(2).complains(words).complains("--sure");
    };
    ask("41.60 mm", "is far from what was read before: 41.691 mm");
    ask("54.3 mm", "more than its metal can be");
    ask("41.66 mm", "is far from");
    for (value, words) in [("0 mm", "is no size"), ("-3 mm", "is no size"), ("41,66 mm", "use a dot")] {
        refused(&bench, &["third.wheel.outside", value]).exits(2).complains(words);
    }
    let wrong = |words: &[&str], says: &str| {
        refused(&bench, words).exits(2).complains(says);
    };
    wrong(&["third.wheel.outside", "41.66 kg"], "a length is wanted here, and this is a mass");
    wrong(&["third.wheel.outside", "41.69 mm", "--at", "800 degC"], "no warmth that one measures at");
    wrong(&["third.wheel.outside", "41.69 mm", "--give-or-take", "50 mm"], "more than a tenth of it");
    // Pounds for kilograms: nothing that is known of explains it, and it is asked about all the same.
    wrong(&["pendulum.bob.mass", "6 lb"], "more than a third off what is wanted (6 kg)");
    assert!((si(&bench, "third.wheel.outside") - now).abs() < 1e-15);
    refused(&bench, &["--learnt", "drill", "2.53 mm"])
        .exits(64)
        .complains("does not say what was learnt of what");
    refused(&bench, &["--struck", "9", "--because", "gone"]).exits(64).complains("the last is 3");
    refused(&bench, &["--struck", "1"]).exits(64).complains("what is struck says why");
}
#[test]
fn a_part_that_is_not_begun_is_told_and_a_struck_reading_counts_no_more() {
    let bench = regulator();
    let told = enter(&bench, &["third.wheel.outside", "41.70 mm"]);
    assert!(told["told"].to_string().contains("counts as begun now"), "{told}");
    enter(&bench, &["--struck", "1", "--because", "another wheel"]);
    let told = enter(&bench, &["third.wheel.outside", "41.69 mm"]);
    assert!(told["told"].to_string().contains("counts as begun now"), "struck, it was not begun: {told}");
    assert!((si(&bench, "third.wheel.outside") - 41.69e-3).abs() < 1e-12);
    // What is scrapped is wanted again as it was drawn.
    enter(&bench, &["--scrapped", "third wheel", "--because", "a tooth broke"]);
    assert!((si(&bench, "third.wheel.outside") - 41.708e-3).abs() < 1e-6);
    enter(&bench, &["--begun", "third wheel"]);
    let told = enter(&bench, &["third.wheel.outside", "41.69 mm"]);
    assert!(moved(&told, "third.wheel.outside").is_some(), "its successor is measured: {told}");
}
/// A file that may not grow stands for a disk that is full: the system refuses the write either way.
#[test]
fn a_disk_that_takes_no_more_loses_nothing() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let file = program().get_program().to_owned();
    let full = |blocks: u32, words: &str| {
        let mut shell = Command::new("sh");
        shell
            .arg("-c")
            .arg(format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" {words} --project clock"))
            .arg(&file)
            .stdin(Stdio::null())
            .current_dir(&bench.0);
        done(&mut shell)
    };
    for blocks in [2, 8, 60] {
        let run = full(blocks, "enter plates.gap 41.97mm");
        assert_eq!(run.code, 74, "{} {}", run.out, run.err);
        assert!(run.err.contains("journal.sqlite: ") && run.err.contains("would do"), "{}", run.err);
        let list = bench.run(&["enter", "--list", "--project", "clock"]).exits(0).out;
        assert!(list.lines().count() == 1 && list.contains("41.96 mm"), "{list}");
    }
    enter(&bench, &["plates.gap", "41.98 mm"]);
    assert!((si(&bench, "plates.gap") - 41.97e-3).abs() < 1e-12, "the mean of the two that were kept");
}
/// As another user where this one may write everywhere.
#[test]
fn a_folder_that_may_not_be_written_is_read_and_nothing_is_changed() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let clock = bench.0.join("clock");
    let mode = |path: &std::path::Path, mode: u32| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).expect("set");
    };
    let ours = std::fs::metadata("/proc/self").expect("there").uid() == 0;
    let own = bench.0.join("program");
    std::fs::copy(program().get_program(), &own).expect("copied");
    mode(&own, 0o755);
    mode(&bench.0, 0o755);
    for f in std::fs::read_dir(&clock).expect("there").flatten() {
        mode(&f.path(), 0o444);
    }
    mode(&clock, 0o555);
    let run = |words: &[&str]| {
        let mut command = Command::new(&own);
        command.args(words).args(["--project", "clock"]).current_dir(&bench.0).stdin(Stdio::null());
        if ours {
            command.uid(65_534).gid(65_534);
        }
        done(&mut command)
    };
    let before = std::fs::read(clock.join("journal.sqlite")).expect("there");
    run(&["enter", "plates.gap", "41.97 mm"])
        .exits(74)
        .complains("the journal cannot be written here")
        .complains("make the folder writable");
    run(&["enter", "--list"]).exits(0).says("41.96 mm");
    run(&["why", "plates.gap"]).exits(0).says("41.960 mm");
    assert_eq!(std::fs::read(clock.join("journal.sqlite")).expect("there"), before);
    mode(&clock, 0o755);
}
#[test]
fn a_journal_cut_short_or_of_another_kind_is_left_as_it_is() {
    let bench = regulator();
    enter(&bench, &["plates.gap", "41.96 mm"]);
    let whole = std::fs::read(bench.0.join("clock/journal.sqlite")).expect("there");
    bench.write("clock/journal.sqlite", &whole[..whole.len() / 2]);
    let run = refused(&bench, &["plates.gap", "41.97 mm"]);
    assert_ne!(run.code, 0, "{}", run.out);
    assert_eq!(
        std::fs::read(bench.0.join("clock/journal.sqlite")).expect("there"),
        &whole[..whole.len() / 2]
    );
    // The journal of a shop in the place of the clock's.
    bench.write("clock/journal.sqlite", &whole);
    enter(&bench, &["--learnt", "drill:2.5 mm", "2.53 mm"]);
    let shops = std::fs::read(bench.0.join("clock/shop-journal.sqlite")).expect("there");
    bench.write("clock/journal.sqlite", &shops);
    refused(&bench, &["plates.gap", "41.97 mm"]).exits(2).complains("this is the journal of");
    assert_eq!(std::fs::read(bench.0.join("clock/journal.sqlite")).expect("there"), shops);
    bench.write("clock/journal.sqlite", &whole);
    bench.write("clock/clock.toml", CLOCK);
    assert!((si(&bench, "plates.gap") - 41.96e-3).abs() < 1e-12);
}
