//! The outside of a turned part: steps from the largest down, waists, tapers, curves, knurls, threads.

use super::bench::Bench;
use super::grip::GripPlan;
use super::turned::{equivalent, largest_step};
use super::{Caution, Figure, Operation, Spread, cuts, stock, thread};
use crate::kernel::speed::Kind;
use crate::nc::lathe::OnLathe;
use crate::nc::lathe::stage::Groove;
use movement::part::Step;
use reckon::source::GEOMETRY;
use reckon::{Diameter, Length, Ratio, Val, work};
use shape::turned::End;

/// The outside up to the largest step: largest first, then down towards the free end; undercuts and threads last.
pub fn outside(
    b: &mut Bench<'_>,
    bar: &stock::BarFacts,
    last: usize,
    grip: &GripPlan,
    ahead: Val<Length>,
) -> Vec<Operation> {
    let steps = b.body.steps.clone();
    let mut out = Vec::new();
    let mut stands = bar.size;
    // What really stands there: a size is turned to the middle of its limits.
    let mut true_size = bar.size.bare();
    for i in (0..=last).rev() {
        let step = &steps[i];
        let at = format!("setup1.step{}", i + 1);
        if i == last && bar.as_bar {
            stands = step.size.nominal;
            continue;
        }
        let (to, facing, kerf) = (step.to, bar.facing, bar.kerf);
        let length = if i == last {
            work!(b.book, b.name(&format!("{at}.length")), |to, facing, kerf| to + facing + kerf, &GEOMETRY)
        } else {
            work!(b.book, b.name(&format!("{at}.length")), |to| to, &GEOMETRY)
        };
        if step.end.is_some() {
            // A taper or curve is first a cylinder of its larger end.
            let rough = rough_of(b, &at, step);
            if rough.size.nominal < stands {
                out.push(cuts::turn(b, &at, &rough, stands, length, grip).operation);
                stands = rough.size.nominal;
                true_size = middle(&rough);
            }
            continue;
        }
        // A blank of a thread under a shank of the same nominal size is smaller by its limits, and has to be turned.
        if step.undercut || middle(step) >= true_size - Length::mm(0.005) {
            continue;
        }
        // A waist is smaller than what stands nearer the free end: it is turned between shoulders, later.
        if is_waist(&steps, i) {
            continue;
        }
        let done = cuts::turn(b, &at, step, stands, length, grip);
        out.push(done.operation);
        stands = step.size.nominal;
        true_size = middle(step);
    }
    for i in 0..=last {
        let step = &steps[i];
        let at = format!("setup1.step{}", i + 1);
        if step.undercut || is_waist(&steps, i) {
            out.push(between_shoulders(b, &at, step));
        } else if step.end.is_some() {
            out.push(shaped(b, &at, step));
        }
    }
    out.extend(ends_of(b, &steps[..=last], "setup1", End::Datum, grip, (ahead, bar.size.bare())));
    out
}
/// Half-way between the limits of a step.
fn middle(step: &Step) -> Diameter {
    step.size.nominal.bare() + (step.size.upper.bare() + step.size.lower.bare()) / 2.0
}
/// The cylinder that a taper or curve is shaped from: as large as it is anywhere.
fn rough_of(b: &mut Bench<'_>, at: &str, step: &Step) -> Step {
    let (from, to) = (step.from.bare().in_mm(), step.to.bare().in_mm());
    let places = (0..=200).map(|k| from + (to - from) * (0.0005 + 0.999 * f64::from(k) / 200.0));
    let most = places.map(|z| b.body.solid.radius_at(z)).fold(0.0, f64::max) * 2.0;
    let mut inputs = vec![step.from.id(), step.to.id(), step.size.nominal.id()];
    inputs.extend(step.end.map(|e| e.id()));
    let nominal = b.book.solved(
        b.name(&format!("{at}.cylinder")),
        Diameter::mm(reckon::print::fixed(most, 3).parse().unwrap_or(most)),
        ("largest diameter over the step, looked for at 200 places", 1, 0.0),
        inputs,
        &GEOMETRY,
    );
    let size = record::facts::Size { nominal, ..step.size };
    Step { what: format!("{}, first as a cylinder", step.what), size, end: None, ..step.clone() }
}
/// Smaller than a neighbour on each side.
pub fn is_waist(steps: &[Step], i: usize) -> bool {
    let d = |k: usize| steps[k].size.nominal.bare();
    let before = (0..i).any(|k| d(k) > d(i) + Length::mm(1e-9));
    let after = (i + 1..steps.len()).any(|k| d(k) > d(i) + Length::mm(1e-9));
    before && after
}
/// Chamfers, knurls and threads on steps.
pub fn ends_of(
    b: &mut Bench<'_>,
    steps: &[Step],
    setup: &str,
    end: End,
    grip: &GripPlan,
    (ahead, bar): (Val<Length>, Diameter),
) -> Vec<Operation> {
    let mut out = Vec::new();
    for (i, step) in steps.iter().enumerate() {
        let at = format!("{setup}.step{}", i + 1);
        // A knurl is pressed at the set-up that its step is turned at.
        let here = (i <= largest_step(&b.body.steps)) == (end == End::Datum);
        if let Some(pitch) = step.knurl.as_ref().filter(|_| here) {
            out.push(knurl(b, &at, step, *pitch));
        }
        let Some(t) = &step.thread else { continue };
        if t.end != end {
            continue;
        }
        out.push(chamfer(b, &at, step));
        let bends =
            equivalent(b, &format!("{at}.thread.bends_like"), ahead, bar, Some((i, t.of.thread.root())));
        out.extend(thread::outside(b, &format!("{at}.thread"), step, t, grip, (ahead, bends)));
    }
    out
}
fn chamfer(b: &mut Bench<'_>, at: &str, step: &Step) -> Operation {
    let d = step.size.nominal;
    let at = format!("{at}.chamfer");
    let speed = b.spindle(&at, Kind::Broad, false, d);
    let root = step.thread.as_ref().map(|t| {
        b.book.tabled(
            b.name(&format!("{at}.to")),
            t.of.thread.root(),
            t.of.thread.name.clone(),
            t.of.thread.source,
        )
    });
    let mut figures = Vec::new();
    if let Some(root) = &root {
        figures.push(Figure::of("down to below", root));
    }
    Operation {
        title: "Chamfer the end".to_owned(),
        program: Some(OnLathe::Chamfer { from: step.from.bare().in_mm() }),
        lines: vec!["At 45°, to below the root of the thread, so that it starts clean.".to_owned()],
        tool: Some("chamfering tool, 45°".to_owned()),
        speed: Some(speed),
        figures,
        cautions: vec![Caution::Turning],
        time: Spread::around(0.8),
        does: vec!["form"],
        ..Operation::default()
    }
}
fn knurl(b: &mut Bench<'_>, at: &str, step: &Step, pitch: Val<Length>) -> Operation {
    let d = step.size.nominal;
    let at = format!("{at}.knurl");
    // The wheel has to come round to its own marks: a whole number of ridges.
    let ridges = work!(
        b.book,
        b.name(&format!("{at}.ridges")),
        |d, pitch| Ratio::si((d.around() / pitch).value().round()),
        &GEOMETRY
    );
    let track = work!(
        b.book,
        b.name(&format!("{at}.track")),
        |ridges, pitch| Diameter::si((pitch * ridges).value() / reckon::maths::PI),
        &GEOMETRY
    );
    let speed = b.spindle(&at, Kind::Threading, false, d);
    Operation {
        title: format!("Knurl {}", cuts::the(&step.what)),
        lines: vec![
            "Press in firmly at the start so that the ridges count out whole; oil; one pass along and back."
                .to_owned(),
        ],
        tool: Some("knurling tool".to_owned()),
        speed: Some(speed),
        figures: vec![Figure::of("pitch", &pitch), Figure::of("tracks best on", &track)],
        cautions: vec![Caution::Turning],
        time: Spread::around(3.0),
        ..Operation::default()
    }
}
/// A groove between two shoulders.
pub fn between_shoulders(b: &mut Bench<'_>, at: &str, step: &Step) -> Operation {
    let d = step.size.nominal;
    let at = format!("{at}.between");
    let (from, to) = (step.from, step.to);
    let width = work!(b.book, b.name(&format!("{at}.width")), |to, from| to - from, &GEOMETRY);
    let speed = b.spindle(&at, Kind::Broad, false, d);
    Operation {
        title: format!("Turn {}", cuts::the(&step.what)),
        lines: vec![
            "Square-ended tool narrower than the groove; plunge at both ends, then clean between.".to_owned(),
        ],
        tool: Some("narrow square-ended tool".to_owned()),
        program: Some(OnLathe::Groove(Groove {
            span: (from.bare().in_mm(), to.bare().in_mm()),
            radius: d.bare().in_mm() / 2.0,
        })),
        speed: Some(speed),
        feed: Some(b.fine_feed),
        figures: vec![
            Figure::of("turn to", &d),
            Figure::of("width", &width),
            Figure::of("from the free end", &to),
        ],
        checks: vec![cuts::check(&step.what, &step.size)],
        cautions: vec![Caution::Turning],
        time: Spread::around(3.0),
        ..Operation::default()
    }
}
/// A taper by the top slide, or a curve by graver and template.
pub fn shaped(b: &mut Bench<'_>, at: &str, step: &Step) -> Operation {
    let at = format!("{at}.shaped");
    let begins = step.size.nominal;
    let ends = step.end.unwrap_or(begins);
    let (from, to) = (step.from, step.to);
    let length = work!(b.book, b.name(&format!("{at}.length")), |to, from| to - from, &GEOMETRY);
    let larger = if ends > begins { ends } else { begins };
    let speed = b.spindle(&at, Kind::Broad, false, larger);
    let mut figures =
        vec![Figure::of("begins at", &begins), Figure::of("ends at", &ends), Figure::of("over", &length)];
    let (lines, tool) = if step.curved {
        (
            vec![
                "Rough in steps, then blend with a hand graver to the full-size template of the last pages."
                    .to_owned(),
            ],
            "hand graver and rest".to_owned(),
        )
    } else {
        let angle = work!(
            b.book,
            b.name(&format!("{at}.slide_angle")),
            |begins, ends, length| reckon::Angle::si(reckon::maths::atan(
                ((ends - begins).abs() / 2.0 / length).value()
            )),
            &GEOMETRY
        );
        figures.insert(0, Figure::of("top slide over by", &angle));
        (
            vec![
                "Set the top slide by the angle and prove it with an indicator before the last cut."
                    .to_owned(),
            ],
            cuts::tool(b),
        )
    };
    Operation {
        title: format!("Shape {}", cuts::the(&step.what)),
        lines,
        tool: Some(tool),
        speed: Some(speed),
        program: Some(OnLathe::Shape),
        figures,
        cautions: vec![if step.curved { Caution::Filing } else { Caution::Turning }],
        time: Spread::around(8.0),
        does: vec!["form"],
        ..Operation::default()
    }
}
