use super::*;
use std::sync::Arc;

const CLOCK: &str = "[clock]\nname = \"Uhr für Zwei\"\n\n[[screw]]\nlength = 11\ncount = -2\n";

fn texts() -> Texts {
    let mut t = Texts::default();
    t.add("clock.toml", "my clock/clock.toml", CLOCK.as_bytes());
    t
}
fn at(needle: &str) -> Place {
    let start = CLOCK.find(needle).expect("the needle is in the text");
    Place::in_text(&Arc::from("clock.toml"), CLOCK, start, start + needle.len())
}
#[test]
fn shows_the_place_the_reason_and_the_cure() {
    let t = Trouble::text("a length needs a unit")
        .at(at("11"))
        .why("11 of what is not said")
        .cure("write \"11 mm\"")
        .cure("write \"11 thou\"");
    let said = all(&[t], &texts(), false);
    let want = "\
text trouble: a length needs a unit
 --> my clock/clock.toml:5:10
  |
5 | length = 11
  |          ^^
  |
  = why: 11 of what is not said
  = would do: write \"11 mm\"
  = would do: write \"11 thou\"

1 trouble
";
    assert_eq!(said, want);
}
#[test]
fn sorted_by_place_and_told_once() {
    let late = Trouble::text("late").at(at("-2"));
    let early = Trouble::design("early").at(at("name"));
    let loose = Trouble::shop("without place").as_warning();
    let sorted = in_order(vec![loose.clone(), late.clone(), early.clone(), late.clone()]);
    assert_eq!(sorted, [early, late, loose]);
    assert!(all(&sorted, &texts(), false).ends_with("2 troubles and 1 warning\n"));
}
#[test]
fn several_places_and_several_lines() {
    let mut whole = at("[[screw]]");
    whole.end = CLOCK.len();
    let t = Trouble::design("they contradict").at(at("11")).at(at("-2")).at(whole);
    let said = all(&[t], &texts(), false);
    assert!(said.contains("5 | length = 11"), "{said}");
    assert!(said.contains("6 | count = -2"), "{said}");
    assert!(said.contains("4 | [[screw]]"), "{said}");
}
#[test]
fn survives_places_outside_of_the_text() {
    let mut wild = at("für");
    (wild.start, wild.end) = (CLOCK.find('ü').expect("there is one") + 1, usize::MAX);
    let said = all(&[Trouble::text("wild").at(wild)], &texts(), false);
    assert!(said.contains("Uhr für"), "{said}");
    let mut past = at("-2");
    (past.start, past.end) = (usize::MAX, usize::MAX);
    assert!(all(&[Trouble::text("past").at(past)], &texts(), false).contains("past"));
    let mut binary = Texts::default();
    binary.add("clock.toml", "clock.toml", b"\xff\xfe");
    let said = all(&[Trouble::text("not UTF-8").at(at("11"))], &binary, false);
    assert!(said.contains("clock.toml:5:10"), "{said}");
    assert!(
        all(&[Trouble::text("elsewhere").at(at("11"))], &Texts::default(), false).contains("clock.toml:5:10")
    );
}
#[test]
fn many_are_counted_not_all_shown() {
    let many: Vec<Trouble> = (0..100).map(|i| Trouble::text(format!("number {i}")).at(at("11"))).collect();
    let said = all(&many, &texts(), false);
    assert!(said.contains("… and 60 more"), "{said}");
    assert!(said.ends_with("100 troubles\n"));
}
#[test]
fn colour_only_when_asked_and_no_escape_from_a_text() {
    let t = Trouble::text("bad \x1b[2J word").at(at("11"));
    assert!(!all(std::slice::from_ref(&t), &texts(), false).contains('\x1b'));
    let coloured = all(&[t], &texts(), true);
    assert!(coloured.contains("\x1b[") && !coloured.contains("\x1b[2J"));
}
#[test]
fn json_has_every_field() {
    let t = Trouble::text("a length needs a unit").at(at("11")).why("w").cure("c").as_warning();
    let v = as_json(&[t], &texts());
    let want = json!([{
        "kind": "text", "weight": "warning", "says": "a length needs a unit", "file": "my clock/clock.toml",
        "line": 5, "column": 10, "also": [], "why": "w", "cures": ["c"],
    }]);
    assert_eq!(v, want);
}
