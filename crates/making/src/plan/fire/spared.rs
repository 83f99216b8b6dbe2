//! What must not be heated, and what must not be left as hard as it came from the quench.

use super::wanted;
use heat::steel;
use movement::part::Part;
use record::facts::Finish;
use tables::material::{Hardens, Kind};

/// Why a part must stay cold, where it must: for its sheet, and for whoever lays it beside a flame.
#[must_use]
pub fn spared(part: &Part) -> Option<String> {
    let m = part.common.material;
    let strip = part.kind.word() == "strip"
        || part.common.name.contains("suspension")
        || part.common.name.contains("bow ");
    let spring = strip || wanted::like(part).is_some_and(|w| w.part == "spring");
    if m.hardens == Hardens::AlreadyHard {
        return Some(if spring {
            format!(
                "{} is bought hard, tempered and blue: a spring of it is cut and bent cold and never sees a flame, nor solder at its working length.",
                m.name
            )
        } else {
            format!(
                "{} is bought hard and tempered at about 300 °C: above that it softens. It is worked as it is, and blued no further than the blue it came with.",
                m.name
            )
        });
    }
    match m.kind {
        Kind::NickelIron => Some(format!(
            "{} keeps its low expansion only if it is not heated, bent or hammered after it was stabilised.",
            m.name
        )),
        _ => None,
    }
}
/// Whether a part that is hardened and blued needs a furnace temper between the two: the blue alone would leave it
/// harder than is wanted.
#[must_use]
pub fn needs_temper(part: &Part) -> bool {
    let has = |f: Finish| part.common.finish.iter().any(|(x, _)| *x == f);
    if !has(Finish::Harden) || has(Finish::Temper) {
        return false;
    }
    let Ok(steel) = steel::find(&part.common.material.name) else { return false };
    let Some((_, high)) = wanted::bare(part) else { return false };
    let left = heat::temper::after_each(steel, &[(293.0, 3.0 / 60.0)], heat::temper::constant(steel.carbon));
    !has(Finish::Blue) || left.is_some_and(|l| l > high)
}
/// What saves riveted brass from cracking months later.
pub const SEASON: &str = "Brass that was hammered or riveted cracks months later, sooner where ammonia gets at it: after riveting 250 °C for an hour, \
     then cool in the oven; short dips only in an ammonia cleaner, well rinsed.";
