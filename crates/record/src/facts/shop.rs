//! The shop side: what machines, tools and stock there are. A list that is not written is empty;
//! a machine that is not written does not exist.

use reckon::print::{Dial, DialSense};
use reckon::{
    Angle, AngularSpeed, Count, Diameter, Force, Length, LengthStyle, Place, Power, Ratio, Speed,
    Temperature, TemperatureDifference, Val,
};
use std::sync::Arc;
use tables::material::Material;
use tables::thread::Thread;

/// The dial of a slide, as written.
#[derive(Copy, Clone, Debug)]
pub struct DialFacts {
    /// One division, in the sense the dial shows.
    pub division: Val<Length>,
    /// One turn.
    pub one_turn: Val<Length>,
    /// What it counts.
    pub shows: DialSense,
    /// Lost motion when turning back.
    pub backlash: Val<Length>,
}
impl DialFacts {
    /// For printing readings.
    #[must_use]
    pub fn dial(&self) -> Dial {
        Dial { division: self.division.bare(), one_turn: self.one_turn.bare(), shows: self.shows }
    }
}
/// Something that holds work on a lathe.
#[derive(Clone, Debug)]
pub struct Holding {
    /// What it is.
    pub kind: HoldKind,
    /// Its name for the sheet, such as "three jaw chuck".
    pub name: String,
    /// Where it is written.
    pub at: Place,
}
/// Kinds of work-holding.
#[derive(Clone, Debug)]
pub enum HoldKind {
    /// A chuck with jaws.
    Chuck {
        /// How many jaws.
        jaws: Val<Count>,
        /// Least and greatest diameter gripped from outside.
        grips: (Val<Diameter>, Val<Diameter>),
        /// Length of the jaws' faces.
        jaw_length: Val<Length>,
        /// Sum of the jaws' forces when done up as usual.
        total_grip: Val<Force>,
        /// Whether its jaws are soft and bored to the work.
        soft: bool,
    },
    /// Collets of listed sizes.
    Collet {
        /// Sizes.
        sizes: Vec<Val<Diameter>>,
        /// How far under its size a collet still grips.
        range: Val<Length>,
        /// Length gripped.
        grip_length: Val<Length>,
        /// Sum of the forces.
        total_grip: Val<Force>,
    },
    /// A flat face that work is stuck to with wax or shellac.
    Wax {
        /// Greatest diameter.
        greatest: Val<Diameter>,
    },
    /// A faceplate with clamps.
    Faceplate {
        /// Greatest diameter.
        greatest: Val<Diameter>,
    },
    /// Between centres with a carrier.
    Centres,
    /// A fixed steady.
    Steady {
        /// Least and greatest diameter.
        grips: (Val<Diameter>, Val<Diameter>),
    },
    /// A mandrel turned for the part; may be made at need.
    Mandrel,
}
/// How a lathe cuts threads with a single point.
#[derive(Clone, Debug)]
pub struct Screwcutting {
    /// Lead of the leadscrew, where change wheels drive it.
    pub leadscrew: Option<Val<Length>>,
    /// Change wheels on the shelf (teeth; a number written twice is two wheels).
    pub wheels: Vec<Val<Count>>,
    /// Least and greatest pitch.
    pub pitches: (Val<Length>, Val<Length>),
    /// Fastest spindle when threading.
    pub fastest: Val<AngularSpeed>,
    /// Fastest that the carriage can follow.
    pub carriage: Val<Speed>,
    /// Whether the carriage is synchronised by electronics, so that no wheels are needed.
    pub electronic: bool,
    /// How fast the carriage gathers speed, where it is synchronised: distance it needs to run in.
    pub run_in: Option<Val<Length>>,
    /// Where it is written.
    pub at: Place,
}
/// A lathe.
#[derive(Clone, Debug)]
pub struct Lathe {
    /// Name.
    pub name: String,
    /// As it stands in dotted names.
    pub slug: String,
    /// Largest diameter over the bed.
    pub swing: Val<Diameter>,
    /// Largest diameter over the cross slide.
    pub swing_over_slide: Val<Diameter>,
    /// Longest work between centres.
    pub between_centres: Val<Length>,
    /// Hole through the spindle.
    pub spindle_bore: Val<Diameter>,
    /// Length of the headstock that a bar passes through.
    pub headstock: Val<Length>,
    /// Motor.
    pub motor: Val<Power>,
    /// Part of the motor's power that reaches the tool.
    pub drive: Val<Ratio>,
    /// Spindle speeds, ascending.
    pub speeds: Vec<Val<AngularSpeed>>,
    /// Whether every speed between the lowest and the highest can be set.
    pub stepless: bool,
    /// Power feeds a turn, ascending; empty when fed by hand.
    pub feeds: Vec<Val<Length>>,
    /// Dial of the cross slide.
    pub cross_slide: Option<DialFacts>,
    /// Dial of the top slide or carriage along the bed.
    pub long_slide: Option<DialFacts>,
    /// Travel of the cross slide.
    pub cross_travel: Val<Length>,
    /// Travel of the top slide.
    pub top_travel: Val<Length>,
    /// Travel of the tailstock barrel.
    pub tailstock_travel: Val<Length>,
    /// Least and greatest drill that the tailstock chuck grips.
    pub tailstock_chuck: (Val<Diameter>, Val<Diameter>),
    /// How far tools sit above centre (negative: below), as measured.
    pub tool_height: Val<Length>,
    /// Diameter deviation of a turned part from what was aimed at, as this lathe and this maker hold it.
    pub holds: Val<Length>,
    /// Screwcutting, where it can.
    pub screwcutting: Option<Screwcutting>,
    /// Its control, where it follows programs.
    pub control: Option<super::ControlFacts>,
    /// What holds the work.
    pub holdings: Vec<Holding>,
    /// Where it is written.
    pub at: Place,
}
/// A mill or drilling machine.
#[derive(Clone, Debug)]
pub struct Mill {
    /// Name.
    pub name: String,
    /// As it stands in dotted names.
    pub slug: String,
    /// Travel along x, y, z.
    pub travel: [Val<Length>; 3],
    /// Greatest distance from spindle nose to table.
    pub daylight: Val<Length>,
    /// Travel of the quill.
    pub quill: Option<Val<Length>>,
    /// Speeds, ascending.
    pub speeds: Vec<Val<AngularSpeed>>,
    /// Whether every speed between can be set.
    pub stepless: bool,
    /// Length of the drill chuck below the nose.
    pub chuck_length: Option<Val<Length>>,
    /// Length of a collet below the nose.
    pub collet_length: Option<Val<Length>>,
    /// Bore of the cutters that its spindle or arbor takes.
    pub cutter_bore: Option<Val<Diameter>>,
    /// Vice: opening, height of its bed over the table, height of its jaws.
    pub vice: Option<[Val<Length>; 3]>,
    /// Dial of the table.
    pub dial: Option<DialFacts>,
    /// Words that its control knows, where it follows programs.
    pub words: Vec<String>,
    /// Fastest feed, where it follows programs.
    pub fastest_feed: Option<Val<Speed>>,
    /// Habits of its control, where they are written.
    pub control: Option<super::ControlFacts>,
    /// Where it is written.
    pub at: Place,
}
/// A dividing head.
#[derive(Clone, Debug)]
pub struct DividingHead {
    /// Turns of the crank for one turn of the spindle.
    pub ratio: Val<Count>,
    /// Circles of holes on each plate.
    pub plates: Vec<Vec<Val<Count>>>,
    /// Height of its centre over the table.
    pub centre_height: Val<Length>,
    /// Greatest diameter its nose takes.
    pub greatest: Val<Diameter>,
    /// How far its spindle may stand from where it is set, as tested from step to step.
    pub true_to: Option<Val<Angle>>,
    /// Where it is written.
    pub at: Place,
}
/// What a cutter is for.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum CutterUse {
    /// Turning and facing.
    Turning,
    /// Parting off; `size` is its width.
    Parting,
    /// Cutting a thread; `size` is its tip: flat or radius.
    Threading,
    /// Grooves in a face; `size` is its width.
    FaceGroove,
    /// Boring; `size` is the smallest hole it enters.
    Boring,
    /// Knurling; `size` is the pitch.
    Knurl,
    /// Teeth of wheels; `size` is the module.
    WheelTeeth,
    /// Slotting saw; `size` is its width.
    SlotSaw,
    /// Countersink; `angle` is its full angle.
    Countersink,
    /// End mill; `size` is its diameter.
    EndMill,
}
/// Form of the tip of a threading tool.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Tip {
    /// Flat of the given width.
    Flat,
    /// Radius.
    Radius,
}
/// A cutter.
#[derive(Clone, Debug)]
pub struct Cutter {
    /// Name for the sheet.
    pub name: String,
    /// What it is for.
    pub of: CutterUse,
    /// Its size; see [`CutterUse`].
    pub size: Option<Val<Length>>,
    /// Form of a threading tool's tip.
    pub tip: Option<Tip>,
    /// Full angle of a threading tool or countersink.
    pub angle: Option<Val<Angle>>,
    /// How deep a parting tool reaches (from the surface), or how far a boring tool reaches.
    pub reach: Option<Val<Length>>,
    /// Outside diameter, where it runs on an arbor.
    pub diameter: Option<Val<Diameter>>,
    /// Bore, where it runs on an arbor.
    pub bore: Option<Val<Diameter>>,
    /// Whether it exists; otherwise it is to be made.
    pub made: bool,
    /// Whether it is carbide rather than high-speed steel.
    pub carbide: bool,
    /// Where it is written.
    pub at: Place,
}
/// Drills, reamers and broaches.
#[derive(Clone, Debug, Default)]
pub struct Drills {
    /// Twist drills, as the maker named them and their size.
    pub sizes: Vec<(String, Val<Diameter>)>,
    /// Flute length of an ordinary drill as a multiple of its size.
    pub flute: Option<Val<Ratio>>,
    /// Long drills: size and reach.
    pub long: Vec<(Val<Diameter>, Val<Length>)>,
    /// Carbide spotting drills.
    pub spotting: Vec<Val<Diameter>>,
    /// Reamers.
    pub reamers: Vec<Val<Diameter>>,
    /// Broaches: from, to.
    pub broaches: Vec<(Val<Diameter>, Val<Diameter>)>,
}
/// Form of stock.
#[derive(Copy, Clone, Debug)]
pub enum StockForm {
    /// Round bar.
    Round {
        /// Diameter as measured or as sold.
        diameter: Val<Diameter>,
        /// Length.
        length: Val<Length>,
    },
    /// Hexagonal bar.
    Hexagon {
        /// Size across flats.
        across: Val<Length>,
        /// Length.
        length: Val<Length>,
    },
    /// Sheet or strip: length, width, thickness.
    Sheet {
        /// Longer side.
        length: Val<Length>,
        /// Shorter side.
        width: Val<Length>,
        /// Thickness.
        thickness: Val<Length>,
    },
    /// Square or flat tool blank: width, height, length.
    Blank {
        /// Width.
        width: Val<Length>,
        /// Height.
        height: Val<Length>,
        /// Length.
        length: Val<Length>,
    },
}
/// Pieces of stock in the drawer.
#[derive(Clone, Debug)]
pub struct Stock {
    /// Material.
    pub material: &'static Material,
    /// Material as written.
    pub name: String,
    /// Form and size.
    pub form: StockForm,
    /// How many.
    pub pieces: Val<Count>,
    /// Where it is written.
    pub at: Place,
}
/// A grinder with its angle jigs.
#[derive(Clone, Debug)]
pub struct Grinder {
    /// Angles that its jigs set.
    pub jigs: Vec<Val<Angle>>,
    /// Diameter of the wheel.
    pub wheel: Option<Val<Diameter>>,
    /// Where it is written.
    pub at: Place,
}
/// Fire.
#[derive(Clone, Debug, Default)]
pub struct Fire {
    /// What heats.
    pub heat_with: Option<String>,
    /// Quenching baths.
    pub quench: Vec<String>,
    /// Hottest that the oven goes, and how steady it holds.
    pub oven: Option<(Val<Temperature>, Val<TemperatureDifference>)>,
    /// How far the thermometer may be off.
    pub thermometer: Option<Val<TemperatureDifference>>,
    /// Pieces of steel that the shop has heated to see what comes of it.
    pub coupons: Vec<Coupon>,
}
/// A piece of steel heated for so long, and what came of it.
#[derive(Clone, Debug)]
pub struct Coupon {
    /// Steel, as the tables call it.
    pub steel: String,
    /// Heat, as the shop's own thermometer had it.
    pub temperature: Val<Temperature>,
    /// How long.
    pub time: Val<reckon::Time>,
    /// Hardness that was measured (HRC).
    pub hardness: Option<Val<Ratio>>,
    /// Colour that was seen, in the words of the chart.
    pub colour: Option<String>,
    /// Where it is written.
    pub at: Place,
}
/// Polishing.
#[derive(Clone, Debug, Default)]
pub struct Polish {
    /// Grain sizes, coarse to fine.
    pub grits: Vec<Val<Length>>,
    /// Laps.
    pub laps: Vec<String>,
    /// Washing baths.
    pub wash: Vec<String>,
}
/// A measuring tool and how far its reading may be off.
#[derive(Clone, Debug)]
pub struct Measure {
    /// Name.
    pub name: String,
    /// Least and greatest it measures.
    pub range: (Val<Length>, Val<Length>),
    /// Uncertainty of a reading.
    pub give_or_take: Val<Length>,
}
/// All that `shop.toml` says.
#[derive(Clone, Debug)]
pub struct Shop {
    /// Name.
    pub name: String,
    /// Earlier name that its journal may still carry.
    pub was: Option<String>,
    /// How lengths are printed for this shop, where it says so.
    pub print: Option<LengthStyle>,
    /// Geographic latitude.
    pub latitude: Option<Val<Angle>>,
    /// Height above the sea.
    pub altitude: Option<Val<Length>>,
    /// Usual temperature.
    pub temperature: Option<Val<Temperature>>,
    /// Lathes, the one for ordinary work first.
    pub lathes: Vec<Lathe>,
    /// Mills and drilling machines.
    pub mills: Vec<Mill>,
    /// Dividing head.
    pub dividing: Option<DividingHead>,
    /// Drills, reamers, broaches.
    pub drills: Drills,
    /// Taps.
    pub taps: Vec<Arc<Thread>>,
    /// Dies.
    pub dies: Vec<Arc<Thread>>,
    /// Cutters.
    pub cutters: Vec<Cutter>,
    /// Stock.
    pub stock: Vec<Stock>,
    /// Grinder.
    pub grinder: Option<Grinder>,
    /// Fire.
    pub fire: Fire,
    /// Polishing.
    pub polish: Polish,
    /// Measuring tools.
    pub measures: Vec<Measure>,
}
