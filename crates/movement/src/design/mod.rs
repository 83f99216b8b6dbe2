//! Decisions: from what was written to a movement that is arithmetically right, goes, and fits its plates.
//!
//! Each step takes what was written and what was decided before, enters its numbers in the book
//! and tells what cannot be. The kernels it leans on know no project.

pub mod arbors;
pub mod as_made;
pub mod bridges;
mod contact;
pub mod dial;
pub mod drive;
pub mod escapement;
pub mod hands;
pub mod indication;
pub mod layout;
pub mod model;
pub mod motion;
pub mod pallets;
pub mod pendulum;
pub mod plates;
mod replant;
mod stack;
mod teeth;
mod train;
mod wheels;

pub use dial::DialDesign;
pub use drive::{BarrelArbor, DriveDesign, MarginDesign};
pub use escapement::{Acting, EscapementDesign};
pub use hands::HandsDesign;
pub use indication::IndicationDesign;
pub use layout::Stand;
pub use model::*;
pub use motion::MotionDesign;
pub use pendulum::{PendulumDesign, WeatherDesign};
pub use plates::PlatesDesign;
pub use teeth::top_word;
pub use wheels::Crossing;

use reckon::{Book, Diameter, Length, Trouble, Val};
use record::facts::{Clock, Size};
use std::collections::BTreeMap;

/// A movement as decided.
#[derive(Clone, Debug)]
pub struct Movement {
    /// The train.
    pub train: Train,
    /// What each arbor of the train is turned to.
    pub stems: Vec<arbors::Stem>,
    /// Where everything stands.
    pub layout: layout::Layout,
    /// Thickness of each arbor's wheel.
    pub thicknesses: BTreeMap<usize, Size<Length>>,
    /// Bore of each arbor's wheel, and seat of its collet.
    pub seats: BTreeMap<usize, Val<Diameter>>,
    /// Escapement.
    pub escapement: Option<EscapementDesign>,
    /// Pendulum.
    pub pendulum: Option<PendulumDesign>,
    /// Drive.
    pub drive: Option<DriveDesign>,
    /// The arbor of a barrel that pulls a fusee.
    pub barrel_arbor: Option<BarrelArbor>,
    /// Motion work.
    pub motion: Option<MotionDesign>,
    /// Hands.
    pub hands: Option<HandsDesign>,
    /// Dial.
    pub dial: Option<DialDesign>,
    /// Indications.
    pub indications: Vec<IndicationDesign>,
    /// Plates.
    pub plates: Option<PlatesDesign>,
}

/// Works a movement out; none where nothing is written of one.
pub fn movement(clock: &Clock, book: &mut Book) -> (Option<Movement>, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let Some(facts) = &clock.movement else { return (None, troubles) };
    let mut train = train::train(facts, book, &mut troubles);
    teeth::sizes(&mut train, book, &mut troubles);
    // What leans on a train or a layout that cannot be would only tell the same cause again.
    let stops = |troubles: &[Trouble]| troubles.iter().any(Trouble::stops);
    let train_stands = !stops(&troubles);
    let stems = arbors::stems(&train, book, &mut troubles);
    let escapement = escapement::escapement(&train, facts, book, &mut troubles);
    let anchor = escapement.as_ref().map(|e| e.centres);
    let layout = layout::layout(&mut train, &stems, facts, anchor, book, &mut troubles);
    contact::contact(&mut train, facts, book, &mut troubles);
    as_made::pairs(&train, &layout, book);
    let laid_out = !stops(&troubles);
    pallets::tell(&train, &layout, escapement.as_ref(), facts, book);
    let pendulum = train_stands
        .then(|| pendulum::pendulum(&train, clock, escapement.as_ref(), facts, book, &mut troubles))
        .flatten();
    let thicknesses = wheels::thicknesses(&train, facts, book);
    let drive = {
        let pendulum = pendulum.as_ref();
        let (train, stems, thicknesses) = (&train, stems.as_slice(), &thicknesses);
        let from = drive::From { train, stems, thicknesses, pendulum, clock, facts };
        train_stands.then(|| drive::drive(&from, book, &mut troubles)).flatten()
    };
    let mut motion = motion::motion(&train, &stems, &layout, facts, book, &mut troubles);
    let hands = hands::hands(&train, &stems, facts, motion.as_ref(), book);
    motion::slip(&mut motion, hands.as_ref(), book);
    let dial = laid_out
        .then(|| dial::dial(&train, &stems, &layout, facts, motion.as_ref(), book, &mut troubles))
        .flatten();
    let indications = indication::indications(facts, book, &mut troubles);
    let seats = wheels::seats(&train, &stems, facts, book);
    let barrel_arbor = drive::barrel_arbor(facts, book);
    let studs = plates::studs(facts, motion.as_ref(), dial.as_ref(), book);
    let plates = laid_out
        .then(|| {
            let on = plates::On { studs: &studs, barrel_arbor };
            plates::plates(&train, &stems, &layout, &on, facts, book, &mut troubles)
        })
        .flatten();
    let found = Movement {
        train,
        stems,
        layout,
        thicknesses,
        seats,
        escapement,
        pendulum,
        drive,
        barrel_arbor,
        motion,
        hands,
        dial,
        indications,
        plates,
    };
    (Some(found), troubles)
}
