//! What keeps: the winding ratchet with its click, the square, and what drives the clock while it is wound.

use super::{From, FuseeDesign, SpringDesign};
use power::keep::{self as kernel, Bow, Click, Square};
use reckon::source::{HOUSE, Source};
use reckon::{
    Angle, Book, Count, Diameter, Id, Length, Pressure, Ratio, Stiffness, Time, Torque, Trouble, Val, judge,
    work,
};
use shape::profile::Profile;

/// Sizes of ratchets.
pub static SIZES: Source = Source::practice(
    "a winding ratchet as wide as drum or arbor allow; faces undercut ten degrees, tips of fifty-five",
);
/// What square and spring bear.
pub static BEAR: Source =
    Source::practice("shear of a winding square up to 100 N/mm², a bow spring up to half its proof stress");

/// A ratchet wheel.
#[derive(Clone, Debug)]
pub struct RatchetDesign {
    /// Over its tips.
    pub diameter: Val<Diameter>,
    /// Teeth.
    pub teeth: Val<Count>,
    /// Depth of a tooth.
    pub depth: Val<Length>,
    /// Diameter at the roots.
    pub root: Val<Diameter>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Outline about its own centre, millimetres; its faces look counter-clockwise.
    pub outline: Profile,
}
/// A click.
#[derive(Clone, Debug)]
pub struct ClickDesign {
    /// From its pivot to its nose.
    pub length: Val<Length>,
    /// From the ratchet's axis to its pivot.
    pub pivot: Val<Length>,
    /// By how much a tooth draws it in.
    pub draw: Val<Angle>,
}
/// Maintaining power.
#[derive(Clone, Debug)]
pub struct MaintainingDesign {
    /// Turn of the great wheel that the spring must give.
    pub turn: Val<Angle>,
    /// Torque of the spring.
    pub torque: Val<Torque>,
    /// Radius of the bow, and of the place where it pulls.
    pub radius: Val<Length>,
    /// Width of the bow along the arbor.
    pub width: Val<Length>,
    /// Thickness of the bow.
    pub thickness: Val<Length>,
    /// Its ratchet.
    pub ratchet: RatchetDesign,
    /// Its detent on the plate.
    pub click: ClickDesign,
}
/// Ratchets, clicks, square, maintaining power.
#[derive(Clone, Debug)]
pub struct KeepDesign {
    /// Winding ratchet.
    pub ratchet: Option<RatchetDesign>,
    /// Its click.
    pub click: Option<ClickDesign>,
    /// Winding square across its flats.
    pub square: Val<Length>,
    /// Hole of the key across its flats.
    pub key: Val<Length>,
    /// Maintaining power, where written.
    pub maintaining: Option<MaintainingDesign>,
}
/// What went before.
pub(super) struct Given<'a> {
    pub(super) from: &'a From<'a>,
    pub(super) arbor: usize,
    pub(super) torque: Val<Torque>,
    pub(super) turn: Val<Time>,
    pub(super) spring: Option<&'a SpringDesign>,
    pub(super) fusee: Option<&'a FuseeDesign>,
}

pub(super) fn keep(
    g: &Given<'_>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> KeepDesign {
    let facts = g.from.facts;
    let d = facts.drive.as_ref().expect("a drive is worked out only where one is written");
    // The torque that the click holds: a going barrel's spring fully wound, else what the arbor gets.
    let held = match (g.spring, g.fusee) {
        (Some(s), None) => s.full,
        _ => g.torque,
    };
    let diameter = match (&d.weight, &d.spring, g.fusee) {
        (Some(w), _, _) => {
            let drum = w.drum;
            work!(book, "drive.ratchet.diameter", |drum| drum + Length::mm(4.0), &SIZES)
        }
        (_, _, Some(f)) => {
            let large = f.groove_large;
            work!(book, "drive.ratchet.diameter", |large| (large * 1.8).as_diameter(), &SIZES)
        }
        (_, Some(s), _) => {
            let core = s.core;
            work!(book, "drive.ratchet.diameter", |core| core * 1.8, &SIZES)
        }
        _ => book.assumed("drive.ratchet.diameter", Diameter::mm(24.0), "house default"),
    };
    let ratchet = ratchet("drive.ratchet", diameter, d.clicks, 2.0, &d.at, book, troubles);
    let click = ratchet.as_ref().map(|r| click("drive.click", r, facts, book));
    if let Some(r) = &ratchet {
        let diameter = r.diameter;
        let force =
            work!(book, "drive.click.force", |held, diameter| held / diameter.radius(), &kernel::CLICK);
        told.extend([("winding ratchet over its tips", r.diameter.id()), ("force on its click", force.id())]);
    }
    let square = d.square;
    let long =
        book.assumed("drive.square.length", Length::mm(12.0), "house default: what a key takes hold of");
    let shear = work!(
        book,
        "drive.square.shear",
        |square, long, held| Pressure::si(
            Square { across: square.value(), length: long.value() }.shear(held.value())
        ),
        &kernel::SQUARE
    );
    let bears = judge!(
        book,
        "drive.square.bears",
        "the winding square bears what it is wound with",
        |shear| shear <= Pressure::n_per_mm2(100.0),
        &BEAR
    );
    if !bears.bare() {
        book.cure(bears.id(), "a larger square: its shear falls with the third power of its size");
    }
    let play = book.assumed("drive.key.play", Length::mm(0.1), "house default: a key slips on without shake");
    let key = work!(book, "drive.key.across", |square, play| square + play, &HOUSE);
    told.extend([
        ("winding square", square.id()),
        ("its shear", shear.id()),
        ("key across its flats", key.id()),
    ]);
    let going = d.spring.is_some() && d.fusee.is_none();
    if d.maintaining.is_none() && !going {
        troubles.push(
            Trouble::design("nothing drives the clock while it is wound")
                .at(d.at.clone())
                .why("winding takes the torque off the train, and the escape wheel may run back")
                .cure("write [drive.maintaining]")
                .as_warning(),
        );
    }
    let maintaining = d.maintaining.as_ref().and_then(|m| maintaining(g, m, book, troubles, told));
    KeepDesign { ratchet, click, square, key, maintaining }
}
fn ratchet(
    slug: &str,
    diameter: Val<Diameter>,
    teeth: Val<Count>,
    thick: f64,
    at: &reckon::Place,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<RatchetDesign> {
    let undercut = Angle::deg(10.0).value();
    let tip = Angle::deg(55.0).value();
    let (radius, z) = (diameter.bare().in_mm() / 2.0, teeth.bare().n());
    let depth = kernel::ratchet_depth(radius, z, tip, undercut);
    let count = u32::try_from(teeth.bare().0).unwrap_or(0);
    let Some(outline) = kernel::ratchet(radius, count, depth, undercut) else {
        troubles.push(
            Trouble::design(format!("{} ratchet teeth cannot be cut on {}", teeth.shown(), diameter.shown()))
                .at(at.clone())
                .why("six or more teeth, not deeper than half the radius, can be drawn")
                .cure("more teeth"),
        );
        return None;
    };
    let depth = book.solved(
        format_args!("{slug}.depth"),
        Length::mm(depth),
        ("face and back meet at the root", 1, 0.0),
        vec![diameter.id(), teeth.id()],
        &SIZES,
    );
    let root = work!(book, format_args!("{slug}.root"), |diameter, depth| diameter - depth * 2.0, &SIZES);
    let thickness = book.assumed(format_args!("{slug}.thickness"), Length::mm(thick), "house default");
    Some(RatchetDesign { diameter, teeth, depth, root, thickness, outline })
}
fn click(
    slug: &str,
    r: &RatchetDesign,
    facts: &record::facts::MovementFacts,
    book: &mut Book,
) -> ClickDesign {
    let diameter = r.diameter;
    let length = work!(
        book,
        format_args!("{slug}.length"),
        |diameter| Length::mm((diameter.in_mm() * 0.45).round().max(8.0)),
        &HOUSE
    );
    let pivot = work!(
        book,
        format_args!("{slug}.pivot"),
        |diameter, length| Length::si(kernel::tangent_pivot(diameter.radius().value(), length.value())),
        &kernel::CLICK
    );
    let draw = work!(
        book,
        format_args!("{slug}.draw"),
        |diameter, length, pivot| Angle::si(
            Click {
                contact: diameter.radius().value(),
                length: length.value(),
                pivot: pivot.value(),
                undercut: Angle::deg(10.0).value()
            }
            .draw()
            .unwrap_or(0.0)
        ),
        &kernel::CLICK
    );
    let friction = facts.losses.friction.likely;
    let holds = judge!(
        book,
        format_args!("{slug}.holds"),
        "the tooth draws its click in, against friction too",
        |draw, friction| draw.tan() >= friction.value(),
        &kernel::CLICK
    );
    if !holds.bare() {
        book.cure(holds.id(), "more undercut of the teeth, or the click's pivot further out");
    }
    ClickDesign { length, pivot, draw }
}
fn maintaining(
    g: &Given<'_>,
    m: &record::facts::Maintaining,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> Option<MaintainingDesign> {
    let (teeth, time, share, working, round) = (m.teeth, m.time, m.share, g.torque, g.turn);
    let turn = work!(
        book,
        "drive.maintaining.turn",
        |time, round, teeth| Angle::si(kernel::needed_turn(time.value(), round.value(), Some(teeth.n()))),
        &kernel::TURN
    );
    let torque = work!(book, "drive.maintaining.torque", |working, share| working * share, &kernel::SHARE);
    let within = judge!(
        book,
        "drive.maintaining.sets",
        "the maintaining spring is set by the drive, and drives well enough without it",
        |share| share >= Ratio::si(0.8) && share <= Ratio::si(0.95),
        &kernel::SHARE
    );
    if !within.bare() {
        book.cure(within.id(), "a share of 0.8 to 0.95 of the working torque");
    }
    // Inside the great wheel's rim.
    let mesh =
        g.from.train.arbors[g.arbor].drives.first().and_then(|n| g.from.train.meshes[*n].sizes.as_ref());
    let root = match mesh {
        Some(s) => s.wheel.root,
        None => book.assumed(
            "drive.maintaining.wheel",
            Diameter::mm(80.0),
            "house default where no module is written",
        ),
    };
    let radius =
        work!(book, "drive.maintaining.radius", |root| Length::mm((root.in_mm() * 0.3).round()), &HOUSE);
    let width = book.assumed("drive.maintaining.width", Length::mm(2.5), "house default: along the arbor");
    let stiffness = work!(
        book,
        "drive.maintaining.stiffness",
        |torque, radius, turn| Stiffness::si(kernel::stiffness_needed(
            torque.value(),
            radius.value(),
            2.0 * turn.value()
        )),
        &kernel::SHARE
    );
    let steel = tables::material::find("blue spring steel").ok()?;
    let modulus = steel.youngs.tabled(book, "drive.maintaining.modulus", steel.row("modulus"));
    let thickness = work!(
        book,
        "drive.maintaining.thickness",
        |modulus, width, radius, stiffness| Length::si(Bow::Semicircle.thickness(
            modulus.value(),
            width.value(),
            radius.value(),
            stiffness.value()
        )),
        &kernel::BOW
    );
    let stress = work!(
        book,
        "drive.maintaining.stress",
        |torque, radius, width, thickness| Pressure::si(Bow::Semicircle.stress(
            torque.value() / radius.value(),
            width.value(),
            thickness.value(),
            radius.value()
        )),
        &kernel::BOW
    );
    if let Some(proof) = &steel.proof {
        let proof = proof.tabled(book, "drive.maintaining.proof", steel.row("proof stress"));
        let bears = judge!(
            book,
            "drive.maintaining.bears",
            "the maintaining spring keeps its form",
            |stress, proof| stress <= proof * 0.75,
            &BEAR
        );
        if !bears.bare() {
            book.cure(bears.id(), "two bows side by side, or a bow of more width");
        }
    }
    let across = work!(book, "drive.maintaining.ratchet.diameter", |root| root * 0.8, &SIZES);
    let ratchet = ratchet("drive.maintaining.ratchet", across, teeth, 1.5, &m.at, book, troubles)?;
    let click = click("drive.maintaining.click", &ratchet, g.from.facts, book);
    told.extend([
        ("turn that maintaining power must give", turn.id()),
        ("its torque", torque.id()),
        ("thickness of its bow", thickness.id()),
        ("stress of its bow", stress.id()),
    ]);
    Some(MaintainingDesign { turn, torque, radius, width, thickness, ratchet, click })
}
