//! Desk views of the movement: train, plates, escapement, power; each drawn, each thing with its why.

use super::asked::Asked;
use super::floor::State;
use super::frame::{Frame, tiles, why_of};
use super::plan::{Plan, ticks};
use kurbo::{Point, Rect};
use maud::{Markup, html};
use movement::design::layout::{BodyKind, Solid};
use movement::design::{EscapementDesign, Movement};
use reckon::print::fixed;
use reckon::{Id, Origin};
use shape::profile::Profile;

fn page(
    asked: &Asked,
    state: &State,
    title: &str,
    here: &str,
    inside: &dyn Fn(&Movement) -> Markup,
) -> Markup {
    let body = match &state.work.movement {
        Some(m) => inside(m),
        None => html! { p.soft { "Nothing is written of a movement: this project is parts alone." } },
    };
    Frame::of(asked, state, title, here).around(&html! { h1 { (title) } (body) })
}
/// Where an axis stands, millimetres.
fn point(s: &movement::design::Stand) -> Point {
    Point::new(s.x.bare().in_mm(), s.y.bare().in_mm())
}
fn name_of(state: &State, id: Id) -> Option<&str> {
    state.work.book.line(id).map(|l| l.name.as_str())
}
/// A link with the value of a place in the book.
pub fn value(state: &State, id: Id) -> Markup {
    html! { @if let Some(n) = name_of(state, id) { a href=(why_of(n)) title=(n) { (state.value(id)) } } }
}
/// The room that bodies take, with something around it.
fn room<'a>(solids: impl Iterator<Item = &'a Solid>, around: f64) -> Option<Rect> {
    let boxes = solids.map(|s| {
        let r = s.diameter.bare().in_mm() / 2.0;
        let p = point(&s.stand);
        Rect::new(p.x - r, p.y - r, p.x + r, p.y + r)
    });
    boxes.reduce(|a, b| a.union(b)).map(|r| r.inflate(around, around))
}
/// Train: wheels and pinions where they stand, who drives whom, how fast, how well.
#[must_use]
pub fn train(asked: &Asked, state: &State) -> Markup {
    page(asked, state, "Train", "train", &|m| {
        html! {
            (tiles(state, &[("beats an hour", "train.beats_per_hour"), ("time of a beat", "train.beat"), ("goes for", "wanted.run"), ("turns of the first arbor", "drive.turns")]))
            div.columns.even {
                figure { (standing(state, m)) figcaption { "As seen from the dial, true to size. Put the pointer on a wheel for its numbers; tap it for its why." } }
                div {
                    h2 { "Arbors" }
                    table {
                        thead { tr { th scope="col" { "arbor" } th.n scope="col" { "one turn in" } th scope="col" { "turns" } } }
                        tbody { @for a in &m.train.arbors { tr {
                            td { (a.facts.name) }
                            td.n { @if let Some(t) = &a.turn { (value(state, t.id())) } }
                            td.soft { @match a.clockwise { Some(true) => "clockwise ↻", Some(false) => "anticlockwise ↺", None => "" } }
                        } } }
                    }
                }
            }
            h2 { "Pairs" }
            div.scroll { table {
                thead { tr { th scope="col" { "pair" } th.n scope="col" { "teeth : leaves" } th.n scope="col" { "module" } th.n scope="col" { "centres" } th.n scope="col" { "wheel over tips" } th.n scope="col" { "pinion over tips" } th.n scope="col" { "passes on" } th scope="col" { "how it runs" } } }
                tbody { @for p in &m.train.meshes { (pair(state, m, p)) } }
            } }
        }
    })
}
fn pair(state: &State, m: &Movement, p: &movement::design::Mesh) -> Markup {
    let named = |i: usize| m.train.arbors.get(i).map_or("", |a| a.facts.name.as_str());
    html! {
        tr {
            td { (named(p.driver)) " → " @if let Some(d) = p.driven { (named(d)) } @else { "a pinion that is there" } }
            td.n { (value(state, p.teeth.id())) " : " (value(state, p.leaves.id())) }
            @if let Some(s) = &p.sizes {
                td.n { (value(state, s.module.id())) }
                td.n { (value(state, p.laid.as_ref().unwrap_or(&s.centres).id())) }
                td.n { (value(state, s.wheel.outside.id())) }
                td.n { (value(state, s.pinion.outside.id())) }
                td.n { @if let Some(c) = &s.contact { (value(state, c.efficiency.id())) } }
                td.soft.small.wordy { @if let Some(c) = &s.contact { (c.says) } }
            } @else { td colspan="6" {} }
        }
    }
}
/// Wheels and pinions as they stand.
fn standing(state: &State, m: &Movement) -> Markup {
    let turning = |s: &&Solid| !matches!(s.kind, BodyKind::Arbor | BodyKind::Pillar);
    let Some(view) = room(m.layout.solids.iter().filter(turning), 6.0) else {
        return html! { p.soft { "Where things stand is not written." } };
    };
    let mut plan = Plan::of(view, "the train as seen from the dial");
    let letter = plan.letter;
    for s in m.layout.solids.iter().filter(turning) {
        let (at, r) = (point(&s.stand), s.diameter.bare().in_mm() / 2.0);
        let title = format!(
            "{}: {} over all, {} to {} from the back plate",
            s.name,
            state.value(s.diameter.id()),
            state.value(s.span.from.id()),
            state.value(s.span.to.id())
        );
        let name = name_of(state, s.diameter.id());
        let of = |arbor: usize, wheel: bool| {
            let mesh = m
                .train
                .meshes
                .iter()
                .find(|p| if wheel { p.driver == arbor } else { p.driven == Some(arbor) })?;
            let sizes = mesh.sizes.as_ref()?;
            Some(if wheel { &sizes.wheel.outline } else { &sizes.pinion.outline })
        };
        plan.about(name, &title, |plan| match (s.kind, s.arbor) {
            (BodyKind::Wheel, Some(a)) if of(a, true).is_some() => {
                if let Some(o) = of(a, true) {
                    plan.outline(o, at, 0.0, "brass", 0.18);
                }
                plan.circle(at, r * 0.86, "thin", 0.12);
            }
            (BodyKind::Pinion, Some(a)) if of(a, false).is_some() => {
                if let Some(o) = of(a, false) {
                    plan.outline(o, at, 0.0, "steel", 0.18);
                }
            }
            (BodyKind::EscapeWheel, _) => match &m.escapement {
                Some(e) => plan.outline(&e.wheel, at, 0.0, "brass", 0.18),
                None => plan.circle(at, r, "brass", 0.18),
            },
            (BodyKind::Pallets, _) => plan.circle(at, r, "thin", 0.2),
            (BodyKind::Barrel, _) => plan.circle(at, r, "steel", 0.2),
            _ => plan.circle(at, r, "steel", 0.18),
        });
    }
    for (a, stand) in m.train.arbors.iter().zip(&m.layout.stands) {
        if let Some(s) = stand {
            let p = point(s);
            plan.circle(p, letter * 0.16, "full", 0.1);
            plan.words(Point::new(p.x, p.y + letter * 0.45), "middle", "", letter, &a.facts.name);
        }
    }
    plan.done()
}
/// What is told of a hole under the pointer.
fn hole_title(state: &State, h: &movement::design::plates::PlateHole) -> String {
    format!(
        "{}: {}, {}, in {}; x {} y {} from the corner",
        h.label,
        h.of.word(),
        state.value(h.size.nominal.id()),
        match h.plates() {
            "both" => "both plates as a pair".to_owned(),
            one => format!("the {one} plate"),
        },
        state.value(h.corner.0.id()),
        state.value(h.corner.1.id())
    )
}
/// Plates: holes where they stand, and the table of them.
#[must_use]
pub fn plates(asked: &Asked, state: &State) -> Markup {
    page(asked, state, "Plates", "plates", &|m| {
        let Some(p) = &m.plates else {
            return html! { p.soft { "No plates are written." } };
        };
        let corner = point(&p.corner);
        let far = p
            .holes
            .iter()
            .map(|h| point(&h.stand))
            .fold(Rect::from_points(corner, corner), |r, q| r.union_pt(q));
        let plate = state.work.parts.iter().find(|p| p.slug() == "plates.front_plate");
        let outline = plate.and_then(|p| match &p.body {
            movement::part::Body::Flat(f) => Some(f.solid.outline.bounds()),
            movement::part::Body::Turned(_) => None,
        });
        // The part has its own corner at its datum; here it lies where the holes stand.
        let sheet = match outline {
            Some(o) => Rect::new(corner.x, corner.y, corner.x + o.width(), corner.y + o.height()),
            None => far.inflate(8.0, 8.0),
        };
        let mut plan = Plan::of(sheet.inflate(4.0, 4.0), "the plates with their holes, seen from the dial");
        let letter = plan.letter * 0.75;
        plan.rect(sheet, "brass", 0.3);
        for s in m.layout.solids.iter().filter(|s| matches!(s.kind, BodyKind::Wheel | BodyKind::EscapeWheel))
        {
            plan.circle(point(&s.stand), s.diameter.bare().in_mm() / 2.0, "thin", 0.15);
        }
        let mut taken: Vec<Rect> = Vec::new();
        for h in &p.holes {
            let (at, r) = (point(&h.stand), (h.size.nominal.bare().in_mm() / 2.0).max(letter * 0.35));
            let title = hole_title(state, h);
            // A label goes to the side that has room, and steps down until it lies on no other.
            let wide = letter * 0.58 * h.label.chars().count() as f64;
            let left = at.x + r + wide > sheet.x1;
            let from = if left { at.x - r - letter * 0.3 } else { at.x + r + letter * 0.3 };
            let spot = |step: f64| {
                let y = at.y - letter * (0.35 + step);
                let x = if left { from - wide } else { from };
                Rect::new(x, y, x + wide, y + letter)
            };
            let free = |b: &Rect| taken.iter().all(|t| t.intersect(*b).area() <= 0.0);
            let label =
                [0.0, 1.05, -1.05, 2.1, -2.1].map(spot).into_iter().find(free).unwrap_or_else(|| spot(0.0));
            taken.push(label);
            plan.about(name_of(state, h.size.nominal.id()), &title, |plan| {
                plan.circle(at, r, if h.back && h.front { "steel" } else { "line" }, 0.2);
                let y = label.y0 + letter * 0.15;
                plan.words(Point::new(from, y), if left { "end" } else { "start" }, "", letter, &h.label);
            });
        }
        html! {
            (tiles(state, &[("thick", "plates.thickness"), ("pillars", "plates.pillar_diameter"), ("between the plates", "plates.gap")]))
            div.columns.even {
                figure { (plan.done()) figcaption { "Seen from the dial. Filled: through both plates as a pair. Thin circles: wheels." } }
                div {
                    h2 { "Holes" }
                    div.scroll { table {
                        thead { tr { th scope="col" { "hole" } th scope="col" { "for" } th scope="col" { "plates" } th.n scope="col" { "size" } th.n scope="col" { "x" } th.n scope="col" { "y" } } }
                        tbody { @for h in &p.holes { tr {
                            td { (h.label) } td.soft { (h.of.word()) } td.soft { (h.plates()) }
                            td.n { (value(state, h.size.nominal.id())) } td.n { (value(state, h.corner.0.id())) } td.n { (value(state, h.corner.1.id())) }
                        } } }
                    } }
                }
            }
            @if !p.checks.is_empty() {
                h2 { "Measure over plugs" }
                div.scroll { table {
                    thead { tr { th scope="col" { "holes" } th.n scope="col" { "centres" } th.n scope="col" { "over the plugs" } } }
                    tbody { @for c in &p.checks { tr {
                        td { (p.holes.get(c.holes.0).map_or("", |h| h.label.as_str())) " – " (p.holes.get(c.holes.1).map_or("", |h| h.label.as_str())) }
                        td.n { (value(state, c.centres.id())) } td.n { (value(state, c.over.id())) }
                    } } }
                } }
            }
        }
    })
}
/// Escapement: set out, with its numbers.
#[must_use]
pub fn escapement(asked: &Asked, state: &State) -> Markup {
    page(asked, state, "Escapement", "escapement", &|m| match &m.escapement {
        Some(e) => html! {
            div.columns.even {
                figure { (set_out(e)) figcaption { "Pallets in the middle of their swing; the line of centres upright. Thin lines: construction." } }
                div {
                    h2 { "In numbers" }
                    table { tbody { @for (what, id) in &e.told { tr { td { (what) } td.n { (value(state, *id)) } } } } }
                }
            }
            @for (head, id) in [("Corners", Some(e.corners)), ("A whole swing", Some(e.cycled)), ("What an error does", e.sensitivity)] {
                @if let Some(id) = id { (table(state, head, id)) }
            }
        },
        None => html! { p.soft { "No escapement is written." } },
    })
}
fn set_out(e: &EscapementDesign) -> Markup {
    let d = &e.drawing;
    let all = d.outlines.iter().map(Profile::bounds).reduce(|a, b| a.union(b));
    let Some(all) = all else { return html! {} };
    let mut plan =
        Plan::of(all.inflate(all.width() * 0.08, all.height() * 0.06), "wheel and pallets set out");
    let thin = all.width() / 500.0;
    for (c, r) in &d.circles {
        plan.circle(*c, *r, "thin", thin);
    }
    for (a, b) in &d.lines {
        plan.line(*a, *b, "thin", thin);
    }
    for (i, o) in d.outlines.iter().enumerate() {
        plan.outline(o, Point::ORIGIN, 0.0, if i == 0 { "brass" } else { "steel" }, thin * 1.4);
    }
    for c in &e.pins {
        plan.circle(*c, thin * 4.0, "line", thin);
    }
    let letter = plan.letter * 0.8;
    for (p, name) in &d.points {
        plan.about(None, name, |plan| {
            plan.circle(*p, thin * 2.2, "full", thin);
            plan.words(Point::new(p.x + letter * 0.3, p.y + letter * 0.3), "start", "", letter, name);
        });
    }
    plan.done()
}
/// A table of the book.
fn table(state: &State, head: &str, id: Id) -> Markup {
    let Some(line) = state.work.book.line(id) else { return html! {} };
    let Origin::Table { columns, rows, .. } = &line.origin else { return html! {} };
    html! {
        h2 { (head) " " a.small href=(why_of(&line.name)) { "why" } }
        div.scroll { table {
            thead { tr { @for c in columns { th scope="col" { (c) } } } }
            tbody { @for r in rows { tr { @for c in r { td { (state.sentence(&c.shown)) } } } } }
        } }
    }
}
/// Power: what the drive gives against what the pendulum needs, as ranges through the run.
#[must_use]
pub fn power(asked: &Asked, state: &State) -> Markup {
    page(asked, state, "Power", "power", &|m| {
        let Some(d) = &m.drive else {
            return html! { p.soft { "No drive is written." } };
        };
        html! {
            @if let Some(g) = &d.margin {
                h2 { "The arc it keeps up" }
                @let needed = m.pendulum.as_ref().and_then(|p| p.arc_needed);
                @let rows: Vec<Band<'_>> = g.moments.iter().map(|t| Band { what: t.what, low: (t.arc.low.bare().in_deg(), t.arc.low.id()), likely: (t.arc.likely.bare().in_deg(), t.arc.likely.id()), high: (t.arc.high.bare().in_deg(), t.arc.high.id()) }).collect();
                figure { (bands(state, &rows, needed.map(|n| (n.bare().in_deg(), n.id(), "needed by the escapement")), "°")) figcaption { "Each bar is the range that the losses leave open, its thick line the likely value. No single figure is promised." } }
                h2 { "Power at the pendulum" }
                @let need = m.pendulum.as_ref().map(|p| (p.need.bare().value() * 1e6, p.need.id(), "needed at the running arc"));
                @let rows: Vec<Band<'_>> = g.moments.iter().map(|t| Band { what: t.what, low: (t.at_pendulum.low.bare().value() * 1e6, t.at_pendulum.low.id()), likely: (t.at_pendulum.likely.bare().value() * 1e6, t.at_pendulum.likely.id()), high: (t.at_pendulum.high.bare().value() * 1e6, t.at_pendulum.high.id()) }).collect();
                figure { (bands(state, &rows, need, "µW")) }
                (table(state, "Through the run", g.table))
            }
            h2 { "In numbers" }
            table { tbody { @for (what, id) in &d.told { tr { td { (what) } td.n { (value(state, *id)) } } } } }
            @if let Some(id) = d.loads { (table(state, "Loads of teeth and pivots", id)) }
        }
    })
}
/// A range with its likely value, each with its place in the book.
struct Band<'a> {
    what: &'a str,
    low: (f64, Id),
    likely: (f64, Id),
    high: (f64, Id),
}
/// Ranges one under another, against a need.
fn bands(state: &State, rows: &[Band<'_>], need: Option<(f64, Id, &str)>, unit: &str) -> Markup {
    let most = rows.iter().map(|r| r.high.0).chain(need.map(|n| n.0)).fold(0.0, f64::max) * 1.08;
    if most <= 0.0 {
        return html! {};
    }
    // Words stand over their bar: as narrow as a phone, and large enough there to be read.
    let (left, wide, each) = (14.0, 372.0, 62.0);
    let tall = rows.len() as f64 * each;
    let x = |v: f64| left + v / most * wide;
    let mut plan =
        Plan::of(Rect::new(0.0, -tall - 30.0, left * 2.0 + wide, 26.0), "ranges against what is needed");
    for t in ticks(0.0, most, 5) {
        plan.line(Point::new(x(t), 0.0), Point::new(x(t), -tall), "thin", 1.0);
        let said = reckon::print::trimmed(&fixed(t, 3));
        let said = if t > 0.0 { said } else { format!("{said} {unit}") };
        let anchor = if t > 0.0 { "middle" } else { "start" };
        let at = if t > 0.0 { x(t) } else { 4.0 };
        plan.words(Point::new(at, -tall - 18.0), anchor, "soft", 13.0, &said);
    }
    for (i, r) in rows.iter().enumerate() {
        let y = -(i as f64 + 0.66) * each;
        let title = format!(
            "{}: {} to {}, likely {}",
            r.what,
            state.value(r.low.1),
            state.value(r.high.1),
            state.value(r.likely.1)
        );
        plan.words(Point::new(left, y + 19.0), "start", "", 15.0, r.what);
        plan.about(name_of(state, r.likely.1), &title, |plan| {
            plan.rect(Rect::new(x(r.low.0), y - 11.0, x(r.high.0), y + 11.0), "brass", 1.0);
            plan.rect(Rect::new(x(r.likely.0) - 2.5, y - 15.0, x(r.likely.0) + 2.5, y + 15.0), "full", 0.0);
        });
    }
    if let Some((v, id, says)) = need {
        plan.about(name_of(state, id), &format!("{says}: {}", state.value(id)), |plan| {
            plan.line(Point::new(x(v), 6.0), Point::new(x(v), -tall), "bad", 2.0);
            let words = format!("{says}: {}", state.value(id));
            let half = 3.9 * words.chars().count() as f64;
            let middle = x(v).clamp(half.min(wide / 2.0), (left * 2.0 + wide - half).max(wide / 2.0));
            plan.words(Point::new(middle, 10.0), "middle", "", 14.0, &words);
        });
    }
    plan.done()
}
