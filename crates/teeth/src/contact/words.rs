//! What a maker would see, hear and feel.

use super::Contact;

/// Angle of the driven wheel below which errors do not tell: two minutes of arc.
const QUIET: f64 = 2.0 / 60.0 * reckon::maths::PI / 180.0;

/// Leap of the speed at the taking over that is heard and felt: common practice, no source.
const LEAP: f64 = 0.10;

/// How a setting behaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behaviour {
    /// No play: the pair binds.
    Jams,
    /// Tips touch the bottom of the spaces.
    Bottoms,
    /// The next tooth strikes the rounding of its leaf before the line of centres: too shallow.
    Butts,
    /// The driven runs slow at the end of each tooth until the next one catches it: too deep.
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
                "the next tooth strikes the rounding of its leaf before the line of centres: it butts, is felt \
                 as chatter, and may stop the clock; set it deeper"
            }
            Behaviour::Drops => {
                "each tooth runs slow before the next takes over with a knock, a drop at every tooth; set it \
                 shallower"
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
    let loud = c.transmission_error > QUIET;
    if c.on_driven_tip > 0.02 || loud && c.hand_over.1 > 1.0 + LEAP {
        return Behaviour::Butts;
    }
    if loud && c.hand_over.0 < 1.0 - LEAP {
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
