//! Over wires, and what errors of a thread cost.

use super::shape::{FORM, PITCH, Shape, THREAD, positive};
use crate::thread::{form, seat, strength, wires};
use reckon::ask::{need, or};
use reckon::{Angle, Ask, Book, Diameter, Given, Length, Ratio, Source, Trouble, Val, judge, work};

static WIRE: Source = Source::read("Machinery's Handbook 31, p. 2129, measuring over three wires")
    .with_formula("M = E − (P/2) cot a + W (1 + cosec a) + c");
static LIFT: Source = Source::read("Machinery's Handbook 31, p. 2130, wire constants and lead angle")
    .with_formula("c = (W/2) tan² L cos a cot a");
static SEAT: Source =
    Source::derived("rigid cylinder resting on both flanks of a helicoid with straight axial section");
static RANGE: Source = Source::memory("usable wires, from flush with the crest to 0.90 P at 60°");

const MAJOR: reckon::Param = or("major", "", "outside diameter; left out: that of the thread");
const PITCH_DIAMETER: reckon::Param = or(
    "pitch_diameter",
    "",
    "pitch diameter; left out: that of the thread, or from form and outside diameter",
);
const LEAD: reckon::Param = or("lead", "", "advance for one turn; left out: the pitch");

pub(super) const WIRES: Ask = Ask {
    name: "thread.wires",
    says: "reading over three wires: plain, with the helix counted, and exactly seated",
    takes: &[
        THREAD,
        FORM,
        PITCH,
        MAJOR,
        PITCH_DIAMETER,
        LEAD,
        or("wire", "", "wire diameter; left out: the best wire"),
    ],
    gives: &[
        "reading",
        "plain",
        "lift",
        "exact",
        "best_wire",
        "least_wire",
        "most_wire",
        "factor",
        "lead_angle",
        "proud",
    ],
    example: "thread=M3 pitch_diameter='2.6175 mm' wire='0.29 mm'",
    run: over_wires,
};
fn lead(given: &Given<'_>, book: &mut Book, pitch: Val<Length>) -> Result<Val<Length>, Trouble> {
    let own = given.take_if::<Length>(book, "lead")?;
    match own.filter(|l| l.bare() < Length::ZERO) {
        Some(_) => Err(given.trouble("lead", "a lead cannot be less than nothing")),
        None => Ok(own.unwrap_or(pitch)),
    }
}
fn over_wires(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let shape = Shape::take(given, book, true)?;
    let (a, p) = (shape.half_angle, shape.pitch(given)?);
    let major = shape.outside(given, book, "major").ok();
    let d2 = shape.pitch_diameter(given, book, "pitch_diameter", major)?;
    let lead = lead(given, book, p)?;
    let best = work!(book, "best_wire", |p, a| wires::best_wire(p, a), &WIRE);
    let w = if given.has("wire") { positive(given, book, "wire")? } else { best };
    work!(book, "factor", |a| Ratio::si(wires::wire_factor(a)), &WIRE);
    work!(book, "lead_angle", |lead, d2| wires::lead_angle(lead, d2), &LIFT);
    let plain = work!(book, "plain", |d2, p, a, w| wires::over_wires(d2, p, a, w), &WIRE);
    let c = work!(book, "lift", |d2, lead, a, w| wires::helix_lift(d2, lead, a, w), &LIFT);
    let reading = work!(book, "reading", |plain, c| plain + c, &LIFT);
    let outside = match major {
        Some(m) => m,
        None => work!(book, "sharp_crest", |d2, p, a| d2 + p * (0.5 * form::cot(a)), &RANGE),
    };
    work!(book, "least_wire", |outside, d2, p, a| wires::flush_wire(outside, d2, p, a), &RANGE);
    work!(book, "most_wire", |p, a| wires::largest_wire(p, a), &RANGE);
    let proud = judge!(
        book,
        "proud",
        "the wires stand above the crest",
        |reading, outside| reading > outside,
        &RANGE
    );
    if !proud.bare() {
        book.cure(proud.id(), format!("use wires of {}", best.shown()));
    }
    if let Some(s) = seat::seat(d2.bare(), p.bare(), lead.bare(), a.bare(), w.bare()) {
        let how = (
            "contact without slope along either flank, opposite the middle of the wire",
            s.rounds,
            s.residual,
        );
        book.solved("exact", s.reading, how, vec![d2.id(), p.id(), lead.id(), a.id(), w.id()], &SEAT);
    }
    Ok(())
}

pub(super) const WIRES_INVERSE: Ask = Ask {
    name: "thread.wires_inverse",
    says: "pitch diameter from a reading over three wires",
    takes: &[
        need("reading", "reading over the wires"),
        need("wire", "wire diameter as measured"),
        THREAD,
        FORM,
        PITCH,
        LEAD,
        or("outside", "", "measured outside diameter, to see that the wires stand above it"),
    ],
    gives: &["pitch_diameter", "above_basic", "proud"],
    example: "reading='3.0553 mm' wire='0.29 mm' thread=M3",
    run: from_wires,
};
fn from_wires(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let m = given.take::<Diameter>(book, "reading")?;
    let w = positive(given, book, "wire")?;
    let shape = Shape::take(given, book, true)?;
    let (a, p) = (shape.half_angle, shape.pitch(given)?);
    let lead = lead(given, book, p)?;
    let floor = m.bare() - w.bare() * wires::wire_factor(a.bare()) + p.bare() * (0.5 * form::cot(a.bare()));
    if floor <= Diameter::ZERO || lead.bare().value() > 3.0 * floor.value() {
        return Err(given
            .trouble("reading", format!("a reading of {} leaves no screw under the wires", m.shown()))
            .cure("check that reading and wire are in the same unit"));
    }
    let d2 = work!(book, "pitch_diameter", |m, p, lead, a, w| wires::pitch_diameter(m, p, lead, a, w), &LIFT);
    if let Some(b) = shape.basics {
        let basic = b.pitch_diameter;
        work!(book, "above_basic", |d2, basic| d2 - basic, &WIRE);
    }
    if let Some(outside) = given.take_if::<Diameter>(book, "outside")? {
        judge!(book, "proud", "the wires stand above the crest", |m, outside| m > outside, &RANGE);
    }
    Ok(())
}

pub(super) const HELIX: Ask = Ask {
    name: "thread.helix",
    says: "lead angle at the pitch diameter",
    takes: &[THREAD, FORM, PITCH, MAJOR, PITCH_DIAMETER, LEAD],
    gives: &["lead_angle"],
    example: "thread=M3",
    run: |given, book| {
        let shape = Shape::take(given, book, true)?;
        let p = shape.pitch(given)?;
        let major = shape.outside(given, book, "major").ok();
        let d2 = shape.pitch_diameter(given, book, "pitch_diameter", major)?;
        let lead = lead(given, book, p)?;
        work!(book, "lead_angle", |lead, d2| wires::lead_angle(lead, d2), &LIFT);
        Ok(())
    },
};

static VIRTUAL_SIZE: Source =
    Source::derived("virtual effective diameter; cot a of 1.92 read in metrology notes")
        .with_formula("d2v = d2 + δp cot a + h (δa1 + δa2) / sin 2a");
pub(super) const VIRTUAL: Ask = Ask {
    name: "thread.virtual",
    says: "how much larger errors of pitch and flanks make a screw feel to its nut",
    takes: &[
        THREAD,
        FORM,
        PITCH,
        or("pitch_error", "0 mm", "largest error of pitch over the engaged length"),
        or("first_flank", "0 deg", "error of one flank angle"),
        or("second_flank", "0 deg", "error of the other"),
    ],
    gives: &["rise", "rise_by_pitch", "rise_by_flanks"],
    example: "thread=M3 pitch_error='10 um'",
    run: virtual_size,
};
fn virtual_size(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let shape = Shape::take(given, book, true)?;
    let (a, p) = (shape.half_angle, shape.pitch(given)?);
    let dp = given.take::<Length>(book, "pitch_error")?;
    let one = given.take::<Angle>(book, "first_flank")?;
    let two = given.take::<Angle>(book, "second_flank")?;
    let k = form::shared_flank(shape.form, Length::mm(1.0)) / Length::mm(1.0);
    let k = book.tabled("form.shared_flank", k, shape.form.name, &VIRTUAL_SIZE);
    let by_pitch = work!(book, "rise_by_pitch", |dp, a| strength::rise_by_pitch(dp, a), &VIRTUAL_SIZE);
    let by_flanks = work!(
        book,
        "rise_by_flanks",
        |one, two, p, k, a| strength::rise_by_flanks(one, two, p * k, a),
        &VIRTUAL_SIZE
    );
    work!(book, "rise", |by_pitch, by_flanks| by_pitch + by_flanks, &VIRTUAL_SIZE);
    Ok(())
}
