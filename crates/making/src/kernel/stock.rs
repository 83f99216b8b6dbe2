//! What a bar yields, how deep to drill it first, and what is left of it.
//!
//! Lengths are compared in whole micrometres, so that a bar which is an exact multiple loses no part to a rounding.

use reckon::{Count, Length, Source};

/// Parts of a bar.
pub static YIELD: Source = Source::derived("whole pitches in the free length of the bar, in micrometres")
    .with_formula("n = floor((L − G − f₀)/(t + a + kerf))");
/// Hole drilled before parting.
pub static PREDRILL: Source =
    Source::derived("the last kerf is counted, so that parting breaks into the full bore")
        .with_formula("depth = f₀ + n (t + kerf + a) + tip + margin");
/// Spare parts.
pub static SPARES: Source = Source::practice("one spare for every ten, begun, from the second of a kind on");

/// Whole micrometres, nearest.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    reason = "lengths of bars are far below 2^63 micrometres; the cast saturates"
)]
pub fn micrometres(l: Length) -> i64 {
    (l.value() * 1e6).round() as i64
}
/// As a length.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "lengths of bars are far below 2^53 micrometres")]
pub fn length(um: i64) -> Length {
    Length::si(um as f64 / 1e6)
}

/// What each part takes of a bar.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Pitch {
    /// Finished length of the part.
    pub part: Length,
    /// Left on its far face to be faced off.
    pub facing: Length,
    /// Width of the parting cut.
    pub kerf: Length,
}
impl Pitch {
    /// From one part to the next, in micrometres.
    #[must_use]
    pub fn um(&self) -> i64 {
        micrometres(self.part) + micrometres(self.facing) + micrometres(self.kerf)
    }
    /// From one part to the next.
    #[must_use]
    pub fn whole(&self) -> Length {
        length(self.um())
    }
}
/// What a bar yields.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Yield {
    /// Parts.
    pub parts: Count,
    /// What is left of the bar, the stub in the chuck included.
    pub remnant: Length,
}
/// Parts out of a bar: `stub` cannot be used (grip, and the clear distance from jaw to blade), `first_face` is faced
/// off once. `None` when a part takes nothing.
#[must_use]
pub fn parts(bar: Length, stub: Length, first_face: Length, pitch: &Pitch) -> Option<Yield> {
    let each = pitch.um();
    if each <= 0 {
        return None;
    }
    let free = micrometres(bar) - micrometres(stub) - micrometres(first_face);
    let n = free.max(0) / each;
    let faced = if n > 0 { micrometres(first_face) } else { 0 };
    Some(Yield { parts: Count(n), remnant: length(micrometres(bar) - faced - n * each) })
}
/// Bar that `n` parts take, the stub included.
#[must_use]
pub fn bar_for(n: Count, stub: Length, first_face: Length, pitch: &Pitch) -> Length {
    length(micrometres(stub) + micrometres(first_face) + n.0 * pitch.um())
}
/// Depth to the tip of a hole drilled once for `n` parts: facing, all pitches, the point of the drill, and a margin.
#[must_use]
pub fn predrill(n: Count, first_face: Length, pitch: &Pitch, point: Length, margin: Length) -> Length {
    first_face + pitch.whole() * n + point + margin
}
/// How many to make so that there is one spare for every ten, begun; a single part gets none.
#[must_use]
pub fn with_spares(n: Count) -> Count {
    if n.0 < 2 { n } else { Count(n.0 + (n.0 + 9) / 10) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pitch() -> Pitch {
        Pitch { part: Length::mm(3.0), facing: Length::mm(0.2), kerf: Length::mm(1.5) }
    }
    #[test]
    fn an_exact_bar_loses_nothing() {
        for n in 1..300 {
            let bar = bar_for(Count(n), Length::mm(20.0), Length::mm(1.0), &pitch());
            let got = parts(bar, Length::mm(20.0), Length::mm(1.0), &pitch()).unwrap();
            assert_eq!(got, Yield { parts: Count(n), remnant: Length::mm(20.0) });
            let short = parts(bar - Length::mm(0.001), Length::mm(20.0), Length::mm(1.0), &pitch()).unwrap();
            assert_eq!(short.parts, Count(n - 1));
        }
    }
    #[test]
    fn a_bar_too_short_is_left_whole() {
        let got = parts(Length::mm(20.0), Length::mm(20.0), Length::mm(1.0), &pitch()).unwrap();
        assert_eq!(got, Yield { parts: Count(0), remnant: Length::mm(20.0) });
        let nothing = Pitch { part: Length::ZERO, facing: Length::ZERO, kerf: Length::ZERO };
        assert_eq!(parts(Length::mm(20.0), Length::ZERO, Length::ZERO, &nothing), None);
    }
    #[test]
    fn the_hole_reaches_past_the_last_kerf() {
        // Full bore ends at the point's shoulder: at or beyond the far side of the last kerf.
        let depth = predrill(Count(5), Length::mm(1.0), &pitch(), Length::mm(1.8), Length::mm(0.5));
        assert!((depth.in_mm() - (1.0 + 5.0 * 4.7 + 1.8 + 0.5)).abs() < 1e-12);
    }
    #[test]
    fn spares() {
        let got = [0, 1, 10, 11, 20].map(|n| with_spares(Count(n)).0);
        assert_eq!(got, [0, 1, 11, 13, 22]);
    }
}
