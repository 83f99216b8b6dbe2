//! A thread that was measured while it is cut: what is left, in which passes, and what to do when too much is gone.

use super::reading::shown;
use super::typed::{Answer, Left};
use crate::work::Work;
use journal::Reading;
use reckon::{Diameter, Length, Ratio};
use tables::thread::remaining::{Read, Stands, doubt_over_wires, left};
use tables::thread::{over_cut, wires};

/// By how much wires may be off where nobody measured them.
const WIRES: f64 = 1e-6;
/// Doubt of a reading where its tool is not known.
const DOUBT: f64 = 4e-6;
/// Thinnest and deepest cut where the metal is not known.
const CUTS: (f64, f64) = (15e-6, 40e-6);

/// Whether a name is the size of a thread as it is measured while it is cut: metal still comes off.
#[must_use]
pub fn is_thread(name: &str) -> bool {
    name.contains(".over_wires.") || (name.contains(".setup") && name.ends_with(".thread.pitch_diameter"))
}
/// Tells what is left of a thread after a reading.
pub fn tell(r: &Reading, work: &Work, answer: &mut Answer) {
    if !is_thread(&r.name) {
        return;
    }
    let si = |name: &str| work.book.find(name).and_then(|(_, l)| l.si);
    let at = r.name.split(".over_wires.").next().unwrap_or(&r.name).trim_end_matches(".pitch_diameter");
    let over = r.name.contains(".over_wires.");
    // A reading over wires differs from the pitch diameter by what no cut changes: its own limits serve as well.
    let limits = if over {
        si(&format!("{at}.over_wires.smallest")).zip(si(&format!("{at}.over_wires.largest")))
    } else {
        super::reading::limits(&r.name, si(&r.name).unwrap_or(0.0), work)
    };
    let Some((least, most)) = limits else { return };
    let part = at.split(".setup").next().unwrap_or(at);
    let metal = |what: &str, usual: f64| si(&format!("{part}.metal.{what}")).unwrap_or(usual);
    let reading = Length::si(r.give_or_take.unwrap_or(DOUBT));
    let doubt = match si(&format!("{at}.half_angle")) {
        Some(a) if over => {
            doubt_over_wires(reading, Length::si(WIRES), wires::wire_factor(reckon::Angle::si(a)))
        }
        _ => reading,
    };
    let found = left(&Read {
        now: Diameter::si(r.value),
        doubt,
        most: Diameter::si(most),
        least: Diameter::si(least),
        ratio: Ratio::si(1.0),
        bites: Length::si(metal("pass_least", CUTS.0)),
        deepest: Length::si(metal("pass_most", CUTS.1).max(metal("pass_least", CUTS.0))),
    });
    let Some((_, line)) = work.book.find(&r.name) else { return };
    let show = |l: Length| shown(l.value(), line, work);
    let over_cut = if found.stands == Stands::OverCut {
        over_cut("thread", Diameter::si(r.value), Diameter::si(least))
    } else {
        Vec::new()
    };
    answer.thread = Some(Left {
        stands: found.stands.says().to_owned(),
        advance: (found.advance > Length::ZERO).then(|| show(found.advance)),
        doubt: show(found.doubt),
        passes: found.passes.iter().map(|p| show(*p)).collect(),
        spare: show(found.spare),
        over_cut,
    });
}
