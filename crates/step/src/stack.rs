//! Layers upon each other: pinions on stepped arbors, wheels on collets, anything whose plan changes by height only.

use shape::profile::{Profile, SAME, Segment};

use crate::body::Body;
use crate::fault::Fault;
use crate::flat::ringed;
use crate::level::solid;
use crate::tube::{Ring, Tube, same_place};
use crate::turned::true_arcs;

/// One layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Where it begins.
    pub z0: f64,
    /// Where it ends.
    pub z1: f64,
    /// Closed outline in plan.
    pub outline: Profile,
    /// Closed outlines of what goes through it.
    pub holes: Vec<Profile>,
}

impl Layer {
    fn rings(&self) -> Vec<(Ring, &Profile)> {
        let mut all = vec![(ringed(&self.outline, false), &self.outline)];
        all.extend(self.holes.iter().map(|h| (ringed(h, true), h)));
        all
    }
    fn amiss(&self, k: usize) -> Result<(), Fault> {
        let bad = |why: &str| Err(Fault::Unsound(format!("layer {k}: {why}")));
        if !(self.z0.is_finite() && self.z1.is_finite() && self.z1 - self.z0 > SAME) {
            return bad("it has no height");
        }
        for p in std::iter::once(&self.outline).chain(&self.holes) {
            true_arcs(p)?;
            if !p.is_closed() {
                return bad("an outline does not close");
            }
            if p.crosses_itself().is_some() {
                return bad("an outline crosses itself");
            }
        }
        for (i, h) in self.holes.iter().enumerate() {
            if h.crosses(&self.outline).is_some() || !self.outline.contains(h.begin()) {
                return bad("a hole reaches over the outline");
            }
            for g in &self.holes[i + 1..] {
                if h.crosses(g).is_some() || h.contains(g.begin()) || g.contains(h.begin()) {
                    return bad("two holes overlap");
                }
            }
        }
        Ok(())
    }
}

/// Whether two rings are the same closed chain, wherever each begins.
fn alike(a: &Ring, b: &Ring) -> bool {
    let (Ring::Plan(a), Ring::Plan(b)) = (a, b) else { return false };
    if a.len() != b.len() {
        return false;
    }
    let one = |s: &Segment, t: &Segment| {
        same_place(s.from(), t.from())
            && same_place(s.to(), t.to())
            && match (s, t) {
                (Segment::Line { .. }, Segment::Line { .. }) => true,
                (Segment::Arc { centre, sense, .. }, Segment::Arc { centre: c, sense: w, .. }) => {
                    same_place(*centre, *c) && sense == w
                }
                _ => false,
            }
    };
    (0..a.len()).any(|off| (0..a.len()).all(|i| one(&a[i], &b[(i + off) % b.len()])))
}

/// The solid of layers that follow each other without a gap, lowest first. Where an outline or hole is the same in
/// two layers, its wall runs through both.
///
/// # Errors
/// A layer that is not sound, a gap between layers, outlines of neighbours that cross.
pub fn stack(layers: &[Layer]) -> Result<Body, Fault> {
    let mut tubes: Vec<Tube> = Vec::new();
    for (k, layer) in layers.iter().enumerate() {
        layer.amiss(k)?;
        let below = k.checked_sub(1).map(|b| &layers[b]);
        if let Some(b) = below {
            if (b.z1 - layer.z0).abs() > SAME {
                return Err(Fault::Unsound(format!("layer {k} does not begin where layer {} ends", k - 1)));
            }
            let apart = b.outline.bounds().intersect(layer.outline.bounds()).area() <= 0.0;
            if apart {
                return Err(Fault::Unsound(format!("layer {k} does not stand on layer {}", k - 1)));
            }
        }
        for (ring, plan) in layer.rings() {
            let runs_on = tubes.iter_mut().find(|t| (t.z1 - layer.z0).abs() <= SAME && alike(&t.ring, &ring));
            if let Some(t) = runs_on {
                t.z1 = layer.z1;
                continue;
            }
            if let Some(b) = below {
                for (other, under) in b.rings() {
                    if !alike(&other, &ring) && under.crosses(plan).is_some() {
                        return Err(Fault::Crossing { layer: k - 1 });
                    }
                }
            }
            tubes.push(Tube { z0: layer.z0, z1: layer.z1, ring });
        }
    }
    let (brep, tally) = solid(&tubes, &[])?;
    Ok(Body::new(brep, tally, Vec::new()))
}
