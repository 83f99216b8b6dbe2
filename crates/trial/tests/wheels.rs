//! Wheels cut with stops for the dividing head are sound; a stop lost, a depth or a retract changed is caught.

use making::nc::hand_over::Program;
use making::nc::mill::wheel::{Step, Teeth};
use making::nc::{Habits, Machine};
use proptest::prelude::*;

const WORDS: &[&str] = &["G0", "G1", "G17", "G21", "G90", "G94", "M0", "M3", "M5", "M30"];

fn program(count: u32, module: f64, thick: f64, cutter: f64) -> Program {
    let outside = 0.5 * module * (f64::from(count) + 2.0);
    let root = outside - 2.3 * module;
    // Straight flanks, open to behind the blank's edge.
    let (narrow, wide) = (0.5 * module, 0.5 * module * 1.6);
    let form = vec![(0.0, -narrow), (2.6 * module, -wide), (2.6 * module, wide), (0.0, narrow)];
    let teeth = Teeth {
        title: "wheel: teeth".into(),
        count,
        outside,
        thick,
        form,
        root,
        cutter,
        name: "wheel cutter".into(),
        step: Step { turns: 2, holes: 5, circle: 20 },
        rpm: 1000.0,
        feed: 40.0,
    };
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
fn the_stop_says_what_to_turn() {
    let p = program(12, 0.5, 2.0, 14.0);
    assert!(
        p.text.contains("M0 (INDEX: 2 TURNS AND 5 HOLES OF CIRCLE 20 TO HOLE 15, TOOTH 12 OF 12)"),
        "{}",
        p.text
    );
    assert_eq!(p.text.matches("M0 (INDEX").count(), 11);
}
