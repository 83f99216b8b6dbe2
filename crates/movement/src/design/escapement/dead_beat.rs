//! A dead-beat escapement set out.

use super::found::{SIDES, beats, cycled, slope_cell};
use super::{Acting, Common, Drawing, Enter, EscapementDesign, Piece, RUN, about};
use ::escapement::dead_beat::checks::ToothForm;
use ::escapement::dead_beat::impulse::RATIO;
use ::escapement::dead_beat::{CONSTRUCTION, DeadBeat, Sizes};
use ::escapement::outline::Body;
use ::escapement::sensitivity::{SENSITIVITY, Size, slope, slopes};
use ::escapement::setting_out::{Mark, SettingOut};
use reckon::{Angle, Book, Cell, Id, Trouble, work};

/// Corners by their names.
const CORNERS: [&str; 4] = ["e1", "e2", "x1", "x2"];

pub(super) fn set_out(
    c: &Common<'_>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let e = c.e;
    let (lift, lock, drop, tip, arc) = (e.lift?, e.lock?, e.drop, e.tip_width, e.running_arc);
    let (span, whole) = c.span(book, troubles)?;
    let sizes = Sizes {
        teeth: c.teeth,
        span: whole,
        radius: c.r(),
        lift: lift.bare().value(),
        lock: lock.bare().value(),
        drop: drop.bare().value(),
        tip: tip.bare().value(),
        arc: arc.bare().value(),
    };
    // A wheel that is made, and holes that are drilled: the pallets alone are free, and are set out for them.
    let stands = c.planted.filter(|_| c.drilled);
    let set = stands.map_or_else(|| DeadBeat::new(sizes), |mm| DeadBeat::planted(sizes, mm));
    let k = match set {
        Ok(k) => k,
        Err(amiss) => {
            troubles.push(c.refused(&amiss, book));
            return None;
        }
    };
    let (pitch, radius) = (c.pitch, c.radius);
    let half_span = work!(book, "escapement.half_span", |pitch, span| pitch * span / 2.0, &CONSTRUCTION);
    let centres =
        work!(book, "escapement.centres", |radius, half_span| radius / half_span.cos(), &CONSTRUCTION);
    let centres = stands.map_or(centres, |mm| {
        let how = ("as the holes are drilled", 1, 0.0);
        let name = "escapement.centres.to_suit".to_owned();
        book.solved(name, reckon::Length::mm(mm), how, vec![centres.id()], &CONSTRUCTION)
    });
    let width = work!(book, "escapement.width", |pitch, drop, tip| pitch / 2.0 - drop - tip, &CONSTRUCTION);
    let arm = work!(
        book,
        "escapement.arm",
        |radius, half_span| radius * reckon::maths::tan(half_span.value()),
        &CONSTRUCTION
    );
    let before = work!(book, "escapement.impulse.before", |lift, lock| (lift - lock) / 2.0, &CONSTRUCTION);
    let past = work!(book, "escapement.impulse.past", |lift, lock| (lift + lock) / 2.0, &CONSTRUCTION);
    let needed = work!(book, "escapement.arc_needed", |past| past + Angle::si(0.3_f64.to_radians()), &RUN);
    c.runs(needed, "less lift or less lock", troubles)?;
    let ratio = work!(book, "escapement.ratio", |width, lift| width / lift, &RATIO);
    let run = work!(book, "escapement.run", |arc, past| arc - past, &RUN);
    let lock_depth = work!(book, "escapement.lock_on_arm", |arm, lock| arm * lock.value(), &CONSTRUCTION);

    let tooth = k.usual_tooth();
    let works = match k.works(&tooth) {
        Ok(w) => w,
        Err(amiss) => {
            troubles.push(c.refused(&amiss, book));
            return None;
        }
    };
    let cycle = cycled(c, &works, book, troubles)?;
    let inputs =
        vec![e.teeth.id(), span.id(), radius.id(), lift.id(), lock.id(), drop.id(), tip.id(), arc.id()];
    let mut enter =
        Enter { book, inputs, source: &CONSTRUCTION, how: "tips of the teeth turned back with the pallets" };
    let outer = enter.mm("radius_outer", k.outer);
    let inner = enter.mm("radius_inner", k.inner);
    let corners = corners(&mut enter, &k);
    let mut told = vec![
        ("distance of the arbors".to_owned(), centres.id()),
        ("from tooth to tooth".to_owned(), pitch.id()),
        ("width of a pallet, at the wheel".to_owned(), width.id()),
        ("arm: pallets' arbor to the middle of the impulse".to_owned(), arm.id()),
        ("impulse before the middle".to_owned(), before.id()),
        ("impulse past the middle".to_owned(), past.id()),
        ("outer radius of the nibs".to_owned(), outer.id()),
        ("inner radius of the nibs".to_owned(), inner.id()),
        ("lock on the arm".to_owned(), lock_depth.id()),
        ("mean torque ratio".to_owned(), ratio.id()),
        ("swing needed".to_owned(), needed.id()),
        ("run at the running arc".to_owned(), run.id()),
    ];
    for side in SIDES {
        let word = side.word();
        let tangent = enter.mm(&format!("tangent_radius.{word}"), k.tangent_radius(side));
        told.push((format!("circle that the {word} impulse plane touches, radius"), tangent.id()));
        enter.mm(&format!("impulse_plane.{word}"), k.plane(side));
        enter.mm(&format!("penetration.{word}"), k.penetration(side));
    }
    let dead = enter.angle("dead_face_made", sizes.arc - k.before + 0.5_f64.to_radians());
    told.push(("length of the dead faces about the arbor".to_owned(), dead.id()));
    let tooth_ids = tooth_sizes(&mut enter, &tooth, c.r());
    told.extend(tooth_ids.told);
    enter.checks(&k.checks(&tooth, dead.bare().value(), 0.02), &["run"]);
    let efficiency = ratios(&mut enter, &k);
    told.extend(efficiency);
    let set = [
        ("lock", [Some(sizes.lock); 2]),
        ("lift", [Some(sizes.lift); 2]),
        ("drop", [Some(sizes.drop); 2]),
        ("run", [Some(sizes.arc - k.past); 2]),
        ("recoil", [Some(0.0); 2]),
    ];
    let cycled = beats(&mut enter, &cycle, &set, k.past);
    let recoil = enter.angle("recoil", 0.0);
    let (sensitivity, tolerance) = sensitivities(&mut enter, &k);
    let body = body(k.usual_body(), c.r(), c.bore);
    let outline = k.pallets_outline(dead.bare().value(), &body);
    let wheel = k.wheel_outline(&tooth);
    let (outline, wheel) = match (outline, wheel) {
        (Ok(a), Ok(b)) => (a, b),
        (Err(amiss), _) | (_, Err(amiss)) => {
            troubles.push(c.refused(&amiss, enter.book));
            return None;
        }
    };
    let drawing = drawing(&k.setting_out(), &[wheel.clone(), outline.clone()]);
    Some(EscapementDesign {
        kind: e.kind,
        centres,
        pitch,
        advance: width,
        ratio,
        lift,
        lock: Some(lock),
        drop: Some(drop),
        arc_needed: needed,
        recoil,
        wheel,
        root: tooth_ids.root,
        depth: tooth_ids.depth,
        pins: Vec::new(),
        pieces: vec![Piece {
            name: "pallets".to_owned(),
            slug: "escapement.pallets".to_owned(),
            outline: about(&outline, k.arbor()),
            holes: Vec::new(),
            joint: None,
        }],
        acting: Acting::Faces { works, reach: Some(sizes.arc + 0.5_f64.to_radians()) },
        drawing,
        told,
        corners,
        cycled,
        sensitivity,
        tolerance,
    })
}
/// Boss and arms that a bore leaves metal on.
pub(super) fn body(usual: Body, radius: f64, bore: f64) -> Body {
    let arm = usual.arm.max(0.06 * radius);
    Body { arm, boss: usual.boss.max(bore + 2.4).max(arm + 1.0), ..usual }
}
/// Sizes of the teeth for cutter and sheet.
pub(super) struct ToothSizes {
    pub(super) root: reckon::Val<reckon::Length>,
    pub(super) depth: reckon::Val<reckon::Length>,
    pub(super) told: Vec<(String, Id)>,
}
/// Enters the form of the teeth.
pub(super) fn tooth_sizes(enter: &mut Enter<'_>, tooth: &ToothForm, radius: f64) -> ToothSizes {
    let depth = enter.mm("tooth.depth", tooth.depth);
    let root = enter.mm("tooth.root_radius", radius - tooth.depth);
    let front = enter.angle("tooth.front", tooth.undercut);
    let back = enter.angle("tooth.back", tooth.back);
    let fillet = enter.mm("tooth.fillet", tooth.fillet);
    let told = vec![
        ("depth of the teeth".to_owned(), depth.id()),
        ("front of a tooth behind the radius".to_owned(), front.id()),
        ("back of a tooth behind the radius".to_owned(), back.id()),
        ("corner of the tooth space, radius".to_owned(), fillet.id()),
    ];
    ToothSizes { root, depth, told }
}
fn corners(enter: &mut Enter<'_>, k: &DeadBeat) -> Id {
    let p = k.pallets();
    let says = ["entry, unlocks", "entry, lets off", "exit, unlocks", "exit, lets off"];
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for ((name, corner), what) in CORNERS.iter().zip([p.e1, p.e2, p.x1, p.x2]).zip(says) {
        let (x, y, r) = enter.point(&format!("corner.{name}"), corner);
        ids.extend([x.id(), y.id(), r.id()]);
        rows.push(vec![
            Cell::word(name.to_uppercase()),
            Cell::word(what),
            Cell::of(&x.bare()),
            Cell::of(&y.bare()),
            Cell::of(&r.bare()),
        ]);
    }
    enter.book.table(
        "escapement.corners",
        &["corner", "", "x", "y", "from the bore"],
        rows,
        "from the pallets' bore, pallets in the middle of their swing, y away from the wheel",
        ids,
        &CONSTRUCTION,
    )
}
fn ratios(enter: &mut Enter<'_>, k: &DeadBeat) -> Vec<(String, Id)> {
    let source = enter.source;
    enter.source = &RATIO;
    for side in SIDES {
        let word = side.word();
        for (share, at) in [(0.5 / 201.0, "start"), (0.5, "middle"), (1.0 - 0.5 / 201.0, "end")] {
            if let Some(push) = k.push(side, share) {
                enter.ratio(&format!("ratio.{word}.{at}"), push.ratio);
            }
        }
    }
    enter.source = source;
    let used = enter.ratio("used_turn", k.used_turn());
    vec![("share of the wheel's turn that pushes".to_owned(), used.id())]
}
/// The table of slopes, and what error of the distance takes a tenth of a degree of lock.
fn sensitivities(enter: &mut Enter<'_>, k: &DeadBeat) -> (Option<Id>, f64) {
    let made = k.made();
    let tolerance = slope(&made, Size::Centres).map_or(0.05, |s| {
        let most = [s.lock_entry, s.lock_exit, s.drop_out, s.drop_in]
            .into_iter()
            .fold(0.0, |m: f64, x| m.max(x.abs()));
        if most > 0.0 { 0.1_f64.to_radians() / most } else { 0.05 }
    });
    let Ok(all) = slopes(&made) else { return (None, tolerance) };
    let rows = all
        .iter()
        .filter(|s| !matches!(s.size, Size::CornerX(_) | Size::CornerY(_)))
        .map(|s| {
            let mut row = vec![Cell::word(s.size.says())];
            row.extend(
                [s.lock_entry, s.lock_exit, s.drop_out, s.drop_in, s.lift_entry, s.lift_exit].map(slope_cell),
            );
            row
        })
        .collect();
    let id = enter.book.table(
        "escapement.sensitivity",
        &[
            "0.01 mm more of",
            "lock entry",
            "lock exit",
            "drop, entry lets off",
            "drop, exit lets off",
            "lift entry",
            "lift exit",
        ],
        rows,
        "each size in turn a little larger, all others kept; degrees for a hundredth of a millimetre",
        enter.inputs.clone(),
        &SENSITIVITY,
    );
    (Some(id), tolerance)
}
/// The construction as it is drawn.
pub(super) fn drawing(out: &SettingOut, outlines: &[shape::profile::Profile]) -> Drawing {
    let mut d = Drawing { outlines: outlines.to_vec(), ..Drawing::default() };
    for m in &out.marks {
        match m {
            Mark::Point { at, label } => d.points.push((*at, label.clone())),
            Mark::Line { from, to, .. } => d.lines.push((*from, *to)),
            Mark::Circle { centre, radius, .. } => d.circles.push((*centre, *radius)),
        }
    }
    d.windows = out.windows.iter().map(|w| (w.centre, w.half, w.label.clone())).collect();
    d
}
