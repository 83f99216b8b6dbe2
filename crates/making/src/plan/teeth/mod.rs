//! Teeth and leaves: how the circle is divided, with what they are cut, how deep.

mod cutter;
mod dividing;
mod section;

pub use cutter::{RELIEF, SHARED};
pub use section::{End, Section, section};

use super::bench::{self, Bench, MetalFacts};
use super::hole::seen;
use super::{Caution, Figure, Held, Operation, PassTable, SetUp, ShopTool, Spread};
use crate::kernel::speed::{self, Kind};
use movement::part::{Part, Toothing};
use reckon::source::GEOMETRY;
use reckon::{Book, Cell, Diameter, Length, Source, Val, judge, work};
use record::facts::Shop;
use shape::profile::Profile;
use shape::turned::Feature;
use teeth::form::{INFEED, infeed};

/// Deepest bite of a formed cutter in one go.
pub static BITE: Source = Source::practice(
    "brass wheels up to module 1 are cut in one pass; steel leaves in three, the last a shaving",
);

/// What is to be toothed.
pub(super) struct Job<'a> {
    pub part: &'a Part,
    pub shop: &'a Shop,
    pub metal: MetalFacts,
    /// Whether it is a pinion in an arbor.
    pub leaves: bool,
    pub outline: &'a Profile,
}
/// Verdicts on the head: whether it takes the diameter.
fn head(t: &Toothing, shop: &Shop, book: &mut Book) {
    let Some(head) = &shop.dividing else { return };
    let (outside, greatest, height) = (t.outside, head.greatest, head.centre_height);
    let takes = judge!(
        book,
        format!("{}.dividing.takes", t.slug),
        "the nose of the dividing head takes its diameter",
        |outside, greatest| outside <= greatest,
        &GEOMETRY
    );
    book.cure(takes.id(), "cut it in the lathe, divided at its spindle; or have this wheel cut");
    let clears = judge!(
        book,
        format!("{}.dividing.clears", t.slug),
        "it clears the table under the dividing head",
        |outside, height| outside.across() / 2.0 < height,
        &GEOMETRY
    );
    book.cure(clears.id(), "raise the head on a block, or let it hang over the table's edge");
}
/// What to feed against the blank as it measures, as a table of the book.
fn depths(t: &Toothing, module: Val<Length>, book: &mut Book) -> PassTable {
    let (m, outside, root) = (module.bare().in_mm(), t.outside.bare().in_mm(), t.root.bare().in_mm());
    let rows = [-0.1_f64, -0.04, -0.02, 0.0, 0.02, 0.04]
        .iter()
        .filter(|off| off.abs() <= 0.1 * m + 1e-9)
        .map(|off| {
            let measured = outside + off;
            let f = infeed(measured, outside, root, m);
            vec![
                Cell::of(&Diameter::mm(measured)),
                Cell::of(&Length::mm(f.infeed)),
                Cell::word(f.tips.says()),
            ]
        })
        .collect();
    let id = book.table(
        format_args!("{}.infeed", t.slug),
        &["blank measures", "in from touching", "what to expect"],
        rows,
        "half of the measured outside less the root",
        vec![t.outside.id(), t.root.id(), module.id()],
        &INFEED,
    );
    PassTable { title: "the depth by the blank as it measures".to_owned(), id }
}
/// The operation that cuts them; a cutter that has to be made is added to `tools`.
pub(super) fn cut(
    job: &Job<'_>,
    t: &Toothing,
    book: &mut Book,
    tools: &mut Vec<ShopTool>,
    waits_for: &mut Vec<String>,
) -> Operation {
    head(t, job.shop, book);
    let divided = dividing::divide(t, job.shop, book);
    let taken = cutter::cutter(job, t, book, tools);
    if let Some(slug) = &taken.waits
        && !waits_for.contains(slug)
    {
        waits_for.push(slug.clone());
    }
    let slug = &t.slug;
    let mill = mill(job.shop);
    let diameter = taken.diameter;
    let v = book.tabled(
        format!("{slug}.cutting.surface_speed"),
        speed::start(job.metal.metal, Kind::Turning, false),
        format!("{}, turning", job.metal.metal.word()),
        &speed::START_SPEEDS,
    );
    let wanted = work!(
        book,
        format!("{slug}.cutting.wanted"),
        |v, diameter| speed::turns(v, diameter),
        &speed::SURFACE
    );
    let speed = mill
        .map(|m| bench::chosen_speed(book, format!("{slug}.cutting.speed"), wanted, &m.speeds, m.stepless));
    let mut figures = vec![Figure::of("full depth from a true outside", &t.depth)];
    if let Some(dial) = mill.and_then(|m| m.dial.as_ref()) {
        figures.push(Figure::as_text("on the dial", &t.depth, dial.dial().text(t.depth.bare())));
    }
    figures.extend(divided.figures);
    let mut tables = divided.tables;
    tables.extend(t.module.map(|m| depths(t, m, book)));
    let mut lines = vec![
        "Cutter on the height of the head's centre: a space cut, turned half round, must meet the cutter again.".to_owned(),
        format!("Form: {}. Touch the outside as it measures, then in by half of outside less root ({}).", t.form, t.root.shown()),
    ];
    if job.leaves {
        lines.push(
            "Three rounds: most of it, nearly all, then a shaving of 0.05 mm; oil on steel.".to_owned(),
        );
    } else {
        lines.push("Cut two spaces short of the depth first: where they meet, a line of the blank's outside stays on the tip as long as it is too shallow. Come to the depth so that this line just goes, then go round.".to_owned());
    }
    lines.extend(taken.lines);
    lines.extend(divided.lines);
    let mut checks = divided.checks;
    checks.insert(0, seen("outside", "measured before the first cut and written here: the depth goes by it"));
    checks.push(seen(&t.what, "all tips alike, none leaning, the last space as wide as the first"));
    let mut cautions = vec![Caution::Indexing];
    if job.metal.leaded {
        cautions.push(Caution::Lead);
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of teeth")]
    let n = t.count.bare().0 as f64;
    let time = if job.leaves {
        Spread::minutes(10.0 + 2.0 * n, 20.0 + 4.0 * n, 40.0 + 9.0 * n)
    } else {
        Spread::minutes(10.0 + 0.5 * n, 15.0 + n, 30.0 + 2.0 * n)
    };
    Operation {
        title: format!("Cut the {} {}", t.count.shown(), t.what),
        lines,
        tool: Some(taken.name),
        speed,
        feed: None,
        figures,
        tables,
        checks,
        cautions,
        does: Vec::new(),
        time,
    }
}
/// The mill that teeth are cut on: one that takes cutters with a bore.
fn mill(shop: &Shop) -> Option<&record::facts::Mill> {
    shop.mills.iter().find(|m| m.cutter_bore.is_some()).or(shop.mills.first())
}
/// Where teeth are cut.
pub(super) fn machine(shop: &Shop) -> String {
    let on = mill(shop).map_or("the lathe, with a cutter spindle".to_owned(), |m| m.name.clone());
    if shop.dividing.is_some() { format!("{on}, dividing head") } else { on }
}
/// The set-up in which leaves are cut into a turned part.
pub fn leaves(b: &mut Bench<'_>, tools: &mut Vec<ShopTool>, waits_for: &mut Vec<String>) -> Option<SetUp> {
    let body = b.body;
    let sections = body.solid.features.iter().filter_map(|f| match f {
        Feature::Leaves { section, .. } => Some(section),
        _ => None,
    });
    let mut operations = Vec::new();
    for (t, outline) in body.leaves.iter().zip(sections) {
        let job = Job { part: b.part, shop: b.shop, metal: b.metal, leaves: true, outline };
        let mut op = cut(&job, t, b.book, tools, waits_for);
        if let Some((from, to)) = t.along {
            op.figures.push(Figure::of("from the first end", &from));
            op.figures.push(Figure::of("to", &to));
        }
        operations.push(op);
        operations.push(Operation {
            title: format!("Clean the {}", t.what),
            lines: vec![
                "Burrs off with a brass brush and a fine slip, never across the flanks.".to_owned(),
                "Harden and polish after this, when the depth has been tried with its wheel.".to_owned(),
            ],
            tool: Some("brass brush, fine slip".to_owned()),
            checks: vec![seen("run", "indicator on the tips: no more than 0.01 mm as it turns")],
            time: Spread::minutes(5.0, 10.0, 20.0),
            ..Operation::default()
        });
    }
    (!operations.is_empty()).then(|| SetUp {
        title: format!("{} cut", body.leaves.first().map_or("leaves", |t| t.what.as_str())),
        machine: machine(b.shop),
        held: Held {
            by: "collet in the dividing head, a centre under the free end".to_owned(),
            lines: vec!["Gripped on the turned body, not on a pivot; runs true within 0.01 mm before anything is cut.".to_owned()],
            deepest: None,
            overhang: None,
        },
        operations,
        time: Spread::minutes(10.0, 20.0, 40.0),
    })
}
