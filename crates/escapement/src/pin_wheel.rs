//! The pin-wheel escapement: pins on the face of the wheel, both pallets on one side of it.
//!
//! Plain millimetres and radians in the plane of [`crate::frame`]. The pins run away from the pallets' arbor
//! along the tangent. The inner pallet reaches over from outside the pin circle and holds a pin while the
//! pallets stand clockwise; the outer one comes from the wheel's side and holds while they stand
//! counter-clockwise. The arm of the outer pallet passes in front of the pins; only its nib stands among them.

use crate::check::{Amiss, Check, Unit, not_negative, positive};
use crate::cycle::{Wheel, Works};
use crate::dead_beat::Side;
use crate::frame::{TURN, apart, arbor, arrow, bearing, on_wheel, turned_about, unit};
use crate::outline::dead_beat_nib;
use kurbo::Point;
use reckon::Source;
use reckon::maths::{PI, asin, cos, tan};
use shape::profile::Profile;
use shape::segment::{Segment, Sense};

/// How it is set out.
pub static PIN_WHEEL: Source = Source::derived("round pins on a circle, dead faces about the pallets' arbor")
    .with_formula("2 (push + drop) = p; inner lock to outer let-off = pin pitch − pin − clearance");

/// What a pin-wheel escapement is set out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Pins of the wheel.
    pub pins: u32,
    /// Radius of the circle on which they stand.
    pub radius: f64,
    /// Diameter of a pin.
    pub pin: f64,
    /// Angle at the wheel's arbor between the line of centres and the middle of the pallets.
    pub at: f64,
    /// Turn of the pallets while a pin pushes.
    pub lift: f64,
    /// Turn of the pallets from landing to the corner.
    pub lock: f64,
    /// Gap between the resting pin and the nib behind it.
    pub clear: f64,
    /// Swing from the middle to one side.
    pub arc: f64,
}

/// The escapement as set out. `entry` is the outer pallet, `exit` the inner one, as in [`crate::cycle`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinWheel {
    /// What it was set out from.
    pub sizes: Sizes,
    /// Angle from pin to pin.
    pub pitch: f64,
    /// Centre distance.
    pub centres: f64,
    /// Turn of the wheel while a pin pushes.
    pub push: f64,
    /// Free turn of the wheel.
    pub drop: f64,
    /// Unlocking corner of the inner pallet.
    pub inner_lock: Point,
    /// Let-off corner of the inner pallet.
    pub inner_off: Point,
    /// Unlocking corner of the outer pallet.
    pub outer_lock: Point,
    /// Let-off corner of the outer pallet.
    pub outer_off: Point,
}

impl PinWheel {
    /// Sets it out.
    ///
    /// # Formula
    /// Pin centres land on the inner pallet at a₁, leave it at a₂ = a₁ + w, land on the outer at a₃ = a₂ + D,
    /// leave it at a₄ = a₃ + w; the next pin is a pitch behind, so w + D = p/2. D is found by halving so that
    /// the pin on the outer pallet clears the inner nib by `clear`. A let-off corner stands a pin's radius off
    /// the pin circle when it lets go.
    ///
    /// # Errors
    /// Pins that leave no nib between them.
    pub fn new(s: Sizes) -> Result<PinWheel, Amiss> {
        if !(6..=1000).contains(&s.pins) {
            return Err(Amiss::new("pins", "a wheel has between 6 and 1000 pins"));
        }
        for (name, v) in [("radius", s.radius), ("pin", s.pin), ("lift", s.lift), ("arc", s.arc)] {
            positive(name, v)?;
        }
        not_negative("lock", s.lock)?;
        not_negative("clear", s.clear)?;
        if s.lift > 0.35 || s.arc > 0.35 {
            let name = if s.lift > 0.35 { "lift" } else { "arc" };
            return Err(Amiss::new(name, "more than 20 degrees is no clock's escapement"));
        }
        if s.lock >= s.lift {
            return Err(Amiss::new("lock", "the lock must be less than the lift"));
        }
        if !(15.0 * PI / 180.0..=80.0 * PI / 180.0).contains(&s.at) {
            return Err(Amiss::new(
                "at",
                "the pallets stand between 15 and 80 degrees from the line of centres",
            ));
        }
        let pitch = TURN / f64::from(s.pins);
        if s.pin >= 0.4 * s.radius * pitch {
            return Err(Amiss::new(
                "pin",
                "so thick a pin leaves no nib: take less than two fifths of the pitch",
            ));
        }
        let centres = s.radius / cos(s.at);
        let with = |drop: f64| PinWheel::with_drop(s, pitch, centres, drop);
        let (mut low, mut high) = (0.0, pitch / 2.0);
        if with(high).room_behind() < s.clear {
            return Err(Amiss::new("clear", "pin and clearance leave nothing of half a pitch for the nib"));
        }
        for _ in 0..80 {
            let middle = f64::midpoint(low, high);
            if with(middle).room_behind() < s.clear { low = middle } else { high = middle }
        }
        let made = with(high);
        if made.thickness(Side::Entry) <= 0.0 || made.thickness(Side::Exit) <= 0.0 || made.push <= 0.0 {
            return Err(Amiss::new("pin", "pin and clearance leave no thickness for the nibs"));
        }
        Ok(made)
    }
    fn with_drop(s: Sizes, pitch: f64, centres: f64, drop: f64) -> PinWheel {
        let push = pitch / 2.0 - drop;
        let (a, r) = (arbor(centres), s.pin / 2.0);
        let (u, v) = ((s.lift - s.lock) / 2.0, (s.lift + s.lock) / 2.0);
        let a1 = s.at - (pitch - drop) / 2.0;
        let (a2, a3) = (a1 + push, a1 + push + drop);
        let a4 = a3 + push;
        let beyond = |alpha: f64| {
            let pin = on_wheel(s.radius, alpha);
            pin + unit(pin - a) * r
        };
        PinWheel {
            sizes: s,
            pitch,
            centres,
            push,
            drop,
            inner_lock: turned_about(beyond(a1), a, u),
            inner_off: turned_about(on_wheel(s.radius + r, a2), a, -v),
            outer_lock: turned_about(beyond(a3), a, -u),
            outer_off: turned_about(on_wheel(s.radius - r, a4), a, v),
        }
    }
    /// The arbor of the pallets.
    #[must_use]
    pub fn arbor(&self) -> Point {
        arbor(self.centres)
    }
    /// Distance from the arbor to the pin circle along the tangent.
    #[must_use]
    pub fn arm(&self) -> f64 {
        self.sizes.radius * tan(self.sizes.at)
    }
    /// Lock corner and let-off corner: the outer pallet is the entry, the inner one the exit.
    #[must_use]
    pub fn corners(&self, side: Side) -> (Point, Point) {
        match side {
            Side::Entry => (self.outer_lock, self.outer_off),
            Side::Exit => (self.inner_lock, self.inner_off),
        }
    }
    /// Radius of the dead face of a pallet about the arbor.
    #[must_use]
    pub fn locking_radius(&self, side: Side) -> f64 {
        apart(self.corners(side).0, self.arbor())
    }
    /// Radius at which a pallet lets off.
    #[must_use]
    pub fn let_off_radius(&self, side: Side) -> f64 {
        apart(self.corners(side).1, self.arbor())
    }
    /// Thickness of a nib.
    #[must_use]
    pub fn thickness(&self, side: Side) -> f64 {
        self.let_off_radius(side) - self.locking_radius(side)
    }
    /// Gap between the two pallets, in which a pin rests.
    #[must_use]
    pub fn gap(&self) -> f64 {
        self.locking_radius(Side::Entry) - self.let_off_radius(Side::Exit)
    }
    /// What the pin resting on the outer pallet leaves of that gap.
    fn room_behind(&self) -> f64 {
        self.gap() - self.sizes.pin
    }
    /// From the inner locking radius to the outer let-off.
    #[must_use]
    pub fn over_all(&self) -> f64 {
        self.let_off_radius(Side::Entry) - self.locking_radius(Side::Exit)
    }
    /// The short rule for the same: pin pitch along the circle − pin − clearance.
    #[must_use]
    pub fn over_all_by_rule(&self) -> f64 {
        self.sizes.radius * self.pitch - self.sizes.pin - self.sizes.clear
    }
    /// Angle between an impulse plane and the way of the pin when it lets off; below nothing the pin comes
    /// free later than the corner says, because the plane still lies across its way.
    #[must_use]
    pub fn lead_at_let_off(&self, side: Side) -> f64 {
        let past = (self.sizes.lift + self.sizes.lock) / 2.0;
        let (lock, off) = self.corners(side);
        let (by, sign) = match side {
            Side::Entry => (-past, 1.0),
            Side::Exit => (past, -1.0),
        };
        let along = crate::frame::turned(unit(off - lock), by);
        let out = unit(turned_about(off, self.arbor(), by).to_vec2());
        asin((sign * along.dot(out)).clamp(-1.0, 1.0))
    }
    /// The works to be cycled.
    #[must_use]
    pub fn works(&self) -> Works {
        let (a, s) = (self.arbor(), &self.sizes);
        let centre = on_wheel(s.radius, 0.0);
        let edge = on_wheel(s.radius + s.pin / 2.0, 0.0);
        let pin = Segment::Arc { from: edge, to: edge, centre, radius: s.pin / 2.0, sense: Sense::Left };
        Works {
            wheel: Wheel { teeth: s.pins, tooth: vec![pin], root: 0.0 },
            arbor: a,
            entry: dead_beat_nib(Side::Entry, a, self.outer_lock, self.outer_off, 0.35),
            exit: dead_beat_nib(Side::Exit, a, self.inner_lock, self.inner_off, 0.35),
        }
    }
    /// What it must keep.
    #[must_use]
    pub fn checks(&self) -> Vec<Check> {
        use Unit::{Angle, Length};
        let degree = TURN / 360.0;
        let s = &self.sizes;
        let thin = self.thickness(Side::Entry).min(self.thickness(Side::Exit));
        let past = (s.lift + s.lock) / 2.0;
        let lock = s.lock * self.locking_radius(Side::Exit);
        vec![
            Check::at_least(
                "gap",
                "gap between the pallets, against the pin",
                self.gap(),
                s.pin + 0.05,
                Length,
            ),
            Check::at_least("nib_thickness", "thickness of the thinner nib", thin, 0.4, Length),
            Check::at_least("lock_depth", "lock along the inner dead face", lock, 0.15, Length),
            Check::at_least(
                "lead",
                "impulse planes still lean across the way of the pin at let-off",
                self.lead_at_let_off(Side::Entry).min(self.lead_at_let_off(Side::Exit)),
                0.0,
                Angle,
            ),
            Check::at_least("run", "swing, against the let-off and a run", s.arc, past + 0.3 * degree, Angle),
        ]
    }
    /// Outline of one arm with its nib, counter-clockwise about boss and arm; `width` of the arm, `boss` its
    /// diameter, `dead` the length of the dead face as an angle.
    ///
    /// # Errors
    /// A boss that the arm does not fit, or that reaches the nib.
    pub fn arm_outline(&self, side: Side, width: f64, boss: f64, dead: f64) -> Result<Profile, Amiss> {
        positive("arm_width", width)?;
        let a = self.arbor();
        let (half, rb) = (width / 2.0, boss / 2.0);
        let (lock, off) = self.corners(side);
        let (rl, ro) = (apart(lock, a), apart(off, a));
        if rb <= half || rb >= rl {
            return Err(Amiss::new("boss", "the boss must be wider than the arm and clear of the nib"));
        }
        let (low, high, lean) = (asin(half / rl), asin(half / ro), asin(half / rb));
        let at = |r: f64, b: f64| a + arrow(b) * r;
        let (bl, bo) = (bearing(lock - a), bearing(off - a));
        Ok(match side {
            // The nib points clockwise from its arm.
            Side::Exit => {
                let arm = (bl + dead + low).max(bo + dead - high);
                let (start, end) = (at(rb, arm - lean), at(rb, arm + lean));
                let (foot, top) = (at(rl, arm - low), at(ro, arm + high));
                Profile::start(start.x, start.y)
                    .line(foot.x, foot.y)
                    .arc_to(lock, a, Sense::Right)
                    .line(off.x, off.y)
                    .arc_to(top, a, Sense::Left)
                    .line(end.x, end.y)
                    .arc_to(start, a, Sense::Left)
            }
            // The nib points counter-clockwise.
            Side::Entry => {
                let arm = (bl - dead - low).min(bo - dead + high);
                let (start, end) = (at(rb, arm - lean), at(rb, arm + lean));
                let (foot, top) = (at(rl, arm + low), at(ro, arm - high));
                Profile::start(start.x, start.y)
                    .line(top.x, top.y)
                    .arc_to(off, a, Sense::Left)
                    .line(lock.x, lock.y)
                    .arc_to(foot, a, Sense::Right)
                    .line(end.x, end.y)
                    .arc_to(start, a, Sense::Left)
            }
        })
    }
    /// Centres of the pins, the first on the line of centres, clockwise.
    #[must_use]
    pub fn pins(&self) -> Vec<Point> {
        (0..self.sizes.pins).map(|i| on_wheel(self.sizes.radius, self.pitch * f64::from(i))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cycle::{Stand, State};
    use proptest::prelude::*;

    const DEGREE: f64 = TURN / 360.0;

    fn sizes() -> Sizes {
        Sizes {
            pins: 30,
            radius: 30.0,
            pin: 1.2,
            at: 60.0 * DEGREE,
            lift: 2.0 * DEGREE,
            lock: 0.5 * DEGREE,
            clear: 0.15,
            arc: 2.5 * DEGREE,
        }
    }
    fn proved(s: Sizes) {
        let e = PinWheel::new(s).expect("sound sizes");
        let c = e.works().cycle(s.arc, 200);
        assert_eq!(c.state, State::Goes, "{c:?}");
        assert!((c.advance - e.pitch).abs() < 1e-9);
        for side in [Side::Entry, Side::Exit] {
            let b = c.beat(side).expect("both beats");
            assert_eq!(b.stands, Stand::FlatOnDead, "{b:?}");
            for (got, want) in
                [(b.lock, s.lock), (b.lift, s.lift), (b.drop, e.drop), (b.pushes, e.push), (b.recoil, 0.0)]
            {
                assert!((got - want).abs() < 1e-6 * DEGREE, "{side:?} {got} for {want}: {b:?}");
            }
        }
    }
    #[test]
    fn the_pins_do_what_was_asked() {
        proved(sizes());
        let e = PinWheel::new(sizes()).expect("sound sizes");
        assert!((e.gap() - 1.35).abs() < 1e-9);
        assert!(
            (e.over_all() - e.over_all_by_rule()).abs() < 0.06,
            "{} {}",
            e.over_all(),
            e.over_all_by_rule()
        );
        assert!(e.checks().iter().all(Check::holds));
        for side in [Side::Entry, Side::Exit] {
            let p = e.arm_outline(side, 2.5, 7.0, 3.5 * DEGREE).expect("an arm");
            assert!(p.is_closed() && p.area() > 0.0);
            assert_eq!(p.crosses_itself(), None);
        }
    }
    proptest! {
        #![proptest_config(ProptestConfig::with_cases(16))]
        #[test]
        fn any_pin_wheel_is_proved_by_its_outlines(
            pins in 30_u32..44, pin in 0.1_f64..0.25, at in 50.0_f64..70.0, lift in 1.6_f64..2.4, lock in 0.2_f64..0.6,
        ) {
            let radius = 30.0;
            let s = Sizes {
                pins, radius, pin: pin * radius * TURN / f64::from(pins), at: at * DEGREE, lift: lift * DEGREE,
                lock: lock * DEGREE, clear: 0.1, arc: (lift + 0.8) * DEGREE,
            };
            // Too small a lift for so thick a nib: the pin comes free late, as the check of the lead tells.
            let e = PinWheel::new(s).expect("sound sizes");
            let lead = e.checks().into_iter().find(|c| c.key == "lead").expect("told");
            prop_assume!(lead.value > 0.002);
            proved(s);
        }
    }
}
