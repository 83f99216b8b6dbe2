//! Holes along the axis that are deep for the machines: how often the tailstock is advanced, why not the mill, which
//! drill reaches.

use super::{Lever, room, weigh};
use crate::kernel::setting::DAYLIGHT;
use crate::plan::bench::Bench;
use crate::plan::drills;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Count, Diameter, Length, Source, Val, judge, work};
use tables::drill::length::{self, Build};

/// Deep holes.
pub static STAGES: Source = Source::practice(
    "a hole deeper than the tailstock travels is drilled in strokes: barrel back, tailstock advanced and locked again",
);

/// Where a hole deeper than the tailstock's travel is drilled, with what the mill would need; what is told.
pub fn where_drilled(
    b: &mut Bench<'_>,
    at: &str,
    d: Val<Diameter>,
    depth: Val<Length>,
    through: bool,
) -> Vec<String> {
    let travel = b.lathe.tailstock_travel;
    if depth.bare() <= travel.bare() {
        return Vec::new();
    }
    let strokes =
        work!(b.book, b.name(&format!("{at}.strokes")), |depth, travel| strokes(depth, travel), &STAGES);
    let told = format!(
        "Deeper than the tailstock travels ({}): advance the tailstock and lock it again {} times.",
        travel.shown(),
        strokes.bare().0
    );
    let mut lines = vec![told];
    let shop = b.shop;
    let Some(mill) = shop.mills.first() else { return lines };
    let Some(chuck) = mill.chuck_length.or(mill.collet_length) else { return lines };
    let (space, high) = (mill.daylight, b.body.length);
    let stem = b.name(&format!("{at}.on_mill"));
    let name = |tail: &str| format!("{stem}.{tail}");
    let drill = long_out(b, &name("drill_out"), d, depth);
    let mut levers = Vec::new();
    if let Some(vice) = &mill.vice {
        let bed = vice[1];
        let need =
            work!(b.book, name("in_vice"), |bed, high, chuck, drill| bed + high + chuck + drill, &DAYLIGHT);
        levers.push(Lever { what: format!("{}, upright in the vice", mill.name), need, room: space });
    }
    let need = work!(b.book, name("on_table"), |high, chuck, drill| high + chuck + drill, &DAYLIGHT);
    levers.push(Lever { what: format!("{}, clamped upright on the table", mill.name), need, room: space });
    if let Some(collet) = mill.collet_length.filter(|c| c.bare() < chuck.bare()) {
        let need = work!(b.book, name("in_collet"), |high, collet, drill| high + collet + drill, &DAYLIGHT);
        levers.push(Lever {
            what: format!("{}, on the table, drill in a collet", mill.name),
            need,
            room: space,
        });
        let deep = room::swallows(b.book, name("both_ends.taken_in"), true);
        let short = room::out(b.book, &name("both_ends.drill_out"), Some(d), Build::Ordinary, deep);
        if let Some(short) = short.filter(|_| through) {
            let need =
                work!(b.book, name("both_ends"), |high, collet, short| high + collet + short, &DAYLIGHT);
            levers.push(Lever {
                what: format!("{}, on the table, an ordinary drill in a collet, from both ends", mill.name),
                need,
                room: space,
            });
        }
    }
    let verdict = levers.iter().any(Lever::suffices);
    let among = levers
        .iter()
        .map(|l| Alternative { what: l.what.clone(), taken: false, why: l.told() })
        .chain([Alternative {
            what: format!("{}, tailstock advanced {} times", b.lathe.name, strokes.bare().0),
            taken: true,
            why: if verdict {
                "true to what is turned at the same setting".to_owned()
            } else {
                "the mill has no room for it any way, and here it is true to what is turned".to_owned()
            },
        }])
        .collect();
    let taken = format!("{}, tailstock advanced {} times", b.lathe.name, strokes.bare().0);
    let mut inputs = vec![strokes.id()];
    inputs.extend(levers.iter().map(|l| l.need.id()));
    let chosen = b.name(&format!("{at}.drilled_on"));
    b.book.chosen(chosen, taken, "at the same setting as the outside", among, inputs, &STAGES);
    if !verdict && let Some(l) = levers.first() {
        lines.push(format!("Not on the {}: it {}.", l.what, l.told()));
    }
    lines.push("Begin with the ordinary drill as deep as it goes; the long one follows in its hole and does not wander.".to_owned());
    lines
}
fn strokes(depth: Length, travel: Length) -> Count {
    #[expect(clippy::cast_possible_truncation, reason = "a small number of strokes")]
    Count((depth.value() / travel.value().max(1e-3) - 1e-9).ceil().clamp(1.0, 1e4) as i64)
}
/// What a drill that reaches this deep stands out: the shop's long one, else one as sold, else what it has to.
fn long_out(b: &mut Bench<'_>, name: &str, d: Val<Diameter>, depth: Val<Length>) -> Val<Length> {
    let long =
        drills::long(b.shop, d.bare(), Length::mm(0.3)).filter(|(_, reach)| reach.bare() >= depth.bare());
    if let Some((_, reach)) = long {
        return work!(b.book, name.to_owned(), |reach| reach, &GEOMETRY);
    }
    work!(b.book, name.to_owned(), |depth| depth, &GEOMETRY)
}

/// How deep a drill's flutes reach, the verdict on it, and what would do where they do not.
pub fn reaches(
    b: &mut Bench<'_>,
    at: &str,
    d: Val<Diameter>,
    depth: Val<Length>,
    parts: Count,
    through: bool,
) -> Length {
    let name = b.name(&format!("{at}.reach"));
    let reach = drills::flutes(b.book, name, b.shop, d, Length::mm(0.005));
    let verdict = judge!(
        b.book,
        b.name(&format!("{at}.reaches")),
        "the drill's flutes reach the depth",
        |depth, reach| depth <= reach,
        &GEOMETRY
    );
    if verdict.bare() {
        return reach.bare();
    }
    if parts > Count(1) {
        b.book.cure(verdict.id(), format!("drill for fewer parts at a time than {}", parts.0));
    }
    let mut levers = Vec::new();
    for build in [Build::Ordinary, Build::Long] {
        let Some(l) = length::of(d.bare(), build) else { continue };
        let room = l.flutes(b.book, b.name(&format!("{at}.{}_flutes", build.text())), build);
        if room.bare() > reach.bare() {
            let what = match build {
                Build::Long => format!("a drill of the long series, {}, as sold", d.shown()),
                _ => format!("a drill of {} with flutes as sold", d.shown()),
            };
            levers.push(Lever { what, need: depth, room });
        }
        if through && parts <= Count(1) {
            let half = work!(
                b.book,
                b.name(&format!("{at}.half_with_{}", build.text())),
                |depth, d| depth / 2.0 + d.across() * 0.3,
                &GEOMETRY
            );
            let what = format!("from both ends with a drill of {} of {} length", d.shown(), build.text());
            levers.push(Lever { what, need: half, room });
        }
    }
    let way = b.name(&format!("{at}.reaches.way"));
    let buy = format!("flutes of {} and more, made for it", depth.shown());
    weigh(b.book, way, Some(&verdict), &levers, ("a drill of extra length", &buy));
    reach.bare()
}
