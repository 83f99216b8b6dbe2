//! Two plates that share holes: found by equal centres, held by two close pins, drilled as one.

use super::{Plate, hole_list};
use crate::plan::hole::seen;
use crate::plan::{Caution, Check, Figure, Held, Operation, SetUp, Spread};
use movement::part::{Body, FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Diameter, Length, Source, judge, work};

/// Why plates are drilled together.
pub static AS_ONE: Source = Source::practice(
    "plates of a movement are drilled as one, on two close pins far apart: a hole that wanders does so in both, and the arbor stays upright",
);
/// How far one plate moves on the other.
pub static REGISTER: Source =
    Source::derived("two pins with clearance c, a apart: the plate turns by c / a about the middle between them, or shifts by c / 2")
        .with_formula("e = max(c / 2, c r / a)");

/// A centre that both plates have a hole at.
#[derive(Clone, Debug)]
pub struct Shared {
    /// Index of the hole in each.
    pub of: (usize, usize),
    /// What it is called in each.
    pub labels: (String, String),
    /// Its size in each.
    pub sizes: (Diameter, Diameter),
    /// Where it is, millimetres from the corner.
    pub at: (f64, f64),
}
impl Shared {
    /// The size that goes through both.
    #[must_use]
    pub fn smaller(&self) -> Diameter {
        if self.sizes.0 <= self.sizes.1 { self.sizes.0 } else { self.sizes.1 }
    }
}
/// Two plates drilled as one.
#[derive(Clone, Debug)]
pub struct Pair {
    /// The plate on whose page the pair is drilled, and the other.
    pub parts: (usize, usize),
    /// Their names.
    pub names: (String, String),
    /// Thickness of the other.
    pub other_thickness: reckon::Val<Length>,
    /// Holes that both have, in the order of drilling.
    pub shared: Vec<Shared>,
    /// How many at the head of `shared` take the pins: two.
    pub register: usize,
}
impl Pair {
    /// What the two register holes are called in one of the plates.
    #[must_use]
    pub fn register_labels(&self, leads: bool) -> (&str, &str) {
        let of = |k: usize| {
            self.shared.get(k).map_or("", |s| if leads { s.labels.0.as_str() } else { s.labels.1.as_str() })
        };
        (of(0), of(1))
    }
}
fn centres(body: &FlatBody) -> Vec<(f64, f64)> {
    let (x0, y0) = body.datum;
    body.holes
        .iter()
        .map(|h| ((h.centre.0.bare() - x0.bare()).in_mm(), (h.centre.1.bare() - y0.bare()).in_mm()))
        .collect()
}
fn mates(a: &FlatBody, b: &FlatBody) -> Option<Vec<Shared>> {
    let alike = |x: Length, y: Length| (x - y).abs() < Length::mm(1e-3);
    if a.round.is_some() || b.round.is_some() {
        return None;
    }
    if !alike(a.extent.0.bare(), b.extent.0.bare()) || !alike(a.extent.1.bare(), b.extent.1.bare()) {
        return None;
    }
    let (of_a, of_b) = (centres(a), centres(b));
    let mut all = Vec::new();
    for (i, p) in of_a.iter().enumerate() {
        let Some(j) = of_b.iter().position(|q| (p.0 - q.0).abs() < 1e-3 && (p.1 - q.1).abs() < 1e-3) else {
            continue;
        };
        let (h, k) = (&a.holes[i], &b.holes[j]);
        all.push(Shared {
            of: (i, j),
            labels: (h.label.clone(), k.label.clone()),
            sizes: (h.diameter.nominal.bare(), k.diameter.nominal.bare()),
            at: *p,
        });
    }
    (all.len() >= 4).then_some(all)
}
/// Every two plates with the same outline and four or more centres in common; each in one pair at most.
#[must_use]
pub fn pairs(parts: &[Part]) -> Vec<Pair> {
    let flat = |i: usize| match &parts[i].body {
        Body::Flat(f) => Some(f.as_ref()),
        Body::Turned(_) => None,
    };
    let mut all: Vec<Pair> = Vec::new();
    for i in 0..parts.len() {
        for j in i + 1..parts.len() {
            let free = |k: usize| !all.iter().any(|p| p.parts.0 == k || p.parts.1 == k);
            if !free(i) || !free(j) || parts[i].common.count.bare() != parts[j].common.count.bare() {
                continue;
            }
            let (Some(a), Some(b)) = (flat(i), flat(j)) else { continue };
            let Some(shared) = mates(a, b) else { continue };
            all.push(Pair {
                parts: (i, j),
                names: (parts[i].common.name.clone(), parts[j].common.name.clone()),
                other_thickness: b.thickness.nominal,
                shared: in_order(shared),
                register: 2,
            });
        }
    }
    all
}
/// Two far holes of one size that pins can stand in come first; then from the largest down, as force does.
fn in_order(mut all: Vec<Shared>) -> Vec<Shared> {
    let far = |a: &Shared, b: &Shared| {
        let (dx, dy) = (a.at.0 - b.at.0, a.at.1 - b.at.1);
        dx * dx + dy * dy
    };
    let alone = |s: &Shared| (s.sizes.0 - s.sizes.1).abs() < Length::mm(1e-3);
    let mut best: Option<(usize, usize, bool, f64)> = None;
    for i in 0..all.len() {
        for j in i + 1..all.len() {
            let pins = [i, j].iter().all(|k| alone(&all[*k]) && all[*k].smaller() >= Diameter::mm(2.0))
                && (all[i].smaller() - all[j].smaller()).abs() < Length::mm(1e-3);
            let d = far(&all[i], &all[j]);
            if best.is_none_or(|(.., p, e)| (pins && !p) || (pins == p && d > e + 1e-6)) {
                best = Some((i, j, pins, d));
            }
        }
    }
    let Some((i, j, ..)) = best else { return all };
    let second = all.remove(j);
    let first = all.remove(i);
    all.sort_by(|a, b| b.smaller().value().total_cmp(&a.smaller().value()));
    let mut out = vec![first, second];
    out.extend(all);
    out
}
/// Both plates as one on the table.
pub(super) fn as_one(p: &Plate<'_>, pair: &Pair, book: &mut Book) -> SetUp {
    let mut operations = vec![hold(p, pair, book)];
    let mine = |s: &Shared| s.of.0;
    let (pins, rest) = pair.shared.split_at(pair.register);
    let pins: Vec<usize> = pins.iter().map(mine).collect();
    let rest: Vec<usize> = rest.iter().map(mine).collect();
    let list = |title, name, holes| hole_list::List { title, name, holes, pair: Some(pair) };
    let mut first =
        hole_list::operation(p, &list("First two holes, for the pins", "holes.register", &pins), book);
    first.lines.push("Push a pin turned to each hole through both plates before the next is drilled: from the second pin on neither plate can move.".to_owned());
    first.checks = over_plugs(p, &pins, book).into_iter().collect();
    first.checks.push(seen("pins", "each goes through both plates by the thumb, none shakes"));
    let mut others =
        hole_list::operation(p, &list("All other holes of both, largest first", "holes", &rest), book);
    others.checks.insert(0, seen("second hole of the train", "distance from the first over two close plugs, before the others are drilled; the list of distances stands with the plates"));
    operations.extend([first, others]);
    SetUp {
        title: format!("{} and {} as one", pair.names.0, pair.names.1),
        machine: p.machine(),
        held: Held {
            by: "both on a flat board, clamped".to_owned(),
            lines: vec![
                format!("Insides together: '{}' below with its outside on the board, '{}' above, as one sees them from the dial. Both true edges of both against two stops, a slip of thin paper nipped between each edge and its stop.", pair.names.0, pair.names.1),
                if p.lying() {
                    "The plates lie on their right side as seen from the dial: the right edge towards you, the bottom edge to the left.".to_owned()
                } else {
                    "The plates stand as seen from the dial: the bottom edge towards you.".to_owned()
                },
                "Clamps bear where no hole comes. Find the corner: edge finder on both edges, dials to zero there, turned in the way every hole will be come to.".to_owned(),
            ],
            deepest: None,
            overhang: None,
        },
        operations,
        time: Spread::minutes(15.0, 25.0, 45.0),
    }
}
/// By what the two are kept one, with what was weighed; and how far they can move on it.
fn hold(p: &Plate<'_>, pair: &Pair, book: &mut Book) -> Operation {
    let slug = p.slug();
    let name = |tail: &str| format!("{slug}.register.{tail}");
    let (a, b) = pair.register_labels(true);
    let at: Vec<(f64, f64)> = pair.shared.iter().take(pair.register).map(|s| s.at).collect();
    let (Some(u), Some(v)) = (at.first(), at.get(1)) else { return Operation::default() };
    let inputs: Vec<_> = pair
        .shared
        .iter()
        .take(2)
        .flat_map(|s| [p.body.holes[s.of.0].centre.0.id(), p.body.holes[s.of.0].centre.1.id()])
        .collect();
    let length = |x: f64, y: f64| (x * x + y * y).sqrt();
    let apart = book.solved(
        name("apart"),
        Length::mm(length(u.0 - v.0, u.1 - v.1)),
        ("distance between the two holes", 1, 0.0),
        inputs.clone(),
        &GEOMETRY,
    );
    let middle = (f64::midpoint(u.0, v.0), f64::midpoint(u.1, v.1));
    let far = pair.shared.iter().map(|s| length(s.at.0 - middle.0, s.at.1 - middle.1)).fold(0.0, f64::max);
    let reach = book.solved(
        name("farthest"),
        Length::mm(far),
        ("farthest shared hole from the middle between the pins", 1, 0.0),
        inputs,
        &GEOMETRY,
    );
    let play = book.assumed(
        name("play"),
        Length::mm(0.006),
        "house default: a pin turned to go into a reamed hole by the thumb",
    );
    let shift =
        work!(book, name("shift"), |play, reach, apart| (play / 2.0).max(play * (reach / apart)), &REGISTER);
    let most = book.assumed(
        name("most"),
        Length::mm(0.01),
        "house default: a pair of plates registers within a hundredth",
    );
    let verdict = judge!(
        book,
        name("true"),
        "put together again on their pins the plates come back to where they were drilled",
        |shift, most| shift <= most,
        &AS_ONE
    );
    book.cure(verdict.id(), "closer pins, or register holes farther apart");
    let among = vec![
        Alternative {
            what: format!("two close pins, in '{a}' and '{b}'"),
            taken: true,
            why: format!("{} apart, so that the plates come back within {}", apart.shown(), shift.shown()),
        },
        Alternative {
            what: "soft solder between them".to_owned(),
            taken: false,
            why: "holds as well, but heats both, has to be scraped off both insides, and leaves nothing to put them together by again".to_owned(),
        },
        Alternative {
            what: "clamps alone".to_owned(),
            taken: false,
            why: "shift when a drill breaks through, and do not bring the plates back".to_owned(),
        },
        Alternative {
            what: "each plate drilled by itself".to_owned(),
            taken: false,
            why: "each hole is out by its own error: arbors lean by the two together".to_owned(),
        },
    ];
    book.chosen(
        name("by"),
        format!("pins in '{a}' and '{b}'"),
        "far apart, of one size, large enough for a stiff pin, and in both plates anyway",
        among,
        vec![apart.id(), shift.id()],
        &AS_ONE,
    );
    way(p, book);
    Operation {
        title: "Make the two one".to_owned(),
        lines: vec![
            "Both insides wiped dry, no chip between. Glue the template on top if you want to see where you are: the dials decide, the prick marks only show a turn miscounted.".to_owned(),
            "Two steel pins are turned for the first two holes, rounded at the end, twice as long as both plates are thick.".to_owned(),
        ],
        tool: Some("two turned pins, clamps, stops".to_owned()),
        figures: vec![
            Figure::of("pins apart", &apart),
            Figure::of("play of a pin", &play),
            Figure::of("so they come back within", &shift),
        ],
        time: Spread::minutes(15.0, 25.0, 40.0),
        ..Operation::default()
    }
}
/// By which means the holes are placed, with what was weighed.
fn way(p: &Plate<'_>, book: &mut Book) {
    let slug = p.slug();
    let (w, h) = p.body.extent;
    let mut among = Vec::new();
    let mut inputs = vec![w.id(), h.id()];
    let mut taken: Option<String> = None;
    for m in &p.shop.mills {
        let (x, y) = (m.travel[0], m.travel[1]);
        inputs.extend([x.id(), y.id()]);
        let (across, up) = spans(p.body);
        let (long, short) = (across.max(up), across.min(up));
        let fits = (long <= x.bare() && short <= y.bare()) || (short <= x.bare() && long <= y.bare());
        let what = if m.words.is_empty() {
            format!("by the dials of the {}", m.name)
        } else {
            format!("by a program on the {}", m.name)
        };
        let sizes = format!("{} × {}", x.shown(), y.shown());
        let why = match (&m.dial, fits) {
            (_, false) => format!(
                "travels {sizes}, the holes take {} × {}",
                reckon::Shown::shown(&long),
                reckon::Shown::shown(&short)
            ),
            (Some(d), true) => {
                inputs.push(d.division.id());
                format!(
                    "travels {sizes}: all in one setting, each within half a division of {}",
                    d.division.shown()
                )
            }
            (None, true) => format!("travels {sizes}: all in one setting"),
        };
        let pick = fits && taken.is_none();
        if pick {
            taken = Some(what.clone());
        }
        among.push(Alternative { what, taken: pick, why });
    }
    let by_hand =
        "pricked through the template, each distance scribed with the depthing tool, drilled by hand";
    among.push(Alternative {
        what: by_hand.to_owned(),
        taken: taken.is_none(),
        why: "a prick stands within a tenth; the depthing tool brings a pair to what feels right, not to the drawing".to_owned(),
    });
    book.chosen(
        format!("{slug}.drilling.way"),
        taken.unwrap_or_else(|| by_hand.to_owned()),
        "first what reaches all holes in one setting",
        among,
        inputs,
        &AS_ONE,
    );
}
/// From the first hole to the last, across and up.
pub(super) fn spans(body: &FlatBody) -> (Length, Length) {
    let all = centres(body);
    let span = |pick: fn(&(f64, f64)) -> f64| {
        let (low, high) =
            all.iter().map(pick).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        (high - low).max(0.0)
    };
    (Length::mm(span(|c| c.0)), Length::mm(span(|c| c.1)))
}
/// The first two holes, measured over two plugs.
fn over_plugs(p: &Plate<'_>, pins: &[usize], book: &mut Book) -> Option<Check> {
    let (a, b) = (&p.body.holes[*pins.first()?], &p.body.holes[*pins.get(1)?]);
    let slug = p.slug();
    let (one, two) = (a.diameter.nominal, b.diameter.nominal);
    let (ax, ay, bx, by) = (a.centre.0, a.centre.1, b.centre.0, b.centre.1);
    let over = work!(
        book,
        format!("{slug}.register.over_plugs"),
        |ax, ay, bx, by, one, two| Length::si(
            ((ax - bx).value() * (ax - bx).value() + (ay - by).value() * (ay - by).value()).sqrt()
        ) + (one.across() + two.across()) / 2.0,
        &GEOMETRY
    );
    Some(Check {
        what: format!("over both pins, '{}' to '{}'", a.label, b.label),
        limits: Some((over.bare() + Length::mm(0.02), over.bare() - Length::mm(0.02))),
        seen: None,
        id: Some(over.id()),
    })
}
/// What the page of the other plate says of the pair.
pub(super) fn with_the_other(pair: &Pair) -> SetUp {
    let names: Vec<&str> = pair.shared.iter().map(|s| s.labels.1.as_str()).collect();
    super::bench(
        &format!("with the {}", pair.names.0),
        "as on its page",
        vec![Operation {
            title: format!("Drilled as one with the {}", pair.names.0),
            lines: vec![
                format!(
                    "This plate goes on top of the {0} now: set-ups 2 and 3 on the page of the {0} drill both at once and file their last edges. Come back here when they are parted.",
                    pair.names.0
                ),
                format!("Drilled there: {}.", names.join(", ")),
            ],
            checks: vec![seen("all holes of the pair", "light comes through every one")],
            cautions: vec![Caution::DrillingSheet],
            does: vec!["drill"],
            time: Spread::around(2.0),
            ..Operation::default()
        }],
    )
}
