//! The programs of the documentation are sound on their set-ups; spoiled in one place they are not.

use trial::{FORM, read};

const PLATE: &str = include_str!("../../../docs/programs/plate.nc");
const PIN: &str = include_str!("../../../docs/programs/pin.nc");

fn faults(set_up: &str, program: &str) -> Vec<String> {
    let trial = read("set-up.toml", set_up).expect("the set-up is sound");
    let found = trial.prove(program);
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}

#[test]
fn good_programs_are_sound() {
    assert_eq!(faults(FORM.0, PLATE), [""; 0]);
    assert_eq!(faults(FORM.1, PIN), [""; 0]);
}
#[test]
fn spoiled_programs_are_caught() {
    for (set_up, program, was, is, wrong) in [
        (FORM.0, PLATE, "G1 Z-1. F60.", "G1 Z-1.2 F60.", "gouge"),
        (FORM.0, PLATE, "G1 X20. F120.", "G0 X20.", "rapid-in-stock"),
        (FORM.0, PLATE, "S3000 M3", "S3000", "spindle-stopped"),
        (FORM.0, PLATE, "G1 Y14.\nG1 X10.", "G1 Y16.\nG1 X4.", "jaws"),
        (FORM.0, PLATE, "T2 M6", "T3 M6", "unknown-tool"),
        (FORM.0, PLATE, "G21 G90", "G90", "no-unit"),
        (FORM.1, PIN, "K-2.2", "K-2.1", "arc-mismatch"),
        (FORM.1, PIN, "G1 X8.4\nG0 Z1.\nG0 X5.", "G0 X5.", "rapid-in-stock"),
        (FORM.1, PIN, "G1 X6.4\n", "", "gouge"),
        (FORM.1, PIN, "M30\n", "", "no-end"),
    ] {
        let spoiled = program.replacen(was, is, 1);
        assert_ne!(spoiled, program, "{was}");
        let found = faults(set_up, &spoiled);
        assert!(found.iter().any(|f| f.starts_with(wrong)), "{was} -> {is}: {found:?}");
    }
}
