//! What is lost between drive and pendulum, as ranges.

use super::{BandOf, End, From, WeightDesign};
use power::budget::{self as kernel, Band, Escapement, MESH_DEFAULT, PIVOTS_DEFAULT};
use reckon::{Book, Id, Ratio};
use record::facts::{EscapementKind, Share};

/// What reaches the escape arbor of what the drive gives, and the pendulum of what the escape arbor gets.
#[derive(Clone, Debug)]
pub struct Shares {
    /// Through pulley and train.
    pub train: BandOf<Ratio>,
    /// Through the escapement.
    pub escapement: BandOf<Ratio>,
    /// Efficiency of each mesh, in the order of the train's; usual ones where teeth are not known.
    pub(super) meshes: Vec<Band>,
}
const fn written(s: Share) -> BandOf<Ratio> {
    BandOf { low: s.low, likely: s.likely, high: s.high }
}
const fn end(band: Band, end: End) -> f64 {
    match end {
        End::Low => band.low,
        End::Likely => band.likely,
        End::High => band.high,
    }
}
fn assumed(name: &str, band: Band, why: &str, book: &mut Book) -> BandOf<Ratio> {
    BandOf::each(|word, e| book.assumed(format_args!("{name}.{word}"), Ratio::si(end(band, e)), why))
}

pub(super) fn shares(from: &From<'_>, weight: Option<&WeightDesign>, book: &mut Book) -> Shares {
    let losses = &from.facts.losses;
    let mut ids: Vec<Id> = Vec::new();
    let meshes: Vec<Band> = from
        .train
        .meshes
        .iter()
        .map(|m| {
            let Some(c) = m.sizes.as_ref().and_then(|s| s.contact) else { return MESH_DEFAULT };
            ids.extend([c.efficiency_range.0.id(), c.efficiency.id(), c.efficiency_range.1.id()]);
            let (low, likely, high) =
                (c.efficiency_range.0.bare(), c.efficiency.bare(), c.efficiency_range.1.bare());
            // Friction that changes the place of the drive can bend the range; it stays in order.
            Band {
                low: low.value().min(likely.value()),
                likely: likely.value(),
                high: high.value().max(likely.value()),
            }
        })
        .collect();
    let train = match losses.train {
        Some(s) => written(s),
        None => {
            let mut parts = meshes.clone();
            parts.push(PIVOTS_DEFAULT);
            if let Some(p) = weight.and_then(|w| w.pulley) {
                ids.push(p.id());
                parts.push(Band::sure(p.bare().value()));
            }
            let all = kernel::chain(&parts);
            BandOf::each(|word, e| {
                let how = ("pulley, every mesh and all pivots, one after the other", 1, 0.0);
                let name = format!("drive.train_passes.{word}");
                book.solved(name, Ratio::si(end(all, e)), how, ids.clone(), &kernel::CHAIN)
            })
        }
    };
    let escapement = match losses.escapement {
        Some(s) => written(s),
        None => {
            let (band, why) = match from.facts.escapement.as_ref().map(|e| e.kind) {
                Some(EscapementKind::DeadBeat | EscapementKind::PinWheel) | None => (
                    Escapement::DeadBeat.efficiency(),
                    "dead-beat 0.3 to 0.4, by geometry up to 0.55: common practice",
                ),
                Some(EscapementKind::Recoil) => {
                    (Escapement::Recoil.efficiency(), "recoil anchor 0.2 to 0.3: common practice")
                }
                Some(EscapementKind::Grasshopper) => (
                    Band { low: 0.5, likely: 0.6, high: 0.7 },
                    "grasshopper, which does not slide: house default",
                ),
            };
            assumed("drive.escapement_passes", band, why, book)
        }
    };
    Shares { train, escapement, meshes }
}
