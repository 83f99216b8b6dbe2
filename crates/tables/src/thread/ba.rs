//! BS 93: limits of BA threads, and the rule that made their sizes.

use super::limits::{Basics, Limits, NutLimits, no_class};
use super::{Family, all, same, under};
use reckon::print::significant;
use reckon::{Book, Diameter, Length, Ratio, Source, Trouble, maths, work};

static TOLERANCES: Source =
    Source::read("BS 93 tolerances, in Machinery's Handbook 31, p. 2115, and BS 93:2008 annex B");

/// Rule of the series: pitch 0.9ⁿ mm, diameter 6 × pitch^1.2 mm, both to two significant figures.
#[must_use]
pub fn by_rule(number: i64) -> (Length, Diameter) {
    let two = |x: f64| significant(x, 2).parse::<f64>().unwrap_or(x);
    let pitch = (0..number).fold(1.0, |p, _| p * 0.9);
    (Length::mm(two(pitch)), Diameter::mm(two(6.0 * maths::pow(pitch, 1.2))))
}
/// How many tabulated pitches and diameters the rule gives.
#[must_use]
pub fn rule_agrees() -> (i64, i64) {
    let rows = all().iter().filter_map(|t| match t.family {
        Family::Ba(n) => Some((by_rule(n), t)),
        _ => None,
    });
    rows.fold((0, 0), |(p, d), ((pitch, major), t)| {
        let hit = |a: f64, b: f64| i64::from(same(a, b));
        (p + hit(pitch.value(), t.pitch.value()), d + hit(major.value(), t.major.value()))
    })
}

/// Limits of a BA screw: close for 0 to 10, normal for all.
pub(super) fn limits(
    book: &mut Book,
    prefix: &str,
    number: i64,
    b: &Basics,
    class: &str,
) -> Result<Limits, Trouble> {
    // Multiples of the pitch and constants for major, effective and minor diameter, then the allowance, mm.
    let (rows, allowance) = match (class, number) {
        ("close", 0..=10) => ([(0.15, 0.0), (0.08, 0.02), (0.16, 0.04)], 0.0),
        ("normal", 0..=10) => ([(0.20, 0.0), (0.10, 0.025), (0.20, 0.05)], 0.025),
        ("normal", _) => ([(0.25, 0.0), (0.10, 0.025), (0.20, 0.05)], 0.0),
        ("close", _) => return Err(no_class("BA above 10", class, "normal")),
        _ => return Err(no_class("BA", class, "close (0 to 10 BA), normal")),
    };
    let name = |n: &str| under(prefix, n);
    let row = format!("{class} class, {number} BA");
    let below = book.tabled(name("allowance"), Length::mm(allowance), row.clone(), &TOLERANCES);
    let pitch = b.pitch;
    let mut tolerance = |n: &str, (of_pitch, fixed): (f64, f64)| {
        let k = book.tabled(name(&format!("{n}.of_pitch")), Ratio::si(of_pitch), row.clone(), &TOLERANCES);
        let c = book.tabled(name(&format!("{n}.fixed")), Length::mm(fixed), row.clone(), &TOLERANCES);
        work!(book, name(n), |pitch, k, c| pitch * k + c, &TOLERANCES)
    };
    let td = tolerance("major_tolerance", rows[0]);
    let td2 = tolerance("pitch_tolerance", rows[1]);
    let td1 = tolerance("minor_tolerance", rows[2]);
    let (d, d2, d1) = (b.major, b.pitch_diameter, b.minor);
    let major_max = work!(book, name("major_max"), |d, below| d - below, &TOLERANCES);
    let major_min = work!(book, name("major_min"), |major_max, td| major_max - td, &TOLERANCES);
    let pitch_max = work!(book, name("pitch_max"), |d2, below| d2 - below, &TOLERANCES);
    let pitch_min = work!(book, name("pitch_min"), |pitch_max, td2| pitch_max - td2, &TOLERANCES);
    let minor_max = work!(book, name("minor_max"), |d1, below| d1 - below, &TOLERANCES);
    let minor_min = work!(book, name("minor_min"), |minor_max, td1| minor_max - td1, &TOLERANCES);
    Ok(Limits {
        class: class.to_owned(),
        basics: *b,
        major_max,
        major_min,
        pitch_max,
        pitch_min,
        minor_max,
        minor_min: Some(minor_min),
        tabulated: true,
    })
}
/// Limits of a BA nut.
pub(super) fn nut_limits(
    book: &mut Book,
    prefix: &str,
    b: &Basics,
    class: &str,
) -> Result<NutLimits, Trouble> {
    if class != "normal" {
        return Err(no_class("BA nut", class, "normal"));
    }
    let name = |n: &str| under(prefix, n);
    let (d, d2, d1, pitch) = (b.major, b.pitch_diameter, b.minor, b.pitch);
    let more = Length::mm(0.03);
    let more = book.tabled(name("pitch_tolerance.fixed"), more, "nut, effective diameter", &TOLERANCES);
    let td2 = work!(book, name("pitch_tolerance"), |pitch, more| pitch * 0.12 + more, &TOLERANCES);
    let td1 = work!(book, name("minor_tolerance"), |pitch| pitch * 0.375, &TOLERANCES);
    Ok(NutLimits {
        class: class.to_owned(),
        basics: *b,
        minor_min: work!(book, name("minor_min"), |d1| d1, &TOLERANCES),
        minor_max: work!(book, name("minor_max"), |d1, td1| d1 + td1, &TOLERANCES),
        pitch_min: work!(book, name("pitch_min"), |d2| d2, &TOLERANCES),
        pitch_max: work!(book, name("pitch_max"), |d2, td2| d2 + td2, &TOLERANCES),
        major_min: work!(book, name("major_min"), |d| d, &TOLERANCES),
        tabulated: true,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_made_every_size() {
        assert_eq!(rule_agrees(), (17, 17));
    }
}
