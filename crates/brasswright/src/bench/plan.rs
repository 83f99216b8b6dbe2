//! Drawings on the pages: plain SVG, each thing on it with its name under the pointer and its why under a tap.

use super::count::escaped;
use super::frame::why_of;
use kurbo::{Affine, BezPath, Point, Rect};
use reckon::print::fixed;
use shape::profile::Profile;
use std::fmt::Write as _;

/// How closely an arc is followed, in units of the drawing.
const ACCURACY: f64 = 0.02;

/// A drawing under way: millimetres with y up, as the plates have it.
pub struct Plan {
    body: String,
    view: Rect,
    says: String,
    /// How large a letter is, in units of the drawing.
    pub letter: f64,
}
impl Plan {
    /// Of a part of the plane; `says` is what one hears who does not see it.
    #[must_use]
    pub fn of(view: Rect, says: &str) -> Plan {
        let letter = view.width().max(view.height()) / 42.0;
        Plan { body: String::new(), view, says: says.to_owned(), letter }
    }
    /// What follows belongs to a name, and leads to its why.
    pub fn about(&mut self, name: Option<&str>, title: &str, draw: impl FnOnce(&mut Plan)) {
        match name {
            Some(n) => {
                let _ = write!(self.body, r#"<a href="{}">"#, escaped(&why_of(n)));
            }
            None => self.body += "<g>",
        }
        let _ = write!(self.body, "<title>{}</title>", escaped(title));
        draw(self);
        self.body += if name.is_some() { "</a>" } else { "</g>" };
    }
    /// A path.
    pub fn path(&mut self, path: &BezPath, class: &str, width: f64) {
        let flipped = Affine::FLIP_Y * path.clone();
        let _ = write!(
            self.body,
            r#"<path class="{class}" stroke-width="{}" d="{}"/>"#,
            fixed(width, 3),
            data(&flipped)
        );
    }
    /// An outline about a point, turned by an angle.
    pub fn outline(&mut self, of: &Profile, at: Point, turned: f64, class: &str, width: f64) {
        let path = of.to_path(ACCURACY);
        self.path(&(Affine::translate(at.to_vec2()) * Affine::rotate(turned) * path), class, width);
    }
    /// A circle.
    pub fn circle(&mut self, at: Point, radius: f64, class: &str, width: f64) {
        let _ = write!(
            self.body,
            r#"<circle class="{class}" stroke-width="{}" cx="{}" cy="{}" r="{}"/>"#,
            fixed(width, 3),
            fixed(at.x, 3),
            fixed(-at.y, 3),
            fixed(radius, 3)
        );
    }
    /// A line.
    pub fn line(&mut self, a: Point, b: Point, class: &str, width: f64) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.path(&path, class, width);
    }
    /// A rectangle.
    pub fn rect(&mut self, of: Rect, class: &str, width: f64) {
        let _ = write!(
            self.body,
            r#"<rect class="{class}" stroke-width="{}" x="{}" y="{}" width="{}" height="{}"/>"#,
            fixed(width, 3),
            fixed(of.x0, 3),
            fixed(-of.y1, 3),
            fixed(of.width(), 3),
            fixed(of.height(), 3)
        );
    }
    /// Words; `anchor` is start, middle or end.
    pub fn words(&mut self, at: Point, anchor: &str, class: &str, size: f64, text: &str) {
        let _ = write!(
            self.body,
            r#"<text class="{class}" x="{}" y="{}" text-anchor="{anchor}" font-size="{}">{}</text>"#,
            fixed(at.x, 2),
            fixed(-at.y, 2),
            fixed(size, 2),
            escaped(text)
        );
    }
    /// The whole.
    #[must_use]
    pub fn done(self) -> maud::Markup {
        let v = self.view;
        maud::PreEscaped(format!(
            r#"<svg class="plan" viewBox="{} {} {} {}" role="img" aria-label="{}">{}</svg>"#,
            fixed(v.x0, 2),
            fixed(-v.y1, 2),
            fixed(v.width(), 2),
            fixed(v.height(), 2),
            escaped(&self.says),
            self.body
        ))
    }
}
/// A path in the words of SVG.
fn data(path: &BezPath) -> String {
    use kurbo::PathEl;
    let p = |p: Point| format!("{} {}", fixed(p.x, 3), fixed(p.y, 3));
    path.elements().iter().fold(String::new(), |mut out, el| {
        let _ = match el {
            PathEl::MoveTo(a) => write!(out, "M{}", p(*a)),
            PathEl::LineTo(a) => write!(out, "L{}", p(*a)),
            PathEl::QuadTo(a, b) => write!(out, "Q{} {}", p(*a), p(*b)),
            PathEl::CurveTo(a, b, c) => write!(out, "C{} {} {}", p(*a), p(*b), p(*c)),
            PathEl::ClosePath => write!(out, "z"),
        };
        out
    })
}
/// Steps of an axis: 1, 2 or 5 times a power of ten, about so many of them.
#[must_use]
pub fn ticks(from: f64, to: f64, about: usize) -> Vec<f64> {
    let span = to - from;
    if span.is_nan() || span <= 0.0 || !span.is_finite() {
        return Vec::new();
    }
    let raw = span / about.max(1) as f64;
    let ten = reckon::maths::pow(10.0, reckon::maths::log10(raw).floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|k| k * ten).find(|s| *s >= raw).unwrap_or(raw);
    let first = (from / step).ceil();
    (0..200).map(|i| (first + f64::from(i)) * step).take_while(|x| *x <= to + 1e-9 * span).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_of_an_axis() {
        assert_eq!(ticks(0.0, 10.0, 5), [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]);
        assert_eq!(ticks(0.3, 1.4, 4), [0.5, 1.0]);
        assert!(ticks(1.0, 1.0, 4).is_empty() && ticks(f64::NAN, 1.0, 4).is_empty());
    }
    #[test]
    fn what_is_written_on_a_drawing_is_text() {
        let mut plan = Plan::of(Rect::new(0.0, 0.0, 10.0, 10.0), "a \"b\"");
        plan.about(Some("a.b"), "<script>", |p| p.words(Point::ORIGIN, "middle", "soft", 2.0, "x & y"));
        let text = plan.done().into_string();
        assert!(
            text.contains("&lt;script&gt;") && text.contains("x &amp; y") && text.contains("a &quot;b&quot;")
        );
    }
}
