//! What a proof shows, as plain outlines for whoever draws it.
//!
//! Points are (right, up) in millimetres: (z, radius) for turning, (x, y) for a layer of milling,
//! (along the cutter's depth, across) for a wheel. Rings run anticlockwise about metal and clockwise
//! about holes.

use shape::region::Region;

use crate::milling::{Milled, Slab};
use crate::moves::{Does, Program};
use crate::turning::Turned;
use crate::wheel::Cut;

/// One closed outline.
pub type Ring = Vec<(f64, f64)>;

/// A path of the controlled point.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Whether it is a rapid.
    pub rapid: bool,
    /// Its places.
    pub places: Ring,
}

/// Before, after, what is left over and what was gouged.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Picture {
    /// The stock.
    pub before: Vec<Ring>,
    /// What is left.
    pub after: Vec<Ring>,
    /// What is left and not wanted.
    pub remainder: Vec<Ring>,
    /// What is wanted and gone.
    pub gouge: Vec<Ring>,
    /// Where the tool went.
    pub paths: Vec<Path>,
}

fn rings(region: &Region) -> Vec<Ring> {
    region
        .polygons()
        .into_iter()
        .flatten()
        .map(|ring| ring.into_iter().map(|p| (p.x, p.y)).collect())
        .collect()
}

/// The picture of a turned piece, with the paths of its program; arcs are followed to `within` mm.
#[must_use]
pub fn turned(turned: &Turned, program: &Program, within: f64) -> Picture {
    Picture {
        before: rings(&turned.before),
        after: rings(&turned.after),
        remainder: rings(&turned.remainder),
        gouge: rings(&turned.gouge),
        paths: paths(program, [2, 0], within),
    }
}

/// The picture of a milled piece in plan at a height.
#[must_use]
pub fn milled(milled: &Milled, program: &Program, height: f64, within: f64) -> Picture {
    let at = |slabs: &[Slab]| {
        let slab = slabs.iter().find(|slab| slab.low <= height && height <= slab.high);
        slab.map_or_else(Vec::new, |slab| rings(&slab.region))
    };
    Picture {
        before: at(&milled.before),
        after: at(&milled.after),
        remainder: at(&milled.remainder),
        gouge: at(&milled.gouge),
        paths: paths(program, [0, 1], within),
    }
}

/// The picture of a cut wheel, at one of its layers; empty when there is none of that number.
#[must_use]
pub fn wheel(cut: &Cut, layer: usize) -> Picture {
    let at = |slabs: &[Slab]| slabs.get(layer).map_or_else(Vec::new, |slab| rings(&slab.region));
    Picture {
        before: at(&cut.before),
        after: at(&cut.after),
        remainder: at(&cut.remainder),
        gouge: at(&cut.gouge),
        paths: Vec::new(),
    }
}

/// Where the controlled point went, seen along the third axis; neighbours of one kind joined.
fn paths(program: &Program, axes: [usize; 2], within: f64) -> Vec<Path> {
    let mut paths: Vec<Path> = Vec::new();
    for step in &program.steps {
        let Some((from, to)) = step.ends() else { continue };
        let seen = |at: [f64; 3]| (at[axes[0]], at[axes[1]]);
        let places: Ring = match &step.does {
            Does::Arc { arc, .. } => arc.chords(from, to, within).into_iter().map(seen).collect(),
            _ => vec![seen(to)],
        };
        let rapid = step.is_rapid();
        match paths.last_mut().filter(|path| path.rapid == rapid && path.places.last() == Some(&seen(from))) {
            Some(path) => path.places.extend(places),
            None => {
                let mut all = vec![seen(from)];
                all.extend(places);
                paths.push(Path { rapid, places: all });
            }
        }
    }
    paths
}
