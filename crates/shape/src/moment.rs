//! Second moments of plane figures: what a turning wheel feels of its own metal.
//!
//! Plain millimetres.

use crate::flat::Flat;
use crate::profile::Profile;
use crate::segment::Segment;
use kurbo::Vec2;
use reckon::maths::{PI, cos, sin};

impl Segment {
    /// Signed polar second moment about the origin of the figure between the segment and the origin (mm⁴).
    ///
    /// # Formula
    /// A triangle with its apex in the origin has (a × b)(a·a + a·b + b·b)/12. An arc adds the figure
    /// between itself and its chord: about its centre r⁴ (θ/4 − sin θ (2 + cos θ)/12), moved to the origin
    /// by its area ½ r² (θ − sin θ) and its first moment ⅔ r³ sin³(θ/2).
    pub(crate) fn polar_moment(&self) -> f64 {
        let (a, b) = (self.from().to_vec2(), self.to().to_vec2());
        let triangle = a.cross(b) * (a.dot(a) + a.dot(b) + b.dot(b)) / 12.0;
        let Segment::Arc { centre, radius, .. } = *self else { return triangle };
        let (start, turn) = self.sweep();
        let square = radius * radius;
        let own = square * square * (turn / 4.0 - sin(turn) * (2.0 + cos(turn)) / 12.0);
        let area = square / 2.0 * (turn - sin(turn));
        let half = sin(turn / 2.0);
        let first = 2.0 / 3.0 * square * radius * half * half * half;
        let middle = start + turn / 2.0;
        let c = centre.to_vec2();
        triangle + own + 2.0 * first * c.dot(Vec2::new(cos(middle), sin(middle))) + area * c.dot(c)
    }
}

impl Profile {
    /// Polar second moment about the origin of the figure inside a closed chain (mm⁴), positive when the
    /// chain runs counter-clockwise; an open chain is closed by a line. Exact for lines and arcs.
    #[must_use]
    pub fn polar_moment(&self) -> f64 {
        let sum: f64 = self.segments().iter().map(Segment::polar_moment).sum();
        sum + Segment::Line { from: self.end(), to: self.begin() }.polar_moment()
    }
}

impl Flat {
    /// Polar second moment of the plate about the origin (mm⁴), countersinks left out.
    #[must_use]
    pub fn polar_moment(&self) -> f64 {
        let windows: f64 = self.windows.iter().map(|w| w.polar_moment().abs()).sum();
        let holes = self.holes.iter().map(|h| {
            let square = h.diameter * h.diameter / 4.0;
            PI * square * (square / 2.0 + h.at.to_vec2().hypot2())
        });
        self.outline.polar_moment().abs() - windows - holes.sum::<f64>()
    }
    /// Moment of inertia about an axis through the origin square to the plate, in g mm², at a density in
    /// kg/m³.
    #[must_use]
    pub fn inertia(&self, density: f64) -> f64 {
        self.polar_moment() * self.thickness * density * 1e-6
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} is not {b}");
    }
    #[test]
    fn rectangle_and_circle_from_the_handbook() {
        near(Profile::rectangle(-2.0, -1.0, 2.0, 1.0).polar_moment(), 4.0 * 2.0 * (16.0 + 4.0) / 12.0);
        near(Profile::circle(Point::ORIGIN, 3.0).polar_moment(), PI * 81.0 / 2.0);
    }
    #[test]
    fn moved_by_the_square_of_the_distance() {
        let d2 = 5.0 * 5.0 + 2.0 * 2.0;
        near(Profile::circle(Point::new(5.0, -2.0), 3.0).polar_moment(), PI * 81.0 / 2.0 + PI * 9.0 * d2);
        let slot = Profile::slot(Point::new(-1.5, 0.0), Point::new(1.5, 0.0), 1.0);
        let moved = slot.mapped(|p| p + Vec2::new(5.0, -2.0));
        near(moved.polar_moment(), slot.polar_moment() + slot.area() * d2);
        near(moved.reversed().polar_moment(), -moved.polar_moment());
    }
    #[test]
    fn slot_against_its_parts() {
        // Two half discs and a rectangle; a half disc's centroid lies 4r/(3π) from its flat.
        let (r, half) = (0.5, 1.5);
        let disc = PI * r * r;
        let g = 4.0 * r / (3.0 * PI);
        let own = PI * r * r * r * r / 2.0 - disc * g * g;
        let ends = own + disc * (half + g) * (half + g);
        let middle = 2.0 * half * 2.0 * r * (4.0 * half * half + 4.0 * r * r) / 12.0;
        let slot = Profile::slot(Point::new(-half, 0.0), Point::new(half, 0.0), 2.0 * r);
        near(slot.polar_moment(), ends + middle);
    }
    #[test]
    fn ring_of_a_plate() {
        let plate = Flat::new(Profile::circle(Point::ORIGIN, 10.0), 2.0).hole(0.0, 0.0, 8.0, "bore");
        near(plate.polar_moment(), PI / 2.0 * (10_000.0 - 256.0));
        near(plate.inertia(8500.0), PI / 2.0 * (10_000.0 - 256.0) * 2.0 * 8500.0 * 1e-6);
    }
}
