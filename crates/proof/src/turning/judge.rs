//! What the lathe left, beside what is wanted.

use shape::region::Region;

use super::{SetUp, Turned, both_sides, path, touched};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::measure::{Against, amount};
use crate::moves::{Does, Program};
use crate::near::Edges;

/// What is wanted: the metal that must stay, and the metal that may.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Less than this is a gouge.
    pub least: Region,
    /// More than this is a remainder.
    pub most: Region,
    /// Where it is judged; everywhere when none.
    pub judged: Option<Region>,
    /// Deeper than this below the least is a fault, in millimetres.
    pub gouge: f64,
    /// Higher than this above the most is a fault, in millimetres.
    pub left: f64,
}

impl Wanted {
    /// One outline as both, with the same room below and above it in millimetres.
    #[must_use]
    pub fn exactly(outline: Region, room: f64) -> Self {
        Self { least: outline.clone(), most: outline, judged: None, gouge: room, left: room }
    }
}

/// Compares what is left with what is wanted.
pub(super) fn judge(
    program: &Program,
    set_up: &SetUp,
    wanted: &Wanted,
    turned: &mut Turned,
    faults: &mut Vec<Fault>,
) {
    let within = |region: Region| match &wanted.judged {
        Some(judged) => region.intersection(judged),
        None => region,
    };
    let short = within(wanted.least.difference(&set_up.stock));
    let missing = amount(&short, &wanted.least);
    let end = program.steps.last().map_or(Spot::default(), |step| step.spot);
    let first = program.steps.first().map_or(Spot::default(), |step| step.spot);
    let short_by = amount(&short, &set_up.stock).deepest;
    if short_by > wanted.gouge {
        faults.push(
            Fault::new(
                Wrong::StockTooSmall,
                first,
                format!(
                    "the stock lacks {} mm² of what is wanted, {} mm deep",
                    figure(missing.area, 3),
                    mm(short_by)
                ),
            )
            .by(short_by)
            .cure("take larger stock, or set the zero elsewhere"),
        );
    }
    turned.remainder = within(turned.after.difference(&wanted.most));
    turned.gouge = within(wanted.least.intersection(&set_up.stock).difference(&turned.after));
    turned.left_over = amount(&turned.remainder, &wanted.most);
    turned.gouged = amount(&turned.gouge, &wanted.least);
    if turned.left_over.deepest > wanted.left {
        let high = turned.left_over.deepest;
        let place = turned
            .left_over
            .at
            .map_or(String::new(), |at| format!(" at Z {} and radius {}", mm(at.x), mm(at.y)));
        faults.push(
            Fault::new(
                Wrong::Remainder,
                end,
                format!(
                    "{} mm² of metal is left on what is wanted, up to {} mm high{place}",
                    figure(turned.left_over.area, 3),
                    mm(high)
                ),
            )
            .by(high)
            .cure("cut it, or allow it"),
        );
    }
    if turned.gouged.deepest <= wanted.gouge {
        return;
    }
    for (rings, depth) in Against::of(&wanted.least).pieces(&turned.gouge) {
        if depth.deepest <= wanted.gouge {
            continue;
        }
        let Ok(piece) = Region::with_holes(&rings[0], &rings[1..]) else { continue };
        let spot = culprit(program, set_up, &piece).unwrap_or(end);
        let place =
            depth.at.map_or(String::new(), |at| format!(" at Z {} and radius {}", mm(at.x), mm(at.y)));
        faults.push(
            Fault::new(
                Wrong::Gouge,
                spot,
                format!(
                    "{} mm² of what is wanted is cut away, {} mm deep{place}",
                    figure(depth.area, 3),
                    mm(depth.deepest)
                ),
            )
            .by(depth.deepest)
            .cure("keep the tool off the wanted outline"),
        );
    }
}

/// The step that takes most of a gouge.
fn culprit(program: &Program, set_up: &SetUp, gouge: &Region) -> Option<Spot> {
    let edges = Edges::of(gouge);
    let mut tool = set_up.tools.get(&0);
    let mut worst: Option<(f64, Spot)> = None;
    for step in &program.steps {
        if let Does::Tool { number } = step.does {
            tool = set_up.tools.get(&number);
        }
        let Some(tool) = tool else { continue };
        let mut area = 0.0_f64;
        for pair in path(step, set_up.within).windows(2) {
            for piece in &tool.cutting {
                for ring in both_sides(piece.along(pair)) {
                    area = area.max(touched(&ring, gouge, &edges));
                }
            }
        }
        if area > 0.0 && worst.is_none_or(|(before, _)| area > before) {
            worst = Some((area, step.spot));
        }
    }
    worst.map(|(_, spot)| spot)
}
