//! The design of the movement: what is wanted, arbors, escapement, pendulum, drive, plates, dial.

use super::clock::Size;
use reckon::{Angle, Count, Density, Diameter, Length, Mass, Place, Pressure, Ratio, Time, Torque, Val};
use std::sync::Arc;
use tables::material::Material;
use tables::thread::Thread;

/// A name that points to something else, and where it is written.
#[derive(Clone, Debug)]
pub struct Named {
    /// As written.
    pub name: String,
    /// Where.
    pub at: Place,
}
/// A point on the plates: x to the right, y upwards, seen from the dial.
pub type Spot = (Val<Length>, Val<Length>);
/// A range that a number is believed to lie in: low, likely, high.
#[derive(Copy, Clone, Debug)]
pub struct Share {
    /// Lowest.
    pub low: Val<Ratio>,
    /// Likely.
    pub likely: Val<Ratio>,
    /// Highest.
    pub high: Val<Ratio>,
}

/// What is wanted of the movement.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// Beats in an hour.
    pub beats: Option<Val<Count>>,
    /// How long it goes on one winding.
    pub run: Option<Val<Time>>,
    /// Turns in hand at the end.
    pub reserve: Val<Ratio>,
    /// Arbor with a seconds hand.
    pub seconds_hand: Option<Named>,
    /// Fewest leaves.
    pub least_leaves: Val<Count>,
    /// Where it is written.
    pub at: Place,
}
/// Top of a leaf.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum LeafTop {
    /// Half circle.
    Round,
    /// One-third ogive.
    Third,
    /// Two-thirds ogive.
    TwoThirds,
}
/// Form of a wheel's teeth.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum ToothForm {
    /// Arcs of the standard.
    Ogive,
    /// One arc nearest to the true curve.
    CloseOgive,
    /// The true epicycloid.
    Epicycloid,
    /// Involute.
    Involute,
}
/// The pinion of an arbor.
#[derive(Clone, Debug)]
pub struct PinionFacts {
    /// Leaves or pins.
    pub leaves: Val<Count>,
    /// Whether it is a lantern of pins.
    pub lantern: bool,
    /// Top of the leaves, where written.
    pub top: Option<LeafTop>,
    /// Module, where written.
    pub module: Option<Val<Length>>,
    /// From and to, from the inside of the back plate.
    pub place: Option<(Val<Length>, Val<Length>)>,
    /// Diameter of the pins.
    pub pin: Option<Val<Diameter>>,
    /// Length of the leaves.
    pub length: Option<Val<Length>>,
    /// Where it is written.
    pub at: Place,
    /// Dotted prefix in the book.
    pub slug: String,
}
/// The wheel of an arbor.
#[derive(Clone, Debug)]
pub struct WheelFacts {
    /// Teeth.
    pub teeth: Val<Count>,
    /// Module, where written.
    pub module: Option<Val<Length>>,
    /// Where the module is written, or the wheel.
    pub module_at: Place,
    /// Form of its teeth.
    pub form: ToothForm,
    /// Thickness, where written.
    pub thickness: Option<Size<Length>>,
    /// Material.
    pub material: &'static Material,
    /// Where it is written.
    pub material_at: Place,
    /// Arms, where written.
    pub arms: Option<Val<Count>>,
    /// Bore, where written.
    pub bore: Option<Val<Diameter>>,
    /// Rim, where written.
    pub rim: Option<Val<Length>>,
    /// Width of an arm, where written.
    pub arm_width: Option<Val<Length>>,
    /// From and to, from the inside of the back plate.
    pub place: Option<(Val<Length>, Val<Length>)>,
    /// Leaves of a pinion outside the project.
    pub mate: Option<Val<Count>>,
    /// Measured distance of centres from that pinion.
    pub centres: Option<Val<Length>>,
    /// Measured diameter over the teeth of an old wheel.
    pub old_outside: Option<Val<Diameter>>,
    /// How it is fixed on its seat, where written.
    pub joined: Option<(Joined, Place)>,
    /// Where it is written.
    pub at: Place,
    /// Where the number of teeth is written.
    pub teeth_at: Place,
    /// Dotted prefix in the book.
    pub slug: String,
}
/// Which hand.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Hand {
    /// Minutes.
    Minute,
    /// Seconds.
    Seconds,
}
/// How one part is fixed in another.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Joined {
    /// A rim spread over.
    Rivet,
    /// Pressed.
    Press,
    /// Retaining adhesive.
    Adhesive,
    /// Tin solder.
    SoftSolder,
    /// Silver solder.
    SilverSolder,
    /// Shellac.
    Shellac,
}
/// Between what an arbor runs.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Runs {
    /// Between the plates.
    Between,
    /// In front of the front plate.
    Front,
    /// Behind the back plate.
    Behind,
}
/// An arbor.
#[derive(Clone, Debug)]
pub struct Arbor {
    /// As written.
    pub name: String,
    /// Dotted prefix in the book.
    pub slug: String,
    /// Where it is written.
    pub at: Place,
    /// Earlier name.
    pub was: Option<String>,
    /// The arbor that drives it.
    pub driven_by: Option<Named>,
    /// Time of one turn, wanted.
    pub turns_once_in: Option<Val<Time>>,
    /// Pinion.
    pub pinion: Option<PinionFacts>,
    /// Wheel.
    pub wheel: Option<WheelFacts>,
    /// Where it stands, where written.
    pub spot: Option<Spot>,
    /// Direction from the arbor that drives it.
    pub bearing: Option<Val<Angle>>,
    /// Where its place is written.
    pub spot_at: Place,
    /// Hand.
    pub carries: Option<Hand>,
    /// Diameter between pivots, where written.
    pub diameter: Option<Val<Diameter>>,
    /// Pivots, where written.
    pub pivot: Option<Val<Diameter>>,
    /// Endshake, where written.
    pub endshake: Option<Val<Length>>,
    /// How what sits on it is fixed, where written.
    pub joined: Option<(Joined, Place)>,
    /// Material.
    pub material: &'static Material,
    /// Where it is written.
    pub material_at: Place,
    /// Between what it runs.
    pub runs: Runs,
}
/// Motion work.
#[derive(Clone, Debug)]
pub struct MotionWork {
    /// Cannon, minute wheel, minute pinion, hour wheel.
    pub counts: [Val<Count>; 4],
    /// Module of the cannon's pair.
    pub module: Val<Length>,
    /// Module of the hour wheel's pair, where it differs.
    pub second_module: Option<Val<Length>>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Material.
    pub material: &'static Material,
    /// Direction of the minute wheel.
    pub bearing: Option<Val<Angle>>,
    /// Where it is written.
    pub at: Place,
    /// Where the counts are written.
    pub counts_at: Place,
}
/// Kinds of escapement.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum EscapementKind {
    /// Dead-beat.
    DeadBeat,
    /// Recoil anchor.
    Recoil,
    /// Pin-wheel.
    PinWheel,
    /// Grasshopper.
    Grasshopper,
}
impl EscapementKind {
    /// As written.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            EscapementKind::DeadBeat => "dead-beat",
            EscapementKind::Recoil => "recoil anchor",
            EscapementKind::PinWheel => "pin-wheel",
            EscapementKind::Grasshopper => "grasshopper",
        }
    }
}
/// The escapement.
#[derive(Clone, Debug)]
pub struct Escapement {
    /// Kind.
    pub kind: EscapementKind,
    /// Teeth or pins.
    pub teeth: Val<Count>,
    /// Where their number is written.
    pub teeth_at: Place,
    /// Over the tips; the circle of pins.
    pub wheel_diameter: Val<Diameter>,
    /// Arbor of the escape wheel.
    pub arbor: Named,
    /// Arbor of the pallets.
    pub pallets: Named,
    /// Tooth spaces spanned.
    pub span: Option<Val<Ratio>>,
    /// Lift.
    pub lift: Option<Val<Angle>>,
    /// Lock.
    pub lock: Option<Val<Angle>>,
    /// Drop.
    pub drop: Val<Angle>,
    /// Width of a tip.
    pub tip_width: Val<Angle>,
    /// Let-off of a recoil anchor.
    pub let_off: Option<Val<Angle>>,
    /// Swing to one side, as it is to run.
    pub running_arc: Val<Angle>,
    /// Where that is written.
    pub running_arc_at: Place,
    /// Whole escaping arc of a grasshopper.
    pub escaping_arc: Option<Val<Angle>>,
    /// Arms of a grasshopper.
    pub arms: Option<Val<Length>>,
    /// Whether its arms stand on one joint.
    pub single_pivot: bool,
    /// Pins of a pin-wheel.
    pub pin: Option<Val<Diameter>>,
    /// Thickness of the wheel.
    pub thickness: Val<Length>,
    /// Thickness of the pallets.
    pub pallet_thickness: Val<Length>,
    /// Material of the wheel.
    pub material: &'static Material,
    /// Material of the pallets.
    pub pallet_material: &'static Material,
    /// From and to, from the inside of the back plate.
    pub place: Option<(Val<Length>, Val<Length>)>,
    /// Where it is written.
    pub at: Place,
}
/// Form of a bob.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum BobForm {
    /// Upright cylinder.
    Cylinder,
    /// Lens.
    Lens,
    /// Disc.
    Disc,
}
/// A bob.
#[derive(Clone, Debug)]
pub struct Bob {
    /// Form.
    pub form: BobForm,
    /// Diameter.
    pub diameter: Val<Diameter>,
    /// Height of a cylinder, thickness of a lens or disc.
    pub height: Val<Length>,
    /// Material.
    pub material: &'static Material,
    /// Mass, where written.
    pub mass: Option<Val<Mass>>,
    /// Whether it rests on the nut by its base.
    pub on_base: bool,
    /// Where it is written.
    pub at: Place,
}
/// A suspension spring.
#[derive(Clone, Debug)]
pub struct Suspension {
    /// Thickness.
    pub thickness: Val<Length>,
    /// Width of all leaves together.
    pub width: Val<Length>,
    /// Free length.
    pub length: Val<Length>,
    /// Material.
    pub material: &'static Material,
    /// Where it is written.
    pub at: Place,
}
/// A rating nut.
#[derive(Clone, Debug)]
pub struct RatingNut {
    /// Thread.
    pub thread: Arc<Thread>,
    /// Where it is written.
    pub thread_at: Place,
    /// Divisions, where written.
    pub divisions: Option<Val<Count>>,
    /// Diameter.
    pub diameter: Val<Diameter>,
    /// Thickness.
    pub thickness: Val<Length>,
}
/// The pendulum.
#[derive(Clone, Debug)]
pub struct Pendulum {
    /// Material of the rod.
    pub rod_material: &'static Material,
    /// Diameter of the rod.
    pub rod_diameter: Val<Diameter>,
    /// Length of the rod, where written.
    pub rod_length: Option<Val<Length>>,
    /// Bob.
    pub bob: Bob,
    /// Rating nut.
    pub nut: Option<RatingNut>,
    /// Suspension spring.
    pub suspension: Option<Suspension>,
    /// Depth of the tray.
    pub tray: Option<Val<Length>>,
    /// Quality factor.
    pub quality: Val<Ratio>,
    /// Where it is written.
    pub at: Place,
}
/// A weight's body.
#[derive(Clone, Debug)]
pub struct WeightBody {
    /// Outside of the shell.
    pub outside: Val<Diameter>,
    /// Inside of the shell.
    pub inside: Val<Diameter>,
    /// Height over all.
    pub height: Val<Length>,
    /// Thickness of a cap.
    pub cap: Val<Length>,
    /// Filling.
    pub filling: &'static Material,
    /// Density of the filling as poured.
    pub packing: Val<Density>,
    /// Where it is written.
    pub at: Place,
}
/// A weight.
#[derive(Clone, Debug)]
pub struct Weight {
    /// Mass.
    pub mass: Val<Mass>,
    /// Arbor of the drum.
    pub arbor: Named,
    /// Drum.
    pub drum: Val<Diameter>,
    /// Line.
    pub line: Val<Diameter>,
    /// Falls.
    pub falls: Val<Count>,
    /// Room below the drum's centre.
    pub room: Option<Val<Length>>,
    /// Height of the pulley.
    pub pulley: Val<Length>,
    /// Room to spare.
    pub spare: Val<Length>,
    /// Body.
    pub body: Option<WeightBody>,
    /// Where it is written.
    pub at: Place,
    /// Where its mass is written.
    pub mass_at: Place,
    /// Where the room is written.
    pub room_at: Place,
}
/// A mainspring with its barrel.
#[derive(Clone, Debug)]
pub struct Spring {
    /// Arbor of the barrel, or of the fusee.
    pub arbor: Named,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Height.
    pub height: Val<Length>,
    /// Length.
    pub length: Val<Length>,
    /// Modulus.
    pub elasticity: Val<Pressure>,
    /// Yield.
    pub yields: Val<Pressure>,
    /// Barrel inside.
    pub inside: Val<Diameter>,
    /// Barrel outside.
    pub outside: Val<Diameter>,
    /// Inside height of the barrel.
    pub room: Val<Length>,
    /// Barrel arbor.
    pub core: Val<Diameter>,
    /// Cover's thickness.
    pub cover: Val<Length>,
    /// Bottom's thickness.
    pub bottom: Val<Length>,
    /// Material of the barrel.
    pub material: &'static Material,
    /// Body from and to, from the inside of the back plate.
    pub place: Option<(Val<Length>, Val<Length>)>,
    /// Where a fusee's barrel stands.
    pub spot: Option<Spot>,
    /// Turns of the stop work.
    pub stop_turns: Option<Val<Ratio>>,
    /// Turns left at the top.
    pub left_at_top: Val<Ratio>,
    /// Part of the torque that the coils deliver.
    pub coils: Share,
    /// Measured torques.
    pub measured: Vec<(Val<Ratio>, Val<Torque>)>,
    /// Where it is written.
    pub at: Place,
}
/// A fusee.
#[derive(Clone, Debug)]
pub struct Fusee {
    /// Its arbor.
    pub arbor: Named,
    /// Turns of its groove.
    pub turns: Val<Ratio>,
    /// Turns of the barrel.
    pub barrel_turns: Val<Ratio>,
    /// Set-up turns.
    pub set_up: Val<Ratio>,
    /// Thickness of the chain.
    pub chain: Val<Length>,
    /// Land between turns of the groove.
    pub gap: Val<Length>,
    /// Torque when set up and gain a turn.
    pub line: Option<(Val<Torque>, Val<Torque>)>,
    /// Where it is written.
    pub at: Place,
}
/// Maintaining power.
#[derive(Clone, Debug)]
pub struct Maintaining {
    /// Teeth of the ratchet.
    pub teeth: Val<Count>,
    /// How long it drives.
    pub time: Val<Time>,
    /// Part of the torque.
    pub share: Val<Ratio>,
    /// Where it is written.
    pub at: Place,
}
/// What drives the clock.
#[derive(Clone, Debug)]
pub struct Drive {
    /// Weight.
    pub weight: Option<Weight>,
    /// Spring.
    pub spring: Option<Spring>,
    /// Fusee.
    pub fusee: Option<Fusee>,
    /// Maintaining power.
    pub maintaining: Option<Maintaining>,
    /// Teeth of the winding ratchet.
    pub clicks: Val<Count>,
    /// Winding square.
    pub square: Val<Length>,
    /// Where it is written.
    pub at: Place,
}
/// What is lost on the way.
#[derive(Clone, Debug)]
pub struct Losses {
    /// Part that reaches the escape arbor, where written.
    pub train: Option<Share>,
    /// Part that reaches the pendulum, where written.
    pub escapement: Option<Share>,
    /// Friction of teeth and pivots.
    pub friction: Share,
}
/// Plates.
#[derive(Clone, Debug)]
pub struct Plates {
    /// Material.
    pub material: &'static Material,
    /// Where it is written.
    pub material_at: Place,
    /// Width and height.
    pub size: Spot,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Between them.
    pub gap: Val<Length>,
    /// Lower left corner, where written.
    pub corner: Option<Spot>,
    /// Pillars.
    pub pillars: Vec<Spot>,
    /// Diameter of the pillars.
    pub pillar_diameter: Val<Diameter>,
    /// Diameter of their spigots.
    pub pillar_spigot: Val<Diameter>,
    /// Where they are written.
    pub at: Place,
    /// Where their size is written.
    pub size_at: Place,
}
/// Hands.
#[derive(Clone, Debug)]
pub struct Hands {
    /// Minute hand, where written.
    pub minute: Option<Val<Length>>,
    /// Hour hand, where written.
    pub hour: Option<Val<Length>>,
    /// Seconds hand, where written.
    pub seconds: Option<Val<Length>>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Material.
    pub material: &'static Material,
    /// Where they are written.
    pub at: Place,
}
/// Dial.
#[derive(Clone, Debug)]
pub struct DialWanted {
    /// Minute circle.
    pub minute_circle: Val<Diameter>,
    /// Seconds circle.
    pub seconds_circle: Option<Val<Diameter>>,
    /// Outside, where written.
    pub outside: Option<Val<Diameter>>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// Material.
    pub material: &'static Material,
    /// Where it is written.
    pub at: Place,
}
/// Case.
#[derive(Clone, Debug)]
pub struct Case {
    /// Inside width.
    pub width: Option<Val<Length>>,
    /// Inside height below the pendulum's axis.
    pub height: Option<Val<Length>>,
    /// Inside depth.
    pub depth: Option<Val<Length>>,
    /// The weight beside the pendulum.
    pub weight_aside: Option<Val<Length>>,
    /// The weight in front of the bob.
    pub weight_in_front: Option<Val<Length>>,
    /// Where it is written.
    pub at: Place,
    /// Where its height is written.
    pub height_at: Place,
}
/// What an indication shows.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Shows {
    /// Moon's age.
    Moon,
    /// Two moons on a disc.
    TwoMoons,
    /// Sidereal day.
    Sidereal,
    /// Lunar day.
    LunarDay,
    /// Tropical year.
    Year,
    /// Week.
    Week,
    /// Equation of time.
    EquationOfTime,
}
/// An indication.
#[derive(Clone, Debug)]
pub struct Indication {
    /// As written.
    pub name: String,
    /// Dotted prefix in the book.
    pub slug: String,
    /// Where it is written.
    pub at: Place,
    /// What it shows.
    pub of: Shows,
    /// Time of one turn of its driver.
    pub from_period: Val<Time>,
    /// Driver, driven.
    pub pairs: Vec<(Val<Count>, Val<Count>)>,
    /// Smallest radius of a cam.
    pub base: Option<Val<Length>>,
}
/// All that is written of the movement.
#[derive(Clone, Debug)]
pub struct MovementFacts {
    /// Wanted.
    pub wanted: Option<Wanted>,
    /// Arbors, by name.
    pub arbors: Vec<Arbor>,
    /// Motion work.
    pub motion_work: Option<MotionWork>,
    /// Escapement.
    pub escapement: Option<Escapement>,
    /// Pendulum.
    pub pendulum: Option<Pendulum>,
    /// Drive.
    pub drive: Option<Drive>,
    /// Losses.
    pub losses: Losses,
    /// Plates.
    pub plates: Option<Plates>,
    /// Dial.
    pub dial: Option<DialWanted>,
    /// Hands.
    pub hands: Option<Hands>,
    /// Case.
    pub case: Option<Case>,
    /// Indications.
    pub indications: Vec<Indication>,
}
impl MovementFacts {
    /// Whether nothing is written of a movement.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.wanted.is_none()
            && self.arbors.is_empty()
            && self.motion_work.is_none()
            && self.escapement.is_none()
            && self.pendulum.is_none()
            && self.drive.is_none()
            && self.plates.is_none()
            && self.dial.is_none()
            && self.indications.is_empty()
    }
}
