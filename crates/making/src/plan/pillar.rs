//! Pillars and posts: all of one length between their shoulders, by one stop, and compared.

use super::bench::Bench;
use super::hole::seen;
use super::{Caution, Check, Figure, Operation, SetUp, Spread, turned};
use movement::part::Told;
use reckon::{Count, Length, Source, work};

/// How a batch comes to one length.
pub static ONE_LENGTH: Source = Source::practice(
    "plates stand parallel when their pillars are alike within 0.01 mm: one stop, one reading, and all compared with the first",
);

/// The set-up in which a batch with two shoulders is compared; none where no length is held so closely.
pub fn alike(b: &mut Bench<'_>) -> Option<SetUp> {
    if b.part.common.count.bare() < Count(2) || b.body.steps.len() < 3 {
        return None;
    }
    let limits = b.body.told.iter().find_map(|t| match t {
        Told::Along { figure, inside: false, .. } => {
            let (upper, lower) = figure.limits?;
            (upper - lower <= Length::mm(0.0201)).then(|| figure.clone())
        }
        _ => None,
    })?;
    let (upper, lower) = limits.limits?;
    let body = b
        .body
        .steps
        .iter()
        .find(|s| (s.to.bare() - s.from.bare() - limits.nominal).abs() < Length::mm(1e-4))?;
    let (from, to) = (body.from, body.to);
    let between = work!(b.book, b.name("alike.between"), |to, from| to - from, &ONE_LENGTH);
    let spread =
        b.assumed("alike.within", Length::mm(0.01), "house default: longest less shortest of a batch");
    let op = Operation {
        title: "All of one length between the shoulders".to_owned(),
        lines: vec![
            "In the lathe, before: each is pushed home with its finished shoulder on the nose of the collet, the slide locked at one reading for the second shoulder, and never reset within the batch.".to_owned(),
            "Now compare, do not only measure: a flat block with a hole for the spigot under an indicator. The first on it, indicator to nothing on its upper shoulder; then each of the others. No burr, no chip between.".to_owned(),
            "Bring all down to the shortest: back into the collet, that much off the second shoulder. If the shortest is under its limit, all become so, and the plates' gap is written down as it is: the arbors are turned to it.".to_owned(),
        ],
        tool: Some("flat block with a hole, indicator on a stand, micrometer".to_owned()),
        figures: vec![Figure::of("between the shoulders", &between), Figure::of("alike within", &spread)],
        checks: vec![
            Check {
                what: "the first, between the shoulders".to_owned(),
                limits: Some((limits.nominal + upper, limits.nominal + lower)),
                seen: None,
                id: Some(between.id()),
            },
            seen("the others", "the hand of the indicator within a division of nothing"),
        ],
        cautions: vec![Caution::Turning],
        does: vec!["form"],
        time: Spread::minutes(2.0, 4.0, 8.0),
        ..Operation::default()
    };
    Some(turned::at_bench("all alike", "surface plate or thick glass, flat block with a hole", vec![op], 5.0))
}
