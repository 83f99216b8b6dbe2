//! Construction lines for drawing an escapement on the bench: points, lines, circles and angles with names.
//!
//! Plain millimetres in the plane of [`crate::frame`]. The same marks serve a drawing of true size and an
//! enlarged one; [`Window`]s say what is worth enlarging.

use crate::dead_beat::{DeadBeat, Side};
use crate::frame::{WHEEL, apart, on_wheel, unit};
use crate::recoil::Anchor;
use kurbo::Point;

/// One thing to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A point.
    Point {
        /// Where.
        at: Point,
        /// Its name.
        label: String,
    },
    /// A straight construction line.
    Line {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
        /// Its name.
        label: String,
    },
    /// A whole circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
        /// Its name.
        label: String,
    },
}
impl Mark {
    /// Its name.
    #[must_use]
    pub fn label(&self) -> &str {
        match self {
            Mark::Point { label, .. } | Mark::Line { label, .. } | Mark::Circle { label, .. } => label,
        }
    }
}

/// A part of the drawing to be shown enlarged.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Its middle.
    pub centre: Point,
    /// From the middle to a side.
    pub half: f64,
    /// Its name.
    pub label: String,
}

/// All that is drawn to set an escapement out.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingOut {
    /// What is drawn, in the order of drawing.
    pub marks: Vec<Mark>,
    /// What is enlarged.
    pub windows: Vec<Window>,
}

fn point(at: Point, label: &str) -> Mark {
    Mark::Point { at, label: label.to_owned() }
}
fn line(from: Point, to: Point, label: &str) -> Mark {
    Mark::Line { from, to, label: label.to_owned() }
}
fn circle(centre: Point, radius: f64, label: &str) -> Mark {
    Mark::Circle { centre, radius, label: label.to_owned() }
}
/// Tip circle, line of centres, tangents to the arbor: what both kinds begin with.
fn ground(radius: f64, a: Point, half_span: f64) -> Vec<Mark> {
    let (left, right) = (on_wheel(radius, -half_span), on_wheel(radius, half_span));
    vec![
        point(WHEEL, "escape arbor"),
        circle(WHEEL, radius, "tip circle"),
        line(WHEEL, a, "line of centres"),
        point(a, "pallet arbor"),
        line(WHEEL, left, "entry radius"),
        line(WHEEL, right, "exit radius"),
        line(a, left, "entry tangent"),
        line(a, right, "exit tangent"),
    ]
}

impl DeadBeat {
    /// The construction, to be drawn in this order.
    #[must_use]
    pub fn setting_out(&self) -> SettingOut {
        let (r, a) = (self.sizes.radius, self.arbor());
        let mut marks = ground(r, a, self.half_span);
        let w = self.width / 2.0;
        for (side, alpha) in [(Side::Entry, -self.half_span), (Side::Exit, self.half_span)] {
            for (sign, end) in [(-1.0, "first"), (1.0, "last")] {
                let p = on_wheel(r, alpha + sign * w);
                marks.push(line(WHEEL, p, &format!("{} pallet, {end} edge", side.word())));
            }
        }
        marks.push(circle(a, self.outer, "outer radius of the nibs"));
        marks.push(circle(a, self.inner, "inner radius of the nibs"));
        for side in [Side::Entry, Side::Exit] {
            let (word, touch) = (side.word(), self.tangent_point(side));
            let (lock, off) = self.corners(side);
            marks.push(circle(a, self.tangent_radius(side), &format!("circle of the {word} impulse plane")));
            let far = if apart(touch, lock) > apart(touch, off) { lock } else { off };
            let beyond = far + unit(far - touch) * (0.05 * r);
            marks.push(line(touch, beyond, &format!("{word} impulse plane, drawn on")));
            marks.push(point(lock, if side == Side::Entry { "E1" } else { "X1" }));
            marks.push(point(off, if side == Side::Entry { "E2" } else { "X2" }));
        }
        let windows = [Side::Entry, Side::Exit].map(|side| {
            let (lock, off) = self.corners(side);
            let half = 1.5 * self.plane(side);
            Window { centre: lock.midpoint(off), half, label: format!("{} nib", side.word()) }
        });
        SettingOut { marks, windows: windows.into() }
    }
}
impl Anchor {
    /// The construction, to be drawn in this order; `points` on each face.
    #[must_use]
    pub fn setting_out(&self, points: u32) -> SettingOut {
        let (r, a) = (self.sizes.radius, self.arbor());
        let mut marks = ground(r, a, self.half_span);
        let mut windows = Vec::new();
        for side in [Side::Entry, Side::Exit] {
            let word = side.word();
            let face = self.face(side, points);
            for (i, p) in face.iter().enumerate() {
                marks.push(point(*p, &format!("{word} {}", i + 1)));
            }
            let arc = self.face_arc(side);
            marks.push(circle(arc.centre, arc.radius, &format!("circle of the {word} face")));
            let (first, last) = (face[0], face[face.len() - 1]);
            let half = 0.75 * apart(first, last);
            windows.push(Window { centre: first.midpoint(last), half, label: format!("{word} face") });
        }
        SettingOut { marks, windows }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::{TURN, off_line};

    #[test]
    fn construction_lines_pass_where_they_should() {
        let d = TURN / 360.0;
        let e = DeadBeat::new(crate::dead_beat::Sizes {
            teeth: 30,
            span: 7,
            radius: 25.0,
            lift: 2.0 * d,
            lock: 0.5 * d,
            drop: 1.5 * d,
            tip: 0.3 * d,
            arc: 2.5 * d,
        })
        .expect("sound sizes");
        let s = e.setting_out();
        for (plane, corners) in
            [("entry impulse plane, drawn on", [e.e1, e.e2]), ("exit impulse plane, drawn on", [e.x1, e.x2])]
        {
            let Some(Mark::Line { from, to, .. }) = s.marks.iter().find(|m| m.label() == plane) else {
                panic!("{plane}")
            };
            for c in corners {
                assert!(off_line(c, *from, *to).abs() < 1e-9);
            }
        }
        let Some(Mark::Line { from, to, .. }) = s.marks.iter().find(|m| m.label() == "entry tangent") else {
            panic!()
        };
        assert!((off_line(WHEEL, *from, *to).abs() - 25.0).abs() < 1e-9);
        assert_eq!(s.windows.len(), 2);
    }
}
