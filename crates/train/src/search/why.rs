//! What is in the way when no train gives what is wanted, and what would do.

use super::list::counts_text;
use super::rank::{Scored, best};
use super::sweep::Progress;
use super::wanted::{Limits, Plan, Slack, Target, Wanted, Window};
use super::wish::{Wish, error_words};
use reckon::exact::Fraction;
use reckon::print;
use reckon::trouble::{Kind, Trouble};

/// Why there is no such train.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Obstacle {
    /// What is in the way, one sentence.
    pub says: String,
    /// What would do, each worked out and not only hoped for.
    pub cures: Vec<String>,
    /// The train that comes nearest within the limits, if any comes within a tenth.
    pub nearest: Option<Scored>,
}
impl Obstacle {
    /// As a trouble that stops the work.
    #[must_use]
    pub fn trouble(self) -> Trouble {
        let t = Trouble::error(Kind::Design, "no train of such counts gives what is wanted").why(self.says);
        self.cures.into_iter().fold(t, Trouble::cure)
    }
}

/// Says what is in the way of a train, or nothing when there is one.
///
/// Looks in this order: lists with nothing in them, values out of reach of so few stages, primes of
/// the value that no count holds; then tries what would do: counts that cannot be made here, no limits,
/// one more stage, and the nearest value. A search that `progress` stops adds no cure.
///
/// # Errors
/// As [`search`](super::search).
pub fn why_not(
    wanted: &Wanted,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<Option<Obstacle>, Trouble> {
    let plan = wanted.plan()?;
    let found = best(wanted, &[], 1, progress)?;
    if found.found > 0 {
        return Ok(None);
    }
    let unlimited = Wanted { only: None, ..wanted.clone() }.plan()?;
    let says = empty(wanted, &plan)
        .or_else(|| out_of_reach(wanted, &plan))
        .or_else(|| prime(&plan, &unlimited))
        .unwrap_or_else(|| {
            let none = "no product of the allowed counts falls on the value";
            if found.cover.complete() {
                format!("{none}: {}", found.cover.words())
            } else {
                found.cover.words()
            }
        });
    let (cures, nearest) = cures(wanted, progress)?;
    Ok(Some(Obstacle { says, cures, nearest }))
}
fn cures(
    wanted: &Wanted,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<(Vec<String>, Option<Scored>), Trouble> {
    let mut cures = Vec::new();
    let mut first = |w: &Wanted, wishes: &[Wish]| -> Result<Option<Scored>, Trouble> {
        Ok(best(w, wishes, 1, progress)?.best.into_iter().next())
    };
    if let Some(can) = &wanted.only {
        let all = Wanted { only: None, ..wanted.clone() };
        let wishes = [Wish::Divides(can.clone()), Wish::EvenRatios];
        if let Some(s) = first(&all, &wishes)? {
            let lacking: Vec<u32> = counts_of(&s).into_iter().filter(|n| !can.contains(n)).collect();
            cures.push(format!("{} would do, if {} could be divided here", s.train, counts_text(&lacking)));
        }
    }
    if wanted.limits != Limits::default() {
        let free = Wanted { limits: Limits::default(), ..wanted.clone() };
        if let Some(s) = first(&free, &[Wish::EvenRatios])? {
            cures.push(format!("{} would do, but for the limits set on stages and cutters", s.train));
        }
    }
    if wanted.stages < 4 {
        let longer = Wanted { stages: wanted.stages + 1, ..wanted.clone() };
        if let Some(s) = first(&longer, &[Wish::EvenRatios])? {
            cures.push(format!("one stage more: {}", s.train));
        }
    }
    let mut nearest = None;
    // Ten times wider each time: the first window with anything in it holds the nearest.
    let mut width = 10_000_000;
    while nearest.is_none() && width >= 10 {
        let share = Fraction::new(1, width).map_or(Slack::None, Slack::Share);
        let wide = Wanted { target: Target { slack: share, ..wanted.target }, ..wanted.clone() };
        nearest = first(&wide, &[Wish::SmallError])?;
        width /= 10;
    }
    if let Some(s) = &nearest {
        let way = if s.error < Fraction::ZERO { "small" } else { "great" };
        cures.push(format!("the nearest, {}: its ratio is too {way} by {}", s.train, error_words(s.error)));
    }
    Ok((cures, nearest))
}
fn counts_of(s: &Scored) -> Vec<u32> {
    let stages = s.train.stages.iter().flat_map(|s| [s.wheel, s.pinion]);
    let mut all: Vec<u32> = stages.chain(s.train.escape).collect();
    all.sort_unstable();
    all.dedup();
    all
}
fn empty(wanted: &Wanted, plan: &Plan) -> Option<String> {
    let lists = [
        ("wheel", &wanted.wheels, plan.wheels.is_empty()),
        ("pinion", &wanted.pinions, plan.pinions.is_empty()),
        ("escape wheel", &wanted.escape, plan.windows.is_empty()),
    ];
    lists.into_iter().find(|(.., none)| *none).map(|(what, list_of, _)| {
        if list_of.is_empty() {
            format!("no count is allowed for a {what}")
        } else {
            format!("none of the counts allowed for a {what} ({}) can be made here", counts_text(list_of))
        }
    })
}
fn plain(f: Fraction) -> String {
    print::trimmed(&print::significant(f.to_f64(), 7))
}
fn power(f: Fraction, k: usize) -> Option<Fraction> {
    (0..k).try_fold(Fraction::whole(1), |p, _| p.times(f))
}
fn out_of_reach(wanted: &Wanted, plan: &Plan) -> Option<String> {
    let (w, p) = (&plan.wheels, &plan.pinions);
    let ratio = |a: u32, b: u32| Fraction::new(i128::from(a), i128::from(b));
    let (mut most, mut least) = (ratio(*w.last()?, *p.first()?)?, ratio(*w.first()?, *p.last()?)?);
    let mut whose =
        ("the greatest wheel over the smallest pinion", "the smallest wheel over the greatest pinion");
    if let Some(limit) = wanted.limits.every.greatest_ratio.filter(|l| *l < most) {
        (most, whose.0) = (limit, "the greatest ratio allowed");
    }
    if let Some(limit) = wanted.limits.every.least_ratio.filter(|l| *l > least) {
        (least, whose.1) = (limit, "the least ratio allowed");
    }
    let (top, bottom) = (power(most, plan.stages)?, power(least, plan.stages)?);
    let in_stages = if plan.stages == 1 { "one stage".to_owned() } else { format!("{} stages", plan.stages) };
    let low = plan.windows.iter().map(|x| x.low).min()?;
    let high = plan.windows.iter().map(|x| x.high).max()?;
    if top < low {
        let says = format!("a ratio of {} is out of reach of {in_stages}: ", plain(low));
        return Some(format!("{says}{} gives {} a stage, {} in all", whose.0, plain(most), plain(top)));
    }
    (bottom > high).then(|| {
        let says = format!("a ratio of {} is too little for {in_stages}: ", plain(high));
        format!("{says}{} gives {} a stage, {} in all", whose.1, plain(least), plain(bottom))
    })
}
/// For exact values: a prime power of the ratio that the counts cannot hold between them.
fn prime(plan: &Plan, unlimited: &Plan) -> Option<String> {
    let each: Option<Vec<String>> = plan.windows.iter().map(|w| prime_of(w, plan, unlimited)).collect();
    each?.into_iter().next()
}
fn prime_of(window: &Window, plan: &Plan, unlimited: &Plan) -> Option<String> {
    if window.low != window.high {
        return None;
    }
    let (n, d) = window.low.terms();
    let sides = [
        (n, &plan.wheels, &unlimited.wheels, "wheel", "teeth"),
        (d, &plan.pinions, &unlimited.pinions, "pinion", "leaves"),
    ];
    for (number, here, anywhere, what, teeth) in sides {
        for (q, wanted) in factors(number) {
            let each = here.iter().map(|z| powers_in(u128::from(*z), q)).max().unwrap_or(0);
            let k = u32::try_from(plan.stages).unwrap_or(4);
            if each * k >= wanted {
                continue;
            }
            let ratio = if d == 1 { n.to_string() } else { format!("{n}/{d}") };
            if each > 0 {
                let times = format!("{q} goes {wanted} times into the {what}s' side");
                return Some(format!(
                    "the ratio is {ratio}: {times}, and {k} {what}s of {} {teeth} hold it {} times at most",
                    counts_text(here),
                    each * k
                ));
            }
            let need = format!("the ratio is {ratio}: a {what} must have {q} {teeth} or a multiple of {q}");
            let others: Vec<u32> =
                anywhere.iter().copied().filter(|z| u128::from(*z).is_multiple_of(q)).collect();
            return Some(if others.is_empty() {
                format!("{need}, and none among {} is one", counts_text(anywhere))
            } else {
                format!("{need}, and {} cannot be divided here", counts_text(&others))
            });
        }
    }
    None
}
/// Primes above this are not looked for: no count is so large.
const LARGEST_COUNT: u128 = 10_000;

/// Primes and their powers; what is left above the largest count stands last as if it were prime.
fn factors(number: i128) -> Vec<(u128, u32)> {
    let (mut rest, mut q, mut all) = (number.unsigned_abs(), 2, Vec::new());
    while q <= LARGEST_COUNT && q * q <= rest {
        let many = powers_in(rest, q);
        if many > 0 {
            all.push((q, many));
            rest = (0..many).fold(rest, |r, _| r / q);
        }
        q += 1;
    }
    if rest > 1 {
        all.push((rest, 1));
    }
    all
}
fn powers_in(mut z: u128, q: u128) -> u32 {
    let mut many = 0;
    while z > 0 && z.is_multiple_of(q) {
        z /= q;
        many += 1;
    }
    many
}
