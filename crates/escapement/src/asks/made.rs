//! Questions about escapements as they were made.

use super::set_out::dead_beat_of;
use super::{Done, Taken};
use crate::as_made::{AS_MADE, Corners, Made};
use crate::diagnose::{Counted, DIAGNOSIS, causes};
use crate::sensitivity::{PER_HUNDREDTH, SENSITIVITY, Wear, slopes, worn};
use kurbo::Vec2;
use reckon::ask::{Param, need, or};
use reckon::{Angle, Ask, Book, Cell, Given, Length, Ratio, Trouble};

const TEETH: Param = need("teeth", "teeth of the escape wheel");
const RADIUS: Param = need("radius", "of the wheel over its tips, as measured");
const CENTRES: Param = need("centres", "distance of the two arbors, as planted");
const TIP: Param = need("tip", "width of a tooth's tip, at the wheel's arbor");

const SPAN: Param = need("span", "whole teeth that the pallets span; half a pitch is added");
const LIFT: Param = need("lift", "turn of the pallets while a tooth pushes");
const LOCK: Param = need("lock", "turn of the pallets from landing to the corner, as designed");
const DROP: Param = need("drop", "free turn of the wheel, as designed");

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "escapement.as_made",
        says: "lifts, locks and drops of pallets as measured: each corner from the bore, y away from the wheel",
        takes: &[
            TEETH,
            RADIUS,
            CENTRES,
            TIP,
            need("e1", "entry corner that unlocks: x, y"),
            need("e2", "entry corner that lets off: x, y"),
            need("x1", "exit corner that unlocks: x, y"),
            need("x2", "exit corner that lets off: x, y"),
            or("arc", "", "swing from the middle to one side, to tell the run"),
        ],
        gives: &[
            "lift_entry",
            "lift_exit",
            "lock_entry",
            "lock_exit",
            "drop_out",
            "drop_in",
            "drops_apart",
            "least_arc",
        ],
        example: r#"teeth=30 radius="25 mm" centres="35.30534 mm" tip="0.3 deg" e1="-18.5520 mm, -18.0960 mm" e2="-16.6422 mm, -17.4089 mm" x1="17.2396 mm, -16.8175 mm" x2="17.9092 mm, -18.7324 mm""#,
        run: as_made,
    },
    Ask {
        name: "escapement.sensitivity",
        says: "what each size of a dead-beat escapement does to locks, drops and lifts, degrees per 0.01 mm",
        takes: &[TEETH, SPAN, RADIUS, LIFT, LOCK, DROP, TIP],
        gives: &[
            "slopes",
            "centres_lock_entry",
            "centres_lock_exit",
            "centres_drop_out",
            "centres_drop_in",
            "radius_lock_entry",
            "nib_entry_lock_exit",
            "tooth_entry_lock_exit",
            "plane_exit_lock_entry",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg""#,
        run: sensitivity,
    },
    Ask {
        name: "escapement.wear",
        says: "locks and drops of a dead-beat escapement after wear",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            LIFT,
            LOCK,
            DROP,
            TIP,
            or("entry_pit", "0 mm", "depth worn into the entry pallet"),
            or("exit_pit", "0 mm", "depth worn into the exit pallet"),
            or("tips", "0 mm", "length worn off every tip"),
        ],
        gives: &["lift_entry", "lift_exit", "lock_entry", "lock_exit", "drop_out", "drop_in", "least_arc"],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg" tips="0.03 mm""#,
        run: wear,
    },
    Ask {
        name: "escapement.diagnose",
        says: "what is wrong with a dead-beat escapement, from locks and drops counted at the bench",
        takes: &[
            TEETH,
            SPAN,
            RADIUS,
            LIFT,
            LOCK,
            DROP,
            TIP,
            or("lock_in", "", "lock counted on the entry pallet"),
            or("lock_out", "", "lock counted on the exit pallet"),
            or("drop_out", "", "drop counted when the entry pallet lets off"),
            or("drop_in", "", "drop counted when the exit pallet lets off"),
            or("reading", "0.1 deg", "how closely they were counted"),
        ],
        gives: &[
            "causes",
            "cause",
            "out_by",
            "leaves",
            "remedy",
            "alike",
            "gives_lock_in",
            "gives_lock_out",
            "gives_drop_out",
            "gives_drop_in",
        ],
        example: r#"teeth=30 span=7 radius="25 mm" lift="2 deg" lock="0.5 deg" drop="1.5 deg" tip="0.3 deg" drop_in="0.8 deg" drop_out="1.6 deg" lock_in="0.3 deg" lock_out="0.9 deg""#,
        run: diagnose,
    },
];

/// A corner as two lengths between commas.
fn corner(t: &mut Taken<'_, '_>, name: &str) -> Result<Vec2, Trouble> {
    let list = t.given.take_list::<reckon::Length>(t.book, name)?;
    t.ids.extend(list.iter().map(reckon::Val::id));
    match list.as_slice() {
        [x, y] => Ok(Vec2::new(x.bare().in_mm(), y.bare().in_mm())),
        _ => Err(t.given.trouble(name, "a corner is x and y, with a comma between them")),
    }
}
/// Measured sizes and corners.
pub(super) fn made_of(t: &mut Taken<'_, '_>) -> Result<Made, Trouble> {
    let teeth = t.count("teeth")?;
    let (radius, centres, tip) = (t.mm("radius")?, t.mm("centres")?, t.rad("tip")?);
    let corners =
        Corners { e1: corner(t, "e1")?, e2: corner(t, "e2")?, x1: corner(t, "x1")?, x2: corner(t, "x2")? };
    Ok(Made { teeth, radius, centres, tip, corners })
}
fn as_made(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let m = made_of(&mut t)?;
    evaluated(&mut t, &m)?;
    if let Some(arc) = t.rad_if("arc")? {
        let least = m.evaluated().map_err(|a| t.amiss(&a))?.least_arc();
        t.tell_rad("run", arc - least, "swing − least swing", &AS_MADE);
    }
    Ok(())
}
fn evaluated(t: &mut Taken<'_, '_>, made: &Made) -> Done {
    let m = made.evaluated().map_err(|a| t.amiss(&a))?;
    t.tell_rad("lift_entry", m.lift_entry, "unlocking − let-off of the entry pallet", &AS_MADE);
    t.tell_rad("lift_exit", m.lift_exit, "let-off − unlocking of the exit pallet", &AS_MADE);
    t.tell_rad("lock_entry", m.lock_entry, "let-off of the exit − unlocking of the entry", &AS_MADE);
    t.tell_rad("lock_exit", m.lock_exit, "let-off of the entry − unlocking of the exit", &AS_MADE);
    t.tell_rad("drop_out", m.drop_out, "tooth at X1 − tooth at E2 − tip, within a pitch", &AS_MADE);
    t.tell_rad("drop_in", m.drop_in, "tooth at E1 − tooth at X2 − tip, within a pitch", &AS_MADE);
    t.tell_rad("drops_apart", m.drop_out - m.drop_in, "drop out − drop in", &AS_MADE);
    t.tell_rad("least_arc", m.least_arc(), "half the turn between the two let-offs", &AS_MADE);
    Ok(())
}
fn sensitivity(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let made = dead_beat_of(&mut t, Some(0.1))?.made();
    let all = slopes(&made).map_err(|a| t.amiss(&a))?;
    let mut rows = Vec::new();
    for s in &all {
        let figures = [s.lock_entry, s.lock_exit, s.drop_out, s.drop_in, s.lift_entry, s.lift_exit];
        let names = ["lock_entry", "lock_exit", "drop_out", "drop_in", "lift_entry", "lift_exit"];
        let mut row = vec![Cell::of(&s.size.says())];
        for (name, f) in names.into_iter().zip(figures) {
            let f = f * PER_HUNDREDTH;
            t.tell(
                &format!("{}_{name}", s.size.key()),
                f,
                "degrees for 0.01 mm more, by central differences",
                &SENSITIVITY,
            );
            row.push(Cell::of(&Ratio::si(f)));
        }
        rows.push(row);
    }
    let columns = ["size", "lock entry", "lock exit", "drop out", "drop in", "lift entry", "lift exit"];
    t.book.table("slopes", &columns, rows, "degrees for 0.01 mm more", t.ids.clone(), &SENSITIVITY);
    Ok(())
}
fn wear(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let e = dead_beat_of(&mut t, Some(0.1))?;
    let (entry_pit, exit_pit, tips) = (t.mm("entry_pit")?, t.mm("exit_pit")?, t.mm("tips")?);
    for (name, depth) in [("entry_pit", entry_pit), ("exit_pit", exit_pit), ("tips", tips)] {
        if !(0.0..=0.05 * e.sizes.radius).contains(&depth) {
            return Err(g.trouble(name, "between nothing and a twentieth of the wheel's radius"));
        }
    }
    let tooth = e.usual_tooth();
    let wear = Wear { entry_pit, exit_pit, tips, undercut: tooth.undercut, back: tooth.back };
    evaluated(&mut t, &worn(&e.made(), &wear))
}
fn diagnose(g: &Given<'_>, book: &mut Book) -> Done {
    let mut t = Taken::new(g, book);
    let made = dead_beat_of(&mut t, Some(0.1))?.made();
    let counted = Counted {
        lock_entry: t.rad_if("lock_in")?,
        lock_exit: t.rad_if("lock_out")?,
        drop_out: t.rad_if("drop_out")?,
        drop_in: t.rad_if("drop_in")?,
    };
    let reading = t.rad("reading")?;
    let found = causes(&made, &counted, reading).map_err(|a| t.amiss(&a))?;
    let rows = found
        .iter()
        .map(|c| {
            let mut row = vec![
                Cell::of(&c.size.says()),
                Cell::of(&Length::mm(c.out_by)),
                Cell::of(&Angle::si(c.leaves)),
                Cell::of(&c.alike),
                Cell::of(&c.remedy().to_owned()),
            ];
            row.extend(c.gives.iter().map(|a| Cell::of(&Angle::si(*a))));
            row
        })
        .collect();
    let columns = [
        "cause",
        "too large by",
        "leaves",
        "as good as the best",
        "remedy",
        "lock in",
        "lock out",
        "drop out",
        "drop in",
    ];
    t.book.table("causes", &columns, rows, "one size at a time, best first", t.ids.clone(), &DIAGNOSIS);
    let Some(best) = found.first() else { return Err(g.trouble("lock", "no single size explains anything")) };
    let d = &DIAGNOSIS;
    t.word("cause", best.size.says(), "the least remainder", d);
    t.tell_mm("out_by", best.out_by, "least squares over the counted angles", d);
    t.tell_rad("leaves", best.leaves, "root mean square of what is left", d);
    t.word("remedy", best.remedy(), "the sign of the size", d);
    let alike: Vec<String> = found.iter().filter(|c| c.alike).map(|c| c.size.says()).collect();
    t.word("alike", alike.join("; "), "remainders within the reading of the least", d);
    for (name, a) in ["lock_in", "lock_out", "drop_out", "drop_in"].into_iter().zip(best.gives) {
        t.tell_rad(&format!("gives_{name}"), a, "counted less what the cause did", d);
    }
    Ok(())
}
