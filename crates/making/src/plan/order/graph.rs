//! Jobs and arrows: rings, an order that keeps every arrow and like set-ups together, and the longest chain.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// One job before another.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Arrow {
    /// Index of what comes first.
    pub first: usize,
    /// Index of what waits for it.
    pub then: usize,
    /// Whether work is spoilt otherwise; else it only goes better so.
    pub hard: bool,
    /// Why.
    pub why: String,
    /// Whether the maker asked for it.
    pub asked: bool,
}
impl Arrow {
    /// An arrow that must hold.
    pub fn must(first: usize, then: usize, why: impl Into<String>) -> Arrow {
        Arrow { first, then, hard: true, why: why.into(), asked: false }
    }
    /// An arrow that gives way where it cannot hold.
    pub fn better(first: usize, then: usize, why: impl Into<String>) -> Arrow {
        Arrow { first, then, hard: false, why: why.into(), asked: false }
    }
}
/// For each of `n` nodes, where its arrows lead.
fn leads(n: usize, arrows: &[Arrow]) -> Vec<Vec<usize>> {
    let mut out = vec![Vec::new(); n];
    for a in arrows {
        out[a.first].push(a.then);
    }
    out
}
/// What is left free when everything that waits for nothing is taken away again and again, in that order; what is
/// missing is on a ring or behind one.
fn peeled(leads: &[Vec<usize>]) -> Vec<usize> {
    let n = leads.len();
    let mut waits = vec![0usize; n];
    for &t in leads.iter().flatten() {
        waits[t] += 1;
    }
    let mut free: Vec<usize> = (0..n).filter(|i| waits[*i] == 0).collect();
    let mut order = Vec::new();
    while let Some(at) = free.pop() {
        order.push(at);
        for &t in &leads[at] {
            waits[t] -= 1;
            if waits[t] == 0 {
                free.push(t);
            }
        }
    }
    order
}
/// Whether one job is reached from another.
fn reaches(leads: &[Vec<usize>], from: usize, to: usize) -> bool {
    let mut seen = vec![false; leads.len()];
    let mut stack = vec![from];
    while let Some(at) = stack.pop() {
        if at == to {
            return true;
        }
        if !std::mem::replace(&mut seen[at], true) {
            stack.extend(&leads[at]);
        }
    }
    false
}
/// A shortest ring among arrows, if there is one, each arrow leading to the next and the last to the first.
#[must_use]
pub fn ring(n: usize, arrows: &[Arrow]) -> Option<Vec<Arrow>> {
    let mut held = vec![true; n];
    for i in peeled(&leads(n, arrows)) {
        held[i] = false;
    }
    let mut best: Option<Vec<usize>> = None;
    for (i, start) in arrows.iter().enumerate().filter(|(_, a)| held[a.first] && held[a.then]) {
        let mut by: BTreeMap<usize, usize> = BTreeMap::new();
        let mut queue = VecDeque::from([start.then]);
        let mut seen = BTreeSet::from([start.then]);
        while let Some(at) = queue.pop_front() {
            if at == start.first {
                break;
            }
            for (j, a) in arrows.iter().enumerate().filter(|(_, a)| a.first == at) {
                if seen.insert(a.then) {
                    by.insert(a.then, j);
                    queue.push_back(a.then);
                }
            }
        }
        if start.first != start.then && !seen.contains(&start.first) {
            continue;
        }
        let mut way = Vec::new();
        let mut at = start.first;
        while at != start.then {
            let Some(&j) = by.get(&at) else { break };
            way.push(j);
            at = arrows[j].first;
        }
        way.push(i);
        way.reverse();
        if best.as_ref().is_none_or(|b| way.len() < b.len()) {
            best = Some(way);
        }
    }
    best.map(|way| way.into_iter().map(|j| arrows[j].clone()).collect())
}
/// Adds what goes better so as far as it makes no ring; what gave way is given back.
pub fn soften(n: usize, hard: &mut Vec<Arrow>, soft: Vec<Arrow>) -> Vec<Arrow> {
    let mut out = leads(n, hard);
    let mut gave_way = Vec::new();
    for a in soft {
        if reaches(&out, a.then, a.first) {
            gave_way.push(a);
        } else {
            out[a.first].push(a.then);
            hard.push(a);
        }
    }
    gave_way
}
/// What is known of each job when an order is looked for.
#[derive(Clone, Debug)]
pub struct Node {
    /// Those with the same key are done in one go, where no arrow stands against it.
    pub together: Option<String>,
    /// What is set up for it: the next with the same is taken sooner.
    pub set_up: String,
    /// Work and waiting, days.
    pub days: f64,
    /// Whether it comes before all else that may be done: what is long under way.
    pub at_once: bool,
}
/// Units: each job, or those that are done in one go.
fn units(nodes: &[Node], arrows: &[Arrow]) -> Vec<Vec<usize>> {
    let n = nodes.len();
    let mut of: Vec<usize> = (0..n).collect();
    let mut keys: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (i, node) in nodes.iter().enumerate() {
        if let Some(k) = &node.together {
            keys.entry(k).or_default().push(i);
        }
    }
    // Arrows between units: those of a unit stand with its first.
    let mut out = leads(n, arrows);
    for all in keys.values() {
        // One after another: what waits for the others, or they for it, stays alone.
        let first = all[0];
        for &i in &all[1..] {
            if reaches(&out, first, i) || reaches(&out, i, first) {
                continue;
            }
            of[i] = first;
            let more = std::mem::take(&mut out[i]);
            out[first].extend(more);
            for t in out.iter_mut().flatten().filter(|t| **t == i) {
                *t = first;
            }
        }
    }
    let mut out: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, u) in of.iter().enumerate() {
        out.entry(*u).or_default().push(i);
    }
    out.into_values().collect()
}
/// An order that keeps all arrows, which hold no ring: each line what is done in one go.
#[must_use]
pub fn sequence(nodes: &[Node], arrows: &[Arrow]) -> Vec<Vec<usize>> {
    let units = units(nodes, arrows);
    let mut unit = vec![0; nodes.len()];
    for (u, all) in units.iter().enumerate() {
        for i in all {
            unit[*i] = u;
        }
    }
    let mut waits = vec![BTreeSet::new(); units.len()];
    for a in arrows.iter().filter(|a| unit[a.first] != unit[a.then]) {
        waits[unit[a.then]].insert(unit[a.first]);
    }
    let tail = tails(nodes, arrows);
    let mut left: BTreeSet<usize> = (0..units.len()).collect();
    let mut last = String::new();
    let mut out = Vec::new();
    while !left.is_empty() {
        let free = left.iter().copied().filter(|u| waits[*u].iter().all(|w| !left.contains(w)));
        let longest = |u: usize| units[u].iter().map(|i| tail[*i]).fold(0.0, f64::max);
        // Sooner: what is long under way, what is set up already, then what most hangs on.
        let pick = free.min_by(|a, b| {
            let key = |u: usize| {
                let node = &nodes[units[u][0]];
                (!node.at_once, node.set_up != last)
            };
            key(*a).cmp(&key(*b)).then(longest(*b).total_cmp(&longest(*a))).then(a.cmp(b))
        });
        // No ring is left, so that something is always free.
        let Some(u) = pick.or_else(|| left.first().copied()) else { break };
        left.remove(&u);
        last.clone_from(&nodes[units[u][0]].set_up);
        out.push(units[u].clone());
    }
    out
}
/// For each job the days of the longest chain from its begin to the end of all.
#[must_use]
pub fn tails(nodes: &[Node], arrows: &[Arrow]) -> Vec<f64> {
    let out = leads(nodes.len(), arrows);
    let order = peeled(&out);
    let mut tail = vec![0.0; nodes.len()];
    for &at in order.iter().rev() {
        tail[at] = nodes[at].days + out[at].iter().map(|t| tail[*t]).fold(0.0, f64::max);
    }
    tail
}
/// The longest chain: jobs first to last.
#[must_use]
pub fn chain(nodes: &[Node], arrows: &[Arrow]) -> Vec<usize> {
    let tail = tails(nodes, arrows);
    let out = leads(nodes.len(), arrows);
    let longest = |among: &mut dyn Iterator<Item = usize>| {
        among.min_by(|a, b| tail[*b].total_cmp(&tail[*a]).then(a.cmp(b)))
    };
    let mut at = longest(&mut (0..nodes.len()));
    let mut way = Vec::new();
    while let Some(i) = at {
        way.push(i);
        at = longest(&mut out[i].iter().copied());
    }
    way
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn node(days: f64, key: Option<u8>, set_up: u8) -> Node {
        Node { together: key.map(|k| k.to_string()), set_up: set_up.to_string(), days, at_once: false }
    }
    #[test]
    fn a_ring_is_shown_at_its_shortest() {
        let arrows = [(0, 1), (1, 2), (2, 3), (3, 0), (2, 0), (4, 0)]
            .map(|(a, b)| Arrow::must(a, b, format!("{a}{b}")));
        let ring = ring(5, &arrows).expect("a ring");
        assert_eq!(ring.len(), 3);
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            assert_eq!(a.then, b.first);
        }
    }
    #[test]
    fn the_longest_chain_counts_days_not_jobs() {
        let nodes = [1.0, 1.0, 1.0, 9.0].map(|d| node(d, None, 0));
        let arrows = [(0, 1), (1, 2), (0, 3)].map(|(a, b)| Arrow::must(a, b, ""));
        assert_eq!(chain(&nodes, &arrows), [0, 3]);
    }
    #[test]
    fn like_with_like_unless_one_waits_for_the_other() {
        let nodes = [node(1.0, Some(1), 1), node(1.0, None, 2), node(1.0, Some(1), 1), node(1.0, Some(1), 1)];
        // 3 waits for 1, which waits for 0: 0 and 2 go together, 3 not with them.
        let arrows = [Arrow::must(0, 1, ""), Arrow::must(1, 3, "")];
        let order = sequence(&nodes, &arrows);
        assert!(order.contains(&vec![0, 2]), "{order:?}");
        assert!(order.contains(&vec![3]), "{order:?}");
    }
    prop_compose! {
        fn graph()(n in 2usize..25)(
            nodes in prop::collection::vec((0.1..9.0f64, prop::option::of(0u8..4), 0u8..4), n),
            pairs in prop::collection::vec((0..n, 0..n, any::<bool>()), 0..60),
        ) -> (Vec<Node>, Vec<Arrow>) {
            let nodes: Vec<Node> = nodes.into_iter().map(|(d, k, s)| node(d, k, s)).collect();
            let arrows = pairs.into_iter().filter(|p| p.0 != p.1);
            (nodes, arrows.map(|(a, b, hard)| Arrow { hard, ..Arrow::must(a, b, "") }).collect())
        }
    }
    proptest! {
        /// Either a ring is shown that is one, or there is an order that keeps every hard arrow, every job once.
        #[test]
        fn every_hard_arrow_holds_or_a_ring_is_shown((nodes, arrows) in graph()) {
            let (mut hard, soft): (Vec<Arrow>, Vec<Arrow>) = arrows.into_iter().partition(|a| a.hard);
            if let Some(ring) = ring(nodes.len(), &hard) {
                prop_assert!(!ring.is_empty());
                for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                    prop_assert_eq!(a.then, b.first);
                    prop_assert!(hard.contains(a));
                }
                return Ok(());
            }
            let asked = hard.len() + soft.len();
            let gave_way = soften(nodes.len(), &mut hard, soft);
            prop_assert_eq!(hard.len() + gave_way.len(), asked);
            prop_assert!(ring(nodes.len(), &hard).is_none());
            // What gave way would have closed a ring.
            for a in &gave_way {
                let mut with = hard.clone();
                with.push(a.clone());
                prop_assert!(ring(nodes.len(), &with).is_some());
            }
            let order = sequence(&nodes, &hard);
            let flat: Vec<usize> = order.concat();
            let mut sorted = flat.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..nodes.len()).collect::<Vec<_>>());
            let place = |i: usize| order.iter().position(|u| u.contains(&i)).expect("there");
            for a in &hard {
                prop_assert!(place(a.first) < place(a.then));
            }
            // The longest chain runs along arrows, and nothing ends later than it is long.
            let way = chain(&nodes, &hard);
            for w in way.windows(2) {
                prop_assert!(hard.iter().any(|a| (a.first, a.then) == (w[0], w[1])));
            }
            let days: f64 = way.iter().map(|i| nodes[*i].days).sum();
            let most = tails(&nodes, &hard).into_iter().fold(0.0, f64::max);
            prop_assert!((days - most).abs() < 1e-9);
        }
    }
}
