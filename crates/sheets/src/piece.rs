//! Pieces: what is set in its width already and waits for its place on a page.

use std::rc::Rc;

use kurbo::Vec2;

use crate::page::Item;

/// Whether a piece wants the next one on the same page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Keep {
    /// It does not care.
    #[default]
    Free,
    /// If all that hang together so fit on one page.
    Wish,
    /// In any case, as a heading does.
    Must,
}

/// What is printed again before a piece when a page begins with it.
#[derive(Debug)]
pub(crate) struct Head {
    pub height: f64,
    pub items: Vec<Item>,
    /// Printed only where a page broke, not before the first piece.
    pub only_after_break: bool,
}

/// Something that is never cut in two.
#[derive(Clone, Debug, Default)]
pub(crate) struct Piece {
    /// What it is, for a complaint that it is too high.
    pub what: String,
    pub height: f64,
    /// Empty height before it, left out at the top of a page.
    pub gap: f64,
    /// Items with the top left corner of the piece at the origin.
    pub items: Vec<Item>,
    /// Landmarks in it and how far down.
    pub marks: Vec<(usize, f64)>,
    pub keep: Keep,
    pub heads: Vec<Rc<Head>>,
    /// Heads that stand in it already and are not due again after it.
    pub holds: Vec<Rc<Head>>,
    /// The same as several pieces, for a page that has no room for it whole.
    pub instead: Vec<Piece>,
    /// Begins a new page.
    pub fresh: bool,
}

impl Piece {
    pub fn new(what: impl Into<String>, height: f64, items: Vec<Item>) -> Self {
        Self { what: what.into(), height, items, ..Self::default() }
    }
    pub fn gap(self, gap: f64) -> Self {
        Self { gap, ..self }
    }
    pub fn keep(self, keep: Keep) -> Self {
        Self { keep, ..self }
    }
    pub fn shift(&mut self, by: Vec2) {
        self.items.iter_mut().for_each(|i| i.shift(by));
        self.instead.iter_mut().for_each(|p| p.shift(by));
    }

    /// Moves its heads to the right too, and puts one over them.
    pub fn under(&mut self, over: &Rc<Head>, x: f64, known: &mut Vec<(Rc<Head>, Rc<Head>)>) {
        self.heads = self.heads.iter().map(|h| moved(h, x, known)).collect();
        self.holds = self.holds.iter().map(|h| moved(h, x, known)).collect();
        self.heads.insert(0, over.clone());
        self.instead.iter_mut().for_each(|p| p.under(over, x, known));
    }

    /// Its pieces, if it can be taken apart, or itself.
    pub fn apart(mut self) -> Vec<Piece> {
        let mut parts = std::mem::take(&mut self.instead);
        if parts.is_empty() {
            return vec![self];
        }
        together(&mut parts, Keep::Wish);
        if let Some(last) = parts.last_mut() {
            last.keep = self.keep;
        }
        parts[0].gap = self.gap;
        parts[0].fresh = self.fresh;
        parts
    }

    /// Heads to print before it after `before`, or at the top of a page.
    pub fn heads_due(&self, before: Option<&Piece>) -> impl Iterator<Item = &Rc<Head>> {
        let known = before.map(|b| [b.heads.as_slice(), &b.holds].concat());
        self.heads.iter().filter(move |h| match &known {
            None => true,
            Some(known) => !h.only_after_break && !known.iter().any(|k| Rc::ptr_eq(k, h)),
        })
    }
}

/// Holds pieces together: all on one page if they fit on one.
pub(crate) fn together(pieces: &mut [Piece], keep: Keep) {
    if let Some((_, firsts)) = pieces.split_last_mut() {
        firsts.iter_mut().for_each(|p| p.keep = p.keep.max(keep));
    }
}

/// Puts a column on the left beside pieces on the right. Those that reach below
/// the column stay pieces of their own, where a page may break.
pub(crate) fn beside(what: &str, left: Vec<Piece>, mut right: Vec<Piece>, x: f64) -> Vec<Piece> {
    let mut out = stack(what, left);
    let tall = |n: usize, right: &[Piece]| stack("", right[..n].to_vec()).height;
    let mut n = (0..=right.len()).find(|n| tall(*n, &right) >= out.height).unwrap_or(right.len());
    // Two or three rows are not worth a break.
    if right.len() - n < 4 {
        n = right.len();
    }
    let mut rest = right.split_off(n);
    let last = right.last().map(|p| (p.heads.clone(), p.keep));
    let mut top = stack(what, right);
    top.shift(Vec2::new(x, 0.0));
    out.height = out.height.max(top.height);
    out.items.append(&mut top.items);
    let mut shifted = Vec::new();
    if let Some((heads, keep)) = last {
        out.keep = if rest.is_empty() { Keep::Free } else { keep };
        out.holds = heads.iter().map(|h| moved(h, x, &mut shifted)).collect();
    }
    for piece in &mut rest {
        piece.shift(Vec2::new(x, 0.0));
        piece.heads = piece.heads.iter().map(|h| moved(h, x, &mut shifted)).collect();
    }
    let mut all = vec![out];
    all.append(&mut rest);
    all
}

/// A head further to the right; one head for all rows stays one, or each row
/// would bring its own.
pub(crate) fn moved(head: &Rc<Head>, x: f64, known: &mut Vec<(Rc<Head>, Rc<Head>)>) -> Rc<Head> {
    if let Some((_, new)) = known.iter().find(|(old, _)| Rc::ptr_eq(old, head)) {
        return new.clone();
    }
    let mut items = head.items.clone();
    items.iter_mut().for_each(|i| i.shift(Vec2::new(x, 0.0)));
    let new = Rc::new(Head { height: head.height, items, only_after_break: head.only_after_break });
    known.push((head.clone(), new.clone()));
    new
}

/// Puts pieces under one another as a single one.
pub(crate) fn stack(what: &str, pieces: Vec<Piece>) -> Piece {
    let mut out = Piece::new(what, 0.0, Vec::new());
    let mut before: Option<Piece> = None;
    for mut piece in pieces {
        if before.is_some() {
            out.height += piece.gap;
        }
        let start = Piece::default();
        let due: Vec<Rc<Head>> = piece.heads_due(Some(before.as_ref().unwrap_or(&start))).cloned().collect();
        for head in due {
            out.items.extend(head.items.iter().cloned().map(|mut i| {
                i.shift(Vec2::new(0.0, out.height));
                i
            }));
            out.height += head.height;
        }
        piece.shift(Vec2::new(0.0, out.height));
        out.items.append(&mut piece.items);
        out.marks.extend(piece.marks.iter().map(|(m, y)| (*m, y + out.height)));
        out.height += piece.height;
        before = Some(piece);
    }
    out
}
