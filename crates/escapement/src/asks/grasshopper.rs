//! Questions about grasshoppers.

use reckon::ask::{Param, need, or};
use reckon::{Angle, Ask, Book, Cell, Given, Id, Length, Ratio, Trouble, Val, work};

use crate::grasshopper::{
    Action, ArmShape, CYCLE, Cycle, Design, Joints, Linkage, MEAN, PHASE, Quotients, RATIO, Sensitivity,
    Side, Solved, cycle, least_gap, lengths_for, sensitivities, solve,
};

type Done = Result<(), Trouble>;

const TEETH: Param = need("teeth", "teeth of the escape wheel");
const SPAN: Param = need("span", "whole pitches between the arms; the mean span is half a pitch more");
const TIP: Param = need("tip_radius", "radius of the tooth tips");
const HALF: Param = need("half_arc", "half the escaping arc");
const SWING: Param =
    or("swing", "", "angle to which the frame swings on either side; half a degree past the arc if left out");
const ENTRY_ACTION: Param = or("entry_action", "push", "how the tooth works on the entry arm: push or pull");
const EXIT_ACTION: Param = or("exit_action", "push", "how the tooth works on the exit arm: push or pull");

const PLACES: [&str; 9] = [
    "distance",
    "entry_radius",
    "entry_bearing",
    "entry_x",
    "entry_y",
    "exit_radius",
    "exit_bearing",
    "exit_x",
    "exit_y",
];

/// Questions of this subject.
pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "grasshopper.twin",
        says: "joints, torque and both beats of a grasshopper with a joint for each arm",
        takes: &[
            TEETH,
            SPAN,
            TIP,
            HALF,
            need("entry_arm", "length of the entry arm, joint to nib"),
            need("exit_arm", "length of the exit arm"),
            ENTRY_ACTION,
            EXIT_ACTION,
            SWING,
        ],
        gives: &[
            PLACES[0],
            PLACES[1],
            PLACES[2],
            PLACES[3],
            PLACES[4],
            PLACES[5],
            PLACES[6],
            PLACES[7],
            PLACES[8],
            "entry_start",
            "entry_end",
            "exit_start",
            "exit_end",
            "mean",
            "mean_entry",
            "mean_exit",
            "entry_catch",
            "exit_catch",
            "entry_recoil",
            "exit_recoil",
            "entry_stop",
            "exit_stop",
            "entry_gap",
            "exit_gap",
            "hundredths",
        ],
        example: r#"teeth=60 span=13 tip_radius="48 mm" half_arc="3.5 deg" entry_arm="50 mm" exit_arm="50 mm" exit_action=pull"#,
        run: twin,
    },
    Ask {
        name: "grasshopper.single",
        says: "joint, arms, torque and both beats of a grasshopper with both arms on one joint",
        takes: &[TEETH, SPAN, TIP, HALF, SWING],
        gives: &[
            PLACES[0],
            PLACES[1],
            PLACES[2],
            PLACES[3],
            PLACES[4],
            "arm",
            "entry_start",
            "entry_end",
            "exit_start",
            "exit_end",
            "mean",
            "mean_entry",
            "mean_exit",
            "entry_catch",
            "exit_catch",
            "entry_recoil",
            "exit_recoil",
            "entry_stop",
            "exit_stop",
            "entry_gap",
            "exit_gap",
            "hundredths",
        ],
        example: r#"teeth=120 span=17 tip_radius="75 mm" half_arc="5 deg""#,
        run: single,
    },
    Ask {
        name: "grasshopper.lengths",
        says: "lengths of twin-jointed arms for a wanted growth of torque over each beat",
        takes: &[
            TEETH,
            SPAN,
            TIP,
            HALF,
            or("entry_grows", "1.5", "torque as the entry arm lets go over that as it catches"),
            or("exit_grows", "1.5", "the same of the exit arm"),
            ENTRY_ACTION,
            EXIT_ACTION,
        ],
        gives: &[
            "entry_arm",
            "exit_arm",
            PLACES[0],
            PLACES[1],
            PLACES[2],
            PLACES[5],
            PLACES[6],
            "entry_start",
            "entry_end",
            "exit_start",
            "exit_end",
            "mean",
        ],
        example: r#"teeth=120 span=17 tip_radius="75 mm" half_arc="5 deg""#,
        run: lengths,
    },
];

/// What all three questions take.
struct Taken {
    teeth: u32,
    span: u32,
    tip: f64,
    half: Val<Angle>,
    ids: Vec<Id>,
}

fn taken(g: &Given<'_>, book: &mut Book) -> Result<Taken, Trouble> {
    let (teeth, span) = (g.count(book, "teeth")?, g.count(book, "span")?);
    let whole = |name: &str, n: i64| {
        u32::try_from(n)
            .map_err(|_| g.trouble(name, format!("'{name}' must be a number that a wheel can have")))
    };
    let (z, k) = (whole("teeth", teeth.bare().0)?, whole("span", span.bare().0)?);
    let tip: Val<Length> = g.take(book, "tip_radius")?;
    let half: Val<Angle> = g.take(book, "half_arc")?;
    let ids = vec![teeth.id(), span.id(), tip.id(), half.id()];
    Ok(Taken { teeth: z, span: k, tip: mm(tip), half, ids })
}
fn mm(v: Val<Length>) -> f64 {
    v.bare().value() * 1e3
}
fn action(g: &Given<'_>, name: &str) -> Result<Action, Trouble> {
    match g.word(name)?.trim() {
        "push" => Ok(Action::Push),
        "pull" => Ok(Action::Pull),
        other => {
            Err(g.trouble(name, format!("'{other}' is not a way to work on an arm")).cure("push or pull"))
        }
    }
}
fn refused(g: &Given<'_>, at: &str, e: crate::grasshopper::NoSolution) -> Trouble {
    let t = g.trouble(at, e.why);
    match e.cure {
        Some(cure) => t.cure(cure),
        None => t,
    }
}

/// Place of the arbors and joints.
fn placed(book: &mut Book, s: &Solved, ids: &[Id], sides: &[Side]) {
    let l = &s.linkage;
    let method = if s.bracketed { "bracketed, then Newton's method" } else { "Newton's method" };
    let mut length = |name: &str, v: f64| {
        book.solved(name, Length::mm(v), (method, s.rounds, s.residual), ids.to_vec(), &PHASE);
    };
    length("distance", l.distance);
    for &side in sides {
        let (word, j) = (side.word(), l.strut(side).joint);
        length(&format!("{word}_radius"), j.hypot());
        length(&format!("{word}_x"), j.x);
        length(&format!("{word}_y"), j.y);
    }
    for &side in sides {
        let j = l.strut(side).joint;
        let bearing = crate::frame::bearing(j);
        let turn = if bearing < 0.0 { bearing + 2.0 * reckon::maths::PI } else { bearing };
        let name = format!("{}_bearing", side.word());
        book.solved(name, Angle::si(turn), (method, s.rounds, s.residual), ids.to_vec(), &PHASE);
    }
}
/// Torque ratios at the ends of both beats and the mean by both ways.
fn torque(g: &Given<'_>, book: &mut Book, l: &Linkage, t: &Taken) -> Done {
    let e = t.half.bare().value();
    let lost = || g.trouble("half_arc", "an arm does not reach its tooth over the whole arc");
    for side in Side::BOTH {
        let (from, to) = (-side.turn() * e, side.turn() * e);
        for (at, word) in [(from, "start"), (to, "end")] {
            let ratio = l.pose(side, at).ok_or_else(lost)?.ratio().abs();
            let name = format!("{}_{word}", side.word());
            book.solved(
                name,
                Ratio::si(ratio),
                ("moments of the line of action", 1, 0.0),
                t.ids.clone(),
                &RATIO,
            );
        }
        let mean = l.mean_ratio(side, from, to).ok_or_else(lost)?.abs();
        let how = ("Simpson's rule over the ratio by moments", 200, 1e-9);
        book.solved(format!("mean_{}", side.word()), Ratio::si(mean), how, t.ids.clone(), &RATIO);
    }
    let pitch = l.pitch();
    let half_pitch = book.solved(
        "half_pitch",
        Angle::si(pitch / 2.0),
        ("half a turn over the teeth", 1, 0.0),
        t.ids.clone(),
        &MEAN,
    );
    let half_arc = t.half;
    work!(book, "mean", |half_pitch, half_arc| half_pitch / (half_arc * 2.0), &MEAN);
    Ok(())
}
/// Both beats at the swing.
fn beats(g: &Given<'_>, book: &mut Book, l: &Linkage, t: &Taken) -> Done {
    let half_arc = t.half;
    let swing = match g.take_if::<Angle>(book, "swing")? {
        Some(s) => s,
        None => work!(book, "swing_taken", |half_arc| half_arc + Angle::deg(0.5), &CYCLE),
    };
    let amount = swing.bare().value();
    if amount <= t.half.bare().value() {
        return Err(g
            .trouble("swing", "the frame must swing beyond the escaping arc, or no arm ever catches")
            .cure("half a degree more than half the arc makes the catch sure"));
    }
    let c: Cycle = cycle(l, amount).map_err(|e| g.trouble("swing", e.to_string()))?;
    let mut ids = t.ids.clone();
    ids.push(swing.id());
    let how = || ("taken through both beats", 1, c.handover);
    let mut angle = |name: String, v: f64| {
        book.solved(name, Angle::si(v), how(), ids.clone(), &CYCLE);
    };
    for side in Side::BOTH {
        let (word, b) = (side.word(), c.beat(side));
        angle(format!("{word}_catch"), b.catches);
        angle(format!("{word}_recoil"), b.recoil);
        angle(format!("{word}_stop"), b.stop);
        angle(format!("{word}_lifts"), b.lifts);
        angle(format!("{word}_leaves"), b.leaves);
    }
    angle("opens".into(), c.opens);
    let shape = ArmShape::usual(l);
    for side in Side::BOTH {
        let (word, b) = (side.word(), c.beat(side));
        let mut length = |name: String, v: f64| {
            book.solved(name, Length::mm(v), how(), ids.clone(), &CYCLE);
        };
        length(format!("{word}_clears"), b.clears);
        length(format!("{word}_reserve"), b.reserve);
        let Some(gap) = least_gap(l, &c, side, amount, &shape) else {
            return Err(g
                .trouble("tip_radius", format!("the {word} arm is too short for nib, bar and boss"))
                .cure("a longer arm, or more teeth"));
        };
        length(format!("{word}_gap"), gap);
    }
    let table = sensitivities(l, amount).map_err(|e| {
        g.trouble("swing", format!("a length a thousandth of a millimetre off, and {e}"))
            .cure("a swing further beyond the escaping arc")
    })?;
    let deg = |v: f64| Cell::of(&Angle::deg(Sensitivity::deg_per_hundredth(v)));
    let share = |v: f64| Cell::of(&Ratio::si(v * 0.01));
    let rows = table.iter().map(|s| {
        vec![
            Cell::word(s.length),
            deg(s.entry_catch),
            deg(s.exit_catch),
            deg(s.entry_recoil),
            deg(s.exit_recoil),
            share(s.entry_torque),
            share(s.exit_torque),
        ]
    });
    let columns = [
        "0.01 mm more of",
        "entry catch",
        "exit catch",
        "entry recoil",
        "exit recoil",
        "entry torque",
        "exit torque",
    ];
    let rule = "difference of two cycles, one length 0.001 mm too great and as much too small, for 0.01 mm";
    book.table("hundredths", &columns, rows.collect(), rule, ids, &CYCLE);
    Ok(())
}
fn twin(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = taken(g, book)?;
    let (entry, exit): (Val<Length>, Val<Length>) = (g.take(book, "entry_arm")?, g.take(book, "exit_arm")?);
    t.ids.extend([entry.id(), exit.id()]);
    let joints = Joints::Twin {
        entry: mm(entry),
        entry_action: action(g, "entry_action")?,
        exit: mm(exit),
        exit_action: action(g, "exit_action")?,
    };
    let s = solve(&design(&t, joints)).map_err(|e| refused(g, "span", e))?;
    placed(book, &s, &t.ids, &Side::BOTH);
    torque(g, book, &s.linkage, &t)?;
    beats(g, book, &s.linkage, &t)
}
fn single(g: &Given<'_>, book: &mut Book) -> Done {
    let t = taken(g, book)?;
    let s = solve(&design(&t, Joints::Single)).map_err(|e| refused(g, "span", e))?;
    placed(book, &s, &t.ids, &[Side::Entry]);
    let how = ("both tangents from one joint are alike", s.rounds, s.residual);
    book.solved("arm", Length::mm(s.linkage.entry.length), how, t.ids.clone(), &PHASE);
    torque(g, book, &s.linkage, &t)?;
    beats(g, book, &s.linkage, &t)
}
fn lengths(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = taken(g, book)?;
    let (entry, exit): (Val<Ratio>, Val<Ratio>) = (g.take(book, "entry_grows")?, g.take(book, "exit_grows")?);
    t.ids.extend([entry.id(), exit.id()]);
    // The search begins at arms of half the tip radius.
    let joints = Joints::Twin {
        entry: t.tip / 2.0,
        entry_action: action(g, "entry_action")?,
        exit: t.tip / 2.0,
        exit_action: action(g, "exit_action")?,
    };
    let wanted = Quotients { entry: entry.bare().value(), exit: exit.bare().value() };
    let (_, s) = lengths_for(&design(&t, joints), wanted).map_err(|e| refused(g, "entry_grows", e))?;
    for (name, side) in [("entry_arm", Side::Entry), ("exit_arm", Side::Exit)] {
        let how = ("Newton's method over both lengths, the linkage solved anew each time", s.rounds, 1e-8);
        book.solved(name, Length::mm(s.linkage.strut(side).length), how, t.ids.clone(), &PHASE);
    }
    placed(book, &s, &t.ids, &Side::BOTH);
    torque(g, book, &s.linkage, &t)
}
fn design(t: &Taken, joints: Joints) -> Design {
    Design { teeth: t.teeth, span: t.span, tip_radius: t.tip, half_arc: t.half.bare().value(), joints }
}
