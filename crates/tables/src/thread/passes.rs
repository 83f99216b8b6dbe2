//! In how many cuts, and how deep each.
//!
//! The chip of a threading tool widens with depth, so equal depths make ever
//! heavier cuts. A schedule is judged by the area of metal each pass takes.

use super::cut::Nose;
use super::form::{cosec, cot};
use super::under;
use reckon::{Angle, Area, Book, Cell, Count, Force, Length, Pressure, Source, Trouble, Val, maths};

static AREAS: Source = Source::derived("area of the groove, x_i from A(x_i)");
static FALLING: Source = Source::read("a carbide maker's threading manual")
    .with_formula("x_i = x √φ / √(n − 1), φ = 0.3, 1, 2, 3 …");
static EQUAL: Source = Source::practice("equal depths, for very fine pitches only");

/// How the depths follow.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Rule {
    /// So many passes that take equal areas.
    EqualArea(u32),
    /// So many passes by a tool maker's formula: x_i = x √φ_i / √(n − 1), φ = 0.3, 1, 2, 3, …
    Falling(u32),
    /// So many passes of equal depth: for very fine pitches only.
    EqualDepth(u32),
    /// As few passes as these limits allow.
    Within(CutLimits),
}
/// What one pass may take.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct CutLimits {
    /// Largest area of metal, as the tool's force and the work's stiffness allow.
    pub area: Area,
    /// Thinnest cut: below it the tool rubs.
    pub least: Length,
    /// Deepest cut, whatever its area: the first pass of a narrow point.
    pub most: Length,
}
/// One pass.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Pass {
    /// Radial depth from the blank.
    pub depth: Length,
    /// Radial advance from the pass before.
    pub cut: Length,
    /// Area of metal taken.
    pub area: Area,
}
/// Most passes that a schedule may have; beyond it the limits are no limits of threading.
const MOST_PASSES: usize = 400;

/// Area of a groove `depth` deep: f x + x² tan a; a round nose makes a segment of a circle until its flanks bite.
#[must_use]
pub fn groove_area(depth: Length, nose: Nose, half_angle: Angle) -> Area {
    let x = depth.in_mm().max(0.0);
    let t = half_angle.tan();
    let mm2 = match nose {
        Nose::Flat(f) => f.in_mm() * x + x * x * t,
        Nose::Round(r) => {
            let r = r.in_mm();
            if x < r * (1.0 - half_angle.sin()) {
                r * r * maths::acos(1.0 - x / r) - (r - x) * (2.0 * r * x - x * x).max(0.0).sqrt()
            } else {
                let to_point = x + r * (cosec(half_angle) - 1.0);
                to_point * to_point * t - r * r * rounding(half_angle)
            }
        }
    };
    Area::si(mm2 * 1e-6)
}
fn rounding(half_angle: Angle) -> f64 {
    cot(half_angle) - maths::PI / 2.0 + half_angle.value()
}
/// Depth of a groove of this area; inverse of [`groove_area`].
#[must_use]
pub fn groove_depth(area: Area, nose: Nose, half_angle: Angle) -> Length {
    let a = area.value().max(0.0) * 1e6;
    let t = half_angle.tan();
    let mm = match nose {
        Nose::Flat(f) => {
            let f = f.in_mm();
            // The root of the quadratic that does not cancel for a wide flat.
            let root = f + (f * f + 4.0 * t * a).sqrt();
            if root > 0.0 { 2.0 * a / root } else { 0.0 }
        }
        Nose::Round(radius) => {
            let r = radius.in_mm();
            let bite = Length::mm(r * (1.0 - half_angle.sin()));
            if area >= groove_area(bite, nose, half_angle) {
                ((a + r * r * rounding(half_angle)) / t).sqrt() - r * (cosec(half_angle) - 1.0)
            } else {
                bisect(0.0, bite.in_mm(), |x| groove_area(Length::mm(x), nose, half_angle) < area)
            }
        }
    };
    Length::mm(mm)
}
/// The place between `low` and `high` where `short` ends; 80 halvings reach the last bit.
fn bisect(mut low: f64, mut high: f64, short: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if short(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}
/// Area of cut that bends the work no more than allowed: side force / (half of the specific cutting force).
///
/// The side force is taken as half the cutting force, a habit of the trade.
#[must_use]
pub fn area_for_force(side: Force, specific: Pressure) -> Area {
    Area::si(side.value() / (0.5 * specific.value()))
}

/// Schedules a groove of radial depth `total`.
///
/// # Errors
/// When there is nothing to cut, no pass, or limits that contradict themselves.
pub fn passes(total: Length, nose: Nose, half_angle: Angle, rule: Rule) -> Result<Vec<Pass>, Trouble> {
    if total <= Length::ZERO || !total.is_finite() {
        return Err(
            Trouble::design("there is no depth to cut").why("the blank is already at the pitch diameter")
        );
    }
    let depths = match rule {
        Rule::EqualArea(n) | Rule::Falling(n) | Rule::EqualDepth(n) if n == 0 || n as usize > MOST_PASSES => {
            return Err(Trouble::text(format!("{n} passes cannot be planned")).cure("from 1 to 400"));
        }
        Rule::EqualArea(n) => {
            let whole = groove_area(total, nose, half_angle);
            (1..=n).map(|i| groove_depth(whole * (f64::from(i) / f64::from(n)), nose, half_angle)).collect()
        }
        Rule::Falling(1) => vec![total],
        Rule::Falling(n) => {
            let phi = |i: u32| if i == 1 { 0.3 } else { f64::from(i - 1) };
            (1..=n).map(|i| total * (phi(i) / f64::from(n - 1)).sqrt()).collect()
        }
        Rule::EqualDepth(n) => (1..=n).map(|i| total * (f64::from(i) / f64::from(n))).collect(),
        Rule::Within(limits) => within(total, nose, half_angle, limits)?,
    };
    Ok(with_areas(depths, total, nose, half_angle))
}
fn with_areas(mut depths: Vec<Length>, total: Length, nose: Nose, half_angle: Angle) -> Vec<Pass> {
    if let Some(last) = depths.last_mut() {
        *last = total;
    }
    let mut before = Length::ZERO;
    let pass = |depth: Length| {
        let area = groove_area(depth, nose, half_angle) - groove_area(before, nose, half_angle);
        let pass = Pass { depth, cut: depth - before, area };
        before = depth;
        pass
    };
    depths.into_iter().map(pass).collect()
}
impl Rule {
    /// In a sentence.
    #[must_use]
    pub fn text(self) -> String {
        match self {
            Rule::EqualArea(n) => format!("{n} passes of equal area"),
            Rule::Falling(n) => format!("{n} falling passes"),
            Rule::EqualDepth(n) => format!("{n} passes of equal depth"),
            Rule::Within(l) => format!(
                "as few passes as a cut of at most {} mm², from {} to {} deep allow",
                reckon::print::significant(l.area.value() * 1e6, 3),
                reckon::Shown::shown(&l.least),
                reckon::Shown::shown(&l.most)
            ),
        }
    }
    fn source(self) -> &'static Source {
        match self {
            Rule::EqualArea(_) | Rule::Within(_) => &AREAS,
            Rule::Falling(_) => &FALLING,
            Rule::EqualDepth(_) => &EQUAL,
        }
    }
}
/// One pass in the book.
#[derive(Copy, Clone, Debug)]
pub struct Scheduled {
    /// Radial depth from the blank: `at.1`, `at.2`, … under the prefix.
    pub depth: Val<Length>,
    /// Radial advance from the pass before: `cut.1`, ….
    pub cut: Val<Length>,
    /// Area of metal taken: `area_of.1`, ….
    pub area: Val<Area>,
}
/// [`passes`] written under `prefix`, with their `count` and the table `schedule`.
///
/// # Errors
/// As [`passes`].
pub fn scheduled(
    book: &mut Book,
    prefix: &str,
    total: Val<Length>,
    nose: Nose,
    half_angle: Val<Angle>,
    rule: Rule,
) -> Result<Vec<Scheduled>, Trouble> {
    let list = passes(total.bare(), nose, half_angle.bare(), rule)?;
    let (inputs, source) = (vec![total.id(), half_angle.id()], rule.source());
    let how = || (rule.text(), 0, 0.0);
    let name = |n: &str| under(prefix, n);
    let mut out = Vec::new();
    let mut rows = Vec::new();
    for (i, p) in list.iter().enumerate() {
        let n = i + 1;
        out.push(Scheduled {
            depth: book.solved(name(&format!("at.{n}")), p.depth, how(), inputs.clone(), source),
            cut: book.solved(name(&format!("cut.{n}")), p.cut, how(), inputs.clone(), source),
            area: book.solved(name(&format!("area_of.{n}")), p.area, how(), inputs.clone(), source),
        });
        rows.push(vec![Cell::word(n.to_string()), Cell::of(&p.depth), Cell::of(&p.cut), Cell::of(&p.area)]);
    }
    let count = Count(i64::try_from(list.len()).unwrap_or(i64::MAX));
    book.solved(name("count"), count, how(), inputs.clone(), source);
    book.table(name("schedule"), &["pass", "depth", "cut", "area"], rows, rule.text(), inputs, source);
    Ok(out)
}
/// Takes the largest cut each time, then lowers the common area until the last cut ends at `total` and no sliver is
/// left over. Where the thinnest cut alone is too heavy, the cuts keep their proportion and end at `total`.
fn within(total: Length, nose: Nose, half_angle: Angle, limits: CutLimits) -> Result<Vec<Length>, Trouble> {
    let CutLimits { area, least, most } = limits;
    if least <= Length::ZERO || most < least || area <= Area::ZERO {
        return Err(Trouble::text("these limits leave no cut")
            .why("the deepest cut must be at least the thinnest, and both more than nothing"));
    }
    let next = |x: Length, area: Area| {
        let by_area = groove_depth(groove_area(x, nose, half_angle) + area, nose, half_angle) - x;
        x + by_area.max(least).min(most)
    };
    let walk = |area: Area, n: usize| {
        let mut x = Length::ZERO;
        (0..n)
            .map(|_| {
                x = next(x, area);
                x
            })
            .collect::<Vec<_>>()
    };
    let full = walk(area, MOST_PASSES);
    let Some(last) = full.iter().position(|x| *x >= total) else {
        return Err(Trouble::text(format!("{MOST_PASSES} passes do not reach the depth"))
            .cure("allow a deeper cut, or a larger area"));
    };
    let n = last + 1;
    let reach = |a: Area, n: usize| walk(a, n).last().copied().unwrap_or(Length::ZERO);
    if reach(Area::ZERO, n) <= total {
        let a = bisect(0.0, area.value(), |a| reach(Area::si(a), n) < total);
        return Ok(walk(Area::si(a), n));
    }
    // n thinnest cuts go too deep: one pass fewer, each a little deeper than it should be.
    let fewer = walk(area, last.max(1));
    let stretch = total / fewer.last().copied().unwrap_or(total);
    Ok(fewer.into_iter().map(|x| x * stretch).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn noses(p: f64, k: f64, round: bool) -> Nose {
        let size = Length::mm(p * k);
        if round { Nose::Round(size) } else { Nose::Flat(size) }
    }
    proptest! {
        #[test]
        fn area_and_depth_are_inverse(x in 0.001..2.0_f64, k in 0.0..0.3_f64, round: bool, a in 20.0..31.0_f64) {
            let (nose, a) = (noses(1.0, k, round), Angle::deg(a));
            let back = groove_depth(groove_area(Length::mm(x), nose, a), nose, a);
            prop_assert!((back.in_mm() - x).abs() < 1e-9, "{back:?} {x}");
        }
        #[test]
        fn passes_sum_to_the_depth_and_keep_their_limits(
            x in 0.02..1.2_f64, k in 0.0..0.25_f64, round: bool, area in 0.002..0.2_f64, least in 0.005..0.03_f64,
            over in 0.0..0.1_f64
        ) {
            let (nose, a, total) = (noses(1.0, k, round), Angle::deg(27.5), Length::mm(x));
            let limits = CutLimits {
                area: Area::si(area * 1e-6), least: Length::mm(least), most: Length::mm(least + over),
            };
            let list = passes(total, nose, a, Rule::Within(limits)).unwrap();
            let sum: Length = list.iter().map(|p| p.cut).sum();
            prop_assert!((sum - total).in_mm().abs() < 1e-12);
            prop_assert_eq!(list.last().map(|p| p.depth), Some(total));
            // The thinnest cut may be heavier than the area; it may also have to be stretched when it is all there is.
            let forced = list.iter().all(|p| p.cut.in_mm() <= 2.0 * least + 1e-9);
            for p in &list {
                prop_assert!(p.cut > Length::ZERO);
                prop_assert!(p.cut.in_mm() <= least + over + 1e-9 || forced, "{:?}", list);
                let light = p.area.value() <= limits.area.value() * (1.0 + 1e-9);
                prop_assert!(light || p.cut.in_mm() <= least * (1.0 + 1e-9) || forced, "{:?}", list);
            }
        }
        #[test]
        fn every_rule_ends_at_the_depth(x in 0.05..1.0_f64, n in 1..30_u32, k in 0.0..0.2_f64, round: bool) {
            let (nose, a, total) = (noses(1.0, k, round), Angle::deg(30.0), Length::mm(x));
            for rule in [Rule::EqualArea(n), Rule::Falling(n), Rule::EqualDepth(n)] {
                let list = passes(total, nose, a, rule).unwrap();
                prop_assert_eq!(list.len(), n as usize);
                prop_assert!(list.windows(2).all(|w| w[0].depth < w[1].depth));
                let sum: Length = list.iter().map(|p| p.cut).sum();
                prop_assert!((sum - total).in_mm().abs() < 1e-12);
            }
            let list = passes(total, nose, a, Rule::EqualArea(n)).unwrap();
            let first = list[0].area;
            prop_assert!(list.iter().all(|p| ((p.area / first).value() - 1.0).abs() < 1e-6));
        }
    }
    #[test]
    fn nonsense_is_refused() {
        let a = Angle::deg(30.0);
        let sharp = Nose::Flat(Length::ZERO);
        assert!(passes(Length::ZERO, sharp, a, Rule::EqualArea(3)).is_err());
        assert!(passes(Length::mm(0.3), sharp, a, Rule::EqualArea(0)).is_err());
        let bad = CutLimits { area: Area::si(1e-9), least: Length::mm(0.03), most: Length::mm(0.02) };
        assert!(passes(Length::mm(0.3), sharp, a, Rule::Within(bad)).is_err());
    }
}
