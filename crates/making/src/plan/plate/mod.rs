//! Plates: a flat, square, quiet blank first; two plates that share holes drilled as one; then each its own.

mod blank;
mod hole_list;
pub(super) mod open;
pub mod pair;

use super::bench::MetalFacts;
use super::{Caution, Held, Operation, SetUp, Spread, turned};
use movement::part::{FlatBody, Part};
use pair::Pair;
use reckon::{Book, Length};
use record::facts::Shop;

/// Where and with what the planner works.
pub(super) struct Plate<'a> {
    pub(super) part: &'a Part,
    pub(super) body: &'a FlatBody,
    pub(super) shop: &'a Shop,
    pub(super) metal: MetalFacts,
    /// Its sheet, where that is thicker than drawn.
    pub(super) thicker: Option<reckon::Val<Length>>,
    /// The pair that it is of, and whether the pair is drilled on its page.
    pub(super) pair: Option<(&'a Pair, bool)>,
}
impl Plate<'_> {
    fn slug(&self) -> &str {
        self.part.slug()
    }
    fn cautions(&self, first: Caution) -> Vec<Caution> {
        if self.metal.leaded { vec![first, Caution::Lead] } else { vec![first] }
    }
    /// Whether the table reaches its holes only with the plate lying on its right side.
    fn lying(&self) -> bool {
        let Some(m) = self.shop.mills.first() else { return false };
        let (wide, high) = pair::spans(self.body);
        let (x, y) = (m.travel[0].bare(), m.travel[1].bare());
        !(wide <= x && high <= y) && high <= x && wide <= y
    }
    /// Whether the table reaches all its holes in one setting, one way or the other.
    fn in_reach(&self) -> bool {
        let Some(m) = self.shop.mills.first() else { return true };
        let (wide, high) = pair::spans(self.body);
        let (x, y) = (m.travel[0].bare(), m.travel[1].bare());
        self.lying() || (wide <= x && high <= y)
    }
    fn machine(&self) -> String {
        self.shop.mills.first().map_or("drilling by hand or in the lathe".to_owned(), |m| m.name.clone())
    }
}

/// The set-ups of a plate that is one of a pair.
pub(super) fn setups(p: &Plate<'_>, book: &mut Book) -> Vec<SetUp> {
    let Some((pair, leads)) = p.pair else { return Vec::new() };
    let mut all = vec![blank::setup(p, book)];
    if leads {
        all.push(pair::as_one(p, pair, book));
        all.push(blank::edges(p, pair, book));
    } else {
        all.push(pair::with_the_other(pair));
    }
    all.push(bench("parted", "bench, wood under the plate", vec![open::part(p, pair)]));
    all.extend(own(p, pair, leads, book));
    all.push(open::finish(p, pair, leads, book));
    all
}
/// Holes that only this plate has, drilled when the pair is parted.
fn own(p: &Plate<'_>, pair: &Pair, leads: bool, book: &mut Book) -> Option<SetUp> {
    let mine = |s: &pair::Shared| if leads { s.of.0 } else { s.of.1 };
    let shared: Vec<usize> = pair.shared.iter().map(mine).collect();
    let rest: Vec<usize> = (0..p.body.holes.len()).filter(|i| !shared.contains(i)).collect();
    if rest.is_empty() {
        return None;
    }
    let (a, b) = pair.register_labels(leads);
    let mut first = Operation {
        title: "Find the corner again".to_owned(),
        lines: vec![format!(
            "The plate alone on the board, square by its longer true edge. A pin in the spindle goes into '{a}' and '{b}': the dials have to read there what they read when those were drilled, within half a division; else set them so at '{a}'."
        )],
        tool: Some("close pin in the spindle".to_owned()),
        checks: vec![super::hole::seen(
            "register",
            "the pin enters both holes with nothing but the dials moved",
        )],
        time: Spread::minutes(5.0, 10.0, 20.0),
        ..Operation::default()
    };
    first.does = vec!["drill"];
    let mut operations = vec![first];
    operations.push(hole_list::operation(
        p,
        &hole_list::List {
            title: "Drill what this plate alone has",
            name: "holes.own",
            holes: &rest,
            pair: None,
        },
        book,
    ));
    Some(SetUp {
        title: "this plate alone".to_owned(),
        machine: p.machine(),
        held: Held {
            by: "clamped on a flat board".to_owned(),
            lines: vec!["Same face up, same edges to the stops as in the pair.".to_owned()],
            deepest: None,
            overhang: None,
        },
        operations,
        time: Spread::around(10.0),
    })
}
/// At the bench.
fn bench(title: &str, by: &str, operations: Vec<Operation>) -> SetUp {
    turned::at_bench(title, by, operations, 5.0)
}
