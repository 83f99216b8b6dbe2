//! The dial, its feet and their pins, and cams of indications.

use super::super::common::{About, house, house_across, long, round_extent, sized};
use crate::design::Movement;
use crate::design::dial::DialDesign;
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, FlatBody, FlatNote, Part};
use kurbo::Point;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Length, work};
use record::facts::{Hole, MovementFacts};
use shape::flat::Flat;
use shape::profile::Profile;

/// Dial, feet and pins.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let (Some(d), Some(wanted)) = (&m.dial, &facts.dial) else { return Vec::new() };
    let mut all = vec![dial(d, &wanted.at, book)];
    if !d.feet.is_empty() {
        all.extend(foot(d, facts, &wanted.at, book));
        all.extend(pin(d, &wanted.at, book));
    }
    all
}
fn dial(d: &DialDesign, at: &reckon::Place, book: &mut Book) -> Part {
    let slug = "dial";
    let thickness = long(d.thickness, "dial.thickness", 0.05, -0.05, book);
    let r = d.outside.bare().in_mm() / 2.0;
    let outside = sized(d.outside, "dial.outside", 0.0, -0.1, book);
    let mut solid = Flat::new(Profile::circle(Point::ORIGIN, r), thickness.nominal.bare().in_mm());
    let mut holes = Vec::new();
    for (h, label) in d.holes.iter().zip('A'..) {
        let size = sized(h.diameter, &format!("{}.diameter", h.slug), 0.1, 0.0, book);
        let (x, y) = (h.at.x.bare().in_mm(), h.at.y.bare().in_mm());
        solid = solid.hole(x, y, h.diameter.bare().in_mm(), &label.to_string());
        holes.push(Hole {
            label: label.to_string(),
            centre: (h.at.x, h.at.y),
            diameter: size,
            thread: None,
            countersink: None,
            at: at.clone(),
        });
    }
    let (extent, datum) = round_extent(d.outside, slug, book);
    let mut notes = vec![((r * 0.707, r * 0.707), FlatNote::Figure(Figure::diameter(&outside)))];
    for f in &d.feet {
        let (x, y) = (f.x.bare().in_mm(), f.y.bare().in_mm());
        notes.push(((x, y), FlatNote::Words("foot behind".to_owned())));
    }
    let about = About {
        name: "dial".to_owned(),
        slug: slug.to_owned(),
        at,
        material: d.material,
        finish: &[],
        count: 1,
        note: Some("graduation and places of the feet: see its template".to_owned()),
    };
    let body = FlatBody { thickness, holes, extent, datum, round: Some(outside), teeth: None, notes, solid };
    about.flat("dial", body, book)
}
fn foot(d: &DialDesign, facts: &MovementFacts, at: &reckon::Place, book: &mut Book) -> Option<Part> {
    let slug = "dial.foot";
    let material = tables::material::find("brass CZ121").ok()?;
    let plate = facts.plates.as_ref()?.thickness;
    let height = long(d.height, "dial.foot.height", 0.02, -0.02, book);
    let across = sized(d.foot, "dial.foot.diameter", 0.0, -0.05, book);
    let tail = sized(d.tail, "dial.foot.tail", -0.02, -0.06, book);
    let tail_length = work!(book, "dial.foot.tail_length", |plate| plate + Length::mm(3.0), &HOUSE);
    let (thick, spigot_d) = (d.thickness, d.tail);
    let spigot_length = work!(book, "dial.foot.spigot_length", |thick| thick * 0.6, &HOUSE);
    let spigot = work!(book, "dial.foot.spigot", |spigot_d| spigot_d * 0.8, &HOUSE);
    let spigot = sized(spigot, "dial.foot.spigot", 0.0, -0.02, book);
    let pin = house_across("dial.foot.pin_hole", 1.0, "for a taper pin", book);
    let high = d.height;
    let whole = work!(
        book,
        "dial.foot.length",
        |spigot_length, high, tail_length| spigot_length + high + tail_length,
        &GEOMETRY
    );
    let whole = long(whole, "dial.foot.length", 0.1, -0.1, book);
    let mut b = Builder::new(book, slug);
    let (s0, s1) = b.step("spigot", spigot_length, spigot, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&spigot));
    b.tell_along(&s0, &s1, Figure::plain(&spigot_length));
    let (f0, f1) = b.step("foot", high, across, Edges::default());
    b.tell_across(&f0, &f1, Figure::diameter(&across));
    b.tell_along(&f0, &f1, Figure::length(&height));
    let (t0, t1) = b.step("tail", tail_length, tail, Edges::default());
    b.tell_across(&t0, &t1, Figure::diameter(&tail));
    b.tell_along(&s0, &t1, Figure::length(&whole));
    // The pin draws against the plate's inside: half of its hole lies within the plate.
    let hole_at =
        work!(b.book, "dial.foot.pin_at", |t0, plate, pin| t0 + plate + pin.across() * 0.3, &GEOMETRY);
    b.cross_hole(hole_at, pin);
    let body = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "dial foot".to_owned(),
        slug: slug.to_owned(),
        at,
        material,
        finish: &[],
        count: i64::try_from(d.feet.len()).unwrap_or(0),
        note: Some(
            "soldered into blind holes in the dial's back, so that its face stays whole; all of one height"
                .to_owned(),
        ),
    };
    Some(about.turned("dial foot", body, book))
}
fn pin(d: &DialDesign, at: &reckon::Place, book: &mut Book) -> Option<Part> {
    let slug = "dial.pin";
    let material = tables::material::find("mild steel").ok()?;
    let length = house("dial.pin.length", 14.0, "to be taken hold of", book);
    let thick = house_across("dial.pin.large_end", 1.2, "a taper of 1 in 50, jams at the foot's hole", book);
    let thin = work!(book, "dial.pin.small_end", |thick, length| thick - length / 50.0, &GEOMETRY);
    let size = sized(thick, "dial.pin.large_end", 0.02, -0.02, book);
    let whole = long(length, "dial.pin.length", 0.5, -0.5, book);
    let mut b = Builder::new(book, slug);
    let (z0, z1) = b.step("taper", length, size, Edges::default());
    if let Some(step) = b.last() {
        step.end = Some(thin);
    }
    b.tell_along(&z0, &z1, Figure::length(&whole));
    b.tell(crate::part::Told::Across { at: 0.5, inside: false, figure: Figure::diameter(&size) });
    let body = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "dial pin".to_owned(),
        slug: slug.to_owned(),
        at,
        material,
        finish: &[],
        count: i64::try_from(d.feet.len()).unwrap_or(0),
        note: None,
    };
    Some(about.turned("taper pin", body, book))
}
/// Cams of the equation of time.
pub(super) fn cams(m: &Movement, book: &mut Book) -> Vec<Part> {
    let Ok(material) = tables::material::find("brass CZ120") else { return Vec::new() };
    let mut all = Vec::new();
    for i in &m.indications {
        let Some(c) = &i.cam else { continue };
        let slug = format!("{}.cam", i.facts.slug);
        let mut outline: Option<Profile> = None;
        for s in &c.cam.arcs {
            outline = Some(match (outline, s) {
                (None, shape::segment::Segment::Line { from, to }) => {
                    Profile::start(from.x, from.y).line(to.x, to.y)
                }
                (None, shape::segment::Segment::Arc { from, to, centre, sense, .. }) => {
                    Profile::start(from.x, from.y).arc_to(*to, *centre, *sense)
                }
                (Some(p), shape::segment::Segment::Line { to, .. }) => p.line(to.x, to.y),
                (Some(p), shape::segment::Segment::Arc { to, centre, sense, .. }) => {
                    p.arc_to(*to, *centre, *sense)
                }
            });
        }
        let Some(outline) = outline.map(Profile::close) else { continue };
        let bounds = outline.bounds();
        let inputs = vec![c.base.id(), c.scale.id(), c.roller.id(), c.year.id()];
        let mut extreme = |name: &str, mm: f64| {
            book.solved(
                format_args!("{slug}.{name}"),
                Length::mm(mm),
                ("the extreme points of the profile", 1, 0.0),
                inputs.clone(),
                &GEOMETRY,
            )
        };
        let extent = (extreme("width", bounds.width()), extreme("height", bounds.height()));
        let datum = (extreme("datum.x", bounds.x0), extreme("datum.y", bounds.y0));
        let thickness = house(&format!("{slug}.thickness"), 2.0, "wide enough for the follower", book);
        let thickness = long(thickness, &format!("{slug}.thickness"), 0.05, -0.05, book);
        let bore = house_across(&format!("{slug}.bore"), 4.0, "to fit the year's arbor", book);
        let bore = sized(bore, &format!("{slug}.bore"), 0.012, 0.0, book);
        let zero =
            book.assumed(format_args!("{slug}.axis"), Length::ZERO, "the cam is measured from its axis");
        let solid = Flat::new(outline, thickness.nominal.bare().in_mm()).hole(
            0.0,
            0.0,
            bore.nominal.bare().in_mm(),
            "A",
        );
        let body = FlatBody {
            thickness,
            holes: vec![super::super::wheels::hole("A", bore, zero, &i.facts.at)],
            extent,
            datum,
            round: None,
            teeth: None,
            notes: vec![(
                (c.cam.points.first().map_or(0.0, |p| p.at.x), 0.0),
                FlatNote::Words("1 January".to_owned()),
            )],
            solid,
        };
        let about = About {
            name: format!("{} cam", i.facts.name),
            slug,
            at: &i.facts.at,
            material,
            finish: &[],
            count: 1,
            note: Some("seen with the year going round clockwise under its follower".to_owned()),
        };
        all.push(about.flat("cam", body, book));
    }
    all
}
