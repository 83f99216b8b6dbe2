//! How fast to turn, how fast to feed, and how deep to peck.

use reckon::{Angle, AngularSpeed, Diameter, Length, Ratio, Source, Speed, maths};

/// Speed of turning from surface speed.
pub static SURFACE: Source =
    Source::derived("speed at the rim of a turning circle").with_formula("n = v / (π d)");
/// Surface speeds to start from with high-speed steel.
pub static START_SPEEDS: Source = Source::read(
    "speed tables of a drill-and-mill owner's manual, a machine tool speeds and feeds sheet and a drilling reference card; the low side of their ranges",
);
/// Slower cuts of the same metal.
pub static SLOWER: Source = Source::practice("share of the turning speed by kind of cut");
/// Drill feed by size.
pub static DRILL_FEED: Source = Source::read(
    "US Navy training course 14345, drill feeds in inches a turn; below 1 mm a share of the diameter, common practice",
);
/// Slower and finer in a deep hole.
pub static DEEP_HOLE: Source = Source::read("drilling reference card, table of deep-hole reductions");
/// How deep to peck.
pub static PECKS: Source = Source::practice(
    "first peck two diameters in brass and one in steel, then one diameter falling by 0.7 to 0.3 of a diameter",
);
/// Height of the point of a drill.
pub static POINT: Source = Source::derived("cone of the drill point").with_formula("t = (D/2) / tan(σ/2)");
/// Thin chips of a milling cutter.
pub static CHIP: Source = Source::derived("chip of a cutter engaged on less than half its width")
    .with_formula("h = 2 f √(q (1 − q)), q = a_e/D");

/// Metals by how they cut.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Metal {
    /// Free-cutting brass.
    Brass,
    /// Aluminium alloy.
    Aluminium,
    /// Mild and free-cutting steel.
    MildSteel,
    /// Carbon tool steel, annealed; silver steel.
    ToolSteel,
    /// Stainless steel.
    Stainless,
}
/// All of them with the words they are asked by.
pub static METALS: [(&str, Metal); 5] = [
    ("brass", Metal::Brass),
    ("aluminium", Metal::Aluminium),
    ("mild steel", Metal::MildSteel),
    ("tool steel", Metal::ToolSteel),
    ("stainless", Metal::Stainless),
];
impl Metal {
    /// By its word.
    #[must_use]
    pub fn called(word: &str) -> Option<Metal> {
        METALS.iter().find(|(w, _)| *w == word).map(|(_, m)| *m)
    }
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        METALS.iter().find(|(_, m)| *m == self).map_or("", |(w, _)| w)
    }
    /// Whether chips crumble, so that a drill may go deeper before it is cleared.
    #[must_use]
    pub const fn crumbles(self) -> bool {
        matches!(self, Metal::Brass)
    }
    /// Surface speed to start turning with a tool of high-speed steel.
    #[must_use]
    pub fn turning(self) -> Speed {
        Speed::m_per_min(match self {
            Metal::Brass => 75.0,
            Metal::Aluminium => 100.0,
            Metal::MildSteel => 30.0,
            Metal::ToolSteel | Metal::Stainless => 15.0,
        })
    }
    /// Surface speed to start drilling with a drill of high-speed steel.
    #[must_use]
    pub fn drilling(self) -> Speed {
        Speed::m_per_min(match self {
            Metal::Brass => 45.0,
            Metal::Aluminium => 60.0,
            Metal::MildSteel => 25.0,
            Metal::ToolSteel => 12.0,
            Metal::Stainless => 10.0,
        })
    }
}
/// Kinds of cut that have a surface speed of their own.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Kind {
    /// Plain turning, facing and boring.
    Turning,
    /// Parting, form tools and hand gravers.
    Broad,
    /// Threading.
    Threading,
    /// Drilling.
    Drilling,
    /// Reaming.
    Reaming,
}
/// All of them with the words they are asked by.
pub static KINDS: [(&str, Kind); 5] = [
    ("turning", Kind::Turning),
    ("broad", Kind::Broad),
    ("threading", Kind::Threading),
    ("drilling", Kind::Drilling),
    ("reaming", Kind::Reaming),
];
impl Kind {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        KINDS.iter().find(|(_, k)| *k == self).map_or("", |(w, _)| w)
    }
}
/// Surface speed to start with: `carbide` doubles it. Parting, form tools and gravers take half of
/// the turning speed, threading 0.3 of it, reaming half of the drilling speed.
#[must_use]
pub fn start(metal: Metal, kind: Kind, carbide: bool) -> Speed {
    let steel = match kind {
        Kind::Turning => metal.turning(),
        Kind::Broad => metal.turning() * 0.5,
        Kind::Threading => metal.turning() * 0.3,
        Kind::Drilling => metal.drilling(),
        Kind::Reaming => metal.drilling() * 0.5,
    };
    if carbide { steel * 2.0 } else { steel }
}

/// Speed of turning at which a circle of diameter `d` runs at surface speed `v`.
#[must_use]
pub fn turns(v: Speed, d: Diameter) -> AngularSpeed {
    v / d.radius()
}
/// Surface speed of a circle of diameter `d`.
#[must_use]
pub fn surface(n: AngularSpeed, d: Diameter) -> Speed {
    n * d.radius()
}

/// What a machine's steps allow.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Step {
    /// The speed to set.
    pub speed: AngularSpeed,
    /// How it lies to the speed that was wanted.
    pub fit: StepFit,
}
/// How the step of a machine lies to the speed that was wanted.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum StepFit {
    /// The fastest step that is not above it.
    Below,
    /// The machine has nothing as fast: its fastest step. The feed per turn stays.
    Fastest,
    /// The machine has nothing as slow: its slowest step, too fast for this cut.
    TooFast,
}
/// The step to set on a machine: the fastest that is not above `wanted`; `None` when there are no steps.
#[must_use]
pub fn step(wanted: AngularSpeed, steps: &[AngularSpeed]) -> Option<Step> {
    let first = *steps.first()?;
    let (slowest, fastest) = steps.iter().fold((first, first), |(lo, hi), s| (lo.min(*s), hi.max(*s)));
    // A step that is meant to be the wanted speed must not be missed for the last bits of a division.
    let allowed = wanted * (1.0 + 1e-9);
    Some(if slowest > allowed {
        Step { speed: slowest, fit: StepFit::TooFast }
    } else if fastest <= wanted * (1.0 - 1e-9) {
        Step { speed: fastest, fit: StepFit::Fastest }
    } else {
        let below = steps.iter().filter(|s| **s <= allowed).fold(slowest, |best, s| best.max(*s));
        Step { speed: below, fit: StepFit::Below }
    })
}
/// As [`step`], for a machine whose speed can be set anywhere from `slowest` to `fastest`.
#[must_use]
pub fn stepless(wanted: AngularSpeed, slowest: AngularSpeed, fastest: AngularSpeed) -> Step {
    if wanted < slowest {
        Step { speed: slowest, fit: StepFit::TooFast }
    } else if wanted > fastest {
        Step { speed: fastest, fit: StepFit::Fastest }
    } else {
        Step { speed: wanted, fit: StepFit::Below }
    }
}

/// What is taken off speed and feed in a deep hole.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Reduction {
    /// The row that was used: depth in diameters; nothing for a shallow hole.
    pub row: Ratio,
    /// Taken off the speed.
    pub speed: Ratio,
    /// Taken off the feed.
    pub feed: Ratio,
    /// Deeper than the last row: its figures are the best there are.
    pub beyond: bool,
}
/// Rows of the deep-hole table: depth in diameters, off the speed, off the feed.
const DEEP: [(f64, f64, f64); 4] =
    [(3.0, 0.10, 0.10), (4.0, 0.20, 0.10), (5.0, 0.30, 0.20), (6.0, 0.40, 0.20)];
/// What to take off in a hole `depth` deep and `d` wide: the first row that is at least as deep.
///
/// A hole no deeper than two diameters needs nothing. The last row reads "35 to 40" for the speed; 40 is taken.
#[must_use]
pub fn deep_hole(depth: Length, d: Diameter) -> Reduction {
    let ratio = depth.value() / d.value() - 1e-9;
    let row = |(row, speed, feed): (f64, f64, f64), beyond| Reduction {
        row: Ratio::si(row),
        speed: Ratio::si(speed),
        feed: Ratio::si(feed),
        beyond,
    };
    if ratio <= 2.0 {
        return row((0.0, 0.0, 0.0), false);
    }
    match DEEP.iter().find(|(r, ..)| *r >= ratio) {
        Some(found) => row(*found, false),
        None => row(DEEP[3], true),
    }
}

/// Least and greatest feed of a drill, per turn.
///
/// Below 1 mm 0.01 to 0.02 of the diameter. Hard metals take the low end.
/// Above 12.7 mm the last row of the table is kept, which is gentle.
#[must_use]
pub fn drill_feed(d: Diameter) -> (Length, Length) {
    let mm = d.in_mm();
    let (low, high) = if mm < 1.0 {
        return (d.across() * 0.01, d.across() * 0.02);
    } else if mm <= 3.175 {
        (0.001, 0.002)
    } else if mm <= 6.35 {
        (0.002, 0.004)
    } else {
        (0.004, 0.007)
    };
    (Length::inch(low), Length::inch(high))
}

/// Height of the point of a drill with point angle `point`.
#[must_use]
pub fn point_height(d: Diameter, point: Angle) -> Length {
    d.radius().out() / (point / 2.0).tan()
}
/// Depth of the tip when a drill has gone through a plate: plate, point, and `beyond` past it.
#[must_use]
pub fn through(plate: Length, point: Length, beyond: Length) -> Length {
    plate + point + beyond
}
/// How far the full diameter goes past the far face: 0.3 mm.
pub const BREAKTHROUGH: f64 = 0.3e-3;

/// One dip of the drill.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Peck {
    /// Depth of the tip at its end.
    pub to: Length,
    /// Metal taken in it.
    pub takes: Length,
    /// Whether the drill comes out of the hole after it, or only back enough to break the chip.
    pub out: bool,
}
/// Dips down to depth `to` of the tip. The last ends at `to` exactly; none takes more than its limit.
///
/// Limits: first two diameters where the metal crumbles and one where it does not, then at most one
/// diameter, each 0.7 of the one before, not below 0.3 of a diameter. The last two share what is left, as far as
/// their limits allow, when the last would be less than half of the one before. The drill comes right out below 1 mm diameter and when deeper than four diameters.
/// At most ten thousand dips; deeper holes return what fits in them.
#[must_use]
pub fn pecks(d: Diameter, to: Length, crumbles: bool) -> Vec<Peck> {
    let mut ends: Vec<Length> = Vec::new();
    let mut limit = d.across() * if crumbles { 2.0 } else { 1.0 };
    let mut at = Length::ZERO;
    if !(d.value() > 0.0 && to.value() > 0.0 && to.is_finite()) {
        return Vec::new();
    }
    let mut last_limit = limit;
    while at < to && ends.len() < 10_000 {
        at = (at + limit).min(to);
        ends.push(at);
        last_limit = limit;
        limit = (limit * 0.7).min(d.across()).max(d.across() * 0.3);
    }
    let start = |ends: &[Length], i: usize| if i == 0 { Length::ZERO } else { ends[i - 1] };
    if let [.., before, last] = ends[..] {
        let n = ends.len();
        let from = start(&ends, n - 2);
        if last - before < (before - from) * 0.5 {
            // The last may take no more than its own limit.
            ends[n - 2] = from + ((last - from) / 2.0).max(last - from - last_limit);
        }
    }
    let out = |at: Length| d.in_mm() < 1.0 || at > d.across() * 4.0;
    (0..ends.len())
        .map(|i| Peck { to: ends[i], takes: ends[i] - start(&ends, i), out: out(ends[i]) })
        .collect()
}

/// Thickest chip of a milling cutter that cuts less than half its width: `feed` per tooth, `engaged` the width of cut.
///
/// h = 2 f √(q (1 − q)), q = width of cut over diameter; with half the diameter or more it is the feed itself.
#[must_use]
pub fn thickest_chip(feed: Length, engaged: Length, cutter: Diameter) -> Length {
    let q = engaged / cutter.across();
    if q >= Ratio::si(0.5) { feed } else { feed * (2.0 * maths::sqrt(q.value() * (1.0 - q.value()))) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_never_above_what_is_wanted() {
        let steps = [100.0, 200.0, 350.0, 700.0, 1400.0].map(AngularSpeed::rpm);
        let at = |n: f64| step(AngularSpeed::rpm(n), &steps).unwrap();
        assert_eq!(at(699.0), Step { speed: steps[2], fit: StepFit::Below });
        assert_eq!(at(700.0), Step { speed: steps[3], fit: StepFit::Below });
        assert_eq!(at(5000.0), Step { speed: steps[4], fit: StepFit::Fastest });
        assert_eq!(at(50.0), Step { speed: steps[0], fit: StepFit::TooFast });
        assert_eq!(step(AngularSpeed::rpm(1.0), &[]), None);
    }
    #[test]
    fn pecks_end_at_the_depth_and_none_exceeds_its_limit() {
        for tenths in 3..60 {
            for depth in 1..200 {
                for crumbles in [true, false] {
                    let d = Diameter::mm(f64::from(tenths) / 10.0);
                    let to = Length::mm(f64::from(depth) * 0.173);
                    let plan = pecks(d, to, crumbles);
                    assert_eq!(plan.last().unwrap().to, to);
                    let mut limit = if crumbles { 2.0 } else { 1.0 };
                    let mut at = 0.0;
                    for p in &plan {
                        assert!(p.takes.value() > 0.0);
                        assert!(p.takes.value() <= limit * d.value() * (1.0 + 1e-12));
                        at += p.takes.value();
                        assert!((at - p.to.value()).abs() < 1e-12);
                        assert_eq!(p.out, d.in_mm() < 1.0 || p.to > d.across() * 4.0);
                        limit = (limit * 0.7).clamp(0.3, 1.0);
                    }
                }
            }
        }
    }
    #[test]
    fn no_hole_no_pecks() {
        assert!(pecks(Diameter::mm(0.0), Length::mm(3.0), true).is_empty());
        assert!(pecks(Diameter::mm(2.0), Length::si(f64::NAN), true).is_empty());
    }
    #[test]
    fn deep_holes_take_the_next_row() {
        let at = |depth: f64| deep_hole(Length::mm(depth), Diameter::mm(2.0));
        assert_eq!(at(4.0).row, Ratio::si(0.0));
        assert_eq!(at(4.1).row, Ratio::si(3.0));
        assert_eq!(at(9.0).row, Ratio::si(5.0));
        assert_eq!(at(10.0).row, Ratio::si(5.0));
        assert!(at(13.0).beyond && !at(12.0).beyond);
    }
}
