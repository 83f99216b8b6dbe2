//! Clock and shop read from text into facts with places.
//!
//! [`read`] takes `clock.toml` and `shop.toml` as bytes, enters every value in the book and gives
//! the facts, or every trouble that can be found in one go. One description in [`spec`] drives the
//! reading, the suggestions, the defaults, the JSON [`schema`] and the [`reference()`] page.
//!
//! # Names in the book
//! Every value has a dotted name, which is public interface:
//! - of a part: its name as a [`slug`](reckon::slug()), then the keys: `bridge_screw.length`, `bridge_screw.head.diameter`;
//! - one of a list: the singular and its number from 1: `seatboard_washer.face_groove.1.width`,
//!   `post.end.2.spigot`, `shop.bench_lathe.speed.3`;
//! - one of a fixed few: what it is called: `bridge.start.x`, `shop.bench_lathe.tailstock_chuck.least`;
//! - deviations of a size: `bridge_screw.length.upper` and `.lower`; where none were written they are worked
//!   from the house's general limits `limits.length.upper`, …;
//! - of the project: `clock.name`, `clock.site.latitude`; of the shop all begin with `shop.`: `shop.name`,
//!   `shop.bench_lathe.swing`, `shop.drills.size.4`, `shop.stock.2.round`.
//!
//! The order of the book is that of the description; parts come in the order of their names, so the order
//! in which parts are written changes nothing. Machines keep their order: the first is preferred.

mod build;
pub mod facts;
mod lookup;
mod read;
mod reference;
mod schema;
mod sense;
pub mod spec;

pub use facts::*;
pub use read::page::{LARGEST, Text, too_large};
pub use reference::reference;
pub use schema::{Which, schema};

use reckon::{Book, Trouble};

/// What was read: the facts, where nothing stands against them, and all that is wrong.
#[derive(Clone, Debug)]
pub struct Read<T> {
    /// The facts; none where a trouble stops the work.
    pub facts: Option<T>,
    /// Troubles and warnings in the order of the text, the clock's first.
    pub troubles: Vec<Trouble>,
}
/// A clock, a shop, or both.
#[derive(Clone, Debug)]
pub struct Project {
    /// What is wanted.
    pub clock: Option<Clock>,
    /// What it is made with.
    pub shop: Option<Shop>,
}

/// Reads a project; either text may be missing. Every value is entered in the book.
pub fn read(clock: Option<&Text<'_>>, shop: Option<&Text<'_>>, book: &mut Book) -> Read<Project> {
    let mut troubles = Vec::new();
    let clock = clock.and_then(|text| {
        let mut reading = read::page(text, &spec::clock::CLOCK, "", book);
        let facts = reading.node.map(|node| {
            let (facts, mut more) = build::clock(&node, book);
            let whole = !reading.troubles.iter().chain(&more).any(Trouble::stops);
            more.extend(sense::clock(&facts, book, whole));
            reading.troubles.append(&mut more);
            facts
        });
        troubles.extend(read::in_order(reading.troubles));
        facts
    });
    let shop = shop.and_then(|text| {
        let mut reading = read::page(text, &spec::shop::SHOP, "shop", book);
        let facts = reading.node.map(|node| {
            let (facts, mut more) = build::shop(&node, book);
            more.extend(sense::shop(&facts, book));
            reading.troubles.append(&mut more);
            facts
        });
        troubles.extend(read::in_order(reading.troubles));
        facts
    });
    let sound = !troubles.iter().any(Trouble::stops);
    Read { facts: sound.then_some(Project { clock, shop }), troubles }
}
