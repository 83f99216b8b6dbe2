//! An anchor as things that can be cycled and made.
//!
//! Plain millimetres and radians.

use super::{Anchor, FaceArc, Sizes};
use crate::check::Amiss;
use crate::cycle::{Face, Nib, Works};
use crate::dead_beat::Side;
use crate::dead_beat::checks::ToothForm;
use crate::frame::{TURN, apart, bearing, length, turned_about, unit};
use crate::outline::{Body, pallets_outline, wheel, wheel_outline};
use kurbo::Point;
use reckon::maths::PI;
use shape::profile::Profile;
use shape::segment::{Segment, Sense};

/// Length of the sides of a nib where it is cycled, as an angle about the arbor.
const LONG: f64 = 0.3;

/// Which faces an anchor is made with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Made {
    /// The arcs that fit the faces of constant ratio best.
    Arcs,
    /// Planes that touch a circle of this radius about the arbor.
    Planes {
        /// That radius.
        tangent: f64,
    },
}

impl Anchor {
    /// The working face of a side from full swing (and `beyond` it) to let-off.
    fn face_piece(&self, side: Side, made: Made, beyond: f64) -> Result<Segment, Amiss> {
        let grown = Anchor { sizes: Sizes { arc: self.sizes.arc + beyond, ..self.sizes }, ..*self };
        Ok(match made {
            Made::Arcs => {
                let FaceArc { centre, radius, .. } = grown.face_arc(side);
                let onto = |p: Point| centre + unit(p - centre) * radius;
                let from = onto(grown.face_point(side, grown.sizes.arc));
                let to = onto(grown.face_point(side, -grown.sizes.let_off));
                let sense = if (from - centre).cross(to - centre) > 0.0 { Sense::Left } else { Sense::Right };
                Segment::Arc { from, to, centre, radius, sense }
            }
            Made::Planes { tangent } => {
                let f = grown.plane_face(side, tangent)?;
                Segment::Line { from: f.from, to: f.to }
            }
        })
    }
    /// Working chains of both sides, in the order entry, exit, each from full swing to let-off.
    ///
    /// # Errors
    /// Plane faces that the tips lose.
    fn faces(&self, made: Made) -> Result<[Segment; 2], Amiss> {
        // A little longer than the swing needs, so that a larger swing still finds the face.
        let beyond = 0.25 * self.sizes.arc;
        Ok([self.face_piece(Side::Entry, made, beyond)?, self.face_piece(Side::Exit, made, beyond)?])
    }
    /// The works to be cycled.
    ///
    /// # Errors
    /// Plane faces that the tips lose; a tooth form that makes no tooth.
    pub fn works(&self, made: Made, tooth: &ToothForm) -> Result<Works, Amiss> {
        let a = self.arbor();
        let [entry, exit] = self.faces(made)?;
        let nib = |side: Side, face: Segment| {
            let (away, sense) = match side {
                Side::Entry => (-LONG, Sense::Left),
                Side::Exit => (LONG, Sense::Right),
            };
            let other = if sense == Sense::Left { Sense::Right } else { Sense::Left };
            let arc = |from: Point, to: Point, sense| Segment::Arc {
                from,
                to,
                centre: a,
                radius: apart(from, a),
                sense,
            };
            let (from, to) = (face.from(), face.to());
            Nib {
                chain: vec![
                    arc(turned_about(from, a, away), from, sense),
                    face,
                    arc(to, turned_about(to, a, away), other),
                ],
                faces: vec![Face::Back, Face::Impulse, Face::Back],
            }
        };
        Ok(Works {
            wheel: wheel(self.sizes.teeth, self.sizes.radius, self.sizes.tip, tooth)?,
            arbor: a,
            entry: nib(Side::Entry, entry),
            exit: nib(Side::Exit, exit),
        })
    }
    /// How deep a nib reaches inside the tips at full swing.
    #[must_use]
    pub fn penetration(&self, side: Side) -> f64 {
        let corner = self.face_point(side, -self.sizes.let_off);
        let at = turned_about(corner, self.arbor(), Anchor::anchor_at(side, self.sizes.arc));
        self.sizes.radius - length(at.to_vec2())
    }
    /// A tooth that suits: the front of an anchor's tooth stands on the radius, the back leans, and the depth
    /// clears the nibs.
    #[must_use]
    pub fn usual_tooth(&self) -> ToothForm {
        let deepest = self.penetration(Side::Entry).max(self.penetration(Side::Exit));
        let depth = (deepest + 0.6).max(0.14 * self.sizes.radius);
        // The face leans forward of the radius as the wheel is pushed back; the front must lie behind it.
        let lean = self.front_lean() + 2.0 * TURN / 360.0;
        let back = (lean + 12.0 * TURN / 360.0).max(20.0 * TURN / 360.0);
        ToothForm { undercut: lean.max(0.0), back, depth, fillet: 0.01 * self.sizes.radius, hollow: None }
    }
    /// The most that a face leans behind the wheel's radius where the tip touches it: the least undercut.
    #[must_use]
    pub fn front_lean(&self) -> f64 {
        let steps = 40_u32;
        let (from, to) = (self.sizes.arc, -self.sizes.let_off);
        let mut most = f64::NEG_INFINITY;
        for side in [Side::Entry, Side::Exit] {
            for i in 0..=steps {
                let x = from + (to - from) * f64::from(i) / f64::from(steps);
                let h = 1e-6;
                let ahead = self.face_point(side, x - h) - self.face_point(side, x + h);
                let p = self.face_point(side, x);
                let now = turned_about(p, self.arbor(), Anchor::anchor_at(side, x));
                let along = crate::frame::turned(ahead, Anchor::anchor_at(side, x));
                // The part of the face that reaches inside the tips runs on from the tip towards let-off or
                // back from it; take the inward one, and how far it stands behind the inward radius.
                let inward = if along.dot(now.to_vec2()) < 0.0 { along } else { -along };
                let lean = crate::frame::wrapped(bearing(-now.to_vec2()) - bearing(inward));
                if lean < PI / 2.0 {
                    most = most.max(lean);
                }
            }
        }
        most
    }
    /// Outline of the escape wheel.
    ///
    /// # Errors
    /// A tooth form that makes no tooth, or a gullet with no room for its fillets.
    pub fn wheel_outline(&self, tooth: &ToothForm) -> Result<Profile, Amiss> {
        wheel_outline(self.sizes.teeth, self.sizes.radius, self.sizes.tip, tooth)
    }
    /// A body that suits.
    #[must_use]
    pub fn usual_body(&self) -> Body {
        let r = self.sizes.radius;
        Body { arm: 0.1 * r, boss: 0.28 * r, clear: 0.02 * r }
    }
    /// Outline of the anchor in the middle of its swing, arbor at its place above the wheel.
    ///
    /// # Errors
    /// Arms that do not clear the wheel, or a boss that does not fit.
    pub fn outline(&self, made: Made, body: &Body) -> Result<Profile, Amiss> {
        let [entry, exit] = self.faces(made)?;
        let wheel = (self.sizes.radius, self.sizes.arc);
        pallets_outline(self.arbor(), &[entry], &[exit], 0.05, wheel, body)
    }
}
