//! The book itself: its doors, its pages and what can be looked up in it.

use super::explain::{DEEPEST, Explained};
use super::names;
use super::{Actual, Alternative, Cell, Formula, Id, Inputs, Line, NOWHERE, Origin, Val};
use crate::print::Shown;
use crate::source::Source;
use crate::trouble::{Place, Trouble};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Display;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

/// The book.
#[derive(Debug)]
pub struct Book {
    page: u32,
    next_page: Arc<AtomicU32>,
    pages: BTreeMap<u32, Vec<Line>>,
    order: Vec<u32>,
    by_name: BTreeMap<String, Id>,
    faults: Vec<Trouble>,
    off: bool,
    /// Sizes as they really are, by name.
    actuals: Arc<BTreeMap<String, Actual>>,
}
impl Default for Book {
    fn default() -> Book {
        Book::new()
    }
}
impl Book {
    /// An empty book.
    #[must_use]
    pub fn new() -> Book {
        Book {
            page: 0,
            next_page: Arc::new(AtomicU32::new(1)),
            pages: BTreeMap::new(),
            order: vec![0],
            by_name: BTreeMap::new(),
            faults: Vec::new(),
            off: false,
            actuals: Arc::default(),
        }
    }
    /// An empty book that knows sizes as they really are: each takes the place of what is computed under its
    /// name, so that all that follows is worked out from it.
    #[must_use]
    pub fn knowing(actuals: BTreeMap<String, Actual>) -> Book {
        Book { actuals: Arc::new(actuals), ..Book::new() }
    }
    /// Names of actual sizes under which nothing was computed: parts that are gone or were renamed.
    pub fn orphans(&self) -> impl Iterator<Item = (&str, &Actual)> {
        let known = |name: &&String| !self.by_name.contains_key(name.as_str());
        self.actuals.iter().filter(move |(n, _)| known(n)).map(|(n, a)| (n.as_str(), a))
    }
    /// Whether the size of a name is known as it really is.
    #[must_use]
    pub fn knows(&self, name: &str) -> bool {
        self.actuals.contains_key(name)
    }
    /// Whether any size is known as it really is.
    #[must_use]
    pub fn knows_any(&self) -> bool {
        !self.actuals.is_empty()
    }
    /// What was computed where something else was measured, SI.
    #[must_use]
    pub fn wanted(&self, id: Id) -> Option<f64> {
        match &self.line(id)?.origin {
            Origin::Actual { wanted_si, .. } => Some(*wanted_si),
            _ => None,
        }
    }
    /// Lines whose value is what was measured or made rather than what was computed.
    pub fn actual(&self) -> impl Iterator<Item = &Line> {
        self.lines().filter(|l| matches!(l.origin, Origin::Actual { .. }))
    }
    /// A book that records nothing, for searches over thousands of candidates.
    #[must_use]
    pub fn off() -> Book {
        Book { off: true, ..Book::new() }
    }
    /// A page to be written elsewhere, perhaps on another thread, and brought back with [`Book::absorb`].
    #[must_use]
    pub fn child(&self) -> Book {
        let page = self.next_page.fetch_add(1, Ordering::Relaxed);
        Book {
            page,
            next_page: Arc::clone(&self.next_page),
            pages: BTreeMap::new(),
            order: vec![page],
            by_name: BTreeMap::new(),
            faults: Vec::new(),
            off: self.off,
            actuals: Arc::clone(&self.actuals),
        }
    }
    /// Brings a page back. The order of absorbing, not of writing, is the order of the book;
    /// of two workings of one name the first brought back is kept and the other is a fault.
    pub fn absorb(&mut self, child: Book) {
        if self.off {
            return;
        }
        if !Arc::ptr_eq(&self.next_page, &child.next_page) {
            // Its pages are numbered by another book and would lie on top of ours.
            self.faults.push(Trouble::ours("a page of another book was brought into this one"));
            return;
        }
        for (name, id) in child.by_name {
            self.enter(name, id);
        }
        self.pages.extend(child.pages);
        self.order.extend(child.order);
        self.faults.extend(child.faults);
    }
    fn put<T: Shown>(&mut self, name: &dyn Display, v: T, origin: impl FnOnce() -> Origin) -> Val<T> {
        if self.off {
            return Val { v, id: NOWHERE };
        }
        let name = name.to_string();
        let actual = self.actuals.get(&name).and_then(|a| Some((v.with_si(a.value)?, v.si()?, a.clone())));
        let (v, origin): (T, Origin) = match actual {
            Some((is, wanted_si, actual)) => {
                let (wanted, was) = (v.shown(), Box::new(origin()));
                (is, Origin::Actual { actual, wanted, wanted_si, was })
            }
            None => (v, origin()),
        };
        if !v.sound() {
            self.faults.push(Trouble::ours(format!("the working {name} is not a number")));
        }
        let lines = self.pages.entry(self.page).or_default();
        let id = Id { page: self.page, line: u32::try_from(lines.len()).unwrap_or(u32::MAX) };
        let shown = v.shown();
        lines.push(Line { name: name.clone(), shown, si: v.si(), unit: v.unit(), origin });
        self.enter(name, id);
        Val { v, id }
    }
    /// Makes a name known; the first of two of one name is kept.
    fn enter(&mut self, name: String, id: Id) {
        match self.by_name.entry(name) {
            Entry::Vacant(free) => {
                free.insert(id);
            }
            Entry::Occupied(taken) => {
                self.faults.push(Trouble::ours(format!("two workings are called {}", taken.key())));
            }
        }
    }
    /// A value that the maker wrote.
    pub fn written<T: Shown>(&mut self, name: impl Display, v: T, at: Place) -> Val<T> {
        self.put(&name, v, || Origin::Written { at })
    }
    /// A default that the maker did not write; listed on the cover of every packet.
    pub fn assumed<T: Shown>(&mut self, name: impl Display, v: T, why: impl Into<String>) -> Val<T> {
        self.put(&name, v, || Origin::Assumed { why: why.into() })
    }
    /// A row of a published table.
    pub fn tabled<T: Shown>(
        &mut self,
        name: impl Display,
        v: T,
        row: impl Into<String>,
        source: &'static Source,
    ) -> Val<T> {
        self.put(&name, v, || Origin::Tabled { row: row.into(), source })
    }
    /// A measurement from the journal.
    pub fn measured<T: Shown>(
        &mut self,
        name: impl Display,
        v: T,
        entry: u32,
        tool: impl Into<String>,
    ) -> Val<T> {
        self.put(&name, v, || Origin::Measured { entry, tool: tool.into() })
    }
    /// A formula; call it through [`work!`](crate::work). `f` is a fn pointer, so the closure
    /// handed in cannot capture: every number in it is a listed input, a literal or a constant.
    pub fn worked<I: Inputs, T: Shown>(
        &mut self,
        name: impl Display,
        inputs: I,
        formula: Formula,
        f: fn(I::Raw) -> T,
        source: &'static Source,
    ) -> Val<T> {
        self.put(&name, f(inputs.raw()), || Origin::Worked {
            formula: formula.text,
            letters: formula.letters,
            inputs: inputs.ids(),
            source,
        })
    }
    /// A value found by search; the method, its end and what went in are kept.
    pub fn solved<T: Shown>(
        &mut self,
        name: impl Display,
        v: T,
        how: (impl Into<String>, u32, f64),
        inputs: Vec<Id>,
        source: &'static Source,
    ) -> Val<T> {
        let (formula, rounds, residual) = how;
        self.put(&name, v, || Origin::Solved { formula: formula.into(), inputs, residual, rounds, source })
    }
    /// A decision, with what was weighed and why.
    pub fn chosen<T: Shown>(
        &mut self,
        name: impl Display,
        v: T,
        rule: impl Into<String>,
        among: Vec<Alternative>,
        inputs: Vec<Id>,
        source: &'static Source,
    ) -> Val<T> {
        self.put(&name, v, || Origin::Chosen { rule: rule.into(), among, inputs, source })
    }
    /// A table worked out row by row; its value is the number of rows.
    pub fn table(
        &mut self,
        name: impl Display,
        columns: &[&str],
        rows: Vec<Vec<Cell>>,
        rule: impl Into<String>,
        inputs: Vec<Id>,
        source: &'static Source,
    ) -> Id {
        if self.off {
            return NOWHERE;
        }
        let label = if rows.len() == 1 { "1 row".to_owned() } else { format!("{} rows", rows.len()) };
        let unsound = rows.iter().flatten().any(|c| c.si.is_some_and(|x| !x.is_finite()));
        if unsound {
            self.faults.push(Trouble::ours(format!("a cell of the table {name} is not a number")));
        }
        let columns = columns.iter().map(|c| (*c).to_owned()).collect();
        self.put(&name, label, || Origin::Table { rule: rule.into(), columns, rows, inputs, source }).id
    }
    /// A judgement; call it through [`judge!`](crate::judge).
    pub fn judged<I: Inputs>(
        &mut self,
        name: impl Display,
        says: impl Into<String>,
        inputs: I,
        formula: Formula,
        f: fn(I::Raw) -> bool,
        source: &'static Source,
    ) -> Val<bool> {
        let holds = f(inputs.raw());
        self.put(&name, holds, || Origin::Verdict {
            says: says.into(),
            formula: formula.text,
            letters: formula.letters,
            holds,
            inputs: inputs.ids(),
            cures: Vec::new(),
            source,
        })
    }
    /// Adds what would do to a verdict that does not hold. The verdict must stand in this book,
    /// not in one that this is a page of: a cure that cannot be written is a fault.
    pub fn cure(&mut self, verdict: Id, what: impl Into<String>) {
        if self.off || verdict == NOWHERE {
            return;
        }
        match self.pages.get_mut(&verdict.page).and_then(|l| l.get_mut(verdict.line as usize)) {
            Some(Line { origin: Origin::Verdict { cures, .. }, .. }) => cures.push(what.into()),
            _ => {
                let what = what.into();
                self.faults.push(Trouble::ours(format!("no verdict stands here to be cured by: {what}")));
            }
        }
    }

    /// The line of a value.
    #[must_use]
    pub fn line(&self, id: Id) -> Option<&Line> {
        self.pages.get(&id.page)?.get(id.line as usize)
    }
    /// The line of a name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<(Id, &Line)> {
        let id = *self.by_name.get(name)?;
        Some((id, self.line(id)?))
    }
    /// All lines in the order of the book.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.order.iter().filter_map(|p| self.pages.get(p)).flatten()
    }
    /// Names that match a pattern: `*` stands for one part of a dotted name, `**` for any number.
    #[must_use]
    pub fn matching(&self, pattern: &str) -> Vec<&str> {
        self.by_name.keys().map(String::as_str).filter(|n| names::fits(pattern, n)).collect()
    }
    /// Names near to one that does not exist.
    #[must_use]
    pub fn near(&self, name: &str) -> Vec<&str> {
        let mut near = crate::trouble::nearest(name, self.by_name.keys().map(String::as_str));
        let last = name.rsplit('.').next().unwrap_or(name);
        if near.is_empty() && !last.is_empty() {
            near = self.by_name.keys().map(String::as_str).filter(|n| n.ends_with(last)).take(3).collect();
        }
        near
    }
    /// What was assumed because the maker did not write it.
    pub fn assumptions(&self) -> impl Iterator<Item = &Line> {
        self.lines().filter(|l| matches!(l.origin, Origin::Assumed { .. }))
    }
    /// All verdicts.
    pub fn verdicts(&self) -> impl Iterator<Item = &Line> {
        self.lines().filter(|l| matches!(l.origin, Origin::Verdict { .. }))
    }
    /// Verdicts that do not hold.
    pub fn failing(&self) -> impl Iterator<Item = &Line> {
        self.lines().filter(|l| matches!(l.origin, Origin::Verdict { holds: false, .. }))
    }
    /// Faults of this program that were found while writing; nothing is printed while there is one.
    #[must_use]
    pub fn faults(&self) -> &[Trouble] {
        &self.faults
    }
    /// The tree under a name, every line once: later mentions refer back. What lies more than
    /// [`DEEPEST`] workings down is named and not opened, to be asked about by its own name.
    #[must_use]
    pub fn explain(&self, name: &str) -> Option<Explained<'_>> {
        let (id, _) = self.find(name)?;
        self.explain_under(id, 0, &mut BTreeSet::new())
    }
    fn explain_under(&self, id: Id, depth: usize, seen: &mut BTreeSet<Id>) -> Option<Explained<'_>> {
        let line = self.line(id)?;
        let opens = !line.origin.inputs().is_empty();
        if opens && depth >= DEEPEST && !seen.contains(&id) {
            return Some(Explained { line, again: false, deeper: true, inputs: Vec::new() });
        }
        let again = opens && !seen.insert(id);
        let letters: &[&str] = match &line.origin {
            Origin::Worked { letters, .. } | Origin::Verdict { letters, .. } => letters,
            _ => &[],
        };
        let inputs = if again {
            Vec::new()
        } else {
            let ids = line.origin.inputs().iter().enumerate();
            ids.filter_map(|(i, id)| {
                Some((letters.get(i).copied().unwrap_or(""), self.explain_under(*id, depth + 1, seen)?))
            })
            .collect()
        };
        Some(Explained { line, again, deeper: false, inputs })
    }
    /// Names whose value differs in a later book: name, before, after.
    #[must_use]
    pub fn moved<'a>(&'a self, later: &'a Book) -> Vec<(&'a str, &'a str, &'a str)> {
        self.by_name
            .iter()
            .filter_map(|(name, id)| {
                let (a, (_, b)) = (self.line(*id)?, later.find(name)?);
                let same = a.si.map(f64::to_bits) == b.si.map(f64::to_bits) && a.shown == b.shown;
                (!same).then_some((name.as_str(), a.shown.as_str(), b.shown.as_str()))
            })
            .collect()
    }
}
