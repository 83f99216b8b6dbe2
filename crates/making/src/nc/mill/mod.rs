//! Programs for a mill: windows between the arms of wheels, outlines of small flat parts.
//!
//! Zero is on the upper face: at the middle of a wheel, at the lower left corner of a flat part's
//! rectangle. The work is stuck flat on waste over its whole face; the cutter goes a little into the waste.

mod cut;
mod offset;
pub mod wheel;

use super::flat::{self, Cut, Job, Piece, Tabs, Tool, What};
use super::hand_over::{CutterShape, Does, Layer, Program, Ring, SetUp};
use super::{Act, Cannot, Habits, To, write};
use crate::kernel::speed;
use crate::plan::PartPlan;
use cut::Milling;
use kurbo::Point;
use movement::part::{Body, FlatBody, Part};
use reckon::{Alternative, Angle, Book, Diameter, Length, Source, Speed, Trouble};
use record::facts::{Cutter, CutterUse, Mill, Shop};
use shape::flat::Flat;
use shape::profile::{Profile, Segment};
use shape::region::{Corner, Region};

/// Height for going from place to place.
const CLEAR: f64 = 5.0;
/// Height down to which it goes fast.
const NEAR: f64 = 0.5;
/// How far into the waste.
const THROUGH: f64 = 0.1;
/// How closely outlines handed over follow their curves.
const FINE: f64 = 0.001;
/// Width of the bridges that hold a part in its sheet, and how much thickness they keep.
const BRIDGE: (f64, f64) = (2.5, 0.5);
/// Metal round a flat part.
const ROUND: f64 = 3.0;
/// More or less metal than this is a fault of the program.
const ROOM: f64 = 0.02;

/// Why a way was chosen.
static WAY: Source = Source::practice("what a small mill reaches it cuts closer than saw and file");

/// A program that was decided on; it is written when it is wanted, since that takes longer than all deciding.
#[derive(Clone, Debug)]
pub struct Draft {
    /// Index of the part.
    pub part: usize,
    /// Whether the windows of a wheel are cut, or a small flat part.
    windows: bool,
    /// Name of the cutter.
    cutter: String,
    /// How it cuts.
    milling: Milling,
}
fn own(shop: &Shop) -> Option<(&Mill, Habits)> {
    shop.mills.iter().find_map(|m| Some((m, Habits::of_mill(m)?)))
}
/// What a shop's mill does by program, decided but not yet written.
pub fn drafts(shop: &Shop, parts: &[Part], plans: &[PartPlan], book: &mut Book) -> Vec<Draft> {
    let Some((mill, habits)) = own(shop) else { return Vec::new() };
    let one = |plan: &PartPlan| {
        let part = &parts[plan.part];
        let Body::Flat(body) = &part.body else { return None };
        let windows = plan.setups.iter().flat_map(|s| &s.operations).any(|o| o.title == MILLED);
        let (cutter, milling) = if windows {
            let most = 2.0 * least_radius(&body.solid.windows) + 1e-3;
            let cutter = end_mill(shop, most, body.solid.thickness)?;
            (cutter, cut::milling(book, cutter, &habits, part, body.thickness.nominal)?)
        } else if body.round.is_none() && body.teeth.is_none() {
            outlined(part, body, shop, mill, &habits, book)?
        } else {
            return None;
        };
        Some(Draft { part: plan.part, windows, cutter: cutter.name.clone(), milling })
    };
    plans.iter().filter_map(one).collect()
}
/// Writes them; warnings tell where the control lacks a word.
pub fn programs(shop: &Shop, parts: &[Part], drafts: &[Draft]) -> (Vec<Program>, Vec<Trouble>) {
    let (mut all, mut troubles) = (Vec::new(), Vec::new());
    let Some((mill, habits)) = own(shop) else { return (all, troubles) };
    for draft in drafts {
        let part = &parts[draft.part];
        let Body::Flat(body) = &part.body else { continue };
        let write = if draft.windows { windows } else { profile };
        match write(draft, part, &body.solid, shop, mill, &habits) {
            Ok(programs) => all.extend(programs),
            Err(cannot) => troubles.extend(lacking(part, mill, cannot)),
        }
    }
    (all, troubles)
}
/// Titles of the operations by hand that a program may stand for.
pub const OUTLINED: &str = "Saw and file the outline";
/// The same for holes.
pub const DRILLED: &str = "Drill the holes";
/// Title of the operation that a program of windows belongs to.
pub const MILLED: &str = "Mill the windows";

type Made = Result<Vec<Program>, Vec<Cannot>>;

fn end_mill(shop: &Shop, most: f64, thick: f64) -> Option<&Cutter> {
    let fits = |c: &&Cutter| {
        c.of == CutterUse::EndMill
            && c.made
            && c.size.is_some_and(|d| {
                let d = d.bare().in_mm();
                let flutes = c.reach.map_or(3.0 * d, |r| r.bare().in_mm());
                d <= most && flutes >= thick + THROUGH
            })
    };
    let size = |c: &Cutter| c.size.map_or(0.0, |d| d.bare().in_mm());
    shop.cutters.iter().filter(fits).max_by(|a, b| size(a).total_cmp(&size(b)))
}
/// Along a way, from where the cutter stands.
fn along(acts: &mut Vec<Act>, way: &[Segment], feed: f64) {
    for s in way {
        acts.push(match *s {
            Segment::Line { to, .. } => Act::Line { to: To::xy(to), feed },
            Segment::Arc { to, centre, sense, .. } => {
                Act::Arc { to, centre, clockwise: sense == shape::segment::Sense::Right, feed }
            }
        });
    }
}
fn depths(thick: f64, step: f64) -> Vec<f64> {
    let whole = thick + THROUGH;
    let n = (whole / step).ceil().max(1.0);
    let each = whole / n;
    let mut all = Vec::new();
    let mut z = each;
    while z < whole + each * 0.5 {
        all.push(-z.min(whole));
        z += each;
    }
    all
}
fn begin(title: &str, zero: &str, tool: &str, m: &Milling) -> Vec<Act> {
    vec![
        Act::Remark(title.to_owned()),
        Act::Remark(zero.to_owned()),
        Act::Tool { number: 1, says: tool.to_owned() },
        Act::Rapid(To::z(CLEAR)),
        Act::Spindle { rpm: m.rpm },
        Act::Wait { seconds: 2.0 },
    ]
}
fn end(acts: &mut Vec<Act>) {
    acts.push(Act::Rapid(To::z(CLEAR)));
    acts.push(Act::SpindleOff);
    acts.push(Act::Rapid(To::xy(Point::ZERO)));
    acts.push(Act::End);
}
fn shape(m: &Milling) -> CutterShape {
    let r = m.diameter / 2.0;
    // Small end mills have a thicker shank; the collet's nut sits above it.
    let (shank, out) = ((m.diameter.max(3.0)) / 2.0, m.flutes + 12.0);
    CutterShape {
        number: 0,
        profile: vec![(0.0, r), (m.flutes, r)],
        shank: vec![(m.flutes, m.flutes + 12.0, shank), (out, out + 25.0, 9.0)],
        projects: out,
        most_feed: Some(m.most_feed),
    }
}
fn ring(points: Vec<Point>) -> Ring {
    points.into_iter().map(|p| (p.x, p.y)).collect()
}
fn sampled(p: &Profile) -> Ring {
    let left = if p.area() < 0.0 { p.reversed() } else { p.clone() };
    let mut points = left.sampled(FINE);
    if points.first() == points.last() {
        points.pop();
    }
    ring(points)
}
fn pieces(region: &Region) -> Vec<Vec<Ring>> {
    region.polygons().into_iter().map(|rings| rings.into_iter().map(ring).collect()).collect()
}
fn region(p: &Profile) -> Option<Region> {
    let points: Vec<Point> = sampled(p).into_iter().map(Point::from).collect();
    Region::polygon(&points).ok()
}
/// What a cutter leaves standing inside an outline that it has gone round.
fn left_inside(p: &Profile, d: f64) -> Option<Region> {
    region(p)?.offset(-d, Corner::Round, FINE).ok()
}
fn travel(mill: &Mill, middle: Point) -> [(f64, f64); 3] {
    let t = [0, 1, 2].map(|i| mill.travel[i].bare().in_mm());
    [
        (middle.x - t[0] / 2.0, middle.x + t[0] / 2.0),
        (middle.y - t[1] / 2.0, middle.y + t[1] / 2.0),
        (-8.0, t[2] - 8.0),
    ]
}
fn lacking(part: &Part, mill: &Mill, cannot: Vec<Cannot>) -> Vec<Trouble> {
    cannot
        .into_iter()
        .map(|c| {
            Trouble::shop(format!(
                "no program for '{}' on the {}: its control does not know {}",
                part.common.name, mill.name, c.word
            ))
            .at(mill.at.clone())
            .why(c.needs)
            .cure(c.would_do)
            .as_warning()
        })
        .collect()
}
fn windows(draft: &Draft, part: &Part, solid: &Flat, _: &Shop, mill: &Mill, habits: &Habits) -> Made {
    let windows = &solid.windows;
    let thick = solid.thickness;
    let (cutter, m) = (&draft.cutter, &draft.milling);
    let r = m.diameter / 2.0;
    let ways: Option<Vec<Vec<Segment>>> = windows.iter().map(|w| offset::inside(w, r)).collect();
    let left: Option<Vec<Region>> = windows.iter().map(|w| left_inside(w, m.diameter)).collect();
    let (Some(ways), Some(left)) = (ways, left) else { return Ok(Vec::new()) };
    let title = format!("{}: windows", part.common.name);
    let mut acts = begin(&title, "zero: middle of the bore, upper face", cutter, m);
    // Opposite ones in turn, so that warmth and strain spread evenly.
    let half = ways.len().div_ceil(2);
    let order = (0..half).flat_map(|i| [i, i + half]).filter(|i| *i < ways.len());
    for (n, i) in order.enumerate() {
        let way = offset::from_the_middle(&ways[i]);
        let Some(start) = way.first().map(Segment::from) else { continue };
        acts.push(Act::Remark(format!("window {}", n + 1)));
        acts.push(Act::Rapid(To::xy(start)));
        acts.push(Act::Rapid(To::z(NEAR)));
        for z in depths(thick, m.step) {
            acts.push(Act::Line { to: To::z(z), feed: m.feed / 3.0 });
            along(&mut acts, &way, m.feed);
        }
        acts.push(Act::Remark("once more at full depth: what the cutter gave way".into()));
        along(&mut acts, &way, m.feed);
        acts.push(Act::Rapid(To::z(CLEAR)));
    }
    end(&mut acts);
    let text = write(&acts, habits)?;
    let outside = solid.outline.bounds();
    let rim = Profile::circle(Point::ZERO, outside.width() / 2.0);
    let rings = || windows.iter().map(sampled);
    let least: Vec<Ring> = std::iter::once(sampled(&rim)).chain(rings()).collect();
    let mut most = vec![least.clone()];
    most.extend(left.iter().flat_map(pieces));
    let at = |pieces: Vec<Vec<Ring>>| vec![Layer { low: -thick, high: 0.0, pieces }];
    let bore = solid.holes.iter().find(|h| h.at.distance(Point::ZERO) < 1e-6);
    let clamps = bore.map(|h| Layer {
        low: -thick,
        high: 1.5,
        pieces: vec![vec![sampled(&Profile::circle(h.at, h.diameter / 2.0))]],
    });
    Ok(vec![Program {
        name: format!("{}-windows", part.slug().replace(['_', '.'], "-")),
        title,
        part: draft.part,
        does: Does { titles: vec![MILLED.to_owned()], alone: true },
        machine: mill.name.clone(),
        text,
        habits: habits.clone(),
        set_up: SetUp::Mill {
            stock: at(vec![vec![sampled(&rim)]]),
            clamps: clamps.into_iter().collect(),
            least: at(vec![least]),
            most: at(most),
            cutters: vec![shape(m)],
            travel: travel(mill, Point::ZERO),
        },
        room: ROOM,
        holding: vec![
            "Stuck flat on a waste plate over its whole face, with a pin through the bore; the cutter goes 0.1 mm into the waste.".into(),
            "The middles stay stuck to the waste and come off with the wheel.".into(),
            "Zero of X and Y: the middle of the pin. Zero of Z: the upper face, found with a slip of paper.".into(),
        ],
        tools: vec![(1, cutter.clone(), format!("flutes at least {} mm, two teeth, cutting over its middle", said(thick + THROUGH)))],
        after: vec!["Draw-file rim and arms; the corners keep the cutter's radius.".into()],
    }])
}
/// The least radius of hollow corners, millimetres; half a millimetre where corners are sharp.
fn least_radius(windows: &[Profile]) -> f64 {
    let radii = windows.iter().flat_map(Profile::segments).filter_map(|s| match s {
        Segment::Arc { radius, .. } => Some(*radius),
        Segment::Line { .. } => None,
    });
    radii.fold(f64::MAX, f64::min).min(1e3)
}
fn said(mm: f64) -> String {
    reckon::print::significant(mm, 3)
}
/// Whether a flat part is milled out of its sheet, and with what.
fn outlined<'s>(
    part: &Part,
    body: &FlatBody,
    shop: &'s Shop,
    mill: &Mill,
    habits: &Habits,
    book: &mut Book,
) -> Option<(&'s Cutter, Milling)> {
    let slug = part.slug();
    let thick = body.solid.thickness;
    let outline = &body.solid.outline;
    let bounds = outline.bounds();
    let t = [0, 1].map(|i| mill.travel[i].bare().in_mm());
    // Thinner than this is cut with shears, thicker is sawn.
    if !(0.4..=6.0).contains(&thick) {
        return None;
    }
    let cutter = [6.0, 4.0, 3.0, 2.0, 1.0].into_iter().find_map(|most| {
        let c = end_mill(shop, most, thick)?;
        let d = c.size?.bare().in_mm();
        Some((c, offset::outside(outline, d / 2.0)?, d))
    });
    let spans = |d: f64| (bounds.width() + d + 2.0 * ROUND, bounds.height() + d + 2.0 * ROUND);
    let reaches = cutter.as_ref().is_some_and(|(_, _, d)| {
        let (x, y) = spans(*d);
        x <= t[0] && y <= t[1]
    });
    let (x, y) = spans(cutter.as_ref().map_or(0.0, |c| c.2));
    let why = match &cutter {
        None => "no end mill of the shop goes round it and through it".to_owned(),
        Some(_) if !reaches => format!(
            "its outline with the cutter beside it takes up {} × {} mm; the {} travels {} × {}",
            said(x),
            said(y),
            mill.name,
            mill.travel[0].shown(),
            mill.travel[1].shown()
        ),
        Some((c, _, _)) => format!("with the {}, held in its sheet by bridges", c.name),
    };
    book.chosen(
        format!("{slug}.program.outline"),
        if reaches { "milled by program" } else { "sawn and filed" }.to_owned(),
        "what the mill reaches, with the sheet clamped beyond it",
        vec![
            Alternative {
                what: "sawn and filed".into(),
                taken: !reaches,
                why: "always possible; the steps stand on the part's sheet".into(),
            },
            Alternative { what: "milled by program".into(), taken: reaches, why },
        ],
        vec![body.extent.0.id(), body.extent.1.id(), mill.travel[0].id(), mill.travel[1].id()],
        &WAY,
    );
    let (cutter, ..) = cutter.filter(|_| reaches)?;
    Some((cutter, cut::milling(book, cutter, habits, part, body.thickness.nominal)?))
}
fn profile(draft: &Draft, part: &Part, solid: &Flat, shop: &Shop, mill: &Mill, habits: &Habits) -> Made {
    let d = draft.milling.diameter;
    let piece =
        Piece { part: draft.part, name: &part.common.name, slug: part.slug(), solid, machine: &mill.name };
    let job = Job {
        cuts: cuts(solid, shop, habits, draft),
        margin: 2.0 * d + ROUND,
        leave: (0.05 * d).min(0.1),
        below: THROUGH,
        room: ROOM,
    };
    flat::written(&job, &piece, habits)
}
/// What is cut, in order: holes spotted, drilled where the control changes tools; windows; the outline.
fn cuts(solid: &Flat, shop: &Shop, habits: &Habits, draft: &Draft) -> Vec<Cut> {
    let m = &draft.milling;
    let mut cuts = spots(solid, shop, habits);
    if !cuts.is_empty() && habits.knows("M6") {
        cuts.extend(drilled(solid, shop, habits));
    }
    let tool = Tool {
        name: draft.cutter.clone(),
        across: m.diameter,
        point: None,
        flutes: m.flutes,
        projects: m.flutes + 12.0,
        most_feed: m.most_feed,
    };
    let cut = |what: What| Cut {
        what,
        tool: tool.clone(),
        rpm: m.rpm,
        feed: m.feed,
        down: m.feed / 3.0,
        step: m.step,
        dips: Vec::new(),
    };
    // Windows that the cutter passes through; others are sawn.
    let passes = |w: &Profile| {
        region(w).is_some_and(|r| {
            r.offset(-0.55 * m.diameter - 0.1, Corner::Round, 0.01).is_ok_and(|r| r.pieces() == 1)
        })
    };
    if !solid.windows.is_empty() && solid.windows.iter().all(passes) {
        cuts.push(cut(What::Windows));
    }
    let thick = (0.5 * solid.thickness).min(BRIDGE.1);
    cuts.push(cut(What::Outline(Some(Tabs { count: 3, long: BRIDGE.0, thick }))));
    cuts
}
/// Feed down of a drill by program, mm/min, and what it stands a turn.
fn drill_feed(d: f64, rpm: f64, habits: &Habits) -> (f64, f64) {
    let (least, most) = speed::drill_feed(Diameter::mm(d));
    ((least.in_mm() * rpm).min(habits.fastest_feed), most.in_mm())
}
fn drill_speed(d: f64, habits: &Habits) -> f64 {
    // The slow side of what small drills stand in any metal of a clock.
    habits.speed(speed::turns(Speed::m_per_min(12.0), Diameter::mm(d)).in_rpm())
}
/// A spot at each hole, no wider than it; nothing without a spotting drill, or for a single hole.
fn spots(solid: &Flat, shop: &Shop, habits: &Habits) -> Vec<Cut> {
    let Some(across) = shop.drills.spotting.first().map(|d| d.bare().in_mm()) else { return Vec::new() };
    if solid.holes.len() < 2 {
        return Vec::new();
    }
    let least = solid.holes.iter().map(|h| h.diameter).fold(across, f64::min);
    let rpm = drill_speed(across, habits);
    let (down, most_feed) = drill_feed(across, rpm, habits);
    let tool = Tool {
        name: format!("spotting drill {across} mm, 90°"),
        across,
        point: Some(90.0),
        flutes: 3.0 * across,
        projects: 3.0 * across + 12.0,
        most_feed,
    };
    let at = solid.holes.iter().map(|h| (h.at, h.diameter)).collect();
    // Eight tenths of the width of the smallest hole.
    let dips = vec![(0.4 * least.min(2.0 * solid.thickness), true)];
    vec![Cut { what: What::Spots(at), tool, rpm, feed: down, down, step: 0.0, dips }]
}
/// Holes drilled by drills of their own size, one size after the other; others stay spotted.
fn drilled(solid: &Flat, shop: &Shop, habits: &Habits) -> Vec<Cut> {
    let mut sizes: Vec<f64> = Vec::new();
    for hole in &solid.holes {
        if !sizes.iter().any(|s| (s - hole.diameter).abs() < 1e-6) {
            sizes.push(hole.diameter);
        }
    }
    let flute = shop.drills.flute.map_or(8.0, |f| f.bare().value());
    let listed = |d: f64| shop.drills.sizes.iter().find(|(_, own)| (own.bare().in_mm() - d).abs() < 5e-3);
    let mut cuts = Vec::new();
    for d in sizes {
        let Some((name, _)) = listed(d) else { continue };
        let rpm = drill_speed(d, habits);
        let (down, most_feed) = drill_feed(d, rpm, habits);
        let point = Angle::deg(118.0);
        let tip = speed::point_height(Diameter::mm(d), point).in_mm();
        let to = Length::mm(solid.thickness + tip) + Length::si(speed::BREAKTHROUGH);
        let dips = speed::pecks(Diameter::mm(d), to, false).iter().map(|p| (p.to.in_mm(), p.out)).collect();
        let tool = Tool {
            name: format!("drill {name}"),
            across: d,
            point: Some(118.0),
            flutes: flute * d,
            projects: flute * d + 10.0,
            most_feed,
        };
        let at = solid.holes.iter().filter(|h| (h.diameter - d).abs() < 1e-6).map(|h| h.at).collect();
        cuts.push(Cut { what: What::Holes(at), tool, rpm, feed: down, down, step: 0.0, dips });
    }
    cuts
}
