//! A size's text as a block of one or more labels, and its box on paper.

use crate::size::{SEVEN_POINT, Text};
use crate::sketch::{Anchor, Label, Ruler};
use kurbo::{Point, Rect};
use reckon::maths::PI;

/// Text measured and laid out about the left end of its base line.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// Width over all.
    pub width: f64,
    /// Above the base line.
    pub up: f64,
    /// Below the base line, by the font.
    pub down: f64,
    /// Below the base line, by the ink of these very signs.
    pub ink_down: f64,
    parts: Vec<(f64, f64, f64, String)>,
    bold: bool,
}

/// Depth below the base line of what is really printed.
fn ink(text: &str, size: f64, ruler: &dyn Ruler) -> f64 {
    if text.contains(['g', 'j', 'p', 'q', 'y', ',', ';', '(', ')', '/', 'Q']) {
        ruler.descent(size)
    } else {
        0.06 * size
    }
}

impl Block {
    pub(crate) fn new(text: &Text, size: f64, bold: bool, ruler: &dyn Ruler) -> Block {
        let size = size.max(SEVEN_POINT);
        let nominal = ruler.width(&text.nominal, size, bold);
        let mut block = Block {
            width: nominal,
            up: ruler.ascent(size),
            down: ruler.descent(size),
            ink_down: ink(&text.nominal, size, ruler),
            parts: vec![(0.0, 0.0, size, text.nominal.clone())],
            bold,
        };
        if let Some((upper, lower)) = &text.limits {
            let small = (0.7 * size).max(SEVEN_POINT);
            let (up, down) = (ruler.ascent(small), ruler.descent(small));
            // The two lie about the middle of the nominal's figures, their boxes just apart.
            let middle = 0.36 * size;
            let (high, low) = (middle + 0.03 + down, middle - 0.03 - up);
            let x = nominal + 0.25 * size;
            block.parts.push((x, high, small, upper.clone()));
            block.parts.push((x, low, small, lower.clone()));
            block.width = x + ruler.width(upper, small, bold).max(ruler.width(lower, small, bold));
            block.up = block.up.max(high + up);
            block.down = block.down.max(down - low);
            block.ink_down = block.ink_down.max(ink(lower, small, ruler) - low);
        }
        block
    }
    /// The labels with the left end of the base line at `at`, read rightwards or upwards.
    pub(crate) fn labels(&self, at: Point, upright: bool) -> Vec<Label> {
        let place = |x: f64, y: f64| {
            if upright { Point::new(at.x - y, at.y + x) } else { Point::new(at.x + x, at.y + y) }
        };
        self.parts
            .iter()
            .map(|(x, y, size, text)| Label {
                at: place(*x, *y),
                anchor: Anchor::Start,
                turn: if upright { PI / 2.0 } else { 0.0 },
                size: *size,
                text: text.clone(),
                bold: self.bold,
            })
            .collect()
    }
    /// The box with the left end of the base line at `at`.
    pub(crate) fn bounds(&self, at: Point, upright: bool) -> Rect {
        boxed(at, self.width, self.up, self.down, upright)
    }
    /// The box of the ink.
    pub(crate) fn ink(&self, at: Point, upright: bool) -> Rect {
        boxed(at, self.width, self.up, self.ink_down, upright)
    }
}

fn boxed(at: Point, width: f64, up: f64, down: f64, upright: bool) -> Rect {
    if upright {
        Rect::new(at.x - up, at.y, at.x + down, at.y + width)
    } else {
        Rect::new(at.x, at.y - down, at.x + width, at.y + up)
    }
}

/// The box of a label on paper, for labels read rightwards or upwards.
#[must_use]
pub fn label_box(label: &Label, ruler: &dyn Ruler) -> Rect {
    let width = ruler.width(&label.text, label.size, label.bold);
    let back = match label.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::End => width,
    };
    let upright = label.turn.abs() > PI / 4.0;
    let at = if upright {
        Point::new(label.at.x, label.at.y - back)
    } else {
        Point::new(label.at.x - back, label.at.y)
    };
    boxed(at, width, ruler.ascent(label.size), ruler.descent(label.size), upright)
}
