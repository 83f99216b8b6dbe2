//! The rate through a day and a year of the room that the clock stands in.

use super::by;
use super::rate::Given;
use ::pendulum::errors::State;
use ::pendulum::weather::{self, At, Follows, Room};
use reckon::print::{fixed, signed};
use reckon::source::HOUSE;
use reckon::{Book, Cell, Id, Pressure, Ratio, Temperature, TemperatureDifference, Time, Val, work};

/// Steps that the curves are drawn with.
const CURVE: u32 = 96;

/// What a room does to the rate.
#[derive(Clone, Debug)]
pub struct WeatherDesign {
    /// From the mean of a day to its warmest.
    pub day: Val<TemperatureDifference>,
    /// From the mean of a year to its warmest.
    pub year: Val<TemperatureDifference>,
    /// Table of a day.
    pub day_table: Id,
    /// Table of a year.
    pub year_table: Id,
    /// A day from midnight, drawn.
    pub day_curve: Vec<At>,
    /// A year from its warmest time, drawn.
    pub year_curve: Vec<At>,
    /// Scatter of the rate by the barometer (s/day).
    pub scatter: Val<Ratio>,
    /// Lines for the sheet: what, and where in the book.
    pub told: Vec<(&'static str, Id)>,
}
/// What went before: names of what is known in the book, and their values.
pub(super) struct Air {
    pub(super) state: State,
    pub(super) per_kelvin: Val<Ratio>,
    pub(super) pressure: Val<Pressure>,
    pub(super) temperature: Val<Temperature>,
    pub(super) of_air: Val<Ratio>,
}
/// Works it out.
pub(super) fn weather(g: &Given<'_>, air: &Air, book: &mut Book) -> WeatherDesign {
    let s = &air.state;
    let day = g.clock.site.warmer_by_day.unwrap_or_else(|| {
        let why =
            "a room that is lived in and heated in winter; write site = { warmer_by_day = … } in [clock]";
        book.assumed("pendulum.weather.warmer_by_day", TemperatureDifference::si(1.5), why)
    });
    let year = g.clock.site.warmer_by_year.unwrap_or_else(|| {
        let why =
            "a room that is lived in and heated in winter; write site = { warmer_by_year = … } in [clock]";
        book.assumed("pendulum.weather.warmer_by_year", TemperatureDifference::si(4.0), why)
    });
    let rod = g.facts.pendulum.as_ref().map_or(0.008, |p| p.rod_diameter.bare().value());
    let heat = book.assumed(
        "pendulum.weather.rod_holds_mj_per_m3_k",
        Ratio::si(3.6),
        "steel and invar hold 3.8 to 4.1 MJ in a cubic metre for each kelvin, brass 3.2, wood 1; from memory",
    );
    let takes = book.assumed(
        "pendulum.weather.rod_takes_w_per_m2_k",
        Ratio::si(8.0),
        "still air and the walls together warm a thin rod with 6 to 12 W on a square metre for each kelvin; from memory",
    );
    let lag = book.solved(
        "pendulum.weather.rod_lags",
        Time::si(weather::lag(rod, heat.bare().value() * 1e6, takes.bare().value())),
        by("diameter, and the two above"),
        [g.facts.pendulum.as_ref().map(|p| p.rod_diameter.id()), Some(heat.id()), Some(takes.id())]
            .into_iter()
            .flatten()
            .collect(),
        &weather::LAG,
    );
    let latitude = g
        .clock
        .site
        .latitude
        .map(|l| (l.id(), l.bare().value()))
        .or_else(|| book.find("pendulum.latitude").and_then(|(id, l)| Some((id, l.si?))));
    let tide = book.solved(
        "pendulum.weather.tide_hpa",
        Ratio::si(weather::tide(latitude.map_or(0.8, |l| l.1)) / 100.0),
        by("by latitude"),
        latitude.map(|l| l.0).into_iter().collect(),
        &weather::TIDE,
    );
    let room = Room {
        temperature: s.temperature,
        pressure: s.pressure,
        humidity: s.humidity,
        day: day.bare().value(),
        year: year.bare().value(),
        tide: tide.bare().value() * 100.0,
    };
    let follows = Follows { per_kelvin: s.per_kelvin, lag: lag.bare().value(), bob: s.bob, along: s.along };
    let ids = |swing: Id| {
        vec![
            swing,
            air.per_kelvin.id(),
            lag.id(),
            tide.id(),
            air.of_air.id(),
            air.pressure.id(),
            air.temperature.id(),
        ]
    };
    let (day_curve, year_curve) =
        (weather::day(&room, &follows, CURVE), weather::year(&room, &follows, CURVE));
    let day_table = {
        let rows = weather::day(&room, &follows, 8)
            .iter()
            .map(|a| row(format!("{} h", fixed(a.time / 3600.0, 0)), a))
            .collect();
        let rule = "the hour's own rate, not a day's: the room warmest at 16, the barometer's tide at its highest before 10 and 22";
        book.table("pendulum.weather.day", &columns("hour"), rows, rule, ids(day.id()), &weather::RATE)
    };
    let year_table = {
        let month = |a: &At| match fixed(a.time / weather::YEAR * 12.0, 0).as_str() {
            "0" | "12" => "warmest".to_owned(),
            "1" => "1 month on".to_owned(),
            "6" => "coldest".to_owned(),
            n => format!("{n} months on"),
        };
        let rows = weather::year(&room, &follows, 12).iter().map(|a| row(month(a), a)).collect();
        let rule = "the barometer at its mean; what its weather does is told apart";
        book.table("pendulum.weather.year", &columns("when"), rows, rule, ids(year.id()), &weather::RATE)
    };
    let mut told = Vec::new();
    let mut half = |name: &str,
                    what: &'static str,
                    curve: &[At],
                    of: &dyn Fn(&At) -> f64,
                    table: Id,
                    source,
                    book: &mut Book| {
        let (lo, hi) = weather::range(curve, of);
        let v = book.solved(
            name.to_owned(),
            Ratio::si((hi - lo) / 2.0),
            by("half of what lies between the least and the greatest of its curve"),
            vec![table],
            source,
        );
        told.push((what, v.id()));
    };
    half(
        "pendulum.weather.day_rate_s_per_day",
        "rate through a day, to each side, s/day",
        &day_curve,
        &At::rate,
        day_table,
        &weather::RATE,
        book,
    );
    half(
        "pendulum.weather.day_hands_s",
        "the hands through a day, to each side, s",
        &day_curve,
        &|a| a.hands,
        day_table,
        &weather::HANDS,
        book,
    );
    half(
        "pendulum.weather.year_rate_s_per_day",
        "rate through a year, to each side, s/day",
        &year_curve,
        &At::rate,
        year_table,
        &weather::RATE,
        book,
    );
    half(
        "pendulum.weather.year_hands_s",
        "the hands through a year, to each side, s",
        &year_curve,
        &|a| a.hands,
        year_table,
        &weather::HANDS,
        book,
    );
    let weather_hpa = book.assumed(
        "pendulum.weather.scatter_hpa",
        Ratio::si(9.0),
        "standard deviation of the barometer in the temperate zone, 6 in summer to 12 in winter; from memory",
    );
    let per_pascal = ::pendulum::air::per_pascal(s.temperature, s.bob, s.along);
    let per_hpa = book.solved(
        "pendulum.weather.s_per_day_per_hpa",
        Ratio::si(per_pascal * 100.0),
        by("slope of the air's rate with its pressure"),
        vec![air.of_air.id(), air.pressure.id(), air.temperature.id()],
        &::pendulum::air::AIR,
    );
    let scatter = work!(
        book,
        "pendulum.weather.scatter_s_per_day",
        |per_hpa, weather_hpa| Ratio::si(per_hpa.value().abs()) * weather_hpa,
        &HOUSE
    );
    let forgets = book.assumed(
        "pendulum.weather.lasts",
        Time::si(3.0 * ::pendulum::DAY),
        "highs and lows pass in some days; from memory",
    );
    let wander = work!(
        book,
        "pendulum.weather.wander_in_a_year_s",
        |scatter, forgets| Ratio::si(weather::wander(scatter.value(), forgets.value(), weather::YEAR)),
        &weather::WANDER
    );
    told.extend([
        ("rod lags behind the room by", lag.id()),
        ("barometer, s/day for each hPa", per_hpa.id()),
        ("scatter of the rate by the weather, s/day", scatter.id()),
        ("the hands after a year of weather, ± s", wander.id()),
    ]);
    WeatherDesign { day, year, day_table, year_table, day_curve, year_curve, scatter, told }
}
fn columns(first: &str) -> [&str; 7] {
    [first, "room, K", "air, hPa", "by warmth, s/day", "by the air, s/day", "rate, s/day", "hands, s"]
}
fn row(when: String, a: &At) -> Vec<Cell> {
    let cell = |x: f64, digits: usize| Cell::as_text(&Ratio::si(x), signed(x, digits));
    vec![
        Cell::word(when),
        cell(a.warmer, 1),
        cell(a.heavier / 100.0, 2),
        cell(a.by_warmth, 3),
        cell(a.by_air, 3),
        cell(a.rate(), 3),
        cell(a.hands, if a.hands.abs() < 10.0 { 3 } else { 1 }),
    ]
}
