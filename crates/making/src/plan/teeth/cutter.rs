//! The cutter of a toothing: one of the shop's, or one made for it first.

use super::super::hole::seen;
use super::super::{Caution, Edge, Figure, Operation, ShopTool, Spread, ToothEdge};
use super::Job;
use super::section::{End, Section, section};
use movement::part::Toothing;
use reckon::{Angle, Book, Diameter, Id, Length, Ratio, Source, Val};
use record::facts::{CutterUse, StockForm};
use teeth::form::SPACE;

/// Relief behind the edge of a cutter made in the shop.
pub static RELIEF: Source =
    Source::practice("single-point cutter for brass: no rake, eight to ten degrees of relief");
/// When wheels share a cutter.
pub static SHARED: Source = Source::derived(
    "widest gap between the flanks of two spaces laid on the same pitch line, in modules; flanks alone lean by π/2 (1/z₁ − 1/z₂)",
);
/// How far a borrowed cutter may be off, in modules.
const MAY_DIFFER: f64 = 0.01;

/// The cutter taken.
pub(super) struct Taken {
    pub name: String,
    pub waits: Option<String>,
    pub diameter: Val<Diameter>,
    pub lines: Vec<String>,
}
/// The shop's own cutter of a module, one already to be made, or a new one.
pub(super) fn cutter(job: &Job<'_>, t: &Toothing, book: &mut Book, tools: &mut Vec<ShopTool>) -> Taken {
    let module = t.module.map(|m| m.bare());
    let of_module = |c: &&record::facts::Cutter| {
        c.of == CutterUse::WheelTeeth
            && module.zip(c.size).is_some_and(|(m, s)| (m - s.bare()).abs() < Length::mm(1e-4))
    };
    let listed = !job.leaves && job.shop.cutters.iter().any(|c| of_module(&c) && !c.made);
    if let Some(c) = job.shop.cutters.iter().filter(of_module).find(|c| c.made && !job.leaves) {
        let name = format!("{}, module {}", c.name, c.size.map(|s| s.shown()).unwrap_or_default());
        let diameter = match c.diameter {
            Some(d) => d,
            None => book.assumed(
                format!("{}.cutter.diameter", t.slug),
                Diameter::mm(28.0),
                "house default: not written of this cutter",
            ),
        };
        let lines = vec!["See on the cutter or its box for which counts it is: one made for far fewer or more teeth leaves the flanks leaning.".to_owned()];
        return Taken { name, waits: None, diameter, lines };
    }
    let diameter = book.assumed(
        format!("{}.cutter.swing", t.slug),
        Diameter::mm(30.0),
        "house default: circle in which the edge of a cutter made in the shop goes round",
    );
    let count = u32::try_from(t.count.bare().0).unwrap_or(0);
    let pitch = module.map(|m| m.in_mm() * f64::from(count) / 2.0);
    let Some(found) = section(job.outline, pitch) else {
        return Taken { name: "cutter to the drawing".to_owned(), waits: None, diameter, lines: Vec::new() };
    };
    let inputs: Vec<Id> =
        [t.count.id(), t.outside.id(), t.root.id()].into_iter().chain(t.module.map(|m| m.id())).collect();
    let alike = tools.iter_mut().find_map(|tool| {
        let Edge::Tooth(e) = &tool.drawing else { return None };
        let (m, other) = (module?.in_mm(), e.module?);
        if e.leaves != job.leaves || (m - other).abs() > 1e-6 {
            return None;
        }
        let off = found.differs(&e.section)? / m;
        let fits = if job.leaves { e.count == count && off < 0.002 } else { off < MAY_DIFFER };
        fits.then_some((off, e.count, tool))
    });
    if let Some((off, made_for, tool)) = alike {
        let off = book.solved(
            format!("{}.cutter.borrowed", t.slug),
            Ratio::si(off),
            ("widest gap between its flanks and the wanted ones, in modules", 1, 0.0),
            inputs,
            &SHARED,
        );
        let mut lines = Vec::new();
        if made_for != count {
            lines.push(format!(
                "The cutter is made for {made_for} teeth; here its flanks are out by {} of a module at most.",
                off.shown()
            ));
        }
        if !tool.for_parts.contains(&job.part.common.name) {
            tool.for_parts.push(job.part.common.name.clone());
        }
        return Taken { name: tool.name.clone(), waits: Some(tool.slug.clone()), diameter, lines };
    }
    let size = t.module.map(|m| format!(", module {}", m.shown())).unwrap_or_default();
    let name = format!("cutter for {count} {}{size}", t.what);
    let slug = format!("{}.cutter", t.slug);
    let (blank, operations, relief) = made(job, t, &found, &slug, &inputs, book, listed);
    let edge = ToothEdge {
        section: found,
        module: module.map(Length::in_mm),
        count,
        leaves: job.leaves,
        relief: relief.in_deg(),
        form: t.form.clone(),
    };
    tools.push(ShopTool {
        name: name.clone(),
        slug: slug.clone(),
        for_parts: vec![job.part.common.name.clone()],
        blank,
        operations,
        drawing: Edge::Tooth(edge),
    });
    Taken { name, waits: Some(slug), diameter, lines: Vec::new() }
}
/// Blank, operations and relief of a cutter to be made.
fn made(
    job: &Job<'_>,
    t: &Toothing,
    s: &Section,
    slug: &str,
    inputs: &[Id],
    book: &mut Book,
    listed: bool,
) -> (String, Vec<Operation>, Angle) {
    let mut size = |tail: &str, mm: f64, what: &str| {
        book.solved(format!("{slug}.{tail}"), Length::mm(mm), (what, 1, 0.0), inputs.to_vec(), &SPACE)
    };
    let mut figures = vec![(
        "to the tips of the teeth",
        size("depth", s.depth, "of the space between two teeth as it is drawn"),
    )];
    if let Some((height, width)) = s.pitch {
        figures.push((
            "wide at the pitch line",
            size("pitch_width", width, "across the space at the pitch circle"),
        ));
        figures.push((
            "pitch line over the end",
            size("pitch_height", height, "from the bottom of the space to its width at the pitch circle"),
        ));
    }
    match s.end {
        End::Flat(width) => {
            figures.push(("wide at its end", size("end_width", width, "across the bottom of the space")));
        }
        End::Round(r) => figures
            .push(("end rounded to radius", size("end_radius", r, "radius of the bottom of the space"))),
    }
    if let Some(r) = s.cheek {
        figures.push(("hollow of the cheeks, radius", size("cheek", r, "radius of the curve of the teeth")));
    }
    let shown = |tail: &str| figures.iter().find(|(l, _)| *l == tail).map(|(_, v)| v.shown());
    let relief =
        book.assumed(format!("{slug}.relief"), Angle::deg(10.0), "house default: relief behind the edge");
    let own = job.shop.stock.iter().find_map(|k| match &k.form {
        StockForm::Blank { width, height, .. } => {
            Some((format!("{} {} × {}", k.name, width.shown(), height.shown()), k.material))
        }
        _ => None,
    });
    let quenched = own.as_ref().is_some_and(|(_, m)| m.hardens.by_quench());
    let bath = own
        .as_ref()
        .map_or("oil", |(_, m)| if m.hardens == tables::material::Hardens::Water { "water" } else { "oil" });
    let blank = own.map_or_else(|| "high-speed steel 6 mm square (to buy)".to_owned(), |(text, _)| text);
    let mut start = vec![format!(
        "Work one end down to a tongue, flat on top, a little wider than {} and longer than the depth.",
        said(s.mouth)
    )];
    if listed {
        start.push(
            "The shop's list has a cutter of this module, but as one still to be made: this is it."
                .to_owned(),
        );
    }
    let mut form = vec!["Both sides alike, by the enlarged drawing laid under a glass; the middle of the edge on the middle of the shank.".to_owned()];
    if let Some(r) = shown("hollow of the cheeks, radius") {
        form.push(format!(
            "Hollow the cheeks with a round file or a charged pin of radius {r}, held to the relief."
        ));
    }
    form.push(match s.end {
        End::Flat(_) => "The end straight across, square to the shank.".to_owned(),
        End::Round(_) => "The end rounded as drawn.".to_owned(),
    });
    form.push("Relief behind the whole edge, end and cheeks; the top stays flat, without rake, or the form is lost.".to_owned());
    let mut ops = vec![
        Operation {
            title: "Rough the blank".to_owned(),
            lines: start,
            tool: Some(if quenched { "file, grinder" } else { "grinder" }.to_owned()),
            cautions: vec![Caution::Grinding],
            time: Spread::minutes(10.0, 20.0, 40.0),
            ..Operation::default()
        },
        Operation {
            title: "Form the edge".to_owned(),
            lines: form,
            tool: Some("fine files or slips, glass, enlarged drawing".to_owned()),
            figures: figures
                .iter()
                .map(|(l, v)| Figure::of(l, v))
                .chain([Figure::of("relief", &relief)])
                .collect(),
            checks: vec![seen("edge", "no light between it and the drawing, turned over too")],
            time: Spread::minutes(20.0, 45.0, 90.0),
            ..Operation::default()
        },
    ];
    if quenched {
        ops.push(Operation {
            title: "Harden and temper".to_owned(),
            lines: vec![
                format!("Bring the edge end evenly to the heat that the steel's data sheet gives, hold it a minute, quench in {bath}."),
                "Polish a flat bright; warm from the shank until the edge is pale straw, then cool it.".to_owned(),
            ],
            tool: job.shop.fire.heat_with.clone(),
            checks: vec![seen("edge", "a fine file skates on it")],
            cautions: vec![Caution::Quench],
            time: Spread::minutes(15.0, 25.0, 50.0),
            ..Operation::default()
        });
    }
    ops.push(Operation {
        title: "Stone the top and set it in its holder".to_owned(),
        lines: vec![
            "Top flat on a fine stone; its face on the middle of the holder, so that it cuts its own form.".to_owned(),
            "Cut one space in waste of the same diameter, turn the piece end for end: the cutter has to drop into the same space.".to_owned(),
        ],
        tool: Some("oilstone, cutter holder".to_owned()),
        checks: vec![seen("trial space", &format!("{} as drawn under the glass", t.what))],
        time: Spread::minutes(8.0, 15.0, 30.0),
        ..Operation::default()
    });
    (blank, ops, relief.bare())
}
fn said(mm: f64) -> String {
    reckon::Shown::shown(&Length::mm(mm))
}
