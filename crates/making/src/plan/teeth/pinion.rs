//! Pinions cut in their arbors: what springs under the cutter, what is left thick until after the fire, what comes last.

use super::super::bench::Bench;
use super::super::hole::seen;
use super::super::{Check, Figure, Held, Operation, SetUp, Spread};
use crate::kernel::speed::Kind;
use crate::kernel::{bend, force};
use movement::part::{Part, Step, Toothing, TurnedBody};
use reckon::{Alternative, Book, Diameter, Length, Source, Val, work};
use record::facts::Finish;

/// What hardening bends.
pub static BOW: Source =
    Source::practice("a slender arbor comes bowed by some 0.02 mm in 50 mm out of the quench");
/// What is left on pivots.
pub static LEFT: Source =
    Source::derived("room for the bow on both sides, and 0.1 mm to cut and burnish clean")
        .with_formula("left = 2 bow + 0.1 mm");
/// Force of a formed cutter.
pub static FORMED: Source = Source::derived(
    "chip of one tooth as thick as the feed of a tooth at the middle of its arc, as wide as the edge in cut",
)
.with_formula("h = f √(a/D), F = k_c b h");
/// Limits closer than this are turned last.
const CLOSE: f64 = 0.0075;

/// Whether a step is turned only after the fire: a pivot, or what is as close.
fn last(body: &TurnedBody, s: &Step) -> bool {
    let (upper, lower) = (s.size.upper.bare(), s.size.lower.bare());
    (upper - lower) < Length::mm(CLOSE) && s.size.nominal.bare() < body.largest.bare() && s.thread.is_none()
}
/// The arbor as it goes to the fire: pivots left thick. Nothing for what has no leaves or is not hardened.
pub fn before_fire(part: &Part, body: &TurnedBody, book: &mut Book) -> Option<TurnedBody> {
    let hardened = part.common.finish.iter().any(|(f, _)| *f == Finish::Harden);
    if body.leaves.is_empty() || !hardened || !body.steps.iter().any(|s| last(body, s)) {
        return None;
    }
    let slug = part.slug();
    let length = body.length;
    let bow = work!(book, format!("{slug}.fire.bow"), |length| length * 0.0004, &BOW);
    let left = work!(book, format!("{slug}.fire.left"), |bow| bow * 2.0 + Length::mm(0.1), &LEFT);
    let rough = book.assumed(
        format!("{slug}.fire.upper"),
        Length::mm(0.03),
        "house default: what is left thick may differ by this",
    );
    let lower = work!(book, format!("{slug}.fire.lower"), |rough| -rough, &LEFT);
    let mut thick = body.clone();
    for (i, s) in thick.steps.iter_mut().enumerate() {
        if !last(body, s) {
            continue;
        }
        let d = s.size.nominal;
        s.size.nominal = work!(book, format!("{slug}.fire.step{}", i + 1), |d, left| d + left, &LEFT);
        s.size.upper = rough;
        s.size.lower = lower;
    }
    Some(thick)
}
/// How far the arbor springs while its leaves are cut, and whether a jack stands under them.
pub(super) fn springs(b: &mut Bench<'_>, t: &Toothing, op: &mut Operation) {
    let Some((from, to)) = t.along else { return };
    let (kc11, mc, depth) = (b.metal.kc11, b.metal.mc, t.depth);
    let swing =
        b.book.assumed(b.name("cutting.swing"), Diameter::mm(30.0), "house default: circle of the cutter");
    let feed = b.book.assumed(
        b.name("cutting.feed_a_tooth"),
        Length::mm(0.02),
        "house default: feed of each tooth or turn of a fly cutter, by hand",
    );
    let thick = work!(
        b.book,
        b.name("cutting.chip"),
        |feed, depth, swing| feed * (depth.value() * 0.65 / swing.value()).sqrt(),
        &FORMED
    );
    // Both cheeks and the end are in cut at the first round.
    let wide = work!(b.book, b.name("cutting.edge"), |depth| depth * (2.0 * 0.65 + 0.5), &FORMED);
    let push = work!(
        b.book,
        b.name("cutting.force"),
        |kc11, mc, wide, thick| force::main(force::specific(kc11, mc, thick), wide, thick),
        &FORMED
    );
    let middle = (from.bare() + to.bare()) / 2.0;
    let root = t.root.bare();
    let pieces: Vec<bend::Piece> = b
        .body
        .steps
        .iter()
        .map(|s| {
            let inside = s.from.bare() < middle && middle < s.to.bare();
            let d = s.end.map_or(s.size.nominal.bare(), |e| e.bare().min(s.size.nominal.bare()));
            bend::Piece::solid(s.to.bare() - s.from.bare(), if inside { root } else { d })
        })
        .filter(|p| p.length > Length::mm(1e-6))
        .collect();
    let e = b.metal.e;
    let Some(bent) = bend::stepped(&pieces, bend::Held::Centres, e.bare(), push.bare(), middle, None) else {
        return;
    };
    let name = b.name("cutting.springs");
    let inputs = vec![push.id(), e.id(), t.root.id(), b.body.length.id()];
    let bent = b.book.solved(
        name,
        bent,
        ("as a stepped bar between centres, the leaves counted by their roots", 1, 0.0),
        inputs.clone(),
        &bend::STEPS,
    );
    let may = b.book.assumed(
        b.name("cutting.may_spring"),
        Length::mm(0.01),
        "house default: a leaf's depth true to this",
    );
    let jack = bent.bare() > may.bare();
    let among = |what: &str, taken: bool, why: String| Alternative { what: what.to_owned(), taken, why };
    b.book.chosen(
        b.name("cutting.supported"),
        if jack { "a jack under the leaves" } else { "collet and centre alone" }.to_owned(),
        "a jack where it would spring more than a hundredth under the first round",
        vec![
            among("collet and centre alone", !jack, format!("springs {}", bent.shown())),
            among(
                "a jack under the leaves",
                jack,
                "does not spring; to be set anew after each round".to_owned(),
            ),
        ],
        inputs,
        &bend::STEPS,
    );
    op.figures.push(Figure::of("springs under the cutter", &bent));
    if jack {
        op.lines.push("A small screw jack stands under the leaves, its vee of brass or hardwood on the tips: screw it up until an indicator over it just moves, then back to nothing. Set it anew for each round, and in line with a tip, not a space.".to_owned());
    } else {
        op.lines.push(format!(
            "No jack is needed: between centres it springs {} under the first round.",
            bent.shown()
        ));
    }
}
/// What is turned when all else is done: pivots and seats, to their drawn size.
pub fn pivots(b: &mut Bench<'_>) -> Option<SetUp> {
    let body = b.body;
    let mut ops = Vec::new();
    let length = body.length;
    let bow = work!(b.book, b.name("fire.straight"), |length| (length * 0.0002).max(Length::mm(0.005)), &BOW);
    ops.push(Operation {
        title: "Straighten".to_owned(),
        lines: vec![
            "Between centres, an indicator on the body beside the leaves: find the high side and mark it.".to_owned(),
            "Lay the hollow side up on a brass block and stretch it with light blows of a small chisel-edged hammer along the hollow, never on a leaf or pivot; try again. A bow that comes back goes to the tempering heat once more, held straight.".to_owned(),
        ],
        tool: Some("indicator, brass block, light hammer".to_owned()),
        figures: vec![Figure::of("runs out no more than", &bow)],
        checks: vec![seen("run", "indicator on the body and on the tips of the leaves, as it turns between centres")],
        does: vec!["straighten"],
        time: Spread::minutes(5.0, 15.0, 40.0),
        ..Operation::default()
    });
    ops.push(Operation {
        title: "Polish the leaves".to_owned(),
        lines: vec![
            "A strip of pegwood cut to the space, charged, straight along each space, the arbor free to turn with it; as many strokes in each space, counted.".to_owned(),
            "Coarse first, washed, then fine; the flank keeps its form: stop when the marks of the cutter are gone.".to_owned(),
        ],
        tool: Some("pegwood, oilstone powder, then fine compound".to_owned()),
        checks: vec![seen("leaves", "bright from foot to tip, edges of the flanks not rounded over")],
        does: vec!["polish"],
        time: Spread::minutes(15.0, 30.0, 60.0),
        ..Operation::default()
    });
    for (i, s) in body.steps.iter().enumerate().filter(|(_, s)| last(body, s)) {
        let at = format!("pivots.step{}", i + 1);
        let d = s.size.nominal;
        let speed = b.spindle(&at, Kind::Turning, false, d);
        let (from, to) = (s.from, s.to);
        let long =
            work!(b.book, b.name(&format!("{at}.length")), |to, from| to - from, &reckon::source::GEOMETRY);
        let over: Val<Length> = b.assumed(
            &format!("{at}.for_burnisher"),
            Length::mm(0.008),
            "house default: left for the burnisher",
        );
        let cut_to = work!(b.book, b.name(&format!("{at}.turn_to")), |d, over| d + over, &LEFT);
        ops.push(Operation {
            title: format!("Turn and burnish the {}", s.what),
            lines: vec![
                "Runs true between centres, or in a collet on the body with the far end on a centre: try it on the leaves. Keen carbide or a freshly stoned graver, cuts of a hundredth.".to_owned(),
                "Turn to the size before burnishing, the corner square; then burnish with oil under light pressure, file-wise, until size and shine are there.".to_owned(),
            ],
            tool: Some("graver or carbide tool, flat burnisher, oil".to_owned()),
            speed: Some(speed),
            figures: vec![
                Figure::of("turn to", &cut_to),
                Figure::of(&s.what, &d),
                Figure::of("long", &long),
            ],
            checks: vec![Check {
                what: s.what.clone(),
                limits: Some((d.bare().across() + s.size.upper.bare(), d.bare().across() + s.size.lower.bare())),
                seen: Some("no taper that two readings show; mirror bright under the glass".to_owned()),
                id: Some(d.id()),
            }],
            cautions: vec![super::super::Caution::Turning],
            does: vec!["finish turn", "burnish"],
            time: Spread::minutes(10.0, 20.0, 40.0),
            ..Operation::default()
        });
    }
    if ops.len() < 3 {
        return None;
    }
    ops.push(Operation {
        title: "Does it run true?".to_owned(),
        lines: vec![
            "On its pivots in two vees or runners, an indicator on the tips of the leaves, leaf by leaf."
                .to_owned(),
        ],
        tool: Some("vees or depthing runners, indicator".to_owned()),
        checks: vec![seen(
            "run",
            "tips of the leaves within 0.01 mm; more than that is heard in mesh once a turn",
        )],
        time: Spread::minutes(4.0, 8.0, 15.0),
        ..Operation::default()
    });
    Some(SetUp {
        title: "after the fire: straight, leaves polished, pivots last".to_owned(),
        machine: b.lathe.name.clone(),
        held: Held {
            by: "between centres, or collet on the body and a centre".to_owned(),
            lines: vec!["Everything here comes after hardening and tempering; what the leaves run true to is what the pivots are turned to.".to_owned()],
            deepest: None,
            overhang: None,
        },
        operations: ops,
        time: Spread::minutes(8.0, 15.0, 30.0),
    })
}
