//! Questions about escapements as they were made.

use super::{Done, Taken};
use crate::as_made::{AS_MADE, Corners, Made};
use kurbo::Vec2;
use reckon::ask::{Param, need, or};
use reckon::{Ask, Book, Given, Trouble};

const TEETH: Param = need("teeth", "teeth of the escape wheel");
const RADIUS: Param = need("radius", "of the wheel over its tips, as measured");
const CENTRES: Param = need("centres", "distance of the two arbors, as planted");
const TIP: Param = need("tip", "width of a tooth's tip, at the wheel's arbor");

pub(super) static ASKS: &[Ask] = &[Ask {
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
}];

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
    let m = made_of(&mut t)?.evaluated().map_err(|a| t.amiss(&a))?;
    t.tell_rad("lift_entry", m.lift_entry, "unlocking − let-off of the entry pallet", &AS_MADE);
    t.tell_rad("lift_exit", m.lift_exit, "let-off − unlocking of the exit pallet", &AS_MADE);
    t.tell_rad("lock_entry", m.lock_entry, "let-off of the exit − unlocking of the entry", &AS_MADE);
    t.tell_rad("lock_exit", m.lock_exit, "let-off of the entry − unlocking of the exit", &AS_MADE);
    t.tell_rad("drop_out", m.drop_out, "tooth at X1 − tooth at E2 − tip, within a pitch", &AS_MADE);
    t.tell_rad("drop_in", m.drop_in, "tooth at E1 − tooth at X2 − tip, within a pitch", &AS_MADE);
    t.tell_rad("drops_apart", m.drop_out - m.drop_in, "drop out − drop in", &AS_MADE);
    t.tell_rad("least_arc", m.least_arc(), "half the turn between the two let-offs", &AS_MADE);
    if let Some(arc) = t.rad_if("arc")? {
        t.tell_rad("run", arc - m.least_arc(), "swing − least swing", &AS_MADE);
    }
    Ok(())
}
