//! Involute wheels.

use super::{Done, MODULE, ask, more, need, or, teeth, within};
use crate::involute::{self, INVOLUTE, Involute, RACK};
use reckon::{Angle, Ask, Book, Given, Length, Ratio, Val, maths, work};

const ANGLE: reckon::Param = or("angle", "20 deg", "pressure angle of the rack");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "teeth.undercut",
        "least teeth that a full-depth rack does not undercut, and the shift that saves fewer",
        &[ANGLE, or("shift", "0", "shift of the rack in modules"), or("teeth", "8", "teeth wanted")],
        &["least_teeth", "least_shift"],
        r#"angle="20 deg""#,
        undercut,
    ),
    ask(
        "teeth.involute",
        "sizes of an involute wheel, and what the rack does to it",
        &[MODULE, need("teeth", "of the wheel"), or("shift", "0", "shift of the rack in modules"), ANGLE],
        &["pitch_diameter", "outside", "root", "base", "tooth", "tip_width", "sound"],
        r#"module="0.5 mm" teeth="12" shift="0.3""#,
        wheel,
    ),
    ask(
        "teeth.involute_pair",
        "centres and contact of two involute wheels",
        &[
            MODULE,
            need("driver", "teeth of the driver"),
            need("driven", "teeth of the driven"),
            or("driver_shift", "0", "in modules"),
            or("driven_shift", "0", "in modules"),
            ANGLE,
            or("wider", "0 mm", "by which the centres stand wider"),
        ],
        &["centres", "working_angle", "contact_ratio", "play", "contact"],
        r#"module="1 mm" driver="96" driven="12" driver_shift="-0.3" driven_shift="0.3""#,
        pair,
    ),
];

fn angle(g: &Given<'_>, book: &mut Book) -> Result<Val<Angle>, reckon::Trouble> {
    within(g, book, "angle", Angle::deg(10.0), Angle::deg(30.0))
}
fn shift(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Ratio>, reckon::Trouble> {
    within(g, book, name, Ratio::si(-1.0), Ratio::si(1.0))
}
fn undercut(g: &Given<'_>, book: &mut Book) -> Done {
    let (a, x) = (angle(g, book)?, shift(g, book, "shift")?);
    let (z, _) = teeth(g, book, "teeth", 3)?;
    work!(book, "least_teeth", |x, a| (Ratio::si(1.0) - x) * 2.0 / Ratio::si(a.sin() * a.sin()), &INVOLUTE);
    work!(book, "least_shift", |z, a| Ratio::si(1.0 - z.n() * a.sin() * a.sin() / 2.0), &INVOLUTE);
    Ok(())
}
fn wheel(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let (z, zn) = teeth(g, book, "teeth", 4)?;
    let (x, a) = (shift(g, book, "shift")?, angle(g, book)?);
    let gear = Involute::new(zn, x.bare().value(), a.bare().value());
    let d = work!(book, "pitch_diameter", |m, z| (m * z).as_diameter(), &INVOLUTE);
    work!(book, "outside", |d, m, x| d + m * (x + 1.0) * 2.0, &RACK);
    work!(book, "root", |d, m, x| d - m * (Ratio::si(1.25) - x) * 2.0, &RACK);
    work!(book, "base", |d, a| d * a.cos(), &INVOLUTE);
    work!(book, "tooth", |m, x, a| m * (maths::PI / 2.0 + 2.0 * x.value() * a.tan()), &INVOLUTE);
    let how = ("2 r_a (s/(2 r) + inv α − inv α_a)", 1, 1e-15);
    let k =
        book.solved("tip_factor", Ratio::si(gear.tip_width()), how, vec![z.id(), x.id(), a.id()], &INVOLUTE);
    let tip = work!(book, "tip_width", |m, k| m * k, &INVOLUTE);
    book.chosen(
        "sound",
        gear.sound().says(),
        "a land on every tip, no undercut",
        Vec::new(),
        vec![z.id(), x.id(), a.id(), tip.id()],
        &INVOLUTE,
    );
    Ok(())
}
fn pair(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z1, n1), (z2, n2)) = (teeth(g, book, "driver", 4)?, teeth(g, book, "driven", 4)?);
    let (x1, x2) = (shift(g, book, "driver_shift")?, shift(g, book, "driven_shift")?);
    let a = angle(g, book)?;
    let wider: Val<Length> = g.take(book, "wider")?;
    let make = |n, x: Val<Ratio>| Involute::new(n, x.bare().value(), a.bare().value());
    let Some(found) = involute::pair(&make(n1, x1), &make(n2, x2)) else {
        return Err(g.trouble("driven_shift", "with these shifts the wheels cannot be brought together"));
    };
    let from = || vec![z1.id(), z2.id(), x1.id(), x2.id(), a.id()];
    let how = ("inv α_w = inv α + 2 tan α (x₁ + x₂)/(z₁ + z₂), by halving", 100, 1e-15);
    let working = book.solved("working_angle", Angle::si(found.angle), how, from(), &INVOLUTE);
    work!(
        book,
        "centres",
        |m, z1, z2, a, working| m * (z1 + z2) / 2.0 * (a.cos() / working.cos()),
        &INVOLUTE
    );
    let how = ("length of action over base pitch", 1, 1e-15);
    let ratio = book.solved("contact_ratio", Ratio::si(found.contact_ratio), how, from(), &INVOLUTE);
    work!(book, "play", |wider, working| wider * (2.0 * working.tan()), &INVOLUTE);
    let said = if !found.on_flanks {
        "a tip reaches below the base circle of the other wheel: turn it down or shift the rack"
    } else if found.contact_ratio < 1.0 {
        "contact is lost between teeth"
    } else {
        "contact is handed over on the flanks"
    };
    book.chosen(
        "contact",
        said.to_owned(),
        "at least one pitch of action, all on the involutes",
        Vec::new(),
        vec![ratio.id()],
        &INVOLUTE,
    );
    Ok(())
}
