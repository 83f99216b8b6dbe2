//! Sizes that must agree, when one of them is made: what is still free is computed from what is made, and where
//! nothing is free it is judged, with what could be done, cheapest first.
//!
//! All of it is silent as long as nothing is measured.

use super::layout::Layout;
use super::model::{Toothed, Train};
use reckon::source::{GEOMETRY, Source};
use reckon::{Book, Diameter, Length, Val, judge, work};

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

pub(super) fn mm(x: f64) -> String {
    format!("{} mm", reckon::print::fixed(x * 1e3, 3))
}
/// How much nearer to their axes than drawn the teeth of a pair sit; none where nothing was measured of them.
pub(super) fn sits(slug: &str, pinion_slug: &str, wheel: &Toothed, book: &mut Book) -> Option<Val<Length>> {
    let of_wheel = if book.knows(&format!("{slug}.root")) {
        let wanted = book.wanted(wheel.root.id())?;
        let by = (wanted - wheel.root.bare().value()) / 2.0;
        let how = ("half of what it is smaller at its roots than drawn", 1, 0.0);
        Some(book.solved(format_args!("{slug}.teeth_sit"), Length::si(by), how, vec![wheel.root.id()], &SITS))
    } else {
        cut(slug, book)
    };
    match (of_wheel, cut(pinion_slug, book)) {
        (Some(wheel), Some(pinion)) => {
            Some(work!(book, format_args!("{slug}.both_sit"), |wheel, pinion| wheel + pinion, &SITS))
        }
        (wheel, pinion) => wheel.or(pinion),
    }
}
/// How much nearer the teeth of one of a pair sit, as it was measured.
fn cut(slug: &str, book: &mut Book) -> Option<Val<Length>> {
    let name = format!("{slug}.teeth_sit");
    book.knows(&name).then(|| book.assumed(name, Length::ZERO, "as drawn, until the cut teeth are measured"))
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
