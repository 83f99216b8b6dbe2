//! Pallets and escape wheel as they are made: the hole that is free follows them, the pallets that are free follow
//! the wheel, and where nothing is free locks and drops are judged before the next cut.
//!
//! All of it is silent as long as nothing of them is measured.

use super::as_made::mm;
use super::escapement::EscapementDesign;
use super::layout::{Layout, Stand};
use super::model::Train;
use ::escapement::as_made::{AS_MADE, Corners, Doing, Made};
use kurbo::Vec2;
use reckon::source::{GEOMETRY, Source};
use reckon::{Angle, Book, Id, Length, Val, judge, work};
use record::facts::{Escapement, MovementFacts};

/// An escapement as it is made.
pub static KEPT: Source = Source::practice("locks from half a degree, drops from half a degree, as made");
/// Where pallets go whose hole is not drilled.
pub static PLANT: Source = Source::derived(
    "the hole of the pallets, not drilled yet, goes along the line of centres to where the least lock is what is wanted",
);
/// Half a degree.
const LEAST: f64 = reckon::maths::PI / 360.0;
/// Corners by their names, in the order unlocking and let-off, entry before exit.
const CORNERS: [&str; 4] = ["e1", "e2", "x1", "x2"];
/// Most that pallets are opened or closed by bending, seen from their arbor (rad).
const BENDS: f64 = 0.035;

fn corner_known(book: &Book) -> bool {
    let axes = ["x", "y", "radius"];
    CORNERS.iter().any(|c| axes.iter().any(|a| book.knows(&format!("escapement.corner.{c}.{a}"))))
}
/// Whether something of an escapement is known as it is made.
pub(super) fn measured(book: &Book) -> bool {
    book.knows("escapement.wheel_diameter") || corner_known(book)
}
/// Whether the hole of the pallets is drilled.
fn drilled(t: &Train, book: &Book) -> bool {
    t.pallets.is_some_and(|i| {
        let slug = &t.arbors[i].facts.slug;
        book.knows(&format!("{slug}.at.x")) || book.knows(&format!("{slug}.at.y"))
    })
}
/// Whether pallets that are still to be made have to suit a wheel and a hole that are made already.
pub(super) fn to_suit_hole(t: &Train, book: &Book) -> bool {
    book.knows("escapement.wheel_diameter") && drilled(t, book) && !corner_known(book)
}
/// The escapement as it is, at a distance of the arbors (mm), and the numbers that say so.
fn as_it_is(e: &Escapement, centres: f64, book: &Book) -> Option<(Made, Vec<Id>)> {
    let mut inputs = vec![e.wheel_diameter.id()];
    let mut of = Vec::new();
    for c in CORNERS {
        let mut take = |axis: &str| {
            let (id, line) = book.find(&format!("escapement.corner.{c}.{axis}"))?;
            inputs.push(id);
            line.si.map(|v| v * 1e3)
        };
        let mut at = Vec2::new(take("x")?, take("y")?);
        // A corner whose distance from the bore alone was measured lies in its drawn direction.
        if book.knows(&format!("escapement.corner.{c}.radius")) {
            at *= take("radius")? / at.hypot();
        }
        of.push(at);
    }
    let &[e1, e2, x1, x2] = of.as_slice() else { return None };
    let made = Made {
        teeth: u32::try_from(e.teeth.bare().0).ok()?,
        radius: e.wheel_diameter.bare().in_mm() / 2.0,
        centres,
        tip: e.tip_width.bare().value(),
        corners: Corners { e1, e2, x1, x2 },
    };
    inputs.push(e.tip_width.id());
    Some((made, inputs))
}
/// Pallets and escape wheel, where they stand.
fn pair(t: &Train, stands: &[Option<Stand>]) -> Option<(usize, Stand, Stand)> {
    let (i, w) = (t.pallets?, t.escape?);
    Some((i, stands[i]?, stands[w]?))
}
fn apart(a: Stand, b: Stand) -> f64 {
    reckon::maths::hypot(a.x.bare().in_mm() - b.x.bare().in_mm(), a.y.bare().in_mm() - b.y.bare().in_mm())
}
const fn least_lock(d: &Doing) -> f64 {
    d.lock_entry.min(d.lock_exit)
}
/// The distance at which the least lock is what is wanted, near to one (mm).
fn distance(made: &Made, wanted: f64) -> Option<f64> {
    let lacks = |c: f64| Some(wanted - least_lock(&Made { centres: c, ..*made }.evaluated().ok()?));
    let mut at = made.centres;
    for _ in 0..20 {
        let now = lacks(at)?;
        if now.abs() < 1e-9 {
            return Some(at);
        }
        let slope = (lacks(at + 1e-4)? - now) / 1e-4;
        if slope.abs() < 1e-9 {
            return None;
        }
        at -= (now / slope).clamp(-0.5, 0.5);
    }
    (lacks(at)?.abs() < 1e-6).then_some(at)
}
/// Moves the hole of the pallets, as long as it is not drilled, to where they want it as they are.
pub(super) fn replant(
    t: &Train,
    stands: &mut [Option<Stand>],
    anchor: Option<Val<Length>>,
    facts: &MovementFacts,
    book: &mut Book,
) {
    if !measured(book) || drilled(t, book) {
        return;
    }
    let (Some(e), Some(drawn), Some((i, p, w))) = (&facts.escapement, anchor, pair(t, stands)) else {
        return;
    };
    let (radius, mut inputs) = if corner_known(book) {
        let Some((made, inputs)) = as_it_is(e, drawn.bare().in_mm(), book) else { return };
        let Some(c) = distance(&made, wanted_lock(e)) else { return };
        (c, inputs)
    } else {
        (drawn.bare().in_mm(), vec![drawn.id()])
    };
    let now = apart(p, w);
    // Where they stand so by their own sizes, nothing moves.
    if now <= 0.0 || (radius - now).abs() < 1e-7 {
        return;
    }
    inputs.extend([w.x.id(), w.y.id(), p.x.id(), p.y.id()]);
    let slug = &t.arbors[i].facts.slug;
    let k = radius / now;
    let mut put = |axis: &str, from: f64, to: f64| {
        let how = ("along the line of centres", 20, 1e-9);
        let v = Length::mm(from + (to - from) * k);
        book.solved(format_args!("{slug}.at.{axis}.to_suit"), v, how, inputs.clone(), &PLANT)
    };
    let at = (w.x.bare().in_mm(), w.y.bare().in_mm());
    let (x, y) = (put("x", at.0, p.x.bare().in_mm()), put("y", at.1, p.y.bare().in_mm()));
    stands[i] = Some(Stand { x, y });
}
/// The lock that is wanted (rad).
fn wanted_lock(e: &Escapement) -> f64 {
    e.lock.map_or(LEAST, |l| l.bare().value()).max(LEAST)
}
/// Locks and drops as they are, judged, with what could be done.
pub(super) fn tell(
    t: &Train,
    l: &Layout,
    design: Option<&EscapementDesign>,
    facts: &MovementFacts,
    book: &mut Book,
) {
    let (Some(e), true) = (&facts.escapement, measured(book)) else { return };
    let Some((i, p, w)) = pair(t, &l.stands) else { return };
    let (px, py, wx, wy) = (p.x, p.y, w.x, w.y);
    let centres = work!(
        book,
        "escapement.meets.centres",
        |px, py, wx, wy| Length::si(reckon::maths::hypot((px - wx).value(), (py - wy).value())),
        &GEOMETRY
    );
    let name = t.arbors[i].facts.name.as_str();
    let Some((made, mut inputs)) = as_it_is(e, apart(p, w), book) else {
        planted(centres, design, name, book);
        return;
    };
    inputs.extend([p.x.id(), p.y.id(), w.x.id(), w.y.id()]);
    let Ok(is) = made.evaluated() else { return };
    let how = "corners as they are, taken onto the circle of the tips";
    let put = |name: &str, v: f64, book: &mut Book| {
        let name = format_args!("escapement.meets.{name}").to_string();
        book.solved(name, Angle::si(v), (how, 1, 0.0), inputs.clone(), &AS_MADE)
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
        |lock_in, lock_out| lock_in.in_deg() >= 0.5 - 1e-9 && lock_out.in_deg() >= 0.5 - 1e-9,
        &KEPT
    );
    let drops = judge!(
        book,
        "escapement.meets.drops",
        "both drops are half a degree or more, and alike to half a degree".to_owned(),
        |drop_in, drop_out| drop_in.in_deg() >= 0.5 - 1e-9
            && drop_out.in_deg() >= 0.5 - 1e-9
            && (drop_in - drop_out).abs().in_deg() <= 0.5 + 1e-9,
        &KEPT
    );
    let free = !drilled(t, book);
    if !locks.bare() {
        for c in to_lock(&made, &is, wanted_lock(e), free, name) {
            book.cure(locks.id(), c);
        }
    }
    if !drops.bare() {
        for c in to_drop(&made, &is, free, name) {
            book.cure(drops.id(), c);
        }
    }
}
/// Pallets without corners to measure: whether they stand where the wheel as it is wants them.
fn planted(centres: Val<Length>, design: Option<&EscapementDesign>, name: &str, book: &mut Book) {
    let Some(design) = design else { return };
    let wanted = design.centres;
    let how = ("what changes a lock, drop or catch by a tenth of a degree", 1, 0.0);
    let within = book.solved(
        "escapement.meets.within",
        Length::mm(design.tolerance),
        how,
        vec![wanted.id()],
        &super::escapement::PLANTED,
    );
    let verdict = judge!(
        book,
        "escapement.meets.planted",
        "the arbors stand where the escape wheel as it is wants them".to_owned(),
        |centres, wanted, within| (centres - wanted).abs() <= within,
        &super::escapement::PLANTED
    );
    if verdict.bare() {
        return;
    }
    let by = centres.bare().value() - wanted.bare().value();
    let (what, which) = if by > 0.0 { ("nearer to", "far") } else { ("farther from", "near") };
    let by = mm(by.abs());
    for c in [
        format!("bush the holes of '{name}' off centre: {by} {what} the escape wheel"),
        format!(
            "set the pallets out anew for {} between the arbors, before they are made",
            mm(centres.bare().value())
        ),
        format!("a new escape wheel: this one leaves the arbors {by} too {which}"),
    ] {
        book.cure(verdict.id(), c);
    }
}
/// Locks and drops as a maker reads them.
fn then(d: &Doing) -> String {
    let deg = |a: f64| reckon::print::fixed(a * 180.0 / reckon::maths::PI, 2);
    format!(
        "then locks of {}° and {}°, drops of {}° and {}°",
        deg(d.lock_entry),
        deg(d.lock_exit),
        deg(d.drop_out),
        deg(d.drop_in)
    )
}
/// The hole at another distance of the arbors, in words.
fn moved(made: &Made, to: f64, free: bool, name: &str) -> Option<String> {
    let is = Made { centres: to, ..*made }.evaluated().ok()?;
    let by = made.centres - to;
    let what = if by > 0.0 { "nearer to" } else { "farther from" };
    let how = if free {
        format!("the hole of '{name}' is not drilled: {} {what} the escape wheel", mm(by.abs() / 1e3))
    } else {
        format!("bush the holes of '{name}' off centre: {} {what} the escape wheel", mm(by.abs() / 1e3))
    };
    Some(format!("{how}, so {} between centres; {}", mm(to / 1e3), then(&is)))
}
/// The exit nib turned about the arbor, as bending the soft frame does; positive opens the pallets.
fn bent(made: &Made, by: f64) -> Option<Doing> {
    let turn = |c: Vec2| Vec2::new(c.x - c.y * by, c.y + c.x * by) / reckon::maths::hypot(1.0, by);
    let Corners { x1, x2, .. } = made.corners;
    let corners = Corners { x1: turn(x1), x2: turn(x2), ..made.corners };
    Made { corners, ..*made }.evaluated().ok()
}
/// What gives lock, cheapest first.
fn to_lock(made: &Made, is: &Doing, wanted: f64, free: bool, name: &str) -> Vec<String> {
    let mut all = Vec::new();
    // A nib turned about the arbor changes both locks by as much, and no drop.
    let slope = bent(made, 1e-3).map(|d| (least_lock(&d) - least_lock(is)) / 1e-3);
    let bend = slope.filter(|s| s.abs() > 0.1).map(|s| (wanted - least_lock(is)) / s);
    let bending = bend.filter(|a| a.abs() <= BENDS).and_then(|a| {
        let d = bent(made, a)?;
        let what = if a > 0.0 { "open" } else { "close" };
        let by = mm(a.abs() * made.corners.x1.hypot() / 1e3);
        Some(format!("{what} the pallets by {by} at the exit nib, while they are soft: {}", then(&d)))
    });
    let moving = distance(made, wanted).and_then(|c| moved(made, c, free, name));
    if free {
        all.extend(moving);
        all.extend(bending);
    } else {
        all.extend(bending);
        all.extend(moving);
    }
    all.push("new pallets, or a new wheel: stoning a corner takes lock away and never gives any".to_owned());
    all
}
/// What makes drops alike and large enough, cheapest first.
fn to_drop(made: &Made, is: &Doing, free: bool, name: &str) -> Vec<String> {
    let mut all = Vec::new();
    let uneven = |c: f64| Made { centres: c, ..*made }.evaluated().ok().map(|d| d.drop_out - d.drop_in);
    let now = is.drop_out - is.drop_in;
    if now.abs() > LEAST
        && let Some(slope) = uneven(made.centres + 0.01).map(|u| (u - now) / 0.01).filter(|s| s.abs() > 1e-4)
    {
        let to = made.centres - now / slope;
        if (to - made.centres).abs() < 0.05 * made.centres {
            all.extend(moved(made, to, free, name));
        }
    }
    for (drop, which) in [(is.drop_out, "entry"), (is.drop_in, "exit")] {
        if drop < LEAST {
            let off = mm((LEAST - drop) * made.radius / 1e3);
            all.push(format!(
                "stone about {off} off the face behind the {which} nib's let-off corner: it lets off sooner, its lock stays"
            ));
        }
    }
    all.push("new pallets".to_owned());
    all
}
