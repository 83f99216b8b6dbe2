//! A plain picture of a sketch, for looking at.

use drafting::sketch::{Anchor, Pen, Sketch, Tone};
use std::fmt::Write as _;

/// Keeps a picture where a folder is named for them.
pub fn keep(name: &str, s: &Sketch) {
    if let Ok(folder) = std::env::var("SKETCHES") {
        std::fs::write(format!("{folder}/{name}.svg"), svg(s)).expect("the folder is there");
    }
}

/// The sketch as a picture.
fn svg(s: &Sketch) -> String {
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
            (_, Tone::Mid | Tone::Colour(_)) => "#999",
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
