//! A thousand kills at random moments of writing: nothing that was confirmed is lost.

#![cfg(unix)]

use journal::{Keeps, Reading, What};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;
use store::{Of, Store};

/// Where the writer writes: only set in the process that is to be killed.
const PLACE: &str = "BRASSWRIGHT_KILLED_AT";
/// From which number it counts.
const FROM: &str = "BRASSWRIGHT_KILLED_FROM";

fn of() -> Of {
    Of { kind: "clock", name: "Hall clock".to_owned(), was: Vec::new() }
}
fn entry(n: u64) -> What {
    #[expect(clippy::cast_precision_loss, reason = "small counts")]
    let value = n as f64;
    What::Measured(Reading { name: format!("part.size{n}"), value, unit: "m".into(), ..Reading::default() })
}
/// Writes entries without end and says of each that it is confirmed; does nothing unless it is to be killed.
#[test]
fn the_writer_that_is_killed() {
    let Some(place) = std::env::var_os(PLACE) else { return };
    let from: u64 = std::env::var(FROM).unwrap().parse().unwrap();
    let mut out = std::io::stdout();
    for n in from.. {
        // Opened anew now and then, as the program does for each entry of the command line.
        let mut store = Store::open(Path::new(&place), &of()).unwrap();
        for n in n * 8..n * 8 + 8 {
            store.take(&format!("key{n}"), "2026-03-01T18:30:00Z", &entry(n)).unwrap();
            // One write of a whole line: what the reader of the pipe sees is what was confirmed.
            out.write_all(format!("confirmed {n}\n").as_bytes()).unwrap();
            out.flush().unwrap();
        }
    }
}
/// Numbers that look random and are the same each time.
struct Dice(u64);
impl Dice {
    fn throw(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }
}
#[test]
fn a_thousand_kills_lose_nothing_confirmed() {
    let dir = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("journal-killed");
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).unwrap();
    let mut dice = Dice(20_260_301);
    let (mut confirmed, mut kills_while_writing, mut whole) = (0_u64, 0, 0);
    for round in 0..20 {
        // A file of its own for every fifty kills, so that reading it back stays quick.
        let path = dir.join(format!("journal{round}.sqlite"));
        let mut said: Vec<u64> = Vec::new();
        for kill in 0..50_u64 {
            let mut child = Command::new(std::env::current_exe().unwrap())
                .args(["the_writer_that_is_killed", "--exact", "--nocapture", "--quiet"])
                .env(PLACE, &path)
                .env(FROM, (kill * 1_000_000).to_string())
                .stdin(Stdio::null())
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            let mut out = BufReader::new(child.stdout.take().unwrap());
            let mut text = String::new();
            // One in eight is killed whenever it comes, perhaps while it makes the file; the others while they write.
            if kill % 8 != 0 {
                while !text.contains("confirmed ") && out.read_line(&mut text).unwrap() > 0 {}
            }
            std::thread::sleep(Duration::from_micros(dice.throw(6_000)));
            // SIGKILL: nothing of the process runs after it.
            child.kill().unwrap();
            out.read_to_string(&mut text).unwrap();
            child.wait().unwrap();
            let lines = text.split_inclusive('\n').filter(|l| l.ends_with('\n'));
            let numbers = lines
                .filter_map(|l| l.trim().strip_prefix("confirmed "))
                .filter_map(|n| n.parse::<u64>().ok());
            let before = said.len();
            said.extend(numbers);
            kills_while_writing += u32::from(said.len() > before);
        }
        let (entries, broken) = match Store::read(&path, None) {
            Ok(store) => store.entries().unwrap(),
            // Every one of fifty was killed before it had made the file.
            Err(journal::Lost::Absent) => (Vec::new(), Vec::new()),
            Err(e) => panic!("{e:?}"),
        };
        assert!(broken.is_empty(), "{broken:?}");
        let keys: std::collections::BTreeMap<&str, &What> =
            entries.iter().map(|e| (e.key.as_str(), &e.what)).collect();
        for n in &said {
            assert_eq!(
                keys.get(format!("key{n}").as_str()),
                Some(&&entry(*n)),
                "entry {n} was confirmed and is gone"
            );
        }
        // Numbers run from 1 without a gap, whatever was torn away.
        assert!(entries.iter().enumerate().all(|(i, e)| e.number == i as u64 + 1));
        confirmed += said.len() as u64;
        whole += entries.len();
        // It can be written on.
        Store::open(&path, &of()).unwrap().take("after", "2026-03-02T18:30:00Z", &entry(0)).unwrap();
    }
    assert!(kills_while_writing > 800, "only {kills_while_writing} of 1000 were killed while writing");
    assert!(whole as u64 >= confirmed);
    let _ = std::fs::remove_dir_all(&dir);
}
