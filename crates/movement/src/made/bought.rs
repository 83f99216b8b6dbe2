//! What a movement needs and nobody makes: springs, lines, chains, fillings.

use reckon::Book;
use record::facts::MovementFacts;

/// Something to buy for a movement.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bought {
    /// What.
    pub what: String,
    /// How much.
    pub amount: String,
    /// For what.
    pub of: String,
}

/// All that is bought, with sizes from the book.
#[must_use]
pub fn bought(facts: &MovementFacts, book: &Book) -> Vec<Bought> {
    let mut all = Vec::new();
    let shown = |name: &str| book.find(name).map(|(_, line)| line.shown.clone()).unwrap_or_default();
    let mut add = |what: String, amount: String, of: &str| {
        all.push(Bought { what, amount, of: of.to_owned() });
    };
    let Some(drive) = &facts.drive else { return all };
    if let Some(s) = &drive.spring {
        let what = format!(
            "mainspring {} thick, {} high, {} long",
            s.thickness.shown(),
            s.height.shown(),
            s.length.shown()
        );
        add(what, "1".to_owned(), "barrel");
    }
    if let Some(f) = &drive.fusee {
        let what = format!("fusee chain {} thick, with both hooks", f.chain.shown());
        add(what, shown("drive.fusee.chain_length"), "fusee");
    }
    if let Some(w) = &drive.weight {
        let strength = shown("drive.weight.line_strength");
        let what = format!("line {}, to break at no less than {strength}", w.line.shown());
        add(what, format!("{} and what its knots take", shown("drive.weight.line_length")), "drum");
        if w.falls.bare().0 > 1 {
            add("pulley with its stirrup for that line".to_owned(), "1".to_owned(), "weight");
        }
        if let Some(b) = &w.body {
            let what = format!("{}, as poured {}", b.filling.name, b.packing.shown());
            add(what, shown("drive.weight.filling"), "weight shell");
        }
    }
    add(format!("key for a square of {}", drive.square.shown()), "1".to_owned(), "winding");
    all
}
