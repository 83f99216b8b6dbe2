//! The cutter of a toothing: one of the shop's, or one made for it first.

use super::super::{Edge, ShopTool, ToothEdge};
use super::Job;
use super::made;
use super::section::section;
use movement::part::Toothing;
use reckon::{Book, Diameter, Id, Length, Ratio, Source, Val};
use record::facts::CutterUse;

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
    let made = made::made(job, t, &found, &slug, (&inputs, diameter), book, listed);
    let edge = ToothEdge {
        section: found,
        module: module.map(Length::in_mm),
        count,
        leaves: job.leaves,
        relief: made.end.in_deg(),
        side: made.side.in_deg(),
        height: made.height,
        swing: diameter.bare().in_mm(),
        form: t.form.clone(),
    };
    tools.push(ShopTool {
        name: name.clone(),
        slug: slug.clone(),
        for_parts: vec![job.part.common.name.clone()],
        blank: made.blank,
        operations: made.operations,
        drawing: Edge::Tooth(edge),
    });
    Taken { name, waits: Some(slug), diameter, lines: Vec::new() }
}
