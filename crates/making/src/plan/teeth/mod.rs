//! Teeth and leaves: how the circle is divided, with what they are cut, how deep.

mod check;
pub(super) mod crossing;
mod cutter;
mod depth;
mod dividing;
mod made;
pub(super) mod pinion;
mod section;
mod settings;

pub use check::{DEPTH_LIMIT, LEAN, SPACING};
pub use cutter::SHARED;
pub use depth::{AXIS, BITE, PAPER};
pub use made::{CLEAR, HEEL, RELIEF};
pub use pinion::{BOW, FORMED, LEFT};
pub use section::{End, Section, section};
pub use settings::{Face, Faces, SETTINGS, TIPS, faces};

use super::bench::{self, Bench, MetalFacts};
use super::hole::seen;
use super::{Caution, Figure, Held, Operation, SetUp, ShopTool, Spread};
use crate::kernel::speed::{self, Kind, Metal};
use movement::part::{Part, Toothing};
use reckon::source::GEOMETRY;
use reckon::{Book, judge, work};
use record::facts::Shop;
use shape::profile::Profile;
use shape::turned::Feature;

/// What is to be toothed.
pub(super) struct Job<'a> {
    pub part: &'a Part,
    pub shop: &'a Shop,
    pub metal: MetalFacts,
    /// Whether it is a pinion in an arbor.
    pub leaves: bool,
    pub outline: &'a Profile,
}
impl Job<'_> {
    /// Whether it is cut in steel.
    fn hard(&self) -> bool {
        !matches!(self.metal.metal, Metal::Brass | Metal::Aluminium)
    }
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
/// The operations that cut them; a cutter that has to be made is added to `tools`.
pub(super) fn cut(
    job: &Job<'_>,
    t: &Toothing,
    book: &mut Book,
    tools: &mut Vec<ShopTool>,
    waits_for: &mut Vec<String>,
) -> Vec<Operation> {
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
    if let Some((mill, set)) = mill.zip(speed) {
        let at = format!("{slug}.cutting");
        super::fits::machine::too_fast(job.shop, (&at, &mill.name), wanted, set, book);
    }
    let set = depth::depth(job, t, &taken, mill, book);
    let seen_to = check::checks(job, t, book);
    let mut cautions = vec![Caution::Indexing];
    if job.metal.leaded {
        cautions.push(Caution::Lead);
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of teeth")]
    let n = t.count.bare().0 as f64;
    let time = if job.leaves {
        Spread::minutes(2.0 * n, 4.0 * n, 9.0 * n)
    } else {
        Spread::minutes(0.5 * n, n, 2.0 * n)
    };
    let mouth = section(job.outline, None).map_or(0.0, |s| s.mouth);
    let two = settings::settings(job, t, diameter, mouth, book);
    let mut middle = vec![middle_first(job)];
    middle.extend(taken.lines);
    middle.extend(seen_to.middle.lines);
    let mut first = set.lines;
    if !job.leaves && t.module.is_some() {
        first.push("Cut two neighbouring spaces short of the depth first: where they meet, a line of the blank's outside stays on the tip as long as it is too shallow. Come to the depth so that this line just goes, then go round.".to_owned());
    }
    let mut checks = divided.checks;
    checks.extend(seen_to.checks);
    checks.push(seen(&t.what, "all tips alike, none leaning, the last space as wide as the first"));
    let mut cutting = divided.lines;
    cutting.extend(seen_to.lines);
    let mut ops = vec![
        Operation {
            title: "Cutter on the middle".to_owned(),
            lines: middle,
            tool: Some(format!("{}, height gauge, waste disc", taken.name)),
            figures: seen_to.middle.figures,
            time: Spread::minutes(8.0, 15.0, 30.0),
            ..Operation::default()
        },
        Operation {
            title: "Set the depth".to_owned(),
            lines: first,
            tool: Some("paper, rod, micrometer".to_owned()),
            figures: set.figures,
            tables: set.tables,
            checks: vec![seen(
                "outside",
                &format!(
                    "measured before the first cut and written here: the depth goes by it (root {})",
                    t.root.shown()
                ),
            )],
            time: Spread::minutes(5.0, 10.0, 20.0),
            ..Operation::default()
        },
        Operation {
            title: format!("Cut the {} {}", t.count.shown(), t.what),
            lines: cutting,
            tool: Some(taken.name),
            speed,
            feed: None,
            figures: divided.figures.into_iter().chain(seen_to.figures).collect(),
            tables: divided.tables,
            checks,
            cautions,
            does: vec!["cut teeth"],
            heat: None,
            holes: Vec::new(),
            no_spindle: None,
            program: None,
            time,
        },
    ];
    if let Some(two) = two {
        ops.insert(2, two);
    }
    ops
}
/// How the cutter comes to the height of the head's axis.
fn middle_first(job: &Job<'_>) -> String {
    match &job.shop.dividing {
        Some(head) => format!(
            "Middle of the cutter at the height of the head's axis, {} over the table, by a height gauge or a pointed centre in the head; the head's axis along the table's travel, tried with an indicator on the rod.",
            head.centre_height.shown()
        ),
        None => "Middle of the cutter at the height of the work's axis, by a pointed centre in the spindle that carries the work.".to_owned(),
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
        let mut ops = cut(&job, t, b.book, tools, waits_for);
        if let (Some((from, to)), Some(op)) = (t.along, ops.first_mut()) {
            op.figures.push(Figure::of("from the first end", &from));
            op.figures.push(Figure::of("to", &to));
            pinion::springs(b, t, op);
        }
        operations.extend(ops);
        operations.push(Operation {
            title: format!("Clean the {}", t.what),
            lines: vec![
                "Burrs off with a brass brush and a fine slip, never across the flanks.".to_owned(),
                "Try the depth with its wheel in the depthing tool before it is hardened: after that nothing more comes off.".to_owned(),
            ],
            tool: Some("brass brush, fine slip".to_owned()),
            checks: vec![seen("run", "indicator on the tips: no more than 0.01 mm as it turns")],
            does: vec!["deburr"],
            time: Spread::minutes(5.0, 10.0, 20.0),
            ..Operation::default()
        });
    }
    (!operations.is_empty()).then(|| SetUp {
        title: format!("{} cut", body.leaves.first().map_or("leaves", |t| t.what.as_str())),
        machine: machine(b.shop),
        held: Held {
            by: "collet on the body in the dividing head, a hollow centre over the free pivot".to_owned(),
            lines: vec!["Gripped on the turned body, not on a pivot; runs true within 0.01 mm before anything is cut.".to_owned()],
            deepest: None,
            overhang: None,
        },
        operations,
        time: Spread::minutes(10.0, 20.0, 40.0),
    })
}
