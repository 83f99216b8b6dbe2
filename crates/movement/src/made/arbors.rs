//! Arbors with their pivots and the pinions cut in them, and the collets that carry wheels.

use super::common::{About, LIMITS, house, long, sized};
use crate::design::Movement;
use crate::design::layout::Span;
use crate::hardware::builder::{Builder, Edges};
use crate::part::{AxisHole, Figure, Flats, Part, Told, Toothing, TurnedBody};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Finish, MovementFacts, Runs};
use shape::turned::{End, Feature};

/// Places along an arbor's axis from the back plate's inside.
struct Axis<'a> {
    book: &'a mut Book,
    slug: String,
    steps: u32,
}
impl Axis<'_> {
    /// A length between two heights.
    fn between(&mut self, from: Val<Length>, to: Val<Length>) -> Val<Length> {
        self.steps += 1;
        work!(self.book, format_args!("{}.length.{}", self.slug, self.steps), |to, from| to - from, &GEOMETRY)
    }
}

/// All arbors and collets.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let mut all = Vec::new();
    for i in 0..m.train.arbors.len() {
        if let Some(part) = arbor(m, i, facts, book) {
            all.push(part);
        }
        all.extend(collet(m, i, facts, book));
    }
    all
}
/// Where the shoulders of an arbor stand: nearer the back plate, nearer the dial.
fn shoulders(m: &Movement, i: usize, book: &mut Book) -> Option<(Val<Length>, Val<Length>)> {
    let a = &m.train.arbors[i].facts;
    let shake = m.stems[i].endshake;
    let Span { from, to } = m.layout.bearings.get(i).copied().flatten()?;
    let slug = &a.slug;
    let back = work!(book, format_args!("{slug}.shoulder.back"), |from, shake| from + shake / 2.0, &HOUSE);
    let front = work!(book, format_args!("{slug}.shoulder.front"), |to, shake| to - shake / 2.0, &HOUSE);
    Some((back, front))
}
fn arbor(m: &Movement, i: usize, facts: &MovementFacts, book: &mut Book) -> Option<Part> {
    let p = facts.plates.as_ref()?;
    let (back, front) = shoulders(m, i, book)?;
    let a = &m.train.arbors[i];
    let slug = a.facts.slug.clone();
    let stem = &m.stems[i];
    let thick = p.thickness;
    let over = house(
        &format!("{slug}.pivot_over"),
        0.2,
        "a pivot stands a little out of its plate, to be rounded",
        book,
    );
    let pivot_length = work!(book, format_args!("{slug}.pivot_length"), |thick, over| thick + over, &HOUSE);
    let pivot = sized(stem.pivot, &format!("{slug}.pivot"), 0.0, -0.005, book);
    let body = sized(stem.diameter, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let mut axis = Axis { book, slug: slug.clone(), steps: 0 };
    // Stretches between the shoulders: metal, pinion, metal.
    let pinion = m.layout.pinions[i]
        .zip(a.driven.and_then(|n| m.train.meshes[n].sizes.as_ref()).filter(|s| !s.lantern));
    let mut stretches: Vec<(String, Val<Length>, bool)> = Vec::new();
    match &pinion {
        Some((span, _)) => {
            if span.from.bare() - back.bare() > Length::mm(0.02) {
                stretches.push(("body".to_owned(), axis.between(back, span.from), false));
            }
            stretches.push(("pinion".to_owned(), axis.between(span.from, span.to), true));
            if front.bare() - span.to.bare() > Length::mm(0.02) {
                stretches.push(("body".to_owned(), axis.between(span.to, front), false));
            }
        }
        None => stretches.push(("body".to_owned(), axis.between(back, front), false)),
    }
    let length_name = format!("{slug}.between_shoulders");
    let between = work!(book, length_name.clone(), |front, back| front - back, &GEOMETRY);
    if let Some(span) = m.layout.bearings.get(i).copied().flatten() {
        crate::design::as_made::endshake(
            &slug,
            &a.facts.name,
            (span.from, span.to),
            between,
            stem.endshake,
            book,
        );
    }
    let between = long(between, &length_name, 0.0, -0.02, book);
    let tip = pinion.as_ref().map(|(_, s)| {
        let name = s_slug(a).unwrap_or_else(|| slug.clone());
        sized(s.pinion.outside, &format!("{name}.blank"), 0.0, -0.02, book)
    });
    let reach = reach(m, i, facts, book);
    let mut b = Builder::new(book, &slug);
    let (p0, p1) = b.step("back pivot", pivot_length, pivot, Edges::default());
    b.tell_across(&p0, &p1, Figure::diameter(&pivot));
    let mut leaves = Vec::new();
    let mut begin = None;
    let mut end = p1;
    for (what, length, toothed) in stretches {
        let size = if toothed { tip.unwrap_or(body) } else { body };
        let (z0, z1) = b.step(&what, length, size, Edges::default());
        begin = begin.or(Some(z0));
        end = z1;
        b.tell_along(&z0, &z1, Figure::plain(&length));
        if let (true, Some((_, s))) = (toothed, &pinion) {
            b.tell_across(&z0, &z1, Figure::diameter(&size));
            leaves.push((z0, z1, (*s).clone()));
        }
    }
    b.tell_across(&p1, &end, Figure::diameter(&body));
    if let Some(begin) = begin {
        b.tell_along(&begin, &end, Figure::length(&between));
    }
    let (q0, q1) = b.step("front pivot", pivot_length, pivot, Edges::default());
    b.tell_across(&q0, &q1, Figure::diameter(&pivot));
    if let Some(r) = &reach {
        let (z0, z1) = b.step(&r.what, r.length, r.size, Edges::default());
        b.tell_across(&z0, &z1, Figure::diameter(&r.size));
        b.tell_along(&z0, &z1, Figure::plain(&r.length));
        if let Some(across) = r.square {
            b.flats(Flats { from: z0, to: z1, across, count: 4 });
        }
    }
    let mut done = b.finish((between.upper, between.lower));
    for (z0, z1, s) in leaves {
        let name = s_slug(a).unwrap_or_else(|| slug.clone());
        toothed(&mut done, (z0, z1), &s, &name, a.facts.pinion.as_ref().map(|p| p.leaves));
    }
    let finish: &[Finish] = &[Finish::Harden, Finish::Temper, Finish::Polish];
    let about = About {
        name: format!("{} arbor", a.facts.name),
        slug,
        at: &a.facts.at,
        material: a.facts.material,
        finish,
        count: 1,
        note: None,
    };
    Some(about.turned("arbor", done, book))
}
/// Dotted name of an arbor's pinion.
fn s_slug(a: &crate::design::TrainArbor) -> Option<String> {
    a.facts.pinion.as_ref().map(|p| p.slug.clone())
}
/// Cuts leaves into a finished body.
fn toothed(
    body: &mut TurnedBody,
    along: (Val<Length>, Val<Length>),
    s: &crate::design::MeshSizes,
    slug: &str,
    count: Option<Val<reckon::Count>>,
) {
    body.solid = body.solid.clone().with(Feature::Leaves {
        from: along.0.bare().in_mm(),
        to: along.1.bare().in_mm(),
        section: s.pinion.outline.clone(),
        root: s.pinion.root.bare().in_mm() / 2.0,
    });
    let count = count.unwrap_or(s.pinion.count);
    let middle = f64::midpoint(along.0.bare().in_mm(), along.1.bare().in_mm());
    let text = format!("{} leaves, module {}", count.bare().0, s.module.shown());
    body.told.push(Told::Note { z: middle, r: s.pinion.outside.bare().in_mm() / 2.0, text });
    body.leaves.push(Toothing {
        what: "leaves".to_owned(),
        slug: slug.to_owned(),
        count,
        module: Some(s.module),
        outside: s.pinion.outside,
        root: s.pinion.root,
        depth: s.pinion.depth,
        form: crate::design::top_word(s.top).to_owned(),
        along: Some(along),
    });
}
/// What reaches out in front of the front pivot: for a hand, a key.
struct Reach {
    what: String,
    length: Val<Length>,
    size: record::facts::Size<Diameter>,
    square: Option<Val<Length>>,
}
fn reach(m: &Movement, i: usize, facts: &MovementFacts, book: &mut Book) -> Option<Reach> {
    let a = &m.train.arbors[i].facts;
    let slug = &a.slug;
    let pivot = m.stems[i].pivot;
    if a.runs != Runs::Between {
        return None;
    }
    if m.train.minute == Some(i) && facts.motion_work.is_some() {
        let length = match &m.motion {
            Some(d) => d.heights.reach,
            None => house(&format!("{slug}.reach"), 22.0, "from the front plate to the minute hand", book),
        };
        let size = work!(book, format_args!("{slug}.reach_diameter"), |pivot| pivot * 0.9, &HOUSE);
        let size = sized(size, &format!("{slug}.reach_diameter"), -0.004, -0.012, book);
        return Some(Reach { what: "seat of the cannon".to_owned(), length, size, square: None });
    }
    let seconds =
        facts.wanted.as_ref().and_then(|w| w.seconds_hand.as_ref()).and_then(|n| m.train.named(&n.name));
    if seconds == Some(i) {
        let length = match m.motion.as_ref().and_then(|d| d.heights.seconds_reach) {
            Some(reach) => reach,
            None => house(&format!("{slug}.reach"), 16.0, "from the front plate to the seconds hand", book),
        };
        let size = work!(book, format_args!("{slug}.reach_diameter"), |pivot| pivot * 0.85, &HOUSE);
        let size = sized(size, &format!("{slug}.reach_diameter"), 0.0, -0.01, book);
        return Some(Reach { what: "seat of the seconds hand".to_owned(), length, size, square: None });
    }
    let drive = facts.drive.as_ref()?;
    if m.train.first == Some(i) {
        let square = drive.square;
        let length = house(&format!("{slug}.square_length"), 12.0, "what a key takes hold of", book);
        let size = work!(
            book,
            format_args!("{slug}.square_diameter"),
            |square, pivot| (square * 1.3).as_diameter().min(pivot * 0.98),
            &LIMITS
        );
        let across = work!(book, format_args!("{slug}.square_across"), |size| size.across() / 1.3, &LIMITS);
        let size = sized(size, &format!("{slug}.square_diameter"), 0.0, -0.05, book);
        return Some(Reach { what: "winding square".to_owned(), length, size, square: Some(across) });
    }
    None
}
/// The collet of an arbor's wheel.
fn collet(m: &Movement, i: usize, facts: &MovementFacts, book: &mut Book) -> Option<Part> {
    let a = &m.train.arbors[i];
    let slug = format!("{}.collet", a.facts.slug);
    facts.plates.as_ref()?;
    let escape = m.train.escape == Some(i) && facts.escapement.is_some();
    let barrel = facts.drive.as_ref().and_then(|d| d.spring.as_ref()).is_some()
        && m.train.first == Some(i)
        && facts.drive.as_ref().is_some_and(|d| d.fusee.is_none());
    // A barrel carries its own wheel.
    if barrel || !(escape || a.facts.wheel.is_some()) {
        return None;
    }
    let seat = m.seats.get(&i).copied()?;
    let thick = m.thicknesses.get(&i)?.nominal;
    let stem = m.stems[i].diameter;
    let rivet = house(&format!("{slug}.rivet"), 0.3, "metal to rivet over the wheel", book);
    let seat_length = work!(book, format_args!("{slug}.seat_length"), |thick, rivet| thick + rivet, &HOUSE);
    let flange = house(&format!("{slug}.flange"), 2.5, "thickness behind the wheel", book);
    let wide = house(&format!("{slug}.shoulder"), 3.0, "the flange is this much wider than the seat", book);
    let across = work!(book, format_args!("{slug}.diameter"), |seat, wide| seat + wide, &HOUSE);
    let across = sized(across, &format!("{slug}.diameter"), 0.0, -0.1, book);
    let seat = sized(seat, &format!("{slug}.seat"), 0.0, -0.009, book);
    let bore = sized(stem, &format!("{slug}.bore_for"), 0.012, 0.0, book);
    let whole =
        work!(book, format_args!("{slug}.length"), |seat_length, flange| seat_length + flange, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.1, -0.1, book);
    let body = {
        let mut b = Builder::new(book, &slug);
        let start = b.here();
        let (s0, s1) = b.step("seat", seat_length, seat, Edges::default());
        b.tell_across(&s0, &s1, Figure::diameter(&seat));
        b.tell_along(&s0, &s1, Figure::plain(&seat_length));
        let (f0, f1) = b.step("flange", flange, across, Edges::default());
        b.tell_across(&f0, &f1, Figure::diameter(&across));
        b.tell_along(&start, &f1, Figure::length(&whole));
        b.hole(AxisHole {
            what: "bore".to_owned(),
            slug: "bore".to_owned(),
            end: End::Datum,
            size: bore,
            depth: None,
            thread: None,
            sink: false,
        });
        let middle = f1.bare().in_mm() / 2.0;
        b.tell(Told::Across { at: middle, inside: true, figure: Figure::diameter(&bore) });
        b.finish((whole.upper, whole.lower))
    };
    let material = tables::material::find("brass CZ121").ok()?;
    let about = About {
        name: format!("{} collet", a.facts.name),
        slug,
        at: &a.facts.at,
        material,
        finish: &[],
        count: 1,
        note: Some("soldered or bonded to its arbor, the wheel riveted on".to_owned()),
    };
    Some(about.turned("collet", body, book))
}
