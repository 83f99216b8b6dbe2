//! Small laws of speeds and feeds that a program must keep.

use reckon::maths::PI;

/// Revolutions a minute for a surface speed in m/min at a diameter in mm, up to `most`.
///
/// n = 1000 v / (π d); at the axis it is `most`.
#[must_use]
pub fn surface_rpm(speed: f64, most: f64, diameter: f64) -> f64 {
    if diameter > 0.0 { (1000.0 * speed / (PI * diameter)).min(most) } else { most }
}

/// Diameter in mm below which a surface speed in m/min is held back by the highest speed.
#[must_use]
pub fn clamp_diameter(speed: f64, most: f64) -> f64 {
    1000.0 * speed / (PI * most)
}

/// Highest revolutions a minute at which the slide, at most `fastest` mm/min, follows a lead in mm.
#[must_use]
pub fn thread_rpm(lead: f64, fastest: f64) -> f64 {
    fastest / lead
}

/// Feed a minute of a feed a turn, in mm/min.
#[must_use]
pub fn feed_a_minute(per_turn: f64, rpm: f64) -> f64 {
    per_turn * rpm
}

/// Speed in 1/min at which a tap of a pitch in mm follows a feed in mm/min.
#[must_use]
pub fn tapping_rpm(feed: f64, pitch: f64) -> f64 {
    feed / pitch
}

/// Way in mm that a slide needs to come up to the speed of a thread: twice v² / (2 a).
///
/// The doubling is kept for the loop that follows the spindle. Lead in mm, acceleration in mm/s².
#[must_use]
pub fn run_in(lead: f64, rpm: f64, acceleration: f64) -> f64 {
    let speed = lead * rpm / 60.0;
    speed * speed / acceleration
}
