//! The escapement as set out: distances, pallets, wheel, and whether it locks, lifts and lets go.
//!
//! Set out in the plane of the kernel: the wheel's arbor at the origin, the pallets' arbor above it, the
//! wheel turning clockwise. Outlines of parts are moved so that their bore stands at the origin.

mod anchor;
mod dead_beat;
mod found;
mod grasshopper;
mod pin_wheel;

use super::Train;
use ::escapement::check::Amiss;
use kurbo::Point;
use reckon::source::{GEOMETRY, Source};
use reckon::{Angle, Book, Id, Length, Place, Ratio, Trouble, Val, work};
use record::facts::{Escapement, EscapementKind, MovementFacts};
use shape::profile::Profile;

use found::Enter;

/// Run that a swing must keep beyond the let-off.
pub static RUN: Source =
    Source::practice("a swing reaches 0.3 degrees past the let-off; a grasshopper's 0.5 past its release");
/// How far from its drawn distance the pallets' arbor may stand.
pub static PLANTED: Source = Source::practice("what changes a lock, drop or catch by a tenth of a degree");
/// Teeth of an escape wheel against those of the pair that drives it.
pub static SCALE: Source =
    Source::practice("teeth of an escape wheel stand between 1.5 and 40 modules of the driving pair apart");
/// What is left for polishing.
pub static POLISH: Source = Source::practice("0.02 mm left on locking and impulse faces for the polish");

/// A flat piece of the pallets.
#[derive(Clone, Debug)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// Dotted name.
    pub slug: String,
    /// Its outline, millimetres, bore or joint at the origin.
    pub outline: Profile,
    /// Holes besides the bore: where, and how wide; millimetres.
    pub holes: Vec<(Point, f64)>,
    /// Whether it sits on the arbor by the hole at its origin; if not, that hole has the diameter given.
    pub joint: Option<f64>,
}
/// Construction, to be drawn: millimetres in the plane of the escapement.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    /// Points with their names.
    pub points: Vec<(Point, String)>,
    /// Construction lines.
    pub lines: Vec<(Point, Point)>,
    /// Construction circles: centre and radius.
    pub circles: Vec<(Point, f64)>,
    /// Outlines of what is made.
    pub outlines: Vec<Profile>,
    /// Parts worth enlarging: middle, half the side, name.
    pub windows: Vec<(Point, f64, String)>,
    /// Further states to be drawn on their own: name and outlines.
    pub states: Vec<(String, Vec<Profile>)>,
}
/// What works on what, as a simulation takes it.
#[derive(Clone, Debug)]
pub enum Acting {
    /// Teeth on nibs.
    Faces {
        /// The outlines.
        works: ::escapement::cycle::Works,
        /// Furthest swing to one side that the faces are made for, where they are cut to a length (rad).
        reach: Option<f64>,
    },
    /// Teeth on struts.
    Arms(::escapement::grasshopper::Linkage),
}
/// The escapement as decided.
#[derive(Clone, Debug)]
pub struct EscapementDesign {
    /// Kind.
    pub kind: EscapementKind,
    /// Distance of the pallets' arbor (of a grasshopper's frame) from the escape arbor.
    pub centres: Val<Length>,
    /// Angle from tooth to tooth.
    pub pitch: Val<Angle>,
    /// Turn of the wheel in a beat that pushes.
    pub advance: Val<Angle>,
    /// Mean turn of the wheel for a turn of the pallets while it pushes: torque ratio.
    pub ratio: Val<Ratio>,
    /// Turn of the pallets while they are pushed.
    pub lift: Val<Angle>,
    /// Lock.
    pub lock: Option<Val<Angle>>,
    /// Drop.
    pub drop: Option<Val<Angle>>,
    /// Swing that it needs to run.
    pub arc_needed: Val<Angle>,
    /// Recoil of the wheel at the running arc.
    pub recoil: Val<Angle>,
    /// Outline of the wheel about its own centre; of a pin-wheel, its disc.
    pub wheel: Profile,
    /// Radius at the roots of its teeth.
    pub root: Val<Length>,
    /// Depth of its teeth.
    pub depth: Val<Length>,
    /// Centres of pins, from the wheel's.
    pub pins: Vec<Point>,
    /// Pieces of the pallets.
    pub pieces: Vec<Piece>,
    /// What works on what.
    pub acting: Acting,
    /// What is drawn to set it out.
    pub drawing: Drawing,
    /// Lines for the sheet.
    pub told: Vec<(String, Id)>,
    /// Table of corners, joints or radii.
    pub corners: Id,
    /// Table of what was set out against what the outlines do.
    pub cycled: Id,
    /// Table of what a hundredth of a millimetre does.
    pub sensitivity: Option<Id>,
    /// What takes a tenth of a degree, as an error of the arbors' distance, millimetres.
    pub tolerance: f64,
}

/// What every kind is set out from.
struct Common<'a> {
    e: &'a Escapement,
    radius: Val<Length>,
    pitch: Val<Angle>,
    teeth: u32,
    /// Distance of the arbors where both are written.
    planted: Option<f64>,
    /// Whether they are drilled so, and the pallets have to suit them and a wheel that is made.
    drilled: bool,
    /// Thickness of the pallets' arbor, millimetres.
    bore: f64,
}
/// Where a value is written, or else where the escapement is.
fn place(book: &Book, id: Id, e: &Escapement) -> Place {
    match book.line(id).map(|l| &l.origin) {
        Some(reckon::Origin::Written { at }) => at.clone(),
        _ => e.at.clone(),
    }
}
/// Radians as degrees for a message.
fn degrees(a: f64) -> String {
    format!("{} deg", reckon::print::trimmed(&reckon::print::fixed(a.to_degrees(), 3)))
}
fn millimetres(x: f64) -> String {
    format!("{} mm", reckon::print::trimmed(&reckon::print::fixed(x, 3)))
}
impl Common<'_> {
    fn r(&self) -> f64 {
        self.radius.bare().in_mm()
    }
    /// A refusal of the kernel at the size that it names.
    fn refused(&self, amiss: &Amiss, book: &Book) -> Trouble {
        let e = self.e;
        let half = self.pitch.bare().value() / 2.0;
        let at = |id: Option<Id>| id.map_or_else(|| e.at.clone(), |id| place(book, id, e));
        let (id, cure) = match amiss.size {
            "teeth" | "pins" => {
                (Some(e.teeth.id()), "a usual count: 30 for seconds, 30 to 42 for half seconds".to_owned())
            }
            "span" => {
                (e.span.map(|v| v.id()), format!("a span near a quarter of the teeth: {}.5", self.teeth / 4))
            }
            "lift" => (e.lift.map(|v| v.id()), "a lift of 1.5 to 2.5 degrees".to_owned()),
            "lock" => (
                e.lock.map(|v| v.id()),
                e.lift.map_or_else(
                    || "a lock of 0.5 to 1 degree".to_owned(),
                    |l| format!("a lock well under the lift of {}: 0.5 to 1 degree is usual", l.shown()),
                ),
            ),
            "drop" | "tip" => (
                Some(if e.tip_width.bare() > e.drop.bare() { e.tip_width.id() } else { e.drop.id() }),
                format!(
                    "drop and tip_width together well under half a pitch, {}: 1 deg and 0.3 deg are usual",
                    degrees(half)
                ),
            ),
            "let_off" => (e.let_off.map(|v| v.id()), "a let_off of 1.5 to 3 degrees".to_owned()),
            "arc" => (
                Some(e.running_arc.id()),
                e.let_off.map_or_else(
                    || "a running arc of 1.5 to 4 degrees".to_owned(),
                    |v| {
                        format!(
                            "a running arc of at least {}",
                            degrees(v.bare().value() + 0.3_f64.to_radians())
                        )
                    },
                ),
            ),
            "pin" | "clear" => (
                e.pin.map(|v| v.id()),
                format!("pins of about {}", millimetres(0.2 * self.r() * self.pitch.bare().value())),
            ),
            "radius" => (Some(e.wheel_diameter.id()), "a larger wheel_diameter".to_owned()),
            "boss" | "arm_width" => (
                Some(e.wheel_diameter.id()),
                "a larger wheel_diameter, or a thinner arbor for the pallets".to_owned(),
            ),
            _ => (None, "look at the sizes of the escapement".to_owned()),
        };
        Trouble::design(format!("this {} escapement cannot be set out", e.kind.word()))
            .at(at(id))
            .why(amiss.says.clone())
            .cure(cure)
    }
    /// Whole teeth of a span of a whole number and a half.
    fn span(&self, book: &Book, troubles: &mut Vec<Trouble>) -> Option<(Val<Ratio>, u32)> {
        let span = self.e.span?;
        let whole = span.bare().value().floor();
        if (span.bare().value() - whole - 0.5).abs() > 1e-6 || !(0.0..1000.0).contains(&whole) {
            let low = (span.bare().value() - 0.5).floor().max(1.0);
            troubles.push(
                Trouble::design(format!("pallets cannot span {} tooth spaces", span.shown()))
                    .at(place(book, span.id(), self.e))
                    .why("one pallet lets off half-way between two falls on the other: the span is a whole number and a half")
                    .cure(format!("span = {}", low + 0.5))
                    .cure(format!("span = {}", low + 1.5)),
            );
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 999, whole")]
        Some((span, whole as u32))
    }
    /// Refuses a running arc that does not reach past the let-off.
    fn runs(&self, needed: Val<Angle>, less: &str, troubles: &mut Vec<Trouble>) -> Option<()> {
        let e = self.e;
        if e.running_arc.bare().value() < needed.bare().value() - 1e-12 {
            troubles.push(
                Trouble::design(format!(
                    "a swing of {} does not let the teeth go: the escapement needs {}",
                    e.running_arc.shown(),
                    needed.shown()
                ))
                .at(e.running_arc_at.clone())
                .why("both pallets must be unlocked at every beat, with run to spare")
                .cure(format!("running_arc = \"{}\" or more", degrees(needed.bare().value())))
                .cure(less.to_owned()),
            );
            return None;
        }
        Some(())
    }
}

/// Sets the escapement out; none where nothing is written of one, or it cannot be.
pub(super) fn escapement(
    t: &Train,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<EscapementDesign> {
    let e = facts.escapement.as_ref()?;
    let (teeth, diameter) = (e.teeth, e.wheel_diameter);
    let radius = work!(book, "escapement.radius", |diameter| diameter.across() / 2.0, &GEOMETRY);
    let pitch =
        work!(book, "escapement.pitch", |teeth| Angle::si(::escapement::frame::TURN / teeth.n()), &GEOMETRY);
    let planted = t.pallets.zip(t.escape).and_then(|(p, w)| {
        let (a, b) = (t.arbors[p].facts.spot?, t.arbors[w].facts.spot?);
        let (dx, dy) = (a.0.bare().in_mm() - b.0.bare().in_mm(), a.1.bare().in_mm() - b.1.bare().in_mm());
        Some(reckon::maths::hypot(dx, dy))
    });
    let bore = t.pallets.and_then(|p| t.arbors[p].facts.diameter).map_or(3.0, |d| d.bare().in_mm());
    let n = u32::try_from(teeth.bare().0).ok()?;
    let drilled = super::pallets::to_suit_hole(t, book);
    let c = Common { e, radius, pitch, teeth: n, planted, drilled, bore };
    scale(&c, t, book, troubles)?;
    let d = match e.kind {
        EscapementKind::DeadBeat => dead_beat::set_out(&c, book, troubles),
        EscapementKind::Recoil => anchor::set_out(&c, book, troubles),
        EscapementKind::PinWheel => pin_wheel::set_out(&c, book, troubles),
        EscapementKind::Grasshopper => grasshopper::set_out(&c, book, troubles),
    }?;
    // What was measured is judged by what it does.
    if !super::pallets::measured(book) {
        misplanted(&c, &d, t, troubles);
    }
    Some(d)
}
/// Refuses a wheel whose size has nothing to do with the train.
fn scale(c: &Common<'_>, t: &Train, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<()> {
    let (radius, pitch) = (c.radius, c.pitch);
    let apart = work!(book, "escapement.tips_apart", |radius, pitch| radius * pitch.value(), &GEOMETRY);
    let driven = t.escape.and_then(|i| t.arbors[i].driven);
    let Some(module) = driven.and_then(|m| t.meshes[m].sizes.as_ref()).map(|s| s.module) else {
        return Some(());
    };
    let by = (apart.bare() / module.bare()).value();
    if (1.5..=40.0).contains(&by) {
        return Some(());
    }
    let least = module.bare().in_mm() * 1.5 * f64::from(c.teeth) / reckon::maths::PI;
    let most = module.bare().in_mm() * 40.0 * f64::from(c.teeth) / reckon::maths::PI;
    troubles.push(
        Trouble::design(format!(
            "an escape wheel of {} with {} teeth does not suit the train",
            c.e.wheel_diameter.shown(),
            c.teeth
        ))
        .at(place(book, c.e.wheel_diameter.id(), c.e))
        .why(format!(
            "its teeth would stand {} apart, and the pair that drives it has module {}",
            apart.shown(),
            module.shown()
        ))
        .cure(format!(
            "wheel_diameter between {} and {}",
            millimetres(least.ceil()),
            millimetres(most.floor())
        ))
        .cure("look whether millimetres or a radius were meant"),
    );
    None
}
/// Refuses pallets planted where they would not do what is set out.
fn misplanted(c: &Common<'_>, d: &EscapementDesign, t: &Train, troubles: &mut Vec<Trouble>) {
    let (Some(laid), Some(p), Some(w)) = (c.planted, t.pallets, t.escape) else { return };
    let off = laid - d.centres.bare().in_mm();
    if off.abs() <= d.tolerance {
        return;
    }
    let (a, b) = (&t.arbors[p].facts, &t.arbors[w].facts);
    let (Some(to), Some(from)) = (a.spot, b.spot) else { return };
    let mm = |v: &Val<Length>| v.bare().in_mm();
    let k = d.centres.bare().in_mm() / laid.max(1e-9);
    let (x, y) = (mm(&from.0) + (mm(&to.0) - mm(&from.0)) * k, mm(&from.1) + (mm(&to.1) - mm(&from.1)) * k);
    troubles.push(
        Trouble::design(format!(
            "'{}' stands {} too {} for the pallets as set out",
            a.name,
            millimetres(off.abs()),
            if off > 0.0 { "far from the escape wheel" } else { "near the escape wheel" }
        ))
        .at(a.spot_at.clone())
        .at(b.spot_at.clone())
        .why(format!(
            "the sizes of the escapement want {} between the arbors, and {} are written; {} already take a tenth of a degree",
            d.centres.shown(),
            millimetres(laid),
            millimetres(d.tolerance)
        ))
        .cure(format!("at = [\"{}\", \"{}\"] for '{}'", millimetres(x), millimetres(y), a.name))
        .cure("leave `at` out: the distance then follows from the escapement"),
    );
}
/// Outline moved so that a point of it becomes the origin.
fn about(outline: &Profile, origin: Point) -> Profile {
    outline.mapped(|p| Point::new(p.x - origin.x, p.y - origin.y))
}
