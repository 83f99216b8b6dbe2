//! Jobs of the order of work that the journal says are done: one answer for the command line and the pages.

use crate::bench::steps::{Way, ways_of};
use crate::work::Work;
use journal::Standing;
use making::plan::order::{Job, Of};
use reckon::slug;
use std::collections::BTreeSet;

/// Indices of the jobs that are done. What a finished job cannot have been done without is behind it too: earlier
/// set-ups of the same part, stock that was bought, its tools and jigs. Other parts that it only waited for are told
/// by their own entries.
#[must_use]
pub fn done(work: &Work, standing: &Standing) -> BTreeSet<usize> {
    let Some(making) = &work.making else { return BTreeSet::new() };
    let jobs = &making.order.jobs;
    let ways = ways_of(work);
    let mut all = BTreeSet::new();
    let mut stack: Vec<usize> = (0..jobs.len()).filter(|i| is_done(&jobs[*i], &ways, standing)).collect();
    while let Some(i) = stack.pop() {
        if all.insert(i) {
            let behind = |n: &usize| match (jobs[*n].kind, jobs[i].kind) {
                (Of::Buy | Of::Tool(_) | Of::Jig(_), _) => true,
                (Of::Part(a, _), Of::Part(b, _)) => a == b,
                _ => false,
            };
            stack.extend(jobs[i].after.iter().copied().filter(behind));
        }
    }
    all
}
fn is_done(job: &Job, ways: &[Way<'_>], standing: &Standing) -> bool {
    match ways.iter().find(|w| w.makes(job)) {
        Some(way) => way.finished(standing, job),
        None => standing.done(&slug(&job.of), &job.title, None),
    }
}
