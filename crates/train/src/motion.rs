//! Motion work: from the minute hand to the hour hand by two pairs, cannon to minute wheel, minute pinion to hour wheel.

use reckon::exact::Fraction;
use reckon::{Diameter, Length, Ratio, Source};

/// Ratio of motion work.
pub static MOTION: Source = Source::derived("two pairs, of which the second drives the hour wheel")
    .with_formula("ratio = (b/a)(d/c)");
/// One centre distance for both pairs.
pub static CENTRES: Source =
    Source::derived("both pairs stand on the same two centres").with_formula("m1 (a + b) = m2 (c + d)");
/// Pipes within each other.
pub static PIPES: Source =
    Source::derived("tubes within each other, the pinion cut from the outer skin of its tube");
/// Sense of the hour hand.
pub static SENSE: Source = Source::derived("two pairs turn the sense round twice");

/// Counts of motion work: cannon pinion, minute wheel, minute pinion, hour wheel.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct MotionWork {
    /// Leaves of the cannon pinion.
    pub cannon: u32,
    /// Teeth of the minute wheel.
    pub minute_wheel: u32,
    /// Leaves of the minute pinion.
    pub minute_pinion: u32,
    /// Teeth of the hour wheel.
    pub hour_wheel: u32,
}
impl MotionWork {
    /// Turns of the minute hand for one of the hour hand; nothing without leaves.
    #[must_use]
    pub fn ratio(&self) -> Option<Fraction> {
        let first = Fraction::new(i128::from(self.minute_wheel), i128::from(self.cannon))?;
        first.times(Fraction::new(i128::from(self.hour_wheel), i128::from(self.minute_pinion))?)
    }
    /// Teeth of both pairs together: cannon and minute wheel, minute pinion and hour wheel.
    #[must_use]
    pub fn sums(&self) -> (u64, u64) {
        let sum = |a: u32, b: u32| u64::from(a) + u64::from(b);
        (sum(self.cannon, self.minute_wheel), sum(self.minute_pinion, self.hour_wheel))
    }
    /// Module of the first pair over that of the second, so that both stand on the same centres.
    #[must_use]
    pub fn module_ratio(&self) -> Option<Fraction> {
        let (first, second) = self.sums();
        Fraction::new(i128::from(second), i128::from(first))
    }
    /// Whether one module serves both pairs.
    #[must_use]
    pub fn one_module(&self) -> bool {
        let (first, second) = self.sums();
        first == second
    }
}

/// What motion work must do and which counts it may have.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MotionWish {
    /// Turns of the minute hand for one of the hour hand.
    pub ratio: Fraction,
    /// Counts that a pinion may have.
    pub pinions: Vec<u32>,
    /// Counts that a wheel may have.
    pub wheels: Vec<u32>,
    /// Teeth of each pair together, where the centre distance and the module fix them.
    pub sum: Option<u32>,
    /// Whether the two pairs may have different modules.
    pub two_modules: bool,
}
/// Most sets of counts that are listed.
pub const MOST: usize = 10_000;
/// Every set of counts within the limits, smallest first; stops at [`MOST`].
#[must_use]
pub fn sets(wish: &MotionWish) -> Vec<MotionWork> {
    let tidy = |list: &[u32]| {
        let mut all: Vec<u32> = list.iter().copied().filter(|n| *n > 0).collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    let (pinions, wheels) = (tidy(&wish.pinions), tidy(&wish.wheels));
    let mut out = Vec::new();
    for a in &pinions {
        for b in &wheels {
            if wish.sum.is_some_and(|s| u64::from(*a) + u64::from(*b) != u64::from(s)) {
                continue;
            }
            // What the second pair must do, exactly.
            let Some(rest) = Fraction::new(i128::from(*a), i128::from(*b)).and_then(|f| f.times(wish.ratio))
            else {
                continue;
            };
            for c in &pinions {
                let Some((d, 1)) = rest.times(Fraction::whole(i64::from(*c))).map(Fraction::terms) else {
                    continue;
                };
                let Some(d) = u32::try_from(d).ok().filter(|d| wheels.binary_search(d).is_ok()) else {
                    continue;
                };
                let set = MotionWork { cannon: *a, minute_wheel: *b, minute_pinion: *c, hour_wheel: d };
                if wish.two_modules || set.one_module() {
                    out.push(set);
                }
            }
        }
    }
    out.sort_unstable_by_key(|s| (s.sums().0 + s.sums().1, *s));
    out.truncate(MOST);
    out
}

/// How the pipes sit within each other.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Pipes {
    /// Metal between the bore of the cannon and the roots of its leaves, on one side.
    pub under_leaves: Length,
    /// Room that the hour pipe has on the cannon's pipe, on diameter.
    pub room: Length,
    /// Room between the leaves' roots and a pipe of that outside: negative where the leaves cut into it.
    pub root_over_pipe: Length,
}
/// How the pipes sit: roots of the cannon pinion, its bore, its pipe's outside, and the hour pipe's bore.
#[must_use]
pub fn pipes(root: Diameter, bore: Diameter, pipe: Diameter, hour_bore: Diameter) -> Pipes {
    Pipes { under_leaves: (root - bore) / 2.0, room: hour_bore - pipe, root_over_pipe: root - pipe }
}
/// Diameter at the roots of a pinion: `module (leaves - 2 dedendum)`, the dedendum in modules.
#[must_use]
pub fn root(module: Length, leaves: f64, dedendum: Ratio) -> Diameter {
    Diameter::si(module.value() * (leaves - 2.0 * dedendum.value()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wish(pinions: std::ops::RangeInclusive<u32>, wheels: std::ops::RangeInclusive<u32>) -> MotionWish {
        MotionWish {
            ratio: Fraction::whole(12),
            pinions: pinions.collect(),
            wheels: wheels.collect(),
            sum: None,
            two_modules: false,
        }
    }
    fn work(cannon: u32, minute_wheel: u32, minute_pinion: u32, hour_wheel: u32) -> MotionWork {
        MotionWork { cannon, minute_wheel, minute_pinion, hour_wheel }
    }
    #[test]
    fn known_sets_are_found() {
        let all = sets(&wish(6..=20, 24..=96));
        for known in [work(15, 45, 12, 48), work(10, 30, 8, 32), work(20, 60, 16, 64)] {
            assert!(all.contains(&known), "{known:?}");
        }
        assert!(!all.contains(&work(12, 36, 10, 40)), "its two pairs differ in sum");
        let two = sets(&MotionWish { two_modules: true, ..wish(10..=12, 36..=40) });
        assert!(two.contains(&work(12, 36, 10, 40)));
        let of_60 = sets(&MotionWish { sum: Some(60), ..wish(6..=20, 24..=96) });
        assert!(of_60.iter().all(|s| s.sums() == (60, 60)) && of_60.contains(&work(15, 45, 12, 48)));
    }
    #[test]
    fn every_set_by_brute_force() {
        let wish = wish(6..=16, 24..=64);
        let mut want = Vec::new();
        for a in 6..=16 {
            for b in 24..=64 {
                for c in 6..=16 {
                    for d in 24..=64 {
                        if b * d == 12 * a * c && a + b == c + d {
                            want.push(work(a, b, c, d));
                        }
                    }
                }
            }
        }
        let mut got = sets(&wish);
        got.sort_unstable();
        assert!(!want.is_empty());
        assert_eq!(got, want);
    }
    #[test]
    fn unlike_sums_want_unlike_modules() {
        let set = work(12, 36, 10, 40);
        assert_eq!(set.ratio(), Some(Fraction::whole(12)));
        assert_eq!(set.module_ratio(), Fraction::new(50, 48));
        assert_eq!(work(0, 36, 10, 40).ratio(), None);
    }
    #[test]
    fn pipes_within_each_other() {
        let r = root(Length::mm(0.6), 15.0, Ratio::si(1.9));
        assert!((r.in_mm() - 6.72).abs() < 1e-12);
        let p = pipes(r, Diameter::mm(3.5), Diameter::mm(5.5), Diameter::mm(5.53));
        assert!((p.under_leaves.in_mm() - 1.61).abs() < 1e-9);
        assert!((p.room.in_mm() - 0.03).abs() < 1e-9);
        assert!((p.root_over_pipe.in_mm() - 1.22).abs() < 1e-9);
    }
    proptest! {
        #[test]
        fn all_that_is_found_keeps_ratio_and_centres(n in 1_i64..30, two in any::<bool>()) {
            let ratio = Fraction::whole(n);
            for s in sets(&MotionWish { ratio, two_modules: two, ..wish(6..=14, 18..=60) }) {
                prop_assert_eq!(s.ratio(), Some(ratio));
                // Both pairs stand on one distance when the modules are as said.
                let (first, second) = s.sums();
                let m = s.module_ratio().unwrap();
                prop_assert_eq!(m.times(Fraction::whole(i64::try_from(first).unwrap())),
                    Some(Fraction::whole(i64::try_from(second).unwrap())));
                prop_assert!(two || s.one_module());
            }
        }
    }
}
