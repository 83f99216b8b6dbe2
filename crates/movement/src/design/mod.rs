//! Decisions: from what was written to a movement that is arithmetically right, goes, and fits its plates.
//!
//! Each step takes what was written and what was decided before, enters its numbers in the book
//! and tells what cannot be. The kernels it leans on know no project.

pub mod arbors;
mod contact;
pub mod drive;
pub mod escapement;
pub mod layout;
pub mod model;
pub mod motion;
pub mod pendulum;
pub mod plates;
mod stack;
mod teeth;
mod train;
mod wheels;

pub use drive::DriveDesign;
pub use escapement::EscapementDesign;
pub use layout::Stand;
pub use model::*;
pub use motion::MotionDesign;
pub use pendulum::PendulumDesign;
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
    /// Motion work.
    pub motion: Option<MotionDesign>,
    /// Plates.
    pub plates: Option<PlatesDesign>,
}

/// Works a movement out; none where nothing is written of one.
pub fn movement(clock: &Clock, book: &mut Book) -> (Option<Movement>, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let Some(facts) = &clock.movement else { return (None, troubles) };
    let mut train = train::train(facts, book, &mut troubles);
    teeth::sizes(&mut train, book, &mut troubles);
    let stems = arbors::stems(&train, book, &mut troubles);
    let escapement = escapement::escapement(&train, facts, book, &mut troubles);
    let anchor = escapement.as_ref().map(|e| e.centres);
    let layout = layout::layout(&mut train, &stems, facts, anchor, book, &mut troubles);
    contact::contact(&mut train, facts, book, &mut troubles);
    let pendulum = pendulum::pendulum(&train, clock, facts, book, &mut troubles);
    let thicknesses = wheels::thicknesses(&train, facts, book);
    let drive = {
        let pendulum = pendulum.as_ref();
        let (train, stems, thicknesses) = (&train, stems.as_slice(), &thicknesses);
        let from = drive::From { train, stems, thicknesses, pendulum, clock, facts };
        drive::drive(&from, book, &mut troubles)
    };
    let centre = train.minute.and_then(|m| layout.stands[m]);
    let motion = motion::motion(&train, centre, facts, book, &mut troubles);
    let seats = wheels::seats(&train, &stems, facts, book);
    let plates = plates::plates(&train, &stems, &layout, facts, book, &mut troubles);
    let found =
        Movement { train, stems, layout, thicknesses, seats, escapement, pendulum, drive, motion, plates };
    (Some(found), troubles)
}
