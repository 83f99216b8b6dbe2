//! Fifteen difficulties that stand in the example clocks and their shop on purpose: the program finds each by itself
//! and answers it with its numbers, as a maker sees them.

use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

/// The seconds-beating regulator.
const REGULATOR: [&str; 2] = [
    include_str!("../../../examples/regulator/clock.toml"),
    include_str!("../../../examples/regulator/shop.toml"),
];
/// The eight-day table clock.
const TABLE_CLOCK: [&str; 2] = [
    include_str!("../../../examples/table-clock/clock.toml"),
    include_str!("../../../examples/table-clock/shop.toml"),
];
/// Hardware, blued screws among it, in the same shop.
const HARDWARE: [&str; 2] = [
    include_str!("../../../examples/hardware/clock.toml"),
    include_str!("../../../examples/hardware/shop.toml"),
];

/// A project in a folder of its own; gone afterwards.
struct Project(PathBuf);
impl Project {
    fn new([clock, shop]: [&str; 2]) -> Project {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("difficult {} {n}", std::process::id()));
        std::fs::create_dir_all(&path).expect("a folder");
        std::fs::write(path.join("clock.toml"), clock).expect("written");
        std::fs::write(path.join("shop.toml"), shop).expect("written");
        Project(path)
    }
    fn run(&self, words: &[&str]) -> (i32, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_brasswright"));
        command.args(words).current_dir(&self.0).stdin(Stdio::null());
        for name in ["NO_COLOR", "COLUMNS", "SOURCE_DATE_EPOCH", "CLICOLOR_FORCE"] {
            command.env_remove(name);
        }
        let done = command.output().expect("the program starts");
        let text = |b| String::from_utf8(b).expect("text");
        (done.status.code().unwrap_or(-1), format!("{}{}", text(done.stdout), text(done.stderr)))
    }
    /// What is told of the project as a whole.
    fn check(&self) -> Said {
        let (code, text) = self.run(&["check"]);
        assert!(!text.contains("panicked") && code != 70, "{text}");
        Said(text)
    }
    /// How a number was had.
    #[track_caller]
    fn why(&self, name: &str) -> Said {
        let (code, text) = self.run(&["why", name]);
        assert_eq!(code, 0, "{text}");
        Said(text)
    }
    /// All pages of the packet as text, in the order of reading, and its cut list.
    fn packet(&self) -> (Said, Said) {
        let (_, told) = self.run(&["packet"]);
        let pdf = self.0.join("out/packet.pdf");
        let text =
            Command::new("pdftotext").arg(&pdf).arg("-").output().expect("poppler's pdftotext is there");
        assert!(text.status.success(), "{told}");
        let cut = std::fs::read_to_string(self.0.join("out/cut-list.txt")).expect("a cut list");
        (Said(String::from_utf8(text.stdout).expect("text")), Said(cut))
    }
}
impl Drop for Project {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// What was said.
struct Said(String);
impl Said {
    /// Words are in it, wherever lines break.
    #[track_caller]
    fn has(&self, words: &[&str]) -> &Said {
        let run = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ");
        let all = run(&self.0);
        for w in words {
            assert!(
                all.contains(&run(w)),
                "'{w}' is not in\n{}",
                self.0.chars().take(6000).collect::<String>()
            );
        }
        self
    }
    /// Words are not in it.
    #[track_caller]
    fn lacks(&self, words: &[&str]) -> &Said {
        for w in words {
            assert!(!self.0.contains(w), "'{w}' is in\n{}", self.0.chars().take(6000).collect::<String>());
        }
        self
    }
}
/// The regulator as it ships.
fn regulator() -> &'static Project {
    static IT: OnceLock<Project> = OnceLock::new();
    IT.get_or_init(|| Project::new(REGULATOR))
}
/// The table clock as it ships.
fn table_clock() -> &'static Project {
    static IT: OnceLock<Project> = OnceLock::new();
    IT.get_or_init(|| Project::new(TABLE_CLOCK))
}
/// Pages and cut list of the regulator.
fn pages() -> &'static (Said, Said) {
    static IT: OnceLock<(Said, Said)> = OnceLock::new();
    IT.get_or_init(|| regulator().packet())
}
/// A text with something in it replaced, which has to be there.
#[track_caller]
fn altered(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "'{from}' is not in the example any more");
    text.replacen(from, to, 1)
}

#[test]
fn p01_counts_that_the_head_cannot_divide_and_others_that_it_can() {
    let clock = altered(REGULATOR[0], "wheel = { teeth = 108,", "wheel = { teeth = 96,");
    let clock = altered(&clock, "wheel = { teeth = 80,", "wheel = { teeth = 90,");
    Project::new([&clock, REGULATOR[1]]).check().has(&[
        "96 teeth for the wheel of 'centre' cannot be divided on the dividing head of this shop",
        "no circle of its plates gives 40 turns over 96 in whole holes",
        "would do: 108/12 × 80/12, escape wheel 30 gives the same beats, and can be divided",
    ]);
    regulator().why("great.wheel.dividing.way").has(&["0+5/18"]);
}
#[test]
fn p02_cutters_that_are_not_there_are_made_before_their_wheels() {
    // Module 0.5 is written as not made, 0.4 is not written at all, 0.7 is there.
    pages().0.has(&["cutter for 80 teeth, module 0.500 mm"]).lacks(&["cutter for 144 teeth"]);
    let clock = table_clock().packet();
    for (module, teeth) in [("0.800", 90), ("0.500", 90), ("0.400", 80)] {
        clock.0.has(&[&format!("cutter for {teeth} teeth, module {module} mm")]);
    }
    clock.0.has(&["after 'cutter for 80 teeth, module 0.400 mm': it cuts with it"]);
}
#[test]
fn p03_the_great_wheel_is_wider_than_the_sheet() {
    regulator().why("great.wheel.stock.sheet").has(&[
        "brass CZ120 sheet 2.5 mm thick, 108 mm × 108 mm for each (to buy)",
        "not brass CZ120 200 mm × 100 mm × 3 mm too narrow by 3.24 mm, and by 7.24 mm with the saw allowance",
    ]);
}
#[test]
fn p04_two_plates_take_a_sheet_each_and_leave_no_great_wheel() {
    let sheets = regulator();
    for plate in ["back_plate", "front_plate"] {
        sheets
            .why(&format!("plates.{plate}.stock.sheet"))
            .has(&["taken brass CZ120 250 mm × 120 mm × 4 mm right thickness"]);
    }
    sheets.why("cut_list.1").has(&["1 back plate", "2 front plate"]);
    sheets
        .why("great.wheel.stock.sheet")
        .has(&["not brass CZ120 250 mm × 120 mm × 4 mm what other parts leave of it is too small"]);
}
#[test]
fn p05_what_is_not_in_stock_is_on_the_list_to_buy() {
    pages().1.has(&[
        "brass CZ121 round 80 mm (163 mm), for pendulum bob",
        "brass CZ121 round 70 mm (190 mm, and 34 mm), for weight shell, weight cap",
    ]);
    table_clock().why("drive.barrel_core.stock.size").has(&[
        "= ⌀15.000 mm chosen: none in the shop: the next size that is sold",
        "not silver steel ⌀12.000 mm ⌀15.200 mm is needed",
    ]);
}
#[test]
fn p06_a_long_rod_goes_through_the_spindle_and_its_tail_must_not_whip() {
    let rod = |tail: &str| regulator().why(&format!("pendulum.rod_part.{tail}"));
    rod("worked").has(&[
        "= through the spindle",
        "between centres 1070.000 mm of 320.000 mm: too long by 750.000 mm",
        "⌀8.000 mm in a hole of ⌀20.000 mm",
    ]);
    // Bar of 1050 mm and rod of 1070 mm: it is too short by that, two faces and the saw.
    rod("stock.long_enough").has(&["DOES NOT HOLD", "a bar longer by 22.700 mm"]);
    rod("setup1.tail.kept")
        .has(&["taken its end in a support, no faster than 320 rpm", "not free, no faster than 190 rpm"]);
    pages()
        .0
        .has(&["of the bar stand free behind the headstock and whip near 42", "then no faster than 320 rpm"]);
    // Every speed of that set-up keeps to it.
    rod("setup1.face.speed").has(&["= 320 rpm", "kept_under"]);
    // With 0.70 m free: 579.8 rpm by the closed form with 145 GPa, a little less with the table's 144 GPa.
    let shop = altered(
        REGULATOR[1],
        "spindle_bore = \"20 mm\"",
        "spindle_bore = \"20 mm\"\nheadstock = \"367.5 mm\"",
    );
    let seven = Project::new([REGULATOR[0], &shop]);
    seven.why("pendulum.rod_part.setup1.tail").has(&["= 700.000 mm"]);
    seven.why("pendulum.rod_part.setup1.whips_at").has(&["= 577.8"]);
    seven
        .why("pendulum.rod_part.setup1.tail.kept")
        .has(&["taken its end in a support, no faster than 320 rpm"]);
}
#[test]
fn p07_a_thread_with_a_tap_and_no_die_is_cut_on_the_lathe() {
    let thread = |tail: &str| regulator().why(&format!("pendulum.rod_part.setup2.step2.thread.{tail}"));
    thread("way").has(&["single point"]);
    thread("wheels").has(&["40/75", "20/25 × 30/45  off by 0 parts in a million"]);
    thread("speed").has(&["190 rpm"]);
    // 190 turns of 0.8 mm are 152 mm a minute, and the carriage follows 360.
    thread("carriage_follows").has(&["holds"]);
}
#[test]
fn p08_the_bob_is_bored_where_there_is_room_and_held_by_what_is_asked_for() {
    regulator().why("pendulum.bob_part.setup1.bore.drilled_on").has(&[
        "taken little bench lathe, tailstock advanced 4 times",
        // 45 + 143 + 55 + 160
        "bench mill, upright in the vice needs 403.000 mm of 250.000 mm: short by 153.000 mm",
        "bench mill, clamped upright on the table needs 358.000 mm of 250.000 mm: short by 108.000 mm",
        // 143 + 28 + 97: from both ends with a drill of 117 mm of which a collet takes in 20.
        "from both ends needs 268.000 mm of 250.000 mm: short by 18.000 mm",
    ]);
    regulator().check().has(&[
        "bob 'pendulum bob': this does not hold: something in the shop holds this diameter",
        "reverse the jaws of the three jaw chuck: as they are they go to ⌀65.000 mm and are short by 15.000 mm",
        "a faceplate with clamps: it swings there, ⌀80.000 mm of ⌀108.000 mm over the slide",
    ]);
    pages().0.has(&["advance the tailstock and lock it again 4 times", "short by 153"]);
    // With a faceplate it is held and drilled.
    let shop = altered(
        REGULATOR[1],
        "[[lathe.hold]]\nkind = \"mandrel\"\n",
        "[[lathe.hold]]\nkind = \"mandrel\"\n\n[[lathe.hold]]\nkind = \"faceplate\"\ngreatest = \"150 mm\"\n",
    );
    Project::new([REGULATOR[0], &shop]).check().lacks(&["pendulum bob': this"]);
}
#[test]
fn p09_tools_that_sit_low_leave_a_pip_wherever_something_is_parted() {
    regulator().why("third.setup1.part_off.pip").has(&["⌀0.100 mm", "tool_height = -0.050 mm"]);
    pages()
        .0
        .has(&["Tools sit 0.05 mm low on this lathe: a pip of ⌀0.10 mm stays on the back, faced off next."]);
}
#[test]
fn p10_the_field_of_holes_is_in_reach_with_its_long_side_along_the_table_only() {
    let plate = |tail: &str| regulator().why(&format!("plates.back_plate.drilling.{tail}"));
    plate("field.width").has(&["84.000 mm"]);
    plate("field.height").has(&["194.000 mm"]);
    plate("in_reach").has(&["holds"]);
    pages().0.has(&["The plates lie on their right side as seen from the dial"]);
    let shorter = altered(
        REGULATOR[1],
        r#"travel = ["220 mm", "100 mm", "180 mm"]"#,
        r#"travel = ["190 mm", "100 mm", "180 mm"]"#,
    );
    Project::new([REGULATOR[0], &shorter]).why("plates.back_plate.drilling.in_reach").has(&["DOES NOT HOLD"]);
}
#[test]
fn p11_plates_are_drilled_straight_on_the_table_with_room_to_spare() {
    let plate = |tail: &str| regulator().why(&format!("plates.back_plate.drilling.{tail}"));
    // 250 - 10 - 8 - 55 - 30, and 45 more for the bed of the vice.
    plate("drill_room").has(&["= 147.000 mm"]);
    plate("drill_room_in_vice").has(&["= 102.000 mm"]);
    plate("daylight").has(&["holds"]);
    pages().0.has(&["Room for a drill below the chuck, with the quill up: 147", "the longest stands out 68"]);
}
#[test]
fn p12_wheels_larger_than_the_jaws_go_where_the_edge_is_free() {
    regulator()
        .why("great.wheel.turning.on")
        .has(&["not three jaw chuck its jaws go to ⌀65.000 mm only", "wax chuck takes up to ⌀110.000 mm"]);
    // No centres and no mandrel: then wax.
    let shop = altered(TABLE_CLOCK[1], "[[lathe.hold]]\nkind = \"centres\"\n", "");
    let shop = altered(&shop, "[[lathe.hold]]\nkind = \"mandrel\"\n", "");
    let only_wax = Project::new([TABLE_CLOCK[0], &shop]);
    only_wax.why("barrel.wheel.turning.on").has(&["barrel.wheel.turning.on = wax chuck", "⌀74.581 mm"]);
}
#[test]
fn p13_a_small_drill_wants_more_turns_than_any_machine_has() {
    let clock = altered(
        REGULATOR[0],
        "pinion = { leaves = 12, place = [\"13 mm\", \"17 mm\"] }",
        "pinion = { leaves = 12, place = [\"13 mm\", \"17 mm\"] }\npivot = \"0.6 mm\"",
    );
    let fine = Project::new([&clock, REGULATOR[1]]);
    let holes = |tail: &str| fine.why(&format!("plates.back_plate.holes.{tail}"));
    // 45 m/min on 0.5 mm.
    holes("wanted").has(&["= 28647.9 rpm"]);
    holes("speed").has(&["= 2500 rpm", "its fastest, feed a turn kept"]);
    holes("machine").has(&[
        "taken bench mill, 2500 rpm at most",
        "small nc mill, 12000 rpm at most faster",
        "little bench lathe, 2400 rpm at most no faster",
    ]);
}
#[test]
fn p14_a_colour_is_a_band_as_oven_and_thermometer_are_not_exact() {
    let screws = Project::new(HARDWARE);
    let blue = |tail: &str| screws.why(&format!("bridge_screw.heat.blue.{tail}"));
    // An oven steady to 5 and a thermometer out by 4 may stand 9 apart from what is read.
    blue("band").has(&["9 K"]);
    blue("window").has(&["s"]);
    let seconds = |tail: &str| {
        let (_, text) = screws.run(&["why", &format!("bridge_screw.heat.blue.{tail}"), "--json"]);
        let answer: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        answer["lines"][0]["value"].as_f64().unwrap_or_else(|| panic!("no number in {text}"))
    };
    let (early, middle, late) = (seconds("lift_early"), seconds("lift"), seconds("lift_late"));
    assert!(early + 5.0 < middle && middle + 5.0 < late, "{early} {middle} {late}");
}
#[test]
fn p15_from_three_to_one_is_a_step_for_a_hard_lap_only() {
    regulator().why("centre.polish.ladder").has(&["3 µm boxwood or pegwood 2", "1 µm tin or zinc 3"]);
    pages().0.has(&["From 3 µm to 1 µm is a step of 3 to 1: on a hard lap only"]);
}

/// A verdict and no program: what would break a thread, a cutter or a hope.
#[test]
fn a_thread_that_the_carriage_cannot_follow_at_its_slowest_is_refused() {
    let shop = altered(REGULATOR[1], "carriage = \"360 mm/min\"", "carriage = \"40 mm/min\"");
    // 60 turns of 0.8 mm are 48 mm a minute.
    Project::new([REGULATOR[0], &shop]).check().has(&[
        "rod 'pendulum rod': this does not hold: the carriage can follow this pitch at the speed that is set",
        "speed = 60 rpm",
        "carriage = 40",
        "would do: turn the spindle by hand with a crank",
    ]);
}
#[test]
fn a_cutter_that_its_chip_would_break_gets_no_program() {
    let shop = altered(REGULATOR[1], "reach = \"3.5 mm\"", "reach = \"60 mm\"");
    let shop = altered(&shop, "reach = \"8 mm\"", "reach = \"400 mm\"");
    let weak = Project::new([REGULATOR[0], &shop]);
    weak.check()
        .has(&["the end mill stands a cut that is worth taking", "would do: a thicker or shorter end mill"]);
    let (_, told) = weak.run(&["packet"]);
    assert!(weak.0.join("out/packet.pdf").exists(), "{told}");
    assert!(!weak.0.join("out/programs/centre-wheel-windows.nc").exists(), "{told}");
    assert!(!told.contains("panicked"), "{told}");
}
#[test]
fn a_finish_that_the_grains_cannot_reach_is_refused() {
    let shop = altered(REGULATOR[1], "grits = { um = [18, 9, 6, 3, 1] }", "grits = { um = [18] }");
    Project::new([REGULATOR[0], &shop])
        .check()
        .has(&["this does not hold: the grains and laps of the shop reach", "would do"]);
}
