//! What a wheel does that was cut with one tooth too many or too few.

use reckon::Source;
use reckon::exact::Fraction;

/// Counts off by one, the pendulum left as it is.
pub static OFF_BY_ONE: Source =
    Source::derived("the same beats through other counts, the pendulum left as it is")
        .with_formula("gain = 86400 s (beats it was set for / beats the train wants - 1) a day");

/// Seconds a day that hands gain when a train that wants `wants` beats an hour gets `gets`; nothing for no beats.
#[must_use]
pub fn gain(gets: Fraction, wants: Fraction) -> Option<Fraction> {
    gets.over(wants)?.minus(Fraction::whole(1))?.times(Fraction::whole(86_400))
}
/// One count that is off by one.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct OffByOne {
    /// Which stage, from 0.
    pub stage: usize,
    /// Whether it is the wheel (else the pinion).
    pub wheel: bool,
    /// The count as meant.
    pub meant: u32,
    /// The count as cut.
    pub cut: u32,
    /// Seconds a day that the hands gain (lose, when negative).
    pub gain: Fraction,
}
/// Every count of a train off by one each way, the pendulum left as it is.
///
/// Pairs are wheel and pinion from the minute arbor to the escape arbor.
#[must_use]
pub fn off_by_one(pairs: &[(u32, u32)]) -> Vec<OffByOne> {
    let mut out = Vec::new();
    for (stage, (w, p)) in pairs.iter().enumerate() {
        for (wheel, meant) in [(true, *w), (false, *p)] {
            let near = [meant.checked_sub(1), meant.checked_add(1)];
            for cut in near.into_iter().flatten().filter(|c| *c > 0) {
                let (a, b) = (i64::from(meant), i64::from(cut));
                // A smaller wheel wants fewer beats in the hour, a smaller pinion more.
                let (gets, wants) = if wheel { (a, b) } else { (b, a) };
                if let Some(gain) = gain(Fraction::whole(gets), Fraction::whole(wants)) {
                    out.push(OffByOne { stage, wheel, meant, cut, gain });
                }
            }
        }
    }
    out
}
