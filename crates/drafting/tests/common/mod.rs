//! A ruler that needs no font, and the check that nothing overlaps.

use drafting::sketch::{Ruler, Sketch};
use drafting::text::label_box;

/// Every sign 0.55 of the font size wide.
pub struct Even;

impl Ruler for Even {
    fn width(&self, text: &str, size: f64, bold: bool) -> f64 {
        let signs = u32::try_from(text.chars().count()).expect("short text");
        f64::from(signs) * size * if bold { 0.6 } else { 0.55 }
    }
    fn ascent(&self, size: f64) -> f64 {
        size * 0.95
    }
    fn descent(&self, size: f64) -> f64 {
        size * 0.25
    }
}

/// What is wrong with a sketch: labels that overlap, leave the paper, or are too small; strokes off the paper.
pub fn faults(s: &Sketch, width: f64, height: f64) -> Vec<String> {
    let mut wrong = Vec::new();
    if s.width > width + 1e-6 || s.height > height + 1e-6 {
        wrong.push(format!("sketch {:.1} × {:.1} on paper {width} × {height}", s.width, s.height));
    }
    let boxes: Vec<_> = s.labels.iter().map(|l| label_box(l, &Even)).collect();
    for (i, a) in boxes.iter().enumerate() {
        if a.x0 < -1e-6 || a.y0 < -1e-6 || a.x1 > s.width + 1e-6 || a.y1 > s.height + 1e-6 {
            wrong.push(format!("{} leaves the paper", s.labels[i].text));
        }
        if s.labels[i].size < 7.0 * 25.4 / 72.0 - 1e-9 {
            wrong.push(format!("{} is too small", s.labels[i].text));
        }
        for (j, b) in boxes.iter().enumerate().skip(i + 1) {
            if a.x0 < b.x1 - 1e-6 && b.x0 < a.x1 - 1e-6 && a.y0 < b.y1 - 1e-6 && b.y0 < a.y1 - 1e-6 {
                wrong.push(format!("{} over {}", s.labels[i].text, s.labels[j].text));
            }
        }
    }
    for m in &s.marks {
        let b = kurbo::Shape::bounding_box(&m.path);
        if b.x0 < -1e-6 || b.y0 < -1e-6 || b.x1 > s.width + 1e-6 || b.y1 > s.height + 1e-6 {
            wrong.push(format!("a mark leaves the paper: {b:?}"));
        }
    }
    wrong
}
