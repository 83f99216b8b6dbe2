//! Drilled holes bored to size: rough cuts out from the drilled wall, a finishing cut, the bottom faced.
//!
//! The tool is controlled at its tip: the corner of the two lines that touch its nose from the left and from above.

use super::super::hand_over::{Ring, ToolShape, ToolWay};
use super::super::{Act, To};
use super::outside::NOSE;
use super::stage::{Bore, CHANGE, Stage, number};
use reckon::maths::{PI, cos, sin};

/// Left for the finishing cut.
const LEFT: f64 = 0.1;
/// How far the tip comes off the wall before it is drawn out.
const OFF: f64 = 0.1;
/// Of the least hole that a tool enters, what it fills.
const FILLS: f64 = 0.9;
/// Feeds a turn: rough, fine.
const FEEDS: (f64, f64) = (0.05, 0.03);

/// Bores a hole; nothing where the tool does not enter it, or does not reach, or there is nothing to take.
#[must_use]
pub fn bore(b: &Bore, rpm: f64) -> Option<Stage> {
    let take = b.radius - b.drilled;
    if b.enters > 2.0 * b.drilled + 1e-9 || b.reach < b.depth + 0.5 || take < 0.02 || b.deepest < 0.02 {
        return None;
    }
    let left = LEFT.min(0.5 * take);
    let bottom = if b.through { -b.depth } else { left - b.depth };
    let n = ((take - left) / b.deepest - 1e-9).ceil().max(1.0);
    let mut acts = vec![Act::Rapid(To::x(b.drilled - OFF)), Act::Rapid(To::z(1.0))];
    let mut k = 1.0;
    while k <= n {
        let radius = b.drilled + (take - left) * k / n;
        acts.push(Act::Rapid(To::x(radius)));
        acts.push(Act::Line { to: To::z(bottom), feed: FEEDS.0 });
        acts.push(Act::Line { to: To::x(radius - OFF), feed: FEEDS.0 });
        acts.push(Act::Rapid(To::z(1.0)));
        k += 1.0;
    }
    acts.push(Act::Rapid(To::x(b.radius)));
    acts.push(Act::Line { to: To::z(-b.depth), feed: FEEDS.1 });
    let clear = if b.through { b.radius - OFF } else { b.drilled - OFF };
    acts.push(Act::Line { to: To::x(clear), feed: FEEDS.1 });
    acts.push(Act::Rapid(To::z(CHANGE)));
    let corner =
        |z: f64| vec![(z, b.radius), (z, b.radius - NOSE), (z + NOSE, b.radius - NOSE), (z + NOSE, b.radius)];
    Some(Stage {
        word: "bore",
        says: format!("bore {} mm", number(2.0 * b.radius)),
        does: Vec::new(),
        tool: b.name.clone(),
        matters: format!(
            "nose of {NOSE} mm radius, its edge on the far side from the bar's middle, enters {} mm, reaches {} mm; X on a trial cut in the hole, Z on the face",
            number(b.enters),
            number(b.reach)
        ),
        shape: tool(b),
        rpm,
        acts,
        takes: vec![vec![(-b.depth, 0.0), (0.0, 0.0), (0.0, b.radius), (-b.depth, b.radius)]],
        leaves: if b.through { Vec::new() } else { vec![corner(-b.depth)] },
        parts_at: None,
    })
}
/// The tool about its tip: a point to the wall, its bar behind it.
fn tool(b: &Bore) -> ToolShape {
    let far = 0.35 * b.enters;
    let way = |degrees: f64| {
        let a = degrees * PI / 180.0;
        (NOSE + far * cos(a), -NOSE + far * sin(a))
    };
    let mut ring: Ring = Vec::new();
    for (z, r) in [(NOSE, -NOSE), way(-87.0), way(-32.0)] {
        ring.extend((0..64).map(|i| {
            let a = PI * f64::from(i) / 32.0;
            (z + NOSE * cos(a), r + NOSE * sin(a))
        }));
    }
    let bar = |z0: f64, z1: f64, r0: f64, r1: f64| vec![(z0, r0), (z1, r0), (z1, r1), (z0, r1)];
    ToolShape {
        number: 0,
        cutting: vec![ring],
        holder: vec![
            bar(0.6, b.reach, -FILLS * b.enters, -0.3 * b.enters),
            bar(b.reach, b.reach + 30.0, -FILLS * b.enters - 6.0, 6.0),
        ],
        most_feed: Some(0.08),
        way: ToolWay::Any,
        most_bite: None,
        near_axis: None,
        most_speed: None,
    }
}
