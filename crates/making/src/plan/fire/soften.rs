//! Annealing and stress relief, of steel and of brass.

use super::means::{self, Red};
use super::spared::SEASON;
use super::temper::minutes;
use super::{Card, Work};
use crate::plan::bench::found;
use crate::plan::{Caution, Check, Figure, Operation, Spread};
use heat::steel;
use reckon::{Length, Source, Temperature, Time, Val, judge, work};
use tables::material::Kind;

/// Relief of brass.
pub static BRASS_RELIEF: Source =
    Source::read("data sheet of CW608N: stress relief at 200 to 300 °C, 1 to 3 h");
/// Softening of brass.
pub static BRASS_ANNEAL: Source = Source::read("data sheet of CW608N: annealed at 450 to 650 °C");
/// Relief of steel before it is hardened.
pub static STEEL_RELIEF: Source = Source::practice(
    "steel that was turned or bent is relieved at 600 to 650 °C for an hour, below where it hardens",
);
/// Relief of invar.
pub static INVAR_RELIEF: Source =
    Source::memory("makers of 36 % nickel iron: 315 °C for an hour, then 95 °C for two days");
/// How long brass is kept warm.
pub static HOUR: Source = Source::practice("an hour, and an hour more for each inch over the first");

/// Time of relief for a section.
#[must_use]
pub fn relief_time(thick: Length) -> Time {
    Time::si((thick.in_mm() / 25.4 * 3600.0).max(3600.0))
}
struct Softened {
    word: &'static str,
    title: &'static str,
    low: f64,
    high: f64,
    source: &'static Source,
    how: Vec<String>,
    hours: Option<f64>,
}
pub(super) fn anneal(w: &mut Work<'_>) -> Result<Operation, Box<Operation>> {
    let m = w.part.common.material;
    let plain = |low, high, source, how: &str, hours| Softened {
        word: "anneal",
        title: "Anneal",
        low,
        high,
        source,
        how: vec![how.to_owned()],
        hours,
    };
    let s = match m.kind {
        Kind::Brass | Kind::Bronze | Kind::NickelSilver | Kind::Copper => plain(
            450.0,
            650.0,
            &BRASS_ANNEAL,
            "Faint red in the dark, no more: leaded brass falls apart when it is moved hot. A smear of soap turns black in time. Let it lose its red, then water or air alike.",
            Some(0.0),
        ),
        Kind::ToolSteel => {
            let steel = w.steel("anneal")?;
            let how = format!(
                "{}: {}. Where there is no furnace, bury it red in warm dry ash or lime until morning.",
                steel.material, steel.anneal_how
            );
            plain(steel.anneal.0, steel.anneal.1, steel.source, &how, None)
        }
        Kind::Steel => plain(650.0, 700.0, &STEEL_RELIEF, "Dull red, then slowly in ash.", None),
        _ => {
            return Err(Box::new(
                w.refused("anneal", &format!("no figures to anneal {} by are known here", m.name)),
            ));
        }
    };
    Ok(softened(w, &s))
}
pub(super) fn relieve(w: &mut Work<'_>) -> Result<Operation, Box<Operation>> {
    let m = w.part.common.material;
    let s = match m.kind {
        Kind::Brass | Kind::Bronze | Kind::NickelSilver | Kind::Copper => Softened {
            word: "stress relieve",
            title: "Relieve of stress",
            low: 240.0,
            high: 260.0,
            source: &BRASS_RELIEF,
            how: vec![SEASON.to_owned(), "It stays as hard as it was, and darkens: before the last finish.".to_owned()],
            hours: None,
        },
        Kind::ToolSteel | Kind::Steel if steel::find(&m.name).is_ok() || m.kind == Kind::Steel => Softened {
            word: "stress relieve",
            title: "Relieve of stress",
            low: 600.0,
            high: 650.0,
            source: &STEEL_RELIEF,
            how: vec!["After roughing, before the finishing cuts: what will bend bends now. Slowly cold in ash or oven.".to_owned()],
            hours: None,
        },
        Kind::NickelIron => Softened {
            word: "stress relieve",
            title: "Stabilise",
            low: 305.0,
            high: 315.0,
            source: &INVAR_RELIEF,
            how: vec!["An hour at this heat, cool in the oven, then two days at 95 °C. Not bent, hammered or heated afterwards.".to_owned()],
            hours: None,
        },
        _ => return Err(Box::new(w.refused("stress relieve", &format!("no figures to relieve {} by are known here", m.name)))),
    };
    Ok(softened(w, &s))
}
fn softened(w: &mut Work<'_>, s: &Softened) -> Operation {
    let m = w.part.common.material;
    let at: Val<Temperature> = w.book.tabled(
        w.name("at"),
        Temperature::celsius(f64::midpoint(s.low, s.high)),
        format!("{}: {} to {} °C", m.name, s.low, s.high),
        s.source,
    );
    let thick = w.felt.thick;
    let time = match s.hours {
        Some(h) => w.book.assumed(
            w.name("time"),
            Time::si((h * 3600.0).max(60.0)),
            "house default: a minute at one even colour",
        ),
        None => work!(w.book, w.name("time"), |thick| relief_time(thick), &HOUR),
    };
    let warmth = means::warmth(w.shop, w.book, w.at, 0.0);
    let red = means::red(w.shop, at.bare().in_celsius());
    let n = usize::from(red != Red::Nothing);
    let name = w.name("gets_hot");
    let v = found(
        w.book,
        (name, "something in the shop brings it to this heat"),
        n,
        "flames and ovens of the shop that reach it",
    );
    w.book.cure(v.id(), format!("a torch and a hearth, or an oven that reaches {}", at.shown()));
    let band = warmth.band;
    let mut lines = s.how.clone();
    if red == Red::Oven {
        let (greatest, high) = (
            warmth.greatest,
            w.book.tabled(
                w.name("not_above"),
                Temperature::celsius(s.high.max(at.bare().in_celsius() + 50.0)),
                "upper end",
                s.source,
            ),
        );
        let safe = judge!(
            w.book,
            w.name("not_too_hot"),
            "the oven's own error leaves it below where it would soften",
            |at, band, high| at + band <= high,
            s.source
        );
        w.book.cure(safe.id(), "set it lower by the error of oven and thermometer");
        lines.push(format!(
            "Oven at {} ± {}, which goes to {}; time from when it reads so.",
            at.shown(),
            band.shown(),
            greatest.shown()
        ));
    }
    let large = vec![
        Figure::as_text("heat to", &at, format!("{} to {} °C", s.low, s.high)),
        Figure::as_text("for", &time, minutes(time.bare())),
    ];
    let own = vec![Figure::of("section", &thick), Figure::of("mass", &w.felt.mass)];
    let card = Card {
        word: s.word,
        title: format!("{}: {} at {}", s.title, m.name, at.shown()),
        like: format!("{} {} {} {}", s.word, m.name, at.shown(), minutes(time.bare())),
        large,
        own,
        lump: w.felt.lump.bare().in_mm(),
        strip: Vec::new(),
        strip_says: String::new(),
        lines,
        also: Vec::new(),
        write: vec!["heat read or colour seen", "for how long", "bow found afterwards"],
    };
    Operation {
        title: s.title.to_owned(),
        lines: vec![format!("{} to {} °C, {}.", s.low, s.high, minutes(time.bare()))],
        tool: match red {
            Red::Oven => Some("oven".to_owned()),
            _ => w.shop.fire.heat_with.clone(),
        },
        figures: card.large.clone(),
        checks: vec![Check {
            what: "form".to_owned(),
            limits: None,
            seen: Some("still straight and flat".to_owned()),
            id: None,
        }],
        cautions: vec![Caution::Hot],
        does: vec![s.word],
        heat: Some(Box::new(card)),
        time: w.shared(Spread::minutes(10.0, 20.0, 45.0)),
        ..Operation::default()
    }
}
