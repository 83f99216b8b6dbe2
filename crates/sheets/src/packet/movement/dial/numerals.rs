//! Hour numerals in strokes, thick and thin, as they are cut with a graver.

use kurbo::{Affine, BezPath, Point};

/// An hour as a dial has it: four strokes for four.
pub(super) fn roman(hour: i32) -> &'static str {
    match hour.rem_euclid(12) {
        1 => "I",
        2 => "II",
        3 => "III",
        4 => "IIII",
        5 => "V",
        6 => "VI",
        7 => "VII",
        8 => "VIII",
        9 => "IX",
        10 => "X",
        11 => "XI",
        _ => "XII",
    }
}
/// Width of a thick stroke, of a thin one, and of a letter, in heights.
const THICK: f64 = 0.14;
const THIN: f64 = 0.035;
const SERIF: f64 = 0.05;

fn quad(points: [(f64, f64); 4]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(Point::from(points[0]));
    for p in &points[1..] {
        path.line_to(Point::from(*p));
    }
    path.close_path();
    path
}
/// A stroke from the foot line to the cap line, `x` at its left edge below and above.
fn stroke(below: f64, above: f64, wide: f64) -> BezPath {
    quad([(below, 0.0), (below + wide, 0.0), (above + wide, 1.0), (above, 1.0)])
}
fn bar(from: f64, to: f64, y: f64) -> BezPath {
    quad([(from, y), (to, y), (to, y + THIN), (from, y + THIN)])
}
/// Strokes of one letter, its left edge at nothing, and its width; heights count as one.
fn letter(c: char) -> (Vec<BezPath>, f64) {
    match c {
        'I' => {
            let w = THICK + 2.0 * SERIF;
            (vec![stroke(SERIF, SERIF, THICK), bar(0.0, w, 0.0), bar(0.0, w, 1.0 - THIN)], w)
        }
        'V' => {
            let (left, right) = (SERIF, 0.5);
            let w = right + THIN + SERIF;
            // Both strokes run to the foot; the thin one ends inside the thick.
            let foot = 0.5 * (left + right) - 0.02;
            let all = vec![
                stroke(foot, left, THICK),
                stroke(foot + THICK * 0.45, right, THIN * 1.3),
                bar(0.0, left + THICK + SERIF, 1.0 - THIN),
                bar(right - SERIF, w, 1.0 - THIN),
            ];
            (all, w)
        }
        _ => {
            let span = 0.44;
            let w = span + THICK + 2.0 * SERIF;
            let thin = THIN * 1.3;
            let all = vec![
                stroke(SERIF + span, SERIF, THICK),
                stroke(SERIF + 0.03, SERIF + span + THICK - thin - 0.03, thin),
                bar(0.0, SERIF + THICK + SERIF * 0.6, 1.0 - THIN),
                bar(SERIF + span - SERIF * 0.6, w, 0.0),
                bar(0.0, SERIF + 0.03 + thin + SERIF, 0.0),
                bar(w - 2.0 * SERIF - 0.03 - thin, w, 1.0 - THIN),
            ];
            (all, w)
        }
    }
}
/// A numeral of a height, standing with the middle of its foot at `at` and its head in the direction `turn`
/// (radians, clockwise from upwards).
pub(super) fn numeral(hour: i32, at: Point, turn: f64, height: f64) -> Vec<BezPath> {
    const GAP: f64 = 0.045;
    let (mut all, mut x) = (Vec::new(), 0.0);
    for c in roman(hour).chars() {
        let (strokes, wide) = letter(c);
        if x > 0.0 {
            x += GAP;
        }
        all.extend(strokes.into_iter().map(|s| Affine::translate((x, 0.0)) * s));
        x += wide;
    }
    let (sin, cos) = (reckon::maths::sin(-turn), reckon::maths::cos(-turn));
    let place = Affine::new([cos, sin, -sin, cos, at.x, at.y])
        * Affine::scale(height)
        * Affine::translate((-x / 2.0, 0.0));
    all.into_iter().map(|s| place * s).collect()
}
/// Width of a numeral of a height.
pub(super) fn width(hour: i32, height: f64) -> f64 {
    let letters: f64 = roman(hour).chars().map(|c| letter(c).1 + 0.045).sum();
    (letters - 0.045) * height
}
