//! Hardening: from which heat, in which bath, how long, how hard, and whether it cracks.

use super::{Fired, Piece};
use crate::plan::hole::seen;
use crate::plan::{Caution, Figure, Operation, PassTable, Spread, bench};
use heat::quench::{self, Risk};
use heat::steel::{Heat, Medium};
use movement::part::Body;
use reckon::{Alternative, Book, Cell, Count, Id, Length, Ratio, Temperature, Time, Val, judge};
use record::facts::Shop;

/// Hardening as planned.
#[derive(Clone, Debug)]
pub struct Hardened {
    /// Steel.
    pub steel: &'static str,
    /// Bath, in a word.
    pub medium: &'static str,
    /// How the bath is kept.
    pub bath: String,
    /// Heat to quench from: light pieces, heavy pieces.
    pub from: (Val<Temperature>, Val<Temperature>),
    /// Soak in a furnace once it is hot through.
    pub soak: Val<Time>,
    /// Hardness as it comes from the bath (HRC).
    pub hard: (Val<Ratio>, Val<Ratio>),
    /// What speaks for cracks.
    pub cracks: Option<Id>,
    /// How it is put in, and what is left on it.
    pub advice: Vec<&'static str>,
    /// How it is annealed should it have to be soft again.
    pub anneal: String,
    /// Seconds from 780 to 540 °C in this bath.
    pub quick: Option<Val<Time>>,
}
/// Which of the shop's baths is of a kind.
fn bath<'s>(shop: &'s Shop, medium: Medium) -> Option<&'s str> {
    let is = |q: &str| {
        let q = q.to_lowercase();
        match medium {
            Medium::Oil => q.contains("oil"),
            Medium::Brine => q.contains("brine") || q.contains("salt"),
            Medium::Water => q.contains("water") && !q.contains("salt"),
        }
    };
    shop.fire.quench.iter().map(String::as_str).find(|q| is(q))
}
pub(super) fn harden(p: &Piece<'_>, book: &mut Book) -> Option<Hardened> {
    let material = &p.part.common.material.name;
    let known = bench::found(
        book,
        (p.name("known"), &format!("it is known how {material} is hardened")),
        usize::from(p.steel.is_some()),
        "steels in the tables",
    );
    book.cure(known.id(), "a steel that the tables know: silver steel, or oil-hardening tool steel");
    book.cure(known.id(), "leave \"harden\" out; mild steel is case-hardened by those who do it daily");
    let steel = p.steel?;
    let section = p.section.bare().in_mm();
    let fits = |h: &Heat| h.sure.is_none_or(|s| section <= s + 1e-9);
    let owned = |h: &Heat| bath(p.shop, h.medium).is_some();
    let mut ranked: Vec<&Heat> = steel.heats.iter().collect();
    ranked.sort_by_key(|h| h.medium);
    let taken = ranked
        .iter()
        .find(|h| fits(h) && h.sure.is_some() && owned(h))
        .or_else(|| ranked.iter().find(|h| fits(h) && owned(h)))
        .or_else(|| ranked.iter().find(|h| fits(h)))
        .or(ranked.first())
        .copied()?;
    let said = |mm: f64| reckon::Shown::shown(&Length::mm(mm));
    let among = ranked
        .iter()
        .map(|h| {
            let why = match (h.sure, owned(h)) {
                (Some(s), _) if section > s + 1e-9 => {
                    format!("hardens through to {} only; this is {}", said(s), said(section))
                }
                (_, false) => "the shop has no such bath".to_owned(),
                (Some(s), true) => format!("sure to {}, the milder the better", said(s)),
                (None, true) => "no limit is known; cracks sooner than oil".to_owned(),
            };
            Alternative { what: format!("{}: {}", h.medium.text(), h.bath), taken: *h == taken, why }
        })
        .collect();
    book.chosen(
        p.name("medium"),
        taken.medium.text().to_owned(),
        "the mildest bath of the shop that hardens this section through",
        among,
        vec![p.section.id()],
        taken.source,
    );
    let has = bench::found(
        book,
        (p.name("bath_found"), &format!("the shop has {} to quench it in", taken.medium.text())),
        usize::from(owned(taken)),
        "baths written under [fire]",
    );
    book.cure(has.id(), format!("write quench = [\"{}\"] under [fire] when there is one", taken.bath));
    if let Some(sure) = taken.sure {
        let section = p.section;
        let sure = book.tabled(
            p.name("through"),
            Length::mm(sure),
            format!("{material} in {}", taken.medium.text()),
            taken.source,
        );
        let through = judge!(
            book,
            p.name("hardens_through"),
            format!("{material} of this section hardens through in {}", taken.medium.text()),
            |section, sure| section <= sure,
            taken.source
        );
        book.cure(through.id(), "a steel that hardens deeper: oil-hardening tool steel");
        book.cure(through.id(), "bore or thin what need not be thick, before the fire");
        book.cure(through.id(), "take it as hard on the skin only: let it pass in writing");
    }
    let low = book.tabled(p.name("from"), Temperature::celsius(taken.low), format!("{material}, light section"), taken.source);
    let high = book.tabled(p.name("from_most"), Temperature::celsius(taken.high), format!("{material}, heavy section"), taken.source);
    let soak = book.solved(
        p.name("soak"),
        Time::si(steel.soak_s(section)),
        ("minutes for each millimetre once it is hot through, never under five", 1, 0.0),
        vec![p.section.id()],
        steel.source,
    );
    let hard = (
        book.tabled(p.name("as_quenched"), Ratio::si(steel.hard.0), format!("{material}, HRC"), steel.source),
        book.tabled(p.name("as_quenched_most"), Ratio::si(steel.hard.1), format!("{material}, HRC"), steel.source),
    );
    let quick = quick(p, taken, book);
    let cracks = cracks(p, taken, steel.carbon, book);
    let slender = match &p.part.body {
        Body::Turned(b) => b.length.bare().in_mm() / b.largest.bare().in_mm(),
        Body::Flat(_) => 1.0,
    };
    Some(Hardened {
        steel: steel.material.as_str(),
        medium: taken.medium.text(),
        bath: bath(p.shop, taken.medium).map_or(taken.bath.clone(), |b| format!("{b}: {}", taken.bath)),
        from: (low, high),
        soak,
        hard,
        cracks,
        advice: quench::advice(slender, taken.medium),
        anneal: format!("{} to {} °C, {}", steel.anneal.0, steel.anneal.1, steel.anneal_how),
        quick,
    })
}
/// How fast it passes the heat at which it would go soft.
fn quick(p: &Piece<'_>, taken: &Heat, book: &mut Book) -> Option<Val<Time>> {
    let (_, _, [low, high]) = quench::SEVERITIES.iter().find(|s| s.0 == taken.medium && s.1 != "still")?;
    let h = quench::film(f64::midpoint(*low, *high), quench::HOT_CONDUCTS);
    let bath = if taken.medium == Medium::Oil { 50.0 } else { 20.0 };
    let s = quench::through_nose(p.lump.bare().value(), p.density, h, bath)?;
    Some(book.solved(
        p.name("through_the_nose"),
        Time::si(s),
        ("one lump from 780 to 540 °C in the moving bath", 1, 0.0),
        vec![p.lump.id()],
        &quench::NOSE,
    ))
}
/// What the form says about cracking, as a table and a verdict.
fn cracks(p: &Piece<'_>, taken: &Heat, carbon: f64, book: &mut Book) -> Option<Id> {
    let section = p.section.bare().in_mm();
    let (slotted, edge) = match &p.part.body {
        Body::Turned(b) => {
            let cross = b.cross_holes.iter().map(|(_, d)| {
                let d = d.bare().in_mm();
                (section - d) / 2.0 / d
            });
            let threads = b.steps.iter().any(|s| s.thread.is_some());
            (b.slot.is_some() || threads, cross.reduce(f64::min))
        }
        Body::Flat(b) => {
            let (x0, y0) = (b.datum.0.bare().in_mm(), b.datum.1.bare().in_mm());
            let (w, h) = (b.extent.0.bare().in_mm(), b.extent.1.bare().in_mm());
            let to_edge = b.holes.iter().map(|hole| {
                let (x, y) = (hole.centre.0.bare().in_mm() - x0, hole.centre.1.bare().in_mm() - y0);
                let d = hole.diameter.nominal.bare().in_mm();
                (x.min(w - x).min(y).min(h - y) - d / 2.0) / d
            });
            (false, to_edge.reduce(f64::min))
        }
    };
    let corner = book.assumed(
        p.name("corner"),
        Length::mm(0.2),
        "house default: inner corners as a tool of 0.2 mm nose leaves them",
    );
    let wait = book.assumed(p.name("wait"), Time::si(600.0), "house default: tempered within ten minutes");
    let risk = Risk {
        medium: taken.medium,
        sections: section / p.least.max(1e-6),
        edge,
        corner: Some(corner.bare().in_mm()),
        slotted,
        carbon,
        over: 0.0,
        wait: wait.bare().value() / 60.0,
    };
    let reasons = quench::reasons(risk);
    let score: u32 = reasons.iter().map(|(n, _)| n).sum();
    let inputs = vec![p.section.id(), corner.id(), wait.id()];
    let rows = reasons
        .iter()
        .map(|(n, why)| vec![Cell::of(&Count(i64::from(*n))), Cell::word(*why)])
        .collect();
    let table = (!reasons.is_empty()).then(|| {
        book.table(p.name("cracks"), &["points", "why"], rows, "each reason has its points", inputs.clone(), &quench::SCORE)
    });
    let score = book.solved(
        p.name("crack_score"),
        Count(i64::from(score)),
        ("points of the reasons, added", 1, 0.0),
        inputs,
        &quench::SCORE,
    );
    let verdict = judge!(
        book,
        p.name("stands_the_quench"),
        "its form stands the quench: fewer than six points",
        |score| score < Count(6),
        &quench::SCORE
    );
    book.cure(verdict.id(), "an oil-hardening steel in oil");
    book.cure(verdict.id(), "larger radii in the corners, holes plugged with clay, threads wrapped in wire");
    book.cure(verdict.id(), "harden it in two pieces, or not at all");
    table
}
impl Hardened {
    pub(super) fn operation(&self, fired: &Fired, shop: &Shop) -> Operation {
        let torch = shop.fire.heat_with.as_deref().is_some_and(|w| w.contains("torch") || w.contains("flame"));
        let mut lines = vec![
            format!(
                "Heat slowly and evenly to {}, heavier pieces to {}: cherry red in a dark corner, just past where a magnet on a stick lets go (770 °C); no brighter.",
                self.from.0.shown(),
                self.from.1.shown()
            ),
            if torch {
                "By torch: the thick end first, the flame moving; when the colour is even all through, hold it for half a minute for each millimetre of section.".to_owned()
            } else {
                format!("In the furnace: {} at heat once it is hot through.", self.soak.shown())
            },
            format!("Straight down into {} and moving until it is cold; no longer on the way than a second.", self.bath),
        ];
        lines.extend(self.advice.iter().skip(1).map(|a| crate::plan::sentence(a) + "."));
        lines.push("A smooth file must skate over it. If it bites: too cool, too slow or carbon burnt off; anneal, clean and do it again once.".to_owned());
        let mut figures = vec![
            Figure::of("quench from", &self.from.0),
            Figure::as_text("comes to", &self.hard.0, format!("{} to {} HRC", self.hard.0.shown(), self.hard.1.shown())),
            Figure::of("soak in a furnace", &self.soak),
        ];
        figures.extend(self.quick.as_ref().map(|q| Figure::of("780 to 540 °C in the bath", q)));
        let cautions = match self.medium {
            "oil" => vec![Caution::Hot, Caution::OilBath],
            _ => vec![Caution::Hot, Caution::WaterBath],
        };
        let _ = fired;
        Operation {
            title: format!("Harden in {}", self.medium),
            lines,
            figures,
            tables: self.cracks.iter().map(|id| PassTable { title: "what speaks for cracks".to_owned(), id: *id }).collect(),
            checks: vec![seen("hardness", "a smooth file skates; no crack under the glass after cleaning")],
            cautions,
            time: Spread::minutes(3.0, 6.0, 15.0),
            ..Operation::default()
        }
    }
}
/// Against scale and lost carbon.
pub(super) fn coat() -> Operation {
    Operation {
        title: "Coat against scale".to_owned(),
        lines: vec![
            "Boric acid stirred into spirit to a cream; dip, let it drain, burn the spirit off far from the bottle: a white skin is left, which melts to a glass at heat and keeps the air off.".to_owned(),
            "Or: a packet of steel foil, folded twice along all edges, with a crumb of charcoal.".to_owned(),
            "Iron wire round each piece, by which it is carried.".to_owned(),
        ],
        tool: Some("boric acid in spirit, or foil and charcoal; iron wire".to_owned()),
        cautions: vec![Caution::Borate, Caution::Spirit],
        time: Spread::minutes(2.0, 4.0, 8.0),
        ..Operation::default()
    }
}
/// Off with the glass.
pub(super) fn clean() -> Operation {
    Operation {
        title: "Clean".to_owned(),
        lines: vec![
            "Boil in water until the glass has gone, brush, dry; one face bright with fine paper, so that colours can be seen to run.".to_owned(),
        ],
        tool: Some("boiling water, brass brush, fine paper".to_owned()),
        checks: vec![seen("pieces", "clean, no crack under the glass")],
        time: Spread::minutes(3.0, 5.0, 10.0),
        ..Operation::default()
    }
}
/// What the quench has bent.
pub(super) fn straighten() -> Operation {
    Operation {
        title: "Straighten".to_owned(),
        lines: vec![
            "Between centres, an indicator along it: mark the high side.".to_owned(),
            "Warm it to the heat of its temper, no higher; bend it between brass, or lay the hollow side up on brass and stretch it with light blows of a sharp-edged hammer.".to_owned(),
        ],
        tool: Some("centres, indicator, brass block, light hammer".to_owned()),
        checks: vec![seen("run", "within 0.02 mm in 50 mm")],
        cautions: vec![Caution::Hot],
        time: Spread::minutes(5.0, 10.0, 30.0),
        ..Operation::default()
    }
}
