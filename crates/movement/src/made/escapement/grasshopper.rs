//! Small parts of a grasshopper: studs of the joints, stops of the composers.

use super::super::common::{About, house, house_across, long, sized};
use super::super::drive::plain::{self, At, Cut};
use crate::design::EscapementDesign;
use crate::hardware::builder::{Builder, Edges};
use crate::part::{Figure, FlatNote, Part};
use kurbo::Point;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, work};
use record::facts::{Escapement, Finish};
use shape::profile::{Profile, Sense};

/// Studs and stops.
pub(super) fn small(e: &Escapement, d: &EscapementDesign, book: &mut Book) -> Vec<Part> {
    let joint = d.pieces.iter().find_map(|p| p.joint).unwrap_or(1.2);
    let mut all = vec![stud(e, joint, book)];
    all.push(stop(e, joint, book));
    all
}
fn stud(e: &Escapement, joint: f64, book: &mut Book) -> Part {
    let slug = "escapement.joint_stud".to_owned();
    let d = (joint * 20.0).round() / 20.0;
    let across = house_across(&format!("{slug}.bearing"), d, "joint of an arm", book);
    let bearing = sized(across, &format!("{slug}.bearing"), -0.01, -0.02, book);
    let rivet = house_across(&format!("{slug}.rivet"), d, "the hole in the frame", book);
    let rivet = sized(rivet, &format!("{slug}.rivet"), 0.0, -0.005, book);
    let wide = work!(book, format_args!("{slug}.head"), |across| across * 2.0, &HOUSE);
    let head = sized(wide, &format!("{slug}.head"), 0.0, -0.05, book);
    let thick = house(&format!("{slug}.head_thickness"), 0.6, "keeps arm and composer on", book);
    let frame = house(&format!("{slug}.in_frame"), 3.2, "stop and frame, and metal to rivet", book);
    let arm = house(&format!("{slug}.arm_and_composer"), 2.4, "arm and composer with 0.1 mm of play", book);
    let whole =
        work!(book, format_args!("{slug}.length"), |thick, frame, arm| thick + frame + arm, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let body = {
        let mut b = Builder::new(book, &slug);
        let start = b.here();
        let (a0, a1) = b.step("rivet", frame, rivet, Edges::default());
        b.tell_across(&a0, &a1, Figure::diameter(&rivet));
        b.tell_along(&a0, &a1, Figure::plain(&frame));
        let (b0, b1) = b.step("bearing", arm, bearing, Edges::default());
        b.tell_across(&b0, &b1, Figure::diameter(&bearing));
        b.tell_along(&b0, &b1, Figure::plain(&arm));
        let (c0, c1) = b.step("head", thick, head, Edges::default());
        b.tell_across(&c0, &c1, Figure::diameter(&head));
        b.tell_along(&start, &c1, Figure::length(&whole));
        b.finish((whole.upper, whole.lower))
    };
    let about = About {
        name: "joint stud".to_owned(),
        slug,
        at: &e.at,
        material: e.pallet_material,
        finish: &[Finish::Polish],
        count: if e.single_pivot { 1 } else { 2 },
        note: Some(
            "Polish the bearing; it runs without oil. Rivet over only when both stops are set.".to_owned(),
        ),
    };
    about.turned("stud", body, book)
}
fn stop(e: &Escapement, joint: f64, book: &mut Book) -> Part {
    let slug = "escapement.composer_stop".to_owned();
    let d = (joint * 20.0).round() / 20.0;
    let across = house_across(&format!("{slug}.hole"), d, "it sits under the joint's stud", book);
    let hole = sized(across, &format!("{slug}.hole"), 0.02, 0.0, book);
    let thick = house(&format!("{slug}.thickness"), 0.6, "springs a little, bends easily", book);
    let thickness = long(thick, &format!("{slug}.thickness_made"), 0.0, -0.05, book);
    let length =
        house(&format!("{slug}.to_bend"), 9.0, "from the joint to the lip that the composer rests on", book);
    let lip = house(&format!("{slug}.lip"), 3.5, "turned up past arm and composer", book);
    let width = (joint * 2.0).max(2.2);
    let (bend, end) = (length.bare().in_mm(), length.bare().in_mm() + lip.bare().in_mm());
    // A strip a little narrower than the eye at the joint.
    let (eye, half) = (width / 2.0, width * 0.4);
    let meets = (eye * eye - half * half).sqrt();
    let outline = Profile::start(meets, -half).line(end, -half).line(end, half).line(meets, half).arc_to(
        Point::new(meets, -half),
        Point::ORIGIN,
        Sense::Left,
    );
    let about = About {
        name: "composer stop".to_owned(),
        slug,
        at: &e.at,
        material: e.material,
        finish: &[],
        count: 2,
        note: Some(
            "Turn the end up square where marked. Set it under the stud so that the composer holds its arm in the direction in the table of the escapement; then rivet."
                .to_owned(),
        ),
    };
    let cut = Cut {
        word: "stop",
        outline,
        thickness,
        holes: vec![At { label: "A", x: 0.0, y: 0.0, size: hole }],
        round: None,
        teeth: None,
        notes: vec![((bend, half), FlatNote::Words("turn up here".to_owned()))],
    };
    plain::flat(&about, cut, book)
}
