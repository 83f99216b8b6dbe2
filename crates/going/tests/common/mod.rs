//! A project of the examples, as far as its model.

use going::Model;
use reckon::Book;
use std::path::Path;
use std::sync::Arc;

/// The model of an example, after `change` of its text.
pub fn changed(name: &str, change: impl Fn(String) -> String) -> (Model, Book) {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    let clock = change(std::fs::read_to_string(dir.join("clock.toml")).expect("an example"));
    let mut book = Book::new();
    let text = record::Text { name: Arc::from("clock.toml"), bytes: clock.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.expect("it reads").clock.expect("a clock");
    let (movement, _) = movement::design::movement(&clock, &mut book);
    let model = Model::of(&clock, &movement.expect("a movement"), &mut book).expect("a model");
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    (model, book)
}
