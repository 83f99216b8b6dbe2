//! Bad programs and exactly what is told of them: `data/faults.toml`.

use std::collections::BTreeSet;
use std::sync::Arc;

use proof::Control;
use proof::control::{Percent, Travel, WithoutPoint};
use toml::{Table, Value};

fn control(case: &Table) -> Control {
    let mut control = match case.get("on").and_then(Value::as_str) {
        Some("mill") => Control::mill(),
        _ => Control::lathe(),
    };
    let text = |key: &str| case.get(key).and_then(Value::as_str);
    let whole = |key: &str| case.get(key).and_then(Value::as_integer).and_then(|n| usize::try_from(n).ok());
    let yes = |key: &str| case.get(key).and_then(Value::as_bool);
    let numbers = |key: &str| -> Vec<f64> {
        case.get(key).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_float).collect()
    };
    for word in case.get("knows").and_then(Value::as_array).into_iter().flatten() {
        control.words.push(word.as_str().expect("a word").to_owned());
    }
    if text("point") == Some("required") {
        control.without_point = WithoutPoint::Refused;
    }
    if text("percent") == Some("required") {
        control.percent = Percent::Required;
    }
    control.most_decimals = whole("decimals");
    control.longest_line = whole("longest").unwrap_or(control.longest_line);
    control.skip_sign = yes("skip").unwrap_or(true);
    control.helix = yes("helix").unwrap_or(control.helix);
    control.threads = yes("threads").unwrap_or(control.threads);
    control.spindle_steps = numbers("steps");
    if let [low, high] = numbers("travel")[..] {
        control.travel = Travel { x: Some((low, high)), ..Travel::default() };
    }
    control
}

fn program(case: &Table) -> String {
    let text = case["text"].as_str().expect("a text");
    if case.get("head").and_then(Value::as_bool) == Some(false) {
        return text.to_owned();
    }
    let head = match case.get("on").and_then(Value::as_str) {
        Some("mill") => "G21 G90 G17 G94 T1 M06 S1000 M03 G00 X0. Y0. Z5.",
        _ => "G21 G90 G18 G95 T0101 S1000 M03 G00 X12. Z1.",
    };
    format!("{head}\n{text}\nM30\n")
}

#[test]
fn every_fault_is_told_where_it_is() {
    let all: Table = include_str!("data/faults.toml").parse().expect("the data is TOML");
    let mut wrong = Vec::new();
    for case in all["bad"].as_array().expect("a list") {
        let case = case.as_table().expect("a table");
        let text = program(case);
        let reading = proof::read(&text, &control(case));
        let told: Vec<String> = reading
            .faults
            .iter()
            .map(|fault| format!("{}:{} {}", fault.spot.line, fault.spot.column, fault.wrong.word()))
            .collect();
        let want: Vec<&str> =
            case["told"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
        // Two faults at one place may come in any order.
        let (mut told, mut want): (Vec<_>, Vec<String>) =
            (told, want.into_iter().map(str::to_owned).collect());
        told.sort();
        want.sort();
        if told != want {
            wrong.push(format!("{}\n  want {want:?}\n  told {told:?}", case["says"]));
        }
        for fault in &reading.faults {
            assert!(!fault.says.is_empty() && !fault.cure.is_empty(), "{fault:?}");
            let trouble = fault.trouble(&Arc::from("program"), &text);
            assert_eq!(
                (trouble.at[0].line, trouble.at[0].column),
                (fault.spot.line, fault.spot.column),
                "{fault}"
            );
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Every kind of fault that reading can tell is among the bad programs.
#[test]
fn every_kind_is_tried() {
    let data: Table = include_str!("data/faults.toml").parse().expect("the data is TOML");
    let tried: BTreeSet<&str> = data["bad"]
        .as_array()
        .expect("a list")
        .iter()
        .flat_map(|case| case["told"].as_array().expect("a list"))
        .filter_map(|told| told.as_str()?.split(' ').nth(1))
        .collect();
    let mut sources = String::new();
    for file in ["words", "state", "settings", "motion", "cycle"] {
        sources += &std::fs::read_to_string(format!("{}/src/reader/{file}.rs", env!("CARGO_MANIFEST_DIR")))
            .expect("a source");
    }
    let told: BTreeSet<String> = sources
        .split("Wrong::")
        .skip(1)
        .map(|rest| rest.chars().take_while(char::is_ascii_alphabetic).collect::<String>())
        .map(|name| {
            let hyphened = name.chars().flat_map(|letter| {
                let mut signs = Vec::new();
                if letter.is_ascii_uppercase() {
                    signs.push('-');
                }
                signs.push(letter.to_ascii_lowercase());
                signs
            });
            hyphened.collect::<String>().trim_start_matches('-').to_owned()
        })
        .collect();
    let missing: Vec<&String> = told.iter().filter(|kind| !tried.contains(kind.as_str())).collect();
    assert!(missing.is_empty(), "no bad program for {missing:?}");
    assert!(told.len() > 40, "{}", told.len());
}
