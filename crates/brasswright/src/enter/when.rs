//! Moments as a journal has them: `2026-03-01T18:30:00Z`.

use std::time::{SystemTime, UNIX_EPOCH};

/// Now.
#[must_use]
pub fn now() -> String {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    text(i64::try_from(since).unwrap_or(0))
}
/// A key that no other entry has: made of the moment and the process.
#[must_use]
pub fn key() -> String {
    use std::sync::atomic::{AtomicU64, Ordering};
    static NEXT: AtomicU64 = AtomicU64::new(0);
    let nanos = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_nanos());
    format!("{nanos:x}-{:x}-{:x}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed))
}
/// Seconds since 1970 as a text.
#[must_use]
pub fn text(seconds: i64) -> String {
    let (day, rest) = (seconds.div_euclid(86_400), seconds.rem_euclid(86_400));
    let (y, m, d) = civil(day);
    format!("{y:04}-{m:02}-{d:02}T{:02}:{:02}:{:02}Z", rest / 3600, rest / 60 % 60, rest % 60)
}
/// Seconds since 1970 of a text: a day, or a day and a time, universal time or with `+01:00`.
#[must_use]
pub fn read(text: &str) -> Option<f64> {
    let text = text.trim();
    let (date, time) = text.split_once(['T', ' ']).unwrap_or((text, "00:00:00Z"));
    let mut parts = date.split('-').map(str::parse::<i64>);
    let (y, m, d) = (parts.next()?.ok()?, parts.next()?.ok()?, parts.next()?.ok()?);
    if parts.next().is_some()
        || !(1970..=9999).contains(&y)
        || !(1..=12).contains(&m)
        || !(1..=31).contains(&d)
    {
        return None;
    }
    let days = days(y, m, d);
    if civil(days) != (y, m, d) {
        return None;
    }
    let (time, offset) = match time.find(['Z', '+', '-']) {
        None => (time, 0.0),
        Some(i) if &time[i..] == "Z" => (&time[..i], 0.0),
        Some(i) => {
            let (h, m) = time[i + 1..].split_once(':')?;
            let off = h.parse::<f64>().ok()? * 3600.0 + m.parse::<f64>().ok()? * 60.0;
            (&time[..i], if time[i..].starts_with('-') { -off } else { off })
        }
    };
    let mut of = time.split(':');
    let (h, min) = (of.next()?.parse::<f64>().ok()?, of.next()?.parse::<f64>().ok()?);
    let s = of.next().map_or(Some(0.0), |s| s.parse::<f64>().ok())?;
    let fine = of.next().is_none()
        && (0.0..24.0).contains(&h)
        && (0.0..60.0).contains(&min)
        && (0.0..61.0).contains(&s);
    #[expect(clippy::cast_precision_loss, reason = "days of some thousand years")]
    fine.then_some(days as f64 * 86_400.0 + h * 3600.0 + min * 60.0 + s - offset)
}
/// Days since 1970 of a date of the Gregorian calendar.
const fn days(y: i64, m: i64, d: i64) -> i64 {
    let y = if m <= 2 { y - 1 } else { y };
    let era = y.div_euclid(400);
    let of_era = y.rem_euclid(400);
    let of_year = (153 * (m + if m > 2 { -3 } else { 9 }) + 2) / 5 + d - 1;
    era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468
}
/// Date of the Gregorian calendar of days since 1970.
const fn civil(day: i64) -> (i64, i64, i64) {
    let z = day + 719_468;
    let era = z.div_euclid(146_097);
    let of_era = z.rem_euclid(146_097);
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let (d, m) = (of_year - (153 * month + 2) / 5 + 1, if month < 10 { month + 3 } else { month - 9 });
    (year + era * 400 + if m <= 2 { 1 } else { 0 }, m, d)
}

#[cfg(test)]
mod tests {
    use super::*;
    // Moments from `date -u -d @N +%FT%TZ` (GNU coreutils).
    #[test]
    fn moments_come_back() {
        for (seconds, said) in [
            (0, "1970-01-01T00:00:00Z"),
            (951_782_399, "2000-02-28T23:59:59Z"),
            (951_868_799, "2000-02-29T23:59:59Z"),
            (4_107_542_400, "2100-03-01T00:00:00Z"),
        ] {
            assert_eq!(text(seconds), said);
            #[expect(clippy::cast_precision_loss, reason = "small")]
            let same = seconds as f64;
            assert_eq!(read(said), Some(same));
        }
        assert_eq!(read("2026-03-01"), read("2026-03-01T00:00:00Z"));
        assert_eq!(read("2026-03-01 19:30+01:00"), read("2026-03-01T18:30:00Z"));
        for bad in ["2026-02-30", "yesterday", "2026-03-01T25:00", "2026-13-01", "", "2026-03-01T1"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }
}
