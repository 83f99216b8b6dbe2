//! Free flat parts: an outline of lines and arcs, holes, a thickness.

use crate::part::FlatBody;
use kurbo::Point;
use reckon::{Book, Length, Trouble};
use record::facts::FlatFacts;
use shape::flat::{Countersink, Flat};
use shape::profile::{Profile, Sense};

/// A flat part, and what is wrong with its outline.
pub(super) fn flat(f: &FlatFacts, book: &mut Book) -> (FlatBody, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let at = |p: &(reckon::Val<Length>, reckon::Val<Length>)| (p.0.bare().in_mm(), p.1.bare().in_mm());
    let (x, y) = at(&f.start);
    let mut outline = Profile::start(x, y);
    for s in &f.outline {
        let (x, y) = at(&s.to);
        outline = match &s.arc {
            None => outline.line(x, y),
            Some((radius, left)) => {
                let sense = if *left { Sense::Left } else { Sense::Right };
                match outline.clone().round_to(x, y, radius.bare().in_mm(), sense) {
                    Ok(p) => p,
                    Err(fault) => {
                        troubles.push(
                            Trouble::design(format!("this arc of '{}' cannot be drawn", f.common.name))
                                .at(s.at.clone())
                                .why(fault.to_string())
                                .cure("a radius of at least half the distance between its ends"),
                        );
                        outline.line(x, y)
                    }
                }
            }
        };
    }
    let mut solid = Flat::new(outline.close(), f.thickness.nominal.bare().in_mm());
    for h in &f.holes {
        let (x, y) = at(&h.centre);
        solid = solid.hole(x, y, h.diameter.nominal.bare().in_mm(), &h.label);
        if let Some((angle, diameter)) = &h.countersink {
            solid.countersinks.push(Countersink {
                hole: solid.holes.len() - 1,
                diameter: diameter.bare().in_mm(),
                angle: angle.bare().value(),
                front: true,
            });
        }
    }
    for fault in solid.amiss() {
        troubles
            .push(Trouble::design(format!("'{}' cannot be: {fault}", f.common.name)).at(f.common.at.clone()));
    }
    let bounds = solid.outline.bounds();
    let slug = &f.common.slug;
    let corner = Point::new(bounds.x0, bounds.y0);
    let inputs: Vec<reckon::Id> = f.outline.iter().flat_map(|s| [s.to.0.id(), s.to.1.id()]).collect();
    let mut extreme = |name: &str, mm: f64| {
        book.solved(
            format!("{slug}.{name}"),
            Length::mm(mm),
            ("the extreme points of the outline, lines and arcs", 1, 0.0),
            inputs.clone(),
            &reckon::source::GEOMETRY,
        )
    };
    let extent = (extreme("width", bounds.width()), extreme("height", bounds.height()));
    let datum = (extreme("datum.x", corner.x), extreme("datum.y", corner.y));
    let body = FlatBody {
        thickness: f.thickness,
        holes: f.holes.clone(),
        extent,
        datum,
        round: None,
        teeth: None,
        notes: Vec::new(),
        solid,
    };
    (body, troubles)
}
