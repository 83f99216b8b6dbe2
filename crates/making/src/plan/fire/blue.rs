//! Blueing: seconds until each colour comes, how long the blue lasts, how many pieces at once, whether it softens.

use super::coupon::{self, Model};
use super::temper as tempering;
use super::wanted::Hardness;
use super::{Card, Patch, Work, means};
use crate::plan::{Caution, Check, Figure, Operation, Spread};
use heat::colour::{self, CHART_TIME, CHARTS, Warming};
use heat::steel::{self, Steel};
use heat::{film, temper as kernel, warm};
use reckon::{Alternative, Count, Ratio, Source, Temperature, TemperatureDifference, Time, Val, judge, work};
use tables::material::{Hardens, Kind};

/// How much hotter than the blue of the charts a tray is kept.
pub static TRAY: Source =
    Source::practice("a tray twenty to thirty degrees over the blue, so that the last colours come slowly");
/// Growth of a film while the piece warms.
pub static COMING: Source = Source::derived("growth of the film summed along the warming of one lump")
    .with_formula("d^m = ∫ k(T(t)) dt, T(t) = F - (F - T0) exp(-t/τ)");
/// Hardness after all heats.
pub static AFTER: Source = Source::derived(
    "time and temperature of all its heats one after another, by the tempering curve; the lower of two constants",
);
/// The blue that is aimed at: the word of the charts.
pub const BLUE: &str = "dark blue";
/// Where it is taken off, for it carries on.
pub const LIFT: &str = "violet";
/// Room temperature, °C.
const ROOM: f64 = 20.0;

fn film_at(celsius: f64) -> f64 {
    CHARTS.film(celsius, CHART_TIME)
}
fn chart(word: &str) -> f64 {
    colour::all().iter().find(|c| c.name == word).map_or(293.0, |c| c.at)
}
/// HRC left after a temper (°C, s) and a warming until a time, by the lower of the two constants in use.
#[must_use]
pub fn hardness_after(
    steel: &Steel,
    model: &Model,
    temper: Option<(f64, f64)>,
    w: Warming,
    seconds: f64,
) -> Option<f64> {
    let step = (seconds / 60.0).max(0.5);
    let mut heats: Vec<(f64, f64)> = temper.map(|(c, s)| (c, s / 3600.0)).into_iter().collect();
    let mut t = 0.0;
    while t < seconds {
        let dt = step.min(seconds - t);
        heats.push((warm::reached(w.tau, w.around, w.from, t + dt / 2.0), dt / 3600.0));
        t += dt;
    }
    // Hotter than the curve goes it is no harder than the curve's end.
    let end = steel.curve.last()?.1;
    let left = |c: f64| kernel::after_each(steel, &heats, c).unwrap_or(end);
    Some(left(kernel::constant(steel.carbon)).min(left(kernel::TEXTBOOK)) + model.offset)
}
pub(super) fn blue(w: &mut Work<'_>) -> Result<Operation, Box<Operation>> {
    let m = w.part.common.material;
    if !matches!(m.kind, Kind::Steel | Kind::ToolSteel | Kind::SpringSteel) {
        return Err(Box::new(w.refused(
            "blue",
            &format!(
                "the temper colours of the charts hold for carbon steel, and {} is {}",
                m.name,
                m.kind.text()
            ),
        )));
    }
    let steel = steel::find(&m.name).ok();
    let model = steel.map_or_else(
        || Model { offset: 0.0, growth: CHARTS, ids: Vec::new(), told: Vec::new() },
        |s| coupon::model(s, w.shop, w.book),
    );
    let warmth = means::warmth(w.shop, w.book, w.at, chart(BLUE) + 17.0);
    tempering::anything(w, warmth);
    let (greatest, band) = (warmth.greatest, warmth.band);
    let wanted = w.book.tabled(w.name("blue"), Temperature::celsius(chart(BLUE)), BLUE, colour::charts());
    let tray = work!(
        w.book,
        w.name("tray"),
        |wanted, greatest| (wanted + TemperatureDifference::si(27.0)).min(greatest),
        &TRAY
    );
    let h = warm::PLACES.iter().find(|p| p.0 == "brass filings").map_or(80.0, |p| p.1[1]);
    let h =
        w.book.tabled(w.name("film"), Ratio::si(h), "brass filings, piece half sunk, W/(m² K)", &warm::TRAYS);
    let density = m.density.value.value();
    let lump = w.felt.lump;
    let tau = warm::tau(density, warm::STEEL_HEAT, lump.bare().value(), h.bare().value());
    let tau = w.book.solved(
        w.name("tau"),
        Time::si(tau),
        ("density × heat × lump over film", 1, 0.0),
        vec![lump.id(), h.id()],
        &warm::LUMP,
    );
    let biot = warm::biot(h.bare().value(), lump.bare().value(), 43.0);
    w.book.solved(
        w.name("biot"),
        Ratio::si(biot),
        ("film × lump over 43 W/(m K)", 1, 0.0),
        vec![lump.id(), h.id()],
        &warm::LUMP,
    );
    let at = |celsius: f64| Warming { tau: tau.bare().value(), around: celsius, from: ROOM };
    let t = Times::of(&model, &at, tray.bare().in_celsius(), band.bare().value());
    let mut inputs = vec![tau.id(), tray.id(), band.id()];
    inputs.extend(&model.ids);
    let mut second = |tail: &str, v: Option<f64>, how: &str| {
        let v = Time::si(v.unwrap_or(colour::WATCHED).round());
        w.book.solved(w.name(tail), v, (how, 1, 0.0), inputs.clone(), &COMING)
    };
    let lift =
        second("lift", t.likely[1], "seconds until the colour one step before the blue, tray as wanted");
    let early = second("lift_early", t.hot[1], "the same with the tray as much too hot as it may be");
    let late = second(
        "lift_late",
        t.cool[1],
        "the same with the tray as much too cool as it may be; an hour where it never comes",
    );
    let over = second("gone", t.likely[3], "seconds until the blue begins to turn light");
    let comes = judge!(
        w.book,
        w.name("comes"),
        "the blue comes within twenty minutes, even where the tray is as cool as it may be",
        |late| late <= Time::si(1200.0),
        &COMING
    );
    w.book.cure(
        comes.id(),
        format!(
            "a tray of {}, which the {} does not reach: brass filings over a flame",
            wanted.shown(),
            if warmth.oven { "oven" } else { "shop" }
        ),
    );
    w.book.cure(comes.id(), "a steadier tray or a truer thermometer narrows the band");
    let window = work!(w.book, w.name("window"), |over, lift| over - lift, &COMING);
    let together = together(w, window);
    let hard = steel.and_then(|s| keeps(w, s, &model, (at(tray.bare().in_celsius()), lift)));
    Ok(told(
        w,
        &Told {
            tray,
            band,
            lift,
            early,
            late,
            window,
            together,
            hard,
            text: warmth.text(),
            times: &t,
            model: &model,
        },
    ))
}
/// Seconds at which colours come, tray as wanted and as far off as it may be.
struct Times {
    likely: Vec<Option<f64>>,
    hot: Vec<Option<f64>>,
    cool: Vec<Option<f64>>,
    patches: Vec<Patch>,
}
impl Times {
    fn of(model: &Model, at: &dyn Fn(f64) -> Warming, tray: f64, band: f64) -> Times {
        let marks = [film_at(chart("purple")), film_at(chart(LIFT)), film_at(chart(BLUE)), film_at(305.0)];
        let words = ["straw", "brown", "purple", "violet", "dark blue", "full blue", "light blue"];
        let films: Vec<f64> = marks.into_iter().chain(words.iter().map(|n| film_at(chart(n)))).collect();
        let run = |c: f64| model.growth.while_warming(at(c), &films);
        let (likely, hot, cool) = (run(tray), run(tray + band), run(tray - band));
        let text = |v: Option<f64>| v.map_or("never".to_owned(), |s| reckon::print::fixed(s, 0));
        let patches = words
            .iter()
            .enumerate()
            .map(|(i, name)| {
                let k = marks.len() + i;
                let nm = films[k];
                Patch {
                    name: (*name).to_owned(),
                    at: format!("{} s ({} to {})", text(likely[k]), text(hot[k]), text(cool[k])),
                    film: nm,
                    rgb: film::swatch(film::seen(nm)),
                    inside: matches!(*name, "violet" | "dark blue" | "full blue"),
                    aim: *name == BLUE,
                }
            })
            .collect();
        Times { likely, hot, cool, patches }
    }
}
/// How many pieces one pass takes: as many as can be lifted while the blue lasts.
fn together(w: &mut Work<'_>, window: Val<Time>) -> Val<Count> {
    let each = w.book.assumed(
        w.name("lift_each"),
        Time::si(2.0),
        "house default: two seconds to lift a piece with tweezers and lay it on cold brass",
    );
    let n = w.part.common.count;
    let most = work!(
        w.book,
        w.name("most_together"),
        |window, each| Count(reckon::Ratio::value(window / each).clamp(1.0, 1000.0).floor() as i64),
        &COMING
    );
    let (all, most_n) = (n.bare(), most.bare());
    let s = window.bare().value().round();
    let take = all.min(most_n);
    let passes = (all.0 + take.0 - 1) / take.0.max(1);
    let among = vec![
        Alternative {
            what: "one at a time".to_owned(),
            taken: take.0 == 1 && all.0 > 1,
            why: "surest where the blue lasts only seconds; every piece to its own eye".to_owned(),
        },
        Alternative {
            what: format!("{} together, {passes} times", take.0),
            taken: take.0 > 1 || all.0 == 1,
            why: format!("equal pieces; the blue lasts about {s} s, two seconds to lift each"),
        },
    ];
    w.book.chosen(
        w.name("at_once"),
        take,
        "as many as are lifted while the blue lasts",
        among,
        vec![most.id(), n.id()],
        &COMING,
    )
}
/// What the blue leaves of the hardness, where it was hardened: the number, and what is wanted.
fn keeps(
    w: &mut Work<'_>,
    steel: &'static Steel,
    model: &Model,
    (warming, lift): (Warming, Val<Time>),
) -> Option<(Val<Ratio>, Hardness)> {
    if !w.has("harden") {
        return None;
    }
    let wanted = Hardness::of(w.part, w.book, w.at)?;
    let thick = w.felt.thick.bare();
    let temper = w.has("temper").then(|| tempering::celsius(w.part, steel, model, w.shop)).flatten();
    let temper = temper.map(|c| (c, tempering::time_for(thick).value()));
    let left = hardness_after(steel, model, temper, warming, lift.bare().value())?;
    let mut inputs = vec![lift.id(), wanted.low.id(), w.felt.thick.id()];
    inputs.extend(&model.ids);
    let how = match temper {
        Some((c, _)) => format!(
            "hardness after the temper at {} °C and the blue, one after the other",
            reckon::print::fixed(c, 0)
        ),
        None => "hardness after the blue alone, straight from the quench".to_owned(),
    };
    let after =
        w.book.solved(w.name("hrc"), Ratio::si((left * 10.0).round() / 10.0), (how, 1, 0.0), inputs, &AFTER);
    let low = wanted.low;
    let v = judge!(
        w.book,
        w.name("keeps_hardness"),
        "the blue leaves it as hard as is wanted",
        |after, low| after >= low,
        &AFTER
    );
    w.book.cure(v.id(), "leave \"blue\" out: polished bright it keeps its hardness");
    w.book.cure(v.id(), "a blue lacquer or a chemical blue without heat, where only the colour is wanted");
    w.book.cure(
        v.id(),
        format!("be content with {} HRC: write hardness = {}", after.shown(), after.bare().value().floor()),
    );
    Some((after, wanted))
}
struct Told<'a> {
    tray: Val<Temperature>,
    band: Val<TemperatureDifference>,
    lift: Val<Time>,
    early: Val<Time>,
    late: Val<Time>,
    window: Val<Time>,
    together: Val<Count>,
    hard: Option<(Val<Ratio>, Hardness)>,
    text: &'static str,
    times: &'a Times,
    model: &'a Model,
}
fn told(w: &mut Work<'_>, t: &Told<'_>) -> Operation {
    let m = w.part.common.material;
    let s = |v: &Val<Time>| format!("{} s", reckon::print::fixed(v.bare().value(), 0));
    let large = vec![
        Figure::as_text("tray at", &t.tray, format!("{} ± {}", t.tray.shown(), t.band.shown())),
        Figure::as_text("lift at violet, about", &t.lift, s(&t.lift)),
    ];
    let mut own = vec![
        Figure::of("volume over skin", &w.felt.lump),
        Figure::as_text("violet at", &t.lift, format!("{} ({} to {})", s(&t.lift), s(&t.early), s(&t.late))),
        Figure::as_text("blue lasts", &t.window, s(&t.window)),
        Figure::as_text("at once", &t.together, t.together.shown()),
    ];
    let mut lines = vec![
        format!("{}; pieces half sunk in dry brass filings, heads of screws down in fitting holes so that head and shank lag alike.", capital(t.text)),
        "Polished to half a micrometre or finer all over, slots and edges too; degreased last and not touched again: a finger leaves its print.".to_owned(),
        format!("The eye on the piece is the master, the clock only warns: with tray and thermometer as far off as they may be, violet comes anywhere between {} and {} after it goes in.", s(&t.early), s(&t.late)),
        "Lift at violet, one step early: it carries on by 3 to 8 K. Drop it on cold brass, not in water.".to_owned(),
        "Only pieces whose volume over skin agrees within a tenth share a pass; others turn before or after them.".to_owned(),
        "Edges first: too hot a tray. Blotches: grease. The film is some 60 nm thick; to do it again, polish wholly back and blue the whole batch again, for matched heads never one alone.".to_owned(),
    ];
    let mut also = Vec::new();
    if let Some((after, wanted)) = &t.hard {
        own.push(Figure::as_text("leaves", after, format!("{} HRC", after.shown())));
        if after.bare().value() > wanted.high.bare().value() {
            also.push(format!(
                "The blue alone leaves {} HRC, harder than {}: write \"temper\" before \"polish\" in its finish, or a thread may snap.",
                after.shown(), wanted.text()
            ));
        }
    }
    if m.hardens == Hardens::AlreadyHard {
        also.push("It is bought hard and tempered at about this heat: stop at the same blue; a lighter colour softens it.".to_owned());
    }
    lines.extend(t.model.told.iter().cloned());
    let card = Card {
        word: "blue",
        title: format!("Blue: {}", m.name),
        like: format!("blue {} {}", m.name, t.tray.shown()),
        large,
        own,
        lump: w.felt.lump.bare().in_mm(),
        strip: t.times.patches.clone(),
        strip_says: "seconds after it goes in, tray as wanted (and as hot and as cool as it may be)"
            .to_owned(),
        lines,
        also: also.clone(),
        write: vec!["tray read", "violet came after", "lifted after", "colour when cold", "pieces even"],
    };
    let mut short = vec![format!(
        "In a tray at {}, {} at once; lift at violet after about {} ({} to {}).",
        t.tray.shown(),
        t.together.shown(),
        s(&t.lift),
        s(&t.early),
        s(&t.late)
    )];
    short.extend(also);
    Operation {
        title: "Blue".to_owned(),
        lines: short,
        tool: Some(t.text.to_owned()),
        figures: card.large.clone(),
        checks: vec![Check {
            what: "colour".to_owned(),
            limits: None,
            seen: Some("one even blue, edges and slot too; all pieces alike".to_owned()),
            id: None,
        }],
        cautions: vec![Caution::Hot, Caution::Tray],
        does: vec!["blue"],
        heat: Some(Box::new(card)),
        time: w.shared(Spread::minutes(10.0, 20.0, 45.0)),
        ..Operation::default()
    }
}
fn capital(s: &str) -> String {
    let mut s = s.to_owned();
    if let Some(c) = s.get_mut(..1) {
        c.make_ascii_uppercase();
    }
    s
}
