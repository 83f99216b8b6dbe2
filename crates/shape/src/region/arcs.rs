//! Arcs as chords to a stated accuracy.

use kurbo::Point;
use reckon::maths::{self, PI};

use super::Fault;

/// Most chords that one arc may become; beyond, the accuracy is refused.
const MOST_CHORDS: f64 = 1.0e6;

/// The sense in which an arc runs, seen with y upwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Anticlockwise.
    Left,
    /// Clockwise.
    Right,
}

/// One step of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// A straight line.
    Line {
        /// Where it ends.
        to: Point,
    },
    /// An arc; ending where it begins, it is a whole circle.
    Arc {
        /// Where it ends.
        to: Point,
        /// Its centre.
        centre: Point,
        /// Which way it runs.
        turn: Turn,
    },
}

/// The corners of an outline, its arcs followed to `within` millimetres.
pub(super) fn follow(start: Point, steps: &[Step], within: f64) -> Result<Vec<Point>, Fault> {
    check_accuracy(within)?;
    let mut corners = vec![start];
    let mut from = start;
    for step in steps {
        match *step {
            Step::Line { to } => {
                corners.push(to);
                from = to;
            }
            Step::Arc { to, centre, turn } => {
                arc(&mut corners, from, to, centre, turn, within)?;
                from = to;
            }
        }
    }
    Ok(corners)
}

/// The corners of a circle, anticlockwise from its +x point.
pub(super) fn circle(centre: Point, radius: f64, within: f64) -> Result<Vec<Point>, Fault> {
    check_accuracy(within)?;
    if !(radius > 0.0 && radius.is_finite()) {
        return Err(if radius.is_finite() { Fault::NoRadius(radius) } else { Fault::NotFinite });
    }
    let count = chords(radius, 2.0 * PI, within)?.max(3);
    Ok((0..count).map(|i| at(centre, radius, 2.0 * PI * f64::from(i) / f64::from(count))).collect())
}

fn arc(
    corners: &mut Vec<Point>,
    from: Point,
    to: Point,
    centre: Point,
    turn: Turn,
    within: f64,
) -> Result<(), Fault> {
    let (start, end) = ((from - centre).hypot2().sqrt(), (to - centre).hypot2().sqrt());
    if !(start.is_finite() && end.is_finite()) {
        return Err(Fault::NotFinite);
    }
    if (start - end).abs() > within {
        return Err(Fault::NotAnArc { start, end });
    }
    if start <= 0.0 {
        return Err(Fault::NoRadius(start));
    }
    let first = maths::atan2(from.y - centre.y, from.x - centre.x);
    let last = maths::atan2(to.y - centre.y, to.x - centre.x);
    let mut sweep = match turn {
        Turn::Left => last - first,
        Turn::Right => first - last,
    };
    if sweep <= 0.0 {
        sweep += 2.0 * PI;
    }
    let count = chords(start.max(end), sweep, within)?;
    let sense = if turn == Turn::Left { 1.0 } else { -1.0 };
    for i in 1..count {
        let part = f64::from(i) / f64::from(count);
        // A radius that differs within the accuracy is led over evenly.
        corners.push(at(centre, start + (end - start) * part, first + sense * sweep * part));
    }
    corners.push(to);
    Ok(())
}

/// How many chords keep within `within` of an arc: sagitta r (1 − cos(step / 2)).
fn chords(radius: f64, sweep: f64, within: f64) -> Result<u32, Fault> {
    // sin² of a quarter step, which does not cancel for small steps.
    let quarter = maths::asin((0.5 * within / radius).min(0.5).sqrt());
    let count = (sweep / (4.0 * quarter)).ceil().max(1.0);
    if count > MOST_CHORDS {
        let finest = 2.0 * radius * square(maths::sin(0.25 * sweep / MOST_CHORDS));
        return Err(Fault::TooFine { asked: within, finest });
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 … 1e6 by the lines above")]
    let count = count as u32;
    Ok(count)
}

fn square(x: f64) -> f64 {
    x * x
}

fn at(centre: Point, radius: f64, angle: f64) -> Point {
    Point::new(centre.x + radius * maths::cos(angle), centre.y + radius * maths::sin(angle))
}

pub(super) fn check_accuracy(within: f64) -> Result<(), Fault> {
    if !within.is_finite() {
        return Err(Fault::NotFinite);
    }
    if within <= 0.0 {
        return Err(Fault::NoAccuracy(within));
    }
    Ok(())
}
