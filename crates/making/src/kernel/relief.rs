//! Tools that cut a round groove into a face: how much they must be relieved to follow the circle.
//!
//! The tool stands on centre with a level edge and is fed along the axis. `y` is the depth
//! below the edge, where the work moves down past the tool.

use super::greatest;
use reckon::{Angle, Length, Radius, Source, maths};

/// Relief of the outer flank.
pub static SIDE: Source =
    Source::derived("flat flank inside the circle of the outer wall").with_formula("β = ½ asin(H/R_o)");
/// End clearance that lets a flank of given relief out of the groove in time.
pub static END: Source = Source::derived("the end leaves the groove before the flank meets the wall")
    .with_formula("tan α = g/(R_o sin 2β)");
/// End clearance of a round nose with straight sides.
pub static NOSE: Source = Source::derived("nose drawn out along the clearance, met with the outer lip")
    .with_formula("tan α = max −z(x)/√(R_o² − x²); for half a round √(ρ/R_o)");
/// A nose ground to one clearance all round.
pub static CONE: Source =
    Source::derived("nose whose radius shrinks by tan δ with depth, against the torus of the groove");
/// Clearance lost to the feed.
pub static FEED: Source = Source::derived("slope of the feed helix").with_formula("tan = f/(2π R_i)");
/// Which jig to take.
pub static JIG: Source = Source::practice(
    "the least side relief that clears, so that the foot of the tool stays wide, then the least end clearance; a third of the width is left at the foot",
);

/// Height of tool that stands inside the groove: all of it, or down to where the end clearance leads out.
#[must_use]
pub fn height_inside(tool: Length, depth: Length, end: Angle) -> Length {
    if end.value() <= 0.0 { tool } else { tool.min(depth / end.tan()) }
}
/// Least relief of a flat outer flank for `height` of tool inside the groove; `None` when it is higher than the
/// radius, which no relief cures.
#[must_use]
pub fn side_relief(height: Length, outer: Radius) -> Option<Angle> {
    let s = (height / outer.out()).value();
    (s <= 1.0).then(|| Angle::si(maths::asin(s) / 2.0))
}
/// Greatest height of tool inside the groove that a flat flank of relief `side` clears; beyond 45° it does not grow.
#[must_use]
pub fn height_for(side: Angle, outer: Radius) -> Length {
    outer.out() * maths::sin((side * 2.0).value().clamp(0.0, maths::PI / 2.0))
}
/// Least end clearance for a groove `depth` deep, with flanks relieved by `side`, for a tool higher than the groove allows.
#[must_use]
pub fn end_clearance(depth: Length, outer: Radius, side: Angle) -> Angle {
    Angle::si(maths::atan2(depth.value(), height_for(side, outer).value()))
}
/// End clearance that the feed takes at the inner radius.
#[must_use]
pub fn feed_loss(feed: Length, inner: Radius) -> Angle {
    Angle::si(maths::atan(feed.value() / (2.0 * maths::PI * inner.value())))
}

/// A groove with a round bottom.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct RoundGroove {
    /// Radius of its section.
    pub nose: Radius,
    /// Depth, no more than the radius of the section.
    pub depth: Length,
    /// Radius of its middle.
    pub middle: Radius,
}
impl RoundGroove {
    /// Whether it can be: some depth, no deeper than half a round, and the inner lip not past the axis.
    #[must_use]
    pub fn sound(&self) -> bool {
        let g = self.depth.value();
        g > 0.0 && g <= self.nose.value() * (1.0 + 1e-12) && self.half_width() <= self.middle.out()
    }
    /// Half of its width on the face.
    #[must_use]
    pub fn half_width(&self) -> Length {
        let (r, g) = (self.nose.value(), self.depth.value());
        Length::si(maths::sqrt((2.0 * r * g - g * g).max(0.0)))
    }
    /// Radius of its outer lip.
    #[must_use]
    pub fn outer(&self) -> Radius {
        self.middle + self.half_width()
    }
    /// Radius of its inner lip.
    #[must_use]
    pub fn inner(&self) -> Radius {
        self.middle - self.half_width()
    }
}
/// Least end clearance of a round nose with straight sides, of which `land` below the edge counts (all of it when
/// `None`). `None` when the groove cannot be.
///
/// The largest slope is sought over the arc in 4000 equal steps and then by golden section between the neighbours
/// of the best; the result is within 1e-6 rad while `land` is at least a thousandth of the outer radius.
#[must_use]
pub fn nose_end_clearance(groove: &RoundGroove, land: Option<Length>) -> Option<Angle> {
    if !groove.sound() {
        return None;
    }
    let (rho, g, mid) =
        (groove.nose.value(), groove.depth.value().min(groove.nose.value()), groove.middle.value());
    let outer = groove.outer().value();
    let end = maths::asin((groove.half_width().value() / rho).min(1.0));
    // Height above the face of the section at distance x from the axis; 0 on the face itself.
    let section = |x: f64| {
        let off = x - mid;
        if off.abs() >= groove.half_width().value() {
            0.0
        } else {
            rho - g - maths::sqrt(rho * rho - off * off)
        }
    };
    // By the angle down from the lip: what is small near the lip is then a product, not a difference.
    let slope = |down: f64| {
        let phi = end - down;
        let x = mid + rho * maths::sin(phi);
        let half_down = maths::sin(down / 2.0);
        let below_face = 2.0 * rho * maths::sin(end - down / 2.0) * half_down;
        let inside_lip = 2.0 * rho * maths::cos(end - down / 2.0) * half_down;
        let to_lip = maths::sqrt((inside_lip * (outer + x)).max(0.0));
        match land.map(Length::value).filter(|y| *y < to_lip) {
            Some(y) => (section(maths::hypot(x, y)) + below_face) / y,
            None => below_face / to_lip,
        }
    };
    const STEPS: i32 = 4000;
    const CLOSEST: f64 = 1e-6;
    let at = |i: i32| CLOSEST + (2.0 * end - CLOSEST) * f64::from(i) / f64::from(STEPS);
    let mut best = (0, slope(CLOSEST));
    for i in 1..STEPS {
        let s = slope(at(i));
        if s > best.1 {
            best = (i, s);
        }
    }
    let golden = (maths::sqrt(5.0) - 1.0) / 2.0;
    let (mut l, mut r) = (at((best.0 - 1).max(0)), at(best.0 + 1));
    for _ in 0..80 {
        let (a, b) = (r - golden * (r - l), l + golden * (r - l));
        if slope(a) < slope(b) { l = a } else { r = b }
    }
    let mut top = best.1.max(slope(f64::midpoint(l, r)));
    // Half a round: the slope grows towards the lip without reaching its limit there.
    let half_round = rho - g <= 1e-12 * rho;
    if half_round && land.is_none() {
        top = top.max(maths::sqrt(rho / outer));
    }
    Some(Angle::si(maths::atan(top)))
}
/// Longest land below the edge for which end clearance `end` is enough for a nose with straight sides, up to `tool`.
#[must_use]
pub fn nose_land(groove: &RoundGroove, end: Angle, tool: Length) -> Option<Length> {
    let whole = nose_end_clearance(groove, None)?;
    if end >= whole {
        return Some(tool);
    }
    let least = groove.outer().value() * 1e-3;
    let fits = |y: f64| nose_end_clearance(groove, Some(Length::si(y))).is_some_and(|a| a <= end);
    if !fits(least) {
        return None;
    }
    let (y, _) = greatest(least, tool.value().max(least), 1e-8, fits);
    Some(Length::si(y))
}

/// How far a nose ground to clearance `all_round` on all sides, `height` high, would stand in the wall of the groove:
/// positive where it rubs. Sought over 400 depths and 400 places on the arc.
#[must_use]
pub fn cone_overlap(groove: &RoundGroove, all_round: Angle, height: Length) -> Length {
    let (rho, g, mid) = (groove.nose.value(), groove.depth.value(), groove.middle.value());
    let t = all_round.tan();
    let arc: Vec<(f64, f64)> = (-200..=200)
        .map(|k| f64::from(k) / 200.0 * maths::PI / 2.0)
        .map(|phi| (maths::sin(phi), maths::cos(phi)))
        .collect();
    let mut worst = f64::NEG_INFINITY;
    for i in 0..=400 {
        let y = height.value() * f64::from(i) / 400.0;
        let q = rho - y * t;
        if q <= 0.0 {
            break;
        }
        for (sin, cos) in &arc {
            if rho - g - q * cos >= 0.0 {
                continue;
            }
            // Plain roots: sizes of a tool neither overflow nor vanish when squared.
            let x = mid + q * sin;
            let out = maths::sqrt(x * x + y * y) - mid;
            worst = worst.max(maths::sqrt(out * out + q * q * cos * cos) - rho);
        }
    }
    Length::si(worst)
}
/// Greatest height of a nose ground to clearance `all_round` on all sides that the groove clears, up to `tool`.
///
/// Rubbing is judged to a hundredth of a micrometre, the height found to the same.
#[must_use]
pub fn cone_height(groove: &RoundGroove, all_round: Angle, tool: Length) -> Length {
    let fits = |h: f64| cone_overlap(groove, all_round, Length::si(h)).value() <= 1e-8;
    Length::si(greatest(0.0, tool.value(), 1e-8, fits).0)
}

/// A tool ground by jigs of fixed angle.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Ground {
    /// Clearance of the end.
    pub end: Angle,
    /// Relief of the outer side (and of the nose all round, where it is round).
    pub side: Angle,
    /// Height of tool inside the groove.
    pub inside: Length,
    /// Height that these angles clear.
    pub clears: Length,
    /// The blank must be thinned below the edge to this height; `None` when it clears as it is.
    pub thin_to: Option<Length>,
    /// Width left at the foot of the tool.
    pub foot: Length,
}
/// A groove with flat bottom, or with a round one.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Groove {
    /// Flat bottom and square walls.
    Flat {
        /// Inner wall.
        inner: Radius,
        /// Outer wall.
        outer: Radius,
        /// Depth.
        depth: Length,
    },
    /// Round bottom; the tool is ground to one clearance all round its nose.
    Round(RoundGroove),
}
impl Groove {
    fn depth(&self) -> Length {
        match self {
            Groove::Flat { depth, .. } => *depth,
            Groove::Round(g) => g.depth,
        }
    }
    /// Width on the face.
    #[must_use]
    pub fn width(&self) -> Length {
        match self {
            Groove::Flat { inner, outer, .. } => *outer - *inner,
            Groove::Round(g) => g.half_width() * 2.0,
        }
    }
    /// Radius of the inner lip.
    #[must_use]
    pub fn inner(&self) -> Radius {
        match self {
            Groove::Flat { inner, .. } => *inner,
            Groove::Round(g) => g.inner(),
        }
    }
}
/// Every way to grind a tool of height `tool` with the jigs `jigs` so that it clears the groove at feed `feed`,
/// best first: those that need no thinning, then the least relief of the side, then of the end.
///
/// Each end clearance must exceed what the feed takes by 2°. A flat tool may have end and side of different jigs,
/// a round nose has one clearance all round. At the foot a third of the width must be left.
#[must_use]
pub fn grindings(groove: &Groove, tool: Length, jigs: &[Angle], feed: Length) -> Vec<Ground> {
    let least_end = feed_loss(feed, groove.inner()) + Angle::deg(2.0);
    let width = groove.width();
    let mut ways: Vec<Ground> = Vec::new();
    for end in jigs.iter().copied().filter(|a| *a >= least_end) {
        if let Groove::Round(g) = groove {
            ways.extend(straight_sided(g, tool, end));
        }
        for side in jigs.iter().copied() {
            let (clears, sides) = match groove {
                Groove::Flat { outer, .. } => (height_for(side, *outer), 1.0),
                Groove::Round(g) if (side - end).abs() < Angle::si(1e-9) => {
                    // What has left the groove needs no clearing: the search ends where the tip is out.
                    (cone_height(g, side, tool), 2.0)
                }
                Groove::Round(_) => continue,
            };
            let inside = height_inside(tool, groove.depth(), end);
            let thin = inside > clears;
            let height = if thin { clears } else { tool };
            let foot = width - height * (side.tan() * sides);
            if foot < width / 3.0 || clears <= Length::ZERO {
                continue;
            }
            ways.push(Ground {
                end,
                side,
                inside: inside.min(height),
                clears,
                thin_to: thin.then_some(clears),
                foot,
            });
        }
    }
    let rank = |w: &Ground| (w.thin_to.is_some(), w.side.value(), w.end.value());
    ways.sort_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap_or(std::cmp::Ordering::Equal));
    ways
}

/// A round nose with straight sides: the end clearance alone must carry it clear of the outer lip, over the whole
/// blank or over a land below which it is ground away.
fn straight_sided(groove: &RoundGroove, tool: Length, end: Angle) -> Option<Ground> {
    let land = nose_land(groove, end, tool)?;
    let inside = height_inside(tool, groove.depth, end);
    let thin = land < inside;
    // A land thinner than this breaks out under the edge.
    if thin && land < Length::mm(0.5) {
        return None;
    }
    let thin_to = thin.then_some(land);
    Some(Ground {
        end,
        side: Angle::ZERO,
        inside: inside.min(land),
        clears: land,
        thin_to,
        foot: groove.half_width() * 2.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stands the tool in the groove point by point: greatest overlap over a grid of points of the tool that lie
    /// below the face. A point is outside its groove when metal is left there. Nothing of the formulas above.
    fn rubs(
        section: impl Fn(f64) -> f64,
        tool: impl Fn(f64) -> Vec<(f64, f64)>,
        height: f64,
        steps: i32,
    ) -> f64 {
        let mut worst = f64::NEG_INFINITY;
        for i in 0..=steps {
            let y = height * f64::from(i) / f64::from(steps);
            for (x, z) in tool(y) {
                if z < 0.0 {
                    worst = worst.max(section(maths::hypot(x, y)) - z);
                }
            }
        }
        worst
    }
    fn flat_rubs(outer: f64, inner: f64, depth: f64, height: f64, end: f64, side: f64) -> bool {
        let section = |r: f64| if r > outer + 1e-9 || r < inner - 1e-9 { 0.0 } else { -depth };
        let (te, ts) = (Angle::deg(end).tan(), Angle::deg(side).tan());
        let tool = |y: f64| {
            let (l, r, z) = (inner, outer - y * ts, -depth + y * te);
            (0..=50).map(|k| (l + (r - l) * f64::from(k) / 50.0, z)).collect()
        };
        rubs(section, tool, height, 12_000) > 1e-9
    }
    #[test]
    fn flat_flank_against_the_solid() {
        // Deep enough that the end never leads out: side relief alone decides.
        assert!(flat_rubs(6.0, 4.5, 3.0, 3.0, 0.0, 14.9));
        assert!(!flat_rubs(6.0, 4.5, 3.0, 3.0, 0.0, 15.0));
        let a = end_clearance(Length::mm(0.5), Radius::mm(5.0), Angle::deg(6.0)).in_deg();
        assert!(flat_rubs(5.0, 3.5, 0.5, 9.0, a - 0.05, 6.0));
        assert!(!flat_rubs(5.0, 3.5, 0.5, 9.0, a + 0.05, 6.0));
    }
    fn nose_rubs(g: &RoundGroove, height: f64, end: f64) -> bool {
        let (rho, depth, mid) = (g.nose.in_mm(), g.depth.in_mm(), g.middle.in_mm());
        let half = g.half_width().in_mm();
        let section = |r: f64| {
            let off = r - mid;
            if off.abs() >= half { 0.0 } else { rho - depth - maths::sqrt(rho * rho - off * off) }
        };
        let t = Angle::deg(end).tan();
        let tool = |y: f64| {
            let mut points = Vec::new();
            for k in -400..=400 {
                // Finer towards the ends, where half a round is steepest.
                let u = f64::from(k) / 400.0;
                let x = mid + half * maths::sin(u * maths::PI / 2.0);
                points.push((x, section(x) + y * t));
            }
            points
        };
        rubs(section, tool, height, 1500) > 1e-6
    }
    #[test]
    fn round_nose_against_the_solid() {
        for (rho, depth, mid) in [(1.0, 0.4, 4.0), (0.75, 0.5, 6.75), (1.2, 1.15, 3.0), (0.5, 0.1, 12.0)] {
            let g = RoundGroove { nose: Radius::mm(rho), depth: Length::mm(depth), middle: Radius::mm(mid) };
            let a = nose_end_clearance(&g, None).unwrap().in_deg();
            assert!(nose_rubs(&g, 9.0, a - 0.06), "{g:?} {a}");
            assert!(!nose_rubs(&g, 9.0, a + 0.02), "{g:?} {a}");
            let land = 0.8;
            let b = nose_end_clearance(&g, Some(Length::mm(land))).unwrap().in_deg();
            assert!(b <= a + 1e-9);
            assert!(nose_rubs(&g, land, b - 0.06), "{g:?} land {b}");
            assert!(!nose_rubs(&g, land, b + 0.02), "{g:?} land {b}");
        }
    }
    #[test]
    fn half_round_meets_its_closed_form() {
        let g = RoundGroove { nose: Radius::mm(0.5), depth: Length::mm(0.5), middle: Radius::mm(15.5) };
        let a = nose_end_clearance(&g, None).unwrap();
        assert!((a.tan() - maths::sqrt(0.5 / 16.0)).abs() < 1e-9);
        // 10° is enough from R_o = 32 ρ on: tan² 10° = 1/32.16.
        let deeper = RoundGroove { depth: Length::mm(0.6), ..g };
        assert_eq!(nose_end_clearance(&deeper, None), None);
    }
    #[test]
    fn land_gives_back_its_clearance() {
        let g = RoundGroove { nose: Radius::mm(0.75), depth: Length::mm(0.5), middle: Radius::mm(7.5) };
        let end = Angle::deg(8.0);
        let land = nose_land(&g, end, Length::mm(6.0)).unwrap();
        assert!(land < Length::mm(6.0));
        let a = nose_end_clearance(&g, Some(land)).unwrap();
        assert!((a.in_deg() - 8.0).abs() < 1e-3);
        assert_eq!(nose_land(&g, Angle::deg(30.0), Length::mm(6.0)), Some(Length::mm(6.0)));
    }
    #[test]
    fn cone_nose_against_the_solid() {
        let g = RoundGroove { nose: Radius::mm(0.75), depth: Length::mm(0.75), middle: Radius::mm(7.5) };
        let h = cone_height(&g, Angle::deg(8.0), Length::mm(6.0)).in_mm();
        let (rho, depth, mid) = (0.75, 0.75, 7.5);
        let section = |r: f64| {
            let off: f64 = r - mid;
            if off.abs() >= rho { 0.0 } else { rho - depth - maths::sqrt(rho * rho - off * off) }
        };
        let t = Angle::deg(8.0).tan();
        let tool = |y: f64| {
            let q = rho - y * t;
            let mut points = Vec::new();
            for k in -300..=300 {
                for l in 0..=4 {
                    let phi = f64::from(k) / 300.0 * maths::PI / 2.0;
                    let part = q * f64::from(l) / 4.0;
                    points.push((mid + part * maths::sin(phi), rho - depth - part * maths::cos(phi)));
                }
            }
            points
        };
        assert!(h > 1.0 && h < 6.0, "{h}");
        assert!(rubs(section, tool, h * 0.999, 1500) < 1e-6);
        assert!(rubs(section, tool, h * 1.03, 1500) > 1e-4);
    }
    #[test]
    fn jigs_are_chosen_for_the_groove() {
        let jigs = [5.0, 8.0, 10.0, 15.0].map(Angle::deg);
        let groove =
            Groove::Flat { inner: Radius::mm(6.75), outer: Radius::mm(8.25), depth: Length::mm(0.5) };
        let ways = grindings(&groove, Length::mm(3.0), &jigs, Length::mm(0.03));
        let best = ways[0];
        assert_eq!(best.thin_to, None);
        assert!(!flat_rubs(8.25, 6.75, 0.5, 3.0, best.end.in_deg(), best.side.in_deg()), "{best:?}");
        for w in &ways {
            let height = w.thin_to.map_or(3.0, Length::in_mm);
            assert!(!flat_rubs(8.25, 6.75, 0.5, height, w.end.in_deg(), w.side.in_deg()), "{w:?}");
            assert!(w.foot >= groove.width() / 3.0);
        }
        assert!(grindings(&groove, Length::mm(3.0), &[Angle::deg(1.0)], Length::mm(0.03)).is_empty());
    }
}
