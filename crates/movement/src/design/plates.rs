//! The plates as decided: every hole with its size, and where it is from the corners and the centre.

use super::arbors::Stem;
use super::layout::{Layout, Stand};
use super::model::Train;
use super::{BarrelArbor, DialDesign, MotionDesign};
use reckon::source::{GEOMETRY, HOUSE, Source};
use reckon::{Angle, Book, Cell, Diameter, Id, Length, Place, Trouble, Val, work};
use record::facts::{MovementFacts, Plates, Runs, Size};

/// Holes by their use.
pub static HOLES: Source = Source::practice(
    "pivot holes broached +0.01/0 mm; holes for spigots reamed +0.012/0; an arbor that passes through has half a millimetre all round",
);

/// What a hole is for.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum HoleUse {
    /// A pivot runs in it.
    Pivot,
    /// An arbor passes through it.
    Passage,
    /// A pillar's spigot stands in it.
    Pillar,
    /// A post of a bridge or cock stands in it.
    Post,
    /// A stud stands in it.
    Stud,
    /// A foot of the dial goes through it.
    DialFoot,
}
impl HoleUse {
    /// In words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            HoleUse::Pivot => "pivot",
            HoleUse::Passage => "passes through",
            HoleUse::Pillar => "spigot of a pillar",
            HoleUse::Post => "spigot of a post",
            HoleUse::Stud => "stud",
            HoleUse::DialFoot => "foot of the dial",
        }
    }
}
/// A hole in one plate or both.
#[derive(Clone, Debug)]
pub struct PlateHole {
    /// Name in the table and on the drawing.
    pub label: String,
    /// Dotted prefix in the book.
    pub slug: String,
    /// What it is for.
    pub of: HoleUse,
    /// Where it stands, from the dial's centre.
    pub stand: Stand,
    /// Its size.
    pub size: Size<Diameter>,
    /// Oil sink on the outer face: full angle and diameter.
    pub sink: Option<(Val<Angle>, Val<Diameter>)>,
    /// Whether it is in the back plate.
    pub back: bool,
    /// Whether it is in the front plate.
    pub front: bool,
    /// Where what it follows from is written.
    pub at: Place,
    /// From the lower left corner, seen from the dial.
    pub corner: (Val<Length>, Val<Length>),
    /// From the corner that is left and lower when the plate lies on its right side: along, up.
    pub lying: (Val<Length>, Val<Length>),
    /// From the dial's centre: distance, and direction from the right, anticlockwise.
    pub polar: (Val<Length>, Val<Angle>),
}
impl PlateHole {
    /// "both", "back" or "front".
    #[must_use]
    pub const fn plates(&self) -> &'static str {
        match (self.back, self.front) {
            (true, true) => "both",
            (true, false) => "back",
            _ => "front",
        }
    }
}
/// Two holes and what is measured over plugs in them.
#[derive(Clone, Debug)]
pub struct PlugCheck {
    /// Numbers of the holes.
    pub holes: (usize, usize),
    /// Between their centres.
    pub centres: Val<Length>,
    /// Over plugs that just enter both.
    pub over: Val<Length>,
}
/// Something that stands in the front plate by a foot of its own: the minute wheel's stud, a dial's foot.
#[derive(Clone, Debug)]
pub struct PlateStud {
    /// Name in the table and on the drawing.
    pub label: String,
    /// Last part of its dotted name.
    pub slug: String,
    /// What it is.
    pub of: HoleUse,
    /// Where it stands.
    pub stand: Stand,
    /// Diameter of what stands in the plate.
    pub diameter: Val<Diameter>,
    /// Where it is written.
    pub at: Place,
}
/// The plates as decided.
#[derive(Clone, Debug)]
pub struct PlatesDesign {
    /// Lower left corner, seen from the dial.
    pub corner: Stand,
    /// Holes.
    pub holes: Vec<PlateHole>,
    /// Distances to measure.
    pub checks: Vec<PlugCheck>,
    /// Rectangular table in the book, standing and lying.
    pub table: Id,
    /// Polar table.
    pub polar: Id,
    /// Table of the distances.
    pub distances: Id,
}

/// What stands in the front plate before it: the minute wheel's stud and the dial's feet.
pub(super) fn studs(
    facts: &MovementFacts,
    motion: Option<&MotionDesign>,
    dial: Option<&DialDesign>,
    book: &mut Book,
) -> Vec<PlateStud> {
    let mut all = Vec::new();
    if let (Some(m), Some(mw)) = (motion, &facts.motion_work)
        && let Some(stand) = m.stud
    {
        let stud = m.pipes.stud;
        let foot = work!(book, "plates.hole.minute_stud.foot", |stud| stud + Length::mm(0.5), &HOUSE);
        all.push(PlateStud {
            label: "minute stud".to_owned(),
            slug: "minute_stud".to_owned(),
            of: HoleUse::Stud,
            stand,
            diameter: foot,
            at: mw.at.clone(),
        });
    }
    if let (Some(d), Some(written)) = (dial, &facts.dial) {
        all.extend(d.feet.iter().enumerate().map(|(n, stand)| PlateStud {
            label: format!("dial foot {}", n + 1),
            slug: format!("dial_foot_{}", n + 1),
            of: HoleUse::DialFoot,
            stand: *stand,
            diameter: d.tail,
            at: written.at.clone(),
        }));
    }
    all
}
/// What stands on the plates beside the arbors of the train.
pub(super) struct On<'a> {
    pub studs: &'a [PlateStud],
    pub barrel_arbor: Option<BarrelArbor>,
}

/// Decides on the plates; none where none are written.
pub(super) fn plates(
    t: &Train,
    stems: &[Stem],
    l: &Layout,
    on: &On<'_>,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<PlatesDesign> {
    let (p, corner) = (facts.plates.as_ref()?, l.corner?);
    let mut c = Carver { p, corner, book, holes: Vec::new() };
    for (i, stem) in stems.iter().enumerate() {
        arbor(&mut c, t, stem, l, i);
    }
    for (n, stand) in l.pillars.iter().enumerate() {
        let slug = format!("plates.hole.pillar_{}", n + 1);
        let size = sized(p.pillar_spigot, &slug, 0.012, 0.0, c.book);
        c.hole(&format!("pillar {}", n + 1), &slug, HoleUse::Pillar, *stand, size, (true, true), &p.at);
    }
    for b in &l.bridges {
        for (n, stand) in b.posts.iter().enumerate() {
            let slug = format!("plates.hole.{}_post_{}", b.slug.replace('.', "_"), n + 1);
            let size = sized(b.spigot, &slug, 0.012, 0.0, c.book);
            let label = format!("{} {}", b.name.replace('\'', ""), n + 1);
            c.hole(&label, &slug, HoleUse::Post, *stand, size, (!b.front, b.front), &p.at);
        }
    }
    let spring = facts.drive.as_ref().and_then(|d| d.spring.as_ref());
    if let Some((BarrelArbor { pivot, .. }, s, (x, y))) =
        on.barrel_arbor.and_then(|a| spring.and_then(|s| Some((a, s, s.spot?))))
    {
        let slug = "plates.hole.barrel";
        let hole = work!(c.book, format_args!("{slug}.size"), |pivot| pivot + Length::mm(0.04), &HOUSE);
        let size = sized(hole, slug, 0.01, 0.0, c.book);
        c.hole("barrel", slug, HoleUse::Pivot, Stand { x, y }, size, (true, true), &s.at);
    }
    for s in on.studs {
        let slug = format!("plates.hole.{}", s.slug);
        // A stud is driven in; a foot's tail goes through.
        // What is pressed in asks for a closer hole than a pivot.
        let upper = if s.of == HoleUse::DialFoot { 0.1 } else { 0.004 };
        let size = sized(s.diameter, &slug, upper, 0.0, c.book);
        c.hole(&s.label, &slug, s.of, s.stand, size, (false, true), &s.at);
    }
    let holes = c.holes;
    overlap(&holes, p, troubles);
    let table = table(&holes, book);
    let polar = polar(&holes, book);
    let checks = checks(t, &holes, book);
    let distances = distances(&holes, &checks, book);
    Some(PlatesDesign { corner, holes, checks, table, polar, distances })
}
/// Cuts holes, and writes where they are.
struct Carver<'a> {
    p: &'a Plates,
    corner: Stand,
    book: &'a mut Book,
    holes: Vec<PlateHole>,
}
impl Carver<'_> {
    #[expect(clippy::too_many_arguments, reason = "what a hole is, one thing each")]
    fn hole(
        &mut self,
        label: &str,
        slug: &str,
        of: HoleUse,
        stand: Stand,
        size: Size<Diameter>,
        (back, front): (bool, bool),
        at: &Place,
    ) {
        let (book, width) = (&mut *self.book, self.p.size.0);
        let Stand { x, y } = stand;
        let Stand { x: x0, y: y0 } = self.corner;
        let dx = work!(book, format_args!("{slug}.x"), |x, x0| x - x0, &GEOMETRY);
        let dy = work!(book, format_args!("{slug}.y"), |y, y0| y - y0, &GEOMETRY);
        let along = work!(book, format_args!("{slug}.lying.x"), |dy| dy, &GEOMETRY);
        let up = work!(book, format_args!("{slug}.lying.y"), |width, dx| width - dx, &GEOMETRY);
        let radius = work!(book, format_args!("{slug}.radius"), |x, y| reach(x, y), &GEOMETRY);
        let angle = work!(book, format_args!("{slug}.direction"), |x, y| direction(x, y), &GEOMETRY);
        let sink = (of == HoleUse::Pivot).then(|| {
            let wide = book.assumed(
                format_args!("{slug}.sink_wider"),
                Length::mm(1.2),
                "house default: an oil sink is this much wider than its hole",
            );
            let angle = book.assumed(
                format_args!("{slug}.sink_angle"),
                Angle::deg(90.0),
                "house default: oil sinks are turned with a 90 degree countersink",
            );
            let d = size.nominal;
            let across = work!(book, format_args!("{slug}.sink"), |d, wide| d + wide, &HOUSE);
            (angle, across)
        });
        self.holes.push(PlateHole {
            label: label.to_owned(),
            slug: slug.to_owned(),
            of,
            stand,
            size,
            sink,
            back,
            front,
            at: at.clone(),
            corner: (dx, dy),
            lying: (along, up),
            polar: (radius, angle),
        });
    }
}
/// Distance from the dial's centre.
fn reach(x: Length, y: Length) -> Length {
    Length::si(reckon::maths::hypot(x.value(), y.value()))
}
/// Direction from the dial's centre, from nought to a whole turn.
fn direction(x: Length, y: Length) -> Angle {
    let a = reckon::maths::atan2(y.value(), x.value());
    Angle::si(if a < 0.0 { a + 2.0 * reckon::maths::PI } else { a })
}
/// A size with limits by use.
pub(super) fn sized(
    nominal: Val<Diameter>,
    slug: &str,
    upper: f64,
    lower: f64,
    book: &mut Book,
) -> Size<Diameter> {
    let mut limit = |which: &str, mm: f64| {
        book.tabled(format_args!("{slug}.{which}"), Length::mm(mm), "limits by use", &HOLES)
    };
    let (upper, lower) = (limit("upper", upper), limit("lower", lower));
    Size { nominal, upper, lower }
}
/// Holes of an arbor: a pivot in each plate that it runs in, room where it passes through.
fn arbor(c: &mut Carver<'_>, t: &Train, stem: &Stem, l: &Layout, i: usize) {
    let a = &t.arbors[i];
    let (Some(stand), Some(span)) = (l.stands[i], l.bearings[i]) else { return };
    let (gap, thick) = (c.p.gap.bare().in_mm(), c.p.thickness.bare().in_mm());
    let (from, to) = (span.from.bare().in_mm(), span.to.bare().in_mm());
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let pivot = (near(from, 0.0) || near(to, -thick), near(to, gap) || near(from, gap + thick));
    let passes = (from < -thick && to > 0.0, from < gap && to > gap + thick);
    let (slug, name) = (format!("plates.hole.{}", a.facts.slug), &a.facts.name);
    let at = if a.facts.runs == Runs::Between { &a.facts.spot_at } else { &a.facts.at };
    if pivot.0 || pivot.1 {
        let size = sized(stem.hole, &slug, 0.01, 0.0, c.book);
        c.hole(name, &slug, HoleUse::Pivot, stand, size, pivot, at);
    }
    if passes.0 || passes.1 {
        let slug = format!("{slug}.passage");
        let room = c.book.assumed(
            format_args!("{slug}.room"),
            Length::mm(1.0),
            "house default: half a millimetre all round",
        );
        let d = stem.diameter;
        // Its pinion has to go in through the hole, where the wheel is fixed on the other side of it.
        let size = match a.driven.and_then(|m| t.meshes[m].sizes.as_ref()) {
            Some(s) => {
                let tip = s.pinion.outside;
                work!(c.book, format_args!("{slug}.size"), |d, tip, room| whole(d.max(tip) + room), &HOLES)
            }
            None => work!(c.book, format_args!("{slug}.size"), |d, room| whole(d + room), &HOLES),
        };
        let size = sized(size, &slug, 0.2, 0.0, c.book);
        c.hole(&format!("{name} (through)"), &slug, HoleUse::Passage, stand, size, passes, at);
    }
}
/// The next whole millimetre, for which there is a drill.
fn whole(d: Diameter) -> Diameter {
    Diameter::mm((d.in_mm() - 1e-9).ceil())
}
/// Holes that run into each other.
fn overlap(holes: &[PlateHole], p: &Plates, troubles: &mut Vec<Trouble>) {
    for (n, a) in holes.iter().enumerate() {
        for b in holes.iter().skip(n + 1) {
            if !(a.back && b.back || a.front && b.front) {
                continue;
            }
            let (dx, dy) = (
                a.stand.x.bare().in_mm() - b.stand.x.bare().in_mm(),
                a.stand.y.bare().in_mm() - b.stand.y.bare().in_mm(),
            );
            let apart = reckon::maths::hypot(dx, dy);
            let metal = apart - f64::midpoint(a.size.nominal.bare().in_mm(), b.size.nominal.bare().in_mm());
            // Two arbors in one place are told where they are laid out.
            if metal < 1.0 && apart >= 0.01 {
                troubles.push(
                    Trouble::design(format!(
                        "between the holes of '{}' and '{}' only {} mm of plate are left",
                        a.label,
                        b.label,
                        reckon::print::trimmed(&reckon::print::fixed(metal.max(0.0), 2))
                    ))
                    .at(a.at.clone())
                    .at(b.at.clone())
                    .at(p.at.clone())
                    .why("a millimetre of metal is wanted between two holes")
                    .cure("move a pillar or an arbor, or make the pillars' spigots thinner"),
                );
            }
        }
    }
}
fn table(holes: &[PlateHole], book: &mut Book) -> Id {
    let rows = holes
        .iter()
        .map(|h| {
            vec![
                Cell::word(h.label.clone()),
                Cell::word(h.plates()),
                Cell::of(&h.corner.0.bare()),
                Cell::of(&h.corner.1.bare()),
                Cell::of(&h.lying.0.bare()),
                Cell::of(&h.lying.1.bare()),
                Cell::of(&h.size.nominal.bare()),
                Cell::word(h.of.word()),
            ]
        })
        .collect();
    let inputs = holes.iter().flat_map(|h| [h.corner.0.id(), h.corner.1.id(), h.size.nominal.id()]).collect();
    book.table(
        "plates.holes",
        &["hole", "plates", "x", "y", "x lying", "y lying", "size", "for"],
        rows,
        "seen from the dial: x and y from the lower left corner; lying on its right side the lower right corner comes to the left below",
        inputs,
        &GEOMETRY,
    )
}
fn polar(holes: &[PlateHole], book: &mut Book) -> Id {
    let rows = holes
        .iter()
        .map(|h| vec![Cell::word(h.label.clone()), Cell::of(&h.polar.0.bare()), Cell::of(&h.polar.1.bare())])
        .collect();
    let inputs = holes.iter().flat_map(|h| [h.polar.0.id(), h.polar.1.id()]).collect();
    book.table(
        "plates.holes.polar",
        &["hole", "radius", "direction"],
        rows,
        "from the dial's centre, the direction anticlockwise from the right",
        inputs,
        &GEOMETRY,
    )
}
/// Pairs in mesh, the pallets, and the pillars against the centre.
fn checks(t: &Train, holes: &[PlateHole], book: &mut Book) -> Vec<PlugCheck> {
    let of = |arbor: usize| {
        let slug = format!("plates.hole.{}", t.arbors[arbor].facts.slug);
        holes
            .iter()
            .position(|h| h.slug == slug)
            .or_else(|| holes.iter().position(|h| h.slug.starts_with(&format!("{slug}."))))
    };
    let mut pairs: Vec<(usize, usize)> =
        t.meshes.iter().filter_map(|m| of(m.driver).zip(m.driven.and_then(of))).collect();
    pairs.extend(t.escape.and_then(of).zip(t.pallets.and_then(of)));
    let pillars: Vec<usize> = (0..holes.len()).filter(|n| holes[*n].of == HoleUse::Pillar).collect();
    for (n, a) in pillars.iter().enumerate() {
        pairs.extend(pillars.iter().skip(n + 1).map(|b| (*a, *b)));
    }
    let last = |h: &PlateHole| h.slug.strip_prefix("plates.hole.").unwrap_or(&h.slug).replace('.', "_");
    pairs
        .into_iter()
        .filter(|(a, b)| a != b)
        .map(|(a, b)| {
            let (h, k) = (&holes[a], &holes[b]);
            let slug = format!("plates.distance.{}.{}", last(h), last(k));
            let (ax, ay, bx, by) = (h.stand.x, h.stand.y, k.stand.x, k.stand.y);
            let centres = work!(book, slug.clone(), |ax, ay, bx, by| reach(ax - bx, ay - by), &GEOMETRY);
            let (one, other) = (h.size.nominal, k.size.nominal);
            let over = work!(
                book,
                format_args!("{slug}.over_plugs"),
                |centres, one, other| centres + (one.across() + other.across()) / 2.0,
                &GEOMETRY
            );
            PlugCheck { holes: (a, b), centres, over }
        })
        .collect()
}
fn distances(holes: &[PlateHole], checks: &[PlugCheck], book: &mut Book) -> Id {
    let rows = checks
        .iter()
        .map(|c| {
            let (a, b) = (&holes[c.holes.0], &holes[c.holes.1]);
            vec![
                Cell::word(a.label.clone()),
                Cell::word(b.label.clone()),
                Cell::of(&c.centres.bare()),
                Cell::of(&a.size.nominal.bare()),
                Cell::of(&b.size.nominal.bare()),
                Cell::of(&c.over.bare()),
            ]
        })
        .collect();
    let inputs = checks.iter().flat_map(|c| [c.centres.id(), c.over.id()]).collect();
    book.table(
        "plates.distances",
        &["from", "to", "centres", "plug", "plug", "over both plugs"],
        rows,
        "distance of the centres and half of both plugs",
        inputs,
        &GEOMETRY,
    )
}
