//! Plates: an outline with windows, holes and countersinks, of one thickness.

use shape::flat::Flat;
use shape::profile::{Profile, SAME};

use crate::body::Body;
use crate::fault::Fault;
use crate::level::solid;
use crate::tube::{Meridian, Ring, Tube};
use crate::turned::true_arcs;

/// A closed chain with the metal on its left.
pub(crate) fn ringed(p: &Profile, hole: bool) -> Ring {
    let backwards = (p.area() < 0.0) != hole;
    let p = if backwards { p.reversed() } else { p.clone() };
    Ring::Plan(p.segments().to_vec())
}

/// The solid of a plate, its back face on z = 0.
///
/// # Errors
/// What [`Flat::amiss`] finds, in words.
pub fn flat(part: &Flat) -> Result<Body, Fault> {
    if let Some(wrong) = part.amiss().first() {
        return Err(Fault::Unsound(wrong.to_string()));
    }
    for p in std::iter::once(&part.outline).chain(&part.windows) {
        true_arcs(p)?;
    }
    let t = part.thickness;
    let mut tubes = vec![Tube { z0: 0.0, z1: t, ring: ringed(&part.outline, false) }];
    tubes.extend(part.windows.iter().map(|w| Tube { z0: 0.0, z1: t, ring: ringed(w, true) }));
    for (k, hole) in part.holes.iter().enumerate() {
        let r = hole.diameter / 2.0;
        let mut push = |z0: f64, z1: f64, bottom: f64, top: f64| {
            if z1 - z0 > SAME {
                let ring = Ring::Round {
                    about: hole.at,
                    bottom,
                    top,
                    meridian: Meridian::Line,
                    metal_inside: false,
                };
                tubes.push(Tube { z0, z1, ring });
            }
        };
        let (mut low, mut high) = (0.0, t);
        for c in part.countersinks.iter().filter(|c| c.hole == k) {
            let depth = part.sink_depth(c);
            if c.front {
                push(t - depth, t, r, c.diameter / 2.0);
                high = t - depth;
            } else {
                push(0.0, depth, c.diameter / 2.0, r);
                low = depth;
            }
        }
        if low > high + SAME {
            return Err(Fault::Unsound(format!("the countersinks of hole {k} run into each other")));
        }
        push(low, high, r, r);
    }
    let (brep, tally) = solid(&tubes, &[])?;
    Ok(Body::new(brep, tally, Vec::new()))
}
