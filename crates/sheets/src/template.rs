//! A template: a drawing at full size, and bars that tell whether the printer
//! kept it so, across the paper and along it.

use kurbo::{BezPath, Vec2};

use crate::block::Template;
use crate::drawn::drawn;
use crate::page::{Ink, Item, Stroke};
use crate::paper::MM;
use crate::para::{Look, Side};
use crate::piece::Piece;
use crate::setter::Setter;
use crate::unprintable::Unprintable;

/// Height kept for the bar across and what is written about it.
const FOOT: f64 = 24.0 * MM;
/// Width kept for the bar along the paper, where the drawing leaves it.
const BESIDE: f64 = 10.0 * MM;
const LONG: f64 = 100.0 * MM;

impl Setter<'_> {
    /// Sets a template: it takes a whole page.
    pub fn template(&mut self, t: &Template, width: f64) -> Piece {
        let s = &t.sketch;
        let what = format!("the template “{}”", s.title);
        if s.scale.0 != s.scale.1 || s.scale.0 == 0 {
            self.troubles.push(Unprintable::NotFullSize { what: s.title.clone() });
        }
        let mut items = Vec::new();
        let mut top = 0.0;
        if !t.note.is_empty() {
            let note = self.para(&t.note, Look::BODY, width);
            top = note.height + 6.0;
            items.extend(note.items);
        }
        let (w, h) = (s.width * MM, s.height * MM);
        let room = self.room - FOOT - top;
        if w > width + 0.01 {
            let (width, room) = (s.width, width / MM);
            self.troubles.push(Unprintable::TooWide { what: what.clone(), width, room });
        }
        if h > room + 0.01 {
            let (height, room) = (s.height, room / MM);
            self.troubles.push(Unprintable::TooTall { what: what.clone(), height, room });
        }
        let both = w <= width - BESIDE;
        let across = if both { width - BESIDE } else { width };
        let at = Vec2::new(((across - w) / 2.0).max(0.0), top + ((room - h) / 2.0).max(0.0));
        let mut drawing = drawn(self.case, s, 1.0, &mut self.troubles);
        drawing.iter_mut().for_each(|i| i.shift(at));
        items.append(&mut drawing);
        let y = self.room - FOOT + 9.0 * MM;
        items.push(bar(|along, off| (along, y - off)));
        if both {
            let x = width - 1.0 * MM;
            let foot = y;
            items.push(bar(|along, off| (x - off, foot - along)));
        }
        self.bar_words(y, both, &mut items);
        let mark = self.set;
        self.set += 1;
        Piece { fresh: true, marks: vec![(mark, 0.0)], ..Piece::new(what, self.room, items) }
    }

    /// What is written beside and below the bar, with room for a figure.
    fn bar_words(&self, y: f64, both: bool, items: &mut Vec<Item>) {
        let look = Look::of(9.5);
        let say = if both {
            "Each bar is 100 mm from end to end. If both are off alike, reprint at 100 / measured."
        } else {
            "The bar is 100 mm from end to end. If it is off, reprint at 100 / measured."
        };
        let mut p = self.case.words(say, look.bold());
        p.fit(p.natural(), Side::Left);
        p.lay(self.case, 0.0, y + 3.0 * MM, items);
        let names: &[&str] = if both { &["measured across", "measured along"] } else { &["measured"] };
        let end = LONG + 60.0 * MM;
        for (i, name) in names.iter().rev().enumerate() {
            let base = y + 1.2 * MM - 8.0 * MM * i as f64;
            let mut p = self.case.words(name, look);
            p.fit(p.natural(), Side::Left);
            let x = LONG + 5.0 * MM;
            p.lay(self.case, x, base - p.baseline(), items);
            let mut mm = self.case.words("mm", look);
            let unit = mm.natural();
            mm.fit(unit, Side::Left);
            mm.lay(self.case, end - unit, base - mm.baseline(), items);
            let (from, to) = (LONG + 34.0 * MM, end - unit - 3.0);
            items.push(Item::line((from, base + 1.5), (to, base + 1.5), Stroke::plain(0.6, Ink::BLACK)));
        }
    }
}

/// A bar of exactly 100 mm from end to end, a tick every 10 mm. `place` puts a
/// length along the bar and a height off it on the page.
fn bar(place: impl Fn(f64, f64) -> (f64, f64)) -> Item {
    let tick = 0.2 * MM;
    let mut path = BezPath::new();
    let mut block = |a0: f64, o0: f64, a1: f64, o1: f64| {
        path.move_to(place(a0, o0));
        path.line_to(place(a1, o0));
        path.line_to(place(a1, o1));
        path.line_to(place(a0, o1));
        path.close_path();
    };
    block(0.0, -1.2 * MM, LONG, 0.0);
    for i in 0..=10 {
        // The outermost ticks end flush with the bar.
        let a = (f64::from(i) * 10.0 * MM - tick / 2.0).clamp(0.0, LONG - tick);
        let high = if i % 5 == 0 { 3.0 * MM } else { 2.0 * MM };
        block(a, 0.0, a + tick, high);
    }
    Item::Path { path, fill: Some(Ink::BLACK), stroke: None }
}
