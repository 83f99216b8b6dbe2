//! What would do when a count cannot be divided, and angles for a table that is set by degrees.

use super::{Head, Uneven, uneven};
use reckon::{Angle, Source};

/// Angles from the start.
pub static ANGLES: Source = Source::derived("each place from the start, so that rounding does not add up")
    .with_formula("angle k = 360 deg k/N, rounded to q: never out by more than q/2");
/// What would do.
pub static WOULD: Source =
    Source::derived("a circle serves where it holds what the worm leaves of the count")
        .with_formula("c a multiple of N/gcd(N, R)");

/// Largest circle that is looked for: more holes than this are not found on plates of this kind.
pub const MOST_HOLES: u32 = 66;

/// What would do for a count.
#[derive(Clone, PartialEq, Debug)]
pub struct Would {
    /// Circles of at most [`MOST_HOLES`] holes that would divide it, smallest first.
    pub circles: Vec<u32>,
    /// Holes of plates for the spindle that would: the count itself and its double.
    pub direct: Vec<u32>,
    /// The nearest smaller count that can be divided as things are.
    pub below: Option<u32>,
    /// The nearest greater one.
    pub above: Option<u32>,
    /// Steps by which a plate of `count` holes can be drilled on this very head.
    pub plate: Option<Uneven>,
    /// Furthest that a tooth is out when that plate is put behind the worm.
    pub through_worm: Option<Angle>,
}
/// What would do to divide into `count` on this head.
#[must_use]
pub fn would_do(head: &Head, count: u32) -> Would {
    let part = head.wanted_circle(count);
    let circles = if part == 0 || head.ratio == 0 {
        Vec::new()
    } else {
        (1..=MOST_HOLES / part).map(|k| k * part).filter(|c| *c > 2).collect()
    };
    let plate = uneven(head, count);
    let through_worm = plate.as_ref().map(|p| Angle::si(p.tooth.value() / f64::from(head.ratio)));
    let reach = count.saturating_add(200);
    Would {
        circles,
        direct: [Some(count), count.checked_mul(2)].into_iter().flatten().filter(|n| *n > 0).collect(),
        below: (2..count).rev().find(|n| head.divides(*n)),
        above: (count.saturating_add(1)..=reach).find(|n| head.divides(*n)),
        plate,
        through_worm,
    }
}
/// Angle of each of `count` places, from the start, in whole steps of the table (`per_turn` steps in one turn).
///
/// Each is the nearest step, so none is out by more than half of one and nothing adds up.
#[must_use]
pub fn angles(count: u32, per_turn: u64) -> Vec<u64> {
    let n = u128::from(count.max(1));
    (0..count)
        .map(|k| {
            let wide = (2 * u128::from(k) * u128::from(per_turn) + n) / (2 * n);
            u64::try_from(wide).unwrap_or(u64::MAX)
        })
        .collect()
}
