//! What is written for random turned parts, read again and removed, is the part; spoiled programs are not.

use making::nc::hand_over::Program;
use making::nc::lathe::{Cutting, Rung, set_up, turn};
use making::nc::{Habits, Machine, write};
use proptest::prelude::*;

const WORDS: &[&str] = &["G0", "G1", "G2", "G3", "G18", "G21", "G90", "G95", "G97", "M3", "M5", "M30"];

/// A part that grows towards the chuck, and how it is cut.
fn parts() -> impl Strategy<Value = (Vec<Rung>, Cutting)> {
    let rung = (1.0..12.0_f64, 0.3..2.0_f64, prop::bool::ANY);
    (prop::collection::vec(rung, 1..5), 0.05..0.6_f64, 0.2..1.5_f64).prop_map(|(steps, deepest, over)| {
        let mut radius = 0.8;
        let rungs: Vec<Rung> = steps
            .into_iter()
            .map(|(length, more, chamfered)| {
                radius += more;
                Rung { length, radius, chamfer: if chamfered { 0.2 } else { 0.0 } }
            })
            .collect();
        let cutting = Cutting { bar: radius + over, deepest, rpm: 800.0, feeds: (0.06, 0.03), beyond: 2.0 };
        (rungs, cutting)
    })
}
fn program(rungs: &[Rung], c: &Cutting) -> Program {
    let habits = Habits { bent: true, ..Habits::plain(Machine::Lathe, WORDS) };
    Program {
        name: "part".into(),
        title: "part".into(),
        part: 0,
        machine: "lathe".into(),
        text: write(&turn("part", rungs, c), &habits).expect("all words are known"),
        set_up: set_up(rungs, c, 0, [(-1.0, 60.0), (-200.0, 200.0)]),
        habits,
        room: 0.01,
        holding: Vec::new(),
        tools: Vec::new(),
        after: Vec::new(),
    }
}
fn faults(p: &Program, text: &str) -> Vec<String> {
    let found = trial::of(p).expect("outlines bound something").prove(text);
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_is_written_is_the_part((rungs, c) in parts()) {
        let p = program(&rungs, &c);
        prop_assert_eq!(faults(&p, &p.text), [""; 0], "{}", p.text);
    }
    #[test]
    fn a_spoiled_program_is_caught((rungs, c) in parts(), which in 0..6_usize) {
        let p = program(&rungs, &c);
        let last = p.text.rfind("(FINISH)").expect("it finishes");
        let (head, tail) = p.text.split_at(last);
        let deeper = |line: &str| line.replacen("G1 X", "G1 X-", 1);
        let spoiled = match which {
            0 => p.text.replacen("S800 M3\n", "", 1),
            1 => p.text.replace("F0.06", "F0.6").replace("F0.03", "F0.3"),
            2 => format!("{head}{}", tail.replacen("G1", "G0", 3)),
            3 => p.text.replacen("G21 ", "", 1),
            4 => format!("{head}{}", deeper(tail)),
            _ => p.text.replacen("\nM30", "", 1),
        };
        prop_assume!(spoiled != p.text);
        prop_assert!(!faults(&p, &spoiled).is_empty(), "{}", spoiled);
    }
}
