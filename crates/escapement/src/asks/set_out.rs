//! Questions about escapements as they are set out.

use super::{Done, Taken, one_of};
use crate::dead_beat::{self, CONSTRUCTION, DeadBeat, Side, checks, impulse};
use crate::recoil::{self, Anchor};
use reckon::ask::{Param, need, or};
use reckon::{Ask, Book, Given, Trouble};

const TEETH: Param = need("teeth", "teeth of the escape wheel");
const SPAN: Param = need("span", "whole teeth that the pallets span; half a pitch is added");
const RADIUS: Param = need("radius", "of the wheel over its tips");
const LIFT: Param = need("lift", "turn of the pallets while a tooth pushes");
const LOCK: Param = need("lock", "turn of the pallets from landing to the corner");
const DROP: Param = need("drop", "free turn of the wheel");
const TIP: Param = need("tip", "width of a tooth's tip, at the wheel's arbor");
const ARC: Param = need("arc", "swing from the middle to one side");
const PALLET: Param = or("pallet", "entry", "entry or exit");

pub(super) static SIDES: [(&str, Side); 2] = [("entry", Side::Entry), ("exit", Side::Exit)];

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "escapement.dead_beat",
        says: "a dead-beat escapement set out and judged",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            LIFT,
            LOCK,
            DROP,
            TIP,
            ARC,
            or("undercut", "8 deg", "front of the tooth behind the radius"),
            or("back", "20 deg", "back of the tooth behind the radius"),
            or("depth", "", "of the teeth; deep enough for the nibs when left out"),
            or("dead", "", "dead face as an angle about the arbor; what the swing needs when left out"),
            or("shake", "0 mm", "side shake of the pallets' pivots"),
            or("friction", "0.1", "coefficient of friction of tooth on pallet"),
        ],
        gives: &[
            "pitch",
            "half_span",
            "centres",
            "width",
            "arm",
            "outer",
            "inner",
            "before",
            "past",
            "e1_x",
            "e1_y",
            "e2_x",
            "e2_y",
            "x1_x",
            "x1_y",
            "x2_x",
            "x2_y",
            "tangent_entry",
            "tangent_exit",
            "nib_entry",
            "nib_exit",
            "lock_entry_depth",
            "lock_exit_depth",
            "lock_mean_depth",
            "behind_entry",
            "behind_exit",
            "off_square_entry",
            "off_square_exit",
            "ratio",
            "efficiency_entry",
            "efficiency_exit",
            "efficiency_rule",
            "used_turn",
            "least_arc",
            "needs_arc",
            "drop_out",
            "drop_in",
            "drops_apart",
            "lock_depth",
            "dead_face",
            "nib_depth",
            "behind_nib",
            "front_clear",
            "off_square",
            "lift_over_lock",
            "run",
            "run_ok",
            "verdict",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg" arc="2.5 deg""#,
        run: dead_beat,
    },
    Ask {
        name: "escapement.push",
        says: "torque ratio at one place of a dead-beat impulse",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            LIFT,
            LOCK,
            DROP,
            TIP,
            PALLET,
            or("share", "0.5", "how far through the impulse, 0 to 1"),
        ],
        gives: &["ratio", "pallets", "wheel"],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg""#,
        run: push,
    },
    Ask {
        name: "escapement.recoil",
        says: "a recoil anchor with faces of constant ratio, set out and judged",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            need("let_off", "turn past the middle where a tooth leaves"),
            DROP,
            TIP,
            ARC,
        ],
        gives: &[
            "pitch",
            "half_span",
            "centres",
            "arm",
            "advance",
            "ratio",
            "entry_from_x",
            "entry_from_y",
            "entry_to_x",
            "entry_to_y",
            "exit_from_x",
            "exit_from_y",
            "exit_to_x",
            "exit_to_y",
            "entry_radius",
            "entry_centre_x",
            "entry_centre_y",
            "entry_misfit",
            "exit_radius",
            "exit_centre_x",
            "exit_centre_y",
            "exit_misfit",
            "drop_out",
            "drop_in",
            "drops_apart",
            "recoil",
            "recoil_limit",
            "recoil_ok",
            "swing",
            "verdict",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" let_off="2 deg" drop="1 deg" tip="0.3 deg" arc="4 deg""#,
        run: recoil_anchor,
    },
    Ask {
        name: "escapement.plane_faces",
        says: "a recoil anchor with plane faces that touch a circle about its arbor",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            need("let_off", "turn past the middle where a tooth leaves"),
            TIP,
            ARC,
            need("tangent", "radius of the circle that the faces touch"),
        ],
        gives: &[
            "lead",
            "ratio",
            "entry_from_x",
            "entry_from_y",
            "entry_to_x",
            "entry_to_y",
            "exit_from_x",
            "exit_from_y",
            "exit_to_x",
            "exit_to_y",
            "entry_advance",
            "exit_advance",
            "entry_recoil",
            "exit_recoil",
            "entry_ratio_full",
            "entry_ratio_catch",
            "entry_ratio_off",
            "exit_ratio_full",
            "exit_ratio_catch",
            "exit_ratio_off",
            "drop_out",
            "drop_in",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" let_off="2 deg" tip="0.3 deg" arc="4 deg" tangent="17 mm""#,
        run: plane_faces,
    },
    Ask {
        name: "escapement.lead",
        says: "angle and torque ratio of plane faces that touch a circle about the anchor's arbor",
        takes: &[
            RADIUS,
            need("half_span", "half of the span, at the wheel's arbor"),
            need("tangent", "radius of the circle"),
        ],
        gives: &["lead", "ratio"],
        example: r#"radius="25 mm" half_span="45 deg" tangent="12.5 mm""#,
        run: lead,
    },
];

/// The sizes of a dead-beat escapement.
pub(super) fn dead_beat_of(t: &mut Taken<'_, '_>, arc: Option<f64>) -> Result<DeadBeat, Trouble> {
    let (teeth, span) = (t.count("teeth")?, t.count("span")?);
    let radius = t.mm("radius")?;
    let (lift, lock, drop, tip) = (t.rad("lift")?, t.rad("lock")?, t.rad("drop")?, t.rad("tip")?);
    let arc = match arc {
        Some(arc) => arc,
        None => t.rad("arc")?,
    };
    let sizes = dead_beat::Sizes { teeth, span, radius, lift, lock, drop, tip, arc };
    DeadBeat::new(sizes).map_err(|a| t.amiss(&a))
}

fn dead_beat(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let e = dead_beat_of(&mut t, None)?;
    let mut tooth = e.usual_tooth();
    tooth.undercut = t.rad("undercut")?;
    tooth.back = t.rad("back")?;
    if !(-0.1..1.2).contains(&tooth.undercut) || !(-0.1..1.2).contains(&tooth.back) {
        return Err(g.trouble("undercut", "front and back lean less than 68 degrees from the radius"));
    }
    if let Some(depth) = t.mm_if("depth")? {
        tooth.depth = depth;
    }
    let dead = t.rad_if("dead")?.unwrap_or(e.sizes.arc - e.before + checks::LEAST_RUN);
    let (shake, mu) = (t.mm("shake")?, t.ratio("friction")?);
    if !(0.0..=1.0).contains(&mu) {
        return Err(g.trouble("friction", "between 0 and 1"));
    }
    let c = &CONSTRUCTION;
    t.tell_rad("pitch", e.pitch, "p = 360°/z", c);
    t.tell_rad("half_span", e.half_span, "ψ = (k + ½) p/2", c);
    t.tell_mm("centres", e.centres, "C = R/cos ψ", c);
    t.tell_rad("width", e.width, "w = p/2 − drop − tip", c);
    t.tell_mm("arm", e.arm, "R tan ψ", c);
    t.tell_mm("outer", e.outer, "r² = R² + C² − 2 R C cos(ψ + w/2)", c);
    t.tell_mm("inner", e.inner, "r² = R² + C² − 2 R C cos(ψ − w/2)", c);
    t.tell_rad("before", e.before, "(lift − lock)/2", c);
    t.tell_rad("past", e.past, "(lift + lock)/2", c);
    for (name, p) in [("e1", e.e1), ("e2", e.e2), ("x1", e.x1), ("x2", e.x2)] {
        t.tell_mm(&format!("{name}_x"), p.x, "right of the line of centres", c);
        t.tell_mm(&format!("{name}_y"), p.y, "above the wheel's arbor", c);
    }
    for (word, side) in SIDES {
        t.tell_mm(&format!("tangent_{word}"), e.tangent_radius(side), "|AP1 × AP2| / P1P2", c);
        t.tell_mm(
            &format!("nib_{word}"),
            e.penetration(side),
            "tip radius less the corner's at full swing",
            c,
        );
        t.tell_mm(&format!("lock_{word}_depth"), e.lock_depth(side), "lock × radius of the dead face", c);
        t.tell_rad(
            &format!("behind_{word}"),
            e.back_clearance(side, &tooth),
            "back of the next tooth − corner",
            c,
        );
        t.tell_rad(&format!("off_square_{word}"), e.off_square(side), "angle OPA − 90°", c);
        let mu_is =
            e.efficiency(side, mu).ok_or_else(|| g.trouble("lift", "the tips lose the impulse plane"))?;
        t.tell(&format!("efficiency_{word}"), mu_is, "∫ torque dθ / w with friction", &impulse::FRICTION);
    }
    t.tell_mm("lock_mean_depth", e.sizes.lock * e.arm, "lock × arm", c);
    t.tell("ratio", e.mean_ratio(), "w/lift", &impulse::RATIO);
    t.tell("efficiency_rule", e.efficiency_by_rule(mu), "tan ε/tan(ε + φ)", &impulse::FRICTION);
    t.tell("used_turn", e.used_turn(), "w/(p/2)", c);
    t.tell_rad("least_arc", e.past, "(lift + lock)/2", c);
    t.tell_rad("needs_arc", e.past + checks::LEAST_RUN, "(lift + lock)/2 + run", &checks::LIMITS);
    t.checks(&e.checks(&tooth, dead, shake), &checks::LIMITS);
    Ok(())
}
fn push(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let e = dead_beat_of(&mut t, Some(0.1))?;
    let side = one_of(g, "pallet", &SIDES)?;
    let share = t.ratio("share")?;
    if !(0.0..=1.0).contains(&share) {
        return Err(g.trouble("share", "between 0 and 1"));
    }
    let p = e.push(side, share).ok_or_else(|| g.trouble("lift", "the tips lose the impulse plane"))?;
    t.tell("ratio", p.ratio, "|AP × n| / |OP × n|", &impulse::RATIO);
    t.tell_rad("pallets", p.pallets, "turn of the pallets, counter-clockwise", &impulse::RATIO);
    t.tell_rad("wheel", p.wheel, "tip of the tooth, clockwise from the line of centres", &impulse::RATIO);
    Ok(())
}
/// The sizes of an anchor.
pub(super) fn anchor_of(t: &mut Taken<'_, '_>, drop: Option<f64>) -> Result<Anchor, Trouble> {
    let (teeth, span, radius) = (t.count("teeth")?, t.count("span")?, t.mm("radius")?);
    let let_off = t.rad("let_off")?;
    let drop = match drop {
        Some(d) => d,
        None => t.rad("drop")?,
    };
    let (tip, arc) = (t.rad("tip")?, t.rad("arc")?);
    Anchor::new(recoil::Sizes { teeth, span, radius, let_off, drop, tip, arc }).map_err(|a| t.amiss(&a))
}
fn recoil_anchor(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let a = anchor_of(&mut t, None)?;
    let f = &recoil::FACES;
    t.tell_rad("pitch", a.pitch, "p = 360°/z", f);
    t.tell_rad("half_span", a.half_span, "ψ = (k + ½) p/2", f);
    t.tell_mm("centres", a.centres, "C = R/cos ψ", f);
    t.tell_mm("arm", a.arm, "R tan ψ", f);
    t.tell_rad("advance", a.advance, "w = p/2 − drop − tip", f);
    t.tell("ratio", a.ratio, "κ = w/(2 v)", f);
    for (word, side) in SIDES {
        let (from, to) = (a.face_point(side, a.sizes.arc), a.face_point(side, -a.sizes.let_off));
        let arc = a.face_arc(side);
        for (end, p) in [("from", from), ("to", to), ("centre", arc.centre)] {
            t.tell_mm(&format!("{word}_{end}_x"), p.x, "right of the line of centres", f);
            t.tell_mm(&format!("{word}_{end}_y"), p.y, "above the wheel's arbor", f);
        }
        t.tell_mm(&format!("{word}_radius"), arc.radius, "circle nearest to the face", f);
        t.tell_mm(&format!("{word}_misfit"), arc.misfit, "largest departure of the face from it", f);
    }
    t.checks(&a.checks(), &recoil::RECOIL_LIMIT);
    Ok(())
}
fn plane_faces(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let a = anchor_of(&mut t, Some(0.0))?;
    let tangent = t.mm("tangent")?;
    let p = &recoil::PLANE_FACES;
    for (word, side) in SIDES {
        let face = a.plane_face(side, tangent).map_err(|e| t.amiss(&e))?;
        if side == Side::Entry {
            t.tell_rad("lead", face.lead, "ε = asin(r_t/(R tan ψ))", p);
            t.tell("ratio", face.ratio, "κ = tan ψ/tan ε", p);
        }
        for (end, at) in [("from", face.from), ("to", face.to)] {
            t.tell_mm(&format!("{word}_{end}_x"), at.x, "right of the line of centres", p);
            t.tell_mm(&format!("{word}_{end}_y"), at.y, "above the wheel's arbor", p);
        }
        t.tell_rad(&format!("{word}_advance"), face.advance, "turn of the wheel from catch to let-off", p);
        t.tell_rad(
            &format!("{word}_recoil"),
            face.recoil,
            "turn of the wheel from catch back to full swing",
            p,
        );
        for (place, ratio) in ["full", "catch", "off"].into_iter().zip(face.ratios) {
            t.tell(&format!("{word}_ratio_{place}"), ratio, "|AP × n| / |OP × n|", p);
        }
    }
    let (out, into) = a.plane_drops(tangent).map_err(|e| t.amiss(&e))?;
    t.tell_rad("drop_out", out, "entry let off: catch at the exit − let-off − tip", p);
    t.tell_rad("drop_in", into, "exit let off: catch at the entry − let-off − tip", p);
    Ok(())
}
fn lead(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let (radius, half, tangent) = (t.mm("radius")?, t.rad("half_span")?, t.mm("tangent")?);
    if !(0.05..1.5).contains(&half) {
        return Err(g.trouble("half_span", "between 3 and 85 degrees"));
    }
    let (lead, ratio) = recoil::plane_lead(radius, half, tangent).map_err(|a| t.amiss(&a))?;
    t.tell_rad("lead", lead, "ε = asin(r_t/(R tan ψ))", &recoil::PLANE_FACES);
    t.tell("ratio", ratio, "κ = tan ψ/tan ε", &recoil::PLANE_FACES);
    Ok(())
}
