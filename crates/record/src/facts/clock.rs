//! The design side: what the maker wants.

use super::movement::MovementFacts;
use reckon::{
    Angle, Count, Diameter, Length, LengthStyle, Place, Ratio, Temperature, TemperatureDifference, Time, Val,
};
use std::sync::Arc;
use tables::material::Material;
use tables::thread::Thread;

/// A size with the limits it may be made to. Limits that were not written are assumed from the
/// house's general limits, and listed so.
#[derive(Copy, Clone, Debug)]
pub struct Size<T> {
    /// The size on the drawing.
    pub nominal: Val<T>,
    /// Upper deviation.
    pub upper: Val<Length>,
    /// Lower deviation.
    pub lower: Val<Length>,
}

/// Paper that sheets are printed on.
#[derive(Copy, Clone, PartialEq, Eq, Debug, Default)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

/// A finish or heat treatment asked for, in the order written.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Finish {
    /// Heat and quench to hardness.
    Harden,
    /// Draw the hardness back.
    Temper,
    /// Polish bright.
    Polish,
    /// Colour by heat.
    Blue,
    /// Straight grain.
    Grain,
    /// Clear lacquer.
    Lacquer,
    /// Gold or silver on brass.
    Plate,
    /// Soften.
    Anneal,
    /// Take the stress out before it is formed.
    Relieve,
    /// An even dull sheen.
    Satin,
    /// A flat that shows black when light falls past it; steel.
    Black,
    /// A mirror.
    Mirror,
    /// Closed with a burnisher.
    Burnish,
    /// A spiral of fine curves over a round face.
    Snail,
    /// Rows of overlapping spots.
    Spot,
    /// Evenly matt.
    Frost,
    /// Silvered by rubbing; dials.
    Silver,
    /// Gilded, by those who do nothing else.
    Gild,
    /// A film of wax.
    Wax,
}

impl Finish {
    /// In one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Finish::Harden => "harden",
            Finish::Temper => "temper",
            Finish::Polish => "polish",
            Finish::Blue => "blue",
            Finish::Grain => "grain",
            Finish::Lacquer => "lacquer",
            Finish::Plate => "plate",
            Finish::Anneal => "anneal",
            Finish::Relieve => "stress relieve",
            Finish::Satin => "satin",
            Finish::Black => "black polish",
            Finish::Mirror => "mirror",
            Finish::Burnish => "burnish",
            Finish::Snail => "snail",
            Finish::Spot => "spot",
            Finish::Frost => "frost",
            Finish::Silver => "silver",
            Finish::Gild => "gild",
            Finish::Wax => "wax",
        }
    }
    /// All there are.
    pub const ALL: [Finish; 19] = [
        Finish::Harden,
        Finish::Temper,
        Finish::Polish,
        Finish::Blue,
        Finish::Grain,
        Finish::Lacquer,
        Finish::Plate,
        Finish::Anneal,
        Finish::Relieve,
        Finish::Satin,
        Finish::Black,
        Finish::Mirror,
        Finish::Burnish,
        Finish::Snail,
        Finish::Spot,
        Finish::Frost,
        Finish::Silver,
        Finish::Gild,
        Finish::Wax,
    ];
    /// The one that a word names.
    #[must_use]
    pub fn of(word: &str) -> Option<Finish> {
        Finish::ALL.into_iter().find(|f| f.word() == word)
    }
    /// Whether it says how far a surface is polished; one surface takes one of them.
    #[must_use]
    pub const fn polishes(self) -> bool {
        matches!(self, Finish::Satin | Finish::Polish | Finish::Black | Finish::Mirror)
    }
}

/// An order of finish that the maker wants though a rule stands against it, with his reason.
#[derive(Clone, Debug)]
pub struct Otherwise {
    /// First.
    pub first: Finish,
    /// Then.
    pub then: Finish,
    /// Why.
    pub reason: String,
    /// Where it is written.
    pub at: Place,
}

/// One job of the whole clock that the maker wants before another, with his reason.
#[derive(Clone, Debug)]
pub struct First {
    /// What is done first, as written, and where.
    pub first: (String, Place),
    /// What is done after it.
    pub then: (String, Place),
    /// Why.
    pub reason: String,
    /// Where it is written.
    pub at: Place,
}

/// What every part has.
#[derive(Clone, Debug)]
pub struct Common {
    /// As written.
    pub name: String,
    /// As it stands in dotted names.
    pub slug: String,
    /// Where it is written (its `name`, or the head of its table).
    pub at: Place,
    /// Earlier name that measurements may still carry.
    pub was: Option<String>,
    /// How many the clock needs.
    pub count: Val<Count>,
    /// Spares to make besides, where written; otherwise the rule of the trade applies.
    pub spares: Option<Val<Count>>,
    /// What it is made of.
    pub material: &'static Material,
    /// Where the material is written.
    pub material_at: Place,
    /// Finish and heat, in the order written.
    pub finish: Vec<(Finish, Place)>,
    /// Whether the maker wrote them; otherwise they are the house's choice.
    pub finish_written: bool,
    /// Hardness that it is tempered to (HRC), where he wrote one.
    pub hardness: Option<Val<Ratio>>,
    /// Orders of finish that he wants against a rule.
    pub otherwise: Vec<Otherwise>,
    /// A remark to print on its sheet.
    pub note: Option<String>,
}

/// A thread on a part.
#[derive(Clone, Debug)]
pub struct ThreadUse {
    /// Which.
    pub thread: Arc<Thread>,
    /// Class of limits as the standard of that thread names it, such as `6g` or `2A`.
    pub class: String,
    /// Where it is written.
    pub at: Place,
}

/// Form of a screw's head.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum HeadForm {
    /// Straight cylinder.
    Cheese,
    /// Cone that sinks flush; its angle is the full angle.
    Countersunk,
    /// Cylinder with a domed top.
    Domed,
    /// Hexagon; the diameter is the size across flats.
    Hexagon,
}
/// Head of a screw.
#[derive(Clone, Debug)]
pub struct Head {
    /// Form.
    pub form: HeadForm,
    /// Diameter (across flats for a hexagon).
    pub diameter: Size<Diameter>,
    /// Height from the seat to the top; of the cylinder and dome together.
    pub height: Size<Length>,
    /// Full angle of a countersunk head.
    pub angle: Option<Val<Angle>>,
    /// Radius of the dome.
    pub dome: Option<Val<Length>>,
    /// Chamfer on the upper edge.
    pub chamfer: Option<Val<Length>>,
    /// Where the head is written.
    pub at: Place,
}
/// Slot for a screwdriver.
#[derive(Clone, Debug)]
pub struct Slot {
    /// Width.
    pub width: Val<Length>,
    /// Depth.
    pub depth: Val<Length>,
    /// Where it is written, or the head it is assumed for.
    pub at: Place,
}
/// A narrow groove beside a shoulder, so that the thread may run out and the seat is met.
#[derive(Clone, Debug)]
pub struct Undercut {
    /// Diameter at the bottom.
    pub diameter: Val<Diameter>,
    /// Width along the axis.
    pub width: Val<Length>,
    /// Where it is written.
    pub at: Place,
}
/// The free end of a screw or stud.
#[derive(Copy, Clone, Debug)]
pub enum Point {
    /// Left square.
    Flat,
    /// Chamfered at 45° to below the root of the thread.
    Chamfered,
    /// Domed.
    Domed,
}
/// A screw.
#[derive(Clone, Debug)]
pub struct Screw {
    /// What every part has.
    pub common: Common,
    /// Thread.
    pub thread: ThreadUse,
    /// Length under the head (over all for a countersunk head or a headless screw).
    pub length: Size<Length>,
    /// Length of full thread from the point; all of the shank where not written.
    pub thread_length: Option<Val<Length>>,
    /// Head; none for a grub screw.
    pub head: Option<Head>,
    /// Slot.
    pub slot: Option<Slot>,
    /// Undercut below the head.
    pub undercut: Option<Undercut>,
    /// Plain shank between head and thread, where it differs from the thread's own diameter.
    pub shank: Option<Size<Diameter>>,
    /// Point.
    pub point: Point,
}
/// A stud: threads at both ends.
#[derive(Clone, Debug)]
pub struct Stud {
    /// What every part has.
    pub common: Common,
    /// Length over all.
    pub length: Size<Length>,
    /// Thread of the first end and its length.
    pub first: (ThreadUse, Val<Length>),
    /// Thread of the other end and its length.
    pub other: (ThreadUse, Val<Length>),
    /// Plain part between them, where it differs from the larger thread.
    pub plain: Option<Size<Diameter>>,
    /// Ends.
    pub point: Point,
}
/// Form of a groove cut into a face.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum GrooveForm {
    /// Flat bottom, straight walls.
    Square,
    /// Bottom round: a circle's arc as wide as the groove.
    Round,
    /// Two sloping walls that meet.
    Vee,
}
/// Which face of a part lying on the table.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Face {
    /// The one that is seen.
    Front,
    /// The other.
    Back,
}
/// A ring-shaped groove in a face.
#[derive(Clone, Debug)]
pub struct FaceGroove {
    /// Diameter of the groove's middle.
    pub diameter: Val<Diameter>,
    /// Width at the face.
    pub width: Val<Length>,
    /// Depth.
    pub depth: Val<Length>,
    /// Form.
    pub form: GrooveForm,
    /// In which face.
    pub face: Face,
    /// Where it is written.
    pub at: Place,
}
/// A shallow recess in the middle of a face, so that only the rim bears.
#[derive(Clone, Debug)]
pub struct Relief {
    /// Diameter.
    pub diameter: Val<Diameter>,
    /// Depth.
    pub depth: Val<Length>,
    /// In which face.
    pub face: Face,
    /// Where it is written.
    pub at: Place,
}
/// A washer.
#[derive(Clone, Debug)]
pub struct Washer {
    /// What every part has.
    pub common: Common,
    /// Outside.
    pub outside: Size<Diameter>,
    /// Hole.
    pub hole: Size<Diameter>,
    /// Thickness.
    pub thickness: Size<Length>,
    /// Grooves in its faces.
    pub face_grooves: Vec<FaceGroove>,
    /// Recess.
    pub relief: Option<Relief>,
    /// Chamfer on the outer edges.
    pub chamfer: Option<Val<Length>>,
}
/// One end of a pillar.
#[derive(Clone, Debug)]
pub enum PillarEnd {
    /// A plain spigot that stands in the plate's hole, pinned or riveted.
    Spigot {
        /// Diameter.
        diameter: Size<Diameter>,
        /// Length.
        length: Val<Length>,
    },
    /// A threaded spigot.
    Threaded {
        /// Thread.
        thread: ThreadUse,
        /// Length.
        length: Val<Length>,
    },
    /// A tapped hole that takes a screw through the plate.
    Tapped {
        /// Thread.
        thread: ThreadUse,
        /// Depth of full thread.
        depth: Val<Length>,
    },
}
/// A pillar between plates.
#[derive(Clone, Debug)]
pub struct Pillar {
    /// What every part has.
    pub common: Common,
    /// Between the shoulders.
    pub length: Size<Length>,
    /// Diameter.
    pub diameter: Size<Diameter>,
    /// Waist: a smaller diameter over the middle, with its length.
    pub waist: Option<(Val<Diameter>, Val<Length>)>,
    /// Its two ends.
    pub ends: [PillarEnd; 2],
}
/// A foot that a clock stands on.
#[derive(Clone, Debug)]
pub struct Foot {
    /// What every part has.
    pub common: Common,
    /// Largest diameter, at the bottom.
    pub diameter: Size<Diameter>,
    /// Height without what goes into the base.
    pub height: Size<Length>,
    /// Diameter at the top, where it tapers.
    pub top: Option<Val<Diameter>>,
    /// How it is held.
    pub fixing: PillarEnd,
}
/// A bush for a pivot or a worn hole.
#[derive(Clone, Debug)]
pub struct Bush {
    /// What every part has.
    pub common: Common,
    /// Outside.
    pub outside: Size<Diameter>,
    /// Bore.
    pub bore: Size<Diameter>,
    /// Length over all.
    pub length: Size<Length>,
    /// Flange: diameter and thickness.
    pub flange: Option<(Val<Diameter>, Val<Length>)>,
    /// Oil sink: diameter and depth.
    pub oil_sink: Option<(Val<Diameter>, Val<Length>)>,
}
/// A collet that carries a wheel on an arbor.
#[derive(Clone, Debug)]
pub struct Collet {
    /// What every part has.
    pub common: Common,
    /// Body diameter.
    pub diameter: Size<Diameter>,
    /// Length over all.
    pub length: Size<Length>,
    /// Bore for the arbor.
    pub bore: Size<Diameter>,
    /// Seat for the wheel: diameter and length, at the first end.
    pub seat: (Size<Diameter>, Val<Length>),
}
/// One section of a free turned part, from its first end along the axis.
#[derive(Clone, Debug)]
pub struct Section {
    /// Length along the axis.
    pub length: Val<Length>,
    /// Diameter where it begins.
    pub diameter: Size<Diameter>,
    /// Diameter where it ends, for a taper or an arc.
    pub to: Option<Val<Diameter>>,
    /// Radius of an arc from beginning to end: round when positive in text, hollow when so written.
    pub arc: Option<(Val<Length>, Bend)>,
    /// Thread over this section.
    pub thread: Option<ThreadUse>,
    /// Pitch of a straight knurl over this section.
    pub knurl: Option<Val<Length>>,
    /// Chamfer where it begins.
    pub chamfer: Option<Val<Length>>,
    /// Where it is written.
    pub at: Place,
}
/// Which way an arc bulges.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Bend {
    /// Outward.
    Round,
    /// Inward.
    Hollow,
}
/// Which end of a turned part.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum End {
    /// Where its sections begin.
    First,
    /// Where they end.
    Other,
}
/// A hole along the axis.
#[derive(Clone, Debug)]
pub struct Bore {
    /// From which end.
    pub from: End,
    /// Diameter (tapping size follows from `thread`).
    pub diameter: Size<Diameter>,
    /// Full depth; through where none.
    pub depth: Option<Val<Length>>,
    /// Thread cut in it.
    pub thread: Option<ThreadUse>,
    /// Where it is written.
    pub at: Place,
}
/// A free turned part.
#[derive(Clone, Debug)]
pub struct TurnedFacts {
    /// What every part has.
    pub common: Common,
    /// Sections from the first end.
    pub sections: Vec<Section>,
    /// Bores.
    pub bores: Vec<Bore>,
    /// Slot across the other end.
    pub slot: Option<Slot>,
    /// Grooves in the end faces: front is the first end.
    pub face_grooves: Vec<FaceGroove>,
    /// Cross holes: distance from the first end, and size.
    pub cross_holes: Vec<(Val<Length>, Val<Diameter>, Place)>,
}
/// A stretch of a flat part's outline.
#[derive(Clone, Debug)]
pub struct Stretch {
    /// Where it ends.
    pub to: (Val<Length>, Val<Length>),
    /// Radius of the arc that leads there and whether it goes to the left (anticlockwise); straight where none.
    pub arc: Option<(Val<Length>, bool)>,
    /// Where it is written.
    pub at: Place,
}
/// A hole in a flat part.
#[derive(Clone, Debug)]
pub struct Hole {
    /// Name for the hole table, such as `A`.
    pub label: String,
    /// Place of its centre from the part's datum.
    pub centre: (Val<Length>, Val<Length>),
    /// Diameter.
    pub diameter: Size<Diameter>,
    /// Thread.
    pub thread: Option<ThreadUse>,
    /// Full angle and diameter of a countersink.
    pub countersink: Option<(Val<Angle>, Val<Diameter>)>,
    /// Where it is written.
    pub at: Place,
}
/// A free flat part.
#[derive(Clone, Debug)]
pub struct FlatFacts {
    /// What every part has.
    pub common: Common,
    /// Thickness.
    pub thickness: Size<Length>,
    /// Where the outline begins.
    pub start: (Val<Length>, Val<Length>),
    /// The outline, back to its start.
    pub outline: Vec<Stretch>,
    /// Holes.
    pub holes: Vec<Hole>,
}
/// Where the clock is made and stands.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// Geographic latitude.
    pub latitude: Option<Val<Angle>>,
    /// Height above the sea.
    pub altitude: Option<Val<Length>>,
    /// Usual temperature.
    pub temperature: Option<Val<Temperature>>,
    /// From the mean of a day to its warmest.
    pub warmer_by_day: Option<Val<TemperatureDifference>>,
    /// From the mean of a year to its warmest.
    pub warmer_by_year: Option<Val<TemperatureDifference>>,
}
/// All that `clock.toml` says.
#[derive(Clone, Debug)]
pub struct Clock {
    /// Name of the project.
    pub name: String,
    /// Earlier name that its journal may still carry.
    pub was: Option<String>,
    /// Where it stands.
    pub site: Site,
    /// How lengths are printed.
    pub print: LengthStyle,
    /// Paper.
    pub paper: Paper,
    /// How long an evening in the shop is.
    pub evening: Option<Val<Time>>,
    /// Evenings a week.
    pub evenings_a_week: Option<Val<Count>>,
    /// Orders of work that the maker wants.
    pub first: Vec<First>,
    /// Screws.
    pub screws: Vec<Screw>,
    /// Studs.
    pub studs: Vec<Stud>,
    /// Washers.
    pub washers: Vec<Washer>,
    /// Pillars.
    pub pillars: Vec<Pillar>,
    /// Feet.
    pub feet: Vec<Foot>,
    /// Bushes.
    pub bushes: Vec<Bush>,
    /// Collets.
    pub collets: Vec<Collet>,
    /// Free turned parts.
    pub turned: Vec<TurnedFacts>,
    /// Free flat parts.
    pub flats: Vec<FlatFacts>,
    /// The movement, where anything is written of one.
    pub movement: Option<MovementFacts>,
}
