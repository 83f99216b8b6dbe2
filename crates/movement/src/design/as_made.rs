//! Sizes that must agree, when one of them is made: what is still free is computed from what is made, and where
//! nothing is free it is judged, with what could be done, cheapest first.
//!
//! All of it is silent as long as nothing is measured.

use super::layout::Layout;
use super::model::{Toothed, Train};
use ::escapement::as_made::{Corners, Made};
use kurbo::Vec2;
use reckon::source::{GEOMETRY, Source};
use reckon::{Angle, Book, Diameter, Length, Val, judge, work};
use record::facts::MovementFacts;

/// Teeth cut to full depth from a rim that was not as drawn.
pub static SITS: Source = Source::derived(
    "teeth cut to full depth from the rim sit nearer to the axis by half of what the rim is under size; the teeth \
     thin by less than a fiftieth of that",
);
/// Play of a pivot in its hole.
pub static SHAKE: Source =
    Source::practice("a pivot runs with half to one and a half times the play that is usual at its place");
/// Play along the axis.
pub static ENDSHAKE: Source =
    Source::practice("endshake may be off what is wanted by a quarter of it, either way");
/// An escapement as it is made.
pub static KEPT: Source = Source::practice("locks from half a degree, drops from half a degree, as made");

fn mm(x: f64) -> String {
    format!("{} mm", reckon::print::fixed(x * 1e3, 3))
}
/// How much nearer to its axis than drawn a wheel's teeth sit; none where nothing was measured of them.
pub(super) fn sits(slug: &str, wheel: &Toothed, book: &mut Book) -> Option<Val<Length>> {
    if book.knows(&format!("{slug}.root")) {
        let wanted = book.wanted(wheel.root.id())?;
        let by = (wanted - wheel.root.bare().value()) / 2.0;
        let how = ("half of what it is smaller at its roots than drawn", 1, 0.0);
        return Some(book.solved(
            format_args!("{slug}.teeth_sit"),
            Length::si(by),
            how,
            vec![wheel.root.id()],
            &SITS,
        ));
    }
    let name = format!("{slug}.teeth_sit");
    book.knows(&name).then(|| book.assumed(name, Length::ZERO, "as drawn, until the cut wheel is measured"))
}
/// Distance of centres for the teeth as they are.
pub(super) fn centres(
    slug: &str,
    drawn: Val<Length>,
    sits: Option<Val<Length>>,
    book: &mut Book,
) -> Val<Length> {
    let Some(sits) = sits else { return drawn };
    work!(book, format_args!("{slug}.centres_by_teeth.to_suit"), |drawn, sits| drawn - sits, &SITS)
}
/// The pivot that suits a hole as it is made, while the pivot is free; else how they agree.
pub(super) fn pivot(
    slug: &str,
    name: &str,
    pivot: Val<Diameter>,
    hole: Val<Diameter>,
    play: Val<Length>,
    book: &mut Book,
) -> Val<Diameter> {
    let (of_hole, of_pivot) =
        (book.knows(&format!("{slug}.pivot_hole")), book.knows(&format!("{slug}.pivot")));
    match (of_hole, of_pivot) {
        (true, false) => {
            work!(book, format_args!("{slug}.pivot.to_suit"), |hole, play| hole - play, &SHAKE)
        }
        (true, true) => {
            let shake = work!(
                book,
                format_args!("{slug}.meets.shake"),
                |hole, pivot| hole.across() - pivot.across(),
                &GEOMETRY
            );
            let verdict = judge!(
                book,
                format_args!("{slug}.meets.pivot"),
                format!("the pivots of '{name}' run free in their holes, and not too free"),
                |shake, play| shake >= play * 0.5 && shake <= play * 1.5,
                &SHAKE
            );
            if !verdict.bare() {
                let (p, h, s) = (pivot.bare().value(), hole.bare().value(), play.bare().value());
                if shake.bare() < play.bare() {
                    book.cure(verdict.id(), format!("broach the holes of both plates to ⌀{}", mm(p + s)));
                    book.cure(verdict.id(), format!("or burnish the pivots down to ⌀{}", mm(h - s)));
                } else {
                    book.cure(
                        verdict.id(),
                        format!("let it run with {} where it drives little, and write why: enter --concession {slug}.meets.pivot", mm(h - p)),
                    );
                    book.cure(
                        verdict.id(),
                        format!("bush the holes and broach the bushes to ⌀{}", mm(p + s)),
                    );
                    book.cure(verdict.id(), format!("turn new pivots of ⌀{} on a new arbor", mm(h - s)));
                }
            }
            pivot
        }
        _ => pivot,
    }
}
/// How an arbor stands between its plates, once its shoulders are turned.
pub(crate) fn endshake(
    slug: &str,
    name: &str,
    (from, to): (Val<Length>, Val<Length>),
    between: Val<Length>,
    wanted: Val<Length>,
    book: &mut Book,
) {
    if !book.knows(&format!("{slug}.between_shoulders")) {
        return;
    }
    let is = work!(
        book,
        format_args!("{slug}.meets.endshake"),
        |to, from, between| to - from - between,
        &GEOMETRY
    );
    let verdict = judge!(
        book,
        format_args!("{slug}.meets.plates"),
        format!("'{name}' has its endshake between the plates as they are"),
        |is, wanted| is >= wanted * 0.75 && is <= wanted * 1.25,
        &ENDSHAKE
    );
    if verdict.bare() {
        return;
    }
    let by = is.bare().value() - wanted.bare().value();
    if by < 0.0 {
        book.cure(verdict.id(), format!("turn {} off one of its shoulders", mm(-by)));
        book.cure(
            verdict.id(),
            format!("or sink the inside of the plate by {} around one pivot hole", mm(-by)),
        );
    } else {
        book.cure(
            verdict.id(),
            format!(
                "let it run with {}, and write why: enter --concession {slug}.meets.plates",
                mm(is.bare().value())
            ),
        );
        book.cure(verdict.id(), format!("a bush in one plate that stands {} proud of its inside", mm(by)));
        book.cure(
            verdict.id(),
            format!("face {} off all pillars, if every other arbor has so much to give", mm(by)),
        );
        book.cure(verdict.id(), "a new arbor".to_owned());
    }
}
/// What could be done about pairs that do not meet as they should, where a wheel was measured and nothing is free.
pub(super) fn pairs(t: &Train, l: &Layout, book: &mut Book) {
    for m in &t.meshes {
        let Some((s, driven)) = m.sizes.as_ref().zip(m.driven) else { continue };
        let (Some(sits), Some(laid)) = (s.sits, m.laid) else { continue };
        let (driver, other) = (&t.arbors[m.driver].facts, &t.arbors[driven].facts);
        let slug = &m.slug;
        let module = s.module;
        // Teeth that let go of each other have no range to run in: then the pitch circles tell how far it is.
        let set = s.contact.map_or(s.centres, |c| c.set);
        let (nearest, farthest) = s.contact.map_or((s.centres, s.centres), |c| c.runs);
        let off = work!(book, format_args!("{slug}.meets.off"), |laid, set| laid - set, &GEOMETRY);
        let room = work!(
            book,
            format_args!("{slug}.meets.room"),
            |laid, nearest, farthest| (laid - nearest).min(farthest - laid),
            &GEOMETRY
        );
        let verdict = judge!(
            book,
            format_args!("{slug}.meets.depth"),
            format!(
                "the wheel of '{}' as it is cut runs in its pinion, with a fiftieth of a module to spare",
                driver.name
            ),
            |room, module| room >= module * 0.02,
            &super::contact::DEPTH
        );
        if verdict.bare() {
            continue;
        }
        let shallow = laid.bare() > set.bare();
        let by = off.bare().value().abs();
        let (nearer, deeper) = if shallow { ("towards", "shallow") } else { ("away from", "deep") };
        let free =
            |i: usize| l.stands[i].is_some() && !book.knows(&format!("{}.at.x", t.arbors[i].facts.slug));
        let mut ladder = Vec::new();
        if free(driven) || free(m.driver) {
            let which = if free(driven) { other } else { driver };
            ladder.push(format!(
                "the hole of '{}' is not drilled: move it by {} {nearer} the other",
                which.name,
                mm(by)
            ));
        } else {
            ladder.push(format!(
                "bush the holes of '{}' in both plates off centre: new holes {} {nearer} those of '{}'",
                other.name,
                mm(by),
                driver.name
            ));
            ladder.push(format!(
                "or the holes of '{}' instead, where its other mesh has more to give",
                driver.name
            ));
        }
        if !shallow {
            ladder.push(format!(
                "or cut the wheel {} deeper, before it is crossed out: its form stays, its tips are cropped",
                mm(by)
            ));
        }
        ladder.push(format!(
            "or make the wheel anew (it runs {} too {deeper} now, teeth sit {} in)",
            mm(by),
            mm(sits.bare().value())
        ));
        for c in ladder {
            book.cure(verdict.id(), c);
        }
    }
}
/// An escapement whose pallets or wheel were measured: locks and drops as they are, and what they want.
pub(super) fn escapement(t: &Train, l: &Layout, facts: &MovementFacts, book: &mut Book) {
    let names = ["e1", "e2", "x1", "x2"].map(|c| ["x", "y"].map(|a| format!("escapement.corner.{c}.{a}")));
    let measured = names.iter().flatten().any(|n| book.knows(n)) || book.knows("escapement.wheel_diameter");
    let (Some(e), true) = (&facts.escapement, measured) else { return };
    let mut inputs = vec![e.wheel_diameter.id()];
    let mut of = Vec::new();
    for [x, y] in &names {
        let mut take = |n: &String| {
            let (id, line) = book.find(n)?;
            inputs.push(id);
            line.si.map(|v| v * 1e3)
        };
        let (Some(x), Some(y)) = (take(x), take(y)) else { return };
        of.push(Vec2::new(x, y));
    }
    let &[e1, e2, x1, x2] = of.as_slice() else { return };
    let (Some(p), Some(w)) = (t.pallets.and_then(|i| l.stands[i]), t.escape.and_then(|i| l.stands[i])) else {
        return;
    };
    let centres = reckon::maths::hypot(
        p.x.bare().in_mm() - w.x.bare().in_mm(),
        p.y.bare().in_mm() - w.y.bare().in_mm(),
    );
    inputs.extend([p.x.id(), p.y.id(), w.x.id(), w.y.id()]);
    let Some((tip, _)) = book.find("escapement.tip_width").and_then(|(id, l)| Some((l.si?, id))) else {
        return;
    };
    let made = Made {
        teeth: u32::try_from(e.teeth.bare().0).unwrap_or(0),
        radius: e.wheel_diameter.bare().in_mm() / 2.0,
        centres,
        tip,
        corners: Corners { e1, e2, x1, x2 },
    };
    let Ok(is) = made.evaluated() else { return };
    let how = "corners as they are, taken onto the circle of the tips";
    let put = |name: &str, v: f64, book: &mut Book| {
        book.solved(
            format_args!("escapement.meets.{name}"),
            Angle::si(v),
            (how, 1, 0.0),
            inputs.clone(),
            &::escapement::as_made::AS_MADE,
        )
    };
    let lock_in = put("lock_entry", is.lock_entry, book);
    let lock_out = put("lock_exit", is.lock_exit, book);
    let drop_out = put("drop_out", is.drop_out, book);
    let drop_in = put("drop_in", is.drop_in, book);
    put("lift_entry", is.lift_entry, book);
    put("lift_exit", is.lift_exit, book);
    let locks = judge!(
        book,
        "escapement.meets.locks",
        "both pallets lock as they are made, by half a degree or more".to_owned(),
        |lock_in, lock_out| lock_in.in_deg() >= 0.5 && lock_out.in_deg() >= 0.5,
        &KEPT
    );
    let drops = judge!(
        book,
        "escapement.meets.drops",
        "both drops are half a degree or more, and alike to half a degree".to_owned(),
        |drop_in, drop_out| drop_in.in_deg() >= 0.5
            && drop_out.in_deg() >= 0.5
            && (drop_in - drop_out).abs().in_deg() <= 0.5,
        &KEPT
    );
    let free = t.pallets.is_some_and(|i| !book.knows(&format!("{}.at.x", t.arbors[i].facts.slug)));
    // The least lock wants the pallets nearer: how near, from what a hundredth of a millimetre does.
    let wanted = 0.5_f64.max(e_lock(book));
    let least = |c: f64| Made { centres: c, ..made }.evaluated().ok().map(|d| d.lock_entry.min(d.lock_exit));
    let slope = least(centres - 0.01).zip(least(centres)).map(|(a, b)| (a - b) / 0.01);
    let lacks = wanted * reckon::maths::PI / 180.0 - is.lock_entry.min(is.lock_exit);
    let nearer = slope.filter(|s| s.abs() > 1e-6).map(|s| lacks / s);
    if !locks.bare() {
        if let Some(by) = nearer {
            let what = if by > 0.0 { "nearer" } else { "farther" };
            book.cure(
                locks.id(),
                if free {
                    format!(
                        "the hole of the pallets is not drilled: {} {what}, so {} between centres",
                        mm(by.abs() / 1e3),
                        mm((centres - by) / 1e3)
                    )
                } else {
                    format!(
                        "bush the holes of the pallets off centre: {} {what} to the escape wheel",
                        mm(by.abs() / 1e3)
                    )
                },
            );
        }
        book.cure(
            locks.id(),
            "new pallets, or a new wheel: stoning a corner takes lock away and never gives any",
        );
    }
    if !drops.bare() {
        // Both corners of the exit pallet turned about the arbor, as bending the frame does; positive opens it.
        let bent = |a: f64| {
            let turn = |c: Vec2| Vec2::new(c.x - c.y * a, c.y + c.x * a);
            let corners = Corners { x1: turn(x1), x2: turn(x2), ..made.corners };
            Made { corners, ..made }.evaluated().ok().map(|d| d.drop_out - d.drop_in)
        };
        let slope = bent(1e-3).zip(bent(0.0)).map(|(a, b)| (a - b) / 1e-3);
        if let Some(slope) = slope.filter(|s| s.abs() > 1e-6) {
            let by = -(is.drop_out - is.drop_in) / slope * x1.hypot();
            let what = if by > 0.0 { "open" } else { "close" };
            book.cure(
                drops.id(),
                format!("{what} the pallets by {} at the exit nib, soft: both drops are alike then; measure the locks again", mm(by.abs() / 1e3)),
            );
        }
        book.cure(drops.id(), "new pallets");
    }
}
/// The lock that was wanted, degrees.
fn e_lock(book: &Book) -> f64 {
    book.find("escapement.lock").and_then(|(_, l)| l.si).map_or(0.7, |v| v * 180.0 / reckon::maths::PI)
}
