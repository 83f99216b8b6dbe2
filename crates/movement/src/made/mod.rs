//! The movement as parts: each with limits by its use, ready to be drawn and made.

mod arbors;
mod bought;
pub(crate) mod common;
mod drive;
mod escapement;
mod motion;
mod pendulum;
mod plates;
pub(crate) mod wheels;

pub use bought::{Bought, bought};
pub use escapement::{Moving, moving};

use crate::design::Movement;
use crate::part::Part;
use reckon::{Book, Trouble};
use record::facts::Clock;

/// All parts of a movement: plates, train, escapement, pendulum, drive, motion work.
pub fn parts(m: &Movement, clock: &Clock, book: &mut Book) -> (Vec<Part>, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let Some(facts) = &clock.movement else { return (Vec::new(), troubles) };
    let mut all = plates::parts(m, facts, book, &mut troubles);
    all.extend(wheels::parts(m, book, &mut troubles));
    all.extend(arbors::parts(m, facts, book));
    all.extend(escapement::parts(m, facts, book, &mut troubles));
    all.extend(pendulum::parts(m, facts, book));
    all.extend(drive::parts(m, facts, book, &mut troubles));
    all.extend(motion::parts(m, facts, book));
    for part in &all {
        troubles.extend(crate::hardware::troubles(part));
    }
    (all, troubles)
}
