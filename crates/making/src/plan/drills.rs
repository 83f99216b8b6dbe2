//! Which drills make a hole of a flat part, in order, and what brings it to size after them.

use super::fits::tools;
use super::{bench, plate, thread};
use crate::kernel::speed::Metal;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Diameter, Length, Source, Val, work};
use record::facts::{Hole, Shop};
use tables::drill::length::{self, Build};

/// Drills before others.
pub static PILOT: Source = Source::practice(
    "up to 6 mm a drill that was spotted goes straight in; a thicker one follows a drill a little thicker than its web, which is a fifth to a quarter of it and does not cut",
);

/// The shop's long drill of a size, within so much of it, and how far it reaches.
pub(super) fn long(shop: &Shop, d: Diameter, within: Length) -> Option<(Val<Diameter>, Val<Length>)> {
    shop.drills.long.iter().find(|(s, _)| (s.bare() - d).abs() < within).copied()
}
/// How deep a drill cuts: a long one of the shop that is within so much of its size; else by the length of the shop's
/// flutes; else as such drills are sold.
pub(super) fn flutes(
    book: &mut Book,
    name: String,
    shop: &Shop,
    d: Val<Diameter>,
    within: Length,
) -> Val<Length> {
    match (long(shop, d.bare(), within), shop.drills.flute, length::of(d.bare(), Build::Ordinary)) {
        (Some((_, reach)), ..) => work!(book, name, |reach| reach, &GEOMETRY),
        (None, Some(times), _) => work!(book, name, |d, times| d.across() * times, &GEOMETRY),
        (None, None, Some(sold)) => sold.flutes(book, name, Build::Ordinary),
        (None, None, None) => {
            book.assumed(name, d.bare().across() * 8.0, "house default: flutes eight diameters long")
        }
    }
}
/// One hole of a list, and how it is drilled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// What it is called.
    pub label: String,
    /// Names of the drills, in order.
    pub drills: Vec<String>,
    /// What is done after them.
    pub then: String,
}
/// How a hole is drilled.
pub(super) struct Drilled {
    /// Names of the drills, in order.
    pub names: Vec<String>,
    /// What is done after them.
    pub then: String,
    /// The last of them, where the shop has it.
    pub last: Option<Val<Diameter>>,
}
impl Drilled {
    /// The drills in words.
    pub fn drills(&self) -> String {
        self.names.join(", ")
    }
}
/// Drills for a hole, in order, and what brings it to size after them.
pub(super) fn drill_for(h: &Hole, (shop, metal): (&Shop, Metal), book: &mut Book, at: &str) -> Drilled {
    match &h.thread {
        Some(t) => {
            let (drill, name) = thread::tap_drill_of(t, (shop, metal), book, at);
            let mut then = vec![format!("tap {}", t.thread.name)];
            then.extend(countersunk(h));
            let last = shop.drills.sizes.iter().find(|(own, _)| *own == name).map(|_| drill);
            let names = with_pilot(shop, last, name, (book, at));
            Drilled { names, then: then.join(", "), last }
        }
        None => plain(h, shop, book, at),
    }
}
fn countersunk(h: &Hole) -> Option<String> {
    h.countersink.as_ref().map(|(angle, d)| format!("countersink {} to {}", angle.shown(), d.shown()))
}
fn plain(h: &Hole, shop: &Shop, book: &mut Book, at: &str) -> Drilled {
    let wanted = h.diameter.nominal;
    let mut then = Vec::new();
    let upper = wanted.bare() + h.diameter.upper.bare().max(Length::mm(0.1));
    let list = &shop.drills.sizes;
    // A hole that may be a tenth larger is drilled, not reamed.
    let close = plate::open::close(h);
    let reamer = plate::open::reamed(h, shop);
    // A hole held closer than a drill cuts is drilled under its size and opened by hand.
    let broached = close && !reamer;
    let target = match (reamer, broached) {
        (true, _) => wanted.bare() - Length::mm(0.1),
        (_, true) => wanted.bare() - Length::mm(0.045),
        _ => wanted.bare(),
    };
    let top = match (reamer, broached) {
        (true, _) => target,
        (_, true) => wanted.bare() - Length::mm(0.0299),
        _ => upper,
    };
    let over = Length::mm(0.04);
    let least = wanted.bare() + h.diameter.lower.bare();
    let gives_size = |d: Diameter| !broached && d + over >= least && d + over <= upper;
    let exact = !reamer && list.iter().any(|(_, d)| gives_size(d.bare()));
    let ok = |d: Diameter| if exact { gives_size(d) } else { d <= top && d + Length::mm(0.5) >= target };
    let best = list
        .iter()
        .filter(|(_, d)| ok(d.bare()))
        .min_by(|a, c| (a.1.bare() - target).abs().value().total_cmp(&(c.1.bare() - target).abs().value()));
    if !reamer && !exact && best.is_some() {
        let by = match best {
            Some((_, d)) if broached => plate::open::way(shop, book, at, wanted, *d).words(),
            _ => "open by broach or round file to",
        };
        then.push(format!("{by} {}", wanted.shown()));
    }
    if reamer {
        then.push(format!("ream {}", wanted.shown()));
    }
    then.extend(countersunk(h));
    let name = best.map_or(format!("{} (to buy)", wanted.shown()), |(n, _)| n.clone());
    let verdict = bench::found(
        book,
        (format!("{at}.drill_found"), "the shop has a drill for this hole"),
        usize::from(best.is_some()),
        "drills of the shop near this size",
    );
    book.cure(verdict.id(), format!("buy a drill of {}", reckon::Shown::shown(&target)));
    if !verdict.bare() {
        tools::drills(book, &verdict, shop, wanted.bare(), upper);
    }
    let last = best.map(|(_, d)| *d);
    let then = if then.is_empty() { "deburr".to_owned() } else { then.join(", ") };
    Drilled { names: with_pilot(shop, last, name, (book, at)), then, last }
}
/// A drill over 6 mm follows one a little thicker than its own web.
fn with_pilot(
    shop: &Shop,
    last: Option<Val<Diameter>>,
    name: String,
    (book, at): (&mut Book, &str),
) -> Vec<String> {
    let first = last.filter(|d| d.bare() > Diameter::mm(6.0)).and_then(|drill| {
        let (low, high, best) = (drill.bare() * 0.25, drill.bare() * 0.5, drill.bare() * 0.3);
        let fits = || shop.drills.sizes.iter().filter(|(_, d)| d.bare() >= low && d.bare() <= high);
        let off = |d: &Val<Diameter>| (d.bare() - best).abs().value();
        let (name, first) = fits().min_by(|a, b| off(&a.1).total_cmp(&off(&b.1)))?;
        let among = fits().map(|(n, d)| Alternative {
            what: n.clone(),
            taken: n == name,
            why: format!("{} of the drill", reckon::print::fixed((d.bare() / drill.bare()).value(), 2)),
        });
        let inputs = vec![drill.id(), first.id()];
        let rule = "between a quarter and a half of the drill that follows, nearest to three tenths";
        book.chosen(format!("{at}.pilot"), first.bare(), rule, among.collect(), inputs, &PILOT);
        Some(name.clone())
    });
    first.into_iter().chain([name]).collect()
}
