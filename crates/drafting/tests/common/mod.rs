//! A ruler that needs no font, the check that nothing overlaps, and a plain picture for looking at.

use drafting::sketch::{Anchor, Pen, Ruler, Sketch, Tone};
use drafting::text::label_box;
use std::fmt::Write as _;

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

/// How many labels a visible edge runs through.
pub fn struck(s: &Sketch) -> usize {
    let mut edges = Vec::new();
    for m in s.marks.iter().filter(|m| m.pen == Some(Pen::Visible)) {
        let mut last = kurbo::Point::ORIGIN;
        kurbo::flatten(m.path.iter(), 0.02, |e| match e {
            kurbo::PathEl::MoveTo(p) => last = p,
            kurbo::PathEl::LineTo(p) => {
                edges.push((last, p));
                last = p;
            }
            _ => {}
        });
    }
    let through = |l: &&drafting::sketch::Label| {
        let b = label_box(l, &Even).inset(0.2);
        edges.iter().any(|(p, q)| (0..=200).any(|k| b.contains(p.lerp(*q, f64::from(k) / 200.0))))
    };
    s.labels.iter().filter(through).count()
}

/// The sketch as a picture.
pub fn svg(s: &Sketch) -> String {
    let mut out = String::new();
    let (w, h) = (s.width, s.height);
    let _ = write!(
        out,
        "<svg xmlns='http://www.w3.org/2000/svg' width='{w}mm' height='{h}mm' viewBox='0 0 {w} {h}'>\
         <defs><pattern id='h' width='1.6' height='1.6' patternUnits='userSpaceOnUse' patternTransform='rotate(-45)'>\
         <path d='M0 0.8H1.6' stroke='black' stroke-width='0.13'/></pattern></defs>\
         <rect width='{w}' height='{h}' fill='white'/><g transform='translate(0 {h}) scale(1 -1)'>"
    );
    for m in &s.marks {
        let d = m.path.to_svg();
        let fill = match (m.hatch, m.fill) {
            (true, _) => "url(#h)",
            (_, Tone::None) => "none",
            (_, Tone::Ink) => "black",
            (_, Tone::White) => "white",
            (_, Tone::Light) => "#ddd",
            (_, Tone::Mid) => "#999",
        };
        let (wide, dash) = match m.pen {
            None => (0.0, ""),
            Some(Pen::Visible) => (0.4, ""),
            Some(Pen::Hidden) => (0.2, "2 1"),
            Some(Pen::Centre) => (0.18, "5 1 0.6 1"),
            Some(_) => (0.18, ""),
        };
        let stroke = if wide > 0.0 { "black" } else { "none" };
        let _ = write!(
            out,
            "<path d='{d}' fill='{fill}' fill-rule='evenodd' stroke='{stroke}' stroke-width='{wide}' \
             stroke-dasharray='{dash}' stroke-linecap='round' stroke-linejoin='round'/>"
        );
    }
    out.push_str("</g>");
    for l in &s.labels {
        let anchor = match l.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let _ = write!(
            out,
            "<text transform='translate({} {}) rotate({})' font-size='{}' font-family='DejaVu Sans Condensed, sans-serif' \
             font-weight='{}' text-anchor='{anchor}'>{}</text>",
            l.at.x,
            h - l.at.y,
            -l.turn.to_degrees(),
            l.size,
            if l.bold { "bold" } else { "normal" },
            l.text
        );
    }
    out.push_str("</svg>");
    out
}
