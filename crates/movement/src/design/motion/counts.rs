//! The four counts: twelve to one exactly, and one distance of centres for both pairs.

use super::super::model::MeshSizes;
use reckon::exact::Fraction;
use reckon::{Book, Length, Ratio, Trouble, Val, judge, work};
use record::facts::MotionWork;
use train::motion::{CENTRES, MOTION, MotionWish, sets};

/// The counts as the kernel takes them.
pub(super) fn counts(mw: &MotionWork) -> train::motion::MotionWork {
    let n = |i: usize| u32::try_from(mw.counts[i].bare().0).unwrap_or(0);
    train::motion::MotionWork { cannon: n(0), minute_wheel: n(1), minute_pinion: n(2), hour_wheel: n(3) }
}
/// Whether the counts give twelve to one.
pub(super) fn sound(mw: &MotionWork, book: &mut Book, troubles: &mut Vec<Trouble>) -> bool {
    let [a, b, c, d] = mw.counts;
    work!(book, "motion.ratio", |a, b, c, d| (b / a) * (d / c), &MOTION);
    let set = counts(mw);
    let Some(exact) = set.ratio() else { return false };
    if exact == Fraction::whole(12) {
        judge!(
            book,
            "motion.twelve_to_one",
            "the hour hand goes round once in twelve turns of the minute hand",
            |a, b, c, d| b.0 * d.0 == 12 * a.0 * c.0,
            &MOTION
        );
        return true;
    }
    let (n, of) = exact.terms();
    let drift = (exact.to_f64() / 12.0 - 1.0) * 720.0;
    let mut trouble = Trouble::design(format!(
        "the motion work turns the hour hand once in {} turns of the minute hand, and 12 are needed",
        reckon::print::trimmed(&reckon::print::fixed(exact.to_f64(), 4)),
    ))
    .at(mw.counts_at.clone())
    .why(format!(
        "{}/{} x {}/{} = {n}/{of}; after twelve hours the hour hand would stand {} min {}",
        b.bare().0,
        a.bare().0,
        d.bare().0,
        c.bare().0,
        reckon::print::trimmed(&reckon::print::fixed(drift.abs(), 1)),
        if drift > 0.0 { "behind" } else { "ahead" },
    ));
    for cure in one_count(&set).into_iter().chain(near(&set)).take(3) {
        trouble = trouble.cure(cure);
    }
    troubles.push(trouble);
    false
}
fn written(s: &train::motion::MotionWork) -> String {
    format!("counts = [{}, {}, {}, {}]", s.cannon, s.minute_wheel, s.minute_pinion, s.hour_wheel)
}
/// Which single count would set it right.
fn one_count(s: &train::motion::MotionWork) -> Option<String> {
    let exact = |num: u64, den: u64| (den > 0 && num.is_multiple_of(den)).then(|| num / den);
    let (a, b, c, d) =
        (u64::from(s.cannon), u64::from(s.minute_wheel), u64::from(s.minute_pinion), u64::from(s.hour_wheel));
    let all = [
        (d, exact(12 * a * c, b), "hour wheel", 12),
        (b, exact(12 * a * c, d), "minute wheel", 12),
        (a, exact(b * d, 12 * c), "cannon", 6),
        (c, exact(b * d, 12 * a), "minute pinion", 6),
    ];
    all.into_iter()
        .filter_map(|(is, wanted, what, least)| {
            let wanted = wanted.filter(|w| *w >= least)?;
            Some((is.abs_diff(wanted), format!("{wanted} instead of {is} for the {what}")))
        })
        .min()
        .map(|(_, says)| says)
}
/// Sets on one module nearest to what is written.
fn near(s: &train::motion::MotionWork) -> Vec<String> {
    let wish = MotionWish {
        ratio: Fraction::whole(12),
        pinions: (6..=30).collect(),
        wheels: (20..=120).collect(),
        sum: None,
        two_modules: false,
    };
    let mut all = sets(&wish);
    let far = |x: &train::motion::MotionWork| {
        x.cannon.abs_diff(s.cannon)
            + x.minute_wheel.abs_diff(s.minute_wheel)
            + x.minute_pinion.abs_diff(s.minute_pinion)
            + x.hour_wheel.abs_diff(s.hour_wheel)
    };
    all.sort_by_key(far);
    all.iter().take(2).map(|x| format!("{}: 12 to 1 on one module", written(x))).collect()
}
/// The distance of the stud: both pairs must agree on it.
pub(super) fn centres(
    mw: &MotionWork,
    first: &MeshSizes,
    second: &MeshSizes,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<Val<Length>> {
    let [a, b, c, d] = mw.counts;
    let ratio = work!(
        book,
        "motion.module_ratio",
        |a, b, c, d| Ratio::si((c.n() + d.n()) / (a.n() + b.n())),
        &CENTRES
    );
    let (one, two) = (first.centres, second.centres);
    let off = work!(book, "motion.centres_differ", |one, two| two - one, &CENTRES);
    let centres = work!(book, "motion.centres", |one| one, &CENTRES);
    if off.bare().abs() <= second.module.bare() * 0.02 {
        return Some(centres);
    }
    let module = first.module;
    let needed = work!(book, "motion.second_module_needed", |module, ratio| module / ratio, &CENTRES);
    let set = counts(mw);
    let (s1, s2) = set.sums();
    let mut trouble = Trouble::design(format!(
        "the motion work's pairs want two distances of centres, {} and {}",
        one.shown(),
        two.shown()
    ))
    .at(mw.counts_at.clone())
    .why(format!(
        "{} + {} = {s1} teeth and {} + {} = {s2} teeth stand on the same two centres, with modules of {} and {}",
        a.bare().0,
        b.bare().0,
        c.bare().0,
        d.bare().0,
        first.module.shown(),
        second.module.shown()
    ))
    .cure(format!(
        "second_module = \"{} mm\": the modules as {} to 1",
        reckon::print::trimmed(&reckon::print::fixed(needed.bare().in_mm(), 6)),
        reckon::print::trimmed(&reckon::print::fixed(ratio.bare().value(), 6))
    ));
    if !set.one_module() {
        for cure in near(&set) {
            trouble = trouble.cure(cure);
        }
    } else if mw.second_module.is_some() {
        trouble = trouble.cure("leave second_module out: these counts stand on one module");
    }
    troubles.push(trouble);
    None
}
