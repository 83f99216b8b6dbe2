//! Speed, force, power and surface of a cut.

use super::{Done, KC11, MC, METAL, ask, law, metal, more, need, one_of, or, some, within, yes};
use crate::kernel::{force, speed};
use reckon::source::HOUSE;
use reckon::{
    Alternative, Angle, AngularSpeed, Ask, Book, Diameter, Force, Given, Length, Power, Radius, Ratio, Speed,
    Val, work,
};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "cut.rpm",
        "speed of turning for a surface speed, and the step to set on a machine",
        &[
            or("speed", "", "surface speed, in place of a metal"),
            METAL,
            or("kind", "turning", "turning, broad, threading, drilling or reaming: with a metal"),
            or("carbide", "no", "yes or no: with a metal"),
            need("diameter", "diameter where it cuts; of the drill when drilling"),
            or("steps", "", "speeds that the machine has, between commas"),
        ],
        &["rpm", "set", "fit", "runs_at"],
        r#"speed="60 m/min" diameter="16 mm" steps="300 rpm, 600 rpm, 1100 rpm, 2000 rpm""#,
        rpm,
    ),
    ask(
        "cut.force",
        "cutting force of a chip",
        &[
            METAL,
            KC11,
            MC,
            need("feed", "feed per turn"),
            need("depth", "depth of cut"),
            or("approach", "90 deg", "angle of the edge to the feed"),
            or("rake", "", "rake of the tool; that of the law when left out"),
            or("law_rake", "6 deg", "rake that the law was measured at; 2° for brass"),
            or("wear", "1.3", "factor for a worn edge"),
        ],
        &["thickness", "width", "specific_force", "force", "planned_force"],
        r#"metal="brass" feed="0.05 mm" depth="0.5 mm""#,
        cutting_force,
    ),
    ask(
        "cut.power",
        "power and torque of a cut against what the motor gives",
        &[
            METAL,
            KC11,
            MC,
            need("feed", "feed per turn"),
            need("depth", "depth of cut"),
            or("approach", "90 deg", "angle of the edge to the feed"),
            need("speed", "surface speed"),
            need("diameter", "diameter where it cuts"),
            need("motor", "power of the motor"),
            or("efficiency", "0.75", "of motor and belts"),
        ],
        &["force", "power", "torque", "available", "margin", "suffices"],
        r#"metal="mild steel" feed="0.1 mm" depth="1 mm" speed="30 m/min" diameter="12 mm" motor="150 W""#,
        power,
    ),
    ask(
        "cut.roughness",
        "ridges that a rounded tool leaves",
        &[need("nose", "radius of the point"), need("feed", "feed per turn")],
        &["ridges", "nearly"],
        r#"nose="0.2 mm" feed="0.04 mm""#,
        roughness,
    ),
    ask(
        "cut.round_nose",
        "angle that a rounded point really cuts at, and which way it pushes",
        &[
            need("nose", "radius of the point"),
            need("depth", "depth of cut"),
            need("feed", "feed per turn"),
            or("approach", "90 deg", "angle of the straight edge to the feed"),
            or("force", "100 N", "main cutting force"),
        ],
        &["acting_angle", "radial", "axial", "radial_to_axial"],
        r#"nose="0.4 mm" depth="0.1 mm" feed="0.03 mm""#,
        round_nose,
    ),
    ask(
        "cut.thickest_chip",
        "thickest chip of a milling cutter that cuts less than half its width",
        &[
            need("cutter", "diameter of the cutter"),
            need("engaged", "width of cut, no more than the cutter"),
            need("feed", "feed per tooth"),
        ],
        &["thickest_chip"],
        r#"cutter="3 mm" engaged="0.3 mm" feed="0.02 mm""#,
        thickest_chip,
    ),
];

fn rpm(g: &Given<'_>, book: &mut Book) -> Done {
    let v: Val<Speed> = if g.has("speed") {
        more(g, book, "speed")?
    } else {
        let (m, k, carbide) = (metal(g, "'speed'")?, one_of(g, "kind", &speed::KINDS)?, yes(g, "carbide")?);
        let kind = g.word("kind")?;
        let row = format!("{}, {kind}, {}", m.word(), if carbide { "carbide" } else { "high-speed steel" });
        let plain = matches!(k, speed::Kind::Turning | speed::Kind::Drilling);
        let source = if plain { &speed::START_SPEEDS } else { &speed::SLOWER };
        book.tabled("speed", speed::start(m, k, carbide), row, source)
    };
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let rpm = work!(book, "rpm", |v, d| speed::turns(v, d), &speed::SURFACE);
    let steps: Vec<Val<AngularSpeed>> = g.take_list(book, "steps")?;
    if steps.iter().any(|s| s.bare() <= AngularSpeed::ZERO) {
        return Err(g.trouble("steps", "a speed of the machine must be more than nothing"));
    }
    let bare: Vec<AngularSpeed> = steps.iter().map(Val::bare).collect();
    let found = speed::step(rpm.bare(), &bare);
    let (speed_set, fit) = match found {
        Some(s) => (s.speed, s.fit),
        None => (rpm.bare(), speed::StepFit::Below),
    };
    let said = match (fit, found) {
        (_, None) => "set as computed",
        (speed::StepFit::Below, _) => "fastest step that is not above it",
        (speed::StepFit::Fastest, _) => "the machine's fastest; keep the feed per turn",
        (speed::StepFit::TooFast, _) => "the machine's slowest, too fast for this cut",
    };
    let among = steps.iter().map(|s| Alternative {
        what: s.shown(),
        taken: s.bare() == speed_set,
        why: if s.bare() > rpm.bare() {
            "above what is wanted".to_owned()
        } else {
            "not above what is wanted".to_owned()
        },
    });
    let ids = std::iter::once(rpm.id()).chain(steps.iter().map(Val::id)).collect();
    let set =
        book.chosen("set", speed_set, "the fastest step that is not above it", among.collect(), ids, &HOUSE);
    book.chosen(
        "fit",
        said.to_owned(),
        "how the step lies to what is wanted",
        Vec::new(),
        vec![rpm.id(), set.id()],
        &HOUSE,
    );
    work!(book, "runs_at", |set, d| speed::surface(set, d), &speed::SURFACE);
    Ok(())
}

/// Chip and main force by the law alone.
fn chip(g: &Given<'_>, book: &mut Book) -> Result<Val<Force>, reckon::Trouble> {
    let (kc11, mc) = law(g, book)?;
    let (feed, depth): (Val<Length>, Val<Length>) = (more(g, book, "feed")?, more(g, book, "depth")?);
    let approach: Val<Angle> = within(g, book, "approach", Angle::deg(5.0), Angle::deg(90.0))?;
    let thickness =
        work!(book, "thickness", |feed, approach| force::chip_thickness(feed, approach), &force::LAW);
    let width = work!(book, "width", |depth, approach| force::chip_width(depth, approach), &force::LAW);
    let specific = work!(
        book,
        "specific_force",
        |kc11, mc, thickness| force::specific(kc11, mc, thickness),
        &force::LAW
    );
    Ok(work!(
        book,
        "force",
        |specific, width, thickness| force::main(specific, width, thickness),
        &force::LAW
    ))
}
fn cutting_force(g: &Given<'_>, book: &mut Book) -> Done {
    let force = chip(g, book)?;
    let law_rake: Val<Angle> = if !g.has("law_rake") && g.word_if("metal").is_some() {
        let m = metal(g, "'law_rake'")?;
        book.tabled("law_rake", force::law_rake(m), m.word(), &force::CORRECTIONS)
    } else {
        within(g, book, "law_rake", Angle::deg(-30.0), Angle::deg(40.0))?
    };
    let rake: Val<Angle> = if g.has("rake") {
        within(g, book, "rake", Angle::deg(-30.0), Angle::deg(40.0))?
    } else {
        book.assumed("rake", law_rake.bare(), "that of the law")
    };
    let wear: Val<Ratio> = more(g, book, "wear")?;
    let for_rake =
        work!(book, "rake_factor", |rake, law_rake| force::rake_factor(rake, law_rake), &force::CORRECTIONS);
    work!(book, "planned_force", |force, for_rake, wear| force * for_rake * wear, &force::CORRECTIONS);
    Ok(())
}
fn power(g: &Given<'_>, book: &mut Book) -> Done {
    let force = chip(g, book)?;
    let (speed, d): (Val<Speed>, Val<Diameter>) = (more(g, book, "speed")?, more(g, book, "diameter")?);
    let motor: Val<Power> = more(g, book, "motor")?;
    let efficiency: Val<Ratio> = within(g, book, "efficiency", Ratio::si(0.01), Ratio::si(1.0))?;
    let power = work!(book, "power", |force, speed| force::power(force, speed), &force::POWER);
    work!(book, "torque", |force, d| force::torque(force, d), &force::POWER);
    let available = work!(book, "available", |motor, efficiency| motor * efficiency, &force::POWER);
    work!(book, "margin", |available, power| available / power, &force::POWER);
    let v = reckon::judge!(
        book,
        "suffices",
        "the motor drives this cut",
        |available, power| available >= power,
        &force::POWER
    );
    if !v.bare() {
        book.cure(v.id(), "halve the depth, then the feed");
    }
    Ok(())
}
fn roughness(g: &Given<'_>, book: &mut Book) -> Done {
    let (nose, feed): (Val<Radius>, Val<Length>) = (more(g, book, "nose")?, some(g, book, "feed")?);
    if force::ridges(nose.bare(), feed.bare()).is_none() {
        return Err(
            g.trouble("feed", "the feed is wider than the point: it leaves a screw thread, not ridges")
        );
    }
    work!(book, "ridges", |nose, feed| force::ridges(nose, feed).unwrap_or_default(), &force::RIDGES);
    work!(book, "nearly", |nose, feed| feed * (feed / (8.0 * nose.out())), &force::RIDGES);
    Ok(())
}
fn round_nose(g: &Given<'_>, book: &mut Book) -> Done {
    let nose: Val<Radius> = some(g, book, "nose")?;
    let (depth, feed): (Val<Length>, Val<Length>) = (more(g, book, "depth")?, some(g, book, "feed")?);
    let approach: Val<Angle> = within(g, book, "approach", Angle::deg(5.0), Angle::deg(90.0))?;
    let force: Val<Force> = more(g, book, "force")?;
    let chord = work!(
        book,
        "acting_angle",
        |nose, depth, feed, approach| force::chord_angle(nose, depth, feed, approach),
        &force::CHORD
    );
    let thrust = work!(book, "thrust", |force| force::thrust(force), &force::THRUST);
    let radial = work!(book, "radial", |thrust, chord| force::radial(thrust, chord), &force::CHORD);
    let axial = work!(book, "axial", |thrust, chord| force::axial(thrust, chord), &force::CHORD);
    work!(book, "radial_to_axial", |radial, axial| radial / axial, &force::CHORD);
    Ok(())
}
fn thickest_chip(g: &Given<'_>, book: &mut Book) -> Done {
    let cutter: Val<Diameter> = more(g, book, "cutter")?;
    let engaged: Val<Length> = within(g, book, "engaged", Length::ZERO, cutter.bare().across())?;
    let feed: Val<Length> = more(g, book, "feed")?;
    work!(
        book,
        "thickest_chip",
        |feed, engaged, cutter| speed::thickest_chip(feed, engaged, cutter),
        &speed::CHIP
    );
    Ok(())
}
