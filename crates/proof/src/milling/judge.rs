//! What the mill left, beside what is wanted.

use std::collections::BTreeMap;

use kurbo::Point;
use shape::region::Region;

use super::{Milled, SetUp, Slab, bits, sides};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::measure::{Against, Amount};
use crate::moves::{Does, Program};
use crate::near::Edges;
use crate::sweep::Convex;

/// What is wanted, in slabs: the metal that must stay, and the metal that may.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Less than this is a gouge.
    pub least: Vec<Slab>,
    /// More than this is a remainder.
    pub most: Vec<Slab>,
    /// A gouge deeper than this, in plan and in height, is a fault, in millimetres.
    pub gouge: f64,
    /// A remainder higher than this, in plan and in height, is a fault, in millimetres.
    pub left: f64,
}

impl Wanted {
    /// The same slabs as both, with the same room below and above in millimetres.
    #[must_use]
    pub fn exactly(slabs: Vec<Slab>, room: f64) -> Self {
        Self { least: slabs.clone(), most: slabs, gouge: room, left: room }
    }
}

/// What stands off in one layer: its faces, and each piece with what it amounts to.
type Beyond = (f64, f64, Vec<(Region, Amount)>);

/// The plan of slabs at a height.
fn at(slabs: &[Slab], height: f64) -> Region {
    let here: Vec<Region> = slabs
        .iter()
        .filter(|slab| slab.low < height && slab.high > height)
        .map(|slab| slab.region.clone())
        .collect();
    Region::union_of(&here)
}

/// Pieces of a plan that stand off a reference by more than a room, with what each amounts to.
fn beyond(region: &Region, reference: &Region, room: f64) -> Vec<(Region, Amount)> {
    if region.is_empty() {
        return Vec::new();
    }
    let pieces = Against::of(reference).pieces(region).into_iter().filter(|(_, depth)| depth.deepest > room);
    pieces
        .filter_map(|(rings, depth)| Some((Region::with_holes(&rings[0], &rings[1..]).ok()?, depth)))
        .collect()
}

/// A run of layers one upon the other that all have a fault, and how high the run is.
fn runs(layers: &[(f64, f64, bool)]) -> Vec<f64> {
    let mut heights = vec![0.0; layers.len()];
    let mut from = 0;
    for i in 0..=layers.len() {
        if layers.get(i).is_none_or(|&(_, _, faulty)| !faulty) {
            if i > from {
                let height = layers[i - 1].1 - layers[from].0;
                heights[from..i].iter_mut().for_each(|own| *own = height);
            }
            from = i + 1;
        }
    }
    heights
}

pub(super) fn judge(
    program: &Program,
    set_up: &SetUp,
    wanted: &Wanted,
    milled: &mut Milled,
    faults: &mut Vec<Fault>,
) {
    let end = program.steps.last().map_or(Spot::default(), |step| step.spot);
    let first = program.steps.first().map_or(Spot::default(), |step| step.spot);
    let mut gouged: Vec<Beyond> = Vec::new();
    let mut left: Vec<Beyond> = Vec::new();
    let mut short = 0.0_f64;
    for (before, after) in milled.before.iter().zip(&milled.after) {
        let middle = 0.5 * (after.low + after.high);
        let (least, most) = (at(&wanted.least, middle), at(&wanted.most, middle));
        let lacking = least.difference(&before.region);
        for (_, depth) in beyond(&lacking, &before.region, wanted.gouge) {
            short += depth.area * (after.high - after.low);
        }
        let gouge = least.intersection(&before.region).difference(&after.region);
        let rest = after.region.difference(&most);
        gouged.push((after.low, after.high, beyond(&gouge, &least, wanted.gouge)));
        left.push((after.low, after.high, beyond(&rest, &most, wanted.left)));
        milled.gouge.push(Slab::new(after.low, after.high, gouge));
        milled.remainder.push(Slab::new(after.low, after.high, rest));
    }
    // What is wanted above or below the stock is lacking too.
    let (low, high) = match (milled.after.first(), milled.after.last()) {
        (Some(first), Some(last)) => (first.low, last.high),
        _ => (0.0, 0.0),
    };
    for slab in &wanted.least {
        let height = slab.high - slab.low;
        let below = (low - slab.low).clamp(0.0, height);
        let above = (slab.high - high).clamp(0.0, height);
        let outside = if below.max(above) > wanted.gouge { below + above } else { 0.0 };
        short += slab.region.area() * outside;
    }
    if short > 0.0 {
        faults.push(
            Fault::new(
                Wrong::StockTooSmall,
                first,
                format!("the stock lacks {} mm³ of what is wanted", figure(short, 3)),
            )
            .by(short)
            .cure("take larger stock, or set the zero elsewhere"),
        );
    }
    remainder(&left, wanted, end, faults);
    let heights =
        runs(&gouged.iter().map(|(low, high, pieces)| (*low, *high, !pieces.is_empty())).collect::<Vec<_>>());
    let mut told: BTreeMap<Spot, (f64, f64)> = BTreeMap::new();
    for ((low, high, pieces), height) in gouged.iter().zip(heights) {
        if height <= wanted.gouge {
            continue;
        }
        for (piece, depth) in pieces {
            let spot = culprit(program, set_up, piece, 0.5 * (low + high)).unwrap_or(end);
            let entry = told.entry(spot).or_insert((0.0, 0.0));
            entry.0 += depth.area * (high - low);
            entry.1 = entry.1.max(depth.deepest.min(height));
        }
    }
    for (spot, (volume, depth)) in told {
        faults.push(
            Fault::new(
                Wrong::Gouge,
                spot,
                format!("{} mm³ of what is wanted is cut away, {} mm deep", figure(volume, 3), mm(depth)),
            )
            .by(depth)
            .cure("keep the cutter off the wanted outline and above the wanted floor"),
        );
    }
}

fn remainder(left: &[Beyond], wanted: &Wanted, end: Spot, faults: &mut Vec<Fault>) {
    let heights =
        runs(&left.iter().map(|(low, high, pieces)| (*low, *high, !pieces.is_empty())).collect::<Vec<_>>());
    let (mut volume, mut high, mut place) = (0.0, 0.0_f64, None);
    for ((from, to, pieces), height) in left.iter().zip(heights) {
        if height <= wanted.left {
            continue;
        }
        for (_, depth) in pieces {
            volume += depth.area * (to - from);
            let off = depth.deepest.min(height);
            if off > high {
                high = off;
                place = depth.at.map(|at: Point| (at, 0.5 * (from + to)));
            }
        }
    }
    if let Some((at, z)) = place {
        faults.push(
            Fault::new(
                Wrong::Remainder,
                end,
                format!(
                    "{} mm³ of metal is left on what is wanted, up to {} mm high, at X {} Y {} Z {}",
                    figure(volume, 3),
                    mm(high),
                    mm(at.x),
                    mm(at.y),
                    mm(z)
                ),
            )
            .by(high)
            .cure("cut it, or allow it"),
        );
    }
}

/// The step that takes most of a gouge at a height.
fn culprit(program: &Program, set_up: &SetUp, gouge: &Region, height: f64) -> Option<Spot> {
    let edges = Edges::of(gouge);
    let mut cutter = set_up.cutters.get(&0);
    let mut worst: Option<(f64, Spot)> = None;
    for step in &program.steps {
        if let Does::Tool { number } = step.does {
            cutter = set_up.cutters.get(&number);
        }
        let Some(cutter) = cutter else { continue };
        let mut area = 0.0_f64;
        for bit in bits(step, set_up) {
            let radius = cutter.radius(height - bit.tip());
            if radius <= 0.0 {
                continue;
            }
            let Ok(disc) = Convex::disc(radius, sides(radius, set_up.within)) else { continue };
            let ring = disc.along(&[bit.from, bit.to]);
            if edges.reached(&ring, gouge) {
                let swept = Region::polygon(&ring).map_or(0.0, |swept| gouge.intersection(&swept).area());
                area = area.max(swept);
            }
        }
        if area > 0.0 && worst.is_none_or(|(before, _)| area > before) {
            worst = Some((area, step.spot));
        }
    }
    worst.map(|(_, spot)| spot)
}
