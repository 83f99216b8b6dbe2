//! A recoil anchor set out.

use super::dead_beat::{body, drawing, tooth_sizes};
use super::found::{SIDES, STEPS, beats, cycled, slope_cell};
use super::{Acting, Common, Enter, EscapementDesign, Piece, RUN, about};
use ::escapement::cycle::{Cycle, Nib, State, Works, moved};
use ::escapement::dead_beat::impulse::RATIO;
use ::escapement::dead_beat::{CONSTRUCTION, Side};
use ::escapement::recoil::parts::Made;
use ::escapement::recoil::{Anchor, FACES, Sizes};
use kurbo::Vec2;
use reckon::{Angle, Book, Cell, Id, Trouble, work};

/// What moving something by this much tells, millimetres.
const STEP: f64 = 0.01;

pub(super) fn set_out(
    c: &Common<'_>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let e = c.e;
    let (let_off, drop, tip, arc) = (e.let_off?, e.drop, e.tip_width, e.running_arc);
    let (span, whole) = c.span(book, troubles)?;
    let needed =
        work!(book, "escapement.arc_needed", |let_off| let_off + Angle::si(0.3_f64.to_radians()), &RUN);
    c.runs(needed, "a smaller let_off", troubles)?;
    let sizes = Sizes {
        teeth: c.teeth,
        span: whole,
        radius: c.r(),
        let_off: let_off.bare().value(),
        drop: drop.bare().value(),
        tip: tip.bare().value(),
        arc: arc.bare().value(),
    };
    let k = match Anchor::new(sizes) {
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
    let advance = work!(book, "escapement.advance", |pitch, drop, tip| pitch / 2.0 - drop - tip, &FACES);
    let arm = work!(
        book,
        "escapement.arm",
        |radius, half_span| radius * reckon::maths::tan(half_span.value()),
        &CONSTRUCTION
    );
    let ratio = work!(book, "escapement.ratio", |advance, let_off| advance / (let_off * 2.0), &FACES);
    let lift = work!(book, "escapement.lift_both_sides", |let_off| let_off * 2.0, &FACES);
    let recoil = work!(book, "escapement.recoil", |ratio, arc, let_off| (arc - let_off) * ratio, &FACES);
    let run = work!(book, "escapement.run", |arc, let_off| arc - let_off, &RUN);
    let tooth = k.usual_tooth();
    let works = match k.works(Made::Arcs, &tooth) {
        Ok(w) => w,
        Err(amiss) => {
            troubles.push(c.refused(&amiss, book));
            return None;
        }
    };
    let cycle = cycled(c, &works, book, troubles)?;
    let inputs = vec![e.teeth.id(), span.id(), radius.id(), let_off.id(), drop.id(), tip.id(), arc.id()];
    let mut enter =
        Enter { book, inputs, source: &FACES, how: "tip of the tooth followed in the frame of the anchor" };
    let mut told = vec![
        ("distance of the arbors".to_owned(), centres.id()),
        ("from tooth to tooth".to_owned(), pitch.id()),
        ("turn of the wheel that pushes".to_owned(), advance.id()),
        ("arm: anchor's arbor to the middle of a face".to_owned(), arm.id()),
        ("torque ratio, the same all along the faces".to_owned(), ratio.id()),
        ("recoil at the running arc".to_owned(), recoil.id()),
        ("swing needed".to_owned(), needed.id()),
        ("run at the running arc".to_owned(), run.id()),
    ];
    let corners = corners(&mut enter, &k, &mut told);
    let tooth_ids = tooth_sizes(&mut enter, &tooth, c.r());
    told.extend(tooth_ids.told);
    recoil_kept(&mut enter, &k, recoil);
    enter.checks(&k.checks(), &["recoil", "swing"]);
    let set = [
        ("drop", [Some(sizes.drop); 2]),
        ("pushes", [None; 2]),
        ("recoil", [Some(k.recoil(sizes.arc)); 2]),
        ("run", [Some(sizes.arc - sizes.let_off); 2]),
    ];
    let cycled = beats(&mut enter, &cycle, &set, sizes.let_off);
    let (sensitivity, tolerance) = sensitivities(&mut enter, &works, &cycle, sizes.arc);
    let body = body(k.usual_body(), c.r(), c.bore);
    let (outline, wheel) = match (k.outline(Made::Arcs, &body), k.wheel_outline(&tooth)) {
        (Ok(a), Ok(b)) => (a, b),
        (Err(amiss), _) | (_, Err(amiss)) => {
            troubles.push(c.refused(&amiss, enter.book));
            return None;
        }
    };
    let mut drawing = drawing(&k.setting_out(5), &[wheel.clone(), outline.clone()]);
    // Five points on each face would hide each other's names: only the ends keep theirs.
    for (_, label) in &mut drawing.points {
        for (long, short) in [("entry 1", "E1"), ("entry 5", "E2"), ("exit 1", "X1"), ("exit 5", "X2")] {
            if label == long {
                short.clone_into(label);
            }
        }
        if label.starts_with("entry ") || label.starts_with("exit ") {
            label.clear();
        }
    }
    Some(EscapementDesign {
        kind: e.kind,
        centres,
        pitch,
        advance,
        ratio,
        lift,
        lock: None,
        drop: Some(drop),
        arc_needed: needed,
        recoil,
        wheel,
        root: tooth_ids.root,
        depth: tooth_ids.depth,
        pins: Vec::new(),
        pieces: vec![Piece {
            name: "anchor".to_owned(),
            slug: "escapement.pallets".to_owned(),
            outline: about(&outline, k.arbor()),
            holes: Vec::new(),
            joint: None,
        }],
        acting: Acting::Faces { works, reach: None },
        drawing,
        told,
        corners,
        cycled,
        sensitivity,
        tolerance,
    })
}
/// The recoil against its limit.
fn recoil_kept(enter: &mut Enter<'_>, k: &Anchor, recoil: reckon::Val<Angle>) {
    let limit = enter.book.tabled(
        "escapement.recoil.limit",
        Angle::si(k.pitch / 3.0),
        "a third of a pitch",
        &::escapement::recoil::RECOIL_LIMIT,
    );
    let kept = reckon::judge!(
        enter.book,
        "escapement.recoil.kept",
        "the wheel is not pushed back further than a third of a pitch",
        |recoil, limit| recoil <= limit,
        &::escapement::recoil::RECOIL_LIMIT
    );
    if !kept.bare() {
        enter.book.cure(kept.id(), "a smaller running arc, or a larger let-off");
    }
}
/// Points of both faces from the arbor, and the arcs that stand for them.
fn corners(enter: &mut Enter<'_>, k: &Anchor, told: &mut Vec<(String, Id)>) -> Id {
    let a = k.arbor();
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for side in SIDES {
        let word = side.word();
        let letter = if side == Side::Entry { "E" } else { "X" };
        let face = k.face(side, 5);
        for (i, p) in face.iter().enumerate() {
            let (x, y, r) = enter.point(&format!("face.{word}.{}", i + 1), *p - a);
            ids.extend([x.id(), y.id(), r.id()]);
            let (name, what) = match i {
                0 => (format!("{letter}1"), format!("{word}, full swing")),
                4 => (format!("{letter}2"), format!("{word}, lets off")),
                _ => (String::new(), format!("{word} face")),
            };
            rows.push(vec![
                Cell::word(name),
                Cell::word(what),
                Cell::of(&x.bare()),
                Cell::of(&y.bare()),
                Cell::of(&r.bare()),
            ]);
        }
        let arc = k.face_arc(side);
        enter.point(&format!("face.{word}.centre"), arc.centre - a);
        let radius = enter.mm(&format!("face.{word}.arc"), arc.radius);
        let misfit = enter.mm(&format!("face.{word}.misfit"), arc.misfit);
        let (x, y) = (arc.centre.x - a.x, arc.centre.y - a.y);
        rows.push(vec![
            Cell::word(""),
            Cell::word(format!("centre of the {word} face's arc, {} radius", radius.shown())),
            Cell::of(&reckon::Length::mm(x)),
            Cell::of(&reckon::Length::mm(y)),
            Cell::word(""),
        ]);
        told.push((format!("radius of the {word} face"), radius.id()));
        told.push((format!("departure of that arc from the true {word} face"), misfit.id()));
    }
    enter.book.table(
        "escapement.corners",
        &["point", "", "x", "y", "from the bore"],
        rows,
        "from the anchor's bore, anchor in the middle of its swing, y away from the wheel",
        ids,
        &FACES,
    )
}
/// The works with the anchor's arbor and nibs moved.
fn shifted(w: &Works, arbor: Vec2, entry: Vec2, exit: Vec2) -> Works {
    let nib = |n: &Nib, by: Vec2| Nib {
        chain: n.chain.iter().map(|s| slid(s, by)).collect(),
        faces: n.faces.clone(),
    };
    Works {
        wheel: w.wheel.clone(),
        arbor: w.arbor + arbor,
        entry: nib(&w.entry, entry),
        exit: nib(&w.exit, exit),
    }
}
fn slid(s: &shape::segment::Segment, by: Vec2) -> shape::segment::Segment {
    use shape::segment::Segment;
    match *s {
        Segment::Line { from, to } => Segment::Line { from: from + by, to: to + by },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: from + by, to: to + by, centre: centre + by, radius, sense }
        }
    }
}
/// Drops and recoils: entry's, exit's.
fn four(c: &Cycle) -> Option<[f64; 4]> {
    if c.state != State::Goes {
        return None;
    }
    let (n, x) = (c.beat(Side::Entry)?, c.beat(Side::Exit)?);
    Some([n.drop, x.drop, n.recoil, x.recoil])
}
/// Slopes of drops and recoil by cycling works a little altered, and what error of the distance changes a
/// drop by a tenth of a degree.
fn sensitivities(enter: &mut Enter<'_>, works: &Works, cycle: &Cycle, arc: f64) -> (Option<Id>, f64) {
    let Some(base) = four(cycle) else { return (None, 0.05) };
    let up = Vec2::new(0.0, STEP);
    let turned = |side: Side| -> Works {
        let mut w = works.clone();
        let nib = if side == Side::Entry { &mut w.entry } else { &mut w.exit };
        let reach = ::escapement::frame::apart(nib.chain[1].to(), works.arbor);
        // A nib longer: further into the wheel, along its circle about the arbor.
        let by = if side == Side::Entry { STEP / reach } else { -STEP / reach };
        for s in &mut nib.chain {
            *s = moved(s, works.arbor, by);
        }
        w
    };
    let changes: [(&str, Works); 3] = [
        ("centre distance", shifted(works, up, up, up)),
        ("length of the entry nib", turned(Side::Entry)),
        ("length of the exit nib", turned(Side::Exit)),
    ];
    let found: Vec<Option<[f64; 4]>> = std::thread::scope(|scope| {
        let all: Vec<_> =
            changes.iter().map(|(_, w)| scope.spawn(move || four(&w.cycle(arc, STEPS)))).collect();
        all.into_iter().map(|r| r.join().ok().flatten()).collect()
    });
    let mut rows = Vec::new();
    let mut tolerance = 0.05;
    for (i, ((says, _), got)) in changes.iter().zip(found).enumerate() {
        let Some(got) = got else { continue };
        let slopes: Vec<f64> = got.iter().zip(base).map(|(g, b)| (g - b) / STEP).collect();
        if i == 0 {
            let most = slopes[..2].iter().fold(0.0, |m: f64, x| m.max(x.abs()));
            tolerance = if most > 0.0 { 0.1_f64.to_radians() / most } else { tolerance };
        }
        let mut row = vec![Cell::word((*says).to_owned())];
        row.extend(slopes.into_iter().map(slope_cell));
        rows.push(row);
    }
    let id = enter.book.table(
        "escapement.sensitivity",
        &["0.01 mm more of", "drop, entry lets off", "drop, exit lets off", "recoil entry", "recoil exit"],
        rows,
        "outlines cycled with one size 0.01 mm larger, all others kept; degrees for a hundredth of a millimetre",
        enter.inputs.clone(),
        &RATIO,
    );
    (Some(id), tolerance)
}
