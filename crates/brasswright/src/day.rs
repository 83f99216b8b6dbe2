//! The day in the files of a packet.

use crate::outcome::Stopped;

/// Year, month, day.
pub type Day = (u16, u8, u8);

/// The day written into files where none is asked for. The clock on the wall has no part in a packet: the same texts
/// give the same bytes tomorrow, and what tells two printings apart is the mark of their state.
pub const NO_DAY: Day = (2000, 1, 1);

/// The day of `SOURCE_DATE_EPOCH` (seconds since 1970, universal time) where that is set, else [`NO_DAY`].
///
/// # Errors
/// When `SOURCE_DATE_EPOCH` is not such a number.
pub fn stated() -> Result<Day, Stopped> {
    match std::env::var_os("SOURCE_DATE_EPOCH") {
        Some(text) => {
            let seconds = text.to_str().and_then(|t| t.parse().ok());
            seconds.and_then(day_of).ok_or_else(|| {
                Stopped::wrong_use(format!("SOURCE_DATE_EPOCH is '{}'", text.to_string_lossy()))
                    .why("it has to be whole seconds since the beginning of 1970")
            })
        }
        None => Ok(NO_DAY),
    }
}
/// The day in the Gregorian calendar of a number of seconds since 1970, universal time; `None` after the year 9999.
#[must_use]
pub fn day_of(seconds: u64) -> Option<Day> {
    let mut days = seconds / 86_400;
    let leap = |y: u16| (y.is_multiple_of(4) && !y.is_multiple_of(100)) || y.is_multiple_of(400);
    let mut year = 1970;
    loop {
        let long = if leap(year) { 366 } else { 365 };
        if days < long {
            break;
        }
        days -= long;
        year += 1;
        if year > 9999 {
            return None;
        }
    }
    let february = if leap(year) { 29 } else { 28 };
    let mut month = 1;
    for long in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if days < long {
            break;
        }
        days -= long;
        month += 1;
    }
    Some((year, month, u8::try_from(days + 1).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    // Expected days from `date -u -d @N +%F` (GNU coreutils).
    #[test]
    fn days_of_the_calendar() {
        for (seconds, day) in [
            (0, (1970, 1, 1)),
            (951_782_400, (2000, 2, 29)),
            (951_868_800, (2000, 3, 1)),
            (1_735_689_599, (2024, 12, 31)),
            (4_107_542_400, (2100, 3, 1)),
            (253_402_300_799, (9999, 12, 31)),
        ] {
            assert_eq!(day_of(seconds), Some(day));
        }
        assert_eq!(day_of(253_402_300_800), None);
        assert_eq!(day_of(u64::MAX), None);
    }
}
