//! Turned parts: everything round, and slots and flats where planes meet cylinders only.

use kurbo::Point;
use shape::profile::{Profile, SAME, Segment, Sense, distance};
use shape::turned::{FaceGroove, Feature, Form, Frustum, Turned};

use crate::body::{Body, LeftOut};
use crate::cut::{Cuts, cut};
use crate::fault::Fault;
use crate::level::solid;
use crate::tube::{Meridian, Ring, Tube};

/// The walls of a part before anything is milled into it.
pub(crate) struct Walls {
    pub outside: Vec<Tube>,
    pub hollow: Vec<Tube>,
    pub grooves: Vec<Tube>,
}

pub(crate) fn round(z: (f64, f64), r: (f64, f64), meridian: Meridian, metal_inside: bool) -> Tube {
    let ring = Ring::Round { about: Point::ORIGIN, bottom: r.0, top: r.1, meridian, metal_inside };
    Tube { z0: z.0, z1: z.1, ring }
}

/// Arcs whose ends lie on their circle.
pub(crate) fn true_arcs(p: &Profile) -> Result<(), Fault> {
    for (k, s) in p.segments().iter().enumerate() {
        if let Segment::Arc { from, to, centre, radius, .. } = *s
            && [from, to].iter().any(|e| (distance(*e, centre) - radius).abs() > 1e-8)
        {
            return Err(Fault::Unsound(format!(
                "an end of arc {k} of an outline does not lie on its circle"
            )));
        }
    }
    Ok(())
}

fn outside(part: &Turned) -> Result<Vec<Tube>, Fault> {
    let mut out = Vec::new();
    for s in part.outer.segments() {
        let (a, b) = (s.from(), s.to());
        if b.x - a.x <= SAME {
            if matches!(s, Segment::Arc { .. }) {
                return Err(Fault::Unsound(
                    "an arc of the profile ends where it began along the axis".into(),
                ));
            }
            continue;
        }
        let meridian = match *s {
            Segment::Line { .. } => Meridian::Line,
            Segment::Arc { centre, radius, sense, .. } => {
                Meridian::Arc { z: centre.x, r: centre.y, radius, sense }
            }
        };
        out.push(round((a.x, b.x), (a.y, b.y), meridian, true));
    }
    Ok(out)
}

fn hollow(part: &Turned) -> Vec<Tube> {
    let whole: Vec<Frustum> = part.hollow().into_iter().filter(|p| p.z1 - p.z0 > SAME).collect();
    let mut joined: Vec<Frustum> = Vec::new();
    for p in whole {
        // What was cut only because something else begins there is one wall again.
        match joined.last_mut() {
            Some(q)
                if (q.z1 - p.z0).abs() <= SAME
                    && (q.r1 - p.r0).abs() <= SAME
                    && (q.radius(p.z1) - p.r1).abs() <= SAME =>
            {
                q.z1 = p.z1;
                q.r1 = p.r1;
            }
            _ => joined.push(p),
        }
    }
    joined.iter().map(|p| round((p.z0, p.z1), (p.r0, p.r1), Meridian::Line, false)).collect()
}

fn groove(part: &Turned, g: &FaceGroove) -> Vec<Tube> {
    let (face, inward) = (part.face(g.end), Turned::inward(g.end));
    let (middle, half) = (g.diameter / 2.0, g.width / 2.0);
    let mut out = Vec::new();
    // A wall from `near` (at depth d0) to `far` (at depth d1), the inner one with its metal inside.
    let mut wall = |d: (f64, f64), r: (f64, f64), arc: Option<(f64, f64)>, inner: bool| {
        let (za, zb) = (face + inward * d.0, face + inward * d.1);
        let ((z0, r0), (z1, r1)) = if za < zb { ((za, r.0), (zb, r.1)) } else { ((zb, r.1), (za, r.0)) };
        if z1 - z0 <= SAME {
            return;
        }
        let meridian = arc.map_or(Meridian::Line, |(z, radius)| {
            // The centre lies on the open side of both walls: turning towards it.
            let side = (r1 - r0) * (z - z0) - (z1 - z0) * (middle - r0);
            let sense = if side < 0.0 { Sense::Left } else { Sense::Right };
            Meridian::Arc { z, r: middle, radius, sense }
        });
        out.push(round((z0, z1), (r0, r1), meridian, inner));
    };
    for (edge, inner) in [(middle - half, true), (middle + half, false)] {
        match g.form {
            Form::Square => wall((0.0, g.depth), (edge, edge), None, inner),
            Form::Vee => wall((0.0, g.depth), (edge, middle), None, inner),
            Form::Round => {
                let radius = g.round_radius();
                let centre = (face + inward * (g.depth - radius), radius);
                let straight = (g.depth - half).max(0.0);
                wall((0.0, straight), (edge, edge), None, inner);
                wall((straight, g.depth), (edge, middle), Some(centre), inner);
            }
        }
    }
    out
}

/// The solid of a turned part, its axis along z, z = 0 at the datum. A slot runs along x; the first of the flats
/// faces +x.
///
/// Threads and knurls are not shown, nor cross holes, nor slots and flats that cut anything but cylinders:
/// [`Body::left_out`] says which.
///
/// # Errors
/// A part that is not sound.
pub fn turned(part: &Turned) -> Result<Body, Fault> {
    if let Some(wrong) = part.unsound().first() {
        return Err(Fault::Unsound(wrong.to_string()));
    }
    true_arcs(&part.outer)?;
    let mut walls = Walls { outside: outside(part)?, hollow: hollow(part), grooves: Vec::new() };
    for f in &part.features {
        if let Feature::FaceGroove(g) = f {
            walls.grooves.extend(groove(part, g));
        }
    }
    let mut left_out: Vec<LeftOut> = Vec::new();
    for (feature, f) in part.features.iter().enumerate() {
        let why = match f {
            Feature::Thread(t) => format!("the thread {} is not shown: the surface is plain", t.label),
            Feature::Knurl { label, .. } => format!("the knurl {label} is not shown: the surface is plain"),
            Feature::CrossHole { .. } => {
                "the cross hole is not shown: its edge is neither line nor circle".to_owned()
            }
            _ => continue,
        };
        left_out.push(LeftOut { feature, why });
    }
    let Cuts { tubes, angles, refused } = cut(part, walls);
    left_out.extend(refused);
    left_out.sort_by_key(|l| l.feature);
    let (brep, tally) = solid(&tubes, &angles)?;
    Ok(Body::new(brep, tally, left_out))
}
