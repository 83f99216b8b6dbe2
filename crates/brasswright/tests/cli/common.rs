//! The program run as a maker runs it: from a folder, with words, seen from outside.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// A clock of two kinds of part; sizes invented.
pub const CLOCK: &str = r#"[clock]
name = "Two kinds"

[[screw]]
name = "bridge screw"
count = 10
thread = "M4"
length = "11 mm"
head = { diameter = "8 mm", height = "3.2 mm" }
material = "silver steel"
finish = ["harden", "polish", "blue"]

[[washer]]
name = "seatboard washer"
count = 5
outside = "21 mm"
hole = "5.5 mm"
thickness = "3 mm"
material = "brass"
"#;

/// A folder of its own for one test, with blanks and letters of other scripts in its name; gone afterwards.
pub struct Bench(pub PathBuf);
impl Bench {
    /// An empty one.
    pub fn new() -> Bench {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("brasswright Uhr 時計 {} {n}", std::process::id()));
        std::fs::create_dir_all(&path).expect("a folder for the test");
        Bench(path)
    }
    /// One with a clock in a folder `clock`.
    pub fn with_clock(text: &str) -> Bench {
        let bench = Bench::new();
        bench.write("clock/clock.toml", text);
        bench
    }
    /// Writes a file, and the folders above it.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().expect("a folder above")).expect("made");
        std::fs::write(path, text).expect("written");
    }
    /// Whether there is such a file or folder.
    pub fn has(&self, name: &str) -> bool {
        self.0.join(name).exists()
    }
    /// The program in this folder, with nothing of the tester's terminal or environment.
    pub fn command(&self, words: &[&str]) -> Command {
        let mut command = program();
        command.args(words).current_dir(&self.0);
        command
    }
    /// Runs it.
    pub fn run(&self, words: &[&str]) -> Run {
        done(&mut self.command(words))
    }
}
impl Drop for Bench {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// What came of a run.
#[derive(Debug)]
pub struct Run {
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
    /// Exit code.
    pub code: i32,
}
impl Run {
    /// Demands an exit code.
    #[track_caller]
    pub fn exits(self, code: i32) -> Run {
        assert_eq!(self.code, code, "out:\n{}\nerr:\n{}", self.out, self.err);
        self
    }
    /// Demands words on standard output.
    #[track_caller]
    pub fn says(self, words: &str) -> Run {
        assert!(self.out.contains(words), "'{words}' is not in\n{}\nerr:\n{}", self.out, self.err);
        self
    }
    /// Demands words on standard error.
    #[track_caller]
    pub fn complains(self, words: &str) -> Run {
        assert!(self.err.contains(words), "'{words}' is not in\n{}\nout:\n{}", self.err, self.out);
        self
    }
    /// Standard output as JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e} in\n{}\nerr:\n{}", self.out, self.err))
    }
}
/// The program.
pub fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_brasswright"));
    command.stdin(Stdio::null());
    for name in ["NO_COLOR", "COLUMNS", "SOURCE_DATE_EPOCH", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command.env("TERM", "xterm");
    command
}
/// Runs a command to its end.
pub fn done(command: &mut Command) -> Run {
    let output = command.output().expect("the program starts");
    Run {
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
        code: output.status.code().unwrap_or(-1),
    }
}
/// Where goldens lie.
pub fn golden(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name)
}
