//! Windows between the arms of a wheel: sawn and filed to a template, or milled by program.

use super::super::hole::seen;
use super::super::{Caution, Figure, Operation, Spread};
use movement::part::FlatBody;
use reckon::{Alternative, Book, Count, Length, Source, Time, judge, work};
use record::facts::{CutterUse, Shop};
use shape::profile::Segment;

/// Teeth of a saw in the thickness.
pub static BLADE: Source =
    Source::practice("a piercing blade has two or three teeth in the thickness of the sheet");
/// How long hand work takes.
pub static BY_HAND: Source = Source::practice(
    "in brass 2 mm thick some 6 mm of line are sawn in a minute and 2 mm filed; in proportion to the thickness",
);
/// How long a program takes.
pub static BY_MILL: Source = Source::derived(
    "area of the windows by strips half a cutter wide, steps half a cutter deep, and setting up",
);
/// A corner takes no larger tool.
pub static CORNER: Source = Source::derived("a round tool leaves its own radius in a corner");

/// How the windows of a wheel come out.
pub(in super::super) fn cross_out(
    body: &FlatBody,
    shop: &Shop,
    slug: &str,
    leaded: bool,
    book: &mut Book,
) -> Option<Operation> {
    let windows = &body.solid.windows;
    let first = windows.first()?;
    let name = |tail: &str| format!("{slug}.crossing_out.{tail}");
    let radii = first.segments().iter().filter_map(|s| match s {
        Segment::Arc { radius, .. } => Some(*radius),
        Segment::Line { .. } => None,
    });
    let least = radii.fold(f64::MAX, f64::min);
    let corners = first
        .segments()
        .iter()
        .filter(|s| matches!(s, Segment::Arc { radius, .. } if *radius < least * 1.01))
        .count();
    let inputs = vec![body.thickness.nominal.id(), body.extent.0.id()];
    let mut solved = |tail: &str, mm: f64, what: &str| {
        book.solved(name(tail), Length::mm(mm), (what, 1, 0.0), inputs.clone(), &CORNER)
    };
    let least = if least < f64::MAX { least } else { 0.5 };
    let corner = solved("corner", least, "least radius in the corners of a window");
    let line: f64 = windows.iter().map(shape::profile::Profile::length).sum();
    let round = solved("line", line, "round all windows");
    let thick = body.thickness.nominal;
    let area: f64 = windows.iter().map(|w| w.area().abs()).sum();
    let n = super::super::bench::counted(book, name("windows"), windows.len(), "windows between the arms");
    let hand = work!(
        book,
        name("by_hand"),
        |n, round, thick| Time::si(
            60.0 * (3.0 * n.n() + round.in_mm() * thick.in_mm() / 2.0 * (1.0 / 6.0 + 1.0 / 2.0))
        ),
        &BY_HAND
    );
    // An end mill that goes into the corners, on a mill that follows programs and reaches all windows.
    let mill = shop.mills.iter().find(|m| !m.words.is_empty());
    let tool = shop
        .cutters
        .iter()
        .filter(|c| c.of == CutterUse::EndMill && c.made)
        .filter_map(|c| Some((c, c.size?)))
        .filter(|(_, d)| d.bare() <= corner.bare() * 2.0 + Length::mm(1e-3))
        .max_by(|a, b| a.1.bare().value().total_cmp(&b.1.bare().value()));
    let box_ = windows.iter().map(shape::profile::Profile::bounds).reduce(|a, b| a.union(b))?;
    let reach = |m: &record::facts::Mill| {
        box_.width() <= m.travel[0].bare().in_mm() && box_.height() <= m.travel[1].bare().in_mm()
    };
    let milled = mill.zip(tool).filter(|(m, _)| reach(m));
    let program = milled.map(|(m, (_, d))| {
        let feed = m.fastest_feed.map_or(100.0, |f| (f.bare().value() * 6e4).min(120.0));
        let d_mm = d.bare().in_mm();
        let deep = (thick.bare().in_mm() / (d_mm * 0.5)).ceil();
        let minutes = 45.0 + (area / (d_mm * 0.5) + line) * deep / feed;
        book.solved(
            name("by_mill"),
            Time::si(minutes * 60.0),
            ("setting up 45 min, then the path at its feed", 1, 0.0),
            vec![d.id(), thick.id(), corner.id()],
            &BY_MILL,
        )
    });
    let by_program = program.is_some_and(|p| p.bare() < hand.bare());
    let why_mill = match (mill, tool) {
        (None, _) => "no mill of the shop follows programs".to_owned(),
        (Some(m), _) if !reach(m) => format!(
            "the windows take up {} × {}; the {} travels {} × {}",
            said(box_.width()),
            said(box_.height()),
            m.name,
            m.travel[0].shown(),
            m.travel[1].shown()
        ),
        (Some(_), None) => format!(
            "no end mill of the shop goes into corners of radius {}: one of {} mm, long enough for the sheet, would do",
            corner.shown(),
            reckon::print::fixed((2.0 * least * 10.0).floor() / 10.0, 1)
        ),
        _ => format!("{}, setting up included", program.map(|p| p.shown()).unwrap_or_default()),
    };
    book.chosen(
        name("way"),
        if by_program { "milled by program" } else { "sawn and filed to the template" }.to_owned(),
        "the quicker of those that the shop can",
        vec![
            Alternative {
                what: "sawn and filed to the template".to_owned(),
                taken: !by_program,
                why: format!("{} by hand", hand.shown()),
            },
            Alternative { what: "milled by program".to_owned(), taken: by_program, why: why_mill.clone() },
        ],
        vec![hand.id(), corner.id(), n.id()],
        &BY_HAND,
    );
    let minutes = |s: f64| Spread::minutes(s * 0.7, s, s * 1.8);
    let mut cautions = vec![Caution::Sawing];
    if leaded {
        cautions.push(Caution::Lead);
    }
    let balanced = seen(
        "rim and arms",
        "alike all round; hung on a pin through the bore it stays where it is turned to",
    );
    if let (true, Some((m, (c, d))), Some(time)) = (by_program, milled, program) {
        return Some(Operation {
            title: crate::nc::mill::MILLED.to_owned(),
            lines: vec![
                format!("On the {}, stuck flat on waste over its whole face and centred by a pin in the bore; the program of this part takes the {} windows one after another, opposite ones in turn.", m.name, n.shown()),
                "The program goes a tenth into the waste; the middles stay stuck to it and are lifted off last.".to_owned(),
                format!("Then draw-file rim and arms; the corners keep the cutter's radius of half of {}.", d.shown()),
            ],
            tool: Some(c.name.clone()),
            figures: vec![Figure::of("corner radius", &corner), Figure::of("end mill", &d)],
            checks: vec![balanced],
            cautions,
            does: vec!["cross out"],
            time: minutes(time.bare().value() / 60.0),
            ..Operation::default()
        });
    }
    let pilot = shop
        .drills
        .sizes
        .iter()
        .filter(|(_, d)| d.bare().across() <= corner.bare() * 2.0 + Length::mm(1e-6))
        .max_by(|a, b| a.1.bare().value().total_cmp(&b.1.bare().value()));
    let blade = work!(book, name("blade"), |thick| teeth_in_a_centimetre(thick), &BLADE);
    let mut figures =
        vec![Figure::of("corner radius", &corner), Figure::of("blade, teeth in 10 mm, at least", &blade)];
    let mut lines = vec![
        "Measure the bar on the template, stick it on with the pin through the bore; before it dries see that the rim is alike all round against the roots of the teeth.".to_owned(),
    ];
    match pilot {
        Some((drill, d)) => {
            figures.push(Figure::of("pilot drill", d));
            let fits = *d;
            let verdict = judge!(
                book,
                name("pilot_fits"),
                "the pilot drill leaves the corner its radius",
                |fits, corner| fits.across() <= corner * 2.0 + Length::mm(1e-6),
                &CORNER
            );
            book.cure(verdict.id(), "a smaller drill");
            lines.push(format!("Prick the middle of each corner's arc and drill {drill} there, {corners} to a window, the wheel flat on waste and held down: the drilled corner is the fillet, the file only runs into it."));
        }
        None => lines.push("No drill of the drawer is as small as twice the corner's radius: drill one hole in the middle of each window for the blade.".to_owned()),
    }
    lines.push(format!("Blade with at least {} teeth in 10 mm, teeth down, upright to the sheet. Saw 0.3 mm inside the line, rim first, then the arms; windows opposite each other in turn, so that the wheel keeps its shape.", blade.shown()));
    lines.push(format!("File to the line: rim with a half-round or crossing file rounder than the rim, arms with a flat safe-edged one no thicker than twice {}. Long strokes, both directions, edges square.", corner.shown()));
    lines.push("Arms: caliper them all, file the widest to the others; then break the edges with a scraper and polish with a stick.".to_owned());
    Some(Operation {
        title: "Cross out".to_owned(),
        lines,
        tool: Some("template, drill, piercing saw, crossing files".to_owned()),
        figures,
        checks: vec![balanced, seen("corners", "no saw mark past the line: it would crack from there")],
        cautions,
        does: vec!["cross out"],
        time: minutes(hand.bare().value() / 60.0),
        ..Operation::default()
    })
}
/// Two and a half teeth in the thickness, as blades are sold: 8 to 36 in 10 mm.
fn teeth_in_a_centimetre(thick: Length) -> Count {
    #[expect(clippy::cast_possible_truncation, reason = "between 8 and 36")]
    Count((25.0 / thick.in_mm()).ceil().clamp(8.0, 36.0) as i64)
}
fn said(mm: f64) -> String {
    reckon::Shown::shown(&Length::mm(mm))
}
