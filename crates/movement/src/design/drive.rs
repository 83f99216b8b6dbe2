//! The drive: what the weight or spring gives, what is lost on the way, and the arc that is left, as a range.

mod fusee;
mod keep;
mod loads;
mod losses;
mod margin;
mod spring;
mod weight;

use super::arbors::Stem;
use super::pendulum::{Hangs, Sway};
use super::{PendulumDesign, Train};
use reckon::source::Source;
use reckon::{Book, Id, Length, Power, Ratio, Time, Torque, Trouble, Val, work};
use record::facts::{Clock, MovementFacts, Size};
use std::collections::BTreeMap;

pub use fusee::FuseeDesign;
pub use keep::{ClickDesign, KeepDesign, MaintainingDesign, RatchetDesign};
pub use losses::Shares;
pub use margin::{MarginDesign, Moment};
pub(super) use spring::barrel_arbor;
pub use spring::{BarrelArbor, SpringDesign};
pub use weight::{BodyDesign, WeightDesign};

/// Turns that a run takes.
pub static TURNS: Source = Source::derived("time of the run over the time of a turn");
/// Power at an arbor.
pub static POWER: Source = Source::derived("torque times speed of turning").with_formula("P = 2π T/t");

/// A number that is a range: never one confident figure.
#[derive(Copy, Clone, Debug)]
pub struct BandOf<T> {
    /// Low end.
    pub low: Val<T>,
    /// Likely.
    pub likely: Val<T>,
    /// High end.
    pub high: Val<T>,
}
impl<T> BandOf<T> {
    /// Made for each end by name.
    fn each(mut f: impl FnMut(&'static str, End) -> Val<T>) -> BandOf<T> {
        BandOf { low: f("low", End::Low), likely: f("likely", End::Likely), high: f("high", End::High) }
    }
}
impl<T: Copy> BandOf<T> {
    /// One end.
    const fn at(&self, end: End) -> Val<T> {
        match end {
            End::Low => self.low,
            End::Likely => self.likely,
            End::High => self.high,
        }
    }
}
/// An end of a range.
#[derive(Copy, Clone, PartialEq, Eq)]
enum End {
    Low,
    Likely,
    High,
}

/// The drive as decided.
#[derive(Clone, Debug)]
pub struct DriveDesign {
    /// The arbor that it turns.
    pub arbor: usize,
    /// Time it goes on one winding.
    pub run: Val<Time>,
    /// Turns of that arbor in the run.
    pub turns: Val<Ratio>,
    /// The same with what is kept in hand.
    pub with_reserve: Val<Ratio>,
    /// Weight.
    pub weight: Option<WeightDesign>,
    /// Spring.
    pub spring: Option<SpringDesign>,
    /// Fusee.
    pub fusee: Option<FuseeDesign>,
    /// Torque that the arbor gets, greatest in the run: of a spring what its coils deliver.
    pub torque: Val<Torque>,
    /// Ratchets, clicks, square, maintaining power.
    pub keep: KeepDesign,
    /// Table of loads of teeth and pivots.
    pub loads: Option<Id>,
    /// Power and arc, where a pendulum is written.
    pub margin: Option<MarginDesign>,
    /// The weight as a pendulum of its own.
    pub sway: Option<Sway>,
    /// Cautions that stand wherever it is handled.
    pub cautions: Vec<String>,
    /// Lines for the sheet: what, and where in the book.
    pub told: Vec<(&'static str, Id)>,
}
/// What the drive is worked out from.
pub(super) struct From<'a> {
    pub(super) train: &'a Train,
    pub(super) stems: &'a [Stem],
    pub(super) thicknesses: &'a BTreeMap<usize, Size<Length>>,
    pub(super) pendulum: Option<&'a PendulumDesign>,
    pub(super) clock: &'a Clock,
    pub(super) facts: &'a MovementFacts,
}
/// The run, as every kind of drive wants it.
#[derive(Copy, Clone)]
struct Run {
    time: Val<Time>,
    turns: Val<Ratio>,
    with_reserve: Val<Ratio>,
}

/// Works the drive out; none where nothing is written of one.
pub(super) fn drive(from: &From<'_>, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<DriveDesign> {
    let d = from.facts.drive.as_ref()?;
    let named = match (&d.weight, &d.spring, &d.fusee) {
        (Some(w), _, _) => &w.arbor,
        (_, Some(_), Some(f)) => &f.arbor,
        (_, Some(s), None) => &s.arbor,
        _ => return None,
    };
    let t = from.train;
    let Some(arbor) = t.named(&named.name) else {
        troubles.push(
            Trouble::design(format!("no arbor is called '{}', and the drive turns it", named.name))
                .at(named.at.clone())
                .cure("write the name of the arbor that carries the drum, barrel or fusee"),
        );
        return None;
    };
    let gravity = match (from.pendulum, &from.facts.pendulum) {
        (Some(p), _) => p.gravity,
        (None, None) => super::pendulum::gravity(from.clock, book),
        (None, Some(_)) => return None,
    };
    let turn = t.arbors[arbor].turn?;
    let run = run(from.facts, turn, book);
    let mut told = vec![
        ("goes on one winding", run.time.id()),
        ("turns in that time", run.turns.id()),
        ("turns with what is kept in hand", run.with_reserve.id()),
    ];
    let weight = match &d.weight {
        Some(w) => Some(weight::weight(w, from, run, gravity, book, troubles, &mut told)?),
        None => None,
    };
    let spring = match &d.spring {
        Some(s) => Some(spring::spring(s, d.fusee.as_ref(), run, book, troubles, &mut told)?),
        None => None,
    };
    let fusee = match (&d.fusee, &spring) {
        (Some(f), Some(s)) => Some(fusee::fusee(f, s, run, book, troubles, &mut told)?),
        _ => None,
    };
    let torque = match (&weight, &fusee, &spring) {
        (Some(w), _, _) => w.torque,
        (_, Some(f), _) => f.torque,
        (_, _, Some(s)) => {
            let (top, coils) = (s.moments[0].1, s.coils.likely);
            work!(book, "drive.torque_delivered", |top, coils| top * coils, &POWER)
        }
        _ => return None,
    };
    let keep = keep::keep(
        &keep::Given { from, arbor, torque, turn, spring: spring.as_ref(), fusee: fusee.as_ref() },
        book,
        troubles,
        &mut told,
    );
    let shares = losses::shares(from, weight.as_ref(), book);
    let loads = loads::loads(from, arbor, torque, weight.as_ref(), &shares, book);
    let supplied = supplied(weight.as_ref(), spring.as_ref(), fusee.as_ref(), turn, book);
    let margin =
        from.pendulum.and_then(|p| margin::margin(from, p, &shares, &supplied, weight.as_ref(), book));
    let sway = match (&weight, from.pendulum) {
        (Some(w), Some(p)) => {
            super::pendulum::sway(from.facts, p, Hangs { fall: w.fall, run: run.time }, book)
        }
        _ => None,
    };
    let cautions = cautions(d, spring.as_ref());
    let (turns, with_reserve) = (run.turns, run.with_reserve);
    let run = run.time;
    Some(DriveDesign {
        arbor,
        run,
        turns,
        with_reserve,
        weight,
        spring,
        fusee,
        torque,
        keep,
        loads,
        margin,
        sway,
        cautions,
        told,
    })
}
/// Cautions by what stores energy and hangs.
fn cautions(d: &record::facts::Drive, spring: Option<&SpringDesign>) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(s) = spring {
        all.push(format!("Wound full, this spring holds {}.", s.energy.shown()));
        all.push(power::CAUTION_MAINSPRING.to_owned());
    }
    if d.weight.is_some() {
        all.push(power::CAUTION_WEIGHT.to_owned());
    }
    if d.weight.is_some() || d.fusee.is_some() {
        all.push(power::CAUTION_LINE.to_owned());
    }
    let body = d.weight.as_ref().and_then(|w| w.body.as_ref());
    if body.is_some_and(|b| b.filling.kind == tables::material::Kind::Lead) {
        all.push(power::CAUTION_LEAD.to_owned());
    }
    all
}
fn run(facts: &MovementFacts, turn: Val<Time>, book: &mut Book) -> Run {
    let time = facts.wanted.as_ref().and_then(|w| w.run).unwrap_or_else(|| {
        book.assumed(
            "drive.run",
            Time::si(8.0 * 86_400.0),
            "house default: eight days; write run in [wanted]",
        )
    });
    let reserve = facts.wanted.as_ref().map_or_else(
        || book.assumed("drive.reserve", Ratio::si(0.5), "house default: half a turn in hand"),
        |w| w.reserve,
    );
    let turns = work!(book, "drive.turns", |time, turn| time / turn, &TURNS);
    let with_reserve = work!(book, "drive.turns_with_reserve", |turns, reserve| turns + reserve, &TURNS);
    Run { time, turns, with_reserve }
}
/// What the drive gives at places of the run: what it is called, its name in the book, power.
type Supplied = Vec<(&'static str, &'static str, BandOf<Power>)>;

fn supplied(
    weight: Option<&WeightDesign>,
    spring: Option<&SpringDesign>,
    fusee: Option<&FuseeDesign>,
    turn: Val<Time>,
    book: &mut Book,
) -> Supplied {
    if let Some(w) = weight {
        let power = w.power;
        return vec![("all through the run", "run", BandOf { low: power, likely: power, high: power })];
    }
    let mut all = Supplied::new();
    let Some(s) = spring else { return all };
    let places: Vec<(&str, &str, Val<Torque>)> = match fusee {
        Some(f) => vec![("all through the run", "run", f.torque)],
        None => vec![
            ("just wound", "top", s.moments[0].1),
            ("in the middle of the run", "middle", s.moments[1].1),
            ("at the end of the run", "end", s.moments[2].1),
        ],
    };
    for (what, slug, torque) in places {
        let coils = s.coils;
        let band = BandOf::each(|word, end| {
            let coils = coils.at(end);
            work!(
                book,
                format_args!("drive.{slug}.power.{word}"),
                |torque, coils, turn| Power::si(
                    torque.value() * coils.value() * 2.0 * reckon::maths::PI / turn.value()
                ),
                &POWER
            )
        });
        all.push((what, slug, band));
    }
    all
}
