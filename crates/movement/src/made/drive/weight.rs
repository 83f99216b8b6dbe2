//! The drum, and the weight's shell, caps and hook bar.

use super::plain;
use super::{brass, steel};
use crate::design::Movement;
use crate::design::drive::WeightDesign;
use crate::hardware::builder::{Builder, Edges};
use crate::made::common::{About, house, house_across, long, sized};
use crate::part::{Figure, Part};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Length, Val, judge, work};
use record::facts::{self, Finish};
use shape::turned::End;
use tables::thread::find as find_thread;

pub(super) fn parts(
    f: &facts::Weight,
    w: &WeightDesign,
    m: &Movement,
    arbor: usize,
    book: &mut Book,
) -> Vec<Part> {
    let mut all = vec![drum(f, w, m, arbor, book)];
    if let Some(b) = &f.body {
        all.extend(body(f, b, book));
    }
    all
}
/// Whether the drum, which fills its arbor beside the great wheel, clears the wheel on the next arbor.
fn clears(slug: &str, over: Val<Diameter>, m: &Movement, arbor: usize, book: &mut Book) {
    let next = m.train.arbors[arbor].drives.iter().find_map(|n| {
        let mesh = &m.train.meshes[*n];
        let on = &m.train.arbors[mesh.driven?];
        let wheel = m.train.meshes[*on.drives.first()?].sizes.as_ref()?.wheel.outside;
        Some((mesh.laid?, wheel))
    });
    let Some((laid, wheel)) = next else { return };
    let gap = work!(
        book,
        format_args!("{slug}.gap"),
        |laid, over, wheel| laid - over.across() / 2.0 - wheel.across() / 2.0,
        &GEOMETRY
    );
    let verdict = judge!(
        book,
        format_args!("{slug}.clears"),
        "the drum's flanges clear the wheel on the next arbor by a half millimetre",
        |gap| gap >= Length::mm(0.5),
        &GEOMETRY
    );
    book.cure(verdict.id(), "a thinner drum or line, or a larger module of the great wheel");
}
/// The drum: a plain cylinder between flanges, on the great arbor.
fn drum(f: &facts::Weight, w: &WeightDesign, m: &Movement, arbor: usize, book: &mut Book) -> Part {
    let slug = "drive.drum_part".to_owned();
    let (drum, line, grooved) = (f.drum, f.line, w.drum_length);
    let flange = house(&format!("{slug}.flange"), 2.0, "flange on each side of the line", book);
    let size = sized(drum, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let over = work!(
        book,
        format_args!("{slug}.over_flange"),
        |drum, line| drum + line.across() * 2.0 + Length::mm(0.6),
        &HOUSE
    );
    let over = sized(over, &format!("{slug}.over_flange"), 0.0, -0.1, book);
    let whole =
        work!(book, format_args!("{slug}.length"), |grooved, flange| grooved + flange * 2.0, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    clears(&slug, over.nominal, m, arbor, book);
    let bore = sized(m.stems[arbor].diameter, &format!("{slug}.bore"), 0.018, 0.0, book);
    let mut b = Builder::new(book, &slug);
    let start = b.here();
    let (f0, f1) = b.step("flange", flange, over, Edges::default());
    b.tell_across(&f0, &f1, Figure::diameter(&over));
    let (z0, z1) = b.step("drum", grooved, size, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&size));
    b.tell_along(&z0, &z1, Figure::plain(&grooved));
    let (_, end) = b.step("flange", flange, over, Edges::default());
    b.tell_along(&start, &end, Figure::length(&whole));
    plain::bored(&mut b, "bore", bore, End::Datum, None);
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "drum".to_owned(),
        slug,
        at: &f.at,
        material: brass(),
        finish: &[Finish::Polish],
        count: 1,
        note: Some("fixed to its arbor; the great wheel turns on the arbor against it, held by its key plate; hole for the line's knot drilled in a flange at assembly".to_owned()),
    };
    about.turned("drum", done, book)
}
fn body(f: &facts::Weight, w: &facts::WeightBody, book: &mut Book) -> Vec<Part> {
    let slug = "drive.weight.shell".to_owned();
    let outside = sized(w.outside, &format!("{slug}.outside"), 0.0, -0.1, book);
    let inside = sized(w.inside, &format!("{slug}.inside"), 0.05, 0.0, book);
    let height = long(w.height, &format!("{slug}.height"), 0.2, -0.2, book);
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("shell", height.nominal, outside, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&outside));
    b.tell_along(&z0, &z1, Figure::length(&height));
    plain::bored(&mut b, "bore", inside, End::Datum, None);
    let done = b.finish((height.upper, height.lower));
    let about = About {
        name: "weight shell".to_owned(),
        slug,
        at: &w.at,
        material: brass(),
        finish: &[Finish::Polish, Finish::Lacquer],
        count: 1,
        note: Some("from tube where it is to be had; faced to length".to_owned()),
    };
    let mut all = vec![about.turned("shell", done, book)];
    // Both caps are drawn together by the hook bar.
    let slug = "drive.weight.cap_part".to_owned();
    let inside = w.inside;
    let play = house(&format!("{slug}.play"), 0.05, "the caps slide into the shell", book);
    let across = work!(book, format_args!("{slug}.diameter"), |inside, play| inside - play, &HOUSE);
    let across = sized(across, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let thick = long(w.cap, &format!("{slug}.thickness"), 0.1, -0.1, book);
    let bar = house_across(&format!("{slug}.bar"), 5.0, "hook bar through both caps", book);
    let hole = sized(bar, &format!("{slug}.hole"), 0.15, 0.05, book);
    let mut b = Builder::new(book, &slug);
    let edge = (0.3, 0.3);
    let edges = Edges { begin: Some(edge), end: Some(edge), ..Edges::default() };
    let (z0, z1) = b.step("cap", thick.nominal, across, edges);
    b.tell_across(&z0, &z1, Figure::diameter(&across));
    b.tell_along(&z0, &z1, Figure::length(&thick));
    plain::bored(&mut b, "hole", hole, End::Datum, None);
    let done = b.finish((thick.upper, thick.lower));
    let about = About {
        name: "weight cap".to_owned(),
        slug,
        at: &w.at,
        material: brass(),
        finish: &[Finish::Polish, Finish::Lacquer],
        count: 2,
        note: Some(
            "bonded or soldered into the shell, the lower one first; filled before the upper one is closed"
                .to_owned(),
        ),
    };
    all.push(about.turned("cap", done, book));
    all.extend(hook_bar(f, w, bar, book));
    all
}
fn hook_bar(
    f: &facts::Weight,
    w: &facts::WeightBody,
    bar: reckon::Val<reckon::Diameter>,
    book: &mut Book,
) -> Option<Part> {
    let slug = "drive.weight.hook_bar".to_owned();
    let of = std::sync::Arc::new(find_thread("M5")?);
    let height = w.height;
    let size = sized(bar, &format!("{slug}.diameter"), 0.0, -0.05, book);
    let over = house(&format!("{slug}.over"), 14.0, "stands out of the weight, for its hole", book);
    let plain_length = work!(book, format_args!("{slug}.plain"), |height, over| height + over, &HOUSE);
    let thread_length = house(&format!("{slug}.thread_length"), 8.0, "thread for the nut below", book);
    let hole_at = house(&format!("{slug}.hole_at"), 6.0, "hole of the hook, from the top", book);
    let hole = house_across(&format!("{slug}.hole"), 2.5, "hole of the hook or pulley's pin", book);
    let whole = work!(
        book,
        format_args!("{slug}.length"),
        |plain_length, thread_length| plain_length + thread_length,
        &GEOMETRY
    );
    let whole = long(whole, &format!("{slug}.length"), 0.3, -0.3, book);
    let mut b = Builder::new(book, &slug);
    let (z0, z1) = b.step("bar", plain_length, size, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&size));
    b.cross_hole(hole_at, hole);
    let of = plain::thread(&of, false, &f.at);
    plain::threaded(&mut b, "thread", &of, thread_length, End::Far);
    let end = b.here();
    b.tell_along(&z0, &end, Figure::length(&whole));
    let done = b.finish((whole.upper, whole.lower));
    let about = About {
        name: "hook bar".to_owned(),
        slug,
        at: &w.at,
        material: steel(),
        finish: &[],
        count: 1,
        note: Some("carries the whole weight: left soft, its nut secured below".to_owned()),
    };
    Some(about.turned("bar", done, book))
}
