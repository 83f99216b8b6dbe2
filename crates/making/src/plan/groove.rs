//! Grooves in a face, and the form tool that each needs: a part too, made before it is used.

use super::bench::{Bench, found};
use super::hole::seen;
use super::{Caution, Edge, Figure, Operation, ShopTool, Spread, ToolDrawing};
use crate::kernel::relief::{self, Groove as Cut, Ground, RoundGroove};
use crate::kernel::speed::Kind;
use crate::nc::lathe::OnLathe;
use crate::nc::lathe::stage::{Edge as FormEdge, FaceGroove};
use movement::part::Groove;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Angle, Count, Length, Radius, Source, Val, judge, work};
use record::facts::{CutterUse, GrooveForm, StockForm};

/// Top of a tool for brass.
pub static ZERO_RAKE: Source = Source::practice("brass is cut with a flat polished top: rake digs in");
/// Angles ground by hand where the shop has no jigs, degrees.
const BY_HAND: [f64; 4] = [5.0, 8.0, 10.0, 15.0];

/// The operation that cuts a groove; its tool is added to `tools` unless the shop has one or it stands there already.
pub fn cut(
    b: &mut Bench<'_>,
    at: &str,
    g: &Groove,
    tools: &mut Vec<ShopTool>,
) -> (Operation, Option<String>) {
    let (width, depth, middle) = (g.facts.width, g.facts.depth, g.facts.diameter);
    let outer = work!(
        b.book,
        b.name(&format!("{at}.outer_wall")),
        |middle, width| middle.radius() + width / 2.0,
        &GEOMETRY
    );
    let inner = work!(
        b.book,
        b.name(&format!("{at}.inner_wall")),
        |middle, width| middle.radius() - width / 2.0,
        &GEOMETRY
    );
    let own = b.shop.cutters.iter().find(|c| {
        c.of == CutterUse::FaceGroove
            && c.made
            && g.facts.form == GrooveForm::Square
            && c.size.is_some_and(|s| (s.bare() - width.bare()).abs() < Length::mm(0.01))
    });
    let (tool, waits) = match own {
        Some(c) => (c.name.clone(), None),
        None => {
            let slug = form_tool(b, at, g, (outer, inner), tools);
            let name = tools.iter().find(|t| t.slug == slug).map(|t| t.name.clone()).unwrap_or_default();
            (name, Some(slug))
        }
    };
    let speed = b.spindle(at, Kind::Broad, false, middle);
    let feed = b.fine_feed;
    let n = work!(
        b.book,
        b.name(&format!("{at}.dips")),
        |depth| Count(count((depth.in_mm() / 0.1).ceil())),
        &DIPS
    );
    let mut figures = vec![
        Figure::of("middle of the groove", &middle),
        Figure::of("depth", &depth),
        Figure::of("outer wall from the axis", &outer),
    ];
    if let Some(dial) = &b.lathe.long_slide {
        figures.push(Figure::as_text("in from touching", &depth, dial.dial().text(depth.bare())));
    }
    let operation = Operation {
        title: format!("Cut the {} groove", form_word(g.facts.form)),
        lines: vec![
            "Tool on centre, edge square to the axis; touch the face, set the dial to nothing.".to_owned(),
            format!(
                "In by tenths of a millimetre, {} times, drawing back to clear the chips; dwell two turns at the depth.",
                n.shown()
            ),
        ],
        program: Some(OnLathe::FaceGroove(FaceGroove {
            middle: middle.bare().in_mm() / 2.0,
            width: width.bare().in_mm(),
            depth: depth.bare().in_mm(),
            edge: match g.facts.form {
                GrooveForm::Square => FormEdge::Square,
                GrooveForm::Round => FormEdge::Round(nose(width.bare(), depth.bare()).in_mm()),
                GrooveForm::Vee => FormEdge::Vee,
            },
            name: tool.clone(),
        })),
        tool: Some(tool),
        speed: Some(speed),
        feed: Some(feed),
        figures,
        checks: vec![seen(
            "groove",
            "even all round, floor bright, no ridge at the outer wall (the tool would be rubbing)",
        )],
        cautions: vec![Caution::Turning],
        time: Spread::around(5.0),
        ..Operation::default()
    };
    (operation, waits)
}
/// How a form tool is fed.
pub static DIPS: Source = Source::practice("a form tool goes in by tenths of a millimetre");
fn count(x: f64) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "a number of dips, bounded by the depth of a groove")]
    {
        x.clamp(1.0, 1e4) as i64
    }
}
const fn form_word(f: GrooveForm) -> &'static str {
    match f {
        GrooveForm::Square => "square",
        GrooveForm::Round => "round",
        GrooveForm::Vee => "vee",
    }
}
/// Angle between the flanks of a vee, to a tenth of a degree.
fn vee_angle(width: Length, depth: Length) -> Angle {
    let whole = 2.0 * reckon::maths::atan(width.value() / 2.0 / depth.value());
    Angle::deg((Angle::si(whole).in_deg() * 10.0).round() / 10.0)
}
/// Radius of a round groove's arc: from its width and depth.
fn nose(width: Length, depth: Length) -> Radius {
    let half = width.value() / 2.0;
    let d = depth.value();
    if d >= half { Radius::si(half) } else { Radius::si((half * half + d * d) / (2.0 * d)) }
}
/// Works out the form tool of a groove and returns its slug.
fn form_tool(
    b: &mut Bench<'_>,
    at: &str,
    g: &Groove,
    (outer, inner): (Val<Radius>, Val<Radius>),
    tools: &mut Vec<ShopTool>,
) -> String {
    let (width, depth, middle) = (g.facts.width, g.facts.depth, g.facts.diameter);
    let slug = b.name(&format!("{at}.tool"));
    let height = blank_height(b, &slug);
    let round = (g.facts.form == GrooveForm::Round)
        .then(|| work!(b.book, format!("{slug}.nose"), |width, depth| nose(width, depth), &GEOMETRY));
    let cut = match &round {
        Some(nose) => {
            Cut::Round(RoundGroove { nose: nose.bare(), depth: depth.bare(), middle: middle.bare().radius() })
        }
        // A vee's flanks lean away from its walls: a straight wall is the safe side, and the tool may be as wide
        // as it likes behind its edge, so nothing is asked of its foot.
        None if g.facts.form == GrooveForm::Vee => Cut::Flat {
            inner: Radius::si(outer.bare().value() / 2.0),
            outer: outer.bare(),
            depth: depth.bare(),
        },
        None => Cut::Flat { inner: inner.bare(), outer: outer.bare(), depth: depth.bare() },
    };
    let jigs: Vec<Angle> = match &b.shop.grinder {
        Some(grinder) if !grinder.jigs.is_empty() => grinder.jigs.iter().map(Val::bare).collect(),
        _ => BY_HAND.iter().map(|d| Angle::deg(*d)).collect(),
    };
    // More than twenty degrees under the edge leaves it weak: such jigs only where nothing else clears.
    let strong: Vec<Angle> = jigs.iter().copied().filter(|a| *a <= Angle::deg(20.0)).collect();
    let mut ways = relief::grindings(&cut, height.bare(), &strong, b.fine_feed.bare());
    if ways.is_empty() {
        ways = relief::grindings(&cut, height.bare(), &jigs, b.fine_feed.bare());
    }
    let among = ways.iter().take(4).enumerate().map(|(i, w)| Alternative {
        what: angles(w),
        taken: i == 0,
        why: why(w),
    });
    let verdict = found(
        b.book,
        (format!("{slug}.clears"), "a tool ground with the shop's jigs clears the groove"),
        ways.len(),
        "ways of grinding with the shop's jigs that clear the groove",
    );
    b.book.cure(verdict.id(), "thin the blank below its edge, so that less of it stands in the groove");
    b.book.cure(verdict.id(), "grind the side towards the outer wall to that wall's own curve");
    let best = ways.first().copied().unwrap_or(Ground {
        end: Angle::deg(10.0),
        side: Angle::deg(10.0),
        inside: height.bare(),
        clears: Length::ZERO,
        thin_to: None,
        foot: width.bare() / 2.0,
    });
    let inputs = vec![outer.id(), inner.id(), depth.id(), height.id()];
    let end = b.book.chosen(
        format!("{slug}.end_clearance"),
        best.end,
        "least grinding that clears, no thinning if it can be",
        among.collect(),
        inputs.clone(),
        &relief::JIG,
    );
    let side = b.book.solved(
        format!("{slug}.outer_relief"),
        best.side,
        ("of the same choice", 1, 0.0),
        vec![end.id()],
        &relief::SIDE,
    );
    let inside = b.book.solved(
        format!("{slug}.inside"),
        best.inside,
        ("height of tool that stands in the groove", 1, 0.0),
        inputs,
        &relief::END,
    );
    if round.is_none() {
        let least = work!(
            b.book,
            format!("{slug}.least_relief"),
            |inside, outer| relief::side_relief(inside, outer).unwrap_or(Angle::deg(90.0)),
            &relief::SIDE
        );
        let clears = judge!(
            b.book,
            format!("{slug}.outer_wall_clears"),
            "the side relief clears the outer wall",
            |side, least| side >= least,
            &relief::SIDE
        );
        b.book.cure(clears.id(), "a larger jig angle, or a thinner blank");
    }
    let same = tools.iter_mut().find(|t| {
        t.drawing.groove().is_some_and(|d| {
            d.form == g.facts.form
                && (d.width - width.bare().in_mm()).abs() < 1e-6
                && (d.outer_relief - best.side.in_deg()).abs() < 1e-6
                && (d.end_clearance - best.end.in_deg()).abs() < 1e-6
                && d.reach >= depth.bare().in_mm()
        })
    });
    if let Some(tool) = same {
        tool.for_parts.push(b.part.common.name.clone());
        return tool.slug.clone();
    }
    let name = format!(
        "{} groove tool {} wide",
        form_word(g.facts.form),
        super::stock::plain(width.bare().as_diameter())
    );
    let (blank, stock_lines) = blank(b);
    tools.push(ShopTool {
        name,
        slug: slug.clone(),
        for_parts: vec![b.part.common.name.clone()],
        blank,
        operations: grinding(b, &slug, (g.facts.form, width, depth), &round, (end, side), best, stock_lines),
        drawing: Edge::Groove(ToolDrawing {
            form: g.facts.form,
            width: width.bare().in_mm(),
            depth: depth.bare().in_mm(),
            reach: depth.bare().in_mm() + 0.5,
            nose: round.map(|n| n.bare().in_mm()),
            end_clearance: best.end.in_deg(),
            outer_relief: best.side.in_deg(),
            inner_relief: if round.is_some() { best.side.in_deg() } else { 1.5 },
            height: best.thin_to.map_or(height.bare(), |t| t).in_mm(),
        }),
    });
    slug
}
fn angles(w: &Ground) -> String {
    format!("end {}, side {}", reckon::Shown::shown(&w.end), reckon::Shown::shown(&w.side))
}
fn why(w: &Ground) -> String {
    match w.thin_to {
        Some(h) => format!("clears once thinned to {}", reckon::Shown::shown(&h)),
        None => format!("clears as it is, foot {} wide", reckon::Shown::shown(&w.foot)),
    }
}
/// Height of the tool blank under its edge.
fn blank_height(b: &mut Bench<'_>, slug: &str) -> Val<Length> {
    let own = b.shop.stock.iter().find_map(|s| match &s.form {
        StockForm::Blank { height, .. } => Some(*height),
        _ => None,
    });
    match own {
        Some(height) => work!(b.book, format!("{slug}.height"), |height| height, &GEOMETRY),
        None => b.book.assumed(
            format!("{slug}.height"),
            Length::mm(6.0),
            "no tool blank in the shop: 6 mm square high-speed steel",
        ),
    }
}
fn blank(b: &Bench<'_>) -> (String, Vec<String>) {
    let own = b.shop.stock.iter().find_map(|s| match &s.form {
        StockForm::Blank { width, height, .. } => {
            Some(format!("{} {} × {}", s.name, width.shown(), height.shown()))
        }
        _ => None,
    });
    match own {
        Some(text) => (text, Vec::new()),
        None => (
            "high-speed steel 6 mm square (to buy)".to_owned(),
            vec!["No tool blank in the shop's list.".to_owned()],
        ),
    }
}
/// A blank of tool steel is hardened once it has its shape; high-speed steel and carbide are bought hard.
fn hardening(b: &mut Bench<'_>, slug: &str) -> Vec<Operation> {
    let blank = b.shop.stock.iter().find_map(|s| match &s.form {
        StockForm::Blank { width, height, .. } => Some((s.material, *width, *height)),
        _ => None,
    });
    let Some((material, width, height)) = blank.filter(|(m, ..)| m.hardens.by_quench()) else {
        return Vec::new();
    };
    let tool = super::fire::tool::Tool { slug, material, blank: (width, height), at: b.part.at().clone() };
    super::fire::tool::hardened(&tool, b.shop, b.book)
}
fn grinding(
    b: &mut Bench<'_>,
    slug: &str,
    (form, width, depth): (GrooveForm, Val<Length>, Val<Length>),
    round: &Option<Val<Radius>>,
    (end, side): (Val<Angle>, Val<Angle>),
    best: Ground,
    stock_lines: Vec<String>,
) -> Vec<Operation> {
    let jig = b.shop.grinder.is_some();
    let with = if jig { "in the jig of this angle" } else { "by hand, checked with a protractor" };
    let mut ops = vec![Operation {
        title: "Rough the blank".to_owned(),
        lines: stock_lines
            .into_iter()
            .chain([format!(
                "Grind the end to a tongue a little wider than {} and {} long.",
                width.shown(),
                depth.shown()
            )])
            .collect(),
        tool: Some("grinder".to_owned()),
        figures: vec![Figure::of("width of the edge", &width), Figure::of("deeper than", &depth)],
        cautions: vec![Caution::Grinding],
        time: Spread::minutes(5.0, 8.0, 15.0),
        ..Operation::default()
    }];
    ops.push(Operation {
        title: "End clearance".to_owned(),
        lines: vec![match round {
            Some(nose) => format!(
                "Round the end to {} by the enlarged drawing, the clearance {with}{}.",
                nose.shown(),
                if best.side == Angle::ZERO { ", drawn straight down" } else { ", all round" }
            ),
            None if form == GrooveForm::Vee => format!(
                "Grind both flanks to meet in a point, {} between them, the clearance {with}.",
                reckon::Shown::shown(&vee_angle(width.bare(), depth.bare()))
            ),
            None => format!("Grind the end square to the shank, {with}."),
        }],
        tool: Some("grinder".to_owned()),
        figures: {
            let mut f = vec![Figure::of("end clearance", &end)];
            if let Some(nose) = round {
                f.push(Figure::of("nose", nose));
            }
            f
        },
        cautions: vec![Caution::Grinding],
        time: Spread::minutes(4.0, 8.0, 20.0),
        ..Operation::default()
    });
    let straight = best.side == Angle::ZERO;
    ops.push(Operation {
        title: if straight { "Sides" } else { "Side towards the outer wall" }.to_owned(),
        lines: if straight {
            vec!["Both sides straight down, no relief: the end clearance alone carries the nose clear of the outer wall.".to_owned()]
        } else {
            vec![
                format!("Grind {with}: the outer wall curves towards the tool below the edge."),
                "The inner side needs only a touch of relief: that wall curves away.".to_owned(),
            ]
        },
        tool: Some("grinder".to_owned()),
        figures: vec![Figure::of("outer side relief", &side)],
        cautions: vec![Caution::Grinding],
        time: Spread::minutes(4.0, 6.0, 15.0),
        ..Operation::default()
    });
    if let Some(thin) = best.thin_to {
        ops.push(Operation {
            title: "Thin it below the edge".to_owned(),
            lines: vec![format!(
                "Grind away the blank under the edge until no more than {} is left.",
                reckon::Shown::shown(&thin)
            )],
            tool: Some("grinder".to_owned()),
            cautions: vec![Caution::Grinding],
            time: Spread::minutes(3.0, 5.0, 10.0),
            ..Operation::default()
        });
    }
    ops.extend(hardening(b, slug));
    ops.push(Operation {
        title: "Stone the top".to_owned(),
        lines: vec!["Flat, no rake, polished on a fine stone: brass wants it so.".to_owned()],
        tool: Some("oilstone".to_owned()),
        checks: vec![seen(
            "edge",
            "width by micrometer, form against the enlarged drawing, no light under a straight edge",
        )],
        time: Spread::minutes(3.0, 5.0, 10.0),
        ..Operation::default()
    });
    ops
}
