//! The recorder's own clock: unless it was held against a reference, seconds a day.

/// How far a recorder's clock is off that nobody measured, parts in a million.
pub const UNKNOWN: f64 = 50.0;

/// What is known of a recorder's clock.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Recorder {
    /// Samples too many in a million: + when it runs fast, so that all beats look longer.
    pub ppm: f64,
    /// Within, with 95 in 100.
    pub within: f64,
    /// Whether it was measured, or told.
    pub known: bool,
}
impl Default for Recorder {
    fn default() -> Self {
        Recorder { ppm: 0.0, within: UNKNOWN, known: false }
    }
}
impl Recorder {
    /// From pulses of a known period, heard as a beat, both s.
    #[must_use]
    pub fn from_pulses(heard: f64, within: f64, period: f64) -> Recorder {
        Recorder { ppm: (heard / period - 1.0) * 1e6, within: within / period * 1e6, known: true }
    }
    /// A beat as it is, from a beat as it was recorded, s.
    #[must_use]
    pub fn set_right(&self, beat: f64) -> f64 {
        beat / (1.0 + self.ppm * 1e-6)
    }
    /// By how much a rate looks wrong, s/day, when nothing is set right.
    #[must_use]
    pub fn shift(&self) -> f64 {
        86_400.0 * (1.0 / (1.0 + self.ppm * 1e-6) - 1.0)
    }
}
