//! Holes along the axis: spot, drill, ream or bore, tap; or one deep hole for many parts.

use super::bench::{Bench, found};
use super::{Caution, Check, Figure, Operation, PassTable, Spread};
use crate::kernel::speed::{self, Kind, Metal};
use crate::nc::lathe::OnLathe;
use crate::nc::lathe::stage::{Bore, Drill};
use movement::part::AxisHole;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Angle, Cell, Count, Diameter, Length, Source, Val, work};

/// What is left for a reamer.
pub static REAM: Source =
    Source::practice("left for a reamer: a tenth of a millimetre up to 3 mm, two tenths above");
/// How drills cut over their size.
pub static OVERSIZE: Source = Source::practice("a drill cuts 0.02 to 0.08 mm over its size");

/// How a hole comes to its size.
#[derive(Clone, Debug)]
struct Sizing {
    drill: Val<Diameter>,
    drill_name: String,
    reamer: Option<Val<Diameter>>,
    bored: bool,
}

/// Operations for a hole from the free end, to a depth of full diameter `full`.
pub fn drill(
    b: &mut Bench<'_>,
    at: &str,
    hole: &AxisHole,
    full: Val<Length>,
    parts: Count,
) -> Vec<Operation> {
    let mut out = Vec::new();
    let (size, sizing) = match &hole.thread {
        Some(t) => {
            let (drill, drill_name) = super::thread::tap_drill(b, at, t);
            (drill, Sizing { drill, drill_name, reamer: None, bored: false })
        }
        None => {
            let size = super::cuts::aim(b, at, &hole.size);
            (size, sizing(b, at, hole, size))
        }
    };
    out.push(spot(b, at, sizing.drill));
    out.push(drilling(b, at, hole, &sizing, full, parts));
    if let Some(reamer) = sizing.reamer {
        out.push(ream(b, at, hole, reamer, parts));
    }
    if sizing.bored {
        out.push(bore(b, at, hole, size, &sizing, full));
    }
    if let Some(t) = &hole.thread {
        out.push(super::thread::tap(b, at, t, hole, (sizing.drill, full)));
    }
    out
}
/// Which drill, and what brings the hole to size after it.
fn sizing(b: &mut Bench<'_>, at: &str, hole: &AxisHole, size: Val<Diameter>) -> Sizing {
    let most = hole.size.nominal.bare() + hole.size.upper.bare();
    let least = hole.size.nominal.bare() + hole.size.lower.bare();
    let reamer = b.shop.drills.reamers.iter().find(|r| r.bare() <= most && r.bare() >= least).copied();
    let over = Length::mm(0.04);
    let plain_fits = |d: Diameter| d + over <= most && d + over >= least;
    let grips = b.lathe.tailstock_chuck;
    let held = |d: Diameter| d >= grips.0.bare() && d <= grips.1.bare();
    let ok = |d: Diameter| held(d) && plain_fits(d);
    let allowance = if size.bare() > Diameter::mm(3.0) { 0.2 } else { 0.1 };
    // A reamer takes half a millimetre at the most; a boring tool what there is.
    let little = |d: Diameter| reamer.is_none() || d + Length::mm(0.5) >= size.bare();
    let under = |d: Diameter| held(d) && little(d) && d + Length::mm(allowance) <= size.bare();
    let mut among = Vec::new();
    let mut pick: Option<(String, Val<Diameter>, bool)> = None;
    // A reamer with no drill before it is of no use where a drill gives the size by itself.
    let any = |fits: &dyn Fn(Diameter) -> bool| b.shop.drills.sizes.iter().any(|(_, d)| fits(d.bare()));
    let direct = reamer.is_none() || (!any(&under) && any(&ok));
    let reamer = reamer.filter(|_| !direct);
    for (name, d) in &b.shop.drills.sizes {
        let fit = if direct && ok(d.bare()) {
            Some(true)
        } else if under(d.bare()) {
            Some(false)
        } else {
            None
        };
        let Some(exact) = fit else { continue };
        let better = match &pick {
            None => true,
            Some((_, best, was)) => {
                (exact && !was) || (exact == *was && nearer(d.bare(), best.bare(), size.bare()))
            }
        };
        if better {
            pick = Some((name.clone(), *d, exact));
        }
    }
    for (name, d) in &b.shop.drills.sizes {
        let close = (d.bare() - size.bare()).abs() < Length::mm(0.35);
        let taken = pick.as_ref().is_some_and(|(n, _, _)| n == name);
        if close || taken {
            let why = if taken {
                "taken"
            } else if d.bare() > most {
                "too large"
            } else {
                "farther from the size"
            };
            among.push(Alternative { what: name.clone(), taken, why: why.to_owned() });
        }
    }
    let name = b.name(&format!("{at}.drill"));
    match pick {
        Some((drill_name, d, exact)) => {
            let rule = if exact {
                "gives the size by itself"
            } else if reamer.is_some() {
                "leaves a little for the reamer"
            } else {
                "largest that leaves metal for boring"
            };
            let drill = b.book.chosen(name, d.bare(), rule, among, vec![size.id(), d.id()], &OVERSIZE);
            Sizing { drill, drill_name, reamer, bored: !exact && reamer.is_none() }
        }
        None => {
            let wanted = b.book.assumed(
                name,
                if reamer.is_some() { size.bare() - Length::mm(allowance) } else { size.bare() },
                "no drill of the shop serves; this size has to be bought",
            );
            let verdict = found(
                b.book,
                (b.name(&format!("{at}.drill.found")), "the shop has a drill for this hole"),
                0,
                "drills of the shop that serve",
            );
            b.book.cure(verdict.id(), format!("buy a drill of {}", wanted.shown()));
            super::fits::tools::drills(b.book, &verdict, b.shop, size.bare(), most);
            Sizing { drill: wanted, drill_name: format!("{} (to buy)", wanted.shown()), reamer, bored: false }
        }
    }
}
fn nearer(d: Diameter, best: Diameter, size: Diameter) -> bool {
    (d - size).abs() < (best - size).abs()
}
/// A short stiff drill first, so that the next one starts where the axis is.
fn spot(b: &mut Bench<'_>, at: &str, drill: Val<Diameter>) -> Operation {
    let hard = matches!(b.metal.metal, Metal::ToolSteel | Metal::Stainless);
    let carbide = hard && drill.bare() < Diameter::mm(3.0) && !b.shop.drills.spotting.is_empty();
    let tool = if carbide { "carbide spotting drill, short" } else { "centre drill" };
    let at = format!("{at}.spot");
    let speed = b.spindle(&at, Kind::Drilling, carbide, drill);
    let mut cautions = vec![Caution::Turning];
    if carbide {
        cautions.push(Caution::Carbide);
    }
    Operation {
        title: "Spot the hole".to_owned(),
        lines: vec![
            "Just to its full width, so that the drill's lips start on metal and not on its web.".to_owned(),
        ],
        tool: Some(tool.to_owned()),
        speed: Some(speed),
        figures: vec![Figure::of("for a drill of", &drill)],
        program: Some(OnLathe::Spot),
        cautions,
        time: Spread::around(1.0),
        ..Operation::default()
    }
}
fn drilling(
    b: &mut Bench<'_>,
    at: &str,
    hole: &AxisHole,
    sizing: &Sizing,
    full: Val<Length>,
    parts: Count,
) -> Operation {
    let d = sizing.drill;
    let point = b.assumed(&format!("{at}.point"), Angle::deg(118.0), "an ordinary drill's point");
    let tip =
        work!(b.book, b.name(&format!("{at}.tip")), |d, point| speed::point_height(d, point), &speed::POINT);
    let depth = work!(b.book, b.name(&format!("{at}.depth_to_tip")), |full, tip| full + tip, &speed::POINT);
    let flutes = super::fits::deep::reaches(b, at, d, depth, parts, hole.depth.is_none()).in_mm();
    let wanted = b.spindle(&format!("{at}.full"), Kind::Drilling, false, d);
    let slower = work!(
        b.book,
        b.name(&format!("{at}.reduction")),
        |depth, d| speed::deep_hole(depth, d).speed,
        &speed::DEEP_HOLE
    );
    let slow = work!(
        b.book,
        b.name(&format!("{at}.reduced")),
        |wanted, slower| wanted * (1.0 - slower.value()),
        &speed::DEEP_HOLE
    );
    let speed = b.set(at, slow);
    let crumbles = b.metal.metal.crumbles();
    let pecks = speed::pecks(d.bare(), depth.bare(), crumbles);
    let rows = pecks
        .iter()
        .enumerate()
        .map(|(i, p)| {
            vec![
                Cell::of(&Count(i64::try_from(i + 1).unwrap_or(0))),
                Cell::of(&p.to),
                Cell::word(if p.out {
                    "right out, clear the flutes"
                } else {
                    "back a little, break the chip"
                }),
            ]
        })
        .collect();
    let table = b.book.table(
        b.name(&format!("{at}.pecks")),
        &["dip", "tip at", "then"],
        rows,
        if crumbles {
            "first dip two diameters, as brass crumbles"
        } else {
            "first dip one diameter, as steel curls"
        },
        vec![d.id(), depth.id()],
        &speed::PECKS,
    );
    let mut lines = Vec::new();
    if parts > Count(1) {
        lines.push(format!("One hole for {} parts: drilled before the first is parted off.", parts.0));
    }
    if hole.depth.is_none() && parts <= Count(1) {
        lines.push("Right through, into the parting cut.".to_owned());
    }
    let minutes = {
        #[expect(clippy::cast_precision_loss, reason = "a small number of dips")]
        let n = pecks.len() as f64;
        1.0 + n * 0.25
    };
    let mut figures =
        vec![Figure::as_text("drill", &d, sizing.drill_name.clone()), Figure::of("depth to the tip", &depth)];
    lines.extend(super::fits::deep::where_drilled(b, at, d, depth, hole.depth.is_none()));
    figures.push(Figure::of("full depth", &full));
    Operation {
        title: format!("Drill the {}", hole.what),
        lines,
        tool: Some(format!("drill {}", sizing.drill_name)),
        speed: Some(speed),
        feed: None,
        figures,
        tables: vec![PassTable { title: "dips of the drill".to_owned(), id: table }],
        checks: Vec::new(),
        cautions: vec![Caution::Turning],
        does: vec!["drill"],
        program: Some(OnLathe::Drill {
            drill: Drill {
                across: d.bare().in_mm(),
                point: point.bare().in_deg(),
                dips: pecks.iter().map(|p| (p.to.in_mm(), p.out)).collect(),
                flutes,
                name: format!("drill {}", sizing.drill_name),
            },
            through: hole.depth.is_none(),
            crumbles,
        }),
        heat: None,
        holes: Vec::new(),
        no_spindle: None,
        time: Spread::around(minutes),
    }
}
fn ream(b: &mut Bench<'_>, at: &str, hole: &AxisHole, reamer: Val<Diameter>, parts: Count) -> Operation {
    let at = format!("{at}.ream");
    let speed = b.spindle(&at, Kind::Reaming, false, reamer);
    let each = if parts > Count(1) {
        "Through the whole hole."
    } else {
        "To the full depth, once in and once out, turning forward all the time."
    };
    Operation {
        title: format!("Ream the {}", hole.what),
        lines: vec![each.to_owned()],
        tool: Some(format!("reamer {}", reamer.shown())),
        speed: Some(speed),
        figures: vec![Figure::of("reamer", &reamer)],
        checks: vec![super::cuts::check(&hole.what, &hole.size)],
        cautions: vec![Caution::Turning],
        time: Spread::around(2.0),
        does: vec!["drill"],
        ..Operation::default()
    }
}
fn bore(
    b: &mut Bench<'_>,
    at: &str,
    hole: &AxisHole,
    size: Val<Diameter>,
    sizing: &Sizing,
    full: Val<Length>,
) -> Operation {
    let at = format!("{at}.bore");
    let drilled = sizing.drill;
    let enters = |c: &&record::facts::Cutter| {
        c.of == record::facts::CutterUse::Boring
            && c.made
            && c.size.is_none_or(|s| drilled.bare().across() >= s.bare())
            && c.reach.is_none_or(|r| r.bare() >= full.bare())
    };
    let tool = b.shop.cutters.iter().find(enters);
    let broach =
        b.shop.drills.broaches.iter().any(|(lo, hi)| size.bare() >= lo.bare() && size.bare() <= hi.bare());
    let verdict = found(
        b.book,
        (b.name(&format!("{at}.to_size")), "something in the shop brings the drilled hole to its size"),
        usize::from(tool.is_some()) + usize::from(broach),
        "boring tools that enter and broaches that reach the size",
    );
    if !verdict.bare() {
        super::fits::bored::cures(b, &at, &verdict, hole, (size, drilled), full);
    }
    let speed = b.spindle(&at, Kind::Turning, false, size);
    let infeed = work!(
        b.book,
        b.name(&format!("{at}.infeed")),
        |size, drilled| size.radius() - drilled.radius(),
        &GEOMETRY
    );
    let by_hand = broach && tool.is_none();
    let by_program = tool.filter(|t| t.reach.is_some()).map(|t| Bore {
        drilled: drilled.bare().in_mm() / 2.0,
        radius: size.bare().in_mm() / 2.0,
        depth: full.bare().in_mm(),
        through: hole.depth.is_none(),
        deepest: 0.2,
        enters: t.size.map_or(drilled.bare().in_mm(), |s| s.bare().in_mm()),
        reach: t.reach.map_or(0.0, |r| r.bare().in_mm()),
        name: t.name.clone(),
    });
    let how = if by_hand {
        "Spindle stopped: broach by hand from this end with light pressure, and from the other once it is reversed."
    } else {
        "Light cuts; measure, and take what is left in one."
    };
    Operation {
        title: format!("Bring the {} to size", hole.what),
        lines: vec![how.to_owned()],
        tool: Some(tool.map_or(if broach { "broach" } else { "boring tool" }.to_owned(), |t| t.name.clone())),
        speed: (!by_hand).then_some(speed),
        feed: (!by_hand).then_some(b.fine_feed),
        program: by_program.map(OnLathe::Bore),
        figures: vec![
            Figure::of("bore to", &size),
            Figure::of("slide out by", &infeed),
            Figure::of("depth", &full),
        ],
        checks: vec![super::cuts::check(&hole.what, &hole.size)],
        cautions: vec![if by_hand { Caution::HandThreading } else { Caution::Turning }],
        time: Spread::around(4.0),
        ..Operation::default()
    }
}
/// Something seen rather than measured.
pub fn seen(what: &str, seen: &str) -> Check {
    Check { what: what.to_owned(), limits: None, seen: Some(seen.to_owned()), id: None }
}
