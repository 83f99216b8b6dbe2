//! How things stand after an entry: what is measured, done, made and struck.

use crate::entry::{Entry, Learnt, Rating, Reading, State, Step, What};
use std::collections::{BTreeMap, BTreeSet};

/// A size as it really is.
#[derive(Clone, PartialEq, Debug)]
pub struct Actual {
    /// Value (SI).
    pub value: f64,
    /// By how much it may be off (SI), where told.
    pub give_or_take: Option<f64>,
    /// Number of the entry that it comes from: the last, where several were taken together.
    pub entry: u64,
    /// With what it was measured.
    pub tool: String,
    /// How many readings it is the mean of.
    pub readings: usize,
    /// Whether metal will still come off.
    pub rough: bool,
}
/// No wheel has fewer teeth: a step that counts as far has cut them.
const FEWEST_TEETH: u32 = 12;
/// A name of the book, and which piece; none for all.
pub type OfPiece = (String, Option<u32>);
/// How things stand.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Standing {
    /// Number of the last entry that was looked at.
    pub after: u64,
    /// Readings that count, by name and piece, in their order.
    pub readings: BTreeMap<OfPiece, Vec<(u64, Reading)>>,
    /// State of pieces, by part; piece 0 stands for all that are not told apart.
    pub states: BTreeMap<String, BTreeMap<u32, (State, u64)>>,
    /// Sizes that were made to stay, of finished parts or of finished steps: name, value, entry.
    pub made_to: BTreeMap<String, (f64, u64)>,
    /// Of which part each of these is.
    pub made_on: BTreeMap<String, String>,
    /// Steps that were done: part, then step, then pieces (0: the batch) with the highest count told.
    pub steps: BTreeMap<String, BTreeMap<String, BTreeMap<u32, Option<u32>>>>,
    /// Parts whose teeth are cut, and since which entry: a step says so by its name or its count, or the part is made.
    pub cut: BTreeMap<String, u64>,
    /// How long steps took (s): part, step, seconds.
    pub took: Vec<(String, String, f64)>,
    /// What was struck: the entry, by which, why.
    pub struck: BTreeMap<u64, (u64, String)>,
    /// What is let pass: name and piece, why, entry.
    pub concessions: BTreeMap<OfPiece, (String, u64)>,
    /// Remarks: entry, about, text, picture.
    pub remarks: Vec<(u64, String, String, Option<String>)>,
    /// Ratings against a reference, in their order.
    pub ratings: Vec<(u64, Rating)>,
    /// Rates that were heard, in their order.
    pub heard: Vec<(u64, Rating)>,
    /// What the shop learnt.
    pub learnt: Vec<(u64, Learnt)>,
}
impl Standing {
    /// How things stand after some entries; after entry `as_of` where one is given.
    #[must_use]
    pub fn after(entries: &[Entry], as_of: Option<u64>) -> Standing {
        let until = as_of.unwrap_or(u64::MAX);
        let seen = || entries.iter().filter(|e| e.number <= until);
        let struck = struck(seen());
        let mut all = Standing { struck, ..Standing::default() };
        for e in seen() {
            all.after = e.number;
            if !all.struck.contains_key(&e.number) {
                all.take(e);
            }
        }
        all
    }
    fn take(&mut self, e: &Entry) {
        match &e.what {
            What::Measured(r) => {
                // What was scrapped since is told by its state; what is measured anew after a pause of
                // roughing takes the place of what was measured rough.
                let all = self.readings.entry((r.name.clone(), r.piece)).or_default();
                if all.last().is_some_and(|(_, last)| last.rough != r.rough || r.rough) {
                    all.clear();
                }
                all.push((e.number, r.clone()));
            }
            What::Done(s) => self.step(s, e.number),
            What::Stood { part, pieces, state, sizes, .. } => {
                let which = if pieces.is_empty() { vec![0] } else { pieces.clone() };
                let of = self.states.entry(part.clone()).or_default();
                if pieces.is_empty() {
                    of.clear();
                }
                for p in &which {
                    of.insert(*p, (*state, e.number));
                }
                match state {
                    State::Made => {
                        self.cut.entry(part.clone()).or_insert(e.number);
                    }
                    State::Wanted | State::Scrapped => self.begin_again(part, pieces),
                    // Taken up again: what is told with it stays, the rest is free.
                    State::Roughed => self.forget(part),
                }
                if matches!(state, State::Made | State::Roughed) {
                    for (name, x) in sizes {
                        self.made_to.insert(name.clone(), (*x, e.number));
                        self.made_on.insert(name.clone(), part.clone());
                    }
                }
            }
            What::Struck { .. } => {}
            What::Remark { about, text, picture } => {
                self.remarks.push((e.number, about.clone(), text.clone(), picture.clone()));
            }
            What::Concession { name, piece, why } => {
                self.concessions.insert((name.clone(), *piece), (why.clone(), e.number));
            }
            What::Rated(r) if r.heard.is_some() => self.heard.push((e.number, r.clone())),
            What::Rated(r) => self.ratings.push((e.number, r.clone())),
            What::Learnt(l) => self.learnt.push((e.number, l.clone())),
        }
    }
    /// What is scrapped is wanted again: its sizes and steps no longer count.
    fn begin_again(&mut self, part: &str, pieces: &[u32]) {
        let hit = |p: &Option<u32>| pieces.is_empty() || p.is_some_and(|p| pieces.contains(&p));
        self.readings.retain(|(name, p), _| !(under(name, part) && hit(p)));
        self.concessions.retain(|(name, p), _| !(under(name, part) && hit(p)));
        if pieces.is_empty() {
            self.forget(part);
            self.cut.remove(part);
            self.steps.remove(part);
        } else if let Some(steps) = self.steps.get_mut(part) {
            for s in steps.values_mut() {
                s.retain(|p, _| !pieces.contains(p));
            }
        }
    }
    /// Sizes that a part was made to are free again.
    fn forget(&mut self, part: &str) {
        let on = &self.made_on;
        self.made_to.retain(|n, _| on.get(n).is_none_or(|p| p != part));
        self.made_on.retain(|_, p| p != part);
    }
    fn step(&mut self, s: &Step, number: u64) {
        if s.step.contains("teeth cut") || s.count.is_some_and(|n| n >= FEWEST_TEETH) {
            self.cut.entry(s.part.clone()).or_insert(number);
        }
        if let Some(took) = s.took {
            self.took.push((s.part.clone(), s.step.clone(), took));
        }
        let steps = self.steps.entry(s.part.clone()).or_default();
        let of = steps.entry(s.step.clone()).or_default();
        of.insert(s.piece.unwrap_or(0), s.count);
    }
    /// The size of a name, of one piece or the whole: the mean of its readings since it last changed.
    #[must_use]
    pub fn actual(&self, name: &str, piece: Option<u32>) -> Option<Actual> {
        let all = self.readings.get(&(name.to_owned(), piece))?;
        let (entry, last) = all.last()?;
        let n = all.len() as f64;
        let mean = all.iter().map(|(_, r)| r.value).sum::<f64>() / n;
        // A tool's error is the same each time: the mean is no better than the tool.
        let give_or_take = all.iter().filter_map(|(_, r)| r.give_or_take).reduce(f64::max);
        Some(Actual {
            value: mean,
            give_or_take,
            entry: *entry,
            tool: last.tool.clone().unwrap_or_default(),
            readings: all.len(),
            rough: last.rough,
        })
    }
    /// Sizes by name that hold for a whole part: what takes the place of the computed. One piece of a batch that was
    /// measured says nothing of the others.
    #[must_use]
    pub fn actuals(&self) -> BTreeMap<String, Actual> {
        let names: BTreeSet<&String> = self.readings.keys().map(|(n, _)| n).collect();
        names.into_iter().filter_map(|n| Some((n.clone(), self.actual(n, None)?))).collect()
    }
    /// How a piece of a part stands.
    #[must_use]
    pub fn state(&self, part: &str, piece: u32) -> State {
        let of = self.states.get(part);
        let told = of.and_then(|of| of.get(&piece).or_else(|| of.get(&0)));
        told.map_or_else(|| if self.begun(part) { State::Roughed } else { State::Wanted }, |(s, _)| *s)
    }
    /// Whether a step of it was done or a size measured.
    #[must_use]
    pub fn begun(&self, part: &str) -> bool {
        self.steps.get(part).is_some_and(|s| !s.is_empty())
            || self.readings.keys().any(|(n, _)| under(n, part) && !n.contains(".stock."))
    }
    /// Whether a step was done: of one piece, or of the batch.
    #[must_use]
    pub fn done(&self, part: &str, step: &str, piece: Option<u32>) -> bool {
        let of = self.steps.get(part).and_then(|s| s.get(step));
        of.is_some_and(|of| of.contains_key(&0) || piece.is_some_and(|p| of.contains_key(&p)))
    }
    /// The highest count told within a step: teeth, passes, boxes.
    #[must_use]
    pub fn count(&self, part: &str, step: &str, piece: Option<u32>) -> Option<u32> {
        *self.steps.get(part)?.get(step)?.get(&piece.unwrap_or(0))?
    }
}
/// Whether a dotted name belongs to a part.
#[must_use]
pub fn under(name: &str, part: &str) -> bool {
    name.strip_prefix(part).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}
/// What is struck, and by which entry. Striking a strike lets the first entry stand again.
fn struck<'a>(entries: impl Iterator<Item = &'a Entry>) -> BTreeMap<u64, (u64, String)> {
    let mut all: BTreeMap<u64, (u64, String)> = BTreeMap::new();
    let strikes: Vec<(u64, u64, &String)> = entries
        .filter_map(|e| match &e.what {
            What::Struck { entry, why } => Some((e.number, *entry, why)),
            _ => None,
        })
        .collect();
    // Later strikes first: whether a strike stands is known before what it strikes.
    for (by, entry, why) in strikes.iter().rev() {
        if !all.contains_key(by) {
            all.insert(*entry, (*by, (*why).clone()));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entries(all: Vec<What>) -> Vec<Entry> {
        let numbered = all.into_iter().enumerate();
        numbered
            .map(|(i, what)| Entry { number: i as u64 + 1, key: i.to_string(), at: String::new(), what })
            .collect()
    }
    fn read(name: &str, value: f64) -> What {
        What::Measured(Reading { name: name.into(), value, ..Reading::default() })
    }
    fn strike(entry: u64) -> What {
        What::Struck { entry, why: "misread".into() }
    }
    #[test]
    fn readings_are_repeated_and_struck() {
        let all = entries(vec![read("a.b", 1.0), read("a.b", 1.2), strike(2), strike(3), read("c", 5.0)]);
        let value = |n| Standing::after(&all, Some(n)).actual("a.b", None).map(|a| (a.value, a.readings));
        assert_eq!(value(1), Some((1.0, 1)));
        assert_eq!(value(2), Some((1.1, 2)));
        assert_eq!(value(3), Some((1.0, 1)));
        assert_eq!(value(4), Some((1.1, 2)));
        assert_eq!(Standing::after(&all, None).after, 5);
    }
    #[test]
    fn what_is_scrapped_is_wanted_again() {
        let stood = |state, pieces: Vec<u32>| What::Stood {
            part: "screw".into(),
            pieces,
            state,
            why: String::new(),
            sizes: vec![("screw.head".into(), 0.008)],
        };
        let done = What::Done(Step { part: "screw".into(), step: "1.1".into(), ..Step::default() });
        let all = entries(vec![
            read("screw.head", 0.008),
            done,
            stood(State::Made, vec![]),
            stood(State::Scrapped, vec![2]),
            stood(State::Scrapped, vec![]),
        ]);
        let at = |n| Standing::after(&all, Some(n));
        assert_eq!(at(1).state("screw", 1), State::Roughed);
        assert_eq!(at(3).state("screw", 7), State::Made);
        assert_eq!(at(3).made_to.get("screw.head"), Some(&(0.008, 3)));
        assert_eq!((at(4).state("screw", 2), at(4).state("screw", 1)), (State::Scrapped, State::Made));
        assert!(at(4).done("screw", "1.1", None));
        assert_eq!(at(5).actual("screw.head", None), None);
        assert!(at(5).made_to.is_empty() && !at(5).done("screw", "1.1", None));
        assert_eq!(Standing::after(&[], None).state("screw", 1), State::Wanted);
    }
    #[test]
    fn rough_readings_give_way() {
        let rough =
            |value| What::Measured(Reading { name: "a".into(), value, rough: true, ..Reading::default() });
        let all = entries(vec![rough(5.0), rough(4.5), read("a", 4.0), read("a", 4.5)]);
        let at = |n| Standing::after(&all, Some(n)).actual("a", None).map(|a| (a.value, a.rough));
        assert_eq!(at(2), Some((4.5, true)));
        assert_eq!(at(4), Some((4.25, false)));
    }
    #[test]
    fn names_below_a_part() {
        assert!(under("a.b", "a") && under("a", "a") && !under("ab", "a"));
    }
}
