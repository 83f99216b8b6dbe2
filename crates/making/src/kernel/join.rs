//! Joints of two round parts: what holds them, how hard it is to put together, what heat it takes and bears.

use reckon::{Diameter, Force, Length, Mark, Pressure, Ratio, Source, Temperature, Torque, maths};

/// A ring pressed on a round.
pub static PRESS: Source = Source::derived(
    "thick ring on a solid round (Lamé): interference, pressure, friction",
)
.with_formula("p = δ/(d [(K + νh)/Eh + (1 − νs)/Es]), K = (D² + d²)/(D² − d²); F = μ p π d l; T = F d/2");
/// What roughness takes of an interference.
pub static SMOOTHED: Source =
    Source::memory("DIN 7190: 0.8 of the sum of both roughnesses is smoothed away in pressing")
        .with_formula("δ' = δ − 0.8 (Rz hole + Rz shaft)");
/// Greatest stress at the bore of a pressed ring.
pub static HOOP: Source =
    Source::practice("a ring of brass is stressed at its bore to 0.8 of its proof stress at the most")
        .with_formula("σ = p K");
/// A joint by shear on a cylinder.
pub static SHEAR: Source =
    Source::derived("shear stress all over a cylinder").with_formula("F = τ π d l; T = F d/2");
/// What bonds and solders hold in shear.
pub static HOLDS: Source = Source {
    cite: "shear strengths as used at the bench: retaining adhesive 10 to 25 N/mm², soft solder 25 to 40 at once but 3 to 5 for good, silver solder 100 and more, shellac 2 to 4",
    mark: Mark::Memory,
    formula: None,
};
/// Gaps that each takes.
pub static GAPS: Source = Source::practice(
    "clearance on the diameter: retaining adhesive 0.01 to 0.10 mm, soft solder 0.03 to 0.15, silver solder 0.05 to 0.15, shellac up to 0.2",
);
/// Heat that each takes and bears.
pub static HEATS: Source = Source {
    cite: "heat: tin-lead solder worked at 220 °C, silver solder at 680 °C, shellac at 110 °C; retaining adhesive let go at 250 °C, softens from 150 °C; shellac from 75 °C; soft solder from 183 °C",
    mark: Mark::Memory,
    formula: None,
};
/// A riveted seat.
pub static RIVET: Source = Source::practice(
    "a third of the proof stress stays as clamp under a riveted rim; brass on brass rubs with 0.15; two nicks in the hole's edge, filled by the rivet, carry the rest",
)
.with_formula("T = μ σ/3 A r + n τ w h r, τ = 0.58 σ");

/// How two parts are joined.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Way {
    /// A rim of one spread over the other.
    Rivet,
    /// Pressed.
    Press,
    /// Retaining adhesive.
    Adhesive,
    /// Tin solder.
    SoftSolder,
    /// Silver solder.
    SilverSolder,
    /// Shellac.
    Shellac,
}
/// All of them.
pub const WAYS: [Way; 6] =
    [Way::Rivet, Way::Press, Way::Adhesive, Way::SoftSolder, Way::SilverSolder, Way::Shellac];
impl Way {
    /// In a word or two.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Way::Rivet => "rivet",
            Way::Press => "press",
            Way::Adhesive => "adhesive",
            Way::SoftSolder => "soft solder",
            Way::SilverSolder => "silver solder",
            Way::Shellac => "shellac",
        }
    }
    /// In the words of the order of works.
    #[must_use]
    pub const fn work(self) -> &'static str {
        match self {
            Way::Rivet => "rivet",
            Way::Press => "press",
            Way::SoftSolder | Way::SilverSolder => "solder",
            Way::Adhesive | Way::Shellac => "glue",
        }
    }
    /// Shear that it bears for good: from, to.
    #[must_use]
    pub fn shear(self) -> Option<(Pressure, Pressure)> {
        let (low, high) = match self {
            Way::Adhesive => (10.0, 25.0),
            Way::SoftSolder => (3.0, 5.0),
            Way::SilverSolder => (100.0, 180.0),
            Way::Shellac => (2.0, 4.0),
            Way::Rivet | Way::Press => return None,
        };
        Some((Pressure::n_per_mm2(low), Pressure::n_per_mm2(high)))
    }
    /// Clearance on the diameter that it takes: from, to.
    #[must_use]
    pub fn gap(self) -> (Length, Length) {
        let (low, high) = match self {
            Way::Rivet => (-0.01, 0.03),
            Way::Press => (-0.05, -0.002),
            Way::Adhesive => (0.01, 0.10),
            Way::SoftSolder => (0.03, 0.15),
            Way::SilverSolder => (0.05, 0.15),
            Way::Shellac => (0.0, 0.20),
        };
        (Length::mm(low), Length::mm(high))
    }
    /// How hot the parts get while it is made.
    #[must_use]
    pub fn heat(self) -> Option<Temperature> {
        let c = match self {
            Way::SoftSolder => 220.0,
            Way::SilverSolder => 680.0,
            Way::Shellac => 110.0,
            Way::Rivet | Way::Press | Way::Adhesive => return None,
        };
        Some(Temperature::si(273.15 + c))
    }
}
/// Ring factor: how the ring's bore is stressed by the pressure in it.
#[must_use]
pub fn ring_factor(bore: Diameter, outside: Diameter) -> Ratio {
    let (d, o) = (bore.value(), outside.value());
    Ratio::si((o * o + d * d) / (o * o - d * d))
}
/// What is left of an interference when the roughness of both is smoothed.
#[must_use]
pub fn smoothed(interference: Length, rough_hole: Length, rough_shaft: Length) -> Length {
    interference - (rough_hole + rough_shaft) * 0.8
}
/// Pressure between a ring and a solid round.
#[must_use]
pub fn press(
    interference: Length,
    bore: Diameter,
    outside: Diameter,
    ring: (Pressure, Ratio),
    round: (Pressure, Ratio),
) -> Pressure {
    Pressure::si(power::load::press(
        interference.value().max(0.0),
        bore.value(),
        outside.value(),
        (ring.0.value(), ring.1.value()),
        (round.0.value(), round.1.value()),
    ))
}
/// Interference that gives a pressure between a ring and a solid round, after roughness is smoothed; inverse of
/// [`press`].
#[must_use]
pub fn interference(
    pressure: Pressure,
    bore: Diameter,
    outside: Diameter,
    ring: (Pressure, Ratio),
    round: (Pressure, Ratio),
) -> Length {
    Length::si(power::load::press_interference(
        pressure.value(),
        bore.value(),
        outside.value(),
        (ring.0.value(), ring.1.value()),
        (round.0.value(), round.1.value()),
    ))
}
/// Pressure at which a press holds a torque by friction.
#[must_use]
pub fn pressure_for(torque: Torque, across: Diameter, length: Length, friction: Ratio) -> Pressure {
    let d = across.value();
    Pressure::si(2.0 * torque.value() / (friction.value() * maths::PI * d * d * length.value()))
}
/// Force of a stress on a cylinder along its axis.
#[must_use]
pub fn on_cylinder(stress: Pressure, across: Diameter, length: Length) -> Force {
    Force::si(stress.value() * maths::PI * across.value() * length.value())
}
/// Turning moment of a force at a cylinder's surface.
#[must_use]
pub fn turning(force: Force, across: Diameter) -> Torque {
    Torque::si(force.value() * across.value() / 2.0)
}
/// Width of the chamfer of 45° that the metal standing over fills: its volume against that of the ring it becomes.
#[must_use]
pub fn filled(over: Length, seat: Diameter, bore: Diameter) -> Length {
    let (d, b) = (seat.value(), bore.value());
    // π/4 (d² − b²) h = π d c²/2
    Length::si(maths::sqrt((d * d - b * b) * over.value() / (2.0 * d)))
}
/// Chamfer to cut for a rivet: six tenths of what would be filled, so that it fills for sure and the rest is filed
/// off; no deeper than a quarter of the thickness.
#[must_use]
pub fn chamfer(filled: Length, thick: Length) -> Length {
    (filled * 0.6).min(thick / 4.0)
}
/// Torque that a riveted rim holds by friction.
#[must_use]
pub fn clamp(proof: Pressure, seat: Diameter, bore: Diameter) -> Torque {
    let (d, b) = (seat.value(), bore.value());
    let area = maths::PI / 4.0 * (d * d - b * b);
    Torque::si(0.15 * proof.value() / 3.0 * area * d / 2.0)
}
/// Torque that two nicks of a width and depth hold, filled with metal of this proof stress.
#[must_use]
pub fn nicks(proof: Pressure, width: Length, depth: Length, seat: Diameter) -> Torque {
    Torque::si(2.0 * 0.58 * proof.value() * width.value() * depth.value() * seat.value() / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A steel arbor of 4 mm in a brass collet of 10 mm, 10 µm tight: 121.52 N/mm² (thick ring, closed form, 205 and
    /// 100 GPa, 0.29 and 0.34); and back.
    #[test]
    fn an_interference_gives_its_pressure_and_the_pressure_its_interference() {
        let (d, o) = (Diameter::mm(4.0), Diameter::mm(10.0));
        let ring = (Pressure::n_per_mm2(100.0e3), Ratio::si(0.34));
        let round = (Pressure::n_per_mm2(205.0e3), Ratio::si(0.29));
        let p = press(Length::mm(0.01), d, o, ring, round);
        assert!((p.in_n_per_mm2() - 121.52).abs() < 1.0, "{}", p.in_n_per_mm2());
        let back = interference(p, d, o, ring, round);
        assert!((back.in_mm() - 0.01).abs() < 1e-12);
        // Twice the torque wants twice the pressure: F = μ p π d l, T = F d/2.
        let torque = turning(on_cylinder(p, d, Length::mm(5.0)) * 0.12, d);
        let again = pressure_for(torque, d, Length::mm(5.0), Ratio::si(0.12));
        assert!((again.in_n_per_mm2() - p.in_n_per_mm2()).abs() < 1e-9);
    }
}
