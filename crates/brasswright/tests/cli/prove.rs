//! `prove`: a program of the project, changed by hand; one that nothing is known of.

use crate::common::Bench;

#[test]
fn a_program_of_the_project_is_proved_again_after_a_change() {
    let bench = Bench::new();
    bench.run(&["begin", "one-wheel"]).exits(0);
    bench.run(&["packet", "one-wheel"]);
    let file = "one-wheel/out/programs/third-wheel-windows.nc";
    bench.run(&["prove", file]).exits(0).says("third-wheel-windows.nc: sound").says("met no metal");
    let path = bench.0.join(file);
    let good = std::fs::read_to_string(&path).expect("the packet wrote it");
    for (was, is, exit, wrong) in
        [(" M3\n", "\n", 5, "stands"), ("G21 ", "", 2, "unit"), ("M30\n", "", 2, "end")]
    {
        let spoiled = good.replacen(was, is, 1);
        assert_ne!(spoiled, good, "{was}");
        std::fs::write(&path, spoiled).expect("written");
        bench.run(&["prove", file]).exits(exit).complains(wrong).complains(file);
    }
    // The last depth is not reached: what is left is told.
    let depths = good.split_whitespace().filter_map(|w| w.strip_prefix('Z')?.parse::<f64>().ok());
    let deepest = depths.fold(0.0_f64, f64::min);
    let shallow = good.replace(&format!("Z{deepest}"), "Z-0.5");
    assert_ne!(shallow, good, "{deepest}");
    std::fs::write(&path, shallow).expect("written");
    bench.run(&["prove", file]).exits(5).complains("metal is left");
}
#[test]
fn a_program_of_which_nothing_is_known_is_a_wrong_use() {
    let bench = Bench::new();
    std::fs::write(bench.0.join("lone.nc"), "G21\nM30\n").expect("written");
    bench.run(&["prove", "lone.nc"]).exits(64).complains("without a set-up");
    bench.run(&["begin", "one-wheel"]).exits(0);
    std::fs::write(bench.0.join("one-wheel/lone.nc"), "G21\nM30\n").expect("written");
    bench.run(&["prove", "one-wheel/lone.nc"]).exits(64).complains("no program of this name");
}
/// Lets the bench mill of an example, which takes cutters with a bore, follow programs; its shop's text, and where it is.
fn mill_that_follows(bench: &Bench, example: &str) -> (std::path::PathBuf, String) {
    let path = bench.0.join(example).join("shop.toml");
    let shop = std::fs::read_to_string(&path).expect("an example shop");
    let dial = "dial = { division = \"0.02 mm\", one_turn = \"2 mm\", backlash = \"0.14 mm\" }";
    let words = r#"["G0", "G1", "G17", "G21", "G90", "G94", "M0", "M3", "M5", "M30"]"#;
    let follows = shop.replacen(dial, &format!("{dial}\nwords = {words}"), 1);
    assert_ne!(follows, shop);
    std::fs::write(&path, &follows).expect("written");
    (path, follows)
}
#[test]
fn a_wheel_is_cut_by_program_with_stops_for_the_head() {
    let bench = Bench::new();
    bench.run(&["begin", "one-wheel"]).exits(0);
    // The module of this wheel has no cutter.
    let (path, follows) = mill_that_follows(&bench, "one-wheel");
    let done = bench.run(&["packet", "one-wheel"]);
    assert!(!done.err.contains("not sound"), "{}", done.err);
    let file = "one-wheel/out/programs/third-wheel-teeth.nc";
    bench.run(&["prove", file]).exits(0).says("third-wheel-teeth.nc: sound").says("allowed      0.01 mm");
    let good = std::fs::read_to_string(bench.0.join(file)).expect("the packet wrote it");
    // 40 turns of the crank over 80 teeth.
    assert!(good.contains("M0 (INDEX: 10 HOLES OF CIRCLE 20"), "{good}");
    assert_eq!(good.matches("M0 (INDEX").count(), 79);
    // A tenth too deep: told of the part's own teeth, at the line that does it.
    let depth = good.lines().filter_map(|l| l.strip_prefix("G0 Y")?.parse::<f64>().ok()).fold(1e9, f64::min);
    let deep = good.replace(&format!("G0 Y{depth}\n"), &format!("G0 Y{:.3}\n", depth - 0.1));
    assert_ne!(deep, good);
    std::fs::write(bench.0.join(file), deep).expect("written");
    bench.run(&["prove", file]).exits(5).complains("of the wheel is cut away");
    // The cutter is the one that is made for it, and the sheet of the part names the program.
    bench.run(&["why", "third.wheel.program.form_off", "--project", "one-wheel"]).exits(0).says("cutter_for");
    // Without a stop in its words there is no such program, and it is told.
    std::fs::write(&path, follows.replace("\"M0\", ", "")).expect("written");
    bench.run(&["check", "one-wheel"]).complains("its control does not know M0");
}
/// Each wheel from sheet of an eight-day clock, with the fly cutters that its shop makes first: cut by program, it is its own
/// outline.
#[test]
fn all_wheels_of_a_clock_are_their_outlines() {
    let bench = Bench::new();
    bench.run(&["begin", "table-clock"]).exits(0);
    mill_that_follows(&bench, "table-clock");
    let proved = bench.run(&["prove", "table-clock", "--json"]).json();
    let programs = proved["programs"].as_array().expect("programs");
    let teeth: Vec<_> =
        programs.iter().filter(|p| p["program"].as_str().is_some_and(|n| n.ends_with("-teeth.nc"))).collect();
    assert!(teeth.len() >= 6, "{proved:#}");
    for p in teeth {
        assert_eq!(p["sound"], true, "{p:#}");
        // What a program takes off is all that is not the wheel: next to nothing is left, nothing of it is gone.
        let taken =
            p["metal_before_mm3"].as_f64().expect("mm³") - p["metal_after_mm3"].as_f64().expect("mm³");
        assert!(p["left_over"].as_f64().expect("mm³") < 0.02 * taken, "{p:#}");
        assert!(p["gouged"].as_f64().expect("mm³") < 0.02 * taken, "{p:#}");
    }
}
/// A turned part with a bow, a cone, a chamfered shoulder and a flat-bottomed bore; sizes invented.
const KNOB: &str = r#"[clock]
name = "A knob"

[[turned]]
name = "knob"
material = "brass"
sections = [
  { length = "4 mm", diameter = "9 mm", to = "12 mm", arc = "8 mm" },
  { length = "6 mm", diameter = "13 mm", chamfer = "0.3 mm" },
  { length = "8 mm", diameter = "14 mm", to = "18 mm" },
  { length = "5 mm", diameter = "18 mm" },
]
bores = [{ diameter = "7 H8", depth = "8 mm" }]
"#;
#[test]
fn a_knob_with_cone_bow_chamfer_and_bore_is_turned_by_program() {
    let bench = Bench::with_clock(KNOB);
    let shop = include_str!("../../../../examples/regulator/shop.toml");
    let words =
        r#"["G0", "G1", "G2", "G3", "G4", "G18", "G21", "G90", "G95", "G97", "M0", "M3", "M5", "M30"]"#;
    let control = format!(
        "top_travel = \"55 mm\"\ncontrol = {{ words = {words}, fastest_feed = \"300 mm/min\", tool_word = \"number and offset\" }}"
    );
    let follows = shop.replacen("top_travel = \"55 mm\"", &control, 1);
    assert_ne!(follows, shop);
    bench.write("clock/shop.toml", &follows);
    bench.run(&["packet", "clock"]);
    let file = "clock/out/programs/knob-first-end.nc";
    bench.run(&["prove", file]).exits(0).says("knob-first-end.nc: sound");
    let good = std::fs::read_to_string(bench.0.join(file)).expect("the packet wrote it");
    for piece in ["(ALONG THE OUTLINE, WITH ITS ALLOWANCE)", "(BORE 7.011 MM)", "(PART OFF)", "\nG3 X"] {
        assert!(good.contains(piece), "{piece} in {good}");
    }
    // The cone of 2 mm on the radius over 8 mm; the bore to the middle of its limits, flat at 8 mm.
    assert!(good.contains("G0 X7.011\nG1 Z-8. F0.03\n"), "{good}");
    let (_, finish) = good.split_at(good.find("(FINISH)").expect("it finishes"));
    for (was, is, wrong) in [("\nG3 X", "\nG2 X", "cut away"), ("G1 X18. Z-", "G1 X17.5 Z-", "cut away")] {
        let spoiled = good.replace(finish, &finish.replacen(was, is, 1));
        assert_ne!(spoiled, good, "{was}");
        bench.write(file, &spoiled);
        bench.run(&["prove", file]).exits(5).complains(wrong);
    }
    // A control without arcs is given short lines, and they are sound too.
    bench.write("clock/shop.toml", follows.replace("\"G2\", \"G3\", ", ""));
    bench.run(&["packet", "clock"]);
    bench.run(&["prove", file]).exits(0).says("knob-first-end.nc: sound");
    let lines = std::fs::read_to_string(bench.0.join(file)).expect("the packet wrote it");
    assert!(!lines.contains("G3") && lines.lines().count() > good.lines().count(), "{lines}");
}
