//! A fault of this program: one line that asks for a report, and the exit code that says so.

use crate::exit;
use crate::look::clean;
use std::ffi::OsString;
use std::io::Write;
use std::panic::{PanicHookInfo, UnwindSafe, catch_unwind, set_hook};

/// From now on a panic prints one line with what was run.
pub fn report_panics(typed: &[OsString]) {
    let run = typed.iter().map(|w| quoted(&w.to_string_lossy())).collect::<Vec<_>>().join(" ");
    set_hook(Box::new(move |info| {
        let _ = std::io::stderr().write_all(line(info, &run).as_bytes());
    }));
}
/// Runs it; a panic becomes [`exit::OURS`].
pub fn guarded(f: impl FnOnce() -> u8 + UnwindSafe) -> u8 {
    catch_unwind(f).unwrap_or(exit::OURS)
}
fn line(info: &PanicHookInfo<'_>, run: &str) -> String {
    let said = info.payload_as_str().unwrap_or("no reason given");
    let place = info.location().map_or_else(String::new, |l| format!(" at {}:{}", l.file(), l.line()));
    one_line(said, &place, run)
}
fn one_line(said: &str, place: &str, run: &str) -> String {
    let said = clean(said).replace('\n', " ");
    let run = clean(run).replace('\n', " ");
    let version = env!("CARGO_PKG_VERSION");
    format!(
        "brasswright {version}: a fault of this program, not of your project: {said}{place}; \
         please report this line with the files that were read; run as: {run}\n"
    )
}
fn quoted(word: &str) -> String {
    let plain = !word.is_empty() && word.chars().all(|c| c.is_alphanumeric() || "-_./=,:+".contains(c));
    if plain { word.to_owned() } else { format!("'{}'", word.replace('\'', "'\\''")) }
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn a_panic_becomes_the_code_of_our_faults() {
        assert_eq!(guarded(|| 5), 5);
        assert_eq!(guarded(|| panic!("a tooth too many")), exit::OURS);
    }
    #[test]
    fn the_report_is_one_line_and_says_what_was_run() {
        let said = one_line("broken\nin two", " at x.rs:1", "brasswright why '**'");
        assert_eq!(said.matches('\n').count(), 1);
        assert!(said.contains("broken in two at x.rs:1") && said.contains("run as: brasswright why '**'"));
        assert_eq!(quoted("a b"), "'a b'");
        assert_eq!(quoted("it's"), "'it'\\''s'");
    }
}
