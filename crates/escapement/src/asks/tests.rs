use super::*;
use reckon::Place;
use std::sync::Arc;

fn pairs(line: &str) -> Vec<(String, String, Place)> {
    reckon::ask::pairs(line, &Arc::from("test")).expect("written as on a command line")
}
fn run(name: &str, line: &str) -> Result<Book, String> {
    let ask = asks().into_iter().find(|a| a.name == name).expect("known");
    let given = Given::new(ask, &pairs(line)).map_err(|t| t[0].to_string())?;
    let mut book = Book::new();
    (ask.run)(&given, &mut book).map_err(|t| t.to_string())?;
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    Ok(book)
}
#[test]
fn every_example_answers_all_that_its_question_promises() {
    for ask in asks() {
        let book = run(ask.name, ask.example).unwrap_or_else(|e| panic!("{}: {e}", ask.name));
        for answer in ask.gives {
            assert!(book.find(answer).is_some(), "{} does not give {answer}", ask.name);
        }
    }
}
#[test]
fn nothing_a_maker_can_write_becomes_a_fault_of_ours() {
    const ODD: [&str; 19] = [
        "",
        "0",
        "-1",
        "1",
        "1e9",
        "0 mm",
        "-3 mm",
        "1 mm",
        "1000 m",
        "1 nm",
        "0 deg",
        "-5 deg",
        "90 deg",
        "100000",
        "1,2,3",
        "1 mm, 2 mm",
        "-100 mm, 0 mm",
        "planes",
        "oak",
    ];
    let mut found = Vec::new();
    for ask in asks() {
        let usual = pairs(ask.example);
        for param in ask.takes {
            for odd in ODD {
                let mut changed = usual.clone();
                changed.retain(|(name, _, _)| name != param.name);
                let place = Place::in_text(&Arc::from("test"), odd, 0, odd.len());
                changed.push((param.name.to_owned(), odd.to_owned(), place));
                let Ok(given) = Given::new(ask, &changed) else { continue };
                let mut book = Book::new();
                if (ask.run)(&given, &mut book).is_ok() {
                    found.extend(
                        book.faults().iter().map(|f| format!("{} {}={odd}: {f}", ask.name, param.name)),
                    );
                }
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}
#[test]
fn a_lock_that_the_swing_cannot_clear_is_refused() {
    let with = |lock: &str| {
        let line = format!(
            r#"teeth=30 span=7 radius="20 mm" lift="2 deg" lock="{lock}" drop="1 deg" tip="0.3 deg" arc="1.7 deg""#
        );
        let book = run("escapement.dead_beat", &line).expect("answers");
        book.find("run_ok").map(|(_, l)| l.shown.clone()).expect("judged")
    };
    assert_eq!(with("0.7 deg"), "yes");
    assert_eq!(with("1.0 deg"), "no");
}
