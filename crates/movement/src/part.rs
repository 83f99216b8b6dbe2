//! A part as design leaves it: its solid, its sizes with limits and names in the book, and what
//! the drawing has to tell.

use reckon::{Count, Diameter, Id, Length, Place, Val};
use record::facts::{Common, FaceGroove, GrooveForm, Size, ThreadUse};
use shape::flat::Flat;
use shape::turned::{End, Turned};
use tables::thread::limits::Limits;

/// What kind of thing a part is, as the maker wrote it.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum PartKind {
    /// A screw.
    Screw,
    /// A stud.
    Stud,
    /// A washer.
    Washer,
    /// A pillar.
    Pillar,
    /// A foot.
    Foot,
    /// A bush.
    Bush,
    /// A collet.
    Collet,
    /// A free turned part.
    Turned,
    /// A free flat part.
    Flat,
    /// A part of the movement, by what it is called.
    Of(&'static str),
}
impl PartKind {
    /// One word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            PartKind::Screw => "screw",
            PartKind::Stud => "stud",
            PartKind::Washer => "washer",
            PartKind::Pillar => "pillar",
            PartKind::Foot => "foot",
            PartKind::Bush => "bush",
            PartKind::Collet => "collet",
            PartKind::Turned => "turned part",
            PartKind::Flat => "flat part",
            PartKind::Of(word) => word,
        }
    }
}

/// A part.
#[derive(Clone, Debug)]
pub struct Part {
    /// Kind.
    pub kind: PartKind,
    /// Name, material, count, finish.
    pub common: Common,
    /// Body.
    pub body: Body,
}
/// Turned or flat.
#[derive(Clone, Debug)]
pub enum Body {
    /// Off the lathe.
    Turned(Box<TurnedBody>),
    /// From sheet.
    Flat(Box<FlatBody>),
}

/// A stretch of a turned part's outside, from the first end on.
#[derive(Clone, Debug)]
pub struct Step {
    /// What it is called on the sheet: shank, head, spigot.
    pub what: String,
    /// Where it begins, from the first end.
    pub from: Val<Length>,
    /// Where it ends.
    pub to: Val<Length>,
    /// Its diameter where it begins, with limits.
    pub size: Size<Diameter>,
    /// Its diameter where it ends, where that differs.
    pub end: Option<Val<Diameter>>,
    /// Whether the ends are joined by an arc rather than a straight line.
    pub curved: bool,
    /// Thread cut on it.
    pub thread: Option<OutsideThread>,
    /// Pitch of a knurl on it.
    pub knurl: Option<Val<Length>>,
    /// Chamfer where it begins.
    pub chamfer: Option<Val<Length>>,
    /// Whether it is an undercut: narrower than what stands on both sides.
    pub undercut: bool,
}
/// A thread on the outside of a step.
#[derive(Clone, Debug)]
pub struct OutsideThread {
    /// Which thread, and class.
    pub of: ThreadUse,
    /// Where full thread begins and ends, from the first end.
    pub span: (Val<Length>, Val<Length>),
    /// Which end a die or tool comes from.
    pub end: End,
    /// Its limits.
    pub limits: Limits,
}
/// A hole along the axis.
#[derive(Clone, Debug)]
pub struct AxisHole {
    /// What it is called on the sheet.
    pub what: String,
    /// Dotted name under the part, such as `hole`.
    pub slug: String,
    /// From which end.
    pub end: End,
    /// Finished diameter with limits (for a tapped hole: the thread's minor diameter).
    pub size: Size<Diameter>,
    /// Full depth from that end; through where none.
    pub depth: Option<Val<Length>>,
    /// Thread cut in it.
    pub thread: Option<ThreadUse>,
    /// Whether it is a shallow counterbore at the mouth of another.
    pub sink: bool,
}
/// A ring-shaped groove with its dotted name.
#[derive(Clone, Debug)]
pub struct Groove {
    /// Dotted name under the part, such as `face_groove.1`.
    pub slug: String,
    /// In which end's face.
    pub end: End,
    /// As written.
    pub facts: FaceGroove,
    /// Number of the feature in the solid.
    pub feature: usize,
}
/// Flats round the axis.
#[derive(Copy, Clone, Debug)]
pub struct Flats {
    /// Where they begin, from the first end.
    pub from: Val<Length>,
    /// Where they end.
    pub to: Val<Length>,
    /// Across them.
    pub across: Val<Length>,
    /// How many.
    pub count: u32,
}
/// Teeth, leaves or notches round a part.
#[derive(Clone, Debug)]
pub struct Toothing {
    /// What they are called: teeth, leaves, ratchet teeth.
    pub what: String,
    /// Dotted name under which their sizes stand in the book, such as `third.wheel`.
    pub slug: String,
    /// How many.
    pub count: Val<Count>,
    /// Module, where they have one.
    pub module: Option<Val<Length>>,
    /// Over their tips.
    pub outside: Val<Diameter>,
    /// At their roots.
    pub root: Val<Diameter>,
    /// Depth to cut from a true outside.
    pub depth: Val<Length>,
    /// Their form in words, such as "ogive of BS 978-2, for 12 leaves".
    pub form: String,
    /// Where they begin and end along a turned part.
    pub along: Option<(Val<Length>, Val<Length>)>,
}
/// A part off the lathe.
#[derive(Clone, Debug)]
pub struct TurnedBody {
    /// Length over all.
    pub length: Val<Length>,
    /// Largest diameter.
    pub largest: Val<Diameter>,
    /// Limits on the length over all.
    pub length_limits: (Val<Length>, Val<Length>),
    /// Outside, from the first end.
    pub steps: Vec<Step>,
    /// Holes along the axis.
    pub holes: Vec<AxisHole>,
    /// Grooves in faces.
    pub grooves: Vec<Groove>,
    /// Recess in a face.
    pub relief: Option<(End, Val<Diameter>, Val<Length>)>,
    /// Slot across an end: width, depth.
    pub slot: Option<(End, Val<Length>, Val<Length>)>,
    /// Flats.
    pub flats: Option<Flats>,
    /// Holes across the axis: from the first end, and size.
    pub cross_holes: Vec<(Val<Length>, Val<Diameter>)>,
    /// Teeth or leaves cut into it.
    pub leaves: Vec<Toothing>,
    /// The solid, in millimetres.
    pub solid: Turned,
    /// What the drawing tells.
    pub told: Vec<Told>,
}
/// A part from sheet.
#[derive(Clone, Debug)]
pub struct FlatBody {
    /// Thickness.
    pub thickness: Size<Length>,
    /// Holes as written.
    pub holes: Vec<record::facts::Hole>,
    /// Size of the rectangle round it.
    pub extent: (Val<Length>, Val<Length>),
    /// Corner of that rectangle with the least x and y, which holes are measured from.
    pub datum: (Val<Length>, Val<Length>),
    /// Its outside, where it is turned round before anything is cut into it.
    pub round: Option<Size<Diameter>>,
    /// Teeth cut into its edge.
    pub teeth: Option<Toothing>,
    /// Remarks on its drawing: where (millimetres), and what.
    pub notes: Vec<((f64, f64), FlatNote)>,
    /// The solid, in millimetres.
    pub solid: Flat,
}

/// What a remark on a flat part's drawing says.
#[derive(Clone, Debug)]
pub enum FlatNote {
    /// A size of the book.
    Figure(Figure),
    /// Words.
    Words(String),
}
/// A figure on a drawing.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What stands before or instead of the number.
    pub sign: Sign,
    /// The size.
    pub nominal: Length,
    /// Upper and lower deviation, where limits are told.
    pub limits: Option<(Length, Length)>,
    /// Where it stands in the book.
    pub id: Id,
}
/// What a figure is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Sign {
    /// A plain length.
    None,
    /// A diameter.
    Diameter,
    /// A radius.
    Radius,
    /// A thread, whose name stands in place of the number.
    Thread(String),
}
impl Figure {
    /// A length with limits.
    #[must_use]
    pub fn length(s: &Size<Length>) -> Figure {
        Figure {
            sign: Sign::None,
            nominal: s.nominal.bare(),
            limits: Some((s.upper.bare(), s.lower.bare())),
            id: s.nominal.id(),
        }
    }
    /// A diameter with limits.
    #[must_use]
    pub fn diameter(s: &Size<Diameter>) -> Figure {
        Figure {
            sign: Sign::Diameter,
            nominal: s.nominal.bare().across(),
            limits: Some((s.upper.bare(), s.lower.bare())),
            id: s.nominal.id(),
        }
    }
    /// A length without limits.
    #[must_use]
    pub fn plain(v: &Val<Length>) -> Figure {
        Figure { sign: Sign::None, nominal: v.bare(), limits: None, id: v.id() }
    }
    /// A diameter without limits.
    #[must_use]
    pub fn across(v: &Val<Diameter>) -> Figure {
        Figure { sign: Sign::Diameter, nominal: v.bare().across(), limits: None, id: v.id() }
    }
    /// A thread.
    #[must_use]
    pub fn thread(t: &ThreadUse, v: &Val<Length>) -> Figure {
        let name = format!("{} {}", t.thread.name, t.class);
        Figure { sign: Sign::Thread(name), nominal: v.bare(), limits: None, id: v.id() }
    }
}
/// What the drawing of a turned part has to tell; places in millimetres of the part.
#[derive(Clone, Debug)]
pub enum Told {
    /// A length along the axis.
    Along {
        /// From.
        from: f64,
        /// To.
        to: f64,
        /// Inside a bore rather than outside.
        inside: bool,
        /// What it says.
        figure: Figure,
    },
    /// A diameter.
    Across {
        /// Any place on it along the axis.
        at: f64,
        /// In a bore rather than outside.
        inside: bool,
        /// What it says.
        figure: Figure,
    },
    /// A remark at a point (along, out).
    Note {
        /// Along the axis.
        z: f64,
        /// Out from it.
        r: f64,
        /// What it says.
        text: String,
    },
    /// Sizes of a face groove.
    Groove {
        /// Number of the feature in the solid.
        feature: usize,
        /// Diameter of its middle.
        diameter: Figure,
        /// Width.
        width: Figure,
        /// Depth.
        depth: Figure,
    },
    /// Width of a slot.
    SlotWidth {
        /// Number of the feature in the solid.
        feature: usize,
        /// What it says.
        figure: Figure,
    },
    /// Size across flats.
    AcrossFlats {
        /// Number of the feature in the solid.
        feature: usize,
        /// What it says.
        figure: Figure,
    },
}

impl Part {
    /// Its slug.
    #[must_use]
    pub fn slug(&self) -> &str {
        &self.common.slug
    }
    /// Where it is written.
    #[must_use]
    pub fn at(&self) -> &Place {
        &self.common.at
    }
    /// Its turned body, if it has one.
    #[must_use]
    pub fn turned(&self) -> Option<&TurnedBody> {
        match &self.body {
            Body::Turned(t) => Some(t),
            Body::Flat(_) => None,
        }
    }
}
/// The form of a groove as the solid knows it.
#[must_use]
pub const fn form(of: GrooveForm) -> shape::turned::Form {
    match of {
        GrooveForm::Square => shape::turned::Form::Square,
        GrooveForm::Round => shape::turned::Form::Round,
        GrooveForm::Vee => shape::turned::Form::Vee,
    }
}
