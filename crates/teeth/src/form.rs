//! Sizes of wheels, pinions and their cutters, from the module.
//!
//! Plain millimetres unless a name says otherwise; angles in radians.

use crate::curve::{
    Form, Leaf, LeafProfile, PRACTICAL, Unfit, WHEEL_DEDENDUM, WHEEL_TOOTH, Wheel, practical_addendum,
};
use reckon::Source;
use reckon::maths::{PI, cos, sin, tan};

/// Factors of the wheel's addendum.
pub static ADDENDUM: Source = Source::derived(
    "epicycloids of a circle half as wide as the pinion meet on the axis of a tooth half a pitch wide; \
     agrees with the number rows of BS 978-2",
)
.with_formula("f_a = 0.95 f, f_r = 1.40 f");
/// Sizes of the wheel.
pub static WHEEL: Source = Source::derived("cycloidal wheel: half the pitch wide, half the pitch deep")
    .with_formula("d = m z, d_a = m (z + 2 f_a), d_f = m (z − π)");
/// Sizes of the leaf.
pub static LEAF: Source = Source::memory("BS 978-2, leaf widths and profiles A, B and C")
    .with_formula("d_a = m (z + 2 f_ap), d_f = m (z − 2 (f_a + 0.40))");
/// A chord across a tooth.
pub static CHORD: Source = Source::derived("chord of an arc of the pitch circle")
    .with_formula("s_c = d sin(s/d), h_c = h_a + d/2 (1 − cos(s/d))");
/// Module and diametral pitch.
pub static PITCHES: Source =
    Source::derived("teeth per inch of diameter against millimetres per tooth").with_formula("m = 25.4/P");
/// The space between two teeth, as its cutter sees it.
pub static SPACE: Source = Source::derived("radial flanks and ogive arcs seen from the middle of the space")
    .with_formula("w_f = 2 (R − h_f) sin(ψ/2)");
/// Depth of cut against the blank.
pub static INFEED: Source =
    Source::derived("depth is measured from the axis, not from the blank").with_formula("t = (D − d_f)/2");
/// Recess action.
pub static RECESS: Source = Source::derived("contact lies on the rolling circle")
    .with_formula("cos b = ((R + r)² + r² − R_a²)/(2 r (R + r)), pitches = b r z/(2 π R)");
/// Lantern wheels.
pub static LANTERN: Source = Source::derived(
    "parallel curve to the epicycloid of the pin centres, rolling circle the whole pin circle",
);

/// Sizes of a wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelSizes {
    /// Diameter of the pitch circle.
    pub pitch_diameter: f64,
    /// Diameter over the tips.
    pub outside: f64,
    /// Diameter of the root circle.
    pub root: f64,
    /// Pitch along the pitch circle.
    pub pitch: f64,
    /// Width of a tooth along the pitch circle.
    pub tooth: f64,
    /// Width of a space along the pitch circle.
    pub space: f64,
    /// Height above the pitch circle.
    pub addendum: f64,
    /// Depth below it.
    pub dedendum: f64,
    /// Whole depth of cut.
    pub depth: f64,
    /// Radius of the ogive arcs, for an ogive.
    pub ogive: Option<f64>,
    /// Width across a tooth at the pitch circle, as a caliper sees it.
    pub chord: Chord,
}

/// Sizes of a wheel at a module.
#[must_use]
pub fn wheel_sizes(wheel: &Wheel, module: f64) -> WheelSizes {
    let m = module;
    let diameter = m * f64::from(wheel.teeth());
    let tooth = m * 2.0 * wheel.pitch_half_angle() * wheel.pitch_radius();
    let addendum = m * wheel.addendum();
    WheelSizes {
        pitch_diameter: diameter,
        outside: diameter + 2.0 * addendum,
        root: 2.0 * m * wheel.root_radius(),
        pitch: m * PI,
        tooth,
        space: m * PI - tooth,
        addendum,
        dedendum: m * wheel.dedendum(),
        depth: addendum + m * wheel.dedendum(),
        ogive: wheel.arc().map(|a| m * a.radius),
        chord: chord(diameter, tooth, addendum),
    }
}

/// Sizes of a pinion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinionSizes {
    /// Diameter of the pitch circle.
    pub pitch_diameter: f64,
    /// Diameter over the tips.
    pub outside: f64,
    /// Diameter of the root circle.
    pub root: f64,
    /// Width of a leaf along the pitch circle.
    pub leaf: f64,
    /// Width of a space along the pitch circle.
    pub space: f64,
    /// Height above the pitch circle.
    pub addendum: f64,
    /// Depth below it.
    pub dedendum: f64,
    /// Whole depth of cut.
    pub depth: f64,
    /// Radius of the rounding.
    pub radius: f64,
    /// Width of the leaf at the root circle, along the arc.
    pub foot: f64,
    /// Play at the pitch circle against a wheel with teeth half a pitch wide.
    pub backlash: f64,
    /// Width across a leaf at the pitch circle, as a caliper sees it.
    pub chord: Chord,
}

/// Sizes of a pinion at a module.
#[must_use]
pub fn pinion_sizes(leaf: &Leaf, module: f64) -> PinionSizes {
    let (m, s) = (module, leaf.sizes());
    let diameter = 2.0 * m * leaf.pitch_radius();
    let (addendum, dedendum) = (m * s.addendum, m * (leaf.pitch_radius() - leaf.root_radius()));
    PinionSizes {
        pitch_diameter: diameter,
        outside: diameter + 2.0 * addendum,
        root: diameter - 2.0 * dedendum,
        leaf: m * s.width,
        space: m * (PI - s.width),
        addendum,
        dedendum,
        depth: addendum + dedendum,
        radius: m * leaf.arc().radius,
        foot: m * s.width * leaf.root_radius() / leaf.pitch_radius(),
        backlash: m * (PI - WHEEL_TOOTH - s.width),
        chord: chord(diameter, m * s.width, addendum),
    }
}

/// Distance between the centres of two in mesh.
#[must_use]
pub fn centres(module: f64, wheel: u32, pinion: u32) -> f64 {
    module * (f64::from(wheel) + f64::from(pinion)) / 2.0
}

/// How a caliper sees a tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Straight across at the pitch circle.
    pub width: f64,
    /// From the tip down to that chord.
    pub height: f64,
}

/// Chord across an arc `arc` of a circle, and its depth under a tip `addendum` above the circle.
#[must_use]
pub fn chord(diameter: f64, arc: f64, addendum: f64) -> Chord {
    let half = arc / diameter;
    Chord { width: diameter * sin(half), height: addendum + diameter / 2.0 * (1.0 - cos(half)) }
}

/// Module of a diametral pitch (teeth per inch of diameter), and the other way round.
#[must_use]
pub fn inch_pitch(either: f64) -> f64 {
    25.4 / either
}
/// Module of an old wheel from its outside diameter; its pinion's leaves set the addendum.
///
/// # Errors
/// [`Unfit`] when the counts are too few.
pub fn module_of_wheel(outside: f64, teeth: u32, leaves: u32) -> Result<f64, Unfit> {
    Ok(outside / (f64::from(teeth) + 2.0 * practical_addendum(teeth, leaves)?))
}
/// Module of an old pinion from its outside diameter.
#[must_use]
pub fn module_of_pinion(outside: f64, leaves: u32, profile: LeafProfile) -> f64 {
    outside / (f64::from(leaves) + 2.0 * profile.sizes(leaves).addendum)
}
/// Module of a pair from the distance between its centres.
#[must_use]
pub fn module_of_centres(centres: f64, wheel: u32, pinion: u32) -> f64 {
    2.0 * centres / (f64::from(wheel) + f64::from(pinion))
}

/// What to feed on a blank as it measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Infeed {
    /// From touching the blank to full depth.
    pub infeed: f64,
    /// How far the teeth stay below their true tips, when the blank is small; negative when large.
    pub cropped: f64,
    /// What to expect.
    pub tips: Tips,
}
/// What tips come off a blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tips {
    /// They come to their form at the blank's own size.
    True,
    /// The blank is small: a witness of it stays on every tip.
    Cropped,
    /// The blank is large: the tips come to their height below its surface.
    Below,
    /// The blank is so far off that it should be turned again.
    FarOff,
}
impl Tips {
    /// In words.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Tips::True => "the tips come to form at the blank's own size",
            Tips::Cropped => "blank small: every tip keeps a land and stands low",
            Tips::Below => "blank large: the tips come to their height below its surface",
            Tips::FarOff => "blank more than 0.1 module off: turn another, never set the depth from it",
        }
    }
}
/// Feed from touching a blank of `measured` diameter to the root.
#[must_use]
pub fn infeed(measured: f64, outside: f64, root: f64, module: f64) -> Infeed {
    let cropped = (outside - measured) / 2.0;
    let tips = if (measured - outside).abs() > 0.1 * module {
        Tips::FarOff
    } else if cropped.abs() < 0.0005 {
        Tips::True
    } else if cropped > 0.0 {
        Tips::Cropped
    } else {
        Tips::Below
    };
    Infeed { infeed: (measured - root) / 2.0, cropped, tips }
}

/// What carries the load before the next tooth takes over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carry {
    /// A whole pitch of action lies after the line of centres.
    AllAfter,
    /// A rest must be carried before the line of centres, with engaging friction.
    SomeBefore,
}
impl Carry {
    /// Judges recess action in pitches.
    #[must_use]
    pub fn of(pitches: f64) -> Carry {
        if pitches >= 1.0 { Carry::AllAfter } else { Carry::SomeBefore }
    }
    /// In words.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Carry::AllAfter => "a whole pitch is driven after the line of centres",
            Carry::SomeBefore => "too few leaves to drive a whole pitch after the line of centres",
        }
    }
}

/// Strength of a leaf at its root.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foot {
    /// At least half as wide as at the pitch circle.
    Sound,
    /// Narrower than that.
    Slender,
}
impl Foot {
    /// Judges a leaf. The limit of one half is a house default: 6 and 7 leaves fall below it.
    #[must_use]
    pub fn of(leaf: &Leaf) -> Foot {
        if leaf.root_radius() < 0.5 * leaf.pitch_radius() { Foot::Slender } else { Foot::Sound }
    }
    /// In words.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Foot::Sound => "the leaf's foot is at least half its width",
            Foot::Slender => "slender leaf: its foot is under half its width",
        }
    }
}

/// The space between two teeth as a formed cutter fills it; the middle of the space is the cutter's axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Space {
    /// Straight across at the pitch circle.
    pub width: f64,
    /// Straight across at the root.
    pub root_width: f64,
    /// Straight across at the tips of the teeth: the least width of the tool.
    pub mouth: f64,
    /// Between the two straight flanks.
    pub angle: f64,
    /// From the root chord up to the pitch chord, along the cutter's axis.
    pub straight: f64,
    /// From the root chord up to the tips, along the cutter's axis.
    pub depth: f64,
    /// Hollow cheek, where it is one arc: radius, and its centre from the axis and above the root chord.
    pub cheek: Option<Cheek>,
}
/// A hollow cheek of a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cheek {
    /// Radius of the arc.
    pub radius: f64,
    /// Its centre from the cutter's axis.
    pub aside: f64,
    /// Its centre above the root chord.
    pub above: f64,
}

/// The space of a wheel at a module.
#[must_use]
pub fn wheel_space(wheel: &Wheel, module: f64) -> Space {
    let tip = wheel.half_angle(wheel.tip_radius()).unwrap_or(0.0);
    space(
        module,
        wheel.teeth(),
        [wheel.root_radius(), wheel.pitch_radius(), wheel.tip_radius()],
        [wheel.pitch_half_angle(), tip],
        wheel.arc(),
    )
}
/// The space of a pinion at a module, its root taken straight across.
#[must_use]
pub fn pinion_space(leaf: &Leaf, module: f64) -> Space {
    let radii = [leaf.root_radius(), leaf.pitch_radius(), leaf.tip_radius()];
    space(module, leaf.leaves(), radii, [leaf.pitch_half_angle(), 0.0], Some(leaf.arc()))
}
fn space(
    m: f64,
    teeth: u32,
    [root, pitch, tip]: [f64; 3],
    [half, tip_half]: [f64; 2],
    arc: Option<crate::curve::FlankArc>,
) -> Space {
    let step = PI / f64::from(teeth);
    let (flank, mouth) = (step - half, step - tip_half);
    let floor = root * cos(flank);
    Space {
        width: 2.0 * m * pitch * sin(flank),
        root_width: 2.0 * m * root * sin(flank),
        mouth: 2.0 * m * tip * sin(mouth),
        angle: 2.0 * flank,
        straight: m * (pitch * cos(flank) - floor),
        depth: m * (tip * cos(mouth) - floor),
        cheek: arc.map(|a| Cheek {
            radius: m * a.radius,
            aside: m * a.distance * sin(step + a.past),
            above: m * (a.distance * cos(step + a.past) - floor),
        }),
    }
}
/// How far a cutter made for `cutter` teeth errs sideways at the root of a wheel of `wheel`, in modules:
/// the flanks' angles differ by π/2 (1/z₁ − 1/z₂).
#[must_use]
pub fn borrowed_cutter(cutter: u32, wheel: u32) -> f64 {
    let lean = PI / 2.0 * (1.0 / f64::from(cutter) - 1.0 / f64::from(wheel));
    WHEEL_DEDENDUM * tan(lean)
}

/// Sizes of a lantern and its wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LanternSizes {
    /// The wheel.
    pub wheel: WheelSizes,
    /// Diameter of a pin.
    pub pin: f64,
    /// Circle through the pins' centres.
    pub pin_circle: f64,
    /// Straight from pin to pin.
    pub pin_to_pin: f64,
    /// Least diameter of the end discs: a pin's radius of metal outside the pins.
    pub disc: f64,
}
/// Sizes of a lantern and its wheel, lengths of `pin_radius` and `backlash` in modules.
///
/// # Errors
/// [`Unfit`] when the counts are too few or the pins leave no tooth.
pub fn lantern_sizes(
    module: f64,
    teeth: u32,
    pins: u32,
    pin_radius: f64,
    backlash: f64,
) -> Result<LanternSizes, Unfit> {
    let wheel = Wheel::cut_at(teeth, pins, Form::Lantern { pin_radius, backlash }, PRACTICAL)?;
    let n = f64::from(pins);
    Ok(LanternSizes {
        wheel: wheel_sizes(&wheel, module),
        pin: 2.0 * module * pin_radius,
        pin_circle: module * n,
        pin_to_pin: module * n * sin(PI / n),
        disc: module * (n + 4.0 * pin_radius),
    })
}

#[cfg(test)]
mod tests;
