//! Sizes that must agree: which judgements changed, and what could be done, cheapest first.

use super::reading::{limits, shown};
use super::typed::{Answer, Meets};
use crate::work::Work;
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
    all.extend(after.book.actual().filter_map(|line| contradicted(line, before, after)));
    all.sort_by_key(|m| (m.holds, !m.held));
    answer.meetings = all;
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
    let hole = line.name.contains("hole") || line.name.contains("bore");
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
