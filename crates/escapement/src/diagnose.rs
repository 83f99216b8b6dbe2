//! From locks and drops counted at the bench back to what is wrong.
//!
//! Each single cause is moved until it explains the four counted angles best (least squares), and the causes
//! are ranked by what they leave unexplained. Plain millimetres and radians.

use crate::as_made::Made;
use crate::check::Amiss;
use crate::dead_beat::Side;
use crate::frame::TURN;
use crate::sensitivity::Size;
use reckon::Source;

/// How causes are found.
pub static DIAGNOSIS: Source =
    Source::derived("least squares over one size at a time on the evaluation as made, Gauss-Newton");

/// What was counted, in radians: what was not is left out.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Counted {
    /// Lock of the entry pallet.
    pub lock_entry: Option<f64>,
    /// Lock of the exit pallet.
    pub lock_exit: Option<f64>,
    /// Drop when the entry pallet lets off.
    pub drop_out: Option<f64>,
    /// Drop when the exit pallet lets off.
    pub drop_in: Option<f64>,
}
impl Counted {
    fn list(&self) -> [Option<f64>; 4] {
        [self.lock_entry, self.lock_exit, self.drop_out, self.drop_in]
    }
}

/// A single cause that may explain what was counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// The size that would be out.
    pub size: Size,
    /// By how much it would be too large (below nothing: too small), millimetres.
    pub out_by: f64,
    /// What it leaves unexplained: root mean square over the counted angles.
    pub leaves: f64,
    /// Whether it explains as well as the best within the reading.
    pub alike: bool,
    /// Locks and drops to be expected when the size is put right: lock entry, lock exit, drop out, drop in.
    pub gives: [f64; 4],
}
impl Cause {
    /// What to do about it, with the sign of the size.
    #[must_use]
    pub fn remedy(&self) -> &'static str {
        let large = self.out_by > 0.0;
        match (self.size, large) {
            (Size::Centres, true) => "bring the pallet arbor closer",
            (Size::Centres, false) => "move the pallet arbor away",
            (Size::Radius, true) => "top the wheel",
            (Size::Radius, false) => "the wheel is small: bring the arbor closer, or make a new wheel",
            (Size::Tip, true) => "thin the tips at the back",
            (Size::Tip, false) => "the tips are thin: no cure but a new wheel",
            (Size::NibLonger(Side::Entry), true) => "shorten the entry nib: stone its impulse plane",
            (Size::NibLonger(Side::Entry), false) => "bend or set the entry nib into the wheel",
            (Size::NibLonger(Side::Exit), true) => "shorten the exit nib: stone its impulse plane",
            (Size::NibLonger(Side::Exit), false) => "bend or set the exit nib into the wheel",
            (Size::NibsApart, true) => "close the pallets: they span too wide",
            (Size::NibsApart, false) => "open the pallets: they span too narrow",
            (Size::PlaneBuiltUp(Side::Entry), true) => "stone the entry impulse plane",
            (Size::PlaneBuiltUp(Side::Entry), false) => "the entry impulse plane was stoned too far",
            (Size::PlaneBuiltUp(Side::Exit), true) => "stone the exit impulse plane",
            (Size::PlaneBuiltUp(Side::Exit), false) => "the exit impulse plane was stoned too far",
            (Size::CornerRadius(0), true) => "stone the entry dead face",
            (Size::CornerRadius(0), false) => "the entry dead face was stoned too far",
            (Size::CornerRadius(1), true) => "the entry let-off side was stoned too far",
            (Size::CornerRadius(1), false) => "stone the entry let-off side",
            (Size::CornerRadius(2), true) => "the exit dead face was stoned too far",
            (Size::CornerRadius(2), false) => "stone the exit dead face",
            (Size::CornerRadius(3), true) => "stone the exit let-off side",
            (Size::CornerRadius(3), false) => "the exit let-off side was stoned too far",
            _ => "look at this tooth or corner",
        }
    }
}

/// The single causes that are tried.
pub const CAUSES: [Size; 12] = [
    Size::Centres,
    Size::Radius,
    Size::Tip,
    Size::NibLonger(Side::Entry),
    Size::NibLonger(Side::Exit),
    Size::NibsApart,
    Size::PlaneBuiltUp(Side::Entry),
    Size::PlaneBuiltUp(Side::Exit),
    Size::CornerRadius(0),
    Size::CornerRadius(1),
    Size::CornerRadius(2),
    Size::CornerRadius(3),
];

/// All single causes, the best explanation first. `reading` is how closely the angles were counted: causes
/// whose remainder is within it of the best are marked alike, and all of them should be named.
///
/// # Errors
/// Nothing counted, or a design whose corners the tips never reach.
pub fn causes(design: &Made, counted: &Counted, reading: f64) -> Result<Vec<Cause>, Amiss> {
    let found = counted.list();
    if found.iter().flatten().count() < 2 {
        return Err(Amiss::new("lock_entry", "count at least two of the locks and drops"));
    }
    if found.iter().flatten().any(|a| !a.is_finite() || a.abs() > TURN / 8.0) {
        return Err(Amiss::new("lock_entry", "locks and drops are angles of a few degrees"));
    }
    let as_drawn = design.evaluated()?.counted();
    let mut all: Vec<Cause> = CAUSES
        .into_iter()
        .filter_map(|size| fitted(design, size, &found).map(|(out_by, leaves)| (size, out_by, leaves)))
        .map(|(size, out_by, leaves)| {
            // Put right, each counted angle changes by what the fitted size had done to it.
            let with = size.moved(design, out_by).map_or(as_drawn, |d| d.counted());
            let gives = std::array::from_fn(|i| found[i].map_or(as_drawn[i], |f| f - with[i] + as_drawn[i]));
            Cause { size, out_by, leaves, alike: false, gives }
        })
        .collect();
    all.sort_by(|a, b| a.leaves.total_cmp(&b.leaves));
    let best = all.first().map_or(0.0, |c| c.leaves);
    for c in &mut all {
        c.alike = c.leaves <= best + reading.max(1e-9);
    }
    Ok(all)
}
/// The best value of one size and what it leaves.
fn fitted(design: &Made, size: Size, found: &[Option<f64>; 4]) -> Option<(f64, f64)> {
    let miss = |by: f64| -> Option<[f64; 4]> {
        let d = size.moved(design, by).ok()?.counted();
        Some(std::array::from_fn(|i| found[i].map_or(0.0, |f| d[i] - f)))
    };
    let square = |m: &[f64; 4]| m.iter().map(|x| x * x).sum::<f64>();
    let h = 1e-5 * design.radius;
    let mut by = 0.0;
    let mut now = miss(by)?;
    for _ in 0..40 {
        let (a, b) = (miss(by - h)?, miss(by + h)?);
        let slope: [f64; 4] = std::array::from_fn(|i| (b[i] - a[i]) / (2.0 * h));
        let steep = square(&slope);
        if steep < 1e-18 {
            break;
        }
        let mut step = -slope.iter().zip(&now).map(|(s, m)| s * m).sum::<f64>() / steep;
        // Never so far that a corner leaves the tips, and never uphill.
        step = step.clamp(-0.02 * design.radius, 0.02 * design.radius);
        let mut next = None;
        for _ in 0..12 {
            if let Some(m) = miss(by + step).filter(|m| square(m) <= square(&now)) {
                next = Some(m);
                break;
            }
            step /= 2.0;
        }
        let Some(m) = next else { break };
        by += step;
        now = m;
        if step.abs() < 1e-12 * design.radius {
            break;
        }
    }
    let n = u32::try_from(found.iter().flatten().count()).unwrap_or(4);
    Some((by, (square(&now) / f64::from(n)).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dead_beat::{DeadBeat, Sizes};
    use proptest::prelude::*;

    const DEGREE: f64 = TURN / 360.0;

    fn design() -> Made {
        let d = |x: f64| x * DEGREE;
        DeadBeat::new(Sizes {
            teeth: 30,
            span: 7,
            radius: 25.0,
            lift: d(2.0),
            lock: d(0.5),
            drop: d(1.5),
            tip: d(0.3),
            arc: d(2.5),
        })
        .expect("sound sizes")
        .made()
    }
    fn counted(size: Size, by: f64) -> Counted {
        let d = size.moved(&design(), by).expect("meets");
        Counted {
            lock_entry: Some(d.lock_entry),
            lock_exit: Some(d.lock_exit),
            drop_out: Some(d.drop_out),
            drop_in: Some(d.drop_in),
        }
    }
    #[test]
    fn an_arbor_too_close_is_named_with_its_cure() {
        let found = causes(&design(), &counted(Size::Centres, -0.05), 0.01 * DEGREE).expect("counted");
        assert_eq!(found[0].size, Size::Centres);
        assert!((found[0].out_by + 0.05).abs() < 1e-6 && found[0].leaves < 1e-7);
        assert_eq!(found[0].remedy(), "move the pallet arbor away");
        for (got, want) in found[0].gives.into_iter().zip([0.5, 0.5, 1.5, 1.5]) {
            assert!((got / DEGREE - want).abs() < 1e-5);
        }
    }
    #[test]
    fn causes_that_look_alike_are_all_named() {
        // A nib longer and the nibs closer do the same to every lock and drop.
        let found =
            causes(&design(), &counted(Size::NibLonger(Side::Entry), 0.08), 0.05 * DEGREE).expect("counted");
        let alike: Vec<Size> = found.iter().filter(|c| c.alike).map(|c| c.size).collect();
        for size in [Size::NibLonger(Side::Entry), Size::NibLonger(Side::Exit), Size::NibsApart] {
            assert!(alike.contains(&size), "{alike:?}");
        }
        assert!(!alike.contains(&Size::Centres) && !alike.contains(&Size::Tip));
    }
    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn whatever_was_wrong_is_among_the_best(which in 0_usize..12, by in -0.06_f64..0.06) {
            let size = CAUSES[which];
            let found = causes(&design(), &counted(size, by), 1e-6).expect("counted");
            let own = found.iter().find(|c| c.size == size).expect("tried");
            prop_assert!(own.alike && own.leaves < 1e-7, "{:?}", own);
            prop_assert!((own.out_by - by).abs() < 1e-5, "{:?}", own);
        }
    }
}
