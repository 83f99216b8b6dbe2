//! Outlines of escape wheels and pallets, closed chains of lines and arcs to be made as parts.
//!
//! Plain millimetres and radians in the plane of [`crate::frame`], pallets in the middle of their swing.

use crate::check::{Amiss, positive};
use crate::cycle::{Face, Nib, Wheel};
use crate::dead_beat::Side;
use crate::dead_beat::checks::ToothForm;
use crate::frame::{
    TURN, WHEEL, apart, arrow, bearing, circles_meet, left_of, length, mirrored, on_wheel, turned,
    turned_about, unit, wheel_angle,
};
use kurbo::{Point, Vec2};
use reckon::maths::{PI, asin, cos, sin};
use shape::profile::Profile;
use shape::segment::{Segment, Sense};

/// The arms and boss that carry two nibs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Width of each arm.
    pub arm: f64,
    /// Diameter of the boss about the arbor.
    pub boss: f64,
    /// Least gap of the arms from the tips of the wheel at full swing.
    pub clear: f64,
}

/// The corners of one tooth, leading tip on the line of centres: foot of the front, toe, heel, foot of the back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothCorners {
    /// Where the front meets the root circle.
    pub front: Point,
    /// Leading corner of the tip.
    pub toe: Point,
    /// Trailing corner of the tip.
    pub heel: Point,
    /// Where the back meets the root circle.
    pub back: Point,
}

/// From a tip corner inward, `lean` behind the radius, to the root circle.
fn flank(tip: Point, lean: f64, root: f64) -> Option<Point> {
    let inward = turned(unit(-tip.to_vec2()), -lean);
    // Clockwise turn of the wheel: behind the radius is to its counter-clockwise side.
    let along = -tip.to_vec2().dot(inward);
    let off = tip.to_vec2().hypot2() - along * along;
    let half = root * root - off;
    (half > 0.0).then(|| tip + inward * (along - half.sqrt()))
}

/// Corners of a tooth.
///
/// # Errors
/// A tooth that its flanks make no tooth of, or that leaves no room for the next.
pub fn tooth_corners(radius: f64, tip: f64, pitch: f64, form: &ToothForm) -> Result<ToothCorners, Amiss> {
    positive("radius", radius)?;
    positive("depth", form.depth)?;
    if form.depth >= 0.6 * radius {
        return Err(Amiss::new("depth", "the teeth would leave no rim"));
    }
    if form.back < form.undercut {
        return Err(Amiss::new("back", "the back must lean at least as far as the front"));
    }
    let root = radius - form.depth;
    let (toe, heel) = (on_wheel(radius, 0.0), on_wheel(radius, -tip));
    let none = |size| Amiss::new(size, "this flank never reaches the root circle");
    let front = flank(toe, form.undercut, root).ok_or_else(|| none("undercut"))?;
    let back = flank(heel, form.back, root).ok_or_else(|| none("back"))?;
    if wheel_angle(front) - wheel_angle(back) >= pitch {
        return Err(Amiss::new("back", "the teeth stand so thick that they meet at the root"));
    }
    Ok(ToothCorners { front, toe, heel, back })
}

/// The arc of a hollow back from heel to foot, its centre on the side of the gullet behind.
fn hollow_centre(heel: Point, foot: Point, radius: f64) -> Option<Point> {
    let (l, r) = circles_meet(heel, radius, foot, radius)?;
    // Behind the tooth is the counter-clockwise side, right of the way from heel to foot.
    let behind = |p: &Point| (foot - heel).cross(*p - heel);
    Some(if behind(&l) < behind(&r) { l } else { r })
}

/// The working part of one tooth, from the foot of the front over the tip to the foot of the back.
///
/// # Errors
/// As [`tooth_corners`]; a hollow back of too small a radius.
pub fn tooth(radius: f64, tip: f64, pitch: f64, form: &ToothForm) -> Result<Vec<Segment>, Amiss> {
    let c = tooth_corners(radius, tip, pitch, form)?;
    let mut out = vec![Segment::Line { from: c.front, to: c.toe }];
    if apart(c.toe, c.heel) > 1e-9 {
        out.push(Segment::Arc { from: c.toe, to: c.heel, centre: WHEEL, radius, sense: Sense::Left });
    }
    out.push(match form.hollow {
        None => Segment::Line { from: c.heel, to: c.back },
        Some(r) => {
            let centre = hollow_centre(c.heel, c.back, r).ok_or_else(|| {
                Amiss::new("hollow", "an arc of this radius does not reach from tip to root")
            })?;
            Segment::Arc { from: c.heel, to: c.back, centre, radius: r, sense: Sense::Right }
        }
    });
    Ok(out)
}

/// The wheel for a cycle.
///
/// # Errors
/// As [`tooth`].
pub fn wheel(teeth: u32, radius: f64, tip: f64, form: &ToothForm) -> Result<Wheel, Amiss> {
    let pitch = TURN / f64::from(teeth);
    Ok(Wheel { teeth, tooth: tooth(radius, tip, pitch, form)?, root: radius - form.depth })
}

/// The whole escape wheel, counter-clockwise, with gullets rounded to the fillet of the form.
///
/// # Errors
/// As [`tooth`]; fillets that the gullet has no room for.
pub fn wheel_outline(teeth: u32, radius: f64, tip: f64, form: &ToothForm) -> Result<Profile, Amiss> {
    let pitch = TURN / f64::from(teeth);
    let chain = tooth(radius, tip, pitch, form)?;
    let root = radius - form.depth;
    let none = || Amiss::new("fillet", "the gullet has no room for this radius");
    // On a tooth: where the front leaves its fillet, where the back enters its own, and both on the root circle.
    let front = fillet(&chain[0], root, form.fillet, false).ok_or_else(none)?;
    let back = fillet(&chain[chain.len() - 1], root, form.fillet, true).ok_or_else(none)?;
    // Counter-clockwise along the root from the back of one tooth to the front of the next.
    let gap = pitch - (wheel_angle(front.on_root) - wheel_angle(back.on_root));
    if gap < -1e-12 {
        return Err(none());
    }
    let first = front.on_root;
    let mut out = Profile::start(first.x, first.y);
    for i in 0..teeth {
        let by = pitch * f64::from(i);
        let t = |p: Point| turned_about(p, WHEEL, by);
        if form.fillet > 0.0 {
            out = out.arc_to(t(front.on_flank), t(front.centre), Sense::Right);
        }
        for s in &chain {
            let to = match s {
                _ if apart(s.to(), chain[chain.len() - 1].to()) < 1e-9 => back.on_flank,
                _ => s.to(),
            };
            out = match *s {
                Segment::Line { .. } => out.line(t(to).x, t(to).y),
                Segment::Arc { centre, sense, .. } => out.arc_to(t(to), t(centre), sense),
            };
        }
        if form.fillet > 0.0 {
            out = out.arc_to(t(back.on_root), t(back.centre), Sense::Right);
        }
        let next = turned_about(first, WHEEL, by + pitch);
        let next = if i + 1 == teeth { first } else { next };
        if gap > 1e-9 {
            out = out.arc_to(next, WHEEL, Sense::Left);
        }
    }
    Ok(out)
}

struct Fillet {
    on_flank: Point,
    on_root: Point,
    centre: Point,
}
/// A round between a flank and the root circle, in the gullet: behind the tooth when `behind`, else before it.
fn fillet(s: &Segment, root: f64, r: f64, behind: bool) -> Option<Fillet> {
    let foot = if behind { s.to() } else { s.from() };
    if r <= 0.0 {
        return Some(Fillet { on_flank: foot, on_root: foot, centre: foot });
    }
    let far = root + r;
    let centre = match *s {
        Segment::Line { from, to } => {
            let u = unit(to - from);
            // The gullet lies right of the way round the tooth.
            let base = from - left_of(u) * r;
            let near = base - u * base.to_vec2().dot(u);
            let half = far * far - near.to_vec2().hypot2();
            if half < 0.0 {
                return None;
            }
            let (p, q) = (near + u * half.sqrt(), near - u * half.sqrt());
            if apart(p, foot) < apart(q, foot) { p } else { q }
        }
        Segment::Arc { centre, radius, .. } => {
            let (p, q) = circles_meet(WHEEL, far, centre, radius - r)?;
            if apart(p, foot) < apart(q, foot) { p } else { q }
        }
    };
    let on_flank = match *s {
        Segment::Line { from, to } => {
            let u = unit(to - from);
            let along = (centre - from).dot(u);
            if along <= 0.0 || along >= apart(from, to) {
                return None;
            }
            from + u * along
        }
        Segment::Arc { centre: c, radius, .. } => c + unit(centre - c) * radius,
    };
    Some(Fillet { on_flank, on_root: WHEEL + unit(centre.to_vec2()) * root, centre })
}

/// The working end of a dead-beat pallet from its corners: dead face an arc about the arbor, `length` as an
/// angle, the impulse plane, and the other side of the ring.
#[must_use]
pub fn dead_beat_nib(side: Side, arbor: Point, lock: Point, off: Point, length: f64) -> Nib {
    // Faces run away from the wheel: clockwise about the arbor at the entry, counter-clockwise at the exit.
    let (away, sense) = match side {
        Side::Entry => (-length, Sense::Left),
        Side::Exit => (length, Sense::Right),
    };
    let arc = |from: Point, to: Point, sense: Sense| {
        let radius = apart(from, arbor);
        Segment::Arc { from, to, centre: arbor, radius, sense }
    };
    let other = if sense == Sense::Left { Sense::Right } else { Sense::Left };
    Nib {
        chain: vec![
            arc(turned_about(lock, arbor, away), lock, sense),
            Segment::Line { from: lock, to: off },
            arc(off, turned_about(off, arbor, away), other),
        ],
        faces: vec![Face::Dead, Face::Impulse, Face::Back],
    }
}

/// How far clockwise of straight down the lower edge of the left arm must stand, so that it keeps clear of
/// the tips at full swing.
fn arm_angle(centres: f64, radius: f64, arc: f64, body: &Body) -> Option<f64> {
    let s = (radius + body.clear + body.arm) / centres;
    (s < 1.0).then(|| asin(s) + arc)
}

/// A closed outline of pallets whose nibs lie between two radii about the arbor: both arms run straight from
/// the boss, and nib and arm meet on the ring. Counter-clockwise.
///
/// `faces` are the working chains from left to right: for the entry from the outer radius over its face to
/// the inner, for the exit from the inner radius over its face to the outer; `needed` is the least length
/// of nib before the arm, as an angle about the arbor.
///
/// # Errors
/// Arms that cannot clear the wheel, or a boss that the arms do not fit.
pub fn pallets_outline(
    arbor: Point,
    entry: &[Segment],
    exit: &[Segment],
    needed: f64,
    wheel: (f64, f64),
    body: &Body,
) -> Result<Profile, Amiss> {
    positive("arm_width", body.arm)?;
    positive("boss", body.boss)?;
    let (half, boss) = (body.arm / 2.0, body.boss / 2.0);
    if boss <= half {
        return Err(Amiss::new("boss", "the boss must be wider than the arms"));
    }
    let (e_from, e_to) = (entry[0].from(), entry[entry.len() - 1].to());
    let (x_from, x_to) = (exit[0].from(), exit[exit.len() - 1].to());
    let (radius, arc) = wheel;
    let clear = arm_angle(arbor.y, radius, arc, body)
        .ok_or_else(|| Amiss::new("arm_width", "arms from the boss to the nibs would run into the wheel"))?;
    // Angles are counted from straight down, to either side.
    let down = |p: Point| {
        let v = p - arbor;
        reckon::maths::atan2(v.x.abs(), -v.y)
    };
    let mut out = None;
    let mut sides = Vec::new();
    for (outer, inner) in [(e_from, e_to), (x_to, x_from)] {
        let (ro, ri) = (apart(outer, arbor), apart(inner, arbor));
        if ri <= boss || ro <= ri {
            return Err(Amiss::new("boss", "the boss reaches as far as the nibs"));
        }
        let (low, high) = (asin(half / ri), asin(half / ro));
        let arm = (down(inner) + needed + low).max(down(outer) + needed - high).max(clear);
        if arm > 0.75 * PI {
            return Err(Amiss::new("arm_width", "arms so wide find no room"));
        }
        sides.push((ro, ri, arm - low, arm + high, arm));
        out = Some(arm);
    }
    let (Some(_), [left, right]) = (out, sides.as_slice()) else {
        return Err(Amiss::new("boss", "no nibs to carry"));
    };
    let at = |r: f64, angle: f64, left: bool| {
        let x = r * sin(angle);
        Point::new(arbor.x + if left { -x } else { x }, arbor.y - r * cos(angle))
    };
    let lean = asin(half / boss);
    if left.4 - lean + right.4 - lean <= 0.02 {
        return Err(Amiss::new("boss", "the arms would meet at the boss"));
    }
    let upper = at(left.0, left.3, true);
    let mut p = Profile::start(upper.x, upper.y);
    if apart(upper, e_from) > 1e-9 {
        p = p.arc_to(e_from, arbor, Sense::Left);
    }
    p = follow(p, entry);
    let low_left = at(left.1, left.2, true);
    if apart(low_left, e_to) > 1e-9 {
        p = p.arc_to(low_left, arbor, Sense::Right);
    }
    let (a, b) = (at(boss, left.4 - lean, true), at(boss, right.4 - lean, false));
    p = p.line(a.x, a.y).arc_to(b, arbor, Sense::Left);
    let low_right = at(right.1, right.2, false);
    p = p.line(low_right.x, low_right.y);
    if apart(low_right, x_from) > 1e-9 {
        p = p.arc_to(x_from, arbor, Sense::Right);
    }
    p = follow(p, exit);
    let upper_right = at(right.0, right.3, false);
    if apart(upper_right, x_to) > 1e-9 {
        p = p.arc_to(upper_right, arbor, Sense::Left);
    }
    let (c, d) = (at(boss, right.4 + lean, false), at(boss, left.4 + lean, true));
    Ok(p.line(c.x, c.y).arc_to(d, arbor, Sense::Left).line(upper.x, upper.y))
}
/// Adds pieces that begin where the chain ends.
fn follow(mut p: Profile, chain: &[Segment]) -> Profile {
    for s in chain {
        p = match *s {
            Segment::Line { to, .. } => p.line(to.x, to.y),
            Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
        };
    }
    p
}

/// A chain seen in the mirror of the line of centres, from its end to its beginning.
#[must_use]
pub fn mirrored_chain(chain: &[Segment]) -> Vec<Segment> {
    let m = mirrored;
    let flip = |s: &Segment| match *s {
        Segment::Line { from, to } => Segment::Line { from: m(to), to: m(from) },
        Segment::Arc { from, to, centre, radius, sense } => {
            Segment::Arc { from: m(to), to: m(from), centre: m(centre), radius, sense }
        }
    };
    chain.iter().rev().map(flip).collect()
}

/// The line through a point at a bearing, both ways by `reach`: for setting out.
#[must_use]
pub fn through(p: Point, towards: Vec2, reach: f64) -> (Point, Point) {
    let u = if length(towards) > 0.0 { unit(towards) } else { arrow(bearing(towards)) };
    (p - u * reach, p + u * reach)
}
