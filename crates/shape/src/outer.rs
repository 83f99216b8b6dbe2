//! Outer profiles built step by step, edges broken.
//!
//! Plain millimetres.

use crate::profile::{Profile, SAME, distance};

/// What is done to an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// Cut at an angle.
    Chamfer {
        /// Along the axis.
        along: f64,
        /// Square to the axis, on the radius.
        deep: f64,
    },
    /// Rounded to a radius.
    Round(f64),
}

/// Builds an outer profile step by step from the datum face.
#[derive(Clone, Debug, Default)]
pub struct Outer {
    steps: Vec<(f64, f64, f64)>,
    leading: Vec<(usize, Edge)>,
    trailing: Vec<(usize, Edge)>,
}

impl Outer {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Outer {
        Outer::default()
    }
    /// A cylinder.
    #[must_use]
    pub fn step(self, diameter: f64, length: f64) -> Outer {
        self.taper(diameter, diameter, length)
    }
    /// A cone.
    #[must_use]
    pub fn taper(mut self, first: f64, last: f64, length: f64) -> Outer {
        self.steps.push((first / 2.0, last / 2.0, length));
        self
    }
    /// Breaks the edge where the last step begins.
    #[must_use]
    pub fn leading(mut self, edge: Edge) -> Outer {
        self.leading.push((self.steps.len().saturating_sub(1), edge));
        self
    }
    /// Breaks the edge where the last step ends.
    #[must_use]
    pub fn trailing(mut self, edge: Edge) -> Outer {
        self.trailing.push((self.steps.len().saturating_sub(1), edge));
        self
    }
    /// The profile, from the axis at the datum face to the axis at the far face.
    ///
    /// An edge that has no room is left sharp.
    #[must_use]
    pub fn profile(self) -> Profile {
        let mut profile = Profile::start(0.0, 0.0);
        let mut z = 0.0;
        // Corners are known by their place, since breaking one shifts the numbers of those after it.
        let mut edges = Vec::new();
        for (i, &(a, b, length)) in self.steps.iter().enumerate() {
            let of = |list: &[(usize, Edge)]| list.iter().find(|(k, _)| *k == i).map(|(_, e)| *e);
            profile = profile.line(z, a);
            edges.extend(of(&self.leading).map(|e| (profile.end(), e)));
            z += length;
            profile = profile.line(z, b);
            edges.extend(of(&self.trailing).map(|e| (profile.end(), e)));
        }
        profile = profile.line(z, 0.0);
        for (place, edge) in edges {
            let corner = profile.segments().iter().position(|s| distance(s.from(), place) < SAME);
            let Some(corner) = corner else { continue };
            let broken = match edge {
                Edge::Round(r) => profile.clone().rounded(corner, r),
                Edge::Chamfer { along, deep } => {
                    let face = corner > 0 && {
                        let s = profile.segments()[corner - 1];
                        (s.from().x - s.to().x).abs() < SAME
                    };
                    let (back, on) = if face { (deep, along) } else { (along, deep) };
                    profile.clone().chamfered(corner, back, on)
                }
            };
            profile = broken.unwrap_or(profile);
        }
        profile
    }
}
