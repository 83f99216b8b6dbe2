//! Quantities as a maker writes them: `12.5 mm`, `1 3/8 in`, `5 thou`, `5°30'`, `6.00 +0.00/-0.02 mm`,
//! and plain arithmetic with other written values: `plates.gap + 2 * plates.thickness - 0.2 mm`.
//!
//! Everything is kept as exact fractions to the end and rounded once.

use crate::exact::Fraction;
use crate::quantity::{Diameter, Length};
use crate::trouble::{Kind, Place, Trouble};
use crate::units::{Dimension, UNITS, Unit};
use std::ops::Range;

/// What is wrong with a written quantity; offsets are bytes in that text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TextFault {
    /// Where in the text.
    pub at: Range<usize>,
    /// What is wrong.
    pub says: String,
    /// Why.
    pub why: Option<String>,
    /// What would do.
    pub cures: Vec<String>,
}
impl TextFault {
    fn new(at: Range<usize>, says: impl Into<String>) -> TextFault {
        TextFault { at, says: says.into(), why: None, cures: Vec::new() }
    }
    fn why(mut self, why: impl Into<String>) -> TextFault {
        self.why = Some(why.into());
        self
    }
    fn cure(mut self, cure: impl Into<String>) -> TextFault {
        self.cures.push(cure.into());
        self
    }
    /// As a trouble whose text begins at `place`.
    #[must_use]
    pub fn placed(self, place: &Place) -> Trouble {
        let mut t = Trouble::error(Kind::Text, self.says).at(place.part(self.at.start, self.at.end));
        t.why = self.why;
        t.cures = self.cures;
        t
    }
}

/// An exact value with its dimension, as arithmetic carries it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Exact {
    /// SI value, degrees in place of radians.
    value: Fraction,
    powers: [i8; 5],
}
impl Exact {
    /// A value of a dimension, ready for SI.
    #[must_use]
    pub fn si(self, want: Dimension) -> f64 {
        want.finish(self.value)
    }
    fn is_plain(self) -> bool {
        self.powers == [0; 5]
    }
}

/// Looks up a name that the text refers to.
pub type Lookup<'a> = dyn FnMut(&str) -> Result<Exact, TextFault> + 'a;

/// Reads a quantity of dimension `want`; no names allowed.
///
/// # Errors
/// A [`TextFault`] that says where, what, why and what would do.
pub fn read(text: &str, want: Dimension) -> Result<f64, TextFault> {
    read_with(text, want, &mut |name| {
        Err(TextFault::new(0..0, format!("'{name}' is not {}", want.noun())).cure(example(want)))
    })
}

/// Reads a quantity or arithmetic with names, which `lookup` answers.
///
/// # Errors
/// As [`read`], and whatever `lookup` says.
pub fn read_with(text: &str, want: Dimension, lookup: &mut Lookup<'_>) -> Result<f64, TextFault> {
    exact_with(text, want, lookup).map(|e| e.si(want))
}

/// As [`read_with`], still exact.
///
/// # Errors
/// As [`read_with`].
pub fn exact_with(text: &str, want: Dimension, lookup: &mut Lookup<'_>) -> Result<Exact, TextFault> {
    let mut p = Reader { text, at: 0, want, lookup };
    p.spaces();
    if p.at == text.len() {
        return Err(
            TextFault::new(0..text.len(), format!("{} is missing here", want.noun())).cure(example(want))
        );
    }
    let value = p.sum()?;
    p.spaces();
    if p.at < text.len() {
        return Err(p.leftover());
    }
    if value.powers != want.powers() {
        let whole = 0..text.len();
        if value.is_plain() {
            let unit = want.units().first().copied().unwrap_or("");
            return Err(TextFault::new(whole, format!("{} needs a unit", want.noun())).cure(format!(
                "write \"{} {unit}\" if you meant {}",
                text.trim(),
                spelled(unit)
            )));
        }
        let got =
            UNITS.iter().find(|u| u.of.powers() == value.powers).map_or("something else", |u| u.of.noun());
        return Err(TextFault::new(whole, format!("{} is wanted here, and this is {got}", want.noun()))
            .cure(example(want)));
    }
    Ok(value)
}

/// An example of how a quantity is written.
fn example(want: Dimension) -> String {
    let text = match want {
        Dimension::Length => "42 mm, 1.65 in, 5 thou or 1 3/8 in",
        Dimension::Angle => "8 deg or 5°30'",
        Dimension::Time => "26 s, 30 min, 8 d",
        Dimension::Speed => "75 m/min",
        Dimension::AngularSpeed => "300 rpm",
        Dimension::Temperature => "18 degC",
        Dimension::Ratio => "0.75 or 75 %",
        Dimension::Force => "4000 N",
        Dimension::Mass => "3.2 kg",
        Dimension::Power => "350 W",
        other => return format!("write a number and one of: {}", other.units().join(", ")),
    };
    format!("for example {text}")
}
fn spelled(unit: &str) -> &str {
    match unit {
        "mm" => "millimetres",
        "deg" => "degrees",
        "s" => "seconds",
        "rpm" => "turns a minute",
        "degC" => "degrees Celsius",
        "kg" => "kilograms",
        "N" => "newtons",
        other => other,
    }
}

struct Reader<'t, 'l, 'f> {
    text: &'t str,
    at: usize,
    want: Dimension,
    lookup: &'l mut Lookup<'f>,
}
impl Reader<'_, '_, '_> {
    fn rest(&self) -> &str {
        &self.text[self.at..]
    }
    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }
    fn spaces(&mut self) {
        while let Some(c) = self.peek().filter(|c| c.is_whitespace()) {
            self.at += c.len_utf8();
        }
    }
    fn leftover(&self) -> TextFault {
        let at = self.at..self.text.len();
        let rest = self.rest();
        if rest.starts_with(',') {
            let fixed = self.text.replacen(',', ".", 1);
            return TextFault::new(self.at..self.at + 1, "a comma is not read as a decimal point")
                .cure(format!("use a dot: \"{}\"", fixed.trim()));
        }
        let word: String =
            rest.chars().take_while(|c| c.is_alphanumeric() || "/²³µμ°%".contains(*c)).collect();
        if word.is_empty() {
            return TextFault::new(at, format!("'{rest}' cannot be read here")).cure(example(self.want));
        }
        let near = crate::trouble::nearest(&word, UNITS.iter().flat_map(|u| u.names.iter().copied()));
        let fault = TextFault::new(self.at..self.at + word.len(), format!("'{word}' is not a unit"));
        match near.first().filter(|n| !n.is_empty()) {
            Some(n) => fault.cure(format!("did you mean '{n}'?")),
            None => fault.cure(format!("units of {}: {}", self.want.noun(), self.want.units().join(", "))),
        }
    }
    fn too_large(&self, from: usize) -> TextFault {
        TextFault::new(from..self.at, "this has more digits than any maker could measure")
            .cure("write at most 18 digits")
    }
    fn sum(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut left = self.product()?;
        loop {
            self.spaces();
            let minus = match self.peek() {
                Some('+') => false,
                Some('-' | '−') => true,
                _ => return Ok(left),
            };
            self.at += self.peek().map_or(1, char::len_utf8);
            let right = self.product()?;
            if left.powers != right.powers {
                let name = |e: Exact| {
                    UNITS.iter().find(|u| u.of.powers() == e.powers).map_or("a product", |u| u.of.noun())
                };
                return Err(TextFault::new(
                    from..self.at,
                    format!(
                        "{} and {} cannot be {}",
                        name(left),
                        name(right),
                        if minus { "subtracted" } else { "added" }
                    ),
                )
                .cure("give both sides the same kind of unit"));
            }
            let value = if minus { left.value.minus(right.value) } else { left.value.plus(right.value) };
            left.value = value.ok_or_else(|| self.too_large(from))?;
        }
    }
    fn product(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut left = self.factor()?;
        loop {
            self.spaces();
            let divide = match self.peek() {
                Some('*' | '×') => false,
                Some('/') => true,
                _ => return Ok(left),
            };
            self.at += self.peek().map_or(1, char::len_utf8);
            let right = self.factor()?;
            let value = if divide { left.value.over(right.value) } else { left.value.times(right.value) };
            left.value = value.ok_or_else(|| {
                if divide && right.value == Fraction::ZERO {
                    TextFault::new(from..self.at, "this divides by nothing")
                } else {
                    self.too_large(from)
                }
            })?;
            for (l, r) in left.powers.iter_mut().zip(right.powers) {
                *l += if divide { -r } else { r };
            }
        }
    }
    fn factor(&mut self) -> Result<Exact, TextFault> {
        self.spaces();
        let from = self.at;
        match self.peek() {
            Some('-' | '−') => {
                self.at += self.peek().map_or(1, char::len_utf8);
                let e = self.factor()?;
                Ok(Exact { value: Fraction::ZERO.minus(e.value).ok_or_else(|| self.too_large(from))?, ..e })
            }
            Some('+') => {
                self.at += 1;
                self.factor()
            }
            Some('(') => {
                self.at += 1;
                let e = self.sum()?;
                self.spaces();
                if self.peek() != Some(')') {
                    return Err(TextFault::new(from..self.text.len(), "a bracket is opened and not closed"));
                }
                self.at += 1;
                Ok(e)
            }
            Some(c) if c.is_ascii_digit() || c == '.' => self.literal(),
            Some(c) if c.is_alphabetic() => self.name(),
            Some(_) => Err(self.leftover()),
            None => Err(TextFault::new(from..from, format!("{} is missing here", self.want.noun()))),
        }
    }
    fn name(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let len: usize = self
            .rest()
            .chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_' || *c == '.')
            .map(char::len_utf8)
            .sum();
        self.at += len;
        let name = self.text[from..self.at].to_owned();
        (self.lookup)(&name).map_err(|mut fault| {
            fault.at = from..self.at;
            fault
        })
    }
    /// A number with its unit, and what may follow it directly: `5°30'`, `1 h 30 min`.
    fn literal(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut total = Fraction::ZERO;
        let mut of: Option<Dimension> = None;
        let mut last_size: Option<Fraction> = None;
        loop {
            let start = self.at;
            let number = self.number()?;
            let after_number = self.at;
            self.spaces();
            let minutes = last_size == Fraction::new(1, 60) && of == Some(Dimension::Angle);
            let unit = if minutes && self.rest().starts_with(['"', '″']) {
                self.at += self.peek().map_or(1, char::len_utf8);
                Dimension::Angle.unit("arcsec")
            } else {
                self.unit(of)
            };
            let Some(unit) = unit else {
                if of.is_some() {
                    // A number after a whole literal, without an operator between them.
                    return Err(TextFault::new(start..after_number, "a number follows a number here")
                        .cure("write + - * or / between them"));
                }
                self.at = after_number;
                return Ok(Exact { value: number, powers: [0; 5] });
            };
            let part = unit.si(number).ok_or_else(|| self.too_large(from))?;
            total = total.plus(part).ok_or_else(|| self.too_large(from))?;
            let size = unit.size();
            if let (Some(last), Some(now)) = (last_size, size)
                && now >= last
            {
                return Err(TextFault::new(start..self.at, "the smaller unit comes after the larger"));
            }
            of = Some(unit.of);
            last_size = size;
            let here = self.at;
            self.spaces();
            let more = matches!(unit.of, Dimension::Angle | Dimension::Time)
                && self.peek().is_some_and(|c| c.is_ascii_digit());
            if !more {
                self.at = here;
                return Ok(Exact { value: total, powers: unit.of.powers() });
            }
        }
    }
    /// `12`, `.5`, `1.25`, `3/8` and `1 3/8` (a fraction only where a length unit follows).
    fn number(&mut self) -> Result<Fraction, TextFault> {
        let from = self.at;
        if let Some((value, len)) = fraction(self.rest()) {
            self.at += len;
            return value.ok_or_else(|| TextFault::new(from..self.at, "this fraction divides by nothing"));
        }
        let len = self.rest().bytes().take_while(|b| b.is_ascii_digit() || *b == b'.').count();
        self.at += len;
        let digits = &self.text[from..self.at];
        let next = self.rest().as_bytes();
        if next.first().is_some_and(|b| *b == b'e' || *b == b'E')
            && next.get(1).is_some_and(|b| b.is_ascii_digit() || *b == b'-' || *b == b'+')
        {
            let len = 2 + next[2..].iter().take_while(|b| b.is_ascii_digit()).count();
            return Err(TextFault::new(from..self.at + len, "a power of ten is not read here")
                .why("a size on a drawing is written out")
                .cure("write the number in full with a unit that suits it"));
        }
        if digits.matches('.').count() > 1 {
            return Err(TextFault::new(from..self.at, format!("'{digits}' has two decimal points")));
        }
        if self.rest().starts_with(',') && self.rest()[1..].starts_with(|c: char| c.is_ascii_digit()) {
            return Err(self.leftover());
        }
        Fraction::decimal(digits).ok_or_else(|| {
            if digits == "." {
                TextFault::new(from..self.at, "a point alone is not a number")
            } else {
                self.too_large(from)
            }
        })
    }
    /// The longest unit that stands here, of the dimension wanted where a spelling is shared.
    fn unit(&mut self, of: Option<Dimension>) -> Option<&'static Unit> {
        let rest = self.rest();
        let whole = |name: &str| {
            rest.starts_with(name) && {
                let after = &rest[name.len()..];
                let wordy = name.ends_with(char::is_alphanumeric);
                !(wordy && after.starts_with(|c: char| c.is_alphanumeric() || c == '_' || c == '.'))
            }
        };
        let fits = |u: &&Unit| of.is_none_or(|d| d == u.of);
        let best = UNITS
            .iter()
            .filter(fits)
            .flat_map(|u| u.names.iter().filter(|n| !n.is_empty() && whole(n)).map(move |n| (n.len(), u)))
            .max_by_key(|(len, u)| (*len, u.of == self.want))?;
        self.at += best.0;
        Some(best.1)
    }
}

/// `3/8` or `1 3/8` or `1-3/8`, where a length unit follows; its value and how many bytes it took.
fn fraction(rest: &str) -> Option<(Option<Fraction>, usize)> {
    let bytes = rest.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let int = |from: usize, len: usize| rest[from..from + len].parse::<i64>().ok();
    let length_follows = |at: usize| {
        let after = rest[at..].trim_start();
        Dimension::Length.units().iter().chain(["\"", "″", "inch", "inches"].iter()).any(|u| {
            after
                .strip_prefix(u)
                .is_some_and(|tail| !tail.starts_with(|c: char| c.is_alphanumeric() || c == '_'))
        })
    };
    let simple = |from: usize| -> Option<(i64, i64, usize)> {
        let n = digits(from);
        if n == 0 || bytes.get(from + n) != Some(&b'/') {
            return None;
        }
        let d = digits(from + n + 1);
        let end = from + n + 1 + d;
        (d > 0 && length_follows(end)).then(|| Some((int(from, n)?, int(from + n + 1, d)?, end)))?
    };
    if let Some((n, d, end)) = simple(0) {
        return Some((Fraction::new(i128::from(n), i128::from(d)), end));
    }
    let w = digits(0);
    let gap = bytes[w..].iter().take_while(|b| **b == b' ').count();
    let second = match (gap, bytes.get(w)) {
        (0, Some(b'-')) => w + 1,
        (g, _) if g > 0 => w + g,
        _ => return None,
    };
    if w == 0 || second >= bytes.len() {
        return None;
    }
    let (n, d, end) = simple(second)?;
    let whole = Fraction::whole(int(0, w)?);
    Some((Fraction::new(i128::from(n), i128::from(d)).and_then(|f| whole.plus(f)), end))
}

/// A length with the limits it may be made to.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Band {
    /// The size aimed at on paper.
    pub nominal: Length,
    /// Upper deviation from nominal.
    pub upper: Length,
    /// Lower deviation from nominal.
    pub lower: Length,
}
impl Band {
    /// Largest allowed.
    #[must_use]
    pub fn largest(&self) -> Length {
        self.nominal + self.upper
    }
    /// Smallest allowed.
    #[must_use]
    pub fn smallest(&self) -> Length {
        self.nominal + self.lower
    }
    /// Half-way between the limits: what to aim at when turning.
    #[must_use]
    pub fn middle(&self) -> Length {
        self.nominal + (self.upper + self.lower) / 2.0
    }
    /// Upper less lower.
    #[must_use]
    pub fn width(&self) -> Length {
        self.upper - self.lower
    }
    /// Largest and smallest as diameters.
    #[must_use]
    pub fn diameters(&self) -> (Diameter, Diameter) {
        (self.largest().as_diameter(), self.smallest().as_diameter())
    }
}

/// Reads `6.00 +0.00/-0.02 mm`, `6 ±0.02 mm` or `6 +0.03/+0.01 mm`; `None` when the text has no limits.
///
/// # Errors
/// A [`TextFault`] when the limits cannot be read or stand the wrong way round.
pub fn read_limits(text: &str) -> Option<Result<Band, TextFault>> {
    let (nominal, upper, lower) =
        if let Some((n, t)) = text.split_once('±').or_else(|| text.split_once("+/-")) {
            let (value, unit) = split_unit(t);
            (join(n, unit), join(value, unit), join(&format!("-{}", value.trim()), unit))
        } else {
            let slash = text.rfind('/')?;
            let plus = text[..slash].rfind([' ', '\t'])?;
            let up = text[plus..slash].trim();
            let (low, unit) = split_unit(&text[slash + 1..]);
            let signed = |s: &str| s.starts_with(['+', '-', '−']) || s == "0";
            if !signed(up) || !signed(low.trim()) {
                return None;
            }
            (join(&text[..plus], unit), join(up, unit), join(low, unit))
        };
    let whole = |mut f: TextFault| {
        f.at = 0..text.len();
        f
    };
    let get = |s: &str| read(s, Dimension::Length).map(Length::si).map_err(whole);
    Some((|| {
        let band = Band { nominal: get(&nominal)?, upper: get(&upper)?, lower: get(&lower)? };
        if band.upper < band.lower {
            return Err(TextFault::new(0..text.len(), "the upper limit is below the lower one")
                .cure("write the larger deviation first: 6.00 +0.00/-0.02 mm"));
        }
        Ok(band)
    })())
}
fn split_unit(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || "+-−. ".contains(c))).unwrap_or(text.len());
    (text[..end].trim(), text[end..].trim())
}
fn join(number: &str, unit: &str) -> String {
    let number = number.trim();
    if number.ends_with(|c: char| c.is_alphabetic() || c == '"') {
        number.to_owned()
    } else {
        format!("{number} {unit}")
    }
}
