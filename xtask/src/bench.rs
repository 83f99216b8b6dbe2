//! Whole runs of the program, timed beside a process that does nothing.

use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Instant;

use crate::tree::root;
use crate::{Outcome, shell};

/// Times `check` and `packet` on the example of hardware and on that of a whole regulator, and `going` on that,
/// `runs` times each, in turn with the reference, and prints the ratios. No time is ever a reason to fail.
pub fn run(runs: usize) -> Outcome {
    if runs == 0 {
        return Err("bench needs one run or more".to_owned());
    }
    shell::run(shell::command("cargo", &["build", "--quiet", "--package", "brasswright"]), "cargo build")?;
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    let target = if target.is_absolute() { target } else { root().join(target) };
    let program = target.join("debug").join(format!("brasswright{}", std::env::consts::EXE_SUFFIX));
    let ours = |verb: &str| {
        let mut command = Command::new(&program);
        command.arg(verb);
        command
    };
    let mut reference = Command::new("python3");
    reference.args(["-c", "pass"]);
    let mut rows = vec![Row::new("python3 -c pass", reference)];
    for (example, check_name, packet_name) in [
        ("hardware", "check, hardware", "packet, hardware"),
        ("regulator", "check, regulator", "packet, regulator"),
    ] {
        let project = target.join(format!("bench-{example}"));
        if project.exists() {
            std::fs::remove_dir_all(&project).map_err(|fault| format!("{}: {fault}", project.display()))?;
        }
        let mut begin = ours("begin");
        begin.arg(example).arg(&project);
        once(&mut begin)?;
        let (mut check, mut packet) = (ours("check"), ours("packet"));
        check.arg(&project);
        packet.arg(&project);
        rows.extend([Row::new(check_name, check), Row::new(packet_name, packet)]);
    }
    rows.extend(journal(&target, &ours)?);
    let mut going = ours("going");
    going.arg("--example").arg("regulator");
    rows.push(Row::new("going, regulator", going));
    rows.push(hour(&target, &ours)?);
    // Once unmeasured, so that every file has been read before; then in turn, so that whatever
    // else the machine does falls on all alike.
    for row in &mut rows {
        once(&mut row.command)?;
    }
    for _ in 0..runs {
        for row in &mut rows {
            let seconds = once(&mut row.command)?;
            row.seconds.push(seconds);
        }
    }
    let base = Spread::of(&rows[0].seconds).median;
    println!("| {runs} whole runs of | least (ms) | median (ms) | most (ms) | median / reference |");
    println!("| --- | --- | --- | --- | --- |");
    for row in &rows {
        let Spread { least, median, most } = Spread::of(&row.seconds);
        println!(
            "| {} | {:.1} | {:.1} | {:.1} | {:.2} |",
            row.name,
            least * 1e3,
            median * 1e3,
            most * 1e3,
            median / base
        );
    }
    Ok(())
}

/// An hour of sound at 48,000 samples a second, as `listen` hears it.
fn hour(target: &std::path::Path, ours: &dyn Fn(&str) -> Command) -> Result<Row, String> {
    let sound = target.join("bench-hour.wav");
    if !sound.exists() {
        let mut made =
            shell::command("cargo", &["run", "--quiet", "--package", "listen", "--example", "hour", "--"]);
        made.arg(&sound).args(["3600", "48000"]);
        shell::run(made, "the recording")?;
    }
    let mut listen = ours("listen");
    listen.arg(&sound);
    Ok(Row::new("listen, an hour of 48 kHz", listen))
}
/// A journal of ten thousand entries: how long a command that reads it takes, and one that adds to it.
fn journal(target: &std::path::Path, ours: &dyn Fn(&str) -> Command) -> Result<[Row; 2], String> {
    let project = target.join("bench-journal");
    if project.exists() {
        std::fs::remove_dir_all(&project).map_err(|fault| format!("{}: {fault}", project.display()))?;
    }
    once(ours("begin").arg("hardware").arg(&project))?;
    let lines: String = (1..=10_000)
        .map(|n| {
            format!(
                "{{\"number\":{n},\"key\":\"bench-{n}\",\"at\":\"2026-03-01T18:30:00Z\",\"kind\":\"done\",\
                 \"body\":{{\"part\":\"part_{}\",\"step\":\"{}.{}\",\"piece\":{}}}}}\n",
                n % 40,
                1 + n % 3,
                1 + n % 7,
                1 + n % 12
            )
        })
        .collect();
    let file = project.join("lines.jsonl");
    std::fs::write(&file, lines).map_err(|fault| format!("{}: {fault}", file.display()))?;
    once(ours("enter").arg("--project").arg(&project).arg("--lines-in").arg(&file))?;
    let mut check = ours("check");
    check.arg(&project);
    let mut enter = ours("enter");
    enter.args(["--remark", "one more", "--project"]).arg(&project);
    Ok([Row::new("check, 10000 entries", check), Row::new("enter, 10000 entries", enter)])
}
struct Row {
    name: &'static str,
    command: Command,
    seconds: Vec<f64>,
}
impl Row {
    const fn new(name: &'static str, command: Command) -> Row {
        Row { name, command, seconds: Vec::new() }
    }
}

/// Seconds that a command takes; an error, with what it said, when it fails.
fn once(command: &mut Command) -> Result<f64, String> {
    let begun = Instant::now();
    let output = command
        .stdin(Stdio::null())
        .output()
        .map_err(|fault| format!("{} could not be started: {fault}", command.get_program().display()))?;
    let seconds = begun.elapsed().as_secs_f64();
    // Verdicts that do not hold have codes of their own, and the work is done all the same.
    if matches!(output.status.code(), Some(0 | 4 | 5)) {
        return Ok(seconds);
    }
    let words: Vec<_> = command.get_args().map(|word| word.to_string_lossy()).collect();
    Err(format!(
        "`{} {}` failed ({}):\n{}{}",
        command.get_program().display(),
        words.join(" "),
        output.status,
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    ))
}

#[derive(Debug, PartialEq)]
struct Spread {
    least: f64,
    median: f64,
    most: f64,
}

impl Spread {
    /// Of one time or more.
    fn of(seconds: &[f64]) -> Self {
        let mut sorted = seconds.to_vec();
        sorted.sort_by(f64::total_cmp);
        let (low, high) = (sorted[(sorted.len() - 1) / 2], sorted[sorted.len() / 2]);
        Self { least: sorted[0], median: 0.5 * (low + high), most: sorted[sorted.len() - 1] }
    }
}

#[cfg(test)]
mod tests {
    use super::Spread;

    #[test]
    fn the_median_of_even_and_odd_counts() {
        assert_eq!(Spread::of(&[3.0, 1.0, 2.0]), Spread { least: 1.0, median: 2.0, most: 3.0 });
        assert_eq!(Spread::of(&[4.0, 1.0, 3.0, 2.0]), Spread { least: 1.0, median: 2.5, most: 4.0 });
        assert_eq!(Spread::of(&[7.0]), Spread { least: 7.0, median: 7.0, most: 7.0 });
    }
}
