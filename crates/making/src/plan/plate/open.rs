//! A plate parted from its fellow: burrs, large holes opened, pivot holes broached from the inside, oil sinks.

use super::pair::Pair;
use super::{Plate, bench};
use crate::plan::hole::seen;
use crate::plan::{Caution, Operation, PassTable, SetUp, Spread};
use reckon::{Book, Cell, Diameter, Length, Source, Val, judge, work};

/// What is left for a broach.
pub static BROACH: Source =
    Source::practice("left for a broach: 0.03 to 0.06 mm; more than a tenth is drilled or bored first");
/// Oil sinks.
pub static SINK: Source = Source::practice(
    "an oil sink as deep as leaves the pivot a bearing of a third of the plate or more; smooth, so that oil stays in it",
);

/// The last set-up of a plate.
pub(super) fn finish(p: &Plate<'_>, pair: &Pair, leads: bool, book: &mut Book) -> SetUp {
    let mut ops = Vec::new();
    ops.extend(broach(p, pair, leads, book));
    ops.extend(sinks(p, book));
    ops.push(Operation {
        title: "Faces and edges".to_owned(),
        lines: vec![
            "Edges drawn along the file, then paper on a stick; their sharpness off. Faces on paper on glass, all strokes one way, until no scratch runs across.".to_owned(),
        ],
        tool: Some("files, paper on stick and glass".to_owned()),
        checks: vec![seen("outline", "edges straight, no burr to a finger-nail")],
        cautions: p.cautions(Caution::Filing),
        does: vec!["deburr"],
        time: Spread::minutes(20.0, 40.0, 80.0),
        ..Operation::default()
    });
    bench("holes to size, oil sinks, faces", "bench, soft jaws, wood under the plate", ops)
}
/// The pair taken apart.
pub(super) fn part(p: &Plate<'_>, pair: &Pair) -> Operation {
    let other = if p.part.common.name == pair.names.0 { &pair.names.1 } else { &pair.names.0 };
    Operation {
        title: format!("Part from the {other}, take the burrs off"),
        lines: vec![
            "Drive the pins out from below with a brass drift. Each hole on both faces with a large drill turned in the fingers: burr off, no chamfer on the inside.".to_owned(),
            "Holes that were only started in the lower plate are drilled through now from that start, on the same drill.".to_owned(),
        ],
        tool: Some("brass drift, large drill in a handle".to_owned()),
        cautions: p.cautions(Caution::Filing),
        does: vec!["deburr"],
        time: Spread::minutes(8.0, 12.0, 20.0),
        ..Operation::default()
    }
}
/// Whether a hole is held closer than a drill cuts and no reamer of the shop gives it.
pub(in crate::plan) fn close(h: &record::facts::Hole) -> bool {
    h.thread.is_none() && h.diameter.upper.bare() - h.diameter.lower.bare() < Length::mm(0.05)
}
/// The reamer of the shop that gives this size.
pub(in crate::plan) fn reamed(h: &record::facts::Hole, shop: &record::facts::Shop) -> bool {
    close(h)
        && shop
            .drills
            .reamers
            .iter()
            .any(|r| (r.bare() - h.diameter.nominal.bare()).abs() < Length::mm(0.005))
}
/// Whether a broach of the shop goes to a size.
fn has_broach(size: Diameter, shop: &record::facts::Shop) -> bool {
    shop.drills.broaches.iter().any(|(low, high)| size >= low.bare() && size <= high.bare())
}
/// What brings a drilled hole to a close size.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub(in crate::plan) enum Way {
    /// A broach of the shop.
    Broach,
    /// A half-round reamer turned for it.
    HalfRound,
    /// Bored.
    Bore,
    /// Nothing here does.
    None,
}
impl Way {
    /// As a hole list says it, before the size.
    pub(in crate::plan) const fn words(self) -> &'static str {
        match self {
            Way::Broach | Way::None => "open with a broach to",
            Way::HalfRound => "open with a half-round reamer to",
            Way::Bore => "bore to",
        }
    }
    const fn tool(self) -> &'static str {
        match self {
            Way::Broach | Way::None => "broach",
            Way::HalfRound => "half-round reamer",
            Way::Bore => "bored",
        }
    }
}
/// How a hole comes from its drill to its size: by what is left, and what the shop has.
pub(in crate::plan) fn way(
    shop: &record::facts::Shop,
    book: &mut Book,
    at: &str,
    wanted: Val<Diameter>,
    drill: Val<Diameter>,
) -> Way {
    let drilled = work!(book, format!("{at}.drilled"), |drill| drill, &BROACH);
    let left = work!(book, format!("{at}.left"), |wanted, drilled| wanted - drilled, &BROACH);
    let size = wanted.bare();
    let little = |mm: f64| left.bare() <= Length::mm(mm + 1e-6);
    let bar = shop.cutters.iter().find(|c| {
        c.of == record::facts::CutterUse::Boring
            && c.made
            && c.size.is_some_and(|s| s.bare().as_diameter() <= drilled.bare())
    });
    let left_text = left.shown();
    let ways = [
        (
            Way::Broach,
            has_broach(size, shop) && little(0.1),
            "a broach".to_owned(),
            if has_broach(size, shop) {
                format!("{left_text} to take: 0.1 mm is what a broach takes without going astray")
            } else {
                "none of the shop goes to this size".to_owned()
            },
        ),
        (
            Way::HalfRound,
            !shop.lathes.is_empty() && little(0.3),
            "a half-round reamer turned for it".to_owned(),
            format!("{left_text} to take: up to 0.3 mm it cuts its own size and trues the hole"),
        ),
        (
            Way::Bore,
            bar.is_some(),
            bar.map_or_else(|| "boring".to_owned(), |c| format!("boring with the {}", c.name)),
            if bar.is_some() {
                "goes into the drilled hole".to_owned()
            } else {
                "no boring tool of the shop goes into the drilled hole".to_owned()
            },
        ),
    ];
    let pick = ways.iter().position(|w| w.1);
    let among = ways
        .iter()
        .enumerate()
        .map(|(k, w)| reckon::Alternative { what: w.2.clone(), taken: pick == Some(k), why: w.3.clone() })
        .collect();
    let taken = pick.map_or(Way::None, |k| ways[k].0);
    book.chosen(
        format!("{at}.opened_by"),
        taken.tool().to_owned(),
        "first a broach, as it is there; then a reamer of one's own; then boring",
        among,
        vec![wanted.id(), left.id()],
        &BROACH,
    );
    let verdict = crate::plan::bench::found(
        book,
        (format!("{at}.to_size"), "something in the shop brings the drilled hole to its size"),
        ways.iter().filter(|w| w.1).count(),
        "broaches, reamers to be made and boring tools that serve",
    );
    let near = size - Length::mm(0.05);
    book.cure(verdict.id(), format!("a drill of {}", reckon::Shown::shown(&near)));
    book.cure(verdict.id(), format!("a reamer or broach of {}", wanted.shown()));
    taken
}
/// Pivot holes to their sizes.
fn broach(p: &Plate<'_>, pair: &Pair, leads: bool, book: &mut Book) -> Vec<Operation> {
    let slug = p.slug().to_owned();
    let (mut rows, mut inputs) = (Vec::new(), Vec::new());
    let mut reamers = Vec::new();
    let mut opened = Vec::new();
    for (i, h) in p.body.holes.iter().enumerate() {
        if let Some(s) = pair.shared.iter().find(|s| if leads { s.of.0 == i } else { s.of.1 == i }) {
            let (mine, other) = if leads { s.sizes } else { (s.sizes.1, s.sizes.0) };
            if mine > other {
                opened.push(format!("'{}' to {}", h.label, h.diameter.nominal.shown()));
            }
        }
        if !close(h) || reamed(h, p.shop) {
            continue;
        }
        let size = h.diameter.nominal;
        let at = format!("{slug}.hole.{}", reckon::slug(&h.label));
        if book.find(&format!("{at}.drill_found")).is_none() {
            crate::plan::drills::drill_for(h, (p.shop, p.metal.metal), book, &at);
        }
        let by = book
            .find(&format!("{at}.opened_by"))
            .map_or_else(|| "broach".to_owned(), |(_, l)| l.shown.clone());
        if by == Way::HalfRound.tool() {
            reamers.push(size.shown());
        }
        let drilled = book.find(&format!("{at}.drilled")).map_or_else(String::new, |(_, l)| l.shown.clone());
        let left = book.find(&format!("{at}.left")).map_or_else(String::new, |(_, l)| l.shown.clone());
        let upper = h.diameter.upper;
        let go = work!(book, format!("{at}.most"), |size, upper| size + upper, &BROACH);
        inputs.extend([size.id(), go.id()]);
        rows.push(vec![
            Cell::word(h.label.clone()),
            Cell::word(drilled),
            Cell::word(left),
            Cell::of(&size.bare()),
            Cell::of(&go.bare()),
            Cell::word(by),
        ]);
    }
    let mut out = Vec::new();
    if !opened.is_empty() {
        out.push(Operation {
            title: "Open what this plate has larger".to_owned(),
            lines: vec![format!("Drilled through both at the smaller size, so that both stand in one line; now {}: drill in steps of a millimetre or so, the plate clamped, the drill finding its way in the hole.", opened.join(", "))],
            tool: Some("drills".to_owned()),
            cautions: p.cautions(Caution::DrillingSheet),
            does: vec!["drill"],
            time: Spread::around(6.0),
            ..Operation::default()
        });
    }
    if rows.is_empty() {
        return out;
    }
    if !reamers.is_empty() {
        out.push(half_round(&reamers));
    }
    let table = book.table(
        format!("{slug}.broaching"),
        &["hole", "drilled", "left", "to", "no more than", "with"],
        rows,
        "size at the inside, where a broach leaves the hole widest",
        inputs,
        &BROACH,
    );
    out.push(Operation {
        title: "Pivot holes to size, from the inside".to_owned(),
        lines: vec![
            "Broach upright, turned by finger and thumb with hardly a push, from the inside of the plate only, a few turns and out, chips wiped off. The hole is then widest where the shoulder is, and the pivot bears at its outer half.".to_owned(),
            "The size listed goes with the pivot as drawn. With the pivot in hand: it drops in by its own weight, and its arbor leans a little all round when tipped, alike to every side.".to_owned(),
            "Last a smooth broach with a drop of oil, until the hole shines. With both plates on their pillars the broach goes through a pair of holes at once: that brings a pair that leans into line.".to_owned(),
        ],
        tool: Some("cutting broaches, smooth broach, taper of the pivot gauge".to_owned()),
        tables: vec![PassTable { title: "pivot holes".to_owned(), id: table }],
        checks: vec![seen("every hole", "round and bright; its pivot leans alike to all sides")],
        cautions: p.cautions(Caution::HandThreading),
        does: vec!["drill"],
        time: Spread::minutes(20.0, 35.0, 60.0),
        ..Operation::default()
    });
    out
}
/// A reamer for sizes that no broach goes to: half of a rod of silver steel.
fn half_round(sizes: &[String]) -> Operation {
    Operation {
        title: format!("Make a half-round reamer: {}", sizes.join(", ")),
        lines: vec![
            "No broach or reamer of the shop goes to this size. Turn the end of a rod of silver steel to the hole's size less a hundredth, 25 mm long, polished; file or mill away half of it, less three hundredths, as a flat; back the corner off at its end.".to_owned(),
            "Harden, temper at pale straw (220 °C), stone the flat alone until the edge is keen. It cuts exactly its own diameter, and trues a hole that wandered. Try it in waste of the same sheet first.".to_owned(),
        ],
        tool: Some("silver steel, lathe, fire, oilstone".to_owned()),
        cautions: vec![Caution::Turning, Caution::Quench],
        time: Spread::minutes(30.0, 50.0, 90.0),
        ..Operation::default()
    }
}
/// Depth of a cone from a hole's rim out to a diameter.
#[must_use]
pub fn cone_depth(hole: Diameter, mouth: Diameter, angle: reckon::Angle) -> Length {
    (mouth - hole) / 2.0 / reckon::maths::tan(angle.value() / 2.0)
}
fn sinks(p: &Plate<'_>, book: &mut Book) -> Option<Operation> {
    let slug = p.slug().to_owned();
    let thick = p.body.thickness.nominal;
    let (mut rows, mut inputs) = (Vec::new(), Vec::new());
    for h in &p.body.holes {
        let Some((angle, mouth)) = h.countersink else { continue };
        let at = format!("{slug}.hole.{}.sink", reckon::slug(&h.label));
        let hole = h.diameter.nominal;
        let deep =
            work!(book, format!("{at}.depth"), |hole, mouth, angle| cone_depth(hole, mouth, angle), &SINK);
        let bears = work!(book, format!("{at}.bears"), |thick, deep| thick - deep, &SINK);
        let least = work!(book, format!("{at}.bears_least"), |thick| thick / 3.0, &SINK);
        let v = judge!(
            book,
            format!("{at}.leaves_enough"),
            "the oil sink leaves the pivot enough to bear on",
            |bears, least| bears >= least,
            &SINK
        );
        book.cure(v.id(), "a smaller sink, or a steeper one");
        inputs.extend([mouth.id(), deep.id(), bears.id()]);
        rows.push(sink_row(&h.label, mouth, deep, bears));
    }
    if rows.is_empty() {
        return None;
    }
    let table = book.table(
        format!("{slug}.sinks"),
        &["hole", "across", "deep", "pivot bears on"],
        rows,
        "on the outer face",
        inputs,
        &SINK,
    );
    Some(Operation {
        title: "Oil sinks, on the outside".to_owned(),
        lines: vec![
            "Cutter turned by hand or at the drill's slowest with its stop set, guided by a pin in the hole or by the hole itself; all of one size at one setting of the stop. A cone as drawn; rounded at the bottom with a ball-ended cutter if you have one: oil keeps better in it.".to_owned(),
            "Then the same cutter's copy in boxwood with fine paste, until they shine. No burr pushed into the hole: the smooth broach once more, a turn.".to_owned(),
        ],
        tool: Some("rose or sink cutter, boxwood to its shape".to_owned()),
        tables: vec![PassTable { title: "oil sinks".to_owned(), id: table }],
        checks: vec![seen("sinks", "even, round the hole, of one width by eye")],
        cautions: p.cautions(Caution::DrillingSheet),
        does: vec!["drill"],
        time: Spread::minutes(15.0, 25.0, 40.0),
        ..Operation::default()
    })
}
fn sink_row(label: &str, mouth: Val<Diameter>, deep: Val<Length>, bears: Val<Length>) -> Vec<Cell> {
    vec![
        Cell::word(label.to_owned()),
        Cell::of(&mouth.bare()),
        Cell::of(&deep.bare()),
        Cell::of(&bears.bare()),
    ]
}
