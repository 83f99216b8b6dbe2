//! ISO 965-1: deviations and tolerances of metric threads.
//!
//! The standard prints rounded tables; its formulae do not reproduce every
//! entry, so the table wins and a formula stands in only where there is none.

use super::limits::{Basics, Limits, NutLimits, no_class};
use super::sizes::SHEET;
use super::{Thread, same, under};
use reckon::{Book, Diameter, Length, Ratio, Source, Trouble, Val, maths, work};

static TOLERANCES: Source = Source::memory("ISO 965-1, formulae of the tolerances")
    .with_formula("T = 180 P^(2/3) − 3.15 P^(−1/2), 90 P^0.4 d^0.1, … µm");
static R40: Source = Source::memory("ISO 3, series R40 of preferred numbers");
static SUMS: Source = Source::read("Machinery's Handbook 27, p. 1794, limits of the M profile");
static MICRONS: Source = Source::read("ISO 965-2, sizes to the whole micrometre");

/// Preferred numbers of the R40 series in one decade.
const PREFERRED: [f64; 40] = [
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8,
    3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0,
    9.5,
];
/// The nearest R40 preferred number; nothing for what is not positive.
#[must_use]
pub fn preferred(x: f64) -> Option<f64> {
    if x <= 0.0 || !x.is_finite() {
        return None;
    }
    let decade = maths::pow(10.0, maths::log10(x).floor());
    let near = PREFERRED.iter().map(|p| p * decade).chain([decade * 10.0]);
    near.min_by(|a, b| (a - x).abs().total_cmp(&(b - x).abs()))
}
/// A tolerance at the nearest R40 number of micrometres, whole.
fn rounded(t: Length) -> Length {
    let um = t.in_mm() * 1e3;
    Length::mm(preferred(um).unwrap_or(um).round() / 1e3)
}
fn um(x: f64) -> Length {
    Length::mm(x / 1e3)
}
/// Tolerance of the outside diameter, grade 6, before rounding: 180 P^(2/3) − 3.15 / √P µm, P in mm.
#[must_use]
pub fn major_tolerance(pitch: Length) -> Length {
    let p = pitch.in_mm();
    um(180.0 * maths::cbrt(p * p) - 3.15 / p.sqrt())
}
/// Tolerance of the nut's bore, grade 6, before rounding: 433 P − 190 P^1.22 below 1 mm, else 230 P^0.7 µm.
#[must_use]
pub fn nut_minor_tolerance(pitch: Length) -> Length {
    let p = pitch.in_mm();
    um(if p < 1.0 { 433.0 * p - 190.0 * maths::pow(p, 1.22) } else { 230.0 * maths::pow(p, 0.7) })
}
/// Tolerance of the screw's pitch diameter, grade 6, before rounding: 90 P^0.4 d^0.1 µm,
/// where d is the geometric mean of the standard's range of sizes.
#[must_use]
pub fn pitch_tolerance(major: Diameter, pitch: Length) -> Length {
    const RANGES: [f64; 10] = [0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0];
    let d = major.in_mm();
    let i = RANGES.iter().skip(1).position(|to| d <= *to).unwrap_or(RANGES.len() - 2);
    let mean = (RANGES[i] * RANGES[i + 1]).sqrt();
    um(90.0 * maths::pow(pitch.in_mm(), 0.4) * maths::pow(mean, 0.1))
}
/// Tolerance of the nut's pitch diameter, grade 6: 1.32 times that of the screw.
#[must_use]
pub fn nut_pitch_tolerance(major: Diameter, pitch: Length) -> Length {
    pitch_tolerance(major, pitch) * 1.32
}
/// Deviation of a position before rounding: e 50 + 11 P, f 30 + 11 P, g and G 15 + 11 P, h and H nothing; µm.
#[must_use]
pub fn deviation(position: char, pitch: Length) -> Length {
    let base = match position.to_ascii_lowercase() {
        'e' => 50.0,
        'f' => 30.0,
        'g' => 15.0,
        _ => return Length::ZERO,
    };
    um(base + 11.0 * pitch.in_mm())
}

/// Which tolerance, and its table.
#[derive(Copy, Clone, PartialEq, Eq)]
enum Kind {
    Major,
    NutMinor,
    Pitch,
    NutPitch,
}
impl Kind {
    fn table(self) -> &'static str {
        match self {
            Kind::Major => "iso_major",
            Kind::NutMinor => "iso_nut_minor",
            Kind::Pitch => "iso_pitch",
            Kind::NutPitch => "iso_nut_pitch",
        }
    }
    /// Grade as a multiple of grade 6 of the screw.
    fn factor(self, grade: u32) -> Option<f64> {
        let (first, list): (u32, &[f64]) = match self {
            Kind::Major => (4, &[0.63, 0.0, 1.0, 0.0, 1.6]),
            Kind::NutMinor => (4, &[0.63, 0.8, 1.0, 1.25, 1.6]),
            Kind::Pitch => (3, &[0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0]),
            Kind::NutPitch => (4, &[0.85, 1.06, 1.32, 1.7, 2.12]),
        };
        let at = usize::try_from(grade.checked_sub(first)?).ok()?;
        list.get(at).copied().filter(|k| *k > 0.0)
    }
}
/// A tabulated figure for the size and pitch of a thread, where there is one.
fn tabulated(table: &str, column: &str, t: &Thread) -> Option<(Length, String, &'static Source)> {
    let rows = SHEET.rows(table).ok()?;
    let row = rows.iter().find(|row| {
        let pitch = row.quantity::<Length>("pitch").is_ok_and(|p| same(p.value(), t.pitch.value()));
        let edge = |key| row.quantity_if::<Diameter>(key).ok().flatten();
        let d = t.major;
        pitch && edge("over").is_none_or(|over| d > over) && edge("to").is_none_or(|to| d <= to)
    })?;
    let value = row.quantity_if(column).ok()??;
    Some((value, format!("pitch {}, column {column}", super::sizes::plain(t.pitch)), row.source))
}
struct Toleranced<'a> {
    prefix: &'a str,
    thread: &'a Thread,
    basics: &'a Basics,
    tabulated: bool,
}
impl Toleranced<'_> {
    fn tolerance(&mut self, book: &mut Book, name: &str, kind: Kind, grade: u32) -> Option<Val<Length>> {
        let name = under(self.prefix, name);
        if let Some((v, row, source)) = tabulated(kind.table(), &grade.to_string(), self.thread) {
            return Some(book.tabled(name, v, row, source));
        }
        self.tabulated = false;
        let (major, pitch) = (self.basics.major, self.basics.pitch);
        let k = Ratio::si(kind.factor(grade)?);
        let k = book.tabled(format!("{name}.grade"), k, format!("grade {grade}; not tabulated"), &TOLERANCES);
        Some(match kind {
            Kind::Major => work!(book, name, |pitch, k| rounded(major_tolerance(pitch) * k), &TOLERANCES),
            Kind::NutMinor => {
                work!(book, name, |pitch, k| rounded(nut_minor_tolerance(pitch) * k), &TOLERANCES)
            }
            Kind::Pitch | Kind::NutPitch => {
                work!(book, name, |major, pitch, k| rounded(pitch_tolerance(major, pitch) * k), &TOLERANCES)
            }
        })
    }
    fn deviation(&mut self, book: &mut Book, position: char) -> Val<Length> {
        let name = under(self.prefix, "allowance");
        let lower = position.to_ascii_lowercase();
        if lower == 'h' {
            return book.tabled(name, Length::ZERO, format!("position {position}"), &TOLERANCES);
        }
        if let Some((v, row, source)) = tabulated("iso_deviation", &lower.to_string(), self.thread) {
            return book.tabled(name, v, row, source);
        }
        self.tabulated = false;
        let v = deviation(position, self.thread.pitch);
        let v = um((v.in_mm() * 1e3).round());
        book.tabled(name, v, format!("position {position} by its formula; not tabulated"), &TOLERANCES)
    }
}
/// Grade and position of the pitch diameter, then of the crest.
fn class_parts(class: &str, positions: &str) -> Option<[(u32, char); 2]> {
    let chars: Vec<char> = class.trim().chars().collect();
    let pair = |two: &[char]| {
        let grade = two[0].to_digit(10)?;
        positions.contains(two[1]).then_some((grade, two[1]))
    };
    match chars.len() {
        2 => pair(&chars).map(|p| [p, p]),
        4 => Some([pair(&chars[..2])?, pair(&chars[2..])?]).filter(|[a, b]| a.1 == b.1),
        _ => None,
    }
}
fn micron(d: Diameter) -> Diameter {
    Diameter::mm((d.in_mm() * 1e3).round() / 1e3)
}
/// Limits of a metric screw.
pub(super) fn limits(
    book: &mut Book,
    prefix: &str,
    thread: &Thread,
    basics: &Basics,
    class: &str,
) -> Result<Limits, Trouble> {
    let unknown = || no_class("ISO", class, "6g, 6h, 4g6g, 4h, 6e, 6f");
    let [(pitch_grade, position), (crest_grade, _)] = class_parts(class, "efgh").ok_or_else(unknown)?;
    let mut t = Toleranced { prefix, thread, basics, tabulated: true };
    let es = t.deviation(book, position);
    let td = t.tolerance(book, "major_tolerance", Kind::Major, crest_grade).ok_or_else(unknown)?;
    let td2 = t.tolerance(book, "pitch_tolerance", Kind::Pitch, pitch_grade).ok_or_else(unknown)?;
    let (d, basic, pitch) = (basics.major, basics.pitch_diameter, basics.pitch);
    let name = |n: &str| under(prefix, n);
    let d2 = work!(book, name("pitch_diameter.rounded"), |basic| micron(basic), &MICRONS);
    let major_max = work!(book, name("major_max"), |d, es| d - es, &SUMS);
    let major_min = work!(book, name("major_min"), |major_max, td| major_max - td, &SUMS);
    let pitch_max = work!(book, name("pitch_max"), |d2, es| d2 - es, &SUMS);
    let pitch_min = work!(book, name("pitch_min"), |pitch_max, td2| pitch_max - td2, &SUMS);
    let minor_max = work!(book, name("minor_max"), |pitch_max, pitch| pitch_max - pitch * 0.433_013, &SUMS);
    let minor_min = work!(book, name("minor_min"), |pitch_min, pitch| pitch_min - pitch * 0.616_025, &SUMS);
    Ok(Limits {
        class: class.to_owned(),
        basics: *basics,
        major_max,
        major_min,
        pitch_max,
        pitch_min,
        minor_max,
        minor_min: Some(minor_min),
        tabulated: t.tabulated,
    })
}
/// Limits of a metric nut.
pub(super) fn nut_limits(
    book: &mut Book,
    prefix: &str,
    thread: &Thread,
    basics: &Basics,
    class: &str,
) -> Result<NutLimits, Trouble> {
    let unknown = || no_class("ISO nut", class, "4H, 5H, 6H, 7H, 6G");
    let [(pitch_grade, position), (bore_grade, _)] = class_parts(class, "GH").ok_or_else(unknown)?;
    let mut t = Toleranced { prefix, thread, basics, tabulated: true };
    let ei = t.deviation(book, position);
    let td1 = t.tolerance(book, "minor_tolerance", Kind::NutMinor, bore_grade).ok_or_else(unknown)?;
    let td2 = t.tolerance(book, "pitch_tolerance", Kind::NutPitch, pitch_grade).ok_or_else(unknown)?;
    let (d, basic2, basic1) = (basics.major, basics.pitch_diameter, basics.minor);
    let name = |n: &str| under(prefix, n);
    let d2 = work!(book, name("pitch_diameter.rounded"), |basic2| micron(basic2), &MICRONS);
    let d1 = work!(book, name("minor.rounded"), |basic1| micron(basic1), &MICRONS);
    let minor_min = work!(book, name("minor_min"), |d1, ei| d1 + ei, &SUMS);
    let minor_max = work!(book, name("minor_max"), |minor_min, td1| minor_min + td1, &SUMS);
    let pitch_min = work!(book, name("pitch_min"), |d2, ei| d2 + ei, &SUMS);
    let pitch_max = work!(book, name("pitch_max"), |pitch_min, td2| pitch_min + td2, &SUMS);
    let major_min = work!(book, name("major_min"), |d, ei| d + ei, &SUMS);
    Ok(NutLimits {
        class: class.to_owned(),
        basics: *basics,
        minor_min,
        minor_max,
        pitch_min,
        pitch_max,
        major_min,
        tabulated: t.tabulated,
    })
}
/// Rounds a number to R40, as a working.
///
/// # Errors
/// When it is not positive.
pub fn preferred_in_book(book: &mut Book, name: &str, value: Val<Ratio>) -> Result<Val<Ratio>, Trouble> {
    if preferred(value.bare().value()).is_none() {
        return Err(Trouble::text("only a positive number has a preferred number near it"));
    }
    Ok(work!(book, name, |value| Ratio::si(preferred(value.value()).unwrap_or(0.0)), &R40))
}

#[cfg(test)]
mod tests {
    use super::super::{find, limits as any_limits, nut_limits as any_nut};
    use super::*;

    fn external(name: &str, class: &str) -> [f64; 6] {
        let mut book = Book::new();
        let l = any_limits(&mut book, "", &find(name).unwrap(), class).unwrap();
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        let minor_min = l.minor_min.expect("metric screws have one");
        [l.major_max, l.major_min, l.pitch_max, l.pitch_min, l.minor_max, minor_min].map(|v| v.bare().in_mm())
    }
    /// Rows of a published table of ASME B1.13M external limits; flat minor diameters there are cut, not rounded.
    #[test]
    fn published_rows() {
        for (name, class, row) in [
            ("M1.6", "6g", [1.581, 1.496, 1.354, 1.291, 1.202, 1.075]),
            ("M1.6", "6h", [1.600, 1.515, 1.373, 1.310, 1.221, 1.094]),
            ("M1.6", "4g6g", [1.581, 1.496, 1.354, 1.314, 1.202, 1.098]),
            ("M2", "6g", [1.981, 1.886, 1.721, 1.654, 1.548, 1.408]),
            ("M2", "4g6g", [1.981, 1.886, 1.721, 1.679, 1.548, 1.433]),
            ("M2.5", "6g", [2.480, 2.380, 2.188, 2.117, 1.993, 1.840]),
            ("M2.5", "6h", [2.500, 2.400, 2.208, 2.137, 2.013, 1.860]),
            ("M3", "6h", [3.000, 2.894, 2.675, 2.600, 2.458, 2.292]),
            ("M3.5", "6g", [3.479, 3.354, 3.089, 3.004, 2.829, 2.634]),
            ("M3.5", "4g6g", [3.479, 3.354, 3.089, 3.036, 2.829, 2.666]),
            ("M4", "6h", [4.000, 3.860, 3.545, 3.455, 3.242, 3.024]),
            ("M5", "6g", [4.976, 4.826, 4.456, 4.361, 4.110, 3.868]),
            ("M5", "4g6g", [4.976, 4.826, 4.456, 4.396, 4.110, 3.903]),
        ] {
            let got = external(name, class);
            for (g, want) in got.iter().zip(row) {
                assert!((g - want).abs() < 0.001, "{name} {class}: {got:?} {row:?}");
            }
        }
    }
    #[test]
    fn an_odd_pitch_is_flagged() {
        let mut book = Book::new();
        let l = any_limits(&mut book, "", &find("M9x0.55").unwrap(), "6g").unwrap();
        assert!(!l.tabulated);
        assert!(l.pitch_min < l.pitch_max);
        let mut book = Book::new();
        assert!(any_nut(&mut book, "", &find("M3").unwrap(), "6H").unwrap().tabulated);
        assert!(book.faults().is_empty());
    }
    #[test]
    fn every_listed_metric_thread_has_limits() {
        for t in super::super::all().iter().filter(|t| t.family == super::super::Family::Iso) {
            let mut book = Book::new();
            let l = any_limits(&mut book, "screw", t, "").unwrap();
            let n = any_nut(&mut book, "nut", t, "").unwrap();
            assert!(l.pitch_max.bare() <= n.pitch_min.bare(), "{}", t.name);
            assert!(l.major_max.bare() <= n.major_min.bare(), "{}", t.name);
            assert!(book.faults().is_empty(), "{}: {:?}", t.name, book.faults());
        }
    }
    #[test]
    fn no_class_is_made_up() {
        let mut book = Book::new();
        let e = any_limits(&mut book, "", &find("M3").unwrap(), "6H").unwrap_err();
        assert!(e.to_string().contains("6g"), "{e}");
    }
}
