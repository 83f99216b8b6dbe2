//! An operation as it stands on the bench: its number large, what the machine
//! is set to larger than all else, and a box for every measurement.

use std::rc::Rc;

use kurbo::{Rect, Vec2};

use crate::block::{Block, Check, Figure, Operation};
use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Side};
use crate::piece::{Head, Keep, Piece, beside, stack, together};
use crate::setter::{Setter, heavy, short};
use crate::table::{self, Closeness, Table, tick_box};
use crate::text::{Span, Style, Text};
use crate::typecase::{CAPITAL, LEAST};

/// Width of the margin that the number stands in.
const GUTTER: f64 = 12.0 * MM;
/// Between columns of an operation.
const APART: f64 = 16.0;
/// Words of the steps.
const STEP: Look = Look { lead: 12.5, ..Look::of(9.5) };

impl Setter<'_> {
    /// Sets an operation: it stays on one page where that leaves little white.
    pub fn operation(&mut self, op: &Operation, width: f64) -> Vec<Piece> {
        let inner = width - GUTTER;
        let mut out = vec![self.op_head(op, width)];
        out.extend(self.op_setting(op, inner));
        let figures: Vec<_> = op.speed.iter().chain(&op.feed).chain(&op.dials).cloned().collect();
        let mut rest = Vec::new();
        if !figures.is_empty() {
            rest.push(self.figures(&figures, inner).gap(3.0).keep(Keep::Must));
        }
        rest.extend(self.op_cautions(op, inner));
        rest.extend(self.op_work(op, inner));
        if let Some(piece) = self.few_figures(op, &figures, inner)
            && piece.height < stack("", rest.clone()).height - 6.0
        {
            // Taken apart, it is again what it would have been otherwise.
            let instead = rest.into_iter().flat_map(Piece::apart).collect();
            rest = vec![Piece { instead, ..piece }];
        }
        out.append(&mut rest);
        let again = Rc::new(self.op_again(op, width));
        let mut known = Vec::new();
        for piece in &mut out[1..] {
            piece.shift(Vec2::new(GUTTER, 0.0));
            piece.under(&again, GUTTER, &mut known);
        }
        out[0].gap = 8.0;
        together(&mut out, Keep::Wish);
        out
    }

    fn op_cautions(&self, op: &Operation, width: f64) -> Vec<Piece> {
        op.cautions.iter().map(|c| self.caution(c, width).gap(5.0).keep(Keep::Must)).collect()
    }

    /// One or two figures with all the rest beside them.
    fn few_figures(&mut self, op: &Operation, figures: &[Figure], width: f64) -> Option<Piece> {
        let left_w = match figures.len() {
            1 => 0.25 * width,
            2 => 0.43 * width,
            _ => return None,
        };
        if !op.detail.is_empty() {
            return None;
        }
        let right_w = width - left_w - APART;
        let left = vec![self.figures(figures, left_w)];
        let mut right = self.op_cautions(op, right_w);
        right.extend(self.op_work(op, right_w));
        let piece = beside_whole(&op_name(op), left, right, left_w + APART);
        (piece.height < 0.3 * self.room).then(|| piece.gap(4.0))
    }

    /// Number, title, tool, time and a box to tick on one line.
    fn op_head(&mut self, op: &Operation, width: f64) -> Piece {
        const TITLE: f64 = 12.5;
        const LEAD: f64 = 16.0;
        let mut items = vec![Item::line((0.0, 0.6), (width, 0.6), Stroke::plain(1.2, Ink::BLACK))];
        let top = 4.0;
        let look = |size: f64| Look { lead: size, ..Look::of(size) }.bold();
        let mut number = self.case.words(&op.number, look(25.0));
        let size = 25.0 * ((GUTTER - 6.0) / number.natural()).min(1.0);
        number = self.case.words(&op.number, look(size));
        number.fit(GUTTER, Side::Left);
        // Its top stands level with the top of the title's capitals.
        let level = top + (LEAD - CAPITAL * TITLE) / 2.0 - (1.0 - CAPITAL) / 2.0 * size;
        number.lay(self.case, 0.0, level, &mut items);
        let tick = 5.5 * MM;
        let mut right = width - tick;
        items.push(tick_box(right, top, tick - 0.5));
        if !op.time.is_empty() {
            let mut time = self.case.words(&op.time, Look { lead: LEAD, ..Look::of(9.0) }.soft());
            right -= time.natural() + 8.0;
            time.fit(time.natural(), Side::Left);
            time.lay(self.case, right, top, &mut items);
        }
        let mut text = heavy(&op.title);
        if !op.tool.is_empty() {
            text = text.plain("   ");
            let small = |s: &Span| Style { scale: (9.5 / TITLE) as f32, ..s.style };
            text.0.extend(op.tool.0.iter().map(|s| Span { text: s.text.clone(), style: small(s) }));
        }
        let mut title = self.case.para(&text, Look { lead: LEAD, ..Look::of(TITLE) });
        let h = title.fit(right - 8.0 - GUTTER, Side::Left);
        title.lay(self.case, GUTTER, top, &mut items);
        let mark = self.set;
        self.set += 1;
        let mut piece = Piece::new(op_name(op), top + h.max(LEAD), items).keep(Keep::Must);
        piece.marks.push((mark, 0.0));
        piece
    }

    /// The line that stands over what a page break cut off.
    fn op_again(&self, op: &Operation, width: f64) -> Head {
        let mut items = vec![Item::line((0.0, 0.6), (width, 0.6), Stroke::plain(1.2, Ink::BLACK))];
        let text = Text::default().bold(format!("{}  {}", op.number, op.title.words())).small("  continued");
        let piece = self.para(&text, Look::of(9.5), width);
        let height = piece.height;
        items.extend(piece.items.into_iter().map(|mut i| {
            i.shift(Vec2::new(0.0, 4.0));
            i
        }));
        Head { height: height + 8.0, items, only_after_break: true }
    }

    /// Machine, grip and further names in a line of text.
    fn op_setting(&self, op: &Operation, width: f64) -> Option<Piece> {
        let named = [(Text::from("machine"), &op.machine), (Text::from("grip"), &op.grip)];
        let more = op.more.iter().map(|(n, t)| (n.clone(), t));
        let mut text = Text::default();
        for (name, value) in named.into_iter().chain(more).filter(|(_, t)| !t.is_empty()) {
            let gap = if text.0.is_empty() { "" } else { "    " };
            text = text.small(format!("{gap}{}  ", name.words()));
            text.0.extend(value.0.iter().cloned());
        }
        (!text.0.is_empty()).then(|| self.para(&text, STEP, width).gap(1.0).keep(Keep::Must))
    }

    /// Steps, tables and checks, arranged so that they take the least height.
    fn op_work(&mut self, op: &Operation, width: f64) -> Vec<Piece> {
        let what = op_name(op);
        let tables = only_tables(&op.detail);
        let detail = match &tables {
            Some(tables) => self.op_tables(tables, width, Closeness::Close),
            None => self.blocks(&op.detail, width),
        };
        let mut plain = self.op_steps(op, width);
        plain.extend(detail);
        self.then_checks(&mut plain, op, width);
        let Some(tables) = tables else { return plain };
        let mut ways: Vec<Vec<Piece>> = Vec::new();
        let has_words = !op.steps.is_empty() || !op.checks.is_empty();
        if !tables.is_empty() && has_words {
            let wants = tables.iter().map(|(_, t)| table::narrow_width(self.case, t)).fold(0.0, f64::max);
            let right_w = wants.min(0.54 * width);
            let left_w = width - right_w - APART;
            let right = self.op_tables(&tables, right_w, Closeness::Narrow);
            let steps = self.op_steps(op, left_w);
            let mut left = steps.clone();
            self.then_checks(&mut left, op, left_w);
            ways.push(beside(&what, left, right.clone(), left_w + APART));
            if !op.steps.is_empty() {
                let mut way = beside(&what, steps, right, left_w + APART);
                self.then_checks(&mut way, op, width);
                ways.push(way);
            }
        }
        if let [(title, table)] = tables.as_slice()
            && let Some(halves) = self.in_halves(title.as_ref(), table, width)
        {
            let mut way = self.op_steps(op, width);
            way.extend(halves);
            self.then_checks(&mut way, op, width);
            ways.push(way);
        }
        if tables.is_empty() && !op.steps.is_empty() && !op.checks.is_empty() {
            let left_w = 0.5 * width;
            let right = self.op_checks(&op.checks, width - left_w - APART);
            ways.push(vec![beside_whole(&what, self.op_steps(op, left_w), right, left_w + APART)]);
        }
        // A simple order of things is worth a few points of height.
        let tall = |way: &[Piece]| stack("", way.to_vec()).height;
        let mut best = (tall(&plain) - 6.0, plain.clone());
        for way in ways {
            let high = tall(&way);
            if high < best.0 && way.iter().all(|p| p.height < 0.5 * self.room) {
                best = (high, way);
            }
        }
        if let [whole] = best.1.as_mut_slice()
            && plain.len() > 1
        {
            whole.instead = plain;
        }
        if let Some(first) = best.1.first_mut() {
            first.gap = 4.0;
        }
        best.1
    }

    /// Checks below what stands there; a few of them do not begin a page without anything that they check.
    fn then_checks(&self, way: &mut Vec<Piece>, op: &Operation, width: f64) {
        let checks = self.op_checks(&op.checks, width);
        if let (Some(last), 1..=3) = (way.last_mut(), checks.len()) {
            last.keep = Keep::Must;
        }
        way.extend(checks);
    }

    /// The steps; a last one does not stand alone.
    fn op_steps(&self, op: &Operation, width: f64) -> Vec<Piece> {
        let mut out = self.list(&op.steps, true, STEP, width);
        let count = out.len();
        for (i, piece) in out.iter_mut().enumerate() {
            piece.gap = if i == 0 { 4.0 } else { 1.5 };
            piece.keep = if i + 2 == count { Keep::Must } else { Keep::Free };
        }
        out
    }

    /// Tables with their titles under one another.
    fn op_tables(&self, tables: &[(Option<Text>, Table)], width: f64, close: Closeness) -> Vec<Piece> {
        let mut out = Vec::new();
        for (title, table) in tables {
            let mut rows = table::pieces(self.case, table, width, close);
            if let Some(title) = title {
                out.push(self.op_title(title, width));
            }
            if let Some(first) = rows.first_mut() {
                first.gap = if title.is_some() { 0.0 } else { 4.0 };
            }
            out.append(&mut rows);
        }
        out
    }

    /// A long narrow table in two columns side by side, read down the first;
    /// in several such blocks where it is very long, so that a page may break
    /// between them.
    fn in_halves(&self, title: Option<&Text>, whole: &Table, width: f64) -> Option<Vec<Piece>> {
        const BLOCK: usize = 24;
        let w = table::narrow_width(self.case, whole);
        let count = whole.rows.len();
        if count < 8 || 2.0 * w + APART > width || whole.rows.iter().any(|r| r.with_above) {
            return None;
        }
        let blocks = count.div_ceil(BLOCK);
        let part = |rows: &[table::Row]| {
            let part = (None, Table { rows: rows.to_vec(), ..whole.clone() });
            self.op_tables(&[part], w, Closeness::Narrow)
        };
        let mut out = Vec::new();
        if let Some(title) = title {
            out.push(self.op_title(title, width));
        }
        for rows in whole.rows.chunks(count.div_ceil(blocks)) {
            let (first, second) = rows.split_at(rows.len().div_ceil(2));
            let both = beside_whole("a table in two columns", part(first), part(second), w + APART);
            out.push(both.gap(if out.len() == 1 { 0.0 } else { 5.0 }));
        }
        Some(out)
    }

    /// The words over a table.
    fn op_title(&self, title: &Text, width: f64) -> Piece {
        let look = Look { lead: 10.0, ..Look::of(7.5) }.soft();
        self.para(title, look, width).gap(4.0).keep(Keep::Must)
    }

    /// What to measure: limits large, an empty box for the figure, a box to
    /// tick. In a narrow place the limits stand below what is measured.
    fn op_checks(&self, checks: &[Check], width: f64) -> Vec<Piece> {
        const GAP: f64 = 7.0;
        let narrow = width < 330.0;
        let box_h = 8.0 * MM;
        let tick = 6.5 * MM;
        let tick_x = width - tick;
        let write = if narrow {
            // The limits on one line come first; a hand needs 17 mm at least.
            (width - tick - 2.0 * GAP - 122.0).clamp(17.0 * MM, 24.0 * MM)
        } else {
            34.0 * MM
        };
        let write_x = tick_x - GAP - write;
        let has_box = |c: &Check| !c.limits.is_empty() || !c.unit.is_empty();
        let any_with = checks.iter().any(|c| !c.with.is_empty());
        let left = write_x - GAP;
        let bx = if any_with { 0.33 } else { 0.5 } * left;
        let cx = 0.72 * left;
        let mut names = vec![("check", 0.0)];
        if !narrow && checks.iter().any(|c| !c.limits.is_empty()) {
            names.push(("limits", bx));
        }
        if !narrow && any_with {
            names.push(("with", cx));
        }
        if checks.iter().any(has_box) {
            names.push(("measured", write_x));
        }
        names.push(("good", tick_x));
        let mut head_items = Vec::new();
        for (text, x) in names {
            let mut p = self.case.words(text, Look { lead: 8.0, ..Look::of(LEAST) }.soft());
            p.fit(p.natural(), Side::Left);
            p.lay(self.case, x, 0.0, &mut head_items);
        }
        head_items.push(Item::line((0.0, 9.0), (width, 9.0), Stroke::plain(0.7, Ink::BLACK)));
        let head = Rc::new(Head { height: 9.4, items: head_items, only_after_break: false });
        let mut out = Vec::new();
        for (i, check) in checks.iter().enumerate() {
            let boxed = has_box(check);
            let end = if boxed { left } else { tick_x - GAP };
            let what = (&check.what, STEP);
            let limits = (&check.limits, Look { lead: 14.0, ..Look::of(12.0) }.bold());
            let with = (&check.with, Look { lead: 10.5, ..Look::of(8.5) });
            // Each column with its place and the texts in it from top to bottom.
            let columns = if narrow {
                vec![(0.0, end, vec![what, limits, with])]
            } else if check.limits.is_empty() && check.with.is_empty() {
                vec![(0.0, end, vec![what])]
            } else if any_with {
                vec![
                    (0.0, bx - GAP, vec![what]),
                    (bx, cx - GAP - bx, vec![limits]),
                    (cx, left - cx, vec![with]),
                ]
            } else {
                vec![(0.0, bx - GAP, vec![what]), (bx, left - bx, vec![limits])]
            };
            let mut set: Vec<Piece> = Vec::new();
            for (x, w, texts) in columns {
                let texts = texts.into_iter().filter(|(t, _)| !t.is_empty());
                let mut column = stack("", texts.map(|(t, look)| self.para(t, look, w)).collect());
                column.shift(Vec2::new(x, 0.0));
                set.push(column);
            }
            let least = if boxed { box_h + 4.0 } else { tick + 3.0 };
            let height = set.iter().map(|p| p.height + 3.0).fold(least, f64::max);
            let mut items = Vec::new();
            for mut p in set {
                p.shift(Vec2::new(0.0, (height - p.height) / 2.0));
                items.append(&mut p.items);
            }
            if boxed {
                let y = (height - box_h) / 2.0;
                let area = Rect::new(write_x, y, write_x + write, y + box_h);
                items.push(Item::rect(area, None, Some(Stroke::plain(0.8, Ink::BLACK))));
                // In a small box the hand needs the room, and the limits name the unit.
                if !check.unit.is_empty() && (!narrow || check.limits.is_empty()) {
                    let mut unit = self.case.words(&check.unit, Look { lead: 10.0, ..Look::of(8.0) }.soft());
                    unit.fit(write - 6.0, Side::Right);
                    unit.lay(self.case, write_x + 3.0, y + box_h - 11.0, &mut items);
                }
            }
            items.push(tick_box(tick_x, (height - tick) / 2.0, tick - 0.5));
            items.push(Item::line((0.0, height), (width, height), Stroke::plain(0.4, Ink::RULE)));
            let mut piece = Piece::new(format!("the check “{}”", short(&check.what.words())), height, items);
            piece.heads.push(head.clone());
            piece.gap = if i == 0 { 5.0 } else { 0.0 };
            out.push(piece);
        }
        // A few checks are not torn apart.
        if out.len() <= 3 {
            together(&mut out, Keep::Must);
        }
        out
    }
}

/// The tables of a detail that is nothing else, each with the remark over it.
fn only_tables(detail: &[Block]) -> Option<Vec<(Option<Text>, Table)>> {
    let mut out = Vec::new();
    let mut title: Option<Text> = None;
    for block in detail {
        match block {
            Block::Remark(text) if title.is_none() => title = Some(text.clone()),
            Block::Table(table) => out.push((title.take(), table.clone())),
            _ => return None,
        }
    }
    title.is_none().then_some(out)
}

/// Two columns side by side as one piece.
fn beside_whole(what: &str, left: Vec<Piece>, right: Vec<Piece>, x: f64) -> Piece {
    let mut out = stack(what, left);
    let mut right = stack(what, right);
    right.shift(Vec2::new(x, 0.0));
    out.height = out.height.max(right.height);
    out.items.append(&mut right.items);
    out
}

fn op_name(op: &Operation) -> String {
    format!("operation {} “{}”", op.number, short(&op.title.words()))
}
