//! The route of a turned part: first end from the bar, then reversed, then what is done off the lathe.

use super::bench::{self, Bench};
use super::fits::long;
use super::grip::{self, Wanted};
use super::{
    Caution, Figure, Held, Operation, PartPlan, SetUp, ShopTool, Spread, cuts, groove, hole, second, slot,
    stock, time,
};
use crate::kernel::bend;
use crate::kernel::speed::Kind;
use crate::kernel::stock::{Pitch, micrometres, predrill};
use crate::nc::lathe::OnLathe;
use crate::nc::lathe::stage::Blade;
use movement::part::{AxisHole, Part, Step, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{Book, Count, Diameter, Length, Trouble, Val, judge, work};
use record::facts::{Lathe, Shop};
use shape::turned::End;

/// Plans a turned part.
///
/// # Errors
/// A trouble when the shop has no lathe, or the tables lack its metal.
pub fn plan(
    index: usize,
    part: &Part,
    body: &TurnedBody,
    shop: &Shop,
    book: &mut Book,
    tools: &mut Vec<ShopTool>,
    jigs: &mut super::jig::Jigs,
) -> Result<PartPlan, Box<Trouble>> {
    let lathe = lathe(part, body, shop, book)?;
    let metal = bench::metal(part, book)?;
    let slug = part.slug().to_owned();
    let rough_feed = bench::feed(book, format!("{slug}.feed.rough"), lathe, 0.10);
    let fine_feed = bench::feed(book, format!("{slug}.feed.fine"), lathe, 0.05);
    let how = "volume of the solid by Pappus' rule, slots and grooves taken off";
    bench::weigh(part, book, body.solid.volume(), how, vec![body.length.id(), body.largest.id()]);
    // An arbor with leaves goes to the fire with its pivots thick; they are turned last.
    let thick = super::teeth::pinion::before_fire(part, body, book);
    let (drawn, body) = (body, thick.as_ref().unwrap_or(body));
    let wanted = super::finish::wanted::wanted(part, shop, thick.is_some(), book);
    let mut b = Bench {
        shop,
        lathe,
        part,
        body,
        slug,
        metal,
        rough_feed,
        fine_feed,
        wanted,
        jigs,
        keep_under: None,
        book,
    };
    let batch = super::batch::batch(part, b.book);
    let stock = stock::choose(&mut b, &batch);
    let Some(bar) = stock.bar.clone() else {
        return Err(Box::new(Trouble::ours(format!("no bar was chosen for '{}'", part.common.name))));
    };
    let mut waits_for = Vec::new();
    let most = stock.sticks.iter().map(|(n, _)| *n).max().unwrap_or(1);
    let stick = b.book.solved(
        b.name("stock.parts_a_stick"),
        Count(most),
        ("most parts on one length of bar, as the cut list shares them", 1, 0.0),
        vec![stock.need.id(), batch.total.id()],
        &crate::kernel::stock::YIELD,
    );
    let mut setups = Vec::new();
    if bar.through {
        setups.push(long::sawn(&mut b, bar.pitch, bar.kerf));
    }
    setups.push(first_end(&mut b, &batch, &bar, stick, tools, &mut waits_for));
    setups.push(second::reversed(&mut b, &bar, tools, &mut waits_for));
    b.keep_under = None;
    if let Some((_, width, depth)) = &body.slot {
        setups.push(slot::slot(&mut b, *width, *depth));
    }
    setups.extend(super::teeth::leaves(&mut b, tools, &mut waits_for));
    setups.extend(second::off_the_lathe(&mut b));
    setups.extend(b.jigs.after(part.slug()));
    if thick.is_some() {
        b.body = drawn;
        setups.extend(super::teeth::pinion::pivots(&mut b));
    }
    let finish = b.wanted.append(part, shop, b.book, &mut setups)?;
    let total = time::of_setups(b.book, &b.slug, &setups, batch.total.bare());
    Ok(PartPlan { part: index, batch, stock, setups, finish, waits_for, time: total })
}
/// The first lathe that swings the part, and verdicts on its size.
fn lathe<'s>(
    part: &Part,
    body: &TurnedBody,
    shop: &'s Shop,
    book: &mut Book,
) -> Result<&'s Lathe, Box<Trouble>> {
    let fits = |l: &&Lathe| {
        body.largest.bare() <= l.swing_over_slide.bare() && body.length.bare() <= l.between_centres.bare()
    };
    let chosen = shop.lathes.iter().find(fits).or(shop.lathes.first());
    let Some(lathe) = chosen else {
        return Err(Box::new(
            Trouble::shop(format!("'{}' is turned, and the shop has no lathe", part.common.name))
                .at(part.at().clone())
                .cure("write a [[lathe]] in shop.toml"),
        ));
    };
    let slug = part.slug();
    let (largest, swing) = (body.largest, lathe.swing_over_slide);
    let swings = judge!(
        book,
        format!("{slug}.swings"),
        format!("it turns over the cross slide of the {}", lathe.name),
        |largest, swing| largest <= swing,
        &GEOMETRY
    );
    super::fits::machine::swing(shop, lathe, &format!("{slug}.swings"), &swings, largest, book);
    Ok(lathe)
}
/// Index of the step up to which the first end is turned: the last of the largest.
pub fn largest_step(steps: &[Step]) -> usize {
    let size = |s: &Step| s.end.map_or(s.size.nominal.bare(), |e| e.bare().max(s.size.nominal.bare()));
    let most = steps.iter().map(size).fold(Diameter::ZERO, Diameter::max);
    steps.iter().rposition(|s| size(s) >= most - Length::mm(1e-9)).unwrap_or(0)
}
/// Everything from the bar at one setting: what is turned here runs true together.
fn first_end(
    b: &mut Bench<'_>,
    batch: &super::batch::Batch,
    bar: &stock::BarFacts,
    stick: Val<Count>,
    tools: &mut Vec<ShopTool>,
    waits_for: &mut Vec<String>,
) -> SetUp {
    let clear = b.assumed("setup1.clear", Length::mm(2.0), "house default: jaws to parting tool");
    let pitch = bar.pitch;
    let last = largest_step(&b.body.steps);
    let ahead = if bar.through {
        let (near, front) = (b.body.steps[last].from, bar.first_face);
        let beyond = work!(b.book, b.name("setup1.beyond"), |near, front| near + front, &GEOMETRY);
        long::overhang(b, "setup1", beyond, clear)
    } else if bar.passes {
        work!(b.book, b.name("setup1.overhang"), |pitch, clear| pitch + clear, &GEOMETRY)
    } else {
        // What does not go into the spindle stands out whole.
        let (n, first_face) = (stick, bar.first_face);
        work!(
            b.book,
            b.name("setup1.overhang"),
            |pitch, n, first_face, clear| pitch * n + first_face + clear,
            &GEOMETRY
        )
    };
    let allowed = allowed(b, "setup1");
    let bends = equivalent(b, "setup1.bends_like", ahead, bar.size.bare(), None);
    let tail = behind(b, bar, ahead);
    b.keep_under = tail.as_ref().map(|t| t.limit);
    let grip = grip::choose(
        b,
        &Wanted {
            at: "setup1".to_owned(),
            on: bar.size,
            room: None,
            ahead,
            cut: bar.size,
            bends,
            finished: false,
            allowed,
        },
    );
    let mut facing = face(b, "setup1.face", bar.size, bar.front, "the front");
    if !bar.through {
        facing.lines.push(format!("The first of a bar: {}, to square its sawn end.", bar.first_face.shown()));
    }
    let mut ops = vec![facing];
    if grip.padded {
        ops.push(centre(b));
    }
    ops.extend(holes_from(b, End::Datum, "setup1", Some((batch, bar))));
    ops.extend(super::outside::outside(b, bar, last, &grip, ahead));
    ops.extend(faces(b, End::Datum, "setup1", tools, waits_for));
    if !bar.through {
        ops.push(part_off(b, bar));
    }
    grip.warn(&mut ops);
    let title = if bar.through {
        "first end, the rest of it in the spindle"
    } else {
        "first end, from the bar, all at one setting"
    };
    let mut setup = SetUp {
        title: title.to_owned(),
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
/// What stands behind the headstock while the first end is worked.
fn behind(b: &mut Bench<'_>, bar: &stock::BarFacts, ahead: Val<Length>) -> Option<long::Tail> {
    if bar.through {
        let (pitch, kerf) = (bar.pitch, bar.kerf);
        let whole = work!(b.book, b.name("setup1.whole"), |pitch, kerf| pitch - kerf, &GEOMETRY);
        return long::tail(b, "setup1", whole, ahead, bar.size);
    }
    let whole = bar.whole.filter(|_| bar.passes)?;
    long::tail(b, "setup1", whole, ahead, bar.size)
}
/// The plain bar that bends as much at its free end as the finished steps do, held where the bar is held. A step may
/// be taken thinner than drawn: a thread at its root.
pub fn equivalent(
    b: &mut Bench<'_>,
    name: &str,
    ahead: Val<Length>,
    bar: Diameter,
    thin: Option<(usize, Diameter)>,
) -> Val<Diameter> {
    let steps = &b.body.steps;
    let last = largest_step(steps);
    let finished = steps[last].to.bare();
    let mut pieces = Vec::new();
    let mut push = |length: Length, outside: Diameter| {
        if length > Length::mm(1e-6) && outside > Diameter::ZERO {
            pieces.push(bend::Piece::solid(length, outside));
        }
    };
    // From the jaws outward: what is still bar, then the steps towards the free end. Of a step that reaches into the
    // jaws only what stands out bends.
    push(ahead.bare() - finished, bar);
    for (i, s) in steps[..=last].iter().enumerate().rev() {
        let own = s.end.map_or(s.size.nominal.bare(), |e| e.bare().min(s.size.nominal.bare()));
        let outside = thin.filter(|(k, _)| *k == i).map_or(own, |(_, d)| d);
        push(s.to.bare().min(ahead.bare()) - s.from.bare(), outside);
    }
    let total: Length = pieces.iter().map(|p| p.length).sum();
    let e = b.metal.e.bare();
    let bent = bend::stepped(&pieces, bend::Held::Chuck, e, reckon::Force::si(1.0), total, None);
    let d = bent.map_or(bar, |y| {
        let l = total.value();
        let fourth = 64.0 * l * l * l / (3.0 * reckon::maths::PI * e.value() * y.value());
        Diameter::si(fourth.sqrt().sqrt())
    });
    let mut inputs = vec![ahead.id(), b.metal.e.id()];
    inputs.extend(steps[..=last].iter().map(|s| s.size.nominal.id()));
    let name = b.name(name);
    b.book.solved(
        name,
        d,
        ("a plain bar of this diameter bends as much at its free end as the finished steps", 1, 0.0),
        inputs,
        &bend::STEPS,
    )
}
/// How far the free end may bend: a quarter of the closest limits.
pub fn allowed(b: &mut Bench<'_>, at: &str) -> Val<Length> {
    let tight = b.body.steps.iter().min_by(|x, y| {
        let w = |s: &Step| s.size.upper.bare() - s.size.lower.bare();
        w(x).value().total_cmp(&w(y).value())
    });
    let name = b.name(&format!("{at}.may_bend"));
    match tight {
        Some(s) => {
            let (upper, lower) = (s.size.upper, s.size.lower);
            work!(
                b.book,
                name,
                |upper, lower| ((upper - lower) / 4.0).max(Length::mm(0.002)),
                &reckon::source::HOUSE
            )
        }
        None => b.book.assumed(name, Length::mm(0.01), "house default"),
    }
}
/// Facing a bar or a part.
pub fn face(b: &mut Bench<'_>, at: &str, d: Val<Diameter>, take: Val<Length>, what: &str) -> Operation {
    let speed = b.spindle(at, Kind::Turning, false, d);
    Operation {
        title: format!("Face {what}"),
        lines: vec!["Light cuts to the middle, until it is clean all over.".to_owned()],
        tool: Some(cuts::tool(b)),
        speed: Some(speed),
        feed: Some(b.fine_feed),
        figures: vec![Figure::of("take off about", &take)],
        program: Some(OnLathe::Face),
        cautions: vec![Caution::Turning],
        time: Spread::around(1.5),
        does: vec!["form"],
        ..Operation::default()
    }
}
fn centre(b: &mut Bench<'_>) -> Operation {
    let drill = b.assumed("setup1.centre", Diameter::mm(1.0), "house default: pilot of a small centre drill");
    let speed = b.spindle("setup1.centre_drill", Kind::Drilling, false, drill);
    Operation {
        title: "Centre the free end".to_owned(),
        lines: vec!["Small centre, to be faced away or left in the point; bring up the tailstock with light pressure and oil.".to_owned()],
        tool: Some("small centre drill".to_owned()),
        speed: Some(speed),
        cautions: vec![Caution::Turning],
        time: Spread::around(2.0),
        ..Operation::default()
    }
}
/// Holes drilled from an end; through holes of a batch are drilled for several parts at once.
pub fn holes_from(
    b: &mut Bench<'_>,
    end: End,
    setup: &str,
    bar: Option<(&super::batch::Batch, &stock::BarFacts)>,
) -> Vec<Operation> {
    let holes: Vec<AxisHole> = b.body.holes.iter().filter(|h| h.end == end).cloned().collect();
    let mut out = Vec::new();
    for h in holes {
        let at = format!("{setup}.{}", h.slug);
        if h.sink {
            out.push(sink(b, &at, &h));
            continue;
        }
        let (full, parts) = match (&h.depth, bar) {
            (Some(depth), _) => (*depth, Count(1)),
            (None, Some((batch, bar))) => together(b, &at, &h, batch, bar),
            (None, None) => (b.body.length, Count(1)),
        };
        out.extend(hole::drill(b, &at, &h, full, parts));
    }
    out
}
/// How many parts one hole serves: as many as the drill reaches, and its depth.
fn together(
    b: &mut Bench<'_>,
    at: &str,
    h: &AxisHole,
    batch: &super::batch::Batch,
    bar: &stock::BarFacts,
) -> (Val<Length>, Count) {
    let size = h.size.nominal;
    let name = b.name(&format!("{at}.reach_for_batch"));
    let reach = super::drills::flutes(b.book, name, b.shop, size, Length::mm(0.3));
    let total = batch.total;
    let (first_face, pitch) = (bar.first_face, bar.pitch);
    let parts = work!(
        b.book,
        b.name(&format!("{at}.parts_a_hole")),
        |reach, first_face, pitch, size, total| parts_a_hole(reach, first_face, pitch, size, total),
        &crate::kernel::stock::PREDRILL
    );
    let n = if b.body.holes.iter().any(|o| o.thread.is_some() || o.sink) && h.thread.is_some() {
        Count(1)
    } else {
        parts.bare()
    };
    if n <= Count(1) {
        let (length, facing, kerf) = (b.body.length, bar.facing, bar.kerf);
        let full = work!(
            b.book,
            b.name(&format!("{at}.full_depth")),
            |length, facing, kerf| length + facing + kerf,
            &crate::kernel::stock::PREDRILL
        );
        return (full, Count(1));
    }
    let (part, facing, front, kerf) = (b.body.length, bar.facing, bar.front, bar.kerf);
    let full = work!(
        b.book,
        b.name(&format!("{at}.full_depth")),
        |parts, first_face, part, facing, front, kerf| predrill(
            parts,
            first_face,
            &Pitch { part, facing: facing + front, kerf },
            Length::ZERO,
            Length::mm(0.5)
        ),
        &crate::kernel::stock::PREDRILL
    );
    (full, n)
}
fn parts_a_hole(reach: Length, first_face: Length, pitch: Length, size: Diameter, total: Count) -> Count {
    let point = size.across() * 0.3004;
    let free = micrometres(reach) - micrometres(first_face) - micrometres(point) - 500;
    Count((free.max(0) / micrometres(pitch).max(1)).clamp(1, total.0.max(1)))
}
fn sink(b: &mut Bench<'_>, at: &str, h: &AxisHole) -> Operation {
    let d = h.size.nominal;
    let speed = b.spindle(at, Kind::Broad, false, d);
    let mut figures = vec![Figure::of("diameter", &d)];
    if let Some(depth) = &h.depth {
        figures.push(Figure::of("depth", depth));
    }
    Operation {
        title: format!("Cut the {}", h.what),
        lines: vec!["Round-ended graver or sink cutter, light; polish with a peg.".to_owned()],
        tool: Some("sink cutter".to_owned()),
        speed: Some(speed),
        figures,
        cautions: vec![Caution::Turning],
        time: Spread::around(3.0),
        ..Operation::default()
    }
}
/// Grooves and relief in the face of an end.
pub fn faces(
    b: &mut Bench<'_>,
    end: End,
    setup: &str,
    tools: &mut Vec<ShopTool>,
    waits_for: &mut Vec<String>,
) -> Vec<Operation> {
    let mut out = Vec::new();
    let body = b.body;
    for g in body.grooves.iter().filter(|g| g.end == end) {
        let (op, waits) = groove::cut(b, &format!("{setup}.{}", g.slug), g, tools);
        out.push(op);
        if let Some(slug) = waits
            && !waits_for.contains(&slug)
        {
            waits_for.push(slug);
        }
    }
    if let Some((_, diameter, depth)) = body.relief.filter(|r| r.0 == end) {
        let name = format!("{setup}.relief");
        let speed = b.spindle(&name, Kind::Turning, false, diameter);
        out.push(Operation {
            title: "Cut the relief".to_owned(),
            lines: vec!["From the hole outward in one light cut, so that only the rim bears.".to_owned()],
            tool: Some(cuts::tool(b)),
            speed: Some(speed),
            feed: Some(b.fine_feed),
            figures: vec![Figure::of("out to", &diameter), Figure::of("depth", &depth)],
            cautions: vec![Caution::Turning],
            time: Spread::around(1.5),
            ..Operation::default()
        });
    }
    out
}
fn part_off(b: &mut Bench<'_>, bar: &stock::BarFacts) -> Operation {
    let (size, kerf) = (bar.size, bar.kerf);
    let speed = b.spindle("setup1.part_off", Kind::Broad, false, size);
    let (length, facing) = (b.body.length, bar.facing);
    let at = work!(b.book, b.name("setup1.part_off.at"), |length, facing| length + facing, &GEOMETRY);
    let tool = b.shop.cutters.iter().find(|c| c.of == record::facts::CutterUse::Parting && c.made);
    let name = tool.map_or("parting tool or saw".to_owned(), |c| c.name.clone());
    let mut lines = vec![format!("Leave {} to be faced off the back.", bar.facing.shown())];
    if tool.is_some() {
        lines.push("Keep at it with a steady feed and oil on steel; draw back to clear.".to_owned());
    }
    let mut figures = vec![Figure::of("from the free end", &at), Figure::of("cut is wide", &kerf)];
    let height = b.lathe.tool_height;
    if height.bare() != Length::ZERO && b.body.holes.iter().all(|h| h.depth.is_some()) {
        let pip = work!(
            b.book,
            b.name("setup1.part_off.pip"),
            |height| crate::kernel::parting::pip(height),
            &crate::kernel::parting::OFF_CENTRE
        );
        let side = if height.bare() < Length::ZERO { "low" } else { "high" };
        lines.push(format!(
            "Tools sit {} {side} on this lathe: a pip of {} stays on the back, faced off next.",
            height.bare().abs_shown(),
            pip.shown()
        ));
        figures.push(Figure::of("pip left", &pip));
    }
    Operation {
        title: "Part off".to_owned(),
        lines,
        tool: Some(name),
        speed: Some(speed),
        feed: Some(b.fine_feed),
        figures,
        cautions: vec![Caution::Parting],
        program: Some(OnLathe::PartOff {
            at: at.bare().in_mm(),
            blade: tool.and_then(|c| {
                Some(Blade {
                    width: c.size?.bare().in_mm(),
                    reach: c.reach.map_or(8.0 * c.size?.bare().in_mm(), |r| r.bare().in_mm()),
                    name: c.name.clone(),
                })
            }),
        }),
        time: Spread::around(2.0),
        ..Operation::default()
    }
}
trait AbsShown {
    fn abs_shown(self) -> String;
}
impl AbsShown for Length {
    fn abs_shown(self) -> String {
        reckon::Shown::shown(&self.abs())
    }
}
/// A set-up at the bench.
pub fn at_bench(title: &str, by: &str, operations: Vec<Operation>, minutes: f64) -> SetUp {
    SetUp {
        title: title.to_owned(),
        machine: "bench".to_owned(),
        held: Held { by: by.to_owned(), lines: Vec::new(), deepest: None, overhang: None },
        operations,
        time: Spread::around(minutes),
    }
}
