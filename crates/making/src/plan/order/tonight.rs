//! What can be done tonight: jobs that wait for nothing, what the end most hangs on first, no change of set-up
//! where it can be helped, as much as four times of five ends in the hours given.

use super::{Job, Of, Order, jobs::Whole};
use reckon::trouble::nearest;
use reckon::{Source, Trouble};
use std::collections::BTreeSet;

/// Why a list ends where it does.
pub static FITS: Source =
    Source::derived("sum of means and 0.8416 of the root of summed squares within the hours")
        .with_formula("Σ t + 0.8416 √(Σ s²) ≤ h");
/// Four times of five it takes no longer than so many spreads above the mean.
pub const SURE: f64 = 0.841_621_233_6;
/// Least that is worth beginning, minutes.
const WORTH: f64 = 20.0;

/// What is asked.
#[derive(Clone, Debug)]
pub struct Evening {
    /// Minutes given.
    pub minutes: f64,
    /// What is set up on a machine now, in the maker's words.
    pub set_up: Option<String>,
    /// Indices of jobs that are done: from the command line today, from wherever tomorrow.
    pub done: BTreeSet<usize>,
}
/// One thing to do.
#[derive(Clone, PartialEq, Debug)]
pub struct Pick {
    /// Index of the job.
    pub job: usize,
    /// Minutes from the begin of the evening, by the means.
    pub from: f64,
    /// When it is done.
    pub to: f64,
    /// Whether something has to be set up for it.
    pub sets_up: bool,
    /// Whether only a part of it fits: it is left and taken up again.
    pub part: bool,
    /// Why it is chosen.
    pub why: String,
}
/// The answer.
#[derive(Clone, Debug, Default)]
pub struct Tonight {
    /// In this order.
    pub picks: Vec<Pick>,
    /// Minutes by which four of five such evenings are done.
    pub sure: f64,
    /// Jobs that wait for nothing, beside these: the first of them by rank.
    pub others: Vec<usize>,
    /// Jobs that wait for something unfinished.
    pub waiting: usize,
    /// Jobs done.
    pub done: usize,
}
/// Jobs of a name, and all that they waited for.
///
/// # Errors
/// A name that no job has, with those that are near.
pub fn done(order: &Order, names: &[String]) -> Result<BTreeSet<usize>, Vec<Trouble>> {
    let mut out = BTreeSet::new();
    let mut troubles = Vec::new();
    for name in names {
        let name = name.trim();
        let exact = order.jobs.iter().position(|j| j.name == name);
        let of_part = (0..order.jobs.len()).filter(|i| order.jobs[*i].of == name);
        let found: Vec<usize> = match exact {
            Some(i) if order.jobs[i].of != name => vec![i],
            _ => of_part.collect(),
        };
        if found.is_empty() {
            let all = order.jobs.iter().map(|j| (j.name.as_str(), j.of.as_str()));
            let mut t = Trouble::text(format!("there is no job '{name}' in the order of work"));
            for n in super::wishes::near(all, name) {
                t = t.cure(format!("did you mean '{n}'?"));
            }
            troubles.push(t.cure("names of all jobs: brasswright tonight --all"));
        }
        let mut stack = found;
        while let Some(i) = stack.pop() {
            if out.insert(i) {
                stack.extend(&order.jobs[i].after);
            }
        }
    }
    if troubles.is_empty() { Ok(out) } else { Err(troubles) }
}
/// Whether a set-up is what the maker's words say: each word stands in it.
fn is_set_up(set_up: &str, words: &str) -> bool {
    let has: Vec<String> = split(set_up);
    let wanted = split(words);
    !wanted.is_empty() && wanted.iter().all(|w| has.contains(w))
}
fn split(text: &str) -> Vec<String> {
    let cut = text.split(|c: char| !c.is_alphanumeric() && c != '.');
    cut.filter(|w| !w.is_empty()).map(str::to_lowercase).collect()
}
/// The set-up that is meant.
///
/// # Errors
/// Words that no set-up of this clock has.
pub fn meant<'a>(order: &'a Order, words: &str) -> Result<&'a Job, Box<Trouble>> {
    if let Some(j) = order.jobs.iter().find(|j| is_set_up(&j.set_up(), words)) {
        return Ok(j);
    }
    let all: BTreeSet<String> = order.jobs.iter().map(Job::set_up).collect();
    let mut t = Trouble::text(format!("no job of this clock is done at the set-up '{words}'"));
    let mut near = nearest(words, all.iter().map(String::as_str));
    if near.is_empty() {
        // Those that share most words with it.
        let wanted = split(words);
        let shared = |s: &str| split(s).iter().filter(|w| wanted.contains(w)).count();
        let mut by: Vec<&String> = all.iter().filter(|s| shared(s) > 0).collect();
        by.sort_by_key(|s| std::cmp::Reverse(shared(s)));
        near = by.into_iter().take(3).map(String::as_str).collect();
    }
    for n in near {
        t = t.cure(format!("did you mean '{n}'?"));
    }
    Err(Box::new(t.cure("leave it out, and everything counts as not set up")))
}
/// Whether a job may be begun when these are done: nothing that it must wait for is left.
fn free(order: &Order, done: &BTreeSet<usize>, i: usize) -> bool {
    !done.contains(&i) && order.jobs[i].after.iter().all(|a| done.contains(a))
}
/// Finds what fits.
#[must_use]
pub fn tonight(order: &Order, ask: &Evening) -> Tonight {
    let mut out = Tonight { done: ask.done.len(), ..Tonight::default() };
    let mut done = ask.done.clone();
    // What goes on by itself after a job tonight holds up what waits for it.
    let mut held: BTreeSet<usize> = BTreeSet::new();
    let mut now = ask.set_up.clone();
    let (mut mean, mut square) = (0.0, 0.0);
    let stands = |now: &Option<String>, j: &Job| now.as_ref().is_some_and(|n| is_set_up(&j.set_up(), n));
    loop {
        let mut rest: Vec<usize> = (0..order.jobs.len())
            .filter(|i| free(order, &done, *i) && order.jobs[*i].after.iter().all(|a| !held.contains(a)))
            .collect();
        let told = ask.set_up.is_some();
        rest.sort_by_key(|i| rank(order, &done, (&now, told), *i));
        let takes = |i: usize| {
            let j = &order.jobs[i];
            let (set, spread) = if stands(&now, j) { (0.0, 0.0) } else { j.anew };
            (set + j.work.0, spread * spread + j.work.1 * j.work.1)
        };
        let fits = |i: usize| {
            let (m, s) = takes(i);
            mean + m + SURE * (square + s).sqrt() <= ask.minutes
        };
        let next = rest.iter().copied().find(|i| fits(*i));
        let left = ask.minutes - mean - SURE * square.sqrt();
        // Long work by hand may be begun and left.
        let part = rest.iter().copied().find(|i| order.jobs[*i].long && left > WORTH * 1.5);
        let first_long = part.filter(|p| rest.first() == Some(p));
        let (i, whole) = match (next, first_long, part) {
            (_, Some(p), _) if next != Some(p) => (p, false),
            (Some(i), ..) => (i, true),
            (None, _, Some(p)) => (p, false),
            (None, _, None) => {
                out.others = rest;
                break;
            }
        };
        let j = &order.jobs[i];
        let sets_up = !stands(&now, j) && order.jobs[i].anew.0 > 0.0;
        let (m, s) = if whole { takes(i) } else { (left, 0.0) };
        let why = because(order, &ask.done, i, !sets_up && stands(&now, j));
        out.picks.push(Pick { job: i, from: mean, to: mean + m, sets_up, part: !whole, why });
        mean += m;
        square += s;
        if !whole {
            out.others = rest.into_iter().filter(|r| *r != i).collect();
            break;
        }
        if !j.held.is_empty() {
            now = Some(j.set_up());
        }
        done.insert(i);
        if j.wait.0 > 0.0 {
            held.insert(i);
        }
    }
    out.sure = mean + SURE * square.sqrt();
    out.waiting = (0..order.jobs.len()).filter(|i| !done.contains(i) && !free(order, &ask.done, *i)).count();
    out
}
/// What comes first: long under way; what is set up, where the maker tells what is; then on the chain, set up now,
/// nothing that would better be done before it; then as in the order.
fn rank(
    order: &Order,
    done: &BTreeSet<usize>,
    (now, told): (&Option<String>, bool),
    i: usize,
) -> (bool, bool, bool, bool, bool, usize) {
    let j = &order.jobs[i];
    let stands = now.as_ref().is_some_and(|n| is_set_up(&j.set_up(), n));
    let early = j.better_after.iter().any(|a| !done.contains(a)) || lonely(order, done, i);
    (j.kind != Of::Buy, !(told && stands && !early), !j.on_chain || early, !stands, early, i)
}
/// Whether others of its line, done in one go with it, still wait for something.
fn lonely(order: &Order, done: &BTreeSet<usize>, i: usize) -> bool {
    let j = &order.jobs[i];
    j.machine == "hearth"
        && order
            .jobs
            .iter()
            .enumerate()
            .any(|(k, o)| o.line == j.line && !done.contains(&k) && !free(order, done, k))
}
fn because(order: &Order, done: &BTreeSet<usize>, i: usize, stands: bool) -> String {
    let j = &order.jobs[i];
    let mut why = Vec::new();
    if j.kind == Of::Buy {
        why.push("it is long on its way".to_owned());
    }
    if j.on_chain && j.kind != Of::Clock(Whole::Run) {
        why.push("the end of all hangs on it".to_owned());
    }
    if stands {
        why.push("set up already".to_owned());
    }
    if lonely(order, done, i) {
        why.push("better together with the others of its heat, which are not ready".to_owned());
    }
    if let Some(b) = j.better_after.iter().find(|a| !done.contains(*a)) {
        why.push(format!("better after '{}'", order.jobs[*b].name));
    }
    if why.is_empty() { "waits for nothing".to_owned() } else { why.join("; ") }
}
