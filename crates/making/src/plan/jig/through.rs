//! Holes of a flat part drilled by hand through a guide block, where no machine of the shop takes the work.

use super::guide::{self, Block, Bush, Wish};
use super::{Asking, Jigs, Named, PREFIX};
use crate::plan::drills::Listed;
use crate::plan::hole::seen;
use crate::plan::plate::pair::Pair;
use crate::plan::{Figure, Operation, PassTable, SetUp, Spread, bench, tapping};
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Cell, Diameter, Id, Length, Source, Val, work};
use record::facts::Shop;
use std::collections::BTreeMap;

/// When a drill in the hand is led.
pub static BY_HAND: Source = Source::practice(
    "what no spindle takes is drilled in the hand through a block, set by measuring from the edges of the work, clamped twice and measured again",
);
/// Drills that a hand drill takes and a bush leads.
const LED: (f64, f64) = (1.0, 8.0);

/// Why no machine drills the part; none where one does.
fn reason(body: &FlatBody, setups: &[SetUp], shop: &Shop) -> Option<String> {
    let told = setups.iter().flat_map(|s| &s.operations).find_map(|o| o.no_spindle.clone());
    let deep = |h: &record::facts::Hole| body.thickness.nominal.bare() >= h.diameter.nominal.bare().across();
    let none = || "the shop has no drilling machine".to_owned();
    told.or_else(|| (shop.mills.is_empty() && body.holes.iter().any(deep)).then(none))
}
/// Sentences that only make sense at a table with dials.
fn of_a_machine(line: &str) -> bool {
    ["dial", "the table", "backlash", "edge finder", "stand as seen", "lie on their right"]
        .iter()
        .any(|w| line.contains(w))
}
/// Turns the drilling of a part that fits under no spindle into drilling by hand through a block, and asks for block
/// and bushes.
pub fn instead(
    part: &Part,
    body: &FlatBody,
    pair: Option<&Pair>,
    setups: &mut [SetUp],
    shop: &Shop,
    jigs: &mut Jigs,
    book: &mut Book,
) {
    let slug = part.slug().to_owned();
    if slug.starts_with(PREFIX) || body.holes.is_empty() {
        return;
    }
    let Some(reason) = reason(body, setups, shop) else { return };
    let all: Vec<Listed> =
        setups.iter().flat_map(|s| &s.operations).flat_map(|o| o.holes.iter().cloned()).collect();
    let each = usize::try_from(part.common.count.bare().0).unwrap_or(1).max(1);
    let mut led: BTreeMap<String, (Val<Diameter>, usize)> = BTreeMap::new();
    for drill in all.iter().flat_map(|l| &l.drills) {
        let of = shop.drills.sizes.iter().find(|(n, _)| n == drill);
        let Some((_, d)) = of.filter(|(_, d)| (LED.0..=LED.1).contains(&d.bare().in_mm())) else { continue };
        led.entry(drill.clone()).or_insert((*d, 0)).1 += each;
    }
    let Some(largest) = led.values().map(|l| l.0).reduce(|a, b| if b > a { b } else { a }) else { return };
    let at = format!("{slug}.guide");
    let mut asking = Asking { jigs, shop, part, book };
    let takes = guide::outside(&mut asking, &at, largest);
    let why = format!("{}: {reason}. A drill in the hand is led by a block.", part.common.name);
    let Some((named, block)) = guide::block(&mut asking, takes, &why) else { return };
    let thick = body.thickness.nominal;
    let thick = match pair {
        Some(p) => {
            let other = p.other_thickness;
            work!(asking.book, format!("{at}.thick"), |thick, other| thick + other, &GEOMETRY)
        }
        None => work!(asking.book, format!("{at}.thick"), |thick| thick, &GEOMETRY),
    };
    let allowed = asking.book.assumed(
        format!("{at}.allowed"),
        Length::mm(0.1),
        "house default: a hole drilled by hand through a block, at its far side",
    );
    let crumbles = bench::kind_of(part.common.material.kind).crumbles();
    let mut bushes: BTreeMap<String, Bush> = BTreeMap::new();
    for (drill, (d, holes)) in &led {
        let wish = Wish { at: &at, drill: *d, thick, allowed, crumbles, holes: *holes };
        let why = format!("It leads a drill of {} in the {}.", d.shown(), named.name);
        if let Some(b) = guide::bush(&mut asking, &block, &wish, &why) {
            bushes.insert(drill.clone(), b);
        }
    }
    asking.book.chosen(
        format!("{at}.by"),
        "by hand through a guide block".to_owned(),
        "a machine where the work goes under its spindle, else a drill that is led",
        vec![
            Alternative {
                what: "by hand through a guide block".to_owned(),
                taken: true,
                why: format!("comes out within {} at the far side", allowed.shown()),
            },
            Alternative { what: "under a spindle".to_owned(), taken: false, why: reason },
            Alternative {
                what: "by hand, freely".to_owned(),
                taken: false,
                why: "a hand holds a drill upright to three degrees or so: half a millimetre in ten"
                    .to_owned(),
            },
        ],
        vec![thick.id(), takes.id(), allowed.id()],
        &BY_HAND,
    );
    square_first(part, setups);
    let told = Told { part, body, named: &named, block: &block, bushes: &bushes, at: &at };
    let mut n = 0;
    for setup in setups {
        let mut by_hand = false;
        for op in &mut setup.operations {
            let found = op.holes.clone();
            if !found.is_empty() {
                n += 1;
                told.rewrite(op, &found, n, asking.book);
                by_hand = true;
            } else if by_hand && op.does.contains(&"tap") {
                if let Some(line) = op.lines.iter_mut().find(|l| l.starts_with("Start true")) {
                    *line = tapping::start(tapping::At::Block);
                }
            } else if by_hand || op.title.contains("corner") {
                op.lines.retain(|l| !of_a_machine(l));
            }
        }
        if by_hand {
            "bench".clone_into(&mut setup.machine);
            setup.held.by = format!("clamped to the bench on waste wood, the {} clamped on it", named.name);
            setup.held.lines.retain(|l| !of_a_machine(l));
        }
    }
}
/// The two edges that everything is measured from are true before the first hole.
fn square_first(part: &Part, setups: &mut [SetUp]) {
    let marked = setups.iter_mut().flat_map(|s| &mut s.operations).find(|o| o.title == "Mark out");
    let Some(op) = marked else { return };
    "Left and lower edge true".clone_into(&mut op.title);
    op.lines = vec![
        format!(
            "The blank of the {} is still a rectangle: file its left edge and its lower edge straight, square to each other and to the face, where the drawing's corner is. Every hole is measured from these two.",
            part.common.name
        ),
        "Stick the template on, if you want to see where you are; nothing is pricked: the block finds the places.".to_owned(),
    ];
    op.tool = Some("flat file, try square, template".to_owned());
    op.checks = vec![seen("both edges", "no light under the square, along them and across")];
    op.time = Spread::minutes(10.0, 20.0, 40.0);
}
/// What the page is written from.
struct Told<'a> {
    part: &'a Part,
    body: &'a FlatBody,
    named: &'a Named,
    block: &'a Block,
    bushes: &'a BTreeMap<String, Bush>,
    at: &'a str,
}
impl Told<'_> {
    fn rewrite(&self, op: &mut Operation, listed: &[Listed], n: usize, book: &mut Book) {
        let table = self.places(listed, n, book);
        let tapped = listed.iter().any(|l| l.then.contains("tap "));
        let mut lines = vec![
            format!("Set the {}, hole after hole, without marking out: measure from the edges of the {} to the edges A and B of the block, as listed. 'in': the block's edge lies inside the work's edge by so much; with the arm to the left A is the far edge of the block, and the slide gauge goes over all. 'out': it stands out over it by so much; then a square is held against the block's edge and the depth rod goes from it to the work.", self.named.name, self.part.common.name),
            "The arm points to the side that is listed; turned over, the block's A looks the other way. Two clamps on the arm, waste wood below. Measure A and B again with the clamps tight: a tap with a wooden stick mends it.".to_owned(),
            "Push the first bush home, head against the block. Turn the drill into it by hand until it touches: mark it there, and with tape where it will be through (thickness and its own point). Then drill: let the bush lead, only press and turn. Out to clear the chips after every depth of one diameter. Lighter just before it breaks through.".to_owned(),
            "Next bush, next drill, the block unmoved, until the last of the row is through.".to_owned(),
        ];
        let small = |l: &Listed| l.drills.last().is_some_and(|d| !self.bushes.contains_key(d));
        if listed.iter().any(small) {
            lines.push("A drill for which no bush is listed: start its dimple through the smallest bush, take the block off, and drill by hand in the dimple with the work held against a try square; a drill over 8 mm is run through the hole of the one before.".to_owned());
        }
        if tapped {
            lines.push("A hole to be tapped: leave the block where it is and go to its tapping, the next operation, before the block is moved.".to_owned());
        }
        lines.extend(
            op.lines.drain(..).filter(|l| {
                !of_a_machine(l) && !l.starts_with("Spot each") && !l.starts_with("At each hole")
            }),
        );
        op.lines = lines;
        op.tables = vec![PassTable { title: "where the guide block stands".to_owned(), id: table }];
        op.speed = None;
        let names: Vec<&str> = self.bushes.values().map(|b| b.named.name.as_str()).collect();
        op.tool = Some(format!(
            "hand drill; {}; {}; two clamps, slide gauge, square",
            self.named.name,
            names.join("; ")
        ));
        op.figures = vec![
            Figure::of("hole of the block from A and from B", &self.block.edge),
            Figure::of("block is thick", &self.block.thick),
        ];
        op.checks.insert(0, seen("first hole", "a close plug in it stands square by a try square from two sides, and its distance from both edges is as drawn, before the next is drilled"));
        #[expect(clippy::cast_precision_loss, reason = "a number of holes")]
        let holes = listed.len() as f64;
        op.time = Spread::minutes(6.0 * holes, 10.0 * holes, 18.0 * holes);
    }
    /// Where the block stands for each hole, what goes through it, and how far off it comes out.
    fn places(&self, listed: &[Listed], n: usize, book: &mut Book) -> Id {
        let (x0, y0) = self.body.datum;
        let (width, edge) = (self.body.extent.0, self.block.edge);
        let (mut out, mut inputs) = (Vec::new(), vec![edge.id()]);
        for l in listed {
            let Some(h) = self.body.holes.iter().find(|h| h.label == l.label) else { continue };
            let at = format!("{}.{}", self.at, reckon::slug(&l.label));
            let (x, y) = h.centre;
            let right = (x.bare() - x0.bare()) * 2.0 <= width.bare();
            let a = if right {
                work!(book, format!("{at}.a"), |x, x0, edge| x - x0 - edge, &guide::BLOCK)
            } else {
                work!(book, format!("{at}.a"), |x, x0, edge| x - x0 + edge, &guide::BLOCK)
            };
            let b = work!(book, format!("{at}.b"), |y, y0, edge| y - y0 - edge, &guide::BLOCK);
            let bushes: Vec<&Bush> = l.drills.iter().filter_map(|d| self.bushes.get(d)).collect();
            let off = bushes.last().map_or_else(|| Cell::word("by eye"), |b| Cell::of(&b.off.bare()));
            inputs.extend([a.id(), b.id()]);
            inputs.extend(bushes.last().map(|b| b.off.id()));
            // A pilot too thin to be led is left out where the drill after it is led.
            let led = |d: &&String| self.bushes.contains_key(*d) || bushes.is_empty();
            let drills: Vec<String> = l.drills.iter().filter(led).cloned().collect();
            out.push(vec![
                Cell::word(l.label.clone()),
                side(&a),
                side(&b),
                Cell::word(if right { "right" } else { "left" }),
                Cell::word(drills.join(", ")),
                Cell::word(l.then.clone()),
                off,
            ]);
        }
        let name = if n == 1 { format!("{}.places", self.at) } else { format!("{}.places.{n}", self.at) };
        book.table(
            name,
            &["hole", "A from the left edge", "B from the lower edge", "arm", "drills and bushes", "then", "off below"],
            out,
            "the hole's place less the block's own from its edge; off below: half the play of the bush, and the drill's lean at the far side",
            inputs,
            &guide::HAND,
        )
    }
}
fn side(v: &Val<Length>) -> Cell {
    let way = if v.bare() < Length::ZERO { "out" } else { "in" };
    Cell::as_text(&v.bare(), format!("{} {way}", reckon::Shown::shown(&v.bare().abs())))
}
