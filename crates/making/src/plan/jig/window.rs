//! A filing template for crossing out: one window of a wheel in a hard plate, set on its bore from window to window.

use super::blank::Flat;
use super::{Asking, Named};
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, SetUp, Spread, turned};
use movement::part::{Body, FlatBody};
use reckon::source::GEOMETRY;
use reckon::{Count, Diameter, Length, Source, Val, work};
use record::facts::Finish;

/// When a template pays.
pub static TEMPLATE: Source = Source::practice(
    "from some eight windows alike a hard template is quicker than as many filed to a line, and all arms come out alike",
);
/// Windows alike from which a template is made.
const PAYS: i64 = 8;

/// The template of a wheel's windows; none for few, or for a wheel without a bore in its middle.
pub fn template(asking: &mut Asking<'_>, body: &FlatBody, at: &str) -> Option<Named> {
    let windows = &body.solid.windows;
    let first = windows.first()?;
    let number = i64::try_from(windows.len()).ok()?;
    let wheels = asking.part.common.count;
    if number * wheels.bare().0 < PAYS {
        return None;
    }
    let all = body.solid.outline.bounds();
    let (cx, cy) = (f64::midpoint(all.x0, all.x1), f64::midpoint(all.y0, all.y1));
    let bore = body.holes.iter().find(|h| {
        let (x, y) = (h.centre.0.bare().in_mm() - cx, h.centre.1.bare().in_mm() - cy);
        x * x + y * y < 1e-4
    })?;
    let bore = bore.diameter.nominal;
    let half = bore.bare().in_mm() / 2.0;
    let b = first.bounds();
    let wall = 5.0;
    let (x0, y0) = (b.x0.min(cx - half) - wall, b.y0.min(cy - half) - wall);
    let (x1, y1) = (b.x1.max(cx + half) + wall, b.y1.max(cy + half) + wall);
    let windows_alike = crate::plan::bench::counted(
        asking.book,
        format!("{at}.windows"),
        windows.len(),
        "windows of one wheel",
    );
    let all_of_them = work!(
        asking.book,
        format!("{at}.all"),
        |windows_alike, wheels| Count(windows_alike.0 * wheels.0),
        &TEMPLATE
    );
    let name = asking.part.common.name.clone();
    let slug = format!("filing_template.{}", asking.part.slug().replace('.', "_"));
    let why = format!(
        "{name}: {} windows alike; scribed and filed to one hard edge all arms come out alike.",
        all_of_them.shown()
    );
    let window = first.mapped(|p| kurbo_point(p.x - x0, p.y - y0));
    asking.ask(&slug, why, |board| {
        let metal = tables::material::find("oil-hardening tool steel").expect("the tables have this steel");
        let mut solved = |tail: &str, mm: f64| {
            let n = board.name(tail);
            board.book.solved(
                n,
                Length::mm(mm),
                ("one window and the bore, with 5 mm of plate round them", 1, 0.0),
                vec![bore.id()],
                &GEOMETRY,
            )
        };
        let (wide, high) = (solved("wide", x1 - x0), solved("high", y1 - y0));
        let centre = (solved("bore.x", cx - x0), solved("bore.y", cy - y0));
        let thick = board.assumed("thick", Length::mm(2.0), "house default: ground flat stock, stiff and quickly filed");
        let sheet = board.limited("thick", thick, (0.05, -0.05));
        let size = {
            let n = board.name("bore_size");
            work!(board.book, n, |bore| bore, &GEOMETRY)
        };
        let hole = board.limited("bore_size", size, (0.02, 0.0));
        board.own = route(&name, size);
        let note = "Its inner edge is the edge of every window: file it once with all care. Hard, and only just drawn back, so that a file skates on it.";
        let mut flat =
            Flat::rectangle(board, &format!("filing template for the {name}"), (metal, note), (wide, high, sheet));
        flat.finished(&[Finish::Harden, Finish::Temper], 60.0);
        flat.hole("bore", centre, hole);
        let (mut part, found) = flat.part();
        if let Body::Flat(b) = &mut part.body {
            b.solid.windows.push(window);
        }
        (part, found)
    })
}
fn kurbo_point(x: f64, y: f64) -> kurbo::Point {
    kurbo::Point::new(x, y)
}
fn route(wheel: &str, bore: Val<Diameter>) -> Vec<SetUp> {
    let drill = Operation {
        title: "Bore, and the window sawn out".to_owned(),
        lines: vec![
            "Saw the plate to size, faces flat. Prick the place of the bore, drill and ream it to a close fit on the pin.".to_owned(),
            format!("Stick the paper template of the {wheel} on, a pin through both bores. Prick and drill the corners of one window, each drill as wide as twice the corner's radius; scribe the middle of the window from the bore outward, over the edge of the plate."),
            "Saw out the window half a millimetre inside its line, blade upright to the plate.".to_owned(),
        ],
        tool: Some("paper template, pin, drills, piercing saw".to_owned()),
        figures: vec![Figure::of("bore", &bore)],
        cautions: vec![Caution::DrillingSheet, Caution::Sawing],
        does: vec!["drill"],
        time: Spread::minutes(25.0, 40.0, 70.0),
        ..Operation::default()
    };
    let file = Operation {
        title: "File the window to its line".to_owned(),
        lines: vec![
            "Rim and hub with a half-round file rounder than they are, arms with a flat safe-edged one; edges square to the face, tried with a small square against the light.".to_owned(),
            "Under the glass: the printed line just gone, all round. Both arms' edges at one distance from the middle line, measured with the slide gauge at hub and rim.".to_owned(),
            "Sharp burrs off with a slip; the face is not rounded at the window: the file has to run on it.".to_owned(),
        ],
        tool: Some("fine files, glass, small square, slide gauge".to_owned()),
        checks: vec![seen("window", "line gone all round, both arms alike within 0.05 mm, edges square")],
        cautions: vec![Caution::Filing],
        does: vec!["form", "deburr"],
        time: Spread::minutes(25.0, 45.0, 80.0),
        ..Operation::default()
    };
    vec![
        turned::at_bench(
            "drilled and sawn",
            "bench pin; clamped flat on waste while drilled",
            vec![drill],
            5.0,
        ),
        turned::at_bench("filed", "vice with soft jaws", vec![file], 2.0),
    ]
}
/// How it is used.
#[must_use]
pub fn lines(named: &Named) -> Vec<String> {
    vec![
        format!("While the wheel still stands on the dividing head: a light line on its face for the middle of each window. Then the {} on a close pin through both bores, its middle line on the first of these lines; two small clamps on the rim.", named.name),
        "Scribe round inside the template with a fine point, go on to the next line, and so round the wheel. Corners drilled and windows sawn inside the scribed lines with the template off.".to_owned(),
        "Template on again, window by window: file until the file runs on its hard edge all round. Wheels alike are pinned together and filed as one.".to_owned(),
    ]
}
