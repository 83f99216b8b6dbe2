//! Size over two pins laid in opposite spaces: what the depth of a formed cutter is measured by.
//!
//! Plain millimetres. The pin is laid into the true outline: its centre goes inward on the middle of the space
//! until the first flank is touched. Teeth are symmetrical, the axis of one along +x.

use kurbo::Point;
use reckon::Source;
use reckon::maths::{PI, cos, hypot};
use shape::profile::{Profile, Segment, Sense, on_circle};

/// Size over pins.
pub static OVER_PINS: Source =
    Source::derived("a circle that touches both flanks of a space; over two in opposite spaces")
        .with_formula(
            "M = 2 ρ + d (even count), M = 2 ρ cos(π/2z) + d (odd count); deeper by δ: ρ less by δ",
        );

/// Where a pin rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rest {
    /// On both flanks.
    Flanks,
    /// On the tips: too large, it tells nothing of the depth.
    Tips,
    /// On the bottom of the space: too small.
    Bottom,
}
/// A pin in a space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pinned {
    /// From the axis to the middle of the pin.
    pub centre: f64,
    /// Over two such pins, as near opposite as the count allows.
    pub over: f64,
    /// From the axis to where it touches.
    pub contact: f64,
    /// Sine of the angle between the flank and the middle of the space where it touches.
    pub wedge: f64,
    /// Where it rests.
    pub rest: Rest,
    /// How far it stands out beyond the tips; negative when a flat face meets the tips first.
    pub proud: f64,
}
impl Pinned {
    /// By how much the size over pins falls for each unit that the space is cut deeper.
    #[must_use]
    pub fn for_depth(count: u32) -> f64 {
        2.0 * askew(count)
    }
    /// By how much it grows for each unit that the pins are larger than thought.
    #[must_use]
    pub fn for_pin(&self, count: u32) -> f64 {
        1.0 + askew(count) / self.wedge
    }
}
/// An odd count has no two spaces opposite: the nearest pair stands half a pitch out.
fn askew(count: u32) -> f64 {
    if count.is_multiple_of(2) { 1.0 } else { cos(PI / 2.0 / f64::from(count)) }
}
/// The chain from the tip of one tooth to the tip of the next.
fn space(outline: &Profile, count: u32) -> Option<Profile> {
    let step = 2.0 * PI / f64::from(count);
    let angle = |p: Point| {
        let a = reckon::maths::atan2(p.y, p.x);
        if a < -step * 0.25 { a + 2.0 * PI } else { a }
    };
    let within = |p: Point| (-1e-7..=step + 1e-7).contains(&angle(p));
    let mut chain: Option<Profile> = None;
    for s in outline.segments() {
        if !(within(s.from()) && within(s.to())) {
            if chain.is_some() {
                break;
            }
            continue;
        }
        let p = chain.unwrap_or_else(|| Profile::start(s.from().x, s.from().y));
        chain = Some(match *s {
            Segment::Line { to, .. } => p.line(to.x, to.y),
            Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
        });
    }
    chain
}
/// Lays a pin into the spaces of an outline; nothing where the outline has no such spaces or the pin falls through.
#[must_use]
pub fn over(outline: &Profile, count: u32, pin: f64) -> Option<Pinned> {
    if count < 2 || pin.is_nan() || pin <= 0.0 {
        return None;
    }
    let chain = space(outline, count)?;
    let radius = |p: Point| hypot(p.x, p.y);
    let (mut tip, mut root) = (0.0_f64, f64::INFINITY);
    // As fine as the teeth are, whatever their size.
    let within = radius(chain.begin()) * 1e-5;
    for p in chain.sampled(within) {
        tip = tip.max(radius(p));
        root = root.min(radius(p));
    }
    let q = pin / 2.0;
    let middle = PI / f64::from(count);
    let clear = |rho: f64| chain.distance_to(on_circle(Point::ORIGIN, rho, middle)) - q;
    let (mut high, step) = (tip + q * 1.01, (q / 100.0).max((tip - root) / 2000.0));
    while clear(high - step) > 0.0 {
        high -= step;
        if high < root {
            return None;
        }
    }
    let mut low = high - step;
    for _ in 0..60 {
        let m = f64::midpoint(low, high);
        if clear(m) > 0.0 {
            high = m;
        } else {
            low = m;
        }
    }
    let centre = high;
    let h = q * 1e-6;
    let wedge = ((clear(centre + h) - clear(centre - h)) / (2.0 * h)).clamp(1e-6, 1.0);
    let contact = {
        let along = centre - q * wedge;
        hypot(along, q * (1.0 - wedge * wedge).sqrt())
    };
    let rest = if contact > tip - (tip - root) * 0.02 {
        Rest::Tips
    } else if wedge > 0.98 {
        Rest::Bottom
    } else {
        Rest::Flanks
    };
    Some(Pinned {
        centre,
        over: 2.0 * centre * askew(count) + pin,
        contact,
        wedge,
        rest,
        proud: centre + q - tip,
    })
}
/// A plain ring of teeth of straight radial flanks: the outline whose pins are found by hand.
#[doc(hidden)]
#[must_use]
pub fn straight(count: u32, tip: f64, root: f64, half: f64) -> Profile {
    let step = 2.0 * PI / f64::from(count);
    let at = |r: f64, a: f64| on_circle(Point::ORIGIN, r, a);
    let first = at(tip, 0.0);
    let mut p = Profile::start(first.x, first.y);
    for k in 0..count {
        let a = step * f64::from(k);
        p = p.arc_to(at(tip, a + half), Point::ORIGIN, Sense::Left);
        let foot = at(root, a + half);
        p = p.line(foot.x, foot.y).arc_to(at(root, a + step - half), Point::ORIGIN, Sense::Left);
        let up = at(tip, a + step - half);
        p = p.line(up.x, up.y).arc_to(at(tip, a + step), Point::ORIGIN, Sense::Left);
    }
    p
}

#[cfg(test)]
mod tests {
    use super::*;
    use reckon::maths::sin;

    /// Radial flanks: the pin's centre stands at q / sin(half angle of the space).
    #[test]
    fn straight_flanks_by_hand() {
        let (z, half) = (9, 0.12);
        let outline = straight(z, 10.0, 4.0, half);
        let lean = PI / f64::from(z) - half;
        let q = 1.6;
        let p = over(&outline, z, 2.0 * q).expect("a pin");
        assert_eq!(p.rest, Rest::Flanks);
        let rho = q / sin(lean);
        assert!((p.centre - rho).abs() < 1e-9, "{p:?} {rho}");
        assert!((p.wedge - sin(lean)).abs() < 1e-5);
        assert!((p.over - (2.0 * rho * cos(PI / 18.0) + 2.0 * q)).abs() < 1e-9);
        assert!((p.contact - rho * cos(lean)).abs() < 1e-4);
    }
    #[test]
    fn too_small_and_too_large() {
        let outline = straight(12, 10.0, 8.0, 0.1);
        assert_eq!(over(&outline, 12, 0.4).map(|p| p.rest), Some(Rest::Bottom));
        assert_eq!(over(&outline, 12, 6.0).map(|p| p.rest), Some(Rest::Tips));
        assert_eq!(over(&outline, 12, 0.0), None);
    }
}
