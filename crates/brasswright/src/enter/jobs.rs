//! Jobs of the order of work that the journal says are done.

use crate::work::Work;
use journal::State;
use making::plan::order::Job;
use reckon::slug;
use std::collections::BTreeSet;

/// Indices of the jobs that are done, and of what they waited for.
#[must_use]
pub fn done(work: &Work) -> BTreeSet<usize> {
    let Some(making) = &work.making else { return BTreeSet::new() };
    let jobs = &making.order.jobs;
    let mut all = BTreeSet::new();
    let mut stack: Vec<usize> = (0..jobs.len()).filter(|i| is_done(&jobs[*i], work)).collect();
    while let Some(i) = stack.pop() {
        if all.insert(i) {
            stack.extend(&jobs[i].after);
        }
    }
    all
}
fn is_done(job: &Job, work: &Work) -> bool {
    let standing = &work.known.standing;
    let Some((making, plan)) = work.making.as_ref().zip(job.plan()) else {
        let of = slug(&job.of);
        return standing.done(&of, &job.title, None) || standing.state(&of, 1) == State::Made;
    };
    let Some(plan) = making.parts.get(plan) else { return false };
    let Some(part) = work.parts.get(plan.part) else { return false };
    let of = part.slug();
    let pieces = job.pieces.max(1);
    if (1..=pieces).all(|p| standing.state(of, p) == State::Made) || standing.done(of, &job.title, None) {
        return true;
    }
    let Some(at) = plan.setups.iter().position(|s| s.title == job.title) else { return false };
    let operations = plan.setups[at].operations.len();
    operations > 0
        && (1..=operations).all(|o| {
            let step = format!("{}.{o}", at + 1);
            standing.done(of, &step, None) || (1..=pieces).all(|p| standing.done(of, &step, Some(p)))
        })
}
