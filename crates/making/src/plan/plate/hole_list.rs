//! A list of holes by dial readings, with the drills of each and what comes after.

use super::Plate;
use super::pair::Pair;
use crate::kernel::speed;
use crate::plan::drills::{self, Listed, drill_for};
use crate::plan::fits::room;
use crate::plan::flat;
use crate::plan::hole::seen;
use crate::plan::{Caution, Operation, PassTable, Spread};
use reckon::source::GEOMETRY;
use reckon::{Cell, Diameter, Length, Source, Val, work};

/// How far an ordinary drill reaches, and what it does beyond.
pub static THROUGH: Source = Source::practice(
    "a drill goes no deeper than its flutes; it breaks through by its point and a third of a millimetre",
);

/// Which holes, under which title and name.
pub(super) struct List<'a> {
    pub(super) title: &'a str,
    pub(super) name: &'a str,
    pub(super) holes: &'a [usize],
    /// Where both plates of a pair are drilled at once.
    pub(super) pair: Option<&'a Pair>,
}
/// One operation with its table.
pub(super) fn operation(p: &Plate<'_>, list: &List<'_>, book: &mut reckon::Book) -> Operation {
    let slug = p.slug().to_owned();
    let (x0, y0) = p.body.datum;
    let dial = p.shop.mills.first().and_then(|m| m.dial.as_ref());
    let reading = |v: &Val<Length>| dial.map_or_else(|| v.shown(), |d| d.dial().text(v.bare()));
    let lying = p.lying();
    let width = p.body.extent.0;
    let (mut rows, mut inputs) = (Vec::new(), Vec::new());
    let mut lines = Vec::new();
    let mut short = Vec::new();
    let mut tapped = false;
    let (mut drilled, mut listed) = (Vec::new(), Vec::new());
    for i in list.holes {
        let h = &p.body.holes[*i];
        let at = format!("{slug}.hole.{}", reckon::slug(&h.label));
        let (x, y) = h.centre;
        let dx = work!(book, format!("{at}.dx"), |x, x0| x - x0, &GEOMETRY);
        let dy = work!(book, format!("{at}.dy"), |y, y0| y - y0, &GEOMETRY);
        let shared = list.pair.and_then(|q| q.shared.iter().find(|s| s.of.0 == *i));
        // Where the two differ, the smaller goes through both and the larger is opened when they are parted.
        let mut through = h.clone();
        let mut opened = None;
        if let Some(s) = shared
            && s.sizes.1 < s.sizes.0
        {
            through.diameter.nominal = book.solved(
                format!("{at}.through_both"),
                s.sizes.1,
                ("the smaller of the two plates' holes", 1, 0.0),
                vec![h.diameter.nominal.id()],
                &super::pair::AS_ONE,
            );
            through.diameter.upper = book.assumed(
                format!("{at}.through_both.upper"),
                Length::mm(0.01),
                "house default: as a pivot hole",
            );
            through.diameter.lower = book.assumed(
                format!("{at}.through_both.lower"),
                Length::ZERO,
                "house default: as a pivot hole",
            );
            opened = Some(h.diameter.nominal);
        }
        through.countersink = None;
        let at = if opened.is_some() { format!("{at}.through_both") } else { at };
        let way = drill_for(&through, (p.shop, p.metal.metal), book, &at);
        drilled.push(way.last.unwrap_or(through.diameter.nominal));
        let drill = way.drills();
        let mut then = later(&way.then);
        if let Some(size) = opened {
            then = format!(
                "parted: open to {} in the {}",
                size.shown(),
                list.pair.map_or("", |q| q.names.0.as_str())
            );
            let own = format!("{slug}.hole.{}", reckon::slug(&h.label));
            drill_for(h, (p.shop, p.metal.metal), book, &own);
        } else if shared.is_some_and(|s| s.sizes.0 < s.sizes.1) {
            then = format!("{then}; parted: larger in the {}", list.pair.map_or("", |q| q.names.1.as_str()));
        }
        tapped |= h.thread.is_some();
        if let Some(deep) = reach(p, list, &at, &h.label, through.diameter.nominal, book) {
            short.push(deep);
        }
        let (along, up) = if lying {
            (
                dy,
                work!(
                    book,
                    format!("{slug}.hole.{}.up", reckon::slug(&h.label)),
                    |width, dx| width - dx,
                    &GEOMETRY
                ),
            )
        } else {
            (dx, dy)
        };
        rows.push(vec![
            Cell::word(h.label.clone()),
            Cell::of(&along.bare()),
            Cell::of(&up.bare()),
            Cell::as_text(&along.bare(), reading(&along)),
            Cell::as_text(&up.bare(), reading(&up)),
            Cell::word(drill),
            Cell::word(then.clone()),
        ]);
        listed.push(Listed { label: h.label.clone(), drills: way.names, then });
        inputs.extend([along.id(), up.id()]);
    }
    let table = book.table(
        format!("{slug}.{}", list.name),
        &["hole", "along", "across", "long dial", "cross dial", "drills", "then"],
        rows,
        if lying {
            "the plate on its right side: along from its bottom edge, across from its right edge; come to each from the same side, so that backlash is out"
        } else {
            "along from the left edge, across from the bottom edge, seen from the dial; come to each from the same side, so that backlash is out"
        },
        inputs,
        &GEOMETRY,
    );
    lines.push("At each hole, without moving the table: spot with a short stiff drill until its cone is as wide as the hole; then the drills in the order listed; then reamer or tap. Chips out at every dip.".to_owned());
    lines.push(match dial {
        Some(d) => format!("Both dials upwards: come to every hole from the left and from the near side. Overshot: go back past it by more than the backlash of {}, and come again.", d.backlash.shown()),
        None => "Come to every hole from the same side by at least the backlash.".to_owned(),
    });
    if !short.is_empty() {
        lines.push(format!(
            "The drill's flutes end before it is through both: {}. Drill as deep as they go: the upper plate is then through and the lower has its own start, true to it. Parted, the lower is drilled through from that start.",
            short.join(", ")
        ));
    }
    let mut no_spindle = None;
    if list.name == "holes" {
        let every = every(p, book);
        let told = flat::travel(p.body, p.shop, book, &slug, &every);
        if !p.in_reach() {
            lines.extend(told);
            lines.push("Drill what is in reach, first of all the two holes for the pins. Then move both plates together, clamp, and pick up again: a pin in the spindle into two holes that are drilled, dials set to what they read there.".to_owned());
        }
        let (mine, other) = (p.body.thickness.nominal, list.pair.map(|pair| pair.other_thickness));
        let thick = match other {
            Some(other) => {
                work!(book, format!("{slug}.drilling.thick"), |mine, other| mine + other, &THROUGH)
            }
            None => mine,
        };
        let largest = flat::largest(p.body);
        let room = room::flat(&room::Flat { shop: p.shop, slug: &slug, thick, largest }, book);
        lines.extend(room.lines);
        no_spindle = room.none;
    }
    let smallest = drilled.into_iter().reduce(|a, c| if c < a { c } else { a });
    let pace = smallest
        .and_then(|d| flat::drilling_speed(p.shop, p.metal, d, &format!("{slug}.{}", list.name), book));
    let (speed, slow) = pace.map_or((None, None), |(speed, told)| (Some(speed), told));
    lines.extend(slow);
    let mut cautions = p.cautions(Caution::DrillingSheet);
    if tapped {
        cautions.push(Caution::HandThreading);
    }
    Operation {
        title: list.title.to_owned(),
        lines,
        tool: Some("short spotting drill, drills and reamers as listed".to_owned()),
        speed,
        tables: vec![PassTable {
            title: if lying {
                "plate on its right side: along from its bottom edge, across from its right edge".to_owned()
            } else {
                "along from the left edge, across from the bottom edge".to_owned()
            },
            id: table,
        }],
        checks: vec![seen("holes", "the drill's shank stands upright in each")],
        cautions,
        does: vec!["drill"],
        time: Spread::around(5.0 * count(list.holes.len())),
        holes: listed,
        no_spindle,
        ..Operation::default()
    }
}
fn count(n: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a number of holes")]
    let n = n as f64;
    n
}
/// Where every hole of the plate is, for what the table has to travel.
fn every(p: &Plate<'_>, book: &mut reckon::Book) -> Vec<(Val<Length>, Val<Length>)> {
    let slug = p.slug();
    let (x0, y0) = p.body.datum;
    p.body
        .holes
        .iter()
        .map(|h| {
            let at = format!("{slug}.drilling.at.{}", reckon::slug(&h.label));
            let (x, y) = h.centre;
            (
                work!(book, format!("{at}.x"), |x, x0| x - x0, &GEOMETRY),
                work!(book, format!("{at}.y"), |y, y0| y - y0, &GEOMETRY),
            )
        })
        .collect()
}
/// Broaching waits until the plates are parted.
fn later(then: &str) -> String {
    if then.contains("broach") || then.contains("half-round") || then.contains("bore to") {
        let size = then.rsplit(' ').nth(1).unwrap_or("");
        let unit = then.rsplit(' ').next().unwrap_or("");
        return format!("parted: to {size} {unit}");
    }
    then.to_owned()
}
/// A hole whose drill does not reach through both plates: how far it goes.
fn reach(
    p: &Plate<'_>,
    list: &List<'_>,
    at: &str,
    label: &str,
    size: Val<Diameter>,
    book: &mut reckon::Book,
) -> Option<String> {
    let pair = list.pair?;
    let (mine, other) = (p.body.thickness.nominal, pair.other_thickness);
    let point = book.assumed(format!("{at}.point"), reckon::Angle::deg(118.0), "an ordinary drill's point");
    let deep = work!(
        book,
        format!("{at}.through"),
        |mine, other, size, point| mine + other + speed::point_height(size, point) + Length::mm(0.3),
        &THROUGH
    );
    let flutes = drills::flutes(book, format!("{at}.flutes"), p.shop, size, Length::mm(0.005));
    (flutes.bare() < deep.bare()).then(|| format!("{label} ({} of {})", flutes.shown(), deep.shown()))
}
