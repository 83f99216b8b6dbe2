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
                "0", "0 mm", "-1 mm", "1000 m", "0.001 mm", "0 N", "-3 N", "0 deg", "90 deg", "180 deg",
                "-5 deg", "0 s", "-1", "0.5", "2", "1000000", "0 N mm", "1000 N m", "0 MPa", "0 K", "0 kg",
                "1000 kg", "0 uW", "oak",
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
fn a_strip_that_fills_the_barrel_is_refused_with_the_half_filled_length() {
    let e = run("power.barrel", r#"inside="40 mm" arbor="13.333 mm" thickness="0.4 mm" length="4 m""#)
        .unwrap_err();
    assert!(e.contains("1396.3 mm"), "{e}");
}
#[test]
fn springs_weights_and_lines_carry_their_cautions() {
    for name in ["power.barrel", "power.spring", "power.fusee", "power.weight", "power.line", "power.body"] {
        let ask = asks().into_iter().find(|a| a.name == name).unwrap();
        let book = run(name, ask.example).unwrap();
        let (_, line) = book.find("caution").unwrap();
        assert!(line.shown.contains("ocal"), "{name} does not defer to local rules");
    }
}
