//! A grasshopper escapement set out.

use super::found::slope_cell;
use super::{
    Acting, Common, Drawing, Enter, EscapementDesign, Piece, RUN, about, degrees, millimetres, place,
};
use ::escapement::grasshopper::{
    Action, ArmShape, CYCLE, Cycle, Design, Fault, Joints, Linkage, MEAN, NoSolution, PHASE, Part, RATIO,
    Side, WheelShape, cycle, least_gap, parts, sensitivities, set_out as construction, solve,
};
use kurbo::{Point, Vec2};
use reckon::source::GEOMETRY;
use reckon::{Angle, Book, Cell, Id, Ratio, Trouble, judge, work};
use shape::profile::Profile;

pub(super) fn set_out(
    c: &Common<'_>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let e = c.e;
    let (whole_arc, arms, arc) = (e.escaping_arc?, e.arms?, e.running_arc);
    let (span, whole) = c.span(book, troubles)?;
    let half_arc = work!(book, "escapement.half_arc", |whole_arc| whole_arc / 2.0, &PHASE);
    let needed =
        work!(book, "escapement.arc_needed", |half_arc| half_arc + Angle::si(0.5_f64.to_radians()), &RUN);
    c.runs(needed, "a smaller escaping_arc", troubles)?;
    let length = arms.bare().in_mm();
    let joints = if e.single_pivot {
        Joints::Single
    } else {
        Joints::Twin { entry: length, entry_action: Action::Push, exit: length, exit_action: Action::Pull }
    };
    let design =
        Design { teeth: c.teeth, span: whole, tip_radius: c.r(), half_arc: half_arc.bare().value(), joints };
    let linkage = match solve(&design) {
        Ok(s) => s.linkage,
        Err(none) => {
            troubles.push(no_solution(c, &none, book));
            return None;
        }
    };
    let found = match cycle(&linkage, arc.bare().value()) {
        Ok(f) => f,
        Err(fault) => {
            troubles.push(faulty(c, &fault, book));
            return None;
        }
    };
    let (pitch, radius) = (c.pitch, c.radius);
    let inputs = vec![e.teeth.id(), span.id(), radius.id(), half_arc.id(), arms.id(), arc.id()];
    let mut enter = Enter {
        book,
        inputs,
        source: &PHASE,
        how: "three conditions of phase met at once, by Newton's method",
    };
    let centres = enter.mm("centres", linkage.distance);
    let advance = work!(enter.book, "escapement.advance", |pitch| pitch / 2.0, &PHASE);
    let ratio = work!(enter.book, "escapement.ratio", |advance, whole_arc| advance / whole_arc, &MEAN);
    let mut told = vec![
        ("distance of the arbors".to_owned(), centres.id()),
        ("from tooth to tooth".to_owned(), pitch.id()),
        ("turn of the wheel in a beat".to_owned(), advance.id()),
        ("mean torque ratio".to_owned(), ratio.id()),
        ("swing needed".to_owned(), needed.id()),
    ];
    let corners = joints_table(&mut enter, &linkage, &found);
    let cycled = beats_table(&mut enter, &linkage, &found, half_arc.bare().value(), &mut told);
    let recoil = enter.angle("recoil", found.entry.recoil.max(found.exit.recoil));
    recoil_kept(&mut enter, pitch, recoil);
    let shape = ArmShape::usual(&linkage);
    let teeth = WheelShape::usual(&linkage);
    gaps(&mut enter, &linkage, &found, arc.bare().value(), &shape);
    let (sensitivity, tolerance) = slopes(&mut enter, &linkage, arc.bare().value());
    let Some(made) = parts(&linkage, &found, &shape, &teeth) else {
        troubles.push(
            Trouble::design("these arms leave no bar between nib and joint")
                .at(place(enter.book, arms.id(), e))
                .why(format!(
                    "nib, roof and boss take {} of the length",
                    millimetres(shape.boss + shape.nib + shape.roof)
                ))
                .cure("longer arms, or more teeth"),
        );
        return None;
    };
    let depth = enter.mm("tooth.depth", teeth.depth);
    let root = work!(enter.book, "escapement.tooth.root_radius", |radius, depth| radius - depth, &GEOMETRY);
    enter.angle("tooth.front", teeth.undercut);
    enter.mm("tooth.land", teeth.land);
    let pieces = pieces(&linkage, &made, &shape);
    let drawing = drawing(&linkage, &found, &made);
    told.push(("depth of the teeth".to_owned(), depth.id()));
    Some(EscapementDesign {
        kind: e.kind,
        centres,
        pitch,
        advance,
        ratio,
        lift: whole_arc,
        lock: None,
        drop: None,
        arc_needed: needed,
        recoil,
        wheel: made.wheel.outline.clone(),
        root,
        depth,
        pins: Vec::new(),
        pieces,
        acting: Acting::Arms(linkage),
        drawing,
        told,
        corners,
        cycled,
        sensitivity,
        tolerance,
    })
}
fn no_solution(c: &Common<'_>, none: &NoSolution, book: &Book) -> Trouble {
    let e = c.e;
    let at = match &none.cure {
        Some(cure) if cure.contains("span") => e.span.map(|s| s.id()),
        _ => e.arms.map(|a| a.id()),
    };
    let t = Trouble::design("no grasshopper can be set out with these arms and this span")
        .at(at.map_or_else(|| e.at.clone(), |id| place(book, id, e)))
        .why(none.why.clone());
    match &none.cure {
        Some(cure) => t.cure(cure.clone()),
        None => t.cure(format!("arms about as long as the wheel's radius, {}", millimetres(c.r()))),
    }
}
fn faulty(c: &Common<'_>, fault: &Fault, book: &Book) -> Trouble {
    let e = c.e;
    let arms = e.arms.map_or_else(|| e.at.clone(), |a| place(book, a.id(), e));
    let (at, cure) = match fault {
        Fault::Short { catches } => (
            e.running_arc_at.clone(),
            format!("running_arc = \"{}\" or more", degrees(catches + 0.5_f64.to_radians())),
        ),
        Fault::Reach { .. } => (arms, format!("longer arms: about {}", millimetres(c.r()))),
        Fault::Turns { .. } => (arms, "a smaller escaping_arc, longer arms, or a larger span".to_owned()),
        Fault::Misses { .. } | Fault::Order => {
            (e.running_arc_at.clone(), "a larger running_arc, or a smaller escaping_arc".to_owned())
        }
    };
    Trouble::design("this grasshopper does not go")
        .at(at)
        .why(format!("{fault}, in a swing of {} to either side", e.running_arc.shown()))
        .cure(cure)
}
/// Joints from the frame arbor, lengths of the arms, stops.
fn joints_table(enter: &mut Enter<'_>, l: &Linkage, c: &Cycle) -> Id {
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for side in Side::BOTH {
        let word = side.word();
        let strut = l.strut(side);
        let (x, y, r) = enter.point(&format!("joint.{word}"), strut.joint);
        let length = enter.mm(&format!("arm.{word}.length"), strut.length);
        let stop = enter.angle(&format!("stop.{word}"), c.beat(side).stop);
        ids.extend([x.id(), y.id(), r.id(), length.id(), stop.id()]);
        rows.push(vec![
            Cell::word(format!("{word} joint")),
            Cell::of(&x.bare()),
            Cell::of(&y.bare()),
            Cell::of(&r.bare()),
            Cell::of(&length.bare()),
            Cell::as_text(&stop.bare(), format!("{}°", reckon::print::fixed(stop.bare().in_deg(), 2))),
        ]);
    }
    enter.book.table(
        "escapement.joints",
        &["", "x", "y", "from the frame arbor", "arm, joint to nib", "stop of the composer"],
        rows,
        "from the frame arbor, frame in the middle of its swing, y away from the wheel; the stop is the direction from joint to nib, anticlockwise from x",
        ids,
        &PHASE,
    )
}
fn beats_table(enter: &mut Enter<'_>, l: &Linkage, c: &Cycle, half: f64, told: &mut Vec<(String, Id)>) -> Id {
    let mut columns: [Vec<(f64, bool)>; 2] = [Vec::new(), Vec::new()];
    let mut ids = Vec::new();
    enter.source = &CYCLE;
    enter.how = "the linkage taken through both beats";
    for (n, side) in Side::BOTH.into_iter().enumerate() {
        let word = side.word();
        let b = c.beat(side);
        // As designed: from one release to the other.
        let from = -side.turn() * half;
        let (start, end) = (
            l.pose(side, from).map_or(b.starts, |p| p.ratio().abs()),
            l.pose(side, -from).map_or(b.ends, |p| p.ratio().abs()),
        );
        for (name, v) in [
            ("catches", b.catches),
            ("lets_go", b.lets_go),
            ("travel", b.travel),
            ("recoil", b.recoil),
            ("lifts", b.lifts),
            ("leaves", b.leaves),
        ] {
            let id = enter.angle(&format!("cycled.{word}.{name}"), v);
            ids.push(id.id());
            columns[n].push((v, true));
        }
        enter.source = &RATIO;
        for (name, v) in [("start", start), ("end", end)] {
            let id = enter.ratio(&format!("ratio.{word}.{name}"), v);
            told.push((
                format!(
                    "torque ratio, {word}, {}",
                    if name == "start" { "as it catches" } else { "as it lets go" }
                ),
                id.id(),
            ));
            columns[n].push((v, false));
        }
        enter.source = &CYCLE;
        for (name, v) in [("clears", b.clears), ("reserve", b.reserve)] {
            enter.mm(&format!("cycled.{word}.{name}"), v);
        }
        let travel = enter.angle(&format!("cycled.{word}.travel_off"), b.travel - l.pitch() / 2.0);
        let agrees = judge!(
            enter.book,
            format_args!("escapement.cycled.{word}.travel.agrees"),
            format!("the {word} arm carries its tooth half a pitch"),
            |travel| travel.abs().value() < 1e-6,
            &CYCLE
        );
        if !agrees.bare() {
            enter.book.cure(agrees.id(), "another span, or other arms");
        }
    }
    let says = [
        "catches, at the frame",
        "lets go, at the frame",
        "turn of the wheel",
        "recoil at the running arc",
        "arm lifts its composer by",
        "arm leaves its composer by",
        "torque ratio as it catches",
        "torque ratio as it lets go",
    ];
    let rows = says
        .iter()
        .enumerate()
        .map(|(i, what)| {
            let mut row = vec![Cell::word(*what)];
            for column in &columns {
                let (v, angle) = column[i];
                row.push(if angle {
                    let a = Angle::si(v);
                    Cell::as_text(&a, format!("{}°", reckon::print::fixed(a.in_deg(), 3)))
                } else {
                    Cell::as_text(&Ratio::si(v), reckon::print::fixed(v, 4))
                });
            }
            row
        })
        .collect();
    enter.book.table(
        "escapement.cycled",
        &["", "entry", "exit"],
        rows,
        "the linkage taken through both beats at the running arc",
        ids,
        &CYCLE,
    )
}
fn recoil_kept(enter: &mut Enter<'_>, pitch: reckon::Val<Angle>, recoil: reckon::Val<Angle>) {
    let kept = judge!(
        enter.book,
        "escapement.recoil.kept",
        "the wheel is not pushed back further than half a pitch",
        |recoil, pitch| recoil <= pitch / 2.0,
        &CYCLE
    );
    if !kept.bare() {
        enter.book.cure(kept.id(), "a smaller running arc");
    }
}
/// Room of the arms over the tips.
fn gaps(enter: &mut Enter<'_>, l: &Linkage, c: &Cycle, swing: f64, shape: &ArmShape) {
    for side in Side::BOTH {
        let word = side.word();
        let Some(gap) = least_gap(l, c, side, swing, shape) else { continue };
        let gap = enter.mm(&format!("gap.{word}"), gap);
        let kept = judge!(
            enter.book,
            format_args!("escapement.gap.{word}.kept"),
            format!("the {word} arm stays 0.3 mm clear of the tips, nib left out"),
            |gap| gap.in_mm() >= 0.3,
            &CYCLE
        );
        if !kept.bare() {
            enter.book.cure(kept.id(), "longer arms, or an arm bent higher over the tips");
        }
    }
}
fn slopes(enter: &mut Enter<'_>, l: &Linkage, swing: f64) -> (Option<Id>, f64) {
    let Ok(all) = sensitivities(l, swing) else { return (None, 0.05) };
    let mut tolerance = 0.05;
    let rows = all
        .iter()
        .enumerate()
        .map(|(i, s)| {
            if i == 0 {
                let most = s.entry_catch.abs().max(s.exit_catch.abs());
                tolerance = if most > 0.0 { 0.1_f64.to_radians() / most } else { tolerance };
            }
            let mut row = vec![Cell::word(s.length)];
            row.extend(
                [s.entry_catch, s.exit_catch, s.entry_recoil, s.exit_recoil, s.entry_stop, s.exit_stop]
                    .map(slope_cell),
            );
            row
        })
        .collect();
    let id = enter.book.table(
        "escapement.sensitivity",
        &["0.01 mm more of", "entry catches", "exit catches", "recoil entry", "recoil exit", "entry stop", "exit stop"],
        rows,
        "two whole cycles with one length a thousandth of a millimetre greater and smaller; degrees for a hundredth",
        enter.inputs.clone(),
        &CYCLE,
    );
    (Some(id), tolerance)
}
fn pieces(l: &Linkage, made: &::escapement::grasshopper::Parts, shape: &ArmShape) -> Vec<Piece> {
    let z = l.arbor();
    let on_joint = |part: &Part, side: Side| Piece {
        name: part.name.to_owned(),
        slug: format!("escapement.{}", part.name.replace(' ', "_")),
        outline: level(&about(&part.outline, l.joint(side, 0.0))),
        holes: Vec::new(),
        joint: Some(shape.hole),
    };
    let mut holes = vec![(Point::ORIGIN + l.entry.joint, shape.hole)];
    if (l.entry.joint - l.exit.joint).hypot() > 1e-6 {
        holes.push((Point::ORIGIN + l.exit.joint, shape.hole));
    }
    vec![
        Piece {
            name: "pallet frame".to_owned(),
            slug: "escapement.pallet_frame".to_owned(),
            outline: about(&made.frame.outline, z),
            holes,
            joint: None,
        },
        on_joint(&made.entry_arm, Side::Entry),
        on_joint(&made.exit_arm, Side::Exit),
        on_joint(&made.entry_composer, Side::Entry),
        on_joint(&made.exit_composer, Side::Exit),
    ]
}
/// A piece turned about its joint so that its greatest length lies along x.
fn level(p: &Profile) -> Profile {
    let far = p
        .segments()
        .iter()
        .map(shape::segment::Segment::to)
        .max_by(|a, b| a.to_vec2().hypot2().total_cmp(&b.to_vec2().hypot2()))
        .unwrap_or(Point::new(1.0, 0.0));
    let by = -reckon::maths::atan2(far.y, far.x);
    let (s, c) = (reckon::maths::sin(by), reckon::maths::cos(by));
    p.mapped(|q| Point::new(q.x * c - q.y * s, q.x * s + q.y * c))
}
fn drawing(l: &Linkage, c: &Cycle, made: &::escapement::grasshopper::Parts) -> Drawing {
    let mut d = Drawing::default();
    if let Some(out) = construction(l, c) {
        // Circles of torque arms and paths would hide the joints: the tips and the paths are enough.
        d.circles = out
            .circles
            .iter()
            .filter(|m| m.label == "tooth tips" || m.label.starts_with("path"))
            .map(|m| (m.centre, m.radius))
            .collect();
        d.lines = out
            .lines
            .iter()
            .filter(|m| m.label == "line of centres" || m.label.contains("frame in the middle"))
            .map(|m| (m.from, m.to))
            .collect();
    }
    d.points = vec![(Point::ORIGIN, "escape arbor".to_owned()), (l.arbor(), "frame arbor".to_owned())];
    for side in Side::BOTH {
        d.points.push((l.joint(side, 0.0), format!("{} joint", side.word())));
    }
    d.outlines = vec![
        made.wheel.outline.clone(),
        made.entry_arm.outline.clone(),
        made.exit_arm.outline.clone(),
        made.frame.outline.clone(),
    ];
    for (frame, name, held) in [
        (c.captures.exit, "the entry arm lets go, the exit arm catches", Side::Entry),
        (c.captures.entry, "the exit arm lets go, the entry arm catches", Side::Exit),
    ] {
        let Some(pose) = l.pose(held, frame) else { continue };
        let wheel = spun(&made.wheel.outline, Point::ORIGIN, -pose.wheel);
        let mut all = vec![wheel, spun(&made.frame.outline, l.arbor(), frame)];
        for side in Side::BOTH {
            let Some(at) = l.pose(side, frame) else { continue };
            let part = if side == Side::Entry { &made.entry_arm } else { &made.exit_arm };
            // From the arm as it stands at its composer in the middle to where it stands on its tooth.
            let stop = c.beat(side).stop;
            let joint = l.joint(side, 0.0);
            let now = at.tip - at.joint;
            let by = reckon::maths::atan2(now.y, now.x) - stop;
            all.push(spun(&part.outline, joint, by).mapped(|p| p + (at.joint - joint)));
        }
        d.states.push((name.to_owned(), all));
    }
    d
}
fn spun(p: &Profile, centre: Point, by: f64) -> Profile {
    let (s, c) = (reckon::maths::sin(by), reckon::maths::cos(by));
    p.mapped(|q| {
        let v: Vec2 = q - centre;
        centre + Vec2::new(v.x * c - v.y * s, v.x * s + v.y * c)
    })
}
