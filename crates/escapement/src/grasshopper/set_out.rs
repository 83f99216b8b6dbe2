//! Setting-out data: what is marked on paper or metal to draw the escapement.

use kurbo::{Point, Vec2};
use reckon::maths::{cos, sin};

use super::cycle::Cycle;
use super::linkage::{Linkage, Side};
use crate::frame::{on_wheel, turned_about};

/// A point with its label.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The point.
    pub at: Point,
    /// The label.
    pub label: String,
}

/// A straight line with its label.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// From.
    pub from: Point,
    /// To.
    pub to: Point,
    /// The label.
    pub label: String,
}

/// A circle with its label.
#[derive(Clone, Debug, PartialEq)]
pub struct Circle {
    /// Centre.
    pub centre: Point,
    /// Radius.
    pub radius: f64,
    /// The label.
    pub label: String,
}

/// All that is set out, wheel arbor at the origin.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SetOut {
    /// Points.
    pub points: Vec<Mark>,
    /// Lines.
    pub lines: Vec<Line>,
    /// Circles.
    pub circles: Vec<Circle>,
}

/// Points, lines and circles of the escapement: arbors, joints in the middle and at both catches, tooth tips as they
/// are caught and let go, lines of action with the circles that their moments touch, and the stops of the composers.
/// None when a strut does not reach: never for a linkage whose cycle was taken through.
///
#[must_use]
pub fn set_out(linkage: &Linkage, cycle: &Cycle) -> Option<SetOut> {
    let mut all = SetOut::default();
    let z = linkage.arbor();
    all.points.push(Mark { at: Point::ORIGIN, label: "wheel arbor".into() });
    all.points.push(Mark { at: z, label: "frame arbor".into() });
    all.lines.push(Line { from: Point::ORIGIN, to: z, label: "line of centres".into() });
    all.circles.push(Circle {
        centre: Point::ORIGIN,
        radius: linkage.tip_radius,
        label: "tooth tips".into(),
    });
    for side in Side::BOTH {
        let (word, beat) = (side.word(), cycle.beat(side));
        let strut = linkage.strut(side);
        let middle = linkage.joint(side, 0.0);
        all.points.push(Mark { at: middle, label: format!("{word} joint, frame in the middle") });
        all.circles.push(Circle {
            centre: z,
            radius: strut.joint.hypot(),
            label: format!("path of the {word} joint"),
        });
        all.circles.push(Circle { centre: middle, radius: strut.length, label: format!("{word} arm") });
        for (frame, what) in [(beat.catches, "catches"), (beat.lets_go, "lets go")] {
            let pose = linkage.pose(side, frame)?;
            all.points.push(Mark { at: pose.joint, label: format!("{word} joint as it {what}") });
            all.points.push(Mark { at: pose.tip, label: format!("tooth as the {word} arm {what}") });
            all.lines.push(Line {
                from: pose.tip,
                to: pose.joint,
                label: format!("line of action as the {word} arm {what}"),
            });
            all.circles.push(Circle {
                centre: z,
                radius: pose.frame_arm.abs(),
                label: format!("torque arm as the {word} arm {what}"),
            });
        }
        let tangent = linkage.pose(side, 0.0)?;
        let touch = on_wheel(linkage.tip_radius, tangent.wheel);
        all.lines.push(Line { from: touch, to: middle, label: format!("{word} line, frame in the middle") });
        // The stop is marked on the frame itself: the arm as held by its composer, the frame in the middle.
        let stop = middle + Vec2::new(cos(beat.stop), sin(beat.stop)) * strut.length;
        all.lines.push(Line { from: middle, to: stop, label: format!("{word} composer's stop") });
        let caught = turned_about(linkage.pose(side, beat.catches)?.tip, z, -beat.catches);
        all.points.push(Mark { at: caught, label: format!("{word} nib at its stop, frame in the middle") });
    }
    Some(all)
}
