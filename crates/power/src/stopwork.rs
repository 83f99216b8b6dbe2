//! Stop work: a pin on the arbor that steps a star on the barrel, one lobe of which is left full.
//!
//! The finger piece has two levels: an arm that carries the pin and passes
//! under the star, and a disc in the plane of the star that rests in its
//! hollows and, at either end, meets the lobe that has none.
//!
//! Plane geometry in millimetres and radians. The finger's axis lies at the
//! origin and the star's on the x axis; both are drawn with the pin on the
//! line of centres, half way through a step.

use kurbo::Point;
use reckon::{Source, maths};
use shape::profile::Profile;
use shape::segment::Sense;

/// The geometry.
pub static STAR: Source =
    Source::derived("pin that enters each slot of a star at its mouth; a full lobe meets the disc")
        .with_formula("a² = C² + R² − 2 C R cos(π/z); turns = z − 1 + (φe − β)/π");

/// What is wanted of stop work.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Wanted {
    /// Turns that the arbor may make against the barrel; the whole part counts.
    pub turns: u32,
    /// Between the axes.
    pub centres: f64,
    /// Radius of the disc in its gap, around the square.
    pub hub: f64,
    /// Diameter of the pin.
    pub pin: f64,
    /// Play between parts that pass each other.
    pub play: f64,
}
/// Sizes of stop work.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct StopWork {
    /// Lobes of the star, of which one is full.
    pub lobes: u32,
    /// Between the axes.
    pub centres: f64,
    /// Radius of the star.
    pub star: f64,
    /// From the arbor's axis to the pin.
    pub reach: f64,
    /// Diameter of the pin.
    pub pin: f64,
    /// Radius of the disc that rests in the hollows.
    pub disc: f64,
    /// Radius of the hub.
    pub hub: f64,
    /// Half the angle of the gap in the disc on the side of the pin, radians.
    pub gap: f64,
    /// Width of a slot.
    pub slot: f64,
    /// From the star's axis to the middle of the round end of a slot.
    pub slot_bottom: f64,
    /// Radius of the hollows.
    pub hollow: f64,
    /// Turns from stop to stop.
    pub turns: f64,
}
/// Why stop work cannot be drawn.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Fault {
    /// Two to eleven turns can be stopped by one star.
    Turns,
    /// A size is not more than nothing.
    Size,
    /// The hub leaves no room for a star.
    NoRoom,
    /// The slots take all of the star's middle, or the hollows meet the slots.
    NoMetal,
}
impl Fault {
    /// In words.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Fault::Turns => "one star stops two to eleven turns",
            Fault::Size => "every size must be more than nothing",
            Fault::NoRoom => "the hub is too large for this distance of centres",
            Fault::NoMetal => "the pin is too thick: nothing is left of the star between its slots",
        }
    }
}
/// Works out stop work.
///
/// # Errors
/// When the sizes leave no room.
pub fn design(w: Wanted) -> Result<StopWork, Fault> {
    if !(2..=11).contains(&w.turns) {
        return Err(Fault::Turns);
    }
    if !(w.centres > 0.0 && w.hub > 0.0 && w.pin > 0.0 && w.play > 0.0) {
        return Err(Fault::Size);
    }
    let lobes = w.turns + 1;
    let half = maths::PI / f64::from(lobes);
    let c = w.centres;
    // A pin that enters along its own path is the widest star; a hub makes it smaller.
    let star = (c - w.hub - w.play).min(c * maths::cos(half));
    if star <= 0.0 || w.hub >= c / 2.0 {
        return Err(Fault::NoRoom);
    }
    let reach = maths::sqrt(c * c + star * star - 2.0 * c * star * maths::cos(half));
    let enters = maths::asin((star * maths::sin(half) / reach).min(1.0));
    let slot = w.pin + w.play;
    let slot_bottom = c - reach - w.play / 2.0;
    // The disc keeps clear of the mouths of the slots and laps over the star.
    let disc = (reach - slot / 2.0 - w.pin / 2.0).min((c - star) + (reach - (c - star)) * 0.6);
    let hollow = disc + w.play / 2.0;
    if disc <= c - star + w.play || disc <= w.hub {
        return Err(Fault::NoRoom);
    }
    let bottom_gap = slot_bottom * maths::sin(half) - slot / 2.0;
    let hollow_half = spread(c, star, hollow);
    let mouth_half = maths::asin((slot / 2.0 / star).min(1.0));
    if slot_bottom <= 0.0 || bottom_gap <= w.play || hollow_half >= half - mouth_half {
        return Err(Fault::NoMetal);
    }
    let laps = maths::acos(((c * c + disc * disc - star * star) / (2.0 * c * disc)).clamp(-1.0, 1.0));
    let turns = f64::from(lobes) - 1.0 + (enters - laps) / maths::PI;
    Ok(StopWork {
        lobes,
        centres: c,
        star,
        reach,
        pin: w.pin,
        disc,
        hub: w.hub,
        gap: enters,
        slot,
        slot_bottom,
        hollow,
        turns,
    })
}
/// Half the angle at the star's axis that a circle of `round` about the other axis covers of its rim.
fn spread(centres: f64, star: f64, round: f64) -> f64 {
    let cosine = (centres * centres + star * star - round * round) / (2.0 * centres * star);
    maths::acos(cosine.clamp(-1.0, 1.0))
}
fn on(r: f64, a: f64) -> Point {
    Point::new(r * maths::cos(a), r * maths::sin(a))
}
fn turned(p: Point, a: f64) -> Point {
    Point::new(p.x * maths::cos(a) - p.y * maths::sin(a), p.x * maths::sin(a) + p.y * maths::cos(a))
}
impl StopWork {
    /// Angle that the star has turned when the pin has turned by `finger` from the line of centres.
    #[must_use]
    pub fn star_turned(&self, finger: f64) -> f64 {
        let held = finger.clamp(-self.gap, self.gap);
        maths::atan2(self.reach * maths::sin(held), self.centres - self.reach * maths::cos(held))
    }
    /// Outline of the disc about its own axis, its gap around x.
    #[must_use]
    pub fn disc_outline(&self) -> Profile {
        let (begin, rim) = (on(self.hub, self.gap), on(self.disc, self.gap));
        let last = Point::new(rim.x, -rim.y);
        let end = Point::new(begin.x, -begin.y);
        Profile::start(begin.x, begin.y)
            .line(rim.x, rim.y)
            .arc_to(last, Point::ORIGIN, Sense::Left)
            .line(end.x, end.y)
            .arc_to(begin, Point::ORIGIN, Sense::Left)
            .close()
    }
    /// Outline of the pin, standing on x.
    #[must_use]
    pub fn pin_outline(&self) -> Profile {
        Profile::circle(Point::new(self.reach, 0.0), self.pin / 2.0)
    }
    /// Outline of the arm that carries the pin, under the star: round ends about axis and pin.
    #[must_use]
    pub fn arm_outline(&self) -> Profile {
        Profile::slot(Point::ORIGIN, Point::new(self.reach, 0.0), 2.0 * self.hub.max(self.pin))
    }
    /// Outline of the star about its own axis; a slot lies along −x, the full lobe next to it below.
    #[must_use]
    pub fn star_outline(&self) -> Profile {
        let z = self.lobes;
        let half = maths::PI / f64::from(z);
        let mouth = maths::asin(self.slot / 2.0 / self.star);
        let hollow = spread(self.centres, self.star, self.hollow);
        let w = self.slot / 2.0;
        let along = maths::sqrt(self.star * self.star - w * w);
        let mut outline: Option<Profile> = None;
        for i in 0..z {
            let at = maths::PI + 2.0 * half * f64::from(i);
            let point = |x: f64, y: f64| turned(Point::new(x, y), at);
            let (lower, upper) = (point(along, -w), point(along, w));
            let (deep_lower, deep_upper) = (point(self.slot_bottom, -w), point(self.slot_bottom, w));
            let begun = match outline {
                None => Profile::start(lower.x, lower.y),
                Some(p) => p,
            };
            let slotted = begun
                .line(deep_lower.x, deep_lower.y)
                .arc_to(deep_upper, point(self.slot_bottom, 0.0), Sense::Right)
                .line(upper.x, upper.y);
            let next = on(self.star, at + 2.0 * half - mouth);
            outline = Some(if i == 0 {
                slotted.arc_to(next, Point::ORIGIN, Sense::Left)
            } else {
                let middle = at + half;
                let (a, b) = (on(self.star, middle - hollow), on(self.star, middle + hollow));
                slotted
                    .arc_to(a, Point::ORIGIN, Sense::Left)
                    .arc_to(b, on(self.centres, middle), Sense::Right)
                    .arc_to(next, Point::ORIGIN, Sense::Left)
            });
        }
        outline.unwrap_or_else(|| Profile::circle(Point::ORIGIN, self.star)).close()
    }
    /// What stands in the plane of the star, the pin turned by an angle: disc, pin, and the star as it then stands.
    #[must_use]
    pub fn placed(&self, finger: f64) -> (Profile, Profile, Profile) {
        // The star turns the other way round, its axis at the centre distance.
        let star = -self.star_turned(finger);
        let about = |p: Point| turned(p, finger);
        let s = self.star_outline().mapped(|p| turned(p, star) + kurbo::Vec2::new(self.centres, 0.0));
        (self.disc_outline().mapped(about), self.pin_outline().mapped(about), s)
    }
}
