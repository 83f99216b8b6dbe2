//! What a machine does not turn, reach or run at: by how much, and which other machine or way would do.

use super::NOT_ENOUGH;
use super::{Lever, weigh};
use reckon::source::GEOMETRY;
use reckon::{AngularSpeed, Book, Diameter, Length, Shown, Source, Val, judge, work};
use record::facts::{Lathe, Shop};

/// Faster than wanted.
pub static FASTER: Source = Source::practice(
    "speeds to start from leave a quarter in hand; beyond that an edge of high-speed steel burns, twice as fast one of carbide",
);
/// Coarser than wanted.
pub static RIDGES: Source =
    Source::derived("ridges that a round nose leaves at a feed").with_formula("R = f² / (8 r)");

/// Work that does not swing over the cross slide of its lathe: the verdict's cures, weighed.
pub fn swing(shop: &Shop, lathe: &Lathe, name: &str, verdict: &Val<bool>, d: Val<Diameter>, book: &mut Book) {
    if verdict.bare() {
        return;
    }
    let need = work!(book, format!("{name}.across"), |d| d.across(), &GEOMETRY);
    let mut levers = Vec::new();
    let mut lever = |what: String, tail: String, room: Val<Diameter>| {
        let room = work!(book, format!("{name}.{tail}"), |room| room.across(), &GEOMETRY);
        levers.push(Lever { what, need, room });
    };
    for other in shop.lathes.iter().filter(|l| l.slug != lathe.slug) {
        let what = format!("over the cross slide of the {}", other.name);
        lever(what, format!("{}.over_slide", other.slug), other.swing_over_slide);
    }
    for any in &shop.lathes {
        let what = format!("over the bed of the {}, with a hand rest and graver", any.name);
        lever(what, format!("{}.over_bed", any.slug), any.swing);
    }
    let over = d.bare() - lathe.swing_over_slide.bare();
    let smaller = format!("smaller by {}, or a larger lathe", over.shown());
    weigh(book, format!("{name}.way"), Some(verdict), &levers, ("turned elsewhere", &smaller));
}
/// Holes that are out of a table's reach in one setting: the verdict's cures, weighed.
pub fn travel(
    shop: &Shop,
    name: &str,
    verdict: &Val<bool>,
    (wide, high): (Val<Length>, Val<Length>),
    book: &mut Book,
) {
    if verdict.bare() {
        return;
    }
    let mut levers = Vec::new();
    for (i, mill) in shop.mills.iter().enumerate() {
        let [x, y, _] = mill.travel;
        let (w, h, along, across) = (wide.bare(), high.bare(), x.bare(), y.bare());
        // The way round that is short by less, and of that the axis that is short by more.
        let (upright, lying) = ((w - along).max(h - across), (h - along).max(w - across));
        let (long, short) = if upright <= lying { (wide, high) } else { (high, wide) };
        let (need, room) = if long.bare() - along >= short.bare() - across { (long, x) } else { (short, y) };
        let what = if i == 0 {
            format!("on the {} in one setting", mill.name)
        } else {
            format!("on the {}", mill.name)
        };
        levers.push(Lever { what, need, room });
    }
    let otherwise = (
        "in two settings",
        "moved on the table, and picked up again from pins in two of the holes that are drilled",
    );
    weigh(book, format!("{name}.way"), Some(verdict), &levers, otherwise);
    book.cure(verdict.id(), "centres pricked through the template, and drilled by hand");
}
/// A cut that the slowest speed of a machine is too fast for: the verdict, with what would do. Nothing is written where
/// it is slow enough.
pub fn too_fast(
    shop: &Shop,
    (name, machine): (&str, &str),
    wanted: Val<AngularSpeed>,
    set: Val<AngularSpeed>,
    book: &mut Book,
) {
    if set.bare() <= wanted.bare() * 1.25 {
        return;
    }
    let verdict = judge!(
        book,
        format!("{name}.slow_enough"),
        format!("the {machine} turns as slowly as this cut wants, or no more than a quarter faster"),
        |wanted, set| set <= wanted * 1.25,
        &FASTER
    );
    let times = set.bare() / wanted.bare();
    let mut others: Vec<(&str, AngularSpeed)> = Vec::new();
    others.extend(shop.lathes.iter().filter_map(|l| Some((l.name.as_str(), l.speeds.first()?.bare()))));
    others.extend(shop.mills.iter().filter_map(|m| Some((m.name.as_str(), m.speeds.first()?.bare()))));
    for (other, slowest) in others.into_iter().filter(|(n, _)| *n != machine) {
        let enough = slowest <= wanted.bare() * 1.25;
        book.cure(
            verdict.id(),
            format!(
                "{}on the {other}, which goes down to {} ({} are wanted)",
                if enough { String::new() } else { format!("{NOT_ENOUGH}: ") },
                slowest.shown(),
                wanted.shown()
            ),
        );
    }
    let edge =
        format!("the edge would run {} times as fast as it should", reckon::print::fixed(times.value(), 1));
    if times.value() <= 2.5 {
        book.cure(verdict.id(), format!("a tool of carbide, which stands twice the speed: {edge}"));
    } else {
        book.cure(
            verdict.id(),
            format!("{NOT_ENOUGH}: a tool of carbide, which stands twice the speed: {edge}"),
        );
    }
    book.cure(
        verdict.id(),
        format!("the spindle turned by hand, or slowed to {} by a countershaft", wanted.shown()),
    );
}
/// The finest feed of a lathe where it is coarser than is wanted: the verdict, once for the lathe.
pub fn too_coarse(lathe: &Lathe, limit: Length, finest: Val<Length>, book: &mut Book) {
    let name = format!("{}.feeds.fine_enough", lathe.slug);
    if finest.bare() <= limit || book.find(&name).is_some() {
        return;
    }
    let wanted = book.assumed(
        format!("{}.feeds.wanted", lathe.slug),
        limit,
        "house default: feed for the last cuts of clock work",
    );
    let nose = book.assumed(
        format!("{}.feeds.nose", lathe.slug),
        Length::mm(0.2),
        "house default: nose of a small turning tool",
    );
    let ridges = |tail: &str, feed: Val<Length>, book: &mut Book| {
        work!(
            book,
            format!("{}.feeds.{tail}", lathe.slug),
            |feed, nose| Length::si(feed.value() * feed.value() / (8.0 * nose.value())),
            &RIDGES
        )
    };
    let (coarse, fine) = (ridges("ridges", finest, book), ridges("ridges_wanted", wanted, book));
    let verdict = judge!(
        book,
        name,
        format!("the {} feeds as finely as the last cuts want", lathe.name),
        |finest, wanted| finest <= wanted,
        &RIDGES
    );
    book.cure(
        verdict.id(),
        format!(
            "fed by hand, about {} a turn: its finest leaves ridges of {}, that one {}",
            wanted.shown(),
            coarse.shown(),
            fine.shown()
        ),
    );
    let round =
        finest.bare().value() * finest.bare().value() / (wanted.bare().value() * wanted.bare().value());
    book.cure(
        verdict.id(),
        format!(
            "a nose of {}: with it the feed of {} leaves ridges no higher; on a slender part it pushes too hard",
            Length::mm(nose.bare().in_mm() * round).shown(),
            finest.shown()
        ),
    );
    book.cure(verdict.id(), "a pair of change wheels, or a pulley, that halves the feed");
}
