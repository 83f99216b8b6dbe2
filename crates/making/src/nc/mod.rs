//! Programs of machines that follow them: what is to be done, in the words of one control.
//!
//! A program is a list of [`Act`]s in millimetres; [`write()`] puts it into the words that a control
//! knows, or tells which word it lacks. Whether a program does what it should is not judged here: it is handed
//! over with its set-up as plain outlines ([`hand_over`]) and proved by another reading of its text.

mod act;
pub mod flat;
mod habits;
pub mod hand_over;
pub mod lathe;
pub mod mill;
mod write;

use crate::plan::PartPlan;

pub use act::{Act, To};
pub use habits::{Habits, Machine};
pub use write::{Cannot, write};

/// Whether a control of the shop lacks a word that programs may need: writing them tells which.
#[must_use]
pub fn lacks_words(shop: &record::Shop) -> bool {
    let mills = shop.mills.iter().find_map(Habits::of_mill);
    let lathes = shop.lathes.iter().find_map(Habits::of_lathe);
    mills.into_iter().chain(lathes).any(|h| !h.is_enough())
}
/// Tells at each operation that a program does, or may do, which program it is.
pub(crate) fn refer(programs: &[hand_over::Program], plans: &mut [PartPlan]) {
    for program in programs {
        let plan = plans.iter_mut().filter(|plan| plan.part == program.part);
        let operations = plan.flat_map(|p| &mut p.setups).flat_map(|s| &mut s.operations);
        let or = if program.does.alone { "By" } else { "Or by" };
        for operation in operations.filter(|o| program.does.titles.contains(&o.title)) {
            operation.lines.push(format!(
                "{or} the program {}.nc on the {}: its sheet stands among the programs.",
                program.name, program.machine
            ));
        }
    }
}
