//! The work as layers, each with cuts that wait until they are needed.

use kurbo::Point;
use shape::region::Region;

use super::Slab;
use crate::near::Edges;

/// Layers thinner than this, in millimetres, are none.
const THIN: f64 = 1.0e-9;
/// Most layers; beyond, the thinnest are joined to their neighbours.
const MOST: f64 = 4000.0;

struct Layer {
    low: f64,
    high: f64,
    metal: Region,
    edges: Edges,
    waiting: Vec<Region>,
}

impl Layer {
    fn settle(&mut self) {
        if self.waiting.is_empty() {
            return;
        }
        let cuts = std::mem::take(&mut self.waiting);
        self.metal = self.metal.difference(&Region::union_of(&cuts));
        self.edges = Edges::of(&self.metal);
    }
}

pub(super) struct Layers {
    layers: Vec<Layer>,
}

impl Layers {
    /// Slabs parted at their own faces and at all these heights. Where slabs share a height, both count.
    pub(super) fn new(slabs: &[Slab], levels: &[f64]) -> Self {
        let faces = slabs.iter().flat_map(|slab| [slab.low, slab.high]);
        let (low, high) =
            faces.clone().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
        let mut heights: Vec<f64> = faces
            .chain(levels.iter().copied().filter(|&z| z > low && z < high))
            .filter(|z| z.is_finite())
            .collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|z, before| *z - *before < THIN);
        if heights.len() > 4000 {
            let least = THIN.max((high - low) / MOST);
            heights.dedup_by(|z, before| *z - *before < least);
        }
        let mut layers = Vec::new();
        for pair in heights.windows(2) {
            let middle = 0.5 * (pair[0] + pair[1]);
            let here: Vec<Region> = slabs
                .iter()
                .filter(|slab| slab.low < middle && slab.high > middle)
                .map(|slab| slab.region.clone())
                .collect();
            let metal = Region::union_of(&here);
            let edges = Edges::of(&metal);
            layers.push(Layer { low: pair[0], high: pair[1], metal, edges, waiting: Vec::new() });
        }
        Self { layers }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.layers.is_empty()
    }

    pub(super) fn count(&self) -> usize {
        self.layers.len()
    }

    /// Lower and upper face of a layer.
    pub(super) fn heights(&self, i: usize) -> (f64, f64) {
        (self.layers[i].low, self.layers[i].high)
    }

    /// The highest face.
    pub(super) fn top(&self) -> f64 {
        self.layers.last().map_or(f64::NEG_INFINITY, |layer| layer.high)
    }

    /// Leaves a cut for later.
    pub(super) fn pend(&mut self, i: usize, cut: Region) {
        self.layers[i].waiting.push(cut);
    }

    /// Cuts at once.
    pub(super) fn cut(&mut self, i: usize, ring: &[Point]) {
        if let Ok(cut) = Region::polygon(ring) {
            self.layers[i].waiting.push(cut);
            self.layers[i].settle();
        }
    }

    /// What a convex ring touches of a layer as it stands, in square millimetres.
    pub(super) fn touched(&mut self, i: usize, ring: &[Point]) -> f64 {
        let layer = &mut self.layers[i];
        // What is clear of the metal before the waiting cuts is clear after them.
        if !layer.edges.reached(ring, &layer.metal) {
            return 0.0;
        }
        layer.settle();
        if !layer.edges.reached(ring, &layer.metal) {
            return 0.0;
        }
        Region::polygon(ring).map_or(0.0, |swept| layer.metal.intersection(&swept).area())
    }

    pub(super) fn settle(&mut self) {
        self.layers.iter_mut().for_each(Layer::settle);
    }

    pub(super) fn slabs(&self) -> Vec<Slab> {
        self.layers.iter().map(|layer| Slab::new(layer.low, layer.high, layer.metal.clone())).collect()
    }
}
