//! Sizes that must agree, entered one after the other: what is free follows what is made, and where nothing is free it
//! is judged, with what could be done.

use super::common::Bench;
use super::enter::{CLOCK, enter, hole, moved, regulator, si};
use serde_json::Value;

fn meeting<'a>(told: &'a Value, name: &str) -> &'a Value {
    let all = told["meetings"].as_array().expect("a list");
    all.iter().find(|m| m["name"] == name).unwrap_or_else(|| panic!("no {name} in {all:?}"))
}
fn ladder(meeting: &Value) -> Vec<&str> {
    meeting["would_do"].as_array().expect("a list").iter().filter_map(Value::as_str).collect()
}
fn of(example: &str) -> Bench {
    let bench = Bench::new();
    bench.run(&["begin", example, "clock"]).exits(0);
    bench
}
fn close(is: f64, wanted: f64, within: f64) {
    assert!((is - wanted).abs() < within, "{is} for {wanted}");
}

/// Locks, drops and lifts of pallets by their corners, their arbor 0.05 mm too near: the figures of
/// checks/published/escapement.toml V42 and V43 (derived: triangle of centre distance, tip radius and corner radius).
#[test]
fn corners_of_pallets_tell_locks_and_drops_before_the_next_cut() {
    let bench = regulator();
    let clock = CLOCK
        .replace("wheel_diameter = \"40 mm\"", "wheel_diameter = \"50 mm\"")
        .replace("lock = \"0.7 deg\"", "lock = \"0.5 deg\"")
        .replace("drop = \"1 deg\"", "drop = \"1.5 deg\"")
        .replace("80.284 mm", "87.355339059 mm");
    bench.write("clock/clock.toml", clock);
    let corners = [
        ("e1.x", "-18.552031569 mm"),
        ("e1.y", "-18.096029076 mm"),
        ("e2.x", "-16.642207717 mm"),
        ("e2.y", "-17.408957298 mm"),
        ("x1.x", "17.239633581 mm"),
        ("x1.y", "-16.817547558 mm"),
        ("x2.x", "17.909187866 mm"),
        ("x2.y", "-18.732462028 mm"),
    ];
    for (corner, value) in corners {
        enter(&bench, &[&format!("escapement.corner.{corner}"), value]);
    }
    let deg = |name: &str| si(&bench, &format!("escapement.meets.{name}")).to_degrees();
    for lock in ["lock_entry", "lock_exit"] {
        close(deg(lock), 0.5, 1e-6);
    }
    let told = enter(&bench, &["pallets.at.y", "87.305339059 mm"]);
    let wanted = [
        ("drop_out", 1.6622),
        ("drop_in", 1.3378),
        ("lock_entry", 0.6505),
        ("lock_exit", 0.6743),
        ("lift_entry", 2.0119),
        ("lift_exit", 1.9881),
    ];
    for (name, wanted) in wanted {
        close(deg(name), wanted, 5e-5);
    }
    assert_eq!(moved(&told, "escapement.meets.lock_entry").expect("told")["weight"], "running");
    // A sign left off is asked about, not guessed.
    let typed = ["enter", "escapement.corner.e1.x", "18.55 mm", "--project", "clock"];
    bench.run(&typed).exits(2).complains("the sign left off");
}
#[test]
fn a_small_escape_wheel_moves_the_hole_of_the_pallets_or_the_pallets_themselves() {
    let bench = regulator();
    let before = hole(&bench, "pallets_through");
    let told = enter(&bench, &["escapement.wheel_diameter", "39.9 mm"]);
    // C = R / cos 45 degrees: 0.05 mm of radius is 0.0707 mm of distance, straight down.
    close(hole(&bench, "pallets_through").1 - before.1, -0.0707e-3, 1e-6);
    close(si(&bench, "escapement.meets.lock_exit").to_degrees(), 0.7, 1e-6);
    assert_eq!(meeting(&told, "escapement.meets.locks")["holds"], true);
    // With the plates drilled the pallets, still to be made, are set out for the distance there is.
    let bench = regulator();
    enter(&bench, &["--done", "back plate: back plate and front plate as one"]);
    enter(&bench, &["escapement.wheel_diameter", "39.9 mm"]);
    assert_eq!(hole(&bench, "pallets_through"), before);
    for name in ["lock_entry", "lock_exit"] {
        close(si(&bench, &format!("escapement.meets.{name}")).to_degrees(), 0.7, 1e-6);
    }
    // Pallets that are made as well leave nothing free: it is judged, cheapest first, and each way says what comes of it.
    let told = enter(&bench, &["escapement.corner.x1.y", "-13.5 mm"]);
    let locks = meeting(&told, "escapement.meets.locks");
    assert_eq!(locks["holds"], false);
    let ways = ladder(locks);
    assert!(
        ways[0].starts_with("close the pallets by") && ways[0].contains("then locks of 0.70°"),
        "{ways:?}"
    );
    assert!(ways[1].starts_with("bush the holes of 'pallets' off centre"), "{ways:?}");
    // Nothing that was entered turns a text into an error.
    bench.run(&["why", "order.hours", "--project", "clock"]).exits(0);
    assert!(si(&bench, "order.hours") > 100.0 * 3600.0, "everything is still planned");
}
#[test]
fn pallets_that_are_made_keep_their_corners() {
    let bench = regulator();
    let drawn = si(&bench, "escapement.corner.e1.x");
    enter(&bench, &["--made", "pallets"]);
    enter(&bench, &["escapement.wheel_diameter", "39.9 mm"]);
    close(si(&bench, "escapement.corner.e1.x"), drawn, 1e-12);
    close(
        si(&bench, "escapement.meets.lock_entry").min(si(&bench, "escapement.meets.lock_exit")).to_degrees(),
        0.7,
        1e-5,
    );
}
#[test]
fn over_pins_tells_where_the_teeth_sit() {
    let bench = regulator();
    let drawn = si(&bench, "third.wheel.pins.over");
    let told = enter(&bench, &["third.wheel.pins.over", "43.75 mm", "--give-or-take", "0.02 mm"]);
    let deeper = (drawn - 43.75e-3) / 2.0;
    close(si(&bench, "third.wheel.centres_by_teeth.to_suit"), 23e-3 - deeper, 1e-9);
    let row = moved(&told, "third.wheel.centres_by_teeth.to_suit").expect("told");
    assert_eq!(
        (&row["give_or_take"], &row["because"]),
        (&"0.010 mm".into(), &"third.wheel.teeth_sit".into())
    );
    // Pins lie on the flanks: a rim measured as well says no more of them.
    enter(&bench, &["--done", "third wheel: teeth cut"]);
    enter(&bench, &["third.wheel.outside", "41.608 mm"]);
    close(si(&bench, "third.wheel.centres_by_teeth.to_suit"), 23e-3 - deeper, 1e-9);
    // Its pinion, cut shallow, sits farther out.
    enter(&bench, &["escape.pinion.pins.over", "8.333 mm", "--sure"]);
    let farther = (8.333e-3 - 8.233e-3) / 2.0;
    close(si(&bench, "third.wheel.centres_by_teeth.to_suit"), 23e-3 - deeper + farther, 1e-6);
    let told = enter(&regulator(), &["third.wheel.pins.over", "43.95 mm"]);
    let ways = meeting(&told, "third.wheel.pins.over").clone();
    assert!(ladder(&ways)[0].starts_with("set the cutter in by 0.049 mm"), "{ways}");
}
#[test]
fn a_bar_under_size_is_judged() {
    let bench = of("ten-screws");
    let told = enter(&bench, &["bridge_screw.stock.size", "8.1 mm", "--sure"]);
    let bar = meeting(&told, "bridge_screw.stock.meets.cleans_up");
    assert_eq!(bar["holds"], false);
    assert!(ladder(bar)[0].starts_with("set it running true to 0.050 mm"), "{bar}");
    enter(&bench, &["--struck", "1", "--because", "the wrong bar"]);
    let told = enter(&bench, &["bridge_screw.stock.size", "7.9 mm", "--sure"]);
    let bar = meeting(&told, "bridge_screw.stock.meets.cleans_up");
    assert!(ladder(bar)[0].contains("0.100 mm under size"), "{bar}");
    enter(&bench, &["--struck", "3", "--because", "the wrong bar"]);
    let told = enter(&bench, &["bridge_screw.stock.size", "8.25 mm", "--sure"]);
    assert!(told["meetings"].as_array().expect("a list").is_empty(), "it cleans up: {told}");
}
#[test]
fn a_batch_is_measured_piece_by_piece_and_followed_as_a_whole() {
    let bench = of("ten-screws");
    let drawn = si(&bench, "bridge_screw.slot.depth");
    let told = enter(&bench, &["bridge_screw.head.height", "3.0 mm", "--piece", "1"]);
    let ways = ladder(meeting(&told, "bridge_screw.head.height"));
    assert!(ways[1].starts_with("bring the other pieces to 3.000 mm as well"), "{ways:?}");
    close(si(&bench, "bridge_screw.slot.depth"), drawn, 1e-12);
    // All faced to that size: what is still to be cut follows.
    let told = enter(&bench, &["bridge_screw.head.height", "3.0 mm"]);
    assert!(moved(&told, "bridge_screw.slot.depth").is_some(), "{told}");
    let wrong = |piece: &str, words: &str| {
        let typed = ["enter", "bridge_screw.length", "11 mm", "--piece", piece, "--project", "clock"];
        bench.run(&typed).exits(64).complains(words);
    };
    wrong("12", "there is no piece 12");
    wrong("1-3", "one piece at a time");
    // Pillars faced to one size are the gap of the plates, and every arbor follows it.
    let bench = regulator();
    let told = enter(&bench, &["plates.pillar.alike.between", "41.9 mm", "--give-or-take", "0.01 mm"]);
    close(si(&bench, "centre.between_shoulders"), 41.7e-3, 1e-9);
    let row = moved(&told, "centre.between_shoulders").expect("told");
    assert_eq!(row["give_or_take"], "0.010 mm");
    // A part of one piece needs no number, and takes one.
    enter(&bench, &["centre.between_shoulders", "41.70 mm", "--piece", "1"]);
    close(si(&bench, "centre.meets.endshake"), 0.2e-3, 1e-9);
}
#[test]
fn a_spring_as_it_is_tells_its_torque_and_the_arc() {
    let bench = of("table-clock");
    let (per_turn, turns) =
        (si(&bench, "drive.spring.torque_per_turn"), si(&bench, "drive.spring.turns_available"));
    let told = enter(&bench, &["drive.spring.thickness", "0.44 mm"]);
    // Stiffness of a strip goes with the cube of its thickness (closed form).
    let thin = 0.44 / 0.45;
    close(si(&bench, "drive.spring.torque_per_turn") / per_turn, thin * thin * thin, 1e-6);
    assert!(si(&bench, "drive.spring.turns_available") > turns);
    for name in ["drive.spring.torque_at_the_end", "drive.spring.turns_available", "drive.end.margin.likely"]
    {
        assert_eq!(moved(&told, name).expect("told")["weight"], "running");
    }
    let told = enter(&bench, &["drive.spring.height", "24 mm"]);
    assert!(moved(&told, "drive.spring.torque_at_top").is_some());
    let told = enter(&bench, &["drive.spring.length", "1400 mm"]);
    assert!(moved(&told, "drive.spring.turns_available").is_some());
    let told = enter(&bench, &["drive.spring.barrel.inside", "44 mm"]);
    assert!(moved(&told, "drive.spring.turns_available").is_some());
}
#[test]
fn rod_and_bob_as_they_are_say_where_the_nut_comes_and_what_to_cut() {
    let bench = regulator();
    let told = enter(&bench, &["pendulum.bob.mass", "5.9 kg"]);
    assert_eq!(moved(&told, "pendulum.nut.below").expect("told")["weight"], "running");
    let told = enter(&bench, &["pendulum.rod_length", "1092 mm"]);
    let nut = meeting(&told, "pendulum.meets.nut");
    let ways = ladder(nut);
    assert!(
        ways[0].starts_with("run the die") && ways[1].starts_with("drill the rod's upper hole"),
        "{ways:?}"
    );
    // Short of thread above the nut by as much as the figures say.
    let lacks = 3e-3 - si(&bench, "pendulum.meets.thread_above_nut");
    assert!(ways[0].contains(&format!("{:.1} mm", lacks * 1e3)), "{ways:?}");
    enter(&bench, &["--struck", "2", "--because", "hooked over the chop"]);
    let middle = si(&bench, "pendulum.bob.middle");
    let told = enter(&bench, &["pendulum.rod_length", "1066 mm"]);
    assert_eq!(meeting(&told, "pendulum.meets.nut")["holds"], true);
    // A light rod, shorter by 4 mm: the heavy bob keeps its place to a few hundredths.
    close(si(&bench, "pendulum.bob.middle"), middle, 0.2e-3);
    // A rod that is made stays as long as it is, and the nut is judged on it.
    let bench = regulator();
    enter(&bench, &["--made", "pendulum rod"]);
    let long = si(&bench, "pendulum.rod_length");
    let told = enter(&bench, &["pendulum.bob.height", "160 mm"]);
    close(si(&bench, "pendulum.rod_length"), long, 1e-12);
    let ways = ladder(meeting(&told, "pendulum.meets.nut"));
    assert!(ways[0].starts_with("a nut thinner") || ways[0].starts_with("run the die"), "{ways:?}");
}
#[test]
fn an_arbor_that_is_made_meets_the_gap_and_the_holes() {
    let bench = regulator();
    enter(&bench, &["--made", "centre arbor"]);
    let told = enter(&bench, &["plates.gap", "41.9 mm"]);
    let shake = meeting(&told, "centre.meets.plates");
    assert_eq!((&shake["holds"], &shake["figures"][0][1]), (&false.into(), &"0.100 mm".into()));
    let said = told["meetings"].as_array().expect("a list");
    assert!(
        said.iter().all(|m| !m["name"].as_str().is_some_and(|n| n.starts_with("centre.station"))),
        "said once"
    );
    let told = enter(&bench, &["centre.pivot_hole", "3.10 mm"]);
    assert_eq!(meeting(&told, "centre.meets.pivot")["holds"], false);
}
/// Escape wheels of other kinds than the dead beat: the hole follows, or the distance is judged.
#[test]
fn anchors_and_grasshoppers_follow_their_wheel_too() {
    for (example, less, pallets) in [("table-clock", "29.8 mm", "pallets"), ("skeleton", "95.8 mm", "frame")]
    {
        let at = format!("{pallets}.at.y");
        let bench = of(example);
        let drawn = si(&bench, &at);
        let told = enter(&bench, &["escapement.wheel_diameter", less]);
        assert_eq!(meeting(&told, "escapement.meets.planted")["holds"], true);
        assert!(si(&bench, &format!("{at}.to_suit")) < drawn - 0.1e-3);
        let bench = of(example);
        enter(&bench, &["--done", "back plate: back plate and front plate as one"]);
        let told = enter(&bench, &["escapement.wheel_diameter", less]);
        let ways = ladder(meeting(&told, "escapement.meets.planted"));
        assert!(ways[0].starts_with(&format!("bush the holes of '{pallets}'")), "{ways:?}");
        close(si(&bench, &at), drawn, 1e-12);
    }
}
#[test]
fn a_pivot_and_its_hole_follow_each_other() {
    let bench = regulator();
    let told = enter(&bench, &["third.pivot_hole", "1.06 mm"]);
    let ways = ladder(meeting(&told, "third.pivot_hole"));
    assert_eq!(ways[0], "leave it so: third.pivot goes from 1.000 mm to 1.030 mm");
    assert!(ways.last().is_some_and(|w| w.starts_with("bush it")), "{ways:?}");
    let told = enter(&bench, &["third.pivot", "1.00 mm"]);
    assert_eq!(meeting(&told, "third.meets.pivot")["holds"], false);
    let bench = regulator();
    let told = enter(&bench, &["third.pivot", "0.97 mm"]);
    assert_eq!(
        ladder(meeting(&told, "third.pivot"))[0],
        "leave it so: third.pivot_hole goes from 1.030 mm to 1.000 mm"
    );
    close(si(&bench, "third.pivot_hole"), 1.0e-3, 1e-9);
}
