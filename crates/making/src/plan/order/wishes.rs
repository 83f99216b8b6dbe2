//! What the maker wants otherwise in the order of work, and the ring where it cannot be.

use super::graph::{Arrow, ring, soften};
use super::jobs::Raw;
use super::waits::ROUTE;
use reckon::Trouble;
use reckon::trouble::nearest;
use record::facts::{Clock, First};
use std::collections::BTreeSet;

/// Arrows after the maker's wishes.
pub(super) struct Wanted {
    pub(super) kept: Vec<Arrow>,
    pub(super) aside: Vec<(Arrow, String)>,
    pub(super) gave_way: Vec<Arrow>,
    pub(super) troubles: Vec<Trouble>,
}
impl Wanted {
    /// Arrows that must hold.
    pub(super) fn hard(&self) -> Vec<Arrow> {
        self.kept.iter().filter(|a| a.hard).cloned().collect()
    }
}
/// Jobs of a name: one job, or all of a part.
fn named(raw: &[Raw], name: &str) -> Vec<usize> {
    let name = name.trim();
    let is = |i: &usize| raw[*i].name == name || raw[*i].what == name;
    match raw.iter().position(|r| r.name == name) {
        Some(i) if raw[i].what != name => vec![i],
        _ => (0..raw.len()).filter(is).collect(),
    }
}
/// Names that may be written, told when another one is.
pub(super) fn near<'a>(raw: impl Iterator<Item = (&'a str, &'a str)>, name: &str) -> Vec<String> {
    let known: BTreeSet<&str> = raw.flat_map(|(name, what)| [name, what]).collect();
    let mut near: Vec<String> = nearest(name, known.iter().copied()).into_iter().map(str::to_owned).collect();
    if near.is_empty() {
        // Jobs of the part that the name begins with.
        let part = name.split(':').next().unwrap_or(name).trim();
        near.extend(
            known.iter().filter(|k| k.starts_with(part) || k.contains(name)).take(4).map(|k| (*k).to_owned()),
        );
    }
    near
}
fn unknown(raw: &[Raw], name: &str, at: &reckon::Place) -> Trouble {
    let mut t = Trouble::text(format!("there is no job '{name}' in the order of work")).at(at.clone());
    for n in near(raw.iter().map(|r| (r.name.as_str(), r.what.as_str())), name) {
        t = t.cure(format!("did you mean '{n}'?"));
    }
    t.cure("names of all jobs: brasswright tonight --all")
}
/// Lays the wishes over the arrows.
pub(super) fn apply(raw: &[Raw], arrows: Vec<Arrow>, clock: Option<&Clock>) -> Wanted {
    let mut troubles = Vec::new();
    let mut aside = Vec::new();
    let (mut hard, mut soft): (Vec<Arrow>, Vec<Arrow>) = arrows.into_iter().partition(|a| a.hard);
    for w in clock.iter().flat_map(|c| &c.first) {
        let (first, then) = (named(raw, &w.first.0), named(raw, &w.then.0));
        for ((name, at), found) in [(&w.first, &first), (&w.then, &then)] {
            if found.is_empty() {
                troubles.push(unknown(raw, name, at));
            }
        }
        if first.is_empty() || then.is_empty() {
            continue;
        }
        let tried = wish(w, &first, &then, &hard, &soft);
        match ring(raw.len(), &tried.hard) {
            Some(ring) => troubles.push(runs_in_a_ring(raw, w, &ring)),
            None => {
                (hard, soft) = (tried.hard, tried.soft);
                aside.extend(tried.aside.into_iter().map(|a| (a, w.reason.clone())));
            }
        }
    }
    if let Some(ring) = ring(raw.len(), &hard) {
        troubles.push(Trouble::ours(format!("the order of work runs in a ring: {}", told(raw, &ring))));
        // Without those of the ring the rest can still be ordered.
        let mut kept = Vec::new();
        let _ = soften(raw.len(), &mut kept, std::mem::take(&mut hard));
        hard = kept;
    }
    let gave_way = soften(raw.len(), &mut hard, soft);
    Wanted { kept: hard, aside, gave_way, troubles }
}
struct Tried {
    hard: Vec<Arrow>,
    soft: Vec<Arrow>,
    aside: Vec<Arrow>,
}
/// A wish, with the rules that stand straight against it put aside. The page of a part is not taken apart by it.
fn wish(w: &First, first: &[usize], then: &[usize], hard: &[Arrow], soft: &[Arrow]) -> Tried {
    let against =
        |a: &Arrow| then.contains(&a.first) && first.contains(&a.then) && a.why != ROUTE && !a.asked;
    let mut aside: Vec<Arrow> = hard.iter().chain(soft).filter(|a| against(a)).cloned().collect();
    let mut hard: Vec<Arrow> = hard.iter().filter(|a| !against(a)).cloned().collect();
    let soft = soft.iter().filter(|a| !against(a)).cloned().collect();
    for &a in first {
        for &b in then.iter().filter(|b| **b != a) {
            hard.push(Arrow { asked: true, ..Arrow::must(a, b, w.reason.clone()) });
        }
    }
    aside.dedup();
    Tried { hard, soft, aside }
}
fn told(raw: &[Raw], ring: &[Arrow]) -> String {
    let each = ring.iter().map(|a| {
        let why = if a.asked { format!("your [[order]]: {}", a.why) } else { a.why.clone() };
        format!("'{}' before '{}' ({why})", raw[a.first].name, raw[a.then].name)
    });
    each.collect::<Vec<_>>().join("; ")
}
fn runs_in_a_ring(raw: &[Raw], w: &First, ring: &[Arrow]) -> Trouble {
    Trouble::design(format!("'{}' cannot be done before '{}': the order would run in a ring", w.first.0, w.then.0))
        .at(w.at.clone())
        .why(told(raw, ring))
        .cure("name the one set-up that is meant, such as \"great wheel: teeth cut\", not all that is done to a part")
        .cure("or leave this order out; the rest of the order stands")
}
