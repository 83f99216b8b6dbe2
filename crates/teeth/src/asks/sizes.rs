//! Sizes in millimetres: wheels, pinions, old work, cutters, blanks.

use super::form::pin_and_play;
use super::{
    Done, FORM, MODULE, PINION, PROFILE, WHEEL, ask, fit, form_of, more, need, one_of, or, profile_of, teeth,
};
use crate::curve::{Form, Leaf, PINION_CLEARANCE, Wheel, practical_addendum};
use crate::form::{
    self, CHORD, Foot, INFEED, LANTERN, LEAF, PITCHES, SPACE, WHEEL as WHEEL_SIZES, infeed as fed,
};
use reckon::source::HOUSE;
use reckon::{Angle, Ask, Book, Count, Diameter, Given, Length, Ratio, Val, maths, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "teeth.wheel",
        "sizes of a clock wheel",
        &[MODULE, WHEEL, PINION, FORM],
        &[
            "pitch_diameter",
            "outside",
            "root",
            "tooth",
            "addendum",
            "depth",
            "radius",
            "chord_width",
            "chord_height",
        ],
        r#"module="0.8 mm" wheel="64" pinion="8""#,
        wheel,
    ),
    ask(
        "teeth.pinion",
        "sizes of a clock pinion, and its distance from the wheel",
        &[MODULE, WHEEL, PINION, PROFILE],
        &[
            "pitch_diameter",
            "outside",
            "root",
            "leaf",
            "depth",
            "radius",
            "foot",
            "backlash",
            "centres",
            "strength",
        ],
        r#"module="0.6 mm" wheel="96" pinion="12" profile="A""#,
        pinion,
    ),
    ask(
        "teeth.chord",
        "width of a tooth as a caliper sees it, and how far below the tip",
        &[
            need("diameter", "of the pitch circle"),
            need("tooth", "width along the pitch circle"),
            or("addendum", "0 mm", "from the pitch circle to the tip"),
        ],
        &["width", "height"],
        r#"diameter="51.2 mm" tooth="1.256637 mm" addendum="1.17968 mm""#,
        chord,
    ),
    ask(
        "teeth.module_of",
        "module of an old wheel, from its size and counts or from its centres",
        &[
            or("outside", "", "diameter over the wheel's tips"),
            or("centres", "", "distance between the centres of the pair"),
            WHEEL,
            PINION,
        ],
        &["module", "diametral"],
        r#"outside="39.20 mm" wheel="60" pinion="8""#,
        module_of,
    ),
    ask(
        "teeth.inch_pitch",
        "module of a diametral pitch",
        &[need("diametral", "teeth for each inch of diameter")],
        &["module"],
        r#"diametral="32""#,
        inch_pitch,
    ),
    ask(
        "teeth.mixed_pitch",
        "what a cutter of a diametral pitch costs on a wheel meant for a module",
        &[need("diametral", "teeth for each inch of diameter"), MODULE, WHEEL, PINION],
        &["equals", "module_is", "off"],
        r#"diametral="32" module="0.8 mm" wheel="64" pinion="8""#,
        mixed_pitch,
    ),
    ask(
        "teeth.lantern",
        "sizes of a lantern pinion and its wheel",
        &[
            MODULE,
            WHEEL,
            need("pins", "pins of the lantern"),
            or("pin", "1.05", "diameter of a pin in modules"),
            or("backlash", "0.10", "play in modules"),
        ],
        &["outside", "root", "tooth", "depth", "pin_diameter", "pin_circle", "pin_to_pin", "disc", "centres"],
        r#"module="0.8 mm" wheel="64" pins="8""#,
        lantern,
    ),
    ask(
        "teeth.cutter",
        "the space between two teeth, as a cutter fills it",
        &[MODULE, WHEEL, PINION, or("of", "wheel", "wheel or pinion"), PROFILE],
        &["width", "root_width", "mouth", "angle", "depth", "cheek_radius", "cheek_aside", "cheek_above"],
        r#"module="1 mm" wheel="64" pinion="8""#,
        cutter,
    ),
    ask(
        "teeth.borrowed_cutter",
        "how far a cutter made for another count errs at the root of a wheel",
        &[MODULE, need("made_for", "teeth of the wheel that the cutter was made for"), WHEEL],
        &["lean", "error"],
        r#"module="1 mm" made_for="64" wheel="96""#,
        borrowed,
    ),
    ask(
        "teeth.infeed",
        "feed from touching a blank as it measures to full depth",
        &[
            need("measured", "diameter of the blank"),
            need("outside", "true diameter over the tips"),
            need("root", "diameter of the root circle"),
            MODULE,
        ],
        &["infeed", "cropped", "tips"],
        r#"measured="39.10 mm" outside="39.16 mm" root="35.4 mm" module="0.6 mm""#,
        infeed,
    ),
];

fn mm(length: f64) -> Length {
    Length::mm(length)
}
/// A ratio found by the curves, entered as solved.
fn factor(book: &mut Book, name: &str, v: f64, from: &[Val<Count>]) -> Val<Ratio> {
    let ids = from.iter().map(Val::id).collect();
    book.solved(name, Ratio::si(v), ("ψ(t) = half-angle, by halving", 100, 1e-15), ids, &form::ADDENDUM)
}
fn wheel(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let w = fit(g, "wheel", Wheel::new(zn, pn, form_of(g)?))?;
    let f = factor(book, "addendum_factor", w.addendum(), &[z, p]);
    let d = work!(book, "pitch_diameter", |m, z| (m * z).as_diameter(), &WHEEL_SIZES);
    let h = work!(book, "addendum", |m, f| m * f, &WHEEL_SIZES);
    work!(book, "outside", |d, h| d + h * 2.0, &WHEEL_SIZES);
    work!(book, "root", |d, m| d - m * maths::PI, &WHEEL_SIZES);
    let s = work!(book, "tooth", |m| m * (maths::PI / 2.0), &WHEEL_SIZES);
    work!(book, "depth", |m, f| m * (f + maths::PI / 2.0), &WHEEL_SIZES);
    let radius = w.arc().map_or(0.0, |a| a.radius);
    let r = factor(book, "radius_factor", radius, &[z, p]);
    work!(book, "radius", |m, r| m * r, &WHEEL_SIZES);
    caliper(book, d, s, h, "chord_width", "chord_height");
    Ok(())
}
fn caliper(book: &mut Book, d: Val<Diameter>, s: Val<Length>, h: Val<Length>, width: &str, height: &str) {
    work!(book, width, |d, s| mm(form::chord(d.in_mm(), s.in_mm(), 0.0).width), &CHORD);
    work!(book, height, |d, s, h| mm(form::chord(d.in_mm(), s.in_mm(), h.in_mm()).height), &CHORD);
}
fn pinion(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let profile = profile_of(g, pn)?;
    let fw = fit(g, "wheel", practical_addendum(zn, pn))?;
    let leaf = fit(g, "pinion", Leaf::new(pn, profile, fw))?;
    let row = format!("profile {profile:?}, {}", if pn <= 10 { "10 leaves or fewer" } else { "11 or more" });
    let s = leaf.sizes();
    let fw = factor(book, "wheel_addendum_factor", fw, &[z, p]);
    let width = book.tabled("leaf_factor", Ratio::si(s.width), row.clone(), &LEAF);
    let f = book.tabled("addendum_factor", Ratio::si(s.addendum), row.clone(), &LEAF);
    let r = book.tabled("radius_factor", Ratio::si(leaf.arc().radius), row, &LEAF);
    let c = book.tabled("clearance_factor", Ratio::si(PINION_CLEARANCE), "clearance at the root", &LEAF);
    let d = work!(book, "pitch_diameter", |m, p| (m * p).as_diameter(), &LEAF);
    let out = work!(book, "outside", |d, m, f| d + m * f * 2.0, &LEAF);
    let root = work!(book, "root", |d, m, fw, c| d - m * (fw + c) * 2.0, &LEAF);
    let b = work!(book, "leaf", |m, width| m * width, &LEAF);
    work!(book, "depth", |out, root| (out - root) / 2.0, &LEAF);
    work!(book, "radius", |m, r| m * r, &LEAF);
    work!(book, "foot", |b, root, d| b * (root / d), &LEAF);
    work!(book, "backlash", |m, width| m * (Ratio::si(maths::PI / 2.0) - width), &LEAF);
    work!(book, "centres", |m, z, p| m * (z + p) / 2.0, &WHEEL_SIZES);
    book.chosen(
        "strength",
        Foot::of(&leaf).says().to_owned(),
        "a foot of at least half the leaf's width",
        Vec::new(),
        vec![root.id(), d.id()],
        &HOUSE,
    );
    Ok(())
}
fn chord(g: &Given<'_>, book: &mut Book) -> Done {
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let s: Val<Length> = more(g, book, "tooth")?;
    let h: Val<Length> = g.take(book, "addendum")?;
    if s.bare() > d.bare().across() {
        return Err(g.trouble("tooth", "a tooth cannot be wider than its wheel"));
    }
    caliper(book, d, s, h, "width", "height");
    Ok(())
}
fn module_of(g: &Given<'_>, book: &mut Book) -> Done {
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let m = if g.has("centres") {
        let a: Val<Length> = more(g, book, "centres")?;
        work!(book, "module", |a, z, p| a * 2.0 / (z + p), &WHEEL_SIZES)
    } else {
        let d: Val<Diameter> = more(g, book, "outside")?;
        let f = factor(book, "addendum_factor", fit(g, "wheel", practical_addendum(zn, pn))?, &[z, p]);
        work!(book, "module", |d, z, f| d.across() / (Ratio::si(z.n()) + f * 2.0), &WHEEL_SIZES)
    };
    work!(book, "diametral", |m| Length::inch(1.0) / m, &PITCHES);
    Ok(())
}
fn inch_pitch(g: &Given<'_>, book: &mut Book) -> Done {
    let dp: Val<Ratio> = more(g, book, "diametral")?;
    work!(book, "module", |dp| Length::inch(1.0) / dp, &PITCHES);
    Ok(())
}
fn mixed_pitch(g: &Given<'_>, book: &mut Book) -> Done {
    let dp: Val<Ratio> = more(g, book, "diametral")?;
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let f = factor(book, "addendum_factor", fit(g, "wheel", practical_addendum(zn, pn))?, &[z, p]);
    let equals = work!(book, "equals", |dp| Length::inch(1.0) / dp, &PITCHES);
    work!(book, "module_is", |m| Length::inch(1.0) / m, &PITCHES);
    work!(book, "off", |equals, m, z, f| (equals - m) * (Ratio::si(z.n()) + f * 2.0), &PITCHES);
    Ok(())
}
fn lantern(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (pins, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pins", 3)?);
    let (pin, backlash) = pin_and_play(g, book)?;
    let (radius, play) = (pin.bare().value() / 2.0, backlash.bare().value());
    let sizes = fit(g, "pin", form::lantern_sizes(1.0, zn, pn, radius, play))?;
    let ids = vec![z.id(), pins.id(), pin.id(), backlash.id()];
    let f = book.solved(
        "addendum_factor",
        Ratio::si(sizes.wheel.addendum),
        ("parallel curves meet on the axis, by halving", 100, 1e-15),
        ids,
        &LANTERN,
    );
    let k = book.assumed(
        "clearance_factor",
        Ratio::si(crate::curve::LANTERN_CLEARANCE),
        "room under a pin, common practice",
    );
    let out = work!(book, "outside", |m, z, f| (m * (Ratio::si(z.n()) + f * 2.0)).as_diameter(), &LANTERN);
    let root =
        work!(book, "root", |m, z, pin, k| (m * (Ratio::si(z.n()) - pin - k * 2.0)).as_diameter(), &LANTERN);
    work!(book, "tooth", |m, pin, backlash| m * (Ratio::si(maths::PI) - pin - backlash), &LANTERN);
    work!(book, "depth", |out, root| (out - root) / 2.0, &LANTERN);
    work!(book, "pin_diameter", |m, pin| (m * pin).as_diameter(), &LANTERN);
    let circle = work!(book, "pin_circle", |m, pins| (m * pins).as_diameter(), &LANTERN);
    work!(book, "pin_to_pin", |circle, pins| circle.across() * maths::sin(maths::PI / pins.n()), &LANTERN);
    work!(book, "disc", |circle, m, pin| circle + m * pin * 2.0, &HOUSE);
    work!(book, "centres", |m, z, pins| m * (z + pins) / 2.0, &LANTERN);
    Ok(())
}
fn cutter(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let w = fit(g, "wheel", Wheel::new(zn, pn, Form::Ogive))?;
    let of_wheel = one_of(g, "of", &[("wheel", true), ("pinion", false)])?;
    let space = if of_wheel {
        form::wheel_space(&w, 1.0)
    } else {
        form::pinion_space(&fit(g, "pinion", Leaf::new(pn, profile_of(g, pn)?, w.addendum()))?, 1.0)
    };
    let (radius, aside, above) = space.cheek.map_or((0.0, 0.0, 0.0), |c| (c.radius, c.aside, c.above));
    let lengths = [
        ("width", space.width),
        ("root_width", space.root_width),
        ("mouth", space.mouth),
        ("depth", space.depth),
        ("cheek_radius", radius),
        ("cheek_aside", aside),
        ("cheek_above", above),
    ];
    let from = || vec![z.id(), p.id()];
    for (name, modules) in lengths {
        let how = ("the flank seen from the middle of the space", 1, 1e-15);
        let k = book.solved(format!("{name}_factor"), Ratio::si(modules), how, from(), &SPACE);
        work!(book, name, |m, k| m * k, &SPACE);
    }
    let how = ("a whole step less a tooth", 1, 1e-15);
    book.solved("angle", Angle::si(space.angle), how, from(), &SPACE);
    Ok(())
}
fn borrowed(g: &Given<'_>, book: &mut Book) -> Done {
    let m: Val<Length> = more(g, book, "module")?;
    let ((made, _), (z, _)) = (teeth(g, book, "made_for", 4)?, teeth(g, book, "wheel", 4)?);
    let lean = work!(
        book,
        "lean",
        |made, z| Angle::si(maths::PI / 2.0) / Ratio::si(made.n())
            - Angle::si(maths::PI / 2.0) / Ratio::si(z.n()),
        &SPACE
    );
    work!(book, "error", |m, lean| m * (maths::PI / 2.0) * lean.tan(), &SPACE);
    Ok(())
}
fn infeed(g: &Given<'_>, book: &mut Book) -> Done {
    let (measured, out): (Val<Diameter>, Val<Diameter>) =
        (more(g, book, "measured")?, more(g, book, "outside")?);
    let (root, m): (Val<Diameter>, Val<Length>) = (more(g, book, "root")?, more(g, book, "module")?);
    if root.bare() >= measured.bare() || root.bare() >= out.bare() {
        return Err(g.trouble("root", "the root must lie inside the blank"));
    }
    let t = work!(book, "infeed", |measured, root| (measured - root) / 2.0, &INFEED);
    let c = work!(book, "cropped", |out, measured| (out - measured) / 2.0, &INFEED);
    let found = fed(measured.bare().in_mm(), out.bare().in_mm(), root.bare().in_mm(), m.bare().in_mm()).tips;
    book.chosen(
        "tips",
        found.says().to_owned(),
        "how the blank lies to its true size",
        Vec::new(),
        vec![t.id(), c.id(), m.id()],
        &INFEED,
    );
    Ok(())
}
