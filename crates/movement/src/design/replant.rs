//! Where a hole that is not drilled yet goes, when the teeth that meet there came out otherwise than drawn.

use super::layout::Stand;
use super::model::Train;
use reckon::source::Source;
use reckon::{Book, Length, Val};

/// A centre that is still free follows the teeth.
pub static REPLANT: Source = Source::derived(
    "the hole that is not drilled yet goes to where two circles cross: about the axis it meshes with, at the distance \
     for the teeth as they are, and about its other neighbour, at the distance as laid out",
);

/// Moves each centre that is still free to where the teeth as they are want it; what is drilled stays.
pub(super) fn replant(t: &Train, stands: &mut [Option<Stand>], book: &mut Book) {
    for m in &t.meshes {
        let (Some(sits), Some(driven)) = (m.sizes.as_ref().and_then(|s| s.sits), m.driven) else { continue };
        let (Some(a), Some(b)) = (stands[m.driver], stands[driven]) else { continue };
        let drilled = |i: usize, book: &Book| {
            let slug = &t.arbors[i].facts.slug;
            book.knows(&format!("{slug}.at.x")) || book.knows(&format!("{slug}.at.y"))
        };
        // What the free centre keeps its distance to: what it drives, or what drives it.
        let (from, to, wanted, other) = if !drilled(driven, book) {
            (a, b, driven, next(t, driven))
        } else if !drilled(m.driver, book) {
            (b, a, m.driver, t.arbors[m.driver].driven.map(|n| t.meshes[n].driver))
        } else {
            continue;
        };
        let other = other.and_then(|k| stands[k]);
        // Distances in metres; how far off the drawn distance the maker had laid it out stays as it was.
        let radius = apart(from, to) - sits.bare().value();
        let Some((x, y)) = crossing(from, radius, to, other) else { continue };
        let slug = &t.arbors[wanted].facts.slug;
        let mut inputs = vec![from.x.id(), from.y.id(), to.x.id(), to.y.id(), sits.id()];
        inputs.extend(other.iter().flat_map(|o| [o.x.id(), o.y.id()]));
        let mut put = |axis: &str, v: f64| -> Val<Length> {
            let how = ("two circles cross nearest to where it was drawn", 1, 0.0);
            book.solved(
                format_args!("{slug}.at.{axis}.to_suit"),
                Length::si(v),
                how,
                inputs.clone(),
                &REPLANT,
            )
        };
        stands[wanted] = Some(Stand { x: put("x", x), y: put("y", y) });
    }
}
/// The arbor that one drives, or the pallets that the escape wheel meets.
fn next(t: &Train, i: usize) -> Option<usize> {
    if t.escape == Some(i) {
        return t.pallets;
    }
    t.arbors[i].drives.iter().find_map(|n| t.meshes[*n].driven)
}
fn at(s: Stand) -> (f64, f64) {
    (s.x.bare().value(), s.y.bare().value())
}
fn apart(a: Stand, b: Stand) -> f64 {
    let ((ax, ay), (bx, by)) = (at(a), at(b));
    reckon::maths::hypot(ax - bx, ay - by)
}
/// The place at a distance from one axis that keeps the distance to another, nearest to where it was; straight
/// towards the axis where there is no other, or where no place keeps both.
fn crossing(from: Stand, radius: f64, was: Stand, other: Option<Stand>) -> Option<(f64, f64)> {
    let ((fx, fy), (wx, wy)) = (at(from), at(was));
    let now = apart(from, was);
    if now <= 0.0 || radius <= 0.0 {
        return None;
    }
    let straight = (fx + (wx - fx) * radius / now, fy + (wy - fy) * radius / now);
    let Some(other) = other else { return Some(straight) };
    let ((ox, oy), keep) = (at(other), apart(other, was));
    let d = apart(from, other);
    let along = (radius * radius - keep * keep + d * d) / (2.0 * d);
    let up = radius * radius - along * along;
    if d <= 0.0 || !up.is_finite() || up < 0.0 {
        return Some(straight);
    }
    let (ux, uy) = ((ox - fx) / d, (oy - fy) / d);
    let up = up.sqrt();
    let (a, b) = (
        (fx + along * ux - up * uy, fy + along * uy + up * ux),
        (fx + along * ux + up * uy, fy + along * uy - up * ux),
    );
    let far = |p: (f64, f64)| reckon::maths::hypot(p.0 - wx, p.1 - wy);
    let best = if far(a) <= far(b) { a } else { b };
    // Where both distances lie nearly on one line the crossing runs away: the other neighbour may give a little.
    let shift = (now - radius).abs();
    Some(if far(best) > 4.0 * shift { straight } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stand(x: f64, y: f64, book: &mut Book, name: &str) -> Stand {
        Stand {
            x: book.assumed(format_args!("{name}.x"), Length::mm(x), "a test"),
            y: book.assumed(format_args!("{name}.y"), Length::mm(y), "a test"),
        }
    }
    #[test]
    fn both_distances_are_kept() {
        let mut book = Book::new();
        let third = stand(-13.495, 33.375, &mut book, "third");
        let escape = stand(0.0, 52.0, &mut book, "escape");
        let pallets = stand(0.0, 80.284, &mut book, "pallets");
        let radius = apart(third, escape) - 25e-6;
        let (x, y) = crossing(third, radius, escape, Some(pallets)).unwrap();
        let far = |s: Stand| reckon::maths::hypot(at(s).0 - x, at(s).1 - y);
        assert!((far(third) - radius).abs() < 1e-12);
        assert!((far(pallets) - 28.284e-3).abs() < 1e-12);
        assert!(far(escape) < 60e-6, "it moves no more than it must");
        // With nothing else to keep, it moves straight towards what it meshes with.
        let (x, y) = crossing(third, radius, escape, None).unwrap();
        assert!((reckon::maths::hypot(x, y - 52e-3) - 25e-6).abs() < 1e-12);
    }
}
