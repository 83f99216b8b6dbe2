//! Putting the clock together and setting it up: in which order, how free, how deep, in beat, oiled, wound, hung,
//! and what it means when it stops. Computed from the movement: only what this clock has.

mod free;
mod hand_over;
mod power;
mod put;
mod running;

use super::{Caution, Figure};
use movement::design::Movement;
use reckon::{Book, Id, Source};
use record::facts::Clock;

/// How a clock is set up.
pub static SETTING_UP: Source = Source::practice(
    "dry assembly, each arbor alone, pairs, the whole train, then the escapement; oil last; power under control",
);

/// A sheet of the assembly.
#[derive(Clone, Debug)]
pub struct Page {
    /// Title.
    pub title: String,
    /// What stands on it.
    pub items: Vec<Item>,
}
/// A piece of such a sheet.
#[derive(Clone, Debug)]
pub enum Item {
    /// A heading.
    Head(String),
    /// A sentence or two.
    Say(String),
    /// What is done, in order.
    Steps(Vec<String>),
    /// What to look at, or what to do if.
    Dots(Vec<String>),
    /// Numbers needed now.
    Figures(Vec<Figure>),
    /// A table of the book.
    Table(Id),
    /// A table with empty boxes: heads, and first cells of its rows.
    Boxes(Vec<String>, Vec<Vec<String>>),
    /// What can hurt.
    Cautions(Vec<Caution>),
}
/// The whole of it.
#[derive(Clone, Debug, Default)]
pub struct Assembly {
    /// Sheets in their order.
    pub pages: Vec<Page>,
}
/// Works it out.
pub fn assembly(m: &Movement, clock: &Clock, book: &mut Book) -> Assembly {
    let mut pages = Vec::new();
    let first = m.train.first.and_then(|i| m.train.arbors.get(i)).map(|a| a.facts.name.clone());
    let of = Of { m, clock, first: first.unwrap_or_else(|| "first".to_owned()) };
    pages.push(put::dry(&of));
    pages.push(free::freedom(&of, book));
    pages.extend(free::escapement(&of, book));
    pages.push(power::oil(&of, book));
    pages.extend(power::power(&of, book));
    pages.push(running::first_run(&of, book));
    pages.push(running::stops(&of, book));
    pages.push(hand_over::service(&of, book));
    pages.push(hand_over::owner(&of));
    Assembly { pages }
}
/// What all sheets are made from.
struct Of<'a> {
    m: &'a Movement,
    clock: &'a Clock,
    first: String,
}
impl Of<'_> {
    fn weight(&self) -> bool {
        self.m.drive.as_ref().is_some_and(|d| d.weight.is_some())
    }
    fn spring(&self) -> bool {
        self.m.drive.as_ref().is_some_and(|d| d.spring.is_some())
    }
    fn fusee(&self) -> bool {
        self.m.drive.as_ref().is_some_and(|d| d.fusee.is_some())
    }
}
/// A figure of the book by its name; none where this clock has no such number.
fn figure(book: &Book, label: &str, name: &str) -> Option<Figure> {
    let (id, line) = book.find(name)?;
    Some(Figure { label: label.to_owned(), text: line.shown.clone(), id: Some(id) })
}
fn words(all: &[&str]) -> Vec<String> {
    all.iter().map(|w| (*w).to_owned()).collect()
}
