//! Holes and strength.

use super::shape::{positive, thread};
use crate::thread::hole::{self, Base};
use crate::thread::{basics, limits, nut_limits, strength};
use reckon::ask::{need, or};
use reckon::{Ask, Book, Given, Length, Pressure, Ratio, Source, Trouble, work};

static PERCENT: Source = Source::read("Machinery's Handbook 31, p. 2155, percentage of full thread")
    .with_formula("% = 100 (D − drill) / (B P)");
pub(super) const TAP_DRILL: Ask = Ask {
    name: "thread.tap_drill",
    says: "how much thread a drill leaves on both bases, or the drill for a wanted part of a thread",
    takes: &[
        need("thread", "a thread by name"),
        or("drill", "", "diameter of the drill"),
        or("wanted", "", "part of a full thread on the base of drill tables, such as 65 %"),
    ],
    gives: &["engaged", "engaged_true", "drill_wanted", "within_bore"],
    example: "thread=M3 drill='2.5 mm'",
    run: tap_drill,
};
fn tap_drill(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    let drill = given.take_if::<Length>(book, "drill")?;
    let part = given.take_if::<Ratio>(book, "wanted")?;
    if drill.is_none() && part.is_none() {
        return Err(given.trouble("drill", "give a drill, or the part of a thread that is wanted"));
    }
    let bore = nut_limits(book, "nut", &t, "").ok();
    if let Some(across) = drill {
        if across.bare() <= Length::ZERO || across.bare().as_diameter() >= t.major {
            return Err(given.trouble("drill", format!("a drill of {} leaves no thread", across.shown())));
        }
        let drill = work!(book, "drill.diameter", |across| across.as_diameter(), &PERCENT);
        hole::worked_part(book, "", &t, drill, Base::Tables, "engaged");
        hole::worked_part(book, "", &t, drill, Base::True, "engaged_true");
        if let Some(bore) = &bore {
            let (least, most) = (bore.minor_min, bore.minor_max);
            let verdict = reckon::judge!(
                book,
                "within_bore",
                "the drill lies within the bore limits",
                |drill, least, most| drill >= least && drill <= most,
                &PERCENT
            );
            if !verdict.bare() {
                book.cure(verdict.id(), format!("a drill from {} to {}", least.shown(), most.shown()));
            }
        }
    }
    if let Some(part) = part {
        if !(0.05..=1.2).contains(&part.bare().value()) {
            return Err(given.trouble("wanted", "a part of a thread lies between 5 % and 120 %"));
        }
        let b = basics(book, "basic", &t);
        let (major, pitch) = (b.major, b.pitch);
        let full = hole::full(&t, Base::Tables);
        let full = book.tabled("full", full, "a hundred per cent, over the pitch", &PERCENT);
        work!(
            book,
            "drill_wanted",
            |major, part, pitch, full| hole::drill_for(major, part, pitch, full),
            &PERCENT
        );
    }
    Ok(())
}

pub(super) const STRESS_AREA: Ask = Ask {
    name: "thread.stress_area",
    says: "area that carries the pull of a screw",
    takes: &[need("thread", "a thread by name")],
    gives: &["stress_area", "stress_diameter"],
    example: "thread=M3",
    run: |given, book| {
        let t = thread(given)?;
        let b = basics(book, "", &t);
        strength::stress_area(book, "", &t, &b);
        Ok(())
    },
};
static STRIP: Source =
    Source::read("Machinery's Handbook 24, shear areas of threads, as the H28 handbook gives them")
        .with_formula("As = (π/P) Kn (P/2 + tan a (Es − Kn)); An = (π/P) Ds (P/2 + tan a (Ds − En))");
pub(super) const ENGAGEMENT: Ask = Ask {
    name: "thread.engagement",
    says: "sheared areas for each length of engagement, and the length at which the screw breaks first",
    takes: &[
        need("thread", "a thread by name"),
        or("class", "", "class of the screw"),
        or("nut_class", "", "class of the nut"),
        or("screw_strength", "", "tensile strength of the screw"),
        or("hole_shear", "", "shear strength of the hole's metal"),
    ],
    gives: &["screw_shear", "nut_shear", "screw_length", "hole_length", "stress_area"],
    example: "thread=M3 screw_strength='500 N/mm2' hole_shear='198 N/mm2'",
    run: engagement,
};
fn engagement(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let t = thread(given)?;
    let screw = limits(book, "screw", &t, given.word_if("class").unwrap_or_default().trim())?;
    let nut = nut_limits(book, "nut", &t, given.word_if("nut_class").unwrap_or_default().trim())?;
    let a = book.tabled("half_angle", t.form.half_angle, t.form.name, &STRIP);
    let p = screw.basics.pitch;
    let (kn, es, ds, en) = (nut.minor_max, screw.pitch_min, screw.major_min, nut.pitch_max);
    let a_s = work!(book, "screw_shear", |kn, es, p, a| strength::screw_shear(kn, es, p, a), &STRIP);
    let a_n = work!(book, "nut_shear", |ds, en, p, a| strength::nut_shear(ds, en, p, a), &STRIP);
    if a_s.bare() <= Length::ZERO || a_n.bare() <= Length::ZERO {
        return Err(Trouble::design("screw and nut at their limits do not touch"));
    }
    let at = strength::stress_area(book, "", &t, &screw.basics);
    work!(book, "screw_length", |at, a_s| strength::no_strip(at, a_s), &STRIP);
    let rm = given.take_if::<Pressure>(book, "screw_strength")?;
    let tau = given.take_if::<Pressure>(book, "hole_shear")?;
    if let (Some(rm), Some(tau)) = (rm, tau) {
        if tau.bare() <= Pressure::ZERO || rm.bare() <= Pressure::ZERO {
            return Err(given.trouble("hole_shear", "a strength is more than nothing"));
        }
        work!(book, "hole_length", |at, rm, a_n, tau| strength::no_strip_hole(at, rm, a_n, tau), &STRIP);
    }
    Ok(())
}

static TORQUE: Source = Source::memory("tightening of screws: F = 0.6 Rp At, T = 0.2 F d");
pub(super) const TIGHTEN: Ask = Ask {
    name: "thread.tighten",
    says: "pull and torque of a screw tightened to a part of its yield",
    takes: &[
        need("thread", "a thread by name"),
        need("yield_strength", "yield strength of the screw"),
        or("part", "0.6", "part of the yield strength"),
    ],
    gives: &["preload", "torque", "stress_area"],
    example: "thread=M3 yield_strength='300 N/mm2'",
    run: |given, book| {
        let t = thread(given)?;
        let rp = given.take::<Pressure>(book, "yield_strength")?;
        let part = given.take::<Ratio>(book, "part")?;
        let b = basics(book, "", &t);
        let at = strength::stress_area(book, "", &t, &b);
        let d = b.major;
        let pull = work!(book, "preload", |at, rp, part| strength::preload(at, rp, part), &TORQUE);
        work!(book, "torque", |pull, d| strength::tightening(pull, d), &TORQUE);
        Ok(())
    },
};

static BLADE: Source =
    Source::derived("pressure of a blade rising from the middle of the slot").with_formula("T = p t dk² / 6");
pub(super) const SLOT: Ask = Ask {
    name: "thread.slot",
    says: "torque at which a screwdriver crushes a slot",
    takes: &[
        need("pressure", "pressure the walls bear, about one and a half times yield"),
        need("depth", "depth of the slot"),
        need("head", "diameter of the head"),
    ],
    gives: &["torque"],
    example: "pressure='450 N/mm2' depth='0.8 mm' head='5.5 mm'",
    run: |given, book| {
        let p = given.take::<Pressure>(book, "pressure")?;
        let depth = positive(given, book, "depth")?;
        let head = positive(given, book, "head")?;
        work!(book, "torque", |p, depth, head| strength::slot_torque(p, depth, head.as_diameter()), &BLADE);
        Ok(())
    },
};
