//! What each size does to the rate, on a scale of tens: small and great sizes can be told apart.

use crate::packet::drawn::{Drawn, WIDE};
use ::going::forecast::by_size::{BySize, Lean};
use drafting::sketch::{Anchor, Pen, Sketch, Tone};
use kurbo::Point;

/// What stands under the picture.
pub(super) const SAYS: &str = "One size larger alone, by so much as a bench works to; all else as it is likely in the middle of the run. Filled: it gains; open: it loses. Each mark of the scale is ten times the one before.";

/// Right end of how much it is larger.
const BY: f64 = 79.0;
/// The scale, from its least to its greatest.
const SCALE: (f64, f64) = (84.0, 136.0);
/// Right ends of rate and arc.
const RATE: f64 = 153.0;
const ARC: f64 = 171.0;
const ROW: f64 = 4.3;
const HEAD: f64 = 8.0;
const FOOT: f64 = 7.0;
/// Powers of ten that the scale may reach.
const LEAST: i32 = -3;
const MOST: i32 = 4;

/// The least and the greatest power of ten that hold the sizes.
fn powers(leans: &[Lean]) -> (i32, i32) {
    let all = leans.iter().filter_map(size).filter(|x| *x >= tens(LEAST));
    let (lo, hi) = all.fold((f64::INFINITY, 0.0_f64), |(a, b), x| (a.min(x), b.max(x)));
    let low = (LEAST..MOST).rev().find(|p| lo.is_finite() && tens(*p) <= lo).unwrap_or(LEAST);
    let high = (low + 1..=MOST).find(|p| tens(*p) >= hi).unwrap_or(MOST);
    (low, high)
}
fn size(l: &Lean) -> Option<f64> {
    l.does.map(|(r, _)| r.bare().value().abs())
}
fn tens(power: i32) -> f64 {
    reckon::maths::pow(10.0, f64::from(power))
}
/// A power of ten as it stands at the scale.
fn number(power: i32) -> String {
    let places = usize::try_from(-power).unwrap_or(0);
    reckon::print::fixed(tens(power), places)
}

/// The picture; none where no size does anything.
pub(in crate::packet) fn sizes(of: &BySize) -> Option<Sketch> {
    if of.leans.is_empty() {
        return None;
    }
    let (low, high) = powers(&of.leans);
    let at = |x: f64| {
        let share = (reckon::maths::ln(x) / reckon::maths::ln(10.0) - f64::from(low)) / f64::from(high - low);
        SCALE.0 + (SCALE.1 - SCALE.0) * share.clamp(0.0, 1.0)
    };
    let height = HEAD + ROW * of.leans.len() as f64 + FOOT;
    let (top, foot) = (height - HEAD, FOOT);
    let mut out = Drawn::default();
    let head = top + 3.2;
    out.stress((0.0, head), Anchor::Start, "larger alone");
    out.stress((BY, head), Anchor::End, "by");
    out.stress((f64::midpoint(SCALE.0, SCALE.1), head), Anchor::Middle, "moves the rate, s/day");
    out.stress((RATE, head), Anchor::End, "s/day");
    out.stress((ARC, head), Anchor::End, "arc");
    for power in low..=high {
        let x = at(tens(power));
        out.line(&[Point::new(x, foot), Point::new(x, top)], Pen::Thin);
        out.say((x, foot - 4.2), Anchor::Middle, number(power));
    }
    for (i, l) in of.leans.iter().enumerate() {
        let y = top - ROW * (i as f64 + 0.5);
        let base = y - 0.9;
        out.say((0.0, base), Anchor::Start, l.what.as_str());
        out.say((BY, base), Anchor::End, l.by.as_str());
        out.say((RATE, base), Anchor::End, l.rate());
        out.say((ARC, base), Anchor::End, l.arc());
        let Some(x) = size(l).filter(|x| *x >= tens(low)).map(at) else { continue };
        out.line(&[Point::new(SCALE.0, y), Point::new(x, y)], Pen::Thin);
        let gains = l.does.is_some_and(|(r, _)| r.bare().value() > 0.0);
        out.ring(Point::new(x, y), 1.1, if gains { Tone::Ink } else { Tone::White });
    }
    Some(out.done((WIDE, height), "what each size does to the rate"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;
    use reckon::{Angle, Book, Ratio};

    fn leans(rates: &[f64]) -> BySize {
        let mut book = Book::new();
        let leans = rates
            .iter()
            .enumerate()
            .map(|(i, r)| {
                let rate = book.assumed(format!("rate{i}"), Ratio::si(*r), "test");
                let arc = book.assumed(format!("arc{i}"), Angle::deg(0.01), "test");
                let (what, by) = (format!("size {i}"), "1 mm".to_owned());
                Lean { what, by, step: rate.id(), does: Some((rate, arc)) }
            })
            .collect();
        BySize {
            leans,
            table: book.table("t", &["a"], Vec::new(), "test", Vec::new(), &reckon::source::HOUSE),
        }
    }
    #[test]
    fn rings_stand_at_their_powers_of_ten() {
        let s = sizes(&leans(&[-100.0, 10.0, -1.0, 0.1, 0.0])).expect("a picture");
        let rings: Vec<_> = s.marks.iter().filter(|m| m.fill != Tone::None).collect();
        // What does nothing has no ring.
        assert_eq!(rings.len(), 4);
        let xs: Vec<f64> = rings.iter().map(|m| m.path.bounding_box().center().x).collect();
        let third = (SCALE.1 - SCALE.0) / 3.0;
        for (i, x) in xs.iter().enumerate() {
            assert!((x - (SCALE.1 - third * i as f64)).abs() < 1e-6, "{xs:?}");
        }
        let fills: Vec<Tone> = rings.iter().map(|m| m.fill).collect();
        assert_eq!(fills, [Tone::White, Tone::Ink, Tone::White, Tone::Ink]);
        for text in ["0.1", "1", "10", "100", "−100.000", "+0.0100°", "size 4"] {
            assert!(s.labels.iter().any(|l| l.text == text), "{text}");
        }
        let reach = s.marks.iter().map(|m| m.path.bounding_box()).reduce(|a, b| a.union(b)).expect("marks");
        assert!(reach.x0 >= 0.0 && reach.x1 <= s.width && reach.y0 >= 0.0 && reach.y1 <= s.height);
    }
    #[test]
    fn one_size_alone_has_a_scale_too() {
        assert_eq!(powers(&leans(&[4.0]).leans), (0, 1));
        assert_eq!(powers(&leans(&[0.0]).leans), (-3, -2));
        assert!(sizes(&leans(&[])).is_none());
    }
}
