//! Blocks set in a width, each as pieces that are never cut.

use kurbo::{BezPath, Rect, Vec2};

use crate::block::{Block, Caution, Figure, Fit, Picture};
use crate::drawn::drawn;
use crate::formula;
use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Para, Side};
use crate::piece::{Keep, Piece, stack, together};
use crate::table;
use crate::text::Text;
use crate::typecase::Typecase;
use crate::unprintable::Unprintable;

/// Size of a large figure in points: read at arm's length.
const FIGURE: f64 = 21.0;

/// Sets blocks, counts headings and gathers what cannot be printed.
pub(crate) struct Setter<'a> {
    pub case: &'a Typecase,
    /// Headings of the whole document in order.
    pub headings: &'a [(u8, String)],
    /// How many of them have been set.
    pub set: usize,
    /// Height of the body of a page.
    pub room: f64,
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
            Block::Table(t) => table::pieces(self.case, t, width),
            Block::Formula(f, remark) => vec![self.formula(f, remark, width)],
            Block::Picture(p) => vec![self.picture(p, width)],
            Block::Caution(c) => vec![self.caution(c, width)],
            Block::Figures(f) => vec![self.figures(f, width).gap(8.0)],
            Block::Operation(op) => self.operation(op, width),
            Block::Columns(columns) => vec![self.columns(columns, width)],
            Block::Together(blocks) => {
                let mut pieces = self.blocks(blocks, width);
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
            2 => (Look::display(12.5), 15.0),
            _ => (Look::display(10.0), 11.0),
        };
        let mark = self.set;
        self.set += 1;
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
        let indent = if numbers { 18.0 } else { 12.0 };
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

    fn facts(&self, facts: &[(Text, Text)], width: f64) -> Vec<Piece> {
        let look = Look::BODY;
        let widest = facts.iter().map(|(n, _)| self.case.para(n, look).natural()).fold(0.0, f64::max);
        let left = widest.min(0.4 * width) + 14.0;
        let mut out = Vec::new();
        for (i, (name, value)) in facts.iter().enumerate() {
            let mut piece = self.para(value, look.bold(), width - left);
            piece.shift(Vec2::new(left, 0.0));
            let name = self.para(name, look.soft(), left - 14.0);
            piece.height = piece.height.max(name.height);
            piece.items.extend(name.items);
            out.push(piece.gap(if i == 0 { 6.0 } else { 2.0 }));
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

    /// A warning: a heavy box with a triangle, plain in black and white.
    pub fn caution(&self, c: &Caution, width: f64) -> Piece {
        let left = 40.0;
        let mut items = Vec::new();
        let inner = width - left - 10.0;
        let mut y = 7.0;
        let mut title = self.case.words(&c.title, Look { lead: 13.0, ..Look::of(10.0) }.bold());
        let h = title.fit(inner, Side::Left);
        title.lay(self.case, left, y, &mut items);
        y += h + 1.0;
        for text in &c.lines {
            let mut p = self.case.para(text, Look { lead: 12.2, ..Look::of(9.2) });
            let h = p.fit(inner, Side::Left);
            p.lay(self.case, left, y, &mut items);
            y += h + 1.5;
        }
        let height = (y + 5.0).max(36.0);
        let frame = Rect::new(0.75, 0.75, width - 0.75, height - 0.75);
        items.push(Item::rect(frame, None, Some(Stroke::plain(1.5, Ink::BLACK))));
        items.extend(triangle(20.0, height / 2.0, 23.0));
        Piece::new(format!("the caution “{}”", c.title), height, items).gap(8.0)
    }

    /// Large values in boxes side by side, all of one width, over as many
    /// lines as they need.
    pub fn figures(&self, figures: &[Figure], width: f64) -> Piece {
        const PAD: f64 = 8.0;
        const APART: f64 = 5.0;
        let mut cells: Vec<[Para; 3]> = Vec::new();
        let mut widest = 0.0_f64;
        for f in figures {
            let label = self.case.words(&f.label, Look::LABEL);
            let value = self.case.words(&f.value, Look::display(FIGURE));
            let note = self.case.words(&f.note, Look::LABEL);
            // Words may take a second line, the value should not.
            let words = label.natural().max(note.natural()).min(96.0);
            widest =
                widest.max(value.natural().max(words).max(label.min()).max(note.min()) + 2.0 * PAD + 1.0);
            cells.push([label, value, note]);
        }
        let most = (((width + APART) / (widest + APART)).floor() as usize).clamp(1, figures.len().max(1));
        // The same number in every line, as far as it goes.
        let lines = figures.len().div_ceil(most).max(1);
        let across = figures.len().div_ceil(lines).max(1);
        let w = ((width + APART) / across as f64 - APART).min((0.5 * width).max(widest)).min(width);
        let mut items = Vec::new();
        let mut y = 0.0;
        for row in cells.chunks_mut(across) {
            let mut high = 0.0_f64;
            for (i, [label, value, note]) in row.iter_mut().enumerate() {
                let x = i as f64 * (w + APART) + PAD;
                let inner = w - 2.0 * PAD;
                let mut at = y + 5.0;
                at += lay(label, self.case, x, at, inner, &mut items);
                at += lay(value, self.case, x, at, inner, &mut items);
                if note.natural() > 0.0 {
                    at += 1.0 + lay(note, self.case, x, at + 1.0, inner, &mut items);
                }
                high = high.max(at + 5.0 - y);
            }
            for i in 0..row.len() {
                let x = i as f64 * (w + APART);
                let area = Rect::new(x + 0.4, y + 0.4, x + w - 0.4, y + high - 0.4);
                items.push(Item::rect(area, None, Some(Stroke::plain(0.8, Ink::BLACK))));
            }
            y += high + APART;
        }
        Piece::new("a line of figures", (y - APART).max(0.0), items)
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

    fn contents(&self, depth: u8, width: f64) -> Vec<Piece> {
        let mut out = Vec::new();
        for (i, (level, words)) in self.headings.iter().enumerate() {
            if *level > depth {
                continue;
            }
            let first = *level == 1;
            let look = if first { Look::BODY.bold() } else { Look::BODY };
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
            out.push(piece.gap(if first { 7.0 } else { 2.0 }));
        }
        out
    }
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
    let round = Stroke { round: true, ..Stroke::plain(2.0, Ink::BLACK) };
    let mark = Stroke { round: true, ..Stroke::plain(2.4, Ink::BLACK) };
    vec![
        Item::Path { path: edge, fill: None, stroke: Some(round) },
        Item::line((x, top + 0.36 * h), (x, top + 0.66 * h), mark),
        dot(x, foot - 0.16 * h, 1.4),
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
