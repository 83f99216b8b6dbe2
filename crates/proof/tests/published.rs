//! Figures from outside: `data/published.toml` holds them with their sources.

use kurbo::{Point, Vec2};
use proof::milling::{self, Cutter};
use proof::turning::{self, Insert, Tool};
use proof::{Control, Does, Program, Step, Wrong, limits};
use shape::region::Region;
use toml::Table;

/// One row of the data.
struct Row(Table);

fn row(name: &str) -> Row {
    let all: Table = include_str!("data/published.toml").parse().expect("the data is TOML");
    Row(all[name].as_table().expect("a row is a table").clone())
}

impl Row {
    fn text(&self) -> String {
        let text = self.0["text"].as_str().expect("a row with a text");
        format!("{text}\nM30\n")
    }

    fn check(&self, got: &[f64]) {
        let want = self.0["want"].as_array().expect("a list");
        let within = self.0["within"].as_float().expect("a number");
        assert_eq!(want.len(), got.len());
        for (want, got) in want.iter().zip(got) {
            let want = want.as_float().expect("a number");
            assert!((want - got).abs() <= within, "{}: want {want}, got {got}", self.0["says"]);
        }
    }
}

fn control(mut control: Control) -> Control {
    control.needs_tool = false;
    control
}

fn arcs(text: &str, habits: Control) -> Vec<proof::arc::Arc> {
    let reading = proof::read(text, &control(habits));
    assert_eq!(reading.faults, []);
    let arc = |step: &Step| if let Does::Arc { arc, .. } = step.does { Some(arc) } else { None };
    reading.program.steps.iter().filter_map(arc).collect()
}

#[test]
fn f1_centre() {
    let row = row("F1");
    let arc = arcs(&row.text(), Control::mill())[0];
    row.check(&[arc.centre.x, arc.centre.y, arc.radius, arc.sweep.abs().to_degrees()]);
    assert!(arc.sweep < 0.0);
}

#[test]
fn f3_mismatch() {
    let row = row("F3");
    let reading = proof::read(&row.text(), &control(Control::mill()));
    let [fault] = reading.faults.as_slice() else { panic!("{:?}", reading.faults) };
    assert_eq!((fault.wrong, fault.spot.line), (Wrong::ArcMismatch, 3));
    row.check(&[fault.by.expect("by how much")]);
}

#[test]
fn f4_radius_short_and_long() {
    let row = row("F4");
    let arcs = arcs(&row.text(), Control::mill());
    row.check(&[arcs[0].centre.x, arcs[0].centre.y, arcs[1].centre.x, arcs[1].centre.y]);
    assert!(arcs[0].sweep.abs() < 3.2 && arcs[1].sweep.abs() > 3.1);
}

#[test]
fn f5_radius_hardly_short() {
    let row = row("F5");
    let arc = arcs(&row.text(), Control::mill())[0];
    row.check(&[arc.centre.x, arc.centre.y]);
    let refused = row.text().replace("4.9995", "4.997");
    let faults = proof::read(&refused, &control(Control::mill())).faults;
    assert_eq!(faults.iter().map(|fault| fault.wrong).collect::<Vec<_>>(), [Wrong::RadiusTooSmall]);
}

#[test]
fn f6_blanks() {
    let row = row("F6");
    let mut faults = Vec::new();
    let blocks =
        proof::reader::words::blocks(row.0["text"].as_str().expect("text"), &Control::mill(), &mut faults);
    assert_eq!(faults, []);
    let words: Vec<String> = blocks[0].words.iter().map(proof::reader::words::Word::text).collect();
    let want: Vec<&str> =
        row.0["words"].as_array().expect("a list").iter().filter_map(toml::Value::as_str).collect();
    assert_eq!(words, want);
    row.check(&blocks[0].words.iter().map(|word| word.value.to_f64()).collect::<Vec<_>>());
}

#[test]
fn f7_incremental() {
    let row = row("F7");
    let reading = proof::read(&row.text(), &control(Control::mill()));
    assert_eq!(reading.faults, []);
    let steps = reading.program.steps;
    let (end, arc) = steps
        .iter()
        .find_map(|step| if let Does::Arc { to, arc, .. } = step.does { Some((to, arc)) } else { None })
        .expect("an arc");
    row.check(&[end[0], end[1], arc.centre.x, arc.centre.y]);
}

#[test]
fn f8_lathe_ball() {
    let row = row("F8");
    let arc = arcs(&row.text(), Control::lathe())[0];
    row.check(&[arc.centre.x, arc.centre.y, arc.radius, arc.sweep.to_degrees()]);
    // Convex: half way round, the arc is further from the axis than the chord.
    let middle = arc.chords([0.0, 0.0, 0.0], [5.0, 0.0, -5.0], 10.0);
    assert_eq!(middle.len(), 1);
    let points = arc.chords([0.0, 0.0, 0.0], [5.0, 0.0, -5.0], 0.01);
    let half = points[points.len() / 2];
    assert!(half[0] > -half[2]);
}

#[test]
fn f10_to_f18_speeds() {
    row("F10").check(&[limits::thread_rpm(1.25, 600.0)]);
    row("F12").check(&[
        limits::surface_rpm(60.0, 3000.0, 24.0),
        limits::surface_rpm(60.0, 3000.0, 4.0),
        limits::clamp_diameter(60.0, 3000.0),
    ]);
    row("F14").check(&[limits::feed_a_minute(0.04, 1500.0)]);
    row("F18").check(&[limits::tapping_rpm(150.0, 0.5)]);
}

#[test]
fn f12_in_a_program() {
    let text = "G21 G90 G18 G95\nG92 S3000\nG96 S60 M03\nG00 X24. Z1.\nG01 X4. F0.01\nM05\nM30\n";
    let reading = proof::read(text, &control(Control::lathe()));
    assert_eq!(reading.faults, []);
    let step = reading.program.steps.iter().find(|step| step.is_feed()).expect("a feed");
    let row = row("F12");
    row.check(&[step.turning.rpm(12.0), step.turning.rpm(2.0), limits::clamp_diameter(60.0, 3000.0)]);
}

/// Random arcs, every word rounded: at three decimals some fail, at four none, within the bound.
#[test]
fn f20_rounding() {
    let bound = &row("F20").0["want"];
    let slack = row("F20").0["within"].as_float().expect("a number");
    let bound = |i: usize| bound.as_array().expect("a list")[i].as_float().expect("a number");
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    let mut random = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        f64::from(u32::try_from(seed >> 40).expect("24 bits")) / f64::from(1 << 24)
    };
    let mut worst = [0.0_f64; 2];
    let mut refused = [0; 2];
    for _ in 0..20_000 {
        let (radius, first, sweep) = (0.5 + 19.5 * random(), 6.0 * random(), 0.2 + 5.0 * random());
        let (x, y) = (40.0 * random() - 20.0, 40.0 * random() - 20.0);
        let on = |angle: f64| {
            let (sine, cosine) = (reckon::maths::sin(angle), reckon::maths::cos(angle));
            Point::new(x + radius * cosine, y + radius * sine)
        };
        for (i, scale) in [(0, 1000.0), (1, 10_000.0)] {
            let round = |value: f64| (value * scale).round() / scale;
            let rounded = |p: Point| Point::new(round(p.x), round(p.y));
            let (from, to) = (rounded(on(first)), rounded(on(first + sweep)));
            let centre = from + Vec2::new(round(x - on(first).x), round(y - on(first).y));
            let plane = proof::control::Plane::Xy;
            match proof::arc::about(plane, from, to, centre, true, 0.002) {
                Ok(_) => {}
                Err(proof::arc::NoArc::Mismatch(_)) => refused[i] += 1,
                Err(other) => panic!("{other:?}"),
            }
            let misfit = ((from - centre).hypot2().sqrt() - (to - centre).hypot2().sqrt()).abs();
            worst[i] = worst[i].max(misfit);
        }
    }
    assert!(worst[0] < bound(0) + slack && worst[1] < bound(1) + slack, "{worst:?}");
    assert!(worst[0] > 0.5 * bound(0) && worst[1] > 0.5 * bound(1), "{worst:?}");
    assert_eq!(refused[1], 0);
    assert!(refused[0] > 0 && refused[0] < 40, "{refused:?}");
}

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Region {
    Region::rectangle(Point::new(x0, y0), Point::new(x1, y1)).expect("finite")
}

fn area_at(slabs: &[milling::Slab], height: f64) -> f64 {
    slabs.iter().find(|slab| slab.low < height && slab.high > height).map_or(0.0, |slab| slab.region.area())
}

#[test]
fn g1_corners_of_a_pocket() {
    let text = "G21 G90 G17 G94\nS3000 M3\nG0 X1.5 Y1.5 Z1\nG1 Z-1 F100\nX18.5\nY10.5\nX1.5\nY1.5\n\
                Y4 \nX18.5\nY6\nX1.5\nY8\nX18.5\nY9\nX1.5\nG0 Z1\nM5\nM30\n";
    let habits = control(Control::mill());
    let reading = proof::read(text, &habits);
    assert_eq!(reading.faults, []);
    let mut set_up =
        milling::SetUp::plate(-2.0, 0.0, rectangle(-5.0, -5.0, 25.0, 17.0), Cutter::end_mill(3.0, 8.0, 20.0));
    set_up.within = 1e-6;
    let milled = milling::prove(&reading.program, &habits, &set_up);
    assert_eq!(milled.faults, []);
    let left = 30.0 * 22.0 - area_at(&milled.after, -0.5);
    row("G1").check(&[240.0 - left]);
    assert!((area_at(&milled.after, -1.5) - 660.0).abs() < 1e-9);
}

#[test]
fn g5_slot() {
    let text = "G21 G90 G17 G94\nS3000 M3\nG0 X0 Y0 Z1\nG1 Z-1 F100\nX10\nY8\nG0 Z1\nM5\nM30\n";
    let habits = control(Control::mill());
    let reading = proof::read(text, &habits);
    let mut set_up =
        milling::SetUp::plate(-2.0, 0.0, rectangle(-5.0, -5.0, 25.0, 17.0), Cutter::end_mill(3.0, 8.0, 20.0));
    set_up.within = 1e-5;
    let milled = milling::prove(&reading.program, &habits, &set_up);
    assert_eq!(milled.faults, []);
    row("G5").check(&[660.0 - area_at(&milled.after, -0.5)]);
}

#[test]
fn g13_disc_in_chords() {
    let disc = proof::sweep::Convex::disc(1.5, 64).expect("a disc");
    let area = proof::sweep::area(disc.corners());
    row("G13").check(&[area, reckon::maths::PI * 2.25 - area]);
}

const MOVES: &str = include_str!("data/turning-1953-moves.nc");

fn benchmark(text: &str) -> (Program, Control, turning::SetUp) {
    let habits = control(Control::lathe());
    let reading = proof::read(text, &habits);
    assert_eq!(reading.faults, []);
    let insert =
        Insert { nose: 0.2, front: 87.0, back: 52.0, length: 8.0, chords: 32, controlled: Vec2::ZERO };
    let tool = Tool { cutting: vec![insert.outline().expect("convex")], ..Tool::default() };
    (reading.program, habits, turning::SetUp::new(rectangle(-34.0, 0.0, 0.0, 5.0), tool))
}

/// The profile of the benchmark: r(s) = 3 + 0.8 sin(2 π s / 16) + 0.25 cos(2 π s / 5), s = −z.
fn profile() -> Region {
    let turn = 2.0 * reckon::maths::PI;
    let mut corners = vec![Point::new(-30.0, 0.0), Point::new(0.0, 0.0)];
    for i in 0..=30_000 {
        let s = f64::from(i) / 1000.0;
        let r = 3.0 + 0.8 * reckon::maths::sin(turn * s / 16.0) + 0.25 * reckon::maths::cos(turn * s / 5.0);
        corners.push(Point::new(-s, r));
    }
    Region::polygon(&corners).expect("finite")
}

#[test]
fn g6_g7_benchmark() {
    let (program, habits, mut set_up) = benchmark(MOVES);
    let window = rectangle(-30.0, 0.0, 0.0, 6.0);
    let mut wanted = turning::Wanted::exactly(profile(), 0.001);
    wanted.judged = Some(window.clone());
    set_up.wanted = Some(wanted);
    let turned = turning::prove(&program, &habits, &set_up);
    assert_eq!(turned.faults, []);
    let places = 1 + program.motions().count();
    row("G6")
        .check(&[f64::from(u32::try_from(places).expect("few")), turned.after.intersection(&window).area()]);
    row("G7").check(&[profile().area(), turned.left_over.area, turned.gouged.area, turned.left_over.deepest]);
    // The two areas that the published figures give to more places.
    assert!((turned.left_over.area - 0.001_759_54).abs() < 2e-7, "{}", turned.left_over.area);
    assert!((turned.gouged.area - 1.452_277e-5).abs() < 2e-7, "{}", turned.gouged.area);
    let by_feeds = turning::removed(&program, &set_up);
    assert!(
        by_feeds.difference(&turned.after).area() < 1e-9 && turned.after.difference(&by_feeds).area() < 1e-9
    );
}

#[test]
fn g11_a_feed_made_a_rapid() {
    // Move 42, counted from 0, is the forty-third place.
    let places: Vec<usize> =
        MOVES.lines().enumerate().filter(|(_, line)| line.contains('X')).map(|(at, _)| at).collect();
    let changed: Vec<String> = MOVES
        .lines()
        .enumerate()
        .map(|(at, line)| {
            if at == places[42] {
                line.replace("G01", "G00").replace(" F0.02", "")
            } else if at == places[43] {
                line.replace(" X", " G01 X") + " F0.02"
            } else {
                line.to_owned()
            }
        })
        .collect();
    let (program, habits, set_up) = benchmark(&(changed.join("\n") + "\n"));
    let turned = turning::prove(&program, &habits, &set_up);
    assert_eq!(turned.faults.len(), 1, "{:?}", turned.faults);
    assert_eq!(turned.faults[0].wrong, Wrong::RapidInStock);
    row("G11").check(&[turned.worst_rapid]);
}
