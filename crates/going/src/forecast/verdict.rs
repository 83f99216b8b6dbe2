//! Verdicts: whether it goes, and by how much.

use super::words::{degrees, signed};
use super::{Forecast, SETTLED, Settled, Stand};
use crate::Halt;
use crate::model::{End, Model};
use reckon::source::Source;
use reckon::{Angle, Book, Id, Ratio, Val, judge, work};

/// How much must be in hand.
pub static HAND: Source = Source::practice(
    "a clock in order goes with four fifths of its drive; teeth land a tenth of a degree or more from being let go; the swing stays 0.3 degrees within the faces; beats differ by less than a twentieth",
);

fn likely(f: &Forecast) -> Vec<&Stand> {
    f.stands.iter().filter(|s| s.end == End::Likely).collect()
}
/// The arc of a stand as a number that a verdict can lean on: nothing where it does not go.
fn arc(m: &Model, s: &Stand, book: &mut Book) -> Val<Angle> {
    match &s.found {
        Ok(d) => d.arc,
        Err(_) => {
            let name = format!("going.{}.{}.arc", m.supply.places[s.place].slug, s.end.word());
            let how = ("no swing settles under this torque", 1, 0.0);
            book.solved(name, Angle::ZERO, how, vec![s.torque.id()], &SETTLED)
        }
    }
}
fn cures(f: &Forecast, s: &Stand, verdict: Id, book: &mut Book) {
    let Err(halt) = &s.found else { return };
    // Set going at the running arc it may end otherwise than the search for an arc did.
    let story =
        f.stops.iter().find(|(place, end, _)| *place == s.place && *end == s.end).map(|(.., stop)| stop);
    let halt = story.and_then(|s| s.halt).unwrap_or(*halt);
    if let Some(stop) = story {
        let after = if stop.beats == 1 { "1 beat".to_owned() } else { format!("{} beats", stop.beats) };
        book.cure(
            verdict,
            format!("it was set going at {}; after {after} {}", degrees(stop.from), halt.says()),
        );
    }
    book.cure(verdict, halt.cure());
}

pub(super) fn judge(m: &Model, f: &mut Forecast, book: &mut Book) {
    let mut all = Vec::new();
    let arcs: Vec<Val<Angle>> = f.stands.iter().map(|s| arc(m, s, book)).collect();
    let arc_of = |s: &Stand| {
        let at = f.stands.iter().position(|o| o.place == s.place && o.end == s.end);
        at.map_or(arcs[0], |i| arcs[i])
    };
    let stands = likely(f);
    let (Some(first), Some(last)) = (stands.first(), stands.last()) else { return };
    // Does it go, and to the end.
    for (s, name, says) in [
        (first, "going.goes", "set going at its running arc it goes on"),
        (last, "going.goes_to_the_end", "it goes to the end of its run"),
    ] {
        if name == "going.goes_to_the_end" && m.supply.even() {
            continue;
        }
        let arc = arc_of(s);
        let v = judge!(book, name, says, |arc| arc > Angle::ZERO, &SETTLED);
        if !v.bare() {
            cures(f, s, v.id(), book);
        }
        all.push(v);
    }
    if let Some(worn) = f.stands.iter().rfind(|s| s.end == End::Low) {
        let arc = arc_of(worn);
        let v = judge!(
            book,
            "going.goes_when_worn",
            "with stale oil on a cold day it still goes, at the end of its run too",
            |arc| arc > Angle::ZERO,
            &SETTLED
        );
        if !v.bare() {
            cures(f, worn, v.id(), book);
        }
        all.push(v);
    }
    if let Some(hand) = last.in_hand {
        let v = judge!(
            book,
            "going.drive_in_hand",
            "a quarter more torque reaches the escape wheel than the least it goes with, to the end of the run",
            |hand| hand >= Ratio::si(1.25),
            &HAND
        );
        if !v.bare() {
            book.cure(
                v.id(),
                format!(
                    "{} times the drive, or a smaller running arc",
                    reckon::print::fixed(1.25 / hand.bare().value(), 2)
                ),
            );
        }
        all.push(v);
    }
    all.extend(swing(m, f, last, book));
    all.extend(landing(f, book));
    f.verdicts = all;
}
/// Over-banking, starting, and the arc over what is needed.
fn swing(m: &Model, f: &Forecast, last: &Stand, book: &mut Book) -> Vec<Val<bool>> {
    let mut all = Vec::new();
    if let Ok(d) = &last.found {
        let (arc, needed) = (d.arc, m.arc_needed);
        let v = judge!(
            book,
            "going.swing_over_need",
            "the swing that settles reaches past the let-off with run to spare, to the end of the run",
            |arc, needed| arc >= needed,
            &SETTLED
        );
        if !v.bare() {
            book.cure(
                v.id(),
                format!(
                    "{} settles and {} is wanted: more drive, a better pendulum, or less lift and lock",
                    degrees(arc.bare().value()),
                    degrees(needed.bare().value())
                ),
            );
        }
        all.push(v);
        let (least, wanted) = (d.least, m.arc);
        let v = judge!(
            book,
            "going.starts",
            "let go at its running arc it keeps on",
            |least, wanted| least < wanted,
            &SETTLED
        );
        if !v.bare() {
            book.cure(v.id(), format!("a push to {} starts it", degrees(least.bare().value())));
        }
        all.push(v);
    }
    let reach = m.faces.pallets.iter().map(|p| -p.reach()).fold(f64::INFINITY, f64::min);
    let reach = book.solved(
        "going.faces_reach",
        Angle::si(reach),
        ("where the nearer face ends, or a nib meets the rim of the wheel", 1, 0.0),
        vec![m.arc.id()],
        &SETTLED,
    );
    let over = f.stands.iter().find_map(|s| match &s.found {
        Err(h @ Halt::OverBanks { .. }) => Some(h),
        _ => None,
    });
    let settled = f.stands.iter().filter_map(|s| s.found.as_ref().ok()).map(|d| d.arc);
    let most = settled.clone().map(|a| a.bare().value()).fold(0.0, f64::max);
    let mut ids: Vec<Id> = settled.map(|a| a.id()).collect();
    ids.push(reach.id());
    let (most, how) = match over {
        Some(_) => (reach.bare().value(), "the end of the faces, since nothing settles within them"),
        None => (most, "the largest that settles"),
    };
    let largest = book.solved("going.largest_swing", Angle::si(most), (how, 1, 0.0), ids, &SETTLED);
    let v = judge!(
        book,
        "going.no_over_banking",
        "the largest swing stays 0.3 degrees within the faces",
        |largest, reach| largest + Angle::si(0.3_f64.to_radians()) <= reach,
        &HAND
    );
    if !v.bare() {
        if let Some(halt) = over {
            book.cure(v.id(), halt.says());
        }
        book.cure(v.id(), "less drive, longer dead faces, or a heavier bob");
    }
    all.push(v);
    all
}
/// Tripping, double beats, and even beats.
fn landing(f: &Forecast, book: &mut Book) -> Vec<Val<bool>> {
    let mut all = Vec::new();
    let found: Vec<&Settled> = f.stands.iter().filter_map(|s| s.found.as_ref().ok()).collect();
    let least = |get: fn(&Settled) -> f64| found.iter().min_by(|a, b| get(a).total_cmp(&get(b))).copied();
    if let Some(d) = least(|d| d.hold.bare().value()) {
        let hold = d.hold;
        let v = judge!(
            book,
            "going.lands_safely",
            "every tooth lands a tenth of a degree or more from being let go at once",
            |hold| hold.value() >= 0.1_f64.to_radians(),
            &HAND
        );
        if !v.bare() {
            book.cure(v.id(), "more lock, or the pallets' arbor nearer to the wheel");
        }
        all.push(v);
    }
    if let Some(d) = least(|d| -d.kept.bare().value().abs()) {
        let kept = d.kept;
        let v = judge!(
            book,
            "going.swings_settle",
            "no double beat: a swing that is larger or smaller comes back to the same",
            |kept| kept.value().abs() < 1.0,
            &SETTLED
        );
        if !v.bare() {
            book.cure(v.id(), "less drop, or less recoil: large and small swings take turns");
        }
        all.push(v);
    }
    if let Some(d) = least(|d| -d.uneven.bare().value().abs()) {
        let (uneven, beat) = (d.uneven, d.steady.cycle() / 2.0);
        let beat = book.solved(
            "going.beat",
            reckon::Time::si(beat),
            ("half of two beats, where they differ most", 1, 0.0),
            vec![d.arc.id()],
            &SETTLED,
        );
        let part = work!(
            book,
            "going.uneven_part",
            |uneven, beat| Ratio::si((uneven / beat).value().abs()),
            &SETTLED
        );
        let v = judge!(
            book,
            "going.beats_even",
            "both beats are as long as each other, but for a twentieth",
            |part| part <= Ratio::si(0.05),
            &HAND
        );
        if !v.bare() {
            book.cure(
                v.id(),
                format!(
                    "the crutch bent until both are alike: now they differ by {} ms",
                    signed(uneven.bare().value() * 2e3)
                ),
            );
        }
        all.push(v);
    }
    all
}
