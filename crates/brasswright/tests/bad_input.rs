//! Texts that are wrong in one way each, given to the whole program: what it says, where, with which cure, with
//! which exit code, and that nothing is written.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

const CLOCK: &str = include_str!("../../../examples/ten-screws/clock.toml");
const SHOP: &str = include_str!("../../../examples/ten-screws/shop.toml");

/// A project in a folder of its own, with blanks and other scripts in its name; gone afterwards.
struct Project(PathBuf);
impl Project {
    fn new(clock: &[u8], shop: &[u8]) -> Project {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("bad texts часы {} {n}", std::process::id()));
        fs::create_dir_all(&path).expect("a folder");
        fs::write(path.join("clock.toml"), clock).expect("written");
        fs::write(path.join("shop.toml"), shop).expect("written");
        Project(path)
    }
    fn with(clock: &str, shop: &str) -> Project {
        Project::new(clock.as_bytes(), shop.as_bytes())
    }
    fn run(&self, words: &[&str]) -> (i32, String, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_brasswright"));
        command.args(words).current_dir(&self.0).stdin(Stdio::null());
        for name in ["NO_COLOR", "COLUMNS", "SOURCE_DATE_EPOCH", "CLICOLOR_FORCE"] {
            command.env_remove(name);
        }
        let done = command.output().expect("the program starts");
        let text = |b| String::from_utf8(b).expect("text");
        (done.status.code().unwrap_or(-1), text(done.stdout), text(done.stderr))
    }
    /// Every path in the folder, below it too.
    fn files(&self) -> Vec<String> {
        let there = fs::read_dir(&self.0).expect("the folder");
        let mut all: Vec<String> =
            there.map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
        all.sort();
        all
    }
    /// The packet is refused, its reason and cure are told at a place, and nothing is written.
    #[track_caller]
    fn refused(&self, code: i32, told: &[&str]) {
        let before = self.files();
        let (rc, out, err) = self.run(&["packet"]);
        assert_eq!(rc, code, "{err}");
        for words in told.iter().chain(&["would do: ", "nothing was written"]) {
            assert!(err.contains(words), "'{words}' is not in\n{err}");
        }
        assert_no_panic(&err);
        assert_eq!(out, "");
        assert_eq!(self.files(), before, "something was written");
    }
    /// The packet is printed with the verdict on its cover, and the exit code tells of it.
    #[track_caller]
    fn printed_with_verdict(&self, told: &[&str]) {
        let (rc, _, err) = self.run(&["packet"]);
        assert_eq!(rc, 5, "{err}");
        for words in told.iter().chain(&["cannot be made: ", ".toml:", "would do: "]) {
            assert!(err.contains(words), "'{words}' is not in\n{err}");
        }
        assert_no_panic(&err);
        assert!(self.0.join("out/packet.pdf").exists());
    }
}
impl Drop for Project {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
#[track_caller]
fn assert_no_panic(err: &str) {
    for word in ["panicked", "RUST_BACKTRACE", "unwrap", "fault of this program", "src/"] {
        assert!(!err.contains(word), "'{word}' is told to a maker:\n{err}");
    }
}
/// One change to a text.
#[track_caller]
fn but(text: &str, was: &str, is: &str) -> String {
    assert!(text.contains(was), "'{was}' is not in the example");
    text.replacen(was, is, 1)
}
#[track_caller]
fn clock_with(was: &str, is: &str, code: i32, told: &[&str]) {
    Project::with(&but(CLOCK, was, is), SHOP).refused(code, told);
}

#[test]
fn numbers_that_are_no_sizes() {
    let at = "clock.toml:11:1";
    for (is, told) in [
        ("\"11\"", "a length needs a unit"),
        ("11", "write length = \"11 mm\""),
        ("\"11,5 mm\"", "use a dot: \"11.5 mm\""),
        ("nan", "'nan' is not a length"),
        ("\"nan mm\"", "'nan' is not a length"),
        ("inf", "not a length"),
        ("1e9", "a length needs a unit"),
        ("\"1e9 mm\"", "a power of ten is not read here"),
        ("\"1000000000 mm\"", "longer than any part of a clock"),
        ("\"11 deg\"", "a length is wanted here, and this is an angle"),
        ("\"0 mm\"", "write a length above 0"),
        ("\"-11 mm\"", "write a length above 0"),
    ] {
        clock_with("\"11 mm\"", is, 2, &[at, told]);
    }
}
#[test]
fn rooms_that_are_none() {
    let name = "name = \"Ten screws\"";
    for (site, told) in [
        ("temperature = \"1500 degC\"", "1500 degC is no temperature of a room"),
        ("warmer_by_year = \"500 K\"", "500 K is more than a room's warmth goes up and down"),
        ("warmer_by_day = \"-2 K\"", "write 0 or more"),
        ("warmer_by_day = 3", "write warmer_by_day = \"3 K\""),
    ] {
        clock_with(name, &format!("{name}\nsite = {{ {site} }}"), 2, &["clock.toml:", told]);
    }
}
#[test]
fn words_that_are_not_known() {
    clock_with("\"M4\"", "\"M4.3\"", 2, &["clock.toml:10:1", "'M4.3' is no thread known here", "near to it"]);
    clock_with("silver steel", "silver stell", 2, &["clock.toml:13:1", "did you mean 'silver steel'?"]);
    clock_with("thread = \"M4\"", "thraed = \"M4\"", 2, &["clock.toml:10:1", "did you mean 'thread'?"]);
    let typed = but(SHOP, "spindle_bore", "spindel_bore");
    Project::with(CLOCK, &typed).refused(2, &["shop.toml:", "did you mean 'spindle_bore'?"]);
}
#[test]
fn orders_of_finish_that_contradict_each_other() {
    let asked = "finish = [\"polish\", \"harden\", \"blue\"]\norder = [{ first = \"polish\", then = \"harden\", reason = \"a trial\" }, { first = \"harden\", then = \"polish\", reason = \"as usual\" }]";
    let told = [
        "clock.toml:15:10",
        "what is asked of its finish contradicts itself",
        "polish before harden, harden before polish",
        "leave one of them out",
    ];
    clock_with("finish = [\"harden\", \"polish\", \"blue\"]", asked, 4, &told);
}
#[test]
fn what_the_shops_grains_do_not_reach() {
    let coarse = but(SHOP, "grits = { um = [15, 9, 6, 3, 1] }", "grits = { um = [15, 9] }");
    Project::with(CLOCK, &coarse)
        .printed_with_verdict(&["reached = 9 µm, wanted = 1 µm", "buy a grain of 1 µm or finer"]);
}
#[test]
fn counts_and_names() {
    clock_with("count = 10", "count = -10", 2, &["clock.toml:9:9", "write a whole number from 1 to 10000"]);
    clock_with("count = 10", "count = 1000000000", 2, &["clock.toml:9:9", "from 1 to 10000"]);
    let twice = ["clock.toml:17:8", "there are two parts called 'bridge screw'", "another name"];
    clock_with("seatboard washer", "bridge screw", 2, &twice);
}
#[test]
fn sizes_that_contradict_each_other() {
    clock_with(
        "diameter = \"8 mm\"",
        "diameter = \"3 mm\"",
        4,
        &["clock.toml:12:2", "no larger than its thread M4"],
    );
    let deep = "slot = { width = \"1 mm\", depth = \"4 mm\" }\nmaterial = \"silver steel\"";
    clock_with(
        "material = \"silver steel\"",
        deep,
        4,
        &["clock.toml:13:3", "its slot is 4 mm deep", "1.3 mm deep"],
    );
    let near = "form = \"round\" }, { diameter = \"16 mm\", width = \"1.5 mm\", depth = \"0.5 mm\", form = \"square\" }]";
    clock_with("form = \"round\" }]", near, 4, &["clock.toml:22:", "run into each other", "further apart"]);
    clock_with(
        "depth = \"0.5 mm\"",
        "depth = \"1.5 mm\"",
        4,
        &["clock.toml:22:6", "narrower than its round form", "0.75 mm deep or less"],
    );
    let ring = but(CLOCK, "length = \"11 mm\"", "length = \"seatboard_washer.outside\"");
    let ring = but(&ring, "outside = \"21 mm\"", "outside = \"bridge_screw.length\"");
    let shown = "bridge_screw.length -> seatboard_washer.outside -> bridge_screw.length";
    Project::with(&ring, SHOP).refused(2, &["clock.toml:11:10", shown, "write one of them as a number"]);
    let bow = "[clock]\nname = \"x\"\n[[flat]]\nname = \"bow\"\nmaterial = \"brass CZ120\"\nthickness = \"3 mm\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{ to = [\"30 mm\", \"20 mm\"] }, { to = [\"30 mm\", \"0 mm\"] }, { to = [\"0 mm\", \"20 mm\"] }]\n";
    Project::with(bow, SHOP)
        .refused(4, &["clock.toml:8:", "stretches 1 and 3 of its outline cross at 15.00, 10.00 mm"]);
}
#[test]
fn what_this_shop_cannot_make_is_on_the_cover_and_in_the_exit_code() {
    for (was, is, told) in [
        ("\"11 mm\"", "\"310 mm\"", "a bar longer by 6.9"),
        ("\"11 mm\"", "\"400 mm\"", "between the centres of the bench lathe"),
        ("\"21 mm\"", "\"200 mm\"", "turns over the cross slide"),
    ] {
        Project::with(&but(CLOCK, was, is), SHOP).printed_with_verdict(&[told]);
    }
    let thin = but(CLOCK, "thickness = \"3 mm\"", "thickness = \"0.2 mm\"");
    let thin = but(&but(&thin, "depth = \"0.5 mm\"", "depth = \"0.05 mm\""), "\"0.15 mm\"", "\"0.02 mm\"");
    Project::with(&thin, SHOP).printed_with_verdict(&["there is enough of it to grip", "wax"]);
}
/// A bar of 5 mm does not serve a head of 5.2: the next size that is sold is bought, and `why` tells what was weighed.
#[test]
fn a_bar_too_thin() {
    let head = but(CLOCK, "diameter = \"8 mm\", height", "diameter = \"5.2 mm\", height");
    let head = but(
        &head,
        "material = \"silver",
        "slot = { width = \"1.2 mm\", depth = \"1 mm\" }\nmaterial = \"silver",
    );
    let project = Project::with(&head, &but(SHOP, "round = \"10 mm\"", "round = \"5 mm\""));
    let (rc, _, err) = project.run(&["packet"]);
    assert_eq!((rc, err.as_str()), (0, ""));
    let list = fs::read_to_string(project.0.join("out/cut-list.txt")).expect("a cut list");
    assert!(list.contains("silver steel round 6 mm") && !list.contains("silver steel 5 mm"), "{list}");
    let (_, out, _) = project.run(&["why", "bridge_screw.stock.size"]);
    assert!(out.contains("none in the shop") && out.contains("5.4"), "{out}");
}
#[test]
fn lathes_without_speeds() {
    let speeds = "[60, 110, 190, 320, 560, 950, 1600, 2400]";
    let empty = but(SHOP, speeds, "[]");
    Project::with(CLOCK, &empty).refused(3, &["shop.toml:14:1", "has no speeds", "list them low to high"]);
    let nothing = but(SHOP, speeds, "[0]");
    Project::with(CLOCK, &nothing).refused(2, &["shop.toml:14:19", "write a speed of turning above 0"]);
}
#[test]
fn files_that_say_nothing_or_too_much() {
    Project::with("", SHOP).refused(2, &["clock.toml:1:1", "this file says nothing yet"]);
    Project::new(b"[clock]\nname = \"\xff\xfe\"\n", SHOP.as_bytes())
        .refused(2, &["clock.toml:2:9", "save the file as UTF-8"]);
    let large = Project::with(CLOCK, SHOP);
    let file = fs::OpenOptions::new().write(true).open(large.0.join("clock.toml")).expect("opened");
    file.set_len(50 << 20).expect("grown");
    large.refused_file(&["clock.toml", "50 MB", "4 MB"]);
    let missing = Project::with(CLOCK, SHOP);
    fs::remove_file(missing.0.join("clock.toml")).expect("gone");
    let (rc, _, err) = missing.run(&["packet"]);
    assert!(
        (rc == 2 || rc == 3) && err.contains("clock.toml") && err.contains("nothing was written"),
        "{rc}: {err}"
    );
    let (rc, _, err) = Project::with(CLOCK, SHOP).run(&["packet", "--shop", "no such shop.toml"]);
    assert_eq!(rc, 74, "{err}");
    assert!(err.contains("no such shop.toml"), "{err}");
    assert_no_panic(&err);
}
impl Project {
    #[track_caller]
    fn refused_file(&self, told: &[&str]) {
        let before = self.files();
        let (rc, out, err) = self.run(&["packet"]);
        assert_eq!((rc, out.as_str()), (74, ""), "{err}");
        assert!(told.iter().all(|w| err.contains(w)), "{err}");
        assert_no_panic(&err);
        assert_eq!(self.files(), before);
    }
}
#[test]
fn what_only_looks_wrong_is_accepted() {
    let dos = |t: &str| [b"\xef\xbb\xbf".as_slice(), t.replace('\n', "\r\n").as_bytes()].concat();
    let windows = Project::new(&dos(CLOCK), &dos(SHOP));
    assert_eq!(windows.run(&["packet"]).0, 0);
    let letters = but(CLOCK, "bridge screw", "винт μικρός Öse");
    let other = Project::with(&letters, SHOP);
    let (rc, _, err) = other.run(&["packet", "--out", "мои листы 2"]);
    assert_eq!(rc, 0, "{err}");
    assert!(other.0.join("мои листы 2/packet.pdf").exists());
}
/// Letters that the sheets' faces lack are told once, at the part, before anything is written.
#[test]
fn a_script_that_cannot_be_printed() {
    let project = Project::with(&but(CLOCK, "bridge screw", "橋のねじ"), SHOP);
    assert_eq!(project.run(&["check"]).0, 0);
    project.refused(2, &["clock.toml:8:1", "橋", "Latin, Greek or Cyrillic"]);
    let (_, _, err) = project.run(&["packet"]);
    assert!(err.contains("\n1 trouble\n"), "{err}");
}
