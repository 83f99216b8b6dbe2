//! Tempering for a wanted hardness: how hot, how long, in which band, what colour bears witness.

use super::Piece;
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, PassTable, Spread, bench};
use heat::{colour, steel, temper};
use reckon::{Book, Cell, Id, Ratio, Temperature, TemperatureDifference, Time, Val, judge};
use record::facts::Shop;

/// How long a piece is held, as the tables of hardness have it (h).
const HOURS: f64 = 1.0;

/// Tempering as planned.
#[derive(Clone, Debug)]
pub struct Tempered {
    /// Hardness that is wanted (HRC).
    pub wanted: Val<Ratio>,
    /// Heat.
    pub at: Val<Temperature>,
    /// By how much it may be off.
    pub off: Val<TemperatureDifference>,
    /// How long.
    pub hold: Val<Time>,
    /// Band of heat with hardness and colour.
    pub band: Id,
    /// Whether the oven of the shop reaches it.
    pub oven: bool,
    /// How the trade has it.
    pub how: String,
}
/// What is usually wanted of such a part.
pub(super) fn usual(p: &Piece<'_>) -> &'static steel::Wanted {
    let kind = p.part.kind.word();
    let name = p.part.common.name.to_lowercase();
    let leaves = p.part.turned().is_some_and(|b| !b.leaves.is_empty());
    let word = if kind.contains("pallet") || name.contains("pallet") {
        "pallet"
    } else if kind.contains("spring") || name.contains("spring") || name.contains("bow") {
        "spring"
    } else if kind.contains("click") || kind.contains("ratchet") || kind.contains("detent") {
        "click"
    } else if leaves {
        "pinion"
    } else if kind.contains("arbor") || kind.contains("pin") {
        "arbor"
    } else {
        "screw"
    };
    let all = &steel::tables().wanted;
    all.iter().find(|w| w.part == word).unwrap_or(&all[0])
}
/// The middle of what is usual; a harder one of that range where the oven does not get so hot.
fn within_oven(p: &Piece<'_>, steel: &steel::Steel, usual: &steel::Wanted) -> f64 {
    let middle = f64::midpoint(usual.low, usual.high);
    let hottest = p.shop.fire.oven.and_then(|(greatest, _)| temper::hardness(steel, greatest.bare().in_celsius()));
    match hottest.map(|h| h + p.model.hardness) {
        // Told in half points, and never nearer to the oven's end than that.
        Some(h) if h > middle => ((h * 2.0).ceil() / 2.0).min(usual.high),
        _ => middle,
    }
}
pub(super) fn temper(p: &Piece<'_>, book: &mut Book) -> Option<Tempered> {
    let steel = p.steel?;
    let usual = usual(p);
    let wanted = match p.part.common.hardness {
        Some(w) => w,
        None => book.assumed(
            p.name("wanted"),
            Ratio::si(within_oven(p, steel, usual)),
            format!("house default: HRC of a {}; hardness = … on the part asks for another", usual.part),
        ),
    };
    // The table is moved by what this shop's coupons say.
    let celsius = temper::celsius_for(steel, wanted.bare().value() - p.model.hardness);
    let reach = bench::found(
        book,
        (p.name("hardness_can_be"), &format!("{} can be tempered to that hardness", steel.material)),
        usize::from(celsius.is_some()),
        "temperatures in the curve of tempering",
    );
    let (most, least) = (steel.curve.first()?.1, steel.curve.last()?.1);
    book.cure(reach.id(), format!("a hardness between {least} and {most} HRC"));
    let celsius = celsius?;
    let by = temper::curve_by(steel, celsius);
    let at = book.solved(
        p.name("temper"),
        Temperature::celsius(celsius),
        ("where the curve of one hour has the wanted hardness", 1, 0.0),
        vec![wanted.id()],
        by,
    );
    let hold = book.assumed(p.name("temper_hold"), Time::si(HOURS * 3600.0), "house default: an hour, as the curve has it");
    let off = match (p.shop.fire.thermometer, p.shop.fire.oven) {
        (Some(t), Some((_, o))) => reckon::work!(
            book,
            p.name("temper_off"),
            |t, o| TemperatureDifference::si((t.value() * t.value() + o.value() * o.value()).sqrt()),
            &reckon::source::GEOMETRY
        ),
        _ => book.assumed(
            p.name("temper_off"),
            TemperatureDifference::si(p.model.off),
            "house default: no thermometer is written, so heat is judged by colour",
        ),
    };
    let oven = oven(p, at, book);
    let band = band(p, steel, celsius, HOURS, vec![at.id(), off.id()], "temper_band", book);
    Some(Tempered { wanted, at, off, hold, band, oven, how: usual.how.clone() })
}
/// Whether the oven gets there.
fn oven(p: &Piece<'_>, at: Val<Temperature>, book: &mut Book) -> bool {
    let Some((greatest, _)) = p.shop.fire.oven else { return false };
    let verdict = judge!(
        book,
        p.name("oven_reaches"),
        "the oven of the shop reaches the heat of this temper",
        |at, greatest| at <= greatest,
        &reckon::source::GEOMETRY
    );
    book.cure(verdict.id(), "over a gas ring in a tray of sand, by thermometer and colour");
    book.cure(verdict.id(), "a harder temper, if the part bears it");
    verdict.bare()
}
/// Heat from low to high of what a thermometer tells, with hardness and colour.
pub(super) fn band(
    p: &Piece<'_>,
    steel: &'static steel::Steel,
    celsius: f64,
    hours: f64,
    inputs: Vec<Id>,
    name: &str,
    book: &mut Book,
) -> Id {
    let c = temper::constant(steel.carbon);
    let rows = [-1.0, -0.5, 0.0, 0.5, 1.0]
        .iter()
        .map(|k| {
            let t = celsius + k * p.model.off;
            let hrc = temper::after(steel, &[(t, hours)], c).map(|h| h + p.model.hardness);
            let film = p.model.growth.film(t, hours * 3600.0);
            vec![
                Cell::of(&Temperature::celsius(t)),
                hrc.map_or(Cell::word("–"), |h| {
                    Cell::as_text(&Ratio::si(h), format!("{} HRC", reckon::print::fixed(h, 1)))
                }),
                Cell::word(colour::named(film).map_or("past the blues", |k| k.name.as_str())),
            ]
        })
        .collect();
    book.table(
        p.name(name),
        &["if it really is", "hardness", "colour on bright steel"],
        rows,
        format!("thermometer and oven together; colour by {}", p.model.by()),
        inputs,
        &colour::GROWTH,
    )
}
impl Tempered {
    pub(super) fn operation(&self, shop: &Shop) -> Operation {
        let lines = vec![
            "At once, before it is quite cold: as quenched it is brittle as glass and may crack by itself.".to_owned(),
            if self.oven {
                format!("In the oven at {} for {}; the clock runs when the pieces are hot. The colour is a witness, not the judge.", self.at.shown(), self.hold.shown())
            } else {
                format!("By colour, on a tray over moving heat: slowly to {}, then off and left to cool.", self.at.shown())
            },
            format!("The heat may be off by {}: what that does stands in the table.", self.off.shown()),
        ];
        let tool = match (&shop.fire.oven, self.oven) {
            (Some(_), true) => "oven, thermometer beside the pieces".to_owned(),
            _ => "brass tray, sand or filings, moving heat".to_owned(),
        };
        Operation {
            title: "Temper".to_owned(),
            lines,
            tool: Some(tool),
            figures: vec![
                Figure::of("temper at", &self.at),
                Figure::of("for", &self.hold),
                Figure::as_text("to", &self.wanted, format!("{} HRC", self.wanted.shown())),
            ],
            tables: vec![PassTable { title: "what the band of heat does".to_owned(), id: self.band }],
            checks: vec![seen("colour seen", "one of those in the table, the same on all pieces; write which")],
            cautions: vec![Caution::Hot],
            time: Spread::minutes(3.0, 5.0, 10.0),
            ..Operation::default()
        }
    }
}
