//! What is told of bad texts: `told.txt` holds each text and the exact lines.
//!
//! A case is a line `base|body` and, indented below it, what is told, with the places as
//! `line:column-bytes`. The body takes the place of the same key in the base, or is added to it. Where the base is
//! the clock of an example, the body is `was => is`, several with ` && ` between them; what was must stand there.
//!
//! `REBUILD_GOLDEN=1 cargo test -p record --test told` writes the golden anew; read the difference before it goes in.

use reckon::{Book, Trouble};
use record::{LARGEST, Text, read, too_large};
use std::fmt::Write;
use std::sync::Arc;

const BASES: &[(&str, &str)] = &[
    (
        "screw",
        "[[screw]]\nname = \"test screw\"\nthread = \"M4\"\nlength = \"11 mm\"\n\
         head = { diameter = \"8 mm\", height = \"3.2 mm\" }\nmaterial = \"silver steel\"\n",
    ),
    (
        "washer",
        "[[washer]]\nname = \"test washer\"\noutside = \"21 mm\"\nhole = \"5.5 mm\"\nthickness = \"3 mm\"\n\
         material = \"brass CZ120\"\n",
    ),
    (
        "pillar",
        "[[pillar]]\nname = \"post\"\nlength = \"42 mm\"\ndiameter = \"10 mm\"\n\
         ends = { tapped = \"M4\", depth = \"10 mm\" }\nmaterial = \"brass CZ120\"\n",
    ),
    (
        "bush",
        "[[bush]]\nname = \"pivot bush\"\noutside = \"5 mm\"\nbore = \"1.2 mm\"\nlength = \"4 mm\"\n\
         material = \"brass CZ120\"\n",
    ),
    (
        "turned",
        "[[turned]]\nname = \"knob\"\nmaterial = \"brass CZ120\"\n\
         sections = [{ length = \"12 mm\", diameter = \"6 mm\" }]\n",
    ),
    (
        "flat",
        "[[flat]]\nname = \"cock\"\nthickness = \"2 mm\"\nmaterial = \"brass CZ120\"\n\
         outline = [{ to = [\"40 mm\", \"0 mm\"] }, { to = [\"40 mm\", \"20 mm\"] }, { to = [\"0 mm\", \"20 mm\"] }]\n",
    ),
    (
        "lathe",
        "[[lathe]]\nname = \"bench lathe\"\nswing = \"180 mm\"\nswing_over_slide = \"108 mm\"\n\
         between_centres = \"320 mm\"\nspindle_bore = \"20 mm\"\nmotor = \"350 W\"\nspeeds = { rpm = [60, 110] }\n\
         cross_travel = \"105 mm\"\ntop_travel = \"55 mm\"\ntailstock_travel = \"45 mm\"\n\
         tailstock_chuck = [\"0.5 mm\", \"10 mm\"]\n",
    ),
];
const EXAMPLES: &[(&str, &str)] = &[
    ("regulator", include_str!("../../../examples/regulator/clock.toml")),
    ("table-clock", include_str!("../../../examples/table-clock/clock.toml")),
    ("skeleton", include_str!("../../../examples/skeleton/clock.toml")),
    ("one-wheel", include_str!("../../../examples/one-wheel/clock.toml")),
];
fn text(base: &str, body: &str) -> String {
    let body = body.replace("\\n", "\n");
    if let Some((_, example)) = EXAMPLES.iter().find(|(name, _)| *name == base) {
        return body.split(" && ").fold((*example).to_owned(), |text, edit| {
            let (was, is) = edit.split_once(" => ").expect("was => is");
            assert!(text.contains(was), "'{was}' is not in {base}");
            text.replacen(was, is, 1)
        });
    }
    let Some((_, base)) = BASES.iter().find(|(name, _)| *name == base) else { return body };
    let key = body.split_whitespace().next().unwrap_or_default();
    let begins = format!("{key} =");
    let taken = base.lines().any(|l| l.starts_with(&begins));
    let mut lines: Vec<&str> =
        base.lines().map(|l| if l.starts_with(&begins) { body.as_str() } else { l }).collect();
    if !taken {
        lines.push(&body);
    }
    lines.join("\n") + "\n"
}
fn of_bytes(bytes: &[u8], shop: bool) -> Vec<Trouble> {
    let text = Text { name: Arc::from(if shop { "shop.toml" } else { "clock.toml" }), bytes };
    let mut book = Book::new();
    let got = if shop { read(None, Some(&text), &mut book) } else { read(Some(&text), None, &mut book) };
    assert_eq!(got.facts.is_some(), !got.troubles.iter().any(Trouble::stops), "facts and troubles disagree");
    if got.facts.is_some() {
        assert_eq!(book.faults(), &[]);
    }
    got.troubles
}
fn told(base: &str, body: &str) -> String {
    let mut out = String::new();
    for t in of_bytes(text(base, body).as_bytes(), matches!(base, "shop" | "lathe")) {
        let places: Vec<String> =
            t.at.iter().map(|p| format!("{}:{}-{}", p.line, p.column, p.end - p.start)).collect();
        let _ = writeln!(out, "    {}{t}  [{}]", if t.stops() { "" } else { "(warning) " }, places.join(" "));
    }
    out
}
#[test]
fn every_bad_text_is_told_as_agreed() {
    let file = include_str!("told.txt");
    if std::env::var_os("REBUILD_GOLDEN").is_some() {
        let mut new = String::new();
        for line in file.lines().filter(|l| !l.starts_with("    ")) {
            let _ = writeln!(new, "{line}");
            if let (false, Some((base, body))) = (line.starts_with("##"), line.split_once('|')) {
                new.push_str(&told(base, body));
            }
        }
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/told.txt"), new).expect("written");
        return;
    }
    let mut cases: Vec<(&str, String)> = Vec::new();
    for line in file.lines().filter(|l| !l.starts_with("##") && !l.is_empty()) {
        match cases.last_mut() {
            Some((_, lines)) if line.starts_with("    ") => {
                lines.push_str(line);
                lines.push('\n');
            }
            _ => cases.push((line, String::new())),
        }
    }
    assert!(cases.len() >= 60);
    let mut wrong = String::new();
    for (case, expected) in &cases {
        let (base, body) = case.split_once('|').expect("a case is base|body");
        let got = told(base, body);
        if got != *expected {
            let _ = write!(wrong, "{case}\n  got:\n{got}  expected:\n{expected}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

fn lines(bytes: &[u8]) -> Vec<String> {
    of_bytes(bytes, false).iter().map(ToString::to_string).collect()
}
#[test]
fn bytes_that_are_no_text() {
    let mut latin = b"[[bush]]\nname = \"caf".to_vec();
    latin.push(0xE9);
    latin.extend(b"\"\n");
    assert_eq!(
        lines(&latin),
        [
            "clock.toml line 2: here stands a byte (0xE9) that is not UTF-8 (texts are read as UTF-8, so that °, µ and ± \
          mean the same everywhere); save the file as UTF-8"
        ]
    );
    let utf16: Vec<u8> = "\u{feff}[clock]".encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert_eq!(lines(&utf16), ["clock.toml line 1: this file is saved as UTF-16; save it as UTF-8"]);
    assert_eq!(lines(b"\0").len(), 1);
}
#[test]
fn a_mark_at_the_beginning_and_other_line_ends_change_nothing() {
    let plain = text("screw", "count = 3");
    assert_eq!(lines(plain.as_bytes()), Vec::<String>::new());
    let marked = format!("\u{feff}{}", plain.replace('\n', "\r\n"));
    assert_eq!(lines(marked.as_bytes()), Vec::<String>::new());
    let bad = format!("\u{feff}{}", text("screw", "length = \"11\"").replace('\n', "\r\n"));
    let t = &of_bytes(bad.as_bytes(), false)[0];
    assert_eq!((t.at[0].line, &bad[t.at[0].start..t.at[0].end]), (4, "11"));
}
#[test]
fn a_file_too_large_is_refused_before_it_is_parsed() {
    let name = Arc::from("clock.toml");
    let t = too_large(&name, 50 * 1024 * 1024).expect("50 MB is too much");
    assert_eq!(
        t.to_string(),
        "clock.toml line 1: this file is 50 MB long, and no more than 4 MB is read (a clock is described in a few \
         thousand lines); see whether the right file was named"
    );
    assert_eq!(too_large(&name, LARGEST), None);
    let huge = vec![b'#'; usize::try_from(LARGEST).unwrap() + 1];
    assert_eq!(lines(&huge).len(), 1);
}
#[test]
fn names_in_any_script_and_with_spaces_are_names() {
    let text = text("screw", "name = \"Brückenschraube № 3 — 橋\"");
    assert_eq!(lines(text.as_bytes()), Vec::<String>::new());
}
#[test]
fn a_flood_of_troubles_is_cut_short() {
    let many: String = (0..5000).map(|i| format!("[[bush]]\nname = \"b{i}\"\n")).collect();
    let told = lines(many.as_bytes());
    assert_eq!(told.len(), 101);
    assert!(told[100].contains("and 4900 more troubles after this place"), "{}", told[100]);
}
#[test]
fn long_chains_and_deep_nesting_end() {
    let mut chain = String::new();
    for i in 0..2000 {
        let length = if i == 0 { "4 mm".to_owned() } else { format!("b{}.length", i - 1) };
        let _ = write!(
            chain,
            "[[bush]]\nname = \"b{i}\"\nmaterial = \"brass CZ120\"\noutside = \"5 mm\"\nbore = \"2 mm\"\nlength = \"{length}\"\n"
        );
    }
    for t in lines(chain.as_bytes()) {
        assert!(t.contains("names lead on through more than 64 sizes"), "{t}");
    }
    let deep = format!("[[bush]]\nname = \"b\"\nlength = \"{}1 mm{}\"", "(".repeat(5000), ")".repeat(5000));
    assert!(lines(deep.as_bytes()).iter().any(|t| t.contains("which is no size")));
    let nested = format!("x = {}1{}", "[".repeat(5000), "]".repeat(5000));
    assert!(!lines(nested.as_bytes()).is_empty());
}
