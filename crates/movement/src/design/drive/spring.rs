//! A spring in its barrel: turns, torque through the run, energy, and what suits it.

use super::{BandOf, Run};
use power::spring::{self as kernel, Barrel, Strip, TorqueLine};
use reckon::source::{HOUSE, Source};
use reckon::{Book, Diameter, Energy, Id, Length, Ratio, Shown, Torque, Trouble, Val, judge, work};
use record::facts;

/// Stop work and run.
pub static STOPS: Source = Source::derived("the run, and what is kept in hand, lie between the stops");

/// The spring as decided.
#[derive(Clone, Debug)]
pub struct SpringDesign {
    /// Barrel as the kernels take it, millimetres.
    pub barrel: Barrel,
    /// Outside of the barrel.
    pub outside: Val<Diameter>,
    /// Torque through the turns, newton millimetres.
    pub line: TorqueLine,
    /// Turns from let down to wound.
    pub available: Val<Ratio>,
    /// Torque fully wound.
    pub full: Val<Torque>,
    /// Torque lost with each turn.
    pub per_turn: Val<Torque>,
    /// Turns run down from fully wound, and torque: at the top, in the middle, at the end of the run.
    pub moments: Vec<(Val<Ratio>, Val<Torque>)>,
    /// Energy from fully wound to let down.
    pub energy: Val<Energy>,
    /// Part of the torque that the coils deliver.
    pub coils: BandOf<Ratio>,
    /// Turns between the stops, where stop work is written.
    pub stops: Option<Val<Ratio>>,
    /// Whether measured torques stand in place of the model.
    pub measured: bool,
}

/// The arbor of a barrel that pulls a fusee: it is no arbor of the train, and has its own pivots.
#[derive(Copy, Clone, Debug)]
pub struct BarrelArbor {
    /// Where the core sits on it.
    pub diameter: Val<Diameter>,
    /// Both pivots.
    pub pivot: Val<Diameter>,
}

/// Decides on it; none where the barrel stands on an arbor of the train.
pub(in crate::design) fn barrel_arbor(facts: &facts::MovementFacts, book: &mut Book) -> Option<BarrelArbor> {
    let drive = facts.drive.as_ref().filter(|d| d.fusee.is_some())?;
    let core = drive.spring.as_ref()?.core;
    let diameter = work!(book, "drive.barrel.arbor_diameter", |core| core * 0.5, &HOUSE);
    let pivot = work!(book, "drive.barrel_arbor.pivot", |diameter| diameter * 0.7, &HOUSE);
    Some(BarrelArbor { diameter, pivot })
}

pub(super) fn spring(
    s: &facts::Spring,
    fusee: Option<&facts::Fusee>,
    run: Run,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> Option<SpringDesign> {
    let mm = |l: Val<Length>| l.bare().in_mm();
    let barrel = Barrel { inside: s.inside.bare().in_mm(), arbor: s.core.bare().in_mm() };
    let strip = Strip {
        thickness: mm(s.thickness),
        height: mm(s.height),
        length: mm(s.length),
        modulus: s.elasticity.bare().in_n_per_mm2(),
        yields: s.yields.bare().in_n_per_mm2(),
    };
    let (inside, core, thickness, length) = (s.inside, s.core, s.thickness, s.length);
    let sizes = || vec![inside.id(), core.id(), thickness.id(), length.id()];
    let half = work!(
        book,
        "drive.spring.half_filled_length",
        |inside, core, thickness| Length::si(
            Barrel { inside: inside.value(), arbor: core.value() }.half_filled_length(thickness.value())
        ),
        &kernel::HALF_FILLED
    );
    let Some((turns, model)) =
        barrel.turns(strip.thickness, strip.length).filter(|n| *n > 0.0).zip(strip.line_in(barrel))
    else {
        troubles.push(
            Trouble::design("the spring does not go into its barrel, or cannot be wound there")
                .at(s.at.clone())
                .why(format!("half of the room is filled by {} of this strip", half.shown()))
                .cure("a shorter or thinner strip, a larger barrel or a thinner arbor"),
        );
        return None;
    };
    let available = book.solved(
        "drive.spring.turns_available",
        Ratio::si(turns),
        ("coils close against the wall and on the arbor", 1, 0.0),
        sizes(),
        &kernel::COILS,
    );
    let (line, measured, ids) = torque_line(s, turns, model);
    let how = |measured: bool| {
        let how = if measured {
            "straight line through the measured points"
        } else {
            "spring that has taken a set"
        };
        (how, 1, 0.0)
    };
    let newton_mm = |x: f64| Torque::si(x / 1000.0);
    let source = if measured { &kernel::FIT } else { &kernel::SET_SPRING };
    let full = book.solved("drive.spring.torque_full", newton_mm(line.full), how(measured), ids(s), source);
    let slope = if measured { &kernel::FIT } else { &kernel::PER_TURN };
    let elastic =
        if measured { how(true) } else { ("elastic strip of that length, wound by one turn", 1, 0.0) };
    let per_turn =
        book.solved("drive.spring.torque_per_turn", newton_mm(line.per_turn), elastic, ids(s), slope);
    let top = s.left_at_top;
    let turns_of_run = run.turns;
    let after = |name: &str, down: Val<Ratio>, book: &mut Book| {
        work!(
            book,
            format_args!("drive.spring.{name}"),
            |full, per_turn, down| full - per_turn * down,
            &kernel::PER_TURN
        )
    };
    let mut moments = Vec::new();
    if fusee.is_none() {
        let middle = work!(
            book,
            "drive.spring.turns_down_in_the_middle",
            |top, turns_of_run| top + turns_of_run / 2.0,
            &STOPS
        );
        let end =
            work!(book, "drive.spring.turns_down_at_the_end", |top, turns_of_run| top + turns_of_run, &STOPS);
        for (name, down) in
            [("torque_at_top", top), ("torque_in_the_middle", middle), ("torque_at_the_end", end)]
        {
            moments.push((down, after(name, down, book)));
        }
    }
    let energy = work!(
        book,
        "drive.spring.energy",
        |full, per_turn, available| Energy::si(
            TorqueLine { full: full.value(), per_turn: per_turn.value() }.energy(0.0, available.value())
        ),
        &kernel::ENERGY
    );
    told.extend([
        ("length of strip that fills half the room", half.id()),
        ("turns from let down to wound", available.id()),
        ("torque fully wound", full.id()),
        ("torque lost each turn", per_turn.id()),
    ]);
    let names = ["torque just wound", "torque in the middle of the run", "torque at the end of the run"];
    told.extend(names.into_iter().zip(&moments).map(|(n, (_, t))| (n, t.id())));
    told.push(("energy, wound to let down", energy.id()));
    let stops = if fusee.is_none() { stops(s, run, available, book, troubles)? } else { None };
    if let Some(stop) = stops {
        let down = work!(book, "drive.spring.turns_down_at_the_stop", |top, stop| top + stop, &STOPS);
        let last = after("torque_at_the_stop", down, book);
        told.push(("torque where the stop work stops it", last.id()));
    }
    suits(s, half, book, troubles);
    let c = s.coils;
    let coils = BandOf { low: c.low, likely: c.likely, high: c.high };
    let outside = s.outside;
    Some(SpringDesign {
        barrel,
        outside,
        line,
        available,
        full,
        per_turn,
        moments,
        energy,
        coils,
        stops,
        measured,
    })
}
type Ids = fn(&facts::Spring) -> Vec<Id>;
/// The torque through the turns: measured where it was measured, else by the model.
fn torque_line(s: &facts::Spring, turns: f64, model: TorqueLine) -> (TorqueLine, bool, Ids) {
    let points: Vec<(f64, f64)> = s
        .measured
        .iter()
        .map(|(wound, torque)| (turns - wound.bare().value(), torque.bare().value() * 1000.0))
        .collect();
    match kernel::fit(&points) {
        Some(fit) => (fit.line, true, |s| s.measured.iter().flat_map(|(a, b)| [a.id(), b.id()]).collect()),
        None => (model, false, |s| {
            vec![
                s.thickness.id(),
                s.height.id(),
                s.length.id(),
                s.elasticity.id(),
                s.yields.id(),
                s.inside.id(),
                s.core.id(),
            ]
        }),
    }
}
/// Turns of the run against what the barrel turns and the stop work allows; the outer is none in trouble.
#[expect(
    clippy::option_option,
    reason = "the outer is none in trouble, the inner where no stop work is written"
)]
fn stops(
    s: &facts::Spring,
    run: Run,
    available: Val<Ratio>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<Option<Val<Ratio>>> {
    let (top, turns, reserve) = (s.left_at_top, run.turns, run.with_reserve);
    let needed = work!(book, "drive.spring.turns_needed", |top, turns| top + turns, &STOPS);
    if needed.bare() > available.bare() {
        troubles.push(
            Trouble::design("the barrel cannot turn often enough for the run")
                .at(s.at.clone())
                .why(format!(
                    "the run takes {} turns and {} stay at the top; the spring gives {}",
                    turns.shown(),
                    top.shown(),
                    available.shown()
                ))
                .cure(format!(
                    "a strip at most {} thick, of the length that fills half the barrel",
                    Length::mm(
                        Barrel { inside: s.inside.bare().in_mm(), arbor: s.core.bare().in_mm() }
                            .thickness_for(needed.bare().value())
                    )
                    .shown()
                ))
                .cure("a larger barrel, a slower barrel, or a shorter run"),
        );
        return None;
    }
    let Some(stop) = s.stop_turns else { return Some(None) };
    if stop.bare() < turns.bare() {
        troubles.push(
            Trouble::design("the stop work ends the run too soon")
                .at(s.at.clone())
                .why(format!("the run takes {} turns, and it allows {}", turns.shown(), stop.shown()))
                .cure(format!(
                    "stop_turns = {}",
                    reckon::print::significant(reserve.bare().value().ceil(), 3)
                )),
        );
        return None;
    }
    let allows = judge!(
        book,
        "drive.spring.stops_leave_reserve",
        "the stop work leaves the run and the turns kept in hand",
        |stop, reserve| stop.value() >= reserve.value() - 1e-3,
        &STOPS
    );
    if !allows.bare() {
        book.cure(allows.id(), format!("at least {} turns between the stops", reserve.shown()));
    }
    let within = judge!(
        book,
        "drive.spring.stops_within",
        "the stops lie within the turns that the spring gives",
        |stop, top, available| stop + top <= available,
        &STOPS
    );
    if !within.bare() {
        book.cure(within.id(), "fewer turns between the stops, or fewer left at the top");
    }
    Some(Some(stop))
}
/// Whether strip, arbor and barrel suit each other.
fn suits(s: &facts::Spring, half: Val<Length>, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let (core, thickness, length, height, room) = (s.core, s.thickness, s.length, s.height, s.room);
    let eye = work!(
        book,
        "drive.spring.arbor_over_thickness",
        |core, thickness| core.across() / thickness,
        &kernel::ARBOR
    );
    let bears = judge!(
        book,
        "drive.spring.eye_bears",
        "the arbor is thick enough for the strip: its eye does not break",
        |eye| eye >= Ratio::si(20.0),
        &kernel::ARBOR
    );
    if !bears.bare() {
        book.cure(bears.id(), "a thicker arbor, 24 to 40 times the strip's thickness");
    }
    let good = judge!(
        book,
        "drive.spring.length_suits",
        "the strip's length is within a fifth of what fills half the room",
        |length, half| length <= half * 1.2 && length >= half * 0.8,
        &kernel::HALF_FILLED
    );
    if !good.bare() {
        book.cure(good.id(), format!("a strip {} long", half.shown()));
    }
    if height.bare() >= room.bare() {
        troubles.push(
            Trouble::design("the spring is as high as its barrel inside")
                .at(s.at.clone())
                .why(format!("{} of strip in {} of room", height.shown(), room.shown()))
                .cure("0.1 to 0.3 mm of room over the strip"),
        );
        return;
    }
    let play = work!(book, "drive.spring.play", |room, height| room - height, &HOUSE);
    let free = judge!(
        book,
        "drive.spring.runs_free",
        "the strip has 0.1 to 0.5 mm of room along the barrel",
        |play| play >= Length::mm(0.0999) && play <= Length::mm(0.5001),
        &HOUSE
    );
    if !free.bare() {
        book.cure(free.id(), "a barrel whose inside is 0.1 to 0.3 mm higher than the strip");
    }
}
