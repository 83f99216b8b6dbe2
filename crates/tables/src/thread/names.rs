//! What a maker writes for a thread.

use super::sizes::{all, inch_size, plain};
use super::{Family, Thread, WhitworthSeries, form, same};
use reckon::{Dimension, Length, Source, text};

/// A metric pitch that no list holds.
static UNLISTED: Source = Source::practice("a size and pitch of the maker's own");

/// Reads a thread: `M3`, `M3x0.35`, `2-56 UNC`, `2-56`, `1/4-28 UNF`, `4 BA`, `7BA`, `1/8x40 ME`, `5/32-32 BSW`, `S0.5`.
///
/// A metric size with a pitch of one's own (`M9x0.5`) is read and marked as not listed.
#[must_use]
pub fn find(written: &str) -> Option<Thread> {
    let word = tidy(written);
    let known = |t: &&Thread| tidy(&t.name) == word;
    all().iter().find(known).cloned().or_else(|| metric(&word)).or_else(|| ba(&word)).or_else(|| inch(&word))
}
/// Names of listed threads near to what was written: those of the same size first.
#[must_use]
pub fn near(written: &str) -> Vec<&'static str> {
    let names = || all().iter().map(|t| t.name.as_str());
    let word = tidy(written);
    let start = word.find(|c: char| c.is_ascii_digit()).unwrap_or(word.len());
    let length = word[start..].find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '/')));
    let size = &word[..length.map_or(word.len(), |l| start + l)];
    let whole = |rest: &str| !rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/'));
    let of_size = |n: &&'static str| !size.is_empty() && tidy(n).strip_prefix(size).is_some_and(whole);
    let mut found = reckon::trouble::nearest(written, names().filter(of_size));
    found.extend(names().filter(of_size));
    found.extend(reckon::trouble::nearest(written, names()));
    let mut kept: Vec<&'static str> = Vec::new();
    for name in found {
        if kept.len() < 3 && !kept.contains(&name) {
            kept.push(name);
        }
    }
    kept
}
/// Lower case, no spaces, one sign for "by".
fn tidy(written: &str) -> String {
    let lower = written.trim().to_lowercase().replace(['×', '*'], "x").replace(['–', '—', '−'], "-");
    let no_number_sign = lower.strip_prefix("no.").or_else(|| lower.strip_prefix('#')).unwrap_or(&lower);
    no_number_sign.chars().filter(|c| !c.is_whitespace()).collect()
}
fn metric(word: &str) -> Option<Thread> {
    let size = word.strip_prefix('m')?;
    let (size, pitch) = size.split_once('x').map_or((size, None), |(s, p)| (s, Some(p)));
    let mm = |s: &str| {
        let digits = s.strip_suffix("mm").unwrap_or(s);
        let plain = digits.starts_with(|c: char| c.is_ascii_digit() || c == '.');
        text::read(&format!("{digits} mm"), Dimension::Length).ok().filter(|_| plain).map(Length::si)
    };
    let major = mm(size)?;
    let of_size = |t: &&Thread| t.family == Family::Iso && same(t.major.value(), major.value());
    let Some(pitch) = pitch else { return all().iter().find(of_size).cloned() };
    let pitch = mm(pitch)?;
    let listed = all().iter().filter(of_size).find(|t| same(t.pitch.value(), pitch.value()));
    if let Some(t) = listed {
        return Some(t.clone());
    }
    // A groove deeper than a third of the diameter leaves no screw.
    let sane = major.in_mm() <= 300.0 && pitch.value() > 0.0 && pitch.value() * 3.0 < major.value();
    sane.then(|| Thread {
        name: format!("M{}x{}", plain(major), plain(pitch)),
        family: Family::Iso,
        form: &form::ISO,
        major: major.as_diameter(),
        pitch,
        per_inch: None,
        tabled_pitch_diameter: None,
        tabled_minor: None,
        listed: false,
        source: &UNLISTED,
    })
}
fn ba(word: &str) -> Option<Thread> {
    let number = word.strip_suffix("ba").or_else(|| word.strip_prefix("ba"))?;
    let n: i64 = number.trim_end_matches('-').parse().ok()?;
    all().iter().find(|t| t.family == Family::Ba(n)).cloned()
}
fn inch(word: &str) -> Option<Thread> {
    let start = word.find(|c: char| c.is_ascii_alphabetic() && c != 'x');
    let (sizes, series) = word.split_at(start.unwrap_or(word.len()));
    let series = match series {
        "bsme" => "me",
        "w" | "whit" => "bsw",
        other => other,
    };
    let (size, tpi) = match sizes.split_once(['-', 'x']) {
        Some((s, t)) => (s, Some(t.trim_end_matches('-').parse::<i64>().ok()?)),
        None => (sizes, None),
    };
    if size.is_empty() || (series.is_empty() && tpi.is_none()) {
        return None;
    }
    let major = inch_size(size.trim_end_matches('"'))?;
    let fits = |t: &&Thread| {
        let named = t.name.rsplit(' ').next().unwrap_or("").to_lowercase();
        let wanted = if series.is_empty() { named.starts_with("un") } else { named == series };
        let counted = tpi.is_none_or(|n| t.per_inch.is_some_and(|c| c.0 == n));
        wanted && counted && same(t.major.value(), major.value())
    };
    let mut found: Vec<&Thread> = all().iter().filter(fits).collect();
    // Without a count of threads the 40 to the inch of the model engineer is meant.
    found.sort_by_key(|t| {
        t.family == Family::Whitworth(WhitworthSeries::Model) && t.per_inch.map(|c| c.0) != Some(40)
    });
    found.first().map(|t| (*t).clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_spellings_one_thread() {
        for (written, name) in [
            ("M3", "M3"),
            ("m3", "M3"),
            ("M3x0.5", "M3"),
            ("M3 x 0.50", "M3"),
            ("M3×0,5", ""),
            ("M5x0.8", "M5"),
            ("M3 x 0.35", "M3x0.35"),
            ("M9x0.5", "M9x0.5"),
            ("M3x2", ""),
            ("M", ""),
            ("2-56 UNC", "2-56 UNC"),
            ("#2-56", "2-56 UNC"),
            ("2-56", "2-56 UNC"),
            ("1/4-28 UNF", "1/4-28 UNF"),
            ("1/4 UNC", "1/4-20 UNC"),
            ("0-80 UNF", "0-80 UNF"),
            ("10 - 32", "10-32 UNF"),
            ("4 BA", "4 BA"),
            ("4BA", "4 BA"),
            ("7BA", "7 BA"),
            ("17 BA", ""),
            ("1/8x40 ME", "1/8x40 ME"),
            ("1/8-40 me", "1/8x40 ME"),
            ("3/16 ME", "3/16x40 ME"),
            ("5/32-32 BSW", "5/32-32 BSW"),
            ("5/32 BSW", "5/32-32 BSW"),
            ("S0.5", "S0.5"),
            ("1/4-21 UNC", ""),
            ("5", ""),
            ("", ""),
        ] {
            let found = find(written).map_or(String::new(), |t| t.name);
            assert_eq!(found, name, "{written}");
        }
    }
    #[test]
    fn every_listed_name_finds_itself() {
        for t in all() {
            assert_eq!(find(&t.name).as_ref(), Some(t));
        }
    }
    #[test]
    fn a_slip_has_a_suggestion() {
        assert!(near("M3x0.6").contains(&"M3"), "{:?}", near("M3x0.6"));
        assert!(near("2-57 UNC").contains(&"2-56 UNC"));
    }
}
