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
    /// Which way it may be fed while it stands in metal.
    pub way: Way,
    /// Deepest bite in millimetres: of a drill or a plunging tool from where it last came back, of a thread in
    /// one pass.
    pub most_bite: Option<f64>,
    /// Nearer to the axis than this radius it stands no more than this feed a turn.
    pub near_axis: Option<(f64, f64)>,
    /// Fastest that its edge may run through metal, in m/min.
    pub most_speed: Option<f64>,
}

/// Which way a tool may be fed while it stands in metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Way {
    /// Any way: a turning tool.
    #[default]
    Any,
    /// Square to the axis only: a blade for parting or grooving breaks when it is fed sideways.
    Across,
    /// Along the axis only: a tool for grooves in a face.
    Along,
    /// Along the axis and in it: a drill.
    OnAxis,
    /// Led by the spindle only: a point for threads.
    Led,
}

impl Way {
    /// Each way with the plain words for it.
    pub const WORDS: &'static [(&'static str, Self)] = &[
        ("any way", Self::Any),
        ("across", Self::Across),
        ("along", Self::Along),
        ("on the axis", Self::OnAxis),
        ("in threads", Self::Led),
    ];
}

impl Tool {
    /// A blade for parting or grooving, controlled at the corner of its edge that is further to −z;
    /// width and length in millimetres.
    ///
    /// # Errors
    /// [`NotConvex::Empty`] when a size is not above zero.
    pub fn blade(width: f64, length: f64) -> Result<Self, NotConvex> {
        let corners = [(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)].map(Point::from);
        Ok(Self { cutting: vec![Convex::new(&corners)?], way: Way::Across, ..Self::default() })
    }

    /// A point for threads, controlled at its tip: included angle in degrees, flat of its tip, depth of its
    /// form, in millimetres.
    ///
    /// # Errors
    /// [`NotConvex::Empty`] when it has no area.
    pub fn thread_point(included: f64, flat: f64, depth: f64) -> Result<Self, NotConvex> {
        let out = 0.5 * flat + depth * maths::tan(0.5 * included * PI / 180.0);
        let corners = [(-0.5 * flat, 0.0), (0.5 * flat, 0.0), (out, depth), (-out, depth)].map(Point::from);
        Ok(Self { cutting: vec![Convex::around(&corners)?], way: Way::Led, ..Self::default() })
    }

    /// A drill in the axis, controlled at its tip, coming from +z: diameter, angle of its point in
    /// degrees, length of its flutes, in millimetres.
    ///
    /// # Errors
    /// [`NotConvex`] when a size is not above zero or the flutes are shorter than the point.
    pub fn drill(diameter: f64, point: f64, flutes: f64) -> Result<Self, NotConvex> {
        let radius = 0.5 * diameter;
        let height = radius / maths::tan(0.5 * point.clamp(1.0, 180.0) * PI / 180.0);
        let corners = [(0.0, 0.0), (height, -radius), (flutes, -radius), (flutes, radius), (height, radius)];
        Ok(Self {
            cutting: vec![Convex::new(&corners.map(Point::from))?],
            way: Way::OnAxis,
            ..Self::default()
        })
    }
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
