//! Where everything stands: arbors on the plates, wheels along the arbors, and what would touch.
//!
//! x to the right, y upwards, seen from the dial; z from the inside of the back plate towards the dial.

use super::arbors::Stem;
use super::model::Train;
use reckon::source::{GEOMETRY, HOUSE, Source};
use reckon::{Angle, Book, Cell, Diameter, Id, Length, Place, Trouble, Val, work};
use record::facts::{MovementFacts, Runs};

/// Two bodies that turn near each other.
pub static CLEARANCE: Source =
    Source::practice("half a millimetre between a wheel and what passes it; one to a pillar");

/// Where an arbor stands.
#[derive(Copy, Clone, Debug)]
pub struct Stand {
    /// To the right.
    pub x: Val<Length>,
    /// Upwards.
    pub y: Val<Length>,
}
impl Stand {
    fn mm(&self) -> (f64, f64) {
        (self.x.bare().in_mm(), self.y.bare().in_mm())
    }
}
/// From and to along the axis.
#[derive(Copy, Clone, Debug)]
pub struct Span {
    /// Nearer the back plate.
    pub from: Val<Length>,
    /// Nearer the dial.
    pub to: Val<Length>,
}
/// What kind of body turns or stands there.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum BodyKind {
    /// Wheel.
    Wheel,
    /// Pinion.
    Pinion,
    /// Arbor.
    Arbor,
    /// Escape wheel.
    EscapeWheel,
    /// Pallets.
    Pallets,
    /// Barrel or drum.
    Barrel,
    /// Pillar.
    Pillar,
}
/// A round body.
#[derive(Clone, Debug)]
pub struct Solid {
    /// For a message: "wheel of 'third'".
    pub name: String,
    /// Dotted name.
    pub slug: String,
    /// Kind.
    pub kind: BodyKind,
    /// Its arbor; none for what stands still.
    pub arbor: Option<usize>,
    /// Where its axis stands.
    pub stand: Stand,
    /// Diameter over all.
    pub diameter: Val<Diameter>,
    /// Along the axis.
    pub span: Span,
}
impl Solid {
    /// Gaps to another body in plan and in height, millimetres; negative where they overlap.
    #[must_use]
    pub fn clear_of(&self, other: &Solid) -> (f64, f64) {
        let ((ax, ay), (bx, by)) = (self.stand.mm(), other.stand.mm());
        let plan = reckon::maths::hypot(ax - bx, ay - by)
            - f64::midpoint(self.diameter.bare().in_mm(), other.diameter.bare().in_mm());
        let ends = |s: &Solid| (s.span.from.bare().in_mm(), s.span.to.bare().in_mm());
        let ((af, at), (bf, bt)) = (ends(self), ends(other));
        (plan, (af - bt).max(bf - at))
    }
}
/// The layout.
#[derive(Clone, Debug)]
pub struct Layout {
    /// Where each arbor of the train stands.
    pub stands: Vec<Option<Stand>>,
    /// Where the wheel of each arbor lies.
    pub wheels: Vec<Option<Span>>,
    /// Where the pinion of each arbor lies.
    pub pinions: Vec<Option<Span>>,
    /// Where the escape wheel lies.
    pub escape: Option<Span>,
    /// Where the pallets lie.
    pub pallets: Option<Span>,
    /// The inner faces that each arbor runs between.
    pub bearings: Vec<Option<Span>>,
    /// Every body.
    pub solids: Vec<Solid>,
    /// Lower left corner of the plates.
    pub corner: Option<Stand>,
    /// Where the pillars stand.
    pub pillars: Vec<Stand>,
    /// Room under a bridge or cock.
    pub bridge_gap: Option<Val<Length>>,
    /// Bridges and cocks.
    pub bridges: Vec<super::bridges::Bridge>,
    /// Table of the gaps in the book.
    pub gaps: Option<Id>,
}

/// Lays the movement out. `anchor` is the distance of the pallets' arbor from the escape arbor.
pub(super) fn layout(
    t: &mut Train,
    stems: &[Stem],
    facts: &MovementFacts,
    anchor: Option<Val<Length>>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Layout {
    let mut stands = stands(t, anchor, book);
    super::replant::replant(t, &mut stands, book);
    super::pallets::replant(t, &mut stands, anchor, facts, book);
    let mut l = Layout {
        wheels: vec![None; t.arbors.len()],
        pinions: vec![None; t.arbors.len()],
        escape: None,
        pallets: None,
        bearings: vec![None; t.arbors.len()],
        solids: Vec::new(),
        corner: None,
        pillars: Vec::new(),
        bridge_gap: None,
        bridges: Vec::new(),
        gaps: None,
        stands,
    };
    let laid = distances(t, &l, book, troubles);
    for (mesh, laid) in t.meshes.iter_mut().zip(laid) {
        mesh.laid = laid;
    }
    let t = &*t;
    if let Some(p) = &facts.plates {
        plates(&mut l, p, book);
    }
    super::stack::stack(t, &mut l, stems, facts, book, troubles);
    if facts.plates.is_some() {
        bodies(t, &mut l, stems, facts, book);
        super::bridges::bridges(t, &mut l, facts, book, troubles);
        gaps(&mut l, t, facts, book, troubles);
        inside(&l, facts, troubles);
    }
    l
}

/// Where the arbors stand: as written, or by distance and direction from a neighbour.
fn stands(t: &Train, anchor: Option<Val<Length>>, book: &mut Book) -> Vec<Option<Stand>> {
    let mut all: Vec<Option<Stand>> =
        t.arbors.iter().map(|a| a.facts.spot.map(|(x, y)| Stand { x, y })).collect();
    if !all.iter().any(Option::is_some) {
        let Some(from) = t.minute.or(t.first).or((!t.arbors.is_empty()).then_some(0)) else { return all };
        let slug = &t.arbors[from].facts.slug;
        let why = "the middle of the dial is where measuring begins";
        let x = book.assumed(format_args!("{slug}.at.x"), Length::ZERO, why);
        let y = book.assumed(format_args!("{slug}.at.y"), Length::ZERO, why);
        all[from] = Some(Stand { x, y });
    }
    loop {
        let mut more = false;
        for i in 0..t.arbors.len() {
            let Some(m) = t.arbors[i].driven else { continue };
            let mesh = &t.meshes[m];
            let Some(centres) = mesh.sizes.as_ref().map(|s| s.centres) else { continue };
            let (known, wanted, back) = match (all[mesh.driver], all[i]) {
                (Some(k), None) => (k, i, false),
                (None, Some(k)) => (k, mesh.driver, true),
                _ => continue,
            };
            let slug = t.arbors[wanted].facts.slug.clone();
            let bearing = t.arbors[i].facts.bearing.unwrap_or_else(|| {
                book.assumed(
                    format_args!("{}.bearing", t.arbors[i].facts.slug),
                    Angle::deg(90.0),
                    "straight above the arbor that drives it, where nothing is written",
                )
            });
            all[wanted] = Some(beside(&slug, known, centres, bearing, back, book));
            more = true;
        }
        if !more {
            break;
        }
    }
    if let (Some(p), Some(e), Some(c)) = (t.pallets, t.escape, anchor)
        && all[p].is_none()
        && let Some(known) = all[e]
    {
        let slug = t.arbors[p].facts.slug.clone();
        let bearing = t.arbors[p].facts.bearing.unwrap_or_else(|| {
            book.assumed(
                format_args!("{slug}.bearing"),
                Angle::deg(90.0),
                "pallets stand straight above the escape wheel",
            )
        });
        all[p] = Some(beside(&slug, known, c, bearing, false, book));
    }
    all
}
fn beside(
    slug: &str,
    known: Stand,
    distance: Val<Length>,
    bearing: Val<Angle>,
    back: bool,
    book: &mut Book,
) -> Stand {
    let Stand { x, y } = known;
    if back {
        Stand {
            x: work!(
                book,
                format_args!("{slug}.at.x"),
                |x, distance, bearing| x - distance * bearing.cos(),
                &GEOMETRY
            ),
            y: work!(
                book,
                format_args!("{slug}.at.y"),
                |y, distance, bearing| y - distance * bearing.sin(),
                &GEOMETRY
            ),
        }
    } else {
        Stand {
            x: work!(
                book,
                format_args!("{slug}.at.x"),
                |x, distance, bearing| x + distance * bearing.cos(),
                &GEOMETRY
            ),
            y: work!(
                book,
                format_args!("{slug}.at.y"),
                |y, distance, bearing| y + distance * bearing.sin(),
                &GEOMETRY
            ),
        }
    }
}
fn apart(ax: Length, ay: Length, bx: Length, by: Length) -> Length {
    Length::si(reckon::maths::hypot(ax.value() - bx.value(), ay.value() - by.value()))
}
/// Distances of centres as laid out, held against what the teeth need.
fn distances(
    t: &Train,
    l: &Layout,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Option<Val<Length>>> {
    let mut all = vec![None; t.meshes.len()];
    for (i, a) in t.arbors.iter().enumerate() {
        for (k, b) in t.arbors.iter().enumerate().skip(i + 1) {
            let (Some(p), Some(q)) = (l.stands[i], l.stands[k]) else { continue };
            let ((px, py), (qx, qy)) = (p.mm(), q.mm());
            if reckon::maths::hypot(px - qx, py - qy) < ONE_PLACE && a.facts.runs == b.facts.runs {
                troubles.push(
                    Trouble::design(format!("'{}' and '{}' stand in one place", a.facts.name, b.facts.name))
                        .at(a.facts.spot_at.clone())
                        .at(b.facts.spot_at.clone())
                        .cure("move one of them by at least the sum of what turns on both"),
                );
            }
        }
    }
    for (n, m) in t.meshes.iter().enumerate() {
        let (Some(s), Some(d)) = (&m.sizes, m.driven) else { continue };
        let (Some(a), Some(b)) = (l.stands[m.driver], l.stands[d]) else { continue };
        let (ax, ay, bx, by) = (a.x, a.y, b.x, b.y);
        let laid = work!(
            book,
            format_args!("{}.centres_as_laid_out", m.slug),
            |ax, ay, bx, by| apart(ax, ay, bx, by),
            &GEOMETRY
        );
        all[n] = Some(laid);
        let (wanted, module) = (s.centres, s.module);
        let off =
            work!(book, format_args!("{}.depth_error", m.slug), |laid, wanted| laid - wanted, &GEOMETRY);
        // Counts that are told already to be wrong give no distance to hold it against.
        let known = !t.doubted.contains(&n);
        // Teeth that were measured are judged where they meet: no text is wrong then.
        let known = known && s.sits.is_none();
        if known && off.bare().abs() > module.bare() * super::contact::MISPLANTED {
            let (from, to) = (&t.arbors[m.driver].facts, &t.arbors[d].facts);
            let far = off.bare().in_mm();
            let (w, x, y) = (wanted.bare().in_mm(), ax.bare().in_mm(), ay.bare().in_mm());
            let (dx, dy) = (bx.bare().in_mm() - x, by.bare().in_mm() - y);
            let scale = w / reckon::maths::hypot(dx, dy).max(1e-9);
            let fixed = |v: f64| reckon::print::trimmed(&reckon::print::fixed(v, 3));
            troubles.push(
                Trouble::design(format!(
                    "'{}' and '{}' stand {} mm too {} for their teeth",
                    from.name,
                    to.name,
                    fixed(far.abs()),
                    if far > 0.0 { "far apart" } else { "near" }
                ))
                .at(to.spot_at.clone())
                .at(from.spot_at.clone())
                .why(format!(
                    "{} and {} of module {} want {} mm between centres, and {} mm are written",
                    m.teeth.shown(),
                    m.leaves.shown(),
                    module.shown(),
                    fixed(w),
                    fixed(laid.bare().in_mm())
                ))
                .cure(format!(
                    "at = [\"{} mm\", \"{} mm\"] for '{}'",
                    fixed(x + dx * scale),
                    fixed(y + dy * scale),
                    to.name
                ))
                .cure("leave `at` out and write a bearing: the distance then follows from the teeth"),
            );
        }
    }
    all
}
fn plates(l: &mut Layout, p: &record::facts::Plates, book: &mut Book) {
    l.pillars = p.pillars.iter().map(|(x, y)| Stand { x: *x, y: *y }).collect();
    let (width, height) = p.size;
    let corner = p.corner.map(|(x, y)| Stand { x, y });
    l.corner = Some(corner.unwrap_or_else(|| {
        let middle = |all: Vec<Val<Length>>, name: &str, book: &mut Book| {
            let (least, most) = all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                (a.min(v.bare().value()), b.max(v.bare().value()))
            });
            let mid = if all.is_empty() { 0.0 } else { f64::midpoint(least, most) };
            book.solved(
                format!("plates.middle.{name}"),
                Length::si(mid),
                ("half-way between the outermost pillars", 1, 0.0),
                all.iter().map(Val::id).collect(),
                &HOUSE,
            )
        };
        let mx = middle(l.pillars.iter().map(|s| s.x).collect(), "x", book);
        let my = middle(l.pillars.iter().map(|s| s.y).collect(), "y", book);
        Stand {
            x: work!(book, "plates.corner.x", |mx, width| mx - width / 2.0, &GEOMETRY),
            y: work!(book, "plates.corner.y", |my, height| my - height / 2.0, &GEOMETRY),
        }
    }));
}

/// All bodies, for the look at what would touch.
fn bodies(t: &Train, l: &mut Layout, stems: &[Stem], facts: &MovementFacts, book: &mut Book) {
    let Some(p) = &facts.plates else { return };
    let (gap, thick) = (p.gap, p.thickness);
    let zero =
        book.assumed("plates.inside", Length::ZERO, "heights are counted from the inside of the back plate");
    let front = work!(book, "plates.front_outside", |gap, thick| gap + thick, &GEOMETRY);
    let bridge =
        book.assumed("plates.bridge_gap", Length::mm(30.0), "house default: room under a bridge or cock");
    l.bridge_gap = Some(bridge);
    let before = work!(book, "plates.under_bridge", |front, bridge| front + bridge, &GEOMETRY);
    let back = work!(book, "plates.back_outside", |zero, thick| zero - thick, &GEOMETRY);
    let behind = work!(book, "plates.under_cock", |back, bridge| back - bridge, &GEOMETRY);
    let mut all = Vec::new();
    for (i, a) in t.arbors.iter().enumerate() {
        let Some(stand) = l.stands[i] else { continue };
        let slug = &a.facts.slug;
        let mut add = |kind, what: &str, slug: String, diameter, span| {
            all.push(Solid {
                name: format!("{what} '{}'", a.facts.name),
                slug,
                kind,
                arbor: Some(i),
                stand,
                diameter,
                span,
            });
        };
        if let (Some(span), Some(m)) = (l.wheels[i], a.drives.first())
            && let Some(s) = &t.meshes[*m].sizes
        {
            add(BodyKind::Wheel, "the wheel of", format!("{slug}.wheel"), s.wheel.outside, span);
        }
        if let (Some(span), Some(m)) = (l.pinions[i], a.driven)
            && let Some(s) = &t.meshes[m].sizes
        {
            add(BodyKind::Pinion, "the pinion of", format!("{slug}.pinion"), s.pinion.outside, span);
        }
        if let (Some(span), true, Some(e)) = (l.escape, t.escape == Some(i), &facts.escapement) {
            add(
                BodyKind::EscapeWheel,
                "the escape wheel on",
                "escapement.wheel".to_owned(),
                e.wheel_diameter,
                span,
            );
        }
        let mut span = match a.facts.runs {
            Runs::Between => Span { from: zero, to: gap },
            Runs::Front => Span { from: front, to: before },
            Runs::Behind => Span { from: behind, to: back },
        };
        // An arbor whose wheel lies outside the plates reaches out to a bridge or cock.
        if let (Some(e), true) = (l.escape, t.escape == Some(i)) {
            if e.to.bare() > span.to.bare() {
                span.to = before;
            }
            if e.from.bare() < span.from.bare() {
                span.from = behind;
            }
        }
        // The pallets' arbor passes through the back plate, to the crutch and the pendulum's cock.
        if t.pallets == Some(i) && facts.pendulum.is_some() && a.facts.runs == Runs::Between {
            span.from = behind;
        }
        l.bearings[i] = Some(span);
        add(BodyKind::Arbor, "the arbor", slug.clone(), stems[i].diameter, span);
    }
    if let Some(s) = facts.drive.as_ref().and_then(|d| d.spring.as_ref())
        && let Some((from, to)) = s.place
    {
        let arbor = t.first.filter(|_| s.spot.is_none());
        let stand = match s.spot {
            Some((x, y)) => Some(Stand { x, y }),
            None => t.first.and_then(|f| l.stands[f]),
        };
        if let Some(stand) = stand {
            all.push(Solid {
                name: "the barrel".to_owned(),
                slug: "drive.spring.barrel".to_owned(),
                kind: BodyKind::Barrel,
                arbor,
                stand,
                diameter: s.outside,
                span: Span { from, to },
            });
        }
    }
    for (n, stand) in l.pillars.iter().enumerate() {
        all.push(Solid {
            name: format!("pillar {}", n + 1),
            slug: format!("plates.pillar.{}", n + 1),
            kind: BodyKind::Pillar,
            arbor: None,
            stand: *stand,
            diameter: p.pillar_diameter,
            span: Span { from: zero, to: gap },
        });
    }
    l.solids = all;
}
/// Pairs farther apart than this, in millimetres, are not told.
const NEAR: f64 = 4.0;
/// Two bodies and what lies between them.
struct Gap {
    a: usize,
    b: usize,
    plan: f64,
    height: f64,
    least: f64,
}
/// Gaps in plan and in height of two bodies, millimetres.
pub(super) fn between(a: &Solid, b: &Solid) -> (f64, f64) {
    a.clear_of(b)
}
/// Least gap that two bodies need; none where they are meant to touch or belong together.
pub(super) fn needs(t: &Train, a: &Solid, b: &Solid) -> Option<f64> {
    use BodyKind as K;
    if a.arbor.is_some() && a.arbor == b.arbor {
        return None;
    }
    let meshing = |w: &Solid, p: &Solid| {
        w.kind == K::Wheel
            && p.kind == K::Pinion
            && t.meshes.iter().any(|m| Some(m.driver) == w.arbor && m.driven == p.arbor)
    };
    if meshing(a, b) || meshing(b, a) {
        return None;
    }
    let pair = (a.kind.min(b.kind), a.kind.max(b.kind));
    Some(match pair {
        (K::Pillar, K::Pillar) => return None,
        (_, K::Pillar) => 1.0,
        // Neighbours in mesh stand as near as their teeth let them.
        (K::Wheel, K::Arbor)
            if t.meshes.iter().any(|m| {
                let (w, p) = if a.kind == K::Wheel { (a, b) } else { (b, a) };
                Some(m.driver) == w.arbor && m.driven == p.arbor
            }) =>
        {
            0.1
        }
        (K::EscapeWheel, K::Arbor) | (K::Arbor, K::EscapeWheel)
            if t.pallets.is_some() && (a.arbor == t.pallets || b.arbor == t.pallets) =>
        {
            0.2
        }
        (K::Arbor, K::Arbor) => 0.5,
        _ => 0.5,
    })
}
fn gaps(l: &mut Layout, t: &Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let mut found: Vec<Gap> = Vec::new();
    for (i, a) in l.solids.iter().enumerate() {
        for (k, b) in l.solids.iter().enumerate().skip(i + 1) {
            let Some(least) = needs(t, a, b) else { continue };
            let (plan, height) = between(a, b);
            // What is far apart in plan or in height is nothing to tell.
            if plan.max(height) >= NEAR {
                continue;
            }
            found.push(Gap { a: i, b: k, plan, height, least });
        }
    }
    found.sort_by(|x, y| x.plan.max(x.height).total_cmp(&y.plan.max(y.height)));
    let rows = found.iter().map(|g| {
        let cell = |mm: f64| Cell::of(&Length::mm(mm));
        vec![
            Cell::word(l.solids[g.a].name.clone()),
            Cell::word(l.solids[g.b].name.clone()),
            cell(g.plan),
            cell(g.height),
            cell(g.least),
            Cell::word(match (g.plan >= g.least - 1e-6, g.height >= g.least - 1e-6) {
                (true, true) => "clear in both",
                (true, false) => "clear in plan",
                (false, true) => "clear in height",
                (false, false) => "touches",
            }),
        ]
    });
    let inputs: Vec<Id> = l
        .solids
        .iter()
        .flat_map(|s| [s.stand.x.id(), s.stand.y.id(), s.diameter.id(), s.span.from.id(), s.span.to.id()])
        .collect();
    let mut inputs = inputs;
    inputs.sort_unstable();
    inputs.dedup();
    l.gaps = Some(book.table(
        "plates.gaps",
        &["of", "and", "in plan by", "in height by", "least", "so"],
        rows.collect(),
        "pairs nearer than 3 mm: distance of centres less both radii; the gap between their heights; negative overlaps; clear where either is at least what is needed",
        inputs,
        &CLEARANCE,
    ));
    let touching: Vec<&Gap> = found.iter().filter(|g| g.plan.max(g.height) < g.least - 1e-6).collect();
    let whose = |g: &Gap| {
        let one = |i: usize| l.solids[i].arbor.map_or_else(|| Err(i), Ok);
        (one(g.a).min(one(g.b)), one(g.a).max(one(g.b)))
    };
    for (n, g) in touching.iter().enumerate() {
        // Two arbors too near to each other are told of once, by what overlaps most.
        if touching[..n].iter().any(|o| whose(o) == whose(g)) || planted_wrong(t, l, g) {
            continue;
        }
        let others = touching[n + 1..].iter().filter(|o| whose(o) == whose(g)).count();
        let (a, b) = (&l.solids[g.a], &l.solids[g.b]);
        troubles.push(clash(t, facts, a, b, g, others));
    }
}
/// Whether it is told already that the two arbors stand wrongly to each other.
fn planted_wrong(t: &Train, l: &Layout, g: &Gap) -> bool {
    let (Some(a), Some(b)) = (l.solids[g.a].arbor, l.solids[g.b].arbor) else { return false };
    let ((ax, ay), (bx, by)) = (l.solids[g.a].stand.mm(), l.solids[g.b].stand.mm());
    let apart = reckon::maths::hypot(ax - bx, ay - by);
    apart < ONE_PLACE
        || t.meshes.iter().enumerate().any(|(n, m)| {
            let pair = m.driven.is_some_and(|d| (m.driver, d) == (a, b) || (m.driver, d) == (b, a));
            let off = m.sizes.as_ref().is_some_and(|s| {
                (apart - s.centres.bare().in_mm()).abs()
                    > s.module.bare().in_mm() * super::contact::MISPLANTED
            });
            pair && (off || t.doubted.contains(&n))
        })
}
/// Axes nearer to each other than this stand in one place, millimetres.
const ONE_PLACE: f64 = 0.01;
fn clash(t: &Train, facts: &MovementFacts, a: &Solid, b: &Solid, g: &Gap, others: usize) -> Trouble {
    let mm = |v: f64| reckon::print::trimmed(&reckon::print::fixed(v, 2));
    let place = |s: &Solid| -> Option<Place> {
        match (s.arbor, s.kind) {
            (Some(i), _) => Some(t.arbors[i].facts.spot_at.clone()),
            (None, BodyKind::Barrel) => {
                facts.drive.as_ref().and_then(|d| d.spring.as_ref()).map(|s| s.at.clone())
            }
            (None, _) => facts.plates.as_ref().map(|p| p.at.clone()),
        }
    };
    let pillar = [a, b].iter().any(|s| s.kind == BodyKind::Pillar);
    let through = (a.kind == BodyKind::Arbor) != (b.kind == BodyKind::Arbor) && g.plan < 0.0;
    let says = if through {
        let (arbor, other) = if a.kind == BodyKind::Arbor { (a, b) } else { (b, a) };
        format!("{} would pass through {}", arbor.name, other.name)
    } else if g.plan < 0.0 {
        format!("{} and {} run into each other", a.name, b.name)
    } else {
        format!("{} and {} clear each other by only {} mm", a.name, b.name, mm(g.plan.max(g.height)))
    };
    let side = |gap: f64, how: &str| {
        if gap < 0.0 {
            format!("{how} they overlap by {} mm", mm(-gap))
        } else {
            format!("{how} {} mm lie between them", mm(gap))
        }
    };
    let more = match others {
        0 => String::new(),
        1 => "; one more body of the two touches".to_owned(),
        n => format!("; {n} more bodies of the two touch"),
    };
    Trouble::design(says)
        .at(place(a))
        .at(place(b))
        .why(format!(
            "{}, {}; {} mm are needed in one of the two{more}",
            side(g.plan, "in plan"),
            side(g.height, "in height"),
            mm(g.least)
        ))
        .cure(if pillar {
            "move the pillar, or make it thinner"
        } else {
            "move one along its arbor (`place`), or its arbor on the plates (`at`)"
        })
        .cure("a smaller module, or the wheel outside the plates under a bridge")
}
/// Whether everything stands on the plates.
fn inside(l: &Layout, facts: &MovementFacts, troubles: &mut Vec<Trouble>) {
    let (Some(p), Some(corner)) = (&facts.plates, l.corner) else { return };
    let ((x0, y0), edge) = (corner.mm(), 1.5);
    let (x1, y1) = (x0 + p.size.0.bare().in_mm(), y0 + p.size.1.bare().in_mm());
    let mm = |v: f64| reckon::print::trimmed(&reckon::print::fixed(v, 2));
    let mut over: Vec<&str> = Vec::new();
    // How far the plate would have to reach: left, right, down, up.
    let (mut left, mut right, mut down, mut up) = (x0, x1, y0, y1);
    for s in &l.solids {
        if !matches!(s.kind, BodyKind::Arbor | BodyKind::Pillar) {
            continue;
        }
        let (x, y) = s.stand.mm();
        let r = s.diameter.bare().in_mm() / 2.0 + edge;
        if (x - x0).min(x1 - x).min(y - y0).min(y1 - y) < r {
            over.push(&s.name);
        }
        (left, right, down, up) = (left.min(x - r), right.max(x + r), down.min(y - r), up.max(y + r));
    }
    let Some((last, rest)) = over.split_last() else { return };
    let names = if rest.is_empty() { (*last).to_owned() } else { format!("{} and {last}", rest.join(", ")) };
    let stands = if rest.is_empty() { "stands" } else { "stand" };
    let (w, h) = (round_up(right - left), round_up(up - down));
    let corner = format!(
        "size = [\"{} mm\", \"{} mm\"] and corner = [\"{} mm\", \"{} mm\"]",
        mm(w),
        mm(h),
        mm(left),
        mm(down)
    );
    troubles.push(
        Trouble::design(format!("the plates are too small: {names} {stands} over their edge or too near it"))
            .at(p.size_at.clone())
            .why(format!(
                "the plates reach from {} to {} mm across and from {} to {} mm up; {} mm of metal are wanted beside a hole",
                mm(x0),
                mm(x1),
                mm(y0),
                mm(y1),
                mm(edge)
            ))
            .cure(corner)
            .cure(format!("move {} inwards", if rest.is_empty() { names } else { "them".to_owned() })),
    );
}
/// Up to the next half millimetre.
fn round_up(mm: f64) -> f64 {
    (mm * 2.0 - 1e-6).ceil() / 2.0
}
