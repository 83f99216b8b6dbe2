//! The runner itself: what it refuses, and what it says when a figure misses.

use checks::runner::{self, File};
use reckon::ask::need;
use reckon::{Ask, Book, Given, Length, Ratio, Trouble, source::GEOMETRY, work};

static DOUBLE: Ask = Ask {
    name: "try.double",
    says: "twice a length, and a word",
    takes: &[need("side", "a length")],
    gives: &["twice", "part", "word", "list"],
    example: "side='1 mm'",
    run: double,
};
fn double(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let side = given.take::<Length>(book, "side")?;
    work!(book, "twice", |side| side * 2.0, &GEOMETRY);
    work!(book, "list.1", |side| side, &GEOMETRY);
    work!(book, "secret", |side| side, &GEOMETRY);
    book.assumed("part", Ratio::si(0.25), "an example");
    book.assumed("word", "brass".to_owned(), "an example");
    Ok(())
}
const GOOD: &str = r#"
[[check]]
id = "try.1"
says = "twice 3 mm"
ask = "try.double"
given = { side = "3 mm" }
want = { twice = "6 mm", part = "25 %", word = "brass", "list.1" = "3 mm" }
within = { twice = "0.01 mm", part = "1 %", word = "0", "list.1" = "0" }
because = "an example"
source = "derived: by hand"
"#;
fn read(text: &str) -> File {
    runner::read_text("try.toml", text)
}
fn run(text: &str) -> Result<(), String> {
    let file = read(text);
    assert!(file.faults.is_empty(), "{:?}", file.faults);
    file.checks[0].run(&[&DOUBLE])
}
fn fault(text: &str) -> String {
    read(text).faults.join("; ")
}

#[test]
fn a_good_check_holds() {
    assert_eq!(run(GOOD), Ok(()));
    assert_eq!(read(GOOD).checks[0].mark, "derived");
}
#[test]
fn a_miss_tells_want_got_off_within_and_source() {
    let said = run(&GOOD.replace("\"6 mm\"", "\"6.5 mm\"")).unwrap_err();
    for part in
        ["want 6.5 mm", "got 6 mm", "off by -0.5 mm", "within 0.01 mm", "derived: by hand", "an example"]
    {
        assert!(said.contains(part), "{part} in {said}");
    }
}
#[test]
fn tolerances_are_absolute_relative_or_none() {
    let with = |twice: &str, within: &str| {
        run(&GOOD
            .replace("\"6 mm\"", &format!("\"{twice}\""))
            .replace("\"0.01 mm\"", &format!("\"{within}\"")))
    };
    assert!(with("6.009 mm", "0.01 mm").is_ok());
    assert!(with("6.011 mm", "0.01 mm").is_err());
    assert!(with("6.05 mm", "1 %").is_ok());
    assert!(with("6.07 mm", "1 %").is_err());
    assert!(with("0.6 cm", "0").is_ok());
    assert!(with("6.000000001 mm", "0").is_err());
    assert!(with("6 deg", "1 %").is_err());
    assert!(with("6 mm", "1 deg").is_err());
}
#[test]
fn what_is_not_known_fails() {
    assert!(run(&GOOD.replace("try.double", "try.treble")).unwrap_err().contains("no question"));
    assert!(run(&GOOD.replace("list.1", "list.2")).unwrap_err().contains("no such answer"));
    assert!(run(&GOOD.replace("side =", "sides =")).unwrap_err().contains("side"));
    assert!(run(&GOOD.replace("\"brass\"", "\"steel\"")).unwrap_err().contains("got 'brass'"));
    assert!(run(&GOOD.replace("3 mm\" }\nwant", "3 kg\" }\nwant")).unwrap_err().contains("try.toml"));
}
#[test]
fn an_answer_that_is_not_promised_does_not_count() {
    let said = run(&GOOD.replace("list.1", "secret")).unwrap_err();
    assert!(said.contains("no such answer"), "{said}");
}
#[test]
fn files_are_read_strictly() {
    assert!(fault("").contains("without checks"));
    assert!(fault(&GOOD.replace("says", "tells")).contains("unknown key 'tells'"));
    assert!(fault(&GOOD.replace("because = \"an example\"", "")).contains("'because' is missing"));
    assert!(fault(&GOOD.replace("derived: by hand", "by hand")).contains("must open with"));
    assert!(fault(&GOOD.replace("word = \"0\",", "")).contains("'within' lacks 'word'"));
    assert!(fault(&GOOD.replace("\"3 mm\" }\nwant", "3 }\nwant")).contains("texts only"));
    assert!(fault("[[cheque]]\nid = \"x\"").contains("'cheque'"));
    assert!(!fault("[[check]").is_empty());
}
#[test]
fn a_repeated_id_is_seen_across_files() {
    assert_eq!(runner::repeated(&[read(GOOD)]), Vec::<&str>::new());
    assert_eq!(runner::repeated(&[read(GOOD), read(GOOD)]), ["try.1"]);
}
#[test]
fn examples_run() {
    assert_eq!(runner::example(&DOUBLE), Ok(()));
}
