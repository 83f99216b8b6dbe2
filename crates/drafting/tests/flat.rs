//! Plates with many holes and form tools: nothing overlaps, all is on the paper.

mod common;
mod picture;

use common::{Even, faults};
use drafting::flat::draw;
use drafting::form::{self, FormSize};
use drafting::size::{Paper, PlateSize, Text, Unplaced};
use drafting::sketch::Sketch;
use kurbo::{Point, Vec2};
use picture::keep;
use shape::flat::{Countersink, Flat};
use shape::profile::{Profile, Sense};

fn good(name: &str, part: &Flat, sizes: &[PlateSize], wide: f64, high: f64) -> Sketch {
    assert_eq!(part.amiss(), vec![], "{name}");
    let s = draw(part, Point::ORIGIN, sizes, &Paper::new(name, wide, high), &Even)
        .unwrap_or_else(|e| panic!("{name}: {e}"));
    keep(name, &s);
    assert_eq!(faults(&s, wide, high), Vec::<String>::new(), "{name}");
    s
}

fn overall(width: f64, height: f64) -> Vec<PlateSize> {
    vec![
        PlateSize::Between {
            from: Point::new(0.0, height),
            to: Point::new(width, height),
            upright: false,
            text: format!("{width:.1}").into(),
        },
        PlateSize::Between {
            from: Point::new(width, 0.0),
            to: Point::new(width, height),
            upright: true,
            text: format!("{height:.1}").into(),
        },
        PlateSize::Thickness { text: "2.5".into() },
    ]
}

#[test]
fn a_plate_of_forty_holes() {
    for count in [4u32, 12, 25, 40] {
        let (width, height) = (130.0, 90.0);
        let mut part = Flat::new(Profile::rectangle(0.0, 0.0, width, height), 2.5);
        let mut sizes = overall(width, height);
        let mut seed = 7u32;
        let mut draw_number = |span: f64| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1u32 << 24) * span
        };
        while part.holes.len() < usize::try_from(count).expect("small") {
            let (x, y) = (6.0 + draw_number(width - 12.0), 6.0 + draw_number(height - 12.0));
            let d = 1.0 + draw_number(4.0);
            let clear = part.holes.iter().all(|h| (h.at - Point::new(x, y)).hypot2().sqrt() > 8.0);
            if clear {
                part = part.hole(x, y, d, "");
            }
        }
        for (k, h) in part.holes.iter().enumerate() {
            sizes.push(PlateSize::Place {
                hole: k,
                x: format!("{:.2}", h.at.x).into(),
                y: format!("{:.2}", h.at.y).into(),
            });
            let letter = char::from(b'A' + u8::try_from(k % 26).expect("small"));
            let text = if k < 26 { letter.to_string() } else { format!("A{letter}") };
            sizes.push(PlateSize::Hole { hole: k, text: text.into() });
        }
        good(&format!("plate-{count}"), &part, &sizes, 180.0, 180.0);
        // The same with the size of each hole, some with limits, in place of its letter.
        for (k, s) in sizes.iter_mut().filter(|s| matches!(s, PlateSize::Hole { .. })).enumerate() {
            let nominal = format!("{k} ⌀{:.2}", part.holes[k].diameter);
            let text = if k % 3 == 0 { Text::limits(&nominal, "+0.02", "0") } else { nominal.into() };
            *s = PlateSize::Hole { hole: k, text };
        }
        good(&format!("plate-sizes-{count}"), &part, &sizes, 180.0, 200.0);
    }
}

#[test]
fn a_cock_with_a_slot_and_a_countersink() {
    let outline = Profile::start(0.0, 0.0)
        .line(40.0, 0.0)
        .line(40.0, 12.0)
        .line(22.0, 12.0)
        .arc_about(Point::new(14.0, 12.0), std::f64::consts::PI)
        .line(0.0, 12.0)
        .close();
    let mut part = Flat::new(outline, 2.5)
        .hole(14.0, 12.0, 3.0, "pivot")
        .hole(34.0, 6.0, 3.2, "screw")
        .hole(5.0, 6.0, 1.5, "pin")
        .window(Profile::slot(Point::new(20.0, 4.0), Point::new(27.0, 4.0), 2.0));
    part.countersinks.push(Countersink { hole: 1, diameter: 6.0, angle: 90f64.to_radians(), front: true });
    let mut sizes = overall(40.0, 12.0);
    for (k, text) in ["⌀3.00 H7", "⌀3.2 countersunk ⌀6.0 × 90°", "⌀1.5 pin"].iter().enumerate() {
        let at = part.holes[k].at;
        sizes.push(PlateSize::Place {
            hole: k,
            x: format!("{:.2}", at.x).into(),
            y: format!("{:.2}", at.y).into(),
        });
        sizes.push(PlateSize::Hole { hole: k, text: (*text).into() });
    }
    sizes.push(PlateSize::Note { at: Point::new(14.0, 20.0), text: "R8".into() });
    sizes.push(PlateSize::Surface { at: Point::new(40.0, 9.0), text: "Ra 0.4".into() });
    good("cock", &part, &sizes, 180.0, 120.0);
}

#[test]
fn a_size_for_a_hole_that_is_not_there_is_refused() {
    let part = Flat::new(Profile::rectangle(0.0, 0.0, 10.0, 10.0), 1.0);
    let sizes = [PlateSize::Hole { hole: 3, text: "⌀1".into() }];
    let got = draw(&part, Point::ORIGIN, &sizes, &Paper::new("", 100.0, 100.0), &Even);
    assert_eq!(got, Err(Unplaced::NoSuch { text: "⌀1".to_owned() }));
}

#[test]
fn paper_too_small_is_said_and_not_overlapped() {
    let part = Flat::new(Profile::rectangle(0.0, 0.0, 60.0, 40.0), 1.0);
    let got = draw(&part, Point::ORIGIN, &overall(60.0, 40.0), &Paper::new("", 22.0, 15.0), &Even);
    assert!(matches!(got, Err(Unplaced::NoRoom { .. })), "{got:?}");
}

#[test]
fn a_form_tool_enlarged_and_at_true_size() {
    let deg = |d: f64| d.to_radians();
    // A fly cutter for a round-bottomed groove: 60° flanks blending into a nose of 0.4 mm.
    let nose = 0.4;
    let (s, c) = (0.866_025_403_784_438_6, 0.5);
    let profile = Profile::start(-2.5, 4.0)
        .line(-2.5, 2.5)
        .line(-nose * s - 0.55, nose * c + 0.952_627_944)
        .line(-nose * s, nose * c - nose + nose - nose * c + nose * 0.5)
        .arc_to(Point::new(nose * s, nose * 0.5), Point::new(0.0, nose * 0.5 + nose * 0.5), Sense::Left)
        .line(nose * s + 0.55, nose * c + 0.952_627_944)
        .line(2.5, 2.5)
        .line(2.5, 4.0)
        .close();
    let sizes = [
        FormSize::Between {
            from: Point::new(-2.5, 4.0),
            to: Point::new(2.5, 4.0),
            upright: false,
            text: "5.00".into(),
        },
        FormSize::Between {
            from: Point::new(2.5, 2.5),
            to: Point::new(2.5, 4.0),
            upright: true,
            text: "1.50".into(),
        },
        FormSize::Angle { at: Point::new(0.0, -0.4), from: deg(60.0), to: deg(120.0), text: "60°".into() },
        FormSize::Note { at: Point::new(0.0, 0.0), out: Vec2::new(0.6, -1.0), text: "R0.40".into() },
    ];
    let s =
        form::draw(&profile, &sizes, &Paper::new("fly cutter", 120.0, 100.0), &Even).expect("there is room");
    keep("form", &s);
    assert_eq!(faults(&s, 120.0, 100.0), Vec::<String>::new());
    // The silhouette is as wide on paper as the tool: 5 mm.
    let solid = s.marks.iter().filter(|m| m.fill == drafting::sketch::Tone::Ink);
    let widths: Vec<f64> = solid.map(|m| kurbo::Shape::bounding_box(&m.path).width()).collect();
    assert!(widths.iter().any(|w| (w - 5.0).abs() < 1e-9), "{widths:?}");
}
