//! Motion work: from the minute hand to the hour hand, exactly twelve to one, on one pair of centres.

mod counts;
mod friction;
mod heights;
mod stud;

use super::arbors::Stem;
use super::layout::{Layout, Stand};
use super::model::{MeshSizes, Train};
use ::teeth::contact::{self, Contact};
use reckon::source::{HOUSE, Source};
use reckon::{Angle, Book, Diameter, Length, Ratio, Trouble, Val, judge, work};
use record::facts::{MotionWork, MovementFacts, PinionFacts, ToothForm, WheelFacts};

pub use friction::Bow;
pub use heights::Heights;

/// Pipes that turn within each other.
pub static PIPES: Source =
    Source::practice("pipes of motion work: walls of 0.6 mm, the outer free on the inner by 0.04 mm");
/// A pair that is driven by its pinion.
pub static REVERSED: Source = Source::derived(
    "driven by the pinion, a pair runs through the same touches backwards: tooth hands over to tooth at the same places",
);

/// Motion work as decided.
#[derive(Clone, Debug)]
pub struct MotionDesign {
    /// Minute wheel and cannon.
    pub first: MeshSizes,
    /// Hour wheel and minute pinion.
    pub second: MeshSizes,
    /// Distance of the stud from the minute arbor.
    pub centres: Val<Length>,
    /// Where the minute wheel's stud stands on the front plate, where the minute arbor's place is known.
    pub stud: Option<Stand>,
    /// Pipes and seats.
    pub pipes: Pipes,
    /// Heights in front of the front plate.
    pub heights: Heights,
    /// The bow washer, where the hands are known.
    pub bow: Option<Bow>,
}
/// Pipes and seats of the motion work.
#[derive(Copy, Clone, Debug)]
pub struct Pipes {
    /// Bore of the cannon: the minute arbor in it.
    pub bore: Val<Diameter>,
    /// Outside of the cannon's pipe.
    pub cannon: Val<Diameter>,
    /// Across the square on which the minute hand sits.
    pub square: Val<Length>,
    /// Bore of the hour pipe.
    pub hour_bore: Val<Diameter>,
    /// Outside of the hour pipe.
    pub hour: Val<Diameter>,
    /// Seat of the hour wheel on its pipe.
    pub hour_seat: Val<Diameter>,
    /// The stud that the minute wheel turns on.
    pub stud: Val<Diameter>,
    /// Bore of the minute pinion.
    pub minute_bore: Val<Diameter>,
    /// Seat of the minute wheel on its pinion.
    pub minute_seat: Val<Diameter>,
}

/// Works the motion work out; none where nothing is written of it.
pub(super) fn motion(
    t: &Train,
    stems: &[Stem],
    layout: &Layout,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<MotionDesign> {
    let mw = facts.motion_work.as_ref()?;
    if !counts::sound(mw, book, troubles) {
        return None;
    }
    let (first, second) = pairs(mw, book, troubles)?;
    let centres = counts::centres(mw, &first, &second, book, troubles)?;
    if !run(&first, &second, centres, mw, book, troubles) {
        return None;
    }
    let pipes = pipes(t, stems, mw, &first, &second, book, troubles)?;
    let stud = t
        .minute
        .and_then(|m| layout.stands[m])
        .map(|centre| stud::stud(t, layout, facts, mw, centre, centres, &first, book));
    let heights = heights::heights(t, facts, mw, book);
    sense(t, book);
    Some(MotionDesign { first, second, centres, stud, pipes, heights, bow: None })
}
/// Settles the friction under the hands, once these are weighed.
pub(super) fn slip(m: &mut Option<MotionDesign>, hands: Option<&super::HandsDesign>, book: &mut Book) {
    if let (Some(m), Some(hands)) = (m, hands) {
        m.bow = friction::bow(m, hands, book);
    }
}
/// Both pairs under the names of their wheels and pinions.
fn pairs(mw: &MotionWork, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<(MeshSizes, MeshSizes)> {
    let [cannon, minute_wheel, minute_pinion, hour_wheel] = mw.counts;
    let second_module = mw.second_module.unwrap_or(mw.module);
    let wheel = |teeth, module, slug: &str| WheelFacts {
        joined: None,
        teeth,
        module: Some(module),
        module_at: mw.at.clone(),
        form: ToothForm::Ogive,
        thickness: None,
        material: mw.material,
        material_at: mw.at.clone(),
        arms: None,
        bore: None,
        rim: None,
        arm_width: None,
        place: None,
        mate: None,
        centres: None,
        old_outside: None,
        at: mw.at.clone(),
        teeth_at: mw.counts_at.clone(),
        slug: slug.to_owned(),
    };
    let pinion = |leaves, slug: &str| PinionFacts {
        leaves,
        lantern: false,
        top: None,
        module: None,
        place: None,
        pin: None,
        length: None,
        at: mw.counts_at.clone(),
        slug: slug.to_owned(),
    };
    let first = super::teeth::pair(
        &wheel(minute_wheel, mw.module, "motion.minute_wheel"),
        &pinion(cannon, "motion.cannon"),
        "minute wheel",
        book,
        troubles,
    );
    let second = super::teeth::pair(
        &wheel(hour_wheel, second_module, "motion.hour_wheel"),
        &pinion(minute_pinion, "motion.minute_pinion"),
        "hour wheel",
        book,
        troubles,
    );
    first.zip(second)
}
/// Whether both pairs run, each at the distance of the stud.
fn run(
    first: &MeshSizes,
    second: &MeshSizes,
    centres: Val<Length>,
    mw: &MotionWork,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> bool {
    let off = |s: &MeshSizes| ((centres.bare() - s.centres.bare()) / s.module.bare()).value();
    let found: Vec<Option<Contact>> = std::thread::scope(|scope| {
        let jobs = [first, second].map(|s| {
            let off = off(s);
            scope.spawn(move || contact::run(&super::contact::pair(s)?, off, 0.15).ok())
        });
        jobs.into_iter().map(|j| j.join().ok().flatten()).collect()
    });
    let mut sound = true;
    for ((s, found), (name, slug)) in [first, second].into_iter().zip(found).zip([
        ("cannon and minute wheel", "motion.minute_wheel"),
        ("minute pinion and hour wheel", "motion.hour_wheel"),
    ]) {
        let Some(c) = found else {
            sound = false;
            troubles.push(
                Trouble::design(format!("the teeth of {name} let go before the next take over"))
                    .at(mw.counts_at.clone())
                    .why(format!("{} teeth with {} leaves", s.wheel.count.shown(), s.pinion.count.shown()))
                    .cure("more leaves on the pinion"),
            );
            continue;
        };
        let inputs = vec![s.module.id(), s.wheel.outside.id(), s.pinion.outside.id(), centres.id()];
        let how = || ("followed over one pitch, 48 places", 48, 0.0);
        let mut put = |what: &str, v: Ratio| {
            book.solved(format_args!("{slug}.contact.{what}"), v, how(), inputs.clone(), &REVERSED)
        };
        put("passes_on", Ratio::si(c.efficiency));
        put("backlash_in_modules", Ratio::si(c.backlash));
        let error = book.solved(
            format_args!("{slug}.contact.error"),
            Angle::si(c.transmission_error),
            how(),
            inputs.clone(),
            &REVERSED,
        );
        let start =
            book.solved(format_args!("{slug}.contact.start"), Angle::si(-c.end), how(), inputs, &REVERSED);
        let says = format!(
            "{name}: driven by the pinion, a tooth comes in no more than 25 degrees early and the hand wavers by less than 2"
        );
        let verdict = judge!(
            book,
            format_args!("{slug}.contact.runs"),
            says,
            |error, start| error.value() < 0.035 && start.value() > -0.44,
            &REVERSED
        );
        book.cure(verdict.id(), "more teeth in both, at the same ratio");
    }
    sound
}
fn pipes(
    t: &Train,
    stems: &[Stem],
    mw: &MotionWork,
    first: &MeshSizes,
    second: &MeshSizes,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<Pipes> {
    let bore = match t.minute.and_then(|m| stems.get(m)) {
        Some(stem) => {
            let pivot = stem.pivot;
            work!(book, "motion.cannon.bore", |pivot| pivot * 0.9, &HOUSE)
        }
        None => book.assumed(
            "motion.cannon.bore",
            Diameter::mm(2.5),
            "house default, as no arbor that turns once an hour is written",
        ),
    };
    let wall = book.assumed("motion.wall", Length::mm(0.6), "house default: wall of the pipes");
    let free = book.assumed("motion.shake", Length::mm(0.04), "house default: the hour pipe runs free");
    // A bore that a reamer leaves; the cannon's pipe is turned to it.
    let hour_bore = work!(
        book,
        "motion.hour_pipe.bore",
        |bore, wall| Diameter::mm((bore + wall * 2.0).in_mm().round()).max(bore + wall * 1.4),
        &PIPES
    );
    let cannon = work!(book, "motion.cannon.pipe", |hour_bore, free| hour_bore - free, &PIPES);
    let square = work!(book, "motion.cannon.square", |cannon| cannon.across() / 1.2, &PIPES);
    let hour = work!(book, "motion.hour_pipe.outside", |hour_bore, wall| hour_bore + wall * 2.0, &PIPES);
    // Even millimetres, for which there are drills and reamers.
    let hour_seat = work!(
        book,
        "motion.hour_pipe.seat",
        |hour, wall| Diameter::mm(2.0 * ((hour + wall).in_mm() / 2.0).ceil()),
        &PIPES
    );
    let root = second.pinion.root;
    let stud =
        work!(book, "motion.stud.diameter", |root, wall| (root - wall * 2.0).min(Diameter::mm(2.0)), &PIPES);
    let minute_bore = work!(book, "motion.minute_pinion.bore", |stud| stud, &PIPES);
    let minute_seat = work!(book, "motion.minute_pinion.seat", |root| root - Length::mm(0.3), &PIPES);
    let cannon_root = first.pinion.root;
    // Too little metal cannot be made at all: that stops; the judgement below is on what can.
    if cannon_root.bare() - bore.bare() < Length::mm(0.6) {
        troubles.push(
            Trouble::design("the cannon's leaves are cut into its bore")
                .at(mw.counts_at.clone())
                .why(format!(
                    "at the roots it is {} and its bore is {}: less than 0.3 mm of metal is left",
                    cannon_root.shown(),
                    bore.shown()
                ))
                .cure("more leaves on the cannon, or a larger module")
                .cure("a thinner front pivot of the minute arbor"),
        );
        return None;
    }
    if stud.bare() < Diameter::mm(0.8) {
        troubles.push(
            Trouble::design("the minute pinion is too small to turn on a stud")
                .at(mw.counts_at.clone())
                .why(format!("at the roots it is {}, which leaves a stud of {}", root.shown(), stud.shown()))
                .cure("more leaves on the minute pinion, or a larger module"),
        );
        return None;
    }
    let pipe = cannon;
    let verdict = judge!(
        book,
        "motion.cannon.pipe_within_roots",
        "the cannon's pipe lies within the roots of its leaves, so that the cutter runs out over it",
        |pipe, cannon_root| pipe <= cannon_root,
        &PIPES
    );
    book.cure(verdict.id(), "cut the leaves before the pipe is turned on, or take more leaves");
    Some(Pipes { bore, cannon, square, hour_bore, hour, hour_seat, stud, minute_bore, minute_seat })
}
/// Two pairs turn the sense about twice.
fn sense(t: &Train, book: &mut Book) {
    let clockwise = t.minute.is_none_or(|m| t.arbors[m].clockwise != Some(false));
    let word = |with: bool| if clockwise == with { "clockwise" } else { "anticlockwise" }.to_owned();
    let how = || ("each pair turns the sense about, seen from the dial", 1, 0.0);
    book.solved("motion.minute_wheel.sense", word(false), how(), Vec::new(), &::train::motion::SENSE);
    book.solved("motion.hour_wheel.sense", word(true), how(), Vec::new(), &::train::motion::SENSE);
}
