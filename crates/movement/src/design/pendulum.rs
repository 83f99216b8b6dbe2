//! The pendulum: how long, how it is rated, what disturbs it.

mod fits;
mod hang;
mod weather;

pub(crate) use hang::CHOP_OVER;
pub use weather::WeatherDesign;
mod rate;

use super::Train;
use ::pendulum::{energy, gravity, strip, swing};
use reckon::{
    Acceleration, Angle, Book, Count, Density, Diameter, Length, Mass, Power, Pressure, Ratio, Source, Time,
    Torque, Trouble, Val, judge, work,
};
use record::facts::{Clock, MovementFacts};

pub(super) use fits::Hangs;
pub use fits::Sway;
pub(super) use fits::sway;

/// What a strip bears for good.
pub static BEARS: Source =
    Source::practice("a suspension strip lives when its stress stays under a third of its proof stress");
/// How near a bob's mass must come to its volume.
pub static BOB: Source = Source::practice("a bob comes out within 3 % of what its size and metal give");

/// The pendulum as decided. Depths are counted from the lower edge of the upper chop, where the strip
/// begins; without a strip, from the axis.
#[derive(Clone, Debug)]
pub struct PendulumDesign {
    /// Gravity at the place.
    pub gravity: Val<Acceleration>,
    /// Time of a beat.
    pub beat: Val<Time>,
    /// Semi-arc that it is to run at.
    pub arc: Val<Angle>,
    /// Semi-arc below which the escapement does not let go.
    pub arc_needed: Option<Val<Angle>>,
    /// Length of the simple pendulum that beats with it at no arc.
    pub length_at_no_arc: Val<Length>,
    /// Length of the simple pendulum that beats with it, at its running arc.
    pub length: Val<Length>,
    /// Bodies and where they hang.
    pub hung: Hung,
    /// Quality factor.
    pub quality: Val<Ratio>,
    /// Power that keeps the running arc up.
    pub need: Val<Power>,
    /// Rating nut, where one is written.
    pub nut: Option<NutDesign>,
    /// Suspension, where one is written.
    pub suspension: Option<SuspensionDesign>,
    /// Name of the table of what disturbs the rate.
    pub errors: reckon::Id,
    /// What the room does to the rate, through a day and a year.
    pub weather: WeatherDesign,
    /// Lines for the sheet: what, and where in the book.
    pub told: Vec<(&'static str, reckon::Id)>,
}
/// What hangs, and where.
#[derive(Clone, Debug)]
pub struct Hung {
    /// Mass of the bob.
    pub bob: Val<Mass>,
    /// Bore of the bob for the rod.
    pub bore: Val<Diameter>,
    /// Density that gives the bob its mass.
    pub density: Val<Density>,
    /// Height of the bob along the rod.
    pub bob_height: Val<Length>,
    /// Depth of the bob's middle.
    pub middle: Val<Length>,
    /// Depth of the upper end of the rod.
    pub rod_top: Val<Length>,
    /// Length of the rod.
    pub rod_length: Val<Length>,
    /// Length of the thread at its lower end.
    pub thread_length: Val<Length>,
    /// Depth of the lowest point.
    pub end: Val<Length>,
    /// Whole mass.
    pub mass: Val<Mass>,
    /// Mass times depth of the centre times gravity: torque at a right angle.
    pub moment: Val<Torque>,
    /// Bodies, for what follows from them.
    pub made: ::pendulum::compound::Pendulum,
}
/// The rating nut.
#[derive(Clone, Debug)]
pub struct NutDesign {
    /// Pitch of its thread.
    pub pitch: Val<Length>,
    /// Rate of one turn, s/day.
    pub turn: Val<Ratio>,
    /// Divisions on its edge.
    pub divisions: Val<Count>,
    /// Rate of one division, s/day.
    pub division: Val<Ratio>,
}
/// The suspension.
#[derive(Clone, Debug)]
pub struct SuspensionDesign {
    /// The strip as the kernels take it.
    pub strip: strip::Strip,
    /// Depth of the place about which the pendulum swings: the crutch's axis.
    pub pivot: Val<Length>,
    /// Stress at the running arc.
    pub stress: Val<Pressure>,
}

fn by(text: &str) -> (String, u32, f64) {
    (text.to_owned(), 1, 0.0)
}

/// Works the pendulum out; none where nothing is written of one.
pub(super) fn pendulum(
    t: &Train,
    clock: &Clock,
    escapement: Option<&super::EscapementDesign>,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<PendulumDesign> {
    let p = facts.pendulum.as_ref()?;
    let gravity = gravity(clock, book);
    let beat = t.beat.or_else(|| {
        let wanted = facts.wanted.as_ref()?.beats?;
        Some(work!(book, "pendulum.beat_wanted", |wanted| Time::si(3600.0 / wanted.n()), &swing::PERIOD))
    });
    let Some(beat) = beat else {
        troubles.push(
            Trouble::design("nothing says how fast the pendulum beats")
                .at(p.at.clone())
                .why("no train reaches an escapement, and [wanted] names no beats")
                .cure("write beats_per_hour in [wanted]"),
        );
        return None;
    };
    let arc = match &facts.escapement {
        Some(e) => e.running_arc,
        None => book.assumed("pendulum.arc", Angle::deg(2.0), "house default where no escapement is written"),
    };
    let length_at_no_arc = work!(
        book,
        "pendulum.length_at_no_arc",
        |beat, gravity| Length::si(swing::length(beat.value(), gravity.value(), 0.0)),
        &swing::LENGTH
    );
    let length = work!(
        book,
        "pendulum.length",
        |beat, gravity, arc| Length::si(swing::length(beat.value(), gravity.value(), arc.value())),
        &swing::LENGTH
    );
    let arc_needed = escapement.map(|e| e.arc_needed);
    let hung = hang::hang(p, length, gravity, book, troubles)?;
    let quality = p.quality;
    let (moment, mut told) = (hung.moment, Vec::new());
    let energy = work!(
        book,
        "pendulum.energy",
        |moment, arc| reckon::Energy::si(energy::of_swing(moment.value(), 1.0, arc.value())),
        &energy::ENERGY
    );
    let need = work!(
        book,
        "pendulum.power_needed",
        |energy, quality, beat| Power::si(energy::power(energy.value(), quality.value(), 2.0 * beat.value())),
        &energy::LOSS
    );
    let half = work!(
        book,
        "pendulum.time_to_half_arc",
        |quality, beat| Time::si(energy::half_time(quality.value(), 2.0 * beat.value())),
        &energy::DECAY
    );
    told.extend([
        ("gravity at the place", gravity.id()),
        ("beat", beat.id()),
        ("length of the simple pendulum, no arc", length_at_no_arc.id()),
        ("the same at the running arc", length.id()),
        ("running arc, from the middle to one side", arc.id()),
    ]);
    told.extend(arc_needed.map(|a| ("arc that the escapement needs", a.id())));
    told.extend([
        ("the bob's middle below the upper chop", hung.middle.id()),
        ("rod over all", hung.rod_length.id()),
        ("bob", hung.bob.id()),
        ("all that swings", hung.mass.id()),
        ("energy of the swing", energy.id()),
        ("power that keeps it up", need.id()),
        ("a free swing falls to half in", half.id()),
    ]);
    let suspension = suspension(facts, &hung, gravity, arc, book, &mut told);
    let rated = rate::rate(
        &rate::Given {
            clock,
            facts,
            hung: &hung,
            suspension: suspension.as_ref(),
            gravity,
            arc,
            length,
            quality,
        },
        book,
        &mut told,
    );
    fits::fits(facts, &hung, arc, suspension.as_ref(), book, troubles);
    Some(PendulumDesign {
        gravity,
        beat,
        arc,
        arc_needed,
        length_at_no_arc,
        length,
        hung,
        quality,
        need,
        nut: rated.0,
        suspension,
        errors: rated.1,
        weather: rated.2,
        told,
    })
}
/// Gravity at the clock's place.
pub(super) fn gravity(clock: &Clock, book: &mut Book) -> Val<Acceleration> {
    let latitude = clock.site.latitude.unwrap_or_else(|| {
        let why = "no place is written: the middle of the temperate zone; write site in [clock]";
        book.assumed("pendulum.latitude", Angle::deg(45.0), why)
    });
    let altitude = clock.site.altitude.unwrap_or_else(|| {
        book.assumed("pendulum.altitude", Length::ZERO, "no height is written: sea level")
    });
    work!(
        book,
        "pendulum.gravity",
        |latitude, altitude| Acceleration::si(gravity::WGS84.at(latitude.value(), altitude.value())),
        &gravity::SOMIGLIANA
    )
}
fn suspension(
    facts: &MovementFacts,
    hung: &Hung,
    gravity: Val<Acceleration>,
    arc: Val<Angle>,
    book: &mut Book,
    told: &mut Vec<(&'static str, reckon::Id)>,
) -> Option<SuspensionDesign> {
    let s = facts.pendulum.as_ref()?.suspension.as_ref()?;
    let of = hang::strip(s);
    let g = gravity.bare().value();
    let all = hung.made.sums(0.0);
    let modes = of.carries(&all, g)?;
    let ids = || vec![s.thickness.id(), s.width.id(), s.length.id(), hung.mass.id(), hung.middle.id()];
    let at = of.turns_at(all.mass, all.centre() - of.free, all.own(), all.mass * g);
    let how = || by("stiff body on a bent strip under its pull");
    let pivot = book.solved("pendulum.suspension.axis", Length::si(at), how(), ids(), &strip::MODES);
    let wobble = book.solved(
        "pendulum.suspension.wobbles_per_second",
        Ratio::si(modes.wobble_hertz()),
        how(),
        ids(),
        &strip::MODES,
    );
    let mut ids = ids();
    ids.push(arc.id());
    let stress = book.solved(
        "pendulum.suspension.stress",
        Pressure::si(of.stress(all.mass * g, arc.bare().value())),
        by("pull and bending at the upper chop"),
        ids,
        &strip::STRESS,
    );
    if let Some(proof) = s.material.proof.as_ref().or(s.material.strength.as_ref()) {
        let proof = proof.tabled(book, "pendulum.suspension.proof", s.material.row("proof stress"));
        let lives = judge!(
            book,
            "pendulum.suspension.lives",
            "the suspension strip bears pull and bending for good",
            |stress, proof| stress * 3.0 <= proof,
            &BEARS
        );
        if !lives.bare() {
            let (thick, least) = of.least_stressed(all.mass * g, arc.bare().value());
            book.cure(
                lives.id(),
                format!(
                    "a wider or longer strip, or one {} thick, whose stress is least: {}",
                    reckon::Shown::shown(&Length::si(thick)),
                    reckon::Shown::shown(&Pressure::si(least))
                ),
            );
        }
    }
    told.extend([
        ("the crutch's axis below the upper chop", pivot.id()),
        ("stress of the strip", stress.id()),
        ("wobbles in a second", wobble.id()),
    ]);
    Some(SuspensionDesign { strip: of, pivot, stress })
}
