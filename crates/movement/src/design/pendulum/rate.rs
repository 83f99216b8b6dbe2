//! How the pendulum is rated and what disturbs its rate. Rates are in seconds a day, + gains.

use super::weather::{self, Air, WeatherDesign};
use super::{Hung, NutDesign, SuspensionDesign, by};
use ::pendulum::errors::{self, State};
use ::pendulum::impulse::Push;
use ::pendulum::warmth::{self, Hung as Warm, Reach, WarmStrip};
use ::pendulum::{air, rating, swing};
use reckon::source::HOUSE;
use reckon::{
    Acceleration, Angle, Book, Cell, Count, Density, Id, Length, Mass, PerKelvin, Pressure, Ratio,
    Temperature, Val, work,
};
use record::facts::{BobForm, Clock, EscapementKind, MovementFacts};

/// What went before.
pub(super) struct Given<'a> {
    pub(super) clock: &'a Clock,
    pub(super) facts: &'a MovementFacts,
    pub(super) hung: &'a Hung,
    pub(super) suspension: Option<&'a SuspensionDesign>,
    pub(super) gravity: Val<Acceleration>,
    pub(super) arc: Val<Angle>,
    pub(super) length: Val<Length>,
    pub(super) quality: Val<Ratio>,
}
/// Nut, tray, warmth, air and arc; the nut's sizes, where the table of errors stands, and what a room does to the rate.
pub(super) fn rate(
    g: &Given<'_>,
    book: &mut Book,
    told: &mut Vec<(&'static str, Id)>,
) -> (Option<NutDesign>, Id, WeatherDesign) {
    let nut = nut(g, book, told);
    tray(g, book, told);
    let per_kelvin = warmth_of(g, book, told);
    let (arc, length) = (g.arc, g.length);
    let circular = work!(
        book,
        "pendulum.circular_error_s_per_day",
        |arc| Ratio::si(swing::circular(arc.value())),
        &swing::CIRCULAR
    );
    let slope = work!(
        book,
        "pendulum.circular_slope_s_per_day_per_degree",
        |arc| Ratio::si(swing::circular_slope(arc.value()) * Angle::deg(1.0).value()),
        &swing::CIRCULAR
    );
    told.push(("circular error at the running arc, s/day", circular.id()));
    told.push(("the same for each degree of arc, s/day", slope.id()));
    let pressure = book.assumed(
        "pendulum.air.pressure",
        Pressure::si(101_325.0),
        "the standard atmosphere, where nothing is measured",
    );
    let temperature = g.clock.site.temperature.unwrap_or_else(|| {
        book.assumed("pendulum.air.temperature", Temperature::celsius(20.0), "no temperature is written")
    });
    let humidity = book.assumed("pendulum.air.humidity", Ratio::si(0.5), "half moist air of a room");
    let along = if g.facts.pendulum.as_ref().is_some_and(|p| p.bob.form == BobForm::Cylinder) {
        book.tabled("pendulum.air.along", Ratio::si(1.0), "cylinder moving broadside", &air::ALONG)
    } else {
        let why = "a lens moves edge on and takes about a third of its volume of air along: flow without friction, from memory";
        book.assumed("pendulum.air.along", Ratio::si(0.3), why)
    };
    let density = work!(
        book,
        "pendulum.air.density",
        |pressure, temperature, humidity| Density::si(air::density(
            pressure.value(),
            temperature.value(),
            humidity.value()
        )),
        &air::DENSITY
    );
    let bob = g.hung.density;
    let in_air = work!(
        book,
        "pendulum.air.rate_s_per_day",
        |density, bob, along| Ratio::si(air::rate(density.value(), bob.value(), along.value())),
        &air::AIR
    );
    told.push(("rate in air against none, s/day", in_air.id()));
    let push = push(g.facts);
    let state = State {
        length: length.bare().value(),
        g: g.gravity.bare().value(),
        arc: arc.bare().value(),
        quality: g.quality.bare().value(),
        mass: g.hung.mass.bare().value(),
        per_kelvin: per_kelvin.bare().value(),
        bob: bob.bare().value(),
        along: along.bare().value(),
        pressure: pressure.bare().value(),
        temperature: temperature.bare().value(),
        humidity: humidity.bare().value(),
        push,
        pitch: nut.as_ref().map_or(0.001, |n| n.pitch.bare().value()),
    };
    let plain = |x: f64| Cell::as_text(&Ratio::si(x), reckon::print::significant(x, 3));
    let rows = errors::table(&state)
        .into_iter()
        .filter(|r| nut.is_some() || !r.cause.contains("nut"))
        .map(|r| {
            vec![Cell::word(r.cause), Cell::word(r.unit), plain(r.per_unit), plain(r.typical), plain(r.rate)]
        })
        .collect();
    let mut ids = vec![
        length.id(),
        g.gravity.id(),
        arc.id(),
        g.quality.id(),
        g.hung.mass.id(),
        per_kelvin.id(),
        bob.id(),
    ];
    ids.extend([along.id(), pressure.id(), temperature.id(), humidity.id()]);
    let columns = ["cause", "unit", "s/day per unit", "in a house", "s/day"];
    let rule = "one cause at a time, at the running arc";
    let table = book.table("pendulum.errors", &columns, rows, rule, ids, &errors::TABLE);
    let air = Air { state, per_kelvin, pressure, temperature, of_air: in_air };
    (nut, table, weather::weather(g, &air, book))
}
/// The push of a dead-beat escapement, where lift and lock are written.
fn push(facts: &MovementFacts) -> Option<Push> {
    let e = facts.escapement.as_ref()?;
    if !matches!(e.kind, EscapementKind::DeadBeat | EscapementKind::PinWheel) {
        return None;
    }
    let (lift, lock) = (e.lift?.bare().value(), e.lock?.bare().value());
    Some(Push { before: (lift - lock) / 2.0, after: f64::midpoint(lift, lock) })
}
fn nut(g: &Given<'_>, book: &mut Book, told: &mut Vec<(&'static str, Id)>) -> Option<NutDesign> {
    let n = g.facts.pendulum.as_ref()?.nut.as_ref()?;
    let length = g.length;
    let pitch = book.tabled("pendulum.nut.pitch", n.thread.pitch, n.thread.name.clone(), n.thread.source);
    let by_rule = work!(
        book,
        "pendulum.nut.turn_by_rule_s_per_day",
        |pitch, length| Ratio::si(rating::per_turn(pitch.value(), length.value())),
        &rating::NUT
    );
    let made = &g.hung.made;
    let up = pitch.bare().value();
    let raised = g
        .suspension
        .and_then(|s| s.strip.raised(made, up, g.gravity.bare().value()))
        .unwrap_or_else(|| made.raised(up));
    let turn = book.solved(
        "pendulum.nut.turn_s_per_day",
        Ratio::si(raised),
        by("all bodies, with bob and nut raised by one pitch"),
        vec![pitch.id(), length.id(), g.hung.middle.id(), g.hung.bob.id()],
        &::pendulum::compound::PER_MOVE,
    );
    let divisions = n.divisions.unwrap_or_else(|| {
        let count = Count(i64::from(rating::divisions(raised)));
        book.solved(
            "pendulum.nut.divisions",
            count,
            by("whole divisions of about a second a day"),
            vec![turn.id()],
            &rating::DIVISIONS,
        )
    });
    let division = work!(
        book,
        "pendulum.nut.division_s_per_day",
        |turn, divisions| turn / Ratio::si(divisions.n()),
        &rating::DIVISIONS
    );
    let for_a_second = work!(
        book,
        "pendulum.nut.divisions_for_a_second_a_day",
        |division| Ratio::si(1.0 / division.value()),
        &rating::DIVISIONS
    );
    told.extend([
        ("a turn of the nut up, s/day", turn.id()),
        ("the same by the simple rule, s/day", by_rule.id()),
        ("divisions on the nut", divisions.id()),
        ("a division, s/day", division.id()),
        ("divisions for a second a day", for_a_second.id()),
    ]);
    Some(NutDesign { pitch, turn, divisions, division })
}
fn tray(g: &Given<'_>, book: &mut Book, told: &mut Vec<(&'static str, Id)>) {
    let (length, mass) = (g.length, g.hung.mass);
    let tray = g
        .facts
        .pendulum
        .as_ref()
        .and_then(|p| p.tray)
        .unwrap_or_else(|| work!(book, "pendulum.tray_at", |length| length / 2.0, &HOUSE));
    let gram = work!(
        book,
        "pendulum.tray.gram_s_per_day",
        |tray, mass, length| Ratio::si(rating::tray(0.001, tray.value(), mass.value(), length.value())),
        &rating::TRAY
    );
    let second = book.solved(
        "pendulum.tray.for_a_second_a_day",
        Mass::si(0.001 / gram.bare().value()),
        by("a gram's rate, taken the other way"),
        vec![gram.id()],
        &rating::TRAY,
    );
    told.extend([
        ("a tray for small weights, below the axis", tray.id()),
        ("a gram on it, s/day", gram.id()),
        ("weight on it for a second a day", second.id()),
    ]);
}
/// Slope of the rate with warmth, all bodies growing each in its way.
fn warmth_of(g: &Given<'_>, book: &mut Book, told: &mut Vec<(&'static str, Id)>) -> Val<Ratio> {
    let p = g.facts.pendulum.as_ref();
    let facts = p.expect("a rate is worked out only of a pendulum that is written");
    let rod = facts.rod_material.expansion.tabled(
        book,
        "pendulum.rod.expansion",
        facts.rod_material.row("expansion"),
    );
    let of_bob = facts.bob.material.expansion.tabled(
        book,
        "pendulum.bob.expansion",
        facts.bob.material.row("expansion"),
    );
    let plain = work!(
        book,
        "pendulum.warmth.rod_alone_s_per_day_per_kelvin",
        |rod| Ratio::si(warmth::plain(rod.value())),
        &warmth::PLAIN
    );
    let (grows, bob_grows) = (rod.bare().value(), of_bob.bare().value());
    let (strip_grows, top) = (facts.suspension.as_ref(), g.hung.rod_top.bare().value());
    let on_strip = strip_grows.map_or(0.0, |s| s.material.expansion.value.value());
    let free = strip_grows.map_or(0.0, |s| s.length.bare().value());
    let half = if facts.bob.on_base { g.hung.bob_height.bare().value() / 2.0 } else { 0.0 };
    let way = |at: f64, up: f64| {
        let mut way = vec![Reach { length: free, expansion: on_strip }];
        way.push(Reach { length: at + up - free, expansion: grows });
        if up > 0.0 {
            way.push(Reach { length: -up, expansion: bob_grows });
        }
        way
    };
    let mut bodies = Vec::new();
    for b in &g.hung.made.fixed {
        bodies.push(Warm::new(b.clone(), grows, way(b.at.max(top), 0.0)));
    }
    for b in &g.hung.made.moving {
        let bob = b.name != "nut";
        bodies.push(Warm::new(b.clone(), bob_grows, way(b.at, if bob { half } else { 0.0 })));
    }
    let softening = book.assumed(
        "pendulum.suspension.softens",
        PerKelvin::si(-2.4e-4),
        "carbon steel's modulus falls by this part each kelvin; from memory",
    );
    let strip = g.suspension.map(|s| WarmStrip {
        strip: s.strip,
        expansion: on_strip,
        softening: softening.bare().value(),
    });
    let slope = warmth::slope(&bodies, strip.as_ref(), g.gravity.bare().value());
    let whole = book.solved(
        "pendulum.warmth.s_per_day_per_kelvin",
        Ratio::si(slope),
        by("all bodies and the strip a kelvin warmer and colder"),
        vec![rod.id(), of_bob.id(), g.hung.middle.id(), softening.id()],
        &warmth::WHOLE,
    );
    told.extend([
        ("warmth, the whole pendulum, s/day for each K", whole.id()),
        ("the same of the rod alone, s/day", plain.id()),
    ]);
    whole
}
