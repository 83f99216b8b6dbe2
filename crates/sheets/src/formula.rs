//! Formulas: fractions, roots, indices and brackets set as boxes.

use kurbo::{BezPath, Vec2};

use crate::page::{Ink, Item, Stroke};
use crate::para::{Look, Side};
use crate::text::{Style, Text};
use crate::typecase::{LEAST, Typecase};

/// A formula as it is to be seen.
#[derive(Clone, Debug, PartialEq)]
pub enum Formula {
    /// Words, numbers and operators.
    Words(Text),
    /// Parts one after the other.
    Row(Vec<Formula>),
    /// One over the other with a rule between.
    Over(Box<Formula>, Box<Formula>),
    /// A square root.
    Root(Box<Formula>),
    /// A base with a lower and an upper index.
    Index(Box<Formula>, Option<Box<Formula>>, Option<Box<Formula>>),
    /// Round brackets that grow with what they hold.
    Bracket(Box<Formula>),
}

impl Formula {
    /// A quantity: its letter slanted.
    #[must_use]
    pub fn name(letter: &str) -> Self {
        Self::Words(Text::default().italic(letter))
    }
    /// A number, a unit or a word: upright.
    #[must_use]
    pub fn words(words: &str) -> Self {
        Self::Words(Text::from(words))
    }
    /// A sign between two things, with room at both sides.
    #[must_use]
    pub fn sign(sign: &str) -> Self {
        Self::Words(Text::default().styled(format!("\u{a0}{sign}\u{a0}"), Style::default()))
    }
    /// One over another.
    #[must_use]
    pub fn over(above: Self, below: Self) -> Self {
        Self::Over(Box::new(above), Box::new(below))
    }
    /// A square root.
    #[must_use]
    pub fn root(of: Self) -> Self {
        Self::Root(Box::new(of))
    }
    /// With a lower index.
    #[must_use]
    pub fn lower(self, index: &str) -> Self {
        Self::Index(Box::new(self), Some(Box::new(Self::words(index))), None)
    }
    /// With an upper index.
    #[must_use]
    pub fn upper(self, index: &str) -> Self {
        Self::Index(Box::new(self), None, Some(Box::new(Self::words(index))))
    }
    /// Several multiplied by one another.
    #[must_use]
    pub fn product(of: Vec<Self>) -> Self {
        let mut row = Vec::new();
        for f in of {
            if !row.is_empty() {
                row.push(Self::sign("·"));
            }
            row.push(f);
        }
        Self::Row(row)
    }
    /// Left side, equals, right side.
    #[must_use]
    pub fn equal(left: Self, right: Self) -> Self {
        Self::Row(vec![left, Self::sign("="), right])
    }
    /// In brackets.
    #[must_use]
    pub fn bracket(of: Self) -> Self {
        Self::Bracket(Box::new(of))
    }
}

/// A formula with its size: items hang on a baseline at y = 0.
pub(crate) struct Set {
    pub width: f64,
    pub up: f64,
    pub down: f64,
    pub items: Vec<Item>,
}

impl Set {
    fn shifted(self, x: f64, y: f64) -> impl Iterator<Item = Item> {
        self.items.into_iter().map(move |mut i| {
            i.shift(Vec2::new(x, y));
            i
        })
    }
}

/// The line on which fractions and signs are centred, over the size.
const AXIS: f64 = 0.27;
const RULE: f64 = 0.055;
const GAP: f64 = 0.16;

/// Sets a formula at a size in points.
pub(crate) fn set(case: &Typecase, f: &Formula, size: f64) -> Set {
    match f {
        Formula::Words(text) => {
            let mut p = case.para(text, Look { lead: size, ..Look::of(size) });
            p.fit(p.natural(), Side::Left);
            let mut items = Vec::new();
            p.lay(case, 0.0, -p.baseline(), &mut items);
            Set { width: p.natural(), up: 0.74 * size, down: 0.22 * size, items }
        }
        Formula::Row(parts) => {
            let mut row = Set { width: 0.0, up: 0.0, down: 0.0, items: Vec::new() };
            for part in parts {
                let one = set(case, part, size);
                row.up = row.up.max(one.up);
                row.down = row.down.max(one.down);
                let (x, w) = (row.width, one.width);
                row.items.extend(one.shifted(x, 0.0));
                row.width += w;
            }
            row
        }
        Formula::Over(above, below) => {
            let (a, b) = (set(case, above, size), set(case, below, size));
            let width = a.width.max(b.width) + 0.3 * size;
            let (axis, gap) = (-AXIS * size, GAP * size);
            let (ay, by) = (axis - gap - a.down, axis + gap + b.up);
            let (up, down) = (-ay + a.up, by + b.down);
            let rule = Stroke::plain(RULE * size, Ink::BLACK);
            let mut items = vec![Item::line((0.08 * size, axis), (width - 0.08 * size, axis), rule)];
            let (ax, bx) = ((width - a.width) / 2.0, (width - b.width) / 2.0);
            items.extend(a.shifted(ax, ay));
            items.extend(b.shifted(bx, by));
            Set { width, up, down, items }
        }
        Formula::Root(of) => {
            let inner = set(case, of, size);
            let lead = 0.72 * size;
            let (top, low) = (-(inner.up + 0.16 * size), inner.down);
            let width = lead + inner.width + 0.1 * size;
            let mut path = BezPath::new();
            path.move_to((0.08 * size, -0.30 * size));
            path.line_to((0.22 * size, -0.38 * size));
            path.line_to((0.42 * size, low));
            path.line_to((0.64 * size, top));
            path.line_to((width, top));
            let stroke = Stroke { round: true, ..Stroke::plain(RULE * size, Ink::BLACK) };
            let mut items = vec![Item::Path { path, fill: None, stroke: Some(stroke) }];
            let down = inner.down;
            items.extend(inner.shifted(lead, 0.0));
            Set { width, up: -top + RULE * size, down, items }
        }
        Formula::Index(base, lower, upper) => {
            let base = set(case, base, size);
            let small = (0.68 * size).max(LEAST);
            let mut out = Set { width: base.width, up: base.up, down: base.down, items: Vec::new() };
            let (bw, bup, bdown) = (base.width, base.up, base.down);
            out.items.extend(base.shifted(0.0, 0.0));
            let x = bw + 0.05 * size;
            let lower = lower.as_ref().map(|l| set(case, l, small));
            let upper = upper.as_ref().map(|u| set(case, u, small));
            let mut low = (0.20 * size).max(bdown - 0.1 * size);
            let mut high = (0.36 * size).max(bup - 0.42 * size);
            if let (Some(l), Some(u)) = (&lower, &upper) {
                // Two indices, one over the other, must not touch.
                let apart = (l.up + u.down + 0.02 * size - low - high).max(0.0);
                (low, high) = (low + apart / 2.0, high + apart / 2.0);
            }
            for (one, y) in [(lower, low), (upper, -high)] {
                let Some(one) = one else { continue };
                out.down = out.down.max(y + one.down);
                out.up = out.up.max(one.up - y);
                out.width = out.width.max(x + one.width);
                out.items.extend(one.shifted(x, y));
            }
            out
        }
        Formula::Bracket(of) => {
            let inner = set(case, of, size);
            let (top, low) = (-(inner.up + 0.06 * size), inner.down + 0.06 * size);
            let side = 0.36 * size;
            let width = inner.width + 2.0 * side;
            let bow = |x0: f64, out: f64| {
                let mut p = BezPath::new();
                p.move_to((x0, top));
                let (c1, c2) = (top + 0.3 * (low - top), low - 0.3 * (low - top));
                p.curve_to((x0 + out, c1), (x0 + out, c2), (x0, low));
                let stroke = Stroke { round: true, ..Stroke::plain(1.2 * RULE * size, Ink::BLACK) };
                Item::Path { path: p, fill: None, stroke: Some(stroke) }
            };
            let mut items = vec![bow(side * 0.75, -side * 0.7), bow(width - side * 0.75, side * 0.7)];
            items.extend(inner.shifted(side, 0.0));
            Set { width, up: -top, down: low, items }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(set: &Set, text: &str) -> kurbo::Rect {
        let run =
            |i: &Item| if let Item::Run(r) = i { (r.text.trim() == text).then(|| r.extent()) } else { None };
        set.items.iter().find_map(run).unwrap_or_else(|| panic!("{text} is not set"))
    }

    #[test]
    fn fraction_is_centred_and_clear_of_its_rule() {
        let case = Typecase::new();
        let f = Formula::over(Formula::name("L"), Formula::words("16 g"));
        let s = set(&case, &f, 11.0);
        let (above, below) = (at(&s, "L"), at(&s, "16 g"));
        let rule = -AXIS * 11.0;
        assert!(above.y1 < rule && below.y0 > rule);
        assert!((above.center().x - below.center().x).abs() < 0.01);
        assert!((s.up + above.y0).abs() < 0.01 && (s.down - below.y1).abs() < 0.01);
    }

    #[test]
    fn indices_do_not_touch_and_stay_readable() {
        let case = Typecase::new();
        let both = Formula::Index(
            Box::new(Formula::name("θ")),
            Some(Box::new(Formula::words("0"))),
            Some(Box::new(Formula::words("2"))),
        );
        for size in [8.0, 11.0, 16.0] {
            let s = set(&case, &both, size);
            assert!(at(&s, "2").y1 <= at(&s, "0").y0 + 1e-9);
            let least = |i: &Item| if let Item::Run(r) = i { r.size } else { 99.0 };
            assert!(s.items.iter().map(least).fold(99.0, f64::min) >= LEAST - 1e-6);
        }
    }

    #[test]
    fn root_and_bracket_cover_what_they_hold() {
        let case = Typecase::new();
        let inner = Formula::over(Formula::words("1"), Formula::words("2"));
        let bare = set(&case, &inner, 11.0);
        for f in [Formula::root(inner.clone()), Formula::bracket(inner.clone())] {
            let s = set(&case, &f, 11.0);
            let Item::Path { path, .. } = &s.items[0] else { panic!("a path comes first") };
            let b = kurbo::Shape::bounding_box(path);
            assert!(b.y0 <= -bare.up && b.y1 >= bare.down - 1e-9, "{b:?}");
            assert!(s.width > bare.width);
        }
        let p = set(&case, &Formula::product(vec![Formula::name("a"), Formula::name("b")]), 11.0);
        // The sign brings blanks of its own.
        let (a, sign, b) = (at(&p, "a"), at(&p, "·"), at(&p, "b"));
        assert!(a.x1 <= sign.x0 + 1e-6 && sign.x1 < b.x0 && sign.width() > 3.0);
    }
}
