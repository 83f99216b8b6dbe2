//! Entries of names that no longer exist: what was renamed is proposed, the rest is told.

use super::kept::Known;
use journal::{Entry, What};
use reckon::{Book, Trouble};
use std::collections::{BTreeMap, BTreeSet};

/// Tells of sizes that were measured under names that nothing has now. Where exactly one thing could be it, by the
/// size that was wanted of it, `was` is proposed.
#[must_use]
pub fn orphans(known: &Known, entries: &[Entry], book: &Book) -> Vec<Trouble> {
    let mut by_thing: BTreeMap<String, Vec<(&str, u64)>> = BTreeMap::new();
    let gone = book.orphans().filter(|(n, a)| !n.ends_with(".teeth_sit") && a.entry <= known.standing.after);
    for (name, actual) in gone {
        let thing = name.split('.').next().unwrap_or(name);
        by_thing.entry(thing.to_owned()).or_default().push((name, actual.entry));
    }
    let measured: BTreeSet<&str> =
        known.actuals.keys().filter(|n| book.find(n).is_some()).filter_map(|n| n.split('.').next()).collect();
    by_thing.into_iter().map(|(thing, names)| told(&thing, &names, &measured, entries, book)).collect()
}
fn told(
    thing: &str,
    names: &[(&str, u64)],
    measured: &BTreeSet<&str>,
    entries: &[Entry],
    book: &Book,
) -> Trouble {
    let wanted = |number: u64, name: &str| {
        entries.iter().find(|e| e.number == number).and_then(|e| match &e.what {
            What::Measured(r) if r.name == name => r.wanted.map(|w| w.nominal),
            _ => None,
        })
    };
    let firsts: BTreeSet<&str> = book.lines().filter_map(|l| l.name.split('.').next()).collect();
    let could = |other: &&str| {
        !measured.contains(*other)
            && names.iter().all(|(name, number)| {
                let rest = name.strip_prefix(thing).unwrap_or("");
                let Some(is) = book.find(&format!("{other}{rest}")).and_then(|(_, l)| l.si) else {
                    return false;
                };
                wanted(*number, name).is_none_or(|w| (is - w).abs() <= 1e-6 * w.abs().max(1e-9))
            })
    };
    let candidates: Vec<&str> = firsts.iter().copied().filter(could).collect();
    let first = names.first().map_or("", |(n, _)| n);
    let all: Vec<String> = names.iter().map(|(_, e)| e.to_string()).collect();
    let mut t = Trouble::text(format!(
        "nothing is called '{first}' now, and entry {} of the journal measured it",
        all.join(", ")
    ))
    .as_warning()
    .why("what was measured counts for nothing as long as nothing has its name");
    if let [one] = candidates.as_slice() {
        t = t.cure(format!(
            "write was = \"{thing}\" for '{one}': of all that is written only that could be it"
        ));
    } else {
        t = t.cure(format!("if it was renamed, write was = \"{thing}\" where it is written now"));
    }
    t.cure("if it is gone, strike the entries: brasswright enter --struck N --because \"…\"")
}
