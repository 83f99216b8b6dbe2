//! What a program does, one step after another.

use crate::arc::Arc;
use crate::fault::Spot;

/// A place of the controlled point in millimetres: x (on a lathe a radius), y, z.
pub type Place = [f64; 3];

/// The feed of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Feed {
    /// Millimetres a minute.
    PerMinute(f64),
    /// Millimetres a turn of the spindle.
    PerTurn(f64),
}

/// How the spindle turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Turning {
    /// Not at all.
    Stopped,
    /// At one speed.
    Steady {
        /// Revolutions a minute.
        rpm: f64,
    },
    /// At one surface speed, up to a highest speed of the spindle.
    Surface {
        /// Metres a minute.
        speed: f64,
        /// Highest revolutions a minute.
        most: f64,
    },
}

impl Turning {
    /// Revolutions a minute with the tool at a radius in millimetres.
    #[must_use]
    pub fn rpm(self, radius: f64) -> f64 {
        match self {
            Self::Stopped => 0.0,
            Self::Steady { rpm } => rpm,
            Self::Surface { speed, most } => crate::limits::surface_rpm(speed, most, 2.0 * radius.abs()),
        }
    }

    /// Whether it turns.
    #[must_use]
    pub fn turns(self) -> bool {
        self != Self::Stopped
    }
}

/// What one step does.
#[derive(Debug, Clone, PartialEq)]
pub enum Does {
    /// A first rapid, from a place that is not known: nothing can be swept.
    Approach {
        /// Where each axis is afterwards, as far as known.
        to: [Option<f64>; 3],
    },
    /// A rapid.
    Rapid {
        /// From here.
        from: Place,
        /// To here.
        to: Place,
    },
    /// A straight feed.
    Line {
        /// From here.
        from: Place,
        /// To here.
        to: Place,
        /// How fast.
        feed: Feed,
    },
    /// A feed along an arc.
    Arc {
        /// From here.
        from: Place,
        /// To here.
        to: Place,
        /// Its circle, in the plane of the arc.
        arc: Arc,
        /// How fast.
        feed: Feed,
    },
    /// A feed along a thread, led by the spindle.
    Thread {
        /// From here.
        from: Place,
        /// To here.
        to: Place,
        /// Advance for one turn along the thread's axis, in millimetres.
        lead: f64,
    },
    /// A wait.
    Dwell {
        /// For so long.
        seconds: f64,
    },
    /// A stop that waits for the person.
    Stop {
        /// Whether a switch decides if it stops.
        optional: bool,
        /// What the comment at it says.
        says: String,
    },
    /// The work is turned on its own axis.
    Index {
        /// To this angle in degrees.
        to: f64,
    },
    /// A tool is brought in.
    Tool {
        /// Its number.
        number: u32,
    },
    /// Coolant on or off.
    Coolant {
        /// On.
        on: bool,
    },
    /// The end of the program.
    End,
}

/// One step of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where it stands in the text.
    pub spot: Spot,
    /// What it does.
    pub does: Does,
    /// How the spindle turns meanwhile.
    pub turning: Turning,
    /// The tool in use; none before one was chosen.
    pub tool: Option<u32>,
}

impl Step {
    /// Start and end of a motion whose start is known.
    #[must_use]
    pub fn ends(&self) -> Option<(Place, Place)> {
        match self.does {
            Does::Rapid { from, to }
            | Does::Line { from, to, .. }
            | Does::Arc { from, to, .. }
            | Does::Thread { from, to, .. } => Some((from, to)),
            _ => None,
        }
    }

    /// Whether it is a rapid.
    #[must_use]
    pub fn is_rapid(&self) -> bool {
        matches!(self.does, Does::Rapid { .. })
    }

    /// Whether it is a motion meant to cut.
    #[must_use]
    pub fn is_feed(&self) -> bool {
        matches!(self.does, Does::Line { .. } | Does::Arc { .. } | Does::Thread { .. })
    }

    /// Length of the motion in millimetres; zero for what does not move.
    #[must_use]
    pub fn length(&self) -> f64 {
        let Some((from, to)) = self.ends() else { return 0.0 };
        match self.does {
            Does::Arc { arc, .. } => arc.length(from, to),
            _ => apart(from, to),
        }
    }
}

/// Distance of two places in millimetres.
pub(crate) fn apart(a: Place, b: Place) -> f64 {
    let square = |i: usize| (a[i] - b[i]) * (a[i] - b[i]);
    (square(0) + square(1) + square(2)).sqrt()
}

/// A program read: its steps in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Program {
    /// What it does.
    pub steps: Vec<Step>,
}

impl Program {
    /// Steps that move along a known path.
    pub fn motions(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().filter(|step| step.ends().is_some())
    }

    /// Time in minutes on a machine whose rapid is so many mm/min, without stops and changes.
    #[must_use]
    pub fn minutes(&self, rapid: f64) -> f64 {
        self.steps.iter().map(|step| minutes(step, rapid)).sum()
    }
}

fn minutes(step: &Step, rapid: f64) -> f64 {
    let length = step.length();
    let speed = match step.does {
        Does::Dwell { seconds } => return seconds / 60.0,
        Does::Rapid { .. } => rapid,
        Does::Line { from, to, feed } | Does::Arc { from, to, feed, .. } => match feed {
            Feed::PerMinute(feed) => feed,
            Feed::PerTurn(feed) => feed * step.turning.rpm(0.5 * (from[0] + to[0])),
        },
        Does::Thread { lead, from, .. } => lead * step.turning.rpm(from[0]),
        _ => return 0.0,
    };
    if speed > 0.0 { length / speed } else { 0.0 }
}
