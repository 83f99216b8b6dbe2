//! Discs with flats.

use crate::profile::{Profile, Sense, on_circle};
use kurbo::Point;
use reckon::maths::{PI, acos, cos};

impl Profile {
    /// A disc with flats round the origin, the first facing +x; closed.
    ///
    /// `apothem` is the distance from the middle to a flat. Where it is no less than the radius, or the
    /// flats meet inside it, the disc or the polygon alone is left.
    #[must_use]
    pub fn flatted(r: f64, apothem: f64, count: u32) -> Profile {
        Profile::flatted_from(r, apothem, count, 0.0).close()
    }
    /// The same, open by its last stretch's end, the first flat facing an angle.
    #[must_use]
    pub fn flatted_from(r: f64, apothem: f64, count: u32, front: f64) -> Profile {
        let n = f64::from(count.max(1));
        let corner = (count > 2 && apothem < r * cos(PI / n)).then(|| apothem / cos(PI / n));
        let half = if apothem < r { acos(apothem / r) } else { 0.0 };
        let normal = |k: u32| front + 2.0 * PI * f64::from(k) / n;
        let at = |a: f64, rho: f64| on_circle(Point::ORIGIN, rho, a);
        let first = corner.map_or(at(normal(0) - half, r), |c| at(normal(0) - PI / n, c));
        let mut chain = Profile::start(first.x, first.y);
        for k in 0..count.max(1) {
            if let Some(c) = corner {
                let p = at(normal(k) + PI / n, c);
                chain = chain.line(p.x, p.y);
            } else {
                let p = at(normal(k) + half, r);
                chain = chain.line(p.x, p.y);
                let next = at(normal(k + 1) - half, r);
                chain = chain.arc_to(next, Point::ORIGIN, Sense::Left);
            }
        }
        chain
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of 5 across flats, its corners cut off by a disc of 6: square less four segments beyond the disc.
    #[test]
    fn area_of_a_square_on_a_rod() {
        let p = Profile::flatted(3.0, 2.5, 4);
        assert!(p.is_closed());
        let a = acos(2.5 / 3.0);
        let segment = 9.0 * a - 2.5 * (9.0f64 - 6.25).sqrt();
        let want = PI * 9.0 - 4.0 * segment;
        assert!((p.area() - want).abs() < 1e-9, "{} and not {want}", p.area());
    }
    /// A hexagon of 8 across flats inside a larger disc.
    #[test]
    fn flats_that_meet_leave_a_polygon() {
        let p = Profile::flatted(10.0, 4.0, 6);
        let want = 6.0 * 16.0 * reckon::maths::tan(PI / 6.0);
        assert!((p.area() - want).abs() < 1e-9);
    }
}
