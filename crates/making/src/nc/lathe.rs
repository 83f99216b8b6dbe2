//! Programs for a lathe: face, rough in passes, finish the outside of parts that grow towards the chuck.
//!
//! Zero is in the axis, on the finished free face. The tool is controlled at its tip: the corner of
//! the two lines that touch its nose from the left and from below. Along cylinders and faces the tip
//! runs on the outline; on a chamfer the nose would leave 2 − √2 of its radius, so the way goes in by that much.

use super::hand_over::{Program, Ring, SetUp, ToolShape};
use super::{Act, Cannot, Habits, To, write};
use crate::kernel::speed::{self, Kind};
use crate::plan::PartPlan;
use crate::plan::bench::kind_of;
use kurbo::Point;
use movement::part::{Body, Part, TurnedBody};
use reckon::Trouble;
use reckon::maths::{PI, cos, sin};
use record::facts::{CutterUse, Lathe, Shop};

/// Radius of the nose of a small turning tool, millimetres.
const NOSE: f64 = 0.2;
/// Left for the finishing cut, on the radius and on shoulders.
const LEFT: f64 = 0.15;
/// Metal in front of the finished face.
const FACE: f64 = 0.5;
/// More or less than this is a fault of the program.
const ROOM: f64 = 0.01;

/// A stretch of the outside, from the free end on.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Rung {
    /// How long.
    pub length: f64,
    /// Its radius.
    pub radius: f64,
    /// Chamfer on its corner towards the free end; none where zero.
    pub chamfer: f64,
}
/// How a piece is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Radius of the bar.
    pub bar: f64,
    /// Deepest cut, on the radius.
    pub deepest: f64,
    /// Turns a minute.
    pub rpm: f64,
    /// Feeds a turn: rough, fine.
    pub feeds: (f64, f64),
    /// Length beyond the part that is turned for parting off.
    pub beyond: f64,
}

/// The acts that turn rungs from a bar; their radii do not fall towards the chuck.
#[must_use]
pub fn turn(title: &str, rungs: &[Rung], c: &Cutting) -> Vec<Act> {
    let length: f64 = rungs.iter().map(|r| r.length).sum();
    let out = c.bar + 1.0;
    let mut acts = vec![
        Act::Remark(title.to_owned()),
        Act::Remark("zero: axis, finished free face; X is touched off at the tip of the nose".into()),
        Act::Tool { number: 1, says: format!("turning tool, nose {NOSE} mm") },
        Act::Rapid(To::z(2.0)),
        Act::Rapid(To::x(out)),
        Act::Spindle { rpm: c.rpm },
        Act::Wait { seconds: 2.0 },
        Act::Remark("face".into()),
        Act::Rapid(To::z(0.0)),
        Act::Line { to: To::x(-NOSE), feed: c.feeds.1 },
        Act::Line { to: To::z(1.0), feed: c.feeds.0 },
        Act::Rapid(To::x(out)),
    ];
    // Rough: each pass as far as the outline with its allowance lets it.
    let least = rungs.first().map_or(c.bar, |r| r.radius) + LEFT;
    let passes = ((c.bar - least) / c.deepest - 1e-9).ceil().max(0.0);
    if passes > 0.0 {
        acts.push(Act::Remark("rough".into()));
    }
    let each = (c.bar - least) / passes.max(1.0);
    let mut k = 1.0;
    while k <= passes {
        let radius = c.bar - each * k;
        k += 1.0;
        let open = rungs.iter().take_while(|r| r.radius + LEFT <= radius + 1e-9);
        let run: f64 = open.map(|r| r.length).sum();
        if run <= LEFT {
            continue;
        }
        let end = if run > length - 1e-9 { -(length + c.beyond) } else { -run + LEFT };
        acts.push(Act::Rapid(To::x(radius)));
        acts.push(Act::Line { to: To::z(end), feed: c.feeds.0 });
        acts.push(Act::Line { to: To::x(radius + each + 0.2), feed: c.feeds.0 });
        acts.push(Act::Rapid(To::z(1.0)));
    }
    acts.push(Act::Remark("finish".into()));
    let way = way(rungs, c);
    if let Some(&first) = way.first() {
        acts.push(Act::Rapid(To::x(first.y)));
        for p in &way {
            acts.push(Act::Line { to: To::radius_z(p.y, p.x), feed: c.feeds.1 });
        }
    }
    acts.push(Act::Line { to: To::x(out), feed: c.feeds.0 });
    acts.push(Act::Rapid(To::z(2.0)));
    acts.push(Act::SpindleOff);
    acts.push(Act::End);
    acts
}
/// The way of the tip along the outline: (z, radius).
fn way(rungs: &[Rung], c: &Cutting) -> Vec<Point> {
    let more = (2.0 - 2.0_f64.sqrt()) * NOSE;
    let mut points = Vec::new();
    let mut z = 0.0;
    let mut before = -NOSE;
    for (i, r) in rungs.iter().enumerate() {
        let bar = r.radius > c.bar - 1e-6;
        if r.chamfer > 0.0 && !bar {
            let cut = r.chamfer + more;
            points.push(Point::new(z, (r.radius - cut).max(before)));
            points.push(Point::new(z - cut, r.radius));
        } else {
            points.push(Point::new(z, r.radius));
        }
        if bar {
            break;
        }
        z -= r.length;
        let last = i + 1 == rungs.len();
        points.push(Point::new(if last { z - c.beyond } else { z }, r.radius));
        before = r.radius;
    }
    points
}
/// Outline of the half section: hollow corners as drawn, or with what the nose leaves in them.
fn outline(rungs: &[Rung], c: &Cutting, with_nose: bool) -> Ring {
    let length: f64 = rungs.iter().map(|r| r.length).sum::<f64>() + c.beyond;
    let mut ring = vec![(-length, 0.0), (0.0, 0.0)];
    let mut z = 0.0;
    for (i, r) in rungs.iter().enumerate() {
        if i > 0 && with_nose {
            let low = rungs[i - 1].radius;
            ring.push((z + NOSE, low));
            ring.push((z + NOSE, (low + NOSE).min(r.radius)));
            if low + NOSE < r.radius - r.chamfer {
                ring.push((z, low + NOSE));
            }
        } else if i > 0 {
            ring.push((z, rungs[i - 1].radius));
        }
        let bar = r.radius > c.bar - 1e-6;
        if r.chamfer > 0.0 && !bar {
            ring.push((z, r.radius - r.chamfer));
            ring.push((z - r.chamfer, r.radius));
        } else {
            ring.push((z, r.radius));
        }
        z -= r.length;
        ring.push((if i + 1 == rungs.len() { -length } else { z }, r.radius));
    }
    ring
}
/// The tool about its tip.
fn tool(number: u32) -> ToolShape {
    let way = |degrees: f64, far: f64| {
        let a = degrees * PI / 180.0;
        (NOSE + far * cos(a), NOSE + far * sin(a))
    };
    let mut ring = Vec::new();
    for (x, y) in [(NOSE, NOSE), way(87.0, 7.0), way(32.0, 7.0)] {
        ring.extend((0..64).map(|i| {
            let a = PI * f64::from(i) / 32.0;
            (x + NOSE * cos(a), y + NOSE * sin(a))
        }));
    }
    ToolShape {
        number,
        cutting: vec![ring],
        holder: vec![vec![(1.5, 7.5), (13.0, 7.5), (13.0, 40.0), (1.5, 40.0)]],
        most_feed: Some(0.12),
    }
}
/// The set-up that the rungs are turned in.
#[must_use]
pub fn set_up(rungs: &[Rung], c: &Cutting, number: u32, travel: [(f64, f64); 2]) -> SetUp {
    let length: f64 = rungs.iter().map(|r| r.length).sum();
    let back = -(length + c.beyond) - 3.0;
    let box_ = |z0: f64, z1: f64, r0: f64, r1: f64| vec![(z0, r0), (z1, r0), (z1, r1), (z0, r1)];
    SetUp::Lathe {
        stock: vec![box_(back - 15.0, FACE, 0.0, c.bar)],
        jaws: vec![box_(back - 15.0, back, c.bar, c.bar + 20.0)],
        least: vec![outline(rungs, c, false)],
        most: vec![outline(rungs, c, true)],
        judged: box_(-length, 5.0, 0.0, c.bar + 5.0),
        tools: vec![tool(number)],
        travel,
    }
}
/// The rungs of a part, with what the program does not make; nothing where it is of another kind.
fn rungs(body: &TurnedBody) -> Option<Vec<Rung>> {
    if body.steps.iter().any(|s| s.curved || s.undercut || s.end.is_some() || s.knurl.is_some()) {
        return None;
    }
    let mut all: Vec<Rung> = body
        .steps
        .iter()
        .map(|s| {
            let (from, to) = (s.from.bare().in_mm(), s.to.bare().in_mm());
            let middle = (s.size.upper.bare().in_mm() + s.size.lower.bare().in_mm()) / 2.0;
            Rung { length: to - from, radius: (s.size.nominal.bare().in_mm() + middle) / 2.0, chamfer: 0.0 }
        })
        .collect();
    let rises = |all: &[Rung]| all.windows(2).all(|w| w[0].radius <= w[1].radius + 1e-9);
    if !rises(&all) {
        all.reverse();
    }
    (rises(&all) && all.iter().all(|r| r.length > 2.0 * LEFT)).then_some(all)
}
/// The programs of a shop's lathe, and warnings where its control lacks a word.
pub fn programs(shop: &Shop, parts: &[Part], plans: &[PartPlan]) -> (Vec<Program>, Vec<Trouble>) {
    let (mut all, mut troubles) = (Vec::new(), Vec::new());
    let own = shop.lathes.iter().find_map(|l| Some((l, Habits::of_lathe(l)?)));
    let Some((lathe, habits)) = own else { return (all, troubles) };
    let turns = shop.cutters.iter().find(|c| c.of == CutterUse::Turning && c.made);
    let Some(cutter) = turns else { return (all, troubles) };
    for plan in plans {
        let part = &parts[plan.part];
        let (Body::Turned(body), Some(bar)) = (&part.body, &plan.stock.bar) else { continue };
        let Some(rungs) = rungs(body) else { continue };
        let held = plan.setups.first().filter(|s| s.machine == lathe.name).and_then(|s| s.held.deepest);
        let Some(deepest) = held.map(|d| d.bare().in_mm()).filter(|d| *d >= 0.05) else { continue };
        let radius = bar.size.bare().in_mm() / 2.0;
        let v = speed::start(kind_of(part.common.material.kind), Kind::Turning, cutter.carbide);
        let c = Cutting {
            bar: radius,
            deepest: deepest.min(0.5),
            rpm: habits.speed(speed::turns(v, bar.size.bare()).in_rpm()),
            feeds: (0.06, 0.03),
            beyond: bar.kerf.bare().in_mm() + 0.5,
        };
        if rungs.iter().any(|r| r.radius > radius + 1e-6) {
            continue;
        }
        let title = format!("{}: outside", part.common.name);
        match write(&turn(&title, &rungs, &c), &habits) {
            Ok(text) => {
                all.push(program(plan.part, part, lathe, &habits, title, text, &rungs, &c, &cutter.name));
            }
            Err(cannot) => troubles.extend(lacking(part, lathe, cannot)),
        }
    }
    (all, troubles)
}
#[expect(clippy::too_many_arguments, reason = "what stands on a sheet comes from everywhere")]
fn program(
    index: usize,
    part: &Part,
    lathe: &Lathe,
    habits: &Habits,
    title: String,
    text: String,
    rungs: &[Rung],
    c: &Cutting,
    cutter: &str,
) -> Program {
    let length: f64 = rungs.iter().map(|r| r.length).sum();
    let number = u32::from(habits.tool_word != record::facts::ToolSays::Nothing);
    let travel = [(-1.0, habits.travel[0]), (-habits.travel[2], habits.travel[2])];
    let said = |mm: f64| reckon::print::significant(mm, 4);
    Program {
        name: format!("{}-outside", part.slug().replace(['_', '.'], "-")),
        title,
        part: index,
        machine: lathe.name.clone(),
        text,
        habits: habits.clone(),
        set_up: set_up(rungs, c, number, travel),
        room: ROOM,
        holding: vec![
            format!("Bar of {} mm, {} mm standing out of the jaws, end sawn square within {FACE} mm.", said(2.0 * c.bar), said(length + c.beyond + 3.0 + FACE)),
            "Zero of Z: the free face less what is faced off. X: touched off on a trial cut, measured.".into(),
        ],
        tools: vec![(1, cutter.to_owned(), format!("nose of {NOSE} mm radius, front edge 3° clear of square, at centre height"))],
        after: vec![
            "Drill, thread, chamfer and part off as the part's sheet says: the program turns the outside only.".into(),
            format!("Hollow corners keep the nose's radius of {NOSE} mm."),
        ],
    }
}
fn lacking(part: &Part, lathe: &Lathe, cannot: Vec<Cannot>) -> Vec<Trouble> {
    let one = |c: Cannot| {
        let (name, on) = (&part.common.name, &lathe.name);
        Trouble::shop(format!("no program for '{name}' on the {on}: its control does not know {}", c.word))
            .at(lathe.at.clone())
            .why(c.needs)
            .cure(c.would_do)
            .as_warning()
    };
    cannot.into_iter().map(one).collect()
}
