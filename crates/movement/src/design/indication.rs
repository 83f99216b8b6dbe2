//! Indications besides the time of day: what the counts give, and how far that is from the sky.

use ::train::search::{Slack, Target, Wanted, Wish, best};
use ::train::sky::{Against, Cam, EQUATION, Follower, PERIODS, PROFILE, Period, RATE, against, cam};
use reckon::exact::Fraction;
use reckon::print::{fixed, significant, trimmed};
use reckon::source::{HOUSE, Source};
use reckon::{Book, Cell, Count, Id, Length, Ratio, Time, Trouble, Val, judge, work};
use record::facts::{Indication, MovementFacts, Shows};

/// How true an indication need be.
pub static TRUE_ENOUGH: Source = Source::practice(
    "a moon may be a day out after twenty years, a year or the stars after four hundred; a week not at all",
);
/// Days in the year by which errors are told.
const YEAR: f64 = 365.242_19;

/// An indication as decided.
#[derive(Clone, Debug)]
pub struct IndicationDesign {
    /// As written.
    pub facts: Indication,
    /// Time of one turn of its last wheel.
    pub turn: Val<Time>,
    /// The period that it shows.
    pub period: Val<Time>,
    /// What the sky has.
    pub truly: Val<Time>,
    /// Error over one period: positive where it is slow.
    pub error: Val<Time>,
    /// Years until it is out by a day; none where it is right.
    pub years: Option<Val<Ratio>>,
    /// Table of the error in the book.
    pub table: Id,
    /// Whether its last wheel turns as what drives it.
    pub same_sense: bool,
    /// Cam of the equation of time.
    pub cam: Option<CamDesign>,
}
/// The cam of the equation of time.
#[derive(Clone, Debug)]
pub struct CamDesign {
    /// Its profile.
    pub cam: Cam,
    /// The year that it is drawn for.
    pub year: Val<Count>,
    /// Radius where clock and dial agree.
    pub base: Val<Length>,
    /// Lift for a minute.
    pub scale: Val<Length>,
    /// Radius of the follower's roller.
    pub roller: Val<Length>,
    /// Table of the equation of time in the book.
    pub table: Id,
}

/// All indications.
pub(super) fn indications(
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Vec<IndicationDesign> {
    facts.indications.iter().filter_map(|i| indication(i, book, troubles)).collect()
}
const fn words(of: Shows) -> (&'static str, f64) {
    match of {
        Shows::Moon => ("the moon's month", 20.0),
        Shows::TwoMoons => ("two of the moon's months", 20.0),
        Shows::Sidereal => ("the day of the stars", 400.0),
        Shows::LunarDay => ("the day of the tides", 20.0),
        Shows::Year => ("the year of the seasons", 400.0),
        Shows::Week => ("seven days", 100_000.0),
        Shows::EquationOfTime => ("the year of the seasons", 100.0),
    }
}
/// The sky's period in seconds, and how many of it go to one turn.
fn sky(of: Shows) -> Option<(Fraction, i64)> {
    Some(match of {
        Shows::Moon => (Period::Month.seconds()?, 1),
        Shows::TwoMoons => (Period::Month.seconds()?, 2),
        Shows::Sidereal => (Period::StarDay.seconds()?, 1),
        Shows::LunarDay => (Period::MoonDay.seconds()?, 1),
        Shows::Year | Shows::EquationOfTime => (Period::Year.seconds()?, 1),
        Shows::Week => (Fraction::whole(7 * 86_400), 1),
    })
}
fn whole(c: &Val<Count>) -> Fraction {
    Fraction::whole(c.bare().0)
}
fn seconds(t: Time) -> Option<Fraction> {
    let us = t.value() * 1e6;
    #[expect(clippy::cast_possible_truncation, reason = "bounded to far below the largest")]
    let us = (1.0..=1e16).contains(&us).then(|| us.round() as i128)?;
    Fraction::new(us, 1_000_000)
}
fn indication(i: &Indication, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<IndicationDesign> {
    let slug = i.slug.clone();
    let product = i
        .pairs
        .iter()
        .try_fold(Fraction::whole(1), |r, (driver, driven)| r.times(whole(driven))?.over(whole(driver)));
    let turn = product.and_then(|p| seconds(i.from_period.bare())?.times(p));
    let (truly, many) = sky(i.of)?;
    let shown = turn.and_then(|t| t.over(Fraction::whole(many)));
    let Some((turn, a)) = turn.zip(shown.and_then(|s| against(s, truly))) else {
        troubles.push(
            Trouble::design(format!("the period of '{}' is too long to be kept exactly", i.name))
                .at(i.at.clone())
                .cure("fewer pairs, or smaller counts"),
        );
        return None;
    };
    let mut inputs = vec![i.from_period.id()];
    inputs.extend(i.pairs.iter().flat_map(|(a, b)| [a.id(), b.id()]));
    let mut put = |name: &str, f: Fraction, formula: &str, source: &'static Source| {
        let how = (formula.to_owned(), 1, 0.0);
        book.solved(format_args!("{slug}.{name}"), Time::si(f.to_f64()), how, inputs.clone(), source)
    };
    let turn_v = put("turn", turn, "time of the driver x driven / driver, exactly", &RATE);
    let period = put("period", a.period, "turn / periods shown in one turn, exactly", &RATE);
    let error = put("error", a.error, "period - true", &RATE);
    let truly_v =
        book.tabled(format_args!("{slug}.true_period"), Time::si(truly.to_f64()), words(i.of).0, &PERIODS);
    let gain = put_gain(&slug, &a, &inputs, book);
    let years = a.one_day.map(|s| {
        let how = ("true x 86400 / |error|".to_owned(), 1, 0.0);
        let v = Ratio::si(s.to_f64() / 86_400.0 / YEAR);
        book.solved(format_args!("{slug}.years_to_one_day"), v, how, inputs.clone(), &RATE)
    });
    let table = table(&slug, &a, &inputs, book);
    let same = i.pairs.len().is_multiple_of(2);
    book.solved(
        format_args!("{slug}.sense"),
        if same { "as what drives it" } else { "against what drives it" }.to_owned(),
        ("each pair turns the sense about", 1, 0.0),
        inputs.clone(),
        &HOUSE,
    );
    verdict(i, &slug, years, gain, (truly, many), book);
    let cam = (i.of == Shows::EquationOfTime).then(|| equation(i, &slug, book, troubles)).flatten();
    Some(IndicationDesign {
        facts: i.clone(),
        turn: turn_v,
        period,
        truly: truly_v,
        error,
        years,
        table,
        same_sense: same,
        cam,
    })
}
fn put_gain(slug: &str, a: &Against, inputs: &[Id], book: &mut Book) -> Val<Time> {
    let how = ("86400 s (true / period - 1), in a day".to_owned(), 1, 0.0);
    book.solved(format_args!("{slug}.gains_in_a_day"), Time::si(a.gain.to_f64()), how, inputs.to_vec(), &RATE)
}
/// A time for a table: seconds, minutes, hours or days, as reads best.
#[must_use]
pub fn spoken(seconds: f64) -> String {
    let s = seconds.abs();
    let (v, unit) = match s {
        0.0 => return "nothing".to_owned(),
        x if x < 120.0 => (s, "s"),
        x if x < 7200.0 => (s / 60.0, "min"),
        x if x < 172_800.0 => (s / 3600.0, "h"),
        _ => (s / 86_400.0, "d"),
    };
    format!("{} {unit}", trimmed(&significant(v, 4)))
}
fn table(slug: &str, a: &Against, inputs: &[Id], book: &mut Book) -> Id {
    let a_day = a.gain.to_f64();
    let rows = [
        ("a period", a.period.to_f64() / 86_400.0),
        ("a year", YEAR),
        ("ten years", 10.0 * YEAR),
        ("a hundred years", 100.0 * YEAR),
    ]
    .into_iter()
    .map(|(what, days)| {
        let out = a_day * days;
        let way = if out == 0.0 {
            "right"
        } else if out > 0.0 {
            "fast"
        } else {
            "slow"
        };
        vec![Cell::word(what), Cell::of(&Time::si(out)), Cell::word(spoken(out)), Cell::word(way)]
    });
    book.table(
        format_args!("{slug}.out"),
        &["after", "gains", "that is", "so it is"],
        rows.collect(),
        "gain in a day times the days",
        inputs.to_vec(),
        &RATE,
    )
}
fn verdict(
    i: &Indication,
    slug: &str,
    years: Option<Val<Ratio>>,
    gain: Val<Time>,
    sky: (Fraction, i64),
    book: &mut Book,
) {
    let (name, least) = words(i.of);
    let Some(years) = years else {
        judge!(
            book,
            format_args!("{slug}.true_enough"),
            format!("'{}' keeps {name}", i.name),
            |gain| gain.value().abs() < 1e-12,
            &TRUE_ENOUGH
        );
        return;
    };
    let least = book.assumed(
        format_args!("{slug}.years_wanted"),
        Ratio::si(least),
        "house default: years until it may be a day out",
    );
    let verdict = judge!(
        book,
        format_args!("{slug}.true_enough"),
        format!("'{}' keeps {name} near enough", i.name),
        |years, least| years >= least,
        &TRUE_ENOUGH
    );
    if verdict.bare() {
        return;
    }
    match better(i, sky) {
        Some((counts, error)) => book.cure(
            verdict.id(),
            format!("pairs = {counts}: {} in a period", spoken(error).replace("nothing", "exact")),
        ),
        None => book.cure(verdict.id(), "a pair more, or larger wheels"),
    }
}
/// The truest counts with as many pairs, wheels up to 120 and pinions from 6, and their error in a period.
fn better(i: &Indication, (truly, many): (Fraction, i64)) -> Option<(String, f64)> {
    let from = seconds(i.from_period.bare())?;
    let value = truly.times(Fraction::whole(many))?.over(from)?;
    // Ratios near one want wheels on both sides.
    let near_one = value.to_f64() < 2.0;
    let stages = i.pairs.len().clamp(1, 2).max(if near_one || value.to_f64() > 20.0 { 2 } else { 1 });
    let pinions: Vec<u32> = if near_one { (30..=120).collect() } else { (6..=16).collect() };
    for per_million in [1, 10, 100, 1_000, 10_000] {
        let slack = Slack::Share(Fraction::new(per_million, 1_000_000)?);
        let wanted = Wanted::new(Target { value, slack }, stages, 20..=120, pinions.clone());
        let Ok(found) = best(&wanted, &[Wish::SmallError, Wish::Small], 1, &mut |_| true) else {
            return None;
        };
        if let Some(first) = found.best.first() {
            let pairs: Vec<String> =
                first.train.stages.iter().map(|s| format!("[{}, {}]", s.pinion, s.wheel)).collect();
            let error = first.error.times(truly)?.to_f64();
            return Some((format!("[{}]", pairs.join(", ")), error));
        }
    }
    None
}
/// The year a cam is drawn for where none is written: midway between leap years, as the year of the seasons runs.
const CAM_YEAR: i64 = 2025;
fn equation(i: &Indication, slug: &str, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<CamDesign> {
    let year = book.assumed(
        format_args!("{slug}.year"),
        Count(CAM_YEAR),
        "the curve changes by seconds in decades: any year near serves",
    );
    let scale =
        book.assumed(format_args!("{slug}.per_minute"), Length::mm(0.5), "house default: lift for a minute");
    let roller =
        book.assumed(format_args!("{slug}.roller"), Length::mm(1.5), "house default: the follower's roller");
    // `base` is written as the smallest radius of the metal: 14.3 minutes of lift and the roller lie above it.
    let least = i.base.unwrap_or_else(|| {
        book.assumed(
            format_args!("{slug}.least_radius"),
            Length::mm(12.0),
            "house default: smallest radius of the cam",
        )
    });
    let base = work!(
        book,
        format_args!("{slug}.agrees_at"),
        |least, scale, roller| least + roller + scale * 14.3,
        &PROFILE
    );
    let follower = Follower::Roller(roller.bare().in_mm());
    match cam(year.bare().0, base.bare().in_mm(), scale.bare().in_mm(), follower, 0.01) {
        Ok(found) => {
            let inputs = vec![year.id(), base.id(), scale.id(), roller.id()];
            let (low, high) = found.lift;
            let how = || ("the equation of time followed through the year".to_owned(), 1461, 0.0);
            book.solved(format_args!("{slug}.lift_least"), Length::mm(low), how(), inputs.clone(), &EQUATION);
            book.solved(format_args!("{slug}.lift_most"), Length::mm(high), how(), inputs.clone(), &EQUATION);
            let steep = book.solved(
                format_args!("{slug}.steepest"),
                reckon::Angle::si(found.steepest),
                how(),
                inputs,
                &PROFILE,
            );
            let v = judge!(
                book,
                format_args!("{slug}.lifts_easily"),
                "the follower is lifted and not pushed aside: no climb above 30 degrees",
                |steep| steep.in_deg() <= 30.0,
                &PROFILE
            );
            book.cure(v.id(), "a larger base, or less lift for a minute");
            let table = months(slug, year, book);
            Some(CamDesign { cam: found, year, base, scale, roller, table })
        }
        Err(fault) => {
            troubles.push(
                Trouble::design(format!("the cam of '{}' cannot be made", i.name))
                    .at(i.at.clone())
                    .why(fault.to_string())
                    .cure(format!("base = \"{} mm\" or more", fixed(15.0, 0))),
            );
            None
        }
    }
}
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
/// Minutes and seconds with a sign: positive where the sundial is ahead of the clock.
fn signed(t: Time) -> String {
    let all = t.value().round();
    let (m, s) = ((all.abs() / 60.0).floor(), all.abs() % 60.0);
    format!("{}{} min {} s", if all < 0.0 { "\u{2212}" } else { "+" }, fixed(m, 0), fixed(s, 0))
}
/// The equation of time on three days of each month.
fn months(slug: &str, year: Val<Count>, book: &mut Book) -> Id {
    let days = ::train::sky::year_table(year.bare().0);
    let rows = MONTHS.iter().zip(1_u32..).map(|(name, month)| {
        let mut row = vec![Cell::word(*name)];
        for day in [1, 11, 21] {
            let found = days.iter().find(|d| d.month == month && d.day == day);
            row.push(Cell::word(found.map_or_else(String::new, |d| signed(d.equation))));
        }
        row
    });
    book.table(
        format_args!("{slug}.equation"),
        &["month", "on the 1st", "on the 11th", "on the 21st"],
        rows.collect(),
        "sundial less clock at noon: a sundial that is ahead counts as more",
        vec![year.id()],
        &EQUATION,
    )
}
