//! Wheels cut with stops for the dividing head are sound; a stop lost, a depth or a retract changed is caught.

use making::nc::hand_over::Program;
use making::nc::mill::wheel::{Step, Teeth};
use making::nc::{Habits, Machine};
use proptest::prelude::*;
use reckon::maths::{PI, asin, cos, hypot, sin};

const WORDS: &[&str] = &["G0", "G1", "G17", "G21", "G90", "G94", "M0", "M3", "M5", "M30"];

/// A wheel whose spaces have straight flanks: half so wide at the root and at the tips, by its corners alone.
fn outline(count: u32, outside: f64, root: f64, (narrow, wide): (f64, f64)) -> Vec<(f64, f64)> {
    let corner = |radius: f64, half: f64, side: f64| (radius, side * asin(half / radius));
    let mut all = Vec::new();
    for k in 0..count {
        let turn = 2.0 * PI * f64::from(k) / f64::from(count);
        let [tip_before, foot_before, foot, tip] = [
            corner(outside, wide, -1.0),
            corner(root, narrow, -1.0),
            corner(root, narrow, 1.0),
            corner(outside, wide, 1.0),
        ];
        let next = 2.0 * PI / f64::from(count) + tip_before.1;
        let land = (0..=6).map(|i| (outside, tip.1 + (next - tip.1) * f64::from(i) / 6.0));
        all.extend([tip_before, foot_before, foot].into_iter().chain(land.take(6)).map(|(r, a)| {
            let a = a + turn;
            (r * cos(a), r * sin(a))
        }));
    }
    all
}
fn program(count: u32, module: f64, thick: f64, cutter: f64) -> Program {
    written(&teeth(count, module, thick, cutter))
}
fn teeth(count: u32, module: f64, thick: f64, cutter: f64) -> Teeth {
    let outside = 0.5 * module * (f64::from(count) + 2.0);
    let root = outside - 2.3 * module;
    // Straight flanks, open to behind the blank's edge.
    let (narrow, wide) = (0.5 * module, 0.5 * module * 1.6);
    let form = vec![(0.0, -narrow), (2.6 * module, -wide), (2.6 * module, wide), (0.0, narrow)];
    // The corners of the part: on the root circle, and where the flanks leave the tip circle.
    let foot = hypot(root, narrow);
    let at_tip = |across: f64| hypot(root + (across - narrow) / (wide - narrow) * 2.6 * module, across);
    let (mut low, mut high) = (narrow, wide);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if at_tip(middle) > outside {
            high = middle;
        } else {
            low = middle;
        }
    }
    let outline = outline(count, outside, foot, (narrow, low));
    Teeth {
        title: "wheel: teeth".into(),
        count,
        outside,
        thick,
        outline,
        straight: (root, narrow),
        room: 0.01,
        form,
        root,
        cutter,
        name: "wheel cutter".into(),
        step: Step { turns: 2, holes: 5, circle: 20 },
        rpm: 1000.0,
        feed: 40.0,
        does: "Cut the teeth".into(),
        off: String::new(),
    }
}
fn written(teeth: &Teeth) -> Program {
    let habits = Habits { bent: true, ..Habits::plain(Machine::Mill, WORDS) };
    let names = (0, "wheel-teeth".to_owned(), "mill".to_owned());
    teeth.program(names, &habits, [(-60.0, 60.0), (0.0, 90.0), (-30.0, 30.0)]).expect("all words are known")
}
fn faults(p: &Program, text: &str) -> Vec<String> {
    let found = trial::of(p).expect("outlines bound something").prove(text);
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn wheels_are_cut_and_spoiled_ones_caught(
        count in 12..70_u32,
        module in 0.4..1.0_f64,
        thick in 1.0..3.0_f64,
        which in 0..7_usize,
    ) {
        let p = program(count, module, thick, 14.0);
        prop_assert_eq!(faults(&p, &p.text), [""; 0], "{}", p.text);
        let stop = p.text.lines().find(|line| line.starts_with("M0 (INDEX")).expect("it stops").to_owned();
        let root = p.text.lines().filter(|line| line.starts_with("G0 Y")).nth(1).expect("it cuts").to_owned();
        let spoiled = match which {
            0 => p.text.replacen(&format!("{stop}\n"), "", 1),
            1 => p.text.replacen("G0 Y", "G0 Y0", 2).replacen(&root, "G0 Y1.", 1),
            2 => p.text.replacen(" M3\n", "\n", 1),
            3 => p.text.replacen("\nG1 X", "\nG0 X", 1),
            4 => p.text.replacen("G21 ", "", 1),
            5 => p.text.replacen("\nG1 X-", "\nG1 X", 1),
            _ => p.text.replacen(&format!("{root}\n"), "", 1),
        };
        prop_assert_ne!(&spoiled, &p.text);
        prop_assert!(!faults(&p, &spoiled).is_empty(), "{} {}", which, spoiled);
    }
}
#[test]
fn a_cutter_of_another_form_is_caught_by_the_part_s_own_outline() {
    let good = teeth(40, 0.6, 2.0, 14.0);
    let proved = |t: &Teeth| {
        let p = written(t);
        faults(&p, &p.text)
    };
    assert_eq!(proved(&good), [""; 0]);
    // Flanks 0.02 mm further out or in: more than the hundredth that is allowed.
    for (more, wrong) in [(0.02, "gouge"), (-0.02, "remainder")] {
        let form =
            good.form.iter().map(|&(behind, across)| (behind, across + across.signum() * more)).collect();
        let found = proved(&Teeth { form, ..good.clone() });
        assert!(found.iter().any(|f| f.starts_with(wrong)), "{found:?}");
    }
    // Another count on the same blank, cut too deep, and too shallow.
    let deep = proved(&Teeth { root: good.root - 0.02, ..good.clone() });
    assert!(deep.iter().any(|f| f.starts_with("gouge")), "{deep:?}");
    let shallow = proved(&Teeth { root: good.root + 0.02, ..good.clone() });
    assert!(shallow.iter().any(|f| f.starts_with("remainder")), "{shallow:?}");
}
#[test]
fn the_stop_says_what_to_turn() {
    let p = program(12, 0.5, 2.0, 14.0);
    assert!(
        p.text.contains("M0 (INDEX: 2 TURNS AND 5 HOLES OF CIRCLE 20 TO HOLE 15, TOOTH 12 OF 12)"),
        "{}",
        p.text
    );
    assert_eq!(p.text.matches("M0 (INDEX").count(), 11);
}
