//! Whether the pendulum fits its case, clears the weight, and is let alone by it.

use super::{Hung, PendulumDesign, SuspensionDesign};
use crate::design::PendulumDesign as Design;
use ::pendulum::sway::{self, Lines, NEAR, Weight};
use reckon::source::{HOUSE, Source};
use reckon::{Angle, Book, Id, Length, Ratio, Time, Trouble, Val, judge, work};
use record::facts::{BobForm, MovementFacts};

/// Room between weight and bob.
pub static CLEAR: Source =
    Source::practice("weight and bob pass each other at 15 mm or more, and the bob clears its case by 10 mm");

/// Room in the case.
pub(super) fn fits(
    facts: &MovementFacts,
    hung: &Hung,
    arc: Val<Angle>,
    suspension: Option<&SuspensionDesign>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) {
    let (Some(case), Some(p)) = (&facts.case, &facts.pendulum) else { return };
    let (end, middle) = (hung.end, hung.middle);
    if let Some(height) = case.height {
        let spare = book.assumed(
            "pendulum.case_spare",
            Length::mm(10.0),
            "house default: room under the pendulum's lowest point",
        );
        let axis = suspension.map_or_else(
            || book.assumed("pendulum.axis_place", Length::ZERO, "no strip is written: a plain axis"),
            |s| s.pivot,
        );
        let needs = work!(book, "pendulum.case_needed", |end, axis, spare| end - axis + spare, &HOUSE);
        if height.bare() < needs.bare() {
            let short = needs.bare() - height.bare();
            troubles.push(
                Trouble::design("the pendulum is longer than its case")
                    .at(case.height_at.clone())
                    .at(p.at.clone())
                    .why(format!(
                        "it reaches {} below its axis with room to spare, the case {}",
                        needs.shown(),
                        height.shown()
                    ))
                    .cure(format!("a case {} taller", reckon::Shown::shown(&short)))
                    .cure("a quicker beat, and with it a shorter pendulum")
                    .cure("a smaller bob, or one that is held at its middle"),
            );
        }
    }
    let diameter = p.bob.diameter;
    if let Some(width) = case.width {
        let swing = work!(
            book,
            "pendulum.swings_over",
            |middle, arc, diameter| middle * (arc.sin() * 2.0) + diameter.across(),
            &CLEAR
        );
        let room = judge!(
            book,
            "pendulum.clears_case",
            "the bob swings in the width of its case with 10 mm on each side",
            |swing, width| swing + Length::mm(20.0) <= width,
            &CLEAR
        );
        if !room.bare() {
            let least = swing.bare() + Length::mm(20.0);
            book.cure(room.id(), format!("a case {} wide, or a narrower bob", reckon::Shown::shown(&least)));
        }
    }
    let weight = facts.drive.as_ref().and_then(|d| d.weight.as_ref());
    let (Some(weight), Some(front)) = (weight, case.weight_in_front) else { return };
    let Some(body) = &weight.body else { return };
    let outside = body.outside;
    let thick = match p.bob.form {
        BobForm::Cylinder => work!(book, "pendulum.bob.depth", |diameter| diameter.across(), &HOUSE),
        _ => p.bob.height,
    };
    let gap = work!(
        book,
        "pendulum.weight_gap",
        |front, outside, thick| front - outside.across() / 2.0 - thick / 2.0,
        &CLEAR
    );
    let passes = judge!(
        book,
        "pendulum.weight_clears_bob",
        "the weight goes down past the bob at 15 mm or more",
        |gap| gap >= Length::mm(15.0),
        &CLEAR
    );
    if !passes.bare() {
        let more = Length::mm(15.0) - gap.bare();
        book.cure(
            passes.id(),
            format!(
                "bring the weight {} further forward, or take it to the side, or make it thinner",
                reckon::Shown::shown(&more)
            ),
        );
    }
}

/// When in its run a hanging weight swings in step with the pendulum.
#[derive(Clone, Debug)]
pub struct Sway {
    /// Time from winding.
    pub at: Option<Val<Time>>,
    /// Lines for the sheet.
    pub told: Vec<(&'static str, Id)>,
}
/// How the weight hangs while it runs.
#[derive(Copy, Clone)]
pub(in crate::design) struct Hangs {
    /// Fall of the weight in the run.
    pub(in crate::design) fall: Val<Length>,
    /// Time of the run.
    pub(in crate::design) run: Val<Time>,
}
/// Follows the weight through its run.
pub(in crate::design) fn sway(
    facts: &MovementFacts,
    pendulum: &Design,
    hangs: Hangs,
    book: &mut Book,
) -> Option<Sway> {
    let w = facts.drive.as_ref()?.weight.as_ref()?;
    let body = w.body.as_ref()?;
    let PendulumDesign { length, .. } = pendulum;
    let (fall, run, height, outside, drum) = (hangs.fall, hangs.run, body.height, body.outside, w.drum);
    let start = book.assumed(
        "drive.sway.line_when_wound",
        Length::mm(60.0),
        "house default: hook or pulley below the drum when fully wound",
    );
    let hook = if w.falls.bare().0 > 1 { w.pulley.bare().value() / 2.0 } else { 0.0 };
    let weight = Weight::cylinder(outside.bare().across().value(), height.bare().value(), hook);
    let lines = if w.falls.bare().0 > 1 {
        // The pulley hangs in lines as far apart as the drum is wide.
        Lines { apart: drum.bare().across().value(), pulley: drum.bare().across().value() }
    } else {
        Lines { apart: 0.0, pulley: 0.0 }
    };
    let band = 0.03;
    let ends = (start.bare().value(), start.bare().value() + fall.bare().value());
    let pass = sway::pass(weight, lines, length.bare().value(), ends, run.bare().value(), band);
    let ids = || vec![fall.id(), run.id(), height.id(), outside.id(), start.id(), length.id()];
    let how = || ("line and body followed through the run", 60, 0.0);
    let nearest = book.solved("drive.sway.nearest", Ratio::si(pass.nearest), how(), ids(), &sway::SWAY);
    let mut told = Vec::new();
    let at = pass.at.map(|t| book.solved("drive.sway.at", Time::si(t), how(), ids(), &sway::SWAY));
    told.extend(at.map(|a| ("the weight swings in step after", a.id())));
    if let Some((from, to)) = pass.band {
        let from = book.solved("drive.sway.from", Time::si(from), how(), ids(), &sway::SWAY);
        let to = book.solved("drive.sway.to", Time::si(to), how(), ids(), &sway::SWAY);
        told.extend([("near step from", from.id()), ("to", to.id())]);
    }
    let alone = judge!(
        book,
        "drive.sway.lets_alone",
        "the hanging weight never swings in step with the pendulum",
        |nearest| nearest > Ratio::si(0.03),
        &NEAR
    );
    if !alone.bare() {
        let day = at.map_or_else(String::new, |a| format!(" (about {} after winding)", a.shown()));
        book.cure(
            alone.id(),
            format!("watch the arc on those days{day}; a guide or a stiff back board beside the weight, or a firmer fixing of the pendulum, keeps the two apart"),
        );
    }
    Some(Sway { at, told })
}
