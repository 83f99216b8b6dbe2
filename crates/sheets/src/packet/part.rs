//! The sheet of one part: drawing, stock, and its set-ups.

use super::{Contents, figures, operations};
use crate::{Block, Caution, Fit, Picture, Sheet, Text, Typecase};
use drafting::size::{Paper, PlateSize, Size, Unplaced};
use drafting::sketch::Sketch;
use kurbo::Point;
use making::plan::PartPlan;
use making::plan::jig::Jig;
use movement::part::{Body, FlatBody, FlatNote, Part, Told, TurnedBody};
use reckon::LengthStyle;
use shape::turned::Side;

/// Width and height that a drawing may take on a part's sheet, millimetres.
const FRAME: (f64, f64) = (176.0, 96.0);

/// The dimensioned drawing of a part.
pub(super) fn sketch(of: &Contents<'_>, part: &Part, case: &Typecase) -> Result<Sketch, Unplaced> {
    let paper = Paper::new(&part.common.name, FRAME.0, FRAME.1);
    match &part.body {
        Body::Turned(body) => {
            drafting::turned::draw(&body.solid, &turned_sizes(body, of.style()), &paper, case)
        }
        Body::Flat(body) => {
            let datum = Point::new(body.datum.0.bare().in_mm(), body.datum.1.bare().in_mm());
            drafting::flat::draw(&body.solid, datum, &flat_sizes(body, of.style()), &paper, case)
        }
    }
}
fn side(inside: bool) -> Side {
    if inside { Side::Bore } else { Side::Outside }
}
fn turned_sizes(body: &TurnedBody, style: LengthStyle) -> Vec<Size> {
    let text = |f| figures::size_text(f, style);
    let mut sizes: Vec<Size> = Vec::new();
    for told in &body.told {
        sizes.push(match told {
            Told::Along { from, to, inside, figure } => {
                Size::Length { from: *from, to: *to, on: side(*inside), text: text(figure) }
            }
            Told::Across { at, inside, figure } => {
                Size::Diameter { at: *at, on: side(*inside), text: text(figure) }
            }
            Told::Note { z, r, text } => {
                Size::Note { at: Point::new(*z, *r), text: figures::remark(text, style).as_str().into() }
            }
            Told::Groove { feature, diameter, width, depth } => Size::Groove {
                feature: *feature,
                diameter: Some(text(diameter)),
                width: Some(text(width)),
                depth: Some(text(depth)),
            },
            Told::SlotWidth { feature, figure } => Size::SlotWidth { feature: *feature, text: text(figure) },
            Told::AcrossFlats { feature, figure } => Size::Across { feature: *feature, text: text(figure) },
        });
    }
    sizes
}
fn flat_sizes(body: &FlatBody, style: LengthStyle) -> Vec<PlateSize> {
    use movement::part::Figure as Told;
    let text = |f: &Told| figures::size_text(f, style);
    let bounds = body.solid.outline.bounds();
    let (low, right, top) = (
        Point::new(bounds.x0, bounds.y0),
        Point::new(bounds.x1, bounds.y0),
        Point::new(bounds.x0, bounds.y1),
    );
    let mut sizes = vec![PlateSize::Thickness { text: text(&Told::length(&body.thickness)) }];
    if body.round.is_none() {
        let (width, height) = (text(&Told::plain(&body.extent.0)), text(&Told::plain(&body.extent.1)));
        sizes.push(PlateSize::Between { from: low, to: right, upright: false, text: width });
        sizes.push(PlateSize::Between { from: low, to: top, upright: true, text: height });
    }
    for ((x, y), note) in &body.notes {
        let says = match note {
            FlatNote::Figure(figure) => text(figure),
            FlatNote::Words(words) => figures::remark(words, style).as_str().into(),
        };
        sizes.push(PlateSize::Note { at: Point::new(*x, *y), text: says });
    }
    for (i, hole) in body.holes.iter().enumerate() {
        let figure = match &hole.thread {
            Some(t) => figures_thread(&t.thread.name.to_string()),
            None => text(&Told::diameter(&hole.diameter)),
        };
        let label = drafting::size::Text { nominal: format!("{} {}", hole.label, figure.nominal), ..figure };
        if body.round.is_none() {
            sizes.push(PlateSize::Place {
                hole: i,
                x: text(&Told::plain(&hole.centre.0)),
                y: text(&Told::plain(&hole.centre.1)),
            });
        }
        sizes.push(PlateSize::Hole { hole: i, text: label });
    }
    sizes
}
fn figures_thread(name: &str) -> drafting::size::Text {
    name.into()
}

/// The sheet of a jig: as any part's, with what it is for and why.
pub(super) fn jig(of: &Contents<'_>, jig: &Jig, sketch: Sketch, number: &str) -> Sheet {
    let mut sheet = sheet(of, &jig.part, &jig.plan, sketch, number);
    let style = of.style();
    let told = Block::Facts(vec![
        ("a jig for".into(), jig.for_parts.join(", ").as_str().into()),
        ("why".into(), figures::sentence(&jig.why, style).into()),
    ]);
    sheet.blocks.insert(1, told);
    sheet
}
/// The sheet.
pub(super) fn sheet(of: &Contents<'_>, part: &Part, plan: &PartPlan, sketch: Sketch, number: &str) -> Sheet {
    let book = of.book;
    let style = of.style();
    let batch = &plan.batch;
    let mut blocks = vec![Block::Heading(1, Text::from(part.common.name.as_str()))];
    let material = format!("{} ({})", part.common.material.name, part.common.material.state);
    let mut facts: Vec<(Text, Text)> = vec![
        ("make".into(), format!("{} + {} spare", batch.needed.shown(), batch.spare.shown()).into()),
        ("from".into(), material.into()),
        ("stock".into(), plan.stock.what.as_str().into()),
        ("length needed".into(), figures::shown(book, plan.stock.need.id(), style).into()),
        ("time for all".into(), time_text(plan).into()),
    ];
    if let Some(mass) = book.find(&format!("{}.mass", part.slug())) {
        facts.push(("each weighs".into(), mass.1.shown.as_str().into()));
    }
    if !plan.waits_for.is_empty() {
        let called = |slug: &String| {
            let tool = of.making.tools.iter().find(|t| t.slug == *slug).map(|t| t.name.clone());
            let jig =
                || of.making.jigs.iter().find(|j| j.part.slug() == slug).map(|j| j.part.common.name.clone());
            tool.or_else(jig).unwrap_or_else(|| slug.clone())
        };
        let first: Vec<String> = plan.waits_for.iter().map(called).collect();
        facts.push(("make first".into(), first.join(", ").into()));
    }
    facts.push(("finish".into(), making::plan::finish::wanted::said(&plan.finish.words).into()));
    if let Some(note) = &part.common.note {
        facts.push(("remark".into(), note.as_str().into()));
    }
    let unit = if style == LengthStyle::Mm { "millimetres" } else { "inches" };
    let caption =
        format!("sizes in {unit}; limits not written are the house's own, listed with all that was assumed");
    blocks.push(Block::Picture(Picture { sketch, fit: Fit::True, caption: caption.into() }));
    blocks.push(Block::Facts(facts));
    for line in &plan.stock.lines {
        blocks.push(Block::Remark(figures::sentence(line, style).into()));
    }
    blocks.push(Block::Remark(
        format!(
            "Small names under the figures: brasswright why {}.NAME tells how each was had.",
            part.slug()
        )
        .as_str()
        .into(),
    ));
    let otherwise = plan.finish.otherwise();
    if !otherwise.is_empty() {
        let lines = otherwise.iter().map(|l| l.as_str().into()).collect();
        blocks.push(Block::Caution(Caution { title: "Order written otherwise".to_owned(), lines }));
    }
    let mut counter = 0;
    // The same caution is printed once on a part's sheet, where it first applies.
    let mut warned = std::collections::BTreeSet::new();
    for (i, setup) in plan.setups.iter().enumerate() {
        // The head of a set-up stays with its first operation.
        let mut head = vec![Block::Heading(2, format!("Set-up {}: {}", i + 1, setup.title).into())];
        let mut held: Vec<(Text, Text)> = vec![
            ("machine".into(), setup.machine.as_str().into()),
            ("held by".into(), setup.held.by.as_str().into()),
        ];
        for line in &setup.held.lines {
            held.push(("".into(), figures::sentence(line, style).into()));
        }
        if let Some(out) = &setup.held.overhang {
            held.push(("stands out".into(), figures::shown(book, out.id(), style).into()));
        }
        if let Some(deepest) = &setup.held.deepest {
            let name = figures::tail(book, Some(deepest.id()), part.slug());
            held.push((
                "deepest cut".into(),
                format!("{}   ({name})", figures::shown(book, deepest.id(), style)).into(),
            ));
        }
        head.push(Block::Facts(held));
        let mut operations = setup.operations.iter();
        if let Some(first) = operations.next() {
            counter += 1;
            head.push(operations::block(of, first, part.slug(), counter, &mut warned));
        }
        blocks.push(Block::Together(head));
        for op in operations {
            counter += 1;
            blocks.push(operations::block(of, op, part.slug(), counter, &mut warned));
        }
    }
    if let Some(id) = plan.finish.table {
        let mut why = vec![Block::Heading(3, "Why the finish goes in this order".into())];
        why.extend(super::fire::table(of, id));
        blocks.push(Block::Together(why));
    }
    Sheet {
        title: part.kind.word().to_owned(),
        part: part.common.name.clone(),
        number: number.to_owned(),
        blocks,
    }
}
fn time_text(plan: &PartPlan) -> String {
    format!(
        "{}, give or take {}",
        figures::time(plan.time.mean.bare()),
        figures::time(plan.time.deviation.bare())
    )
}
