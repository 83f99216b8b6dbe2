//! From tables of values to facts: what follows where nothing is written, and what contradicts itself in writing.

mod control;
mod movement;
mod parts;
mod shop;
mod threads;

pub(crate) use parts::clock;
pub(crate) use shop::shop;

use crate::read::node::Node;
use reckon::{Book, Shown, Trouble, Val};

/// What a builder works with.
pub(crate) struct Build<'a> {
    pub(crate) book: &'a mut Book,
    pub(crate) troubles: Vec<Trouble>,
}
impl<'a> Build<'a> {
    fn new(book: &'a mut Book) -> Build<'a> {
        Build { book, troubles: Vec::new() }
    }
    fn tell(&mut self, t: Trouble) {
        self.troubles.push(t);
    }
    /// A value that follows where the maker wrote none.
    fn follows<T: Shown>(&mut self, node: &Node, key: &str, v: T, why: &str) -> Val<T> {
        self.book.assumed(node.name(key), v, why)
    }
    /// Tells that a key is missing that another one calls for.
    fn lacks(&mut self, node: &Node, key: &str, because: &str) {
        let example = node.section.key(key).map_or("", |k| k.example);
        self.tell(
            Trouble::text(format!("{} has no '{key}'", node.subject))
                .at(node.at.clone())
                .why(because)
                .cure(format!("for example {key} = {example}")),
        );
    }
    /// Tells that a key stands where it means nothing.
    fn idle(&mut self, node: &Node, key: &str, because: &str) {
        if node.wrote(key) {
            self.tell(
                Trouble::text(format!("'{key}' of {} means nothing here", node.subject))
                    .at(node.place(key))
                    .why(because)
                    .cure("leave it out"),
            );
        }
    }
}
