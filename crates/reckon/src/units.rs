//! Units that a maker writes, with their exact size in SI.

use crate::exact::Fraction;

/// What kind of quantity a text stands for.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Dimension {
    /// A length, in metres.
    Length,
    /// An angle, in degrees until the last step (a degree is exact, a radian is not).
    Angle,
    /// A time, in seconds.
    Time,
    /// A speed, in metres per second.
    Speed,
    /// A speed of turning, in degrees a second until the last step.
    AngularSpeed,
    /// A mass, in kilograms.
    Mass,
    /// A force, in newtons.
    Force,
    /// A turning moment, in newton metres.
    Torque,
    /// A pressure, stress or modulus, in pascals.
    Pressure,
    /// An energy, in joules.
    Energy,
    /// A power, in watts.
    Power,
    /// A temperature, in kelvins.
    Temperature,
    /// A difference of temperature, in kelvins.
    TemperatureDifference,
    /// An area, in square metres.
    Area,
    /// A volume, in cubic metres.
    Volume,
    /// A density, in kilograms per cubic metre.
    Density,
    /// An acceleration, in metres per second squared.
    Acceleration,
    /// A stiffness, in newtons per metre.
    Stiffness,
    /// A change per kelvin.
    PerKelvin,
    /// A plain number.
    Ratio,
}

/// A unit: its spellings, what it measures, its exact size and, for temperatures, its zero.
pub(crate) struct Unit {
    pub(crate) names: &'static [&'static str],
    pub(crate) of: Dimension,
    num: i64,
    den: i64,
    /// Added before scaling; only degrees Celsius and Fahrenheit have one.
    zero: (i64, i64),
}
const fn unit(names: &'static [&'static str], of: Dimension, num: i64, den: i64) -> Unit {
    Unit { names, of, num, den, zero: (0, 1) }
}
impl Unit {
    /// The exact SI value (degrees in place of radians) of `n` of this unit.
    pub(crate) fn si(&self, n: Fraction) -> Option<Fraction> {
        let zero = Fraction::new(i128::from(self.zero.0), i128::from(self.zero.1))?;
        n.plus(zero)?.times(Fraction::new(i128::from(self.num), i128::from(self.den))?)
    }
    /// Whether its nought is not nothing, as on the scales of temperature.
    pub(crate) const fn on_scale(&self) -> bool {
        self.zero.0 != 0
    }
    pub(crate) fn size(&self) -> Option<Fraction> {
        Fraction::new(i128::from(self.num), i128::from(self.den))
    }
}
use Dimension as D;
/// 1 lbf = 4.448 221 615 260 5 N exactly; 1 lb = 0.453 592 37 kg exactly; 1 in = 25.4 mm exactly.
pub(crate) static UNITS: &[Unit] = &[
    unit(&["mm"], D::Length, 1, 1_000),
    unit(&["in", "inch", "inches", "\"", "″"], D::Length, 254, 10_000),
    unit(&["thou"], D::Length, 254, 10_000_000),
    unit(&["cm"], D::Length, 1, 100),
    unit(&["m"], D::Length, 1, 1),
    unit(&["um", "µm", "μm"], D::Length, 1, 1_000_000),
    unit(&["nm"], D::Length, 1, 1_000_000_000),
    unit(&["km"], D::Length, 1_000, 1),
    unit(&["ft"], D::Length, 3_048, 10_000),
    unit(&["deg", "°"], D::Angle, 1, 1),
    unit(&["arcmin", "'", "′"], D::Angle, 1, 60),
    unit(&["arcsec"], D::Angle, 1, 3_600),
    unit(&["turn", "turns"], D::Angle, 360, 1),
    unit(&["s", "sec"], D::Time, 1, 1),
    unit(&["ms"], D::Time, 1, 1_000),
    unit(&["min"], D::Time, 60, 1),
    unit(&["h"], D::Time, 3_600, 1),
    unit(&["d", "day", "days"], D::Time, 86_400, 1),
    unit(&["m/min"], D::Speed, 1, 60),
    unit(&["mm/min"], D::Speed, 1, 60_000),
    unit(&["m/s"], D::Speed, 1, 1),
    unit(&["mm/s"], D::Speed, 1, 1_000),
    unit(&["ft/min"], D::Speed, 3_048, 600_000),
    unit(&["in/min"], D::Speed, 254, 600_000),
    unit(&["rpm", "1/min", "turns/min"], D::AngularSpeed, 6, 1),
    unit(&["turns/s"], D::AngularSpeed, 360, 1),
    unit(&["kg"], D::Mass, 1, 1),
    unit(&["g"], D::Mass, 1, 1_000),
    unit(&["mg"], D::Mass, 1, 1_000_000),
    unit(&["lb"], D::Mass, 45_359_237, 100_000_000),
    unit(&["oz"], D::Mass, 45_359_237, 1_600_000_000),
    unit(&["N"], D::Force, 1, 1),
    unit(&["mN"], D::Force, 1, 1_000),
    unit(&["kN"], D::Force, 1_000, 1),
    unit(&["kgf"], D::Force, 980_665, 100_000),
    unit(&["gf"], D::Force, 980_665, 100_000_000),
    unit(&["lbf"], D::Force, 44_482_216_152_605, 10_000_000_000_000),
    unit(&["N m", "Nm", "N·m"], D::Torque, 1, 1),
    unit(&["N mm", "Nmm", "N·mm", "mN m"], D::Torque, 1, 1_000),
    unit(&["N cm", "Ncm"], D::Torque, 1, 100),
    unit(&["lbf in"], D::Torque, 1_129_848_290_276_167, 10_000_000_000_000_000),
    unit(&["MPa", "N/mm2", "N/mm²"], D::Pressure, 1_000_000, 1),
    unit(&["GPa"], D::Pressure, 1_000_000_000, 1),
    unit(&["kPa"], D::Pressure, 1_000, 1),
    unit(&["hPa", "mbar"], D::Pressure, 100, 1),
    unit(&["Pa"], D::Pressure, 1, 1),
    unit(&["bar"], D::Pressure, 100_000, 1),
    unit(&["J"], D::Energy, 1, 1),
    unit(&["mJ"], D::Energy, 1, 1_000),
    unit(&["uJ", "µJ"], D::Energy, 1, 1_000_000),
    unit(&["kJ"], D::Energy, 1_000, 1),
    unit(&["W"], D::Power, 1, 1),
    unit(&["kW"], D::Power, 1_000, 1),
    unit(&["mW"], D::Power, 1, 1_000),
    unit(&["uW", "µW"], D::Power, 1, 1_000_000),
    Unit { names: &["degC", "°C", "C"], of: D::Temperature, num: 1, den: 1, zero: (27_315, 100) },
    Unit { names: &["degF", "°F", "F"], of: D::Temperature, num: 5, den: 9, zero: (45_967, 100) },
    unit(&["K"], D::Temperature, 1, 1),
    unit(&["K", "degC", "°C", "C"], D::TemperatureDifference, 1, 1),
    unit(&["degF", "°F"], D::TemperatureDifference, 5, 9),
    unit(&["mm2", "mm²"], D::Area, 1, 1_000_000),
    unit(&["cm2", "cm²"], D::Area, 1, 10_000),
    unit(&["m2", "m²"], D::Area, 1, 1),
    unit(&["in2", "in²"], D::Area, 64_516, 100_000_000),
    unit(&["mm3", "mm³"], D::Volume, 1, 1_000_000_000),
    unit(&["cm3", "cm³"], D::Volume, 1, 1_000_000),
    unit(&["l", "L", "litre"], D::Volume, 1, 1_000),
    unit(&["ml", "mL"], D::Volume, 1, 1_000_000),
    unit(&["m3", "m³"], D::Volume, 1, 1),
    unit(&["g/cm3", "g/cm³"], D::Density, 1_000, 1),
    unit(&["kg/m3", "kg/m³"], D::Density, 1, 1),
    unit(&["m/s2", "m/s²"], D::Acceleration, 1, 1),
    unit(&["N/mm"], D::Stiffness, 1_000, 1),
    unit(&["N/um", "N/µm"], D::Stiffness, 1_000_000, 1),
    unit(&["N/m"], D::Stiffness, 1, 1),
    unit(&["1/K", "/K"], D::PerKelvin, 1, 1),
    unit(&["ppm/K", "um/m/K", "µm/m/K"], D::PerKelvin, 1, 1_000_000),
    unit(&["%"], D::Ratio, 1, 100),
    unit(&["ppm"], D::Ratio, 1, 1_000_000),
    unit(&[""], D::Ratio, 1, 1),
];

impl Dimension {
    /// "a length", for a message.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            D::Length => "a length",
            D::Angle => "an angle",
            D::Time => "a time",
            D::Speed => "a speed",
            D::AngularSpeed => "a speed of turning",
            D::Mass => "a mass",
            D::Force => "a force",
            D::Torque => "a torque",
            D::Pressure => "a pressure",
            D::Energy => "an energy",
            D::Power => "a power",
            D::Temperature => "a temperature",
            D::TemperatureDifference => "a difference of temperature",
            D::Area => "an area",
            D::Volume => "a volume",
            D::Density => "a density",
            D::Acceleration => "an acceleration",
            D::Stiffness => "a stiffness",
            D::PerKelvin => "a change per kelvin",
            D::Ratio => "a plain number",
        }
    }
    /// Units to offer in a message, the usual one first.
    #[must_use]
    pub fn units(self) -> Vec<&'static str> {
        UNITS.iter().filter(|u| u.of == self && !u.names[0].is_empty()).map(|u| u.names[0]).collect()
    }
    pub(crate) fn unit(self, name: &str) -> Option<&'static Unit> {
        UNITS.iter().find(|u| u.of == self && u.names.contains(&name))
    }
    /// From the exact value that [`Unit::si`] gives to the `f64` in SI.
    #[must_use]
    pub(crate) fn finish(self, value: Fraction) -> f64 {
        match self {
            D::Angle | D::AngularSpeed => value.to_f64() * crate::maths::PI / 180.0,
            _ => value.to_f64(),
        }
    }
    /// Exponents (length, mass, time, temperature, angle), to check arithmetic with.
    #[must_use]
    pub(crate) const fn powers(self) -> [i8; 5] {
        match self {
            D::Length => [1, 0, 0, 0, 0],
            D::Angle => [0, 0, 0, 0, 1],
            D::Time => [0, 0, 1, 0, 0],
            D::Speed => [1, 0, -1, 0, 0],
            D::AngularSpeed => [0, 0, -1, 0, 1],
            D::Mass => [0, 1, 0, 0, 0],
            D::Force => [1, 1, -2, 0, 0],
            D::Torque | D::Energy => [2, 1, -2, 0, 0],
            D::Pressure => [-1, 1, -2, 0, 0],
            D::Power => [2, 1, -3, 0, 0],
            D::Temperature | D::TemperatureDifference => [0, 0, 0, 1, 0],
            D::Area => [2, 0, 0, 0, 0],
            D::Volume => [3, 0, 0, 0, 0],
            D::Density => [-3, 1, 0, 0, 0],
            D::Acceleration => [1, 0, -2, 0, 0],
            D::Stiffness => [0, 1, -2, 0, 0],
            D::PerKelvin => [0, 0, 0, -1, 0],
            D::Ratio => [0; 5],
        }
    }
}
