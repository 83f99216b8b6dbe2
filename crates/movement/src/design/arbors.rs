//! Arbors: how thick, on which pivots, with how much play.

use super::model::Train;
use reckon::source::{HOUSE, Source};
use reckon::{Book, Diameter, Length, Trouble, Val, judge, work};

/// Rules of thumb for arbors and pivots.
pub static PIVOTS: Source = Source::practice(
    "pivots and play by place in the train: great 3 mm, then 2, 1; escape and pallets 0.8 mm; endshake 0.25, 0.2, 0.12 mm",
);

/// What an arbor is turned to.
#[derive(Clone, Debug)]
pub struct Stem {
    /// Between the pivots.
    pub diameter: Val<Diameter>,
    /// Pivots.
    pub pivot: Val<Diameter>,
    /// Holes of the pivots.
    pub hole: Val<Diameter>,
    /// Play between pivot and hole.
    pub play: Val<Length>,
    /// Play along the axis.
    pub endshake: Val<Length>,
}
/// Place in the train, for rules of thumb.
#[derive(Copy, Clone, PartialEq, Eq)]
enum Place {
    First,
    Second,
    Middle,
    Last,
}

/// Stems of all arbors of the train, in its order.
pub(super) fn stems(t: &Train, book: &mut Book, troubles: &mut Vec<Trouble>) -> Vec<Stem> {
    (0..t.arbors.len()).map(|i| stem(t, i, book, troubles)).collect()
}
fn place(t: &Train, i: usize) -> Place {
    if t.escape == Some(i) || t.pallets == Some(i) {
        return Place::Last;
    }
    let mut deep = 0;
    let mut at = i;
    while let Some(m) = t.arbors[at].driven {
        deep += 1;
        at = t.meshes[m].driver;
    }
    match (deep, t.first.is_some()) {
        (0, true) => Place::First,
        (1, true) => Place::Second,
        _ => Place::Middle,
    }
}
fn stem(t: &Train, i: usize, book: &mut Book, troubles: &mut Vec<Trouble>) -> Stem {
    let a = &t.arbors[i].facts;
    let slug = a.slug.clone();
    let here = place(t, i);
    let (thick, pivot, shake) = match here {
        Place::First => (6.0, 3.0, 0.25),
        Place::Second => (4.5, 2.0, 0.2),
        Place::Middle => (3.0, 1.0, 0.2),
        Place::Last => (2.5, 0.8, 0.12),
    };
    let root = t.arbors[i].driven.and_then(|m| t.meshes[m].sizes.as_ref()).map(|s| s.pinion.root);
    let diameter = a.diameter.unwrap_or_else(|| {
        let rule = book.assumed(
            format_args!("{slug}.diameter_by_rule"),
            Diameter::mm(thick),
            "house default by place in the train",
        );
        match root {
            // A pinion is cut in the arbor, whose metal must stay below its roots.
            Some(root) => {
                work!(book, format_args!("{slug}.diameter"), |rule, root| rule.min(root * 0.9), &HOUSE)
            }
            None => work!(book, format_args!("{slug}.diameter"), |rule| rule, &HOUSE),
        }
    });
    let doubted = t.arbors[i].driven.is_some_and(|m| t.doubted.contains(&m));
    if let (Some(root), false) = (root, doubted) {
        let verdict = judge!(
            book,
            format_args!("{slug}.diameter_under_roots"),
            format!("the arbor of '{}' is thinner than the roots of its pinion", a.name),
            |diameter, root| diameter <= root,
            &HOUSE
        );
        book.cure(verdict.id(), "a thinner arbor, or a pinion of more leaves or of a larger module");
    }
    let pivot = a.pivot.unwrap_or_else(|| {
        let rule = book.assumed(
            format_args!("{slug}.pivot_by_rule"),
            Diameter::mm(pivot),
            "house default by place in the train",
        );
        work!(book, format_args!("{slug}.pivot"), |rule, diameter| rule.min(diameter * 0.6), &PIVOTS)
    });
    if pivot.bare() >= diameter.bare() {
        troubles.push(
            Trouble::design(format!("the pivots of '{}' are no thinner than the arbor", a.name))
                .at(a.at.clone())
                .why("a pivot runs against its plate with a shoulder")
                .cure(format!("pivots under {}", diameter.shown())),
        );
    }
    let clearance = if here == Place::Last { 0.02 } else { 0.03 };
    let why = "pivots of the train run 0.02 to 0.04 mm free, those of the escapement 0.012 to 0.025: common practice";
    let play = book.assumed(format_args!("{slug}.pivot_play"), Length::mm(clearance), why);
    let hole = work!(book, format_args!("{slug}.pivot_hole"), |pivot, play| pivot + play, &PIVOTS);
    let pivot = super::as_made::pivot(&slug, &a.name, pivot, hole, play, book);
    let endshake = a.endshake.unwrap_or_else(|| {
        book.assumed(
            format_args!("{slug}.endshake"),
            Length::mm(shake),
            "house default by place in the train",
        )
    });
    Stem { diameter, pivot, hole, play, endshake }
}
