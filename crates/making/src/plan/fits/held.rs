//! What would hold work that nothing on the lathe grips.

use super::NOT_ENOUGH;
use crate::plan::bench::Bench;
use reckon::{Diameter, Shown, Val};
use record::facts::HoldKind;

/// Cures of the verdict that nothing grips it, each with what is short.
pub fn cures(b: &mut Bench<'_>, held: &Val<bool>, size: Diameter, flat: bool) {
    let lathe = b.lathe;
    let chucks = lathe.holdings.iter().filter_map(|h| match &h.kind {
        HoldKind::Chuck { grips, .. } => Some((h.name.as_str(), grips.1)),
        _ => None,
    });
    let largest = chucks.reduce(|a, c| if c.1.bare() > a.1.bare() { c } else { a });
    if let Some((name, most)) = largest
        && size > most.bare()
    {
        b.book.cure(
            held.id(),
            format!(
                "reverse the jaws of the {name}: as they are they go to {} and are short by {}; reversed they go farther, so measure how far and write it as a hold of its own",
                most.shown(),
                (size.across() - most.bare().across()).shown()
            ),
        );
    }
    let swing = lathe.swing_over_slide;
    if size <= swing.bare() {
        b.book.cure(
            held.id(),
            format!(
                "a faceplate with clamps: it swings there, {} of {} over the slide",
                size.shown(),
                swing.shown()
            ),
        );
    } else {
        b.book.cure(
            held.id(),
            format!(
                "on a larger lathe: it does not swing over the slide, {} of {}",
                size.shown(),
                swing.shown()
            ),
        );
    }
    let bored = b.body.holes.iter().find(|h| h.depth.is_none() && h.thread.is_none() && !h.sink);
    if let Some(hole) = bored
        && b.body.length.bare() <= lathe.between_centres.bare()
    {
        b.book.cure(
            held.id(),
            format!(
                "once it is bored: outside and ends on a mandrel of {} between centres ({} of {})",
                hole.size.nominal.shown(),
                b.body.length.shown(),
                lathe.between_centres.shown()
            ),
        );
    }
    if flat {
        b.book.cure(held.id(), format!("a wax chuck that takes {}", size.shown()));
    } else {
        let steady = lathe.holdings.iter().find_map(|h| match &h.kind {
            HoldKind::Steady { grips } => Some((h.name.as_str(), grips.1)),
            _ => None,
        });
        if let Some((name, most)) = steady.filter(|(_, most)| size > most.bare()) {
            b.book.cure(
                held.id(),
                format!(
                    "{NOT_ENOUGH}: the {name}, whose fingers go to {} and are short by {}",
                    most.shown(),
                    (size.across() - most.bare().across()).shown()
                ),
            );
        }
        b.book.cure(held.id(), "have it turned elsewhere");
    }
}
