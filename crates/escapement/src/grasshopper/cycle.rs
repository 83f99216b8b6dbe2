//! Both beats, tooth by tooth: who drives, where the wheel is, when each arm catches and lets go.

use kurbo::Point;
use reckon::maths::{PI, atan2};

use super::linkage::{Linkage, Side};
use super::solve::scan;
use crate::frame::{on_wheel, turned_about, wrapped};

/// What goes wrong in the course of a beat.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A strut cannot reach the tip circle at this angle of the frame.
    Reach {
        /// The arm.
        side: Side,
        /// Angle of the frame.
        frame: f64,
    },
    /// A tooth would press its arm the wrong way, or not at all, at this angle of the frame.
    Turns {
        /// The arm.
        side: Side,
        /// Angle of the frame.
        frame: f64,
    },
    /// An arm meets no tooth within the swing, so the other never lets go.
    Misses {
        /// The arm.
        side: Side,
    },
    /// The swing ends before an arm has surely caught.
    Short {
        /// Angle at which the later arm catches.
        catches: f64,
    },
    /// The arms catch in the wrong order: entry at or before exit.
    Order,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let deg = |x: &f64| x / PI * 180.0;
        match self {
            Fault::Reach { side, frame } => {
                write!(f, "the {} arm cannot reach the wheel at {:.2}° of the frame", side.word(), deg(frame))
            }
            Fault::Turns { side, frame } => {
                write!(
                    f,
                    "the {} arm passes its dead point before {:.2}° of the frame",
                    side.word(),
                    deg(frame)
                )
            }
            Fault::Misses { side } => write!(f, "the {} arm meets no tooth within the swing", side.word()),
            Fault::Short { catches } => {
                write!(f, "the swing ends before an arm catches at {:.2}°", deg(catches))
            }
            Fault::Order => write!(f, "the entry arm catches before the exit arm has had its beat"),
        }
    }
}

impl std::error::Error for Fault {}

/// Angles of the frame at which an arm catches and the other lets go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Captures {
    /// The entry arm catches, the exit arm lets go.
    pub entry: f64,
    /// The exit arm catches, the entry arm lets go.
    pub exit: f64,
}

/// The beat of one arm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beat {
    /// The arm.
    pub side: Side,
    /// Angle of the frame as it catches.
    pub catches: f64,
    /// Angle of the frame as it lets go.
    pub lets_go: f64,
    /// Turn of the wheel from one to the other.
    pub travel: f64,
    /// dα/dθ without its sign as it catches.
    pub starts: f64,
    /// The same as it lets go.
    pub ends: f64,
    /// How far the wheel is driven back from the catch to the end of the swing.
    pub recoil: f64,
    /// Direction from joint to nib in the frame as it catches: where the composer holds the free arm.
    pub stop: f64,
    /// Turn of the arm in the frame away from the wheel, greatest over its time on a tooth, counted from the stop:
    /// how far it lifts its composer.
    pub lifts: f64,
    /// The same towards the wheel: how far it leaves its composer.
    pub leaves: f64,
    /// How fast the free nib comes in over the tip circle as it catches, for the turn of the frame (mm per radian).
    pub comes_in: f64,
    /// Height of the free nib over the tip circle as this arm lets go, held by its composer.
    pub clears: f64,
    /// Least reserve before a dead point, over the swing.
    pub reserve: f64,
}

/// One moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Angle of the frame.
    pub frame: f64,
    /// Which way it swings: −1 clockwise, +1 counter-clockwise.
    pub swings: f64,
    /// Angle the wheel has turned from the entry's catch.
    pub wheel: f64,
    /// The arm on a tooth.
    pub driver: Side,
    /// Number of the tooth it holds; tooth 0 is caught first by the entry arm, numbers rise clockwise.
    pub tooth: i64,
    /// The free nib, held by its composer.
    pub free: Point,
    /// Its height over the tip circle.
    pub over: f64,
}

/// A whole cycle of two beats.
#[derive(Clone, Debug, PartialEq)]
pub struct Cycle {
    /// When they catch.
    pub captures: Captures,
    /// Entry beat.
    pub entry: Beat,
    /// Exit beat.
    pub exit: Beat,
    /// Moments in order, from the entry's catch through both beats to the next.
    pub moments: Vec<Moment>,
    /// Greatest distance from a nib to the nearest tooth tip as it catches, the tooth being the one it should be.
    pub handover: f64,
    /// Turn of the wheel over the whole cycle less one pitch.
    pub gains: f64,
    /// Least opening, in wheel angle, between the nib let go and its tooth at the end of the swing: it grows from
    /// nothing at the catch, so the arm is never locked.
    pub opens: f64,
}

impl Cycle {
    /// The beat of an arm.
    #[must_use]
    pub fn beat(&self, side: Side) -> &Beat {
        match side {
            Side::Entry => &self.entry,
            Side::Exit => &self.exit,
        }
    }
}

impl Linkage {
    /// When each arm catches, found from the linkage as it is.
    ///
    /// # Formula
    /// The exit arm where α_x − α_n = K p, the entry arm where α_x − α_n = (K + 1) p.
    ///
    /// # Errors
    /// [`Fault::Misses`] when there is no such angle within `swing`, [`Fault::Order`] when they are the wrong way
    /// round.
    pub fn captures(&self, swing: f64) -> Result<Captures, Fault> {
        let apart = |pitches: f64| {
            let f = |t: f64| {
                let (n, x) = (self.pose(Side::Entry, t)?, self.pose(Side::Exit, t)?);
                Some(wrapped(x.wheel - n.wheel - pitches * self.pitch()))
            };
            scan(f, -swing, swing, 64)
        };
        let span = f64::from(self.span);
        let exit = apart(span).ok_or(Fault::Misses { side: Side::Exit })?;
        let entry = apart(span + 1.0).ok_or(Fault::Misses { side: Side::Entry })?;
        if exit < entry { Ok(Captures { entry, exit }) } else { Err(Fault::Order) }
    }
    /// Where a free nib is, its arm held by the composer as at the catch `catches`.
    fn free(&self, side: Side, catches: f64, frame: f64) -> Option<Point> {
        let caught = self.pose(side, catches)?.tip;
        Some(turned_about(caught, self.arbor(), frame - catches))
    }
    fn beat(&self, side: Side, captures: &Captures, swing: f64) -> Result<Beat, Fault> {
        let (catches, lets_go) = match side {
            Side::Entry => (captures.entry, captures.exit),
            Side::Exit => (captures.exit, captures.entry),
        };
        let at = |frame: f64| self.pose(side, frame).ok_or(Fault::Reach { side, frame });
        // The arm holds a tooth from the far end of the recoil to where it lets go.
        let far = -side.turn() * swing;
        let stop = self.bearing(side, catches).ok_or(Fault::Reach { side, frame: catches })?;
        let (mut lifts, mut leaves, mut reserve) = (0.0_f64, 0.0_f64, f64::INFINITY);
        for k in 0..=128 {
            let frame = far + (lets_go - far) * f64::from(k) / 128.0;
            let pose = at(frame)?;
            if pose.wheel_arm >= 0.0 || pose.ratio() * side.turn() <= 0.0 {
                return Err(Fault::Turns { side, frame });
            }
            reserve = reserve.min(self.reserve(side, frame));
            let v = pose.tip - pose.joint;
            // Turned counter-clockwise by δ the nib moves by δ (−v.y, v.x): away from the wheel when v × tip > 0.
            let outward = if v.cross(pose.tip.to_vec2()) < 0.0 { -1.0 } else { 1.0 };
            let by = outward * wrapped(atan2(v.y, v.x) - frame - stop);
            (lifts, leaves) = (lifts.max(by), leaves.max(-by));
        }
        let (start, end) = (at(catches)?, at(lets_go)?);
        let off = self.free(side, catches, lets_go).ok_or(Fault::Reach { side, frame: lets_go })?;
        Ok(Beat {
            side,
            catches,
            lets_go,
            travel: end.wheel - start.wheel,
            starts: start.ratio().abs(),
            ends: end.ratio().abs(),
            recoil: start.wheel - at(far)?.wheel,
            stop,
            lifts,
            leaves,
            comes_in: (start.tip.x * self.distance / self.tip_radius).abs(),
            clears: off.to_vec2().hypot() - self.tip_radius,
            reserve,
        })
    }
}

/// Takes a linkage through both beats at a swing of the frame to ± `swing`.
///
/// The wheel always follows the arm that holds a tooth; at a catch the two arms agree about the wheel, so it goes on
/// without a step. Whether the nib finds a tooth, and the right one, is then looked up among all the teeth of the
/// wheel, and whether the nib let go is left free by the wheel's recoil.
///
/// # Errors
/// The first [`Fault`] met.
pub fn cycle(linkage: &Linkage, swing: f64) -> Result<Cycle, Fault> {
    let captures = linkage.captures(swing)?;
    let most = captures.entry.abs().max(captures.exit.abs());
    if swing <= most {
        return Err(Fault::Short { catches: most });
    }
    let entry = linkage.beat(Side::Entry, &captures, swing)?;
    let exit = linkage.beat(Side::Exit, &captures, swing)?;
    let first = linkage.pose(Side::Entry, captures.entry).ok_or(Fault::Misses { side: Side::Entry })?.wheel;
    let pitch = linkage.pitch();
    let span = i64::from(linkage.span);
    let mut moments = Vec::new();
    // Stretches: from, to, who drives, which tooth.
    let stretches = [
        (captures.entry, captures.exit, Side::Entry, 0),
        (captures.exit, -swing, Side::Exit, span),
        (-swing, captures.entry, Side::Exit, span),
        (captures.entry, swing, Side::Entry, -1),
        (swing, captures.entry, Side::Entry, -1),
    ];
    // Angle of tooth 0, unwound, is α of the held tooth less its number of pitches.
    for (from, to, driver, tooth) in stretches {
        for k in 0..=32 {
            let frame = from + (to - from) * f64::from(k) / 32.0;
            let pose = linkage.pose(driver, frame).ok_or(Fault::Reach { side: driver, frame })?;
            let other = driver.other();
            let catches = if other == Side::Entry { captures.entry } else { captures.exit };
            let free = linkage.free(other, catches, frame).ok_or(Fault::Reach { side: other, frame })?;
            #[expect(clippy::cast_precision_loss, reason = "numbers of teeth are small")]
            let zero = pose.wheel - tooth as f64 * pitch;
            moments.push(Moment {
                frame,
                swings: if to < from { -1.0 } else { 1.0 },
                wheel: zero - first,
                driver,
                tooth,
                free,
                over: free.to_vec2().hypot() - linkage.tip_radius,
            });
        }
    }
    let mut handover = 0.0_f64;
    let mut opens = f64::INFINITY;
    for (side, held, number) in [(Side::Exit, Side::Entry, span), (Side::Entry, Side::Exit, -1)] {
        let frame = if side == Side::Exit { captures.exit } else { captures.entry };
        let holder = linkage.pose(held, frame).ok_or(Fault::Misses { side })?;
        let nib = linkage.free(side, frame, frame).ok_or(Fault::Misses { side })?;
        let holds = if held == Side::Entry { 0 } else { span };
        // All the teeth, from the one that is held; the nearest to the nib must be the one wanted.
        let nearest = (0..i64::from(linkage.teeth))
            .map(|k| {
                #[expect(clippy::cast_precision_loss, reason = "numbers of teeth are small")]
                let at = on_wheel(linkage.tip_radius, holder.wheel + k as f64 * pitch);
                ((at - nib).hypot(), (holds + k).rem_euclid(i64::from(linkage.teeth)))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .ok_or(Fault::Misses { side })?;
        if nearest.1 != number.rem_euclid(i64::from(linkage.teeth)) {
            return Err(Fault::Misses { side });
        }
        handover = handover.max(nearest.0);
        // At the end of the swing the nib let go would stand on a tooth further on than the wheel has gone back.
        let far = -side.turn() * swing;
        let gone = linkage.pose(side, frame).zip(linkage.pose(side, far)).map(|(a, b)| a.wheel - b.wheel);
        let on = linkage.pose(held, far).map_or(holder.wheel, |p| p.wheel) - holder.wheel;
        opens = opens.min(gone.ok_or(Fault::Reach { side, frame: far })? + on);
    }
    Ok(Cycle { captures, entry, exit, moments, handover, gains: entry.travel + exit.travel - pitch, opens })
}
