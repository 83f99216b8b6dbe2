//! Barrel, cover, core and arbor; stop work; fusee.

use super::plain::{self, At, Cut};
use super::{brass, sheet_brass, steel};
use crate::design::drive::{FuseeDesign, SpringDesign};
use crate::design::{BarrelArbor, DriveDesign, Movement};
use crate::hardware::builder::{Builder, Edges};
use crate::made::common::{About, house, house_across, long, sized};
use crate::part::{Figure, Flats, Part, Told};
use power::stopwork::{self, Wanted};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Trouble, Val, work};
use record::facts::{self, Finish, Size};
use shape::profile::Profile;
use shape::turned::End;

pub(super) fn parts(
    s: &facts::Spring,
    of: &SpringDesign,
    f: &facts::Drive,
    m: &Movement,
    d: &DriveDesign,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    // A going barrel stands on the arbor of the train; one that pulls a fusee has an arbor of its own.
    let stem = m.barrel_arbor.map_or(m.stems[d.arbor].diameter, |own| own.diameter);
    let mut all = vec![barrel(s, stem, book), cover(s, stem, book), core(s, stem, book)];
    if let Some((fusee, own)) = d.fusee.as_ref().zip(m.barrel_arbor) {
        all.extend(arbor(s, f, own, book));
        all.push(cone(fusee, f, m, d.arbor, book));
    }
    if let Some(stops) = of.stops {
        let end = m.stems[d.arbor].pivot;
        all.extend(stop_work(s, stops, (stem, end), book, troubles));
    }
    all
}
/// A cup: bottom, wall, and a recess that the cover snaps into.
fn barrel(s: &facts::Spring, stem: Val<Diameter>, book: &mut Book) -> Part {
    let slug = "drive.barrel".to_owned();
    let (bottom, room, cover) = (s.bottom, s.room, s.cover);
    let whole =
        work!(book, format_args!("{slug}.length"), |bottom, room, cover| bottom + room + cover, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let outside = sized(s.outside, &format!("{slug}.outside"), 0.0, -0.05, book);
    let inside = sized(s.inside, &format!("{slug}.inside"), 0.05, 0.0, book);
    let deep = work!(book, format_args!("{slug}.depth"), |room, cover| room + cover, &GEOMETRY);
    let bore = sized(stem, &format!("{slug}.bore"), 0.03, 0.015, book);
    let across = s.inside;
    let step = house(&format!("{slug}.cover_step"), 0.6, "the cover is this much wider than the room", book);
    let recess = work!(book, format_args!("{slug}.recess"), |across, step| across + step, &HOUSE);
    let recess = sized(recess, &format!("{slug}.recess"), 0.03, 0.0, book);
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("barrel", whole.nominal, outside, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&outside));
    b.tell_along(&z0, &z1, Figure::length(&whole));
    plain::bored(&mut b, "bore", bore, End::Datum, None);
    plain::bored(&mut b, "room for the spring", inside, End::Far, Some(deep));
    plain::bored(&mut b, "recess of the cover", recess, End::Far, Some(cover));
    b.tell(Told::Note {
        z: z0.bare().in_mm(),
        r: outside.nominal.bare().in_mm() / 2.0,
        text: "hook riveted in the wall, half way up".to_owned(),
    });
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "barrel".to_owned(),
        slug,
        at: &s.at,
        material: s.material,
        finish: &[Finish::Grain],
        count: 1,
        note: Some("inside polished along its turning: the coils slide on it".to_owned()),
    };
    about.turned("barrel", done, book)
}
fn cover(s: &facts::Spring, stem: Val<Diameter>, book: &mut Book) -> Part {
    let slug = "drive.barrel_cover".to_owned();
    let inside = s.inside;
    let over = house(&format!("{slug}.over"), 0.65, "snaps into its recess", book);
    let across = work!(book, format_args!("{slug}.diameter"), |inside, over| inside + over, &HOUSE);
    let across = sized(across, &format!("{slug}.diameter"), 0.0, -0.03, book);
    let thick = long(s.cover, &format!("{slug}.thickness"), 0.0, -0.05, book);
    let bore = sized(stem, &format!("{slug}.bore"), 0.03, 0.015, book);
    let edges = Edges { begin: Some((0.3, 0.3)), ..Edges::default() };
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("cover", thick.nominal, across, edges);
    b.tell_across(&z0, &z1, Figure::diameter(&across));
    b.tell_along(&z0, &z1, Figure::length(&thick));
    plain::bored(&mut b, "bore", bore, End::Datum, None);
    let done = b.finish((thick.upper, thick.lower));
    let about = About {
        name: "barrel cover".to_owned(),
        slug,
        at: &s.at,
        material: s.material,
        finish: &[Finish::Grain],
        count: 1,
        note: Some("edge tapered a degree inward, so that it snaps in; a notch to lift it out".to_owned()),
    };
    about.turned("cover", done, book)
}
/// The core that the spring hooks on, fixed to the arbor.
fn core(s: &facts::Spring, stem: Val<Diameter>, book: &mut Book) -> Part {
    let slug = "drive.barrel_core".to_owned();
    let (room, height) = (s.room, s.height);
    let play = house(&format!("{slug}.play"), 0.3, "endshake in the barrel", book);
    let whole = work!(book, format_args!("{slug}.length"), |room, play| room - play, &HOUSE);
    let whole = long(whole, &format!("{slug}.length"), 0.0, -0.05, book);
    let across = sized(s.core, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let bore = sized(stem, &format!("{slug}.bore"), 0.012, 0.0, book);
    let hook = house_across(
        &format!("{slug}.hook"),
        2.0,
        "hook: a pin left standing as high as the strip is thick",
        book,
    );
    let at = work!(book, format_args!("{slug}.hook_at"), |height| height / 2.0, &HOUSE);
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("core", whole.nominal, across, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&across));
    b.tell_along(&z0, &z1, Figure::length(&whole));
    plain::bored(&mut b, "bore", bore, End::Datum, None);
    b.cross_hole(at, hook);
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "barrel core".to_owned(),
        slug,
        at: &s.at,
        material: steel(),
        finish: &[],
        count: 1,
        note: Some(
            "pinned to its arbor; the hook lets the strip lie close, and undercuts a little".to_owned(),
        ),
    };
    about.turned("core", done, book)
}
/// The arbor of a barrel that pulls a fusee.
fn arbor(s: &facts::Spring, f: &facts::Drive, own: BarrelArbor, book: &mut Book) -> Option<Part> {
    let slug = "drive.barrel_arbor".to_owned();
    let (from, to) = s.place?;
    let room = work!(book, format_args!("{slug}.barrel_long"), |from, to| to - from, &GEOMETRY);
    let beyond = house(&format!("{slug}.beyond"), 6.0, "on each side of the barrel, to the plates", book);
    let body_long = work!(book, format_args!("{slug}.body"), |room, beyond| room + beyond * 2.0, &HOUSE);
    let body = sized(own.diameter, &format!("{slug}.diameter"), 0.0, -0.012, book);
    let pivot = sized(own.pivot, &format!("{slug}.pivot"), 0.0, -0.01, book);
    let pivot_long = house(&format!("{slug}.pivot_length"), 5.5, "through a plate", book);
    let square = f.square;
    let square_long =
        house(&format!("{slug}.square_length"), 8.0, "square that the set-up ratchet sits on", book);
    let (across, thin) = (square, pivot.nominal);
    let across =
        work!(book, format_args!("{slug}.square"), |across, thin| across.min(thin.across() * 0.75), &HOUSE);
    let whole = work!(
        book,
        format_args!("{slug}.length"),
        |body_long, pivot_long, square_long| body_long + pivot_long * 2.0 + square_long,
        &GEOMETRY
    );
    let whole = long(whole, &format!("{slug}.length"), 0.1, -0.1, book);
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let (p0, p1) = b.step("back pivot", pivot_long, pivot, Edges::default());
    b.tell_across(&p0, &p1, Figure::diameter(&pivot));
    let (z0, z1) = b.step("body", body_long, body, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&body));
    b.tell_along(&z0, &z1, Figure::plain(&body_long));
    b.step("front pivot", pivot_long, pivot, Edges::default());
    let (q0, q1) = b.step("square", square_long, pivot, Edges::default());
    b.flats(Flats { from: q0, to: q1, across, count: 4 });
    b.tell_along(&start, &q1, Figure::length(&whole));
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "barrel arbor".to_owned(),
        slug,
        at: &s.at,
        material: steel(),
        finish: &[Finish::Polish],
        count: 1,
        note: Some(
            "its ratchet keeps the set-up: let it down last, and only with the chain slack".to_owned(),
        ),
    };
    Some(about.turned("arbor", done, book))
}
/// The fusee's blank: cones between rows of its profile, before the groove is cut.
fn cone(f: &FuseeDesign, d: &facts::Drive, m: &Movement, arbor: usize, book: &mut Book) -> Part {
    let slug = "drive.fusee.blank".to_owned();
    let (height, pitch, thick, large) = (f.height, f.pitch, f.thick, f.large);
    let stretches = 8_u32;
    let at = |i: u32, book: &mut Book| -> Val<Diameter> {
        let theta = f.cone.theta * f64::from(i) / f64::from(stretches);
        let how = ("line of pull at this height: the chain lies half in the groove", 1, 0.0);
        let mm = Diameter::mm(2.0 * f.cone.radius(theta));
        book.solved(format!("{slug}.at_{i}"), mm, how, vec![f.torque.id()], &power::fusee::CONE)
    };
    let base = work!(book, format_args!("{slug}.base"), |pitch| pitch * 1.5, &HOUSE);
    let across = work!(
        book,
        format_args!("{slug}.diameter"),
        |large, thick| ((large + thick * 2.0) * 2.0).as_diameter(),
        &HOUSE
    );
    let across = sized(across, &format!("{slug}.diameter"), 0.0, -0.1, book);
    let each = work!(book, format_args!("{slug}.stretch"), |height| height / 8.0, &GEOMETRY);
    let whole = work!(book, format_args!("{slug}.length"), |height, base| height + base, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.1, -0.1, book);
    let bore = sized(m.stems[arbor].diameter, &format!("{slug}.bore"), 0.018, 0.0, book);
    let ends: Vec<Val<Diameter>> = (0..=stretches).map(|i| at(i, book)).collect();
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("base", base, across, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&across));
    let mut end = z1;
    for (i, w) in ends.windows(2).enumerate() {
        let size = Size { nominal: w[0], upper: across.upper, lower: across.lower };
        let (a, c) = b.step(&format!("cone {}", i + 1), each, size, Edges::default());
        if let Some(step) = b.last() {
            step.end = Some(w[1]);
        }
        if i == 0 {
            b.tell(Told::Across {
                at: a.bare().in_mm() + 1e-6,
                inside: false,
                figure: Figure::across(&w[0]),
            });
        }
        end = c;
    }
    if let Some(small) = ends.last() {
        b.tell(Told::Across { at: end.bare().in_mm() - 1e-6, inside: false, figure: Figure::across(small) });
    }
    b.tell_along(&z0, &end, Figure::length(&whole));
    plain::bored(&mut b, "bore", bore, End::Datum, None);
    let done = b.finish((whole.upper, whole.lower));
    let note = format!(
        "groove of pitch {} from the large end, {} turns, cut by the table of its profile",
        pitch.shown(),
        reckon::print::significant(f.turns.bare().value(), 4)
    );
    let about = About {
        name: "fusee".to_owned(),
        slug,
        at: &d.at,
        material: brass(),
        finish: &[],
        count: 1,
        note: Some(note),
    };
    about.turned("fusee", done, book)
}
/// Finger and star of the stop work, and the arm that carries the finger's pin.
fn stop_work(
    s: &facts::Spring,
    stops: Val<reckon::Ratio>,
    (stem, end): (Val<Diameter>, Val<Diameter>),
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<Part> {
    let whole = stops.bare().value().round();
    let (core, outside) = (s.core, s.outside);
    let centres = work!(
        book,
        "drive.stop_work.centres",
        |core, outside| (outside.across() + core.across()) / 5.0,
        &stopwork::STAR
    );
    let hub = work!(
        book,
        "drive.stop_work.hub",
        |stem, centres| (stem.across() * 0.55).min(centres * 0.42),
        &stopwork::STAR
    );
    let pin = house("drive.stop_work.pin", 1.4, "pin of the finger", book);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 100")]
    let turns = whole.clamp(0.0, 100.0) as u32;
    let wanted = Wanted {
        turns,
        centres: centres.bare().in_mm(),
        hub: hub.bare().in_mm(),
        pin: pin.bare().in_mm(),
        play: 0.1,
    };
    let found = match stopwork::design(wanted) {
        Ok(found) => found,
        Err(fault) => {
            troubles.push(
                Trouble::design("stop work cannot be drawn for this barrel")
                    .at(s.at.clone())
                    .why(fault.text())
                    .cure("two to eleven whole turns, a larger barrel, or a thinner arbor")
                    .as_warning(),
            );
            return Vec::new();
        }
    };
    let thick = house("drive.stop_work.thickness", 1.5, "finger and star", book);
    let thick = long(thick, "drive.stop_work.thickness", 0.0, -0.05, book);
    let hole = work!(book, "drive.stop_work.hole", |pin| pin.as_diameter(), &HOUSE);
    let bore = sized(hole, "drive.stop_work.hole", 0.02, 0.0, book);
    // Finger and arm sit on the arbor's end, outside the cover.
    let on_arbor = sized(end, "drive.stop_work.seat", 0.015, 0.0, book);
    let note = format!(
        "axes {} apart; it stops after {} turns",
        centres.shown(),
        reckon::print::fixed(found.turns, 2)
    );
    let piece =
        |name: &str, slug: &str, outline: Profile, holes: Vec<At>, steel_made: bool, book: &mut Book| {
            let about = About {
                name: name.to_owned(),
                slug: format!("drive.stop_work.{slug}"),
                at: &s.at,
                material: if steel_made { steel() } else { sheet_brass() },
                finish: &[],
                count: 1,
                note: Some(note.clone()),
            };
            let cut = Cut {
                word: "stop work",
                outline,
                thickness: thick,
                holes,
                round: None,
                teeth: None,
                notes: Vec::new(),
            };
            plain::flat(&about, cut, book)
        };
    let middle = |size: Size<Diameter>| At { label: "A", x: 0.0, y: 0.0, size };
    let pinned = At { label: "B", x: found.reach, y: 0.0, size: bore };
    vec![
        piece("stop finger disc", "disc", found.disc_outline(), vec![middle(on_arbor)], true, book),
        piece("stop finger arm", "arm", found.arm_outline(), vec![middle(on_arbor), pinned], true, book),
        piece("stop star", "star", found.star_outline(), vec![middle(bore)], false, book),
    ]
}
