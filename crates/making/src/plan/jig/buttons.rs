//! Filing buttons: hard discs on both faces of a part, to which a rounded end is filed about its hole.

use super::blank::{Turning, bar_of};
use super::guide::plain;
use super::{Asking, Jigs, Named, PREFIX};
use crate::plan::SetUp;
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Radius, Source, Val, work};
use record::facts::{Finish, Shop};
use shape::profile::Sense;
use shape::segment::Segment;

/// How an end is rounded about its hole.
pub static BUTTONS: Source = Source::practice(
    "a rounded end is filed between two hardened discs of its radius on a close pin through its hole: the file skates when it is round",
);
/// Radii that buttons are made for, millimetres.
const RADII: (f64, f64) = (1.5, 15.0);

/// A rounded end about a hole.
struct End {
    radius: f64,
    hole: usize,
}
/// Ends whose arc stands about a plain hole, outward.
fn ends(body: &FlatBody) -> Vec<End> {
    let outline = &body.solid.outline;
    let about = if outline.area() > 0.0 { Sense::Left } else { Sense::Right };
    let mut all: Vec<End> = Vec::new();
    for s in outline.segments() {
        let Segment::Arc { centre, radius, sense, .. } = s else { continue };
        if *sense != about || !(RADII.0..=RADII.1).contains(radius) {
            continue;
        }
        let near = |h: &record::facts::Hole| {
            let (x, y) = (h.centre.0.bare().in_mm() - centre.x, h.centre.1.bare().in_mm() - centre.y);
            x * x + y * y < 1e-4 && h.thread.is_none() && h.diameter.nominal.bare().in_mm() >= 1.0
        };
        let Some(hole) = body.holes.iter().position(near) else { continue };
        let room = radius - body.holes[hole].diameter.nominal.bare().in_mm() / 2.0;
        if room > 0.8 && !all.iter().any(|e| e.hole == hole) {
            all.push(End { radius: *radius, hole });
        }
    }
    all
}
/// A pair of buttons of this radius on a pin of this size.
fn pair(asking: &mut Asking<'_>, at: &str, radius: f64, bore: Val<Diameter>) -> Option<(Named, Val<Radius>)> {
    asking.shop.lathes.first()?;
    let round = asking.book.solved(
        format!("{at}.radius"),
        Radius::mm(radius),
        ("radius of the arc about the hole, from the outline", 1, 0.0),
        vec![bore.id()],
        &GEOMETRY,
    );
    let hundredths = |l: f64| reckon::print::fixed(l, 2).replace('.', "_");
    let slug = format!("filing_buttons.{}x{}", hundredths(radius), hundredths(bore.bare().in_mm()));
    let why = format!(
        "{}: an end is rounded to {} about its hole; filed to a line it is out by a tenth, between hard discs by a hundredth or two.",
        asking.part.common.name,
        round.shown()
    );
    let named = asking.ask(&slug, why, |board| {
        let name = format!("filing buttons R{} on {}", plain(radius), plain(bore.bare().in_mm()));
        let metal = bar_of(board.shop, &["silver steel"], Diameter::mm(radius * 2.0));
        let note = "Both from one bar at one setting, so that they are alike. Hardened and only just drawn back: a file must skate on them. A close screw or pin with a nut through both and the work.";
        board.pieces = 2;
        let mut t = Turning::new(board, &name, metal, note);
        t.finished(&[Finish::Harden, Finish::Temper], 60.0);
        let b = t.board();
        let size = {
            let n = b.name("outside");
            work!(b.book, n, |round| Diameter::si(round.value() * 2.0), &BUTTONS)
        };
        let size = b.limited("outside", size, (0.0, -0.02));
        let thick = b.assumed("thick", Length::mm(4.0), "house default: as thick as a file is steady on");
        let hole = {
            let n = b.name("bore_size");
            work!(b.book, n, |bore| bore, &GEOMETRY)
        };
        let hole = b.limited("bore_size", hole, (0.05, 0.0));
        t.section(thick, size);
        t.bore(true, hole, None);
        t.part()
    })?;
    Some((named, round))
}
/// Asks for buttons for the rounded ends of a flat part, where there are two or more of one radius in the batch.
pub fn round_ends(
    part: &Part,
    body: &FlatBody,
    setups: &mut [SetUp],
    shop: &Shop,
    jigs: &mut Jigs,
    book: &mut Book,
) {
    if part.slug().starts_with(PREFIX) {
        return;
    }
    let ends = ends(body);
    let each = part.common.count.bare().0.max(1);
    let mut done: Vec<usize> = Vec::new();
    for (k, e) in ends.iter().enumerate() {
        let bore = body.holes[e.hole].diameter.nominal;
        let alike: Vec<usize> = (k..ends.len())
            .filter(|j| {
                let other = body.holes[ends[*j].hole].diameter.nominal;
                (ends[*j].radius - e.radius).abs() < 5e-3
                    && (other.bare() - bore.bare()).abs() < Length::mm(5e-3)
            })
            .collect();
        let many = i64::try_from(alike.len()).unwrap_or(1) * each;
        if done.contains(&k) || many < 2 {
            continue;
        }
        done.extend(&alike);
        let at = format!("{}.rounded.{}", part.slug(), reckon::slug(&body.holes[e.hole].label));
        let mut asking = Asking { jigs: &mut *jigs, shop, part, book: &mut *book };
        let Some((named, round)) = pair(&mut asking, &at, e.radius, bore) else { continue };
        let labels: Vec<&str> = alike.iter().map(|j| body.holes[ends[*j].hole].label.as_str()).collect();
        let outline = setups.iter_mut().flat_map(|s| &mut s.operations);
        let Some(op) = outline.into_iter().find(|o| o.title == crate::nc::mill::OUTLINED) else { return };
        op.lines.push(format!(
            "Round about {}: one of the {} on either face, a close pin through all three, in the vice by the discs. File across both discs, turning the work as you go, with light strokes: where the file skates on both discs the end is round to {} about its hole. Stop there: pressing on only spoils the file.",
            labels.join(", "),
            named.name,
            round.shown()
        ));
    }
}
