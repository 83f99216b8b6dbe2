//! What teeth, pins and pivots bear.
//!
//! Any units that belong together: N, mm, N/mm² and N mm, or N, m, Pa and N m.

use reckon::{Source, maths};

/// Force on a tooth.
pub static FORCE: Source = Source::derived("torque over pitch radius").with_formula("F = 2 T/(m z)");
/// Lewis.
pub static LEWIS: Source =
    Source::derived("tooth as a cantilever of even strength").with_formula("σ = F/(b m Y)");
/// Form factors of involute teeth.
pub static FORM: Source = Source::memory("machine design handbooks: Lewis form factor, 20° full depth");
/// Form factors of clock teeth.
pub static CANTILEVER: Source =
    Source::derived("tooth as a cantilever with its root width").with_formula("Y = s²/(6 h m)");
/// Widths and levers of clock teeth.
pub static CLOCK_TOOTH: Source = Source::practice(
    "wheel: root 1.57 m, lever 2.6 m at the tip, 1.3 m near the pitch line; leaf: root 1.05 to 1.25 m, lever 2.2 m",
);
/// Hertz.
pub static HERTZ: Source =
    Source::derived("two cylinders pressed along a line").with_formula("p = √(F E*/(π b ρ))");
/// Stresses that teeth bear.
pub static ALLOWED: Source = Source::practice(
    "static: half-hard brass 60 to 80, bronze 80, mild steel 120, tempered silver steel 300 N/mm²; brass under line pressure 250 to 300",
);
/// Pressures that pivots bear.
pub static PRESSURE: Source =
    Source::practice("oiled in brass: barrel and great arbor 8, train 4, escape 1.5 N/mm²");
/// A pivot as a beam and a shaft.
pub static PIVOT: Source = Source::derived("load at the middle of a pivot held at its shoulder")
    .with_formula("p = F/(d l); σ = 32 F (l/2)/(π d³); τ = 16 T/(π d³)");
/// Friction of a pivot.
pub static FRICTION: Source = Source::derived("friction at the pivot's radius").with_formula("T = μ F d/2");
/// Starting.
pub static STARTING: Source = Source::practice("starting friction 1.3 times running friction");
/// Pin of a lantern pinion.
pub static PIN: Source = Source::derived("round bar between two supports")
    .with_formula("M = F l/8 built in, F l/4 loose; σ = 32 M/(π d³)");
/// Lean of a pivot.
pub static LEAN: Source = Source::derived("clearance over length").with_formula("tan lean = c/l");
/// A ring pressed on a solid arbor.
pub static PRESSED: Source = Source::derived("thick ring on a solid arbor (Lamé)")
    .with_formula("p = δ/(d [(K + νh)/Eh + (1 − νs)/Es]), K = (D² + d²)/(D² − d²)");
/// Warmth.
pub static WARMTH: Source =
    Source::derived("hole and pivot grow each by its own metal").with_formula("Δc = d (αh − αp) ΔT");

/// Force at the pitch circle.
#[must_use]
pub fn tooth_force(torque: f64, module: f64, teeth: f64) -> f64 {
    2.0 * torque / (module * teeth)
}
/// Force along the line of pressure.
#[must_use]
pub fn normal_force(tangential: f64, pressure_angle: f64) -> f64 {
    tangential / maths::cos(pressure_angle)
}
/// Torque handed on to the pinion.
#[must_use]
pub fn next_torque(torque: f64, teeth: f64, leaves: f64, efficiency: f64) -> f64 {
    torque * leaves / teeth * efficiency
}
/// Lewis stress.
#[must_use]
pub fn lewis(force: f64, width: f64, module: f64, form: f64) -> f64 {
    force / (width * module * form)
}
/// Width of face that keeps the Lewis stress at a value.
#[must_use]
pub fn width_for(force: f64, stress: f64, module: f64, form: f64) -> f64 {
    force / (stress * module * form)
}
const FORMS: [(f64, f64); 17] = [
    (12.0, 0.245),
    (13.0, 0.261),
    (14.0, 0.277),
    (15.0, 0.290),
    (16.0, 0.296),
    (17.0, 0.303),
    (18.0, 0.309),
    (20.0, 0.322),
    (24.0, 0.337),
    (30.0, 0.359),
    (38.0, 0.384),
    (50.0, 0.409),
    (60.0, 0.422),
    (75.0, 0.435),
    (100.0, 0.447),
    (150.0, 0.460),
    (300.0, 0.472),
];
const RACK: f64 = 0.485;
/// Form factor of an involute tooth, 20° full depth; even in 1/z between rows. `None` below twelve teeth.
#[must_use]
pub fn involute_form(teeth: f64) -> Option<f64> {
    if teeth.is_nan() || teeth < FORMS[0].0 {
        return None;
    }
    for w in FORMS.windows(2) {
        if teeth <= w[1].0 {
            let share = (1.0 / w[0].0 - 1.0 / teeth) / (1.0 / w[0].0 - 1.0 / w[1].0);
            return Some(w[0].1 + (w[1].1 - w[0].1) * share);
        }
    }
    let (last, y) = FORMS[FORMS.len() - 1];
    Some(RACK - (RACK - y) * last / teeth)
}
/// Form factor of any tooth by its root width and the lever of its load, both in modules.
#[must_use]
pub fn cantilever_form(root: f64, lever: f64) -> f64 {
    root * root / (6.0 * lever)
}
/// Modulus of two bodies together.
#[must_use]
pub fn together(e1: f64, nu1: f64, e2: f64, nu2: f64) -> f64 {
    1.0 / ((1.0 - nu1 * nu1) / e1 + (1.0 - nu2 * nu2) / e2)
}
/// Radius of two bodies together, both bulging.
#[must_use]
pub fn relative_radius(r1: f64, r2: f64) -> f64 {
    r1 * r2 / (r1 + r2)
}
/// Greatest pressure of a line contact.
#[must_use]
pub fn line_pressure(force: f64, together: f64, width: f64, radius: f64) -> f64 {
    maths::sqrt(force * together / (maths::PI * width * radius))
}
/// A metal that teeth are cut in.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum ToothMetal {
    /// Half-hard brass.
    Brass,
    /// Bronze.
    Bronze,
    /// Mild steel.
    MildSteel,
    /// Silver steel, hardened and tempered.
    TemperedSteel,
}
/// Words for them.
pub const TOOTH_METALS: [(&str, ToothMetal); 4] = [
    ("brass", ToothMetal::Brass),
    ("bronze", ToothMetal::Bronze),
    ("mild steel", ToothMetal::MildSteel),
    ("tempered steel", ToothMetal::TemperedSteel),
];
impl ToothMetal {
    /// Bending stress that it bears for good, N/mm².
    #[must_use]
    pub const fn allowed_bending(self) -> f64 {
        match self {
            ToothMetal::Brass => 60.0,
            ToothMetal::Bronze => 80.0,
            ToothMetal::MildSteel => 120.0,
            ToothMetal::TemperedSteel => 300.0,
        }
    }
}
/// Line pressure at which brass wears, N/mm².
pub const BRASS_LINE_PRESSURE: f64 = 250.0;

/// Where a pivot stands.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Place {
    /// Barrel or great arbor.
    Great,
    /// Train.
    Train,
    /// Escape arbor.
    Escape,
}
/// Words for them.
pub const PLACES: [(&str, Place); 3] =
    [("great", Place::Great), ("train", Place::Train), ("escape", Place::Escape)];
impl Place {
    /// Pressure that an oiled brass hole bears there, N/mm².
    #[must_use]
    pub const fn allowed(self) -> f64 {
        match self {
            Place::Great => 8.0,
            Place::Train => 4.0,
            Place::Escape => 1.5,
        }
    }
}
/// Bending stress that hard steel of a pivot bears, N/mm².
pub const PIVOT_BENDING: f64 = 250.0;
/// Pressure on the projected face of a pivot.
#[must_use]
pub fn pivot_pressure(load: f64, diameter: f64, length: f64) -> f64 {
    load / (diameter * length)
}
/// Bending stress at its shoulder, the load at the middle.
#[must_use]
pub fn pivot_bending(load: f64, diameter: f64, length: f64) -> f64 {
    32.0 * load * (length / 2.0) / (maths::PI * diameter * diameter * diameter)
}
/// Shear of a round bar in torsion.
#[must_use]
pub fn torsion(torque: f64, diameter: f64) -> f64 {
    16.0 * torque / (maths::PI * diameter * diameter * diameter)
}
/// Friction torque of a pivot.
#[must_use]
pub fn pivot_friction(friction: f64, load: f64, diameter: f64) -> f64 {
    friction * load * diameter / 2.0
}
/// Starting friction over running friction.
pub const STARTING_FACTOR: f64 = 1.3;
/// Bending stress of a pin of a lantern pinion between its two shrouds.
#[must_use]
pub fn pin_bending(force: f64, length: f64, diameter: f64, built_in: bool) -> f64 {
    let moment = force * length / if built_in { 8.0 } else { 4.0 };
    32.0 * moment / (maths::PI * diameter * diameter * diameter)
}
/// Angle by which a pivot can lean in its hole, radians.
#[must_use]
pub fn lean(clearance: f64, length: f64) -> f64 {
    maths::atan(clearance / length)
}
/// Length of hole that lets a pivot lean by an angle.
#[must_use]
pub fn length_for_lean(clearance: f64, lean: f64) -> f64 {
    clearance / maths::tan(lean)
}
/// Pressure between a ring and the solid arbor that it is pressed on.
#[must_use]
pub fn press(interference: f64, arbor: f64, outside: f64, ring: (f64, f64), shaft: (f64, f64)) -> f64 {
    interference / gives(arbor, outside, ring, shaft)
}
/// By how much ring and arbor together give way for each pascal between them (m/Pa).
fn gives(arbor: f64, outside: f64, ring: (f64, f64), shaft: (f64, f64)) -> f64 {
    let k = ring_factor(arbor, outside);
    arbor * ((k + ring.1) / ring.0 + (1.0 - shaft.1) / shaft.0)
}
/// Interference that gives a pressure between a ring and the solid arbor that it is pressed on; inverse of [`press`].
#[must_use]
pub fn press_interference(
    pressure: f64,
    arbor: f64,
    outside: f64,
    ring: (f64, f64),
    shaft: (f64, f64),
) -> f64 {
    pressure * gives(arbor, outside, ring, shaft)
}
/// Hoop stress at the bore of a ring over the pressure in it.
#[must_use]
pub fn ring_factor(bore: f64, outside: f64) -> f64 {
    (outside * outside + bore * bore) / (outside * outside - bore * bore)
}
/// Torque at which a pressed ring slips.
#[must_use]
pub fn press_slip(friction: f64, pressure: f64, arbor: f64, length: f64) -> f64 {
    friction * pressure * maths::PI * arbor * length * arbor / 2.0
}
/// Change of clearance of a pivot with warmth.
#[must_use]
pub fn warm_clearance(diameter: f64, hole: f64, pivot: f64, rise: f64) -> f64 {
    diameter * (hole - pivot) * rise
}

/// A pair of rubbing metals and how they were kept.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Rubbing {
    /// In words.
    pub what: &'static str,
    /// Low end of its friction.
    pub low: f64,
    /// Likely.
    pub likely: f64,
    /// High end.
    pub high: f64,
    /// Where it was had.
    pub source: &'static Source,
}
static CHART: Source = Source::read("friction chart of an equipment maker, static");
static HARD_STEEL: Source =
    Source::read("chemical encyclopedia as quoted on a chemistry board, static and dynamic");
static CLOCK_OIL: Source = Source::practice("slow, oiled, at the boundary");
/// Friction of pairs.
pub static RUBBING: [Rubbing; 12] = [
    rub("brass on steel, dry", 0.35, 0.51, 0.51, &CHART),
    rub("brass on steel, greasy", 0.19, 0.19, 0.19, &CHART),
    rub("brass on steel, castor oil", 0.11, 0.11, 0.11, &CHART),
    rub("bronze on steel, greasy", 0.16, 0.16, 0.16, &CHART),
    rub("cast iron on mild steel", 0.21, 0.21, 0.40, &CHART),
    rub("graphite on steel", 0.10, 0.10, 0.10, &CHART),
    rub("hard steel on hard steel, dry", 0.42, 0.42, 0.78, &HARD_STEEL),
    rub("hard steel on hard steel, light oil", 0.10, 0.10, 0.23, &HARD_STEEL),
    rub("clock pivot, fresh oil", 0.10, 0.12, 0.14, &CLOCK_OIL),
    rub("clock pivot", 0.10, 0.15, 0.25, &CLOCK_OIL),
    rub("clock pivot, stale oil", 0.20, 0.22, 0.25, &CLOCK_OIL),
    rub("steel in ruby", 0.10, 0.11, 0.12, &CLOCK_OIL),
];
const fn rub(what: &'static str, low: f64, likely: f64, high: f64, source: &'static Source) -> Rubbing {
    Rubbing { what, low, likely, high, source }
}
