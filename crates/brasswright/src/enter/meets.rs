//! Sizes that must agree: which judgements changed, and what could be done, cheapest first.

use super::typed::{Answer, Meets};
use crate::work::Work;
use reckon::Origin;

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
    all.sort_by_key(|m| (m.holds, !m.held));
    answer.meetings = all;
}
