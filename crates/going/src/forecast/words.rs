//! What is said of a swing that does not go on.

use crate::Halt;
use crate::works::Side;
use reckon::print::fixed;

/// Degrees for a sentence.
#[must_use]
pub fn degrees(a: f64) -> String {
    format!("{}°", fixed(a.to_degrees(), 2).replace('-', "−"))
}
/// A rate with its sign.
#[must_use]
pub fn signed(rate: f64) -> String {
    reckon::print::signed(rate, if rate.abs() < 100.0 { 2 } else { 1 })
}
impl Halt {
    /// A name of few words.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Halt::NoLetOff { .. } => "stands: no tooth is let off",
            Halt::OverBanks { .. } => "over-banks",
            Halt::Trips { .. } => "trips: the wheel runs away",
            Halt::LateWheel { .. } => "stands: let off too late",
            Halt::NoStart { .. } => "does not start",
        }
    }
    /// What happens, in numbers.
    #[must_use]
    pub fn says(&self) -> String {
        match self {
            Halt::NoLetOff { side, from, came, wanted } => format!(
                "from {} the pendulum comes to {} and the {} pallet lets off at {}: the tooth stays",
                degrees(*from),
                degrees(*came),
                side.word(),
                degrees(*wanted)
            ),
            Halt::OverBanks { side, reach } => {
                format!(
                    "the swing goes beyond the face of the {} pallet, which ends at {}",
                    side.word(),
                    degrees(-reach)
                )
            }
            Halt::Trips { side, at } => format!(
                "when the {} pallet lets off, the {} pallet is not in the way of the wheel at {}: it runs on",
                side.word(),
                side.other().word(),
                degrees(at.abs())
            ),
            Halt::LateWheel { side } => format!(
                "the {} pallet lets off only as the pendulum turns back, before the wheel has fallen to the next: the swing has become too small, or the wheel is too sluggish",
                side.word()
            ),
            Halt::NoStart { from, .. } => {
                format!(
                    "no swing gains under this torque, down to {} where nothing is let off",
                    degrees(*from)
                )
            }
        }
    }
    /// The pallet it happens at.
    #[must_use]
    pub const fn side(&self) -> Side {
        match self {
            Halt::NoLetOff { side, .. }
            | Halt::OverBanks { side, .. }
            | Halt::Trips { side, .. }
            | Halt::LateWheel { side }
            | Halt::NoStart { side, .. } => *side,
        }
    }
    /// What would do.
    #[must_use]
    pub const fn cure(&self) -> &'static str {
        match self {
            Halt::NoLetOff { .. } | Halt::NoStart { .. } => {
                "more drive, a better pendulum, or less lift and lock, so that a smaller swing lets off"
            }
            Halt::OverBanks { .. } => {
                "less drive, longer dead faces, or banking pins that the crutch meets softly"
            }
            Halt::Trips { .. } => "more lock, or the pallets' arbor nearer to the wheel",
            Halt::LateWheel { .. } => "more drive, a better pendulum, or a lighter escape wheel",
        }
    }
}
