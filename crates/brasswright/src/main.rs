//! The program: files, printing, time, exit codes.
//!
//! Everything that touches the world is here and only here; the other crates
//! take texts and give back numbers, troubles and bytes. A command makes an
//! [`outcome::Outcome`], which is printed when it is whole.

mod args;
mod ask;
mod begin;
mod bench;
mod check;
mod counts;
mod day;
mod enter;
mod exit;
mod fault;
mod files;
mod folder;
mod going;
mod hear;
mod look;
mod manual;
mod outcome;
mod packet;
mod preview;
mod progress;
mod prove;
mod study;
mod told;
mod tonight;
mod tree;
mod why;
mod work;

use args::Command;
use clap::Parser;
use clap::error::ErrorKind;
use look::{Colour, Look};
use outcome::{Outcome, Stopped};
use std::ffi::OsString;
use std::process::ExitCode;

fn main() -> ExitCode {
    let typed: Vec<OsString> = std::env::args_os().collect();
    fault::report_panics(&typed);
    ExitCode::from(fault::guarded(|| run(&typed).print()))
}
fn run(typed: &[OsString]) -> Outcome {
    let line = match args::Line::try_parse_from(typed) {
        Ok(line) => line,
        Err(e) => return not_parsed(&e, Look::choose(colour_of(typed))),
    };
    let look = Look::choose(line.color);
    let Some(command) = &line.command else { return Outcome::well(args::START) };
    match obey(command, look) {
        Ok(outcome) => outcome,
        Err(stopped) => refuse(&stopped, wants_json(command), look),
    }
}
fn obey(command: &Command, look: Look) -> Result<Outcome, Stopped> {
    match command {
        Command::Begin(a) => begin::run(a),
        Command::Check(a) => check::run(a, look),
        Command::Why(a) => why::run(a, look),
        Command::Ask(a) => ask::run(a, look),
        Command::Counts(a) => counts::run(a, look),
        Command::Preview(a) => preview::run(a, look),
        Command::Tonight(a) => tonight::run(a, look),
        Command::Enter(a) => enter::command::run(a, look),
        Command::Going(a) => going::run(a, look),
        Command::Packet(a) => packet::run(a, look),
        Command::Prove(a) => prove::run(a, look),
        Command::Bench(a) => bench::run(a),
        Command::Listen(a) => hear::run(a, look),
        Command::Schema(a) => Ok(manual::schema(a.of)),
        Command::Completions(a) => Ok(manual::completions(a)),
        Command::Man(a) => manual::man(a),
    }
}
const fn wants_json(command: &Command) -> bool {
    match command {
        Command::Check(a) => a.json,
        Command::Why(a) => a.json,
        Command::Ask(a) => a.json,
        Command::Counts(a) => a.json,
        Command::Preview(a) => a.json,
        Command::Prove(a) => a.json,
        Command::Listen(a) => a.json,
        Command::Tonight(a) => a.json,
        Command::Enter(a) => a.json,
        Command::Going(a) => a.json,
        _ => false,
    }
}
fn refuse(stopped: &Stopped, json: bool, look: Look) -> Outcome {
    let texts = told::Texts::default();
    let mut outcome = Outcome { exit: stopped.exit, ..Outcome::default() };
    if json {
        outcome.out = format!("{:#}\n", told::stopped_as_json(stopped, &texts));
    } else {
        outcome.err = told::stopped(stopped, &texts, look.err);
    }
    outcome
}
/// Help and version are answers; everything else is a wrong use.
fn not_parsed(e: &clap::Error, look: Look) -> Outcome {
    let said = |colour: bool| if colour { e.render().ansi().to_string() } else { e.render().to_string() };
    match e.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Outcome::well(said(look.out)),
        _ => Outcome { err: said(look.err), exit: exit::USE, ..Outcome::default() },
    }
}
/// The colour asked for on a command line that could not be read as a whole.
fn colour_of(typed: &[OsString]) -> Colour {
    let words: Vec<&str> = typed.iter().filter_map(|w| w.to_str()).collect();
    let spaced = words.windows(2).filter(|w| w[0] == "--color").map(|w| w[1]);
    let joined = words.iter().filter_map(|w| w.strip_prefix("--color="));
    let last = spaced.chain(joined).next_back();
    last.and_then(|w| clap::ValueEnum::from_str(w, false).ok()).unwrap_or_default()
}
