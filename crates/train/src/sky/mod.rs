//! The sky's periods against those of a train: moon, tide, stars and year; and the equation of time.
//!
//! Periods are mean ones. The moon's own month varies by hours from the mean, so a train need not be
//! truer than its disc can be read.

mod cam;
mod sun;

pub use cam::{Cam, CamFault, CamPoint, Follower, PROFILE, cam};
pub use sun::{Day, EQUATION, Extremes, days_in, equation, extremes, year_table};

use reckon::Source;
use reckon::exact::Fraction;

/// Seconds of a mean solar day.
pub const DAY: i64 = 86_400;

/// Mean synodic month and tropical year.
pub static PERIODS: Source = Source::read(
    "Astronomical Almanac 2000, quoted by a public page: tropical year 365.242190 d, sidereal year 365.256363 d, synodic month 29.53059 d",
);
/// Error of a train's period.
pub static RATE: Source = Source::derived("period of the train against the period of the sky").with_formula(
    "error = period - true; gain = 86400 s (true/period - 1) a day; one day in period × 86400 / |error|",
);
/// Stars against the sun.
pub static SIDEREAL: Source = Source::derived("in a year of Y solar days the stars go round once more")
    .with_formula("sidereal/solar = (Y + 1)/Y");
/// Moon's day.
pub static LUNAR_DAY: Source = Source::derived("in a month of M solar days the moon goes round once less")
    .with_formula("lunar day = M/(M - 1) solar days");
/// So many of one against so many of another.
pub static CYCLE: Source =
    Source::derived("whole numbers of two periods laid end to end").with_formula("n P - k Q");

/// A period of the sky.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Period {
    /// New moon to new moon, in the mean.
    Month,
    /// Equinox to equinox: the year of the seasons.
    Year,
    /// Once round among the stars.
    StarYear,
    /// One turn of the stars.
    StarDay,
    /// From one passage of the moon to the next: two tides.
    MoonDay,
    /// From one high water to the next.
    Tide,
    /// The calendar's year of 365.2425 days.
    CalendarYear,
    /// From noon to noon, in the mean.
    SolarDay,
}
impl Period {
    /// All, with the words by which they are asked for.
    pub const ALL: [(&'static str, Period); 8] = [
        ("moon", Period::Month),
        ("year", Period::Year),
        ("star year", Period::StarYear),
        ("star day", Period::StarDay),
        ("moon day", Period::MoonDay),
        ("tide", Period::Tide),
        ("calendar year", Period::CalendarYear),
        ("day", Period::SolarDay),
    ];
    /// Its length in mean solar days, exact as stated.
    #[must_use]
    pub fn days(self) -> Option<Fraction> {
        let one = Fraction::whole(1);
        let month = Fraction::new(29_530_588, 1_000_000)?;
        let year = Fraction::new(36_524_219, 100_000)?;
        match self {
            Period::Month => Some(month),
            Period::Year => Some(year),
            Period::StarYear => Fraction::new(365_256_363, 1_000_000),
            Period::StarDay => year.over(year.plus(one)?),
            Period::MoonDay => month.over(month.minus(one)?),
            Period::Tide => month.over(month.minus(one)?)?.over(Fraction::whole(2)),
            Period::CalendarYear => Fraction::new(3_652_425, 10_000),
            Period::SolarDay => Some(one),
        }
    }
    /// Its length in seconds.
    #[must_use]
    pub fn seconds(self) -> Option<Fraction> {
        self.days()?.times(Fraction::whole(DAY))
    }
}
/// How a train's period compares.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Against {
    /// Period of the train, in seconds.
    pub period: Fraction,
    /// Period less the true one, in seconds: positive where the train is slow.
    pub error: Fraction,
    /// Seconds a day that it gains.
    pub gain: Fraction,
    /// Seconds until it is out by a whole day; nothing where it never is.
    pub one_day: Option<Fraction>,
}
/// Compares a period with the true one, both in seconds; nothing where they are no periods or too long.
#[must_use]
pub fn against(period: Fraction, truly: Fraction) -> Option<Against> {
    if period <= Fraction::ZERO || truly <= Fraction::ZERO {
        return None;
    }
    let error = period.minus(truly)?;
    let gain = truly.over(period)?.minus(Fraction::whole(1))?.times(Fraction::whole(DAY))?;
    let out = crate::gear::size(error);
    let one_day = if out == Fraction::ZERO { None } else { truly.over(out)?.times(Fraction::whole(DAY)) };
    Some(Against { period, error, gain, one_day })
}

#[cfg(test)]
mod tests;
