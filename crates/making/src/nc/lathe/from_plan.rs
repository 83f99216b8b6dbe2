//! Which programs a plan asks for.

use super::super::hand_over::{Does, Program};
use super::super::{Cannot, Habits, write};
use super::outside::{Cutting, FACE, Form, LEFT, NOSE, ROOM, Rung};
use super::sequence::{Do, Piece, Work, pieces};
use super::stage::{self, Blade, Bore, Drill, FaceGroove, Groove, PartOff, Stage, Thread, number};
use super::{bore, way};
use crate::kernel::speed::{self, Kind};
use crate::plan::bench::kind_of;
use crate::plan::turned::largest_step;
use crate::plan::{Operation, PartPlan};
use kurbo::Point;
use movement::part::{Body, Part, Step, TurnedBody};
use reckon::Trouble;
use record::facts::{CutterUse, Lathe, Shop};
use shape::profile::Segment;
use shape::segment::Sense;

/// What an operation of a lathe is to a program: bare millimetres from the free end, degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum OnLathe {
    /// Facing.
    Face,
    /// A step turned: where it begins, and its radius.
    Turn {
        /// From the free end.
        from: f64,
        /// Radius that it is turned to.
        radius: f64,
    },
    /// The spot before a drill.
    Spot,
    /// Drilling on the axis.
    Drill {
        /// The hole.
        drill: Drill,
        /// Whether it goes through, and for how many parts it is drilled.
        through: bool,
        /// Whether the chips crumble.
        crumbles: bool,
    },
    /// Boring what was drilled.
    Bore(Bore),
    /// A groove in the outside.
    Groove(Groove),
    /// A groove in the free face.
    FaceGroove(FaceGroove),
    /// A cone or a curve: its step begins where the cylinder that is turned for it does.
    Shape,
    /// The end of a step chamfered before its thread: where the step begins.
    Chamfer {
        /// From the free end.
        from: f64,
    },
    /// A thread in passes; where its step begins and its full thread ends.
    Thread {
        /// From the free end.
        from: f64,
        /// The thread.
        thread: Thread,
    },
    /// Parting off.
    PartOff {
        /// Distance of the part's back from the free end.
        at: f64,
        /// The blade.
        blade: Option<Blade>,
    },
}

/// The outside up to the largest step, and whether it is turned from the other end; nothing where it is of a kind
/// that the program does not make.
fn rungs(body: &TurnedBody, operations: &[Operation]) -> Option<(Vec<Rung>, bool)> {
    let last = largest_step(&body.steps);
    let plain = |steps: &[Step]| steps.iter().all(|s| s.knurl.is_none());
    let rises = |all: &[Rung]| all.windows(2).all(|w| w[0].radius <= w[1].lowest() + 1e-9);
    let long = |all: &[Rung]| all.iter().all(|r| r.length > 2.0 * LEFT);
    let grooved = |from: f64| {
        operations
            .iter()
            .any(|o| matches!(&o.program, Some(OnLathe::Groove(g)) if (g.span.0 - from).abs() < 1e-6))
    };
    let turned = |from: f64| {
        operations.iter().find_map(|o| match o.program {
            Some(OnLathe::Turn { from: at, radius }) if (at - from).abs() < 1e-6 => Some(radius),
            _ => None,
        })
    };
    let chamfered = |from: f64| {
        operations.iter().find_map(|o| match &o.program {
            Some(OnLathe::Thread { from: at, thread }) if (at - from).abs() < 1e-6 => {
                thread.passes.last().map(|p| p.0 + 0.1)
            }
            _ => None,
        })
    };
    let mut first: Vec<Rung> = Vec::new();
    for s in body.steps.iter().take(last + 1) {
        let (from, to) = (s.from.bare().in_mm(), s.to.bare().in_mm());
        let middle = (s.size.upper.bare().in_mm() + s.size.lower.bare().in_mm()) / 2.0;
        // A groove is first turned as far as what stands before it.
        if grooved(from) {
            match first.last_mut() {
                Some(before) => before.length += to - from,
                None => return None,
            }
            continue;
        }
        let radius = turned(from).unwrap_or((s.size.nominal.bare().in_mm() + middle) / 2.0);
        let threaded = chamfered(from).filter(|c| *c < 0.5 * radius && first.is_empty());
        first.push(match (threaded, drawn(body, s)?) {
            (Some(chamfer), _) => Rung::cylinder(to - from, radius, chamfer),
            (None, Drawn::Cylinder { chamfer }) => Rung::cylinder(to - from, radius, chamfer),
            (None, Drawn::Curved(rung)) => rung,
        });
    }
    if plain(&body.steps[..=last])
        && rises(&first)
        && long(&first)
        && (first.len() > 1 || last + 1 == body.steps.len())
    {
        return Some((first, false));
    }
    let shaped = |s: &Step| s.undercut || s.curved || s.end.is_some();
    if body.steps.iter().any(shaped) || !plain(&body.steps) {
        return None;
    }
    let mut all: Vec<Rung> = body
        .steps
        .iter()
        .map(|s| {
            let (from, to) = (s.from.bare().in_mm(), s.to.bare().in_mm());
            let middle = (s.size.upper.bare().in_mm() + s.size.lower.bare().in_mm()) / 2.0;
            Rung::cylinder(to - from, (s.size.nominal.bare().in_mm() + middle) / 2.0, 0.0)
        })
        .collect();
    all.reverse();
    (rises(&all) && long(&all)).then_some((all, true))
}
/// A step as its outline shows it.
enum Drawn {
    /// A cylinder, its free edge chamfered at 45° or sharp.
    Cylinder { chamfer: f64 },
    /// Anything else that rises.
    Curved(Rung),
}
/// A step as the part's own outline shows it; nothing where it falls towards the chuck.
fn drawn(body: &TurnedBody, s: &Step) -> Option<Drawn> {
    let (from, to) = (s.from.bare().in_mm(), s.to.bare().in_mm());
    let inside = |g: &&Segment| {
        let middle = g.at(0.5).x;
        middle > from + 1e-6 && middle < to - 1e-6
    };
    // Seen from the free end: z falls, and what turned left turns right.
    let seen = |p: Point| Point::new(from - p.x, p.y);
    let pieces = body.solid.outer.segments().iter().filter(inside).map(|g| match *g {
        Segment::Line { from, to } => Segment::Line { from: seen(from), to: seen(to) },
        Segment::Arc { from, to, centre, radius, sense } => Segment::Arc {
            from: seen(from),
            to: seen(to),
            centre: seen(centre),
            radius,
            sense: if sense == Sense::Left { Sense::Right } else { Sense::Left },
        },
    });
    let pieces: Vec<Segment> = pieces.collect();
    let level = |g: &Segment| matches!(g, Segment::Line { from, to } if (from.y - to.y).abs() < 1e-6);
    match pieces.as_slice() {
        [] => None,
        [one] if level(one) => Some(Drawn::Cylinder { chamfer: 0.0 }),
        [Segment::Line { from, to }, two]
            if level(two) && (to.y - from.y - (from.x - to.x)).abs() < 1e-6 && to.y > from.y =>
        {
            Some(Drawn::Cylinder { chamfer: to.y - from.y })
        }
        all => {
            let radius = all.last()?.to().y;
            way::rises(all).then(|| {
                Drawn::Curved(Rung {
                    length: to - from,
                    radius,
                    chamfer: 0.0,
                    form: Form::Curved(all.to_vec()),
                })
            })
        }
    }
}
/// A through hole is drilled for one part at a time, just into the parting cut: the program runs for each part anew.
fn own_hole(d: &Drill, through: bool, crumbles: bool, at: Option<f64>, blade: Option<&Blade>) -> Drill {
    let Some(at) = at.filter(|_| through) else { return d.clone() };
    let tip = 0.5 * d.across / reckon::maths::tan(0.5 * d.point * reckon::maths::PI / 180.0);
    let to = at + blade.map_or(1.0, |b| b.width) + tip;
    let dips = speed::pecks(reckon::Diameter::mm(d.across), reckon::Length::mm(to), crumbles);
    Drill { dips: dips.iter().map(|p| (p.to.in_mm(), p.out)).collect(), ..d.clone() }
}
/// What is done at the first setting, and why some of it is not done by program.
fn order(
    operations: &[Operation],
    rungs: &[Rung],
    c: &Cutting,
    turning: &str,
    habits: &Habits,
) -> Option<(Vec<Do>, Vec<Cannot>)> {
    let rpm = |o: &Operation| o.speed.map_or(c.rpm, |s| habits.speed(s.bare().in_rpm()));
    let blade = operations.iter().find_map(|o| match &o.program {
        Some(OnLathe::PartOff { blade, .. }) => blade.clone(),
        _ => None,
    });
    let part_at = operations.iter().find_map(|o| match &o.program {
        Some(OnLathe::PartOff { at, .. }) => Some(*at),
        _ => None,
    });
    let mut outside = stage::outside(rungs, c, turning)?;
    let mut all = Vec::new();
    let mut cannot = Vec::new();
    let mut through_hole: Option<f64> = None;
    let mut spots: Option<&str> = None;
    // Grooves and threads only after holes; what is by hand keeps its place.
    for o in operations {
        let made = match &o.program {
            Some(OnLathe::Face | OnLathe::Turn { .. } | OnLathe::Shape) => {
                outside.does.push(o.title.clone());
                continue;
            }
            Some(OnLathe::Chamfer { from }) if *from < 1e-6 && rungs[0].chamfer > 0.0 => {
                outside.does.push(o.title.clone());
                continue;
            }
            Some(OnLathe::Chamfer { .. }) | None => None,
            Some(OnLathe::Spot) => {
                spots = Some(&o.title);
                continue;
            }
            Some(OnLathe::Drill { drill, through, crumbles }) => {
                let d = &own_hole(drill, *through, *crumbles, part_at, blade.as_ref());
                if let Some(title) = spots.take() {
                    let spot = Stage { does: vec![title.to_owned()], ..stage::spot(d, rpm(o)) };
                    all.push(Do::Stage(Box::new(spot)));
                }
                let fits = d.dips.last().is_some_and(|(to, _)| *to <= d.flutes);
                if fits && *through {
                    through_hole = Some(0.5 * d.across);
                }
                fits.then(|| stage::drill(d, rpm(o)))
            }
            Some(OnLathe::Bore(own)) => {
                let beyond = part_at.zip(blade.as_ref()).map(|(at, b)| at + b.width);
                let depth = beyond.filter(|_| own.through).unwrap_or(own.depth);
                let made =
                    bore::bore(&Bore { depth, deepest: own.deepest.min(c.deepest), ..own.clone() }, rpm(o));
                if made.is_some() && own.through {
                    through_hole = Some(own.radius);
                }
                made
            }
            Some(OnLathe::Groove(g)) => {
                blade.as_ref().and_then(|b| stage::groove(g, rungs, c.bar, b, rpm(o)))
            }
            Some(OnLathe::FaceGroove(g)) => Some(stage::face_groove(g, rpm(o))),
            Some(OnLathe::Thread { thread, .. }) => match stage::thread(thread, habits, rpm(o)) {
                Ok(stage) => Some(stage),
                Err(why) => {
                    cannot.push(why);
                    None
                }
            },
            Some(OnLathe::PartOff { at, .. }) => {
                let part = PartOff { at: *at, bore: through_hole };
                blade.as_ref().and_then(|b| stage::part_off(&part, c.bar, b, rpm(o)))
            }
        };
        all.push(match made {
            Some(stage) => Do::Stage(Box::new(Stage { does: vec![o.title.clone()], ..stage })),
            None => Do::Hand(o.title.clone()),
        });
    }
    all.insert(0, Do::Stage(Box::new(outside)));
    // What is left to the hands at the end follows no program.
    Some((all, cannot))
}
/// The programs of a shop's lathe, and warnings where its control lacks a word.
pub fn programs(shop: &Shop, parts: &[Part], plans: &[PartPlan]) -> (Vec<Program>, Vec<Trouble>) {
    let (mut all, mut troubles) = (Vec::new(), Vec::new());
    let own = shop.lathes.iter().find_map(|l| Some((l, Habits::of_lathe(l)?)));
    let Some((lathe, habits)) = own else { return (all, troubles) };
    let turns = shop.cutters.iter().find(|c| c.of == CutterUse::Turning && c.made);
    let Some(cutter) = turns else { return (all, troubles) };
    let travel = [(-1.0, habits.travel[0]), (-habits.travel[2], habits.travel[2])];
    for plan in plans {
        let part = &parts[plan.part];
        let (Body::Turned(body), Some(bar)) = (&part.body, &plan.stock.bar) else { continue };
        let Some(first) = plan.setups.first().filter(|s| s.machine == lathe.name) else { continue };
        let Some((rungs, other_end)) = rungs(body, &first.operations) else { continue };
        let Some(deepest) = first.held.deepest.map(|d| d.bare().in_mm()).filter(|d| *d >= 0.05) else {
            continue;
        };
        let radius = bar.size.bare().in_mm() / 2.0;
        let v = speed::start(kind_of(part.common.material.kind), Kind::Turning, cutter.carbide);
        let length: f64 = rungs.iter().map(|r| r.length).sum();
        let rest = body.length.bare().in_mm() - length;
        let beyond = rest + bar.kerf.bare().in_mm() + bar.facing.bare().in_mm() + 0.5;
        let c = Cutting {
            bar: radius,
            deepest: deepest.min(0.5),
            rpm: habits.speed(speed::turns(v, bar.size.bare()).in_rpm()),
            feeds: (0.06, 0.03),
            beyond,
        };
        if rungs.iter().any(|r| r.radius > radius + 1e-6) {
            continue;
        }
        let made = if other_end {
            let outside = stage::outside(&rungs, &c, &cutter.name);
            outside.map(|s| (vec![Do::Stage(Box::new(s))], Vec::new()))
        } else {
            order(&first.operations, &rungs, &c, &cutter.name, &habits)
        };
        let Some((order, cannot)) = made else { continue };
        let name = &part.common.name;
        let work = Work { name, rungs: &rungs, cutting: &c, order: &order };
        let hand: Vec<&str> = order
            .iter()
            .rev()
            .map_while(|d| match d {
                Do::Hand(says) => Some(says.as_str()),
                Do::Stage(_) => None,
            })
            .collect();
        let made = pieces(&work, &habits, travel);
        let n = made.len();
        for (i, piece) in made.into_iter().enumerate() {
            match write(&piece.acts, &habits) {
                Ok(text) => {
                    let sheet = Sheet {
                        part,
                        index: plan.part,
                        lathe,
                        habits: &habits,
                        c: &c,
                        length,
                        place: (i, n),
                    };
                    let after = if i + 1 == n { hand.as_slice() } else { &[] };
                    all.push(sheet.program(piece, text, after, &cannot));
                }
                Err(cannot) => troubles.extend(lacking(part, lathe, cannot)),
            }
        }
    }
    (all, troubles)
}
/// What the sheets of a part's programs share.
struct Sheet<'a> {
    part: &'a Part,
    index: usize,
    lathe: &'a Lathe,
    habits: &'a Habits,
    c: &'a Cutting,
    length: f64,
    place: (usize, usize),
}
impl Sheet<'_> {
    fn program(&self, piece: Piece, text: String, hand: &[&str], cannot: &[Cannot]) -> Program {
        let c = self.c;
        let (i, n) = self.place;
        let name = &self.part.common.name;
        let mut holding = vec![
            format!(
                "Bar of {} mm, {} mm standing out of the jaws, end sawn square within {FACE} mm.",
                number(2.0 * c.bar),
                number(self.length + c.beyond + 3.0 + FACE)
            ),
            "Zero of Z: the free face less what is faced off. X: each tool touched off as its line says; every tool's Z on the same face.".into(),
            "Begin with the tool clear: in front of the work, further out than the bar.".into(),
        ];
        if i > 0 {
            holding[0] = format!("The bar stays held as it is: program {} of {n} at this setting.", i + 1);
        }
        holding.extend(piece.first.iter().map(|f| format!("Before it, by hand: {}.", lower(f))));
        let mut after = Vec::new();
        if i + 1 == n && piece.word == "outside" && hand.is_empty() {
            after.push("All else as the part's sheet says: the program turns the outside only.".to_owned());
        }
        after.extend(hand.iter().rev().map(|h| format!("By hand, as the part's sheet says: {}.", lower(h))));
        if i + 1 == n {
            after.extend(
                cannot.iter().map(|c| format!("Not by program: {}. What would do: {}.", c.needs, c.would_do)),
            );
        }
        if piece.says.contains("thread ") {
            after.push("Measure the thread before the bar is moved. Still too large: set this tool's X nearer by half of what is over, and run its last passes again from the same start and at the same speed.".into());
        }
        if piece.says.contains("part off") {
            after
                .push("Let the part fall into a tray or onto a peg in its bore, never into the hand.".into());
        }
        after.push(format!("Hollow corners keep the nose's radius of {NOSE} mm."));
        Program {
            name: format!("{}-{}", self.part.slug().replace(['_', '.'], "-"), piece.word),
            title: format!("{name}: {}", piece.says),
            part: self.index,
            does: Does { titles: piece.does, alone: false },
            machine: self.lathe.name.clone(),
            text,
            habits: self.habits.clone(),
            set_up: piece.set_up,
            room: ROOM,
            holding,
            tools: piece.tools,
            after,
        }
    }
}
/// A title as it stands within a sentence.
fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
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
/// Tells at the first setting which programs do it, and which of its operations.
pub fn refer(programs: &[Program], plans: &mut [PartPlan]) {
    for plan in plans {
        let own = || programs.iter().filter(|p| p.part == plan.part);
        let says: Vec<String> = own()
            .map(|p| match p.does.titles.as_slice() {
                [] => format!("{}.nc", p.name),
                titles => format!("{}.nc ({})", p.name, list(titles)),
            })
            .collect();
        let Some(setup) = plan.setups.first_mut().filter(|_| !says.is_empty()) else { continue };
        setup
            .held
            .lines
            .push(format!("Or by program: {}; its sheet stands among the programs.", says.join(", then ")));
    }
}
/// Titles of operations within a sentence, those that follow one another and are alike told once.
fn list(titles: &[String]) -> String {
    let mut all: Vec<String> = Vec::new();
    for title in titles.iter().map(|t| lower(t)) {
        if all.last() != Some(&title) {
            all.push(title);
        }
    }
    all.join(", ")
}
