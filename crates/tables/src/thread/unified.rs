//! ASME B1.1: limits of Unified threads, worked in inches with the rounding of the standard.

use super::limits::{Basics, Limits, NutLimits, no_class};
use super::{Series, Thread, under};
use reckon::{Book, Diameter, Length, Ratio, Source, Trouble, Val, maths, work};

static TOLERANCE: Source = Source::memory("ASME B1.1, section 5 (reproduces the printed rows)")
    .with_formula("Td2 = 0.0015 ∛D + 0.0015 √LE + 0.015 ∛P²");
static CREST: Source = Source::memory("ASME B1.1, section 5").with_formula("Td = 0.060 ∛P² (1A 0.090)");
static BORE: Source = Source::memory("ASME B1.1, section 5, minor diameter of nuts");
static SUMS: Source =
    Source::read("Machinery's Handbook 31, worked limits of a Unified thread (order of rounding)");
static CLASSES: Source = Source::memory("ASME B1.1, classes as multiples of 2A");

/// A number of decimals of an inch, a tie going to the even digit, as the standard's printed rows show.
fn inches(x: Length, decimals: u32) -> Length {
    let scale = f64::from(10_u32.pow(decimals));
    let parts = x.in_inch() * scale;
    let below = parts.floor();
    // A tie in decimals is a tie only to within the last bits of a double.
    let over = parts - below;
    let up = if (over - 0.5).abs() < 1e-6 { below % 2.0 != 0.0 } else { over > 0.5 };
    Length::inch((below + if up { 1.0 } else { 0.0 }) / scale)
}
fn four(x: Length) -> Length {
    inches(x, 4)
}
fn four_places(d: Diameter) -> Diameter {
    inches(d.across(), 4).as_diameter()
}
fn three_places(d: Diameter) -> Diameter {
    inches(d.across(), 3).as_diameter()
}
fn six(x: Length) -> Length {
    inches(x, 6)
}
fn eight(x: Length) -> Length {
    inches(x, 8)
}
/// Pitch diameter tolerance of class 2A in inches: 0.0015 ∛D + 0.0015 √LE + 0.015 ∛P².
#[must_use]
pub fn pitch_tolerance(major: Diameter, engaged: Length, pitch: Length) -> Length {
    let (d, le, p) = (major.across().in_inch(), engaged.in_inch(), pitch.in_inch());
    Length::inch(0.0015 * maths::cbrt(d) + 0.0015 * le.sqrt() + 0.015 * maths::cbrt(p * p))
}
/// Crest tolerance: 0.060 ∛P² inch, in class 1A half as much again.
#[must_use]
pub fn crest_tolerance(pitch: Length, factor: Ratio) -> Length {
    let p = pitch.in_inch();
    Length::inch(0.06 * maths::cbrt(p * p)) * factor
}
/// Bore tolerance of classes 1B and 2B in inches: from 1/4 in up 0.25 P − 0.4 P², below it
/// 0.05 ∛P² + 0.03 P/D − 0.002 between that and 0.394 P.
#[must_use]
pub fn bore_tolerance(major: Diameter, pitch: Length) -> Length {
    let (d, p) = (major.across().in_inch(), pitch.in_inch());
    let least = 0.25 * p - 0.4 * p * p;
    Length::inch(if d >= 0.25 - 1e-9 { least } else { small_bore(d, p).clamp(least, (0.394 * p).max(least)) })
}
/// Bore tolerance of class 3B in inches: 0.05 ∛P² + 0.03 P/D − 0.002 between 0.23 P − 1.5 P² and 0.394 P.
#[must_use]
pub fn close_bore_tolerance(major: Diameter, pitch: Length) -> Length {
    let (d, p) = (major.across().in_inch(), pitch.in_inch());
    let least = 0.23 * p - 1.5 * p * p;
    Length::inch(small_bore(d, p).clamp(least, (0.394 * p).max(least)))
}
fn small_bore(d: f64, p: f64) -> f64 {
    0.05 * maths::cbrt(p * p) + 0.03 * p / d - 0.002
}

struct Tolerance {
    of_2a: Val<Length>,
    own: Val<Length>,
    pitch: Val<Length>,
}
fn tolerance(
    book: &mut Book,
    prefix: &str,
    series: Series,
    b: &Basics,
    class: &str,
    factor: f64,
) -> Tolerance {
    let name = |n: &str| under(prefix, n);
    let exact = b.pitch;
    let pitch = work!(book, name("pitch.rounded"), |exact| eight(exact), &SUMS);
    let major = b.major;
    let engaged = match series {
        Series::ExtraFine => work!(book, name("engaged"), |pitch| pitch * 9.0, &TOLERANCE),
        Series::Coarse | Series::Fine => work!(book, name("engaged"), |major| major.across(), &TOLERANCE),
    };
    let own_name = name("pitch_tolerance");
    if class == "2A" {
        let t = work!(
            book,
            own_name,
            |major, engaged, pitch| six(pitch_tolerance(major, engaged, pitch)),
            &TOLERANCE
        );
        return Tolerance { of_2a: t, own: t, pitch };
    }
    let basis = work!(
        book,
        name("pitch_tolerance.of_2A"),
        |major, engaged, pitch| six(pitch_tolerance(major, engaged, pitch)),
        &TOLERANCE
    );
    let k = book.tabled(name("class_factor"), Ratio::si(factor), format!("class {class}"), &CLASSES);
    let own = work!(book, own_name, |basis, k| six(basis * k), &CLASSES);
    Tolerance { of_2a: basis, own, pitch }
}
/// Limits of a Unified screw.
pub(super) fn limits(
    book: &mut Book,
    prefix: &str,
    series: Series,
    b: &Basics,
    class: &str,
) -> Result<Limits, Trouble> {
    let (factor, crest) = match class {
        "1A" => (1.5, 1.5),
        "2A" => (1.0, 1.0),
        "3A" => (0.75, 1.0),
        _ => return Err(no_class("Unified", class, "1A, 2A, 3A")),
    };
    let Tolerance { of_2a, own: td2, pitch } = tolerance(book, prefix, series, b, class, factor);
    let name = |n: &str| under(prefix, n);
    let es = if class == "3A" {
        book.tabled(name("allowance"), Length::ZERO, "class 3A", &CLASSES)
    } else {
        work!(book, name("allowance"), |of_2a| four(of_2a * 0.3), &CLASSES)
    };
    let k = book.tabled(name("crest_factor"), Ratio::si(crest), format!("class {class}"), &CREST);
    let td = work!(book, name("major_tolerance"), |pitch, k| crest_tolerance(pitch, k), &CREST);
    let d = b.major;
    let major_max = work!(book, name("major_max"), |d, es| four_places(d - es), &SUMS);
    let major_min = work!(book, name("major_min"), |major_max, td| four_places(major_max - td), &SUMS);
    let pitch_max =
        work!(book, name("pitch_max"), |major_max, pitch| four_places(major_max - pitch * 0.649_519), &SUMS);
    let pitch_min = work!(book, name("pitch_min"), |pitch_max, td2| four_places(pitch_max - td2), &SUMS);
    let minor_max =
        work!(book, name("minor_max"), |major_max, pitch| four_places(major_max - pitch * 1.190_785), &SUMS);
    Ok(Limits {
        class: class.to_owned(),
        basics: *b,
        major_max,
        major_min,
        pitch_max,
        pitch_min,
        minor_max,
        minor_min: None,
        tabulated: true,
    })
}
/// Limits of a Unified nut. From No. 6 up the bore of 1B and 2B is printed to three places, below it to four.
pub(super) fn nut_limits(
    book: &mut Book,
    prefix: &str,
    series: Series,
    t: &Thread,
    b: &Basics,
    class: &str,
) -> Result<NutLimits, Trouble> {
    let factor = match class {
        "1B" => 1.95,
        "2B" => 1.3,
        "3B" => 0.975,
        _ => return Err(no_class("Unified nut", class, "1B, 2B, 3B")),
    };
    let Tolerance { own: td2, pitch, .. } = tolerance(book, prefix, series, b, class, factor);
    let name = |n: &str| under(prefix, n);
    let d = b.major;
    let td1 = if class == "3B" {
        work!(book, name("minor_tolerance"), |d, pitch| close_bore_tolerance(d, pitch), &BORE)
    } else {
        work!(book, name("minor_tolerance"), |d, pitch| bore_tolerance(d, pitch), &BORE)
    };
    let d1 = work!(book, name("minor.exact"), |d, pitch| d - pitch * 1.082_532, &SUMS);
    let from_number_6 = t.major.across().in_inch() > 0.138 - 1e-9;
    let (minor_min, minor_max) = match (from_number_6, class) {
        (false, _) => {
            let least = work!(book, name("minor_min"), |d1| four_places(d1), &SUMS);
            (least, work!(book, name("minor_max"), |least, td1| least + four(td1), &SUMS))
        }
        (true, "3B") => (
            work!(book, name("minor_min"), |d1| three_places(d1), &SUMS),
            work!(book, name("minor_max"), |d1, td1| four_places(d1 + td1), &SUMS),
        ),
        (true, _) => (
            work!(book, name("minor_min"), |d1| three_places(d1), &SUMS),
            work!(book, name("minor_max"), |d1, td1| three_places(d1 + td1), &SUMS),
        ),
    };
    let pitch_min = work!(book, name("pitch_min"), |d, pitch| four_places(d - pitch * 0.649_519), &SUMS);
    let pitch_max = work!(book, name("pitch_max"), |pitch_min, td2| four_places(pitch_min + td2), &SUMS);
    let major_min = work!(book, name("major_min"), |d| four_places(d), &SUMS);
    Ok(NutLimits {
        class: class.to_owned(),
        basics: *b,
        minor_min,
        minor_max,
        pitch_min,
        pitch_max,
        major_min,
        tabulated: true,
    })
}

#[cfg(test)]
mod tests {
    use super::super::{find, limits as any_limits, nut_limits as any_nut};
    use super::*;

    #[test]
    fn a_tie_goes_to_the_even_digit() {
        for (x, want) in [(0.068_65, 0.068_6), (0.081_65, 0.081_6), (0.068_55, 0.068_6), (0.068_651, 0.068_7)]
        {
            assert!((four(Length::inch(x)).in_inch() - want).abs() < 1e-12, "{x}");
        }
    }
    /// 2A and 2B of the small sizes: major max and min, pitch max and min, bore min and max, nut pitch min and max.
    /// Rows 0-80 to 3-48, 4-40, 6-32, 8-32, 10-24, 10-32, 1/4-20, 1/4-28 as printed (Unified standard series), the
    /// rest by the same formulae.
    #[test]
    fn class_two_of_the_small_sizes() {
        const ROWS: [(&str, [f64; 8]); 18] = [
            ("0-80 UNF", [0.0595, 0.0563, 0.0514, 0.0496, 0.0465, 0.0514, 0.0519, 0.0542]),
            ("1-64 UNC", [0.0724, 0.0686, 0.0623, 0.0603, 0.0561, 0.0623, 0.0629, 0.0655]),
            ("1-72 UNF", [0.0724, 0.0689, 0.0634, 0.0615, 0.0580, 0.0635, 0.0640, 0.0665]),
            ("2-56 UNC", [0.0854, 0.0813, 0.0738, 0.0717, 0.0667, 0.0737, 0.0744, 0.0772]),
            ("2-64 UNF", [0.0854, 0.0816, 0.0753, 0.0733, 0.0691, 0.0753, 0.0759, 0.0786]),
            ("3-48 UNC", [0.0983, 0.0938, 0.0848, 0.0825, 0.0764, 0.0845, 0.0855, 0.0885]),
            ("3-56 UNF", [0.0983, 0.0942, 0.0867, 0.0845, 0.0797, 0.0865, 0.0874, 0.0902]),
            ("4-40 UNC", [0.1112, 0.1061, 0.0950, 0.0925, 0.0849, 0.0939, 0.0958, 0.0991]),
            ("4-48 UNF", [0.1113, 0.1068, 0.0978, 0.0954, 0.0894, 0.0968, 0.0985, 0.1016]),
            ("5-40 UNC", [0.1242, 0.1191, 0.1080, 0.1054, 0.0979, 0.1062, 0.1088, 0.1121]),
            ("5-44 UNF", [0.1243, 0.1195, 0.1095, 0.1070, 0.1004, 0.1079, 0.1102, 0.1134]),
            ("6-32 UNC", [0.1372, 0.1312, 0.1169, 0.1141, 0.104, 0.114, 0.1177, 0.1214]),
            ("6-40 UNF", [0.1372, 0.1321, 0.1210, 0.1184, 0.111, 0.119, 0.1218, 0.1252]),
            ("8-32 UNC", [0.1631, 0.1571, 0.1428, 0.1399, 0.130, 0.139, 0.1437, 0.1475]),
            ("8-36 UNF", [0.1632, 0.1577, 0.1452, 0.1424, 0.134, 0.142, 0.1460, 0.1496]),
            ("10-32 UNF", [0.1891, 0.1831, 0.1688, 0.1658, 0.156, 0.164, 0.1697, 0.1736]),
            ("1/4-20 UNC", [0.2489, 0.2408, 0.2164, 0.2127, 0.196, 0.207, 0.2175, 0.2224]),
            ("1/4-28 UNF", [0.2490, 0.2425, 0.2258, 0.2225, 0.211, 0.220, 0.2268, 0.2311]),
        ];
        for (name, want) in ROWS {
            let t = find(name).unwrap();
            let mut book = Book::new();
            let l = any_limits(&mut book, "screw", &t, "2A").unwrap();
            let n = any_nut(&mut book, "nut", &t, "2B").unwrap();
            let got = [
                l.major_max,
                l.major_min,
                l.pitch_max,
                l.pitch_min,
                n.minor_min,
                n.minor_max,
                n.pitch_min,
                n.pitch_max,
            ]
            .map(|v| v.bare().across().in_inch());
            for (g, w) in got.iter().zip(want) {
                assert!((g - w).abs() < 1e-6, "{name}: {got:?} {want:?}");
            }
            assert!(book.faults().is_empty());
        }
    }
    /// 3B bores of ASME B1.1, recalled: 1/4-20 0.1960 to 0.2067, 1/4-28 0.2110 to 0.2190, 10-32 0.1560 to 0.1641.
    #[test]
    fn class_three_bores() {
        for (name, most) in [("1/4-20 UNC", 0.2067), ("1/4-28 UNF", 0.2190), ("10-32 UNF", 0.1641)] {
            let mut book = Book::new();
            let n = any_nut(&mut book, "", &find(name).unwrap(), "3B").unwrap();
            assert!((n.minor_max.bare().across().in_inch() - most).abs() < 1e-6, "{name} {:?}", n.minor_max);
        }
    }
}
