//! The level faces: where metal ends or begins between the walls.
//!
//! At each height the upper rims of the walls that end there and the lower rims of those that begin there, taken the
//! other way round, together bound the faces that lie open. A rim shared by a wall below and one above cancels.

use std::collections::BTreeMap;

use kurbo::Point;
use shape::profile::{Profile, Segment, Sense};

use crate::brep::{Axes, Brep, Face, NEAR, Surface, Tally, Use, Xyz};
use crate::fault::Fault;
use crate::tube::{Bound, Tube};

/// A closed loop of rim edges.
struct Loop {
    uses: Vec<Use>,
    plan: Profile,
    area: f64,
}

fn profile(plan: &[Segment]) -> Profile {
    let begin = plan.first().map_or(Point::ORIGIN, Segment::from);
    plan.iter().fold(Profile::start(begin.x, begin.y), |p, s| match *s {
        Segment::Line { to, .. } => p.line(to.x, to.y),
        Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
    })
}

/// Joins what is left of the rims into loops. Where loops touch in a point, the sharpest left turn is taken, so that
/// they stay apart.
fn loops(brep: &Brep, left: Vec<(Use, Segment)>, z: f64) -> Result<Vec<Loop>, Fault> {
    let mut out: BTreeMap<usize, Vec<(Use, Segment)>> = BTreeMap::new();
    for (u, s) in left {
        out.entry(brep.begin(u)).or_default().push((u, s));
    }
    let open = || Fault::Leaks(format!("rims at z = {z} do not join"));
    let mut all = Vec::new();
    while let Some(start) = out.iter().find(|(_, v)| !v.is_empty()).map(|(k, _)| *k) {
        let mut at = start;
        let (mut uses, mut plan): (Vec<Use>, Vec<Segment>) = (Vec::new(), Vec::new());
        loop {
            let here = out.get_mut(&at).filter(|v| !v.is_empty()).ok_or_else(open)?;
            let pick = match plan.last() {
                Some(last) if here.len() > 1 => {
                    let way = heading(last, true);
                    let turn = |s: &Segment| {
                        let next = heading(s, false);
                        reckon::maths::atan2(way.cross(next), way.dot(next))
                    };
                    (0..here.len())
                        .max_by(|&a, &b| turn(&here[a].1).total_cmp(&turn(&here[b].1)))
                        .unwrap_or(0)
                }
                _ => 0,
            };
            let (u, s) = here.swap_remove(pick);
            at = brep.end(u);
            uses.push(u);
            plan.push(s);
            if at == start {
                break;
            }
        }
        let plan = profile(&plan);
        let area = plan.area();
        all.push(Loop { uses, plan, area });
    }
    Ok(all)
}

/// Direction of a piece at its end or beginning.
fn heading(s: &Segment, end: bool) -> kurbo::Vec2 {
    match *s {
        Segment::Line { from, to } => to - from,
        Segment::Arc { from, to, centre, sense, .. } => {
            let out = if end { to - centre } else { from - centre };
            let left = kurbo::Vec2::new(-out.y, out.x);
            if sense == Sense::Left { left } else { -left }
        }
    }
}

/// A point a hair outside a loop, beside the middle of its first piece: on the right of a loop with its inside on
/// the left.
fn beside(l: &Loop) -> Point {
    let s = &l.plan.segments()[0];
    let (a, b, m) = (s.at(0.499), s.at(0.501), s.at(0.5));
    let d = (b - a) / (b - a).hypot();
    let right = kurbo::Vec2::new(d.y, -d.x) * if l.area > 0.0 { 1.0 } else { -1.0 };
    // Two places nearer than this are one: nothing lies between.
    m + right * (s.length() * 1e-3).min(NEAR)
}

/// Adds the open faces at one height.
fn cover(brep: &mut Brep, bounds: Vec<Bound>, z: f64) -> Result<(), Fault> {
    let mut sum: BTreeMap<usize, (i32, Segment)> = BTreeMap::new();
    for b in bounds {
        let way = if b.edge.1 { 1 } else { -1 };
        let plan = if b.edge.1 { b.plan } else { b.plan.reversed() };
        sum.entry(b.edge.0).or_insert((0, plan)).0 += way;
    }
    let mut left = Vec::new();
    for (e, (n, plan)) in sum {
        match n {
            0 => {}
            1 => left.push(((e, true), plan)),
            -1 => left.push(((e, false), plan.reversed())),
            _ => return Err(Fault::Overlap { z }),
        }
    }
    let all = loops(brep, left, z)?;
    // How often a point is wound round by the other loops tells what lies on either side.
    let mut outer: Vec<(usize, bool)> = Vec::new();
    let mut holes: Vec<(usize, bool)> = Vec::new();
    for (i, l) in all.iter().enumerate() {
        let p = beside(l);
        let round: i32 = all
            .iter()
            .enumerate()
            .filter(|(j, o)| *j != i && o.plan.contains(p))
            .map(|(_, o)| if o.area > 0.0 { 1 } else { -1 })
            .sum();
        let up = l.area > 0.0;
        match (round, up) {
            (0, _) => outer.push((i, up)),
            (1, false) | (-1, true) => holes.push((i, !up)),
            _ => return Err(Fault::Overlap { z }),
        }
    }
    for &(i, up) in &outer {
        let mut rings = vec![all[i].uses.clone()];
        for &(h, over) in &holes {
            // A hole belongs to the smallest face round it that looks the same way.
            let p = beside(&all[h]);
            let mine = outer
                .iter()
                .filter(|&&(o, way)| way == over && all[o].plan.contains(p))
                .min_by(|a, b| all[a.0].area.abs().total_cmp(&all[b.0].area.abs()));
            if over == up && mine.is_some_and(|m| m.0 == i) {
                rings.push(all[h].uses.clone());
            }
        }
        let mut axes = Axes::upright(Xyz(0.0, 0.0, z));
        if !up {
            axes.axis = Xyz(0.0, 0.0, -1.0);
        }
        brep.faces.push(Face { surface: Surface::Plane(axes), same: true, loops: rings });
    }
    Ok(())
}

/// Makes a solid of walls: raises them, covers every level, and checks that it closes.
pub(crate) fn solid(tubes: &[Tube], cuts: &[f64]) -> Result<(Brep, Tally), Fault> {
    if tubes.is_empty() {
        return Err(Fault::Empty);
    }
    let mut brep = Brep::default();
    let mut bounds = Vec::new();
    for t in tubes {
        bounds.extend(t.raise(&mut brep, cuts));
    }
    bounds.sort_by(|a, b| a.z.total_cmp(&b.z));
    let mut rest = bounds.into_iter().peekable();
    while let Some(first) = rest.next() {
        let z = first.z;
        let mut here = vec![first];
        while let Some(b) = rest.next_if(|b| b.z - z < NEAR) {
            here.push(b);
        }
        cover(&mut brep, here, z)?;
    }
    let tally = brep.tally()?;
    Ok((brep, tally))
}
