//! The book of workings: every number that a sheet may print, and how it was had.
//!
//! Design code is plain functions over typed quantities. A number enters the
//! book by one of a few doors (written, assumed, tabled, measured, worked,
//! solved, chosen) and leaves as a [`Val`]: the value and where to look it up.
//! The formula that is shown is the expression that ran, by [`work!`](crate::work).

use crate::print::Shown;
use crate::source::Source;
use crate::trouble::{Place, Trouble};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Display;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

/// Where a value stands in the book: page and line. Never shifted.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Id {
    page: u32,
    line: u32,
}
const NOWHERE: Id = Id { page: u32::MAX, line: u32::MAX };

/// A value and where it came from. It has no arithmetic of its own: use [`work!`](crate::work).
#[derive(Copy, Clone, Debug)]
pub struct Val<T> {
    v: T,
    id: Id,
}
impl<T: Clone> Val<T> {
    /// Where it stands in the book.
    pub fn id(&self) -> Id {
        self.id
    }
    /// The value out of the book: for comparing, drawing and searching only.
    /// Put in again it would have lost its past, so a test counts who calls this.
    pub fn bare(&self) -> T {
        self.v.clone()
    }
}
impl<T: Shown> Val<T> {
    /// As a reader sees it.
    pub fn shown(&self) -> String {
        self.v.shown()
    }
}
impl<T: PartialEq> PartialEq for Val<T> {
    fn eq(&self, o: &Val<T>) -> bool {
        self.v == o.v
    }
}
impl<T: PartialOrd> PartialOrd for Val<T> {
    fn partial_cmp(&self, o: &Val<T>) -> Option<std::cmp::Ordering> {
        self.v.partial_cmp(&o.v)
    }
}
impl<T: PartialEq> PartialEq<T> for Val<T> {
    fn eq(&self, o: &T) -> bool {
        self.v == *o
    }
}
impl<T: PartialOrd> PartialOrd<T> for Val<T> {
    fn partial_cmp(&self, o: &T) -> Option<std::cmp::Ordering> {
        self.v.partial_cmp(o)
    }
}

/// A cell of a worked table: as shown, and its SI value where it is a number.
#[derive(Clone, PartialEq, Debug)]
pub struct Cell {
    /// As a reader sees it.
    pub shown: String,
    /// SI value.
    pub si: Option<f64>,
    /// SI unit.
    pub unit: &'static str,
}
impl Cell {
    /// A cell that holds a quantity or a word.
    pub fn of(q: &impl Shown) -> Cell {
        Cell { shown: q.shown(), si: q.si(), unit: q.unit() }
    }
    /// A cell with text of its own beside the quantity's SI value.
    pub fn as_text(q: &impl Shown, shown: impl Into<String>) -> Cell {
        Cell { shown: shown.into(), si: q.si(), unit: q.unit() }
    }
    /// A cell of words.
    pub fn word(text: impl Into<String>) -> Cell {
        Cell { shown: text.into(), si: None, unit: "" }
    }
}

/// One thing that was weighed in a decision.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Alternative {
    /// What it is.
    pub what: String,
    /// Whether it was taken.
    pub taken: bool,
    /// Why, or why not.
    pub why: String,
}

/// How a line of the book was had.
#[derive(Clone, PartialEq, Debug)]
pub enum Origin {
    /// The maker wrote it.
    Written {
        /// Where.
        at: Place,
    },
    /// A default that the maker did not write.
    Assumed {
        /// Why this one.
        why: String,
    },
    /// A row of a table.
    Tabled {
        /// Which row.
        row: String,
        /// Whose table.
        source: &'static Source,
    },
    /// A measurement.
    Measured {
        /// Journal entry.
        entry: u32,
        /// Measured with.
        tool: String,
    },
    /// A formula.
    Worked {
        /// The expression that ran.
        formula: &'static str,
        /// The letters in it, in the order of `inputs`.
        letters: &'static [&'static str],
        /// What went in.
        inputs: Vec<Id>,
        /// Whose formula.
        source: &'static Source,
    },
    /// A search for the value that makes something true.
    Solved {
        /// What had to become nothing, or the method.
        formula: String,
        /// What went in.
        inputs: Vec<Id>,
        /// How far from nothing it ended.
        residual: f64,
        /// Steps taken.
        rounds: u32,
        /// Whose formula.
        source: &'static Source,
    },
    /// A decision among alternatives.
    Chosen {
        /// By what rule.
        rule: String,
        /// What was weighed.
        among: Vec<Alternative>,
        /// What went in.
        inputs: Vec<Id>,
        /// Whose rule.
        source: &'static Source,
    },
    /// A table that was worked out row by row.
    Table {
        /// How the rows follow.
        rule: String,
        /// Heads of the columns.
        columns: Vec<String>,
        /// Rows of cells.
        rows: Vec<Vec<Cell>>,
        /// What went in.
        inputs: Vec<Id>,
        /// Whose rule.
        source: &'static Source,
    },
    /// A judgement that holds or does not.
    Verdict {
        /// What is claimed.
        says: String,
        /// The comparison that ran.
        formula: &'static str,
        /// The letters in it.
        letters: &'static [&'static str],
        /// Whether it holds.
        holds: bool,
        /// What went in.
        inputs: Vec<Id>,
        /// What would do if it does not hold, cheapest first.
        cures: Vec<String>,
        /// Whose rule.
        source: &'static Source,
    },
}
impl Origin {
    /// One word for it, as other programs read it.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Origin::Written { .. } => "written",
            Origin::Assumed { .. } => "assumed",
            Origin::Tabled { .. } => "table",
            Origin::Measured { .. } => "measured",
            Origin::Worked { .. } => "computed",
            Origin::Solved { .. } => "solved",
            Origin::Chosen { .. } => "chosen",
            Origin::Table { .. } => "worked table",
            Origin::Verdict { .. } => "verdict",
        }
    }
    /// What went in.
    #[must_use]
    pub fn inputs(&self) -> &[Id] {
        match self {
            Origin::Worked { inputs, .. }
            | Origin::Solved { inputs, .. }
            | Origin::Chosen { inputs, .. }
            | Origin::Table { inputs, .. }
            | Origin::Verdict { inputs, .. } => inputs,
            _ => &[],
        }
    }
    /// Its source card, where it has one.
    #[must_use]
    pub const fn source(&self) -> Option<&'static Source> {
        match self {
            Origin::Tabled { source, .. }
            | Origin::Worked { source, .. }
            | Origin::Solved { source, .. }
            | Origin::Chosen { source, .. }
            | Origin::Table { source, .. }
            | Origin::Verdict { source, .. } => Some(source),
            _ => None,
        }
    }
}

/// One line of the book.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// Its dotted name: stable, and public interface.
    pub name: String,
    /// As a reader sees it.
    pub shown: String,
    /// SI value, where it is a number.
    pub si: Option<f64>,
    /// SI unit.
    pub unit: &'static str,
    /// How it was had.
    pub origin: Origin,
}

/// Tuples of [`Val`]s that a formula takes.
pub trait Inputs: Copy {
    /// The values alone.
    type Raw;
    /// Takes them out for the formula.
    fn raw(self) -> Self::Raw;
    /// Where they stand.
    fn ids(self) -> Vec<Id>;
}
macro_rules! tuples { ($($($t:ident $n:tt),+;)+) => { $(
    impl<$($t: Copy),+> Inputs for ($(Val<$t>,)+) {
        type Raw = ($($t,)+);
        fn raw(self) -> Self::Raw { ($(self.$n.v,)+) }
        fn ids(self) -> Vec<Id> { vec![$(self.$n.id),+] }
    } )+ } }
tuples! {
    A 0;
    A 0, B 1;
    A 0, B 1, C 2;
    A 0, B 1, C 2, D 3;
    A 0, B 1, C 2, D 3, E 4;
    A 0, B 1, C 2, D 3, E 4, F 5;
    A 0, B 1, C 2, D 3, E 4, F 5, G 6;
    A 0, B 1, C 2, D 3, E 4, F 5, G 6, H 7;
}

/// The text of a formula with its letters; made by the macros.
#[derive(Copy, Clone, Debug)]
pub struct Formula {
    /// The expression.
    pub text: &'static str,
    /// The letters, in the order of the inputs.
    pub letters: &'static [&'static str],
}

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
        }
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
        Book { page, next_page: Arc::clone(&self.next_page), off: self.off, order: vec![page], ..Book::new() }
    }
    /// Brings a page back. The order of absorbing, not of writing, is the order of the book.
    pub fn absorb(&mut self, child: Book) {
        for (name, id) in child.by_name {
            if let Some(old) = self.by_name.insert(name.clone(), id) {
                self.by_name.insert(name.clone(), old);
                self.faults.push(Trouble::ours(format!("two workings are called {name}")));
            }
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
        if !v.sound() {
            self.faults.push(Trouble::ours(format!("the working {name} is not a number")));
        }
        let lines = self.pages.entry(self.page).or_default();
        let id = Id { page: self.page, line: u32::try_from(lines.len()).unwrap_or(u32::MAX) };
        if self.by_name.insert(name.clone(), id).is_some() {
            self.faults.push(Trouble::ours(format!("two workings are called {name}")));
        }
        lines.push(Line { name, shown: v.shown(), si: v.si(), unit: v.unit(), origin: origin() });
        Val { v, id }
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
        let label = format!("{} rows", rows.len());
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
    /// Adds what would do to a verdict that does not hold.
    pub fn cure(&mut self, verdict: Id, what: impl Into<String>) {
        if let Some(line) = self.pages.get_mut(&verdict.page).and_then(|l| l.get_mut(verdict.line as usize))
            && let Origin::Verdict { cures, .. } = &mut line.origin
        {
            cures.push(what.into());
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
        let parts: Vec<&str> = pattern.split('.').collect();
        let all = self.by_name.keys().map(String::as_str);
        all.filter(|n| fits(&parts, &n.split('.').collect::<Vec<_>>())).collect()
    }
    /// Names near to one that does not exist.
    #[must_use]
    pub fn near(&self, name: &str) -> Vec<&str> {
        let mut near = crate::trouble::nearest(name, self.by_name.keys().map(String::as_str));
        if near.is_empty() {
            let last = name.rsplit('.').next().unwrap_or(name);
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
    /// The tree under a name, every line once: later mentions refer back.
    #[must_use]
    pub fn explain(&self, name: &str) -> Option<Explained<'_>> {
        let (id, _) = self.find(name)?;
        self.explain_under(id, &mut BTreeSet::new())
    }
    fn explain_under(&self, id: Id, seen: &mut BTreeSet<Id>) -> Option<Explained<'_>> {
        let line = self.line(id)?;
        let again = !seen.insert(id) && !line.origin.inputs().is_empty();
        let letters: &[&str] = match &line.origin {
            Origin::Worked { letters, .. } | Origin::Verdict { letters, .. } => letters,
            _ => &[],
        };
        let inputs = if again {
            Vec::new()
        } else {
            let ids = line.origin.inputs().iter().enumerate();
            ids.filter_map(|(i, id)| {
                Some((letters.get(i).copied().unwrap_or(""), self.explain_under(*id, seen)?))
            })
            .collect()
        };
        Some(Explained { line, again, inputs })
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
fn fits(pattern: &[&str], name: &[&str]) -> bool {
    match (pattern.first(), name.first()) {
        (None, None) => true,
        (Some(&"**"), _) => fits(&pattern[1..], name) || (!name.is_empty() && fits(pattern, &name[1..])),
        (Some(p), Some(n)) => part_fits(p, n) && fits(&pattern[1..], &name[1..]),
        _ => false,
    }
}
fn part_fits(pattern: &str, part: &str) -> bool {
    match pattern.split_once('*') {
        None => pattern == part,
        Some((before, after)) => part.strip_prefix(before).is_some_and(|rest| {
            (0..=rest.len()).any(|i| rest.is_char_boundary(i) && part_fits(after, &rest[i..]))
        }),
    }
}

/// A line with what it rests on.
#[derive(Debug)]
pub struct Explained<'b> {
    /// The line.
    pub line: &'b Line,
    /// Whether it was explained above and is not opened again.
    pub again: bool,
    /// Letter in the formula (may be empty) and the input.
    pub inputs: Vec<(&'b str, Explained<'b>)>,
}
impl Explained<'_> {
    /// As a readable tree, two spaces a level.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        self.write(&mut out, 0, "");
        out
    }
    fn write(&self, out: &mut String, depth: usize, letter: &str) {
        let pad = "  ".repeat(depth);
        let letter = if letter.is_empty() { String::new() } else { format!("{letter} = ") };
        *out += &format!("{pad}{letter}{} = {}", self.line.name, self.line.shown);
        if self.again {
            *out += "   (explained above)\n";
            return;
        }
        *out += &format!("   {}\n", how(&self.line.origin));
        if let Origin::Chosen { among, .. } = &self.line.origin {
            for a in among {
                *out +=
                    &format!("{pad}    {} {}: {}\n", if a.taken { "taken" } else { "  not" }, a.what, a.why);
            }
        }
        if let Origin::Table { columns, rows, .. } = &self.line.origin {
            *out += &format!("{pad}    {}\n", columns.join(" | "));
            for row in rows {
                let cells: Vec<&str> = row.iter().map(|c| c.shown.as_str()).collect();
                *out += &format!("{pad}    {}\n", cells.join(" | "));
            }
        }
        if let Origin::Verdict { holds: false, cures, .. } = &self.line.origin {
            for c in cures {
                *out += &format!("{pad}    would do: {c}\n");
            }
        }
        for (letter, input) in &self.inputs {
            input.write(out, depth + 1, letter);
        }
    }
}
/// The expression as a reader sees it: the Rust of it tidied, nothing changed.
#[must_use]
pub fn readable(formula: &str) -> String {
    let one_line = formula.split_whitespace().collect::<Vec<_>>().join(" ");
    one_line.replace(".n()", "").replace(" * ", " × ").replace("maths::", "").replace(".value()", "")
}
/// One clause on how a line was had.
#[must_use]
pub fn how(origin: &Origin) -> String {
    let cited = |s: &Source| {
        let shown = s.formula.map_or(String::new(), |f| format!("{f}; "));
        format!("{shown}{}, {}", s.cite, s.mark.text())
    };
    match origin {
        Origin::Written { at } => format!("written: {at}"),
        Origin::Assumed { why } => format!("assumed: {why}"),
        Origin::Tabled { row, source } => format!("table: {row} ({})", cited(source)),
        Origin::Measured { entry, tool } => format!("measured: journal entry {entry}, {tool}"),
        Origin::Worked { formula, source, .. } => format!("= {}   ({})", readable(formula), cited(source)),
        Origin::Solved { formula, residual, rounds, source, .. } => {
            format!("solved: {formula} ({rounds} rounds, off by {residual:.1e}; {})", cited(source))
        }
        Origin::Chosen { rule, source, .. } => format!("chosen: {rule} ({})", cited(source)),
        Origin::Table { rule, source, .. } => format!("{rule} ({})", cited(source)),
        Origin::Verdict { says, formula, holds, source, .. } => {
            let word = if *holds { "holds" } else { "DOES NOT HOLD" };
            format!("{says}: {word}   {} ({})", readable(formula), cited(source))
        }
    }
}

/// Works out a number and writes it in the book: `work!(book, "front.hole", |pivot, shake| pivot + shake, &GEOMETRY)`.
///
/// The text that is shown is the expression that ran. Inputs left off, listed
/// but unused, of the wrong dimension, or a stray local number do not compile:
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// let fudge = Length::mm(0.1);
/// work!(book, "b", |a| a + fudge, &source::GEOMETRY);
/// ```
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let b = book.assumed("b", Length::mm(1.0), "example");
/// work!(book, "c", |a| a + b, &source::GEOMETRY);
/// ```
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let t = book.assumed("t", Angle::deg(1.0), "example");
/// work!(book, "c", |a, t| a + t, &source::GEOMETRY);
/// ```
#[macro_export]
macro_rules! work {
    ($book:expr, $name:expr, |$($i:ident),+ $(,)?| $e:expr, $source:expr $(,)?) => {
        $book.worked(
            $name,
            ($($i,)+),
            $crate::Formula { text: stringify!($e), letters: &[$(stringify!($i)),+] },
            |($($i,)+)| $e,
            $source,
        )
    };
}
/// Judges something and writes the verdict in the book: `judge!(book, "x.fits", "the bar passes", |bar, bore| bar <= bore, &HOUSE)`.
#[macro_export]
macro_rules! judge {
    ($book:expr, $name:expr, $says:expr, |$($i:ident),+ $(,)?| $e:expr, $source:expr $(,)?) => {
        $book.judged(
            $name,
            $says,
            ($($i,)+),
            $crate::Formula { text: stringify!($e), letters: &[$(stringify!($i)),+] },
            |($($i,)+)| $e,
            $source,
        )
    };
}

/// A name as it stands in the book: lower case, spaces to underscores, dots kept out.
#[must_use]
pub fn slug(name: &str) -> String {
    let mut out = String::new();
    for c in name.trim().chars() {
        if c.is_alphanumeric() {
            out.extend(c.to_lowercase());
        } else if !out.ends_with('_') {
            out.push('_');
        }
    }
    out.trim_matches('_').to_owned()
}
