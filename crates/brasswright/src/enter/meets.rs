//! Sizes that must agree: which judgements changed, and what could be done, cheapest first.

use super::reading::{limits, owner, shown};
use super::typed::{Answer, Meets};
use crate::work::Work;
use journal::Reading;
use reckon::{Line, Origin};

/// What a size without limits of its own may be off before it is told (SI).
const SLACK: f64 = 20e-6;

/// Tells every judgement that changed, and each that fails and has to do with what was entered.
pub fn tell(before: &Work, after: &Work, answer: &mut Answer) {
    let was = |name: &str| {
        before.book.find(name).map(|(_, l)| matches!(l.origin, Origin::Verdict { holds: true, .. }))
    };
    let touched = |inputs: &[reckon::Id]| {
        inputs
            .iter()
            .any(|id| after.book.line(*id).is_some_and(|l| answer.moved.iter().any(|m| m.name == l.name)))
    };
    let mut all = Vec::new();
    for line in after.book.verdicts() {
        let Origin::Verdict { says, holds, letters, inputs, cures, .. } = &line.origin else { continue };
        let held = was(&line.name);
        if held == Some(*holds) && (*holds || !touched(inputs))
            || (held.is_none() && *holds && !line.name.contains(".meets."))
        {
            continue;
        }
        let figures = letters
            .iter()
            .zip(inputs)
            .filter_map(|(letter, id)| {
                Some(((*letter).replace('_', " "), after.book.line(*id)?.shown.clone()))
            })
            .collect();
        all.push(Meets {
            name: line.name.clone(),
            says: says.clone(),
            holds: *holds,
            held: held.unwrap_or(true),
            figures,
            ladder: cures.clone(),
        });
    }
    // What a meeting says already of a part is not said again size by size.
    let judged: Vec<usize> = all
        .iter()
        .filter(|m| !m.holds && m.name.contains(".meets."))
        .filter_map(|m| owner(&m.name, after))
        .collect();
    let other = |line: &&Line| owner(&line.name, after).is_none_or(|part| !judged.contains(&part));
    all.extend(after.book.actual().filter(other).filter_map(|line| contradicted(line, before, after)));
    all.sort_by_key(|m| (m.holds, !m.held));
    answer.meetings = all;
}
/// A size that was just read and lies outside its limits: what could be done, cheapest first.
pub fn outside(r: &Reading, work: &Work, answer: &mut Answer) {
    let (Some(wanted), false) = (r.wanted, r.rough) else { return };
    let (Some((_, line)), Some(part)) = (work.book.find(&r.name), owner(&r.name, work)) else { return };
    let Some(part) = work.parts.get(part) else { return };
    let is = r.value;
    if wanted.least >= wanted.most || (is >= wanted.least - 1e-9 && is <= wanted.most + 1e-9) {
        return;
    }
    let let_pass = work.known.standing.concessions.keys();
    if let_pass.into_iter().any(|(n, p)| *n == r.name && (p.is_none() || *p == r.piece)) {
        return;
    }
    let show = |x: f64| shown(x, line, work);
    let hole = is_hole(&r.name);
    let small = is < wanted.least;
    let name = part.common.name.as_str();
    let mut ladder = Vec::new();
    for m in answer.moved.iter().filter(|m| m.because == r.name) {
        let base =
            m.name.strip_suffix(".to_suit").or_else(|| m.name.ends_with(".pivot_hole").then_some(&m.name));
        if let Some(base) = base {
            ladder.push(format!("leave it so: {base} goes from {} to {}", m.old, m.new));
        }
    }
    // Over pins the depth shows twice.
    if r.name.ends_with(".pins.over") && !small {
        ladder.push(format!("set the cutter in by {} and go round again", show((is - wanted.nominal) / 2.0)));
    } else if small == hole {
        let off = if small { wanted.least - is } else { is - wanted.most };
        ladder.push(format!("take {} more off it, at the least: there is metal", show(off)));
    }
    let piece = r.piece.map_or(String::new(), |p| format!(" --piece {p}"));
    let follows = if r.piece.is_none() { "; what is free follows it, as told below" } else { "" };
    ladder.push(format!(
        "let it pass, where it may be: enter --concession {}{piece} --because \"…\"{follows}",
        r.name
    ));
    if r.piece.is_some() && small != hole {
        ladder.push(format!(
            "bring the other pieces to {} as well, and enter that once without --piece: what meets them follows",
            show(is)
        ));
    }
    if r.name.ends_with(".pivot_hole") {
        if small != hole {
            ladder.push("bush it, and open the bush to size".to_owned());
        }
    } else if small != hole {
        let how = if hole { "bush it, or make" } else { "make" };
        ladder.push(format!("{how} another: enter --scrapped \"{name}\"{piece}"));
    }
    answer.meetings.push(Meets {
        name: r.name.clone(),
        says: format!(
            "{name}: {} is {} than its limits allow",
            show(is),
            if small { "smaller" } else { "larger" }
        ),
        holds: false,
        held: true,
        figures: vec![("least".to_owned(), show(wanted.least)), ("most".to_owned(), show(wanted.most))],
        ladder,
    });
}
fn is_hole(name: &str) -> bool {
    name.contains("hole") || name.contains("bore") || name.ends_with(".inside") || name.ends_with(".recess")
}
/// A size that is made, and of which something else is wanted now than was before.
fn contradicted(line: &Line, before: &Work, after: &Work) -> Option<Meets> {
    let wanted_of = |l: &Line| match &l.origin {
        Origin::Actual { wanted_si, .. } => Some(*wanted_si),
        _ => None,
    };
    let (_, was) = before.book.find(&line.name)?;
    let (old, new, is) = (wanted_of(was)?, wanted_of(line)?, line.si?);
    if line.unit != "m" || (new - old).abs() < 5e-8 {
        return None;
    }
    let outside = |wanted: f64| {
        let (least, most) = limits(&line.name, wanted, after).unwrap_or((wanted - SLACK, wanted + SLACK));
        is < least - 1e-9 || is > most + 1e-9
    };
    if !outside(new) {
        return None;
    }
    let show = |x: f64| shown(x, line, after);
    let by = show((is - new).abs());
    let hole = is_hole(&line.name);
    let metal = (is > new) != hole;
    let mut ladder = Vec::new();
    if metal {
        ladder.push(format!("take {by} off it: there is metal"));
    }
    ladder.push(format!("leave it, where it may be: enter --concession {} --because \"…\"", line.name));
    if !metal {
        let how = if hole { "bush it and open the bush" } else { "make it anew" };
        ladder.push(format!("{how}: it is {by} too {}", if hole { "large" } else { "small" }));
    }
    Some(Meets {
        name: line.name.clone(),
        says: format!("{} is made to {}, and {} is wanted now", line.name, show(is), show(new)),
        holds: false,
        held: !outside(old),
        figures: vec![("was wanted".to_owned(), show(old)), ("is wanted".to_owned(), show(new))],
        ladder,
    })
}
