//! Threads: by a single point in passes, by die, by tap.

use super::bench::{Bench, counted, found};
use super::grip::GripPlan;
use super::hole::seen;
use super::{Caution, Check, Figure, Operation, PassTable, Spread, tapping};
use crate::kernel::bend;
use crate::kernel::speed::{Kind, Metal};
use crate::nc::lathe::OnLathe;
use movement::part::{AxisHole, OutsideThread, Step};
use reckon::source::GEOMETRY;
use reckon::{
    Alternative, Area, Book, Cell, Count, Diameter, Force, Length, Pressure, Ratio, Source, Val, judge, work,
};
use record::facts::{Cutter, CutterUse, Screwcutting, Shop, ThreadUse, Tip};
use tables::thread::cut::{self, Nose};
use tables::thread::passes::{self, CutLimits, Rule};
use tables::thread::wheels::{self, Wheels};
use tables::thread::{ends, limits, wires};

/// Which way a thread is made.
pub static WAY: Source = Source::practice(
    "single point in tool steel and from 4 mm up, where the lathe can follow; die below that and in brass",
);
/// When to measure while cutting a thread.
pub static STOPS: Source = Source::practice(
    "measure at 85 and 95 per cent of the depth, spring passes before each measurement and at the end",
);
/// How near a pitch has to come.
pub static NEAR: Source = Source::practice(
    "a pitch error may raise the virtual pitch diameter by a tenth of its limits over the thread",
);
/// Reserve below the fastest that the carriage follows.
pub static RESERVE: Source = Source::practice("run at no more than 0.8 of what the carriage can follow");

/// Operations for a thread on the outside.
pub fn outside(
    b: &mut Bench<'_>,
    at: &str,
    step: &Step,
    thread: &OutsideThread,
    grip: &GripPlan,
    (ahead, bends): (Val<Length>, Val<Diameter>),
) -> Vec<Operation> {
    let point = single_point(b, thread, step);
    let die = b.shop.dies.iter().any(|d| d.name == thread.of.thread.name);
    let coarse = thread.of.thread.major >= Diameter::mm(4.0);
    let hard = matches!(b.metal.metal, Metal::ToolSteel | Metal::Stainless);
    let by_point = point.is_ok() && (!die || hard || coarse);
    let among = vec![
        Alternative {
            what: "single point".to_owned(),
            taken: by_point,
            why: match &point {
                Ok(_) if by_point => "the lathe can follow it and the tool is there".to_owned(),
                Ok(_) => "small thread in soft metal: the die is quicker and as good".to_owned(),
                Err(why) => why.clone(),
            },
        },
        Alternative {
            what: "die".to_owned(),
            taken: !by_point && die,
            why: if die { "the shop has the die" } else { "no die of this thread in the shop" }.to_owned(),
        },
    ];
    let way = if by_point {
        "single point"
    } else if die {
        "die"
    } else {
        "none"
    };
    let name = b.name(&format!("{at}.way"));
    b.book.chosen(name, way.to_owned(), "the way that suits size and metal", among, Vec::new(), &WAY);
    match point {
        Ok((tool, sc)) if by_point => {
            vec![point_cut(b, at, (step, thread), grip, (ahead, bends), &tool, &sc)]
        }
        _ if die => vec![die_cut(b, at, thread)],
        other => {
            let verdict = found(
                b.book,
                (b.name(&format!("{at}.can_be_made")), "this shop can make this thread"),
                0,
                "ways of making this thread in this shop",
            );
            b.book.cure(verdict.id(), format!("a die {}", thread.of.thread.name));
            super::fits::tools::threads(b.book, &verdict, &b.shop.dies, &thread.of.thread, "die");
            if let Err(why) = other {
                b.book.cure(verdict.id(), format!("single point, once this is mended: {why}"));
            }
            Vec::new()
        }
    }
}
/// The tool and the lathe's screwcutting, or why not.
fn single_point(
    b: &Bench<'_>,
    thread: &OutsideThread,
    step: &Step,
) -> Result<(Cutter, Screwcutting), String> {
    let t = &thread.of.thread;
    let sc = b.lathe.screwcutting.clone().ok_or("the lathe does not cut threads")?;
    if t.pitch < sc.pitches.0.bare() || t.pitch > sc.pitches.1.bare() {
        return Err(format!(
            "its pitch of {} is outside what the lathe cuts",
            reckon::Shown::shown(&t.pitch)
        ));
    }
    if t.pitch < Length::mm(0.35) {
        return Err("too fine for a single point by hand".to_owned());
    }
    let half = t.form.half_angle.in_deg();
    let fits = |c: &&Cutter| {
        c.of == CutterUse::Threading
            && c.made
            && c.angle.is_some_and(|a| (a.bare().in_deg() - 2.0 * half).abs() < 0.5)
            && (c.tip != Some(Tip::Flat) || c.size.is_some_and(|s| s.bare() <= cut::iso_tip(t.pitch).1))
    };
    let tool = b.shop.cutters.iter().find(fits).cloned();
    let tool = tool.ok_or_else(|| {
        format!(
            "no threading tool of {}° with a tip narrow enough",
            reckon::print::significant(2.0 * half, 4)
        )
    })?;
    // Where the tool leaves the thread it must find air: an undercut, the end, or a part no larger than the thread.
    let runs_to = thread.span.1.bare() + t.pitch * 2.0 - Length::mm(1e-6);
    let undercut =
        b.body.steps.iter().find(|s| s.undercut && s.from.bare() >= step.to.bare() - Length::mm(1e-6));
    let stopped = b.body.steps.iter().any(|s| {
        let ahead = s.from.bare() >= step.to.bare() - Length::mm(1e-6) && s.from.bare() < runs_to;
        let larger = s.size.nominal.bare() > step.size.nominal.bare() + Length::mm(0.1);
        ahead && larger && undercut.is_none_or(|u| u.from.bare() > s.from.bare())
    });
    if thread.end == shape::turned::End::Datum && stopped {
        return Err("no undercut or run-out for the tool before the shoulder".to_owned());
    }
    Ok((tool, sc))
}
/// Where the next larger step behind a thread begins, in millimetres.
fn shoulder(b: &Bench<'_>, step: &Step) -> Option<f64> {
    let behind = |s: &&Step| {
        s.from.bare() >= step.to.bare() - Length::mm(1e-6)
            && s.size.nominal.bare() > step.size.nominal.bare() + Length::mm(0.1)
    };
    b.body.steps.iter().find(behind).map(|s| s.from.bare().in_mm())
}
/// Area that one pass may take: the work bends by a hundredth of a millimetre at the most.
fn area_limit(ahead: Length, core: Diameter, e: Pressure, specific: Pressure, padded: Count) -> Area {
    let one = Force::si(1.0);
    let per_newton = if padded.0 > 0 {
        bend::with_tailstock(one, bend::worst_place(ahead), ahead, core, e)
    } else {
        bend::chuck_only(one, ahead, core, e)
    };
    passes::area_for_force(one * (Length::mm(0.01) / per_newton), specific)
}
/// Cutting with a single point in passes.
fn point_cut(
    b: &mut Bench<'_>,
    at: &str,
    (step, thread): (&Step, &OutsideThread),
    grip: &GripPlan,
    (ahead, bends): (Val<Length>, Val<Diameter>),
    tool: &Cutter,
    sc: &Screwcutting,
) -> Operation {
    let t = thread.of.thread.clone();
    let half_angle =
        b.book.tabled(b.name(&format!("{at}.half_angle")), t.form.half_angle, t.form.name, t.source);
    let pitch = b.book.tabled(b.name(&format!("{at}.pitch")), t.pitch, t.name.clone(), t.source);
    let (most, least) = (thread.limits.pitch_max, thread.limits.pitch_min);
    let target =
        work!(b.book, b.name(&format!("{at}.pitch_diameter")), |most, least| cut::aim(most, least), &STOPS);
    let blank = ends::blank(b.book, &b.name(at), &thread.limits, ends::Way::Point);
    let (nose, depth) = depth(b, at, tool, (blank, target, pitch, half_angle));
    let root = work!(b.book, b.name(&format!("{at}.root")), |blank, depth| blank - depth * 2.0, &GEOMETRY);
    if let Some(thinnest) = thread.limits.minor_min {
        let holds = judge!(
            b.book,
            b.name(&format!("{at}.core_holds")),
            "the tip of the tool leaves the core of the screw within its limits",
            |root, thinnest| root >= thinnest - Length::mm(0.001),
            &DEPTH
        );
        b.book.cure(
            holds.id(),
            format!("stone the tip to a flat of {}", reckon::Shown::shown(&cut::iso_tip(t.pitch).0)),
        );
    }
    let (e, specific) = (b.metal.e, b.metal.pass_force);
    let padded = counted(
        b.book,
        b.name(&format!("{at}.tailstock")),
        usize::from(grip.padded),
        "tailstock centres that support the free end",
    );
    let area = work!(
        b.book,
        b.name(&format!("{at}.area_limit")),
        |ahead, bends, e, specific, padded| area_limit(ahead, bends, e, specific, padded),
        &super::grip::GIVES_WAY
    );
    let rows = schedule(b, at, depth, nose, half_angle, area);
    let table = rows.table;
    let speed = thread_speed(b, at, blank, pitch, sc);
    let run_in = match sc.run_in {
        Some(r) => work!(b.book, b.name(&format!("{at}.run_in")), |r| r, &GEOMETRY),
        None => work!(b.book, b.name(&format!("{at}.run_in")), |pitch| pitch * 3.0, &RESERVE),
    };
    let mut lines = vec![
        "Tool at centre height, square to the work by a gauge; set both dials to nothing on the blank."
            .to_owned(),
        format!("Start each pass {} before the end, so that the carriage is up to speed.", run_in.shown()),
    ];
    if sc.electronic {
        lines.push("Same spindle speed for every pass: another would start the thread elsewhere.".to_owned());
    } else if let Some(train) = change_wheels(b, at, thread, pitch, half_angle, sc) {
        lines.push(train);
    }
    let wire = work!(
        b.book,
        b.name(&format!("{at}.wire")),
        |pitch, half_angle| wires::best_wire(pitch, half_angle),
        &WIRES
    );
    let over = |b: &mut Bench<'_>, name: &str, pd: Val<Diameter>| {
        work!(
            b.book,
            b.name(&format!("{at}.{name}")),
            |pd, pitch, half_angle, wire| wires::over_wires(pd, pitch, half_angle, wire)
                + wires::helix_lift(pd, pitch, half_angle, wire),
            &WIRES
        )
    };
    let (over_most, over_least) =
        (over(b, "over_wires.largest", most), over(b, "over_wires.smallest", least));
    let by_program = crate::nc::lathe::stage::Thread {
        to: thread.span.1.bare().in_mm(),
        shoulder: shoulder(b, step),
        blank: blank.bare().in_mm() / 2.0,
        lead: t.pitch.in_mm(),
        half_angle: half_angle.bare().in_deg(),
        tip: match nose {
            Nose::Flat(flat) => crate::nc::lathe::stage::Tip::Flat(flat.in_mm()),
            Nose::Round(r) => crate::nc::lathe::stage::Tip::Round(r.in_mm()),
        },
        passes: rows.passes,
        name: tool.name.clone(),
        called: t.name.clone(),
    };
    let checks = vec![
        Check {
            what: "pitch diameter".to_owned(),
            limits: Some((most.bare().across(), least.bare().across())),
            seen: None,
            id: Some(target.id()),
        },
        Check {
            what: format!("over three wires of {}", wire.shown()),
            limits: Some((over_most.bare().across(), over_least.bare().across())),
            seen: None,
            id: Some(over_most.id()),
        },
    ];
    Operation {
        title: format!("Cut the thread {}", t.name),
        lines,
        tool: Some(tool.name.clone()),
        speed: Some(speed),
        feed: Some(pitch),
        figures: vec![
            Figure::of("blank", &blank),
            Figure::of("depth, all passes", &depth),
            full_thread(b, at, thread),
        ],
        tables: vec![PassTable { title: "passes (depth from the blank)".to_owned(), id: table }],
        checks,
        cautions: vec![Caution::Turning],
        does: vec!["form"],
        program: Some(OnLathe::Thread { from: step.from.bare().in_mm(), thread: by_program }),
        heat: None,
        holes: Vec::new(),
        no_spindle: None,
        time: Spread::around(3.0 + 0.45 * rows.count),
    }
}
/// Source of the wires.
pub static WIRES: Source = Source::read("Machinery's Handbook 31, three-wire formula with the helix term")
    .with_formula("M = d₂ + w (1 + cosec α) − (P/2) cot α + c");
/// Depth for the tip of the tool at hand.
fn depth(
    b: &mut Bench<'_>,
    at: &str,
    tool: &Cutter,
    (blank, target, pitch, half_angle): (Val<Diameter>, Val<Diameter>, Val<Length>, Val<reckon::Angle>),
) -> (Nose, Val<Length>) {
    let name = b.name(&format!("{at}.depth"));
    let depth_source = &DEPTH;
    match (tool.size, tool.tip) {
        (Some(tip), Some(Tip::Radius)) => {
            let d = work!(
                b.book,
                name,
                |blank, target, pitch, half_angle, tip| cut::depth(
                    blank,
                    target,
                    pitch,
                    half_angle,
                    Nose::Round(tip)
                ),
                depth_source
            );
            (Nose::Round(tip.bare()), d)
        }
        (tip, _) => {
            let tip = tip.unwrap_or_else(|| {
                b.assumed(
                    &format!("{at}.tip"),
                    Length::mm(0.05),
                    "tip of the tool not measured: measure it and write it in the shop",
                )
            });
            let d = work!(
                b.book,
                name,
                |blank, target, pitch, half_angle, tip| cut::depth(
                    blank,
                    target,
                    pitch,
                    half_angle,
                    Nose::Flat(tip)
                ),
                depth_source
            );
            (Nose::Flat(tip.bare()), d)
        }
    }
}
/// Depth of a thread for its tool.
pub static DEPTH: Source = Source::derived("groove of a tool with a blunt tip in the actual blank")
    .with_formula("d₂ = d − 2x + (P/2) cot α − blunting of the tip");
struct Schedule {
    table: reckon::Id,
    count: f64,
    /// Depth in millimetres of each pass, and how often it is run.
    passes: Vec<(f64, u32)>,
}
/// The pass list, in divisions of this lathe's dial.
fn schedule(
    b: &mut Bench<'_>,
    at: &str,
    depth: Val<Length>,
    nose: Nose,
    half_angle: Val<reckon::Angle>,
    area: Val<Area>,
) -> Schedule {
    let (least, most) = (b.metal.pass_least, b.metal.pass_most);
    let division = dial_division(b);
    let limits = CutLimits {
        area: area.bare(),
        least: least.bare(),
        // Rounding a depth to the dial may add a division to a pass.
        most: (most.bare() - division).max(least.bare()),
    };
    let list =
        passes::passes(depth.bare(), nose, half_angle.bare(), Rule::Within(limits)).unwrap_or_default();
    let spring = if b.metal.metal == Metal::Brass { 1 } else { 2 };
    // On the dial's divisions; what is left over for the last is shared with the one before it.
    let n = list.len();
    let mut depths: Vec<Length> = Vec::new();
    for (i, pass) in list.iter().enumerate() {
        let x = if i + 1 == n { pass.depth } else { on_dial(pass.depth, division) };
        if x > depths.last().copied().unwrap_or(Length::ZERO) {
            depths.push(x);
        }
    }
    if let [.., before, second, last] = depths[..]
        && last - second > second - before
    {
        let shared = on_dial((before + last) / 2.0 + division / 2.0, division);
        let k = depths.len() - 2;
        if shared > second && shared < last {
            depths[k] = shared;
        }
    }
    let mut rows = Vec::new();
    let mut passes = Vec::new();
    let mut passes_made = 0.0;
    let mut last = Length::ZERO;
    let mut measured = 0;
    let n = depths.len();
    for (i, x) in depths.into_iter().enumerate() {
        let end = i + 1 == n;
        passes_made += 1.0;
        let share = (x / depth.bare()).value();
        let stop = if end {
            None
        } else if measured == 0 && share >= 0.85 {
            Some(1)
        } else if measured == 1 && share >= 0.95 {
            Some(2)
        } else {
            None
        };
        let then = match (end, stop) {
            (true, _) => format!("{spring} spring passes, measure"),
            (false, Some(_)) => format!("{spring} spring passes, measure, correct the rest"),
            (false, None) => String::new(),
        };
        if stop.is_some() || end {
            measured += 1;
            passes_made += f64::from(spring);
        }
        passes.push((x.in_mm(), if stop.is_some() || end { 1 + spring } else { 1 }));
        let dial =
            b.lathe.cross_slide.as_ref().map_or_else(|| reckon::Shown::shown(&x), |d| d.dial().text(x));
        let cut = x - last;
        rows.push(vec![
            Cell::of(&Count(i64::try_from(rows.len() + 1).unwrap_or(0))),
            Cell::of(&x),
            Cell::as_text(&x, dial),
            Cell::of(&cut),
            Cell::word(then),
        ]);
        last = x;
    }
    let table = b.book.table(
        b.name(&format!("{at}.passes")),
        &["pass", "depth", "dial", "takes", "then"],
        rows,
        "each pass as much as force and the tip allow, on whole divisions of the dial; the last lands on the depth",
        vec![depth.id(), area.id(), least.id(), most.id()],
        &STOPS,
    );
    Schedule { table, count: passes_made, passes }
}
/// Travel of the slide for one division.
fn dial_division(b: &Bench<'_>) -> Length {
    b.lathe.cross_slide.as_ref().map_or(Length::mm(0.01), |d| match d.shows {
        reckon::print::DialSense::Diameter => d.division.bare() / 2.0,
        reckon::print::DialSense::Travel => d.division.bare(),
    })
}
/// The whole division at or below a depth.
fn on_dial(x: Length, division: Length) -> Length {
    let n = (x.value() / division.value() + 1e-9).floor();
    division * n
}
/// Speed: what the metal likes, what the carriage follows, what the lathe allows when threading.
fn thread_speed(
    b: &mut Bench<'_>,
    at: &str,
    blank: Val<Diameter>,
    pitch: Val<Length>,
    sc: &Screwcutting,
) -> Val<reckon::AngularSpeed> {
    let v = b.surface_speed(at, Kind::Threading, false);
    let carriage = sc.carriage;
    let wanted = work!(
        b.book,
        b.name(&format!("{at}.wanted_speed")),
        |v, blank| crate::kernel::speed::turns(v, blank),
        &crate::kernel::speed::SURFACE
    );
    let follows = work!(
        b.book,
        b.name(&format!("{at}.follows")),
        |carriage, pitch| cut::turning_limit(carriage, pitch) * 0.8,
        &RESERVE
    );
    let fastest = sc.fastest;
    let limited = work!(
        b.book,
        b.name(&format!("{at}.limited_speed")),
        |wanted, follows, fastest| wanted.min(follows).min(fastest),
        &RESERVE
    );
    let speed = b.set(at, limited);
    let verdict = judge!(
        b.book,
        b.name(&format!("{at}.carriage_follows")),
        "the carriage can follow this pitch at the speed that is set",
        |speed, pitch, carriage| speed.travel(pitch) <= carriage,
        &RESERVE
    );
    b.book.cure(verdict.id(), "turn the spindle by hand with a crank, or use a die");
    speed
}
/// The best change wheels, and whether they are near enough.
fn change_wheels(
    b: &mut Bench<'_>,
    at: &str,
    thread: &OutsideThread,
    pitch: Val<Length>,
    half_angle: Val<reckon::Angle>,
    sc: &Screwcutting,
) -> Option<String> {
    let leadscrew = sc.leadscrew?;
    let counts: Vec<u32> = sc.wheels.iter().filter_map(|w| u32::try_from(w.bare().0).ok()).collect();
    let offered = Wheels { counts: &counts, leadscrew: leadscrew.bare(), fixed: Ratio::si(1.0), clear: 5 };
    let found = wheels::trains(&offered, pitch.bare(), Ratio::si(0.002));
    let shown = found.iter().take(4).enumerate().map(|(i, t)| Alternative {
        what: t.text(),
        taken: i == 0,
        why: format!("off by {} parts in a million", reckon::print::significant(t.ppm(), 3)),
    });
    let (text, error) =
        found.first().map_or_else(|| ("none".to_owned(), Ratio::si(1.0)), |t| (t.text(), t.error));
    let name = b.name(&format!("{at}.wheels"));
    b.book.chosen(
        name,
        text.clone(),
        "nearest to the pitch, then fewest wheels, of all trains that the shop's wheels make",
        shown.collect(),
        vec![leadscrew.id(), pitch.id()],
        &NEAR,
    );
    let error = b.book.solved(
        b.name(&format!("{at}.wheels.error")),
        error,
        ("complete search over the shop's wheels", u32::try_from(found.len()).unwrap_or(0), 0.0),
        vec![leadscrew.id(), pitch.id()],
        &NEAR,
    );
    let (from, to) = thread.span;
    let long = work!(b.book, b.name(&format!("{at}.thread_length")), |to, from| to - from, &GEOMETRY);
    let rise = work!(
        b.book,
        b.name(&format!("{at}.virtual_rise")),
        |error, long, half_angle| wheels::virtual_rise(error, long, half_angle),
        &NEAR
    );
    let (most, least) = (thread.limits.pitch_max, thread.limits.pitch_min);
    let verdict = judge!(
        b.book,
        b.name(&format!("{at}.wheels.near_enough")),
        "the wheels come near enough to the pitch",
        |rise, most, least| rise <= (most - least) * 0.15,
        &NEAR
    );
    b.book.cure(verdict.id(), "a die, or a wheel of the missing count");
    (!found.is_empty()).then(|| {
        format!("Change wheels, driver over driven: {text} on a leadscrew of {}.", leadscrew.shown())
    })
}
/// How far the full thread goes, from the end that it is cut from.
fn full_thread(b: &mut Bench<'_>, at: &str, thread: &OutsideThread) -> Figure {
    let (from, to) = thread.span;
    if thread.end == shape::turned::End::Datum {
        return Figure::of("full thread to", &to);
    }
    let long = work!(b.book, b.name(&format!("{at}.full_length")), |to, from| to - from, &GEOMETRY);
    Figure::of("full thread over", &long)
}
/// Cutting with a die from the tailstock.
fn die_cut(b: &mut Bench<'_>, at: &str, thread: &OutsideThread) -> Operation {
    let t = thread.of.thread.clone();
    let blank = ends::blank(b.book, &b.name(at), &thread.limits, ends::Way::Point);
    let full = full_thread(b, at, thread);
    let (from, to) = thread.span;
    let long = work!(b.book, b.name(&format!("{at}.die_length")), |to, from| to - from, &GEOMETRY);
    let name = b.name(at);
    let (lines, table, minutes) = tapping::die(&name, &t, long, b.metal.metal, b.book);
    Operation {
        title: format!("Cut the thread {} with the die", t.name),
        lines,
        tool: Some(format!("split die {}, tailstock holder", t.name)),
        figures: vec![Figure::of("blank", &blank), full],
        tables: vec![table],
        checks: vec![seen("thread", "nut or gauge runs on by finger, no shake")],
        cautions: vec![Caution::HandThreading],
        time: Spread::around(minutes),
        ..Operation::default()
    }
}
/// The drill before a tap.
pub fn tap_drill(b: &mut Bench<'_>, at: &str, of: &ThreadUse) -> (Val<Diameter>, String) {
    let name = b.name(at);
    tap_drill_of(of, (b.shop, b.metal.metal), b.book, &name)
}
/// The drill before a tap, and its name: the largest of the shop that leaves what is wanted of the thread in this metal.
pub fn tap_drill_of(
    of: &ThreadUse,
    (shop, metal): (&Shop, Metal),
    book: &mut Book,
    at: &str,
) -> (Val<Diameter>, String) {
    let prefix = format!("{at}.nut");
    let wish = match metal {
        Metal::Brass | Metal::Aluminium => (0.65, 0.80),
        Metal::MildSteel => (0.55, 0.75),
        Metal::ToolSteel | Metal::Stainless => (0.50, 0.75),
    };
    let drills: Vec<(String, Diameter)> =
        shop.drills.sizes.iter().map(|(n, d)| (n.clone(), d.bare())).collect();
    let class = if of.class.contains(['H', 'G', 'B']) { of.class.as_str() } else { "" };
    let nut = limits::nut_limits(book, &prefix, &of.thread, class);
    let picked = nut.ok().and_then(|nut| {
        let wish = (Ratio::si(wish.0), Ratio::si(wish.1));
        tables::thread::hole::pick(book, &prefix, &of.thread, &nut, &drills, wish)
    });
    match picked {
        Some(p) => {
            let (drill, engaged) = (p.drill, p.engaged);
            let verdict = judge!(
                book,
                format!("{prefix}.engagement"),
                "a drill of the shop leaves half to nine tenths of a full thread",
                |engaged, drill| engaged.value() >= 0.5 && engaged.value() <= 0.9 && drill.value() > 0.0,
                &WAY
            );
            if !verdict.bare() {
                super::fits::tools::tap_drills(book, &verdict, shop, &of.thread, wish);
            }
            (drill, drills[p.index].0.clone())
        }
        None => {
            let d = book.assumed(
                format!("{prefix}.tap_drill"),
                of.thread.minor(),
                "no drill in the shop: the thread's minor diameter",
            );
            (d, format!("{} (to buy)", d.shown()))
        }
    }
}
/// Tapping by hand in the lathe.
pub fn tap(
    b: &mut Bench<'_>,
    at: &str,
    of: &ThreadUse,
    hole: &AxisHole,
    (drill, full): (Val<Diameter>, Val<Length>),
) -> Operation {
    let h = tapping::Hole {
        at: b.name(at),
        what: "",
        thread: &of.thread,
        drill,
        deep: full,
        through: hole.depth.is_none(),
        place: tapping::At::Lathe,
        holes: 1,
    };
    tapping::operation(&h, b.metal.into(), b.shop, b.book)
}
