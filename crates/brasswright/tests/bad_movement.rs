//! Movements that cannot be, each the clock of an example with one thing altered: `bad_movement.txt` holds the
//! exact words, and the whole program refuses with them and writes nothing.
//!
//! A case is a line `example|was => is`, several edits with ` && ` between them, and indented below it what is told.
//! `REBUILD_GOLDEN=1 cargo test -p brasswright --test bad_movement` writes it anew; read the difference before it goes in.

use reckon::{Book, Trouble};
use std::fmt::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::Arc;

const EXAMPLES: [(&str, &str); 4] = [
    ("regulator", include_str!("../../../examples/regulator/clock.toml")),
    ("table-clock", include_str!("../../../examples/table-clock/clock.toml")),
    ("skeleton", include_str!("../../../examples/skeleton/clock.toml")),
    ("one-wheel", include_str!("../../../examples/one-wheel/clock.toml")),
];
const SHOP: &str = include_str!("../../../examples/hardware/shop.toml");

fn altered(base: &str, edits: &str) -> String {
    let (_, example) = EXAMPLES.iter().find(|(name, _)| *name == base).expect("an example");
    edits.replace("\\n", "\n").split(" && ").fold((*example).to_owned(), |text, edit| {
        let (was, is) = edit.split_once(" => ").expect("was => is");
        assert!(text.contains(was), "'{was}' is not in {base}");
        text.replacen(was, is, 1)
    })
}
/// What the design of a text tells, in order of place.
fn troubles(text: &str) -> Vec<Trouble> {
    let mut book = Book::new();
    let text = record::Text { name: Arc::from("clock.toml"), bytes: text.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let Some(clock) = read.facts.and_then(|f| f.clock) else { return read.troubles };
    let (_, mut found) = movement::design::movement(&clock, &mut book);
    assert_eq!(book.faults(), &[]);
    found.sort_by_key(|t| t.at.first().map_or(0, |p| p.start));
    found
}
fn told(base: &str, edits: &str) -> String {
    let mut out = String::new();
    for t in troubles(&altered(base, edits)) {
        let places: Vec<String> = t.at.iter().map(|p| p.line.to_string()).collect();
        let weight = if t.stops() { "" } else { "(warning) " };
        let _ = writeln!(out, "    {weight}{t}  [{}]", places.join(" "));
    }
    out
}
#[test]
fn every_bad_movement_is_told_as_agreed() {
    let file = include_str!("bad_movement.txt");
    let mut new = String::new();
    let mut cases = 0;
    for line in file.lines().filter(|l| !l.starts_with("    ")) {
        let _ = writeln!(new, "{line}");
        if let (false, Some((base, edits))) = (line.starts_with("##"), line.split_once('|')) {
            cases += 1;
            let says = told(base, edits);
            assert!(!says.is_empty(), "nothing is told of {line}");
            new += &says;
        }
    }
    assert!(cases >= 20);
    if std::env::var_os("REBUILD_GOLDEN").is_some() {
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bad_movement.txt"), new).expect("written");
        return;
    }
    assert_eq!(new, file);
}
/// No example tells anything: what is told of an altered one comes of the alteration.
#[test]
fn the_examples_tell_nothing() {
    for (name, text) in EXAMPLES {
        assert_eq!(troubles(text), [], "{name}");
    }
}
#[test]
fn the_program_refuses_and_writes_nothing() {
    for (n, (edits, code, says)) in [
        ("teeth = 80, => teeth = 78,", 4, "the counts give 3510 beats an hour, and 3600 are wanted"),
        ("driven_by = \"great\" => driven_by = \"graet\"", 4, "'great'"),
        ("teeth = 80, => teeth = 80.5,", 2, "did you mean 80 or 81?"),
        ("module = \"0.7 mm\" => module = \"32 DP\"", 2, "0.79375 mm"),
    ]
    .into_iter()
    .enumerate()
    {
        let folder: PathBuf =
            std::env::temp_dir().join(format!("bad movement часы {} {n}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        std::fs::write(folder.join("clock.toml"), altered("regulator", edits)).expect("written");
        std::fs::write(folder.join("shop.toml"), SHOP).expect("written");
        let done = Command::new(env!("CARGO_BIN_EXE_brasswright"))
            .arg("packet")
            .current_dir(&folder)
            .stdin(Stdio::null())
            .output()
            .expect("the program starts");
        let err = String::from_utf8_lossy(&done.stderr).into_owned();
        let there = std::fs::read_dir(&folder).expect("the folder").count();
        std::fs::remove_dir_all(&folder).expect("gone");
        assert_eq!(done.status.code(), Some(code), "{err}");
        assert!(
            err.contains(says) && err.contains("nothing was written") && err.contains("clock.toml:"),
            "{err}"
        );
        assert!(!err.contains("panicked") && !err.contains("fault of this program"), "{err}");
        assert_eq!(there, 2, "something was written");
    }
}
