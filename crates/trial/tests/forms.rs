//! The programs of the documentation are sound on their set-ups; spoiled in one place they are not.

use proof::control::{
    Across, Centre, Distance, DwellIn, FeedMode, Machine, Percent, Plane, RapidPath, WithoutPoint,
};
use proof::turning::Way;
use trial::{FORM, WORDS, read};

const PLATE: &str = include_str!("../../../docs/programs/plate.nc");
const PIN: &str = include_str!("../../../docs/programs/pin.nc");

fn faults(set_up: &str, program: &str) -> Vec<String> {
    let trial = read("set-up.toml", set_up).expect("the set-up is sound");
    let found = trial.prove(program);
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}

#[test]
fn good_programs_are_sound() {
    assert_eq!(faults(FORM.0, PLATE), [""; 0]);
    assert_eq!(faults(FORM.1, PIN), [""; 0]);
}
#[test]
fn spoiled_programs_are_caught() {
    for (set_up, program, was, is, wrong) in [
        (FORM.0, PLATE, "G1 Z-1. F60.", "G1 Z-1.2 F60.", "gouge"),
        (FORM.0, PLATE, "G1 X20. F120.", "G0 X20.", "rapid-in-stock"),
        (FORM.0, PLATE, "S3000 M3", "S3000", "spindle-stopped"),
        (FORM.0, PLATE, "G1 Y14.\nG1 X10.", "G1 Y16.\nG1 X4.", "jaws"),
        (FORM.0, PLATE, "T2 M6", "T3 M6", "unknown-tool"),
        (FORM.0, PLATE, "G21 G90", "G90", "no-unit"),
        (FORM.1, PIN, "K-2.2", "K-2.1", "arc-mismatch"),
        (FORM.1, PIN, "G1 X8.4\nG0 Z1.\nG0 X5.", "G0 X5.", "rapid-in-stock"),
        (FORM.1, PIN, "G1 X6.4\n", "", "gouge"),
        (FORM.1, PIN, "M30\n", "", "no-end"),
    ] {
        let spoiled = program.replacen(was, is, 1);
        assert_ne!(spoiled, program, "{was}");
        let found = faults(set_up, &spoiled);
        assert!(found.iter().any(|f| f.starts_with(wrong)), "{was} -> {is}: {found:?}");
    }
}

/// The words of one heading of the documentation, in its order, with what each takes.
fn documented(heading: &str) -> Vec<(String, String)> {
    let page = include_str!("../../../docs/programs/words.md");
    let begins = page.find(&format!("\n## {heading}\n")).unwrap_or_else(|| panic!("no heading '{heading}'"));
    let section = &page[begins + 4..];
    let section = &section[..section.find("\n## ").unwrap_or(section.len())];
    let row = |line: &str| {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let word = cells.get(1)?.strip_prefix('`')?.strip_suffix('`')?;
        Some((word.to_owned(), (*cells.get(3)?).to_owned()))
    };
    section.lines().filter_map(row).collect()
}
#[test]
fn every_word_that_is_read_is_documented_and_no_other() {
    for (heading, words) in WORDS {
        let own: Vec<String> = documented(heading).into_iter().map(|(word, _)| word).collect();
        assert_eq!(&own, words, "{heading}");
    }
}
#[test]
fn habits_are_documented_by_the_words_that_are_read() {
    let control = documented("control");
    let quoted = |key: &str, of: &[(String, String)]| -> Vec<String> {
        let (_, takes) = of.iter().find(|(word, _)| word == key).expect("it is there");
        takes.split('"').skip(1).step_by(2).map(str::to_owned).collect()
    };
    macro_rules! same {
        ($($key:literal $all:expr),+ $(,)?) => {$(
            let words: Vec<&str> = $all.iter().map(|(word, _)| *word).collect();
            assert_eq!(quoted($key, &control), words, $key);
        )+};
    }
    same!(
        "without_point" WithoutPoint::WORDS, "arcs" Centre::WORDS, "percent" Percent::WORDS,
        "dwell" DwellIn::WORDS, "across" Across::WORDS, "plane" Plane::WORDS, "distance" Distance::WORDS,
        "feed" FeedMode::WORDS, "rapids" RapidPath::WORDS,
    );
    let machine: Vec<&str> = Machine::WORDS.iter().map(|(word, _)| *word).collect();
    assert_eq!(quoted("machine", &documented("set-up")), machine);
    let ways: Vec<&str> = Way::WORDS.iter().map(|(word, _)| *word).collect();
    assert_eq!(quoted("way", &documented("tool")), ways);
}
