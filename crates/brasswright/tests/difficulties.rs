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
fn p07_a_thread_with_a_tap_and_no_die_is_cut_on_the_lathe() {
    let thread = |tail: &str| regulator().why(&format!("pendulum.rod_part.setup2.step2.thread.{tail}"));
    thread("way").has(&["single point"]);
    thread("wheels").has(&["40/75", "20/25 × 30/45  off by 0 parts in a million"]);
    thread("speed").has(&["190 rpm"]);
    // 190 turns of 0.8 mm are 152 mm a minute, and the carriage follows 360.
    thread("carriage_follows").has(&["holds"]);
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
