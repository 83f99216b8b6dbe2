//! The edges of a ring moved sideways and joined again, before what crosses is cleared away.

use i_overlay::i_float::int::point::IntPoint;
use kurbo::Vec2;
use reckon::maths;

use super::Corners;

/// What is put between two moved edges that leave a gap.
#[derive(Debug, Clone, Copy)]
pub(super) enum Join {
    /// An arc about the corner, in even steps of at most this angle in radians.
    Arc(f64),
    /// Both edges drawn out, no further from the corner than this multiple of the distance.
    Mitre(f64),
}

/// A ring with every edge moved to its right (away from the metal) by `distance` grid steps,
/// to its left when that is below zero.
///
/// The result may cross itself. Whatever it winds round once or more, counted anticlockwise,
/// together with the other rings of the region, is the moved region.
pub(super) fn moved(ring: &[IntPoint<i64>], distance: f64, join: Join) -> Corners {
    let mut out = Corners::with_capacity(2 * ring.len());
    let Some(&last) = ring.last() else { return out };
    let mut before = last;
    for (&corner, &after) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let (into, from) = (edge(before, corner), edge(corner, after));
        let (enter, leave) = (Vec2::new(into.0.y, -into.0.x), Vec2::new(from.0.y, -from.0.x));
        let (sine, cosine) = (into.0.cross(from.0), into.0.dot(from.0));
        let mut put = |by: Vec2| {
            let point = IntPoint::new(corner.x + whole(by.x), corner.y + whole(by.y));
            if out.last() != Some(&point) {
                out.push(point);
            }
        };
        // Where the moved edges meet: finite unless the ring turns right back.
        let meeting = (enter + leave) * (distance / (1.0 + cosine));
        if sine * distance > 0.0 {
            match join {
                Join::Arc(step) => {
                    let turn = maths::atan2(sine, cosine);
                    let count = (turn.abs() / step).ceil().max(1.0);
                    put(enter * distance);
                    let mut i = 1.0;
                    while i < count {
                        put(turned(enter, turn * i / count) * distance);
                        i += 1.0;
                    }
                    put(leave * distance);
                }
                Join::Mitre(limit) if meeting.hypot2() <= limit * limit * distance * distance => put(meeting),
                Join::Mitre(limit) => {
                    let past = distance.abs() * (limit * limit - 1.0).sqrt();
                    put(enter * distance + into.0 * past);
                    put(leave * distance - from.0 * past);
                }
            }
        } else if distance.abs() * sine.abs() <= 0.5 * (1.0 + cosine) * into.1.min(from.1) {
            // Both edges stay at least half as long: what lies past their meeting is cut off now.
            put(meeting);
        } else {
            // By way of the corner itself, so that the loop winds the other way and vanishes.
            put(enter * distance);
            put(Vec2::ZERO);
            put(leave * distance);
        }
        before = corner;
    }
    out
}

/// Direction and length of an edge, in grid steps.
#[expect(clippy::cast_precision_loss, reason = "a direction needs no more than f64")]
fn edge(from: IntPoint<i64>, to: IntPoint<i64>) -> (Vec2, f64) {
    let along = Vec2::new((to.x - from.x) as f64, (to.y - from.y) as f64);
    let length = along.hypot2().sqrt();
    (along / length, length)
}

fn turned(v: Vec2, angle: f64) -> Vec2 {
    let (sine, cosine) = (maths::sin(angle), maths::cos(angle));
    Vec2::new(v.x * cosine - v.y * sine, v.x * sine + v.y * cosine)
}

#[expect(clippy::cast_possible_truncation, reason = "REACH keeps it far inside i64")]
fn whole(steps: f64) -> i64 {
    steps.round() as i64
}
