//! The crutch: a strip from the pallets' arbor down to a fork about the pendulum's rod.

use super::super::common::{About, house, long, sized};
use super::super::drive::plain::{self, At, Cut};
use crate::design::Movement;
use crate::part::{Figure, FlatNote, Part};
use kurbo::Point;
use reckon::source::{HOUSE, Source};
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Escapement, MovementFacts};
use shape::profile::{Profile, Sense};

/// How long a crutch is, and how free its fork.
pub static CRUTCH: Source = Source::practice(
    "a crutch reaches a third of the pendulum's length down and not more than 150 mm; its fork is 0.02 to 0.05 mm free",
);

/// The crutch, and how far below its bore it is bent (mm).
pub(super) fn crutch(
    m: &Movement,
    facts: &MovementFacts,
    e: &Escapement,
    stem: Val<Diameter>,
    book: &mut Book,
) -> Option<(Part, f64)> {
    let (p, d) = (facts.pendulum.as_ref()?, m.pendulum.as_ref()?);
    let slug = "escapement.crutch".to_owned();
    let (pendulum, rod) = (d.length, p.rod_diameter);
    let length = work!(
        book,
        format_args!("{slug}.to_bend"),
        |pendulum| Length::mm((pendulum.in_mm() / 3.0).min(150.0).round()),
        &CRUTCH
    );
    let free = house(&format!("{slug}.free"), 0.03, "play of the rod in the fork", book);
    let slot = work!(book, format_args!("{slug}.slot"), |rod, free| rod.across() + free, &CRUTCH);
    let slot = long(slot, &format!("{slug}.slot"), 0.02, 0.0, book);
    let width = house(&format!("{slug}.strip"), 5.0, "stiff across the swing", book);
    let prong = house(&format!("{slug}.prong"), 2.5, "each prong of the fork", book);
    let reach =
        house(&format!("{slug}.reach"), 8.0, "from the bend to the fork, to be bent by the case", book);
    let open_to = slot.nominal;
    let fork = work!(book, format_args!("{slug}.fork"), |open_to, prong| open_to + prong * 2.0, &HOUSE);
    let thick = house(&format!("{slug}.thickness"), 1.5, "hard rolled strip", book);
    let thickness = long(thick, &format!("{slug}.thickness_made"), 0.0, -0.05, book);
    let bore = sized(stem, &format!("{slug}.bore"), 0.012, 0.0, book);
    let mm = |v: &Val<Length>| v.bare().in_mm();
    let (half, boss) = (mm(&width) / 2.0, (stem.bare().in_mm() / 2.0 + 2.2).max(4.0));
    let (wide, open) = (mm(&fork) / 2.0, mm(&slot.nominal) / 2.0);
    let bend = -mm(&length);
    let top = bend - mm(&reach);
    let floor = top - 3.0;
    let end = floor - rod.bare().in_mm() - 3.0;
    let meets = -(boss * boss - half * half).max(0.0).sqrt();
    let outline = Profile::start(-half, meets)
        .line(-half, top)
        .line(-wide, top)
        .line(-wide, end)
        .line(-open, end)
        .line(-open, floor)
        .line(open, floor)
        .line(open, end)
        .line(wide, end)
        .line(wide, top)
        .line(half, top)
        .line(half, meets)
        .arc_to(Point::new(-half, meets), Point::ORIGIN, Sense::Left);
    let about = About {
        name: "crutch".to_owned(),
        slug,
        at: &e.at,
        material: e.material,
        finish: &[],
        count: 1,
        note: Some(format!(
            "Drawn flat. Bend square {} below the bore, fork towards the pendulum; fit the fork to the rod itself, free without shake.",
            length.shown()
        )),
    };
    let notes = vec![
        ((open, f64::midpoint(floor, end)), FlatNote::Figure(Figure::length(&slot))),
        ((half, bend), FlatNote::Words("bend here".to_owned())),
    ];
    let cut = Cut {
        word: "crutch",
        outline,
        thickness,
        holes: vec![At { label: "A", x: 0.0, y: 0.0, size: bore }],
        round: None,
        teeth: None,
        notes,
    };
    Some((plain::flat(&about, cut, book), -bend))
}
