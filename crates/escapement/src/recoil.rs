//! The recoil anchor: faces of constant torque ratio, or plane faces, from span and let-off.
//!
//! Plain millimetres and radians, in the plane of [`crate::frame`]; faces are given with the anchor in the
//! middle of its swing.

pub mod parts;

use crate::check::{Amiss, Check, Unit, not_negative, positive};
use crate::dead_beat::impulse::{Plane, Push};
use crate::dead_beat::{Side, span};
use crate::frame::{TURN, apart, arbor, arrow, bearing, left_of, length, on_wheel, turned_about, unit};
use kurbo::Point;
use reckon::Source;
use reckon::maths::{asin, cos, tan};

/// Faces that turn the wheel in a constant ratio.
pub static FACES: Source = Source::derived("locus of the tooth tip seen from the anchor")
    .with_formula("w = p/2 − drop − tip, κ = w/(2 v), recoil κ (a − v)");
/// Plane faces.
pub static PLANE_FACES: Source = Source::derived("moments of the contact force on a plane face")
    .with_formula("κ = tan ψ / tan ε, ε = asin(r_t / (R tan ψ))");
/// The most that an anchor should push its wheel back.
pub static RECOIL_LIMIT: Source = Source::practice("recoil of not more than a third of a pitch");

/// What an anchor is set out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Teeth of the wheel.
    pub teeth: u32,
    /// Whole teeth that the anchor spans; half a pitch is added.
    pub span: u32,
    /// Radius of the wheel over its tips.
    pub radius: f64,
    /// Turn of the anchor past the middle at which a tooth leaves.
    pub let_off: f64,
    /// Free turn of the wheel.
    pub drop: f64,
    /// Width of a tooth's tip seen from the wheel's arbor.
    pub tip: f64,
    /// Swing from the middle to one side.
    pub arc: f64,
}

/// The anchor as set out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// What it was set out from.
    pub sizes: Sizes,
    /// Angle from tooth to tooth.
    pub pitch: f64,
    /// Half of the span, seen from the wheel.
    pub half_span: f64,
    /// Centre distance.
    pub centres: f64,
    /// Turn of the wheel while a face is pushed.
    pub advance: f64,
    /// Turn of the wheel for one of the anchor.
    pub ratio: f64,
    /// Distance from the anchor's arbor to the middle of a face.
    pub arm: f64,
}

/// An arc that stands for a face, to be milled or filed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceArc {
    /// Its centre.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
    /// How far the true face departs from it at most.
    pub misfit: f64,
}

impl Anchor {
    /// Sets the anchor out.
    ///
    /// # Errors
    /// Sizes that leave no face, or a swing that does not reach the let-off.
    pub fn new(s: Sizes) -> Result<Anchor, Amiss> {
        let (pitch, half_span) = span(s.teeth, s.span)?;
        positive("radius", s.radius)?;
        positive("let_off", s.let_off)?;
        positive("arc", s.arc)?;
        not_negative("drop", s.drop)?;
        not_negative("tip", s.tip)?;
        if s.arc > 0.35 {
            return Err(Amiss::new("arc", "more than 20 degrees to each side is no clock's anchor"));
        }
        if s.arc < s.let_off {
            return Err(Amiss::new("arc", "the swing does not reach the let-off"));
        }
        let advance = pitch / 2.0 - s.drop - s.tip;
        if advance <= 0.0 {
            return Err(Amiss::new("drop", "drop and tip leave nothing of half a pitch for the face"));
        }
        if advance / 2.0 >= half_span {
            return Err(Amiss::new("span", "the two faces would meet"));
        }
        Ok(Anchor {
            sizes: s,
            pitch,
            half_span,
            centres: s.radius / cos(half_span),
            advance,
            ratio: advance / (2.0 * s.let_off),
            arm: s.radius * tan(half_span),
        })
    }
    /// The arbor of the anchor.
    #[must_use]
    pub fn arbor(&self) -> Point {
        arbor(self.centres)
    }
    /// Angle of the tooth on a face while the anchor stands at `x`, counted positive to the side where the
    /// tooth goes deepest: from the swing `arc` down to −let-off.
    #[must_use]
    pub fn tooth_at(&self, side: Side, x: f64) -> f64 {
        let back = self.ratio * (x + self.sizes.let_off);
        let leaves = match side {
            Side::Entry => -(self.half_span - self.advance / 2.0),
            Side::Exit => self.half_span + self.advance / 2.0,
        };
        leaves - back
    }
    /// Turn of the anchor, counter-clockwise, that `x` stands for.
    #[must_use]
    pub fn anchor_at(side: Side, x: f64) -> f64 {
        match side {
            Side::Entry => x,
            Side::Exit => -x,
        }
    }
    /// The point of a face of constant ratio that the tip touches at `x`.
    #[must_use]
    pub fn face_point(&self, side: Side, x: f64) -> Point {
        let tip = on_wheel(self.sizes.radius, self.tooth_at(side, x));
        turned_about(tip, self.arbor(), -Anchor::anchor_at(side, x))
    }
    /// A face of constant ratio as points, from full swing to let-off.
    #[must_use]
    pub fn face(&self, side: Side, points: u32) -> Vec<Point> {
        let (from, to) = (self.sizes.arc, -self.sizes.let_off);
        let n = points.max(2) - 1;
        (0..=n).map(|i| self.face_point(side, from + (to - from) * f64::from(i) / f64::from(n))).collect()
    }
    /// How far the wheel is pushed back when the anchor swings to `arc` (constant ratio).
    #[must_use]
    pub fn recoil(&self, arc: f64) -> f64 {
        self.ratio * (arc - self.sizes.let_off).max(0.0)
    }
    /// The arc through both ends and the middle of a face, evened out so that the largest departures to
    /// either side are alike, and how well it fits.
    #[must_use]
    pub fn face_arc(&self, side: Side) -> FaceArc {
        fitted(&self.face(side, 401))
    }
    /// Drops on either side from the ends of the faces: entry let off, exit let off.
    #[must_use]
    pub fn drops(&self) -> (f64, f64) {
        let v = self.sizes.let_off;
        let near = |a: f64| a - (a / self.pitch + 0.5).floor() * self.pitch;
        let (e, x) = (self.tooth_at(Side::Entry, -v), self.tooth_at(Side::Exit, -v));
        let (catch_e, catch_x) = (self.tooth_at(Side::Entry, v), self.tooth_at(Side::Exit, v));
        (near(catch_x - e - self.sizes.tip), near(catch_e - x - self.sizes.tip))
    }
    /// Moment arm of the contact force about the anchor, with its sign (positive turns it to let off), at `x`;
    /// the normal is taken from the face itself.
    #[must_use]
    pub fn moment_arm(&self, side: Side, x: f64) -> f64 {
        let h = 1e-6;
        let along = unit(self.face_point(side, x - h) - self.face_point(side, x + h));
        let p = self.face_point(side, x);
        let n = if left_of(along).dot(p.to_vec2()) >= 0.0 { left_of(along) } else { -left_of(along) };
        let turns = (p - self.arbor()).cross(n);
        match side {
            Side::Entry => -turns,
            Side::Exit => turns,
        }
    }
    /// What the anchor must keep.
    #[must_use]
    pub fn checks(&self) -> Vec<Check> {
        use Unit::{Angle, Length};
        let degree = TURN / 360.0;
        let (out, into) = self.drops();
        let steps = 64_u32;
        let (from, to) = (self.sizes.arc, -self.sizes.let_off);
        let places = (0..=steps).map(|i| from + (to - from) * f64::from(i) / f64::from(steps));
        let least = places
            .flat_map(|x| [self.moment_arm(Side::Entry, x), self.moment_arm(Side::Exit, x)])
            .fold(f64::INFINITY, f64::min);
        vec![
            Check::at_least("drop_out", "drop when the entry face lets off", out, 0.8 * degree, Angle),
            Check::at_least("drop_in", "drop when the exit face lets off", into, 0.8 * degree, Angle),
            Check::at_most("drops_apart", "difference of the drops", (out - into).abs(), 0.2 * degree, Angle),
            Check::at_most(
                "recoil",
                "the wheel pushed back at full swing",
                self.recoil(self.sizes.arc),
                self.pitch / 3.0,
                Angle,
            ),
            Check::at_least(
                "push_arm",
                "arm of the push about the anchor, never reversed",
                least,
                0.0,
                Length,
            ),
            Check::at_least(
                "swing",
                "swing, against the let-off and a margin",
                self.sizes.arc,
                self.sizes.let_off + 0.3 * degree,
                Angle,
            ),
        ]
    }
}

/// The circle through the ends and the middle of a row of points, its radius then moved so that the
/// departures to either side are alike.
#[must_use]
pub fn fitted(points: &[Point]) -> FaceArc {
    let (a, b, c) = (points[0], points[points.len() / 2], points[points.len() - 1]);
    let (ab, ac) = (b - a, c - a);
    let d = 2.0 * ab.cross(ac);
    let (lb, lc) = (ab.hypot2(), ac.hypot2());
    let mut centre = a + kurbo::Vec2::new(ac.y * lb - ab.y * lc, ab.x * lc - ac.x * lb) / d;
    // Least squares over centre and radius, from there: three or four Newton steps settle it.
    for _ in 0..20 {
        let n = points.len();
        #[expect(clippy::cast_precision_loss, reason = "a few hundred points")]
        let count = n as f64;
        let mean_r = points.iter().map(|&p| apart(p, centre)).sum::<f64>() / count;
        let mean_u = points.iter().map(|&p| unit(p - centre)).fold(kurbo::Vec2::ZERO, |s, u| s + u) / count;
        let (mut xx, mut xy, mut yy, mut bx, mut by) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for &p in points {
            let u = unit(p - centre) - mean_u;
            let e = apart(p, centre) - mean_r;
            xx += u.x * u.x;
            xy += u.x * u.y;
            yy += u.y * u.y;
            bx += u.x * e;
            by += u.y * e;
        }
        let det = xx * yy - xy * xy;
        if det.abs() < 1e-30 {
            break;
        }
        let step = kurbo::Vec2::new((bx * yy - by * xy) / det, (by * xx - bx * xy) / det);
        centre += step;
        if length(step) < 1e-12 {
            break;
        }
    }
    let radii = || points.iter().map(|&p| apart(p, centre));
    let (low, high) = radii().fold((f64::INFINITY, 0.0_f64), |(l, h), r| (l.min(r), h.max(r)));
    FaceArc { centre, radius: (low + high) / 2.0, misfit: (high - low) / 2.0 }
}

/// A plane face that touches the circle `tangent` about the anchor's arbor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaneFace {
    /// Angle between the face and the arm at the middle of the face.
    pub lead: f64,
    /// Torque ratio there.
    pub ratio: f64,
    /// The end where the tooth stands at full swing.
    pub from: Point,
    /// The end where the tooth leaves.
    pub to: Point,
    /// Turn of the wheel from the catch (let-off of the other face) to the let-off.
    pub advance: f64,
    /// Torque ratio at full swing, at the catch and at the let-off.
    pub ratios: [f64; 3],
    /// How far the wheel is pushed back at full swing.
    pub recoil: f64,
}

/// Lead angle and torque ratio of plane faces that touch a circle about the anchor's arbor.
///
/// # Formula
/// ε = asin(r_t / (R tan ψ)); κ = tan ψ / tan ε at the middle of the face.
///
/// # Errors
/// A circle larger than the arm.
pub fn plane_lead(radius: f64, half_span: f64, tangent: f64) -> Result<(f64, f64), Amiss> {
    positive("radius", radius)?;
    positive("tangent", tangent)?;
    let arm = radius * tan(half_span);
    if tangent >= arm {
        return Err(Amiss::new("tangent", "the circle must be smaller than the arm"));
    }
    let lead = asin(tangent / arm);
    Ok((lead, tan(half_span) / tan(lead)))
}

impl Anchor {
    /// A plane face that touches the circle of radius `tangent` about the arbor, with the anchor's span,
    /// let-off and swing.
    ///
    /// # Errors
    /// A circle larger than the arm, or a plane that the tips lose within the swing.
    pub fn plane_face(&self, side: Side, tangent: f64) -> Result<PlaneFace, Amiss> {
        let (lead, ratio) = plane_lead(self.sizes.radius, self.half_span, tangent)?;
        let a = self.arbor();
        let p = on_wheel(
            self.sizes.radius,
            match side {
                Side::Entry => -self.half_span,
                Side::Exit => self.half_span,
            },
        );
        let out = bearing(p - a);
        // Seen from the anchor the tip runs towards the arbor at the entry, away from it at the exit.
        let along = match side {
            Side::Entry => -arrow(out - lead),
            Side::Exit => arrow(out - lead),
        };
        let reach = self.sizes.radius / 4.0;
        let whole = Plane {
            centres: self.centres,
            radius: self.sizes.radius,
            from: p - along * reach,
            to: p + along * reach,
        };
        let v = self.sizes.let_off;
        let at = |x: f64| -> Result<Push, Amiss> {
            whole
                .push(Anchor::anchor_at(side, x))
                .ok_or_else(|| Amiss::new("tangent", "the tips lose this plane within the swing"))
        };
        let (full, caught, off) = (at(self.sizes.arc)?, at(v)?, at(-v)?);
        let end = |push: &Push| turned_about(on_wheel(self.sizes.radius, push.wheel), a, -push.pallets);
        Ok(PlaneFace {
            lead,
            ratio,
            from: end(&full),
            to: end(&off),
            advance: off.wheel - caught.wheel,
            ratios: [full.ratio, caught.ratio, off.ratio],
            recoil: caught.wheel - full.wheel,
        })
    }
    /// Drops of an anchor with plane faces: entry let off, exit let off.
    ///
    /// # Errors
    /// As [`Anchor::plane_face`].
    pub fn plane_drops(&self, tangent: f64) -> Result<(f64, f64), Amiss> {
        let (e, x) = (self.plane_face(Side::Entry, tangent)?, self.plane_face(Side::Exit, tangent)?);
        let a = self.arbor();
        let v = self.sizes.let_off;
        let near = |t: f64| t - (t / self.pitch + 0.5).floor() * self.pitch;
        let tooth = |p: Point, by: f64| crate::frame::wheel_angle(turned_about(p, a, by));
        let (off_e, off_x) = (tooth(e.to, -v), tooth(x.to, v));
        Ok((
            near(off_x - x.advance - off_e - self.sizes.tip),
            near(off_e - e.advance - off_x - self.sizes.tip),
        ))
    }
}

#[cfg(test)]
mod tests;
