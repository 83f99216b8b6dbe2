//! What a pair of pallets does as it was made: lifts, locks and drops from measured sizes.
//!
//! Plain millimetres and radians. Corners are measured from the bore of the pallets, y away from the wheel
//! with the pallets in any position near the middle: turning them all changes no lift, lock or drop.

use crate::check::{Amiss, positive};
use crate::frame::{TURN, angle_in_triangle, arbor, bearing, length, on_wheel, wrapped};
use kurbo::Vec2;
use reckon::Source;

/// Where each corner meets the tip circle.
pub static AS_MADE: Source = Source::derived("triangle of centre distance, tip radius and corner radius")
    .with_formula(
        "cos α = (R² + C² − r²)/(2 R C); lock = let-off of the other pallet − unlocking of this one",
    );

/// The four working corners of the pallets, as arrows from their bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// Entry, unlocking.
    pub e1: Vec2,
    /// Entry, let-off.
    pub e2: Vec2,
    /// Exit, unlocking.
    pub x1: Vec2,
    /// Exit, let-off.
    pub x2: Vec2,
}

/// An escapement as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Made {
    /// Teeth of the wheel.
    pub teeth: u32,
    /// Radius over the tips.
    pub radius: f64,
    /// Centre distance.
    pub centres: f64,
    /// Width of a tip, seen from the wheel's arbor.
    pub tip: f64,
    /// Corners of the pallets.
    pub corners: Corners,
}

/// What it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doing {
    /// Lift of the entry pallet.
    pub lift_entry: f64,
    /// Lift of the exit pallet.
    pub lift_exit: f64,
    /// Lock on the entry pallet; below nothing when the tooth lands on the impulse plane.
    pub lock_entry: f64,
    /// Lock on the exit pallet.
    pub lock_exit: f64,
    /// Free turn of the wheel when the entry pallet lets off; below nothing when the nib meets a tooth.
    pub drop_out: f64,
    /// Free turn of the wheel when the exit pallet lets off.
    pub drop_in: f64,
    /// Angles of the pallets at which each corner (E1, E2, X1, X2) meets the tip circle.
    pub pallets: [f64; 4],
    /// Angles of the tooth there.
    pub wheel: [f64; 4],
}
impl Doing {
    /// Locks and drops in the order lock entry, lock exit, drop out, drop in.
    #[must_use]
    pub const fn counted(&self) -> [f64; 4] {
        [self.lock_entry, self.lock_exit, self.drop_out, self.drop_in]
    }
    /// Smallest swing, to one side of the middle between the two let-offs, that unlocks both pallets.
    #[must_use]
    pub fn least_arc(&self) -> f64 {
        let [_, e2, _, x2] = self.pallets;
        (x2 - e2) / 2.0
    }
}

impl Made {
    /// Evaluates it.
    ///
    /// # Errors
    /// A corner that the tips never reach.
    pub fn evaluated(&self) -> Result<Doing, Amiss> {
        self.evaluated_with([self.radius; 4])
    }
    /// Evaluates it with a tip radius of its own under each corner (E1, E2, X1, X2): one tooth may be long.
    ///
    /// # Errors
    /// A corner that the tips never reach.
    pub fn evaluated_with(&self, tips: [f64; 4]) -> Result<Doing, Amiss> {
        if self.teeth < 2 {
            return Err(Amiss::new("teeth", "a wheel has more teeth"));
        }
        positive("radius", self.radius)?;
        positive("centres", self.centres)?;
        let c = &self.corners;
        let named = [("e1", c.e1, -1.0), ("e2", c.e2, -1.0), ("x1", c.x1, 1.0), ("x2", c.x2, 1.0)];
        let (mut pallets, mut wheel) = ([0.0; 4], [0.0; 4]);
        for (i, (name, corner, side)) in named.into_iter().enumerate() {
            let r = length(corner);
            let none = || Amiss::new(name, "this corner never meets the tips of the teeth");
            let alpha = side * angle_in_triangle(self.centres, tips[i], r).ok_or_else(none)?;
            wheel[i] = alpha;
            pallets[i] = wrapped(bearing(on_wheel(tips[i], alpha) - arbor(self.centres)) - bearing(corner));
        }
        let [e1, e2, x1, x2] = pallets;
        let pitch = TURN / f64::from(self.teeth);
        // Between −½ and +½ pitch: a nib that meets a tooth shows as a drop below nothing.
        let near = |a: f64| a - (a / pitch + 0.5).floor() * pitch;
        Ok(Doing {
            lift_entry: e1 - e2,
            lift_exit: x2 - x1,
            lock_entry: x2 - e1,
            lock_exit: x1 - e2,
            drop_out: near(wheel[2] - wheel[1] - self.tip),
            drop_in: near(wheel[0] - wheel[3] - self.tip),
            pallets,
            wheel,
        })
    }
}
