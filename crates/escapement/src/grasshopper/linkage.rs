//! The linkage: where each strut stands, how far the wheel is, how the torques compare.

use kurbo::{Point, Vec2};
use reckon::maths::{PI, acos, atan2};

use crate::frame::{on_wheel, turned, wrapped};

/// Which pallet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Catches the tooth that comes towards the line of centres.
    Entry,
    /// Catches the tooth that leaves it.
    Exit,
}

impl Side {
    /// Both, in the order they act.
    pub const BOTH: [Side; 2] = [Side::Entry, Side::Exit];
    /// The other one.
    #[must_use]
    pub fn other(self) -> Side {
        if self == Side::Entry { Side::Exit } else { Side::Entry }
    }
    /// −1 where its acting beat turns the frame clockwise, else +1.
    #[must_use]
    pub fn turn(self) -> f64 {
        if self == Side::Entry { -1.0 } else { 1.0 }
    }
    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        if self == Side::Entry { "entry" } else { "exit" }
    }
}

/// How a tooth works on its strut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// The joint lies ahead of the tooth and the strut is pressed.
    Push,
    /// The joint lies behind the tooth and the strut is drawn.
    Pull,
}

impl Action {
    /// +1 with the joint ahead, −1 behind.
    #[must_use]
    pub fn sign(self) -> f64 {
        if self == Action::Push { 1.0 } else { -1.0 }
    }
}

/// One pallet arm as a strut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strut {
    /// Its joint seen from the frame arbor, the frame in the middle of its swing.
    pub joint: Vec2,
    /// From joint to tooth tip.
    pub length: f64,
    /// Pressed or drawn.
    pub action: Action,
}

/// A whole grasshopper, as designed or as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linkage {
    /// Teeth of the escape wheel.
    pub teeth: u32,
    /// Whole pitches from entry to exit tooth as the exit arm catches; the mean span is half a pitch more.
    pub span: u32,
    /// Radius of the tooth tips.
    pub tip_radius: f64,
    /// From wheel arbor to frame arbor.
    pub distance: f64,
    /// Entry arm.
    pub entry: Strut,
    /// Exit arm.
    pub exit: Strut,
}

/// One strut at one angle of the frame, its nib on a tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// The joint.
    pub joint: Point,
    /// Tooth tip and nib.
    pub tip: Point,
    /// Angle of the tip, clockwise from the line of centres.
    pub wheel: f64,
    /// Moment arm of the line from tip to joint about the frame arbor, counter-clockwise positive.
    pub frame_arm: f64,
    /// The same about the wheel arbor; negative while the wheel drives.
    pub wheel_arm: f64,
}

impl Pose {
    /// Turn of the wheel for the turn of the frame, dα/dθ: below nothing at the entry, above at the exit.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        -self.frame_arm / self.wheel_arm
    }
}

impl Linkage {
    /// Angle between teeth.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        2.0 * PI / f64::from(self.teeth)
    }
    /// The frame arbor.
    #[must_use]
    pub fn arbor(&self) -> Point {
        Point::new(0.0, self.distance)
    }
    /// One of the struts.
    #[must_use]
    pub fn strut(&self, side: Side) -> &Strut {
        match side {
            Side::Entry => &self.entry,
            Side::Exit => &self.exit,
        }
    }
    /// One of the struts, to be changed.
    pub fn strut_mut(&mut self, side: Side) -> &mut Strut {
        match side {
            Side::Entry => &mut self.entry,
            Side::Exit => &mut self.exit,
        }
    }
    /// A joint with the frame turned.
    #[must_use]
    pub fn joint(&self, side: Side, frame: f64) -> Point {
        self.arbor() + turned(self.strut(side).joint, frame)
    }
    /// A strut with its nib on a tooth; none where the strut cannot reach the tip circle.
    ///
    /// # Formula
    /// cos(α − α_J) = (R² + |J|² − ℓ²)/(2 R |J|), the tip behind the joint for a strut that is pressed, ahead of
    /// it for one that is drawn.
    #[must_use]
    pub fn pose(&self, side: Side, frame: f64) -> Option<Pose> {
        let strut = self.strut(side);
        let joint = self.joint(side, frame);
        let r = self.tip_radius;
        let far2 = joint.to_vec2().hypot2();
        let far = far2.sqrt();
        let cosine = (r * r + far2 - strut.length * strut.length) / (2.0 * r * far);
        // Also turns away what is not a number.
        if cosine.is_nan() || cosine.abs() >= 1.0 {
            return None;
        }
        let wheel = atan2(joint.x, joint.y) - strut.action.sign() * acos(cosine);
        let tip = on_wheel(r, wheel);
        let u = (joint - tip) / strut.length;
        // A force along a drawn strut runs from joint to tip: still the way the tooth moves.
        let u = u * strut.action.sign();
        Some(Pose {
            joint,
            tip,
            wheel,
            frame_arm: (tip - self.arbor()).cross(u),
            wheel_arm: tip.to_vec2().cross(u),
        })
    }
    /// How far a strut is from its dead points at an angle of the frame: the lesser of R + ℓ − |J| and
    /// |J| − |R − ℓ|; below nothing it cannot reach.
    #[must_use]
    pub fn reserve(&self, side: Side, frame: f64) -> f64 {
        let far = self.joint(side, frame).to_vec2().hypot();
        let (r, l) = (self.tip_radius, self.strut(side).length);
        (r + l - far).min(far - (r - l).abs())
    }
    /// Direction from joint to nib, counter-clockwise from x, in the frame itself: what a composer holds.
    #[must_use]
    pub fn bearing(&self, side: Side, frame: f64) -> Option<f64> {
        let pose = self.pose(side, frame)?;
        let v = pose.tip - pose.joint;
        Some(wrapped(atan2(v.y, v.x) - frame))
    }
    /// Mean of dα/dθ over an arc of the frame, by Simpson's rule: the reckoning by moments, to be held against the
    /// travel of the wheel.
    #[must_use]
    pub fn mean_ratio(&self, side: Side, from: f64, to: f64) -> Option<f64> {
        const STEPS: u32 = 200;
        let h = (to - from) / f64::from(STEPS);
        let mut sum = 0.0;
        for k in 0..=STEPS {
            let weight = if k == 0 || k == STEPS { 1.0 } else { f64::from(2 + 2 * (k % 2)) };
            sum += weight * self.pose(side, from + h * f64::from(k))?.ratio();
        }
        Some(sum / (3.0 * f64::from(STEPS)))
    }
}
