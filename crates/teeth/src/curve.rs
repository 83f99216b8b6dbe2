//! The flanks of wheel teeth and pinion leaves, for one module.
//!
//! Every length here is in modules, every angle in radians; multiply lengths by the module for
//! millimetres. A flank is told in polar form about the centre of its own wheel: the distance from
//! the centre, and the half-angle from the axis of the tooth (or leaf, or pin) to the flank.
//!
//! # Formula
//! A circle of radius r rolls on the wheel's pitch circle of radius R. After the contact has moved by
//! t, with b = R t / r, the traced point lies at
//! ρ² = (R + r)² + r² − 2 r (R + r) cos b and ψ = t − atan2(r sin b, R + r − r cos b).
//! With r half the pinion's pitch radius the mating flank is a radius: the form of clock work.

use reckon::maths::{PI, acos, atan2, cos, hypot, sin};

mod leaf;
mod roll;

pub use leaf::{Lantern, Leaf, LeafProfile, LeafSizes};
pub(crate) use roll::Roll;

/// Depth of a wheel's tooth below the pitch circle: half the pitch, π/2.
pub const WHEEL_DEDENDUM: f64 = PI / 2.0;
/// Width of a wheel's tooth on the pitch circle, along the arc: half the pitch, π/2.
pub const WHEEL_TOOTH: f64 = PI / 2.0;
/// Share of the theoretical addendum that is cut.
pub const PRACTICAL: f64 = 0.95;
/// Radius of the ogive as a multiple of the theoretical addendum.
pub const OGIVE: f64 = 1.40;
/// Room between the tip of a wheel's tooth and the bottom of the pinion's space.
pub const PINION_CLEARANCE: f64 = 0.40;
/// Room between a lantern's pin and the bottom of the wheel's space.
pub const LANTERN_CLEARANCE: f64 = 0.20;

/// Why there is no such form.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unfit {
    /// Fewer teeth, leaves or pins than can be drawn.
    Few {
        /// As asked.
        teeth: u32,
        /// The least that works.
        least: u32,
    },
    /// The pins fill the pitch: no room is left for a tooth between them.
    Pins {
        /// Radius of a pin.
        pin_radius: f64,
        /// It must stay below this.
        below: f64,
    },
    /// The wheel's teeth reach to the middle of the pinion.
    NoCore {
        /// Radius at which the root would lie.
        root: f64,
    },
    /// A size that must be positive and finite is not.
    Size,
}

impl std::fmt::Display for Unfit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Unfit::Few { teeth, least } => write!(f, "{teeth} teeth are too few: at least {least}"),
            Unfit::Pins { pin_radius, below } => {
                write!(
                    f,
                    "pins of radius {pin_radius:.3} m leave no tooth between them: keep below {below:.3} m"
                )
            }
            Unfit::NoCore { root } => {
                write!(f, "the spaces reach the middle of the pinion (root radius {root:.3} m)")
            }
            Unfit::Size => write!(f, "a size is not positive"),
        }
    }
}

impl std::error::Error for Unfit {}

/// Form of a wheel's tooth above the pitch circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// One arc a side, radius 1.40 times the theoretical addendum, meeting in a point.
    Ogive,
    /// One arc a side through the same two points, its radius as near the epicycloid as one arc comes.
    CloserOgive,
    /// The true epicycloid for radial leaves, cut off at 0.95 of its height.
    Epicycloid,
    /// Parallel to the epicycloid of a lantern's pin centres, cut off at 0.95 of its height.
    Lantern {
        /// Radius of a pin.
        pin_radius: f64,
        /// Play along the pitch circle.
        backlash: f64,
    },
}

/// An arc of a flank, told about the axis of its tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlankArc {
    /// Distance of the arc's centre from the wheel's centre.
    pub distance: f64,
    /// Angle of the arc's centre beyond the axis, seen from the flank (positive on the far side).
    pub past: f64,
    /// Radius of the arc.
    pub radius: f64,
}

impl FlankArc {
    /// The arc from the flank's point at pitch radius `pitch` and half-angle `half` to the point `tip` on
    /// the axis, bulging outward. A radius under half the chord is taken as half the chord.
    #[must_use]
    pub fn through(pitch: f64, half: f64, tip: f64, radius: f64) -> FlankArc {
        let (px, py) = (pitch * cos(half), pitch * sin(half));
        let (dx, dy) = (tip - px, -py);
        let chord = hypot(dx, dy);
        let radius = radius.max(chord / 2.0);
        let high = (radius * radius - chord * chord / 4.0).max(0.0).sqrt();
        // To the right of travel from flank to tip lies the tooth.
        let (cx, cy) = ((px + tip) / 2.0 + dy / chord * high, py / 2.0 - dx / chord * high);
        FlankArc { distance: hypot(cx, cy), past: -atan2(cy, cx), radius }
    }
    /// Half-angle of the arc at a distance from the wheel's centre, where it reaches.
    #[must_use]
    pub fn half_angle(&self, rho: f64) -> Option<f64> {
        let c = (rho * rho + self.distance * self.distance - self.radius * self.radius)
            / (2.0 * rho * self.distance);
        (c.abs() <= 1.0).then(|| acos(c) - self.past)
    }
    /// How far a point (polar, about the tooth's axis) lies outside the arc.
    #[must_use]
    pub fn outside(&self, rho: f64, half: f64) -> f64 {
        hypot(
            rho * cos(half) - self.distance * cos(self.past),
            rho * sin(half) + self.distance * sin(self.past),
        ) - self.radius
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Above {
    Arc(FlankArc),
    Rolled,
    Parallel { from: f64, to: f64 },
}

/// A wheel's tooth, the driver of a pinion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    teeth: u32,
    mate: u32,
    form: Form,
    roll: Roll,
    theoretical: f64,
    cut: f64,
    above: Above,
}

impl Wheel {
    /// The tooth of a wheel of `teeth` that drives a pinion of `mate` leaves or pins.
    ///
    /// # Errors
    /// [`Unfit`] when no such tooth can be drawn.
    pub fn new(teeth: u32, mate: u32, form: Form) -> Result<Wheel, Unfit> {
        Wheel::cut_at(teeth, mate, form, PRACTICAL)
    }
    /// The same, with another share of the theoretical addendum left standing (0 … 1]. The ogives pass
    /// through the tip that this gives.
    ///
    /// # Errors
    /// [`Unfit`] when no such tooth can be drawn.
    pub fn cut_at(teeth: u32, mate: u32, form: Form, cut: f64) -> Result<Wheel, Unfit> {
        let roll = match form {
            Form::Lantern { pin_radius, backlash } => Roll::lantern(teeth, mate, pin_radius, backlash)?,
            _ => Roll::leaves(teeth, mate)?,
        };
        if !(cut > 0.0 && cut <= 1.0) {
            return Err(Unfit::Size);
        }
        let theoretical = roll.theoretical_addendum();
        let tip = roll.pitch + cut * theoretical;
        let arc = |radius| FlankArc::through(roll.pitch, roll.half, tip, radius);
        let above = match form {
            Form::Ogive => Above::Arc(arc(OGIVE * theoretical)),
            Form::CloserOgive => Above::Arc(roll.closest_arc(cut * theoretical).0),
            Form::Epicycloid => Above::Rolled,
            Form::Lantern { .. } => {
                let from = roll.first_clear();
                Above::Parallel { from, to: roll.turn_at(tip).max(from) }
            }
        };
        Ok(Wheel { teeth, mate, form, roll, theoretical, cut, above })
    }
    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        self.teeth
    }
    /// Leaves or pins of the pinion it drives.
    #[must_use]
    pub fn mate(&self) -> u32 {
        self.mate
    }
    /// Its form.
    #[must_use]
    pub fn form(&self) -> Form {
        self.form
    }
    /// Pitch radius, z/2.
    #[must_use]
    pub fn pitch_radius(&self) -> f64 {
        self.roll.pitch
    }
    /// Half-angle of the tooth at the pitch circle.
    #[must_use]
    pub fn pitch_half_angle(&self) -> f64 {
        self.roll.half
    }
    /// Height above the pitch circle at which the two flanks meet.
    #[must_use]
    pub fn theoretical_addendum(&self) -> f64 {
        self.theoretical
    }
    /// Height of the tooth as cut.
    #[must_use]
    pub fn addendum(&self) -> f64 {
        self.cut * self.theoretical
    }
    /// Depth below the pitch circle.
    #[must_use]
    pub fn dedendum(&self) -> f64 {
        match self.form {
            Form::Lantern { pin_radius, .. } => pin_radius + LANTERN_CLEARANCE,
            _ => WHEEL_DEDENDUM,
        }
    }
    /// Radius of the tip.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        self.roll.pitch + self.addendum()
    }
    /// Radius of the root circle.
    #[must_use]
    pub fn root_radius(&self) -> f64 {
        self.roll.pitch - self.dedendum()
    }
    /// The arc of an ogive.
    #[must_use]
    pub fn arc(&self) -> Option<FlankArc> {
        match self.above {
            Above::Arc(a) => Some(a),
            _ => None,
        }
    }
    /// Half-angle of the tooth at a distance from the wheel's centre; `None` below the root and above
    /// the tip.
    #[must_use]
    pub fn half_angle(&self, rho: f64) -> Option<f64> {
        let slack = 1e-12 * self.roll.pitch;
        if rho < self.root_radius() - slack || rho > self.tip_radius() + slack {
            return None;
        }
        if rho <= self.radial_to() {
            return Some(self.roll.half);
        }
        match self.above {
            Above::Arc(a) => a.half_angle(rho).map(|h| h.max(0.0)),
            Above::Rolled => Some(self.roll.at(self.roll.turn_of(rho)).1.max(0.0)),
            Above::Parallel { from, to } => {
                let (first, last) = (self.roll.at(from).0, self.roll.at(to).0);
                if rho <= first {
                    return Some(self.roll.beside_pin(rho));
                }
                if rho >= last {
                    return Some(self.roll.at(to).1.max(0.0));
                }
                Some(self.roll.at(self.roll.turn_between(from, to, rho)).1.max(0.0))
            }
        }
    }
    /// Radius at which the straight part of the flank ends: the pitch circle, or for a lantern's wheel
    /// where the parallel curve begins, a hair beside it.
    #[must_use]
    pub fn radial_to(&self) -> f64 {
        match self.above {
            Above::Parallel { from, .. } => self.roll.pitch.min(self.roll.at(from).0),
            _ => self.roll.pitch,
        }
    }
    /// `n` points of the flank (at least 4), from root to tip: distance from the centre and half-angle.
    /// Half of them lie below the pitch circle.
    #[must_use]
    pub fn flank(&self, n: usize) -> Vec<(f64, f64)> {
        let n = n.max(4);
        let below = n / 2;
        let root = self.root_radius();
        let pitch = self.radial_to();
        let mut out: Vec<(f64, f64)> =
            (0..below).map(|i| (root + (pitch - root) * share(i, below), self.roll.half)).collect();
        let above = n - below;
        out.extend((0..above).map(|i| self.rise(share(i, above - 1))));
        out
    }
    /// A point of the curved flank: distance from the centre and half-angle, `u` running from 0 where the
    /// straight flank ends to 1 at the tip.
    #[must_use]
    pub fn rise(&self, u: f64) -> (f64, f64) {
        let (low, tip) = (self.radial_to(), self.tip_radius());
        match self.above {
            Above::Parallel { from, to } => {
                // A lantern's wheel may follow the pin itself before the parallel curve begins.
                let first = self.roll.at(from).0;
                let along_pin = if first > low { 0.125 } else { 0.0 };
                if u < along_pin {
                    let rho = low + (first - low) * u / along_pin;
                    return (rho, self.roll.beside_pin(rho));
                }
                self.roll.at(from + (to - from) * (u - along_pin) / (1.0 - along_pin))
            }
            Above::Rolled => self.roll.at(self.roll.turn_of(tip) * u),
            Above::Arc(a) => {
                // Even steps of the angle about the arc's centre.
                let (cx, cy) = (a.distance * cos(a.past), -a.distance * sin(a.past));
                let polar = |rho: f64, half: f64| atan2(rho * sin(half) - cy, rho * cos(half) - cx);
                let (b0, b1) = (polar(low, self.roll.half), polar(tip, 0.0));
                let b = b0 + (b1 - b0) * u;
                let (x, y) = (cx + a.radius * cos(b), cy + a.radius * sin(b));
                (hypot(x, y), atan2(y, x))
            }
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "numbers of points stay far below 2^52")]
fn share(i: usize, n: usize) -> f64 {
    i as f64 / n.max(1) as f64
}

/// Theoretical addendum of a wheel of `teeth` for radial leaves: where the two epicycloids meet.
///
/// # Formula
/// ψ(t) = π/(2 z), rolling radius a quarter of the leaves; f = ρ(t) − z/2.
///
/// # Errors
/// [`Unfit`] when the counts are too few.
pub fn theoretical_addendum(teeth: u32, leaves: u32) -> Result<f64, Unfit> {
    Ok(Roll::leaves(teeth, leaves)?.theoretical_addendum())
}
/// Addendum as cut: 0.95 of the theoretical.
///
/// # Errors
/// [`Unfit`] when the counts are too few.
pub fn practical_addendum(teeth: u32, leaves: u32) -> Result<f64, Unfit> {
    Ok(PRACTICAL * theoretical_addendum(teeth, leaves)?)
}
/// Radius of the ogive: 1.40 times the theoretical addendum.
///
/// # Errors
/// [`Unfit`] when the counts are too few.
pub fn ogive_radius(teeth: u32, leaves: u32) -> Result<f64, Unfit> {
    Ok(OGIVE * theoretical_addendum(teeth, leaves)?)
}
/// Radius of the single arc nearest the epicycloid, and the widest gap it leaves.
///
/// # Errors
/// [`Unfit`] when the counts are too few.
pub fn closer_ogive(teeth: u32, leaves: u32) -> Result<(f64, f64), Unfit> {
    let roll = Roll::leaves(teeth, leaves)?;
    let (arc, gap) = roll.closest_arc(PRACTICAL * roll.theoretical_addendum());
    Ok((arc.radius, gap))
}

/// How long a tooth drives after the line of centres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recess {
    /// In pitches; under 1 the next pair must begin before the line of centres.
    pub pitches: f64,
    /// Turn of the wheel, radians.
    pub turn: f64,
}

/// Recess action of a true flank cut at a share of its theoretical addendum.
///
/// # Formula
/// cos b = ((R + r)² + r² − (R + cut f)²) / (2 r (R + r)); turn = b r / R; pitches = turn z / 2π. For a
/// lantern the turn is that at which the parallel curve reaches the tip.
///
/// # Errors
/// [`Unfit`] when the form cannot be drawn.
pub fn recess(teeth: u32, mate: u32, form: Form, cut: f64) -> Result<Recess, Unfit> {
    let w = Wheel::cut_at(teeth, mate, form, cut)?;
    let tip = w.tip_radius();
    let turn = match form {
        Form::Lantern { .. } => w.roll.turn_at(tip),
        _ => w.roll.turn_of(tip),
    };
    Ok(Recess { pitches: turn * f64::from(teeth) / (2.0 * PI), turn })
}
/// Turn of the wheel past the line of centres at which a lantern's pin first bears well, radians.
///
/// # Formula
/// t = (2 r / R) asin(s (R + 2 r) / (4 r (R + r))), where the epicycloid is as round as the pin.
///
/// # Errors
/// [`Unfit`] when there is no room for the pins.
pub fn lantern_start(teeth: u32, pins: u32, pin_radius: f64) -> Result<f64, Unfit> {
    Ok(Roll::lantern(teeth, pins, pin_radius, 0.0)?.first_good())
}

#[cfg(test)]
mod tests;
