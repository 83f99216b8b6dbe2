//! Bores that no boring tool, reamer or broach of the shop brings to size: what each lacks, and what would do.

use super::{Lever, weigh};
use crate::plan::bench::Bench;
use movement::part::AxisHole;
use reckon::source::GEOMETRY;
use reckon::{Diameter, Length, Shown, Source, Val, work};
use record::facts::CutterUse;

/// Up to which size reamers and broaches are had.
pub static REAMERS: Source = Source::practice(
    "hand reamers and broaches are sold up to some 20 mm; larger holes are bored, or the part is made from tube",
);
/// The size of [`REAMERS`], millimetres.
const LARGEST: f64 = 20.0;

/// Cures of the verdict that nothing brings a drilled hole to its size.
pub fn cures(
    b: &mut Bench<'_>,
    at: &str,
    verdict: &Val<bool>,
    hole: &AxisHole,
    (size, drilled): (Val<Diameter>, Val<Diameter>),
    full: Val<Length>,
) {
    let tools: Vec<_> =
        b.shop.cutters.iter().filter(|c| c.of == CutterUse::Boring && c.made).cloned().collect();
    let mut levers = Vec::new();
    let half = hole.depth.is_none().then(|| {
        let over = b.assumed(
            &format!("{at}.over"),
            Length::mm(1.0),
            "house default: cuts from both ends pass each other by this",
        );
        work!(b.book, b.name(&format!("{at}.half")), |full, over| full / 2.0 + over, &GEOMETRY)
    });
    for tool in &tools {
        let Some(reach) = tool.reach else { continue };
        if tool.size.is_some_and(|s| s.bare() > drilled.bare().across()) {
            continue;
        }
        levers.push(Lever { what: format!("the {}", tool.name), need: full, room: reach });
        if let Some(half) = half {
            levers.push(Lever { what: format!("the {} from both ends", tool.name), need: half, room: reach });
        }
    }
    let enters = |c: &&record::facts::Cutter| {
        c.size.is_some_and(|s| s.bare() > drilled.bare().across() && s.bare() < size.bare().across())
    };
    for tool in tools.iter().filter(enters) {
        let Some(wide) = tool.size else { continue };
        let own = drilled.bare().across();
        b.book.cure(
            verdict.id(),
            format!(
                "drill larger first: the {} enters from {} on, and the drill leaves {}: short by {}",
                tool.name,
                wide.shown(),
                drilled.shown(),
                (wide.bare() - own).shown()
            ),
        );
    }
    let otherwise = if size.bare() > Diameter::mm(LARGEST) {
        format!("with a reach of {} and more; or the part from tube, or bored elsewhere", full.shown())
    } else {
        format!(
            "that enters {} and reaches {}; or a reamer of {}",
            drilled.shown(),
            full.shown(),
            size.shown()
        )
    };
    if size.bare() <= Diameter::mm(LARGEST) {
        nearest(b, verdict, size.bare(), hole);
    }
    weigh(b.book, b.name(&format!("{at}.way")), Some(verdict), &levers, ("a boring tool", &otherwise));
}
/// The nearest reamer of the shop, and what its hole asks of what goes into it.
fn nearest(b: &mut Bench<'_>, verdict: &Val<bool>, size: Diameter, hole: &AxisHole) {
    let off = |d: Diameter| (d - size).abs();
    let near =
        b.shop.drills.reamers.iter().min_by(|x, y| off(x.bare()).value().total_cmp(&off(y.bare()).value()));
    let Some(reamer) = near.filter(|r| off(r.bare()) <= Length::mm(0.25)).copied() else { return };
    let word = if reamer.bare() < size { "smaller" } else { "larger" };
    b.book.cure(
        verdict.id(),
        format!(
            "the shop's reamer of {}, where what goes into the {} is made {word} with it: by {}",
            reamer.shown(),
            hole.what,
            off(reamer.bare()).shown()
        ),
    );
}
