//! A mainspring in its barrel: turns, length, torque, energy and what of it to use.
//!
//! Lengths, moduli and torques may be in any one set of units that belong
//! together: N, mm, N/mm² and N mm, or N, m, Pa and N m.

use reckon::{Source, maths};

/// Room that close coils take.
pub static COILS: Source = Source::derived("area of close coils, thickness by length")
    .with_formula("L t = π(R² − R1²) = π(r2² − r²); turns = (r2 − r)/t − (R − R1)/t");
/// The half-filled barrel.
pub static HALF_FILLED: Source =
    Source::derived("greatest turns where the wound and the unwound coil share one radius")
        .with_formula("L = π(D² − d²)/(8 t); N = (√(2(R² + r²)) − R − r)/t");
/// Change of torque with turns.
pub static PER_TURN: Source = Source::derived("elastic strip in bending, however it was set")
    .with_formula("k = 2π E b t³/(12 L) for each turn");
/// Torque of a spring that has taken a set.
pub static SET_SPRING: Source = Source::derived("elastic and ideally plastic strip, wound once to the arbor")
    .with_formula("M = Mp (1 − (ky ρ)²/3), Mp = σ b t²/4, ky = 2 σ/(E t)");
/// Energy of a straight torque line.
pub static ENERGY: Source =
    Source::derived("area under a straight torque line").with_formula("E = (M1 + M2)/2 · 2π N");
/// A straight line through measured points.
pub static FIT: Source = Source::derived("least squares, torque on turns");
/// How much of the turns to use.
pub static USE: Source =
    Source::practice("with stop work 0.80 to 0.85 of the turns, the first half turn to a turn let off");
/// Thickness against arbor.
pub static ARBOR: Source =
    Source::practice("arbor of a clock barrel 24 to 40 strip thicknesses, below 20 the eye breaks");
/// Proportions of strip and barrel.
pub static PROPORTION: Source = Source::practice("strip height 0.3 to 0.6 of the barrel's inside diameter");

/// The room for the coils: both sizes across.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Barrel {
    /// Inside diameter, wall to wall.
    pub inside: f64,
    /// Diameter of the arbor where the spring hooks.
    pub arbor: f64,
}
/// The strip.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Strip {
    /// Thickness.
    pub thickness: f64,
    /// Height, along the arbor.
    pub height: f64,
    /// Length that bends.
    pub length: f64,
    /// Elastic modulus.
    pub modulus: f64,
    /// Stress at which it takes a set.
    pub yields: f64,
}
/// Where the coils lie, let down against the wall and wound on the arbor.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Coils {
    /// Inner radius of the coils let down.
    pub down_inner: f64,
    /// Number of coils let down.
    pub down: f64,
    /// Outer radius of the coils wound.
    pub wound_outer: f64,
    /// Number of coils wound.
    pub wound: f64,
}
/// Torque that falls evenly as the spring runs down.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct TorqueLine {
    /// Fully wound.
    pub full: f64,
    /// Lost with each turn of run-down.
    pub per_turn: f64,
}
/// A line through measured points.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Fit {
    /// The line, its `full` at no turns run down.
    pub line: TorqueLine,
    /// Root of the mean square of what the points stand off it.
    pub scatter: f64,
}
/// How a strip's length suits its barrel.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Length {
    /// Less than the half-filled length by more than a fifth: the barrel is partly idle.
    TooShort,
    /// Within a fifth of it: turns are within three in a hundred of the greatest.
    Good,
    /// More than a fifth too long: turns are lost to the coils themselves.
    TooLong,
    /// It does not go in at all, or cannot be wound.
    DoesNotFit,
}
impl Length {
    /// In words.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Length::TooShort => "too short: the barrel holds a longer strip and more turns",
            Length::Good => "good: near the half-filled barrel",
            Length::TooLong => "too long: coils take the room of turns",
            Length::DoesNotFit => "does not fit between arbor and wall",
        }
    }
}

impl Barrel {
    const fn radii(self) -> (f64, f64) {
        (self.inside / 2.0, self.arbor / 2.0)
    }
    /// Length of strip that fills half the room: it gives the most turns.
    #[must_use]
    pub fn half_filled_length(self, thickness: f64) -> f64 {
        maths::PI * (self.inside * self.inside - self.arbor * self.arbor) / (8.0 * thickness)
    }
    /// The most turns any length of a strip gives.
    #[must_use]
    pub fn most_turns(self, thickness: f64) -> f64 {
        let (big, small) = self.radii();
        (maths::sqrt(2.0 * (big * big + small * small)) - big - small) / thickness
    }
    /// Thickness whose half-filled length gives this many turns.
    #[must_use]
    pub fn thickness_for(self, turns: f64) -> f64 {
        self.most_turns(turns)
    }
    /// Radius where the wound and the let-down coils of a half-filled barrel both end.
    #[must_use]
    pub fn half_filled_radius(self) -> f64 {
        let (big, small) = self.radii();
        maths::sqrt((big * big + small * small) / 2.0)
    }
    /// Where the coils of a strip lie; `None` when it does not go in.
    #[must_use]
    pub fn coils(self, thickness: f64, length: f64) -> Option<Coils> {
        let (big, small) = self.radii();
        let room = length * thickness / maths::PI;
        let sound = thickness > 0.0 && length > 0.0 && small >= 0.0 && big > small;
        if !sound || room > big * big - small * small {
            return None;
        }
        let inner = maths::sqrt(big * big - room);
        let outer = maths::sqrt(small * small + room);
        Some(Coils {
            down_inner: inner,
            down: (big - inner) / thickness,
            wound_outer: outer,
            wound: (outer - small) / thickness,
        })
    }
    /// Turns from let down to wound; `None` when the strip does not go in.
    #[must_use]
    pub fn turns(self, thickness: f64, length: f64) -> Option<f64> {
        self.coils(thickness, length).map(|c| c.wound - c.down)
    }
    /// Judges the length of a strip.
    #[must_use]
    pub fn suits(self, thickness: f64, length: f64) -> Length {
        match self.turns(thickness, length) {
            None => Length::DoesNotFit,
            Some(n) if n <= 0.0 => Length::DoesNotFit,
            Some(_) => {
                let share = length / self.half_filled_length(thickness);
                if share < 0.8 {
                    Length::TooShort
                } else if share > 1.2 {
                    Length::TooLong
                } else {
                    Length::Good
                }
            }
        }
    }
}
impl Strip {
    /// Bending stiffness E I.
    #[must_use]
    pub fn stiffness(self) -> f64 {
        let t = self.thickness;
        self.modulus * self.height * t * t * t / 12.0
    }
    /// Torque lost with each turn of run-down.
    #[must_use]
    pub fn per_turn(self) -> f64 {
        2.0 * maths::PI * self.stiffness() / self.length
    }
    /// Moment at which the whole section has yielded.
    #[must_use]
    pub fn plastic_moment(self) -> f64 {
        self.yields * self.height * self.thickness * self.thickness / 4.0
    }
    /// Moment at which the outer fibre begins to yield.
    #[must_use]
    pub fn first_yield_moment(self) -> f64 {
        self.plastic_moment() * 2.0 / 3.0
    }
    /// Smallest radius to which it bends without a set.
    #[must_use]
    pub fn no_set_radius(self) -> f64 {
        self.modulus * self.thickness / (2.0 * self.yields)
    }
    /// Moment of the strip bent for the first time to a radius.
    #[must_use]
    pub fn moment_at(self, radius: f64) -> f64 {
        let free = self.no_set_radius();
        if radius >= free {
            self.stiffness() / radius
        } else {
            let share = radius / free;
            self.plastic_moment() * (1.0 - share * share / 3.0)
        }
    }
    /// Strain of the outer fibre at a radius.
    #[must_use]
    pub fn strain_at(self, radius: f64) -> f64 {
        self.thickness / (2.0 * radius)
    }
    /// Torque line of the strip in a barrel, set-spring model; `None` when it does not go in.
    ///
    /// Friction between coils is left out: what is delivered lies 5 to 15 in a hundred below. Measured points are better.
    #[must_use]
    pub fn line_in(self, barrel: Barrel) -> Option<TorqueLine> {
        let coils = barrel.coils(self.thickness, self.length)?;
        Some(TorqueLine { full: self.moment_at(coils.wound_outer), per_turn: self.per_turn() })
    }
    /// Height that gives a torque after a number of turns have run down, all else kept.
    #[must_use]
    pub fn height_for(self, barrel: Barrel, turns_down: f64, torque: f64) -> Option<f64> {
        let gives = self.line_in(barrel)?.after(turns_down);
        (gives > 0.0).then(|| self.height * torque / gives)
    }
}
impl TorqueLine {
    /// Torque after a number of turns have run down from fully wound.
    #[must_use]
    pub fn after(self, turns_down: f64) -> f64 {
        self.full - self.per_turn * turns_down
    }
    /// Energy given between two states, counted in turns run down.
    #[must_use]
    pub fn energy(self, from: f64, to: f64) -> f64 {
        f64::midpoint(self.after(from), self.after(to)) * 2.0 * maths::PI * (to - from)
    }
    /// Torque of the first over torque of the last turn of a range.
    #[must_use]
    pub fn ratio(self, from: f64, to: f64) -> f64 {
        self.after(from) / self.after(to)
    }
}
/// The range that stop work leaves: turns given up at the top and at the bottom.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Range {
    /// Turns left unwound at the top.
    pub top: f64,
    /// Turns used.
    pub used: f64,
    /// Turns that stay wound at the bottom.
    pub bottom: f64,
}
/// Chooses what stop work should leave of `turns`: `used` turns, the rest shared between top and bottom
/// by `top_share`; `None` when there are not as many.
#[must_use]
pub fn range(turns: f64, used: f64, top_share: f64) -> Option<Range> {
    let rest = turns - used;
    (rest >= 0.0 && used > 0.0 && (0.0..=1.0).contains(&top_share)).then_some(Range {
        top: rest * top_share,
        used,
        bottom: rest * (1.0 - top_share),
    })
}
/// Least-squares line through points of turns run down and torque; `None` with fewer than two different turns.
#[must_use]
pub fn fit(points: &[(f64, f64)]) -> Option<Fit> {
    let n = u32::try_from(points.len()).ok().filter(|n| *n >= 2).map(f64::from)?;
    let (mx, my) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let xx: f64 = points.iter().map(|p| (p.0 - mx) * (p.0 - mx)).sum();
    let xy: f64 = points.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum();
    if xx <= 0.0 {
        return None;
    }
    let slope = xy / xx;
    let line = TorqueLine { full: my - slope * mx, per_turn: -slope };
    let off: f64 = points
        .iter()
        .map(|p| {
            let e = p.1 - line.after(p.0);
            e * e
        })
        .sum();
    Some(Fit { line, scatter: maths::sqrt(off / n) })
}
/// Thickness against arbor, in words.
#[must_use]
pub fn eye(arbor: f64, thickness: f64) -> &'static str {
    let share = arbor / thickness;
    if share < 20.0 {
        "arbor too thin for this strip: it breaks at the eye"
    } else if share < 24.0 {
        "arbor thin: a watch would bear it, a clock better not"
    } else if share <= 40.0 {
        "arbor suits the strip"
    } else {
        "arbor thick: turns are given away"
    }
}
