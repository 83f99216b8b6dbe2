//! Pivots, their holes, and rings pressed on arbors.

use super::{Done, ask, more, need, one_of, or, some, within};
use crate::load::{self, Place, RUBBING};
use reckon::{
    Angle, Ask, Book, Diameter, Force, Given, Length, PerKelvin, Pressure, Ratio, TemperatureDifference,
    Torque, Val, work,
};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.pivot",
        "pressure, stress and friction of a pivot",
        &[
            need("load", "on the pivot"),
            need("diameter", "of the pivot"),
            need("length", "in its hole"),
            or("friction", "0.15", "between pivot and hole"),
            or("place", "train", "great, train or escape"),
            or("torque", "0 N mm", "that the pivot passes, such as a winding arbor's"),
        ],
        &["pressure", "allowed", "presses", "bending", "bears", "torsion", "friction_torque", "starting"],
        r#"load="6 N" diameter="1 mm" length="1.5 mm""#,
        pivot,
    ),
    ask(
        "power.lean",
        "how far a pivot can lean in its hole",
        &[
            or("clearance", "", "hole less pivot; or give both"),
            or("hole", "", "diameter of the hole"),
            or("pivot", "", "diameter of the pivot"),
            need("length", "of the hole"),
        ],
        &["lean", "good"],
        r#"hole="0.83 mm" pivot="0.80 mm" length="1.5 mm""#,
        lean,
    ),
    ask(
        "power.press",
        "pressure and hold of a ring pressed on a solid arbor",
        &[
            need("interference", "on diameter"),
            need("arbor", "diameter of the arbor"),
            need("outside", "diameter of the ring"),
            or("modulus", "205 GPa", "of the arbor"),
            or("poisson", "0.29", "of the arbor"),
            or("ring_modulus", "100 GPa", "of the ring"),
            or("ring_poisson", "0.34", "of the ring"),
            or("length", "4 mm", "of the seat"),
            or("friction", "0.15", "between them"),
        ],
        &["pressure", "hoop", "slips_at"],
        r#"interference="10 um" arbor="4 mm" outside="10 mm""#,
        press,
    ),
    ask(
        "power.warm_clearance",
        "how warmth changes the clearance of a pivot",
        &[
            need("diameter", "of the pivot"),
            or("plate", "20.5 ppm/K", "growth of the plate"),
            or("pivot", "10.9 ppm/K", "growth of the pivot"),
            need("rise", "of temperature"),
        ],
        &["change"],
        r#"diameter="1 mm" rise="20 K""#,
        warm,
    ),
    ask(
        "power.friction",
        "friction of a pair, low, likely and high",
        &[need("pair", "such as: clock pivot; brass on steel, dry; steel in ruby")],
        &["low", "likely", "high"],
        r#"pair="clock pivot""#,
        friction,
    ),
];

fn pivot(g: &Given<'_>, book: &mut Book) -> Done {
    let (load, d): (Val<Force>, Val<Diameter>) = (some(g, book, "load")?, more(g, book, "diameter")?);
    let length: Val<Length> = more(g, book, "length")?;
    let mu = within(g, book, "friction", Ratio::ZERO, Ratio::si(1.0))?;
    let place: Place = one_of(g, "place", &load::PLACES)?;
    let torque: Val<Torque> = some(g, book, "torque")?;
    let p = work!(
        book,
        "pressure",
        |load, d, length| Pressure::si(load::pivot_pressure(load.value(), d.value(), length.value())),
        &load::PIVOT
    );
    let allowed = book.tabled(
        "allowed",
        Pressure::si(place.allowed() * 1e6),
        "oiled brass hole there",
        &load::PRESSURE,
    );
    reckon::judge!(
        book,
        "presses",
        "the hole bears the pressure",
        |p, allowed| p <= allowed,
        &load::PRESSURE
    );
    let s = work!(
        book,
        "bending",
        |load, d, length| Pressure::si(load::pivot_bending(load.value(), d.value(), length.value())),
        &load::PIVOT
    );
    let most = book.tabled("most", Pressure::si(load::PIVOT_BENDING * 1e6), "hard steel", &load::PRESSURE);
    reckon::judge!(book, "bears", "the pivot bears the bending", |s, most| s <= most, &load::PRESSURE);
    work!(book, "torsion", |torque, d| Pressure::si(load::torsion(torque.value(), d.value())), &load::PIVOT);
    let t = work!(
        book,
        "friction_torque",
        |mu, load, d| Torque::si(load::pivot_friction(mu.value(), load.value(), d.value())),
        &load::FRICTION
    );
    let start =
        book.tabled("start", Ratio::si(load::STARTING_FACTOR), "starting over running", &load::STARTING);
    work!(book, "starting", |t, start| t * start, &load::STARTING);
    Ok(())
}
fn lean(g: &Given<'_>, book: &mut Book) -> Done {
    let c: Val<Length> = if g.has("clearance") {
        more(g, book, "clearance")?
    } else if g.has("hole") && g.has("pivot") {
        let (hole, pivot): (Val<Diameter>, Val<Diameter>) = (more(g, book, "hole")?, more(g, book, "pivot")?);
        if pivot.bare() >= hole.bare() {
            return Err(g.trouble("pivot", "the pivot is as large as its hole: it cannot enter"));
        }
        work!(book, "between", |hole, pivot| hole - pivot, &reckon::source::GEOMETRY)
    } else {
        return Err(g.trouble("clearance", "give 'clearance', or 'hole' and 'pivot'"));
    };
    let length: Val<Length> = more(g, book, "length")?;
    let lean = work!(book, "lean", |c, length| Angle::si(load::lean(c.value(), length.value())), &load::LEAN);
    reckon::judge!(
        book,
        "good",
        "the lean is between 1 and 4 degrees",
        |lean| lean >= Angle::deg(1.0) && lean <= Angle::deg(4.0),
        &reckon::source::HOUSE
    );
    Ok(())
}
fn press(g: &Given<'_>, book: &mut Book) -> Done {
    let interference: Val<Length> = some(g, book, "interference")?;
    let (d, out): (Val<Diameter>, Val<Diameter>) = (more(g, book, "arbor")?, more(g, book, "outside")?);
    if d.bare() >= out.bare() {
        return Err(g.trouble("outside", "the ring has no wall"));
    }
    let (es, ns): (Val<Pressure>, Val<Ratio>) =
        (more(g, book, "modulus")?, within(g, book, "poisson", Ratio::ZERO, Ratio::si(0.5))?);
    let (eh, nh): (Val<Pressure>, Val<Ratio>) =
        (more(g, book, "ring_modulus")?, within(g, book, "ring_poisson", Ratio::ZERO, Ratio::si(0.5))?);
    let length: Val<Length> = more(g, book, "length")?;
    let mu = within(g, book, "friction", Ratio::ZERO, Ratio::si(1.0))?;
    let p = work!(
        book,
        "pressure",
        |interference, d, out, eh, nh, es, ns| Pressure::si(load::press(
            interference.value(),
            d.value(),
            out.value(),
            (eh.value(), nh.value()),
            (es.value(), ns.value())
        )),
        &load::PRESSED
    );
    work!(book, "hoop", |p, d, out| p * load::ring_factor(d.value(), out.value()), &load::PRESSED);
    work!(
        book,
        "slips_at",
        |mu, p, d, length| Torque::si(load::press_slip(mu.value(), p.value(), d.value(), length.value())),
        &load::PRESSED
    );
    Ok(())
}
fn warm(g: &Given<'_>, book: &mut Book) -> Done {
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let (plate, pivot): (Val<PerKelvin>, Val<PerKelvin>) = (g.take(book, "plate")?, g.take(book, "pivot")?);
    let rise: Val<TemperatureDifference> = g.take(book, "rise")?;
    work!(book, "change", |d, plate, pivot, rise| d.across() * ((plate - pivot) * rise), &load::WARMTH);
    Ok(())
}
fn friction(g: &Given<'_>, book: &mut Book) -> Done {
    let words: Vec<(&'static str, usize)> = RUBBING.iter().enumerate().map(|(i, r)| (r.what, i)).collect();
    let row = &RUBBING[one_of(g, "pair", &words)?];
    for (name, x) in [("low", row.low), ("likely", row.likely), ("high", row.high)] {
        book.tabled(name, Ratio::si(x), row.what, row.source);
    }
    Ok(())
}
