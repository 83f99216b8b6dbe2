//! Laps turned in the shop for a grain that none of its own laps takes, from bar that it has.

use super::blank::Turning;
use super::guide::plain;
use super::{Asking, Jigs};
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, PartPlan, Spread, turned};
use heat::polish;
use movement::part::Part;
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Source, Val, work};
use record::facts::{HoldKind, Shop, StockForm};
use tables::material::Material;

/// How a lap is made and kept.
pub static LAP: Source = Source::practice(
    "a lap is turned, faced true where it runs or rubbed flat on glass with grain coarser than its own, charged by rolling one grain in, and never given another",
);
/// Least bar that a lap is worth, millimetres.
const LEAST: f64 = 16.0;
/// Which bars make which laps of the table.
const FROM: [(&str, &str); 4] =
    [("copper", "copper"), ("cast iron", "iron"), ("mild steel", "iron"), ("zinc", "tin or zinc")];

/// The thickest bar of the shop that makes this lap.
fn bar(shop: &Shop, lap: &str) -> Option<(&'static Material, Val<Diameter>)> {
    shop.lathes.first()?;
    let metals = FROM.iter().filter(|(_, l)| *l == lap).map(|(m, _)| *m);
    let bars = metals.flat_map(|m| {
        shop.stock.iter().filter_map(move |s| match &s.form {
            StockForm::Round { diameter, .. }
                if s.material.name == m && diameter.bare() >= Diameter::mm(LEAST) =>
            {
                Some((s.material, *diameter))
            }
            _ => None,
        })
    });
    bars.reduce(|a, b| if b.1.bare() > a.1.bare() { b } else { a })
}
/// Laps that the shop can turn from its bars, as the table calls them.
#[must_use]
pub fn can_be_turned(shop: &Shop) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for (_, lap) in FROM {
        if !all.iter().any(|l| l == lap) && bar(shop, lap).is_some() {
            all.push(lap.to_owned());
        }
    }
    all
}
/// Whether the shop lists this lap.
fn owned(shop: &Shop, name: &str) -> bool {
    shop.polish.laps.iter().any(|o| {
        let o = o.to_lowercase();
        name.split(" or ").any(|n| o.contains(n) || n.contains(o.trim()))
    })
}
/// Asks for every lap that a ladder goes over and the shop does not list: one a grain.
pub fn for_ladders(parts: &[Part], plans: &mut [PartPlan], shop: &Shop, jigs: &mut Jigs, book: &mut Book) {
    for plan in plans {
        let Some(ladder) = &plan.finish.ladder else { continue };
        let mut told = Vec::new();
        for rung in &ladder.rungs {
            if rung.lap.starts_with("paper") || owned(shop, &rung.lap) {
                continue;
            }
            let part = &parts[plan.part];
            let mut asking = Asking { jigs: &mut *jigs, shop, part, book: &mut *book };
            if let Some(name) = one(&mut asking, &rung.lap, rung.grain, ladder.on) {
                told.push(format!("The {name} is made for it and has a sheet of its own: that grain on it and no other, ever."));
            }
        }
        let polish = plan.setups.iter_mut().flat_map(|s| &mut s.operations);
        let works = ["polish", "polish faces", "pre-finish", "grain"];
        if let Some(op) = polish.into_iter().filter(|o| o.does.iter().any(|d| works.contains(d))).last() {
            op.lines.extend(told);
        }
    }
}
fn one(asking: &mut Asking<'_>, lap: &str, grain: Val<Length>, on: &str) -> Option<String> {
    let (metal, size) = bar(asking.shop, lap)?;
    let um = reckon::print::significant(grain.bare().in_mm() * 1e3, 3);
    let slug = format!("lap.{}_{}", reckon::slug(&metal.name), um.replace('.', "_"));
    let use_for =
        polish::laps().iter().find(|l| l.name == lap && l.on == on).map_or("", |l| l.use_for.as_str());
    let why = format!(
        "No lap of the shop takes a grain of {um} µm on {on}; one of {} does: {use_for}.",
        metal.name
    );
    let collet = asking.shop.lathes.first()?.holdings.iter().flat_map(|h| match &h.kind {
        HoldKind::Collet { sizes, .. } => sizes.clone(),
        _ => Vec::new(),
    });
    let shank = collet.filter(|s| s.bare() <= size.bare() * 0.6).reduce(|x, y| if y > x { y } else { x });
    let named = asking.ask(&slug, why, |board| {
        let name = format!("{} lap for {um} µm", metal.name);
        let note = "One grain for its whole life: cut its size into the rim, keep it in a box of its own with a lid. A single coarse grain on it means facing it anew.";
        board.after = vec![charged(grain, &um, size)];
        let mut t = Turning::new(board, &name, metal, note);
        let b = t.board();
        let long = b.assumed("shank", Length::mm(20.0), "house default: as long as a collet or a hand grips");
        let thin = match shank {
            Some(s) => {
                let n = b.name("shank_size");
                work!(b.book, n, |s| s, &GEOMETRY)
            }
            None => {
                let n = b.name("shank_size");
                work!(b.book, n, |size| Diameter::mm((size.in_mm() * 0.5).floor()), &LAP)
            }
        };
        let thin = b.limited("shank_size", thin, (0.0, -0.03));
        let broad = {
            let n = b.name("face_size");
            work!(b.book, n, |size| Diameter::mm((size.in_mm() - 0.5).floor()), &LAP)
        };
        let broad = b.limited("face_size", broad, (0.2, -0.2));
        let thick = {
            let n = b.name("thick");
            work!(b.book, n, |size| Length::mm((size.in_mm() / 4.0).ceil()), &LAP)
        };
        t.section(long, thin);
        t.section(thick, broad);
        t.part()
    })?;
    Some(named.name)
}
/// Flat, and its grain rolled in.
fn charged(grain: Val<Length>, um: &str, size: Val<Diameter>) -> crate::plan::SetUp {
    let flat = Operation {
        title: "Face flat".to_owned(),
        lines: vec![
            "Rub the turned face on a sheet of plate glass with oil and a grain twice as coarse as its own, in figures of eight, turning it in the hand, until it is matt all over; wash it in spirit, then with hot detergent, until a white cloth stays white.".to_owned(),
            "Shallow crossed scratches with a corner of a file, 3 mm apart, hold the paste; none within 2 mm of the rim.".to_owned(),
        ],
        tool: Some("plate glass, oil, grain, file".to_owned()),
        figures: vec![Figure::of("bar", &size)],
        checks: vec![seen("face", "matt all over, no light under a straight-edge")],
        cautions: vec![Caution::Spirit],
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    };
    let charge = Operation {
        title: "Charge it".to_owned(),
        lines: vec![
            format!(
                "A speck of {um} µm grain, as large as a match's head, in a drop of thin oil on the face; roll it in with a hardened roller or a ball race under the thumb, all over, until nothing is loose. Wipe off what is not held."
            ),
            format!("Cut {um} into the rim. Into its own box."),
        ],
        tool: Some("grain, oil, hardened roller".to_owned()),
        figures: vec![Figure::of("grain", &grain)],
        checks: vec![seen(
            "trial",
            "on a scrap of the same steel: one even haze, no single deep scratch under the glass",
        )],
        time: Spread::minutes(5.0, 10.0, 20.0),
        ..Operation::default()
    };
    turned::at_bench("flat and charged", &plain_bench(), vec![flat, charge], 5.0)
}
fn plain_bench() -> String {
    format!("finishing bench, glass plate of {} or more", plain(100.0))
}
