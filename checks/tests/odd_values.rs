//! Every question with odd values in place of each of its parameters: refused in words or answered with numbers,
//! never a fault of the program.

use reckon::ask::pairs;
use reckon::{Ask, Book, Given, Place};
use std::sync::Arc;

const ODD: [&str; 18] = [
    "", "0", "-1", "1e9", "0 mm", "-3 mm", "1000 km", "1 nm", "90 deg", "-30 deg", "0 N", "0 N/mm2",
    "-5 rpm", "1,2,3", "wrong", "M3x9", "0 mm2", "100000",
];

fn faults(ask: &'static Ask) -> Vec<String> {
    let here: Arc<str> = Arc::from("odd values");
    let usual = pairs(ask.example, &here).expect("examples are checked elsewhere");
    let mut found = Vec::new();
    for param in ask.takes {
        for odd in ODD {
            let mut given = usual.clone();
            given.retain(|(name, _, _)| name != param.name);
            let place = Place::in_text(&here, odd, 0, odd.len());
            given.push((param.name.to_owned(), odd.to_owned(), place));
            let given = Given::new(ask, &given).expect("the names are those of the question");
            let mut book = Book::new();
            if (ask.run)(&given, &mut book).is_ok() {
                let said = book.faults().iter().map(|t| format!("{} {}='{odd}': {t}", ask.name, param.name));
                found.extend(said);
            }
        }
    }
    found
}

#[test]
fn odd_values_are_refused_in_words() {
    let found: Vec<String> = checks::asks().into_iter().flat_map(faults).collect();
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
}
