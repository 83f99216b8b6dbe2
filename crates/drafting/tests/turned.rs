//! Screws, washers, pillars and bushes drawn over a range of sizes: nothing overlaps, all is on the paper.

mod common;
mod picture;

use common::{Even, faults};
use drafting::size::{Paper, Size, Text, Unplaced};
use drafting::sketch::{Pen, Sketch};
use drafting::text::label_box;
use drafting::turned::draw;
use kurbo::Point;
use picture::keep;
use shape::profile::{Profile, Sense};
use shape::turned::{Bore, Edge, End, FaceGroove, Feature, Form, Outer, Side, Thread, Turned};

const WIDE: f64 = 180.0;
const HIGH: f64 = 120.0;

/// How many labels a visible edge runs through.
fn struck(s: &Sketch) -> usize {
    let mut edges = Vec::new();
    for m in s.marks.iter().filter(|m| m.pen == Some(Pen::Visible)) {
        let mut last = kurbo::Point::ORIGIN;
        kurbo::flatten(m.path.iter(), 0.02, |e| match e {
            kurbo::PathEl::MoveTo(p) => last = p,
            kurbo::PathEl::LineTo(p) => {
                edges.push((last, p));
                last = p;
            }
            _ => {}
        });
    }
    let through = |l: &&drafting::sketch::Label| {
        let b = label_box(l, &Even).inset(0.2);
        edges.iter().any(|(p, q)| (0..=200).any(|k| b.contains(p.lerp(*q, f64::from(k) / 200.0))))
    };
    s.labels.iter().filter(through).count()
}

fn good(name: &str, part: &Turned, sizes: &[Size]) -> Sketch {
    assert_eq!(part.unsound(), vec![], "{name}");
    let s = draw(part, sizes, &Paper::new(name, WIDE, HIGH), &Even).unwrap_or_else(|e| panic!("{name}: {e}"));
    keep(name, &s);
    assert_eq!(faults(&s, WIDE, HIGH), Vec::<String>::new(), "{name}");
    assert_eq!(struck(&s), 0, "{name}: an edge runs through a label");
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
    let length_of =
        |from: f64, to: f64, text: &str| Size::Length { from, to, on: Side::Outside, text: text.into() };
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
        Size::Note {
            at: Point::new(0.0, head / 2.0 - 0.06 * d),
            text: format!("{:.2} × 45°", 0.06 * d).into(),
        },
        Size::Note {
            at: Point::new(all, d / 2.0 - 0.7 * pitch),
            text: format!("{:.2} × 45°", 0.7 * pitch).into(),
        },
        Size::Surface { at: Point::new(high * 0.6, head / 2.0), text: "Ra 0.4".into() },
    ];
    (part, sizes)
}

#[test]
fn screws_from_m1_to_m8() {
    // Coarse pitches of ISO 261.
    let coarse = [
        (1.0, 0.25),
        (1.6, 0.35),
        (2.0, 0.4),
        (2.5, 0.45),
        (3.0, 0.5),
        (4.0, 0.7),
        (5.0, 0.8),
        (6.0, 1.0),
        (8.0, 1.25),
    ];
    for (d, pitch) in coarse {
        for length in [2.0, 3.0, 5.0, 8.0, 11.0, 16.0, 25.0, 40.0, 60.0] {
            let (part, sizes) = screw(d, pitch, length);
            let s =
                good(&format!("screw M{d} × {length}").replace(' ', "-").replace('×', "x"), &part, &sizes);
            assert!(s.title.ends_with(&format!("scale {}:{}", s.scale.0, s.scale.1)), "{}", s.title);
        }
    }
}

#[test]
fn a_slender_screw_is_broken_and_still_says_its_length() {
    let (part, sizes) = screw(1.0, 0.25, 60.0);
    let s = good("slender", &part, &sizes);
    let breaks = s.marks.iter().filter(|m| m.pen == Some(Pen::Break)).count();
    assert_eq!(breaks, 2);
    assert!(s.labels.iter().any(|l| l.text == "60.0 ±0.1"));
    // Whole, it could be drawn in this frame no larger than 2:1.
    assert!(s.scale.0 >= 5, "{:?}", s.scale);
    let (part, sizes) = screw(4.0, 0.7, 11.0);
    let s = good("sturdy", &part, &sizes);
    assert!(s.marks.iter().all(|m| m.pen != Some(Pen::Break)));
}

#[test]
fn the_check_for_overlap_sees_one() {
    let (part, sizes) = screw(4.0, 0.7, 11.0);
    let s = good("control", &part, &sizes);
    let mut twice = s.clone();
    let mut moved = twice.labels[0].clone();
    moved.at.x += 0.5;
    twice.labels.push(moved);
    assert_eq!(faults(&twice, WIDE, HIGH).len(), 1);
    let mut off = s.clone();
    off.labels[0].at.x = -5.0;
    assert!(!faults(&off, WIDE, HIGH).is_empty());
    let mut through = s.clone();
    // Onto the shoulder under the head, which runs from the axis up.
    let shoulder = s.marks.iter().filter(|m| m.pen == Some(Pen::Visible));
    let edge = shoulder.map(|m| kurbo::Shape::bounding_box(&m.path)).find(|b| b.width() > 60.0);
    through.labels[0].at = edge.expect("the outline is there").center();
    through.labels[0].at.x -= 40.0;
    through.labels[0].text = "across the whole of the part".to_owned();
    assert!(struck(&through) > 0);
}

#[test]
fn views_are_true_to_scale() {
    let (part, sizes) = screw(4.0, 0.7, 11.0);
    let s = good("true", &part, &sizes);
    assert_eq!(s.scale, (5, 1));
    // Head 8 mm over 5:1 is 40 mm high, in the side view and round in the end view.
    let boxes: Vec<_> = s
        .marks
        .iter()
        .filter(|m| m.pen == Some(Pen::Visible))
        .map(|m| kurbo::Shape::bounding_box(&m.path))
        .collect();
    let round = |b: &&kurbo::Rect| (b.width() - 40.0).abs() < 0.02 && (b.height() - 40.0).abs() < 0.02;
    assert_eq!(boxes.iter().filter(round).count(), 1);
    let side = |b: &&kurbo::Rect| (b.width() - 71.0).abs() < 1e-6 && (b.height() - 20.0).abs() < 1e-6;
    assert_eq!(boxes.iter().filter(side).count(), 2, "upper and lower half of the outline");
    let fixed =
        draw(&part, &sizes, &Paper::new("", WIDE, HIGH).at_scale(2, 1), &Even).expect("there is room");
    assert_eq!(fixed.scale, (2, 1));
    assert_eq!(fixed.title, "scale 2:1");
}

#[test]
fn what_cannot_be_placed_is_said() {
    let (part, mut sizes) = screw(4.0, 0.7, 11.0);
    let tiny = draw(&part, &sizes, &Paper::new("", 40.0, 20.0), &Even);
    assert!(matches!(tiny, Err(Unplaced::NoRoom { .. })), "{tiny:?}");
    sizes.push(Size::Across { feature: 0, text: "7.0".into() });
    let wrong = draw(&part, &sizes, &Paper::new("", WIDE, HIGH), &Even);
    assert_eq!(wrong, Err(Unplaced::NoSuch { text: "7.0".to_owned() }));
}

#[test]
fn a_stepped_bush_a_domed_screw_and_a_spindle_with_flats() {
    let bush = Turned::new(
        Outer::new()
            .step(14.0, 2.0)
            .step(9.0, 8.0)
            .trailing(Edge::Chamfer { along: 0.4, deep: 0.4 })
            .profile(),
    )
    .bored(Bore::through(3.0))
    .bored(Bore::blind(End::Datum, 6.0, 3.0))
    .bored(Bore::countersink(End::Far, 4.0, 3.0, 90f64.to_radians()))
    .with(Feature::Relief { end: End::Datum, diameter: 11.0, depth: 0.2 });
    let sizes = [
        length(0.0, 2.0, Side::Outside, "2.0"),
        length(0.0, 10.0, Side::Outside, "10.0"),
        length(0.0, 3.0, Side::Bore, "3.0"),
        diameter(1.0, Side::Outside, "⌀14.0"),
        Size::Diameter { at: 6.0, on: Side::Outside, text: Text::limits("⌀9.00", "+0.015", "+0.006") },
        Size::Diameter { at: 5.0, on: Side::Bore, text: Text::limits("⌀3.00", "+0.010", "0") },
        diameter(2.0, Side::Bore, "⌀6.0"),
        Size::Note { at: Point::new(10.0, 1.9), text: "⌀4.0 × 90°".into() },
        Size::Note { at: Point::new(0.2, 5.0), text: "⌀11.0, 0.2 deep".into() },
        Size::Note { at: Point::new(9.8, 4.3), text: "0.4 × 45°".into() },
    ];
    good("bush", &bush, &sizes);

    // A domed head: a sphere of 5 mm over a head of 6 mm across, then a plain shoulder and a thread.
    let high = 5.0 - (25.0f64 - 9.0).sqrt();
    let dome = Profile::start(0.0, 0.0)
        .arc_to(Point::new(high, 3.0), Point::new(5.0, 0.0), Sense::Right)
        .line(3.0, 3.0)
        .line(3.0, 1.5)
        .line(5.0, 1.5)
        .line(5.0, 1.0)
        .line(9.0, 1.0)
        .line(9.0, 0.0);
    let screw = Turned::new(dome)
        .with(Feature::Slot { end: End::Datum, width: 0.8, depth: 1.4 })
        .with(outside_thread(2.0, 0.4, 5.8, 9.0));
    let sizes = [
        length(0.0, 3.0, Side::Outside, "3.00"),
        length(3.0, 5.0, Side::Outside, "2.00 +0.02"),
        length(5.0, 9.0, Side::Outside, "4.0"),
        diameter(2.0, Side::Outside, "⌀6.0"),
        diameter(4.0, Side::Outside, "⌀3.00"),
        diameter(8.0, Side::Outside, "M2"),
        Size::Note { at: Point::new(0.417, 2.0), text: "R5".into() },
        Size::SlotWidth { feature: 0, text: "0.80".into() },
    ];
    good("domed", &screw, &sizes);

    let spindle = Turned::stepped(&[(6.0, 6.0), (10.0, 4.0), (5.0, 12.0)])
        .with(Feature::Flats { from: 0.0, to: 4.0, across: 5.0, count: 2 })
        .with(Feature::Flats { from: 16.0, to: 22.0, across: 3.6, count: 4 })
        .with(Feature::CrossHole { z: 13.0, diameter: 1.0 });
    let sizes = [
        length(0.0, 6.0, Side::Outside, "6.0"),
        length(6.0, 10.0, Side::Outside, "4.0"),
        length(0.0, 4.0, Side::Outside, "4.0"),
        length(16.0, 22.0, Side::Outside, "6.0"),
        length(0.0, 22.0, Side::Outside, "22.0"),
        diameter(5.0, Side::Outside, "⌀6.0"),
        diameter(8.0, Side::Outside, "⌀10.0"),
        diameter(14.0, Side::Outside, "⌀5.0"),
        Size::Across { feature: 0, text: "5.0".into() },
    ];
    good("spindle", &spindle, &sizes);
}

fn length(from: f64, to: f64, on: Side, text: &str) -> Size {
    Size::Length { from, to, on, text: text.into() }
}
fn diameter(at: f64, on: Side, text: &str) -> Size {
    Size::Diameter { at, on, text: text.into() }
}

#[test]
fn washers_with_up_to_four_grooves() {
    for count in 0..=4usize {
        for form in [Form::Round, Form::Square, Form::Vee] {
            for size in [8.0, 21.0, 45.0] {
                let (hole, thick) = (size * 0.26, size / 7.0);
                let mut part = Turned::stepped(&[(size, thick)]).bored(Bore::through(hole));
                let mut sizes = vec![
                    length(0.0, thick, Side::Outside, &format!("{thick:.2} ±0.05")),
                    diameter(thick / 2.0, Side::Outside, &format!("⌀{size:.1}")),
                    Size::Diameter {
                        at: thick / 2.0,
                        on: Side::Bore,
                        text: Text::limits(&format!("⌀{hole:.2}"), "+0.05", "0"),
                    },
                    Size::Surface { at: Point::new(thick, size * 0.4), text: "Ra 0.8".into() },
                ];
                for k in 0..count {
                    let d = size * (0.48 + 0.13 * f64::from(u32::try_from(k).expect("few")));
                    let groove = FaceGroove {
                        end: End::Datum,
                        diameter: d,
                        width: size * 0.045,
                        depth: size * 0.02,
                        form,
                    };
                    part = part.with(Feature::FaceGroove(groove));
                    sizes.push(Size::Groove {
                        feature: k,
                        diameter: Some(format!("⌀{d:.2}").as_str().into()),
                        width: (k == 0).then(|| format!("{:.2}", groove.width).as_str().into()),
                        depth: (k == 0).then(|| format!("{:.2}", groove.depth).as_str().into()),
                    });
                }
                good(&format!("washer-{size}-{count}-{form:?}"), &part, &sizes);
            }
        }
    }
}

#[test]
fn stepped_pillars() {
    for steps in 2..=7u32 {
        for thin in [1.0, 3.0, 8.0] {
            let mut outer = Outer::new();
            let mut sizes = Vec::new();
            let mut z = 0.0;
            for k in 0..steps {
                let d = thin * (1.0 + f64::from((k * 5) % 4) * 0.35);
                let l = thin * (0.6 + f64::from((k * 3) % 5));
                outer = outer.step(d, l);
                sizes.push(length(z, z + l, Side::Outside, &format!("{l:.2}")));
                sizes.push(diameter(z + l / 2.0, Side::Outside, &format!("⌀{d:.2}")));
                z += l;
            }
            sizes.push(length(0.0, z, Side::Outside, &format!("{z:.2} ±0.02")));
            good(&format!("pillar-{steps}-{thin}"), &Turned::new(outer.profile()), &sizes);
        }
    }
}

#[test]
fn a_tapped_pillar_and_a_hexagon_and_a_thumb_nut() {
    let tapped = |from: f64, to: f64| {
        Feature::Thread(Thread {
            side: Side::Bore,
            from,
            to,
            major: 3.0,
            minor: 2.459,
            pitch: 0.5,
            run_out: 1.0,
            label: "M3".to_owned(),
        })
    };
    let drill = 118f64.to_radians();
    let outer = Outer::new()
        .step(6.0, 2.0)
        .step(8.0, 30.0)
        .leading(Edge::Chamfer { along: 0.5, deep: 0.5 })
        .trailing(Edge::Round(0.8))
        .step(6.0, 2.0);
    let pillar = Turned::new(outer.profile())
        .bored(Bore::blind(End::Datum, 2.5, 9.0).pointed(drill))
        .bored(Bore::blind(End::Far, 2.5, 9.0).pointed(drill))
        .with(tapped(0.0, 7.0))
        .with(tapped(27.0, 34.0));
    let sizes = vec![
        length(2.0, 32.0, Side::Outside, "30.00 ±0.01"),
        length(0.0, 2.0, Side::Outside, "2.0"),
        length(32.0, 34.0, Side::Outside, "2.0"),
        length(0.0, 7.0, Side::Bore, "7.0"),
        length(0.0, 9.0, Side::Bore, "9.0"),
        diameter(10.0, Side::Outside, "⌀8.0"),
        Size::Diameter { at: 1.0, on: Side::Outside, text: Text::limits("⌀6.00", "−0.01", "−0.03") },
        Size::Diameter { at: 33.0, on: Side::Outside, text: Text::limits("⌀6.00", "−0.01", "−0.03") },
        diameter(1.0, Side::Bore, "M3"),
        Size::Note { at: Point::new(31.8, 3.8), text: "R0.8".into() },
    ];
    good("pillar-tapped", &pillar, &sizes);

    let hex = Turned::new(
        Outer::new()
            .step(9.2, 4.0)
            .leading(Edge::Chamfer { along: 0.35, deep: 0.6 })
            .step(5.0, 12.0)
            .trailing(Edge::Chamfer { along: 0.5, deep: 0.5 })
            .profile(),
    )
    .with(Feature::Flats { from: 0.0, to: 4.0, across: 8.0, count: 6 })
    .with(outside_thread(5.0, 0.8, 6.0, 16.0))
    .with(Feature::CrossHole { z: 13.5, diameter: 1.2 });
    let sizes = vec![
        length(0.0, 4.0, Side::Outside, "4.0"),
        length(4.0, 16.0, Side::Outside, "12.0"),
        length(4.0, 13.5, Side::Outside, "9.5"),
        diameter(15.0, Side::Outside, "M5"),
        Size::Across { feature: 0, text: "8.0 A/F".into() },
        Size::Note { at: Point::new(13.5, 0.0), text: "⌀1.2 through".into() },
    ];
    good("hexagon", &hex, &sizes);

    let nut = Turned::new(
        Outer::new()
            .step(12.0, 5.0)
            .leading(Edge::Round(0.6))
            .trailing(Edge::Round(0.6))
            .step(7.0, 3.0)
            .profile(),
    )
    .bored(Bore::through(2.5))
    .bored(Bore::countersink(End::Datum, 3.4, 2.5, 90f64.to_radians()))
    .with(Feature::Knurl { from: 0.6, to: 4.4, label: "straight".to_owned() })
    .with(tapped(0.0, 8.0));
    let sizes = vec![
        length(0.0, 5.0, Side::Outside, "5.0"),
        length(0.0, 8.0, Side::Outside, "8.0"),
        diameter(2.0, Side::Outside, "⌀12.0"),
        diameter(7.0, Side::Outside, "⌀7.0"),
        diameter(5.0, Side::Bore, "M3"),
        Size::Note { at: Point::new(2.5, 6.0), text: "knurled, fine".into() },
    ];
    good("thumb-nut", &nut, &sizes);
}
