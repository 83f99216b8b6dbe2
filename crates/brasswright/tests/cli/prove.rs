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
