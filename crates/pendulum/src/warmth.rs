//! What warmth does to a pendulum: rods that grow, bobs that grow, strips that soften.
//!
//! SI units; coefficients per kelvin; rates in s/day, + gains.

use crate::compound::{Body, Pendulum, Sums};
use crate::root::{self, Found};
use crate::strip::Strip;
use reckon::Source;

/// Plain rod.
pub static PLAIN: Source = Source::derived("a pendulum whose rod alone grows").with_formula("−86400 α/2");
/// Two metals against each other.
pub static RULE: Source = Source::derived("lengths that grow down and up leave the bob where it was")
    .with_formula("lup = αdown l/(αup − αdown)");
/// All of a made pendulum.
pub static WHOLE: Source =
    Source::derived("rigid pendulum of several bodies, each grown by its own warmth; 1 K either way")
        .with_formula("−86400 (1/T) dT/dθ");

/// A length on the way from the axis to the centre of a body.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Reach {
    /// Downward, negative where the way turns back up.
    pub length: f64,
    /// How it grows.
    pub expansion: f64,
}
/// A body with what it hangs by.
#[derive(Clone, PartialEq, Debug)]
pub struct Hung {
    /// The body as it is in the usual warmth; its depth is the sum of the way.
    pub body: Body,
    /// How it grows itself.
    pub expansion: f64,
    /// The way from the axis (or the upper chop) to its centre of gravity.
    pub way: Vec<Reach>,
}
impl Hung {
    /// A body whose centre lies at the end of a way.
    #[must_use]
    pub fn new(mut body: Body, expansion: f64, way: Vec<Reach>) -> Hung {
        body.at = way.iter().map(|r| r.length).sum();
        Hung { body, expansion, way }
    }
    /// The same, warmer.
    fn warmer(&self, by: f64) -> Body {
        let at = self.way.iter().map(|r| r.length * (1.0 + r.expansion * by)).sum();
        // A body grows alike in all directions: its moment grows with the square.
        let k = 1.0 + self.expansion * by;
        let form = crate::compound::Form::Known { spread: self.body.form.spread() * k * k };
        Body { name: self.body.name.clone(), form, mass: self.body.mass, at }
    }
}
/// How a suspension strip answers warmth.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct WarmStrip {
    /// The strip.
    pub strip: Strip,
    /// Its expansion.
    pub expansion: f64,
    /// Share by which its modulus changes for each kelvin (negative for steel).
    pub softening: f64,
}
/// Slope of the rate of a plain rod, in s/day per kelvin.
#[must_use]
pub fn plain(expansion: f64) -> f64 {
    -crate::DAY * expansion / 2.0
}
/// Length that must grow upward against `down` of another metal that holds the bob up to `net`.
/// `None` when the metal does not grow more than the rod.
#[must_use]
pub fn up_length(net: f64, down: f64, up: f64) -> Option<f64> {
    (up > down).then(|| down * net / (up - down))
}
/// Pairs of rods that carry a bob of two metals: the least number of rods (1 + 4 for each pair) that
/// a frame needs when each rod going up is at most as long as one going down.
/// `None` when no frame of up to 13 rods does.
#[must_use]
pub fn frame_rods(down: f64, up: f64) -> Option<u32> {
    // n pairs: down n + 1 lengths of the metal of the rod, up n of the other.
    (1..=3_u32).find(|n| up / down * f64::from(*n) >= f64::from(*n) + 1.0).map(|n| 1 + 4 * n)
}
/// Square of the time of swing over 4π², in units where only ratios count: warm or cold.
fn quickness(bodies: &[Hung], strip: Option<&WarmStrip>, g: f64, by: f64) -> f64 {
    let warm: Vec<Body> = bodies.iter().map(|b| b.warmer(by)).collect();
    let all = Sums::of(&warm);
    let Some(s) = strip else { return (1.0 / all.length()).sqrt() };
    let k = 1.0 + s.expansion * by;
    let strip = Strip {
        modulus: s.strip.modulus * (1.0 + s.softening * by),
        width: s.strip.width * k,
        thick: s.strip.thick * k,
        free: s.strip.free * k,
    };
    strip.modes(all.mass, all.centre() - strip.free, all.own(), all.mass * g).swing / g.sqrt()
}
/// Slope of the rate of a whole pendulum, in s/day per kelvin. With a strip, ways count from its upper chop.
#[must_use]
pub fn slope(bodies: &[Hung], strip: Option<&WarmStrip>, g: f64) -> f64 {
    let at = |by| quickness(bodies, strip, g, by);
    crate::DAY * (at(1.0) - at(-1.0)) / (2.0 * at(0.0))
}
/// A pendulum with a sleeve between its nut and its bob that grows upward.
#[derive(Clone, PartialEq, Debug)]
pub struct Sleeved {
    /// What hangs on the rod apart from the bob (the rod itself and more).
    pub rest: Vec<Hung>,
    /// The bob; its depth is where its centre shall be.
    pub bob: Body,
    /// How the bob grows.
    pub bob_expansion: f64,
    /// Part of its height by which the bob rests below its centre (nothing when held at the centre).
    pub rests: f64,
    /// Growth of the rod.
    pub rod: f64,
    /// Growth of the sleeve.
    pub sleeve: f64,
    /// The strip, if it counts.
    pub strip: Option<WarmStrip>,
}
impl Sleeved {
    /// All that hangs, with a sleeve this long.
    #[must_use]
    pub fn hung(&self, sleeve: f64) -> Vec<Hung> {
        let mut way = vec![
            Reach { length: self.bob.at + self.rests + sleeve, expansion: self.rod },
            Reach { length: -sleeve, expansion: self.sleeve },
        ];
        if self.rests != 0.0 {
            way.push(Reach { length: -self.rests, expansion: self.bob_expansion });
        }
        let mut all = self.rest.clone();
        all.push(Hung::new(self.bob.clone(), self.bob_expansion, way));
        all
    }
    /// Slope of the rate with a sleeve this long.
    #[must_use]
    pub fn slope(&self, sleeve: f64, g: f64) -> f64 {
        slope(&self.hung(sleeve), self.strip.as_ref(), g)
    }
    /// Length of sleeve that leaves no slope; negative when the bob alone is already too much.
    /// `None` when sleeve and rod grow alike.
    #[must_use]
    pub fn balance(&self, g: f64) -> Option<Found> {
        let f = |s: f64| self.slope(s, g);
        let far = 2.0 * self.bob.at.abs();
        root::between(f, -far, far)
    }
}
/// The same bodies as a pendulum that is not warmed.
#[must_use]
pub fn cold(bodies: &[Hung]) -> Pendulum {
    Pendulum { fixed: bodies.iter().map(|h| h.body.clone()).collect(), moving: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compound::Form;
    use proptest::prelude::*;

    const G: f64 = 9.80665;

    fn example() -> Sleeved {
        let rod = Form::Upright { outer: 0.008, bore: 0.0, height: 1.05 };
        let bob = Form::Upright { outer: 0.09, bore: 0.0, height: 0.12 };
        let rod = Body::dense("rod", rod, 8100.0, 0.525);
        Sleeved {
            rest: vec![Hung::new(rod, 1.2e-6, vec![Reach { length: 0.525, expansion: 1.2e-6 }])],
            bob: Body::heavy("bob", bob, 6.0, 0.9886),
            bob_expansion: 11e-6,
            rests: 0.0,
            rod: 1.2e-6,
            sleeve: 19e-6,
            strip: None,
        }
    }
    #[test]
    fn rules_of_two_metals() {
        assert!((plain(11.5e-6) + 0.4968).abs() < 1e-10);
        assert!((up_length(0.994, 11.5e-6, 19e-6).unwrap() - 1.524_133).abs() < 1e-6);
        assert!((up_length(0.9886, 1.2e-6, 19e-6).unwrap() - 0.066_647).abs() < 1e-6);
        assert_eq!(up_length(1.0, 19e-6, 11e-6), None);
        assert_eq!(frame_rods(11.5e-6, 19e-6), Some(9));
        assert_eq!(frame_rods(11.5e-6, 26.2e-6), Some(5));
    }
    #[test]
    fn a_sleeve_that_is_short_leaves_a_loss() {
        assert!((example().slope(0.05, G) + 0.015_126).abs() < 1e-6, "{}", example().slope(0.05, G));
    }
    #[test]
    fn the_sleeve_that_leaves_none() {
        let s = example();
        let found = s.balance(G).unwrap();
        assert!(s.slope(found.x, G).abs() < 1e-9);
        // Bob growth and rod mass ask for more than the rule.
        assert!(found.x > 0.066_647 && found.x < 0.085, "{}", found.x);
    }
    #[test]
    fn a_softening_strip_loses() {
        let mut s = example();
        let strip = Strip { modulus: 206e9, width: 0.012, thick: 0.00015, free: 0.02 };
        s.strip = Some(WarmStrip { strip, expansion: 11.5e-6, softening: -2.4e-4 });
        assert!(s.slope(0.05, G) < example().slope(0.05, G));
        let hard = Sleeved { strip: s.strip.map(|w| WarmStrip { softening: 0.0, ..w }), ..s.clone() };
        // Pivot depth goes with √E: the gain of Leff is half of 2.4e-4 of 3.4 mm in 0.98 m, in 86400/2.
        let want = -43200.0 * 1.2e-4 * 0.0034 / 0.98;
        let got = s.slope(0.05, G) - hard.slope(0.05, G);
        assert!((got / want - 1.0).abs() < 0.05, "{got} {want}");
    }
    proptest! {
        #[test]
        fn all_of_one_metal_grows_as_a_plain_rod(alpha in 1e-7..3e-5_f64, s in 0.0..0.3_f64) {
            let mut e = example();
            for h in &mut e.rest { h.expansion = alpha; h.way[0].expansion = alpha; }
            let e = Sleeved { bob_expansion: alpha, rod: alpha, sleeve: alpha, ..e };
            prop_assert!((e.slope(s, G) / plain(alpha) - 1.0).abs() < 1e-5);
        }
    }
}
