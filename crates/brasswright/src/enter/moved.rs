//! What moved because of an entry, and why: the clock before it held against the clock after it.

use super::kept::Known;
use super::reading::{limits, owner, shown};
use super::typed::{Answer, Moved, Weight};
use crate::folder::Folder;
use crate::work::Work;
use journal::What;
use movement::part::{Body, Part};
use reckon::{Id, Line, Origin};
use std::collections::{BTreeMap, BTreeSet};

/// Sizes that a part is drawn with: what stays as it is once it is made.
#[must_use]
pub fn sizes(slug: &str, work: &Work) -> Vec<(String, f64)> {
    let mut all = BTreeMap::new();
    for p in work.parts.iter().filter(|p| p.slug() == slug) {
        for id in ids(p) {
            if let Some(line) = work.book.line(id)
                && let Some(si) = line.si
                && !matches!(line.origin, Origin::Tabled { .. })
            {
                // What suits another part is this part's size: it is kept under its own name.
                let name = line.name.strip_suffix(".to_suit").unwrap_or(&line.name);
                all.insert(name.to_owned(), si);
            }
        }
        all.extend(places_of(p, work));
    }
    // Sizes that are no steps or holes of a part, and stay with it all the same.
    let own = |name: &str| match slug {
        "escapement.pallets" => {
            name.starts_with("escapement.corner.") && (name.ends_with(".x") || name.ends_with(".y"))
        }
        "pendulum.rod_part" => ["pendulum.rod_length", "pendulum.rod.thread_length"].contains(&name),
        arbor => {
            name.strip_prefix(arbor).is_some_and(|rest| rest == ".between_shoulders" || rest == ".pivot")
        }
    };
    let also = work.book.lines().filter(|l| own(&l.name));
    all.extend(also.filter_map(|l| Some((l.name.clone(), l.si?))));
    all.into_iter().collect()
}
/// Where the arbors stand, for a part that has their holes.
fn places_of(part: &Part, work: &Work) -> Vec<(String, f64)> {
    let Body::Flat(f) = &part.body else { return Vec::new() };
    if f.holes.len() < 2 || !part.slug().starts_with("plates.") {
        return Vec::new();
    }
    let train = work.movement.iter().flat_map(|m| m.train.arbors.iter().zip(&m.layout.stands));
    let mut all = Vec::new();
    for (arbor, stand) in train {
        let Some(stand) = stand else { continue };
        all.push((format!("{}.at.x", arbor.facts.slug), stand.x.bare().value()));
        all.push((format!("{}.at.y", arbor.facts.slug), stand.y.bare().value()));
    }
    all
}
/// Places in the book of the sizes that a part is drawn with.
fn ids(part: &Part) -> Vec<Id> {
    let mut all = Vec::new();
    match &part.body {
        Body::Turned(t) => {
            all.extend([t.length.id(), t.largest.id()]);
            for s in &t.steps {
                all.extend([s.from.id(), s.to.id(), s.size.nominal.id()]);
                all.extend(s.end.map(|e| e.id()));
            }
            for h in &t.holes {
                all.push(h.size.nominal.id());
                all.extend(h.depth.map(|d| d.id()));
            }
            all.extend(t.leaves.iter().flat_map(|l| [l.outside.id(), l.root.id()]));
        }
        Body::Flat(f) => {
            all.push(f.thickness.nominal.id());
            all.extend(f.round.iter().map(|r| r.nominal.id()));
            all.extend(f.teeth.iter().flat_map(|l| [l.outside.id(), l.root.id()]));
            all.extend(f.holes.iter().map(|h| h.diameter.nominal.id()));
        }
    }
    all
}
/// Sizes that are final once a step is done: where the arbors stand, when the plates are drilled.
#[must_use]
pub fn drilled(step: &journal::Step, work: &Work) -> Vec<(String, f64)> {
    let of = |p: &&Part| p.slug() == step.part || reckon::slug(&p.common.name) == step.part;
    let Some((i, part)) = work.parts.iter().enumerate().find(|(_, p)| of(p)) else { return Vec::new() };
    let plans = work.making.iter().flat_map(|m| &m.parts);
    let Some(plan) = plans.into_iter().find(|p| p.part == i) else { return Vec::new() };
    // `2.3` is the third operation of the second set-up; a set-up by its title is all of it.
    let mut numbers = step.step.split('.').map(str::parse::<usize>);
    let at = (numbers.next().and_then(Result::ok), numbers.next().and_then(Result::ok));
    let operations: Vec<&making::plan::Operation> = match at {
        (Some(s), Some(o)) => {
            let set_up = s.checked_sub(1).and_then(|s| plan.setups.get(s));
            set_up.and_then(|s| s.operations.get(o.checked_sub(1)?)).into_iter().collect()
        }
        _ => plan.setups.iter().filter(|s| s.title == step.step).flat_map(|s| &s.operations).collect(),
    };
    let places = operations.into_iter().flat_map(|o| &o.tables).filter_map(|t| work.book.line(t.id));
    let drills =
        places.into_iter().any(|l| l.name.ends_with(".holes") || l.name.ends_with(".holes.register"));
    if drills { places_of(part, work) } else { Vec::new() }
}
/// Most numbers that only follow which are told.
const FOLLOW: usize = 400;

/// Tells what moved.
pub fn tell(before: &Work, after: &Work, spread: Option<&Work>, answer: &mut Answer) {
    let mut moved = before.book.moved(&after.book);
    // What follows what is made stands under a name of its own beside what was drawn.
    for line in after.book.lines().filter(|l| l.name.ends_with(".to_suit")) {
        let base = line.name.trim_end_matches(".to_suit");
        let was = before.book.find(&line.name).or_else(|| before.book.find(base));
        if let Some((_, was)) = was.filter(|(_, w)| w.si != line.si)
            && !moved.iter().any(|(n, ..)| *n == line.name)
        {
            moved.push((line.name.as_str(), was.shown.as_str(), line.shown.as_str()));
        }
    }
    let names: BTreeSet<&str> = moved.iter().map(|(n, ..)| *n).collect();
    let printed = printed(after);
    let mut all: Vec<Moved> = Vec::new();
    for (name, old, new) in &moved {
        let was = before.book.find(name).or_else(|| before.book.find(name.trim_end_matches(".to_suit")));
        let (Some((_, was)), Some((_, line))) = (was, after.book.find(name)) else { continue };
        if matches!(&line.origin, Origin::Table { .. }) || trifling(was, line) {
            continue;
        }
        let give_or_take = spread.and_then(|s| {
            let (_, other) = s.book.find(name)?;
            let off = (other.si? - line.si?).abs();
            (off > 0.0).then(|| shown(off, line, after))
        });
        let styled = |l: &Line, text: &str| {
            l.si.filter(|_| l.unit == "m").map_or(text.to_owned(), |si| shown(si, l, after))
        };
        let (old, new) = (styled(was, old), styled(line, new));
        if old == new {
            continue;
        }
        all.push(Moved {
            name: (*name).to_owned(),
            what: words(name, after),
            old,
            new,
            give_or_take,
            because: because(line, &names, after, name),
            weight: weight(name, line, after, &printed),
        });
    }
    all.sort_by(|a, b| (a.weight, &a.name).cmp(&(b.weight, &b.name)));
    if all.len() > FOLLOW {
        let first = all.iter().position(|m| m.weight == Weight::Follows).unwrap_or(all.len());
        all.truncate(first.max(FOLLOW));
    }
    answer.moved = all;
}
/// Whether the two differ by less than anyone can measure or set.
fn trifling(was: &Line, is: &Line) -> bool {
    match (was.si, is.si) {
        (Some(a), Some(b)) if was.unit == "m" => (a - b).abs() < 5e-8,
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(b.abs()),
        _ => was.shown == is.shown,
    }
}
/// The clock with the reading off by as much as its tool may be.
#[must_use]
pub fn spread(known: &Known, folder: &Folder, what: &What) -> Option<Work> {
    let What::Measured(r) = what else { return None };
    let off = r.give_or_take.filter(|x| *x > 0.0)?;
    let mut known = known.clone();
    known.actuals.get_mut(&r.name)?.value += off;
    // A larger rim, or more over pins, sits the teeth farther out; longer pillars part the plates.
    let of = r.name.strip_suffix(".outside").or_else(|| r.name.strip_suffix(".pins.over"));
    if let Some(sits) = of.and_then(|w| known.actuals.get_mut(&format!("{w}.teeth_sit"))) {
        sits.value -= off / 2.0;
    }
    if let Some(gap) = super::kept::follows(&r.name).and_then(|n| known.actuals.get_mut(n)) {
        gap.value += off;
    }
    Some(Work::with(folder, known))
}
/// The nearest name that moved of those that a line comes from.
fn because(line: &Line, moved: &BTreeSet<&str>, work: &Work, own: &str) -> String {
    if let Origin::Actual { actual, .. } = &line.origin {
        return match actual.word() {
            "measured" => format!("measured: entry {}", actual.entry),
            _ => format!("made to it: entry {}", actual.entry),
        };
    }
    let mut seen = BTreeSet::new();
    let mut now: Vec<Id> = line.origin.inputs().to_vec();
    for _ in 0..12 {
        let mut next = Vec::new();
        for id in now {
            if !seen.insert(id) {
                continue;
            }
            let Some(l) = work.book.line(id) else { continue };
            // What was measured under a name of its own had no figure before, and moved nothing by moving.
            let told = matches!(l.origin, Origin::Actual { .. }) && l.name.ends_with(".teeth_sit");
            if l.name != own && (told || moved.contains(l.name.as_str())) {
                return l.name.clone();
            }
            next.extend(l.origin.inputs().iter().copied());
        }
        now = next;
    }
    String::new()
}
/// Places in the book of what the sheets print with an operation: figures, checks, speeds, how far work stands out.
fn printed(work: &Work) -> BTreeSet<Id> {
    let mut all = BTreeSet::new();
    for s in work.making.iter().flat_map(|m| &m.parts).flat_map(|p| &p.setups) {
        all.extend(s.held.overhang.iter().map(reckon::Val::id));
        for o in &s.operations {
            all.extend(o.figures.iter().filter_map(|f| f.id));
            all.extend(o.checks.iter().filter_map(|c| c.id));
            all.extend(o.speed.iter().map(reckon::Val::id));
            all.extend(o.feed.iter().map(reckon::Val::id));
        }
    }
    all
}
/// How much a number matters at the bench.
fn weight(name: &str, line: &Line, work: &Work, printed: &BTreeSet<Id>) -> Weight {
    if matches!(line.origin, Origin::Verdict { .. }) {
        return Weight::Judgement;
    }
    let set_up = name.split('.').any(|p| p.starts_with("setup"));
    let length = line.unit == "m";
    let place = length && (name.contains(".drilling.at.") || name.ends_with(".to_suit"));
    let limited = length && !set_up && limits(name, line.si.unwrap_or(0.0), work).is_some_and(|(a, b)| a < b);
    if place || limited {
        Weight::ToMake
    } else if work.book.find(name).is_some_and(|(id, _)| printed.contains(&id)) {
        Weight::Setting
    } else if runs(name) {
        Weight::Running
    } else {
        Weight::Follows
    }
}
/// Whether a number says how the clock will run or be set up, so that it is told first of all that only follows.
fn runs(name: &str) -> bool {
    const SPRING: [&str; 5] =
        ["torque_at_top", "torque_at_the_end", "turns_available", "turns_needed", "torque_full"];
    const PENDULUM: [&str; 5] = ["bob.middle", "nut.below", "nut.turn_s_per_day", "lowest", "mass"];
    if let Some(of) = name.strip_prefix("drive.spring.") {
        return SPRING.contains(&of);
    }
    if let Some(of) = name.strip_prefix("pendulum.") {
        return PENDULUM.contains(&of) || of.starts_with("meets.");
    }
    name.contains(".meets.")
        || (name.starts_with("drive.") && (name.ends_with(".arc.likely") || name.ends_with(".margin.likely")))
}
/// A name in words: the part and what of it.
fn words(name: &str, work: &Work) -> String {
    let Some(part) = owner(name, work).and_then(|i| work.parts.get(i)) else { return String::new() };
    let rest = name.strip_prefix(part.slug()).unwrap_or(name).trim_start_matches('.');
    let rest = rest.strip_prefix("drilling.at.").map_or_else(|| rest.to_owned(), |r| format!("hole {r}"));
    format!("{}: {}", part.common.name, rest.replace(['.', '_'], " "))
}
