//! Other programs, run from the project's root.

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use crate::tree::root;

/// A program to be run from the root, without what `cargo run` put into the environment for
/// this task alone.
pub fn command(program: &str, words: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(words).current_dir(root());
    for (name, _) in std::env::vars_os() {
        let ours = name.to_str().is_some_and(|name| {
            name.starts_with("CARGO_PKG_")
                || name.starts_with("CARGO_MANIFEST_")
                || name == "CARGO_CRATE_NAME"
        });
        if ours {
            command.env_remove(name);
        }
    }
    command
}

/// Runs a command that prints for itself; an error when it fails.
pub fn run(mut command: Command, what: &str) -> Result<(), String> {
    let status = command.status().map_err(|fault| format!("{what} could not be started: {fault}"))?;
    if status.success() { Ok(()) } else { Err(format!("{what} failed ({status})")) }
}

/// Standard output of a program that succeeds.
pub fn output(program: &str, words: &[&str]) -> Result<String, String> {
    let output = command(program, words)
        .stderr(Stdio::inherit())
        .output()
        .map_err(|fault| format!("`{program}` could not be started: {fault}"))?;
    if !output.status.success() {
        return Err(format!("`{program} {}` failed ({})", words.join(" "), output.status));
    }
    String::from_utf8(output.stdout).map_err(|_| format!("`{program}` did not print text"))
}

/// Runs a command, showing each line of its standard output as it comes and handing it on.
/// Whether it succeeded.
pub fn watch(mut command: Command, what: &str, mut each: impl FnMut(&str)) -> Result<bool, String> {
    let failed = |fault: std::io::Error| format!("{what}: {fault}");
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(failed)?;
    if let Some(out) = child.stdout.take() {
        for line in BufReader::new(out).lines() {
            let line = line.map_err(failed)?;
            println!("{line}");
            each(&line);
        }
    }
    Ok(child.wait().map_err(failed)?.success())
}

/// Whether a program is on the path.
pub fn has(program: &str) -> bool {
    let found = |folder: std::path::PathBuf| folder.join(program).is_file();
    std::env::var_os("PATH").is_some_and(|path| std::env::split_paths(&path).any(found))
}
