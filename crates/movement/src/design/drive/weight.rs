//! A weight: pull, torque, fall, room, line, drum and body.

use super::{From, Run};
use power::weight::{self as kernel, Body, Line};
use reckon::source::HOUSE;
use reckon::{
    Acceleration, Book, Diameter, Force, Id, Length, Mass, Power, Ratio, Torque, Trouble, Val, judge, work,
};
use record::facts;

/// The weight as decided.
#[derive(Clone, Debug)]
pub struct WeightDesign {
    /// Mass.
    pub mass: Val<Mass>,
    /// Pull of each part of the line.
    pub pull: Val<Force>,
    /// Torque at the drum, nothing lost.
    pub torque: Val<Torque>,
    /// Fall in the run.
    pub fall: Val<Length>,
    /// Fall with the turns kept in hand.
    pub fall_with_reserve: Val<Length>,
    /// Power that it gives.
    pub power: Val<Power>,
    /// Part that a pulley passes on; none where it hangs straight.
    pub pulley: Option<Val<Ratio>>,
    /// Length of drum that the line takes.
    pub drum_length: Val<Length>,
    /// Line over all.
    pub line_length: Val<Length>,
    /// Breaking load that the line must have.
    pub line_strength: Val<Force>,
    /// Body.
    pub body: Option<BodyDesign>,
}
/// Masses of a weight's body.
#[derive(Clone, Debug)]
pub struct BodyDesign {
    /// Shell.
    pub shell: Val<Mass>,
    /// Both caps.
    pub caps: Val<Mass>,
    /// Filling.
    pub filling: Val<Mass>,
    /// Part of the room that the filling takes.
    pub full: Val<Ratio>,
}
const fn per(count: reckon::Count) -> f64 {
    count.n()
}

pub(super) fn weight(
    w: &facts::Weight,
    from: &From<'_>,
    run: Run,
    gravity: Val<Acceleration>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> Option<WeightDesign> {
    let (mass, falls, drum, line) = (w.mass, w.falls, w.drum, w.line);
    let time = run.time;
    let pull = work!(
        book,
        "drive.weight.pull",
        |mass, gravity, falls| Force::si(kernel::pull(mass.value(), gravity.value(), per(falls))),
        &kernel::DRUM
    );
    let torque = work!(
        book,
        "drive.weight.torque",
        |pull, drum, line| pull * ((drum.across() + line.across()) / 2.0),
        &kernel::DRUM
    );
    let turns = run.turns;
    let fall = work!(
        book,
        "drive.weight.fall",
        |turns, falls, drum, line| (drum + line.across()).around() * turns / Ratio::si(per(falls)),
        &kernel::TURNS
    );
    let more = run.with_reserve;
    let fall_with_reserve = work!(
        book,
        "drive.weight.fall_with_reserve",
        |more, falls, drum, line| (drum + line.across()).around() * more / Ratio::si(per(falls)),
        &kernel::TURNS
    );
    let power = work!(
        book,
        "drive.weight.power",
        |mass, gravity, fall, time| Power::si(kernel::power(
            mass.value(),
            gravity.value(),
            fall.value(),
            time.value()
        )),
        &kernel::POWER
    );
    room(w, fall_with_reserve, book, troubles, told)?;
    told.extend([
        ("pull of each part of the line", pull.id()),
        ("torque at the drum, nothing lost", torque.id()),
        ("fall in the run", fall.id()),
        ("fall with the turns in hand", fall_with_reserve.id()),
        ("power of the weight", power.id()),
    ]);
    let pulley = (falls.bare().0 > 1).then(|| {
        let pin = book.assumed("drive.weight.pulley_pin", Diameter::mm(3.0), "house default");
        let wide = work!(book, "drive.weight.pulley_diameter", |drum| drum, &HOUSE);
        let friction = from.facts.losses.friction.likely;
        work!(
            book,
            "drive.weight.pulley_passes",
            |friction, pin, wide, line| Ratio::si(kernel::sheave(
                friction.value(),
                pin.value(),
                wide.value() + line.value()
            )),
            &kernel::SHEAVE
        )
    });
    told.extend(pulley.map(|p| ("part that the pulley passes on", p.id())));
    let gap = book.assumed("drive.drum.gap", Length::mm(0.1), "common practice: between turns of the line");
    let spare = book.assumed(
        "drive.drum.spare_turns",
        Ratio::si(4.0),
        "common practice: two spare coils at each end",
    );
    let drum_length = work!(
        book,
        "drive.drum.length",
        |more, spare, line, gap| (line.across() + gap) * (more + spare),
        &kernel::DRUM_LENGTH
    );
    let line_length = work!(
        book,
        "drive.weight.line_length",
        |fall_with_reserve, falls, drum, line, spare| {
            let on_drum = (drum + line.across()).around() * spare;
            fall_with_reserve * falls + on_drum + Length::mm(300.0)
        },
        &HOUSE
    );
    let safety = book.assumed(
        "drive.weight.line_safety",
        Ratio::si(kernel::strength_wanted(mass.bare().value(), false)),
        "common practice: five times the pull, eight times above 8 kg or over people",
    );
    let line_strength =
        work!(book, "drive.weight.line_strength", |pull, safety| pull * safety, &kernel::STRENGTH);
    let bend = work!(book, "drive.weight.bend", |drum, line| drum / line, &kernel::BEND);
    let least = book.tabled(
        "drive.weight.least_bend",
        Ratio::si(Line::SevenBySeven.least_bend().1),
        "7×7 stainless, good",
        &kernel::BEND,
    );
    let lives = judge!(
        book,
        "drive.weight.line_bends",
        "the line lives on a drum of this size",
        |bend, least| bend >= least,
        &kernel::BEND
    );
    if !lives.bare() {
        book.cure(
            lives.id(),
            "a larger drum, a thinner line, or gut or plaited line, which bends over ten times its thickness",
        );
    }
    told.extend([
        ("drum that the line takes", drum_length.id()),
        ("line over all", line_length.id()),
        ("breaking load that the line must have", line_strength.id()),
        ("drum over line", bend.id()),
    ]);
    let body = w.body.as_ref().map(|b| body(w, b, book, told));
    Some(WeightDesign {
        mass,
        pull,
        torque,
        fall,
        fall_with_reserve,
        power,
        pulley,
        drum_length,
        line_length,
        line_strength,
        body,
    })
}
/// Whether it has the room to fall; none where it has not.
fn room(
    w: &facts::Weight,
    fall: Val<Length>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> Option<()> {
    let Some(room) = w.room else { return Some(()) };
    let (pulley, spare) = (w.pulley, w.spare);
    let body = w.body.as_ref().map_or_else(
        || book.assumed("drive.weight.height", Length::mm(150.0), "house default where no body is written"),
        |b| b.height,
    );
    let usable = work!(
        book,
        "drive.weight.usable_room",
        |room, body, pulley, spare| room - body - pulley - spare,
        &kernel::ROOM
    );
    if usable.bare() < fall.bare() {
        let lacks = fall.bare() - usable.bare().max(Length::ZERO);
        let says = if usable.bare() > Length::mm(1.0) {
            "the weight has not the room to fall"
        } else {
            "the weight has no room to fall"
        };
        troubles.push(
            Trouble::design(says)
                .at(w.room_at.clone())
                .at(w.at.clone())
                .why(format!(
                    "the run and the turns in hand take {}, and {} is left below weight and pulley",
                    fall.shown(),
                    usable.shown()
                ))
                .cure(format!("{} more room", reckon::Shown::shown(&lacks)))
                .cure("one more fall of the line, with a weight as much heavier")
                .cure("a thinner drum, a shorter weight, or a shorter run"),
        );
        return None;
    }
    told.push(("room to fall", usable.id()));
    Some(())
}
fn body(
    w: &facts::Weight,
    b: &facts::WeightBody,
    book: &mut Book,
    told: &mut Vec<(&'static str, Id)>,
) -> BodyDesign {
    let brass = tables::material::find("brass CZ121").ok();
    let density = match brass {
        Some(m) => m.density.tabled(book, "drive.weight.shell_density", m.row("density")),
        None => book.assumed("drive.weight.shell_density", reckon::Density::si(8470.0), "turning brass"),
    };
    let (outside, inside, height, cap, mass, packing) =
        (b.outside, b.inside, b.height, b.cap, w.mass, b.packing);
    let shell = work!(
        book,
        "drive.weight.shell_mass",
        |outside, inside, height, density| Mass::si(
            Body {
                outside: outside.value(),
                inside: inside.value(),
                length: height.value(),
                cap: 0.0,
                density: density.value()
            }
            .shell()
        ),
        &kernel::BODY
    );
    let caps = work!(
        book,
        "drive.weight.caps_mass",
        |inside, cap, density| inside.circle() * cap * 2.0 * density,
        &kernel::BODY
    );
    let filling = work!(book, "drive.weight.filling", |mass, shell, caps| mass - shell - caps, &kernel::BODY);
    let full = work!(
        book,
        "drive.weight.filled",
        |filling, inside, height, cap, packing| filling / (inside.circle() * (height - cap * 2.0) * packing),
        &kernel::BODY
    );
    let holds = judge!(
        book,
        "drive.weight.body_holds",
        "the shell holds the filling that makes up the weight",
        |full| full >= Ratio::si(0.0) && full <= Ratio::si(0.98),
        &kernel::BODY
    );
    if !holds.bare() {
        let cure = if full.bare() > Ratio::si(0.98) {
            "a taller or wider shell, or a denser filling"
        } else {
            "a smaller or thinner shell: empty it is already too heavy"
        };
        book.cure(holds.id(), cure);
    }
    told.extend([
        ("shell", shell.id()),
        ("both caps", caps.id()),
        ("filling", filling.id()),
        ("part of the room that it fills", full.id()),
    ]);
    BodyDesign { shell, caps, filling, full }
}
