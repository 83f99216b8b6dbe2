//! Pinion leaves and lantern pins.

use super::{FlankArc, PINION_CLEARANCE, Unfit};
use reckon::maths::acos;

/// Rounding of a leaf above the pitch circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LeafProfile {
    /// Semicircular.
    A,
    /// One-third ogive.
    B,
    /// Two-thirds ogive.
    C,
}

impl LeafProfile {
    /// The usual choice: C for 7 leaves or fewer, B for 8 and 9, A from 10.
    #[must_use]
    pub fn usual(leaves: u32) -> LeafProfile {
        match leaves {
            0..=7 => LeafProfile::C,
            8..=9 => LeafProfile::B,
            _ => LeafProfile::A,
        }
    }
    /// Width, addendum and addendum radius in modules, by number of leaves.
    #[must_use]
    pub fn sizes(self, leaves: u32) -> LeafSizes {
        let (width, addendum, radius) = match (leaves <= 10, self) {
            (true, LeafProfile::A) => (1.05, 0.525, 0.525),
            (true, LeafProfile::B) => (1.05, 0.670, 0.700),
            (true, LeafProfile::C) => (1.05, 0.855, 1.050),
            (false, LeafProfile::A) => (1.25, 0.625, 0.625),
            (false, LeafProfile::B) => (1.25, 0.805, 0.833),
            (false, LeafProfile::C) => (1.25, 1.050, 1.250),
        };
        LeafSizes { width, addendum, radius }
    }
}

/// Sizes of a leaf in modules.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeafSizes {
    /// Width on the pitch circle, along the arc.
    pub width: f64,
    /// Height above the pitch circle.
    pub addendum: f64,
    /// Radius of each side of the rounding.
    pub radius: f64,
}

/// A pinion's leaf: radial flanks and a rounded top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    leaves: u32,
    profile: LeafProfile,
    sizes: LeafSizes,
    pitch: f64,
    root: f64,
    arc: FlankArc,
}

impl Leaf {
    /// The leaf of a pinion whose wheel's teeth stand `mate_addendum` above their pitch circle.
    ///
    /// # Errors
    /// [`Unfit`] when the counts are too few, or the wheel's teeth would reach the pinion's middle.
    pub fn new(leaves: u32, profile: LeafProfile, mate_addendum: f64) -> Result<Leaf, Unfit> {
        if leaves < 3 {
            return Err(Unfit::Few { teeth: leaves, least: 3 });
        }
        if !(mate_addendum > 0.0 && mate_addendum.is_finite()) {
            return Err(Unfit::Size);
        }
        let pitch = f64::from(leaves) / 2.0;
        let root = pitch - mate_addendum - PINION_CLEARANCE;
        if root <= 0.0 {
            return Err(Unfit::NoCore { root });
        }
        let sizes = profile.sizes(leaves);
        let half = sizes.width / 2.0 / pitch;
        let arc = FlankArc::through(pitch, half, pitch + sizes.addendum, sizes.radius);
        Ok(Leaf { leaves, profile, sizes, pitch, root, arc })
    }
    /// Number of leaves.
    #[must_use]
    pub fn leaves(&self) -> u32 {
        self.leaves
    }
    /// Its rounding.
    #[must_use]
    pub fn profile(&self) -> LeafProfile {
        self.profile
    }
    /// Width, addendum and addendum radius.
    #[must_use]
    pub fn sizes(&self) -> LeafSizes {
        self.sizes
    }
    /// Pitch radius, z/2.
    #[must_use]
    pub fn pitch_radius(&self) -> f64 {
        self.pitch
    }
    /// Half-angle at the pitch circle and below it.
    #[must_use]
    pub fn pitch_half_angle(&self) -> f64 {
        self.sizes.width / 2.0 / self.pitch
    }
    /// Radius of the tip.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        self.pitch + self.sizes.addendum
    }
    /// Radius of the root circle.
    #[must_use]
    pub fn root_radius(&self) -> f64 {
        self.root
    }
    /// The arc of the rounding.
    #[must_use]
    pub fn arc(&self) -> FlankArc {
        self.arc
    }
    /// Half-angle of the leaf at a distance from the pinion's centre; `None` below the root and above
    /// the tip. Root fillets are left out.
    #[must_use]
    pub fn half_angle(&self, rho: f64) -> Option<f64> {
        let slack = 1e-12 * self.pitch;
        if rho < self.root - slack || rho > self.tip_radius() + slack {
            return None;
        }
        if rho <= self.pitch {
            return Some(self.pitch_half_angle());
        }
        self.arc.half_angle(rho).map(|h| h.max(0.0))
    }
}

/// A lantern pinion's pins, on its pitch circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lantern {
    pins: u32,
    pin_radius: f64,
}

impl Lantern {
    /// A lantern of `pins` round pins of a radius in modules.
    ///
    /// # Errors
    /// [`Unfit`] when the pins are too few, or would touch each other.
    pub fn new(pins: u32, pin_radius: f64) -> Result<Lantern, Unfit> {
        if pins < 3 {
            return Err(Unfit::Few { teeth: pins, least: 3 });
        }
        let n = f64::from(pins);
        let below = n / 2.0 * reckon::maths::sin(reckon::maths::PI / n);
        if !(pin_radius > 0.0 && pin_radius.is_finite()) {
            return Err(Unfit::Size);
        }
        if pin_radius >= below {
            return Err(Unfit::Pins { pin_radius, below });
        }
        Ok(Lantern { pins, pin_radius })
    }
    /// Number of pins.
    #[must_use]
    pub fn pins(&self) -> u32 {
        self.pins
    }
    /// Radius of a pin.
    #[must_use]
    pub fn pin_radius(&self) -> f64 {
        self.pin_radius
    }
    /// Pitch radius, z/2: the circle of the pins' centres.
    #[must_use]
    pub fn pitch_radius(&self) -> f64 {
        f64::from(self.pins) / 2.0
    }
    /// Outer edge of the pins.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        self.pitch_radius() + self.pin_radius
    }
    /// Inner edge of the pins.
    #[must_use]
    pub fn root_radius(&self) -> f64 {
        self.pitch_radius() - self.pin_radius
    }
    /// Half-angle of a pin at the pitch circle.
    #[must_use]
    pub fn pitch_half_angle(&self) -> f64 {
        self.half_angle(self.pitch_radius()).unwrap_or(0.0)
    }
    /// Half-angle of a pin at a distance from the pinion's centre, where the pin reaches.
    ///
    /// # Formula
    /// acos((ρ² + R² − s²) / (2 ρ R)).
    #[must_use]
    pub fn half_angle(&self, rho: f64) -> Option<f64> {
        let (big, s) = (self.pitch_radius(), self.pin_radius);
        let c = (rho * rho + big * big - s * s) / (2.0 * rho * big);
        (rho > 0.0 && (rho - big).abs() <= s * (1.0 + 1e-12)).then(|| acos(c.clamp(-1.0, 1.0)))
    }
}
