//! Questions answered by taking an escapement through a whole cycle.

use super::set_out::{SIDES, anchor_of, dead_beat_of};
use super::{Done, Taken, one_of};
use crate::cycle::{CYCLE, Cycle};
use crate::pin_wheel::{self, PIN_WHEEL, PinWheel};
use crate::recoil::parts::Made;
use reckon::ask::{Param, need, or};
use reckon::{Ask, Book, Given};

const TEETH: Param = need("teeth", "teeth of the escape wheel");
const SPAN: Param = need("span", "whole teeth that the pallets span; half a pitch is added");
const RADIUS: Param = need("radius", "of the wheel over its tips");
const TIP: Param = need("tip", "width of a tooth's tip, at the wheel's arbor");
const ARC: Param = need("arc", "swing from the middle to one side");
const DROP: Param = need("drop", "free turn of the wheel");

/// Steps of a swing; events between steps are found by halving.
const STEPS: u32 = 240;

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "escapement.cycle",
        says: "a dead-beat escapement taken through a whole cycle by its outlines",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            need("lift", "turn of the pallets while a tooth pushes"),
            need("lock", "turn of the pallets from landing to the corner"),
            DROP,
            TIP,
            ARC,
            or("closer", "0 mm", "arbor of the pallets planted closer than designed; below nothing: farther"),
        ],
        gives: &[
            "state",
            "advance",
            "lock_entry",
            "lock_exit",
            "lift_entry",
            "lift_exit",
            "drop_entry",
            "drop_exit",
            "recoil_entry",
            "recoil_exit",
            "lands_entry",
            "lands_exit",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg" arc="2.5 deg""#,
        run: dead_beat,
    },
    Ask {
        name: "escapement.recoil_cycle",
        says: "a recoil anchor taken through a whole cycle by its outlines",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            need("let_off", "turn past the middle where a tooth leaves"),
            DROP,
            TIP,
            ARC,
            or("faces", "arcs", "arcs that fit the constant ratio, or planes"),
            or("tangent", "", "for planes: radius of the circle that they touch"),
        ],
        gives: &[
            "state",
            "advance",
            "lock_entry",
            "lock_exit",
            "lift_entry",
            "lift_exit",
            "drop_entry",
            "drop_exit",
            "recoil_entry",
            "recoil_exit",
            "lands_entry",
            "lands_exit",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" let_off="2 deg" drop="1 deg" tip="0.3 deg" arc="4 deg""#,
        run: recoil,
    },
    Ask {
        name: "escapement.pin_wheel",
        says: "a pin-wheel escapement set out, judged and taken through a whole cycle",
        takes: &[
            need("pins", "pins of the wheel"),
            need("radius", "of the circle on which the pins stand"),
            need("pin", "diameter of a pin"),
            or("at", "60 deg", "angle at the wheel's arbor from the line of centres to the pallets"),
            need("lift", "turn of the pallets while a pin pushes"),
            need("lock", "turn of the pallets from landing to the corner"),
            need("clear", "gap between the resting pin and the nib behind it"),
            ARC,
        ],
        gives: &[
            "pitch",
            "centres",
            "arm",
            "push",
            "drop",
            "inner_lock",
            "inner_off",
            "outer_lock",
            "outer_off",
            "inner_thickness",
            "outer_thickness",
            "pallets_gap",
            "over_all",
            "over_all_rule",
            "inner_lock_x",
            "inner_lock_y",
            "inner_off_x",
            "inner_off_y",
            "outer_lock_x",
            "outer_lock_y",
            "outer_off_x",
            "outer_off_y",
            "gap",
            "nib_thickness",
            "lock_depth",
            "lead",
            "run",
            "verdict",
            "state",
            "advance",
        ],
        example: r#"pins=30 radius="30 mm" pin="1.2 mm" lift="2 deg" lock="0.5 deg" clear="0.15 mm" arc="2.5 deg""#,
        run: pins,
    },
];

fn told(t: &mut Taken<'_, '_>, c: &Cycle) {
    let s = &CYCLE;
    t.word("state", c.state.word(), "the pallets swung to and fro, the wheel pushed on", s);
    t.tell_rad("advance", c.advance, "turn of the wheel in two beats", s);
    for b in &c.beats {
        let w = b.side.word();
        t.word(&format!("lands_{w}"), b.stands.word(), "what touches at the landing", s);
        t.tell_rad(&format!("lands_{w}_at"), b.lands, "pallets at the landing", s);
        t.tell_rad(&format!("lock_{w}"), b.lock, "pallets from landing to unlocking", s);
        t.tell_rad(&format!("lift_{w}"), b.lift, "pallets from unlocking to let-off", s);
        t.tell_rad(&format!("drop_{w}"), b.drop, "wheel from heel past the corner to landing", s);
        t.tell_rad(&format!("free_{w}"), b.free, "wheel from let-off to landing", s);
        t.tell_rad(&format!("push_{w}"), b.pushes, "wheel while it pushes", s);
        t.tell_rad(&format!("run_{w}"), b.run, "swing beyond the landing", s);
        t.tell_rad(&format!("recoil_{w}"), b.recoil, "wheel pushed back", s);
    }
    if let Some(l) = c.behind {
        t.tell_rad("behind", l.gap, "least room between nib and tooth ahead, at the wheel", s);
        t.tell_rad("behind_at", l.pallets, "pallets there", s);
        t.word("behind_nib", l.side.word(), "which nib", s);
    }
    if let Some(l) = c.under {
        t.tell_mm("under", l.gap, "least room between nib and rim", s);
        t.tell_rad("under_at", l.pallets, "pallets there", s);
    }
}
fn dead_beat(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let e = dead_beat_of(&mut t, None)?;
    let closer = t.mm("closer")?;
    let mut made = e.made();
    made.centres -= closer;
    // A corner out of the tips' reach is a trouble here and no cycle.
    made.evaluated().map_err(|_| g.trouble("closer", "the pallets no longer reach the tips"))?;
    let works = made.works(&e.usual_tooth()).map_err(|a| t.amiss(&a))?;
    told(&mut t, &works.cycle(e.sizes.arc, STEPS));
    Ok(())
}
fn recoil(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let a = anchor_of(&mut t, None)?;
    let made = if one_of(g, "faces", &[("arcs", false), ("planes", true)])? {
        match t.mm_if("tangent")? {
            Some(tangent) => Made::Planes { tangent },
            None => return Err(g.trouble("tangent", "planes need the circle that they touch")),
        }
    } else {
        Made::Arcs
    };
    let works = a.works(made, &a.usual_tooth()).map_err(|e| t.amiss(&e))?;
    told(&mut t, &works.cycle(a.sizes.arc, STEPS));
    Ok(())
}
fn pins(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let pins = t.count("pins")?;
    let (radius, pin, at) = (t.mm("radius")?, t.mm("pin")?, t.rad("at")?);
    let (lift, lock, clear, arc) = (t.rad("lift")?, t.rad("lock")?, t.mm("clear")?, t.rad("arc")?);
    let sizes = pin_wheel::Sizes { pins, radius, pin, at, lift, lock, clear, arc };
    let e = PinWheel::new(sizes).map_err(|a| t.amiss(&a))?;
    let p = &PIN_WHEEL;
    t.tell_rad("pitch", e.pitch, "360°/pins", p);
    t.tell_mm("centres", e.centres, "R/cos(at)", p);
    t.tell_mm("arm", e.arm(), "R tan(at)", p);
    t.tell_rad("push", e.push, "p/2 − drop", p);
    t.tell_rad("drop", e.drop, "so large that the resting pin clears the nib behind it", p);
    for (word, (_, side)) in ["outer", "inner"].into_iter().zip(SIDES) {
        let (lock, off) = e.corners(side);
        t.tell_mm(&format!("{word}_lock"), e.locking_radius(side), "dead face from the pallets' arbor", p);
        t.tell_mm(
            &format!("{word}_off"),
            e.let_off_radius(side),
            "let-off corner from the pallets' arbor",
            p,
        );
        t.tell_mm(&format!("{word}_thickness"), e.thickness(side), "let-off − locking radius", p);
        for (end, at) in [("lock", lock), ("off", off)] {
            t.tell_mm(&format!("{word}_{end}_x"), at.x, "right of the line of centres", p);
            t.tell_mm(&format!("{word}_{end}_y"), at.y, "above the wheel's arbor", p);
        }
    }
    t.tell_mm("pallets_gap", e.gap(), "outer locking − inner let-off radius", p);
    t.tell_mm("over_all", e.over_all(), "outer let-off − inner locking radius", p);
    t.tell_mm("over_all_rule", e.over_all_by_rule(), "pin pitch − pin − clearance", p);
    t.checks(&e.checks(), &crate::dead_beat::checks::LIMITS);
    told(&mut t, &e.works().cycle(e.sizes.arc, STEPS));
    Ok(())
}
