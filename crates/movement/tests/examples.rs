//! The embedded clocks, worked out.

use movement::design::{Movement, movement};
use reckon::{Book, Trouble};
use std::sync::Arc;

fn worked(name: &str, text: &str) -> (Movement, Book, Vec<Trouble>) {
    let mut book = Book::new();
    let text = record::Text { name: Arc::from(name), bytes: text.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.and_then(|f| f.clock).unwrap_or_else(|| panic!("{name}: {:?}", read.troubles));
    let (found, troubles) = movement(&clock, &mut book);
    assert!(book.faults().is_empty(), "{name}: {:?}", book.faults());
    (found.expect("a movement is written"), book, troubles)
}
macro_rules! example {
    ($name:literal) => {
        worked($name, include_str!(concat!("../../../examples/", $name, "/clock.toml")))
    };
}
fn shown(book: &Book, name: &str) -> String {
    book.find(name).map_or_else(|| format!("no {name}"), |(_, l)| l.shown.clone())
}
fn mm(book: &Book, name: &str) -> f64 {
    book.find(name).and_then(|(_, l)| l.si).unwrap_or_else(|| panic!("no {name}")) * 1000.0
}

#[test]
fn no_example_has_troubles() {
    for (_, _, troubles) in
        [example!("regulator"), example!("table-clock"), example!("skeleton"), example!("one-wheel")]
    {
        assert!(troubles.is_empty(), "{troubles:#?}");
    }
}
/// Sizes of the pairs as tabulated from the formula of the addendum: derived, to the third place.
#[test]
fn sizes_of_the_pairs() {
    let (_, a, _) = example!("regulator");
    let (_, b, _) = example!("table-clock");
    for (book, name, want) in [
        (&a, "great.wheel.outside", 103.240),
        (&a, "great.wheel.root", 98.602),
        (&a, "great.wheel.depth", 2.319),
        (&a, "centre.pinion.outside", 9.275),
        (&a, "centre.pinion.root", 5.400),
        (&a, "centre.wheel.outside", 66.874),
        (&a, "third.wheel.outside", 41.708),
        (&a, "escape.pinion.root", 3.892),
        (&b, "barrel.wheel.outside", 74.581),
        (&b, "intermediate.wheel.root", 42.602),
        (&b, "centre.wheel.depth", 1.592),
        (&b, "escape.pinion.outside", 3.736),
        (&b, "escape.pinion.root", 1.692),
    ] {
        let got = mm(book, name);
        // Roots and depths are tabulated with 1.57 modules for half the pitch: 0.0016 of a module on a diameter.
        assert!((got - want).abs() < 1.3e-3, "{name}: {got} and not {want}");
    }
    assert_eq!(shown(&a, "great.turn"), "12 h");
}
