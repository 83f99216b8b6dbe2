//! Programs of a mill, as written from a plan, read again and removed: each leaves its part, and one word spoiled
//! is seen.

use kurbo::Point;
use making::nc::flat::{Cut, Job, Piece, Tabs, Tool, What, written};
use making::nc::hand_over::Program;
use making::nc::{Habits, Machine};
use proptest::prelude::*;
use shape::flat::Flat;
use shape::profile::Profile;
use shape::segment::Sense;
use trial::Found;

/// A control that changes no tools and knows no cycle.
const PLAIN: &[&str] = &["G0", "G1", "G2", "G3", "G17", "G21", "G90", "G94", "M3", "M5", "M30"];
/// One that changes tools.
const CHANGING: &[&str] =
    &["G0", "G1", "G2", "G3", "G4", "G17", "G21", "G90", "G94", "M0", "M3", "M5", "M6", "M30"];

fn end_mill(across: f64) -> Tool {
    Tool {
        name: format!("end mill {across}"),
        across,
        point: None,
        flutes: 4.0 * across,
        projects: 4.0 * across + 6.0,
        most_feed: 0.05,
    }
}
fn drill(across: f64, angle: f64) -> Tool {
    Tool {
        name: format!("drill {across}"),
        across,
        point: Some(angle),
        flutes: 20.0,
        projects: 30.0,
        most_feed: 0.05,
    }
}
fn cut(what: What, tool: Tool, step: f64, dips: Vec<(f64, bool)>) -> Cut {
    Cut { what, tool, rpm: 6000.0, feed: 120.0, down: 40.0, step, dips }
}
fn holes(flat: &Flat) -> Vec<Cut> {
    let t = flat.thickness;
    let mut cuts = Vec::new();
    if !flat.holes.is_empty() {
        let all = flat.holes.iter().map(|h| (h.at, h.diameter)).collect();
        let least = flat.holes.iter().map(|h| h.diameter).fold(3.0, f64::min);
        cuts.push(cut(What::Spots(all), drill(3.0, 90.0), 0.0, vec![(0.4 * least, true)]));
    }
    for h in &flat.holes {
        let tip = h.diameter * 0.3004;
        let through = t + tip + 0.3;
        let dips = vec![(through * 0.5, false), (through * 0.8, true), (through, true)];
        cuts.push(cut(What::Holes(vec![h.at]), drill(h.diameter, 118.0), 0.0, dips));
    }
    cuts
}
fn job(flat: &Flat, mill: f64, tabs: Option<Tabs>) -> Job {
    let mut cuts = holes(flat);
    if !flat.windows.is_empty() {
        cuts.push(cut(What::Windows, end_mill(mill), mill * 0.5, Vec::new()));
    }
    cuts.push(cut(What::Outline(tabs), end_mill(mill), mill * 0.5, Vec::new()));
    Job { cuts, margin: mill + 3.0, leave: 0.1, below: 0.2, room: 0.02 }
}
fn programs(flat: &Flat, job: &Job, words: &[&str]) -> Vec<Program> {
    let mut habits = Habits::plain(Machine::Mill, words);
    if words.contains(&"M6") {
        habits.tool_word = record::facts::ToolSays::Number;
    }
    habits.speeds = vec![3000.0, 12000.0];
    habits.travel = [120.0, 80.0, 60.0];
    let piece = Piece { part: 0, name: "plate", slug: "plate", solid: flat, machine: "mill" };
    written(job, &piece, &habits).expect("the control knows all words")
}
fn found(program: &Program) -> Found {
    trial::of(program).expect("outlines").prove(&program.text)
}
fn told(found: &Found) -> Vec<String> {
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}
fn sound(flat: &Flat, job: &Job, words: &[&str]) -> Result<(), TestCaseError> {
    for p in programs(flat, job, words) {
        let f = found(&p);
        prop_assert!(f.is_sound(), "{}: {:#?}\n{}", p.name, told(&f), p.text);
    }
    Ok(())
}
/// A lever: two round ends of different size, drawn together by a waist.
fn lever(long: f64, big: f64, small: f64) -> Profile {
    let (a, b) = (Point::ZERO, Point::new(long, 0.0));
    let tilt = (big - small) / long;
    let cos = tilt;
    let sin = (1.0 - tilt * tilt).sqrt();
    let on = |c: Point, r: f64, side: f64| Point::new(c.x + r * cos, c.y + side * r * sin);
    let start = on(a, big, 1.0);
    Profile::start(start.x, start.y)
        .arc_to(on(a, big, -1.0), a, Sense::Left)
        .line(on(b, small, -1.0).x, on(b, small, -1.0).y)
        .arc_to(on(b, small, 1.0), b, Sense::Left)
        .close()
}
fn rounded(x0: f64, y0: f64, x1: f64, y1: f64, r: f64) -> Profile {
    Profile::start(x0 + r, y0)
        .line(x1 - r, y0)
        .arc_to(Point::new(x1, y0 + r), Point::new(x1 - r, y0 + r), Sense::Left)
        .line(x1, y1 - r)
        .arc_to(Point::new(x1 - r, y1), Point::new(x1 - r, y1 - r), Sense::Left)
        .line(x0 + r, y1)
        .arc_to(Point::new(x0, y1 - r), Point::new(x0 + r, y1 - r), Sense::Left)
        .line(x0, y0 + r)
        .arc_to(Point::new(x0 + r, y0), Point::new(x0 + r, y0 + r), Sense::Left)
        .close()
}
fn plate() -> Flat {
    Flat::new(rounded(0.0, 0.0, 24.0, 14.0, 2.0), 1.5)
        .window(rounded(8.0, 4.0, 19.0, 10.0, 1.5))
        .hole(4.0, 7.0, 2.0, "A")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn levers_come_out(
        long in 10.0..40.0_f64, big in 3.0..7.0_f64, small in 1.5..3.0_f64, thick in 0.5..3.0_f64,
        mill in prop::sample::select(vec![1.0, 2.0, 3.0]), tabs in 0..4_u32,
    ) {
        let flat = Flat::new(lever(long, big, small), thick)
            .hole(0.0, 0.0, 2.0, "A")
            .hole(long, 0.0, 1.0, "B");
        let tabs = (tabs > 1).then_some(Tabs { count: tabs, long: 2.0, thick: 0.3 });
        sound(&flat, &job(&flat, mill, tabs), if tabs.is_some() { CHANGING } else { PLAIN })?;
    }
    #[test]
    fn windows_come_out(
        w in 12.0..40.0_f64, h in 10.0..30.0_f64, wall in 2.0..3.5_f64, corner in 1.05..2.0_f64,
        thick in 0.5..2.5_f64, skew in 0.0..1.0_f64,
    ) {
        // A window with three sides, one of them hollow towards a middle outside of it, as between arms.
        let (x0, y0, x1, y1) = (wall, wall, w - wall, h - wall);
        let arc = Point::new(x0 + (x1 - x0) * 0.5, y1 + 30.0 + 20.0 * skew);
        let radius = (arc - Point::new(x0, y1)).hypot2().sqrt();
        prop_assume!(arc.y - radius > y0 + 3.0);
        let hollow = Profile::start(x0, y0).line(x1, y0).line(x1, y1).arc_to(Point::new(x0, y1), arc, Sense::Right).close();
        let flat = Flat::new(rounded(0.0, 0.0, w, h, 1.0), thick).window(rounded(x0, y0, x1, y1, corner));
        sound(&flat, &job(&flat, 2.0, None), PLAIN)?;
        // Sharp corners keep the cutter's radius, and no more than that.
        let sharp = Flat::new(rounded(0.0, 0.0, w, h, 1.0), thick).window(hollow);
        sound(&sharp, &job(&sharp, 2.0, None), PLAIN)?;
    }
}

#[test]
fn one_word_spoiled_is_seen() {
    let flat = plate();
    let all = programs(&flat, &job(&flat, 2.0, None), CHANGING);
    let [program] = all.as_slice() else { panic!("one program for a control that changes tools") };
    assert_eq!(told(&found(program)), [""; 0]);
    let lines: Vec<&str> = program.text.lines().collect();
    let spoilt = |change: &dyn Fn(&str) -> Option<String>| {
        let at = lines.iter().position(|line| change(line).is_some()).expect("such a line");
        let mut text: Vec<String> = lines.iter().map(|&l| l.to_owned()).collect();
        text[at] = change(lines[at]).expect("changed");
        let text = text.into_iter().filter(|l| !l.is_empty()).collect::<Vec<_>>().join("\n") + "\n";
        let found = trial::of(program).expect("outlines").prove(&text);
        told(&found)
            .into_iter()
            .map(|f| f.split(' ').next().unwrap_or_default().to_owned())
            .collect::<Vec<_>>()
    };
    let has = |found: Vec<String>, wrong: &str| {
        assert!(found.iter().any(|f| f == wrong), "{wrong}: {found:?}");
    };
    // Feed ten times as fast; a tooth would break.
    has(spoilt(&|l| l.contains("F120.").then(|| l.replace("F120.", "F1200."))), "feed-too-fast");
    // A retract lost after the last dip of a hole.
    let last_dip = lines.iter().position(|l| l.starts_with("G1 Z-2.4")).expect("the last dip");
    let lost = lines[last_dip + 1];
    assert_eq!(lost, "G0 Z8.");
    let mut text = lines.clone();
    text.remove(last_dip + 1);
    has(
        told(&trial::of(program).expect("outlines").prove(&(text.join("\n") + "\n")))
            .into_iter()
            .map(|f| f.split(' ').next().unwrap_or_default().to_owned())
            .collect(),
        "rapid-in-stock",
    );
    // The last depth of the window not reached.
    let shallow = program.text.replace("Z-1.7", "Z-1.2");
    has(
        trial::of(program).expect("outlines").prove(&shallow).faults.iter().map(|f| f.wrong.word()).collect(),
        "remainder",
    );
    // X and Y swapped.
    has(
        spoilt(&|l| {
            (l.starts_with("G1 X") && l.contains(" Y") && !l.contains('Z'))
                .then(|| l.replace('X', "#").replace('Y', "X").replace('#', "Y"))
        }),
        "gouge",
    );
    // The spindle never started.
    has(spoilt(&|l| l.ends_with("M3").then(|| l.replace(" M3", ""))), "spindle-stopped");
    // G2 for G3.
    let turned: Vec<String> = spoilt(&|l| l.starts_with("G3 ").then(|| l.replacen("G3", "G2", 1)));
    assert!(!turned.is_empty(), "an arc the wrong way round");
    // Spots drilled right through a face too deep.
    has(spoilt(&|l| (l == "G1 Z-0.8 F40.").then(|| "G1 Z-1.4 F40.".to_owned())), "gouge");
}

#[test]
fn a_missing_word_gets_no_program() {
    let flat = plate();
    let habits = Habits::plain(Machine::Mill, &["G0", "G1", "G17", "G21", "G94", "M3", "M5", "M30"]);
    let piece = Piece { part: 0, name: "plate", slug: "plate", solid: &flat, machine: "mill" };
    let none = written(&job(&flat, 2.0, None), &piece, &habits).expect_err("no G90");
    assert_eq!(none[0].word, "G90");
}

#[test]
fn each_tool_has_its_program_where_none_is_changed() {
    let flat = plate();
    let names: Vec<String> =
        programs(&flat, &job(&flat, 2.0, None), PLAIN).into_iter().map(|p| p.name).collect();
    assert_eq!(names, ["plate-1-spot", "plate-2-drill-2", "plate-3-windows"]);
    // Windows and outline with one end mill are one program.
    let last = programs(&flat, &job(&flat, 2.0, None), PLAIN).pop().expect("three");
    assert!(last.title.contains("windows, outline"), "{}", last.title);
}
