//! The other end, reversed in the lathe, and what is done off it.

use super::bench::Bench;
use super::grip::{self, GripPlan, Wanted};
use super::hole::seen;
use super::outside::{between_shoulders, ends_of, is_waist, shaped};
use super::turned::{allowed, at_bench, face, faces, holes_from, largest_step};
use super::{Caution, Figure, Held, Operation, SetUp, ShopTool, Spread, cuts, stock};
use movement::part::{Flats, Step};
use reckon::source::GEOMETRY;
use reckon::{Count, Diameter, Length, Source, Val, judge, work};
use shape::turned::End;

/// How work is held for its second end.
pub static REVERSED: Source = Source::practice(
    "a thread is held in a split bush tapped to it, a finished surface in a collet or soft jaws",
);

/// The step that the part is held by while its other end is made.
struct HeldBy {
    index: usize,
    threaded: bool,
}
/// The longest step of the first end that is cylindrical and stands clear.
fn held_by(steps: &[Step], last: usize) -> HeldBy {
    let usable = |i: &usize| {
        steps[*i].end.is_none() && steps[*i].knurl.is_none() && !steps[*i].undercut && !is_waist(steps, *i)
    };
    let long = |i: &usize| (steps[*i].to.bare() - steps[*i].from.bare()).value();
    let before: Vec<usize> = (0..last).filter(usable).collect();
    let pick = before.iter().copied().max_by(|x, y| long(x).total_cmp(&long(y)));
    // A short spigot holds nothing: then the largest step itself is gripped.
    let pick = pick.filter(|i| long(i) >= 1.5e-3 && steps[*i].size.nominal.bare() >= Diameter::mm(1.0));
    let index = pick.unwrap_or(last);
    HeldBy { index, threaded: steps[index].thread.is_some() }
}

/// Reversed: faced to length, the pip gone, and all that belongs to the other end.
pub fn reversed(
    b: &mut Bench<'_>,
    bar: &stock::BarFacts,
    tools: &mut Vec<ShopTool>,
    waits_for: &mut Vec<String>,
) -> SetUp {
    let steps = b.body.steps.clone();
    let last = largest_step(&steps);
    let by = held_by(&steps, last);
    let step = &steps[by.index];
    let grip = reversed_grip(b, step, &by, last, bar.through);
    let tail = match grip.held.overhang {
        Some(out) if bar.through => super::fits::long::tail(b, "setup2", b.body.length, out, bar.size),
        _ => None,
    };
    b.keep_under = tail.as_ref().map(|t| t.limit);
    let largest = b.body.largest;
    let mut to_length = face(b, "setup2.face", largest, bar.facing, "to length");
    let cuts_needed = cuts_to_length(b, bar, &grip);
    let bored = b.body.holes.iter().any(|h| h.depth.is_none());
    to_length.lines = vec![
        if bored {
            "Cut by cut to the length."
        } else {
            "First the pip, to the middle; then cut by cut to the length."
        }
        .to_owned(),
    ];
    to_length.figures = vec![
        Figure::of("take off", &bar.facing),
        Figure::of("cuts", &cuts_needed),
        Figure::of("deepest cut", &grip.deepest),
    ];
    let length = b.body.length;
    to_length.figures.push(Figure::of("length over all", &length));
    to_length.checks = told_lengths(b);

    if b.part.common.count.bare() > Count(1) {
        to_length.lines.push("Set a stop or note the dial: the whole batch is faced at this one reading, so that all are alike.".to_owned());
    }
    let mut ops = vec![to_length];
    ops.extend(holes_from(b, End::Far, "setup2", None));
    ops.extend(other_end(b, &steps, last, bar, &grip));
    ops.extend(faces(b, End::Far, "setup2", tools, waits_for));
    ops.extend(edge(b, &steps));
    grip.warn(&mut ops);
    let mut setup = SetUp {
        title: "other end, reversed".to_owned(),
        machine: b.lathe.name.clone(),
        held: grip.held.clone(),
        operations: ops,
        time: Spread::minutes(3.0, 8.0, 20.0),
    };
    if let Some(tail) = tail {
        tail.tell(&mut setup);
    }
    setup
}
fn reversed_grip(b: &mut Bench<'_>, step: &Step, by: &HeldBy, last: usize, through: bool) -> GripPlan {
    let (from, to) = (step.from, step.to);
    let long = work!(b.book, b.name("setup2.step_length"), |to, from| to - from, &GEOMETRY);
    // What is cut on the far side must stand out of the jaws: a washer is gripped over half of its thickness.
    let whole = by.index == last;
    let room = if whole && !through {
        work!(b.book, b.name("setup2.room"), |long| long / 2.0, &REVERSED)
    } else {
        work!(b.book, b.name("setup2.room"), |long| long, &REVERSED)
    };
    let length = b.body.length;
    let ahead = if whole && through {
        let clear = b.assumed("setup2.clear", Length::mm(2.0), "house default: clear of the jaws");
        let beyond = work!(b.book, b.name("setup2.beyond"), |length, to| length - to, &GEOMETRY);
        super::fits::long::overhang(b, "setup2", beyond, clear)
    } else if whole {
        work!(b.book, b.name("setup2.overhang"), |length, to, room| length - to + room, &GEOMETRY)
    } else {
        work!(b.book, b.name("setup2.overhang"), |length, to| length - to, &GEOMETRY)
    };
    let allowed = allowed(b, "setup2");
    let on = if by.threaded { bush_outside(b, step) } else { step.size.nominal };
    let largest = b.body.largest;
    let bends = step.size.nominal;
    let wanted = Wanted {
        at: "setup2".to_owned(),
        on,
        room: Some(room),
        ahead,
        cut: largest,
        bends,
        finished: !by.threaded,
        allowed,
    };
    let mut plan = grip::choose(b, &wanted);
    if by.threaded {
        let thread = step.thread.as_ref().map(|t| std::sync::Arc::clone(&t.of.thread));
        let bush = thread.as_ref().and_then(|t| super::jig::split_bush(&mut b.asking(), t, on));
        plan.held.by = format!(
            "split bush tapped {}, in the {}",
            thread.as_ref().map_or("", |t| t.name.as_str()),
            plan.held.by
        );
        plan.held.lines.push(
            if bush.is_some() {
                "The bush has a sheet of its own; the shoulder seats against it."
            } else {
                "The bush is a scrap of brass, drilled, tapped and sawn through on one side; the shoulder seats against it."
            }
            .to_owned(),
        );
    }
    plan
}
/// Outside of the split bush that a thread is held in: a collet of the shop at least 3 mm larger, or 4 mm larger.
pub(super) fn bush_outside(b: &mut Bench<'_>, step: &Step) -> Val<Diameter> {
    let major = step.size.nominal;
    let collets = b.lathe.holdings.iter().flat_map(|h| match &h.kind {
        record::facts::HoldKind::Collet { sizes, .. } => sizes.clone(),
        _ => Vec::new(),
    });
    let least = major.bare() + Length::mm(3.0);
    let fit = collets.filter(|c| c.bare() >= least).reduce(|x, y| if y < x { y } else { x });
    let name = b.name("setup2.bush");
    match fit {
        Some(collet) => work!(b.book, name, |collet| collet, &REVERSED),
        None => work!(b.book, name, |major| major + Length::mm(4.0), &REVERSED),
    }
}
/// The lengths that the drawing gives limits for; the length over all where it gives none.
fn told_lengths(b: &Bench<'_>) -> Vec<super::Check> {
    let told = b.body.told.iter().filter_map(|t| match t {
        movement::part::Told::Along { figure, inside: false, .. } => Some(figure),
        _ => None,
    });
    let mut checks: Vec<super::Check> = told
        .filter_map(|f| {
            let (upper, lower) = f.limits?;
            let name = b.book.line(f.id).map_or("", |l| l.name.as_str());
            let what = name
                .strip_prefix(b.slug.as_str())
                .unwrap_or(name)
                .trim_start_matches('.')
                .replace(['.', '_'], " ");
            Some(super::Check {
                what: if what == "length" && b.body.slot.is_some() {
                    "length under the head".to_owned()
                } else {
                    what
                },
                limits: Some((f.nominal + upper, f.nominal + lower)),
                seen: None,
                id: Some(f.id),
            })
        })
        .collect();
    if checks.is_empty() {
        let (upper, lower) = (b.body.length_limits.0.bare(), b.body.length_limits.1.bare());
        checks.push(cuts::check_length("length over all", b.body.length, upper, lower));
    }
    checks
}
/// How many light cuts take the facing allowance off.
fn cuts_to_length(b: &mut Bench<'_>, bar: &stock::BarFacts, grip: &GripPlan) -> Val<Count> {
    let (facing, deepest) = (bar.facing, grip.deepest);
    work!(b.book, b.name("setup2.cuts"), |facing, deepest| number(facing, deepest), &REVERSED)
}
fn number(facing: Length, deepest: Length) -> Count {
    #[expect(clippy::cast_possible_truncation, reason = "a number of cuts")]
    Count((facing.value() / deepest.value().max(1e-6) - 1e-9).ceil().clamp(1.0, 1e4) as i64)
}
/// Steps beyond the largest: turned down from what the bar left there.
fn other_end(
    b: &mut Bench<'_>,
    steps: &[Step],
    last: usize,
    bar: &stock::BarFacts,
    grip: &GripPlan,
) -> Vec<Operation> {
    let mut out = Vec::new();
    let mut stands = if bar.as_bar { bar.size } else { steps[last].size.nominal };
    let whole = b.body.length;
    for i in last + 1..steps.len() {
        let step = &steps[i];
        let at = format!("setup2.step{}", i + 1);
        if step.undercut || is_waist(steps, i) {
            out.push(between_shoulders(b, &at, step));
            continue;
        }
        if step.end.is_some() {
            out.push(shaped(b, &at, step));
            continue;
        }
        if step.size.nominal >= stands {
            continue;
        }
        let from = step.from;
        let length = work!(b.book, b.name(&format!("{at}.length")), |whole, from| whole - from, &GEOMETRY);
        out.push(cuts::turn(b, &at, step, stands, length, grip).operation);
        stands = step.size.nominal;
    }
    let beyond: Vec<Step> = steps.to_vec();
    let ahead = match grip.held.overhang {
        Some(out) if bar.through => work!(b.book, b.name("setup2.thread_overhang"), |out| out, &GEOMETRY),
        _ => work!(b.book, b.name("setup2.thread_overhang"), |whole| whole, &GEOMETRY),
    };
    out.extend(ends_of(b, &beyond, "setup2", End::Far, grip, (ahead, bar.size.bare())));
    out
}
/// Breaking the edges that were left.
fn edge(b: &mut Bench<'_>, steps: &[Step]) -> Vec<Operation> {
    let d = steps.last().map_or(b.body.largest, |s| s.size.nominal);
    let speed = b.spindle("setup2.edge", crate::kernel::speed::Kind::Broad, false, d);
    vec![Operation {
        title: "Break the edges".to_owned(),
        lines: vec![
            "As the drawing shows: chamfer, dome by graver to the template, or just the sharpness off."
                .to_owned(),
        ],
        tool: Some("chamfering tool or graver".to_owned()),
        speed: Some(speed),
        checks: vec![seen("all edges", "no burr to a finger-nail")],
        cautions: vec![Caution::Filing],
        time: Spread::around(1.0),
        does: vec!["deburr"],
        ..Operation::default()
    }]
}

/// Flats and cross holes, at the mill or the bench.
pub fn off_the_lathe(b: &mut Bench<'_>) -> Vec<SetUp> {
    let mut out: Vec<SetUp> = super::pillar::alike(b).into_iter().collect();
    if let Some(all) = b.body.flats {
        out.push(flats(b, all));
    }
    if !b.body.cross_holes.is_empty() {
        out.push(cross_holes(b));
    }
    out
}
fn flats(b: &mut Bench<'_>, Flats { from, to, across, count }: Flats) -> SetUp {
    // Flats are cut down from the step that they stand on, which may be thinner than the part.
    let middle = (from.bare() + to.bare()) / 2.0;
    let on = b.body.steps.iter().find(|s| s.from.bare() <= middle && middle <= s.to.bare());
    let largest = on.map_or(b.body.largest, |s| s.size.nominal);
    let n = super::bench::counted(b.book, b.name("flats.count"), count as usize, "flats as drawn");
    let down =
        work!(b.book, b.name("flats.down"), |largest, across| (largest.across() - across) / 2.0, &GEOMETRY);
    let long = work!(b.book, b.name("flats.length"), |to, from| to - from, &GEOMETRY);
    let turn = work!(b.book, b.name("flats.turn"), |n| reckon::Angle::deg(360.0 / n.n()), &GEOMETRY);
    let mut figures = vec![
        Figure::of("across the flats", &across),
        Figure::of("down from the outside", &down),
        Figure::of("over a length of", &long),
        Figure::of("turn for the next", &turn),
    ];
    let (machine, by, how) = match (b.shop.mills.first(), &b.shop.dividing) {
        (Some(mill), Some(head)) => {
            let ratio = head.ratio;
            let turns = work!(
                b.book,
                b.name("flats.crank"),
                |ratio, n| reckon::Ratio::si(ratio.n() / n.n()),
                &GEOMETRY
            );
            figures.push(Figure::of("turns of the crank", &turns));
            (
                mill.name.clone(),
                "dividing head, collet on the shank".to_owned(),
                "End mill, light cuts, the same depth on all.",
            )
        }
        _ => (
            "bench".to_owned(),
            "vice with soft jaws".to_owned(),
            "File with hardened rollers or a square-edged guide; measure across.",
        ),
    };
    let operation = Operation {
        title: format!("Cut the {count} flats"),
        lines: vec![how.to_owned()],
        tool: Some("end mill or file".to_owned()),
        figures,
        checks: vec![cuts::check_length("across the flats", across, Length::mm(0.05), Length::mm(-0.05))],
        cautions: vec![Caution::Slotting],
        time: Spread::around(2.0 * f64::from(count)),
        does: vec!["form"],
        ..Operation::default()
    };
    SetUp {
        title: "flats".to_owned(),
        machine,
        held: Held { by, lines: Vec::new(), deepest: None, overhang: None },
        operations: vec![operation],
        time: Spread::around(15.0),
    }
}
fn cross_holes(b: &mut Bench<'_>) -> SetUp {
    let mut ops = Vec::new();
    let holes = b.body.cross_holes.clone();
    let grips = b.lathe.tailstock_chuck;
    for (i, (z, d)) in holes.iter().enumerate() {
        let (z, d) = (*z, *d);
        let least = grips.0;
        let verdict = judge!(
            b.book,
            b.name(&format!("cross_hole.{}.held", i + 1)),
            "a chuck of the shop holds this drill",
            |d, least| d >= least,
            &GEOMETRY
        );
        b.book.cure(verdict.id(), "a pin chuck");
        let at = b.name(&format!("cross_hole.{}", i + 1));
        let body = b.body;
        let collar = super::jig::collar::collar(&mut b.asking(), body, (z, d), &at);
        let pace = super::flat::drilling_speed(b.shop, b.metal, d, &at, b.book);
        let (speed, slow) = pace.map_or((None, None), |(speed, told)| (Some(speed), told));
        let mut figures = vec![Figure::of("from the first end", &z), Figure::of("drill", &d)];
        let mut lines = Vec::new();
        let (mut off, mut tool) = ("a tenth of a millimetre".to_owned(), format!("drill {}", d.shown()));
        match &collar {
            Some(c) => {
                lines.extend(c.lines());
                figures.push(Figure::of("collar's face to the hole", &c.from_face));
                off = c.off.shown();
                tool = format!("{tool}, {}, vee block, try square", c.named.name);
            }
            None => lines.extend([
                "In a vee, clamped. The highest place: nip a thin steel rule between the work and a pointed rod in the spindle; where it lies level the point stands over the middle.".to_owned(),
                "Spot there with a short stiff drill, then drill; clear often, lighter before it comes out below.".to_owned(),
            ]),
        }
        lines.extend(slow);
        ops.push(Operation {
            title: "Drill across".to_owned(),
            lines,
            tool: Some(tool),
            speed,
            figures,
            checks: vec![seen(
                "hole",
                &format!("comes out opposite, within {off}; a pin in it stands square to the axis"),
            )],
            cautions: vec![Caution::DrillingSheet],
            time: Spread::around(if collar.is_some() { 2.5 } else { 5.0 }),
            does: vec!["drill"],
            ..Operation::default()
        });
    }
    let mut setup = at_bench("holes across", "vee block, clamped", ops, 10.0);
    if let Some(mill) = b.shop.mills.first() {
        setup.machine.clone_from(&mill.name);
    }
    setup
}
