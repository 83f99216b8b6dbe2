//! Counts that no circle divides: the nearest equal step and where it ends, and steps that differ by one hole.

use super::Head;
use reckon::maths::PI;
use reckon::{Angle, Source};

/// The nearest equal step.
pub static NEAREST: Source = Source::derived("nearest whole number of holes to each step, on every circle")
    .with_formula("error at the close = N h - R c holes");
/// Steps that differ by one hole.
pub static UNEVEN: Source = Source::derived("the hole nearest to each place, counted from the start")
    .with_formula("step i = round(i R c/N) - round((i-1) R c/N); no place out by more than half a hole");

/// Equal steps that do not close.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Nearest {
    /// Whole turns of the worm to a step.
    pub turns: u32,
    /// Holes beyond them.
    pub holes: u32,
    /// Holes of the circle.
    pub circle: u32,
    /// Holes by which the last step ends too far (positive) or too short.
    pub over: i64,
    /// The same as turn of the spindle.
    pub closing: Angle,
}
fn turn_of_holes(holes: f64, ratio: u32, circle: u32) -> Angle {
    Angle::si(2.0 * PI * holes / (f64::from(ratio) * f64::from(circle)))
}
/// The equal step that ends nearest to the start; largest circle where two are equal. Nothing without worm or circle.
#[must_use]
pub fn nearest(head: &Head, count: u32) -> Option<Nearest> {
    if count == 0 || head.ratio == 0 {
        return None;
    }
    let mut best: Option<(u128, Nearest)> = None;
    for circle in head.sorted() {
        let all = u64::from(head.ratio) * u64::from(circle);
        let step = (2 * all + u64::from(count)) / (2 * u64::from(count));
        let over = i128::from(step) * i128::from(count) - i128::from(all);
        let found = Nearest {
            turns: u32::try_from(step / u64::from(circle)).ok()?,
            holes: u32::try_from(step % u64::from(circle)).ok()?,
            circle,
            over: i64::try_from(over).ok()?,
            #[expect(clippy::cast_precision_loss, reason = "at most half a count of holes")]
            closing: turn_of_holes(over as f64, head.ratio, circle),
        };
        // |over|/(R c), compared without rounding: the ratio is common to all.
        let better = best.as_ref().is_none_or(|(least, kept)| {
            over.unsigned_abs() * u128::from(kept.circle) < *least * u128::from(circle)
        });
        if better {
            best = Some((over.unsigned_abs(), found));
        }
    }
    best.map(|(_, found)| found)
}

/// Steps that differ by one hole and close exactly.
#[derive(Clone, PartialEq, Debug)]
pub struct Uneven {
    /// Holes of the circle.
    pub circle: u32,
    /// Holes to each step, whole turns included.
    pub steps: Vec<u64>,
    /// Furthest that a tooth stands from its place, in holes times the count (exact): `worst / count` holes.
    pub worst: u64,
    /// The same as turn of the spindle.
    pub tooth: Angle,
    /// Furthest that one space differs from the pitch.
    pub space: Angle,
}
impl Uneven {
    /// A step as turns and holes.
    #[must_use]
    pub fn turns(&self, step: u64) -> (u64, u64) {
        let c = u64::from(self.circle.max(1));
        (step / c, step % c)
    }
}
fn steps_on(ratio: u32, circle: u32, count: u32) -> Uneven {
    let all = u64::from(ratio) * u64::from(circle);
    let n = u64::from(count);
    let (mut steps, mut last, mut worst, mut space) =
        (Vec::with_capacity(count as usize), 0_u64, 0_u64, 0_u64);
    for i in 1..=n {
        // At most 2^32 steps of 2^64 holes: counted wide.
        let wide = (2 * u128::from(i) * u128::from(all) + u128::from(n)) / (2 * u128::from(n));
        let at = u64::try_from(wide).unwrap_or(u64::MAX);
        let off = (u128::from(at) * u128::from(n)).abs_diff(u128::from(i) * u128::from(all));
        worst = worst.max(u64::try_from(off).unwrap_or(u64::MAX));
        let step = at - last;
        let differs = (u128::from(step) * u128::from(n)).abs_diff(u128::from(all));
        space = space.max(u64::try_from(differs).unwrap_or(u64::MAX));
        steps.push(step);
        last = at;
    }
    #[expect(clippy::cast_precision_loss, reason = "below the count, which is a u32")]
    let angle = |x: u64| turn_of_holes(x as f64 / f64::from(count), ratio, circle);
    Uneven { circle, steps, worst, tooth: angle(worst), space: angle(space) }
}
/// Steps that close on the circle where no tooth stands far from its place; nothing without worm or circle.
#[must_use]
pub fn uneven(head: &Head, count: u32) -> Option<Uneven> {
    if count == 0 || head.ratio == 0 || u64::from(count) > 100_000 {
        return None;
    }
    let mut best: Option<Uneven> = None;
    for circle in head.sorted() {
        let found = steps_on(head.ratio, circle, count);
        let better = best.as_ref().is_none_or(|kept| {
            u128::from(found.worst) * u128::from(kept.circle) < u128::from(kept.worst) * u128::from(circle)
        });
        if better {
            best = Some(found);
        }
    }
    best
}
/// Steps on one circle of its own choosing.
#[must_use]
pub fn uneven_on(ratio: u32, circle: u32, count: u32) -> Option<Uneven> {
    (ratio > 0 && circle > 0 && count > 0 && count <= 100_000).then(|| steps_on(ratio, circle, count))
}
