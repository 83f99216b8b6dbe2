//! What does not fit this shop is told with by how much, and with what would do: small projects, changed shops.

use crate::common::Bench;

const SHOP: &str = include_str!("../../../../examples/regulator/shop.toml");

/// The example shop with something in it replaced, which has to be there.
#[track_caller]
fn shop(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(SHOP.to_owned(), |text, (was, is)| {
        assert!(text.contains(was), "'{was}' is not in the example shop any more");
        text.replacen(was, is, 1)
    })
}
/// A project with this clock and shop.
fn project(clock: &str, shop: &str) -> Bench {
    let bench = Bench::new();
    bench.write("clock.toml", format!("[clock]\nname = \"x\"\n\n{clock}"));
    bench.write("shop.toml", shop);
    bench
}
/// What `check` tells, in one line.
fn told(bench: &Bench) -> String {
    let run = bench.run(&["check"]);
    format!("{}{}", run.out, run.err).split_whitespace().collect::<Vec<_>>().join(" ")
}
#[track_caller]
fn has(text: &str, words: &[&str]) {
    for w in words {
        assert!(text.contains(w), "'{w}' is not in\n{text}");
    }
}
fn bracket(holes: &str) -> String {
    format!(
        "[[flat]]\nname = \"bracket\"\nspares = 0\nmaterial = \"brass CZ120\"\nthickness = \"3 mm\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{{ to = [\"180 mm\", \"0 mm\"] }}, {{ to = [\"180 mm\", \"90 mm\"] }}, {{ to = [\"0 mm\", \"90 mm\"] }}]\nholes = [{holes}]\n"
    )
}

#[test]
fn holes_out_of_the_table_s_travel_say_how_far_and_where_else() {
    let far = bracket(
        "{ label = \"a\", at = [\"10 mm\", \"10 mm\"], diameter = \"4 mm\" }, { label = \"b\", at = [\"170 mm\", \"80 mm\"], diameter = \"4 mm\" }",
    );
    // 160 by 70; the bench mill travels 140 by 60 here, the other one 200 by 100.
    let small = shop(&[
        ("travel = [\"220 mm\", \"100 mm\", \"180 mm\"]", "travel = [\"140 mm\", \"60 mm\", \"180 mm\"]"),
        ("travel = [\"120 mm\", \"80 mm\", \"60 mm\"]", "travel = [\"200 mm\", \"100 mm\", \"60 mm\"]"),
    ]);
    let bench = project(&far, &small);
    has(
        &told(&bench),
        &[
            "this does not hold: the bench mill reaches all holes in one setting",
            "would do: on the small nc mill: needs 70.000 mm of 100.000 mm: 30.000 mm to spare",
            "not enough: on the bench mill in one setting, needs 160.000 mm of 140.000 mm: short by 20.000 mm",
            "would do: in two settings: moved on the table",
        ],
    );
    bench.run(&["why", "bracket.drilling.in_reach.way"]).exits(0).says("on the small nc mill");
    // In reach where it travels far enough.
    let text = told(&project(&far, SHOP));
    assert!(!text.contains("reaches all holes"), "{text}");
}
#[test]
fn what_does_not_swing_says_by_how_much_and_where_it_would() {
    let disc = "[[turned]]\nname = \"disc\"\nmaterial = \"brass\"\nsections = [{ length = \"8 mm\", diameter = \"120 mm\" }]\n";
    let bench = project(disc, SHOP);
    has(
        &told(&bench),
        &[
            "this does not hold: it turns over the cross slide of the little bench lathe",
            "would do: over the bed of the little bench lathe, with a hand rest and graver: needs 120.000 mm of 180.000 mm: 60.000 mm to spare",
            "would do: turned elsewhere: smaller by 12.000 mm, or a larger lathe",
        ],
    );
    bench.run(&["why", "disc.swings.way"]).exits(0).says("over the bed");
}
#[test]
fn a_slowest_speed_that_is_too_fast_says_how_much_and_what_turns_slower() {
    let knob = "[[turned]]\nname = \"knob\"\nmaterial = \"silver steel\"\nsections = [{ length = \"8 mm\", diameter = \"40 mm\" }]\n";
    let fast = shop(&[(
        "speeds = { rpm = [60, 110, 190, 320, 560, 950, 1600, 2400] }",
        "speeds = { rpm = [560, 950, 1600, 2400] }",
    )]);
    // Silver steel is turned at 15 m/min, so 40 mm at 119 rpm: a quarter faster is 149.
    let bench = project(knob, &fast);
    has(
        &told(&bench),
        &[
            "this does not hold: the little bench lathe turns as slowly as this cut wants",
            "would do: on the bench mill, which goes down to 100 rpm",
            "would do: the spindle turned by hand, or slowed to",
        ],
    );
    let text = told(&project(knob, SHOP));
    assert!(!text.contains("as slowly as"), "{text}");
}
#[test]
fn a_finest_feed_that_is_coarse_says_what_it_leaves() {
    let pin = "[[turned]]\nname = \"pin\"\nmaterial = \"brass\"\nsections = [{ length = \"8 mm\", diameter = \"6 mm\" }]\n";
    let coarse = shop(&[("feeds = { mm = [0.02, 0.04, 0.06, 0.09, 0.12] }", "feeds = { mm = [0.1, 0.2] }")]);
    // f²/8r with a nose of 0.2 mm: 6.25 µm, and 1.56 µm at 0.05 mm a turn.
    let bench = project(pin, &coarse);
    has(
        &told(&bench),
        &[
            "this does not hold: the little bench lathe feeds as finely as the last cuts want",
            "its finest leaves ridges of 6.25 µm, that one 1.562 µm",
            "a nose of 0.800 mm",
        ],
    );
    let text = told(&project(pin, SHOP));
    assert!(!text.contains("feeds as finely"), "{text}");
}
#[test]
fn a_tap_that_is_missing_says_which_threads_would_do() {
    let tapped = bracket("{ label = \"a\", at = [\"10 mm\", \"10 mm\"], thread = \"M3.5\" }");
    let text = told(&project(&tapped, SHOP));
    has(
        &text,
        &[
            "this does not hold: the shop has a tap of this thread",
            "would do: buy a tap M3.5",
            "change the thread to M3, of which the shop has the tap: thinner by 0.500 mm",
            "change the thread to M4, of which the shop has the tap: thicker by 0.500 mm",
        ],
    );
}
#[test]
fn a_drill_that_is_missing_says_what_the_next_sizes_would_leave() {
    let holes = bracket("{ label = \"a\", at = [\"10 mm\", \"10 mm\"], diameter = \"7 mm\" }");
    has(
        &told(&project(&holes, SHOP)),
        &[
            "this does not hold: the shop has a drill for this hole",
            "would do: buy a drill of ⌀7.000 mm",
            "the next smaller of the shop, 6.0 mm, and then 1.000 mm opened by",
            "not enough: the next larger of the shop, 7.8 mm, is over the size by 0.800 mm",
        ],
    );
}
#[test]
fn a_tapping_drill_is_taken_by_the_thread_that_it_leaves() {
    let tapped = bracket("{ label = \"a\", at = [\"10 mm\", \"10 mm\"], thread = \"M3\" }");
    // 65 to 80 % in brass by the base of drill tables, 1.299 P: 2.5 leaves 77 %, 2.6 leaves 62 %.
    let bench = project(&tapped, SHOP);
    bench
        .run(&["why", "bracket.hole.a.nut.tap_drill"])
        .exits(0)
        .says("⌀2.500 mm")
        .says("77 %")
        .says("61.6 %");
    // With neither the next are told with what they leave: 2.2 leaves 123 %, 2.8 31 %.
    let without = shop(&[("2.1, 2.2, 2.3,\n  2.5, 2.6, 2.8,", "2.1, 2.2,\n  2.8,")]);
    has(
        &told(&project(&tapped, &without)),
        &[
            "this does not hold: a drill of the shop leaves half to nine tenths of a full thread",
            "a drill of ⌀2.529 mm: it leaves 73 % of a full thread",
            "the shop's 2.2 mm leaves 123 %, too much",
            "the shop's 2.8 mm leaves 31 %, too little",
        ],
    );
}
#[test]
fn pilots_go_before_thick_drills_only() {
    let holes =
        |d: &str| bracket(&format!("{{ label = \"a\", at = [\"10 mm\", \"10 mm\"], diameter = \"{d}\" }}"));
    let thick = project(&holes("8 mm"), SHOP);
    // Three tenths of 8 mm are 2.4.
    thick.run(&["why", "bracket.hole.a.pilot"]).exits(0).says("⌀2.300 mm");
    let thin = project(&holes("3.2 mm"), SHOP);
    assert_ne!(thin.run(&["why", "bracket.hole.a.pilot"]).code, 0);
}
#[test]
fn nobody_is_told_to_buy_a_reamer_of_sixty_millimetres() {
    let bored = "[[turned]]\nname = \"shell\"\nmaterial = \"brass\"\nsections = [{ length = \"100 mm\", diameter = \"64 mm\" }]\nbores = [{ diameter = \"60.00 +0.05/-0.00 mm\" }]\n";
    let text = told(&project(bored, SHOP));
    has(
        &text,
        &[
            "this does not hold: something in the shop brings the drilled hole to its size",
            "would do: the long boring bar from both ends: needs",
        ],
    );
    assert!(!text.contains("reamer"), "{text}");
}
