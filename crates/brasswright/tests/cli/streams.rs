//! The two streams: colour, a closed pipe, a full disk.

use crate::common::{Bench, CLOCK, done};
use std::io::Read;
use std::process::Stdio;

#[test]
fn no_colour_where_piped_unless_asked_for() {
    let bench = Bench::with_clock(&CLOCK.replace("\"11 mm\"", "11"));
    let escapes = |words: &[&str]| {
        let run = bench.run(words);
        (run.out.contains('\u{1b}'), run.err.contains('\u{1b}'))
    };
    for words in [&["check", "clock"][..], &["--help"], &["check", "--help"], &["chek"], &["ask"]] {
        assert_eq!(escapes(words), (false, false), "{words:?}");
        let never: Vec<&str> = words.iter().copied().chain(["--color", "never"]).collect();
        assert_eq!(escapes(&never), (false, false), "{words:?}");
    }
    assert_eq!(escapes(&["check", "clock", "--color", "always"]), (false, true));
    assert_eq!(escapes(&["--color=always", "why", "*.count", "--project", "clock"]), (true, false));
    assert_eq!(escapes(&["check", "--help", "--color", "always"]), (true, false));
    assert_eq!(escapes(&["--color", "always", "chek"]), (false, true));
    // NO_COLOR yields to what is asked for on the command line.
    let mut asked = bench.command(&["ask", "--color", "always"]);
    assert!(done(asked.env("NO_COLOR", "1")).out.contains('\u{1b}'));
}
#[test]
fn a_closed_pipe_ends_quietly() {
    let bench = Bench::new();
    let mut child = bench
        .command(&["schema", "clock"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // The reader goes away before the answer comes.
    drop(child.stdout.take());
    let mut err = String::new();
    child.stderr.take().expect("piped").read_to_string(&mut err).expect("read");
    assert_eq!((err.as_str(), child.wait().expect("ended").code()), ("", Some(0)));
}
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_told() {
    let bench = Bench::new();
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("every Linux has it");
    let run = done(bench.command(&["ask"]).stdout(full)).exits(74);
    assert!(run.err.contains("could not be written"), "{}", run.err);
}
