//! A project served for a test, and its journal read from outside.

use super::browser::free_port;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

pub struct Served {
    process: Child,
    lines: BufReader<std::process::ChildStdout>,
    pub dir: PathBuf,
    pub port: u16,
    pub code: String,
}
/// A folder with a project begun from an example.
pub fn begun(example: &str, name: &str) -> PathBuf {
    let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("bench-{name}"));
    let _ = std::fs::remove_dir_all(&dir);
    let done = Command::new(env!("CARGO_BIN_EXE_brasswright")).arg("begin").arg(example).arg(&dir).output();
    assert!(done.expect("the program runs").status.success());
    dir
}
impl Served {
    pub fn of(dir: PathBuf, more: &[&str]) -> Served {
        Served::at_port(dir, free_port(), more)
    }
    pub fn at_port(dir: PathBuf, port: u16, more: &[&str]) -> Served {
        let mut process = Command::new(env!("CARGO_BIN_EXE_brasswright"))
            .arg("bench")
            .arg(&dir)
            .args(["--port", &port.to_string()])
            .args(more)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program runs");
        let lines = BufReader::new(process.stdout.take().expect("it prints"));
        let mut served = Served { process, lines, dir, port, code: String::new() };
        let first = served.line();
        assert!(first.starts_with("At the bench: http://"), "{first}");
        if more.contains(&"--workshop-network") {
            let code = served.line();
            served.code = code.trim().strip_prefix("Pairing code: ").expect("a code is told").to_owned();
            served.line();
        }
        served.line();
        served
    }
    fn line(&mut self) -> String {
        let mut line = String::new();
        self.lines.read_line(&mut line).expect("it prints");
        line
    }
    pub fn at(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }
    /// Stops it at once, as a pulled plug would, and gives back its folder.
    pub fn stopped(&mut self) -> PathBuf {
        let _ = self.process.kill();
        let _ = self.process.wait();
        self.dir.clone()
    }
    /// Entries of the journal as lines of JSON.
    pub fn journal(&self) -> Vec<journal::Entry> {
        use journal::Keeps as _;
        let store = store::Store::read(&self.dir.join("journal.sqlite"), None);
        let (all, broken) = store.and_then(|s| s.entries()).unwrap_or_default();
        assert!(broken.is_empty(), "{broken:?}");
        all
    }
}
impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
