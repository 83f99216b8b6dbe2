//! A cutter that turns about an upright axis.

use reckon::maths::{self, PI};

/// A cylinder about the axis of a cutter, heights from its tip in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cylinder {
    /// Where it begins.
    pub low: f64,
    /// Where it ends.
    pub high: f64,
    /// Its radius.
    pub radius: f64,
}

/// A cutter about its controlled point, which is the middle of its tip.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cutter {
    /// What cuts: height above the tip and radius there, heights rising, straight between; two
    /// radii at one height make a step. Millimetres.
    pub profile: Vec<(f64, f64)>,
    /// What must not touch: shank, arbor, collet, spindle nose.
    pub shank: Vec<Cylinder>,
    /// From the spindle's nose to the tip, in millimetres.
    pub projects: f64,
    /// Largest feed a turn that it stands, in millimetres.
    pub most_feed: Option<f64>,
}

impl Cutter {
    /// An end mill: cuts below and beside.
    #[must_use]
    pub fn end_mill(diameter: f64, flutes: f64, projects: f64) -> Self {
        let radius = 0.5 * diameter;
        Self {
            profile: vec![(0.0, radius), (flutes, radius)],
            shank: vec![Cylinder { low: flutes, high: projects.max(flutes), radius }],
            projects,
            most_feed: None,
        }
    }

    /// A drill with a point of so many degrees. Its tip is the tip of the point.
    #[must_use]
    pub fn drill(diameter: f64, point: f64, flutes: f64, projects: f64) -> Self {
        let radius = 0.5 * diameter;
        let height = radius / maths::tan(0.5 * point.clamp(1.0, 180.0) * PI / 180.0);
        let height = if height > 1.0e-9 { height } else { 0.0 };
        Self {
            profile: vec![(0.0, if height > 0.0 { 0.0 } else { radius }), (height, radius), (flutes, radius)],
            shank: vec![Cylinder { low: flutes, high: projects.max(flutes), radius }],
            projects,
            most_feed: None,
        }
    }

    /// A saw or slitting disc on an arbor; its tip is its lower face.
    #[must_use]
    pub fn disc(diameter: f64, thickness: f64, arbor: f64, projects: f64) -> Self {
        let radius = 0.5 * diameter;
        Self {
            profile: vec![(0.0, radius), (thickness, radius)],
            shank: vec![Cylinder { low: thickness, high: projects.max(thickness), radius: 0.5 * arbor }],
            projects,
            most_feed: None,
        }
    }

    /// Radius at a height above the tip; zero where nothing cuts.
    #[must_use]
    pub fn radius(&self, height: f64) -> f64 {
        for pair in self.profile.windows(2) {
            let ((low, from), (high, to)) = (pair[0], pair[1]);
            if height >= low && height <= high && high > low {
                return from + (to - from) * (height - low) / (high - low);
            }
        }
        0.0
    }

    /// Height of what cuts.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.profile.last().map_or(0.0, |&(height, _)| height)
    }

    /// Heights above the tip at which layers must be parted: every corner of the profile, and slopes in
    /// steps of `layer`.
    pub(super) fn heights(&self, layer: f64) -> Vec<f64> {
        let mut heights: Vec<f64> = self.profile.iter().map(|&(height, _)| height).collect();
        for pair in self.profile.windows(2) {
            let ((low, from), (high, to)) = (pair[0], pair[1]);
            if (to - from).abs() > 0.0 && high > low {
                let steps = parts(high - low, layer);
                heights.extend((1..steps).map(|i| low + (high - low) * f64::from(i) / f64::from(steps)));
            }
        }
        heights
    }
}

/// How many parts no longer than `most` make up a length; at least one, at most ten thousand.
pub(super) fn parts(length: f64, most: f64) -> u32 {
    let count = (length / most).ceil();
    let count = if count.is_finite() { count.clamp(1.0, 10_000.0) } else { 1.0 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1 … 10 000")]
    let count = count as u32;
    count
}
