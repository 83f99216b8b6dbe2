//! Solids of the parts, for other programs that draw: exact faces, ISO 10303-214.

use super::Contents;
use ::movement::part::{Body, Part};
use kurbo::Point;
use shape::profile::{Profile, SAME};
use shape::turned::{Feature, Turned};
use step::{Fault, Layer};

/// A part's solid as text; none where it cannot be told in exact faces, which its drawing then stands for.
#[must_use]
pub fn solid(of: &Contents<'_>, part: &Part) -> Option<String> {
    let body = match &part.body {
        Body::Flat(f) => step::flat(&f.solid),
        Body::Turned(t) if t.leaves.is_empty() => step::turned(&t.solid),
        Body::Turned(t) => layers(&t.solid).map_or_else(|| step::turned(&t.solid), |l| step::stack(&l)),
    };
    let (year, month, day) = of.day;
    let date = format!("{year:04}-{month:02}-{day:02}T00:00:00");
    body.map_err(|_: Fault| ()).ok().map(|b| b.text(&part.common.name, Some(&date)))
}
/// A stepped part with leaves as layers along its axis; none where its outside is not all cylinders.
fn layers(part: &Turned) -> Option<Vec<Layer>> {
    let mut cuts: Vec<f64> = part.outer.segments().iter().flat_map(|s| [s.from().x, s.to().x]).collect();
    cuts.extend(part.hollow().iter().flat_map(|p| [p.z0, p.z1]));
    for f in &part.features {
        match f {
            Feature::Leaves { from, to, .. } | Feature::Flats { from, to, .. } => cuts.extend([*from, *to]),
            Feature::Thread(_) | Feature::Knurl { .. } => {}
            _ => return None,
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() <= SAME);
    let mut all = Vec::new();
    for w in cuts.windows(2) {
        let (z0, z1) = (w[0], w[1]);
        let inside = |t: f64| z0 + (z1 - z0) * t;
        let r = part.radius_at(inside(0.5));
        let bore = part.hollow_at(inside(0.5));
        for t in [0.01, 0.99] {
            if (part.radius_at(inside(t)) - r).abs() > SAME || (part.hollow_at(inside(t)) - bore).abs() > SAME
            {
                return None;
            }
        }
        let covers = |from: &f64, to: &f64| *from <= z0 + SAME && *to >= z1 - SAME;
        let mut outline = Profile::circle(Point::ORIGIN, r);
        for f in &part.features {
            match f {
                Feature::Leaves { from, to, section, .. } if covers(from, to) => outline = section.clone(),
                Feature::Flats { from, to, across, count } if covers(from, to) => {
                    outline = Profile::flatted(r, across / 2.0, *count);
                }
                _ => {}
            }
        }
        let holes = if bore > SAME { vec![Profile::circle(Point::ORIGIN, bore)] } else { Vec::new() };
        all.push(Layer { z0, z1, outline, holes });
    }
    Some(all)
}
