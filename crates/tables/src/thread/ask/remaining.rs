//! A thread measured while it is cut.

use super::shape::{positive, thread};
use crate::thread::remaining::{LAST_CUTS, LEFT, Read, SURE, Stands, believable, doubt_over_wires, left};
use crate::thread::{cut, limits, wires};
use reckon::ask::{Done, need, or};
use reckon::{Angle, Ask, Book, Cell, Diameter, Given, Length, Ratio, Source, Val, judge, work};

static LIFT: Source = Source::read("Machinery's Handbook 31, three-wire formula with the helix term");
static RATIO: Source = Source::derived("fall of the pitch diameter over twice the advance");

pub(super) const REMAINING: Ask = Ask {
    name: "thread.remaining",
    says: "what is left to cut after a reading, in which passes, how sure; and what to do when too much is gone",
    takes: &[
        need("thread", "a thread by name"),
        or("class", "", "tolerance class; left out: the usual one"),
        or("over", "", "reading over three wires"),
        or("wire", "", "wire diameter as measured; left out: the best wire"),
        or("by_micrometer", "", "reading of a thread micrometer, in place of 'over'"),
        or("doubt", "0.004 mm", "by how much the reading may be off"),
        or("wire_doubt", "0.001 mm", "by how much the wires may be off"),
        or("before", "", "pitch diameter before the last advance"),
        or("advance", "", "that advance, radial"),
        or("bites", "0.015 mm", "thinnest cut that bites"),
        or("deepest", "0.04 mm", "deepest cut of the last passes"),
    ],
    gives: &[
        "now",
        "now_doubt",
        "target",
        "spare",
        "stands",
        "ratio",
        "left",
        "left_doubt",
        "passes",
        "within_reach",
    ],
    example: "thread=M3 over='3.16 mm' wire='0.2887 mm'",
    run: remaining,
};
fn remaining(g: &Given<'_>, book: &mut Book) -> Done {
    let t = thread(g)?;
    let class = g.word_if("class").unwrap_or_default();
    let l = limits::limits(book, "", &t, class.trim())?;
    let (doubt, wire_doubt) = (positive(g, book, "doubt")?, positive(g, book, "wire_doubt")?);
    let a = book.tabled("half_angle", t.form.half_angle, t.form.name, t.source);
    let pitch = book.tabled("thread_pitch", t.pitch, t.name.clone(), t.source);
    let (now, now_doubt) = reading(g, book, (a, pitch), (doubt, wire_doubt))?;
    let (most, least) = (l.pitch_max, l.pitch_min);
    let target = work!(book, "target", |most, least| cut::aim(most, least), &LAST_CUTS);
    let spare = work!(book, "spare", |now, least| now - least, &LEFT);
    let ratio = ratio(g, book, now)?;
    let (bites, deepest) = (positive(g, book, "bites")?, positive(g, book, "deepest")?);
    let found = left(&Read {
        now: now.bare(),
        doubt: now_doubt.bare(),
        most: most.bare(),
        least: least.bare(),
        ratio: ratio.bare(),
        bites: bites.bare(),
        deepest: deepest.bare(),
    });
    let inputs = vec![now.id(), now_doubt.id(), most.id(), least.id(), ratio.id(), bites.id()];
    let how = ("held against both limits and the doubt of the reading", 1, 0.0);
    book.solved("stands", found.stands.says().to_owned(), how, inputs.clone(), &LAST_CUTS);
    let how = ("half of what the pitch diameter lacks, over the ratio; no thinner than bites", 1, 0.0);
    book.solved("left", found.advance, how, inputs.clone(), &LEFT);
    book.solved("left_doubt", found.doubt, how, inputs, &SURE);
    let rows = found.passes.iter().map(|p| vec![Cell::of(p)]).collect();
    book.table("passes", &["advance"], rows, "measure again before the last", vec![target.id()], &LAST_CUTS);
    let reach =
        judge!(book, "within_reach", "there is metal for the thread", |spare| spare >= Length::ZERO, &LEFT);
    if found.stands == Stands::OverCut {
        for c in over_cut(&t.name, now.bare(), least.bare()) {
            book.cure(reach.id(), c);
        }
    }
    Ok(())
}
/// What to do with a thread that is under its lower limit, cheapest first.
#[must_use]
pub fn over_cut(name: &str, now: Diameter, least: Diameter) -> Vec<String> {
    let by = reckon::Shown::shown(&(least - now));
    vec![
        format!("measure it again with clean wires: it is under by {by}"),
        format!(
            "a nut of its own: tap and drill chosen for this screw, and both kept together ({by} more play on the flanks)"
        ),
        format!("a coarser class, where the {name} only holds and locates nothing"),
        "the next thread down, if the blank is long enough to be turned down behind it".to_owned(),
        "a new blank".to_owned(),
    ]
}
/// Pitch diameter from what was read, and by how much it may be off.
fn reading(
    g: &Given<'_>,
    book: &mut Book,
    (a, pitch): (Val<Angle>, Val<Length>),
    (doubt, wire_doubt): (Val<Length>, Val<Length>),
) -> Result<(Val<Diameter>, Val<Length>), reckon::Trouble> {
    if let Some(read) = g.take_if::<Diameter>(book, "by_micrometer")? {
        let now = work!(book, "now", |read| read, &LEFT);
        return Ok((now, work!(book, "now_doubt", |doubt| doubt, &SURE)));
    }
    let Some(m) = g.take_if::<Diameter>(book, "over")? else {
        return Err(g.trouble("over", "give 'over' with 'wire', or 'by_micrometer'"));
    };
    let w = match g.take_if::<Length>(book, "wire")? {
        Some(w) if w.bare() > Length::ZERO => w,
        Some(_) => return Err(g.trouble("wire", "a wire has a diameter")),
        None => work!(book, "best_wire", |pitch, a| wires::best_wire(pitch, a), &LIFT),
    };
    let floor = m.bare() - w.bare() * wires::wire_factor(a.bare());
    if floor.value() + pitch.bare().value() <= 0.0 || pitch.bare().value() > 3.0 * floor.value().max(1e-9) {
        return Err(g
            .trouble("over", format!("a reading of {} leaves no screw under the wires", m.shown()))
            .cure("check that reading and wire are in the same unit"));
    }
    let now = work!(book, "now", |m, pitch, a, w| wires::pitch_diameter(m, pitch, pitch, a, w), &LIFT);
    let both = work!(
        book,
        "now_doubt",
        |doubt, wire_doubt, a| doubt_over_wires(doubt, wire_doubt, wires::wire_factor(a)),
        &SURE
    );
    Ok((now, both))
}
/// How much of an advance comes off: from the last two readings, else all of it.
fn ratio(g: &Given<'_>, book: &mut Book, now: Val<Diameter>) -> Result<Val<Ratio>, reckon::Trouble> {
    let before = g.take_if::<Diameter>(book, "before")?;
    let advance = g.take_if::<Length>(book, "advance")?;
    let (Some(before), Some(advance)) = (before, advance) else {
        return Ok(book.assumed(
            "ratio",
            Ratio::si(1.0),
            "all of an advance comes off, until two readings say otherwise",
        ));
    };
    if advance.bare() <= Length::ZERO || before.bare() <= now.bare() {
        return Err(g.trouble("before", "the last advance took nothing off").cure("measure again"));
    }
    let k = work!(book, "ratio", |before, now, advance| cut::cutting_ratio(before, now, advance), &RATIO);
    if !believable(k.bare()) {
        return Err(g
            .trouble("before", format!("{} of the advance came off: that cannot be believed", k.shown()))
            .cure("measure again before the next cut"));
    }
    Ok(k)
}
