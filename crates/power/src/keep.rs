//! What keeps: maintaining power while winding, the ratchet and its click, the winding square.
//!
//! Angles in radians; other units must belong together (N, mm, N/mm²). Outlines in millimetres.

use kurbo::Point;
use reckon::{Source, maths};
use shape::profile::Profile;

/// Maintaining power.
pub static TURN: Source =
    Source::derived("turning of the great wheel while it is wound, and one tooth of the ratchet")
        .with_formula("turn = 360° t/(period) + 360°/z");
/// Share of the working torque.
pub static SHARE: Source = Source::practice(
    "maintaining spring 0.80 to 0.95 of the working torque, 0.85; deflects twice the turn needed",
);
/// Bow springs.
pub static BOW: Source = Source::derived("bending energy of a thin round bow pulled across its ends")
    .with_formula("semicircle K = 2 E I/(π R³); quarter K = 4 E I/(π R³)");
/// The click.
pub static CLICK: Source = Source::derived("line of force of a tooth's face against the click's pivot")
    .with_formula("draw = elevation of the click + undercut of the tooth, against arctan μ");
/// The square.
pub static SQUARE: Source =
    Source::derived("square bar in torsion (memory: 0.208) and a key that bears on half of each face")
        .with_formula("τ = T/(0.208 s³); p = 3 T/(l s²)");

/// Share of the working torque that a maintaining spring should carry.
pub const SHARES: (f64, f64, f64) = (0.80, 0.85, 0.95);
/// Turn of the great wheel that the maintaining spring must give.
#[must_use]
pub fn needed_turn(winding: f64, period: f64, ratchet_teeth: Option<f64>) -> f64 {
    let tooth = ratchet_teeth.map_or(0.0, |z| 1.0 / z);
    2.0 * maths::PI * (winding / period + tooth)
}
/// Stiffness of the spring at its lever, for a torque and a turn there.
#[must_use]
pub fn stiffness_needed(torque: f64, arm: f64, turn: f64) -> f64 {
    torque / (arm * arm * turn)
}
/// How much of a circle a bow is.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Bow {
    /// Half a circle.
    Semicircle,
    /// A quarter.
    Quarter,
}
/// Words for them.
pub const BOWS: [(&str, Bow); 2] = [("semicircle", Bow::Semicircle), ("quarter", Bow::Quarter)];
impl Bow {
    const fn factor(self) -> f64 {
        match self {
            Bow::Semicircle => 2.0,
            Bow::Quarter => 4.0,
        }
    }
    /// Stiffness across its ends.
    #[must_use]
    pub fn stiffness(self, modulus: f64, width: f64, thickness: f64, radius: f64) -> f64 {
        let i = width * thickness * thickness * thickness / 12.0;
        self.factor() * modulus * i / (maths::PI * radius * radius * radius)
    }
    /// Thickness that gives a stiffness.
    #[must_use]
    pub fn thickness(self, modulus: f64, width: f64, radius: f64, stiffness: f64) -> f64 {
        maths::cbrt(
            12.0 * maths::PI * radius * radius * radius * stiffness / (self.factor() * modulus * width),
        )
    }
    /// Greatest bending stress under a load across its ends: half a circle bends most at its middle,
    /// a quarter at the end that is held.
    #[must_use]
    pub fn stress(self, load: f64, width: f64, thickness: f64, radius: f64) -> f64 {
        6.0 * load * radius / (width * thickness * thickness)
    }
}
/// How a click behaves under load.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Hold {
    /// The tooth throws it out.
    ThrownOut,
    /// Only friction keeps it in.
    ByFriction,
    /// The tooth draws it in, against friction too.
    DrawnIn,
}
impl Hold {
    /// In words.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Hold::ThrownOut => "the tooth throws the click out: it does not hold",
            Hold::ByFriction => "only friction keeps the click in: give it more draw",
            Hold::DrawnIn => "the tooth draws the click in",
        }
    }
}
/// A click in compression on a ratchet wheel.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Click {
    /// From the wheel's axis to where tooth and click meet.
    pub contact: f64,
    /// From there to the click's pivot.
    pub length: f64,
    /// From the wheel's axis to the click's pivot.
    pub pivot: f64,
    /// By how much the face of the tooth leans forward of the radius, radians.
    pub undercut: f64,
}
impl Click {
    /// Angle by which the click's pivot stands outside the tangent at the contact; `None` when the three
    /// distances make no triangle.
    #[must_use]
    pub fn elevation(self) -> Option<f64> {
        let (r, l, c) = (self.contact, self.length, self.pivot);
        let s = (c * c - r * r - l * l) / (2.0 * r * l);
        (s.abs() <= 1.0).then(|| maths::asin(s))
    }
    /// Angle between the click and the line of force, positive where it is drawn in.
    #[must_use]
    pub fn draw(self) -> Option<f64> {
        self.elevation().map(|e| e + self.undercut)
    }
    /// Whether it holds with a friction.
    #[must_use]
    pub fn holds(self, friction: f64) -> Option<Hold> {
        let needed = maths::atan(friction);
        self.draw().map(|d| {
            if d >= needed {
                Hold::DrawnIn
            } else if d > -needed {
                Hold::ByFriction
            } else {
                Hold::ThrownOut
            }
        })
    }
}
/// Distance of the click's pivot that puts the click along the tangent: a right angle at the contact.
#[must_use]
pub fn tangent_pivot(contact: f64, length: f64) -> f64 {
    maths::hypot(contact, length)
}
/// Depth of a ratchet tooth whose back makes an angle with its face at the tip.
#[must_use]
pub fn ratchet_depth(radius: f64, teeth: f64, tip_angle: f64, undercut: f64) -> f64 {
    // Face and back of neighbours meet at the root; worked as a triangle with the tip chord as base.
    let step = 2.0 * maths::PI / teeth;
    let chord = 2.0 * radius * maths::sin(step / 2.0);
    let at_face = maths::PI / 2.0 - step / 2.0 - undercut;
    let at_back = maths::PI - at_face - tip_angle;
    let face = chord * maths::sin(at_back) / maths::sin(tip_angle);
    let (x, y) = (radius - face * maths::cos(undercut), face * maths::sin(undercut));
    radius - maths::hypot(x, y)
}
/// Outline of a ratchet wheel, counter-clockwise, its axis at the origin; the faces look counter-clockwise.
///
/// `None` unless there are at least six teeth and the depth leaves half the radius.
#[must_use]
pub fn ratchet(radius: f64, teeth: u32, depth: f64, undercut: f64) -> Option<Profile> {
    let root = radius - depth;
    let sound = teeth >= 6 && depth > 0.0 && root >= radius / 2.0 && (0.0..0.6).contains(&undercut);
    if !sound {
        return None;
    }
    // The face runs from the tip inward, leaning back under it, to the root circle.
    let lean = maths::sin(undercut);
    let face = radius * maths::cos(undercut) - maths::sqrt(root * root - radius * radius * lean * lean);
    if !face.is_finite() {
        return None;
    }
    let step = 2.0 * maths::PI / f64::from(teeth);
    let (x, y) = (radius - face * maths::cos(undercut), -face * lean);
    let behind = maths::atan2(y, x);
    if -behind >= step * 0.5 {
        return None;
    }
    let on = |r: f64, a: f64| Point::new(r * maths::cos(a), r * maths::sin(a));
    let first = on(root, behind);
    let mut outline = Profile::start(radius, 0.0).line(first.x, first.y);
    // Going round clockwise keeps each tooth whole: its face, then its back up to the next tip.
    for i in 1..teeth {
        let a = -step * f64::from(i);
        let (tip, foot) = (on(radius, a), on(root, a + behind));
        outline = outline.line(tip.x, tip.y).line(foot.x, foot.y);
    }
    Some(outline.close().reversed())
}
/// A winding square.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Square {
    /// Across the flats.
    pub across: f64,
    /// Length that the key covers.
    pub length: f64,
}
impl Square {
    /// Greatest shear in torsion.
    #[must_use]
    pub fn shear(self, torque: f64) -> f64 {
        torque / (0.208 * self.across * self.across * self.across)
    }
    /// Greatest pressure of the key on the flats.
    #[must_use]
    pub fn pressure(self, torque: f64) -> f64 {
        3.0 * torque / (self.length * self.across * self.across)
    }
    /// Least size across flats for a torque, by shear and by pressure, whichever is larger.
    #[must_use]
    pub fn least_across(torque: f64, length: f64, shear: f64, pressure: f64) -> f64 {
        let by_shear = maths::cbrt(torque / (0.208 * shear));
        let by_pressure = maths::sqrt(3.0 * torque / (length * pressure));
        by_shear.max(by_pressure)
    }
    /// Round bar whose square has full corners.
    #[must_use]
    pub fn full_corner_bar(self) -> f64 {
        self.across * maths::sqrt(2.0)
    }
    /// Depth to file each flat on a bar.
    #[must_use]
    pub fn flat_depth(self, bar: f64) -> f64 {
        (bar - self.across) / 2.0
    }
    /// Hole of the key, across flats.
    #[must_use]
    pub fn key(self, clearance: f64) -> f64 {
        self.across + clearance
    }
}
/// How a drive keeps going while it is wound.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Drive {
    /// A weight on a drum.
    Weight,
    /// A fusee.
    Fusee,
    /// A going barrel, wound at its arbor: the train is driven all the time.
    GoingBarrel,
}
/// Words for them.
pub const DRIVES: [(&str, Drive); 3] =
    [("weight", Drive::Weight), ("fusee", Drive::Fusee), ("going barrel", Drive::GoingBarrel)];
impl Drive {
    /// Whether the train loses its torque while it is wound.
    #[must_use]
    pub const fn needs_maintaining(self) -> bool {
        !matches!(self, Drive::GoingBarrel)
    }
}
