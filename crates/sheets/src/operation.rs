//! An operation as it stands on the bench: its number large, what the machine
//! is set to larger than all else, and a box for every measurement.

use std::rc::Rc;

use kurbo::{Rect, Vec2};

use crate::block::{Check, Operation};
use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Side};
use crate::piece::{Head, Keep, Piece, together};
use crate::setter::{Setter, short};
use crate::table::tick_box;
use crate::text::Text;
use crate::typecase::CAPITAL;

/// Width of the margin that the number stands in.
const GUTTER: f64 = 15.0 * MM;

impl Setter<'_> {
    /// Sets an operation: it stays on one page where it fits on one.
    pub fn operation(&mut self, op: &Operation, width: f64) -> Vec<Piece> {
        let inner = width - GUTTER;
        let mut out = vec![self.op_head(op, width)];
        let first = out.len();
        out.extend(self.op_setting(op, inner));
        let figures: Vec<_> = op.speed.iter().chain(&op.feed).chain(&op.dials).cloned().collect();
        if !figures.is_empty() {
            out.push(self.figures(&figures, inner).gap(8.0).keep(Keep::Must));
        }
        for caution in &op.cautions {
            out.push(self.caution(caution, inner).keep(Keep::Must));
        }
        let look = Look { lead: 14.2, ..Look::of(10.2) };
        out.extend(self.list(&op.steps, true, look, inner));
        out.extend(self.blocks(&op.detail, inner));
        out.extend(self.op_checks(&op.checks, inner));
        let again = Rc::new(self.op_again(op, width));
        let mut shifted: Vec<(Rc<Head>, Rc<Head>)> = Vec::new();
        for piece in &mut out[first..] {
            piece.shift(Vec2::new(GUTTER, 0.0));
            let heads = std::mem::take(&mut piece.heads);
            piece.heads.push(again.clone());
            for head in heads {
                // One head for all rows stays one, or each row would bring its own.
                let known =
                    shifted.iter().find(|(old, _)| Rc::ptr_eq(old, &head)).map(|(_, new)| new.clone());
                let new = known.unwrap_or_else(|| {
                    let new = Rc::new(moved(&head, GUTTER));
                    shifted.push((head, new.clone()));
                    new
                });
                piece.heads.push(new);
            }
        }
        out[0].gap = 18.0;
        together(&mut out, Keep::Wish);
        out
    }

    fn op_head(&mut self, op: &Operation, width: f64) -> Piece {
        let mut items = vec![Item::line((0.0, 0.7), (width, 0.7), Stroke::plain(1.4, Ink::BLACK))];
        let top = 7.0;
        let look = |size: f64| Look { lead: size, ..Look::of(size) }.bold();
        let mut number = self.case.words(&op.number, look(30.0));
        let size = 30.0 * ((GUTTER - 6.0) / number.natural()).min(1.0);
        number = self.case.words(&op.number, look(size));
        number.fit(GUTTER, Side::Left);
        // Its top stands level with the top of the title's capitals.
        let level = top + 6.0 - (1.0 - CAPITAL) / 2.0 * size;
        number.lay(self.case, 0.0, level, &mut items);
        let tick = 6.5 * MM;
        let mut right = width - tick;
        items.push(tick_box(right, top + 2.0, tick - 0.5));
        if !op.time.is_empty() {
            let mut time = self.case.words(&op.time, Look { lead: 22.0, ..Look::of(9.0) }.soft());
            right -= time.natural() + 8.0;
            time.fit(time.natural(), Side::Left);
            time.lay(self.case, right, top, &mut items);
        }
        let mut title = self.case.para(&op.title, Look { lead: 18.0, ..Look::of(14.0) }.bold());
        let h = title.fit(right - 8.0 - GUTTER, Side::Left);
        title.lay(self.case, GUTTER, top + 2.0, &mut items);
        let height = (top + 2.0 + h).max(top + 25.0);
        let mark = self.set;
        self.set += 1;
        let mut piece = Piece::new(op_name(op), height, items).keep(Keep::Must);
        piece.marks.push((mark, 0.0));
        piece
    }

    /// The line that stands over what a page break cut off.
    fn op_again(&self, op: &Operation, width: f64) -> Head {
        let mut items = vec![Item::line((0.0, 0.7), (width, 0.7), Stroke::plain(1.4, Ink::BLACK))];
        let text = Text::default().bold(format!("{}  {}", op.number, op.title.words())).small("  continued");
        let piece = self.para(&text, Look::of(9.5), width);
        let height = piece.height;
        items.extend(piece.items.into_iter().map(|mut i| {
            i.shift(Vec2::new(0.0, 5.0));
            i
        }));
        Head { height: height + 11.0, items, only_after_break: true }
    }

    /// Machine, grip and tool side by side, further ones below.
    fn op_setting(&self, op: &Operation, width: f64) -> Vec<Piece> {
        const APART: f64 = 12.0;
        let named = [("machine", &op.machine), ("grip", &op.grip), ("tool", &op.tool)];
        let mut all: Vec<(Text, &Text)> =
            named.into_iter().filter(|(_, t)| !t.is_empty()).map(|(n, t)| (Text::from(n), t)).collect();
        all.extend(op.more.iter().map(|(n, t)| (n.clone(), t)));
        let mut out = Vec::new();
        for (i, row) in all.chunks(3).enumerate() {
            let w = (width - 2.0 * APART) / 3.0;
            let mut piece = Piece::new("the setting up", 0.0, Vec::new());
            for (j, (name, text)) in row.iter().enumerate() {
                let x = j as f64 * (w + APART);
                let mut name = self.para(name, Look::LABEL, w);
                let mut text = self.para(text, Look { lead: 13.0, ..Look::of(10.0) }, w);
                name.shift(Vec2::new(x, 0.0));
                text.shift(Vec2::new(x, name.height));
                piece.height = piece.height.max(name.height + text.height);
                piece.items.append(&mut name.items);
                piece.items.append(&mut text.items);
            }
            out.push(piece.gap(if i == 0 { 3.0 } else { 5.0 }).keep(Keep::Must));
        }
        out
    }

    /// What to measure: limits large, an empty box for the figure, a box to
    /// tick.
    fn op_checks(&self, checks: &[Check], width: f64) -> Vec<Piece> {
        const APART: f64 = 8.0;
        if checks.is_empty() {
            return Vec::new();
        }
        let (write, tick) = (34.0 * MM, 7.5 * MM);
        let tick_x = width - tick;
        let write_x = tick_x - 3.0 * MM - write;
        let left = write_x - 3.0 * APART;
        let (a, b, c) = (0.34 * left, 0.38 * left, 0.28 * left);
        let (bx, cx) = (a + APART, a + b + 2.0 * APART);
        let small = Look { lead: 9.0, ..Look::LABEL };
        let mut head_items = Vec::new();
        let heads = [("check", 0.0), ("limits", bx), ("with", cx), ("measured", write_x), ("good", tick_x)];
        for (text, x) in heads {
            let mut p = self.case.words(text, small);
            p.fit(p.natural(), Side::Left);
            p.lay(self.case, x, 0.0, &mut head_items);
        }
        head_items.push(Item::line((0.0, 11.5), (width, 11.5), Stroke::plain(0.9, Ink::BLACK)));
        let head = Rc::new(Head { height: 12.0, items: head_items, only_after_break: false });
        let mut out = Vec::new();
        for (i, check) in checks.iter().enumerate() {
            let pad = 4.0;
            let texts = [
                (&check.what, 0.0, a, Look { lead: 13.0, ..Look::of(10.0) }),
                (&check.limits, bx, b, Look { lead: 16.5, ..Look::of(13.0) }.bold()),
                (&check.with, cx, c, Look { lead: 12.0, ..Look::of(9.0) }),
            ];
            let mut set: Vec<Piece> = texts
                .iter()
                .map(|(text, x, w, look)| {
                    let mut p = self.para(text, *look, *w);
                    p.shift(Vec2::new(*x, 0.0));
                    p
                })
                .collect();
            let height = set.iter().map(|p| p.height).fold(9.5 * MM, f64::max) + 2.0 * pad;
            let mut items = Vec::new();
            for p in &mut set {
                p.shift(Vec2::new(0.0, (height - p.height) / 2.0));
                items.append(&mut p.items);
            }
            let box_h = 9.5 * MM;
            let y = (height - box_h) / 2.0;
            let area = Rect::new(write_x, y, write_x + write, y + box_h);
            items.push(Item::rect(area, None, Some(Stroke::plain(0.8, Ink::BLACK))));
            if !check.unit.is_empty() {
                let mut unit = self.case.words(&check.unit, Look { lead: 12.0, ..Look::of(9.0) }.soft());
                unit.fit(write - 8.0, Side::Right);
                unit.lay(self.case, write_x + 4.0, y + box_h - 14.0, &mut items);
            }
            items.push(tick_box(tick_x, (height - tick) / 2.0, tick - 0.5));
            items.push(Item::line((0.0, height), (width, height), Stroke::plain(0.4, Ink::RULE)));
            let mut piece = Piece::new(format!("the check “{}”", short(&check.what.words())), height, items);
            piece.heads.push(head.clone());
            piece.gap = if i == 0 { 12.0 } else { 0.0 };
            out.push(piece);
        }
        out
    }
}

fn op_name(op: &Operation) -> String {
    format!("operation {} “{}”", op.number, short(&op.title.words()))
}

fn moved(head: &Head, x: f64) -> Head {
    let mut items = head.items.clone();
    items.iter_mut().for_each(|i| i.shift(Vec2::new(x, 0.0)));
    Head { height: head.height, items, only_after_break: head.only_after_break }
}
