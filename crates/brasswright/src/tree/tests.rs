use super::*;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Alternative, Cell, Length, judge, work};

fn book() -> Book {
    let mut book = Book::new();
    let pivot = book.assumed("centre.pivot", Length::mm(0.97), "as an example");
    let shake = book.tabled("centre.shake", Length::mm(0.03), "pivots of 1 mm", &HOUSE);
    let hole = work!(book, "centre.hole", |pivot, shake| pivot + shake, &GEOMETRY);
    let twice = work!(book, "centre.both", |hole, shake| hole + shake, &GEOMETRY);
    let among = vec![
        Alternative { what: "broach".into(), taken: true, why: "leaves a taper that holds oil".into() },
        Alternative { what: "drill".into(), taken: false, why: "no such drill".into() },
    ];
    book.chosen(
        "centre.tool",
        "broach".to_owned(),
        "the first that makes it",
        among,
        vec![hole.id()],
        &HOUSE,
    );
    let rows = vec![
        vec![Cell::word("1"), Cell::of(&Length::mm(0.1))],
        vec![Cell::word("2"), Cell::of(&Length::mm(10.05))],
    ];
    book.table("centre.passes", &["pass", "depth"], rows, "halves", vec![twice.id()], &HOUSE);
    let v = judge!(book, "centre.fits", "the pivot enters", |hole, pivot| hole <= pivot, &GEOMETRY);
    book.cure(v.id(), "broach a little more");
    book
}
#[test]
fn a_tree_opens_every_line_once() {
    let said = text(&book(), ["centre.both"], Paint(false));
    let want = "\
centre.both = 1.030 mm   = hole + shake   (plane geometry, derived)
  hole = centre.hole = 1.000 mm   = pivot + shake   (plane geometry, derived)
    pivot = centre.pivot = 0.970 mm   assumed: as an example
    shake = centre.shake = 0.030 mm   table: pivots of 1 mm (house default, common practice, no source)
  shake = centre.shake = 0.030 mm   (above)
";
    assert_eq!(said, want);
    let twice = text(&book(), ["centre.hole", "centre.both"], Paint(false));
    assert!(twice.contains("hole = centre.hole = 1.000 mm   (above)"), "{twice}");
}
#[test]
fn decisions_tables_and_verdicts_are_told() {
    let said = text(&book(), ["centre.tool"], Paint(false));
    assert!(said.contains("    taken  broach  leaves a taper that holds oil\n"), "{said}");
    assert!(said.contains("    not    drill   no such drill\n"), "{said}");
    let said = text(&book(), ["centre.passes"], Paint(false));
    assert!(said.contains("    pass  depth\n    1     0.100 mm\n    2     10.050 mm\n"), "{said}");
    let said = text(&book(), ["centre.fits"], Paint(false));
    assert!(
        said.contains("DOES NOT HOLD") && said.contains("    would do: broach a little more\n"),
        "{said}"
    );
}
#[test]
fn json_is_flat_and_complete() {
    let lines = as_json(&book(), &["centre.hole"], true, &Texts::default());
    let names: Vec<&str> =
        lines.as_array().expect("a list").iter().filter_map(|l| l["name"].as_str()).collect();
    assert_eq!(names, ["centre.hole", "centre.pivot", "centre.shake"]);
    let hole = &lines[0];
    assert_eq!(hole["value"], json!(0.001));
    assert_eq!(hole["unit"], "m");
    assert_eq!(hole["formula"], "pivot + shake");
    assert_eq!(hole["origin"], "computed");
    assert_eq!(hole["inputs"][1], json!({ "name": "centre.shake", "letter": "shake" }));
    assert_eq!(hole["source"]["mark"], "derived");
    let all: Vec<String> = book().lines().map(|l| l.name.clone()).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    let lines = as_json(&book(), &all, false, &Texts::default());
    assert_eq!(lines.as_array().map(Vec::len), Some(all.len()));
    let of = |name: &str| {
        lines.as_array().into_iter().flatten().find(|l| l["name"] == name).cloned().unwrap_or_default()
    };
    assert_eq!(of("centre.tool")["among"][1]["taken"], false);
    assert_eq!(of("centre.passes")["rows"][1][1]["value"], json!(0.01005));
    assert_eq!(of("centre.fits")["holds"], false);
}
