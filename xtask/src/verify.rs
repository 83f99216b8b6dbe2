//! All that a change must pass, in order.

use std::time::Instant;

use crate::{Outcome, licences, shell, tidy};

/// A program that tests call, and the Debian package that brings it.
const SYSTEM: [(&str, &str); 5] = [
    ("pdftotext", "poppler-utils"),
    ("pdftoppm", "poppler-utils"),
    ("pdfinfo", "poppler-utils"),
    ("chromium", "chromium"),
    ("chromedriver", "chromium-driver"),
];

/// Runs every step; stops at the first that fails, then tells how the tests stood.
pub fn run() -> Outcome {
    let mut tests = Totals::default();
    let outcome = steps(&mut tests);
    match &outcome {
        Ok(()) => println!("\nverify: all passed"),
        Err(says) => println!("\nverify: FAILED: {says}"),
    }
    println!("{} passed, {} failed", tests.passed, tests.failed);
    // What failed has been said; the totals stay the last line.
    outcome.map_err(|_| String::new())
}

fn steps(tests: &mut Totals) -> Outcome {
    step("system packages", system_packages)?;
    step("format", || cargo(&["fmt", "--all", "--check"]))?;
    step("lints", || cargo(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"]))?;
    step("tests, with the published checks", || run_tests(tests))?;
    step("tidy", tidy::run)?;
    step("licences", licences::run)?;
    step("documentation", || {
        let mut command = shell::command("cargo", &["doc", "--workspace", "--no-deps"]);
        command.env("RUSTDOCFLAGS", "-D warnings");
        shell::run(command, "cargo doc")
    })
}

fn step(name: &str, run: impl FnOnce() -> Outcome) -> Outcome {
    println!("\n== {name}");
    let begun = Instant::now();
    let outcome = run();
    println!("-- {name}: {:.1} s", begun.elapsed().as_secs_f64());
    outcome
}

fn cargo(words: &[&str]) -> Outcome {
    shell::run(shell::command("cargo", words), &format!("cargo {}", words[0]))
}

fn run_tests(totals: &mut Totals) -> Outcome {
    let mut command = shell::command("cargo", &["test", "--workspace", "--no-fail-fast"]);
    // The same random cases each time, so that what passed here passes there. A plain `cargo test` hunts with new ones.
    command.env("PROPTEST_RNG_SEED", "1953");
    let good = shell::watch(command, "cargo test", |line| totals.add(line))?;
    if !good {
        return Err(format!("cargo test failed; {} tests failed", totals.failed));
    }
    if totals.passed == 0 { Err("cargo test ran no test".to_owned()) } else { Ok(()) }
}

/// Tests counted over every test program.
#[derive(Debug, Default, PartialEq, Eq)]
struct Totals {
    passed: u64,
    failed: u64,
}

impl Totals {
    /// Adds a line such as `test result: ok. 3 passed; 0 failed; 1 ignored; …`.
    fn add(&mut self, line: &str) {
        let Some(counts) = line.trim_start().strip_prefix("test result: ") else { return };
        let count = |what: &str| {
            let part = counts.split([';', '.']).map(str::trim).find(|part| part.ends_with(what))?;
            part.strip_suffix(what)?.trim().parse::<u64>().ok()
        };
        self.passed += count("passed").unwrap_or(0);
        self.failed += count("failed").unwrap_or(0);
    }
}

/// Programs that tests call are there; installs them where that needs nobody's leave.
fn system_packages() -> Outcome {
    let mut packages: Vec<&str> =
        SYSTEM.iter().filter(|(program, _)| !shell::has(program)).map(|&(_, package)| package).collect();
    packages.dedup();
    if packages.is_empty() {
        println!("all there");
        return Ok(());
    }
    let wanted = packages.join(" ");
    let debian = std::path::Path::new("/etc/debian_version").exists();
    if !(debian && shell::output("id", &["-u"])?.trim() == "0") {
        return Err(format!(
            "these system packages are missing (Debian's names): {wanted}; install them and try again"
        ));
    }
    println!("installing {wanted}");
    shell::run(shell::command("apt-get", &["-qq", "update"]), "apt-get update")?;
    let mut install = shell::command("apt-get", &["-qq", "--no-install-recommends", "-y", "install"]);
    install.args(&packages).env("DEBIAN_FRONTEND", "noninteractive");
    shell::run(install, "apt-get install")
}

#[cfg(test)]
mod tests {
    use super::Totals;

    #[test]
    fn totals_add_up_over_programs() {
        let mut totals = Totals::default();
        for line in [
            "running 4 tests",
            "test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.00s",
            "test something ... ok",
            "test result: FAILED. 10 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 1.20s",
            "a line about 7 passed; 9 failed",
        ] {
            totals.add(line);
        }
        assert_eq!(totals, Totals { passed: 13, failed: 2 });
    }
}
