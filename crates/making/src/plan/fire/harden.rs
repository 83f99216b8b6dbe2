//! Hardening: which bath for the section, how hot and how to see it, how long, what cracks it, what comes out.

use super::body::Felt;
use super::means::{self, Bath, Red};
use super::temper::minutes;
use super::{Card, Work};
use crate::plan::bench::found;
use crate::plan::hole::seen;
use crate::plan::{Caution, Check, Figure, Operation, Spread};
use heat::quench::{self, Risk};
use heat::steel::{Heat, Medium, Steel};
use heat::warm;
use reckon::{Alternative, Cell, Count, Length, Ratio, Source, Temperature, Time, Val, Volume, judge, work};

/// Light sections from the low end of the range.
pub static AIM: Source =
    Source::read("data sheets of ground stock: light sections from the low end of the range");
/// Soak in a flame.
pub static FLAME: Source = Source::practice(
    "in a flame: one even colour, then a minute, and a fifth of a minute for each millimetre",
);
/// Oil for the mass.
pub static OIL: Source = Source::practice("a litre of oil for each 100 g of what is quenched at once");
/// What a face loses.
pub static LOSS: Source =
    Source::derived("twice the depth to which carbon leaves in air").with_formula("2 √(D t)");
/// Room temperature that a heat begins from, °C.
const ROOM: f64 = 20.0;
/// Gas that a flame is taken as, °C.
const GAS: f64 = 1300.0;

/// Soak in a flame.
#[must_use]
pub fn flame_soak(thick: Length) -> Time {
    Time::si(60.0 + 12.0 * thick.in_mm())
}
/// Where in its range a section is quenched from.
#[must_use]
pub fn aim(low: Temperature, high: Temperature, thick: Length) -> Temperature {
    let share = (thick.in_mm() / 10.0).min(1.0);
    let (a, b) = (low.in_celsius(), high.in_celsius());
    Temperature::celsius((a + share * (b - a)).round())
}
/// What quenching a part in a bath comes to.
struct Choice {
    heat: &'static Heat,
    bath: Option<Bath>,
    through: bool,
    score: u32,
    reasons: Vec<(u32, &'static str)>,
}
fn risk(steel: &Steel, felt: &Felt, medium: Medium) -> Risk {
    Risk {
        medium,
        sections: felt.thick.bare().value() / felt.thin.bare().value().max(1e-6),
        edge: felt.edge,
        corner: felt.corner,
        slotted: felt.rooted,
        carbon: steel.carbon,
        over: 0.0,
        wait: 5.0,
    }
}
fn choices(steel: &'static Steel, felt: &Felt, baths: &[Bath]) -> Vec<Choice> {
    let mm = felt.thick.bare().in_mm();
    let mut all: Vec<Choice> = steel
        .heats
        .iter()
        .map(|heat| {
            let reasons = quench::reasons(risk(steel, felt, heat.medium));
            Choice {
                heat,
                bath: baths.iter().find(|b| b.medium == heat.medium).cloned(),
                through: heat.sure.is_none_or(|s| mm <= s),
                score: reasons.iter().map(|r| r.0).sum(),
                reasons,
            }
        })
        .collect();
    all.sort_by_key(|c| c.heat.medium);
    all
}
/// The mildest bath of the shop that hardens through; else one to be got that does; else what comes nearest.
fn pick(all: &[Choice]) -> usize {
    let first = |f: &dyn Fn(&Choice) -> bool| all.iter().position(f);
    first(&|c| c.through && c.bath.is_some() && c.score < 6)
        .or_else(|| first(&|c| c.through && c.bath.is_some()))
        .or_else(|| first(&|c| c.through))
        .unwrap_or_else(|| {
            let most = |c: &Choice| (c.bath.is_some(), c.heat.most.unwrap_or(0.0), c.heat.medium);
            (0..all.len())
                .max_by(|a, b| {
                    most(&all[*a]).partial_cmp(&most(&all[*b])).unwrap_or(std::cmp::Ordering::Equal)
                })
                .unwrap_or(0)
        })
}
/// What was settled, for the words.
struct Settled {
    medium: Medium,
    bath: String,
    at: Val<Temperature>,
    low: Val<Temperature>,
    high: Val<Temperature>,
    soak: Val<Time>,
    warms: Val<Time>,
    red: Red,
    score: Val<Count>,
    loss: Val<Length>,
}
pub(super) fn harden(w: &mut Work<'_>) -> Result<Operation, Box<Operation>> {
    let steel = w.steel("harden")?;
    let baths = means::baths(w.shop);
    let all = choices(steel, &w.felt, &baths);
    let taken = pick(&all);
    bath(w, steel, &all, taken);
    let score = cracks(w, &all[taken]);
    let heat = all[taken].heat;
    let (at, (low, high), red) = hot(w, heat);
    let (warms, soak) = times(w, steel, at, &red);
    oil(w, &all[taken]);
    let (soaks, from) = (soak, at);
    let loss = work!(
        w.book,
        w.name("skin_loss"),
        |from, soaks| Length::mm(2000.0 * quench::depth(from.in_celsius(), soaks.value() + 60.0)),
        &LOSS
    );
    let bath =
        all[taken].bath.as_ref().map_or_else(|| heat.bath.clone(), |b| format!("{} ({})", b.name, heat.bath));
    let s = Settled { medium: heat.medium, bath, at, low, high, soak, warms, red, score, loss };
    Ok(told(w, steel, &s, &all[taken].reasons))
}
/// Writes the choice of bath, and what it cannot do.
fn bath(w: &mut Work<'_>, steel: &'static Steel, all: &[Choice], taken: usize) {
    let thick = w.felt.thick;
    let mm = reckon::print::significant(thick.bare().in_mm(), 3);
    let among = all
        .iter()
        .enumerate()
        .map(|(i, c)| {
            let size = match (c.through, c.heat.sure) {
                (_, None) => "no section is too thick for it that is known".to_owned(),
                (true, Some(s)) => format!("{mm} mm is within {s} mm that harden through in it"),
                (false, Some(s)) => format!("{mm} mm is more than {s} mm that surely harden through in it"),
            };
            let has = match &c.bath {
                Some(b) if b.made => "made from what is there",
                Some(_) => "in the shop",
                None => "not in the shop",
            };
            Alternative {
                what: c.heat.medium.text().to_owned(),
                taken: i == taken,
                why: format!("{size}; {has}; {} points of cracking", c.score),
            }
        })
        .collect();
    let rule = "the mildest bath of the shop that hardens the section through without a score of 6";
    let c = &all[taken];
    let name = w.name("medium");
    w.book.chosen(name, c.heat.medium.text().to_owned(), rule, among, vec![thick.id()], c.heat.source);
    let n = usize::from(c.bath.is_some());
    let name = w.name("bath_there");
    let says = format!("the shop has a bath of {} to quench this in", c.heat.medium.text());
    let there = found(w.book, (name, &says), n, "quenching baths of the shop that are of this kind");
    w.book.cure(there.id(), format!("fill one: {}; write it under quench in the shop", c.heat.bath));
    if let Some(sure) = c.heat.sure {
        let sure = w.book.tabled(
            w.name("through_to"),
            Length::mm(sure),
            format!("{}, {}", steel.material, c.heat.medium.text()),
            c.heat.source,
        );
        let v = judge!(
            w.book,
            w.name("hardens_through"),
            format!("{} hardens through at this section in {}", steel.material, c.heat.medium.text()),
            |thick, sure| thick <= sure,
            c.heat.source
        );
        for f in steel.failed.iter().filter(|f| f.medium == c.heat.medium) {
            w.book.cure(v.id(), format!("a piece of {} mm was seen to come out of {} at {} HV at its edge and {} HV inside: not hard", f.section, f.medium.text(), f.edge, f.inside));
        }
        if let Some(h) = steel
            .heats
            .iter()
            .find(|h| h.sure.is_none_or(|s| s > sure.bare().in_mm()) && h.medium != c.heat.medium)
        {
            w.book.cure(
                v.id(),
                format!("quench it in {} from {} to {} °C: {}", h.medium.text(), h.low, h.high, h.bath),
            );
        }
        w.book.cure(v.id(), "oil-hardening steel, which hardens through to 40 mm; or a lighter section; or content with a hard skin");
    }
}
fn cracks(w: &mut Work<'_>, c: &Choice) -> Val<Count> {
    let (thick, thin) = (w.felt.thick, w.felt.thin);
    let ratio = work!(w.book, w.name("sections"), |thick, thin| thick / thin, &quench::SCORE);
    let rows: Vec<Vec<Cell>> =
        c.reasons.iter().map(|(n, why)| vec![Cell::word(*why), Cell::of(&Count(i64::from(*n)))]).collect();
    let rule = "points of cracking by medium, sections, holes, corners, roots, carbon";
    let table = w.book.table(
        w.name("crack_reasons"),
        &["reason", "points"],
        rows,
        rule,
        vec![ratio.id()],
        &quench::SCORE,
    );
    let how = "sum of the points";
    let score = w.book.solved(
        w.name("crack_score"),
        Count(i64::from(c.score)),
        (how, 1, 0.0),
        vec![table],
        &quench::SCORE,
    );
    let v = judge!(
        w.book,
        w.name("form_stands_it"),
        "its form stands the quench",
        |score| score < Count(6),
        &quench::SCORE
    );
    for (_, why) in &c.reasons {
        w.book.cure(v.id(), *why);
    }
    w.book.cure(v.id(), "oil-hardening steel in oil takes two points or three away");
    score
}
fn hot(
    w: &mut Work<'_>,
    heat: &'static Heat,
) -> (Val<Temperature>, (Val<Temperature>, Val<Temperature>), Red) {
    let thick = w.felt.thick;
    let row = format!("quenched in {}", heat.medium.text());
    let low = w.book.tabled(w.name("range_low"), Temperature::celsius(heat.low), row.clone(), heat.source);
    let high = w.book.tabled(w.name("range_high"), Temperature::celsius(heat.high), row, heat.source);
    let at = work!(w.book, w.name("from"), |low, high, thick| aim(low, high, thick), &AIM);
    let red = means::red(w.shop, at.bare().in_celsius());
    let name = w.name("gets_hot");
    let n = usize::from(red != Red::Nothing);
    let v = found(
        w.book,
        (name, "something in the shop brings it to its hardening heat"),
        n,
        "flames and ovens of the shop that reach it",
    );
    w.book.cure(v.id(), format!("a torch and a hearth of fire brick, or a kiln that reaches {}", at.shown()));
    (at, (low, high), red)
}
/// Time to warm through, and to soak.
fn times(w: &mut Work<'_>, steel: &Steel, at: Val<Temperature>, red: &Red) -> (Val<Time>, Val<Time>) {
    let (thick, lump) = (w.felt.thick, w.felt.lump);
    let oven = *red == Red::Oven;
    let place =
        warm::PLACES.iter().find(|p| p.0 == if oven { "muffle" } else { "flame" }).map_or(100.0, |p| p.1[1]);
    let density = w.part.common.material.density.value.value();
    let tau = warm::tau(density, quench::HOT_HEAT, lump.bare().value(), place);
    let biot = warm::biot(place, lump.bare().value(), quench::HOT_CONDUCTS);
    let film = w.book.tabled(
        w.name("film"),
        Ratio::si(place),
        if oven { "muffle, W/(m² K)" } else { "flame, W/(m² K)" },
        &warm::TRAYS,
    );
    let how = "film over conduction within: below 0.1 the piece is of one heat throughout";
    w.book.solved(w.name("biot"), Ratio::si(biot), (how, 1, 0.0), vec![film.id(), lump.id()], &warm::LUMP);
    let c = at.bare().in_celsius();
    let (around, to) = if oven { (c, c - 10.0) } else { (GAS, c) };
    let s = warm::time(tau, around, ROOM, to).unwrap_or(0.0);
    let how = if oven {
        "until it is within 10 K of the oven"
    } else {
        "in a gas flame taken as 1300 °C, all round"
    };
    let warms = w.book.solved(
        w.name("warms_in"),
        Time::si(s),
        (how, 1, 0.0),
        vec![film.id(), lump.id(), at.id()],
        &warm::LUMP,
    );
    let soak = if oven {
        let per_mm = w.book.tabled(
            w.name("soak_a_mm"),
            Time::si(steel.soak * 60.0),
            steel.material.clone(),
            steel.source,
        );
        work!(
            w.book,
            w.name("soak"),
            |per_mm, thick| (per_mm * thick.in_mm()).max(Time::si(300.0)),
            &reckon::source::HOUSE
        )
    } else {
        work!(w.book, w.name("soak"), |thick| flame_soak(thick), &FLAME)
    };
    (warms, soak)
}
fn oil(w: &mut Work<'_>, c: &Choice) {
    let mass = w.felt.mass;
    let need = work!(w.book, w.name("bath_needed"), |mass| Volume::si(mass.value() / 0.1 * 1e-3), &OIL);
    let Some(litres) = c.bath.as_ref().and_then(|b| b.litres) else { return };
    let why = format!(
        "read from what the shop calls the bath: {}",
        c.bath.as_ref().map_or("", |b| b.name.as_str())
    );
    let have = w.book.assumed(w.name("bath_holds"), Volume::si(litres * 1e-3), why);
    let v = judge!(
        w.book,
        w.name("bath_enough"),
        "the bath is large enough for one piece at a time",
        |need, have| need <= have,
        &OIL
    );
    w.book
        .cure(v.id(), format!("{} litres or more", reckon::print::significant(need.bare().value() * 1e3, 2)));
}
/// What a red heat looks like in the shade.
fn glow(celsius: f64) -> &'static str {
    match celsius {
        c if c < 750.0 => "dull cherry",
        c if c < 825.0 => "cherry red, neither dull nor bright, seen in the shade",
        _ => "bright cherry, seen in the shade",
    }
}
fn told(w: &mut Work<'_>, steel: &'static Steel, s: &Settled, reasons: &[(u32, &'static str)]) -> Operation {
    let hard = |w: &mut Work<'_>, tail: &str, v: f64| {
        let name = w.name(tail);
        w.book.tabled(name, Ratio::si(v), format!("{}, as quenched", steel.material), steel.source)
    };
    let (low, high) = (hard(w, "quenched_low", steel.hard.0), hard(w, "quenched_high", steel.hard.1));
    let hrc = format!("{} to {} HRC", low.shown(), high.shown());
    let over = Temperature::celsius(s.high.bare().in_celsius() + 20.0);
    let whole = |t: &Val<Temperature>| reckon::print::fixed(t.bare().in_celsius(), 0);
    let range = format!("{} to {} °C", whole(&s.low), whole(&s.high));
    let large = vec![
        Figure::as_text("quench from", &s.low, range.clone()),
        Figure::as_text("comes to", &low, hrc.clone()),
    ];
    let mut own = vec![
        Figure::of("section", &w.felt.thick),
        Figure::of("mass", &w.felt.mass),
        Figure::of("heat to", &s.at),
    ];
    own.push(Figure::as_text("red in about", &s.warms, minutes(s.warms.bare())));
    own.push(Figure::as_text("then soak", &s.soak, minutes(s.soak.bare())));
    own.push(Figure::as_text("crack points (6 refuses)", &s.score, s.score.shown()));
    let mut lines = vec![format!("Quench in {}: {}.", s.medium.text(), s.bath)];
    match &s.red {
        Red::Oven => {
            lines.push("Oven at the heat of the list, time from when the piece has its colour.".to_owned());
        }
        Red::Flame(f) => lines.push(format!(
            "With the {f}: warm it all round and slowly, thick parts first, thin ends out of the flame."
        )),
        Red::Nothing => {}
    }
    lines.push(format!(
        "No pyrometer needed: a magnet lets go at 730 to 750 °C. Try it every few seconds; from where it lets go {} to {} K more, which is {}. Above {} the grain coarsens.",
        reckon::print::fixed(s.low.bare().in_celsius() - 740.0, 0),
        reckon::print::fixed(s.high.bare().in_celsius() - 740.0, 0),
        glow(s.at.bare().in_celsius()),
        reckon::Shown::shown(&over)
    ));
    lines.push("One even colour, then the soak; then at once under the bath, moving.".to_owned());
    let coated = w.has("polish") || s.loss.bare() > Length::mm(0.02);
    lines.push(format!(
        "Against scale: paint with boric acid in spirit, close the bottle and carry it away, burn the spirit off, then heat; it melts to a glass at 450 to 600 °C that keeps air off and comes away in boiling water. Without it a face loses about {} of its carbon skin.",
        s.loss.shown()
    ));
    let mut also: Vec<String> =
        quench::advice(w.felt.slender, s.medium).into_iter().skip(1).map(sentence).collect();
    also.extend(
        reasons.iter().filter(|r| r.0 > 0).map(|(n, why)| sentence(format!("crack risk {n}: {why}"))),
    );
    if steel.growth > 0.0 {
        also.push(format!(
            "Grows by about {} % in length.",
            reckon::print::significant(steel.growth * 100.0, 2)
        ));
    }
    lines.push("File test: a fine file skates on a clean corner. If it bites, anneal and begin again, ten degrees hotter; do not merely heat it once more.".to_owned());
    lines.push("Temper before a quarter of an hour is over.".to_owned());
    let mut cautions = vec![Caution::Hot];
    cautions.push(if s.medium == Medium::Oil { Caution::OilBath } else { Caution::WaterBath });
    cautions.extend([Caution::Borate, Caution::Spirit]);
    let card = Card {
        word: "harden",
        title: format!("Harden: {} in {}", steel.material, s.medium.text()),
        like: format!("harden {} {}", steel.material, s.medium.text()),
        large,
        own,
        lump: w.felt.lump.bare().in_mm(),
        strip: Vec::new(),
        strip_says: String::new(),
        lines,
        also,
        write: vec![
            "magnet let go after",
            "colour at the quench",
            "seconds soaked",
            "file skates",
            "bow or crack seen",
        ],
    };
    let short = vec![
        format!(
            "From {} in {}, after {} of soak at one even colour.",
            s.at.shown(),
            s.bath,
            minutes(s.soak.bare())
        ),
        if coated {
            "Coat it against scale first.".to_owned()
        } else {
            "Scale will come off with the finishing cut.".to_owned()
        },
    ];
    Operation {
        title: "Harden".to_owned(),
        lines: short,
        tool: w.shop.fire.heat_with.clone(),
        figures: vec![Figure::of("heat to", &s.at), Figure::as_text("comes to", &low, hrc)],
        checks: vec![Check {
            what: "hardness".to_owned(),
            limits: None,
            seen: Some("a fine file skates".to_owned()),
            id: Some(low.id()),
        }],
        cautions,
        does: vec!["harden"],
        heat: Some(Box::new(card)),
        time: w.shared(Spread::minutes(15.0, 25.0, 50.0)),
        ..Operation::default()
    }
}
/// A clause as a sentence.
fn sentence(clause: impl AsRef<str>) -> String {
    let mut s = clause.as_ref().to_owned();
    if let Some(c) = s.get_mut(..1) {
        c.make_ascii_uppercase();
    }
    s.push('.');
    s
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
