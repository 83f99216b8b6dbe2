//! What heat feels of a part: its thickest and thinnest section, its mass, its volume over its skin.

use movement::part::{Body, FlatBody, Part, TurnedBody};
use reckon::maths::{PI, cos};
use reckon::{Area, Book, Id, Length, Mass, Source, Val, Volume, work};
use shape::flat::{Flat, Hole};
use shape::profile::Profile;
use shape::segment::Segment;

/// How a wall or a plate is likened to a rod.
pub static AS_ROD: Source = Source::derived(
    "a rod has a volume over skin of a quarter of its diameter; a wall or a plate of half its thickness: it counts as a rod of twice that",
)
.with_formula("d = 4 V/A");
/// Volume over skin.
pub static LUMP: Source =
    Source::derived("volume of the solid over the area of its skin, counted on rings and faces");

/// A part as the fire sees it.
#[derive(Copy, Clone, Debug)]
pub struct Felt {
    /// Thickest section, as a rod.
    pub thick: Val<Length>,
    /// Thinnest section, as a rod.
    pub thin: Val<Length>,
    /// Mass of one.
    pub mass: Val<Mass>,
    /// Volume over skin.
    pub lump: Val<Length>,
    /// Longest size over the thickest section.
    pub slender: f64,
    /// Metal between a hole and the nearest edge, over the hole's diameter.
    pub edge: Option<f64>,
    /// Radius of the sharpest inner corner while it is hardened, millimetres.
    pub corner: Option<f64>,
    /// Whether a slot, a thread or teeth run to a root.
    pub rooted: bool,
}
/// Sections of a body in millimetres: thick, thin, volume, skin.
struct Rough {
    thick: f64,
    thin: f64,
    volume: f64,
    skin: f64,
    longest: f64,
}
/// Radius left in shoulders of turned parts for the quench.
const SHOULDER: f64 = 0.3;
/// Slices along the axis that a turned part is counted in.
const SLICES: u32 = 240;

fn turned(b: &TurnedBody) -> Rough {
    let solid = &b.solid;
    let (from, long) = (solid.first(), solid.length());
    let hollow = solid.hollow();
    let dz = long / f64::from(SLICES);
    let (mut rods, mut skin) = (Vec::new(), 0.0);
    let mut last = (0.0_f64, 0.0_f64);
    for i in 0..SLICES {
        let z = from + dz * (f64::from(i) + 0.5);
        let r1 = solid.radius_at(z);
        let within = hollow.iter().filter(|p| p.z0 <= z && z <= p.z1).map(|p| p.radius(z));
        let r0 = within.fold(0.0, f64::max).min(r1);
        // A ring of outside D and bore d: V/A = (D - d)/4 when both skins feel the heat.
        rods.push(2.0 * (r1 - r0));
        skin += 2.0 * PI * (r0 + r1) * dz;
        skin += PI * ((r1 * r1 - last.1 * last.1).abs() + (r0 * r0 - last.0 * last.0).abs());
        last = (r0, r1);
    }
    skin += PI * (last.1 * last.1 - last.0 * last.0).abs();
    rods.sort_by(f64::total_cmp);
    // Chamfers and points, a fiftieth of the length, are no section.
    let (thin, thick) = (rods[rods.len() / 50].max(0.05), rods[rods.len() - 1]);
    Rough { thick, thin, volume: solid.volume(), skin, longest: long.max(thick) }
}
fn flat(b: &FlatBody) -> Rough {
    let s = &b.solid;
    let holes: f64 = s.holes.iter().map(|h| PI * h.diameter).sum();
    let round = |p: &Profile| p.segments().iter().map(Segment::length).sum::<f64>();
    let rim = round(&s.outline) + s.windows.iter().map(round).sum::<f64>() + holes;
    let (area, t) = (s.area(), s.thickness);
    let skin = 2.0 * area + rim * t;
    // A strip of width w and thickness t is a rod of 2 w t/(w + t); the mean width comes from area and rim.
    let width = (2.0 * area / rim).max(1e-6);
    let rod = |w: f64| 2.0 * w * t / (w + t);
    let box_least = b.extent.0.bare().in_mm().min(b.extent.1.bare().in_mm());
    let webs = s.holes.iter().map(|h| nearest(s, h).max(0.05));
    let thin = webs.fold(rod(width), |a, w| a.min(rod(w)));
    let thick = rod(box_least.max(width)).max(thin);
    let longest = b.extent.0.bare().in_mm().max(b.extent.1.bare().in_mm());
    Rough { thick, thin, volume: s.volume(), skin, longest }
}
/// Metal between a hole and what is nearest to it: the outline or another hole.
fn nearest(s: &Flat, h: &Hole) -> f64 {
    let rim = s.outline.distance_to(h.at) - h.diameter / 2.0;
    let others = s.holes.iter().filter(|o| o.at != h.at).map(|o| {
        let (x, y) = (o.at.x - h.at.x, o.at.y - h.at.y);
        (x * x + y * y).sqrt() - (o.diameter + h.diameter) / 2.0
    });
    others.fold(rim, f64::min).max(0.0)
}
/// Whether an outline turns inwards at a corner without a radius, by more than twenty degrees.
fn inner_corner(p: &Profile) -> bool {
    let all = p.segments();
    let sense = turning(p);
    let unit = |s: &Segment, a: f64, b: f64| {
        let (p, q) = (s.at(a), s.at(b));
        let (x, y) = (q.x - p.x, q.y - p.y);
        let l = (x * x + y * y).sqrt();
        (x / l, y / l)
    };
    (0..all.len()).any(|i| {
        let (a, b) = (&all[i], &all[(i + 1) % all.len()]);
        if a.length() < 1e-6 || b.length() < 1e-6 {
            return false;
        }
        let (u, v) = (unit(a, 0.99, 1.0), unit(b, 0.0, 0.01));
        let (cross, dot) = (u.0 * v.1 - u.1 * v.0, u.0 * v.0 + u.1 * v.1);
        cross * sense < 0.0 && dot < cos(20.0 * PI / 180.0)
    })
}
/// 1 for an outline that runs counter-clockwise, -1 for the other way.
fn turning(p: &Profile) -> f64 {
    if p.area() < 0.0 { -1.0 } else { 1.0 }
}
impl Felt {
    /// Of a part, written under a dotted prefix.
    pub fn of(part: &Part, book: &mut Book, at: &str) -> Felt {
        let (rough, edge, corner, rooted, inputs) = match &part.body {
            Body::Turned(b) => {
                let shoulders = b.steps.windows(2).any(|w| {
                    let (a, c) = (w[0].size.nominal.bare(), w[1].size.nominal.bare());
                    (a - c).abs() > Length::mm(0.1) && !w[0].undercut && !w[1].undercut
                });
                let threads =
                    b.steps.iter().any(|s| s.thread.is_some()) || b.holes.iter().any(|h| h.thread.is_some());
                let cross = b.cross_holes.iter().map(|(_, d)| {
                    let wall = (b.largest.bare() - d.bare()) / 2.0;
                    wall.value() / d.bare().across().value()
                });
                let edge = cross.reduce(f64::min);
                let why = "house default: shoulders keep the tool's radius until after hardening, and are squared by stone or grinding";
                let left = book.assumed(format!("{at}.corner"), Length::mm(SHOULDER), why);
                let rooted = threads || b.slot.is_some() || !b.leaves.is_empty();
                (
                    turned(b),
                    edge,
                    shoulders.then(|| left.bare().in_mm()),
                    rooted,
                    vec![b.length.id(), b.largest.id()],
                )
            }
            Body::Flat(b) => {
                let edge = b.solid.holes.iter().map(|h| nearest(&b.solid, h) / h.diameter).reduce(f64::min);
                let sharp = inner_corner(&b.solid.outline);
                (
                    flat(b),
                    edge,
                    sharp.then_some(0.0),
                    b.teeth.is_some(),
                    vec![b.thickness.nominal.id(), b.extent.0.id()],
                )
            }
        };
        let density = part.common.material.density.tabled(
            book,
            format!("{at}.density"),
            part.common.material.row("density"),
        );
        let mut mm = |tail: &str, v: f64, how: &str, inputs: &[Id]| {
            let name = format!("{at}.{tail}");
            book.solved(name, Length::mm(v), (how, 1, 0.0), inputs.to_vec(), &AS_ROD)
        };
        let thick = mm(
            "thick",
            rough.thick,
            "thickest section, taken as a rod of the same volume over skin",
            &inputs,
        );
        let thin =
            mm("thin", rough.thin, "thinnest section, taken as a rod of the same volume over skin", &inputs);
        let how = "volume of the solid";
        let volume = Volume::si(rough.volume * 1e-9);
        let volume = book.solved(format!("{at}.volume"), volume, (how, 1, 0.0), inputs.clone(), &LUMP);
        let skin = Area::si(rough.skin * 1e-6);
        let how = "all faces that the heat gets at, holes and ends counted";
        let skin = book.solved(format!("{at}.skin"), skin, (how, SLICES, 0.0), inputs, &LUMP);
        let mass = work!(book, format!("{at}.mass"), |density, volume| density * volume, &LUMP);
        let lump = work!(book, format!("{at}.lump"), |volume, skin| volume / skin, &LUMP);
        Felt { thick, thin, mass, lump, slender: rough.longest / rough.thick.max(1e-6), edge, corner, rooted }
    }
}
