//! Loads on teeth.

use super::{Done, ask, more, need, one_of, or, some, teeth, within, yes};
use crate::load;
use reckon::{Angle, Ask, Book, Diameter, Force, Given, Length, Pressure, Ratio, Torque, Trouble, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.tooth",
        "force on a tooth, its stress and the width it wants",
        &[
            need("torque", "of the wheel"),
            need("module", "of the teeth"),
            need("teeth", "of the wheel"),
            need("width", "of the face"),
            or("angle", "0 deg", "between force and tangent"),
            or("form", "", "form factor; a clock wheel loaded near its pitch line when left out"),
            or("metal", "brass", "brass, bronze, mild steel or tempered steel"),
            or("leaves", "", "of the pinion that it drives"),
            or("passes", "0.95", "share that the mesh passes"),
        ],
        &["force", "normal", "stress", "allowed", "width_wanted", "bears", "next_torque"],
        r#"torque="336.57 N mm" module="0.7 mm" teeth="144" width="2.5 mm" leaves="12""#,
        tooth,
    ),
    ask(
        "power.lewis",
        "stress of a tooth from the force on it",
        &[
            need("force", "along the tangent"),
            need("width", "of the face"),
            need("module", "of the teeth"),
            need("form", "form factor"),
        ],
        &["stress"],
        r#"force="8 N" width="2.5 mm" module="1 mm" form="0.322""#,
        lewis,
    ),
    ask(
        "power.form",
        "form factor of a tooth",
        &[
            or("teeth", "", "of an involute wheel of 20 degrees, full depth; or give root and lever"),
            or("root", "", "width of the tooth at its root, in modules"),
            or("lever", "", "of the load above the root, in modules"),
        ],
        &["form"],
        r#"root="1.57" lever="2.6""#,
        form,
    ),
    ask(
        "power.hertz",
        "pressure along the line where two flanks touch",
        &[
            need("force", "between them"),
            need("width", "of the face"),
            need("radius", "of both together: r1 r2/(r1 + r2)"),
            or("modulus", "205 GPa", "of the first"),
            or("poisson", "0.29", "of the first"),
            or("modulus2", "100 GPa", "of the second"),
            or("poisson2", "0.34", "of the second"),
        ],
        &["together", "pressure", "wears"],
        r#"force="8 N" width="2.5 mm" radius="1.2 mm""#,
        hertz,
    ),
    ask(
        "power.pin",
        "bending stress of a pin of a lantern pinion",
        &[
            need("force", "on the pin"),
            need("length", "between the shrouds"),
            need("diameter", "of the pin"),
            or("built_in", "yes", "held at both ends; no when it turns loose"),
        ],
        &["stress"],
        r#"force="8 N" length="6 mm" diameter="1.2 mm""#,
        pin,
    ),
];

fn tooth(g: &Given<'_>, book: &mut Book) -> Done {
    let (torque, module): (Val<Torque>, Val<Length>) = (some(g, book, "torque")?, more(g, book, "module")?);
    let z = teeth(g, book, "teeth", 4, 2000)?;
    let width: Val<Length> = more(g, book, "width")?;
    let angle = within(g, book, "angle", Angle::ZERO, Angle::deg(45.0))?;
    let form: Val<Ratio> = if g.has("form") {
        more(g, book, "form")?
    } else {
        let y = Ratio::si(load::cantilever_form(1.57, 1.3));
        book.tabled("form", y, "clock wheel, load near its pitch line", &load::CLOCK_TOOTH)
    };
    let metal = one_of(g, "metal", &load::TOOTH_METALS)?;
    let force = work!(
        book,
        "force",
        |torque, module, z| Force::si(load::tooth_force(torque.value(), module.value(), z.n())),
        &load::FORCE
    );
    work!(book, "normal", |force, angle| force / angle.cos(), &load::FORCE);
    let stress = stress(book, force, width, module, form);
    let allowed = book.tabled(
        "allowed",
        Pressure::si(metal.allowed_bending() * 1e6),
        "bending stress that this metal bears for good",
        &load::ALLOWED,
    );
    work!(
        book,
        "width_wanted",
        |force, allowed, module, form| Length::si(load::width_for(
            force.value(),
            allowed.value(),
            module.value(),
            form.value()
        )),
        &load::LEWIS
    );
    reckon::judge!(
        book,
        "bears",
        "the tooth bears its load",
        |stress, allowed| stress <= allowed,
        &load::ALLOWED
    );
    if g.has("leaves") {
        let leaves = teeth(g, book, "leaves", 3, 2000)?;
        let passes = within(g, book, "passes", Ratio::ZERO, Ratio::si(1.0))?;
        work!(book, "next_torque", |torque, leaves, z, passes| torque * (leaves / z) * passes, &load::FORCE);
    }
    Ok(())
}
fn stress(
    book: &mut Book,
    force: Val<Force>,
    width: Val<Length>,
    module: Val<Length>,
    form: Val<Ratio>,
) -> Val<Pressure> {
    work!(
        book,
        "stress",
        |force, width, module, form| Pressure::si(load::lewis(
            force.value(),
            width.value(),
            module.value(),
            form.value()
        )),
        &load::LEWIS
    )
}
fn lewis(g: &Given<'_>, book: &mut Book) -> Done {
    let (force, width): (Val<Force>, Val<Length>) = (some(g, book, "force")?, more(g, book, "width")?);
    let (module, form): (Val<Length>, Val<Ratio>) = (more(g, book, "module")?, more(g, book, "form")?);
    stress(book, force, width, module, form);
    Ok(())
}
fn form(g: &Given<'_>, book: &mut Book) -> Done {
    if g.has("teeth") {
        let z = teeth(g, book, "teeth", 12, 100_000)?;
        let Some(y) = load::involute_form(z.bare().n()) else {
            return Err(g.trouble("teeth", "the table begins at twelve teeth"));
        };
        book.solved(
            "form",
            Ratio::si(y),
            ("row of the table, even in 1/z between rows", 1, 0.0),
            vec![z.id()],
            &load::FORM,
        );
        return Ok(());
    }
    if !(g.has("root") && g.has("lever")) {
        return Err(g.trouble("teeth", "give 'teeth', or 'root' and 'lever'"));
    }
    let (s, h): (Val<Ratio>, Val<Ratio>) = (more(g, book, "root")?, more(g, book, "lever")?);
    work!(book, "form", |s, h| Ratio::si(load::cantilever_form(s.value(), h.value())), &load::CANTILEVER);
    Ok(())
}
fn poisson(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Ratio>, Trouble> {
    within(g, book, name, Ratio::ZERO, Ratio::si(0.5))
}
fn hertz(g: &Given<'_>, book: &mut Book) -> Done {
    let (force, width): (Val<Force>, Val<Length>) = (some(g, book, "force")?, more(g, book, "width")?);
    let radius: Val<Length> = more(g, book, "radius")?;
    let (e1, n1): (Val<Pressure>, Val<Ratio>) = (more(g, book, "modulus")?, poisson(g, book, "poisson")?);
    let (e2, n2): (Val<Pressure>, Val<Ratio>) = (more(g, book, "modulus2")?, poisson(g, book, "poisson2")?);
    let both = work!(
        book,
        "together",
        |e1, n1, e2, n2| Pressure::si(load::together(e1.value(), n1.value(), e2.value(), n2.value())),
        &load::HERTZ
    );
    let p = work!(
        book,
        "pressure",
        |force, both, width, radius| Pressure::si(load::line_pressure(
            force.value(),
            both.value(),
            width.value(),
            radius.value()
        )),
        &load::HERTZ
    );
    let limit =
        book.tabled("limit", Pressure::si(load::BRASS_LINE_PRESSURE * 1e6), "brass, low end", &load::ALLOWED);
    reckon::judge!(
        book,
        "wears",
        "brass wears slowly at this pressure",
        |p, limit| p <= limit,
        &load::ALLOWED
    );
    Ok(())
}
fn pin(g: &Given<'_>, book: &mut Book) -> Done {
    let (force, length): (Val<Force>, Val<Length>) = (some(g, book, "force")?, more(g, book, "length")?);
    let d: Val<Diameter> = more(g, book, "diameter")?;
    if yes(g, "built_in")? {
        work!(
            book,
            "stress",
            |force, length, d| Pressure::si(load::pin_bending(
                force.value(),
                length.value(),
                d.value(),
                true
            )),
            &load::PIN
        );
    } else {
        work!(
            book,
            "stress",
            |force, length, d| Pressure::si(load::pin_bending(
                force.value(),
                length.value(),
                d.value(),
                false
            )),
            &load::PIN
        );
    }
    Ok(())
}
