//! How high everything stands in front of the front plate, from its outside on.

use super::super::model::Train;
use reckon::source::Source;
use reckon::{Book, Length, Val, work};
use record::facts::{MotionWork, MovementFacts};

/// Heights add up.
pub static HEIGHTS: Source =
    Source::practice("room in front of the plate: half a millimetre between what turns, more between hands");

/// Heights from the front plate's outside.
#[derive(Copy, Clone, Debug)]
pub struct Heights {
    /// Where the minute arbor is stepped down to carry the cannon.
    pub shoulder: Val<Length>,
    /// Back of the cannon's leaves.
    pub cannon: Val<Length>,
    /// Length of the cannon's leaves.
    pub cannon_leaves: Val<Length>,
    /// Back of the minute wheel.
    pub minute_wheel: Val<Length>,
    /// Length of the minute pinion's leaves.
    pub minute_leaves: Val<Length>,
    /// Back of the hour wheel.
    pub hour_wheel: Val<Length>,
    /// End of the minute wheel's stud.
    pub stud_end: Val<Length>,
    /// Back of the dial: the length of its feet.
    pub dial: Val<Length>,
    /// Front of the dial.
    pub dial_front: Val<Length>,
    /// Back of the seconds hand, where there is one.
    pub seconds: Option<Val<Length>>,
    /// Back of the hour hand.
    pub hour: Val<Length>,
    /// End of the hour pipe.
    pub hour_end: Val<Length>,
    /// Back of the minute hand.
    pub minute: Val<Length>,
    /// End of the cannon.
    pub cannon_end: Val<Length>,
    /// How far the minute arbor reaches beyond its shoulder.
    pub reach: Val<Length>,
    /// How far the seconds arbor reaches beyond its own.
    pub seconds_reach: Option<Val<Length>>,
    /// Thickness of the hands.
    pub hand: Val<Length>,
}
/// Heights of all.
pub(super) fn heights(t: &Train, facts: &MovementFacts, mw: &MotionWork, book: &mut Book) -> Heights {
    let name = |what: &str| format!("motion.heights.{what}");
    let thick = mw.thickness;
    let shoulder = book.assumed(
        name("shoulder"),
        Length::mm(0.2),
        "house default: the pivot stands out of the plate by this much, and there the arbor is stepped down",
    );
    let bow = book.assumed(name("bow"), Length::mm(0.8), "house default: the bow washer when pressed");
    let cannon = work!(book, name("cannon"), |shoulder, bow| shoulder + bow, &HEIGHTS);
    let cannon_leaves = work!(book, "motion.cannon.leaf_length", |thick| thick + Length::mm(1.0), &HEIGHTS);
    let minute_wheel = work!(book, name("minute_wheel"), |cannon| cannon + Length::mm(0.5), &HEIGHTS);
    let hour_wheel = work!(
        book,
        name("hour_wheel"),
        |cannon, cannon_leaves| cannon + cannon_leaves + Length::mm(0.1),
        &HEIGHTS
    );
    let minute_leaves = work!(
        book,
        "motion.minute_pinion.leaf_length",
        |hour_wheel, minute_wheel, thick| hour_wheel + thick + Length::mm(0.5) - (minute_wheel + thick),
        &HEIGHTS
    );
    let stud_end = work!(
        book,
        name("stud_end"),
        |minute_wheel, thick, minute_leaves| minute_wheel + thick + minute_leaves + Length::mm(1.6),
        &HEIGHTS
    );
    let dial = work!(book, name("dial"), |stud_end| stud_end + Length::mm(0.6), &HEIGHTS);
    let dial_thick = match &facts.dial {
        Some(d) => d.thickness,
        None => {
            book.assumed(name("dial_thickness"), Length::mm(1.5), "house default: as if there were a dial")
        }
    };
    let hand = match &facts.hands {
        Some(h) => h.thickness,
        None => book.assumed("hands.thickness", Length::mm(0.6), "house default"),
    };
    let dial_front = work!(book, name("dial_front"), |dial, dial_thick| dial + dial_thick, &HEIGHTS);
    let seconds = super::super::dial::seconds_arbor(t, facts)
        .map(|_| work!(book, name("seconds_hand"), |dial_front| dial_front + Length::mm(0.8), &HEIGHTS));
    let hour = match seconds {
        Some(seconds) => {
            work!(book, name("hour_hand"), |seconds, hand| seconds + hand + Length::mm(0.9), &HEIGHTS)
        }
        None => work!(book, name("hour_hand"), |dial_front| dial_front + Length::mm(1.0), &HEIGHTS),
    };
    let hour_end = work!(book, name("hour_pipe_end"), |hour, hand| hour + hand + Length::mm(0.2), &HEIGHTS);
    let minute = work!(book, name("minute_hand"), |hour_end| hour_end + Length::mm(0.7), &HEIGHTS);
    let cannon_end =
        work!(book, name("cannon_end"), |minute, hand| minute + hand - Length::mm(0.1), &HEIGHTS);
    // A domed washer and a pin hold the minute hand down.
    let reach =
        work!(book, "motion.reach", |cannon_end, shoulder| cannon_end - shoulder + Length::mm(3.0), &HEIGHTS);
    let seconds_reach = seconds.map(|seconds| {
        work!(
            book,
            "motion.seconds_reach",
            |seconds, hand, shoulder| seconds + hand - shoulder + Length::mm(0.2),
            &HEIGHTS
        )
    });
    Heights {
        shoulder,
        cannon,
        cannon_leaves,
        minute_wheel,
        minute_leaves,
        hour_wheel,
        stud_end,
        dial,
        dial_front,
        seconds,
        hour,
        hour_end,
        minute,
        cannon_end,
        reach,
        seconds_reach,
        hand,
    }
}
