//! Maintaining power, ratchets, squares, hands, stop work.

use super::{Done, ask, more, need, one_of, or, says, some, teeth, within};
use crate::hands::{self, Slip};
use crate::keep::{self, Bow, Click, Square};
use crate::stopwork::{self, Wanted};
use reckon::{
    Acceleration, Angle, Ask, Book, Density, Diameter, Force, Given, Length, Mass, Pressure, Ratio,
    Stiffness, Time, Torque, Val, work,
};
use shape::profile::Profile;

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.maintaining",
        "turn, torque and stiffness of a maintaining spring",
        &[
            or("drive", "weight", "weight, fusee or going barrel"),
            or("winding", "5 min", "time that winding takes"),
            need("period", "of the great wheel"),
            or("ratchet", "", "teeth of the maintaining ratchet; its backlash is left out when not given"),
            or("torque", "", "working torque of the great wheel"),
            or("arm", "", "from the axis to where the spring pulls"),
            or("share", "0.85", "of the working torque"),
        ],
        &["wanted", "turn", "deflects", "spring_torque", "pull", "stiffness"],
        r#"period="12 h" ratchet="80" torque="336.57 N mm" arm="25 mm" winding="4 min""#,
        maintaining,
    ),
    ask(
        "power.bow",
        "thickness or stiffness of a bow spring pulled across its ends",
        &[
            need("kind", "semicircle or quarter"),
            need("radius", "of the bow"),
            need("width", "of the strip"),
            or("thickness", "", "of the strip; or give the stiffness wanted"),
            or("stiffness", "", "wanted"),
            or("modulus", "205 GPa", "of the spring"),
            or("load", "0 N", "across the ends"),
        ],
        &["thickness_used", "stiffness_there", "stress"],
        r#"kind="semicircle" radius="20 mm" width="3 mm" thickness="0.8 mm" load="5 N""#,
        bow,
    ),
    ask(
        "power.click",
        "whether a ratchet tooth draws its click in",
        &[
            need("contact", "from the wheel's axis to where tooth and click meet"),
            need("length", "from there to the click's pivot"),
            need("pivot", "from the wheel's axis to the click's pivot"),
            or("undercut", "0 deg", "lean of the tooth's face forward of the radius"),
            or("friction", "0.15", "of click on tooth"),
        ],
        &["elevation", "draw", "tangent_pivot", "holds"],
        r#"contact="15 mm" length="12 mm" pivot="20.5 mm" undercut="8 deg""#,
        click,
    ),
    ask(
        "power.ratchet",
        "outline of a ratchet wheel: teeth, depth, area and one click",
        &[
            need("radius", "of the tips"),
            need("teeth", "of the wheel"),
            or("tip", "55 deg", "angle of a tooth at its tip"),
            or("undercut", "8 deg", "lean of its face"),
        ],
        &["pitch", "depth", "area", "angle"],
        r#"radius="15 mm" teeth="40""#,
        ratchet,
    ),
    ask(
        "power.square",
        "winding square for a torque, and its key",
        &[
            need("torque", "of winding"),
            need("across", "flats"),
            or("length", "8 mm", "that the key covers"),
            or("bar", "", "diameter that it is filed on; the smallest with full corners when left out"),
            or("clearance", "0.05 mm", "of the key"),
            or("shear", "150 MPa", "that the arbor bears"),
            or("bearing", "150 MPa", "that key and flats bear"),
        ],
        &["stress", "pressure", "least", "full_corners", "flat_depth", "key", "bears"],
        r#"torque="1900 N mm" across="5 mm""#,
        square,
    ),
    ask(
        "power.slip",
        "whether the minute hand slips and holds",
        &[
            need("force", "of the bow spring along the arbor"),
            or("friction", "0.2", "of its faces"),
            need("radius", "mean radius of the rubbing faces"),
            or("faces", "1", "that rub"),
            need("needed", "torque that hands and motion work need"),
            need("hand", "length of the minute hand"),
        ],
        &["slip", "times", "at_tip", "least_force", "most_force", "judged"],
        r#"force="3 N" radius="4 mm" needed="1 N mm" hand="70 mm""#,
        slip,
    ),
    ask(
        "power.hand",
        "weight of a straight tapered hand, its torque and its counterpoise",
        &[
            need("length", "from the axis to the tip"),
            or("tail", "0 mm", "from the axis to the other end"),
            need("root", "width at the axis"),
            need("tip", "width at the tip"),
            need("thickness", "of the hand"),
            or("density", "7.85 g/cm3", "of its metal"),
            or("gravity", "9.80665 m/s2", "of the place"),
            or("poise_at", "15 mm", "distance of a counterpoise on the other side"),
        ],
        &["mass", "reach", "torque", "counterpoise"],
        r#"length="70 mm" tail="12 mm" root="5 mm" tip="1 mm" thickness="0.8 mm""#,
        hand,
    ),
    ask(
        "power.stopwork",
        "disc, pin and star that stop the arbor after some turns",
        &[
            need("turns", "whole turns wanted"),
            need("centres", "distance of the axes"),
            need("hub", "radius of the disc in its gap, around the square"),
            or("pin", "1.5 mm", "diameter of the pin"),
            or("play", "0.1 mm", "between parts that pass"),
        ],
        &[
            "lobes",
            "turns_given",
            "star",
            "reach",
            "disc",
            "hollow",
            "gap",
            "slot",
            "slot_bottom",
            "star_area",
            "disc_area",
        ],
        r#"turns="6" centres="15 mm" hub="4 mm""#,
        stop,
    ),
    ask(
        "power.stop_range",
        "how stop work shares the turns that are not used",
        &[
            need("turns", "that the spring gives"),
            need("used", "turns that are wanted"),
            or("top_share", "0.5", "of the rest that is given up at the top"),
        ],
        &["top", "bottom", "share_used"],
        r#"turns="7.869" used="6""#,
        stop_range,
    ),
];

fn maintaining(g: &Given<'_>, book: &mut Book) -> Done {
    let drive = one_of(g, "drive", &keep::DRIVES)?;
    let text = if drive.needs_maintaining() {
        "the train loses its torque while it is wound: give it maintaining power"
    } else {
        "none: a going barrel drives while it is wound"
    };
    says(book, "wanted", text, "what is turned by winding", Vec::new(), &keep::TURN);
    let (winding, period): (Val<Time>, Val<Time>) = (more(g, book, "winding")?, more(g, book, "period")?);
    let share = within(g, book, "share", Ratio::si(0.5), Ratio::si(1.0))?;
    let turn = if g.has("ratchet") {
        let z = teeth(g, book, "ratchet", 6, 400)?;
        work!(
            book,
            "turn",
            |winding, period, z| Angle::si(keep::needed_turn(winding.value(), period.value(), Some(z.n()))),
            &keep::TURN
        )
    } else {
        work!(
            book,
            "turn",
            |winding, period| Angle::si(keep::needed_turn(winding.value(), period.value(), None)),
            &keep::TURN
        )
    };
    let deflects = work!(book, "deflects", |turn| turn * 2.0, &keep::SHARE);
    if g.has("torque") {
        let torque: Val<Torque> = more(g, book, "torque")?;
        let held = work!(book, "spring_torque", |torque, share| torque * share, &keep::SHARE);
        if g.has("arm") {
            let arm: Val<Length> = more(g, book, "arm")?;
            work!(book, "pull", |held, arm| held / arm, &keep::SHARE);
            work!(
                book,
                "stiffness",
                |held, arm, deflects| Stiffness::si(keep::stiffness_needed(
                    held.value(),
                    arm.value(),
                    deflects.value()
                )),
                &keep::SHARE
            );
        }
    }
    Ok(())
}
fn bow(g: &Given<'_>, book: &mut Book) -> Done {
    let kind: Bow = one_of(g, "kind", &keep::BOWS)?;
    let (r, b): (Val<Length>, Val<Length>) = (more(g, book, "radius")?, more(g, book, "width")?);
    let (e, load): (Val<Pressure>, Val<Force>) = (more(g, book, "modulus")?, some(g, book, "load")?);
    let (rr, bb, ee) = (r.bare().value(), b.bare().value(), e.bare().value());
    let ids = vec![r.id(), b.id(), e.id()];
    let t = if g.has("thickness") {
        let t: Val<Length> = more(g, book, "thickness")?;
        work!(book, "thickness_used", |t| t * 1.0, &keep::BOW)
    } else if g.has("stiffness") {
        let k: Val<Stiffness> = more(g, book, "stiffness")?;
        let t = kind.thickness(ee, bb, rr, k.bare().value());
        let mut ids = ids.clone();
        ids.push(k.id());
        book.solved(
            "thickness_used",
            Length::si(t),
            ("stiffness solved for thickness", 1, 0.0),
            ids,
            &keep::BOW,
        )
    } else {
        return Err(g.trouble("thickness", "give 'thickness' or 'stiffness'"));
    };
    let tt = t.bare().value();
    let mut ids = ids;
    ids.push(t.id());
    book.solved(
        "stiffness_there",
        Stiffness::si(kind.stiffness(ee, bb, tt, rr)),
        ("stiffness of this bow", 1, 0.0),
        ids.clone(),
        &keep::BOW,
    );
    ids.push(load.id());
    book.solved(
        "stress",
        Pressure::si(kind.stress(load.bare().value(), bb, tt, rr)),
        ("6 F R/(b t²)", 1, 0.0),
        ids,
        &keep::BOW,
    );
    Ok(())
}
fn click(g: &Given<'_>, book: &mut Book) -> Done {
    let (contact, length): (Val<Length>, Val<Length>) = (more(g, book, "contact")?, more(g, book, "length")?);
    let pivot: Val<Length> = more(g, book, "pivot")?;
    let undercut = within(g, book, "undercut", Angle::deg(-30.0), Angle::deg(30.0))?;
    let mu = within(g, book, "friction", Ratio::ZERO, Ratio::si(1.0))?;
    let c = Click {
        contact: contact.bare().value(),
        length: length.bare().value(),
        pivot: pivot.bare().value(),
        undercut: undercut.bare().value(),
    };
    let (Some(e), Some(d), Some(h)) = (c.elevation(), c.draw(), c.holds(mu.bare().value())) else {
        return Err(g.trouble("pivot", "these three distances make no triangle"));
    };
    let ids = vec![contact.id(), length.id(), pivot.id(), undercut.id()];
    book.solved(
        "elevation",
        Angle::si(e),
        ("pivot outside the tangent at the contact", 1, 0.0),
        ids.clone(),
        &keep::CLICK,
    );
    let draw = book.solved("draw", Angle::si(d), ("elevation and undercut", 1, 0.0), ids, &keep::CLICK);
    work!(
        book,
        "tangent_pivot",
        |contact, length| Length::si(keep::tangent_pivot(contact.value(), length.value())),
        &keep::CLICK
    );
    says(
        book,
        "holds",
        h.text(),
        "draw against the angle of friction",
        vec![draw.id(), mu.id()],
        &keep::CLICK,
    );
    Ok(())
}
fn ratchet(g: &Given<'_>, book: &mut Book) -> Done {
    let radius: Val<Length> = more(g, book, "radius")?;
    let z = teeth(g, book, "teeth", 6, 400)?;
    let tip = within(g, book, "tip", Angle::deg(20.0), Angle::deg(89.0))?;
    let undercut = within(g, book, "undercut", Angle::ZERO, Angle::deg(25.0))?;
    let (r, n) = (radius.bare().in_mm(), z.bare().n());
    let depth = keep::ratchet_depth(r, n, tip.bare().value(), undercut.bare().value());
    let outline = keep::ratchet(r, u32::try_from(z.bare().0).unwrap_or(0), depth, undercut.bare().value());
    let Some(outline) = outline else {
        return Err(g.trouble("tip", "these angles leave no ratchet wheel"));
    };
    let ids = vec![radius.id(), z.id(), tip.id(), undercut.id()];
    work!(
        book,
        "pitch",
        |radius, z| Length::si(2.0 * reckon::maths::PI * radius.value() / z.n()),
        &reckon::source::GEOMETRY
    );
    book.solved(
        "depth",
        Length::mm(depth),
        ("face and back meet at the root", 1, 0.0),
        ids.clone(),
        &reckon::source::GEOMETRY,
    );
    book.solved(
        "area",
        reckon::Area::si(outline.area() * 1e-6),
        ("inside of the outline", 1, 0.0),
        ids,
        &reckon::source::GEOMETRY,
    );
    work!(book, "angle", |z| Angle::deg(360.0 / z.n()), &reckon::source::GEOMETRY);
    Ok(())
}
fn square(g: &Given<'_>, book: &mut Book) -> Done {
    let (torque, across): (Val<Torque>, Val<Length>) = (some(g, book, "torque")?, more(g, book, "across")?);
    let length: Val<Length> = more(g, book, "length")?;
    let (shear, bearing): (Val<Pressure>, Val<Pressure>) =
        (more(g, book, "shear")?, more(g, book, "bearing")?);
    let clearance: Val<Length> = some(g, book, "clearance")?;
    let full = work!(
        book,
        "full_corners",
        |across| Diameter::si(across.value() * reckon::maths::sqrt(2.0)),
        &keep::SQUARE
    );
    let bar: Val<Diameter> = if g.has("bar") { more(g, book, "bar")? } else { full };
    if bar.bare().value() < across.bare().value() {
        return Err(g.trouble("bar", "the bar is smaller than the square"));
    }
    let stress = work!(
        book,
        "stress",
        |torque, across, length| Pressure::si(
            Square { across: across.value(), length: length.value() }.shear(torque.value())
        ),
        &keep::SQUARE
    );
    let pressure = work!(
        book,
        "pressure",
        |torque, across, length| Pressure::si(
            Square { across: across.value(), length: length.value() }.pressure(torque.value())
        ),
        &keep::SQUARE
    );
    work!(
        book,
        "least",
        |torque, length, shear, bearing| Length::si(Square::least_across(
            torque.value(),
            length.value(),
            shear.value(),
            bearing.value()
        )),
        &keep::SQUARE
    );
    work!(book, "flat_depth", |bar, across| (bar.across() - across) / 2.0, &keep::SQUARE);
    work!(book, "key", |across, clearance| across + clearance, &keep::SQUARE);
    reckon::judge!(
        book,
        "bears",
        "the square bears the winding",
        |stress, shear, pressure, bearing| stress <= shear && pressure <= bearing,
        &keep::SQUARE
    );
    Ok(())
}
fn slip(g: &Given<'_>, book: &mut Book) -> Done {
    let (force, radius): (Val<Force>, Val<Length>) = (some(g, book, "force")?, more(g, book, "radius")?);
    let mu = within(g, book, "friction", Ratio::si(0.01), Ratio::si(1.0))?;
    let faces = teeth(g, book, "faces", 1, 8)?;
    let (needed, length): (Val<Torque>, Val<Length>) = (more(g, book, "needed")?, more(g, book, "hand")?);
    let slip = work!(
        book,
        "slip",
        |mu, force, radius, faces| Torque::si(hands::slip(
            mu.value(),
            force.value(),
            radius.value(),
            faces.n()
        )),
        &hands::SLIP
    );
    work!(book, "times", |slip, needed| slip / needed, &hands::RULE);
    work!(book, "at_tip", |slip, length| slip / length, &hands::SLIP);
    work!(
        book,
        "least_force",
        |needed, mu, radius, faces| Force::si(hands::force_for(
            2.0 * needed.value(),
            mu.value(),
            radius.value(),
            faces.n()
        )),
        &hands::RULE
    );
    work!(
        book,
        "most_force",
        |needed, mu, radius, faces| Force::si(hands::force_for(
            4.0 * needed.value(),
            mu.value(),
            radius.value(),
            faces.n()
        )),
        &hands::RULE
    );
    let text = Slip::of(slip.bare().value(), needed.bare().value()).text();
    says(book, "judged", text, "slip torque over what is needed", vec![slip.id(), needed.id()], &hands::RULE);
    Ok(())
}
fn hand(g: &Given<'_>, book: &mut Book) -> Done {
    let (length, tail): (Val<Length>, Val<Length>) = (more(g, book, "length")?, some(g, book, "tail")?);
    let (root, tip): (Val<Length>, Val<Length>) = (more(g, book, "root")?, more(g, book, "tip")?);
    let thickness: Val<Length> = more(g, book, "thickness")?;
    let (density, gravity): (Val<Density>, Val<Acceleration>) =
        (more(g, book, "density")?, more(g, book, "gravity")?);
    let at: Val<Length> = more(g, book, "poise_at")?;
    let (l, b, w, n) =
        (length.bare().in_mm(), tail.bare().in_mm(), root.bare().in_mm() / 2.0, tip.bare().in_mm() / 2.0);
    let outline =
        Profile::start(-b, -w).line(0.0, -w).line(l, -n).line(l, n).line(0.0, w).line(-b, w).close();
    let h = hands::weigh(
        &outline,
        thickness.bare().in_mm(),
        density.bare().value() * 1e-6,
        gravity.bare().value(),
    );
    let ids = vec![length.id(), tail.id(), root.id(), tip.id(), thickness.id(), density.id()];
    let how = ("moment of the outline's area", 1, 0.0);
    book.solved("mass", Mass::si(h.mass * 1e-3), how, ids.clone(), &hands::BALANCE);
    book.solved("reach", Length::mm(h.reach), how, ids.clone(), &hands::BALANCE);
    book.solved("torque", Torque::si(h.torque * 1e-3), how, ids.clone(), &hands::BALANCE);
    let mut ids = ids;
    ids.push(at.id());
    let poise = hands::counterpoise(h, at.bare().in_mm());
    book.solved(
        "counterpoise",
        Mass::si(poise * 1e-3),
        ("mass times reach over its distance", 1, 0.0),
        ids,
        &hands::BALANCE,
    );
    Ok(())
}
fn stop(g: &Given<'_>, book: &mut Book) -> Done {
    let turns = teeth(g, book, "turns", 2, 11)?;
    let (centres, hub): (Val<Length>, Val<Length>) = (more(g, book, "centres")?, more(g, book, "hub")?);
    let (pin, play): (Val<Length>, Val<Length>) = (more(g, book, "pin")?, more(g, book, "play")?);
    let w = Wanted {
        turns: u32::try_from(turns.bare().0).unwrap_or(0),
        centres: centres.bare().in_mm(),
        hub: hub.bare().in_mm(),
        pin: pin.bare().in_mm(),
        play: play.bare().in_mm(),
    };
    let s = stopwork::design(w).map_err(|f| g.trouble("centres", f.text()))?;
    let ids = vec![turns.id(), centres.id(), hub.id(), pin.id(), play.id()];
    let how = ("pin, disc and star", 1, 0.0);
    book.solved("lobes", Ratio::si(f64::from(s.lobes)), how, ids.clone(), &stopwork::STAR);
    book.solved("turns_given", Ratio::si(s.turns), how, ids.clone(), &stopwork::STAR);
    book.solved("gap", Angle::si(s.gap), ("half the gap of the disc", 1, 0.0), ids.clone(), &stopwork::STAR);
    for (name, x) in [
        ("star", s.star),
        ("reach", s.reach),
        ("disc", s.disc),
        ("hollow", s.hollow),
        ("slot", s.slot),
        ("slot_bottom", s.slot_bottom),
    ] {
        book.solved(name, Length::mm(x), how, ids.clone(), &stopwork::STAR);
    }
    for (name, a) in [("star_area", s.star_outline().area()), ("disc_area", s.disc_outline().area())] {
        book.solved(
            name,
            reckon::Area::si(a * 1e-6),
            ("inside of the outline", 1, 0.0),
            ids.clone(),
            &stopwork::STAR,
        );
    }
    Ok(())
}
fn stop_range(g: &Given<'_>, book: &mut Book) -> Done {
    let (turns, used): (Val<Ratio>, Val<Ratio>) = (more(g, book, "turns")?, more(g, book, "used")?);
    let share = within(g, book, "top_share", Ratio::ZERO, Ratio::si(1.0))?;
    let Some(r) = crate::spring::range(turns.bare().value(), used.bare().value(), share.bare().value())
    else {
        return Err(g.trouble("used", "the spring does not give as many turns"));
    };
    let ids = vec![turns.id(), used.id(), share.id()];
    for (name, x) in [("top", r.top), ("bottom", r.bottom)] {
        book.solved(
            name,
            Ratio::si(x),
            ("share of the turns that are not used", 1, 0.0),
            ids.clone(),
            &crate::spring::USE,
        );
    }
    work!(book, "share_used", |used, turns| used / turns, &crate::spring::USE);
    Ok(())
}
