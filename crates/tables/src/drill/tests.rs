use super::*;
use reckon::ask::Given;
use reckon::trouble::Place;
use std::collections::BTreeSet;
use std::sync::Arc;

#[test]
fn the_list_is_sorted_and_every_name_is_once() {
    assert!(all().windows(2).all(|w| w[0].size <= w[1].size));
    let names: BTreeSet<&str> = all().iter().map(|d| d.name.as_str()).collect();
    assert_eq!(names.len(), all().len());
    for series in [Series::Number, Series::Letter, Series::Fraction, Series::Metric] {
        let sizes: Vec<Diameter> = all().iter().filter(|d| d.series == series).map(|d| d.size).collect();
        assert!(sizes.windows(2).all(|w| w[0] < w[1]), "{series:?}");
    }
    let count = |s| all().iter().filter(|d| d.series == s).count();
    assert_eq!((count(Series::Number), count(Series::Letter), count(Series::Fraction)), (97, 26, 32));
    // 8 tenths of four sizes each below 1 mm, 40 by 0.05 mm, 110 by 0.1 mm.
    assert_eq!(count(Series::Metric), 8 * 4 + 40 + 110);
}
#[test]
fn every_drill_is_found_by_its_own_name() {
    for d in all() {
        assert_eq!(find(&d.name).unwrap().name, d.name);
    }
}
/// Neighbours of the number series differ by 0.4 thou at least and 13 % at most, so a slip of a digit would stand out.
#[test]
fn numbers_fall_evenly() {
    let numbers: Vec<&Drill> = all().iter().filter(|d| d.series == Series::Number).collect();
    for w in numbers.windows(2) {
        let (a, b) = (w[0].size.across().in_inch(), w[1].size.across().in_inch());
        assert!(b / a < 1.13 && b - a > 0.000_35, "{} {}", w[0].name, w[1].name);
        let n = |d: &Drill| d.name[1..].parse::<i32>().unwrap();
        assert_eq!(n(w[0]), n(w[1]) + 1);
    }
}
#[test]
fn drills_are_read_as_written() {
    let mm = |t: &str| format!("{:.4}", find(t).unwrap().size.in_mm());
    assert_eq!(mm("#43"), "2.2606");
    assert_eq!(mm("No. 43"), "2.2606");
    assert_eq!(mm("f"), "6.5278");
    assert_eq!(mm("7/64 in"), "2.7781");
    assert_eq!(mm("7/64\""), "2.7781");
    assert_eq!(mm("2.05mm"), "2.0500");
    assert_eq!(find("0.089 in").unwrap().name, "#43");
    assert_eq!(find("1/4 in").unwrap().name, "1/4 in");
    assert_eq!(find("0.250 in").unwrap().name, "E");
    assert_eq!(find("3 mm").unwrap().name, "3 mm");
    assert_eq!(find("3.0 mm").unwrap().name, "3 mm");
    assert_eq!(find("0.22 mm").unwrap().name, "0.22 mm");
}
#[test]
fn what_is_wrong_is_said() {
    let says = |t: &str| find(t).unwrap_err().to_string();
    assert!(says("43").contains("write #43 or 43 mm"));
    assert!(says("#98").contains("#97 to #1"));
    assert!(says("#0").contains("#97 to #1"));
    assert!(says("2.07 mm").contains("#46 (2.057 mm)"));
    assert!(says("Ä").contains("A to Z"));
    assert!(says("seven").contains("drills are written"));
    assert!(says(" ").contains("missing"));
}
#[test]
fn a_rule_picks_from_a_list() {
    let shop: Vec<Drill> = ["2 mm", "2.5 mm", "#43"].map(|n| find(n).unwrap().clone()).into();
    let pick = |mm, rule| nearest_in(&shop, Diameter::mm(mm), rule).map(|d| d.name.as_str());
    assert_eq!(pick(2.25, Rule::Nearest), Some("#43"));
    assert_eq!(pick(2.25, Rule::NotOver), Some("2 mm"));
    assert_eq!(pick(2.3, Rule::NotUnder), Some("2.5 mm"));
    assert_eq!(pick(2.5, Rule::NotOver), Some("2.5 mm"));
    assert_eq!(pick(2.5, Rule::NotUnder), Some("2.5 mm"));
    assert_eq!(pick(1.9, Rule::NotOver), None);
    assert_eq!(pick(2.6, Rule::NotUnder), None);
}
#[test]
fn every_question_answers_its_example() {
    let place = || Place { file: Arc::from("test"), line: 0, column: 0, start: 0, end: 9 };
    for (ask, pairs) in [
        (&ASKS[0], vec![("drill", "#43")]),
        (&ASKS[1], vec![("size", "2.3 mm"), ("rule", "not over")]),
        (&ASKS[1], vec![("size", "0.1 in"), ("series", "metric"), ("rule", "not under")]),
    ] {
        let pairs: Vec<_> = pairs.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned(), place())).collect();
        let given = Given::new(ask, &pairs).unwrap();
        let mut book = Book::new();
        (ask.run)(&given, &mut book).unwrap();
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        for answer in ask.gives {
            assert!(book.find(answer).is_some(), "{} gives no {answer}", ask.name);
        }
    }
}
