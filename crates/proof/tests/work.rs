//! Good programs prove sound; each of them spoiled in one place is caught, at that place.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};
use proof::control::{RapidPath, Travel};
use proof::milling::{self, Cutter, Cylinder, Daylight, Slab};
use proof::sweep::Convex;
use proof::turning::{self, Insert, Tool};
use proof::wheel::{self, FormCutter};
use proof::{Control, Fault, Wrong, picture};
use reckon::maths;
use shape::region::Region;

fn polygon(corners: &[(f64, f64)]) -> Region {
    Region::polygon(&corners.iter().map(|&p| Point::from(p)).collect::<Vec<_>>()).expect("finite")
}

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Region {
    polygon(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
}

fn convex(corners: &[(f64, f64)]) -> Convex {
    Convex::new(&corners.iter().map(|&p| Point::from(p)).collect::<Vec<_>>()).expect("convex")
}

/// Kinds and lines of faults.
fn told(faults: &[Fault]) -> Vec<(Wrong, u32)> {
    faults.iter().map(|fault| (fault.wrong, fault.spot.line)).collect()
}

/// A pin of 6 mm with a spigot of 4 mm, parted by nothing: roughed, finished with a round at the end.
const PIN: &str = "\
G21 G90 G18 G95
T0101 S2000 M03
G00 X10.4 Z1.
G00 X7.
G01 Z-11.95 F0.05
G01 X8.4
G00 Z1.
G00 X5.
G01 Z-7.95
G01 X8.4
G00 Z1.
G00 X0.
G01 Z0.2 F0.02
G03 X4.4 Z-2. R2.2
G01 Z-8.
G01 X6.4
G01 Z-12.
G01 X8.4
G00 X12. Z1.
M05
M30
";

fn lathe() -> (Control, turning::SetUp) {
    let mut control = Control::lathe();
    control.fastest_feed = 150.0;
    control.travel = Travel { x: Some((-1.0, 30.0)), z: Some((-60.0, 40.0)), ..Travel::default() };
    // A nose of 0.2 mm, controlled at its centre: the centre's path is 0.2 mm outside the pin.
    let insert =
        Insert { nose: 0.2, front: 87.0, back: 32.0, length: 6.0, chords: 64, controlled: Vec2::ZERO };
    let tool = Tool {
        cutting: vec![insert.outline().expect("convex")],
        holder: vec![convex(&[(1.0, 4.0), (9.0, 4.0), (9.0, 40.0), (1.0, 40.0)])],
        most_feed: Some(0.08),
        ..Tool::default()
    };
    let mut set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 4.0), Tool::default());
    set_up.tools = BTreeMap::from([(1, tool)]);
    set_up.jaws = rectangle(-40.0, 4.0, -20.0, 15.0);
    let arc = |i: i32| {
        let angle = 0.5 * maths::PI * f64::from(i) / 400.0;
        (-2.0 + 2.0 * maths::cos(angle), 2.0 * maths::sin(angle))
    };
    let mut pin: Vec<(f64, f64)> = vec![(-12.0, 0.0)];
    pin.extend((0..=400).map(arc));
    pin.extend([(-8.2, 2.0), (-8.2, 3.0), (-12.0, 3.0)]);
    let mut wanted = turning::Wanted::exactly(polygon(&pin), 0.02);
    wanted.judged = Some(rectangle(-12.0, 0.0, 5.0, 20.0));
    // In the corner the nose leaves its own round.
    wanted.most = wanted.most.union(&rectangle(-8.3, 2.0, -8.0, 2.2));
    (control, {
        set_up.wanted = Some(wanted);
        set_up
    })
}

fn turn(text: &str) -> Vec<(Wrong, u32)> {
    let (control, set_up) = lathe();
    let reading = proof::read(text, &control);
    let mut faults = told(&reading.faults);
    faults.extend(told(&turning::prove(&reading.program, &control, &set_up).faults));
    faults
}

#[test]
fn a_good_pin_is_sound() {
    assert_eq!(turn(PIN), []);
    assert_eq!(turn(&PIN.replace('\n', "\r\n")), []);
    let (control, set_up) = lathe();
    let program = proof::read(PIN, &control).program;
    let turned = turning::prove(&program, &control, &set_up);
    let picture = picture::turned(&turned, &program, 0.01);
    assert_eq!((picture.before.len(), picture.after.len()), (1, 1));
    assert!(picture.paths.len() >= 7 && picture.paths[0].rapid);
    let (before, after) =
        (proof::measure::turned_volume(&turned.before), proof::measure::turned_volume(&turned.after));
    assert!((before - maths::PI * 16.0 * 40.0).abs() < 1e-9 && after < before);
    assert!(program.minutes(control.rapid) > 0.1);
}

#[test]
fn a_spoiled_pin_is_caught() {
    for (line, from, to, wrong) in [
        // feeds
        (5, "F0.05", "F0.5", Wrong::FeedTooFast),
        (5, "F0.05", "F0.1", Wrong::FeedTooFast),
        // depths
        (15, "Z-8.", "Z-8.3", Wrong::Gouge),
        (14, "X4.4", "X4.2", Wrong::Gouge),
        (16, "X6.4", "X6.2", Wrong::Gouge),
        // lost retracts
        (6, "G01 X8.4", "G00 X5.", Wrong::RapidInStock),
        // swapped words
        (7, "Z1.", "X1.", Wrong::RapidInStock),
        (5, "G01", "G00", Wrong::RapidInStock),
        (14, "G03", "G02", Wrong::Gouge),
        (5, "Z-11.95", "Z-27.", Wrong::Jaws),
        (3, "Z1.", "Z61.", Wrong::Travel),
        (2, "T0101", "T0202", Wrong::UnknownTool),
        (2, "M03", "", Wrong::SpindleStopped),
        (20, "M05", "M05 M03", Wrong::Clash),
    ] {
        let lines: Vec<String> = PIN
            .lines()
            .enumerate()
            .map(|(at, text)| if at + 1 == line { text.replacen(from, to, 1) } else { text.to_owned() })
            .collect();
        let spoiled = lines.join("\n") + "\n";
        let faults = turn(&spoiled);
        assert_ne!(spoiled, PIN, "line {line}");
        assert!(faults.iter().any(|&(own, _)| own == wrong), "line {line}, {from} -> {to}: {faults:?}");
    }
}

#[test]
fn what_is_left_is_told() {
    let faults = turn(&PIN.replace("G01 Z-12.\n", "G01 Z-10.\n"));
    assert_eq!(faults, [(Wrong::Remainder, 21)]);
    let faults = turn(&PIN.replace("G01 Z-8.\nG01 X6.4", "G01 Z-8.\nG01 X6.6"));
    assert_eq!(faults, [(Wrong::Remainder, 21)]);
    let shallow = turn(&PIN.replace("X4.4 Z-2. R2.2\nG01 Z-8.", "X4.4 Z-2. R2.2\nG01 Z-8.3"));
    assert_eq!(shallow, [(Wrong::Gouge, 16)]);
}

#[test]
fn a_small_bar_is_told() {
    let (control, mut set_up) = lathe();
    set_up.stock = rectangle(-40.0, 0.0, 0.0, 2.5);
    let program = proof::read(PIN, &control).program;
    let faults = told(&turning::prove(&program, &control, &set_up).faults);
    assert!(faults.contains(&(Wrong::StockTooSmall, 2)), "{faults:?}");
}

/// The holder stands behind the edge: in a deep straight plunge it runs into the work.
#[test]
fn the_holder_follows_its_tool() {
    let blade = convex(&[(0.0, 0.0), (1.0, 0.0), (1.0, 3.0), (0.0, 3.0)]);
    let shank = convex(&[(-2.0, 3.0), (3.0, 3.0), (3.0, 20.0), (-2.0, 20.0)]);
    let tool = Tool { cutting: vec![blade], holder: vec![shank], ..Tool::default() };
    let set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 5.0), tool);
    let mut control = Control::lathe();
    control.needs_tool = false;
    let text = |depth: &str| {
        format!("G21 G90 G18 G95 S500 M03\nG00 X12. Z-5.\nG01 X{depth} F0.02\nG00 X12.\nM05\nM30\n")
    };
    let prove =
        |text: &str| told(&turning::prove(&proof::read(text, &control).program, &control, &set_up).faults);
    assert_eq!(prove(&text("4.2")), []);
    assert_eq!(prove(&text("3.8")), [(Wrong::Holder, 3), (Wrong::Holder, 4)]);
    // In a wide recess the holder enters where its tool has just been: sound, though it was metal.
    let wide = "G21 G90 G18 G95 S500 M03\nG00 X12. Z1.\nG01 X8. F0.02\nZ-10.\nX12.\nG00 Z1.\nM05\nM30\n";
    assert_eq!(prove(wide), []);
}

#[test]
fn a_rapid_that_bends_is_tried_in_its_box() {
    let tool = Tool { cutting: vec![convex(&[(0.0, 0.0), (1.0, 3.0), (-0.1, 3.0)])], ..Tool::default() };
    let set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 5.0), tool);
    let mut control = Control::lathe();
    control.needs_tool = false;
    let text = "G21 G90 G18 G94\nG00 X11. Z-5.\nG00 X2. Z6.\nM30\n";
    let program = proof::read(text, &control).program;
    assert_eq!(told(&turning::prove(&program, &control, &set_up).faults), [(Wrong::RapidInStock, 3)]);
    let program = proof::read(&text.replace("Z6.", "Z86."), &control).program;
    assert_eq!(told(&turning::prove(&program, &control, &set_up).faults), []);
    control.rapid_path = RapidPath::Bent;
    assert_eq!(told(&turning::prove(&program, &control, &set_up).faults), [(Wrong::RapidBesideLine, 3)]);
}

/// A thread takes off its section, and a slide without its run-in is told.
#[test]
fn a_thread_is_its_section() {
    let point = convex(&[(0.0, 0.0), (0.5, 0.866), (-0.5, 0.866)]);
    let set_up = turning::SetUp::new(
        rectangle(-40.0, 0.0, 0.0, 4.0),
        Tool { cutting: vec![point], ..Tool::default() },
    );
    let mut control = Control::lathe();
    control.needs_tool = false;
    control.acceleration = Some(50.0);
    let text =
        "G21 G90 G18 G95 G97 S300 M03\nG00 X12. Z3.\nG00 X7.\nG33 Z-6. K1.\nG00 X12.\nG00 Z3.\nM05\nM30\n";
    let program = proof::read(text, &control).program;
    let turned = turning::prove(&program, &control, &set_up);
    assert_eq!(turned.faults, []);
    // The depth is 0.5 mm: at each lead from Z 3 down to −6 a notch of 0.5 x 0.5 / 0.866 / 2 mm² on each side.
    let notch = 0.5 * 0.5 * (0.5 / 0.866);
    let gone = turned.before.area() - turned.after.area();
    assert!((gone - 6.5 * notch).abs() < 1e-7, "{gone} {notch}");
    let late = text.replace("Z3.", "Z0.3");
    let program = proof::read(&late, &control).program;
    assert!(told(&turning::prove(&program, &control, &set_up).faults).contains(&(Wrong::RunIn, 4)));
}

/// A plate with a pocket, a round profile by an arc, and two holes.
const PLATE: &str = "\
G21 G90 G17 G94
T1 M06
S3000 M03
G00 X10. Y10. Z2.
G01 Z-1. F60.
G01 X20. F120.
G01 Y14.
G01 X10.
G01 Y10.
G00 Z2.
M05
T2 M06
S2000 M03
G98 G81 X5. Y5. Z-4. R1. F60.
X25.
G80
G83 X15. Y4. Z-4. R1. Q1.
G80
M05
M30
";

fn mill() -> (Control, milling::SetUp) {
    let mut control = Control::mill();
    control.fastest_feed = 200.0;
    let mut set_up = milling::SetUp::plate(-3.0, 0.0, rectangle(0.0, 0.0, 30.0, 20.0), Cutter::default());
    let mut end_mill = Cutter::end_mill(4.0, 8.0, 25.0);
    end_mill.most_feed = Some(0.05);
    end_mill.shank.push(Cylinder { low: 25.0, high: 60.0, radius: 15.0 });
    set_up.cutters = BTreeMap::from([(1, end_mill), (2, Cutter::drill(2.0, 118.0, 20.0, 30.0))]);
    set_up.clamps = vec![Slab::new(-3.0, 4.0, rectangle(-10.0, 0.0, 2.0, 20.0))];
    set_up.daylight = Some(Daylight { table: -30.0, least: 40.0, most: 65.0 });
    let disc = |x: f64, y: f64| Region::disc(Point::new(x, y), 1.0, 1e-4).expect("finite");
    let holes = Region::union_of(&[disc(5.0, 5.0), disc(25.0, 5.0), disc(15.0, 4.0)]);
    let outline = rectangle(0.0, 0.0, 30.0, 20.0).difference(&holes);
    let pocket = rectangle(8.0, 8.0, 22.0, 16.0);
    let below =
        vec![Slab::new(-3.0, -1.0, outline.clone()), Slab::new(-1.0, 0.0, outline.difference(&pocket))];
    let mut wanted = milling::Wanted::exactly(below, 0.01);
    // The cutter leaves its own round in the corners.
    let corners: Vec<Region> = [(8.0, 8.0), (20.0, 8.0), (8.0, 14.0), (20.0, 14.0)]
        .iter()
        .map(|&(x, y)| rectangle(x, y, x + 2.0, y + 2.0))
        .collect();
    wanted.most.push(Slab::new(-1.0, 0.0, Region::union_of(&corners)));
    set_up.wanted = Some(wanted);
    (control, set_up)
}

fn milled(text: &str) -> Vec<(Wrong, u32)> {
    let (control, set_up) = mill();
    let reading = proof::read(text, &control);
    let mut faults = told(&reading.faults);
    faults.extend(told(&milling::prove(&reading.program, &control, &set_up).faults));
    faults
}

#[test]
fn a_good_plate_is_sound() {
    assert_eq!(milled(PLATE), []);
    let (control, set_up) = mill();
    let program = proof::read(PLATE, &control).program;
    let result = milling::prove(&program, &control, &set_up);
    let picture = picture::milled(&result, &program, -0.5, 0.01);
    // The plate, its pocket, three holes.
    assert_eq!(picture.after.len(), 5);
    let gone = milling::volume(&result.before) - milling::volume(&result.after);
    let pocket = 14.0 * 8.0 - (4.0 - maths::PI) * 4.0;
    let want = pocket + 3.0 * 3.0 * maths::PI;
    assert!((gone - want).abs() < 0.01, "{gone} {want}");
}

#[test]
fn a_spoiled_plate_is_caught() {
    for (line, from, to, wrong) in [
        (6, "F120.", "F1200.", Wrong::FeedTooFast),
        (6, "F120.", "F180.", Wrong::ToolFeed),
        (5, "Z-1.", "Z-1.1", Wrong::Gouge),
        (5, "Z-1.", "Z-0.9", Wrong::Remainder),
        (6, "X20.", "X20.5", Wrong::Gouge),
        (10, "G00 Z2.", "G00 X1. Y1.", Wrong::RapidInStock),
        (10, "G00 Z2.", "", Wrong::ToolChange),
        (5, "G01 Z-1. F60.", "G00 Z-1.", Wrong::RapidInStock),
        (7, "Y14.", "X14.", Wrong::Remainder),
        (4, "X10.", "X3.", Wrong::Gouge),
        (3, "S3000 M03", "S3000", Wrong::SpindleStopped),
        (9, "Y10.", "X3.", Wrong::Jaws),
        (4, "Z2.", "Z20.", Wrong::Daylight),
        (14, "Z-4.", "Z-2.", Wrong::Remainder),
        (17, "Q1.", "", Wrong::NoTarget),
        (12, "T2", "T7", Wrong::UnknownTool),
    ] {
        let lines: Vec<String> = PLATE
            .lines()
            .enumerate()
            .map(|(at, text)| if at + 1 == line { text.replacen(from, to, 1) } else { text.to_owned() })
            .collect();
        let spoiled = lines.join("\n") + "\n";
        assert_ne!(spoiled, PLATE, "line {line}");
        let faults = milled(&spoiled);
        assert!(faults.iter().any(|&(own, _)| own == wrong), "line {line}, {from} -> {to}: {faults:?}");
    }
}

/// A flute shorter than the cut is deep: the shank rubs. A slope goes in steps.
#[test]
fn shanks_and_slopes() {
    let mut control = Control::mill();
    control.needs_tool = false;
    let text = "G21 G90 G17 G94 S2000 M03\nG00 X10. Y10. Z1.\nG01 Z-4. F50.\nX20.\nG00 Z1.\nM05\nM30\n";
    let program = proof::read(text, &control).program;
    let plate = |flutes: f64| {
        milling::SetUp::plate(-6.0, 0.0, rectangle(0.0, 0.0, 30.0, 20.0), Cutter::end_mill(4.0, flutes, 25.0))
    };
    let prove = |set_up: &milling::SetUp| milling::prove(&program, &control, set_up);
    assert_eq!(prove(&plate(5.0)).faults, []);
    let faults = told(&prove(&plate(2.0)).faults);
    assert!(faults.contains(&(Wrong::Holder, 3)) && faults.contains(&(Wrong::Holder, 4)), "{faults:?}");

    let slope = "G21 G90 G17 G94 S2000 M03\nG00 X5. Y10. Z0.\nG01 X25. Z-2. F50.\nG00 Z1.\nM05\nM30\n";
    let program = proof::read(slope, &control).program;
    let mut set_up = plate(5.0);
    set_up.layer = 0.01;
    let result = milling::prove(&program, &control, &set_up);
    assert_eq!(result.faults, []);
    let gone = milling::volume(&result.before) - milling::volume(&result.after);
    // Floor of a disc whose tip follows the slope: the mean depth under each place of the disc.
    let along = 20.0 * 4.0 * 1.0;
    assert!(gone > along && gone < along + maths::PI * 4.0 * 2.0, "{gone}");
}

fn wheel_set_up(teeth: u32) -> wheel::SetUp {
    let form = [(0.0, -0.4), (3.0, -0.7), (3.0, 0.7), (0.0, 0.4)].map(Point::from).to_vec();
    let blank = Region::disc(Point::ZERO, 10.0, 1e-5).expect("finite");
    let space = polygon(&[(8.0, -0.4), (11.0, -0.7), (11.0, 0.7), (8.0, 0.4)]);
    let spaces: Vec<Region> = (0..teeth)
        .map(|i| {
            let angle = 2.0 * maths::PI * f64::from(i) / f64::from(teeth);
            let (sine, cosine) = (maths::sin(angle), maths::cos(angle));
            let rings = space.polygons();
            let corners: Vec<Point> = rings[0][0]
                .iter()
                .map(|p| Point::new(p.x * cosine - p.y * sine, p.x * sine + p.y * cosine))
                .collect();
            Region::polygon(&corners).expect("finite")
        })
        .collect();
    let gear = blank.difference(&Region::union_of(&spaces));
    wheel::SetUp {
        blank,
        faces: (-2.0, 0.0),
        layers: 4,
        along: 2,
        depth: 0,
        cutter: FormCutter { radius: 12.0, form },
        teeth,
        turns_at: "next tooth".to_owned(),
        fixed: vec![Slab::new(-40.0, -20.0, Region::disc(Point::ZERO, 20.0, 1e-3).expect("finite"))],
        wanted: Some((gear.clone(), gear)),
        room: 0.005,
        step: 0.01,
        touch: 1e-6,
    }
}

fn wheel_program(teeth: u32) -> String {
    let mut text = "G21 G90 G18 G94\nS1500 M03\nG00 X30. Z15.\nG00 X16.\n".to_owned();
    for tooth in 1..=teeth {
        text += "G01 Z-3. F40.\nG00 X26.\nG00 Z15.\nG00 X16.\n";
        if tooth < teeth {
            text += "M00 (next tooth)\n";
        }
    }
    text + "G00 X40.\nM05\nM30\n"
}

fn cut(text: &str, set_up: &wheel::SetUp) -> wheel::Cut {
    let mut control = Control::lathe();
    control.needs_tool = false;
    let reading = proof::read(text, &control);
    assert_eq!(reading.faults, []);
    wheel::prove(&reading.program, set_up)
}

#[test]
fn a_good_wheel_is_sound() {
    let set_up = wheel_set_up(24);
    let cut = cut(&wheel_program(24), &set_up);
    assert_eq!(told(&cut.faults), []);
    assert_eq!(cut.angles.len(), 24);
    assert_eq!(picture::wheel(&cut, 3).after.len(), 1);
    let (least, _) = set_up.wanted.expect("given");
    assert!((cut.after[0].region.area() - least.area()).abs() < 1e-6);
}

#[test]
fn a_spoiled_wheel_is_caught() {
    let set_up = wheel_set_up(12);
    let good = wheel_program(12);
    let kinds = |text: &str| cut(text, &set_up).faults.iter().map(|fault| fault.wrong).collect::<Vec<_>>();
    assert_eq!(kinds(&good), []);
    // One stop lost: a space too few, and metal left.
    assert_eq!(kinds(&good.replacen("M00 (next tooth)\n", "", 1)), [Wrong::Teeth, Wrong::Remainder]);
    // A pass not deep enough, one too deep, one that ends within the blank.
    assert_eq!(kinds(&good.replacen("G00 X16.\nG01", "G00 X16.2\nG01", 1)), [Wrong::Remainder]);
    let deep = cut(&good.replacen("G00 X16.\nG01", "G00 X15.8\nG01", 1), &set_up);
    assert_eq!(told(&deep.faults), [(Wrong::Gouge, 5)]);
    assert!(kinds(&good.replacen("Z-3.", "Z-1.", 1)).contains(&Wrong::Remainder));
    // Withdrawn too little before the way back.
    assert_eq!(kinds(&good.replacen("G00 X26.\n", "", 1)), []);
    assert!(kinds(&good.replacen("G01 Z-3. F40.\nG00 X26.", "G00 Z-3.", 1)).contains(&Wrong::RapidInStock));
    // Turned with the cutter in the blank; run into the chuck; a cutter that stands.
    assert!(kinds(&good.replacen("G00 X26.\n", "M00 (next tooth)\nG00 X26.\n", 1)).contains(&Wrong::Teeth));
    assert!(
        kinds(&good.replacen("Z-3. F40.", "Z-1. F40.\nM00 (next tooth)\nG01 Z-3.", 1))
            .contains(&Wrong::IndexInCut)
    );
    assert!(kinds(&good.replacen("Z-3.", "Z-9.", 1)).contains(&Wrong::Jaws));
    assert!(kinds(&good.replacen("M03", "M05", 1)).contains(&Wrong::SpindleStopped));
}

/// A hole by a drill in the axis, and the stud parted off.
#[test]
fn drilled_and_parted() {
    let mut set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 4.0), Tool::default());
    set_up.tools.insert(3, Tool::drill(3.0, 90.0, 30.0).expect("a drill"));
    set_up.tools.insert(4, Tool::blade(1.5, 6.0).expect("a blade"));
    let text = "G21 G90 G18 G95 T0303 S1000 M03\nG00 X0. Z2.\nG01 Z-6.5 F0.03\nG00 Z2.\nG00 X30. Z10.\n\
                T0404\nG00 X12. Z-13.5\nG01 X0. F0.02\nG00 X12.\nM05\nM30\n";
    let control = Control::lathe();
    let reading = proof::read(text, &control);
    assert_eq!(reading.faults, []);
    let turned = turning::prove(&reading.program, &control, &set_up);
    assert_eq!(told(&turned.faults), []);
    let gone = proof::measure::turned_volume(&turned.before) - proof::measure::turned_volume(&turned.after);
    // Cone of 1.5 mm, cylinder of 5 mm, disc of 1.5 mm.
    let want = maths::PI * (2.25 * 1.5 / 3.0 + 2.25 * 5.0 + 16.0 * 1.5);
    assert!((gone - want).abs() < 1e-6, "{gone} {want}");
    assert_eq!(turned.after.pieces(), 2);
    // Changed in its hole.
    let spoiled = text.replacen("G00 Z2.\nG00 X30. Z10.", "", 1);
    let program = proof::read(&spoiled, &control).program;
    assert!(told(&turning::prove(&program, &control, &set_up).faults).contains(&(Wrong::ToolChange, 5)));
    // Fed back without its retract, the drill is still in its hole.
    let spoiled = text.replacen("G00 Z2.\nG00 X30.", "G00 X30.", 1);
    let program = proof::read(&spoiled, &control).program;
    assert!(told(&turning::prove(&program, &control, &set_up).faults).contains(&(Wrong::RapidInStock, 4)));
}

/// Where the first rapid ends, the tool may stand in nothing.
#[test]
fn the_first_place_is_tried() {
    let (control, set_up) = lathe();
    let program = proof::read(&PIN.replacen("X10.4 Z1.", "X4. Z-1.", 1), &control).program;
    assert!(told(&turning::prove(&program, &control, &set_up).faults).contains(&(Wrong::RapidInStock, 3)));
    assert!(
        milled(&PLATE.replacen("X10. Y10. Z2.", "X10. Y10. Z-0.5", 1)).contains(&(Wrong::RapidInStock, 4))
    );
    let set_up = wheel_set_up(12);
    let faults = cut(&wheel_program(12).replacen("G00 X30. Z15.", "G00 X16. Z0.", 1), &set_up).faults;
    assert!(told(&faults).contains(&(Wrong::RapidInStock, 3)), "{faults:?}");
}

/// On a mill the blank is turned by an axis of its own.
#[test]
fn a_wheel_turned_by_an_axis() {
    let mut set_up = wheel_set_up(12);
    (set_up.along, set_up.depth) = (0, 1);
    let mut control = Control::mill();
    control.needs_tool = false;
    let mut text = "G21 G90 G17 G94 S1500 M03\nG00 X15. Y30. Z0.\n".to_owned();
    for tooth in 0..12 {
        text += &format!("A{}.\nG00 Y16.\nG01 X-3. F40.\nG00 Y26.\nG00 X15.\n", tooth * 30);
    }
    text += "M05\nM30\n";
    let prove = |text: &str| {
        let reading = proof::read(text, &control);
        assert_eq!(reading.faults, []);
        told(&wheel::prove(&reading.program, &set_up).faults)
    };
    // At 16 mm the tip does not reach the blank.
    assert_eq!(prove(&text), [(Wrong::Teeth, 64), (Wrong::Remainder, 64)]);
    let text = text.replace("Y16.", "Y8.");
    assert_eq!(prove(&text), []);
    assert_eq!(prove(&text.replace("A90.", "A92.")).len(), 2);
    assert_eq!(prove(&text.replace("A90.", "A60.")), [(Wrong::Teeth, 64), (Wrong::Remainder, 64)]);
}

/// What a kind of removal cannot follow is told, not passed over.
#[test]
fn what_is_not_followed_is_told() {
    let control = Control { needs_tool: false, threads: true, ..Control::mill() }
        .knowing(&["G00", "G01", "G02", "G17", "G21", "G33", "G90", "G94", "M03", "M05", "M30"]);
    let text =
        "G21 G90 G17 G94 S300 M03 F20.\nG00 X60. Y60. Z5.\nG33 Z-5. K1.\nA30.\nG02 X70. Y60. I5. J0.\nM30\n";
    let reading = proof::read(text, &control);
    assert_eq!(reading.faults, []);
    let program = reading.program;
    let mill = milling::prove(&program, &control, &milling::SetUp { wanted: None, ..mill().1 });
    assert_eq!(told(&mill.faults), [(Wrong::Motion, 3), (Wrong::Motion, 4)]);
    let lathe = turning::prove(&program, &control, &turning::SetUp { wanted: None, ..lathe().1 });
    assert_eq!(told(&lathe.faults), [(Wrong::Motion, 4)]);
    let wheel = wheel::prove(&program, &wheel::SetUp { wanted: None, ..wheel_set_up(12) });
    assert_eq!(told(&wheel.faults), [(Wrong::Motion, 3), (Wrong::Motion, 5), (Wrong::Teeth, 6)]);
}

/// What tools stand in metal: the way they cut, dips, edges, and what has come off.
#[test]
fn what_a_tool_stands_is_judged() {
    let mut set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 4.0), Tool::default());
    let drill = Tool::drill(2.0, 118.0, 30.0).expect("a drill");
    set_up.tools.insert(3, Tool { most_bite: Some(2.0), ..drill });
    let blade = Tool::blade(1.5, 6.0).expect("a blade");
    set_up.tools.insert(
        4,
        Tool { near_axis: Some((1.0, 0.01)), most_speed: Some(30.0), most_bite: Some(5.0), ..blade },
    );
    let good = "G21 G90 G18 G95 T0303 S1000 M03\nG00 X0. Z2.\nG01 Z-2. F0.03\nG00 Z1.\nG00 Z-1.8\nG01 Z-4.\nG00 Z2.\n\
                G00 X30. Z10.\nT0404\nG00 Z-13.5\nG00 X9.\nG01 X2. F0.02\nG01 X0. F0.01\nG00 X12.\nM05\nM30\n";
    let control = Control::lathe();
    let faults = |text: &str| {
        let reading = proof::read(text, &control);
        assert_eq!(reading.faults, []);
        let turned = turning::prove(&reading.program, &control, &set_up);
        turned.faults.iter().map(|f| (f.wrong, f.spot.line)).collect::<Vec<_>>()
    };
    assert_eq!(faults(good), []);
    let spoiled = |was: &str, is: &str| {
        let text = good.replacen(was, is, 1);
        assert_ne!(text, good);
        faults(&text)
    };
    // A lost retract makes one dip of two; a drill beside the axis; a blade fed sideways.
    assert_eq!(spoiled("G00 Z1.\nG00 Z-1.8\n", ""), [(Wrong::Bite, 4)]);
    assert!(spoiled("G00 X0. Z2.", "G00 X1. Z2.").contains(&(Wrong::ToolWay, 3)));
    assert!(
        spoiled("G01 X2. F0.02\n", "G01 X4. F0.02\nG01 Z-12.\nG01 X2.\n").contains(&(Wrong::ToolWay, 13))
    );
    // Fast near the axis, fast at the edge, and cutting on after it was parted off.
    assert_eq!(spoiled("G01 X0. F0.01", "G01 X0. F0.02"), [(Wrong::ToolFeed, 13)]);
    assert_eq!(spoiled("G00 X30. Z10.", "G00 X30. Z10. S3000"), [(Wrong::EdgeSpeed, 12)]);
    assert!(
        spoiled("G00 X12.\nM05", "G00 X12.\nG00 Z-8.\nG01 X6. F0.02\nG00 X12.\nM05")
            .contains(&(Wrong::Loose, 16))
    );
}

/// Passes of a thread: one left out, a run-in too short.
#[test]
fn passes_of_a_thread_are_judged() {
    let mut set_up = turning::SetUp::new(rectangle(-40.0, 0.0, 0.0, 2.0), Tool::default());
    let point = Tool::thread_point(60.0, 0.08, 1.0).expect("a point");
    set_up.tools.insert(5, Tool { most_bite: Some(0.25), ..point });
    let control = Control { run_in: Some(2.0), ..Control::lathe() };
    let good = "G21 G90 G18 G95 G97 T0505 S300 M03\nG00 X6. Z3.\nG00 X3.6\nG33 Z-8. K0.7\nG00 X6.\nG00 Z3.\nG00 X3.2\n\
                G33 Z-8. K0.7\nG00 X6.\nM05\nM30\n";
    let faults = |text: &str| {
        let reading = proof::read(text, &control);
        assert_eq!(reading.faults, []);
        let turned = turning::prove(&reading.program, &control, &set_up);
        turned.faults.iter().map(|f| (f.wrong, f.spot.line)).collect::<Vec<_>>()
    };
    assert_eq!(faults(good), []);
    assert_eq!(
        faults(&good.replacen("G00 X3.6\nG33 Z-8. K0.7\nG00 X6.\nG00 Z3.\n", "", 1)),
        [(Wrong::Bite, 4)]
    );
    assert_eq!(faults(&good.replacen("G00 X6. Z3.", "G00 X6. Z1.", 1)), [(Wrong::RunIn, 4)]);
    assert!(faults(&good.replacen("G33 Z-8. K0.7", "G01 Z-8. F0.05", 1)).contains(&(Wrong::ToolWay, 4)));
}
