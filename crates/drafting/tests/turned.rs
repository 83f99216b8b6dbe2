//! Screws, washers, pillars and bushes drawn over a range of sizes: nothing overlaps, all is on the paper.

mod common;

use common::{Even, faults, svg};
use drafting::size::{Paper, Size, Text};
use drafting::sketch::Sketch;
use drafting::turned::draw;
use kurbo::Point;
use shape::turned::{Bore, Edge, End, FaceGroove, Feature, Form, Outer, Side, Thread, Turned};

const WIDE: f64 = 180.0;
const HIGH: f64 = 120.0;

/// Keeps a picture where a folder is named for them.
fn keep(name: &str, s: &Sketch) {
    if let Ok(folder) = std::env::var("SKETCHES") {
        std::fs::write(format!("{folder}/{name}.svg"), svg(s)).expect("the folder is there");
    }
}

fn good(name: &str, part: &Turned, sizes: &[Size]) -> Sketch {
    assert_eq!(part.unsound(), vec![], "{name}");
    let s = draw(part, sizes, &Paper::new(name, WIDE, HIGH), &Even).unwrap_or_else(|e| panic!("{name}: {e}"));
    keep(name, &s);
    assert_eq!(faults(&s, WIDE, HIGH), Vec::<String>::new(), "{name}");
    s
}

fn outside_thread(d: f64, pitch: f64, from: f64, to: f64) -> Feature {
    Feature::Thread(Thread {
        side: Side::Outside,
        from,
        to,
        major: d,
        minor: d - 1.2269 * pitch,
        pitch,
        run_out: 2.0 * pitch,
        label: format!("M{d}"),
    })
}

fn screw(d: f64, pitch: f64, length: f64) -> (Turned, Vec<Size>) {
    let (head, high) = (d * 2.0, d * 0.8);
    let all = high + length;
    let outer = Outer::new()
        .step(head, high)
        .leading(Edge::Chamfer { along: 0.06 * d, deep: 0.06 * d })
        .step(d, length)
        .trailing(Edge::Chamfer { along: 0.7 * pitch, deep: 0.7 * pitch });
    let full = (length - 4.0 * pitch).max(0.6 * length);
    let part = Turned::new(outer.profile())
        .with(outside_thread(d, pitch, all - full, all))
        .with(Feature::Slot { end: End::Datum, width: 0.3 * d, depth: 0.45 * high });
    let length_of = |from: f64, to: f64, text: &str| Size::Length { from, to, on: Side::Outside, text: text.into() };
    let sizes = vec![
        length_of(high, all, &format!("{length:.1} ±0.1")),
        length_of(0.0, high, &format!("{high:.2}")),
        length_of(0.0, 0.45 * high, &format!("{:.2}", 0.45 * high)),
        length_of(all - full, all, &format!("{full:.1}")),
        Size::Diameter {
            at: high / 2.0,
            on: Side::Outside,
            text: Text::limits(&format!("⌀{head:.2}"), "−0.02", "−0.05"),
        },
        Size::Diameter { at: all - full / 2.0, on: Side::Outside, text: format!("M{d}").into() },
        Size::SlotWidth { feature: 1, text: format!("{:.2}", 0.3 * d).into() },
        Size::Note { at: Point::new(0.0, head / 2.0 - 0.06 * d), text: format!("{:.2} × 45°", 0.06 * d).into() },
        Size::Note { at: Point::new(all, d / 2.0 - 0.7 * pitch), text: format!("{:.2} × 45°", 0.7 * pitch).into() },
        Size::Surface { at: Point::new(high * 0.6, head / 2.0), text: "Ra 0.4".into() },
    ];
    (part, sizes)
}

#[test]
fn screws_from_m1_to_m8() {
    // Coarse pitches of ISO 261.
    let coarse = [(1.0, 0.25), (1.6, 0.35), (2.0, 0.4), (2.5, 0.45), (3.0, 0.5), (4.0, 0.7), (5.0, 0.8), (6.0, 1.0), (8.0, 1.25)];
    for (d, pitch) in coarse {
        for length in [2.0, 3.0, 5.0, 8.0, 11.0, 16.0, 25.0, 40.0, 60.0] {
            let (part, sizes) = screw(d, pitch, length);
            let s = good(&format!("screw M{d} × {length}").replace(' ', "-").replace('×', "x"), &part, &sizes);
            assert!(s.title.ends_with(&format!("scale {}:{}", s.scale.0, s.scale.1)), "{}", s.title);
        }
    }
}
