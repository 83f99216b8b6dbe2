//! A guide block and its bushes: they lead a drill in the hand square to the face, at a measured distance from two
//! trued edges, where no machine of the shop takes the work.

use super::blank::{Flat, Turning, bar_of, sheet_of};
use super::{Asking, Drawing, Named};
use crate::kernel::setting;
use crate::kernel::speed::{self, Kind};
use crate::plan::drills::drill_for;
use crate::plan::hole::{OVERSIZE, seen};
use crate::plan::{Caution, Check, Figure, Held, Operation, SetUp, Spread, bench, turned};
use movement::part::{Body, FlatNote};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Diameter, Length, Source, Val, judge, work};
use record::facts::{Finish, HoldKind, Hole};
use std::collections::BTreeMap;

/// Proportions of a block.
pub static BLOCK: Source = Source::practice(
    "a guide block has two edges trued square to each other and to its face, the hole as near to both as its wall allows, and room for two clamps on the other side",
);
/// What bushes are made of.
pub static MANY: Source = Source::practice(
    "for more than some twenty holes a guide bush is hardened silver steel; for fewer brass or mild steel serves",
);
/// How near a hole drilled through a block comes.
pub static HAND: Source =
    Source::derived("half the play of the bush in the block, and the drill's lean in the bush")
        .with_formula("e = s/2 + c (1/2 + z/L)");
/// Holes for which a bush of brass or mild steel serves.
const SOFT_SERVES: usize = 20;

/// Sizes of a block.
#[derive(Copy, Clone, Debug)]
pub struct Block {
    /// From each trued edge to the middle of the hole.
    pub edge: Val<Length>,
    /// Length from edge A to the end of the arm.
    pub long: Val<Length>,
    /// Thickness.
    pub thick: Val<Length>,
    /// Outside of the bushes that it takes.
    pub takes: Val<Diameter>,
    /// Most play of a bush in it.
    pub slip: Val<Length>,
}
/// What was made for whom is one thing to all: its sizes.
#[derive(Debug, Default)]
pub struct Guides {
    blocks: BTreeMap<String, Block>,
}
/// A bush as one part uses it.
#[derive(Clone, Debug)]
pub struct Bush {
    /// Its sheet.
    pub named: Named,
    /// What a drill through it may be off at the far side of the work.
    pub off: Val<Length>,
    /// Length in which it guides.
    pub guides: Val<Length>,
}
fn whole(l: Length) -> Length {
    Length::mm((l.in_mm() - 1e-9).ceil())
}
fn tenth(l: Length) -> Length {
    Length::mm((l.in_mm() * 10.0 + 1e-9).floor() / 10.0)
}
/// A size in a name: no more digits than it has.
pub(super) fn plain(mm: f64) -> String {
    format!("{} mm", reckon::print::trimmed(&reckon::print::fixed(mm, 2)))
}
fn slug_of(d: Diameter) -> String {
    reckon::print::fixed(d.in_mm(), 2).replace('.', "_")
}
/// Outside of the bushes for drills up to `largest`: a reamer of the shop, so that block and bush slide; else a whole
/// millimetre.
pub fn outside(asking: &mut Asking<'_>, at: &str, largest: Val<Diameter>) -> Val<Diameter> {
    let least = work!(
        asking.book,
        format!("{at}.bush_least"),
        |largest| (largest + setting::bush(largest, true).wall * 2.0).max(Diameter::mm(5.0)),
        &setting::BUSH_SIZE
    );
    let reamers = &asking.shop.drills.reamers;
    let fit = reamers.iter().filter(|r| r.bare() >= least.bare()).reduce(|x, y| if y < x { y } else { x });
    let name = format!("{at}.bush_outside");
    match fit {
        Some(reamer) => {
            let reamer = *reamer;
            work!(asking.book, name, |reamer| reamer, &setting::BUSH_SIZE)
        }
        None => {
            work!(asking.book, name, |least| Diameter::mm((least.in_mm() - 1e-9).ceil()), &setting::BUSH_SIZE)
        }
    }
}
/// A block that takes bushes of this outside.
pub fn block(asking: &mut Asking<'_>, takes: Val<Diameter>, why: &str) -> Option<(Named, Block)> {
    asking.shop.lathes.first()?;
    let slug = format!("guide_block.{}", slug_of(takes.bare()));
    let mut made = None;
    let named = asking.ask(&slug, why, |board| {
        let name = format!("guide block for {} bushes", plain(takes.bare().in_mm()));
        let metals = ["mild steel", "brass CZ120", "brass CZ121"];
        let (metal, stock) = sheet_of(board.shop, &metals, Length::mm(4.0));
        let thick = match stock {
            Some(t) => {
                let n = board.name("thick");
                work!(board.book, n, |t| t, &GEOMETRY)
            }
            None => board.assumed("thick", Length::mm(8.0), "house default: no sheet of the shop is 4 mm thick or more"),
        };
        let size = {
            let n = board.name("bush_size");
            work!(board.book, n, |takes| takes, &GEOMETRY)
        };
        let edge = {
            let n = board.name("edge");
            work!(board.book, n, |takes| whole(takes.across() / 2.0 + Length::mm(6.0)), &BLOCK)
        };
        let long = {
            let n = board.name("long");
            work!(board.book, n, |edge, takes| edge + whole(takes.across() / 2.0 + Length::mm(36.0)), &BLOCK)
        };
        let high = {
            let n = board.name("high");
            work!(board.book, n, |edge| edge * 2.0, &BLOCK)
        };
        let slip = board.assumed("slip", Length::mm(0.027), "house default: a reamed hole up to 0.012 mm over, a bush up to 0.015 mm under");
        let sheet = board.limited("thick", thick, (0.1, -0.1));
        let hole = board.limited("bush_size", size, (0.012, 0.0));
        let note = "A and B are the two trued edges: stamp the letters on both faces. The bush goes in from either face with its head outside; the arm takes two clamps.";
        let mut flat = Flat::rectangle(board, &name, (metal, note), (long, high, sheet));
        flat.hole("bush", (edge, edge), hole);
        let holes = flat.holes().to_vec();
        let board = flat.board();
        if let Some(hole) = holes.first() {
            board.own = route(board, metal, (edge, thick, size), hole);
        }
        made = Some(Block { edge, long, thick, takes, slip });
        let (mut part, found) = flat.part();
        if let Body::Flat(body) = &mut part.body {
            let middle = edge.bare().in_mm();
            let words = |w: &str| FlatNote::Words(w.to_owned());
            body.notes.push(((1.5, middle * 1.6), words("A: true")));
            body.notes.push(((long.bare().in_mm() * 0.7, 1.5), words("B: true")));
        }
        (part, found)
    })?;
    if let Some(made) = made {
        asking.jigs.guides.blocks.insert(named.slug.clone(), made);
    }
    let block = *asking.jigs.guides.blocks.get(&named.slug)?;
    Some((named, block))
}
/// On which machine the block itself is drilled, and how it is held there: under a mill where it and a drill go
/// under the spindle, else in the lathe.
fn drilled_on(board: &mut Drawing<'_>, thick: Val<Length>) -> (String, String, bool) {
    let lathe = board.shop.lathes.first();
    let mut among = Vec::new();
    let mut inputs = vec![thick.id()];
    let mut taken = None;
    for m in &board.shop.mills {
        let Some(chuck) = m.chuck_length else { continue };
        let room = m.daylight;
        let n = board.name(&format!("stack.{}", m.slug));
        let need = work!(board.book, n, |thick, chuck| thick + chuck + Length::mm(65.0), &setting::DAYLIGHT);
        let fits = need.bare() <= room.bare() && taken.is_none();
        inputs.push(need.id());
        among.push(Alternative {
            what: m.name.clone(),
            taken: fits,
            why: format!(
                "block, parallels, drill and chuck take {}; there is {}",
                need.shown(),
                room.shown()
            ),
        });
        if fits {
            taken = Some(m.name.clone());
        }
    }
    let mill = taken.is_some();
    let plate = lathe.and_then(|l| {
        l.holdings.iter().find_map(|h| match h.kind {
            HoldKind::Faceplate { .. } => Some("faceplate"),
            HoldKind::Wax { .. } => Some("wax chuck"),
            _ => None,
        })
    });
    let name = lathe.map_or(String::new(), |l| l.name.clone());
    among.push(Alternative {
        what: name.clone(),
        taken: !mill,
        why: "drilled and reamed from the tailstock, the face of the block on the face of a plate".to_owned(),
    });
    let machine = taken.unwrap_or(name);
    let n = board.name("drilled_on");
    board.book.chosen(
        n,
        machine.clone(),
        "the first mill with room for it, else the lathe",
        among,
        inputs,
        &BLOCK,
    );
    let by = if mill {
        "clamped on two parallels, the place of the hole between them".to_owned()
    } else {
        match plate {
            Some("wax chuck") => "stuck flat on the wax chuck".to_owned(),
            Some(plate) => format!("clamped flat on the {plate}"),
            None => "stuck flat with shellac on a disc of brass faced true in the chuck".to_owned(),
        }
    };
    (machine, by, mill)
}
/// The whole route of a block.
fn route(
    board: &mut Drawing<'_>,
    metal: &'static tables::material::Material,
    (edge, thick, size): (Val<Length>, Val<Length>, Val<Diameter>),
    hole: &Hole,
) -> Vec<SetUp> {
    let (machine, by, mill) = drilled_on(board, thick);
    let leaded = metal.leaded;
    let cautions = |c: Caution| if leaded { vec![c, Caution::Lead] } else { vec![c] };
    let true_up = Operation {
        title: "Flat faces, two edges true".to_owned(),
        lines: vec![
            "Saw the blank 1 mm over size. Both faces over paper on glass until no light shows under a straight-edge.".to_owned(),
            "File one long edge straight and square to the face: that is B. Then one short edge square to B and to the face: that is A. A try square against each, held to the light: no light at either end.".to_owned(),
            "The other two edges are only filed smooth. Stamp A and B beside their edges, on both faces.".to_owned(),
        ],
        tool: Some("saw, flat file, paper on glass, try square, letter punches".to_owned()),
        checks: vec![seen("A and B", "square to each other and to both faces, no light under the square")],
        cautions: cautions(Caution::Sawing),
        does: vec!["form", "deburr"],
        time: Spread::minutes(25.0, 40.0, 70.0),
        ..Operation::default()
    };
    let at = board.name("hole.bush");
    let kind = bench::kind_of(metal.kind);
    let way = drill_for(hole, (board.shop, kind), board.book, &at);
    let (drills, then) = (way.drills(), way.then);
    let v = {
        let n = board.name("hole.surface_speed");
        let row = format!("{}, drilling", kind.word());
        board.book.tabled(n, speed::start(kind, Kind::Drilling, false), row, &speed::START_SPEEDS)
    };
    let wanted = {
        let n = board.name("hole.wanted_speed");
        work!(board.book, n, |v, size| speed::turns(v, size), &speed::SURFACE)
    };
    let (speeds, stepless) = if mill {
        let m = board.shop.mills.iter().find(|m| m.name == machine);
        m.map_or((&[][..], false), |m| (&m.speeds[..], m.stepless))
    } else {
        board.shop.lathes.first().map_or((&[][..], false), |l| (&l.speeds[..], l.stepless))
    };
    let n = board.name("hole.speed");
    let speed = bench::chosen_speed(board.book, n, wanted, speeds, stepless);
    let mut bore = Operation {
        title: "The hole for the bushes, at one setting".to_owned(),
        lines: vec![
            "Scribe a line parallel to A and one parallel to B at the distance below; prick where they cross.".to_owned(),
        ],
        tool: Some(format!("centre drill; drills {drills}; then {then}")),
        speed: Some(speed),
        figures: vec![Figure::of("from A, and from B", &edge), Figure::of("hole", &size)],
        does: vec!["drill"],
        time: Spread::minutes(12.0, 20.0, 40.0),
        ..Operation::default()
    };
    bore.lines.push(if mill {
        "A pointed rod in the spindle stands on the prick mark: clamp, look again. Spot, drill and ream without moving table or block: only so is the hole square to the face that lies on the parallels.".to_owned()
    } else {
        "Bring the prick mark to the axis: a centre in the tailstock holds it while the wax sets or the clamps are drawn up; turned by hand, the mark must not wander from the point. Spot, drill and ream from the tailstock without letting go: only so is the hole square to the face that lies on the plate.".to_owned()
    });
    bore.cautions = cautions(if mill { Caution::DrillingSheet } else { Caution::Turning });
    if by.contains("wax") || by.contains("shellac") {
        bore.cautions.push(Caution::Wax);
    }
    let measure = Operation {
        title: "Measure the hole from A and from B".to_owned(),
        lines: vec![
            "A close round plug in the hole, standing out on one side; block on glass, first on A, then on B. Measure from the glass to the top of the plug and take half the plug off.".to_owned(),
            "Write both on the block and enter the distance from A: the places on the sheets of its users go by it.".to_owned(),
        ],
        tool: Some("close plug, slide gauge or micrometer".to_owned()),
        checks: vec![Check {
            what: "from A, and from B, to the middle of the hole".to_owned(),
            limits: Some((edge.bare() + Length::mm(0.1), edge.bare() - Length::mm(0.1))),
            seen: None,
            id: Some(edge.id()),
        }],
        time: Spread::minutes(5.0, 8.0, 15.0),
        ..Operation::default()
    };
    vec![
        turned::at_bench("faces and edges", "vice with soft jaws, glass plate", vec![true_up], 5.0),
        SetUp {
            title: "hole for the bushes".to_owned(),
            machine,
            held: Held { by, lines: Vec::new(), deepest: None, overhang: None },
            operations: vec![bore],
            time: Spread::around(12.0),
        },
        turned::at_bench("measured", "glass plate", vec![measure], 2.0),
    ]
}
/// What one part wants of a bush.
#[derive(Copy, Clone, Debug)]
pub struct Wish<'a> {
    /// Under which names its numbers stand.
    pub at: &'a str,
    /// The drill.
    pub drill: Val<Diameter>,
    /// Thickness drilled through.
    pub thick: Val<Length>,
    /// Most that a hole may be off at its far side.
    pub allowed: Val<Length>,
    /// Whether chips crumble.
    pub crumbles: bool,
    /// Holes drilled through it, of the whole batch.
    pub holes: usize,
}
/// The bush for a drill, long enough that what the drill leans keeps within what is allowed.
pub fn bush(asking: &mut Asking<'_>, block: &Block, w: &Wish<'_>, why: &str) -> Option<Bush> {
    let at = format!("{}.{}", w.at, slug_of(w.drill.bare()));
    let (drill, thick, allowed, slip, deep) = (w.drill, w.thick, w.allowed, block.slip, block.thick);
    let name = |tail: &str| format!("{at}.{tail}");
    let book = &mut *asking.book;
    let gap = if w.crumbles {
        work!(
            book,
            name("gap"),
            |drill, deep| tenth(setting::bush(drill, true).gap.min(deep / 3.0)),
            &setting::BUSH_SIZE
        )
    } else {
        work!(
            book,
            name("gap"),
            |drill, deep| tenth(setting::bush(drill, false).gap.min(deep / 3.0)),
            &setting::BUSH_SIZE
        )
    };
    let play = book.assumed(name("play"), Length::mm(0.05), OVERSIZE.cite);
    let beyond = work!(book, name("beyond"), |gap, thick| gap + thick, &setting::BUSH);
    let guides = work!(
        book,
        name("guides"),
        |drill, play, beyond, allowed, slip, deep| {
            let lean = setting::bush_length(play, beyond, allowed - slip / 2.0).unwrap_or(Length::mm(25.0));
            whole(setting::bush(drill, true).length.max(lean).max(deep + Length::mm(2.0)))
                .min(Length::mm(25.0))
        },
        &setting::BUSH
    );
    let off = work!(
        book,
        name("off"),
        |play, guides, beyond, slip| setting::bush_error(play, guides, beyond) + slip / 2.0,
        &HAND
    );
    let near = judge!(
        book,
        name("near_enough"),
        format!("a drill of {} led by its bush comes out where it should", drill.shown()),
        |off, allowed| off <= allowed,
        &HAND
    );
    book.cure(near.id(), "drill from both faces through the same block, turned over");
    book.cure(near.id(), "drill under size and bring the hole to its place with a round file, then open it");
    let hard = w.holes > SOFT_SERVES;
    let slug = format!(
        "guide_bush.{}x{}x{}{}",
        slug_of(block.takes.bare()),
        slug_of(drill.bare()),
        reckon::print::fixed(guides.bare().in_mm(), 0),
        if hard { "h" } else { "" }
    );
    let block = *block;
    let named = asking.ask(&slug, why, |board| {
        let name = format!("guide bush {}, {} long", plain(drill.bare().in_mm()), plain(guides.bare().in_mm()));
        let head = block.takes.bare() + Length::mm(4.0);
        let metals: &[&str] =
            if hard { &["silver steel"] } else { &["mild steel", "brass CZ121", "silver steel"] };
        let metal = bar_of(board.shop, metals, head);
        let note = "Shank, shoulder and hole at one setting, or it leads the drill askew. Countersink the hole at the head end with a few turns of a large drill, so that the drill finds its way in. Scribe the drill's size on the head.";
        let finish = if hard { &[Finish::Harden, Finish::Temper][..] } else { &[] };
        let mut t = Turning::new(board, &name, metal, note);
        t.finished(finish, 60.0);
        let takes = block.takes;
        let b = t.board();
        let size = {
            let n = b.name("shank_size");
            work!(b.book, n, |takes| takes, &GEOMETRY)
        };
        let size = b.limited("shank_size", size, (-0.005, -0.015));
        let shank = {
            let n = b.name("shank");
            work!(b.book, n, |deep, gap| deep - gap, &setting::BUSH_SIZE)
        };
        let broad = {
            let n = b.name("head_size");
            work!(b.book, n, |takes| takes + Length::mm(4.0), &BLOCK)
        };
        let broad = b.limited("head_size", broad, (0.2, -0.2));
        let high = {
            let n = b.name("head");
            work!(b.book, n, |guides, shank| guides - shank, &setting::BUSH)
        };
        let bore = {
            let n = b.name("leads");
            work!(b.book, n, |drill| drill, &OVERSIZE)
        };
        let bore = b.limited("leads", bore, (0.05, 0.01));
        t.section(shank, size);
        t.section(high, broad);
        t.bore(true, bore, None);
        t.part()
    })?;
    Some(Bush { named, off, guides })
}
