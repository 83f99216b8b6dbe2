//! What can hurt, said where the operation is. Usual practice only: local law, the machine maker's
//! manual and the material's safety sheet come first.

/// A caution that belongs to an operation.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Caution {
    /// Spinning work.
    Turning,
    /// A bar that sticks out behind the spindle.
    Bar,
    /// Parting off.
    Parting,
    /// Brass with lead in it.
    Lead,
    /// Filing in the lathe, emery.
    Filing,
    /// Hand tapping, dies.
    HandThreading,
    /// Grinding a tool.
    Grinding,
    /// Carbide drills.
    Carbide,
    /// Drilling sheet.
    DrillingSheet,
    /// Sawing and piercing.
    Sawing,
    /// Slotting saw with the work under the fingers.
    Slotting,
    /// Wax or shellac chuck.
    Wax,
    /// Hot metal and quench.
    Quench,
    /// Oil to quench in.
    OilBath,
    /// Water to quench in.
    WaterBath,
    /// Boric acid.
    Borate,
    /// A hot tray.
    Tray,
    /// Beryllium copper.
    Beryllium,
    /// Short or thin work, lightly held.
    LightGrip,
    /// Dividing with a cutter beside the fingers.
    Indexing,
    /// An oven or hot plate, hot metal.
    Hot,
    /// Riveting and staking.
    Riveting,
    /// Pressing home.
    Pressing,
    /// Solder, flux and flame.
    Soldering,
    /// Adhesives.
    Adhesive,
    /// Fine pivots under a plate.
    HandlingPivots,
    /// A wound spring.
    Mainspring,
    /// A weight on a line.
    HangingWeight,
    /// What holds a clock to a wall.
    WallFixing,
    /// Polishing wheels, dust of polishing.
    Polishing,
    /// Spirit for degreasing.
    Spirit,
    /// Lacquer.
    Lacquer,
    /// Salts for silvering.
    Silvering,
    /// Gilding and plating.
    Plating,
}
impl Caution {
    /// What is printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Caution::Turning => {
                "Eyes covered. No gloves, loose sleeves, rings or hanging hair near turning work. Chuck key out before the switch. Chips by brush or hook, with the spindle stopped."
            }
            Caution::Bar => {
                "A bar that sticks out behind the spindle can bend and flail at speed: keep under the speed given here, support the tail, and let nobody stand beside it."
            }
            Caution::Parting => {
                "A parting tool that grabs can throw the work. Slides snug, tool square and at centre, blade no longer than needed; do not catch the part with the fingers."
            }
            Caution::Lead => {
                "This brass holds lead. Wash hands before eating or touching the face, no dry sweeping or blowing of dust, keep work clothes apart, keep children and food out of the shop."
            }
            Caution::Filing => {
                "File with a handle on it, the handle in the left hand, so that no arm reaches over the chuck; emery on a stick, never wrapped round turning work."
            }
            Caution::HandThreading => {
                "Spindle stopped and turned by hand. A snapped tap or die leaves splinters: eyes covered."
            }
            Caution::Grinding => {
                "Eyes covered, rest set close to the wheel, guard in place, stand aside while it runs up. Dust of tool steel and of the wheel is not for breathing."
            }
            Caution::Carbide => {
                "Carbide drills snap without warning and splinter: eyes covered, no side load, no hand feed with a loose quill."
            }
            Caution::DrillingSheet => {
                "Sheet climbs a drill as it breaks through and then spins like a knife: clamp it, never hold it by hand."
            }
            Caution::Sawing => {
                "Saw dust is fine: no blowing, eyes covered. Fingers out of the line of the saw."
            }
            Caution::Slotting => "Fingers away from the saw; stop it before the part is touched or measured.",
            Caution::Wax => {
                "Wax and shellac smoke when too hot and the work flies when they let go: warm gently with air moving, light cuts, low speed, stand out of the plane of the work."
            }
            Caution::Quench => {
                "Hot metal, fire and oil smoke: outdoors or well aired, face and hands covered, nothing that burns within three metres, lidded steel oil can, means to put out a fire at hand."
            }
            Caution::Beryllium => {
                "Dust of beryllium copper can ruin the lungs: no grinding, sanding or heating of it here."
            }
            Caution::LightGrip => {
                "This is held lightly so as not to mark or bend it: cuts no deeper than given here, or it walks out of the jaws."
            }
            Caution::Hot => heat::caution::CAUTION_HOT,
            Caution::Riveting => {
                "Eyes covered: a punch slips and a stake chips. Brass that was hammered can crack months later, sooner with ammonia near: few light blows, no more spread than is needed."
            }
            Caution::Pressing => {
                "What slips out of a press flies: eyes covered, fingers out, the load straight above its rest. Stop when it takes more force than is written here."
            }
            Caution::Soldering => {
                "Flux smokes and solder may hold lead or cadmium: air moving, never cadmium solder, nothing that burns near the flame, eyes covered, hands washed after; and water at hand."
            }
            Caution::Adhesive => {
                "Adhesives and their cleaners stick or irritate skin and eyes: gloves, air moving, the maker's safety sheet first; heated off they give vapour: outdoors."
            }
            Caution::HandlingPivots => {
                "Nothing is wound or hung yet: if a spring is in its barrel, it is let down and the click seen open. A plate pressed onto a pivot snaps it, and splinters fly: eyes covered."
            }
            Caution::Mainspring => {
                "A wound spring holds enough to break fingers and throw parts into eyes. Eyes covered, gloves, the key's grip never open; let it down under control BEFORE any nut of the plates is loosened, then try again that it is down. If you have not done it, learn it from one who has, with the part in hand."
            }
            Caution::HangingWeight => {
                "A falling weight breaks feet and floors: line for at least five times its pull, looked at along its whole length at each winding; hook closed; nobody, and no child's hand, under it; a mat below."
            }
            Caution::WallFixing => {
                "A clock that comes off the wall hurts whoever winds it: fixings for four times all that hangs, in structure that carries, clear of pipes and cables. Local building practice comes first; where in doubt, ask one who is licensed for it."
            }
            Caution::OilBath => heat::caution::CAUTION_OIL,
            Caution::WaterBath => heat::caution::CAUTION_WATER,
            Caution::Borate => heat::caution::CAUTION_BORATE,
            Caution::Tray => heat::caution::CAUTION_TRAY,
            Caution::Polishing => heat::caution::CAUTION_WHEEL,
            Caution::Spirit => heat::caution::CAUTION_SPIRIT,
            Caution::Lacquer => heat::caution::CAUTION_LACQUER,
            Caution::Silvering => {
                "Silvering paste holds a silver salt that stains skin and hurts eyes: gloves, goggles, its safety sheet read, buy it ready mixed. Never one with cyanide. Rinsings are waste that goes where local rules send them."
            }
            Caution::Plating => {
                "Gilding and plating baths are poison; they are left to a firm with its own licences. Gilding with mercury is not planned here and must not be done: its fume kills, slowly, also others in the house."
            }
            Caution::Indexing => {
                "Cutter stopped, and kept from starting, whenever a hand goes to the work or the chips are cleared; eyes covered; a hand on the crank is a hand beside a running cutter: keep the guard on it and step by step lock, then feed."
            }
        }
    }
    /// The rule that stands over them all, printed once.
    pub const ABOVE_ALL: &'static str = "This packet plans; you decide. Local law, the machine maker's manual, the material's safety sheet and licensed practice come first; where they differ from a page here, follow them.";
}
