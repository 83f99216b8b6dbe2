//! Friction, grip, the greatest cut that a grip holds, jaws on a thin ring.

use super::{Done, KC11, MC, METAL, MODULUS, ask, law, modulus, more, need, one_of, or, some, within, yes};
use crate::kernel::force;
use crate::kernel::hold::{self, Contact, Grip, Load};
use reckon::{
    Angle, Ask, Book, Count, Diameter, Force, Given, Length, Param, Radius, Ratio, Torque, Trouble, Val,
    judge, work,
};

const CONTACT: Param =
    or("contact", "3", "2 to 12 jaws, or 'all round' for a collet and for soft jaws bored to size");
const FORCE: Param = need("force", "all jaws together, radially");
const FRICTION: Param = need("friction", "between jaws and work");
const DIAMETER: Param = need("diameter", "diameter gripped");
const LENGTH: Param = need("length", "length gripped");
const AHEAD: Param = need("ahead", "from the jaw face to the tool");
const CUT_DIAMETER: Param = or("cut_diameter", "", "diameter cut; that gripped when left out");
const ALONG: Param = or("along", "0.4", "force along the axis, as a share of the main force");
const RADIAL: Param = or("radial", "0.3", "radial force, as a share of the main force");
const SEATED: Param = or("seated", "no", "yes when a stop behind the work takes the force along the axis");
const PADDED: Param = or("padded", "no", "yes when a tailstock pad holds the front");
const SAFETY: Param =
    or("safety", "2.4", "2.0 for a new chuck, 2.4 for an older one, double when the unfavourable pile up");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "hold.friction",
        "friction between jaws and work",
        &[
            need("jaws", "smooth, diamond or serrated"),
            need("skin", "of the work: fine, machined or raw"),
            need("metal", "steel, aluminium, brass or cast iron"),
        ],
        &["friction"],
        r#"jaws="smooth" skin="machined" metal="brass""#,
        friction,
    ),
    ask(
        "hold.safety",
        "safety to hold a cut with",
        &[
            or("worn", "yes", "yes for an older chuck"),
            or("adverse", "no", "yes with a short grip, no tailstock, a radial tool and no seat together"),
        ],
        &["safety"],
        r#"worn="yes""#,
        safety,
    ),
    ask(
        "hold.share",
        "how a round grip shares a tipping moment",
        &[CONTACT],
        &["share"],
        r#"contact="4""#,
        share,
    ),
    ask(
        "hold.grip",
        "does the work slip, tip or walk out under a cut",
        &[
            FORCE,
            FRICTION,
            DIAMETER,
            LENGTH,
            CONTACT,
            AHEAD,
            need("main", "main cutting force"),
            CUT_DIAMETER,
            ALONG,
            RADIAL,
            SEATED,
            PADDED,
            SAFETY,
        ],
        &["turning", "pull", "tipping", "closed", "limit", "walks", "used", "stays", "holds"],
        r#"force="900 N" friction="0.09" diameter="16 mm" length="1.5 mm" ahead="8 mm" main="39.3 N""#,
        grip,
    ),
    ask(
        "hold.greatest_cut",
        "the greatest cut that a grip holds",
        &[
            FORCE,
            FRICTION,
            DIAMETER,
            LENGTH,
            CONTACT,
            AHEAD,
            CUT_DIAMETER,
            ALONG,
            RADIAL,
            SEATED,
            PADDED,
            SAFETY,
            METAL,
            KC11,
            MC,
            need("feed", "feed per turn, edge square to it"),
        ],
        &["greatest_main", "greatest_depth", "enough"],
        r#"force="900 N" friction="0.09" diameter="16 mm" length="1.5 mm" ahead="8 mm" metal="brass" feed="0.05 mm""#,
        greatest,
    ),
    ask(
        "hold.key",
        "force of the jaws of a scroll chuck from the torque on its key",
        &[
            need("torque", "on the key"),
            or("bevel", "3", "turns of the key to one of the scroll"),
            need("lead", "of the scroll: travel of a jaw in one turn of it"),
            or("efficiency", "0.25", "0.2 to 0.3 when dry"),
        ],
        &["force"],
        r#"torque="8 N m" lead="5 mm""#,
        key,
    ),
    ask(
        "hold.collet",
        "radial force of a collet from the pull of its draw bar",
        &[
            need("draw", "pull along the axis"),
            or("half_angle", "15 deg", "of its cone to the axis"),
            or("friction", "0.12", "in the cone"),
        ],
        &["force"],
        r#"draw="2000 N" half_angle="20 deg""#,
        collet,
    ),
    ask(
        "hold.ring",
        "how a thin ring gives way under jaws",
        &[
            or("jaws", "3", "equal jaws, 2 to 12"),
            need("force", "all jaws together"),
            need("mean", "mean radius of the ring"),
            need("wall", "of the ring"),
            need("width", "of the ring"),
            METAL,
            MODULUS,
        ],
        &["inward", "outward", "after_release"],
        r#"force="500 N" mean="11 mm" wall="2 mm" width="4 mm" metal="brass""#,
        ring,
    ),
];

fn friction(g: &Given<'_>, book: &mut Book) -> Done {
    let (jaws, skin) = (one_of(g, "jaws", &hold::JAWS)?, one_of(g, "skin", &hold::SKINS)?);
    let factor = one_of(g, "metal", &hold::METAL_FACTORS)?;
    let row = format!("{} jaws, {} steel", g.word("jaws")?, g.word("skin")?);
    let steel = book.tabled("of_steel", hold::steel_friction(jaws, skin), row, &hold::FRICTION);
    let factor = book.tabled("factor", Ratio::si(factor), g.word("metal")?, &hold::FRICTION);
    work!(book, "friction", |steel, factor| steel * factor, &hold::FRICTION);
    Ok(())
}
fn safety(g: &Given<'_>, book: &mut Book) -> Done {
    let (worn, adverse) = (yes(g, "worn")?, yes(g, "adverse")?);
    let row = if worn { "older chuck" } else { "new chuck" };
    let row = if adverse { format!("{row}, unfavourable") } else { row.to_owned() };
    book.tabled("safety", hold::safety(worn, adverse), row, &hold::SAFETY);
    Ok(())
}
/// Number of jaws as the book holds it: none stands for contact all round.
fn contact(g: &Given<'_>, book: &mut Book) -> Result<Val<Count>, Trouble> {
    if g.word("contact")?.trim() == "all round" {
        return Ok(book.assumed("contact", Count(0), "all round counts as no jaws"));
    }
    let n = g.count(book, "contact")?;
    if (2..=12).contains(&n.bare().0) {
        Ok(n)
    } else {
        Err(g.trouble("contact", "2 to 12 jaws, or 'all round'"))
    }
}
fn touching(jaws: Count) -> Contact {
    match u32::try_from(jaws.0) {
        Ok(n) if n > 0 => Contact::Jaws(n),
        _ => Contact::AllRound,
    }
}
fn share(g: &Given<'_>, book: &mut Book) -> Done {
    let contact = contact(g, book)?;
    work!(book, "share", |contact| hold::share(touching(contact)), &hold::SHARE);
    Ok(())
}

struct Asked {
    force: Val<Force>,
    friction: Val<Ratio>,
    diameter: Val<Diameter>,
    length: Val<Length>,
    contact: Val<Count>,
    ahead: Val<Length>,
    cut: Val<Diameter>,
    along: Val<Ratio>,
    radial: Val<Ratio>,
    seated: bool,
    padded: bool,
    safety: Val<Ratio>,
}
impl Asked {
    fn take(g: &Given<'_>, book: &mut Book) -> Result<Asked, Trouble> {
        let diameter: Val<Diameter> = more(g, book, "diameter")?;
        Ok(Asked {
            force: more(g, book, "force")?,
            friction: within(g, book, "friction", Ratio::si(0.001), Ratio::si(2.0))?,
            diameter,
            length: more(g, book, "length")?,
            contact: contact(g, book)?,
            ahead: some(g, book, "ahead")?,
            cut: if g.has("cut_diameter") { some(g, book, "cut_diameter")? } else { diameter },
            along: some(g, book, "along")?,
            radial: some(g, book, "radial")?,
            seated: yes(g, "seated")?,
            padded: yes(g, "padded")?,
            safety: within(g, book, "safety", Ratio::si(1.0), Ratio::si(20.0))?,
        })
    }
    fn ids(&self) -> Vec<reckon::Id> {
        vec![
            self.force.id(),
            self.friction.id(),
            self.diameter.id(),
            self.length.id(),
            self.contact.id(),
            self.ahead.id(),
            self.cut.id(),
            self.along.id(),
            self.radial.id(),
            self.safety.id(),
        ]
    }
    fn grip(&self) -> Grip {
        Grip {
            force: self.force.bare(),
            friction: self.friction.bare(),
            diameter: self.diameter.bare(),
            length: self.length.bare(),
            contact: touching(self.contact.bare()),
        }
    }
    fn load(&self, main: Force) -> Load {
        Load {
            main,
            along: self.along.bare(),
            radial: self.radial.bare(),
            diameter: self.cut.bare(),
            ahead: self.ahead.bare(),
            seated: self.seated,
            padded: self.padded,
        }
    }
}
const CURES: [&str; 4] = [
    "halve the depth of cut first, then the feed",
    "grip a longer length, or cut nearer to the jaws",
    "a tailstock pad takes the tipping and gives the push",
    "soft jaws bored to size, a mandrel, or wax on a face plate",
];
fn grip(g: &Given<'_>, book: &mut Book) -> Done {
    let a = Asked::take(g, book)?;
    let main: Val<Force> = some(g, book, "main")?;
    let Asked { force, friction, diameter, length, contact, ahead, cut, along, radial, safety, .. } = a;
    let turning = work!(book, "turning", |main, cut, diameter| main * (cut / diameter), &hold::GRIP);
    let none = "taken by the stop or the pad";
    let pull = if a.seated || a.padded {
        book.assumed("pull", Force::ZERO, none)
    } else {
        work!(book, "pull", |main, along| main * along, &hold::GRIP)
    };
    let across = work!(book, "sideways", |main, radial| hold::sideways(main, radial), &hold::GRIP);
    let tipping = if a.padded {
        book.assumed("tipping", Torque::ZERO, none)
    } else {
        work!(book, "tipping", |across, ahead, length| hold::tipping(across, ahead, length), &hold::GRIP)
    };
    let share = work!(book, "share", |contact| hold::share(touching(contact)), &hold::SHARE);
    let closed = work!(book, "closed", |share, force, length| share * force * length / 3.0, &hold::GRIP);
    work!(
        book,
        "limit",
        |share, force, length, friction, diameter| share * force * (length + diameter.across() * friction),
        &hold::GRIP
    );
    let grips = work!(book, "friction_force", |force, friction| force * friction, &hold::GRIP);
    let both = work!(book, "turning_and_pull", |turning, pull| hold::together(turning, pull), &hold::GRIP);
    let circle = work!(book, "slip", |both, grips| both / grips, &hold::GRIP);
    let over = work!(book, "over", |tipping, closed| (tipping - closed).max(Torque::ZERO), &hold::GRIP);
    let used = work!(
        book,
        "used",
        |circle, over, share, grips, diameter| circle + over / (share * grips * diameter.across()),
        &hold::GRIP
    );
    work!(book, "walks", |tipping, closed| tipping > closed, &hold::GRIP);
    let stays = judge!(
        book,
        "stays",
        "no jaw is pushed off the work",
        |across, force| across <= force / 2.0,
        &hold::GRIP
    );
    let v = judge!(
        book,
        "holds",
        "the grip holds this cut",
        |used, safety, tipping, closed, stays| (used * safety).value() <= 1.0 && tipping <= closed && stays,
        &hold::GRIP
    );
    if !v.bare() {
        for cure in CURES {
            book.cure(v.id(), cure);
        }
    }
    Ok(())
}
fn greatest(g: &Given<'_>, book: &mut Book) -> Done {
    let a = Asked::take(g, book)?;
    let (kc11, mc) = law(g, book)?;
    let feed: Val<Length> = more(g, book, "feed")?;
    let (found, rounds) = hold::greatest_main(&a.grip(), &a.load(Force::ZERO), a.safety.bare());
    let room = a.force.bare().value() * 1e-9;
    let how = ("largest main force at which the grip holds, by halving", rounds, room);
    let main = book.solved("greatest_main", found, how, a.ids(), &hold::GRIP);
    let kc = work!(book, "specific_force", |kc11, mc, feed| force::specific(kc11, mc, feed), &force::LAW);
    let depth = work!(book, "greatest_depth", |main, kc, feed| force::depth_for(main, kc, feed), &force::LAW);
    let v = judge!(
        book,
        "enough",
        "the cut is deep enough to be worth holding so",
        |depth| depth >= Length::mm(0.05),
        &reckon::source::HOUSE
    );
    if !v.bare() {
        for cure in CURES.into_iter().skip(1) {
            book.cure(v.id(), cure);
        }
    }
    Ok(())
}
fn key(g: &Given<'_>, book: &mut Book) -> Done {
    let torque: Val<Torque> = some(g, book, "torque")?;
    let (bevel, lead): (Val<Ratio>, Val<Length>) = (more(g, book, "bevel")?, more(g, book, "lead")?);
    let efficiency: Val<Ratio> = within(g, book, "efficiency", Ratio::si(0.01), Ratio::si(1.0))?;
    work!(
        book,
        "force",
        |torque, bevel, lead, efficiency| hold::key_force(torque, bevel, lead, efficiency),
        &hold::KEY
    );
    Ok(())
}
fn collet(g: &Given<'_>, book: &mut Book) -> Done {
    let draw: Val<Force> = some(g, book, "draw")?;
    let half_angle: Val<Angle> = within(g, book, "half_angle", Angle::deg(1.0), Angle::deg(45.0))?;
    let friction: Val<Ratio> = within(g, book, "friction", Ratio::ZERO, Ratio::si(0.9))?;
    work!(
        book,
        "force",
        |draw, half_angle, friction| hold::collet_force(draw, half_angle, friction),
        &hold::COLLET
    );
    Ok(())
}
fn ring(g: &Given<'_>, book: &mut Book) -> Done {
    let jaws = g.count(book, "jaws")?;
    let n = u32::try_from(jaws.bare().0).ok().filter(|n| (2..=12).contains(n));
    let Some(n) = n else { return Err(g.trouble("jaws", "2 to 12 jaws")) };
    let force: Val<Force> = some(g, book, "force")?;
    let mean: Val<Radius> = more(g, book, "mean")?;
    let (wall, width): (Val<Length>, Val<Length>) = (more(g, book, "wall")?, more(g, book, "width")?);
    let e = modulus(g, book)?;
    let ids = vec![jaws.id(), force.id(), mean.id(), wall.id(), width.id(), e.id()];
    let Some(l) = hold::lobes(n, force.bare(), mean.bare(), wall.bare(), width.bare(), e.bare()) else {
        return Err(g.trouble("jaws", "2 to 12 jaws"));
    };
    let how = || ("thin ring under equal loads", 1, 0.0);
    let inward = book.solved("inward", l.inward, how(), ids.clone(), &hold::RING);
    let outward = book.solved("outward", l.outward, how(), ids, &hold::RING);
    work!(book, "after_release", |inward, outward| inward + outward, &hold::RING);
    Ok(())
}
