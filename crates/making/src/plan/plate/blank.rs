//! The blank of a plate: sawn, relieved, flat, thinned on both faces alike, two true edges; and its last edges.

use super::pair::Pair;
use super::{Plate, bench};
use crate::plan::hole::seen;
use crate::plan::{Caution, Check, Figure, Operation, SetUp, Spread};
use reckon::source::GEOMETRY;
use reckon::{Book, Length, Mark, Source, Temperature, Time, judge, work};

/// Heat that takes rolled stress out of clock brass.
pub static RELIEF: Source = Source {
    cite: "a supplier's data sheet of CW608N: stress relief 200 to 300 °C for 1 to 3 h",
    mark: Mark::Read,
    formula: None,
};
/// How flat and how square.
pub static FLAT: Source = Source::practice(
    "plates flat within 0.05 mm on 100 mm; diagonals alike within 0.05 mm; what is taken off is taken from both faces alike",
);

/// A line of the book as a figure.
fn told(book: &Book, name: &str, label: &str) -> Option<Figure> {
    book.find(name).map(|(id, l)| Figure { label: label.to_owned(), text: l.shown.clone(), id: Some(id) })
}
/// Everything before the first hole.
pub(super) fn setup(p: &Plate<'_>, book: &mut Book) -> SetUp {
    let slug = p.slug().to_owned();
    let name = |tail: &str| format!("{slug}.{tail}");
    let mut ops = vec![Operation {
        title: "Saw the blank".to_owned(),
        lines: vec![
            "Scribe it from a straight edge of the sheet, saw a millimetre outside the line, long cut first. Number the piece: it and its fellow keep the same faces together from here on.".to_owned(),
        ],
        tool: Some("hacksaw or band saw, scriber, square".to_owned()),
        figures: [told(book, &name("blank.length"), "long"), told(book, &name("blank.width"), "wide")]
            .into_iter()
            .flatten()
            .collect(),
        cautions: p.cautions(Caution::Sawing),
        does: vec!["rough turn"],
        time: Spread::minutes(15.0, 25.0, 45.0),
        ..Operation::default()
    }];
    if p.metal.leaded {
        ops.push(relieve(p, book));
    }
    ops.push(flatten(p, book));
    ops.extend(thin(p, book));
    ops.push(true_edges(p));
    bench("blank: quiet, flat, two true edges", "bench, surface plate or thick glass", ops)
}
/// Rolled stress leaves before anything is measured from the piece.
fn relieve(p: &Plate<'_>, book: &mut Book) -> Operation {
    let slug = p.slug();
    let at = book.tabled(
        format!("{slug}.relief.heat"),
        Temperature::si(273.15 + 250.0),
        "middle of the range",
        &RELIEF,
    );
    let time =
        book.tabled(format!("{slug}.relief.time"), Time::si(3600.0), "1 h, once it is warm through", &RELIEF);
    Operation {
        title: "Take the stress out".to_owned(),
        lines: vec![
            "Both blanks between two flat plates of steel, in the oven cold, up slowly, held, and left to cool in it with the door shut.".to_owned(),
            "Rolled sheet is in balance: skin pulls, middle pushes. Whatever is taken from one face lets the other bend it, weeks later too. No oven: a hot plate under a lid, with a thermometer on the steel. Not by flame: it softens where it is hottest.".to_owned(),
        ],
        tool: Some("oven, thermometer, two flat steel plates".to_owned()),
        figures: vec![Figure::of("at", &at), Figure::of("for", &time)],
        checks: vec![seen("colour", "straw to light brown all over, no patch darker")],
        cautions: vec![Caution::Hot],
        does: vec!["stress relieve"],
        time: Spread::minutes(10.0, 20.0, 30.0),
        ..Operation::default()
    }
}
fn flatten(p: &Plate<'_>, book: &mut Book) -> Operation {
    let slug = p.slug();
    let (w, h) = p.body.extent;
    let bow = work!(book, format!("{slug}.flat_within"), |w, h| w.max(h) * 0.0005, &FLAT);
    Operation {
        title: "Flatten".to_owned(),
        lines: vec![
            "On the glass with a feeler; light showing under a straight edge tells the high side. Press it over, in a vice between three rods, a little past flat: hammering puts stress back.".to_owned(),
            "Then rub each face on paper stuck to the glass, turned a quarter every ten strokes, until it is grey all over.".to_owned(),
        ],
        tool: Some("glass, feelers, straight edge, three rods, paper 180 to 320".to_owned()),
        figures: vec![Figure::of("bow at most", &bow)],
        checks: vec![Check {
            what: "feeler that enters under it on the glass".to_owned(),
            limits: Some((bow.bare(), Length::ZERO)),
            seen: None,
            id: Some(bow.id()),
        }],
        cautions: p.cautions(Caution::Filing),
        time: Spread::minutes(15.0, 30.0, 60.0),
        ..Operation::default()
    }
}
/// From a thicker sheet: as much off one face as off the other.
fn thin(p: &Plate<'_>, book: &mut Book) -> Option<Operation> {
    let sheet = p.thicker?;
    let slug = p.slug();
    let thick = p.body.thickness.nominal;
    let each = work!(book, format!("{slug}.thin.each_face"), |sheet, thick| (sheet - thick) / 2.0, &FLAT);
    Some(Operation {
        title: "Thin it, both faces alike".to_owned(),
        lines: vec![
            "Stuck down with double-sided tape or wax on a faced board: half of the surplus off in cuts of a tenth or two, turned over after each, so that neither face is ever far ahead of the other. Flat again after the last.".to_owned(),
        ],
        tool: Some("fly cutter or file and scraper".to_owned()),
        figures: vec![Figure::of("off each face", &each), Figure::of("to", &thick)],
        cautions: p.cautions(Caution::Turning),
        does: vec!["form"],
        time: Spread::minutes(40.0, 80.0, 160.0),
        ..Operation::default()
    })
}
/// The corner that everything is measured from.
fn true_edges(p: &Plate<'_>) -> Operation {
    let t = &p.body.thickness;
    let side = if p.lying() { "right" } else { "left" };
    Operation {
        title: "Two true edges".to_owned(),
        lines: vec![
            format!("The longer edge, which will be the {side} one as seen from the dial, first: straight against a straight edge, square to the face. The bottom edge square to it. All holes are measured from the corner where they meet, at the lower {side}: punch a dot beside it on the outside, and F or B."),
            "The two other edges wait until the holes are drilled: they are then filed on both plates as one.".to_owned(),
        ],
        tool: Some("file or end mill, square, straight edge".to_owned()),
        checks: vec![
            Check {
                what: "thickness at the four corners and in the middle".to_owned(),
                limits: Some((t.nominal.bare() + t.upper.bare(), t.nominal.bare() + t.lower.bare())),
                seen: None,
                id: Some(t.nominal.id()),
            },
            seen("edges", "no light under the square, along the edge and across it"),
        ],
        cautions: p.cautions(Caution::Filing),
        does: vec!["form"],
        time: Spread::minutes(15.0, 30.0, 50.0),
        ..Operation::default()
    }
}
/// The two last edges, on both plates at once.
pub(super) fn edges(p: &Plate<'_>, pair: &Pair, book: &mut Book) -> SetUp {
    let slug = p.slug();
    let (w, h) = p.body.extent;
    let diagonal = work!(
        book,
        format!("{slug}.diagonal"),
        |w, h| Length::si((w.value() * w.value() + h.value() * h.value()).sqrt()),
        &GEOMETRY
    );
    let apart =
        book.tabled(format!("{slug}.diagonals_alike"), Length::mm(0.05), "diagonals of a plate", &FLAT);
    let short = work!(book, format!("{slug}.shorter"), |w, h| w.min(h), &GEOMETRY);
    // Diagonals apart by e: the corner is out of square by e d / (2 w h), over the shorter edge.
    let out = work!(
        book,
        format!("{slug}.out_of_square"),
        |apart, diagonal, w, h, short| Length::si(
            apart.value() * diagonal.value() / (2.0 * w.value() * h.value()) * short.value()
        ),
        &GEOMETRY
    );
    let allowed = book.assumed(
        format!("{slug}.out_of_square_most"),
        Length::mm(0.05),
        "house default: over the shorter edge, as far as the eye and the case allow",
    );
    judge!(
        book,
        format!("{slug}.square"),
        "diagonals alike so far keep the plate square enough",
        |out, allowed| out <= allowed,
        &FLAT
    );
    let op = Operation {
        title: "The two last edges, both plates as one".to_owned(),
        lines: vec![format!(
            "'{}' and '{}' still on their pins: saw and file the two edges left, square to the faces, until the sizes are right and the diagonals alike.",
            pair.names.0, pair.names.1
        )],
        tool: Some("saw, file, square, caliper".to_owned()),
        figures: vec![
            Figure::of("width", &w),
            Figure::of("height", &h),
            Figure::of("both diagonals", &diagonal),
            Figure::of("alike within", &apart),
        ],
        checks: vec![seen("diagonals", "alike within the figure, measured corner to corner")],
        cautions: p.cautions(Caution::Sawing),
        does: vec!["form"],
        time: Spread::minutes(20.0, 35.0, 60.0),
        ..Operation::default()
    };
    bench("edges, still pinned", "vice with soft jaws", vec![op])
}
