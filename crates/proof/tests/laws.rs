//! Laws on random programs: nothing panics, metal only goes, numbers come back.

use kurbo::{Point, Vec2};
use proof::milling::{self, Cutter};
use proof::turning::{self, Insert, Tool};
use proof::{Control, Does, Program};
use proptest::prelude::*;
use shape::region::Region;

fn bar() -> turning::SetUp {
    let insert =
        Insert { nose: 0.4, front: 95.0, back: 40.0, length: 5.0, chords: 12, controlled: Vec2::ZERO };
    let tool = Tool { cutting: vec![insert.outline().expect("convex")], ..Tool::default() };
    let bar = Region::rectangle(Point::new(-20.0, 0.0), Point::new(0.0, 6.0)).expect("finite");
    let mut set_up = turning::SetUp::new(bar.clone(), tool.clone());
    set_up.tools.insert(1, tool);
    set_up.wanted = Some(turning::Wanted::exactly(bar, 0.01));
    set_up
}

fn plate() -> milling::SetUp {
    let plan = Region::rectangle(Point::new(-10.0, -10.0), Point::new(10.0, 10.0)).expect("finite");
    let mut set_up = milling::SetUp::plate(-5.0, 0.0, plan.clone(), Cutter::end_mill(3.0, 4.0, 20.0));
    set_up.cutters.insert(1, Cutter::drill(2.0, 118.0, 10.0, 20.0));
    set_up.within = 0.01;
    set_up.layer = 0.5;
    set_up.wanted = Some(milling::Wanted::exactly(vec![milling::Slab::new(-5.0, 0.0, plan)], 0.01));
    set_up
}

fn words() -> impl Strategy<Value = String> {
    let letters = prop::sample::select("GGGGXZYIJKRFSTMMNPQAUO".chars().collect::<Vec<_>>());
    let numbers = prop_oneof![
        (0..100_i32).prop_map(|n| n.to_string()),
        (-12_000..12_000_i32).prop_map(|n| format!("{:.3}", f64::from(n) / 1000.0)),
        prop::sample::select(vec![
            "0", "1", "2", "3", "17", "18", "21", "20", "90", "91", "94", "95", "33", "81", "83", "30"
        ])
        .prop_map(str::to_owned),
        prop::sample::select(vec!["", ".", "-", "1e3", "99999999999999999999", "1..2", "−1", "1,5"])
            .prop_map(str::to_owned),
    ];
    (letters, numbers).prop_map(|(letter, number)| format!("{letter}{number}"))
}

fn text() -> impl Strategy<Value = String> {
    let line = prop_oneof![
        8 => prop::collection::vec(words(), 0..5).prop_map(|words| words.join(" ")),
        1 => prop::sample::select(vec!["%", "(note", "(a (b) c)", "/", "M30", "\r"]).prop_map(str::to_owned),
    ];
    (any::<bool>(), prop::collection::vec(line, 0..25)).prop_map(|(head, lines)| {
        let head = if head { "G21 G90 G17 G94 S500 M03 F50 G0 X0 Y0 Z5\nG18\nG0 X14 Z5\n" } else { "" };
        format!("{head}{}", lines.join("\n"))
    })
}

fn run(text: &str) {
    for control in [Control::lathe(), Control::mill()] {
        let reading = proof::read(text, &control);
        let end = text.len();
        for fault in &reading.faults {
            assert!(fault.spot.start <= fault.spot.end && fault.spot.end <= end && fault.spot.line > 0);
        }
        let turned = turning::prove(&reading.program, &control, &bar());
        assert!(turned.after.area() <= turned.before.area() + 1e-9);
        let milled = milling::prove(&reading.program, &control, &plate());
        assert!(milling::volume(&milled.after) <= milling::volume(&milled.before) + 1e-6);
    }
}

/// A path of feeds and rapids on the lathe.
fn lathe_moves() -> impl Strategy<Value = String> {
    prop::collection::vec((any::<bool>(), -200..40_i32, 0..160_i32), 2..14).prop_map(|moves| {
        let line = |(rapid, z, x): &(bool, i32, i32)| {
            let (z, x) = (f64::from(*z) / 10.0, f64::from(*x) / 10.0);
            format!("G0{} X{x:.1} Z{z:.1}\n", i32::from(!rapid))
        };
        let head = "G21 G90 G18 G94 S500 M03 F50.\nG00 X16. Z5.\n";
        format!("{head}{}M05\nM30\n", moves.iter().map(line).collect::<String>())
    })
}

fn lathe() -> Control {
    Control { needs_tool: false, ..Control::lathe() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn no_program_panics(text in text()) {
        run(&text);
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,80}") {
        run(&text);
    }

    /// More of a program takes off no less, and all of it no more than was there.
    #[test]
    fn metal_only_goes(text in lathe_moves()) {
        let program = proof::read(&text, &lathe()).program;
        let mut set_up = bar();
        set_up.wanted = None;
        let mut before = set_up.stock.clone();
        for steps in 0..=program.steps.len() {
            let part = Program { steps: program.steps[..steps].to_vec() };
            let after = turning::prove(&part, &lathe(), &set_up).after;
            prop_assert!(after.difference(&before).area() < 1e-7);
            before = after;
        }
    }

    /// In order and all at once leave the same, where no rapid touches.
    #[test]
    fn order_does_not_matter_to_what_is_left(text in lathe_moves()) {
        let program = proof::read(&text.replace("G00", "G01").replacen("G01", "G00", 1), &lathe()).program;
        let mut set_up = bar();
        set_up.wanted = None;
        let (all, ordered) = (turning::removed(&program, &set_up), turning::prove(&program, &lathe(), &set_up).after);
        // Beyond the axis, what is cut on the other side counts on both.
        prop_assert!((all.area() - ordered.area()).abs() < 1e-6);
    }

    /// A gouge is told exactly when metal of the wanted shape is gone.
    #[test]
    fn a_gouge_is_what_is_missing(text in lathe_moves()) {
        let program = proof::read(&text, &lathe()).program;
        let turned = turning::prove(&program, &lathe(), &bar());
        prop_assert!((turned.gouge.area() - (turned.before.area() - turned.after.area())).abs() < 1e-7);
        prop_assert!(turned.remainder.area() < 1e-9);
    }

    /// A place written with four decimals is read as that very number, in millimetres; in inches as its
    /// exact multiple.
    #[test]
    fn numbers_come_back(tenths in -90_000_000..90_000_000_i32) {
        let x = format!("{}{}.{:04}", if tenths < 0 { "-" } else { "" }, tenths.abs() / 10_000, tenths.abs() % 10_000);
        let read = |unit: &str, control: &Control| {
            let text = format!("{unit} G90 G17 G94\nG00 X{x} Y0. Z0.\nM30\n");
            let steps = proof::read(&text, control).program.steps;
            steps.iter().find_map(|step| if let Does::Approach { to } = step.does { to[0] } else { None })
        };
        let mill = Control::mill();
        prop_assert_eq!(read("G21", &mill), x.parse().ok());
        if tenths.abs() < 3_900_000 {
            prop_assert_eq!(read("G20", &mill), Some(f64::from(tenths) * 254.0 / 100_000.0));
        }
        let lathe = Control { words: mill.words.clone(), letters: mill.letters.clone(), ..Control::lathe() };
        prop_assert_eq!(read("G21", &lathe), x.parse::<f64>().ok().map(|x| 0.5 * x));
    }
}
