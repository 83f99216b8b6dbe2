//! Questions: what they take and what is told when they cannot.

use super::*;
use crate::source::GEOMETRY;
use crate::work;

const GAP: Ask = Ask {
    name: "play.gap",
    says: "the gap between hole and pin",
    takes: &[
        need("hole", "diameter of the hole"),
        or("pin", "2 mm", "diameter of the pin"),
        or("sizes", "", "more"),
    ],
    gives: &["gap"],
    example: "hole=2.1mm",
    run: |given, book| {
        let hole = given.take::<Diameter>(book, "hole")?;
        let pin = given.take::<Diameter>(book, "pin")?;
        given.take_list::<Length>(book, "sizes")?;
        work!(book, "gap", |hole, pin| hole - pin, &GEOMETRY);
        Ok(())
    },
};
/// Pairs as they stand on a command line, one after the other.
fn pairs(all: &[(&str, &str)]) -> Vec<(String, String, Place)> {
    let file: Arc<str> = Arc::from("the command line");
    let line: String = all.iter().map(|(n, t)| format!("{n}={t} ")).collect();
    let mut at = 0;
    all.iter()
        .map(|(n, t)| {
            let start = at + n.len() + 1;
            at = start + t.len() + 1;
            ((*n).to_owned(), (*t).to_owned(), Place::in_text(&file, &line, start, start + t.len()))
        })
        .collect()
}
fn answer(all: &[(&str, &str)]) -> Result<Book, Vec<Trouble>> {
    let given = Given::new(&GAP, &pairs(all))?;
    let mut book = Book::new();
    (GAP.run)(&given, &mut book).map_err(|t| vec![t])?;
    Ok(book)
}

#[test]
fn an_answer_explains_itself() {
    let book = answer(&[("hole", "2.1mm")]).unwrap();
    let text = book.explain("gap").unwrap().text();
    assert!(text.starts_with("gap = 0.100 mm   = hole - pin"), "{text}");
    assert!(text.contains("hole = ⌀2.100 mm   written:"), "{text}");
    assert!(text.contains("pin = ⌀2.000 mm   assumed: the default of this question"), "{text}");
    let book = answer(&[("hole", "2.1mm"), ("sizes", "1 mm, 1/2 in,3 thou")]).unwrap();
    assert_eq!(book.matching("sizes.*"), ["sizes.1", "sizes.2", "sizes.3"]);
    assert_eq!(book.find("sizes.2").unwrap().1.shown, "12.700 mm");
    assert!(book.faults().is_empty());
}
#[test]
fn all_that_is_wrong_with_the_names_at_once() {
    let told = answer(&[("hol", "2.1 mm"), ("pin", "2 mm"), ("pin", "3 mm")]).unwrap_err();
    let told: Vec<String> = told.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "the command line line 1: 'play.gap' does not take 'hol'; did you mean 'hole'?",
            "the command line line 1: 'pin' is given twice",
            "'play.gap' needs hole: diameter of the hole; for example: play.gap hole=2.1mm"
        ]
    );
}
#[test]
fn a_text_at_fault_is_pointed_at_by_characters() {
    let told = &answer(&[("hole", "3 µm + 2 mn")]).unwrap_err()[0];
    assert_eq!((told.says.as_str(), told.at[0].column), ("'mn' is not a unit", 15));
    let told = &answer(&[("hole", "3 mm"), ("sizes", "1 µm, 2 µm, 3 µn")]).unwrap_err()[0];
    // hole=3 mm sizes=1 µm, 2 µm, 3 µn: the last word is the 31st character.
    assert_eq!((told.says.as_str(), told.at[0].column), ("'µn' is not a unit", 31));
    const DEFAULT: Ask = Ask { takes: &[or("pin", "2 mn", "a pin")], ..GAP };
    let given = Given::new(&DEFAULT, &[]).unwrap();
    let told = given.take::<Diameter>(&mut Book::new(), "pin").unwrap_err();
    assert_eq!(told.to_string(), "default of pin: 'mn' is not a unit; did you mean 'mm'?");
}
#[test]
fn whole_numbers() {
    const MANY: Ask = Ask { takes: &[need("n", "how many")], ..GAP };
    let count = |text: &str| {
        let given = Given::new(&MANY, &pairs(&[("n", text)])).unwrap();
        given.count(&mut Book::new(), "n").map(|v| v.bare().0).map_err(|t| t.says)
    };
    assert_eq!((count("12"), count(" 12.0 "), count("-3")), (Ok(12), Ok(12), Ok(-3)));
    for text in ["", "1.5", "twelve", "1e3", "12 mm", "9999999999999999999"] {
        assert_eq!(count(text), Err(format!("'{text}' is not a whole number")));
    }
}
