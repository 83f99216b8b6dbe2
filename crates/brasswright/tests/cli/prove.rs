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
#[test]
fn a_wheel_is_cut_by_program_with_stops_for_the_head() {
    let bench = Bench::new();
    bench.run(&["begin", "one-wheel"]).exits(0);
    let path = bench.0.join("one-wheel/shop.toml");
    let shop = std::fs::read_to_string(&path).expect("an example shop");
    // The bench mill, which takes cutters with a bore, follows programs; the module of this wheel has no cutter.
    let dial = "dial = { division = \"0.02 mm\", one_turn = \"2 mm\", backlash = \"0.14 mm\" }";
    let words = r#"["G0", "G1", "G17", "G21", "G90", "G94", "M0", "M3", "M5", "M30"]"#;
    let follows = shop.replacen(dial, &format!("{dial}\nwords = {words}"), 1);
    assert_ne!(follows, shop);
    std::fs::write(&path, &follows).expect("written");
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
