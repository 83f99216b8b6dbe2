//! Two texts worked out as the program does it: read, parts, plan. And random hardware, written as text.

use making::plan::{Making, Operation, SetUp};
use movement::part::Part;
use proptest::prelude::*;
use reckon::{Book, Cell, Length, Origin, Trouble};
use record::{Project, Text};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

/// What came of two texts.
pub struct Work {
    /// Every number.
    pub book: Book,
    /// What was written.
    pub project: Project,
    /// The parts.
    pub parts: Vec<Part>,
    /// How they are made.
    pub making: Making,
    /// What is wrong with the parts or their plans.
    pub troubles: Vec<Trouble>,
}
/// Works two texts out; a text that cannot be read is a fault of the test.
#[track_caller]
pub fn work(clock: &str, shop: &str) -> Work {
    let mut book = Book::new();
    let text = |name: &str, bytes| Text { name: Arc::from(name), bytes };
    let (clock, shop) = (clock.as_bytes(), shop.as_bytes());
    let read = record::read(Some(&text("clock.toml", clock)), Some(&text("shop.toml", shop)), &mut book);
    let told = || read.troubles.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    let project = read.facts.clone().unwrap_or_else(|| panic!("not read:\n{}", told()));
    let (Some(clock), Some(shop)) = (&project.clock, &project.shop) else { panic!("two texts") };
    let (parts, mut troubles) = movement::hardware::parts(clock, &mut book);
    let (making, more) = making::plan::plan(shop, &parts, &mut book);
    troubles.extend(more);
    Work { book, project, parts, making, troubles }
}
/// Works out a movement with its parts, as far as its design allows.
#[track_caller]
pub fn work_movement(clock: &str, shop: &str) -> Work {
    let mut book = Book::new();
    let text = |name: &str, bytes| Text { name: Arc::from(name), bytes };
    let (clock, shop) = (clock.as_bytes(), shop.as_bytes());
    let read = record::read(Some(&text("clock.toml", clock)), Some(&text("shop.toml", shop)), &mut book);
    let told = || read.troubles.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    let project = read.facts.clone().unwrap_or_else(|| panic!("not read:\n{}", told()));
    let (Some(clock), Some(shop)) = (&project.clock, &project.shop) else { panic!("two texts") };
    let (mut parts, mut troubles) = movement::hardware::parts(clock, &mut book);
    let (decided, more) = movement::design::movement(clock, &mut book);
    troubles.extend(more);
    if let Some(m) = &decided {
        let (found, more) = movement::made::parts(m, clock, &mut book);
        parts.extend(found);
        troubles.extend(more);
    }
    let joints = decided.as_ref().map(|m| movement::joint::joints(m, &parts, &mut book)).unwrap_or_default();
    let around = making::plan::order::Around {
        joints: &joints,
        movement: decided.as_ref(),
        clock: Some(clock),
        ..making::plan::order::Around::default()
    };
    let (making, more) = making::plan::plan_whole(shop, &parts, &around, &mut book);
    troubles.extend(more);
    Work { book, project, parts, making, troubles }
}
/// A text of a shipped example.
pub fn example(name: &str, file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name).join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}
impl Work {
    /// An example as it is shipped.
    pub fn example(name: &str) -> Work {
        work(&example(name, "clock.toml"), &example(name, "shop.toml"))
    }
    /// The shop.
    pub fn shop(&self) -> &record::Shop {
        self.project.shop.as_ref().expect("read")
    }
    /// SI value of a name.
    #[track_caller]
    pub fn si(&self, name: &str) -> f64 {
        let (_, line) = self.book.find(name).unwrap_or_else(|| panic!("no '{name}' in the book"));
        line.si.unwrap_or_else(|| panic!("'{name}' is no number: {}", line.shown))
    }
    /// Millimetres of a name.
    #[track_caller]
    pub fn mm(&self, name: &str) -> f64 {
        self.si(name) * 1e3
    }
    /// Teeth and leaves of all parts.
    pub fn toothings(&self) -> Vec<&movement::part::Toothing> {
        let mut all = Vec::new();
        for p in &self.parts {
            match &p.body {
                movement::part::Body::Turned(t) => all.extend(&t.leaves),
                movement::part::Body::Flat(f) => all.extend(&f.teeth),
            }
        }
        all
    }
    /// Rows of a worked table.
    #[track_caller]
    pub fn rows(&self, name: &str) -> &[Vec<Cell>] {
        let (_, line) = self.book.find(name).unwrap_or_else(|| panic!("no '{name}' in the book"));
        let Origin::Table { rows, .. } = &line.origin else { panic!("'{name}' is no table") };
        rows
    }
    /// Width of the flat of the shop's threading tool, millimetres.
    pub fn threading_tip(&self) -> f64 {
        let tool = self.shop().cutters.iter().find(|c| c.of == record::facts::CutterUse::Threading);
        tool.and_then(|c| c.size).map_or(0.0, |s| mm(s.bare()))
    }
    /// Every operation of every part, with its part and set-up.
    pub fn operations(&self) -> impl Iterator<Item = (&Part, &SetUp, &Operation)> {
        self.making.parts.iter().flat_map(move |p| {
            let part = &self.parts[p.part];
            p.setups.iter().flat_map(move |s| s.operations.iter().map(move |o| (part, s, o)))
        })
    }
    /// Whether a verdict that is there holds.
    pub fn holds(&self, name: &str) -> bool {
        let verdict = self.book.find(name).map(|(_, l)| &l.origin);
        !matches!(verdict, Some(Origin::Verdict { holds: false, .. }))
    }
}
/// Turns and divisions as a dial text tells them: `1 turn + 42.5 div`.
pub fn turns_and_divisions(text: &str) -> Option<(f64, f64)> {
    let (turns, rest) = match text.split_once(" + ") {
        Some((turns, rest)) => (turns.trim_end_matches('s').strip_suffix(" turn")?.parse().ok()?, rest),
        None => (0.0, text),
    };
    Some((turns, rest.strip_suffix(" div")?.parse().ok()?))
}
/// A length in millimetres within a hundredth of a micrometre of another.
pub fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-5
}
/// Millimetres.
pub fn mm(l: Length) -> f64 {
    l.value() * 1e3
}

/// Threads and their major diameters in millimetres (ISO 261; BS 93; ASME B1.1).
pub const THREADS: [(&str, f64); 14] = [
    ("M2", 2.0),
    ("M2.5", 2.5),
    ("M3", 3.0),
    ("M4", 4.0),
    ("M5", 5.0),
    ("M6", 6.0),
    ("M8", 8.0),
    ("8 BA", 2.2),
    ("6 BA", 2.8),
    ("4 BA", 3.6),
    ("2 BA", 4.7),
    ("4-40 UNC", 2.845),
    ("6-32 UNC", 3.505),
    ("10-32 UNF", 4.826),
];
fn metal() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["brass CZ120", "silver steel", "mild steel", "phosphor bronze"])
}
/// A number of millimetres in tenths, as text.
fn tenths(from: f64, to: f64) -> impl Strategy<Value = f64> {
    #[expect(clippy::cast_possible_truncation, reason = "tenths of a millimetre of a small part")]
    let (a, b) = ((from * 10.0).round() as i64, (to * 10.0).round() as i64);
    #[expect(clippy::cast_precision_loss, reason = "tenths of a millimetre of a small part")]
    (a..=b.max(a)).prop_map(|n| n as f64 / 10.0)
}
fn short(x: f64) -> String {
    reckon::print::trimmed(&reckon::print::fixed(x, 4))
}
fn screw() -> impl Strategy<Value = String> {
    (prop::sample::select(THREADS.to_vec()), tenths(5.0, 30.0), 16..24i32, 5..9i32, metal(), 1..25i32, 0..4i32)
        .prop_map(|((thread, d), length, wide, high, metal, count, kind)| {
            let length = length.max(d * 2.5);
            let (wide, high) = (f64::from(wide) / 10.0 * d, f64::from(high) / 10.0 * d);
            let mut t = format!(
                "[[screw]]\nname = \"NAME\"\ncount = {count}\nthread = \"{thread}\"\nlength = \"{} mm\"\nmaterial = \"{metal}\"\n",
                short(length)
            );
            let (wide, high) = (short(wide), short(high));
            match kind {
                0 => t += "head = \"none\"\n",
                1 => {
                    let _ = writeln!(t, "head = {{ diameter = \"{wide} mm\", height = \"{high} mm\", form = \"hexagon\" }}\nslot = \"none\"");
                }
                2 => {
                    let _ = writeln!(t, "head = {{ diameter = \"{wide} mm\", height = \"{high} mm\", chamfer = \"0.1 mm\" }}\nundercut = {{ diameter = \"{} mm\", width = \"1.5 mm\" }}", short(d * 0.6));
                }
                _ => {
                    let _ = writeln!(t, "head = {{ diameter = \"{wide} mm\", height = \"{high} mm\" }}");
                }
            }
            t
        })
}
fn washer() -> impl Strategy<Value = String> {
    (tenths(8.0, 40.0), 20..45i32, tenths(1.0, 6.0), metal(), 1..25i32, 0..4usize, any::<bool>()).prop_map(
        |(outside, share, thick, metal, count, grooves, relief)| {
            let hole = outside * f64::from(share) / 100.0;
            let mut t = format!(
                "[[washer]]\nname = \"NAME\"\ncount = {count}\noutside = \"{} mm\"\nhole = \"{} mm\"\nthickness = \"{} mm\"\nmaterial = \"{metal}\"\n",
                short(outside), short(hole), short(thick)
            );
            let room = (outside - hole) / 2.0;
            if grooves > 0 {
                t += "face_grooves = [";
                for i in 0..grooves {
                    #[expect(clippy::cast_precision_loss, reason = "up to three grooves")]
                    let (k, n) = (i as f64 + 0.5, grooves as f64);
                    let (at, width) = (hole / 2.0 + room * k / n, (room / n * 0.4).min(2.0));
                    let form = ["square", "round", "vee"][i];
                    let _ = write!(t, "{{ diameter = \"{} mm\", width = \"{} mm\", depth = \"{} mm\", form = \"{form}\" }}, ", short(at * 2.0), short(width), short((width / 2.0).min(thick * 0.3)));
                }
                t += "]\n";
            }
            if relief {
                let _ = writeln!(t, "relief = {{ diameter = \"{} mm\", depth = \"0.1 mm\", face = \"back\" }}", short(hole + room * 0.8));
            }
            t
        },
    )
}
fn pillar() -> impl Strategy<Value = String> {
    (tenths(20.0, 60.0), tenths(6.0, 14.0), metal(), 1..7i32, any::<bool>()).prop_map(|(long, d, metal, count, waist)| {
        let mut t = format!(
            "[[pillar]]\nname = \"NAME\"\ncount = {count}\nmaterial = \"{metal}\"\nlength = \"{} mm\"\ndiameter = \"{} mm\"\nends = [{{ spigot = \"{} mm\", length = \"4 mm\" }}, {{ tapped = \"M3\", depth = \"7 mm\" }}]\n",
            short(long), short(d), short(d * 0.6)
        );
        if waist {
            let _ = writeln!(t, "waist = {{ diameter = \"{} mm\", length = \"{} mm\" }}", short(d * 0.8), short(long * 0.6));
        }
        t
    })
}
fn bush() -> impl Strategy<Value = String> {
    (tenths(4.0, 10.0), 2..6i32, tenths(2.0, 10.0), metal(), 1..12i32, any::<bool>()).prop_map(|(d, share, long, metal, count, sink)| {
        let bore = d * f64::from(share) / 10.0;
        let mut t = format!(
            "[[bush]]\nname = \"NAME\"\ncount = {count}\nmaterial = \"{metal}\"\noutside = \"{} mm\"\nbore = \"{} mm\"\nlength = \"{} mm\"\n",
            short(d), short(bore), short(long)
        );
        if sink {
            let _ = writeln!(t, "oil_sink = {{ diameter = \"{} mm\", depth = \"0.4 mm\" }}", short(f64::midpoint(bore, d)));
        }
        t
    })
}
fn collet() -> impl Strategy<Value = String> {
    (tenths(5.0, 14.0), tenths(4.0, 10.0), metal(), 1..5i32).prop_map(|(d, long, metal, count)| {
        format!(
            "[[collet]]\nname = \"NAME\"\ncount = {count}\nmaterial = \"{metal}\"\ndiameter = \"{} mm\"\nlength = \"{} mm\"\nbore = \"{} mm\"\nseat = {{ diameter = \"{} mm\", length = \"1.5 mm\" }}\n",
            short(d), short(long), short(d * 0.4), short(d * 0.7)
        )
    })
}
fn stepped() -> impl Strategy<Value = String> {
    (prop::collection::vec((tenths(1.5, 12.0), tenths(3.0, 18.0)), 1..6), metal(), 1..6i32).prop_map(
        |(steps, metal, count)| {
            let mut t =
                format!("[[turned]]\nname = \"NAME\"\ncount = {count}\nmaterial = \"{metal}\"\nsections = [");
            for (long, d) in steps {
                let _ = write!(t, "{{ length = \"{} mm\", diameter = \"{} mm\" }}, ", short(long), short(d));
            }
            t + "]\n"
        },
    )
}
/// A clock of one to six kinds of part.
pub fn clock() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        3 => screw().boxed(),
        3 => washer().boxed(),
        1 => pillar().boxed(),
        1 => bush().boxed(),
        1 => collet().boxed(),
        2 => stepped().boxed(),
    ];
    prop::collection::vec(part, 1..6).prop_map(|parts| {
        let mut t = "[clock]\nname = \"Any\"\n\n".to_owned();
        for (i, p) in parts.iter().enumerate() {
            t += &p.replacen("NAME", &format!("part {}", i + 1), 1);
            t.push('\n');
        }
        t
    })
}
/// A shop: lathe, drills, tools and bars of any size.
pub fn shop() -> impl Strategy<Value = String> {
    let dial = prop::sample::select(vec![
        "division = \"0.02 mm\", one_turn = \"2 mm\", shows = \"diameter\"",
        "division = \"0.025 mm\", one_turn = \"2.5 mm\", shows = \"travel\"",
        "division = \"0.01 mm\", one_turn = \"1 mm\", shows = \"travel\"",
        "division = \"0.001 in\", one_turn = \"0.1 in\", shows = \"diameter\"",
    ]);
    let speeds = prop::sample::select(vec![
        "{ rpm = [60, 110, 190, 320, 560, 950, 1600, 2400] }",
        "{ rpm = [100, 250, 620, 1550, 3000] }",
        "{ rpm = [45, 90, 180, 360, 720] }",
    ]);
    let feeds = prop::sample::select(vec!["[0.04, 0.06, 0.09]", "[0.02, 0.05]", "[0.12, 0.2]"]);
    let screwcutting = prop::sample::select(vec![
        "",
        "[lathe.screwcutting]\nleadscrew = \"1.5 mm\"\nwheels = [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80]\npitches = [\"0.2 mm\", \"3 mm\"]\nfastest = \"190 rpm\"\ncarriage = \"360 mm/min\"\n",
        "[lathe.screwcutting]\nelectronic = true\npitches = [\"0.1 mm\", \"3 mm\"]\nfastest = \"600 rpm\"\ncarriage = \"200 mm/min\"\n",
    ]);
    let hold = prop::sample::select(vec![
        "[[lathe.hold]]\nkind = \"collet\"\nsizes = { mm = [2, 3, 4, 5, 6, 8, 10, 12] }\ngrip_length = \"22 mm\"\ntotal_grip = \"3500 N\"\n",
        "[[lathe.hold]]\nkind = \"wax\"\ngreatest = \"60 mm\"\n",
        "",
    ]);
    let bar = (metal(), tenths(4.0, 45.0), tenths(60.0, 400.0), 1..4i32).prop_map(|(metal, d, l, n)| {
        format!(
            "[[stock]]\nmaterial = \"{metal}\"\nround = \"{} mm\"\nlength = \"{} mm\"\npieces = {n}\n\n",
            short(d),
            short(l)
        )
    });
    let bars = prop::collection::vec(bar, 0..10).prop_map(|b| b.concat());
    let dies = any::<bool>();
    (dial, speeds, feeds, screwcutting, hold, bars, dies, tenths(8.0, 26.0), -2..3i32).prop_map(
        |(dial, speeds, feeds, screwcutting, hold, bars, dies, bore, height)| {
            let names = THREADS.map(|(n, _)| format!("\"{n}\"")).join(", ");
            format!(
                "[shop]\nname = \"any shed\"\n\n[[lathe]]\nname = \"bench lathe\"\nswing = \"180 mm\"\nswing_over_slide = \"108 mm\"\nbetween_centres = \"320 mm\"\nspindle_bore = \"{} mm\"\nmotor = \"350 W\"\nspeeds = {speeds}\nfeeds = {{ mm = {feeds} }}\ncross_slide = {{ {dial} }}\nlong_slide = {{ division = \"0.02 mm\", one_turn = \"1.5 mm\" }}\ncross_travel = \"105 mm\"\ntop_travel = \"55 mm\"\ntailstock_travel = \"45 mm\"\ntailstock_chuck = [\"0.5 mm\", \"10 mm\"]\ntool_height = \"{} mm\"\n\n{screwcutting}\n[[lathe.hold]]\nkind = \"chuck\"\ngrips = [\"2 mm\", \"65 mm\"]\njaw_length = \"18 mm\"\ntotal_grip = \"4000 N\"\n\n{hold}\n[drills]\nsizes = {{ mm = [0.8, 1, 1.2, 1.5, 1.6, 2, 2.05, 2.5, 3, 3.3, 3.5, 4, 4.2, 5, 6, 6.8, 8, 10] }}\nreamers = {{ mm = [2, 3, 4] }}\n\n[threads]\ntaps = [\"M3\"]\ndies = [{}]\n\n[[cutter]]\nfor = \"turning\"\n\n[[cutter]]\nfor = \"parting\"\nsize = \"1.2 mm\"\nreach = \"14 mm\"\n\n[[cutter]]\nfor = \"threading\"\nangle = \"60 deg\"\nsize = \"0.05 mm\"\ntip = \"flat\"\n\n[[cutter]]\nfor = \"boring\"\nsize = \"4 mm\"\nreach = \"20 mm\"\n\n{bars}",
                short(bore), short(f64::from(height) * 0.05), if dies { names } else { String::new() }
            )
        },
    )
}
