//! Tables: columns that find their widths, a header on every page.

use std::rc::Rc;

use kurbo::Rect;

use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Para, Side};
use crate::piece::{Head, Keep, Piece};
use crate::setter::short;
use crate::text::Text;
use crate::typecase::{LEAST, Typecase};

/// How wide a column is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Width {
    /// As wide as what stands in it.
    #[default]
    Auto,
    /// So many millimetres.
    Fix(f64),
    /// This share of what the others leave.
    Share(f64),
}

/// A column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Words at its head.
    pub head: Text,
    /// Its width.
    pub width: Width,
    /// Where its text stands.
    pub side: Side,
}

impl Column {
    /// As wide as its text, flush left.
    #[must_use]
    pub fn auto(head: impl Into<Text>) -> Self {
        Self { head: head.into(), ..Self::default() }
    }
    /// Takes what the others leave, flush left.
    #[must_use]
    pub fn share(head: impl Into<Text>, share: f64) -> Self {
        Self { head: head.into(), width: Width::Share(share), side: Side::Left }
    }
    /// Of a width in millimetres, flush left.
    #[must_use]
    pub fn fix(head: impl Into<Text>, mm: f64) -> Self {
        Self { head: head.into(), width: Width::Fix(mm), side: Side::Left }
    }
    /// With its text on the right, for numbers.
    #[must_use]
    pub fn right(self) -> Self {
        Self { side: Side::Right, ..self }
    }
    /// With its text in the middle.
    #[must_use]
    pub fn middle(self) -> Self {
        Self { side: Side::Middle, ..self }
    }
}

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Inside {
    /// Text.
    Words(Text),
    /// A line to write on.
    Blank,
    /// A box to tick.
    Tick,
}

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// What stands in it.
    pub inside: Inside,
    /// Over how many columns it goes.
    pub span: usize,
    /// Where its text stands, if not as in its column.
    pub side: Option<Side>,
}

impl<T: Into<Text>> From<T> for Cell {
    fn from(text: T) -> Self {
        Self { inside: Inside::Words(text.into()), span: 1, side: None }
    }
}

impl Cell {
    /// A line to write on.
    #[must_use]
    pub fn blank() -> Self {
        Self { inside: Inside::Blank, span: 1, side: None }
    }
    /// A box to tick.
    #[must_use]
    pub fn tick() -> Self {
        Self { inside: Inside::Tick, span: 1, side: None }
    }
    /// Over several columns.
    #[must_use]
    pub fn over(self, columns: usize) -> Self {
        Self { span: columns.max(1), ..self }
    }
}

/// A row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Its cells; columns that are left over stay empty.
    pub cells: Vec<Cell>,
    /// Stays on the page of the row above.
    pub with_above: bool,
    /// Printed heavy on a band: the title of a group, a sum.
    pub strong: bool,
}

impl Row {
    /// A plain row.
    pub fn new<C: Into<Cell>>(cells: impl IntoIterator<Item = C>) -> Self {
        Self { cells: cells.into_iter().map(Into::into).collect(), ..Self::default() }
    }
    /// The same, on the page of the row above.
    #[must_use]
    pub fn with_above(self) -> Self {
        Self { with_above: true, ..self }
    }
    /// The same, heavy.
    #[must_use]
    pub fn strong(self) -> Self {
        Self { strong: true, ..self }
    }
}

/// How rows are told apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ruling {
    /// A thin rule below each.
    #[default]
    Rules,
    /// A pale band behind every other.
    Bands,
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Columns from left to right.
    pub columns: Vec<Column>,
    /// Rows from top to bottom.
    pub rows: Vec<Row>,
    /// How rows are told apart.
    pub ruling: Ruling,
    /// Size of type in points, at least 7; 0 for the usual.
    pub size: f64,
}

const PAD_X: f64 = 4.0;
const PAD_Y: f64 = 2.4;
/// Side of a box to tick.
pub(crate) const TICK: f64 = 4.2 * MM;

struct Placed {
    from: usize,
    span: usize,
    side: Side,
    inside: Filled,
}

enum Filled {
    Words(Box<Para>),
    Blank,
    Tick,
}

impl Filled {
    fn widths(&self) -> (f64, f64) {
        match self {
            Self::Words(p) => (p.min(), p.natural()),
            Self::Blank => (14.0 * MM, 20.0 * MM),
            Self::Tick => (TICK, TICK),
        }
    }
}

/// How close a table is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Closeness {
    /// With air between the rows.
    Airy,
    /// Rows close together, as within an operation.
    Close,
    /// The same with heads over several lines, so that the columns are no wider than their rows.
    Narrow,
}

impl Closeness {
    fn pad(self) -> f64 {
        if self == Self::Airy { PAD_Y } else { 0.9 }
    }
    fn looks(self, table: &Table) -> (Look, Look) {
        let size = if table.size > 0.0 { table.size.max(LEAST) } else { 9.0 };
        if self == Self::Airy {
            let look = Look::of(size);
            let small = Look { lead: look.lead * 0.9, ..Look::of((size - 1.0).max(LEAST)) };
            (look, small.bold())
        } else {
            let size = size.min(8.5);
            let small = (size - 1.0).max(LEAST);
            (
                Look { lead: size * 1.26, ..Look::of(size) },
                Look { lead: small * 1.15, ..Look::of(small) }.bold(),
            )
        }
    }
}

/// Width of a narrow table whose rows all stand on one line.
pub(crate) fn narrow_width(case: &Typecase, table: &Table) -> f64 {
    let (look, small) = Closeness::Narrow.looks(table);
    let head = head(case, table, small);
    let rows: Vec<Vec<Placed>> = table.rows.iter().map(|r| place(case, table, r, look)).collect();
    widths(table, (&head, true), &rows, f64::MAX).iter().sum()
}

fn head(case: &Typecase, table: &Table, look: Look) -> Vec<Placed> {
    let inside = |c: &Column| Filled::Words(Box::new(case.para(&c.head, look)));
    let columns = table.columns.iter().enumerate();
    columns.map(|(from, c)| Placed { from, span: 1, side: c.side, inside: inside(c) }).collect()
}

/// Sets a table in a width: one piece a row.
pub(crate) fn pieces(case: &Typecase, table: &Table, width: f64, close: Closeness) -> Vec<Piece> {
    let count = table.columns.len();
    if count == 0 {
        return Vec::new();
    }
    let (look, small) = close.looks(table);
    let mut head = head(case, table, small);
    let mut rows: Vec<Vec<Placed>> =
        table.rows.iter().map(|r| place(case, table, r, if r.strong { look.bold() } else { look })).collect();
    let widths = widths(table, (&head, close == Closeness::Narrow), &rows, width);
    let total: f64 = widths.iter().sum();
    let mut edges = vec![0.0];
    for w in &widths {
        edges.push(edges[edges.len() - 1] + w);
    }

    let mut heads = Vec::new();
    if table.columns.iter().any(|c| !c.head.is_empty()) {
        let (height, mut items) = line(case, &mut head, &edges, (true, close.pad()));
        items.push(Item::line((0.0, height), (total, height), Stroke::plain(0.9, Ink::BLACK)));
        heads.push(Rc::new(Head { height: height + 1.0, items, only_after_break: false }));
    }
    let mut out = Vec::new();
    let last = rows.len().saturating_sub(1);
    for (i, (cells, row)) in rows.iter_mut().zip(&table.rows).enumerate() {
        let (height, mut items) = line(case, cells, &edges, (false, close.pad()));
        let band = row.strong || (table.ruling == Ruling::Bands && i % 2 == 1);
        if band {
            items.insert(0, Item::rect(Rect::new(0.0, 0.0, total, height), Some(Ink::BAND), None));
        }
        if table.ruling == Ruling::Rules || i == last {
            items.push(Item::line((0.0, height), (total, height), Stroke::plain(0.4, Ink::RULE)));
        }
        let next = table.rows.get(i + 1);
        // The title of a group, the first row and the last but one do not
        // stand alone.
        let alone = i == 0 || i + 1 == last;
        let keep = match next {
            Some(n) if n.with_above => Keep::Must,
            Some(_) if row.strong || alone => Keep::Must,
            _ => Keep::Free,
        };
        let what = table.rows[i].cells.first().map_or_else(String::new, |c| match &c.inside {
            Inside::Words(t) => short(&t.words()),
            Inside::Blank | Inside::Tick => String::new(),
        });
        let mut piece = Piece::new(format!("the row “{what}” of a table"), height, items).keep(keep);
        piece.heads.clone_from(&heads);
        piece.gap = if i == 0 { 6.0 } else { 0.0 };
        out.push(piece);
    }
    out
}

fn place(case: &Typecase, table: &Table, row: &Row, look: Look) -> Vec<Placed> {
    let mut out = Vec::new();
    let mut at = 0;
    for cell in &row.cells {
        if at >= table.columns.len() {
            break;
        }
        let span = cell.span.clamp(1, table.columns.len() - at);
        let inside = match &cell.inside {
            Inside::Words(t) => Filled::Words(Box::new(case.para(t, look))),
            Inside::Blank => Filled::Blank,
            Inside::Tick => Filled::Tick,
        };
        let side = cell.side.unwrap_or(if span > 1 { Side::Left } else { table.columns[at].side });
        out.push(Placed { from: at, span, side, inside });
        at += span;
    }
    out
}

/// Height and items of one row; heads stand at its foot, other text at its top.
fn line(case: &Typecase, cells: &mut [Placed], edges: &[f64], (foot, pad): (bool, f64)) -> (f64, Vec<Item>) {
    let mut heights = Vec::new();
    let mut words = 0.0_f64;
    for c in cells.iter_mut() {
        let w = edges[c.from + c.span] - edges[c.from] - 2.0 * PAD_X;
        heights.push(match &mut c.inside {
            Filled::Words(p) => {
                let h = p.fit(w, c.side);
                words = words.max(h);
                h
            }
            Filled::Blank => 7.0 * MM,
            Filled::Tick => TICK + 2.0,
        });
    }
    let height = heights.iter().copied().fold(0.0, f64::max) + 2.0 * pad;
    let mut items = Vec::new();
    for (c, h) in cells.iter().zip(&heights) {
        let (x0, x1) = (edges[c.from] + PAD_X, edges[c.from + c.span] - PAD_X);
        // Text stands in the middle beside a box, and all of it from one height.
        let y = if foot { height - pad - h } else { (height - words) / 2.0 };
        match &c.inside {
            Filled::Words(p) => p.lay(case, x0, y, &mut items),
            Filled::Blank => {
                let y = height - pad - 1.5;
                items.push(Item::line((x0, y), (x1, y), Stroke::plain(0.5, Ink::BLACK)));
            }
            Filled::Tick => {
                let x = match c.side {
                    Side::Left => x0,
                    Side::Middle => (x0 + x1 - TICK) / 2.0,
                    Side::Right => x1 - TICK,
                };
                items.push(tick_box(x, (height - TICK) / 2.0, TICK));
            }
        }
    }
    (height, items)
}

/// An empty box to tick.
pub(crate) fn tick_box(x: f64, y: f64, side: f64) -> Item {
    Item::rect(Rect::new(x, y, x + side, y + side), Some(Ink::WHITE), Some(Stroke::plain(0.9, Ink::BLACK)))
}

/// Part of a table's width below which columns with a share do not fall for the sake of others.
const SHARED: f64 = 0.45;

/// Widths of the columns. Fixed ones first; the others get what their text
/// wants, or, where that is too much, between that and their widest word; what
/// is left goes to those with a share. Heads that wrap ask for no more than
/// their widest word.
fn widths(table: &Table, (head, wraps): (&[Placed], bool), rows: &[Vec<Placed>], width: f64) -> Vec<f64> {
    let n = table.columns.len();
    let mut min = vec![0.0_f64; n];
    let mut max = vec![0.0_f64; n];
    let cells = || head.iter().chain(rows.iter().flatten());
    for c in cells().filter(|c| c.span == 1) {
        let (lo, hi) = c.inside.widths();
        min[c.from] = min[c.from].max(lo + 2.0 * PAD_X);
        max[c.from] = max[c.from].max(hi + 2.0 * PAD_X);
    }
    if wraps {
        // The rows alone say how wide a column would like to be.
        max.clone_from(&min);
        for c in rows.iter().flatten().filter(|c| c.span == 1) {
            max[c.from] = max[c.from].max(c.inside.widths().1 + 2.0 * PAD_X);
        }
    }
    for (i, c) in table.columns.iter().enumerate() {
        if let Width::Fix(mm) = c.width {
            (min[i], max[i]) = (mm * MM, mm * MM);
        }
    }
    // A cell over several columns widens the last of them that can give way.
    for c in cells().filter(|c| c.span > 1) {
        let range = c.from..c.from + c.span;
        let soft = range.clone().rev().find(|i| !matches!(table.columns[*i].width, Width::Fix(_)));
        let Some(soft) = soft else { continue };
        let (lo, hi) = c.inside.widths();
        let lack = |have: &[f64], want: f64| want + 2.0 * PAD_X - have[range.clone()].iter().sum::<f64>();
        let (more_min, more_max) = (lack(&min, lo), lack(&max, hi));
        min[soft] += more_min.max(0.0);
        if !range.clone().any(|i| matches!(table.columns[i].width, Width::Share(_))) {
            max[soft] += more_max.max(0.0);
        }
        max[soft] = max[soft].max(min[soft]);
    }
    if width >= f64::MAX {
        return max;
    }
    let share = |i: usize| if let Width::Share(s) = table.columns[i].width { s.max(1e-6) } else { 0.0 };
    let shares: Vec<f64> = (0..n).map(share).collect();
    let is_auto = |i: usize| shares[i] == 0.0;
    // Columns with a share ask for what their text wants, up to their part of the table.
    let all_shares: f64 = shares.iter().sum();
    let asked = |i: usize| max[i].min(SHARED * width * shares[i] / all_shares).max(min[i]);
    let base: Vec<f64> = (0..n).map(|i| if is_auto(i) { max[i] } else { asked(i) }).collect();
    let mut out = base.clone();
    let over = base.iter().sum::<f64>() - width;
    if over > 0.0 {
        // Too much: every column gives in proportion to what it can give.
        let can: Vec<f64> = (0..n).map(|i| base[i] - min[i]).collect();
        let all: f64 = can.iter().sum();
        if all > 0.0 {
            let part = (over / all).min(1.0);
            (0..n).for_each(|i| out[i] -= can[i] * part);
        }
        let still = out.iter().sum::<f64>() / width;
        if still > 1.0 {
            // Even the widest words do not fit side by side: they will be cut.
            out.iter_mut().for_each(|w| *w /= still);
        }
    } else {
        fill(&mut out, &shares, width);
    }
    out
}

/// Gives the rest of the width to columns with a share, none below what it has.
fn fill(out: &mut [f64], shares: &[f64], width: f64) {
    let mut open: Vec<usize> = (0..out.len()).filter(|i| shares[*i] > 0.0).collect();
    while !open.is_empty() {
        let closed: f64 = (0..out.len()).filter(|i| !open.contains(i)).map(|i| out[i]).sum();
        let all: f64 = open.iter().map(|i| shares[*i]).sum();
        let unit = (width - closed) / all;
        let before = open.len();
        let stays: Vec<usize> = open.iter().copied().filter(|i| out[*i] <= unit * shares[*i]).collect();
        if stays.len() == before {
            open.iter().for_each(|i| out[*i] = unit * shares[*i]);
            return;
        }
        open = stays;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(columns: Vec<Column>, rows: Vec<Row>) -> Table {
        Table { columns, rows, ..Table::default() }
    }

    fn solved(t: &Table, width: f64) -> Vec<f64> {
        let case = Typecase::new();
        let look = Look::of(9.0);
        let rows: Vec<Vec<Placed>> = t.rows.iter().map(|r| place(&case, t, r, look)).collect();
        widths(t, (&[], false), &rows, width)
    }

    #[test]
    fn shares_take_what_others_leave() {
        let t = table(
            vec![Column::fix("", 10.0), Column::auto(""), Column::share("", 2.0), Column::share("", 1.0)],
            vec![Row::new(["1", "silver steel", "long", "short"])],
        );
        let w = solved(&t, 500.0);
        let natural = Typecase::new().words("silver steel", Look::of(9.0)).natural();
        assert!((w[0] - 10.0 * MM).abs() < 1e-9);
        assert!((w[1] - natural - 2.0 * PAD_X).abs() < 1e-9);
        assert!((w[2] - 2.0 * w[3]).abs() < 1e-9);
        assert!((w.iter().sum::<f64>() - 500.0).abs() < 1e-9);
    }

    #[test]
    fn long_texts_give_way_and_no_word_is_cut() {
        let long = "one long text that certainly has no room on one line of its own in this table";
        let t = table(vec![Column::auto(""), Column::auto("")], vec![Row::new([long, "micrometer"])]);
        let w = solved(&t, 200.0);
        let word = Typecase::new().words("micrometer", Look::of(9.0)).natural();
        assert!((w.iter().sum::<f64>() - 200.0).abs() < 1e-9);
        assert!(w[1] >= word + 2.0 * PAD_X - 1e-9, "{w:?}");
    }

    #[test]
    fn share_is_never_narrower_than_its_widest_word() {
        let t = table(
            vec![Column::share("", 1.0), Column::share("", 20.0)],
            vec![Row::new(["interchangeable", "a"])],
        );
        let w = solved(&t, 300.0);
        let word = Typecase::new().words("interchangeable", Look::of(9.0)).natural();
        assert!((w[0] - word - 2.0 * PAD_X).abs() < 1e-9, "{w:?}");
        assert!((w.iter().sum::<f64>() - 300.0).abs() < 1e-9);
    }

    #[test]
    fn cell_over_columns_widens_the_last_that_can_give() {
        let title = "a title of a group that is wider than both columns";
        let t = table(
            vec![Column::auto(""), Column::auto("")],
            vec![Row::new([Cell::from(title).over(2)]), Row::new(["a", "b"])],
        );
        let w = solved(&t, 500.0);
        let title = Typecase::new().words(title, Look::of(9.0)).natural();
        assert!((w[0] + w[1] - title - 2.0 * PAD_X).abs() < 1e-9, "{w:?}");
    }

    #[test]
    fn title_of_a_group_stays_with_its_first_row() {
        let t = table(
            vec![Column::auto("a"), Column::auto("b")],
            vec![
                Row::new(["1", "2"]),
                Row::new(["3", "4"]),
                Row::new(["steel"]).strong(),
                Row::new(["5", "6"]),
                Row::new(["7"]),
            ],
        );
        let set = pieces(&Typecase::new(), &t, 300.0, Closeness::Airy);
        assert_eq!(set.len(), 5);
        assert_eq!(set[2].keep, Keep::Must);
        assert_eq!(set[1].keep, Keep::Free);
        assert!(set.iter().all(|p| Rc::ptr_eq(&p.heads[0], &set[0].heads[0])));
    }
}
