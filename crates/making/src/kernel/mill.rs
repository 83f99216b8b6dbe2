//! An end mill: what its tooth takes, how far it bends, how deep a step it stands.

use super::speed::Metal;
use reckon::{Diameter, Force, Length, Pressure, Ratio, Source, maths};

/// Feed of a tooth to start with.
pub static TOOTH: Source = Source::practice(
    "feed of a tooth of small end mills: 0.008 of the diameter in brass and aluminium, 0.004 in steel, no more than 0.05 mm",
);
/// Force of a tooth that cuts the whole width.
pub static TOOTH_FORCE: Source =
    Source::derived("one tooth cuts at a time, its chip as thick as the feed of a tooth; 1.3 for wear")
        .with_formula("F = 1.3 k_c(f_z) a_p f_z");
/// An end mill as a held bar.
pub static BENDS: Source = Source::derived(
    "bar held at one end, loaded at its tip; the flutes leave a core of 0.8 of the diameter (common practice)",
)
.with_formula("y = F L³/(3 E I), I = π (0.8 D)⁴/64");
/// What its steel or carbide stands.
pub static STANDS: Source = Source::memory(
    "bending strength of high-speed steel and of fine carbide about 3000 N/mm² in handbooks; a quarter of it allowed",
);
/// Its modulus.
pub static MODULUS: Source =
    Source::memory("handbooks: high-speed steel 206 000 N/mm², carbide 600 000 N/mm²");
/// How far it may bend in a roughing cut.
pub static MAY_BEND: Source =
    Source::practice("a small end mill may bend by a hundredth of its diameter, and by 0.02 mm at most");
/// Steps and strips.
pub static STEPS: Source = Source::practice(
    "steps half a diameter deep at most, strips 0.8 of the radius wide, ramps of 3°, 0.1 mm left for the last round",
);

/// Feed of one tooth.
#[must_use]
pub fn tooth(d: Diameter, metal: Metal) -> Length {
    let share = match metal {
        Metal::Brass | Metal::Aluminium => 0.008,
        Metal::MildSteel | Metal::ToolSteel | Metal::Stainless => 0.004,
    };
    (d.across() * share).min(Length::mm(0.05))
}
/// Modulus of elasticity of an end mill.
#[must_use]
pub fn modulus(carbide: bool) -> Pressure {
    Pressure::n_per_mm2(if carbide { 600_000.0 } else { 206_000.0 })
}
/// Force of a tooth in a slot.
#[must_use]
pub fn slot_force(kc: Pressure, step: Length, tooth: Length) -> Force {
    kc * (step * tooth) * 1.3
}
/// How far its tip gives way.
#[must_use]
pub fn bends(load: Force, out: Length, d: Diameter, e: Pressure) -> Length {
    super::bend::chuck_only(load, out, Diameter::mm(d.in_mm() * 0.8), e)
}
/// Stress where it is held.
#[must_use]
pub fn stress(load: Force, out: Length, d: Diameter) -> Pressure {
    super::bend::root_stress(load, out, Diameter::mm(d.in_mm() * 0.8))
}
/// How far it may give way.
#[must_use]
pub fn may_bend(d: Diameter) -> Length {
    (d.across() * 0.01).min(Length::mm(0.02))
}
/// What it stands: a quarter of its strength.
#[must_use]
pub fn stands() -> Pressure {
    Pressure::n_per_mm2(750.0)
}
/// The deepest step that it stands: half its diameter, or less where it would bend or break; whole hundredths.
#[must_use]
pub fn step(kc: Pressure, tooth: Length, out: Length, d: Diameter, e: Pressure) -> Length {
    let unit = Length::mm(1.0);
    let load = slot_force(kc, unit, tooth);
    let by_bend: Ratio = may_bend(d) / bends(load, out, d, e);
    let by_stress: Ratio = stands() / stress(load, out, d);
    let most = (d.in_mm() * 0.5).min(by_bend.value()).min(by_stress.value());
    Length::mm((most * 100.0 + 1e-6).floor() / 100.0)
}
/// Even steps down to a depth, none deeper than `step`.
#[must_use]
pub fn levels(depth: f64, step: f64) -> Vec<f64> {
    let n = (depth / step.max(1e-3) - 1e-9).ceil().clamp(1.0, 1000.0);
    let mut all = Vec::new();
    let mut i = 1.0;
    while i <= n {
        all.push(-depth * i / n);
        i += 1.0;
    }
    all
}
/// Length of a ramp of 3° that goes down by so much.
#[must_use]
pub fn ramp(down: f64) -> f64 {
    down / maths::tan(3.0 * maths::PI / 180.0)
}

#[cfg(test)]
mod tests {
    use super::{levels, ramp, step};
    use reckon::{Diameter, Length, Pressure};

    #[test]
    fn a_long_cutter_takes_less() {
        let kc = Pressure::n_per_mm2(1500.0);
        let e = Pressure::n_per_mm2(600_000.0);
        let tooth = Length::mm(0.016);
        let short = step(kc, tooth, Length::mm(6.0), Diameter::mm(2.0), e);
        let long = step(kc, tooth, Length::mm(20.0), Diameter::mm(2.0), e);
        assert!((short.in_mm() - 1.0).abs() < 1e-9 && long < short * 0.5, "{short:?} {long:?}");
    }
    #[test]
    fn steps_are_even_and_end_at_the_depth() {
        assert_eq!(levels(2.0, 0.9), [-2.0 / 3.0, -4.0 / 3.0, -2.0]);
        assert!((ramp(1.0) - 19.0811).abs() < 1e-3);
    }
}
