//! Questions of the bench, each answered from a few texts with no project at all.

mod bend;
mod cut;
mod drill;
mod form;
mod hold;
mod join;
mod part;
mod relief;
mod setting;
mod stock;
mod tap;

use crate::kernel::{bend as beam, force, speed};
use reckon::ask::{Done, Param, ask, more, need, one_of, or, some, within, yes};
use reckon::{Ask, Book, Given, Pressure, Ratio, Trouble, Val};

/// All of them.
#[must_use]
pub fn all() -> Vec<&'static Ask> {
    let groups = [
        cut::ASKS,
        drill::ASKS,
        bend::ASKS,
        hold::ASKS,
        join::ASKS,
        part::ASKS,
        relief::ASKS,
        form::ASKS,
        stock::ASKS,
        setting::ASKS,
        tap::ASKS,
    ];
    groups.into_iter().flatten().collect()
}

const METAL: Param =
    or("metal", "", "brass, aluminium, mild steel, tool steel or stainless; or give the constants");
const KC11: Param = or("kc11", "", "specific force of a chip 1 mm by 1 mm, in place of a metal");
const MC: Param = or("mc", "", "its exponent");
const MODULUS: Param = or("modulus", "", "elastic modulus, in place of a metal");

fn metal(g: &Given<'_>, instead: &str) -> Result<speed::Metal, Trouble> {
    if g.word_if("metal").is_none() {
        return Err(g.trouble("metal", format!("give 'metal' or {instead}")));
    }
    one_of(g, "metal", &speed::METALS)
}
/// Constants of the force law, as given or from the row of the metal.
fn law(g: &Given<'_>, book: &mut Book) -> Result<(Val<Pressure>, Val<Ratio>), Trouble> {
    if g.has("kc11") || g.has("mc") {
        let kc11 = more(g, book, "kc11")?;
        // With one or more a thicker chip would take less force.
        let mc = within(g, book, "mc", Ratio::si(0.0), Ratio::si(0.99))?;
        return Ok((kc11, mc));
    }
    let row = force::group_for(metal(g, "'kc11' and 'mc'")?);
    Ok((
        book.tabled("kc11", row.kc11(), row.what, &force::LAW),
        book.tabled("mc", row.mc(), row.what, &force::LAW),
    ))
}
/// Elastic modulus, as given or from the metal.
fn modulus(g: &Given<'_>, book: &mut Book) -> Result<Val<Pressure>, Trouble> {
    if g.has("modulus") {
        return more(g, book, "modulus");
    }
    let m = metal(g, "'modulus'")?;
    Ok(book.tabled("modulus", beam::modulus(m), m.word(), &beam::MODULUS))
}

#[cfg(test)]
mod tests {
    use super::*;
    use reckon::Place;
    use std::sync::Arc;

    fn pairs(line: &str) -> Vec<(String, String, Place)> {
        reckon::ask::pairs(line, &Arc::from("test")).expect("written as on a command line")
    }
    fn run(name: &str, line: &str) -> Result<Book, String> {
        let ask = all().into_iter().find(|a| a.name == name).unwrap();
        let given = Given::new(ask, &pairs(line)).map_err(|t| t[0].to_string())?;
        let mut book = Book::new();
        (ask.run)(&given, &mut book).map_err(|t| t.to_string())?;
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        Ok(book)
    }
    #[test]
    fn every_example_answers_all_that_its_question_promises() {
        for ask in all() {
            let book = run(ask.name, ask.example).unwrap_or_else(|e| panic!("{}: {e}", ask.name));
            for answer in ask.gives {
                assert!(book.find(answer).is_some(), "{} does not give {answer}", ask.name);
            }
        }
    }
    #[test]
    fn names_are_dotted_lower_case_and_stand_once() {
        let mut names: Vec<&str> = all().iter().map(|a| a.name).collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|w| w[0] != w[1]));
        assert!(names.iter().all(|n| n.split('.').count() == 2
            && n.chars().all(|c| c.is_ascii_lowercase() || "._0123456789".contains(c))));
    }
    #[test]
    fn nothing_a_maker_can_write_becomes_a_fault_of_ours() {
        // Every quantity of every example in turn as nothing, as negative, as huge and as nonsense: a trouble or a number.
        for ask in all() {
            let given = pairs(ask.example);
            for i in 0..given.len() {
                for text in [
                    "0", "0 mm", "-1 mm", "1000 m", "0 N", "-3 N", "0 deg", "90 deg", "180 deg", "-5 deg",
                    "0 rpm", "-1", "1000000", "0 N m", "0 MPa", "0 K", "oak",
                ] {
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
    #[test]
    fn a_wrong_word_is_answered_with_the_nearest() {
        let e = run("hold.friction", r#"jaws="smoth" skin="machined" metal="brass""#).unwrap_err();
        assert!(e.contains("did you mean 'smooth'?"), "{e}");
        let e = run("cut.force", r#"feed="0.05 mm" depth="0.5 mm""#).unwrap_err();
        assert!(e.contains("give 'metal' or 'kc11' and 'mc'"), "{e}");
    }
}
