use super::*;
use reckon::Place;
use std::sync::Arc;

fn pairs(line: &str) -> Vec<(String, String, Place)> {
    reckon::ask::pairs(line, &Arc::from("test")).expect("written as on a command line")
}
#[test]
fn every_example_answers_all_that_its_question_promises() {
    for ask in asks() {
        let given = Given::new(ask, &pairs(ask.example)).unwrap_or_else(|e| panic!("{}: {}", ask.name, e[0]));
        let mut book = Book::new();
        (ask.run)(&given, &mut book).unwrap_or_else(|e| panic!("{}: {e}", ask.name));
        assert!(book.faults().is_empty(), "{}: {:?}", ask.name, book.faults());
        for answer in ask.gives {
            assert!(book.find(answer).is_some(), "{} does not give {answer}", ask.name);
        }
    }
}

#[test]
fn nothing_a_maker_can_write_becomes_a_fault_of_ours() {
    let odd = [
        "0", "1", "2", "3", "5", "2000", "1000000", "-1", "0.3", "0 mm", "-1 mm", "0.001 mm", "1000 m",
        "0 deg", "45 deg", "90 deg", "oak",
    ];
    for ask in asks() {
        let given = pairs(ask.example);
        for i in 0..given.len() {
            for text in odd {
                let mut changed = given.clone();
                text.clone_into(&mut changed[i].1);
                let Ok(given) = Given::new(ask, &changed) else { continue };
                let mut book = Book::new();
                if (ask.run)(&given, &mut book).is_ok() {
                    assert!(
                        book.faults().is_empty(),
                        "{} {}={text}: {:?}",
                        ask.name,
                        changed[i].0,
                        book.faults()
                    );
                }
            }
        }
    }
}
