//! How the head of the shop divides a count, and what would do when it cannot.

use super::super::bench::found;
use super::super::{Check, Figure, PassTable, hole::seen};
use movement::part::Toothing;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Cell, Count, Length, Source, Val, work};
use record::facts::Shop;
use train::dividing::{DIRECT, Head, LARGEST, MISCOUNTED, UNEVEN, WORM, Way, miscount, uneven, would_do};

/// Where the crank's pin stands after so many steps.
static PLACE: Source = Source::derived("steps counted from the hole that the first space was cut at")
    .with_formula("hole = k h mod c, turns = k w + floor(k h/c)");

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
        unequal(t, &of, n, verdict.id(), book);
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
            "Pin in the circle of {circle}, marked hole 0 with paint. Sector arms over {} holes with both ends counted, that is {holes} spaces between holes: left arm against the pin, {}then the pin into the last hole before the right arm, then the sector round until its left arm meets the pin again.",
            holes + 1,
            match turns {
                0 => String::new(),
                1 => "1 whole turn, ".to_owned(),
                k => format!("{k} whole turns, "),
            }
        ));
    } else if turns > 0 {
        lines.push(format!(
            "{turns} whole turns for each step, pin back into the same hole: no sector is needed."
        ));
    }
    lines.push("Crank one way only, clockwise, the last hole come up to from below; gone past it, go back a quarter turn more and come up again. Lock the spindle for every cut, free it before every turn.".to_owned());
    lines.push(format!(
        "Mark the first space with paint; tick each space when it is cut; {} from the mark come back to it.",
        t.count.shown()
    ));
    if let Some(v) = one_hole(t, (circle, of.ratio), head.ratio, book).filter(|_| holes > 0) {
        figures.push(Figure::of("one hole miscounted puts the tooth out by", &v));
    }
    let mut tables = vec![PassTable { title: format!("ways to divide {n}; the first is taken"), id: table }];
    if let Way::Worm { .. } = best {
        tables.push(ticks(t, n, steps(best), way.id(), book));
        lines.push("Interrupted? Write the last tick and the hole the pin stands in. To take it up again: pin into the hole that the list gives for the last full row, come up to it from a quarter turn below, count the spaces between the paint mark and the cutter, and let the cutter, not turning, into the last space cut: it must drop in with no side touching before the next step is made.".to_owned());
    }
    Divided {
        lines,
        figures,
        tables,
        checks: vec![
            seen(
                "dividing",
                &format!(
                    "closes: {}; the pin drops into hole 0 again and the cutter into the first space",
                    best.proof(n, of.ratio)
                ),
            ),
            seen("count", &format!("{n}, counted twice from the paint mark by two ways round")),
        ],
    }
}
/// What one hole is worth at the tips.
fn one_hole(
    t: &Toothing,
    (circle, ratio): (u32, u32),
    worm: Val<Count>,
    book: &mut Book,
) -> Option<Val<Length>> {
    if circle == 0 || ratio == 0 {
        return None;
    }
    let slug = &t.slug;
    let of = book.find(&format!("{slug}.dividing.circle")).map(|(id, _)| id)?;
    let angle = book.solved(
        format!("{slug}.dividing.one_hole_turn"),
        miscount(Count(1), whole(circle), worm.bare(), t.count.bare()).angle,
        ("turn of the spindle for one hole of the circle", 1, 0.0),
        vec![worm.id(), of],
        &MISCOUNTED,
    );
    let outside = t.outside;
    Some(work!(
        book,
        format!("{slug}.dividing.one_hole"),
        |outside, angle| outside.across() / 2.0 * angle.value(),
        &train::dividing::ARC
    ))
}
/// The list to tick, ten spaces a row, with the place of the crank at the end of each.
fn ticks(
    t: &Toothing,
    n: u32,
    (turns, holes, circle): (u32, u32, u32),
    way: reckon::Id,
    book: &mut Book,
) -> PassTable {
    let (w, h, c) = (u64::from(turns), u64::from(holes), u64::from(circle.max(1)));
    let rows = (0..n.div_ceil(10))
        .map(|row| {
            let first = row * 10;
            let mut cells: Vec<Cell> = (1..=10)
                .map(|k| if first + k <= n { Cell::word((first + k).to_string()) } else { Cell::word("") })
                .collect();
            let done = u64::from((first + 10).min(n));
            let all = done * (w * c + h);
            cells.push(Cell::word(format!("{}", all / c)));
            cells.push(Cell::word(format!("{}", all % c)));
            cells
        })
        .collect();
    let id = book.table(
        format_args!("{}.ticks", t.slug),
        &["1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "turns made", "pin in hole"],
        rows,
        "when the step after the last space of a row has been made, the crank has made so many turns since the first space and its pin stands in this hole, counted on from hole 0",
        vec![t.count.id(), way],
        &PLACE,
    );
    PassTable { title: "tick each space when it is cut; after the step that follows a row".to_owned(), id }
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
/// Steps that differ by one hole: how far they put a tooth out, and whether a wheel that goes may have them.
fn unequal(t: &Toothing, head: &Head, n: u32, verdict: reckon::Id, book: &mut Book) {
    let Some(found) = uneven(head, n) else { return };
    let slug = &t.slug;
    let turn = book.solved(
        format!("{slug}.dividing.uneven_turn"),
        found.tooth,
        ("steps that differ by one hole: furthest that a tooth stands from its place", 1, 0.0),
        vec![t.count.id(), verdict],
        &UNEVEN,
    );
    let outside = t.outside;
    let off = work!(
        book,
        format!("{slug}.dividing.uneven"),
        |outside, turn| outside.across() / 2.0 * turn.value(),
        &train::dividing::ARC
    );
    let Some(module) = t.module else { return };
    let may =
        work!(book, format!("{slug}.dividing.may_be_off"), |module| module * 0.02, &super::check::SPACING);
    let v = reckon::judge!(
        book,
        format!("{slug}.dividing.uneven_serves"),
        format!(
            "steps that differ by one hole on the circle of {} would still serve a wheel that goes",
            found.circle
        ),
        |off, may| off <= may,
        &GEOMETRY
    );
    book.cure(v.id(), "for motion work and winding only; for the train another count or a plate of its own");
    book.cure(verdict, format!("steps that differ by one hole on the circle of {}: a tooth is out by up to {} (brasswright ask dividing.uneven count={n})", found.circle, off.shown()));
}
