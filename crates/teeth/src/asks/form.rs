//! Factors of the tooth: addenda, ogives, recess action, lanterns.

use super::{Done, PINION, WHEEL, ask, fit, more, need, one_of, or, teeth, within};
use crate::curve::{self, Form, OGIVE, PRACTICAL, Roll, Unfit};
use crate::form::{self, ADDENDUM, Carry, LANTERN, RECESS};
use reckon::{Angle, Ask, Book, Count, Given, Ratio, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "teeth.addendum",
        "addendum and ogive radius of a clock wheel, in modules",
        &[WHEEL, PINION],
        &["theoretical", "addendum", "radius", "closer_radius", "closer_gap"],
        r#"wheel="64" pinion="8""#,
        addendum,
    ),
    ask(
        "teeth.recess",
        "how long a tooth drives after the line of centres",
        &[
            WHEEL,
            PINION,
            or("cut", "0.95", "share of the theoretical addendum that is left standing"),
            or("pins", "no", "yes when the pinion is a lantern"),
            or("pin", "1.05", "diameter of a pin in modules: of a lantern"),
            or("backlash", "0.10", "play in modules: of a lantern"),
        ],
        &["recess", "turn", "carry"],
        r#"wheel="80" pinion="10""#,
        recess,
    ),
    ask(
        "teeth.lantern_form",
        "factors of a wheel that drives a lantern, in modules",
        &[
            WHEEL,
            need("pins", "pins of the lantern"),
            or("pin", "1.05", "diameter of a pin in modules"),
            or("backlash", "0.10", "play in modules"),
        ],
        &["theoretical", "addendum", "start", "tooth"],
        r#"wheel="64" pins="8""#,
        lantern,
    ),
];

/// A count as the curves take it; the question has already refused what does not fit.
fn plain(n: Count) -> u32 {
    u32::try_from(n.0).unwrap_or(0)
}
fn worth(r: Result<f64, Unfit>) -> Ratio {
    Ratio::si(r.unwrap_or(f64::NAN))
}
fn theoretical_addendum(z: Count, leaves: Count) -> Ratio {
    worth(curve::theoretical_addendum(plain(z), plain(leaves)))
}
fn addendum(g: &Given<'_>, book: &mut Book) -> Done {
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    fit(g, "wheel", curve::theoretical_addendum(zn, pn))?;
    let f = work!(book, "theoretical", |z, p| theoretical_addendum(z, p), &ADDENDUM);
    work!(book, "addendum", |f| f * PRACTICAL, &ADDENDUM);
    work!(book, "radius", |f| f * OGIVE, &ADDENDUM);
    work!(
        book,
        "closer_radius",
        |z, p| worth(curve::closer_ogive(plain(z), plain(p)).map(|c| c.0)),
        &ADDENDUM
    );
    work!(book, "closer_gap", |z, p| worth(curve::closer_ogive(plain(z), plain(p)).map(|c| c.1)), &ADDENDUM);
    Ok(())
}
fn recess_turn(z: Count, p: Count, cut: Ratio) -> Angle {
    Angle::si(curve::recess(plain(z), plain(p), Form::Epicycloid, cut.value()).map_or(f64::NAN, |r| r.turn))
}
fn pin_recess_turn(z: Count, p: Count, cut: Ratio, pin: Ratio, backlash: Ratio) -> Angle {
    let form = Form::Lantern { pin_radius: pin.value() / 2.0, backlash: backlash.value() };
    Angle::si(curve::recess(plain(z), plain(p), form, cut.value()).map_or(f64::NAN, |r| r.turn))
}
fn recess(g: &Given<'_>, book: &mut Book) -> Done {
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let cut: Val<Ratio> = within(g, book, "cut", Ratio::si(0.5), Ratio::si(1.0))?;
    let turn = if one_of(g, "pins", &[("yes", true), ("no", false)])? {
        let (pin, backlash) = pin_and_play(g, book)?;
        let form = Form::Lantern { pin_radius: pin.bare().value() / 2.0, backlash: backlash.bare().value() };
        fit(g, "pin", curve::recess(zn, pn, form, cut.bare().value()))?;
        work!(book, "turn", |z, p, cut, pin, backlash| pin_recess_turn(z, p, cut, pin, backlash), &LANTERN)
    } else {
        fit(g, "wheel", curve::recess(zn, pn, Form::Epicycloid, cut.bare().value()))?;
        work!(book, "turn", |z, p, cut| recess_turn(z, p, cut), &RECESS)
    };
    let pitches = work!(book, "recess", |turn, z| turn * z / Angle::si(2.0 * reckon::maths::PI), &RECESS);
    let carry = Carry::of(pitches.bare().value());
    book.chosen(
        "carry",
        carry.says().to_owned(),
        "one pitch or more after the line of centres",
        Vec::new(),
        vec![pitches.id()],
        &RECESS,
    );
    Ok(())
}
/// Diameter of a pin and the play, in modules.
pub(super) fn pin_and_play(
    g: &Given<'_>,
    book: &mut Book,
) -> Result<(Val<Ratio>, Val<Ratio>), reckon::Trouble> {
    Ok((more(g, book, "pin")?, within(g, book, "backlash", Ratio::si(0.0), Ratio::si(1.0))?))
}
fn lantern(g: &Given<'_>, book: &mut Book) -> Done {
    let ((z, zn), (pins, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pins", 3)?);
    let (pin, backlash) = pin_and_play(g, book)?;
    fit(g, "pin", form::lantern_sizes(1.0, zn, pn, pin.bare().value() / 2.0, backlash.bare().value()))?;
    let f = work!(
        book,
        "theoretical",
        |z, pins, pin, backlash| worth(
            Roll::lantern(plain(z), plain(pins), pin.value() / 2.0, backlash.value())
                .map(|r| r.theoretical_addendum())
        ),
        &LANTERN
    );
    work!(book, "addendum", |f| f * PRACTICAL, &LANTERN);
    work!(
        book,
        "start",
        |z, pins, pin| Angle::si(
            curve::lantern_start(plain(z), plain(pins), pin.value() / 2.0).unwrap_or(f64::NAN)
        ),
        &LANTERN
    );
    work!(book, "tooth", |pin, backlash| Ratio::si(reckon::maths::PI) - pin - backlash, &LANTERN);
    Ok(())
}
