//! How a tooth pushes a plane pallet: torque ratio at every place, and what friction leaves.
//!
//! The tip of the tooth is a point that slides along the impulse plane. Radians and millimetres.

use super::{DeadBeat, Side};
use crate::frame::{arbor, left_of, on_wheel, turned, turned_about, unit, wheel_angle};
use kurbo::{Point, Vec2};
use reckon::Source;
use reckon::maths::{atan, tan};

/// Torque ratio from the normal of the contact.
pub static RATIO: Source =
    Source::derived("moments of one contact force about two arbors").with_formula("κ = |AP × n| / |OP × n|");
/// What friction leaves of the work.
pub static FRICTION: Source =
    Source::derived("the contact force turned by the angle of friction, integrated over the impulse")
        .with_formula("η = ∫ |AP × (n + μ t)| / |OP × (n + μ t)| dθ / w");

/// One place of the impulse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Angle of the pallets, counter-clockwise from the middle.
    pub pallets: f64,
    /// Angle of the tooth, clockwise from the line of centres.
    pub wheel: f64,
    /// Turn of the wheel for a small turn of the pallets: torque on the pallets for one on the wheel.
    pub ratio: f64,
}

/// A plane, the points between which it works, and where the wheel stands under it.
#[derive(Clone, Copy, Debug)]
pub struct Plane {
    /// The arbor of the pallets.
    pub centres: f64,
    /// Radius of the tips.
    pub radius: f64,
    /// First corner, in the middle position.
    pub from: Point,
    /// Last corner.
    pub to: Point,
}
impl Plane {
    /// Where the tip stands on the plane when the pallets are turned by `theta`: the meeting of the tip
    /// circle and the line of the plane that lies nearest to the plane's middle.
    fn tip(&self, theta: f64) -> Option<(Point, Vec2)> {
        let a = arbor(self.centres);
        let (from, to) = (turned_about(self.from, a, theta), turned_about(self.to, a, theta));
        let along = unit(to - from);
        let foot = from - along * from.to_vec2().dot(along);
        let off = foot.to_vec2().hypot2();
        let half = (self.radius * self.radius - off).max(-1.0);
        if half < 0.0 {
            return None;
        }
        let middle = from.midpoint(to);
        let near = |p: &Point| (*p - middle).hypot2();
        let (p, q) = (foot + along * half.sqrt(), foot - along * half.sqrt());
        Some((if near(&p) < near(&q) { p } else { q }, along))
    }
    /// The push at one angle of the pallets; `None` when the tip circle does not reach the plane.
    #[must_use]
    pub fn push(&self, theta: f64) -> Option<Push> {
        let (p, along) = self.tip(theta)?;
        let n = left_of(along);
        let ratio = ((p - arbor(self.centres)).cross(n) / p.to_vec2().cross(n)).abs();
        Some(Push { pallets: theta, wheel: wheel_angle(p), ratio })
    }
    /// Torque on the pallets for one on the wheel, with friction `mu` while the tip slides from first to last corner.
    fn torque(&self, theta: f64, mu: f64) -> Option<f64> {
        let (p, along) = self.tip(theta)?;
        // The plane works on its side towards the wheel, so the normal into the pallet points away from it.
        let n = if left_of(along).dot(p.to_vec2()) >= 0.0 { left_of(along) } else { -left_of(along) };
        let force = n + along * mu;
        Some(((p - arbor(self.centres)).cross(force) / p.to_vec2().cross(force)).abs())
    }
    /// Share of the wheel's work that reaches the pallets while they turn from `start` to `end` and the
    /// wheel by `advance`.
    #[must_use]
    pub fn efficiency(&self, start: f64, end: f64, advance: f64, mu: f64) -> Option<f64> {
        // Simpson's rule; the integrand is smooth and 200 strips leave less than 1e-9.
        let n = 200_u32;
        let h = (end - start) / f64::from(n);
        let mut sum = 0.0;
        for i in 0..=n {
            let weight = if i == 0 || i == n { 1.0 } else { f64::from(2 + 2 * (i % 2)) };
            sum += weight * self.torque(start + h * f64::from(i), mu)?;
        }
        Some((sum * h / 3.0).abs() / advance)
    }
}

impl DeadBeat {
    /// The impulse plane of a pallet.
    #[must_use]
    pub fn impulse_plane(&self, side: Side) -> Plane {
        let (from, to) = self.corners(side);
        Plane { centres: self.centres, radius: self.sizes.radius, from, to }
    }
    /// Angle of the pallets a share `f` (0 … 1) through the impulse of one of them.
    #[must_use]
    pub fn pallets_at(&self, side: Side, f: f64) -> f64 {
        let swing = -self.before + self.sizes.lift * f;
        match side {
            Side::Entry => -swing,
            Side::Exit => swing,
        }
    }
    /// The push a share `f` (0 … 1) through the impulse.
    #[must_use]
    pub fn push(&self, side: Side, f: f64) -> Option<Push> {
        self.impulse_plane(side).push(self.pallets_at(side, f))
    }
    /// Mean torque ratio of an impulse: turn of the wheel over turn of the pallets, exactly.
    #[must_use]
    pub fn mean_ratio(&self) -> f64 {
        self.width / self.sizes.lift
    }
    /// Share of the wheel's work during an impulse that reaches the pallets, with friction `mu`.
    #[must_use]
    pub fn efficiency(&self, side: Side, mu: f64) -> Option<f64> {
        let (start, end) = (self.pallets_at(side, 0.0), self.pallets_at(side, 1.0));
        self.impulse_plane(side).efficiency(start, end, self.width, mu)
    }
    /// The short rule for the same: tan ε / tan(ε + φ), tan ε = (lift/w) tan ψ.
    #[must_use]
    pub fn efficiency_by_rule(&self, mu: f64) -> f64 {
        let lead = atan(self.sizes.lift / self.width * tan(self.half_span));
        tan(lead) / tan(lead + atan(mu))
    }
    /// Share of the wheel's turn that pushes: the pallet's width over half a pitch.
    #[must_use]
    pub fn used_turn(&self) -> f64 {
        self.width / (self.pitch / 2.0)
    }
    /// Direction of the contact force on a pallet without friction, a share `f` through the impulse.
    #[must_use]
    pub fn force_line(&self, side: Side, f: f64) -> Option<(Point, Vec2)> {
        let theta = self.pallets_at(side, f);
        let (from, to) = self.corners(side);
        let p = on_wheel(self.sizes.radius, self.push(side, f)?.wheel);
        let along = turned(unit(to - from), theta);
        let n = left_of(along);
        Some((p, if n.dot(p.to_vec2()) >= 0.0 { n } else { -n }))
    }
}
