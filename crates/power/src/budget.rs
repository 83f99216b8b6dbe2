//! What of the power reaches the pendulum: every efficiency a range, and so the answer.
//!
//! SI throughout; any units that belong together do. No figure here is a
//! constant of nature: efficiencies are the least certain numbers of a clock.

use reckon::{Source, maths};

/// How ranges are carried.
pub static RANGES: Source =
    Source::derived("a rising function keeps low and high, a falling one changes them");
/// A chain of meshes.
pub static CHAIN: Source = Source::practice("0.92 to 0.97 for each clean mesh, likely 0.95");
/// Friction of pivots of a whole train.
pub static PIVOTS: Source = Source::practice("pivots of a train pass 0.90 to 0.97 of the power, likely 0.94");
/// Escapements.
pub static ESCAPEMENT: Source = Source::practice(
    "dead-beat 0.3 to 0.4 (by geometry up to 0.55), recoil 0.2 to 0.3, gravity about 0.5, lever 0.25 to 0.4",
);
/// Arc that a power keeps up.
pub static ARC: Source = Source::derived("power of the escapement against loss of the pendulum")
    .with_formula("A = √(Q P T/(π G))");
/// Need.
pub static NEED: Source =
    Source::derived("loss of the pendulum at small arcs").with_formula("P = π G A²/(Q T)");
/// Mesh loss.
pub static MESH: Source =
    Source::derived("sliding of involute or cycloidal flanks, averaged over the contact")
        .with_formula("loss = c π μ (1/z1 + 1/z2), c about 0.5 to 1");
/// Torque from power.
pub static TORQUE: Source = Source::derived("power over speed of turning").with_formula("T = P/Ω");

/// A range with a likely value, low ≤ likely ≤ high.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Band {
    /// The low end.
    pub low: f64,
    /// The likely value.
    pub likely: f64,
    /// The high end.
    pub high: f64,
}
impl Band {
    /// A range; `None` unless low ≤ likely ≤ high and all are numbers.
    #[must_use]
    pub fn new(low: f64, likely: f64, high: f64) -> Option<Band> {
        (low <= likely && likely <= high && low.is_finite() && high.is_finite()).then_some(Band {
            low,
            likely,
            high,
        })
    }
    /// A figure known for sure.
    #[must_use]
    pub const fn sure(x: f64) -> Band {
        Band { low: x, likely: x, high: x }
    }
    /// Through a function that rises over the range.
    #[must_use]
    pub fn rising(self, f: impl Fn(f64) -> f64) -> Band {
        Band { low: f(self.low), likely: f(self.likely), high: f(self.high) }
    }
    /// Through a function that falls over the range.
    #[must_use]
    pub fn falling(self, f: impl Fn(f64) -> f64) -> Band {
        Band { low: f(self.high), likely: f(self.likely), high: f(self.low) }
    }
    /// Two ranges through a function that rises with both.
    #[must_use]
    pub fn both_rising(self, other: Band, f: impl Fn(f64, f64) -> f64) -> Band {
        Band {
            low: f(self.low, other.low),
            likely: f(self.likely, other.likely),
            high: f(self.high, other.high),
        }
    }
    /// Sum.
    #[must_use]
    pub fn plus(self, other: Band) -> Band {
        self.both_rising(other, |a, b| a + b)
    }
    /// Difference.
    #[must_use]
    pub fn minus(self, other: Band) -> Band {
        Band { low: self.low - other.high, likely: self.likely - other.likely, high: self.high - other.low }
    }
    /// Product of ranges that are nowhere below nothing.
    #[must_use]
    pub fn times(self, other: Band) -> Band {
        self.both_rising(other, |a, b| a * b)
    }
    /// Quotient of ranges above nothing.
    #[must_use]
    pub fn over(self, other: Band) -> Band {
        Band { low: self.low / other.high, likely: self.likely / other.likely, high: self.high / other.low }
    }
    /// Times a figure not below nothing.
    #[must_use]
    pub fn scaled(self, k: f64) -> Band {
        self.rising(|x| x * k)
    }
    /// Whether it holds a value.
    #[must_use]
    pub fn holds(self, x: f64) -> bool {
        self.low <= x && x <= self.high
    }
    /// Whether it lies inside another.
    #[must_use]
    pub fn inside(self, other: Band) -> bool {
        other.low <= self.low && self.high <= other.high
    }
    /// High end less low end.
    #[must_use]
    pub fn width(self) -> f64 {
        self.high - self.low
    }
}

/// A clean mesh when nothing better is known.
pub const MESH_DEFAULT: Band = Band { low: 0.92, likely: 0.95, high: 0.97 };
/// Pivots of a whole train when nothing better is known.
pub const PIVOTS_DEFAULT: Band = Band { low: 0.90, likely: 0.94, high: 0.97 };

/// Escapements that have a habitual range.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Escapement {
    /// Dead-beat.
    DeadBeat,
    /// Recoil anchor.
    Recoil,
    /// Gravity.
    Gravity,
    /// Detached lever.
    Lever,
}
/// Words for them.
pub const ESCAPEMENTS: [(&str, Escapement); 4] = [
    ("dead-beat", Escapement::DeadBeat),
    ("recoil", Escapement::Recoil),
    ("gravity", Escapement::Gravity),
    ("lever", Escapement::Lever),
];
impl Escapement {
    /// Its habitual efficiency.
    #[must_use]
    pub const fn efficiency(self) -> Band {
        match self {
            Escapement::DeadBeat => Band { low: 0.30, likely: 0.35, high: 0.55 },
            Escapement::Recoil => Band { low: 0.20, likely: 0.25, high: 0.30 },
            Escapement::Gravity => Band { low: 0.40, likely: 0.50, high: 0.55 },
            Escapement::Lever => Band { low: 0.25, likely: 0.33, high: 0.40 },
        }
    }
}
/// Efficiency of one mesh by its friction; `c` from 0.5 (all after the line of centres) to 1.
#[must_use]
pub fn mesh(c: f64, friction: f64, teeth: f64, leaves: f64) -> f64 {
    (1.0 - c * maths::PI * friction * (1.0 / teeth + 1.0 / leaves)).max(0.0)
}
/// Efficiency of one mesh over a range of friction.
#[must_use]
pub fn mesh_band(c: f64, friction: Band, teeth: f64, leaves: f64) -> Band {
    friction.falling(|mu| mesh(c, mu, teeth, leaves))
}
/// Efficiency of a chain.
#[must_use]
pub fn chain(parts: &[Band]) -> Band {
    parts.iter().fold(Band::sure(1.0), |all, b| all.times(*b))
}
/// Power that a pendulum of this moment (m g L) needs at a small arc.
#[must_use]
pub fn need(moment: f64, arc: f64, quality: f64, period: f64) -> f64 {
    maths::PI * moment * arc * arc / (quality * period)
}
/// Arc to one side that a power keeps up.
#[must_use]
pub fn arc(power: f64, moment: f64, quality: f64, period: f64) -> f64 {
    maths::sqrt((quality * power * period / (maths::PI * moment)).max(0.0))
}
/// Torque of an arbor that passes a power at one turn in `period`.
#[must_use]
pub fn torque(power: f64, period: f64) -> f64 {
    power * period / (2.0 * maths::PI)
}
/// How the low end stands against the need.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Verdict {
    /// Even the high end is below the need.
    Fails,
    /// Likely goes, the low end does not.
    Doubtful,
    /// The low end meets the need without the margin wanted.
    Thin,
    /// The low end meets the need with margin.
    Good,
    /// The likely value is more than twice the margin wanted: lighter would do.
    Rich,
}
impl Verdict {
    /// In words.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Verdict::Fails => "does not go, even with everything at its best",
            Verdict::Doubtful => "stops when oil is old or cold: the low end is below the need",
            Verdict::Thin => "goes, with little to spare at the low end",
            Verdict::Good => "goes with margin",
            Verdict::Rich => "goes with more than is good for arcs and wear: less would do",
        }
    }
}
/// The budget of a clock.
#[derive(Clone, PartialEq, Debug)]
pub struct Budget {
    /// Power at the escape wheel.
    pub at_escapement: Band,
    /// Power at the pendulum.
    pub at_pendulum: Band,
    /// Arc to one side that it keeps up, radians.
    pub arc: Band,
    /// Power at the pendulum over need.
    pub margin: Band,
    /// The verdict.
    pub verdict: Verdict,
}
/// The pendulum's side of a budget.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Pendulum {
    /// m g L.
    pub moment: f64,
    /// Quality.
    pub quality: Band,
    /// Period, two beats.
    pub period: f64,
    /// Least arc to one side that the escapement needs, radians.
    pub arc: f64,
}
/// Power through a train and an escapement to a pendulum.
#[must_use]
pub fn budget(drive: Band, train: Band, escapement: Band, pendulum: Pendulum, wanted: f64) -> Budget {
    let at_escapement = drive.times(train);
    let at_pendulum = at_escapement.times(escapement);
    let p = pendulum;
    let arc = at_pendulum.both_rising(p.quality, |w, q| self::arc(w, p.moment, q, p.period));
    let need = p.quality.falling(|q| need(p.moment, p.arc, q, p.period));
    let margin = at_pendulum.over(need);
    let verdict = if margin.high < 1.0 {
        Verdict::Fails
    } else if margin.low < 1.0 {
        Verdict::Doubtful
    } else if margin.low < wanted {
        Verdict::Thin
    } else if margin.likely > 2.0 * wanted {
        Verdict::Rich
    } else {
        Verdict::Good
    };
    Budget { at_escapement, at_pendulum, arc, margin, verdict }
}
/// Torque of each arbor of a train, first the drive's: `steps` are teeth over leaves with the mesh's efficiency.
#[must_use]
pub fn torques(drive: Band, steps: &[(f64, f64, Band)]) -> Vec<Band> {
    let mut at = drive;
    let mut all = vec![at];
    for (teeth, leaves, efficiency) in steps {
        at = at.times(*efficiency).scaled(leaves / teeth);
        all.push(at);
    }
    all
}
