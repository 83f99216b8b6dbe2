//! What a maker would see, hear and feel.

use super::Contact;

/// Angle of the driven wheel below which errors do not tell: two minutes of arc.
const QUIET: f64 = 2.0 / 60.0 * reckon::maths::PI / 180.0;

/// How a setting behaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behaviour {
    /// No play: the pair binds.
    Jams,
    /// Tips touch the bottom of the spaces.
    Bottoms,
    /// The driven tooth is met by its tip before the line of centres.
    Butts,
    /// The driver lets go and the driven falls on to the next tooth.
    Drops,
    /// The driver's tip scrapes along the flank before it lets go.
    Scrapes,
    /// Long work before the line of centres: stiff, and it collects dirt.
    Engages,
    /// Runs.
    Runs,
}

impl Behaviour {
    /// What it is like, for the bench.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Behaviour::Jams => "no play is left at the tightest place: the pair binds",
            Behaviour::Bottoms => "tips touch the bottom of the spaces: the pair binds once a tooth",
            Behaviour::Butts => {
                "the leaf meets the tooth with its tip before the line of centres: it butts, and may stop the clock"
            }
            Behaviour::Drops => {
                "the next tooth comes late and the driven wheel drops on to it: a tick at each tooth, felt as chatter"
            }
            Behaviour::Scrapes => {
                "the tip of the tooth scrapes along the flank before it lets go: it wears a groove"
            }
            Behaviour::Engages => {
                "much of the work is done before the line of centres: it runs stiffly and minds dirt"
            }
            Behaviour::Runs => "runs from flank to flank",
        }
    }
}

/// What stands out about a setting, the gravest first.
#[must_use]
pub fn behaviour(c: &Contact) -> Behaviour {
    if c.backlash <= 0.0 {
        return Behaviour::Jams;
    }
    if c.tip_room.0.min(c.tip_room.1) <= 0.0 {
        return Behaviour::Bottoms;
    }
    if c.on_driven_tip > 0.02 {
        return Behaviour::Butts;
    }
    let loud = c.transmission_error > QUIET;
    // The driven is overtaken: slow before the taking over, then thrown ahead.
    if loud && c.hand_over.1 - c.hand_over.0 > 0.08 || loud && c.hand_over.0 - c.hand_over.1 > 0.08 {
        return Behaviour::Drops;
    }
    if c.on_driver_tip > 0.05 {
        return Behaviour::Scrapes;
    }
    if c.approach_pitches() > 0.5 {
        return Behaviour::Engages;
    }
    Behaviour::Runs
}
