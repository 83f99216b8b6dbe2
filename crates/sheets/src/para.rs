//! A paragraph: text broken into lines of a width, then laid on a page.

use kurbo::{Point, Vec2};
use parley::{Alignment, AlignmentOptions, Layout, PositionedLayoutItem};

use crate::page::{Glyph, Ink, Item, Run};
use crate::typecase::{Brush, CAPITAL, Typecase};

/// Where lines stand in their width.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Flush left.
    #[default]
    Left,
    /// Centred.
    Middle,
    /// Flush right, for numbers.
    Right,
}

/// Size, leading, weight and shade of a paragraph, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Look {
    pub size: f64,
    pub lead: f64,
    pub bold: bool,
    pub ink: Ink,
}

impl Look {
    pub const BODY: Self = Self::of(9.5);
    pub const SMALL: Self = Self::of(8.0);

    pub const fn of(size: f64) -> Self {
        Self { size, lead: size * 1.38, bold: false, ink: Ink::BLACK }
    }
    /// A line that stands alone.
    pub const fn display(size: f64) -> Self {
        Self { size, lead: size * 1.18, bold: true, ink: Ink::BLACK }
    }
    pub const fn label(size: f64, bold: bool) -> Self {
        Self { size, lead: size * 1.2, bold, ink: Ink::BLACK }
    }
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }
    pub const fn soft(self) -> Self {
        Self { ink: Ink::SOFT, ..self }
    }
}

/// Text shaped and ready to be broken.
pub(crate) struct Para {
    layout: Layout<Brush>,
    text: String,
    look: Look,
    min: f64,
    max: f64,
}

impl Para {
    pub fn new(mut layout: Layout<Brush>, text: String, look: Look) -> Self {
        let widths = layout.calculate_content_widths();
        let (min, max) = (f64::from(widths.min), f64::from(widths.max));
        layout.break_all_lines(None);
        Self { layout, text, look, min, max }
    }

    /// Width of its widest word.
    pub fn min(&self) -> f64 {
        self.min
    }

    /// Width on one line.
    pub fn natural(&self) -> f64 {
        self.max
    }

    /// Breaks into lines of at most `width`; gives the height.
    pub fn fit(&mut self, width: f64, side: Side) -> f64 {
        // A hair more, or a line does not fit into its own width.
        let limit = width + 0.02;
        self.break_at(limit);
        let lines = self.layout.len();
        // One short word alone on the last line looks lost: set it narrower
        // while that costs no line.
        if (2..=5).contains(&lines) && self.last_share(width) < 0.22 {
            for step in 1..=10 {
                self.break_at(limit * (1.0 - 0.02 * f64::from(step)));
                if self.layout.len() != lines || self.widest() > limit {
                    break;
                }
                if self.last_share(width) >= 0.22 {
                    return self.align(side);
                }
            }
            self.break_at(limit);
        }
        self.align(side)
    }

    fn break_at(&mut self, width: f64) {
        self.layout.break_all_lines(Some(width as f32));
    }

    fn align(&mut self, side: Side) -> f64 {
        let to = match side {
            Side::Left => Alignment::Start,
            Side::Middle => Alignment::Center,
            Side::Right => Alignment::End,
        };
        self.layout.align(to, AlignmentOptions::default());
        self.height()
    }

    /// Height of its lines.
    pub fn height(&self) -> f64 {
        self.layout.len() as f64 * self.look.lead
    }

    /// Width of the widest line as broken.
    pub fn widest(&self) -> f64 {
        self.layout
            .lines()
            .map(|l| f64::from(l.metrics().advance - l.metrics().hanging_advance))
            .fold(0.0, f64::max)
    }

    fn last_share(&self, width: f64) -> f64 {
        let last = self.layout.lines().last();
        last.map_or(1.0, |l| f64::from(l.metrics().advance - l.metrics().hanging_advance) / width)
    }

    /// Depth of the first baseline below the top: capitals stand in the middle
    /// of the line.
    pub fn baseline(&self) -> f64 {
        self.look.lead / 2.0 + CAPITAL / 2.0 * self.look.size
    }

    /// Lays the lines down with their top left corner at a point.
    pub fn lay(&self, case: &Typecase, x: f64, y: f64, out: &mut Vec<Item>) {
        // Lines stand on a grid of our own: the breaker makes a line higher
        // that holds a sign from another face.
        for (i, line) in self.layout.lines().enumerate() {
            let base = y + self.baseline() + i as f64 * self.look.lead;
            let mut taken: std::collections::BTreeMap<usize, (Vec<Glyph>, usize)> = Default::default();
            for item in line.items() {
                let PositionedLayoutItem::GlyphRun(set) = item else { continue };
                let run = set.run();
                let (all, done) = taken.entry(run.index()).or_insert_with(|| (with_ranges(run), 0));
                let count = set.glyphs().count();
                let glyphs = &all[*done..*done + count];
                *done += count;
                let brush = set.style().brush;
                let at = Point::new(x + f64::from(set.offset()), base - f64::from(brush.raise));
                let face = case.face(run.font().data.id());
                let own = self.own_run(case, glyphs, face, f64::from(run.font_size()), at, brush.ink);
                if let Some(own) = own {
                    out.push(Item::Run(own));
                }
            }
        }
    }

    /// A run that carries its own words, with ordinary blanks.
    fn own_run(
        &self,
        case: &Typecase,
        glyphs: &[Glyph],
        face: usize,
        size: f64,
        at: Point,
        ink: Ink,
    ) -> Option<Run> {
        let mut text = String::new();
        let mut own: Vec<Glyph> = Vec::with_capacity(glyphs.len());
        let mut last = (usize::MAX, 0, 0);
        for g in glyphs {
            let words = &self.text[g.from..g.to];
            if words == "\n" {
                continue;
            }
            if g.id == 0 {
                case.note_missing(words.chars().next().unwrap_or('\u{fffd}'), &self.text);
            }
            // Two glyphs for one letter share its bytes.
            if last.0 != g.from {
                let from = text.len();
                text.extend(words.chars().map(|c| if c == '\u{a0}' { ' ' } else { c }));
                last = (g.from, from, text.len());
            }
            own.push(Glyph { from: last.1, to: last.2, ..g.clone() });
        }
        if text.trim().is_empty() {
            return None;
        }
        Some(Run { face, size, at, turn: Vec2::new(1.0, 0.0), ink, text, glyphs: own })
    }
}

/// The glyphs of a run in the order seen, each with the bytes it stands for.
fn with_ranges(run: &parley::Run<'_, Brush>) -> Vec<Glyph> {
    let mut out: Vec<Glyph> = Vec::new();
    for cluster in run.visual_clusters() {
        let range = cluster.text_range();
        if cluster.is_ligature_continuation() {
            if let Some(last) = out.last_mut() {
                last.to = last.to.max(range.end);
            }
            continue;
        }
        for g in cluster.glyphs() {
            let (id, advance, dx, dy) = (g.id, g.advance, g.x, g.y);
            out.push(Glyph { id, advance, dx, dy, from: range.start, to: range.end });
        }
    }
    out
}
