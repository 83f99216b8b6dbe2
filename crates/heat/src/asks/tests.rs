use super::*;
use reckon::Place;
use std::sync::Arc;

fn pairs(line: &str) -> Vec<(String, String, Place)> {
    reckon::ask::pairs(line, &Arc::from("test")).expect("written as on a command line")
}
fn run(name: &str, line: &str) -> Result<Book, String> {
    let ask = asks().into_iter().find(|a| a.name == name).unwrap();
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
            let listed = format!("{answer}.1.likely");
            let found = book.find(answer).is_some() || book.find(&listed).is_some();
            assert!(found, "{} does not give {answer}", ask.name);
        }
    }
}
#[test]
fn nothing_a_maker_can_write_becomes_a_fault_of_ours() {
    for ask in asks() {
        let given = pairs(ask.example);
        for i in 0..given.len() {
            for text in [
                "0",
                "0 mm",
                "-1 mm",
                "1000 m",
                "0.001 mm",
                "0 N",
                "-3 N",
                "0 deg",
                "90 deg",
                "180 deg",
                "-5 deg",
                "0 s",
                "-1",
                "0.5",
                "2",
                "1000000",
                "0 N mm",
                "1000 N m",
                "0 MPa",
                "0 K",
                "0 kg",
                "1000 kg",
                "20 degC",
                "300 degF",
                "29000 degC",
                "1 h",
                "0.02 um",
                "oak",
                "silver steel",
                "water",
                "",
            ] {
                let mut changed = given.clone();
                text.clone_into(&mut changed[i].1);
                let Ok(given) = Given::new(ask, &changed) else { continue };
                let mut book = Book::new();
                if (ask.run)(&given, &mut book).is_ok() {
                    let name = &changed[i].0;
                    assert!(book.faults().is_empty(), "{} {name}={text}: {:?}", ask.name, book.faults());
                }
            }
        }
    }
}

#[test]
fn a_slip_of_the_scale_is_asked_back() {
    let e = run("heat.colour", r#"temperature="29000 degC""#).unwrap_err();
    assert!(e.contains("scale") || e.contains("outside"), "{e}");
}
#[test]
fn a_pinion_is_not_blued_below_its_hardness() {
    let b = run("heat.temper", r#"steel="silver steel" wanted="62" blued="yes""#).unwrap();
    assert!(b.find("verdict").unwrap().1.shown.starts_with("refused"));
    let b = run("heat.temper", r#"steel="silver steel" wanted="50" blued="yes""#).unwrap();
    assert!(b.find("verdict").unwrap().1.shown.starts_with("may be blued"));
}
#[test]
fn polish_before_harden_is_refused_until_a_reason_is_written() {
    let e = run("finish.order", r#"works="harden, polish" wish="polish before harden""#).unwrap_err();
    assert!(e.contains("ring") && e.contains("scale"), "{e}");
    let line = r#"works="harden, polish" wish="polish before harden because it is kept in foil""#;
    let b = run("finish.order", line).unwrap();
    assert_eq!(b.find("order").unwrap().1.shown, "polish, harden");
    assert!(b.find("aside").unwrap().1.shown.contains("foil"));
}
#[test]
fn steel_that_does_not_harden_says_so() {
    let e = run("heat.steel", r#"steel="mild steel""#).unwrap_err();
    assert!(e.contains("case"), "{e}");
}
