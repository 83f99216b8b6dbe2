//! Rod, bob, rating nut, suspension.

use super::common::{About, house, house_across, long, sized};
use super::drive::plain::{self, At, Cut};
use crate::design::{Movement, PendulumDesign};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, Part, Told};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Cell, Length, Val, work};
use record::facts::{self, Bend, BobForm, Finish, MovementFacts};
use shape::profile::Profile;
use shape::turned::End;
use tables::material::{Material, find};

/// All of them.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let (Some(p), Some(d)) = (&facts.pendulum, &m.pendulum) else { return Vec::new() };
    let mut all = vec![rod(p, d, book), bob(p, d, book)];
    if let Some(n) = &p.nut {
        all.extend(nut(n, p, d, book));
    }
    if let Some(s) = &p.suspension {
        all.extend(suspension(s, book));
    }
    all
}
fn brass() -> &'static Material {
    find("brass CZ121").expect("turning brass is in the table of materials")
}
fn sheet_brass() -> &'static Material {
    find("brass CZ120").expect("clock brass is in the table of materials")
}
fn rod(p: &facts::Pendulum, d: &PendulumDesign, book: &mut Book) -> Part {
    let slug = "pendulum.rod_part".to_owned();
    let (whole, thread_length) = (d.hung.rod_length, d.hung.thread_length);
    let threaded = p.nut.is_some();
    let body = if threaded {
        work!(book, format_args!("{slug}.plain"), |whole, thread_length| whole - thread_length, &GEOMETRY)
    } else {
        whole
    };
    let size = sized(p.rod_diameter, &format!("{slug}.diameter"), 0.0, -0.02, book);
    let all = long(whole, &format!("{slug}.length"), 0.5, -0.5, book);
    let pin_at = house(&format!("{slug}.pin_at"), 5.0, "from the upper end to its pin", book);
    let pin = house_across(&format!("{slug}.pin"), 2.0, "pin that hangs it in the lower chop", book);
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("rod", body, size, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&size));
    b.cross_hole(pin_at, pin);
    b.tell(Told::Note {
        z: pin_at.bare().in_mm(),
        r: size.nominal.bare().in_mm() / 2.0,
        text: format!("cross hole {}", pin.shown()),
    });
    if let Some(n) = &p.nut {
        let of = plain::thread(&n.thread, false, &n.thread_at);
        plain::threaded(&mut b, "thread of the nut", &of, thread_length, End::Far);
    }
    let end = b.here();
    b.tell_along(&z0, &end, Figure::length(&all));
    let done = b.finish((all.upper, all.lower));
    let about = About {
        name: "pendulum rod".to_owned(),
        slug,
        at: &p.at,
        material: p.rod_material,
        finish: &[],
        count: 1,
        note: Some("leave it as it is drawn: bending or hammering changes how it grows".to_owned()),
    };
    about.turned("rod", done, book)
}
fn bob(p: &facts::Pendulum, d: &PendulumDesign, book: &mut Book) -> Part {
    let slug = "pendulum.bob_part".to_owned();
    let b = &p.bob;
    let across = sized(b.diameter, &format!("{slug}.diameter"), 0.0, -0.1, book);
    let height = long(b.height, &format!("{slug}.height"), 0.1, -0.1, book);
    let bore = sized(d.hung.bore, &format!("{slug}.bore"), 0.03, 0.0, book);
    let note = format!(
        "it shall weigh {} with its bore; its middle hangs {} below the upper chop",
        d.hung.bob.shown(),
        d.hung.middle.shown()
    );
    let done = match b.form {
        BobForm::Cylinder => {
            let mut t = Builder::new(book, &slug);
            let edge = (0.5, 0.5);
            let edges = Edges { begin: Some(edge), end: Some(edge), ..Edges::default() };
            let (z0, z1) = t.step("bob", height.nominal, across, edges);
            t.tell_across(&z0, &z1, Figure::diameter(&across));
            t.tell_along(&z0, &z1, Figure::length(&height));
            plain::bored(&mut t, "bore", bore, End::Datum, None);
            t.finish((height.upper, height.lower))
        }
        BobForm::Disc => {
            let half = halves(&slug, height.nominal, book);
            let mut t = Builder::new(book, &slug);
            let (z0, z1) = t.step("bob", height.nominal, across, Edges::default());
            t.tell_across(&z0, &z1, Figure::diameter(&across));
            t.tell_along(&z0, &z1, Figure::length(&height));
            cross(&mut t, half, bore.nominal);
            t.finish((height.upper, height.lower))
        }
        BobForm::Lens => lens(&slug, across, height, bore.nominal, book),
    };
    let about = About {
        name: "pendulum bob".to_owned(),
        slug,
        at: &b.at,
        material: b.material,
        finish: &[Finish::Polish, Finish::Lacquer],
        count: 1,
        note: Some(note),
    };
    about.turned("bob", done, book)
}
fn halves(slug: &str, height: Val<Length>, book: &mut Book) -> Val<Length> {
    work!(book, format_args!("{slug}.middle"), |height| height / 2.0, &GEOMETRY)
}
fn cross(b: &mut Builder<'_>, at: Val<Length>, size: Val<reckon::Diameter>) {
    b.cross_hole(at, size);
    let z = at.bare().in_mm();
    b.tell(Told::Note { z, r: 0.0, text: format!("bored {} across, for the rod", size.shown()) });
}
/// A lens turned about its own axis: a small flat, a cap, a narrow rim, and the same the other way.
fn lens(
    slug: &str,
    across: facts::Size<reckon::Diameter>,
    height: facts::Size<Length>,
    bore: Val<reckon::Diameter>,
    book: &mut Book,
) -> crate::part::TurnedBody {
    let (diameter, thick) = (across.nominal, height.nominal);
    let flat = house_across(&format!("{slug}.flat"), 4.0, "flat on the middle of each face", book);
    let rim = house(&format!("{slug}.rim"), 0.6, "edge left on the rim", book);
    let cap = work!(book, format_args!("{slug}.cap"), |thick, rim| (thick - rim) / 2.0, &GEOMETRY);
    let radius = work!(
        book,
        format_args!("{slug}.radius"),
        |diameter, flat, cap| {
            // Through the edge of the flat and the edge of the rim, its middle on the axis.
            let (a, f) = (diameter.radius().out(), flat.radius().out());
            let deep = (a * a - f * f - cap * cap) / (cap * 2.0);
            Length::si(((deep + cap) * (deep + cap) + f * f).value().sqrt())
        },
        &GEOMETRY
    );
    let half = halves(slug, thick, book);
    let mm = radius.bare().in_mm();
    let small = facts::Size { nominal: flat, ..across };
    let mut b = Builder::new(book, slug);
    let arc = Edges { arc: Some((mm, Bend::Round)), ..Edges::default() };
    let (z0, z1) = b.step("front cap", cap, small, arc);
    if let Some(step) = b.last() {
        step.end = Some(diameter);
        step.curved = true;
    }
    let (r0, r1) = b.step("rim", rim, across, Edges::default());
    b.tell_across(&r0, &r1, Figure::diameter(&across));
    let (_, end) = b.step("back cap", cap, across, arc);
    if let Some(step) = b.last() {
        step.end = Some(flat);
        step.curved = true;
    }
    b.tell_along(&z0, &end, Figure::length(&height));
    let middle = f64::midpoint(z0.bare().in_mm(), z1.bare().in_mm());
    let out = diameter.bare().in_mm() / 3.0;
    b.tell(Told::Note { z: middle, r: out, text: format!("both faces R {}", radius.shown()) });
    cross(&mut b, half, bore);
    b.finish((height.upper, height.lower))
}
fn nut(n: &facts::RatingNut, p: &facts::Pendulum, d: &PendulumDesign, book: &mut Book) -> Option<Part> {
    let slug = "pendulum.nut_part".to_owned();
    let design = d.nut.as_ref()?;
    let size = sized(n.diameter, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let thick = long(n.thickness, &format!("{slug}.thickness"), 0.05, -0.05, book);
    let count = design.divisions;
    let each = reckon::Angle::deg(360.0 / count.bare().n());
    let marks = count.bare().0.clamp(1, 500);
    #[expect(clippy::cast_precision_loss, reason = "at most 500")]
    let rows = (0..marks)
        .map(|i| vec![Cell::of(&reckon::Count(i)), Cell::of(&reckon::Angle::deg(each.in_deg() * i as f64))])
        .collect();
    let rule = "lines round the edge, the first at nothing; every tenth longer";
    book.table(
        "pendulum.nut.graduation",
        &["line", "turn from the first"],
        rows,
        rule,
        vec![count.id()],
        &GEOMETRY,
    );
    let edge = (0.3, 0.3);
    let edges = Edges { begin: Some(edge), end: Some(edge), ..Edges::default() };
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("nut", thick.nominal, size, edges);
    b.tell_across(&z0, &z1, Figure::diameter(&size));
    b.tell_along(&z0, &z1, Figure::length(&thick));
    b.tell(Told::Note {
        z: z0.bare().in_mm(),
        r: size.nominal.bare().in_mm() / 2.0,
        text: format!("{} lines round the edge", count.bare().0),
    });
    let of = plain::thread(&n.thread, true, &n.thread_at);
    plain::tapped(&mut b, &of);
    let done = b.finish((thick.upper, thick.lower));
    let about = About {
        name: "rating nut".to_owned(),
        slug,
        at: &p.at,
        material: brass(),
        finish: &[Finish::Polish],
        count: 1,
        note: Some(format!(
            "divide the edge into {} lines; a line is {} s/day",
            count.bare().0,
            reckon::print::fixed(design.division.bare().value(), 2)
        )),
    };
    Some(about.turned("nut", done, book))
}
fn suspension(s: &facts::Suspension, book: &mut Book) -> Vec<Part> {
    let (free, width) = (s.length, s.width);
    let grip = house("pendulum.chops.grip", 8.0, "strip held in each pair of chops", book);
    let high = work!(book, "pendulum.chops.strip_length", |free, grip| free + grip * 2.0, &HOUSE);
    let over = house(
        "pendulum.chops.over",
        crate::design::pendulum::CHOP_OVER * 1e3,
        "chops stand out on each side of the strip",
        book,
    );
    let wide = work!(book, "pendulum.chops.width", |width, over| width + over * 2.0, &HOUSE);
    let pin = house_across("pendulum.chops.pin", 2.0, "pins through chops and strip", book);
    let pin = sized(pin, "pendulum.chops.pin", 0.02, 0.0, book);
    let rectangle = |w: f64, h: f64| Profile::rectangle(-w / 2.0, 0.0, w / 2.0, h);
    let (w, h, g) = (width.bare().in_mm(), high.bare().in_mm(), grip.bare().in_mm());
    let thin = long(s.thickness, "pendulum.strip_part.thickness", 0.005, -0.005, book);
    let mut all = Vec::new();
    let about = About {
        name: "suspension strip".to_owned(),
        slug: "pendulum.strip_part".to_owned(),
        at: &s.at,
        material: s.material,
        finish: &[],
        count: 1,
        note: Some(format!("{} free between the chops; no kink, no scratch across it", free.shown())),
    };
    let holes = vec![
        At { label: "A", x: 0.0, y: g / 2.0, size: pin },
        At { label: "B", x: 0.0, y: h - g / 2.0, size: pin },
    ];
    let outline = rectangle(w, h);
    let cut =
        Cut { word: "strip", outline, thickness: thin, holes, round: None, teeth: None, notes: Vec::new() };
    all.push(plain::flat(&about, cut, book));
    let across = wide.bare().in_mm();
    for (name, tall, slug, two) in [
        ("upper chop", 12.0, "pendulum.upper_chop", false),
        ("lower chop", 16.0, "pendulum.lower_chop", true),
    ] {
        let thick = house(&format!("{slug}.plate"), 3.0, "each half of a chop", book);
        let thick = long(thick, &format!("{slug}.plate"), 0.05, -0.05, book);
        let mut holes = vec![At { label: "A", x: 0.0, y: tall - g / 2.0, size: pin }];
        if two {
            holes.push(At { label: "B", x: 0.0, y: 3.0, size: pin });
        }
        let about = About {
            name: name.to_owned(),
            slug: slug.to_owned(),
            at: &s.at,
            material: sheet_brass(),
            finish: &[],
            count: 2,
            note: Some(
                "edges towards the free strip square and just broken: both halves alike, worked as a pair"
                    .to_owned(),
            ),
        };
        let outline = rectangle(across, tall);
        let cut = Cut {
            word: "chop",
            outline,
            thickness: thick,
            holes,
            round: None,
            teeth: None,
            notes: Vec::new(),
        };
        all.push(plain::flat(&about, cut, book));
    }
    all
}
