//! Room under the spindle, travel, guide bushes, dials and backlash.

use reckon::{Diameter, Length, Ratio, Source};

/// Room under the spindle.
pub static DAYLIGHT: Source = Source::derived("sum of what stands between spindle and table");
/// Travel around a plate.
pub static TRAVEL: Source =
    Source::derived("part, cutter and lead-in on both sides").with_formula("w + D + 2 lead");
/// A loose drill in a bush.
pub static BUSH: Source =
    Source::derived("drill leaning from one end of the bush to the other").with_formula("e = c (1/2 + z/L)");
/// Proportions of guide bushes.
pub static BUSH_SIZE: Source = Source::practice(
    "bush twice the hole long, wall half the hole, gap half the hole for crumbling chips and one hole for stringy ones",
);
/// Play of a slide.
pub static PLAY: Source = Source::derived("screw with play that pushes one way or the other")
    .with_formula("slide = clamp(slide, dial, dial + b)");
/// Dials.
pub static DIAL: Source = Source::derived("1 in = 25.4 mm exactly");

/// What stands between the nose of the spindle (or of the drill chuck) and the table.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Stack {
    /// Bed of the vise, or of the plate that is clamped on.
    pub vise: Length,
    /// Parallels.
    pub parallels: Length,
    /// Part, or part and jig.
    pub part: Length,
    /// From the part to the jig or bush above it.
    pub gap: Length,
    /// Drill below the chuck.
    pub drill: Length,
    /// To pull the drill clear.
    pub retract: Length,
    /// To get the work in and out.
    pub margin: Length,
}
impl Stack {
    /// All of it.
    #[must_use]
    pub fn needed(&self) -> Length {
        [self.vise, self.parallels, self.part, self.gap, self.drill, self.retract, self.margin]
            .into_iter()
            .sum()
    }
}
/// Travel of the cutter's centre around the outside of a plate.
#[must_use]
pub fn around(width: Length, cutter: Diameter, lead: Length) -> Length {
    width + cutter.across() + lead * 2.0
}
/// Travel of the cutter's centre inside a pocket.
#[must_use]
pub fn inside(width: Length, cutter: Diameter) -> Length {
    width - cutter.across()
}

/// How far off a drill may be at `beyond` below a bush of length `bush` in which it has `clearance`.
#[must_use]
pub fn bush_error(clearance: Length, bush: Length, beyond: Length) -> Length {
    clearance * (0.5 + (beyond / bush).value())
}
/// Least length of a bush for an error `allowed` at `beyond` below it; `None` when the clearance alone takes more.
#[must_use]
pub fn bush_length(clearance: Length, beyond: Length, allowed: Length) -> Option<Length> {
    let spare = allowed - clearance / 2.0;
    (spare > Length::ZERO).then(|| beyond * (clearance / spare))
}
/// Proportions of a guide bush.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Bush {
    /// Least length.
    pub length: Length,
    /// Least wall.
    pub wall: Length,
    /// Gap above the part.
    pub gap: Length,
}
/// Bush for a hole: twice as long, wall half of it, gap half of it where chips crumble and once where they string.
#[must_use]
pub fn bush(hole: Diameter, crumbles: bool) -> Bush {
    let d = hole.across();
    Bush { length: d * 2.0, wall: d * 0.5, gap: if crumbles { d * 0.5 } else { d } }
}

/// Where a slide with play `play` stands after each command of the dial, begun engaged upward at the first.
#[must_use]
pub fn slide_after(commands: &[Length], play: Length) -> Vec<Length> {
    let Some(first) = commands.first() else { return Vec::new() };
    let mut at = *first;
    let follow = |command: &Length| {
        at = at.max(*command).min(*command + play);
        at
    };
    commands.iter().map(follow).collect()
}
/// How far to draw back past the place aimed at, so that the last approach takes up the play.
#[must_use]
pub fn overrun(play: Length) -> Length {
    play + Length::si(0.1e-3)
}
/// Divisions of a dial for a travel.
#[must_use]
pub fn divisions(travel: Length, division: Length) -> Ratio {
    travel / division
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bush_length_gives_back_the_error() {
        let (c, z) = (Length::mm(0.02), Length::mm(6.0));
        let l = bush_length(c, z, Length::mm(0.025)).unwrap();
        assert!((bush_error(c, l, z).in_mm() - 0.025).abs() < 1e-12);
        assert!((l.in_mm() - 8.0).abs() < 1e-9);
        assert_eq!(bush_length(c, z, Length::mm(0.01)), None);
    }
    #[test]
    fn play_is_taken_up_by_overrun() {
        let b = Length::mm(0.12);
        let over = overrun(b);
        let to = Length::mm(5.0);
        for from in [0.0, 3.0, 5.0, 9.0] {
            let path = [Length::mm(from), to - over, to];
            let at = slide_after(&path, b);
            assert!((at[2].in_mm() - 5.0).abs() < 1e-12, "from {from}");
        }
        assert!(slide_after(&[], b).is_empty());
    }
    #[test]
    fn pocket_and_outside() {
        assert!((inside(Length::mm(20.0), Diameter::mm(3.0)).in_mm() - 17.0).abs() < 1e-12);
        let b = bush(Diameter::mm(3.0), true);
        assert!((b.length.in_mm() - 6.0).abs() < 1e-12 && (b.gap.in_mm() - 1.5).abs() < 1e-12);
        assert!((bush(Diameter::mm(3.0), false).gap.in_mm() - 3.0).abs() < 1e-12);
    }
}
