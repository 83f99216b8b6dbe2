//! The tasks of a developer: everything a change must pass, and what measures it.

mod bench;
mod licences;
mod rust;
mod shell;
mod tidy;
mod tree;
mod verify;

use std::process::ExitCode;

const USAGE: &str = "\
cargo run -p xtask -- TASK

  verify     all that a change must pass, in order; `cargo verify` is short for it
  tidy       the rules of the house, by file and line; `cargo tidy` is short for it
  licences   every dependency's licence against the list, and how many there are
  bench [N]  whole runs of the program timed N times beside a reference process";

/// What went wrong, ready to be read; empty when the task has said it all.
type Outcome = Result<(), String>;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["verify"] => verify::run(),
        ["tidy"] => tidy::run(),
        ["licences"] => licences::run(),
        ["bench"] => bench::run(10),
        ["bench", runs] => {
            runs.parse().map_err(|_| format!("`{runs}` is no number of runs")).and_then(bench::run)
        }
        ["help" | "--help" | "-h"] => {
            println!("{USAGE}");
            Ok(())
        }
        _ => Err(USAGE.to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(says) => {
            if !says.is_empty() {
                eprintln!("{says}");
            }
            ExitCode::FAILURE
        }
    }
}
