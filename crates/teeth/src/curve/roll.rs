//! The rolled curve under a flank.

use super::{FlankArc, Unfit, WHEEL_TOOTH};
use reckon::maths::{PI, acos, asin, atan2, cos, hypot, sin};

/// Steps of a bisection that exhausts the digits of an `f64`.
const STEPS: u32 = 100;

/// A circle rolling on the pitch circle, and the flank it traces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Roll {
    /// Pitch radius of the wheel.
    pub pitch: f64,
    /// Radius of the rolling circle.
    pub radius: f64,
    /// Half-angle of the tooth at the pitch circle.
    pub half: f64,
    /// Distance of the parallel curve: a lantern's pin radius, else 0.
    pub aside: f64,
    /// Half-angle at which the traced point leaves the pitch circle.
    cusp: f64,
}

impl Roll {
    /// For radial leaves.
    pub fn leaves(teeth: u32, leaves: u32) -> Result<Roll, Unfit> {
        enough(teeth, 4)?;
        enough(leaves, 3)?;
        let pitch = f64::from(teeth) / 2.0;
        let half = WHEEL_TOOTH / 2.0 / pitch;
        Ok(Roll { pitch, radius: f64::from(leaves) / 4.0, half, aside: 0.0, cusp: half })
    }
    /// For round pins.
    pub fn lantern(teeth: u32, pins: u32, pin_radius: f64, backlash: f64) -> Result<Roll, Unfit> {
        enough(teeth, 4)?;
        enough(pins, 3)?;
        if !(pin_radius > 0.0 && pin_radius.is_finite() && backlash >= 0.0 && backlash.is_finite()) {
            return Err(Unfit::Size);
        }
        let pitch = f64::from(teeth) / 2.0;
        let width = PI - 2.0 * pin_radius - backlash;
        // A tooth thinner than a fifth of the pitch has no tip to speak of.
        if width < PI / 5.0 {
            return Err(Unfit::Pins { pin_radius, below: (0.8 * PI - backlash) / 2.0 });
        }
        let half = width / 2.0 / pitch;
        Ok(Roll {
            pitch,
            radius: f64::from(pins) / 2.0,
            half,
            aside: pin_radius,
            cusp: half + pin_radius / pitch,
        })
    }
    /// The traced point after the contact moved by `t`: distance and angle moved.
    fn traced(&self, t: f64) -> (f64, f64) {
        let (big, r) = (self.pitch, self.radius);
        let b = big * t / r;
        let (x, y) = (big + r - r * cos(b), r * sin(b));
        (hypot(x, y), t - atan2(y, x))
    }
    /// The flank's point after the contact moved by `t`: distance and half-angle.
    pub fn at(&self, t: f64) -> (f64, f64) {
        let (rho, psi) = self.traced(t);
        if self.aside == 0.0 {
            return (rho, self.cusp - psi);
        }
        // About the traced point's starting radius: contact at angle t, traced point at psi.
        let (cx, cy) = (rho * cos(psi), rho * sin(psi));
        let (ix, iy) = (self.pitch * cos(t), self.pitch * sin(t));
        let (dx, dy) = (ix - cx, iy - cy);
        let long = hypot(dx, dy);
        let (ux, uy) = if long < 1e-12 { (0.0, 1.0) } else { (dx / long, dy / long) };
        let (x, y) = (cx + self.aside * ux, cy + self.aside * uy);
        (hypot(x, y), self.cusp - atan2(y, x))
    }
    /// Half-angle on the pin that stands at the pitch circle.
    pub fn beside_pin(&self, rho: f64) -> f64 {
        let c = (rho * rho + self.pitch * self.pitch - self.aside * self.aside) / (2.0 * rho * self.pitch);
        self.cusp - acos(c.clamp(-1.0, 1.0))
    }
    /// Contact's turn at which the traced point stands at a distance (no parallel).
    pub fn turn_of(&self, rho: f64) -> f64 {
        let (big, r) = (self.pitch, self.radius);
        // 1 − cos b keeps its digits near the pitch circle.
        let versed = (rho - big) * (rho + big) / (4.0 * r * (big + r));
        2.0 * asin(versed.clamp(0.0, 1.0).sqrt()) * r / big
    }
    /// Most that the contact turns before the traced point falls again.
    fn longest(&self) -> f64 {
        PI * self.radius / self.pitch
    }
    /// Turn between two at which the flank stands at a distance; distance grows with the turn.
    pub fn turn_between(&self, from: f64, to: f64, rho: f64) -> f64 {
        let (mut low, mut high) = (from, to);
        for _ in 0..STEPS {
            let mid = f64::midpoint(low, high);
            if self.at(mid).0 < rho { low = mid } else { high = mid }
        }
        f64::midpoint(low, high)
    }
    /// Turn at which the flank, parallel or not, reaches a distance.
    pub fn turn_at(&self, rho: f64) -> f64 {
        if self.aside == 0.0 {
            self.turn_of(rho)
        } else {
            self.turn_between(self.first_good(), self.meeting(), rho)
        }
    }
    /// Turn from which the parallel curve runs forward.
    pub fn first_good(&self) -> f64 {
        let (big, r) = (self.pitch, self.radius);
        2.0 * r / big * asin((self.aside * (big + 2.0 * r) / (4.0 * r * (big + r))).min(1.0))
    }
    /// Turn from which the parallel curve is clear of the pin standing at the pitch circle.
    pub fn first_clear(&self) -> f64 {
        let clear = |t: f64| {
            let (rho, half) = self.at(t);
            let a = self.cusp - half;
            hypot(rho * cos(a) - self.pitch, rho * sin(a)) >= self.aside
        };
        let (mut low, mut high) = (self.first_good(), self.meeting());
        if clear(low) {
            return low;
        }
        for _ in 0..STEPS {
            let mid = f64::midpoint(low, high);
            if clear(mid) { high = mid } else { low = mid }
        }
        high
    }
    /// Turn at which the two flanks of the tooth meet on its axis.
    pub fn meeting(&self) -> f64 {
        let (mut low, mut high) = (self.first_good(), self.longest());
        for _ in 0..STEPS {
            let mid = f64::midpoint(low, high);
            if self.at(mid).1 > 0.0 { low = mid } else { high = mid }
        }
        f64::midpoint(low, high)
    }
    /// Height at which the two flanks meet.
    pub fn theoretical_addendum(&self) -> f64 {
        self.at(self.meeting()).0 - self.pitch
    }
    /// The arc through pitch point and tip whose widest gap from the rolled curve is least, and that gap.
    ///
    /// The curve is followed to 0.8 of the height: near the tip the two part by design, as the arc comes
    /// to a point where the curve is cut off.
    pub fn closest_arc(&self, height: f64) -> (FlankArc, f64) {
        let last = self.turn_of(self.pitch + 0.8 * height);
        let points: Vec<(f64, f64)> = (0..=200).map(|i| self.at(last * f64::from(i) / 200.0)).collect();
        let tip = self.pitch + height;
        let gap = |radius: f64| {
            let a = FlankArc::through(self.pitch, self.half, tip, radius);
            points.iter().fold(0.0_f64, |worst, &(rho, half)| worst.max(a.outside(rho, half).abs()))
        };
        // Golden section: the widest gap first falls, then grows with the radius.
        let share = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (0.8 * height, 4.0 * height);
        for _ in 0..STEPS {
            let (a, b) = (high - share * (high - low), low + share * (high - low));
            if gap(a) < gap(b) { high = b } else { low = a }
        }
        let radius = f64::midpoint(low, high);
        (FlankArc::through(self.pitch, self.half, tip, radius), gap(radius))
    }
}

fn enough(teeth: u32, least: u32) -> Result<(), Unfit> {
    if teeth < least { Err(Unfit::Few { teeth, least }) } else { Ok(()) }
}
