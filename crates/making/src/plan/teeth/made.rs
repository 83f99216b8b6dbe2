//! A cutter for teeth made in the shop, from blank to trial: a fly cutter of one edge.

use super::super::hole::seen;
use super::super::{Caution, Figure, Operation, Spread};
use super::Job;
use super::section::{End, Section};
use movement::part::Toothing;
use reckon::{Alternative, Angle, Book, Diameter, Id, Length, Source, Val, judge, work};
use record::facts::StockForm;
use teeth::form::SPACE;

/// Relief behind the edge of a cutter made in the shop.
pub static RELIEF: Source = Source::practice(
    "single-point cutter for brass: no rake, some eight degrees of relief at the end, five at the sides",
);
/// Heel of a fly cutter.
pub static HEEL: Source =
    Source::derived("the heel under a flat end must stay inside the circle that the edge goes round in")
        .with_formula("h = R sin 2α");
/// Sides that lean together under the edge.
pub static CLEAR: Source = Source::derived(
    "sides relieved by β narrow the foot; a third of the width low on the edge is left there",
)
.with_formula("h = w/(3 tan β)");
/// A hollow made with a rod of another radius.
static ROD: Source = Source::derived("two arcs over one chord").with_formula("gap = c²/8 |1/r − 1/r'|");

/// A cutter to be made.
pub(super) struct Made {
    pub blank: String,
    pub operations: Vec<Operation>,
    pub end: Angle,
    pub side: Angle,
    /// Height of the tongue, millimetres.
    pub height: f64,
}
/// How its sides and end are relieved.
struct Relief {
    end: Val<Angle>,
    side: Val<Angle>,
    height: Val<Length>,
    by_jig: bool,
}
/// The pair of jigs that leaves the highest tongue; by hand where the shop has none.
fn relief(
    job: &Job<'_>,
    slug: &str,
    wide: Val<Length>,
    swing: Val<Diameter>,
    blank: Val<Length>,
    deep: Val<Length>,
    book: &mut Book,
) -> Relief {
    let jigs: Vec<Val<Angle>> = job
        .shop
        .grinder
        .iter()
        .flat_map(|g| g.jigs.iter().copied())
        .filter(|a| (3.0..=20.0).contains(&a.bare().in_deg()))
        .collect();
    let stands = |side: Angle, end: Angle| {
        (wide.bare() / (3.0 * side.tan()))
            .min(swing.bare().across() / 2.0 * (end * 2.0).sin())
            .min(blank.bare())
    };
    let mut best: Option<(Val<Angle>, Val<Angle>, Length)> = None;
    let mut among = Vec::new();
    for side in &jigs {
        for end in &jigs {
            let h = stands(side.bare(), end.bare());
            // Of equals the first is kept: the least side, then the least end.
            if best.is_none_or(|(.., b)| h > b + Length::mm(1e-6)) {
                best = Some((*side, *end, h));
            }
            among.push((*side, *end, h));
        }
    }
    let by_jig = best.is_some();
    let (side, end) = match best {
        Some((s, e, _)) => {
            let alternatives = among
                .iter()
                .map(|(a, b, h)| Alternative {
                    what: format!("sides {}, end {}", a.shown(), b.shown()),
                    taken: a.id() == s.id() && b.id() == e.id(),
                    why: format!("leaves a tongue {} high", reckon::Shown::shown(h)),
                })
                .collect();
            let inputs: Vec<Id> =
                jigs.iter().map(Val::id).chain([wide.id(), swing.id(), blank.id()]).collect();
            book.chosen(
                format!("{slug}.jigs"),
                format!("sides {}, end {}", s.shown(), e.shown()),
                "of the grinder's jigs the pair that leaves the highest, stiffest tongue; the least angles of equals",
                alternatives,
                inputs,
                &HEEL,
            );
            (s, e)
        }
        None => (
            book.assumed(
                format!("{slug}.side_relief"),
                Angle::deg(5.0),
                "house default: relief of the sides, by hand",
            ),
            book.assumed(
                format!("{slug}.end_relief"),
                Angle::deg(8.0),
                "house default: relief of the end, by hand",
            ),
        ),
    };
    let height = work!(
        book,
        format!("{slug}.height"),
        |wide, side, swing, end, blank| (wide / (3.0 * side.tan()))
            .min(swing.across() / 2.0 * (end * 2.0).sin())
            .min(blank),
        &HEEL
    );
    let stiff = judge!(
        book,
        format!("{slug}.stands"),
        "the tongue is at least half as high under its edge as it is long: it does not spring or break",
        |height, deep| height >= deep / 2.0,
        &CLEAR
    );
    let missing = format!(
        "a jig of about {}° for the sides: they clear with that, and the tongue stays higher",
        reckon::print::fixed((wide.bare().in_mm() / (1.5 * deep.bare().in_mm())).min(0.1) * 57.3, 0)
    );
    book.cure(stiff.id(), missing);
    book.cure(stiff.id(), "the sides relieved by hand stone, two or three degrees");
    Relief { end, side, height, by_jig }
}
/// The rod that hollows the cheeks: the drill shank nearest to the radius.
fn cheeks(job: &Job<'_>, s: &Section, slug: &str, cheek: Val<Length>, book: &mut Book) -> Option<String> {
    let (height, _) = s.pitch?;
    let r = cheek.bare();
    let (name, d) = job.shop.drills.sizes.iter().min_by(|a, b| {
        (a.1.bare().across() / 2.0 - r)
            .abs()
            .value()
            .total_cmp(&(b.1.bare().across() / 2.0 - r).abs().value())
    })?;
    let d = *d;
    let chord = book.solved(
        format!("{slug}.cheek_chord"),
        Length::mm(s.depth - height),
        ("from the pitch line to the tips", 1, 0.0),
        vec![cheek.id()],
        &SPACE,
    );
    let gap = work!(
        book,
        format!("{slug}.cheek_gap"),
        |chord, cheek, d| Length::si(
            chord.value() * chord.value() / 8.0 * (1.0 / cheek.value() - 2.0 / d.value()).abs()
        ),
        &ROD
    );
    let may = book.assumed(
        format!("{slug}.form_limit"),
        Length::mm(0.01),
        "house default: form of a cutter true to this",
    );
    let v = judge!(
        book,
        format!("{slug}.cheek_rod"),
        "a shank of the drawer is near enough to the hollow of the cheeks",
        |gap, may| gap <= may,
        &ROD
    );
    book.cure(v.id(), format!("a rod turned to twice {}", cheek.shown()));
    let also = if gap.bare() <= may.bare() {
        format!(
            "a shank of {name}, charged with abrasive, leaves them true to {} µm",
            reckon::print::fixed(gap.bare().in_mm() * 1e3, 1)
        )
    } else {
        format!(
            "turn a rod to ⌀{} for it and charge it with abrasive",
            reckon::print::fixed(2.0 * r.in_mm(), 2)
        )
    };
    Some(format!(
        "Hollow the cheeks to radius {}: rough with a round file, then {also}; hold the rod leaning by the relief of the sides.",
        cheek.shown()
    ))
}
/// Blank, operations and relief of a cutter to be made.
pub(super) fn made(
    job: &Job<'_>,
    t: &Toothing,
    s: &Section,
    slug: &str,
    (inputs, swing): (&[Id], Val<Diameter>),
    book: &mut Book,
    listed: bool,
) -> Made {
    let mut size = |tail: &str, mm: f64, what: &str| {
        book.solved(format!("{slug}.{tail}"), Length::mm(mm), (what, 1, 0.0), inputs.to_vec(), &SPACE)
    };
    let deep = size("depth", s.depth, "of the space between two teeth as it is drawn");
    let mouth = size("mouth", s.mouth, "across the space at the tips of the teeth");
    let mut figures = vec![Figure::of("to the tips of the teeth", &deep)];
    if let Some((height, width)) = s.pitch {
        let w = size("pitch_width", width, "across the space at the pitch circle");
        let h = size("pitch_height", height, "from the bottom of the space to its width at the pitch circle");
        figures.push(Figure::of("wide at the pitch line", &w));
        figures.push(Figure::of("pitch line over the end", &h));
    }
    let wide = match s.end {
        End::Flat(width) => {
            let w = size("end_width", width, "across the bottom of the space");
            figures.push(Figure::of("wide at its end", &w));
            w
        }
        End::Round(r) => {
            let w = size("end_radius", r, "radius of the bottom of the space");
            figures.push(Figure::of("end rounded to radius", &w));
            size("end_width", 2.0 * r, "twice the radius of its end")
        }
    };
    let cheek = s.cheek.map(|r| size("cheek", r, "radius of the curve of the teeth"));
    let own = job.shop.stock.iter().find_map(|k| match &k.form {
        StockForm::Blank { width, height, length } => Some((
            format!("{} {} × {}, {} long", k.name, width.shown(), height.shown(), length.shown()),
            k.material,
            *height,
            *width,
        )),
        _ => None,
    });
    let quenched = own.as_ref().is_some_and(|(_, m, ..)| m.hardens.by_quench());
    let steel = own.as_ref().map(|(_, m, h, w)| (*m, *w, *h));
    let high = match &own {
        Some((_, _, h, _)) => *h,
        None => book.assumed(
            format!("{slug}.blank"),
            Length::mm(6.0),
            "house default: tool blank 6 mm square, to buy",
        ),
    };
    let blank = own.map_or_else(|| "high-speed steel 6 mm square (to buy)".to_owned(), |(text, ..)| text);
    // A vee keeps metal under its point: what counts is its width a third of the way up.
    let wide = match s.width_at(s.depth / 3.0) {
        Some(mm) => book.solved(
            format!("{slug}.low_width"),
            Length::mm(mm),
            ("across the space a third of the depth above its bottom", 1, 0.0),
            vec![deep.id(), wide.id()],
            &SPACE,
        ),
        None => wide,
    };
    let relief = relief(job, slug, wide, swing, high, deep, book);
    let cheeks = cheek.and_then(|c| cheeks(job, s, slug, c, book));
    let (soft, hard) = (quenched, !quenched);
    let mut form = Vec::new();
    form.push(if s.pitch.is_some() {
        "Blacken the flat top and scribe the form on it from the figures: middle line first, on the middle of the shank; then the pitch line and the widths from it."
    } else {
        "Blacken the flat top and scribe the form on it: measure its corners off the enlarged outline with dividers, twenty to one, from the end and from one side of the shank."
    }.to_owned());
    form.push(
        if soft {
            "File both sides alike down to the lines, straight flanks first with a fine safe-edged file."
        } else {
            "Grind, then slip both sides alike down to the lines, straight flanks first."
        }
        .to_owned(),
    );
    form.extend(cheeks);
    form.push(
        match s.end {
            End::Flat(_) => "The end last: straight across, square to the shank, until the depth is left.",
            End::Round(_) => {
                "The end last: rounded as drawn, tried in a hole drilled to that radius in card."
            }
        }
        .to_owned(),
    );
    let by = if relief.by_jig {
        "in the grinder's jigs"
    } else {
        "by hand, tried against a card cut to the angle"
    };
    let relieve = vec![
        format!(
            "Top of the edge on the level of the cutter's axis, or its form is lost. Under it relieve {by}: sides {} each, end {}.",
            relief.side.shown(),
            relief.end.shown()
        ),
        format!(
            "Then take the underside of the tongue away until it is {} high under the edge: higher, its heel rubs in a circle of {}, or the sides meet under it.",
            relief.height.shown(),
            swing.shown()
        ),
        "The edge itself is not touched again: leave a hair-line of the blackened top all round.".to_owned(),
    ];
    let mut ops = vec![
        Operation {
            title: "Rough the blank".to_owned(),
            lines: {
                let mut lines = vec![format!(
                    "Top face flat and bright on the stone. Work one end down to a tongue on the middle of the shank, half a millimetre wider than {} and a millimetre longer than the depth.",
                    mouth.shown()
                )];
                if listed {
                    lines.push("The shop's list has a cutter of this module, but as one still to be made: this is it.".to_owned());
                }
                lines
            },
            tool: Some(if soft { "hacksaw, file, grinder" } else { "grinder" }.to_owned()),
            cautions: vec![Caution::Grinding],
            does: vec!["rough turn"],
            time: Spread::minutes(10.0, 20.0, 40.0),
            ..Operation::default()
        },
        Operation {
            title: "Form the edge".to_owned(),
            lines: form,
            tool: Some("scriber, fine files or slips, glass".to_owned()),
            figures,
            does: vec!["form"],
            time: Spread::minutes(20.0, 45.0, 90.0),
            ..Operation::default()
        },
        Operation {
            title: "Relieve it".to_owned(),
            lines: relieve,
            tool: Some("grinder, angle jigs".to_owned()),
            figures: vec![
                Figure::of("sides", &relief.side),
                Figure::of("end", &relief.end),
                Figure::of("tongue high under the edge", &relief.height),
            ],
            cautions: vec![Caution::Grinding],
            does: vec!["form"],
            time: Spread::minutes(8.0, 15.0, 30.0),
            ..Operation::default()
        },
        Operation {
            title: "Lay it under the enlarged outline".to_owned(),
            lines: vec![
                "The outline at twenty times stands on this sheet with a bar to check the print. Throw the cutter's shadow on it with a projector or a bright lamp and lens until a shank of known size shows twenty times its size; or lay its picture, taken square from above beside that shank, over it.".to_owned(),
                "No light between shadow and line, one way up and turned over; a line of the drawing is a hundredth of a millimetre wide on the cutter.".to_owned(),
            ],
            tool: Some("projector or glass, enlarged outline".to_owned()),
            checks: vec![seen("edge", "within the line all round, turned over too")],
            time: Spread::minutes(5.0, 10.0, 20.0),
            ..Operation::default()
        },
    ];
    if let Some((material, width, height)) = steel.filter(|_| !hard) {
        let tool = crate::plan::fire::tool::Tool {
            slug,
            material,
            blank: (width, height),
            at: job.part.at().clone(),
        };
        ops.extend(crate::plan::fire::tool::hardened(&tool, job.shop, book));
    }
    ops.push(Operation {
        title: "Hone".to_owned(),
        lines: vec![
            "Only the top, flat on a fine stone, until the edge shows no light line under the glass; the sides are left.".to_owned(),
            "Sharpened again in the same way, on the top alone, it keeps its form.".to_owned(),
        ],
        tool: Some("fine oilstone, glass".to_owned()),
        checks: vec![seen("edge", "keen, no nick under the glass; lay it under the outline again")],
        does: vec!["polish"],
        time: Spread::minutes(4.0, 8.0, 15.0),
        ..Operation::default()
    });
    ops.push(Operation {
        title: "Set it in its holder and try it on scrap".to_owned(),
        lines: vec![
            "Top face through the middle of the holder, tongue square to it; screw it fast, set the swing and measure it: edge to the far side of the arbor, less half of the arbor, twice.".to_owned(),
            format!("Cut one space to full depth in waste of the same metal and diameter as the {}, turn the waste over on its mandrel: the cutter has to drop into the same space.", t.what),
        ],
        tool: Some("cutter holder, slide gauge".to_owned()),
        figures: vec![Figure::of("edge goes round in", &swing)],
        checks: vec![seen("trial space", &format!("{} as drawn under the glass, no burr on one side only", t.what))],
        cautions: vec![Caution::Indexing],
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    });
    Made {
        blank,
        operations: ops,
        end: relief.end.bare(),
        side: relief.side.bare(),
        height: relief.height.bare().in_mm(),
    }
}
