//! How the head of the shop divides a count, and what would do when it cannot.

use super::super::bench::found;
use super::super::{Check, Figure, PassTable, hole::seen};
use movement::part::Toothing;
use reckon::{Alternative, Book, Cell, Count};
use record::facts::Shop;
use train::dividing::{DIRECT, Head, LARGEST, WORM, Way, would_do};

/// How a circle is divided, for the operation that cuts the teeth.
#[derive(Default)]
pub(super) struct Divided {
    pub lines: Vec<String>,
    pub figures: Vec<Figure>,
    pub tables: Vec<PassTable>,
    pub checks: Vec<Check>,
}
fn whole(n: u32) -> Count {
    Count(i64::from(n))
}
fn listed(all: &[u32]) -> String {
    let words: Vec<String> = all.iter().map(ToString::to_string).collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.join(""),
    }
}
/// Ways of the shop's head, the one taken, and the words for the bench.
pub(super) fn divide(t: &Toothing, shop: &Shop, book: &mut Book) -> Divided {
    let slug = &t.slug;
    let n = u32::try_from(t.count.bare().0).unwrap_or(0);
    let name = format!("{slug}.dividing.possible");
    let Some(head) = &shop.dividing else {
        let v = found(
            book,
            (name, "the shop has something to divide a circle with"),
            0,
            "dividing heads of the shop",
        );
        book.cure(v.id(), format!("a plate of {n} or {} holes straight on the spindle", 2 * n));
        book.cure(v.id(), format!("a rotary table set by angles: brasswright ask dividing.angles count={n}"));
        book.cure(v.id(), "a [dividing] head written in shop.toml");
        return Divided {
            lines: vec![
                "The shop lists no dividing head: see the verdict on how this circle is to be divided."
                    .to_owned(),
            ],
            ..Divided::default()
        };
    };
    let small = |c: Count| u32::try_from(c.0).unwrap_or(0);
    let of = Head {
        ratio: small(head.ratio.bare()),
        circles: head.plates.iter().flatten().map(|c| small(c.bare())).collect(),
        direct: Vec::new(),
    };
    let ways = of.ways(n);
    let says = format!("the head of this shop divides {n}");
    let verdict = found(book, (name, &says), ways.len(), "circles on which so many equal steps come round");
    let Some(best) = ways.first() else {
        cures(book, verdict.id(), &of, n);
        return Divided {
            lines: vec![format!("No circle of this head divides {n}: see the verdict for what would do.")],
            ..Divided::default()
        };
    };
    let mut inputs = vec![t.count.id(), head.ratio.id()];
    inputs.extend(head.plates.iter().flatten().map(reckon::Val::id));
    let rows = ways
        .iter()
        .map(|w| {
            let (turns, holes, circle) = steps(w);
            let spans = w.sector().map_or(Cell::word("not needed"), |s| Cell::of(&whole(s)));
            vec![
                Cell::of(&whole(circle)),
                Cell::of(&whole(turns)),
                Cell::of(&whole(holes)),
                spans,
                Cell::word(w.proof(n, of.ratio)),
            ]
        })
        .collect();
    let table = book.table(
        format_args!("{slug}.dividing.ways"),
        &["circle", "turns", "holes", "sector spans", "it comes round"],
        rows,
        "every circle tried; the sector spans one hole more than it counts",
        inputs.clone(),
        &WORM,
    );
    let among = ways.iter().map(|w| Alternative {
        what: w.to_string(),
        taken: w == best,
        why: if w == best {
            "the largest circle".to_owned()
        } else {
            format!("a circle of {} only", steps(w).2)
        },
    });
    let way = book.chosen(
        format!("{slug}.dividing.way"),
        best.to_string(),
        "the largest circle: a hole out of place counts least there",
        among.collect(),
        inputs,
        &LARGEST,
    );
    let (turns, holes, circle) = steps(best);
    let source = if matches!(best, Way::Direct { .. }) { &DIRECT } else { &WORM };
    let mut figures = Vec::new();
    let mut told = vec![("turns of the crank", "turns", turns)];
    if holes > 0 {
        told.push(("and holes", "holes", holes));
        told.push(("on the circle of", "circle", circle));
    }
    if let Some(sector) = best.sector() {
        told.push(("sector spans", "sector", sector));
    }
    for (label, tail, value) in told {
        let v = book.solved(
            format!("{slug}.dividing.{tail}"),
            whole(value),
            ("of the way taken", 1, 0.0),
            vec![way.id()],
            source,
        );
        figures.push(Figure::of(label, &v));
    }
    let mut lines = Vec::new();
    if holes > 0 {
        lines.push(format!(
            "Pin in the circle of {circle}; arms of the sector over {} holes, both ends counted.",
            holes + 1
        ));
    }
    lines.push("Turn the crank one way only; gone too far, go back a quarter turn more and come up again. Lock the spindle for every cut.".to_owned());
    lines
        .push(format!("Mark the first space with paint; {} from the mark come back to it.", t.count.shown()));
    Divided {
        lines,
        figures,
        tables: vec![PassTable { title: format!("ways to divide {n}; the first is taken"), id: table }],
        checks: vec![
            seen(
                "dividing",
                &format!("closes: {}; the pin drops into the first hole again", best.proof(n, of.ratio)),
            ),
            seen("count", &format!("{n}, counted twice from the paint mark")),
        ],
    }
}
const fn steps(w: &Way) -> (u32, u32, u32) {
    match *w {
        Way::Direct { step, plate } => (0, step, plate),
        Way::Worm { turns, holes, circle } => (turns, holes, circle),
    }
}
fn cures(book: &mut Book, id: reckon::Id, head: &Head, n: u32) {
    let would = would_do(head, n);
    let near: Vec<u32> = [would.below, would.above].into_iter().flatten().collect();
    if !near.is_empty() {
        book.cure(id, format!("other counts: {} are the nearest that it divides; for a going train, brasswright counts lists sets that keep the rate on this head", listed(&near)));
    }
    if !would.circles.is_empty() {
        book.cure(id, format!("a plate with a circle of {} holes", listed(&would.circles)));
    }
    if let Some(out) = would.through_worm {
        book.cure(
            id,
            format!(
                "a plate of {n} holes drilled on this head to the nearest holes, then put behind the worm: no tooth out by more than {}",
                reckon::Shown::shown(&out)
            ),
        );
    }
}
