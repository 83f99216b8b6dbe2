//! Cutting with a single point.

use super::shape::{FLAT, FORM, PITCH, RADIUS, Shape, THREAD, nose, positive, thread};
use crate::thread::cut;
use crate::thread::passes::{self, CutLimits, Rule};
use crate::thread::wheels::{self, Wheels};
use crate::thread::{Basics, basics, ends};
use reckon::ask::{need, or};
use reckon::{
    Angle, AngularSpeed, Area, Ask, Book, Diameter, Force, Given, Length, Pressure, Ratio, Source, Speed,
    Trouble, Val, judge, work,
};

static DEPTHS: Source = Source::derived("groove of a tool with a flat or rounded end")
    .with_formula("PD = OD − 2x + (P/2 − f) cot a, or − 2 r (cosec a − 1) for a radius");

pub(super) const DEPTH: Ask = Ask {
    name: "thread.depth",
    says: "radial depth that leaves a pitch diameter, for the tool's own end; or what a depth leaves",
    takes: &[
        THREAD,
        FORM,
        PITCH,
        or("outside", "", "measured outside diameter; left out: the basic one"),
        or("target", "", "pitch diameter wanted; left out: the basic one"),
        or("cut", "", "depth already cut"),
        FLAT,
        RADIUS,
    ],
    gives: &["depth", "root", "leaves", "above_basic"],
    example: "thread=M3 outside='2.93 mm' target='2.6175 mm' flat='0.1 mm'",
    run: depth,
};
fn depth(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let shape = Shape::take(given, book, true)?;
    let (a, p) = (shape.half_angle, shape.pitch(given)?);
    let od = shape.outside(given, book, "outside")?;
    let d2 = shape.pitch_diameter(given, book, "target", Some(od))?;
    let (nose, size) = nose(given, book)?;
    let x = cut::depth_in_book(book, "depth", (od, d2), p, a, (nose, size));
    if x.bare() <= Length::ZERO {
        return Err(Trouble::design("a blank of this diameter has no thread to cut")
            .why(format!("it would need a depth of {}", x.shown())));
    }
    let root = work!(book, "root", |od, x| od - x * 2.0, &DEPTHS);
    if root.bare() <= Diameter::ZERO {
        return Err(Trouble::design("a thread this deep leaves no core"));
    }
    if let Some(done) = given.take_if::<Length>(book, "cut")? {
        let left = cut::pitch_diameter_in_book(book, "leaves", (od, done), p, a, (nose, size));
        work!(book, "above_basic", |left, d2| left - d2, &DEPTHS);
    }
    Ok(())
}

static TIPS: Source = Source::derived("root limits of the M profile, Machinery's Handbook 27, p. 1794")
    .with_formula("P/2 − 0.616025 P tan 30° … P/2 − 0.433013 P tan 30°");
pub(super) const TIP: Ask = Ask {
    name: "thread.tip",
    says: "narrowest and widest flat of a tool that meets both root limits of a metric thread",
    takes: &[THREAD, PITCH],
    gives: &["narrowest", "widest"],
    example: "thread=M3",
    run: |given, book| {
        let p = if given.has("thread") {
            basics(book, "thread", &thread(given)?).pitch
        } else {
            positive(given, book, "pitch")?
        };
        work!(book, "narrowest", |p| cut::iso_tip(p).0, &TIPS);
        work!(book, "widest", |p| cut::iso_tip(p).1, &TIPS);
        Ok(())
    },
};

static SWUNG: Source = Source::derived("right triangle between cross slide and set-over top slide");
pub(super) const INFEED: Ask = Ask {
    name: "thread.infeed",
    says: "travel of a set-over top slide for a radial depth",
    takes: &[
        need("depth", "radial depth"),
        need("swing", "angle of the top slide from the cross slide; half a degree under the flank"),
        THREAD,
        FORM,
    ],
    gives: &["dial", "creep"],
    example: "depth='0.32 mm' swing='29.5 deg'",
    run: infeed,
};
fn infeed(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let x = positive(given, book, "depth")?;
    let swing = given.take::<Angle>(book, "swing")?;
    let shape = Shape::take(given, book, false)?;
    if swing.bare() > shape.half_angle.bare() || swing.bare() < Angle::ZERO {
        return Err(given
            .trouble("swing", format!("a swing of {} spoils the trailing flank", swing.shown()))
            .why(format!("the flank itself stands at {}", shape.half_angle.shown()))
            .cure(format!(
                "swing {}°",
                reckon::print::significant(shape.half_angle.bare().in_deg() - 0.5, 5)
            )));
    }
    work!(book, "dial", |x, swing| cut::dial(x, swing), &SWUNG);
    work!(book, "creep", |x, swing| cut::creep(x, swing), &SWUNG);
    Ok(())
}

pub(super) const PASSES: Ask = Ask {
    name: "thread.passes",
    says: "depths of the passes that cut a groove",
    takes: &[
        need("depth", "radial depth in all"),
        or("rule", "within", "within limits; equal area; falling by formula; equal depth"),
        or("passes", "", "how many, for all rules but 'within'"),
        or("area", "0.02 mm2", "largest area of one cut, for 'within'"),
        or("least", "0.015 mm", "thinnest cut, for 'within'"),
        or("most", "0.08 mm", "deepest cut, for 'within'"),
        THREAD,
        FORM,
        FLAT,
        RADIUS,
    ],
    gives: &["count", "at", "cut", "area_of", "schedule"],
    example: "depth='0.32 mm' rule='equal area' passes=8",
    run: pass_list,
};
fn pass_list(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let total = positive(given, book, "depth")?;
    let shape = Shape::take(given, book, false)?;
    let (nose, _) = nose(given, book)?;
    let word = given.word("rule")?;
    let rule = if word == "within" {
        let area = given.take::<Area>(book, "area")?;
        let (least, most) = (positive(given, book, "least")?, positive(given, book, "most")?);
        Rule::Within(CutLimits { area: area.bare(), least: least.bare(), most: most.bare() })
    } else {
        let n = given.count(book, "passes")?;
        let n = u32::try_from(n.bare().0).map_err(|_| given.trouble("passes", "so many passes cannot be"))?;
        match word.as_str() {
            "equal area" => Rule::EqualArea(n),
            "falling" => Rule::Falling(n),
            "equal depth" => Rule::EqualDepth(n),
            other => {
                return Err(given
                    .trouble("rule", format!("no rule is called '{other}'"))
                    .cure("within, equal area, falling, equal depth"));
            }
        }
    };
    passes::scheduled(book, "", total, nose, shape.half_angle, rule)?;
    Ok(())
}

static RATIO: Source = Source::derived("fall of the pitch diameter over twice the advance");
static BELIEF: Source = Source::practice("a cutting ratio outside 0.5 to 1.1 is a wrong reading");
pub(super) const CORRECT: Ask = Ask {
    name: "thread.correct",
    says: "next radial advance from the last two readings of the pitch diameter",
    takes: &[
        need("before", "pitch diameter before the last advance"),
        need("after", "pitch diameter after it"),
        need("advance", "radial advance between the two"),
        need("target", "pitch diameter wanted"),
    ],
    gives: &["ratio", "believable", "next"],
    example: "before='2.76 mm' after='2.672 mm' advance='0.05 mm' target='2.618 mm'",
    run: correct,
};
fn correct(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let (before, after) = (given.take::<Diameter>(book, "before")?, given.take::<Diameter>(book, "after")?);
    let advance = positive(given, book, "advance")?;
    let target = given.take::<Diameter>(book, "target")?;
    if after.bare() >= before.bare() {
        return Err(given.trouble("after", "the last advance took nothing off").cure("measure again"));
    }
    let k = work!(book, "ratio", |before, after, advance| cut::cutting_ratio(before, after, advance), &RATIO);
    let ok = judge!(
        book,
        "believable",
        "the cutting ratio can be believed",
        |k| k.value() > cut::LEAST_RATIO && k.value() < cut::MOST_RATIO,
        &BELIEF
    );
    if !ok.bare() {
        book.cure(ok.id(), "measure again before the next cut");
    }
    if after.bare() < target.bare() {
        return Err(given.trouble(
            "after",
            format!(
                "the pitch diameter is already below the target by {}",
                (target.bare() - after.bare()).in_mm()
            ),
        ));
    }
    work!(book, "next", |after, target, k| cut::next_advance(after, target, k), &RATIO);
    Ok(())
}

static TRAVEL: Source = Source::derived("travel is turns times lead");
pub(super) const CARRIAGE: Ask = Ask {
    name: "thread.carriage",
    says: "speed of the carriage while threading, and the fastest turning it allows",
    takes: &[
        THREAD,
        PITCH,
        or("turning", "", "spindle speed"),
        or("most", "", "fastest that the carriage may move"),
    ],
    gives: &["feed", "turning_max"],
    example: "pitch='0.8 mm' most='1200 mm/min'",
    run: |given, book| {
        let pitch = if given.has("thread") {
            basics(book, "thread", &thread(given)?).pitch
        } else {
            positive(given, book, "pitch")?
        };
        let turning = given.take_if::<AngularSpeed>(book, "turning")?;
        let most = given.take_if::<Speed>(book, "most")?;
        if let Some(turning) = turning {
            work!(book, "feed", |turning, pitch| cut::carriage(turning, pitch), &TRAVEL);
        }
        if let Some(most) = most {
            work!(book, "turning_max", |most, pitch| cut::turning_limit(most, pitch), &TRAVEL);
        }
        if turning.is_none() && most.is_none() {
            return Err(
                given.trouble("turning", "give the spindle speed, or the fastest the carriage may move")
            );
        }
        Ok(())
    },
};

static WHEELS: Source = Source::derived("every train of two and four of the shop's wheels");
pub(super) const CHANGE_WHEELS: Ask = Ask {
    name: "thread.change_wheels",
    says: "best train of a shop's change wheels for a lead",
    takes: &[
        THREAD,
        FORM,
        or("lead", "", "advance for one turn; left out: the pitch of the thread"),
        need("leadscrew", "pitch of the leadscrew, such as 1.5 mm or 1/8 in"),
        need("wheels", "tooth counts between commas, each as often as the shop has it"),
        or("fixed", "1", "turns of the first stud for one of the spindle"),
        or("most", "0.002", "largest error of the lead to be listed"),
        or("engaged", "6 mm", "length of thread in the nut"),
        or("clear", "15", "teeth a wheel must stay clear of the next stud; 0 leaves the check out"),
    ],
    gives: &["train", "lead_made", "error", "ppm", "rise", "found"],
    example: "thread='2 BA' leadscrew='1.5 mm' wheels=20,27,30,40,50,60",
    run: change_wheels,
};
fn change_wheels(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let shape = Shape::take(given, book, false)?;
    let lead = match given.take_if::<Length>(book, "lead")?.or(shape.pitch) {
        Some(lead) if lead.bare() > Length::ZERO => lead,
        _ => return Err(given.trouble("lead", "name a thread or give a lead")),
    };
    let leadscrew = positive(given, book, "leadscrew")?;
    let list = given.take_list::<Ratio>(book, "wheels")?;
    let mut counts = Vec::new();
    for wheel in &list {
        let n = wheel.bare().value();
        if n.fract() != 0.0 || !(8.0..=400.0).contains(&n) {
            return Err(given.trouble("wheels", format!("{n} is no tooth count of a change wheel")));
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole and from 8 to 400"
        )]
        counts.push(n as u32);
    }
    if counts.len() > 40 {
        return Err(given.trouble("wheels", "more than 40 wheels are too many to search"));
    }
    let fixed = given.take::<Ratio>(book, "fixed")?;
    let most = given.take::<Ratio>(book, "most")?;
    let engaged = given.take::<Length>(book, "engaged")?;
    let clear = given.count(book, "clear")?;
    if fixed.bare() <= Ratio::ZERO {
        return Err(given.trouble("fixed", "the fixed ratio must be more than nothing"));
    }
    let set = Wheels {
        counts: &counts,
        leadscrew: leadscrew.bare(),
        fixed: fixed.bare(),
        clear: u32::try_from(clear.bare().0).unwrap_or(0),
    };
    let mut inputs = vec![leadscrew.id(), fixed.id(), most.id(), clear.id()];
    inputs.extend(list.iter().map(Val::id));
    let geared = wheels::geared(book, "", &set, lead, most.bare(), inputs)?;
    let error = geared.error;
    work!(book, "ppm", |error| error * 1e6, &WHEELS);
    let a = shape.half_angle;
    work!(book, "rise", |error, engaged, a| wheels::virtual_rise(error, engaged, a), &WHEELS);
    Ok(())
}

static BEAM: Source = Source::derived("beam held at one end").with_formula("F L³ / (3 E I), I = π d⁴ / 64");
pub(super) const SPRING: Ask = Ask {
    name: "thread.spring",
    says: "how far a screw that stands out of the chuck bends under the tool",
    takes: &[
        need("force", "side force at its end"),
        need("overhang", "length outside the chuck"),
        need("core", "diameter of the core"),
        or("elasticity", "200 GPa", "modulus of elasticity"),
    ],
    gives: &["bend"],
    example: "force='20 N' overhang='8 mm' core='2.25 mm'",
    run: |given, book| {
        let f = given.take::<Force>(book, "force")?;
        let l = positive(given, book, "overhang")?;
        let core = positive(given, book, "core")?;
        let e = given.take::<Pressure>(book, "elasticity")?;
        if e.bare() <= Pressure::ZERO {
            return Err(given.trouble("elasticity", "a modulus of elasticity is more than nothing"));
        }
        work!(book, "bend", |f, l, core, e| cut::spring(f, l, core.as_diameter(), e), &BEAM);
        Ok(())
    },
};

static STIFF: Source =
    Source::practice("side force half of the cutting force; bend of the work not above 0.01 mm");
pub(super) const CUT_LIMIT: Ask = Ask {
    name: "thread.cut_limit",
    says: "largest area of one cut that bends a screw no more than allowed",
    takes: &[
        need("overhang", "length outside the chuck"),
        need("core", "diameter of the core"),
        need("specific", "specific cutting force at thin chips"),
        or("bend", "0.01 mm", "how far it may bend"),
        or("elasticity", "200 GPa", "modulus of elasticity"),
    ],
    gives: &["force", "area"],
    example: "overhang='8 mm' core='2.25 mm' specific='3500 N/mm2'",
    run: |given, book| {
        let bend = positive(given, book, "bend")?;
        let l = positive(given, book, "overhang")?;
        let core = positive(given, book, "core")?;
        let e = given.take::<Pressure>(book, "elasticity")?;
        let k = given.take::<Pressure>(book, "specific")?;
        if e.bare() <= Pressure::ZERO || k.bare() <= Pressure::ZERO {
            return Err(given.trouble("specific", "a stress must be more than nothing"));
        }
        let f = work!(
            book,
            "force",
            |bend, l, core, e| cut::force_for_spring(bend, l, core.as_diameter(), e),
            &BEAM
        );
        work!(book, "area", |f, k| passes::area_for_force(f, k), &STIFF);
        Ok(())
    },
};

static NOSE_END: Source = Source::practice("chamfer the end to just below the root");
pub(super) const RUNOUT: Ask = Ask {
    name: "thread.runout",
    says: "run-out, room to a shoulder, relief groove and end chamfer of a screw",
    takes: &[need("thread", "a thread by name")],
    gives: &["runout", "to_shoulder", "groove.diameter", "groove.width", "groove.corner", "chamfer"],
    example: "thread=M3",
    run: |given, book| {
        let t = thread(given)?;
        let b: Basics = basics(book, "", &t);
        ends::runout(book, "", &b);
        ends::groove(book, "", &t, &b);
        let (d, root) = (b.major, b.root);
        work!(book, "chamfer", |d, root| (d - root) / 2.0 + Length::mm(0.02), &NOSE_END);
        Ok(())
    },
};
