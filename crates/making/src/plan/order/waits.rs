//! What waits for what, and why.

use super::Floor;
use super::graph::Arrow;
use super::jobs::{BOUGHT, Of, Raw, STOCK, Whole, finishing, joining, last_finish};
use crate::plan::SetUp;
use crate::plan::stock::Buy;

/// Why a set-up follows the one before on its page.
pub(super) const ROUTE: &str = "next on its page";
/// Why plates are drilled late.
const MEASURED: &str = "its hole goes to where the wheel, cut and measured, wants it";
const MARKS: &str = "fitting marks the finish";

/// What is looked at, with the jobs that it came to.
pub(super) struct On<'a> {
    pub(super) of: &'a Floor<'a>,
    pub(super) jobs: &'a [Raw],
}
impl On<'_> {
    fn job(&self, of: Of) -> Option<usize> {
        self.jobs.iter().position(|j| j.of == of)
    }
    fn named(&self, name: &str) -> Option<usize> {
        self.jobs.iter().position(|j| j.name == name)
    }
    fn plan(&self, slug: &str) -> Option<usize> {
        self.of.plans.iter().position(|p| self.of.parts[p.part].slug() == slug)
    }
    fn of_part(&self, part: usize) -> Option<usize> {
        self.of.plans.iter().position(|p| p.part == part)
    }
    /// First set-up of a plan that is so.
    fn at(&self, plan: usize, is: impl Fn(&SetUp) -> bool) -> Option<usize> {
        let k = self.of.plans[plan].setups.iter().position(is)?;
        self.job(Of::Part(plan, k))
    }
    /// Last set-up of a plan before its last finish, and before it is joined to anything.
    fn ready(&self, plan: usize) -> Option<usize> {
        let setups = &self.of.plans[plan].setups;
        let made = &setups[..last_finish(setups)];
        // What is coloured by heat is joined after it.
        let hot = setups.iter().rposition(|s| s.does("blue") || s.does("harden"));
        let k = made.iter().rposition(|s| !joining(s));
        self.job(Of::Part(plan, k.max(hot)?))
    }
}
/// All arrows.
pub(super) fn arrows(f: &On<'_>) -> Vec<Arrow> {
    let mut all = Vec::new();
    route(f, &mut all);
    first_made(f, &mut all);
    bought(f, &mut all);
    pairs_of_plates(f, &mut all);
    joints(f, &mut all);
    if f.of.around.movement.is_some() {
        meetings(f, &mut all);
        whole(f, &mut all);
    }
    all.sort_by_key(|a| (a.first, a.then, !a.hard));
    all.dedup_by(|later, first| (later.first, later.then) == (first.first, first.then));
    all
}
/// Each page from top to bottom.
fn route(f: &On<'_>, all: &mut Vec<Arrow>) {
    for (i, w) in f.jobs.windows(2).enumerate() {
        if let (Of::Part(a, k), Of::Part(b, n)) = (w[0].of, w[1].of)
            && a == b
            && n == k + 1
        {
            all.push(Arrow::must(i, i + 1, ROUTE));
        }
    }
}
/// Tools and jigs before their use.
fn first_made(f: &On<'_>, all: &mut Vec<Arrow>) {
    let mut before = |first: Option<usize>, name: &str, users: &[String], why: &str| {
        let Some(first) = first else { return };
        for (i, p) in f.of.plans.iter().enumerate() {
            if !users.contains(&f.of.parts[p.part].common.name) {
                continue;
            }
            let named = |s: &SetUp| {
                s.held.by.contains(name)
                    || s.held.lines.iter().any(|l| l.contains(name))
                    || s.operations.iter().any(|o| {
                        o.tool.as_deref().is_some_and(|t| t.contains(name))
                            || o.lines.iter().any(|l| l.contains(name))
                    })
            };
            let use_at = f.at(i, named).or_else(|| f.job(Of::Part(i, 0)));
            all.extend(use_at.map(|then| Arrow::must(first, then, why)));
        }
    };
    for (i, t) in f.of.tools.iter().enumerate() {
        before(f.job(Of::Tool(i)), &t.name, &t.for_parts, "it cuts with it");
    }
    for (i, j) in f.of.jigs.iter().enumerate() {
        before(f.job(Of::Jig(i)), &j.part.common.name, &j.for_parts, "it is held by it");
    }
}
fn bought(f: &On<'_>, all: &mut Vec<Arrow>) {
    if let Some(buy) = f.named(STOCK) {
        for (i, p) in f.of.plans.iter().enumerate() {
            let name = &f.of.parts[p.part].common.name;
            let listed = |b: &Buy| b.parts.iter().any(|w| w == name || w.starts_with(&format!("{name} ×")));
            if p.stock.index.is_none() || f.of.buy.iter().any(listed) {
                all.extend(f.job(Of::Part(i, 0)).map(|t| Arrow::must(buy, t, "its stock has to come")));
            }
        }
    }
    let dry = f.job(Of::Clock(Whole::Dry));
    if let (Some(buy), Some(dry)) = (f.named(BOUGHT), dry) {
        all.push(Arrow::must(buy, dry, "what is bought has to be tried in its place"));
    }
}
/// Two plates drilled as one.
fn pairs_of_plates(f: &On<'_>, all: &mut Vec<Arrow>) {
    for pair in crate::plan::plate::pair::pairs(f.of.parts) {
        let (Some(a), Some(b)) = (f.of_part(pair.parts.0), f.of_part(pair.parts.1)) else { continue };
        for (lead, other) in [(a, b), (b, a)] {
            let Some(one) = f.at(lead, |s| s.title.ends_with(" as one")) else { continue };
            let blank = f.job(Of::Part(other, 0));
            all.extend(blank.map(|x| Arrow::must(x, one, "both blanks lie on each other")));
            let with = f.at(other, |s| s.title.starts_with("with the "));
            all.extend(with.map(|x| Arrow::must(one, x, "drilled as one")));
            let edges = f.at(lead, |s| s.title.starts_with("edges"));
            let parted = f.at(other, |s| s.title == "parted");
            if let (Some(e), Some(p)) = (edges, parted) {
                all.push(Arrow::must(e, p, "their edges are finished while they are pinned"));
            }
        }
    }
}
/// Joining after both parts; what sits on what is joined to an arbor comes first.
fn joints(f: &On<'_>, all: &mut Vec<Arrow>) {
    let at = |j: &movement::joint::Joint| {
        let plan = f.of_part(j.page)?;
        f.at(plan, |s| s.title.strip_prefix("joined: ") == Some(j.what.as_str()))
    };
    for j in f.of.around.joints {
        let Some(here) = at(j) else { continue };
        for part in [j.outer, j.inner] {
            let Some(plan) = f.of_part(part) else { continue };
            if let Some(ready) = f.ready(plan).filter(|r| *r != here) {
                all.push(Arrow::must(ready, here, "both are made before they are joined"));
            }
            let from = last_finish(&f.of.plans[plan].setups);
            let finish = f.job(Of::Part(plan, from));
            let hot = f.of.plans[plan].setups.iter().skip(from).any(|s| s.does("blue") || s.does("harden"));
            if let Some(finish) = finish.filter(|x| *x != here && !hot && part != j.page) {
                all.push(Arrow::better(here, finish, MARKS));
            }
        }
        for k in f.of.around.joints.iter().filter(|k| k.outer == j.inner) {
            all.extend(at(k).map(|then| {
                Arrow::better(here, then, "joined where a stake bears, before it sits on its arbor")
            }));
        }
    }
}
/// What meets in the clock.
fn meetings(f: &On<'_>, all: &mut Vec<Arrow>) {
    let Some(m) = f.of.around.movement else { return };
    let pairs = crate::plan::plate::pair::pairs(f.of.parts);
    let lead = |i: usize| f.at(f.of_part(i)?, |s| s.title.ends_with(" as one"));
    let drill: Vec<usize> = pairs.iter().flat_map(|p| [p.parts.0, p.parts.1]).filter_map(lead).collect();
    for mesh in &m.train.meshes {
        let Some(driven) = mesh.driven.and_then(|d| m.train.arbors.get(d)) else { continue };
        let (Some(wheel), Some(pinion)) = (f.plan(&mesh.slug), f.plan(&reckon::slug(&driven.facts.name)))
        else {
            continue;
        };
        let cut = |plan| f.at(plan, |s| s.does("cut teeth"));
        // A wheel that came out small is met by a hole that is still free.
        all.extend(
            cut(wheel).into_iter().flat_map(|w| drill.iter().map(move |d| Arrow::better(w, *d, MEASURED))),
        );
        if let (Some(p), Some(w)) = (cut(pinion), cut(wheel)) {
            all.push(Arrow::better(
                p,
                w,
                "a wheel is tried in its pinion, which cannot be altered once it is hard",
            ));
        }
    }
    let kind = |word: &'static str| {
        (0..f.of.plans.len()).filter(move |i| f.of.parts[f.of.plans[*i].part].kind.word() == word)
    };
    // The gap that the pillars give, then shoulders; finished pivots, then their holes.
    let gap: Vec<usize> =
        kind("pillar").filter_map(|i| f.at(i, |s| s.title.starts_with("other end"))).collect();
    let holes: Vec<usize> =
        (0..f.of.plans.len()).filter_map(|i| f.at(i, |s| s.title.starts_with("holes to size"))).collect();
    for arbor in kind("arbor") {
        if let Some(length) = f.at(arbor, |s| s.title.starts_with("other end")) {
            let why = "shoulders go by the gap as the pillars have made it";
            all.extend(gap.iter().map(|g| Arrow::better(*g, length, why)));
        }
        let pivots =
            f.of.plans[arbor].setups.iter().rposition(|s| s.does("finish turn") || s.does("burnish"));
        if let Some(pivots) = pivots.and_then(|k| f.job(Of::Part(arbor, k))) {
            let why = "a hole is brought up to its finished pivot";
            all.extend(holes.iter().map(|h| Arrow::better(pivots, *h, why)));
        }
    }
}
/// Dry once, then the last finish, then for good.
fn whole(f: &On<'_>, all: &mut Vec<Arrow>) {
    let clock = |w: Whole| f.job(Of::Clock(w));
    let (Some(dry), Some(good), Some(run)) = (clock(Whole::Dry), clock(Whole::Together), clock(Whole::Run))
    else {
        return;
    };
    for (i, p) in f.of.plans.iter().enumerate() {
        let slug = f.of.parts[p.part].slug();
        // Weight and pendulum hang on the clock; they do not stand in its plates.
        let hangs = slug.starts_with("drive.weight.") || slug.starts_with("pendulum.");
        let from = last_finish(&p.setups);
        for (k, s) in p.setups.iter().enumerate() {
            let Some(here) = f.job(Of::Part(i, k)) else { continue };
            if hangs {
                let to = clock(Whole::Beat).unwrap_or(run);
                all.push(Arrow::must(here, to, "it hangs on the clock that is set going"));
            } else if k >= from && finishing(s) {
                let hot = s.does("blue") || s.does("harden");
                all.push(Arrow { hard: !hot, ..Arrow::must(dry, here, MARKS) });
                all.push(Arrow::must(here, good, "a movement in its plates is not finished"));
            } else if k < from || from == p.setups.len() {
                all.push(Arrow::must(here, dry, "it goes together from all that is made"));
            } else {
                all.push(Arrow::must(here, good, "it goes together from all that is made"));
            }
        }
    }
    all.push(Arrow::must(dry, good, "nothing is finished for good that was not tried"));
    if let Some(line) = clock(Whole::Line) {
        all.push(Arrow::must(dry, line, "drum and pulley are tried first"));
        all.push(Arrow::must(line, good, "it is put on while the drum can be turned"));
    }
    if let Some(beat) = clock(Whole::Beat) {
        all.push(Arrow::must(good, beat, "locks and drops are seen in the closed plates"));
        all.push(Arrow::must(beat, run, "it has to go before it is rated"));
    }
    all.push(Arrow::must(good, run, "it has to go before it is rated"));
}
