//! What is left to cut of a thread that was measured, in which passes, and what to do when too much is gone.

use super::cut::{LEAST_RATIO, MOST_RATIO, aim};
use reckon::{Diameter, Length, Ratio, Source};

/// What is left.
pub static LEFT: Source = Source::derived("half of what the pitch diameter lacks, over the cutting ratio")
    .with_formula("x = (PD − PD_t)/(2 k)");
/// How sure it is.
pub static SURE: Source = Source::derived("independent doubts: the root of their squares")
    .with_formula("u² = u_M² + ((1 + cosec a) u_W)²");
/// In which passes.
pub static LAST_CUTS: Source = Source::practice(
    "never a last cut thinner than the tool can bite: it rubs, and the next takes both; half of what is left, then measure",
);

/// How a thread stands after a reading.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Stands {
    /// More is to come off.
    ToCut,
    /// So little that a cut would rub: spring passes at the dial as it stands, then measure.
    Spring,
    /// Within its limits, and the doubt of the reading too.
    Within,
    /// Within by the reading, but nearer to a limit than the reading is sure.
    Perhaps,
    /// Under its lower limit.
    OverCut,
}
impl Stands {
    /// In words.
    #[must_use]
    pub const fn says(self) -> &'static str {
        match self {
            Stands::ToCut => "still to be cut",
            Stands::Spring => "spring passes at the dial as it stands, then measure again",
            Stands::Within => "within its limits: leave it",
            Stands::Perhaps => "within its limits by the reading, but not beyond its doubt: measure again",
            Stands::OverCut => "under its lower limit",
        }
    }
}
/// What a reading says.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Read {
    /// Pitch diameter.
    pub now: Diameter,
    /// By how much it may be off.
    pub doubt: Length,
    /// Greatest allowed.
    pub most: Diameter,
    /// Least allowed.
    pub least: Diameter,
    /// How much of an advance comes off: from the last two readings, else one.
    pub ratio: Ratio,
    /// Thinnest cut that bites.
    pub bites: Length,
    /// Deepest cut of the last passes.
    pub deepest: Length,
}
/// What is left after a reading.
#[derive(Clone, PartialEq, Debug)]
pub struct Left {
    /// How it stands.
    pub stands: Stands,
    /// Pitch diameter aimed at: a third of the tolerance below the upper limit.
    pub target: Diameter,
    /// Radial advance to the target; nothing where none is due.
    pub advance: Length,
    /// By how much that may be off.
    pub doubt: Length,
    /// Advances, one by one; measured again after the one before the last.
    pub passes: Vec<Length>,
    /// What may still come off the pitch diameter before it is too small; negative where it is.
    pub spare: Length,
}
/// Whether a cutting ratio can be believed.
#[must_use]
pub fn believable(ratio: Ratio) -> bool {
    ratio.value() > LEAST_RATIO && ratio.value() < MOST_RATIO
}
/// Doubt of a pitch diameter from a reading over wires: the reading's and the wires'.
#[must_use]
pub fn doubt_over_wires(reading: Length, wire: Length, wire_factor: f64) -> Length {
    Length::si(reckon::maths::hypot(reading.value(), wire_factor * wire.value()))
}
/// What is left.
#[must_use]
pub fn left(r: &Read) -> Left {
    let target = aim(r.most, r.least);
    let spare = r.now - r.least;
    let k = r.ratio.value();
    let over = r.now - r.most;
    let plain = |stands| Left {
        stands,
        target,
        advance: Length::ZERO,
        doubt: Length::ZERO,
        passes: Vec::new(),
        spare,
    };
    if spare < Length::ZERO {
        return plain(Stands::OverCut);
    }
    if over <= Length::ZERO {
        let sure = spare >= r.doubt && (r.most - r.now) >= r.doubt;
        return plain(if sure { Stands::Within } else { Stands::Perhaps });
    }
    let advance = (r.now - target) / (2.0 * k);
    // The deepest that keeps above the lower limit whatever the doubt of the reading.
    let safe = (spare - r.doubt) / (2.0 * k);
    let advance = if advance < r.bites { r.bites } else { advance };
    if advance > safe {
        return plain(Stands::Spring);
    }
    let doubt = r.doubt / (2.0 * k);
    Left { stands: Stands::ToCut, target, advance, doubt, passes: split(advance, r.bites, r.deepest), spare }
}
/// An advance in passes of which none is deeper than allowed and none thinner than bites.
fn split(advance: Length, bites: Length, deepest: Length) -> Vec<Length> {
    let most = (advance.value() / bites.value() + 1e-9).floor().max(1.0);
    let fewest = (advance.value() / deepest.value() - 1e-9).ceil().max(1.0);
    // Two at least where there is metal for two, so that it can be measured before the last.
    let n = fewest.max(2.0).min(most).min(200.0);
    let mut passes = Vec::new();
    let mut k = 0.0;
    while k + 0.5 < n {
        passes.push(advance / n);
        k += 1.0;
    }
    passes
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn m3(now: f64) -> Read {
        Read {
            now: Diameter::mm(now),
            doubt: Length::mm(0.004),
            most: Diameter::mm(2.655),
            least: Diameter::mm(2.58),
            ratio: Ratio::si(1.0),
            bites: Length::mm(0.015),
            deepest: Length::mm(0.04),
        }
    }
    #[test]
    fn from_much_to_too_little() {
        let l = left(&m3(2.76));
        assert_eq!(l.stands, Stands::ToCut);
        assert!((l.target.in_mm() - 2.63).abs() < 1e-12 && (l.advance.in_mm() - 0.065).abs() < 1e-12);
        assert_eq!(l.passes.len(), 2);
        assert!((l.doubt.in_mm() - 0.002).abs() < 1e-12);
        assert_eq!(left(&m3(2.62)).stands, Stands::Within);
        assert_eq!(left(&m3(2.653)).stands, Stands::Perhaps);
        assert_eq!(left(&m3(2.57)).stands, Stands::OverCut);
        // A hair above its upper limit: the thinnest cut that bites still leaves it within.
        let l = left(&m3(2.66));
        assert_eq!((l.stands, l.passes.len()), (Stands::ToCut, 1));
        // Where the limits are narrower than a cut that bites, it is not risked.
        let narrow = Read { least: Diameter::mm(2.65), ..m3(2.66) };
        assert_eq!(left(&narrow).stands, Stands::Spring);
    }
    #[test]
    fn doubts_add_as_squares() {
        let u = doubt_over_wires(Length::mm(0.004), Length::mm(0.001), 3.0);
        assert!((u.in_mm() - 0.005).abs() < 1e-12);
    }
    proptest! {
        #[test]
        fn passes_sum_up_and_none_is_too_deep(now in 2.656..3.2_f64, k in 0.6..1.05_f64) {
            let r = Read { ratio: Ratio::si(k), ..m3(now) };
            let l = left(&r);
            prop_assert_eq!(l.stands, Stands::ToCut);
            let sum: f64 = l.passes.iter().map(|p| p.in_mm()).sum();
            prop_assert!((sum - l.advance.in_mm()).abs() < 1e-9);
            for p in &l.passes {
                prop_assert!(*p <= r.deepest + Length::mm(1e-9) && *p >= r.bites - Length::mm(1e-9));
            }
            // All of it cut, it lies within its limits.
            let end = now - 2.0 * k * sum;
            prop_assert!((2.58 + 0.004 - 1e-9..=2.655 + 1e-9).contains(&end));
        }
    }
}
