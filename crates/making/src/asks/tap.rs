//! Threads by hand: torque of a tap, and how far each tap of a set cuts.

use super::{Done, KC11, MC, METAL, ask, law, more, need, or, within, yes};
use crate::kernel::{force, tap};
use reckon::{Angle, Ask, Book, Diameter, Given, Length, Pressure, Ratio, Val, work};

const HALF: reckon::Param = or("half_angle", "30 deg", "of a flank to the plane across the axis");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "tap.torque",
        "torque that a tap takes, and at which it breaks",
        &[
            METAL,
            KC11,
            MC,
            need("major", "outside of the thread"),
            need("pitch", "pitch of the thread"),
            need("drill", "hole that is tapped"),
            HALF,
            or("lead", "8", "threads of the tap's lead"),
            or("flutes", "3", "flutes of the tap"),
            or("root", "", "root of the tap: gives what breaks it"),
            or("stress", "1200 N/mm2", "at which the tap's steel breaks in twist"),
        ],
        &["section", "chip", "specific_force", "torque", "breaks"],
        r#"kc11="2000 N/mm2" mc="0" major="6 mm" pitch="1 mm" drill="5 mm" root="4.77 mm""#,
        torque,
    ),
    ask(
        "tap.steps",
        "turns and full thread of each tap of a set",
        &[
            need("pitch", "pitch of the thread"),
            need("depth", "of full diameter, or thickness where it goes through"),
            or("through", "no", "yes when it goes through"),
        ],
        &["taper", "taper_full_to", "second", "second_full_to", "bottoming", "bottoming_full_to"],
        r#"pitch="0.7 mm" depth="10 mm""#,
        steps,
    ),
];

fn torque(g: &Given<'_>, book: &mut Book) -> Done {
    let (kc11, mc) = law(g, book)?;
    let major: Val<Diameter> = more(g, book, "major")?;
    let pitch: Val<Length> = more(g, book, "pitch")?;
    let drill: Val<Diameter> = more(g, book, "drill")?;
    if drill.bare() >= major.bare() {
        return Err(g.trouble("drill", "the hole leaves no metal for a thread"));
    }
    let half: Val<Angle> = within(g, book, "half_angle", Angle::deg(5.0), Angle::deg(60.0))?;
    let lead: Val<Ratio> = more(g, book, "lead")?;
    let flutes: Val<Ratio> = more(g, book, "flutes")?;
    let section = work!(
        book,
        "section",
        |major, drill, pitch, half| tap::section(major, drill, pitch, half),
        &tap::SECTION
    );
    let chip = work!(
        book,
        "chip",
        |major, drill, lead, flutes| tap::chip(major, drill, lead, flutes),
        &tap::SECTION
    );
    let kc = work!(book, "specific_force", |kc11, mc, chip| force::specific(kc11, mc, chip), &force::LAW);
    work!(book, "torque", |kc, section, major, drill| tap::torque(kc, section, major, drill), &tap::TURNS);
    if g.has("root") {
        let root: Val<Diameter> = more(g, book, "root")?;
        let stress: Val<Pressure> = more(g, book, "stress")?;
        work!(book, "breaks", |root, stress| tap::breaks(root, stress), &tap::BREAKS);
    }
    Ok(())
}
fn steps(g: &Given<'_>, book: &mut Book) -> Done {
    let pitch: Val<Length> = more(g, book, "pitch")?;
    let depth: Val<Length> = more(g, book, "depth")?;
    let through = yes(g, "through")?;
    for one in tap::TAPS {
        let lead = book.assumed(
            format!("{}_lead", one.word),
            Ratio::si(one.lead),
            "threads of the lead of such a tap; see the card of the set",
        );
        let beyond = book.assumed(
            format!("{}_beyond", one.word),
            Ratio::si(if through { one.lead } else { -0.5 }),
            if through { "the lead goes out on the far side" } else { "half a pitch is kept over the floor" },
        );
        let tip = work!(
            book,
            format!("{}_tip", one.word),
            |depth, pitch, beyond| (depth + pitch * beyond.value()).max(Length::ZERO),
            &tap::SET
        );
        work!(book, one.word, |tip, pitch| tap::turns(tip, pitch), &tap::SET);
        work!(
            book,
            format!("{}_full_to", one.word),
            |tip, lead, pitch| tap::full_to(tip, lead.value(), pitch),
            &tap::SET
        );
    }
    Ok(())
}
