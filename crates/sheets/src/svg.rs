//! A page as SVG at true size: with text, for pages that serve the faces, or
//! with the outlines of the glyphs, for files that need no font.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use kurbo::{BezPath, PathEl, Rect};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};

use crate::page::{Ink, Item, Page, Run, Stroke};
use crate::paper::MM;
use crate::typecase::faces;

/// How letters are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Letters {
    /// As text, to be searched and read aloud; needs [`crate::faces`] served
    /// under their family names.
    Text,
    /// As outlines; needs nothing.
    Outlines,
}

/// Writes a page as SVG. All ids begin with `prefix`, so that several pages
/// can stand in one document.
#[must_use]
pub fn svg(page: &Page, letters: Letters, prefix: &str) -> String {
    let (w, h) = (page.width, page.height);
    window(page, Rect::new(0.0, 0.0, w, h), letters, prefix)
}

/// Writes a part of a page, as one drawing on it; `area` in points.
#[must_use]
pub fn window(page: &Page, area: Rect, letters: Letters, prefix: &str) -> String {
    let mut w =
        Writer { out: String::new(), defs: String::new(), letters, prefix, clips: 0, used: BTreeSet::new() };
    w.items(&page.items);
    let mut out = String::new();
    let (mm_w, mm_h) = (num(area.width() / MM), num(area.height() / MM));
    let view = [area.x0, area.y0, area.width(), area.height()].map(num).join(" ");
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{mm_w}mm\" height=\"{mm_h}mm\" viewBox=\"{view}\">"
    );
    if letters == Letters::Outlines {
        w.glyph_outlines();
    }
    if !w.defs.is_empty() {
        let _ = write!(out, "<defs>{}</defs>", w.defs);
    }
    let _ = write!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\"/>",
        num(area.x0),
        num(area.y0),
        num(area.width()),
        num(area.height())
    );
    out.push_str(&w.out);
    out.push_str("</svg>\n");
    out
}

struct Writer<'a> {
    out: String,
    defs: String,
    letters: Letters,
    prefix: &'a str,
    clips: usize,
    used: BTreeSet<(usize, u32)>,
}

impl Writer<'_> {
    fn items(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Path { path, fill, stroke } => {
                    let fill = fill.map_or("none".to_owned(), shade);
                    let d = data(path);
                    let _ = write!(self.out, "<path d=\"{d}\" fill=\"{fill}\"");
                    if let Some(s) = stroke {
                        self.stroke(s);
                    }
                    self.out.push_str("/>");
                }
                Item::Clip { outline, items } => {
                    let id = format!("{}c{}", self.prefix, self.clips);
                    self.clips += 1;
                    let _ =
                        write!(self.defs, "<clipPath id=\"{id}\"><path d=\"{}\"/></clipPath>", data(outline));
                    let _ = write!(self.out, "<g clip-path=\"url(#{id})\">");
                    self.items(items);
                    self.out.push_str("</g>");
                }
                Item::Run(run) if self.letters == Letters::Text => self.text(run),
                Item::Run(run) => self.outlines(run),
                Item::Link { .. } => {}
            }
        }
    }

    fn stroke(&mut self, s: &Stroke) {
        let _ = write!(self.out, " stroke=\"{}\" stroke-width=\"{}\"", shade(s.ink), num(s.width));
        if s.round {
            self.out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
        }
        if !s.dash.is_empty() {
            let dash = s.dash.iter().map(|d| num(*d)).collect::<Vec<_>>().join(" ");
            let _ = write!(self.out, " stroke-dasharray=\"{dash}\"");
        }
    }

    fn text(&mut self, run: &Run) {
        let face = &faces()[run.face];
        let words = run.text.trim_end();
        let _ = write!(self.out, "<text{} font-family=\"{}\"", placed(run), face.family);
        if face.weight != 400 {
            let _ = write!(self.out, " font-weight=\"{}\"", face.weight);
        }
        let _ = write!(
            self.out,
            " font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\"",
            num(run.size),
            num(run.inked())
        );
        if run.ink != Ink::BLACK {
            let _ = write!(self.out, " fill=\"{}\"", shade(run.ink));
        }
        let _ = write!(self.out, ">{}</text>", escaped(words));
    }

    fn outlines(&mut self, run: &Run) {
        let scale = num6(run.size / UNITS);
        let _ = write!(
            self.out,
            "<g role=\"img\" aria-label=\"{}\" fill=\"{}\"{}>",
            escaped(run.text.trim()),
            shade(run.ink),
            placed_group(run)
        );
        let mut x = 0.0;
        let keep = run.text.trim_end().len();
        for g in &run.glyphs {
            if g.from < keep && run.text.get(g.from..g.to).is_some_and(|t| !t.trim().is_empty()) {
                self.used.insert((run.face, g.id));
                let _ = write!(
                    self.out,
                    "<use href=\"#{}g{}-{}\" transform=\"translate({} {}) scale({scale} -{scale})\"/>",
                    self.prefix,
                    run.face,
                    g.id,
                    num(x + f64::from(g.dx)),
                    num(-f64::from(g.dy)),
                );
            }
            x += f64::from(g.advance);
        }
        self.out.push_str("</g>");
    }

    fn glyph_outlines(&mut self) {
        for (face, id) in &self.used {
            let Ok(font) = FontRef::new(faces()[*face].bytes()) else { continue };
            let mut pen = Pen(BezPath::new());
            let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
            if let Some(glyph) = font.outline_glyphs().get(GlyphId::new(*id)) {
                // All faces have 2048 units to the size: `UNITS`.
                if glyph.draw(settings, &mut pen).is_ok() {
                    let _ = write!(
                        self.defs,
                        "<path id=\"{}g{face}-{id}\" d=\"{}\"/>",
                        self.prefix,
                        data(&pen.0)
                    );
                }
            }
        }
    }
}

/// Units to the size of every face in the case.
const UNITS: f64 = 2048.0;

struct Pen(BezPath);

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }
    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to((f64::from(cx), f64::from(cy)), (f64::from(x), f64::from(y)));
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let p = |x: f32, y: f32| (f64::from(x), f64::from(y));
        self.0.curve_to(p(ax, ay), p(bx, by), p(x, y));
    }
    fn close(&mut self) {
        self.0.close_path();
    }
}

fn placed(run: &Run) -> String {
    if run.turn.y == 0.0 && run.turn.x > 0.0 {
        return format!(" x=\"{}\" y=\"{}\"", num(run.at.x), num(run.at.y));
    }
    format!(" x=\"0\" y=\"0\"{}", matrix(run))
}

fn placed_group(run: &Run) -> String {
    if run.turn.y == 0.0 && run.turn.x > 0.0 {
        return format!(" transform=\"translate({} {})\"", num(run.at.x), num(run.at.y));
    }
    matrix(run)
}

fn matrix(run: &Run) -> String {
    let [a, b, c, d, e, f] = run.place().as_coeffs();
    let turn = [a, b, c, d].map(num6).join(" ");
    format!(" transform=\"matrix({turn} {} {})\"", num(e), num(f))
}

fn data(path: &BezPath) -> String {
    let mut d = String::with_capacity(path.elements().len() * 16);
    let mut put = |letter: char, points: &[kurbo::Point]| {
        d.push(letter);
        for (i, p) in points.iter().enumerate() {
            if i > 0 {
                d.push(' ');
            }
            thousandths(&mut d, p.x);
            d.push(' ');
            thousandths(&mut d, p.y);
        }
    };
    for el in path.elements() {
        match *el {
            PathEl::MoveTo(p) => put('M', &[p]),
            PathEl::LineTo(p) => put('L', &[p]),
            PathEl::QuadTo(q, p) => put('Q', &[q, p]),
            PathEl::CurveTo(q, r, p) => put('C', &[q, r, p]),
            PathEl::ClosePath => put('Z', &[]),
        }
    }
    d
}
/// A number to thousandths, without zeros that say nothing: most of a page's text is this.
fn thousandths(out: &mut String, v: f64) {
    let scaled = (v * 1000.0).round();
    if scaled.abs() >= 9e15 || !scaled.is_finite() {
        out.push_str(&num(v));
        return;
    }
    #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
    let whole = scaled as i64;
    if whole < 0 {
        out.push('-');
    }
    let (units, rest) = (whole.unsigned_abs() / 1000, whole.unsigned_abs() % 1000);
    let _ = write!(out, "{units}");
    if rest > 0 {
        let digits = format!("{rest:03}");
        out.push('.');
        out.push_str(digits.trim_end_matches('0'));
    }
}

fn shade(ink: Ink) -> String {
    let [r, g, b] = ink.0;
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Thousandths of a point: a third of a micrometre.
fn num(v: f64) -> String {
    short(&format!("{v:.3}"))
}

fn num6(v: f64) -> String {
    short(&format!("{v:.6}"))
}

fn short(digits: &str) -> String {
    let s = digits.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" || s.is_empty() { "0".to_owned() } else { s.to_owned() }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c => out.push(c),
        }
    }
    out
}
