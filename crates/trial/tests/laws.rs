//! What is written for random turned parts, read again and removed, is the part; spoiled programs are not.

use kurbo::Point;
use making::nc::hand_over::Program;
use making::nc::lathe::sequence::{Do, Work, pieces};
use making::nc::lathe::stage::{
    self, Blade, Bore, Drill, Edge, FaceGroove, Groove, PartOff, Stage, Thread, Tip,
};
use making::nc::lathe::{Cutting, Form, Rung, bore};
use making::nc::{Habits, Machine, write};
use proptest::prelude::*;
use reckon::maths::{PI, tan};
use record::facts::ToolSays;
use shape::profile::Segment;
use shape::segment::Sense;

const WORDS: &[&str] =
    &["G0", "G1", "G2", "G3", "G4", "G18", "G21", "G33", "G90", "G95", "G97", "M0", "M3", "M5", "M30"];
const BLADE: f64 = 1.2;

/// A part that grows towards the chuck, and how it is cut.
#[derive(Clone, Debug)]
struct Made {
    rungs: Vec<Rung>,
    cutting: Cutting,
    drill: Option<Drill>,
    thread: Option<Thread>,
    groove: Option<Groove>,
    face: Option<FaceGroove>,
    bore: Option<Bore>,
    offsets: bool,
}
fn length(rungs: &[Rung]) -> f64 {
    rungs.iter().map(|r| r.length).sum()
}
/// A stretch that ends so large, `more` larger than what stands before it: a cylinder, one with its edge chamfered or
/// rounded, one with a fillet at the foot of the next shoulder, a cone, a bow.
fn stretch(length: f64, radius: f64, more: f64, kind: u32) -> Rung {
    let curved = |pieces: Vec<Segment>| Rung { length, radius, chamfer: 0.0, form: Form::Curved(pieces) };
    let arc = |from: (f64, f64), to: (f64, f64), centre: (f64, f64), sense| {
        let (from, to, centre) = (Point::from(from), Point::from(to), Point::from(centre));
        Segment::Arc { from, to, centre, radius: from.distance(centre), sense }
    };
    let low = radius - 0.8 * more;
    match kind {
        0 => Rung::cylinder(length, radius, 0.0),
        1 => Rung::cylinder(length, radius, 0.2),
        2 => {
            let r = 0.6 * more.min(length);
            curved(vec![arc((0.0, radius - r), (-r, radius), (-r, radius - r), Sense::Left)])
        }
        3 => {
            let r = 0.7 * more.min(length);
            let foot = Point::new(r - length, radius - r);
            let straight = Segment::Line { from: Point::new(0.0, radius - r), to: foot };
            curved(vec![straight, arc(foot.into(), (-length, radius), (foot.x, radius), Sense::Right)])
        }
        4 => Rung { length, radius, chamfer: 0.0, form: Form::Cone { begins: low } },
        _ => {
            let high = (0.8 * more).min(length);
            let r = (length * length + high * high) / (2.0 * high);
            curved(vec![arc((0.0, radius - high), (-length, radius), (-length, radius - r), Sense::Left)])
        }
    }
}
/// Its radius at its free end.
fn begins(r: &Rung) -> f64 {
    match &r.form {
        Form::Straight => r.radius - r.chamfer,
        Form::Cone { begins } => *begins,
        Form::Curved(pieces) => pieces[0].from().y,
    }
}
fn parts() -> impl Strategy<Value = Made> {
    let rung = (1.0..12.0_f64, 0.3..2.0_f64, 0..6_u32);
    let with = (
        prop::option::of((0.8..3.0_f64, 1.0..5.0_f64)),
        prop::option::of((0.35..1.0_f64, 1.5..3.0_f64)),
        prop::option::of((0.0..1.0_f64, 0.2..0.8_f64)),
        prop::option::of((0.6..1.5_f64, 0..3_u32)),
        prop::option::of((0.1..1.5_f64, 0.5..1.0_f64)),
        prop::bool::ANY,
    );
    (prop::collection::vec(rung, 1..5), 0.05..0.6_f64, 0.2..1.5_f64, with).prop_map(
        |(steps, deepest, over, (hole, thread, groove, face, bored, offsets))| {
            let mut radius = 0.8;
            let mut rungs: Vec<Rung> = steps
                .into_iter()
                .map(|(length, more, kind)| {
                    radius += more;
                    stretch(length, radius, more, kind)
                })
                .collect();
            let cutting =
                Cutting { bar: radius + over, deepest, rpm: 800.0, feeds: (0.06, 0.03), beyond: 2.5 };
            // A thread with its room before the first shoulder.
            let thread = thread.map(|(lead, room)| {
                let lead = (lead * 20.0).round() / 20.0;
                let depth = 0.61 * lead;
                let own = &mut rungs[0];
                own.form = Form::Straight;
                own.radius = own.radius.max(1.5);
                own.length = own.length.max(room * lead + 3.0);
                own.chamfer = depth + 0.1;
                let end = own.length;
                let base = own.radius;
                // What begins lower than that is a cylinder, and its corner has no chamfer where it does not stand out.
                for r in &mut rungs[1..] {
                    if begins(r) < base + 0.05 {
                        *r = Rung::cylinder(r.length, r.radius.max(base), 0.0);
                    }
                }
                let shoulder = (rungs.len() > 1).then_some(end);
                let passes = vec![
                    (0.3 * depth, 1),
                    (0.55 * depth, 1),
                    (0.8 * depth, 1),
                    (0.95 * depth, 2),
                    (depth, 3),
                ];
                let to = end - (room * lead).max(depth * 1.2 + 0.8);
                let tip = if room > 2.0 { Tip::Flat(0.125 * lead) } else { Tip::Round(0.14 * lead) };
                Thread {
                    to,
                    shoulder,
                    blank: base,
                    lead,
                    half_angle: 30.0,
                    tip,
                    passes,
                    name: "point".into(),
                    called: "M".into(),
                }
            });
            let bar = rungs.iter().map(|r| r.radius).fold(cutting.bar, f64::max);
            let cutting = Cutting { bar, ..cutting };
            let drill = hole.map(|(across, times)| {
                let across = (across.min(begins(&rungs[0])) * 10.0).round() / 10.0;
                let tip = across * times;
                let dips = vec![(0.4 * tip, false), (0.7 * tip, true), (tip, true)];
                Drill { across, point: 118.0, dips, flutes: 30.0, name: "drill".into() }
            });
            let last = &rungs[rungs.len() - 1];
            // A groove in the last rung, where it is long enough and solid.
            let groove = groove.filter(|_| last.length > 3.2 && drill.is_none()).map(|(at, deep)| {
                let from = length(&rungs) - last.length + 0.5 + at;
                Groove { span: (from, from + 1.7), radius: (last.radius - deep).max(0.5) }
            });
            let groove =
                groove.filter(|_| (rungs.len() > 1 || thread.is_none()) && last.form == Form::Straight);
            let room = begins(&rungs[0]) - 0.2;
            let inner = drill.as_ref().map_or(0.3, |d| 0.5 * d.across + 0.2);
            let face = face.filter(|(width, _)| room - inner > *width).map(|(width, form)| FaceGroove {
                middle: 0.5 * (room + inner),
                width,
                depth: 0.4,
                edge: [Edge::Square, Edge::Round(0.5 * width), Edge::Vee][form as usize],
                name: "form tool".into(),
            });
            // Bored where there is room for a wall.
            let bore = drill.as_ref().zip(bored).and_then(|(d, (more, through))| {
                let drilled = 0.5 * d.across;
                let tip = d.dips.last()?.0 - drilled / tan(59.0 * PI / 180.0);
                let radius = drilled + more;
                (radius < begins(&rungs[0]) - 0.2 && tip > 1.0).then(|| Bore {
                    drilled,
                    radius,
                    depth: tip - 0.1,
                    through: false,
                    deepest: 0.2,
                    enters: d.across * through,
                    reach: 40.0,
                    name: "boring tool".into(),
                })
            });
            let face = face.filter(|_| bore.is_none());
            Made { rungs, cutting, drill, thread, groove, face, bore, offsets }
        },
    )
}
fn habits(offsets: bool) -> Habits {
    Habits {
        bent: true,
        synchronised: true,
        fastest_thread: 500.0,
        tool_word: if offsets { ToolSays::NumberAndOffset } else { ToolSays::Nothing },
        ..Habits::plain(Machine::Lathe, WORDS)
    }
}
fn programs(m: &Made) -> Vec<Program> {
    let (rungs, c) = (&m.rungs, &m.cutting);
    let habits = habits(m.offsets);
    let blade = Blade { width: BLADE, reach: 30.0, name: "blade".into() };
    let mut order: Vec<Stage> = vec![stage::outside(rungs, c, "knife tool").expect("it rises")];
    order.extend(m.drill.iter().flat_map(|d| [stage::spot(d, 900.0), stage::drill(d, 900.0)]));
    order.extend(m.bore.iter().map(|b| bore::bore(b, 600.0).expect("it enters")));
    order.extend(m.face.iter().map(|f| stage::face_groove(f, 300.0)));
    order.extend(m.groove.iter().filter_map(|g| stage::groove(g, rungs, c.bar, &blade, 400.0)));
    order.extend(m.thread.iter().map(|t| stage::thread(t, &habits, 300.0).expect("the slide follows")));
    order.extend(stage::part_off(&PartOff { at: length(rungs) + 0.5, bore: None }, c.bar, &blade, 400.0));
    let order: Vec<Do> = order.into_iter().map(|s| Do::Stage(Box::new(s))).collect();
    let work = Work { name: "part", rungs, cutting: c, order: &order };
    let all = pieces(&work, &habits, [(-1.0, 60.0), (-200.0, 200.0)]);
    let all = all.into_iter().map(|piece| Program {
        name: piece.word.into(),
        title: piece.says,
        part: 0,
        does: making::nc::hand_over::Does::default(),
        machine: "lathe".into(),
        text: write(&piece.acts, &habits).expect("all words are known"),
        set_up: piece.set_up,
        habits: habits.clone(),
        room: 0.01,
        holding: Vec::new(),
        tools: piece.tools,
        after: Vec::new(),
    });
    all.collect()
}
fn faults(p: &Program, text: &str) -> Vec<String> {
    let found = trial::of(p).expect("outlines bound something").prove(text);
    found.misread.iter().chain(&found.faults).map(|f| format!("{} {f}", f.wrong.word())).collect()
}
/// Puts another text for the nth place where one stands.
fn at(text: &str, was: &str, is: &str, n: usize) -> Option<String> {
    let places: Vec<usize> = text.match_indices(was).map(|(i, _)| i).collect();
    let i = *places.get(n.checked_rem(places.len())?)?;
    Some(format!("{}{is}{}", &text[..i], &text[i + was.len()..]))
}
/// A program with something wrong: a word lost, a feed, a depth, a retract, two words changed.
fn spoiled(text: &str, which: usize, n: usize) -> Option<String> {
    match which {
        0 => at(text, " M3\n", "\n", 0),
        1 => Some(text.replace(" F0.0", " F0.6")),
        2 => at(text, "\nM30", "", 0),
        3 => at(text, "G21 ", "", 0),
        // One cut becomes a rapid, or goes much deeper; a boring tool that leaves the wall may do so in a rapid.
        4 if text.starts_with("(PART: BORE") => None,
        4 => at(text, "\nG1 X", "\nG0 X", 0),
        // In the last cut along the outline: before it, less may be left without harm.
        5 => {
            let (head, tail) = text.split_at(text.find("(FINISH").unwrap_or(0));
            at(tail, "\nG1 Z-", "\nG1 Z-1", n).map(|tail| format!("{head}{tail}"))
        }
        // A pass of a thread with another lead, or fed.
        6 => at(text, " K0.", " K1.", n),
        7 => at(text, "\nG33 ", "\nG1 ", n),
        // An arc the other way round; a centre that lies elsewhere. What is smaller than a tenth may be harmless.
        8 => arc(text, n, |line| line.replacen("G3 ", "G2 ", 1)),
        9 => arc(text, n, |line| line.replacen(" K-", " K-1", 1)),
        // A bore turned larger.
        _ => {
            let (head, tail) = text.split_at(text.find("(BORE")?);
            let widest = tail.lines().filter_map(|l| l.strip_prefix("G0 X")?.parse::<f64>().ok());
            let widest = widest.take_while(|x| *x < 20.0).fold(0.0, f64::max);
            let was =
                tail.lines().find(|l| l.strip_prefix("G0 X").is_some_and(|x| x.parse() == Ok(widest)))?;
            Some(format!("{head}{}", tail.replacen(was, &format!("G0 X{:.3}", widest + 0.06), 1)))
        }
    }
}
/// The nth arc that is large enough to matter, changed.
fn arc(text: &str, n: usize, change: impl Fn(&str) -> String) -> Option<String> {
    let far = |line: &str, letter: char| {
        let word = line.split_whitespace().find_map(|w| w.strip_prefix(letter)?.parse::<f64>().ok());
        word.unwrap_or(0.0).abs()
    };
    let arcs: Vec<&str> = text
        .lines()
        .filter(|l| l.starts_with("G3 ") && far(l, 'I').max(far(l, 'K')) > 0.1 && change(l) != *l)
        .collect();
    let line = arcs.get(n.checked_rem(arcs.len())?)?;
    Some(text.replacen(line, &change(line), 1))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_is_written_is_the_part(m in parts()) {
        for p in programs(&m) {
            prop_assert_eq!(faults(&p, &p.text), [""; 0], "{} {:?}", p.text, m);
        }
    }
    #[test]
    fn a_spoiled_program_is_caught(m in parts(), which in 0..11_usize, n in 0..50_usize) {
        for p in programs(&m) {
            let Some(text) = spoiled(&p.text, which, n).filter(|t| *t != p.text) else { continue };
            prop_assert!(!faults(&p, &text).is_empty(), "{} {}", which, text);
        }
    }
    #[test]
    fn a_lost_retract_of_a_drill_is_caught(m in parts()) {
        for p in programs(&m).iter().filter(|p| p.text.contains("(DRILL")) {
            let begins = p.text.find("(DRILL ").expect("it drills");
            let (head, tail) = p.text.split_at(begins);
            // The last two dips run into one.
            let mut cuts = 0;
            let kept: Vec<&str> = tail
                .lines()
                .filter(|line| {
                    cuts += usize::from(line.starts_with("G1 "));
                    !(line.starts_with("G0 Z") && cuts == 2)
                })
                .collect();
            let text = format!("{head}{}\n", kept.join("\n"));
            prop_assert_ne!(&text, &p.text);
            prop_assert!(!faults(p, &text).is_empty(), "{}", text);
        }
    }
}
#[test]
fn a_pass_left_out_is_caught() {
    let rungs = [Rung::cylinder(10.0, 2.0, 0.5)];
    let thread = Thread {
        to: 8.0,
        shoulder: None,
        blank: 2.0,
        lead: 0.7,
        half_angle: 30.0,
        tip: Tip::Flat(0.09),
        passes: vec![(0.2, 1), (0.33, 1), (0.43, 2)],
        name: "point".into(),
        called: "M4".into(),
    };
    let cutting = Cutting { bar: 2.5, deepest: 0.5, rpm: 800.0, feeds: (0.06, 0.03), beyond: 2.5 };
    let m = Made {
        rungs: rungs.to_vec(),
        cutting,
        drill: None,
        thread: Some(thread),
        groove: None,
        face: None,
        bore: None,
        offsets: true,
    };
    let [p] = programs(&m).try_into().expect("one program");
    assert_eq!(faults(&p, &p.text), [""; 0], "{}", p.text);
    // X is a diameter: the first pass runs at 3.6, the second at 3.34.
    let (head, tail) = p.text.split_at(p.text.find("(THREAD").expect("it threads"));
    let pass = tail.find("G0 X3.6\n").expect("the first pass");
    let ends = tail[pass..].find("G0 X3.34").expect("the second") + pass;
    let without = format!("{head}{}{}", &tail[..pass], &tail[ends..]);
    assert!(faults(&p, &without).iter().any(|f| f.starts_with("bite")), "{:?}", faults(&p, &without));
    // One pass with twice the lead: in the half-plane its grooves lie where the others' do, and cross them elsewhere.
    let twice = p.text.replacen(" K0.7\n", " K1.4\n", 1);
    assert_ne!(twice, p.text);
    assert!(faults(&p, &twice).iter().any(|f| f.starts_with("thread-lead")), "{:?}", faults(&p, &twice));
    // Another speed half way; a start that is nearer than the slide needs.
    let other = p.text.replace("G0 X3.34", "S500 M3\nG0 X3.34");
    assert!(faults(&p, &other).iter().any(|f| f.starts_with("thread-speed")), "{:?}", faults(&p, &other));
}
