//! Whole outlines of wheels and pinions, of straight lines and arcs only.
//!
//! Plain millimetres, the wheel's centre in the origin and the axis of one tooth along +x; outlines run
//! counter-clockwise. Ogive teeth and leaves are arcs, and so exact; other curves are followed by arcs to
//! a tolerance, and the widest gap is told.

use crate::curve::{FlankArc, Form, Lantern, Leaf, Wheel};
use crate::involute::Involute;
use crate::trace::{follow, moved, push};
use kurbo::{Point, Vec2};
use reckon::maths::{PI, asin, cos, sin};
use shape::flat::Flat;
use shape::profile::{Profile, SAME, Segment, Sense, distance, on_circle};

/// Tolerance for curves that are no arcs, where nothing else is asked: half a micrometre.
pub const TOLERANCE: f64 = 0.0005;

/// An outline and how true it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The closed outline.
    pub profile: Profile,
    /// Widest gap between the outline and the true curve; 0 where the form itself is arcs.
    pub reached: f64,
}

/// Bottom of the spaces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Root {
    /// Sharp corners on the root circle.
    Square,
    /// Corners rounded to this radius, or as much as the space holds.
    Fillet(f64),
    /// One arc from flank to flank.
    Round,
}

/// Half of a tooth and half of its space: from the tip down the +y side to the root.
pub(crate) struct Half {
    pub count: u32,
    pub chain: Vec<Segment>,
    pub reached: f64,
}

pub(crate) fn at(rho: f64, angle: f64) -> Point {
    on_circle(Point::ORIGIN, rho, angle)
}
fn turned(p: Point, angle: f64) -> Point {
    let (c, s) = (cos(angle), sin(angle));
    Point::new(p.x * c - p.y * s, p.x * s + p.y * c)
}
fn mirrored(p: Point) -> Point {
    Point::new(p.x, -p.y)
}

/// A straight radial flank and the bottom of its space.
#[derive(Clone, Copy)]
pub(crate) struct Foot {
    /// Half-angle of the straight flank.
    pub half: f64,
    /// From the tooth's axis to the middle of the space.
    pub step: f64,
    /// Radius of the root circle.
    pub root: f64,
    /// Radius at which the straight flank ends.
    pub top: f64,
}
impl Foot {
    /// Segments from the end of the curved flank, at the top of the straight one to within a hair, down
    /// to the root.
    pub fn segments(self, kind: Root, begin: Point) -> Vec<Segment> {
        let Foot { half, step, root, top } = self;
        let line = |rho: f64| Segment::Line { from: begin, to: at(rho, half) };
        let mut out = Vec::new();
        let mut add_line = |rho: f64| {
            if top - rho > SAME {
                out.push(line(rho));
            }
        };
        // The fillet that leaves the flank at its very end is the largest the flank holds.
        let most = (top * top - root * root) / (2.0 * root);
        let sigma = sin(step - half);
        let round = root * sigma / (1.0 - sigma);
        let q = match kind {
            Root::Square => 0.0,
            Root::Fillet(q) => q.min(round).min(most),
            Root::Round => round.min(most),
        };
        if q <= SAME {
            add_line(root);
            return out;
        }
        let lean = asin(q / (root + q));
        let tangent = ((root + q) * (root + q) - q * q).sqrt();
        add_line(tangent);
        out.push(Segment::Arc {
            from: if top - tangent > SAME { at(tangent, half) } else { begin },
            to: at(root, half + lean),
            centre: at(root + q, half + lean),
            radius: q,
            sense: Sense::Right,
        });
        out
    }
}

/// The whole ring of teeth.
pub(crate) fn ring(half: &Half) -> Outline {
    let step = 2.0 * PI / f64::from(half.count);
    let foot = half.chain.last().map_or(Point::ORIGIN, Segment::to);
    let tip = half.chain.first().map_or(Point::ORIGIN, Segment::from);
    let first = mirrored(foot);
    let mut p = Profile::start(first.x, first.y);
    for k in 0..half.count {
        let a = step * f64::from(k);
        for s in half.chain.iter().rev() {
            p = push(p, &moved(&s.reversed(), true, |q| turned(mirrored(q), a)));
        }
        let top = turned(tip, a);
        if distance(p.end(), top) > SAME {
            p = p.arc_to(top, Point::ORIGIN, Sense::Left);
        }
        for s in &half.chain {
            p = push(p, &moved(s, false, |q| turned(q, a)));
        }
        let next = if k + 1 == half.count { first } else { turned(first, a + step) };
        if distance(p.end(), next) > SAME {
            p = p.arc_to(next, Point::ORIGIN, Sense::Left);
        }
    }
    Outline { profile: p, reached: half.reached }
}

/// The arc of an ogive at a module, from the tip down to the pitch circle.
fn ogive(arc: FlankArc, pitch: f64, half: f64, tip: f64, module: f64) -> Segment {
    Segment::Arc {
        from: at(module * tip, 0.0),
        to: at(module * pitch, half),
        centre: at(module * arc.distance, -arc.past),
        radius: module * arc.radius,
        sense: Sense::Left,
    }
}
fn wheel_half(wheel: &Wheel, module: f64, root: Root, tolerance: f64) -> Half {
    let m = module;
    let half = wheel.pitch_half_angle();
    let foot = Foot {
        half,
        step: PI / f64::from(wheel.teeth()),
        root: m * wheel.root_radius(),
        top: m * wheel.radial_to(),
    };
    let (mut chain, reached) = match wheel.arc() {
        Some(arc) => (vec![ogive(arc, wheel.pitch_radius(), half, wheel.tip_radius(), m)], 0.0),
        None => follow(
            |u| {
                let (rho, a) = wheel.rise(1.0 - u);
                at(m * rho, a.max(0.0))
            },
            tolerance,
        ),
    };
    let begin = chain.last().map_or(at(foot.top, half), Segment::to);
    chain.extend(foot.segments(root, begin));
    Half { count: wheel.teeth(), chain, reached }
}
/// Outline of a wheel at a module; true epicycloids and a lantern's wheel are followed to `tolerance`.
/// The roots of a wheel for leaves are arcs of the root circle; those of a lantern's wheel are round.
#[must_use]
pub fn wheel(wheel: &Wheel, module: f64, tolerance: f64) -> Outline {
    let root = if matches!(wheel.form(), Form::Lantern { .. }) { Root::Round } else { Root::Square };
    ring(&wheel_half(wheel, module, root, tolerance))
}
/// The same with roots of another kind.
#[must_use]
pub fn wheel_rooted(wheel: &Wheel, module: f64, root: Root, tolerance: f64) -> Outline {
    ring(&wheel_half(wheel, module, root, tolerance))
}
/// Outline of a pinion at a module; exact.
#[must_use]
pub fn pinion(leaf: &Leaf, module: f64, root: Root) -> Outline {
    ring(&pinion_half(leaf, module, root))
}
fn pinion_half(leaf: &Leaf, module: f64, root: Root) -> Half {
    let (m, half) = (module, leaf.pitch_half_angle());
    let mut chain = vec![ogive(leaf.arc(), leaf.pitch_radius(), half, leaf.tip_radius(), m)];
    let step = PI / f64::from(leaf.leaves());
    let foot = Foot { half, step, root: m * leaf.root_radius(), top: m * leaf.pitch_radius() };
    chain.extend(foot.segments(root, at(foot.top, half)));
    Half { count: leaf.leaves(), chain, reached: 0.0 }
}
/// Outline of an involute wheel at a module, the flanks followed to `tolerance`.
///
/// Below the base circle the flank is drawn radial and rounded into the root; the trochoid that a rack
/// would leave there is not drawn, so an undercut wheel shows more metal at its foot than it has.
#[must_use]
pub fn involute(gear: &Involute, module: f64, tolerance: f64) -> Outline {
    ring(&gear.half(module, tolerance))
}

/// Section of the cutter for a wheel: closed, its axis along +y, its end on the x axis; flanks and cheeks
/// as the space between two teeth has them.
#[must_use]
pub fn wheel_cutter(wheel: &Wheel, module: f64, tolerance: f64) -> Outline {
    cutter(&wheel_half(wheel, module, Root::Square, tolerance))
}
/// Section of the cutter for a pinion, its end rounded as `root` says.
#[must_use]
pub fn pinion_cutter(leaf: &Leaf, module: f64, root: Root) -> Outline {
    cutter(&pinion_half(leaf, module, root))
}
fn cutter(half: &Half) -> Outline {
    // The tooth to the right of the space, its axis leaning away from the cutter's.
    let lean = PI / 2.0 - PI / f64::from(half.count);
    let right: Vec<Segment> = half.chain.iter().map(|s| moved(s, false, |p| turned(p, lean))).collect();
    let foot = right.last().map_or(Point::ORIGIN, Segment::to);
    let down = Vec2::new(0.0, -foot.y);
    let right: Vec<Segment> = right.iter().map(|s| moved(s, false, |p| p + down)).collect();
    let across = |p: Point| Point::new(-p.x, p.y);
    let mut p = Profile::start(-foot.x, 0.0).line(foot.x, 0.0);
    for s in right.iter().rev() {
        p = push(p, &s.reversed());
    }
    let top = across(p.end());
    p = p.line(top.x, top.y);
    for s in &right {
        p = push(p, &moved(s, true, across));
    }
    Outline { profile: p, reached: half.reached }
}

/// Centres of a lantern's pins at a module, the first on +x.
#[must_use]
pub fn pin_centres(lantern: &Lantern, module: f64) -> Vec<Point> {
    let step = 2.0 * PI / f64::from(lantern.pins());
    (0..lantern.pins()).map(|k| at(module * lantern.pitch_radius(), step * f64::from(k))).collect()
}
/// An end disc of a lantern: bore in the middle, a hole for each pin.
#[must_use]
pub fn lantern_disc(lantern: &Lantern, module: f64, outside: f64, bore: f64, thickness: f64) -> Flat {
    let disc =
        Flat::new(Profile::circle(Point::ORIGIN, outside / 2.0), thickness).hole(0.0, 0.0, bore, "bore");
    let pin = 2.0 * module * lantern.pin_radius();
    pin_centres(lantern, module).iter().fold(disc, |d, c| d.hole(c.x, c.y, pin, "pin"))
}

/// A wheel as a flat part: outline of its teeth, bore in the middle, windows between the arms.
#[must_use]
pub fn wheel_flat(teeth: Profile, bore: f64, windows: Vec<Profile>, thickness: f64) -> Flat {
    let mut flat = Flat::new(teeth, thickness);
    if bore > 0.0 {
        flat = flat.hole(0.0, 0.0, bore, "bore");
    }
    flat.windows = windows;
    flat
}

#[cfg(test)]
mod tests;
