//! Blocks set in a width, each as pieces that are never cut.

use kurbo::{BezPath, Rect, Vec2};

use crate::block::{Block, Caution, Figure, Fit, Picture};
use crate::drawn::drawn;
use crate::formula;
use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Para, Side};
use crate::piece::{Keep, Piece, stack, together};
use crate::table::{self, Closeness};
use crate::text::{Span, Style, Text};
use crate::typecase::{LEAST, Typecase};
use crate::unprintable::Unprintable;

/// Size of a large figure in points: read at arm's length.
const FIGURE: f64 = 18.0;

/// Sets blocks, counts headings and gathers what cannot be printed.
pub(crate) struct Setter<'a> {
    pub case: &'a Typecase,
    /// Headings of the whole document in order.
    pub headings: &'a [(u8, String)],
    /// How many of them have been set.
    pub set: usize,
    /// Height of the body of a page.
    pub room: f64,
    /// The part that the header of every page of this sheet names.
    pub part: &'a str,
    pub troubles: Vec<Unprintable>,
}

/// All headings in the order in which they are set.
pub(crate) fn headings(blocks: &[Block], out: &mut Vec<(u8, String)>) {
    for block in blocks {
        match block {
            Block::Heading(level, text) => out.push(((*level).clamp(1, 3), text.words())),
            Block::Columns(columns) => columns.iter().for_each(|(_, b)| headings(b, out)),
            Block::Together(b) => headings(b, out),
            Block::Operation(op) => {
                out.push((3, format!("{} {}", op.number, op.title.words())));
                headings(&op.detail, out);
            }
            Block::Template(t) => out.push((1, t.sketch.title.clone())),
            _ => {}
        }
    }
}

impl Setter<'_> {
    /// Sets blocks under one another.
    pub fn blocks(&mut self, blocks: &[Block], width: f64) -> Vec<Piece> {
        let mut out: Vec<Piece> = Vec::new();
        let mut fresh = false;
        for block in blocks {
            if matches!(block, Block::Break) {
                fresh = true;
                continue;
            }
            let mut pieces = self.block(block, width);
            if fresh && let Some(first) = pieces.first_mut() {
                first.fresh = true;
                fresh = false;
            }
            out.append(&mut pieces);
        }
        out
    }

    fn block(&mut self, block: &Block, width: f64) -> Vec<Piece> {
        match block {
            Block::Heading(level, text) => vec![self.heading(*level, text, width)],
            Block::Para(text) => vec![self.para(text, Look::BODY, width).gap(6.0)],
            Block::Remark(text) => vec![self.para(text, Look::SMALL.soft(), width).gap(5.0)],
            Block::Dots(items) => self.list(items, false, Look::BODY, width),
            Block::Steps(items) => self.list(items, true, Look::BODY, width),
            Block::Facts(facts) => self.facts(facts, width),
            Block::Table(t) => table::pieces(self.case, t, width, Closeness::Airy),
            Block::Formula(f, remark) => vec![self.formula(f, remark, width)],
            Block::Picture(p) => vec![self.picture(p, width)],
            Block::Caution(c) => vec![self.caution(c, width)],
            Block::Figures(f) => vec![self.figures(f, width).gap(8.0)],
            Block::Operation(op) => self.operation(op, width),
            Block::Columns(columns) => vec![self.columns(columns, width)],
            Block::Together(blocks) => {
                let mut pieces: Vec<Piece> = Vec::new();
                for block in blocks {
                    // What stands over an operation is no use on another page.
                    if matches!(block, Block::Operation(_)) {
                        let high: f64 = pieces.iter().map(|p| p.gap + p.height).sum();
                        if high < 0.25 * self.room {
                            pieces.iter_mut().for_each(|p| p.keep = Keep::Must);
                        }
                    }
                    pieces.append(&mut self.blocks(std::slice::from_ref(block), width));
                }
                together(&mut pieces, Keep::Wish);
                pieces
            }
            Block::Template(t) => vec![self.template(t, width)],
            Block::Contents(depth) => self.contents(*depth, width),
            Block::Gap(mm) => vec![Piece { height: mm * MM, ..Piece::default() }],
            Block::Break => Vec::new(),
        }
    }

    fn heading(&mut self, level: u8, text: &Text, width: f64) -> Piece {
        let (look, gap) = match level {
            0 | 1 => (Look::display(18.0), 20.0),
            2 => (Look::display(12.5), 12.0),
            _ => (Look::display(10.0), 11.0),
        };
        let mark = self.set;
        self.set += 1;
        if level <= 1 && mark_only(self.part, text) {
            let mut piece = Piece::new("a mark", 0.0, Vec::new()).keep(Keep::Must);
            piece.marks.push((mark, 0.0));
            return piece;
        }
        let mut piece = self.para(text, look, width).gap(gap).keep(Keep::Must);
        piece.marks.push((mark, 0.0));
        piece
    }

    /// A paragraph as one piece.
    pub fn para(&self, text: &Text, look: Look, width: f64) -> Piece {
        let mut p = self.case.para(text, look);
        let height = p.fit(width, Side::Left);
        let mut items = Vec::new();
        p.lay(self.case, 0.0, 0.0, &mut items);
        Piece::new(format!("the paragraph “{}”", short(&text.words())), height, items)
    }

    /// A list; its marks hang in a margin of their own.
    pub fn list(&self, items: &[Text], numbers: bool, look: Look, width: f64) -> Vec<Piece> {
        let indent = match (numbers, items.len()) {
            (true, 10..) => 24.0,
            (true, _) => 18.0,
            (false, _) => 12.0,
        };
        let mut out = Vec::new();
        for (i, text) in items.iter().enumerate() {
            let mut piece = self.para(text, look, width - indent).gap(if i == 0 { 6.0 } else { 3.0 });
            piece.shift(Vec2::new(indent, 0.0));
            if numbers {
                let mut n = self.case.words(&format!("{}.", i + 1), look.bold());
                n.fit(indent - 5.0, Side::Right);
                n.lay(self.case, 0.0, 0.0, &mut piece.items);
            } else {
                let y = look.lead / 2.0;
                piece.items.push(dot(4.0, y, 1.6));
            }
            out.push(piece);
        }
        out
    }

    /// Names and values; short ones stand two in a row where the width allows.
    fn facts(&self, facts: &[(Text, Text)], width: f64) -> Vec<Piece> {
        const APART: f64 = 14.0;
        let look = Look { lead: 12.5, ..Look::BODY };
        // A value without a name goes on with the one above it.
        let mut all: Vec<(&Text, Text)> = Vec::new();
        for (name, value) in facts {
            match all.last_mut() {
                Some((_, above)) if name.is_empty() => {
                    above.0.push(Span { text: "  ".to_owned(), style: Style::default() });
                    above.0.extend(value.0.iter().cloned());
                }
                _ => all.push((name, heavy(value))),
            }
        }
        let widest = all.iter().map(|(n, _)| self.case.para(n, look).natural()).fold(0.0, f64::max);
        let half = if width > 380.0 { (width - APART) / 2.0 } else { width };
        // Names take what the values beside them do not need, where those are short.
        let natural = |value: &Text| self.case.para(value, look).natural();
        let beside = all.iter().map(|(_, v)| natural(v)).filter(|w| *w <= 0.55 * half).fold(0.0, f64::max);
        let left = widest.min((half - 2.0 * APART - beside).max(0.4 * half)) + APART;
        let short = |value: &Text| half < width && natural(value) <= half - left;
        let mut out: Vec<Piece> = Vec::new();
        let mut open = false;
        for (name, value) in &all {
            let short = short(value);
            let (x, w) =
                if open && short { (half + APART, half) } else { (0.0, if short { half } else { width }) };
            let mut piece = self.para(value, look, w - left);
            piece.shift(Vec2::new(left, 0.0));
            let name = self.para(name, look.soft(), left - APART);
            piece.height = piece.height.max(name.height);
            piece.items.extend(name.items);
            piece.shift(Vec2::new(x, 0.0));
            if open
                && short
                && let Some(above) = out.last_mut()
            {
                above.height = above.height.max(piece.height);
                above.items.append(&mut piece.items);
                open = false;
            } else {
                out.push(piece.gap(if out.is_empty() { 4.0 } else { 1.0 }));
                open = short;
            }
        }
        out
    }

    fn formula(&mut self, f: &formula::Formula, remark: &Text, width: f64) -> Piece {
        let indent = 12.0;
        let set = formula::set(self.case, f, 11.0);
        let height = set.up + set.down + 2.0;
        let mut items = set.items;
        let base = set.up + 1.0;
        items.iter_mut().for_each(|i| i.shift(Vec2::new(indent, base)));
        let right = indent + set.width + 16.0;
        if indent + set.width > width {
            let (width, room) = ((indent + set.width) / MM, width / MM);
            self.troubles.push(Unprintable::TooWide { what: "a formula".to_owned(), width, room });
        }
        let mut piece = Piece::new("a formula", height, items).gap(8.0);
        if !remark.is_empty() {
            let beside = width - right > 90.0;
            let look = Look::SMALL.soft();
            let mut note = self.para(remark, look, if beside { width - right } else { width - indent });
            if beside {
                // On the line of the formula, centred where it has several lines.
                let y = (base - 3.0 - note.height / 2.0).max(0.0);
                note.shift(Vec2::new(right, y));
                piece.height = piece.height.max(y + note.height);
            } else {
                note.shift(Vec2::new(indent, piece.height + 3.0));
                piece.height += 3.0 + note.height;
            }
            piece.items.extend(note.items);
        }
        piece
    }

    /// A drawing with its caption.
    pub fn picture(&mut self, p: &Picture, width: f64) -> Piece {
        let s = &p.sketch;
        let size = match p.fit {
            Fit::True => 1.0,
            Fit::Within(w, h) => {
                let w = (w * MM).min(width);
                (w / (s.width * MM)).min(h / s.height).min(1.0)
            }
        };
        let (w, h) = (s.width * MM * size, s.height * MM * size);
        if w > width + 0.01 {
            let what = format!("the drawing “{}”", s.title);
            self.troubles.push(Unprintable::TooWide { what, width: w / MM, room: width / MM });
        }
        let mut items = drawn(self.case, s, size, &mut self.troubles);
        let x = ((width - w) / 2.0).max(0.0);
        items.iter_mut().for_each(|i| i.shift(Vec2::new(x, 0.0)));
        let mut piece = Piece::new(format!("the drawing “{}”", s.title), h, items).gap(10.0);
        if !p.caption.is_empty() {
            let mut c = self.case.para(&p.caption, Look::SMALL.soft());
            let ch = c.fit(width, Side::Middle);
            c.lay(self.case, 0.0, h + 4.0, &mut piece.items);
            piece.height += 4.0 + ch;
        }
        piece
    }

    /// A warning: a box with a triangle, plain in black and white.
    pub fn caution(&self, c: &Caution, width: f64) -> Piece {
        let (left, pad) = (28.0, 4.0);
        let mut text = Text::default().bold(c.title.as_str());
        for line in &c.lines {
            text = text.plain("  ");
            text.0.extend(line.0.iter().cloned());
        }
        let mut p = self.case.para(&text, Look { lead: 11.0, ..Look::of(8.5) });
        let h = p.fit(width - left - 8.0, Side::Left);
        let height = (h + 2.0 * pad).max(22.0);
        let frame = Rect::new(0.6, 0.6, width - 0.6, height - 0.6);
        let mut items = vec![Item::rect(frame, None, Some(Stroke::plain(1.2, Ink::BLACK)))];
        p.lay(self.case, left, (height - h) / 2.0, &mut items);
        items.extend(triangle(14.5, height / 2.0, 15.0));
        Piece::new(format!("the caution “{}”", c.title), height, items).gap(6.0)
    }

    /// Large values side by side, each at a rule, over as few lines as they
    /// need.
    pub fn figures(&self, figures: &[Figure], width: f64) -> Piece {
        // Long dotted names go over two lines where that saves a line of values.
        let whole = self.figures_as(figures, width);
        let cut: Vec<Figure> = figures.iter().map(|f| f.clone().note(folded(&f.note))).collect();
        let folded = self.figures_as(&cut, width);
        if folded.height < whole.height { folded } else { whole }
    }

    fn figures_as(&self, figures: &[Figure], width: f64) -> Piece {
        const PAD: f64 = 5.0;
        const APART: f64 = 7.0;
        const LINES: f64 = 5.0;
        let label_look = Look { lead: 9.6, ..Look::of(7.5) };
        let note_look = Look { lead: 8.4, ..Look::of(LEAST) }.soft();
        let mut cells: Vec<([Para; 3], f64)> = Vec::new();
        for f in figures {
            let label = self.case.words(&f.label, label_look);
            let value = self.case.para(&value(&f.value), Look { lead: 19.5, ..Look::display(FIGURE) });
            let note = self.case.words(&f.note, note_look);
            // Words may take a second line, the value should not.
            let words = label.natural().max(note.natural()).min(92.0);
            let inner = value.natural().max(words).max(label.min()).max(note.min());
            cells.push(([label, value, note], (inner + PAD + APART + 0.5).min(width)));
        }
        let widest = cells.iter().map(|c| c.1).fold(0.0, f64::max);
        let natural: Vec<f64> = cells.iter().map(|c| c.1).collect();
        let most = ((width / widest.max(1.0)).floor() as usize).max(1);
        let mut rows = packed(&natural, width);
        if figures.len().div_ceil(most) <= rows.len() {
            // All of one width, so that they stand under one another.
            let w = widest.max(width / LINES).min(width);
            cells.iter_mut().for_each(|c| c.1 = w);
            let across = ((width / w + 1e-9).floor() as usize).max(1);
            rows = packed(&vec![width / across as f64; cells.len()], width);
        }
        let mut items = Vec::new();
        let mut y = 0.0;
        let mut cells = cells.into_iter();
        for count in rows {
            let mut row: Vec<([Para; 3], f64)> = cells.by_ref().take(count).collect();
            let left: f64 = width - row.iter().map(|c| c.1).sum::<f64>();
            let more = (left / count as f64).clamp(0.0, 10.0);
            // Values stand on one line, whatever their labels need.
            let tops: Vec<f64> = row
                .iter_mut()
                .map(|([label, ..], w)| label.fit(*w + more - PAD - APART, Side::Left))
                .collect();
            let top = tops.iter().copied().fold(0.0, f64::max);
            let mut high = 0.0_f64;
            let mut x = 0.0;
            let mut edges = Vec::new();
            for (([label, value, note], w), own) in row.iter_mut().zip(tops) {
                let inner = *w + more - PAD - APART;
                label.lay(self.case, x + PAD, y + top - own, &mut items);
                let mut at = y + top;
                at += lay(value, self.case, x + PAD, at, inner, &mut items);
                if note.natural() > 0.0 {
                    at += lay(note, self.case, x + PAD, at, inner, &mut items);
                }
                high = high.max(at - y);
                edges.push(x + 0.4);
                x += *w + more;
            }
            for x in edges {
                items.push(Item::line((x, y + 0.5), (x, y + high - 0.5), Stroke::plain(0.8, Ink::BLACK)));
            }
            y += high + 5.0;
        }
        Piece::new("a line of figures", (y - 5.0).max(0.0), items)
    }

    fn columns(&mut self, columns: &[(f64, Vec<Block>)], width: f64) -> Piece {
        const APART: f64 = 16.0;
        let count = columns.len().max(1);
        let all: f64 = columns.iter().map(|(s, _)| s.max(1e-6)).sum();
        let room = width - APART * (count - 1) as f64;
        let mut out = Piece::new("columns side by side", 0.0, Vec::new()).gap(8.0);
        let mut x = 0.0;
        for (share, blocks) in columns {
            let w = room * share.max(1e-6) / all;
            let pieces = self.blocks(blocks, w);
            let mut one = stack("a column", pieces);
            one.shift(Vec2::new(x, 0.0));
            out.height = out.height.max(one.height);
            out.items.append(&mut one.items);
            out.marks.append(&mut one.marks);
            x += w + APART;
        }
        out
    }

    /// What stands in the outline down to a level, each with its page; a long list in two columns.
    fn contents(&self, depth: u8, width: f64) -> Vec<Piece> {
        let told: Vec<usize> = (0..self.headings.len()).filter(|i| self.headings[*i].0 <= depth).collect();
        if told.len() <= LONG_LIST {
            return told.iter().map(|i| self.content(*i, width, false)).collect();
        }
        let half = (width - BETWEEN) / 2.0;
        let mut out = Vec::new();
        for list in told.chunks(2 * ROWS_OF_LIST) {
            let rows = list.len().div_ceil(2);
            for row in 0..rows {
                let mut piece = self.content(list[row], half, true);
                if let Some(right) = list.get(rows + row) {
                    let mut beside = self.content(*right, half, true);
                    beside.shift(Vec2::new(half + BETWEEN, 0.0));
                    piece.height = piece.height.max(beside.height);
                    piece.items.append(&mut beside.items);
                }
                out.push(piece.keep(if row + 1 < rows { Keep::Must } else { Keep::Free }));
            }
        }
        out
    }
    fn content(&self, i: usize, width: f64, dense: bool) -> Piece {
        let (level, words) = &self.headings[i];
        let first = *level == 1;
        let look = if first && !dense { Look::BODY.bold() } else { Look::BODY };
        let indent = 14.0 * f64::from(level - 1);
        let mut piece = self.para(&Text::from(words.as_str()), look, width - indent - 40.0);
        piece.shift(Vec2::new(indent, 0.0));
        let text_end = piece.items.last().map_or(indent, |i| i.extent().x1) + 8.0;
        let y = piece.height - look.lead / 2.0 + 3.0;
        let dots = Stroke { dash: vec![0.01, 4.0], round: true, ..Stroke::plain(0.8, Ink::RULE) };
        if text_end < width - 30.0 {
            piece.items.push(Item::line((text_end, y), (width - 26.0, y), dots));
        }
        piece.items.push(Item::Link { area: Rect::new(0.0, 0.0, width, piece.height), to: i });
        piece.gap(if first && !dense { 7.0 } else { 2.0 })
    }
}

/// A list of contents that is longer stands in two columns,
const LONG_LIST: usize = 24;
/// which go over at most so many rows before they begin again,
const ROWS_OF_LIST: usize = 40;
/// with so much between them, in points.
const BETWEEN: f64 = 20.0;

/// Whether the header says already what a heading would say.
fn mark_only(part: &str, heading: &Text) -> bool {
    !part.is_empty() && heading.words() == part
}

/// How many stand in each line: as few lines as they need, evenly filled where
/// that costs none.
fn packed(widths: &[f64], room: f64) -> Vec<usize> {
    let mut rows: Vec<usize> = Vec::new();
    let mut used = f64::MAX;
    for w in widths {
        match rows.last_mut() {
            Some(n) if used + w <= room + 0.01 => {
                *n += 1;
                used += w;
            }
            _ => {
                rows.push(1);
                used = *w;
            }
        }
    }
    let across = widths.len().div_ceil(rows.len().max(1)).max(1);
    if widths.chunks(across).all(|c| c.iter().sum::<f64>() <= room + 0.01) {
        rows = widths.chunks(across).map(<[f64]>::len).collect();
    }
    rows
}

/// A long dotted name over two lines, broken after the dot nearest its middle.
fn folded(name: &str) -> String {
    let middle = name.len() / 2;
    let dots = name.match_indices('.').map(|(i, _)| i + 1);
    match dots.min_by_key(|i| i.abs_diff(middle)) {
        Some(at) if name.len() > 15 => format!("{}\n{}", &name[..at], &name[at..]),
        _ => name.to_owned(),
    }
}

/// A value with its numbers large and its units small beside them.
fn value(text: &str) -> Text {
    let number = |w: &str| w.chars().any(|c| c.is_ascii_digit());
    if !number(text) || !text.chars().all(|c| c.is_ascii_graphic() || " \u{a0}\u{2009}⌀×±°−µ…–".contains(c))
    {
        return text.into();
    }
    let mut out = Text::default();
    for (i, word) in text.split([' ', '\u{a0}']).enumerate() {
        let unit = !number(word) && word.chars().any(char::is_alphabetic);
        let blank = match (i, unit) {
            (0, _) => "",
            (_, true) => "\u{a0}",
            _ => " ",
        };
        let scale = if unit { 0.64 } else { 1.0 };
        out = out.styled(format!("{blank}{word}"), Style { bold: true, scale, ..Style::default() });
    }
    out
}

/// The same text, heavy.
pub(crate) fn heavy(text: &Text) -> Text {
    let heavy = |s: &Span| Span { text: s.text.clone(), style: Style { bold: true, ..s.style } };
    Text(text.0.iter().map(heavy).collect())
}

/// Fits a paragraph, lays it down, gives its height.
fn lay(p: &mut Para, case: &Typecase, x: f64, y: f64, width: f64, out: &mut Vec<Item>) -> f64 {
    let h = p.fit(width, Side::Left);
    p.lay(case, x, y, out);
    h
}

/// A round dot, as four Bézier arcs.
fn dot(x: f64, y: f64, r: f64) -> Item {
    // Handle that makes a quarter circle to 3 parts in ten thousand.
    let k = 0.552_285 * r;
    let mut p = BezPath::new();
    p.move_to((x + r, y));
    p.curve_to((x + r, y + k), (x + k, y + r), (x, y + r));
    p.curve_to((x - k, y + r), (x - r, y + k), (x - r, y));
    p.curve_to((x - r, y - k), (x - k, y - r), (x, y - r));
    p.curve_to((x + k, y - r), (x + r, y - k), (x + r, y));
    p.close_path();
    Item::Path { path: p, fill: Some(Ink::BLACK), stroke: None }
}

/// The triangle of a warning with its mark.
fn triangle(x: f64, y: f64, side: f64) -> Vec<Item> {
    let h = side * 0.866;
    let (top, foot) = (y - h * 0.5, y + h * 0.5);
    let mut edge = BezPath::new();
    edge.move_to((x, top));
    edge.line_to((x + side / 2.0, foot));
    edge.line_to((x - side / 2.0, foot));
    edge.close_path();
    let round = Stroke { round: true, ..Stroke::plain(0.09 * side, Ink::BLACK) };
    let mark = Stroke { round: true, ..Stroke::plain(0.1 * side, Ink::BLACK) };
    vec![
        Item::Path { path: edge, fill: None, stroke: Some(round) },
        Item::line((x, top + 0.36 * h), (x, top + 0.66 * h), mark),
        dot(x, foot - 0.16 * h, 0.06 * side),
    ]
}

/// The beginning of a text, for a complaint.
pub(crate) fn short(text: &str) -> String {
    let mut s: String = text.chars().take(40).collect();
    if text.chars().count() > 40 {
        s.push('…');
    }
    s
}
