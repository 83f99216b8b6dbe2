//! Wrong uses, broken files: each is told with what would do, and each has its exit code.

use crate::common::{Bench, CLOCK, done};
use std::fs;

#[test]
fn wrong_words_on_the_command_line() {
    let bench = Bench::with_clock(CLOCK);
    for (words, told) in [
        (&["chek"][..], "check"),
        (&["check", "--prts"], "--parts"),
        (&["check", "a", "b"], "unexpected argument 'b'"),
        (&["check", "--color", "red"], "always"),
        (&["why"], "<NAME>"),
        (&["schema"], "<OF>"),
        (&["schema", "clok"], "clock"),
        (&["completions", "dosshell"], "bash"),
        (&["man"], "<DIR>"),
        (&["packet", "clock", "--example", "ten-screws"], "cannot be used with"),
        (&["packet", "--example", "ten-screw"], "brasswright begin ten-screws"),
        (&["begin", "hardwear"], "brasswright begin hardware"),
        (&["ask", "fit.limit"], "brasswright ask fit.limits"),
        (&["ask", "fit=8 H7/g6"], "the question comes first"),
        (&["ask", "fit.limits"], "'fit.limits' needs fit"),
        (&["ask", "fit.limits", "8"], "key=value"),
        (&["ask", "fit.limits", "fi=8 H7/g6"], "did you mean 'fit'?"),
        (&["ask", "fit.limits", "fit=8 H7/g6", "fit=9 H7/g6"], "given twice"),
        (&["why", "bridge_screw.lenght", "--project", "clock"], "brasswright why bridge_screw.length"),
        (&["why", "nothing.**", "--project", "clock"], "nothing matches"),
    ] {
        let run = bench.run(words).exits(64).complains(told);
        assert_eq!(run.out, "", "{words:?}");
    }
}
#[test]
fn what_a_question_takes_is_shown_with_an_example() {
    let run = Bench::new().run(&["ask", "fit.limits"]).exits(64);
    assert!(
        run.err.contains("It takes:\n  fit  ")
            && run.err.contains("brasswright ask fit.limits fit=\"8 H7/g6\"")
    );
}
#[test]
fn a_value_that_cannot_be_read_is_underlined_on_the_command_line() {
    let run = Bench::new().run(&["ask", "drill.near", "size=2.3 deg"]).exits(2);
    let lines: Vec<&str> = run.err.lines().collect();
    let typed =
        lines.iter().position(|l| l.contains("ask drill.near size=\"2.3 deg\"")).expect("the command line");
    let mark = lines[typed + 1].find('^').expect("underlined");
    assert!(
        lines[typed][mark..].starts_with("2.3 deg") || lines[typed][mark..].starts_with("deg"),
        "{}",
        run.err
    );
}
#[test]
fn wrong_uses_as_json() {
    let bench = Bench::with_clock(CLOCK);
    for (words, kind, code) in [
        (&["check", "nowhere", "--json"][..], "files", 74),
        (&["check", ".", "--json"], "text", 2),
        (&["why", "nothing", "--project", "clock", "--json"], "use", 64),
        (&["ask", "nothing", "--json"], "use", 64),
        (&["ask", "drill.near", "size=2.3 deg", "--json"], "text", 2),
    ] {
        let run = bench.run(words).exits(code);
        let all = run.json();
        assert_eq!((&all["exit"], run.err.as_str()), (&code.into(), ""), "{words:?}");
        assert_eq!(all["troubles"][0]["kind"], kind, "{words:?}");
    }
}
#[test]
fn no_project_says_how_to_begin() {
    let bench = Bench::new();
    bench.run(&["check"]).exits(2).complains("brasswright begin ten-screws");
    bench.run(&["why", "x"]).exits(2).complains("brasswright begin");
    bench.run(&["packet"]).exits(2).complains("brasswright begin");
    bench.run(&["check", "nowhere"]).exits(74).complains("there is nothing by that name");
}
#[test]
fn files_that_are_no_texts() {
    let bench = Bench::with_clock(CLOCK);
    bench.run(&["check", "clock/clock.toml"]).exits(74).complains("name the folder that it lies in: clock");
    fs::create_dir_all(bench.0.join("folder/clock.toml")).expect("made");
    bench.run(&["check", "folder"]).exits(74).complains("is a folder where a file is due");
    bench.write("large/clock.toml", "");
    let large = fs::OpenOptions::new().write(true).open(bench.0.join("large/clock.toml")).expect("opened");
    large.set_len(50 << 20).expect("grown");
    bench.run(&["check", "large"]).exits(74).complains("it has 50 MB; the limit is 4 MB");
    bench.write("binary/clock.toml", b"[clock]\nname = \"\xff\xfe\"\n");
    bench.run(&["check", "binary"]).exits(2).complains("clock.toml:2:");
    bench.write("empty/clock.toml", "");
    assert_ne!(bench.run(&["check", "empty"]).code, 70);
    bench.write("hostile/clock.toml", "[clock]\nname = \"a\u{1b}[2Jb\"\n\u{1b}[31m = 1\n");
    let run = bench.run(&["check", "hostile"]).exits(2);
    assert!(!run.err.contains('\u{1b}'), "{:?}", run.err);
}
#[cfg(unix)]
#[test]
fn a_folder_whose_name_is_not_utf_8() {
    use std::os::unix::ffi::OsStrExt;
    let bench = Bench::new();
    let name = std::ffi::OsStr::from_bytes(b"Uhr \xe4");
    fs::create_dir(bench.0.join(name)).expect("made");
    fs::write(bench.0.join(name).join("clock.toml"), CLOCK).expect("written");
    done(bench.command(&["check"]).arg(name)).exits(0).says("all is well");
    // A question in such letters is a wrong use, not a fault of the program.
    done(bench.command(&["ask"]).arg(name)).exits(64);
}
#[test]
fn a_place_that_cannot_be_written() {
    let bench = Bench::with_clock(CLOCK);
    bench.write("taken", "a file");
    for words in
        [&["begin", "ten-screws", "taken"][..], &["begin", "ten-screws", "taken/deeper"], &["man", "taken"]]
    {
        bench.run(words).exits(74).complains("file trouble");
    }
    assert_eq!(fs::read_to_string(bench.0.join("taken")).expect("read"), "a file");
}
#[test]
fn nothing_is_written_while_a_trouble_stands() {
    let bench = Bench::with_clock(&CLOCK.replace("\"11 mm\"", "11"));
    bench.run(&["packet", "clock"]).exits(2).complains("needs a unit").complains("nothing was written");
    assert!(!bench.has("clock/out"));
}
#[test]
fn ten_thousand_troubles_are_counted_and_few_are_shown() {
    let mut text = CLOCK.to_owned();
    for i in 0..10_000 {
        text += &format!("wrong{i} = 1\n");
    }
    let run = Bench::with_clock(&text).run(&["check", "clock"]).exits(2).complains("more, left out here");
    assert!(run.err.lines().count() < 400, "{} lines", run.err.lines().count());
}
