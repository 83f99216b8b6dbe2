//! Walls: closed rings in plan, swept from one height to another.
//!
//! A ring is travelled with the metal on its left: outlines counter-clockwise, holes clockwise. Each piece of a ring
//! is swept straight up, or, where the ring is a circle, along a line or an arc of the meridian.

use kurbo::Point;
use reckon::maths::{PI, atan2, cos, sin};
use shape::profile::{SAME, Segment, Sense, distance, on_circle};

use crate::brep::{Axes, Brep, Curve, Face, Surface, Use, Xyz};

/// How a circle changes from the bottom to the top of its wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Meridian {
    /// Straight: a cylinder or a cone.
    Line,
    /// An arc in (z, r), travelled as `sense` says from bottom to top.
    Arc { z: f64, r: f64, radius: f64, sense: Sense },
}

/// What is swept.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Ring {
    /// Any closed chain, straight up.
    Plan(Vec<Segment>),
    /// A circle about an upright axis; `metal_inside` for an outline, else a hole.
    Round { about: Point, bottom: f64, top: f64, meridian: Meridian, metal_inside: bool },
    /// What a slot leaves of a dome on one side: arcs of the rim, then the chord back. The dome is part of a sphere
    /// about (0, 0, `z`) and rises from the rim, or hangs from it.
    Dome { rim: Vec<Segment>, chord: Vec<Segment>, z: f64, radius: f64, rises: bool },
}

/// One wall.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tube {
    pub z0: f64,
    pub z1: f64,
    pub ring: Ring,
}

/// A piece of a level's boundary: the edge, and whether metal below it ends (+1) or metal above begins (−1).
#[derive(Clone, Debug)]
pub(crate) struct Bound {
    pub z: f64,
    pub edge: Use,
    /// The plan of the edge as it is used.
    pub plan: Segment,
}

fn up(p: Point, z: f64) -> Xyz {
    Xyz(p.x, p.y, z)
}

/// An arc of a circle in plan from one angle to another, counter-clockwise when `to` is greater.
fn arc(about: Point, radius: f64, from: f64, to: f64) -> Segment {
    let sense = if to > from { Sense::Left } else { Sense::Right };
    Segment::Arc {
        from: on_circle(about, radius, from),
        to: on_circle(about, radius, to),
        centre: about,
        radius,
        sense,
    }
}

/// Cuts the arcs of a chain at the given angles about their centres and whole circles in two.
pub(crate) fn broken(chain: &[Segment], cuts: &[f64]) -> Vec<Segment> {
    let mut out = Vec::new();
    for s in chain {
        let Segment::Arc { centre, radius, .. } = *s else {
            out.push(*s);
            continue;
        };
        let (a, turn) = s.sweep();
        let whole = turn.abs() >= 2.0 * PI - 1e-9;
        let mut shares: Vec<f64> = Vec::new();
        if whole && cuts.is_empty() {
            shares.push(0.5);
        }
        for &c in cuts {
            let past = (c - a) * turn.signum();
            let past = past - (past / (2.0 * PI)).floor() * 2.0 * PI;
            let share = past / turn.abs();
            if share * radius * turn.abs() > 1e-6 && (1.0 - share) * radius * turn.abs() > 1e-6 {
                shares.push(share);
            }
        }
        shares.sort_by(f64::total_cmp);
        shares.dedup_by(|p, q| (*p - *q).abs() < 1e-9);
        let mut last = 0.0;
        for share in shares.into_iter().chain([1.0]) {
            let mut piece = arc(centre, radius, a + turn * last, a + turn * share);
            // The ends as they were given, to the last bit.
            if let Segment::Arc { from, to, .. } = &mut piece {
                if last == 0.0 {
                    *from = s.from();
                }
                if share >= 1.0 {
                    *to = s.to();
                }
            }
            out.push(piece);
            last = share;
        }
    }
    out
}

/// An edge lying level along a piece of plan.
pub(crate) fn level_edge(brep: &mut Brep, s: &Segment, z: f64) -> Use {
    let (a, b) = (brep.vertex(up(s.from(), z)), brep.vertex(up(s.to(), z)));
    match *s {
        Segment::Line { .. } => brep.edge(a, b, Curve::Line),
        Segment::Arc { centre, radius, sense, .. } => {
            let curve = Curve::Circle { axes: Axes::upright(up(centre, z)), radius };
            if sense == Sense::Left {
                brep.edge(a, b, curve)
            } else {
                let (e, forward) = brep.edge(b, a, curve);
                (e, !forward)
            }
        }
    }
}

impl Tube {
    /// Adds the faces of the wall; gives what bounds the levels at its bottom and top.
    pub(crate) fn raise(&self, brep: &mut Brep, cuts: &[f64]) -> Vec<Bound> {
        match &self.ring {
            Ring::Plan(chain) => self.raise_plan(brep, &broken(chain, cuts)),
            Ring::Round { about, bottom, top, meridian, metal_inside } => {
                self.raise_round(brep, *about, (*bottom, *top), meridian, *metal_inside, cuts)
            }
            Ring::Dome { rim, chord, z, radius, rises } => {
                self.raise_dome(brep, &broken(rim, cuts), chord, (*z, *radius), *rises)
            }
        }
    }
    fn bounds(&self, low: Option<(Use, Segment)>, high: Option<(Use, Segment)>) -> Vec<Bound> {
        let mut out = Vec::new();
        if let Some(((e, forward), plan)) = low {
            out.push(Bound { z: self.z0, edge: (e, !forward), plan: plan.reversed() });
        }
        if let Some((edge, plan)) = high {
            out.push(Bound { z: self.z1, edge, plan });
        }
        out
    }
    fn raise_plan(&self, brep: &mut Brep, chain: &[Segment]) -> Vec<Bound> {
        let mut out = Vec::new();
        for s in chain {
            let low = level_edge(brep, s, self.z0);
            let high = level_edge(brep, s, self.z1);
            let at_end = brep.edge(brep.end(low), brep.end(high), Curve::Line);
            let at_begin = brep.edge(brep.begin(low), brep.begin(high), Curve::Line);
            let (surface, same) = match *s {
                Segment::Line { from, to } => {
                    let along = up(to, 0.0).minus(up(from, 0.0)).unit();
                    let axes = Axes { at: up(from, self.z0), axis: along.cross(Xyz::UP), side: along };
                    (Surface::Plane(axes), true)
                }
                Segment::Arc { centre, radius, sense, .. } => {
                    let axes = Axes::upright(up(centre, self.z0));
                    (Surface::Cylinder { axes, radius }, sense == Sense::Left)
                }
            };
            let ring = vec![low, at_end, (high.0, !high.1), (at_begin.0, !at_begin.1)];
            brep.faces.push(Face { surface, same, loops: vec![ring] });
            out.extend(self.bounds(Some((low, *s)), Some((high, *s))));
        }
        out
    }
    fn raise_dome(
        &self,
        brep: &mut Brep,
        rim: &[Segment],
        chord: &[Segment],
        (z, radius): (f64, f64),
        rises: bool,
    ) -> Vec<Bound> {
        let level = if rises { self.z0 } else { self.z1 };
        let edges = |brep: &mut Brep, plan: &[Segment]| -> Vec<Use> {
            plan.iter().map(|s| level_edge(brep, s, level)).collect()
        };
        let (arcs, lines) = (edges(brep, rim), edges(brep, chord));
        let (Some(&begin), Some(&end)) = (lines.first(), lines.last()) else { return Vec::new() };
        let (Some(first), Some(last)) = (chord.first(), chord.last()) else { return Vec::new() };
        // The edge over the dome, from where the chord begins to where it ends.
        let along = up(last.to(), 0.0).minus(up(first.from(), 0.0)).unit();
        let outward = along.cross(Xyz::UP);
        let foot = first.from().to_vec2();
        let off = foot.x * outward.0 + foot.y * outward.1;
        let middle = Xyz(off * outward.0, off * outward.1, z);
        let axis = if rises { outward.times(-1.0) } else { outward };
        let curve = Curve::Circle {
            axes: Axes { at: middle, axis, side: along },
            radius: (radius * radius - off * off).sqrt(),
        };
        let over = brep.edge(brep.begin(begin), brep.end(end), curve);
        let back = |uses: &[Use]| uses.iter().rev().map(|&(e, f)| (e, !f)).collect::<Vec<Use>>();
        let (mut ball, mut wall) =
            if rises { (arcs.clone(), lines.clone()) } else { (back(&arcs), back(&lines)) };
        ball.push((over.0, over.1 == rises));
        wall.push((over.0, over.1 != rises));
        let sphere = Surface::Sphere { axes: Axes::upright(Xyz(0.0, 0.0, z)), radius };
        brep.faces.push(Face { surface: sphere, same: true, loops: vec![ball] });
        let plane = Surface::Plane(Axes { at: middle, axis: outward, side: along });
        brep.faces.push(Face { surface: plane, same: true, loops: vec![wall] });
        let mut out = Vec::new();
        for (u, s) in arcs.into_iter().chain(lines).zip(rim.iter().chain(chord)) {
            let whole = Some((u, *s));
            out.extend(if rises { self.bounds(whole, None) } else { self.bounds(None, whole) });
        }
        out
    }
    fn raise_round(
        &self,
        brep: &mut Brep,
        about: Point,
        (bottom, top): (f64, f64),
        meridian: &Meridian,
        metal_inside: bool,
        cuts: &[f64],
    ) -> Vec<Bound> {
        let mut angles = if cuts.is_empty() { vec![0.0, PI] } else { cuts.to_vec() };
        angles.push(angles[0] + 2.0 * PI);
        if !metal_inside {
            angles.reverse();
        }
        let mut out = Vec::new();
        let (surface, same) = self.surface(about, (bottom, top), meridian, metal_inside);
        for w in angles.windows(2) {
            let at = |radius: f64, z: f64| (radius > SAME).then(|| (arc(about, radius, w[0], w[1]), z));
            let edge =
                |brep: &mut Brep, s: Option<(Segment, f64)>| s.map(|(s, z)| (level_edge(brep, &s, z), s));
            let low = edge(brep, at(bottom, self.z0));
            let high = edge(brep, at(top, self.z1));
            let first = self.rise(brep, about, w[0], (bottom, top), meridian);
            let last = self.rise(brep, about, w[1], (bottom, top), meridian);
            let mut ring: Vec<Use> = low.iter().map(|l| l.0).collect();
            ring.push(last);
            ring.extend(high.iter().map(|h| (h.0.0, !h.0.1)));
            ring.push((first.0, !first.1));
            brep.faces.push(Face { surface, same, loops: vec![ring] });
            out.extend(self.bounds(low, high));
        }
        out
    }
    /// The edge up the wall at an angle.
    fn rise(
        &self,
        brep: &mut Brep,
        about: Point,
        angle: f64,
        (bottom, top): (f64, f64),
        meridian: &Meridian,
    ) -> Use {
        let a = brep.vertex(up(on_circle(about, bottom, angle), self.z0));
        let b = brep.vertex(up(on_circle(about, top, angle), self.z1));
        match *meridian {
            Meridian::Line => brep.edge(a, b, Curve::Line),
            Meridian::Arc { z, r, radius, sense } => {
                let (c, s) = (cos(angle), sin(angle));
                // Counter-clockwise in (z, r) is counter-clockwise about the way the angle grows.
                let way = if sense == Sense::Left { 1.0 } else { -1.0 };
                let axes = Axes {
                    at: Xyz(about.x + r * c, about.y + r * s, z),
                    axis: Xyz(-s * way, c * way, 0.0),
                    side: Xyz(c, s, 0.0),
                };
                brep.edge(a, b, Curve::Circle { axes, radius })
            }
        }
    }
    fn surface(
        &self,
        about: Point,
        (bottom, top): (f64, f64),
        meridian: &Meridian,
        metal_inside: bool,
    ) -> (Surface, bool) {
        match *meridian {
            Meridian::Line if (bottom - top).abs() < SAME => {
                (Surface::Cylinder { axes: Axes::upright(up(about, self.z0)), radius: bottom }, metal_inside)
            }
            Meridian::Line => {
                // The axis points to where the cone opens; the radius given is that of the narrow end.
                let half_angle = atan2((top - bottom).abs(), self.z1 - self.z0);
                let mut axes = Axes::upright(up(about, if top > bottom { self.z0 } else { self.z1 }));
                if top < bottom {
                    axes.axis = Xyz(0.0, 0.0, -1.0);
                }
                (Surface::Cone { axes, radius: bottom.min(top), half_angle }, metal_inside)
            }
            Meridian::Arc { z, r, radius, sense } => {
                // The metal of an outline lies right of the meridian, so the arc bulges outward when it turns right.
                let outward = (sense == Sense::Right) == metal_inside;
                let middle = Axes::upright(up(about, z));
                if r.abs() < SAME {
                    (Surface::Sphere { axes: middle, radius }, outward)
                } else if r > radius + SAME {
                    (Surface::Torus { axes: middle, major: r, minor: radius }, outward)
                } else {
                    let circle = Axes {
                        at: Xyz(about.x + r, about.y, z),
                        axis: Xyz(0.0, if sense == Sense::Left { 1.0 } else { -1.0 }, 0.0),
                        side: Xyz(1.0, 0.0, 0.0),
                    };
                    // Its normal is the growing angle × the way along the meridian: out of an outline.
                    (Surface::Revolved { circle, radius, about: up(about, 0.0) }, metal_inside)
                }
            }
        }
    }
}

/// Whether two points in plan are one.
pub(crate) fn same_place(a: Point, b: Point) -> bool {
    distance(a, b) < crate::brep::NEAR
}
