//! Warm work: how large it is when cold, how much a cut warms it, how long it cools.
//!
//! There is no quantity type for specific heat and heat transfer: they are plain numbers in J/(kg K) and W/(m² K).

use super::speed::Metal;
use reckon::{
    Area, Density, Diameter, Energy, Length, Mass, PerKelvin, Pressure, Ratio, Source, Temperature,
    TemperatureDifference, Time, Volume, maths,
};

/// Size at 20 °C.
pub static AT_20: Source = Source::read("ISO 1: reference temperature 20 °C; the correction is derived")
    .with_formula("L₂₀ = L (1 + α_g (T_g − 20))/(1 + α_w (T_w − 20))");
/// Warming by the cut.
pub static WARMING: Source =
    Source::derived("share of the work of cutting that goes into the part; the share is from memory")
        .with_formula("ΔT = q k_c V/(m c)");
/// Cooling in still air.
pub static COOLING: Source =
    Source::derived("one lump; heat transfer 8 to 15 W/(m² K) in still air from memory")
        .with_formula("τ = m c/(h A), t = τ ln(ΔT₀/ΔT)");
/// Mass of a cylinder.
pub static CYLINDER: Source = Source::derived("solid cylinder");

/// Expansion of metals.
pub static EXPANSION: Source = Source::memory(
    "handbook: linear expansion of brass 20.5, steel 11.5, stainless steel 16, aluminium 23 µm/m/K",
);
/// Linear expansion of a metal.
#[must_use]
pub fn expansion(metal: Metal) -> PerKelvin {
    PerKelvin::si(match metal {
        Metal::Brass => 20.5e-6,
        Metal::Aluminium => 23e-6,
        Metal::MildSteel | Metal::ToolSteel => 11.5e-6,
        Metal::Stainless => 16e-6,
    })
}

/// Size at 20 °C of something that measured `measured`.
#[must_use]
pub fn at_20(
    measured: Length,
    gauge: Temperature,
    gauge_grows: PerKelvin,
    work: Temperature,
    work_grows: PerKelvin,
) -> Length {
    let cold = Temperature::celsius(20.0);
    let factor = |grows: PerKelvin, t: Temperature| 1.0 + (grows * (t - cold)).value();
    measured * factor(gauge_grows, gauge) / factor(work_grows, work)
}
/// Volume of a solid cylinder.
#[must_use]
pub fn cylinder(d: Diameter, long: Length) -> Volume {
    d.circle() * long
}
/// All of its surface.
#[must_use]
pub fn cylinder_surface(d: Diameter, long: Length) -> Area {
    d.around() * long + d.circle() * 2.0
}
/// Mass of a solid cylinder.
#[must_use]
pub fn cylinder_mass(d: Diameter, long: Length, density: Density) -> Mass {
    density * cylinder(d, long)
}
/// Work of cutting away `removed`.
#[must_use]
pub fn work_of_cutting(kc: Pressure, removed: Volume) -> Energy {
    Energy::si(kc.value() * removed.value())
}
/// Rise of temperature of a part of mass `mass` when `share` of `work` stays in it.
#[must_use]
pub fn warming(work: Energy, share: Ratio, mass: Mass, specific_heat: Ratio) -> TemperatureDifference {
    TemperatureDifference::si(share.value() * work.value() / (mass.value() * specific_heat.value()))
}
/// Time in which the difference to the air falls to 1/e.
#[must_use]
pub fn time_constant(mass: Mass, specific_heat: Ratio, surface: Area, transfer: Ratio) -> Time {
    Time::si(mass.value() * specific_heat.value() / (transfer.value() * surface.value()))
}
/// Time until something at `from` is within `within` of the air; nothing when it already is.
#[must_use]
pub fn cooling(constant: Time, from: Temperature, air: Temperature, within: TemperatureDifference) -> Time {
    let ratio = (from - air).value().abs() / within.value();
    if ratio <= 1.0 { Time::ZERO } else { constant * maths::ln(ratio) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cooling_by_small_steps() {
        let tau = Time::si(760.0);
        let (from, air) = (Temperature::celsius(60.0), Temperature::celsius(20.0));
        let want = cooling(tau, from, air, TemperatureDifference::si(1.0)).value();
        let (mut t, mut over, dt) = (0.0, 40.0, 0.01);
        while over > 1.0 {
            over -= over * dt / 760.0;
            t += dt;
        }
        assert!((t - want).abs() < 0.1, "{t} {want}");
        assert_eq!(cooling(tau, air, air, TemperatureDifference::si(1.0)), Time::ZERO);
    }
    #[test]
    fn gauge_and_work_of_one_metal_need_no_correction() {
        let g = PerKelvin::si(11.5e-6);
        let t = Temperature::celsius(31.0);
        let l = at_20(Length::mm(40.0), t, g, t, g);
        assert!((l.in_mm() - 40.0).abs() < 1e-12);
    }
}
