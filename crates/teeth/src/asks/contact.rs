//! What a pair does in mesh, and how deep to set it.

use super::{Done, PINION, PROFILE, WHEEL, ask, fit, more, one_of, or, profile_of, teeth, within};
use crate::contact::{self, CONTACT, Contact, DEPTH, Driven, Driver, House, Pair, Runout, WOBBLE};
use crate::curve::{Form, Lantern, Leaf, Wheel};
use crate::involute::Involute;
use reckon::ask::Param;
use reckon::trouble::Trouble;
use reckon::workings::Id;
use reckon::{Angle, Ask, Book, Diameter, Given, Length, Ratio, Val};

const FORM: Param = or("form", "ogive", "ogive, closer ogive, epicycloid, lantern or involute");
const MODULE: Param = or("module", "1 mm", "pitch diameter for each tooth");
const DRIVER: Param = or("driver", "wheel", "which drives: wheel, or pinion as in motion work");
const PIN: Param = or("pin", "1.05", "diameter of a pin in modules: of a lantern");
const PLAY: Param = or("play", "0.10", "play in modules: of a lantern");
const SHIFT: Param =
    or("shift", "0.30", "shift of the pinion in modules, the wheel's is its opposite: involute");
const ANGLE: Param = or("angle", "20 deg", "pressure angle: involute");
const OUTSIDE: Param = or("outside", "", "measured outside diameter of the driver; as drawn when left out");
const CENTRES: Param = or("centres", "", "measured distance between centres; in place of the offset");
const OFFSET: Param = or("offset", "0 mm", "by which centres stand wider than drawn; negative when closer");
const MU: Param = or("mu", "0.15", "friction between the teeth");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "contact.run",
        "how a wheel and pinion run at a distance of centres: start, error, speeds, friction, play",
        &[
            WHEEL, PINION, FORM, PROFILE, MODULE, DRIVER, PIN, PLAY, SHIFT, ANGLE, OUTSIDE, CENTRES, OFFSET,
            MU,
        ],
        &[
            "start",
            "end",
            "error",
            "gain",
            "loss",
            "efficiency",
            "torque_least",
            "torque_most",
            "ripple",
            "approach",
            "recess",
            "approach_pitches",
            "recess_pitches",
            "reach",
            "backlash",
            "backlash_angle",
            "tip_room",
            "behaviour",
        ],
        r#"wheel="64" pinion="8" profile="A" offset="0.05 mm""#,
        run,
    ),
    ask(
        "contact.depth",
        "how deep to set a wheel and pinion, and within what limits they run",
        &[
            WHEEL,
            PINION,
            FORM,
            PROFILE,
            MODULE,
            DRIVER,
            PIN,
            PLAY,
            SHIFT,
            ANGLE,
            OUTSIDE,
            MU,
            or("least_backlash", "0.05", "least play along the pitch circle, in modules"),
            or("least_room", "0.10", "least room between tips and bottoms, in modules"),
            or("least_torque", "0.80", "least share of even torque"),
        ],
        &[
            "centres",
            "set",
            "error",
            "felt",
            "felt_centres",
            "felt_backlash",
            "felt_backlash_angle",
            "deepest",
            "deeper_forbidden",
            "shallowest",
            "shallower_forbidden",
        ],
        r#"wheel="64" pinion="8" module="0.6 mm" profile="A""#,
        depth,
    ),
    ask(
        "contact.runout",
        "what a wheel or pinion that runs out of true does to the motion",
        &[
            WHEEL,
            PINION,
            FORM,
            PROFILE,
            MODULE,
            DRIVER,
            PIN,
            PLAY,
            SHIFT,
            ANGLE,
            OUTSIDE,
            CENTRES,
            OFFSET,
            MU,
            or("driver_runout", "0 mm", "pitch circle of the driver off its axis"),
            or("driven_runout", "0 mm", "pitch circle of the driven off its axis"),
        ],
        &["wave", "error", "worst_pitch", "backlash", "torque_least", "efficiency"],
        r#"wheel="80" pinion="10" module="1 mm" driven_runout="0.02 mm""#,
        runout,
    ),
];

/// How every figure of this page was found.
const HOW: (&str, u32, f64) = ("highest demand over the flank, at 48 places of a pitch", 48, 1e-4);
/// Widest offset that is run, in modules.
const WIDEST: f64 = 2.0;

/// The pair asked about.
struct Asked {
    pair: Pair,
    module: Val<Length>,
    ids: Vec<Id>,
}

#[derive(Clone, Copy)]
enum Kind {
    Cut(Form),
    Lantern,
    Involute,
}

fn asked(g: &Given<'_>, book: &mut Book) -> Result<Asked, Trouble> {
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let module: Val<Length> = more(g, book, "module")?;
    let mut ids = vec![z.id(), p.id(), module.id()];
    let kinds = [
        ("ogive", Kind::Cut(Form::Ogive)),
        ("closer ogive", Kind::Cut(Form::CloserOgive)),
        ("epicycloid", Kind::Cut(Form::Epicycloid)),
        ("lantern", Kind::Lantern),
        ("involute", Kind::Involute),
    ];
    let kind = one_of(g, "form", &kinds)?;
    let wheel_drives = one_of(g, "driver", &[("wheel", true), ("pinion", false)])?;
    let mut pair = match kind {
        Kind::Cut(form) => {
            let wheel = fit(g, "wheel", Wheel::new(zn, pn, form))?;
            let leaf = fit(g, "pinion", Leaf::new(pn, profile_of(g, pn)?, wheel.addendum()))?;
            if wheel_drives {
                Pair::new(&Driver::Wheel(wheel), Driven::Leaf(leaf))
            } else {
                Pair::new(&Driver::Leaf(leaf), Driven::Wheel(wheel))
            }
        }
        Kind::Lantern => {
            if !wheel_drives {
                return Err(g
                    .trouble(
                        "driver",
                        "a lantern pinion that drives does all its work before the line of centres",
                    )
                    .cure("let the wheel drive, or cut leaves"));
            }
            let pin: Val<Ratio> = more(g, book, "pin")?;
            let play: Val<Ratio> = within(g, book, "play", Ratio::si(0.0), Ratio::si(1.0))?;
            ids.extend([pin.id(), play.id()]);
            let form = Form::Lantern { pin_radius: pin.bare().value() / 2.0, backlash: play.bare().value() };
            let wheel = fit(g, "pin", Wheel::new(zn, pn, form))?;
            let pins = fit(g, "pin", Lantern::new(pn, pin.bare().value() / 2.0))?;
            Pair::new(&Driver::Wheel(wheel), Driven::Lantern(pins))
        }
        Kind::Involute => {
            let shift: Val<Ratio> = within(g, book, "shift", Ratio::si(-1.0), Ratio::si(1.0))?;
            let angle: Val<Angle> = within(g, book, "angle", Angle::deg(10.0), Angle::deg(30.0))?;
            ids.extend([shift.id(), angle.id()]);
            let (x, a) = (shift.bare().value(), angle.bare().value());
            let (wheel, pinion) = (Involute::new(zn, -x, a), Involute::new(pn, x, a));
            if wheel.tooth() <= 0.0 || pinion.tooth() <= 0.0 || pinion.root_radius() <= 0.0 {
                return Err(g.trouble("shift", "with this shift no tooth is left, or no core"));
            }
            let (one, other) = if wheel_drives { (wheel, pinion) } else { (pinion, wheel) };
            Pair::new(&Driver::Involute(one), Driven::Involute(other))
        }
    };
    if let Some(outside) = g.take_if::<Diameter>(book, "outside")? {
        let tip = outside.bare().radius().value() / module.bare().value();
        let off = tip - pair.tip();
        if !(-0.8..=0.8).contains(&off) {
            return Err(
                g.trouble("outside", "more than 0.8 modules from the radius drawn: not the same tooth")
            );
        }
        ids.push(outside.id());
        pair = pair.with_driver_tip(tip);
    }
    Ok(Asked { pair, module, ids })
}
/// The offset in modules, from an offset or from measured centres.
fn offset(g: &Given<'_>, book: &mut Book, a: &mut Asked) -> Result<f64, Trouble> {
    let m = a.module;
    let name = if g.has("centres") { "centres" } else { "offset" };
    let modules = if let Some(centres) = g.take_if::<Length>(book, "centres")? {
        a.ids.push(centres.id());
        let wider = Length::si(centres.bare().value() - m.bare().value() * a.pair.centres());
        book.solved("offset", wider, ("centres less m (z₁ + z₂)/2", 1, 1e-15), a.ids.clone(), &CONTACT)
    } else {
        g.take::<Length>(book, "offset")?
    };
    a.ids.push(modules.id());
    let off = modules.bare().value() / m.bare().value();
    if off.abs() <= WIDEST {
        Ok(off)
    } else {
        Err(g.trouble(name, "centres more than two modules from those drawn: the wheels do not mesh"))
    }
}
fn friction(g: &Given<'_>, book: &mut Book, a: &mut Asked) -> Result<f64, Trouble> {
    let mu: Val<Ratio> = within(g, book, "mu", Ratio::si(0.0), Ratio::si(1.0))?;
    a.ids.push(mu.id());
    Ok(mu.bare().value())
}

impl Asked {
    fn angle(&self, book: &mut Book, name: &str, v: f64) {
        book.solved(name, Angle::si(v), HOW, self.ids.clone(), &CONTACT);
    }
    fn share(&self, book: &mut Book, name: &str, v: f64) {
        book.solved(name, Ratio::si(v), HOW, self.ids.clone(), &CONTACT);
    }
    fn length(&self, book: &mut Book, name: &str, modules: f64) {
        let mm = Length::si(modules * self.module.bare().value());
        book.solved(name, mm, HOW, self.ids.clone(), &CONTACT);
    }
    /// Turn of the driver that takes up a play along the pitch circle.
    fn turn_of(&self, play: f64) -> f64 {
        play / (f64::from(self.pair.teeth().0) / 2.0)
    }
}

fn run(g: &Given<'_>, book: &mut Book) -> Done {
    let mut a = asked(g, book)?;
    let off = offset(g, book, &mut a)?;
    let mu = friction(g, book, &mut a)?;
    let at = if g.has("centres") { "centres" } else { "offset" };
    let c: Contact = contact::run(&a.pair, off, mu).map_err(|e| g.trouble(at, e.to_string()))?;
    for (name, v) in [("start", c.start), ("end", c.end), ("error", c.transmission_error)] {
        a.angle(book, name, v);
    }
    for (name, v) in [
        ("gain", c.speed_ratio.1 - 1.0),
        ("loss", c.speed_ratio.0 - 1.0),
        ("efficiency", c.efficiency),
        ("torque_least", c.torque.0),
        ("torque_most", c.torque.1),
        ("ripple", c.ripple()),
    ] {
        a.share(book, name, v);
    }
    a.angle(book, "approach", c.approach);
    a.angle(book, "recess", c.recess);
    a.share(book, "approach_pitches", c.approach_pitches());
    a.share(book, "recess_pitches", c.recess_pitches());
    a.share(book, "reach", c.reach);
    a.length(book, "backlash", c.backlash);
    a.angle(book, "backlash_angle", a.turn_of(c.backlash));
    a.length(book, "tip_room", c.tip_room.0.min(c.tip_room.1));
    let said = contact::behaviour(&c).says();
    let ids = a.ids.clone();
    book.chosen("behaviour", said.to_owned(), "the gravest of what stands out", Vec::new(), ids, &CONTACT);
    Ok(())
}
fn depth(g: &Given<'_>, book: &mut Book) -> Done {
    let mut a = asked(g, book)?;
    let mu = friction(g, book, &mut a)?;
    let mut figure = |name: &str| -> Result<f64, Trouble> {
        let v: Val<Ratio> = within(g, book, name, Ratio::si(0.0), Ratio::si(1.0))?;
        a.ids.push(v.id());
        Ok(v.bare().value())
    };
    let house = House {
        mu,
        least_backlash: figure("least_backlash")?,
        least_room: figure("least_room")?,
        least_torque: figure("least_torque")?,
    };
    let d = contact::depth(&a.pair, &house)
        .map_err(|why| g.trouble("wheel", format!("no distance of centres suits these figures: {why}")))?;
    let drawn = a.pair.centres();
    a.length(book, "centres", drawn + d.set.offset);
    a.length(book, "set", d.set.offset);
    a.angle(book, "error", d.set.contact.transmission_error);
    a.length(book, "felt", d.felt.offset);
    a.length(book, "felt_centres", drawn + d.felt.offset);
    a.length(book, "felt_backlash", d.felt.contact.backlash);
    a.angle(book, "felt_backlash_angle", a.turn_of(d.felt.contact.backlash));
    for (name, says, (off, why)) in
        [("deepest", "deeper_forbidden", d.deepest), ("shallowest", "shallower_forbidden", d.shallowest)]
    {
        a.length(book, name, off);
        book.chosen(says, why.to_string(), "what the house forbids first", Vec::new(), a.ids.clone(), &DEPTH);
    }
    Ok(())
}
fn runout(g: &Given<'_>, book: &mut Book) -> Done {
    let mut a = asked(g, book)?;
    let off = offset(g, book, &mut a)?;
    let mu = friction(g, book, &mut a)?;
    let m = a.module.bare();
    let mut off_axis = |name: &str| -> Result<f64, Trouble> {
        let e: Val<Length> = within(g, book, name, Length::ZERO, m)?;
        a.ids.push(e.id());
        Ok(e.bare().value() / m.value())
    };
    let out = Runout { driver: off_axis("driver_runout")?, driven: off_axis("driven_runout")? };
    let w = contact::runout(&a.pair, off, mu, out).map_err(|e| g.trouble("driven_runout", e.to_string()))?;
    book.solved("wave", Angle::si(w.wave), ("2 e/r", 1, 1e-15), a.ids.clone(), &WOBBLE);
    a.angle(book, "error", w.error);
    a.angle(book, "worst_pitch", w.worst_pitch);
    a.length(book, "backlash", w.least_backlash);
    a.share(book, "torque_least", w.least_torque);
    a.share(book, "efficiency", w.efficiency);
    Ok(())
}
