//! Tools of the lathe.

use kurbo::{Point, Vec2};
use reckon::maths::{self, PI};

use crate::sweep::{Convex, NotConvex};

/// A tool of the lathe about its controlled point, z to the right and radius upwards.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tool {
    /// What cuts: convex pieces.
    pub cutting: Vec<Convex>,
    /// What must not touch: convex pieces of shank and holder.
    pub holder: Vec<Convex>,
    /// Largest feed a turn that it stands, in millimetres.
    pub most_feed: Option<f64>,
}

/// An insert with a round nose between two straight edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insert {
    /// Radius of the nose in millimetres.
    pub nose: f64,
    /// Heading in degrees, from +z anticlockwise, in which the edge in front leaves the nose.
    pub front: f64,
    /// Heading in degrees in which the edge behind leaves the nose.
    pub back: f64,
    /// Length of both edges in millimetres.
    pub length: f64,
    /// Chords of the nose.
    pub chords: u32,
    /// The controlled point as seen from the centre of the nose.
    pub controlled: Vec2,
}

impl Insert {
    /// Its outline about the controlled point: the nose runs from a quarter turn beyond the front
    /// edge's heading to a quarter turn short of the back edge's.
    ///
    /// # Errors
    /// [`NotConvex`] when the edges do not make a convex insert, or a size is not above zero.
    pub fn outline(&self) -> Result<Convex, NotConvex> {
        if !(self.nose > 0.0 && self.length > 0.0 && self.chords > 0) {
            return Err(NotConvex::Empty);
        }
        let radians = |degrees: f64| degrees * PI / 180.0;
        let wedge = self.front - self.back;
        if !(wedge > 0.0 && wedge < 180.0) {
            return Err(NotConvex::Hollow);
        }
        let (first, last) = (radians(self.front + 90.0), radians(self.back + 270.0));
        let mut corners = Vec::new();
        for i in 0..=self.chords {
            let angle = first + (last - first) * f64::from(i) / f64::from(self.chords);
            corners.push(Point::new(self.nose * maths::cos(angle), self.nose * maths::sin(angle)));
        }
        let way = |degrees: f64| {
            Vec2::new(maths::cos(radians(degrees)), maths::sin(radians(degrees))) * self.length
        };
        let (start, end) = (corners[0], corners[corners.len() - 1]);
        corners.push(end + way(self.back));
        corners.push(start + way(self.front));
        let corners: Vec<Point> = corners.into_iter().map(|p| p - self.controlled).collect();
        Convex::new(&corners)
    }
}
