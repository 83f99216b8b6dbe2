//! Threads by hand: what a tap cuts at once, what turns it, what breaks it, and how far each tap of a set cuts.

use reckon::{Angle, Area, Diameter, Length, Pressure, Ratio, Source, Torque};

/// What a tap cuts.
pub static SECTION: Source = Source::derived(
    "groove between the drilled hole and the thread's outside, flat an eighth of the pitch at its floor",
)
.with_formula("t = (D − drill)/2, A = t (P/8 + t tan α), h = t/(n z)");
/// What turns a tap.
pub static TURNS: Source = Source::derived(
    "force of the whole section at the middle of the thread; flanks that rub add a third (common practice)",
)
.with_formula("T = 1.3 kc A (D + drill)/4");
/// What breaks a tap.
pub static BREAKS: Source = Source::memory(
    "twist of a fluted core: two fifths of a full one of the root's diameter, at 1200 N/mm² in hardened steel",
)
.with_formula("T = 0.4 τ π d³/16");
/// How taps of a set begin.
pub static SET: Source = Source::memory(
    "Machinery's Handbook, hand taps: threads ground to a lead, 7 to 10 on a taper tap, 3 to 5 on a second (plug), 1 to 2.5 on a bottoming tap",
);

/// A tap of a set.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct OfSet {
    /// What it is called.
    pub word: &'static str,
    /// Threads of its lead.
    pub lead: f64,
}
/// The three hand taps of a set, in the order of use.
pub const TAPS: [OfSet; 3] = [
    OfSet { word: "taper", lead: 8.0 },
    OfSet { word: "second", lead: 4.0 },
    OfSet { word: "bottoming", lead: 1.5 },
];
/// Height of thread that is cut: half of what the hole is smaller than the thread.
#[must_use]
pub fn height(major: Diameter, drill: Diameter) -> Length {
    ((major - drill) / 2.0).max(Length::ZERO)
}
/// Section of one groove; `half` is the angle of a flank to the plane across the axis.
#[must_use]
pub fn section(major: Diameter, drill: Diameter, pitch: Length, half: Angle) -> Area {
    let t = height(major, drill);
    t * (pitch / 8.0 + t * half.tan())
}
/// Chip of one tooth of the lead.
#[must_use]
pub fn chip(major: Diameter, drill: Diameter, lead: Ratio, flutes: Ratio) -> Length {
    height(major, drill) / (lead.value() * flutes.value()).max(1.0)
}
/// Torque while the whole lead cuts.
#[must_use]
pub fn torque(kc: Pressure, section: Area, major: Diameter, drill: Diameter) -> Torque {
    kc * section * ((major.across() + drill.across()) / 4.0) * 1.3
}
/// Torque that breaks a tap with this root.
#[must_use]
pub fn breaks(root: Diameter, stress: Pressure) -> Torque {
    let d = root.value();
    Torque::si(0.4 * stress.value() * reckon::maths::PI / 16.0 * d * d * d)
}
/// Turns from where the tip of the tap is level with the face until it stands at `tip`.
#[must_use]
pub fn turns(tip: Length, pitch: Length) -> Ratio {
    tip / pitch
}
/// Depth to which the thread is full when the tip stands at `tip`.
#[must_use]
pub fn full_to(tip: Length, lead: f64, pitch: Length) -> Length {
    (tip - pitch * lead).max(Length::ZERO)
}
/// Where the tip of a tap stops: half a pitch over the floor of a blind hole, its lead beyond a through one.
#[must_use]
pub fn tip_at(depth: Length, through: bool, lead: f64, pitch: Length) -> Length {
    if through { depth + pitch * lead } else { (depth - pitch / 2.0).max(Length::ZERO) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rule printed in catalogues of taps, T = D P² kc/8000 in N m (memory), for threads cut to three quarters.
    #[test]
    fn torque_is_that_of_the_catalogues() {
        let kc = Pressure::n_per_mm2(2000.0);
        for (d, p, drill) in [(3.0, 0.5, 2.5), (6.0, 1.0, 5.0), (10.0, 1.5, 8.5)] {
            let (major, drill) = (Diameter::mm(d), Diameter::mm(drill));
            let a = section(major, drill, Length::mm(p), Angle::deg(30.0));
            let t = torque(kc, a, major, drill).value();
            let rule = d * p * p * 2000.0 / 8000.0;
            assert!((t / rule - 1.0).abs() < 0.03, "M{d}: {t} against {rule}");
        }
    }
    #[test]
    fn a_blind_hole_keeps_two_threads_of_its_depth() {
        let (deep, p) = (Length::mm(10.0), Length::mm(0.7));
        let tip = tip_at(deep, false, 1.5, p);
        assert!((full_to(tip, 1.5, p).in_mm() - (10.0 - 1.4)).abs() < 1e-9);
        // Through, even the taper tap leaves a full thread everywhere.
        let tip = tip_at(deep, true, 8.0, p);
        assert!((full_to(tip, 8.0, p).in_mm() - 10.0).abs() < 1e-9);
    }
}
