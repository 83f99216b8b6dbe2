//! What an end mill stands: its speed, its chip, and how deep it may go at once.

use super::super::Habits;
use crate::kernel::force;
use crate::kernel::speed::{self, Kind, Metal};
use crate::plan::bench::kind_of;
use movement::part::Part;
use reckon::{AngularSpeed, Book, Count, Force, Length, Pressure, Source, Speed, Val, judge, work};
use record::facts::Cutter;

/// Chip of a small end mill.
pub static CHIP: Source = Source::practice(
    "a tooth of a small end mill takes a hundredth of its diameter in brass and half of that in steel",
);
/// Depth of a small end mill.
pub static DEPTH: Source = Source::practice(
    "in a slot an end mill goes half its diameter deep at once in brass, a quarter in steel, and never deeper than it stands",
);
/// Bending of an end mill.
pub static BENDING: Source =
    Source::derived("a rod of 0.8 of its diameter, loaded at its tip by the force of one tooth")
        .with_formula("σ = 32 F L / (π (0.8 D)³)");
/// What its metal stands.
pub static STANDS: Source = Source::practice(
    "small end mills break at some 1000 N/mm² of bending as reckoned here; worked at no more than 0.4 of it",
);

/// An end mill at work.
#[derive(Clone, Debug)]
pub struct Milling {
    /// Its diameter, millimetres.
    pub diameter: f64,
    /// Length that cuts, millimetres.
    pub flutes: f64,
    /// Turns a minute.
    pub rpm: f64,
    /// Feed, mm/min.
    pub feed: f64,
    /// Largest feed a turn, millimetres.
    pub most_feed: f64,
    /// Depth at once, millimetres.
    pub step: f64,
}

/// Works out how an end mill is used through a sheet; a verdict tells where it cannot be.
pub fn milling(
    book: &mut Book,
    cutter: &Cutter,
    habits: &Habits,
    part: &Part,
    thick: Val<Length>,
) -> Option<Milling> {
    let d = cutter.size?;
    let slug = part.slug().to_owned();
    let m = part.common.material;
    let cutting = tables::material::cutting(m).ok()?;
    let metal = kind_of(m.kind);
    let name = |tail: &str| format!("{slug}.program.{tail}");
    let teeth = book.assumed(name("teeth"), Count(2), "an end mill that cuts over its middle has two teeth");
    let reach = match cutter.reach {
        Some(reach) => reach,
        None => work!(book, name("flutes"), |d| d * 3.0, &DEPTH),
    };
    let crumbles = metal.crumbles() || metal == Metal::Aluminium;
    let v = speed::start(metal, Kind::Turning, cutter.carbide);
    let v = book.tabled(name("surface_speed"), v, metal.word().to_owned(), &speed::START_SPEEDS);
    let across = work!(book, name("diameter"), |d| d.as_diameter(), &reckon::source::GEOMETRY);
    let wanted = work!(book, name("wanted_speed"), |v, across| speed::turns(v, across), &speed::SURFACE);
    let rpm = AngularSpeed::rpm(habits.speed(wanted.bare().in_rpm()));
    let rpm = book.solved(
        name("speed"),
        rpm,
        ("a speed of the machine", 1, 0.0),
        vec![wanted.id()],
        &speed::SURFACE,
    );
    let chip = if crumbles {
        work!(book, name("chip"), |d| d * 0.01, &CHIP)
    } else {
        work!(book, name("chip"), |d| d * 0.005, &CHIP)
    };
    let feed = Speed::mm_per_min(
        (chip.bare().in_mm() * teeth.bare().n() * rpm.bare().in_rpm()).min(habits.fastest_feed),
    );
    let feed = book.solved(
        name("feed"),
        feed,
        ("chip times teeth times speed, no faster than the machine", 1, 0.0),
        vec![chip.id(), teeth.id(), rpm.id()],
        &CHIP,
    );
    let row = m.row("cutting");
    let kc11 = cutting.force.tabled(book, name("kc11"), row.clone());
    let mc = cutting.exponent.tabled(book, name("mc"), row);
    let kc = work!(book, name("kc"), |kc11, mc, chip| force::specific(kc11, mc, chip), &force::LAW);
    // The force that bends it as far as is allowed, and the depth of cut that has that force.
    let breaks = book.assumed(
        name("breaks"),
        Pressure::n_per_mm2(1000.0),
        "where small end mills break, reckoned as bending at their root",
    );
    let allowed = work!(book, name("allowed"), |breaks| breaks * 0.4, &STANDS);
    let stands = work!(book, name("stands"), |allowed, d, reach| most_force(allowed, d, reach), &BENDING);
    let part = if crumbles { 0.5 } else { 0.25 };
    let step = book.solved(
        name("step"),
        force::depth_for(stands.bare(), kc.bare(), chip.bare()).min(d.bare() * part).min(thick.bare()),
        ("the lesser of what it stands and what is usual", 1, 0.0),
        vec![stands.id(), kc.id(), chip.id(), d.id(), thick.id()],
        &DEPTH,
    );
    let verdict = judge!(
        book,
        name("stands_the_cut"),
        "the end mill stands a cut that is worth taking",
        |step| step >= Length::mm(0.04),
        &BENDING
    );
    book.cure(verdict.id(), "a thicker or shorter end mill, or one of carbide");
    if step.bare() < Length::mm(0.04) {
        return None;
    }
    Some(Milling {
        diameter: d.bare().in_mm(),
        flutes: reach.bare().in_mm(),
        rpm: rpm.bare().in_rpm(),
        feed: feed.bare().in_mm_per_min(),
        most_feed: chip.bare().in_mm() * teeth.bare().n() * 1.05,
        step: step.bare().in_mm(),
    })
}
/// The force at its tip that bends an end mill so far.
fn most_force(stress: Pressure, d: Length, out: Length) -> Force {
    let core = d.in_mm() * 0.8;
    let modulus = reckon::maths::PI * core * core * core / 32.0;
    Force::si(stress.in_n_per_mm2() * modulus / out.in_mm())
}
