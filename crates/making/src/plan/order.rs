//! The order of work: tools before what needs them, long-lead things first, like with like.

use super::jig::Jig;
use super::{PartPlan, ShopTool};
use movement::part::Part;
use reckon::{Book, Cell, Source, Time};

/// How the order is found.
pub static ORDER: Source =
    Source::practice("tools before the parts that need them, then by bar so that each collet is set once");

/// One job in the order of work.
#[derive(Clone, Debug)]
pub struct Job {
    /// What.
    pub title: String,
    /// Why it stands here.
    pub why: String,
    /// Mean time.
    pub time: Time,
    /// Index of the part's plan, or none for a tool or a jig.
    pub plan: Option<usize>,
}
/// The order, written into the book as a table.
pub fn order(
    parts: &[Part],
    plans: &[PartPlan],
    tools: &[ShopTool],
    jigs: &[Jig],
    book: &mut Book,
) -> Vec<Job> {
    let mut jobs: Vec<Job> = tools
        .iter()
        .map(|t| {
            let minutes: f64 = t.operations.iter().map(|o| o.time.mean()).sum();
            Job {
                title: t.name.clone(),
                why: format!("needed for {}", t.for_parts.join(", ")),
                time: Time::si(minutes * 60.0),
                plan: None,
            }
        })
        .collect();
    jobs.extend(jigs.iter().map(|j| Job {
        title: j.part.common.name.clone(),
        why: format!("needed for {}", j.for_parts.join(", ")),
        time: j.plan.time.mean.bare(),
        plan: None,
    }));
    // Parts off one bar follow each other; within a bar, those that wait for nothing first.
    let mut indices: Vec<usize> = (0..plans.len()).collect();
    indices.sort_by_key(|i| {
        let p = &plans[*i];
        (p.stock.index.is_none(), p.stock.index, !p.waits_for.is_empty(), *i)
    });
    let mut last_bar = None;
    for i in indices {
        let p = &plans[i];
        let why = if p.stock.index.is_none() {
            "when its stock has come".to_owned()
        } else if last_bar == Some(p.stock.index) {
            match &parts[p.part].body {
                movement::part::Body::Flat(_) => "same sheet as the one before".to_owned(),
                movement::part::Body::Turned(_) => "same bar, same collet as the one before".to_owned(),
            }
        } else {
            format!("set up for {}", p.stock.what)
        };
        last_bar = Some(p.stock.index);
        jobs.push(Job {
            title: parts[p.part].common.name.clone(),
            why,
            time: p.time.mean.bare(),
            plan: Some(i),
        });
    }
    let rows = jobs
        .iter()
        .map(|j| vec![Cell::word(j.title.clone()), Cell::word(j.why.clone()), Cell::of(&j.time)])
        .collect();
    let inputs = plans.iter().map(|p| p.time.mean.id()).collect();
    book.table("order", &["job", "why here", "time"], rows, "tools first, then by bar", inputs, &ORDER);
    jobs
}
